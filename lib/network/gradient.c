/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A parameter changes numbers of some runs; the transposed equations tell what a pascal more in each run does
 * to a result, and with it what each of these numbers does; and the result may read the parameter itself. */
#include <ventstack/gradient.h>

#include <stdlib.h>

#include "base/fail.h"
#include "base/memory.h"
#include "network/observable.h"
#include "network/parameter.h"
#include "network/slopes.h"
#include "network/transpose.h"

/* ---- room ------------------------------------------------------------------------------------ */

/* Kept by the workspace, so that gradients that are asked for again allocate nothing. */
static vent__slopes *slopes_of(vent_workspace *ws)
{
    if (!ws->slopes)
        ws->slopes = calloc(1, sizeof *ws->slopes);
    return ws->slopes;
}

void vent__slopes_free(vent__slopes *s)
{
    if (!s)
        return;
    free(s->change);
    free(s->block);
    free(s->leg);
    free(s->own);
    free(s->root);
    free(s);
}

bool vent__slopes_grow(vent__slopes *s)
{
    if (!s->short_of_memory)
        s->short_of_memory = !vent__reserve(&s->change, &s->room, s->changes, sizeof *s->change);
    return !s->short_of_memory;
}

static bool has_rows(vent__slopes *s)
{
    double **row[] = {&s->column, &s->by_density, &s->by_viscosity,
                      &s->flow,   &s->pressure,   &s->scratch};
    enum { ROWS = sizeof row / sizeof *row };
    size_t runs = (size_t)s->runs, numbers = VENT__OF_RUN * runs + VENT__OF_NETWORK;
    size_t segments = (size_t)s->program->segments + VENT__LANES;
    if (s->block)
        return true;
    if (!vent__resize(&s->block, 2 * segments + ROWS * runs + numbers, sizeof *s->block))
        return false;
    double *at = s->block;
    s->f = at;
    s->e = at += segments;
    at += segments;
    for (int i = 0; i < ROWS; ++i, at += runs)
        *row[i] = at;
    s->answer = at;
    return true;
}

/* ---- what does not depend on the result ------------------------------------------------------- */

/* Friction factors of all segments at the solution's flows. */
static void find_friction(vent__slopes *s)
{
    const vent__program *program = s->program;
    size_t padded = ((size_t)program->segments + VENT__LANES - 1) / VENT__LANES * VENT__LANES;
    double *reynolds = s->e;
    for (size_t i = (size_t)program->segments; i < padded; ++i)
        reynolds[i] = 1e5;
    for (int k = 0; k < s->runs; ++k)
        for (int i = program->first_segment[k]; i < program->first_segment[k + 1]; ++i)
            reynolds[i] = vent__larger(s->ws->segment[i].reynolds * fabs(s->solution->flow[k]),
                                       VENT__LEAST_REYNOLDS);
    vent__friction_many(padded, reynolds, s->ws->roughness, s->f, s->e);
}

static void find_roots(vent__slopes *s)
{
    for (int i = 0; i < s->program->roots; ++i) {
        int k = s->program->root[i];
        s->root[s->model->run[s->program->run[k]].to] = k;
    }
}

vent__slopes *vent__slopes_begin(vent_workspace *ws, const vent_solution *solution)
{
    vent__slopes *s = slopes_of(ws);
    if (!s)
        return NULL;
    s->solution = solution;
    s->model = solution->model;
    s->program = solution->program;
    s->ws = ws;
    s->runs = solution->program->runs;
    s->changes = 0;
    s->junctions = s->airs = s->short_of_memory = false;
    s->spot.run = -1;
    s->own_known = false;
    if (!has_rows(s) || !vent__linearise(ws, solution->model, solution->flow) ||
        (!s->root && !vent__resize(&s->root, (size_t)s->model->nodes, sizeof *s->root)))
        return NULL;
    find_friction(s);
    find_roots(s);
    vent__slopes_of_columns(s);
    return s;
}

