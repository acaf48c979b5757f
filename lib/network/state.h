/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The state of a solved run, item by item: what the ledger, the taps and the warnings read. */
#ifndef VENT_NETWORK_STATE_H
#define VENT_NETWORK_STATE_H

#include "network/workspace.h"

enum {
    VENT__PART_PIPE,
    VENT__PART_FITTING,
    VENT__PART_FAN,
    VENT__PART_TRANSITION, /* into the pipe that is the item */
    VENT__PART_TERMINATION /* after the last item of the run that reaches the discharge */
};

/* A walk along a run, in the order of its items. */
typedef struct vent__walk {
    const vent_solution *solution;
    int position, run;
    int part;                 /* VENT__PART_... of where the walk stands */
    int rank;                 /* number of the item among the run's */
    const vent__item *item;   /* NULL before the first and at the termination */
    const vent__item *pipe;   /* the pipe the coefficient refers to */
    double loss;              /* Pa, of all of the item */
    double pressure;          /* Pa, total, just downstream, against outdoors, column left out */
    double velocity_pressure; /* Pa, in `pipe` */
    double velocity;          /* m/s, signed */
    double reynolds;          /* on the hydraulic diameter */
    double friction;          /* Darcy factor */
    vent_coefficient coefficient; /* of one of a fitting, transition or termination */
    int next_item;                /* where the walk goes on */
    bool changed;                 /* the transition before next_item has been visited */
    bool ended;
} vent__walk;

vent__walk vent__walk_begin(const vent_solution *solution, int position);
/* Moves to the next part; false at the end. */
bool vent__walk_next(vent__walk *walk);

/* What happens at the end of a run that joins others. */
typedef struct vent__joined {
    double loss;
    double velocity_pressure; /* Pa, in the combined pipe */
    vent_coefficient coefficient;
} vent__joined;
vent__joined vent__joined_at(const vent_solution *solution, int position);
/* What happens where a link at a position leaves its junction. */
vent__joined vent__outlet_at(const vent_solution *solution, int position);

/* Diameter of the circle of a pipe's area, which fittings call their bore. */
double vent__bore(vent_pipe pipe);
/* Pressure the column of gas in a run adds, Pa. */
double vent__lift(const vent__model *model, int run);
/* Position of the run that ends at a discharge. */
int vent__root_of(const vent_solution *solution, int discharge);
/* Pressure of all fans, weighted by the flow through each over all that leaves, by discharges and openings; NaN
 * without a fan or without flow. */
double vent__mean_fan_pressure(const vent_solution *solution);
/* The fitting that stands for the change into a further pipe of a run. */
vent_fitting vent__transition(const vent__item *to);

#endif
