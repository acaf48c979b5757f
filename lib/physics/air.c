/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <ventstack/air.h>

#include "base/fail.h"
#include "physics/laws.h"

#include <stddef.h>
#include <stdio.h>
#include <string.h>

#include <ventstack/units.h>

_Static_assert(sizeof(vent_air) == 48, "vent_air is frozen");

#define CELSIUS_ZERO    273.15
#define TRIPLE_POINT    273.16 /* K, of water: ice below, water above */
#define TRIPLE_PRESSURE 611.657
#define GAS_CONSTANT    8.314472 /* J/(mol K), as in CIPM-2007 */
#define DRY_MASS        28.96546 /* g/mol, at 400 ppm of carbon dioxide */
#define VAPOUR_MASS     18.01528 /* g/mol */

static const double temperature_low = 233.15, temperature_high = 333.15;
static const double pressure_low = 3e4, pressure_high = 1.2e5;
static const double water_high = 373.15; /* of the curve over water */
static const double ice_low = 50;        /* of the curve over ice */
static const double frost_low = 100;     /* of frost points worth telling */

static bool is_within(double value, double low, double high)
{
    return value >= low && value <= high;
}

/* ---- saturation ---- */

/* Picard et al. 2008, A1.1 */
static double saturation_over_water(double temperature)
{
    return exp((1.2378847e-5 * temperature - 1.9121316e-2) * temperature + 33.93711047 -
               6.3431645e3 / temperature);
}

/* IAPWS R14-08, eq. 6 */
static double saturation_over_ice(double temperature)
{
    double theta = temperature / TRIPLE_POINT;
    double sum = -0.212144006e2 * pow(theta, 0.333333333e-2) +
                 0.273203819e2 * pow(theta, 0.120666667e1) -
                 0.610598130e1 * pow(theta, 0.170333333e1);
    return TRIPLE_PRESSURE * exp(sum / theta);
}

static double saturation(double temperature)
{
    return temperature < TRIPLE_POINT ? saturation_over_ice(temperature)
                                      : saturation_over_water(temperature);
}

/* Air makes water evaporate a little further than a vacuum does; Picard et al. 2008, A1.2. */
static double enhancement(double temperature, double pressure)
{
    double celsius = temperature - CELSIUS_ZERO;
    return 1.00062 + 3.14e-8 * pressure + 5.6e-7 * celsius * celsius;
}

static double saturated_fraction(double temperature, double pressure)
{
    return enhancement(temperature, pressure) * saturation(temperature) / pressure;
}

/* ---- density ---- */

/* Picard et al. 2008, A1.3 */
static double compressibility(double temperature, double pressure, double x)
{
    double celsius = temperature - CELSIUS_ZERO, ratio = pressure / temperature;
    double first = 1.58123e-6 + (-2.9331e-8 + 1.1043e-10 * celsius) * celsius +
                   (5.707e-6 - 2.051e-8 * celsius) * x + (1.9898e-4 - 2.376e-6 * celsius) * x * x;
    return 1 - ratio * first + ratio * ratio * (1.83e-11 - 0.765e-8 * x * x);
}

static double density(double temperature, double pressure, double x)
{
    double molar_mass = 1e-3 * (DRY_MASS * (1 - x) + VAPOUR_MASS * x);
    return pressure * molar_mass /
           (compressibility(temperature, pressure, x) * GAS_CONSTANT * temperature);
}

/* ---- viscosity ---- */

/* At low pressure; Lemmon and Jacobsen 2004, eqs 2 and 3. */
static double dry_viscosity(double temperature)
{
    const double well = 103.3, diameter = 0.360, molar_mass = 28.9586;
    double l = log(temperature / well);
    double collision = exp(0.431 + (-0.4623 + (0.08406 + (0.005341 - 0.00331 * l) * l) * l) * l);
    return 0.0266958e-6 * sqrt(molar_mass * temperature) / (diameter * diameter * collision);
}

/* At low pressure; IAPWS R12-08, eq. 11. */
static double vapour_viscosity(double temperature)
{
    double t = 647.096 / temperature;
    return 1e-4 / (sqrt(t) * (1.67752 + (2.20462 + (0.6366564 - 0.241605 * t) * t) * t));
}

/* pressure times the diffusion coefficient of vapour in air [Pa m2/s]; Marrero and Mason 1972 */
static double diffusion(double temperature)
{
    return 101325 * 1.87e-10 * pow(temperature, 2.072);
}

/* Kinetic theory of a mixture to first order (Hirschfelder et al. 1954, eq. 8.2-22). Collisions
 * between unlike molecules act as a gas of its own viscosity, and this follows from the measured
 * coefficient of diffusion (eq. 8.2-44). The rules that do without it, made for molecules that are
 * alike, are wrong here: Wilke's is 4 % below measurements at 50 C and saturation. */
