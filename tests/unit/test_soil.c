/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Soil: computed values, oddness, inverse, slope, rest, bad input. */
#include <ventstack/soil.h>

#include "csv.h"
#include "physics/laws.h"
#include "random.h"
#include "suites.h"

#include <string.h>

static const double NOT_A_NUMBER = (double)NAN, INFINITE = (double)INFINITY;

static vent_soil power(double c, double n)
{
    vent_error err = VENT_NO_ERROR;
    vent_soil soil = vent_soil_power(c, n, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return soil;
}

static vent_soil two_term(double a, double b)
{
    vent_error err = VENT_NO_ERROR;
    vent_soil soil = vent_soil_two_term(a, b, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return soil;
}

/* Either law over all its bounds, now and then at the edge of them. */
static vent_soil any_soil(random_states *r)
{
    double pick = random_between(r, 0, 6);
    if (pick < 3)
        return power(random_decades(r, 1e-9, 1), pick < 0.5 ? 1 : random_between(r, 0.4, 1.1));
    double a = random_decades(r, 1e2, 1e10), b = random_decades(r, 1e2, 1e12);
    return pick < 5 ? two_term(a, b) : pick < 5.5 ? two_term(0, b) : two_term(a, 0);
}

static double slope_at(vent_soil soil, double flow)
{
    return vent__soil_law(&soil, flow).slope;
}

/* ---- values --------------------------------------------------------------------------------- */

START_TEST(laws_are_met)
{
    csv *table = csv_open("soil_laws.csv");
    while (csv_next(table)) {
        double first = csv_number(table, "first"), second = csv_number(table, "second");
        vent_soil soil = strcmp(csv_text(table, "law"), "power") == 0 ? power(first, second)
                                                                      : two_term(first, second);
        double pressure = csv_number(table, "pressure"), flow = csv_number(table, "flow");
        csv_expect(table, "flow", vent_soil_flow(soil, pressure), 1e-14, 0);
        csv_expect(table, "pressure", vent_soil_pressure(soil, flow), 1e-14, 0);
        csv_expect(table, "slope", slope_at(soil, flow), 2e-14, 0);
    }
    csv_close(table);
}
END_TEST

/* Darcy's law is both laws' limit, and so is the orifice. */
START_TEST(the_laws_meet_at_their_limits)
{
    for (double p = 1e-3; p < 1e4; p *= 3) {
        ck_assert_double_eq_tol(vent_soil_flow(power(2e-6, 1), p),
                                vent_soil_flow(two_term(5e5, 0), p), 1e-15 * p * 2e-6);
        ck_assert_double_eq_tol(vent_soil_flow(power(1e-3, 0.5), p),
                                vent_soil_flow(two_term(0, 1e6), p), 4e-15 * sqrt(p) * 1e-3);
    }
}
END_TEST

/* ---- properties ----------------------------------------------------------------------------- */

START_TEST(pressure_and_flow_undo_each_other)
{
    random_states r = {0};
    for (int trial = 0; trial < 20000; ++trial) {
        vent_soil soil = any_soil(&r);
        double p = random_decades(&r, 1e-7, 1e5) * (trial % 2 ? 1 : -1);
        double flow = vent_soil_flow(soil, p);
        ck_assert_double_eq_tol(vent_soil_pressure(soil, flow), p, 1e-14 * fabs(p));
        double back = vent_soil_flow(soil, vent_soil_pressure(soil, flow));
        ck_assert_double_eq_tol(back, flow, 1e-14 * fabs(flow));
    }
}
END_TEST

START_TEST(both_are_odd)
{
    random_states r = {0};
    for (int trial = 0; trial < 2000; ++trial) {
        vent_soil soil = any_soil(&r);
        double x = random_decades(&r, 1e-9, 1e3);
        ck_assert_double_eq(vent_soil_pressure(soil, -x), -vent_soil_pressure(soil, x));
        ck_assert_double_eq(vent_soil_flow(soil, -x), -vent_soil_flow(soil, x));
        ck_assert_double_eq(slope_at(soil, -x), slope_at(soil, x));
    }
}
END_TEST

START_TEST(the_slope_is_the_derivative)
{
    random_states r = {0};
    for (int trial = 0; trial < 5000; ++trial) {
        vent_soil soil = any_soil(&r);
        double flow = vent_soil_flow(soil, random_decades(&r, 1e-6, 1e5)), step = 1e-5 * flow;
        double low = flow - step, high = flow + step;
        double difference =
            (vent_soil_pressure(soil, high) - vent_soil_pressure(soil, low)) / (high - low);
        double slope = slope_at(soil, flow);
        ck_assert_double_gt(slope, 0);
        ck_assert_double_eq_tol(slope, difference, 1e-9 * slope);
    }
}
END_TEST

/* A net whose soil has no slope at rest, or an infinite one, could not be solved from rest. */
START_TEST(at_rest_pressure_is_zero_and_the_slope_finite)
{
    random_states r = {0};
    for (int trial = 0; trial < 2000; ++trial) {
        vent_soil soil = any_soil(&r);
        ck_assert(vent_soil_pressure(soil, 0) == 0 && vent_soil_flow(soil, 0) == 0);
        double rest = slope_at(soil, 0);
        ck_assert_double_finite(rest);
        ck_assert_double_ge(rest, 0);
        for (double flow = 1e-300; flow < 1e-12; flow *= 1e8)
            ck_assert(isfinite(vent_soil_pressure(soil, flow)) && isfinite(slope_at(soil, flow)));
    }
    ck_assert_double_eq(slope_at(power(1e-4, 1), 0), 1e4);
    ck_assert_double_eq(slope_at(power(1e-4, 0.6), 0), 0);
    ck_assert_double_eq(slope_at(two_term(700, 3e6), 0), 700);
}
END_TEST

/* Above an exponent of 1 a cubic takes over below 1 mPa: no jump of value or slope there, and the
 * slope at rest is the cubic's. */
START_TEST(an_exponent_above_one_joins_its_cubic_smoothly)
{
    for (double n = 1 + 0x1p-52; n <= 1.1; n = 1 + 3 * (n - 1)) {
        vent_soil soil = power(3e-5, n);
        double join = 3e-5 * pow(1e-3, n), below = join * (1 - 1e-12), above = join * (1 + 1e-12);
        ck_assert_double_eq_tol(vent_soil_pressure(soil, below), vent_soil_pressure(soil, above),
                                3e-12 * 1e-3);
        ck_assert_double_eq_tol(slope_at(soil, below), slope_at(soil, above),
                                1e-11 * slope_at(soil, above));
        ck_assert_double_eq_tol(slope_at(soil, 0), 1e-3 / join * (1.5 - 0.5 / n),
                                1e-14 * slope_at(soil, 0));
    }
}
END_TEST

/* ---- bad input ------------------------------------------------------------------------------ */

static void expect_refusal(vent_soil soil, const vent_error *err, const char *argument,
                           double value, double low, double high)
{
    ck_assert_int_eq(err->status, VENT_E_ARGUMENT);
    ck_assert_str_eq(err->argument, argument);
    ck_assert(err->value == value || (isnan(err->value) && isnan(value)));
    ck_assert_double_eq(err->low, low);
    ck_assert_double_eq(err->high, high);
    ck_assert_ptr_nonnull(strstr(err->message, argument));
    ck_assert_int_eq(soil.law, 0);
    ck_assert_double_nan(vent_soil_pressure(soil, 1e-3));
    ck_assert_double_nan(vent_soil_flow(soil, 1));
}

START_TEST(bad_coefficients_are_refused)
{
    const double bad_c[] = {0, -1e-4, 1e-16, 1.1e3, NOT_A_NUMBER, INFINITE, -INFINITE};
    for (size_t i = 0; i < sizeof bad_c / sizeof *bad_c; ++i) {
        vent_error err = VENT_NO_ERROR;
        vent_soil soil = vent_soil_power(bad_c[i], 0.6, &err);
        expect_refusal(soil, &err, "c", bad_c[i], 1e-15, 1e3);
    }
    const double bad_n[] = {0, 0.39, 1.11, 62, -0.6, NOT_A_NUMBER, INFINITE};
    for (size_t i = 0; i < sizeof bad_n / sizeof *bad_n; ++i) {
        vent_error err = VENT_NO_ERROR;
        vent_soil soil = vent_soil_power(1e-4, bad_n[i], &err);
        expect_refusal(soil, &err, "n", bad_n[i], 0.4, 1.1);
    }
    const double bad_term[] = {-1, NOT_A_NUMBER, INFINITE, -INFINITE, 2e18};
    for (size_t i = 0; i < sizeof bad_term / sizeof *bad_term; ++i) {
        vent_error err = VENT_NO_ERROR;
        vent_soil soil = vent_soil_two_term(bad_term[i], 1, &err);
        expect_refusal(soil, &err, "a", bad_term[i], 0, 1e15);
        err = (vent_error)VENT_NO_ERROR;
        soil = vent_soil_two_term(1, bad_term[i], &err);
        expect_refusal(soil, &err, "b", bad_term[i], 0, 1e18);
    }
    vent_error err = VENT_NO_ERROR;
    vent_soil soil = vent_soil_two_term(0, 0, &err);
    expect_refusal(soil, &err, "b", 0, 0, 1e18);
    ck_assert_ptr_nonnull(strstr(err.message, "both"));
}
END_TEST

START_TEST(outside_its_domain_a_law_is_nan)
{
    const double bad[] = {NOT_A_NUMBER, INFINITE, -INFINITE};
    const vent_soil sound[] = {power(1e-4, 0.6), power(1e-4, 1.1), two_term(1e3, 1e6)};
    for (size_t i = 0; i < 3; ++i)
        for (size_t k = 0; k < 3; ++k) {
            ck_assert_double_nan(vent_soil_pressure(sound[k], bad[i]));
            ck_assert_double_nan(vent_soil_flow(sound[k], bad[i]));
        }
    const vent_soil unsound[] = {
        {0},
        {.law = 3, .a = 1e-4, .b = 0.6},
        {.law = VENT_SOIL_POWER, .a = 1e-4, .b = 2},
        {.law = VENT_SOIL_POWER, .a = NOT_A_NUMBER, .b = 0.6},
        {.law = VENT_SOIL_TWO_TERM},
        {.law = VENT_SOIL_TWO_TERM, .a = -1, .b = 5},
        {.law = VENT_SOIL_TWO_TERM, .a = 1, .b = NOT_A_NUMBER},
    };
    for (size_t i = 0; i < sizeof unsound / sizeof *unsound; ++i) {
        ck_assert_double_nan(vent_soil_pressure(unsound[i], 1e-3));
        ck_assert_double_nan(vent_soil_flow(unsound[i], 10));
    }
}
END_TEST

START_TEST(an_earlier_failure_is_kept)
{
    vent_error err = VENT_NO_ERROR;
    vent_soil_power(-1, 0.6, &err);
    vent_error first = err;
    vent_soil soil = vent_soil_power(1e-4, 0.6, &err);
    ck_assert_int_eq(soil.law, 0);
    soil = vent_soil_two_term(1e4, 0.6, &err);
    ck_assert_int_eq(soil.law, 0);
    ck_assert_mem_eq(&err, &first, sizeof err);
    ck_assert_int_eq(vent_soil_power(-1, 0.6, NULL).law, 0);
}
END_TEST

Suite *soil_suite(void)
{
    Suite *suite = suite_create("soil");
    TCase *values = tcase_create("values");
    tcase_add_test(values, laws_are_met);
    tcase_add_test(values, the_laws_meet_at_their_limits);
    suite_add_tcase(suite, values);
    TCase *properties = tcase_create("properties");
    tcase_add_test(properties, pressure_and_flow_undo_each_other);
    tcase_add_test(properties, both_are_odd);
    tcase_add_test(properties, the_slope_is_the_derivative);
    tcase_add_test(properties, at_rest_pressure_is_zero_and_the_slope_finite);
    tcase_add_test(properties, an_exponent_above_one_joins_its_cubic_smoothly);
    suite_add_tcase(suite, properties);
    TCase *bad_input = tcase_create("bad input");
    tcase_add_test(bad_input, bad_coefficients_are_refused);
    tcase_add_test(bad_input, outside_its_domain_a_law_is_nan);
    tcase_add_test(bad_input, an_earlier_failure_is_kept);
    suite_add_tcase(suite, bad_input);
    return suite;
}
