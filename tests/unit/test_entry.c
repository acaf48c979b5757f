/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Entries: formulas against their authors, published values, limits, continuity, bad input; the
 * perforated pipe against its differential equation. */
#include "base/source_list.h"
#include "device_rows.h"
#include "physics/formulas.h"

#include <ventstack/area.h>
#include <ventstack/entry.h>
#include <ventstack/friction.h>

static const double NOT_A_NUMBER = (double)NAN;
static const double RIGHT_ANGLE = VENT_PI / 2;

/* ---- published ------------------------------------------------------------------------------ */

#define ENTRY(name, FAMILY, SOURCE)                                                                \
    {                                                                                              \
        name, VENT_FITTING_ENTRY_##FAMILY, VENT__SOURCE_##SOURCE, false                            \
    }

static const named_formula formulas[] = {
    ENTRY("reentrant idelchik", REENTRANT, IDELCHIK_PROJECTING),
    ENTRY("reentrant miller", REENTRANT, MILLER_PROJECTING),
    ENTRY("projecting idelchik", PROJECTING, IDELCHIK_PROJECTING),
    ENTRY("rounded crane", ROUNDED, CRANE_ROUNDED),
    ENTRY("rounded miller", ROUNDED, MILLER_ROUNDED),
    ENTRY("bevelled rennels", BEVELLED, RENNELS_BEVELLED),
    ENTRY("bevelled idelchik", BEVELLED, IDELCHIK_BEVEL),
    ENTRY("angled rennels", ANGLED, RENNELS_ANGLED),
    ENTRY("angled idelchik", ANGLED, IDELCHIK_ANGLED),
    ENTRY("angled weisbach", ANGLED, WEISBACH_ANGLED),
    ENTRY("flush crane", FLUSH, CRANE_FLUSH),
    ENTRY("flush miller", FLUSH, MILLER_FLUSH),
    ENTRY("bell idelchik", BELL, IDELCHIK_BELL),
    ENTRY("hole rennels", CORED_HOLE, RENNELS_THICK_EDGE),
};

START_TEST(formulas_agree_with_their_authors)
{
    expect_formulas("entries_formulas.csv", formulas, sizeof formulas / sizeof *formulas);
}
END_TEST

START_TEST(published_values_lie_where_the_uncertainty_says)
{
    expect_published("entries_published.csv", VENT_FITTING_ENTRY_FLUSH,
                     VENT_FITTING_ENTRY_CORED_HOLE);
}
END_TEST

/* ---- limits --------------------------------------------------------------------------------- */

static double by(vent_fitting fitting, int source)
{
    return k_of(vent_fitting_by_source(fitting, source, NULL), 5e4);
}

START_TEST(without_its_feature_every_entry_is_flush)
{
    const vent_fitting rennels[] = {
        vent_entry_flush(), vent_entry_bevelled(0, 0.7, NULL), vent_entry_bevelled(0.1, 0, NULL),
        vent_entry_bevelled(0.1, RIGHT_ANGLE, NULL), vent_entry_angled(RIGHT_ANGLE, NULL)};
    const int source[] = {VENT__SOURCE_RENNELS_FLUSH, VENT__SOURCE_RENNELS_BEVELLED,
                          VENT__SOURCE_RENNELS_BEVELLED, VENT__SOURCE_RENNELS_BEVELLED,
                          VENT__SOURCE_RENNELS_ANGLED};
    for (size_t i = 0; i < sizeof rennels / sizeof *rennels; ++i)
        ck_assert_double_eq_tol(by(rennels[i], source[i]), 0.57, 1e-5); /* 0.569994 */
    ck_assert_double_eq(by(vent_entry_flush(), VENT__SOURCE_IDELCHIK_FLUSH), 0.5);
    ck_assert_double_eq(by(vent_entry_projecting(0, 0, NULL), VENT__SOURCE_IDELCHIK_PROJECTING),
                        0.5);
    ck_assert_double_eq(by(vent_entry_bevelled(0, 0.7, NULL), VENT__SOURCE_IDELCHIK_BEVEL), 0.5);
    ck_assert_double_eq_tol(by(vent_entry_angled(RIGHT_ANGLE, NULL), VENT__SOURCE_IDELCHIK_ANGLED),
                            0.5, 1e-15);
}
END_TEST

