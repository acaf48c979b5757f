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

/* (1 + 0.8 f) times the momentum loss: what the turbulent profile adds. */
static vent__loss expansion_hooper(const double *geometry, double bore)
{
    vent__loss loss = vent__expansion_borda_carnot(geometry, bore);
    loss.kf = 0.8 * loss.k0;
    return loss;
}

double vent__contracting_jet(double beta, double edge, double contraction)
{
    double b2 = square(beta), b5 = square(b2) * beta;
    double jet = 1 + 0.622 * contraction * (1 - 0.215 * b2 - 0.785 * b5);
    return 0.0696 * edge * (1 - b5) * square(jet) + square(jet - 1);
}

/* What a bevel leaves of the contraction, whole where it takes the whole step; the angle is between
 * opposite walls, the share that of the step. A cone is a bevel that takes it all. */
static double bevelled_jet(double angle, double share, double beta)
{
    return vent__contracting_jet(beta, 1 + share * (sin(angle / 2) - 1),
                                 1 + share * (pow(angle / VENT_PI, 0.8) - 1));
}

/* At 180 degrees the sharp-edged contraction and, in the formula as printed, a rest of wall friction. */
static vent__loss narrowing(double angle, double beta)
{
    return (vent__loss){.k0 = bevelled_jet(angle, 1, beta),
                        .kf = (1 - fourth(beta)) / (8 * sin(angle / 2))};
}

