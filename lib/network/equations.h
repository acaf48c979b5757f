/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The laws at given flows and what is left over of them. */
#ifndef VENT_NETWORK_EQUATIONS_H
#define VENT_NETWORK_EQUATIONS_H

#include "network/workspace.h"

/* What is left over: the sum of its squares, the greatest [Pa], and the scale to hold it against [Pa]. */
typedef struct vent__rest {
    double squares, greatest, scale;
} vent__rest;

/* Every flow as the sum of what feeds it. */
void vent__sum_flows(vent_workspace *workspace, double *flow);
/* All laws and pressures at these flows. What is left over at the suction points goes to `source`, their
 * laws' slopes to `source_slope`, what is left over where links begin to `gap`. */
vent__rest vent__evaluate(vent_workspace *workspace, const double *flow);
/* To start from: all laws at rest, with their secants for slopes; at the present flows, with one friction
 * factor for all. Junctions are left out of both. */
void vent__secants(vent_workspace *workspace);
void vent__rough_laws(vent_workspace *workspace);

/* Loss and slope of every run at these flows; `crude` takes one friction factor for all. */
void vent__run_laws(vent_workspace *workspace, const double *flow, bool crude);
/* Pressure of a fan of the model in the run at position k against that run's flow in kg/s. */
vent__slope vent__fan_of(const vent_workspace *workspace, int fan, int k, double flow);
/* Vacuum the soil needs to feed the run at position k, which starts at a suction point. */
vent__slope vent__soil_of(const vent_workspace *workspace, int k, double flow);

#endif
