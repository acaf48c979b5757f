/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Newton's method on the flows of a network.
 *
 * Every iterate holds all balances of mass and all laws of runs exactly: flows are sums of those at the
 * suction points and in links, pressures follow from the discharge down the tree (equations.c). What is left
 * over is, at each suction point, the vacuum its soil would need less the vacuum that is there, and, where a
 * link begins, the gap between the pressures at both sides of the cut. The step that would bring all of it to
 * zero, were the laws straight lines, is step.c's. */
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "network/equations.h"
#include "network/step.h"

static const double TOLERANCE = 1e-13;   /* of the pressure scale */
static const double GOOD_ENOUGH = 1e-12; /* the same, where rounding allows no better */

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

/* Those of the secants, then one of Newton's steps with one friction factor for all and the junctions
 * left out. */
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

/* What rounding may leave over: of the pressures, and of the flows times the fans' slopes. */
static double good_enough(const vent_workspace *ws, double scale)
{
    return GOOD_ENOUGH * vent__larger(scale, ws->felt);
}

static void note(vent_convergence *c, vent__rest rest)
{
    c->pressure_residual = rest.greatest;
    c->pressure_scale = rest.scale;
}

/* Full steps, halved until what is left over shrinks. True when converged; else stuck or out of tries. */
static bool newton(vent_workspace *ws, vent_convergence *c)
{
    enum { MOST_STEPS = 100, MOST_HALVINGS = 30 };
    vent__rest rest = vent__evaluate(ws, ws->flow), trial = rest;
    for (int i = 0; i < MOST_STEPS; ++i, ++c->iterations) {
        note(c, rest);
        if (rest.greatest <= TOLERANCE * rest.scale)
            return true;
        vent__find_steps(ws);
        double share = 1;
        for (int h = 0; h < MOST_HALVINGS; ++h, share /= 2) {
            move(ws, share);
            trial = vent__evaluate(ws, ws->trial);
            if (trial.squares <= (1 - 1e-4 * share) * rest.squares)
                break;
            if (share == 1 && rest.greatest <= good_enough(ws, rest.scale))
                break; /* as good as rounding allows */
        }
        if (!(trial.squares < rest.squares)) {
            rest = vent__evaluate(ws, ws->flow); /* bring the laws back to the flows that stay */
            note(c, rest);
            return rest.greatest <= good_enough(ws, rest.scale);
        }
        accept(ws);
        rest = trial;
    }
    note(c, rest);
    return false;
}

/* Follows the air from the present flows as if it had inertia, which dwindles as it settles: it runs
 * into a stable point even past flows where the residual grows, as it does beside the rising part of
 * a fan's curve or where a leg of a junction turns. */
static bool settle(vent_workspace *ws, vent_convergence *c)
{
    enum { MOST_STEPS = 400 };
    const double calm = 0.8, rough = 1.5, settled = 1e-4;
    int root = ws->program->runs - 1;
    vent__rest rest = vent__evaluate(ws, ws->flow);
    double most = 4 * rest.scale / ws->reference[root];
    double inertia = most;
    for (int i = 0; i < MOST_STEPS && isfinite(rest.squares); ++i, ++c->iterations) {
        note(c, rest);
        if (rest.greatest <= settled * rest.scale)
            return newton(ws, c);
        vent__eliminate(ws, inertia);
        if (!vent__resists(ws)) { /* something pushes harder than the air resists */
            most *= 2;
            inertia = most;
            continue;
        }
        vent__come_back(ws);
        move(ws, 1);
        accept(ws);
        double before = rest.squares;
        rest = vent__evaluate(ws, ws->flow);
        most *= i % 32 == 31 ? 2 : 1; /* it swings: let it move more slowly */
        inertia = fmin(inertia * (rest.squares < before ? calm : rough), most);
    }
    note(c, rest);
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
                vent__fan_share(ws->model, number) == 0 ||
                vent__fan_of(ws, number, k, ws->flow[k]).slope < 0)
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

/* Whether the air would stay at this point: where a fan's pressure rises with flow, everything else
 * must rise faster. Leaves the slopes at this point. */
static bool stable(vent_workspace *ws)
{
    const vent__program *program = ws->program;
    vent__eliminate_all(ws);
    for (int i = 0; i < program->fans; ++i) {
        const vent__fan *fan = &ws->model->fan[program->fan[i]];
        int k = program->position[fan->run];
        if (!vent_fan_is_falling(fan->fan) &&
            vent__fan_of(ws, program->fan[i], k, ws->flow[k]).slope > 0 &&
            !vent__resists_from(ws, k))
            return false;
    }
    return true;
}

/* Newton's point, unless the air would not stay there and finds one where it does. Leaves the slopes
 * at the solution. */
static bool find_point(vent_workspace *ws, vent_convergence *c)
{
    vent__first_flows(ws);
    bool found = newton(ws, c);
    if (found && stable(ws))
        return true;
    if (start_up(ws, c) && stable(ws))
        return true;
    if (!found)
        return false;
    vent__first_flows(ws);
    newton(ws, c);
    vent__eliminate_all(ws);
    return true;
}

bool vent__solve(vent_workspace *ws, vent__model *model, const char *function,
                 vent_convergence *convergence, vent_error *err)
{
    if (!vent__same_shape(ws, model, function, err))
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

bool vent__same_shape(const vent_workspace *ws, const vent__model *model, const char *function,
                      vent_error *err)
{
    return model->shape == ws->program->shape ||
           vent__fail(err, VENT_E_STALE, function, "workspace", -1, NAN, NAN, NAN,
                      "%s: the workspace was made for a network of another shape; make a new "
                      "one after adding nodes, runs or items",
                      function);
}

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
    vent__evaluate(ws, ws->flow);
    vent__eliminate_all(ws);
    return true;
}

/* ---- public --------------------------------------------------------------------------------- */

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
