/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bends: smooth and mitred, alone and in pairs. */
#include "physics/family.h"

#include <ventstack/bend.h>
#include <ventstack/units.h>

/* ---- formulas ------------------------------------------------------------------------------- */

/* Rennels & Hudson (2012): surface friction, secondary flow, separation. At r/D below 1 the
 * exponent makes long bends absurd (5.7 at 180 degrees and r/D 0.5); the spread shows it. */
vent__loss vent__bend_rennels(const double *geometry, double bore)
{
    (void)bore;
    double angle = geometry[0], radius_ratio = geometry[1], half = sin(angle / 2);
    double separation = 6.6 * (sqrt(half) + half) / pow(radius_ratio, 4 * angle / VENT_PI);
    return (vent__loss){.k0 = 0.10 * half, .kf = angle * radius_ratio + 2.4 * half + separation};
}

/* Idelchik, diagram 6-1: A1 B1 and the friction of the bend's own length. A1 is given up to 70
 * degrees, at 90 and from 100; it is straight between. */
static double angle_factor_idelchik(double angle)
{
    double d = degrees(angle), at_70 = 0.9 * sin(VENT_RADIANS(70)), at_100 = 0.7 + 0.35 * 100 / 90;
    if (d <= 70)
        return 0.9 * sin(angle);
    if (d <= 90)
        return at_70 + (1 - at_70) * (d - 70) / 20;
    if (d <= 100)
        return 1 + (at_100 - 1) * (d - 90) / 10;
    return 0.7 + 0.35 * d / 90;
}

vent__loss vent__bend_idelchik(const double *geometry, double bore)
{
    (void)bore;
    double angle = geometry[0], radius_ratio = geometry[1];
    double b1 = 0.21 * pow(radius_ratio, radius_ratio < 1 ? -2.5 : -0.5);
    return (vent__loss){.k0 = angle_factor_idelchik(angle) * b1, .kf = angle * radius_ratio};
}

vent__loss vent__mitre_rennels(const double *geometry, double bore)
{
    (void)bore;
    double half = sin(geometry[0] / 2);
    return constant_loss(0.42 * half + 2.56 * half * square(half));
}

/* Idelchik, diagram 6-7, times A = 0.95 + 33.5/angle; the product vanishes with the angle. */
vent__loss vent__mitre_idelchik(const double *geometry, double bore)
{
    (void)bore;
    double angle = geometry[0], half = sin(angle / 2);
    double a = angle > 0 ? 0.95 + 33.5 / degrees(angle) : 0;
    return constant_loss(a * (0.95 * square(half) + 2.05 * fourth(half)));
}

/* ---- laws ----------------------------------------------------------------------------------- */

/* Published values for elbows of one radius differ by 25 % (one standard deviation) from radius
 * ratio 1 on: at 1.5 they run from 0.15 to 0.33 without and with the bend's friction. Short drain
 * elbows, sharp inside and stepped at the sockets, run from 0.3 to 1.2: 50 % at ratio 0.5. */
static double short_radius(const double *geometry, double k)
{
    return geometry[1] < 1 ? 0.866 * (1 - geometry[1]) * k : 0;
}

static const vent__law bend = {
    .relative = 0.25,
    .more = short_radius,
    .formula = {{VENT__SOURCE_RENNELS_BEND, VENT__TURBULENT, vent__bend_rennels, NULL, NULL},
                {VENT__SOURCE_IDELCHIK_BEND, VENT__TURBULENT, vent__bend_idelchik, NULL, NULL}}};

/* Neither formula knows the Reynolds number: tables have 4 % more at 1e5, 26 % at 2e4, 40 % at 1e4.
 * Between authors a right-angled mitre runs from 1.0 to 1.7. */
static const vent__law mitre = {
    .relative = 0.25,
    .formula = {{VENT__SOURCE_RENNELS_MITRE, 2e4, 1e8, vent__mitre_rennels, NULL, NULL},
                {VENT__SOURCE_IDELCHIK_MITRE, 2e4, 1e8, vent__mitre_idelchik, NULL, NULL}}};

/* ---- families ------------------------------------------------------------------------------- */

#define ANGLE                                                                                      \
    {                                                                                              \
        "angle", "rad", 0, VENT__HALF_TURN, 0, VENT__HALF_TURN                                     \
    }

const vent__family vent__elbow = {
    .name = "elbow",
    .along = &bend,
    .against = &bend,
    .parameters = 2,
    .parameter = {ANGLE, {"radius_ratio", "", 0.4, 10, 0.5, 10}},
};

const vent__family vent__mitre = {
    .name = "mitre",
    .along = &mitre,
    .against = &mitre,
    .parameters = 1,
    .parameter = {{"angle", "rad", 0, VENT__HALF_TURN, 0, VENT_RADIANS(150)}},
};

/* ---- constructors --------------------------------------------------------------------------- */

vent_fitting vent_elbow(double angle, double radius_ratio, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_ELBOW, (double[]){angle, radius_ratio}, __func__, err);
}

vent_fitting vent_mitre(double angle, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_MITRE, &angle, __func__, err);
}
