/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How the varied parameters of many cases come into the rows of a packet. */
#ifndef VENT_NETWORK_MANY_INPUTS_H
#define VENT_NETWORK_MANY_INPUTS_H

#include <ventstack/many.h>

#include "network/many_lanes.h"
#include "network/workspace.h"

/* A varied parameter, and what its value does. */
typedef struct vent__input {
    vent_varied varied;
    vent_parameter_range range;
    int32_t effect; /* see many_inputs.c */
    int32_t place;  /* position of its run, number of its node, or number in packet.fan */
    int32_t segment;
    vent__loss along, against; /* Pa of a unit, as in vent__segment */
    double own;                /* the network's value */
    double unit;               /* relative roughness of a metre */
} vent__input;

/* Coefficients along a run and against it. */
typedef struct vent__both {
    vent__loss along, against;
} vent__both;

typedef struct vent__batch {
    const char *function;
    const vent__model *base;   /* the network's own */
    vent__model *model;        /* a copy to write single cases into */
    vent_workspace *workspace; /* for single cases, and to lay out */
    size_t inputs;
    vent__input *input;
    vent__row *value; /* [inputs] of the cases at work */
    bool by_model;    /* some parameter is more than arithmetic: cases are laid out one by one */
    bool in_lanes;    /* the cases can be solved side by side at all */
    bool heights_vary;
    vent__segment *segment; /* [segments] what is laid out with the varied amounts at zero */
    vent__both *run;        /* [runs] sums over their segments */
    vent__packet packet;
    vent__row building_pressure;
    unsigned char *block; /* the packet's memory */
} vent__batch;

/* A batch for these parameters, the network's own values laid out in all lanes; false with err. */
bool vent__batch_begin(vent__batch *batch, const vent_network *network, size_t inputs,
                       const vent_varied *varied, const char *function, vent_error *err);
void vent__batch_end(vent__batch *batch);

/* Takes the values of cases first ... first + count - 1 and lays them out; a lane whose values are out
 * of bounds is filled with the network's own, and says why in error[lane]. alone[lane] tells which lanes
 * are to be solved alone. */
void vent__batch_load(vent__batch *batch, size_t first, int count, vent_error *error, bool *alone);

/* Writes one lane's values into batch->model, afresh. */
bool vent__batch_store(vent__batch *batch, int lane, vent_error *err);

#endif