/* A thin pipe far from any wall: the momentum of the jet is twice what the pipe carries on. */
START_TEST(bordas_mouthpiece_loses_one_velocity_pressure)
{
    ck_assert_double_eq(k_of(vent_entry_projecting(0.5, 0, NULL), 5e4), 1);
    ck_assert_double_eq(k_of(vent_entry_projecting(50, 0, NULL), 5e4), 1);
    ck_assert_double_eq(k_of(vent_entry_bell(0, NULL), 5e4), 1);
}
END_TEST

START_TEST(the_two_entries_before_a_wall_are_one_by_one_source)
{
    random_states r = {0};
    for (int n = 0; n < 1000; ++n) {
        double wall = random_between(&r, 0, 0.1);
        double far = by(vent_entry_reentrant(wall, NULL), VENT__SOURCE_IDELCHIK_PROJECTING);
        ck_assert_double_eq(far, k_of(vent_entry_projecting(0.5 + wall, wall, NULL), 5e4));
        double near = k_of(vent_entry_projecting(random_between(&r, 0, 0.5), wall, NULL), 5e4);
        ck_assert(near >= 0.5 && near <= far);
    }
}
END_TEST

/* A hole as wide as the pipe, in a wide pit, is the flush entry and the hole's own friction. */
START_TEST(a_hole_as_wide_as_the_pipe_is_the_flush_entry)
{
    double f = vent_friction_factor(5e4, 0);
    double k = k_of(vent_entry_cored_hole(0.1, 0.1, 100, NULL), 5e4);
    ck_assert_double_eq_tol(k, 0.5 + f, 1e-6);
    /* wider: less and less, down to the flush entry of the pipe in a floor */
    double wide = k_of(vent_entry_cored_hole(10, 0.1, 100, NULL), 5e4);
    ck_assert_double_eq_tol(wide, 0.5, 1e-4);
    /* a pit no wider than hole and pipe is the pipe */
    ck_assert_double_eq_tol(k_of(vent_entry_cored_hole(0.1, 0.1, 0.05, NULL), 5e4), f, 1e-12);
    ck_assert_double_eq_tol(k_of(vent_entry_cored_hole(0.1, 0.1, 0.05, NULL), -5e4), f, 1e-12);
}
END_TEST

START_TEST(a_hole_reversed_leaves_into_the_pit)
{
    double f = vent_friction_factor(5e4, 0);
    double k = k_of(vent_entry_cored_hole(0.1, 0.1, 100, NULL), -5e4);
    ck_assert_double_eq_tol(k, 1 + f, 1e-5);
    /* a hole wider than the pipe, in a thin slab, does not help; in a thick one it does */
    ck_assert_double_eq_tol(k_of(vent_entry_cored_hole(0.14, 0, 100, NULL), -5e4), 1, 1e-5);
    double thick = square(1 - 1 / 1.96) + square(1 / 1.96);
    double longer = k_of(vent_entry_cored_hole(0.14, 0.2, 100, NULL), -5e4);
    ck_assert_double_eq_tol(longer, thick + f * 0.2 / 0.14 / square(1.96), 1e-5);
    double small = k_of(vent_entry_cored_hole(0.1, 0, 0.1, NULL), -5e4);
    ck_assert_double_eq_tol(small, square(1 - 0.25), 1e-14); /* Borda and Carnot */
}
END_TEST

START_TEST(a_smaller_pit_brings_the_air_with_a_velocity)
{
    double last = 0;
    for (double radius = 0.05; radius <= 3; radius *= 1.2) {
        double k = k_of(vent_entry_cored_hole(0.1, 0.1, radius, NULL), 5e4);
        ck_assert_double_gt(k, last);
        last = k;
    }
    /* of half a metre it is as good as still */
    double half = k_of(vent_entry_cored_hole(0.1, 0.1, 0.5, NULL), 5e4);
    double still = k_of(vent_entry_cored_hole(0.1, 0.1, 100, NULL), 5e4);
    ck_assert_double_eq_tol(half, still, 0.01 * still);
}
END_TEST

