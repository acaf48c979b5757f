/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The numbers of a model laid out for the solver: every pipe with its fittings as one law, what meets at
 * each junction. */
#include <math.h>
#include <ventstack/units.h>

#include "network/core.h"
#include "network/equations.h"
#include "network/state.h"

#include "base/memory.h"

static const double FIRST_VELOCITY = 3.0; /* m/s, where secants are taken for the first step */

static void add_loss(vent__loss *sum, vent__loss part, double count)
{
    sum->k0 += count * part.k0;
    sum->k1 += count * part.k1;
    sum->kf += count * part.kf;
}

static void add_both_ways(vent__segment *segment, vent__loss along, vent__loss against,
                          double count)
{
    add_loss(&segment->along, along, count);
    add_loss(&segment->against, against, count);
}

double vent__bore(vent_pipe pipe)
{
    return pipe.shape == VENT_PIPE_ROUND ? pipe.width : sqrt(vent_pipe_area(pipe) * 4 / VENT_PI);
}

/* The change between two pipes of a run costs on the first one's velocity pressure. */
vent_fitting vent__transition(const vent__item *to)
{
    bool sudden = !(to->transition_angle < VENT_PI);
    return (vent_fitting){
        .family = sudden ? VENT_FITTING_SUDDEN : VENT_FITTING_GRADUAL,
        .geometry = {vent__bore(to->pipe), sudden ? 0 : to->transition_angle},
        .factor = 1,
    };
}

/* Starts a segment: the bare pipe. */
static vent__segment bare_pipe(const vent__item *item, const vent__run *run, double *roughness)
{
    double area = vent_pipe_area(item->pipe);
    double effective = vent_pipe_effective_diameter(item->pipe);
    double length_ratio = item->amount / vent_pipe_hydraulic_diameter(item->pipe);
    *roughness = item->pipe.roughness / effective;
    double reynolds = effective / (run->viscosity * area);
    return (vent__segment){.inertia = 1 / (2 * run->density * area * area),
                           .reynolds = reynolds,
                           .along.kf = length_ratio,
                           .against.kf = length_ratio};
}

static double area_of(const vent__segment *segment, double density)
{
    return sqrt(1 / (2 * density * segment->inertia));
}

/* From coefficients to what the flow in kg/s makes of them. */
static void to_pascals(vent__loss *way, const vent__segment *segment)
{
    way->k0 *= segment->inertia;
    way->kf *= segment->inertia;
    way->k1 *= segment->inertia / segment->reynolds;
}

/* Keeps what the form of a segment does not hold; false without memory. */
static bool keep_extra(vent_workspace *ws, vent__extra extra, int s, double density)
{
    const vent__segment *segment = &ws->segment[s];
    if (!vent__reserve(&ws->extra, &ws->extra_room, ws->extras, sizeof extra))
        return false;
    extra.inertia = segment->inertia;
    extra.reynolds = segment->reynolds;
    extra.velocity = 1 / (density * area_of(segment, density));
    ws->extra[ws->extras++] = extra;
    return true;
}

bool vent__lay_out_run(vent_workspace *ws, const vent__model *model, int k)
{
    const vent__run *run = &model->run[ws->program->run[k]];
    ws->density[k] = run->density;
    if (ws->program->link[k] < 0) {
        ws->lift[k] = 0;
        ws->reference[k] = 1; /* of no account */
        return true;
    }
    int s = ws->program->first_segment[k] - 1;
    const vent__item *pipe = NULL;
    for (int i = run->first; i >= 0; i = model->item[i].next) {
        const vent__item *item = &model->item[i];
        vent__loss along, against;
        if (item->kind == VENT__PIPE) {
            if (pipe) {
                vent_fitting change = vent__transition(item);
                vent__fitting_loss(&change, vent__bore(pipe->pipe), &along, &against);
                add_both_ways(&ws->segment[s], along, against, item->transition_count);
            }
            pipe = item;
            ++s;
            ws->segment[s] = bare_pipe(item, run, &ws->roughness[s]);
        } else if (vent__fitting_count(item) > 0) {
            double bore = vent__bore(pipe->pipe);
            vent__fitting_loss(&item->fitting, bore, &along, &against);
            add_both_ways(&ws->segment[s], along, against, vent__fitting_count(item));
            bool more = vent__fitting_has_extra(&item->fitting, bore) ||
                        vent__fitting_opening_pressure(&item->fitting) > 0;
            if (more && !keep_extra(ws,
                                    (vent__extra){.run = k,
                                                  .fitting = &item->fitting,
                                                  .bore = bore,
                                                  .count = vent__fitting_count(item)},
                                    s, run->density))
                return false;
        }
    }
    const vent__node *to = &model->node[run->to];
    if (to->kind == VENT__DISCHARGE) {
        vent__loss along, against;
        double bore = vent__bore(pipe->pipe);
        vent__termination_loss(&to->termination, bore, &along, &against);
        add_both_ways(&ws->segment[s], along, against, 1);
        if (vent__termination_has_extra(&to->termination, bore) &&
            !keep_extra(
                ws,
                (vent__extra){.run = k, .termination = &to->termination, .bore = bore, .count = 1},
                s, run->density))
            return false;
    }
    for (s = ws->program->first_segment[k]; s < ws->program->first_segment[k + 1]; ++s) {
        to_pascals(&ws->segment[s].along, &ws->segment[s]);
        to_pascals(&ws->segment[s].against, &ws->segment[s]);
    }
    double area = area_of(&ws->segment[ws->program->first_segment[k]], run->density);
    ws->reference[k] = FIRST_VELOCITY * run->density * area;
    ws->lift[k] = vent__lift(model, ws->program->run[k]);
    return true;
}

