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
 * All is in corrections: what is left over comes from the laws themselves. Where every junction is lossless
 * the matrix is symmetric, and runs go first, so that what remains are the pressures, like conductances
 * between nodes. */
#include "network/core.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* ---- writing the matrix ----------------------------------------------------------------------- */

/* Writes the entries in an order that is always the same: the first time to learn where they are. */
typedef struct pen {
    vent_workspace *ws;
    double inertia;
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
    put(p, row, core->flow[next], way * ws->joint[k].d_combined);
    for (int i = 0; i < VENT__SUMS; ++i)
        put(p, row, node + 1 + i, way * ws->joint[k].d_sum[i]);
}

static void put_run(pen *p, int k)
{
    const vent_workspace *ws = p->ws;
    const vent__program *program = ws->program;
    int row = ws->core->flow[k];
    double slope = ws->slope[k] + p->inertia;
    if (program->next[k] >= 0)
        slope += ws->joint[k].d_leg;
    if (program->link[k] > 0) {
        int outlet = program->outlet[program->link[k] - 1];
        slope += ws->joint[outlet].d_leg;
        put_end(p, row, outlet, 1);
    } else if (program->soil[k] >= 0) {
        slope += ws->source_slope[k];
    } else {
        put(p, row, ws->core->node[k], 1);
    }
    put(p, row, row, -slope);
    put_end(p, row, k, -1);
}

/* What the limbs at one junction do to it together. */
typedef struct limbs {
    double weight, by_combined;
    double by_sum[VENT__SUMS], adds[VENT__SUMS], adds_combined[VENT__SUMS];
    double adds_sum[VENT__SUMS][VENT__SUMS];
} limbs;

static limbs limbs_at(const vent_workspace *ws, int k)
{
    const vent__program *program = ws->program;
    limbs all = {0};
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j)) {
        if (!vent__is_limb(ws, j))
            continue;
        double w = ws->weight[j];
        all.weight += w;
        if (!ws->core->lossy[k])
            continue;
        const vent__leg_loss *joint = &ws->joint[j];
        all.by_combined += w * joint->d_combined;
        for (int a = 0; a < VENT__SUMS; ++a) {
            all.by_sum[a] += w * joint->d_sum[a];
            all.adds[a] += w * ws->adds[j][a];
            all.adds_combined[a] += w * ws->adds[j][a] * joint->d_combined;
            for (int b = 0; b < VENT__SUMS; ++b)
                all.adds_sum[a][b] += w * ws->adds[j][a] * joint->d_sum[b];
        }
    }
    return all;
}

static void put_junction(pen *p, int k)
{
    const vent_workspace *ws = p->ws;
    const vent__program *program = ws->program;
    const vent__core *core = ws->core;
    int node = core->node[k], combined = core->flow[k], sums = node + 1;
    bool lossy = core->lossy[k];
    limbs all = {0};
    if (!p->entry)
        all = limbs_at(ws, k);
    put(p, node, combined, 1 + all.by_combined);
    put(p, node, node, all.weight);
    for (int a = 0; lossy && a < VENT__SUMS; ++a) {
        put(p, node, sums + a, all.by_sum[a]);
        put(p, sums + a, node, all.adds[a]);
        put(p, sums + a, combined, all.adds_combined[a] - ws->knot[k].adds[a]);
        for (int b = 0; b < VENT__SUMS; ++b)
            put(p, sums + a, sums + b, (a == b) + all.adds_sum[a][b]);
    }
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j)) {
        if (vent__is_limb(ws, j))
            continue;
        double way = is_outlet(program, j) ? -1 : 1;
        put(p, node, core->flow[j], -way);
        for (int a = 0; lossy && a < VENT__SUMS; ++a)
            put(p, sums + a, core->flow[j], -way * ws->adds[j][a]);
    }
}

/* How strongly soil couples two suction points [Pa s/kg]. */
static double coupling(const vent_workspace *ws, int i)
{
    return ws->model->coupling[i].resistance / ws->model->soil_gas.density;
}

static void put_all(pen *p)
{
    vent_workspace *ws = p->ws;
    const vent__program *program = ws->program;
    const vent__core *core = ws->core;
    for (int i = 0; i < core->positions; ++i) {
        int k = core->at[i];
        if (!is_outlet(program, k))
            put_run(p, k);
        if (core->node[k] >= 0)
            put_junction(p, k);
    }
    for (int i = 0; i < program->couplings; ++i) {
        int a = core->flow[program->couple[program->pair[0][i]]];
        int b = core->flow[program->couple[program->pair[1][i]]];
        double resistance = p->entry ? 0 : coupling(ws, i);
        put(p, a, b, -resistance);
        put(p, b, a, -resistance);
    }
}

/* ---- laying out ------------------------------------------------------------------------------- */

