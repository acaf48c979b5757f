/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <ventstack/ventstack.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "numeric/chance.h"
#include "numeric/chance_lanes.h"
#include "suites.h"

static void near(const char *what, double got, double want, double relative)
{
    ck_assert_msg(fabs(got - want) <= relative * fabs(want), "%s is %.15g, not %.15g", what, got,
                  want);
}

#define NEAR(got, want, relative) near(#got, got, want, relative)

#define REFUSED(call, code, words)                                                                 \
    do {                                                                                           \
        vent_error at = VENT_NO_ERROR, *e = &at;                                                   \
        (void)(call);                                                                              \
        ck_assert_msg(at.status == (code), #call ": status %d, %s", at.status, at.message);        \
        ck_assert_msg(strstr(at.message, words) != NULL, "\"%s\"", at.message);                    \
    } while (0)

/* ---- random numbers ------------------------------------------------------------------------- */

/* The generator's published sequence for seed 1234567 (test vector of the reference code, memory). */
START_TEST(splitmix_gives_its_sequence)
{
    const uint64_t want[] = {UINT64_C(6457827717110365317), UINT64_C(3203168211198807973),
                             UINT64_C(9817491932198370423), UINT64_C(4593380528125082431),
                             UINT64_C(16408922859458223821)};
    for (uint64_t k = 0; k < 5; ++k)
        ck_assert(vent__random_bits(1234567, k) == want[k]);
}
END_TEST

START_TEST(deviates_are_normal)
{
    enum { N = 200000 };
    double sum = 0, squares = 0, fourth = 0;
    for (uint64_t k = 0; k < N; ++k) {
        double z = vent__normal_quantile(vent__random_share(7, k));
        sum += z;
        squares += z * z;
        fourth += z * z * z * z;
    }
    ck_assert(fabs(sum / N) < 4 / sqrt(N));
    ck_assert(fabs(squares / N - 1) < 4 * sqrt(2.0 / N));
    ck_assert(fabs(fourth / N - 3) < 4 * sqrt(96.0 / N));
    for (double z = -8; z <= 8; z += 0.37) /* 1 - share loses digits on the right */
        ck_assert(fabs(vent__normal_quantile(vent__normal_share(z)) - z) <
                  1e-12 + 1e-16 * exp(z > 0 ? z * z / 2 : 0) * 5);
    ck_assert(isfinite(vent__normal_quantile(vent__random_share(0, UINT64_MAX))));
    double row[1000]; /* the form for rows is the same function */
    for (int i = 0; i < 1000; ++i)
        row[i] = (i + 0.5) / 1000;
    vent__normal_quantiles(1000, row);
    for (int i = 0; i < 1000; ++i)
        ck_assert(fabs(row[i] - vent__normal_quantile((i + 0.5) / 1000)) < 4e-15);
}
END_TEST

START_TEST(rows_are_the_numbers_one_by_one)
{
    enum { ROW = 29 };
    double row[ROW];
    vent__random_shares(ROW, 7, 5, 3, row);
    for (int i = 0; i < ROW; ++i)
        ck_assert_double_eq(row[i], vent__random_share(7, 5 + 3 * (uint64_t)i));
    for (int i = 0; i < ROW; ++i)
        row[i] = 50.0 * i - 700;
    vent__exponentials(ROW, row);
    for (int i = 0; i < ROW; ++i)
        NEAR(row[i], exp(50.0 * i - 700), 1e-15);
}
END_TEST

#if defined(__GNUC__) && defined(__x86_64__)
typedef struct row_width {
    bool is_there;
    vent__row_drawer *shares;
    vent__row_law *quantiles, *exponentials;
} row_width;

START_TEST(rows_are_the_same_by_every_width)
{
    enum { ROW = 1003 };
    const row_width widths[] = {
        {true, vent__random_shares_baseline, vent__normal_quantiles_baseline,
         vent__exponentials_baseline},
        {__builtin_cpu_supports("avx2"), vent__random_shares_avx2, vent__normal_quantiles_avx2,
         vent__exponentials_avx2},
        {__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq"),
         vent__random_shares_avx512, vent__normal_quantiles_avx512, vent__exponentials_avx512}};
    static double row[3][3][ROW];
    for (int w = 0; w < 3; ++w) {
        if (!widths[w].is_there)
            continue;
        widths[w].shares(ROW, 11, 2, 5, row[w][0]);
        memcpy(row[w][1], row[w][0], sizeof row[w][1]);
        row[w][1][5] = 1e-300; /* the far tails, too */
        row[w][1][9] = 1 - 0x1p-53;
        widths[w].quantiles(ROW, row[w][1]);
        NEAR(row[w][1][5], vent__normal_quantile(1e-300), 1e-14);
        NEAR(row[w][1][9], vent__normal_quantile(1 - 0x1p-53), 1e-14);
        memcpy(row[w][2], row[w][1], sizeof row[w][2]);
        widths[w].exponentials(ROW, row[w][2]);
        ck_assert_mem_eq(row[w], row[0], sizeof row[0]);
    }
}
END_TEST
#endif

START_TEST(sobol_points_fill_evenly)
{
    enum { N = 1024, D = 40 };
    vent__sobol sobol;
    double sum[D] = {0}, point[D];
    ck_assert(vent__sobol_begin(&sobol, D, 3));
    for (int i = 0; i < N; ++i) {
        vent__sobol_next(&sobol, point);
        for (int d = 0; d < D; ++d) {
            ck_assert(point[d] > 0 && point[d] < 1);
            sum[d] += point[d];
        }
    }
    vent__sobol_end(&sobol);
    for (int d = 0; d < D; ++d) /* a random sequence would be off by 0.009 */
        ck_assert_msg(fabs(sum[d] / N - 0.5) < 2e-3, "dimension %d: %g", d, sum[d] / N - 0.5);
}
END_TEST

/* ---- a stack --------------------------------------------------------------------------------- */

/* Two pits, a wye, a tee on top, a fan; invented. */
typedef struct stack {
    vent_network *net;
    vent_observable flow, pit, other;
    vent_parameter c, n, speed;
    vent_input inputs[64];
    size_t count;
} stack;

static stack stack_new(void)
{
    vent_error err = VENT_NO_ERROR;
    const double flow[] = {0, .014, .028, .042, .056, .07};
    const double pressure[] = {470, 430, 360, 260, 130, 0};
    vent_air gas = vent_air_moist(286.15, 98300, 1, &err);
    vent_air outdoors = vent_air_moist(278.15, 98300, 0.8, &err);
    vent_fan *fan = vent_fan_new("invented", 6, flow, pressure, &err);
    vent_pipe pipe = vent_pipe_find("PVC 40", 3 * VENT_INCH, &err);
    stack s = {.net = vent_network_new(gas, outdoors, &err)};
    int near_pit =
        vent_network_suction_point(s.net, "near", vent_soil_power(6e-4, 0.65, &err), &err);
    int far_pit = vent_network_suction_point(s.net, "far", vent_soil_power(4e-4, 0.7, &err), &err);
    int wye = vent_network_junction(s.net, "wye", vent_wye(VENT_RADIANS(45), &err), &err);
    int roof = vent_network_discharge(s.net, "roof", vent_end_tee(), 7.5, &err);
    int first = vent_network_run(s.net, "short", near_pit, wye, pipe, 2, &err);
    int second = vent_network_run(s.net, "long", far_pit, wye, pipe, 9, &err);
    int riser = vent_network_run(s.net, "riser", wye, roof, pipe, 8, &err);
    vent_network_fitting(s.net, first, vent_elbow(VENT_RADIANS(90), 1.5, &err), 1, &err);
    vent_network_fitting(s.net, second, vent_elbow(VENT_RADIANS(90), 1.5, &err), 3, &err);
    vent_network_fitting(s.net, riser, vent_elbow(VENT_RADIANS(45), 1.5, &err), 2, &err);
    vent_network_fan(s.net, riser, fan, &err);
    vent_fan_free(fan);
    s.flow = vent_network_find_observable(s.net, "riser.flow", &err);
    s.pit = vent_network_find_observable(s.net, "near.pressure", &err);
    s.other = vent_network_find_observable(s.net, "far.pressure", &err);
    s.c = vent_network_find_parameter(s.net, "near.c", &err);
    s.n = vent_network_find_parameter(s.net, "near.n", &err);
    s.speed = vent_network_find_parameter(s.net, "riser.speed", &err);
    s.count = vent_network_uncertainties(s.net, 60, s.inputs, &err);
    s.inputs[s.count++] = (vent_input){s.c, 0.4e-4, VENT_SHAPE_LOG_NORMAL, 0};
    s.inputs[s.count++] = (vent_input){s.n, 0.02, VENT_SHAPE_NORMAL, 0};
    s.inputs[s.count++] = (vent_input){s.speed, 0.01, VENT_SHAPE_RECTANGULAR, 0};
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return s;
}

static vent_uncertainty *doubt_of(const stack *s, const double *correlation)
{
    vent_error err = VENT_NO_ERROR;
    vent_uncertainty *u = vent_uncertainty_new(s->net, s->count, s->inputs, correlation, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return u;
}

static bool has(const stack *s, const char *name)
{
    vent_error err = VENT_NO_ERROR;
    vent_parameter p = vent_network_find_parameter(s->net, name, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    for (size_t i = 0; i < s->count; ++i)
        if (memcmp(&p, &s->inputs[i].parameter, sizeof p) == 0)
            return true;
    return false;
}

START_TEST(a_network_lists_what_its_parts_carry)
{
    stack s = stack_new();
    vent_error err = VENT_NO_ERROR;
    ck_assert(has(&s, "riser.bore") && has(&s, "long.roughness") && has(&s, "roof.factor"));
    ck_assert(has(&s, "wye.factor") && has(&s, "short.factor") && has(&s, "riser.factor"));
    ck_assert(!has(&s, "far.c") && !has(&s, "riser.length"));
    ck_assert_uint_eq(s.count, 3 * 2 + 3 + 1 + 1 + 3);
    ck_assert_uint_eq(vent_network_uncertainties(s.net, 0, NULL, &err), s.count - 3);
    vent_pipe pipe = vent_pipe_find("PVC 40", 3 * VENT_INCH, &err);
    vent_parameter bore = vent_network_find_parameter(s.net, "riser.bore", &err);
    vent_parameter length = vent_network_find_parameter(s.net, "riser.length", &err);
    ck_assert_double_eq(vent_network_stated_uncertainty(s.net, bore, &err), pipe.bore_uncertainty);
    ck_assert_double_eq(vent_network_stated_uncertainty(s.net, length, &err), 0);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    /* a fitting's factor is uncertain by the share its coefficient is */
    vent_solution *solution = vent_network_solve(s.net, NULL, &err);
    for (size_t i = 0; i < vent_solution_ledger_size(solution); ++i) {
        vent_ledger_line line;
        vent_solution_ledger_line(solution, i, &line);
        for (size_t j = 0; j < s.count; ++j)
            if (s.inputs[j].parameter.kind == VENT_PARAMETER_FACTOR &&
                s.inputs[j].parameter.place == line.run && s.inputs[j].parameter.item == line.item)
                NEAR(s.inputs[j].uncertainty, line.k_uncertainty / line.k, 1e-12);
    }
    vent_solution_free(solution);
    bore.place = 77;
    ck_assert(isnan(vent_network_stated_uncertainty(s.net, bore, &err)));
    ck_assert_int_eq(err.status, VENT_E_NOT_FOUND);
    vent_network_free(s.net);
}
END_TEST

/* ---- first order ---------------------------------------------------------------------------- */

/* Correlation of every pair by a common cause of random strength: always possible. */
static void random_correlation(size_t n, double *r, uint64_t *k)
{
    double strength[64];
    for (size_t i = 0; i < n; ++i)
        strength[i] = 1.8 * vent__random_share(5, (*k)++) - 0.9;
    for (size_t i = 0; i < n; ++i)
        for (size_t j = 0; j < n; ++j)
            r[i * n + j] = i == j ? 1 : strength[i] * strength[j];
}

START_TEST(the_budget_sums_to_the_variance)
{
    stack s = stack_new();
    double r[64 * 64];
    uint64_t k = 0;
    for (int correlated = 0; correlated < 20; ++correlated) {
        random_correlation(s.count, r, &k);
        vent_uncertainty *u = doubt_of(&s, correlated ? r : NULL);
        vent_error err = VENT_NO_ERROR;
        vent_budget_line line[64];
        vent_reading answer = vent_uncertainty_of(u, s.flow, &err);
        size_t n = vent_uncertainty_budget(u, s.flow, 64, line, &err);
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        ck_assert_uint_eq(n, s.count);
        double variance = 0, share = 0, direct = 0;
        for (size_t i = 0; i < n; ++i) {
            variance += line[i].variance;
            share += line[i].share;
            ck_assert(i == 0 || fabs(line[i].variance) <= fabs(line[i - 1].variance));
            double own = line[i].sensitivity * line[i].uncertainty;
            direct += own * own;
        }
        NEAR(variance, answer.uncertainty * answer.uncertainty, 1e-12);
        NEAR(share, 1, 1e-12);
        if (!correlated)
            NEAR(direct, variance, 1e-12);
        vent_uncertainty_free(u);
    }
    vent_network_free(s.net);
}
END_TEST

START_TEST(sensitivities_are_gradients)
{
    stack s = stack_new();
    vent_uncertainty *u = doubt_of(&s, NULL);
    vent_error err = VENT_NO_ERROR;
    vent_budget_line line[64];
    size_t n = vent_uncertainty_budget(u, s.pit, 64, line, &err);
    for (size_t i = 0; i < n; ++i) {
        double value = vent_network_get(s.net, line[i].parameter, &err), side[2];
        double h = 1e-4 * line[i].uncertainty;
        for (int k = 0; k < 2; ++k) {
            vent_network *moved = vent_network_copy(s.net, &err);
            vent_network_set(moved, line[i].parameter, value + (k ? h : -h), &err);
            vent_solution *solution = vent_network_solve(moved, NULL, &err);
            side[k] = vent_solution_observe(solution, s.pit, &err);
            vent_solution_free(solution);
            vent_network_free(moved);
        }
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        double slope = (side[1] - side[0]) / (2 * h);
        ck_assert(fabs(slope - line[i].sensitivity) <=
                  1e-4 * fabs(slope) + 1e-7 / line[i].uncertainty);
    }
    vent_uncertainty_free(u);
    vent_network_free(s.net);
}
END_TEST

/* ---- what to measure next --------------------------------------------------------------------- */

/* What a reading leaves is what a fit with priors and that reading leaves: two ways to Bayes. */
START_TEST(next_is_what_a_fit_would_leave)
{
    stack s = stack_new();
    vent_error err = VENT_NO_ERROR;
    vent_uncertainty *u = doubt_of(&s, NULL);
    vent_solution *now = vent_network_solve(s.net, NULL, &err);
    vent_candidate candidates[] = {{.observable = s.pit, .uncertainty = 1},
                                   {.observable = s.other, .uncertainty = 1},
                                   {.observable = s.flow, .uncertainty = 1e-3},
                                   {.parameter = s.speed, .uncertainty = 0.002}};
    double after[4];
    double before = vent_uncertainty_of(u, s.flow, &err).uncertainty;
    int best = vent_uncertainty_next(u, s.flow, 4, candidates, after, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    for (int i = 0; i < 4; ++i)
        ck_assert(after[i] > 0 && after[i] <= before && after[best] <= after[i]);
    for (int i = 0; i < 3; ++i) {
        vent_fit *fit = vent_fit_new(s.net, &err);
        vent_fit_priors(fit, s.count, s.inputs, &err);
        double value = vent_solution_observe(now, candidates[i].observable, &err);
        vent_fit_reading(fit, 0, candidates[i].observable,
                         vent_reading_stated(value, candidates[i].uncertainty), &err);
        vent_fitted *fitted = vent_fit_solve(fit, &err);
        vent_uncertainty *left = vent_fitted_uncertainty(fitted, 0, &err);
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        NEAR(vent_uncertainty_of(left, s.flow, &err).uncertainty, after[i], 1e-6);
        vent_uncertainty_free(left);
        vent_fitted_free(fitted);
        vent_fit_free(fit);
    }
    /* learning the best one leaves just that; learning it again leaves less */
    ck_assert(vent_uncertainty_learn(u, candidates[best], &err));
    NEAR(vent_uncertainty_of(u, s.flow, &err).uncertainty, after[best], 1e-10);
    double again[4];
    vent_uncertainty_next(u, s.flow, 4, candidates, again, &err);
    for (int i = 0; i < 4; ++i)
        ck_assert(again[i] <= after[best] && again[i] <= after[i] * (1 + 1e-12));
    /* the order of readings does not count */
    vent_uncertainty *one = doubt_of(&s, NULL), *two = doubt_of(&s, NULL);
    vent_uncertainty_learn(one, candidates[0], &err);
    vent_uncertainty_learn(one, candidates[3], &err);
    vent_uncertainty_learn(two, candidates[3], &err);
    vent_uncertainty_learn(two, candidates[0], &err);
    NEAR(vent_uncertainty_of(one, s.flow, &err).uncertainty,
         vent_uncertainty_of(two, s.flow, &err).uncertainty, 1e-12);
    vent_uncertainty_free(one);
    vent_uncertainty_free(two);
    vent_solution_free(now);
    vent_uncertainty_free(u);
    vent_network_free(s.net);
}
END_TEST

/* ---- Monte Carlo ---------------------------------------------------------------------------- */

START_TEST(sampling_agrees_with_first_order)
{
    stack s = stack_new();
    for (size_t i = 0; i < s.count; ++i) /* small doubts: the stack is straight over them */
        s.inputs[i].uncertainty *= 0.1;
    double r[64 * 64];
    uint64_t k = 99;
    random_correlation(s.count, r, &k);
    vent_observable both[] = {s.flow, s.pit};
    for (int correlated = 0; correlated < 2; ++correlated) {
        vent_uncertainty *u = doubt_of(&s, correlated ? r : NULL);
        for (int kind = VENT_SAMPLING_RANDOM; kind <= VENT_SAMPLING_QUASI; ++kind) {
            vent_error err = VENT_NO_ERROR;
            vent_simulated out[2];
            vent_sampling how = {.samples = 20000, .seed = 4, .kind = kind};
            ck_assert(vent_uncertainty_simulate(u, how, 2, both, out, NULL, &err));
            for (int o = 0; o < 2; ++o) {
                vent_reading linear = vent_uncertainty_of(u, both[o], &err);
                double sigma = linear.uncertainty;
                ck_assert_int_eq(out[o].failed, 0);
                ck_assert(fabs(out[o].mean - linear.value) < 0.03 * sigma); /* 4 / sqrt n */
                NEAR(out[o].uncertainty, sigma, 0.02 + 0.01);
                ck_assert(fabs(out[o].median - linear.value) < 0.04 * sigma);
                NEAR(out[o].high - out[o].low, 3.92 * sigma, 0.04);
            }
        }
        vent_uncertainty_free(u);
    }
    vent_network_free(s.net);
}
END_TEST

START_TEST(quasi_random_means_are_better)
{
    stack s = stack_new();
    vent_uncertainty *u = doubt_of(&s, NULL);
    vent_error err = VENT_NO_ERROR;
    vent_simulated exact, out;
    vent_sampling many = {.samples = 60000, .seed = 1, .kind = VENT_SAMPLING_QUASI};
    vent_uncertainty_simulate(u, many, 1, &s.flow, &exact, NULL, &err);
    double error[2] = {0, 0};
    for (int kind = 0; kind < 2; ++kind)
        for (uint64_t seed = 10; seed < 20; ++seed) {
            vent_sampling how = {.samples = 1024, .seed = seed, .kind = kind};
            vent_uncertainty_simulate(u, how, 1, &s.flow, &out, NULL, &err);
            error[kind] += (out.mean - exact.mean) * (out.mean - exact.mean);
        }
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    ck_assert_msg(sqrt(error[1]) < sqrt(error[0]) / 4, "random %g, quasi-random %g", sqrt(error[0]),
                  sqrt(error[1]));
    vent_uncertainty_free(u);
    vent_network_free(s.net);
}
END_TEST

START_TEST(samples_repeat_and_do_not_hang_on_their_number)
{
    stack s = stack_new();
    vent_uncertainty *u = doubt_of(&s, NULL);
    vent_error err = VENT_NO_ERROR;
    vent_simulated out;
    for (int kind = 0; kind < 2; ++kind) {
        double *few = malloc(100 * sizeof *few), *more = malloc(5000 * sizeof *more);
        vent_sampling how = {.samples = 100, .seed = 8, .kind = kind};
        vent_uncertainty_simulate(u, how, 1, &s.flow, &out, few, &err);
        how.samples = 5000;
        vent_uncertainty_simulate(u, how, 1, &s.flow, &out, more, &err);
        ck_assert(memcmp(few, more, 100 * sizeof *few) == 0);
        /* what is said of the samples is so */
        double sum = 0;
        int below = 0, under = 0;
        for (int i = 0; i < 5000; ++i) {
            sum += more[i];
            below += more[i] < out.low;
            under += more[i] < out.median;
        }
        NEAR(sum / 5000, out.mean, 1e-12);
        ck_assert_int_eq(below, 125);
        ck_assert_int_eq(under, 2500);
        how.seed = 9;
        vent_uncertainty_simulate(u, how, 1, &s.flow, &out, more, &err);
        ck_assert(few[0] != more[0]);
        free(few);
        free(more);
    }
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    vent_uncertainty_free(u);
    vent_network_free(s.net);
}
END_TEST

/* A pressure of the wind moves the flow in a straight line: what comes out has the input's shape. */
START_TEST(shapes_are_what_they_say)
{
    stack s = stack_new();
    vent_error err = VENT_NO_ERROR;
    vent_parameter pressure = vent_network_find_parameter(s.net, "wind_pressure", &err);
    vent_input wind = {pressure, 1e-3, VENT_SHAPE_RECTANGULAR, 0};
    vent_uncertainty *u = vent_uncertainty_new(s.net, 1, &wind, NULL, &err);
    vent_simulated out;
    vent_sampling how = {.samples = 20000, .seed = 1};
    vent_uncertainty_simulate(u, how, 1, &s.flow, &out, NULL, &err);
    double sigma = vent_uncertainty_of(u, s.flow, &err).uncertainty;
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    NEAR(out.uncertainty, sigma, 0.02);
    NEAR(out.high - out.low, 2 * sqrt(3) * 0.95 * sigma, 0.01); /* rectangular, not 3.92 sigma */
    vent_uncertainty_free(u);
    vent_network_free(s.net);
}
END_TEST

/* ---- bad input ------------------------------------------------------------------------------ */

START_TEST(bad_uncertainties_are_refused)
{
    stack s = stack_new();
    vent_error err = VENT_NO_ERROR;
    vent_input in = {s.c, 1e-5, 0, 0}, zero = {s.c, 0, 0, 0}, minus = {s.c, -1, 0, 0};
    vent_input nan = {s.c, NAN, 0, 0}, shape = {s.c, 1e-5, 9, 0}, nowhere = in;
    vent_input twice[] = {in, in}, two[] = {in, {s.n, 0.01, 0, 0}};
    nowhere.parameter.place = 50;
    vent_parameter wind = vent_network_find_parameter(s.net, "wind_pressure", &err);
    vent_input log_wind = {wind, 1, VENT_SHAPE_LOG_NORMAL, 0};
    REFUSED(vent_uncertainty_new(s.net, 1, &zero, NULL, e), VENT_E_ARGUMENT, "near.c");
    REFUSED(vent_uncertainty_new(s.net, 1, &minus, NULL, e), VENT_E_ARGUMENT, "above 0");
    REFUSED(vent_uncertainty_new(s.net, 1, &nan, NULL, e), VENT_E_ARGUMENT, "above 0");
    REFUSED(vent_uncertainty_new(s.net, 1, &shape, NULL, e), VENT_E_ARGUMENT, "no shape 9");
    REFUSED(vent_uncertainty_new(s.net, 1, &log_wind, NULL, e), VENT_E_ARGUMENT, "not above 0");
    REFUSED(vent_uncertainty_new(s.net, 1, &nowhere, NULL, e), VENT_E_NOT_FOUND, "");
    REFUSED(vent_uncertainty_new(s.net, 2, twice, NULL, e), VENT_E_DUPLICATE, "input 0 already");
    REFUSED(vent_uncertainty_new(s.net, 0, &in, NULL, e), VENT_E_ARGUMENT, "n");
    REFUSED(vent_uncertainty_new(NULL, 1, &in, NULL, e), VENT_E_ARGUMENT, "network");
    double above[] = {1, 1.1, 1.1, 1}, uneven[] = {1, 0.2, 0.3, 1}, not_one[] = {2, 0, 0, 1};
    REFUSED(vent_uncertainty_new(s.net, 2, two, above, e), VENT_E_ARGUMENT, "correlation");
    REFUSED(vent_uncertainty_new(s.net, 2, two, uneven, e), VENT_E_ARGUMENT, "same both ways");
    REFUSED(vent_uncertainty_new(s.net, 2, two, not_one, e), VENT_E_ARGUMENT, "itself");
    vent_input three[] = {in, {s.n, 0.01, 0, 0}, {s.speed, 0.01, 0, 0}};
    double impossible[] = {1, 0.9, 0.9, 0.9, 1, -0.9, 0.9, -0.9, 1};
    REFUSED(vent_uncertainty_new(s.net, 3, three, impossible, e), VENT_E_ARGUMENT, "contradict");

    vent_uncertainty *u = vent_uncertainty_new(s.net, 1, &in, NULL, &err);
    vent_observable gone = s.flow;
    gone.place = 50;
    REFUSED(vent_uncertainty_of(u, gone, e), VENT_E_NOT_FOUND, "");
    REFUSED(vent_uncertainty_budget(u, gone, 0, NULL, e), VENT_E_NOT_FOUND, "");
    vent_candidate sure = {.observable = s.flow}, both = {s.flow, s.c, 1},
                   none = {.uncertainty = 1};
    REFUSED(vent_uncertainty_next(u, s.flow, 1, &sure, NULL, e), VENT_E_ARGUMENT, "above 0");
    REFUSED(vent_uncertainty_next(u, s.flow, 1, &both, NULL, e), VENT_E_ARGUMENT, "both");
    REFUSED(vent_uncertainty_learn(u, none, e), VENT_E_ARGUMENT, "neither");
    ck_assert_int_eq(vent_uncertainty_next(u, s.flow, 0, NULL, NULL, &err), -1);
    ck_assert_int_eq(err.status, VENT_OK);
    vent_simulated out;
    REFUSED(vent_uncertainty_simulate(u, (vent_sampling){.samples = 1}, 1, &s.flow, &out, NULL, e),
            VENT_E_ARGUMENT, "samples");
    ck_assert(isnan(out.mean));
    REFUSED(vent_uncertainty_simulate(u, (vent_sampling){.samples = 10, .kind = 2}, 1, &s.flow,
                                      &out, NULL, e),
            VENT_E_ARGUMENT, "kind");
    REFUSED(vent_uncertainty_simulate(u, (vent_sampling){.samples = 10}, 1, &gone, &out, NULL, e),
            VENT_E_NOT_FOUND, "");
    ck_assert(isnan(vent_uncertainty_of(NULL, s.flow, NULL).value));
    vent_uncertainty_free(NULL);
    vent_uncertainty_free(u);
    vent_network_free(s.net);
}
END_TEST

Suite *uncertainty_suite(void)
{
    Suite *suite = suite_create("uncertainty");
    TCase *chance = tcase_create("chance");
    tcase_add_test(chance, splitmix_gives_its_sequence);
    tcase_add_test(chance, deviates_are_normal);
    tcase_add_test(chance, rows_are_the_numbers_one_by_one);
#if defined(__GNUC__) && defined(__x86_64__)
    tcase_add_test(chance, rows_are_the_same_by_every_width);
#endif
    tcase_add_test(chance, sobol_points_fill_evenly);
    suite_add_tcase(suite, chance);
    TCase *linear = tcase_create("first order");
    tcase_add_test(linear, a_network_lists_what_its_parts_carry);
    tcase_add_test(linear, the_budget_sums_to_the_variance);
    tcase_add_test(linear, sensitivities_are_gradients);
    tcase_add_test(linear, next_is_what_a_fit_would_leave);
    tcase_add_test(linear, bad_uncertainties_are_refused);
    suite_add_tcase(suite, linear);
    TCase *sampling = tcase_create("sampling");
    tcase_set_timeout(sampling, 120);
    tcase_add_test(sampling, sampling_agrees_with_first_order);
    tcase_add_test(sampling, quasi_random_means_are_better);
    tcase_add_test(sampling, samples_repeat_and_do_not_hang_on_their_number);
    tcase_add_test(sampling, shapes_are_what_they_say);
    suite_add_tcase(suite, sampling);
    return suite;
}
