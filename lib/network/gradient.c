/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A parameter changes the loss of some runs at the flows there are; the transposed equations tell what a
 * pascal more in each run does to an observable; and the observable may read the parameter itself. */
#include <ventstack/gradient.h>

#include <stdlib.h>
#include <string.h>
#include <ventstack/units.h>

#include "base/fail.h"
#include "base/memory.h"
#include "network/observable.h"
#include "network/parameter.h"
#include "network/state.h"
#include "network/transpose.h"

/* ---- differences of one law --------------------------------------------------------------- */

/* Where a law is a published formula it is differenced: four points, so that nothing but rounding is
 * left of smooth laws; all on one side where the parameter stands at a bound. */
enum { POINTS = 4 };
static const double STEP = 1e-4; /* of the value, or of a hundredth of the bound where it is 0 */

typedef struct stencil {
    double at[POINTS], weight[POINTS]; /* for the change from the value itself */
} stencil;

static stencil stencil_at(double value, double low, double high)
{
    double h = STEP * (value != 0 ? fabs(value) : 0.01 * fmin(fmax(high, -low), 100));
    if (value - 2 * h >= low && value + 2 * h <= high)
        return (stencil){{value - 2 * h, value - h, value + h, value + 2 * h},
                         {1 / (12 * h), -8 / (12 * h), 8 / (12 * h), -1 / (12 * h)}};
    if (value + 4 * h > high)
        h = -h;
    return (stencil){{value + h, value + 2 * h, value + 3 * h, value + 4 * h},
                     {48 / (12 * h), -36 / (12 * h), 16 / (12 * h), -3 / (12 * h)}};
}

/* ---- what parameters do to the equations --------------------------------------------------- */

/* The change of one equation by one parameter. */
typedef struct change {
    size_t column;
    int32_t run;  /* position */
    double loss;  /* Pa a unit: the run's, its joint's, the column's and the wind's */
    double joint; /* the joint's part of it */
    double soil;  /* Pa a unit, of the vacuum the soil needs */
} change;

typedef struct adjoint {
    const vent_solution *solution;
    vent_workspace *ws;
    vent__model *scratch; /* to write values into; NULL until one is needed */
    change *change;
    int changes, room;
    double *block;                                   /* of the rows below */
    double *loss, *joint, *trial_loss, *trial_joint; /* [runs] as they are, and as they would be */
    double *seed_flow, *seed_pressure;               /* [runs] the observable's own derivatives */
    double *mu, *e;                                  /* [runs] */
    int32_t *touched;                                /* [runs] */
    bool probed;                                     /* the workspace was used for other values */
    bool short_of_memory;
} adjoint;

static void add_change(adjoint *a, change c)
{
    if ((c.loss == 0 && c.soil == 0) || a->short_of_memory)
        return;
    a->short_of_memory = !vent__reserve(&a->change, &a->room, a->changes, sizeof c);
    if (!a->short_of_memory)
        a->change[a->changes++] = c;
}

/* ---- of one part of a run ------------------------------------------------------------------ */

/* Where an item stands: the run's position, its segment, the pipe it is in and the state there. */
typedef struct spot {
    int k, segment;
    const vent__item *item, *pipe; /* pipe: the one the item's coefficient is on */
    double flow, f, e, reynolds;
} spot;

static spot spot_of(const adjoint *a, int run, int rank)
{
    const vent__model *model = a->solution->model;
    const vent__program *program = a->solution->program;
    spot at = {.k = program->position[run]};
    at.segment = program->first_segment[at.k] - 1;
    int i = model->run[run].first;
    for (int n = 0; i >= 0; i = model->item[i].next, ++n) {
        const vent__item *item = &model->item[i];
        at.item = n == rank ? item : NULL;
        bool is_pipe = item->kind == VENT__PIPE;
        if (is_pipe) {
            at.pipe = item;
            ++at.segment;
        }
        if (n == rank)
            break;
    }
    const vent__segment *segment = &a->ws->segment[at.segment];
    at.flow = a->solution->flow[at.k];
    at.reynolds = fmax(segment->reynolds * fabs(at.flow), 1e-3);
    vent__friction(at.reynolds, a->ws->roughness[at.segment], &at.f, &at.e);
    return at;
}

