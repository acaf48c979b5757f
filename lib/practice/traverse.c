/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "practice/measuring.h"

#include "base/fail.h"
#include "base/source_list.h"

#include <stdio.h>

static const double RULE_SPREAD = 0.005; /* least, of any rule */

enum { POINTS_MOST = 24, GROUPS_MOST = 12 };

/* Distance from the wall over the span, from the near wall to the middle; mirrored beyond. */
static const struct placing {
    int32_t shape, rule, points, source;
    double share[5];
} placings[] = {
    /* clang-format off */
    {VENT_PIPE_ROUND, VENT_TRAVERSE_LOG_LINEAR, 4, VENT__SOURCE_ISO_3966_MEMORY,
     {0.043, 0.290}},
    {VENT_PIPE_ROUND, VENT_TRAVERSE_LOG_LINEAR, 6, VENT__SOURCE_ISO_3966,
     {0.032, 0.135, 0.321}},
    {VENT_PIPE_ROUND, VENT_TRAVERSE_LOG_LINEAR, 8, VENT__SOURCE_ISO_3966,
     {0.021, 0.117, 0.184, 0.345}},
    {VENT_PIPE_ROUND, VENT_TRAVERSE_LOG_LINEAR, 10, VENT__SOURCE_ISO_3966,
     {0.019, 0.077, 0.153, 0.217, 0.361}},
    {VENT_PIPE_ROUND, VENT_TRAVERSE_LOG_TCHEBYCHEFF, 6, VENT__SOURCE_ISO_3966_MEMORY,
     {0.0321, 0.1374, 0.3123}},
    {VENT_PIPE_ROUND, VENT_TRAVERSE_LOG_TCHEBYCHEFF, 8, VENT__SOURCE_ISO_3966_MEMORY,
     {0.0238, 0.1000, 0.1938, 0.3343}},
    {VENT_PIPE_ROUND, VENT_TRAVERSE_LOG_TCHEBYCHEFF, 10, VENT__SOURCE_ISO_3966_MEMORY,
     {0.0189, 0.0764, 0.1554, 0.2150, 0.3567}},
    {VENT_PIPE_RECTANGULAR, VENT_TRAVERSE_LOG_TCHEBYCHEFF, 5, VENT__SOURCE_ISO_3966,
     {0.074, 0.288, 0.500}},
    {VENT_PIPE_RECTANGULAR, VENT_TRAVERSE_LOG_TCHEBYCHEFF, 6, VENT__SOURCE_ISO_3966,
     {0.061, 0.235, 0.437}},
    {VENT_PIPE_RECTANGULAR, VENT_TRAVERSE_LOG_TCHEBYCHEFF, 7, VENT__SOURCE_ISO_3966,
     {0.053, 0.203, 0.366, 0.500}},
    /* clang-format on */
};

/* Centres of equal areas: the k-th ring's middle by area, or the k-th strip's. */
static double equal_area(int32_t shape, int32_t points, int32_t k)
{
    if (shape == VENT_PIPE_RECTANGULAR)
        return (k + 0.5) / points;
    return 0.5 * (1 - sqrt((points - 2 * k - 1.0) / points));
}

/* Shares of the span on one line, and the citation they rest on; 0 where the rule has none such. */
static int32_t place(int32_t shape, int32_t rule, int32_t points, double *share)
{
    const struct placing *row = NULL;
    for (size_t i = 0; i < sizeof placings / sizeof *placings; ++i)
        if (placings[i].shape == shape && placings[i].rule == rule && placings[i].points == points)
            row = &placings[i];
    bool equal = rule == VENT_TRAVERSE_EQUAL_AREA && points >= 2 && points <= POINTS_MOST &&
                 (shape == VENT_PIPE_RECTANGULAR || points % 2 == 0);
    if (!row && !equal)
        return 0;
    for (int32_t k = 0; k < points; ++k) {
        int32_t mirrored = k < (points + 1) / 2 ? k : points - 1 - k;
        double near = row ? row->share[mirrored] : equal_area(shape, points, mirrored);
        share[k] = k == mirrored ? near : 1 - near;
    }
    return row ? row->source : VENT__SOURCE_EPA_METHOD_1;
}

static int32_t check_placing(vent_error *err, const char *function, const char *argument,
                             int32_t shape, int32_t rule, int32_t points, double *share)
{
    int32_t source = place(shape, rule, points, share);
    if (source)
        return source;
    vent__fail(err, VENT_E_ARGUMENT, function, argument, -1, points, NAN, NAN,
               "%s: %s is %d, which rule %d does not have in a %s pipe. Log-linear: round, 4, 6, 8 "
               "or 10; log-Tchebycheff: round, 6, 8 or 10, rectangular, 5, 6 or 7; equal area: 2 "
               "to 24, even if round",
               function, argument, (int)points, (int)rule,
               shape == VENT_PIPE_ROUND ? "round" : "rectangular");
    return 0;
}

