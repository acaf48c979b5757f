/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fittings: formulas against their authors, limits, reversal, continuity, ranges, bad input. */
#include "base/source_list.h"
#include "csv.h"
#include "device_rows.h"
#include "physics/formulas.h"
#include "published.h"
#include "random.h"
#include "suites.h"

#include <string.h>
#include <ventstack/area.h>
#include <ventstack/bend.h>
#include <ventstack/entry.h>
#include <ventstack/friction.h>
#include <ventstack/units.h>

static const double NOT_A_NUMBER = (double)NAN, INFINITE = (double)INFINITY;

/* ---- published ------------------------------------------------------------------------------ */

/* Which columns of a table make a part's geometry. */
static int read_geometry(const csv *table, const char *const *columns, double *geometry)
{
    int count = 0;
    for (; columns[count]; ++count) {
        double x = csv_number(table, columns[count]);
        geometry[count] = strcmp(columns[count], "angle") == 0 ? VENT_RADIANS(x) : x;
    }
    return count;
}

#define COLUMNS(...)                                                                               \
    {                                                                                              \
        __VA_ARGS__, NULL                                                                          \
    }

static const struct {
    const char *name;
    vent__loss (*loss)(const double *geometry, double bore);
    const char *columns[3];
} formulas[] = {
    {"bend_rennels", vent__bend_rennels, COLUMNS("angle", "ratio")},
    {"bend_idelchik", vent__bend_idelchik, COLUMNS("angle", "ratio")},
    {"mitre_rennels", vent__mitre_rennels, COLUMNS("angle")},
    {"mitre_idelchik", vent__mitre_idelchik, COLUMNS("angle")},
    {"expansion_borda_carnot", vent__expansion_borda_carnot, COLUMNS("far_bore")},
    {"contraction_rennels", vent__contraction_rennels, COLUMNS("far_bore")},
    {"contraction_crane", vent__contraction_crane, COLUMNS("far_bore")},
    {"diffuser_rennels", vent__diffuser_rennels, COLUMNS("far_bore", "angle")},
    {"diffuser_crane", vent__diffuser_crane, COLUMNS("far_bore", "angle")},
    {"cone_crane", vent__cone_crane, COLUMNS("far_bore", "angle")},
    {"cone_rennels", vent__cone_rennels, COLUMNS("far_bore", "angle")},
    {"flush_idelchik", vent__flush_idelchik, {NULL}},
    {"flush_rennels", vent__flush_rennels, {NULL}},
    {"reentrant_rennels", vent__reentrant_rennels, COLUMNS("ratio")},
    {"rounded_rennels", vent__rounded_rennels, COLUMNS("ratio")},
    {"rounded_idelchik", vent__rounded_idelchik, COLUMNS("ratio")},
    {"rounded_swamee", vent__rounded_swamee, COLUMNS("ratio")},
    {"screen_idelchik", vent__screen_idelchik, COLUMNS("wire", "opening")},
    {"tee_dividing_idelchik", vent__tee_dividing_idelchik, {NULL}},
    {"tee_joining_idelchik", vent__tee_joining_idelchik, {NULL}},
};
enum { FORMULAS = sizeof formulas / sizeof *formulas };

START_TEST(formulas_agree_with_their_authors)
{
    int met[FORMULAS] = {0};
    csv *table = csv_open("fittings_formulas.csv");
    while (csv_next(table)) {
        int i = 0;
        while (i < FORMULAS && strcmp(formulas[i].name, csv_text(table, "formula")) != 0)
            ++i;
        ck_assert_msg(i < FORMULAS, "%s: no such formula", csv_where(table));
        ++met[i];
        double geometry[6] = {0}, reynolds = csv_number(table, "reynolds");
        read_geometry(table, formulas[i].columns, geometry);
        vent__loss loss = formulas[i].loss(geometry, csv_number(table, "bore"));
        double k = loss.k0 + loss.k1 / reynolds + loss.kf * csv_number(table, "friction");
        csv_expect(table, "k", k, csv_number(table, "relative"), 0);
    }
    csv_close(table);
    for (int i = 0; i < FORMULAS; ++i)
        ck_assert_msg(met[i] > 0, "no row checks %s", formulas[i].name);
}
END_TEST

