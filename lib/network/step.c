/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Newton's step, exactly, by two sweeps over the tree: in corrections, everything upstream of a point
 * shows there as a source, dp = source - source_slope * dm. What loops tie together is eliminated
 * apart (core.c). */
#include "network/step.h"

#include <math.h>

#include "network/core.h"
#include "network/sparse.h"

/* Inverse of a matrix of three rows, by its cofactors. */
static void invert(double a[VENT__SUMS][VENT__SUMS], double inverse[VENT__SUMS][VENT__SUMS])
{
    _Static_assert(VENT__SUMS == 3, "cofactors of three rows");
    for (int i = 0; i < 3; ++i)
        for (int j = 0; j < 3; ++j) {
            int r = (j + 1) % 3, s = (j + 2) % 3, c = (i + 1) % 3, d = (i + 2) % 3;
            inverse[i][j] = a[r][c] * a[s][d] - a[r][d] * a[s][c];
        }
    double all =
        vent__firm(a[0][0] * inverse[0][0] + a[0][1] * inverse[1][0] + a[0][2] * inverse[2][0]);
    for (int i = 0; i < 3; ++i)
        for (int j = 0; j < 3; ++j)
            inverse[i][j] /= all;
}

/* How the sums answer the steps of the legs that meet where run k starts, and these the sums. */
static void answer_of(vent_workspace *ws, int k, vent__knot *knot)
{
    const vent__program *program = ws->program;
    double feedback[VENT__SUMS][VENT__SUMS] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
    double all[VENT__SUMS] = {0};
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j)) {
        const vent__tie *tie = vent__tie_at(ws, j);
        for (int b = 0; b < VENT__SUMS; ++b) {
            double pressed = ws->weight[j] * tie->joint.d_sum[b];
            all[b] += pressed;
            for (int a = 0; a < VENT__SUMS; ++a)
                feedback[a][b] += tie->adds[a] * pressed;
        }
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
static double felt_share(const vent__knot *knot, const vent__tie *tie)
{
    return 1 - vent__dot(knot->echo, tie->adds);
}

/* What feeds run k, as a source of pressure left over and a slope. */
static void gather_knot(vent_workspace *ws, int k, vent__knot *knot)
{
    const vent__program *program = ws->program;
    answer_of(ws, k, knot);
    double weight = 0, pushed = 0, turned = 1 + vent__dot(knot->echo, knot->adds);
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j)) {
        const vent__tie *tie = vent__tie_at(ws, j);
        double w = ws->weight[j] * felt_share(knot, tie);
        weight += w;
        turned += w * tie->joint.d_combined;
        pushed += w * ws->source[j];
    }
    knot->weight = vent__firm(weight);
    ws->source_slope[k] = turned / knot->weight;
    ws->source[k] = pushed / knot->weight;
}

/* The same where no pressure is lost; how all of it answers the run's end, through a slope. The division
 * by that and the one by the weight do not wait for each other. */
static double gather(vent_workspace *ws, int k, double slope)
{
    const vent__program *program = ws->program;
    double weight = 0, pushed = 0;
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j)) {
        weight += ws->weight[j];
        pushed += ws->weight[j] * ws->source[j];
    }
    ws->source_slope[k] = 1 / vent__firm(weight);
    ws->source[k] = pushed * ws->source_slope[k];
    return weight / vent__firm(1 + weight * slope);
}

double vent__share_of_leg(const vent_workspace *ws, int leg)
{
    int next = ws->program->next[leg];
    const vent__knot *knot = vent__knot_at(ws, next);
    if (!knot)
        return ws->weight[leg] * ws->source_slope[next];
    return ws->weight[leg] * felt_share(knot, vent__tie_at(ws, leg)) / knot->weight;
}

/* Up: each subtree shrinks to what the pipe above it sees. Without `all` the core is left out; with it, the flows of links answer nothing: they are set. */
static void sweep_up(vent_workspace *ws, bool all)
{
    const vent__program *program = ws->program;
    for (int k = 0; k < program->runs; ++k) {
        if (!all && !vent__is_limb(ws, k))
            continue;
        if (program->link[k] != 0) {
            ws->weight[k] = ws->source[k] = 0;
            continue;
        }
        const vent__tie *tie = vent__tie_at(ws, k);
        vent__knot *knot = vent__knot_at(ws, k);
        double slope = ws->slope[k] + (tie ? tie->joint.d_leg : 0);
        if (!knot && !vent__is_leaf(program, k)) {
            ws->weight[k] = gather(ws, k, slope);
            continue;
        }
        if (knot)
            gather_knot(ws, k, knot);
        ws->weight[k] = 1 / vent__firm(ws->source_slope[k] + slope);
    }
}