/* What each kind of parameter changes. */
typedef void adder(vent__slopes *s, int column, const vent_parameter *p);
static adder *const adders[] = {
    [VENT_PARAMETER_WIND_PRESSURE] = vent__slope_of_wind,
    [VENT_PARAMETER_BUILDING_PRESSURE] = vent__slope_of_wind,
    [VENT_PARAMETER_OUTDOOR_TEMPERATURE] = vent__slope_of_air,
    [VENT_PARAMETER_BAROMETRIC_PRESSURE] = vent__slope_of_air,
    [VENT_PARAMETER_SOIL_GAS_TEMPERATURE] = vent__slope_of_air,
    [VENT_PARAMETER_WIND_DYNAMIC_PRESSURE] = vent__slope_of_wind,
    [VENT_PARAMETER_HEIGHT] = vent__slope_of_height,
    [VENT_PARAMETER_SOIL] = vent__slope_of_soil,
    [VENT_PARAMETER_JUNCTION_ANGLE] = vent__slope_of_junction,
    [VENT_PARAMETER_JUNCTION_FACTOR] = vent__slope_of_junction,
    [VENT_PARAMETER_TERMINATION] = vent__slope_of_termination,
    [VENT_PARAMETER_TERMINATION_FACTOR] = vent__slope_of_termination,
    [VENT_PARAMETER_AREA] = vent__slope_of_opening,
    [VENT_PARAMETER_DISCHARGE_COEFFICIENT] = vent__slope_of_opening,
    [VENT_PARAMETER_PRESSURE_COEFFICIENT] = vent__slope_of_wind,
    [VENT_PARAMETER_COUPLING] = vent__slope_of_coupling,
    [VENT_PARAMETER_TEMPERATURE] = vent__slope_of_air,
    [VENT_PARAMETER_LENGTH] = vent__slope_of_item,
    [VENT_PARAMETER_BORE] = vent__slope_of_item,
    [VENT_PARAMETER_ROUGHNESS] = vent__slope_of_item,
    [VENT_PARAMETER_TRANSITION_ANGLE] = vent__slope_of_item,
    [VENT_PARAMETER_FITTING] = vent__slope_of_item,
    [VENT_PARAMETER_FACTOR] = vent__slope_of_item,
    [VENT_PARAMETER_COUNT] = vent__slope_of_item,
    [VENT_PARAMETER_SPEED] = vent__slope_of_item,
    [VENT_PARAMETER_PRESSURE_FACTOR] = vent__slope_of_item,
    [VENT_PARAMETER_RUNNING] = vent__slope_of_item,
};

bool vent__slopes_of(vent__slopes *s, size_t columns, const vent_parameter *parameters)
{
    for (size_t i = 0; i < columns; ++i)
        adders[parameters[i].kind](s, (int)i, &parameters[i]);
    return !s->short_of_memory && (!s->junctions || vent__slopes_of_legs(s));
}

/* ---- one result ------------------------------------------------------------------------------ */

void vent__answers(vent__slopes *s, int seen)
{
    if (!s->junctions)
        return;
    vent__answer_air(s);
    vent__answer_junctions(s, seen);
}

void vent__add_changes(const vent__slopes *s, double *gradient)
{
    for (int i = 0; i < s->changes; ++i) {
        const vent__change *c = &s->change[i];
        gradient[c->column] += s->answer[c->number] * c->amount;
    }
}

static void derive(vent__slopes *s, const vent_observable *o, size_t columns,
                   const vent_parameter *parameters, double *gradient)
{
    double *loss = s->answer, *vacuum = s->answer + vent__number_of(s, VENT__VACUUM, 0);
    bool of_joint = o->kind == VENT_OBSERVABLE_JUNCTION_LOSS;
    vent__seed(s, o);
    vent__transpose(s->ws, s->flow, s->pressure, loss, s->scratch);
    for (int k = 0; k < s->runs; ++k)
        vacuum[k] = loss[k] - s->pressure[k];
    vent__answers(s, of_joint ? s->program->position[o->place] : -1);
    vent__read_airs(s, o);
    vent__answer_soil_gas(s);
    vent__read_parameters(s, o, columns, parameters, gradient);
    vent__add_changes(s, gradient);
}

