/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Screens and perforated plates: formulas, published values, limits, slopes, bad input. */
#include "base/source_list.h"
#include "csv.h"
#include "physics/formulas.h"
#include "published.h"
#include "random.h"
#include "suites.h"

#include <string.h>
#include <ventstack/screen.h>
#include <ventstack/termination.h>
#include <ventstack/units.h>

static const double NOT_A_NUMBER = (double)NAN, INFINITE = (double)INFINITY;

static double by_solver(const vent_fitting *fitting, double bore, double reynolds, double f)
{
    vent__loss along, against;
    vent__fitting_loss(fitting, bore, &along, &against);
    const vent__loss *loss = reynolds < 0 ? &against : &along;
    return loss->k0 + loss->k1 / fabs(reynolds) + loss->kf * f +
           vent__fitting_extra(fitting, bore, reynolds).value;
}

/* ---- published ------------------------------------------------------------------------------ */

static vent_fitting read_fitting(const csv *table, const char *family, vent_error *err)
{
    if (csv_has(table, "wire"))
        return vent_screen(csv_number(table, "wire"), csv_number(table, "opening"), err);
    double free_area = csv_number(table, "free_area");
    if (strncmp(family, "square", 6) == 0)
        return vent_square_screen(free_area, err);
    ck_assert_int_eq(strncmp(family, "plate", 5), 0);
    return vent_perforated_plate(free_area, csv_number(table, "hole"),
                                 csv_number(table, "thickness"), err);
}

static const struct {
    const char *formula;
    int source;
} sources[] = {{"idelchik", VENT__SOURCE_IDELCHIK_SCREEN},
               {"blevins", VENT__SOURCE_BLEVINS_SCREEN},
               {"brundrett", VENT__SOURCE_BRUNDRETT_SCREEN},
               {"wieghardt", VENT__SOURCE_WIEGHARDT_SCREEN},
               {"square_idelchik", VENT__SOURCE_IDELCHIK_THIN_PLATE},
               {"square_blevins", VENT__SOURCE_BLEVINS_SQUARE},
               {"square_rennels", VENT__SOURCE_RENNELS_ORIFICE},
               {"plate_idelchik", VENT__SOURCE_IDELCHIK_THICK_EDGE}};

static int source_of(const char *formula)
{
    for (size_t i = 0; i < sizeof sources / sizeof *sources; ++i)
        if (strcmp(sources[i].formula, formula) == 0)
            return sources[i].source;
    ck_abort_msg("no formula %s", formula);
}

START_TEST(formulas_give_what_their_authors_print)
{
    csv *table = csv_open("screens_formulas.csv");
    while (csv_next(table)) {
        vent_error err = VENT_NO_ERROR;
        const char *formula = csv_text(table, "formula");
        vent_fitting fitting =
            vent_fitting_by_source(read_fitting(table, formula, &err), source_of(formula), &err);
        ck_assert_msg(err.status == VENT_OK, "%s: %s", csv_where(table), err.message);
        double bore = csv_number(table, "bore"), reynolds = csv_number(table, "reynolds");
        double friction = csv_number(table, "friction");
        vent_coefficient c = vent__fitting_state(&fitting, bore, reynolds, friction);
        csv_expect(table, "k", c.value, csv_number(table, "relative"), 1e-14);
        ck_assert_int_eq(c.source, source_of(formula));
        ck_assert_double_eq_tol(by_solver(&fitting, bore, -reynolds, friction), c.value,
                                1e-14 * c.value + 1e-18);
    }
    csv_close(table);
}
END_TEST

START_TEST(published_values_lie_where_the_uncertainty_says)
{
    csv *table = csv_open("screens_published.csv");
    while (csv_next(table)) {
        vent_error err = VENT_NO_ERROR;
        vent_fitting fitting = read_fitting(table, csv_text(table, "family"), &err);
        ck_assert_msg(err.status == VENT_OK, "%s: %s", csv_where(table), err.message);
        vent_coefficient c =
            vent__fitting_state(&fitting, csv_number(table, "bore"), csv_number(table, "reynolds"),
                                csv_number(table, "friction"));
        expect_place(table, c.value,
                     own_of_fitting(fitting, csv_number(table, "bore"),
                                    csv_number(table, "reynolds"), csv_number(table, "friction")));
    }
    csv_close(table);
}
END_TEST

