/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What an instrument shows, and how far that may be off. */
#include "base/fail.h"
#include "base/source_list.h"
#include "practice/measuring.h"

#include <ventstack/units.h>

_Static_assert(sizeof(vent_instrument) == 64, "vent_instrument is frozen");

static const vent_instrument no_instrument = {.low = NAN,
                                              .high = NAN,
                                              .share = NAN,
                                              .fixed = NAN,
                                              .step = NAN,
                                              .scale = NAN,
                                              .scale_uncertainty = NAN};

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
           vent__check_bounded(err, function, "density", "kg/m3", density, 100, 2e4);
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
        !vent__check_bounded(err, __func__, "tilt", "rad", tilt, 0.01, VENT_PI / 2) ||
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
