/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <ventstack/ventstack.h>

#include <gsl/gsl_blas.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "csv.h"
#include "numeric/bessel.h"
#include "numeric/chance.h"
#include "numeric/least_squares.h"
#include "suites.h"

#define NEAR(got, want, relative) near(#got, got, want, relative)

static void near(const char *what, double got, double want, double relative)
{
    ck_assert_msg(fabs(got - want) <= relative * fabs(want), "%s is %.15g, not %.15g", what, got,
                  want);
}

static vent_reading read_as(double value, double uncertainty)
{
    return vent_reading_stated(value, uncertainty);
}

/* A normal deviate from a counter of the caller's. */
static double noise(uint64_t *counter)
{
    return vent__normal_quantile(vent__random_share(20240607, (*counter)++));
}

static double uniform(uint64_t *counter, double low, double high)
{
    return low + (high - low) * vent__random_share(77, (*counter)++);
}

/* ---- NIST's reference problems ---------------------------------------------------------------- */

enum { MOST_ROWS = 64, MOST_B = 8 };

typedef struct nist {
    const char *name;
    size_t m, n;
    double x[MOST_ROWS], y[MOST_ROWS];
    double start[2][MOST_B], value[MOST_B], deviation[MOST_B], square;
} nist;

static double misra1a(double x, const double *b, double *d)
{
    double e = exp(-b[1] * x);
    d[0] = 1 - e;
    d[1] = b[0] * x * e;
    return b[0] * (1 - e);
}

static double roszman1(double x, const double *b, double *d)
{
    double t = b[2] / (x - b[3]), slope = 1 / (1 + t * t) / VENT_PI;
    d[0] = 1;
    d[1] = -x;
    d[2] = -slope / (x - b[3]);
    d[3] = -slope * t / (x - b[3]);
    return b[0] - b[1] * x - atan(t) / VENT_PI;
}

static double eckerle4(double x, const double *b, double *d)
{
    double z = (x - b[2]) / b[1], e = exp(-z * z / 2) / b[1];
    d[0] = e;
    d[1] = b[0] * e * (z * z - 1) / b[1];
    d[2] = b[0] * e * z / b[1];
    return b[0] * e;
}

static double rat43(double x, const double *b, double *d)
{
    double e = exp(b[1] - b[2] * x), power = pow(1 + e, -1 / b[3]), y = b[0] * power;
    d[0] = power;
    d[1] = -y / b[3] * e / (1 + e);
    d[2] = -d[1] * x;
    d[3] = y * log(1 + e) / (b[3] * b[3]);
    return y;
}

static double thurber(double x, const double *b, double *d)
{
    double top = b[0] + x * (b[1] + x * (b[2] + x * b[3]));
    double bottom = 1 + x * (b[4] + x * (b[5] + x * b[6])), power = 1;
    for (int i = 0; i < 4; ++i, power *= x) {
        d[i] = power / bottom;
        if (i > 0)
            d[3 + i] = -power * top / (bottom * bottom);
    }
    return top / bottom;
}

typedef double model_of(double x, const double *b, double *d);
static const struct {
    const char *name;
    model_of *model;
} models[] = {{"misra1a", misra1a}, {"roszman1", roszman1}, {"eckerle4", eckerle4},
              {"rat43", rat43},     {"boxbod", misra1a},    {"thurber", thurber}};
enum { MODELS = sizeof models / sizeof *models };

static nist read_nist(const char *name)
{
    nist p = {.name = name};
    csv *table = csv_open("fit_nist_data.csv");
    while (csv_next(table))
        if (strcmp(csv_text(table, "set"), name) == 0) {
            p.x[p.m] = csv_number(table, "x");
            p.y[p.m++] = csv_number(table, "y");
        }
    csv_close(table);
    table = csv_open("fit_nist_certified.csv");
    while (csv_next(table))
        if (strcmp(csv_text(table, "set"), name) == 0) {
            size_t j = (size_t)csv_number(table, "parameter");
            ck_assert_uint_eq(j, p.n);
            p.start[0][j] = csv_number(table, "start1");
            p.start[1][j] = csv_number(table, "start2");
            p.value[j] = csv_number(table, "value");
            p.deviation[j] = csv_number(table, "deviation");
            p.square = csv_number(table, "sum_of_squares");
            ++p.n;
        }
    csv_close(table);
    return p;
}

typedef struct regression {
    const nist *data;
    model_of *model;
} regression;

static bool nist_residuals(void *context, const double *b, double *residual, double *jacobian)
{
    const regression *r = context;
    for (size_t i = 0; i < r->data->m; ++i) {
        double d[MOST_B];
        residual[i] = r->model(r->data->x[i], b, d) - r->data->y[i];
        if (jacobian)
            memcpy(jacobian + i * r->data->n, d, r->data->n * sizeof *d);
    }
    return true;
}

static void check_certified(const nist *p, const vent__least_squares *s)
{
    NEAR(s->square, p->square, 1e-9);
    vent__determination d;
    double scale[MOST_B];
    for (size_t j = 0; j < p->n; ++j) {
        scale[j] = fabs(p->value[j]);
        ck_assert_msg(fabs(s->x[j] - p->value[j]) <= 1e-9 * scale[j], "%s b%zu is %.12g, not %.12g",
                      p->name, j + 1, s->x[j], p->value[j]);
    }
    ck_assert(vent__determine(p->m, p->n, s->jacobian, scale, &d));
    ck_assert_uint_eq(d.rank, p->n);
    double spread = sqrt(s->square / (double)(p->m - p->n));
    for (size_t j = 0; j < p->n; ++j) {
        double deviation = spread * sqrt(d.covariance[j * p->n + j]);
        ck_assert_msg(fabs(deviation - p->deviation[j]) <= 1e-8 * p->deviation[j],
                      "%s: deviation of b%zu is %.12g, not %.12g", p->name, j + 1, deviation,
                      p->deviation[j]);
    }
    vent__determination_free(&d);
}

START_TEST(certified_values_come_out)
{
    nist p = read_nist(models[_i / 2].name);
    regression r = {&p, models[_i / 2].model};
    double b[MOST_B], residual[MOST_ROWS], jacobian[MOST_ROWS * MOST_B];
    memcpy(b, p.start[_i % 2], sizeof b);
    vent__least_squares s = {.m = p.m,
                             .n = p.n,
                             .residuals = nist_residuals,
                             .context = &r,
                             .x = b,
                             .residual = residual,
                             .jacobian = jacobian};
    int status = vent__least_squares_solve(&s);
    ck_assert_msg(status == VENT__FIT_DONE, "%s from start %d: status %d after %d steps, %g",
                  p.name, _i % 2 + 1, status, s.iterations, s.square);
    check_certified(&p, &s);
}
END_TEST

/* ---- against GSL's own least squares ------------------------------------------------------------ */

static int gsl_residuals(const gsl_vector *x, void *context, gsl_vector *f)
{
    nist_residuals(context, x->data, f->data, NULL);
    return GSL_SUCCESS;
}

static int gsl_jacobian(const gsl_vector *x, void *context, gsl_matrix *j)
{
    double residual[MOST_ROWS];
    nist_residuals(context, x->data, residual, j->data);
    return GSL_SUCCESS;
}

