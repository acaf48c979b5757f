/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Junctions: published values, energy, continuity over every sign of the flows, derivatives. */
#include "base/source_list.h"
#include "csv.h"
#include "physics/laws.h"
#include "random.h"
#include "suites.h"

#include <string.h>
#include <ventstack/units.h>

static const double NOT_A_NUMBER = (double)NAN, INFINITE = (double)INFINITY;

/* A wye in a pipe of 1 m2, air of 1 kg/m3: flows are velocities, losses over 1/2 coefficients. */
typedef struct wye {
    double angle, straight_area, branch_area;
} wye;

static vent__leg leg_of(wye w, bool straight)
{
    return (vent__leg){.law = {.law = VENT_JUNCTION_WYE, .angle = w.angle, .factor = 1},
                       .straight = straight,
                       .leg_area = straight ? w.straight_area : w.branch_area,
                       .other_area = straight ? w.branch_area : w.straight_area,
                       .combined_area = 1,
                       .density = 1};
}

typedef vent__leg_loss law(const vent__leg *leg, double leg_flow, double combined_flow);

static double loss(law *of, wye w, bool straight, double straight_flow, double branch_flow)
{
    vent__leg leg = leg_of(w, straight);
    return of(&leg, straight ? straight_flow : branch_flow, straight_flow + branch_flow).loss;
}

/* ---- published ------------------------------------------------------------------------------ */

START_TEST(published_values_lie_where_the_uncertainty_says)
{
    csv *table = csv_open("junctions_published.csv");
    while (csv_next(table)) {
        wye w = {VENT_RADIANS(csv_number(table, "angle")), csv_number(table, "straight_area"),
                 csv_number(table, "branch_area")};
        bool straight = strcmp(csv_text(table, "leg"), "straight") == 0;
        double combined = csv_number(table, "combined"), q = csv_number(table, "flow_share");
        double flow = combined * (straight ? 1 - q : q);
        vent__leg leg = leg_of(w, straight);
        vent_coefficient c = vent__junction_state(&leg, flow, combined);
        if (strcmp(csv_text(table, "law"), "momentum") == 0)
            c.value = vent__junction_momentum(&leg, flow, combined).loss / 0.5;
        double k = combined * c.value; /* the way the air goes */
        if (strcmp(csv_text(table, "expect"), "exact") == 0) {
            csv_expect(table, "k", k, 1e-9, 1e-12);
        } else {
            ck_assert_str_eq(csv_text(table, "expect"), "agree");
            csv_expect(table, "k", k, 0, 2 * c.uncertainty);
        }
    }
    csv_close(table);
}
END_TEST

/* Crane's own formula for a shut branch would have -0.9; nothing but the static pressure acts. */
START_TEST(a_shut_branch_feels_the_static_pressure)
{
    for (double angle = 15; angle <= 90; angle += 15) {
        wye w = {VENT_RADIANS(angle), 1, 0.6};
        ck_assert_double_eq_tol(2 * loss(vent__junction_leg, w, false, 1, 0), -1, 1e-15);
        ck_assert_double_eq(loss(vent__junction_leg, w, true, 1, 0), 0);
    }
}
END_TEST

START_TEST(an_unequal_straight_pipe_is_a_change_of_bore)
{
    for (double area = 0.2; area <= 1; area += 0.1) {
        wye w = {VENT_RADIANS(90), area, 0.5};
        double velocity = 1 / area;
        ck_assert_double_eq_tol(2 * loss(vent__junction_leg, w, true, 1, 0),
                                (velocity - 1) * (velocity - 1), 1e-13);
    }
}
END_TEST

START_TEST(a_lossless_junction_costs_nothing)
{
    vent__leg leg = leg_of((wye){1, 0.7, 0.6}, true);
    leg.law = vent_junction_lossless();
    vent__leg_loss h = vent__junction_leg(&leg, 0.3, -0.4);
    ck_assert(h.loss == 0 && h.d_leg == 0 && h.d_combined == 0);
    vent_coefficient c = vent_junction_coefficient(leg.law, false, 0.5, 1, 1, NULL);
    ck_assert(c.value == 0 && c.uncertainty == 0 && c.source == 0 && c.flags == 0);
}
END_TEST

