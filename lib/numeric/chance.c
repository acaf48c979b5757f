/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "numeric/chance.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_qrng.h>
#include <math.h>
#include <stdlib.h>

#include "numeric/chance_lanes.h"
#include "numeric/widest.h"

double vent__chi_square_tail(double chi_square, double degrees)
{
    if (!(degrees > 0) || !(chi_square >= 0))
        return NAN;
    double a = degrees / 2, y = chi_square / 2;
    /* Chernoff's bound of either tail: where it is below what a double holds, GSL would report an
     * underflow to its handler. */
    double exponent = y - a - a * log(y / a);
    if (y == 0 || exponent > 600)
        return y > a ? 0 : 1;
    if (degrees > 1e4) { /* Wilson and Hilferty: better than 1e-6 there */
        double third = 2 / (9 * degrees);
        return vent__normal_share((1 - third - cbrt(chi_square / degrees)) / sqrt(third));
    }
    return gsl_cdf_chisq_Q(chi_square, degrees);
}

double vent__normal_quantile(double share)
{
    return gsl_cdf_ugaussian_Pinv(share);
}

void vent__normal_quantiles(size_t n, double *share)
{
    VENT__WIDEST(vent__normal_quantiles)(n, share);
}

void vent__exponentials(size_t n, double *x)
{
    VENT__WIDEST(vent__exponentials)(n, x);
}

void vent__random_shares(size_t n, uint64_t seed, uint64_t first, uint64_t pace, double *share)
{
    VENT__WIDEST(vent__random_shares)(n, seed, first, pace, share);
}

double vent__normal_share(double z)
{
    return erfc(-z / 1.4142135623730951) / 2;
}

/* Steele, Lea, Flood (2014), Fast splittable pseudorandom number generators. */
uint64_t vent__random_bits(uint64_t seed, uint64_t k)
{
    uint64_t z = seed + (k + 1) * UINT64_C(0x9e3779b97f4a7c15);
    z = (z ^ (z >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94d049bb133111eb);
    return z ^ (z >> 31);
}

static double share_of_bits(uint64_t bits)
{
    return ((double)(bits >> 12) + 0.5) * 0x1p-52;
}

double vent__random_share(uint64_t seed, uint64_t k)
{
    return share_of_bits(vent__random_bits(seed, k));
}

/* GSL's generator in memory of our own: its allocator would call the handler where there is none. */
bool vent__sobol_begin(vent__sobol *sobol, unsigned dimensions, uint64_t seed)
{
    sobol->dimensions = dimensions;
    sobol->state = malloc(gsl_qrng_sobol->state_size(dimensions));
    if (!sobol->state)
        return false;
    gsl_qrng_sobol->init_state(sobol->state, dimensions);
    for (unsigned d = 0; d < dimensions; ++d)
        sobol->shift[d] = vent__random_share(seed, d);
    return true;
}

void vent__sobol_next(vent__sobol *sobol, double *point)
{
    gsl_qrng_sobol->get(sobol->state, sobol->dimensions, point);
    for (unsigned d = 0; d < sobol->dimensions; ++d) {
        double x = point[d] + sobol->shift[d];
        x -= floor(x);
        point[d] = x > 0x1p-53 ? x : 0x1p-53;
    }
}

void vent__sobol_end(vent__sobol *sobol)
{
    free(sobol->state);
    sobol->state = NULL;
}