/* Loss of one fitting or termination at a spot [Pa]. */
static double part_loss(const adjoint *a, const spot *at, const vent_fitting *fitting,
                        const vent_termination *termination)
{
    const vent__segment *segment = &a->ws->segment[at->segment];
    double bore = vent__bore(at->pipe->pipe), seen = copysign(at->reynolds, at->flow), opening = 0;
    vent__loss along, against;
    vent__slope extra;
    if (fitting) {
        vent__fitting_loss(fitting, bore, &along, &against);
        extra = vent__fitting_extra(fitting, bore, seen);
        double area = vent_pipe_area(at->pipe->pipe);
        double velocity = at->flow / (a->ws->density[at->k] * area);
        opening = vent__fitting_opening_pressure(fitting) * vent__opening_share(velocity).value;
    } else {
        vent__termination_loss(termination, bore, &along, &against);
        extra = vent__termination_extra(termination, bore, seen);
    }
    const vent__loss *way = at->flow < 0 ? &against : &along;
    double k = way->k0 + way->k1 / at->reynolds + way->kf * at->f + extra.value;
    return segment->inertia * at->flow * fabs(at->flow) * k + opening;
}

/* Derivative of one part's loss by a number of it. */
static double part_slope(const adjoint *a, const spot *at, vent_fitting *fitting,
                         vent_termination *termination, double *number, double low, double high)
{
    double before = *number, slope = 0, here = part_loss(a, at, fitting, termination);
    stencil s = stencil_at(before, low, high);
    for (int i = 0; i < POINTS; ++i) {
        *number = s.at[i];
        slope += s.weight[i] * (part_loss(a, at, fitting, termination) - here);
    }
    *number = before;
    return slope;
}

/* The factor multiplies, so one difference is exact. */
static double factor_slope(const adjoint *a, const spot *at, vent_fitting *fitting,
                           vent_termination *termination, double *factor)
{
    *factor = 1;
    double with = part_loss(a, at, fitting, termination);
    *factor = 0;
    return with - part_loss(a, at, fitting, termination);
}

/* Colebrook and White's law tells the slope by the roughness from that by the Reynolds number; between
 * the regimes the law is differenced. */
static double roughness_slope(const adjoint *a, const spot *at)
{
    double roughness = a->ws->roughness[at->segment];
    if (at->reynolds <= 2000)
        return 0;
    if (at->reynolds >= 4000)
        return -at->e * at->reynolds * at->f * sqrt(at->f) / (3.7 * 2.51);
    stencil s = stencil_at(roughness, 0, 0.1);
    double slope = 0;
    for (int i = 0; i < POINTS; ++i) {
        double f, e;
        vent__friction(at->reynolds, s.at[i], &f, &e);
        slope += s.weight[i] * (f - at->f);
    }
    return slope;
}

static double pipe_slope(const adjoint *a, const spot *at, int kind)
{
    const vent__segment *segment = &a->ws->segment[at->segment];
    double squared = at->flow * fabs(at->flow);
    if (kind == VENT_PARAMETER_LENGTH)
        return squared * segment->inertia * at->f / vent_pipe_hydraulic_diameter(at->pipe->pipe);
    double kf = at->flow < 0 ? segment->against.kf : segment->along.kf;
    return squared * kf * roughness_slope(a, at) / vent_pipe_effective_diameter(at->pipe->pipe);
}

/* A fan's pressure is s^2 F(q / s) of its speed s. */
static double fan_slope(const adjoint *a, const spot *at, int kind)
{
    const vent__fan *fan = &a->solution->model->fan[at->item->fan];
    double density = a->ws->density[at->k], speed = at->item->amount, flow = at->flow / density;
    vent__slope law = vent__fan_law(fan->fan, flow, density, speed);
    double share = vent__fan_share(a->solution->model, at->item->fan);
    if (kind == VENT_PARAMETER_PRESSURE_FACTOR)
        return -at->item->running * law.value;
    if (kind == VENT_PARAMETER_RUNNING)
        return -fan->pressure_factor * law.value - part_loss(a, at, &at->item->fitting, NULL);
    return -share * (2 * law.value - flow * law.slope) / speed;
}

