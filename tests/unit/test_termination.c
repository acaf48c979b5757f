/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Terminations: published values, limits, where the air goes, ranges, bad input. */
#include "base/source_list.h"
#include "csv.h"
#include "physics/formulas.h"
#include "published.h"
#include "random.h"
#include "suites.h"

#include <string.h>
#include <ventstack/bend.h>
#include <ventstack/units.h>

static const double NOT_A_NUMBER = (double)NAN, INFINITE = (double)INFINITY;

/* ---- published ------------------------------------------------------------------------------ */

static vent_termination read_clean(const csv *table, const char *family, vent_error *err)
{
    if (strcmp(family, "open end") == 0)
        return vent_open_end();
    if (strcmp(family, "elbow") == 0)
        return vent_end_elbow(VENT_RADIANS(csv_number(table, "angle")), csv_number(table, "ratio"),
                              err);
    if (strcmp(family, "guard") == 0)
        return vent_end_guard(csv_number(table, "wire"), csv_number(table, "opening"), err);
    ck_assert_str_eq(family, "rain cap");
    return vent_rain_cap(csv_number(table, "gap"), err);
}

static vent_termination read_termination(const csv *table, vent_error *err)
{
    return vent_termination_blocked(read_clean(table, csv_text(table, "family"), err),
                                    csv_number(table, "free_area"), err);
}

START_TEST(published_values_lie_where_the_uncertainty_says)
{
    csv *table = csv_open("terminations_published.csv");
    while (csv_next(table)) {
        vent_error err = VENT_NO_ERROR;
        vent_termination termination = read_termination(table, &err);
        ck_assert_msg(err.status == VENT_OK, "%s: %s", csv_where(table), err.message);
        vent_coefficient c =
            vent__termination_state(&termination, csv_number(table, "bore"),
                                    csv_number(table, "reynolds"), csv_number(table, "friction"));
        expect_place(table, c.value,
                     own_of_termination(termination, csv_number(table, "bore"),
                                        csv_number(table, "reynolds"),
                                        csv_number(table, "friction")));
    }
    csv_close(table);
}
END_TEST

static vent_termination read_with_formula(const csv *table, vent_error *err)
{
    const char *family = csv_text(table, "family");
    if (strcmp(family, "tee") == 0)
        return vent_end_tee();
    if (strcmp(family, "rain cap") == 0)
        return vent_rain_cap(csv_number(table, "ratio"), err);
    if (strcmp(family, "domed guard") == 0)
        return vent_end_dome(csv_number(table, "wire"), csv_number(table, "opening"),
                             csv_number(table, "area_ratio"), err);
    if (strcmp(family, "conical outlet") == 0)
        return vent_end_cone(csv_number(table, "ratio"), VENT_RADIANS(csv_number(table, "cone")),
                             err);
    if (strcmp(family, "drain stack") == 0)
        return vent_drain_stack(csv_number(table, "ratio"), err);
    return read_clean(table, family, err);
}

static const struct {
    const char *formula;
    int source;
} sources[] = {{"exit_rennels", VENT__SOURCE_RENNELS_ORIFICE_EXIT},
               {"exit_idelchik", VENT__SOURCE_IDELCHIK_GRID_EXIT},
               {"entry_rennels", VENT__SOURCE_ORIFICE_ENTRY},
               {"entry_idelchik", VENT__SOURCE_IDELCHIK_GRID_ENTRY},
               {"blevins", VENT__SOURCE_BLEVINS_SCREEN},
               {"cone_rennels", VENT__SOURCE_RENNELS_DIFFUSER},
               {"cone_crane", VENT__SOURCE_CRANE_DIFFUSER},
               {"nozzle_rennels", VENT__SOURCE_RENNELS_CONTRACTION},
               {"ejector", VENT__SOURCE_STACK_EJECTOR},
               {"acgih", VENT__SOURCE_DRAIN_STACK},
               {"bend_rennels", VENT__SOURCE_RENNELS_BEND},
               {"tee_idelchik", VENT__SOURCE_IDELCHIK_TEE},
               {"cap_acgih", VENT__SOURCE_WEATHER_CAP}};

static int source_of(const char *formula)
{
    for (size_t i = 0; i < sizeof sources / sizeof *sources; ++i)
        if (strcmp(sources[i].formula, formula) == 0)
            return sources[i].source;
    ck_abort_msg("no formula %s", formula);
}

