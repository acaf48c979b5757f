/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/family.h"
#include "base/fail.h"

#include <limits.h>
#include <stdio.h>
#include <string.h>
#include <ventstack/friction.h>
#include <ventstack/units.h>

_Static_assert(sizeof(vent_parameter_range) == 48, "vent_parameter_range is frozen");
_Static_assert(sizeof(vent_formula) == 24, "vent_formula is frozen");

/* ---- bounds ------------------------------------------------------------------------------- */

static const double FACTOR_LIMIT = 1000;

/* Whether a law has a formula of this source. */
static bool law_has(const vent__law *law, int source)
{
    for (int i = 0; i < VENT__FORMULAS && law->formula[i].loss; ++i)
        if (law->formula[i].source == source)
            return true;
    return false;
}

/* Appends the sources of a law as "2 (author, year), " to a list, leaving out those of `but`. */
static void list_sources(const vent__law *law, const vent__law *but, char *list, size_t room)
{
    for (int i = 0; i < VENT__FORMULAS && law->formula[i].loss; ++i) {
        vent_source source;
        size_t used = strlen(list);
        if ((but && law_has(but, law->formula[i].source)) ||
            !vent_source_find(law->formula[i].source, &source))
            continue;
        snprintf(list + used, room - used, "%s%d (%s, %d)", used ? ", " : "",
                 law->formula[i].source, source.author, source.year);
    }
}

static bool check_source(const vent__part *part, const char *function, vent_error *err)
{
    const vent__family *family = part->family;
    if (part->source == VENT__SOURCE_NONE || law_has(family->along, part->source) ||
        law_has(family->against, part->source))
        return true;
    char list[200] = "";
    list_sources(family->along, NULL, list, sizeof list);
    list_sources(family->against, family->along, list, sizeof list);
    return vent__fail(err, VENT_E_ARGUMENT, function, "source", -1, part->source, NAN, NAN,
                      "%s: source is %d, which has no formula for \"%s\"; it must be 0 (the "
                      "library's choice)%s%s",
                      function, part->source, family->name, list[0] ? " or one of " : "", list);
}

bool vent__family_check(const vent__part *part, const char *function, vent_error *err)
{
    for (int i = 0; i < part->family->parameters; ++i) {
        const vent_parameter_range *p = &part->family->parameter[i];
        if (!vent__check_range(err, function, p->name, p->unit, part->geometry[i], p->low, p->high))
            return false;
    }
    return (!part->family->sound || part->family->sound(part->geometry, function, err)) &&
           vent__check_range(err, function, "factor", "", part->factor, 0, FACTOR_LIMIT) &&
           check_source(part, function, err);
}

bool vent__family_parameter(const vent__family *family, int parameter, vent_parameter_range *range)
{
    if (!family || !range || parameter < 0 || parameter >= family->parameters)
        return false;
    *range = family->parameter[parameter];
    return true;
}

bool vent__family_formula(const vent__family *family, bool reversed, int index,
                          vent_formula *formula)
{
    if (!family || !formula || index < 0 || index >= VENT__FORMULAS)
        return false;
    const vent__formula *known = &(reversed ? family->against : family->along)->formula[index];
    if (!known->loss)
        return false;
    *formula = (vent_formula){.source = known->source,
                              .own_length = known->length != NULL,
                              .reynolds_low = known->reynolds_low,
                              .reynolds_high = known->reynolds_high};
    return true;
}

/* ---- which law, whose formula ------------------------------------------------------------- */

static const vent__law *law_for(const vent__part *part, double bore, bool reversed)
{
    bool as_listed = !part->family->by_bore || part->geometry[0] >= bore;
    return as_listed != reversed ? part->family->along : part->family->against;
}

static const vent__formula *chosen(const vent__law *law, int source)
{
    for (int i = 0; i < VENT__FORMULAS && law->formula[i].loss; ++i)
        if (law->formula[i].source == source)
            return &law->formula[i];
    return &law->formula[0];
}

/* ---- for the solver ----------------------------------------------------------------------- */

static vent__loss loss_of(const vent__part *part, double bore, bool reversed)
{
    const vent__law *law = law_for(part, bore, reversed);
    vent__loss loss = times(part->factor, chosen(law, part->source)->loss(part->geometry, bore));
    loss.k0 += law->plain;
    return loss;
}

void vent__family_loss(const vent__part *part, double bore, vent__loss *along, vent__loss *against)
{
    *along = loss_of(part, bore, false);
    bool alike = part->family->along == part->family->against;
    *against = alike ? *along : loss_of(part, bore, true);
}

static bool is_number(vent__loss loss)
{
    return !isnan(loss.k0) && !isnan(loss.k1) && !isnan(loss.kf);
}

/* What is still a number for a bore that is none does not depend on it: in no formula does a comparison
 * stop a NaN (a test asks every one). */
bool vent__family_feels_bore(const vent__part *part)
{
    vent__loss along, against;
    vent__family_loss(part, NAN, &along, &against);
    return part->family->by_bore || !is_number(along) || !is_number(against);
}

bool vent__family_has_extra(const vent__part *part, double bore)
{
    return chosen(law_for(part, bore, false), part->source)->extra ||
           chosen(law_for(part, bore, true), part->source)->extra;
}

