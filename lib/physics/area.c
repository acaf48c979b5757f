/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Changes of bore, sudden and gradual, either way round. */
#include "physics/family.h"

#include <ventstack/area.h>
#include <ventstack/units.h>

/* ---- formulas ------------------------------------------------------------------------------- */

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
    return constant_loss(square(1 - square(beta)));
}

vent__loss vent__expansion_borda_carnot(const double *geometry, double bore)
{
    return on_this_pipe(borda_carnot(diameter_ratio(geometry, bore)), geometry, bore);
}

/* Rennels & Hudson (2012), conical contraction; at 180 degrees the sharp-edged one and, in the
 * formula as printed, a rest of wall friction. */
static vent__loss narrowing(double angle, double beta)
{
    double b2 = square(beta), b4 = square(b2), b5 = b4 * beta, half = sin(angle / 2);
    double jet = 1 + 0.622 * pow(angle / VENT_PI, 0.8) * (1 - 0.215 * b2 - 0.785 * b5);
    return (vent__loss){.k0 = 0.0696 * half * (1 - b5) * square(jet) + square(jet - 1),
                        .kf = (1 - b4) / (8 * half)};
}

static vent__loss sharp_contraction(double beta)
{
    return constant_loss(narrowing(VENT_PI, beta).k0);
}

vent__loss vent__contraction_rennels(const double *geometry, double bore)
{
    return on_this_pipe(sharp_contraction(diameter_ratio(geometry, bore)), geometry, bore);
}

vent__loss vent__contraction_crane(const double *geometry, double bore)
{
    return on_this_pipe(constant_loss(0.5 * (1 - square(diameter_ratio(geometry, bore)))), geometry,
                        bore);
}

/* Rennels & Hudson (2012), conical diffuser, as printed: three ranges of the angle [degrees]. */
static vent__loss widening(double angle, double beta)
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
        return between(widening(LAST_BRIDGE, beta), borda_carnot(beta), share_of_step(angle));
    if (angle > SECOND_JOINT && angle < SECOND_BRIDGE_END)
        return between(widening(SECOND_JOINT, beta), widening(SECOND_BRIDGE_END, beta),
                       (angle - SECOND_JOINT) / (SECOND_BRIDGE_END - SECOND_JOINT));
    if (angle > FIRST_JOINT && angle < FIRST_BRIDGE_END)
        return between(widening(FIRST_JOINT, beta), widening(FIRST_BRIDGE_END, beta),
                       (angle - FIRST_JOINT) / (FIRST_BRIDGE_END - FIRST_JOINT));
    return widening(angle, beta);
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
                          ? between(narrowing(VENT_RADIANS(LAST_BRIDGE), beta),
                                    sharp_contraction(beta), share_of_step(degrees(angle)))
                          : narrowing(angle, beta);
    return on_this_pipe(loss, geometry, bore);
}

vent__loss vent__cone_crane(const double *geometry, double bore)
{
    double half = sin(geometry[1] / 2);
    double share = geometry[1] < VENT_RADIANS(45) ? 1.6 * half : sqrt(half);
    return times(share, vent__contraction_crane(geometry, bore));
}

/* ---- laws ----------------------------------------------------------------------------------- */

static const vent__law expansion = {.relative = 0.05,
                                    .formula = {{VENT__SOURCE_BORDA_CARNOT, VENT__TURBULENT,
                                                 vent__expansion_borda_carnot, NULL, NULL}}};

/* Near equal bores, where little is lost, Weisbach's old measurements are half of the formulas. */
static const vent__law contraction = {
    .relative = 0.25,
    .formula = {
        {VENT__SOURCE_RENNELS_CONTRACTION, VENT__TURBULENT, vent__contraction_rennels, NULL, NULL},
        {VENT__SOURCE_CRANE_CONTRACTION, VENT__TURBULENT, vent__contraction_crane, NULL, NULL}}};

/* What a diffuser recovers depends on the profile that enters it, of which no formula knows. */
static const vent__law diffuser = {
    .relative = 0.25,
    .formula = {
        {VENT__SOURCE_RENNELS_DIFFUSER, VENT__TURBULENT, vent__diffuser_rennels, NULL, NULL},
        {VENT__SOURCE_CRANE_DIFFUSER, VENT__TURBULENT, vent__diffuser_crane, NULL, NULL}}};

static const vent__law cone = {
    .relative = 0.20,
    .formula = {{VENT__SOURCE_RENNELS_CONTRACTION, VENT__TURBULENT, vent__cone_rennels, NULL, NULL},
                {VENT__SOURCE_CRANE_CONTRACTION, VENT__TURBULENT, vent__cone_crane, NULL, NULL}}};

/* ---- families ------------------------------------------------------------------------------- */

#define OTHER_BORE                                                                                 \
    {                                                                                              \
        "other_bore", "m", 1e-4, 10, 1e-4, 10                                                      \
    }

const vent__family vent__sudden = {
    .name = "sudden change",
    .along = &expansion,
    .against = &contraction,
    .by_bore = true,
    .parameters = 1,
    .parameter = {OTHER_BORE},
};

const vent__family vent__gradual = {
    .name = "gradual change",
    .along = &diffuser,
    .against = &cone,
    .by_bore = true,
    .parameters = 2,
    .parameter = {OTHER_BORE, {"cone_angle", "rad", 1e-3, VENT__HALF_TURN, 1e-3, VENT__HALF_TURN}},
};

/* ---- constructors --------------------------------------------------------------------------- */

vent_fitting vent_sudden_change(double other_bore, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_SUDDEN, &other_bore, __func__, err);
}

vent_fitting vent_gradual_change(double other_bore, double cone_angle, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_GRADUAL, (double[]){other_bore, cone_angle}, __func__,
                              err);
}
