/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/family.h"
#include "base/fail.h"

#include <string.h>
#include <ventstack/units.h>

_Static_assert(sizeof(vent_termination) == 64, "vent_termination is frozen");
_Static_assert(sizeof(vent_stream) == 40, "vent_stream is frozen");

/* ---- the cases ---------------------------------------------------------------------------- */

/* What each termination adds to the plain end of a pipe: along the way, to the exit's own 1;
 * against it, to the entry into a pipe end of the wall thickness plastic pipe has. */

#define TURBULENT 4e3, 1e8

/* The kinetic energy of a turbulent profile is 1.03 to 1.06 times that of the mean velocity. */
#define EXIT .plain = 1, .plain_uncertainty = 0.05, .plain_source = VENT__SOURCE_EXIT
/* Sheet metal ends are thinner and cost up to 1. */
#define ENTRY                                                                                      \
    .plain = VENT__THICK_END_ENTRY, .plain_uncertainty = 0.12,                                     \
    .plain_source = VENT__SOURCE_RENNELS_REENTRANT

static vent__loss nothing(const double *geometry, double bore)
{
    (void)geometry, (void)bore;
    return (vent__loss){0};
}

static const vent__law plain_exit = {
    EXIT, .formula = {{VENT__SOURCE_EXIT, TURBULENT, nothing, NULL, NULL}}};
static const vent__law plain_entry = {
    ENTRY, .formula = {{VENT__SOURCE_RENNELS_REENTRANT, TURBULENT, nothing, NULL, NULL}}};

/* The bend's coefficient holds for 30 bores of straight pipe behind it. Without any, sources do not
 * agree even on the sign of the change: Miller's correction runs from 0.6 at a coefficient of 0.1
 * over 0.9 at 0.15 to 2.7 from 0.25 on, and is below 1 again within one bore. None is applied. */
#define SHORT_OUTLET 0.6

static const vent__law end_bend = {
    EXIT, .relative = SHORT_OUTLET,
    .formula = {{VENT__SOURCE_RENNELS_BEND, TURBULENT, vent__bend_rennels, NULL, NULL},
                {VENT__SOURCE_IDELCHIK_BEND, TURBULENT, vent__bend_idelchik, NULL, NULL}}};
static const vent__law entry_bend = {
    ENTRY, .relative = 0.25,
    .formula = {{VENT__SOURCE_RENNELS_BEND, TURBULENT, vent__bend_rennels, NULL, NULL},
                {VENT__SOURCE_IDELCHIK_BEND, TURBULENT, vent__bend_idelchik, NULL, NULL}}};

static vent__loss return_rennels(const double *geometry, double bore)
{
    return vent__bend_rennels((double[]){VENT_PI, geometry[0]}, bore);
}

static vent__loss return_idelchik(const double *geometry, double bore)
{
    return vent__bend_idelchik((double[]){VENT_PI, geometry[0]}, bore);
}

static const vent__law end_return = {
    EXIT, .relative = SHORT_OUTLET,
    .formula = {{VENT__SOURCE_RENNELS_BEND, TURBULENT, return_rennels, NULL, NULL},
                {VENT__SOURCE_IDELCHIK_BEND, TURBULENT, return_idelchik, NULL, NULL}}};
static const vent__law entry_return = {
    ENTRY, .relative = 0.25,
    .formula = {{VENT__SOURCE_RENNELS_BEND, TURBULENT, return_rennels, NULL, NULL},
                {VENT__SOURCE_IDELCHIK_BEND, TURBULENT, return_idelchik, NULL, NULL}}};

/* Each arm carries half the flow, so its velocity pressure is a quarter of the stem's. */
static const double ARM_PRESSURE = 0.25;

static vent__loss tee_out(const double *geometry, double bore)
{
    vent__loss loss = vent__tee_dividing_idelchik(geometry, bore);
    loss.k0 += ARM_PRESSURE - 1;
    return loss;
}

static vent__loss tee_in(const double *geometry, double bore)
{
    vent__loss loss = vent__tee_joining_idelchik(geometry, bore);
    loss.k0 += VENT__THICK_END_ENTRY * (ARM_PRESSURE - 1);
    return loss;
}

