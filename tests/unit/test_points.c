/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <ventstack/ventstack.h>

#include <check.h>
#include <gsl/gsl_poly.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "random.h"
#include "suites.h"
#include "tree.h"

enum { MOST_DATA = 12, ROOM = 64 };

static const vent_air AIR = {.temperature = 288.15, .pressure = 101325};

/* ---- a system of q^2 ------------------------------------------------------------------------ */

/* Curves by data, at the density of the air in them. */
typedef struct data {
    size_t n;
    double flow[MOST_DATA], pressure[MOST_DATA];
} data;

/* A pit, a pipe of no length, one fan, an open end: soil of exponent 1/2 and the velocity pressure that
 * leaves make c q^2; nothing is higher or warmer than anything else. */
typedef struct stack {
    vent_network *network;
    int pit, roof, run, fan; /* fan: the item */
    double c;
} stack;

static stack stack_of(const data *fan, double soil)
{
    vent_error err = VENT_NO_ERROR;
    vent_air air = vent_air_moist(AIR.temperature, AIR.pressure, 0, &err);
    vent_pipe pipe = vent_pipe_round(0.1, 0, &err);
    stack s = {.network = vent_network_new(air, air, &err)};
    s.pit = vent_network_suction_point(s.network, "pit", vent_soil_power(soil, 0.5, &err), &err);
    s.roof = vent_network_discharge(s.network, "roof", vent_open_end(), 0, &err);
    s.run = vent_network_run(s.network, "riser", s.pit, s.roof, pipe, 0, &err);
    vent_fan *made =
        vent_fan_new_at("fan", fan->n, fan->flow, fan->pressure, NULL, air.density, &err);
    s.fan = vent_network_fan(s.network, s.run, made, &err);
    vent_fan_free(made);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    double area = vent_pipe_area(pipe);
    s.c = 1 / (soil * soil) + air.density / (2 * area * area);
    return s;
}

/* Steffen (1990), written again: slopes at the data. */
static void steffen(const data *d, double *slope)
{
    double h[MOST_DATA], chord[MOST_DATA];
    for (size_t i = 0; i + 1 < d->n; ++i) {
        h[i] = d->flow[i + 1] - d->flow[i];
        chord[i] = (d->pressure[i + 1] - d->pressure[i]) / h[i];
    }
    slope[0] = chord[0];
    slope[d->n - 1] = chord[d->n - 2];
    for (size_t i = 1; i + 1 < d->n; ++i) {
        double p = (chord[i - 1] * h[i] + chord[i] * h[i - 1]) / (h[i - 1] + h[i]);
        double least = fmin(fmin(fabs(chord[i - 1]), fabs(chord[i])), fabs(p) / 2);
        slope[i] = (copysign(1, chord[i - 1]) + copysign(1, chord[i])) * least;
    }
}

typedef struct root {
    double flow;
    bool stable;
} root;

static int compare_roots(const void *a, const void *b)
{
    const root *x = a, *y = b;
    return (x->flow > y->flow) - (x->flow < y->flow);
}

/* Adds the roots from `from` on, below `to`, of y0 + s t + b t^2 + a t^3 - c (x + t)^2 with t = flow - x. */
static int cubic_roots(double x, double y0, double s, double b, double a, double c, double from,
                       double to, root *found)
{
    double r[3];
    double p2 = b - c, p1 = s - 2 * c * x, p0 = y0 - c * x * x;
    int n = a != 0 ? gsl_poly_solve_cubic(p2 / a, p1 / a, p0 / a, &r[0], &r[1], &r[2])
                   : gsl_poly_solve_quadratic(p2, p1, p0, &r[0], &r[1]);
    int count = 0;
    for (int i = 0; i < n; ++i) {
        for (int k = 0; k < 3; ++k) /* GSL's digits are fewer where a is small */
            r[i] -=
                (p0 + r[i] * (p1 + r[i] * (p2 + r[i] * a))) / (p1 + r[i] * (2 * p2 + 3 * a * r[i]));
        double flow = x + r[i];
        if (flow >= from && flow < to)
            found[count++] = (root){flow, p1 + r[i] * (2 * p2 + 3 * a * r[i]) < 0};
    }
    return count;
}

