/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What may stand on top of a stack: how each kind loses pressure, where it sends the air, what rain
 * finds open. To add one, add its laws and a row in termination_kinds.c. */
#ifndef VENT_PHYSICS_TERMINATION_KINDS_H
#define VENT_PHYSICS_TERMINATION_KINDS_H

#include "physics/family.h"

typedef struct vent__termination_kind {
    vent__family family;
    int (*streams)(const double *geometry, vent_stream *streams);
    double (*rain)(const double *geometry); /* area open to vertical rain over the pipe's */
} vent__termination_kind;

/* NULL where there is no such number. */
const vent__termination_kind *vent__termination_kind_of(int number);

/* What an open end is once something blocks it. */
extern const vent__family vent__blocked_open_end;

/* The share of the end that is shut stands in geometry[VENT_TERMINATION_BLOCKED]. */
static inline double vent__free_share(const double *geometry)
{
    return 1 - geometry[VENT_TERMINATION_BLOCKED];
}

static inline bool vent__is_blocked(const double *geometry)
{
    return geometry[VENT_TERMINATION_BLOCKED] > 0;
}

#endif
