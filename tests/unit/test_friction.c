/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "csv.h"
#include "suites.h"

#include <fenv.h>
#include <float.h>
#include <math.h>
#include <stdint.h>
#include <string.h>

#include <ventstack/friction.h>

#include "physics/friction_lanes.h"
#include "physics/laws.h"

static const double roughnesses[] = {0, 1e-8, 1e-6, 1e-5, 1e-4, 1e-3, 0.01, 0.05, 0.1};
enum { ROUGHNESSES = sizeof roughnesses / sizeof roughnesses[0] };

static double slope(double reynolds, double roughness)
{
    double f, e;
    vent__friction(reynolds, roughness, &f, &e);
    ck_assert_double_eq(f, vent_friction_factor(reynolds, roughness));
    return e;
}

/* Numbers that look random and are the same in every run, 0 <= x < 1. */
static double next_random(uint64_t *state)
{
    *state = *state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (double)(*state >> 11) * 0x1p-53;
}

static double spread(uint64_t *state, double low, double high)
{
    return fmin(high, low * exp(next_random(state) * log(high / low)));
}

/* ---- values ---- */

START_TEST(colebrook_white)
{
    csv *table = csv_open("colebrook.csv");
    int rows = 0;
    while (csv_next(table)) {
        double reynolds = csv_number(table, "reynolds");
        double f = vent_friction_colebrook(reynolds, csv_number(table, "relative_roughness"));
        if (reynolds <= 1e9)
            csv_expect(table, "factor", f, 1e-14, 0);
        else
            ck_assert_msg(isnan(f), "%s: %g", csv_where(table), f);
        rows++;
    }
    csv_close(table);
    ck_assert_int_eq(rows, 420);
}
END_TEST

START_TEST(all_regimes_are_colebrook_from_4000)
{
    for (int i = 0; i < ROUGHNESSES; i++)
        for (double reynolds = 4000; reynolds <= 1e9; reynolds *= 1.37)
            ck_assert_double_eq(vent_friction_factor(reynolds, roughnesses[i]),
                                vent_friction_colebrook(reynolds, roughnesses[i]));
}
END_TEST

/* Newton's method in long double, on the formula as it is printed. */
static long double colebrook_newton(double reynolds, double roughness)
{
    const long double c = 2 / logl(10);
    long double a = roughness / 3.7L, b = 2.51L / reynolds, y = 7;
    for (int i = 0; i < 100; i++) {
        long double step = (y + c * logl(a + b * y)) / (1 + c * b / (a + b * y));
        y -= step;
        if (fabsl(step) < 2 * LDBL_EPSILON * y)
            break;
    }
    return 1 / (y * y);
}

START_TEST(colebrook_white_in_between)
{
    uint64_t state = 1;
    for (int i = 0; i < 200000; i++) {
        double reynolds = spread(&state, 2000, 1e9);
        double roughness = i % 8 ? spread(&state, 1e-9, 0.1) : 0;
        long double exact = colebrook_newton(reynolds, roughness);
        long double error = fabsl(vent_friction_colebrook(reynolds, roughness) / exact - 1);
        ck_assert_msg(error <= 1e-15L, "Re %.17g, eps/D %.17g: error %Lg", reynolds, roughness,
                      error);
    }
}
END_TEST

START_TEST(churchill)
{
    csv *table = csv_open("churchill.csv");
    while (csv_next(table))
        csv_expect(table, "factor",
                   vent_friction_churchill(csv_number(table, "reynolds"),
                                           csv_number(table, "relative_roughness")),
                   1e-12, 0);
    csv_close(table);
}
END_TEST

START_TEST(worked_examples)
{
    csv *table = csv_open("worked_friction.csv");
    while (csv_next(table)) {
        double f = vent_friction_factor(csv_number(table, "reynolds"),
                                        csv_number(table, "relative_roughness"));
        csv_expect(table, "colebrook", f, 1e-11, 0);
        csv_expect(table, "factor", f, csv_number(table, "band"), 0);
    }
    csv_close(table);
}
END_TEST