static const struct {
    const char *name;
    int family;
    bool reversed;
    const char *columns[3];
} parts[] = {
    {"elbow", VENT_FITTING_ELBOW, false, COLUMNS("angle", "ratio")},
    {"mitre", VENT_FITTING_MITRE, false, COLUMNS("angle")},
    {"expansion", VENT_FITTING_SUDDEN, false, COLUMNS("far_bore")},
    {"contraction", VENT_FITTING_SUDDEN, true, COLUMNS("far_bore")},
    {"gradual", VENT_FITTING_GRADUAL, false, COLUMNS("far_bore", "angle")},
    {"flush", VENT_FITTING_ENTRY_FLUSH, false, {NULL}},
    {"re-entrant", VENT_FITTING_ENTRY_REENTRANT, false, COLUMNS("ratio")},
    {"rounded", VENT_FITTING_ENTRY_ROUNDED, false, COLUMNS("ratio")},
};
enum { PARTS = sizeof parts / sizeof *parts };

START_TEST(published_values_lie_where_the_uncertainty_says)
{
    csv *table = csv_open("fittings_published.csv");
    while (csv_next(table)) {
        int i = 0;
        while (i < PARTS && strcmp(parts[i].name, csv_text(table, "family")) != 0)
            ++i;
        ck_assert_msg(i < PARTS, "%s: no such family", csv_where(table));
        vent_fitting fitting = {.family = parts[i].family, .factor = 1};
        read_geometry(table, parts[i].columns, fitting.geometry);
        double reynolds = csv_number(table, "reynolds") * (parts[i].reversed ? -1 : 1);
        vent_coefficient c = vent__fitting_state(&fitting, csv_number(table, "bore"), reynolds,
                                                 csv_number(table, "friction"));
        expect_place(table, c.value,
                     own_of_fitting(fitting, csv_number(table, "bore"), reynolds,
                                    csv_number(table, "friction")));
    }
    csv_close(table);
}
END_TEST

/* ---- the tables ----------------------------------------------------------------------------- */

static vent_pipe round_pipe(double bore)
{
    return (vent_pipe){.shape = VENT_PIPE_ROUND, .width = bore, .depth = bore};
}

static vent_fitting at_random(int family, random_states *r)
{
    vent_fitting fitting = {.family = family, .factor = 1};
    for (int i = 0; i < vent_fitting_parameter_count(family); ++i) {
        vent_parameter_range p;
        ck_assert(vent_fitting_parameter(family, i, &p));
        fitting.geometry[i] = p.unit[0] == 'm' ? random_decades(r, 0.02, 0.3)
                                               : random_between(r, p.low, fmin(p.high, 10));
    }
    return fitting;
}

START_TEST(every_family_is_complete)
{
    for (int family = VENT_FITTING_NONE + 1; family < VENT_FITTING_END; ++family) {
        ck_assert_str_ne(vent_fitting_name(family), "unknown");
        for (int i = 0; i < vent_fitting_parameter_count(family); ++i) {
            vent_parameter_range p;
            ck_assert(vent_fitting_parameter(family, i, &p));
            ck_assert(p.name[0] && p.unit);
            ck_assert(p.low <= p.source_low && p.source_low < p.source_high &&
                      p.source_high <= p.high);
        }
        random_states r = {0};
        vent_fitting fitting = at_random(family, &r);
        for (int reversed = -1; reversed <= 1; reversed += 2) {
            vent_coefficient c = vent__fitting_state(&fitting, 0.1, reversed * 5e4, 0.02);
            vent_source source;
            ck_assert(vent_source_find(c.source, &source) ||
                      (family == VENT_FITTING_CONSTANT && c.source == VENT__SOURCE_NONE));
            ck_assert(c.uncertainty > 0 || family == VENT_FITTING_ELBOW);
        }
    }
}
END_TEST

START_TEST(other_families_have_no_name_and_no_parameters)
{
    static const int none[] = {VENT_FITTING_NONE, -1, VENT_FITTING_END, 1 << 30};
    vent_parameter_range p = {.low = 7};
    for (size_t i = 0; i < sizeof none / sizeof *none; ++i) {
        ck_assert_str_eq(vent_fitting_name(none[i]), "unknown");
        ck_assert_int_eq(vent_fitting_parameter_count(none[i]), 0);
        ck_assert(!vent_fitting_parameter(none[i], 0, &p));
    }
    ck_assert(!vent_fitting_parameter(VENT_FITTING_ELBOW, -1, &p));
    ck_assert(!vent_fitting_parameter(VENT_FITTING_ELBOW, 2, &p));
    ck_assert(!vent_fitting_parameter(VENT_FITTING_ELBOW, 0, NULL));
    ck_assert_double_eq(p.low, 7);
}
END_TEST

