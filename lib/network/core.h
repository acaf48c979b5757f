/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the two sweeps cannot reach: the part of a network that loops, further discharges and coupled
 * soil tie together. Everything else hangs on it in limbs, which shrink to a weight and a push each. */
#ifndef VENT_NETWORK_CORE_H
#define VENT_NETWORK_CORE_H

#include "network/sparse.h"
#include "network/workspace.h"

/* A run of the core between junctions that lose nothing, or from one to outdoors: its flow follows from the
 * pressures at its ends and is no unknown of its own. */
typedef struct vent__conductor {
    int32_t at;       /* position */
    int32_t from, to; /* ranks of the pressures at its ends; `to` is -1 outdoors */
} vent__conductor;

enum { VENT__LIMB = -1, VENT__CONDUCTOR = -2 };

struct vent__core {
    int joints, owns, conductors;
    int32_t *joint; /* [joints] positions that start at a junction of the core, rising */
    int32_t *own;   /* [owns] positions of the core whose flow is an unknown, but outlets, rising */
    int32_t
        *flow; /* [runs] unknown that is its flow, or one of the above; an outlet has its link's */
    int32_t
        *node; /* [runs] unknown that is the pressure at its start, where that is a junction of the
                      core, else -1; the junction's sums follow, unless it is lossless */
    int32_t *leg;       /* legs that meet at the joints: those in limbs, then the core's */
    int32_t *first_leg; /* [joints + 1] */
    int32_t *core_leg;  /* [joints] where the core's begin */
    bool *lossy;        /* [runs] whether they follow; false for what starts at none */
    vent__conductor *conductor;
    int32_t *slot;  /* [entries] of the matrix, in the order they are written */
    double *answer; /* [unknowns] by rank */
    vent__sparse matrix;
};

/* Lays the core out for the junctions there are, unless it is; false without memory. */
bool vent__core_lay_out(vent_workspace *workspace);
void vent__core_free(vent__core *core);

static inline bool vent__is_limb(const vent_workspace *ws, int k)
{
    return !ws->core || ws->core->flow[k] == VENT__LIMB;
}

/* Eliminates the core at the laws' present slopes; the limbs' weights are those of the sweep up. */
void vent__core_factor(vent_workspace *workspace);
/* Whether the determinant of the eliminated core is above zero. */
bool vent__core_is_upright(const vent_workspace *workspace);
/* Whether more flow anywhere in the eliminated core meets more resistance. */
bool vent__core_resists(const vent_workspace *workspace);
/* The steps of the core, from what is left over and the limbs' pushes, and those of the legs that hang
 * on it. */
void vent__core_step(vent_workspace *workspace);
/* The transposed equations of the core (transpose.c): from what a result gains by each flow and pressure,
 * limbs' `e` included, the mu of the core and of the legs that hang on it. */
void vent__core_transpose(vent_workspace *workspace, const double *flow, const double *pressure,
                          const double *e, double *mu);

#endif
