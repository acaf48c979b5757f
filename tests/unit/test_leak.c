/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Openings to the surroundings, and leaks at the nodes of a network. */
#include "suites.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <ventstack/ventstack.h>

#include "tree.h"

static vent_solution *solve(const vent_network *net)
{
    vent_error err = VENT_NO_ERROR;
    vent_solution *s = vent_network_solve(net, NULL, &err);
    ck_assert_msg(s && err.status == VENT_OK, "%s", err.message);
    return s;
}

/* ---- the law ----------------------------------------------------------------------------------- */

/* Bernoulli's equation by hand: 10 cm2, 50 Pa, 1.2 kg/m3 give 9.1287 m/s and, with C = 0.6, 5.4772 l/s. */
START_TEST(flow_of_an_opening)
{
    vent_error err = VENT_NO_ERROR;
    vent_opening opening = vent_opening_to(VENT_SURROUNDINGS_ROOM, 1e-3, 0.6, &err);
    ck_assert_int_eq(err.status, VENT_OK);
    double flow = 1e-3 * 0.6 * sqrt(2 * 50 / 1.2);
    ck_assert_double_eq_tol(vent_opening_flow(opening, 50, 1.2), flow, 1e-15);
    ck_assert_double_eq_tol(flow, 5.4772e-3, 5e-8);
    ck_assert(vent_opening_flow(opening, -50, 1.2) == -vent_opening_flow(opening, 50, 1.2));
    ck_assert(vent_opening_flow(opening, 0, 1.2) == 0);
    double there = 1.2 / 2 * 1e-6; /* Pa, where the straight line begins */
    double below = vent_opening_flow(opening, there * (1 - 1e-9), 1.2);
    double above = vent_opening_flow(opening, there * (1 + 1e-9), 1.2);
    ck_assert(above >= below && above - below < 1e-8 * above);
    ck_assert(isnan(vent_opening_flow(opening, NAN, 1.2)));
    ck_assert(isnan(vent_opening_flow(opening, 1, 0)));
    ck_assert(isnan(vent_opening_flow(opening, 1, NAN)));
    ck_assert(isnan(vent_opening_flow((vent_opening){0}, 1, 1.2)));
    ck_assert_double_eq_tol(VENT_SHARP_EDGED_DISCHARGE, 0.611, 0.0005); /* Kirchhoff */
}
END_TEST

START_TEST(openings_that_cannot_be)
{
    const struct {
        int surroundings;
        double area, discharge;
        const char *says;
    } row[] = {{0, 1e-3, 0.6, "surroundings"},
               {3, 1e-3, 0.6, "surroundings"},
               {VENT_SURROUNDINGS_ROOM, -1e-9, 0.6, "area"},
               {VENT_SURROUNDINGS_ROOM, NAN, 0.6, "area"},
               {VENT_SURROUNDINGS_ROOM, 101, 0.6, "area"},
               {VENT_SURROUNDINGS_ROOM, 1e-3, 0, "discharge_coefficient"},
               {VENT_SURROUNDINGS_ROOM, 1e-3, 1.01, "discharge_coefficient"},
               {VENT_SURROUNDINGS_ROOM, 1e-3, NAN, "discharge_coefficient"}};
    for (size_t i = 0; i < sizeof row / sizeof *row; ++i) {
        vent_error err = VENT_NO_ERROR;
        vent_opening none =
            vent_opening_to(row[i].surroundings, row[i].area, row[i].discharge, &err);
        ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
        ck_assert_msg(strstr(err.message, row[i].says), "%s", err.message);
        ck_assert(none.surroundings == 0 && isnan(none.area));
    }
}
END_TEST

/* ---- against equations of their own ------------------------------------------------------------- */

enum { SOIL = 3000, WIND = -80, ROOM = -6 }; /* Pa s/m3, Pa, Pa */
static const double BORE = 0.1, K_IN = 1.7, K_OUT = 2.3, RISE = 4, CRACK = 4e-4, C = 0.61;

typedef struct stack {
    vent_network *net;
    vent_air gas, outdoors;
    int pit, joint, roof, lower, upper;
} stack;

