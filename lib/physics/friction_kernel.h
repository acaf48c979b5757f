/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Darcy friction factor over lanes: one source for one pipe and for many side by side.
 *
 * Colebrook-White, 1/sqrt f = -2 log10(k/3.7 + 2.51/(Re sqrt f)), is in Y = ln 10 / (2 sqrt f)
 *
 *     Y = ln(X / (B + Y)),   X = Re ln 10 / (2 * 2.51),   B = k X / 3.7
 *
 * From a cheap start Y0, z = B + Y0, one accurate logarithm gives the residual F = Y0 - ln(X/z).
 * What z lacks, a fraction u of it, obeys z u + ln(1 + u) = -F. With q = 1/(z + 1) and w = -F q,
 * which is 1.7e-3 at most, that is the power series w = u - q (u^2/2 - u^3/3 + u^4/4 - ...),
 * inverted here to fourth order: what is left out is below
 * 2e-16 of Y in turbulent flow, 3e-16 from Re 2000.
 *
 * Along Re, at fixed k, Y + ln(B + Y) = ln X gives d ln Y / d ln Re = g = 1/(B + Y + 1), hence
 * d ln f / d ln Re = -2 g, at next to no cost.
 *
 * Laminar and turbulent flow are blended from Re 2000 to 4000: with s the smoothstep,
 * f = (1 - s) 64/Re + s f_turbulent, continuous with its slope. Air in vent pipe is seldom there, so
 * the blend is computed only where some lane needs it. */
#ifndef VENT_PHYSICS_FRICTION_KERNEL_H
#define VENT_PHYSICS_FRICTION_KERNEL_H

#include "numeric/lanes.h"

#define VENT__REYNOLDS_LEAST     1e-300 /* smaller ones are taken as this, so that f is finite */
#define VENT__REYNOLDS_LAMINAR   2000.0
#define VENT__REYNOLDS_TURBULENT 4000.0
#define VENT__REYNOLDS_MOST      1e9
#define VENT__ROUGHNESS_MOST     0.1

#define VENT__COLEBROOK_X 0.45868228944104495698 /* ln 10 / (2 * 2.51) */
#define VENT__COLEBROOK_F 1.3254745276195995026  /* (ln 10 / 2)^2 */

/* Colebrook-White's Y, and g = d ln Y / d ln Re. */
typedef struct v_colebrook {
    vreal y, g;
} v_colebrook;

/* Friction factor, and its slope d ln f / d ln Re. */
typedef struct v_friction {
    vreal factor, slope;
} v_friction;

/* Y to 0.01 from X and B. */
V_INLINE vreal v_colebrook_start(vreal x, vreal b)
{
    vreal y = 0.9 * v_log_crude(x) - 1; /* good for smooth pipe; for rough pipe b matters more */
    vreal log_x = v_log_rough(x);
    y = log_x - v_log_crude(b + y);
    return log_x - v_log_rough(b + y);
}

/* Y with all digits from such a start. */
V_INLINE v_colebrook v_colebrook_finish(vreal x, vreal b, vreal y0)
{
    vreal z = b + y0;
    vreal q = 1 / (z + 1);
    vreal a2 = q * 0.5;
    vreal a3 = q * (q * 0.5 - 1.0 / 3);
    vreal a4 = q * (0.25 + q * (0.625 * q - 5.0 / 6));
    vreal w = (v_log_ratio(x, z) - y0) * q, w2 = w * w;
    vreal u = w + w2 * ((a2 + w * a3) + w2 * a4);

    vreal t = (1 - q) * u; /* 1/(z (1 + u) + 1) = q/(1 + t) */
    return (v_colebrook){y0 + z * u, q * (1 - t * (1 - t * (1 - t * (1 - t))))};
}

/* Re >= 2000 */
V_INLINE v_colebrook v_colebrook_white(vreal reynolds, vreal roughness)
{
    vreal x = reynolds * VENT__COLEBROOK_X;
    vreal b = x * roughness * (1 / 3.7);
    return v_colebrook_finish(x, b, v_colebrook_start(x, b));
}

V_INLINE vreal v_colebrook_factor(vreal reynolds, vreal roughness)
{
    vreal y = v_colebrook_white(reynolds, roughness).y;
    return VENT__COLEBROOK_F / (y * y);
}

/* Between the regimes, 2000 <= Re <= 4000. Factors are kept times yy Re, so that nothing is divided
 * before the end. */
V_INLINE v_friction v_transition(vreal reynolds, v_colebrook colebrook)
{
    const double width = VENT__REYNOLDS_TURBULENT - VENT__REYNOLDS_LAMINAR;
    vreal t = (reynolds - VENT__REYNOLDS_LAMINAR) * (1 / width);
    vreal s = t * t * (3 - 2 * t), ds = 6 * t * (1 - t) * (1 / width);
    vreal yy = colebrook.y * colebrook.y;
    vreal laminar = 64 * yy, turbulent = VENT__COLEBROOK_F * reynolds;
    vreal blend = (1 - s) * laminar + s * turbulent;
    vreal rise =
        reynolds * ds * (turbulent - laminar) - (1 - s) * laminar - 2 * colebrook.g * s * turbulent;
    return (v_friction){blend / (yy * reynolds), rise / blend};
}

/* All regimes; Re >= 0, and a NaN stays one. */
V_INLINE v_friction v_friction_all(vreal reynolds, vreal roughness)
{
    vreal re = v_max(v_all(VENT__REYNOLDS_LEAST), reynolds);
    vreal high = v_max(v_all(VENT__REYNOLDS_LAMINAR), re);
    vmask is_laminar = re <= VENT__REYNOLDS_LAMINAR;
    vmask is_between = (re > VENT__REYNOLDS_LAMINAR) & (re < VENT__REYNOLDS_TURBULENT);
    v_colebrook colebrook = v_colebrook_white(high, roughness);

    vreal over = v_select(is_laminar, v_all(64), v_all(VENT__COLEBROOK_F));
    vreal under = v_select(is_laminar, re, colebrook.y * colebrook.y);
    v_friction f = {over / under, v_select(is_laminar, v_all(-1), -2 * colebrook.g)};
    if (v_any(is_between)) {
        v_friction between = v_transition(v_min(high, v_all(VENT__REYNOLDS_TURBULENT)), colebrook);
        f.factor = v_select(is_between, between.factor, f.factor);
        f.slope = v_select(is_between, between.slope, f.slope);
    }
    return f;
}

#endif