/* All flows at which the data's curve meets c q^2, q >= 0. */
static int closed_form(const data *d, double c, root *found)
{
    double slope[MOST_DATA];
    int count = 0;
    size_t last = d->n - 1;
    steffen(d, slope);
    if (slope[0] < 0)
        count += cubic_roots(d->flow[0], d->pressure[0], slope[0], 0, 0, c, 0, d->flow[0], found);
    for (size_t i = 0; i < last; ++i) {
        double h = d->flow[i + 1] - d->flow[i], chord = (d->pressure[i + 1] - d->pressure[i]) / h;
        count += cubic_roots(d->flow[i], d->pressure[i], slope[i],
                             (3 * chord - 2 * slope[i] - slope[i + 1]) / h,
                             (slope[i] + slope[i + 1] - 2 * chord) / h / h, c, d->flow[i],
                             d->flow[i + 1], found + count);
    }
    if (slope[last] < 0)
        count += cubic_roots(d->flow[last], d->pressure[last], slope[last], 0, 0, c, d->flow[last],
                             INFINITY, found + count);
    qsort(found, (size_t)count, sizeof *found, compare_roots);
    return count;
}

static size_t points_of(const stack *s, vent_operating_point *points)
{
    vent_error err = VENT_NO_ERROR;
    size_t n = vent_network_operating_points(s->network, NULL, 0, ROOM, points, &err);
    int expected = n ? VENT_OK : VENT_E_NO_OPERATING_POINT;
    ck_assert_msg(err.status == expected, "%s", err.message);
    return n;
}

/* Falls, dips and rises again, then falls to free delivery. */
static const data DIP = {6, {0, 0.02, 0.04, 0.06, 0.08, 0.10}, {300, 180, 60, 280, 200, 0}};

/* A random curve that rises somewhere. */
static data random_data(random_states *r)
{
    data d = {.n = 4 + (size_t)random_between(r, 0, 8.999)};
    double flow = random_between(r, 0, 1) < 0.7 ? 0 : random_between(r, 0, 0.02);
    bool rises = false;
    while (!rises) {
        double x = flow;
        for (size_t i = 0; i < d.n; ++i) {
            d.flow[i] = x;
            d.pressure[i] = random_between(r, 20, 400);
            x += random_between(r, 0.004, 0.03);
            rises |= i && d.pressure[i] > d.pressure[i - 1];
        }
        d.pressure[d.n - 1] = random_between(r, -100, 0);
    }
    return d;
}

START_TEST(dip_against_the_cubic_formula)
{
    for (double soil = 0.002; soil < 0.02; soil *= 1.05) {
        stack s = stack_of(&DIP, soil);
        vent_operating_point points[ROOM];
        root roots[ROOM];
        size_t n = points_of(&s, points);
        ck_assert_uint_eq(n, (size_t)closed_form(&DIP, s.c, roots));
        for (size_t i = 0; i < n; ++i) {
            ck_assert_double_eq_tol(points[i].flow, roots[i].flow, 1e-10 * roots[i].flow);
            ck_assert_int_eq((points[i].flags & VENT_POINT_STABLE) != 0, roots[i].stable);
            ck_assert_int_eq((points[i].flags & VENT_POINT_ONE_OF_SEVERAL) != 0, n > 1);
            ck_assert_int_eq(points[i].flags & VENT_POINT_MORE_POSSIBLE, 0);
            ck_assert_double_eq_tol(points[i].pressure, s.c * roots[i].flow * roots[i].flow, 1e-8);
            ck_assert_double_eq_tol(points[i].system_slope, 2 * s.c * roots[i].flow,
                                    1e-6 * s.c * roots[i].flow);
            ck_assert_double_eq(points[i].stall_flow, 0.06);
            ck_assert_int_eq((points[i].flags & VENT_POINT_NEAR_STALL) != 0,
                             roots[i].flow < 1.1 * 0.06);
            ck_assert_int_eq((points[i].flags & VENT_POINT_EXTRAPOLATED) != 0, roots[i].flow > 0.1);
        }
        vent_network_free(s.network);
    }
}
END_TEST

START_TEST(five_hundred_random_fans)
{
    random_states r = {4};
    size_t several = 0, unstable = 0;
    for (int i = 0; i < 500; ++i) {
        data d = random_data(&r);
        stack s = stack_of(&d, random_decades(&r, 5e-4, 0.02));
        vent_operating_point points[ROOM];
        root roots[ROOM];
        size_t n = points_of(&s, points);
        int expected = closed_form(&d, s.c, roots);
        ck_assert_msg(n == (size_t)expected, "fan %d: %zu points, %d roots", i, n, expected);
        for (size_t j = 0; j < n; ++j) {
            double slope = fabs(points[j].system_slope - points[j].fan_slope);
            ck_assert_double_eq_tol(points[j].flow, roots[j].flow, 1e-9 / slope * 400);
            ck_assert_int_eq((points[j].flags & VENT_POINT_STABLE) != 0, roots[j].stable);
            unstable += !roots[j].stable;
        }
        several += n > 1;
        vent_network_free(s.network);
    }
    ck_assert_uint_gt(several, 50); /* else the fans were drawn badly */
    ck_assert_uint_gt(unstable, 50);
}
END_TEST