static double item_slope(const adjoint *a, const spot *at, const vent_parameter *p)
{
    vent__item item = *at->item;
    vent_parameter_range range;
    switch (p->kind) {
    case VENT_PARAMETER_COUNT:
        return part_loss(a, at, &item.fitting, NULL);
    case VENT_PARAMETER_FACTOR:
        return vent__fitting_count(&item) *
               factor_slope(a, at, &item.fitting, NULL, &item.fitting.factor);
    case VENT_PARAMETER_FITTING:
        vent_fitting_parameter(item.fitting.family, p->slot, &range);
        return vent__fitting_count(&item) * part_slope(a, at, &item.fitting, NULL,
                                                       &item.fitting.geometry[p->slot], range.low,
                                                       range.high);
    default:
        break;
    }
    /* the change into this pipe costs on the pipe before it */
    spot upstream = spot_of(a, p->place, p->item - 1);
    vent_fitting cone = vent__transition(at->item);
    if (cone.family != VENT_FITTING_GRADUAL)
        return 0; /* a step stays one until its angle is another */
    return item.transition_count *
           part_slope(a, &upstream, &cone, NULL, &cone.geometry[1], 1e-3, VENT_PI);
}

static double termination_slope(const adjoint *a, const vent_parameter *p)
{
    const vent__program *program = a->solution->program;
    const vent__model *model = a->solution->model;
    int run = program->run[vent__root_of(a->solution, p->place)];
    spot at = spot_of(a, run, model->run[run].count - 1);
    vent_termination termination = model->node[p->place].termination;
    if (p->kind == VENT_PARAMETER_TERMINATION_FACTOR)
        return factor_slope(a, &at, NULL, &termination, &termination.factor);
    vent_parameter_range range;
    vent_termination_parameter(termination.family, p->slot, &range);
    return part_slope(a, &at, NULL, &termination, &termination.geometry[p->slot], range.low,
                      range.high);
}

/* ---- of the soil, of heights ---------------------------------------------------------------- */

static double soil_slope(const adjoint *a, const vent_parameter *p, int k)
{
    const vent__model *model = a->solution->model;
    double flow = a->solution->flow[k] / model->soil_gas.density;
    vent_soil soil = model->node[p->place].soil;
    double here = vent__soil_law(&soil, flow).value, slope = 0;
    vent_parameter_range range;
    vent__soil_parameter(&soil, p->slot, &range);
    double *number = p->slot ? &soil.b : &soil.a;
    stencil s = stencil_at(*number, range.low, range.high);
    for (int i = 0; i < POINTS; ++i) {
        *number = s.at[i];
        slope += s.weight[i] * (vent__soil_law(&soil, flow).value - here);
    }
    return slope;
}

/* The law knows the flow through a unit of area alone, and of the coefficient. */
static double opening_slope(const adjoint *a, const vent_parameter *p, int k)
{
    const vent_opening *opening = &a->solution->model->node[p->place].opening;
    double flow = a->solution->flow[k];
    double slope = vent__opening_law(opening, a->ws->density[k], flow).slope;
    return -flow * slope / vent__opening_number(opening, p->kind == VENT_PARAMETER_AREA);
}

/* The building's pressure drives what leaks in from its rooms. */
static void add_room(adjoint *a, size_t column)
{
    const vent__program *program = a->solution->program;
    for (int k = 0; k < program->runs; ++k)
        if (program->soil[k] >= 0 && vent__faces_room(a->solution->model, program->soil[k]))
            add_change(a, (change){.column = column, .run = k, .soil = -1});
}

/* More wind at a discharge, or at an opening outdoors: Pa a unit. */
static void add_wind(adjoint *a, size_t column, int node, double wind)
{
    const vent__program *program = a->solution->program;
    const vent__model *model = a->solution->model;
    if (model->node[node].kind == VENT__DISCHARGE)
        add_change(
            a, (change){.column = column, .run = vent__root_of(a->solution, node), .loss = wind});
    else if (vent__feels_wind(model, node))
        add_change(a, (change){.column = column,
                               .run = program->position[model->node[node].leaving],
                               .soil = -wind});
}

