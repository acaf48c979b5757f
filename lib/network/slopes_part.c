/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One fitting or termination, and what its numbers do to its loss. A part comes down to k0 + k1/Re + kf f either
 * way; how these three answer a shape or a bore is a matter of the part alone. They are published formulas, so
 * they are differenced: four points, so that nothing but rounding is left of smooth ones. A network has few
 * kinds of parts, so what was differenced last is kept. */
#include <string.h>

#include "network/slopes.h"

/* ---- four points of a formula ---------------------------------------------------------------- */

static const double STEP = 1e-4; /* of the value, or of a hundredth of the bound where it is 0 */

vent__stencil vent__stencil_at(double value, double low, double high)
{
    double h = STEP * (value != 0 ? fabs(value) : 0.01 * fmin(fmax(high, -low), 100));
    if (value - 2 * h >= low && value + 2 * h <= high)
        return (vent__stencil){{value - 2 * h, value - h, value + h, value + 2 * h},
                               {1 / (12 * h), -8 / (12 * h), 8 / (12 * h), -1 / (12 * h)}};
    if (value + 4 * h > high)
        h = -h;
    return (vent__stencil){{value + h, value + 2 * h, value + 3 * h, value + 4 * h},
                           {48 / (12 * h), -36 / (12 * h), 16 / (12 * h), -3 / (12 * h)}};
}

/* ---- parts ----------------------------------------------------------------------------------- */

/* A stated coefficient is a number, one for either way. */
static bool is_stated(vent__part_at part)
{
    return part.fitting && part.fitting->family == VENT_FITTING_CONSTANT;
}

/* What does not fit the form. */
static bool has_extra(vent__part_at part, double bore)
{
    return part.fitting ? vent__fitting_has_extra(part.fitting, bore)
                        : vent__termination_has_extra(part.termination, bore);
}

static vent__slope extra_of(vent__part_at part, double bore, double reynolds)
{
    return part.fitting ? vent__fitting_extra(part.fitting, bore, reynolds)
                        : vent__termination_extra(part.termination, bore, reynolds);
}

static double opening_of(vent__part_at part)
{
    return part.fitting ? vent__fitting_opening_pressure(part.fitting) : 0;
}

/* A part of one's own, to change its numbers. */
typedef struct changeable {
    vent_fitting fitting;
    vent_termination termination;
    bool is_termination;
} changeable;

static changeable copy_of(vent__part_at part)
{
    changeable own = {.is_termination = !part.fitting};
    if (part.fitting)
        own.fitting = *part.fitting;
    else
        own.termination = *part.termination;
    return own;
}

static vent__part_at as_part(const changeable *own)
{
    return own->is_termination ? (vent__part_at){.termination = &own->termination}
                               : (vent__part_at){.fitting = &own->fitting};
}

/* Where a number stands, but the bore's. */
static double *number_of(changeable *own, int by)
{
    double *shape = own->is_termination ? own->termination.geometry : own->fitting.geometry;
    double *factor = own->is_termination ? &own->termination.factor : &own->fitting.factor;
    return by == VENT__BY_FACTOR ? factor : &shape[by];
}

/* ---- the form -------------------------------------------------------------------------------- */

static vent__form form_of(vent__part_at part, double bore)
{
    vent__form form;
    if (part.fitting)
        vent__fitting_loss(part.fitting, bore, &form.along, &form.against);
    else
        vent__termination_loss(part.termination, bore, &form.along, &form.against);
    return form;
}

static void add(vent__form *sum, double weight, vent__form form)
{
    const vent__loss *from[] = {&form.along, &form.against};
    vent__loss *to[] = {&sum->along, &sum->against};
    for (int i = 0; i < 2; ++i) {
        to[i]->k0 += weight * from[i]->k0;
        to[i]->k1 += weight * from[i]->k1;
        to[i]->kf += weight * from[i]->kf;
    }
}

/* Points around one number, within its bounds. The factor multiplies, so one difference is exact. */
static vent__stencil stencil_of(const changeable *own, double value, int by)
{
    vent_parameter_range range = {0};
    if (by == VENT__BY_FACTOR)
        return (vent__stencil){{0, 1, 0, 0}, {-1, 1, 0, 0}};
    if (by == VENT__BY_BORE)
        return vent__stencil_at(value, 0, INFINITY);
    if (own->is_termination)
        vent_termination_parameter(own->termination.family, by, &range);
    else
        vent_fitting_parameter(own->fitting.family, by, &range);
    return vent__stencil_at(value, range.low, range.high);
}

static bool feels(vent__part_at part, int by)
{
    if (by != VENT__BY_BORE)
        return true;
    return part.fitting ? vent__fitting_feels_bore(part.fitting)
                        : vent__termination_feels_bore(part.termination);
}

static vent__form form_by(vent__part_at part, double bore, int by)
{
    vent__form slope = {{0, 0, 0}, {0, 0, 0}}, here = form_of(part, bore);
    if (by == VENT__ITSELF)
        return here;
    if (!feels(part, by))
        return slope;
    changeable own = copy_of(part);
    double *number = by == VENT__BY_BORE ? &bore : number_of(&own, by);
    vent__stencil stencil = stencil_of(&own, *number, by);
    for (int i = 0; i < VENT__POINTS; ++i) {
        *number = stencil.at[i];
        add(&slope, stencil.weight[i], form_of(as_part(&own), bore));
        add(&slope, -stencil.weight[i], here);
    }
    return slope;
}

/* ---- what is known already ------------------------------------------------------------------- */

