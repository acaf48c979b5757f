/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is put into a stack that was built. */
#include <math.h>
#include <ventstack/ventstack.h>

#include "faulty.h"
#include "suites.h"

/* The same row of items, whether in order or put in between. */
START_TEST(a_fitting_put_in_is_as_one_built_in)
{
    stack s = built();
    vent_error err = VENT_NO_ERROR;
    vent_pipe pipe = vent_pipe_find("PVC 40", 3 * VENT_INCH, &err);
    vent_fitting five = vent_fitting_constant(5, 0, &err), two = vent_fitting_constant(2, 0, &err);
    double plain = riser_flow(s.net, &s);

    vent_network *later = vent_network_copy(s.net, &err);
    ck_assert_int_eq(vent_network_insert_fitting(later, s.riser, 0, five, 1, &err), 1);
    ck_assert_int_eq(vent_network_insert_fitting(later, s.riser, -1, two, 3, &err), 1);
    ck_assert_int_eq(vent_network_insert_fitting(later, s.riser, 6, two, 1, &err), 7);

    vent_network *early = vent_network_new(vent_air_moist(286, 98300, 1, &err),
                                           vent_air_moist(275, 98300, 0.8, &err), &err);
    int store =
        vent_network_suction_point(early, "store", vent_soil_power(4.2e-4, 0.62, &err), &err);
    int hall = vent_network_suction_point(early, "hall", vent_soil_two_term(2e3, 4e5, &err), &err);
    int tee = vent_network_junction(early, "tee", vent_wye(VENT_RADIANS(90), &err), &err);
    int roof =
        vent_network_discharge(early, "ridge", vent_end_guard(1.2e-3, 12.7e-3, &err), 7.9, &err);
    vent_network_set_height(early, tee, 0.8, &err);
    vent_network_run(early, "first", store, tee, pipe, 3, &err);
    vent_network_run(early, "second", hall, tee, pipe, 6, &err);
    int riser = vent_network_run(early, "riser", tee, roof, pipe, 0, &err);
    vent_network_fitting(early, riser, two, 3, &err);
    vent_network_pipe(early, riser, pipe, 6, VENT_PI, &err);
    vent_network_fitting(early, riser, five, 1, &err);
    vent_network_fitting(early, riser, vent_elbow(VENT_RADIANS(90), 1.5, &err), 2, &err);
    vent_network_fan(early, riser, s.fan, &err);
    vent_network_pipe(early, riser, pipe, 2, VENT_PI, &err);
    vent_network_fitting(early, riser, two, 1, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);

    vent_solution *a = vent_network_solve(later, NULL, &err);
    vent_solution *b = vent_network_solve(early, NULL, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    ck_assert_double_lt(vent_solution_flow(a, riser), 0.95 * plain);
    for (int item = 0; item < 8; ++item)
        ck_assert_double_eq_tol(vent_solution_static_pressure(a, riser, item),
                                vent_solution_static_pressure(b, riser, item), 1e-9);
    vent_fan_point point; /* the fan knows where it went */
    ck_assert(vent_solution_fan(a, 0, &point));
    ck_assert_int_eq(point.item, 5);
    ck_assert_double_eq(
        vent_network_get(s.net,
                         read_of(&s, "riser.flow").kind
                             ? vent_network_find_parameter(s.net, "riser.length", &err)
                             : (vent_parameter){0},
                         &err),
        6); /* the design itself is as it was */
    vent_solution_free(a);
    vent_solution_free(b);
    vent_network_free(later);
    vent_network_free(early);
    torn_down(&s);
}
END_TEST

START_TEST(a_fan_is_exchanged)
{
    stack s = built();
    vent_error err = VENT_NO_ERROR;
    vent_network *changed = vent_network_copy(s.net, &err);
    double before = riser_flow(s.net, &s);
    ck_assert(vent_network_set_fan(changed, s.riser, RISER_FAN, s.other, &err));
    ck_assert_double_lt(riser_flow(changed, &s), 0.9 * before);
    ck_assert_double_eq(riser_flow(s.net, &s), before);
    ck_assert(vent_network_set_fan(changed, s.riser, RISER_FAN, s.fan, &err));
    ck_assert_double_eq(riser_flow(changed, &s), before);
    vent_network_free(changed);
    torn_down(&s);
}
END_TEST

START_TEST(changes_are_checked)
{
    stack s = built();
    vent_fitting sound = vent_entry_flush();
    static const struct {
        int run, item;
        double count;
        int status;
    } bad[] = {{9, 0, 1, VENT_E_NOT_FOUND},
               {0, -2, 1, VENT_E_NOT_FOUND},
               {0, 1, 1, VENT_E_NOT_FOUND},
               {0, 0, -1, VENT_E_ARGUMENT},
               {0, 0, NAN, VENT_E_ARGUMENT}};
    double before = riser_flow(s.net, &s);
    for (size_t i = 0; i < sizeof bad / sizeof *bad; ++i) {
        vent_error err = VENT_NO_ERROR;
        ck_assert_int_eq(
            vent_network_insert_fitting(s.net, bad[i].run, bad[i].item, sound, bad[i].count, &err),
            -1);
        ck_assert_int_eq(err.status, bad[i].status);
    }
    vent_error err = VENT_NO_ERROR;
    ck_assert(!vent_network_set_fan(s.net, s.riser, 0, s.fan, &err));
    ck_assert_int_eq(err.status, VENT_E_NOT_FOUND);
    err = (vent_error)VENT_NO_ERROR;
    ck_assert(!vent_network_set_fan(s.net, s.riser, RISER_FAN, NULL, &err));
    ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
    ck_assert_double_eq(riser_flow(s.net, &s), before);
    torn_down(&s);
}
END_TEST

Suite *alter_suite(void)
{
    Suite *suite = suite_create("alter");
    TCase *changes = tcase_create("changes");
    tcase_add_test(changes, a_fitting_put_in_is_as_one_built_in);
    tcase_add_test(changes, a_fan_is_exchanged);
    tcase_add_test(changes, changes_are_checked);
    suite_add_tcase(suite, changes);
    return suite;
}
