/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/family.h"
#include "base/fail.h"

#include <ventstack/friction.h>
#include <ventstack/units.h>

_Static_assert(sizeof(vent_parameter_range) == 48, "vent_parameter_range is frozen");

/* ---- bounds ------------------------------------------------------------------------------- */

static const double FACTOR_LIMIT = 1000;

bool vent__family_check(const vent__family *family, const double *geometry, double factor,
                        const char *function, vent_error *err)
{
    for (int i = 0; i < family->parameters; ++i) {
        const vent_parameter_range *p = &family->parameter[i];
        if (!vent__check_range(err, function, p->name, p->unit, geometry[i], p->low, p->high))
            return false;
    }
    return vent__check_range(err, function, "factor", "", factor, 0, FACTOR_LIMIT);
}

bool vent__family_parameter(const vent__family *family, int parameter, vent_parameter_range *range)
{
    if (!family || !range || parameter < 0 || parameter >= family->parameters)
        return false;
    *range = family->parameter[parameter];
    return true;
}

/* ---- value -------------------------------------------------------------------------------- */

static const vent__law *law_for(const vent__family *family, const double *geometry, double bore,
                                bool reversed)
{
    bool as_listed = !family->by_bore || geometry[0] >= bore;
    return as_listed != reversed ? family->along : family->against;
}

static vent__loss loss_of(const vent__law *law, const double *geometry, double factor, double bore)
{
    vent__loss loss = law->formula[0].loss(geometry, bore);
    return (vent__loss){law->plain + factor * loss.k0, factor * loss.k1, factor * loss.kf};
}

void vent__family_loss(const vent__family *family, const double *geometry, double factor,
                       double bore, vent__loss *along, vent__loss *against)
{
    *along = loss_of(law_for(family, geometry, bore, false), geometry, factor, bore);
    *against = loss_of(law_for(family, geometry, bore, true), geometry, factor, bore);
}

/* ---- value, uncertainty, source ----------------------------------------------------------- */

static double formula_value(const vent__formula *formula, const double *geometry, double bore,
                            double reynolds, double f)
{
    vent__loss loss = formula->loss(geometry, bore);
    return loss.k0 + loss.k1 / reynolds + loss.kf * f;
}

static double half_spread(const vent__law *law, const double *geometry, double bore,
                          double reynolds, double f)
{
    double low = INFINITY, high = -INFINITY;
    for (int i = 0; i < VENT__FORMULAS && law->formula[i].loss; ++i) {
        double k = formula_value(&law->formula[i], geometry, bore, reynolds, f);
        low = fmin(low, k);
        high = fmax(high, k);
    }
    return (high - low) / 2;
}

static double uncertainty_of(const vent__law *law, const double *geometry, double factor,
                             double bore, double reynolds, double f)
{
    double k = formula_value(&law->formula[0], geometry, bore, reynolds, f);
    double spread = hypot(law->relative * k, half_spread(law, geometry, bore, reynolds, f));
    double more = law->more ? law->more(geometry, k) : 0;
    return hypot(law->plain_uncertainty, factor * hypot(spread, more));
}

static uint32_t flags_of(const vent__family *family, const vent__formula *formula,
                         const double *geometry, double bore, double reynolds)
{
    uint32_t flags = 0;
    for (int i = 0; i < family->parameters; ++i) {
        const vent_parameter_range *p = &family->parameter[i];
        if (!(geometry[i] >= p->source_low && geometry[i] <= p->source_high))
            flags |= VENT_COEFFICIENT_GEOMETRY_OUTSIDE;
    }
    double own = formula->length ? reynolds * formula->length(geometry) / bore : reynolds;
    if (!(own >= formula->reynolds_low && own <= formula->reynolds_high))
        flags |= VENT_COEFFICIENT_REYNOLDS_OUTSIDE;
    return flags;
}

vent_coefficient vent__family_state(const vent__family *family, const double *geometry,
                                    double factor, double bore, double reynolds, double f)
{
    const vent__law *law = law_for(family, geometry, bore, reynolds < 0);
    double magnitude = fabs(reynolds);
    double finite = fmax(magnitude, 1e-3); /* still air: K is finite, and multiplies nothing */
    vent__loss loss = loss_of(law, geometry, factor, bore);
    return (vent_coefficient){
        .value = loss.k0 + loss.k1 / finite + loss.kf * f,
        .uncertainty = uncertainty_of(law, geometry, factor, bore, finite, f),
        .source = law->formula[0].source,
        .flags = flags_of(family, &law->formula[0], geometry, bore, magnitude),
    };
}

/* ---- in a pipe ---------------------------------------------------------------------------- */

vent_coefficient vent__family_in_pipe(const vent__family *family, const double *geometry,
                                      double factor, vent_pipe pipe, double reynolds,
                                      const char *function, vent_error *err)
{
    vent_coefficient none = {NAN, NAN, VENT__SOURCE_NONE, 0};
    double hydraulic = vent_pipe_hydraulic_diameter(pipe);
    double effective = vent_pipe_effective_diameter(pipe);
    double roughness = pipe.roughness / effective;
    if (!vent__family_check(family, geometry, factor, function, err) ||
        !vent__check_range(err, function, "hydraulic diameter of pipe", "m", hydraulic, 1e-4,
                           100) ||
        !vent__check_range(err, function, "relative roughness of pipe", "", roughness, 0, 0.1) ||
        !vent__check_range(err, function, "reynolds", "", fabs(reynolds), 1e-3, 1e9))
        return none;
    double bore = sqrt(4 / VENT_PI * vent_pipe_area(pipe));
    double law_reynolds = reynolds * effective / hydraulic; /* as friction sees it */
    double f = vent_friction_factor(fabs(law_reynolds), roughness);
    return vent__family_state(family, geometry, factor, bore, law_reynolds, f);
}
