/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What joins pipes, and what a fan feels of the pipes next to it. */
#include "physics/family.h"

#include <ventstack/connector.h>
#include <ventstack/units.h>

/* ---- coupling ------------------------------------------------------------------------------- */

/* Over a gap the stream drags on the air beside it as a mixing layer does, with a shear stress of
 * 0.011 rho V^2 (Pope 2000, Turbulent Flows, section 5.4, from memory): K = 8 x 0.011 L/D. */
static const double DRAG_OF_A_GAP = 0.088; /* 8 x 0.011 */

/* A bead narrows the bore all around, pipes out of line cover a part of each other. */
static double free_of_coupling(const double *geometry)
{
    return square(1 - 2 * geometry[0]) * vent__overlap(geometry[2]);
}

static vent__loss with_gap(vent__loss opening, const double *geometry)
{
    opening.k0 += DRAG_OF_A_GAP * geometry[1];
    return opening;
}

static vent__loss coupling_rennels(const double *geometry, double bore)
{
    (void)bore;
    return with_gap(vent__opening_rennels(free_of_coupling(geometry)), geometry);
}

static vent__loss coupling_idelchik(const double *geometry, double bore)
{
    (void)bore;
    return with_gap(vent__opening_idelchik(free_of_coupling(geometry)), geometry);
}

/* Beads are round rather than sharp; how a sleeve bulges is not known. */
static const vent__law coupling = {
    .relative = 0.40,
    .formula = {{VENT__SOURCE_RENNELS_ORIFICE, VENT__TURBULENT, coupling_rennels, NULL, NULL},
                {VENT__SOURCE_IDELCHIK_ORIFICE, VENT__TURBULENT, coupling_idelchik, NULL, NULL}}};

const vent__family vent__coupling = {
    .name = "coupling",
    .along = &coupling,
    .against = &coupling,
    .parameters = 3,
    .parameter = {{"bead_ratio", "", 0, 0.2, 0, 0.1},
                  {"gap_ratio", "", 0, 2, 0, 0.5},
                  {"offset_ratio", "", 0, 0.3, 0, 0.1}},
};

/* ---- flexible duct -------------------------------------------------------------------------- */

static const double FLEXIBLE_ROUGHNESS = 9.144e-4; /* m, fully extended, as the pipe material */

static const double ROUGHEST = 0.1; /* roughness over bore, as a pipe's may be */

/* Fully rough flow (von Karman) in the stretched duct, times the correction factor for compression,
 * which is in per cent, with the bore in mm. In bores of a few mm the friction factor is held. */
static vent__loss duct_abushakra(const double *geometry, double bore)
{
    double friction = square(1 / (2 * log10(3.7 / fmin(FLEXIBLE_ROUGHNESS / bore, ROUGHEST))));
    double correction = 1 + 0.58 * (100 * geometry[1]) * exp(-0.00496 * (1000 * bore));
    return constant_loss(correction * friction * geometry[0] / bore);
}

/* The roughness of stretched duct spans a decade: a factor of two in friction. */
static const vent__law duct = {
    .relative = 0.35,
    .formula = {{VENT__SOURCE_ABUSHAKRA_COMPRESSION, VENT__TURBULENT, duct_abushakra, NULL, NULL}}};

static bool measured_bore(int32_t source, const double *geometry, double bore)
{
    (void)source, (void)geometry;
    return bore >= 0.150 && bore <= 0.255;
}

const vent__family vent__flexible_duct = {
    .name = "flexible duct",
    .along = &duct,
    .against = &duct,
    .covers = measured_bore,
    .parameters = 2,
    .parameter = {{"length", "m", 0, 100, 0, 100}, {"compression", "", 0, 0.5, 0, 0.3}},
};

/* ---- condensate bypass tee ------------------------------------------------------------------ */

double vent__crane_friction(double bore)
{
    static const double clean_steel = 0.00015 * VENT_FOOT;
    return square(1 / (2 * log10(3.7 * bore / clean_steel)));
}

static vent__loss run_darby(const double *geometry, double bore)
{
    (void)geometry;
    return vent__three_constant((double[]){150, 0.05, 4, bore}, bore);
}

static vent__loss run_hooper(const double *geometry, double bore)
{
    (void)geometry;
    return vent__two_constant((double[]){150, 0.05}, bore);
}

static vent__loss run_crane(const double *geometry, double bore)
{
    (void)geometry;
    return constant_loss(20 * vent__crane_friction(bore));
}

