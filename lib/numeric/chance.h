/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Distributions, random and quasi-random numbers. */
#ifndef VENT_NUMERIC_CHANCE_H
#define VENT_NUMERIC_CHANCE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Probability that a chi-square of that many degrees of freedom (above 0) is greater. */
double vent__chi_square_tail(double chi_square, double degrees);
/* The standard normal deviate that a share of all stay below; 0 < share < 1. */
double vent__normal_quantile(double share);
/* The same of n shares, in place; and e^x of n numbers from -708 to 709. */
void vent__normal_quantiles(size_t n, double *share);
void vent__exponentials(size_t n, double *x);
/* Share of all standard normal deviates below z. */
double vent__normal_share(double z);

/* The k-th number of a random sequence: SplitMix64 by its counter, so that any number can be had
 * without those before it. */
uint64_t vent__random_bits(uint64_t seed, uint64_t k);
/* The same within (0, 1), both ends left out. */
double vent__random_share(uint64_t seed, uint64_t k);
/* n of them, numbers first, first + pace, ... */
void vent__random_shares(size_t n, uint64_t seed, uint64_t first, uint64_t pace, double *share);

/* Sobol's points in up to VENT__SOBOL_MOST dimensions, shifted by the seed (Cranley and Patterson). */
enum { VENT__SOBOL_MOST = 40 };
typedef struct vent__sobol {
    unsigned dimensions;
    void *state;
    double shift[VENT__SOBOL_MOST];
} vent__sobol;

/* False for want of memory, with nothing to free; 1 <= dimensions <= VENT__SOBOL_MOST. */
bool vent__sobol_begin(vent__sobol *sobol, unsigned dimensions, uint64_t seed);
/* The next point, within (0, 1) in every dimension. */
void vent__sobol_next(vent__sobol *sobol, double *point);
void vent__sobol_end(vent__sobol *sobol);

#endif