/* Each of two suction points feels the flow at the other. */
static void add_coupling(adjoint *a, size_t column, const vent_parameter *p)
{
    const vent__model *model = a->solution->model;
    int run[2] = {a->solution->program->position[model->node[p->place].leaving],
                  a->solution->program->position[model->node[p->item].leaving]};
    for (int i = 0; i < 2; ++i)
        add_change(a, (change){.column = column,
                               .run = run[i],
                               .soil = a->solution->flow[run[1 - i]] / model->soil_gas.density});
}

/* The column of a run that begins or ends at a node: Pa of loss a metre. */
static void add_column(adjoint *a, size_t column, int run, double way)
{
    const vent__model *model = a->solution->model;
    double lift = (model->outdoors.density - model->run[run].density) * VENT_GRAVITY;
    add_change(a, (change){.column = column,
                           .run = a->solution->program->position[run],
                           .loss = -way * lift});
}

static void add_height(adjoint *a, size_t column, int node)
{
    const vent__model *model = a->solution->model;
    const vent__program *program = a->solution->program;
    int leaving = model->node[node].leaving;
    if (leaving < 0) { /* a discharge */
        add_column(a, column, program->run[vent__root_of(a->solution, node)], 1);
        return;
    }
    add_column(a, column, leaving, -1);
    int k = program->position[leaving];
    if (vent__is_leaf(program, k))
        return; /* no run ends at a suction point */
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j))
        add_column(a, column, program->run[j], program->link[j] < 0 ? -1 : 1);
}

/* ---- of everything a parameter touches ------------------------------------------------------ */

static int touch_legs(adjoint *a, int k, int count)
{
    const vent__program *program = a->solution->program;
    if (k >= 0 && !vent__is_leaf(program, k))
        for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j))
            a->touched[count++] = j;
    return count;
}

/* Positions of the runs whose loss or joint depends on a parameter. */
static int touched_by(adjoint *a, const vent_parameter *p)
{
    const vent__program *program = a->solution->program;
    int count = 0;
    if (p->kind < VENT_PARAMETER_HEIGHT) {
        for (; count < program->runs; ++count)
            a->touched[count] = count;
    } else if (p->kind < VENT_PARAMETER_TEMPERATURE) { /* of a junction */
        count = touch_legs(a, program->position[a->solution->model->node[p->place].leaving], 0);
    } else {
        int k = program->position[p->place];
        count = touch_legs(a, k, 0);
        int next = program->next[k];
        if (next < 0)
            a->touched[count++] = k;
        count = touch_legs(a, next, count);
        int link = program->link[k];
        if (link > 0 && program->next[program->outlet[link - 1]] != next)
            count = touch_legs(a, program->next[program->outlet[link - 1]], count);
    }
    return count;
}

/* Lays out what a parameter touches, and gathers the losses there at the solution's flows. */
static void lay_out_again(adjoint *a, const vent_parameter *p, int count)
{
    const vent__program *program = a->solution->program;
    const double *flow = a->solution->flow;
    bool one = p->kind >= VENT_PARAMETER_TEMPERATURE, all = p->kind < VENT_PARAMETER_HEIGHT;
    int own = one ? program->position[p->place] : -1;
    if (one)
        a->trial_loss[own] = vent__probe_run(a->ws, a->scratch, own, flow[own]);
    for (int i = 0; all && i < count; ++i)
        a->trial_loss[i] = vent__probe_run(a->ws, a->scratch, i, flow[i]);
    for (int i = 0; i < count; ++i) { /* each junction once: where its last leg stands */
        int k = a->touched[i], next = program->next[k];
        if (next >= 0 && k == vent__last_leg(program, next))
            vent__probe_junction(a->ws, a->scratch, next, flow);
    }
    for (int i = 0; i < count; ++i) {
        int k = a->touched[i];
        a->trial_joint[k] = vent__joint_at(a->ws, k).loss;
    }
}

static void probe(adjoint *a, const vent_parameter *p, int count, double value)
{
    vent__parameter_store(a->scratch, p, value, __func__, NULL);
    lay_out_again(a, p, count);
}

