/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <ventstack/ventstack.h>

#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "suites.h"
#include "tree.h"

/* A stack with one of everything that has parameters. */
static vent_network *stack(vent_error *err)
{
    vent_air soil_gas = vent_air_moist(286.15, 98300, 1, err);
    vent_air outdoors = vent_air_moist(268.15, 98300, 0.8, err);
    const double flow[] = {0, 0.03, 0.06}, pressure[] = {400, 300, 0};
    vent_fan *fan = vent_fan_new("demo", 3, flow, pressure, err);
    vent_network *net = vent_network_new(soil_gas, outdoors, err);
    int pit = vent_network_suction_point(net, "pit", vent_soil_power(4e-4, 0.62, err), err);
    int other =
        vent_network_suction_point(net, "drain.tile", vent_soil_two_term(1e4, 1e5, err), err);
    int meet = vent_network_junction(net, "meet", vent_wye(VENT_RADIANS(45), err), err);
    int roof = vent_network_discharge(net, "ridge", vent_end_guard(0.001, 0.012, err), 7, err);
    vent_pipe pipe = vent_pipe_find("PVC 40", 3 * VENT_INCH, err);
    vent_network_run(net, "leg", pit, meet, pipe, 3, err);
    vent_network_run(net, "arm[2]", other, meet, pipe, 5, err);
    int riser = vent_network_run(net, "riser", meet, roof, pipe, 8, err);
    vent_network_fitting(net, riser, vent_elbow(VENT_RADIANS(90), 1.5, err), 2, err);
    vent_network_fitting(net, riser, vent_fitting_constant(0.4, 0.1, err), 1, err);
    vent_network_fan(net, riser, fan, err);
    vent_network_pipe(net, riser, vent_pipe_rectangular(0.07, 0.1, 1e-5, err), 2, VENT_RADIANS(30),
                      err);
    vent_fan_free(fan);
    ck_assert_msg(err->status == VENT_OK, "%s", err->message);
    return net;
}

/* ---- names ---------------------------------------------------------------------------------- */

START_TEST(names_of_parameters_round_trip)
{
    vent_error err = VENT_NO_ERROR;
    vent_network *net = stack(&err);
    size_t n = vent_network_parameter_count(net);
    ck_assert_uint_gt(n, 40);
    for (size_t i = 0; i < n; ++i) {
        vent_parameter p, back;
        ck_assert_uint_eq(vent_network_parameters(net, i, 1, &p), 1);
        char name[200];
        ck_assert_uint_eq(vent_network_parameter_name(net, p, sizeof name, name), strlen(name));
        back = vent_network_find_parameter(net, name, &err);
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        ck_assert_msg(memcmp(&p, &back, sizeof p) == 0, "%s", name);
        back = vent_network_parameter(net, p.kind, p.place, p.item, p.slot, &err);
        ck_assert(memcmp(&p, &back, sizeof p) == 0);
    }
    vent_network_free(net);
}
END_TEST

START_TEST(names_of_observables_round_trip)
{
    vent_error err = VENT_NO_ERROR;
    vent_network *net = stack(&err);
    vent_solution *s = vent_network_solve(net, NULL, &err);
    size_t n = vent_network_observable_count(net);
    ck_assert_uint_gt(n, 40);
    for (size_t i = 0; i < n; ++i) {
        vent_observable o, back;
        ck_assert_uint_eq(vent_network_observables(net, i, 1, &o), 1);
        char name[200];
        vent_network_observable_name(net, o, sizeof name, name);
        back = vent_network_find_observable(net, name, &err);
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        ck_assert_msg(memcmp(&o, &back, sizeof o) == 0, "%s", name);
        double value = vent_solution_observe(s, o, &err);
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        ck_assert_msg(isfinite(value) || o.kind == VENT_OBSERVABLE_FAN_POWER, "%s", name);
        ck_assert_ptr_nonnull(vent_observable_unit(o));
    }
    vent_solution_free(s);
    vent_network_free(net);
}
END_TEST

