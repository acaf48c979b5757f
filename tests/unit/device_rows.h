/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the suites of devices and connectors share: a fitting by name, held against the rows of a
 * table. Columns p1 to p3 are its geometry, angles in degrees. */
#ifndef VENT_TEST_DEVICE_ROWS_H
#define VENT_TEST_DEVICE_ROWS_H

#include "csv.h"
#include "physics/laws.h"
#include "published.h"
#include "random.h"
#include "suites.h"

#include <string.h>
#include <ventstack/friction.h>
#include <ventstack/pipe.h>
#include <ventstack/units.h>

/* A formula as a table names it, and where the library keeps it. */
typedef struct named_formula {
    const char *name;
    int family, source;
    bool reversed;
} named_formula;

static inline vent_pipe smooth_pipe(double bore)
{
    return (vent_pipe){.shape = VENT_PIPE_ROUND, .width = bore, .depth = bore};
}

static inline vent_fitting fitting_of_row(const csv *table, int family, int source)
{
    static const char *const columns[] = {"p1", "p2", "p3"};
    vent_fitting fitting = {.family = family, .source = source, .factor = 1};
    for (int i = 0; i < vent_fitting_parameter_count(family); ++i) {
        vent_parameter_range p;
        ck_assert(vent_fitting_parameter(family, i, &p));
        double x = csv_number(table, columns[i]);
        fitting.geometry[i] = strcmp(p.unit, "rad") == 0 ? VENT_RADIANS(x) : x;
    }
    return fitting;
}

