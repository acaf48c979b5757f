/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <ventstack/measure.h>

#include "base/fail.h"
#include "base/source_list.h"
#include "practice/measuring.h"

#include <stdio.h>
#include <ventstack/friction.h>
#include <ventstack/units.h>

_Static_assert(sizeof(vent_reading) == 24, "vent_reading is frozen");
_Static_assert(sizeof(vent_instrument) == 64, "vent_instrument is frozen");
_Static_assert(sizeof(vent_station) == 112, "vent_station is frozen");
_Static_assert(sizeof(vent_probe) == 48, "vent_probe is frozen");
_Static_assert(sizeof(vent_advice) == 384, "vent_advice is frozen");

static const double FACTOR_SPREAD = 0.01;  /* standard pitot tube, with some yaw */
static const double PLACED_TO = 1e-3;      /* m, a probe held by hand */
static const double BLOCKAGE_NOTED = 0.03; /* 40 CFR 60 method 1A's limit; memory */
static const double CENTRE_DEFECT = 4.28;  /* friction velocities, Zagarola and Smits */
static const double LAMINAR_END = 2000, TURBULENT_START = 4000;
static const double RATIO_SPREAD = 0.02, RATIO_SPREAD_LAMINAR = 0.01;

static const vent_instrument no_instrument = {.low = NAN,
                                              .high = NAN,
                                              .share = NAN,
                                              .fixed = NAN,
                                              .step = NAN,
                                              .scale = NAN,
                                              .scale_uncertainty = NAN};
static const vent_probe no_probe = {NAN, NAN, NAN, NAN, NAN, NAN};

/* ---- checks of what comes in ---------------------------------------------------------------- */

/* A reading: its value within bounds, its uncertainty finite and not negative. */
static bool check_reading(vent_error *err, const char *function, const char *argument,
                          const char *unit, vent_reading reading, double low, double high)
{
    if (!vent__check_range(err, function, argument, unit, reading.value, low, high))
        return false;
    if (vent__within(reading.uncertainty, 0, high - low))
        return true;
    return vent__fail(err, VENT_E_ARGUMENT, function, argument, -1, reading.uncertainty, 0,
                      high - low,
                      "%s: the uncertainty of %s is %.10g %s; it must lie between 0 and %.6g",
                      function, argument, reading.uncertainty, unit, high - low);
}

bool vent__is_pressure(const vent_instrument *instrument)
{
    return instrument->kind == VENT_INSTRUMENT_PRESSURE ||
           instrument->kind == VENT_INSTRUMENT_COLUMN;
}

bool vent__check_instrument(vent_error *err, const char *function, const vent_instrument *i)
{
    if (i->kind >= VENT_INSTRUMENT_PRESSURE && i->kind <= VENT_INSTRUMENT_HOT_WIRE && i->high > 0 &&
        i->low < i->high && vent__within(i->share, 0, 0.5) && i->fixed >= 0 && i->step >= 0 &&
        i->scale > 0 && i->scale_uncertainty >= 0)
        return true;
    return vent__fail(err, VENT_E_ARGUMENT, function, "instrument", -1, i->kind, NAN, NAN,
                      "%s: instrument is none; make it with one of its constructors", function);
}

bool vent__check_pressure_instrument(vent_error *err, const char *function,
                                     const vent_instrument *i)
{
    if (!vent__check_instrument(err, function, i))
        return false;
    if (vent__is_pressure(i))
        return true;
    return vent__fail(err, VENT_E_ARGUMENT, function, "instrument", -1, i->kind, NAN, NAN,
                      "%s: instrument shows a velocity; a pressure is asked for", function);
}

bool vent__check_probe(vent_error *err, const char *function, const vent_probe *p)
{
    if (vent__within(p->head, 0, 0.5) && vent__within(p->stem, 0, 0.5) &&
        vent__within(p->offset, -10, 10) && vent__within(p->factor, 0.1, 10) &&
        vent__within(p->factor_uncertainty, 0, 1) && vent__within(p->position_uncertainty, 0, 0.1))
        return true;
    return vent__fail(err, VENT_E_ARGUMENT, function, "probe", -1, NAN, NAN, NAN,
                      "%s: probe is none; make it with vent_pitot() or vent_probe_new()", function);
}

bool vent__check_pipe(vent_error *err, const char *function, vent_pipe pipe, bool round)
{
    if (!(vent_pipe_area(pipe) > 0))
        return vent__fail(err, VENT_E_ARGUMENT, function, "pipe", -1, NAN, NAN, NAN,
                          "%s: pipe is none; make it with one of its constructors", function);
    if (!round || pipe.shape == VENT_PIPE_ROUND)
        return true;
    return vent__fail(err, VENT_E_ARGUMENT, function, "pipe", -1, NAN, NAN, NAN,
                      "%s: the pipe is rectangular, for which no such rule is known; traverse it",
                      function);
}