void vent__core_free(vent__core *core)
{
    if (!core)
        return;
    vent__sparse_free(&core->matrix);
    free(core->at);
    free(core->lossy);
    free(core->slot);
    free(core->answer);
    free(core);
}

static bool starts_lossy(const vent_workspace *ws, int k)
{
    return !vent__is_leaf(ws->program, k) && ws->meeting[k].law.law != VENT_JUNCTION_LOSSLESS;
}

/* The core: links, coupled suction points, and every run whose air comes by one of them. */
static void find_core(const vent_workspace *ws, vent__core *core)
{
    const vent__program *program = ws->program;
    for (int k = 0; k < program->runs; ++k)
        core->flow[k] = program->link[k] ? 0 : -1;
    for (int i = 0; i < program->coupled; ++i)
        core->flow[program->couple[i]] = 0;
    for (int k = 0; k < program->runs; ++k) {
        if (core->flow[k] < 0)
            continue;
        core->at[core->positions++] = k;
        if (program->next[k] >= 0)
            core->flow[program->next[k]] = 0;
    }
}

static int number_unknowns(const vent_workspace *ws, vent__core *core)
{
    const vent__program *program = ws->program;
    int unknowns = 0;
    for (int i = 0; i < core->positions; ++i) {
        int k = core->at[i];
        if (!is_outlet(program, k)) {
            core->flow[k] = unknowns++;
            ++core->flows;
        }
        core->lossy[k] = starts_lossy(ws, k);
        if (vent__is_leaf(program, k))
            continue;
        core->node[k] = unknowns;
        unknowns += core->lossy[k] ? 1 + VENT__SUMS : 1;
    }
    for (int l = 0; l < program->links; ++l)
        core->flow[program->outlet[l]] = core->flow[program->start[l]];
    return unknowns;
}

/* The pressures at the ends of a run wait for it: until all runs of a junction are gone its pivot may be
 * zero, or that of a neighbour become so. */
static void make_wait(const vent_workspace *ws, int32_t (*waiting)[2])
{
    const vent__program *program = ws->program;
    const vent__core *core = ws->core;
    for (int i = 0; i < core->positions; ++i) {
        int k = core->at[i], next = program->next[k];
        int32_t *ends = waiting[core->flow[k]];
        if (!is_outlet(program, k)) {
            ends[1] = next < 0 ? -1 : core->node[next];
            ends[0] = program->link[k] ? ends[0] : core->node[k];
        } else {
            ends[0] = core->node[next];
        }
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
    return room;
}

static bool still_fits(const vent_workspace *ws)
{
    for (int i = 0; i < ws->core->positions; ++i)
        if (ws->core->lossy[ws->core->at[i]] != starts_lossy(ws, ws->core->at[i]))
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
    bool room = ws->core && vent__resize(&ws->core->at, 3 * runs, sizeof *ws->core->at) &&
                (ws->core->lossy = calloc(runs, sizeof *ws->core->lossy)) != NULL;
    if (room) {
        ws->core->flow = ws->core->at + runs;
        ws->core->node = ws->core->flow + runs;
        for (size_t k = 0; k < runs; ++k)
            ws->core->node[k] = -1;
        find_core(ws, ws->core);
        room = lay_out_matrix(ws, number_unknowns(ws, ws->core));
    }
    if (!room) {
        vent__core_free(ws->core);
        ws->core = NULL;
    }
    return room;
}

/* ---- solving ---------------------------------------------------------------------------------- */

void vent__core_factor(vent_workspace *ws, double inertia)
{
    vent__sparse_clear(&ws->core->matrix);
    put_all(&(pen){.ws = ws, .inertia = inertia});
    vent__sparse_factor(&ws->core->matrix);
}

/* Of a symmetric matrix the signs of the pivots are those of its eigenvalues, in any order: one that is
 * negative for each flow that meets resistance, and positive for each balance. With junction losses,
 * which are not symmetric, the count still changes where the matrix turns. */
bool vent__core_resists(const vent__core *core)
{
    int negative = 0;
    for (int r = 0; r < core->matrix.unknowns; ++r)
        negative += core->matrix.value[core->matrix.diagonal[r]] < 0;
    return negative == core->flows;
}

static double *at(const vent__core *core, int unknown)
{
    return &core->answer[core->matrix.rank[unknown]];
}

static void clear_answer(vent__core *core)
{
    memset(core->answer, 0, (size_t)core->matrix.unknowns * sizeof *core->answer);
}

/* What is left over in a run of the core, and what the limbs push into the junction it starts at. */
static void leave_over(const vent_workspace *ws, int k)
{
    const vent__program *program = ws->program;
    const vent__core *core = ws->core;
    if (program->link[k] > 0)
        *at(core, core->flow[k]) = -ws->gap[program->link[k] - 1];
    if (program->soil[k] >= 0)
        *at(core, core->flow[k]) = -ws->source[k];
    if (core->node[k] < 0)
        return;
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j)) {
        if (!vent__is_limb(ws, j))
            continue;
        *at(core, core->node[k]) += ws->push[j];
        for (int a = 0; core->lossy[k] && a < VENT__SUMS; ++a)
            *at(core, core->node[k] + 1 + a) += ws->adds[j][a] * ws->push[j];
    }
}

