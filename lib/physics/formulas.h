/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The published formulas for loss coefficients, one function a formula, each reduced to
 * K(Re) = k0 + k1/Re + kf f(Re) on the velocity pressure of the pipe the part sits in. They know
 * nothing of bounds, spread or flags: that is the families' (physics/family.h). `geometry` is the
 * part's own, in the order its family states; `bore` is that of the pipe it sits in. */
#ifndef VENT_PHYSICS_FORMULAS_H
#define VENT_PHYSICS_FORMULAS_H

#include <math.h>
#include <ventstack/units.h>

#include "physics/laws.h"

/* Smooth bend: angle, radius ratio. */
vent__loss vent__bend_rennels(const double *geometry, double bore);
vent__loss vent__bend_idelchik(const double *geometry, double bore);

/* One mitre joint: angle. */
vent__loss vent__mitre_rennels(const double *geometry, double bore);
vent__loss vent__mitre_idelchik(const double *geometry, double bore);

/* Sudden change: other bore. Either way round; the names say which way the air goes. */
vent__loss vent__expansion_borda_carnot(const double *geometry, double bore);
vent__loss vent__contraction_rennels(const double *geometry, double bore);
vent__loss vent__contraction_crane(const double *geometry, double bore);

/* Conical change: other bore, included angle. */
vent__loss vent__diffuser_rennels(const double *geometry, double bore);
vent__loss vent__diffuser_crane(const double *geometry, double bore);
vent__loss vent__cone_rennels(const double *geometry, double bore);
vent__loss vent__cone_crane(const double *geometry, double bore);

/* Entries: nothing; wall ratio; edge radius ratio. */
vent__loss vent__flush_idelchik(const double *geometry, double bore);
vent__loss vent__flush_rennels(const double *geometry, double bore);
vent__loss vent__reentrant_rennels(const double *geometry, double bore);
vent__loss vent__rounded_rennels(const double *geometry, double bore);
vent__loss vent__rounded_idelchik(const double *geometry, double bore);
vent__loss vent__rounded_swamee(const double *geometry, double bore);

/* Screen of round wires: wire, opening. Weather cap: gap ratio. What each adds to the exit. */
vent__loss vent__screen_idelchik(const double *geometry, double bore);
vent__loss vent__weather_cap(const double *geometry, double bore);

/* Symmetrical tee of equal bores, half the flow in each arm: from the stem, and into it. */
vent__loss vent__tee_dividing_idelchik(const double *geometry, double bore);
vent__loss vent__tee_joining_idelchik(const double *geometry, double bore);

/* K on the pipe of a sharp-edged opening of any shape, by the share of the bore it leaves free. */
vent__loss vent__opening_rennels(double free_area);
vent__loss vent__opening_idelchik(double free_area);
/* Share of a circle that another of the same size covers, its centre `offset` diameters away. */
double vent__overlap(double offset);
/* Discharge coefficient of an orifice plate and dC/dRe, from ISO 5167-2. */
vent__slope vent__orifice_discharge(double beta, double bore, double reynolds);
/* Crane's friction factor of fully turbulent flow in clean commercial steel pipe. */
double vent__crane_friction(double bore);

/* A pipe end thicker than a twentieth of the bore, free or in a wall (Rennels & Hudson). */
#define VENT__THICK_END_ENTRY 0.57

/* Half a turn, rounded up so that degrees turned into radians stay inside. */
#define VENT__HALF_TURN 3.141592654

/* ---- algebra of losses --------------------------------------------------------------------- */

static inline double square(double x)
{
    return x * x;
}

static inline double fourth(double x)
{
    return square(square(x));
}

static inline double degrees(double radians)
{
    return radians * (180 / VENT_PI);
}

static inline vent__loss constant_loss(double k)
{
    return (vent__loss){.k0 = k};
}

static inline vent__loss times(double scale, vent__loss loss)
{
    return (vent__loss){scale * loss.k0, scale * loss.k1, scale * loss.kf};
}

/* From one loss at `share` 0 to another at 1. */
static inline vent__loss between(vent__loss from, vent__loss to, double share)
{
    return (vent__loss){from.k0 + share * (to.k0 - from.k0), from.k1 + share * (to.k1 - from.k1),
                        from.kf + share * (to.kf - from.kf)};
}

#endif
