/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Vacuum against distance from a suction point. */
#include <stdlib.h>
#include <ventstack/fit.h>

#include "base/fail.h"
#include "numeric/bessel.h"
#include "numeric/chance.h"
#include "numeric/least_squares.h"

static const double SHORTEST = 1e-3, LONGEST = 1e5; /* m, of a field's length */
static const double FARTHEST = 1e4;                 /* m, that a field is asked for */

/* ---- the forms ------------------------------------------------------------------------------ */

/* K1 / K0 at x. */
static double bessel_ratio(double x)
{
    return vent__bessel_k1_scaled(x) / vent__bessel_k0_scaled(x);
}

/* Share of the vacuum at the radius that is left at r; its relative derivatives by ln length and by r. */
static double share_left(int form, double radius, double length, double r, double *by_length,
                         double *by_distance)
{
    double x = r / length, x0 = radius / length;
    if (form == VENT_FIELD_EXPONENTIAL) {
        *by_length = x - x0;
        *by_distance = -1 / length;
        return exp(x0 - x);
    }
    double here = bessel_ratio(x);
    *by_length = x * here - x0 * bessel_ratio(x0);
    *by_distance = -here / length;
    return vent__bessel_k0_scaled(x) / vent__bessel_k0_scaled(x0) * exp(x0 - x);
}

/* ---- the fit: unknown are the logarithms of vacuum and length ---------------------------------- */

typedef struct holes {
    int form;
    double radius;
    size_t n;
    const double *distance;
    const vent_reading *vacuum;
} holes;

static bool residuals(void *context, const double *x, double *residual, double *jacobian)
{
    const holes *h = context;
    double vacuum = exp(x[0]), length = exp(x[1]);
    for (size_t i = 0; i < h->n; ++i) {
        double by_length, by_distance, u = h->vacuum[i].uncertainty;
        double p = vacuum *
                   share_left(h->form, h->radius, length, h->distance[i], &by_length, &by_distance);
        residual[i] = (p - h->vacuum[i].value) / u;
        if (jacobian) {
            jacobian[2 * i] = p / u;
            jacobian[2 * i + 1] = p * by_length / u;
        }
    }
    return true;
}

static bool check_hole(const holes *h, size_t i, vent_error *err)
{
    vent_reading v = h->vacuum[i];
    if (!(h->distance[i] >= h->radius && h->distance[i] <= 1000))
        return vent__fail(err, VENT_E_ARGUMENT, "vent_field_test", "distance", (int64_t)i,
                          h->distance[i], h->radius, 1000,
                          "distance of hole %zu is %g m, must be %g to 1000", i, h->distance[i],
                          h->radius);
    if (!isfinite(v.value) || !(v.uncertainty > 0) || !isfinite(v.uncertainty))
        return vent__fail(
            err, VENT_E_ARGUMENT, "vent_field_test", "vacuum", (int64_t)i, v.uncertainty, 0,
            INFINITY,
            "vacuum of hole %zu: value %g must be finite, its standard uncertainty %g "
            "above 0 and finite",
            i, v.value, v.uncertainty);
    if (v.value < -3 * v.uncertainty)
        return vent__fail(
            err, VENT_E_ARGUMENT, "vent_field_test", "vacuum", (int64_t)i, v.value, 0, INFINITY,
            "vacuum of hole %zu is %g Pa: give vacuum below the room as a positive number, "
            "the baseline subtracted",
            i, v.value);
    return true;
}

static bool check(const holes *h, vent_error *err)
{
    if (h->form != VENT_FIELD_EXPONENTIAL && h->form != VENT_FIELD_RADIAL)
        return vent__fail(err, VENT_E_ARGUMENT, "vent_field_test", "form", -1, h->form,
                          VENT_FIELD_EXPONENTIAL, VENT_FIELD_RADIAL, "there is no form %d",
                          h->form);
    if (!vent__check_range(err, "vent_field_test", "radius", "m", h->radius, 1e-3, 10) ||
        !vent__check_range(err, "vent_field_test", "n", "", (double)h->n, 2, 1000))
        return false;
    double nearest = INFINITY, farthest = 0, greatest = 0;
    for (size_t i = 0; i < h->n; ++i) {
        if (!check_hole(h, i, err))
            return false;
        nearest = fmin(nearest, h->distance[i]);
        farthest = fmax(farthest, h->distance[i]);
        greatest = fmax(greatest, h->vacuum[i].value / h->vacuum[i].uncertainty);
    }
    if (!(farthest > nearest))
        return vent__fail(err, VENT_E_ARGUMENT, "vent_field_test", "distance", -1, farthest, NAN,
                          NAN, "all holes are at %g m: one distance says nothing about another",
                          farthest);
    return greatest > 2 ||
           vent__fail(err, VENT_E_ARGUMENT, "vent_field_test", "vacuum", -1, greatest, 2, INFINITY,
                      "no hole shows a vacuum that its uncertainty tells from zero");
}

static void start(const holes *h, double *x)
{
    size_t near = 0, far = 0;
    for (size_t i = 0; i < h->n; ++i) {
        near = h->distance[i] < h->distance[near] ? i : near;
        far = h->distance[i] > h->distance[far] ? i : far;
    }
    double there = fmax(h->vacuum[far].value, h->vacuum[far].uncertainty);
    double here = fmax(h->vacuum[near].value, h->vacuum[near].uncertainty);
    double fall = fmax(log(here / there), 0.1);
    x[0] = log(here);
    x[1] = log((h->distance[far] - h->distance[near]) / fall);
}

