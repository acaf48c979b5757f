/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Newton's method on the flows of a tree.
 *
 * The unknowns are the flows at the suction points; every other flow is their sum, and every pressure
 * follows from the discharge down the tree, so mass balances and the laws of the runs hold exactly at
 * every iterate. What is left over is, at each suction point, the vacuum its soil would need less the
 * vacuum that is there: the residual. The step that would bring all residuals to zero, were the laws
 * straight lines, comes from two sweeps. In corrections, everything upstream of a point shows there
 * as a source: dp = source - source_slope * dm. Laws are evaluated, never differenced, so no digit is
 * lost on long manifolds. */
#include <stdlib.h>
#include <string.h>
#include <ventstack/units.h>

#include "base/fail.h"
#include "base/memory.h"
#include "network/core.h"
#include "network/state.h"
#include "network/transpose.h"

enum { BLOCK = 256, LANES = 8 }; /* segments whose friction is evaluated at once; widest vector */
static const double LEAST_REYNOLDS = 1e-3;  /* below it the laws are continued by straight lines */
static const double FIRST_FRICTION = 0.022; /* of vent pipe at usual flows, near enough to start */
static const double FIRST_VELOCITY = 3.0;   /* m/s, where secants are taken for the first step */
static const double TOLERANCE = 1e-13;      /* of the pressure scale */
static const double GOOD_ENOUGH = 1e-12;    /* the same, where rounding allows no better */
static const double MOST_FLOW = 1e3;        /* m3/s a system curve is asked for */
static const double LEAST_SCALE = 1e-6;     /* Pa: below this nothing moves */

static double larger(double a, double b)
{
    return a > b ? a : b;
}

static bool is_leaf(const vent_workspace *ws, int k)
{
    return vent__is_leaf(ws->program, k);
}

/* ---- laying out values -------------------------------------------------------------------- */

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
                           .creeping = LEAST_REYNOLDS / reynolds,
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

static bool lay_out_run(vent_workspace *ws, const vent__model *model, int k)
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
        } else if (item->kind == VENT__FITTING) {
            double bore = vent__bore(pipe->pipe);
            vent__fitting_loss(&item->fitting, bore, &along, &against);
            add_both_ways(&ws->segment[s], along, against, item->amount);
            bool more = vent__fitting_has_extra(&item->fitting, bore) ||
                        vent__fitting_opening_pressure(&item->fitting) > 0;
            if (more && !keep_extra(ws,
                                    (vent__extra){.run = k,
                                                  .fitting = &item->fitting,
                                                  .bore = bore,
                                                  .count = item->amount},
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
        int rank = model->node[run->from].arriving - program->link[k];
        return vent__leg_of(meeting, rank, area, run->density);
    }
    const vent__segment *last = &ws->segment[program->first_segment[k + 1] - 1];
    return vent__leg_of(meeting, run->rank, area_of(last, run->density), run->density);
}

/* The junction where run k starts, with the legs that meet there. */
static void lay_out_junction(vent_workspace *ws, const vent__model *model, int k)
{
    const vent__program *program = ws->program;
    const vent__node *from = &model->node[model->run[program->run[k]].from];
    double area = area_of(&ws->segment[program->first_segment[k]], ws->density[k]);
    vent__meeting *meeting = &ws->meeting[k];
    *meeting = vent__meeting_of(from->junction, area, ws->density[k]);
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j)) {
        ws->leg[j] = leg_of(ws, model, meeting, j);
        vent__meeting_join(meeting, &ws->leg[j]);
    }
}

bool vent__lay_out(vent_workspace *ws, vent__model *model)
{
    if (ws->model == model)
        return true;
    vent__model_release(ws->model);
    ws->model = NULL;
    ws->extras = 0;
    for (int k = 0; k < ws->program->runs; ++k)
        if (!lay_out_run(ws, model, k))
            return false;
    for (int k = 0; k < ws->program->runs; ++k)
        if (!is_leaf(ws, k))
            lay_out_junction(ws, model, k);
    if (!vent__core_lay_out(ws))
        return false;
    ws->model = vent__model_hold(model);
    return true;
}

/* ---- the laws ----------------------------------------------------------------------------- */

/* Below the creeping flow the law is a straight line: friction alone counts there, and e is -1. */
static vent__slope segment_law(const vent__segment *segment, double f, double e, double flow)
{
    const vent__loss *way = flow < 0 ? &segment->against : &segment->along;
    double size = larger(fabs(flow), segment->creeping);
    double friction = size * way->kf * f, other = size * way->k0;
    return (vent__slope){flow * (friction + other + way->k1),
                         (2 + e) * friction + 2 * other + way->k1};
}

static int least(int a, int b)
{
    return a < b ? a : b;
}

/* Friction factors of segments begin..end-1, the first of which is in run `run`; all lanes of the last
 * vector are filled, so that none is handled apart. */
static void block_friction(const vent_workspace *ws, const double *flow, int run, int begin,
                           int end, double *f, double *e)
{
    double reynolds[BLOCK];
    int i = 0;
    for (int s = begin; s < end; ++run) {
        double size = fabs(flow[run]);
        for (int stop = least(end, ws->program->first_segment[run + 1]); s < stop; ++s)
            reynolds[i++] = larger(ws->segment[s].reynolds * size, LEAST_REYNOLDS);
    }
    for (; i % LANES; ++i)
        reynolds[i] = 1e5;
    vent__friction_many((size_t)i, reynolds, ws->roughness + begin, f, e);
}

/* Adds the losses of segments begin..end-1 to their runs' loss and slope; the run they end in, or the
 * next where they end it. */