bool vent__check_station(vent_error *err, const char *function, const vent_station *s, bool round)
{
    if (!vent__check_pipe(err, function, s->pipe, round))
        return false;
    if (vent__within(s->gas.density, 1e-3, 1e3) && vent__within(s->gas.viscosity, 1e-7, 1) &&
        s->gas.pressure > 0 && s->density_uncertainty >= 0 && s->straight >= 0)
        return true;
    return vent__fail(err, VENT_E_ARGUMENT, function, "station", -1, NAN, NAN, NAN,
                      "%s: station is none; make it with vent_station_at()", function);
}

/* ---- instruments ---------------------------------------------------------------------------- */

vent_reading vent_reading_stated(double value, double uncertainty)
{
    if (!isfinite(value) || !vent__within(uncertainty, 0, HUGE_VAL) || isinf(uncertainty))
        return vent__no_reading;
    return (vent_reading){.value = value, .uncertainty = uncertainty};
}

vent_instrument vent_instrument_pressure(double greatest, double share, double fixed, double step,
                                         vent_error *err)
{
    if (vent__failed(err) || !VENT__RANGE(greatest, "Pa", 1e-3, VENT__PRESSURE_GREATEST) ||
        !VENT__RANGE(share, "", 0, 0.5) || !VENT__RANGE(fixed, "Pa", 0, greatest) ||
        !VENT__RANGE(step, "Pa", 0, greatest))
        return no_instrument;
    return (vent_instrument){.kind = VENT_INSTRUMENT_PRESSURE,
                             .low = -greatest,
                             .high = greatest,
                             .share = share,
                             .fixed = fixed,
                             .step = step,
                             .scale = 1};
}

static vent_instrument anemometer(const char *function, int32_t kind, double least, double greatest,
                                  double share, double fixed, double step, vent_error *err)
{
    if (vent__failed(err) ||
        !vent__check_range(err, function, "greatest", "m/s", greatest, 1e-3, 200) ||
        !vent__check_range(err, function, "least", "m/s", least, 0, nextafter(greatest, 0)) ||
        !vent__check_range(err, function, "share", "", share, 0, 0.5) ||
        !vent__check_range(err, function, "fixed", "m/s", fixed, 0, greatest) ||
        !vent__check_range(err, function, "step", "m/s", step, 0, greatest))
        return no_instrument;
    return (vent_instrument){.kind = kind,
                             .low = least,
                             .high = greatest,
                             .share = share,
                             .fixed = fixed,
                             .step = step,
                             .scale = 1};
}

vent_instrument vent_instrument_vane(double least, double greatest, double share, double fixed,
                                     double step, vent_error *err)
{
    return anemometer(__func__, VENT_INSTRUMENT_VANE, least, greatest, share, fixed, step, err);
}

vent_instrument vent_instrument_hot_wire(double least, double greatest, double share, double fixed,
                                         double step, vent_error *err)
{
    return anemometer(__func__, VENT_INSTRUMENT_HOT_WIRE, least, greatest, share, fixed, step, err);
}

/* A column of liquid that shows `scale` pascals for each metre read. */
static vent_instrument column(double length, double low, double step, double scale, double spread)
{
    return (vent_instrument){.kind = VENT_INSTRUMENT_COLUMN,
                             .low = low,
                             .high = length,
                             .step = step,
                             .scale = scale,
                             .scale_uncertainty = spread};
}

static bool check_column(vent_error *err, const char *function, double length, double step,
                         vent_reading density)
{
    return vent__check_range(err, function, "length", "m", length, 1e-3, 10) &&
           vent__check_range(err, function, "step", "m", step, 0, length) &&
           check_reading(err, function, "density", "kg/m3", density, 100, 2e4);
}

vent_instrument vent_instrument_u_tube(double length, double step, vent_reading density,
                                       vent_error *err)
{
    if (vent__failed(err) || !check_column(err, __func__, length, step, density))
        return no_instrument;
    return column(length, -length, sqrt(2) * step, density.value * VENT_GRAVITY,
                  density.uncertainty / density.value);
}

vent_instrument vent_instrument_inclined(double length, double step, vent_reading density,
                                         vent_reading tilt, double area_ratio, vent_error *err)
{
    if (vent__failed(err) || !check_column(err, __func__, length, step, density) ||
        !check_reading(err, __func__, "tilt", "rad", tilt, 0.01, VENT_PI / 2) ||
        !VENT__RANGE(area_ratio, "", 0, 1))
        return no_instrument;
    double rise = sin(tilt.value) + area_ratio;
    return column(
        length, -length, step, density.value * VENT_GRAVITY * rise,
        hypot(density.uncertainty / density.value, cos(tilt.value) / rise * tilt.uncertainty));
}

