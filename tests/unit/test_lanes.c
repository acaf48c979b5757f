/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suites.h"

#include "numeric/lanes.h"

#include <float.h>
#include <math.h>
#include <stdint.h>

/* Lanes of different numbers around x, so that a mix-up of lanes shows. */
static vreal around(double x, double lane[VENT_LANES])
{
    for (int i = 0; i < VENT_LANES; i++)
        lane[i] = x * (1 + 0.01 * i);
    return v_load(lane);
}

static void assert_close(vreal got, const long double exact[VENT_LANES], long double relative,
                         long double absolute)
{
    double lane[VENT_LANES];
    v_store(lane, got);
    for (int i = 0; i < VENT_LANES; i++) {
        long double error = fabsl(lane[i] - exact[i]);
        ck_assert_msg(error <= relative * fabsl(exact[i]) + absolute,
                      "lane %d: %.17g, exactly %.20Lg: off by %Lg", i, lane[i], exact[i], error);
    }
}

START_TEST(logarithm)
{
    double x[VENT_LANES];
    long double exact[VENT_LANES];
    for (double at = 1e-307; at<1e307; at *= at> 0.1 && at < 10 ? 1.0007 : 1.31) {
        vreal v = around(at, x);
        for (int i = 0; i < VENT_LANES; i++)
            exact[i] = logl(x[i]);
        assert_close(v_log(v), exact, 2 * DBL_EPSILON, 0);
        assert_close(v_log_rough(v), exact, 0, 0.0045L);
        assert_close(v_log_crude(v), exact, 0, 0.031L);
    }
}
END_TEST

START_TEST(logarithm_of_a_ratio)
{
    double p[VENT_LANES], q[VENT_LANES];
    long double exact[VENT_LANES];
    for (double at = 1e-150; at < 1e150; at *= 7.7)
        for (double by = 1e-20; by < 1e20; by *= 1.09) {
            vreal vp = around(at * by, p), vq = around(at, q);
            for (int i = 0; i < VENT_LANES; i++)
                exact[i] = logl((long double)p[i] / q[i]);
            assert_close(v_log_ratio(vp, vq), exact, 2 * DBL_EPSILON, 0);
        }
}
END_TEST

START_TEST(exponential)
{
    double x[VENT_LANES];
    long double exact[VENT_LANES];
    for (double at = -640; at < 640; at += 0.0173) {
        vreal v = around(at, x);
        for (int i = 0; i < VENT_LANES; i++)
            exact[i] = expl(x[i]);
        assert_close(v_exp(v), exact, 1.0L * DBL_EPSILON, 0);
    }
    for (int i = 0; i < VENT_LANES; i++)
        exact[i] = 1;
    assert_close(v_exp(v_all(0)), exact, 0, 0);
}
END_TEST

START_TEST(power)
{
    double x[VENT_LANES], y[VENT_LANES];
    long double exact[VENT_LANES];
    for (double base = 1e-12; base < 1e12; base *= 1.53)
        for (double exponent = -3; exponent < 3; exponent += 0.0917) {
            vreal vx = around(base, x), vy = around(exponent, y);
            long double size = 0;
            for (int i = 0; i < VENT_LANES; i++) {
                exact[i] = powl(x[i], y[i]);
                size = fmaxl(size, fabsl(y[i] * logl(x[i])));
            }
            assert_close(v_pow(vx, vy), exact, DBL_EPSILON * (1 + size), 0);
        }
}
END_TEST

START_TEST(selection)
{
    double a[VENT_LANES], b[VENT_LANES], got[VENT_LANES];
    for (int i = 0; i < VENT_LANES; i++) {
        a[i] = i % 2 ? 3 : -3;
        b[i] = i - 1;
    }
    vreal va = v_load(a), vb = v_load(b);
    v_store(got, v_select(va < vb, v_all(1), v_all(2)));
    for (int i = 0; i < VENT_LANES; i++)
        ck_assert_double_eq(got[i], a[i] < b[i] ? 1 : 2);
    v_store(got, v_min(va, vb));
    for (int i = 0; i < VENT_LANES; i++)
        ck_assert_double_eq(got[i], fmin(a[i], b[i]));
    v_store(got, v_max(va, vb));
    for (int i = 0; i < VENT_LANES; i++)
        ck_assert_double_eq(got[i], fmax(a[i], b[i]));
    v_store(got, v_max(v_all((double)NAN), vb));
    for (int i = 0; i < VENT_LANES; i++)
        ck_assert_double_eq(got[i], b[i]);
}
END_TEST

START_TEST(counts)
{
    vmask count = {0};
    size_t expected = 0;
    for (double limit = -1; limit < 10; limit += 0.7) {
        double lane[VENT_LANES];
        for (int i = 0; i < VENT_LANES; i++) {
            lane[i] = i;
            expected += i < limit;
        }
        count = v_tally(count, v_load(lane) < v_all(limit));
    }
    ck_assert_uint_eq(v_total(count), expected);
}
END_TEST

Suite *lanes_suite(void)
{
    Suite *suite = suite_create("lanes");
    TCase *values = tcase_create("values");
    tcase_add_test(values, logarithm);
    tcase_add_test(values, logarithm_of_a_ratio);
    tcase_add_test(values, exponential);
    tcase_add_test(values, power);
    tcase_add_test(values, selection);
    tcase_add_test(values, counts);
    suite_add_tcase(suite, values);
    return suite;
}