#define INTEGRALS    1.10 /* ratio of collision integrals A*, 1.08 to 1.12 for all molecules */
#define MASS_RATIO   (DRY_MASS / VAPOUR_MASS)
#define REDUCED_MASS (DRY_MASS * VAPOUR_MASS / (DRY_MASS + VAPOUR_MASS))
#define UNLIKE       ((DRY_MASS + VAPOUR_MASS) / (4 * REDUCED_MASS))

/* Viscosities of both gases and of the one of collisions between them. */
typedef struct gases {
    double dry, unlike, vapour;
} gases;

static gases gases_at(double temperature)
{
    return (gases){.dry = dry_viscosity(temperature),
                   .unlike = 5 / (3 * INTEGRALS) * 1e-3 * REDUCED_MASS * diffusion(temperature) /
                             (GAS_CONSTANT * temperature),
                   .vapour = vapour_viscosity(temperature)};
}

/* The sums of the theory, for so many collisions of dry air, of unlike molecules and of vapour. */
typedef struct collisions {
    double first, second, third;
} collisions;

static collisions collide(gases g, double xx, double xy, double yy)
{
    return (collisions){
        .first = xx / g.dry + xy / g.unlike + yy / g.vapour,
        .second = xx / g.dry * MASS_RATIO + xy * UNLIKE * g.unlike / (g.dry * g.vapour) +
                  yy / g.vapour / MASS_RATIO,
        .third = xx * MASS_RATIO + xy * (UNLIKE * (g.unlike / g.dry + g.unlike / g.vapour) - 1) +
                 yy / MASS_RATIO,
    };
}

static collisions collisions_in(gases g, double x)
{
    return collide(g, (1 - x) * (1 - x), 2 * (1 - x) * x, x * x);
}

static double mixture_viscosity(double temperature, double x)
{
    collisions c = collisions_in(gases_at(temperature), x);
    return (1 + 0.6 * INTEGRALS * c.third) / (c.first + 0.6 * INTEGRALS * c.second);
}

/* ---- slopes ---- */

/* d ln saturation / dT */
static double saturation_slope(double temperature)
{
    double theta = temperature / TRIPLE_POINT;
    if (temperature >= TRIPLE_POINT)
        return 2 * 1.2378847e-5 * temperature - 1.9121316e-2 +
               6.3431645e3 / (temperature * temperature);
    double sum = 0.212144006e2 * (1 - 0.333333333e-2) * pow(theta, 0.333333333e-2) +
                 0.273203819e2 * 0.20666667 * pow(theta, 0.120666667e1) -
                 0.610598130e1 * 0.70333333 * pow(theta, 0.170333333e1);
    return sum / (theta * temperature);
}

vent__saturation vent__saturation_at(double temperature, double pressure)
{
    double e = enhancement(temperature, pressure);
    double x = e * saturation(temperature) / pressure;
    double by_temperature = 2 * 5.6e-7 * (temperature - CELSIUS_ZERO) / e;
    return (vent__saturation){
        .fraction = x,
        .by_temperature = x * (by_temperature + saturation_slope(temperature)),
        .by_pressure = x * (3.14e-8 / e - 1 / pressure),
    };
}

static void density_slopes(double temperature, double pressure, double x, vent__air_slopes *by)
{
    double celsius = temperature - CELSIUS_ZERO, ratio = pressure / temperature;
    double first = 1.58123e-6 + (-2.9331e-8 + 1.1043e-10 * celsius) * celsius +
                   (5.707e-6 - 2.051e-8 * celsius) * x + (1.9898e-4 - 2.376e-6 * celsius) * x * x;
    double first_by_t = -2.9331e-8 + 2 * 1.1043e-10 * celsius - 2.051e-8 * x - 2.376e-6 * x * x;
    double first_by_x = 5.707e-6 - 2.051e-8 * celsius + 2 * (1.9898e-4 - 2.376e-6 * celsius) * x;
    double second = 1.83e-11 - 0.765e-8 * x * x;
    double z = compressibility(temperature, pressure, x);
    double by_ratio = -first + 2 * ratio * second;
    double mass = DRY_MASS * (1 - x) + VAPOUR_MASS * x;
    by->temperature.density = -1 / temperature + ratio * (by_ratio / temperature + first_by_t) / z;
    by->pressure.density = 1 / pressure - by_ratio / (temperature * z);
    by->vapour.density =
        (VAPOUR_MASS - DRY_MASS) / mass + ratio * (first_by_x + 2 * 0.765e-8 * ratio * x) / z;
}

/* d ln viscosity / d ln T */
static double dry_viscosity_slope(double temperature)
{
    double l = log(temperature / 103.3);
    return 0.5 - (-0.4623 + (2 * 0.08406 + (3 * 0.005341 - 4 * 0.00331 * l) * l) * l);
}

