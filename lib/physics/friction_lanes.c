/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Compiled once for each instruction set; VENT_ISA names it and becomes the functions' suffix. */
#include "physics/friction_lanes.h"

#include "physics/friction_kernel.h"

#include <math.h>
#include <stdbool.h>

#define PASTE(name, isa)    name##_##isa
#define SUFFIXED(name, isa) PASTE(name, isa)
#define ISA(name)           SUFFIXED(name, VENT_ISA)

/* The first `count` lanes from x, the others harmless. */
V_INLINE vreal load_part(const double *x, size_t count, double harmless)
{
    double lane[VENT_LANES];
    for (size_t i = 0; i < VENT_LANES; i++)
        lane[i] = i < count ? x[i] : harmless;
    return v_load(lane);
}

V_INLINE void store_part(double *x, size_t count, vreal v)
{
    double lane[VENT_LANES];
    v_store(lane, v);
    for (size_t i = 0; i < count; i++)
        x[i] = lane[i];
}

/* The domain of a law, with NaN outside. An element outside is computed all the same: no lane can
 * fault, and the result is thrown away. */
V_INLINE vreal checked(vreal law(vreal, vreal), double reynolds_low, vreal reynolds,
                       vreal roughness, vmask *bad)
{
    vmask is_good = (reynolds >= reynolds_low) & (reynolds <= VENT__REYNOLDS_MOST) &
                    (roughness >= 0) & (roughness <= VENT__ROUGHNESS_MOST);
    *bad = v_tally(*bad, is_good == 0);
    return v_select(is_good, law(reynolds, roughness), v_all((double)NAN));
}

/* Whether all air is turbulent in two vectors, which then need no more than Colebrook-White. They are worked
 * on at once: either is a long chain of operations, and those of the other fill its waits. */
V_INLINE bool are_turbulent(vreal reynolds, vreal other)
{
    return !v_any((reynolds < VENT__REYNOLDS_TURBULENT) | (other < VENT__REYNOLDS_TURBULENT));
}

V_INLINE void checked_two(vreal law(vreal, vreal), double reynolds_low, const double *reynolds,
                          const double *roughness, double *factor, vmask *bad)
{
    vreal first = checked(law, reynolds_low, v_load(reynolds), v_load(roughness), bad);
    vreal second = checked(law, reynolds_low, v_load(reynolds + VENT_LANES),
                           v_load(roughness + VENT_LANES), bad);
    v_store(factor, first);
    v_store(factor + VENT_LANES, second);
}

V_INLINE size_t over_array(vreal law(vreal, vreal), double reynolds_low, size_t n,
                           const double *reynolds, const double *roughness, double *factor)
{
    vmask bad = {0};
    size_t i = 0;
    for (; i + 2 * VENT_LANES <= n; i += 2 * VENT_LANES)
        if (are_turbulent(v_load(reynolds + i), v_load(reynolds + i + VENT_LANES)))
            checked_two(v_colebrook_factor, reynolds_low, reynolds + i, roughness + i, factor + i,
                        &bad);
        else
            checked_two(law, reynolds_low, reynolds + i, roughness + i, factor + i, &bad);
    for (; i + VENT_LANES <= n; i += VENT_LANES)
        v_store(factor + i,
                checked(law, reynolds_low, v_load(reynolds + i), v_load(roughness + i), &bad));
    if (i < n)
        store_part(factor + i, n - i,
                   checked(law, reynolds_low, load_part(reynolds + i, n - i, VENT__REYNOLDS_MOST),
                           load_part(roughness + i, n - i, 0), &bad));
    return v_total(bad);
}

V_INLINE vreal all_regimes(vreal reynolds, vreal roughness)
{
    return v_friction_all(reynolds, roughness).factor;
}

size_t ISA(vent__friction_factor)(size_t n, const double *reynolds, const double *roughness,
                                  double *factor)
{
    return over_array(all_regimes, VENT__REYNOLDS_LEAST, n, reynolds, roughness, factor);
}

size_t ISA(vent__friction_colebrook)(size_t n, const double *reynolds, const double *roughness,
                                     double *factor)
{
    return over_array(v_colebrook_factor, VENT__REYNOLDS_LAMINAR, n, reynolds, roughness, factor);
}

V_INLINE v_friction turbulent(vreal reynolds, vreal roughness)
{
    v_colebrook at = v_colebrook_white(reynolds, roughness);
    return (v_friction){VENT__COLEBROOK_F / (at.y * at.y), -2 * at.g};
}

V_INLINE void slopes_of_two(v_friction law(vreal, vreal), const double *reynolds,
                            const double *roughness, double *factor, double *slope)
{
    v_friction first = law(v_load(reynolds), v_load(roughness));
    v_friction second = law(v_load(reynolds + VENT_LANES), v_load(roughness + VENT_LANES));
    v_store(factor, first.factor);
    v_store(slope, first.slope);
    v_store(factor + VENT_LANES, second.factor);
    v_store(slope + VENT_LANES, second.slope);
}

void ISA(vent__friction_slopes)(size_t n, const double *reynolds, const double *roughness,
                                double *factor, double *slope)
{
    size_t i = 0;
    for (; i + 2 * VENT_LANES <= n; i += 2 * VENT_LANES)
        if (are_turbulent(v_load(reynolds + i), v_load(reynolds + i + VENT_LANES)))
            slopes_of_two(turbulent, reynolds + i, roughness + i, factor + i, slope + i);
        else
            slopes_of_two(v_friction_all, reynolds + i, roughness + i, factor + i, slope + i);
    for (; i + VENT_LANES <= n; i += VENT_LANES) {
        v_friction f = v_friction_all(v_load(reynolds + i), v_load(roughness + i));
        v_store(factor + i, f.factor);
        v_store(slope + i, f.slope);
    }
    if (i < n) {
        v_friction f = v_friction_all(load_part(reynolds + i, n - i, VENT__REYNOLDS_MOST),
                                      load_part(roughness + i, n - i, 0));
        store_part(factor + i, n - i, f.factor);
        store_part(slope + i, n - i, f.slope);
    }
}

void ISA(vent__power)(size_t n, const double *x, const double *y, double *power)
{
    size_t i = 0;
    for (; i + VENT_LANES <= n; i += VENT_LANES)
        v_store(power + i, v_pow(v_load(x + i), v_load(y + i)));
    if (i < n)
        store_part(power + i, n - i, v_pow(load_part(x + i, n - i, 1), load_part(y + i, n - i, 0)));
}
