/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a result reads: flows and pressures, the airs of runs, and parameters themselves. Flows are differentiated
 * by hand; the other results are differenced as the formulas they are. */
#include <string.h>
#include <ventstack/units.h>

#include "network/observable.h"
#include "network/parameter.h"
#include "network/slopes.h"
#include "network/state.h"

/* ---- which ----------------------------------------------------------------------------------- */

static bool of_discharges(int kind)
{
    return kind == VENT_OBSERVABLE_DISCHARGE_FLOW || kind == VENT_OBSERVABLE_EXIT_VELOCITY;
}

static bool at_node(int kind)
{
    return kind == VENT_OBSERVABLE_PRESSURE || kind == VENT_OBSERVABLE_ABSOLUTE_PRESSURE;
}

static bool at_tap(int kind)
{
    return kind == VENT_OBSERVABLE_STATIC_PRESSURE || kind == VENT_OBSERVABLE_INLET_STATIC_PRESSURE;
}

/* Flows, which read nothing but flows and densities. */
static bool is_flow(int kind)
{
    return kind == VENT_OBSERVABLE_DISCHARGE_FLOW || kind == VENT_OBSERVABLE_FLOW ||
           kind == VENT_OBSERVABLE_MASS_FLOW || kind == VENT_OBSERVABLE_STANDARD_FLOW;
}

/* The run a result reads, but those of all discharges. */
static int run_of(const vent__slopes *s, const vent_observable *o)
{
    return o->kind == VENT_OBSERVABLE_TERMINATION_LOSS ? s->program->run[s->root[o->place]]
                                                       : o->place;
}

/* How many runs a result reads, and the position of each. */
static int runs_read(const vent__slopes *s, const vent_observable *o)
{
    return of_discharges(o->kind) ? s->program->roots : !at_node(o->kind);
}

static int run_read(const vent__slopes *s, const vent_observable *o, int i)
{
    return of_discharges(o->kind) ? s->program->root[i] : s->program->position[run_of(s, o)];
}

/* ---- differences of the result --------------------------------------------------------------- */

/* The result, with what is put into the solution's place here. */
static double observe_with(const vent__slopes *s, const vent_observable *o, vent__model *model,
                           double *flow)
{
    vent_solution other = *s->solution;
    other.model = model;
    other.flow = flow;
    return vent__observe(&other, o);
}

static bool has_trial(vent__slopes *s)
{
    if (!s->trial)
        s->trial = vent__model_copy(s->model);
    s->short_of_memory |= !s->trial;
    return s->trial;
}

/* By a number of the trial model. */
static double by_number(vent__slopes *s, const vent_observable *o, double *number)
{
    double before = *number, here = vent__observe(s->solution, o), slope = 0;
    vent__stencil stencil = vent__stencil_at(before, -INFINITY, INFINITY);
    for (int i = 0; i < VENT__POINTS; ++i) {
        *number = stencil.at[i];
        slope += stencil.weight[i] * (observe_with(s, o, s->trial, s->solution->flow) - here);
    }
    *number = before;
    return slope;
}

static double by_parameter(vent__slopes *s, const vent_observable *o, const vent_parameter *p)
{
    if (!has_trial(s))
        return NAN;
    vent_parameter_range range = {0};
    vent__parameter_range(s->model, p, &range);
    double here = vent__observe(s->solution, o), slope = 0;
    vent__stencil stencil =
        vent__stencil_at(vent__parameter_value(s->model, p), range.low, range.high);
    for (int i = 0; i < VENT__POINTS; ++i) {
        vent__parameter_store(s->trial, p, stencil.at[i], __func__, NULL);
        slope += stencil.weight[i] * (observe_with(s, o, s->trial, s->solution->flow) - here);
    }
    vent__parameter_restore(s->trial, s->model, p);
    return slope;
}

static double by_flow(vent__slopes *s, const vent_observable *o, int k)
{
    const double still = 1e-3; /* kg/s, a step from no flow at all */
    double *flow = s->solution->flow, *trial = s->scratch, slope = 0;
    double here = vent__observe(s->solution, o), shift = flow[k] == 0 ? still : 0;
    memcpy(trial, flow, (size_t)s->runs * sizeof *flow);
    vent__stencil stencil = vent__stencil_at(flow[k] + shift, -INFINITY, INFINITY);
    for (int i = 0; i < VENT__POINTS; ++i) {
        trial[k] = stencil.at[i] - shift;
        slope += stencil.weight[i] * (observe_with(s, o, s->solution->model, trial) - here);
    }
    return slope;
}

/* ---- flows and pressures --------------------------------------------------------------------- */

/* kg/s a unit of a flow */
static double mass_of(const vent__slopes *s, int kind, int k)
{
    return kind == VENT_OBSERVABLE_MASS_FLOW       ? 1
           : kind == VENT_OBSERVABLE_STANDARD_FLOW ? VENT_STANDARD_DENSITY
                                                   : s->ws->density[k];
}

static void seed_joint(vent__slopes *s, int k)
{
    const vent__program *program = s->program;
    int next = program->next[k];
    const vent__knot *knot = vent__knot_at(s->ws, next);
    if (!knot)
        return; /* nothing is lost there, whatever flows */
    const vent__leg_loss *joint = &vent__tie_at(s->ws, k)->joint;
    s->flow[k] += joint->d_leg;
    s->flow[next] += joint->d_combined + vent__dot(joint->d_sum, knot->adds);
    for (int j = vent__last_leg(program, next); j >= 0; j = vent__leg_before(program, next, j))
        s->flow[j] += vent__dot(joint->d_sum, vent__tie_at(s->ws, j)->adds);
}