/* An outlet is as wide as the link that begins there, and joins after all that arrive. */
static vent__leg leg_of(const vent_workspace *ws, const vent__model *model,
                        const vent__meeting *meeting, int k)
{
    const vent__program *program = ws->program;
    const vent__run *run = &model->run[program->run[k]];
    if (program->link[k] < 0) {
        double area = vent_pipe_area(model->item[run->first].pipe);
        int rank = model->node[run->from].arriving + run->link - 1;
        return vent__leg_of(meeting, rank, area, run->density);
    }
    const vent__segment *last = &ws->segment[program->first_segment[k + 1] - 1];
    return vent__leg_of(meeting, run->rank, area_of(last, run->density), run->density);
}

void vent__lay_out_junction(vent_workspace *ws, const vent__model *model, int k)
{
    const vent__program *program = ws->program;
    const vent__node *from = &model->node[model->run[program->run[k]].from];
    double area = area_of(&ws->segment[program->first_segment[k]], ws->density[k]);
    vent__meeting *meeting = &vent__knot_at(ws, k)->meeting;
    *meeting = vent__meeting_of(from->junction, area, ws->density[k]);
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j)) {
        vent__leg *leg = &vent__tie_at(ws, j)->leg;
        *leg = leg_of(ws, model, meeting, j);
        vent__meeting_join(meeting, leg);
    }
}

static bool is_lossy(const vent_workspace *ws, const vent__model *model, int k)
{
    const vent__node *from = &model->node[model->run[ws->program->run[k]].from];
    return !vent__is_leaf(ws->program, k) && from->junction.law != VENT_JUNCTION_LOSSLESS;
}

/* Numbers the junctions that lose pressure and their legs; false without memory. */
static bool number_knots(vent_workspace *ws, const vent__model *model)
{
    const vent__program *program = ws->program;
    size_t runs = (size_t)program->runs;
    ws->knots = ws->ties = 0;
    for (int k = 0; k < program->runs; ++k)
        ws->knots += is_lossy(ws, model, k);
    if (!ws->knots)
        return true;
    if (!ws->knot_at && !vent__resize(&ws->knot_at, 2 * runs, sizeof *ws->knot_at))
        return false;
    ws->tie_at = ws->knot_at + runs;
    for (int k = 0, knots = 0; k < program->runs; ++k)
        ws->knot_at[k] = is_lossy(ws, model, k) ? knots++ : -1;
    for (int k = 0; k < program->runs; ++k) {
        int next = program->next[k];
        ws->tie_at[k] = next >= 0 && ws->knot_at[next] >= 0 ? ws->ties++ : -1;
    }
    return vent__resize(&ws->knot, (size_t)ws->knots, sizeof *ws->knot) &&
           vent__resize(&ws->tie, (size_t)ws->ties, sizeof *ws->tie);
}

static void lay_out_soils(vent_workspace *ws, const vent__model *model)
{
    static const vent_soil AT_OPENING = {.a = 1, .law = VENT_SOIL_TWO_TERM}; /* not to be felt */
    const vent__program *program = ws->program;
    for (int k = 0, i = 0; k < program->runs; ++k) {
        int node = program->soil[k];
        if (node >= 0)
            ws->soil[i++] =
                model->node[node].kind == VENT__OPENING ? AT_OPENING : model->node[node].soil;
    }
}

bool vent__lay_out(vent_workspace *ws, vent__model *model)
{
    if (ws->model == model)
        return true;
    vent__model_release(ws->model);
    ws->model = NULL;
    ws->extras = 0;
    if (!number_knots(ws, model))
        return false;
    for (int k = 0; k < ws->program->runs; ++k)
        if (!vent__lay_out_run(ws, model, k))
            return false;
    for (int k = 0; k < ws->program->runs; ++k)
        if (vent__knot_at(ws, k))
            vent__lay_out_junction(ws, model, k);
    lay_out_soils(ws, model);
    if (!vent__core_lay_out(ws))
        return false;
    ws->model = vent__model_hold(model);
    return true;
}
