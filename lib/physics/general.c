/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Coefficients without a shape: stated by the caller, or by general forms. */
#include "physics/family.h"

#include <ventstack/general.h>
#include <ventstack/units.h>

/* ---- laws ----------------------------------------------------------------------------------- */

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

static const vent__law stated_along = {
    .more = stated_uncertainty,
    .formula = {{VENT__SOURCE_NONE, VENT__ANY_FLOW, stated, NULL, NULL}}};
static const vent__law stated_against = {
    .more = stated_uncertainty,
    .formula = {{VENT__SOURCE_NONE, VENT__ANY_FLOW, stated_reversed, NULL, NULL}}};

/* ---- families ------------------------------------------------------------------------------- */

const vent__family vent__stated = {
    .name = "stated coefficient",
    .along = &stated_along,
    .against = &stated_against,
    .parameters = 3,
    .parameter = {{"k", "", 0, 1e6, 0, 1e6},
                  {"k_reversed", "", 0, 1e6, 0, 1e6},
                  {"uncertainty", "", 0, 1e6, 0, 1e6}},
};

/* ---- constructors --------------------------------------------------------------------------- */

vent_fitting vent_fitting_constant(double k, double uncertainty, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_CONSTANT, (double[]){k, k, uncertainty}, __func__, err);
}

vent_fitting vent_fitting_constant_each_way(double k, double k_reversed, double uncertainty,
                                            vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_CONSTANT, (double[]){k, k_reversed, uncertainty},
                              __func__, err);
}
