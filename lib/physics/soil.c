/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <ventstack/soil.h>

#include "base/fail.h"
#include "physics/laws.h"

_Static_assert(sizeof(vent_soil) == 24, "vent_soil is frozen");

enum { BLOCK = 256 };                                  /* soils whose power is taken at once */
static const double C_LEAST = 1e-15, C_GREATEST = 1e3; /* m3/s/Pa^n */
static const double N_LEAST = 0.4, N_GREATEST = 1.1;
static const double A_GREATEST = 1e15; /* Pa s/m3 */
static const double B_GREATEST = 1e18; /* Pa s2/m6 */
static const double CREEP = 1e-3;      /* Pa; below it an exponent above 1 is replaced */

static const vent_soil none = {.a = NAN, .b = NAN};

vent_soil vent_soil_power(double c, double n, vent_error *err)
{
    if (vent__failed(err) || !VENT__RANGE(c, "m3/s/Pa^n", C_LEAST, C_GREATEST) ||
        !VENT__RANGE(n, "", N_LEAST, N_GREATEST))
        return none;
    return (vent_soil){.law = VENT_SOIL_POWER, .a = c, .b = n};
}

vent_soil vent_soil_two_term(double a, double b, vent_error *err)
{
    if (vent__failed(err) || !VENT__RANGE(a, "Pa s/m3", 0, A_GREATEST) ||
        !VENT__RANGE(b, "Pa s2/m6", 0, B_GREATEST))
        return none;
    if (a == 0 && b == 0) {
        vent__fail(err, VENT_E_ARGUMENT, __func__, "b", -1, b, 0, B_GREATEST,
                   "%s: a and b are both 0; a soil without resistance has no pressure", __func__);
        return none;
    }
    return (vent_soil){.law = VENT_SOIL_TWO_TERM, .a = a, .b = b};
}

bool vent__soil_parameter(const vent_soil *soil, int slot, vent_parameter_range *range)
{
    const vent_parameter_range power[] = {
        {"c", "m3/s/Pa^n", C_LEAST, C_GREATEST, C_LEAST, C_GREATEST},
        {"n", "", N_LEAST, N_GREATEST, N_LEAST, N_GREATEST},
    };
    const vent_parameter_range two_term[] = {
        {"a", "Pa s/m3", 0, A_GREATEST, 0, A_GREATEST},
        {"b", "Pa s2/m6", 0, B_GREATEST, 0, B_GREATEST},
    };
    if (slot < 0 || slot > 1 || (soil->law != VENT_SOIL_POWER && soil->law != VENT_SOIL_TWO_TERM))
        return false;
    *range = soil->law == VENT_SOIL_POWER ? power[slot] : two_term[slot];
    return true;
}

static bool within(double value, double low, double high)
{
    return value >= low && value <= high;
}

static bool is_sound(vent_soil soil)
{
    if (soil.law == VENT_SOIL_POWER)
        return within(soil.a, C_LEAST, C_GREATEST) && within(soil.b, N_LEAST, N_GREATEST);
    return soil.law == VENT_SOIL_TWO_TERM && within(soil.a, 0, A_GREATEST) &&
           within(soil.b, 0, B_GREATEST) && soil.a + soil.b > 0;
}

/* P = CREEP u (1 + k - k u^2) with u = Q / (C CREEP^n) and k = (1 - 1/n) / 2 has the value and the
 * slope of the power law at u = 1, and a finite slope at rest. */
static double creep_bend(double n)
{
    return 0.5 * (1 - 1 / n);
}

static vent__slope creep(double u, double flow_there, double n)
{
    double k = creep_bend(n);
    return (vent__slope){CREEP * u * (1 + k - k * u * u),
                         CREEP / flow_there * (1 + k - 3 * k * u * u)};
}

/* The cubic solved for u, by the sine of a third of an angle. */
static double creep_inverse(double pressure, double n)
{
    double k = creep_bend(n), twice = 2 * sqrt((1 + k) / (3 * k));
    return twice * sin(asin(3 * pressure / (CREEP * (1 + k) * twice)) / 3);
}

