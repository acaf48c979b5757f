/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Airs: the loss of a run whose air is denser or stickier, its column, and how densities and viscosities follow
 * temperatures and the barometer.
 *
 * At a mass flow m what a coefficient K(Re) costs goes as 1/rho and by Re ~ 1/mu, so with its loss L and slope
 * dL/dm the logarithms of density and viscosity change it by -L and 2 L - m dL/dm. A fan's pressure p and a
 * flap's O feel the volume flow m/rho: p - m dp/dm and -m dO/dm. */
#include <ventstack/units.h>

#include "base/memory.h"
#include "network/equations.h"
#include "network/slopes.h"
#include "network/state.h"

/* ---- runs ------------------------------------------------------------------------------------ */

/* Takes fans and flaps, which have their own ways, out of what was laid into loss and slope. */
static void set_apart(vent__slopes *s, double *loss, double *turn)
{
    const vent_workspace *ws = s->ws;
    const double *flow = s->solution->flow;
    for (int i = 0; i < s->program->fans; ++i) {
        int number = s->program->fan[i], k = s->program->position[s->model->fan[number].run];
        vent__slope fan = vent__fan_of(ws, number, k, flow[k]);
        loss[k] += fan.value;
        turn[k] += fan.slope * flow[k];
        s->by_density[k] += flow[k] * fan.slope - fan.value;
    }
    for (int i = 0; i < ws->extras; ++i) {
        const vent__extra *extra = &ws->extra[i];
        double opening =
            extra->fitting ? extra->count * vent__fitting_opening_pressure(extra->fitting) : 0;
        if (!(opening > 0))
            continue;
        int k = extra->run;
        double velocity = flow[k] * extra->velocity;
        vent__slope share = vent__opening_share(velocity);
        loss[k] -= opening * share.value;
        turn[k] -= opening * share.slope * velocity;
        s->by_density[k] -= opening * share.slope * velocity;
    }
}

static double rise_of(const vent__slopes *s, int k)
{
    const vent__run *run = &s->model->run[s->program->run[k]];
    return s->program->link[k] < 0
               ? 0
               : s->model->node[run->to].height - s->model->node[run->from].height;
}

void vent__slopes_of_columns(vent__slopes *s)
{
    const vent_workspace *ws = s->ws;
    double *loss = s->scratch, *turn = s->by_viscosity;
    for (int k = 0; k < s->runs; ++k) {
        s->column[k] = VENT_GRAVITY * rise_of(s, k);
        s->by_density[k] = ws->density[k] * s->column[k];
        loss[k] = ws->loss[k];
        turn[k] = ws->slope[k] * s->solution->flow[k];
    }
    set_apart(s, loss, turn);
    for (int k = 0; k < s->runs; ++k) {
        s->by_density[k] -= loss[k];
        s->by_viscosity[k] = 2 * loss[k] - turn[k];
    }
}

/* The column of a run that begins or ends at a node: Pa of loss a metre. */
static void change_column(vent__slopes *s, int column, int k, double way)
{
    double lift = (s->model->outdoors.density - s->ws->density[k]) * VENT_GRAVITY;
    vent__change_run(s, column, VENT__LOSS, k, -way * lift);
}

/* A junction's height ends the runs that arrive and begins those that leave: the first, and links, whose flow
 * leaves by an outlet. */
void vent__slope_of_height(vent__slopes *s, int column, const vent_parameter *p)
{
    const vent__program *program = s->program;
    if (s->model->node[p->place].leaving < 0) { /* a discharge */
        change_column(s, column, s->root[p->place], 1);
        return;
    }
    int k = vent__leaving(s, p->place);
    change_column(s, column, k, -1);
    if (vent__is_leaf(program, k))
        return; /* no run ends at a suction point */
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j))
        if (program->link[j] < 0)
            change_column(s, column, program->start[-program->link[j] - 1], -1);
        else
            change_column(s, column, j, 1);
}

/* ---- airs ------------------------------------------------------------------------------------ */

/* a + share b */
static vent__air_slope sum(vent__air_slope a, double share, vent__air_slope b)
{
    return (vent__air_slope){a.density + share * b.density, a.viscosity + share * b.viscosity};
}

