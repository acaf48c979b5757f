/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <ventstack/opening.h>

#include "base/fail.h"
#include "physics/laws.h"

_Static_assert(sizeof(vent_opening) == 24, "vent_opening is frozen");

static const double AREA_GREATEST = 100; /* m2 */
static const double AREA_LEAST = 1e-12;  /* m2: a law needs some */
static const double DISCHARGE_LEAST = 0.05, DISCHARGE_GREATEST = 1;
static const double CREEP = 1e-3; /* m/s: below it the law is a straight line */

vent_opening vent_opening_to(int surroundings, double area, double discharge_coefficient,
                             vent_error *err)
{
    vent_opening opening = {surroundings, 0, area, discharge_coefficient};
    if (vent__failed(err) || !vent__opening_check(&opening, __func__, err))
        return (vent_opening){.area = NAN, .discharge_coefficient = NAN};
    return opening;
}

bool vent__opening_check(const vent_opening *opening, const char *function, vent_error *err)
{
    if (opening->surroundings != VENT_SURROUNDINGS_OUTDOORS &&
        opening->surroundings != VENT_SURROUNDINGS_ROOM)
        return vent__fail(
            err, VENT_E_ARGUMENT, function, "surroundings", -1, opening->surroundings,
            VENT_SURROUNDINGS_OUTDOORS, VENT_SURROUNDINGS_ROOM,
            "%s: surroundings is %d; an opening is to VENT_SURROUNDINGS_OUTDOORS (%d) "
            "or VENT_SURROUNDINGS_ROOM (%d)",
            function, opening->surroundings, VENT_SURROUNDINGS_OUTDOORS, VENT_SURROUNDINGS_ROOM);
    return vent__check_range(err, function, "area", "m2", opening->area, 0, AREA_GREATEST) &&
           vent__check_range(err, function, "discharge_coefficient", "",
                             opening->discharge_coefficient, DISCHARGE_LEAST, DISCHARGE_GREATEST);
}

double vent__opening_number(const vent_opening *opening, bool area)
{
    return area ? fmax(opening->area, AREA_LEAST) : opening->discharge_coefficient;
}

/* Area the jet fills. */
static double jet_area(const vent_opening *opening)
{
    return vent__opening_number(opening, true) * opening->discharge_coefficient;
}

vent__slope vent__opening_law(const vent_opening *opening, double density, double flow)
{
    double jet = jet_area(opening), inertia = 1 / (2 * density * jet * jet);
    double size = fabs(flow), creeping = density * jet * CREEP;
    if (size < creeping)
        return (vent__slope){inertia * flow * creeping, inertia * creeping};
    return (vent__slope){inertia * flow * size, 2 * inertia * size};
}

double vent_opening_flow(vent_opening opening, double pressure, double density)
{
    if (!vent__opening_check(&opening, __func__, NULL) || !isfinite(pressure) ||
        !(density > 0 && isfinite(density)))
        return NAN;
    double velocity = sqrt(2 * fabs(pressure) / density);
    if (velocity < CREEP)
        velocity = velocity * velocity / CREEP;
    return copysign(jet_area(&opening) * velocity, pressure);
}
