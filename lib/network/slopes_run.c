/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stands in a run, and what its numbers do to the run's loss. In a pipe of area A a coefficient K(Re) costs
 *
 *     m |m| / (2 rho A^2) K,     Re = D |m| / (mu A)
 *
 * so a bore, a length, a roughness enter by logarithms of A, D and Re, a fitting by its coefficient. */
#include <ventstack/units.h>

#include "network/parameter.h"
#include "network/slopes.h"
#include "network/state.h"

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

/* ---- where ----------------------------------------------------------------------------------- */

/* Fills in what there is to know of a pipe. */
static void enter(const vent__slopes *s, vent__spot *at, int segment, const vent__item *pipe)
{
    const vent__segment *law = &s->ws->segment[segment];
    double size = vent__larger(fabs(at->flow), VENT__LEAST_REYNOLDS / law->reynolds);
    at->size = size;
    at->segment = segment;
    at->pipe = pipe;
    at->bore = at->hydraulic = at->effective = pipe->pipe.width;
    if (pipe->pipe.shape != VENT_PIPE_ROUND) {
        at->bore = vent__bore(pipe->pipe);
        at->hydraulic = vent_pipe_hydraulic_diameter(pipe->pipe);
        at->effective = vent_pipe_effective_diameter(pipe->pipe);
    }
    at->reynolds = law->reynolds * size;
    at->f = s->f[segment];
    at->e = s->e[segment];
    at->feels_roughness = NAN;
    at->pressure = law->inertia * at->flow * size;
    at->squared = law->inertia * at->flow * fabs(at->flow);
}

/* Goes on from where the last item stood: parameters that arrive in order visit each item once. */
static vent__spot *go_to(vent__slopes *s, int run, int rank)
{
    vent__spot *at = &s->spot;
    const vent__item *items = s->model->item;
    if (at->run != run || rank < at->rank) {
        int k = s->program->position[run];
        *at = (vent__spot){.run = run, .rank = 0, .k = k, .flow = s->solution->flow[k]};
        at->item = &items[s->model->run[run].first];
        enter(s, at, s->program->first_segment[k], at->item);
    }
    while (at->rank < rank) {
        at->item = &items[at->item->next];
        ++at->rank;
        if (at->item->kind == VENT__PIPE) {
            at->before = at->pipe;
            enter(s, at, at->segment + 1, at->item);
        }
    }
    return at;
}

/* The same of the pipe before. */
static vent__spot upstream_of(const vent__slopes *s, const vent__spot *at)
{
    vent__spot before = *at;
    enter(s, &before, at->segment - 1, at->before);
    return before;
}

static double velocity_at(const vent__slopes *s, const vent__spot *at)
{
    return at->flow / (s->ws->density[at->k] * vent_pipe_area(at->pipe->pipe));
}

/* ---- one fitting or termination -------------------------------------------------------------- */

/* One of the two. */
typedef struct part {
    const vent_fitting *fitting;
    const vent_termination *termination;
} part;

static part fitting_of(const vent_fitting *fitting)
{
    return (part){.fitting = fitting};
}

/* A coefficient that is a number, one for either way. */
static bool is_stated(part p)
{
    return p.fitting && p.fitting->family == VENT_FITTING_CONSTANT;
}

/* Loss by its coefficient [Pa], were the bore another and all else as it is. */
static double coefficient_loss(const vent__spot *at, part p, double bore)
{
    vent__loss along, against;
    double seen = copysign(at->reynolds, at->flow), extra;
    if (is_stated(p)) /* the soonest, and the most common */
        return at->pressure * p.fitting->factor * p.fitting->geometry[at->flow < 0];
    if (p.fitting) {
        vent__fitting_loss(p.fitting, bore, &along, &against);
        extra = vent__fitting_extra(p.fitting, bore, seen).value;
    } else {
        vent__termination_loss(p.termination, bore, &along, &against);
        extra = vent__termination_extra(p.termination, bore, seen).value;
    }
    const vent__loss *way = at->flow < 0 ? &against : &along;
    return at->pressure * (way->k0 + way->k1 / at->reynolds + way->kf * at->f) +
           at->squared * extra;
}

