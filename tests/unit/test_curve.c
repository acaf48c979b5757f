/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Curves: against GSL's Steffen interpolation, shape, continuation, sums, inverses. */
#include "numeric/curve.h"
#include "random.h"
#include "refuse.h"
#include "suites.h"

#include <float.h>
#include <gsl/gsl_interp.h>
#include <stdlib.h>

enum { MOST = 24 };

typedef struct data {
    size_t n;
    double x[MOST], y[MOST];
} data;

static size_t count_between(random_states *r, int least, int most)
{
    return (size_t)random_between(r, least, most + 1 - 1e-9);
}

static data any_data(random_states *r)
{
    data d = {.n = count_between(r, 3, MOST)};
    double x = random_between(r, -1, 1);
    for (size_t i = 0; i < d.n; ++i) {
        d.x[i] = x;
        d.y[i] =
            random_between(r, -1, 1) < 0.8 || i == 0 ? random_between(r, -300, 400) : d.y[i - 1];
        x += random_decades(r, 1e-3, 1);
    }
    return d;
}

static data falling_data(random_states *r)
{
    data d = any_data(r);
    for (size_t i = 1; i < d.n; ++i)
        d.y[i] = d.y[i - 1] - random_decades(r, 1e-4, 100);
    return d;
}

static double scale_of(const data *d)
{
    double scale = 0;
    for (size_t i = 0; i < d->n; ++i)
        scale = fmax(scale, fabs(d->y[i]));
    return scale;
}

static double steepest(const data *d)
{
    double slope = 0;
    for (size_t i = 1; i < d->n; ++i)
        slope = fmax(slope, fabs((d->y[i] - d->y[i - 1]) / (d->x[i] - d->x[i - 1])));
    return slope;
}

static double value_at(const vent__curve *curve, double x)
{
    double slope;
    return vent__curve_at(curve, x, &slope);
}

static double slope_at(const vent__curve *curve, double x)
{
    double slope;
    vent__curve_at(curve, x, &slope);
    return slope;
}

/* ---- Steffen -------------------------------------------------------------------------------- */

/* An independent program of the same method; its slope at an end is the chord's, too. */
START_TEST(values_and_slopes_are_those_of_gsl)
{
    random_states r = {0};
    for (int trial = 0; trial < 500; ++trial) {
        data d = any_data(&r);
        vent__curve *curve = vent__curve_steffen(d.n, d.x, d.y);
        gsl_interp *peer = gsl_interp_alloc(gsl_interp_steffen, d.n);
        gsl_interp_init(peer, d.x, d.y, d.n);
        double scale = scale_of(&d), steep = steepest(&d);
        for (int i = 0; i < 200; ++i) {
            double x = i < (int)d.n ? d.x[i] : random_between(&r, d.x[0], d.x[d.n - 1]);
            double slope, value = vent__curve_at(curve, x, &slope);
            double want = gsl_interp_eval(peer, d.x, d.y, x, NULL);
            double want_slope = gsl_interp_eval_deriv(peer, d.x, d.y, x, NULL);
            ck_assert_double_le(fabs(value - want), 1e-14 * scale);
            ck_assert_double_le(fabs(slope - want_slope), 1e-14 * steep);
        }
        gsl_interp_free(peer);
        vent__curve_free(curve);
    }
}
END_TEST

START_TEST(it_passes_through_the_points)
{
    random_states r = {0};
    for (int trial = 0; trial < 200; ++trial) {
        data d = any_data(&r);
        vent__curve *curve = vent__curve_steffen(d.n, d.x, d.y);
        for (size_t i = 0; i < d.n; ++i) {
            double slope, slope_there, knot = vent__curve_knot(curve, i, &slope);
            ck_assert_double_eq(vent__curve_at(curve, d.x[i], &slope_there), d.y[i]);
            ck_assert_double_eq(knot, d.y[i]);
            ck_assert_double_eq(slope, slope_there);
        }
        vent__curve_free(curve);
    }
}
END_TEST

