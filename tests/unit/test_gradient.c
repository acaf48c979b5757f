/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <ventstack/ventstack.h>

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "suites.h"
#include "tree.h"

/* ---- against solving again ------------------------------------------------------------------ */

enum { BACKWARD = -1, CENTRAL, FORWARD };

/* Derivative by solving again at points around the value, or on one side of it. */
static double by_solving(const vent_network *network, vent_observable o, vent_parameter p, int side)
{
    double value = vent_network_get(network, p, NULL), sum = 0;
    vent_parameter_range range;
    vent_network_parameter_range(network, p, &range);
    double h = 1e-4 * (value != 0 ? fabs(value) : 0.01 * fmin(fmax(range.high, -range.low), 100));
    const double steps[2][5] = {{0, -2, -1, 1, 2}, {0, 1, 2, 3, 4}};
    const double weights[2][5] = {{0, 1, -8, 8, -1}, {-25, 48, -36, 16, -3}};
    int one_sided = side != CENTRAL;
    if (side == BACKWARD)
        h = -h;
    for (int i = 0; i < 5; ++i) {
        vent_error err = VENT_NO_ERROR;
        vent_network *other = vent_network_copy(network, &err);
        vent_network_set(other, p, value + h * steps[one_sided][i], &err);
        vent_solution *s = vent_network_solve(other, NULL, &err);
        sum += weights[one_sided][i] * vent_solution_observe(s, o, &err);
        vent_solution_free(s);
        vent_network_free(other);
        if (err.status == VENT_E_ARGUMENT)
            return NAN; /* beyond the parameter's bounds */
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    }
    return sum / (12 * h);
}

/* Solving again leaves rounding of 1e-12 over a step of 1e-4. Where a law has a kink (pipes of one bore
 * meet, a flow turns) the derivatives of both sides differ, and ours lies between them. */
static bool agrees(double gradient, const double *by_side, double noise)
{
    double backward = by_side[0], central = by_side[1], forward = by_side[2];
    if (isnan(central)) /* at a bound */
        central = isnan(forward) ? backward : forward;
    double tolerance = 1e-6 * fabs(central) + noise;
    if (fabs(gradient - central) <= tolerance)
        return true;
    double low = fmin(central, fmin(backward, forward));
    double high = fmax(central, fmax(backward, forward));
    double kink = high - low, slack = tolerance + 0.01 * kink; /* a point may lie beyond it */
    return kink > tolerance && gradient >= low - slack && gradient <= high + slack;
}

static int compare(const vent_network *network, vent_observable o, vent_parameter p,
                   double gradient, double scale)
{
    if (o.kind == VENT_OBSERVABLE_FAN_POWER && p.kind == VENT_PARAMETER_RUNNING)
        return !isfinite(gradient); /* a step, all or nothing */
    double by_side[3], value = vent_network_get(network, p, NULL);
    vent_parameter_range range;
    vent_network_parameter_range(network, p, &range);
    if (value == 0)
        value = 0.01 * fmin(fmax(range.high, -range.low), 100);
    for (int side = BACKWARD; side <= FORWARD; ++side)
        by_side[side + 1] = by_solving(network, o, p, side);
    if (agrees(gradient, by_side, 1e-8 * fabs(scale / value)))
        return 0;
    char parameter[128], observable[128];
    vent_network_parameter_name(network, p, sizeof parameter, parameter);
    vent_network_observable_name(network, o, sizeof observable, observable);
    fprintf(stderr, "d %s / d %s: %.12g, solving again %.12g %.12g %.12g\n", observable, parameter,
            gradient, by_side[0], by_side[1], by_side[2]);
    return 1;
}