static double vapour_viscosity_slope(double temperature)
{
    double t = 647.096 / temperature;
    double sum = 1.67752 + (2.20462 + (0.6366564 - 0.241605 * t) * t) * t;
    return 0.5 + t * (2.20462 + (2 * 0.6366564 - 3 * 0.241605 * t) * t) / sum;
}

/* The same of all three, by T; the diffusion's power of it less the division. */
static gases gases_slope(double temperature)
{
    return (gases){.dry = dry_viscosity_slope(temperature) / temperature,
                   .unlike = (2.072 - 1) / temperature,
                   .vapour = vapour_viscosity_slope(temperature) / temperature};
}

/* What a change of the viscosities' logarithms does to the sums. */
static collisions collisions_by(gases g, gases ln, double x)
{
    double xx = (1 - x) * (1 - x), xy = 2 * (1 - x) * x, yy = x * x;
    return (collisions){
        .first = -xx / g.dry * ln.dry - xy / g.unlike * ln.unlike - yy / g.vapour * ln.vapour,
        .second = -xx / g.dry * MASS_RATIO * ln.dry +
                  xy * UNLIKE * g.unlike / (g.dry * g.vapour) * (ln.unlike - ln.dry - ln.vapour) -
                  yy / g.vapour / MASS_RATIO * ln.vapour,
        .third = xy * UNLIKE *
                 (g.unlike / g.dry * (ln.unlike - ln.dry) +
                  g.unlike / g.vapour * (ln.unlike - ln.vapour)),
    };
}

/* Of ln viscosity, from those of the sums. */
static double mixture_slope(collisions c, collisions by)
{
    const double part = 0.6 * INTEGRALS;
    return part * by.third / (1 + part * c.third) -
           (by.first + part * by.second) / (c.first + part * c.second);
}

vent__air_slopes vent__air_slopes_at(double temperature, double pressure, double x)
{
    vent__air_slopes by = {0};
    gases g = gases_at(temperature);
    collisions c = collisions_in(g, x);
    density_slopes(temperature, pressure, x, &by);
    by.temperature.viscosity = mixture_slope(c, collisions_by(g, gases_slope(temperature), x));
    by.vapour.viscosity = mixture_slope(c, collide(g, -2 * (1 - x), 2 - 4 * x, 2 * x));
    return by;
}

/* ---- states ---- */

static vent_air no_air(void)
{
    return (vent_air){NAN, NAN, NAN, NAN, NAN, NAN};
}

static vent_air make_air(double temperature, double pressure, double relative_humidity, double x)
{
    return (vent_air){
        .temperature = temperature,
        .pressure = pressure,
        .relative_humidity = relative_humidity,
        .vapour_fraction = x,
        .density = density(temperature, pressure, x),
        .viscosity = mixture_viscosity(temperature, x),
    };
}

/* A number as it may have been meant: value * scale + offset, in the unit it was thought in. */
typedef struct guess {
    double scale, offset;
    const char *unit;
} guess;

/* Checks a range; where the number would be right in other units, the failure asks so. */
static bool check(vent_error *err, const char *function, const char *argument, const char *unit,
                  double value, double low, double high, const guess *guesses)
{
    if (is_within(value, low, high))
        return true;
    char meant[120] = "";
    for (const guess *g = guesses; g->unit; g++) {
        double in_si = value * g->scale + g->offset;
        size_t used = strlen(meant);
        if (is_within(in_si, low, high))
            snprintf(meant + used, sizeof meant - used, "%s%.10g %s = %.8g%s", used ? " or " : "",
                     value, g->unit, in_si, unit);
    }
    if (!meant[0])
        return vent__check_range(err, function, argument, unit[0] ? unit + 1 : unit, value, low,
                                 high);
    return vent__fail(err, VENT_E_ARGUMENT, function, argument, -1, value, low, high,
                      "%s: %s is %.10g%s; it must lie between %.6g and %.6g: did you mean %s?",
                      function, argument, value, unit, low, high, meant);
}

static bool check_temperature(vent_error *err, const char *function, double value)
{
    static const guess guesses[] = {
        {1, CELSIUS_ZERO, "C"}, {5.0 / 9, 459.67 * 5 / 9, "F"}, {0, 0, NULL}};
    return check(err, function, "temperature", " K", value, temperature_low, temperature_high,
                 guesses);
}

static bool check_pressure(vent_error *err, const char *function, const char *argument,
                           double value)
{
    static const guess guesses[] = {{100, 0, "hPa"}, {1000, 0, "kPa"}, {0, 0, NULL}};
    return check(err, function, argument, " Pa", value, pressure_low, pressure_high, guesses);
}