/* Distances from the near wall, kept where the head can go; counts those it had to move. */
static int reachable(double span, int32_t points, const double *share, double head, double *y)
{
    int moved = 0;
    for (int32_t k = 0; k < points; ++k) {
        double wish = share[k] * span;
        y[k] = fmin(fmax(wish, head / 2), span - head / 2);
        moved += y[k] != wish;
    }
    return moved;
}

static bool check_apart(vent_error *err, const char *function, int32_t points, const double *y)
{
    for (int32_t k = 1; k < points; ++k)
        if (!(y[k] > y[k - 1]))
            return vent__fail(err, VENT_E_ARGUMENT, function, "probe", k, y[k], NAN, NAN,
                              "%s: the probe's head is so wide that points %d and %d fall "
                              "together; take fewer points or a smaller probe",
                              function, (int)k, (int)k + 1);
    return true;
}

int vent_traverse_positions(vent_pipe pipe, int32_t side, int32_t rule, int32_t points,
                            vent_probe probe, double *position, vent_error *err)
{
    double share[POINTS_MOST], y[POINTS_MOST];
    if (vent__failed(err) || !vent__check_pipe(err, __func__, pipe, false) ||
        !vent__check_count(err, __func__, "side", side, 0, 1) ||
        !vent__check_probe(err, __func__, &probe) || !VENT__POINTER(position) ||
        !check_placing(err, __func__, "points", pipe.shape, rule, points, share))
        return -1;
    int moved = reachable(side ? pipe.depth : pipe.width, points, share, probe.head, y);
    if (!check_apart(err, __func__, points, y))
        return -1;
    for (int32_t k = 0; k < points; ++k)
        position[k] = y[k] + probe.offset;
    return moved;
}

/* What equal weights make too much of the mean of a 1/7 power law on one line. */
static double rule_error(int32_t shape, int32_t points, const double *share)
{
    double n = VENT__PROFILE_EXPONENT, sum = 0;
    for (int32_t k = 0; k < points; ++k)
        sum += pow(2 * fmin(share[k], 1 - share[k]), 1 / n);
    double exact = shape == VENT_PIPE_ROUND ? vent_mean_to_centre_power(n) : n / (n + 1);
    return sum / points / exact - 1;
}

typedef struct traverse {
    const vent_station *station;
    const vent_probe *probe;
    const vent_instrument *instrument;
    int32_t lines, points;
    const double *indication;
    double y[POINTS_MOST];
} traverse;

/* Velocity of one point, its indication shifted by so many of what its spread is. */
static double traverse_velocity(const traverse *t, int32_t at, double shared, double own)
{
    double x = t->indication[at];
    vent__spread s = vent__spread_at(t->instrument, x);
    double blockage = t->probe->stem * t->y[at % t->points] / vent_pipe_area(t->station->pipe);
    return (1 - blockage) * vent__local_velocity(t->station, t->probe, t->instrument,
                                                 x + shared * s.shared + own * s.own);
}

static double traverse_mean(const traverse *t, double shared)
{
    double sum = 0;
    for (int32_t i = 0; i < t->lines * t->points; ++i)
        sum += traverse_velocity(t, i, shared, 0);
    return sum / (t->lines * t->points);
}

/* Uncertainty of the mean from what each point has of its own: the scale's step, and its place. */
static double own_spread(const traverse *t)
{
    double sum = 0, last = t->points - 1, span = t->y[0] + t->y[(int)last];
    for (int32_t i = 0; i < t->lines * t->points; ++i) {
        double y = t->y[i % t->points];
        double step = (traverse_velocity(t, i, 0, 1) - traverse_velocity(t, i, 0, -1)) / 2;
        double place =
            traverse_velocity(t, i, 0, 0) * vent__place_spread(t->probe, fmin(y, span - y));
        sum += vent__square(step) + vent__square(place);
    }
    return sqrt(sum) / (t->lines * t->points);
}

/* The radius of a round pipe, or the quarter of a rectangular one, a point lies in; -1 in none. */
static int32_t group_of(const traverse *t, int32_t at)
{
    int32_t line = at / t->points, point = at % t->points;
    bool middle = 2 * point + 1 == t->points;
    int32_t half = 2 * point + 1 > t->points;
    if (t->station->pipe.shape == VENT_PIPE_ROUND)
        return 2 * line + half;
    return middle || 2 * line + 1 == t->lines ? -1 : 2 * (2 * line + 1 > t->lines) + half;
}

