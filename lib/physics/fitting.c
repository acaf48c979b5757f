/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/family.h"
#include "base/fail.h"

#include <string.h>
#include <ventstack/units.h>

_Static_assert(sizeof(vent_fitting) == 64, "vent_fitting is frozen");

/* ---- the cases ---------------------------------------------------------------------------- */

/* The formulas are for turbulent flow; most name no bounds of the Reynolds number. */
#define TURBULENT 4e3, 1e8
#define ANY_FLOW  0, 1e9

static vent__loss nothing(const double *geometry, double bore)
{
    (void)geometry, (void)bore;
    return (vent__loss){0};
}

static vent__loss stated(const double *geometry, double bore)
{
    (void)bore;
    return (vent__loss){.k0 = geometry[0]};
}

static vent__loss stated_reversed(const double *geometry, double bore)
{
    (void)bore;
    return (vent__loss){.k0 = geometry[1]};
}

static double stated_uncertainty(const double *geometry, double k)
{
    (void)k;
    return geometry[2];
}

static const vent__law stated_along = {.more = stated_uncertainty,
                                       .formula = {{VENT__SOURCE_NONE, ANY_FLOW, stated, NULL}}};
static const vent__law stated_against = {
    .more = stated_uncertainty, .formula = {{VENT__SOURCE_NONE, ANY_FLOW, stated_reversed, NULL}}};

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
    .formula = {{VENT__SOURCE_RENNELS_BEND, TURBULENT, vent__bend_rennels, NULL},
                {VENT__SOURCE_IDELCHIK_BEND, TURBULENT, vent__bend_idelchik, NULL}}};

/* Neither formula knows the Reynolds number: tables have 4 % more at 1e5, 26 % at 2e4, 40 % at 1e4.
 * Between authors a right-angled mitre runs from 1.0 to 1.7. */
static const vent__law mitre = {
    .relative = 0.25,
    .formula = {{VENT__SOURCE_RENNELS_MITRE, 2e4, 1e8, vent__mitre_rennels, NULL},
                {VENT__SOURCE_IDELCHIK_MITRE, 2e4, 1e8, vent__mitre_idelchik, NULL}}};

static const vent__law expansion = {
    .relative = 0.05,
    .formula = {{VENT__SOURCE_BORDA_CARNOT, TURBULENT, vent__expansion_borda_carnot, NULL}}};

/* Near equal bores, where little is lost, Weisbach's old measurements are half of the formulas. */
static const vent__law contraction = {
    .relative = 0.25,
    .formula = {{VENT__SOURCE_RENNELS_CONTRACTION, TURBULENT, vent__contraction_rennels, NULL},
                {VENT__SOURCE_CRANE_CONTRACTION, TURBULENT, vent__contraction_crane, NULL}}};

/* What a diffuser recovers depends on the profile that enters it, of which no formula knows. */
static const vent__law diffuser = {
    .relative = 0.25,
    .formula = {{VENT__SOURCE_RENNELS_DIFFUSER, TURBULENT, vent__diffuser_rennels, NULL},
                {VENT__SOURCE_CRANE_DIFFUSER, TURBULENT, vent__diffuser_crane, NULL}}};

static const vent__law cone = {
    .relative = 0.20,
    .formula = {{VENT__SOURCE_RENNELS_CONTRACTION, TURBULENT, vent__cone_rennels, NULL},
                {VENT__SOURCE_CRANE_CONTRACTION, TURBULENT, vent__cone_crane, NULL}}};

static const vent__law flush = {
    .relative = 0.05,
    .formula = {{VENT__SOURCE_IDELCHIK_FLUSH, 1e4, 1e8, vent__flush_idelchik, NULL},
                {VENT__SOURCE_RENNELS_FLUSH, TURBULENT, vent__flush_rennels, NULL}}};

