/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Entries into the pipe, and the exits they are when the flow reverses. */
#include "physics/family.h"

#include <ventstack/entry.h>
#include <ventstack/units.h>

/* ---- formulas ------------------------------------------------------------------------------- */

vent__loss vent__flush_idelchik(const double *geometry, double bore)
{
    (void)geometry, (void)bore;
    return constant_loss(0.5);
}

vent__loss vent__flush_rennels(const double *geometry, double bore)
{
    (void)geometry, (void)bore;
    return constant_loss(VENT__THICK_END_ENTRY);
}

/* Thicker than a twentieth of the bore, the wall's face acts as a flange. */
vent__loss vent__reentrant_rennels(const double *geometry, double bore)
{
    (void)bore;
    double x = fmin(geometry[0], 0.05);
    return constant_loss(1.12 + x * (-22 + x * (216 + x * 80)));
}

/* Beyond a radius of one bore nothing changes any more (the source rounds 0.029998 to 0.03). */
vent__loss vent__rounded_rennels(const double *geometry, double bore)
{
    (void)bore;
    double ratio = fmin(geometry[0], 1);
    double jet = 1 + 0.622 * fourth(1 - 0.30 * sqrt(ratio) - 0.70 * ratio);
    return constant_loss(0.0696 * (1 - 0.569 * ratio) * square(jet) + square(jet - 1));
}

/* Idelchik, diagram 3-4, the formula from memory; the values it is fitted to were seen, and it
 * meets them within 0.015. */
vent__loss vent__rounded_idelchik(const double *geometry, double bore)
{
    (void)bore;
    return constant_loss(0.03 + 0.47 * pow(10, -7.7 * geometry[0]));
}

vent__loss vent__rounded_swamee(const double *geometry, double bore)
{
    (void)bore;
    return constant_loss(0.5 / (1 + 36 * pow(geometry[0], 1.2)));
}

/* ---- laws ----------------------------------------------------------------------------------- */

static const vent__law flush = {
    .relative = 0.05,
    .formula = {{VENT__SOURCE_IDELCHIK_FLUSH, 1e4, 1e8, vent__flush_idelchik, NULL, NULL},
                {VENT__SOURCE_RENNELS_FLUSH, VENT__TURBULENT, vent__flush_rennels, NULL, NULL}}};

/* Other sources lie up to 13 % lower (Idelchik, diagram 3-1) and settle at 0.5. */
static const vent__law reentrant = {.relative = 0.12,
                                    .formula = {{VENT__SOURCE_RENNELS_REENTRANT, VENT__TURBULENT,
                                                 vent__reentrant_rennels, NULL, NULL}}};

static const vent__law rounded = {
    .relative = 0.25,
    .formula = {{VENT__SOURCE_RENNELS_ROUNDED, VENT__TURBULENT, vent__rounded_rennels, NULL, NULL},
                {VENT__SOURCE_IDELCHIK_ROUNDED, 1e4, 1e8, vent__rounded_idelchik, NULL, NULL},
                {VENT__SOURCE_SWAMEE_ROUNDED, VENT__TURBULENT, vent__rounded_swamee, NULL, NULL}}};

/* An entry the air leaves by. The kinetic energy of a turbulent profile is 1.03 to 1.06 times that
 * of the mean velocity, which the convention K = 1 leaves out. */
const vent__law vent__exit = {
    .plain = 1,
    .plain_uncertainty = 0.05,
    .plain_source = VENT__SOURCE_EXIT,
    .formula = {{VENT__SOURCE_EXIT, VENT__TURBULENT, vent__no_loss, NULL, NULL}}};

/* ---- families ------------------------------------------------------------------------------- */

const vent__family vent__flush = {
    .name = "flush entry",
    .along = &flush,
    .against = &vent__exit,
};

const vent__family vent__reentrant = {
    .name = "re-entrant entry",
    .along = &reentrant,
    .against = &vent__exit,
    .parameters = 1,
    .parameter = {{"wall_ratio", "", 0, 0.5, 0, 0.5}},
};

const vent__family vent__rounded = {
    .name = "rounded entry",
    .along = &rounded,
    .against = &vent__exit,
    .parameters = 1,
    .parameter = {{"radius_ratio", "", 0, 10, 0, 10}},
};

/* ---- constructors --------------------------------------------------------------------------- */

vent_fitting vent_entry_flush(void)
{
    return vent__fitting_make(VENT_FITTING_ENTRY_FLUSH, NULL, __func__, NULL);
}

vent_fitting vent_entry_reentrant(double wall_ratio, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_ENTRY_REENTRANT, &wall_ratio, __func__, err);
}

vent_fitting vent_entry_rounded(double radius_ratio, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_ENTRY_ROUNDED, &radius_ratio, __func__, err);
}
