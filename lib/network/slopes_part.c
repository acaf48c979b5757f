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

static double *shape_of(changeable *own, int slot)
{
    return own->is_termination ? &own->termination.geometry[slot] : &own->fitting.geometry[slot];
}

static double *factor_of(changeable *own)
{
    return own->is_termination ? &own->termination.factor : &own->fitting.factor;
}

/* ---- the form -------------------------------------------------------------------------------- */

static void form_of(vent__part_at part, double bore, vent__form *form)
{
    if (part.fitting)
        vent__fitting_loss(part.fitting, bore, &form->along, &form->against);
    else
        vent__termination_loss(part.termination, bore, &form->along, &form->against);
}

static void add(vent__loss *sum, double weight, vent__loss a, vent__loss b)
{
    sum->k0 += weight * (a.k0 - b.k0);
    sum->k1 += weight * (a.k1 - b.k1);
    sum->kf += weight * (a.kf - b.kf);
}

/* By a slot of the geometry, or by the bore. */
static vent__form difference(vent__part_at part, double bore, int by, double low, double high)
{
    changeable own = copy_of(part);
    double *number = by == VENT__BY_BORE ? &bore : shape_of(&own, by);
    vent__form here, there, slope = {{0, 0, 0}, {0, 0, 0}};
    vent__stencil stencil = vent__stencil_at(*number, low, high);
    form_of(part, bore, &here);
    for (int i = 0; i < VENT__POINTS; ++i) {
        *number = stencil.at[i];
        form_of(as_part(&own), bore, &there);
        add(&slope.along, stencil.weight[i], there.along, here.along);
        add(&slope.against, stencil.weight[i], there.against, here.against);
    }
    return slope;
}

_Static_assert(sizeof(vent_fitting) == sizeof(((vent__kept_form *)0)->contents) &&
                   sizeof(vent_termination) == sizeof(vent_fitting),
               "the contents of either");

static const void *contents_of(vent__part_at part)
{
    return part.fitting ? (const void *)part.fitting : part.termination;
}

/* Where a form is kept: contents that are alike meet there. */
static vent__kept_form *place_of(vent__slopes *s, const void *contents, double bore, int by)
{
    enum { WORDS = sizeof(vent_fitting) / sizeof(uint64_t) };
    uint64_t word[WORDS + 1], hash = (uint64_t)(by + 2);
    memcpy(word, contents, sizeof(vent_fitting));
    memcpy(&word[WORDS], &bore, sizeof bore);
    for (int i = 0; i <= WORDS; ++i)
        hash = (hash ^ word[i] ^ word[i] >> 29) * 0x9e3779b97f4a7c15u;
    return &s->kept[hash >> 32 & (VENT__KEPT_FORMS - 1)];
}

/* The form itself, or how it answers a number. */
static const vent__form *form_by(vent__slopes *s, vent__part_at part, double bore, int by,
                                 double low, double high)
{
    const void *contents = contents_of(part);
    vent__kept_form *kept = place_of(s, contents, bore, by);
    if (kept->is_there && kept->by == by && kept->bore == bore &&
        kept->is_termination == !part.fitting &&
        memcmp(kept->contents, contents, sizeof kept->contents) == 0)
        return &kept->form;
    memcpy(kept->contents, contents, sizeof kept->contents);
    kept->bore = bore;
    kept->by = by;
    kept->is_termination = !part.fitting;
    kept->is_there = true;
    if (by == VENT__ITSELF)
        form_of(part, bore, &kept->form);
    else
        kept->form = difference(part, bore, by, low, high);
    return &kept->form;
}

/* What a form costs at a spot [Pa]. */
static double cost(const vent__spot *at, const vent__form *form)
{
    const vent__loss *way = at->flow < 0 ? &form->against : &form->along;
    return at->pressure * (way->k0 + way->k1 / at->reynolds + way->kf * at->f);
}

/* ---- losses and their slopes ----------------------------------------------------------------- */