static int add_block(vent_workspace *ws, const double *flow, int run, int begin, int end,
                     const double *f, const double *e)
{
    int s = begin;
    for (;; ++run) {
        int stop = least(end, ws->program->first_segment[run + 1]);
        double loss = 0, slope = 0;
        for (; s < stop; ++s) {
            vent__slope law = segment_law(&ws->segment[s], *f++, *e++, flow[run]);
            loss += law.value;
            slope += law.slope;
        }
        ws->loss[run] += loss;
        ws->slope[run] += slope;
        if (s == end)
            return run + (end == ws->program->first_segment[run + 1]);
    }
}

/* Adds the losses of all segments to loss and slope; `crude` takes one friction factor for all. */
static void add_segments(vent_workspace *ws, const double *flow, bool crude)
{
    double f[BLOCK], e[BLOCK];
    int segments = ws->program->segments, run = 0;
    for (int i = 0; crude && i < least(segments, BLOCK); ++i) {
        f[i] = FIRST_FRICTION;
        e[i] = 0;
    }
    for (int begin = 0; begin < segments; begin += BLOCK) {
        int end = least(segments, begin + BLOCK);
        if (!crude)
            block_friction(ws, flow, run, begin, end, f, e);
        run = add_block(ws, flow, run, begin, end, f, e);
    }
}

/* Loss beside the form of the segments, and its slope. */
static vent__slope extra_law(const vent__extra *extra, double flow)
{
    double size = fabs(flow), reynolds = extra->reynolds * size, velocity = extra->velocity;
    double seen = copysign(larger(reynolds, LEAST_REYNOLDS), flow);
    vent__slope k = extra->fitting ? vent__fitting_extra(extra->fitting, extra->bore, seen)
                                   : vent__termination_extra(extra->termination, extra->bore, seen);
    if (reynolds < LEAST_REYNOLDS)
        k.slope = 0;
    double inertia = extra->count * extra->inertia;
    vent__slope law = {inertia * flow * size * k.value,
                       inertia * size * (2 * k.value + reynolds * k.slope)};
    double opening =
        extra->fitting ? extra->count * vent__fitting_opening_pressure(extra->fitting) : 0;
    if (opening > 0) {
        vent__slope share = vent__opening_share(flow * velocity);
        law.value += opening * share.value;
        law.slope += opening * share.slope * velocity;
    }
    return law;
}

static void add_extras(vent_workspace *ws, const double *flow)
{
    for (int i = 0; i < ws->extras; ++i) {
        int k = ws->extra[i].run;
        vent__slope law = extra_law(&ws->extra[i], flow[k]);
        ws->loss[k] += law.value;
        ws->slope[k] += law.slope;
    }
}

/* Pressure of a fan in the run at position k against that run's flow in kg/s. */
static vent__slope fan_of(const vent_workspace *ws, int number, int k, double flow)
{
    const vent__fan *fan = &ws->model->fan[number];
    const vent__forced *forced = &ws->forced;
    double volume = 1 / ws->density[k]; /* m3/kg */
    if (number == forced->fan)
        return (vent__slope){forced->pressure + forced->stiffness * (forced->flow - flow * volume),
                             -forced->stiffness * volume};
    double speed = ws->model->item[fan->number].amount;
    vent__slope law = vent__fan_law(fan->fan, flow * volume, ws->density[k], speed);
    double factor = fan->pressure_factor;
    return (vent__slope){factor * law.value, factor * law.slope * volume};
}

/* Loss and slope of every run at these flows. */
static void run_laws(vent_workspace *ws, const double *flow, bool crude)
{
    const vent__program *program = ws->program;
    for (int k = 0; k < program->runs; ++k) {
        ws->loss[k] = -ws->lift[k];
        ws->slope[k] = 0;
    }
    add_segments(ws, flow, crude);
    add_extras(ws, flow);
    ws->drive = ws->felt = 0;
    for (int k = 0; program->fans && k < program->runs; ++k)
        for (int i = program->first_fan[k]; i < program->first_fan[k + 1]; ++i) {
            vent__slope fan = fan_of(ws, program->fan[i], k, flow[k]);
            ws->drive = larger(ws->drive, fabs(fan.value));
            ws->felt = larger(ws->felt, fabs(fan.slope * flow[k]));
            ws->loss[k] -= fan.value;
            ws->slope[k] -= fan.slope;
        }
}

/* Vacuum the soil needs to feed a run that starts at a suction point. */
static vent__slope soil_of(const vent_workspace *ws, int k, double flow)
{
    double volume = 1 / ws->model->soil_gas.density; /* m3/kg */
    const vent_soil *soil = &ws->model->node[ws->program->soil[k]].soil;
    vent__slope law = vent__soil_law(soil, flow * volume);
    return (vent__slope){law.value, law.slope * volume};
}

static void add_to(double *sums, const double *more)
{
    for (int i = 0; i < VENT__SUMS; ++i)
        sums[i] += more[i];
}

static void copy_sums(double *to, const double *from)
{
    memcpy(to, from, VENT__SUMS * sizeof *to);
}

/* The sums over all that meet at each junction. */
static void joint_sums(vent_workspace *ws, const double *flow)
{
    const vent__program *program = ws->program;
    for (int k = 0; k < program->runs; ++k)
        if (!is_leaf(ws, k)) {
            vent__term term = vent__junction_combined_term(&ws->meeting[k], flow[k]);
            copy_sums(ws->sums[k], term.value);
            copy_sums(ws->knot[k].adds, term.slope);
        }
    for (int k = 0; k < program->runs; ++k) {
        int next = program->next[k];
        if (next < 0)
            continue;
        vent__term term = vent__junction_term(&ws->meeting[next], &ws->leg[k], flow[k], flow[next]);
        add_to(ws->sums[next], term.value);
        copy_sums(ws->adds[k], term.slope);
    }
}

static vent__leg_loss share_of(double part, vent__leg_loss h)
{
    vent__leg_loss share = {part * h.loss, part * h.d_leg, part * h.d_combined, {0}};
    for (int i = 0; i < VENT__SUMS; ++i)
        share.d_sum[i] = part * h.d_sum[i];
    return share;
}