/* ---- limits --------------------------------------------------------------------------------- */

static double value(vent_fitting fitting, double bore, double reynolds, double f)
{
    return vent__fitting_state(&fitting, bore, reynolds, f).value;
}

START_TEST(a_pipe_that_goes_straight_on_loses_nothing)
{
    ck_assert_double_eq(value(vent_elbow(0, 1.5, NULL), 0.1, 5e4, 0.02), 0);
    ck_assert_double_eq(value(vent_mitre(0, NULL), 0.1, 5e4, 0.02), 0);
    ck_assert_double_le(value(vent_elbow(1e-10, 1.5, NULL), 0.1, 5e4, 0.02), 2e-6);
    for (int reversed = -1; reversed <= 1; reversed += 2) {
        ck_assert_double_eq(value(vent_sudden_change(0.1, NULL), 0.1, reversed * 5e4, 0.02), 0);
        ck_assert_double_eq(value(vent_gradual_change(0.1, 0.3, NULL), 0.1, reversed * 5e4, 0.02),
                            0);
    }
}
END_TEST

START_TEST(an_expansion_into_a_plenum_loses_the_velocity_pressure)
{
    ck_assert_double_eq_tol(value(vent_sudden_change(10, NULL), 1e-3, 5e4, 0.02), 1, 1e-7);
    ck_assert_double_eq_tol(value(vent_sudden_change(10, NULL), 1e-3, -5e4, 0.02), 0.57, 1e-3);
}
END_TEST

START_TEST(a_cone_of_half_a_turn_is_the_sudden_change)
{
    random_states r = {0};
    for (int n = 0; n < 1000; ++n) {
        double bore = random_decades(&r, 0.02, 0.3), other = random_decades(&r, 0.02, 0.3);
        for (int reversed = -1; reversed <= 1; reversed += 2) {
            double sudden = value(vent_sudden_change(other, NULL), bore, reversed * 5e4, 0.02);
            double cone =
                value(vent_gradual_change(other, VENT_PI, NULL), bore, reversed * 5e4, 0.02);
            ck_assert_double_eq_tol(cone, sudden, 1e-12 * sudden);
        }
    }
}
END_TEST

/* The pressure lost is one number, whichever of the two pipes the change is put in. */
START_TEST(a_change_costs_the_same_from_either_pipe)
{
    random_states r = {0};
    for (int n = 0; n < 1000; ++n) {
        double a = random_decades(&r, 0.02, 0.3), b = random_decades(&r, 0.02, 0.3);
        double angle = random_between(&r, 0.01, VENT_PI);
        double here = value(vent_gradual_change(b, angle, NULL), a, 5e4, 0.02) / pow(a, 4);
        double there = value(vent_gradual_change(a, angle, NULL), b, -5e4, 0.02) / pow(b, 4);
        ck_assert_double_eq_tol(here, there, 1e-12 * fabs(here));
    }
}
END_TEST

START_TEST(entries_reversed_are_exits)
{
    const vent_fitting entries[] = {vent_entry_flush(), vent_entry_reentrant(0.01, NULL),
                                    vent_entry_rounded(0.2, NULL)};
    for (size_t i = 0; i < sizeof entries / sizeof *entries; ++i) {
        vent_fitting entry = entries[i];
        ck_assert_double_eq(value(entry, 0.1, -5e4, 0.02), 1);
        double k = value(entry, 0.1, 5e4, 0.02);
        entry.factor = 2;
        ck_assert_double_eq_tol(value(entry, 0.1, 5e4, 0.02), 2 * k, 1e-15);
        ck_assert_double_eq(value(entry, 0.1, -5e4, 0.02), 1);
    }
    ck_assert_double_eq(value(vent_entry_flush(), 0.1, 5e4, 0.02), 0.5);
    ck_assert_double_eq_tol(value(vent_entry_reentrant(0.05, NULL), 0.1, 5e4, 0.02), 0.57, 1e-14);
    ck_assert_double_eq_tol(value(vent_entry_reentrant(0.3, NULL), 0.1, 5e4, 0.02), 0.57, 1e-14);
}
END_TEST

