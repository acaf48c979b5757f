/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What all families share: whose formula gives the value, what the others say, what does not fit the
 * solver's form. */
#include "physics/family.h"
#include "random.h"
#include "suites.h"

#include <string.h>
#include <ventstack/area.h>
#include <ventstack/bend.h>
#include <ventstack/entry.h>
#include <ventstack/units.h>

static vent_pipe round_pipe(double bore)
{
    return (vent_pipe){.shape = VENT_PIPE_ROUND, .width = bore, .depth = bore};
}

/* ---- a family made up for the test ----------------------------------------------------------- */

static vent__loss first(const double *geometry, double bore)
{
    (void)bore;
    return (vent__loss){.k0 = geometry[0], .k1 = 100, .kf = 2};
}

static vent__loss second(const double *geometry, double bore)
{
    (void)bore;
    return (vent__loss){.k0 = 2 * geometry[0]};
}

static vent__slope falling(const double *geometry, double bore, double reynolds)
{
    double k = geometry[0] * bore / sqrt(reynolds);
    return (vent__slope){k, -k / (2 * reynolds)};
}

enum { PLAIN_SOURCE = 5, FIRST = 1, SECOND = 2 };

static const vent__law both = {
    .plain = 1,
    .plain_uncertainty = 0.3,
    .plain_source = PLAIN_SOURCE,
    .relative = 0.1,
    .formula = {{FIRST, 1e3, 1e5, first, NULL, NULL}, {SECOND, 1e4, 1e6, second, NULL, falling}}};
static const vent__law alone = {.relative = 0.1, .formula = {{FIRST, 1e3, 1e5, first, NULL, NULL}}};
static const vent__family made_up = {.name = "made up",
                                     .along = &both,
                                     .against = &alone,
                                     .parameters = 1,
                                     .parameter = {{"size", "", 0, 10, 1, 5}}};

static const double GEOMETRY[] = {3}, BORE = 0.1, REYNOLDS = 1e4, FRICTION = 0.02, FACTOR = 2;

static vent__part part_by(int source)
{
    return (vent__part){&made_up, GEOMETRY, FACTOR, source};
}

START_TEST(what_does_not_fit_the_form_stands_beside_it)
{
    vent__part part = part_by(SECOND), by_default = part_by(0);
    ck_assert(vent__family_has_extra(&part, BORE) && !vent__family_has_extra(&by_default, BORE));
    vent__loss along, against;
    vent__family_loss(&part, BORE, &along, &against);
    vent__slope extra = vent__family_extra(&part, BORE, REYNOLDS);
    ck_assert_double_eq(along.k0, 1 + FACTOR * 6);
    ck_assert_double_eq_tol(extra.value, FACTOR * 3 * BORE / 100, 1e-15);
    double step = 1, up = vent__family_extra(&part, BORE, REYNOLDS + step).value,
           down = vent__family_extra(&part, BORE, REYNOLDS - step).value;
    ck_assert_double_eq_tol(extra.slope, (up - down) / (2 * step), 1e-6 * fabs(extra.slope));
    vent_coefficient c = vent__family_state(&part, BORE, REYNOLDS, FRICTION);
    ck_assert_double_eq_tol(c.value, along.k0 + extra.value, 1e-15);
    /* reversed, the law has no formula by that source and nothing beside the form */
    ck_assert_double_eq(vent__family_extra(&part, BORE, -REYNOLDS).value, 0);
    ck_assert_double_eq(vent__family_extra(&by_default, BORE, REYNOLDS).slope, 0);
    ck_assert_int_eq(vent__family_state(&part, BORE, -REYNOLDS, FRICTION).source, FIRST);
}
END_TEST

