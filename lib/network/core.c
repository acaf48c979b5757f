/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Unknowns are the steps of the flows m of the core's runs, of the pressure p where a run begins at a
 * junction, and of that junction's sums z. Of each run of the core, from a to b, with slope s of its own
 * and its leg's loss by its own flow, M the flow that leaves a junction combined,
 *
 *     p_a - s dm - p_b - d_combined dM_b - d_sum . dz_b = what is left over
 *
 * (a link begins behind one leg more, its outlet; at a coupled suction point the soil stands for p_a), of
 * each junction the balance of mass, and how its sums answer. A limb's leg has in these
 *
 *     dm = push - weight (dp + d_combined dM + d_sum . dz)
 *
 * A run between lossless junctions is a conductor, dm = weight (dp_a - dp_b - what is left over), and no
 * unknown. All is in corrections: what is left over comes from the laws themselves. */
#include "network/core.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* ---- writing the matrix ----------------------------------------------------------------------- */

/* Writes the entries in an order that is always the same: the first time to learn where they are. */
typedef struct pen {
    vent_workspace *ws;
    int written;
    vent__entry *entry; /* NULL: add the values */
    int room;
    bool short_of_memory;
} pen;

static void put(pen *p, int row, int column, double value)
{
    vent__core *core = p->ws->core;
    if (!p->entry) {
        core->matrix.value[core->slot[p->written++]] += value;
        return;
    }
    if (p->short_of_memory || !vent__reserve(&p->entry, &p->room, p->written, sizeof *p->entry)) {
        p->short_of_memory = true;
        return;
    }
    p->entry[p->written++] = (vent__entry){row, column};
}

static bool is_outlet(const vent__program *program, int k)
{
    return program->link[k] < 0;
}

/* The pressure at the end of leg k, less (or more, by `way`) its answer to its own flow. */
static void put_end(pen *p, int row, int k, double way)
{
    const vent_workspace *ws = p->ws;
    const vent__core *core = ws->core;
    int next = ws->program->next[k];
    if (next < 0)
        return;
    int node = core->node[next];
    put(p, row, node, way);
    if (!core->lossy[next])
        return;
    const vent__leg_loss *joint = &vent__tie_at(ws, k)->joint;
    put(p, row, core->flow[next], way * joint->d_combined);
    for (int i = 0; i < VENT__SUMS; ++i)
        put(p, row, node + 1 + i, way * joint->d_sum[i]);
}

/* The slope of a run's own law, which is zero for a pipe of no length, but no pivot may be: a share of the
 * velocity pressure's, so small that the next step makes up for it. */
static double firm_slope(const vent_workspace *ws, int k)
{
    double slope = ws->slope[k], least = 1e-6 * ws->density[k], reference = ws->reference[k];
    return fabs(slope) * reference > least ? slope : least / reference;
}

/* What a run of the core and its legs lose more for more flow. */
static double slope_of(const vent_workspace *ws, int k)
{
    const vent__program *program = ws->program;
    double slope = firm_slope(ws, k) + vent__joint_at(ws, k).d_leg;
    if (program->link[k] > 0)
        slope += vent__joint_at(ws, program->outlet[program->link[k] - 1]).d_leg;
    return slope;
}

static void put_run(pen *p, int k)
{
    const vent_workspace *ws = p->ws;
    const vent__program *program = ws->program;
    int row = ws->core->flow[k];
    double slope = slope_of(ws, k);
    if (program->link[k] > 0)
        put_end(p, row, program->outlet[program->link[k] - 1], 1);
    else if (program->soil[k] >= 0)
        slope += ws->source_slope[k];
    else
        put(p, row, ws->core->node[k], 1);
    put(p, row, row, -slope);
    put_end(p, row, k, -1);
}

/* What the limbs at the junction where the i-th joint is do to it together. */
typedef struct limbs {
    double weight, by_combined;
    double by_sum[VENT__SUMS], adds[VENT__SUMS], adds_combined[VENT__SUMS];
    double adds_sum[VENT__SUMS][VENT__SUMS];
} limbs;

static double limbs_weight(const vent_workspace *ws, int i)
{
    const vent__core *core = ws->core;
    double weight = 0;
    for (int l = core->first_leg[i]; l < core->core_leg[i]; ++l)
        weight += ws->weight[core->leg[l]];
    return weight;
}