/* Vacuum a suction point needs at the solution's flows, with what it shares with others. */
static double soil_at(const adjoint *a, const vent__model *model, int k)
{
    const vent__program *program = a->solution->program;
    double volume = 1 / model->soil_gas.density, density = model->run[program->run[k]].density;
    double vacuum = vent__feed(model, program->soil[k], density, a->solution->flow[k]).value;
    for (int i = 0; i < program->couplings; ++i)
        for (int e = 0; e < 2; ++e)
            if (program->couple[program->pair[e][i]] == k)
                vacuum += model->coupling[i].resistance * volume *
                          a->solution->flow[program->couple[program->pair[1 - e][i]]];
    return vacuum;
}

static void add_probed(adjoint *a, size_t column, const vent_parameter *p)
{
    const vent__model *model = a->solution->model;
    const vent__program *program = a->solution->program;
    if (!a->scratch)
        a->scratch = vent__model_copy(model);
    a->short_of_memory |= !a->scratch;
    if (a->short_of_memory)
        return;
    a->probed = true;
    int count = touched_by(a, p), first = a->changes;
    vent_parameter_range range = {0};
    vent__parameter_range(model, p, &range);
    double value = vent__parameter_value(model, p);
    stencil s = stencil_at(value, range.low, range.high);
    for (int i = 0; i < count; ++i) {
        a->trial_loss[a->touched[i]] = a->loss[a->touched[i]];
        add_change(a, (change){.column = column, .run = a->touched[i], .loss = INFINITY});
    }
    if (a->short_of_memory)
        return;
    for (int i = 0; i < count; ++i)
        a->change[first + i].loss = 0;
    for (int point = 0; point < POINTS; ++point) {
        probe(a, p, count, s.at[point]);
        for (int i = 0; i < count; ++i) {
            change *c = &a->change[first + i];
            double joint = a->trial_joint[c->run] - a->joint[c->run];
            c->joint += s.weight[point] * joint;
            c->loss += s.weight[point] * (joint + a->trial_loss[c->run] - a->loss[c->run]);
            if (program->soil[c->run] >= 0)
                c->soil +=
                    s.weight[point] * (soil_at(a, a->scratch, c->run) - soil_at(a, model, c->run));
        }
    }
    vent__parameter_restore(a->scratch, model, p);
    lay_out_again(a, p, count);
}

/* ---- all of them ---------------------------------------------------------------------------- */

/* Parameters whose change is that of one law; false where more is touched. */
static bool add_local(adjoint *a, size_t column, const vent_parameter *p)
{
    const vent__program *program = a->solution->program;
    change c = {.column = column};
    switch (p->kind) {
    case VENT_PARAMETER_BUILDING_PRESSURE:
        add_room(a, column);
        return true;
    case VENT_PARAMETER_WIND_PRESSURE:
        for (int k = 0; k < program->runs; ++k)
            if (program->next[k] < 0)
                add_change(a, (change){.column = column, .run = k, .loss = 1});
        return true;
    case VENT_PARAMETER_WIND_DYNAMIC_PRESSURE:
        for (int i = 0; i < a->solution->model->nodes; ++i)
            add_wind(a, column, i, a->solution->model->node[i].pressure_coefficient);
        return true;
    case VENT_PARAMETER_PRESSURE_COEFFICIENT:
        add_wind(a, column, p->place, a->solution->model->wind_dynamic_pressure);
        return true;
    case VENT_PARAMETER_COUPLING:
        add_coupling(a, column, p);
        return true;
    case VENT_PARAMETER_HEIGHT:
        add_height(a, column, p->place);
        return true;
    case VENT_PARAMETER_SOIL:
        c.run = program->position[a->solution->model->node[p->place].leaving];
        c.soil = soil_slope(a, p, c.run);
        break;
    case VENT_PARAMETER_AREA:
    case VENT_PARAMETER_DISCHARGE_COEFFICIENT:
        c.run = program->position[a->solution->model->node[p->place].leaving];
        c.soil = opening_slope(a, p, c.run);
        break;
    case VENT_PARAMETER_TERMINATION:
    case VENT_PARAMETER_TERMINATION_FACTOR:
        c.run = vent__root_of(a->solution, p->place);
        c.loss = termination_slope(a, p);
        break;
    case VENT_PARAMETER_LENGTH:
    case VENT_PARAMETER_ROUGHNESS:
    case VENT_PARAMETER_SPEED:
    case VENT_PARAMETER_PRESSURE_FACTOR:
    case VENT_PARAMETER_RUNNING:
    case VENT_PARAMETER_COUNT:
    case VENT_PARAMETER_FACTOR:
    case VENT_PARAMETER_FITTING:
    case VENT_PARAMETER_TRANSITION_ANGLE: {
        spot at = spot_of(a, p->place, p->item);
        c.run = at.k;
        bool of_pipe = p->kind == VENT_PARAMETER_LENGTH || p->kind == VENT_PARAMETER_ROUGHNESS;
        bool of_fan = p->kind == VENT_PARAMETER_SPEED ||
                      p->kind == VENT_PARAMETER_PRESSURE_FACTOR ||
                      p->kind == VENT_PARAMETER_RUNNING;
        c.loss = of_pipe  ? pipe_slope(a, &at, p->kind)
                 : of_fan ? fan_slope(a, &at, p->kind)
                          : item_slope(a, &at, p);
        break;
    }
    default:
        return false;
    }
    add_change(a, c);
    return true;
}

