/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Newton's step from the laws' slopes and from what is left over. */
#ifndef VENT_NETWORK_STEP_H
#define VENT_NETWORK_STEP_H

#include "network/workspace.h"

/* Steps that leave nothing over anywhere, were the laws straight lines: vent__eliminate(), which looks at
 * slopes alone, then vent__come_back(). */
void vent__find_steps(vent_workspace *workspace);
/* `inertia` [Pa s/kg] resists every change. */
void vent__eliminate(vent_workspace *workspace, double inertia);
void vent__come_back(vent_workspace *workspace);

/* What is eliminated: whether more flow meets more resistance, anywhere, and from run k down to the
 * discharge. */
bool vent__resists(const vent_workspace *workspace);
bool vent__resists_from(const vent_workspace *workspace, int k);

/* Leaves the weight and source slope of every run, the core's too, and the core eliminated. */
void vent__eliminate_all(vent_workspace *workspace);
/* Share of a change that starts at one leg in the flow of all that join there. */
double vent__share_of_leg(const vent_workspace *workspace, int leg);

#endif
