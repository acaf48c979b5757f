/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Memory: how often it is asked for, and what happens when it is refused. */
#include "suites.h"

#include <ventstack/ventstack.h>

#include "refuse.h"
#include "tree.h"

/* Builds and solves a stack with two suction points in one soil and two risers, then alters and solves it again. */
static double whole_job(vent_error *err)
{
    const double flow[] = {0, 0.02, 0.04, 0.06}, pressure[] = {400, 350, 200, 0};
    vent_air air = vent_air_moist(286.15, 98300, 1, err);
    vent_fan *fan = vent_fan_new("example", 4, flow, pressure, err);
    vent_network *net = vent_network_new(air, air, err);
    vent_pipe pipe = vent_pipe_find("PVC 40", 3 * VENT_INCH, err);
    int a = vent_network_suction_point(net, "a", vent_soil_power(4e-4, 0.6, err), err);
    int b = vent_network_suction_point(net, "b", vent_soil_power(6e-4, 0.6, err), err);
    int tee = vent_network_junction(net, "tee", vent_wye(VENT_RADIANS(45), err), err);
    int high = vent_network_junction(net, "high", vent_junction_lossless(), err);
    int top = vent_network_discharge(net, "top", vent_open_end(), 8, err);
    vent_network_run(net, "leg a", a, tee, pipe, 3, err);
    vent_network_run(net, "leg b", b, tee, pipe, 5, err);
    int riser = vent_network_run(net, "riser", tee, high, pipe, 8, err);
    vent_network_run(net, "second riser", tee, high, pipe, 9, err);
    vent_network_run(net, "end", high, top, pipe, 1, err);
    vent_network_couple(net, a, b, 500, err);
    vent_network_fitting(net, riser, vent_elbow(VENT_RADIANS(90), 1.5, err), 2, err);
    vent_network_fan(net, riser, fan, err);
    vent_workspace *ws = net ? vent_workspace_new(net, err) : NULL;
    vent_solution *s = ws ? vent_network_solve(net, ws, err) : NULL;
    if (s)
        vent_network_set_wind_pressure(net, 5, err);
    if (s)
        vent_network_solve_into(net, ws, s, err);
    vent_network *copy = net && err->status == VENT_OK ? vent_network_copy(net, err) : NULL;
    vent_network_set_height(copy, top, 9, copy ? err : NULL);
    double discharge = vent_solution_discharge_flow(s);
    vent_network_free(copy);
    vent_solution_free(s);
    vent_workspace_free(ws);
    vent_network_free(net);
    vent_fan_free(fan);
    return discharge;
}

/* A stack of which length, bore, factor, angle and air differ from case to case. */
static vent_network *varied_stack(vent_error *err)
{
    vent_air air = vent_air_moist(286.15, 98300, 1, err);
    vent_network *net = vent_network_new(air, air, err);
    vent_pipe pipe = vent_pipe_find("PVC 40", 3 * VENT_INCH, err);
    int a = vent_network_suction_point(net, "a", vent_soil_power(4e-4, 0.6, err), err);
    int b = vent_network_suction_point(net, "b", vent_soil_power(6e-4, 0.6, err), err);
    int tee = vent_network_junction(net, "tee", vent_wye(VENT_RADIANS(45), err), err);
    int top = vent_network_discharge(net, "top", vent_open_end(), 8, err);
    vent_network_run(net, "leg a", a, tee, pipe, 3, err);
    vent_network_run(net, "leg b", b, tee, pipe, 5, err);
    int riser = vent_network_run(net, "riser", tee, top, pipe, 8, err);
    vent_network_fitting(net, riser, vent_elbow(VENT_RADIANS(90), 1.5, err), 2, err);
    vent_network_set_wind_pressure(net, -90, err);
    return net;
}

enum { VARIED = 5, MOST_CASES = 5000 };

/* Solves that many cases of it; the last flow. */
static double solve_cases(const vent_network *net, size_t cases, vent_error *err)
{
    static const char *NAMES[VARIED] = {"riser.length", "leg b.bore", "riser.factor", "tee.angle",
                                        "soil_gas_temperature"};
    static double flow[MOST_CASES];
    double value[VARIED];
    vent_varied varied[VARIED];
    for (int i = 0; i < VARIED; ++i) {
        vent_parameter p = vent_network_find_parameter(net, NAMES[i], err);
        value[i] = 1.01 * vent_network_get(net, p, err);
        varied[i] = (vent_varied){p, &value[i], 0};
    }
    vent_observed observed = {vent_network_find_observable(net, "riser.flow", err), flow, 1};
    vent_network_solve_many(net, cases, VARIED, varied, 1, &observed, NULL, err);
    return flow[cases - 1];
}