/* ---- limits --------------------------------------------------------------------------------- */

static double value(vent_fitting fitting, double reynolds)
{
    return vent__fitting_state(&fitting, 0.1, reynolds, 0.02).value;
}

START_TEST(nothing_in_the_way_costs_nothing)
{
    ck_assert_double_eq_tol(value(vent_square_screen(1, NULL), 5e4), 0, 1e-15);
    ck_assert_double_eq_tol(value(vent_perforated_plate(1, 0.01, 0, NULL), 5e4), 0, 1e-15);
    ck_assert_double_lt(value(vent_screen(1e-5, 1, NULL), 5e4), 1e-3);
}
END_TEST

/* Jets through few holes lose all their velocity pressure: about 1/(0.61 f)^2. */
START_TEST(small_free_areas_come_down_to_orifices)
{
    double f = 0.05, jets = 1 / (0.61 * 0.61 * f * f);
    ck_assert_double_eq_tol(value(vent_square_screen(f, NULL), 5e4), jets, 0.05 * jets);
    ck_assert_double_eq_tol(value(vent_perforated_plate(f, 0.01, 0, NULL), 5e4), jets, 0.05 * jets);
}
END_TEST

/* A long hole is an entry and an expansion; friction in it as in a pipe of its bore. */
START_TEST(long_holes_are_short_pipes)
{
    double f = 0.4, k = (0.5 * pow(1 - f, 0.75) + square(1 - f)) / square(f);
    ck_assert_double_eq_tol(value(vent_perforated_plate(f, 0.01, 0.024, NULL), 5e4),
                            k + 0.02 * 2.4 / square(f), 1e-12);
    ck_assert_double_eq_tol(value(vent_perforated_plate(f, 0.01, 0.1, NULL), 5e4),
                            k + 0.02 * 10 / square(f), 1e-12);
    ck_assert_double_lt(value(vent_perforated_plate(f, 0.01, 0.01, NULL), 5e4),
                        value(vent_perforated_plate(f, 0.01, 0, NULL), 5e4));
}
END_TEST

START_TEST(the_less_is_free_the_more_it_costs_by_every_source)
{
    for (int family = VENT_FITTING_SCREEN; family <= VENT_FITTING_PERFORATED_PLATE; ++family)
        for (int i = 0;; ++i) {
            vent_formula formula;
            if (!vent_fitting_formula(family, false, i, &formula))
                break;
            double last = INFINITE;
            for (double f = 0.051; f <= 1; f += 1e-3) {
                double root = sqrt(f), opening = 1e-3 * root / (1 - root);
                vent_fitting fitting = family == VENT_FITTING_SCREEN
                                           ? vent_screen(1e-3, opening, NULL)
                                       : family == VENT_FITTING_SQUARE_SCREEN
                                           ? vent_square_screen(f, NULL)
                                           : vent_perforated_plate(f, 5e-3, 2e-3, NULL);
                if (opening > 1)
                    break;
                double k = value(vent_fitting_by_source(fitting, formula.source, NULL), 2e4);
                ck_assert_msg(k < last, "source %d at %g: %g after %g", formula.source, f, k, last);
                last = k;
            }
        }
}
END_TEST

/* ---- properties ----------------------------------------------------------------------------- */

static vent_fitting at_random(int family, random_states *r)
{
    vent_fitting fitting = {.family = family, .factor = 1};
    if (family == VENT_FITTING_SCREEN) {
        fitting.geometry[0] = random_decades(r, 1e-4, 3e-3);
        fitting.geometry[1] = fitting.geometry[0] * random_decades(r, 0.3, 100);
    } else {
        fitting.geometry[0] = random_between(r, 0.05, 0.999);
        if (family == VENT_FITTING_PERFORATED_PLATE) {
            fitting.geometry[1] = random_decades(r, 1e-3, 0.05);
            fitting.geometry[2] = random_between(r, 0, 4) * fitting.geometry[1];
        }
    }
    return fitting;
}

