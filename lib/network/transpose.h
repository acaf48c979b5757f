/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The equations of a solved network, transposed: what a pascal more in each run does to one result. */
#ifndef VENT_NETWORK_TRANSPOSE_H
#define VENT_NETWORK_TRANSPOSE_H

#include "network/workspace.h"

/* The workspace holds the laws, the upward sweep and the core at the solution. `flow` and `pressure` are the
 * result's own derivatives by the flows and by the pressures at the starts of the runs. `response` becomes
 * the change of the result for a pascal more of loss in each run. */
void vent__transpose(vent_workspace *workspace, const double *flow, const double *pressure,
                     double *response, double *scratch);

#endif
