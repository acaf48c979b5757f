/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A path to points that Newton's method does not find. */
#ifndef VENT_NETWORK_PATH_H
#define VENT_NETWORK_PATH_H

#include "network/workspace.h"

typedef struct vent__path {
    double scale;  /* kg/s, a unit of its length for every flow */
    double share;  /* of the twists, at the point reached; its flows are in `settled` */
    double along;  /* what the tangent has of the share; what it has of the flows is in `tangent` */
    double stride; /* length to go next */
    bool forward;  /* the sign of the determinant where the share grows */
    int points;    /* gone */
} vent__path;

/* Begins where all twists are off; false where even that point is not found. */
bool vent__path_begin(vent_workspace *workspace, vent__path *path, vent_convergence *convergence);
/* Follows the path to the next point where all twists are on, which is one of the network's; false where
 * none comes. */
bool vent__path_next(vent_workspace *workspace, vent__path *path, vent_convergence *convergence);

#endif
