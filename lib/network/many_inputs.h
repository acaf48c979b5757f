/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How the varied parameters of many cases come into the rows of a packet. */
#ifndef VENT_NETWORK_MANY_INPUTS_H
#define VENT_NETWORK_MANY_INPUTS_H

#include <ventstack/many.h>

#include "network/many_lanes.h"
#include "network/workspace.h"

enum { VENT__NONE = -1 }; /* no input */

/* What a parameter does. */
enum {
    VENT__TO_PART, /* a number of a pipe, a coefficient or a junction: see vent__laid, vent__portion */
    VENT__TO_AIR,
    VENT__TO_WIND,
    VENT__TO_BUILDING,
    VENT__TO_HEIGHT,
    VENT__TO_SOIL_A,
    VENT__TO_SOIL_B,
    VENT__TO_SPEED,
    VENT__TO_FAN_FACTOR,
    VENT__TO_MODEL /* more than rows hold: such cases are solved alone */
};

/* A varied parameter, and what its value does. */
typedef struct vent__input {
    vent_varied varied;
    vent_parameter_range range;
    int32_t effect; /* VENT__TO_... */
    int32_t place;  /* position of its run, number of its node, or number in packet.fan */
    int32_t next;   /* the next input of the same item or node, or none */
    double own;     /* the network's value */
} vent__input;

/* Coefficients along a run and against it. */
typedef struct vent__both {
    vent__loss way[VENT__WAYS];
} vent__both;

/* What has a coefficient on a segment's pipe, and a number of it that varies. It loses
 * count (plain + scale unit), or where it is shaped is asked for anew in every case. */
typedef struct vent__portion {
    int32_t part;   /* VENT__PART_FITTING, _TRANSITION or _TERMINATION of state.h */
    int32_t number; /* of the item in the model, or of the node */
    int32_t varied; /* the first input of that item or node */
    int32_t scale, count;
    bool is_shaped;
    double own_count;
    vent__both plain, unit;
} vent__portion;

/* A segment that something varies. */
typedef struct vent__laid {
    int32_t segment, run; /* its number, and the position of its run */
    int32_t pipe;         /* which of the packet's */
    bool is_first;        /* of those of that pipe */
    int32_t item;         /* of its pipe */
    int32_t length, roughness, width, depth;
    bool is_shaped;                      /* bore or air vary */
    bool has_portions;                   /* or coefficients on it */
    int32_t first, end;                  /* of its portions */
    double per_hydraulic, per_effective; /* 1/m, of the network's own pipe */
    double per_reynolds;                 /* and kg/s of a Reynolds number of 1 */
    vent__both rest;                     /* coefficients of all that does not vary */
} vent__laid;

/* A run with such segments. */
typedef struct vent__laid_run {
    int32_t run, first, end; /* position, and its segments among those laid */
    vent__both rest;         /* sums over the others, as in vent__segment */
    double creeping;
} vent__laid_run;

typedef struct vent__batch {
    const char *function;
    const vent__model *base;   /* the network's own */
    vent__model *model;        /* a copy to write single cases into */
    vent_workspace *workspace; /* for single cases, and to lay out */
    size_t inputs;
    vent__input *input;
    int32_t *first_input; /* [items + nodes] of each item, then of each node */
    vent__row *value;     /* [inputs] of the cases at work */
    bool in_lanes;        /* the cases can be solved side by side at all */
    bool heights_vary, air_varies;
    bool is_set; /* soils and fans are in the rows, those that do not vary once for all */
    vent__laid *laid;
    vent__laid_run *laid_run;
    vent__portion *portion;
    int32_t *junction; /* positions of the runs that start at a junction that varies */
    int laids, laid_runs, portions, junctions, laid_room, laid_run_room, portion_room,
        junction_room;
    vent__packet packet;
    vent__row building_pressure;
    vent__row *bore, *inertia; /* [segments] */
    vent__row *viscosity;      /* [runs] */
    int32_t *pipe;             /* [segments] which of the packet's pipes each is */
    double (
        *friction)[VENT__WAYS]; /* [pipes] of segments that nothing varies, as in vent__segment */
    bool *pipe_is_laid,
        *pipe_is_own;     /* [pipes] for listing: some segment of it is laid out; only one
                                         can be of it */
    unsigned char *block; /* the packet's memory */
} vent__batch;

static inline int32_t vent__first_of_item(const vent__batch *batch, int item)
{
    return batch->first_input[item];
}
static inline int32_t vent__first_of_node(const vent__batch *batch, int node)
{
    return batch->first_input[batch->base->items + node];
}

/* A batch for these parameters, the network's own values laid out in all lanes; false with err. */
bool vent__batch_begin(vent__batch *batch, const vent_network *network, size_t inputs,
                       const vent_varied *varied, const char *function, vent_error *err);
void vent__batch_end(vent__batch *batch);

/* Lists what has to be laid out for each case; false without memory. Tells whether lanes hold it all. */
bool vent__batch_list(vent__batch *batch);

/* Takes the values of cases first ... first + count - 1 and lays them out; a lane whose values are out
 * of bounds is filled with the network's own, and says why in error[lane]. alone[lane] tells which lanes
 * are to be solved alone. */
void vent__batch_load(vent__batch *batch, size_t first, int count, vent_error *error, bool *alone);

/* Writes one lane's values into batch->model, afresh. */
bool vent__batch_store(vent__batch *batch, int lane, vent_error *err);
/* Brings the values of the network back into batch->model. */
void vent__batch_restore(vent__batch *batch);

/* The junction where run k starts, as it stands in the workspace, into one lane. */
void vent__set_junction(vent__packet *packet, int k, int lane, const vent_workspace *workspace);

/* Makes rows of the values of all lanes; false where those of some lane may not stand together. A lane
 * in which something has a form of its own is marked in `alone`. */
typedef bool vent__row_setter(vent__batch *batch, bool *alone);
vent__row_setter vent__rows_set_baseline;
#if defined(__x86_64__)
vent__row_setter vent__rows_set_avx2, vent__rows_set_avx512;
#endif

#endif