START_TEST(a_rounder_edge_costs_less)
{
    double last = 1;
    for (double ratio = 0; ratio <= 2; ratio += 0.01) {
        double k = value(vent_entry_rounded(ratio, NULL), 0.1, 5e4, 0.02);
        ck_assert_double_le(k, last + 1e-15);
        last = k;
    }
    ck_assert_double_eq_tol(last, 0.03, 1e-5);
}
END_TEST

START_TEST(elbows_are_the_same_both_ways)
{
    random_states r = {0};
    for (int n = 0; n < 1000; ++n) {
        vent__loss along, against;
        vent_fitting elbow = at_random(VENT_FITTING_ELBOW, &r);
        vent__fitting_loss(&elbow, 0.1, &along, &against);
        ck_assert_mem_eq(&along, &against, sizeof along);
    }
}
END_TEST

START_TEST(the_factor_multiplies_the_whole_coefficient)
{
    random_states r = {0};
    for (int n = 0; n < 1000; ++n) {
        int family = VENT_FITTING_NONE + 1 + n % (VENT_FITTING_END - VENT_FITTING_NONE - 1);
        vent_fitting fitting = at_random(family, &r);
        vent_coefficient one = vent__fitting_state(&fitting, 0.1, 5e4, 0.02);
        fitting.factor = 2.5;
        vent_coefficient more = vent__fitting_state(&fitting, 0.1, 5e4, 0.02);
        ck_assert_double_eq_tol(more.value, 2.5 * one.value, 1e-14 * more.value);
        ck_assert_double_eq_tol(more.uncertainty, 2.5 * one.uncertainty, 1e-14 * more.uncertainty);
    }
}
END_TEST

START_TEST(a_stated_coefficient_is_what_was_stated)
{
    vent_fitting one = vent_fitting_constant(0.4, 0.1, NULL);
    vent_fitting two = vent_fitting_constant_each_way(0.4, 0.9, 0.1, NULL);
    ck_assert_double_eq(value(one, 0.1, 5e4, 0.02), 0.4);
    ck_assert_double_eq(value(one, 0.1, -5e4, 0.02), 0.4);
    ck_assert_double_eq(value(two, 0.1, 5e4, 0.02), 0.4);
    ck_assert_double_eq(value(two, 0.1, -5e4, 0.02), 0.9);
    vent_coefficient c = vent__fitting_state(&two, 0.1, -5e4, 0.02);
    ck_assert_double_eq_tol(c.uncertainty, 0.1, 1e-16);
    ck_assert_int_eq(c.source, 0);
    ck_assert_uint_eq(c.flags, 0);
}
END_TEST

/* ---- properties ----------------------------------------------------------------------------- */

/* Finite and not negative everywhere, and what the solver sees and the told value are one. */
START_TEST(coefficients_are_finite_and_agree_with_the_law)
{
    random_states r = {0};
    for (int n = 0; n < 20000; ++n) {
        int family = VENT_FITTING_NONE + 1 + n % (VENT_FITTING_END - VENT_FITTING_NONE - 1);
        vent_fitting fitting = at_random(family, &r);
        fitting.factor = random_between(&r, 0, 3);
        double bore = random_decades(&r, 0.02, 0.3), reynolds = random_decades(&r, 1, 1e7);
        double f = reynolds < 2000 ? 64 / reynolds : random_decades(&r, 0.008, 0.08);
        vent__loss loss[2];
        vent__fitting_loss(&fitting, bore, &loss[0], &loss[1]);
        for (int reversed = 0; reversed < 2; ++reversed) {
            double signed_reynolds = reversed ? -reynolds : reynolds;
            double k = loss[reversed].k0 + loss[reversed].k1 / reynolds + loss[reversed].kf * f +
                       vent__fitting_extra(&fitting, bore, signed_reynolds).value;
            vent_coefficient c = vent__fitting_state(&fitting, bore, signed_reynolds, f);
            ck_assert_double_le(fabs(c.value - k), 1e-14 * k);
            ck_assert(k >= 0 && k < 1e12);
            ck_assert(c.uncertainty >= 0 && c.uncertainty < 1e12);
        }
    }
}
END_TEST

/* Between any two values of a parameter, the joints of the diffuser's own ranges first of all: as
 * printed they would jump by 0.15 % and more. */