/* What a name means, beside those that are written: short forms, and what is refused. */
START_TEST(names_read_as_the_network_does)
{
    static const struct {
        const char *name;
        int kind, item;
    } row[] = {
        {"riser.length", VENT_PARAMETER_LENGTH, 0},
        {"riser[4].length", VENT_PARAMETER_LENGTH, 4},
        {"riser.speed", VENT_PARAMETER_SPEED, 3},
        {"riser.k", VENT_PARAMETER_FITTING, 2},
        {"riser.depth", VENT_PARAMETER_BORE, 4},
        {"arm[2].bore", VENT_PARAMETER_BORE, 0},
        {"drain.tile.a", VENT_PARAMETER_SOIL, 0},
        {"ridge.wire", VENT_PARAMETER_TERMINATION, 0},
        {"wind_pressure", VENT_PARAMETER_WIND_PRESSURE, 0},
    };
    vent_error err = VENT_NO_ERROR;
    vent_network *net = stack(&err);
    for (size_t i = 0; i < sizeof row / sizeof *row; ++i) {
        vent_parameter p = vent_network_find_parameter(net, row[i].name, &err);
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        ck_assert_int_eq(p.kind, row[i].kind);
        ck_assert_int_eq(p.item, row[i].item);
    }
    vent_network_free(net);
}
END_TEST

START_TEST(names_that_mean_nothing_are_refused)
{
    static const struct {
        const char *name;
        int status;
        const char *says;
    } row[] = {
        {"riser.lenght", VENT_E_NOT_FOUND, "'length'"},
        {"rizer.length", VENT_E_NOT_FOUND, "'riser'"},
        {"riser[9].length", VENT_E_NOT_FOUND, "riser[9].length': that item has no length"},
        {"riser[4].speed", VENT_E_NOT_FOUND, "that item has no speed"},
        {"riser.factor", VENT_E_ARGUMENT, "2 items"},
        {"riser.uncertainty", VENT_E_NOT_FOUND, "uncertainty"},
        {"wind", VENT_E_NOT_FOUND, "'wind_pressure'"},
        {"", VENT_E_NOT_FOUND, "named ''"},
        {".", VENT_E_NOT_FOUND, "no node or run ''"},
        {"riser.", VENT_E_NOT_FOUND, "named 'riser.'"},
        {"[].length", VENT_E_NOT_FOUND, "no node or run '[]'"},
        {"riser[99999999999].length", VENT_E_NOT_FOUND, "no node or run"},
        {"banana", VENT_E_NOT_FOUND, "named 'banana'"},
    };
    vent_error good = VENT_NO_ERROR;
    vent_network *net = stack(&good);
    for (size_t i = 0; i < sizeof row / sizeof *row; ++i) {
        vent_error err = VENT_NO_ERROR;
        vent_parameter p = vent_network_find_parameter(net, row[i].name, &err);
        ck_assert_int_eq(p.kind, VENT_PARAMETER_NONE);
        ck_assert_int_eq(err.status, row[i].status);
        ck_assert_msg(strstr(err.message, row[i].says), "%s: %s", row[i].name, err.message);
        /* what is not like it is not suggested */
        ck_assert(strlen(row[i].name) > 3 || !strstr(err.message, "nearest"));
    }
    vent_network_free(net);
}
END_TEST