static limbs limbs_at(const vent_workspace *ws, int i)
{
    const vent__core *core = ws->core;
    limbs all = {0};
    for (int l = core->first_leg[i]; l < core->core_leg[i]; ++l) {
        int j = core->leg[l];
        double w = ws->weight[j];
        all.weight += w;
        const vent__tie *tie = vent__tie_at(ws, j);
        const vent__leg_loss *joint = &tie->joint;
        all.by_combined += w * joint->d_combined;
        for (int a = 0; a < VENT__SUMS; ++a) {
            all.by_sum[a] += w * joint->d_sum[a];
            all.adds[a] += w * tie->adds[a];
            all.adds_combined[a] += w * tie->adds[a] * joint->d_combined;
            for (int b = 0; b < VENT__SUMS; ++b)
                all.adds_sum[a][b] += w * tie->adds[a] * joint->d_sum[b];
        }
    }
    return all;
}

/* The balance of mass at a junction, and how its sums answer. */
static void put_knot(pen *p, int i, const vent__knot *knot)
{
    const vent_workspace *ws = p->ws;
    const vent__core *core = ws->core;
    int k = core->joint[i], node = core->node[k], combined = core->flow[k], sums = node + 1;
    limbs all = limbs_at(ws, i);
    put(p, node, node, all.weight);
    put(p, node, combined, 1 + all.by_combined);
    for (int a = 0; a < VENT__SUMS; ++a) {
        put(p, node, sums + a, all.by_sum[a]);
        put(p, sums + a, node, all.adds[a]);
        put(p, sums + a, combined, all.adds_combined[a] - knot->adds[a]);
        for (int b = 0; b < VENT__SUMS; ++b)
            put(p, sums + a, sums + b, (a == b) + all.adds_sum[a][b]);
    }
    for (int l = core->core_leg[i]; l < core->first_leg[i + 1]; ++l) {
        int j = core->leg[l];
        double way = is_outlet(ws->program, j) ? -1 : 1;
        put(p, node, core->flow[j], -way);
        for (int a = 0; a < VENT__SUMS; ++a)
            put(p, sums + a, core->flow[j], -way * vent__tie_at(ws, j)->adds[a]);
    }
}

/* The balance alone, where nothing is lost; conductors write theirs themselves. */
static void put_junction(pen *p, int i)
{
    const vent_workspace *ws = p->ws;
    const vent__core *core = ws->core;
    int k = core->joint[i], node = core->node[k];
    put(p, node, node, limbs_weight(ws, i));
    if (core->flow[k] >= 0)
        put(p, node, core->flow[k], 1);
    for (int l = core->core_leg[i]; l < core->first_leg[i + 1]; ++l) {
        int j = core->leg[l];
        if (core->flow[j] >= 0)
            put(p, node, core->flow[j], is_outlet(ws->program, j) ? 1 : -1);
    }
}

static void put_conductor(pen *p, const vent__conductor *c)
{
    double weight = p->ws->weight[c->at];
    put(p, c->from, c->from, weight);
    if (c->to < 0)
        return;
    put(p, c->from, c->to, -weight);
    put(p, c->to, c->from, -weight);
    put(p, c->to, c->to, weight);
}

/* How strongly soil couples two suction points [Pa s/kg]. */
static double coupling(const vent_workspace *ws, int i)
{
    return ws->twists * ws->model->coupling[i].resistance / ws->model->soil_gas.density;
}

static void put_all(pen *p)
{
    vent_workspace *ws = p->ws;
    const vent__program *program = ws->program;
    const vent__core *core = ws->core;
    for (int i = 0; i < core->owns; ++i)
        put_run(p, core->own[i]);
    for (int i = 0; i < core->joints; ++i)
        if (core->lossy[core->joint[i]])
            put_knot(p, i, vent__knot_at(ws, core->joint[i]));
        else
            put_junction(p, i);
    for (int i = 0; i < program->couplings; ++i) {
        int a = core->flow[program->couple[program->pair[0][i]]];
        int b = core->flow[program->couple[program->pair[1][i]]];
        double resistance = p->entry ? 0 : coupling(ws, i);
        put(p, a, b, -resistance);
        put(p, b, a, -resistance);
    }
    for (int i = 0; i < core->conductors; ++i)
        put_conductor(p, &core->conductor[i]);
}

/* ---- laying out ------------------------------------------------------------------------------- */

