/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What bench readings say of what stands on a stack.
 *
 * Common practice, no source; readings good to about 1 cfm: a 3-inch bench stack whose fan moves 83
 * cfm through the open end moves 81.5 with a 45 degree elbow on top, 80 with a 90, 79 with a guard of
 * half-inch mesh. The fan is not told. One resistance in front of the end is fitted to the open end;
 * everything else is the library's own, and nothing in it was fitted to these readings.
 *
 * What they can tell: a small dK on top takes Q/2 dK/E from the flow, with E = K + (Q/2) |dp/dQ| / q of
 * the bench and its fan at 83 cfm (q the velocity pressure). E rises with the fan, which the readings do
 * not name: with 3.3 to 4.2 elbows of one bore's radius and a clean mesh are all met within 1.5 cfm, by a
 * flat fan and by a steep one (shut-off about 0.55 to 0.7 in. w.c., where the curve is a parabola). With
 * fans of 1 in. w.c. the elbows are met within 0.6 cfm, and the clean mesh comes out 2.3 high. What does
 * not depend on the fan is the ratio of guard to elbow, and that too says the guard of the bench costs
 * more than a clean mesh: the last two tests name the reason. */
#include "suites.h"

#include <math.h>
#include <ventstack/bend.h>
#include <ventstack/network.h>
#include <ventstack/solution.h>
#include <ventstack/units.h>

/* Fans of our own: shut-off [in. w.c.], free delivery [cfm], power of the flow in the falling curve. */
typedef struct generic_fan {
    const char *name;
    double shut_off, free_delivery, power;
} generic_fan;

static const generic_fan weak[] = {{"weak, flat", 0.65, 200, 2}, {"weak, steep", 1.0, 120, 1}};
static const generic_fan stronger[] = {{"flat", 1.0, 200, 2}, {"steep", 1.0, 100, 2}};

static vent_fan *make_fan(const generic_fan *fan, vent_error *err)
{
    enum { POINTS = 41 };
    double flow[POINTS], pressure[POINTS];
    for (int i = 0; i < POINTS; ++i) {
        double share = (double)i / (POINTS - 1);
        flow[i] = share * fan->free_delivery * VENT_CFM;
        pressure[i] = fan->shut_off * (1 - pow(share, fan->power)) * VENT_INWC;
    }
    return vent_fan_new(fan->name, POINTS, flow, pressure, err);
}