/* The source's k of 1.5 is for a standard threaded tee and falls to 0.3 (from memory) for a smooth
 * one: 0.625 to 0.325 above the exit's own. */
static const vent__law end_tee = {
    EXIT, .relative = 0.3,
    .formula = {{VENT__SOURCE_IDELCHIK_TEE, TURBULENT, tee_out, NULL, NULL}}};
static const vent__law entry_tee = {
    ENTRY, .relative = 0.5,
    .formula = {{VENT__SOURCE_IDELCHIK_TEE, TURBULENT, tee_in, NULL, NULL}}};

static double wire_of(const double *geometry)
{
    return geometry[0];
}

/* Blevins (1984) lies within 22 % at Reynolds numbers of the wire from 20 to 400. */
#define SCREEN                                                                                     \
    .relative = 0.20,                                                                              \
    .formula = {{VENT__SOURCE_IDELCHIK_SCREEN, 50, 1e6, vent__screen_idelchik, wire_of, NULL}}

static const vent__law end_guard = {EXIT, SCREEN};
static const vent__law entry_guard = {ENTRY, SCREEN};

/* 30 %, as the values are from memory; two printed designs lie at 0.2 to 0.25 and at 1.0. */
static const vent__law end_cap = {
    EXIT, .relative = 0.3,
    .formula = {{VENT__SOURCE_WEATHER_CAP, TURBULENT, vent__weather_cap, NULL, NULL}}};
/* Drawn in under the cap: nothing published was found; the same, with the whole of it in doubt. */
static const vent__law entry_cap = {
    ENTRY, .relative = 1,
    .formula = {{VENT__SOURCE_WEATHER_CAP, TURBULENT, vent__weather_cap, NULL, NULL}}};

/* ---- where the air goes ------------------------------------------------------------------- */

static int straight_up(const double *geometry, vent_stream *streams)
{
    (void)geometry;
    streams[0] = (vent_stream){1, {0, 0, 1}, 1};
    return 1;
}

static int along_the_elbow(const double *geometry, vent_stream *streams)
{
    streams[0] = (vent_stream){1, {sin(geometry[0]), 0, cos(geometry[0])}, 1};
    return 1;
}

static int both_ways(const double *geometry, vent_stream *streams)
{
    (void)geometry;
    streams[0] = (vent_stream){0.5, {1, 0, 0}, 1};
    streams[1] = (vent_stream){0.5, {-1, 0, 0}, 1};
    return 2;
}

/* Level all around, in eight equal streams through the cylinder under the cap's edge. */
static int under_the_cap(const double *geometry, vent_stream *streams)
{
    enum { AROUND = 8 };
    double gap_area = 4 * geometry[0];
    for (int i = 0; i < AROUND; ++i) {
        double angle = i * (2 * VENT_PI / AROUND);
        streams[i] = (vent_stream){1.0 / AROUND, {cos(angle), sin(angle), 0}, gap_area / AROUND};
    }
    return AROUND;
}

static int straight_down(const double *geometry, vent_stream *streams)
{
    (void)geometry;
    streams[0] = (vent_stream){1, {0, 0, -1}, 1};
    return 1;
}

/* ---- the families ------------------------------------------------------------------------- */

typedef struct termination_kind {
    vent__family family;
    int (*streams)(const double *geometry, vent_stream *streams);
} termination_kind;

/* The last two numbers of a parameter are the source's own range. */
#define RADIUS_RATIO                                                                               \
    {                                                                                              \
        "radius_ratio", "", 0.4, 10, 0.5, 10                                                       \
    }