/* All it loses: with what a flap takes to open. */
static double part_loss(const vent__slopes *s, const vent__spot *at, part p)
{
    double loss = coefficient_loss(at, p, at->bore);
    bool may_open = p.fitting && !is_stated(p);
    double opening = may_open ? vent__fitting_opening_pressure(p.fitting) : 0;
    return opening > 0 ? loss + opening * vent__opening_share(velocity_at(s, at)).value : loss;
}

static double part_slope(const vent__slopes *s, const vent__spot *at, part p, double *number,
                         double low, double high)
{
    double before = *number, slope = 0, here = part_loss(s, at, p);
    vent__stencil stencil = vent__stencil_at(before, low, high);
    for (int i = 0; i < VENT__POINTS; ++i) {
        *number = stencil.at[i];
        slope += stencil.weight[i] * (part_loss(s, at, p) - here);
    }
    *number = before;
    return slope;
}

/* The factor multiplies, so one difference is exact. */
static double factor_slope(const vent__spot *at, part p, double *factor)
{
    *factor = 1;
    double with = coefficient_loss(at, p, at->bore);
    *factor = 0;
    return with - coefficient_loss(at, p, at->bore);
}

/* By the bore of the pipe it is in, through its coefficient alone. */
static double feeling_of_bore(const vent__spot *at, part p)
{
    bool feels = p.fitting ? vent__fitting_feels_bore(p.fitting)
                           : vent__termination_feels_bore(p.termination);
    if (!feels)
        return 0;
    double here = coefficient_loss(at, p, at->bore), slope = 0;
    vent__stencil stencil = vent__stencil_at(at->bore, 0, INFINITY);
    for (int i = 0; i < VENT__POINTS; ++i)
        slope += stencil.weight[i] * (coefficient_loss(at, p, stencil.at[i]) - here);
    return slope;
}

/* ---- bores ----------------------------------------------------------------------------------- */

/* How the logarithms of a pipe's area and diameters answer one of its sides. */
typedef struct widening {
    double area, hydraulic, effective;
} widening;

/* Of the effective diameter of a rectangle over the hydraulic one, which is a function of the aspect. */
static double effective_slope(vent_pipe pipe, int slot)
{
    double *side = slot ? &pipe.depth : &pipe.width, slope = 0;
    double here = vent_pipe_effective_diameter(pipe);
    vent__stencil stencil = vent__stencil_at(*side, 1e-4, 10);
    for (int i = 0; i < VENT__POINTS; ++i) {
        *side = stencil.at[i];
        slope += stencil.weight[i] * (vent_pipe_effective_diameter(pipe) - here);
    }
    return slope / here;
}

static widening widening_of(vent_pipe pipe, int slot)
{
    double side = slot ? pipe.depth : pipe.width;
    if (pipe.shape == VENT_PIPE_ROUND)
        return (widening){2 / side, 1 / side, 1 / side};
    return (widening){1 / side, 1 / side - 1 / (pipe.width + pipe.depth),
                      effective_slope(pipe, slot)};
}

/* Beside the form of a segment: a coefficient's own way with Re, a flap that the velocity opens. */
static double extra_by_bore(const vent__slopes *s, const vent__spot *at, part p, widening by)
{
    double seen = copysign(at->reynolds, at->flow);
    vent__slope k = p.fitting ? vent__fitting_extra(p.fitting, at->bore, seen)
                              : vent__termination_extra(p.termination, at->bore, seen);
    double slope =
        at->squared * (-2 * by.area * k.value + (by.effective - by.area) * at->reynolds * k.slope);
    double opening = p.fitting ? vent__fitting_opening_pressure(p.fitting) : 0;
    if (opening > 0) {
        double velocity = velocity_at(s, at);
        slope -= opening * vent__opening_share(velocity).slope * velocity * by.area;
    }
    return slope;
}

/* What the bore does to a part in the pipe. */
static double part_by_bore(const vent__slopes *s, const vent__spot *at, part p, widening by)
{
    if (is_stated(p))
        return 0; /* nothing beside the form */
    return extra_by_bore(s, at, p, by) + feeling_of_bore(at, p) * at->bore * by.area / 2;
}