START_TEST(laminar_rectangle)
{
    csv *table = csv_open("friction_laminar_rectangle.csv");
    while (csv_next(table))
        csv_expect(table, "f_reynolds",
                   vent_friction_laminar_rectangle(csv_number(table, "aspect")),
                   csv_number(table, "tolerance"), 0);
    csv_close(table);
}
END_TEST

START_TEST(laminar_is_hagen_poiseuille)
{
    for (double reynolds = 1e-300; reynolds <= 2000; reynolds *= 3.3) {
        ck_assert_double_eq(vent_friction_factor(reynolds, 0.01), 64 / reynolds);
        ck_assert_double_eq(slope(reynolds, 0.01), -1);
    }
    ck_assert_double_eq(vent_friction_factor(2000, 0), 0.032);
}
END_TEST

/* ---- the transition ---- */

START_TEST(transition_is_continuous_with_its_slope)
{
    static const double joints[] = {2000, 4000};
    for (int i = 0; i < ROUGHNESSES; i++)
        for (int j = 0; j < 2; j++) {
            double joint = joints[j], k = roughnesses[i];
            double below = nextafter(joint, 0), above = nextafter(joint, 1e9);
            double f = vent_friction_factor(joint, k);
            ck_assert_double_eq_tol(vent_friction_factor(below, k), f, 2e-15 * f);
            ck_assert_double_eq_tol(vent_friction_factor(above, k), f, 2e-15 * f);
            ck_assert_double_eq_tol(slope(below, k), slope(joint, k), 1e-12);
            ck_assert_double_eq_tol(slope(above, k), slope(joint, k), 1e-12);
        }
}
END_TEST

START_TEST(loss_rises_with_flow)
{
    for (int i = 0; i < ROUGHNESSES; i++) {
        double last = 0;
        for (double reynolds = 1500; reynolds < 5000; reynolds += 0.5) {
            double loss = vent_friction_factor(reynolds, roughnesses[i]) * reynolds * reynolds;
            ck_assert_msg(loss > last, "Re %g, eps/D %g", reynolds, roughnesses[i]);
            ck_assert(slope(reynolds, roughnesses[i]) > -2);
            last = loss;
        }
    }
}
END_TEST

START_TEST(factor_lies_between_laminar_and_turbulent)
{
    for (int i = 0; i < ROUGHNESSES; i++)
        for (double reynolds = 2001; reynolds < 4000; reynolds += 1) {
            double f = vent_friction_factor(reynolds, roughnesses[i]);
            ck_assert(f > 64 / reynolds);
            ck_assert(f < vent_friction_colebrook(reynolds, roughnesses[i]));
        }
}
END_TEST

/* ---- the slope ---- */

/* Central difference of ln f over ln Re, with one step of Richardson. */
static double difference(double reynolds, double roughness, double h)
{
    double up = vent_friction_factor(reynolds * exp(h), roughness);
    double down = vent_friction_factor(reynolds * exp(-h), roughness);
    return log(up / down) / (2 * h);
}

START_TEST(slope_is_the_derivative)
{
    for (int i = 0; i < ROUGHNESSES; i++)
        for (double reynolds = 100; reynolds < 9e8; reynolds *= 1.021) {
            double k = roughnesses[i], h = 1e-4;
            double nearest = fmin(fabs(log(reynolds / 2000)), fabs(log(reynolds / 4000)));
            if (nearest < 3 * h)
                continue; /* the second derivative jumps at the ends of the transition */
            double d = (4 * difference(reynolds, k, h) - difference(reynolds, k, 2 * h)) / 3;
            ck_assert_double_eq_tol(slope(reynolds, k), d, 1e-10);
        }
}
END_TEST