/* ---- properties ----------------------------------------------------------------------------- */

static wye any_wye(random_states *r)
{
    static const double angles[] = {30, 45, 60, 90};
    wye w = {VENT_RADIANS(random_between(r, 0, 150)), random_between(r, 0.05, 2),
             random_between(r, 0.05, 2)};
    if (random_between(r, 0, 1) < 0.5)
        w.straight_area = 1;
    if (random_between(r, 0, 1) < 0.5)
        w.angle = VENT_RADIANS(angles[(int)random_between(r, 0, 3.999)]);
    return w;
}

static wye wye_in_range(random_states *r)
{
    wye w = {VENT_RADIANS(random_between(r, 15, 90)), random_between(r, 0.3, 1),
             random_between(r, 0.1, 1)};
    if (random_between(r, 0, 1) < 0.5)
        w.straight_area = 1;
    return w;
}

/* Flows of every sign, often with one of them nearly shut. */
static void any_flows(random_states *r, double *straight, double *branch)
{
    double small = random_between(r, 0, 1) < 0.5 ? 1 : random_decades(r, 1e-12, 1);
    double a = random_between(r, -1, 1), b = small * random_between(r, -1, 1);
    switch ((int)random_between(r, 0, 2.999)) {
    case 0:
        *straight = a, *branch = b;
        break;
    case 1:
        *straight = b, *branch = a;
        break;
    default: /* hardly any in the combined pipe */
        *straight = a, *branch = b - a;
    }
}

/* Power that enters by the legs less what leaves by the combined pipe, over what moves. */
static double dissipated(law *of, wye w, double s, double b)
{
    double power = s * loss(of, w, true, s, b) + b * loss(of, w, false, s, b), c = s + b;
    double vs = s / w.straight_area, vb = b / w.branch_area;
    return power / (0.5 * (fabs(s) * vs * vs + fabs(b) * vb * vb + fabs(c) * c * c));
}

START_TEST(momentum_theory_never_makes_energy)
{
    random_states r = {0};
    for (int n = 0; n < 200000; ++n) {
        wye w = any_wye(&r);
        double s, b;
        any_flows(&r, &s, &b);
        ck_assert_double_ge(dissipated(vent__junction_momentum, w, s, b), -1e-14);
    }
}
END_TEST

/* The source's correction of the straight leg makes a little where two parallel streams of one
 * speed meet at a slender angle: 1.3 % of the power that moves, within its uncertainty of 0.1. */
START_TEST(the_law_makes_no_energy_beyond_the_sources_uncertainty)
{
    random_states r = {0};
    for (int n = 0; n < 200000; ++n) {
        wye w = wye_in_range(&r);
        double s, b;
        any_flows(&r, &s, &b);
        double made = -dissipated(vent__junction_leg, w, s, b);
        ck_assert_msg(made <= 0.014, "%g degrees, %g, %g, %g, %g: %g", w.angle * (180 / VENT_PI),
                      w.straight_area, w.branch_area, s, b, made);
        if (w.angle >= VENT_RADIANS(30) || s <= 0 || b <= 0)
            ck_assert_msg(made <= 1e-3, "%g degrees, %g, %g, %g, %g: %g", w.angle * (180 / VENT_PI),
                          w.straight_area, w.branch_area, s, b, made);
    }
}
END_TEST

