/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Runs that close loops, and several points of discharge. */
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

/* A run of no length that costs K, in a round pipe. */
static int resistance(vent_network *net, const char *name, int from, int to, double bore, double k,
                      vent_error *err)
{
    int run = vent_network_run(net, name, from, to, vent_pipe_round(bore, 0, err), 0, err);
    vent_network_fitting(net, run, vent_fitting_constant(k, 0, err), 1, err);
    return run;
}

/* Douglas, Gasiorek & Swaffield, Fluid Mechanics, example 14.3 (reprint: worked in a public
 * collection of textbook examples): pipes of 50 and 100 mm in parallel under a head of 10 m, each 100 m
 * long with a Fanning factor of 0.008 and 1.5 velocity heads at its ends, carry 0.0034 and 0.0190 m3/s.
 * Flow under a head depends on no density, so air does as well as water. */
START_TEST(published_parallel_pipes)
{
    vent_error err = VENT_NO_ERROR;
    vent_air air = vent_air_moist(293.15, 101325, 0, &err);
    vent_network *net = vent_network_new(air, air, &err);
    int pit = vent_network_suction_point(net, "reservoir", vent_soil_two_term(1e-9, 0, &err), &err);
    int a = vent_network_junction(net, "a", vent_junction_lossless(), &err);
    int b = vent_network_junction(net, "b", vent_junction_lossless(), &err);
    int roof = vent_network_discharge(net, "lower reservoir", vent_open_end(), 0, &err);
    resistance(net, "in", pit, a, 10, 0, &err);
    double friction = 4 * 0.008 * 100;
    int small = resistance(net, "small", a, b, 0.05, friction / 0.05 + 1.5, &err);
    int large = resistance(net, "large", a, b, 0.1, friction / 0.1 + 1.5, &err);
    int out = resistance(net, "out", b, roof, 10, 0, &err);
    vent_network_set_wind_pressure(net, -air.density * VENT_GRAVITY * 10, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    vent_solution *s = solve(net);
    ck_assert_double_eq_tol(vent_solution_flow(s, small), 0.0034, 0.00005);
    ck_assert_double_eq_tol(vent_solution_flow(s, large), 0.0190, 0.00005);
    ck_assert_double_eq_tol(vent_solution_flow(s, out), 0.0224, 0.00005);
    vent_solution_free(s);
    vent_network_free(net);
}
END_TEST

/* A bridge of equal resistances is balanced: nothing moves in its cross-link. Out of balance air moves
 * the way the pressures say, and a cross-link that is given the other way round carries it backwards. */
START_TEST(bridge)
{
    for (int turned = 0; turned < 2; ++turned)
        for (int uneven = 0; uneven < 2; ++uneven) {
            vent_error err = VENT_NO_ERROR;
            vent_air air = vent_air_moist(293.15, 101325, 0, &err);
            vent_network *net = vent_network_new(air, air, &err);
            int pit = vent_network_suction_point(net, "pit", vent_soil_two_term(10, 0, &err), &err);
            int top = vent_network_discharge(net, "top", vent_open_end(), 0, &err);
            int at[4];
            const char *name[] = {"a", "left", "right", "b"};
            for (int i = 0; i < 4; ++i)
                at[i] = vent_network_junction(net, name[i], vent_junction_lossless(), &err);
            resistance(net, "in", pit, at[0], 0.1, 1, &err);
            resistance(net, "lower left", at[0], at[1], 0.1, 3, &err);
            resistance(net, "upper left", at[1], at[3], 0.1, 3, &err);
            resistance(net, "lower right", at[0], at[2], 0.1, uneven ? 9 : 3, &err);
            resistance(net, "upper right", at[2], at[3], 0.1, 3, &err);
            int link =
                resistance(net, "link", at[turned ? 2 : 1], at[turned ? 1 : 2], 0.1, 2, &err);
            resistance(net, "out", at[3], top, 0.1, 1, &err);
            vent_network_set_wind_pressure(net, -200, &err);
            ck_assert_msg(err.status == VENT_OK, "%s", err.message);
            vent_solution *s = solve(net);
            double flow = vent_solution_flow(s, link), all = vent_solution_discharge_flow(s);
            if (uneven)
                ck_assert(turned ? flow < -0.05 * all : flow > 0.05 * all);
            else
                ck_assert(fabs(flow) < 1e-9 * all);
            vent_solution_free(s);
            vent_network_free(net);
        }
}
END_TEST

/* Two stacks on one manifold share the air evenly if they are alike; one of a half the height share
 * takes more from the lower. Together they pass what the pits give. */
START_TEST(two_discharges)
{
    vent_error err = VENT_NO_ERROR;
    vent_air air = vent_air_moist(293.15, 101325, 0, &err);
    vent_network *net = vent_network_new(air, air, &err);
    int pit = vent_network_suction_point(net, "pit", vent_soil_two_term(100, 0, &err), &err);
    int tee = vent_network_junction(net, "tee", vent_junction_lossless(), &err);
    int east = vent_network_discharge(net, "east", vent_open_end(), 3, &err);
    int west = vent_network_discharge(net, "west", vent_open_end(), 3, &err);
    vent_pipe pipe = vent_pipe_find("PVC 40", 3 * VENT_INCH, &err);
    int in = vent_network_run(net, "in", pit, tee, pipe, 4, &err);
    int to_east = vent_network_run(net, "to east", tee, east, pipe, 6, &err);
    int to_west = vent_network_run(net, "to west", tee, west, pipe, 6, &err);
    vent_network_set_wind_pressure(net, -100, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    vent_solution *s = solve(net);
    double all = vent_solution_mass_flow(s, in);
    ck_assert_double_eq_tol(vent_solution_mass_flow(s, to_east), all / 2, 1e-10 * all);
    ck_assert_double_eq_tol(vent_solution_mass_flow(s, to_west), all / 2, 1e-10 * all);
    ck_assert_double_eq_tol(vent_solution_discharge_flow(s), vent_solution_flow(s, in), 1e-12);
    vent_solution_free(s);
    vent_network_free(net);
}
END_TEST

/* Two alike pits, each of which draws on the other's soil: to each it is as if its own were tighter by as
 * much. Soil that is not alike: the equations of two resistances in parallel with one in common. */
START_TEST(coupled_soil)
{
    for (int coupled = 0; coupled < 2; ++coupled) {
        vent_error err = VENT_NO_ERROR;
        vent_air air = vent_air_moist(293.15, 101325, 0, &err);
        vent_network *net = vent_network_new(air, air, &err);
        const double own = 2000, shared = 700;
        vent_soil soil = vent_soil_two_term(coupled ? own : own + shared, 0, &err);
        int a = vent_network_suction_point(net, "a", soil, &err);
        int b = vent_network_suction_point(net, "b", soil, &err);
        int tee = vent_network_junction(net, "tee", vent_junction_lossless(), &err);
        int top = vent_network_discharge(net, "top", vent_open_end(), 0, &err);
        int left = resistance(net, "left", a, tee, 0.08, 2, &err);
        resistance(net, "right", b, tee, 0.08, 2, &err);
        int out = resistance(net, "out", tee, top, 0.1, 1, &err);
        vent_network_set_wind_pressure(net, -150, &err);
        if (coupled)
            vent_network_couple(net, a, b, shared, &err);
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        vent_solution *s = solve(net);
        static double flow[2], vacuum[2];
        flow[coupled] = vent_solution_flow(s, out);
        vacuum[coupled] = -vent_solution_pressure(s, a);
        ck_assert_double_eq_tol(vacuum[coupled], (own + shared) * vent_solution_flow(s, left),
                                1e-9);
        ck_assert_double_eq_tol(flow[coupled], flow[0], 1e-12);
        ck_assert_double_eq_tol(vacuum[coupled], vacuum[0], 1e-9);
        vent_solution_free(s);
        vent_network_free(net);
    }
}
END_TEST

START_TEST(couplings_that_cannot_be)
{
    vent_error err = VENT_NO_ERROR;
    vent_air air = vent_air_moist(293.15, 101325, 0, &err);
    vent_network *net = vent_network_new(air, air, &err);
    int a = vent_network_suction_point(net, "a", vent_soil_two_term(10, 0, &err), &err);
    int b = vent_network_suction_point(net, "b", vent_soil_two_term(10, 0, &err), &err);
    int tee = vent_network_junction(net, "tee", vent_junction_lossless(), &err);
    const struct {
        int a, b;
        double resistance;
        int status;
        const char *says;
    } row[] = {{a, a, 1, VENT_E_ARGUMENT, "'a'"},
               {a, tee, 1, VENT_E_NOT_FOUND, "'tee'"},
               {a, 9, 1, VENT_E_NOT_FOUND, "node 9"},
               {a, b, -1, VENT_E_ARGUMENT, "resistance"},
               {a, b, NAN, VENT_E_ARGUMENT, "resistance"},
               {a, b, 10.01, VENT_E_ARGUMENT, "'a' and 'b' share 10.01"}};
    for (size_t i = 0; i < sizeof row / sizeof *row; ++i) {
        vent_error bad = VENT_NO_ERROR;
        ck_assert(!vent_network_couple(net, row[i].a, row[i].b, row[i].resistance, &bad));
        ck_assert_int_eq(bad.status, row[i].status);
        ck_assert_msg(strstr(bad.message, row[i].says), "%s", bad.message);
    }
    ck_assert(vent_network_couple(net, a, b, 10, &err)); /* one and the same pit, seen twice */
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    vent_network_free(net);
}
END_TEST

/* A soil that gives back more than it takes: refused whatever the order in which it came about. */
START_TEST(soil_that_does_not_only_resist)
{
    vent_error err = VENT_NO_ERROR;
    vent_air air = vent_air_moist(293.15, 101325, 0, &err);
    vent_network *net = vent_network_new(air, air, &err);
    int a = vent_network_suction_point(net, "a", vent_soil_two_term(2000, 0, &err), &err);
    int b = vent_network_suction_point(net, "b", vent_soil_two_term(500, 1e5, &err), &err);
    int c = vent_network_suction_point(net, "c", vent_soil_power(1e-3, 0.6, &err), &err);
    int tee = vent_network_junction(net, "tee", vent_junction_lossless(), &err);
    int top = vent_network_discharge(net, "top", vent_open_end(), 0, &err);
    resistance(net, "left", a, tee, 0.08, 2, &err);
    resistance(net, "right", b, tee, 0.08, 2, &err);
    resistance(net, "third", c, tee, 0.08, 2, &err);
    resistance(net, "out", tee, top, 0.1, 1, &err);
    vent_network_set_wind_pressure(net, -150, &err);
    vent_network_couple(net, a, b, 900, &err);
    vent_network_couple(net, b, c, 5000, &err); /* of a power law nothing is known at rest */
    vent_solution_free(solve(net));
    vent_parameter shared = vent_network_find_parameter(net, "a~b.resistance", &err);
    vent_parameter own = vent_network_find_parameter(net, "a.a", &err);
    ck_assert(vent_network_set(net, own, 1000, &err)); /* on the way to other numbers */
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    vent_error bad = VENT_NO_ERROR;
    ck_assert_ptr_null(vent_network_solve(net, NULL, &bad));
    ck_assert_int_eq(bad.status, VENT_E_ARGUMENT);
    ck_assert_msg(strstr(bad.message, "'a' and 'b' share 900") && strstr(bad.message, "707.107"),
                  "%s", bad.message);
    vent_network_set(net, shared, 700, &err);
    vent_solution_free(solve(net));
    vent_network_free(net);
}
END_TEST

/* "a~b" with "c" and "a" with "b~c" would both be a~b~c.resistance. */
START_TEST(couplings_have_addresses_of_their_own)
{
    vent_error err = VENT_NO_ERROR;
    vent_air air = vent_air_moist(293.15, 101325, 0, &err);
    vent_network *net = vent_network_new(air, air, &err);
    static const char *const names[] = {"a", "b~c", "a~b", "c"};
    int pit[4];
    for (int i = 0; i < 4; ++i)
        pit[i] = vent_network_suction_point(net, names[i], vent_soil_two_term(1e3, 0, &err), &err);
    ck_assert(vent_network_couple(net, pit[0], pit[1], 10, &err));
    for (int turned = 0; turned < 2; ++turned) {
        vent_error bad = VENT_NO_ERROR;
        ck_assert(!vent_network_couple(net, pit[turned ? 3 : 2], pit[turned ? 2 : 3], 20, &bad));
        ck_assert_int_eq(bad.status, VENT_E_DUPLICATE);
        ck_assert_msg(strstr(bad.message, "'a~b'") && strstr(bad.message, "'b~c'"), "%s",
                      bad.message);
    }
    ck_assert(vent_network_couple(net, pit[1], pit[0], 30, &err)); /* the same pair again */
    ck_assert(vent_network_couple(net, pit[0], pit[2], 30, &err)); /* a~a~b */
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    vent_parameter p = vent_network_find_parameter(net, "a~b~c.resistance", &err);
    ck_assert_double_eq(vent_network_get(net, p, &err), 30);
    vent_network_free(net);
}
END_TEST

/* The slope of an equivalent source against a difference quotient: the run that leaves a node gets more and
 * less resistance, and pressure and flow follow the line. Through loops and shared soil too. */
static int slopes_that_differ(const vent_network *net)
{
    int wrong = 0;
    for (int node = 0; node < vent_network_node_count(net); ++node) {
        vent_error err = VENT_NO_ERROR;
        vent_network *other = vent_network_copy(net, &err);
        int run = 0, from = -1, to;
        while (vent_network_run_ends(other, run, &from, &to) && from != node)
            ++run;
        if (from != node || run >= vent_network_run_count(net)) {
            vent_network_free(other);
            continue;
        }
        int item = vent_network_fitting(other, run, vent_fitting_constant(2, 0, &err), 1, &err);
        vent_parameter k =
            vent_network_parameter(other, VENT_PARAMETER_FITTING, run, item, 0, &err);
        vent_parameter back =
            vent_network_parameter(other, VENT_PARAMETER_FITTING, run, item, 1, &err);
        vent_solution *middle = vent_network_solve(other, NULL, &err);
        double pressure[2] = {0}, flow[2] = {0};
        for (int side = 0; side < 2; ++side) {
            vent_network_set(other, k, side ? 2.001 : 1.999, &err);
            vent_network_set(other, back, side ? 2.001 : 1.999, &err);
            vent_solution *s = vent_network_solve(other, NULL, &err);
            pressure[side] = vent_solution_pressure(s, node);
            flow[side] = vent_solution_mass_flow(s, run);
            vent_solution_free(s);
        }
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        vent_equivalent_source source = vent_solution_source(middle, node);
        double moved = flow[1] - flow[0], fell = pressure[0] - pressure[1];
        ck_assert(source.mass_flow == vent_solution_mass_flow(middle, run));
        double noise = 1e-11 * vent_solution_convergence(middle).pressure_scale;
        if (fabs(moved) > 1e-9 * fabs(source.mass_flow) &&
            fabs(source.slope * moved - fell) > 1e-4 * fabs(fell) + noise) {
            fprintf(stderr, "node %d: slope %.10g, differences %.10g\n", node, source.slope,
                    fell / moved);
            ++wrong;
        }
        vent_solution_free(middle);
        vent_network_free(other);
    }
    return wrong;
}

START_TEST(equivalent_sources_answer_through_loops)
{
    uint64_t state = 31;
    int wrong = 0;
    for (int i = 0; i < 12; ++i) {
        vent_network *net = tree_with_links(4 + i, 1 + i % 4, &state);
        wrong += slopes_that_differ(net);
        vent_network_free(net);
    }
    ck_assert_int_eq(wrong, 0);
}
END_TEST

/* ---- random networks -------------------------------------------------------------------------- */

static void check_ledger(const vent_network *net, const vent_solution *s)
{
    double pressure, mass;
    tree_balances(net, s, &pressure, &mass);
    ck_assert_msg(pressure <= 1e-11 && mass <= 1e-12, "ledger: pressure %g, mass %g", pressure,
                  mass);
}

/* Every law and balance, recomputed apart from the library, and the ledger's own sums. */
static void check_balances(const tree *t, const vent_network *net, const vent_solution *s)
{
    double pressure, mass;
    tree_residuals(t, s, &pressure, &mass);
    ck_assert_msg(pressure <= 1e-12 && mass <= 1e-12, "pressure %g, mass %g", pressure, mass);
    check_ledger(net, s);
}

/* Links, a second discharge, coupled soil. */
START_TEST(random_networks_with_loops)
{
    static tree t;
    uint64_t state = 143;
    for (int i = 0; i < 400; ++i) {
        vent_error err = VENT_NO_ERROR;
        tree_random(&t, 3 + i % 60, true, &state);
        tree_link(&t, 1 + i % 7, &state);
        vent_network *net = tree_network(&t, &err);
        vent_solution *s = vent_network_solve(net, NULL, &err);
        ck_assert_msg(s != NULL, "network %d: %s", i, err.message);
        check_balances(&t, net, s);
        vent_solution_free(s);
        vent_network_free(net);
        tree_free(&t);
    }
}
END_TEST

/* Networks whose point is found by the path alone: Newton's method stops at a fold of the residual, two links turn
 * at once, or the laws turn back where a leg of a junction turns. */
START_TEST(points_by_the_path)
{
    static const struct {
        int runs, links;
        uint64_t state;
    } row[] = {{6, 4, 316942138},
               {6, 4, 405318178},
               {7, 5, 221684487},
               {10, 3, 206978904},
               {11, 4, 464037563}};
    static tree t;
    for (size_t i = 0; i < sizeof row / sizeof *row; ++i) {
        vent_error err = VENT_NO_ERROR;
        uint64_t state = row[i].state;
        tree_random(&t, row[i].runs, true, &state);
        tree_link(&t, row[i].links, &state);
        vent_network *net = tree_network(&t, &err);
        vent_solution *s = vent_network_solve(net, NULL, &err);
        ck_assert_msg(s != NULL, "network %zu: %s", i, err.message);
        check_balances(&t, net, s);
        vent_solution_free(s);
        vent_network_free(net);
        tree_free(&t);
    }
}
END_TEST

/* Two stacks of their own, each a trunk, a riser and a side pit with a fan at a double wye that a further
 * discharge leaves. What a link of one carries, built before the other's or after it. */
static double carried(bool built_first)
{
    static const char *NAMES[] = {"pit",   "side pit", "wye",    "roof",   "vent",      "trunk",
                                  "riser", "side",     "link",   "pit2",   "side pit2", "wye2",
                                  "roof2", "vent2",    "trunk2", "riser2", "side2",     "link2"};
    const double flow[] = {0, 0.1}, pressure[] = {500, 100};
    vent_error err = VENT_NO_ERROR;
    vent_air gas = vent_air_moist(286, 98300, 1, &err);
    vent_network *net = vent_network_new(gas, gas, &err);
    vent_fan *fan = vent_fan_new("fan", 2, flow, pressure, &err);
    vent_pipe wide = vent_pipe_round(0.1, 0, &err), narrow = vent_pipe_round(0.05, 0, &err);
    vent_soil soil = vent_soil_power(1e-3, 0.6, &err);
    int wye[2], vent[2], link[2];
    for (int i = 0; i < 2; ++i) {
        const char **name = NAMES + 9 * i;
        int pit = vent_network_suction_point(net, name[0], soil, &err);
        int side = vent_network_suction_point(net, name[1], soil, &err);
        wye[i] = vent_network_junction(net, name[2], vent_double_wye(VENT_RADIANS(60), &err), &err);
        int roof = vent_network_discharge(net, name[3], vent_open_end(), 5, &err);
        vent[i] = vent_network_discharge(net, name[4], vent_open_end(), 5, &err);
        vent_network_run(net, name[5], wye[i], roof, wide, 5, &err);
        vent_network_run(net, name[6], pit, wye[i], wide, 5, &err);
        int blown = vent_network_run(net, name[7], side, wye[i], wide, 2, &err);
        vent_network_fan(net, blown, fan, &err);
    }
    for (int i = 0; i < 2; ++i) {
        int at = built_first ? i : 1 - i;
        link[at] = vent_network_run(net, NAMES[9 * at + 8], wye[at], vent[at], narrow, 5, &err);
    }
    vent_solution *s = vent_network_solve(net, NULL, &err);
    ck_assert_msg(s != NULL, "%s", err.message);
    double found = vent_solution_flow(s, link[0]);
    ck_assert_double_eq_tol(vent_solution_flow(s, link[1]), found, 1e-14);
    vent_solution_free(s);
    vent_fan_free(fan);
    vent_network_free(net);
    return found;
}

/* The side on which a link leaves a double wye is its own matter; links elsewhere do not change it. */
START_TEST(side_of_a_link)
{
    ck_assert_double_eq_tol(carried(true), carried(false), 1e-14);
}
END_TEST

START_TEST(random_grids)
{
    uint64_t state = 31;
    for (int i = 0; i < 120; ++i) {
        vent_network *net = tree_grid(2 + i % 8, 2 + i % 15, &state);
        ck_assert(net);
        vent_error err = VENT_NO_ERROR;
        vent_solution *s = vent_network_solve(net, NULL, &err);
        ck_assert_msg(s != NULL, "grid %d: %s", i, err.message);
        check_ledger(net, s);
        vent_solution_free(s);
        vent_network_free(net);
    }
}
END_TEST

/* A workspace that solved something else of the same shape gives the bits of a fresh one. */
START_TEST(used_workspaces_give_the_same_bits)
{
    uint64_t state = 5;
    for (int i = 0; i < 20; ++i) {
        uint64_t again = state;
        vent_network *net = tree_grid(3, 5, &state), *other = tree_grid(3, 5, &again);
        vent_error err = VENT_NO_ERROR;
        vent_solution *fresh = vent_network_solve(net, NULL, &err);
        ck_assert_msg(fresh, "%s", err.message);
        vent_workspace *ws = vent_workspace_new(other, &err);
        vent_network_set_wind_pressure(other, 20, &err);
        vent_solution_free(vent_network_solve(other, ws, &err));
        vent_solution *used = vent_network_solve(net, ws, &err);
        ck_assert_msg(used, "%s", err.message);
        for (int r = 0; r < vent_network_run_count(net); ++r)
            ck_assert_double_eq(vent_solution_mass_flow(used, r),
                                vent_solution_mass_flow(fresh, r));
        vent_solution_free(used);
        vent_solution_free(fresh);
        vent_workspace_free(ws);
        vent_network_free(net);
        vent_network_free(other);
    }
}
END_TEST

/* One shape, solved lossless and with wyes by turns in one workspace. */
START_TEST(one_workspace_for_every_junction_law)
{
    vent_error err = VENT_NO_ERROR;
    vent_air air = vent_air_moist(286, 98300, 1, &err);
    vent_network *net[2];
    vent_workspace *ws = NULL;
    for (int i = 0; i < 2; ++i) {
        vent_junction law = i ? vent_wye(VENT_RADIANS(45), &err) : vent_junction_lossless();
        net[i] = vent_network_new(air, air, &err);
        int pit = vent_network_suction_point(net[i], "pit", vent_soil_power(1e-3, 0.7, &err), &err);
        int a = vent_network_junction(net[i], "a", law, &err);
        int b = vent_network_junction(net[i], "b", law, &err);
        int roof = vent_network_discharge(net[i], "roof", vent_open_end(), 6, &err);
        resistance(net[i], "in", pit, a, 0.1, 1, &err);
        resistance(net[i], "one", a, b, 0.1, 2, &err);
        resistance(net[i], "other", a, b, 0.08, 3, &err);
        resistance(net[i], "out", b, roof, 0.1, 1, &err);
        vent_network_set_wind_pressure(net[i], -100, &err);
    }
    ws = vent_workspace_new(net[0], &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    for (int turn = 0; turn < 4; ++turn) {
        vent_solution *used = vent_network_solve(net[turn % 2], ws, &err);
        vent_solution *fresh = solve(net[turn % 2]);
        ck_assert_msg(used, "%s", err.message);
        for (int r = 0; r < 4; ++r)
            ck_assert_double_eq(vent_solution_flow(used, r), vent_solution_flow(fresh, r));
        vent_solution_free(used);
        vent_solution_free(fresh);
    }
    vent_workspace_free(ws);
    vent_network_free(net[0]);
    vent_network_free(net[1]);
}
END_TEST

Suite *loops_suite(void)
{
    Suite *suite = suite_create("loops");
    TCase *values = tcase_create("values");
    tcase_add_test(values, published_parallel_pipes);
    tcase_add_test(values, bridge);
    tcase_add_test(values, two_discharges);
    tcase_add_test(values, coupled_soil);
    tcase_add_test(values, couplings_that_cannot_be);
    tcase_add_test(values, soil_that_does_not_only_resist);
    tcase_add_test(values, couplings_have_addresses_of_their_own);
    TCase *networks = tcase_create("networks");
    tcase_add_test(networks, random_networks_with_loops);
    tcase_add_test(networks, equivalent_sources_answer_through_loops);
    tcase_add_test(networks, points_by_the_path);
    tcase_add_test(networks, random_grids);
    tcase_add_test(networks, used_workspaces_give_the_same_bits);
    tcase_add_test(networks, one_workspace_for_every_junction_law);
    tcase_add_test(values, side_of_a_link);
    suite_add_tcase(suite, values);
    suite_add_tcase(suite, networks);
    return suite;
}