static const vent__law run_of_tee = {
    .relative = 0.30,
    .formula = {{VENT__SOURCE_DARBY_RUN, VENT__ANY_FLOW, run_darby, NULL, NULL},
                {VENT__SOURCE_HOOPER_RUN, VENT__ANY_FLOW, run_hooper, NULL, NULL},
                {VENT__SOURCE_CRANE_RUN, VENT__TURBULENT, run_crane, NULL, NULL}}};

const vent__family vent__bypass_tee = {
    .name = "condensate bypass tee",
    .along = &run_of_tee,
    .against = &run_of_tee,
};

/* ---- fan surroundings ----------------------------------------------------------------------- */

static const double FULL_OUTLET_PIPE = 2.5; /* bores, to 12.7 m/s */
static const double OUTLET_DECAY = 6;       /* along a full outlet pipe */
static const double INLET_DECAY = 4;        /* bores */

/* By momentum a full pipe loses (1/b - 1)^2 of the velocity pressure 1/b^2 that leaves the blast
 * area, no pipe loses all but the 1 of an exit: the difference is 2 (1 - b)/b. */
static vent__loss outlet_momentum(const double *geometry, double bore)
{
    (void)bore;
    double blast = geometry[0], part_of_full = geometry[1] / FULL_OUTLET_PIPE;
    return constant_loss(2 * (1 - blast) / blast * exp(-OUTLET_DECAY * part_of_full));
}

/* Within 18 % of 2.5, 1.2, 1.0, 0.8 at radius ratios 0.5, 1, 2, 3, and 3.2 of a two-piece mitre at 0.25;
 * after 2 and 5 bores of pipe some 0.6 and 0.3 of it are left. */
static vent__loss inlet_amca(const double *geometry, double bore)
{
    (void)bore;
    return constant_loss(1.35 * pow(geometry[0], -0.6) * exp(-geometry[1] / INLET_DECAY));
}

static const vent__law outlet = {
    .relative = 0.30,
    .formula = {{VENT__SOURCE_FAN_OUTLET, VENT__TURBULENT, outlet_momentum, NULL, NULL}}};

static const vent__law inlet = {
    .relative = 0.30,
    .formula = {{VENT__SOURCE_FAN_INLET, VENT__TURBULENT, inlet_amca, NULL, NULL}}};

/* Air that is pushed backwards through a fan: nobody has measured what its surroundings add. */
static const vent__law outlet_reversed = {
    .plain_uncertainty = 1,
    .formula = {{VENT__SOURCE_FAN_OUTLET, VENT__TURBULENT, vent__no_loss, NULL, NULL}}};

static const vent__law inlet_reversed = {
    .plain_uncertainty = 1,
    .formula = {{VENT__SOURCE_FAN_INLET, VENT__TURBULENT, vent__no_loss, NULL, NULL}}};

const vent__family vent__fan_outlet = {
    .name = "short outlet pipe of a fan",
    .along = &outlet,
    .against = &outlet_reversed,
    .parameters = 2,
    .parameter = {{"blast_ratio", "", 0.2, 1, 0.4, 1}, {"length_ratio", "", 0, 1000, 0, 1000}},
};

const vent__family vent__fan_inlet_elbow = {
    .name = "elbow close to a fan inlet",
    .along = &inlet,
    .against = &inlet_reversed,
    .parameters = 2,
    .parameter = {{"radius_ratio", "", 0.25, 10, 0.5, 3}, {"distance_ratio", "", 0, 1000, 0, 1000}},
};

/* ---- constructors --------------------------------------------------------------------------- */

vent_fitting vent_coupling(double bead_ratio, double gap_ratio, double offset_ratio,
                           vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_COUPLING,
                              (double[]){bead_ratio, gap_ratio, offset_ratio}, __func__, err);
}

vent_fitting vent_flexible_duct(double length, double compression, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_FLEXIBLE_DUCT, (double[]){length, compression}, __func__,
                              err);
}

vent_fitting vent_bypass_tee(void)
{
    return vent__fitting_make(VENT_FITTING_BYPASS_TEE, NULL, __func__, NULL);
}

vent_fitting vent_fan_outlet(double blast_ratio, double length_ratio, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_FAN_OUTLET, (double[]){blast_ratio, length_ratio},
                              __func__, err);
}

vent_fitting vent_fan_inlet_elbow(double radius_ratio, double distance_ratio, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_FAN_INLET_ELBOW,
                              (double[]){radius_ratio, distance_ratio}, __func__, err);
}
