/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Couplings, flexible pieces, fan surroundings: formulas, published values, limits, bad input. */
#include "base/source_list.h"
#include "device_rows.h"
#include "physics/formulas.h"

#include <ventstack/connector.h>
#include <ventstack/friction.h>

#define FORMULA(name, FAMILY, SOURCE, reversed)                                                    \
    {                                                                                              \
        name, VENT_FITTING_##FAMILY, VENT__SOURCE_##SOURCE, reversed                               \
    }

static const named_formula formulas[] = {
    FORMULA("coupling rennels", COUPLING, RENNELS_ORIFICE, false),
    FORMULA("coupling idelchik", COUPLING, IDELCHIK_ORIFICE, true),
    FORMULA("duct abushakra", FLEXIBLE_DUCT, ABUSHAKRA_COMPRESSION, false),
    FORMULA("run darby", BYPASS_TEE, DARBY_RUN, false),
    FORMULA("run hooper", BYPASS_TEE, HOOPER_RUN, true),
    FORMULA("run crane", BYPASS_TEE, CRANE_RUN, false),
};

START_TEST(formulas_agree_with_their_authors)
{
    expect_formulas("connectors_formulas.csv", formulas, sizeof formulas / sizeof *formulas);
}
END_TEST

START_TEST(published_values_lie_where_the_uncertainty_says)
{
    expect_published("connectors_published.csv", VENT_FITTING_COUPLING,
                     VENT_FITTING_FAN_INLET_ELBOW);
}
END_TEST

/* ---- limits --------------------------------------------------------------------------------- */

START_TEST(a_perfect_joint_costs_nothing)
{
    ck_assert_double_eq_tol(k_of(vent_coupling(0, 0, 0, NULL), 1e5), 0, 1e-15);
    ck_assert_double_eq_tol(k_of(vent_fan_outlet(1, 0, NULL), 1e5), 0, 1e-15);
    ck_assert_double_lt(k_of(vent_fan_outlet(0.5, 10, NULL), 1e5), 1e-9);
    ck_assert_double_lt(k_of(vent_fan_inlet_elbow(0.5, 100, NULL), 1e5), 1e-9);
    ck_assert_double_eq(k_of(vent_flexible_duct(0, 0.3, NULL), 1e5), 0);
}
END_TEST

START_TEST(worse_joints_cost_more)
{
    vent_fitting coupling = vent_coupling(0.01, 0.1, 0.02, NULL);
    expect_monotone(coupling, 0, 0, 0.2);
    expect_monotone(coupling, 1, 0, 2);
    expect_monotone(coupling, 2, 0, 0.3);
    vent_fitting duct = vent_flexible_duct(1, 0.1, NULL);
    expect_monotone(duct, 0, 0, 10);
    expect_monotone(duct, 1, 0, 0.5);
    vent_fitting outlet = vent_fan_outlet(0.6, 1, NULL);
    expect_monotone(outlet, 0, 1, 0.2);
    expect_monotone(outlet, 1, 10, 0);
    vent_fitting inlet = vent_fan_inlet_elbow(1, 1, NULL);
    expect_monotone(inlet, 0, 10, 0.25);
    expect_monotone(inlet, 1, 20, 0);
}
END_TEST

/* A gap drags as the shear layer over it: shear stress 0.011 rho V^2 on the wall pi D L. */
START_TEST(a_gap_drags_as_a_mixing_layer)
{
    double length = 0.03, bore = 0.1, stress = 0.011; /* of rho V^2 */
    double loss = stress * VENT_PI * bore * length / (VENT_PI / 4 * bore * bore) / 0.5;
    ck_assert_double_eq_tol(k_of(vent_coupling(0, length / bore, 0, NULL), 1e5), loss, 0.03 * loss);
}
END_TEST

/* By momentum and energy, written out: with a pipe the stream of the blast area mixes to fill it. */
START_TEST(a_short_outlet_loses_what_a_full_pipe_recovers)
{
    for (double blast = 0.2; blast <= 1; blast += 0.05) {
        double jet = 1 / blast;         /* velocities over the pipe's */
        double rise = 2 * jet - 2;      /* of static pressure in the pipe, by momentum */
        double with = jet * jet - rise; /* total pressure spent: all but what static is won */
        double without = jet * jet;
        ck_assert_double_eq_tol(k_of(vent_fan_outlet(blast, 0, NULL), 1e5), without - with, 1e-12);
    }
}
END_TEST

/* Stretched, the duct costs as a pipe of its roughness in fully rough flow. */
START_TEST(stretched_duct_is_a_rough_pipe)
{
    double roughness = vent_roughness_find("flexible duct", NULL, NULL, NULL, NULL);
    for (double bore = 0.08; bore <= 0.3; bore += 0.02) {
        double f = vent_friction_factor(1e9, roughness / bore);
        double k = at_state(vent_flexible_duct(3, 0, NULL), bore, 1e5).value;
        ck_assert_double_eq_tol(k, f * 3 / bore, 1e-4 * k);
    }
}
END_TEST