static vent__slope power_law(double c, double n, double flow)
{
    if (n > 1) {
        double flow_there = c * pow(CREEP, n);
        if (fabs(flow) < flow_there)
            return creep(flow / flow_there, flow_there, n);
    }
    double x = flow / c, rest = pow(fabs(x), 1 / n - 1);
    return (vent__slope){x * rest, rest / (n * c)};
}

static double power_law_inverse(double c, double n, double pressure)
{
    if (n > 1 && fabs(pressure) < CREEP)
        return c * pow(CREEP, n) * creep_inverse(pressure, n);
    return copysign(c * pow(fabs(pressure), n), pressure);
}

static vent__slope two_term(double a, double b, double flow)
{
    return (vent__slope){flow * (a + b * fabs(flow)), a + 2 * b * fabs(flow)};
}

/* The root of the quadratic in the form that never subtracts, nor underflows in squares. */
static double two_term_inverse(double a, double b, double pressure)
{
    return pressure == 0 ? 0 : 2 * pressure / (a + hypot(a, 2 * sqrt(b) * sqrt(fabs(pressure))));
}

vent__slope vent__soil_law(const vent_soil *soil, double flow)
{
    return soil->law == VENT_SOIL_POWER ? power_law(soil->a, soil->b, flow)
                                        : two_term(soil->a, soil->b, flow);
}

/* The power law knows Q / C alone, and P = n Q dP/dQ. */
static double power_law_by_exponent(double c, double n, double flow, double slope)
{
    double x = fabs(flow) / c, u = n > 1 ? flow / (c * pow(CREEP, n)) : INFINITY;
    if (fabs(u) < 1)
        return -flow * slope * log(CREEP) + CREEP * u * (1 - u * u) / (2 * n * n);
    return x > 0 ? -flow * slope * log(x) / n : 0;
}

double vent__soil_by_number(const vent_soil *soil, int slot, double flow, double slope)
{
    if (soil->law == VENT_SOIL_TWO_TERM)
        return slot ? flow * fabs(flow) : flow;
    return slot ? power_law_by_exponent(soil->a, soil->b, flow, slope) : -flow * slope / soil->a;
}

/* The power of the law for many soils at once; an element without one, or one at rest, has its law alone. */
static void block_of_soils(size_t n, const vent_soil *soil, const double *flow, double *value,
                           double *slope)
{
    const double least = 1e-100, most = 1e100; /* of a flow in units of C */
    double x[BLOCK], power[BLOCK];
    bool alone[BLOCK];
    if (n == 0)
        return;
    for (size_t i = 0; i < n; ++i) {
        bool is_power = soil[i].law == VENT_SOIL_POWER;
        x[i] = is_power ? fabs(flow[i]) / soil[i].a : 1;
        power[i] = is_power ? 1 / soil[i].b - 1 : 0;
        alone[i] = !is_power || soil[i].b > 1 || !(x[i] > least && x[i] < most);
        x[i] = alone[i] ? 1 : x[i];
    }
    vent__power_many(n, x, power, power);
    for (size_t i = 0; i < n; ++i) {
        vent__slope law;
        if (alone[i])
            law = vent__soil_law(&soil[i], flow[i]);
        else
            law = (vent__slope){flow[i] / soil[i].a * power[i], power[i] / (soil[i].b * soil[i].a)};
        value[i] = law.value;
        slope[i] = law.slope;
    }
}

void vent__soil_many(size_t n, const vent_soil *soil, const double *flow, double *value,
                     double *slope)
{
    for (size_t i = 0; i < n; i += BLOCK)
        block_of_soils(n - i < BLOCK ? n - i : BLOCK, soil + i, flow + i, value + i, slope + i);
}

double vent_soil_pressure(vent_soil soil, double flow)
{
    return is_sound(soil) && isfinite(flow) ? vent__soil_law(&soil, flow).value : NAN;
}

double vent_soil_flow(vent_soil soil, double pressure)
{
    if (!is_sound(soil) || !isfinite(pressure))
        return NAN;
    return soil.law == VENT_SOIL_POWER ? power_law_inverse(soil.a, soil.b, pressure)
                                       : two_term_inverse(soil.a, soil.b, pressure);
}