/* d ln f / d ln Re = -2 g with g = 1/(B + Y + 1), from the solution itself. */
START_TEST(slope_is_exact_in_turbulent_flow)
{
    uint64_t state = 7;
    for (int i = 0; i < 20000; i++) {
        double reynolds = spread(&state, 4000, 1e9);
        double roughness = i % 8 ? spread(&state, 1e-9, 0.1) : 0;
        long double y = logl(10) / 2 / sqrtl(colebrook_newton(reynolds, roughness));
        long double b = reynolds * logl(10) / (2 * 2.51L) * roughness / 3.7L;
        double exact = (double)(-2 / (b + y + 1));
        ck_assert_double_eq_tol(slope(reynolds, roughness), exact, 3e-13 * fabs(exact));
    }
}
END_TEST

/* ---- limits ---- */

START_TEST(no_flow_has_a_finite_factor)
{
    double f, e;
    vent__friction(0, 1e-4, &f, &e);
    ck_assert(isfinite(f) && f > 0);
    ck_assert_double_eq(f * 0, 0);
    ck_assert_double_eq(e, -1);
    double reynolds = 0, roughness = 1e-4, many_f, many_e;
    vent__friction_many(1, &reynolds, &roughness, &many_f, &many_e);
    ck_assert_double_eq(many_f, f);
    ck_assert_double_eq(many_e, e);
}
END_TEST

typedef double law(double, double);
static law *const laws[] = {vent_friction_factor, vent_friction_colebrook, vent_friction_churchill};
static const double least[] = {1e-300, 2000, 1e-300};
enum { LAWS = 3 };

START_TEST(nan_outside_the_domain)
{
    law *f = laws[_i];
    double below = nextafter(least[_i], 0), above = nextafter(1e9, 2e9);
    ck_assert(isfinite(f(least[_i], 0)) && isfinite(f(1e9, 0.1)));
    ck_assert(isnan(f(below, 0)) && isnan(f(above, 0)) && isnan(f(0, 0)) && isnan(f(-1e5, 0)));
    ck_assert(isnan(f(NAN, 0)) && isnan(f(INFINITY, 0)) && isnan(f(-INFINITY, 0)));
    ck_assert(isnan(f(1e5, nextafter(0.1, 1))) && isnan(f(1e5, -1e-9)));
    ck_assert(isnan(f(1e5, NAN)) && isnan(f(1e5, INFINITY)));
}
END_TEST

START_TEST(unchecked_forms_keep_a_nan)
{
    double reynolds[] = {1e5, NAN, 3000, 1e5}, roughness[] = {NAN, 0, NAN, 0}, f[4], e[4];
    vent__friction_many(4, reynolds, roughness, f, e);
    for (int i = 0; i < 4; i++) {
        double one_f, one_e;
        vent__friction(reynolds[i], roughness[i], &one_f, &one_e);
        ck_assert(isnan(f[i]) == (i < 3) && isnan(one_f) == (i < 3));
        ck_assert(isnan(e[i]) == (i < 3) && isnan(one_e) == (i < 3));
    }
}
END_TEST

START_TEST(rectangle_is_nan_outside)
{
    ck_assert(isnan(vent_friction_laminar_rectangle(-1e-9)));
    ck_assert(isnan(vent_friction_laminar_rectangle(1.000001)));
    ck_assert(isnan(vent_friction_laminar_rectangle(NAN)));
}
END_TEST

START_TEST(admissible_input_raises_no_floating_point_exception)
{
    feclearexcept(FE_ALL_EXCEPT);
    double reynolds[64], roughness[64], factor[64], e[64];
    for (int i = 0; i < 64; i++) {
        reynolds[i] = pow(10, -299.9 + i * 4.9);
        roughness[i] = i % 3 ? 0.1 * i / 64 : 0;
        ck_assert(isfinite(vent_friction_churchill(reynolds[i], roughness[i])));
    }
    ck_assert_uint_eq(vent_friction_factor_array(64, reynolds, 1, roughness, 1, factor, 1), 0);
    reynolds[0] = 0;
    vent__friction_many(64, reynolds, roughness, factor, e);
    ck_assert_double_eq_tol(vent_friction_laminar_rectangle(0), 96, 1e-12);
    ck_assert_int_eq(fetestexcept(FE_INVALID | FE_DIVBYZERO | FE_OVERFLOW), 0);
}
END_TEST