START_TEST(gsl_finds_the_same)
{
    nist p = read_nist(models[_i].name);
    regression r = {&p, models[_i].model};
    gsl_multifit_nlinear_parameters how = gsl_multifit_nlinear_default_parameters();
    gsl_multifit_nlinear_workspace *w =
        gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &how, p.m, p.n);
    gsl_multifit_nlinear_fdf fdf = {
        .f = gsl_residuals, .df = gsl_jacobian, .n = p.m, .p = p.n, .params = &r};
    gsl_vector_view start = gsl_vector_view_array(p.start[1], p.n);
    gsl_multifit_nlinear_init(&start.vector, &fdf, w);
    int info;
    gsl_multifit_nlinear_driver(500, 1e-14, 1e-14, 0, NULL, NULL, &info, w);
    gsl_matrix *covariance = gsl_matrix_alloc(p.n, p.n);
    gsl_multifit_nlinear_covar(gsl_multifit_nlinear_jac(w), 0, covariance);

    double b[MOST_B], residual[MOST_ROWS], jacobian[MOST_ROWS * MOST_B], scale[MOST_B];
    memcpy(b, p.start[1], sizeof b);
    vent__least_squares s = {.m = p.m,
                             .n = p.n,
                             .residuals = nist_residuals,
                             .context = &r,
                             .x = b,
                             .residual = residual,
                             .jacobian = jacobian};
    ck_assert_int_eq(vent__least_squares_solve(&s), VENT__FIT_DONE);
    for (size_t j = 0; j < p.n; ++j)
        scale[j] = fabs(b[j]);
    vent__determination d;
    ck_assert(vent__determine(p.m, p.n, jacobian, scale, &d));
    for (size_t i = 0; i < p.n; ++i) {
        NEAR(b[i], gsl_vector_get(gsl_multifit_nlinear_position(w), i), 1e-7);
        for (size_t j = 0; j < p.n; ++j)
            NEAR(d.covariance[i * p.n + j], gsl_matrix_get(covariance, i, j), 1e-6);
    }
    vent__determination_free(&d);
    gsl_matrix_free(covariance);
    gsl_multifit_nlinear_free(w);
}
END_TEST

/* ---- numerics ------------------------------------------------------------------------------- */

START_TEST(singular_values_of_a_hilbert_like_matrix)
{
    enum { M = 9, N = 6 };
    double a[M * N], columns[M * N], singular[N], vectors[N * N];
    for (int j = 0; j < N; ++j)
        for (int i = 0; i < M; ++i)
            a[j * M + i] = columns[j * M + i] = 1.0 / (i + j + 1);
    vent__singular_values(M, N, columns, singular, vectors);
    for (int k = 0; k < N; ++k)
        for (int i = 0; i < M; ++i) {
            double image = 0; /* A v = s u */
            for (int j = 0; j < N; ++j)
                image += a[j * M + i] * vectors[k * N + j];
            ck_assert(fabs(image - columns[k * M + i]) < 1e-15);
        }
    for (int k = 0; k < N; ++k)
        for (int l = 0; l < N; ++l) {
            double inner = 0;
            for (int j = 0; j < N; ++j)
                inner += vectors[k * N + j] * vectors[l * N + j];
            ck_assert(fabs(inner - (k == l)) < 1e-14);
        }
    ck_assert(singular[0] > singular[5] && singular[5] > 0);
}
END_TEST

START_TEST(more_unknowns_than_readings_are_told_apart)
{
    /* b0 + b1 is read once; b2 is read by itself; b1 - b0 is not. */
    double jacobian[] = {1, 1, 0, 0, 0, 4}, scale[] = {1, 1, 1};
    vent__determination d;
    ck_assert(vent__determine(2, 3, jacobian, scale, &d));
    ck_assert_uint_eq(d.rank, 2);
    ck_assert(!d.determined[0] && !d.determined[1] && d.determined[2]);
    ck_assert(isnan(d.covariance[0]) && isnan(d.covariance[2]));
    NEAR(d.covariance[8], 1.0 / 16, 1e-14);
    vent__determination_free(&d);
}
END_TEST

START_TEST(cholesky_refuses_what_is_no_covariance)
{
    double good[] = {4, 2, 2, 5}, bad[] = {1, 2, 2, 1}, flat[] = {1, 1, 1, 1}, l[4];
    ck_assert(vent__cholesky(2, good, l));
    NEAR(l[0], 2, 1e-15);
    NEAR(l[2], 1, 1e-15);
    NEAR(l[3], 2, 1e-15);
    ck_assert(!vent__cholesky(2, bad, l));
    ck_assert(vent__cholesky(2, flat, l));
    ck_assert(l[3] == 0);
}
END_TEST

START_TEST(bounds_hold)
{
    nist p = read_nist("boxbod"); /* unbounded: 213.8 and 0.547 */
    regression r = {&p, misra1a};
    double b[MOST_B] = {100, 0.3}, low[] = {0, 0}, high[] = {180, 1};
    double residual[MOST_ROWS], jacobian[MOST_ROWS * MOST_B];
    vent__least_squares s = {.m = p.m,
                             .n = p.n,
                             .residuals = nist_residuals,
                             .context = &r,
                             .x = b,
                             .low = low,
                             .high = high,
                             .residual = residual,
                             .jacobian = jacobian};
    ck_assert_int_eq(vent__least_squares_solve(&s), VENT__FIT_DONE);
    ck_assert_double_eq(b[0], 180);
    /* along the bound the sum of squares is least: its slope by b1 is nothing */
    double slope = 0;
    for (size_t i = 0; i < p.m; ++i)
        slope += residual[i] * jacobian[i * 2 + 1];
    ck_assert(fabs(slope) < 1e-6 * s.square);
}
END_TEST

START_TEST(chi_square_tails)
{
    NEAR(vent__chi_square_tail(3.841458820694124, 1), 0.05, 1e-12); /* 1.96 squared */
    NEAR(vent__chi_square_tail(5.991464547107979, 2), 0.05, 1e-13); /* -2 ln 0.05 */
    NEAR(vent__chi_square_tail(20, 2), exp(-10), 1e-13);
    /* far tails, which must not reach GSL's handler */
    ck_assert(vent__chi_square_tail(1e9, 3) == 0);
    ck_assert(vent__chi_square_tail(1e-300, 300) == 1);
    ck_assert(vent__chi_square_tail(0, 5) == 1);
    ck_assert(isnan(vent__chi_square_tail(1, 0)) && isnan(vent__chi_square_tail(NAN, 2)));
    NEAR(vent__chi_square_tail(10000.5, 9999), vent__chi_square_tail(10001.5, 10000), 1e-4);
    NEAR(vent__chi_square_tail(10200, 10001), vent__chi_square_tail(10200, 10000), 0.06);
    for (double degrees = 0.5; degrees < 2e4; degrees *= 1.7)
        for (double share = 1e-6; share < 1e6; share *= 3)
            ck_assert(vent__chi_square_tail(degrees * share, degrees) >= 0);
}
END_TEST