/* Those that need the laws as they are come first: probing lays others out. */
static void add_all(adjoint *a, size_t columns, const vent_parameter *parameters)
{
    for (int probing = 0; probing < 2; ++probing)
        for (size_t i = 0; i < columns; ++i) {
            bool local = parameters[i].kind != VENT_PARAMETER_BORE &&
                         parameters[i].kind != VENT_PARAMETER_TEMPERATURE &&
                         parameters[i].kind != VENT_PARAMETER_JUNCTION_ANGLE &&
                         parameters[i].kind != VENT_PARAMETER_JUNCTION_FACTOR &&
                         parameters[i].kind != VENT_PARAMETER_OUTDOOR_TEMPERATURE &&
                         parameters[i].kind != VENT_PARAMETER_SOIL_GAS_TEMPERATURE &&
                         parameters[i].kind != VENT_PARAMETER_BAROMETRIC_PRESSURE;
            if (local && !probing)
                add_local(a, i, &parameters[i]);
            if (!local && probing)
                add_probed(a, i, &parameters[i]);
        }
}

/* ---- the observable's own derivatives ------------------------------------------------------- */

/* A solution that differs from the one given in what is put into it here. */
static double observe_with(const adjoint *a, const vent_observable *o, vent__model *model,
                           double *flow)
{
    vent_solution other = *a->solution;
    other.model = model;
    other.flow = flow;
    return vent__observe(&other, o);
}

static double slope_by_flow(adjoint *a, const vent_observable *o, int k)
{
    double *flow = a->solution->flow, before = flow[k], slope = 0;
    double here = vent__observe(a->solution, o);
    double *trial = a->trial_loss; /* free by now */
    memcpy(trial, flow, (size_t)a->solution->program->runs * sizeof *flow);
    stencil s = stencil_at(before, -INFINITY, INFINITY);
    if (before == 0)
        s = stencil_at(1e-3, -INFINITY, INFINITY);
    for (int i = 0; i < POINTS; ++i) {
        trial[k] = s.at[i] - (before == 0 ? 1e-3 : 0);
        slope += s.weight[i] * (observe_with(a, o, a->solution->model, trial) - here);
    }
    return slope;
}

static void seed_joint(adjoint *a, int k)
{
    const vent__program *program = a->solution->program;
    int next = program->next[k];
    const vent__knot *knot = vent__knot_at(a->ws, next);
    if (!knot)
        return; /* nothing is lost there, whatever flows */
    const vent__leg_loss *joint = &vent__tie_at(a->ws, k)->joint;
    a->seed_flow[k] += joint->d_leg;
    a->seed_flow[next] += joint->d_combined + vent__dot(joint->d_sum, knot->adds);
    for (int j = vent__last_leg(program, next); j >= 0; j = vent__leg_before(program, next, j))
        a->seed_flow[j] += vent__dot(joint->d_sum, vent__tie_at(a->ws, j)->adds);
}

