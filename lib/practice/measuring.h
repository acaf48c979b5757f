/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What one point, a traverse and an orifice plate share: checks, and sources of uncertainty. */
#ifndef VENT_PRACTICE_MEASURING_H
#define VENT_PRACTICE_MEASURING_H

#include <ventstack/measure.h>

#include "base/fail.h"

#define VENT__PRESSURE_GREATEST 1e6 /* Pa, of any velocity pressure or difference */
#define VENT__PROFILE_EXPONENT  7.0 /* of the power law that stands for a profile's slope */
#define VENT__BETA_LEAST        0.1 /* bore of an orifice plate over that of the pipe, ISO 5167-2 */
#define VENT__BETA_GREATEST     0.75

static const vent_reading vent__no_reading = {.value = NAN, .uncertainty = NAN};

static inline bool vent__within(double value, double low, double high)
{
    return value >= low && value <= high;
}

static inline double vent__square(double x)
{
    return x * x;
}

/* Each refuses, with a sentence, what is none or out of bounds. */
static inline bool vent__check_count(vent_error *err, const char *function, const char *argument,
                                     int32_t value, int32_t low, int32_t high)
{
    return vent__check_range(err, function, argument, "", value, low, high);
}
/* A reading: its value within bounds, its uncertainty finite and not negative. */
bool vent__check_bounded(vent_error *err, const char *function, const char *argument,
                         const char *unit, vent_reading reading, double low, double high);
bool vent__check_instrument(vent_error *err, const char *function, const vent_instrument *i);
bool vent__check_pressure_instrument(vent_error *err, const char *function,
                                     const vent_instrument *i);
bool vent__check_probe(vent_error *err, const char *function, const vent_probe *p);
bool vent__check_pipe(vent_error *err, const char *function, vent_pipe pipe, bool round);
bool vent__check_station(vent_error *err, const char *function, const vent_station *s, bool round);
bool vent__check_blockage(vent_error *err, const char *function, double blockage);
/* An indication from which a velocity (or the flow through an orifice) is to come. */
bool vent__check_indication(vent_error *err, const char *function, const vent_instrument *i,
                            const char *what, double indication, int64_t index);

bool vent__is_pressure(const vent_instrument *i);

/* Standard uncertainty of an indication, in the unit of the scale: what all readings with the
 * instrument share, and what each has of its own. */
typedef struct vent__spread {
    double shared, own;
} vent__spread;

vent__spread vent__spread_at(const vent_instrument *i, double indication);
double vent__whole_spread(const vent_instrument *i, double indication);
uint32_t vent__instrument_flags(const vent_instrument *i, double indication);

/* Velocity at the head, as if the probe were not in the way. An indication below zero, which the
 * uncertainty of a small one may reach, is at rest. */
double vent__local_velocity(const vent_station *s, const vent_probe *probe,
                            const vent_instrument *i, double indication);
double vent__reynolds_at(const vent_station *s, double velocity);

/* Relative uncertainty that every velocity at a station has from the gas and the probe's factor. */
double vent__common_spread(const vent_station *s, const vent_probe *probe,
                           const vent_instrument *i);
/* Half of the correction 1 - blockage, as a share of what is left. */
double vent__blockage_spread(double blockage);
uint32_t vent__blockage_flags(double blockage);
/* Change of ln V, along a power law, for an error of place at a distance from the nearest wall. */
double vent__place_spread(const vent_probe *probe, double distance);

#endif
