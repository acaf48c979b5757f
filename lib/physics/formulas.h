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

/* Smooth bend: angle, radius ratio. Where an author's loss depends on the Reynolds number otherwise
 * than the form allows, `_extra` is added (or is the whole). */
vent__loss vent__bend_rennels(const double *geometry, double bore);
/* Beyond a quarter turn the formula climbs out of proportion below a radius of one bore. */
bool vent__bend_rennels_covers(double angle, double radius_ratio);
vent__loss vent__bend_idelchik(const double *geometry, double bore);
vent__slope vent__bend_idelchik_extra(const double *geometry, double bore, double reynolds);
vent__slope vent__bend_ito_extra(const double *geometry, double bore, double reynolds);
vent__slope vent__bend_miller_extra(const double *geometry, double bore, double reynolds);
vent__loss vent__bend_crane(const double *geometry, double bore);
/* Miller's K_b, at a Reynolds number of 1e6. */
double vent__bend_miller_base(double angle, double radius_ratio);

/* One mitre joint: angle. */
vent__loss vent__mitre_rennels(const double *geometry, double bore);
vent__loss vent__mitre_idelchik(const double *geometry, double bore);
vent__slope vent__mitre_idelchik_extra(const double *geometry, double bore, double reynolds);
vent__slope vent__mitre_miller_extra(const double *geometry, double bore, double reynolds);
vent__slope vent__mitre_blevins_extra(const double *geometry, double bore, double reynolds);
vent__loss vent__mitre_crane(const double *geometry, double bore);

/* Mitred elbow: angle, joints, radius ratio. */
vent__loss vent__segmented_hooper(const double *geometry, double bore);
vent__loss vent__segmented_apart(const double *geometry, double bore);

/* Short drain elbow: angle. Close return bend: nothing. */
vent__loss vent__drain_darby(const double *geometry, double bore);
vent__loss vent__drain_hooper(const double *geometry, double bore);
vent__loss vent__drain_crane(const double *geometry, double bore);
vent__loss vent__drain_idelchik(const double *geometry, double bore);
vent__slope vent__drain_idelchik_extra(const double *geometry, double bore, double reynolds);
vent__loss vent__close_return_darby(const double *geometry, double bore);
vent__loss vent__close_return_crane(const double *geometry, double bore);

/* Two right-angled elbows: radius ratio, spacing over bore, twist. Loss of both over the sum of each
 * alone. */
double vent__pair_factor(double radius_ratio, double spacing, double twist);
vent__loss vent__pair_rennels(const double *geometry, double bore);
vent__slope vent__pair_miller_extra(const double *geometry, double bore, double reynolds);

/* Elbow with a short outlet: angle, radius ratio, length of the outlet over bore. What is left of an
 * elbow's loss where the pipe behind it ends so soon (in still air or a plenum, whose exit loss is
 * not in it). */
double vent__outlet_factor(double angle, double radius_ratio, double outlet_ratio);
vent__loss vent__outlet_rennels(const double *geometry, double bore);
vent__slope vent__outlet_miller_extra(const double *geometry, double bore, double reynolds);

/* General forms: k1, ki, kd [in^0.3], nominal size [m]; k1, k_infinity; length over bore. */
vent__loss vent__three_constant(const double *geometry, double bore);
vent__loss vent__two_constant(const double *geometry, double bore);
vent__loss vent__length_ratio(const double *geometry, double bore);

/* Sudden change: other bore. Either way round; the names say which way the air goes. */
vent__loss vent__expansion_borda_carnot(const double *geometry, double bore);
vent__loss vent__contraction_rennels(const double *geometry, double bore);
vent__loss vent__contraction_crane(const double *geometry, double bore);

/* Conical change: other bore, included angle. */
vent__loss vent__diffuser_rennels(const double *geometry, double bore);
vent__loss vent__diffuser_crane(const double *geometry, double bore);
vent__loss vent__cone_rennels(const double *geometry, double bore);
vent__loss vent__cone_crane(const double *geometry, double bore);

/* Rennels & Hudson's contracting jet: the loss on the smaller pipe by the ratio of bores, and what
 * rounding or bevelling leaves of the edge's own loss and of the contraction; 1 and 1 for a sharp edge. */
double vent__contracting_jet(double beta, double edge, double contraction);
/* Idelchik's bevelled entry, by length over bore and angle to the axis. */
double vent__bevel_idelchik(double length_ratio, double angle);

/* A throat of some length between two bores, on the velocity pressure of the throat. */
typedef struct vent__throat {
    double upstream, bore, downstream, length; /* all in m */
} vent__throat;
vent__loss vent__throat_idelchik(vent__throat throat);
vent__loss vent__throat_rennels(vent__throat throat);

/* Straight between neighbours of a table in rising x, held beyond its ends. */
double vent__interpolate(int count, const double *x, const double *y, double at);

/* Entries: nothing; wall ratio; edge radius ratio. */
vent__loss vent__flush_idelchik(const double *geometry, double bore);
vent__loss vent__flush_rennels(const double *geometry, double bore);
vent__loss vent__reentrant_rennels(const double *geometry, double bore);
vent__loss vent__rounded_rennels(const double *geometry, double bore);
vent__loss vent__rounded_idelchik(const double *geometry, double bore);
vent__loss vent__rounded_swamee(const double *geometry, double bore);

/* A mesh of round wires, its free share, and the velocity of the air in front of it over that in the
 * pipe. K on the pipe's velocity pressure, of what the mesh alone takes. */
typedef struct vent__mesh {
    double wire, free_area, speed;
} vent__mesh;
vent__loss vent__mesh_idelchik(vent__mesh mesh, double bore);
vent__slope vent__mesh_blevins(vent__mesh mesh, double bore, double reynolds);
vent__slope vent__mesh_brundrett(vent__mesh mesh, double bore, double reynolds);
vent__slope vent__mesh_wieghardt(vent__mesh mesh, double bore, double reynolds);
/* Screen of round wires: wire, opening. */
vent__loss vent__screen_idelchik(const double *geometry, double bore);

/* The end of a pipe of which a share is free: K of the air that leaves, and that is drawn in. */
double vent__orifice_exit_rennels(double free_area);
double vent__orifice_exit_idelchik(double free_area);
double vent__orifice_entry_rennels(double free_area);
double vent__orifice_entry_idelchik(double free_area);
/* Weather cap: gap ratio. What it adds to the exit. */
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
