/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which of the widths that lib/meson.build compiles for this processor takes; asks for exactly the same
 * sets of instructions. */
#ifndef VENT_NUMERIC_WIDEST_H
#define VENT_NUMERIC_WIDEST_H

#if defined(__GNUC__) && defined(__x86_64__)
#define VENT__HAS_AVX512 (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq"))
#define VENT__HAS_AVX2   __builtin_cpu_supports("avx2")
#define VENT__WIDEST(name)                                                                         \
    (VENT__HAS_AVX512 ? name##_avx512 : VENT__HAS_AVX2 ? name##_avx2 : name##_baseline)
#else
#define VENT__WIDEST(name) name##_baseline
#endif

#endif