START_TEST(formulas_give_what_their_authors_print)
{
    csv *table = csv_open("terminations_formulas.csv");
    while (csv_next(table)) {
        vent_error err = VENT_NO_ERROR;
        int source = source_of(csv_text(table, "formula"));
        vent_termination termination = vent_termination_by_source(
            vent_termination_blocked(read_with_formula(table, &err), csv_number(table, "free_area"),
                                     &err),
            source, &err);
        ck_assert_msg(err.status == VENT_OK, "%s: %s", csv_where(table), err.message);
        vent_coefficient c =
            vent__termination_state(&termination, csv_number(table, "bore"),
                                    csv_number(table, "reynolds"), csv_number(table, "friction"));
        csv_expect(table, "k", c.value, csv_number(table, "relative"), 0);
        ck_assert_int_eq(c.source, source);
    }
    csv_close(table);
}
END_TEST

/* ---- limits --------------------------------------------------------------------------------- */

static double value(vent_termination termination, double reynolds)
{
    return vent__termination_state(&termination, 0.1, reynolds, 0.02).value;
}

START_TEST(an_open_end_loses_the_velocity_pressure)
{
    ck_assert_double_eq(value(vent_open_end(), 5e4), 1);
    ck_assert_double_eq(value(vent_open_end(), -5e4), 0.57);
    ck_assert_double_eq(value(vent_end_elbow(0, 1.5, NULL), 5e4), 1);
    ck_assert_double_eq_tol(value(vent_end_guard(1e-5, 1, NULL), 5e4), 1, 1e-3);
}
END_TEST

START_TEST(a_bend_at_the_end_adds_its_own_coefficient)
{
    for (int reversed = -1; reversed <= 1; reversed += 2) {
        vent_fitting elbow = vent_elbow(VENT_RADIANS(45), 1.5, NULL);
        double plain = value(vent_open_end(), reversed * 5e4);
        double inside = vent__fitting_state(&elbow, 0.1, 5e4, 0.02).value;
        ck_assert_double_eq_tol(value(vent_end_elbow(VENT_RADIANS(45), 1.5, NULL), reversed * 5e4),
                                plain + inside, 1e-15);
        elbow = vent_elbow(VENT_PI, 1.5, NULL);
        inside = vent__fitting_state(&elbow, 0.1, 5e4, 0.02).value;
        ck_assert_double_eq_tol(value(vent_end_return(1.5, NULL), reversed * 5e4), plain + inside,
                                1e-15);
    }
}
END_TEST

/* From the source's formulas by hand: out, 1 + 1.5/4 for the tee and 1/4 for the arms' ends; in,
 * 0.55 (2 - 3/4) and a quarter of two entries' 0.57. */
START_TEST(a_tee_at_the_end_is_a_dividing_tee_and_two_ends)
{
    ck_assert_double_eq_tol(value(vent_end_tee(), 5e4), 1.625, 1e-15);
    ck_assert_double_eq_tol(value(vent_end_tee(), -5e4), 0.6875 + 0.57 / 4, 1e-15);
}
END_TEST

START_TEST(the_less_is_free_the_more_a_guard_costs)
{
    double last = INFINITE;
    for (double opening = 3e-4; opening < 0.1; opening *= 1.1) {
        double k = value(vent_end_guard(1e-3, opening, NULL), 5e4);
        ck_assert(k > 1 && k < last);
        last = k;
    }
}
END_TEST

/* 0.25 free: 1.3 (0.75) + 9 = 9.975; wire of a hundredth of the bore, so 100 at 1e4. */
START_TEST(a_slow_wire_costs_more)
{
    vent_termination guard = vent_end_guard(1e-3, 1e-3, NULL);
    ck_assert_double_eq_tol(value(guard, 1e4), 1 + 9.975 * 1.22, 1e-12);
    ck_assert_double_eq_tol(value(guard, 1e8), 1 + 9.975, 1e-3);
}
END_TEST

START_TEST(a_dome_passes_the_air_more_slowly)
{
    vent_termination flat = vent_end_guard(1e-3, 3e-3, NULL);
    vent_termination same = vent_end_dome(1e-3, 3e-3, 1, NULL);
    vent_termination dome = vent_end_dome(1e-3, 3e-3, 2, NULL);
    ck_assert_double_eq(value(same, 5e4), value(flat, 5e4));
    ck_assert_double_eq_tol(value(dome, 5e4) - 1, (value(flat, 2.5e4) - 1) / 4, 1e-14);
}
END_TEST

START_TEST(a_cone_saves_and_a_step_of_none_is_the_open_end)
{
    ck_assert_double_eq_tol(value(vent_end_cone(1, VENT_RADIANS(7), NULL), 5e4), 1, 1e-15);
    ck_assert_double_eq_tol(value(vent_end_cone(1, VENT_RADIANS(7), NULL), -5e4), 0.57, 1e-15);
    for (double ratio = 1.05; ratio <= 3; ratio += 0.05) {
        double k = value(vent_end_cone(ratio, VENT_RADIANS(7), NULL), 5e4);
        ck_assert(k > 1 / (ratio * ratio * ratio * ratio) && k < 1);
    }
}
END_TEST

