/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fans in series and in parallel. */
#include <ventstack/fan.h>

#include <stdlib.h>
#include <ventstack/units.h>

#include "base/fail.h"
#include "base/memory.h"
#include "physics/fan_parts.h"

enum { FANS_GREATEST = 1000 };

/* The curves of several fans, brought to standard air by the fan laws. */
typedef struct bank {
    size_t n;
    vent__curve **pressure, **power;  /* n each; a power is NULL for a fan without */
    bool has_power;                   /* all have */
    double least_flow, greatest_flow; /* what the data of all share */
} bank;

static bool check_fans(vent_error *err, const char *function, size_t n, const vent_fan *const *fans)
{
    if (!(n >= 1 && n <= FANS_GREATEST))
        return vent__fail(err, VENT_E_ARGUMENT, function, "n", -1, (double)n, 1, FANS_GREATEST,
                          "%s: n is %zu; between 1 and %d fans can be put together", function, n,
                          FANS_GREATEST);
    if (!vent__check_pointer(err, function, "fans", fans))
        return false;
    for (size_t i = 0; i < n; ++i)
        if (!fans[i])
            return vent__fail(err, VENT_E_ARGUMENT, function, "fans", (int64_t)i, NAN, NAN, NAN,
                              "%s: fans[%zu] is missing (null)", function, i);
    return true;
}

static void bank_free(bank *b)
{
    for (size_t i = 0; b->pressure && i < 2 * b->n; ++i)
        vent__curve_free(b->pressure[i]);
    free(b->pressure);
}

static bool bank_add(bank *b, size_t i, const vent_fan *fan)
{
    double to_standard = VENT_STANDARD_DENSITY / fan->density;
    b->pressure[i] = vent__curve_scaled(fan->pressure, 1, to_standard);
    b->power[i] = fan->power ? vent__curve_scaled(fan->power, 1, to_standard) : NULL;
    b->has_power = b->has_power && fan->power;
    b->least_flow = fmax(b->least_flow, fan->least_flow);
    b->greatest_flow = fmin(b->greatest_flow, fan->greatest_flow);
    return b->pressure[i] && (b->power[i] || !fan->power);
}

/* False for want of memory; bank_free() is due either way. */
static bool bank_fill(bank *b, size_t n, const vent_fan *const *fans)
{
    *b = (bank){.n = n, .has_power = true, .least_flow = -INFINITY, .greatest_flow = INFINITY};
    if (!vent__resize(&b->pressure, 2 * n, sizeof *b->pressure))
        return false;
    for (size_t i = 0; i < 2 * n; ++i)
        b->pressure[i] = NULL;
    b->power = b->pressure + n;
    for (size_t i = 0; i < n; ++i)
        if (!bank_add(b, i, fans[i]))
            return false;
    return true;
}

/* Fails where the data of all fans have no stretch of what (flow or pressure) in common. */
static bool check_shared(vent_error *err, const char *function, const char *what, const char *unit,
                         double low, double high)
{
    if (low < high)
        return true;
    return vent__fail(
        err, VENT_E_ARGUMENT, function, "fans", -1, low, NAN, high,
        "%s: fans share no %s: the data of one reach down to %.6g %s, those of another up to %.6g",
        function, what, low, unit, high);
}

/* ---- in series ----------------------------------------------------------------------------- */

static vent__fan_shape in_series(const bank *b)
{
    return (vent__fan_shape){
        .pressure = vent__curve_sum(b->n, b->pressure),
        .power = b->has_power ? vent__curve_sum(b->n, b->power) : NULL,
        .has_power = b->has_power,
        .density = VENT_STANDARD_DENSITY,
        .least_flow = b->least_flow,
        .greatest_flow = b->greatest_flow,
    };
}

vent_fan *vent_fan_series(const char *name, size_t n, const vent_fan *const *fans, vent_error *err)
{
    if (vent__failed(err) || !check_fans(err, __func__, n, fans))
        return NULL;
    bank b;
    vent_fan *fan = NULL;
    if (!bank_fill(&b, n, fans))
        vent__fan_out_of_memory(err, __func__);
    else if (check_shared(err, __func__, "flow", "m3/s", b.least_flow, b.greatest_flow))
        fan = vent__fan_assemble(err, __func__, name, in_series(&b));
    bank_free(&b);
    return fan;
}

/* ---- in parallel --------------------------------------------------------------------------- */

