/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <ventstack/fan.h>

#include <stdlib.h>
#include <string.h>
#include <ventstack/units.h>

#include "base/fail.h"
#include "base/memory.h"
#include "physics/fan_parts.h"
#include "physics/laws.h"

enum { POINTS_LEAST = 2, POINTS_GREATEST = 100000 };

static const double FLOW_GREATEST = 1e6;                        /* m3/s */
static const double PRESSURE_GREATEST = 1e9;                    /* Pa, either sign */
static const double POWER_GREATEST = 1e9;                       /* W */
static const double DENSITY_LEAST = 0.1, DENSITY_GREATEST = 10; /* kg/m3 */

/* ---- making one ---------------------------------------------------------------------------- */

vent_fan *vent__fan_out_of_memory(vent_error *err, const char *function)
{
    vent__fail(err, VENT_E_MEMORY, function, "", -1, NAN, NAN, NAN, "%s: out of memory", function);
    return NULL;
}

void vent_fan_free(vent_fan *fan)
{
    if (!fan)
        return;
    free(fan->name);
    vent__curve_free(fan->pressure);
    vent__curve_free(fan->power);
    free(fan);
}

vent_fan *vent__fan_assemble(vent_error *err, const char *function, const char *name,
                             vent__fan_shape s)
{
    const char *called = name ? name : "fan";
    vent_fan *fan = NULL;
    if (!vent__resize(&fan, 1, sizeof *fan)) {
        vent__curve_free(s.pressure);
        vent__curve_free(s.power);
        return vent__fan_out_of_memory(err, function);
    }
    *fan = (vent_fan){
        .name = vent__duplicate(called, strlen(called) + 1, 1),
        .pressure = s.pressure,
        .power = s.power,
        .density = s.density,
        .least_flow = s.least_flow,
        .greatest_flow = s.greatest_flow,
    };
    if (!fan->name || !s.pressure || (s.has_power && !s.power)) {
        vent_fan_free(fan);
        return vent__fan_out_of_memory(err, function);
    }
    fan->free_delivery = vent__curve_descent(fan->pressure);
    fan->falling = vent__curve_is_falling(fan->pressure);
    return fan;
}

vent_fan *vent_fan_copy(const vent_fan *fan, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(fan))
        return NULL;
    vent__fan_shape s = {
        .pressure = vent__curve_copy(fan->pressure),
        .power = fan->power ? vent__curve_copy(fan->power) : NULL,
        .has_power = fan->power,
        .density = fan->density,
        .least_flow = fan->least_flow,
        .greatest_flow = fan->greatest_flow,
    };
    return vent__fan_assemble(err, __func__, fan->name, s);
}

/* ---- from points --------------------------------------------------------------------------- */

typedef struct points {
    size_t n;
    const double *flow, *pressure, *power;
} points;

static bool check_value(vent_error *err, const char *function, const char *what, const char *unit,
                        size_t i, double value, double low, double high)
{
    if (value >= low && value <= high)
        return true;
    return vent__fail(err, VENT_E_ARGUMENT, function, what, (int64_t)i, value, low, high,
                      "%s: %s[%zu] is %.10g %s; it must lie between %.6g and %.6g", function, what,
                      i, value, unit, low, high);
}

static bool check_values(vent_error *err, const char *function, const char *what, const char *unit,
                         const double *values, size_t n, double low, double high)
{
    for (size_t i = 0; i < n; ++i)
        if (!check_value(err, function, what, unit, i, values[i], low, high))
            return false;
    return true;
}

static bool check_order(vent_error *err, const char *function, const points *p)
{
    for (size_t i = 1; i < p->n; ++i)
        if (!(p->flow[i] > p->flow[i - 1]))
            return vent__fail(err, VENT_E_ARGUMENT, function, "flow", (int64_t)i, p->flow[i],
                              p->flow[i - 1], FLOW_GREATEST,
                              "%s: flow[%zu] is %.10g m3/s, not above flow[%zu], which is %.10g; "
                              "sort the points by flow and give each flow once",
                              function, i, p->flow[i], i - 1, p->flow[i - 1]);
    return true;
}

static bool check_count(vent_error *err, const char *function, size_t n)
{
    if (n >= POINTS_LEAST && n <= POINTS_GREATEST)
        return true;
    return vent__fail(err, VENT_E_ARGUMENT, function, "n", -1, (double)n, POINTS_LEAST,
                      POINTS_GREATEST,
                      "%s: n is %zu; a fan curve takes %d to %d points of flow and pressure",
                      function, n, POINTS_LEAST, POINTS_GREATEST);
}

static bool check_shut_off(vent_error *err, const char *function, const points *p)
{
    if (p->pressure[0] > 0)
        return true;
    return vent__fail(err, VENT_E_ARGUMENT, function, "pressure", 0, p->pressure[0], 0,
                      PRESSURE_GREATEST,
                      "%s: pressure[0] is %.10g Pa at the least flow; it must be above 0, and at "
                      "most %g: what makes no pressure is no fan",
                      function, p->pressure[0], PRESSURE_GREATEST);
}