/* The soil at which a system of q^2 touches the hump of DIP: c = F/q^2 where q F' = 2 F, greatest. */
static double touching_c(void)
{
    double slope[MOST_DATA];
    steffen(&DIP, slope);
    size_t i = 2; /* from the dip to the hump */
    double h = DIP.flow[i + 1] - DIP.flow[i];
    double chord = (DIP.pressure[i + 1] - DIP.pressure[i]) / h, best = 0;
    double b = (3 * chord - 2 * slope[i] - slope[i + 1]) / h;
    double a = (slope[i] + slope[i + 1] - 2 * chord) / h / h;
    double low = 0.045, high = 0.06; /* F/q^2 has one maximum there */
    for (int k = 0; k < 200; ++k) {
        double q = low + (high - low) / 2, t = q - DIP.flow[i];
        double y = DIP.pressure[i] + t * (slope[i] + t * (b + t * a));
        double dy = slope[i] + t * (2 * b + 3 * a * t);
        best = y / q / q;
        *(q * dy > 2 * y ? &low : &high) = q;
    }
    return best;
}

START_TEST(curves_that_touch)
{
    double c = touching_c(), area = VENT_PI * 0.01 / 4;
    vent_air air = vent_air_moist(AIR.temperature, AIR.pressure, 0, NULL);
    double end = air.density / (2 * area * area);
    const struct {
        double c;
        size_t points;
    } cases[] = {{c, 2},              /* the touch and the point on the left */
                 {c * (1 + 1e-9), 1}, /* parted */
                 {c * (1 - 1e-9), 3}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; ++i) {
        stack s = stack_of(&DIP, 1 / sqrt(cases[i].c - end));
        vent_operating_point points[ROOM];
        size_t n = points_of(&s, points);
        ck_assert_msg(n == cases[i].points, "case %zu: %zu points", i, n);
        if (i == 0) {
            ck_assert_int_ne(points[1].flags & VENT_POINT_TOUCHING, 0);
            ck_assert_int_eq(points[1].flags & VENT_POINT_STABLE, 0);
            ck_assert_double_eq_tol(points[1].system_slope, points[1].fan_slope,
                                    1e-4 * points[1].fan_slope);
        }
        vent_network_free(s.network);
    }
}
END_TEST

START_TEST(falling_fans_have_one)
{
    const data falling = {3, {0.01, 0.05, 0.1}, {300, 250, 0}};
    random_states r = {9};
    for (int i = 0; i < 200; ++i) {
        stack s = stack_of(&falling, random_decades(&r, 1e-5, 1));
        vent_network_set_wind_pressure(s.network, random_between(&r, -500, 500), NULL);
        vent_operating_point points[ROOM];
        vent_error err = VENT_NO_ERROR;
        ck_assert_uint_eq(points_of(&s, points), 1);
        vent_solution *solution = vent_network_solve(s.network, NULL, &err);
        double flow = vent_solution_flow(solution, s.run);
        ck_assert_double_eq_tol(points[0].flow, flow, 1e-11 * fmax(fabs(flow), 0.1));
        ck_assert(points[0].flags & VENT_POINT_STABLE);
        ck_assert(isnan(points[0].stall_flow));
        ck_assert_int_eq((points[0].flags & VENT_POINT_EXTRAPOLATED) != 0,
                         !(flow >= 0.01 && flow <= 0.1));
        vent_solution_free(solution);
        vent_network_free(s.network);
    }
}
END_TEST

START_TEST(fan_laws_move_the_points)
{
    stack s = stack_of(&DIP, 0.0042);
    vent_operating_point full[ROOM], half[ROOM];
    size_t n = points_of(&s, full);
    ck_assert_uint_eq(n, 3);
    vent_network_set_fan_speed(s.network, s.run, s.fan, 0.5, NULL);
    ck_assert_uint_eq(points_of(&s, half), n); /* a system of q^2 keeps its shape */
    for (size_t i = 0; i < n; ++i) {
        ck_assert_double_eq_tol(half[i].flow, full[i].flow / 2, 1e-11);
        ck_assert_double_eq_tol(half[i].pressure, full[i].pressure / 4, 1e-8);
        ck_assert_double_eq_tol(half[i].stall_flow, 0.03, 1e-15);
    }
    vent_network_free(s.network);
}
END_TEST