/* All fans of a bank at one pressure: a point of the pressure and of the power curve against the
 * sum of their flows. */
typedef struct joint {
    vent__knot pressure, power;
} joint;

static joint at_pressure(const bank *b, double pressure)
{
    double flow = 0, flow_slope = 0, power = 0, power_slope = 0; /* slopes against pressure */
    for (size_t i = 0; i < b->n; ++i) {
        double slope, of_power;
        double share = vent__curve_inverse(b->pressure[i], pressure, &slope);
        flow += share;
        flow_slope += 1 / slope;
        if (b->has_power) {
            power += vent__curve_at(b->power[i], share, &of_power);
            power_slope += of_power / slope;
        }
    }
    return (joint){.pressure = {flow, pressure, 1 / flow_slope},
                   .power = {flow, power, power_slope / flow_slope}};
}

/* The sum of unequal fans, drawn through as many points as it takes. Points lie at the pressures of
 * all knots, so that the sum is smooth in between, at some more pressures, and wherever the cubic
 * between two neighbours would be off. The aim leaves two powers of ten to what is promised, for the
 * error away from the middle, where it is measured. */
enum { STRETCHES = 4, HALVINGS = 40 };
static const double AIM = 1e-8;     /* of the greatest pressure, of the greatest power */
static const double CLOSEST = 1e-9; /* of the range of flow: closer chords would be rounding */

typedef struct drawing {
    const bank *bank;
    double pressure_aim, power_aim; /* Pa, W */
    double closest;                 /* m3/s */
    vent__knot *pressure, *power;
    int count, pressure_room, power_room;
} drawing;

static bool draw(drawing *d, const joint *at)
{
    if (!vent__reserve(&d->pressure, &d->pressure_room, d->count, sizeof *d->pressure) ||
        !vent__reserve(&d->power, &d->power_room, d->count, sizeof *d->power))
        return false;
    d->pressure[d->count] = at->pressure;
    d->power[d->count++] = at->power;
    return true;
}

static bool is_close(const vent__knot *a, const vent__knot *b, const vent__knot *truth, double aim)
{
    return fabs(vent__curve_between(a, b, truth->x) - truth->y) <= aim;
}

/* A point about half-way in flow between two others. */
static joint half_way(const bank *b, const joint *from, const joint *to)
{
    double high = from->pressure.y, low = to->pressure.y;
    double middle = vent__curve_between(&from->pressure, &to->pressure,
                                        0.5 * (from->pressure.x + to->pressure.x));
    return at_pressure(b, middle < high && middle > low ? middle : 0.5 * (high + low));
}

/* Draws what is needed between two points, and the second of them. */
static bool draw_to(drawing *d, const joint *from, const joint *to, int halvings)
{
    double gap = to->pressure.x - from->pressure.x;
    if (gap < d->closest)
        return true;
    joint middle = half_way(d->bank, from, to);
    if (halvings == 0 || gap < 2 * d->closest ||
        (is_close(&from->pressure, &to->pressure, &middle.pressure, d->pressure_aim) &&
         is_close(&from->power, &to->power, &middle.power, d->power_aim)))
        return draw(d, to);
    return draw_to(d, from, &middle, halvings - 1) && draw_to(d, &middle, to, halvings - 1);
}

static size_t cut_count(const bank *b)
{
    size_t count = 0;
    for (size_t i = 0; i < b->n; ++i)
        count += STRETCHES * (b->pressure[i]->n - 1) + 1;
    return count;
}

/* The pressures that cut each piece of a curve into equal stretches of flow. */
static double *cut_curve(const vent__curve *curve, double *to)
{
    double slope;
    for (size_t k = 0; k + 1 < curve->n; ++k)
        for (int j = 0; j < STRETCHES; ++j)
            *to++ = vent__curve_at(
                curve, curve->x[k] + (curve->x[k + 1] - curve->x[k]) * j / STRETCHES, &slope);
    *to++ = vent__curve_knot(curve, curve->n - 1, &slope);
    return to;
}

static double greatest_power(const bank *b)
{
    double sum = 0, slope;
    for (size_t i = 0; b->has_power && i < b->n; ++i) {
        double greatest = 0;
        for (size_t k = 0; k < b->power[i]->n; ++k)
            greatest = fmax(greatest, vent__curve_knot(b->power[i], k, &slope));
        sum += greatest;
    }
    return sum;
}

