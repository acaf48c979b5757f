/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "practice/measuring.h"

#include "base/fail.h"
#include "base/source_list.h"

#include <ventstack/units.h>

_Static_assert(sizeof(vent_orifice) == 24, "vent_orifice is frozen");

static const double ISENTROPIC_EXPONENT = 1.4; /* of air */
static const vent_orifice no_orifice = {.bore = NAN, .bore_uncertainty = NAN};

vent_orifice vent_metering_orifice(double bore, double bore_uncertainty, int32_t taps,
                                   vent_error *err)
{
    if (vent__failed(err) || !VENT__RANGE(bore, "m", 1e-3, 1) ||
        !VENT__RANGE(bore_uncertainty, "m", 0, 0.1 * bore) ||
        !vent__check_count(err, __func__, "taps", taps, VENT_TAPS_CORNER, VENT_TAPS_FLANGE))
        return no_orifice;
    return (vent_orifice){.taps = taps, .bore = bore, .bore_uncertainty = bore_uncertainty};
}

double vent_orifice_expansibility(double diameter_ratio, double pressure, double difference,
                                  double isentropic_exponent)
{
    if (!vent__within(diameter_ratio, VENT__BETA_LEAST, VENT__BETA_GREATEST) || !(pressure > 0) ||
        !vent__within(difference, 0, 0.25 * pressure) ||
        !(isentropic_exponent > 1 && isentropic_exponent <= 2))
        return NAN;
    double b4 = vent__square(vent__square(diameter_ratio));
    return 1 - (0.351 + 0.256 * b4 + 0.93 * vent__square(b4)) *
                   (1 - pow(1 - difference / pressure, 1 / isentropic_exponent));
}

double vent_orifice_loss(double diameter_ratio, double discharge, double difference)
{
    if (!vent__within(diameter_ratio, VENT__BETA_LEAST, VENT__BETA_GREATEST) ||
        !vent__within(discharge, 0.3, 1) || !vent__within(difference, 0, VENT__PRESSURE_GREATEST))
        return NAN;
    double b2 = vent__square(diameter_ratio),
           root = sqrt(1 - vent__square(b2) * (1 - vent__square(discharge)));
    return difference * (root - discharge * b2) / (root + discharge * b2);
}

/* Volume flow before the plate, with the discharge coefficient at its own Reynolds number. */
static double orifice_flow_at(const vent_station *s, const vent_orifice *o, double difference)
{
    double d = s->pipe.width, b = o->bore / d, p = fmax(difference, 0);
    double ideal = VENT_PI / 4 * vent__square(o->bore) * sqrt(2 * p / s->gas.density) /
                   sqrt(1 - vent__square(vent__square(b))) *
                   vent_orifice_expansibility(b, s->gas.pressure, p, ISENTROPIC_EXPONENT);
    double flow = 0.6 * ideal;
    for (int i = 0; i < 40; ++i) {
        double re = vent__reynolds_at(s, flow / vent_pipe_area(s->pipe));
        flow = ideal * vent_orifice_discharge(d, o->bore, fmin(fmax(re, 100), 1e9), o->taps);
    }
    return flow;
}

static bool orifice_outside(const vent_station *s, const vent_orifice *o, double reynolds)
{
    double d = s->pipe.width, b = o->bore / d;
    double least = o->taps == VENT_TAPS_FLANGE ? fmax(5000, 170e3 * b * b * d)
                   : b > 0.56                  ? 16000 * b * b
                                               : 5000;
    return !(vent__within(d, 0.05, 1) && o->bore >= 0.0125 && reynolds >= least);
}

/* Relative standard uncertainty of the discharge coefficient: half of what the standard states. */
static double discharge_spread(double pipe_bore, double b, double reynolds)
{
    double percent = b < 0.2 ? 0.7 - b : b <= 0.6 ? 0.5 : 1.667 * b - 0.5;
    percent += 0.9 * (0.75 - b) * fmax(2.8 - pipe_bore / VENT_INCH, 0);
    percent += b > 0.5 && reynolds < 1e4 ? 0.5 : 0;
    return percent / 200;
}