START_TEST(bessel_functions)
{
    csv *table = csv_open("fit_bessel.csv");
    while (csv_next(table)) {
        double x = csv_number(table, "x");
        csv_expect(table, "K0", vent__bessel_k0_scaled(x) * exp(-x), 1e-14, 0);
        csv_expect(table, "K1", vent__bessel_k1_scaled(x) * exp(-x), 1e-14, 0);
    }
    csv_close(table);
    ck_assert(isnan(vent__bessel_k0_scaled(0)) && isnan(vent__bessel_k1_scaled(NAN)));
    for (double x = 1e-100; x <= 1e100; x *= 7)
        ck_assert(vent__bessel_k0_scaled(x) > 0 && vent__bessel_k1_scaled(x) > 0);
}
END_TEST

/* ---- soil law from a communication test ---------------------------------------------------------- */

static const vent_soil_estimate *soil(int law, size_t n, const vent_reading *p,
                                      const vent_reading *q, vent_reading base, vent_error *err)
{
    static vent_soil_estimate e;
    e = vent_soil_test(law, n, p, q, base, err);
    return &e;
}

START_TEST(an_exact_test_gives_its_law)
{
    const double steps[] = {20, 60, 150, 300};
    vent_reading p[4], q[4];
    vent_error err = VENT_NO_ERROR;
    vent_soil power = vent_soil_power(4.2e-4, 0.62, &err);
    vent_soil two = vent_soil_two_term(3000, 2e5, &err);
    for (int law = VENT_SOIL_POWER; law <= VENT_SOIL_TWO_TERM; ++law) {
        vent_soil truth = law == VENT_SOIL_POWER ? power : two;
        for (int i = 0; i < 4; ++i) {
            p[i] = read_as(steps[i] + 3, 0.5);
            q[i] = read_as(vent_soil_flow(truth, steps[i]), 1e-4);
        }
        const vent_soil_estimate *e = soil(law, 4, p, q, read_as(3, 0.2), &err);
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        NEAR(e->soil.a, truth.a, 1e-8);
        NEAR(e->soil.b, truth.b, 1e-8);
        ck_assert(e->chi_square < 1e-10 && e->degrees == 2 && e->probability > 0.999);
        ck_assert(e->a_uncertainty > 0 && e->b_uncertainty > 0 && e->flags == 0);
        ck_assert(fabs(e->correlation) > 0.5 && fabs(e->correlation) < 1);
    }
}
END_TEST

/* Of 1000 tests of random soils, in how many the 95 % interval holds the truth. */
START_TEST(soil_intervals_cover_the_truth)
{
    enum { SYSTEMS = 1000, STEPS = 5 };
    uint64_t counter = 1000003u * (uint64_t)_i;
    int law = _i, a_inside = 0, b_inside = 0, fits_well = 0;
    for (int s = 0; s < SYSTEMS; ++s) {
        vent_error err = VENT_NO_ERROR;
        double n = uniform(&counter, 0.55, 0.95), reference = uniform(&counter, 0.005, 0.04);
        double share = uniform(&counter, 0.3, 0.7); /* of 200 Pa that a Q takes */
        vent_soil truth =
            law == VENT_SOIL_POWER
                ? vent_soil_power(reference / pow(200, n), n, &err)
                : vent_soil_two_term(200 * share / reference,
                                     200 * (1 - share) / (reference * reference), &err);
        double base = uniform(&counter, -2, 6), base_u = 0.4;
        vent_reading p[STEPS], q[STEPS];
        for (int i = 0; i < STEPS; ++i) {
            double vacuum = 200 * pow(0.5, i), flow = vent_soil_flow(truth, vacuum);
            double pu = 0.5 + 0.005 * vacuum, qu = 0.02 * flow;
            p[i] = read_as(vacuum + base + pu * noise(&counter), pu);
            q[i] = read_as(flow + qu * noise(&counter), qu);
        }
        vent_reading baseline = read_as(base + base_u * noise(&counter), base_u);
        const vent_soil_estimate *e = soil(law, STEPS, p, q, baseline, &err);
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        double a_off = law == VENT_SOIL_POWER
                           ? log(e->soil.a / truth.a) / (e->a_uncertainty / e->soil.a)
                           : (e->soil.a - truth.a) / e->a_uncertainty;
        a_inside += fabs(a_off) <= 1.96;
        b_inside += fabs(e->soil.b - truth.b) <= 1.96 * e->b_uncertainty;
        fits_well += e->probability > 0.05;
    }
    ck_assert_msg(a_inside >= 930 && a_inside <= 970, "first number: %d of 1000", a_inside);
    ck_assert_msg(b_inside >= 930 && b_inside <= 970, "second number: %d of 1000", b_inside);
    ck_assert_msg(fits_well >= 930 && fits_well <= 970, "chi-square: %d of 1000", fits_well);
}
END_TEST

static void refuse_soil(size_t n, const vent_reading *p, const vent_reading *q, vent_reading base,
                        const char *argument, const char *words)
{
    vent_error err = VENT_NO_ERROR;
    vent_soil_estimate e = vent_soil_test(VENT_SOIL_POWER, n, p, q, base, &err);
    ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
    ck_assert_str_eq(err.argument, argument);
    ck_assert_msg(strstr(err.message, words) != NULL, "\"%s\" does not say \"%s\"", err.message,
                  words);
    ck_assert(e.soil.law == 0 && isnan(e.soil.a) && isnan(e.a_uncertainty));
    e = vent_soil_test(VENT_SOIL_POWER, n, p, q, base, NULL);
    ck_assert(isnan(e.soil.a));
}

START_TEST(bad_soil_tests_are_refused)
{
    vent_reading p[] = {{50, 1, 0, 0}, {100, 1, 0, 0}},
                 q[] = {{.01, 1e-4, 0, 0}, {.015, 1e-4, 0, 0}};
    vent_reading zero = {0, 0, 0, 0};
    refuse_soil(1, p, q, zero, "n", "a soil law has two");
    vent_reading minus[] = {{-50, 1, 0, 0}, {-100, 1, 0, 0}};
    refuse_soil(2, minus, q, zero, "vacuum", "positive");
    refuse_soil(2, p, minus, zero, "flow", "positive");
    vent_reading same[] = {{50, 1, 0, 0}, {50.5, 1, 0, 0}};
    refuse_soil(2, same, q, zero, "vacuum", "one point gives no exponent");
    vent_reading constant[] = {{.01, 1e-4, 0, 0}, {.01, 1e-4, 0, 0}};
    refuse_soil(2, p, constant, zero, "flow", "one point gives no exponent");
    vent_reading certain[] = {{50, 0, 0, 0}, {100, 1, 0, 0}};
    refuse_soil(2, certain, q, zero, "vacuum", "above 0");
    vent_reading backward[] = {{50, -1, 0, 0}, {100, 1, 0, 0}};
    refuse_soil(2, backward, q, zero, "vacuum", "above 0");
    refuse_soil(2, p, q, read_as(60, 1), "vacuum", "baseline");
    vent_reading nan[] = {{NAN, 1, 0, 0}, {100, 1, 0, 0}};
    refuse_soil(2, nan, q, zero, "vacuum", "finite");
    refuse_soil(2, p, q, (vent_reading){0, -1, 0, 0}, "baseline", "not negative");
    vent_error err = VENT_NO_ERROR;
    vent_soil_test(7, 2, p, q, zero, &err);
    ck_assert_str_eq(err.argument, "law");
}
END_TEST

/* ---- vacuum against distance ---------------------------------------------------------------------- */

