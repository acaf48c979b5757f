/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Dampers, valves, plates: formulas against their authors, published values, limits, bad input. */
#include "base/source_list.h"
#include "device_rows.h"
#include "physics/formulas.h"

#include <ventstack/device.h>
#include <ventstack/measure.h>

/* ---- published ------------------------------------------------------------------------------ */

#define FORMULA(name, FAMILY, SOURCE, reversed)                                                    \
    {                                                                                              \
        name, VENT_FITTING_##FAMILY, VENT__SOURCE_##SOURCE, reversed                               \
    }

static const named_formula formulas[] = {
    FORMULA("butterfly idelchik", BUTTERFLY, IDELCHIK_BUTTERFLY, false),
    FORMULA("butterfly weisbach", BUTTERFLY, WEISBACH_THROTTLE, false),
    FORMULA("butterfly miller", BUTTERFLY, MILLER_BUTTERFLY, false),
    FORMULA("butterfly haves", BUTTERFLY, HAVES_BLADE, false),
    FORMULA("slide_gate rennels", SLIDE_GATE, RENNELS_ORIFICE, false),
    FORMULA("slide_gate idelchik", SLIDE_GATE, IDELCHIK_ORIFICE, true),
    FORMULA("slide_gate miller", SLIDE_GATE, MILLER_SLUICE, false),
    FORMULA("gate_valve rennels", GATE_VALVE, RENNELS_ORIFICE, false),
    FORMULA("gate_valve idelchik", GATE_VALVE, IDELCHIK_ORIFICE, false),
    FORMULA("gate_valve weisbach", GATE_VALVE, WEISBACH_GATE, true),
    FORMULA("gate_valve miller", GATE_VALVE, MILLER_GATE, false),
    FORMULA("ball_valve rennels", BALL_VALVE, RENNELS_ORIFICE, false),
    FORMULA("ball_valve weisbach", BALL_VALVE, WEISBACH_COCK, true),
    FORMULA("ball_valve miller", BALL_VALVE, MILLER_BALL, false),
    FORMULA("orifice rennels", ORIFICE_PLATE, RENNELS_ORIFICE, false),
    FORMULA("orifice idelchik", ORIFICE_PLATE, IDELCHIK_ORIFICE, true),
    FORMULA("check hooper", CHECK_DAMPER, HOOPER_SWING, false),
    FORMULA("check darby", CHECK_DAMPER, DARBY_SWING, false),
    FORMULA("leak rennels", CHECK_DAMPER, RENNELS_ORIFICE, true),
};

START_TEST(formulas_agree_with_their_authors)
{
    expect_formulas("devices_formulas.csv", formulas, sizeof formulas / sizeof *formulas);
}
END_TEST

START_TEST(published_values_lie_where_the_uncertainty_says)
{
    expect_published("devices_published.csv", VENT_FITTING_BUTTERFLY, VENT_FITTING_CHECK_DAMPER);
}
END_TEST

START_TEST(orifice_plates_follow_the_standard)
{
    csv *table = csv_open("devices_orifice.csv");
    while (csv_next(table)) {
        double bore = csv_number(table, "bore"), beta = csv_number(table, "beta");
        double reynolds = csv_number(table, "reynolds");
        vent_fitting plate = vent_orifice_plate(beta, NULL);
        csv_expect(table, "c", vent__orifice_discharge(beta, bore, reynolds).value, 1e-12, 0);
        csv_expect(table, "k", at_state(plate, bore, reynolds).value, 1e-10, 0);
        csv_expect(table, "k", at_state(plate, bore, -reynolds).value, 1e-10, 0);
    }
    csv_close(table);
}
END_TEST

/* The plate that restricts and the plate that meters are one: what the latter does not get back, over
 * the velocity pressure of its flow. */
START_TEST(restricting_and_metering_plates_agree)
{
    random_states r = {0};
    for (int n = 0; n < 1000; ++n) {
        double bore = random_decades(&r, 0.03, 0.3), beta = random_between(&r, 0.15, 0.74);
        double reynolds = random_decades(&r, 5e3, 1e7);
        double c = vent_orifice_discharge(bore, beta * bore, reynolds, VENT_TAPS_CORNER);
        double b4 = pow(beta, 4), difference = (1 - b4) / (c * c * b4); /* velocity pressures */
        double k = at_state(vent_orifice_plate(beta, NULL), bore, reynolds).value;
        ck_assert_double_eq_tol(k, vent_orifice_loss(beta, c, difference), 1e-12 * k);
    }
}
END_TEST

