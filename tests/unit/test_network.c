/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suites.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <ventstack/ventstack.h>

#include "csv.h"
#include "tree.h"

/* ---- a small stack that most tests start from --------------------------------------------- */

typedef struct small {
    vent_network *net;
    int pit, roof, riser, fan;
} small;

static vent_air soil_gas(void)
{
    return vent_air_moist(286.15, 98300, 1, NULL);
}

static vent_air outdoors(void)
{
    return vent_air_moist(268.15, 98300, 0.8, NULL);
}

static vent_fan *falling_fan(void)
{
    const double flow[] = {0, 0.014, 0.028, 0.042, 0.056, 0.07};
    const double pressure[] = {470, 420, 350, 250, 120, 0};
    return vent_fan_new("falling", 6, flow, pressure, NULL);
}

static small small_stack(void)
{
    small s;
    vent_error err = VENT_NO_ERROR;
    vent_fan *fan = falling_fan();
    s.net = vent_network_new(soil_gas(), outdoors(), &err);
    s.pit =
        vent_network_suction_point(s.net, "store room", vent_soil_power(4.2e-4, 0.62, &err), &err);
    s.roof = vent_network_discharge(s.net, "ridge", vent_open_end(), 7.9, &err);
    s.riser = vent_network_run(s.net, "riser", s.pit, s.roof,
                               vent_pipe_find("PVC 40", 3 * VENT_INCH, &err), 11.6, &err);
    vent_network_fitting(s.net, s.riser, vent_elbow(VENT_RADIANS(90), 1.5, &err), 2, &err);
    s.fan = vent_network_fan(s.net, s.riser, fan, &err);
    vent_fan_free(fan);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return s;
}

static vent_solution *solve(const vent_network *net)
{
    vent_error err = VENT_NO_ERROR;
    vent_solution *solution = vent_network_solve(net, NULL, &err);
    ck_assert_msg(solution != NULL, "%s", err.message);
    return solution;
}

static void near(double got, double want, double relative)
{
    ck_assert_msg(fabs(got - want) <= relative * fabs(want), "got %.17g, want %.17g", got, want);
}

/* ---- closed forms ------------------------------------------------------------------------- */

/* A straight fan p0 (1 - Q/Q0), soil b Q^2, one constant K on a pipe of no length: a quadratic. */
START_TEST(quadratic_system)
{
    const double p0 = 400, q0 = 0.08, b = 4e4, k = 3.5, bore = 0.08;
    vent_error err = VENT_NO_ERROR;
    vent_air air = vent_air_moist(293.15, 101325, 0, &err);
    const double flow[] = {0, q0}, pressure[] = {p0, 0};
    vent_fan *fan = vent_fan_new_at("straight", 2, flow, pressure, NULL, air.density, &err);
    vent_network *net = vent_network_new(air, air, &err);
    int pit = vent_network_suction_point(net, "pit", vent_soil_two_term(0, b, &err), &err);
    int top = vent_network_discharge(net, "top", vent_open_end(), 3, &err);
    int run = vent_network_run(net, "run", pit, top, vent_pipe_round(bore, 0, &err), 0, &err);
    vent_network_fitting(net, run, vent_fitting_constant(k, 0, &err), 1, &err);
    vent_network_fan(net, run, fan, &err);
    vent_solution *s = solve(net);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    double area = VENT_PI * bore * bore / 4;
    double r = b + (k + 1) * air.density / (2 * area * area);
    double want = (-p0 / q0 + sqrt(p0 * p0 / (q0 * q0) + 4 * r * p0)) / (2 * r);
    near(vent_solution_flow(s, run), want, 1e-12);
    near(vent_solution_pressure(s, pit), -b * want * want, 1e-12);
    vent_solution_free(s);
    vent_network_free(net);
    vent_fan_free(fan);
}
END_TEST

/* Laminar flow through one long thin pipe: Hagen-Poiseuille, exact. */
START_TEST(laminar_pipe)
{
    vent_error err = VENT_NO_ERROR;
    vent_air air = vent_air_moist(293.15, 101325, 0, &err);
    const double flow[] = {0, 1e-3}, pressure[] = {50, 50 - 1e-3 * 1e3};
    vent_fan *fan = vent_fan_new_at("weak", 2, flow, pressure, NULL, air.density, &err);
    vent_network *net = vent_network_new(air, air, &err);
    int pit = vent_network_suction_point(net, "pit", vent_soil_two_term(1e3, 0, &err), &err);
    int top = vent_network_discharge(net, "top", vent_open_end(), 0, &err);
    double bore = 0.01, length = 200, area = VENT_PI * bore * bore / 4;
    int run = vent_network_run(net, "run", pit, top, vent_pipe_round(bore, 0, &err), length, &err);
    vent_network_fan(net, run, fan, &err);
    vent_solution *s = solve(net);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    double poiseuille = 128 * air.viscosity * length / (VENT_PI * pow(bore, 4));
    double r = air.density / (2 * area * area), a = 1e3 + 1e3 + poiseuille;
    double want = (-a + sqrt(a * a + 4 * r * 50)) / (2 * r);
    near(vent_solution_flow(s, run), want, 1e-11);
    ck_assert_double_lt(vent_solution_reynolds(s, run), 2000);
    vent_solution_free(s);
    vent_network_free(net);
    vent_fan_free(fan);
}
END_TEST

/* Fans in series (two in one run) against the closed form of handbook section 6: p0 (1-(Q/Q0)^2)
 * given densely; units of the closed form taken as m3/s 1e-3 and Pa. */
START_TEST(series_fans_closed_form)
{
    enum { N = 401 };
    double flow[N], pressure[N];
    for (int i = 0; i < N; ++i) {
        flow[i] = 0.2 * i / (N - 1);
        pressure[i] = 200 * (1 - pow((double)i / (N - 1), 2));
    }
    for (int fans = 1; fans <= 2; ++fans) {
        vent_error err = VENT_NO_ERROR;
        vent_air air = vent_air_moist(293.15, 101325, 0, &err);
        vent_fan *fan = vent_fan_new_at("parabola", N, flow, pressure, NULL, air.density, &err);
        vent_network *net = vent_network_new(air, air, &err);
        double bore = 1.0, area = VENT_PI * bore * bore / 4;
        double b = 1e4 - air.density / (2 * area * area); /* system 1e4 Q^2 with the exit's part */
        int pit = vent_network_suction_point(net, "pit", vent_soil_two_term(0, b, &err), &err);
        int top = vent_network_discharge(net, "top", vent_open_end(), 0, &err);
        int run = vent_network_run(net, "run", pit, top, vent_pipe_round(bore, 0, &err), 0, &err);
        for (int i = 0; i < fans; ++i)
            vent_network_fan(net, run, fan, &err);
        vent_solution *s = solve(net);
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        /* 115.470053838 and 141.421356237 of 200, the interpolation between 401 points apart */
        near(vent_solution_flow(s, run) * 1e3, fans == 1 ? 115.470053838 : 141.421356237, 1e-6);
        vent_solution_free(s);
        vent_network_free(net);
        vent_fan_free(fan);
    }
}
END_TEST