START_TEST(between_two_points_it_keeps_between_their_values)
{
    random_states r = {0};
    for (int trial = 0; trial < 300; ++trial) {
        data d = any_data(&r);
        vent__curve *curve = vent__curve_steffen(d.n, d.x, d.y);
        double rounding = 1e-14 * scale_of(&d);
        for (size_t i = 1; i < d.n; ++i) {
            double rise = d.y[i] - d.y[i - 1], before = d.y[i - 1];
            for (int j = 1; j <= 64; ++j) {
                double x = d.x[i - 1] + (d.x[i] - d.x[i - 1]) * j / 64;
                double value = value_at(curve, x);
                ck_assert_double_ge((value - before) * copysign(1, rise), -rounding);
                ck_assert_double_le(fabs(value - d.y[i - 1]), fabs(rise) + rounding);
                before = value;
            }
        }
        vent__curve_free(curve);
    }
}
END_TEST

START_TEST(it_is_exact_for_a_parabola_inside_and_for_a_line)
{
    const double x[] = {1, 2, 3, 4, 5, 6};
    double parabola[6], line[6];
    for (int i = 0; i < 6; ++i) {
        parabola[i] = 7 + 2 * x[i] - 3 * x[i] * x[i];
        line[i] = 5 - 4 * x[i];
    }
    vent__curve *curve = vent__curve_steffen(6, x, parabola);
    for (double at = 2; at <= 5; at += 0.0625) {
        ck_assert_double_eq_tol(value_at(curve, at), 7 + 2 * at - 3 * at * at, 1e-12);
        ck_assert_double_eq_tol(slope_at(curve, at), 2 - 6 * at, 1e-12);
    }
    vent__curve_free(curve);
    curve = vent__curve_steffen(6, x, line);
    for (double at = -5; at <= 12; at += 0.125)
        ck_assert_double_eq_tol(value_at(curve, at), 5 - 4 * at, 1e-13);
    vent__curve_free(curve);
}
END_TEST

START_TEST(two_points_make_a_line)
{
    vent__curve *curve = vent__curve_steffen(2, (const double[]){1, 3}, (const double[]){10, 4});
    for (double at = -2; at <= 6; at += 0.25)
        ck_assert_double_eq_tol(value_at(curve, at), 13 - 3 * at, 1e-13);
    vent__curve_free(curve);
}
END_TEST

/* ---- reading -------------------------------------------------------------------------------- */

START_TEST(the_slope_is_the_derivative_and_has_no_jumps)
{
    random_states r = {0};
    for (int trial = 0; trial < 300; ++trial) {
        data d = any_data(&r);
        vent__curve *curve = vent__curve_steffen(d.n, d.x, d.y);
        double steep = steepest(&d);
        for (size_t i = 0; i < d.n; ++i) {
            double gap = i ? d.x[i] - d.x[i - 1] : d.x[1] - d.x[0], step = 1e-9 * gap;
            /* within 1e-9 of the gap the slope moves by that share of the second derivative, which is at most 12 */
            ck_assert_double_eq_tol(slope_at(curve, d.x[i] - step), slope_at(curve, d.x[i]),
                                    2e-8 * steep);
        }
        for (int i = 0; i < 50; ++i) {
            double x = random_between(&r, d.x[0] - 1, d.x[d.n - 1] + 1), step = 1e-5;
            size_t knots_near = 0;
            for (size_t k = 0; k < d.n; ++k)
                knots_near += fabs(d.x[k] - x) <= step;
            if (knots_near)
                continue;
            double low = x - step, high = x + step;
            double difference = (value_at(curve, high) - value_at(curve, low)) / (high - low);
            double bend = 0; /* a cubic's difference is off by its third coefficient */
            for (size_t k = 0; k <= d.n; ++k)
                bend = fmax(bend, fabs(curve->piece[k].c[3]));
            ck_assert_double_eq_tol(difference, slope_at(curve, x),
                                    1.001 * bend * step * step +
                                        4e-15 * (scale_of(&d) + steep) / step);
        }
        vent__curve_free(curve);
    }
}
END_TEST