START_TEST(coefficients_are_finite_continuous_and_one_with_the_law)
{
    random_states r = {0};
    for (int n = 0; n < 9000; ++n) {
        int family = VENT_FITTING_SCREEN + n % 3;
        vent_fitting fitting = at_random(family, &r);
        double bore = random_decades(&r, 0.02, 0.3), reynolds = random_decades(&r, 1, 1e7);
        vent_formula formula;
        for (int i = 0; vent_fitting_formula(family, false, i, &formula); ++i) {
            vent_fitting by = vent_fitting_by_source(fitting, formula.source, NULL);
            vent_coefficient c = vent__fitting_state(&by, bore, reynolds, 0.03);
            ck_assert(isfinite(c.value) && c.value >= 0 && c.uncertainty >= 0);
            ck_assert_double_eq_tol(by_solver(&by, bore, reynolds, 0.03), c.value,
                                    1e-13 * c.value + 1e-18);
            for (int p = 0; p < vent_fitting_parameter_count(family); ++p) {
                vent_fitting near = by;
                near.geometry[p] *= 1 - 1e-8;
                double moved = vent__fitting_state(&near, bore, reynolds, 0.03).value;
                ck_assert_double_eq_tol(moved, c.value, 1e-5 * (c.value + 0.01));
            }
            double moved = vent__fitting_state(&by, bore, reynolds * (1 + 1e-8), 0.03).value;
            ck_assert_double_eq_tol(moved, c.value, 1e-6 * c.value);
        }
    }
}
END_TEST

/* The tables' corners and the ends where values are held have two slopes; they are passed over. */
static bool is_corner(double reynolds)
{
    const double corners[] = {0.1, 20, 30, 40, 60, 80, 100, 200, 400, 1000};
    for (size_t i = 0; i < sizeof corners / sizeof *corners; ++i)
        if (fabs(reynolds / corners[i] - 1) < 1e-3)
            return true;
    return false;
}

START_TEST(slopes_are_those_of_the_values)
{
    random_states r = {0};
    for (int n = 0; n < 3000; ++n) {
        vent_fitting fitting = at_random(VENT_FITTING_SCREEN, &r);
        double bore = 0.1, reynolds = random_decades(&r, 1, 1e6), step = 1e-4 * reynolds;
        double free_area = vent_guard_free_area(fitting.geometry[0], fitting.geometry[1]);
        double own = reynolds * fitting.geometry[0] / bore;
        if (is_corner(own) || is_corner(own / free_area))
            continue;
        vent_formula formula;
        for (int i = 1; vent_fitting_formula(VENT_FITTING_SCREEN, false, i, &formula); ++i) {
            vent_fitting by = vent_fitting_by_source(fitting, formula.source, NULL);
            vent__slope k = vent__fitting_extra(&by, bore, reynolds);
            double difference = (vent__fitting_extra(&by, bore, reynolds + step).value -
                                 vent__fitting_extra(&by, bore, reynolds - step).value) /
                                (2 * step);
            ck_assert_double_eq_tol(k.slope, difference, 1e-6 * k.value / reynolds);
        }
    }
}
END_TEST

START_TEST(what_leaves_the_source_is_flagged)
{
    vent_pipe pipe = {.width = 0.1, .depth = 0.1};
    /* wire of a hundredth of the bore; holes of a tenth, a half of the area: twice as fast */
    vent_fitting screen = vent_screen(1e-3, 5e-3, NULL);
    vent_fitting plate = vent_perforated_plate(0.5, 0.01, 1e-3, NULL);
    ck_assert_uint_eq(vent_fitting_coefficient(screen, pipe, 5100, NULL).flags, 0);
    ck_assert_uint_eq(vent_fitting_coefficient(screen, pipe, -4900, NULL).flags,
                      VENT_COEFFICIENT_REYNOLDS_OUTSIDE);
    ck_assert_uint_eq(vent_fitting_coefficient(plate, pipe, 5100, NULL).flags, 0);
    ck_assert_uint_eq(vent_fitting_coefficient(plate, pipe, 4900, NULL).flags,
                      VENT_COEFFICIENT_REYNOLDS_OUTSIDE);
    ck_assert_uint_eq(
        vent_fitting_coefficient(vent_square_screen(0.97, NULL), pipe, 5e4, NULL).flags,
        VENT_COEFFICIENT_GEOMETRY_OUTSIDE);
}
END_TEST

