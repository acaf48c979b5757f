/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <ventstack/measure.h>

#include "base/fail.h"
#include "base/source_list.h"
#include "practice/measuring.h"

#include <stdio.h>
#include <ventstack/friction.h>
#include <ventstack/units.h>

_Static_assert(sizeof(vent_reading) == 24, "vent_reading is frozen");
_Static_assert(sizeof(vent_station) == 112, "vent_station is frozen");
_Static_assert(sizeof(vent_probe) == 48, "vent_probe is frozen");

static const double FACTOR_SPREAD = 0.01;  /* standard pitot tube, with some yaw */
static const double PLACED_TO = 1e-3;      /* m, a probe held by hand */
static const double BLOCKAGE_NOTED = 0.03; /* 40 CFR 60 method 1A's limit; memory */

static const vent_probe no_probe = {NAN, NAN, NAN, NAN, NAN, NAN};

/* ---- checks of what comes in ---------------------------------------------------------------- */

bool vent__check_bounded(vent_error *err, const char *function, const char *argument,
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
        !vent__check_bounded(err, __func__, "barometer", "Pa", barometer, 3e4, 1.2e5) ||
        !vent__check_bounded(err, __func__, "static_pressure", "Pa", static_pressure, -2e4, 2e4) ||
        !vent__check_bounded(err, __func__, "temperature", "K", temperature, 233.15, 333.15) ||
        !vent__check_bounded(err, __func__, "relative_humidity", "", relative_humidity, 0, 1) ||
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