/* No address may have two meanings: "arm[2]" is a run, so "arm" may be none; "riser[1]" is an item. */
START_TEST(names_that_could_be_items_are_refused)
{
    vent_error good = VENT_NO_ERROR;
    vent_network *net = stack(&good);
    vent_soil soil = vent_soil_power(1e-3, 0.6, &good);
    vent_pipe pipe = vent_pipe_round(0.1, 0, &good);
    static const char *const taken[] = {"pit[0]",    "arm",    "[5]",    "riser[a]",
                                        "riser[1] ", "riser[", "riser[]"};
    int first = -1;
    for (size_t i = 0; i < sizeof taken / sizeof *taken; ++i)
        first = vent_network_suction_point(net, taken[i], soil, &good);
    ck_assert_msg(good.status == VENT_OK, "%s", good.message);
    int meet = vent_network_find_node(net, "meet", &good);
    static const char *const refused[] = {"riser[1]", "riser[77]"};
    for (size_t i = 0; i < sizeof refused / sizeof *refused; ++i) {
        vent_error err = VENT_NO_ERROR;
        ck_assert_int_eq(vent_network_suction_point(net, refused[i], soil, &err), -1);
        ck_assert_int_eq(err.status, VENT_E_DUPLICATE);
        ck_assert_str_eq(err.argument, "name");
        ck_assert_msg(strstr(err.message, refused[i]) && strstr(err.message, "'riser'") &&
                          strstr(err.message, "two meanings"),
                      "%s", err.message);
    }
    /* in the other order: the run comes after what looks like its item */
    vent_network_suction_point(net, "late[3]", soil, &good);
    vent_error err = VENT_NO_ERROR;
    ck_assert_int_eq(vent_network_run(net, "late", first, meet, pipe, 1, &err), -1);
    ck_assert_int_eq(err.status, VENT_E_DUPLICATE);
    ck_assert_msg(strstr(err.message, "'late[3]'"), "%s", err.message);
    ck_assert_int_ge(vent_network_run(net, "lat", first, meet, pipe, 1, &good), 0);
    ck_assert_int_eq(good.status, VENT_OK);
    vent_network_free(net);
}
END_TEST

/* ---- values --------------------------------------------------------------------------------- */

/* Every parameter may be set to its own value, and that changes nothing; and to the ends of its
 * bounds or not at all. */
START_TEST(values_come_back_and_bounds_hold)
{
    vent_error err = VENT_NO_ERROR;
    vent_network *net = stack(&err);
    vent_solution *before = vent_network_solve(net, NULL, &err);
    vent_observable flow = vent_network_find_observable(net, "riser.mass_flow", &err);
    size_t n = vent_network_parameter_count(net);
    for (size_t i = 0; i < n; ++i) {
        vent_parameter p;
        vent_parameter_range range;
        vent_network_parameters(net, i, 1, &p);
        ck_assert(vent_network_parameter_range(net, p, &range));
        double value = vent_network_get(net, p, &err);
        ck_assert(value >= range.low && value <= range.high);
        vent_network *other = vent_network_copy(net, &err);
        ck_assert(vent_network_set(other, p, value, &err));
        vent_solution *s = vent_network_solve(other, NULL, &err);
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        ck_assert_double_eq_tol(vent_solution_observe(s, flow, &err),
                                vent_solution_observe(before, flow, &err), 1e-15);
        vent_solution_free(s);
        const double beyond[] = {NAN, INFINITY, range.high * (1 + 1e-9) + 1e-9, range.low - 1};
        for (int j = 0; j < 4; ++j) {
            vent_error bad = VENT_NO_ERROR;
            ck_assert(!vent_network_set(other, p, beyond[j], &bad));
            ck_assert_int_eq(bad.status, VENT_E_ARGUMENT);
            ck_assert_msg(strstr(bad.message, range.name), "%s", bad.message);
            ck_assert_double_eq(vent_network_get(other, p, &err), value);
        }
        vent_network_free(other);
    }
    vent_solution_free(before);
    vent_network_free(net);
}
END_TEST