/* Bores of straight pipe behind a single 90 degree bend (ISO 5167-2, table 3; memory): for the
 * coefficient as it stands, and for one with 0.5 % added. */
static double straight_needed(double b, bool longer)
{
    static const double ratio[] = {0.2, 0.4, 0.5, 0.6, 0.67, 0.75};
    static const double bores[2][6] = {{3, 3, 9, 13, 20, 20}, {6, 16, 22, 42, 44, 44}};
    int k = 0;
    while (k < 4 && b > ratio[k + 1])
        ++k;
    double share = fmin(fmax((b - ratio[k]) / (ratio[k + 1] - ratio[k]), 0), 1);
    return bores[longer][k] + share * (bores[longer][k + 1] - bores[longer][k]);
}

vent_reading vent_orifice_flow(vent_station station, vent_orifice orifice,
                               vent_instrument instrument, double indication, vent_error *err)
{
    if (vent__failed(err) || !vent__check_station(err, __func__, &station, true) ||
        !vent__check_pressure_instrument(err, __func__, &instrument))
        return vent__no_reading;
    double d = station.pipe.width, p = station.gas.pressure;
    if (!(orifice.taps >= VENT_TAPS_CORNER && orifice.taps <= VENT_TAPS_FLANGE) ||
        !(orifice.bore_uncertainty >= 0)) {
        VENT__FAIL(VENT_E_ARGUMENT, "orifice", -1,
                   "%s: orifice is none; make it with vent_metering_orifice()", __func__);
        return vent__no_reading;
    }
    if (!vent__check_range(err, __func__, "station.pipe.width", "m", d, 0.01, 2) ||
        !vent__check_range(err, __func__, "orifice.bore", "m", orifice.bore, VENT__BETA_LEAST * d,
                           VENT__BETA_GREATEST * d) ||
        !vent__check_indication(err, __func__, &instrument, "the pressure difference", indication,
                                -1) ||
        !vent__check_range(err, __func__, "indication", "", indication, 0,
                           0.25 * p / instrument.scale))
        return vent__no_reading;
    double u = vent__whole_spread(&instrument, indication),
           difference = instrument.scale * indication;
    double b = orifice.bore / d, b4 = vent__square(vent__square(b));
    double flow = orifice_flow_at(&station, &orifice, difference);
    double above = fmin(instrument.scale * (indication + u), 0.25 * p);
    double by_instrument =
        (orifice_flow_at(&station, &orifice, above) -
         orifice_flow_at(&station, &orifice, instrument.scale * (indication - u))) /
        2;
    double reynolds = vent__reynolds_at(&station, flow / vent_pipe_area(station.pipe));
    bool outside = orifice_outside(&station, &orifice, reynolds);
    double bores = station.straight / d;
    double coefficient = (outside ? 2 : 1) * discharge_spread(d, b, reynolds) +
                         (bores < straight_needed(b, true) ? 0.0025 : 0);
    double relative = vent__square(coefficient) + vent__square(0.0175 * difference / (1.4 * p)) +
                      vent__square(2 * b4 / (1 - b4) * station.pipe.bore_uncertainty / d) +
                      vent__square(2 / (1 - b4) * orifice.bore_uncertainty / orifice.bore) +
                      vent__square(0.5 * station.density_uncertainty / station.gas.density);
    return (vent_reading){.value = flow,
                          .uncertainty = hypot(by_instrument, flow * sqrt(relative)),
                          .source = VENT__SOURCE_ISO_5167,
                          .flags = vent__instrument_flags(&instrument, indication) |
                                   (outside ? VENT_READING_RANGE : 0) |
                                   (bores < straight_needed(b, false) ? VENT_READING_STRAIGHT : 0)};
}
