/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Terminations as values: made, checked, blocked, iced, and asked for what they do. The kinds themselves
 * are in termination_kinds.c. */
#include "physics/termination_kinds.h"
#include "base/fail.h"

#include <string.h>

_Static_assert(sizeof(vent_termination) == 64, "vent_termination is frozen");

static const vent__family *family_of(int number)
{
    const vent__termination_kind *kind = vent__termination_kind_of(number);
    return kind ? &kind->family : NULL;
}

/* The last number of every termination's geometry: the share of the end that leaves, frost or webs
 * have shut. */
static const vent_parameter_range blocked_range = {
    "blocked", "", 0, 1 - VENT__LEAST_FREE_AREA, 0, 1 - VENT__LEAST_FREE_AREA};

/* ---- constructors ------------------------------------------------------------------------- */

static vent__part part_of(const vent_termination *termination)
{
    const vent__family *family = family_of(termination->family);
    if (termination->family == VENT_TERMINATION_OPEN_END && vent__is_blocked(termination->geometry))
        family = &vent__blocked_open_end;
    return (vent__part){family, termination->geometry, termination->factor, termination->source};
}

static bool is_sound(const vent_termination *termination, const char *function, vent_error *err)
{
    vent__part part = part_of(termination);
    const vent_parameter_range *b = &blocked_range;
    return vent__family_check(&part, function, err) &&
           vent__check_range(err, function, b->name, b->unit,
                             termination->geometry[VENT_TERMINATION_BLOCKED], b->low, b->high);
}

static const vent_termination none = {.family = VENT_TERMINATION_NONE, .factor = NAN};

static vent_termination make(int number, const double *geometry, const char *function,
                             vent_error *err)
{
    size_t parameters = (size_t)family_of(number)->parameters;
    vent_termination termination = {.family = number, .factor = 1};
    if (geometry) /* NULL where there are none */
        memcpy(termination.geometry, geometry, parameters * sizeof *geometry);
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

vent_termination vent_end_dome(double wire, double opening, double area_ratio, vent_error *err)
{
    return make(VENT_TERMINATION_DOME, (double[]){wire, opening, area_ratio}, __func__, err);
}

vent_termination vent_end_cone(double bore_ratio, double cone_angle, vent_error *err)
{
    return make(VENT_TERMINATION_CONE, (double[]){bore_ratio, cone_angle}, __func__, err);
}

vent_termination vent_drain_stack(double bore_ratio, vent_error *err)
{
    return make(VENT_TERMINATION_DRAIN_STACK, &bore_ratio, __func__, err);
}

/* ---- blockage and ice ---------------------------------------------------------------------- */

vent_termination vent_termination_blocked(vent_termination termination, double free_area,
                                          vent_error *err)
{
    if (vent__failed(err) || !vent__termination_check(&termination, __func__, err) ||
        !VENT__RANGE(free_area, "", VENT__LEAST_FREE_AREA, 1))
        return none;
    termination.geometry[VENT_TERMINATION_BLOCKED] = 1 - free_area;
    return is_sound(&termination, __func__, err) ? termination : none;
}

static bool is_mesh(int family)
{
    return family == VENT_TERMINATION_GUARD || family == VENT_TERMINATION_DOME;
}

vent_termination vent_termination_iced(vent_termination termination, double thickness,
                                       vent_error *err)
{
    if (vent__failed(err) || !vent__termination_check(&termination, __func__, err) ||
        !VENT__RANGE(thickness, "m", 0, 0.01))
        return none;
    if (!is_mesh(termination.family)) {
        vent__fail(err, VENT_E_ARGUMENT, __func__, "termination", -1, termination.family,
                   VENT_TERMINATION_GUARD, VENT_TERMINATION_DOME,
                   "%s: termination is a \"%s\"; only a guard has wires that ice over (see "
                   "vent_termination_blocked for others)",
                   __func__, vent_termination_name(termination.family));
        return none;
    }
    termination.geometry[0] += 2 * thickness;
    termination.geometry[1] -= 2 * thickness;
    return is_sound(&termination, __func__, err) ? termination : none;
}

/* ---- the law, for the solver -------------------------------------------------------------- */

void vent__termination_loss(const vent_termination *termination, double bore, vent__loss *forward,
                            vent__loss *reverse)
{
    vent__part part = part_of(termination);
    vent__family_loss(&part, bore, forward, reverse);
}

bool vent__termination_feels_bore(const vent_termination *termination)
{
    vent__part part = part_of(termination);
    return vent__family_feels_bore(&part);
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
    if (vent__is_blocked(termination->geometry))
        return reversed ? VENT__SOURCE_ORIFICE_ENTRY : VENT__SOURCE_RENNELS_ORIFICE_EXIT;
    return vent__family_plain_source(family_of(termination->family), reversed);
}

bool vent__termination_check(const vent_termination *termination, const char *function,
                             vent_error *err)
{
    if (!vent__termination_kind_of(termination->family))
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
    const vent__termination_kind *kind = vent__termination_kind_of(termination.family);
    int count = kind && streams ? kind->streams(termination.geometry, streams) : 0;
    for (int i = 0; i < count; ++i)
        streams[i].area_ratio *= vent__free_share(termination.geometry);
    return count;
}

double vent_termination_rain_openness(vent_termination termination)
{
    const vent__termination_kind *kind = vent__termination_kind_of(termination.family);
    if (!kind)
        return NAN;
    return kind->rain(termination.geometry) * vent__free_share(termination.geometry);
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
    bool known = family_of(family) && range;
    if (known && parameter == VENT_TERMINATION_BLOCKED)
        *range = blocked_range;
    return known && (parameter == VENT_TERMINATION_BLOCKED ||
                     vent__family_parameter(family_of(family), parameter, range));
}

int vent_termination_family_count(void)
{
    return VENT_TERMINATION_END - 1;
}

bool vent_termination_formula(int family, bool reversed, int index, vent_formula *formula)
{
    return vent__family_formula(family_of(family), reversed, index, formula);
}