/* ---- against a dense scan ------------------------------------------------------------------- */

START_TEST(random_trees_against_a_scan)
{
    enum { FLOWS = 400, TREES = 150 };
    uint64_t state = 11;
    random_states r = {12};
    int several = 0;
    for (int i = 0; i < TREES; ++i) {
        tree t;
        vent_error err = VENT_NO_ERROR;
        tree_random(&t, 1 + i % 7, false, &state);
        data d = random_data(&r);
        for (int f = 0; f < t.fans; ++f)
            vent_fan_free(t.fan[f]);
        for (int k = 0; k < t.runs; ++k)
            t.run[k].fan = -1;
        t.run[0].fan = 0;
        t.fans = 1;
        t.fan[0] = vent_fan_new("fan", d.n, d.flow, d.pressure, &err);
        vent_network *network = tree_network(&t, &err);
        vent_workspace *ws = vent_workspace_new(network, &err);
        vent_operating_point points[ROOM];
        size_t n = vent_network_operating_points(network, ws, 0, ROOM, points, &err);
        if (err.status == VENT_E_NO_OPERATING_POINT) {
            err = (vent_error)VENT_NO_ERROR;
            n = 0;
        }
        ck_assert_msg(err.status == VENT_OK, "tree %d: %s", i, err.message);
        double flow[FLOWS], pressure[FLOWS], excess[FLOWS];
        double low = d.flow[0], high = d.flow[d.n - 1];
        for (int k = 0; k < FLOWS; ++k)
            flow[k] = low + (high - low) * (k + 0.5) / FLOWS;
        vent_network_system_curve(network, ws, 0, FLOWS, flow, pressure, NULL);
        double density = NAN;
        vent_solution *any = vent_network_solve(network, ws, NULL);
        density = any ? vent_solution_density(any, t.run[0].number) : NAN;
        vent_solution_free(any);
        for (int k = 0; k < FLOWS; ++k)
            excess[k] = vent_fan_pressure(t.fan[0], flow[k], density, 1) - pressure[k];
        for (int k = 0; k + 1 < FLOWS; ++k) {
            int within = 0;
            for (size_t j = 0; j < n; ++j)
                within += points[j].flow > flow[k] && points[j].flow <= flow[k + 1] &&
                          !(points[j].flags & VENT_POINT_TOUCHING);
            if (isnan(excess[k]) || isnan(excess[k + 1]))
                continue; /* the scan has no answer there */
            bool crosses = (excess[k] < 0) != (excess[k + 1] < 0);
            ck_assert_msg(within % 2 == crosses,
                          "tree %d: between %.6g and %.6g m3/s: %d points, %g and %g Pa", i,
                          flow[k], flow[k + 1], within, excess[k], excess[k + 1]);
        }
        for (size_t j = 0; j < n; ++j) { /* each is one of the network's own */
            double at;
            vent_solution *s = vent_network_solve_point(network, ws, points[j], &err);
            ck_assert_msg(err.status == VENT_OK, "tree %d: %s", i, err.message);
            tree_residuals(&t, s, &at, &density);
            ck_assert_double_le(at, 1e-11);
            vent_convergence c = vent_solution_convergence(s);
            ck_assert_double_le(c.pressure_residual, 1e-11 * c.pressure_scale);
            bool stable = points[j].system_slope > points[j].fan_slope;
            ck_assert_int_eq((points[j].flags & VENT_POINT_STABLE) != 0, stable);
            vent_solution_free(s);
        }
        several += n > 1;
        vent_workspace_free(ws);
        vent_network_free(network);
        tree_free(&t);
    }
    ck_assert_int_gt(several, 5);
}
END_TEST

/* ---- several fans --------------------------------------------------------------------------- */