START_TEST(a_narrower_hole_costs_more)
{
    double last = 1e9;
    for (double hole = 0.02; hole <= 0.1; hole *= 1.05) {
        double k = k_of(vent_entry_cored_hole(hole, 0.1, 0.5, NULL), 5e4);
        ck_assert_double_lt(k, last);
        last = k;
    }
    /* wider than the pipe: two smaller steps cost less than one, and a very wide one is none */
    for (double hole = 0.105; hole <= 10; hole *= 1.05) {
        double k = k_of(vent_entry_cored_hole(hole, 0.1, 100, NULL), 5e4);
        ck_assert(k > 0.4 && k < 0.5 + vent_friction_factor(5e4, 0));
    }
}
END_TEST

START_TEST(a_pit_of_known_volume_is_half_a_ball)
{
    vent_error err = VENT_NO_ERROR;
    double radius = vent_pit_radius(0.02, &err);
    ck_assert_int_eq(err.status, VENT_OK);
    ck_assert_double_eq_tol(2 * VENT_PI / 3 * pow(radius, 3), 0.02, 1e-15);
    const double bad[] = {0, -1, 1e7, NOT_A_NUMBER};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; ++i) {
        err = (vent_error)VENT_NO_ERROR;
        ck_assert(isnan(vent_pit_radius(bad[i], &err)));
        ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
        ck_assert_str_eq(err.argument, "volume");
        ck_assert(isnan(vent_pit_radius(0.02, &err))); /* an earlier failure stays */
    }
}
END_TEST

START_TEST(entries_reversed_are_exits)
{
    const vent_fitting entries[] = {vent_entry_projecting(0.1, 0.01, NULL),
                                    vent_entry_bevelled(0.1, 0.7, NULL), vent_entry_angled(1, NULL),
                                    vent_entry_bell(0.1, NULL)};
    for (size_t i = 0; i < sizeof entries / sizeof *entries; ++i) {
        vent_fitting entry = entries[i];
        entry.factor = 2;
        ck_assert_double_eq(k_of(entry, -5e4), 1);
        ck_assert_double_eq_tol(k_of(entry, 5e4), 2 * k_of(entries[i], 5e4), 1e-14);
    }
}
END_TEST

START_TEST(better_edges_cost_less)
{
    for (double radius = 0, last = 2; radius <= 0.2; radius += 0.01) {
        double k = k_of(vent_entry_bell(radius, NULL), 5e4);
        ck_assert_double_lt(k, last);
        last = k;
    }
    for (double length = 0, last = 1; length <= 0.3; length += 0.01) {
        double k = k_of(vent_entry_bevelled(length, RIGHT_ANGLE / 2, NULL), 5e4);
        ck_assert_double_lt(k, last);
        last = k;
    }
    for (double angle = 0.1, last = 2; angle <= RIGHT_ANGLE; angle += 0.05) {
        double k = k_of(vent_entry_angled(angle, NULL), 5e4);
        ck_assert_double_lt(k, last);
        last = k;
    }
}
END_TEST

/* ---- perforated pipe ------------------------------------------------------------------------ */

enum { HOLES, HOLE, LENGTH, DISCHARGE };

