/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A fan's curve from scattered readings: penalised splines. */
#include <stdlib.h>
#include <string.h>
#include <ventstack/fit.h>

#include "base/fail.h"
#include "numeric/chance.h"
#include "numeric/least_squares.h"

enum { MOST_READINGS = 1000, LEAST_SPLINES = 5, MOST_SPLINES = 12, POINTS_A_STRETCH = 4 };

typedef struct curve {
    size_t n, splines;
    const double *flow;
    const vent_reading *pressure;
    double from, stretch; /* flow at the first knot, and between two */
    bool falling;
    double smoothness; /* weight of the penalty */
} curve;

/* ---- splines -------------------------------------------------------------------------------- */

/* Knot k of evenly spaced ones, of which the first and the last stand four times: then a falling curve
 * has falling coefficients to its very ends. */
static double knot(const curve *c, int k)
{
    double stretches = (double)(c->splines - 3);
    return fmin(fmax(k - 3.0, 0), stretches);
}

/* The four cubic B-splines that are not zero on a stretch, at `u` of it (de Boor). */
static void basis(const curve *c, size_t stretch, double u, double weight[4])
{
    int at = (int)stretch + 3;
    double t = (double)stretch + u;
    weight[0] = 1;
    for (int degree = 1; degree < 4; ++degree) {
        double carried = 0;
        for (int r = 0; r < degree; ++r) {
            double right = knot(c, at + r + 1) - t, left = t - knot(c, at + 1 + r - degree);
            double part = weight[r] / (right + left);
            weight[r] = carried + right * part;
            carried = left * part;
        }
        weight[degree] = carried;
    }
}

/* The same at a flow; gives the number of the first spline. */
static size_t basis_at(const curve *c, double flow, double weight[4])
{
    double t = (flow - c->from) / c->stretch, last = (double)(c->splines - 4);
    double i = fmin(fmax(floor(t), 0), last);
    basis(c, (size_t)i, t - i, weight);
    return (size_t)i;
}

/* Third derivative of each on a stretch, by differences over thirds of it: exact for a cubic. */
static void third_derivative(const curve *c, size_t stretch, double weight[4])
{
    static const double difference[4] = {-27, 81, -81, 27};
    for (int k = 0; k < 4; ++k)
        weight[k] = 0;
    for (int i = 0; i < 4; ++i) {
        double value[4];
        basis(c, stretch, i / 3.0, value);
        for (int k = 0; k < 4; ++k)
            weight[k] += difference[i] * value[k];
    }
}

/* A falling curve has falling coefficients: the first one and how much each further one is less. */
static double coefficient(const curve *c, const double *x, size_t k)
{
    double value = c->falling ? x[0] : x[k];
    for (size_t j = 1; c->falling && j <= k; ++j)
        value -= x[j];
    return value;
}

/* Adds weight times coefficient k to a row of derivatives. */
static void add(const curve *c, double *row, size_t k, double weight)
{
    if (!c->falling) {
        row[k] += weight;
        return;
    }
    row[0] += weight;
    for (size_t j = 1; j <= k; ++j)
        row[j] -= weight;
}

static double pressure_at(const curve *c, const double *x, double flow)
{
    double weight[4], sum = 0;
    size_t first = basis_at(c, flow, weight);
    for (size_t k = 0; k < 4; ++k)
        sum += weight[k] * coefficient(c, x, first + k);
    return sum;
}

/* Readings, then the penalty on third derivatives: what is smooth is a parabola. */
static bool residuals(void *context, const double *x, double *residual, double *jacobian)
{
    const curve *c = context;
    size_t m = c->n + c->splines - 3;
    if (jacobian)
        memset(jacobian, 0, m * c->splines * sizeof *jacobian);
    for (size_t i = 0; i < m; ++i) {
        bool is_reading = i < c->n;
        double weight[4], scale = is_reading ? 1 / c->pressure[i].uncertainty : c->smoothness;
        size_t first = is_reading ? basis_at(c, c->flow[i], weight) : i - c->n;
        if (!is_reading)
            third_derivative(c, first, weight);
        residual[i] = is_reading ? -c->pressure[i].value * scale : 0;
        for (size_t k = 0; k < 4; ++k) {
            residual[i] += scale * weight[k] * coefficient(c, x, first + k);
            if (jacobian)
                add(c, jacobian + i * c->splines, first + k, scale * weight[k]);
        }
    }
    return true;
}

/* ---- checks --------------------------------------------------------------------------------- */

static int by_value(const void *a, const void *b)
{
    double left = *(const double *)a, right = *(const double *)b;
    return (left > right) - (left < right);
}

static bool check(const curve *c, vent_error *err)
{
    if (!vent__check_range(err, "vent_fan_fit", "n", "", (double)c->n, 3, MOST_READINGS))
        return false;
    for (size_t i = 0; i < c->n; ++i) {
        vent_reading p = c->pressure[i];
        if (!(c->flow[i] >= 0 && c->flow[i] <= 1e6))
            return vent__fail(err, VENT_E_ARGUMENT, "vent_fan_fit", "flow", (int64_t)i, c->flow[i],
                              0, 1e6, "flow of reading %zu is %g m3/s, must be 0 to 1e6", i,
                              c->flow[i]);
        if (!(fabs(p.value) <= 1e9) || !(p.uncertainty > 0) || !isfinite(p.uncertainty))
            return vent__fail(err, VENT_E_ARGUMENT, "vent_fan_fit", "pressure", (int64_t)i,
                              p.uncertainty, 0, INFINITY,
                              "pressure of reading %zu: value %g must be -1e9 to 1e9, its standard "
                              "uncertainty %g above 0 and finite",
                              i, p.value, p.uncertainty);
    }
    return true;
}

