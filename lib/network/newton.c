/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Newton's method on the flows of a network.
 *
 * Every iterate holds all balances of mass and all laws of runs exactly: flows are sums of those at the
 * suction points and in links, pressures follow from the discharge down the tree (equations.c). What is left
 * over is, at each suction point, the vacuum its soil would need less the vacuum that is there, and, where a
 * link begins, the gap between the pressures at both sides of the cut. The step that would bring all of it to
 * zero, were the laws straight lines, is step.c's. */
#include "network/newton.h"

#include <math.h>
#include <string.h>

#include "network/equations.h"
#include "network/step.h"

static const double GOOD_ENOUGH =
    1e-12; /* of the pressure scale, where rounding allows no better */

static void move(vent_workspace *ws, double share)
{
    for (int k = 0; k < ws->program->runs; ++k)
        ws->trial[k] = ws->flow[k] + share * ws->step[k];
    vent__sum_flows(ws, ws->trial);
}

static void accept(vent_workspace *ws)
{
    double *flow = ws->flow;
    ws->flow = ws->trial;
    ws->trial = flow;
}

void vent__first_flows(vent_workspace *ws)
{
    vent__secants(ws);
    vent__find_steps(ws);
    memcpy(ws->flow, ws->step, (size_t)ws->program->runs * sizeof *ws->flow);
    vent__sum_flows(ws, ws->flow);
    vent__rough_laws(ws);
    vent__find_steps(ws);
    move(ws, 1);
    accept(ws);
}

double vent__good_enough(const vent_workspace *ws, double scale)
{
    return GOOD_ENOUGH * vent__larger(scale, ws->felt);
}

static void note(vent_convergence *c, vent__rest rest)
{
    c->pressure_residual = rest.greatest;
    c->pressure_scale = rest.scale;
}

bool vent__newton(vent_workspace *ws, vent_convergence *c)
{
    enum { MOST_STEPS = 100, MOST_HALVINGS = 30 };
    vent__rest rest = vent__evaluate(ws, ws->flow), trial = rest;
    for (int i = 0; i < MOST_STEPS; ++i, ++c->iterations) {
        note(c, rest);
        if (rest.greatest <= VENT__TOLERANCE * rest.scale)
            return true;
        vent__find_steps(ws);
        double share = 1;
        for (int h = 0; h < MOST_HALVINGS; ++h, share /= 2) {
            move(ws, share);
            trial = vent__evaluate(ws, ws->trial);
            if (trial.squares <= (1 - 1e-4 * share) * rest.squares)
                break;
            if (share == 1 && rest.greatest <= vent__good_enough(ws, rest.scale))
                break; /* as good as rounding allows */
        }
        if (!(trial.squares < rest.squares)) {
            rest = vent__evaluate(ws, ws->flow); /* bring the laws back to the flows that stay */
            note(c, rest);
            return rest.greatest <= vent__good_enough(ws, rest.scale);
        }
        accept(ws);
        rest = trial;
    }
    note(c, rest);
    return false;
}