/* Observables of what leaves: they read every run that ends at a discharge. */
static bool of_discharges(int kind)
{
    return kind == VENT_OBSERVABLE_DISCHARGE_FLOW || kind == VENT_OBSERVABLE_EXIT_VELOCITY ||
           kind == VENT_OBSERVABLE_TERMINATION_LOSS;
}

static void seed(adjoint *a, const vent_observable *o)
{
    const vent_solution *s = a->solution;
    const vent__program *program = s->program;
    size_t bytes = (size_t)program->runs * sizeof(double);
    memset(a->seed_flow, 0, bytes);
    memset(a->seed_pressure, 0, bytes);
    switch (o->kind) {
    case VENT_OBSERVABLE_PRESSURE:
    case VENT_OBSERVABLE_ABSOLUTE_PRESSURE:
        if (s->model->node[o->place].leaving >= 0)
            a->seed_pressure[program->position[s->model->node[o->place].leaving]] = 1;
        return;
    case VENT_OBSERVABLE_JUNCTION_LOSS:
        seed_joint(a, program->position[o->place]);
        return;
    case VENT_OBSERVABLE_STATIC_PRESSURE:
    case VENT_OBSERVABLE_INLET_STATIC_PRESSURE:
        a->seed_pressure[program->position[o->place]] = 1;
        break;
    default:
        break;
    }
    if (!of_discharges(o->kind)) {
        int k = program->position[o->place];
        a->seed_flow[k] = slope_by_flow(a, o, k);
        return;
    }
    for (int k = 0; k < program->runs; ++k)
        if (program->next[k] < 0)
            a->seed_flow[k] = slope_by_flow(a, o, k);
}

/* Whether the observable reads a parameter itself, beside the flows and pressures. */
static bool reads(const adjoint *a, const vent_observable *o, const vent_parameter *p)
{
    if (o->kind == VENT_OBSERVABLE_MASS_FLOW || o->kind == VENT_OBSERVABLE_STANDARD_FLOW ||
        o->kind == VENT_OBSERVABLE_JUNCTION_LOSS)
        return false;
    if (p->kind < VENT_PARAMETER_HEIGHT)
        return true;
    bool of_node =
        o->kind >= VENT_OBSERVABLE_PRESSURE && o->kind <= VENT_OBSERVABLE_ABSOLUTE_PRESSURE;
    if (p->kind < VENT_PARAMETER_TEMPERATURE)
        return of_node ? p->place == o->place
                       : p->kind != VENT_PARAMETER_SOIL && p->kind != VENT_PARAMETER_COUPLING &&
                             p->kind != VENT_PARAMETER_AREA &&
                             p->kind != VENT_PARAMETER_DISCHARGE_COEFFICIENT;
    if (of_node)
        return false;
    const vent__program *program = a->solution->program;
    return of_discharges(o->kind) ? program->next[program->position[p->place]] < 0
                                  : p->place == o->place;
}

/* Derivative of the observable by a parameter at the flows and pressures there are. */
static double own_slope(adjoint *a, const vent_observable *o, const vent_parameter *p)
{
    const vent__model *model = a->solution->model;
    if (!a->scratch)
        a->scratch = vent__model_copy(model);
    a->short_of_memory |= !a->scratch;
    if (a->short_of_memory)
        return NAN;
    vent_parameter_range range = {0};
    vent__parameter_range(model, p, &range);
    double value = vent__parameter_value(model, p), slope = 0;
    double here = vent__observe(a->solution, o);
    stencil s = stencil_at(value, range.low, range.high);
    for (int i = 0; i < POINTS; ++i) {
        vent__parameter_store(a->scratch, p, s.at[i], __func__, NULL);
        slope += s.weight[i] * (observe_with(a, o, a->scratch, a->solution->flow) - here);
    }
    vent__parameter_restore(a->scratch, model, p);
    return slope;
}

/* ---- together ------------------------------------------------------------------------------- */