double vent_water_density(double temperature)
{
    if (!vent__within(temperature, 273.15, 313.15))
        return NAN;
    double t = temperature - 273.15;
    return 999.974950 *
           (1 - vent__square(t - 3.983035) * (t + 301.797) / (522528.9 * (t + 69.34881)));
}

vent__spread vent__spread_at(const vent_instrument *i, double indication)
{
    double limit = i->share * fabs(indication) + i->fixed;
    return (vent__spread){hypot(limit / sqrt(3), i->scale_uncertainty * indication),
                          i->step / sqrt(12)};
}

double vent__whole_spread(const vent_instrument *i, double indication)
{
    vent__spread s = vent__spread_at(i, indication);
    return hypot(s.shared, s.own);
}

uint32_t vent__instrument_flags(const vent_instrument *i, double indication)
{
    bool lost = 2 * vent__whole_spread(i, indication) >= fabs(indication) ||
                (!vent__is_pressure(i) && indication < i->low);
    return lost ? VENT_READING_NOT_MEASURABLE : 0;
}

vent_reading vent_instrument_read(vent_instrument instrument, double indication, vent_error *err)
{
    const char *unit = instrument.kind == VENT_INSTRUMENT_PRESSURE ? "Pa"
                       : instrument.kind == VENT_INSTRUMENT_COLUMN ? "m"
                                                                   : "m/s";
    if (vent__failed(err) || !vent__check_instrument(err, __func__, &instrument) ||
        !VENT__RANGE(indication, unit, vent__is_pressure(&instrument) ? instrument.low : 0,
                     instrument.high))
        return vent__no_reading;
    return (vent_reading){.value = instrument.scale * indication,
                          .uncertainty =
                              instrument.scale * vent__whole_spread(&instrument, indication),
                          .source = VENT__SOURCE_GUM,
                          .flags = vent__instrument_flags(&instrument, indication)};
}

/* ---- stations and probes -------------------------------------------------------------------- */

/* What the density changes by where one argument of vent_air_moist() moves from low to high. */
static double density_change(double t0, double p0, double h0, double t1, double p1, double h1)
{
    return vent_air_moist(t1, p1, h1, NULL).density - vent_air_moist(t0, p0, h0, NULL).density;
}

/* Half the difference over one standard uncertainty either way (GUM 5.1.3, note 2), within the
 * bounds of the argument. */
static double density_spread(double t, double p, double h, double ut, double up, double uh)
{
    double t0 = fmax(t - ut, 233.15), t1 = fmin(t + ut, 333.15);
    double p0 = fmax(p - up, 3e4), p1 = fmin(p + up, 1.2e5);
    double h0 = fmax(h - uh, 0), h1 = fmin(h + uh, 1);
    double by_t = t1 > t0 ? density_change(t0, p, h, t1, p, h) * ut / (t1 - t0) : 0;
    double by_p = p1 > p0 ? density_change(t, p0, h, t, p1, h) * up / (p1 - p0) : 0;
    double by_h = h1 > h0 ? density_change(t, p, h0, t, p, h1) * uh / (h1 - h0) : 0;
    return sqrt(by_t * by_t + by_p * by_p + by_h * by_h);
}

vent_station vent_station_at(vent_pipe pipe, vent_reading barometer, vent_reading static_pressure,
                             vent_reading temperature, vent_reading relative_humidity,
                             double straight, vent_error *err)
{
    vent_station none = {.pipe = {.width = NAN, .depth = NAN},
                         .gas = {NAN, NAN, NAN, NAN, NAN, NAN},
                         .density_uncertainty = NAN,
                         .straight = NAN};
    if (vent__failed(err) || !vent__check_pipe(err, __func__, pipe, false) ||
        !check_reading(err, __func__, "barometer", "Pa", barometer, 3e4, 1.2e5) ||
        !check_reading(err, __func__, "static_pressure", "Pa", static_pressure, -2e4, 2e4) ||
        !check_reading(err, __func__, "temperature", "K", temperature, 233.15, 333.15) ||
        !check_reading(err, __func__, "relative_humidity", "", relative_humidity, 0, 1) ||
        !VENT__RANGE(straight, "m", 0, 1e4))
        return none;
    double pressure = barometer.value + static_pressure.value;
    vent_air gas = vent_air_moist(temperature.value, pressure, relative_humidity.value, err);
    if (!(gas.density > 0))
        return none;
    double density_uncertainty = density_spread(
        temperature.value, pressure, relative_humidity.value, temperature.uncertainty,
        hypot(barometer.uncertainty, static_pressure.uncertainty), relative_humidity.uncertainty);
    return (vent_station){
        .pipe = pipe, .gas = gas, .density_uncertainty = density_uncertainty, .straight = straight};
}

