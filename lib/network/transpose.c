/* SPDX-License-Identifier: GPL-3.0-or-later */
/* At the solution, for every run k with its leg of the next junction, p_k = p_next + joint_k + loss_k; at
 * a suction point p_k = -soil_k. A change of parameters enters each equation as a pascal more or less.
 * What a pascal more in run k does to one result J, mu_k, follows from the transposed equations:
 *
 *     at the start of a run       mu_k = dJ/dp_k + sum of the mu of the legs that meet there
 *     along a leg                 dJ/dm_k + mu_k (slope + d_leg) + beta . adds_k + gamma + U_k = 0
 *
 * with gamma the multiplier of the mass balance where the leg ends, beta those of the junction's sums
 * (beta = sum mu_i d_sum_i), and U_k what stands upstream: soil slope x (mu_k - dJ/dp_k), or
 * -gamma + beta . adds + sum mu_j d_combined_j of the junction the run starts at. Each subtree shrinks to
 * U_k = slope mu_k + e_k, with the slope of the forward sweep.
 *
 * Where links and coupled soil tie runs together, the same equations are those of the core transposed
 * (core.c): the limbs shrink first, then the core is solved, then the limbs follow. */
#include "network/transpose.h"

#include "network/core.h"

/* What the legs of one junction give in sum, in the transposed equations. */
typedef struct transposed {
    double pushed;           /* sum w h */
    double adds[VENT__SUMS]; /* sum w adds */
    double beta[VENT__SUMS]; /* answer^T sum w d_sum h: beta where gamma is 0 */
} transposed;

typedef struct equations {
    const vent_workspace *ws;
    const double *flow, *pressure; /* the result's own derivatives */
    double *mu, *e;
} equations;

static transposed gather(const equations *q, int k, const vent__knot *knot)
{
    const vent_workspace *ws = q->ws;
    const vent__program *program = ws->program;
    double raw[VENT__SUMS] = {0};
    transposed t = {0};
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j)) {
        double w = ws->weight[j];
        double pushed = -w * (q->flow[j] + q->e[j]);
        t.pushed += pushed;
        if (!knot)
            continue;
        const vent__tie *tie = vent__tie_at(ws, j);
        for (int i = 0; i < VENT__SUMS; ++i) {
            t.adds[i] += w * tie->adds[i];
            raw[i] += tie->joint.d_sum[i] * pushed;
        }
    }
    for (int i = 0; knot && i < VENT__SUMS; ++i)
        for (int b = 0; b < VENT__SUMS; ++b)
            t.beta[i] += knot->answer[b][i] * raw[b];
    return t;
}

/* The mu of the legs that meet where run k starts, if all together have this one; what they show to the
 * run. */
static double spread(const equations *q, int k, double mu)
{
    const vent_workspace *ws = q->ws;
    const vent__program *program = ws->program;
    const vent__knot *knot = vent__knot_at(ws, k);
    transposed t = gather(q, k, knot);
    double beta[VENT__SUMS] = {0}, gamma = (t.pushed - mu) * ws->source_slope[k];
    if (knot) {
        gamma = (t.pushed - vent__dot(t.beta, t.adds) - mu) / knot->weight;
        for (int i = 0; i < VENT__SUMS; ++i)
            beta[i] = t.beta[i] - gamma * knot->echo[i];
    }
    double shown = knot ? vent__dot(beta, knot->adds) - gamma : -gamma;
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j)) {
        const vent__tie *tie = vent__tie_at(ws, j);
        double down = q->flow[j] + gamma + (tie ? vent__dot(beta, tie->adds) : 0);
        q->mu[j] = -ws->weight[j] * (down + q->e[j]);
        if (tie)
            shown += q->mu[j] * tie->joint.d_combined;
    }
    return shown;
}

static void sweep_up(const equations *q)
{
    const vent_workspace *ws = q->ws;
    const vent__program *program = ws->program;
    for (int k = 0; k < program->runs; ++k) {
        if (!vent__is_limb(ws, k))
            continue;
        if (program->soil[k] >= 0) {
            q->e[k] = -ws->source_slope[k] * q->pressure[k];
            continue;
        }
        q->e[k] = spread(q, k, -q->pressure[k]); /* as if mu_k were 0 */
    }
}

static void sweep_down(const equations *q)
{
    const vent_workspace *ws = q->ws;
    const vent__program *program = ws->program;
    for (int k = program->runs - 1; k >= 0; --k) {
        if (!vent__is_limb(ws, k))
            continue;
        if (program->next[k] < 0)
            q->mu[k] = -ws->weight[k] * (q->flow[k] + q->e[k]);
        if (program->soil[k] >= 0)
            continue;
        spread(q, k, q->mu[k] - q->pressure[k]);
    }
}

void vent__transpose(vent_workspace *ws, const double *flow, const double *pressure,
                     double *response, double *scratch)
{
    equations q = {ws, flow, pressure, response, scratch};
    sweep_up(&q);
    if (ws->core)
        vent__core_transpose(ws, flow, pressure, scratch, response);
    sweep_down(&q);
}