void vent__core_free(vent__core *core)
{
    if (!core)
        return;
    vent__sparse_free(&core->matrix);
    free(core->joint);
    free(core->lossy);
    free(core->conductor);
    free(core->slot);
    free(core->answer);
    free(core);
}

static bool starts_lossy(const vent_workspace *ws, int k)
{
    return vent__knot_at(ws, k) != NULL;
}

/* The core: links, coupled suction points, and every run whose air comes by one of them. */
static void find_core(const vent_workspace *ws, vent__core *core)
{
    const vent__program *program = ws->program;
    for (int k = 0; k < program->runs; ++k) {
        core->flow[k] = program->link[k] ? VENT__CONDUCTOR : VENT__LIMB;
        core->node[k] = -1;
    }
    for (int i = 0; i < program->coupled; ++i)
        core->flow[program->couple[i]] = VENT__CONDUCTOR;
    for (int k = 0; k < program->runs; ++k) {
        if (core->flow[k] == VENT__LIMB)
            continue;
        core->lossy[k] = starts_lossy(ws, k);
        if (program->next[k] >= 0)
            core->flow[program->next[k]] = VENT__CONDUCTOR;
    }
}

static int add_legs(const vent_workspace *ws, vent__core *core, int k, bool in_limbs, int legs)
{
    for (int j = vent__last_leg(ws->program, k); j >= 0; j = vent__leg_before(ws->program, k, j))
        if ((core->flow[j] == VENT__LIMB) == in_limbs)
            core->leg[legs++] = j;
    return legs;
}

static void list_legs(const vent_workspace *ws, vent__core *core)
{
    int legs = 0;
    for (int i = 0; i < core->joints; ++i) {
        core->first_leg[i] = legs;
        core->core_leg[i] = legs = add_legs(ws, core, core->joint[i], true, legs);
        legs = add_legs(ws, core, core->joint[i], false, legs);
    }
    core->first_leg[core->joints] = legs;
}

/* Position of the run that leaves the junction where a run of the core starts; -1 at the soil. */
static int start_of(const vent__program *program, int k)
{
    if (program->link[k] > 0)
        return program->next[program->outlet[program->link[k] - 1]];
    return program->soil[k] >= 0 ? -1 : k;
}

static bool conducts(const vent_workspace *ws, const vent__core *core, int k)
{
    int start = start_of(ws->program, k), next = ws->program->next[k];
    return start >= 0 && !core->lossy[start] && (next < 0 || !core->lossy[next]);
}

/* Numbers the unknowns; the ends of conductors are known when all are numbered. */
static int number_unknowns(const vent_workspace *ws, vent__core *core)
{
    const vent__program *program = ws->program;
    int unknowns = 0;
    for (int k = 0; k < program->runs; ++k) {
        if (core->flow[k] == VENT__LIMB)
            continue;
        if (!is_outlet(program, k) && !conducts(ws, core, k)) {
            core->own[core->owns++] = k;
            core->flow[k] = unknowns++;
        }
        if (vent__is_leaf(program, k))
            continue;
        core->joint[core->joints++] = k;
        core->node[k] = unknowns;
        unknowns += core->lossy[k] ? 1 + VENT__SUMS : 1;
    }
    for (int l = 0; l < program->links; ++l)
        core->flow[program->outlet[l]] = core->flow[program->start[l]];
    for (int k = 0; k < program->runs; ++k)
        if (core->flow[k] == VENT__CONDUCTOR && !is_outlet(program, k)) {
            int next = program->next[k];
            core->conductor[core->conductors++] =
                (vent__conductor){.at = k,
                                  .from = core->node[start_of(program, k)],
                                  .to = next < 0 ? -1 : core->node[next]};
        }
    return unknowns;
}

/* The pressures at the ends of a run wait for it: until all runs of a junction are gone its pivot may be
 * zero, or that of a neighbour become so. */
static void make_wait(const vent_workspace *ws, int32_t (*waiting)[2])
{
    const vent__program *program = ws->program;
    const vent__core *core = ws->core;
    for (int i = 0; i < core->owns; ++i) {
        int k = core->own[i], start = start_of(program, k), next = program->next[k];
        waiting[core->flow[k]][0] = start < 0 ? -1 : core->node[start];
        waiting[core->flow[k]][1] = next < 0 ? -1 : core->node[next];
    }
}