START_TEST(ice_makes_thicker_wires_and_narrower_openings)
{
    vent_termination iced = vent_termination_iced(vent_end_guard(1e-3, 5e-3, NULL), 1e-3, NULL);
    ck_assert_int_eq(iced.family, VENT_TERMINATION_GUARD);
    ck_assert_double_eq_tol(iced.geometry[0], 3e-3, 1e-18);
    ck_assert_double_eq_tol(iced.geometry[1], 3e-3, 1e-18);
    double last = 0;
    for (double ice = 0; ice < 1.8e-3; ice += 1e-5) {
        vent_termination dome =
            vent_termination_iced(vent_end_dome(1e-3, 5e-3, 2, NULL), ice, NULL);
        ck_assert_double_gt(value(dome, 5e4), last);
        last = value(dome, 5e4);
    }
}
END_TEST

START_TEST(the_lower_a_cap_the_more_it_costs)
{
    double last = INFINITE;
    for (double gap = 0.4; gap <= 1.2; gap += 0.01) {
        double k = value(vent_rain_cap(gap, NULL), 5e4);
        ck_assert(k > 1 && k < last);
        last = k;
    }
}
END_TEST

START_TEST(free_area_is_that_of_a_square_mesh)
{
    ck_assert_double_eq_tol(vent_guard_free_area(1, 1), 0.25, 1e-16);
    ck_assert_double_eq(vent_guard_free_area(0, 0.01), 1);
    /* half-inch mesh of 1.04 mm wire */
    ck_assert_double_eq_tol(vent_guard_free_area(1.04e-3, 12.7e-3 - 1.04e-3), 0.8429, 1e-4);
    const double never[] = {-1e-9, INFINITE, -INFINITE, NOT_A_NUMBER, 1e7};
    for (size_t i = 0; i < sizeof never / sizeof *never; ++i) {
        ck_assert(isnan(vent_guard_free_area(never[i], 1)));
        ck_assert(isnan(vent_guard_free_area(1, never[i])));
    }
    ck_assert(isnan(vent_guard_free_area(1, 0)));
}
END_TEST

START_TEST(the_factor_leaves_the_plain_end_alone)
{
    const vent_termination all[] = {vent_open_end(),
                                    vent_end_elbow(1.5, 1, NULL),
                                    vent_end_tee(),
                                    vent_end_guard(1e-3, 5e-3, NULL),
                                    vent_rain_cap(0.5, NULL),
                                    vent_end_return(1.5, NULL),
                                    vent_end_dome(1e-3, 5e-3, 2, NULL),
                                    vent_end_cone(1.5, 0.2, NULL),
                                    vent_drain_stack(1.3, NULL)};
    for (size_t i = 0; i < sizeof all / sizeof *all; ++i)
        for (int reversed = -1; reversed <= 1; reversed += 2) {
            vent_termination changed = all[i];
            double plain = value(vent_open_end(), reversed * 5e4);
            double added = value(all[i], reversed * 5e4) - plain;
            changed.factor = 3;
            ck_assert_double_eq_tol(value(changed, reversed * 5e4), plain + 3 * added, 1e-14);
            changed.factor = 0;
            ck_assert_double_eq_tol(value(changed, reversed * 5e4), plain, 1e-15);
        }
}
END_TEST

/* ---- blocked -------------------------------------------------------------------------------- */

static vent_termination at_random(int family, random_states *r)
{
    vent_termination termination = {.family = family, .factor = 1};
    for (int i = 0; i < vent_termination_parameter_count(family); ++i) {
        vent_parameter_range p;
        ck_assert(vent_termination_parameter(family, i, &p));
        termination.geometry[i] = p.unit[0] == 'm'
                                      ? random_decades(r, i ? 2e-3 : 1e-4, i ? 3e-2 : 3e-3)
                                      : random_between(r, p.low, p.high);
    }
    return termination;
}

START_TEST(a_clean_end_is_the_same_and_each_leaf_costs)
{
    random_states r = {0};
    for (int n = 0; n < 900; ++n) {
        int family = 1 + n % vent_termination_family_count();
        vent_termination clean = at_random(family, &r);
        vent_termination same = vent_termination_blocked(clean, 1, NULL);
        ck_assert_int_eq(memcmp(&clean, &same, sizeof clean), 0);
        for (int reversed = 0; reversed <= 1; ++reversed) {
            double reynolds = reversed ? -5e4 : 5e4, last = value(clean, reynolds);
            vent_termination nearly = vent_termination_blocked(clean, 1 - 1e-9, NULL);
            ck_assert_double_eq_tol(value(nearly, reynolds), last, 1e-7 * (1 + last));
            for (double free_area = 0.99; free_area >= 0.05; free_area -= 0.01) {
                vent_termination blocked = vent_termination_blocked(clean, free_area, NULL);
                vent_coefficient list[6];
                vent_pipe pipe = {.width = 0.1, .depth = 0.1};
                int count = vent_termination_alternatives(blocked, pipe, reynolds, 6, list, NULL);
                ck_assert_int_ge(count, 1);
                double k = list[0].value;
                ck_assert_double_gt(k, last);
                ck_assert_double_gt(list[0].uncertainty, 0);
                last = k;
            }
        }
    }
}
END_TEST

