/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The network laid out for solving: the shape alone, no values.
 *
 * Runs stand in an order in which each comes before the one that carries its air on, so that a loop
 * upwards in position sweeps the tree from the soil to the roof and a loop downwards sweeps it back.
 * Within a run, every pipe with the fittings that follow it is one segment.
 *
 * A run that leaves a node after another did closes a loop or leads to a further discharge. The tree
 * holds it twice, as two leaves of which the solver sets the flow: itself, where it arrives, and its
 * outlet, a leg without length at the junction it leaves, by which the same flow goes. */
#ifndef VENT_NETWORK_PROGRAM_H
#define VENT_NETWORK_PROGRAM_H

#include "network/model.h"

typedef struct vent__program {
    atomic_int references;
    uint64_t shape;
    int runs; /* positions: of runs, and of the outlets of links */
    int segments, fans, lines, openings, links, coupled, couplings, roots;
    int32_t *run;      /* [runs] number of the run at each position */
    int32_t *position; /* [runs of the model] position of each run */
    int32_t *link;    /* [runs] number of the link at a position, from 1; negative for its outlet */
    int32_t *start;   /* [links] position of each link */
    int32_t *outlet;  /* [links] and of its outlet */
    int32_t *root;    /* [roots] positions that end at a discharge, rising */
    int32_t *opening; /* [openings] positions that start at one, rising */
    int32_t *couple;  /* [coupled] position of each suction point that soil couples to others */
    int32_t *pair[2]; /* [couplings] which two of those each joins */
    int32_t *next; /* [runs] position of the run that carries the air on; the last has none: -1 */
    int32_t *
        soil; /* [runs] the suction point or opening a run starts at, -1 where it starts at a junction */
    int32_t *
        first_fed; /* [runs] position where the subtree that feeds a run begins; it ends at the run */
    int32_t *first_segment; /* [runs + 1] */
    int32_t *first_fan;     /* [runs + 1] */
    int32_t *fan;           /* [fans] numbers of the model's fans, in order of position */
    int32_t *first_line;    /* [runs + 1] ledger lines, by position */
} vent__program;

/* Whether nothing of the tree feeds a position: a suction point, or a flow that the solver sets. */
static inline bool vent__is_leaf(const vent__program *program, int k)
{
    return program->soil[k] >= 0 || program->link[k] != 0;
}

/* The legs that meet where run k starts, last to first; -1 after the first. */
static inline int vent__last_leg(const vent__program *program, int k)
{
    return k - 1 >= program->first_fed[k] ? k - 1 : -1;
}
static inline int vent__leg_before(const vent__program *program, int k, int leg)
{
    int before = program->first_fed[leg] - 1;
    return before >= program->first_fed[k] ? before : -1;
}

/* Lays a model out; NULL with err where it is not a tree. */
vent__program *vent__program_new(const vent__model *model, const char *function, vent_error *err);
vent__program *vent__program_hold(vent__program *program);
void vent__program_release(vent__program *program);

#endif