/* ---- bad input ------------------------------------------------------------------------------ */

#define REFUSED(call, name, bad)                                                                   \
    do {                                                                                           \
        vent_error err = VENT_NO_ERROR;                                                            \
        vent_fitting made = call;                                                                  \
        ck_assert_int_eq(err.status, VENT_E_ARGUMENT);                                             \
        ck_assert_str_eq(err.argument, name);                                                      \
        ck_assert(err.value == (bad) || (isnan(err.value) && isnan(bad)));                         \
        ck_assert_int_eq(made.family, VENT_FITTING_NONE);                                          \
    } while (0)

START_TEST(bad_geometry_is_refused_by_name)
{
    const double never[] = {-1, -1e-9, 1e9, INFINITE, -INFINITE, NOT_A_NUMBER};
    for (size_t i = 0; i < sizeof never / sizeof *never; ++i) {
        double x = never[i];
        REFUSED(vent_screen(x, 0.01, &err), "wire", x);
        REFUSED(vent_screen(1e-3, x, &err), "opening", x);
        REFUSED(vent_square_screen(x, &err), "free_area", x);
        REFUSED(vent_perforated_plate(x, 0.01, 1e-3, &err), "free_area", x);
        REFUSED(vent_perforated_plate(0.5, x, 1e-3, &err), "hole_bore", x);
        REFUSED(vent_perforated_plate(0.5, 0.01, x, &err), "thickness", x);
    }
    REFUSED(vent_screen(1e-3, 2e-4, &err), "opening", 2e-4); /* 3 % free */
    REFUSED(vent_square_screen(0, &err), "free_area", 0.0);
    REFUSED(vent_square_screen(1.001, &err), "free_area", 1.001);
    REFUSED(vent_square_screen(0.049, &err), "free_area", 0.049);
    /* set by hand */
    vent_fitting closed = {.family = VENT_FITTING_SCREEN, .geometry = {0.02, 1e-5}, .factor = 1};
    vent_error err = VENT_NO_ERROR;
    vent_pipe pipe = {.width = 0.1, .depth = 0.1};
    ck_assert(isnan(vent_fitting_coefficient(closed, pipe, 5e4, &err).value));
    ck_assert_str_eq(err.argument, "opening");
}
END_TEST

Suite *screen_suite(void)
{
    Suite *suite = suite_create("screen");
    TCase *published = tcase_create("published");
    tcase_add_test(published, formulas_give_what_their_authors_print);
    tcase_add_test(published, published_values_lie_where_the_uncertainty_says);
    suite_add_tcase(suite, published);
    TCase *limits = tcase_create("limits");
    tcase_add_test(limits, nothing_in_the_way_costs_nothing);
    tcase_add_test(limits, small_free_areas_come_down_to_orifices);
    tcase_add_test(limits, long_holes_are_short_pipes);
    tcase_add_test(limits, the_less_is_free_the_more_it_costs_by_every_source);
    suite_add_tcase(suite, limits);
    TCase *properties = tcase_create("properties");
    tcase_add_test(properties, coefficients_are_finite_continuous_and_one_with_the_law);
    tcase_add_test(properties, slopes_are_those_of_the_values);
    tcase_add_test(properties, what_leaves_the_source_is_flagged);
    suite_add_tcase(suite, properties);
    TCase *bad = tcase_create("bad input");
    tcase_add_test(bad, bad_geometry_is_refused_by_name);
    suite_add_tcase(suite, bad);
    return suite;
}