/* Every source rises with the blockage; only the first is compared above. */
START_TEST(each_leaf_costs_by_every_source)
{
    vent_pipe pipe = {.width = 0.1, .depth = 0.1};
    random_states r = {0};
    for (int n = 0; n < 180; ++n) {
        int family = 1 + n % vent_termination_family_count();
        vent_termination clean = at_random(family, &r);
        double reynolds = n % 2 ? 5e4 : -5e4, last[6] = {0};
        for (double free_area = 0.99; free_area >= 0.05; free_area -= 0.01) {
            vent_termination blocked = vent_termination_blocked(clean, free_area, NULL);
            vent_coefficient list[6];
            int count = vent_termination_alternatives(blocked, pipe, reynolds, 6, list, NULL);
            for (int i = 0; i < count; ++i) {
                ck_assert_double_gt(list[i].value, last[i]);
                last[i] = list[i].value;
            }
        }
    }
}
END_TEST

START_TEST(a_blocked_end_names_its_sources)
{
    vent_termination half = vent_termination_blocked(vent_open_end(), 0.5, NULL);
    vent_coefficient c = vent__termination_state(&half, 0.1, 5e4, 0.02);
    ck_assert_int_eq(c.source, VENT__SOURCE_RENNELS_ORIFICE_EXIT);
    ck_assert_double_eq_tol(c.uncertainty,
                            hypot(0.05, hypot(0.3 * (c.value - 1), (c.value - 9) / 2)), 1e-2);
    ck_assert_int_eq(vent__termination_end_source(&half, false), VENT__SOURCE_RENNELS_ORIFICE_EXIT);
    ck_assert_int_eq(vent__termination_end_source(&half, true), VENT__SOURCE_ORIFICE_ENTRY);
    vent_termination clean = vent_termination_blocked(half, 1, NULL);
    ck_assert_int_eq(vent__termination_end_source(&clean, false), VENT__SOURCE_EXIT);
    vent_parameter_range range;
    ck_assert(vent_termination_parameter(VENT_TERMINATION_TEE, VENT_TERMINATION_BLOCKED, &range));
    ck_assert_str_eq(range.name, "blocked");
    ck_assert_double_eq(range.high, 0.95);
    ck_assert(!vent_termination_parameter(VENT_TERMINATION_NONE, VENT_TERMINATION_BLOCKED, &range));
}
END_TEST

START_TEST(vertical_rain_falls_into_what_looks_up)
{
    ck_assert_double_eq(vent_termination_rain_openness(vent_open_end()), 1);
    ck_assert_double_eq(vent_termination_rain_openness(vent_drain_stack(1.3, NULL)), 1);
    ck_assert_double_eq(vent_termination_rain_openness(vent_end_tee()), 0);
    ck_assert_double_eq(vent_termination_rain_openness(vent_rain_cap(0.5, NULL)), 0);
    ck_assert_double_eq(vent_termination_rain_openness(vent_end_return(1, NULL)), 0);
    ck_assert_double_eq(vent_termination_rain_openness(vent_end_elbow(0, 1, NULL)), 1);
    ck_assert_double_eq_tol(vent_termination_rain_openness(vent_end_elbow(VENT_PI / 3, 1, NULL)),
                            0.5, 1e-15);
    ck_assert_double_eq_tol(vent_termination_rain_openness(vent_end_elbow(VENT_PI / 2, 1, NULL)), 0,
                            1e-15);
    ck_assert_double_eq(vent_termination_rain_openness(vent_end_elbow(2, 1, NULL)), 0);
    ck_assert_double_eq(vent_termination_rain_openness(vent_end_guard(1e-3, 1e-3, NULL)), 0.25);
    ck_assert_double_eq(vent_termination_rain_openness(vent_end_dome(1e-3, 1e-3, 2, NULL)), 0.25);
    ck_assert_double_eq(vent_termination_rain_openness(vent_end_cone(2, 0.2, NULL)), 4);
    vent_termination nest = vent_termination_blocked(vent_open_end(), 0.25, NULL);
    ck_assert_double_eq(vent_termination_rain_openness(nest), 0.25);
    ck_assert(isnan(vent_termination_rain_openness((vent_termination){0})));
}
END_TEST