static void derive(adjoint *a, const vent_observable *o, size_t columns,
                   const vent_parameter *parameters, double *gradient)
{
    seed(a, o);
    vent__transpose(a->ws, a->seed_flow, a->seed_pressure, a->mu, a->e);
    bool of_joint = o->kind == VENT_OBSERVABLE_JUNCTION_LOSS;
    int joint_of = of_joint ? a->solution->program->position[o->place] : -1;
    for (size_t i = 0; i < columns; ++i)
        gradient[i] = reads(a, o, &parameters[i]) ? own_slope(a, o, &parameters[i]) : 0;
    for (int i = 0; i < a->changes; ++i) {
        const change *c = &a->change[i];
        double of_soil = c->soil == 0 ? 0 : c->soil * (a->mu[c->run] - a->seed_pressure[c->run]);
        gradient[c->column] +=
            a->mu[c->run] * c->loss + of_soil + (c->run == joint_of ? c->joint : 0);
    }
}

static bool begin(adjoint *a, const vent_solution *solution, vent_workspace *ws)
{
    enum { ROWS = 8 };
    size_t runs = (size_t)solution->program->runs;
    *a = (adjoint){.solution = solution, .ws = ws};
    if (!vent__resize(&a->block, ROWS * runs, sizeof *a->block) ||
        !vent__resize(&a->touched, 2 * runs, sizeof *a->touched) ||
        !vent__linearise(ws, solution->model, solution->flow))
        return false;
    double **row[ROWS] = {&a->loss,      &a->joint,         &a->trial_loss, &a->trial_joint,
                          &a->seed_flow, &a->seed_pressure, &a->mu,         &a->e};
    for (size_t i = 0; i < ROWS; ++i)
        *row[i] = a->block + i * runs;
    for (size_t k = 0; k < runs; ++k) {
        a->loss[k] = ws->loss[k] - ws->lift[k];
        a->joint[k] = vent__joint_at(ws, (int)k).loss;
    }
    return true;
}

static void end(adjoint *a)
{
    if (a->scratch)
        vent__model_release(a->scratch);
    free(a->change);
    free(a->block);
    free(a->touched);
}

static bool jacobian_at(adjoint *a, size_t rows, const vent_observable *observables, size_t columns,
                        const vent_parameter *parameters, double *jacobian)
{
    add_all(a, columns, parameters);
    if (a->probed)
        vent__forget(a->ws);
    if (a->probed && !vent__linearise(a->ws, a->solution->model, a->solution->flow))
        return false;
    for (size_t i = 0; i < rows && !a->short_of_memory; ++i)
        derive(a, &observables[i], columns, parameters, jacobian + i * columns);
    return !a->short_of_memory;
}

static bool addresses_hold(const vent__model *model, size_t rows,
                           const vent_observable *observables, size_t columns,
                           const vent_parameter *parameters, const char *function, vent_error *err)
{
    for (size_t i = 0; i < rows; ++i)
        if (!vent__observable_check(model, &observables[i], function, err))
            return false;
    for (size_t i = 0; i < columns; ++i)
        if (!vent__parameter_check(model, &parameters[i], function, err))
            return false;
    return true;
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
    vent_network network = {solution->model};
    vent_workspace *own = workspace ? NULL : vent_workspace_new(&network, err);
    vent_workspace *ws = workspace ? workspace : own;
    if (!ws)
        return false;
    adjoint a;
    bool done = begin(&a, solution, ws) &&
                jacobian_at(&a, rows, observables, columns, parameters, jacobian);
    end(&a);
    vent_workspace_free(own);
    return done || vent__fail(err, VENT_E_MEMORY, function, "", -1, NAN, NAN, NAN, "%s: no memory",
                              function);
}

bool vent_solution_jacobian(const vent_solution *solution, vent_workspace *workspace, size_t rows,
                            const vent_observable *observables, size_t columns,
                            const vent_parameter *parameters, double *jacobian, vent_error *err)
{
    for (size_t i = 0; jacobian && i < rows * columns; ++i)
        jacobian[i] = NAN;
    return jacobian_of(solution, workspace, rows, observables, columns, parameters, jacobian,
                       __func__, err);
}

bool vent_solution_gradient(const vent_solution *solution, vent_workspace *workspace,
                            vent_observable observable, size_t n, const vent_parameter *parameters,
                            double *gradient, vent_error *err)
{
    for (size_t i = 0; gradient && i < n; ++i)
        gradient[i] = NAN;
    return jacobian_of(solution, workspace, 1, &observable, n, parameters, gradient, __func__, err);
}
