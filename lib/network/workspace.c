/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Room to solve in, and solutions. */
#include "network/workspace.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "base/memory.h"
#include "network/core.h"
#include "network/equations.h"
#include "network/step.h"
#include "network/transpose.h"

void vent_workspace_free(vent_workspace *ws)
{
    if (!ws)
        return;
    vent__program_release(ws->program);
    vent__model_release(ws->model);
    free(ws->segment);
    free(ws->extra);
    free(ws->soil);
    free(ws->knot_at);
    free(ws->knot);
    free(ws->tie);
    free(ws->gap);
    vent__core_free(ws->core);
    vent__slopes_free(ws->slopes);
    free(ws->roughness);
    free(ws);
}

static size_t leaves_of(const vent__program *program)
{
    size_t leaves = 0;
    for (int k = 0; k < program->runs; ++k)
        leaves += program->soil[k] >= 0;
    return leaves;
}

vent_workspace *vent_workspace_new(const vent_network *network, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network))
        return NULL;
    vent__program *program = vent__program_new(network->model, __func__, err);
    if (!program)
        return NULL;
    size_t runs = (size_t)program->runs, segments = (size_t)program->segments;
    size_t padded = (segments + VENT__LANES - 1) / VENT__LANES * VENT__LANES,
           links = (size_t)program->links;
    size_t coupled = (size_t)program->coupled;
    vent_workspace *ws = calloc(1, sizeof *ws);
    if (!ws) {
        VENT__FAIL(VENT_E_MEMORY, "", -1, "%s: no memory", __func__);
        vent__program_release(program);
        return NULL;
    }
    double **row[] = {&ws->lift,          &ws->density,      &ws->flow,    &ws->loss,
                      &ws->slope,         &ws->start,        &ws->source,  &ws->settled,
                      &ws->reference,     &ws->source_slope, &ws->weight,  &ws->step,
                      &ws->trial,         &ws->first,        &ws->tangent, &ws->rest,
                      &ws->spare_settled, &ws->spare_tangent};
    enum { ROWS = sizeof row / sizeof *row };
    bool room = vent__resize(&ws->segment, segments, sizeof *ws->segment) &&
                vent__resize(&ws->soil, leaves_of(program), sizeof *ws->soil) &&
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
    ws->twists = 1;
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
        balance[k] = vent__is_leaf(ws->program, k) ? 0 : -ws->flow[k];
    for (int k = 0; k < program->runs; ++k) {
        if (program->next[k] >= 0)
            balance[program->next[k]] += ws->flow[k];
        c->mass_scale = vent__larger(c->mass_scale, fabs(ws->flow[k]));
    }
    for (int k = 0; k < program->runs; ++k)
        c->mass_residual = vent__larger(c->mass_residual, fabs(balance[k]));
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
        response[k] =
            next < 0 ? ws->weight[k] / ws->density[k] : response[next] * vent__share_of_leg(ws, k);
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
    for (size_t k = 0; ws->knots && k < runs; ++k) {
        const vent__knot *knot = vent__knot_at(ws, (int)k);
        if (!knot)
            continue;
        solution->meeting[k] = knot->meeting;
        memcpy(solution->sums[k], knot->sums, sizeof knot->sums);
    }
    weigh(ws, &solution->convergence);
    responses(ws, solution->response);
}
