/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a published value lies: within twice the uncertainty that a coefficient states of itself, or
 * beyond. What the spread among authors adds to it is taken off here: it is as wide as the authors
 * are apart, so that with it no row of theirs could fail. */
#ifndef VENT_TEST_PUBLISHED_H
#define VENT_TEST_PUBLISHED_H

#include "csv.h"
#include "physics/laws.h"
#include "suites.h"

#include <string.h>
#include <ventstack/fitting.h>
#include <ventstack/termination.h>

/* The least and the greatest value by any author's formula. */
typedef struct authors {
    double least, most;
} authors;

static inline authors also(authors a, double k)
{
    return (authors){fmin(a.least, k), fmax(a.most, k)};
}

static inline double without_spread(double uncertainty, authors a)
{
    double half = (a.most - a.least) / 2;
    return sqrt(fmax(uncertainty * uncertainty - half * half, 0));
}

/* A formula that the law at work does not have gives the default's value, which is in already. */
static inline double own_of_fitting(vent_fitting fitting, double bore, double reynolds,
                                    double friction)
{
    vent_coefficient c = vent__fitting_state(&fitting, bore, reynolds, friction);
    authors a = {c.value, c.value};
    vent_formula formula;
    for (int reversed = 0; reversed < 2; ++reversed)
        for (int i = 0; vent_fitting_formula(fitting.family, reversed, i, &formula); ++i) {
            fitting.source = formula.source;
            a = also(a, vent__fitting_state(&fitting, bore, reynolds, friction).value);
        }
    return without_spread(c.uncertainty, a);
}

static inline double own_of_termination(vent_termination termination, double bore, double reynolds,
                                        double friction)
{
    vent_coefficient c = vent__termination_state(&termination, bore, reynolds, friction);
    authors a = {c.value, c.value};
    vent_formula formula;
    for (int reversed = 0; reversed < 2; ++reversed)
        for (int i = 0; vent_termination_formula(termination.family, reversed, i, &formula); ++i) {
            termination.source = formula.source;
            a = also(a, vent__termination_state(&termination, bore, reynolds, friction).value);
        }
    return without_spread(c.uncertainty, a);
}

/* The row's value k lies where its column `expect` says, and where it does not agree says why. */
static inline void expect_place(const csv *table, double ours, double own)
{
    double apart = csv_number(table, "k") - ours, band = 2 * own + 1e-9 * fabs(ours);
    const char *expected = csv_text(table, "expect");
    const char *found = apart > band ? "higher" : apart < -band ? "lower" : "agree";
    ck_assert_msg(strcmp(found, expected) == 0, "%s: %s, not %s: ours %.4g +- %.2g",
                  csv_where(table), found, expected, ours, own);
    ck_assert_msg((strcmp(found, "agree") == 0) == !csv_has(table, "note"), "%s: reason",
                  csv_where(table));
}

#endif
