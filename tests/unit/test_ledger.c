/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The ledger's words and velocities, and the order of the warnings. */
#include "suites.h"

#include <math.h>
#include <string.h>
#include <ventstack/ventstack.h>

/* An invented stack: one pit, one riser, and a fan of one pressure whose flow the soil sets. */
static vent_network *stack_of(vent_pipe pipe, double length, double height, double fan_pressure)
{
    vent_error err = VENT_NO_ERROR;
    vent_air gas = vent_air_moist(286.15, 98300, 1, &err);
    vent_network *net = vent_network_new(gas, vent_air_moist(273.15, 98300, 0.5, &err), &err);
    int pit = vent_network_suction_point(net, "pit", vent_soil_power(1e-3, 0.6, &err), &err);
    int roof = vent_network_discharge(net, "roof", vent_open_end(), height, &err);
    vent_network_run(net, "riser", pit, roof, pipe, length, &err);
    vent_fan *fan = vent_fan_new("even", 2, (double[]){0, 1},
                                 (double[]){fan_pressure, 0.99 * fan_pressure}, &err);
    vent_network_fan(net, 0, fan, &err);
    vent_fan_free(fan);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return net;
}

static vent_solution *solved(const vent_network *net)
{
    vent_error err = VENT_NO_ERROR;
    vent_solution *s = vent_network_solve(net, NULL, &err);
    ck_assert_msg(s != NULL, "%s", err.message);
    return s;
}

/* The first line of a kind, and where it stands. */
static vent_ledger_line line_of(const vent_solution *s, int kind, size_t *index)
{
    vent_ledger_line line;
    for (size_t i = 0; vent_solution_ledger_line(s, i, &line); ++i)
        if (line.kind == kind) {
            *index = i;
            return line;
        }
    ck_abort_msg("no line of kind %d", kind);
    return line;
}

static void expect_words(const vent_network *net, int kind, const char *words)
{
    vent_solution *s = solved(net);
    size_t index;
    ck_assert_str_eq(line_of(s, kind, &index).what, words);
    vent_solution_free(s);
}

START_TEST(a_pipe_is_told_in_the_trades_words_too)
{
    vent_network *net =
        stack_of(vent_pipe_find("PVC 40", 3 * VENT_INCH, NULL), 34 * VENT_FOOT, 8 * VENT_FOOT, 400);
    expect_words(net, VENT_LINE_PIPE, "pipe 77.3 mm, 10.36 m (3 in PVC 40, 34 ft)");
    expect_words(net, VENT_LINE_BUOYANCY, "stack effect, 2.438 m (8 ft) up");
    expect_words(net, VENT_LINE_WIND, "wind: none stated");
    vent_network_set_wind_pressure(net, 3, NULL);
    expect_words(net, VENT_LINE_WIND, "wind");
    vent_network_set_termination(net, vent_end_guard(1e-3, 1e-2, NULL), NULL); /* (10/11)^2 free */
    expect_words(net, VENT_LINE_TERMINATION, "guard (screen), 83 % free");
    vent_network_free(net);
    net = stack_of(vent_pipe_round(0.1, 0, NULL), 2, 0, 400);
    expect_words(net, VENT_LINE_PIPE, "pipe 100.0 mm, 2 m");
    expect_words(net, VENT_LINE_BUOYANCY, "stack effect: none, as the run ends level");
    vent_network_free(net);
}
END_TEST

START_TEST(every_pipe_of_the_catalogue_fits_its_line)
{
    for (int i = 0; i < vent_pipe_count(); ++i) {
        const char *name;
        double size;
        vent_network *net = stack_of(vent_pipe_entry(i, &name, &size), 1234.5, 3, 400);
        vent_solution *s = solved(net);
        size_t index;
        vent_ledger_line line = line_of(s, VENT_LINE_PIPE, &index);
        ck_assert_msg(strstr(line.what, name) && strstr(line.what, " ft)"), "%s", line.what);
        vent_solution_free(s);
        vent_network_free(net);
    }
}
END_TEST

START_TEST(a_line_tells_the_velocity_its_coefficient_is_on)
{
    vent_pipe pipe = vent_pipe_find("PVC 40", 3 * VENT_INCH, NULL);
    vent_network *net = stack_of(pipe, 10, 8, 400);
    vent_solution *s = solved(net);
    size_t index;
    line_of(s, VENT_LINE_TERMINATION, &index);
    double velocity = vent_solution_flow(s, 0) / vent_pipe_area(pipe);
    ck_assert_double_eq_tol(vent_solution_ledger_velocity(s, index), velocity, 1e-12 * velocity);
    line_of(s, VENT_LINE_SOIL, &index);
    ck_assert_double_nan(vent_solution_ledger_velocity(s, index));
    ck_assert_double_nan(vent_solution_ledger_velocity(s, vent_solution_ledger_size(s)));
    ck_assert_double_nan(vent_solution_ledger_velocity(NULL, 0));
    vent_solution_free(s);
    vent_network_free(net);
}
END_TEST

/* A mitre's range begins at a Reynolds number of 2e4; an elbow of a radius of 0.45 is never in its. */
START_TEST(a_number_just_outside_is_a_remark_and_comes_last)
{
    int remarks = 0, warnings = 0, neither = 0;
    for (double pressure = 20; pressure < 800; pressure *= 1.02) {
        vent_network *net = stack_of(vent_pipe_round(0.1, 0, NULL), 10, 3, pressure);
        vent_network_fitting(net, 0, vent_mitre(VENT_RADIANS(90), NULL), 1, NULL);
        vent_network_fitting(net, 0, vent_elbow(VENT_RADIANS(90), 0.45, NULL), 1, NULL);
        vent_solution *s = solved(net);
        double reynolds = vent_solution_reynolds(s, 0);
        size_t count = vent_solution_warning_count(s);
        vent_warning last;
        ck_assert(vent_solution_warning(s, count - 1, &last));
        bool near = reynolds < 2e4 && reynolds * 1.1 > 2e4;
        ck_assert_int_eq((vent_solution_flags(s) & VENT_WARN_NEAR_RANGE) != 0, near);
        ck_assert(vent_solution_flags(s) & VENT_WARN_COEFFICIENT_RANGE); /* the elbow */
        ck_assert_uint_gt(count, near);
        if (near) {
            ck_assert_uint_eq(last.flag, VENT_WARN_NEAR_RANGE);
            ck_assert_int_eq(last.item, 2);
            ck_assert_double_eq(last.value, reynolds);
            ck_assert_double_eq_tol(last.limit, 2e4, 1);
            ck_assert_msg(strstr(last.message, "ends at 20000"), "%s", last.message);
        }
        remarks += near;
        warnings += reynolds * 1.1 < 2e4;
        neither += reynolds > 2e4;
        vent_solution_free(s);
        vent_network_free(net);
    }
    ck_assert(remarks > 3 && warnings > 3 && neither > 3);
}
END_TEST

Suite *ledger_suite(void)
{
    Suite *s = suite_create("ledger");
    TCase *words = tcase_create("words");
    tcase_add_test(words, a_pipe_is_told_in_the_trades_words_too);
    tcase_add_test(words, every_pipe_of_the_catalogue_fits_its_line);
    tcase_add_test(words, a_line_tells_the_velocity_its_coefficient_is_on);
    suite_add_tcase(s, words);
    TCase *warnings = tcase_create("warnings");
    tcase_add_test(warnings, a_number_just_outside_is_a_remark_and_comes_last);
    suite_add_tcase(s, warnings);
    return s;
}