/* A pipe of 0.1 m bore whose holes discharge as `ratio` of its area. */
static vent_fitting perforated(double ratio, double length)
{
    double hole = 0.01, discharge = 0.6;
    double holes = ratio * square(0.1 / hole) / (discharge * length);
    vent_error err = VENT_NO_ERROR;
    vent_fitting pipe = vent_entry_perforated(holes, hole, length, discharge, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return pipe;
}

static vent__loss loss_of(vent_fitting fitting, bool reversed)
{
    vent__loss along, against;
    vent__fitting_loss(&fitting, 0.1, &along, &against);
    return reversed ? against : along;
}

/* du/ds = g sqrt(P), dP/ds = momentum u du/ds + friction u^2, from the closed end, P = 1 there, by
 * Runge and Kutta; K = P/u^2 at the open end, less or more the velocity pressure. */
typedef struct wall {
    double u, p;
} wall;

static wall slope(wall at, double g, double momentum, double friction)
{
    double inflow = g * sqrt(at.p);
    return (wall){inflow, momentum * at.u * inflow + friction * square(at.u)};
}

static wall ahead(wall at, wall along, double step)
{
    return (wall){at.u + step * along.u, at.p + step * along.p};
}

static wall open_end(double g, double momentum, double friction)
{
    enum { STEPS = 4000 };
    const double h = 1.0 / STEPS;
    wall at = {0, 1};
    for (int i = 0; i < STEPS; ++i) {
        wall a = slope(at, g, momentum, friction);
        wall b = slope(ahead(at, a, h / 2), g, momentum, friction);
        wall c = slope(ahead(at, b, h / 2), g, momentum, friction);
        wall d = slope(ahead(at, c, h), g, momentum, friction);
        at = ahead(at, (wall){a.u + 2 * b.u + 2 * c.u + d.u, a.p + 2 * b.p + 2 * c.p + d.p}, h / 6);
    }
    return at;
}

static double k_inwards(double g, double friction)
{
    wall end = open_end(g, 4, friction);
    return end.p / square(end.u) - 1;
}

static double k_outwards(double g, double friction)
{
    wall end = open_end(g, -2, friction);
    return end.p / square(end.u) + 1;
}

START_TEST(the_perforated_pipe_solves_its_equation)
{
    for (double g = 0.05; g < 3; g *= 1.3) {
        vent__loss loss = loss_of(perforated(g, 0.5), false);
        ck_assert_double_eq_tol(loss.k0, k_inwards(g, 0), 1e-8 * loss.k0);
        double first_order = (k_inwards(g, 1e-4) - k_inwards(g, -1e-4)) / 2e-4;
        ck_assert_double_eq_tol(loss.kf / 5, first_order, 1e-5);
    }
    for (double g = 0.05; g < 1.5; g *= 1.2) {
        vent__loss loss = loss_of(perforated(g, 0.5), true);
        ck_assert_double_eq_tol(loss.k0, k_outwards(g, 0), 1e-8 * loss.k0);
        double first_order = (k_outwards(g, 1e-4) - k_outwards(g, -1e-4)) / 2e-4;
        ck_assert_double_eq_tol(loss.kf / 5, first_order, 1e-5);
    }
}
END_TEST

/* As its header says: with f L/D = 1 the first order is within 2 % of K. */
START_TEST(friction_of_the_perforated_pipe_is_nearly_of_the_first_order)
{
    for (double g = 0.05; g < 5; g *= 1.3) {
        vent__loss loss = loss_of(perforated(g, 0.1), false);
        double k = k_inwards(g, 1);
        ck_assert_double_eq_tol(loss.k0 + loss.kf, k, 0.02 * k);
    }
    for (double g = 0.05; g < 1.5; g *= 1.3) {
        vent__loss loss = loss_of(perforated(g, 0.1), true);
        double k = k_outwards(g, 1);
        ck_assert_double_eq_tol(loss.k0 + loss.kf, k, 0.02 * k);
    }
}
END_TEST

START_TEST(few_holes_are_orifices_and_many_are_none)
{
    for (double g = 1e-3; g < 0.05; g *= 2)
        for (int reversed = 0; reversed < 2; ++reversed) {
            vent__loss loss = loss_of(perforated(g, 0.5), reversed);
            ck_assert_double_eq_tol(loss.k0, 1 / square(g) + 1.0 / 3, 1e-3);
            ck_assert_double_eq_tol(loss.kf, 0.25 * 5, 1e-2);
        }
    ck_assert_double_eq_tol(loss_of(perforated(5, 0.5), false).k0, 1, 1e-5);
    ck_assert_double_eq_tol(loss_of(perforated(200, 0.5), false).k0, 1, 1e-15);
    ck_assert_double_eq_tol(loss_of(perforated(2, 0.5), true).k0, 1, 1e-15);
    ck_assert_double_eq_tol(loss_of(perforated(200, 0.5), true).k0, 1, 1e-15);
}
END_TEST

/* Only the area of all holes as they discharge counts, and friction by the length. */
START_TEST(holes_count_by_their_area)
{
    vent_fitting many = vent_entry_perforated(400, 0.005, 0.5, 0.6, NULL);
    vent_fitting few = vent_entry_perforated(100, 0.01, 0.5, 0.6, NULL);
    ck_assert_double_eq_tol(k_of(many, 5e4), k_of(few, 5e4), 1e-13);
    for (int i = HOLES; i <= DISCHARGE; ++i)
        if (i != LENGTH) {
            vent_fitting more = few;
            more.geometry[i] *= 1.1;
            ck_assert_double_lt(k_of(more, 5e4), k_of(few, 5e4));
            ck_assert_double_lt(k_of(more, -5e4), k_of(few, -5e4));
        }
}
END_TEST

/* ---- properties ----------------------------------------------------------------------------- */

static const int all[] = {
    VENT_FITTING_ENTRY_FLUSH,      VENT_FITTING_ENTRY_REENTRANT,  VENT_FITTING_ENTRY_ROUNDED,
    VENT_FITTING_ENTRY_PROJECTING, VENT_FITTING_ENTRY_BEVELLED,   VENT_FITTING_ENTRY_ANGLED,
    VENT_FITTING_ENTRY_BELL,       VENT_FITTING_ENTRY_CORED_HOLE, VENT_FITTING_ENTRY_PERFORATED};
enum { ALL = sizeof all / sizeof *all };

START_TEST(coefficients_are_finite_at_random_states)
{
    expect_sane(all[_i], 3000);
}
END_TEST

START_TEST(coefficients_are_continuous)
{
    expect_continuous(all[_i], 500);
}
END_TEST

/* The corners of the tables are corners, not jumps. */
START_TEST(tables_are_continuous_at_their_nodes)
{
    static const double nodes[] = {0.002, 0.004, 0.005, 0.01, 0.02, 0.025, 0.03,
                                   0.04,  0.05,  0.06,  0.1,  0.15, 0.2,   0.5};
    for (size_t i = 0; i < sizeof nodes / sizeof *nodes; ++i) {
        double below = nodes[i] * (1 - 1e-9), above = nodes[i] * (1 + 1e-9);
        const vent_fitting pairs[][2] = {
            {vent_entry_projecting(below, 0.005, NULL), vent_entry_projecting(above, 0.005, NULL)},
            {vent_entry_projecting(0.1, below, NULL), vent_entry_projecting(0.1, above, NULL)},
            {vent_entry_bell(below, NULL), vent_entry_bell(above, NULL)},
            {vent_entry_rounded(below, NULL), vent_entry_rounded(above, NULL)},
            {vent_entry_bevelled(below, 0.5, NULL), vent_entry_bevelled(above, 0.5, NULL)}};
        for (size_t j = 0; j < sizeof pairs / sizeof *pairs; ++j) {
            if (pairs[j][1].family == VENT_FITTING_NONE)
                continue; /* no wall of more than half a bore */
            vent_formula formula;
            for (int n = 0; vent_fitting_formula(pairs[j][0].family, false, n, &formula); ++n)
                ck_assert_double_eq_tol(by(pairs[j][0], formula.source),
                                        by(pairs[j][1], formula.source), 1e-7);
        }
    }
}
END_TEST

/* ---- bad input ------------------------------------------------------------------------------ */

static vent_fitting make_projecting(const double *g, vent_error *err)
{
    return vent_entry_projecting(g[0], g[1], err);
}

static vent_fitting make_bevelled(const double *g, vent_error *err)
{
    return vent_entry_bevelled(g[0], g[1], err);
}

static vent_fitting make_angled(const double *g, vent_error *err)
{
    return vent_entry_angled(g[0], err);
}

static vent_fitting make_bell(const double *g, vent_error *err)
{
    return vent_entry_bell(g[0], err);
}

static vent_fitting make_hole(const double *g, vent_error *err)
{
    return vent_entry_cored_hole(g[0], g[1], g[2], err);
}

static vent_fitting make_perforated(const double *g, vent_error *err)
{
    return vent_entry_perforated(g[0], g[1], g[2], g[3], err);
}

START_TEST(bad_geometry_is_refused_by_name)
{
    expect_refusals(VENT_FITTING_ENTRY_PROJECTING, make_projecting, (double[6]){0.1, 0.01});
    expect_refusals(VENT_FITTING_ENTRY_BEVELLED, make_bevelled, (double[6]){0.1, 0.5});
    expect_refusals(VENT_FITTING_ENTRY_ANGLED, make_angled, (double[6]){0.7});
    expect_refusals(VENT_FITTING_ENTRY_BELL, make_bell, (double[6]){0.1});
    expect_refusals(VENT_FITTING_ENTRY_CORED_HOLE, make_hole, (double[6]){0.0015, 0.1, 50});
    expect_refusals(VENT_FITTING_ENTRY_PERFORATED, make_perforated, (double[6]){50, 0.01, 1, 0.6});
}
END_TEST

START_TEST(a_pit_is_no_narrower_than_its_hole)
{
    vent_error err = VENT_NO_ERROR;
    vent_fitting hole = vent_entry_cored_hole(0.1, 0.1, 0.049, &err);
    ck_assert_int_eq(hole.family, VENT_FITTING_NONE);
    ck_assert(isnan(hole.factor));
    ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
    ck_assert_str_eq(err.argument, "pit_radius");
    ck_assert_double_eq(err.low, 0.05);
    ck_assert_double_eq(err.value, 0.049);
}
END_TEST

START_TEST(what_leaves_the_source_is_flagged)
{
    const struct {
        vent_fitting fitting;
        double reynolds;
        uint32_t flags;
    } cases[] = {
        {vent_entry_bevelled(0.6, 0.5, NULL), 5e4, 0},
        {vent_entry_bevelled(0.61, 0.5, NULL), 5e4, VENT_COEFFICIENT_GEOMETRY_OUTSIDE},
        {vent_entry_angled(VENT_RADIANS(20), NULL), 5e4, 0},
        {vent_entry_angled(VENT_RADIANS(19), NULL), 5e4, VENT_COEFFICIENT_GEOMETRY_OUTSIDE},
        {vent_entry_bell(0.1, NULL), 9e3, VENT_COEFFICIENT_REYNOLDS_OUTSIDE},
        {vent_entry_perforated(50, 0.01, 1, 0.6, NULL), 5e4, 0},
        {vent_entry_perforated(50, 0.01, 1, 0.3, NULL), 5e4, VENT_COEFFICIENT_GEOMETRY_OUTSIDE},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; ++i)
        ck_assert_msg(at_state(cases[i].fitting, 0.1, cases[i].reynolds).flags == cases[i].flags,
                      "case %zu", i);
}
END_TEST

Suite *entry_suite(void)
{
    Suite *suite = suite_create("entry");
    TCase *published = tcase_create("published");
    tcase_add_test(published, formulas_agree_with_their_authors);
    tcase_add_test(published, published_values_lie_where_the_uncertainty_says);
    suite_add_tcase(suite, published);
    TCase *limits = tcase_create("limits");
    tcase_add_test(limits, without_its_feature_every_entry_is_flush);
    tcase_add_test(limits, bordas_mouthpiece_loses_one_velocity_pressure);
    tcase_add_test(limits, the_two_entries_before_a_wall_are_one_by_one_source);
    tcase_add_test(limits, a_hole_as_wide_as_the_pipe_is_the_flush_entry);
    tcase_add_test(limits, a_hole_reversed_leaves_into_the_pit);
    tcase_add_test(limits, a_smaller_pit_brings_the_air_with_a_velocity);
    tcase_add_test(limits, a_narrower_hole_costs_more);
    tcase_add_test(limits, a_pit_of_known_volume_is_half_a_ball);
    tcase_add_test(limits, entries_reversed_are_exits);
    tcase_add_test(limits, better_edges_cost_less);
    suite_add_tcase(suite, limits);
    TCase *holes = tcase_create("perforated pipe");
    tcase_add_test(holes, the_perforated_pipe_solves_its_equation);
    tcase_add_test(holes, friction_of_the_perforated_pipe_is_nearly_of_the_first_order);
    tcase_add_test(holes, few_holes_are_orifices_and_many_are_none);
    tcase_add_test(holes, holes_count_by_their_area);
    suite_add_tcase(suite, holes);
    TCase *properties = tcase_create("properties");
    tcase_add_loop_test(properties, coefficients_are_finite_at_random_states, 0, ALL);
    tcase_add_loop_test(properties, coefficients_are_continuous, 0, ALL);
    tcase_add_test(properties, tables_are_continuous_at_their_nodes);
    suite_add_tcase(suite, properties);
    TCase *bad = tcase_create("bad input");
    tcase_add_test(bad, bad_geometry_is_refused_by_name);
    tcase_add_test(bad, a_pit_is_no_narrower_than_its_hole);
    tcase_add_test(bad, what_leaves_the_source_is_flagged);
    suite_add_tcase(suite, bad);
    return suite;
}