/* Two pits with a rising fan each, that share nothing but a riser without loss. */
static vent_network *two_fans(const data *first, const data *second)
{
    vent_error err = VENT_NO_ERROR;
    vent_air air = vent_air_moist(AIR.temperature, AIR.pressure, 0, &err);
    vent_network *n = vent_network_new(air, air, &err);
    vent_pipe pipe = vent_pipe_round(0.1, 0, &err), wide = vent_pipe_round(10, 0, &err);
    int a = vent_network_suction_point(n, "a", vent_soil_power(0.0042, 0.5, &err), &err);
    int b = vent_network_suction_point(n, "b", vent_soil_power(0.0042, 0.5, &err), &err);
    int w = vent_network_junction(n, "w", vent_junction_lossless(), &err);
    int roof = vent_network_discharge(n, "roof", vent_open_end(), 0, &err);
    const data *fans[] = {first, second};
    int legs[] = {vent_network_run(n, "leg a", a, w, pipe, 0, &err),
                  vent_network_run(n, "leg b", b, w, pipe, 0, &err)};
    vent_network_run(n, "riser", w, roof, wide, 0, &err);
    for (int i = 0; i < 2; ++i) {
        vent_fan *fan = vent_fan_new("fan", fans[i]->n, fans[i]->flow, fans[i]->pressure, &err);
        vent_network_fan(n, legs[i], fan, &err);
        vent_fan_free(fan);
    }
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return n;
}

START_TEST(several_fans_are_said_to_be)
{
    const data falling = {2, {0, 0.1}, {300, 0}};
    vent_operating_point points[ROOM];
    vent_error err = VENT_NO_ERROR;
    vent_network *one = two_fans(&falling, &DIP), *two = two_fans(&DIP, &DIP);
    size_t n = vent_network_operating_points(one, NULL, VENT_EVERY_FAN, ROOM, points, &err);
    ck_assert_uint_eq(n, 3);
    for (size_t i = 0; i < n; ++i) {
        ck_assert_int_eq(points[i].fan, 1);
        ck_assert_int_eq(points[i].flags & VENT_POINT_MORE_POSSIBLE, 0);
        ck_assert_int_ne(points[i].flags & VENT_POINT_ONE_OF_SEVERAL, 0);
    }
    /* 3 x 3 there are; along each fan 3 are met, one of them by both */
    n = vent_network_operating_points(two, NULL, VENT_EVERY_FAN, ROOM, points, &err);
    ck_assert_uint_eq(n, 5);
    for (size_t i = 0; i < n; ++i)
        ck_assert_int_ne(points[i].flags & VENT_POINT_MORE_POSSIBLE, 0);
    ck_assert_uint_eq(vent_network_operating_points(two, NULL, 0, ROOM, points, &err), 3);
    ck_assert_int_ne(points[0].flags & VENT_POINT_MORE_POSSIBLE, 0);
    ck_assert_int_eq(err.status, VENT_OK);
    vent_network_free(one);
    vent_network_free(two);
}
END_TEST

/* ---- solutions, failures -------------------------------------------------------------------- */

START_TEST(solution_at_each)
{
    stack s = stack_of(&DIP, 0.0042);
    vent_operating_point points[ROOM];
    size_t n = points_of(&s, points);
    vent_workspace *ws = vent_workspace_new(s.network, NULL);
    for (size_t i = 0; i < n; ++i) {
        vent_error err = VENT_NO_ERROR;
        vent_solution *at = vent_network_solve_point(s.network, ws, points[i], &err);
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        ck_assert_double_eq_tol(vent_solution_flow(at, s.run), points[i].flow, 1e-12);
        vent_fan_point fan;
        vent_solution_fan(at, 0, &fan);
        ck_assert_double_eq_tol(fan.pressure, points[i].pressure, 1e-9);
        bool rising = vent_solution_flags(at) & VENT_WARN_FAN_RISING;
        ck_assert_int_eq(rising, points[i].fan_slope > 0);
        /* a factor on the fan's pressure moves the flow by F/(S' - F'), at unstable points back */
        vent_parameter factor = vent_network_parameter(s.network, VENT_PARAMETER_PRESSURE_FACTOR,
                                                       s.run, s.fan, 0, &err);
        vent_observable flow =
            vent_network_observable(s.network, VENT_OBSERVABLE_FLOW, s.run, 0, &err);
        double gradient;
        vent_solution_gradient(at, ws, flow, 1, &factor, &gradient, &err);
        double expected = points[i].pressure / (points[i].system_slope - points[i].fan_slope);
        ck_assert_double_eq_tol(gradient, expected, 1e-5 * fabs(expected));
        vent_solution_free(at);
    }
    vent_operating_point wrong = points[0];
    wrong.flow *= 1.01;
    vent_error err = VENT_NO_ERROR;
    ck_assert_ptr_null(vent_network_solve_point(s.network, ws, wrong, &err));
    ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
    err = (vent_error)VENT_NO_ERROR;
    wrong.flow = NAN;
    ck_assert_ptr_null(vent_network_solve_point(s.network, NULL, wrong, &err));
    ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
    err = (vent_error)VENT_NO_ERROR;
    wrong = points[0];
    wrong.fan = VENT_EVERY_FAN;
    ck_assert_ptr_null(vent_network_solve_point(s.network, NULL, wrong, &err));
    ck_assert_int_eq(err.status, VENT_E_NOT_FOUND);
    vent_workspace_free(ws);
    vent_network_free(s.network);
}
END_TEST