/* Ducts in series, each a run with its whole coefficient; the last gives one of it to its open end. */
START_TEST(published_ducts_in_series)
{
    enum { MOST = 8 };
    double area[MOST], k[MOST];
    int ducts = 0, checked = 0;
    csv *table = csv_open("network_examples.csv");
    while (csv_next(table)) {
        if (csv_has(table, "area")) {
            ducts = checked ? 0 : ducts; /* the next example begins */
            checked = 0;
            area[ducts] = csv_number(table, "area");
            k[ducts++] = csv_number(table, "k");
            continue;
        }
        vent_error err = VENT_NO_ERROR;
        double density = csv_number(table, "density"), flow = csv_number(table, "flow"), needed;
        vent_air air = {293.15, 101325, 0, 0, density, 1.8e-5};
        vent_fan *fan = falling_fan();
        vent_network *net = vent_network_new(air, air, &err);
        int from = vent_network_suction_point(net, "in", vent_soil_two_term(0, 1e-9, &err), &err);
        for (int i = 0; i < ducts; ++i) {
            char node[8] = {(char)('a' + i), 0}, name[8] = {(char)('A' + i), 0};
            vent_pipe duct = vent_pipe_round(sqrt(area[i] * 4 / VENT_PI), 0, &err);
            bool last = i == ducts - 1;
            int to = last ? vent_network_discharge(net, node, vent_open_end(), 0, &err)
                          : vent_network_junction(net, node, vent_junction_lossless(), &err);
            int run = vent_network_run(net, name, from, to, duct, 0, &err);
            vent_network_fitting(net, run, vent_fitting_constant(k[i] - last, 0, &err), 1, &err);
            if (i == 0)
                vent_network_fan(net, run, fan, &err);
            from = to;
        }
        vent_workspace *ws = vent_workspace_new(net, &err);
        vent_network_system_curve(net, ws, 0, 1, &flow, &needed, &err);
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        csv_expect(table, "pressure", needed, csv_number(table, "relative"), 0);
        ++checked;
        vent_workspace_free(ws);
        vent_network_free(net);
        vent_fan_free(fan);
    }
    csv_close(table);
}
END_TEST

/* Passive stack: the column alone drives; against sqrt(2 dp / (rho K)). */
START_TEST(passive_stack)
{
    vent_error err = VENT_NO_ERROR;
    vent_network *net = vent_network_new(soil_gas(), outdoors(), &err);
    int pit = vent_network_suction_point(net, "pit", vent_soil_two_term(0, 1e-3, &err), &err);
    int top = vent_network_discharge(net, "top", vent_open_end(), 8, &err);
    double bore = 0.1, area = VENT_PI * bore * bore / 4, rho = soil_gas().density;
    int run = vent_network_run(net, "run", pit, top, vent_pipe_round(bore, 0, &err), 0, &err);
    vent_network_fitting(net, run, vent_fitting_constant(2, 0, &err), 1, &err);
    vent_solution *s = solve(net);
    double lift = (outdoors().density - rho) * VENT_GRAVITY * 8;
    ck_assert_double_gt(lift, 0);
    double want = sqrt(lift / (1e-3 + 3 * rho / (2 * area * area)));
    near(vent_solution_flow(s, run), want, 1e-12);
    vent_solution_free(s);
    /* the same column in summer sinks: the stack runs backwards, out into the soil */
    vent_air hot = vent_air_moist(308.15, 98300, 0.4, &err);
    vent_network *summer = vent_network_new(soil_gas(), hot, &err);
    pit = vent_network_suction_point(summer, "pit", vent_soil_power(1e-3, 0.6, &err), &err);
    top = vent_network_discharge(summer, "top", vent_open_end(), 8, &err);
    run = vent_network_run(summer, "run", pit, top, vent_pipe_round(bore, 0, &err), 8, &err);
    s = solve(summer);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    ck_assert_double_lt(vent_solution_flow(s, run), 0);
    ck_assert_double_gt(vent_solution_pressure(s, pit), 0);
    ck_assert(vent_solution_flags(s) & VENT_WARN_REVERSED);
    vent_solution_free(s);
    vent_network_free(net);
    vent_network_free(summer);
}
END_TEST

START_TEST(nothing_drives)
{
    vent_error err = VENT_NO_ERROR;
    vent_air air = vent_air_moist(293.15, 101325, 0.5, &err);
    vent_network *net = vent_network_new(air, air, &err);
    int pit = vent_network_suction_point(net, "pit", vent_soil_power(1e-3, 0.5, &err), &err);
    int top = vent_network_discharge(net, "top", vent_open_end(), 8, &err);
    int run = vent_network_run(net, "run", pit, top, vent_pipe_round(0.1, 0, &err), 8, &err);
    vent_solution *s = solve(net);
    ck_assert_double_eq(vent_solution_flow(s, run), 0);
    ck_assert_double_eq(vent_solution_pressure(s, pit), 0);
    ck_assert_double_eq(vent_solution_exit_velocity(s), 0);
    vent_solution_free(s);
    vent_network_free(net);
}
END_TEST

/* ---- random trees ------------------------------------------------------------------------- */

START_TEST(random_trees)
{
    static tree t;
    uint64_t state = 20;
    for (int i = 0; i < 400; ++i) {
        vent_error err = VENT_NO_ERROR;
        int runs = 1 + (int)tree_uniform(&state, 0, i % 20 == 0 ? 300 : 40);
        tree_random(&t, runs, i % 3 == 0, &state);
        vent_network *net = tree_network(&t, &err);
        vent_solution *s = vent_network_solve(net, NULL, &err);
        ck_assert_msg(s != NULL, "tree %d of %d runs: %s", i, runs, err.message);
        double pressure, mass;
        tree_residuals(&t, s, &pressure, &mass);
        ck_assert_msg(pressure <= 1e-12 && mass <= 1e-14, "tree %d of %d runs: %g %g", i, runs,
                      pressure, mass);
        vent_solution_free(s);
        vent_network_free(net);
        tree_free(&t);
    }
}
END_TEST

START_TEST(reused_workspace_gives_the_same_bits)
{
    static tree t;
    uint64_t state = 77;
    tree_random(&t, 60, true, &state);
    vent_error err = VENT_NO_ERROR;
    vent_network *net = tree_network(&t, &err);
    vent_workspace *ws = vent_workspace_new(net, &err);
    vent_solution *fresh = vent_network_solve(net, NULL, &err);
    vent_solution *s = vent_network_solve(net, ws, &err);
    double low = vent_solution_discharge_flow(s);
    ck_assert_double_eq(low, vent_solution_discharge_flow(fresh));
    vent_network_set_wind_pressure(net, t.wind + 30, &err);
    ck_assert(vent_network_solve_into(net, ws, s, &err));
    ck_assert_double_lt(vent_solution_discharge_flow(s), low);
    vent_network_set_wind_pressure(net, t.wind, &err);
    ck_assert(vent_network_solve_into(net, ws, s, &err));
    for (int i = 0; i < t.runs; ++i)
        ck_assert_double_eq(vent_solution_mass_flow(s, i), vent_solution_mass_flow(fresh, i));
    /* the first solution still shows what it was made from, after the network is gone */
    vent_network_free(net);
    vent_workspace_free(ws);
    double pressure, mass;
    tree_residuals(&t, fresh, &pressure, &mass);
    ck_assert_double_le(pressure, 1e-12);
    vent_solution_free(s);
    vent_solution_free(fresh);
    tree_free(&t);
}
END_TEST

/* Nonsense too has an answer: pipes of any width feed one another, up to four times wider than the pipe
 * they join. */
START_TEST(absurd_trees)
{
    static tree t;
    uint64_t state = 4;
    for (int i = 0; i < 300; ++i) {
        vent_error err = VENT_NO_ERROR;
        tree_random(&t, 1 + (int)tree_uniform(&state, 0, 40), i % 2, &state);
        static const double SIZES[] = {1.5, 2, 3, 4, 6};
        for (int j = 0; j < t.runs; ++j)
            t.run[j].pipe =
                vent_pipe_find("PVC 40", SIZES[(int)tree_uniform(&state, 0, 5)] * VENT_INCH, NULL);
        vent_network *net = tree_network(&t, &err);
        vent_solution *s = vent_network_solve(net, NULL, &err);
        double pressure, mass;
        ck_assert_msg(s != NULL, "tree %d: %s", i, err.message);
        tree_residuals(&t, s, &pressure, &mass);
        ck_assert_msg(pressure <= 1e-12 && mass <= 1e-14, "tree %d: %g %g", i, pressure, mass);
        vent_solution_free(s);
        vent_network_free(net);
        tree_free(&t);
    }
}
END_TEST