static bool check_humidity(vent_error *err, const char *function, double value)
{
    static const guess guesses[] = {{0.01, 0, "%"}, {0, 0, NULL}};
    return check(err, function, "relative_humidity", "", value, 0, 1, guesses);
}

vent_air vent_air_moist(double temperature, double pressure, double relative_humidity,
                        vent_error *err)
{
    if (vent__failed(err) || !check_temperature(err, __func__, temperature) ||
        !check_pressure(err, __func__, "pressure", pressure) ||
        !check_humidity(err, __func__, relative_humidity))
        return no_air();
    return make_air(temperature, pressure, relative_humidity,
                    relative_humidity * saturated_fraction(temperature, pressure));
}

vent_air vent_air_at_temperature(vent_air air, double temperature, vent_error *err)
{
    if (vent__failed(err) || !check_temperature(err, __func__, temperature) ||
        !check_pressure(err, __func__, "air.pressure", air.pressure) ||
        !vent__check_range(err, __func__, "air.vapour_fraction", "mol/mol", air.vapour_fraction, 0,
                           1))
        return no_air();
    double most = saturated_fraction(temperature, air.pressure);
    if (air.vapour_fraction >= most)
        return make_air(temperature, air.pressure, 1, most);
    return make_air(temperature, air.pressure, air.vapour_fraction / most, air.vapour_fraction);
}

double vent_humidity_ratio(vent_air air)
{
    double x = air.vapour_fraction;
    if (!(x >= 0 && x < 1))
        return NAN;
    return VAPOUR_MASS / DRY_MASS * x / (1 - x);
}

double vent_saturation_pressure(double temperature)
{
    return is_within(temperature, ice_low, water_high) ? saturation(temperature) : NAN;
}

double vent_saturation_pressure_water(double temperature)
{
    bool is_in_range = is_within(temperature, temperature_low, water_high);
    return is_in_range ? saturation_over_water(temperature) : NAN;
}

double vent_saturation_pressure_ice(double temperature)
{
    bool is_in_range = is_within(temperature, ice_low, TRIPLE_POINT);
    return is_in_range ? saturation_over_ice(temperature) : NAN;
}

/* ---- dew point ---- */

/* A point of a saturation curve. */
typedef struct saturated {
    double temperature;
    double excess; /* ln of the vapour there is over the vapour it can hold: 0 at the dew point */
} saturated;

static saturated try_temperature(double curve(double), double temperature, double pressure,
                                 double x)
{
    double most = enhancement(temperature, pressure) * curve(temperature) / pressure;
    return (saturated){temperature, log(x / most)};
}

/* The excess is nearly a straight line over 1/temperature (Clausius and Clapeyron). */
static double interpolate(saturated cold, saturated warm)
{
    return (cold.excess - warm.excess) /
           (cold.excess / warm.temperature - warm.excess / cold.temperature);
}

/* Regula falsi that halves the end which stays twice (Illinois): the dew point is always between
 * cold and warm, where the excess is above and below 0. */
static double find_dew_point(double curve(double), saturated cold, saturated warm, double pressure,
                             double x)
{
    int side = 0;
    for (int i = 0; i < 60 && cold.excess > 0 && warm.excess < 0; i++) {
        saturated next = try_temperature(curve, interpolate(cold, warm), pressure, x);
        if (fabs(next.excess) < 1e-14)
            return next.temperature;
        if (next.excess > 0) {
            cold = next;
            warm.excess *= side > 0 ? 0.5 : 1;
            side = 1;
        } else {
            warm = next;
            cold.excess *= side < 0 ? 0.5 : 1;
            side = -1;
        }
    }
    return cold.excess < -warm.excess ? cold.temperature : warm.temperature;
}

double vent_dew_point(vent_air air)
{
    double pressure = air.pressure, x = air.vapour_fraction;
    if (!is_within(pressure, pressure_low, pressure_high) || !(x > 0 && x <= 1))
        return NAN;
    bool is_frost = x < saturated_fraction(TRIPLE_POINT, pressure);
    double (*curve)(double) = is_frost ? saturation_over_ice : saturation_over_water;
    double low = is_frost ? frost_low : TRIPLE_POINT, high = is_frost ? TRIPLE_POINT : water_high;
    saturated cold = try_temperature(curve, low, pressure, x);
    saturated warm = try_temperature(curve, high, pressure, x);
    if (!(cold.excess >= 0 && warm.excess <= 0))
        return NAN;
    return find_dew_point(curve, cold, warm, pressure, x);
}

/* ---- standard atmosphere ---- */

double vent_pressure_at_altitude(double altitude)
{
    const double temperature = 288.15, lapse = 0.0065, gas_constant = 287.05287;
    if (!is_within(altitude, -5000, 11000))
        return NAN;
    return 101325 * pow(1 - lapse * altitude / temperature, VENT_GRAVITY / (gas_constant * lapse));
}
