/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Newton's step from the laws' slopes and from what is left over. */
#ifndef VENT_NETWORK_STEP_H
#define VENT_NETWORK_STEP_H

#include "network/workspace.h"

/* Steps that leave nothing over anywhere, were the laws straight lines: vent__eliminate(), which looks at
 * slopes alone, then vent__come_back(). */
void vent__find_steps(vent_workspace *workspace);
void vent__eliminate(vent_workspace *workspace);
void vent__come_back(vent_workspace *workspace);

/* Of what is eliminated: the sign of the determinant, which tells nothing by itself but changes where the
 * equations turn. */
bool vent__is_upright(const vent_workspace *workspace);
/* Whether more flow meets more resistance from run k down to the discharge. */
bool vent__resists_from(const vent_workspace *workspace, int k);

/* Leaves the weight and source slope of every run, the core's too, and the core eliminated. */
void vent__eliminate_all(vent_workspace *workspace);
/* Share of a change that starts at one leg in the flow of all that join there. */
double vent__share_of_leg(const vent_workspace *workspace, int leg);

#endif