START_TEST(past_its_ends_it_is_the_tangent)
{
    random_states r = {0};
    for (int trial = 0; trial < 200; ++trial) {
        data d = any_data(&r);
        vent__curve *curve = vent__curve_steffen(d.n, d.x, d.y);
        size_t last = d.n - 1;
        double low_slope = (d.y[1] - d.y[0]) / (d.x[1] - d.x[0]);
        double high_slope = (d.y[last] - d.y[last - 1]) / (d.x[last] - d.x[last - 1]);
        for (double out = 0; out < 100; out = 2 * out + 0.01) {
            double low = value_at(curve, d.x[0] - out), high = value_at(curve, d.x[last] + out);
            ck_assert_double_eq_tol(low, d.y[0] - out * low_slope,
                                    1e-13 * (fabs(d.y[0]) + (out + 1) * fabs(low_slope)));
            ck_assert_double_eq_tol(high, d.y[last] + out * high_slope,
                                    1e-13 * (fabs(d.y[last]) + (out + 20) * fabs(high_slope)));
            ck_assert_double_eq(slope_at(curve, d.x[0] - out), low_slope);
            ck_assert_double_eq(slope_at(curve, d.x[last] + out), high_slope);
        }
        vent__curve_free(curve);
    }
}
END_TEST

START_TEST(nan_gives_nan)
{
    vent__curve *curve =
        vent__curve_steffen(3, (const double[]){0, 1, 2}, (const double[]){3, 2, 0});
    ck_assert_double_nan(value_at(curve, (double)NAN));
    ck_assert_double_nan(slope_at(curve, (double)NAN) + value_at(curve, (double)NAN));
    vent__curve_free(curve);
}
END_TEST

/* ---- sums, scales, copies ------------------------------------------------------------------- */

START_TEST(a_sum_is_the_sum_everywhere)
{
    random_states r = {0};
    for (int trial = 0; trial < 200; ++trial) {
        data d[3];
        vent__curve *part[3];
        double scale = 0, steep = 0;
        for (int k = 0; k < 3; ++k) {
            d[k] = any_data(&r);
            if (k && trial % 4 == 0) /* the same knots */
                for (size_t i = 0; i < (d[k].n = d[0].n); ++i) {
                    d[k].x[i] = d[0].x[i];
                    d[k].y[i] = random_between(&r, -300, 400);
                }
            part[k] = vent__curve_steffen(d[k].n, d[k].x, d[k].y);
            scale = fmax(scale, scale_of(&d[k]));
            steep = fmax(steep, steepest(&d[k]));
        }
        vent__curve *sum = vent__curve_sum(3, part);
        if (trial % 4 == 0)
            ck_assert_uint_eq(sum->n, d[0].n);
        for (int i = 0; i < 300; ++i) {
            double x = i < (int)sum->n ? sum->x[i] : random_between(&r, -3, 25);
            double want = 0, want_slope = 0;
            for (int k = 0; k < 3; ++k) {
                want += value_at(part[k], x);
                want_slope += slope_at(part[k], x);
            }
            /* past the ends the lines carry the rounding of the knots with them */
            double rounding = 1e-14 * (3 * scale + 30 * steep);
            ck_assert_double_eq_tol(value_at(sum, x), want, rounding);
            ck_assert_double_eq_tol(slope_at(sum, x), want_slope, 1e-11 * steep);
        }
        vent__curve_free(sum);
        for (int k = 0; k < 3; ++k)
            vent__curve_free(part[k]);
    }
}
END_TEST

START_TEST(a_scaled_curve_is_stretched_both_ways)
{
    random_states r = {0};
    for (int trial = 0; trial < 100; ++trial) {
        data d = any_data(&r);
        vent__curve *curve = vent__curve_steffen(d.n, d.x, d.y);
        double wide = random_decades(&r, 0.1, 10), high = random_between(&r, -3, 3);
        vent__curve *scaled = vent__curve_scaled(curve, wide, high);
        for (int i = 0; i < 100; ++i) {
            double x = random_between(&r, d.x[0] - 1, d.x[d.n - 1] + 1);
            double rounding = 1e-13 * (scale_of(&d) + 20 * steepest(&d)) * fabs(high);
            ck_assert_double_eq_tol(value_at(scaled, wide * x), high * value_at(curve, x),
                                    rounding);
        }
        vent__curve_free(scaled);
        vent__curve_free(curve);
    }
}
END_TEST