static bool lay_out_matrix(vent_workspace *ws, int unknowns)
{
    vent__core *core = ws->core;
    int32_t(*waiting)[2] = NULL;
    pen p = {.ws = ws, .room = 0};
    bool room = vent__resize(&waiting, (size_t)unknowns, sizeof *waiting) &&
                vent__reserve(&p.entry, &p.room, 0, sizeof *p.entry) &&
                vent__resize(&core->answer, (size_t)unknowns, sizeof *core->answer);
    if (room) {
        for (int i = 0; i < unknowns; ++i)
            waiting[i][0] = waiting[i][1] = -1;
        make_wait(ws, waiting);
        put_all(&p);
        room = !p.short_of_memory &&
               vent__resize(&core->slot, (size_t)p.written, sizeof *core->slot) &&
               vent__sparse_lay_out(&core->matrix, unknowns, (const int32_t(*)[2])waiting,
                                    p.written, p.entry, core->slot);
    }
    free(p.entry);
    free(waiting);
    for (int i = 0; room && i < core->conductors; ++i) {
        vent__conductor *c = &core->conductor[i];
        c->from = core->matrix.rank[c->from];
        c->to = c->to < 0 ? -1 : core->matrix.rank[c->to];
    }
    return room;
}

static bool still_fits(const vent_workspace *ws)
{
    for (int i = 0; i < ws->core->joints; ++i)
        if (ws->core->lossy[ws->core->joint[i]] != starts_lossy(ws, ws->core->joint[i]))
            return false;
    return true;
}

bool vent__core_lay_out(vent_workspace *ws)
{
    const vent__program *program = ws->program;
    if ((!program->links && !program->coupled) || (ws->core && still_fits(ws)))
        return true;
    vent__core_free(ws->core);
    size_t runs = (size_t)program->runs;
    ws->core = calloc(1, sizeof *ws->core);
    bool room = ws->core && vent__resize(&ws->core->joint, 7 * runs + 1, sizeof *ws->core->joint) &&
                vent__resize(&ws->core->conductor, runs, sizeof *ws->core->conductor) &&
                (ws->core->lossy = calloc(runs, sizeof *ws->core->lossy)) != NULL;
    if (room) {
        ws->core->own = ws->core->joint + runs;
        ws->core->flow = ws->core->own + runs;
        ws->core->node = ws->core->flow + runs;
        ws->core->leg = ws->core->node + runs;
        ws->core->core_leg = ws->core->leg + runs;
        ws->core->first_leg = ws->core->core_leg + runs;
        find_core(ws, ws->core);
        int unknowns = number_unknowns(ws, ws->core);
        list_legs(ws, ws->core);
        room = lay_out_matrix(ws, unknowns);
    }
    if (!room) {
        vent__core_free(ws->core);
        ws->core = NULL;
    }
    return room;
}

/* ---- solving ---------------------------------------------------------------------------------- */

void vent__core_factor(vent_workspace *ws)
{
    const vent__core *core = ws->core;
    for (int i = 0; i < core->conductors; ++i) {
        int k = core->conductor[i].at;
        ws->weight[k] = 1 / firm_slope(ws, k);
    }
    vent__sparse_clear(&ws->core->matrix);
    put_all(&(pen){.ws = ws});
    vent__sparse_factor(&ws->core->matrix);
}

static int negative_pivots(const vent__core *core)
{
    int negative = 0;
    for (int r = 0; r < core->matrix.unknowns; ++r)
        negative += core->matrix.value[core->matrix.diagonal[r]] < 0;
    return negative;
}

static int resisting_conductors(const vent_workspace *ws)
{
    int resisting = 0;
    for (int i = 0; i < ws->core->conductors; ++i)
        resisting += ws->weight[ws->core->conductor[i].at] > 0;
    return resisting;
}

/* Of a symmetric matrix the signs of the pivots are those of its eigenvalues, in any order: one that is
 * negative for each flow that meets resistance, and positive for each balance. With junction losses,
 * which are not symmetric, the count still changes where the matrix turns. */
bool vent__core_resists(const vent_workspace *ws)
{
    const vent__core *core = ws->core;
    return negative_pivots(core) + resisting_conductors(ws) == core->owns + core->conductors;
}

bool vent__core_is_upright(const vent_workspace *ws)
{
    const vent__core *core = ws->core;
    int turned = core->conductors - resisting_conductors(ws);
    return (negative_pivots(core) + turned) % 2 == 0;
}