/* ---- where the air goes --------------------------------------------------------------------- */

START_TEST(streams_carry_all_the_air_along_unit_vectors)
{
    random_states r = {0};
    for (int n = 0; n < 6000; ++n) {
        int family =
            VENT_TERMINATION_NONE + 1 + n % (VENT_TERMINATION_END - VENT_TERMINATION_NONE - 1);
        vent_stream streams[8];
        vent_termination termination = at_random(family, &r);
        if (n % 2)
            termination.geometry[VENT_TERMINATION_BLOCKED] = random_between(&r, 0, 0.95);
        int count = vent_termination_streams(termination, streams);
        double share = 0;
        ck_assert(count >= 1 && count <= 8);
        for (int i = 0; i < count; ++i) {
            const double *d = streams[i].direction;
            ck_assert_double_eq_tol(d[0] * d[0] + d[1] * d[1] + d[2] * d[2], 1, 1e-14);
            ck_assert(streams[i].share > 0 && streams[i].area_ratio > 0);
            share += streams[i].share;
        }
        ck_assert_double_eq_tol(share, 1, 1e-15);
    }
}
END_TEST

static const struct {
    double angle;
    bool upward;
} elbows[] = {{0, true}, {30, true}, {45, true}, {45.001, false}, {90, false}, {180, false}};

START_TEST(forty_five_degrees_still_count_as_upward)
{
    double angle = VENT_RADIANS(elbows[_i].angle);
    vent_termination elbow = vent_end_elbow(angle, 1.5, NULL);
    vent_stream streams[8];
    ck_assert_int_eq(vent_termination_streams(elbow, streams), 1);
    ck_assert_double_eq(streams[0].direction[0], sin(angle));
    ck_assert_double_eq(streams[0].direction[2], cos(angle));
    ck_assert(vent_termination_is_upward(elbow) == elbows[_i].upward);
}
END_TEST

START_TEST(each_termination_sends_the_air_its_own_way)
{
    vent_stream s[8];
    ck_assert(vent_termination_is_upward(vent_open_end()));
    ck_assert(vent_termination_is_upward(vent_end_guard(1e-3, 1e-2, NULL)));
    ck_assert(!vent_termination_is_upward(vent_end_tee()));
    ck_assert_int_eq(vent_termination_streams(vent_end_tee(), s), 2);
    ck_assert_double_eq(s[0].direction[0], 1);
    ck_assert_double_eq(s[1].direction[0], -1);
    ck_assert_double_eq(s[0].share / s[0].area_ratio, 0.5);
    ck_assert(!vent_termination_is_upward(vent_end_return(1.5, NULL)));
    ck_assert_int_eq(vent_termination_streams(vent_end_return(1.5, NULL), s), 1);
    ck_assert_double_eq(s[0].direction[2], -1);
    /* under a cap the cylinder's area is 4 x gap ratio times the pipe's */
    ck_assert(!vent_termination_is_upward(vent_rain_cap(0.5, NULL)));
    ck_assert_int_eq(vent_termination_streams(vent_rain_cap(0.5, NULL), s), 8);
    for (int i = 0; i < 8; ++i) {
        ck_assert_double_eq(s[i].direction[2], 0);
        ck_assert_double_eq_tol(s[i].share / s[i].area_ratio, 1 / (4 * 0.5), 1e-15);
    }
    /* a wider mouth, and a nest in the pipe */
    ck_assert(vent_termination_is_upward(vent_end_dome(1e-3, 1e-2, 2, NULL)));
    ck_assert(vent_termination_is_upward(vent_drain_stack(1.3, NULL)));
    ck_assert(vent_termination_is_upward(vent_end_cone(2, 0.2, NULL)));
    ck_assert_int_eq(vent_termination_streams(vent_end_cone(2, 0.2, NULL), s), 1);
    ck_assert_double_eq(s[0].area_ratio, 4);
    ck_assert_int_eq(
        vent_termination_streams(vent_termination_blocked(vent_end_tee(), 0.25, NULL), s), 2);
    ck_assert_double_eq(s[1].share / s[1].area_ratio, 2);
    ck_assert_int_eq(vent_termination_streams((vent_termination){0}, s), 0);
    ck_assert_int_eq(vent_termination_streams(vent_open_end(), NULL), 0);
    ck_assert(!vent_termination_is_upward((vent_termination){0}));
}
END_TEST

/* ---- tables and properties ------------------------------------------------------------------ */