START_TEST(a_copy_is_the_same)
{
    random_states r = {0};
    data d = any_data(&r);
    vent__curve *curve = vent__curve_steffen(d.n, d.x, d.y), *copy = vent__curve_copy(curve);
    ck_assert(vent__curve_is_same(curve, copy));
    copy->piece[1].c[2] += 1e-9;
    ck_assert(!vent__curve_is_same(curve, copy));
    vent__curve_free(copy);
    vent__curve_free(curve);
    vent__curve_free(NULL);
}
END_TEST

START_TEST(sorting_keeps_one_of_each)
{
    double x[] = {3, 1, 2, 1, 5, 2.5, 5};
    ck_assert_uint_eq(vent__sort_distinct(x, 7), 5);
    ck_assert(x[0] == 1 && x[1] == 2 && x[2] == 2.5 && x[3] == 3 && x[4] == 5);
}
END_TEST

/* ---- falling -------------------------------------------------------------------------------- */

START_TEST(falling_is_what_falls_between_all_points)
{
    random_states r = {0};
    for (int trial = 0; trial < 300; ++trial) {
        data d = falling_data(&r);
        vent__curve *curve = vent__curve_steffen(d.n, d.x, d.y);
        ck_assert(vent__curve_is_falling(curve));
        vent__curve_free(curve);
        size_t at = count_between(&r, 1, (int)d.n - 1);
        d.y[at] = d.y[at - 1] + (trial % 2 ? 0 : 1e-6); /* level, or rising a little */
        curve = vent__curve_steffen(d.n, d.x, d.y);
        ck_assert(!vent__curve_is_falling(curve));
        vent__curve_free(curve);
    }
}
END_TEST

/* A cubic may rise between two points at which it falls. */
START_TEST(a_rise_inside_a_piece_is_seen)
{
    const vent__knot steep[] = {{0, 1, -3}, {1, 0.9, -3}}, mild[] = {{0, 1, -0.1}, {1, 0.9, -0.1}};
    vent__curve *curve = vent__curve_hermite(2, steep);
    ck_assert(!vent__curve_is_falling(curve));
    vent__curve_free(curve);
    curve = vent__curve_hermite(2, mild);
    ck_assert(vent__curve_is_falling(curve));
    vent__curve_free(curve);
}
END_TEST

START_TEST(the_inverse_finds_what_gave_the_value)
{
    random_states r = {0};
    for (int trial = 0; trial < 300; ++trial) {
        data d = falling_data(&r);
        vent__curve *curve = vent__curve_steffen(d.n, d.x, d.y);
        double scale = scale_of(&d);
        for (int i = 0; i < 60; ++i) {
            double x = i < (int)d.n ? d.x[i] : random_between(&r, d.x[0] - 1, d.x[d.n - 1] + 1);
            double slope, y = value_at(curve, x);
            double back = vent__curve_inverse(curve, y, &slope);
            double least = fabs(slope); /* to rounding of y, where the curve is flat */
            ck_assert_double_eq_tol(value_at(curve, back), y,
                                    4 * DBL_EPSILON * (scale + fabs(y)) +
                                        4e-16 * fabs(back) * least);
            ck_assert_double_eq_tol(slope, slope_at(curve, back), 1e-11 * steepest(&d));
        }
        vent__curve_free(curve);
    }
}
END_TEST

START_TEST(the_descent_is_the_first_zero)
{
    struct {
        size_t n;
        double y[4], want;
    } const cases[] = {
        {4, {4, 3, 2, 0}, 3},
        {4, {4, 3, 2, 1}, 4},
        {4, {4, 3, 3, 3}, (double)INFINITY},
        {4, {1, -1, 5, -5}, 0.5},
        {4, {4, 3, 2, 2.5}, (double)INFINITY},
        {4, {0, 3, 2, 1}, 0},
        {3, {3, 0, -3}, 1},
        {2, {10, 5}, 2},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; ++i) {
        vent__curve *curve =
            vent__curve_steffen(cases[i].n, (const double[]){0, 1, 2, 3}, cases[i].y);
        double got = vent__curve_descent(curve);
        if (isinf(cases[i].want))
            ck_assert_double_infinite(got);
        else if (i != 3) /* there a curve, not a line, runs from 1 to -1 */
            ck_assert_double_eq_tol(got, cases[i].want, 1e-15);
        else
            ck_assert(got > 0 && got < 1 && fabs(value_at(curve, got)) < 1e-15);
        vent__curve_free(curve);
    }
}
END_TEST