START_TEST(coefficients_are_continuous_in_every_parameter)
{
    enum { ENOUGH = 50, MANY = 10000 };
    random_states r = {0};
    for (int family = VENT_FITTING_NONE + 1; family < VENT_FITTING_END; ++family)
        for (int i = 0; i < vent_fitting_parameter_count(family); ++i) {
            int found = 0;
            for (int n = 0; n < MANY && found < ENOUGH; ++n) {
                vent_fitting a = anywhere(family, &r), b = a;
                b.geometry[i] = anywhere(family, &r).geometry[i];
                if (!vent__fitting_check(&a, __func__, NULL) ||
                    !vent__fitting_check(&b, __func__, NULL))
                    continue; /* a mesh that closes */
                expect_no_jump(a, i, a.geometry[i], b.geometry[i], n % 2 ? 5e4 : -5e4);
                ++found;
            }
            ck_assert_msg(found == ENOUGH, "%s", vent_fitting_name(family));
        }
    static const double joints[] = {20, 21, 60, 65, 175};
    for (size_t k = 0; k < sizeof joints / sizeof *joints; ++k)
        for (int n = 0; n < 100; ++n)
            expect_no_jump(anywhere(VENT_FITTING_GRADUAL, &r), 1, VENT_RADIANS(joints[k] - 0.01),
                           VENT_RADIANS(joints[k] + 0.01), n % 2 ? 5e4 : -5e4);
}
END_TEST

/* ---- ranges --------------------------------------------------------------------------------- */

