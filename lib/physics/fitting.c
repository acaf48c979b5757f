/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/family.h"
#include "base/fail.h"

#include <string.h>

_Static_assert(sizeof(vent_fitting) == 64, "vent_fitting is frozen");

static const vent__family *const families[VENT_FITTING_END] = {
#define VENT__FAMILY_ROW(KEY, family) [VENT_FITTING_##KEY] = &vent__##family,
    VENT__FITTING_FAMILIES(VENT__FAMILY_ROW)
#undef VENT__FAMILY_ROW
};

static const vent__family *family_of(int number)
{
    bool known = number > VENT_FITTING_NONE && number < VENT_FITTING_END;
    return known ? families[number] : NULL;
}

static vent__part part_of(const vent_fitting *fitting)
{
    return (vent__part){family_of(fitting->family), fitting->geometry, fitting->factor,
                        fitting->source};
}

vent_fitting vent__fitting_make(int number, const double *geometry, const char *function,
                                vent_error *err)
{
    const vent__family *family = family_of(number);
    vent_fitting fitting = {.family = VENT_FITTING_NONE, .factor = NAN};
    vent__part part = {family, geometry, 1, VENT__SOURCE_NONE};
    if (vent__failed(err) || !vent__family_check(&part, function, err))
        return fitting;
    fitting.family = number;
    fitting.factor = 1;
    if (family->parameters > 0)
        memcpy(fitting.geometry, geometry, (size_t)family->parameters * sizeof *geometry);
    return fitting;
}

vent__loss vent__no_loss(const double *geometry, double bore)
{
    (void)geometry, (void)bore;
    return (vent__loss){0};
}

/* ---- the law, for the solver ---------------------------------------------------------------- */

void vent__fitting_loss(const vent_fitting *fitting, double bore, vent__loss *forward,
                        vent__loss *reverse)
{
    vent__part part = part_of(fitting);
    vent__family_loss(&part, bore, forward, reverse);
}

bool vent__fitting_feels_bore(const vent_fitting *fitting)
{
    vent__part part = part_of(fitting);
    return vent__family_feels_bore(&part);
}

bool vent__fitting_has_extra(const vent_fitting *fitting, double bore)
{
    vent__part part = part_of(fitting);
    return vent__family_has_extra(&part, bore);
}

vent__slope vent__fitting_extra(const vent_fitting *fitting, double bore, double reynolds)
{
    vent__part part = part_of(fitting);
    return vent__family_extra(&part, bore, reynolds);
}

double vent__fitting_opening_pressure(const vent_fitting *fitting)
{
    const vent__family *family = family_of(fitting->family);
    return family->opening_pressure ? family->opening_pressure(fitting->geometry) : 0;
}

vent_coefficient vent__fitting_state(const vent_fitting *fitting, double bore, double reynolds,
                                     double f)
{
    vent__part part = part_of(fitting);
    return vent__family_state(&part, bore, reynolds, f);
}

int32_t vent__fitting_end_source(const vent_fitting *fitting, bool reversed)
{
    return vent__family_plain_source(family_of(fitting->family), reversed);
}

bool vent__fitting_check(const vent_fitting *fitting, const char *function, vent_error *err)
{
    vent__part part = part_of(fitting);
    if (!part.family)
        return vent__fail(err, VENT_E_ARGUMENT, function, "fitting", -1, fitting->family,
                          VENT_FITTING_NONE + 1, VENT_FITTING_END - 1,
                          "%s: fitting is none that a constructor of fitting.h made (family %d)",
                          function, fitting->family);
    return vent__family_check(&part, function, err);
}

/* ---- for everyone --------------------------------------------------------------------------- */

vent_coefficient vent_fitting_coefficient(vent_fitting fitting, vent_pipe pipe, double reynolds,
                                          vent_error *err)
{
    if (vent__failed(err) || !vent__fitting_check(&fitting, __func__, err))
        return (vent_coefficient){NAN, NAN, VENT__SOURCE_NONE, 0};
    vent__part part = part_of(&fitting);
    return vent__family_in_pipe(&part, pipe, reynolds, __func__, err);
}

int vent_fitting_alternatives(vent_fitting fitting, vent_pipe pipe, double reynolds, int room,
                              vent_coefficient *list, vent_error *err)
{
    if (vent__failed(err) || !vent__fitting_check(&fitting, __func__, err))
        return 0;
    vent__part part = part_of(&fitting);
    return vent__family_alternatives(&part, pipe, reynolds, room, list, __func__, err);
}

vent_fitting vent_fitting_by_source(vent_fitting fitting, int source, vent_error *err)
{
    fitting.source = source;
    if (vent__failed(err) || !vent__fitting_check(&fitting, __func__, err))
        return (vent_fitting){.family = VENT_FITTING_NONE, .factor = NAN};
    return fitting;
}

int vent_fitting_family_count(void)
{
    return VENT_FITTING_END - 1;
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

bool vent_fitting_formula(int family, bool reversed, int index, vent_formula *formula)
{
    return vent__family_formula(family_of(family), reversed, index, formula);
}