/* Flow [cfm] of the bench: fan, the resistance, a yard of 3-inch pipe, and the end. */
static double bench_flow(const generic_fan *generic, double k, vent_termination top)
{
    vent_error err = VENT_NO_ERROR;
    vent_air room = vent_air_moist(293.15, 101325, 0.4, &err);
    vent_network *net = vent_network_new(room, room, &err);
    vent_fan *fan = make_fan(generic, &err);
    int inlet = vent_network_suction_point(net, "inlet", vent_soil_power(1e3, 1, &err), &err);
    int end = vent_network_discharge(net, "end", top, 0, &err);
    int run = vent_network_run(net, "bench", inlet, end,
                               vent_pipe_find("PVC 40", 3 * VENT_INCH, &err), 0.9, &err);
    vent_network_fan(net, run, fan, &err);
    vent_network_fitting(net, run, vent_fitting_constant(k, 0, &err), 1, &err);
    vent_solution *point = vent_network_solve(net, NULL, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    double flow = vent_solution_flow(point, run) / VENT_CFM;
    vent_solution_free(point);
    vent_fan_free(fan);
    vent_network_free(net);
    return flow;
}

/* The resistance with which the open end moves 83 cfm. */
static double fitted(const generic_fan *fan)
{
    double low = 0, high = 100;
    ck_assert_double_gt(bench_flow(fan, low, vent_open_end()), 83);
    for (int i = 0; i < 60; ++i) {
        double k = (low + high) / 2;
        *(bench_flow(fan, k, vent_open_end()) > 83 ? &low : &high) = k;
    }
    return low;
}

/* Half-inch hardware cloth of 19 gauge: half an inch from wire to wire. */
static vent_termination half_inch_mesh(void)
{
    const double wire = 1.04e-3;
    return vent_end_guard(wire, VENT_INCH / 2 - wire, NULL);
}

/* The mesh in a rim of 1 mm all around. */
static vent_termination mesh_in_a_rim(void)
{
    double bore = 3.042 * VENT_INCH, inside = bore - 2e-3;
    return vent_termination_blocked(half_inch_mesh(), (inside / bore) * (inside / bore), NULL);
}

/* How far the library's flow is from what was read [cfm]. Elbows of one bore's radius: about a regular
 * drain-waste-vent quarter and eighth bend. */
static double off(const generic_fan *fan, double k, vent_termination top, double read)
{
    return bench_flow(fan, k, top) - read;
}

static void check_elbows(const generic_fan *fan, double k)
{
    ck_assert_double_eq_tol(bench_flow(fan, k, vent_open_end()), 83, 1e-6);
    ck_assert_double_le(fabs(off(fan, k, vent_end_elbow(VENT_RADIANS(45), 1, NULL), 81.5)), 1.5);
    ck_assert_double_le(fabs(off(fan, k, vent_end_elbow(VENT_RADIANS(90), 1, NULL), 80)), 1.5);
}

START_TEST(weak_fans_meet_all_readings)
{
    const generic_fan *fan = &weak[_i];
    double k = fitted(fan);
    check_elbows(fan, k);
    ck_assert_double_le(fabs(off(fan, k, half_inch_mesh(), 79)), 1.5);
}
END_TEST

START_TEST(stronger_fans_meet_the_guard_only_with_a_rim)
{
    const generic_fan *fan = &stronger[_i];
    double k = fitted(fan);
    check_elbows(fan, k);
    ck_assert_double_ge(off(fan, k, half_inch_mesh(), 79), 1.5);
    ck_assert_double_le(fabs(off(fan, k, mesh_in_a_rim(), 79)), 1.5);
}
END_TEST

/* Whatever the fan: by the readings a guard takes (83 - 79) / (83 - 80) = 1.3 times what the 90 degree
 * elbow takes, 0.75 to 2.5 with each good to 1 cfm. The clean mesh's coefficient alone stays below
 * that. A frame, which it leaves out, would explain it: one of 1 mm all around takes 5 % of the area and
 * puts the ratio within. How wide that of the bench's guard was is not told; 1 mm is a guess. */
START_TEST(a_guard_without_its_rim_reads_too_cheap)
{
    vent_error err = VENT_NO_ERROR;
    vent_pipe pipe = vent_pipe_find("PVC 40", 3 * VENT_INCH, &err);
    double reynolds = 4.3e4; /* 83 cfm */
    double elbow = vent_termination_coefficient(vent_end_elbow(VENT_RADIANS(90), 1, &err), pipe,
                                                reynolds, &err)
                       .value -
                   1;
    double mesh = vent_termination_coefficient(half_inch_mesh(), pipe, reynolds, &err).value - 1;
    double rimmed = vent_termination_coefficient(mesh_in_a_rim(), pipe, reynolds, &err).value - 1;
    ck_assert_int_eq(err.status, VENT_OK);
    const double least = (4.0 - 1) / (3 + 1), most = (4.0 + 1) / (3 - 1);
    ck_assert_msg(mesh / elbow < least && mesh / elbow > least / 2, "%g", mesh / elbow);
    ck_assert_msg(rimmed / elbow > least && rimmed / elbow < most, "%g", rimmed / elbow);
}
END_TEST

Suite *stack_facts_suite(void)
{
    Suite *suite = suite_create("stack_facts");
    TCase *facts = tcase_create("common practice");
    tcase_add_loop_test(facts, weak_fans_meet_all_readings, 0, sizeof weak / sizeof *weak);
    tcase_add_loop_test(facts, stronger_fans_meet_the_guard_only_with_a_rim, 0,
                        sizeof stronger / sizeof *stronger);
    tcase_add_test(facts, a_guard_without_its_rim_reads_too_cheap);
    suite_add_tcase(suite, facts);
    return suite;
}