START_TEST(what_leaves_the_source_is_flagged)
{
    vent_pipe pipe = round_pipe(0.1);
    const struct {
        vent_fitting fitting;
        double reynolds;
        uint32_t flags;
    } cases[] = {
        {vent_elbow(1, 0.5, NULL), 5e4, 0},
        {vent_elbow(1, 0.45, NULL), 5e4, VENT_COEFFICIENT_GEOMETRY_OUTSIDE},
        {vent_elbow(1, 1.5, NULL), 3e3, VENT_COEFFICIENT_REYNOLDS_OUTSIDE},
        {vent_elbow(1, 1.5, NULL), -3e3, VENT_COEFFICIENT_REYNOLDS_OUTSIDE},
        {vent_mitre(VENT_RADIANS(150), NULL), 5e4, 0},
        {vent_mitre(VENT_RADIANS(151), NULL), 1e4,
         VENT_COEFFICIENT_GEOMETRY_OUTSIDE | VENT_COEFFICIENT_REYNOLDS_OUTSIDE},
        {vent_entry_flush(), 9e3, VENT_COEFFICIENT_REYNOLDS_OUTSIDE},
        {vent_entry_flush(), -9e3, 0},
        {vent_fitting_constant(1, 0, NULL), 10, 0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; ++i) {
        vent_error err = VENT_NO_ERROR;
        vent_coefficient c =
            vent_fitting_coefficient(cases[i].fitting, pipe, cases[i].reynolds, &err);
        ck_assert_int_eq(err.status, VENT_OK);
        ck_assert_msg(c.flags == cases[i].flags, "case %zu", i);
    }
}
END_TEST

START_TEST(the_sharper_the_elbow_the_less_is_known)
{
    double long_radius = 0, last = 0;
    for (double ratio = 1.5; ratio >= 0.5; ratio -= 0.05) {
        vent_fitting elbow = vent_elbow(VENT_RADIANS(90), ratio, NULL);
        vent_coefficient c = vent__fitting_state(&elbow, 0.1, 5e4, 0.0209);
        double relative = c.uncertainty / c.value;
        if (ratio > 1.49)
            long_radius = relative;
        ck_assert(relative >= 0.25 && relative < 0.6);
        last = relative;
    }
    ck_assert(long_radius < 0.3 && last > 0.4);
}
END_TEST

START_TEST(the_coefficient_in_a_pipe_has_the_pipes_friction)
{
    vent_pipe pipe = round_pipe(0.1);
    pipe.roughness = 4.6e-5;
    vent_fitting elbow = vent_elbow(VENT_RADIANS(90), 1.5, NULL);
    double f = vent_friction_factor(5e4, 4.6e-4);
    vent_coefficient told = vent_fitting_coefficient(elbow, pipe, 5e4, NULL);
    vent_coefficient law = vent__fitting_state(&elbow, 0.1, 5e4, f);
    ck_assert_double_eq_tol(told.value, law.value, 1e-14);
    ck_assert_double_eq_tol(told.uncertainty, law.uncertainty, 1e-14);
    ck_assert_int_eq(told.source, VENT__SOURCE_RENNELS_BEND);
}
END_TEST

/* ---- bad input ------------------------------------------------------------------------------ */

static void check_failure(vent_fitting made, const vent_error *err, const char *function,
                          const char *argument, double bad)
{
    ck_assert_int_eq(err->status, VENT_E_ARGUMENT);
    ck_assert_str_eq(err->function, function);
    ck_assert_str_eq(err->argument, argument);
    ck_assert(err->value == bad || (isnan(err->value) && isnan(bad)));
    ck_assert(err->low < err->high);
    ck_assert_ptr_nonnull(strstr(err->message, argument));
    ck_assert_int_eq(made.family, VENT_FITTING_NONE);
    ck_assert(isnan(made.factor));
}

#define REFUSED(call, function, argument, bad)                                                     \
    do {                                                                                           \
        vent_error err = VENT_NO_ERROR;                                                            \
        vent_fitting made = call;                                                                  \
        check_failure(made, &err, function, argument, bad);                                        \
    } while (0)

START_TEST(bad_geometry_is_refused_by_name)
{
    const double never[] = {-1, -1e-9, 1e9, INFINITE, -INFINITE, NOT_A_NUMBER};
    for (size_t i = 0; i < sizeof never / sizeof *never; ++i) {
        double x = never[i];
        REFUSED(vent_elbow(x, 1.5, &err), "vent_elbow", "angle", x);
        REFUSED(vent_elbow(1, x, &err), "vent_elbow", "radius_ratio", x);
        REFUSED(vent_mitre(x, &err), "vent_mitre", "angle", x);
        REFUSED(vent_sudden_change(x, &err), "vent_sudden_change", "other_bore", x);
        REFUSED(vent_gradual_change(x, 1, &err), "vent_gradual_change", "other_bore", x);
        REFUSED(vent_gradual_change(0.1, x, &err), "vent_gradual_change", "cone_angle", x);
        REFUSED(vent_entry_reentrant(x, &err), "vent_entry_reentrant", "wall_ratio", x);
        REFUSED(vent_entry_rounded(x, &err), "vent_entry_rounded", "radius_ratio", x);
        REFUSED(vent_fitting_constant(x, 0, &err), "vent_fitting_constant", "k", x);
        REFUSED(vent_fitting_constant(1, x, &err), "vent_fitting_constant", "uncertainty", x);
        REFUSED(vent_fitting_constant_each_way(1, x, 0, &err), "vent_fitting_constant_each_way",
                "k_reversed", x);
    }
    REFUSED(vent_elbow(400, 1.5, &err), "vent_elbow", "angle", 400);
    REFUSED(vent_elbow(90, 1.5, &err), "vent_elbow", "angle", 90);
    REFUSED(vent_elbow(1, 0, &err), "vent_elbow", "radius_ratio", 0);
    REFUSED(vent_sudden_change(0, &err), "vent_sudden_change", "other_bore", 0);
    REFUSED(vent_gradual_change(0.1, 0, &err), "vent_gradual_change", "cone_angle", 0);
}
END_TEST

START_TEST(half_a_turn_in_degrees_is_inside)
{
    vent_error err = VENT_NO_ERROR;
    vent_elbow(VENT_RADIANS(180), 1.5, &err);
    vent_mitre(VENT_RADIANS(180), &err);
    vent_gradual_change(0.1, VENT_RADIANS(180), &err);
    ck_assert_int_eq(err.status, VENT_OK);
}
END_TEST

START_TEST(an_earlier_failure_stays)
{
    vent_error err = VENT_NO_ERROR;
    vent_elbow(-1, 1.5, &err);
    ck_assert_int_eq(vent_elbow(1, 1.5, &err).family, VENT_FITTING_NONE);
    vent_coefficient c = vent_fitting_coefficient(vent_entry_flush(), round_pipe(0.1), 5e4, &err);
    ck_assert(isnan(c.value) && isnan(c.uncertainty) && c.source == 0 && c.flags == 0);
    ck_assert_str_eq(err.function, "vent_elbow");
}
END_TEST

static void refuse_state(vent_fitting fitting, vent_pipe pipe, double reynolds,
                         const char *argument)
{
    vent_error err = VENT_NO_ERROR;
    vent_coefficient c = vent_fitting_coefficient(fitting, pipe, reynolds, &err);
    ck_assert(isnan(c.value) && isnan(c.uncertainty) && c.source == 0 && c.flags == 0);
    ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
    ck_assert_str_eq(err.argument, argument);
    ck_assert(isnan(vent_fitting_coefficient(fitting, pipe, reynolds, NULL).value));
}

START_TEST(a_coefficient_needs_a_real_state)
{
    vent_fitting elbow = vent_elbow(1, 1.5, NULL), changed = elbow;
    vent_pipe pipe = round_pipe(0.1), rough = pipe;
    const double never[] = {0, 1e-9, 1e10, INFINITE, NOT_A_NUMBER};
    for (size_t i = 0; i < sizeof never / sizeof *never; ++i)
        refuse_state(elbow, pipe, never[i], "reynolds");
    refuse_state(elbow, round_pipe(0), 5e4, "hydraulic diameter of pipe");
    refuse_state(elbow, round_pipe(NOT_A_NUMBER), 5e4, "hydraulic diameter of pipe");
    rough.roughness = 0.02;
    refuse_state(elbow, rough, 5e4, "relative roughness of pipe");
    rough.roughness = -1e-6;
    refuse_state(elbow, rough, 5e4, "relative roughness of pipe");
    refuse_state((vent_fitting){0}, pipe, 5e4, "fitting");
    changed.family = VENT_FITTING_END;
    refuse_state(changed, pipe, 5e4, "fitting");
    changed = elbow;
    changed.geometry[1] = NOT_A_NUMBER;
    refuse_state(changed, pipe, 5e4, "radius_ratio");
    changed = elbow;
    changed.factor = -1;
    refuse_state(changed, pipe, 5e4, "factor");
    refuse_state(vent_elbow(-1, 1.5, NULL), pipe, 5e4, "fitting");
}
END_TEST

Suite *fitting_suite(void)
{
    Suite *suite = suite_create("fitting");
    TCase *published = tcase_create("published");
    tcase_add_test(published, formulas_agree_with_their_authors);
    tcase_add_test(published, published_values_lie_where_the_uncertainty_says);
    suite_add_tcase(suite, published);
    TCase *tables = tcase_create("tables");
    tcase_add_test(tables, every_family_is_complete);
    tcase_add_test(tables, other_families_have_no_name_and_no_parameters);
    suite_add_tcase(suite, tables);
    TCase *limits = tcase_create("limits");
    tcase_add_test(limits, a_pipe_that_goes_straight_on_loses_nothing);
    tcase_add_test(limits, an_expansion_into_a_plenum_loses_the_velocity_pressure);
    tcase_add_test(limits, a_cone_of_half_a_turn_is_the_sudden_change);
    tcase_add_test(limits, a_change_costs_the_same_from_either_pipe);
    tcase_add_test(limits, entries_reversed_are_exits);
    tcase_add_test(limits, a_rounder_edge_costs_less);
    tcase_add_test(limits, elbows_are_the_same_both_ways);
    tcase_add_test(limits, the_factor_multiplies_the_whole_coefficient);
    tcase_add_test(limits, a_stated_coefficient_is_what_was_stated);
    suite_add_tcase(suite, limits);
    TCase *properties = tcase_create("properties");
    tcase_add_test(properties, coefficients_are_finite_and_agree_with_the_law);
    tcase_add_test(properties, coefficients_are_continuous_in_every_parameter);
    suite_add_tcase(suite, properties);
    TCase *ranges = tcase_create("ranges");
    tcase_add_test(ranges, what_leaves_the_source_is_flagged);
    tcase_add_test(ranges, the_sharper_the_elbow_the_less_is_known);
    tcase_add_test(ranges, the_coefficient_in_a_pipe_has_the_pipes_friction);
    suite_add_tcase(suite, ranges);
    TCase *bad = tcase_create("bad input");
    tcase_add_test(bad, bad_geometry_is_refused_by_name);
    tcase_add_test(bad, half_a_turn_in_degrees_is_inside);
    tcase_add_test(bad, an_earlier_failure_stays);
    tcase_add_test(bad, a_coefficient_needs_a_real_state);
    suite_add_tcase(suite, bad);
    return suite;
}
