/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a solution to its sources: every line, every number, every flag. */
#include "base/source_list.h"
#include "suites.h"

#include <math.h>
#include <ventstack/bend.h>
#include <ventstack/entry.h>
#include <ventstack/provenance.h>
#include <ventstack/units.h>

/* A stack of its own fan (invented), an elbow by `source` of its kind, and a termination. */
static vent_network *stack(int source, vent_termination top, vent_pipe pipe)
{
    const double flow[] = {0, 0.03, 0.06}, pressure[] = {400, 300, 0};
    vent_error err = VENT_NO_ERROR;
    vent_air gas = vent_air_moist(286, 98000, 1, &err),
             outdoors = vent_air_moist(270, 98000, 0.8, &err);
    vent_fan *fan = vent_fan_new("invented", 3, flow, pressure, &err);
    vent_network *net = vent_network_new(gas, outdoors, &err);
    int pit = vent_network_suction_point(net, "pit", vent_soil_power(1e-3, 0.6, &err), &err);
    int roof = vent_network_discharge(net, "roof", top, 8, &err);
    int riser = vent_network_run(net, "riser", pit, roof, pipe, 12, &err);
    vent_fitting elbow =
        vent_fitting_by_source(vent_elbow(VENT_RADIANS(90), 1.5, &err), source, &err);
    vent_network_fitting(net, riser, vent_entry_flush(), 1, &err);
    vent_network_fitting(net, riser, elbow, 2, &err);
    vent_network_fan(net, riser, fan, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    vent_fan_free(fan);
    return net;
}

static vent_solution *solved(vent_network *net)
{
    vent_error err = VENT_NO_ERROR;
    vent_solution *point = vent_network_solve(net, NULL, &err);
    ck_assert_msg(point, "%s", err.message);
    vent_network_free(net);
    return point;
}

static size_t line_of_kind(const vent_solution *point, int kind, int rank)
{
    vent_ledger_line line;
    for (size_t i = 0; vent_solution_ledger_line(point, i, &line); ++i)
        if (line.kind == kind && rank-- == 0)
            return i;
    ck_abort_msg("no line of kind %d", kind);
}

static void expect_sources(const vent_solution *point, int kind, int rank, int count,
                           const int *expected)
{
    int32_t found[8];
    size_t line = line_of_kind(point, kind, rank);
    ck_assert_int_eq(vent_solution_line_sources(point, line, 8, found), count);
    for (int i = 0; i < count; ++i)
        ck_assert_int_eq(found[i], expected[i]);
}

#define EXPECT(kind, rank, ...)                                                                    \
    expect_sources(point, kind, rank, sizeof((int[]){__VA_ARGS__}) / sizeof(int),                  \
                   (int[]){__VA_ARGS__})

START_TEST(a_line_names_all_it_rests_on)
{
    vent_pipe pipe = vent_pipe_find("PVC 40", 3 * VENT_INCH, NULL);
    vent_solution *point = solved(stack(0, vent_end_elbow(VENT_RADIANS(45), 1, NULL), pipe));
    EXPECT(VENT_LINE_SOIL, 0, 0);
    EXPECT(VENT_LINE_FAN, 0, 0);
    EXPECT(VENT_LINE_WIND, 0, 0);
    EXPECT(VENT_LINE_BUOYANCY, 0, VENT__SOURCE_AIR_DENSITY);
    EXPECT(VENT_LINE_PIPE, 0, VENT__SOURCE_ASTM_D1785, VENT__SOURCE_SWIM_PLASTIC,
           VENT__SOURCE_FRICTION, VENT__SOURCE_AIR_VISCOSITY);
    EXPECT(VENT_LINE_FITTING, 0, VENT__SOURCE_IDELCHIK_FLUSH);
    EXPECT(VENT_LINE_FITTING, 1, VENT__SOURCE_RENNELS_BEND);
    EXPECT(VENT_LINE_TERMINATION, 0, VENT__SOURCE_RENNELS_BEND, VENT__SOURCE_EXIT);
    vent_solution_free(point);
}
END_TEST

START_TEST(a_pipe_of_ones_own_rests_on_what_one_said)
{
    vent_pipe pipe = vent_pipe_find("PVC 40", 3 * VENT_INCH, NULL);
    pipe.roughness *= 2;
    vent_solution *point = solved(stack(0, vent_open_end(), pipe));
    EXPECT(VENT_LINE_PIPE, 0, VENT__SOURCE_ASTM_D1785, 0, VENT__SOURCE_FRICTION,
           VENT__SOURCE_AIR_VISCOSITY);
    EXPECT(VENT_LINE_TERMINATION, 0, VENT__SOURCE_EXIT);
    vent_solution_free(point);
    point = solved(stack(0, vent_open_end(), vent_pipe_round(0.1, 5e-6, NULL)));
    EXPECT(VENT_LINE_PIPE, 0, 0, VENT__SOURCE_FRICTION, VENT__SOURCE_AIR_VISCOSITY);
    vent_solution_free(point);
}
END_TEST

START_TEST(the_chosen_source_is_the_one_that_counts)
{
    vent_pipe pipe = vent_pipe_find("PVC 40", 3 * VENT_INCH, NULL);
    vent_solution *ours = solved(stack(0, vent_open_end(), pipe));
    vent_solution *point = solved(stack(VENT__SOURCE_IDELCHIK_BEND, vent_open_end(), pipe));
    EXPECT(VENT_LINE_FITTING, 1, VENT__SOURCE_IDELCHIK_BEND);
    vent_ledger_line line, other;
    vent_solution_ledger_line(point, line_of_kind(point, VENT_LINE_FITTING, 1), &line);
    vent_solution_ledger_line(ours, line_of_kind(ours, VENT_LINE_FITTING, 1), &other);
    vent_fitting by = vent_fitting_by_source(vent_elbow(VENT_RADIANS(90), 1.5, NULL),
                                             VENT__SOURCE_IDELCHIK_BEND, NULL);
    vent_coefficient k =
        vent_fitting_coefficient(by, pipe, vent_solution_reynolds(point, line.run), NULL);
    ck_assert_double_eq_tol(line.k, 2 * k.value, 1e-12);
    ck_assert_double_ne(line.k, other.k);
    ck_assert_int_eq(
        line.k<other.k, vent_solution_discharge_flow(point)> vent_solution_discharge_flow(ours));
    vent_solution_free(ours);
    vent_solution_free(point);
}
END_TEST

START_TEST(the_sum_over_sources_is_the_sum_over_lines)
{
    vent_pipe pipe = vent_pipe_find("PVC 40", 3 * VENT_INCH, NULL);
    vent_solution *point = solved(stack(0, vent_rain_cap(0.42, NULL), pipe));
    int lines = 0, references = 0, flagged = 0;
    double last = INFINITY;
    vent_source_use use;
    for (size_t i = 0; i < vent_solution_source_count(point); ++i) {
        ck_assert(vent_solution_source_use(point, i, &use));
        ck_assert_int_gt(use.lines, 0);
        ck_assert(use.greatest_loss <= last && use.greatest_share >= 0);
        last = use.greatest_loss;
        references += use.lines;
        if (use.source == VENT__SOURCE_WEATHER_CAP || use.source == VENT__SOURCE_EXIT)
            flagged += use.flags == VENT_COEFFICIENT_GEOMETRY_OUTSIDE;
        else
            ck_assert_uint_eq(use.flags, 0);
    }
    ck_assert_int_eq(flagged, 2); /* the gap left the cap's range, and the whole line with it */
    for (size_t i = 0; i < vent_solution_ledger_size(point); ++i)
        lines += vent_solution_line_sources(point, i, 0, NULL);
    ck_assert_int_eq(references, lines);
    ck_assert(vent_solution_source_use(point, 0, &use));
    ck_assert_int_eq(use.source, 0); /* the fan's pressure is the greatest of all */
    ck_assert_double_eq_tol(use.greatest_share, 1, 1e-12);
    vent_solution_free(point);
}
END_TEST

START_TEST(there_is_nothing_beyond_the_last)
{
    vent_source_use use = {.source = -7};
    int32_t source = -7;
    ck_assert_uint_eq(vent_solution_source_count(NULL), 0);
    ck_assert(!vent_solution_source_use(NULL, 0, &use));
    ck_assert_int_eq(vent_solution_line_sources(NULL, 0, 1, &source), 0);
    vent_solution *point = solved(stack(0, vent_open_end(), vent_pipe_round(0.1, 0, NULL)));
    ck_assert(!vent_solution_source_use(point, vent_solution_source_count(point), &use));
    ck_assert(!vent_solution_source_use(point, 0, NULL));
    size_t lines = vent_solution_ledger_size(point);
    ck_assert_int_eq(vent_solution_line_sources(point, lines, 1, &source), 0);
    ck_assert_int_eq(vent_solution_line_sources(point, 0, -1, &source), 1);
    ck_assert(use.source == -7 && source == -7);
    vent_solution_free(point);
}
END_TEST

Suite *provenance_suite(void)
{
    Suite *suite = suite_create("provenance");
    TCase *sources = tcase_create("sources");
    tcase_add_test(sources, a_line_names_all_it_rests_on);
    tcase_add_test(sources, a_pipe_of_ones_own_rests_on_what_one_said);
    tcase_add_test(sources, the_chosen_source_is_the_one_that_counts);
    tcase_add_test(sources, the_sum_over_sources_is_the_sum_over_lines);
    tcase_add_test(sources, there_is_nothing_beyond_the_last);
    suite_add_tcase(suite, sources);
    return suite;
}