START_TEST(million_node_chain)
{
    enum { N = 1000000 };
    vent_error err = VENT_NO_ERROR;
    vent_fan *fan = falling_fan();
    vent_air air = vent_air_moist(286.15, 98300, 1, &err);
    vent_network *net = vent_network_new(air, air, &err);
    vent_pipe pipe = vent_pipe_round(0.1, 1e-5, &err);
    int roof = vent_network_discharge(net, "roof", vent_open_end(), 0, &err);
    int from = vent_network_suction_point(net, "pit", vent_soil_power(1e-3, 0.6, &err), &err);
    char name[24];
    for (int i = 0; i < N; ++i) {
        int to = roof;
        if (i < N - 1) {
            snprintf(name, sizeof name, "n%d", i);
            to = vent_network_junction(net, name, vent_junction_lossless(), &err);
        }
        snprintf(name, sizeof name, "r%d", i);
        vent_network_run(net, name, from, to, pipe, 1e-5, &err);
        from = to;
    }
    vent_network_fan(net, N - 1, fan, &err);
    vent_solution *s = vent_network_solve(net, NULL, &err);
    ck_assert_msg(s != NULL, "%s", err.message);
    /* the same as one run of 10 m */
    vent_network *one = vent_network_new(air, air, &err);
    roof = vent_network_discharge(one, "roof", vent_open_end(), 0, &err);
    int pit = vent_network_suction_point(one, "pit", vent_soil_power(1e-3, 0.6, &err), &err);
    int run = vent_network_run(one, "run", pit, roof, pipe, 1e-5 * N, &err);
    vent_network_fan(one, run, fan, &err);
    vent_solution *single = solve(one);
    near(vent_solution_discharge_flow(s), vent_solution_discharge_flow(single), 1e-9);
    ck_assert_double_eq(vent_solution_mass_flow(s, 0), vent_solution_mass_flow(s, N - 1));
    vent_solution_free(s);
    vent_solution_free(single);
    vent_network_free(net);
    vent_network_free(one);
    vent_fan_free(fan);
}
END_TEST

/* ---- conditions --------------------------------------------------------------------------- */

/* The room's pressure moves what a manometer shows, not what flows. */
START_TEST(building_pressure_moves_the_zero)
{
    small a = small_stack();
    vent_solution *before = solve(a.net);
    vent_network_set_building_pressure(a.net, -4, NULL);
    vent_solution *after = solve(a.net);
    ck_assert_double_eq(vent_solution_flow(before, a.riser), vent_solution_flow(after, a.riser));
    near(vent_solution_pressure(after, a.pit) - vent_solution_pressure(before, a.pit), 4, 1e-10);
    ck_assert_double_eq(vent_solution_absolute_pressure(before, a.pit),
                        vent_solution_absolute_pressure(after, a.pit));
    vent_solution_free(before);
    vent_solution_free(after);
    vent_network_free(a.net);
}
END_TEST

/* Thin air: with all losses quadratic and no column, flow is the same and pressure scales. */
START_TEST(altitude_scales_pressure)
{
    double flow[2], vacuum[2], density[2];
    for (int i = 0; i < 2; ++i) {
        vent_error err = VENT_NO_ERROR;
        vent_air air = vent_air_moist(286.15, vent_pressure_at_altitude(i ? 2000 : 0), 0, &err);
        vent_fan *fan = falling_fan();
        vent_network *net = vent_network_new(air, air, &err);
        /* a soil that is an orifice: b proportional to density */
        int pit = vent_network_suction_point(net, "pit",
                                             vent_soil_two_term(0, 5e4 * air.density, &err), &err);
        int top = vent_network_discharge(net, "top", vent_open_end(), 8, &err);
        int run = vent_network_run(net, "run", pit, top, vent_pipe_round(0.08, 0, &err), 0, &err);
        vent_network_fitting(net, run, vent_fitting_constant(4, 0, &err), 1, &err);
        vent_network_fan(net, run, fan, &err);
        vent_solution *s = solve(net);
        flow[i] = vent_solution_flow(s, run);
        vacuum[i] = vent_solution_pressure(s, pit);
        density[i] = air.density;
        vent_solution_free(s);
        vent_network_free(net);
        vent_fan_free(fan);
    }
    near(flow[1], flow[0], 1e-12);
    near(vacuum[1] / vacuum[0], density[1] / density[0], 1e-12);
}
END_TEST

START_TEST(strong_wind_reverses)
{
    small a = small_stack();
    vent_network_set_wind_pressure(a.net, 2000, NULL);
    vent_solution *s = solve(a.net);
    ck_assert_double_lt(vent_solution_flow(s, a.riser), 0);
    ck_assert_double_eq(vent_solution_exit_velocity(s), 0);
    uint32_t flags = vent_solution_flags(s);
    ck_assert(flags & VENT_WARN_REVERSED);
    ck_assert(flags & VENT_WARN_FAN_EXTRAPOLATED);
    vent_solution_free(s);
    vent_network_free(a.net);
}
END_TEST

/* Each number of a warning that has a unit has the trade's beside it: driven, overcome, backwards, fast, choked. */
START_TEST(warnings_speak_both_units)
{
    static const struct {
        const char *unit, *with;
    } both[] = {{" Pa", " in. w.c.)"}, {" L/s", " cfm)"}, {" m/s", " ft/min)"}};
    static const double winds[] = {12000, 2000, -900, -9000}, blocked[] = {0, 0, 0, 0.9999};
    uint32_t seen = 0;
    for (size_t i = 0; i < 8; ++i) {
        small a = small_stack();
        vent_network_set_wind_pressure(a.net, i < 4 ? winds[i] : 0, NULL);
        if (i >= 4) /* the soil lets through what the wind does not drive */
            vent_network_set_termination(
                a.net, vent_termination_blocked(vent_open_end(), blocked[i - 4], NULL), NULL);
        vent_solution *s = solve(a.net);
        vent_warning w;
        for (size_t k = 0; vent_solution_warning(s, k, &w); ++k) {
            ck_assert_msg(!strstr(w.message, "m3/s"), "%s", w.message);
            for (size_t j = 0; j < sizeof both / sizeof *both; ++j) {
                size_t units = 0, others = 0;
                for (const char *at = w.message; (at = strstr(at, both[j].unit)); ++at)
                    ++units;
                for (const char *at = w.message; (at = strstr(at, both[j].with)); ++at)
                    ++others;
                ck_assert_msg(units == others, "%s", w.message);
            }
        }
        seen |= vent_solution_flags(s);
        vent_solution_free(s);
        vent_network_free(a.net);
    }
    const uint32_t wanted = VENT_WARN_REVERSED | VENT_WARN_FAN_EXTRAPOLATED | VENT_WARN_DRAIN_BACK |
                            VENT_WARN_COMPRESSIBLE | VENT_WARN_FAN_DRIVEN |
                            VENT_WARN_FAN_NEAR_SHUT_OFF;
    ck_assert_msg((seen & wanted) == wanted, "%x, not %x", seen, wanted);
}
END_TEST

START_TEST(velocity_and_reynolds_in_the_narrowest_pipe)
{
    vent_error err = VENT_NO_ERROR;
    vent_fan *fan = falling_fan();
    vent_network *net = vent_network_new(soil_gas(), outdoors(), &err);
    int pit = vent_network_suction_point(net, "pit", vent_soil_power(1e-3, 0.6, &err), &err);
    int top = vent_network_discharge(net, "top", vent_open_end(), 6, &err);
    int run = vent_network_run(net, "run", pit, top, vent_pipe_round(0.1, 0, &err), 2, &err);
    vent_network_pipe(net, run, vent_pipe_round(0.05, 0, &err), 1, VENT_PI, &err);
    vent_network_pipe(net, run, vent_pipe_round(0.1, 0, &err), 2, VENT_RADIANS(20), &err);
    vent_network_fan(net, run, fan, &err);
    vent_solution *s = solve(net);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    double q = vent_solution_flow(s, run), area = VENT_PI * 0.05 * 0.05 / 4;
    near(vent_solution_velocity(s, run), q / area, 1e-13);
    near(vent_solution_reynolds(s, run),
         q / area * 0.05 * soil_gas().density / soil_gas().viscosity, 1e-13);
    /* static pressure falls where the pipe narrows: the tap just after the narrow pipe */
    double wide = vent_solution_static_pressure(s, run, 0);
    double narrow = vent_solution_static_pressure(s, run, 1);
    ck_assert_double_lt(narrow, wide);
    ck_assert(isnan(vent_solution_static_pressure(s, run, 4)));
    ck_assert(isnan(vent_solution_static_pressure(s, run, -2)));
    vent_solution_free(s);
    vent_network_free(net);
    vent_fan_free(fan);
}
END_TEST

