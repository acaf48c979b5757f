/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Citations: every one is complete, and none stands twice. */
#include "base/source_list.h"
#include "suites.h"

#include <string.h>

START_TEST(every_number_has_a_complete_citation)
{
    for (int number = 1; number <= vent_source_count(); ++number) {
        vent_source source = {0};
        ck_assert(vent_source_find(number, &source));
        ck_assert_msg(source.author[0] && source.title[0] && source.place[0], "source %d", number);
        ck_assert_msg(source.year == 0 || (source.year >= 1700 && source.year <= 2100),
                      "source %d: %d", number, source.year);
        ck_assert_msg(source.how >= VENT_HOW_PRINTED && source.how <= VENT_HOW_PRACTICE,
                      "source %d: %d", number, source.how);
    }
}
END_TEST

START_TEST(no_citation_stands_twice)
{
    for (int i = 1; i <= vent_source_count(); ++i)
        for (int j = i + 1; j <= vent_source_count(); ++j) {
            vent_source a, b;
            ck_assert(vent_source_find(i, &a) && vent_source_find(j, &b));
            ck_assert_msg(strcmp(a.author, b.author) != 0 || strcmp(a.title, b.title) != 0 ||
                              strcmp(a.place, b.place) != 0 || a.year != b.year || a.how != b.how,
                          "sources %d and %d", i, j);
        }
}
END_TEST

START_TEST(a_key_finds_its_own_row)
{
    vent_source source;
    ck_assert(vent_source_find(VENT__SOURCE_RENNELS_BEND, &source));
    ck_assert_str_eq(source.author, "D. C. Rennels, H. M. Hudson");
    ck_assert_int_eq(source.year, 2012);
    ck_assert_int_eq(source.how, VENT_HOW_REPRINT);
    ck_assert(vent_source_find(VENT__SOURCE_END - 1, &source));
}
END_TEST

static const int nowhere[] = {0, -1, -2147483647 - 1, VENT__SOURCE_END, 2147483647};

START_TEST(other_numbers_leave_the_record_alone)
{
    vent_source source = {.year = 7};
    ck_assert(!vent_source_find(nowhere[_i], &source));
    ck_assert_int_eq(source.year, 7);
    ck_assert_ptr_null(source.author);
    ck_assert(!vent_source_find(1, NULL));
}
END_TEST

Suite *source_suite(void)
{
    Suite *suite = suite_create("source");
    TCase *list = tcase_create("list");
    tcase_add_test(list, every_number_has_a_complete_citation);
    tcase_add_test(list, no_citation_stands_twice);
    tcase_add_test(list, a_key_finds_its_own_row);
    tcase_add_loop_test(list, other_numbers_leave_the_record_alone, 0,
                        sizeof nowhere / sizeof *nowhere);
    suite_add_tcase(suite, list);
    return suite;
}
