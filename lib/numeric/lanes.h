/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Arithmetic over several cases side by side, written once over the compiler's vectors.
 *
 * A translation unit computes in one width, VENT_LANES: one case in each lane, the same operations
 * in the same order in all of them, and no branches but by v_any(). With VENT_LANES 1 the types
 * below are plain scalars and the same source is plain C. A select evaluates both sides; nothing
 * here can fault, so a lane that is out of bounds may be computed and its result thrown away.
 * Compiled without contraction into fused operations, every width gives the same bits. */
#ifndef VENT_NUMERIC_LANES_H
#define VENT_NUMERIC_LANES_H

#include <float.h>
#include <math.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#if defined(__SSE2__)
#include <immintrin.h>
#endif

#if FLT_EVAL_METHOD != 0
#error "double must be computed as double: on 32-bit x86 compile with -msse2 -mfpmath=sse"
#endif

#ifndef VENT_LANES
#if defined(__AVX512F__)
#define VENT_LANES 8
#elif defined(__AVX2__)
#define VENT_LANES 4
#elif defined(__GNUC__) && defined(__SSE2__)
#define VENT_LANES 2
#else
#define VENT_LANES 1
#endif
#endif

#if defined(__GNUC__)
#define V_INLINE static inline __attribute__((always_inline, unused))
#else
#define V_INLINE static inline
#endif

#if VENT_LANES > 1
#define V_TYPE(element) element __attribute__((vector_size(8 * VENT_LANES)))
typedef V_TYPE(double) vreal;
typedef V_TYPE(uint64_t) vbits;
typedef V_TYPE(int64_t) vmask; /* of a comparison: all bits of a true lane set */
#else
typedef double vreal;
typedef uint64_t vbits;
typedef int64_t vmask; /* of a comparison: 0 or 1 */
#endif

/* The same number in every lane. */
V_INLINE vreal v_all(double x)
{
    return x - (vreal){0};
}

V_INLINE vbits v_to_bits(vreal x)
{
    vbits bits;
    memcpy(&bits, &x, sizeof bits);
    return bits;
}

V_INLINE vreal v_from_bits(vbits bits)
{
    vreal x;
    memcpy(&x, &bits, sizeof x);
    return x;
}

/* yes where the mask is true, no elsewhere. */
V_INLINE vreal v_select(vmask mask, vreal yes, vreal no)
{
#if VENT_LANES == 8 && defined(__AVX512DQ__)
    return (vreal)_mm512_mask_blend_pd(_mm512_movepi64_mask((__m512i)mask), (__m512d)no,
                                       (__m512d)yes);
#elif VENT_LANES == 4 && defined(__AVX2__)
    return (vreal)_mm256_blendv_pd((__m256d)no, (__m256d)yes, (__m256d)mask);
#elif VENT_LANES > 1
    return v_from_bits(((vbits)mask & v_to_bits(yes)) | (~(vbits)mask & v_to_bits(no)));
#else
    return mask ? yes : no;
#endif
}

/* True if the mask is true in some lane. For work that few lanes ever need: where the branch falls
 * must not change what a lane gets. */
V_INLINE int v_any(vmask mask)
{
#if VENT_LANES == 8 && defined(__AVX512DQ__)
    return _mm512_movepi64_mask((__m512i)mask) != 0;
#elif VENT_LANES == 4 && defined(__AVX2__)
    return _mm256_movemask_pd((__m256d)mask) != 0;
#elif VENT_LANES == 2 && defined(__SSE2__)
    return _mm_movemask_pd((__m128d)mask) != 0;
#else
    int64_t lane[VENT_LANES], any = 0;
    memcpy(lane, &mask, sizeof lane);
    for (int i = 0; i < VENT_LANES; i++)
        any |= lane[i];
    return any != 0;
#endif
}

/* Adds one to the count of each lane in which the mask is true. */
V_INLINE vmask v_tally(vmask count, vmask mask)
{
#if VENT_LANES > 1
    return count - mask;
#else
    return count + mask;
#endif
}

/* Sums such counts over the lanes. */
V_INLINE size_t v_total(vmask count)
{
    int64_t lane[VENT_LANES], total = 0;
    memcpy(lane, &count, sizeof lane);
    for (int i = 0; i < VENT_LANES; i++)
        total += lane[i];
    return (size_t)total;
}

/* A NaN in either gives b, and so do equals, as the processor's own instructions have it. */
V_INLINE vreal v_min(vreal a, vreal b)
{
#if VENT_LANES == 8 && defined(__AVX512F__)
    return (vreal)_mm512_min_pd((__m512d)a, (__m512d)b);
#elif VENT_LANES == 4 && defined(__AVX2__)
    return (vreal)_mm256_min_pd((__m256d)a, (__m256d)b);
#elif VENT_LANES == 2 && defined(__SSE2__)
    return (vreal)_mm_min_pd((__m128d)a, (__m128d)b);
#else
    return v_select(a < b, a, b);
#endif
}

V_INLINE vreal v_max(vreal a, vreal b)
{
#if VENT_LANES == 8 && defined(__AVX512F__)
    return (vreal)_mm512_max_pd((__m512d)a, (__m512d)b);
#elif VENT_LANES == 4 && defined(__AVX2__)
    return (vreal)_mm256_max_pd((__m256d)a, (__m256d)b);
#elif VENT_LANES == 2 && defined(__SSE2__)
    return (vreal)_mm_max_pd((__m128d)a, (__m128d)b);
#else
    return v_select(a > b, a, b);
#endif
}

V_INLINE vreal v_abs(vreal x)
{
    return v_from_bits(v_to_bits(x) & ~(UINT64_C(1) << 63));
}