vent__slope vent__family_extra(const vent__part *part, double bore, double reynolds)
{
    const vent__formula *formula = chosen(law_for(part, bore, reynolds < 0), part->source);
    if (!formula->extra)
        return (vent__slope){0, 0};
    vent__slope extra = formula->extra(part->geometry, bore, fabs(reynolds));
    return (vent__slope){part->factor * extra.value, part->factor * extra.slope};
}

/* ---- value, uncertainty, source ----------------------------------------------------------- */

/* Where and how a part is used: at Re > 0. */
typedef struct state {
    double bore, reynolds, friction;
} state;

static double formula_value(const vent__formula *formula, const double *geometry, state at)
{
    vent__loss loss = formula->loss(geometry, at.bore);
    double extra = formula->extra ? formula->extra(geometry, at.bore, at.reynolds).value : 0;
    return loss.k0 + loss.k1 / at.reynolds + loss.kf * at.friction + extra;
}

static double half_spread(const vent__law *law, const double *geometry, state at)
{
    double low = INFINITY, high = -INFINITY;
    for (int i = 0; i < VENT__FORMULAS && law->formula[i].loss; ++i) {
        double k = formula_value(&law->formula[i], geometry, at);
        low = fmin(low, k);
        high = fmax(high, k);
    }
    return (high - low) / 2;
}

static uint32_t flags_of(const vent__family *family, const vent__formula *formula,
                         const double *geometry, state at)
{
    uint32_t flags = 0;
    for (int i = 0; i < family->parameters; ++i) {
        const vent_parameter_range *p = &family->parameter[i];
        if (!(geometry[i] >= p->source_low && geometry[i] <= p->source_high))
            flags |= VENT_COEFFICIENT_GEOMETRY_OUTSIDE;
    }
    if (family->covers && !family->covers(formula->source, geometry, at.bore))
        flags |= VENT_COEFFICIENT_GEOMETRY_OUTSIDE;
    double own = formula->length ? at.reynolds * formula->length(geometry) / at.bore : at.reynolds;
    if (!(own >= formula->reynolds_low && own <= formula->reynolds_high))
        flags |= VENT_COEFFICIENT_REYNOLDS_OUTSIDE;
    return flags;
}

/* The coefficient by one formula of a law. */
static vent_coefficient by_formula(const vent__part *part, const vent__law *law,
                                   const vent__formula *formula, state at)
{
    double k = formula_value(formula, part->geometry, at);
    double spread = hypot(law->relative * k, half_spread(law, part->geometry, at));
    double more = law->more ? law->more(part->geometry, k) : 0;
    return (vent_coefficient){
        .value = law->plain + part->factor * k,
        .uncertainty = hypot(law->plain_uncertainty, part->factor * hypot(spread, more)),
        .source = formula->source,
        .flags = flags_of(part->family, formula, part->geometry, at),
    };
}

vent_coefficient vent__family_state(const vent__part *part, double bore, double reynolds, double f)
{
    const double still = 1e-3; /* still air: K is finite, and multiplies nothing */
    const vent__law *law = law_for(part, bore, reynolds < 0);
    return by_formula(part, law, chosen(law, part->source),
                      (state){bore, fmax(fabs(reynolds), still), f});
}

int32_t vent__family_plain_source(const vent__family *family, bool reversed)
{
    return (reversed ? family->against : family->along)->plain_source;
}

/* ---- in a pipe ---------------------------------------------------------------------------- */

/* How a part is used in a pipe; false where pipe or Reynolds number are outside their bounds. */
static bool state_in(vent_pipe pipe, double reynolds, state *at, const char *function,
                     vent_error *err)
{
    double hydraulic = vent_pipe_hydraulic_diameter(pipe);
    double effective = vent_pipe_effective_diameter(pipe);
    double roughness = pipe.roughness / effective;
    if (!vent__check_range(err, function, "hydraulic diameter of pipe", "m", hydraulic, 1e-4,
                           100) ||
        !vent__check_range(err, function, "relative roughness of pipe", "", roughness, 0, 0.1) ||
        !vent__check_range(err, function, "reynolds", "", fabs(reynolds), 1e-3, 1e9))
        return false;
    at->bore = sqrt(4 / VENT_PI * vent_pipe_area(pipe));
    at->reynolds = fabs(reynolds) * effective / hydraulic; /* as friction sees it */
    at->friction = vent_friction_factor(at->reynolds, roughness);
    return true;
}

vent_coefficient vent__family_in_pipe(const vent__part *part, vent_pipe pipe, double reynolds,
                                      const char *function, vent_error *err)
{
    state at;
    if (!state_in(pipe, reynolds, &at, function, err))
        return (vent_coefficient){NAN, NAN, VENT__SOURCE_NONE, 0};
    const vent__law *law = law_for(part, at.bore, reynolds < 0);
    return by_formula(part, law, chosen(law, part->source), at);
}

int vent__family_alternatives(const vent__part *part, vent_pipe pipe, double reynolds, int room,
                              vent_coefficient *list, const char *function, vent_error *err)
{
    state at;
    if (!vent__check_range(err, function, "room", "", room, 0, INT_MAX) ||
        (room > 0 && !vent__check_pointer(err, function, "list", list)) ||
        !state_in(pipe, reynolds, &at, function, err))
        return 0;
    const vent__law *law = law_for(part, at.bore, reynolds < 0);
    int count = 0;
    for (; count < VENT__FORMULAS && law->formula[count].loss; ++count)
        if (count < room)
            list[count] = by_formula(part, law, &law->formula[count], at);
    return count;
}