static int check_tree(vent_network *network, uint64_t *state, int observables, int parameters)
{
    vent_error err = VENT_NO_ERROR;
    vent_solution *s = vent_network_solve(network, NULL, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    size_t n = vent_network_parameter_count(network), m = vent_network_observable_count(network);
    vent_parameter *p = malloc(n * sizeof *p);
    vent_observable *o = malloc(m * sizeof *o);
    double *jacobian = malloc(n * sizeof *jacobian);
    ck_assert_uint_eq(vent_network_parameters(network, 0, n, p), n);
    ck_assert_uint_eq(vent_network_observables(network, 0, m, o), m);
    int wrong = 0;
    for (int i = 0; i < observables; ++i) {
        vent_observable one = o[(size_t)tree_uniform(state, 0, (double)m)];
        double value = vent_solution_observe(s, one, &err);
        if (isnan(value))
            continue; /* power without power data */
        bool of_pressure = strcmp(vent_observable_unit(one), "Pa") == 0;
        double pressure = vent_solution_convergence(s).pressure_scale;
        double scale = of_pressure ? pressure : fabs(value);
        ck_assert(vent_solution_gradient(s, NULL, one, n, p, jacobian, &err));
        for (int j = 0; j < parameters; ++j) {
            size_t at = (size_t)tree_uniform(state, 0, (double)n);
            wrong += compare(network, one, p[at], jacobian[at], scale);
        }
    }
    free(p);
    free(o);
    free(jacobian);
    vent_solution_free(s);
    return wrong;
}

START_TEST(gradients_agree_with_solving_again)
{
    uint64_t state = 20261125;
    int wrong = 0;
    for (int i = 0; i < 120; ++i) {
        tree t;
        vent_error err = VENT_NO_ERROR;
        tree_random(&t, 1 + i / 2, i % 2, &state);
        vent_network *network = tree_network(&t, &err);
        wrong += check_tree(network, &state, 6, 12);
        vent_network_free(network);
        tree_free(&t);
    }
    ck_assert_int_eq(wrong, 0);
}
END_TEST

/* Still air that a breath of wind makes creep, where losses are far below any pressure that heights make. */
START_TEST(gradients_hold_where_air_creeps)
{
    const char *const names[] = {"wind_pressure", "run.factor", "run.bore", "run.temperature"};
    for (int i = 0; i < 12; ++i) {
        vent_error err = VENT_NO_ERROR;
        vent_air air = vent_air_moist(283.15, 101325, 0.5, &err);
        vent_network *net = vent_network_new(air, air, &err);
        int pit = vent_network_suction_point(net, "pit", vent_soil_two_term(1e-3, 0, &err), &err);
        int top = vent_network_discharge(net, "top", vent_open_end(), 0, &err);
        vent_pipe pipe = vent_pipe_round(0.08, 1e-6, &err);
        int run = vent_network_run(net, "run", pit, top, pipe, 0, &err);
        vent_network_fitting(net, run,
                             i % 3 == 0   ? vent_fitting_constant(4, 3, &err)
                             : i % 3 == 1 ? vent_orifice_plate(0.17, &err)
                                          : vent_elbow(VENT_RADIANS(90), 1, &err),
                             1, &err);
        vent_network_set(net, vent_network_find_parameter(net, names[0], &err),
                         (i % 2 ? 1 : -1) * (i < 6 ? 1e-12 : 1e-15), &err);
        vent_observable flow = vent_network_observable(net, VENT_OBSERVABLE_FLOW, run, 0, &err);
        vent_solution *s = vent_network_solve(net, NULL, &err);
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        ck_assert_double_lt(fabs(vent_solution_observe(s, flow, &err)), 1e-9);
        for (int k = 0; k < 4; ++k) {
            vent_parameter p = vent_network_find_parameter(net, names[k], &err);
            double slope, truth = by_solving(net, flow, p, CENTRAL);
            ck_assert_msg(vent_solution_gradient(s, NULL, flow, 1, &p, &slope, &err), "%s",
                          err.message);
            ck_assert_msg(fabs(slope - truth) <= 1e-6 * fabs(truth),
                          "part %d by %s: %.12g, solving again %.12g", i % 3, names[k], slope,
                          truth);
        }
        vent_solution_free(s);
        vent_network_free(net);
    }
}
END_TEST

START_TEST(gradients_go_round_loops)
{
    uint64_t state = 77;
    int wrong = 0;
    for (int i = 0; i < 40; ++i) {
        vent_network *network = tree_with_links(3 + i, 1 + i % 4, &state);
        wrong += check_tree(network, &state, 6, 12);
        vent_network_free(network);
    }
    ck_assert_int_eq(wrong, 0);
}
END_TEST

START_TEST(gradients_go_through_leaks)
{
    uint64_t state = 5151;
    int wrong = 0;
    for (int i = 0; i < 40; ++i) {
        vent_network *network = tree_with_links(3 + i / 2, 1 + i % 3, &state);
        tree_add_leaks(network, 2 + i % 5, &state);
        wrong += check_tree(network, &state, 8, 16);
        vent_network_free(network);
    }
    ck_assert_int_eq(wrong, 0);
}
END_TEST

START_TEST(gradients_go_round_grids)
{
    uint64_t state = 12;
    int wrong = 0;
    for (int i = 0; i < 12; ++i) {
        vent_network *network = tree_grid(2 + i % 4, 3 + i, &state);
        wrong += check_tree(network, &state, 4, 12);
        vent_network_free(network);
    }
    ck_assert_int_eq(wrong, 0);
}
END_TEST

/* Fans that are off, one beside a flap that is shut; wind by pressure coefficients; soil that is shared; a leak;
 * two discharges, of which one is half blocked. */
START_TEST(gradients_go_beyond_one_tree)
{
    for (int damper = 0; damper < 2; ++damper) {
        vent_error err = VENT_NO_ERROR;
        vent_air soil_gas = vent_air_moist(286.15, 98300, 0.9, &err);
        vent_air outdoors = vent_air_moist(268.15, 98300, 0.8, &err);
        const double flow[] = {0, 0.03, 0.06}, pressure[] = {400, 300, 0}, power[] = {30, 40, 45};
        vent_fan *fan = vent_fan_new_at("demo", 3, flow, pressure, power, 1.2, &err);
        vent_network *net = vent_network_new(soil_gas, outdoors, &err);
        vent_pipe pipe = vent_pipe_round(0.0773, 1e-5, &err);
        int a = vent_network_suction_point(net, "a", vent_soil_power(4e-4, 0.62, &err), &err);
        int b = vent_network_suction_point(net, "b", vent_soil_two_term(2e3, 3e5, &err), &err);
        int meet = vent_network_junction(net, "meet", vent_wye(VENT_RADIANS(45), &err), &err);
        vent_network_set_height(net, meet, 2, &err);
        int east = vent_network_discharge(net, "east", vent_open_end(), 7, &err);
        int west = vent_network_discharge(
            net, "west", vent_termination_blocked(vent_open_end(), 0.5, &err), 6, &err);
        int left = vent_network_run(net, "left", a, meet, pipe, 4, &err);
        int right = vent_network_run(net, "right", b, meet, pipe, 5, &err);
        vent_network_run(net, "to east", meet, east, pipe, 6, &err);
        int to_west = vent_network_run(net, "to west", meet, west, pipe, 7, &err);
        vent_network_fan(net, left, fan, &err);
        int off = vent_network_fan(net, right, fan, &err),
            other = vent_network_fan(net, to_west, fan, &err);
        if (damper)
            vent_network_fitting(net, right, vent_check_damper(8, 0.02, &err), 1, &err);
        vent_network_fan_off(net, right, off, vent_orifice_plate(0.6, &err), &err);
        vent_network_fan_off(net, to_west, other, vent_fitting_constant(9, 1, &err), &err);
        vent_network_couple(net, a, b, 700, &err);
        vent_network_set_wind(net, 15, &err);
        vent_network_set_pressure_coefficient(net, east, -0.8, &err);
        vent_network_set_pressure_coefficient(net, west, 0.4, &err);
        vent_opening crack = vent_opening_to(VENT_SURROUNDINGS_OUTDOORS, 1e-4, 0.6, &err);
        int leak = vent_network_leak(net, "crack", a, crack, 270, &err);
        vent_network_set_pressure_coefficient(net, leak, 0.3, &err);
        vent_network_leak(net, "gap", meet,
                          vent_opening_to(VENT_SURROUNDINGS_ROOM, 5e-5, 0.6, &err), 290, &err);
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        uint64_t state = 12;
        ck_assert_int_eq(check_tree(net, &state, 60, 90), 0);
        vent_fan_free(fan);
        vent_network_free(net);
    }
}
END_TEST

/* Laws of other forms: a plate whose coefficient has its own way with the Reynolds number, a flap that a
 * pressure opens; a cone between pipes; every parameter there is. */
START_TEST(gradients_know_every_form_of_law)
{
    vent_error err = VENT_NO_ERROR;
    vent_air soil_gas = vent_air_moist(286.15, 98300, 0.9, &err);
    vent_air outdoors = vent_air_moist(268.15, 98300, 0.8, &err);
    const double flow[] = {0, 0.03, 0.06}, pressure[] = {400, 300, 0};
    vent_fan *fan = vent_fan_new("demo", 3, flow, pressure, &err);
    vent_network *net = vent_network_new(soil_gas, outdoors, &err);
    int pit = vent_network_suction_point(net, "pit", vent_soil_power(4e-4, 0.62, &err), &err);
    int roof = vent_network_discharge(net, "ridge", vent_end_guard(0.001, 0.012, &err), 7, &err);
    int riser =
        vent_network_run(net, "riser", pit, roof, vent_pipe_round(0.0773, 1e-5, &err), 8, &err);
    vent_network_fitting(net, riser, vent_entry_flush(), 1, &err);
    vent_network_fitting(net, riser, vent_orifice_plate(0.7, &err), 1, &err);
    vent_network_fitting(net, riser, vent_check_damper(12, 0.02, &err), 1, &err);
    vent_network_pipe(net, riser, vent_pipe_round(0.102, 1e-5, &err), 3, VENT_RADIANS(30), &err);
    vent_network_fitting(net, riser, vent_elbow(VENT_RADIANS(80), 1.5, &err), 3, &err);
    vent_network_fan(net, riser, fan, &err);
    uint64_t state = 7;
    ck_assert_int_eq(check_tree(net, &state, 40, 60), 0);
    vent_fan_free(fan);
    vent_network_free(net);
}
END_TEST

Suite *gradient_suite(void)
{
    Suite *suite = suite_create("gradient");
    TCase *values = tcase_create("values");
    tcase_add_test(values, gradients_agree_with_solving_again);
    tcase_add_test(values, gradients_hold_where_air_creeps);
    tcase_add_test(values, gradients_go_round_loops);
    tcase_add_test(values, gradients_go_through_leaks);
    tcase_add_test(values, gradients_go_beyond_one_tree);
    tcase_add_test(values, gradients_go_round_grids);
    tcase_add_test(values, gradients_know_every_form_of_law);
    suite_add_tcase(suite, values);
    return suite;
}