static vent__loss sharp_contraction(double beta)
{
    return constant_loss(vent__contracting_jet(beta, 1, 1));
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

static vent__loss contraction_idelchik(const double *geometry, double bore)
{
    double closed = 1 - square(diameter_ratio(geometry, bore));
    return on_this_pipe(constant_loss(0.5 * pow(closed, 0.75)), geometry, bore);
}

static vent__loss contraction_hooper(const double *geometry, double bore)
{
    vent__loss loss = {.k0 = 0.6, .kf = 0.48};
    return on_this_pipe(times(1 - square(diameter_ratio(geometry, bore)), loss), geometry, bore);
}

/* Rennels & Hudson (2012), conical diffuser, as printed: three ranges of the angle [degrees]. */
static vent__loss widening(double angle, double beta)
{
    double b2 = square(beta), b4 = square(b2), half = VENT_RADIANS(angle) / 2;
    double narrow = beta < 0.5 ? 3.28 * (0.0625 - b4) : 0;
    double friction = b4 < 1 ? (1 - b4) / (8 * sin(half)) : 0, bracket; /* equal bores: no cone */
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

/* What a cone leaves of the sudden change's loss (Crane, and Hooper after him). They change at 45
 * degrees, with jumps of 0.5 and 1 %; here where both rules give the same, at 45.2 and 46.0. */
static double share_of_expansion(double angle)
{
    return fmin(2.6 * sin(angle / 2), 1);
}

static double share_of_contraction(double angle)
{
    double half = sin(angle / 2);
    return fmin(1.6 * half, sqrt(half));
}

vent__loss vent__diffuser_crane(const double *geometry, double bore)
{
    return times(share_of_expansion(geometry[1]), vent__expansion_borda_carnot(geometry, bore));
}

static vent__loss diffuser_hooper(const double *geometry, double bore)
{
    return times(share_of_expansion(geometry[1]), expansion_hooper(geometry, bore));
}

/* Idelchik's share of the step's loss up to 40 degrees. */
static double gentle_share(double half_angle)
{
    return 3.2 * pow(tan(half_angle), 1.25);
}

/* Beyond 40 degrees the diagram's own values. */
static vent__loss diffuser_idelchik(const double *geometry, double bore)
{
    const double angle[] = {40, 60, 90, 180};
    const double share[] = {gentle_share(VENT_RADIANS(20)), 1.15, 1.10, 1.02};
    double beta = diameter_ratio(geometry, bore), half = geometry[1] / 2;
    double of_step = degrees(geometry[1]) <= angle[0]
                         ? gentle_share(half)
                         : vent__interpolate(4, angle, share, degrees(geometry[1]));
    vent__loss loss = times(of_step, borda_carnot(beta));
    loss.kf = (1 - fourth(beta)) / (8 * sin(half));
    return on_this_pipe(loss, geometry, bore);
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
    return times(share_of_contraction(geometry[1]), vent__contraction_crane(geometry, bore));
}

static vent__loss cone_hooper(const double *geometry, double bore)
{
    return times(share_of_contraction(geometry[1]), contraction_hooper(geometry, bore));
}

/* ---- worked edges --------------------------------------------------------------------------- */

static vent__loss rounded_step_rennels(const double *geometry, double bore)
{
    double beta = diameter_ratio(geometry, bore);
    double radius = fmin(geometry[1] / smaller(geometry, bore), 1);
    double edge = (1 - 0.569 * radius) * (1 - sqrt(radius) * beta);
    double contraction = fourth(1 - 0.30 * sqrt(radius) - 0.70 * radius);
    return on_this_pipe(constant_loss(vent__contracting_jet(beta, edge, contraction)), geometry,
                        bore);
}

static vent__loss rounded_step_idelchik(const double *geometry, double bore)
{
    double radius = geometry[1] / smaller(geometry, bore);
    double closed = 1 - square(diameter_ratio(geometry, bore));
    return on_this_pipe(times(closed, vent__rounded_idelchik(&radius, bore)), geometry, bore);
}

/* Which share of the step a bevel of this length and angle to the axis takes. */
static double bevelled_share(const double *geometry, double bore)
{
    double step = fabs(geometry[0] - bore) * cos(geometry[2]);
    double taken = 2 * geometry[1] * sin(geometry[2]);
    return taken < step ? taken / step : 1;
}

static vent__loss bevelled_step_rennels(const double *geometry, double bore)
{
    double k = bevelled_jet(2 * geometry[2], bevelled_share(geometry, bore),
                            diameter_ratio(geometry, bore));
    return on_this_pipe(constant_loss(k), geometry, bore);
}

static vent__loss bevelled_step_idelchik(const double *geometry, double bore)
{
    double closed = 1 - square(diameter_ratio(geometry, bore));
    double entry = vent__bevel_idelchik(geometry[1] / smaller(geometry, bore), geometry[2]);
    return on_this_pipe(constant_loss(closed * entry), geometry, bore);
}

/* ---- a throat of some length between two bores ------------------------------------------------ */

static double area_ratio(double bore, double of)
{
    return square(bore / of);
}

/* Idelchik's measure of how far the jet has spread again within the throat. Two reprints have x^7 below
 * the line, one x^8: his diagram 4-12, as remembered, decides for x^7 (0.42, 0.16 and 0.07 at 0.8, 1.2
 * and 1.6 bores, where x^8 gives 0.35, 0.20 and 0.13). */
static double still_contracted(double length_ratio)
{
    double x = fmin(length_ratio, 2.4), x7 = pow(x, 7);
    return (2.4 - x) * pow(10, -(0.25 + 0.535 * x7 * x / (0.05 + x7)));
}

static double contraction_by_idelchik(double ratio)
{
    return 0.5 * pow(1 - ratio, 0.75);
}

static double contraction_by_rennels(double ratio)
{
    return vent__contracting_jet(sqrt(ratio), 1, 1);
}

/* Loss on the throat's velocity pressure of a sudden change into it, and out of it; `ratio` is of the
 * throat's area to the pipe's. */
static double into_throat_idelchik(double ratio)
{
    return ratio < 1 ? contraction_by_idelchik(ratio) : square(ratio - 1);
}

static double out_of_throat_idelchik(double ratio)
{
    return ratio < 1 ? square(1 - ratio) : contraction_by_idelchik(1 / ratio) * square(ratio);
}

/* How much of a throat wider than the bore before it the jet fills: its wall is reached some eight
 * steps on (steps in a channel: five to eight, Eaton & Johnston 1981, from memory). */
static double filled(vent__throat t)
{
    double reach = 4 * (t.bore - t.upstream);
    return t.length < reach ? t.length / reach : 1;
}

/* A throat that the jet does not fill is not there: the change from bore to bore, by an author's
 * contraction. */
static vent__loss jet_through(vent__throat t, double (*contraction)(double area_ratio))
{
    double ratio = area_ratio(t.upstream, t.downstream); /* of the bore before to the bore behind */
    if (ratio < 1)
        return constant_loss(square(1 - ratio) * square(area_ratio(t.bore, t.upstream)));
    return constant_loss(contraction(1 / ratio) * square(area_ratio(t.bore, t.downstream)));
}

vent__loss vent__throat_idelchik(vent__throat t)
{
    double before = area_ratio(t.bore, t.upstream), behind = area_ratio(t.bore, t.downstream);
    double length = t.length / t.bore, jet = 0;
    if (before < 1 && behind < 1)
        jet = still_contracted(length) * pow(1 - before, 0.375) * (1 - behind);
    vent__loss loss = {.k0 = into_throat_idelchik(before) + jet + out_of_throat_idelchik(behind),
                       .kf = length};
    return before > 1 ? between(jet_through(t, contraction_by_idelchik), loss, filled(t)) : loss;
}

/* The share of the jet that meets the far bore before it has spread in the throat. */
static double unspread_rennels(double length_ratio)
{
    double x = fmin(length_ratio / 1.4, 1);
    return 1 - 0.5 * pow(x, 2.5) - 0.5 * pow(x, 3);
}

vent__loss vent__throat_rennels(vent__throat t)
{
    double before = area_ratio(t.bore, t.upstream), behind = area_ratio(t.bore, t.downstream);
    double b5 = square(before) * sqrt(before), jet = 1, edge = square(before - 1);
    if (before < 1) {
        jet = 1 + 0.622 * (1 - 0.215 * before - 0.785 * b5);
        edge = 0.0696 * (1 - b5) * square(jet);
    }
    double spread_within = square(jet - 1), length = t.length / t.bore, k;
    if (behind < 1) {
        double direct = unspread_rennels(length);
        k = direct * square(jet - behind) + (1 - direct) * (spread_within + square(1 - behind));
    } else {
        k = spread_within + square(behind) * contraction_by_rennels(1 / behind);
    }
    vent__loss loss = {.k0 = edge + k, .kf = length};
    return before > 1 ? between(jet_through(t, contraction_by_rennels), loss, filled(t)) : loss;
}

/* Bushing: far bore, throat's bore, throat's length. */
static vent__throat bushing_along(const double *geometry, double bore)
{
    return (vent__throat){bore, geometry[1], geometry[0], geometry[2]};
}

static vent__throat bushing_against(const double *geometry, double bore)
{
    return (vent__throat){geometry[0], geometry[1], bore, geometry[2]};
}

static vent__loss on_pipe_from_throat(vent__loss loss, const double *geometry, double bore)
{
    return times(fourth(bore / geometry[1]), loss);
}

static vent__loss bushing_idelchik(const double *geometry, double bore)
{
    return on_pipe_from_throat(vent__throat_idelchik(bushing_along(geometry, bore)), geometry,
                               bore);
}

static vent__loss bushing_idelchik_reversed(const double *geometry, double bore)
{
    return on_pipe_from_throat(vent__throat_idelchik(bushing_against(geometry, bore)), geometry,
                               bore);
}

static vent__loss bushing_rennels(const double *geometry, double bore)
{
    return on_pipe_from_throat(vent__throat_rennels(bushing_along(geometry, bore)), geometry, bore);
}

static vent__loss bushing_rennels_reversed(const double *geometry, double bore)
{
    return on_pipe_from_throat(vent__throat_rennels(bushing_against(geometry, bore)), geometry,
                               bore);
}

/* ---- reducer -------------------------------------------------------------------------------- */

/* Rennels & Hudson (2012): a cone between two straight ends, each a fifth of the length. */
static const double REDUCER_END = 0.2, REDUCER_CONE = 0.6;
static const double ECCENTRIC = 0.15; /* what a side flush with the pipes' costs, by their word */

static double reducer_angle(const double *geometry, double bore)
{
    return 2 * atan2(fabs(geometry[0] - bore) / 2, REDUCER_CONE * geometry[1]);
}

/* Wall friction of cone and ends. (1 - b^4)/(8 sin(a/2)) of the cone, written so that it becomes
 * the friction of a pipe where the bores become equal. */
static double reducer_friction(const double *geometry, double bore)
{
    double small = smaller(geometry, bore), large = fmax(geometry[0], bore);
    double beta = small / large, length = geometry[1];
    double wall = hypot(large - small, 2 * REDUCER_CONE * length) / large;
    return REDUCER_END * length / small + wall * (1 + beta) * (1 + square(beta)) / 8 +
           REDUCER_END * length / large * fourth(beta);
}

static vent__loss reducer(double cone, const double *geometry, double bore)
{
    vent__loss loss = {.k0 = cone, .kf = reducer_friction(geometry, bore)};
    return on_this_pipe(times(1 + ECCENTRIC * geometry[2], loss), geometry, bore);
}

static vent__loss reducer_widening_rennels(const double *geometry, double bore)
{
    double angle = degrees(reducer_angle(geometry, bore));
    return reducer(bridged_diffuser(angle, diameter_ratio(geometry, bore)).k0, geometry, bore);
}

static vent__loss reducer_widening_crane(const double *geometry, double bore)
{
    double share = share_of_expansion(reducer_angle(geometry, bore));
    return reducer(share * borda_carnot(diameter_ratio(geometry, bore)).k0, geometry, bore);
}

static vent__loss reducer_narrowing_rennels(const double *geometry, double bore)
{
    double angle = reducer_angle(geometry, bore);
    return reducer(bevelled_jet(angle, 1, diameter_ratio(geometry, bore)), geometry, bore);
}

static vent__loss reducer_narrowing_crane(const double *geometry, double bore)
{
    double share = share_of_contraction(reducer_angle(geometry, bore));
    return reducer(share * 0.5 * (1 - square(diameter_ratio(geometry, bore))), geometry, bore);
}

/* ---- laws ----------------------------------------------------------------------------------- */

static const vent__law expansion = {
    .relative = 0.05,
    .formula = {
        {VENT__SOURCE_BORDA_CARNOT, VENT__TURBULENT, vent__expansion_borda_carnot, NULL, NULL},
        {VENT__SOURCE_HOOPER_CHANGE, 4e3, 1e8, expansion_hooper, NULL, NULL}}};

/* Near equal bores, where little is lost, Weisbach's old measurements are half of the formulas. */
static const vent__law contraction = {
    .relative = 0.25,
    .formula = {
        {VENT__SOURCE_RENNELS_CONTRACTION, VENT__TURBULENT, vent__contraction_rennels, NULL, NULL},
        {VENT__SOURCE_CRANE_CONTRACTION, VENT__TURBULENT, vent__contraction_crane, NULL, NULL},
        {VENT__SOURCE_IDELCHIK_CONTRACTION, 1e4, 1e8, contraction_idelchik, NULL, NULL},
        {VENT__SOURCE_HOOPER_CHANGE, VENT__TURBULENT, contraction_hooper, NULL, NULL}}};

/* What a diffuser recovers depends on the profile that enters it, of which no formula knows. */
static const vent__law diffuser = {
    .relative = 0.25,
    .formula = {
        {VENT__SOURCE_RENNELS_DIFFUSER, VENT__TURBULENT, vent__diffuser_rennels, NULL, NULL},
        {VENT__SOURCE_CRANE_DIFFUSER, VENT__TURBULENT, vent__diffuser_crane, NULL, NULL},
        {VENT__SOURCE_IDELCHIK_DIFFUSER, VENT__TURBULENT, diffuser_idelchik, NULL, NULL},
        {VENT__SOURCE_HOOPER_CHANGE, 4e3, 1e8, diffuser_hooper, NULL, NULL}}};

static const vent__law cone = {
    .relative = 0.20,
    .formula = {{VENT__SOURCE_RENNELS_CONTRACTION, VENT__TURBULENT, vent__cone_rennels, NULL, NULL},
                {VENT__SOURCE_CRANE_CONTRACTION, VENT__TURBULENT, vent__cone_crane, NULL, NULL},
                {VENT__SOURCE_HOOPER_CHANGE, VENT__TURBULENT, cone_hooper, NULL, NULL}}};

/* The jet leaves a worked edge as it leaves a sharp one; what little a bevel recovers is left out. */
static const vent__law worked_expansion = {.relative = 0.15,
                                           .formula = {{VENT__SOURCE_BORDA_CARNOT, VENT__TURBULENT,
                                                        vent__expansion_borda_carnot, NULL, NULL}}};

static const vent__law rounded_contraction = {
    .relative = 0.25,
    .formula = {
        {VENT__SOURCE_RENNELS_ROUNDED_CHANGE, VENT__TURBULENT, rounded_step_rennels, NULL, NULL},
        {VENT__SOURCE_IDELCHIK_ROUNDED_CHANGE, 1e4, 1e8, rounded_step_idelchik, NULL, NULL}}};

static const vent__law bevelled_contraction = {
    .relative = 0.25,
    .formula = {
        {VENT__SOURCE_RENNELS_BEVELLED_CHANGE, VENT__TURBULENT, bevelled_step_rennels, NULL, NULL},
        {VENT__SOURCE_IDELCHIK_BEVEL, 1e4, 1e8, bevelled_step_idelchik, NULL, NULL}}};

/* Idelchik first, as his form for equal sides was read; both are from memory for unequal ones. */
static const vent__law bushing = {
    .relative = 0.20,
    .formula = {{VENT__SOURCE_IDELCHIK_THICK_EDGE, VENT__TURBULENT, bushing_idelchik, NULL, NULL},
                {VENT__SOURCE_RENNELS_THICK_EDGE, VENT__TURBULENT, bushing_rennels, NULL, NULL}}};

static const vent__law bushing_reversed = {
    .relative = 0.20,
    .formula = {
        {VENT__SOURCE_IDELCHIK_THICK_EDGE, VENT__TURBULENT, bushing_idelchik_reversed, NULL, NULL},
        {VENT__SOURCE_RENNELS_THICK_EDGE, VENT__TURBULENT, bushing_rennels_reversed, NULL, NULL}}};

/* The allowance for the missing axis is itself a round number: as uncertain as it is large. */
static double of_eccentricity(const double *geometry, double k)
{
    return ECCENTRIC * geometry[2] * k;
}

static const vent__law reducer_widening = {
    .relative = 0.25,
    .more = of_eccentricity,
    .formula = {
        {VENT__SOURCE_RENNELS_REDUCER, VENT__TURBULENT, reducer_widening_rennels, NULL, NULL},
        {VENT__SOURCE_CRANE_REDUCER, VENT__TURBULENT, reducer_widening_crane, NULL, NULL}}};

static const vent__law reducer_narrowing = {
    .relative = 0.25,
    .more = of_eccentricity,
    .formula = {
        {VENT__SOURCE_RENNELS_REDUCER, VENT__TURBULENT, reducer_narrowing_rennels, NULL, NULL},
        {VENT__SOURCE_CRANE_REDUCER, VENT__TURBULENT, reducer_narrowing_crane, NULL, NULL}}};

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

const vent__family vent__rounded_change = {
    .name = "rounded change",
    .along = &worked_expansion,
    .against = &rounded_contraction,
    .by_bore = true,
    .parameters = 2,
    .parameter = {OTHER_BORE, {"edge_radius", "m", 0, 10, 0, 10}},
};

const vent__family vent__bevelled_change = {
    .name = "bevelled change",
    .along = &worked_expansion,
    .against = &bevelled_contraction,
    .by_bore = true,
    .parameters = 3,
    .parameter = {OTHER_BORE,
                  {"bevel_length", "m", 0, 10, 0, 10},
                  {"bevel_angle", "rad", 0, VENT__HALF_TURN / 2, 0, VENT__HALF_TURN / 2}},
};

const vent__family vent__bushing = {
    .name = "bushing",
    .along = &bushing,
    .against = &bushing_reversed,
    .parameters = 3,
    .parameter = {OTHER_BORE,
                  {"throat_bore", "m", 1e-3, 10, 1e-3, 10},
                  {"throat_length", "m", 0, 10, 0, 10}},
};

const vent__family vent__reducer = {
    .name = "reducer",
    .along = &reducer_widening,
    .against = &reducer_narrowing,
    .by_bore = true,
    .parameters = 3,
    .parameter = {OTHER_BORE,
                  {"length", "m", 1e-4, 10, 1e-4, 10},
                  {"eccentricity", "", 0, 1, 0, 1}},
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

vent_fitting vent_rounded_change(double other_bore, double edge_radius, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_ROUNDED_CHANGE, (double[]){other_bore, edge_radius},
                              __func__, err);
}

vent_fitting vent_bevelled_change(double other_bore, double bevel_length, double bevel_angle,
                                  vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_BEVELLED_CHANGE,
                              (double[]){other_bore, bevel_length, bevel_angle}, __func__, err);
}

vent_fitting vent_bushing(double other_bore, double throat_bore, double throat_length,
                          vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_BUSHING,
                              (double[]){other_bore, throat_bore, throat_length}, __func__, err);
}

vent_fitting vent_reducer(double other_bore, double length, double eccentricity, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_REDUCER, (double[]){other_bore, length, eccentricity},
                              __func__, err);
}