/* Standard deviation of the mean from the spread of those groups, each of which would do alone. */
static double uneven_spread(const traverse *t)
{
    double sum[GROUPS_MOST] = {0}, mean = 0, squares = 0;
    int32_t count[GROUPS_MOST] = {0}, groups = 0;
    for (int32_t i = 0; i < t->lines * t->points; ++i) {
        int32_t group = group_of(t, i);
        if (group < 0)
            continue;
        sum[group] += traverse_velocity(t, i, 0, 0);
        ++count[group];
        groups = group + 1 > groups ? group + 1 : groups;
    }
    for (int32_t g = 0; g < groups; ++g)
        mean += sum[g] / count[g] / groups;
    for (int32_t g = 0; g < groups; ++g)
        squares += vent__square(sum[g] / count[g] - mean);
    return sqrt(squares / (groups - 1) / groups);
}

static uint32_t uneven_flags(const traverse *t)
{
    int32_t n = t->lines * t->points, above = 0;
    double power = vent__is_pressure(t->instrument) ? 1 : 2, most = 0;
    for (int32_t i = 0; i < n; ++i)
        most = fmax(most, pow(t->indication[i], power));
    for (int32_t i = 0; i < n; ++i)
        above += pow(t->indication[i], power) > 0.1 * most;
    return above < 0.75 * n ? VENT_READING_UNEVEN : 0;
}

static bool check_indications(vent_error *err, const char *function, const traverse *t)
{
    for (int32_t i = 0; i < t->lines * t->points; ++i) {
        char what[64];
        snprintf(what, sizeof what, "the velocity pressure at point %d of line %d",
                 (int)(i % t->points) + 1, (int)(i / t->points) + 1);
        if (!vent__check_indication(err, function, t->instrument, what, t->indication[i], i))
            return false;
    }
    return true;
}

vent_reading vent_traverse_flow(vent_station station, vent_probe probe, vent_instrument instrument,
                                int32_t rule, int32_t lines, int32_t points,
                                const double *indication, vent_error *err)
{
    double share[POINTS_MOST], across[POINTS_MOST] = {0};
    if (vent__failed(err) || !vent__check_station(err, __func__, &station, false) ||
        !vent__check_probe(err, __func__, &probe) ||
        !vent__check_instrument(err, __func__, &instrument) || !VENT__POINTER(indication))
        return vent__no_reading;
    bool round = station.pipe.shape == VENT_PIPE_ROUND;
    int32_t source =
        check_placing(err, __func__, "points", station.pipe.shape, rule, points, share);
    if (!source ||
        (round ? !vent__check_count(err, __func__, "lines", lines, 1, GROUPS_MOST / 2)
               : !check_placing(err, __func__, "lines", station.pipe.shape, rule, lines, across)))
        return vent__no_reading;
    traverse t = {&station, &probe, &instrument, lines, points, indication, {0}};
    double span = station.pipe.width;
    reachable(span, points, share, probe.head, t.y);
    double blockage = probe.stem * span / 2 / vent_pipe_area(station.pipe);
    if (!check_apart(err, __func__, points, t.y) || !check_indications(err, __func__, &t) ||
        !vent__check_blockage(err, __func__, 2 * blockage))
        return vent__no_reading;
    double mean = traverse_mean(&t, 0), area = vent_pipe_area(station.pipe);
    double shared = (traverse_mean(&t, 1) - traverse_mean(&t, -1)) / 2;
    double by_rule = rule_error(station.pipe.shape, points, share) +
                     (round ? 0 : rule_error(station.pipe.shape, lines, across));
    double relative = vent__square(vent__common_spread(&station, &probe, &instrument)) +
                      vent__square(fmax(fabs(by_rule), RULE_SPREAD)) +
                      vent__square(vent__blockage_spread(blockage)) +
                      vent__square(2 * station.pipe.bore_uncertainty / span);
    double u = sqrt(vent__square(shared) + vent__square(own_spread(&t)) +
                    vent__square(uneven_spread(&t)) + vent__square(mean) * relative);
    return (vent_reading){.value = area * mean,
                          .uncertainty = area * u,
                          .source = source,
                          .flags = uneven_flags(&t) | vent__blockage_flags(blockage) |
                                   (2 * shared >= mean ? VENT_READING_NOT_MEASURABLE : 0)};
}
