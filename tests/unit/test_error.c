/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The failure record: what it says, that the first failure stays, that NaN fails every range. */
#include "base/fail.h"
#include "suites.h"

#include <string.h>
#include <ventstack/units.h>

/* Stands for any function of the library. */
static bool accept_bore(double bore, vent_error *err)
{
    return VENT__RANGE(bore, "m", 0.001, 10);
}

static bool accept_name(const char *name, vent_error *err)
{
    return VENT__POINTER(name);
}

START_TEST(a_fresh_record_holds_no_failure)
{
    vent_error err = VENT_NO_ERROR;
    ck_assert_int_eq(err.status, VENT_OK);
    ck_assert(!vent__failed(&err));
    ck_assert(!vent__failed(NULL));
    ck_assert_str_eq(err.message, "");
}
END_TEST

START_TEST(both_bounds_are_inside)
{
    vent_error err = VENT_NO_ERROR;
    ck_assert(accept_bore(0.001, &err));
    ck_assert(accept_bore(10, &err));
    ck_assert_int_eq(err.status, VENT_OK);
}
END_TEST

static const double outside[] = {0, -1, 0.00099999, 10.000001, INFINITY, -INFINITY, NAN};

START_TEST(what_is_outside_is_named_with_value_and_bounds)
{
    vent_error err = VENT_NO_ERROR;
    ck_assert(!accept_bore(outside[_i], &err));
    ck_assert(vent__failed(&err));
    ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
    ck_assert_str_eq(err.function, "accept_bore");
    ck_assert_str_eq(err.argument, "bore");
    ck_assert(err.value == outside[_i] || (isnan(err.value) && isnan(outside[_i])));
    ck_assert_double_eq(err.low, 0.001);
    ck_assert_double_eq(err.high, 10);
    ck_assert_int_eq(err.index, -1);
    ck_assert_int_eq(err.reserved, 0);
}
END_TEST

START_TEST(the_sentence_is_complete_in_itself)
{
    vent_error err = VENT_NO_ERROR;
    accept_bore(-0.25, &err);
    ck_assert_str_eq(err.message, "accept_bore: bore is -0.25 m; it must lie between 0.001 and 10");
    vent_error missing = VENT_NO_ERROR;
    ck_assert(!accept_name(NULL, &missing));
    ck_assert_str_eq(missing.message, "accept_name: name is missing (null)");
    ck_assert_int_eq(missing.status, VENT_E_ARGUMENT);
    ck_assert(isnan(missing.value) && isnan(missing.low) && isnan(missing.high));
}
END_TEST

/* Both in the program's unit and in the user's; a hint only where it would help. */
START_TEST(an_angle_is_told_in_degrees_too)
{
    vent_error sharp = VENT_NO_ERROR, meant = VENT_NO_ERROR, far = VENT_NO_ERROR;
    vent__check_range(&sharp, "f", "angle", "rad", 2.79252680319, 0, 1.57079632679);
    ck_assert_str_eq(sharp.message,
                     "f: angle is 2.792526803 rad (160 degrees); it must lie between 0 "
                     "and 1.5708 (0 and 90 degrees)");
    vent__check_range(&meant, "f", "angle", "rad", 45, 0, 1.57079632679);
    ck_assert_ptr_nonnull(strstr(meant.message, ": did you mean 45 degrees = 0.7854 rad?"));
    vent__check_range(&far, "f", "angle", "rad", 160, 0, 1.57079632679);
    ck_assert_ptr_null(strstr(far.message, "did you mean"));
}
END_TEST

START_TEST(the_first_failure_stays)
{
    vent_error err = VENT_NO_ERROR;
    accept_bore(-1, &err);
    vent_error first = err;
    accept_bore(NAN, &err);
    accept_name(NULL, &err);
    ck_assert_mem_eq(&err, &first, sizeof err);
}
END_TEST

START_TEST(without_a_record_only_the_null_value_tells)
{
    ck_assert(!accept_bore(-1, NULL));
    ck_assert(!accept_name(NULL, NULL));
    ck_assert(accept_bore(1, NULL));
    ck_assert(accept_name("riser", NULL));
}
END_TEST

START_TEST(long_words_are_cut_and_stay_terminated)
{
    char word[1000];
    memset(word, 'x', sizeof word - 1);
    word[sizeof word - 1] = '\0';
    vent_error err = VENT_NO_ERROR;
    vent__fail(&err, VENT_E_NOT_FOUND, word, word, 7, 1, 2, 3, "%s", word);
    ck_assert_uint_eq(strlen(err.function), sizeof err.function - 1);
    ck_assert_uint_eq(strlen(err.argument), sizeof err.argument - 1);
    ck_assert_uint_eq(strlen(err.message), sizeof err.message - 1);
    ck_assert_int_eq(err.index, 7);
}
END_TEST

START_TEST(every_status_has_its_own_words)
{
    for (int i = VENT_OK; i < VENT_STATUS_END; i++)
        for (int j = VENT_OK; j < i; j++)
            ck_assert_str_ne(vent_status_text(i), vent_status_text(j));
    for (int i = VENT_OK; i < VENT_STATUS_END; i++)
        ck_assert_str_ne(vent_status_text(i), "unknown status");
    ck_assert_str_eq(vent_status_text(VENT_STATUS_END), "unknown status");
    ck_assert_str_eq(vent_status_text(-1), "unknown status");
    ck_assert_str_eq(vent_status_text(INT32_MIN), "unknown status");
}
END_TEST

/* Numbers are never reused: a change here breaks programs that are already compiled. */
START_TEST(status_numbers_are_pinned)
{
    ck_assert_int_eq(VENT_OK, 0);
    ck_assert_int_eq(VENT_E_ARGUMENT, 1);
    ck_assert_int_eq(VENT_E_MEMORY, 2);
    ck_assert_int_eq(VENT_E_NOT_FOUND, 3);
    ck_assert_int_eq(VENT_E_DUPLICATE, 4);
    ck_assert_int_eq(VENT_E_TOPOLOGY, 5);
    ck_assert_int_eq(VENT_E_NO_OPERATING_POINT, 6);
    ck_assert_int_eq(VENT_E_NOT_CONVERGED, 7);
    ck_assert_int_eq(VENT_E_STALE, 8);
    ck_assert_int_eq(VENT_E_DEPENDENCY, 9);
}
END_TEST

Suite *error_suite(void)
{
    Suite *suite = suite_create("error");
    TCase *record = tcase_create("record");
    tcase_add_test(record, a_fresh_record_holds_no_failure);
    tcase_add_test(record, both_bounds_are_inside);
    tcase_add_loop_test(record, what_is_outside_is_named_with_value_and_bounds, 0,
                        sizeof outside / sizeof outside[0]);
    tcase_add_test(record, the_sentence_is_complete_in_itself);
    tcase_add_test(record, an_angle_is_told_in_degrees_too);
    tcase_add_test(record, the_first_failure_stays);
    tcase_add_test(record, without_a_record_only_the_null_value_tells);
    tcase_add_test(record, long_words_are_cut_and_stay_terminated);
    suite_add_tcase(suite, record);
    TCase *status = tcase_create("status");
    tcase_add_test(status, every_status_has_its_own_words);
    tcase_add_test(status, status_numbers_are_pinned);
    suite_add_tcase(suite, status);
    return suite;
}