/* Other sources lie up to 13 % lower (Idelchik, diagram 3-1) and settle at 0.5. */
static const vent__law reentrant = {
    .relative = 0.12,
    .formula = {{VENT__SOURCE_RENNELS_REENTRANT, TURBULENT, vent__reentrant_rennels, NULL}}};

static const vent__law rounded = {
    .relative = 0.25,
    .formula = {{VENT__SOURCE_RENNELS_ROUNDED, TURBULENT, vent__rounded_rennels, NULL},
                {VENT__SOURCE_IDELCHIK_ROUNDED, 1e4, 1e8, vent__rounded_idelchik, NULL},
                {VENT__SOURCE_SWAMEE_ROUNDED, TURBULENT, vent__rounded_swamee, NULL}}};

/* An entry the air leaves by. The kinetic energy of a turbulent profile is 1.03 to 1.06 times that
 * of the mean velocity, which the convention K = 1 leaves out. */
static const vent__law exit_law = {.plain = 1,
                                   .plain_uncertainty = 0.05,
                                   .formula = {{VENT__SOURCE_EXIT, TURBULENT, nothing, NULL}}};

/* ---- the families ------------------------------------------------------------------------- */

/* The last two numbers of a parameter are the source's own range. */
#define ANGLE_OF_BEND                                                                              \
    {                                                                                              \
        "angle", "rad", 0, VENT__HALF_TURN, 0, VENT__HALF_TURN                                     \
    }
#define OTHER_BORE                                                                                 \
    {                                                                                              \
        "other_bore", "m", 1e-4, 10, 1e-4, 10                                                      \
    }

static const vent__family families[VENT_FITTING_END] = {
    [VENT_FITTING_CONSTANT] = {"stated coefficient",
                               &stated_along,
                               &stated_against,
                               false,
                               3,
                               {{"k", "", 0, 1e6, 0, 1e6},
                                {"k_reversed", "", 0, 1e6, 0, 1e6},
                                {"uncertainty", "", 0, 1e6, 0, 1e6}}},
    [VENT_FITTING_ELBOW] =
        {"elbow", &bend, &bend, false, 2, {ANGLE_OF_BEND, {"radius_ratio", "", 0.4, 10, 0.5, 10}}},
    [VENT_FITTING_MITRE] = {"mitre",
                            &mitre,
                            &mitre,
                            false,
                            1,
                            {{"angle", "rad", 0, VENT__HALF_TURN, 0, VENT_RADIANS(150)}}},
    [VENT_FITTING_SUDDEN] = {"sudden change", &expansion, &contraction, true, 1, {OTHER_BORE}},
    [VENT_FITTING_GRADUAL] = {"gradual change",
                              &diffuser,
                              &cone,
                              true,
                              2,
                              {OTHER_BORE,
                               {"cone_angle", "rad", 1e-3, VENT__HALF_TURN, 1e-3,
                                VENT__HALF_TURN}}},
    [VENT_FITTING_ENTRY_FLUSH] = {"flush entry", &flush, &exit_law, false, 0, {{0}}},
    [VENT_FITTING_ENTRY_REENTRANT] =
        {"re-entrant entry", &reentrant, &exit_law, false, 1, {{"wall_ratio", "", 0, 0.5, 0, 0.5}}},
    [VENT_FITTING_ENTRY_ROUNDED] =
        {"rounded entry", &rounded, &exit_law, false, 1, {{"radius_ratio", "", 0, 10, 0, 10}}},
};

static const vent__family *family_of(int number)
{
    bool known = number > VENT_FITTING_NONE && number < VENT_FITTING_END;
    return known ? &families[number] : NULL;
}

/* ---- constructors ------------------------------------------------------------------------- */

static vent_fitting make(int number, const double *geometry, const char *function, vent_error *err)
{
    const vent__family *family = family_of(number);
    vent_fitting fitting = {.family = VENT_FITTING_NONE, .factor = NAN};
    if (vent__failed(err) || !vent__family_check(family, geometry, 1, function, err))
        return fitting;
    fitting.family = number;
    fitting.factor = 1;
    if (family->parameters > 0)
        memcpy(fitting.geometry, geometry, (size_t)family->parameters * sizeof *geometry);
    return fitting;
}