vent_probe vent_pitot(double diameter, vent_error *err)
{
    if (vent__failed(err) || !VENT__RANGE(diameter, "m", 1e-4, 0.05))
        return no_probe;
    return (vent_probe){.head = diameter,
                        .stem = diameter,
                        .factor = 1,
                        .factor_uncertainty = FACTOR_SPREAD,
                        .position_uncertainty = PLACED_TO};
}

vent_probe vent_probe_new(double head, double stem, double factor, double factor_uncertainty,
                          double position_uncertainty, vent_error *err)
{
    if (vent__failed(err) || !VENT__RANGE(head, "m", 0, 0.5) || !VENT__RANGE(stem, "m", 0, 0.5) ||
        !VENT__RANGE(factor, "", 0.1, 10) || !VENT__RANGE(factor_uncertainty, "", 0, 1) ||
        !VENT__RANGE(position_uncertainty, "m", 0, 0.1))
        return no_probe;
    return (vent_probe){.head = head,
                        .stem = stem,
                        .factor = factor,
                        .factor_uncertainty = factor_uncertainty,
                        .position_uncertainty = position_uncertainty};
}

double vent_probe_blockage(vent_pipe pipe, vent_probe probe, double insertion)
{
    double area = vent_pipe_area(pipe);
    if (!(area > 0) || !vent__check_probe(NULL, __func__, &probe) ||
        !vent__within(insertion, 0, pipe.width))
        return NAN;
    return fmin(probe.stem * insertion / area, 1);
}

/* ---- velocities ----------------------------------------------------------------------------- */

double vent_velocity_of_pressure(double velocity_pressure, double density)
{
    if (!vent__within(velocity_pressure, 0, VENT__PRESSURE_GREATEST) ||
        !(density > 0 && density <= 1e4))
        return NAN;
    return sqrt(2 * velocity_pressure / density);
}

double vent_velocity_4005(double velocity_pressure)
{
    if (!vent__within(velocity_pressure, 0, VENT__PRESSURE_GREATEST))
        return NAN;
    return 4005 * VENT_FPM * sqrt(velocity_pressure / VENT_INWC);
}

/* What a pressure below zero means where only one above can be. */
static bool refuse_negative(vent_error *err, const char *function, const char *what, int64_t index,
                            double value, double high, bool noise)
{
    return vent__fail(
        err, VENT_E_ARGUMENT, function, "indication", index, value, 0, high,
        noise ? "%s: %s is %.6g, which is zero within the instrument's own uncertainty: noise. "
                "Nothing here can be measured with it; state 0 if the gas is at rest"
              : "%s: %s is %.6g; it cannot be negative: the hoses are exchanged, the head points "
                "downstream, or the flow runs the other way",
        function, what, value);
}

double vent_mean_velocity_pressure(size_t n, const double *velocity_pressure, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(velocity_pressure) ||
        !vent__check_range(err, __func__, "n", "", (double)n, 1, 1e9))
        return NAN;
    double sum = 0;
    for (size_t i = 0; i < n; ++i) {
        if (velocity_pressure[i] < 0) {
            refuse_negative(err, __func__, "a velocity pressure", (int64_t)i, velocity_pressure[i],
                            VENT__PRESSURE_GREATEST, false);
            return NAN;
        }
        if (!vent__check_range(err, __func__, "velocity_pressure", "Pa", velocity_pressure[i], 0,
                               VENT__PRESSURE_GREATEST))
            return NAN;
        sum += sqrt(velocity_pressure[i]);
    }
    return vent__square(sum / (double)n);
}

/* An indication from which a velocity (or the flow through an orifice) is to come. */
bool vent__check_indication(vent_error *err, const char *function, const vent_instrument *i,
                            const char *what, double indication, int64_t index)
{
    if (vent__is_pressure(i) && indication < 0)
        return refuse_negative(err, function, what, index, indication, i->high,
                               -indication <= 2 * vent__whole_spread(i, indication));
    bool ok = vent__check_range(err, function, "indication",
                                i->kind == VENT_INSTRUMENT_PRESSURE ? "Pa"
                                : vent__is_pressure(i)              ? "m"
                                                                    : "m/s",
                                indication, 0, i->high);
    if (!ok && err)
        err->index = index;
    return ok;
}

/* Velocity at the head, as if the probe were not in the way. An indication below zero, which the
 * uncertainty of a small one may reach, is at rest. */
