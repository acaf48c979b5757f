/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The network as it was built. A model is shared by the network, its workspaces and its solutions
 * through a count of references, and copied before a change while anybody else holds it: so a
 * solution keeps the picture it was made from, at no cost to those who never change anything. */
#ifndef VENT_NETWORK_MODEL_H
#define VENT_NETWORK_MODEL_H

#include <stdatomic.h>
#include <stdbool.h>
#include <stdint.h>
#include <ventstack/network.h>

#include "base/names.h"

enum {
    VENT__SUCTION = VENT_NODE_SUCTION_POINT,
    VENT__JUNCTION = VENT_NODE_JUNCTION,
    VENT__DISCHARGE = VENT_NODE_DISCHARGE,
    VENT__OPENING = VENT_NODE_OPENING
};
enum { VENT__PIPE, VENT__FITTING, VENT__FAN };

typedef struct vent__node {
    int32_t kind;
    int32_t name;
    int32_t leaving;  /* the first run that leaves it, -1 while there is none */
    int32_t arriving; /* how many runs arrive */
    int32_t outlets;  /* how many leave after the first */
    double height;
    double pressure_coefficient; /* of the wind, at a discharge or an opening outdoors */
    union {
        vent_soil soil;
        vent_opening opening;
        vent_junction junction;
        vent_termination termination;
    };
} vent__node;

typedef struct vent__run {
    int32_t name;
    int32_t from, to;
    int32_t rank; /* how many runs arrived at `to` before it; -1 of a leak, which is no leg */
    int32_t first, last; /* its items, a chain */
    int32_t count;       /* how many items */
    double temperature, density, viscosity;
    bool own_temperature; /* was set; else that of the soil gas */
    bool stub;            /* from a pit to its edge, where leaks come in */
    int32_t link;         /* 0 for the first run that leaves its node, 1 for the next, ... */
} vent__run;

typedef struct vent__item {
    int32_t kind;
    int32_t next;  /* in the run, -1 at its end */
    double amount; /* length of a pipe, count of a fitting, speed of a fan */
    union {
        struct {
            vent_pipe pipe;
            double transition_angle; /* of the cone that leads into it */
            double transition_count; /* 1; 0 takes the transition away */
        };
        struct {
            vent_fitting
                fitting;    /* of a fan: what it resists as while it is off; family 0 unknown */
            int32_t fan;    /* number in vent__model.fan */
            double running; /* 1 of a fan that runs, 0 of one that is off */
        };
    };
} vent__item;

typedef struct vent__fan {
    vent_fan *fan;
    int32_t run, item; /* item is its rank in the run */
    int32_t number;    /* of the item in the model */
    double pressure_factor;
} vent__fan;

/* Two suction points that share soil. */
typedef struct vent__coupling {
    int32_t a, b;      /* nodes */
    double resistance; /* Pa s/m3 */
} vent__coupling;

typedef struct vent__model {
    atomic_int references;
    uint64_t shape; /* grows with every node, run and item: equal shapes solve alike */
    vent_air soil_gas, outdoors;
    double wind_pressure, building_pressure;
    double wind_dynamic_pressure; /* Pa, that pressure coefficients multiply */
    int32_t discharge;            /* the first such node, -1 while there is none */
    int nodes, runs, items, fans, links;
    int node_room, run_room, item_room, fan_room;
    vent__node *node;
    vent__run *run;
    vent__item *item;
    vent__fan *fan;
    vent__coupling *coupling;
    int couplings, coupling_room;
    vent__names names; /* of nodes and runs alike */
    int32_t *owner;    /* of each name: node number, or -1 - run number */
    int owner_room;
    bool has_names_like_items; /* as "run[1]" */
} vent__model;

struct vent_network {
    vent__model *model;
};

vent__model *vent__model_hold(vent__model *model);
void vent__model_release(vent__model *model);
vent__model *vent__model_copy(const vent__model *model);