START_TEST(the_spread_of_all_is_in_the_uncertainty_of_each)
{
    double k[] = {3 + 100 / REYNOLDS + 2 * FRICTION, 6 + 3 * BORE / 100};
    for (int i = 0; i < 2; ++i) {
        vent__part part = part_by(i + 1);
        vent_coefficient c = vent__family_state(&part, BORE, REYNOLDS, FRICTION);
        ck_assert_double_eq_tol(c.value, 1 + FACTOR * k[i], 1e-14);
        double spread = hypot(0.1 * k[i], (k[1] - k[0]) / 2);
        ck_assert_double_eq_tol(c.uncertainty, hypot(0.3, FACTOR * spread), 1e-14);
        ck_assert_int_eq(c.source, i + 1);
        ck_assert_uint_eq(c.flags, 0);
    }
}
END_TEST

START_TEST(each_source_has_its_own_range)
{
    const struct {
        int source;
        double reynolds;
        bool outside;
    } cases[] = {{FIRST, 999, true},   {FIRST, 1e3, false},  {FIRST, 2e5, true},
                 {SECOND, 1e3, true},  {SECOND, 2e5, false}, {SECOND, 2e6, true},
                 {SECOND, -2e5, true}, {0, 2e5, true}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; ++i) {
        vent__part part = part_by(cases[i].source);
        uint32_t flags = vent__family_state(&part, BORE, cases[i].reynolds, FRICTION).flags;
        ck_assert_uint_eq(flags, cases[i].outside ? VENT_COEFFICIENT_REYNOLDS_OUTSIDE : 0);
    }
    ck_assert_int_eq(vent__family_plain_source(&made_up, false), PLAIN_SOURCE);
    ck_assert_int_eq(vent__family_plain_source(&made_up, true), 0);
}
END_TEST

/* ---- the library's families ------------------------------------------------------------------ */

/* A value well inside a parameter's range: in the middle, by decades where the range spans them. */
static double inside(const vent_parameter_range *p)
{
    double low = p->source_low, high = p->source_high;
    return low > 0 && high / low > 100 ? sqrt(low * high) : (low + high) / 2;
}

static vent_fitting fitting_of(int family)
{
    vent_fitting fitting = {.family = family, .factor = 1};
    vent_parameter_range p;
    for (int i = 0; vent_fitting_parameter(family, i, &p); ++i)
        fitting.geometry[i] = inside(&p);
    return fitting;
}

static vent_termination termination_of(int family)
{
    vent_termination termination = {.family = family, .factor = 1};
    vent_parameter_range p;
    for (int i = 0; vent_termination_parameter(family, i, &p); ++i)
        termination.geometry[i] = inside(&p);
    return termination;
}

static bool same(vent_coefficient a, vent_coefficient b)
{
    return memcmp(&a, &b, sizeof a) == 0;
}

enum { MOST = 8 };

/* What holds for the alternatives of any part, however it was made. */
static void check_list(const vent_coefficient *list, int count, int reversed,
                       bool (*formula)(int, bool, int, vent_formula *), int family)
{
    double low = INFINITY, high = -INFINITY;
    ck_assert(count >= 1 && count <= MOST);
    for (int i = 0; i < count; ++i) {
        vent_formula told;
        ck_assert(formula(family, reversed, i, &told));
        ck_assert_int_eq(told.source, list[i].source);
        ck_assert(told.reynolds_low < told.reynolds_high);
        ck_assert(isfinite(list[i].value) && list[i].uncertainty >= 0);
        for (int j = 0; j < i; ++j)
            ck_assert_int_ne(list[i].source, list[j].source);
        low = fmin(low, list[i].value);
        high = fmax(high, list[i].value);
    }
    vent_formula none = {.source = -7};
    ck_assert(!formula(family, reversed, count, &none) && !formula(family, reversed, -1, &none));
    ck_assert_int_eq(none.source, -7);
    for (int i = 0; i < count; ++i)
        ck_assert_double_ge(list[i].uncertainty, (high - low) / 2 * (1 - 1e-12));
}