/* ---- ledger, gradient, source ------------------------------------------------------------- */

/* Along every way from the soil to the open air the ledger sums to zero. */
START_TEST(ledger_sums_to_zero)
{
    static tree t;
    uint64_t state = 5;
    for (int i = 0; i < 50; ++i) {
        vent_error err = VENT_NO_ERROR;
        tree_random(&t, 1 + (int)tree_uniform(&state, 0, 30), true, &state);
        vent_network *net = tree_network(&t, &err);
        vent_solution *s = vent_network_solve(net, NULL, &err);
        ck_assert_msg(s != NULL, "%s", err.message);
        double sum[TREE_MOST_RUNS] = {0}, scale = 0;
        for (size_t j = 0; j < vent_solution_ledger_size(s); ++j) {
            vent_ledger_line line;
            ck_assert(vent_solution_ledger_line(s, j, &line));
            ck_assert_msg(isfinite(line.loss) && isfinite(line.flow_cost), "%s", line.what);
            ck_assert_int_gt((int)strlen(line.what), 0);
            sum[line.run] += line.loss;
            scale = fmax(scale, fabs(line.loss));
        }
        for (int leaf = 1; leaf <= t.runs; ++leaf) {
            double way = 0;
            for (int node = leaf; t.kind[leaf] == VENT_NODE_SUCTION_POINT && node != 0;
                 node = t.run[node - 1].to)
                way += sum[t.run[node - 1].number];
            ck_assert_msg(fabs(way) <= 1e-11 * scale, "%g of %g", way, scale);
        }
        vent_solution_free(s);
        vent_network_free(net);
        tree_free(&t);
    }
}
END_TEST

/* First-order costs are the limit of exact ones: shrink an item's coefficient a little and solve. */
START_TEST(flow_cost_is_the_gradient)
{
    vent_error err = VENT_NO_ERROR;
    const double step = 1e-5;
    double flow[2], cost = NAN;
    for (int i = 0; i < 2; ++i) {
        vent_fan *fan = falling_fan();
        vent_network *net = vent_network_new(soil_gas(), outdoors(), &err);
        int a = vent_network_suction_point(net, "a", vent_soil_power(6e-4, 0.6, &err), &err);
        int b = vent_network_suction_point(net, "b", vent_soil_power(9e-4, 0.7, &err), &err);
        int tee = vent_network_junction(net, "tee", vent_wye(VENT_RADIANS(45), &err), &err);
        int top = vent_network_discharge(net, "top", vent_open_end(), 8, &err);
        vent_pipe pipe = vent_pipe_find("PVC 40", 3 * VENT_INCH, &err);
        int leg = vent_network_run(net, "leg a", a, tee, pipe, 4, &err);
        vent_network_run(net, "leg b", b, tee, pipe, 2, &err);
        int riser = vent_network_run(net, "riser", tee, top, pipe, 9, &err);
        vent_network_fan(net, riser, fan, &err);
        int item =
            vent_network_fitting(net, leg, vent_fitting_constant(2, 0, &err), 1 - i * step, &err);
        vent_solution *s = vent_network_solve(net, NULL, &err);
        ck_assert_msg(s != NULL, "%s", err.message);
        flow[i] = vent_solution_discharge_flow(s);
        for (size_t j = 0; i == 0 && j < vent_solution_ledger_size(s); ++j) {
            vent_ledger_line line;
            vent_solution_ledger_line(s, j, &line);
            if (line.run == leg && line.item == item && line.kind == VENT_LINE_FITTING) {
                cost = line.flow_cost;
                double exact = vent_solution_exact_flow_cost(s, j, &err);
                ck_assert_double_gt(exact, 0);
                ck_assert_double_lt(exact, 2 * cost);
                ck_assert_double_gt(exact, cost / 2);
            }
        }
        vent_solution_free(s);
        vent_network_free(net);
        vent_fan_free(fan);
    }
    near((flow[1] - flow[0]) / step, cost, 1e-4);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
}
END_TEST

/* Five legs at one junction, each at a temperature of its own; the fan draws in the riser, or blows in
 * the straight leg into a narrow riser, so that air goes back down the branches. `count` of a fitting
 * stands in leg `at`, whose first-order cost is asked for. */
enum { CROWD = 5 };
static double crowded_flow(vent_junction law, bool blows, int at, double count, double *cost,
                           int *reversed)
{
    vent_error err = VENT_NO_ERROR;
    vent_fan *fan = falling_fan();
    vent_network *net = vent_network_new(soil_gas(), outdoors(), &err);
    int tee = vent_network_junction(net, "tee", law, &err);
    int top = vent_network_discharge(net, "top", vent_open_end(), 8, &err), leg[CROWD], item = -1;
    char name[24];
    for (int i = 0; i < CROWD; ++i) {
        snprintf(name, sizeof name, "pit %d", i);
        vent_soil soil = vent_soil_power(1e-3 * (i + 1), 0.6, &err);
        int pit = vent_network_suction_point(net, name, soil, &err);
        snprintf(name, sizeof name, "leg %d", i);
        vent_pipe pipe = vent_pipe_round(i ? 0.06 : 0.08, 0, &err);
        leg[i] = vent_network_run(net, name, pit, tee, pipe, 1 + i, &err);
        vent_network_set_temperature(net, leg[i], 275 + 6 * i, &err);
        if (i == at)
            item =
                vent_network_fitting(net, leg[i], vent_fitting_constant(2, 0, &err), count, &err);
    }
    vent_pipe pipe = vent_pipe_round(blows ? 0.04 : 0.1, 0, &err);
    int riser = vent_network_run(net, "riser", tee, top, pipe, 9, &err);
    vent_network_fan(net, blows ? leg[0] : riser, fan, &err);
    vent_solution *s = vent_network_solve(net, NULL, &err);
    ck_assert_msg(s != NULL, "%s", err.message);
    *reversed = 0;
    for (int i = 0; i < CROWD; ++i)
        *reversed += vent_solution_flow(s, leg[i]) < 0;
    for (size_t j = 0; j < vent_solution_ledger_size(s); ++j) {
        vent_ledger_line line;
        vent_solution_ledger_line(s, j, &line);
        if (line.run == leg[at] && line.item == item && line.kind == VENT_LINE_FITTING)
            *cost = line.flow_cost;
    }
    double flow = vent_solution_discharge_flow(s);
    vent_solution_free(s);
    vent_network_free(net);
    vent_fan_free(fan);
    return flow;
}

START_TEST(flow_cost_at_a_crowded_junction_is_the_gradient)
{
    const double step = 1e-4;
    vent_junction law[] = {vent_wye(VENT_RADIANS(45), NULL), vent_wye(VENT_RADIANS(90), NULL),
                           vent_double_wye(VENT_RADIANS(60), NULL),
                           vent_wye_by_momentum(VENT_RADIANS(75), NULL)};
    for (int i = 0; i < 4; ++i)
        for (int blows = 0; blows < 2; ++blows)
            for (int at = 0; at < CROWD; ++at) {
                double cost, other;
                int reversed;
                double more = crowded_flow(law[i], blows, at, 1 + step, &other, &reversed);
                double less = crowded_flow(law[i], blows, at, 1 - step, &other, &reversed);
                crowded_flow(law[i], blows, at, 1, &cost, &reversed);
                ck_assert_int_eq(reversed, blows ? CROWD - 1 : 0);
                near((less - more) / (2 * step), cost, 1e-5);
            }
}
END_TEST