static bool check_points(vent_error *err, const char *function, const points *p)
{
    return vent__check_pointer(err, function, "flow", p->flow) &&
           vent__check_pointer(err, function, "pressure", p->pressure) &&
           check_count(err, function, p->n) &&
           check_values(err, function, "flow", "m3/s", p->flow, p->n, 0, FLOW_GREATEST) &&
           check_order(err, function, p) &&
           check_values(err, function, "pressure", "Pa", p->pressure, p->n, -PRESSURE_GREATEST,
                        PRESSURE_GREATEST) &&
           check_shut_off(err, function, p) &&
           (!p->power ||
            check_values(err, function, "power", "W", p->power, p->n, 0, POWER_GREATEST));
}

static bool check_curve(vent_error *err, const char *function, const vent__curve *curve)
{
    if (!curve || vent__curve_is_finite(curve))
        return true;
    return vent__fail(err, VENT_E_ARGUMENT, function, "flow", -1, NAN, NAN, NAN,
                      "%s: flow holds points too close together for a curve through them to have "
                      "finite slopes; leave one of each close pair out",
                      function);
}

static vent_fan *from_points(vent_error *err, const char *function, const char *name,
                             const points *p, double density)
{
    if (!check_points(err, function, p))
        return NULL;
    vent__fan_shape s = {
        .pressure = vent__curve_steffen(p->n, p->flow, p->pressure),
        .power = p->power ? vent__curve_steffen(p->n, p->flow, p->power) : NULL,
        .has_power = p->power,
        .density = density,
        .least_flow = p->flow[0],
        .greatest_flow = p->flow[p->n - 1],
    };
    if (check_curve(err, function, s.pressure) && check_curve(err, function, s.power))
        return vent__fan_assemble(err, function, name, s);
    vent__curve_free(s.pressure);
    vent__curve_free(s.power);
    return NULL;
}

vent_fan *vent_fan_new(const char *name, size_t n, const double *flow, const double *pressure,
                       vent_error *err)
{
    const points p = {.n = n, .flow = flow, .pressure = pressure};
    return vent__failed(err) ? NULL : from_points(err, __func__, name, &p, VENT_STANDARD_DENSITY);
}

vent_fan *vent_fan_new_at(const char *name, size_t n, const double *flow, const double *pressure,
                          const double *power, double density, vent_error *err)
{
    if (vent__failed(err) || !VENT__RANGE(density, "kg/m3", DENSITY_LEAST, DENSITY_GREATEST))
        return NULL;
    const points p = {.n = n, .flow = flow, .pressure = pressure, .power = power};
    return from_points(err, __func__, name, &p, density);
}

/* ---- the fan laws -------------------------------------------------------------------------- */

vent__slope vent__fan_law(const vent_fan *fan, double flow, double density, double speed)
{
    double slope, value = vent__curve_at(fan->pressure, flow / speed, &slope);
    double ratio = density / fan->density;
    return (vent__slope){ratio * speed * speed * value, ratio * speed * slope};
}

const vent__curve *vent__fan_curve(const vent_fan *fan)
{
    return fan->pressure;
}

static bool is_in_domain(const vent_fan *fan, double flow, double density, double speed)
{
    return fan && isfinite(flow) && density > 0 && isfinite(density) && speed > 0 &&
           isfinite(speed);
}

double vent_fan_pressure(const vent_fan *fan, double flow, double density, double speed)
{
    return is_in_domain(fan, flow, density, speed) ? vent__fan_law(fan, flow, density, speed).value
                                                   : NAN;
}

double vent_fan_slope(const vent_fan *fan, double flow, double density, double speed)
{
    return is_in_domain(fan, flow, density, speed) ? vent__fan_law(fan, flow, density, speed).slope
                                                   : NAN;
}

double vent_fan_power(const vent_fan *fan, double flow, double density, double speed)
{
    if (!is_in_domain(fan, flow, density, speed) || !fan->power)
        return NAN;
    double slope, power = vent__curve_at(fan->power, flow / speed, &slope);
    return density / fan->density * speed * speed * speed * power;
}

/* ---- reading one --------------------------------------------------------------------------- */

const char *vent_fan_name(const vent_fan *fan)
{
    return fan ? fan->name : NULL;
}

double vent_fan_shut_off(const vent_fan *fan)
{
    double slope;
    return fan ? vent__curve_at(fan->pressure, 0, &slope) : NAN;
}

double vent_fan_free_delivery(const vent_fan *fan)
{
    return fan ? fan->free_delivery : NAN;
}

double vent_fan_density(const vent_fan *fan)
{
    return fan ? fan->density : NAN;
}

bool vent_fan_is_falling(const vent_fan *fan)
{
    return fan && fan->falling;
}

bool vent_fan_range(const vent_fan *fan, double *least_flow, double *greatest_flow)
{
    if (fan && least_flow)
        *least_flow = fan->least_flow;
    if (fan && greatest_flow)
        *greatest_flow = fan->greatest_flow;
    return fan;
}

size_t vent_fan_points(const vent_fan *fan, size_t size, double *flow, double *pressure,
                       double *power)
{
    if (!fan)
        return 0;
    double slope;
    for (size_t i = 0; i < size && i < fan->pressure->n; ++i) {
        if (flow)
            flow[i] = fan->pressure->x[i];
        if (pressure)
            pressure[i] = vent__curve_knot(fan->pressure, i, &slope);
        if (power)
            power[i] = fan->power ? vent__curve_knot(fan->power, i, &slope) : NAN;
    }
    return fan->pressure->n;
}