START_TEST(every_source_of_a_fitting_can_be_had)
{
    vent_pipe pipe = round_pipe(0.02); /* smaller than the other bore: it grows along the run */
    ck_assert_int_eq(vent_fitting_family_count(), VENT_FITTING_END - 1);
    for (int family = 1; family <= vent_fitting_family_count(); ++family)
        for (int reversed = 0; reversed <= 1; ++reversed) {
            double reynolds = reversed ? -5e4 : 5e4;
            vent_error err = VENT_NO_ERROR;
            vent_fitting fitting = fitting_of(family);
            vent_coefficient list[MOST];
            int count = vent_fitting_alternatives(fitting, pipe, reynolds, MOST, list, &err);
            ck_assert_msg(err.status == VENT_OK, "%s", err.message);
            check_list(list, count, reversed, vent_fitting_formula, family);
            ck_assert(same(list[0], vent_fitting_coefficient(fitting, pipe, reynolds, &err)));
            for (int i = 0; i < count; ++i) {
                vent_fitting by = vent_fitting_by_source(fitting, list[i].source, &err);
                ck_assert_int_eq(by.source, list[i].source);
                ck_assert(same(list[i], vent_fitting_coefficient(by, pipe, reynolds, &err)));
                vent_coefficient again[MOST];
                ck_assert_int_eq(vent_fitting_alternatives(by, pipe, reynolds, MOST, again, &err),
                                 count);
                ck_assert(memcmp(list, again, (size_t)count * sizeof *list) == 0);
            }
            ck_assert_int_eq(err.status, VENT_OK);
        }
}
END_TEST

START_TEST(every_source_of_a_termination_can_be_had)
{
    vent_pipe pipe = round_pipe(0.1);
    ck_assert_int_eq(vent_termination_family_count(), VENT_TERMINATION_END - 1);
    for (int family = 1; family <= vent_termination_family_count(); ++family)
        for (int reversed = 0; reversed <= 1; ++reversed) {
            double reynolds = reversed ? -5e4 : 5e4;
            vent_error err = VENT_NO_ERROR;
            vent_termination top = termination_of(family);
            vent_coefficient list[MOST];
            int count = vent_termination_alternatives(top, pipe, reynolds, MOST, list, &err);
            ck_assert_msg(err.status == VENT_OK, "%s", err.message);
            check_list(list, count, reversed, vent_termination_formula, family);
            for (int i = 0; i < count; ++i) {
                vent_termination by = vent_termination_by_source(top, list[i].source, &err);
                ck_assert_int_eq(by.source, list[i].source);
                ck_assert(same(list[i], vent_termination_coefficient(by, pipe, reynolds, &err)));
            }
            ck_assert_int_eq(err.status, VENT_OK);
        }
}
END_TEST

START_TEST(the_default_comes_back)
{
    vent_fitting elbow = vent_elbow(VENT_RADIANS(90), 1.5, NULL);
    vent_fitting by = vent_fitting_by_source(elbow, VENT__SOURCE_IDELCHIK_BEND, NULL);
    vent_fitting back = vent_fitting_by_source(by, 0, NULL);
    ck_assert(memcmp(&elbow, &back, sizeof elbow) == 0);
    vent_pipe pipe = round_pipe(0.1);
    ck_assert_double_ne(vent_fitting_coefficient(by, pipe, 5e4, NULL).value,
                        vent_fitting_coefficient(elbow, pipe, 5e4, NULL).value);
}
END_TEST

START_TEST(a_factor_multiplies_every_alternative)
{
    vent_pipe pipe = round_pipe(0.1);
    vent_fitting elbow = vent_elbow(VENT_RADIANS(90), 1.5, NULL), twice = elbow;
    vent_coefficient plain[2], doubled[2];
    int count = vent_fitting_alternatives(elbow, pipe, 5e4, 0, NULL, NULL);
    twice.factor = 2;
    ck_assert_int_eq(vent_fitting_alternatives(elbow, pipe, 5e4, 2, plain, NULL), count);
    ck_assert_int_eq(vent_fitting_alternatives(twice, pipe, 5e4, 2, doubled, NULL), count);
    for (int i = 0; i < 2; ++i)
        ck_assert_double_eq_tol(doubled[i].value, 2 * plain[i].value, 1e-14);
}
END_TEST