START_TEST(exact_costs)
{
    small a = small_stack();
    vent_network_set_termination(a.net, vent_end_guard(1e-3, 5e-3, NULL), NULL);
    vent_solution *s = solve(a.net);
    int asked = 0;
    for (size_t i = 0; i < vent_solution_ledger_size(s); ++i) {
        vent_ledger_line line;
        vent_error err = VENT_NO_ERROR;
        vent_solution_ledger_line(s, i, &line);
        double cost = vent_solution_exact_flow_cost(s, i, &err);
        bool removable = line.kind == VENT_LINE_PIPE || line.kind == VENT_LINE_FITTING ||
                         line.kind == VENT_LINE_TERMINATION;
        ck_assert_int_eq(err.status, removable ? VENT_OK : VENT_E_ARGUMENT);
        ck_assert(removable ? cost > 0 : isnan(cost));
        asked += removable;
        if (line.kind == VENT_LINE_TERMINATION) { /* against an open end, solved by hand */
            vent_network_set_termination(a.net, vent_open_end(), NULL);
            vent_solution *open = solve(a.net);
            near(cost, vent_solution_discharge_flow(open) - vent_solution_discharge_flow(s), 1e-9);
            vent_solution_free(open);
        }
    }
    ck_assert_int_eq(asked, 3);
    vent_error err = VENT_NO_ERROR;
    ck_assert(isnan(vent_solution_exact_flow_cost(s, 1000, &err)));
    ck_assert_int_eq(err.status, VENT_E_NOT_FOUND);
    vent_solution_free(s);
    vent_network_free(a.net);
}
END_TEST

/* The equivalent source of a node: change the flow a little from above, see the pressure there. */
START_TEST(equivalent_source_is_the_slope)
{
    static tree t;
    uint64_t state = 91;
    tree_random(&t, 20, false, &state);
    vent_error err = VENT_NO_ERROR;
    vent_network *net = tree_network(&t, &err);
    vent_solution *a = solve(net);
    vent_network_set_wind_pressure(net, t.wind + 1e-3, &err);
    vent_solution *b = solve(net);
    for (int i = 0; i <= t.runs; ++i) {
        vent_equivalent_source x = vent_solution_source(a, t.node[i]),
                               y = vent_solution_source(b, t.node[i]);
        ck_assert_double_gt(x.slope, 0);
        if (i == 0 || i == 1) /* all of the network upstream answers */
            near((x.pressure - y.pressure) / (y.mass_flow - x.mass_flow), x.slope, 1e-4);
    }
    ck_assert(isnan(vent_solution_source(a, 99).slope));
    vent_solution_free(a);
    vent_solution_free(b);
    vent_network_free(net);
    tree_free(&t);
}
END_TEST

START_TEST(system_curve_meets_the_fan)
{
    small a = small_stack();
    vent_error err = VENT_NO_ERROR;
    vent_solution *s = solve(a.net);
    vent_fan_point point;
    ck_assert(vent_solution_fan(s, 0, &point));
    vent_workspace *ws = vent_workspace_new(a.net, &err);
    const double flow[] = {0, point.flow / 2, point.flow, 2 * point.flow, NAN, -point.flow};
    double pressure[6];
    ck_assert_uint_eq(vent_network_system_curve(a.net, ws, 0, 6, flow, pressure, &err), 1);
    ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
    ck_assert_int_eq(err.index, 4);
    err = (vent_error)VENT_NO_ERROR;
    near(pressure[2], point.pressure, 1e-10);
    ck_assert(pressure[0] < pressure[1] && pressure[1] < pressure[2] && pressure[2] < pressure[3]);
    ck_assert(isnan(pressure[4]));
    ck_assert_double_lt(pressure[5], 0);
    /* the workspace is as good as new */
    vent_solution *again = vent_network_solve(a.net, ws, &err);
    ck_assert_double_eq(vent_solution_flow(again, a.riser), vent_solution_flow(s, a.riser));
    ck_assert_uint_eq(vent_network_system_curve(a.net, ws, 3, 6, flow, pressure, &err), 6);
    ck_assert_int_eq(err.status, VENT_E_NOT_FOUND);
    ck_assert(isnan(pressure[0]) && isnan(pressure[5]));
    vent_solution_free(again);
    vent_solution_free(s);
    vent_workspace_free(ws);
    vent_network_free(a.net);
}
END_TEST