static void joint_laws(vent_workspace *ws, const double *flow)
{
    const vent__program *program = ws->program;
    joint_sums(ws, flow);
    for (int k = 0; k < program->runs; ++k) {
        int next = program->next[k];
        if (next < 0)
            continue;
        ws->joint[k] =
            share_of(ws->joints, vent__junction_loss(&ws->meeting[next], &ws->leg[k], flow[k],
                                                     flow[next], ws->sums[next]));
    }
}

/* Leaves the junctions out. */
static void still_joints(vent_workspace *ws)
{
    size_t runs = (size_t)ws->program->runs;
    memset(ws->joint, 0, runs * sizeof *ws->joint);
    memset(ws->adds, 0, runs * sizeof *ws->adds);
    memset(ws->knot, 0, runs * sizeof *ws->knot);
}

/* Every flow as the sum of what feeds it. */
static void sum_flows(vent_workspace *ws, double *flow)
{
    const vent__program *program = ws->program;
    for (int k = 0; k < program->runs; ++k)
        if (!is_leaf(ws, k))
            flow[k] = 0;
    for (int k = 0; k < program->runs; ++k)
        if (program->next[k] >= 0)
            flow[program->next[k]] += flow[k];
}

/* Vacuum that each coupled suction point gets from the flows, or steps, of the others. */
static void share_vacuum(const vent_workspace *ws, const double *flow, double *shared)
{
    const vent__program *program = ws->program;
    double volume = 1 / ws->model->soil_gas.density; /* m3/kg */
    for (int i = 0; i < program->coupled; ++i)
        shared[i] = 0;
    for (int i = 0; i < program->couplings; ++i) {
        int a = program->pair[0][i], b = program->pair[1][i];
        double resistance = ws->model->coupling[i].resistance * volume;
        shared[a] += resistance * flow[program->couple[b]];
        shared[b] += resistance * flow[program->couple[a]];
    }
}

/* Pressures from the discharges down; what is left over at the suction points goes to source, their
 * laws' slopes to source_slope, what is left over where links begin to gap. Gives the sum of squares of what is left over. */
static double pressures(vent_workspace *ws, const double *flow, double *greatest, double *scale)
{
    const vent__program *program = ws->program;
    double sum = 0;
    *greatest = 0;
    *scale = larger(ws->drive, LEAST_SCALE);
    for (int k = program->runs - 1; k >= 0; --k) {
        int next = program->next[k];
        double end = next < 0 ? ws->model->wind_pressure : ws->start[next] + ws->joint[k].loss;
        ws->start[k] = end + ws->loss[k];
        double driven = larger(fabs(ws->lift[k]), fabs(ws->loss[k] + ws->lift[k]));
        *scale = larger(*scale, larger(larger(fabs(end), fabs(ws->start[k])), driven));
        if (program->soil[k] >= 0) {
            vent__slope soil = soil_of(ws, k, flow[k]);
            ws->source[k] = -soil.value - ws->start[k];
            ws->source_slope[k] = soil.slope;
        }
    }
    share_vacuum(ws, flow, ws->shared);
    for (int i = 0; i < program->coupled; ++i)
        ws->source[program->couple[i]] -= ws->shared[i];
    for (int k = 0; k < program->runs; ++k)
        if (program->soil[k] >= 0) {
            sum += ws->source[k] * ws->source[k];
            *greatest = larger(*greatest, fabs(ws->source[k]));
        }
    for (int l = 0; l < program->links; ++l) {
        double gap = ws->start[program->outlet[l]] - ws->start[program->start[l]];
        ws->gap[l] = gap;
        sum += gap * gap;
        *greatest = larger(*greatest, fabs(gap));
    }
    return sum;
}

/* All laws and pressures at these flows; the sum of squares of what is left over. */
static double evaluate(vent_workspace *ws, const double *flow, double *greatest, double *scale)
{
    run_laws(ws, flow, false);
    joint_laws(ws, flow);
    return pressures(ws, flow, greatest, scale);
}

/* ---- the two sweeps ----------------------------------------------------------------------- */

/* Keeps a slope away from zero without turning its sign. */
static double firm(double slope)
{
    const double least = 1e-30;
    return fabs(slope) > least ? slope : copysign(least, slope);
}

/* Inverse of a matrix of three rows, by its cofactors. */
static void invert(double a[VENT__SUMS][VENT__SUMS], double inverse[VENT__SUMS][VENT__SUMS])
{
    _Static_assert(VENT__SUMS == 3, "cofactors of three rows");
    for (int i = 0; i < 3; ++i)
        for (int j = 0; j < 3; ++j) {
            int r = (j + 1) % 3, s = (j + 2) % 3, c = (i + 1) % 3, d = (i + 2) % 3;
            inverse[i][j] = a[r][c] * a[s][d] - a[r][d] * a[s][c];
        }
    double all = firm(a[0][0] * inverse[0][0] + a[0][1] * inverse[1][0] + a[0][2] * inverse[2][0]);
    for (int i = 0; i < 3; ++i)
        for (int j = 0; j < 3; ++j)
            inverse[i][j] /= all;
}

/* How the sums answer the steps of the legs that meet where run k starts, and these the sums. */
static void answer_of(vent_workspace *ws, int k)
{
    const vent__program *program = ws->program;
    vent__knot *knot = &ws->knot[k];
    double feedback[VENT__SUMS][VENT__SUMS] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
    double all[VENT__SUMS] = {0};
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j))
        for (int b = 0; b < VENT__SUMS; ++b) {
            double pressed = ws->weight[j] * ws->joint[j].d_sum[b];
            all[b] += pressed;
            for (int a = 0; a < VENT__SUMS; ++a)
                feedback[a][b] += ws->adds[j][a] * pressed;
        }
    invert(feedback, knot->answer);
    for (int a = 0; a < VENT__SUMS; ++a) {
        knot->echo[a] = 0;
        for (int b = 0; b < VENT__SUMS; ++b)
            knot->echo[a] += all[b] * knot->answer[b][a];
    }
}