/* The steps of the legs that meet where run k starts, from its own. */
static void spread_knot(vent_workspace *ws, int k, const vent__knot *knot)
{
    const vent__program *program = ws->program;
    double alone[VENT__SUMS], sums[VENT__SUMS]; /* their changes, before and after they answer */
    double node = ws->source[k] - ws->source_slope[k] * ws->step[k];
    for (int i = 0; i < VENT__SUMS; ++i)
        alone[i] = knot->adds[i] * ws->step[k];
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j)) {
        const vent__tie *tie = vent__tie_at(ws, j);
        double against = node + tie->joint.d_combined * ws->step[k];
        ws->step[j] = ws->weight[j] * (ws->source[j] - against);
        for (int i = 0; i < VENT__SUMS; ++i)
            alone[i] += tie->adds[i] * ws->step[j];
    }
    for (int i = 0; i < VENT__SUMS; ++i)
        sums[i] = vent__dot(knot->answer[i], alone);
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j))
        ws->step[j] -= ws->weight[j] * vent__dot(vent__tie_at(ws, j)->joint.d_sum, sums);
}

/* The same where no pressure is lost. */
static void spread(vent_workspace *ws, int k)
{
    const vent__program *program = ws->program;
    double node = ws->source[k] - ws->source_slope[k] * ws->step[k];
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j))
        ws->step[j] = ws->weight[j] * (ws->source[j] - node);
}

/* Down: the flows come back. */
static void sweep_down(vent_workspace *ws)
{
    const vent__program *program = ws->program;
    for (int k = program->runs - 1; k >= 0; --k) {
        if (!vent__is_limb(ws, k))
            continue;
        if (program->next[k] < 0)
            ws->step[k] = ws->weight[k] * ws->source[k];
        const vent__knot *knot = vent__knot_at(ws, k);
        if (knot)
            spread_knot(ws, k, knot);
        else if (!vent__is_leaf(program, k))
            spread(ws, k);
    }
}

/* All that is known of the steps before what is left over: limbs shrink, then the core. */
void vent__eliminate(vent_workspace *ws)
{
    sweep_up(ws, false);
    if (ws->core)
        vent__core_factor(ws);
}

void vent__come_back(vent_workspace *ws)
{
    if (ws->core)
        vent__core_step(ws);
    sweep_down(ws);
}

/* Steps that leave nothing over anywhere, were the laws straight lines. */
void vent__find_steps(vent_workspace *ws)
{
    vent__eliminate(ws);
    vent__come_back(ws);
}

/* The sweep up and the core at the present slopes, for questions about this point. */
void vent__eliminate_all(vent_workspace *ws)
{
    sweep_up(ws, true);
    if (ws->core)
        vent__core_factor(ws);
}
/* ---- signs ----------------------------------------------------------------------------------- */

static double determinant(double (*a)[VENT__SUMS])
{
    double all = 0;
    for (int i = 0; i < 3; ++i) {
        int j = (i + 1) % 3, k = (i + 2) % 3;
        all += a[0][i] * (a[1][j] * a[2][k] - a[1][k] * a[2][j]);
    }
    return all;
}

bool vent__is_upright(const vent_workspace *ws)
{
    bool upright = !ws->core || vent__core_is_upright(ws);
    for (int k = 0; k < ws->program->runs; ++k) {
        if (!vent__is_limb(ws, k))
            continue;
        upright ^= ws->weight[k] < 0;
        vent__knot *knot = vent__knot_at(ws, k);
        if (knot)
            upright ^= (knot->weight < 0) ^ (determinant(knot->answer) < 0);
        else if (!vent__is_leaf(ws->program, k))
            upright ^= ws->source_slope[k] < 0;
    }
    return upright;
}

bool vent__resists_from(const vent_workspace *ws, int k)
{
    for (; k >= 0 && vent__is_limb(ws, k); k = ws->program->next[k])
        if (!(ws->weight[k] > 0))
            return false;
    return k < 0 || vent__core_resists(ws);
}