START_TEST(every_family_is_complete)
{
    random_states r = {0};
    for (int family = VENT_TERMINATION_NONE + 1; family < VENT_TERMINATION_END; ++family) {
        ck_assert_str_ne(vent_termination_name(family), "unknown");
        for (int i = 0; i < vent_termination_parameter_count(family); ++i) {
            vent_parameter_range p;
            ck_assert(vent_termination_parameter(family, i, &p));
            ck_assert(p.name[0] && p.unit);
            ck_assert(p.low <= p.source_low && p.source_low < p.source_high &&
                      p.source_high <= p.high);
        }
        vent_termination termination = at_random(family, &r);
        for (int reversed = -1; reversed <= 1; reversed += 2) {
            vent_coefficient c = vent__termination_state(&termination, 0.1, reversed * 5e4, 0.02);
            vent_source source;
            ck_assert(vent_source_find(c.source, &source));
            ck_assert(c.uncertainty >= 0.05);
        }
    }
    ck_assert_str_eq(vent_termination_name(VENT_TERMINATION_NONE), "unknown");
    ck_assert_str_eq(vent_termination_name(VENT_TERMINATION_END), "unknown");
    ck_assert_int_eq(vent_termination_parameter_count(-1), 0);
    ck_assert(!vent_termination_parameter(VENT_TERMINATION_OPEN_END, 0, NULL));
}
END_TEST

START_TEST(coefficients_are_finite_continuous_and_one_with_the_law)
{
    random_states r = {0};
    for (int n = 0; n < 12000; ++n) {
        int family =
            VENT_TERMINATION_NONE + 1 + n % (VENT_TERMINATION_END - VENT_TERMINATION_NONE - 1);
        vent_termination t = at_random(family, &r);
        if (n % 2)
            t.geometry[VENT_TERMINATION_BLOCKED] = random_between(&r, 1e-3, 0.95);
        double bore = random_decades(&r, 0.02, 0.3), reynolds = random_decades(&r, 1, 1e7);
        vent__loss loss[2];
        vent__termination_loss(&t, bore, &loss[0], &loss[1]);
        for (int reversed = 0; reversed < 2; ++reversed) {
            double signed_reynolds = reversed ? -reynolds : reynolds;
            double k = loss[reversed].k0 + loss[reversed].k1 / reynolds + loss[reversed].kf * 0.03;
            vent_coefficient c = vent__termination_state(&t, bore, signed_reynolds, 0.03);
            ck_assert_double_eq_tol(c.value, k, 1e-14 * k);
            /* only a cone gives back */
            double least = family == VENT_TERMINATION_CONE ? 0 : (reversed ? 0.57 : 1);
            ck_assert(isfinite(k) && k >= least && c.uncertainty >= 0.05);
            for (int i = 0; i < 6; ++i) {
                vent_termination near = t;
                near.geometry[i] *= 1 - 1e-7;
                double moved = vent__termination_state(&near, bore, signed_reynolds, 0.03).value;
                ck_assert_double_eq_tol(moved, k, 1e-5 * k);
            }
        }
    }
}
END_TEST

static double half_spread(vent_termination termination, double reynolds)
{
    vent_pipe pipe = {.width = 0.1, .depth = 0.1};
    vent_coefficient list[6];
    int count = vent_termination_alternatives(termination, pipe, reynolds, 6, list, NULL);
    double low = INFINITE, high = 0;
    for (int i = 0; i < count; ++i) {
        low = fmin(low, list[i].value);
        high = fmax(high, list[i].value);
    }
    return (high - low) / 2;
}

/* What the comments of termination.h promise, on what is above the exit's own. */
START_TEST(the_uncertainty_is_the_one_told)
{
    const struct {
        vent_termination termination;
        double relative;
    } told[] = {{vent_open_end(), 0},
                {vent_end_tee(), 0.3},
                {vent_end_elbow(VENT_RADIANS(90), 1.5, NULL), 0.6},
                {vent_end_elbow(VENT_RADIANS(45), 1, NULL), 0.6},
                {vent_end_return(1, NULL), 0.6},
                {vent_end_guard(1e-3, 1e-3, NULL), 0.15},
                {vent_end_dome(1e-3, 1e-3, 2, NULL), 0.15},
                {vent_drain_stack(1.3, NULL), 0},
                {vent_termination_blocked(vent_open_end(), 0.3, NULL), 0.3},
                {vent_rain_cap(0.5, NULL), 0.3}};
    vent_pipe pipe = {.width = 0.1, .depth = 0.1};
    for (size_t i = 0; i < sizeof told / sizeof *told; ++i) {
        vent_coefficient c = vent_termination_coefficient(told[i].termination, pipe, 5e4, NULL);
        double spread = half_spread(told[i].termination, 5e4);
        ck_assert_double_eq_tol(c.uncertainty,
                                hypot(0.05, hypot(told[i].relative * (c.value - 1), spread)),
                                1e-13 * c.value);
    }
    vent_termination cone = vent_end_cone(2, VENT_RADIANS(10), NULL);
    double u = vent_termination_coefficient(cone, pipe, 5e4, NULL).uncertainty;
    ck_assert_double_eq_tol(u, hypot(0.05, hypot(0.15 * (1 - 1.0 / 16), half_spread(cone, 5e4))),
                            1e-13);
}
END_TEST

