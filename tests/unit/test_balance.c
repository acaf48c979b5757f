/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <ventstack/ventstack.h>

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "random.h"
#include "suites.h"

/* Two pits, legs of no length with a stated coefficient each, a junction without loss, a fan whose curve
 * is a line: everything is q^2 or a line, and what the legs must take for given flows is arithmetic. */
static const double BORE = 0.08, SOIL[2] = {0.004, 0.006}; /* m; m3/s/Pa^0.5 */
static const double SHUT_OFF = 400, FREE_DELIVERY = 0.12;  /* Pa, m3/s */

typedef struct manifold {
    vent_network *network;
    int leg[2], damper[2], riser, fan, pit[2];
    double density, area;
} manifold;

static manifold manifold_of(vent_fitting damper)
{
    vent_error err = VENT_NO_ERROR;
    vent_air air = vent_air_moist(288.15, 101325, 0, &err);
    vent_pipe pipe = vent_pipe_round(BORE, 0, &err);
    manifold m = {.network = vent_network_new(air, air, &err),
                  .density = air.density,
                  .area = vent_pipe_area(pipe)};
    int wye = vent_network_junction(m.network, "wye", vent_junction_lossless(), &err);
    int roof = vent_network_discharge(m.network, "roof", vent_open_end(), 0, &err);
    const char *pits[] = {"near pit", "far pit"}, *legs[] = {"near", "far"};
    for (int i = 0; i < 2; ++i) {
        vent_soil soil = vent_soil_power(SOIL[i], 0.5, &err);
        m.pit[i] = vent_network_suction_point(m.network, pits[i], soil, &err);
        m.leg[i] = vent_network_run(m.network, legs[i], m.pit[i], wye, pipe, 0, &err);
        m.damper[i] = vent_network_fitting(m.network, m.leg[i], damper, 1, &err);
    }
    m.riser = vent_network_run(m.network, "riser", wye, roof, pipe, 0, &err);
    const double flow[] = {0, FREE_DELIVERY}, pressure[] = {SHUT_OFF, 0};
    vent_fan *fan = vent_fan_new_at("fan", 2, flow, pressure, NULL, air.density, &err);
    m.fan = vent_network_fan(m.network, m.riser, fan, &err);
    vent_fan_free(fan);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return m;
}

static double velocity_pressure(const manifold *m, double flow)
{
    return m->density * flow * flow / (2 * m->area * m->area);
}

/* The coefficient a leg must have for these flows, with the fan at a speed. */
static double coefficient(const manifold *m, const double *flow, int leg, double speed)
{
    double sum = flow[0] + flow[1];
    double fan = speed * speed * SHUT_OFF * (1 - sum / (FREE_DELIVERY * speed));
    double vacuum = fan - velocity_pressure(m, sum), soil = flow[leg] / SOIL[leg];
    return (vacuum - soil * soil) / velocity_pressure(m, flow[leg]);
}

