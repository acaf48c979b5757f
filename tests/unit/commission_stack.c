/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "commission_stack.h"

#include <math.h>

void near(const char *what, double got, double want, double relative, double absolute)
{
    ck_assert_msg(fabs(got - want) <= relative * fabs(want) + absolute, "%s is %.15g, not %.15g",
                  what, got, want);
}

void well(const vent_error *err)
{
    ck_assert_msg(err->status == VENT_OK, "%s", err->message);
}

stack stack_of(vent_soil soil, double scale)
{
    vent_error err = VENT_NO_ERROR;
    const double flow[] = {0, .014, .028, .042, .056, .07};
    const double pressure[] = {470, 430, 360, 260, 130, 0};
    vent_air gas = vent_air_moist(285.15, 98300, 1, &err);
    vent_air outdoors = vent_air_moist(281.15, 98300, 0.8, &err);
    vent_fan *fan = vent_fan_new("invented", 6, flow, pressure, &err);
    vent_pipe pipe = vent_pipe_find("PVC 40", 3 * VENT_INCH, &err);
    stack s = {.net = vent_network_new(gas, outdoors, &err)};
    int pit = vent_network_suction_point(s.net, "pit", soil, &err);
    int roof = vent_network_discharge(s.net, "roof", vent_open_end(), 7.5, &err);
    int riser = vent_network_run(s.net, "riser", pit, roof, pipe, 9, &err);
    vent_network_fitting(s.net, riser, vent_elbow(VENT_RADIANS(90), 1.5, &err), 2, &err);
    vent_network_fan(s.net, riser, fan, &err);
    vent_fan_free(fan);
    s.gauge = vent_network_find_observable(s.net, "riser[0].static_pressure", &err);
    s.flow = vent_network_find_observable(s.net, "riser.flow", &err);
    s.pit = vent_network_find_observable(s.net, "pit.pressure", &err);
    vent_parameter soil_a = vent_network_parameter(s.net, VENT_PARAMETER_SOIL, pit, 0, 0, &err);
    vent_parameter soil_b = vent_network_parameter(s.net, VENT_PARAMETER_SOIL, pit, 0, 1, &err);
    vent_input inputs[INPUTS] = {
        {soil_a, 0.15 * soil.a * scale, VENT_SHAPE_NORMAL, 0},
        {soil_b, 0.04 * soil.b * scale, VENT_SHAPE_NORMAL, 0},
        {vent_network_find_parameter(s.net, "riser.pressure_factor", &err), 0.03 * scale, 0, 0},
        {vent_network_find_parameter(s.net, "riser[1].factor", &err), 0.2 * scale, 0, 0},
        {vent_network_find_parameter(s.net, "wind_pressure", &err), 3 * scale, 0, 0}};
    memcpy(s.inputs, inputs, sizeof inputs);
    for (int i = 0; i < INPUTS; ++i)
        s.correlation[i * INPUTS + i] = 1;
    s.correlation[1] = s.correlation[INPUTS] = -0.9; /* C and n of one test */
    well(&err);
    return s;
}

stack stack_new(double scale)
{
    return stack_of(vent_soil_power(6e-4, 0.65, NULL), scale);
}

vent_uncertainty *design_of(const stack *s)
{
    vent_error err = VENT_NO_ERROR;
    vent_uncertainty *u = vent_uncertainty_new(s->net, INPUTS, s->inputs, s->correlation, &err);
    well(&err);
    return u;
}

double observed(const vent_network *net, vent_observable o)
{
    vent_error err = VENT_NO_ERROR;
    vent_solution *solution = vent_network_solve(net, NULL, &err);
    double value = vent_solution_observe(solution, o, &err);
    well(&err);
    vent_solution_free(solution);
    return value;
}

vent_weather month_of(const stack *s, const char *name, const double (*range)[3])
{
    vent_error err = VENT_NO_ERROR;
    vent_weather w = vent_weather_of(s->net, name, &err);
    for (int q = 0; range && q < VENT_WEATHER_END; ++q)
        w.span[q] = vent_span_of(range[q][0], range[q][1], range[q][2], &err);
    well(&err);
    return w;
}
