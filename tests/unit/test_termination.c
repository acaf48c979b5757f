/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Terminations: published values, limits, where the air goes, ranges, bad input. */
#include "base/source_list.h"
#include "csv.h"
#include "physics/formulas.h"
#include "random.h"
#include "suites.h"

#include <string.h>
#include <ventstack/bend.h>
#include <ventstack/units.h>

static const double NOT_A_NUMBER = (double)NAN, INFINITE = (double)INFINITY;

/* ---- published ------------------------------------------------------------------------------ */

static vent_termination read_termination(const csv *table, vent_error *err)
{
    const char *family = csv_text(table, "family");
    if (strcmp(family, "elbow") == 0)
        return vent_end_elbow(VENT_RADIANS(csv_number(table, "angle")), csv_number(table, "ratio"),
                              err);
    if (strcmp(family, "guard") == 0)
        return vent_end_guard(csv_number(table, "wire"), csv_number(table, "opening"), err);
    ck_assert_str_eq(family, "rain cap");
    return vent_rain_cap(csv_number(table, "gap"), err);
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
        double apart = csv_number(table, "k") - c.value, band = 2 * c.uncertainty;
        const char *expected = csv_text(table, "expect");
        const char *found = apart > band ? "higher" : apart < -band ? "lower" : "agree";
        ck_assert_msg(strcmp(found, expected) == 0, "%s: %s, not %s: ours %.4g +- %.2g",
                      csv_where(table), found, expected, c.value, c.uncertainty);
        ck_assert_msg((strcmp(found, "agree") == 0) == !csv_has(table, "note"), "%s: reason",
                      csv_where(table));
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
    const vent_termination all[] = {vent_open_end(),          vent_end_elbow(1.5, 1, NULL),
                                    vent_end_tee(),           vent_end_guard(1e-3, 5e-3, NULL),
                                    vent_rain_cap(0.5, NULL), vent_end_return(1.5, NULL)};
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

/* ---- where the air goes --------------------------------------------------------------------- */

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

START_TEST(streams_carry_all_the_air_along_unit_vectors)
{
    random_states r = {0};
    for (int n = 0; n < 6000; ++n) {
        int family =
            VENT_TERMINATION_NONE + 1 + n % (VENT_TERMINATION_END - VENT_TERMINATION_NONE - 1);
        vent_stream streams[8];
        int count = vent_termination_streams(at_random(family, &r), streams);
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
        double bore = random_decades(&r, 0.02, 0.3), reynolds = random_decades(&r, 1, 1e7);
        vent__loss loss[2];
        vent__termination_loss(&t, bore, &loss[0], &loss[1]);
        for (int reversed = 0; reversed < 2; ++reversed) {
            double signed_reynolds = reversed ? -reynolds : reynolds;
            double k = loss[reversed].k0 + loss[reversed].k1 / reynolds + loss[reversed].kf * 0.03;
            vent_coefficient c = vent__termination_state(&t, bore, signed_reynolds, 0.03);
            ck_assert_double_eq_tol(c.value, k, 1e-14 * k);
            ck_assert(isfinite(k) && k >= (reversed ? 0.57 : 1) && c.uncertainty >= 0.05);
            for (int i = 0; i < vent_termination_parameter_count(family); ++i) {
                vent_termination near = t;
                near.geometry[i] *= 1 + 1e-7;
                double moved = vent__termination_state(&near, bore, signed_reynolds, 0.03).value;
                ck_assert_double_eq_tol(moved, k, 1e-5 * k);
            }
        }
    }
}
END_TEST

/* What the comments of termination.h promise, on what is above the exit's own. */
START_TEST(the_uncertainty_is_the_one_told)
{
    const struct {
        vent_termination termination;
        double relative;
    } told[] = {{vent_open_end(), 0},
                {vent_end_tee(), 0.3},
                {vent_end_guard(1e-3, 1e-3, NULL), 0.2},
                {vent_rain_cap(0.5, NULL), 0.3}};
    for (size_t i = 0; i < sizeof told / sizeof *told; ++i) {
        vent_coefficient c = vent__termination_state(&told[i].termination, 0.1, 5e4, 0.02);
        ck_assert_double_eq_tol(c.uncertainty, hypot(0.05, told[i].relative * (c.value - 1)),
                                1e-14);
    }
    vent_termination elbow = vent_end_elbow(VENT_RADIANS(90), 1.5, NULL);
    vent_coefficient c = vent__termination_state(&elbow, 0.1, 5e4, 0.02);
    ck_assert(c.uncertainty > 0.6 * (c.value - 1) && c.uncertainty < 0.7 * (c.value - 1));
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
    }
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
    };
    const char *argument[] = {"termination", "termination", "factor", "gap_ratio", "opening"};
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
    tcase_add_test(published, published_values_lie_where_the_uncertainty_says);
    suite_add_tcase(suite, published);
    TCase *limits = tcase_create("limits");
    tcase_add_test(limits, an_open_end_loses_the_velocity_pressure);
    tcase_add_test(limits, a_bend_at_the_end_adds_its_own_coefficient);
    tcase_add_test(limits, a_tee_at_the_end_is_a_dividing_tee_and_two_ends);
    tcase_add_test(limits, the_less_is_free_the_more_a_guard_costs);
    tcase_add_test(limits, a_slow_wire_costs_more);
    tcase_add_test(limits, the_lower_a_cap_the_more_it_costs);
    tcase_add_test(limits, free_area_is_that_of_a_square_mesh);
    tcase_add_test(limits, the_factor_leaves_the_plain_end_alone);
    suite_add_tcase(suite, limits);
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
