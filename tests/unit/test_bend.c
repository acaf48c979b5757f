/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bends and general forms: formulas against their authors, published values, limits, slopes. */
#include "base/source_list.h"
#include "csv.h"
#include "physics/family.h"
#include "physics/formulas.h"
#include "published.h"
#include "random.h"
#include "suites.h"

#include <string.h>
#include <ventstack/bend.h>
#include <ventstack/friction.h>
#include <ventstack/general.h>
#include <ventstack/units.h>

static const double NOT_A_NUMBER = (double)NAN;

static double degrees_of(const csv *table, const char *column)
{
    return csv_has(table, column) ? VENT_RADIANS(csv_number(table, column)) : 0;
}

static double number_or_0(const csv *table, const char *column)
{
    return csv_has(table, column) ? csv_number(table, column) : 0;
}

/* ---- published ------------------------------------------------------------------------------ */

static const struct {
    const char *name;
    vent__loss (*loss)(const double *geometry, double bore);
    vent__slope (*extra)(const double *geometry, double bore, double reynolds);
} formulas[] = {
    {"bend_idelchik", vent__bend_idelchik, vent__bend_idelchik_extra},
    {"bend_ito", NULL, vent__bend_ito_extra},
    {"bend_miller", NULL, vent__bend_miller_extra},
    {"bend_crane", vent__bend_crane, NULL},
    {"mitre_idelchik", vent__mitre_idelchik, vent__mitre_idelchik_extra},
    {"mitre_miller", NULL, vent__mitre_miller_extra},
    {"mitre_blevins", NULL, vent__mitre_blevins_extra},
    {"mitre_crane", vent__mitre_crane, NULL},
};
enum { FORMULAS = sizeof formulas / sizeof *formulas };

START_TEST(formulas_agree_with_their_authors)
{
    int met[FORMULAS] = {0};
    csv *table = csv_open("bends_formulas.csv");
    while (csv_next(table)) {
        int i = 0;
        while (i < FORMULAS && strcmp(formulas[i].name, csv_text(table, "formula")) != 0)
            ++i;
        ck_assert_msg(i < FORMULAS, "%s: no such formula", csv_where(table));
        ++met[i];
        double geometry[] = {degrees_of(table, "angle"), number_or_0(table, "ratio")};
        double bore = csv_number(table, "bore"), reynolds = csv_number(table, "reynolds"), k = 0;
        if (formulas[i].loss) {
            vent__loss loss = formulas[i].loss(geometry, bore);
            k += loss.k0 + loss.k1 / reynolds + loss.kf * csv_number(table, "friction");
        }
        if (formulas[i].extra)
            k += formulas[i].extra(geometry, bore, reynolds).value;
        double relative = csv_number(table, "relative");
        csv_expect(table, "k", k, relative, 0);
        ck_assert_msg((relative > 1e-9) == csv_has(table, "note"), "%s: reason", csv_where(table));
    }
    csv_close(table);
    for (int i = 0; i < FORMULAS; ++i)
        ck_assert_msg(met[i] > 0, "no row checks %s", formulas[i].name);
}
END_TEST

static vent_fitting named(const csv *table, vent_error *err)
{
    const char *family = csv_text(table, "family");
    double angle = degrees_of(table, "angle"), ratio = number_or_0(table, "ratio");
    if (strcmp(family, "elbow") == 0)
        return vent_elbow(angle, ratio, err);
    if (strcmp(family, "segmented elbow") == 0)
        return vent_segmented_elbow(angle, (int)csv_number(table, "joints"), ratio, err);
    if (strcmp(family, "short drain elbow") == 0)
        return vent_drain_elbow(angle, err);
    if (strcmp(family, "close return bend") == 0)
        return vent_close_return();
    if (strcmp(family, "pair of elbows") == 0)
        return vent_elbow_pair(ratio, csv_number(table, "spacing"), degrees_of(table, "twist"),
                               err);
    ck_assert_msg(strcmp(family, "elbow with a short outlet") == 0, "%s", csv_where(table));
    return vent_elbow_outlet(angle, ratio, csv_number(table, "outlet"), err);
}