/* Air that creeps meets twice the pressure for twice the flow, in whatever stands in its way. */
START_TEST(creeping_air_is_met_by_straight_lines)
{
    vent_error err = VENT_NO_ERROR;
    vent_air gas = vent_air_moist(293.15, 101325, 0, &err);
    const double points[] = {0, 0.1}, pressures[] = {100, 0};
    vent_fan *fan = vent_fan_new("fan", 2, points, pressures, &err);
    vent_pipe pipe = vent_pipe_round(0.08, 1e-6, &err);
    vent_network *net = vent_network_new(gas, gas, &err);
    int pit = vent_network_suction_point(net, "pit", vent_soil_two_term(1e-3, 0, &err), &err);
    int top = vent_network_discharge(net, "top", vent_open_end(), 0, &err);
    int run = vent_network_run(net, "run", pit, top, pipe, 0.01, &err);
    vent_network_fitting(net, run, vent_orifice_plate(0.17, &err), 1, &err);
    vent_network_fan(net, run, fan, &err);
    vent_workspace *ws = vent_workspace_new(net, &err);
    const double flow[] = {2e-10, 4e-10, -4e-10}; /* Re 2e-4 and 4e-4 */
    double pressure[3];
    vent_network_system_curve(net, ws, 0, 3, flow, pressure, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    near(pressure[1], 2 * pressure[0], 1e-9);
    ck_assert_double_lt(pressure[2], 0);
    vent_workspace_free(ws);
    vent_network_free(net);
    vent_fan_free(fan);
}
END_TEST

/* Soil so tight that the system is far steeper than any line: the curve still meets the fan. */
START_TEST(system_curve_of_tight_soil)
{
    for (double c = 1e-9; c < 2e-3; c *= 10) {
        vent_error err = VENT_NO_ERROR;
        vent_fan *fan = falling_fan();
        vent_network *net = vent_network_new(soil_gas(), outdoors(), &err);
        int pit = vent_network_suction_point(net, "pit", vent_soil_power(c, 0.62, &err), &err);
        int top = vent_network_discharge(net, "top", vent_open_end(), 6, &err);
        int run = vent_network_run(net, "run", pit, top, vent_pipe_round(0.08, 0, &err), 9, &err);
        vent_network_fan(net, run, fan, &err);
        vent_solution *s = solve(net);
        vent_workspace *ws = vent_workspace_new(net, &err);
        vent_fan_point point;
        double needed;
        vent_solution_fan(s, 0, &point);
        vent_network_system_curve(net, ws, 0, 1, &point.flow, &needed, &err);
        ck_assert_msg(err.status == VENT_OK, "C %g: %s", c, err.message);
        near(needed, point.pressure, 1e-9);
        vent_solution_free(s);
        vent_workspace_free(ws);
        vent_network_free(net);
        vent_fan_free(fan);
    }
}
END_TEST

/* Going on with the same bore, at any angle, changes nothing. */
START_TEST(same_bore_costs_nothing)
{
    for (double bore = 0.01; bore < 10; bore *= 1.7)
        for (double angle = 0.01; angle < 4; angle += 0.5) {
            vent_fitting change = angle < VENT_PI ? vent_gradual_change(bore, angle, NULL)
                                                  : vent_sudden_change(bore, NULL);
            vent_pipe pipe = vent_pipe_round(bore, 0, NULL);
            ck_assert_double_eq(vent_fitting_coefficient(change, pipe, 5e4, NULL).value, 0);
            ck_assert_double_eq(vent_fitting_coefficient(change, pipe, -5e4, NULL).value, 0);
        }
}
END_TEST

/* Widest pipe allowed after a narrow one: the change is worked out, whatever its bore. */
START_TEST(widest_rectangle_follows_a_pipe)
{
    vent_error err = VENT_NO_ERROR;
    vent_fan *fan = falling_fan();
    vent_network *net = vent_network_new(soil_gas(), outdoors(), &err);
    int pit = vent_network_suction_point(net, "pit", vent_soil_power(1e-3, 0.62, &err), &err);
    int top = vent_network_discharge(net, "top", vent_open_end(), 6, &err);
    int run = vent_network_run(net, "run", pit, top, vent_pipe_round(0.08, 0, &err), 1, &err);
    vent_network_pipe(net, run, vent_pipe_rectangular(10, 10, 0, &err), 1, VENT_PI, &err);
    vent_network_fan(net, run, fan, &err);
    vent_solution *s = solve(net);
    ck_assert_double_gt(vent_solution_discharge_flow(s), 0);
    ck_assert(isnan(vent_solution_exact_flow_cost(s, 0, NULL)));
    vent_solution_free(s);
    vent_network_free(net);
    vent_fan_free(fan);
}
END_TEST

/* An open end costs nothing against an open end, either way the air goes. */
START_TEST(open_end_costs_nothing)
{
    for (double wind = 0; wind <= 2000; wind += 2000) {
        small a = small_stack();
        vent_network_set_wind_pressure(a.net, wind, NULL);
        vent_solution *s = solve(a.net);
        ck_assert_int_eq(vent_solution_flow(s, a.riser) < 0, wind > 0);
        for (size_t i = 0; i < vent_solution_ledger_size(s); ++i) {
            vent_ledger_line line;
            vent_solution_ledger_line(s, i, &line);
            if (line.kind == VENT_LINE_TERMINATION)
                ck_assert_double_eq_tol(line.flow_cost, 0, 1e-15);
        }
        vent_solution_free(s);
        vent_network_free(a.net);
    }
}
END_TEST

/* Many legs into one wide trunk: the rounding of the flow times the fan's slope is felt. The time is
 * that of the legs, not of their pairs, for the solution and for the ledger. */
START_TEST(twenty_thousand_legs)
{
    enum { LEGS = 20000 };
    vent_error err = VENT_NO_ERROR;
    vent_fan *fan = falling_fan();
    vent_network *net = vent_network_new(soil_gas(), outdoors(), &err);
    vent_junction law = _i ? vent_wye(VENT_RADIANS(45), &err) : vent_junction_lossless();
    int tee = vent_network_junction(net, "tee", law, &err);
    int top = vent_network_discharge(net, "top", vent_open_end(), 6, &err);
    char name[24];
    for (int i = 0; i < LEGS; ++i) {
        snprintf(name, sizeof name, "pit %d", i);
        int pit = vent_network_suction_point(net, name, vent_soil_power(4.2e-4, 0.62, &err), &err);
        snprintf(name, sizeof name, "leg %d", i);
        vent_network_run(net, name, pit, tee, vent_pipe_round(0.08, 0, &err), 2, &err);
    }
    int riser = vent_network_run(net, "riser", tee, top, vent_pipe_round(1, 0, &err), 6, &err);
    vent_network_fan(net, riser, fan, &err);
    vent_solution *s = solve(net);
    ck_assert_double_gt(vent_solution_discharge_flow(s), 0);
    double lost = 0;
    for (size_t i = 0; i < vent_solution_ledger_size(s); ++i) {
        vent_ledger_line line;
        vent_solution_ledger_line(s, i, &line);
        lost += line.kind == VENT_LINE_JUNCTION ? fabs(line.loss) : 0;
    }
    ck_assert(_i ? lost > 0 : lost < 1e-6);
    vent_solution_free(s);
    vent_network_free(net);
    vent_fan_free(fan);
}
END_TEST

/* ---- fans that rise ----------------------------------------------------------------------- */

/* A curve with a dip near shut-off: whatever the resistance, the point found is stable: there the
 * system rises faster than the fan. */
START_TEST(rising_fans_settle_on_stable_points)
{
    const double flow[] = {0, 0.01, 0.02, 0.03, 0.04, 0.05, 0.06};
    const double pressure[] = {300, 220, 260, 330, 300, 180, 0};
    uint64_t state = 3;
    int rising = 0;
    for (int i = 0; i < 300; ++i) {
        vent_error err = VENT_NO_ERROR;
        vent_air air = vent_air_moist(286.15, 98300, 1, &err);
        vent_fan *fan = vent_fan_new("dipping", 7, flow, pressure, &err);
        vent_network *net = vent_network_new(air, air, &err);
        double b = exp(tree_uniform(&state, log(1e4), log(1e8)));
        int pit = vent_network_suction_point(
            net, "pit", vent_soil_two_term(tree_uniform(&state, 0, 1e3), b, &err), &err);
        int top = vent_network_discharge(net, "top", vent_open_end(), 8, &err);
        int run =
            vent_network_run(net, "run", pit, top, vent_pipe_round(0.0779, 0, &err), 10, &err);
        vent_network_fan(net, run, fan, &err);
        vent_solution *s = vent_network_solve(net, NULL, &err);
        ck_assert_msg(s != NULL, "b %g: %s", b, err.message);
        vent_convergence c = vent_solution_convergence(s);
        ck_assert_double_le(c.pressure_residual, 1e-12 * c.pressure_scale);
        vent_fan_point at;
        vent_solution_fan(s, 0, &at);
        rising += at.slope > 0;
        ck_assert_msg(vent_solution_source(s, top).slope > 0, "b %g, flow %g, unstable", b,
                      at.flow);
        ck_assert(vent_solution_flags(s) & (VENT_WARN_FAN_MAY_HUNT | VENT_WARN_FAN_RISING));
        vent_solution_free(s);
        vent_network_free(net);
        vent_fan_free(fan);
    }
    ck_assert_int_gt(rising, 0); /* some systems do sit on the rising part, stably */
}
END_TEST

START_TEST(fan_that_never_meets_the_system)
{
    vent_error err = VENT_NO_ERROR;
    const double flow[] = {0, 0.01, 0.02}, pressure[] = {100, 200, 400};
    vent_fan *fan = vent_fan_new("ever rising", 3, flow, pressure, &err);
    small a = small_stack();
    vent_network *net = vent_network_new(soil_gas(), outdoors(), &err);
    int pit = vent_network_suction_point(net, "pit", vent_soil_power(1e-2, 0.5, &err), &err);
    int top = vent_network_discharge(net, "top", vent_open_end(), 3, &err);
    int run = vent_network_run(net, "run", pit, top, vent_pipe_round(0.1, 0, &err), 1, &err);
    vent_network_fan(net, run, fan, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    ck_assert_ptr_null(vent_network_solve(net, NULL, &err));
    ck_assert_int_eq(err.status, VENT_E_NO_OPERATING_POINT);
    ck_assert_msg(strstr(err.message, "ever rising") != NULL, "%s", err.message);
    vent_network_free(net);
    vent_network_free(a.net);
    vent_fan_free(fan);
}
END_TEST

START_TEST(fan_speed)
{
    small a = small_stack();
    vent_solution *full = solve(a.net);
    ck_assert(vent_network_set_fan_speed(a.net, a.riser, a.fan, 0.5, NULL));
    vent_solution *half = solve(a.net);
    ck_assert_double_lt(vent_solution_flow(half, a.riser), vent_solution_flow(full, a.riser));
    vent_fan_point point;
    vent_solution_fan(half, 0, &point);
    near(point.shut_off, 470 * 0.25 * soil_gas().density / VENT_STANDARD_DENSITY, 1e-12);
    near(point.free_delivery, 0.035, 1e-9);
    vent_error err = VENT_NO_ERROR;
    ck_assert(!vent_network_set_fan_speed(a.net, a.riser, 0, 1, &err));
    ck_assert_int_eq(err.status, VENT_E_NOT_FOUND);
    vent_solution_free(full);
    vent_solution_free(half);
    vent_network_free(a.net);
}
END_TEST

/* ---- bad input ---------------------------------------------------------------------------- */

#define EXPECT(code, call, word)                                                                   \
    do {                                                                                           \
        vent_error e_ = VENT_NO_ERROR;                                                             \
        vent_error *err = &e_;                                                                     \
        call;                                                                                      \
        ck_assert_msg(e_.status == (code), "%s gave %d '%s'", #call, e_.status, e_.message);       \
        ck_assert_msg(strstr(e_.message, word) != NULL, "'%s' misses '%s'", e_.message, word);     \
    } while (0)

START_TEST(bad_parts)
{
    small a = small_stack();
    vent_pipe pipe = vent_pipe_find("PVC 40", 3 * VENT_INCH, NULL);
    vent_pipe bad_pipe = pipe;
    bad_pipe.width = bad_pipe.depth = NAN;
    vent_air bad_air = {.density = NAN};
    vent_soil bad_soil = {0};
    vent_termination bad_end = {0};
    vent_junction bad_law = {.law = 99};
    vent_fitting bad_fitting = {0};
    EXPECT(VENT_E_ARGUMENT, vent_network_new(bad_air, outdoors(), err), "soil_gas");
    EXPECT(VENT_E_ARGUMENT, vent_network_new(soil_gas(), bad_air, err), "outdoors");
    vent_air high_up = vent_air_moist(268.15, 80000, 0.8, NULL);
    EXPECT(VENT_E_ARGUMENT, vent_network_new(soil_gas(), high_up, err), "outdoors.pressure");
    vent_pipe rough = pipe;
    rough.roughness = 0.2;
    EXPECT(VENT_E_ARGUMENT, vent_network_pipe(a.net, a.riser, rough, 1, 1, err), "roughness");
    EXPECT(VENT_E_ARGUMENT, vent_network_suction_point(a.net, "x", bad_soil, err), "soil");
    EXPECT(VENT_E_ARGUMENT,
           vent_network_suction_point(a.net, "", vent_soil_power(1e-3, 0.5, NULL), err), "empty");
    EXPECT(VENT_E_ARGUMENT,
           vent_network_suction_point(a.net, NULL, vent_soil_power(1e-3, 0.5, NULL), err), "name");
    EXPECT(VENT_E_ARGUMENT,
           vent_network_suction_point(NULL, "x", vent_soil_power(1e-3, 0.5, NULL), err), "network");
    EXPECT(VENT_E_DUPLICATE,
           vent_network_suction_point(a.net, "ridge", vent_soil_power(1e-3, 0.5, NULL), err),
           "ridge");
    EXPECT(VENT_E_DUPLICATE, vent_network_junction(a.net, "riser", vent_junction_lossless(), err),
           "run 0");
    EXPECT(VENT_E_ARGUMENT, vent_network_junction(a.net, "x", bad_law, err), "99");
    EXPECT(VENT_E_ARGUMENT, vent_network_set_termination(a.net, bad_end, err), "termination");
    EXPECT(VENT_E_ARGUMENT, vent_network_set_height(a.net, a.roof, NAN, err), "height");
    EXPECT(VENT_E_ARGUMENT, vent_network_set_height(a.net, a.roof, INFINITY, err), "height");
    EXPECT(VENT_E_NOT_FOUND, vent_network_set_height(a.net, 7, 1, err), "node 7");
    EXPECT(VENT_E_ARGUMENT, vent_network_set_temperature(a.net, a.riser, 13, err), "temperature");
    EXPECT(VENT_E_NOT_FOUND, vent_network_set_temperature(a.net, 5, 290, err), "run is 5");
    EXPECT(VENT_E_ARGUMENT, vent_network_set_wind_pressure(a.net, NAN, err), "pressure");
    EXPECT(VENT_E_ARGUMENT, vent_network_set_building_pressure(a.net, -INFINITY, err), "pressure");
    EXPECT(VENT_E_ARGUMENT, vent_network_fitting(a.net, a.riser, bad_fitting, 1, err), "fitting");
    EXPECT(VENT_E_ARGUMENT, vent_network_fitting(a.net, a.riser, vent_entry_flush(), -1, err),
           "count");
    EXPECT(VENT_E_ARGUMENT, vent_network_pipe(a.net, a.riser, bad_pipe, 1, 1, err), "pipe");
    EXPECT(VENT_E_ARGUMENT, vent_network_pipe(a.net, a.riser, pipe, -1, 1, err), "length");
    EXPECT(VENT_E_ARGUMENT, vent_network_pipe(a.net, a.riser, pipe, 1, 0, err), "transition_angle");
    EXPECT(VENT_E_ARGUMENT, vent_network_pipe(a.net, a.riser, pipe, 1, 90, err), "90 degrees");
    EXPECT(VENT_E_ARGUMENT, vent_network_fan(a.net, a.riser, NULL, err), "fan");
    EXPECT(VENT_E_ARGUMENT, vent_network_set_fan_speed(a.net, a.riser, a.fan, 0, err), "speed");
    EXPECT(VENT_E_NOT_FOUND, vent_network_find_node(a.net, "store rom", err), "store room");
    EXPECT(VENT_E_NOT_FOUND, vent_network_find_run(a.net, "store room", err), "that is a node");
    ck_assert_int_eq(vent_network_find_run(a.net, "riser", NULL), a.riser);
    ck_assert_int_eq(vent_network_find_node(a.net, "ridge", NULL), a.roof);
    /* nothing of all that has touched the network */
    vent_solution *s = solve(a.net);
    small b = small_stack();
    vent_solution *t = solve(b.net);
    ck_assert_double_eq(vent_solution_flow(s, 0), vent_solution_flow(t, 0));
    vent_solution_free(s);
    vent_solution_free(t);
    vent_network_free(a.net);
    vent_network_free(b.net);
}
END_TEST

START_TEST(bad_shapes)
{
    vent_pipe pipe = vent_pipe_find("PVC 40", 3 * VENT_INCH, NULL);
    vent_soil soil = vent_soil_power(1e-3, 0.5, NULL);
    vent_network *net = vent_network_new(soil_gas(), outdoors(), NULL);
    EXPECT(VENT_E_TOPOLOGY, vent_network_solve(net, NULL, err), "no discharge");
    int roof = vent_network_discharge(net, "roof", vent_open_end(), 1, NULL);
    EXPECT(VENT_E_TOPOLOGY, vent_network_solve(net, NULL, err), "roof");
    int pit = vent_network_suction_point(net, "pit", soil, NULL);
    int tee = vent_network_junction(net, "tee", vent_junction_lossless(), NULL);
    EXPECT(VENT_E_ARGUMENT, vent_network_run(net, "r", pit, pit, pipe, 1, err), "itself");
    EXPECT(VENT_E_TOPOLOGY, vent_network_run(net, "r", roof, tee, pipe, 1, err), "discharge");
    EXPECT(VENT_E_TOPOLOGY, vent_network_run(net, "r", tee, pit, pipe, 1, err), "suction point");
    EXPECT(VENT_E_NOT_FOUND, vent_network_run(net, "r", pit, 9, pipe, 1, err), "node 9");
    EXPECT(VENT_E_ARGUMENT, vent_network_run(net, "r", pit, tee, pipe, -1, err), "length");
    vent_network_run(net, "leg", pit, tee, pipe, 1, NULL);
    EXPECT(VENT_E_TOPOLOGY, vent_network_run(net, "s", pit, roof, pipe, 1, err), "leg");
    EXPECT(VENT_E_TOPOLOGY, vent_network_solve(net, NULL, err), "roof");
    vent_network_run(net, "riser", tee, roof, pipe, 1, NULL);
    vent_solution_free(solve(net));
    int idle = vent_network_suction_point(net, "idle", soil, NULL);
    EXPECT(VENT_E_TOPOLOGY, vent_network_run(net, "s", idle, roof, pipe, 1, err),
           "reaches the discharge");
    EXPECT(VENT_E_TOPOLOGY, vent_network_solve(net, NULL, err), "idle");
    vent_network_run(net, "leg 2", idle, tee, pipe, 1, NULL);
    vent_solution_free(solve(net));
    int x = vent_network_junction(net, "x", vent_junction_lossless(), NULL);
    int y = vent_network_junction(net, "y", vent_junction_lossless(), NULL);
    vent_network_run(net, "xy", x, y, pipe, 1, NULL);
    vent_network_run(net, "yx", y, x, pipe, 1, NULL);
    EXPECT(VENT_E_TOPOLOGY, vent_network_solve(net, NULL, err), "loop");
    vent_network_free(net);
    vent_network *dry = vent_network_new(soil_gas(), outdoors(), NULL);
    roof = vent_network_discharge(dry, "roof", vent_open_end(), 1, NULL);
    tee = vent_network_junction(dry, "tee", vent_junction_lossless(), NULL);
    vent_network_run(dry, "riser", tee, roof, pipe, 1, NULL);
    EXPECT(VENT_E_TOPOLOGY, vent_network_solve(dry, NULL, err), "tee");
    vent_network_free(dry);
}
END_TEST

START_TEST(stale_workspace)
{
    small a = small_stack();
    vent_error ok = VENT_NO_ERROR;
    vent_workspace *ws = vent_workspace_new(a.net, &ok);
    vent_solution *s = vent_network_solve(a.net, ws, &ok);
    double before = vent_solution_flow(s, a.riser);
    vent_network_fitting(a.net, a.riser, vent_entry_flush(), 1, &ok);
    ck_assert_int_eq(ok.status, VENT_OK);
    EXPECT(VENT_E_STALE, vent_network_solve(a.net, ws, err), "another shape");
    EXPECT(VENT_E_STALE, vent_network_solve_into(a.net, ws, s, err), "another shape");
    double flow = 0.01, needed = 0;
    EXPECT(VENT_E_STALE, vent_network_system_curve(a.net, ws, 0, 1, &flow, &needed, err),
           "another shape");
    ck_assert_double_nan(needed);
    ck_assert_double_eq(vent_solution_flow(s, a.riser), before);
    vent_solution_free(s);
    vent_workspace_free(ws);
    vent_network_free(a.net);
}
END_TEST

START_TEST(errors_chain_and_null_is_safe)
{
    vent_error err = VENT_NO_ERROR;
    vent_air bad = vent_air_moist(13, 98300, 1, &err);
    ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
    vent_error first = err;
    ck_assert_ptr_null(vent_network_new(bad, outdoors(), &err));
    ck_assert_int_eq(vent_network_suction_point(NULL, "x", vent_soil_power(-1, 9, &err), &err), -1);
    ck_assert_int_eq(vent_network_run(NULL, "x", 0, 1, vent_pipe_round(0, 0, &err), -1, &err), -1);
    ck_assert_ptr_null(vent_network_solve(NULL, NULL, &err));
    ck_assert_mem_eq(&err, &first, sizeof err);
    vent_network_free(NULL);
    vent_workspace_free(NULL);
    vent_solution_free(NULL);
    ck_assert(isnan(vent_solution_flow(NULL, 0)));
    ck_assert(isnan(vent_solution_pressure(NULL, 0)));
    ck_assert_uint_eq(vent_solution_ledger_size(NULL), 0);
    ck_assert_uint_eq(vent_solution_warning_count(NULL), 0);
    ck_assert_int_eq(vent_network_node_count(NULL), 0);
}
END_TEST

START_TEST(warnings_read_well)
{
    small a = small_stack();
    vent_network_set_fan_speed(a.net, a.riser, a.fan, 2, NULL);
    vent_solution *s = solve(a.net);
    size_t n = vent_solution_warning_count(s);
    uint32_t flags = 0;
    for (size_t i = 0; i < n; ++i) {
        vent_warning w;
        ck_assert(vent_solution_warning(s, i, &w));
        ck_assert_int_gt((int)strlen(w.message), 20);
        flags |= w.flag;
    }
    ck_assert_uint_eq(flags, vent_solution_flags(s));
    vent_warning w;
    ck_assert(!vent_solution_warning(s, n, &w));
    vent_solution_free(s);
    vent_network_free(a.net);
}
END_TEST

START_TEST(names_come_back)
{
    small a = small_stack();
    char name[8];
    ck_assert_uint_eq(vent_network_node_name(a.net, a.pit, sizeof name, name), 10);
    ck_assert_str_eq(name, "store r");
    ck_assert_uint_eq(vent_network_run_name(a.net, a.riser, 0, NULL), 5);
    ck_assert_uint_eq(vent_network_run_name(a.net, 3, sizeof name, name), 0);
    ck_assert_str_eq(name, "");
    ck_assert_int_eq(vent_network_node_count(a.net), 2);
    ck_assert_int_eq(vent_network_run_count(a.net), 1);
    vent_network_free(a.net);
}
END_TEST

Suite *network_suite(void)
{
    Suite *suite = suite_create("network");
    TCase *values = tcase_create("values");
    tcase_add_test(values, quadratic_system);
    tcase_add_test(values, laminar_pipe);
    tcase_add_test(values, series_fans_closed_form);
    tcase_add_test(values, published_ducts_in_series);
    tcase_add_test(values, passive_stack);
    tcase_add_test(values, nothing_drives);
    tcase_add_test(values, altitude_scales_pressure);
    tcase_add_test(values, building_pressure_moves_the_zero);
    tcase_add_test(values, strong_wind_reverses);
    tcase_add_test(values, warnings_speak_both_units);
    tcase_add_test(values, velocity_and_reynolds_in_the_narrowest_pipe);
    tcase_add_test(values, fan_speed);
    tcase_add_test(values, same_bore_costs_nothing);
    tcase_add_test(values, widest_rectangle_follows_a_pipe);
    tcase_add_loop_test(values, twenty_thousand_legs, 0, 2);
    suite_add_tcase(suite, values);
    TCase *trees = tcase_create("trees");
    tcase_set_timeout(trees, 120);
    tcase_add_test(trees, random_trees);
    tcase_add_test(trees, absurd_trees);
    tcase_add_test(trees, reused_workspace_gives_the_same_bits);
    tcase_add_test(trees, million_node_chain);
    suite_add_tcase(suite, trees);
    TCase *ledger = tcase_create("ledger");
    tcase_add_test(ledger, ledger_sums_to_zero);
    tcase_add_test(ledger, flow_cost_is_the_gradient);
    tcase_add_test(ledger, flow_cost_at_a_crowded_junction_is_the_gradient);
    tcase_add_test(ledger, exact_costs);
    tcase_add_test(ledger, equivalent_source_is_the_slope);
    tcase_add_test(ledger, system_curve_meets_the_fan);
    tcase_add_test(ledger, creeping_air_is_met_by_straight_lines);
    tcase_add_test(ledger, system_curve_of_tight_soil);
    tcase_add_test(ledger, open_end_costs_nothing);
    tcase_add_test(ledger, warnings_read_well);
    suite_add_tcase(suite, ledger);
    TCase *rising = tcase_create("rising fans");
    tcase_add_test(rising, rising_fans_settle_on_stable_points);
    tcase_add_test(rising, fan_that_never_meets_the_system);
    suite_add_tcase(suite, rising);
    TCase *bad = tcase_create("bad input");
    tcase_add_test(bad, bad_parts);
    tcase_add_test(bad, bad_shapes);
    tcase_add_test(bad, stale_workspace);
    tcase_add_test(bad, errors_chain_and_null_is_safe);
    tcase_add_test(bad, names_come_back);
    suite_add_tcase(suite, bad);
    return suite;
}