vent_fitting vent_fitting_constant(double k, double uncertainty, vent_error *err)
{
    return make(VENT_FITTING_CONSTANT, (double[]){k, k, uncertainty}, __func__, err);
}

vent_fitting vent_fitting_constant_each_way(double k, double k_reversed, double uncertainty,
                                            vent_error *err)
{
    return make(VENT_FITTING_CONSTANT, (double[]){k, k_reversed, uncertainty}, __func__, err);
}

vent_fitting vent_elbow(double angle, double radius_ratio, vent_error *err)
{
    return make(VENT_FITTING_ELBOW, (double[]){angle, radius_ratio}, __func__, err);
}

vent_fitting vent_mitre(double angle, vent_error *err)
{
    return make(VENT_FITTING_MITRE, &angle, __func__, err);
}

vent_fitting vent_sudden_change(double other_bore, vent_error *err)
{
    return make(VENT_FITTING_SUDDEN, &other_bore, __func__, err);
}

vent_fitting vent_gradual_change(double other_bore, double cone_angle, vent_error *err)
{
    return make(VENT_FITTING_GRADUAL, (double[]){other_bore, cone_angle}, __func__, err);
}

vent_fitting vent_entry_flush(void)
{
    return make(VENT_FITTING_ENTRY_FLUSH, NULL, __func__, NULL);
}

vent_fitting vent_entry_reentrant(double wall_ratio, vent_error *err)
{
    return make(VENT_FITTING_ENTRY_REENTRANT, &wall_ratio, __func__, err);
}

vent_fitting vent_entry_rounded(double radius_ratio, vent_error *err)
{
    return make(VENT_FITTING_ENTRY_ROUNDED, &radius_ratio, __func__, err);
}

/* ---- the law, for the solver -------------------------------------------------------------- */

void vent__fitting_loss(const vent_fitting *fitting, double bore, vent__loss *forward,
                        vent__loss *reverse)
{
    vent__family_loss(family_of(fitting->family), fitting->geometry, fitting->factor, bore, forward,
                      reverse);
}

vent_coefficient vent__fitting_state(const vent_fitting *fitting, double bore, double reynolds,
                                     double f)
{
    return vent__family_state(family_of(fitting->family), fitting->geometry, fitting->factor, bore,
                              reynolds, f);
}

bool vent__fitting_check(const vent_fitting *fitting, const char *function, vent_error *err)
{
    const vent__family *family = family_of(fitting->family);
    if (!family)
        return vent__fail(err, VENT_E_ARGUMENT, function, "fitting", -1, fitting->family,
                          VENT_FITTING_NONE + 1, VENT_FITTING_END - 1,
                          "%s: fitting is none that a constructor of fitting.h made (family %d)",
                          function, fitting->family);
    return vent__family_check(family, fitting->geometry, fitting->factor, function, err);
}

/* ---- for everyone ------------------------------------------------------------------------- */

vent_coefficient vent_fitting_coefficient(vent_fitting fitting, vent_pipe pipe, double reynolds,
                                          vent_error *err)
{
    if (vent__failed(err) || !vent__fitting_check(&fitting, __func__, err))
        return (vent_coefficient){NAN, NAN, VENT__SOURCE_NONE, 0};
    return vent__family_in_pipe(family_of(fitting.family), fitting.geometry, fitting.factor, pipe,
                                reynolds, __func__, err);
}

const char *vent_fitting_name(int family)
{
    const vent__family *known = family_of(family);
    return known ? known->name : "unknown";
}

int vent_fitting_parameter_count(int family)
{
    const vent__family *known = family_of(family);
    return known ? known->parameters : 0;
}

bool vent_fitting_parameter(int family, int parameter, vent_parameter_range *range)
{
    return vent__family_parameter(family_of(family), parameter, range);
}