/* Around the circle of the flows, over the border of every two sectors. */
START_TEST(the_law_is_continuous_for_every_sign_of_the_flows)
{
    static const double borders[] = {0,       VENT_PI / 2,     3 * VENT_PI / 4,
                                     VENT_PI, 3 * VENT_PI / 2, 7 * VENT_PI / 4};
    law *const laws[] = {vent__junction_leg, vent__junction_momentum};
    random_states r = {0};
    for (int n = 0; n < 20000; ++n) {
        wye w = any_wye(&r);
        double at = n % 2 ? borders[n / 2 % 6] : random_between(&r, 0, 2 * VENT_PI);
        double s = cos(at - 1e-9), b = sin(at - 1e-9), s2 = cos(at + 1e-9), b2 = sin(at + 1e-9);
        double scale = 1 + 1 / (w.straight_area * w.straight_area) +
                       1 / (w.branch_area * w.branch_area) +
                       1 / (w.straight_area * w.branch_area * w.branch_area);
        for (int i = 0; i < 2; ++i)
            for (int straight = 0; straight < 2; ++straight)
                ck_assert_double_eq_tol(loss(laws[i], w, straight, s, b),
                                        loss(laws[i], w, straight, s2, b2), 1e-7 * scale);
    }
}
END_TEST

START_TEST(the_law_is_of_degree_two_in_the_flows)
{
    random_states r = {0};
    for (int n = 0; n < 20000; ++n) {
        wye w = any_wye(&r);
        double s, b, by = random_decades(&r, 1e-6, 1e6);
        any_flows(&r, &s, &b);
        for (int straight = 0; straight < 2; ++straight) {
            vent__leg leg = leg_of(w, straight);
            double leg_flow = straight ? s : b, combined = s + b;
            double one = vent__junction_leg(&leg, leg_flow, combined).loss;
            double other = vent__junction_leg(&leg, by * leg_flow, by * combined).loss;
            double size =
                1 / (w.straight_area * w.straight_area) + 1 / (w.branch_area * w.branch_area) + 1;
            ck_assert_double_eq_tol(other / (by * by), one, 1e-11 * size * size);
        }
    }
}
END_TEST

START_TEST(still_air_and_extreme_flows_give_finite_answers)
{
    static const double flows[] = {0, -0.0, 1e-300, -1e-300, 1e-160, -1e-160, 1e-20, -1e-20, 1, -1};
    enum { FLOWS = sizeof flows / sizeof *flows };
    for (int i = 0; i < FLOWS; ++i)
        for (int j = 0; j < FLOWS; ++j)
            for (int straight = 0; straight < 2; ++straight) {
                vent__leg leg = leg_of((wye){VENT_RADIANS(90), 1, 0.6}, straight);
                vent__leg_loss h = vent__junction_leg(&leg, flows[i], flows[j]);
                ck_assert_msg(isfinite(h.loss) && isfinite(h.d_leg) && isfinite(h.d_combined),
                              "%g of %g", flows[i], flows[j]);
            }
}
END_TEST

/* Each derivative against differences, away from the borders of the sectors. */
static void check_derivatives(law *of, wye w, bool straight, double s, double b)
{
    vent__leg leg = leg_of(w, straight);
    double m = straight ? s : b, c = s + b, step = 1e-6;
    vent__leg_loss h = of(&leg, m, c);
    double by_leg = (of(&leg, m + step, c).loss - of(&leg, m - step, c).loss) / (2 * step);
    double by_combined = (of(&leg, m, c + step).loss - of(&leg, m, c - step).loss) / (2 * step);
    double size = 1 + 1 / pow(fmin(w.straight_area, w.branch_area), 3);
    ck_assert_double_eq_tol(h.d_leg, by_leg, 1e-6 * (fabs(by_leg) + size));
    ck_assert_double_eq_tol(h.d_combined, by_combined, 1e-6 * (fabs(by_combined) + size));
}

START_TEST(derivatives_match_differences)
{
    random_states r = {0};
    int checked = 0;
    for (int n = 0; n < 40000; ++n) {
        wye w = any_wye(&r);
        double s = random_between(&r, -1, 1), b = random_between(&r, -1, 1), c = s + b;
        double q = b / c;
        bool at_a_kink = fabs(s) < 1e-3 || fabs(b) < 1e-3 || fabs(c) < 0.05 ||
                         fabs(q - 0.4) < 1e-3 || fabs(q - 0.6) < 1e-3;
        if (at_a_kink)
            continue;
        ++checked;
        for (int straight = 0; straight < 2; ++straight) {
            check_derivatives(vent__junction_leg, w, straight, s, b);
            check_derivatives(vent__junction_momentum, w, straight, s, b);
        }
    }
    ck_assert_int_gt(checked, 30000);
}
END_TEST