static inline vent_coefficient at_state(vent_fitting fitting, double bore, double reynolds)
{
    vent_error err = VENT_NO_ERROR;
    vent_coefficient c = vent_fitting_coefficient(fitting, smooth_pipe(bore), reynolds, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return c;
}

static inline double k_of(vent_fitting fitting, double reynolds)
{
    return at_state(fitting, 0.1, reynolds).value;
}

/* Every formula against what others make of it; every formula listed has a row. */
static inline void expect_formulas(const char *file, const named_formula *list, int count)
{
    bool met[32] = {false};
    ck_assert_int_le(count, 32);
    csv *table = csv_open(file);
    while (csv_next(table)) {
        int i = 0;
        while (i < count && strcmp(list[i].name, csv_text(table, "formula")) != 0)
            ++i;
        ck_assert_msg(i < count, "%s: no such formula", csv_where(table));
        met[i] = true;
        vent_fitting fitting = fitting_of_row(table, list[i].family, list[i].source);
        double reynolds = csv_number(table, "reynolds") * (list[i].reversed ? -1 : 1);
        vent_coefficient c = at_state(fitting, csv_number(table, "bore"), reynolds);
        ck_assert_int_eq(c.source, list[i].source);
        csv_expect(table, "k", c.value, csv_number(table, "relative"), 1e-15);
    }
    csv_close(table);
    for (int i = 0; i < count; ++i)
        ck_assert_msg(met[i], "no row checks %s", list[i].name);
}

/* Published values lie where the table says, or say why not. */
static inline void expect_published(const char *file, int first_family, int last_family)
{
    csv *table = csv_open(file);
    while (csv_next(table)) {
        int family = first_family;
        while (family <= last_family &&
               strcmp(vent_fitting_name(family), csv_text(table, "family")) != 0)
            ++family;
        ck_assert_msg(family <= last_family, "%s: no such family", csv_where(table));
        vent_fitting fitting = fitting_of_row(table, family, 0);
        double reynolds = csv_number(table, "reynolds");
        if (csv_number(table, "reversed") > 0)
            reynolds = -reynolds;
        double bore = csv_number(table, "bore"), friction = vent_friction_factor(fabs(reynolds), 0);
        expect_place(table, at_state(fitting, bore, reynolds).value,
                     own_of_fitting(fitting, bore, reynolds, friction));
    }
    csv_close(table);
}

/* K grows (or falls) strictly with parameter `which`, whose ends are given, at any other geometry. */
static inline void expect_monotone(vent_fitting fitting, int which, double from, double to)
{
    enum { STEPS = 500 };
    double last = NAN;
    for (int i = 0; i <= STEPS; ++i) {
        fitting.geometry[which] = i < STEPS ? from + (to - from) * i / STEPS : to;
        double k = k_of(fitting, 1e5);
        ck_assert_msg(isfinite(k) && k >= 0, "%s at %g", vent_fitting_name(fitting.family),
                      fitting.geometry[which]);
        ck_assert_msg(i == 0 || k > last || (i == 1 && k >= last), "%s at %g: %.9g after %.9g",
                      vent_fitting_name(fitting.family), fitting.geometry[which], k, last);
        last = k;
    }
}

static inline vent_fitting anywhere(int family, random_states *r)
{
    vent_fitting fitting = {.family = family, .factor = 1};
    for (int i = 0; i < vent_fitting_parameter_count(family); ++i) {
        vent_parameter_range p;
        ck_assert(vent_fitting_parameter(family, i, &p));
        fitting.geometry[i] = random_between(r, p.low, fmin(p.high, 100));
    }
    return fitting;
}

/* Finite, not negative, with an uncertainty that is a number, and the same with and without the pipe;
 * by every source the family has. */
static inline void expect_sane(int family, int states)
{
    random_states r = {0};
    for (int n = 0; n < states; ++n) {
        vent_fitting fitting = anywhere(family, &r);
        double bore = random_decades(&r, 0.03, 0.3), reynolds = random_decades(&r, 1, 1e7);
        for (int reversed = -1; reversed <= 1; reversed += 2) {
            vent_formula formula;
            for (int i = 0; vent_fitting_formula(family, reversed < 0, i, &formula); ++i) {
                fitting.source = formula.source;
                vent_coefficient c = at_state(fitting, bore, reversed * reynolds);
                ck_assert_int_eq(c.source, formula.source);
                ck_assert_msg(c.value >= 0 && c.value < 1e12, "%s, source %d: K %g",
                              vent_fitting_name(family), c.source, c.value);
                ck_assert(c.uncertainty >= 0 && c.uncertainty < 1e12);
            }
            fitting.source = 0;
        }
    }
}

/* Halves the way of one parameter towards where K changes most: what is left at the end is a jump. */
static inline void expect_no_jump(vent_fitting a, int which, double from, double to,
                                  double reynolds)
{
    enum { HALVINGS = 45 };
    vent_fitting b = a;
    a.geometry[which] = from;
    b.geometry[which] = to;
    double ka = k_of(a, reynolds), kb = k_of(b, reynolds);
    for (int n = 0; n < HALVINGS; ++n) {
        vent_fitting middle = a;
        middle.geometry[which] = (a.geometry[which] + b.geometry[which]) / 2;
        double k = k_of(middle, reynolds);
        bool first = fabs(k - ka) > fabs(kb - k);
        *(first ? &b : &a) = middle;
        *(first ? &kb : &ka) = k;
    }
    ck_assert_msg(fabs(kb - ka) <= 1e-5 * (fabs(ka) + 0.01),
                  "%s source %d parameter %d at %.9g: %.9g to %.9g", vent_fitting_name(a.family),
                  a.source, which, a.geometry[which], ka, kb);
}

/* No parameter makes K jump, by any source, either way. */
static inline void expect_continuous(int family, int states)
{
    random_states r = {0};
    vent_formula formula;
    for (int n = 0; n < states; ++n) {
        vent_fitting a = anywhere(family, &r), b = anywhere(family, &r);
        double reynolds = n % 2 ? 5e4 : -5e4;
        for (int s = 0; vent_fitting_formula(family, reynolds < 0, s, &formula); ++s) {
            a.source = formula.source;
            for (int i = 0; i < vent_fitting_parameter_count(family); ++i)
                expect_no_jump(a, i, a.geometry[i], b.geometry[i], reynolds);
        }
    }
}

/* Refused: below, above, and no number; the error names argument, value and bounds. */
static inline void expect_refusals(int family, vent_fitting (*make)(const double *, vent_error *),
                                   const double *good)
{
    for (int i = 0; i < vent_fitting_parameter_count(family); ++i) {
        vent_parameter_range p;
        ck_assert(vent_fitting_parameter(family, i, &p));
        const double bad[] = {p.low - 1e-6, p.high * (1 + 1e-9) + 1e-9, (double)NAN,
                              (double)INFINITY, -(double)INFINITY};
        for (size_t j = 0; j < sizeof bad / sizeof *bad; ++j) {
            double geometry[6] = {0};
            memcpy(geometry, good, sizeof geometry);
            geometry[i] = bad[j];
            vent_error err = VENT_NO_ERROR;
            vent_fitting fitting = make(geometry, &err);
            ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
            ck_assert_int_eq(fitting.family, VENT_FITTING_NONE);
            ck_assert_str_eq(err.argument, p.name);
            ck_assert(err.low == p.low && err.high == p.high);
            ck_assert(isnan(bad[j]) ? isnan(err.value) : err.value == bad[j]);
            ck_assert_ptr_nonnull(strstr(err.message, p.name));
        }
        for (int end = 0; end < 2; ++end) {
            double geometry[6];
            memcpy(geometry, good, sizeof geometry);
            geometry[i] = end ? p.high : p.low;
            vent_error err = VENT_NO_ERROR;
            ck_assert_int_eq(make(geometry, &err).family, family);
            ck_assert_int_eq(err.status, VENT_OK);
        }
    }
}

#endif
