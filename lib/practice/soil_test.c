/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The soil law of a suction point from the steps of a communication test. */
#include <stdlib.h>
#include <ventstack/fit.h>

#include "base/fail.h"
#include "numeric/chance.h"
#include "numeric/least_squares.h"

enum { MOST_STEPS = 60 };

/* Unknowns: both numbers of the law, the true flow of each step and, where it is in doubt, the
 * baseline. A power law is searched by ln C. */
enum { FIRST, SECOND, FLOW };

typedef struct test {
    int law;
    size_t n;
    const vent_reading *vacuum, *flow;
    vent_reading baseline;
    bool doubtful; /* baseline is unknown too */
} test;

static size_t unknowns(const test *t)
{
    return FLOW + t->n + t->doubtful;
}

static size_t rows(const test *t)
{
    return 2 * t->n + t->doubtful;
}

/* Vacuum at a flow and its derivatives by the law's numbers and by the flow. */
static double law_vacuum(const test *t, const double *x, double q, double *d)
{
    if (t->law == VENT_SOIL_TWO_TERM) {
        d[0] = q;
        d[1] = q * q;
        d[2] = x[FIRST] + 2 * x[SECOND] * q;
        return x[FIRST] * q + x[SECOND] * q * q;
    }
    double n = x[SECOND], exponent = (log(q) - x[FIRST]) / n, p = exp(exponent);
    d[0] = -p / n;
    d[1] = -p * exponent / n;
    d[2] = p / (n * q);
    return p;
}

static bool residuals(void *context, const double *x, double *residual, double *jacobian)
{
    const test *t = context;
    size_t n = t->n, m = unknowns(t), base = FLOW + n;
    for (size_t i = 0; jacobian && i < rows(t) * m; ++i)
        jacobian[i] = 0;
    for (size_t i = 0; i < n; ++i) {
        double d[3], q = x[FLOW + i], p = law_vacuum(t, x, q, d);
        double baseline = t->doubtful ? x[base] : t->baseline.value;
        residual[i] = (p + baseline - t->vacuum[i].value) / t->vacuum[i].uncertainty;
        residual[n + i] = (q - t->flow[i].value) / t->flow[i].uncertainty;
        if (!jacobian)
            continue;
        double *row = jacobian + i * m;
        row[FIRST] = d[0] / t->vacuum[i].uncertainty;
        row[SECOND] = d[1] / t->vacuum[i].uncertainty;
        row[FLOW + i] = d[2] / t->vacuum[i].uncertainty;
        if (t->doubtful)
            row[base] = 1 / t->vacuum[i].uncertainty;
        jacobian[(n + i) * m + FLOW + i] = 1 / t->flow[i].uncertainty;
    }
    if (t->doubtful) {
        residual[2 * n] = (x[base] - t->baseline.value) / t->baseline.uncertainty;
        if (jacobian)
            jacobian[2 * n * m + base] = 1 / t->baseline.uncertainty;
    }
    return true;
}

/* ---- checks --------------------------------------------------------------------------------- */

static bool check_readings(const char *what, size_t n, const vent_reading *r, vent_error *err)
{
    for (size_t i = 0; i < n; ++i) {
        if (!isfinite(r[i].value) || !(r[i].uncertainty > 0) || !isfinite(r[i].uncertainty))
            return vent__fail(
                err, VENT_E_ARGUMENT, "vent_soil_test", what, (int64_t)i, r[i].uncertainty, 0,
                INFINITY,
                "%s of step %zu: value %g must be finite, its standard uncertainty %g "
                "above 0 and finite",
                what, i, r[i].value, r[i].uncertainty);
        if (!(r[i].value > 0))
            return vent__fail(
                err, VENT_E_ARGUMENT, "vent_soil_test", what, (int64_t)i, r[i].value, 0, INFINITY,
                "%s of step %zu is %g: give vacuum below the room and flow out of the soil "
                "as positive numbers",
                what, i, r[i].value);
    }
    return true;
}

