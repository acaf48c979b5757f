/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/formulas.h"

#include <math.h>
#include <ventstack/units.h>

static double square(double x)
{
    return x * x;
}

static double fourth(double x)
{
    return square(square(x));
}

static double degrees(double radians)
{
    return radians * (180 / VENT_PI);
}

static vent__loss constant(double k)
{
    return (vent__loss){.k0 = k};
}

static vent__loss times(double scale, vent__loss loss)
{
    return (vent__loss){scale * loss.k0, scale * loss.k1, scale * loss.kf};
}

/* From one loss at `share` 0 to another at 1. */
static vent__loss between(vent__loss from, vent__loss to, double share)
{
    return (vent__loss){from.k0 + share * (to.k0 - from.k0), from.k1 + share * (to.k1 - from.k1),
                        from.kf + share * (to.kf - from.kf)};
}

/* ---- bends -------------------------------------------------------------------------------- */

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
    return constant(0.42 * half + 2.56 * half * square(half));
}

/* Idelchik, diagram 6-7, times A = 0.95 + 33.5/angle; the product vanishes with the angle. */
vent__loss vent__mitre_idelchik(const double *geometry, double bore)
{
    (void)bore;
    double angle = geometry[0], half = sin(angle / 2);
    double a = angle > 0 ? 0.95 + 33.5 / degrees(angle) : 0;
    return constant(a * (0.95 * square(half) + 2.05 * fourth(half)));
}

/* ---- changes of bore ---------------------------------------------------------------------- */

/* Every formula for a change of bore is on the velocity pressure of the smaller pipe. */
static double smaller(const double *geometry, double bore)
{
    return fmin(geometry[0], bore);
}

static double diameter_ratio(const double *geometry, double bore)
{
    return smaller(geometry, bore) / fmax(geometry[0], bore);
}

static vent__loss on_this_pipe(vent__loss loss, const double *geometry, double bore)
{
    return times(fourth(bore / smaller(geometry, bore)), loss);
}

static vent__loss borda_carnot(double beta)
{
    return constant(square(1 - square(beta)));
}

vent__loss vent__expansion_borda_carnot(const double *geometry, double bore)
{
    return on_this_pipe(borda_carnot(diameter_ratio(geometry, bore)), geometry, bore);
}

/* Rennels & Hudson (2012), conical contraction; at 180 degrees the sharp-edged one and, in the
 * formula as printed, a rest of wall friction. */
static vent__loss cone(double angle, double beta)
{
    double b2 = square(beta), b4 = square(b2), b5 = b4 * beta, half = sin(angle / 2);
    double jet = 1 + 0.622 * pow(angle / VENT_PI, 0.8) * (1 - 0.215 * b2 - 0.785 * b5);
    return (vent__loss){.k0 = 0.0696 * half * (1 - b5) * square(jet) + square(jet - 1),
                        .kf = (1 - b4) / (8 * half)};
}

static vent__loss sharp_contraction(double beta)
{
    return constant(cone(VENT_PI, beta).k0);
}

vent__loss vent__contraction_rennels(const double *geometry, double bore)
{
    return on_this_pipe(sharp_contraction(diameter_ratio(geometry, bore)), geometry, bore);
}

vent__loss vent__contraction_crane(const double *geometry, double bore)
{
    return on_this_pipe(constant(0.5 * (1 - square(diameter_ratio(geometry, bore)))), geometry,
                        bore);
}

/* Rennels & Hudson (2012), conical diffuser, as printed: three ranges of the angle [degrees]. */
static vent__loss diffuser(double angle, double beta)
{
    double b2 = square(beta), b4 = square(b2), half = VENT_RADIANS(angle) / 2;
    double narrow = beta < 0.5 ? 3.28 * (0.0625 - b4) : 0;
    double friction = (1 - b4) / (8 * sin(half)), bracket;
    if (angle <= 20) {
        bracket = 8.30 * pow(tan(half), 1.75);
    } else if (angle <= 60) {
        bracket = 1.366 * sqrt(sin(VENT_RADIANS(2 * (angle - 15)))) - 0.170 -
                  narrow * sqrt((angle - 20) / 40);
    } else {
        double decline = beta < 0.5 ? 12.8 * b4 * b2 : 0.20;
        bracket = 1.205 - narrow - decline * sqrt((angle - 60) / 120);
        friction = 0;
    }
    return (vent__loss){.k0 = bracket * square(1 - b2), .kf = friction};
}

/* The ranges of the diffuser do not quite meet, and neither the diffuser nor the cone quite ends in
 * the sudden change. Short straight bridges join them; elsewhere the formulas stand as printed.
 * That a cone between 40 and 180 degrees costs more than a step is the source's finding, and is
 * kept. */
static const double FIRST_JOINT = 20, FIRST_BRIDGE_END = 21;
static const double SECOND_JOINT = 60, SECOND_BRIDGE_END = 65;
static const double LAST_BRIDGE = 175, STEP = 180;