/* ---- bad input ------------------------------------------------------------------------------- */

START_TEST(a_source_without_a_formula_is_refused_and_those_with_one_listed)
{
    vent_error err = VENT_NO_ERROR;
    vent_fitting elbow = vent_elbow(1, 1.5, &err);
    vent_fitting by = vent_fitting_by_source(elbow, VENT__SOURCE_EXIT, &err);
    ck_assert_int_eq(by.family, VENT_FITTING_NONE);
    ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
    ck_assert_str_eq(err.argument, "source");
    ck_assert_double_eq(err.value, VENT__SOURCE_EXIT);
    ck_assert_ptr_nonnull(strstr(err.message, "elbow"));
    ck_assert_ptr_nonnull(strstr(err.message, "1 (D. C. Rennels, H. M. Hudson, 2012)"));
    ck_assert_ptr_nonnull(strstr(err.message, "2 (I. E. Idelchik, 2006)"));
    ck_assert_int_eq(vent_fitting_by_source(elbow, 0, &err).family,
                     VENT_FITTING_NONE); /* chained */
    err = (vent_error)VENT_NO_ERROR;
    vent_termination top = vent_termination_by_source(vent_open_end(), 1, &err);
    ck_assert_int_eq(top.family, VENT_TERMINATION_NONE);
    ck_assert_str_eq(err.argument, "source");
    const int never[] = {-1, -2147483647 - 1, 2147483647};
    for (int i = 0; i < 3; ++i)
        ck_assert_int_eq(vent_fitting_by_source(elbow, never[i], NULL).family, VENT_FITTING_NONE);
    elbow.source = VENT__SOURCE_EXIT; /* set by hand */
    ck_assert(isnan(vent_fitting_coefficient(elbow, round_pipe(0.1), 5e4, NULL).value));
}
END_TEST

START_TEST(a_list_needs_room_and_a_real_state)
{
    vent_fitting elbow = vent_elbow(1, 1.5, NULL);
    vent_pipe pipe = round_pipe(0.1);
    vent_coefficient list[2] = {{.source = -7}, {.source = -7}};
    int count = vent_fitting_alternatives(elbow, pipe, 5e4, 0, NULL, NULL);
    ck_assert_int_ge(count, 2);
    ck_assert_int_eq(vent_fitting_alternatives(elbow, pipe, 5e4, 1, list, NULL), count);
    ck_assert_int_eq(list[0].source, VENT__SOURCE_RENNELS_BEND);
    ck_assert_int_eq(list[1].source, -7);
    list[0].source = -7;
    const struct {
        vent_fitting fitting;
        double reynolds;
        int room;
        vent_coefficient *list;
        const char *argument;
    } bad[] = {{elbow, 5e4, -1, list, "room"},
               {elbow, 5e4, 1, NULL, "list"},
               {elbow, NAN, 2, list, "reynolds"},
               {{0}, 5e4, 2, list, "fitting"}};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; ++i) {
        vent_error err = VENT_NO_ERROR;
        ck_assert_int_eq(vent_fitting_alternatives(bad[i].fitting, pipe, bad[i].reynolds,
                                                   bad[i].room, bad[i].list, &err),
                         0);
        ck_assert_str_eq(err.argument, bad[i].argument);
        ck_assert_int_eq(list[0].source, -7);
    }
}
END_TEST

/* ---- which coefficients depend on the bore --------------------------------------------------- */

static bool is_same(vent__loss a, vent__loss b)
{
    return a.k0 == b.k0 && a.k1 == b.k1 && a.kf == b.kf;
}

/* Draws a geometry within the source's bounds, of which all are wider than 0. */
static void draw_geometry(double *geometry, int family, random_states *state,
                          bool range(int, int, vent_parameter_range *))
{
    vent_parameter_range r;
    for (int i = 0; range(family, i, &r); ++i)
        geometry[i] = random_between(state, r.source_low, r.source_high);
}