/* How the flow of all legs together answers a pascal more in one: with what it does to the others
 * by way of the sums. */
static double felt_share(const vent_workspace *ws, int leg)
{
    return 1 - vent__dot(ws->knot[ws->program->next[leg]].echo, ws->adds[leg]);
}

static double felt_weight(const vent_workspace *ws, int leg)
{
    return ws->weight[leg] * felt_share(ws, leg);
}

/* How what feeds run k answers its start, and what the legs that meet there are to it. */
static void gather_weights(vent_workspace *ws, int k)
{
    const vent__program *program = ws->program;
    vent__knot *knot = &ws->knot[k];
    answer_of(ws, k);
    double weight = 0, turned = 1 + vent__dot(knot->echo, knot->adds);
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j)) {
        double w = felt_weight(ws, j);
        weight += w;
        turned += w * ws->joint[j].d_combined;
    }
    knot->weight = firm(weight);
    ws->source_slope[k] = turned / knot->weight;
}

/* Pressure left over, of all that feeds run k; push is the flow that a leg would take from it alone. */
static void gather_pushes(vent_workspace *ws, int k)
{
    const vent__program *program = ws->program;
    double pushed = 0;
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j))
        pushed += felt_share(ws, j) * ws->push[j];
    ws->source[k] = pushed / ws->knot[k].weight;
}

/* Up: each subtree shrinks to what the pipe above it sees. `inertia` [Pa s/kg] resists change. Without `all`
 * the core is left out; with it, the flows of links answer nothing: they are set. */
static void sweep_up(vent_workspace *ws, double inertia, bool all)
{
    const vent__program *program = ws->program;
    for (int k = 0; k < program->runs; ++k) {
        if (!all && !vent__is_limb(ws, k))
            continue;
        if (program->link[k] != 0) {
            ws->weight[k] = ws->push[k] = 0;
            continue;
        }
        if (!is_leaf(ws, k)) {
            gather_weights(ws, k);
            gather_pushes(ws, k);
        }
        double joint = program->next[k] < 0 ? 0 : ws->joint[k].d_leg;
        ws->weight[k] = 1 / firm(ws->source_slope[k] + ws->slope[k] + joint + inertia);
        ws->push[k] = ws->weight[k] * ws->source[k];
    }
}

/* The steps of the legs that meet where run k starts, from its own. */
static void spread(vent_workspace *ws, int k)
{
    const vent__program *program = ws->program;
    const vent__knot *knot = &ws->knot[k];
    double alone[VENT__SUMS], sums[VENT__SUMS]; /* their changes, before and after they answer */
    double node = ws->source[k] - ws->source_slope[k] * ws->step[k];
    for (int i = 0; i < VENT__SUMS; ++i)
        alone[i] = knot->adds[i] * ws->step[k];
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j)) {
        double against = node + ws->joint[j].d_combined * ws->step[k];
        ws->step[j] = ws->push[j] - ws->weight[j] * against;
        for (int i = 0; i < VENT__SUMS; ++i)
            alone[i] += ws->adds[j][i] * ws->step[j];
    }
    for (int i = 0; i < VENT__SUMS; ++i)
        sums[i] = vent__dot(knot->answer[i], alone);
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j))
        ws->step[j] -= ws->weight[j] * vent__dot(ws->joint[j].d_sum, sums);
}

/* Down: the flows come back. */
static void sweep_down(vent_workspace *ws)
{
    for (int k = ws->program->runs - 1; k >= 0; --k) {
        if (!vent__is_limb(ws, k))
            continue;
        if (ws->program->next[k] < 0)
            ws->step[k] = ws->push[k];
        if (!is_leaf(ws, k))
            spread(ws, k);
    }
}

/* All that is known of the steps before what is left over: limbs shrink, then the core. */
static void eliminate(vent_workspace *ws, double inertia)
{
    sweep_up(ws, inertia, false);
    if (ws->core)
        vent__core_factor(ws, inertia);
}

static void come_back(vent_workspace *ws)
{
    if (ws->core)
        vent__core_step(ws);
    sweep_down(ws);
}

/* Steps that leave nothing over anywhere, were the laws straight lines. */
static void find_steps(vent_workspace *ws)
{
    eliminate(ws, 0);
    come_back(ws);
}

/* The sweep up and the core at the present slopes, for questions about this point. */
static void linearise(vent_workspace *ws)
{
    sweep_up(ws, 0, true);
    if (ws->core)
        vent__core_factor(ws, 0);
}

/* ---- Newton ------------------------------------------------------------------------------- */

static void move(vent_workspace *ws, double share)
{
    for (int k = 0; k < ws->program->runs; ++k)
        ws->trial[k] = ws->flow[k] + share * ws->step[k];
    sum_flows(ws, ws->trial);
}

static void accept(vent_workspace *ws)
{
    double *flow = ws->flow;
    ws->flow = ws->trial;
    ws->trial = flow;
}

