/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A flow from one reading at the centre of a pipe. */
#include "base/fail.h"
#include "base/source_list.h"
#include "practice/measuring.h"

#include <ventstack/friction.h>

static const double CENTRE_DEFECT = 4.28; /* friction velocities, Zagarola and Smits */
static const double LAMINAR_END = 2000, TURBULENT_START = 4000;
static const double RATIO_SPREAD = 0.02, RATIO_SPREAD_LAMINAR = 0.01;

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
        (ratio && !vent__check_bounded(err, __func__, "ratio", "", *ratio, 0.3, 1.5)))
        return vent__no_reading;
    double blockage = vent_probe_blockage(station.pipe, probe, station.pipe.width / 2);
    if (!vent__check_blockage(err, __func__, blockage))
        return vent__no_reading;
    centre c = {&station, &probe, &instrument, 1 - blockage, ratio ? ratio->value : (double)NAN};
    return centre_reading(&c, indication, ratio ? ratio->uncertainty : 0);
}