/* ---- arrays ---- */

typedef size_t array_law(size_t, const double *, ptrdiff_t, const double *, ptrdiff_t, double *,
                         ptrdiff_t);
static array_law *const array_laws[] = {vent_friction_factor_array, vent_friction_colebrook_array,
                                        vent_friction_churchill_array};

enum { MANY = 1000 };

/* All regimes, and about one element in ten outside the domain. */
static void fill(double reynolds[MANY], double roughness[MANY])
{
    static const double bad[] = {NAN, INFINITY, -1, 0, 2e9, 1e-310};
    uint64_t state = 3;
    for (int i = 0; i < MANY; i++) {
        reynolds[i] = i % 11 == 5 ? bad[i / 11 % 6] : spread(&state, i % 3 ? 1 : 1500, 1e9);
        roughness[i] = i % 97 == 60 ? 0.2 : i % 101 == 70 ? NAN : spread(&state, 1e-9, 0.1);
    }
}

static void assert_same(double got, double want, int i)
{
    ck_assert_msg(isnan(want) ? isnan(got) : got == want, "element %d: %.17g, not %.17g", i, got,
                  want);
}

START_TEST(arrays_have_the_scalars_bits)
{
    double reynolds[MANY], roughness[MANY], factor[MANY];
    fill(reynolds, roughness);
    for (size_t n = 0; n <= MANY; n += n < 40 ? 1 : 137) {
        for (int i = 0; i < MANY; i++)
            factor[i] = -7;
        size_t bad = array_laws[_i](n, reynolds, 1, roughness, 1, factor, 1), expected = 0;
        for (int i = 0; i < MANY; i++) {
            bool is_past = (size_t)i >= n;
            double want = is_past ? -7 : laws[_i](reynolds[i], roughness[i]);
            assert_same(factor[i], want, i);
            expected += isnan(want) != 0;
        }
        ck_assert_uint_eq(bad, expected);
    }
}
END_TEST

START_TEST(arrays_take_strides)
{
    double reynolds[MANY], roughness[MANY], factor[2 * MANY] = {0};
    fill(reynolds, roughness);
    array_laws[_i](MANY, reynolds + MANY - 1, -1, roughness + 3, 0, factor, 2);
    for (int i = 0; i < MANY; i++) {
        assert_same(factor[2 * i], laws[_i](reynolds[MANY - 1 - i], roughness[3]), i);
        ck_assert_double_eq(factor[2 * i + 1], 0);
    }
    array_laws[_i](MANY / 3, reynolds, 0, roughness, 3, factor + MANY, -1);
    for (int i = 0; i < MANY / 3; i++)
        assert_same(factor[MANY - i], laws[_i](reynolds[0], roughness[3 * i]), i);
}
END_TEST

START_TEST(arrays_may_write_over_an_input)
{
    double reynolds[MANY], roughness[MANY], factor[MANY];
    fill(reynolds, roughness);
    array_laws[_i](MANY, reynolds, 1, roughness, 1, factor, 1);
    array_laws[_i](MANY, reynolds, 1, roughness, 1, reynolds, 1);
    for (int i = 0; i < MANY; i++)
        assert_same(reynolds[i], factor[i], i);
    fill(reynolds, roughness);
    array_laws[_i](MANY, reynolds + MANY - 1, -1, roughness + MANY - 1, -1, roughness + MANY - 1,
                   -1);
    for (int i = 0; i < MANY; i++)
        assert_same(roughness[i], factor[i], i);
}
END_TEST

/* ---- every width of vectors this processor has ---- */