/* Distinct flows, sorted into `sorted`. */
static size_t distinct(const curve *c, double *sorted)
{
    memcpy(sorted, c->flow, c->n * sizeof *sorted);
    qsort(sorted, c->n, sizeof *sorted, by_value);
    size_t kept = 1;
    for (size_t i = 1; i < c->n; ++i)
        if (sorted[i] > sorted[kept - 1])
            sorted[kept++] = sorted[i];
    return kept;
}

/* ---- the fit -------------------------------------------------------------------------------- */

/* True where chance gives as great a chi-square in one case of twenty. */
static bool is_tenable(const curve *c, const double *residual)
{
    double sum = 0;
    for (size_t i = 0; i < c->n; ++i)
        sum += residual[i] * residual[i];
    return vent__chi_square_tail(sum, (double)c->n) >= 0.05;
}

/* The smoothest curve that the readings do not refute; where they refute all, the one that comes
 * nearest to them. */
static int smooth(curve *c, double *x, double *memory)
{
    size_t m = c->n + c->splines - 3;
    double low[MOST_SPLINES], sigma = INFINITY;
    for (size_t k = 0; k < c->splines; ++k)
        low[k] = k == 0 ? -INFINITY : 0;
    for (size_t i = 0; i < c->n; ++i)
        sigma = fmin(sigma, c->pressure[i].uncertainty);
    int status = VENT__FIT_DONE;
    for (double weight = 1e3; status == VENT__FIT_DONE && weight > 1e-5; weight /= 2) {
        c->smoothness = weight / sigma;
        vent__least_squares s = {.m = m,
                                 .n = c->splines,
                                 .residuals = residuals,
                                 .context = c,
                                 .low = c->falling ? low : NULL,
                                 .x = x,
                                 .residual = memory,
                                 .jacobian = memory + m};
        status = vent__least_squares_solve(&s);
        if (status == VENT__FIT_DONE && is_tenable(c, s.residual))
            break;
    }
    return status;
}

static vent_fan *fan_of(const curve *c, const double *x, const char *name, double density,
                        vent_error *err)
{
    enum { MOST_POINTS = (MOST_SPLINES - 3) * POINTS_A_STRETCH + 1 };
    double flow[MOST_POINTS], pressure[MOST_POINTS];
    size_t points = (c->splines - 3) * POINTS_A_STRETCH + 1;
    for (size_t i = 0; i < points; ++i) {
        flow[i] = c->from + c->stretch * (double)i / POINTS_A_STRETCH;
        pressure[i] = pressure_at(c, x, flow[i]);
    }
    if (c->falling && !(pressure[0] > pressure[points - 1])) {
        vent__fail(err, VENT_E_ARGUMENT, "vent_fan_fit", "pressure", -1, pressure[0], NAN, NAN,
                   "pressure does not fall with flow in these readings: are they exchanged?");
        return NULL;
    }
    return vent_fan_new_at(name, points, flow, pressure, NULL, density, err);
}

vent_fan *vent_fan_fit(const char *name, size_t n, const double *flow, const vent_reading *pressure,
                       bool falling, double density, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(flow) || !VENT__POINTER(pressure) ||
        !VENT__RANGE(density, "kg/m3", 0.1, 10))
        return NULL;
    curve c = {.n = n, .flow = flow, .pressure = pressure, .falling = falling};
    if (!check(&c, err))
        return NULL;
    double x[MOST_SPLINES] = {0},
           *memory = malloc((n + MOST_SPLINES) * (MOST_SPLINES + 1) * sizeof *memory);
    size_t flows = memory ? distinct(&c, memory) : 0;
    vent_fan *fan = NULL;
    if (memory && flows < 3) {
        VENT__FAIL(VENT_E_ARGUMENT, "flow", -1, "%zu distinct flows draw no curve: take 3 or more",
                   flows);
    } else if (memory) {
        c.splines = flows + 2 < LEAST_SPLINES  ? LEAST_SPLINES
                    : flows + 2 > MOST_SPLINES ? MOST_SPLINES
                                               : flows + 2;
        c.from = memory[0];
        c.stretch = (memory[flows - 1] - memory[0]) / (double)(c.splines - 3);
        int status = smooth(&c, x, memory);
        if (status == VENT__FIT_MEMORY)
            VENT__FAIL(VENT_E_MEMORY, "n", -1, "no memory for %zu readings", n);
        else if (status != VENT__FIT_DONE)
            VENT__FAIL(VENT_E_NOT_CONVERGED, "pressure", -1, "no curve fits these readings");
        else
            fan = fan_of(&c, x, name, density, err);
    } else {
        VENT__FAIL(VENT_E_MEMORY, "n", -1, "no memory for %zu readings", n);
    }
    free(memory);
    return fan;
}
