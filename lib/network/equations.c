/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The laws of all runs, junctions and soils at given flows, the pressures that follow, and what is left
 * over. Laws are evaluated, never differenced, so no digit is lost on long manifolds. */
#include "network/equations.h"

#include <math.h>
#include <string.h>

#include "network/state.h"

enum { BLOCK = 256 };                       /* segments whose friction is evaluated at once */
static const double FIRST_FRICTION = 0.022; /* of vent pipe at usual flows, near enough to start */
static const double LEAST_SCALE = 1e-6;     /* Pa: below this nothing moves */

/* Below the creeping flow the law is a straight line: friction alone counts there, and e is -1. */
static vent__slope segment_law(const vent__segment *segment, double f, double e, double flow)
{
    const vent__loss *way = flow < 0 ? &segment->against : &segment->along;
    double size = vent__larger(fabs(flow), segment->creeping);
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
            reynolds[i++] = vent__larger(ws->segment[s].reynolds * size, VENT__LEAST_REYNOLDS);
    }
    for (; i % VENT__LANES; ++i)
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
    double seen = copysign(vent__larger(reynolds, VENT__LEAST_REYNOLDS), flow);
    vent__slope k = extra->fitting ? vent__fitting_extra(extra->fitting, extra->bore, seen)
                                   : vent__termination_extra(extra->termination, extra->bore, seen);
    if (reynolds < VENT__LEAST_REYNOLDS)
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
vent__slope vent__fan_of(const vent_workspace *ws, int number, int k, double flow)
{
    const vent__fan *fan = &ws->model->fan[number];
    const vent__forced *forced = &ws->forced;
    double volume = 1 / ws->density[k]; /* m3/kg */
    if (number == forced->fan)
        return (vent__slope){forced->pressure + forced->stiffness * (forced->flow - flow * volume),
                             -forced->stiffness * volume};
    double speed = ws->model->item[fan->number].amount;
    vent__slope law = vent__fan_law(fan->fan, flow * volume, ws->density[k], speed);
    double factor = vent__fan_share(ws->model, number);
    return (vent__slope){factor * law.value, factor * law.slope * volume};
}

/* Loss and slope of every run at these flows. */
void vent__run_laws(vent_workspace *ws, const double *flow, bool crude)
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
            vent__slope fan = vent__fan_of(ws, program->fan[i], k, flow[k]);
            ws->drive = vent__larger(ws->drive, fabs(fan.value));
            ws->felt = vent__larger(ws->felt, fabs(fan.slope * flow[k]));
            ws->loss[k] -= fan.value;
            ws->slope[k] -= fan.slope;
        }
}

/* Vacuum the soil, or an opening, needs to feed a run that starts there. */
vent__slope vent__soil_of(const vent_workspace *ws, int k, double flow)
{
    return vent__feed(ws->model, ws->program->soil[k], ws->density[k], flow);
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
        if (!vent__is_leaf(ws->program, k)) {
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

void vent__sum_flows(vent_workspace *ws, double *flow)
{
    const vent__program *program = ws->program;
    for (int k = 0; k < program->runs; ++k)
        if (!vent__is_leaf(ws->program, k))
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
static vent__rest pressures(vent_workspace *ws, const double *flow)
{
    const vent__program *program = ws->program;
    vent__rest rest = {.scale = vent__larger(ws->drive, LEAST_SCALE)};
    for (int k = program->runs - 1; k >= 0; --k) {
        int next = program->next[k];
        double end = next < 0 ? vent__wind(ws->model, ws->model->run[program->run[k]].to)
                              : ws->start[next] + ws->joint[k].loss;
        ws->start[k] = end + ws->loss[k];
        double driven = vent__larger(fabs(ws->lift[k]), fabs(ws->loss[k] + ws->lift[k]));
        rest.scale = vent__larger(
            rest.scale, vent__larger(vent__larger(fabs(end), fabs(ws->start[k])), driven));
        if (program->soil[k] >= 0) {
            vent__slope soil = vent__soil_of(ws, k, flow[k]);
            ws->source[k] =
                vent__surroundings(ws->model, program->soil[k]) - soil.value - ws->start[k];
            ws->source_slope[k] = soil.slope;
        }
    }
    share_vacuum(ws, flow, ws->shared);
    for (int i = 0; i < program->coupled; ++i)
        ws->source[program->couple[i]] -= ws->shared[i];
    for (int k = 0; k < program->runs; ++k)
        if (program->soil[k] >= 0) {
            rest.squares += ws->source[k] * ws->source[k];
            rest.greatest = vent__larger(rest.greatest, fabs(ws->source[k]));
        }
    for (int l = 0; l < program->links; ++l) {
        double gap = ws->start[program->outlet[l]] - ws->start[program->start[l]];
        ws->gap[l] = gap;
        rest.squares += gap * gap;
        rest.greatest = vent__larger(rest.greatest, fabs(gap));
    }
    return rest;
}

vent__rest vent__evaluate(vent_workspace *ws, const double *flow)
{
    vent__run_laws(ws, flow, false);
    joint_laws(ws, flow);
    return pressures(ws, flow);
}

/* ---- to start from -------------------------------------------------------------------------- */

/* Secants of every law at one velocity, fans from shut-off to free delivery. */
void vent__secants(vent_workspace *ws)
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
            vent__slope fan = vent__fan_of(ws, program->fan[i], k, 0);
            ws->loss[k] -= fan.value;
            if (program->fan[i] == ws->forced.fan)
                ws->slope[k] -= fan.slope;
            else if (isfinite(most))
                ws->slope[k] += fan.value / (most * ws->density[k]);
        }
    }
    pressures(ws, ws->flow);
    for (int k = 0; k < runs; ++k)
        if (program->soil[k] >= 0)
            ws->source_slope[k] = vent__soil_of(ws, k, reference[k]).value / reference[k];
}

void vent__rough_laws(vent_workspace *ws)
{
    vent__run_laws(ws, ws->flow, true);
    pressures(ws, ws->flow);
}

/* ---- one run, one junction, for other values ------------------------------------------------- */

double vent__probe_run(vent_workspace *ws, const vent__model *model, int k, double flow)
{
    const vent__program *program = ws->program;
    ws->extras = 0;
    if (!vent__lay_out_run(ws, model, k))
        return NAN;
    ws->flow[k] = flow;
    double loss = -ws->lift[k];
    for (int s = program->first_segment[k]; s < program->first_segment[k + 1]; ++s) {
        double f, e,
            reynolds = vent__larger(ws->segment[s].reynolds * fabs(flow), VENT__LEAST_REYNOLDS);
        vent__friction(reynolds, ws->roughness[s], &f, &e);
        loss += segment_law(&ws->segment[s], f, e, flow).value;
    }
    for (int i = 0; i < ws->extras; ++i)
        loss += extra_law(&ws->extra[i], flow).value;
    for (int i = program->first_fan[k]; i < program->first_fan[k + 1]; ++i) {
        const vent__fan *fan = &model->fan[program->fan[i]];
        loss -= vent__fan_share(model, program->fan[i]) *
                vent__fan_law(fan->fan, flow / ws->density[k], ws->density[k],
                              model->item[fan->number].amount)
                    .value;
    }
    return loss;
}

void vent__probe_junction(vent_workspace *ws, const vent__model *model, int k, const double *flow)
{
    const vent__program *program = ws->program;
    vent__meeting *meeting = &ws->meeting[k];
    vent__lay_out_junction(ws, model, k);
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