/* A moist air by its temperature and pressure, its relative humidity kept. */
static vent__air_slope moist_by(const vent__air_slopes *by, const vent__saturation *saturation,
                                double humidity, bool of_pressure)
{
    return of_pressure ? sum(by->pressure, humidity * saturation->by_pressure, by->vapour)
                       : sum(by->temperature, humidity * saturation->by_temperature, by->vapour);
}

/* The air of a run with a temperature of its own. Cooled below its dew point it is saturated, else its vapour is
 * that of the soil gas. */
static vent__own_air evaluate_air(const vent_air *gas, double temperature)
{
    vent__saturation saturation = vent__saturation_at(temperature, gas->pressure);
    bool wet = gas->vapour_fraction >= saturation.fraction;
    vent__air_slopes by = vent__air_slopes_at(temperature, gas->pressure,
                                              wet ? saturation.fraction : gas->vapour_fraction);
    return wet ? (vent__own_air){sum(by.temperature, saturation.by_temperature, by.vapour),
                                 sum(by.pressure, saturation.by_pressure, by.vapour),
                                 {0, 0}}
               : (vent__own_air){by.temperature, by.pressure, by.vapour};
}

/* Room for the airs of all runs, none of which is known; false without memory. */
static bool forget_airs(vent__slopes *s)
{
    int runs = s->model->runs;
    if (s->own_room < runs && !vent__resize(&s->own, (size_t)runs, sizeof *s->own))
        return false;
    s->own_room = runs;
    s->own_last = -1;
    for (int run = 0; run < runs; ++run)
        s->own[run].temperature.density = NAN;
    return true;
}

/* That of one run, evaluated once, and not where the one before was as warm. */
static const vent__own_air *air_of(vent__slopes *s, int run)
{
    const vent__run *runs = s->model->run;
    if (!s->own_known)
        s->own_known = forget_airs(s);
    s->short_of_memory |= !s->own_known;
    if (!s->own_known)
        return NULL;
    if (isnan(s->own[run].temperature.density)) {
        bool alike = s->own_last >= 0 && runs[s->own_last].temperature == runs[run].temperature;
        s->own[run] =
            alike ? s->own[s->own_last] : evaluate_air(&s->model->soil_gas, runs[run].temperature);
        s->own_last = run;
    }
    return &s->own[run];
}

static void change_air(vent__slopes *s, int column, int k, vent__air_slope by)
{
    int link = s->program->link[k];
    vent__change_run(s, column, VENT__DENSITY, k, by.density);
    vent__change_run(s, column, VENT__VISCOSITY, k, by.viscosity);
    if (link > 0)
        vent__change_run(s, column, VENT__DENSITY, s->program->outlet[link - 1], by.density);
}

static void change_own_air(vent__slopes *s, int column, int run)
{
    const vent__own_air *air = air_of(s, run);
    if (air)
        change_air(s, column, s->program->position[run], air->temperature);
}

/* Runs with temperatures of their own have the soil gas's pressure, and its vapour. */
static void change_other_airs(vent__slopes *s, int column, double pressure, double vapour)
{
    for (int run = 0; run < s->model->runs; ++run) {
        const vent__own_air *air = s->model->run[run].own_temperature ? air_of(s, run) : NULL;
        if (air)
            change_air(
                s, column, s->program->position[run],
                sum(sum((vent__air_slope){0, 0}, pressure, air->pressure), vapour, air->vapour));
    }
}

static void change_soil_gas(vent__slopes *s, int column, vent__air_slope by, double share)
{
    vent__change_number(s, column, vent__number_of_network(s, VENT__SOIL_DENSITY),
                        share * by.density);
    vent__change_number(s, column, vent__number_of_network(s, VENT__SOIL_VISCOSITY),
                        share * by.viscosity);
}

static void change_outdoors(vent__slopes *s, int column, bool of_pressure)
{
    const vent_air *air = &s->model->outdoors;
    vent__air_slopes by =
        vent__air_slopes_at(air->temperature, air->pressure, air->vapour_fraction);
    vent__saturation saturation = vent__saturation_at(air->temperature, air->pressure);
    vent__change_number(s, column, vent__number_of_network(s, VENT__OUTDOOR_DENSITY),
                        moist_by(&by, &saturation, air->relative_humidity, of_pressure).density);
}

