/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bends: smooth and mitred, alone and in pairs. The formulas are in bend_sources.c. */
#include "base/fail.h"
#include "physics/family.h"

#include <ventstack/bend.h>
#include <ventstack/units.h>

/* ---- laws ----------------------------------------------------------------------------------- */

/* Published values for elbows of one radius differ by 25 % (one standard deviation): at radius ratio
 * 1.5 they run from 0.15 to 0.33 without and with the bend's friction. How short radii are less
 * known shows in the spread of the formulas. */
static const vent__law bend = {
    .relative = 0.25,
    .formula = {{VENT__SOURCE_RENNELS_BEND, VENT__TURBULENT, vent__bend_rennels, NULL, NULL},
                {VENT__SOURCE_IDELCHIK_BEND, 1e4, 1e8, vent__bend_idelchik, NULL,
                 vent__bend_idelchik_extra},
                {VENT__SOURCE_ITO_BEND, 2e4, 4e5, vent__no_loss, NULL, vent__bend_ito_extra},
                {VENT__SOURCE_MILLER_BEND, 1e4, 1e7, vent__no_loss, NULL, vent__bend_miller_extra},
                {VENT__SOURCE_CRANE_BEND, VENT__TURBULENT, vent__bend_crane, NULL, NULL}}};

/* The default knows no Reynolds number: tables have 4 % more at 1e5, 26 % at 2e4, 40 % at 1e4.
 * Between authors a right-angled mitre runs from 1.0 to 1.7. */
static const vent__law mitre = {
    .relative = 0.25,
    .formula = {
        {VENT__SOURCE_RENNELS_MITRE, 2e4, 1e8, vent__mitre_rennels, NULL, NULL},
        {VENT__SOURCE_IDELCHIK_MITRE, 1e4, 1e8, vent__mitre_idelchik, NULL,
         vent__mitre_idelchik_extra},
        {VENT__SOURCE_MILLER_MITRE, 1e4, 1e7, vent__no_loss, NULL, vent__mitre_miller_extra},
        {VENT__SOURCE_BLEVINS_MITRE, 1e4, 1e6, vent__no_loss, NULL, vent__mitre_blevins_extra},
        {VENT__SOURCE_CRANE_MITRE, VENT__TURBULENT, vent__mitre_crane, NULL, NULL}}};

static const vent__law segmented = {
    .relative = 0.25,
    .formula = {
        {VENT__SOURCE_HOOPER_SEGMENTED, VENT__TURBULENT, vent__segmented_hooper, NULL, NULL},
        {VENT__SOURCE_RENNELS_MITRE, 2e4, 1e8, vent__segmented_apart, NULL, NULL}}};

static const vent__law drain = {
    .relative = 0.25,
    .formula = {{VENT__SOURCE_DARBY_3K, VENT__ANY_FLOW, vent__drain_darby, NULL, NULL},
                {VENT__SOURCE_HOOPER_2K, VENT__ANY_FLOW, vent__drain_hooper, NULL, NULL},
                {VENT__SOURCE_CRANE_ELBOW, VENT__TURBULENT, vent__drain_crane, NULL, NULL},
                {VENT__SOURCE_IDELCHIK_BEND, 1e4, 1e8, vent__drain_idelchik, NULL,
                 vent__drain_idelchik_extra}}};

/* An elbow's 25 %, and 10 % for how two work together. */
static const vent__law pair = {
    .relative = 0.27,
    .formula = {
        {VENT__SOURCE_MILLER_PAIR, VENT__TURBULENT, vent__pair_rennels, NULL, NULL},
        {VENT__SOURCE_MILLER_BEND, 1e4, 1e7, vent__no_loss, NULL, vent__pair_miller_extra}}};

/* For a close return bend of 4 in tables have from 0.75 to 1.5. */
static const vent__law close_return = {
    .relative = 0.35,
    .formula = {{VENT__SOURCE_DARBY_3K, VENT__ANY_FLOW, vent__close_return_darby, NULL, NULL},
                {VENT__SOURCE_CRANE_ELBOW, VENT__TURBULENT, vent__close_return_crane, NULL, NULL}}};

/* An elbow's 25 %, and 10 % for the outlet. */
static const vent__law outlet = {
    .relative = 0.27,
    .formula = {
        {VENT__SOURCE_MILLER_OUTLET, VENT__TURBULENT, vent__outlet_rennels, NULL, NULL},
        {VENT__SOURCE_MILLER_BEND, 1e4, 1e7, vent__no_loss, NULL, vent__outlet_miller_extra}}};