double vent__local_velocity(const vent_station *s, const vent_probe *probe,
                            const vent_instrument *i, double indication)
{
    double quantity = i->scale * fmax(indication, 0), density = s->gas.density;
    switch (i->kind) {
    case VENT_INSTRUMENT_VANE:
        return probe->factor * quantity;
    case VENT_INSTRUMENT_HOT_WIRE:
        return probe->factor * quantity * VENT_STANDARD_DENSITY / density;
    default:
        return probe->factor * sqrt(2 * quantity / density);
    }
}

/* Relative uncertainty that every velocity at a station has from the gas and the probe's factor. */
double vent__common_spread(const vent_station *s, const vent_probe *probe, const vent_instrument *i)
{
    double exponent = vent__is_pressure(i) ? 0.5 : i->kind == VENT_INSTRUMENT_HOT_WIRE ? 1 : 0;
    return hypot(exponent * s->density_uncertainty / s->gas.density,
                 probe->factor_uncertainty / probe->factor);
}

uint32_t vent__blockage_flags(double blockage)
{
    return blockage > BLOCKAGE_NOTED ? VENT_READING_BLOCKED : 0;
}

/* Half of the correction 1 - blockage, as a share of what is left. */
double vent__blockage_spread(double blockage)
{
    return 0.5 * blockage / (1 - blockage);
}

/* d ln V of a 1/7 power law for an error of place, at a distance from the nearest wall. */
double vent__place_spread(const vent_probe *probe, double distance)
{
    double y = fmax(distance, fmax(probe->head / 2, probe->position_uncertainty));
    return y > 0 ? probe->position_uncertainty / (VENT__PROFILE_EXPONENT * y) : 0;
}

bool vent__check_blockage(vent_error *err, const char *function, double blockage)
{
    if (blockage <= 0.5)
        return true;
    return vent__fail(err, VENT_E_ARGUMENT, function, "probe", -1, blockage, 0, 0.5,
                      "%s: the probe takes %.0f %% of the pipe's section; above 50 %% nothing can "
                      "be said of the flow",
                      function, 100 * blockage);
}

vent_reading vent_point_velocity(vent_station station, vent_probe probe, vent_instrument instrument,
                                 double indication, double insertion, vent_error *err)
{
    if (vent__failed(err) || !vent__check_station(err, __func__, &station, false) ||
        !vent__check_probe(err, __func__, &probe) ||
        !vent__check_instrument(err, __func__, &instrument) ||
        !vent__check_indication(err, __func__, &instrument, "the velocity pressure", indication,
                                -1) ||
        !VENT__RANGE(insertion, "m", 0, station.pipe.width))
        return vent__no_reading;
    double blockage = vent_probe_blockage(station.pipe, probe, insertion);
    if (!vent__check_blockage(err, __func__, blockage))
        return vent__no_reading;
    double free = 1 - blockage, u = vent__whole_spread(&instrument, indication);
    double value = free * vent__local_velocity(&station, &probe, &instrument, indication);
    double by_instrument = free *
                           (vent__local_velocity(&station, &probe, &instrument, indication + u) -
                            vent__local_velocity(&station, &probe, &instrument, indication - u)) /
                           2;
    double rest =
        hypot(vent__common_spread(&station, &probe, &instrument), vent__blockage_spread(blockage));
    return (vent_reading){.value = value,
                          .uncertainty = hypot(by_instrument, value * rest),
                          .source = VENT__SOURCE_GUM,
                          .flags = vent__instrument_flags(&instrument, indication) |
                                   vent__blockage_flags(blockage)};
}

/* ---- one reading at the centre -------------------------------------------------------------- */

static double turbulent_ratio(double reynolds, double relative_roughness)
{
    double f = vent_friction_factor(reynolds, relative_roughness);
    return 1 / (1 + CENTRE_DEFECT * sqrt(f / 8));
}

/* 0 at rest and in laminar flow, 1 in turbulent flow. */
static double turbulent_share(double reynolds)
{
    double t = (reynolds - LAMINAR_END) / (TURBULENT_START - LAMINAR_END);
    t = fmin(fmax(t, 0), 1);
    return t * t * (3 - 2 * t);
}

double vent_mean_to_centre(double reynolds, double relative_roughness)
{
    if (!vent__within(reynolds, 1e-300, 1e9) || !vent__within(relative_roughness, 0, 0.1))
        return NAN;
    double share = turbulent_share(reynolds);
    if (share == 0)
        return 0.5;
    return 0.5 +
           share * (turbulent_ratio(fmax(reynolds, TURBULENT_START), relative_roughness) - 0.5);
}

double vent_mean_to_centre_power(double n)
{
    return vent__within(n, 1, 100) ? 2 * n * n / ((n + 1) * (2 * n + 1)) : NAN;
}

double vent__reynolds_at(const vent_station *s, double velocity)
{
    return s->gas.density * velocity * vent_pipe_hydraulic_diameter(s->pipe) / s->gas.viscosity;
}