START_TEST(the_radial_form_is_the_leaky_plenum)
{
    csv *table = csv_open("fit_radial.csv");
    while (csv_next(table)) {
        vent_field f = {.form = VENT_FIELD_RADIAL,
                        .radius = csv_number(table, "radius"),
                        .vacuum = 1,
                        .length = csv_number(table, "length"),
                        .vacuum_uncertainty = 0,
                        .length_uncertainty = 0,
                        .correlation = 0};
        csv_expect(table, "share", vent_field_vacuum(f, csv_number(table, "distance")).value, 1e-13,
                   0);
    }
    csv_close(table);
}
END_TEST

START_TEST(fields_come_out_and_reach)
{
    const double distance[] = {0.5, 1, 2, 3, 5};
    for (int form = VENT_FIELD_EXPONENTIAL; form <= VENT_FIELD_RADIAL; ++form) {
        vent_field truth = {.form = form, .radius = 0.15, .vacuum = 180, .length = 2.2};
        vent_reading v[5];
        for (int i = 0; i < 5; ++i)
            v[i] = read_as(vent_field_vacuum(truth, distance[i]).value, 0.5);
        vent_error err = VENT_NO_ERROR;
        vent_field f = vent_field_test(form, 0.15, 5, distance, v, &err);
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        NEAR(f.vacuum, 180, 1e-8);
        NEAR(f.length, 2.2, 1e-8);
        vent_reading reach = vent_field_reach(f, 5);
        NEAR(vent_field_vacuum(f, reach.value).value, 5, 1e-10);
        ck_assert(reach.uncertainty > 0);
        /* the derivative of the reach, by moving the length */
        vent_field longer = f;
        longer.length *= 1 + 1e-6;
        vent_field sure = f;
        sure.vacuum_uncertainty = 0;
        double by_length = (vent_field_reach(longer, 5).value - reach.value) / (1e-6 * f.length);
        NEAR(vent_field_reach(sure, 5).uncertainty, fabs(by_length) * f.length_uncertainty, 1e-4);
        ck_assert(isnan(vent_field_reach(f, 181).value) && isnan(vent_field_reach(f, NAN).value));
        ck_assert(isnan(vent_field_vacuum(f, 0.1).value));
    }
    /* constant fraction per distance: a tenth after ln 10 lengths */
    vent_field f = {.form = VENT_FIELD_EXPONENTIAL, .radius = 0.1, .vacuum = 250, .length = 1};
    NEAR(vent_field_vacuum(f, 0.1 + log(10)).value, 25, 1e-14);
    NEAR(vent_field_vacuum(f, 0.1 + 2 * log(10)).value, 2.5, 1e-14);
    /* far out the radial form falls as the exponential does, but for the spreading of the circle */
    f.form = VENT_FIELD_RADIAL;
    double ratio = vent_field_vacuum(f, 41).value / vent_field_vacuum(f, 40).value;
    NEAR(ratio, exp(-1) * sqrt(40.0 / 41.0), 1e-3);
}
END_TEST

START_TEST(field_intervals_cover_the_truth)
{
    enum { SYSTEMS = 1000, HOLES = 6 };
    uint64_t counter = 5000000u * (uint64_t)_i;
    int length_inside = 0, reach_inside = 0;
    for (int s = 0; s < SYSTEMS; ++s) {
        vent_field truth = {.form = _i,
                            .radius = 0.1,
                            .vacuum = uniform(&counter, 50, 400),
                            .length = uniform(&counter, 1, 4)};
        double distance[HOLES];
        vent_reading v[HOLES];
        for (int i = 0; i < HOLES; ++i) {
            distance[i] = 0.4 + 0.9 * i;
            double vacuum = vent_field_vacuum(truth, distance[i]).value, u = 0.3 + 0.02 * vacuum;
            v[i] = read_as(vacuum + u * noise(&counter), u);
        }
        vent_error err = VENT_NO_ERROR;
        vent_field f = vent_field_test(_i, 0.1, HOLES, distance, v, &err);
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        length_inside += fabs(f.length - truth.length) <= 1.96 * f.length_uncertainty;
        vent_reading reach = vent_field_reach(f, 2);
        reach_inside +=
            fabs(reach.value - vent_field_reach(truth, 2).value) <= 1.96 * reach.uncertainty;
    }
    ck_assert_msg(length_inside >= 930 && length_inside <= 970, "length: %d", length_inside);
    ck_assert_msg(reach_inside >= 930 && reach_inside <= 970, "reach: %d", reach_inside);
}
END_TEST

static void refuse_field(double radius, size_t n, const double *r, const vent_reading *v,
                         const char *argument, const char *words)
{
    vent_error err = VENT_NO_ERROR;
    vent_field f = vent_field_test(VENT_FIELD_RADIAL, radius, n, r, v, &err);
    ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
    ck_assert_str_eq(err.argument, argument);
    ck_assert_msg(strstr(err.message, words) != NULL, "%s", err.message);
    ck_assert(f.form == 0 && isnan(f.length));
}

START_TEST(bad_fields_are_refused)
{
    double r[] = {1, 2}, one[] = {2, 2}, inside[] = {0.1, 2};
    vent_reading v[] = {{100, 1, 0, 0}, {30, 1, 0, 0}}, minus[] = {{-100, 1, 0, 0}, {-30, 1, 0, 0}};
    vent_reading rising[] = {{30, 1, 0, 0}, {100, 1, 0, 0}},
                 sure[] = {{30, 0, 0, 0}, {10, 1, 0, 0}};
    vent_reading nothing[] = {{0.1, 1, 0, 0}, {0.2, 1, 0, 0}};
    refuse_field(0.15, 2, one, v, "distance", "one distance");
    refuse_field(0.15, 2, inside, v, "distance", "hole 0");
    refuse_field(0.15, 2, r, minus, "vacuum", "positive number");
    refuse_field(0.15, 2, r, rising, "vacuum", "does not fall");
    refuse_field(0.15, 2, r, sure, "vacuum", "above 0");
    refuse_field(0.15, 2, r, nothing, "vacuum", "tells from zero");
    refuse_field(0.15, 1, r, v, "n", "n");
    refuse_field(NAN, 2, r, v, "radius", "radius");
}
END_TEST

/* ---- a stack --------------------------------------------------------------------------------- */

/* One pit, one riser, one fan; invented. */
typedef struct stack {
    vent_network *net;
    vent_observable flow, pit, exit;
    vent_parameter c, n, speed, factor, wind, top, elbow;
} stack;