static double *at(const vent__core *core, int unknown)
{
    return &core->answer[core->matrix.rank[unknown]];
}

static void clear_answer(vent__core *core)
{
    memset(core->answer, 0, (size_t)core->matrix.unknowns * sizeof *core->answer);
}

/* What is left over in a run of the core: at the soil, or where a link begins. */
static double left_over(const vent_workspace *ws, int k)
{
    int link = ws->program->link[k];
    if (link > 0)
        return ws->gap[link - 1];
    return ws->program->soil[k] >= 0 ? ws->source[k] : 0;
}

/* What the limbs push into the junction where the i-th joint is. */
static void push_in(const vent_workspace *ws, int i)
{
    const vent__core *core = ws->core;
    int k = core->joint[i];
    for (int l = core->first_leg[i]; l < core->core_leg[i]; ++l) {
        int j = core->leg[l];
        double push = ws->weight[j] * ws->source[j];
        *at(core, core->node[k]) += push;
        for (int a = 0; core->lossy[k] && a < VENT__SUMS; ++a)
            *at(core, core->node[k] + 1 + a) += vent__tie_at(ws, j)->adds[a] * push;
    }
}

/* The steps of the limbs' legs at the junction where the i-th joint is. */
static void step_limbs(vent_workspace *ws, int i)
{
    const vent__core *core = ws->core;
    int k = core->joint[i];
    double pressure = *at(core, core->node[k]), sums[VENT__SUMS] = {0};
    for (int a = 0; core->lossy[k] && a < VENT__SUMS; ++a)
        sums[a] = *at(core, core->node[k] + 1 + a);
    for (int l = core->first_leg[i]; l < core->core_leg[i]; ++l) {
        int j = core->leg[l];
        double against = pressure;
        if (core->lossy[k]) {
            const vent__leg_loss *joint = &vent__tie_at(ws, j)->joint;
            against += joint->d_combined * ws->step[k] + vent__dot(joint->d_sum, sums);
        }
        ws->step[j] = ws->weight[j] * (ws->source[j] - against);
    }
}

/* The flow a conductor answers with: to the pressures at its ends, less what is given. */
static double conduct(const vent_workspace *ws, const vent__conductor *c, double less)
{
    const double *answer = ws->core->answer;
    double to = c->to < 0 ? 0 : answer[c->to];
    return ws->weight[c->at] * (answer[c->from] - to - less);
}

/* A flow from one end of a conductor to the other. */
static void push_through(vent__core *core, const vent__conductor *c, double flow)
{
    core->answer[c->from] -= flow;
    if (c->to >= 0)
        core->answer[c->to] += flow;
}

void vent__core_step(vent_workspace *ws)
{
    const vent__program *program = ws->program;
    vent__core *core = ws->core;
    clear_answer(core);
    for (int i = 0; i < core->owns; ++i)
        *at(core, core->flow[core->own[i]]) = -left_over(ws, core->own[i]);
    for (int i = 0; i < core->joints; ++i)
        push_in(ws, i);
    for (int i = 0; i < core->conductors; ++i) {
        int k = core->conductor[i].at;
        push_through(core, &core->conductor[i], ws->weight[k] * left_over(ws, k));
    }
    vent__sparse_solve(&core->matrix, core->answer);
    for (int i = 0; i < core->conductors; ++i) {
        int k = core->conductor[i].at;
        ws->step[k] = conduct(ws, &core->conductor[i], -left_over(ws, k));
    }
    for (int i = 0; i < core->owns; ++i)
        ws->step[core->own[i]] = *at(core, core->flow[core->own[i]]);
    for (int l = 0; l < program->links; ++l)
        ws->step[program->outlet[l]] = -ws->step[program->start[l]];
    for (int i = 0; i < core->joints; ++i)
        step_limbs(ws, i);
}

/* ---- transposed ------------------------------------------------------------------------------- */

/* A result's gain by the pressure at the end of leg k goes to what makes it. */
static void gain_by_end(const vent_workspace *ws, int k, double gain)
{
    const vent__core *core = ws->core;
    int next = ws->program->next[k];
    if (next < 0)
        return;
    *at(core, core->node[next]) += gain;
    if (!core->lossy[next])
        return;
    const vent__leg_loss *joint = &vent__tie_at(ws, k)->joint;
    *at(core, core->flow[next]) += gain * joint->d_combined;
    for (int a = 0; a < VENT__SUMS; ++a)
        *at(core, core->node[next] + 1 + a) += gain * joint->d_sum[a];
}