static const termination_kind kinds[VENT_TERMINATION_END] = {
    [VENT_TERMINATION_OPEN_END] = {{"open end", &plain_exit, &plain_entry, false, 0, {{0}}},
                                   straight_up},
    [VENT_TERMINATION_ELBOW] = {{"elbow at the end",
                                 &end_bend,
                                 &entry_bend,
                                 false,
                                 2,
                                 {{"angle", "rad", 0, VENT__HALF_TURN, 0, VENT__HALF_TURN},
                                  RADIUS_RATIO}},
                                along_the_elbow},
    [VENT_TERMINATION_TEE] = {{"tee at the end", &end_tee, &entry_tee, false, 0, {{0}}}, both_ways},
    [VENT_TERMINATION_GUARD] = {{"guard",
                                 &end_guard,
                                 &entry_guard,
                                 false,
                                 2,
                                 {{"wire", "m", 1e-5, 0.02, 1e-5, 0.02},
                                  {"opening", "m", 1e-5, 1, 1e-5, 1}}},
                                straight_up},
    [VENT_TERMINATION_RAIN_CAP] =
        {{"rain cap", &end_cap, &entry_cap, false, 1, {{"gap_ratio", "", 0.4, 1.2, 0.45, 1}}},
         under_the_cap},
    [VENT_TERMINATION_RETURN] =
        {{"return bend at the end", &end_return, &entry_return, false, 1, {RADIUS_RATIO}},
         straight_down},
};

static const termination_kind *kind_of(int number)
{
    bool known = number > VENT_TERMINATION_NONE && number < VENT_TERMINATION_END;
    return known ? &kinds[number] : NULL;
}

static const vent__family *family_of(int number)
{
    const termination_kind *kind = kind_of(number);
    return kind ? &kind->family : NULL;
}

/* ---- guards ------------------------------------------------------------------------------- */

static const double LEAST_FREE_AREA = 0.05;

double vent_guard_free_area(double wire, double opening)
{
    if (!(wire >= 0 && wire <= 1e6 && opening > 0 && opening <= 1e6))
        return NAN;
    double open_share = opening / (opening + wire);
    return open_share * open_share;
}

static bool guard_lets_air_out(const double *geometry, const char *function, vent_error *err)
{
    double free_area = vent_guard_free_area(geometry[0], geometry[1]);
    if (free_area >= LEAST_FREE_AREA)
        return true;
    return vent__fail(err, VENT_E_ARGUMENT, function, "opening", -1, geometry[1], NAN, NAN,
                      "%s: opening %.6g m leaves %.3g of the area free between wires of "
                      "%.6g m; it must leave at least %.2g",
                      function, geometry[1], free_area, geometry[0], LEAST_FREE_AREA);
}

/* ---- constructors ------------------------------------------------------------------------- */

static vent__part part_of(const vent_termination *termination)
{
    return (vent__part){family_of(termination->family), termination->geometry, termination->factor,
                        termination->source};
}

static bool is_sound(const vent_termination *termination, const char *function, vent_error *err)
{
    vent__part part = part_of(termination);
    return vent__family_check(&part, function, err) &&
           (termination->family != VENT_TERMINATION_GUARD ||
            guard_lets_air_out(termination->geometry, function, err));
}

static const vent_termination none = {.family = VENT_TERMINATION_NONE, .factor = NAN};

static vent_termination make(int number, const double *geometry, const char *function,
                             vent_error *err)
{
    int parameters = family_of(number)->parameters;
    vent_termination termination = {.family = number, .factor = 1};
    if (parameters > 0)
        memcpy(termination.geometry, geometry, (size_t)parameters * sizeof *geometry);
    if (vent__failed(err) || !is_sound(&termination, function, err))
        return none;
    return termination;
}

vent_termination vent_open_end(void)
{
    return make(VENT_TERMINATION_OPEN_END, NULL, __func__, NULL);
}

vent_termination vent_end_elbow(double angle, double radius_ratio, vent_error *err)
{
    return make(VENT_TERMINATION_ELBOW, (double[]){angle, radius_ratio}, __func__, err);
}

vent_termination vent_end_tee(void)
{
    return make(VENT_TERMINATION_TEE, NULL, __func__, NULL);
}

vent_termination vent_end_guard(double wire, double opening, vent_error *err)
{
    return make(VENT_TERMINATION_GUARD, (double[]){wire, opening}, __func__, err);
}

vent_termination vent_rain_cap(double gap_ratio, vent_error *err)
{
    return make(VENT_TERMINATION_RAIN_CAP, &gap_ratio, __func__, err);
}