_Static_assert(sizeof(vent_fitting) == sizeof(((vent__known_part *)0)->contents) &&
                   sizeof(vent_termination) == sizeof(vent_fitting),
               "the contents of either");

static bool is_of(const vent__known_part *known, const void *contents, vent__part_at part,
                  double bore)
{
    return known->known && known->bore == bore && known->is_termination == !part.fitting &&
           memcmp(known->contents, contents, sizeof known->contents) == 0;
}

/* Parts that are alike meet there. */
static vent__known_part *place_of(vent__slopes *s, const void *contents, double bore)
{
    enum { WORDS = sizeof(vent_fitting) / sizeof(uint64_t) };
    uint64_t word[WORDS + 1], hash = 0;
    memcpy(word, contents, sizeof(vent_fitting));
    memcpy(&word[WORDS], &bore, sizeof bore);
    for (int i = 0; i <= WORDS; ++i)
        hash = (hash ^ word[i] ^ word[i] >> 29) * 0x9e3779b97f4a7c15u;
    return &s->part[hash >> 32 & (VENT__KNOWN_PARTS - 1)];
}

static vent__known_part *find(vent__slopes *s, vent__part_at part, double bore)
{
    const void *contents = part.fitting ? (const void *)part.fitting : part.termination;
    vent__known_part *known = s->last_part;
    if (known && is_of(known, contents, part, bore))
        return known;
    known = s->last_part = place_of(s, contents, bore);
    if (is_of(known, contents, part, bore))
        return known;
    memcpy(known->contents, contents, sizeof known->contents);
    known->bore = bore;
    known->is_termination = !part.fitting;
    known->has_rest = has_extra(part, bore) || opening_of(part) > 0;
    known->known = 1u << VENT__ITSELF;
    known->form[VENT__ITSELF] = form_of(part, bore);
    return known;
}

/* ---- losses and their slopes ----------------------------------------------------------------- */

/* What a form costs at a spot [Pa]. */
static double cost(const vent__spot *at, const vent__form *form)
{
    const vent__loss *way = at->flow < 0 ? &form->against : &form->along;
    return at->pressure * (way->k0 + way->k1 / at->reynolds + way->kf * at->f);
}

static double seen_by(const vent__spot *at)
{
    return copysign(at->reynolds, at->flow);
}

static double velocity_at(const vent__slopes *s, const vent__spot *at)
{
    return at->flow / (s->ws->density[at->k] * vent_pipe_area(at->pipe->pipe));
}

/* What the form does not hold: K(Re) of its own, a flap. */
static double rest_of(const vent__slopes *s, const vent__spot *at, vent__part_at part, double bore)
{
    double opening = opening_of(part), loss = 0;
    if (has_extra(part, bore))
        loss = at->pressure * extra_of(part, bore, seen_by(at)).value;
    return opening > 0 ? loss + opening * vent__opening_share(velocity_at(s, at)).value : loss;
}

static double rest_by(const vent__slopes *s, const vent__spot *at, vent__part_at part, int by)
{
    changeable own = copy_of(part);
    double bore = at->bore, slope = 0, here = rest_of(s, at, part, bore);
    double *number = by == VENT__BY_BORE ? &bore : number_of(&own, by);
    vent__stencil stencil = stencil_of(&own, *number, by);
    for (int i = 0; i < VENT__POINTS; ++i) {
        *number = stencil.at[i];
        slope += stencil.weight[i] * (rest_of(s, at, as_part(&own), bore) - here);
    }
    return slope;
}

double vent__part_loss(vent__slopes *s, const vent__spot *at, vent__part_at part)
{
    if (is_stated(part))
        return at->pressure * part.fitting->factor * part.fitting->geometry[at->flow < 0];
    const vent__known_part *known = find(s, part, at->bore);
    double loss = cost(at, &known->form[VENT__ITSELF]);
    return known->has_rest ? loss + rest_of(s, at, part, at->bore) : loss;
}

static double stated_by(const vent__spot *at, const vent_fitting *fitting, int by)
{
    double amount = by == VENT__BY_FACTOR  ? fitting->geometry[at->flow < 0]
                    : by == (at->flow < 0) ? fitting->factor
                                           : 0;
    return at->pressure * amount;
}

double vent__part_by(vent__slopes *s, const vent__spot *at, vent__part_at part, int by)
{
    if (is_stated(part))
        return stated_by(at, part.fitting, by);
    vent__known_part *known = find(s, part, at->bore);
    if (!(known->known >> by & 1)) {
        known->form[by] = form_by(part, at->bore, by);
        known->known |= 1u << by;
    }
    double slope = cost(at, &known->form[by]);
    return known->has_rest ? slope + rest_by(s, at, part, by) : slope;
}

/* Beside the form K(Re) has its own way with Re, and a flap opens with the velocity. */
double vent__rest_by_widening(vent__slopes *s, const vent__spot *at, vent__part_at part,
                              double area, double reynolds)
{
    if (is_stated(part) || !find(s, part, at->bore)->has_rest)
        return 0;
    double opening = opening_of(part), slope = 0;
    if (has_extra(part, at->bore)) {
        vent__slope k = extra_of(part, at->bore, seen_by(at));
        bool creeps = at->size > fabs(at->flow); /* along a straight line, K held */
        double answer = creeps ? -k.value : at->reynolds * k.slope;
        slope += at->pressure * (reynolds * answer - 2 * area * k.value);
    }
    if (opening > 0) {
        double velocity = velocity_at(s, at);
        slope -= opening * vent__opening_share(velocity).slope * velocity * area;
    }
    return slope;
}