typedef void loss_law(const void *part, double bore, vent__loss *along, vent__loss *against);

/* True if the loss is the same in any bore. */
static bool is_of_any_bore(const void *part, loss_law law, random_states *state)
{
    vent__loss along, against, other_along, other_against;
    law(part, 0.1, &along, &against);
    for (int i = 0; i < 20; ++i) {
        law(part, random_decades(state, 1e-3, 5), &other_along, &other_against);
        if (!is_same(along, other_along) || !is_same(against, other_against))
            return false;
    }
    return true;
}

static void fitting_law(const void *part, double bore, vent__loss *along, vent__loss *against)
{
    vent__fitting_loss(part, bore, along, against);
}

static void termination_law(const void *part, double bore, vent__loss *along, vent__loss *against)
{
    vent__termination_loss(part, bore, along, against);
}

/* Whoever is said not to feel the bore has one loss in every bore; whoever does has another somewhere. */
START_TEST(whoever_does_not_feel_the_bore_is_the_same_in_any)
{
    random_states state = {1};
    int feel = 0, do_not = 0;
    for (int family = 1; family < VENT_FITTING_END; ++family)
        for (int drawn = 0; drawn < 60; ++drawn) {
            vent_formula formula = {0};
            vent_fitting fitting = {.family = family, .factor = 1};
            draw_geometry(fitting.geometry, family, &state, vent_fitting_parameter);
            if (drawn && vent_fitting_formula(family, drawn & 1, (drawn >> 1) % 6, &formula))
                fitting.source = formula.source;
            if (!vent__fitting_check(&fitting, "test", NULL))
                continue;
            bool feels = vent__fitting_feels_bore(&fitting);
            ck_assert_msg(feels || is_of_any_bore(&fitting, fitting_law, &state), "%s by source %d",
                          vent_fitting_name(family), fitting.source);
            feel += feels;
            do_not += !feels;
        }
    for (int family = 1; family < VENT_TERMINATION_END; ++family)
        for (int drawn = 0; drawn < 60; ++drawn) {
            vent_formula formula = {0};
            vent_termination end = {.family = family, .factor = 1};
            draw_geometry(end.geometry, family, &state, vent_termination_parameter);
            if (drawn && vent_termination_formula(family, drawn & 1, (drawn >> 1) % 6, &formula))
                end.source = formula.source;
            if (!vent__termination_check(&end, "test", NULL))
                continue;
            bool feels = vent__termination_feels_bore(&end);
            ck_assert_msg(feels || is_of_any_bore(&end, termination_law, &state), "%s by source %d",
                          vent_termination_name(family), end.source);
        }
    ck_assert(feel > 300 && do_not > 300);
}
END_TEST

Suite *family_suite(void)
{
    Suite *suite = suite_create("family");
    TCase *shared = tcase_create("shared");
    tcase_add_test(shared, what_does_not_fit_the_form_stands_beside_it);
    tcase_add_test(shared, the_spread_of_all_is_in_the_uncertainty_of_each);
    tcase_add_test(shared, each_source_has_its_own_range);
    suite_add_tcase(suite, shared);
    TCase *sources = tcase_create("sources");
    tcase_add_test(sources, every_source_of_a_fitting_can_be_had);
    tcase_add_test(sources, every_source_of_a_termination_can_be_had);
    tcase_add_test(sources, the_default_comes_back);
    tcase_add_test(sources, a_factor_multiplies_every_alternative);
    suite_add_tcase(suite, sources);
    TCase *bores = tcase_create("bores");
    tcase_add_test(bores, whoever_does_not_feel_the_bore_is_the_same_in_any);
    suite_add_tcase(suite, bores);
    TCase *bad = tcase_create("bad input");
    tcase_add_test(bad, a_source_without_a_formula_is_refused_and_those_with_one_listed);
    tcase_add_test(bad, a_list_needs_room_and_a_real_state);
    suite_add_tcase(suite, bad);
    return suite;
}