START_TEST(what_leaves_the_source_is_flagged)
{
    vent_pipe pipe = {.width = 0.1, .depth = 0.1};
    /* wire Reynolds number: 1 mm of 100 mm, one hundredth */
    vent_termination guard = vent_end_guard(1e-3, 5e-3, NULL);
    ck_assert_uint_eq(vent_termination_coefficient(guard, pipe, 5100, NULL).flags, 0);
    ck_assert_uint_eq(vent_termination_coefficient(guard, pipe, 4900, NULL).flags,
                      VENT_COEFFICIENT_REYNOLDS_OUTSIDE);
    vent_termination low = vent_rain_cap(0.42, NULL);
    ck_assert_uint_eq(vent_termination_coefficient(low, pipe, 5e4, NULL).flags,
                      VENT_COEFFICIENT_GEOMETRY_OUTSIDE);
    ck_assert_uint_eq(vent_termination_coefficient(vent_open_end(), pipe, 3e3, NULL).flags,
                      VENT_COEFFICIENT_REYNOLDS_OUTSIDE);
}
END_TEST

/* ---- bad input ------------------------------------------------------------------------------ */

#define REFUSED(call, name, bad)                                                                   \
    do {                                                                                           \
        vent_error err = VENT_NO_ERROR;                                                            \
        vent_termination made = call;                                                              \
        ck_assert_int_eq(err.status, VENT_E_ARGUMENT);                                             \
        ck_assert_str_eq(err.argument, name);                                                      \
        ck_assert(err.value == (bad) || (isnan(err.value) && isnan(bad)));                         \
        ck_assert_int_eq(made.family, VENT_TERMINATION_NONE);                                      \
        ck_assert(isnan(made.factor));                                                             \
    } while (0)

START_TEST(bad_geometry_is_refused_by_name)
{
    const double never[] = {-1, -1e-9, 1e9, INFINITE, -INFINITE, NOT_A_NUMBER};
    for (size_t i = 0; i < sizeof never / sizeof *never; ++i) {
        double x = never[i];
        REFUSED(vent_end_elbow(x, 1.5, &err), "angle", x);
        REFUSED(vent_end_elbow(1, x, &err), "radius_ratio", x);
        REFUSED(vent_end_guard(x, 0.01, &err), "wire", x);
        REFUSED(vent_end_guard(1e-3, x, &err), "opening", x);
        REFUSED(vent_rain_cap(x, &err), "gap_ratio", x);
        REFUSED(vent_end_return(x, &err), "radius_ratio", x);
        REFUSED(vent_end_dome(x, 0.01, 2, &err), "wire", x);
        REFUSED(vent_end_dome(1e-3, x, 2, &err), "opening", x);
        REFUSED(vent_end_dome(1e-3, 0.01, x, &err), "area_ratio", x);
        REFUSED(vent_end_cone(x, 0.2, &err), "bore_ratio", x);
        REFUSED(vent_end_cone(1.5, x, &err), "cone_angle", x);
        REFUSED(vent_drain_stack(x, &err), "bore_ratio", x);
        REFUSED(vent_termination_blocked(vent_open_end(), x, &err), "free_area", x);
        REFUSED(vent_termination_iced(vent_end_guard(1e-3, 0.01, NULL), x, &err), "thickness", x);
    }
    REFUSED(vent_termination_blocked(vent_open_end(), 0, &err), "free_area", 0.0);
    REFUSED(vent_termination_blocked(vent_open_end(), 1.01, &err), "free_area", 1.01);
    REFUSED(vent_termination_blocked((vent_termination){0}, 0.5, &err), "termination", 0.0);
    REFUSED(vent_termination_iced(vent_open_end(), 1e-3, &err), "termination",
            (double)VENT_TERMINATION_OPEN_END);
    REFUSED(vent_termination_iced(vent_end_guard(1e-3, 2e-3, NULL), 2e-3, &err), "opening", -2e-3);
    REFUSED(vent_end_elbow(400, 1.5, &err), "angle", 400.0);
    REFUSED(vent_end_elbow(1, 0, &err), "radius_ratio", 0.0);
    REFUSED(vent_end_guard(1e-3, 0, &err), "opening", 0.0);
    REFUSED(vent_end_guard(1e-3, 2e-4, &err), "opening", 2e-4); /* 3 % free */
    REFUSED(vent_rain_cap(0, &err), "gap_ratio", 0.0);
}
END_TEST

