/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Version and units: constants with a definition to hold them against. */
#include "suites.h"

#include <math.h>
#include <stdio.h>
#include <ventstack/units.h>
#include <ventstack/version.h>

START_TEST(the_running_version_is_the_headers)
{
    ck_assert_str_eq(vent_version(), VENT_VERSION);
    char parts[32];
    snprintf(parts, sizeof parts, "%d.%d.%d", VENT_VERSION_MAJOR, VENT_VERSION_MINOR,
             VENT_VERSION_PATCH);
    ck_assert_str_eq(vent_version(), parts);
}
END_TEST

START_TEST(version_numbers_order_as_versions_do)
{
    int number = vent_version_number();
    ck_assert_int_eq(number / 10000, VENT_VERSION_MAJOR);
    ck_assert_int_eq(number / 100 % 100, VENT_VERSION_MINOR);
    ck_assert_int_eq(number % 100, VENT_VERSION_PATCH);
}
END_TEST

/* The factors NIST SP 811 (2008), appendix B.8 prints, with as many digits as it prints (from
 * memory; the definitions they follow from are exact: inch 25.4 mm, pound 0.45359237 kg). The
 * tolerance is half a unit in the last printed place. */
static const struct printed_factor {
    const char *name;
    double ours, printed, half_unit;
} printed[] = {
    {"cubic foot per minute", VENT_CFM, 4.719474e-4, 0.5e-10},
    {"foot per minute", VENT_FPM, 5.08e-3, 1e-17},
    {"inch of water, conventional", VENT_INWC, 249.0889, 0.5e-4},
    {"pound per cubic foot", VENT_LB_FT3, 16.01846, 0.5e-5},
    {"cubic metre per hour", VENT_M3_H, 2.777778e-4, 0.5e-10},
};

START_TEST(units_are_those_of_nist)
{
    const struct printed_factor *unit = &printed[_i];
    ck_assert_msg(fabs(unit->ours - unit->printed) <= unit->half_unit, "%s: %.12g, printed %.12g",
                  unit->name, unit->ours, unit->printed);
}
END_TEST

START_TEST(derived_units_follow_from_their_definitions)
{
    const double pound = 0.45359237, foot = 12 * VENT_INCH;
    ck_assert_double_eq_tol(foot, VENT_FOOT, 1e-16);
    ck_assert_double_eq_tol(VENT_CFM, foot * foot * foot / 60, 1e-18);
    ck_assert_double_eq_tol(VENT_LB_FT3, pound / (foot * foot * foot), 1e-14);
    ck_assert_double_eq_tol(VENT_STANDARD_DENSITY, 0.075 * VENT_LB_FT3, 1e-15);
    ck_assert_double_eq_tol(VENT_INWC, 1000 * VENT_GRAVITY * VENT_INCH, 1e-10);
}
END_TEST

START_TEST(temperatures_meet_at_the_ice_point_and_at_minus_40)
{
    ck_assert_double_eq_tol(VENT_CELSIUS(0), VENT_FAHRENHEIT(32), 1e-12);
    ck_assert_double_eq_tol(VENT_CELSIUS(-40), VENT_FAHRENHEIT(-40), 1e-12);
    ck_assert_double_eq_tol(VENT_CELSIUS(100), VENT_FAHRENHEIT(212), 1e-12);
    ck_assert_double_eq(VENT_CELSIUS(0), 273.15);
}
END_TEST

START_TEST(a_half_turn_is_pi)
{
    ck_assert_double_eq_tol(VENT_RADIANS(180), acos(-1), 1e-15);
    ck_assert_double_eq_tol(sin(VENT_RADIANS(30)), 0.5, 1e-15);
}
END_TEST

Suite *version_suite(void)
{
    Suite *suite = suite_create("version");
    TCase *version = tcase_create("version");
    tcase_add_test(version, the_running_version_is_the_headers);
    tcase_add_test(version, version_numbers_order_as_versions_do);
    suite_add_tcase(suite, version);
    TCase *units = tcase_create("units");
    tcase_add_loop_test(units, units_are_those_of_nist, 0, sizeof printed / sizeof printed[0]);
    tcase_add_test(units, derived_units_follow_from_their_definitions);
    tcase_add_test(units, temperatures_meet_at_the_ice_point_and_at_minus_40);
    tcase_add_test(units, a_half_turn_is_pi);
    suite_add_tcase(suite, units);
    return suite;
}