/* The soil gas's pressure keeps its ratio to that outdoors. */
void vent__slope_of_air(vent__slopes *s, int column, const vent_parameter *p)
{
    const vent_air *gas = &s->model->soil_gas;
    bool of_pressure = p->kind == VENT_PARAMETER_BAROMETRIC_PRESSURE;
    s->junctions = true;
    if (p->kind == VENT_PARAMETER_TEMPERATURE) {
        change_own_air(s, column, p->place);
        return;
    }
    s->airs = true;
    if (p->kind != VENT_PARAMETER_SOIL_GAS_TEMPERATURE)
        change_outdoors(s, column, of_pressure);
    if (p->kind == VENT_PARAMETER_OUTDOOR_TEMPERATURE)
        return;
    double share = of_pressure ? gas->pressure / s->model->outdoors.pressure : 1;
    vent__air_slopes by =
        vent__air_slopes_at(gas->temperature, gas->pressure, gas->vapour_fraction);
    vent__saturation saturation = vent__saturation_at(gas->temperature, gas->pressure);
    double vapour = share * gas->relative_humidity *
                    (of_pressure ? saturation.by_pressure : saturation.by_temperature);
    change_soil_gas(s, column, moist_by(&by, &saturation, gas->relative_humidity, of_pressure),
                    share);
    change_other_airs(s, column, of_pressure ? share : 0, vapour);
}

/* ---- answers --------------------------------------------------------------------------------- */

/* Suction points feel the volume flow of soil gas, their own and that of others; openings that of the run. */
static double feed_by_density(const vent__slopes *s, int k, double *of_run)
{
    const vent__node *node = &s->model->node[s->program->soil[k]];
    double flow = s->solution->flow[k], turn = flow * s->ws->source_slope[k];
    if (node->kind != VENT__OPENING)
        return -turn;
    *of_run = vent__opening_law(&node->opening, s->ws->density[k], flow).value - turn;
    return 0;
}

static double couplings_by_density(const vent__slopes *s)
{
    const vent__program *program = s->program;
    const double *vacuum = s->answer + vent__number_of(s, VENT__VACUUM, 0);
    double sum = 0;
    for (int i = 0; i < program->couplings; ++i) {
        int a = program->couple[program->pair[0][i]], b = program->couple[program->pair[1][i]];
        double crossed = vacuum[a] * s->solution->flow[b] + vacuum[b] * s->solution->flow[a];
        sum -= s->model->coupling[i].resistance * crossed / s->model->soil_gas.density;
    }
    return sum;
}

/* From what a pascal in each run and each soil does to what airs do. */
void vent__answer_air(vent__slopes *s)
{
    const double *loss = s->answer, *vacuum = s->answer + vent__number_of(s, VENT__VACUUM, 0);
    double *density = s->answer + vent__number_of(s, VENT__DENSITY, 0);
    double *viscosity = s->answer + vent__number_of(s, VENT__VISCOSITY, 0);
    double *network = s->answer + vent__number_of_network(s, 0);
    double columns = 0, soils = couplings_by_density(s);
    for (int k = 0; k < s->runs; ++k) {
        density[k] = loss[k] * s->by_density[k];
        viscosity[k] = loss[k] * s->by_viscosity[k];
        columns += loss[k] * s->column[k];
        if (s->program->soil[k] >= 0) {
            double of_run = 0;
            soils += vacuum[k] * feed_by_density(s, k, &of_run);
            density[k] += vacuum[k] * of_run;
        }
    }
    network[VENT__OUTDOOR_DENSITY] = -columns * s->model->outdoors.density;
    network[VENT__SOIL_DENSITY] = soils;
    network[VENT__SOIL_VISCOSITY] = 0;
}

/* Last, from all that the runs answer: those without a temperature of their own have the soil gas's air. */
void vent__answer_soil_gas(vent__slopes *s)
{
    const double *density = s->answer + vent__number_of(s, VENT__DENSITY, 0);
    const double *viscosity = s->answer + vent__number_of(s, VENT__VISCOSITY, 0);
    double *network = s->answer + vent__number_of_network(s, 0);
    for (int k = 0; s->airs && k < s->runs; ++k)
        if (!s->model->run[s->program->run[k]].own_temperature) {
            network[VENT__SOIL_DENSITY] += density[k];
            network[VENT__SOIL_VISCOSITY] += viscosity[k];
        }
}