static const vent_field none = {0, 0, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};

static bool does_fall(const holes *h, double length, vent_error *err)
{
    return length < 0.999 * LONGEST ||
           vent__fail(
               err, VENT_E_ARGUMENT, "vent_field_test", "vacuum", -1, length, 0, LONGEST,
               "vacuum does not fall over these %zu holes: are distances and vacuums in one order?",
               h->n);
}

static vent_field conclude(const holes *h, const vent__least_squares *s,
                           const vent__determination *d, vent_error *err)
{
    vent_field f = none;
    double vacuum = exp(s->x[0]), length = exp(s->x[1]);
    if (!does_fall(h, length, err))
        return none;
    if (d->rank < 2) {
        vent__fail(err, VENT_E_ARGUMENT, "vent_field_test", "vacuum", -1, NAN, NAN, NAN,
                   "these holes do not determine both vacuum and length");
        return none;
    }
    f.form = h->form;
    f.radius = h->radius;
    f.vacuum = vacuum;
    f.length = length;
    f.vacuum_uncertainty = vacuum * sqrt(d->covariance[0]);
    f.length_uncertainty = length * sqrt(d->covariance[3]);
    f.correlation = d->covariance[1] / sqrt(d->covariance[0] * d->covariance[3]);
    f.chi_square = s->square;
    f.degrees = (double)h->n - 2;
    f.probability = vent__chi_square_tail(f.chi_square, f.degrees);
    if (f.vacuum_uncertainty >= vacuum || f.length_uncertainty >= length)
        f.flags |= VENT_ESTIMATE_WEAK;
    if (length <= SHORTEST * 1.001)
        f.flags |= VENT_ESTIMATE_AT_BOUND;
    return f;
}

vent_field vent_field_test(int form, double radius, size_t n, const double *distance,
                           const vent_reading *vacuum, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(distance) || !VENT__POINTER(vacuum))
        return none;
    holes h = {form, radius, n, distance, vacuum};
    if (!check(&h, err))
        return none;
    double x[2], low[2] = {log(1e-9), log(SHORTEST)}, high[2] = {log(1e9), log(LONGEST)};
    double *memory = malloc(3 * n * sizeof *memory);
    vent__least_squares s = {.m = n,
                             .n = 2,
                             .residuals = residuals,
                             .context = &h,
                             .low = low,
                             .high = high,
                             .x = x,
                             .residual = memory};
    vent__determination d = {0};
    int status = VENT__FIT_MEMORY;
    vent_field f = none;
    if (memory) {
        s.jacobian = memory + n;
        start(&h, x);
        status = vent__least_squares_solve(&s);
    }
    if (status == VENT__FIT_MEMORY ||
        !vent__determine(n, 2, s.jacobian, (const double[]){1, 1}, &d))
        VENT__FAIL(VENT_E_MEMORY, "n", -1, "no memory for %zu holes", n);
    else if (status != VENT__FIT_DONE)
        VENT__FAIL(VENT_E_NOT_CONVERGED, "vacuum", -1, "no field of this form fits these holes");
    else
        f = conclude(&h, &s, &d, err);
    vent__determination_free(&d);
    free(memory);
    return f;
}

/* ---- asking a field ------------------------------------------------------------------------- */

static const vent_reading no_reading = {.value = NAN, .uncertainty = NAN};

static bool is_field(vent_field f)
{
    return (f.form == VENT_FIELD_EXPONENTIAL || f.form == VENT_FIELD_RADIAL) && f.radius > 0 &&
           f.length >= SHORTEST && f.length <= LONGEST && f.vacuum > 0;
}

/* Relative standard uncertainty of the vacuum where it hangs on the length by so much. */
static double relative_uncertainty(vent_field f, double by_length)
{
    double a = f.vacuum_uncertainty / f.vacuum, b = by_length * f.length_uncertainty / f.length;
    return sqrt(fmax(0, a * a + b * b + 2 * f.correlation * a * b));
}

vent_reading vent_field_vacuum(vent_field field, double distance)
{
    if (!is_field(field) || !(distance >= field.radius && distance <= FARTHEST))
        return no_reading;
    double by_length, by_distance;
    double p = field.vacuum * share_left(field.form, field.radius, field.length, distance,
                                         &by_length, &by_distance);
    return vent_reading_stated(p, p * relative_uncertainty(field, by_length));
}

vent_reading vent_field_reach(vent_field field, double vacuum)
{
    if (!is_field(field) || !(vacuum > 0 && vacuum <= field.vacuum))
        return no_reading;
    double by_length, by_distance, share = vacuum / field.vacuum;
    double near = field.radius, far = FARTHEST;
    if (share_left(field.form, field.radius, field.length, far, &by_length, &by_distance) > share)
        return no_reading;
    while (far - near > 1e-14 * far) { /* it falls everywhere: halving always ends */
        double middle = near + (far - near) / 2;
        if (middle <= near || middle >= far)
            break;
        bool beyond = share_left(field.form, field.radius, field.length, middle, &by_length,
                                 &by_distance) < share;
        *(beyond ? &far : &near) = middle;
    }
    share_left(field.form, field.radius, field.length, near, &by_length, &by_distance);
    return vent_reading_stated(near, relative_uncertainty(field, by_length) / -by_distance);
}