/* A leg alone at its junction: the network gives it itself as the other leg. */
START_TEST(a_single_leg_is_a_change_of_bore)
{
    vent__leg leg = {.law = {.law = VENT_JUNCTION_WYE, .angle = 1, .factor = 1},
                     .straight = 1,
                     .leg_area = 0.005,
                     .other_area = 0.005,
                     .combined_area = 0.01,
                     .density = 1.2};
    double fast = 0.06 / 1.2 / 0.005, slow = fast / 2;
    vent__leg_loss h = vent__junction_leg(&leg, 0.06, 0.06);
    ck_assert_double_eq_tol(h.loss, 0.6 * (fast - slow) * (fast - slow), 1e-12);
}
END_TEST

START_TEST(density_and_factor_scale_the_loss)
{
    vent__leg leg = leg_of((wye){VENT_RADIANS(45), 1, 0.6}, false), dense = leg;
    vent__leg_loss one = vent__junction_leg(&leg, 0.3, 1);
    dense.density = 2; /* half the velocity */
    dense.law.factor = 3;
    vent__leg_loss other = vent__junction_leg(&dense, 0.3, 1);
    ck_assert_double_eq_tol(other.loss, one.loss * 3 / 2, 1e-15);
    ck_assert_double_eq_tol(other.d_leg, one.d_leg * 3 / 2, 1e-14);
}
END_TEST

/* ---- the public coefficient ------------------------------------------------------------------ */

START_TEST(the_coefficient_is_the_law_over_the_velocity_pressure)
{
    random_states r = {0};
    for (int n = 0; n < 1000; ++n) {
        wye w = wye_in_range(&r);
        double q = random_between(&r, 0, 1);
        vent_error err = VENT_NO_ERROR;
        vent_junction junction = vent_wye(w.angle, &err);
        vent_coefficient branch =
            vent_junction_coefficient(junction, false, q, w.branch_area, w.straight_area, &err);
        vent_coefficient straight =
            vent_junction_coefficient(junction, true, 1 - q, w.straight_area, w.branch_area, &err);
        ck_assert_int_eq(err.status, VENT_OK);
        ck_assert_double_eq_tol(branch.value, 2 * loss(vent__junction_leg, w, false, 1 - q, q),
                                1e-12);
        ck_assert_double_eq_tol(straight.value, 2 * loss(vent__junction_leg, w, true, 1 - q, q),
                                1e-12);
        ck_assert_int_eq(branch.source, VENT__SOURCE_IDELCHIK_CONVERGING);
        ck_assert_double_eq_tol(branch.uncertainty, hypot(0.1, 0.2 * branch.value), 1e-15);
        ck_assert_uint_eq(branch.flags | straight.flags, 0);
    }
}
END_TEST

START_TEST(what_leaves_the_source_is_flagged)
{
    const struct {
        double angle, branch_area, straight_area;
    } outside[] = {{10, 0.5, 1}, {100, 0.5, 1}, {45, 0.05, 1}, {45, 1.2, 1}, {45, 0.5, 0.2}};
    for (size_t i = 0; i < sizeof outside / sizeof *outside; ++i) {
        vent_junction junction = vent_wye(VENT_RADIANS(outside[i].angle), NULL);
        vent_coefficient c = vent_junction_coefficient(junction, false, 0.5, outside[i].branch_area,
                                                       outside[i].straight_area, NULL);
        ck_assert_uint_eq(c.flags, VENT_COEFFICIENT_GEOMETRY_OUTSIDE);
        ck_assert(isfinite(c.value));
    }
    vent__leg leg = leg_of((wye){VENT_RADIANS(45), 1, 0.6}, false);
    ck_assert_uint_eq(vent__junction_state(&leg, -0.1, 1).flags, VENT_COEFFICIENT_GEOMETRY_OUTSIDE);
    vent_coefficient dividing = vent__junction_state(&leg, -0.3, -1);
    ck_assert_uint_eq(dividing.flags, 0);
    ck_assert_int_eq(dividing.source, VENT__SOURCE_CRANE_DIVIDING);
    ck_assert(isnan(vent__junction_state(&leg, 0, 0).value));
}
END_TEST