/* Mean velocity under a centre velocity: V = v r(V) rises on the left faster than on the right, so
 * halving finds the one crossing. */
static double mean_velocity(const vent_station *s, double centre, double own_ratio)
{
    if (!isnan(own_ratio) || !(centre > 0))
        return centre > 0 ? own_ratio * centre : 0;
    double rough = fmin(s->pipe.roughness / s->pipe.width, 0.1), low = 0.5 * centre, high = centre;
    for (int i = 0; i < 60; ++i) {
        double middle = 0.5 * (low + high);
        double re = fmin(fmax(vent__reynolds_at(s, middle), 1e-300), 1e9);
        if (middle < centre * vent_mean_to_centre(re, rough))
            low = middle;
        else
            high = middle;
    }
    return 0.5 * (low + high);
}

/* Relative uncertainty of the ratio of developed flow: in between both states are open. */
static double developed_spread(double ratio, double reynolds, double rough)
{
    double share = turbulent_share(reynolds), both = 4 * share * (1 - share);
    double gap = turbulent_ratio(TURBULENT_START, rough) - 0.5;
    return hypot(share > 0 ? RATIO_SPREAD : RATIO_SPREAD_LAMINAR,
                 both * gap / (2 * sqrt(3) * ratio));
}

/* Relative uncertainty from a profile that has not had the length to develop: it may be flat. */
static double settling_spread(const vent_station *s, double ratio, double reynolds)
{
    double needed = 4.4 * pow(fmax(reynolds, 1), 1.0 / 6) * s->pipe.width;
    double missing = fmax(1 - s->straight / needed, 0);
    return missing * (1 - ratio) / (ratio * sqrt(3));
}

typedef struct centre {
    const vent_station *station;
    const vent_probe *probe;
    const vent_instrument *instrument;
    double free;      /* 1 - blockage */
    double own_ratio; /* NaN for that of developed flow */
} centre;

static double flow_at(const centre *c, double indication)
{
    double v = c->free * vent__local_velocity(c->station, c->probe, c->instrument, indication);
    return vent_pipe_area(c->station->pipe) * mean_velocity(c->station, v, c->own_ratio);
}

static vent_reading centre_reading(const centre *c, double indication, double ratio_uncertainty)
{
    const vent_station *s = c->station;
    double width = s->pipe.width, u = vent__whole_spread(c->instrument, indication);
    double flow = flow_at(c, indication),
           reynolds = vent__reynolds_at(s, flow / vent_pipe_area(s->pipe));
    double by_instrument = (flow_at(c, indication + u) - flow_at(c, indication - u)) / 2;
    double rough = fmin(s->pipe.roughness / width, 0.1);
    double ratio =
        isnan(c->own_ratio) ? vent_mean_to_centre(fmax(reynolds, 1e-300), rough) : c->own_ratio;
    double profile = isnan(c->own_ratio) ? hypot(developed_spread(ratio, reynolds, rough),
                                                 settling_spread(s, ratio, reynolds))
                                         : ratio_uncertainty / ratio;
    double relative = vent__square(vent__common_spread(s, c->probe, c->instrument)) +
                      vent__square(profile) + vent__square(vent__blockage_spread(1 - c->free)) +
                      vent__square(vent__place_spread(c->probe, width / 2)) +
                      vent__square(2 * s->pipe.bore_uncertainty / width);
    bool transitional = isnan(c->own_ratio) && reynolds > LAMINAR_END && reynolds < TURBULENT_START;
    return (vent_reading){.value = flow,
                          .uncertainty = hypot(by_instrument, flow * sqrt(relative)),
                          .source = isnan(c->own_ratio) ? VENT__SOURCE_ZAGAROLA : 0,
                          .flags = vent__instrument_flags(c->instrument, indication) |
                                   vent__blockage_flags(1 - c->free) |
                                   (transitional ? VENT_READING_TRANSITIONAL : 0)};
}

vent_reading vent_centre_flow(vent_station station, vent_probe probe, vent_instrument instrument,
                              double indication, const vent_reading *ratio, vent_error *err)
{
    if (vent__failed(err) || !vent__check_station(err, __func__, &station, !ratio) ||
        !vent__check_probe(err, __func__, &probe) ||
        !vent__check_instrument(err, __func__, &instrument) ||
        !vent__check_indication(err, __func__, &instrument, "the velocity pressure", indication,
                                -1) ||
        (ratio && !check_reading(err, __func__, "ratio", "", *ratio, 0.3, 1.5)))
        return vent__no_reading;
    double blockage = vent_probe_blockage(station.pipe, probe, station.pipe.width / 2);
    if (!vent__check_blockage(err, __func__, blockage))
        return vent__no_reading;
    centre c = {&station, &probe, &instrument, 1 - blockage, ratio ? ratio->value : (double)NAN};
    return centre_reading(&c, indication, ratio ? ratio->uncertainty : 0);
}