/* The steps of the limbs' legs at the junction where run k starts. */
static void step_limbs(vent_workspace *ws, int k)
{
    const vent__program *program = ws->program;
    const vent__core *core = ws->core;
    double pressure = *at(core, core->node[k]), sums[VENT__SUMS] = {0};
    for (int a = 0; core->lossy[k] && a < VENT__SUMS; ++a)
        sums[a] = *at(core, core->node[k] + 1 + a);
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j)) {
        if (!vent__is_limb(ws, j))
            continue;
        const vent__leg_loss *joint = &ws->joint[j];
        double against = pressure + joint->d_combined * ws->step[k] + vent__dot(joint->d_sum, sums);
        ws->step[j] = ws->push[j] - ws->weight[j] * against;
    }
}

void vent__core_step(vent_workspace *ws)
{
    const vent__program *program = ws->program;
    vent__core *core = ws->core;
    clear_answer(core);
    for (int i = 0; i < core->positions; ++i)
        leave_over(ws, core->at[i]);
    vent__sparse_solve(&core->matrix, core->answer);
    for (int i = 0; i < core->positions; ++i) {
        int k = core->at[i];
        ws->step[k] = *at(core, core->flow[k]) * (is_outlet(program, k) ? -1 : 1);
        if (core->node[k] >= 0)
            step_limbs(ws, k);
    }
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
    *at(core, core->flow[next]) += gain * ws->joint[k].d_combined;
    for (int a = 0; a < VENT__SUMS; ++a)
        *at(core, core->node[next] + 1 + a) += gain * ws->joint[k].d_sum[a];
}

static double leg_slope(const vent_workspace *ws, int k)
{
    return ws->slope[k] + (ws->program->next[k] < 0 ? 0 : ws->joint[k].d_leg);
}

/* The gain by one position of the core; what hangs on its start in limbs included. */
static void gain_by(const vent_workspace *ws, int k, const double *flow, const double *pressure,
                    const double *e)
{
    const vent__program *program = ws->program;
    const vent__core *core = ws->core;
    double way = is_outlet(program, k) ? -1 : 1;
    *at(core, core->flow[k]) += way * flow[k];
    if (program->link[k]) {
        *at(core, core->flow[k]) += way * pressure[k] * leg_slope(ws, k);
        gain_by_end(ws, k, pressure[k]);
    } else if (program->soil[k] >= 0) {
        *at(core, core->flow[k]) -= ws->source_slope[k] * pressure[k];
    }
    if (core->node[k] < 0)
        return;
    *at(core, core->node[k]) += pressure[k];
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j))
        if (vent__is_limb(ws, j))
            gain_by_end(ws, j, -ws->weight[j] * (flow[j] + e[j]));
}

static void spread_limbs(const vent_workspace *ws, int k, const double *flow, const double *e,
                         double *mu)
{
    const vent__program *program = ws->program;
    const vent__core *core = ws->core;
    double gamma = *at(core, core->node[k]), beta[VENT__SUMS] = {0};
    for (int a = 0; core->lossy[k] && a < VENT__SUMS; ++a)
        beta[a] = *at(core, core->node[k] + 1 + a);
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j))
        if (vent__is_limb(ws, j))
            mu[j] = -ws->weight[j] * (flow[j] + gamma + vent__dot(beta, ws->adds[j]) + e[j]);
}

void vent__core_transpose(vent_workspace *ws, const double *flow, const double *pressure,
                          const double *e, double *mu)
{
    const vent__program *program = ws->program;
    vent__core *core = ws->core;
    clear_answer(core);
    for (int i = 0; i < core->positions; ++i)
        gain_by(ws, core->at[i], flow, pressure, e);
    for (int i = 0; i < program->couplings; ++i) {
        int a = program->couple[program->pair[0][i]], b = program->couple[program->pair[1][i]];
        *at(core, core->flow[a]) -= coupling(ws, i) * pressure[b];
        *at(core, core->flow[b]) -= coupling(ws, i) * pressure[a];
    }
    vent__sparse_solve_transposed(&core->matrix, core->answer);
    for (int i = 0; i < core->positions; ++i) {
        int k = core->at[i];
        double way = is_outlet(program, k) ? -1 : 1;
        mu[k] = way * *at(core, core->flow[k]) + (program->link[k] ? pressure[k] : 0);
        if (core->node[k] >= 0)
            spread_limbs(ws, k, flow, e, mu);
    }
}