/* The model to write to: the network's own, copied first while others hold it; NULL with err. */
vent__model *vent__model_writable(vent_network *network, const char *function, vent_error *err);
/* For those who build: a name not taken, a node with a number, another run in the shape's account. */
bool vent__model_name_is_free(const vent__model *model, const char *function, const char *name,
                              bool is_run, vent_error *err);
bool vent__model_has_node(const vent__model *model, const char *function, const char *argument,
                          int node, vent_error *err);
bool vent__model_has_run(const vent__model *model, const char *function, int run, vent_error *err);
int vent__model_add_node(vent_network *network, const char *function, const char *name,
                         vent__node node, vent_error *err);
void vent__model_extend_shape(vent__model *model, int what, int a, int b);

/* Set what other numbers follow from; false with err, and nothing changed. */
bool vent__model_set_temperature(vent__model *model, int run, double temperature, vent_error *err);
bool vent__model_set_airs(vent__model *model, vent_air soil_gas, vent_air outdoors,
                          vent_error *err);
bool vent__model_pipe_check(vent_pipe pipe, const char *function, vent_error *err);
bool vent__model_soil_check(vent_soil soil, const char *function, vent_error *err);
/* Whether what suction points share is no more than soil can, as far as pairs of them tell; soils and couplings may
 * be set in any order, so it is asked before solving. */
bool vent__model_soils_are_passive(const vent__model *model, const char *function, vent_error *err);

/* What a leak brings, or the soil gas of a pit that leaks, comes by a run that is no pipe: it has a first item
 * of no length only so that what follows finds a bore. */
static inline bool vent__is_seep(const vent__model *model, int run)
{
    return model->run[run].stub || model->run[run].rank < 0;
}

static inline bool vent__faces_room(const vent__model *model, int node)
{
    return model->node[node].kind == VENT__OPENING &&
           model->node[node].opening.surroundings == VENT_SURROUNDINGS_ROOM;
}

static inline bool vent__feels_wind(const vent__model *model, int node)
{
    int kind = model->node[node].kind;
    return kind == VENT__DISCHARGE || (kind == VENT__OPENING && !vent__faces_room(model, node));
}

/* Pressure [Pa] the wind makes at a discharge, or at an opening outdoors. */
static inline double vent__wind(const vent__model *model, int node)
{
    const vent__node *at = &model->node[node];
    double everywhere = at->kind == VENT__DISCHARGE ? model->wind_pressure : 0;
    return everywhere + at->pressure_coefficient * model->wind_dynamic_pressure;
}

/* Pressure [Pa] around a suction point or an opening, against outdoors. */
static inline double vent__surroundings(const vent__model *model, int node)
{
    if (vent__faces_room(model, node))
        return model->building_pressure;
    return model->node[node].kind == VENT__OPENING ? vent__wind(model, node) : 0;
}

/* How many fittings an item counts as: a fan that is off is one. */
static inline double vent__fitting_count(const vent__item *item)
{
    if (item->kind == VENT__FITTING)
        return item->amount;
    return item->kind == VENT__FAN ? 1 - item->running : 0;
}

/* What a fan's pressure is multiplied by. */
static inline double vent__fan_share(const vent__model *model, int fan)
{
    return model->fan[fan].pressure_factor * model->item[model->fan[fan].number].running;
}

static inline bool vent__fan_is_off(const vent__model *model, int fan)
{
    return model->item[model->fan[fan].number].running == 0;
}

/* The coupling of two suction points, in either order; NULL for none. */
vent__coupling *vent__model_coupling(const vent__model *model, int a, int b);

/* The rank-th item of a run, or -1. */
int vent__model_item(const vent__model *model, int run, int rank);
static inline const char *vent__node_name(const vent__model *model, int node)
{
    return vent__names_get(&model->names, model->node[node].name);
}
static inline const char *vent__run_name(const vent__model *model, int run)
{
    return vent__names_get(&model->names, model->run[run].name);
}

#endif