/* Secants of every law at one velocity, fans from shut-off to free delivery. */
static void secant_flows(vent_workspace *ws)
{
    const vent__program *program = ws->program;
    int runs = program->runs;
    const double *reference = ws->reference;
    for (int k = 0; k < runs; ++k)
        ws->loss[k] = ws->slope[k] = 0;
    still_joints(ws);
    add_segments(ws, reference, true);
    add_extras(ws, reference);
    for (int k = 0; k < runs; ++k) {
        ws->slope[k] = ws->loss[k] / reference[k];
        ws->loss[k] = -ws->lift[k];
        ws->flow[k] = 0;
        for (int i = program->first_fan[k]; i < program->first_fan[k + 1]; ++i) {
            double most = vent_fan_free_delivery(ws->model->fan[program->fan[i]].fan);
            vent__slope fan = fan_of(ws, program->fan[i], k, 0);
            ws->loss[k] -= fan.value;
            if (program->fan[i] == ws->forced.fan)
                ws->slope[k] -= fan.slope;
            else if (isfinite(most))
                ws->slope[k] += fan.value / (most * ws->density[k]);
        }
    }
    double greatest, scale;
    pressures(ws, ws->flow, &greatest, &scale);
    for (int k = 0; k < runs; ++k)
        if (program->soil[k] >= 0)
            ws->source_slope[k] = soil_of(ws, k, reference[k]).value / reference[k];
    find_steps(ws);
    memcpy(ws->flow, ws->step, (size_t)runs * sizeof *ws->flow);
    sum_flows(ws, ws->flow);
}

/* First flows: those of the secants, then one of Newton's steps with one friction factor for all and
 * the junctions left out. */
static void first_flows(vent_workspace *ws)
{
    double greatest, scale;
    secant_flows(ws);
    run_laws(ws, ws->flow, true);
    pressures(ws, ws->flow, &greatest, &scale);
    find_steps(ws);
    move(ws, 1);
    accept(ws);
}

/* What rounding may leave over: of the pressures, and of the flows times the fans' slopes. */
static double good_enough(const vent_workspace *ws, double scale)
{
    return GOOD_ENOUGH * larger(scale, ws->felt);
}

/* Full steps, halved until what is left over shrinks. True when converged; else stuck or out of tries. */
static bool newton(vent_workspace *ws, vent_convergence *c)
{
    enum { MOST_STEPS = 100, MOST_HALVINGS = 30 };
    double rest = evaluate(ws, ws->flow, &c->pressure_residual, &c->pressure_scale);
    for (int i = 0; i < MOST_STEPS; ++i, ++c->iterations) {
        if (c->pressure_residual <= TOLERANCE * c->pressure_scale)
            return true;
        find_steps(ws);
        double share = 1, trial_rest = INFINITY, greatest = 0, scale = 0;
        for (int h = 0; h < MOST_HALVINGS; ++h, share /= 2) {
            move(ws, share);
            trial_rest = evaluate(ws, ws->trial, &greatest, &scale);
            if (trial_rest <= (1 - 1e-4 * share) * rest)
                break;
            if (share == 1 && c->pressure_residual <= good_enough(ws, c->pressure_scale))
                break; /* as good as rounding allows */
        }
        bool better = trial_rest < rest;
        if (better)
            accept(ws);
        else /* bring the laws back to the flows that stay */
            evaluate(ws, ws->flow, &greatest, &scale);
        c->pressure_residual = greatest;
        c->pressure_scale = scale;
        if (!better)
            return greatest <= good_enough(ws, scale);
        rest = trial_rest;
    }
    return false;
}

/* Whether more flow anywhere meets more resistance: the sign of the pivots. */
static bool everything_resists(const vent_workspace *ws)
{
    for (int k = 0; k < ws->program->runs; ++k)
        if (vent__is_limb(ws, k) && !(ws->weight[k] > 0))
            return false;
    return !ws->core || vent__core_resists(ws->core);
}

/* Follows the air from the present flows as if it had inertia, which dwindles as it settles: it runs
 * into a stable point even past flows where the residual grows, as it does beside the rising part of
 * a fan's curve or where a leg of a junction turns. */
static bool settle(vent_workspace *ws, vent_convergence *c)
{
    enum { MOST_STEPS = 400 };
    const double calm = 0.8, rough = 1.5, settled = 1e-4;
    int root = ws->program->runs - 1;
    double rest = evaluate(ws, ws->flow, &c->pressure_residual, &c->pressure_scale);
    double most = 4 * c->pressure_scale / ws->reference[root];
    double inertia = most;
    for (int i = 0; i < MOST_STEPS && isfinite(rest); ++i, ++c->iterations) {
        if (c->pressure_residual <= settled * c->pressure_scale)
            return newton(ws, c);
        eliminate(ws, inertia);
        if (!everything_resists(ws)) { /* something pushes harder than the air resists */
            most *= 2;
            inertia = most;
            continue;
        }
        come_back(ws);
        move(ws, 1);
        accept(ws);
        double before = rest;
        rest = evaluate(ws, ws->flow, &c->pressure_residual, &c->pressure_scale);
        most *= i % 32 == 31 ? 2 : 1; /* it swings: let it move more slowly */
        inertia = fmin(inertia * (rest < before ? calm : rough), most);
    }
    return false;
}

/* Without the junctions' losses every law but a rising fan's grows with flow and the point is easily
 * found, from rest; then the losses are turned on little by little, each point starting from the
 * last. Where a leg turns there may be no point near: then the air is followed to where it goes. */
static bool start_up(vent_workspace *ws, vent_convergence *c)
{
    const double first = 0.25, least = 0.01;
    size_t bytes = (size_t)ws->program->runs * sizeof *ws->flow;
    double on = 0, more = first;
    memset(ws->flow, 0, bytes);
    ws->joints = 0;
    bool found = settle(ws, c);
    while (found && on < 1) {
        memcpy(ws->settled, ws->flow, bytes);
        ws->joints = fmin(on + more, 1);
        found = newton(ws, c);
        if (!found) {
            memcpy(ws->flow, ws->settled, bytes);
            found = more > least || settle(ws, c);
            if (more > least) {
                more /= 4;
                continue;
            }
        }
        on = ws->joints;
        more *= 2;
    }
    ws->joints = 1;
    return found;
}