START_TEST(flexible_duct_is_flagged_outside_the_bores_it_was_measured_in)
{
    const struct {
        double bore;
        bool known;
    } cases[] = {{0.0005, false}, {0.149, false}, {0.152, true}, {0.254, true}, {0.3, false}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; ++i) {
        vent_coefficient c = at_state(vent_flexible_duct(1, 0.1, NULL), cases[i].bore, 1e5);
        ck_assert_int_eq(c.flags == 0, cases[i].known);
        ck_assert_msg(c.value > 0 && isfinite(c.value), "%g", cases[i].bore);
    }
}
END_TEST

/* Manning's coefficient of EP260 is for pipe running full of water: the sand roughness that gives the
 * same friction, for 3 to 8 in and n of 0.015 to 0.018. */
START_TEST(corrugated_tubing_spans_what_is_published)
{
    double low, high,
        value = vent_roughness_find("corrugated drain tubing", &low, &high, NULL, NULL);
    csv *table = csv_open("connectors_corrugated.csv");
    while (csv_next(table)) {
        double radius = csv_number(table, "bore") / 4, n = csv_number(table, "manning");
        double f = 8 * 9.80665 * n * n / cbrt(radius);
        double roughness = 3.7 * 4 * radius * pow(10, -1 / (2 * sqrt(f)));
        csv_expect(table, "roughness", roughness, 0.005, 0);
        if (csv_number(table, "inside") > 0)
            ck_assert(roughness >= 0.995 * low && roughness <= 1.005 * high);
    }
    csv_close(table);
    ck_assert(low <= value && value <= high);
}
END_TEST

START_TEST(nothing_is_known_of_air_pushed_back_through_a_fan)
{
    vent_coefficient c = at_state(vent_fan_outlet(0.5, 0, NULL), 0.1, -1e5);
    ck_assert(c.value == 0 && c.uncertainty == 1);
    c = at_state(vent_fan_inlet_elbow(1, 0, NULL), 0.1, -1e5);
    ck_assert(c.value == 0 && c.uncertainty == 1);
}
END_TEST

START_TEST(the_other_connectors_cost_the_same_both_ways)
{
    random_states r = {0};
    for (int family = VENT_FITTING_COUPLING; family <= VENT_FITTING_BYPASS_TEE; ++family)
        for (int n = 0; n < 200; ++n) {
            vent_fitting part = anywhere(family, &r);
            ck_assert_double_eq(k_of(part, 1e5), k_of(part, -1e5));
        }
}
END_TEST

/* ---- everywhere ----------------------------------------------------------------------------- */

START_TEST(coefficients_are_finite_by_every_source)
{
    for (int family = VENT_FITTING_COUPLING; family <= VENT_FITTING_FAN_INLET_ELBOW; ++family)
        expect_sane(family, 2000);
}
END_TEST

START_TEST(coefficients_are_continuous)
{
    for (int family = VENT_FITTING_COUPLING; family <= VENT_FITTING_FAN_INLET_ELBOW; ++family)
        expect_continuous(family, 500);
}
END_TEST

static vent_fitting make_coupling(const double *g, vent_error *err)
{
    return vent_coupling(g[0], g[1], g[2], err);
}

static vent_fitting make_duct(const double *g, vent_error *err)
{
    return vent_flexible_duct(g[0], g[1], err);
}

static vent_fitting make_outlet(const double *g, vent_error *err)
{
    return vent_fan_outlet(g[0], g[1], err);
}

static vent_fitting make_inlet(const double *g, vent_error *err)
{
    return vent_fan_inlet_elbow(g[0], g[1], err);
}

START_TEST(bad_input_is_refused)
{
    expect_refusals(VENT_FITTING_COUPLING, make_coupling, (double[6]){0.01, 0.1, 0.01});
    expect_refusals(VENT_FITTING_FLEXIBLE_DUCT, make_duct, (double[6]){1, 0.1});
    expect_refusals(VENT_FITTING_FAN_OUTLET, make_outlet, (double[6]){0.6, 1});
    expect_refusals(VENT_FITTING_FAN_INLET_ELBOW, make_inlet, (double[6]){1, 1});
}
END_TEST

Suite *connector_suite(void)
{
    Suite *s = suite_create("connector");
    TCase *values = tcase_create("values");
    tcase_add_test(values, flexible_duct_is_flagged_outside_the_bores_it_was_measured_in);
    tcase_add_test(values, formulas_agree_with_their_authors);
    tcase_add_test(values, published_values_lie_where_the_uncertainty_says);
    tcase_add_test(values, corrugated_tubing_spans_what_is_published);
    suite_add_tcase(s, values);
    TCase *limits = tcase_create("limits");
    tcase_add_test(limits, a_perfect_joint_costs_nothing);
    tcase_add_test(limits, worse_joints_cost_more);
    tcase_add_test(limits, a_gap_drags_as_a_mixing_layer);
    tcase_add_test(limits, a_short_outlet_loses_what_a_full_pipe_recovers);
    tcase_add_test(limits, stretched_duct_is_a_rough_pipe);
    tcase_add_test(limits, nothing_is_known_of_air_pushed_back_through_a_fan);
    tcase_add_test(limits, the_other_connectors_cost_the_same_both_ways);
    suite_add_tcase(s, limits);
    TCase *everywhere = tcase_create("everywhere");
    tcase_add_test(everywhere, coefficients_are_finite_by_every_source);
    tcase_add_test(everywhere, coefficients_are_continuous);
    tcase_add_test(everywhere, bad_input_is_refused);
    suite_add_tcase(s, everywhere);
    return s;
}