/* ---- families ------------------------------------------------------------------------------- */

#define ANGLE                                                                                      \
    {                                                                                              \
        "angle", "rad", 0, VENT__HALF_TURN, 0, VENT__HALF_TURN                                     \
    }
#define RADIUS_RATIO                                                                               \
    {                                                                                              \
        "radius_ratio", "", 0.4, 10, 0.5, 10                                                       \
    }

/* Of elbows with angle and radius ratio first. */
static bool elbow_is_covered(int32_t source, const double *geometry, double bore)
{
    (void)bore;
    bool rennels = source == VENT__SOURCE_RENNELS_BEND || source == VENT__SOURCE_MILLER_OUTLET;
    return !rennels || vent__bend_rennels_covers(geometry[0], geometry[1]);
}

const vent__family vent__elbow = {
    .name = "elbow",
    .along = &bend,
    .against = &bend,
    .covers = elbow_is_covered,
    .parameters = 2,
    .parameter = {ANGLE, RADIUS_RATIO},
};

const vent__family vent__mitre = {
    .name = "mitre",
    .along = &mitre,
    .against = &mitre,
    .parameters = 1,
    .parameter = {{"angle", "rad", 0, VENT__HALF_TURN, 0, VENT_RADIANS(150)}},
};

const vent__family vent__segmented = {
    .name = "segmented elbow",
    .along = &segmented,
    .against = &segmented,
    .parameters = 3,
    .parameter = {{"angle", "rad", 0, VENT__HALF_TURN, VENT_RADIANS(45), VENT_RADIANS(90) + 1e-9},
                  {"joints", "", 2, 5, 2, 5},
                  {"radius_ratio", "", 0.4, 10, 0.5, 2.5}},
};

const vent__family vent__drain_elbow = {
    .name = "short drain elbow",
    .along = &drain,
    .against = &drain,
    .parameters = 1,
    .parameter = {{"angle", "rad", 0, VENT__HALF_TURN / 2, VENT_RADIANS(22.5) - 1e-9,
                   VENT__HALF_TURN / 2}},
};

const vent__family vent__elbow_pair = {
    .name = "pair of elbows",
    .along = &pair,
    .against = &pair,
    .parameters = 3,
    .parameter = {{"radius_ratio", "", 0.4, 10, 1, 3},
                  {"spacing", "", 0, 1000, 0, 1000},
                  {"twist", "rad", 0, VENT__HALF_TURN, 0, VENT__HALF_TURN}},
};

const vent__family vent__close_return = {
    .name = "close return bend",
    .along = &close_return,
    .against = &close_return,
};

const vent__family vent__elbow_outlet = {
    .name = "elbow with a short outlet",
    .along = &outlet,
    .against = &bend,
    .covers = elbow_is_covered,
    .parameters = 3,
    .parameter = {ANGLE, RADIUS_RATIO, {"outlet_ratio", "", 0, 1000, 0, 1000}},
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

vent_fitting vent_segmented_elbow(double angle, int joints, double radius_ratio, vent_error *err)
{
    if (vent__failed(err) || !VENT__RANGE(joints, "", 1, 5))
        return (vent_fitting){.family = VENT_FITTING_NONE, .factor = NAN};
    if (joints == 1)
        return vent__fitting_make(VENT_FITTING_MITRE, &angle, __func__, err);
    return vent__fitting_make(VENT_FITTING_SEGMENTED, (double[]){angle, joints, radius_ratio},
                              __func__, err);
}

vent_fitting vent_drain_elbow(double angle, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_DRAIN_ELBOW, &angle, __func__, err);
}

vent_fitting vent_elbow_pair(double radius_ratio, double spacing, double twist, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_ELBOW_PAIR, (double[]){radius_ratio, spacing, twist},
                              __func__, err);
}

vent_fitting vent_close_return(void)
{
    return vent__fitting_make(VENT_FITTING_CLOSE_RETURN, NULL, __func__, NULL);
}

vent_fitting vent_elbow_outlet(double angle, double radius_ratio, double outlet_ratio,
                               vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_ELBOW_OUTLET,
                              (double[]){angle, radius_ratio, outlet_ratio}, __func__, err);
}