/* Over the standard's end too, where only the metering plate goes. */
START_TEST(the_discharge_coefficient_has_its_slope)
{
    random_states r = {0};
    for (int n = 0; n < 1000; ++n) {
        double bore = random_decades(&r, 0.03, 0.3), beta = random_between(&r, 0.1, 0.75);
        double reynolds = random_decades(&r, 100, 1e8), step = 1e-5 * reynolds;
        double by_sides = (vent__orifice_discharge(beta, bore, reynolds + step).value -
                           vent__orifice_discharge(beta, bore, reynolds - step).value) /
                          (2 * step);
        double slope = vent__orifice_discharge(beta, bore, reynolds).slope;
        ck_assert_msg(fabs(slope - by_sides) * reynolds < 1e-6, "%g %g %g", bore, beta, reynolds);
    }
}
END_TEST

/* ---- limits --------------------------------------------------------------------------------- */

START_TEST(open_devices_leave_the_pipe_free)
{
    ck_assert_double_eq_tol(k_of(vent_slide_gate(1, NULL), 1e5), 0, 1e-15);
    ck_assert_double_eq_tol(k_of(vent_gate_valve(1, NULL), 1e5), 0, 1e-15);
    ck_assert_double_eq_tol(k_of(vent_ball_valve(0, NULL), 1e5), 0, 1e-15);
    ck_assert_double_eq_tol(k_of(vent_orifice_plate(1, NULL), 1e5), 0, 1e-15);
    ck_assert_double_lt(k_of(vent_orifice_plate(0.999, NULL), 1e5), 1e-3);
    ck_assert_double_lt(k_of(vent_butterfly_damper(0, 1, NULL), 1e5), 0.35);
}
END_TEST

START_TEST(openings_have_their_areas)
{
    ck_assert_double_eq_tol(vent__overlap(0), 1, 1e-15);
    ck_assert_double_eq_tol(vent__overlap(1), 0, 1e-15);
    double third = 2.0 / 3 - sqrt(3) / (2 * VENT_PI); /* two circles through each other's centre */
    ck_assert_double_eq_tol(vent__overlap(0.5), third, 1e-15);
    /* half a bore: half the area, and so the plate of that area */
    double half = k_of(vent_slide_gate(0.5, NULL), 1e5);
    ck_assert_double_eq_tol(half, vent__opening_rennels(0.5).k0, 1e-14 * half);
    /* far from the walls: the jet contracts to 1/1.622 of the opening and is lost whole */
    double jet = square(1.622) + 0.0696 * square(1.622);
    ck_assert_double_eq_tol(vent__opening_rennels(1e-6).k0 * 1e-12, jet, 1e-5);
    ck_assert_double_eq_tol(vent__opening_idelchik(1e-6).k0 * 1e-12, square(1.707), 1e-5);
}
END_TEST

START_TEST(closing_costs_more)
{
    for (double blade = 0.5; blade <= 1; blade += 0.1)
        expect_monotone(vent_butterfly_damper(0, blade, NULL), 0, 0, VENT_RADIANS(85));
    expect_monotone(vent_butterfly_damper(1, 1, NULL), 1, 0.5, 1);
    expect_monotone(vent_slide_gate(1, NULL), 0, 1, 0.02);
    expect_monotone(vent_gate_valve(1, NULL), 0, 1, 0.02);
    expect_monotone(vent_ball_valve(0, NULL), 0, 0, VENT_RADIANS(80));
    expect_monotone(vent_orifice_plate(1, NULL), 0, 1, 0.1);
}
END_TEST

START_TEST(what_is_symmetrical_costs_the_same_both_ways)
{
    random_states r = {0};
    for (int family = VENT_FITTING_BUTTERFLY; family <= VENT_FITTING_ORIFICE_PLATE; ++family)
        for (int n = 0; n < 200; ++n) {
            vent_fitting device = anywhere(family, &r);
            double reynolds = random_decades(&r, 10, 1e7);
            ck_assert_double_eq(k_of(device, reynolds), k_of(device, -reynolds));
        }
}
END_TEST