static bool jacobian_in(vent_workspace *ws, const vent_solution *solution, size_t rows,
                        const vent_observable *observables, size_t columns,
                        const vent_parameter *parameters, double *jacobian)
{
    vent__slopes *s = vent__slopes_begin(ws, solution);
    bool done = s && vent__slopes_of(s, columns, parameters);
    for (size_t i = 0; done && i < rows; ++i) {
        derive(s, &observables[i], columns, parameters, jacobian + i * columns);
        done = !s->short_of_memory;
    }
    if (s && s->trial)
        vent__model_release(s->trial);
    if (s)
        s->trial = NULL;
    return done;
}

/* ---- for everybody --------------------------------------------------------------------------- */

static bool addresses_hold(const vent__model *model, size_t rows,
                           const vent_observable *observables, size_t columns,
                           const vent_parameter *parameters, const char *function, vent_error *err)
{
    for (size_t i = 0; i < rows; ++i)
        if (!vent__observable_check(model, &observables[i], function, err))
            return false;
    return vent__parameters_check(model, columns, parameters, function, err);
}

static bool no_memory(const char *function, vent_error *err)
{
    return vent__fail(err, VENT_E_MEMORY, function, "", -1, NAN, NAN, NAN, "%s: no memory",
                      function);
}

static bool jacobian_of(const vent_solution *solution, vent_workspace *workspace, size_t rows,
                        const vent_observable *observables, size_t columns,
                        const vent_parameter *parameters, double *jacobian, const char *function,
                        vent_error *err)
{
    if (vent__failed(err) || !vent__check_pointer(err, function, "solution", solution) ||
        (rows && !vent__check_pointer(err, function, "observables", observables)) ||
        (columns && !vent__check_pointer(err, function, "parameters", parameters)) ||
        (rows && columns && !vent__check_pointer(err, function, "jacobian", jacobian)) ||
        !addresses_hold(solution->model, rows, observables, columns, parameters, function, err))
        return false;
    if (workspace && workspace->program->shape != solution->program->shape)
        return vent__fail(err, VENT_E_STALE, function, "workspace", -1, NAN, NAN, NAN,
                          "%s: the workspace was made for a network of another shape", function);
    if (rows == 0 || columns == 0)
        return true;
    if (columns > INT32_MAX)
        return no_memory(function, err);
    vent_network network = {solution->model};
    vent_workspace *own = workspace ? NULL : vent_workspace_new(&network, err);
    vent_workspace *ws = workspace ? workspace : own;
    if (!ws)
        return false;
    bool done = jacobian_in(ws, solution, rows, observables, columns, parameters, jacobian);
    vent_workspace_free(own);
    return done || no_memory(function, err);
}

/* On failure nothing half done is left. */
static bool or_nothing(bool done, size_t n, double *derivatives)
{
    for (size_t i = 0; !done && derivatives && i < n; ++i)
        derivatives[i] = NAN;
    return done;
}

bool vent_solution_jacobian(const vent_solution *solution, vent_workspace *workspace, size_t rows,
                            const vent_observable *observables, size_t columns,
                            const vent_parameter *parameters, double *jacobian, vent_error *err)
{
    return or_nothing(jacobian_of(solution, workspace, rows, observables, columns, parameters,
                                  jacobian, __func__, err),
                      rows * columns, jacobian);
}

bool vent_solution_gradient(const vent_solution *solution, vent_workspace *workspace,
                            vent_observable observable, size_t n, const vent_parameter *parameters,
                            double *gradient, vent_error *err)
{
    return or_nothing(
        jacobian_of(solution, workspace, 1, &observable, n, parameters, gradient, __func__, err), n,
        gradient);
}