START_TEST(rooms_and_workspaces_do_not_matter)
{
    stack s = stack_of(&DIP, 0.0042);
    vent_workspace *ws = vent_workspace_new(s.network, NULL);
    vent_operating_point a[ROOM], b[ROOM], c;
    memset(a, 0, sizeof a);
    memset(b, 0, sizeof b);
    vent_solution_free(vent_network_solve(s.network, ws, NULL));
    size_t n = vent_network_operating_points(s.network, ws, 0, ROOM, a, NULL);
    ck_assert_uint_eq(vent_network_operating_points(s.network, NULL, 0, ROOM, b, NULL), n);
    ck_assert_mem_eq(a, b, n * sizeof *a);
    ck_assert_uint_eq(vent_network_operating_points(s.network, ws, 0, 1, &c, NULL), n);
    ck_assert_mem_eq(&c, a, sizeof c);
    ck_assert_uint_eq(vent_network_operating_points(s.network, ws, 0, 0, NULL, NULL), n);
    vent_workspace_free(ws);
    vent_network_free(s.network);
}
END_TEST

static void refuse(const vent_network *network, vent_workspace *ws, int fan, size_t room,
                   vent_operating_point *points, int status)
{
    vent_error err = VENT_NO_ERROR;
    ck_assert_uint_eq(vent_network_operating_points(network, ws, fan, room, points, &err), 0);
    ck_assert_msg(err.status == status, "%s", err.message);
    ck_assert_uint_eq(vent_network_operating_points(network, ws, fan, room, points, NULL), 0);
    char before[sizeof err.message];
    memcpy(before, err.message, sizeof before);
    vent_network_operating_points(network, ws, fan, room, points, &err); /* a chained call */
    ck_assert_str_eq(err.message, before);
}

START_TEST(bad_input)
{
    const data endless = {3, {0, 0.05, 0.1}, {100, 80, 300}}, falling = {2, {0, 0.1}, {300, 0}};
    stack s = stack_of(&DIP, 0.0042), other = stack_of(&falling, 0.01),
          none = stack_of(&endless, 0.05);
    vent_operating_point points[ROOM];
    vent_workspace *ws = vent_workspace_new(s.network, NULL);
    refuse(NULL, ws, 0, ROOM, points, VENT_E_ARGUMENT);
    refuse(s.network, ws, 0, 1, NULL, VENT_E_ARGUMENT);
    refuse(s.network, ws, 1, ROOM, points, VENT_E_NOT_FOUND);
    refuse(s.network, ws, -2, ROOM, points, VENT_E_NOT_FOUND);
    refuse(none.network, NULL, 0, ROOM, points, VENT_E_NO_OPERATING_POINT);
    vent_network_fitting(other.network, other.run, vent_entry_flush(), 1, NULL);
    refuse(other.network, ws, 0, ROOM, points, VENT_E_STALE);
    vent_workspace_free(ws);
    vent_network_free(s.network);
    vent_network_free(other.network);
    vent_network_free(none.network);
}
END_TEST

Suite *points_suite(void)
{
    Suite *suite = suite_create("points");
    TCase *values = tcase_create("values");
    tcase_add_test(values, dip_against_the_cubic_formula);
    tcase_add_test(values, five_hundred_random_fans);
    tcase_add_test(values, curves_that_touch);
    tcase_add_test(values, falling_fans_have_one);
    tcase_add_test(values, fan_laws_move_the_points);
    suite_add_tcase(suite, values);
    TCase *networks = tcase_create("networks");
    tcase_add_test(networks, random_trees_against_a_scan);
    tcase_add_test(networks, several_fans_are_said_to_be);
    suite_add_tcase(suite, networks);
    TCase *use = tcase_create("use");
    tcase_add_test(use, solution_at_each);
    tcase_add_test(use, rooms_and_workspaces_do_not_matter);
    tcase_add_test(use, bad_input);
    suite_add_tcase(suite, use);
    return suite;
}
