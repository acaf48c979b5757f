/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The friction kernel over contiguous arrays, compiled once for each width of vectors. Every width
 * gives the same bits. */
#ifndef VENT_PHYSICS_FRICTION_LANES_H
#define VENT_PHYSICS_FRICTION_LANES_H

#include <stddef.h>

/* A law over n elements: NaN where an element is outside its range; how many are is returned.
 * factor may be one of the inputs. */
typedef size_t vent__friction_law(size_t n, const double *reynolds, const double *roughness,
                                  double *factor);

/* All regimes, factor and slope d ln f / d ln Re, Re >= 0, nothing checked. */
typedef void vent__friction_slopes(size_t n, const double *reynolds, const double *roughness,
                                   double *factor, double *slope);

/* x^y for x positive and normal; may be written over an input. */
typedef void vent__power(size_t n, const double *x, const double *y, double *power);

#define VENT__FRICTION_LANES(isa)                                                                  \
    vent__friction_law vent__friction_factor_##isa, vent__friction_colebrook_##isa;                \
    vent__friction_slopes vent__friction_slopes_##isa;                                             \
    vent__power vent__power_##isa;

VENT__FRICTION_LANES(baseline)
#if defined(__x86_64__)
VENT__FRICTION_LANES(avx2)
VENT__FRICTION_LANES(avx512)
#endif

#endif