/* What other numbers follow from: runs without a temperature of their own go with the soil gas. */
START_TEST(air_follows_its_parameters)
{
    vent_error err = VENT_NO_ERROR;
    vent_network *net = stack(&err);
    vent_network_set_temperature(net, 1, 280, &err);
    vent_network_set(net, vent_network_find_parameter(net, "soil_gas_temperature", &err), 290,
                     &err);
    vent_network_set(net, vent_network_find_parameter(net, "barometric_pressure", &err), 9e4, &err);
    vent_solution *s = vent_network_solve(net, NULL, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    vent_air gas = vent_air_moist(290, 9e4, 1, &err);
    ck_assert_double_eq_tol(vent_solution_density(s, 0), gas.density, 1e-12);
    ck_assert_double_eq_tol(vent_solution_density(s, 1),
                            vent_air_at_temperature(gas, 280, &err).density, 1e-12);
    vent_solution_free(s);
    vent_network_free(net);
}
END_TEST

/* A mesh whose wires would leave nothing open, though each number is within its bounds. */
START_TEST(parts_that_cannot_be_are_refused)
{
    vent_error err = VENT_NO_ERROR;
    vent_network *net = stack(&err);
    vent_parameter wire = vent_network_find_parameter(net, "ridge.wire", &err);
    ck_assert(!vent_network_set(net, wire, 0.02 * 2, &err));
    vent_error bad = VENT_NO_ERROR;
    vent_parameter opening = vent_network_find_parameter(net, "ridge.opening", &bad);
    ck_assert(!vent_network_set(net, opening, 1e-5, &bad));
    ck_assert_int_eq(bad.status, VENT_E_ARGUMENT);
    vent_error good = VENT_NO_ERROR;
    ck_assert_double_eq(vent_network_get(net, opening, &good), 0.012);
    vent_network_free(net);
}
END_TEST

/* ---- addresses of others --------------------------------------------------------------------- */

START_TEST(addresses_of_another_network_are_refused)
{
    vent_error err = VENT_NO_ERROR;
    vent_network *net = stack(&err);
    vent_air air = vent_air_moist(286.15, 98300, 1, &err);
    vent_network *other = vent_network_new(air, air, &err);
    int pit = vent_network_suction_point(other, "hole", vent_soil_power(4e-4, 0.62, &err), &err);
    int roof = vent_network_discharge(other, "eaves", vent_open_end(), 3, &err);
    vent_network_run(other, "pipe", pit, roof, vent_pipe_round(0.1, 0, &err), 3, &err);
    vent_parameter p = vent_network_find_parameter(other, "pipe.length", &err);
    vent_observable o = vent_network_find_observable(other, "pipe.flow", &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    ck_assert(isnan(vent_network_get(net, p, &err)));
    ck_assert_int_eq(err.status, VENT_E_NOT_FOUND);
    err = (vent_error)VENT_NO_ERROR;
    vent_solution *s = vent_network_solve(net, NULL, &err);
    ck_assert(isnan(vent_solution_observe(s, o, &err)));
    ck_assert_int_eq(err.status, VENT_E_NOT_FOUND);
    double gradient = 0;
    vent_error again = VENT_NO_ERROR;
    ck_assert(!vent_solution_gradient(s, NULL, o, 1, &p, &gradient, &again));
    ck_assert_int_eq(again.status, VENT_E_NOT_FOUND);
    ck_assert(isnan(gradient));
    vent_parameter nonsense = {9999, -1, 3, -2, 5};
    vent_parameter_range range;
    ck_assert(!vent_network_parameter_range(net, nonsense, &range));
    ck_assert_uint_eq(vent_network_parameter_name(net, nonsense, 0, NULL), 0);
    vent_solution_free(s);
    vent_network_free(other);
    vent_network_free(net);
}
END_TEST

Suite *parameter_suite(void)
{
    Suite *suite = suite_create("parameter");
    TCase *names = tcase_create("names");
    tcase_add_test(names, names_of_parameters_round_trip);
    tcase_add_test(names, names_of_observables_round_trip);
    tcase_add_test(names, names_read_as_the_network_does);
    tcase_add_test(names, names_that_mean_nothing_are_refused);
    tcase_add_test(names, names_that_could_be_items_are_refused);
    TCase *values = tcase_create("values");
    tcase_add_test(values, values_come_back_and_bounds_hold);
    tcase_add_test(values, air_follows_its_parameters);
    tcase_add_test(values, parts_that_cannot_be_are_refused);
    TCase *others = tcase_create("others");
    tcase_add_test(others, addresses_of_another_network_are_refused);
    suite_add_tcase(suite, names);
    suite_add_tcase(suite, values);
    suite_add_tcase(suite, others);
    return suite;
}
