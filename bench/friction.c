/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Colebrook-White over arrays. The peer is the algorithm of D. Clamond (2009), Ind. Eng. Chem. Res.
 * 48, 3665, with its two iterations, in C and compiled with the same options. */
#include "bench.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <ventstack/friction.h>

#include "physics/laws.h"

enum { N = 1024, ROUNDS = 40 };

/* Not inlined, so that each call does its work. */
static __attribute__((noinline)) void clamond(size_t n, const double *reynolds,
                                              const double *roughness, double *factor)
{
    for (size_t i = 0; i < n; i++) {
        double x1 = roughness[i] * reynolds[i] * 0.123968186335417556;
        double x2 = log(reynolds[i]) - 0.779397488455682028;
        double f = x2 - 0.2;
        for (int iteration = 0; iteration < 2; iteration++) {
            double e = (log(x1 + f) + f - x2) / (1 + x1 + f);
            f -= (1 + x1 + f + 0.5 * e) * e * (x1 + f) / (1 + x1 + f + e * (1 + e / 3));
        }
        f = 1.151292546497022842 / f;
        factor[i] = f * f;
    }
}

static void own_colebrook(size_t n, const double *reynolds, const double *roughness, double *factor)
{
    vent_friction_colebrook_array(n, reynolds, 1, roughness, 1, factor, 1);
}

static void own_all_regimes(size_t n, const double *reynolds, const double *roughness,
                            double *factor)
{
    vent_friction_factor_array(n, reynolds, 1, roughness, 1, factor, 1);
}

static void own_slopes(size_t n, const double *reynolds, const double *roughness, double *factor)
{
    static double slope[N];
    vent__friction_many(n, reynolds, roughness, factor, slope);
}

static void own_one_by_one(size_t n, const double *reynolds, const double *roughness,
                           double *factor)
{
    for (size_t i = 0; i < n; i++)
        factor[i] = vent_friction_colebrook(reynolds[i], roughness[i]);
}

typedef struct contender {
    const char *name;
    void (*law)(size_t, const double *, const double *, double *);
    double best; /* ns an element */
} contender;

static double nanoseconds(const contender *c, const double *reynolds, const double *roughness,
                          double *factor)
{
    double begin = bench_now();
    for (int i = 0; i < ROUNDS; i++)
        c->law(N, reynolds, roughness, factor);
    return 1e9 * (bench_now() - begin) / (N * ROUNDS);
}

static double spread(double low, double high)
{
    return fmin(high, low * pow(high / low, rand() / (double)RAND_MAX));
}

/* Newton's method in long double on the printed formula. */
static long double newton(double reynolds, double roughness)
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

static double worst_error(void)
{
    double reynolds[N], roughness[N], factor[N], worst = 0;
    for (int row = 0; row < 200; row++) {
        for (int i = 0; i < N; i++) {
            reynolds[i] = fmin(1e9, 4e3 * pow(2.5e5, (row + i / (double)N) / 199));
            roughness[i] = i % 64 ? 1e-8 * pow(1e7, i / (double)(N - 1)) : 0;
        }
        own_colebrook(N, reynolds, roughness, factor);
        for (int i = 0; i < N; i++) {
            long double error = fabsl(factor[i] / newton(reynolds[i], roughness[i]) - 1);
            worst = error <= worst ? worst : (double)error;
        }
    }
    return worst;
}

int main(void)
{
    contender contenders[] = {
        {"Clamond, two iterations", clamond, INFINITY},
        {"Colebrook array", own_colebrook, INFINITY},
        {"all regimes array", own_all_regimes, INFINITY},
        {"all regimes and slopes", own_slopes, INFINITY},
        {"Colebrook one by one", own_one_by_one, INFINITY},
    };
    enum { CONTENDERS = sizeof contenders / sizeof contenders[0] };
    static double reynolds[N], roughness[N], factor[N];
    for (int i = 0; i < N; i++) {
        reynolds[i] = spread(4e3, 1e8);
        roughness[i] = i % 8 ? spread(1e-7, 0.05) : 0;
    }
    for (int repeat = 0; repeat < BENCH_REPEATS; repeat++)
        for (int i = 0; i < CONTENDERS; i++)
            contenders[i].best =
                fmin(contenders[i].best, nanoseconds(&contenders[i], reynolds, roughness, factor));
    for (int i = 0; i < CONTENDERS; i++)
        printf("friction: %s %.2f ns an element\n", contenders[i].name, contenders[i].best);
    double peer = contenders[0].best, array = contenders[1].best;
    bench_claim("friction.array_vs_clamond", peer / array, ">=", BENCH_AVX512 ? 9 : 4.5, "x");
    bench_claim("friction.one_vs_clamond", peer / contenders[4].best, ">=", 1, "x");
    bench_claim("friction.all_regimes_vs_turbulent", contenders[2].best / array, "<=", 1.5, "x");
    bench_claim("friction.array_error", worst_error(), "<=", 1e-15, "");
    return 0;
}