/* Soil, a run that costs K_IN, a joint at a height, a run that costs K_OUT, wind that draws. */
static stack stack_new(vent_junction law)
{
    vent_error err = VENT_NO_ERROR;
    stack s = {.gas = vent_air_moist(285.15, 98000, 0.9, &err),
               .outdoors = vent_air_moist(270.15, 98000, 0.7, &err)};
    vent_pipe pipe = vent_pipe_round(BORE, 0, &err);
    s.net = vent_network_new(s.gas, s.outdoors, &err);
    s.pit = vent_network_suction_point(s.net, "pit", vent_soil_two_term(SOIL, 0, &err), &err);
    s.joint = vent_network_junction(s.net, "joint", law, &err);
    s.roof = vent_network_discharge(s.net, "roof", vent_open_end(), 2 * RISE, &err);
    vent_network_set_height(s.net, s.joint, RISE, &err);
    s.lower = vent_network_run(s.net, "lower", s.pit, s.joint, pipe, 0, &err);
    s.upper = vent_network_run(s.net, "upper", s.joint, s.roof, pipe, 0, &err);
    vent_network_fitting(s.net, s.lower, vent_fitting_constant(K_IN, 0, &err), 1, &err);
    vent_network_fitting(s.net, s.upper, vent_fitting_constant(K_OUT, 0, &err), 1, &err);
    vent_network_set_wind_pressure(s.net, WIND, &err);
    vent_network_set_building_pressure(s.net, ROOM, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return s;
}

static double square_root_law(double pressure, double per_square)
{
    return copysign(sqrt(fabs(pressure) / per_square), pressure);
}

/* Flow in kg/s that a pressure at the top of the lower run draws from soil and entry: a root of a
 * quadratic. */
static double lower_flow(const stack *s, double vacuum)
{
    double area = VENT_PI * BORE * BORE / 4, a = SOIL / s->gas.density;
    double b = K_IN / (2 * s->gas.density * area * area);
    return 2 * vacuum / (a + sqrt(a * a + 4 * b * vacuum));
}

static double leak_flow(double pressure, double density)
{
    return CRACK * C * square_root_law(2 * density * pressure, 1);
}

/* A leak at the joint, to the room or outdoors, with air of its own temperature; the total pressure p at the
 * joint is found by halving, from what comes in and what the upper run takes. At a wye the leak feels the
 * static pressure. */
static void at_the_joint(bool room, bool wye)
{
    stack s =
        stack_new(wye ? vent_wye_by_momentum(VENT_RADIANS(45), NULL) : vent_junction_lossless());
    vent_error err = VENT_NO_ERROR;
    int surroundings = room ? VENT_SURROUNDINGS_ROOM : VENT_SURROUNDINGS_OUTDOORS;
    vent_opening opening = vent_opening_to(surroundings, CRACK, C, &err);
    vent_air air = vent_air_at_temperature(s.gas, room ? 293.15 : 270.15, &err);
    int crack = vent_network_leak(s.net, "crack", s.joint, opening, air.temperature, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    vent_solution *solution = solve(s.net);

    double area = VENT_PI * BORE * BORE / 4, rise = RISE * VENT_GRAVITY;
    double column = (s.outdoors.density - s.gas.density) * rise;
    double around = room ? ROOM + (s.outdoors.density - air.density) * rise : 0;
    double low = -200, high = 50, soil_gas = 0, leak = 0, p = 0;
    for (int i = 0; i < 200; ++i) { /* the higher p, the more leaves and the less comes */
        p = (low + high) / 2;
        double upper = (K_OUT + 1) / (2 * s.gas.density * area * area);
        double out = square_root_law(p + column - WIND, upper);
        double mean =
            0; /* momentum: p_static + rho V (U - V / 2) at the combined pipe, U of the lower run */
        double straight = 0;
        soil_gas = lower_flow(&s, -p + column);
        for (int j = 0; wye && j < 100; ++j) { /* the straight leg's own loss, by repetition */
            double velocity = out / (s.gas.density * area), v = soil_gas / (s.gas.density * area);
            double u = soil_gas * v / out;
            mean = s.gas.density * velocity * (velocity / 2 - u);
            straight = mean + s.gas.density * v * v / 2;
            soil_gas = lower_flow(&s, -p - straight + column);
        }
        leak = leak_flow(around - p - mean, air.density);
        *(soil_gas + leak > out ? &low : &high) = p;
    }
    int inflow = vent_network_find_run(s.net, "crack inflow", &err);
    ck_assert_int_eq(vent_network_node_kind(s.net, crack), VENT_NODE_OPENING);
    ck_assert_double_eq_tol(vent_solution_mass_flow(solution, inflow) / leak, 1, 1e-9);
    ck_assert_double_eq_tol(vent_solution_mass_flow(solution, s.lower) / soil_gas, 1, 1e-9);
    ck_assert_double_eq_tol(vent_solution_pressure(solution, s.joint) + ROOM, p, 1e-7);
    vent_solution_free(solution);
    vent_network_free(s.net);
}

START_TEST(leak_at_a_joint)
{
    at_the_joint(_i & 1, _i & 2);
}
END_TEST

/* A leak into the pit: soil and crack feed one vacuum. */
START_TEST(leak_at_a_pit)
{
    stack s = stack_new(vent_junction_lossless());
    vent_error err = VENT_NO_ERROR;
    vent_opening opening = vent_opening_to(VENT_SURROUNDINGS_ROOM, CRACK, C, &err);
    vent_air air = vent_air_at_temperature(s.gas, 293.15, &err);
    vent_network_leak(s.net, "edge of slab", s.pit, opening, 293.15, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    vent_solution *solution = solve(s.net);
    double area = VENT_PI * BORE * BORE / 4, low = 0, high = 200, soil_gas = 0, leak = 0;
    double column = (s.outdoors.density - s.gas.density) * 2 * RISE * VENT_GRAVITY;
    for (int i = 0; i < 200; ++i) {
        double vacuum = (low + high) / 2;
        soil_gas = vacuum / SOIL * s.gas.density;
        leak = leak_flow(vacuum + ROOM, air.density);
        double out = square_root_law(column - WIND - vacuum,
                                     (K_IN + K_OUT + 1) / (2 * s.gas.density * area * area));
        *(soil_gas + leak < out ? &low : &high) = vacuum;
    }
    int from_soil = vent_network_find_run(s.net, "edge of slab soil", &err);
    ck_assert_double_eq_tol(vent_solution_mass_flow(solution, from_soil) / soil_gas, 1, 1e-9);
    ck_assert_double_eq_tol(vent_solution_mass_flow(solution, s.lower) / (soil_gas + leak), 1,
                            1e-9);
    ck_assert_double_eq_tol(vent_solution_pressure(solution, s.pit) + ROOM, -(low + high) / 2,
                            1e-7);
    vent_parameter area_of = vent_network_find_parameter(s.net, "edge of slab.area", &err);
    ck_assert(vent_network_get(s.net, area_of, &err) == CRACK);
    vent_solution_free(solution);
    vent_network_free(s.net);
}
END_TEST

/* Two leaks at one pit are one of both areas. */
START_TEST(leaks_at_one_pit_add)
{
    double flow[2];
    for (int parts = 1; parts <= 2; ++parts) {
        stack s = stack_new(vent_junction_lossless());
        vent_error err = VENT_NO_ERROR;
        vent_opening opening = vent_opening_to(VENT_SURROUNDINGS_ROOM, CRACK / parts, C, &err);
        for (int i = 0; i < parts; ++i)
            vent_network_leak(s.net, i ? "second" : "first", s.pit, opening, 293.15, &err);
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        ck_assert_int_eq(vent_network_node_count(s.net), 4 + parts); /* one edge for both */
        vent_solution *solution = solve(s.net);
        flow[parts - 1] = vent_solution_flow(solution, s.upper);
        vent_solution_free(solution);
        vent_network_free(s.net);
    }
    ck_assert_double_eq_tol(flow[0], flow[1], 1e-12);
}
END_TEST

/* No area, no leak; and what was there before is left as it was. */
START_TEST(leak_of_no_area)
{
    for (int at_pit = 0; at_pit < 2; ++at_pit) {
        stack s = stack_new(vent_wye(VENT_RADIANS(45), NULL));
        vent_error err = VENT_NO_ERROR;
        vent_solution *sealed = solve(s.net);
        vent_opening closed = vent_opening_to(VENT_SURROUNDINGS_ROOM, 0, C, &err);
        vent_network_leak(s.net, "crack", at_pit ? s.pit : s.joint, closed, 293.15, &err);
        vent_solution *leaking = solve(s.net);
        const int runs[] = {s.lower, s.upper};
        for (int i = 0; i < 2; ++i)
            ck_assert_double_eq_tol(vent_solution_flow(leaking, runs[i]) /
                                        vent_solution_flow(sealed, runs[i]),
                                    1, 1e-9);
        vent_solution_free(sealed);
        vent_solution_free(leaking);
        vent_network_free(s.net);
    }
}
END_TEST

/* An opening may stand at the end of a duct: an inlet for air, with a run of its own. */
START_TEST(inlet_with_a_duct)
{
    stack s = stack_new(vent_wye(VENT_RADIANS(45), NULL));
    vent_error err = VENT_NO_ERROR;
    vent_opening wide = vent_opening_to(VENT_SURROUNDINGS_OUTDOORS, 10, 1, &err);
    int inlet = vent_network_opening(s.net, "inlet", wide, RISE, &err);
    int duct =
        vent_network_run(s.net, "duct", inlet, s.joint, vent_pipe_round(0.06, 0, &err), 2, &err);
    ck_assert_int_eq(
        vent_network_run(s.net, "again", inlet, s.joint, vent_pipe_round(0.06, 0, NULL), 2, NULL),
        -1);
    vent_solution *solution = solve(s.net);
    ck_assert(vent_solution_flow(solution, duct) > 0.001);
    ck_assert_double_eq_tol(vent_solution_pressure(solution, inlet) + ROOM, 0, 1e-4);
    vent_ledger_line line;
    double sum = 0;
    bool told = false;
    for (size_t i = 0; vent_solution_ledger_line(solution, i, &line); ++i) {
        if (line.run == duct || line.run == s.upper)
            sum += line.loss;
        told |= line.kind == VENT_LINE_OPENING && strstr(line.what, "opening to outdoors") &&
                !strcmp(line.where, "inlet");
    }
    ck_assert(told);
    ck_assert_double_eq_tol(sum, 0, 1e-9);
    vent_solution_free(solution);
    vent_network_free(s.net);
}
END_TEST

START_TEST(leaks_that_cannot_be)
{
    stack s = stack_new(vent_junction_lossless());
    vent_error ok = VENT_NO_ERROR;
    vent_opening opening = vent_opening_to(VENT_SURROUNDINGS_ROOM, CRACK, C, &ok);
    int loose = vent_network_junction(s.net, "loose", vent_junction_lossless(), &ok);
    int taken = vent_network_junction(s.net, "crack inflow", vent_junction_lossless(), &ok);
    int other = vent_network_opening(s.net, "opening", opening, 0, &ok);
    ck_assert(taken >= 0);
    char long_name[1200];
    memset(long_name, 'x', sizeof long_name - 1);
    long_name[sizeof long_name - 1] = 0;
    const struct {
        const char *name;
        int node;
        vent_opening opening;
        double temperature;
        int status;
        const char *says;
    } row[] = {{"crack", s.joint, opening, 290, VENT_E_DUPLICATE, "crack inflow"},
               {"", s.joint, opening, 290, VENT_E_ARGUMENT, "name"},
               {"pit", s.joint, opening, 290, VENT_E_DUPLICATE, "pit"},
               {NULL, s.joint, opening, 290, VENT_E_ARGUMENT, "name"},
               {long_name, s.joint, opening, 290, VENT_E_ARGUMENT, "1199"},
               {"a", s.joint, (vent_opening){0}, 290, VENT_E_ARGUMENT, "surroundings"},
               {"a", s.joint, opening, 200, VENT_E_ARGUMENT, "temperature"},
               {"a", s.joint, opening, NAN, VENT_E_ARGUMENT, "temperature"},
               {"a", 99, opening, 290, VENT_E_NOT_FOUND, "node 99"},
               {"a", s.roof, opening, 290, VENT_E_TOPOLOGY, "a discharge"},
               {"a", other, opening, 290, VENT_E_TOPOLOGY, "an opening"},
               {"a", loose, opening, 290, VENT_E_TOPOLOGY, "'loose'"}};
    int nodes = vent_network_node_count(s.net), runs = vent_network_run_count(s.net);
    for (size_t i = 0; i < sizeof row / sizeof *row; ++i) {
        vent_error bad = VENT_NO_ERROR;
        ck_assert_int_eq(vent_network_leak(s.net, row[i].name, row[i].node, row[i].opening,
                                           row[i].temperature, &bad),
                         -1);
        ck_assert_msg(bad.status == row[i].status, "%zu: %s", i, bad.message);
        ck_assert_msg(strstr(bad.message, row[i].says), "%s", bad.message);
        ck_assert_int_eq(vent_network_node_count(s.net), nodes);
        ck_assert_int_eq(vent_network_run_count(s.net), runs);
    }
    vent_error bad = VENT_NO_ERROR;
    ck_assert_int_eq(vent_network_leak(NULL, "a", 0, opening, 290, &bad), -1);
    ck_assert_int_eq(vent_network_opening(s.net, "a", opening, NAN, NULL), -1);
    vent_network_free(s.net);
}
END_TEST

/* A pit that leaks is moved: with its edge all is as if it had been there at first, without it that is told. */
START_TEST(a_pit_moves_with_its_edge)
{
    vent_error err = VENT_NO_ERROR;
    vent_opening opening = vent_opening_to(VENT_SURROUNDINGS_ROOM, CRACK, C, &err);
    double flow[2];
    for (int late = 0; late < 2; ++late) {
        stack s = stack_new(vent_junction_lossless());
        if (!late)
            vent_network_set_height(s.net, s.pit, -1.5, &err);
        vent_network_leak(s.net, "crack", s.pit, opening, 293.15, &err);
        int edge = vent_network_find_node(s.net, "crack edge", &err);
        if (late) {
            vent_network_set_height(s.net, s.pit, -1.5, &err);
            vent_solution *told = solve(s.net);
            vent_warning warning = {.flag = 0};
            for (size_t i = 0; warning.flag != VENT_WARN_PIT_LEVEL; ++i)
                ck_assert(vent_solution_warning(told, i, &warning));
            ck_assert_msg(strstr(warning.message, "'pit' is at -1.5 m (-4.921 ft), its edge "
                                                  "'crack edge' where leaks come in at 0 m (0 ft)"),
                          "%s", warning.message);
            vent_solution_free(told);
            vent_network_set_height(s.net, edge, -1.5, &err);
        }
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        vent_solution *solution = solve(s.net);
        ck_assert(!(vent_solution_flags(solution) & VENT_WARN_PIT_LEVEL));
        flow[late] = vent_solution_flow(solution, vent_network_inflow(s.net, edge - 1, &err));
        vent_solution_free(solution);
        vent_network_free(s.net);
    }
    ck_assert_double_eq(flow[0], flow[1]);
}
END_TEST

/* A leak brings runs, but no pipe: no line of a pipe, nothing uncertain about a wall, no bore to vary. */
START_TEST(leaks_bring_no_pipe)
{
    stack s = stack_new(vent_junction_lossless());
    vent_error err = VENT_NO_ERROR;
    vent_opening opening = vent_opening_to(VENT_SURROUNDINGS_ROOM, CRACK, C, &err);
    vent_parameter length =
        vent_network_parameter(s.net, VENT_PARAMETER_LENGTH, s.lower, 0, 0, &err);
    vent_network_set(s.net, length, 3, &err);
    size_t before = vent_network_uncertainties(s.net, 0, NULL, &err);
    vent_network_leak(s.net, "crack", s.pit, opening, 293.15, &err);
    vent_network_leak(s.net, "gap", s.joint, opening, 293.15, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    ck_assert_uint_eq(vent_network_uncertainties(s.net, 0, NULL, &err), before);
    static const char *const runs[] = {"crack inflow", "crack soil", "gap inflow"};
    vent_solution *solution = solve(s.net);
    double sum = 0;
    for (size_t i = 0; i < sizeof runs / sizeof *runs; ++i) {
        int run = vent_network_find_run(s.net, runs[i], &err);
        ck_assert(run >= 0 && !vent_network_run_is_pipe(s.net, run));
        for (int kind = VENT_PARAMETER_LENGTH; kind <= VENT_PARAMETER_ROUGHNESS; ++kind)
            ck_assert_int_eq(vent_network_parameter(s.net, kind, run, 0, 0, NULL).kind,
                             VENT_PARAMETER_NONE);
        vent_ledger_line line;
        for (size_t j = 0; vent_solution_ledger_line(solution, j, &line); ++j) {
            ck_assert(line.run != run || line.kind != VENT_LINE_PIPE);
            if (i == 0 && (line.run == run || line.run == s.lower || line.run == s.upper))
                sum += line.loss;
        }
        vent_warning warning;
        for (size_t j = 0; vent_solution_warning(solution, j, &warning); ++j)
            ck_assert_msg(warning.run != run, "%s", warning.message);
    }
    ck_assert_double_eq_tol(sum, 0, 1e-9);
    size_t count = vent_network_parameter_count(s.net);
    vent_parameter *all = calloc(count, sizeof *all);
    ck_assert_uint_eq(vent_network_parameters(s.net, 0, count, all), count);
    for (size_t i = 0; i < count; ++i)
        ck_assert(all[i].kind < VENT_PARAMETER_LENGTH || all[i].kind > VENT_PARAMETER_ROUGHNESS ||
                  vent_network_run_is_pipe(s.net, all[i].place));
    free(all);
    int crack = vent_network_find_node(s.net, "crack", &err);
    int gap = vent_network_find_node(s.net, "gap", &err);
    const struct {
        int node;
        const char *run;
    } inflows[] = {{crack, "crack inflow"}, {gap, "gap inflow"}, {s.pit, "crack soil"}};
    for (size_t i = 0; i < sizeof inflows / sizeof *inflows; ++i)
        ck_assert_int_eq(vent_network_inflow(s.net, inflows[i].node, &err),
                         vent_network_find_run(s.net, inflows[i].run, &err));
    const struct {
        int node, status;
        const char *says;
    } none[] = {{s.joint, VENT_E_NOT_FOUND, "a junction"},
                {s.roof, VENT_E_NOT_FOUND, "a discharge"},
                {99, VENT_E_NOT_FOUND, "node 99"},
                {vent_network_opening(s.net, "hole", opening, 0, &err), VENT_E_TOPOLOGY, "'hole'"}};
    for (size_t i = 0; i < sizeof none / sizeof *none; ++i) {
        vent_error bad = VENT_NO_ERROR;
        ck_assert_int_eq(vent_network_inflow(s.net, none[i].node, &bad), -1);
        ck_assert_int_eq(bad.status, none[i].status);
        ck_assert_msg(strstr(bad.message, none[i].says), "%s", bad.message);
    }
    ck_assert_int_eq(vent_network_inflow(NULL, 0, NULL), -1);
    ck_assert(vent_network_run_is_pipe(s.net, s.lower));
    ck_assert(!vent_network_run_is_pipe(s.net, -1) && !vent_network_run_is_pipe(s.net, 99) &&
              !vent_network_run_is_pipe(NULL, 0));
    vent_solution_free(solution);
    vent_network_free(s.net);
}
END_TEST

/* ---- random networks ---------------------------------------------------------------------------- */

START_TEST(random_networks_with_leaks)
{
    uint64_t state = 990;
    for (int i = 0; i < 200; ++i) {
        vent_network *net = tree_with_links(3 + i % 40, 1 + i % 4, &state);
        tree_add_leaks(net, 1 + i % 5, &state);
        vent_error err = VENT_NO_ERROR;
        vent_solution *s = vent_network_solve(net, NULL, &err);
        ck_assert_msg(s != NULL, "network %d: %s", i, err.message);
        double pressure, mass;
        tree_balances(net, s, &pressure, &mass);
        ck_assert_msg(pressure <= 1e-11 && mass <= 1e-12, "pressure %g, mass %g", pressure, mass);
        vent_solution_free(s);
        vent_network_free(net);
    }
}
END_TEST

Suite *leak_suite(void)
{
    Suite *suite = suite_create("leak");
    TCase *values = tcase_create("values");
    tcase_add_test(values, flow_of_an_opening);
    tcase_add_test(values, openings_that_cannot_be);
    tcase_add_loop_test(values, leak_at_a_joint, 0, 4);
    tcase_add_test(values, leak_at_a_pit);
    tcase_add_test(values, leaks_at_one_pit_add);
    tcase_add_test(values, leak_of_no_area);
    tcase_add_test(values, inlet_with_a_duct);
    tcase_add_test(values, leaks_bring_no_pipe);
    tcase_add_test(values, a_pit_moves_with_its_edge);
    tcase_add_test(values, leaks_that_cannot_be);
    TCase *networks = tcase_create("networks");
    tcase_add_test(networks, random_networks_with_leaks);
    suite_add_tcase(suite, values);
    suite_add_tcase(suite, networks);
    return suite;
}