static vent_parameter parameter(const manifold *m, const char *name)
{
    vent_error err = VENT_NO_ERROR;
    vent_parameter p = vent_network_find_parameter(m->network, name, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return p;
}

static vent_observable observable(const manifold *m, const char *name)
{
    vent_error err = VENT_NO_ERROR;
    vent_observable o = vent_network_find_observable(m->network, name, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return o;
}

static vent_balance *balance_of(const manifold *m, const double *flow, double tolerance)
{
    vent_error err = VENT_NO_ERROR;
    vent_balance *b = vent_balance_new(m->network, &err);
    if (flow) {
        vent_balance_target(b, observable(m, "near.flow"), flow[0], tolerance, &err);
        vent_balance_target(b, observable(m, "far.flow"), flow[1], tolerance, &err);
    }
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return b;
}

static vent_balanced *solved(const vent_balance *b)
{
    vent_error err = VENT_NO_ERROR;
    vent_balanced *found = vent_balance_solve(b, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return found;
}

static void adjust(vent_balance *b, vent_parameter p, double low, double high)
{
    vent_error err = VENT_NO_ERROR;
    int number = vent_balance_adjust(b, p, &err);
    vent_balance_bounds(b, number, low, high, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
}

static double setting(const vent_balanced *b, int number)
{
    vent_setting s;
    ck_assert(vent_balanced_setting(b, number, &s));
    return s.value;
}

static void expect_said(const vent_balanced *b, const char *words)
{
    char text[2000];
    vent_balanced_verdict(b, sizeof text, text);
    ck_assert_msg(strstr(text, words), "'%s' is not in: %s", words, text);
}

/* ---- with a known answer -------------------------------------------------------------------- */

START_TEST(two_coefficients_for_two_flows)
{
    manifold m = manifold_of(vent_fitting_constant(1, 0, NULL));
    random_states r = {3};
    for (int i = 0; i < 200; ++i) {
        double flow[2] = {random_between(&r, 0.005, 0.035), random_between(&r, 0.005, 0.035)};
        double k[2] = {coefficient(&m, flow, 0, 1), coefficient(&m, flow, 1, 1)};
        if (!(k[0] > 0 && k[1] > 0 && k[0] < 500 && k[1] < 500))
            continue;
        vent_balance *b = balance_of(&m, flow, 1e-4 * flow[0]);
        adjust(b, parameter(&m, "near[1].factor"), 0, 1000);
        adjust(b, parameter(&m, "far[1].factor"), 0, 1000);
        vent_balanced *found = solved(b);
        ck_assert(vent_balanced_is_met(found));
        for (int leg = 0; leg < 2; ++leg) {
            vent_achievement a;
            ck_assert(vent_balanced_target(found, leg, &a));
            ck_assert(a.is_met);
            ck_assert_double_eq_tol(a.achieved, flow[leg], 1e-9 * flow[leg]);
            ck_assert_double_eq(a.wanted, flow[leg]);
            ck_assert_double_eq_tol(setting(found, leg), k[leg], 1e-5 * (1 + k[leg]));
        }
        vent_balanced_free(found);
        vent_balance_free(b);
    }
    vent_network_free(m.network);
}
END_TEST

/* With the fan's speed free as well one damper can stay open: that of the leg which needs most vacuum. */
START_TEST(index_run_stays_open)
{
    manifold m = manifold_of(vent_fitting_constant(1, 0, NULL));
    const double flow[] = {0.02, 0.02};
    vent_balance *b = balance_of(&m, flow, 1e-6);
    adjust(b, parameter(&m, "near[1].factor"), 0.5, 1000);
    adjust(b, parameter(&m, "far[1].factor"), 0.5, 1000);
    adjust(b, parameter(&m, "riser.speed"), 0.3, 1.5);
    vent_balanced *found = solved(b);
    ck_assert(vent_balanced_is_met(found));
    vent_setting near, far;
    vent_balanced_setting(found, 0, &near);
    vent_balanced_setting(found, 1, &far);
    ck_assert_double_eq(near.value, 0.5); /* in the tighter soil */
    ck_assert_int_eq(near.is_wide_open, 1);
    ck_assert_int_eq(near.at_bound, -1);
    ck_assert_int_eq(far.is_wide_open, 0);
    double speed = setting(found, 2);
    ck_assert_double_eq_tol(coefficient(&m, flow, 0, speed), 0.5, 0.01);
    ck_assert_double_eq_tol(coefficient(&m, flow, 1, speed), far.value, 0.01);
    expect_said(found, "Balanced: 2 of 2 targets within tolerance; wide open: near[1].factor");
    /* only the copy was turned until it is asked for */
    ck_assert_double_eq(vent_network_get(m.network, parameter(&m, "riser.speed"), NULL), 1);
    vent_error err = VENT_NO_ERROR;
    ck_assert(vent_balanced_apply(found, m.network, &err));
    ck_assert_double_eq(vent_network_get(m.network, parameter(&m, "riser.speed"), NULL), speed);
    vent_solution *s = vent_network_solve(m.network, NULL, &err);
    ck_assert_double_eq_tol(vent_solution_flow(s, m.leg[0]), 0.02, 1e-6);
    ck_assert_double_eq_tol(vent_solution_flow(s, m.leg[1]), 0.02, 1e-6);
    vent_solution_free(s);
    vent_balanced_free(found);
    vent_balance_free(b);
    vent_network_free(m.network);
}
END_TEST

/* Openings of a gate, whose coefficient then is what the flows need; from wide open, where a gate's
 * coefficient hardly answers. */
START_TEST(openings_of_gates)
{
    const struct {
        vent_fitting damper;
        const char *near, *far;
    } kinds[] = {
        {vent_slide_gate(1, NULL), "near[1].opening", "far[1].opening"},
        {vent_butterfly_damper(0, 1, NULL), "near[1].angle", "far[1].angle"},
        {vent_ball_valve(0, NULL), "near[1].angle", "far[1].angle"},
        {vent_gate_valve(1, NULL), "near[1].opening", "far[1].opening"},
    };
    const double flow[] = {0.014, 0.022};
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; ++i) {
        manifold m = manifold_of(kinds[i].damper);
        vent_error err = VENT_NO_ERROR;
        vent_balance *b = balance_of(&m, flow, 1e-5);
        vent_balance_adjust(b, parameter(&m, kinds[i].near), &err);
        vent_balance_adjust(b, parameter(&m, kinds[i].far), &err);
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        vent_balanced *found = solved(b);
        ck_assert(vent_balanced_is_met(found));
        vent_pipe pipe = vent_pipe_round(BORE, 0, NULL);
        vent_air air = vent_air_moist(288.15, 101325, 0, NULL);
        for (int leg = 0; leg < 2; ++leg) {
            vent_fitting set = kinds[i].damper;
            set.geometry[0] = setting(found, leg);
            double reynolds = flow[leg] / m.area * BORE * m.density / air.viscosity;
            vent_coefficient k = vent_fitting_coefficient(set, pipe, reynolds, NULL);
            double expected = coefficient(&m, flow, leg, 1);
            ck_assert_double_eq_tol(k.value, expected, 1e-4 * expected);
        }
        expect_said(found, "no damper is wide open: the fan makes more than the targets need");
        vent_balanced_free(found);
        vent_balance_free(b);
        /* from that back to open, if anything will do */
        vent_network_set(m.network, parameter(&m, kinds[i].near),
                         kinds[i].damper.geometry[0] / 2 + 0.2, &err);
        b = balance_of(&m, flow, 0.1);
        vent_balance_adjust(b, parameter(&m, kinds[i].near), &err);
        found = solved(b);
        vent_setting s;
        vent_balanced_setting(found, 0, &s);
        ck_assert_double_eq(s.value, kinds[i].damper.geometry[0]);
        ck_assert_int_eq(s.is_wide_open, 1);
        vent_balanced_free(found);
        vent_balance_free(b);
        vent_network_free(m.network);
    }
}
END_TEST

/* Off by half a tolerance more than is allowed, or less. */
START_TEST(tolerances_count)
{
    manifold m = manifold_of(vent_fitting_constant(1, 0, NULL));
    vent_solution *s = vent_network_solve(m.network, NULL, NULL);
    for (int i = 0; i < 2; ++i) {
        vent_balance *b = balance_of(&m, NULL, 0);
        double flow = vent_solution_flow(s, m.leg[0]);
        vent_balance_target(b, observable(&m, "near.flow"), flow + (i ? 1.5e-4 : 0.5e-4), 1e-4,
                            NULL);
        vent_balanced *found = solved(b);
        vent_achievement a;
        vent_balanced_target(found, 0, &a);
        ck_assert_double_eq_tol(a.deviation, i ? -1.5 : -0.5, 1e-9);
        ck_assert_int_eq(a.is_met, !i);
        ck_assert_int_eq(vent_balanced_is_met(found), !i);
        vent_balanced_free(found);
        vent_balance_free(b);
    }
    vent_solution_free(s);
    vent_network_free(m.network);
}
END_TEST

START_TEST(vacuums_and_wide_tolerances)
{
    manifold m = manifold_of(vent_fitting_constant(1, 0, NULL));
    const double flow[] = {0.015, 0.02};
    vent_error err = VENT_NO_ERROR;
    vent_balance *b = balance_of(&m, NULL, 0);
    double vacuum[2];
    for (int i = 0; i < 2; ++i)
        vacuum[i] = pow(flow[i] / SOIL[i], 2);
    vent_balance_target(b, observable(&m, "near pit.pressure"), -vacuum[0], 0.01, &err);
    vent_balance_target(b, observable(&m, "far pit.pressure"), -vacuum[1], 0.01, &err);
    adjust(b, parameter(&m, "near[1].factor"), 0, 1000);
    adjust(b, parameter(&m, "far[1].factor"), 0, 1000);
    vent_balanced *found = solved(b);
    for (int i = 0; i < 2; ++i)
        ck_assert_double_eq_tol(setting(found, i), coefficient(&m, flow, i, 1), 1e-5 * 100);
    vent_balanced_free(found);
    vent_balance_free(b);
    /* any flows will do: both stay open */
    b = balance_of(&m, flow, 0.1);
    adjust(b, parameter(&m, "near[1].factor"), 0.2, 1000);
    adjust(b, parameter(&m, "far[1].factor"), 0.2, 1000);
    found = solved(b);
    ck_assert(vent_balanced_is_met(found));
    ck_assert_double_eq(setting(found, 0), 0.2);
    ck_assert_double_eq(setting(found, 1), 0.2);
    vent_balanced_free(found);
    vent_balance_free(b);
    vent_network_free(m.network);
}
END_TEST

/* ---- what cannot be -------------------------------------------------------------------------- */

START_TEST(more_than_there_is)
{
    manifold m = manifold_of(vent_fitting_constant(1, 0, NULL));
    const double flow[] = {0.2, 0.01};
    vent_balance *b = balance_of(&m, flow, 1e-4);
    adjust(b, parameter(&m, "near[1].factor"), 0, 1000);
    adjust(b, parameter(&m, "far[1].factor"), 0, 1000);
    vent_balanced *found = solved(b);
    vent_achievement near, far;
    vent_setting open, shut;
    vent_balanced_target(found, 0, &near);
    vent_balanced_target(found, 1, &far);
    vent_balanced_setting(found, 0, &open);
    vent_balanced_setting(found, 1, &shut);
    ck_assert(!vent_balanced_is_met(found));
    ck_assert_double_eq(open.value, 0);
    ck_assert_int_eq(open.at_bound, -1);
    ck_assert_int_eq(open.is_wide_open, 1);
    ck_assert_double_lt(open.pull, 0); /* would open further */
    ck_assert_double_lt(near.achieved, 0.2);
    ck_assert_double_eq_tol(near.deviation, (near.achieved - 0.2) / 1e-4, 1e-9 * 2000);
    expect_said(found, "near.flow cannot be 200 L/s (424 cfm); the nearest is");
    expect_said(found, "near[1].factor stands at its lower bound, 0 (wide open)");
    /* nearest indeed: no pair on a grid of coefficients comes nearer */
    double least = hypot(near.deviation, far.deviation);
    for (double a = 0; a < 1000; a = 2 * a + 0.1)
        for (double k = 0; k < 1000; k = 1.3 * k + 0.1) {
            vent_error err = VENT_NO_ERROR;
            vent_network *other = vent_network_copy(m.network, &err);
            vent_network_set(other, parameter(&m, "near[1].factor"), a, &err);
            vent_network_set(other, parameter(&m, "far[1].factor"), k, &err);
            vent_solution *s = vent_network_solve(other, NULL, &err);
            double off[2];
            for (int i = 0; i < 2; ++i)
                off[i] = (vent_solution_flow(s, m.leg[i]) - flow[i]) / 1e-4;
            ck_assert_double_ge(hypot(off[0], off[1]), least * (1 - 1e-9));
            vent_solution_free(s);
            vent_network_free(other);
        }
    vent_balanced_free(found);
    vent_balance_free(b);
    vent_network_free(m.network);
}
END_TEST

START_TEST(one_damper_for_two_targets)
{
    manifold m = manifold_of(vent_fitting_constant(1, 0, NULL));
    const double flow[] = {0.015, 0.012};
    vent_balance *b = balance_of(&m, flow, 1e-4);
    adjust(b, parameter(&m, "riser.speed"), 0.3, 1.5);
    vent_balanced *found = solved(b);
    ck_assert(!vent_balanced_is_met(found));
    vent_achievement near, far;
    vent_setting speed;
    vent_balanced_target(found, 0, &near);
    vent_balanced_target(found, 1, &far);
    vent_balanced_setting(found, 0, &speed);
    ck_assert_double_lt(near.deviation, 0);
    ck_assert_double_gt(far.deviation, 0);
    ck_assert_int_eq(speed.at_bound, 0);
    /* between the bounds the targets pull against each other, and not at all in sum */
    ck_assert_double_eq_tol(speed.pull, 0, 1e-4);
    expect_said(found, "near.flow cannot be 15 L/s (31.8 cfm)");
    expect_said(found, "far.flow cannot be 12 L/s (25.4 cfm)");
    expect_said(found, "the targets want different settings of what may be adjusted");
    vent_balanced_free(found);
    vent_balance_free(b);
    vent_network_free(m.network);
}
END_TEST

START_TEST(nothing_to_turn)
{
    manifold m = manifold_of(vent_fitting_constant(1, 0, NULL));
    const double flow[] = {0.015, 0.012};
    vent_balance *b = balance_of(&m, flow, 1e-4);
    vent_balanced *found = solved(b);
    ck_assert(!vent_balanced_is_met(found));
    expect_said(found, "nothing may be adjusted");
    vent_balanced_free(found);
    vent_balance_free(b);
    b = balance_of(&m, flow, 1); /* good as it is */
    found = solved(b);
    ck_assert(vent_balanced_is_met(found));
    vent_balanced_free(found);
    vent_balance_free(b);
    b = balance_of(&m, flow, 1e-4); /* what is turned moves nothing */
    adjust(b, parameter(&m, "building_pressure"), -10, 10);
    found = solved(b);
    ck_assert(!vent_balanced_is_met(found));
    expect_said(found, "nothing that may be adjusted moves it");
    vent_balanced_free(found);
    vent_balance_free(b);
    vent_network_free(m.network);
}
END_TEST

/* ---- bad input ------------------------------------------------------------------------------- */

#define REFUSED(call, expected)                                                                    \
    do {                                                                                           \
        vent_error err = VENT_NO_ERROR;                                                            \
        call;                                                                                      \
        ck_assert_msg(err.status == (expected), "%s: %d, %s", #call, err.status, err.message);     \
    } while (0)

START_TEST(bad_input)
{
    manifold m = manifold_of(vent_fitting_constant(1, 0, NULL));
    manifold other = manifold_of(vent_fitting_constant(1, 0, NULL));
    vent_balance *b = balance_of(&m, NULL, 0);
    vent_observable flow = observable(&m, "near.flow"), power = observable(&m, "riser.fan_power");
    vent_parameter speed = parameter(&m, "riser.speed");
    vent_parameter none = {0};
    vent_observable nothing = {0};
    REFUSED(ck_assert_ptr_null(vent_balance_new(NULL, &err)), VENT_E_ARGUMENT);
    REFUSED(vent_balance_solve(NULL, &err), VENT_E_ARGUMENT);
    REFUSED(vent_balance_solve(b, &err), VENT_E_ARGUMENT); /* no target */
    REFUSED(vent_balance_target(NULL, flow, 1, 1, &err), VENT_E_ARGUMENT);
    REFUSED(vent_balance_target(b, nothing, 1, 1, &err), VENT_E_NOT_FOUND);
    REFUSED(vent_balance_target(b, flow, NAN, 1, &err), VENT_E_ARGUMENT);
    REFUSED(vent_balance_target(b, flow, INFINITY, 1, &err), VENT_E_ARGUMENT);
    REFUSED(vent_balance_target(b, flow, 1, 0, &err), VENT_E_ARGUMENT);
    REFUSED(vent_balance_target(b, flow, 1, -1, &err), VENT_E_ARGUMENT);
    REFUSED(vent_balance_target(b, flow, 1, NAN, &err), VENT_E_ARGUMENT);
    REFUSED(vent_balance_adjust(b, none, &err), VENT_E_NOT_FOUND);
    REFUSED(vent_balance_adjust(NULL, speed, &err), VENT_E_ARGUMENT);
    REFUSED(ck_assert_int_eq(vent_balance_adjust(b, speed, &err), 0), VENT_OK);
    REFUSED(ck_assert_int_eq(vent_balance_adjust(b, speed, &err), -1), VENT_E_DUPLICATE);
    REFUSED(vent_balance_bounds(b, 1, 0.5, 1, &err), VENT_E_NOT_FOUND);
    REFUSED(vent_balance_bounds(b, -1, 0.5, 1, &err), VENT_E_NOT_FOUND);
    REFUSED(vent_balance_bounds(b, 0, 0.5, 11, &err), VENT_E_ARGUMENT);
    REFUSED(vent_balance_bounds(b, 0, 1, 0.5, &err), VENT_E_ARGUMENT);
    REFUSED(vent_balance_bounds(b, 0, 1, 1, &err), VENT_E_ARGUMENT);
    REFUSED(vent_balance_bounds(b, 0, NAN, 1, &err), VENT_E_ARGUMENT);
    REFUSED(vent_balance_bounds(b, 0, 0.5, 1, &err), VENT_OK);
    REFUSED(ck_assert_int_eq(vent_balance_target(b, flow, 0.01, 1e-3, &err), 0), VENT_OK);
    REFUSED(ck_assert_int_eq(vent_balance_target(b, flow, 0.01, 1e-3, &err), -1), VENT_E_DUPLICATE);
    vent_balanced *found = solved(b);
    vent_achievement a;
    vent_setting s;
    ck_assert(!vent_balanced_target(found, 1, &a) && !vent_balanced_target(found, -1, &a));
    ck_assert(!vent_balanced_setting(found, 1, &s) && !vent_balanced_setting(found, 0, NULL));
    ck_assert(!vent_balanced_target(NULL, 0, &a) && !vent_balanced_is_met(NULL));
    ck_assert_uint_eq(vent_balanced_verdict(NULL, 0, NULL), 0);
    char text[8];
    ck_assert_uint_gt(vent_balanced_verdict(found, sizeof text, text), sizeof text);
    ck_assert_uint_eq(strlen(text), sizeof text - 1);
    ck_assert_uint_gt(vent_balanced_verdict(found, 0, NULL), 0);
    REFUSED(vent_balanced_apply(found, NULL, &err), VENT_E_ARGUMENT);
    vent_error ok = VENT_NO_ERROR;
    vent_network *empty = vent_network_new(vent_air_moist(288.15, 101325, 0, &ok),
                                           vent_air_moist(288.15, 101325, 0, &ok), &ok);
    REFUSED(vent_balanced_apply(found, empty, &err), VENT_E_NOT_FOUND);
    REFUSED(ck_assert(vent_balanced_apply(found, other.network, &err)), VENT_OK);
    vent_balance *incomplete = vent_balance_new(empty, &ok);
    ck_assert_ptr_nonnull(incomplete);
    REFUSED(vent_balance_solve(incomplete, &err), VENT_E_ARGUMENT);
    REFUSED(vent_balance_target(b, power, 10, 1, &err), VENT_OK); /* no data of power */
    REFUSED(ck_assert_ptr_null(vent_balance_solve(b, &err)), VENT_E_ARGUMENT);
    vent_balance_free(NULL);
    vent_balanced_free(NULL);
    vent_balance_free(incomplete);
    vent_network_free(empty);
    vent_balanced_free(found);
    vent_balance_free(b);
    vent_network_free(m.network);
    vent_network_free(other.network);
}
END_TEST

Suite *balance_suite(void)
{
    Suite *suite = suite_create("balance");
    TCase *known = tcase_create("known");
    tcase_add_test(known, two_coefficients_for_two_flows);
    tcase_add_test(known, index_run_stays_open);
    tcase_add_test(known, openings_of_gates);
    tcase_add_test(known, tolerances_count);
    tcase_add_test(known, vacuums_and_wide_tolerances);
    suite_add_tcase(suite, known);
    TCase *cannot = tcase_create("cannot");
    tcase_add_test(cannot, more_than_there_is);
    tcase_add_test(cannot, one_damper_for_two_targets);
    tcase_add_test(cannot, nothing_to_turn);
    suite_add_tcase(suite, cannot);
    TCase *bad = tcase_create("bad_input");
    tcase_add_test(bad, bad_input);
    suite_add_tcase(suite, bad);
    return suite;
}