/* What a result gains by the flow of a run of the core; the pressures at a link's two starts, which are
 * those of its legs' ends and what it loses to them, count there. */
static double gain_by_flow(const vent_workspace *ws, int k, const double *flow,
                           const double *pressure)
{
    const vent__program *program = ws->program;
    double gain = flow[k];
    if (program->link[k] > 0) {
        int outlet = program->outlet[program->link[k] - 1];
        gain += pressure[k] * (ws->slope[k] + vent__joint_at(ws, k).d_leg);
        gain -= flow[outlet] + pressure[outlet] * vent__joint_at(ws, outlet).d_leg;
    } else if (program->soil[k] >= 0) {
        gain -= ws->source_slope[k] * pressure[k];
    }
    return gain;
}

/* The gain by the pressure where the i-th joint is; what hangs there in limbs included. */
static void gain_by_pressure(const vent_workspace *ws, int i, const double *flow,
                             const double *pressure, const double *e)
{
    const vent__core *core = ws->core;
    int k = core->joint[i];
    *at(core, core->node[k]) += pressure[k];
    for (int l = core->first_leg[i]; l < core->core_leg[i]; ++l) {
        int j = core->leg[l];
        gain_by_end(ws, j, -ws->weight[j] * (flow[j] + e[j]));
    }
}

static void spread_limbs(const vent_workspace *ws, int i, const double *flow, const double *e,
                         double *mu)
{
    const vent__core *core = ws->core;
    int k = core->joint[i];
    double gamma = *at(core, core->node[k]), beta[VENT__SUMS] = {0};
    for (int a = 0; core->lossy[k] && a < VENT__SUMS; ++a)
        beta[a] = *at(core, core->node[k] + 1 + a);
    for (int l = core->first_leg[i]; l < core->core_leg[i]; ++l) {
        int j = core->leg[l];
        const vent__tie *tie = vent__tie_at(ws, j);
        double felt = gamma + (tie ? vent__dot(beta, tie->adds) : 0);
        mu[j] = -ws->weight[j] * (flow[j] + felt + e[j]);
    }
}

void vent__core_transpose(vent_workspace *ws, const double *flow, const double *pressure,
                          const double *e, double *mu)
{
    const vent__program *program = ws->program;
    vent__core *core = ws->core;
    clear_answer(core);
    for (int l = 0; l < program->links; ++l) {
        gain_by_end(ws, program->start[l], pressure[program->start[l]]);
        gain_by_end(ws, program->outlet[l], pressure[program->outlet[l]]);
    }
    for (int i = 0; i < core->joints; ++i)
        gain_by_pressure(ws, i, flow, pressure, e);
    for (int i = 0; i < core->owns; ++i)
        *at(core, core->flow[core->own[i]]) += gain_by_flow(ws, core->own[i], flow, pressure);
    for (int i = 0; i < core->conductors; ++i) {
        int k = core->conductor[i].at;
        mu[k] = gain_by_flow(ws, k, flow, pressure);
        push_through(core, &core->conductor[i], -ws->weight[k] * mu[k]);
    }
    for (int i = 0; i < program->couplings; ++i) {
        int a = program->couple[program->pair[0][i]], b = program->couple[program->pair[1][i]];
        *at(core, core->flow[a]) -= coupling(ws, i) * pressure[b];
        *at(core, core->flow[b]) -= coupling(ws, i) * pressure[a];
    }
    vent__sparse_solve_transposed(&core->matrix, core->answer);
    for (int i = 0; i < core->conductors; ++i) {
        int k = core->conductor[i].at;
        mu[k] = conduct(ws, &core->conductor[i], mu[k]);
    }
    for (int i = 0; i < core->owns; ++i)
        mu[core->own[i]] = *at(core, core->flow[core->own[i]]);
    for (int i = 0; i < core->joints; ++i)
        spread_limbs(ws, i, flow, e, mu);
    for (int l = 0; l < program->links; ++l) {
        int k = program->start[l], outlet = program->outlet[l];
        mu[outlet] = pressure[outlet] - mu[k];
        mu[k] += pressure[k];
    }
}