/* Draws the sum through the pressures cut[0] < ... < cut[cuts - 1], downwards: flow rises. */
static bool draw_all(drawing *d, const double *cut, size_t cuts)
{
    joint from = at_pressure(d->bank, cut[cuts - 1]), end = at_pressure(d->bank, cut[0]);
    d->pressure_aim = AIM * cut[cuts - 1];
    d->power_aim = AIM * greatest_power(d->bank);
    d->closest = CLOSEST * (end.pressure.x - from.pressure.x);
    bool done = draw(d, &from);
    for (size_t i = cuts - 1; done && i-- > 0;) {
        int drawn = d->count;
        joint to = at_pressure(d->bank, cut[i]);
        done = draw_to(d, &from, &to, HALVINGS);
        if (d->count > drawn)
            from = to;
    }
    return done;
}

static vent__fan_shape sum_of_flows(const bank *b)
{
    vent__fan_shape s = {.has_power = b->has_power};
    drawing d = {.bank = b};
    size_t cuts = cut_count(b);
    double *cut = NULL;
    if (vent__resize(&cut, cuts, sizeof *cut)) {
        double *end = cut;
        for (size_t i = 0; i < b->n; ++i)
            end = cut_curve(b->pressure[i], end);
        if (draw_all(&d, cut, vent__sort_distinct(cut, cuts))) {
            s.pressure = vent__curve_hermite((size_t)d.count, d.pressure);
            s.power = b->has_power ? vent__curve_hermite((size_t)d.count, d.power) : NULL;
        }
    }
    free(cut);
    free(d.pressure);
    free(d.power);
    return s;
}

static bool are_equal(const bank *b)
{
    for (size_t i = 1; i < b->n; ++i)
        if (!vent__curve_is_same(b->pressure[0], b->pressure[i]) ||
            (b->has_power && !vent__curve_is_same(b->power[0], b->power[i])))
            return false;
    return true;
}

/* n equal fans carry an n-th of the flow each. */
static vent__fan_shape sum_of_equals(const bank *b)
{
    double n = (double)b->n;
    return (vent__fan_shape){
        .pressure = vent__curve_scaled(b->pressure[0], n, 1),
        .power = b->has_power ? vent__curve_scaled(b->power[0], n, n) : NULL,
        .has_power = b->has_power,
    };
}

static vent__fan_shape in_parallel(const bank *b, double least_pressure, double greatest_pressure)
{
    vent__fan_shape s = are_equal(b) ? sum_of_equals(b) : sum_of_flows(b);
    s.density = VENT_STANDARD_DENSITY;
    s.least_flow = at_pressure(b, greatest_pressure).pressure.x;
    s.greatest_flow = at_pressure(b, least_pressure).pressure.x;
    return s;
}

static bool check_falling(vent_error *err, const char *function, size_t n,
                          const vent_fan *const *fans)
{
    for (size_t i = 0; i < n; ++i)
        if (!fans[i]->falling)
            return vent__fail(
                err, VENT_E_ARGUMENT, function, "fans", (int64_t)i, NAN, NAN, NAN,
                "%s: the pressure of fans[%zu], \"%.40s\", does not fall everywhere "
                "with flow, so that one pressure has several flows; put each fan in a "
                "run of its own instead",
                function, i, fans[i]->name);
    return true;
}

/* The pressures that the data of all fans of a bank share. */
static void shared_pressures(const bank *b, double *least, double *greatest)
{
    double slope;
    *least = -INFINITY;
    *greatest = INFINITY;
    for (size_t i = 0; i < b->n; ++i) {
        const vent__curve *curve = b->pressure[i];
        *least = fmax(*least, vent__curve_knot(curve, curve->n - 1, &slope));
        *greatest = fmin(*greatest, vent__curve_knot(curve, 0, &slope));
    }
}

vent_fan *vent_fan_parallel(const char *name, size_t n, const vent_fan *const *fans,
                            vent_error *err)
{
    if (vent__failed(err) || !check_fans(err, __func__, n, fans) ||
        !check_falling(err, __func__, n, fans))
        return NULL;
    bank b;
    vent_fan *fan = NULL;
    if (bank_fill(&b, n, fans)) {
        double least, greatest;
        shared_pressures(&b, &least, &greatest);
        if (check_shared(err, __func__, "pressure", "Pa", least, greatest))
            fan = vent__fan_assemble(err, __func__, name, in_parallel(&b, least, greatest));
    } else {
        vent__fan_out_of_memory(err, __func__);
    }
    bank_free(&b);
    return fan;
}