START_TEST(many_cases_take_no_more_memory_than_few)
{
    vent_error err = VENT_NO_ERROR;
    vent_network *net = varied_stack(&err);
    refuse_request(0);
    double few = solve_cases(net, 5, &err);
    long for_few = requests_made();
    refuse_request(0);
    double many = solve_cases(net, MOST_CASES, &err);
    long for_many = requests_made();
    refuse_request(0);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    ck_assert_int_eq(for_many, for_few);
    ck_assert_double_eq(many, few);
    for (long k = 1; k <= for_few; ++k) {
        vent_error each = VENT_NO_ERROR;
        refuse_request(k);
        solve_cases(net, 5, &each);
        refuse_request(0);
        ck_assert_msg(each.status == VENT_E_MEMORY, "refusal %ld: %d '%s'", k, each.status,
                      each.message);
    }
    vent_network_free(net);
}
END_TEST

START_TEST(every_refusal_is_an_error)
{
    vent_error err = VENT_NO_ERROR;
    refuse_request(0);
    double want = whole_job(&err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    long refusals = 0;
    for (long k = 1;; ++k) {
        vent_error each = VENT_NO_ERROR;
        refuse_request(k);
        double got = whole_job(&each);
        refuse_request(0);
        if (each.status == VENT_OK) {
            ck_assert_double_eq(got, want);
            break;
        }
        ck_assert_msg(each.status == VENT_E_MEMORY, "refusal %ld: %d '%s'", k, each.status,
                      each.message);
        ++refusals;
    }
    ck_assert_int_gt(refusals, 10);
}
END_TEST

START_TEST(repeated_solves_ask_for_nothing)
{
    const double flow[] = {0, 0.02, 0.04, 0.06}, pressure[] = {400, 350, 200, 0};
    vent_error err = VENT_NO_ERROR;
    vent_air air = vent_air_moist(286.15, 98300, 1, &err);
    vent_fan *fan = vent_fan_new("example", 4, flow, pressure, &err);
    vent_network *net = vent_network_new(air, air, &err);
    int pit = vent_network_suction_point(net, "pit", vent_soil_power(4e-4, 0.6, &err), &err);
    int top = vent_network_discharge(net, "top", vent_open_end(), 8, &err);
    int run = vent_network_run(net, "run", pit, top, vent_pipe_round(0.08, 0, &err), 9, &err);
    vent_network_fan(net, run, fan, &err);
    vent_workspace *ws = vent_workspace_new(net, &err);
    vent_solution *s = vent_network_solve(net, ws, &err);
    ck_assert_msg(s != NULL, "%s", err.message);
    double curve[2] = {0.01, 0.02}, needed[2];
    int solved = 0;
    refuse_request(0); /* Check's own assertions ask for memory, so they come after the count */
    for (int i = 0; i < 100; ++i)
        solved += vent_network_solve_into(net, ws, s, &err);
    size_t missing = vent_network_system_curve(net, ws, 0, 2, curve, needed, &err);
    long count = requests_made();
    ck_assert_int_eq(count, 0);
    ck_assert_int_eq(solved, 100);
    ck_assert_uint_eq(missing, 0);
    vent_solution_free(s);
    vent_workspace_free(ws);
    vent_network_free(net);
    vent_fan_free(fan);
}
END_TEST

START_TEST(repeated_solves_of_loops_ask_for_nothing)
{
    uint64_t state = 9;
    for (int i = 0; i < 6; ++i) {
        vent_error err = VENT_NO_ERROR;
        vent_network *net = tree_grid(4, 4, &state);
        vent_workspace *ws = vent_workspace_new(net, &err);
        vent_solution *s = vent_network_solve(net, ws, &err);
        ck_assert_msg(s != NULL, "%s", err.message);
        int solved = 0;
        refuse_request(0);
        for (int j = 0; j < 10; ++j)
            solved += vent_network_solve_into(net, ws, s, &err);
        long count = requests_made();
        ck_assert_int_eq(count, 0);
        ck_assert_int_eq(solved, 10);
        vent_solution_free(s);
        vent_workspace_free(ws);
        vent_network_free(net);
    }
}
END_TEST

Suite *memory_suite(void)
{
    Suite *suite = suite_create("memory");
    TCase *refusal = tcase_create("refusal");
    tcase_add_test(refusal, every_refusal_is_an_error);
    suite_add_tcase(suite, refusal);
    TCase *thrift = tcase_create("thrift");
    tcase_add_test(thrift, repeated_solves_ask_for_nothing);
    tcase_add_test(thrift, many_cases_take_no_more_memory_than_few);
    tcase_add_test(thrift, repeated_solves_of_loops_ask_for_nothing);
    suite_add_tcase(suite, thrift);
    return suite;
}