/* A fan that works beyond its data, where its curve does not fall, meets the system nowhere. */
static bool fans_meet(const vent_workspace *ws, const char *function, vent_error *err)
{
    const vent__program *program = ws->program;
    for (int k = 0; k < program->runs; ++k)
        for (int i = program->first_fan[k]; i < program->first_fan[k + 1]; ++i) {
            int number = program->fan[i];
            const vent__fan *fan = &ws->model->fan[number];
            double flow = ws->flow[k] / ws->density[k], least, most;
            double speed = ws->model->item[fan->number].amount;
            vent_fan_range(fan->fan, &least, &most);
            if ((flow >= least * speed && flow <= most * speed) || number == ws->forced.fan ||
                fan_of(ws, number, k, ws->flow[k]).slope < 0)
                continue;
            return vent__fail(
                err, VENT_E_NO_OPERATING_POINT, function, "fan", number, flow, least * speed,
                most * speed,
                "%s: fan '%.40s' in run '%.40s' meets the system nowhere: its points run from %.4g "
                "to %.4g m3/s, and where they end its pressure does not fall with flow, so it "
                "cannot be continued",
                function, vent_fan_name(fan->fan), vent__run_name(ws->model, fan->run),
                least * speed, most * speed);
        }
    return true;
}

/* The same from run k down to the discharge. */
static bool resists_from(const vent_workspace *ws, int k)
{
    for (; k >= 0 && vent__is_limb(ws, k); k = ws->program->next[k])
        if (!(ws->weight[k] > 0))
            return false;
    return k < 0 || vent__core_resists(ws->core);
}

/* Whether the air would stay at this point: where a fan's pressure rises with flow, everything else
 * must rise faster. Leaves the slopes at this point. */
static bool stable(vent_workspace *ws)
{
    const vent__program *program = ws->program;
    linearise(ws);
    for (int k = 0; program->fans && k < program->runs; ++k)
        for (int i = program->first_fan[k]; i < program->first_fan[k + 1]; ++i)
            if (!vent_fan_is_falling(ws->model->fan[program->fan[i]].fan) &&
                fan_of(ws, program->fan[i], k, ws->flow[k]).slope > 0 && !resists_from(ws, k))
                return false;
    return true;
}

/* Newton's point, unless the air would not stay there and finds one where it does. Leaves the slopes
 * at the solution. */
static bool find_point(vent_workspace *ws, vent_convergence *c)
{
    first_flows(ws);
    bool found = newton(ws, c);
    if (found && stable(ws))
        return true;
    if (start_up(ws, c) && stable(ws))
        return true;
    if (!found)
        return false;
    first_flows(ws);
    newton(ws, c);
    linearise(ws);
    return true;
}

static bool same_shape(const vent_workspace *ws, const vent__model *model, const char *function,
                       vent_error *err)
{
    return model->shape == ws->program->shape ||
           vent__fail(err, VENT_E_STALE, function, "workspace", -1, NAN, NAN, NAN,
                      "%s: the workspace was made for a network of another shape; make a new "
                      "one after adding nodes, runs or items",
                      function);
}

bool vent__solve(vent_workspace *ws, vent__model *model, const char *function,
                 vent_convergence *convergence, vent_error *err)
{
    if (!same_shape(ws, model, function, err))
        return false;
    *convergence = (vent_convergence){0};
    if (!vent__lay_out(ws, model))
        return vent__fail(err, VENT_E_MEMORY, function, "", -1, NAN, NAN, NAN,
                          "%s: no memory to lay the network out", function);
    if (find_point(ws, convergence))
        return fans_meet(ws, function, err);
    return vent__fail(
        err, VENT_E_NOT_CONVERGED, function, "network", -1, convergence->pressure_residual, 0,
        TOLERANCE * convergence->pressure_scale,
        "%s: after %d steps %.3g Pa were left over of %.3g Pa; the aim is %.3g of that", function,
        convergence->iterations, convergence->pressure_residual, convergence->pressure_scale,
        TOLERANCE);
}

/* ---- for gradients ------------------------------------------------------------------------ */

void vent__forget(vent_workspace *ws)
{
    vent__model_release(ws->model);
    ws->model = NULL;
}

bool vent__linearise(vent_workspace *ws, vent__model *model, const double *flow)
{
    if (!vent__lay_out(ws, model))
        return false;
    memcpy(ws->flow, flow, (size_t)ws->program->runs * sizeof *flow);
    double greatest, scale;
    evaluate(ws, ws->flow, &greatest, &scale);
    linearise(ws);
    return true;
}

double vent__probe_run(vent_workspace *ws, const vent__model *model, int k, double flow)
{
    const vent__program *program = ws->program;
    ws->extras = 0;
    if (!lay_out_run(ws, model, k))
        return NAN;
    ws->flow[k] = flow;
    double loss = -ws->lift[k];
    for (int s = program->first_segment[k]; s < program->first_segment[k + 1]; ++s) {
        double f, e, reynolds = larger(ws->segment[s].reynolds * fabs(flow), LEAST_REYNOLDS);
        vent__friction(reynolds, ws->roughness[s], &f, &e);
        loss += segment_law(&ws->segment[s], f, e, flow).value;
    }
    for (int i = 0; i < ws->extras; ++i)
        loss += extra_law(&ws->extra[i], flow).value;
    for (int i = program->first_fan[k]; i < program->first_fan[k + 1]; ++i) {
        const vent__fan *fan = &model->fan[program->fan[i]];
        loss -=
            fan->pressure_factor * vent__fan_law(fan->fan, flow / ws->density[k], ws->density[k],
                                                 model->item[fan->number].amount)
                                       .value;
    }
    return loss;
}

void vent__probe_junction(vent_workspace *ws, const vent__model *model, int k, const double *flow)
{
    const vent__program *program = ws->program;
    vent__meeting *meeting = &ws->meeting[k];
    lay_out_junction(ws, model, k);
    double *sums = ws->sums[k];
    vent__term combined = vent__junction_combined_term(meeting, flow[k]);
    copy_sums(sums, combined.value);
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j)) {
        vent__term term = vent__junction_term(meeting, &ws->leg[j], flow[j], flow[k]);
        add_to(sums, term.value);
    }
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j))
        ws->joint[j] = vent__junction_loss(meeting, &ws->leg[j], flow[j], flow[k], sums);
}

