/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What an instrument can tell of a flow that is expected, and what would do where it cannot. */
#include "base/fail.h"
#include "practice/measuring.h"

#include <stdio.h>
#include <ventstack/units.h>

_Static_assert(sizeof(vent_advice) == 384, "vent_advice is frozen");

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