static double share_of_step(double angle)
{
    return fmin((angle - LAST_BRIDGE) / (STEP - LAST_BRIDGE), 1);
}

static vent__loss bridged_diffuser(double angle, double beta)
{
    if (angle > LAST_BRIDGE)
        return between(diffuser(LAST_BRIDGE, beta), borda_carnot(beta), share_of_step(angle));
    if (angle > SECOND_JOINT && angle < SECOND_BRIDGE_END)
        return between(diffuser(SECOND_JOINT, beta), diffuser(SECOND_BRIDGE_END, beta),
                       (angle - SECOND_JOINT) / (SECOND_BRIDGE_END - SECOND_JOINT));
    if (angle > FIRST_JOINT && angle < FIRST_BRIDGE_END)
        return between(diffuser(FIRST_JOINT, beta), diffuser(FIRST_BRIDGE_END, beta),
                       (angle - FIRST_JOINT) / (FIRST_BRIDGE_END - FIRST_JOINT));
    return diffuser(angle, beta);
}

vent__loss vent__diffuser_rennels(const double *geometry, double bore)
{
    double beta = diameter_ratio(geometry, bore);
    return on_this_pipe(bridged_diffuser(degrees(geometry[1]), beta), geometry, bore);
}

vent__loss vent__diffuser_crane(const double *geometry, double bore)
{
    double share = geometry[1] < VENT_RADIANS(45) ? 2.6 * sin(geometry[1] / 2) : 1;
    return times(share, vent__expansion_borda_carnot(geometry, bore));
}

vent__loss vent__cone_rennels(const double *geometry, double bore)
{
    double angle = geometry[1], beta = diameter_ratio(geometry, bore);
    vent__loss loss = degrees(angle) > LAST_BRIDGE
                          ? between(cone(VENT_RADIANS(LAST_BRIDGE), beta), sharp_contraction(beta),
                                    share_of_step(degrees(angle)))
                          : cone(angle, beta);
    return on_this_pipe(loss, geometry, bore);
}

vent__loss vent__cone_crane(const double *geometry, double bore)
{
    double half = sin(geometry[1] / 2);
    double share = geometry[1] < VENT_RADIANS(45) ? 1.6 * half : sqrt(half);
    return times(share, vent__contraction_crane(geometry, bore));
}

/* ---- entries ------------------------------------------------------------------------------ */

vent__loss vent__flush_idelchik(const double *geometry, double bore)
{
    (void)geometry, (void)bore;
    return constant(0.5);
}

vent__loss vent__flush_rennels(const double *geometry, double bore)
{
    (void)geometry, (void)bore;
    return constant(VENT__THICK_END_ENTRY);
}

/* Thicker than a twentieth of the bore, the wall's face acts as a flange. */
vent__loss vent__reentrant_rennels(const double *geometry, double bore)
{
    (void)bore;
    double x = fmin(geometry[0], 0.05);
    return constant(1.12 + x * (-22 + x * (216 + x * 80)));
}

/* Beyond a radius of one bore nothing changes any more (the source rounds 0.029998 to 0.03). */
vent__loss vent__rounded_rennels(const double *geometry, double bore)
{
    (void)bore;
    double ratio = fmin(geometry[0], 1);
    double jet = 1 + 0.622 * fourth(1 - 0.30 * sqrt(ratio) - 0.70 * ratio);
    return constant(0.0696 * (1 - 0.569 * ratio) * square(jet) + square(jet - 1));
}

/* Idelchik, diagram 3-4, the formula from memory; the values it is fitted to were seen, and it
 * meets them within 0.015. */
vent__loss vent__rounded_idelchik(const double *geometry, double bore)
{
    (void)bore;
    return constant(0.03 + 0.47 * pow(10, -7.7 * geometry[0]));
}

vent__loss vent__rounded_swamee(const double *geometry, double bore)
{
    (void)bore;
    return constant(0.5 / (1 + 36 * pow(geometry[0], 1.2)));
}

/* ---- terminations ------------------------------------------------------------------------- */

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
    return constant(0.1 * pow(geometry[0], -2.88));
}

/* Idelchik, diagram 7-29: 1 + k (arm velocity / stem velocity)^2 with k 1.5 for a standard tee. */
vent__loss vent__tee_dividing_idelchik(const double *geometry, double bore)
{
    (void)geometry, (void)bore;
    return constant(1 + 1.5 * square(0.5));
}

/* The same diagram: A [1 + 1 + 3 (q^2 - q)] with A 0.55 (table 7-1) and q one half. */
vent__loss vent__tee_joining_idelchik(const double *geometry, double bore)
{
    (void)geometry, (void)bore;
    return constant(0.55 * (2 + 3 * (0.25 - 0.5)));
}