typedef struct width {
    const char *name;
    bool is_there;
    vent__friction_law *factor, *colebrook;
    vent__friction_slopes *slopes;
} width;

#define WIDTH(isa, is_there)                                                                       \
    {                                                                                              \
#isa, is_there, vent__friction_factor_##isa, vent__friction_colebrook_##isa,               \
            vent__friction_slopes_##isa                                                            \
    }

START_TEST(every_width_gives_the_same_bits)
{
    const width widths[] = {
        WIDTH(baseline, true),
#if defined(__x86_64__)
        WIDTH(avx2, __builtin_cpu_supports("avx2")),
        WIDTH(avx512, __builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq")),
#endif
    };
    const size_t odd = MANY - 3;
    double reynolds[MANY], roughness[MANY], factor[MANY], e[MANY];
    fill(reynolds, roughness);
    for (size_t w = 0; w < sizeof widths / sizeof widths[0]; w++) {
        if (!widths[w].is_there)
            continue;
        widths[w].factor(odd, reynolds, roughness, factor);
        for (size_t i = 0; i < odd; i++)
            assert_same(factor[i], vent_friction_factor(reynolds[i], roughness[i]), (int)i);
        widths[w].colebrook(odd, reynolds, roughness, factor);
        for (size_t i = 0; i < odd; i++)
            assert_same(factor[i], vent_friction_colebrook(reynolds[i], roughness[i]), (int)i);
        widths[w].slopes(odd, reynolds, roughness, factor, e);
        for (size_t i = 0; i < odd; i++) {
            if (isnan(vent_friction_factor(reynolds[i], roughness[i])))
                continue; /* the slopes do not check */
            double one_f, one_e;
            vent__friction(reynolds[i], roughness[i], &one_f, &one_e);
            assert_same(factor[i], one_f, (int)i);
            assert_same(e[i], one_e, (int)i);
        }
    }
}
END_TEST

Suite *friction_suite(void)
{
    Suite *suite = suite_create("friction");

    TCase *values = tcase_create("values");
    tcase_add_test(values, colebrook_white);
    tcase_add_test(values, all_regimes_are_colebrook_from_4000);
    tcase_add_test(values, colebrook_white_in_between);
    tcase_add_test(values, churchill);
    tcase_add_test(values, worked_examples);
    tcase_add_test(values, laminar_rectangle);
    tcase_add_test(values, laminar_is_hagen_poiseuille);
    suite_add_tcase(suite, values);

    TCase *transition = tcase_create("transition");
    tcase_add_test(transition, transition_is_continuous_with_its_slope);
    tcase_add_test(transition, loss_rises_with_flow);
    tcase_add_test(transition, factor_lies_between_laminar_and_turbulent);
    suite_add_tcase(suite, transition);

    TCase *derivative = tcase_create("slope");
    tcase_add_test(derivative, slope_is_the_derivative);
    tcase_add_test(derivative, slope_is_exact_in_turbulent_flow);
    suite_add_tcase(suite, derivative);

    TCase *limits = tcase_create("limits");
    tcase_add_test(limits, no_flow_has_a_finite_factor);
    tcase_add_loop_test(limits, nan_outside_the_domain, 0, LAWS);
    tcase_add_test(limits, unchecked_forms_keep_a_nan);
    tcase_add_test(limits, rectangle_is_nan_outside);
    tcase_add_test(limits, admissible_input_raises_no_floating_point_exception);
    suite_add_tcase(suite, limits);

    TCase *arrays = tcase_create("arrays");
    tcase_add_loop_test(arrays, arrays_have_the_scalars_bits, 0, LAWS);
    tcase_add_loop_test(arrays, arrays_take_strides, 0, LAWS);
    tcase_add_loop_test(arrays, arrays_may_write_over_an_input, 0, LAWS);
    tcase_add_test(arrays, every_width_gives_the_same_bits);
    suite_add_tcase(suite, arrays);

    return suite;
}
