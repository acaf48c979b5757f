/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Random states for property tests: the same ones in every run. */
#ifndef VENT_TEST_RANDOM_H
#define VENT_TEST_RANDOM_H

#include <math.h>
#include <stdint.h>

typedef struct random_states {
    uint64_t state;
} random_states;

/* Even between low and high (xorshift64*, Vigna 2016). */
static inline double random_between(random_states *r, double low, double high)
{
    if (r->state == 0)
        r->state = 88172645463325252u;
    r->state ^= r->state >> 12;
    r->state ^= r->state << 25;
    r->state ^= r->state >> 27;
    double unit = (double)((r->state * 2685821657736338717u) >> 11) * 0x1p-53;
    return low + unit * (high - low);
}

/* Even in the logarithm. */
static inline double random_decades(random_states *r, double low, double high)
{
    return exp(random_between(r, log(low), log(high)));
}

#endif
