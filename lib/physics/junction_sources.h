/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What authors publish for a wye of two legs, as printed: with their jumps, and only for the state a
 * handbook knows, all air the same way. */
#ifndef VENT_PHYSICS_JUNCTION_SOURCES_H
#define VENT_PHYSICS_JUNCTION_SOURCES_H

#include <stdbool.h>
#include <ventstack/source.h>

/* One leg of a wye whose straight leg is as wide as the combined pipe. */
typedef struct vent__wye {
    bool straight, joins; /* which leg; whether the legs join, or the combined pipe feeds them */
    double angle;         /* rad */
    double area;          /* of the branch over that of the combined pipe */
    double share;         /* the branch's of the combined flow, 0 to 1 */
} vent__wye;

enum { VENT__MOST_WYE_FORMULAS = 4 };

/* The value of each author who has a formula, on the combined velocity pressure, the way the air
 * goes in the combined pipe; without uncertainty. Gives their number. */
int vent__wye_formulas(const vent__wye *wye, vent_coefficient list[VENT__MOST_WYE_FORMULAS]);

#endif