START_TEST(published_values_lie_where_the_uncertainty_says)
{
    csv *table = csv_open("bends_published.csv");
    while (csv_next(table)) {
        vent_error err = VENT_NO_ERROR;
        vent_fitting fitting = named(table, &err);
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

START_TEST(a_sharp_return_is_flagged_by_the_formula_that_climbs)
{
    const struct {
        double degrees, ratio;
        bool known;
    } cases[] = {{90, 0.6, true}, {91, 0.99, false}, {180, 0.6, false}, {180, 1, true}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; ++i) {
        vent_fitting elbow = vent_elbow(VENT_RADIANS(cases[i].degrees), cases[i].ratio, NULL);
        ck_assert_int_eq(vent__fitting_state(&elbow, 0.1, 1e5, 0.018).flags == 0, cases[i].known);
        vent_fitting other = vent_fitting_by_source(elbow, VENT__SOURCE_MILLER_BEND, NULL);
        ck_assert_uint_eq(vent__fitting_state(&other, 0.1, 1e5, 0.018).flags, 0);
    }
}
END_TEST

/* Miller's worked example: what an outlet leaves of an elbow's loss, in the third decimal. */
START_TEST(a_short_outlet_does_what_miller_works_out)
{
    double with_30 = 0.150;
    const struct {
        double outlet, k;
    } printed[] = {{0, 0.135}, {2, 0.093}};
    for (int i = 0; i < 2; ++i) { /* 2 % of reading curves, on either of two */
        double share = vent__outlet_factor(VENT_PI / 2, 2, printed[i].outlet);
        ck_assert_double_eq_tol(share, printed[i].k / with_30, 0.04);
    }
}
END_TEST

/* ---- limits --------------------------------------------------------------------------------- */

static double at(vent_fitting fitting, double bore, double reynolds)
{
    ck_assert_int_ne(fitting.family, VENT_FITTING_NONE);
    double f = vent_friction_factor(fabs(reynolds), 0);
    return vent__fitting_state(&fitting, bore, reynolds, f).value;
}

START_TEST(what_goes_straight_on_loses_nothing)
{
    ck_assert_double_eq(at(vent_segmented_elbow(0, 3, 1, NULL), 0.1, 5e4), 0);
    ck_assert_double_eq(at(vent_segmented_elbow(0, 1, 1, NULL), 0.1, 5e4), 0);
    ck_assert_double_eq(at(vent_drain_elbow(0, NULL), 0.1, 5e4), 0);
    ck_assert_double_eq(at(vent_elbow_outlet(0, 1, 0, NULL), 0.1, 5e4), 0);
    const double straight[] = {0, 1}, slight[] = {1e-9, 1};
    for (int i = 0; i < FORMULAS; ++i)
        for (int k = 0; k < 2; ++k) {
            const double *geometry = k ? slight : straight;
            double loss = formulas[i].loss ? formulas[i].loss(geometry, 0.1).k0 : 0;
            double extra = formulas[i].extra ? formulas[i].extra(geometry, 0.1, 5e4).value : 0;
            ck_assert_double_le(fabs(loss + extra), 1e-8);
        }
}
END_TEST

START_TEST(far_elbows_do_not_know_of_each_other)
{
    random_states r = {0};
    for (int n = 0; n < 1000; ++n) {
        double ratio = random_between(&r, 0.5, 5), twist = random_between(&r, 0, VENT_PI);
        double reynolds = random_decades(&r, 5e3, 3e5);
        double alone = at(vent_elbow(VENT_PI / 2, ratio, NULL), 0.1, reynolds);
        double spacing = random_between(&r, 30, 100);
        double both = at(vent_elbow_pair(ratio, spacing, twist, NULL), 0.1, reynolds);
        ck_assert_double_eq_tol(both, 2 * alone, 1e-12 * both);
        double behind = at(vent_elbow_outlet(1, ratio, spacing, NULL), 0.1, reynolds);
        ck_assert_double_eq_tol(behind, at(vent_elbow(1, ratio, NULL), 0.1, reynolds),
                                1e-12 * behind);
    }
}
END_TEST

/* Without a spacer two elbows the same way are one of 180 degrees; Miller has both, in two figures
 * that he read from different measurements. It also tells his 180 from his 0 degrees. */
START_TEST(two_elbows_the_same_way_are_a_return)
{
    for (double ratio = 1; ratio <= 3; ratio += 1) {
        double right = vent__bend_miller_base(VENT_PI / 2, ratio);
        double back = vent__bend_miller_base(VENT_PI, ratio) / (2 * right);
        ck_assert_double_eq_tol(vent__pair_factor(ratio, 0, 0), back, 0.1 * back);
        ck_assert_double_ge(vent__pair_factor(ratio, 0, VENT_PI), 1.2 * back);
        ck_assert(vent__pair_factor(ratio, 0, VENT_PI / 2) > vent__pair_factor(ratio, 0, 0));
        ck_assert(vent__pair_factor(ratio, 0, VENT_PI / 2) < vent__pair_factor(ratio, 0, VENT_PI));
    }
}
END_TEST

START_TEST(more_joints_cost_less)
{
    for (double angle = 45; angle <= 90; angle += 15)
        for (double ratio = 0.5; ratio <= 2.5; ratio += 0.5) {
            double last = INFINITY;
            for (int joints = 2; joints <= 5; ++joints) {
                double k =
                    at(vent_segmented_elbow(VENT_RADIANS(angle), joints, ratio, NULL), 0.1, 1e5);
                ck_assert_double_lt(k, last);
                last = k;
            }
            ck_assert_double_gt(last, at(vent_elbow(VENT_RADIANS(angle), ratio, NULL), 0.1, 1e5));
        }
}
END_TEST

START_TEST(one_joint_is_the_mitre)
{
    vent_fitting one = vent_segmented_elbow(1, 1, 1.5, NULL), mitre = vent_mitre(1, NULL);
    ck_assert_mem_eq(&one, &mitre, sizeof one);
}
END_TEST

START_TEST(only_the_outlet_has_a_sense)
{
    for (int family = VENT_FITTING_SEGMENTED; family <= VENT_FITTING_EQUIVALENT_LENGTH; ++family) {
        vent_fitting fitting = {.family = family, .factor = 1};
        for (int i = 0; i < vent_fitting_parameter_count(family); ++i) {
            vent_parameter_range p;
            ck_assert(vent_fitting_parameter(family, i, &p));
            fitting.geometry[i] = p.low + 0.1 * fmin(p.high - p.low, 10);
        }
        double along = at(fitting, 0.1, 5e4), against = at(fitting, 0.1, -5e4);
        ck_assert_msg((along == against) == (family != VENT_FITTING_ELBOW_OUTLET), "%s",
                      vent_fitting_name(family));
    }
    double reversed = at(vent_elbow_outlet(1, 1, 0, NULL), 0.1, -5e4);
    ck_assert_double_eq(reversed, at(vent_elbow(1, 1, NULL), 0.1, 5e4));
}
END_TEST

/* ---- slopes --------------------------------------------------------------------------------- */

/* The slopes of every formula in Re against differences, away from the joints of tables. */
START_TEST(slopes_match_differences)
{
    random_states r = {0};
    int smooth = 0, all = 0;
    for (int n = 0; n < 40000; ++n) {
        int i = n % FORMULAS;
        if (!formulas[i].extra)
            continue;
        double geometry[] = {random_between(&r, 0.01, VENT_PI), random_between(&r, 0.4, 10)};
        double reynolds = random_decades(&r, 10, 1e8), step = 1e-5 * reynolds;
        vent__slope k = formulas[i].extra(geometry, 0.1, reynolds);
        double above = formulas[i].extra(geometry, 0.1, reynolds + step).value;
        double below = formulas[i].extra(geometry, 0.1, reynolds - step).value;
        ck_assert(isfinite(k.value) && k.value >= 0 && isfinite(k.slope) && k.slope <= 0);
        ck_assert_double_le(fabs(above - below), 1e-4 * k.value + 1e-5); /* no jumps */
        double from_right = (above - k.value) / step, from_left = (k.value - below) / step;
        ++all;
        if (fabs(from_right - from_left) * reynolds > 1e-3 * k.value)
            continue; /* a joint lies between */
        ++smooth;
        ck_assert_msg(
            fabs((from_right + from_left) / 2 - k.slope) * reynolds <= 1e-6 * k.value + 1e-9,
            "%s at %.17g, %.17g, Re %.17g", formulas[i].name, geometry[0], geometry[1], reynolds);
    }
    ck_assert(smooth > 0.99 * all);
}
END_TEST

/* The law as the solver sees it, where all authors are inside their ranges and no table has a joint. */
START_TEST(the_solvers_slope_is_that_of_the_coefficient)
{
    static const int sources[] = {VENT__SOURCE_ITO_BEND, VENT__SOURCE_MILLER_BEND,
                                  VENT__SOURCE_IDELCHIK_BEND, VENT__SOURCE_CRANE_BEND, 0};
    random_states r = {0};
    for (int n = 0; n < 1000; ++n) {
        vent_error err = VENT_NO_ERROR;
        vent_fitting elbow = vent_fitting_by_source(
            vent_elbow(random_between(&r, 0.1, 3), random_between(&r, 0.5, 5), &err),
            sources[n % 5], &err);
        ck_assert_int_eq(err.status, VENT_OK);
        double reynolds = random_decades(&r, 1.1e4, 1.9e4), bore = 0.1;
        vent__loss loss, reverse;
        vent__fitting_loss(&elbow, bore, &loss, &reverse);
        vent__slope extra = vent__fitting_extra(&elbow, bore, reynolds);
        double step = 1e-4 * reynolds;
        double above = vent__fitting_extra(&elbow, bore, reynolds + step).value;
        double below = vent__fitting_extra(&elbow, bore, reynolds - step).value;
        ck_assert_double_eq_tol(extra.slope, (above - below) / (2 * step),
                                1e-6 * fabs(extra.slope) + 1e-15);
        double f = vent_friction_factor(reynolds, 0);
        double k = loss.k0 + loss.k1 / reynolds + loss.kf * f + extra.value;
        vent_coefficient told = vent__fitting_state(&elbow, bore, reynolds, f);
        ck_assert_double_eq_tol(told.value, k, 1e-13 * k);
        if (sources[n % 5])
            ck_assert_int_eq(told.source, sources[n % 5]);
    }
}
END_TEST

/* ---- sources -------------------------------------------------------------------------------- */

/* With a Reynolds number in all of them five authors are within a tenth of each other at radius ratio
 * 1, and far apart at 0.5; the uncertainty shows it. */
START_TEST(authors_agree_on_round_elbows_and_not_on_sharp_ones)
{
    vent_pipe pipe = {.shape = VENT_PIPE_ROUND, .width = 0.1, .depth = 0.1};
    double relative[2];
    for (int sharp = 0; sharp < 2; ++sharp) {
        vent_coefficient list[8];
        vent_fitting elbow = vent_elbow(VENT_PI / 2, sharp ? 0.5 : 1, NULL);
        int count = vent_fitting_alternatives(elbow, pipe, 5e4, 8, list, NULL);
        ck_assert_int_eq(count, 5);
        double low = INFINITY, high = 0;
        for (int i = 0; i < count; ++i) {
            low = fmin(low, list[i].value);
            high = fmax(high, list[i].value);
        }
        ck_assert(sharp ? high > 1.5 * low : high < 1.2 * low);
        relative[sharp] = list[0].uncertainty / list[0].value;
    }
    ck_assert(relative[0] < 0.27 && relative[1] > 0.4);
}
END_TEST

START_TEST(drain_elbows_span_what_sources_have)
{
    for (double bore = 3 * VENT_INCH; bore <= 4 * VENT_INCH; bore += VENT_INCH) {
        vent_fitting elbow = vent_drain_elbow(VENT_PI / 2, NULL);
        vent_coefficient c = vent__fitting_state(&elbow, bore, 5e4, vent_friction_factor(5e4, 0));
        ck_assert_double_le(c.value - c.uncertainty, 0.3);
        ck_assert_double_ge(c.value + 2 * c.uncertainty, 1.2);
    }
}
END_TEST

/* ---- general forms -------------------------------------------------------------------------- */

START_TEST(darby_has_his_constants)
{
    csv *table = csv_open("general_darby.csv");
    while (csv_next(table)) {
        double nominal = csv_number(table, "nominal_in") * VENT_INCH;
        vent_error err = VENT_NO_ERROR;
        vent_fitting found =
            vent_fitting_three_constant_find(csv_text(table, "name"), nominal, &err);
        ck_assert_msg(err.status == VENT_OK, "%s: %s", csv_where(table), err.message);
        csv_expect(table, "k1", found.geometry[0], 0, 0);
        csv_expect(table, "ki", found.geometry[1], 0, 0);
        csv_expect(table, "kd", found.geometry[2], 0, 0);
        csv_expect(table, "k", at(found, 0.1, csv_number(table, "reynolds")), 1e-12, 0);
    }
    csv_close(table);
}
END_TEST

START_TEST(hooper_has_his_constants)
{
    csv *table = csv_open("general_hooper.csv");
    while (csv_next(table)) {
        double bore = csv_number(table, "bore_in") * VENT_INCH;
        double reynolds = csv_number(table, "reynolds");
        vent_error err = VENT_NO_ERROR;
        vent_fitting found = vent_fitting_two_constant_find(csv_text(table, "name"), &err);
        ck_assert_msg(err.status == VENT_OK, "%s: %s", csv_where(table), err.message);
        csv_expect(table, "k1", found.geometry[0], 0, 0);
        bool memory = strncmp(csv_text(table, "note"), "value", 5) == 0;
        vent_fitting printed = vent_fitting_two_constant(csv_number(table, "k1"),
                                                         csv_number(table, "k_infinite"), &err);
        if (memory) {
            ck_assert_double_eq(found.geometry[1], 0.60);
            ck_assert_double_eq(printed.geometry[1], 0.70);
        } else
            csv_expect(table, "k_infinite", found.geometry[1], 0, 0);
        csv_expect(table, "k", at(printed, bore, reynolds), 1e-12, 0);
        vent_coefficient c = vent__fitting_state(&found, bore, reynolds, 0.02);
        ck_assert_int_eq(c.source, memory ? VENT__SOURCE_HOOPER_2K_MEMORY : VENT__SOURCE_HOOPER_2K);
    }
    csv_close(table);
}
END_TEST

/* Printed with the fluids package: Darby (950, 0.25, 4) and Hooper (900, 4), (1500, 4) at Re 1e4. */
START_TEST(general_forms_give_the_worked_values)
{
    double bore = 2 * VENT_INCH;
    vent_fitting darby = vent_fitting_three_constant(950, 0.25, 4, 12 * VENT_INCH, NULL);
    ck_assert_double_eq_tol(at(darby, 0.3, 1e4), 0.819510280626355, 1e-14);
    darby = vent_fitting_three_constant(950, 0.25, 4, 2 * VENT_INCH, NULL);
    ck_assert_double_eq_tol(at(darby, 0.05, 1e4), 1.1572523963562353, 1e-14);
    ck_assert_double_eq_tol(at(vent_fitting_two_constant(900, 4, NULL), bore, 1e4), 6.09, 1e-13);
    ck_assert_double_eq_tol(at(vent_fitting_two_constant(1500, 4, NULL), bore, 1e4), 6.15, 1e-13);
}
END_TEST

START_TEST(every_name_is_found_and_no_other)
{
    int darby = 0, hooper = 0;
    for (const char *name; (name = vent_fitting_three_constant_name(darby)); ++darby)
        ck_assert_int_eq(vent_fitting_three_constant_find(name, 0.1, NULL).family,
                         VENT_FITTING_THREE_CONSTANT);
    for (const char *name; (name = vent_fitting_two_constant_name(hooper)); ++hooper)
        ck_assert_int_eq(vent_fitting_two_constant_find(name, NULL).family,
                         VENT_FITTING_TWO_CONSTANT);
    ck_assert_int_eq(darby, 34);
    ck_assert_int_eq(hooper, 32);
    ck_assert_ptr_null(vent_fitting_three_constant_name(-1));
    ck_assert_ptr_null(vent_fitting_two_constant_name(-1));
    vent_error err = VENT_NO_ERROR;
    vent_fitting none = vent_fitting_three_constant_find("elbow 90 treaded", 0.1, &err);
    ck_assert_int_eq(none.family, VENT_FITTING_NONE);
    ck_assert_int_eq(err.status, VENT_E_NOT_FOUND);
    ck_assert_str_eq(err.argument, "name");
    ck_assert_ptr_nonnull(strstr(err.message, "the nearest: \"elbow 90 threaded\""));
    err = (vent_error)VENT_NO_ERROR;
    ck_assert_int_eq(vent_fitting_two_constant_find("buterfly valv", &err).family,
                     VENT_FITTING_NONE);
    ck_assert_ptr_nonnull(strstr(err.message, "\"butterfly valve\""));
    err = (vent_error)VENT_NO_ERROR;
    vent_fitting_two_constant_find(NULL, &err);
    ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
    err = (vent_error)VENT_NO_ERROR;
    vent_fitting_three_constant_find(NULL, 0.1, &err);
    ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
}
END_TEST

/* A length is right at one flow only: there it is the pipe it stands for, and back. */
START_TEST(an_equivalent_length_is_a_pipe)
{
    random_states r = {0};
    for (int n = 0; n < 1000; ++n) {
        vent_error err = VENT_NO_ERROR;
        vent_pipe pipe = n % 2 ? vent_pipe_round(random_decades(&r, 0.02, 0.3), 1e-5, &err)
                               : vent_pipe_rectangular(0.1, 0.05, 1e-5, &err);
        double reynolds = random_decades(&r, 100, 1e6), k = random_decades(&r, 0.01, 100);
        double length = vent_equivalent_length(k, pipe, reynolds, &err);
        double back = vent_equivalent_length_coefficient(length, pipe, reynolds, &err);
        ck_assert_double_eq_tol(back, k, 1e-13 * k);
        double bore = vent_pipe_hydraulic_diameter(pipe);
        double viscosity = 1.8e-5, density = 1.2, velocity = reynolds * viscosity / density / bore;
        double flow = density * velocity * vent_pipe_area(pipe);
        double loss = vent_pipe_loss(pipe, length, flow, density, viscosity);
        ck_assert_double_eq_tol(loss / (density * velocity * velocity / 2), k, 1e-9 * k);
        vent_fitting fitting = vent_fitting_equivalent_length(length / bore, &err);
        ck_assert_double_eq_tol(vent_fitting_coefficient(fitting, pipe, reynolds, &err).value, k,
                                1e-9 * k);
        ck_assert_int_eq(err.status, VENT_OK);
    }
    vent_pipe smooth = vent_pipe_round(0.1, 0, NULL);
    double slow = vent_equivalent_length(1, smooth, 1e4, NULL);
    ck_assert_double_gt(vent_equivalent_length(1, smooth, 1e5, NULL), 1.5 * slow);
}
END_TEST

/* ---- bad input ------------------------------------------------------------------------------ */

#define REFUSED(call, named)                                                                       \
    do {                                                                                           \
        vent_error err = VENT_NO_ERROR;                                                            \
        vent_fitting made = call;                                                                  \
        ck_assert_int_eq(made.family, VENT_FITTING_NONE);                                          \
        ck_assert_int_eq(err.status, VENT_E_ARGUMENT);                                             \
        ck_assert_str_eq(err.argument, named);                                                     \
        ck_assert_ptr_nonnull(strstr(err.message, named));                                         \
    } while (0)

START_TEST(bad_geometry_is_refused_by_name)
{
    const double never[] = {-1, -1e-9, 1e9, 400, (double)INFINITY, -(double)INFINITY, NOT_A_NUMBER};
    for (size_t i = 0; i < sizeof never / sizeof *never; ++i) {
        double x = never[i];
        REFUSED(vent_segmented_elbow(x, 3, 1, &err), "angle");
        REFUSED(vent_segmented_elbow(1, 3, x, &err), "radius_ratio");
        REFUSED(vent_segmented_elbow(x, 1, 1, &err), "angle");
        REFUSED(vent_drain_elbow(x, &err), "angle");
        REFUSED(vent_elbow_pair(x, 1, 1, &err), "radius_ratio");
        REFUSED(vent_elbow_pair(1, 1, x, &err), "twist");
        REFUSED(vent_elbow_outlet(x, 1, 1, &err), "angle");
        REFUSED(vent_elbow_outlet(1, x, 1, &err), "radius_ratio");
        REFUSED(vent_fitting_three_constant(1, 1, 1, x, &err), "nominal_size");
        REFUSED(vent_fitting_three_constant(1, 1, x, 0.1, &err), "kd");
        if (x == 400)
            continue;
        REFUSED(vent_elbow_pair(1, x, 1, &err), "spacing");
        REFUSED(vent_elbow_outlet(1, 1, x, &err), "outlet_ratio");
        REFUSED(vent_fitting_three_constant(x, 1, 1, 0.1, &err), "k1");
        REFUSED(vent_fitting_three_constant(1, x, 1, 0.1, &err), "ki");
        REFUSED(vent_fitting_two_constant(x, 1, &err), "k1");
        REFUSED(vent_fitting_two_constant(1, x, &err), "k_infinite");
        REFUSED(vent_fitting_equivalent_length(x, &err), "length_ratio");
        vent_error err = VENT_NO_ERROR;
        vent_pipe pipe = vent_pipe_round(0.1, 0, NULL);
        ck_assert(isnan(vent_equivalent_length(x, pipe, 1e4, &err)));
        ck_assert_str_eq(err.argument, "k");
        err = (vent_error)VENT_NO_ERROR;
        ck_assert(isnan(vent_equivalent_length_coefficient(x, pipe, 1e4, &err)));
        ck_assert_str_eq(err.argument, "length");
    }
    const int joints[] = {0, -1, 6, 1 << 30};
    for (int i = 0; i < 4; ++i)
        REFUSED(vent_segmented_elbow(1, joints[i], 1, &err), "joints");
    REFUSED(vent_elbow_pair(0, 1, 1, &err), "radius_ratio");
    REFUSED(vent_drain_elbow(90, &err), "angle");
}
END_TEST

START_TEST(an_equivalent_length_needs_a_real_state)
{
    vent_pipe pipe = vent_pipe_round(0.1, 0, NULL), rough = pipe, broken = {0};
    rough.roughness = 0.05;
    const struct {
        vent_pipe pipe;
        double reynolds;
        const char *argument;
    } cases[] = {{pipe, 0, "reynolds"},
                 {pipe, -1e4, "reynolds"},
                 {pipe, 1e10, "reynolds"},
                 {pipe, NOT_A_NUMBER, "reynolds"},
                 {rough, 1e4, "relative roughness of pipe"},
                 {broken, 1e4, "hydraulic diameter of pipe"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; ++i) {
        vent_error err = VENT_NO_ERROR;
        ck_assert(isnan(vent_equivalent_length(1, cases[i].pipe, cases[i].reynolds, &err)));
        ck_assert_str_eq(err.argument, cases[i].argument);
        err = (vent_error)VENT_NO_ERROR;
        ck_assert(
            isnan(vent_equivalent_length_coefficient(1, cases[i].pipe, cases[i].reynolds, &err)));
        ck_assert_str_eq(err.argument, cases[i].argument);
        ck_assert(isnan(vent_equivalent_length(1, pipe, 1e4, &err))); /* the earlier one stays */
        ck_assert(isnan(vent_equivalent_length_coefficient(1, pipe, 1e4, &err)));
    }
}
END_TEST

START_TEST(what_leaves_the_source_is_flagged)
{
    vent_pipe pipe = vent_pipe_round(0.1, 0, NULL);
    const struct {
        vent_fitting fitting;
        uint32_t flags;
    } cases[] = {
        {vent_segmented_elbow(VENT_RADIANS(90), 3, 1, NULL), 0},
        {vent_segmented_elbow(VENT_RADIANS(90), 3, 3, NULL), VENT_COEFFICIENT_GEOMETRY_OUTSIDE},
        {vent_segmented_elbow(VENT_RADIANS(120), 3, 1, NULL), VENT_COEFFICIENT_GEOMETRY_OUTSIDE},
        {vent_drain_elbow(VENT_RADIANS(22.5), NULL), 0},
        {vent_drain_elbow(VENT_RADIANS(90), NULL), 0},
        {vent_drain_elbow(VENT_RADIANS(20), NULL), VENT_COEFFICIENT_GEOMETRY_OUTSIDE},
        {vent_elbow_pair(1, 0, 0, NULL), 0},
        {vent_elbow_pair(0.6, 0, 0, NULL), VENT_COEFFICIENT_GEOMETRY_OUTSIDE},
        {vent_fitting_three_constant(800, 0.1, 4, 2, NULL), VENT_COEFFICIENT_GEOMETRY_OUTSIDE},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; ++i) {
        vent_error err = VENT_NO_ERROR;
        vent_coefficient c = vent_fitting_coefficient(cases[i].fitting, pipe, 5e4, &err);
        ck_assert_int_eq(err.status, VENT_OK);
        ck_assert_msg(c.flags == cases[i].flags, "case %zu", i);
    }
}
END_TEST

Suite *bend_suite(void)
{
    Suite *suite = suite_create("bend");
    TCase *published = tcase_create("published");
    tcase_add_test(published, a_sharp_return_is_flagged_by_the_formula_that_climbs);
    tcase_add_test(published, formulas_agree_with_their_authors);
    tcase_add_test(published, published_values_lie_where_the_uncertainty_says);
    tcase_add_test(published, a_short_outlet_does_what_miller_works_out);
    suite_add_tcase(suite, published);
    TCase *limits = tcase_create("limits");
    tcase_add_test(limits, what_goes_straight_on_loses_nothing);
    tcase_add_test(limits, far_elbows_do_not_know_of_each_other);
    tcase_add_test(limits, two_elbows_the_same_way_are_a_return);
    tcase_add_test(limits, more_joints_cost_less);
    tcase_add_test(limits, one_joint_is_the_mitre);
    tcase_add_test(limits, only_the_outlet_has_a_sense);
    suite_add_tcase(suite, limits);
    TCase *slopes = tcase_create("slopes");
    tcase_add_test(slopes, slopes_match_differences);
    tcase_add_test(slopes, the_solvers_slope_is_that_of_the_coefficient);
    suite_add_tcase(suite, slopes);
    TCase *sources = tcase_create("sources");
    tcase_add_test(sources, authors_agree_on_round_elbows_and_not_on_sharp_ones);
    tcase_add_test(sources, drain_elbows_span_what_sources_have);
    suite_add_tcase(suite, sources);
    TCase *general = tcase_create("general forms");
    tcase_add_test(general, darby_has_his_constants);
    tcase_add_test(general, hooper_has_his_constants);
    tcase_add_test(general, general_forms_give_the_worked_values);
    tcase_add_test(general, every_name_is_found_and_no_other);
    tcase_add_test(general, an_equivalent_length_is_a_pipe);
    suite_add_tcase(suite, general);
    TCase *bad = tcase_create("bad input");
    tcase_add_test(bad, bad_geometry_is_refused_by_name);
    tcase_add_test(bad, an_equivalent_length_needs_a_real_state);
    tcase_add_test(bad, what_leaves_the_source_is_flagged);
    suite_add_tcase(suite, bad);
    return suite;
}
