/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A clock and the one line every claim is printed as. */
#ifndef VENT_BENCH_H
#define VENT_BENCH_H

#define _POSIX_C_SOURCE 200809L /* for the clock; so this header comes first */

#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

/* Both sides of a comparison are timed in turn, this often in the same run; the best counts. */
enum { BENCH_REPEATS = 21 };

/* Goals differ by the width of vectors the processor has. */
#if defined(__GNUC__) && defined(__x86_64__)
#define BENCH_AVX512 (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq"))
#else
#define BENCH_AVX512 false
#endif

/* Seconds on a clock that only moves forward. */
static inline double bench_now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* Prints "claim NAME measured X goal OP Y met|short"; op is ">=" or "<=", unit follows numbers. */
static inline void bench_claim(const char *name, double measured, const char *op, double goal,
                               const char *unit)
{
    bool is_met = strcmp(op, ">=") == 0 ? measured >= goal : measured <= goal;
    printf("claim %s measured %.3g%s goal %s %.3g%s %s\n", name, measured, unit, op, goal, unit,
           is_met ? "met" : "short");
}

/* The same where its peer is not there: "claim NAME skipped: REASON". */
static inline void bench_skip(const char *name, const char *reason)
{
    printf("claim %s skipped: %s\n", name, reason);
}

#endif
