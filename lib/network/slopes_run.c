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

/* What the bore does to a part in the pipe, beside the form of a segment. */
static double part_by_bore(vent__slopes *s, const vent__spot *at, vent__part_at part, widening by)
{
    return vent__rest_by_widening(s, at, part, by.area, by.effective - by.area) +
           vent__part_by(s, at, part, VENT__BY_BORE) * at->bore * by.area / 2;
}

/* Of a cone or step by the bore it leads to. */
static double far_bore_slope(vent__slopes *s, const vent__spot *at)
{
    vent_fitting change = vent__transition(at->item);
    vent__part_at part = {.fitting = &change};
    vent__spot upstream = upstream_of(s, at);
    return at->item->transition_count * vent__part_by(s, &upstream, part, 0);
}

/* What follows a pipe: its fittings, the change into the next, or what stands at the run's end. */
static double parts_by_bore(vent__slopes *s, const vent__spot *at, widening by)
{
    const vent__item *items = s->model->item;
    double slope = 0;
    for (int i = at->item->next; i >= 0; i = items[i].next) {
        const vent__item *item = &items[i];
        if (item->kind == VENT__PIPE) {
            vent_fitting change = vent__transition(item);
            return slope + item->transition_count *
                               part_by_bore(s, at, (vent__part_at){.fitting = &change}, by);
        }
        double count = vent__fitting_count(item);
        if (count > 0)
            slope += count * part_by_bore(s, at, (vent__part_at){.fitting = &item->fitting}, by);
    }
    const vent__node *to = &s->model->node[s->model->run[at->run].to];
    if (to->kind == VENT__DISCHARGE)
        slope += part_by_bore(s, at, (vent__part_at){.termination = &to->termination}, by);
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

static double bore_slope(vent__slopes *s, vent__spot *at, widening by)
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
static double transition_slope(vent__slopes *s, const vent__spot *at)
{
    vent_fitting cone = vent__transition(at->item);
    vent__part_at part = {.fitting = &cone};
    if (cone.family != VENT_FITTING_GRADUAL)
        return 0;
    vent__spot upstream = upstream_of(s, at);
    return at->item->transition_count * vent__part_by(s, &upstream, part, 1);
}

static double fitting_loss(vent__slopes *s, const vent__spot *at)
{
    vent__part_at part = {.fitting = &at->item->fitting};
    return vent__part_loss(s, at, part);
}

/* A fan's pressure is s^2 F(q / s) of its speed s. */
static double fan_slope(vent__slopes *s, const vent__spot *at, int kind)
{
    const vent__fan *fan = &s->model->fan[at->item->fan];
    double density = s->ws->density[at->k], speed = at->item->amount, flow = at->flow / density;
    vent__slope law = vent__fan_law(fan->fan, flow, density, speed);
    if (kind == VENT_PARAMETER_PRESSURE_FACTOR)
        return -at->item->running * law.value;
    if (kind == VENT_PARAMETER_RUNNING)
        return -fan->pressure_factor * law.value - fitting_loss(s, at);
    return -vent__fan_share(s->model, at->item->fan) * (2 * law.value - flow * law.slope) / speed;
}

/* Of all that an item counts as. */
static double fittings_by(vent__slopes *s, const vent__spot *at, int by)
{
    vent__part_at part = {.fitting = &at->item->fitting};
    return vent__fitting_count(at->item) * vent__part_by(s, at, part, by);
}

static double item_slope(vent__slopes *s, vent__spot *at, const vent_parameter *p)
{
    switch (p->kind) {
    case VENT_PARAMETER_LENGTH:
        return length_slope(at);
    case VENT_PARAMETER_ROUGHNESS:
        return feeling_of_roughness(s, at) / at->effective;
    case VENT_PARAMETER_TRANSITION_ANGLE:
        return transition_slope(s, at);
    case VENT_PARAMETER_COUNT:
        return fitting_loss(s, at);
    case VENT_PARAMETER_FITTING:
        return fittings_by(s, at, p->slot);
    case VENT_PARAMETER_FACTOR:
        return fittings_by(s, at, VENT__BY_FACTOR);
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
    vent__part_at top = {.termination = &s->model->node[p->place].termination};
    bool of_factor = p->kind == VENT_PARAMETER_TERMINATION_FACTOR;
    vent__change_run(s, column, VENT__LOSS, at->k,
                     vent__part_by(s, at, top, of_factor ? VENT__BY_FACTOR : p->slot));
}
