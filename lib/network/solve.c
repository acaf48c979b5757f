/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A network's point: by Newton's method, and where that does not find one, or one at which the air would not
 * stay, by a path. */
#include <string.h>

#include "base/fail.h"
#include "base/text.h"
#include "network/equations.h"
#include "network/newton.h"
#include "network/path.h"
#include "network/step.h"

/* A fan that works beyond its data, where its curve does not fall, meets the system nowhere. */
static bool fans_meet(const vent_workspace *ws, const char *function, vent_error *err)
{
    const vent__program *program = ws->program;
    for (int k = 0; k < program->runs; ++k)
        for (int i = program->first_fan[k]; i < program->first_fan[k + 1]; ++i) {
            int number = program->fan[i];
            const vent__fan *fan = &ws->model->fan[number];
            double flow = ws->flow[k] / ws->density[k], least, most;
            char from[VENT__BOTH_ROOM], to[VENT__BOTH_ROOM];
            double speed = ws->model->item[fan->number].amount;
            vent_fan_range(fan->fan, &least, &most);
            if ((flow >= least * speed && flow <= most * speed) || number == ws->forced.fan ||
                vent__fan_share(ws->model, number) == 0 ||
                vent__fan_of(ws, number, k, ws->flow[k]).slope < 0)
                continue;
            return vent__fail(
                err, VENT_E_NO_OPERATING_POINT, function, "fan", number, flow, least * speed,
                most * speed,
                "%s: fan '%.40s' in run '%.40s' meets the system nowhere: its points run from %s "
                "to %s, and where they end its pressure does not fall with flow, so it "
                "cannot be continued",
                function, vent_fan_name(fan->fan), vent__run_name(ws->model, fan->run),
                vent__in_both(least * speed, "m3/s", from),
                vent__in_both(most * speed, "m3/s", to));
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

/* Where the air would stay, and no fan works where nothing is known of it. Leaves the slopes there. */
static bool is_sound(vent_workspace *ws)
{
    return stable(ws) && fans_meet(ws, NULL, NULL);
}

static bool first_point(vent_workspace *ws, vent_convergence *c)
{
    vent__path path;
    vent__first_flows(ws);
    return vent__newton(ws, c) || (vent__path_begin(ws, &path, c) && vent__path_next(ws, &path, c));
}

static bool find_sound_point(vent_workspace *ws, vent_convergence *c)
{
    vent__path path;
    bool found = vent__path_begin(ws, &path, c);
    while (found && (found = vent__path_next(ws, &path, c)) && !is_sound(ws))
        ;
    return found;
}

/* The first point that is found, unless it is not sound and the path leads to one that is. Leaves the slopes
 * there. */
static bool find_point(vent_workspace *ws, vent_convergence *c)
{
    bool found = first_point(ws, c);
    if (!found || is_sound(ws) || find_sound_point(ws, c))
        return found;
    first_point(ws, c);
    vent__eliminate_all(ws);
    return true;
}

/* True if all fans meet the system, or do so at another point; else err says which does not. */
static bool all_meet(vent_workspace *ws, const char *function, vent_convergence *c, vent_error *err)
{
    vent_error record = VENT_NO_ERROR;
    if (fans_meet(ws, function, &record))
        return true;
    if (ws->forced.fan < 0 && vent__solve_along(ws, ws->model, (int)record.index, c) &&
        fans_meet(ws, NULL, NULL))
        return true;
    if (err)
        *err = record;
    return false;
}

bool vent__solve(vent_workspace *ws, vent__model *model, const char *function,
                 vent_convergence *convergence, vent_error *err)
{
    if (!vent__same_shape(ws, model, function, err) ||
        !vent__model_soils_are_passive(model, function, err))
        return false;
    *convergence = (vent_convergence){0};
    if (!vent__lay_out(ws, model))
        return vent__fail(err, VENT_E_MEMORY, function, "", -1, NAN, NAN, NAN,
                          "%s: no memory to lay the network out", function);
    if (find_point(ws, convergence))
        return all_meet(ws, function, convergence, err);
    return vent__fail(
        err, VENT_E_NOT_CONVERGED, function, "network", -1, convergence->pressure_residual, 0,
        VENT__TOLERANCE * convergence->pressure_scale,
        "%s: after %d steps %.3g Pa were left over of %.3g Pa; the aim is %.3g of that", function,
        convergence->iterations, convergence->pressure_residual, convergence->pressure_scale,
        VENT__TOLERANCE);
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

/* ---- for everybody ---- */

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
