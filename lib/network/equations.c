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

/* Below the creeping flow the law is a straight line; e is -1 there. */
static vent__slope segment_law(const vent__segment *segment, double f, double e, double flow)
{
    const vent__loss *way = flow < 0 ? &segment->against : &segment->along;
    double size = fabs(flow), power = 2; /* of the flow, in what does not feel Re */
    if (size * segment->reynolds < VENT__LEAST_REYNOLDS) {
        size = VENT__LEAST_REYNOLDS / segment->reynolds;
        power = 1;
    }
    double friction = size * way->kf * f, other = size * way->k0;
    return (vent__slope){flow * (friction + other + way->k1),
                         (2 + e) * friction + power * other + way->k1};
}

static int least(int a, int b)
{
    return a < b ? a : b;
}

/* Friction of a block of segments. Neighbours in a run that are alike, as where two sizes take turns, share it. */
typedef struct block {
    uint8_t pipe[BLOCK]; /* of each segment */
    double reynolds[BLOCK], roughness[BLOCK], f[BLOCK], e[BLOCK];
} block;

static bool alike(const vent_workspace *ws, int s, int other)
{
    return ws->segment[s].reynolds == ws->segment[other].reynolds &&
           ws->roughness[s] == ws->roughness[other];
}

/* Friction factors of segments begin..end-1, the first of which is in run `run`; all lanes of the last
 * vector are filled, so that none is handled apart. */
static void block_friction(const vent_workspace *ws, const double *flow, int run, int begin,
                           int end, block *b)
{
    int n = 0;
    for (int s = begin; s < end; ++run) {
        double size = fabs(flow[run]);
        int first = s, stop = least(end, ws->program->first_segment[run + 1]);
        for (; s < stop; ++s) {
            uint8_t *pipe = &b->pipe[s - begin];
            if (s - first >= 1 && alike(ws, s, s - 1)) {
                *pipe = pipe[-1];
            } else if (s - first >= 2 && alike(ws, s, s - 2)) {
                *pipe = pipe[-2];
            } else {
                b->reynolds[n] = vent__larger(ws->segment[s].reynolds * size, VENT__LEAST_REYNOLDS);
                b->roughness[n] = ws->roughness[s];
                *pipe = (uint8_t)n++;
            }
        }
    }
    for (; n % VENT__LANES; ++n) {
        b->reynolds[n] = 1e5;
        b->roughness[n] = 0;
    }
    vent__friction_many((size_t)n, b->reynolds, b->roughness, b->f, b->e);
}

/* Adds the losses of segments begin..end-1 to their runs' loss and slope, which start at nothing with the
 * run's first segment; the run they end in, or the next where they end it. */
static int add_block(vent_workspace *ws, const double *flow, int run, int begin, int end,
                     const block *b)
{
    int s = begin;
    const uint8_t *pipe = b->pipe;
    for (;; ++run) {
        bool begins = s == ws->program->first_segment[run];
        int stop = least(end, ws->program->first_segment[run + 1]);
        double loss = begins ? 0 : ws->loss[run], slope = begins ? 0 : ws->slope[run];
        for (; s < stop; ++s) {
            int p = *pipe++;
            vent__slope law = segment_law(&ws->segment[s], b->f[p], b->e[p], flow[run]);
            loss += law.value;
            slope += law.slope;
        }
        ws->loss[run] = loss;
        ws->slope[run] = slope;
        if (s == end)
            return run + (end == ws->program->first_segment[run + 1]);
    }
}

/* Loss and slope of every run from its segments; `crude` takes one friction factor for all. */
static void segment_laws(vent_workspace *ws, const double *flow, bool crude)
{
    block b;
    int segments = ws->program->segments, run = 0;
    if (crude) {
        memset(b.pipe, 0, (size_t)least(segments, BLOCK));
        b.f[0] = FIRST_FRICTION;
        b.e[0] = 0;
    }
    for (int begin = 0; begin < segments; begin += BLOCK) {
        int end = least(segments, begin + BLOCK);
        if (!crude)
            block_friction(ws, flow, run, begin, end, &b);
        run = add_block(ws, flow, run, begin, end, &b);
    }
    for (int l = 0; l < ws->program->links; ++l) { /* an outlet has nothing in it */
        int k = ws->program->outlet[l];
        ws->loss[k] = ws->slope[k] = 0;
    }
}