/* ---- the plate's Reynolds number ------------------------------------------------------------ */

START_TEST(slopes_of_the_plate_match_differences)
{
    random_states r = {0};
    for (int n = 0; n < 2000; ++n) {
        vent_fitting plate = vent_orifice_plate(random_between(&r, 0.1, 0.8), NULL);
        double bore = random_decades(&r, 0.03, 0.3), reynolds = random_decades(&r, 5.1e3, 1e6);
        double step = 1e-4 * reynolds; /* the error of the difference goes with its square */
        double up = vent__fitting_extra(&plate, bore, reynolds + step).value;
        double down = vent__fitting_extra(&plate, bore, reynolds - step).value;
        vent__slope here = vent__fitting_extra(&plate, bore, reynolds);
        double scale = fabs(here.slope) + 1e-7 * here.value / reynolds;
        ck_assert_double_eq_tol((up - down) / (2 * step), here.slope,
                                1e-6 * scale + 1e-9 * here.value / reynolds);
    }
}
END_TEST

START_TEST(below_the_standard_the_plate_is_held_and_flagged)
{
    vent_fitting plate = vent_orifice_plate(0.5, NULL);
    vent_coefficient low = at_state(plate, 0.1, 100), end = at_state(plate, 0.1, 5e3);
    ck_assert_double_eq(low.value, end.value);
    ck_assert(low.flags & VENT_COEFFICIENT_REYNOLDS_OUTSIDE);
    ck_assert(!(end.flags & VENT_COEFFICIENT_REYNOLDS_OUTSIDE));
    ck_assert_double_eq(vent__fitting_extra(&plate, 0.1, 100).slope, 0);
    ck_assert(at_state(vent_orifice_plate(0.76, NULL), 0.1, 1e5).flags &
              VENT_COEFFICIENT_GEOMETRY_OUTSIDE);
}
END_TEST

/* ---- check damper --------------------------------------------------------------------------- */

START_TEST(a_check_damper_holds_air_back)
{
    vent_fitting flap = vent_check_damper(25, 0.01, NULL);
    ck_assert_double_lt(k_of(flap, 1e5), 3);
    ck_assert_double_gt(k_of(flap, -1e5), 1e4);
    ck_assert_double_eq(vent__fitting_opening_pressure(&flap), 25);
    /* K does not hold the opening pressure */
    ck_assert_double_eq(k_of(flap, 1e5), k_of(vent_check_damper(0, 0.01, NULL), 1e5));
}
END_TEST

START_TEST(tighter_flaps_leak_less)
{
    double last = 0;
    for (double leak = 0.5; leak >= 1e-4; leak *= 0.9) {
        double k = k_of(vent_check_damper(0, leak, NULL), -1e5);
        ck_assert_double_gt(k, last);
        last = k;
    }
}
END_TEST

START_TEST(only_check_dampers_have_an_opening_pressure)
{
    random_states r = {0};
    for (int family = VENT_FITTING_NONE + 1; family < VENT_FITTING_END; ++family) {
        vent_fitting fitting = anywhere(family, &r);
        double opening = vent__fitting_opening_pressure(&fitting);
        ck_assert((opening > 0) == (family == VENT_FITTING_CHECK_DAMPER));
    }
}
END_TEST

START_TEST(a_flap_lifts_smoothly)
{
    ck_assert_double_eq(vent__opening_share(-1).value, 0);
    ck_assert_double_eq(vent__opening_share(0).value, 0);
    ck_assert_double_eq(vent__opening_share(0).slope, 0);
    ck_assert_double_eq_tol(vent__opening_share(0.05).value, 0.5, 1e-15);
    ck_assert_double_eq(vent__opening_share(0.1).value, 1);
    ck_assert_double_eq_tol(vent__opening_share(0.1).slope, 0, 1e-15);
    ck_assert_double_eq(vent__opening_share(10).value, 1);
    ck_assert_double_eq(vent__opening_share(10).slope, 0);
    double last = 0, step = 1e-6;
    for (double v = -0.02; v < 0.12; v += 1e-4) {
        vent__slope share = vent__opening_share(v);
        ck_assert(share.value >= last);
        double difference =
            (vent__opening_share(v + step).value - vent__opening_share(v - step).value) /
            (2 * step);
        ck_assert_double_eq_tol(difference, share.slope, 1e-3);
        last = share.value;
    }
}
END_TEST

