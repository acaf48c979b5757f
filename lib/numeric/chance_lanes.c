/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Random numbers by the row, compiled once for each instruction set; every width gives the same bits. */
#include "numeric/chance_lanes.h"

#include "numeric/lanes.h"

#include <math.h>

#define PASTE(name, isa)    name##_##isa
#define SUFFIXED(name, isa) PASTE(name, isa)
#define ISA(name)           SUFFIXED(name, VENT_ISA)

/* x[0] ... x[n - 1], each by itself; the last vector is filled up with harmless numbers. */
V_INLINE void over_row(size_t n, double *x, double harmless, vreal law(vreal))
{
    size_t at = 0;
    for (; at + VENT_LANES <= n; at += VENT_LANES)
        v_store(x + at, law(v_load(x + at)));
    if (at == n)
        return;
    double part[VENT_LANES];
    for (size_t lane = 0; lane < VENT_LANES; ++lane)
        part[lane] = at + lane < n ? x[at + lane] : harmless;
    v_store(part, law(v_load(part)));
    for (size_t lane = 0; at + lane < n; ++lane)
        x[at + lane] = part[lane];
}

V_INLINE vreal ratio(vreal r, const double top[8], const double bottom[8])
{
    vreal over = v_all(top[7]), under = v_all(bottom[7]);
    for (int i = 6; i >= 0; --i) {
        over = over * r + top[i];
        under = under * r + bottom[i];
    }
    return over / under;
}

/* Wichura, M. J. (1988), Algorithm AS 241: the percentage points of the normal distribution, Applied
 * Statistics 37, 477-484 (memory; a test asks GSL): the middle, the tails and the far tails. */
V_INLINE vreal quantile(vreal share)
{
    static const double middle[2][8] = {
        {3.3871328727963666080e0, 1.3314166789178437745e+2, 1.9715909503065514427e+3,
         1.3731693765509461125e+4, 4.5921953931549871457e+4, 6.7265770927008700853e+4,
         3.3430575583588128105e+4, 2.5090809287301226727e+3},
        {1, 4.2313330701600911252e+1, 6.8718700749205790830e+2, 5.3941960214247511077e+3,
         2.1213794301586595867e+4, 3.9307895800092710610e+4, 2.8729085735721942674e+4,
         5.2264952788528545610e+3}};
    static const double tail[2][8] = {
        {1.42343711074968357734e0, 4.63033784615654529590e0, 5.76949722146069140550e0,
         3.64784832476320460504e0, 1.27045825245236838258e0, 2.41780725177450611770e-1,
         2.27238449892691845833e-2, 7.74545014278341407640e-4},
        {1, 2.05319162663775882187e0, 1.67638483018380384940e0, 6.89767334985100004550e-1,
         1.48103976427480074590e-1, 1.51986665636164571966e-2, 5.47593808499534494600e-4,
         1.05075007164441684324e-9}};
    static const double far_tail[2][8] = {
        {6.65790464350110377720e0, 5.46378491116411436990e0, 1.78482653991729133580e0,
         2.96560571828504891230e-1, 2.65321895265761230930e-2, 1.24266094738807843860e-3,
         2.71155556874348757815e-5, 2.01033439929228813265e-7},
        {1, 5.99832206555887937690e-1, 1.36929880922735805310e-1, 1.48753612908506148525e-2,
         7.86869131145613259100e-4, 1.84631831751005468180e-5, 1.42151175831644588870e-7,
         2.04426310338993978564e-15}};
    vreal q = share - 0.5, size = v_max(q, -q);
    vreal z = q * ratio(0.180625 - q * q, middle[0], middle[1]);
    vmask outside = size > 0.425;
    if (!v_any(outside))
        return z;
    vreal r = v_sqrt(-v_log(v_min(share, 1 - share)));
    vreal beyond = ratio(r - 1.6, tail[0], tail[1]);
    if (v_any(r > 5))
        beyond = v_select(r > 5, ratio(r - 5, far_tail[0], far_tail[1]), beyond);
    return v_select(outside, v_select(q < 0, -beyond, beyond), z);
}

void ISA(vent__normal_quantiles)(size_t n, double *share)
{
    over_row(n, share, 0.5, quantile);
}

void ISA(vent__exponentials)(size_t n, double *x)
{
    over_row(n, x, 0, v_exp);
}

/* Steele, Lea, Flood (2014), Fast splittable pseudorandom number generators. */
V_INLINE vreal random_share(vbits z)
{
    z = (z ^ (z >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94d049bb133111eb);
    z ^= z >> 31;
    return (v_from_bits((z >> 12) | UINT64_C(0x3ff0000000000000)) - 1) + 0x1p-53;
}

void ISA(vent__random_shares)(size_t n, uint64_t seed, uint64_t first, uint64_t pace, double *share)
{
    const uint64_t step = UINT64_C(0x9e3779b97f4a7c15);
    uint64_t counter[VENT_LANES];
    double part[VENT_LANES];
    vbits z;
    for (uint64_t lane = 0; lane < VENT_LANES; ++lane)
        counter[lane] = seed + (first + lane * pace + 1) * step;
    memcpy(&z, counter, sizeof z);
    size_t at = 0;
    for (; at + VENT_LANES <= n; at += VENT_LANES, z += VENT_LANES * pace * step)
        v_store(share + at, random_share(z));
    v_store(part, random_share(z));
    for (size_t lane = 0; at + lane < n; ++lane)
        share[at + lane] = part[lane];
}