/* Steps that all lie within their uncertainties are one point, and one point gives no exponent. */
static bool check_span(const char *what, size_t n, const vent_reading *r, vent_error *err)
{
    size_t least = 0, greatest = 0;
    for (size_t i = 1; i < n; ++i) {
        least = r[i].value < r[least].value ? i : least;
        greatest = r[i].value > r[greatest].value ? i : greatest;
    }
    double span = r[greatest].value - r[least].value;
    double doubt = hypot(r[greatest].uncertainty, r[least].uncertainty);
    return span > 2 * doubt ||
           vent__fail(
               err, VENT_E_ARGUMENT, "vent_soil_test", what, -1, span, 2 * doubt, INFINITY,
               "%s of all steps differs by %g at most, with uncertainties of %g: one point gives "
               "no exponent; take steps further apart",
               what, span, doubt);
}

static bool check_baseline(const test *t, vent_error *err)
{
    if (!isfinite(t->baseline.value) || !(t->baseline.uncertainty >= 0) ||
        !isfinite(t->baseline.uncertainty))
        return vent__fail(
            err, VENT_E_ARGUMENT, "vent_soil_test", "baseline", -1, t->baseline.uncertainty, 0,
            INFINITY, "baseline: value %g must be finite, its standard uncertainty %g not negative",
            t->baseline.value, t->baseline.uncertainty);
    for (size_t i = 0; i < t->n; ++i)
        if (!(t->vacuum[i].value > t->baseline.value))
            return vent__fail(
                err, VENT_E_ARGUMENT, "vent_soil_test", "vacuum", (int64_t)i, t->vacuum[i].value,
                t->baseline.value, INFINITY,
                "vacuum of step %zu, %g Pa, is not above the baseline of %g Pa; both are "
                "positive below the room",
                i, t->vacuum[i].value, t->baseline.value);
    return true;
}

static bool check(const test *t, vent_error *err)
{
    if (t->law != VENT_SOIL_POWER && t->law != VENT_SOIL_TWO_TERM)
        return vent__fail(err, VENT_E_ARGUMENT, "vent_soil_test", "law", -1, t->law,
                          VENT_SOIL_POWER, VENT_SOIL_TWO_TERM, "there is no soil law %d", t->law);
    if (t->n < 2)
        return vent__fail(
            err, VENT_E_ARGUMENT, "vent_soil_test", "n", -1, (double)t->n, 2, MOST_STEPS,
            "%zu step gives one number, a soil law has two: take a second step at another "
            "speed or damper position",
            t->n);
    return vent__check_range(err, "vent_soil_test", "n", "", (double)t->n, 2, MOST_STEPS) &&
           check_readings("vacuum", t->n, t->vacuum, err) &&
           check_readings("flow", t->n, t->flow, err) && check_baseline(t, err) &&
           check_span("vacuum", t->n, t->vacuum, err) && check_span("flow", t->n, t->flow, err);
}

/* ---- search --------------------------------------------------------------------------------- */

/* The law through the steps of least and greatest flow. */
static void start(const test *t, double *x, double *low, double *high)
{
    size_t a = 0, b = 0;
    for (size_t i = 0; i < t->n; ++i) {
        a = t->flow[i].value < t->flow[a].value ? i : a;
        b = t->flow[i].value > t->flow[b].value ? i : b;
        x[FLOW + i] = t->flow[i].value;
        low[FLOW + i] = 1e-6 * t->flow[i].value;
        high[FLOW + i] = 1e6 * t->flow[i].value;
    }
    double qa = t->flow[a].value, qb = t->flow[b].value;
    double pa = t->vacuum[a].value - t->baseline.value, pb = t->vacuum[b].value - t->baseline.value;
    if (t->law == VENT_SOIL_POWER) {
        double n = log(qb / qa) / log(pb / pa);
        x[SECOND] = n >= 0.45 && n <= 1.05 ? n : 0.7;
        x[FIRST] = log(qb) - x[SECOND] * log(pb);
        low[FIRST] = log(1e-15), high[FIRST] = log(1e3);
        low[SECOND] = 0.4, high[SECOND] = 1.1;
    } else {
        double slope = (pb / qb - pa / qa) / (qb - qa);
        x[SECOND] = fmax(slope, 0.1 * pb / (qb * qb));
        x[FIRST] = fmax(pb / qb - x[SECOND] * qb, 0.1 * pb / qb);
        low[FIRST] = low[SECOND] = 0;
        high[FIRST] = 1e15, high[SECOND] = 1e18;
    }
    if (t->doubtful) {
        size_t base = FLOW + t->n;
        x[base] = t->baseline.value;
        low[base] = -1e6, high[base] = 1e6;
    }
}

