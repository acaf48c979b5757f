/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of random numbers, see chance.h, compiled once for each width of vectors. */
#ifndef VENT_NUMERIC_CHANCE_LANES_H
#define VENT_NUMERIC_CHANCE_LANES_H

#include <stddef.h>
#include <stdint.h>

typedef void vent__row_law(size_t n, double *x);
typedef void vent__row_drawer(size_t n, uint64_t seed, uint64_t first, uint64_t pace,
                              double *share);

#define VENT__CHANCE_LANES(isa)                                                                    \
    vent__row_law vent__normal_quantiles_##isa, vent__exponentials_##isa;                          \
    vent__row_drawer vent__random_shares_##isa;

VENT__CHANCE_LANES(baseline)
#if defined(__x86_64__)
VENT__CHANCE_LANES(avx2)
VENT__CHANCE_LANES(avx512)
#endif

#endif