static double seen_by(const vent__spot *at)
{
    return copysign(at->reynolds, at->flow);
}

double vent__velocity_at(const vent__slopes *s, const vent__spot *at)
{
    return at->flow / (s->ws->density[at->k] * vent_pipe_area(at->pipe->pipe));
}

/* What the form does not hold: K(Re) of its own, a flap. */
static double rest(const vent__slopes *s, const vent__spot *at, vent__part_at part, double bore)
{
    double opening = opening_of(part), loss = 0;
    if (has_extra(part, bore))
        loss = at->squared * extra_of(part, bore, seen_by(at)).value;
    return opening > 0 ? loss + opening * vent__opening_share(vent__velocity_at(s, at)).value
                       : loss;
}

double vent__part_loss(vent__slopes *s, const vent__spot *at, vent__part_at part)
{
    if (is_stated(part))
        return at->pressure * part.fitting->factor * part.fitting->geometry[at->flow < 0];
    return cost(at, form_by(s, part, at->bore, VENT__ITSELF, 0, 0)) + rest(s, at, part, at->bore);
}

/* The factor multiplies, so one difference is exact. */
double vent__part_by_factor(vent__slopes *s, const vent__spot *at, vent__part_at part)
{
    if (is_stated(part))
        return at->pressure * part.fitting->geometry[at->flow < 0];
    changeable own = copy_of(part);
    *factor_of(&own) = 1;
    double with = vent__part_loss(s, at, as_part(&own));
    *factor_of(&own) = 0;
    return with - vent__part_loss(s, at, as_part(&own));
}

/* By a slot of the geometry, or the bore. */
static double rest_by(const vent__slopes *s, const vent__spot *at, vent__part_at part, int by,
                      double low, double high)
{
    double bore = at->bore, slope = 0;
    if (!has_extra(part, bore) && !(opening_of(part) > 0))
        return 0;
    changeable own = copy_of(part);
    double *number = by == VENT__BY_BORE ? &bore : shape_of(&own, by);
    double here = rest(s, at, part, bore);
    vent__stencil stencil = vent__stencil_at(*number, low, high);
    for (int i = 0; i < VENT__POINTS; ++i) {
        *number = stencil.at[i];
        slope += stencil.weight[i] * (rest(s, at, as_part(&own), bore) - here);
    }
    return slope;
}

double vent__part_by_shape(vent__slopes *s, const vent__spot *at, vent__part_at part, int slot,
                           double low, double high)
{
    if (is_stated(part))
        return slot == (at->flow < 0) ? at->pressure * part.fitting->factor : 0;
    return cost(at, form_by(s, part, at->bore, slot, low, high)) +
           rest_by(s, at, part, slot, low, high);
}

double vent__part_by_bore(vent__slopes *s, const vent__spot *at, vent__part_at part)
{
    if (is_stated(part))
        return 0;
    bool feels = part.fitting ? vent__fitting_feels_bore(part.fitting)
                              : vent__termination_feels_bore(part.termination);
    double slope = rest_by(s, at, part, VENT__BY_BORE, 0, INFINITY);
    if (feels)
        slope += cost(at, form_by(s, part, at->bore, VENT__BY_BORE, 0, INFINITY));
    return slope;
}

/* Beside the form K(Re) has its own way with Re, and a flap opens with the velocity. */
double vent__rest_by_widening(const vent__slopes *s, const vent__spot *at, vent__part_at part,
                              double area, double reynolds)
{
    if (is_stated(part))
        return 0;
    double opening = opening_of(part), slope = 0;
    if (has_extra(part, at->bore)) {
        vent__slope k = extra_of(part, at->bore, seen_by(at));
        slope += at->squared * (reynolds * at->reynolds * k.slope - 2 * area * k.value);
    }
    if (opening > 0) {
        double velocity = vent__velocity_at(s, at);
        slope -= opening * vent__opening_share(velocity).slope * velocity * area;
    }
    return slope;
}