/* Of a cone or step by the bore it leads to. */
static double far_bore_slope(const vent__slopes *s, const vent__spot *at)
{
    vent_fitting change = vent__transition(at->item);
    vent__spot upstream = upstream_of(s, at);
    return at->item->transition_count *
           part_slope(s, &upstream, fitting_of(&change), &change.geometry[0], 0, INFINITY);
}

/* What follows a pipe: its fittings, the change into the next, or what stands at the run's end. */
static double parts_by_bore(const vent__slopes *s, const vent__spot *at, widening by)
{
    const vent__item *items = s->model->item;
    double slope = 0;
    for (int i = at->item->next; i >= 0; i = items[i].next) {
        const vent__item *item = &items[i];
        if (item->kind == VENT__PIPE) {
            vent_fitting change = vent__transition(item);
            return slope + item->transition_count * part_by_bore(s, at, fitting_of(&change), by);
        }
        double count = vent__fitting_count(item);
        if (count > 0)
            slope += count * part_by_bore(s, at, fitting_of(&item->fitting), by);
    }
    const vent__node *to = &s->model->node[s->model->run[at->run].to];
    if (to->kind == VENT__DISCHARGE)
        slope += part_by_bore(s, at, (part){.termination = &to->termination}, by);
    return slope;
}

static const vent__loss *way_of(const vent__slopes *s, const vent__spot *at)
{
    const vent__segment *segment = &s->ws->segment[at->segment];
    return at->flow < 0 ? &segment->against : &segment->along;
}

/* Pa of friction, of the pipe and of fittings that go with it, by its relative roughness. */
static double feeling_of_roughness(const vent__slopes *s, vent__spot *at)
{
    if (isnan(at->feels_roughness))
        at->feels_roughness =
            at->flow * at->size * way_of(s, at)->kf *
            vent__friction_by_roughness(at->reynolds, s->ws->roughness[at->segment], at->f, at->e);
    return at->feels_roughness;
}

static double bore_slope(const vent__slopes *s, vent__spot *at, widening by)
{
    const vent__loss *way = way_of(s, at);
    double size = at->size, rough = s->ws->roughness[at->segment] * feeling_of_roughness(s, at);
    double friction = at->flow * size * way->kf * at->f, plain = at->flow * size * way->k0;
    double viscous = at->flow * way->k1, creeping = size > fabs(at->flow) ? plain : 0;
    double pipe = at->pressure * at->f * at->pipe->amount / at->hydraulic;
    double slope = -2 * by.area * (friction + plain + viscous) - by.hydraulic * pipe +
                   (by.effective - by.area) * (at->e * friction - viscous - creeping) -
                   by.effective * rough + parts_by_bore(s, at, by);
    if (at->before)
        slope += far_bore_slope(s, at) * at->bore * by.area / 2;
    return slope;
}

/* In the junctions at its ends, where they lose pressure. A link's first pipe is a leg of the one it leaves. */
static void change_areas(vent__slopes *s, int column, const vent__spot *at, double area)
{
    const vent__program *program = s->program;
    int k = at->k, link = program->link[k];
    int leaves = link > 0 ? program->outlet[link - 1] : k;
    bool first = !at->before, last = at->segment == program->first_segment[k + 1] - 1;
    if (first && link > 0 && vent__tie_at(s->ws, leaves))
        vent__change_run(s, column, VENT__END, leaves, area);
    if (first && vent__knot_at(s->ws, k))
        vent__change_run(s, column, VENT__START, k, area);
    if (last && vent__tie_at(s->ws, k))
        vent__change_run(s, column, VENT__END, k, area);
}

static void change_bore(vent__slopes *s, int column, vent__spot *at, int slot)
{
    widening by = widening_of(at->pipe->pipe, slot);
    vent__change_run(s, column, VENT__LOSS, at->k, bore_slope(s, at, by));
    s->junctions |= s->ws->knots > 0;
    if (s->ws->knots)
        change_areas(s, column, at, by.area);
}

