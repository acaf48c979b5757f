/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Screens, and the formulas of things that stand on top. */
#include "physics/family.h"

#include <ventstack/screen.h>
#include <ventstack/termination.h>
#include <ventstack/units.h>

/* ---- formulas ------------------------------------------------------------------------------- */

/* Idelchik, diagram 8-6. His factor for wire Reynolds numbers below 1000 (1.44 at 50, 1.24 at 100,
 * 1.08 at 200, 1.03 at 300, from memory) is met by 1 + 22/Re within 5 %. */
vent__loss vent__screen_idelchik(const double *geometry, double bore)
{
    double wire = geometry[0], f = vent_guard_free_area(wire, geometry[1]);
    double k = 1.3 * (1 - f) + square(1 / f - 1);
    return (vent__loss){.k0 = k, .k1 = 22 * k * bore / wire};
}

/* A power law of our own through remembered values: 1.0 at a gap of 0.45 bores, 0.1 at one bore. */
vent__loss vent__weather_cap(const double *geometry, double bore)
{
    (void)bore;
    return constant_loss(0.1 * pow(geometry[0], -2.88));
}

/* Idelchik, diagram 7-29: 1 + k (arm velocity / stem velocity)^2 with k 1.5 for a standard tee. */
vent__loss vent__tee_dividing_idelchik(const double *geometry, double bore)
{
    (void)geometry, (void)bore;
    return constant_loss(1 + 1.5 * square(0.5));
}

/* The same diagram: A [1 + 1 + 3 (q^2 - q)] with A 0.55 (table 7-1) and q one half. */
vent__loss vent__tee_joining_idelchik(const double *geometry, double bore)
{
    (void)geometry, (void)bore;
    return constant_loss(0.55 * (2 + 3 * (0.25 - 0.5)));
}