/* ---- static pressure ------------------------------------------------------------------------ */

vent_reading vent_static_pressure(vent_instrument instrument, size_t n, const double *indication,
                                  double velocity_pressure, double tap_error, vent_error *err)
{
    if (vent__failed(err) || !vent__check_pressure_instrument(err, __func__, &instrument) ||
        !VENT__POINTER(indication) ||
        !vent__check_range(err, __func__, "n", "", (double)n, 1, 1e9) ||
        !VENT__RANGE(velocity_pressure, "Pa", 0, 1e5) || !VENT__RANGE(tap_error, "", 0, 1))
        return vent__no_reading;
    double count = (double)n, sum = 0, squares = 0;
    for (size_t i = 0; i < n; ++i) {
        if (!vent__check_range(err, __func__, "indication", "", indication[i], instrument.low,
                               instrument.high)) {
            if (err)
                err->index = (int64_t)i;
            return vent__no_reading;
        }
        sum += indication[i];
    }
    double mean = sum / count;
    for (size_t i = 0; i < n; ++i)
        squares += vent__square(indication[i] - mean);
    vent__spread s = vent__spread_at(&instrument, mean);
    double scatter = n > 1 ? squares / (count - 1) / count : 0;
    double by_instrument =
        instrument.scale * sqrt(vent__square(s.shared) + vent__square(s.own) / count + scatter);
    double by_taps = tap_error * velocity_pressure / sqrt(3 * count);
    return (vent_reading){.value = instrument.scale * mean,
                          .uncertainty = hypot(by_instrument, by_taps),
                          .source = VENT__SOURCE_GUM,
                          .flags = vent__instrument_flags(&instrument, mean)};
}

/* ---- advice --------------------------------------------------------------------------------- */

/* Relative uncertainty an indication leaves of the velocity. */
static double velocity_spread(const vent_instrument *i, double indication)
{
    return vent__whole_spread(i, indication) / indication * (vent__is_pressure(i) ? 0.5 : 1);
}

/* Least indication that is as good as wanted; NaN where none on the scale is. */
static double indication_wanted(const vent_instrument *i, double wanted)
{
    if (!(velocity_spread(i, i->high) <= wanted))
        return NAN;
    double low = 1e-9 * i->high, high = i->high;
    for (int k = 0; k < 80; ++k) {
        double middle = sqrt(low * high);
        if (velocity_spread(i, middle) <= wanted)
            high = middle;
        else
            low = middle;
    }
    return fmax(high, vent__is_pressure(i) ? 0 : i->low);
}

/* Velocity at the centre of a pipe of that bore, all else as at the station. */
static double centre_velocity(vent_station s, double bore, double flow)
{
    s.pipe.width = s.pipe.depth = bore;
    double mean = flow / vent_pipe_area(s.pipe);
    double reynolds = fmin(fmax(vent__reynolds_at(&s, mean), 1e-300), 1e9);
    return mean / vent_mean_to_centre(reynolds, fmin(s.pipe.roughness / bore, 0.1));
}

/* What the instrument shows there: the inverse of vent__local_velocity(). */
static double indication_in(const vent_station *s, const vent_probe *probe,
                            const vent_instrument *i, double bore, double flow)
{
    double blockage = fmin(2 * probe->stem / (VENT_PI * bore), 0.5);
    double v = centre_velocity(*s, bore, flow) / (1 - blockage) / probe->factor;
    double density = s->gas.density;
    double quantity = vent__is_pressure(i)                  ? 0.5 * density * v * v
                      : i->kind == VENT_INSTRUMENT_HOT_WIRE ? v * density / VENT_STANDARD_DENSITY
                                                            : v;
    return quantity / i->scale;
}

/* Bore in which the instrument shows so much; the wider the less. */
static double bore_for(const vent_station *s, const vent_probe *probe, const vent_instrument *i,
                       double flow, double indication)
{
    double low = 1e-2 * s->pipe.width, high = fmin(1e2 * s->pipe.width, 10);
    for (int k = 0; k < 60; ++k) {
        double middle = sqrt(low * high);
        if (indication_in(s, probe, i, middle, flow) >= indication)
            low = middle;
        else
            high = middle;
    }
    return low;
}