static const vent_soil_estimate none = {.soil = {0, 0, NAN, NAN},
                                        .a_uncertainty = NAN,
                                        .b_uncertainty = NAN,
                                        .correlation = NAN,
                                        .chi_square = NAN,
                                        .degrees = NAN,
                                        .probability = NAN};

static uint32_t flags_of(double value, double uncertainty, double low, double high)
{
    return (value <= low || value >= high ? VENT_ESTIMATE_AT_BOUND : 0u) |
           (uncertainty >= fabs(value) ? VENT_ESTIMATE_WEAK : 0u);
}

static vent_soil_estimate conclude(const test *t, const vent__least_squares *s,
                                   const vent__determination *d, vent_error *err)
{
    bool power = t->law == VENT_SOIL_POWER;
    double a = power ? exp(s->x[FIRST]) : s->x[FIRST], b = s->x[SECOND];
    vent_soil_estimate e = none;
    e.soil = power ? vent_soil_power(a, b, err) : vent_soil_two_term(a, b, err);
    if (vent__failed(err))
        return none;
    double aa = d->covariance[0], ab = d->covariance[1], bb = d->covariance[d->n + 1];
    e.a_uncertainty = sqrt(aa) * (power ? a : 1);
    e.b_uncertainty = sqrt(bb);
    e.correlation = ab / sqrt(aa * bb);
    e.chi_square = s->square;
    e.degrees = (double)t->n - 2;
    e.probability = vent__chi_square_tail(e.chi_square, e.degrees);
    e.flags = flags_of(s->x[FIRST], power ? 0 : e.a_uncertainty, s->low[FIRST], s->high[FIRST]) |
              flags_of(b, e.b_uncertainty, s->low[SECOND], s->high[SECOND]);
    if (power && e.a_uncertainty >= a)
        e.flags |= VENT_ESTIMATE_WEAK;
    return e;
}

static vent_soil_estimate search(const test *t, double *memory, vent_error *err)
{
    size_t n = unknowns(t), m = rows(t);
    double *low = memory + n, *high = low + n, *scale = high + n, *residual = scale + n;
    vent__least_squares s = {.m = m,
                             .n = n,
                             .residuals = residuals,
                             .context = (void *)(uintptr_t)t, /* read only */
                             .low = low,
                             .high = high,
                             .x = memory,
                             .residual = residual,
                             .jacobian = residual + m};
    start(t, s.x, low, high);
    int status = vent__least_squares_solve(&s);
    if (status == VENT__FIT_NO_START || status == VENT__FIT_STUCK) {
        vent__fail(err, VENT_E_NOT_CONVERGED, "vent_soil_test", "", -1, s.square, NAN, NAN,
                   "no soil law fits these steps; look at units and order of vacuum and flow");
        return none;
    }
    vent__determination d = {0};
    for (size_t j = 0; j < n; ++j)
        scale[j] = s.x[j] != 0 ? fabs(s.x[j]) : 1;
    if (status == VENT__FIT_MEMORY || !vent__determine(m, n, s.jacobian, scale, &d)) {
        vent__fail(err, VENT_E_MEMORY, "vent_soil_test", "", -1, NAN, NAN, NAN, "no memory");
        return none;
    }
    vent_soil_estimate e = conclude(t, &s, &d, err);
    vent__determination_free(&d);
    return e;
}

vent_soil_estimate vent_soil_test(int law, size_t n, const vent_reading *vacuum,
                                  const vent_reading *flow, vent_reading baseline, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(vacuum) || !VENT__POINTER(flow))
        return none;
    test t = {law, n, vacuum, flow, baseline, baseline.uncertainty > 0};
    if (!check(&t, err))
        return none;
    size_t x = unknowns(&t), m = rows(&t);
    double *memory = malloc((4 * x + m + m * x) * sizeof *memory);
    if (!memory) {
        VENT__FAIL(VENT_E_MEMORY, "n", -1, "no memory for %zu steps", n);
        return none;
    }
    vent_error own = VENT_NO_ERROR;
    vent_soil_estimate e = search(&t, memory, err ? err : &own);
    free(memory);
    return e;
}
