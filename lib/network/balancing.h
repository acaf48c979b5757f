/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is to be balanced, the search for its settings, and what came of it. */
#ifndef VENT_NETWORK_BALANCING_H
#define VENT_NETWORK_BALANCING_H

#include <ventstack/balance.h>

#include "base/text.h"

typedef struct vent__target {
    vent_observable observable;
    double value, tolerance;
} vent__target;

typedef struct vent__range {
    vent_parameter parameter;
    double low, high;
} vent__range;

struct vent_balance {
    vent_network *network;
    vent__target *target;
    vent__range *setting;
    int targets, settings, target_room, setting_room;
};

struct vent_balanced {
    vent_achievement *achievement;
    vent_setting *setting;
    vent_parameter *parameter;
    int targets, settings;
    bool is_met;
    vent__text verdict;
};

typedef struct vent__search {
    const vent_balance *balance;
    const char *function;
    vent_error *err;
    vent_network *network; /* to try settings in */
    vent_workspace *workspace;
    vent_solution *solution;
    vent_observable *observable; /* [targets] */
    size_t targets, settings;
    /* those that are free to move, and what the others stand at */
    size_t free_count;
    size_t *free;
    vent_parameter *parameter; /* [free_count] */
    double *value;             /* [settings] */
    double *block;             /* of all rows */
    double *low, *high, *x;    /* [free_count] */
    double *residual;          /* [targets] */
    double *jacobian;          /* [targets][free_count] */
    double *best;              /* [settings] */
} vent__search;

/* Whether the targets still pull a setting that stands at no bound: past it nothing could be solved. */
bool vent__is_stopped(const vent__search *search);
/* Which bound of a setting opens a damper: -1 or 1, and 0 where it is none. */
int vent__open_end_of(const vent__search *search, size_t setting);
/* Says what was reached, and why what was not. */
void vent__compose_verdict(const vent__search *search, vent_balanced *balanced);

#endif