/* ---- everywhere ----------------------------------------------------------------------------- */

START_TEST(coefficients_are_finite_by_every_source)
{
    for (int family = VENT_FITTING_BUTTERFLY; family <= VENT_FITTING_CHECK_DAMPER; ++family)
        expect_sane(family, 2000);
}
END_TEST

START_TEST(coefficients_are_continuous)
{
    for (int family = VENT_FITTING_BUTTERFLY; family <= VENT_FITTING_CHECK_DAMPER; ++family)
        expect_continuous(family, 500);
}
END_TEST

static vent_fitting make_butterfly(const double *g, vent_error *err)
{
    return vent_butterfly_damper(g[0], g[1], err);
}

static vent_fitting make_slide_gate(const double *g, vent_error *err)
{
    return vent_slide_gate(g[0], err);
}

static vent_fitting make_gate_valve(const double *g, vent_error *err)
{
    return vent_gate_valve(g[0], err);
}

static vent_fitting make_ball_valve(const double *g, vent_error *err)
{
    return vent_ball_valve(g[0], err);
}

static vent_fitting make_orifice_plate(const double *g, vent_error *err)
{
    return vent_orifice_plate(g[0], err);
}

static vent_fitting make_check_damper(const double *g, vent_error *err)
{
    return vent_check_damper(g[0], g[1], err);
}

START_TEST(bad_input_is_refused)
{
    expect_refusals(VENT_FITTING_BUTTERFLY, make_butterfly, (double[6]){0.5, 0.9});
    expect_refusals(VENT_FITTING_SLIDE_GATE, make_slide_gate, (double[6]){0.5});
    expect_refusals(VENT_FITTING_GATE_VALVE, make_gate_valve, (double[6]){0.5});
    expect_refusals(VENT_FITTING_BALL_VALVE, make_ball_valve, (double[6]){0.5});
    expect_refusals(VENT_FITTING_ORIFICE_PLATE, make_orifice_plate, (double[6]){0.5});
    expect_refusals(VENT_FITTING_CHECK_DAMPER, make_check_damper, (double[6]){10, 0.01});
    vent_error err = VENT_NO_ERROR;
    vent_slide_gate(0, &err); /* shut */
    ck_assert_ptr_nonnull(strstr(err.message, "opening is 0"));
}
END_TEST

Suite *device_suite(void)
{
    Suite *s = suite_create("device");
    TCase *values = tcase_create("values");
    tcase_add_test(values, formulas_agree_with_their_authors);
    tcase_add_test(values, published_values_lie_where_the_uncertainty_says);
    tcase_add_test(values, orifice_plates_follow_the_standard);
    tcase_add_test(values, restricting_and_metering_plates_agree);
    tcase_add_test(values, the_discharge_coefficient_has_its_slope);
    suite_add_tcase(s, values);
    TCase *limits = tcase_create("limits");
    tcase_add_test(limits, open_devices_leave_the_pipe_free);
    tcase_add_test(limits, openings_have_their_areas);
    tcase_add_test(limits, closing_costs_more);
    tcase_add_test(limits, what_is_symmetrical_costs_the_same_both_ways);
    suite_add_tcase(s, limits);
    TCase *plate = tcase_create("plate");
    tcase_add_test(plate, slopes_of_the_plate_match_differences);
    tcase_add_test(plate, below_the_standard_the_plate_is_held_and_flagged);
    suite_add_tcase(s, plate);
    TCase *check = tcase_create("check damper");
    tcase_add_test(check, a_check_damper_holds_air_back);
    tcase_add_test(check, tighter_flaps_leak_less);
    tcase_add_test(check, only_check_dampers_have_an_opening_pressure);
    tcase_add_test(check, a_flap_lifts_smoothly);
    suite_add_tcase(s, check);
    TCase *everywhere = tcase_create("everywhere");
    tcase_add_test(everywhere, coefficients_are_finite_by_every_source);
    tcase_add_test(everywhere, coefficients_are_continuous);
    tcase_add_test(everywhere, bad_input_is_refused);
    suite_add_tcase(s, everywhere);
    return s;
}