static void check_refusal(const vent_error *err, vent_coefficient c, const char *argument)
{
    ck_assert(isnan(c.value) && isnan(c.uncertainty) && c.source == 0 && c.flags == 0);
    ck_assert_int_eq(err->status, VENT_E_ARGUMENT);
    ck_assert_str_eq(err->argument, argument);
}

static void refuse(vent_junction junction, double share, double leg, double other,
                   const char *argument)
{
    vent_error err = VENT_NO_ERROR;
    check_refusal(&err, vent_junction_coefficient(junction, false, share, leg, other, &err),
                  argument);
}

START_TEST(bad_input_is_refused_by_name)
{
    const double never[] = {-1, -1e-9, 1e9, INFINITE, -INFINITE, NOT_A_NUMBER};
    vent_junction wye45 = vent_wye(VENT_RADIANS(45), NULL), broken = wye45;
    for (size_t i = 0; i < sizeof never / sizeof *never; ++i) {
        vent_error err = VENT_NO_ERROR;
        vent_junction failed = vent_wye(never[i], &err);
        ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
        ck_assert_str_eq(err.argument, "angle");
        ck_assert(isnan(failed.angle) && isnan(failed.factor));
        refuse(failed, 0.5, 1, 1, "angle");
        refuse(wye45, never[i], 1, 1, "flow_share");
        refuse(wye45, 0.5, never[i], 1, "leg_area_ratio");
        refuse(wye45, 0.5, 1, never[i], "other_area_ratio");
    }
    refuse(wye45, 1.1, 1, 1, "flow_share");
    refuse(wye45, 0.5, 0, 1, "leg_area_ratio");
    broken.law = 7;
    refuse(broken, 0.5, 1, 1, "junction");
    broken = wye45;
    broken.factor = -1;
    refuse(broken, 0.5, 1, 1, "factor");
    vent_error err = VENT_NO_ERROR;
    vent_wye(VENT_RADIANS(400), &err);
    ck_assert(isnan(vent_wye(1, &err).angle));
    check_refusal(&err, vent_junction_coefficient(wye45, true, 0.5, 1, 1, &err), "angle");
    ck_assert_str_eq(err.function, "vent_wye");
}
END_TEST

Suite *junction_suite(void)
{
    Suite *suite = suite_create("junction");
    TCase *published = tcase_create("published");
    tcase_add_test(published, published_values_lie_where_the_uncertainty_says);
    suite_add_tcase(suite, published);
    TCase *limits = tcase_create("limits");
    tcase_add_test(limits, a_shut_branch_feels_the_static_pressure);
    tcase_add_test(limits, an_unequal_straight_pipe_is_a_change_of_bore);
    tcase_add_test(limits, a_lossless_junction_costs_nothing);
    tcase_add_test(limits, a_single_leg_is_a_change_of_bore);
    tcase_add_test(limits, density_and_factor_scale_the_loss);
    suite_add_tcase(suite, limits);
    TCase *properties = tcase_create("properties");
    tcase_add_test(properties, momentum_theory_never_makes_energy);
    tcase_add_test(properties, the_law_makes_no_energy_beyond_the_sources_uncertainty);
    tcase_add_test(properties, the_law_is_continuous_for_every_sign_of_the_flows);
    tcase_add_test(properties, the_law_is_of_degree_two_in_the_flows);
    tcase_add_test(properties, still_air_and_extreme_flows_give_finite_answers);
    tcase_add_test(properties, derivatives_match_differences);
    suite_add_tcase(suite, properties);
    TCase *coefficient = tcase_create("coefficient");
    tcase_add_test(coefficient, the_coefficient_is_the_law_over_the_velocity_pressure);
    tcase_add_test(coefficient, what_leaves_the_source_is_flagged);
    tcase_add_test(coefficient, bad_input_is_refused_by_name);
    suite_add_tcase(suite, coefficient);
    return suite;
}