void vent__seed(vent__slopes *s, const vent_observable *o)
{
    size_t bytes = (size_t)s->runs * sizeof(double);
    memset(s->flow, 0, bytes);
    memset(s->pressure, 0, bytes);
    if (at_node(o->kind)) {
        if (s->model->node[o->place].leaving >= 0)
            s->pressure[vent__leaving(s, o->place)] = 1;
        return;
    }
    if (o->kind == VENT_OBSERVABLE_JUNCTION_LOSS) {
        seed_joint(s, s->program->position[o->place]);
        return;
    }
    if (at_tap(o->kind))
        s->pressure[s->program->position[o->place]] = 1;
    for (int i = 0; i < runs_read(s, o); ++i) {
        int k = run_read(s, o, i);
        s->flow[k] = is_flow(o->kind) ? 1 / mass_of(s, o->kind, k) : by_flow(s, o, k);
    }
}

/* ---- airs ------------------------------------------------------------------------------------ */

static void read_run(vent__slopes *s, const vent_observable *o, int k)
{
    double *density = &s->answer[vent__number_of(s, VENT__DENSITY, k)];
    double *viscosity = &s->answer[vent__number_of(s, VENT__VISCOSITY, k)];
    if (o->kind == VENT_OBSERVABLE_MASS_FLOW || o->kind == VENT_OBSERVABLE_STANDARD_FLOW)
        return;
    if (is_flow(o->kind)) {
        *density -= s->solution->flow[k] / s->ws->density[k];
        return;
    }
    if (!has_trial(s))
        return;
    vent__run *run = &s->trial->run[s->program->run[k]];
    *density += run->density * by_number(s, o, &run->density);
    *viscosity += run->viscosity * by_number(s, o, &run->viscosity);
}

void vent__read_airs(vent__slopes *s, const vent_observable *o)
{
    if (o->kind == VENT_OBSERVABLE_JUNCTION_LOSS || !s->junctions)
        return;
    for (int i = 0; i < runs_read(s, o); ++i)
        read_run(s, o, run_read(s, o, i));
    bool columns = o->kind == VENT_OBSERVABLE_ABSOLUTE_PRESSURE || at_tap(o->kind);
    if (columns && has_trial(s)) {
        double *density = &s->trial->outdoors.density;
        s->answer[vent__number_of_network(s, VENT__OUTDOOR_DENSITY)] +=
            *density * by_number(s, o, density);
    }
}

/* ---- other parameters ------------------------------------------------------------------------ */

static bool reads_of_network(int kind, int parameter)
{
    if (parameter == VENT_PARAMETER_BUILDING_PRESSURE)
        return kind == VENT_OBSERVABLE_PRESSURE || at_tap(kind);
    return at_node(kind) && (parameter == VENT_PARAMETER_WIND_PRESSURE ||
                             parameter == VENT_PARAMETER_WIND_DYNAMIC_PRESSURE);
}

static bool reads_of_node(const vent__slopes *s, const vent_observable *o, const vent_parameter *p)
{
    switch (p->kind) {
    case VENT_PARAMETER_HEIGHT:
        if (at_tap(o->kind))
            return s->model->run[o->place].from == p->place ||
                   s->model->run[o->place].to == p->place;
        return o->kind == VENT_OBSERVABLE_ABSOLUTE_PRESSURE && o->place == p->place;
    case VENT_PARAMETER_PRESSURE_COEFFICIENT:
        return at_node(o->kind) && o->place == p->place;
    case VENT_PARAMETER_TERMINATION:
    case VENT_PARAMETER_TERMINATION_FACTOR:
        return o->kind == VENT_OBSERVABLE_EXIT_VELOCITY ||
               (o->kind == VENT_OBSERVABLE_TERMINATION_LOSS && o->place == p->place);
    default:
        return false;
    }
}

static bool reads_of_run(const vent__slopes *s, const vent_observable *o, const vent_parameter *p)
{
    if (p->kind == VENT_PARAMETER_TEMPERATURE || at_node(o->kind))
        return false; /* by way of its air */
    if (of_discharges(o->kind))
        return p->kind == VENT_PARAMETER_BORE &&
               s->program->next[s->program->position[p->place]] < 0;
    if (p->place != run_of(s, o))
        return false;
    if (o->kind == VENT_OBSERVABLE_FAN_POWER && p->kind == VENT_PARAMETER_RUNNING)
        return false; /* a step: all or nothing */
    bool of_item = o->kind >= VENT_OBSERVABLE_LOSS && !at_tap(o->kind);
    bool of_pipe = p->kind == VENT_PARAMETER_BORE || p->kind == VENT_PARAMETER_ROUGHNESS;
    return !of_item || p->item == o->item || (of_pipe && p->item < o->item);
}

static bool reads(const vent__slopes *s, const vent_observable *o, const vent_parameter *p)
{
    if (p->kind < VENT_PARAMETER_HEIGHT)
        return reads_of_network(o->kind, p->kind);
    return p->kind < VENT_PARAMETER_TEMPERATURE ? reads_of_node(s, o, p) : reads_of_run(s, o, p);
}

void vent__read_parameters(vent__slopes *s, const vent_observable *o, size_t columns,
                           const vent_parameter *parameters, double *gradient)
{
    bool none = is_flow(o->kind) || o->kind == VENT_OBSERVABLE_DENSITY ||
                o->kind == VENT_OBSERVABLE_JUNCTION_LOSS;
    memset(gradient, 0, columns * sizeof *gradient);
    for (size_t i = 0; !none && i < columns; ++i) {
        if (reads(s, o, &parameters[i]))
            gradient[i] = by_parameter(s, o, &parameters[i]);
        if (o->kind == VENT_OBSERVABLE_ABSOLUTE_PRESSURE &&
            parameters[i].kind == VENT_PARAMETER_BAROMETRIC_PRESSURE)
            gradient[i] = 1;
    }
}