/* ---- workspaces and solutions ------------------------------------------------------------- */

void vent_workspace_free(vent_workspace *ws)
{
    if (!ws)
        return;
    vent__program_release(ws->program);
    vent__model_release(ws->model);
    free(ws->segment);
    free(ws->extra);
    free(ws->leg);
    free(ws->meeting);
    free(ws->sums);
    free(ws->joint);
    free(ws->adds);
    free(ws->knot);
    free(ws->gap);
    vent__core_free(ws->core);
    free(ws->roughness);
    free(ws);
}

vent_workspace *vent_workspace_new(const vent_network *network, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network))
        return NULL;
    vent__program *program = vent__program_new(network->model, __func__, err);
    if (!program)
        return NULL;
    size_t runs = (size_t)program->runs, segments = (size_t)program->segments;
    size_t padded = (segments + LANES - 1) / LANES * LANES, links = (size_t)program->links;
    size_t coupled = (size_t)program->coupled;
    vent_workspace *ws = calloc(1, sizeof *ws);
    if (!ws) {
        VENT__FAIL(VENT_E_MEMORY, "", -1, "%s: no memory", __func__);
        vent__program_release(program);
        return NULL;
    }
    double **row[] = {&ws->lift,   &ws->density, &ws->flow,    &ws->loss,      &ws->slope,
                      &ws->start,  &ws->source,  &ws->settled, &ws->reference, &ws->source_slope,
                      &ws->weight, &ws->step,    &ws->trial,   &ws->push};
    enum { ROWS = sizeof row / sizeof *row };
    bool room = vent__resize(&ws->segment, segments, sizeof *ws->segment) &&
                vent__resize(&ws->leg, runs, sizeof *ws->leg) &&
                vent__resize(&ws->meeting, runs, sizeof *ws->meeting) &&
                vent__resize(&ws->sums, runs, sizeof *ws->sums) &&
                vent__resize(&ws->joint, runs, sizeof *ws->joint) &&
                vent__resize(&ws->adds, runs, sizeof *ws->adds) &&
                vent__resize(&ws->knot, runs, sizeof *ws->knot) &&
                vent__resize(&ws->gap, links + coupled + 1, sizeof *ws->gap) &&
                vent__resize(&ws->roughness, padded + ROWS * runs, sizeof *ws->roughness);
    if (!room) {
        VENT__FAIL(VENT_E_MEMORY, "", -1, "%s: no memory for %d runs", __func__, program->runs);
        vent__program_release(program);
        vent_workspace_free(ws);
        return NULL;
    }
    for (size_t i = segments; i < padded; ++i)
        ws->roughness[i] = 0;
    double *at = ws->roughness + padded;
    for (int i = 0; i < ROWS; ++i, at += runs)
        *row[i] = at;
    ws->shared = ws->gap + links;
    ws->program = program;
    ws->forced.fan = -1;
    ws->joints = 1;
    return ws;
}

void vent_solution_free(vent_solution *solution)
{
    if (!solution)
        return;
    vent__program_release(solution->program);
    vent__model_release(solution->model);
    free(solution->flow);
    free(solution->meeting);
    free(solution->sums);
    free(solution);
}

vent_solution *vent__solution_new(const vent__program *program)
{
    size_t runs = (size_t)program->runs;
    vent_solution *solution = calloc(1, sizeof *solution);
    if (!solution || !vent__resize(&solution->flow, 4 * runs, sizeof *solution->flow) ||
        !vent__resize(&solution->meeting, runs, sizeof *solution->meeting) ||
        !vent__resize(&solution->sums, runs, sizeof *solution->sums)) {
        vent_solution_free(solution);
        return NULL;
    }
    solution->start = solution->flow + runs;
    solution->source_slope = solution->start + runs;
    solution->response = solution->source_slope + runs;
    return solution;
}

/* How the mass balances hold, from the flows alone. */
static void weigh(const vent_workspace *ws, vent_convergence *c)
{
    const vent__program *program = ws->program;
    double *balance = ws->step; /* scratch */
    for (int k = 0; k < program->runs; ++k)
        balance[k] = is_leaf(ws, k) ? 0 : -ws->flow[k];
    for (int k = 0; k < program->runs; ++k) {
        if (program->next[k] >= 0)
            balance[program->next[k]] += ws->flow[k];
        c->mass_scale = larger(c->mass_scale, fabs(ws->flow[k]));
    }
    for (int k = 0; k < program->runs; ++k)
        c->mass_residual = larger(c->mass_residual, fabs(balance[k]));
}

/* How the flow through all discharges answers a pascal more in each run: in a tree shares multiply
 * downwards. */
static void responses(vent_workspace *ws, double *response)
{
    const vent__program *program = ws->program;
    int runs = program->runs;
    if (ws->core) {
        double *by_flow = ws->settled, *by_pressure = ws->step; /* scratch by now */
        for (int k = 0; k < runs; ++k) {
            by_flow[k] = program->next[k] < 0 ? 1 / ws->density[k] : 0;
            by_pressure[k] = 0;
        }
        vent__transpose(ws, by_flow, by_pressure, response, ws->trial);
        for (int k = 0; k < runs; ++k)
            response[k] = -response[k];
        return;
    }
    for (int k = runs - 1; k >= 0; --k) {
        int next = program->next[k];
        response[k] = next < 0 ? ws->weight[k] / ws->density[k]
                               : response[next] * felt_weight(ws, k) / ws->knot[next].weight;
    }
}