/* Loss beside the form of the segments, and its slope. */
static vent__slope extra_law(const vent__extra *extra, double flow)
{
    double reynolds = extra->reynolds * fabs(flow), velocity = extra->velocity;
    double seen = vent__larger(reynolds, VENT__LEAST_REYNOLDS), size = seen / extra->reynolds;
    double rise = reynolds < VENT__LEAST_REYNOLDS ? 0 : 1; /* the law is a straight line below */
    seen = copysign(seen, flow);
    vent__slope k = extra->fitting ? vent__fitting_extra(extra->fitting, extra->bore, seen)
                                   : vent__termination_extra(extra->termination, extra->bore, seen);
    double inertia = extra->count * extra->inertia;
    vent__slope law = {inertia * flow * size * k.value,
                       inertia * size * (k.value + rise * (k.value + reynolds * k.slope))};
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

/* From the first point of a fan's curve straight down to nothing at the last one's flow. */
static vent__slope falling_line(const vent_fan *fan, double flow, double density, double speed)
{
    double least, most;
    vent_fan_range(fan, &least, &most);
    least *= speed;
    most *= speed;
    double pressure = vent__fan_law(fan, least, density, speed).value;
    return (vent__slope){pressure * (most - flow) / (most - least), -pressure / (most - least)};
}

static vent__slope between(vent__slope a, vent__slope b, double share)
{
    return (vent__slope){a.value + share * (b.value - a.value),
                         a.slope + share * (b.slope - a.slope)};
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
    if (ws->twists != 1 && !vent_fan_is_falling(fan->fan))
        law =
            between(falling_line(fan->fan, flow * volume, ws->density[k], speed), law, ws->twists);
    double factor = vent__fan_share(ws->model, number);
    return (vent__slope){factor * law.value, factor * law.slope * volume};
}

static int position_of(const vent_workspace *ws, int fan)
{
    return ws->program->position[ws->model->fan[fan].run];
}

/* Pressure that no two runs have alike [Pa], so that on the path no two of them turn at once. */
static double unlike(int k)
{
    const double golden = 0.6180339887498949;
    double part = k * golden;
    return part - floor(part) - 0.5;
}

void vent__run_laws(vent_workspace *ws, const double *flow, bool crude)
{
    const vent__program *program = ws->program;
    segment_laws(ws, flow, crude);
    for (int k = 0; ws->twists != 1 && k < program->runs; ++k)
        ws->loss[k] -= (1 - ws->twists) * unlike(k);
    add_extras(ws, flow);
    ws->drive = ws->felt = 0;
    for (int i = 0; i < program->fans; ++i) {
        int k = position_of(ws, program->fan[i]);
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

/* The leaves that the surroundings feed, in place of a soil. */
static void opening_laws(vent_workspace *ws, const double *flow)
{
    const vent__program *program = ws->program;
    for (int i = 0; i < program->openings; ++i) {
        int k = program->opening[i];
        vent__slope law = vent__soil_of(ws, k, flow[k]);
        ws->source[k] = vent__surroundings(ws->model, program->soil[k]) - law.value;
        ws->source_slope[k] = law.slope;
    }
}

/* What all soils need, as what is left over, and their slopes. */
static void soil_laws(vent_workspace *ws, const double *flow)
{
    const vent__program *program = ws->program;
    double volume = 1 / ws->model->soil_gas.density; /* m3/kg */
    double q[BLOCK], vacuum[BLOCK], slope[BLOCK];
    const vent_soil *soil = ws->soil;
    for (int k = 0, next = 0; next < program->runs;) {
        int n = 0;
        for (; n < BLOCK && next < program->runs; ++next)
            if (program->soil[next] >= 0)
                q[n++] = flow[next] * volume;
        vent__soil_many((size_t)n, soil, q, vacuum, slope);
        soil += n;
        for (int i = 0; k < next; ++k)
            if (program->soil[k] >= 0) {
                ws->source[k] = -vacuum[i];
                ws->source_slope[k] = slope[i++] * volume;
            }
    }
    opening_laws(ws, flow);
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
    for (int k = 0; k < program->runs; ++k) {
        vent__knot *knot = vent__knot_at(ws, k);
        if (!knot)
            continue;
        vent__term term = vent__junction_combined_term(&knot->meeting, flow[k]);
        copy_sums(knot->sums, term.value);
        copy_sums(knot->adds, term.slope);
    }
    for (int k = 0; k < program->runs; ++k) {
        vent__tie *tie = vent__tie_at(ws, k);
        if (!tie)
            continue;
        int next = program->next[k];
        vent__knot *knot = vent__knot_at(ws, next);
        vent__term term = vent__junction_term(&knot->meeting, &tie->leg, flow[k], flow[next]);
        add_to(knot->sums, term.value);
        copy_sums(tie->adds, term.slope);
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
    if (!ws->knots)
        return;
    joint_sums(ws, flow);
    for (int k = 0; k < program->runs; ++k) {
        vent__tie *tie = vent__tie_at(ws, k);
        if (!tie)
            continue;
        int next = program->next[k];
        const vent__knot *knot = vent__knot_at(ws, next);
        vent__leg_loss loss =
            vent__junction_loss(&knot->meeting, &tie->leg, flow[k], flow[next], knot->sums);
        tie->joint = share_of(ws->twists, loss);
    }
}

/* Leaves the junctions out. */
static void still_joints(vent_workspace *ws)
{
    const double none[VENT__SUMS] = {0};
    for (int i = 0; i < ws->ties; ++i) {
        ws->tie[i].joint = (vent__leg_loss){0};
        copy_sums(ws->tie[i].adds, none);
    }
    for (int i = 0; i < ws->knots; ++i)
        copy_sums(ws->knot[i].adds, none);
}

void vent__sum_flows(vent_workspace *ws, double *flow)
{
    const vent__program *program = ws->program;
    for (int k = 0; k < program->runs; ++k) {
        if (vent__is_leaf(program, k))
            continue;
        flow[k] = 0;
        for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j))
            flow[k] += flow[j];
    }
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
        double resistance = ws->twists * ws->model->coupling[i].resistance * volume;
        shared[a] += resistance * flow[program->couple[b]];
        shared[b] += resistance * flow[program->couple[a]];
    }
}

static void leave_over(vent__rest *rest, double pressure)
{
    rest->squares += pressure * pressure;
    rest->greatest = vent__larger(rest->greatest, fabs(pressure));
}

/* Pressures from the discharges down, and what they leave over. */
static vent__rest pressures(vent_workspace *ws, const double *flow)
{
    const vent__program *program = ws->program;
    vent__rest rest = {.scale = vent__larger(ws->drive, LEAST_SCALE)};
    share_vacuum(ws, flow, ws->shared);
    for (int i = 0; i < program->coupled; ++i)
        ws->source[program->couple[i]] -= ws->shared[i];
    for (int k = program->runs - 1; k >= 0; --k) {
        int next = program->next[k];
        double end = next < 0 ? vent__wind(ws->model, ws->model->run[program->run[k]].to)
                              : ws->start[next] + vent__joint_at(ws, k).loss;
        double start = end + ws->loss[k] - ws->lift[k];
        ws->start[k] = start;
        double driven = vent__larger(fabs(ws->lift[k]), fabs(ws->loss[k]));
        double here = vent__larger(vent__larger(fabs(end), fabs(start)), driven);
        rest.scale = vent__larger(rest.scale, here);
        if (program->soil[k] >= 0)
            leave_over(&rest, ws->source[k] -= start);
    }
    for (int l = 0; l < program->links; ++l) {
        ws->gap[l] = ws->start[program->outlet[l]] - ws->start[program->start[l]];
        leave_over(&rest, ws->gap[l]);
    }
    return rest;
}

vent__rest vent__evaluate(vent_workspace *ws, const double *flow)
{
    vent__run_laws(ws, flow, false);
    joint_laws(ws, flow);
    soil_laws(ws, flow);
    return pressures(ws, flow);
}

/* ---- to start from -------------------------------------------------------------------------- */

/* Fans from shut-off to free delivery. */
static void fan_secants(vent_workspace *ws)
{
    const vent__program *program = ws->program;
    for (int i = 0; i < program->fans; ++i) {
        int number = program->fan[i], k = position_of(ws, number);
        double most = vent_fan_free_delivery(ws->model->fan[number].fan);
        vent__slope fan = vent__fan_of(ws, number, k, 0);
        ws->loss[k] -= fan.value;
        if (number == ws->forced.fan)
            ws->slope[k] -= fan.slope;
        else if (isfinite(most))
            ws->slope[k] += fan.value / (most * ws->density[k]);
    }
}

/* Secants of every law at one velocity. */
void vent__secants(vent_workspace *ws)
{
    const vent__program *program = ws->program;
    const double *reference = ws->reference;
    still_joints(ws);
    segment_laws(ws, reference, true);
    add_extras(ws, reference);
    soil_laws(ws, reference);
    for (int k = 0; k < program->runs; ++k) {
        ws->slope[k] = ws->loss[k] / reference[k];
        ws->loss[k] = ws->flow[k] = 0;
        if (program->soil[k] >= 0) {
            ws->source_slope[k] = -ws->source[k] / reference[k];
            ws->source[k] = 0;
        }
    }
    fan_secants(ws);
    pressures(ws, ws->flow);
}

void vent__rough_laws(vent_workspace *ws)
{
    vent__run_laws(ws, ws->flow, true);
    soil_laws(ws, ws->flow);
    pressures(ws, ws->flow);
}