static stack stack_of(double c, double n, vent_termination top)
{
    vent_error err = VENT_NO_ERROR;
    const double flow[] = {0, .014, .028, .042, .056, .07};
    const double pressure[] = {470, 430, 360, 260, 130, 0};
    vent_air gas = vent_air_moist(286.15, 98300, 1, &err);
    vent_air outdoors = vent_air_moist(278.15, 98300, 0.8, &err);
    vent_fan *fan = vent_fan_new("invented", 6, flow, pressure, &err);
    stack s = {.net = vent_network_new(gas, outdoors, &err)};
    int pit = vent_network_suction_point(s.net, "pit", vent_soil_power(c, n, &err), &err);
    int roof = vent_network_discharge(s.net, "roof", top, 7.5, &err);
    int riser = vent_network_run(s.net, "riser", pit, roof,
                                 vent_pipe_find("PVC 40", 3 * VENT_INCH, &err), 11, &err);
    vent_network_fitting(s.net, riser, vent_elbow(VENT_RADIANS(90), 1.5, &err), 3, &err);
    vent_network_fan(s.net, riser, fan, &err);
    vent_fan_free(fan);
    s.flow = vent_network_find_observable(s.net, "riser.flow", &err);
    s.pit = vent_network_find_observable(s.net, "pit.pressure", &err);
    s.exit = vent_network_find_observable(s.net, "exit_velocity", &err);
    s.c = vent_network_find_parameter(s.net, "pit.c", &err);
    s.n = vent_network_find_parameter(s.net, "pit.n", &err);
    s.speed = vent_network_find_parameter(s.net, "riser.speed", &err);
    s.factor = vent_network_find_parameter(s.net, "riser.pressure_factor", &err);
    s.elbow = vent_network_find_parameter(s.net, "riser.factor", &err);
    s.wind = vent_network_find_parameter(s.net, "wind_pressure", &err);
    s.top = vent_network_find_parameter(s.net, "roof.factor", &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return s;
}

static double observe(const vent_network *net, vent_observable o)
{
    vent_error err = VENT_NO_ERROR;
    vent_solution *solution = vent_network_solve(net, NULL, &err);
    double value = vent_solution_observe(solution, o, &err);
    vent_solution_free(solution);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return value;
}

/* The soil's two numbers from flow and vacuum at two speeds of the fan. */
static vent_fit *two_speeds(const stack *truth, const stack *start, uint64_t *counter)
{
    vent_error err = VENT_NO_ERROR;
    vent_fit *fit = vent_fit_new(start->net, &err);
    vent_fit_unknown(fit, start->c, &err);
    vent_fit_unknown(fit, start->n, &err);
    vent_network *net = vent_network_copy(truth->net, &err);
    for (int state = 0; state < 2; ++state) {
        if (state == 1) {
            ck_assert_int_eq(vent_fit_state(fit, start->net, &err), 1);
            vent_fit_hold(fit, 1, start->speed, 0.5, &err);
            vent_network_set(net, truth->speed, 0.5, &err);
        }
        double q = observe(net, truth->flow), p = observe(net, truth->pit);
        double qn = counter ? noise(counter) : 0, pn = counter ? noise(counter) : 0;
        vent_fit_reading(fit, state, start->flow, read_as(q * (1 + 0.02 * qn), 0.02 * q), &err);
        vent_fit_reading(fit, state, start->pit, read_as(p + 1.5 * pn, 1.5), &err);
    }
    vent_network_free(net);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return fit;
}

START_TEST(two_speeds_give_the_soil)
{
    vent_error err = VENT_NO_ERROR;
    stack truth = stack_of(4.2e-4, 0.62, vent_open_end()),
          start = stack_of(1e-3, 0.9, vent_open_end());
    vent_fit *fit = two_speeds(&truth, &start, NULL);
    vent_fitted *f = vent_fit_solve(fit, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    vent_estimate c, n;
    ck_assert(vent_fitted_estimate(f, 0, &c) && vent_fitted_estimate(f, 1, &n));
    NEAR(c.value, 4.2e-4, 1e-8);
    NEAR(n.value, 0.62, 1e-8);
    ck_assert(c.low < c.value && c.value < c.high && c.flags == 0 && n.flags == 0);
    ck_assert(vent_fitted_correlation(f, 0, 1) < -0.9);
    NEAR(vent_fitted_covariance(f, 0, 0), c.uncertainty * c.uncertainty, 1e-12);
    vent_goodness g = vent_fitted_goodness(f);
    ck_assert(g.degrees == 2 && g.rank == 2 && g.chi_square < 1e-12);
    ck_assert_uint_eq(vent_fitted_verdict(f, 0, NULL), 0);
    vent_residual r;
    ck_assert_uint_eq(vent_fitted_reading_count(f), 4);
    ck_assert(vent_fitted_residual(f, 3, &r) && r.state == 1 && fabs(r.residual) < 1e-6);
    ck_assert(!vent_fitted_residual(f, 4, &r) && !vent_fitted_estimate(f, 2, &c));

    /* what comes out gives the readings back, in both states */
    vent_network *found = vent_fitted_network(f, 1, &err);
    NEAR(observe(found, start.flow), r.state == 1 ? observe(found, truth.flow) : 0, 1e-12);
    NEAR(observe(found, start.pit), r.reading, 1e-8);
    vent_network_free(found);

    /* and passes on what it knows */
    vent_uncertainty *u = vent_fitted_uncertainty(f, 0, &err);
    vent_reading flow = vent_uncertainty_of(u, start.flow, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    ck_assert(flow.uncertainty > 0 && flow.uncertainty < 0.02 * flow.value);
    vent_uncertainty_free(u);
    vent_fitted_free(f);
    vent_fit_free(fit);
    vent_network_free(truth.net);
    vent_network_free(start.net);
}
END_TEST

/* A random stack each time: soil, readings of flow and vacuum at two speeds. */
START_TEST(stack_intervals_cover_the_truth)
{
    enum { SYSTEMS = 1000 };
    uint64_t counter = 9000000;
    int c_inside = 0, n_inside = 0, fits_well = 0;
    stack start = stack_of(5e-4, 0.7, vent_open_end());
    for (int s = 0; s < SYSTEMS; ++s) {
        vent_error err = VENT_NO_ERROR;
        double n = uniform(&counter, 0.55, 0.9), c = uniform(&counter, 0.01, 0.04) / pow(150, n);
        stack truth = stack_of(c, n, vent_open_end());
        vent_fit *fit = two_speeds(&truth, &start, &counter);
        vent_fitted *f = vent_fit_solve(fit, &err);
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        vent_estimate e;
        vent_fitted_estimate(f, 0, &e);
        c_inside += e.low <= c && c <= e.high;
        vent_fitted_estimate(f, 1, &e);
        n_inside += e.low <= n && n <= e.high;
        fits_well += vent_fitted_goodness(f).probability > 0.05;
        vent_fitted_free(f);
        vent_fit_free(fit);
        vent_network_free(truth.net);
    }
    vent_network_free(start.net);
    ck_assert_msg(c_inside >= 930 && c_inside <= 970, "C: %d of 1000", c_inside);
    ck_assert_msg(n_inside >= 930 && n_inside <= 970, "n: %d of 1000", n_inside);
    ck_assert_msg(fits_well >= 930 && fits_well <= 970, "chi-square: %d of 1000", fits_well);
}
END_TEST

START_TEST(one_reading_never_gives_two_numbers)
{
    vent_error err = VENT_NO_ERROR;
    stack s = stack_of(4e-4, 0.6, vent_open_end());
    vent_fit *fit = vent_fit_new(s.net, &err);
    vent_fit_unknown(fit, s.c, &err);
    vent_fit_unknown(fit, s.n, &err);
    vent_fit_reading(fit, 0, s.flow, read_as(0.02, 5e-4), &err);
    ck_assert_int_eq(err.status, VENT_OK);
    ck_assert_ptr_null(vent_fit_solve(fit, &err));
    ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
    ck_assert_msg(strstr(err.message, "pit.c, pit.n") != NULL, "%s", err.message);

    /* the same reading twice, and the vacuum at that flow: many readings, one point of the law */
    err = (vent_error)VENT_NO_ERROR;
    vent_fit_reading(fit, 0, s.flow, read_as(0.0201, 5e-4), &err);
    vent_fitted *f = vent_fit_solve(fit, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    vent_estimate e;
    for (size_t j = 0; j < 2; ++j) {
        ck_assert(vent_fitted_estimate(f, j, &e));
        ck_assert(e.flags == VENT_ESTIMATE_UNDETERMINED && isnan(e.value) && isnan(e.uncertainty));
    }
    ck_assert(isnan(vent_fitted_correlation(f, 0, 1)));
    ck_assert_int_eq(vent_fitted_goodness(f).rank, 1);
    double direction[2];
    ck_assert(isfinite(vent_fitted_direction(f, 0, 2, direction)));
    ck_assert(isinf(vent_fitted_direction(f, 1, 2, direction)));
    NEAR(hypot(direction[0], direction[1]), 1, 1e-12);
    ck_assert(isnan(vent_fitted_direction(f, 2, 0, NULL)));
    char text[400];
    ck_assert_uint_eq(vent_fitted_verdict(f, sizeof text, text), strlen(text));
    ck_assert(strstr(text, "pit.c: these readings do not determine it"));
    ck_assert_ptr_null(vent_fitted_network(f, 0, &err));
    ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
    vent_fitted_free(f);

    /* with a prior on n there is an answer */
    err = (vent_error)VENT_NO_ERROR;
    vent_fit_prior(fit, 1, read_as(0.6, 0.05), &err);
    f = vent_fit_solve(fit, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    vent_fitted_estimate(f, 0, &e);
    ck_assert(e.value > 0 && e.uncertainty > 0);
    vent_fitted_estimate(f, 1, &e);
    NEAR(e.uncertainty, 0.05, 1e-6);
    NEAR(e.prior_share, 1, 1e-5);
    ck_assert(e.flags == VENT_ESTIMATE_PRIOR);
    vent_fitted_free(f);
    vent_fit_free(fit);
    vent_network_free(s.net);
}
END_TEST

START_TEST(states_hold_what_differs)
{
    vent_error err = VENT_NO_ERROR;
    stack s = stack_of(5e-4, 0.65, vent_end_tee());
    double factor = 2.5;
    vent_network *plain = vent_network_copy(s.net, &err), *hooded = vent_network_copy(s.net, &err);
    vent_network_set_termination(plain, vent_open_end(), &err);
    vent_network_set(hooded, s.top, factor, &err);
    double q0 = observe(plain, s.flow), q1 = observe(hooded, s.flow);
    vent_fit *fit = vent_fit_new(s.net, &err);
    int open = vent_fit_state(fit, plain, &err);
    vent_fit_unknown(fit, s.top, &err);
    vent_fit_unknown(fit, s.factor, &err);
    vent_fit_reading(fit, open, s.flow, read_as(q0, 1e-4), &err);
    vent_fit_reading(fit, 0, s.flow, read_as(q1, 1e-4), &err);
    vent_fitted *f = vent_fit_solve(fit, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    vent_estimate e;
    vent_fitted_estimate(f, 0, &e);
    NEAR(e.value, factor, 1e-6);
    vent_fitted_estimate(f, 1, &e);
    NEAR(e.value, 1, 1e-8);
    vent_fitted_free(f);
    vent_fit_free(fit);
    vent_network_free(plain);
    vent_network_free(hooded);
    vent_network_free(s.net);
}
END_TEST

START_TEST(coefficients_share_a_misfit)
{
    vent_error err = VENT_NO_ERROR;
    stack s = stack_of(8e-4, 0.65, vent_open_end());
    vent_network *truth = vent_network_copy(s.net, &err);
    vent_network_set(truth, s.elbow, 1.3, &err);
    vent_input inputs[16];
    size_t n = vent_network_uncertainties(s.net, 16, inputs, &err);
    vent_fit *fit = vent_fit_new(s.net, &err);
    vent_fit_priors(fit, n, inputs, &err);
    vent_fit_reading(fit, 0, s.flow, read_as(observe(truth, s.flow), 1e-4), &err);
    vent_fitted *f = vent_fit_solve(fit, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    ck_assert_uint_eq(vent_fitted_count(f), n);
    for (size_t j = 0; j < n; ++j) {
        vent_estimate e;
        vent_fitted_estimate(f, j, &e);
        ck_assert(e.uncertainty <= inputs[j].uncertainty * (1 + 1e-9)); /* a reading never blurs */
        if (memcmp(&e.parameter, &s.elbow, sizeof e.parameter) == 0)
            ck_assert(e.value > 1 && e.value < 1.3);
    }
    ck_assert(vent_fitted_goodness(f).degrees == 1);
    vent_fitted_free(f);
    vent_fit_free(fit);
    vent_network_free(truth);
    vent_network_free(s.net);
}
END_TEST

START_TEST(wrong_signs_are_said)
{
    vent_error err = VENT_NO_ERROR;
    stack s = stack_of(5e-4, 0.65, vent_open_end());
    vent_fit *fit = vent_fit_new(s.net, &err);
    vent_fit_unknown(fit, s.c, &err);
    double q = observe(s.net, s.flow), p = observe(s.net, s.pit);
    vent_fit_reading(fit, 0, s.flow, read_as(q, 0.02 * q), &err);
    vent_fit_reading(fit, 0, s.pit, read_as(-p, 2), &err); /* a vacuum written without its minus */
    vent_fitted *f = vent_fit_solve(fit, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    vent_residual r;
    vent_fitted_residual(f, 1, &r);
    ck_assert(r.flags & VENT_RESIDUAL_SIGN);
    char text[600];
    vent_fitted_verdict(f, sizeof text, text);
    ck_assert_msg(strstr(text, "other sign") && strstr(text, "pit.pressure"), "%s", text);
    ck_assert(vent_fitted_goodness(f).probability < 0.01);
    vent_fitted_free(f);
    vent_fit_free(fit);
    vent_network_free(s.net);
}
END_TEST

#define REFUSED(call, code, words)                                                                 \
    do {                                                                                           \
        vent_error at = VENT_NO_ERROR, *e = &at;                                                   \
        (void)(call);                                                                              \
        ck_assert_msg(at.status == (code), #call ": status %d, %s", at.status, at.message);        \
        ck_assert_msg(strstr(at.message, words) != NULL, "\"%s\"", at.message);                    \
    } while (0)

START_TEST(bad_fits_are_refused)
{
    vent_error err = VENT_NO_ERROR;
    stack s = stack_of(5e-4, 0.65, vent_open_end());
    vent_fit *fit = vent_fit_new(s.net, &err);
    vent_reading good = read_as(0.02, 1e-3);
    vent_observable nowhere = s.flow;
    nowhere.place = 7;
    vent_parameter nothing = s.c;
    nothing.place = 9;
    REFUSED(vent_fit_solve(fit, e), VENT_E_ARGUMENT, "needs an unknown and a reading");
    REFUSED(vent_fit_reading(fit, 0, nowhere, good, e), VENT_E_NOT_FOUND, "no such place");
    REFUSED(vent_fit_reading(fit, 3, s.flow, good, e), VENT_E_NOT_FOUND, "no state 3");
    REFUSED(vent_fit_reading(fit, 0, s.flow, (vent_reading){0.02, 0, 0, 0}, e), VENT_E_ARGUMENT,
            "above 0");
    REFUSED(vent_fit_reading(fit, 0, s.flow, (vent_reading){0.02, -1, 0, 0}, e), VENT_E_ARGUMENT,
            "above 0");
    REFUSED(vent_fit_reading(fit, 0, s.flow, (vent_reading){NAN, 1, 0, 0}, e), VENT_E_ARGUMENT,
            "finite");
    REFUSED(vent_fit_unknown(fit, nothing, e), VENT_E_NOT_FOUND, "");
    ck_assert_int_eq(vent_fit_unknown(fit, s.c, &err), 0);
    REFUSED(vent_fit_unknown(fit, s.c, e), VENT_E_DUPLICATE, "pit.c is unknown 0");
    REFUSED(vent_fit_bounds(fit, 1, 0, 1, e), VENT_E_NOT_FOUND, "no unknown 1");
    REFUSED(vent_fit_bounds(fit, 0, 1e-3, 1e-4, e), VENT_E_ARGUMENT, "nothing between");
    REFUSED(vent_fit_bounds(fit, 0, NAN, 1e-4, e), VENT_E_ARGUMENT, "low");
    REFUSED(vent_fit_prior(fit, 0, (vent_reading){1, 0, 0, 0}, e), VENT_E_ARGUMENT, "above 0");
    REFUSED(vent_fit_hold(fit, 0, s.n, 3, e), VENT_E_ARGUMENT, "");
    REFUSED(vent_fit_hold(fit, -1, s.n, 0.5, e), VENT_E_NOT_FOUND, "no state -1");
    REFUSED(vent_fit_new(NULL, e), VENT_E_ARGUMENT, "");
    vent_air gas = vent_air_moist(286.15, 98300, 1, &err);
    vent_network *empty = vent_network_new(gas, gas, &err);
    REFUSED(vent_fit_new(empty, e), VENT_E_TOPOLOGY, "");
    REFUSED(vent_fit_state(fit, empty, e), VENT_E_ARGUMENT, "nodes and runs");
    ck_assert_int_eq(vent_fit_unknown(NULL, s.c, NULL), -1);
    ck_assert_ptr_null(vent_fit_solve(NULL, NULL));
    ck_assert_uint_eq(vent_fitted_count(NULL), 0);
    vent_fit_free(NULL);
    vent_fitted_free(NULL);
    vent_network_free(empty);
    vent_fit_free(fit);
    vent_network_free(s.net);
}
END_TEST

START_TEST(an_unknown_that_nothing_hangs_on_is_said)
{
    vent_error err = VENT_NO_ERROR;
    stack s = stack_of(5e-4, 0.65, vent_open_end());
    vent_fit *fit = vent_fit_new(s.net, &err);
    vent_fit_unknown(fit, s.c, &err);
    vent_fit_unknown(fit, s.top, &err); /* an open end's factor multiplies nothing */
    vent_fit_reading(fit, 0, s.flow, read_as(0.02, 5e-4), &err);
    vent_fit_reading(fit, 0, s.pit, read_as(-300, 100), &err);
    vent_fitted *f = vent_fit_solve(fit, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    vent_estimate e;
    vent_fitted_estimate(f, 0, &e);
    ck_assert(e.value > 0 && !(e.flags & VENT_ESTIMATE_UNDETERMINED));
    vent_fitted_estimate(f, 1, &e);
    ck_assert(e.flags == VENT_ESTIMATE_UNDETERMINED && isnan(e.value));
    vent_fitted_free(f);
    vent_fit_free(fit);
    vent_network_free(s.net);
}
END_TEST

START_TEST(bounds_of_a_fit_hold)
{
    vent_error err = VENT_NO_ERROR;
    stack s = stack_of(5e-4, 0.65, vent_open_end());
    vent_fit *fit = vent_fit_new(s.net, &err);
    int c = vent_fit_unknown(fit, s.c, &err);
    vent_fit_bounds(fit, c, 1e-4, 4e-4, &err);
    vent_fit_reading(fit, 0, s.flow, read_as(observe(s.net, s.flow), 1e-4), &err);
    vent_fitted *f = vent_fit_solve(fit, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    vent_estimate e;
    vent_fitted_estimate(f, 0, &e);
    NEAR(e.value, 4e-4, 1e-12);
    ck_assert(e.flags & VENT_ESTIMATE_AT_BOUND && e.high <= 4e-4);
    char text[200], low[40];
    vent_fitted_verdict(f, sizeof text, text);
    snprintf(low, sizeof low, "at least %.4g", e.low);
    ck_assert_msg(strstr(text, low), "%s", text);
    NEAR(e.low, e.value - 1.644853627 * e.uncertainty, 1e-9); /* 5 % below it */
    vent_fitted_free(f);
    vent_fit_free(fit);
    vent_network_free(s.net);
}
END_TEST

/* ---- what stands on top -------------------------------------------------------------------------- */

START_TEST(two_flows_give_the_coefficient_on_top)
{
    vent_error err = VENT_NO_ERROR;
    stack s = stack_of(2e-3, 0.65, vent_open_end());
    double q0 = observe(s.net, s.flow);
    vent_network *hooded = vent_network_copy(s.net, &err);
    vent_network_set_termination(hooded, vent_end_tee(), &err);
    double q1 = observe(hooded, s.flow);
    /* the network at hand is 15 % wrong about its soil: the first flow sets that right */
    vent_network *wrong = vent_network_copy(s.net, &err);
    vent_network_set(wrong, s.c, 2.3e-3, &err);
    vent_reading k =
        vent_top_coefficient(wrong, s.flow, read_as(q0, 1e-4), read_as(q1, 1e-4), s.c, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    NEAR(k.value,
         vent_termination_coefficient(vent_end_tee(), vent_pipe_find("PVC 40", 3 * VENT_INCH, &err),
                                      3e4, &err)
             .value,
         1e-6);
    /* both readings by the same share: the difference of flows is what counts */
    ck_assert(k.uncertainty > 0.01 && k.uncertainty < 1);
    REFUSED(vent_top_coefficient(wrong, s.flow, read_as(q1, 1e-5), read_as(q0, 1e-5), s.c, e),
            VENT_E_ARGUMENT, "exchanged");
    REFUSED(vent_top_coefficient(wrong, s.flow, read_as(q1, 0), read_as(q0, 1e-5), s.c, e),
            VENT_E_ARGUMENT, "above 0");
    REFUSED(vent_top_coefficient(wrong, s.flow, read_as(q0, 1e-4), read_as(q1, 1e-4), s.top, e),
            VENT_E_ARGUMENT, "do not determine");
    vent_network_free(wrong);
    vent_network_free(hooded);
    vent_network_free(s.net);
}
END_TEST

/* ---- fan curves ---------------------------------------------------------------------------------- */

static double parabola(double q)
{
    return 450 - 9e4 * q * q;
}

START_TEST(a_fan_comes_out_of_noise)
{
    enum { N = 40 };
    double q[N];
    vent_reading p[N];
    uint64_t counter = 42;
    double worst = 0, rough = 0;
    for (int i = 0; i < N; ++i) {
        q[i] = 0.07 * ((i * 17) % N) / (N - 1); /* in no order */
        double off = 8 * noise(&counter);
        p[i] = read_as(parabola(q[i]) + off, 8);
        rough = fmax(rough, fabs(off));
    }
    vent_error err = VENT_NO_ERROR;
    vent_fan *fan = vent_fan_fit("read", N, q, p, true, 1.2, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    ck_assert(vent_fan_is_falling(fan));
    for (double x = 0; x <= 0.07; x += 0.001)
        worst = fmax(worst, fabs(vent_fan_pressure(fan, x, 1.2, 1) - parabola(x)));
    ck_assert_msg(worst < rough / 2, "off by %g Pa where readings are by %g", worst, rough);
    ck_assert_double_eq(vent_fan_density(fan), 1.2);
    vent_fan_free(fan);
}
END_TEST

START_TEST(an_exact_parabola_stays_one)
{
    double q[] = {0, .01, .02, .03, .04, .05, .06, .07};
    vent_reading p[8];
    for (int i = 0; i < 8; ++i)
        p[i] = read_as(parabola(q[i]), 0.1);
    vent_error err = VENT_NO_ERROR;
    vent_fan *fan = vent_fan_fit(NULL, 8, q, p, false, 1.2, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    for (double x = 0; x <= 0.07; x += 0.001)
        ck_assert(fabs(vent_fan_pressure(fan, x, 1.2, 1) - parabola(x)) < 0.45);
    vent_fan_free(fan);
    double many[15]; /* nothing is left to fit but rounding */
    vent_reading exact[15];
    for (int i = 0; i < 15; ++i) {
        many[i] = 0.005 * i;
        exact[i] = read_as(parabola(many[i]), 2);
    }
    fan = vent_fan_fit(NULL, 15, many, exact, true, 1.2, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    vent_fan_free(fan);
}
END_TEST

START_TEST(a_stall_is_kept_where_it_may_rise)
{
    enum { N = 30 };
    double q[N];
    vent_reading p[N];
    for (int i = 0; i < N; ++i) {
        q[i] = 0.07 * i / (N - 1);
        p[i] = read_as(300 + 9e3 * q[i] - 1.9e5 * q[i] * q[i], 1);
    }
    vent_error err = VENT_NO_ERROR;
    vent_fan *free_one = vent_fan_fit("rises", N, q, p, false, 1.2, &err);
    vent_fan *falling = vent_fan_fit("falls", N, q, p, true, 1.2, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    ck_assert(vent_fan_slope(free_one, 0.005, 1.2, 1) > 0);
    ck_assert(vent_fan_slope(falling, 0.005, 1.2, 1) <= 1e-6);
    vent_fan_free(free_one);
    vent_fan_free(falling);
}
END_TEST

START_TEST(bad_fan_readings_are_refused)
{
    double q[] = {0, .02, .04, .06}, same[] = {.02, .02, .02, .02}, minus[] = {-.01, .02, .04, .06};
    vent_reading p[] = {{400, 5, 0, 0}, {300, 5, 0, 0}, {200, 5, 0, 0}, {50, 5, 0, 0}};
    vent_reading up[] = {{50, 5, 0, 0}, {200, 5, 0, 0}, {300, 5, 0, 0}, {400, 5, 0, 0}};
    vent_reading sure[] = {{400, 0, 0, 0}, {300, 5, 0, 0}, {200, 5, 0, 0}, {50, 5, 0, 0}};
    REFUSED(vent_fan_fit("f", 2, q, p, true, 1.2, e), VENT_E_ARGUMENT, "n");
    REFUSED(vent_fan_fit("f", 4, same, p, true, 1.2, e), VENT_E_ARGUMENT, "distinct");
    REFUSED(vent_fan_fit("f", 4, minus, p, true, 1.2, e), VENT_E_ARGUMENT, "reading 0");
    REFUSED(vent_fan_fit("f", 4, q, sure, true, 1.2, e), VENT_E_ARGUMENT, "above 0");
    REFUSED(vent_fan_fit("f", 4, q, up, true, 1.2, e), VENT_E_ARGUMENT, "does not fall");
    REFUSED(vent_fan_fit("f", 4, q, p, true, NAN, e), VENT_E_ARGUMENT, "density");
    REFUSED(vent_fan_fit("f", 4, NULL, p, true, 1.2, e), VENT_E_ARGUMENT, "flow");
}
END_TEST

Suite *fit_suite(void)
{
    Suite *suite = suite_create("fit");
    TCase *numerics = tcase_create("numerics");
    tcase_add_loop_test(numerics, certified_values_come_out, 0, 2 * MODELS);
    tcase_add_loop_test(numerics, gsl_finds_the_same, 0, MODELS);
    tcase_add_test(numerics, singular_values_of_a_hilbert_like_matrix);
    tcase_add_test(numerics, more_unknowns_than_readings_are_told_apart);
    tcase_add_test(numerics, cholesky_refuses_what_is_no_covariance);
    tcase_add_test(numerics, bounds_hold);
    tcase_add_test(numerics, chi_square_tails);
    tcase_add_test(numerics, bessel_functions);
    suite_add_tcase(suite, numerics);
    TCase *on_site = tcase_create("on site");
    tcase_set_timeout(on_site, 120);
    tcase_add_test(on_site, an_exact_test_gives_its_law);
    tcase_add_loop_test(on_site, soil_intervals_cover_the_truth, VENT_SOIL_POWER,
                        VENT_SOIL_TWO_TERM + 1);
    tcase_add_test(on_site, bad_soil_tests_are_refused);
    tcase_add_test(on_site, the_radial_form_is_the_leaky_plenum);
    tcase_add_test(on_site, fields_come_out_and_reach);
    tcase_add_loop_test(on_site, field_intervals_cover_the_truth, VENT_FIELD_EXPONENTIAL,
                        VENT_FIELD_RADIAL + 1);
    tcase_add_test(on_site, bad_fields_are_refused);
    suite_add_tcase(suite, on_site);
    TCase *stacks = tcase_create("stacks");
    tcase_set_timeout(stacks, 120);
    tcase_add_test(stacks, two_speeds_give_the_soil);
    tcase_add_test(stacks, stack_intervals_cover_the_truth);
    tcase_add_test(stacks, one_reading_never_gives_two_numbers);
    tcase_add_test(stacks, states_hold_what_differs);
    tcase_add_test(stacks, coefficients_share_a_misfit);
    tcase_add_test(stacks, wrong_signs_are_said);
    tcase_add_test(stacks, bad_fits_are_refused);
    tcase_add_test(stacks, an_unknown_that_nothing_hangs_on_is_said);
    tcase_add_test(stacks, bounds_of_a_fit_hold);
    tcase_add_test(stacks, two_flows_give_the_coefficient_on_top);
    suite_add_tcase(suite, stacks);
    TCase *fans = tcase_create("fans");
    tcase_add_test(fans, a_fan_comes_out_of_noise);
    tcase_add_test(fans, an_exact_parabola_stays_one);
    tcase_add_test(fans, a_stall_is_kept_where_it_may_rise);
    tcase_add_test(fans, bad_fan_readings_are_refused);
    suite_add_tcase(suite, fans);
    return suite;
}
