/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What feeds a network and what stands around it: soils, openings, rooms, wind. */
#include "network/parameter.h"
#include "network/slopes.h"

void vent__slope_of_soil(vent__slopes *s, int column, const vent_parameter *p)
{
    int k = vent__leaving(s, p->place);
    double density = s->model->soil_gas.density; /* the slope is by kg/s */
    const vent_soil *soil = &s->model->node[p->place].soil;
    vent__change_run(s, column, VENT__VACUUM, k,
                     vent__soil_by_number(soil, p->slot, s->solution->flow[k] / density,
                                          s->ws->source_slope[k] * density));
}

/* The law knows the flow through a unit of area alone, and of the coefficient. */
void vent__slope_of_opening(vent__slopes *s, int column, const vent_parameter *p)
{
    int k = vent__leaving(s, p->place);
    const vent_opening *opening = &s->model->node[p->place].opening;
    double number = vent__opening_number(opening, p->kind == VENT_PARAMETER_AREA);
    vent__change_run(s, column, VENT__VACUUM, k,
                     -s->solution->flow[k] * s->ws->source_slope[k] / number);
}

/* Each of two suction points feels the flow at the other. */
void vent__slope_of_coupling(vent__slopes *s, int column, const vent_parameter *p)
{
    int a = vent__leaving(s, p->place), b = vent__leaving(s, p->item);
    double volume = 1 / s->model->soil_gas.density; /* m3/kg */
    vent__change_run(s, column, VENT__VACUUM, a, s->solution->flow[b] * volume);
    vent__change_run(s, column, VENT__VACUUM, b, s->solution->flow[a] * volume);
}

/* So much more pressure outside at a discharge, or at an opening outdoors: Pa a unit. */
static void change_wind(vent__slopes *s, int column, int node, double pressure)
{
    if (s->model->node[node].kind == VENT__DISCHARGE)
        vent__change_run(s, column, VENT__LOSS, s->root[node], pressure);
    else if (vent__feels_wind(s->model, node))
        vent__change_run(s, column, VENT__VACUUM, vent__leaving(s, node), -pressure);
}

/* The building's pressure drives what leaks in from its rooms. */
static void change_rooms(vent__slopes *s, int column)
{
    const vent__program *program = s->program;
    for (int k = 0; k < s->runs; ++k)
        if (program->soil[k] >= 0 && vent__faces_room(s->model, program->soil[k]))
            vent__change_run(s, column, VENT__VACUUM, k, -1);
}

void vent__slope_of_wind(vent__slopes *s, int column, const vent_parameter *p)
{
    const vent__program *program = s->program;
    const vent__model *model = s->model;
    switch (p->kind) {
    case VENT_PARAMETER_BUILDING_PRESSURE:
        change_rooms(s, column);
        break;
    case VENT_PARAMETER_PRESSURE_COEFFICIENT:
        change_wind(s, column, p->place, model->wind_dynamic_pressure);
        break;
    case VENT_PARAMETER_WIND_PRESSURE:
        for (int i = 0; i < program->roots; ++i)
            vent__change_run(s, column, VENT__LOSS, program->root[i], 1);
        break;
    default:
        for (int i = 0; i < model->nodes; ++i)
            change_wind(s, column, i, model->node[i].pressure_coefficient);
    }
}