vent_termination vent_end_return(double radius_ratio, vent_error *err)
{
    return make(VENT_TERMINATION_RETURN, &radius_ratio, __func__, err);
}

/* ---- the law, for the solver -------------------------------------------------------------- */

void vent__termination_loss(const vent_termination *termination, double bore, vent__loss *forward,
                            vent__loss *reverse)
{
    vent__part part = part_of(termination);
    vent__family_loss(&part, bore, forward, reverse);
}

bool vent__termination_has_extra(const vent_termination *termination, double bore)
{
    vent__part part = part_of(termination);
    return vent__family_has_extra(&part, bore);
}

vent__slope vent__termination_extra(const vent_termination *termination, double bore,
                                    double reynolds)
{
    vent__part part = part_of(termination);
    return vent__family_extra(&part, bore, reynolds);
}

vent_coefficient vent__termination_state(const vent_termination *termination, double bore,
                                         double reynolds, double f)
{
    vent__part part = part_of(termination);
    return vent__family_state(&part, bore, reynolds, f);
}

int32_t vent__termination_end_source(const vent_termination *termination, bool reversed)
{
    return vent__family_plain_source(family_of(termination->family), reversed);
}

bool vent__termination_check(const vent_termination *termination, const char *function,
                             vent_error *err)
{
    if (!kind_of(termination->family))
        return vent__fail(err, VENT_E_ARGUMENT, function, "termination", -1, termination->family,
                          VENT_TERMINATION_NONE + 1, VENT_TERMINATION_END - 1,
                          "%s: termination is none that a constructor of termination.h made "
                          "(family %d)",
                          function, termination->family);
    return is_sound(termination, function, err);
}

/* ---- for everyone ------------------------------------------------------------------------- */

vent_coefficient vent_termination_coefficient(vent_termination termination, vent_pipe pipe,
                                              double reynolds, vent_error *err)
{
    if (vent__failed(err) || !vent__termination_check(&termination, __func__, err))
        return (vent_coefficient){NAN, NAN, VENT__SOURCE_NONE, 0};
    vent__part part = part_of(&termination);
    return vent__family_in_pipe(&part, pipe, reynolds, __func__, err);
}

int vent_termination_alternatives(vent_termination termination, vent_pipe pipe, double reynolds,
                                  int room, vent_coefficient *list, vent_error *err)
{
    if (vent__failed(err) || !vent__termination_check(&termination, __func__, err))
        return 0;
    vent__part part = part_of(&termination);
    return vent__family_alternatives(&part, pipe, reynolds, room, list, __func__, err);
}

vent_termination vent_termination_by_source(vent_termination termination, int source,
                                            vent_error *err)
{
    termination.source = source;
    if (vent__failed(err) || !vent__termination_check(&termination, __func__, err))
        return none;
    return termination;
}

int vent_termination_streams(vent_termination termination, vent_stream streams[8])
{
    const termination_kind *kind = kind_of(termination.family);
    return kind && streams ? kind->streams(termination.geometry, streams) : 0;
}

bool vent_termination_is_upward(vent_termination termination)
{
    vent_stream streams[8];
    int count = vent_termination_streams(termination, streams);
    for (int i = 0; i < count; ++i) /* 45 degrees itself counts, whatever rounding made of it */
        if (!(streams[i].direction[2] >= sqrt(0.5) - 1e-12))
            return false;
    return count > 0;
}

const char *vent_termination_name(int family)
{
    const vent__family *known = family_of(family);
    return known ? known->name : "unknown";
}

int vent_termination_parameter_count(int family)
{
    const vent__family *known = family_of(family);
    return known ? known->parameters : 0;
}

bool vent_termination_parameter(int family, int parameter, vent_parameter_range *range)
{
    return vent__family_parameter(family_of(family), parameter, range);
}

int vent_termination_family_count(void)
{
    return VENT_TERMINATION_END - 1;
}

bool vent_termination_formula(int family, bool reversed, int index, vent_formula *formula)
{
    return vent__family_formula(family_of(family), reversed, index, formula);
}