START_TEST(a_coefficient_needs_a_real_termination)
{
    vent_pipe pipe = {.width = 0.1, .depth = 0.1};
    vent_termination broken[] = {
        {0},
        {.family = VENT_TERMINATION_END, .factor = 1},
        {.family = VENT_TERMINATION_OPEN_END, .factor = NOT_A_NUMBER},
        {.family = VENT_TERMINATION_RAIN_CAP, .geometry = {NOT_A_NUMBER}, .factor = 1},
        {.family = VENT_TERMINATION_GUARD, .geometry = {0.02, 1e-5}, .factor = 1},
        {.family = VENT_TERMINATION_OPEN_END, .geometry = {[5] = 0.951}, .factor = 1},
        {.family = VENT_TERMINATION_TEE, .geometry = {[5] = -0.1}, .factor = 1},
        {.family = VENT_TERMINATION_TEE, .geometry = {[5] = NOT_A_NUMBER}, .factor = 1},
    };
    const char *argument[] = {"termination", "termination", "factor",  "gap_ratio",
                              "opening",     "blocked",     "blocked", "blocked"};
    for (size_t i = 0; i < sizeof broken / sizeof *broken; ++i) {
        vent_error err = VENT_NO_ERROR;
        vent_coefficient c = vent_termination_coefficient(broken[i], pipe, 5e4, &err);
        ck_assert(isnan(c.value) && isnan(c.uncertainty) && c.source == 0 && c.flags == 0);
        ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
        ck_assert_str_eq(err.argument, argument[i]);
        /* an earlier failure stays */
        ck_assert_int_eq(vent_rain_cap(0.5, &err).family, VENT_TERMINATION_NONE);
        ck_assert_str_eq(err.argument, argument[i]);
    }
    vent_error err = VENT_NO_ERROR;
    ck_assert(isnan(vent_termination_coefficient(vent_open_end(), pipe, 0, &err).value));
    ck_assert_str_eq(err.argument, "reynolds");
}
END_TEST

Suite *termination_suite(void)
{
    Suite *suite = suite_create("termination");
    TCase *published = tcase_create("published");
    tcase_add_test(published, formulas_give_what_their_authors_print);
    tcase_add_test(published, published_values_lie_where_the_uncertainty_says);
    suite_add_tcase(suite, published);
    TCase *limits = tcase_create("limits");
    tcase_add_test(limits, an_open_end_loses_the_velocity_pressure);
    tcase_add_test(limits, a_bend_at_the_end_adds_its_own_coefficient);
    tcase_add_test(limits, a_tee_at_the_end_is_a_dividing_tee_and_two_ends);
    tcase_add_test(limits, the_less_is_free_the_more_a_guard_costs);
    tcase_add_test(limits, a_slow_wire_costs_more);
    tcase_add_test(limits, a_dome_passes_the_air_more_slowly);
    tcase_add_test(limits, a_cone_saves_and_a_step_of_none_is_the_open_end);
    tcase_add_test(limits, ice_makes_thicker_wires_and_narrower_openings);
    tcase_add_test(limits, the_lower_a_cap_the_more_it_costs);
    tcase_add_test(limits, free_area_is_that_of_a_square_mesh);
    tcase_add_test(limits, the_factor_leaves_the_plain_end_alone);
    suite_add_tcase(suite, limits);
    TCase *blocked = tcase_create("blocked");
    tcase_add_test(blocked, a_clean_end_is_the_same_and_each_leaf_costs);
    tcase_add_test(blocked, each_leaf_costs_by_every_source);
    tcase_add_test(blocked, a_blocked_end_names_its_sources);
    tcase_add_test(blocked, vertical_rain_falls_into_what_looks_up);
    suite_add_tcase(suite, blocked);
    TCase *streams = tcase_create("where the air goes");
    tcase_add_test(streams, streams_carry_all_the_air_along_unit_vectors);
    tcase_add_loop_test(streams, forty_five_degrees_still_count_as_upward, 0,
                        sizeof elbows / sizeof *elbows);
    tcase_add_test(streams, each_termination_sends_the_air_its_own_way);
    suite_add_tcase(suite, streams);
    TCase *tables = tcase_create("tables and properties");
    tcase_add_test(tables, every_family_is_complete);
    tcase_add_test(tables, coefficients_are_finite_continuous_and_one_with_the_law);
    tcase_add_test(tables, the_uncertainty_is_the_one_told);
    tcase_add_test(tables, what_leaves_the_source_is_flagged);
    suite_add_tcase(suite, tables);
    TCase *bad = tcase_create("bad input");
    tcase_add_test(bad, bad_geometry_is_refused_by_name);
    tcase_add_test(bad, a_coefficient_needs_a_real_termination);
    suite_add_tcase(suite, bad);
    return suite;
}