/* An orifice plate with corner taps whose difference is at least what is wanted, as wide as may be. */
static void advise_orifice(vent_advice *advice, const vent_station *s, double flow,
                           double difference)
{
    double area = vent_pipe_area(s->pipe), width = s->pipe.width, discharge = 0.6, b = 0;
    double reynolds = fmin(fmax(vent__reynolds_at(s, flow / area), 100), 1e9);
    for (int i = 0; i < 30; ++i) {
        double k = flow / (discharge * area * sqrt(2 * difference / s->gas.density));
        b = fmin(pow(k * k / (1 + k * k), 0.25), VENT__BETA_GREATEST);
        discharge = vent_orifice_discharge(width, b * width, reynolds, VENT_TAPS_CORNER);
    }
    if (!(discharge > 0))
        return;
    double b4 = vent__square(vent__square(b));
    advice->orifice = b * width;
    advice->orifice_pressure =
        0.5 * s->gas.density * vent__square(flow / (discharge * area)) * (1 - b4) / b4;
    advice->orifice_loss = vent_orifice_loss(b, discharge, advice->orifice_pressure);
}

static void write_advice(vent_advice *a, const vent_instrument *i, double wanted)
{
    const char *unit = i->kind == VENT_INSTRUMENT_PRESSURE ? "Pa"
                       : vent__is_pressure(i)              ? "m"
                                                           : "m/s";
    char *text = a->message;
    size_t size = sizeof a->message;
    int n = snprintf(text, size, "%s: at the centre (%.3g m/s) it would show %.3g %s",
                     a->flags & VENT_READING_NOT_MEASURABLE ? "Not measurable with this instrument"
                     : a->flags & VENT_READING_OFF_SCALE    ? "Off the scale of this instrument"
                     : a->flags & VENT_READING_COARSE       ? "Coarse"
                                                            : "Measurable",
                     a->velocity, a->indication, unit);
    if (a->flags & VENT_READING_OFF_SCALE) {
        snprintf(text + n, size - (size_t)n, " and ends at %.3g. Take one with a longer scale.",
                 i->high);
        return;
    }
    n += snprintf(text + n, size - (size_t)n,
                  ", which leaves %.2g %% of the flow open (one standard uncertainty; %.2g %% "
                  "wanted).",
                  100 * a->uncertainty, 100 * wanted);
    if (!a->flags)
        return;
    n += snprintf(text + n, size - (size_t)n, " What would do: ");
    if (vent__is_pressure(i) && a->velocity >= 0.2)
        n += snprintf(text + n, size - (size_t)n, "a hot-wire anemometer; ");
    if (!isnan(a->orifice))
        n += snprintf(text + n, size - (size_t)n,
                      "an orifice plate of %.0f mm (%.3g Pa, costs %.3g Pa); ", 1e3 * a->orifice,
                      a->orifice_pressure, a->orifice_loss);
    if (isnan(a->section))
        snprintf(text + n, size - (size_t)n, "a better instrument.");
    else
        snprintf(text + n, size - (size_t)n, "a measuring section of %.0f mm bore.",
                 1e3 * a->section);
}

vent_advice vent_measure_advice(vent_station station, vent_probe probe, vent_instrument instrument,
                                double flow, double wanted, vent_error *err)
{
    vent_advice advice = {.velocity = NAN,
                          .indication = NAN,
                          .uncertainty = NAN,
                          .section = NAN,
                          .orifice = NAN,
                          .orifice_pressure = NAN,
                          .orifice_loss = NAN};
    if (vent__failed(err) || !vent__check_station(err, __func__, &station, true) ||
        !vent__check_probe(err, __func__, &probe) ||
        !vent__check_instrument(err, __func__, &instrument) ||
        !VENT__RANGE(flow, "m3/s", 1e-7, 100) || !VENT__RANGE(wanted, "", 0.001, 0.5))
        return advice;
    double width = station.pipe.width;
    if (!vent__check_blockage(err, __func__, vent_probe_blockage(station.pipe, probe, width / 2)))
        return advice;
    advice.velocity = centre_velocity(station, width, flow);
    advice.indication = indication_in(&station, &probe, &instrument, width, flow);
    advice.uncertainty = velocity_spread(&instrument, advice.indication);
    double target = indication_wanted(&instrument, wanted);
    advice.flags = vent__instrument_flags(&instrument, advice.indication) |
                   (advice.uncertainty > wanted ? VENT_READING_COARSE : 0);
    if (advice.indication > instrument.high) {
        advice.flags = VENT_READING_OFF_SCALE;
        advice.section = bore_for(&station, &probe, &instrument, flow, instrument.high);
    } else if (advice.flags && !isnan(target)) {
        advice.section = bore_for(&station, &probe, &instrument, flow, target);
        if (vent__is_pressure(&instrument))
            advise_orifice(&advice, &station, flow, instrument.scale * target);
    } else if (!advice.flags) {
        advice.section = width;
    }
    write_advice(&advice, &instrument, wanted);
    return advice;
}