void vent__take_solution(vent_workspace *ws, const vent_convergence *convergence,
                         vent_solution *solution)
{
    size_t runs = (size_t)ws->program->runs, bytes = runs * sizeof(double);
    if (solution->program != ws->program) {
        vent__program_release(solution->program);
        solution->program = vent__program_hold(ws->program);
    }
    if (solution->model != ws->model) {
        vent__model_release(solution->model);
        solution->model = vent__model_hold(ws->model);
    }
    solution->convergence = *convergence;
    memcpy(solution->flow, ws->flow, bytes);
    memcpy(solution->start, ws->start, bytes);
    memcpy(solution->source_slope, ws->source_slope, bytes);
    memcpy(solution->meeting, ws->meeting, runs * sizeof *ws->meeting);
    memcpy(solution->sums, ws->sums, runs * sizeof *ws->sums);
    weigh(ws, &solution->convergence);
    responses(ws, solution->response);
}

bool vent_network_solve_into(const vent_network *network, vent_workspace *workspace,
                             vent_solution *solution, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) || !VENT__POINTER(workspace) ||
        !VENT__POINTER(solution))
        return false;
    if (solution->program->runs != workspace->program->runs)
        return VENT__FAIL(VENT_E_STALE, "solution", -1,
                          "%s: the solution was made for a network of %d runs, not %d", __func__,
                          solution->program->runs, workspace->program->runs);
    vent_convergence convergence;
    if (!vent__solve(workspace, network->model, __func__, &convergence, err))
        return false;
    vent__take_solution(workspace, &convergence, solution);
    return true;
}

vent_solution *vent_network_solve(const vent_network *network, vent_workspace *workspace,
                                  vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network))
        return NULL;
    vent_workspace *own = workspace ? NULL : vent_workspace_new(network, err);
    vent_workspace *ws = workspace ? workspace : own;
    vent_convergence convergence;
    vent_solution *solution = NULL;
    if (ws && vent__solve(ws, network->model, __func__, &convergence, err)) {
        solution = vent__solution_new(ws->program);
        if (solution)
            vent__take_solution(ws, &convergence, solution);
        else
            VENT__FAIL(VENT_E_MEMORY, "", -1, "%s: no memory for the solution", __func__);
    }
    vent_workspace_free(own);
    return solution;
}

/* ---- the system curve --------------------------------------------------------------------- */

/* What the system takes when the fan is a stiff line through `pressure` at the flow asked for. */
static double taken_pressure(vent_workspace *ws, vent__model *model, int k, double pressure,
                             const char *function, vent_error *err)
{
    vent_convergence c;
    ws->forced.pressure = pressure;
    if (!vent__solve(ws, model, function, &c, err))
        return NAN;
    return fan_of(ws, ws->forced.fan, k, ws->flow[k]).value;
}

/* The pressure a fan must make for a flow: the line's own pressure there, found by secants, since on
 * soil of any tightness the system's slope may be far above or below the line's. */
static double needed_pressure(vent_workspace *ws, vent__model *model, int fan, double flow,
                              const char *function, vent_error *err)
{
    enum { MOST_PASSES = 30 };
    const double enough = 1e-12, least_stiffness = 1e6; /* of the pressure; Pa s/m3 */
    int k = ws->program->position[model->fan[fan].run];
    ws->forced = (vent__forced){.fan = fan, .flow = flow, .stiffness = least_stiffness};
    double before = 0, taken_before = taken_pressure(ws, model, k, before, function, err);
    double chord = fabs(taken_before) * ws->density[k] / larger(fabs(ws->flow[k]), 1e-30);
    if (chord > least_stiffness) { /* tight soil needs a line as steep as its own */
        ws->forced.stiffness = chord;
        taken_before = taken_pressure(ws, model, k, before, function, err);
    }
    double pressure = taken_before, taken = NAN;
    for (int i = 0; i < MOST_PASSES && isfinite(pressure); ++i) {
        taken = taken_pressure(ws, model, k, pressure, function, err);
        double rest = taken - pressure, rest_before = taken_before - before;
        if (!isfinite(taken) || fabs(rest) <= enough * fabs(pressure) || rest == rest_before)
            break;
        double next = pressure - rest * (pressure - before) / (rest - rest_before);
        before = pressure;
        taken_before = taken;
        pressure = next;
    }
    ws->forced.fan = -1;
    if (fabs(taken - pressure) <= 1e-9 * fabs(pressure))
        return taken;
    vent__fail(err, VENT_E_NOT_CONVERGED, function, "flow", -1, flow, NAN, NAN,
               "%s: at %.4g m3/s no pressure of the fan was found", function, flow);
    return NAN;
}

size_t vent_network_system_curve(const vent_network *network, vent_workspace *workspace, int fan,
                                 size_t n, const double *flow, double *pressure, vent_error *err)
{
    for (size_t i = 0; pressure && i < n; ++i)
        pressure[i] = NAN;
    if (vent__failed(err) || !VENT__POINTER(network) || !VENT__POINTER(workspace) ||
        !VENT__POINTER(flow) || !VENT__POINTER(pressure))
        return n;
    vent__model *model = network->model;
    if (!same_shape(workspace, model, __func__, err))
        return n;
    if (fan < 0 || fan >= model->fans) {
        VENT__FAIL(VENT_E_NOT_FOUND, "fan", fan,
                   "%s: fan is %d; this network has %d, numbered from 0", __func__, fan,
                   model->fans);
        return n;
    }
    size_t failed = 0;
    for (size_t i = 0; i < n; ++i) {
        vent_error one = VENT_NO_ERROR;
        if (vent__check_range(&one, __func__, "flow", "m3/s", flow[i], -MOST_FLOW, MOST_FLOW))
            pressure[i] = needed_pressure(workspace, model, fan, flow[i], __func__, &one);
        one.index = (int64_t)i;
        failed += isfinite(pressure[i]) ? 0 : 1;
        if (one.status != VENT_OK && err && err->status == VENT_OK)
            *err = one;
    }
    return failed;
}