V_INLINE vreal v_load(const double *x)
{
    vreal v;
    memcpy(&v, x, sizeof v);
    return v;
}

V_INLINE void v_store(double *x, vreal v)
{
    memcpy(x, &v, sizeof v);
}

/* The entry of each lane's number, 0 ... V_TABLE - 1, in a table. */
enum { V_TABLE = 16 };

V_INLINE vreal v_lookup(const double table[V_TABLE], vmask number)
{
#if VENT_LANES == 8 && defined(__AVX512F__)
    return (vreal)_mm512_permutex2var_pd(_mm512_loadu_pd(table), (__m512i)number,
                                         _mm512_loadu_pd(table + 8));
#else
    int64_t at[VENT_LANES];
    double lane[VENT_LANES];
    memcpy(at, &number, sizeof at);
    for (int i = 0; i < VENT_LANES; i++)
        lane[i] = table[at[i]];
    return v_load(lane);
#endif
}

/* Square root; NaN of what is negative. */
V_INLINE vreal v_sqrt(vreal x)
{
    double lane[VENT_LANES];
    v_store(lane, x);
    for (int i = 0; i < VENT_LANES; i++)
        lane[i] = sqrt(lane[i]);
    return v_load(lane);
}

/* ---- logarithms ---- */

/* ln 2, its leading 42 bits (so that their product with an exponent is exact) and the rest */
#define V_LN2      0.69314718055994530942
#define V_LN2_HIGH 0x1.62e42fefa38p-1
#define V_LN2_LOW  5.497923018708371e-14

/* 2^52: a small integer n in the lower bits of this number is the number 2^52 + n. */
#define V_MAGIC_BITS UINT64_C(0x4330000000000000)
#define V_MAGIC      0x1p52

/* ln x to 0.03, by reading the bits of a positive x as a number: exponent and mantissa make a
 * piecewise linear logarithm to base 2. */
V_INLINE vreal v_log_crude(vreal x)
{
    vreal upper = v_from_bits((v_to_bits(x) >> 12) | V_MAGIC_BITS);
    return upper * (V_LN2 * 0x1p-40) - V_LN2 * (4096 + 1023 - 0.0430);
}

/* ln x to 0.004 (absolute), the same with a parabola through the mantissa. */
V_INLINE vreal v_log_rough(vreal x)
{
    vbits bits = v_to_bits(x);
    vreal upper = v_from_bits((bits >> 12) | V_MAGIC_BITS);
    vreal m = v_from_bits((bits & UINT64_C(0x000fffffffffffff)) | UINT64_C(0x3ff0000000000000));
    vreal linear = upper * (V_LN2 * 0x1p-40) - (V_LN2 * (4096 + 1023) + 0.45302);
    return linear + m * (0.6891138954270778 - 0.23203033863901271 * m);
}

/* ln(p/q), p and q positive and normal: one division gives both the quotient and the series'
 * variable. p is scaled by a power of two until p/q lies within 2/3 ... 3/2; then
 * ln(p/q) = 2 artanh s, s = (p - q)/(p + q), |s| <= 1/5, by a minimax polynomial in s^2.
 * Relative error below 2^-51. */
V_INLINE vreal v_log_ratio(vreal p, vreal q)
{
    const uint64_t one = UINT64_C(1) << 52;
    vbits power = (v_to_bits(p) - v_to_bits(q) + (1024 * one + one / 2)) >> 52; /* 1024 + k */
    vreal k = v_from_bits(power | V_MAGIC_BITS) - (V_MAGIC + 1024);
    p = v_from_bits(v_to_bits(p) + 1024 * one - (power << 52));
    vreal s = (p - q) / (p + q);
    vreal z = s * s, z2 = z * z, z4 = z2 * z2;
    vreal r =
        (0.66666666666666938646 + 0.39999999999335555298 * z) +
        (0.28571428836045550352 + 0.22222182776674481579 * z) * z2 +
        ((0.18184610246294064559 + 0.15283703752403146754 * z) + 0.15118487108724571415 * z2) * z4;
    return k * V_LN2_HIGH + (2 * s + (s * z * r + k * V_LN2_LOW));
}

/* ln x, x positive and normal. */
V_INLINE vreal v_log(vreal x)
{
    return v_log_ratio(x, v_all(1));
}

/* ---- exponentials ---- */

/* e^x for -708 <= x <= 709 (the range of normal numbers; not checked). */
V_INLINE vreal v_exp(vreal x)
{
    /* adding 1.5 * 2^52 rounds to an integer, which is then in the lower bits */
    const double round = 0x1.8p52;
    vreal shifted = x * (1 / V_LN2) + round;
    vreal k = shifted - round;
    vreal r = (x - k * V_LN2_HIGH) - k * V_LN2_LOW;
    vreal r2 = r * r, r4 = r2 * r2;
    vreal tail = (0.16666666666666666667 + 0.041666666666651355025 * r) +
                 (0.008333333333332155748 + 0.0013888888905881542497 * r) * r2 +
                 ((0.00019841269854338611409 + 0.000024801536388690767814 * r) +
                  (2.7557280067016979588e-6 + 2.7613806861538288093e-7 * r) * r2 +
                  2.509555467711111097e-8 * r4) *
                     r4;
    vreal e = 1 + (r + r2 * (0.5 + r * tail));
    return v_from_bits(v_to_bits(e) + (v_to_bits(shifted) << 52));
}

/* x^y, x positive and normal; relative error about 2^-53 (2 + |y ln x|). */
V_INLINE vreal v_pow(vreal x, vreal y)
{
    return v_exp(y * v_log(x));
}

#endif