/* ---- pipes, fittings, fans ------------------------------------------------------------------- */

static double length_slope(const vent__spot *at)
{
    return at->pressure * at->f / at->hydraulic;
}

/* The change into this pipe costs on the pipe before it; a step stays one until its angle is another. */
static double transition_slope(const vent__slopes *s, const vent__spot *at)
{
    vent_fitting cone = vent__transition(at->item);
    if (cone.family != VENT_FITTING_GRADUAL)
        return 0;
    vent__spot upstream = upstream_of(s, at);
    return at->item->transition_count *
           part_slope(s, &upstream, fitting_of(&cone), &cone.geometry[1], 1e-3, VENT_PI);
}

static double geometry_slope(const vent__slopes *s, const vent__spot *at, int slot)
{
    vent_fitting fitting = at->item->fitting;
    if (is_stated(fitting_of(&fitting)))
        return slot == (at->flow < 0) ? at->pressure * fitting.factor : 0;
    vent_parameter_range range;
    vent_fitting_parameter(fitting.family, slot, &range);
    return part_slope(s, at, fitting_of(&fitting), &fitting.geometry[slot], range.low, range.high);
}

/* A fan's pressure is s^2 F(q / s) of its speed s. */
static double fan_slope(const vent__slopes *s, const vent__spot *at, int kind)
{
    const vent__fan *fan = &s->model->fan[at->item->fan];
    double density = s->ws->density[at->k], speed = at->item->amount, flow = at->flow / density;
    vent__slope law = vent__fan_law(fan->fan, flow, density, speed);
    if (kind == VENT_PARAMETER_PRESSURE_FACTOR)
        return -at->item->running * law.value;
    if (kind == VENT_PARAMETER_RUNNING)
        return -fan->pressure_factor * law.value - part_loss(s, at, fitting_of(&at->item->fitting));
    return -vent__fan_share(s->model, at->item->fan) * (2 * law.value - flow * law.slope) / speed;
}

static double item_slope(const vent__slopes *s, vent__spot *at, const vent_parameter *p)
{
    switch (p->kind) {
    case VENT_PARAMETER_LENGTH:
        return length_slope(at);
    case VENT_PARAMETER_ROUGHNESS:
        return feeling_of_roughness(s, at) / at->effective;
    case VENT_PARAMETER_TRANSITION_ANGLE:
        return transition_slope(s, at);
    case VENT_PARAMETER_COUNT:
        return part_loss(s, at, fitting_of(&at->item->fitting));
    case VENT_PARAMETER_FITTING:
        return vent__fitting_count(at->item) * geometry_slope(s, at, p->slot);
    case VENT_PARAMETER_FACTOR: {
        vent_fitting fitting = at->item->fitting;
        return vent__fitting_count(at->item) *
               factor_slope(at, fitting_of(&fitting), &fitting.factor);
    }
    default:
        return fan_slope(s, at, p->kind);
    }
}

void vent__slope_of_item(vent__slopes *s, int column, const vent_parameter *p)
{
    vent__spot *at = go_to(s, p->place, p->item);
    if (p->kind == VENT_PARAMETER_BORE)
        change_bore(s, column, at, p->slot);
    else
        vent__change_run(s, column, VENT__LOSS, at->k, item_slope(s, at, p));
}

/* ---- terminations ---------------------------------------------------------------------------- */

void vent__slope_of_termination(vent__slopes *s, int column, const vent_parameter *p)
{
    int run = s->program->run[s->root[p->place]];
    const vent__spot *at = go_to(s, run, s->model->run[run].count - 1);
    vent_termination termination = s->model->node[p->place].termination;
    part top = {.termination = &termination};
    vent_parameter_range range;
    double slope;
    if (p->kind == VENT_PARAMETER_TERMINATION_FACTOR) {
        slope = factor_slope(at, top, &termination.factor);
    } else {
        vent_termination_parameter(termination.family, p->slot, &range);
        slope = part_slope(s, at, top, &termination.geometry[p->slot], range.low, range.high);
    }
    vent__change_run(s, column, VENT__LOSS, at->k, slope);
}