START_TEST(a_cubic_too_steep_for_numbers_is_told)
{
    const double near[] = {0, 1e-200, 1}, far[] = {0, 0.5, 1}, y[] = {1e9, 2, 1};
    vent__curve *curve = vent__curve_steffen(3, near, y);
    ck_assert(!vent__curve_is_finite(curve));
    vent__curve_free(curve);
    curve = vent__curve_steffen(3, far, y);
    ck_assert(vent__curve_is_finite(curve));
    vent__curve_free(curve);
}
END_TEST

/* ---- memory --------------------------------------------------------------------------------- */

START_TEST(refused_memory_gives_no_curve)
{
    random_states r = {0};
    data d = any_data(&r);
    vent__curve *curve = vent__curve_steffen(d.n, d.x, d.y);
    for (long k = 1; k <= 2; ++k) {
        refuse_request(k);
        ck_assert_ptr_null(vent__curve_steffen(d.n, d.x, d.y));
    }
    refuse_request(1);
    ck_assert_ptr_null(vent__curve_hermite(2, (const vent__knot[]){{0, 1, 0}, {1, 0, 0}}));
    refuse_request(1);
    ck_assert_ptr_null(vent__curve_sum(1, &curve));
    refuse_request(1);
    ck_assert_ptr_null(vent__curve_scaled(curve, 2, 2));
    refuse_request(1);
    ck_assert_ptr_null(vent__curve_copy(curve));
    refuse_request(0);
    double slope;
    for (int i = 0; i < 100; ++i) {
        vent__curve_at(curve, i, &slope);
        vent__curve_descent(curve);
    }
    ck_assert_int_eq(requests_made(), 0);
    vent__curve_free(curve);
}
END_TEST

Suite *curve_suite(void)
{
    Suite *suite = suite_create("curve");
    TCase *steffen = tcase_create("steffen");
    tcase_add_test(steffen, values_and_slopes_are_those_of_gsl);
    tcase_add_test(steffen, it_passes_through_the_points);
    tcase_add_test(steffen, between_two_points_it_keeps_between_their_values);
    tcase_add_test(steffen, it_is_exact_for_a_parabola_inside_and_for_a_line);
    tcase_add_test(steffen, two_points_make_a_line);
    suite_add_tcase(suite, steffen);
    TCase *reading = tcase_create("reading");
    tcase_add_test(reading, the_slope_is_the_derivative_and_has_no_jumps);
    tcase_add_test(reading, past_its_ends_it_is_the_tangent);
    tcase_add_test(reading, nan_gives_nan);
    suite_add_tcase(suite, reading);
    TCase *sums = tcase_create("sums");
    tcase_add_test(sums, a_sum_is_the_sum_everywhere);
    tcase_add_test(sums, a_scaled_curve_is_stretched_both_ways);
    tcase_add_test(sums, a_copy_is_the_same);
    tcase_add_test(sums, sorting_keeps_one_of_each);
    suite_add_tcase(suite, sums);
    TCase *falling = tcase_create("falling");
    tcase_add_test(falling, falling_is_what_falls_between_all_points);
    tcase_add_test(falling, a_rise_inside_a_piece_is_seen);
    tcase_add_test(falling, the_inverse_finds_what_gave_the_value);
    tcase_add_test(falling, the_descent_is_the_first_zero);
    tcase_add_test(falling, a_cubic_too_steep_for_numbers_is_told);
    suite_add_tcase(suite, falling);
    TCase *memory = tcase_create("memory");
    tcase_add_test(memory, refused_memory_gives_no_curve);
    suite_add_tcase(suite, memory);
    return suite;
}
