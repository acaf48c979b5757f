/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Newton's method, safeguarded. */
#ifndef VENT_NETWORK_NEWTON_H
#define VENT_NETWORK_NEWTON_H

#include "network/workspace.h"

static const double VENT__TOLERANCE = 1e-14; /* of the pressure scale */

/* First flows: those of the secants, then one of Newton's steps with one friction factor for all and
 * the junctions left out. */
void vent__first_flows(vent_workspace *workspace);
/* Full steps from the present flows, halved until what is left over shrinks. True when converged; else stuck or out of
 * tries. */
bool vent__newton(vent_workspace *workspace, vent_convergence *convergence);
/* What rounding may leave over: of the pressures, and of the flows times the fans' slopes [Pa]. */
double vent__good_enough(const vent_workspace *workspace, double scale);

#endif
