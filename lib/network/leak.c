/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Openings to the surroundings, as nodes and as leaks at other nodes. */
#include <stdio.h>
#include <string.h>
#include <ventstack/units.h>

#include "base/fail.h"
#include "network/model.h"
#include "physics/laws.h"

int vent_network_opening(vent_network *network, const char *name, vent_opening opening,
                         double height, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) ||
        !vent__model_name_is_free(network->model, __func__, name, false, err) ||
        !vent__opening_check(&opening, __func__, err) || !VENT__RANGE(height, "m", -1000, 1000))
        return -1;
    vent__node node = {.kind = VENT__OPENING, .height = height, .opening = opening};
    return vent__model_add_node(network, __func__, name, node, err);
}

int vent_network_inflow(const vent_network *network, int node, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) ||
        !vent__model_has_node(network->model, __func__, "node", node, err))
        return -1;
    const vent__node *at = &network->model->node[node];
    const char *name = vent__node_name(network->model, node);
    if (at->kind != VENT__SUCTION && at->kind != VENT__OPENING)
        VENT__FAIL(VENT_E_NOT_FOUND, "node", node,
                   "%s: no air comes in at node '%.60s', which is a %s: ask a suction point or an "
                   "opening",
                   __func__, name, at->kind == VENT__JUNCTION ? "junction" : "discharge");
    else if (at->leaving < 0)
        VENT__FAIL(VENT_E_TOPOLOGY, "node", node, "%s: no run leaves node '%.60s' yet", __func__,
                   name);
    else
        return at->leaving;
    return -1;
}

/* ---- leaks ------------------------------------------------------------------------------------ */

enum { LONGEST_NAME = 1000 };

typedef struct made_name {
    char text[LONGEST_NAME + 16];
} made_name;

static made_name name_for(const char *name, const char *what)
{
    made_name made;
    snprintf(made.text, sizeof made.text, "%s %s", name, what);
    return made;
}

static vent_pipe first_pipe(const vent__model *model, int run)
{
    return model->item[model->run[run].first].pipe;
}

/* Lets the run that leaves a suction point begin at a junction without losses, to which the soil gas comes by
 * a run of no length; the junction's number. One edge serves all leaks of a pit. */
static int edge_of(vent_network *network, const char *name, int pit, vent_error *err)
{
    int run = network->model->node[pit].leaving;
    if (network->model->run[run].stub)
        return network->model->run[run].to;
    made_name edge_name = name_for(name, "edge"), soil_name = name_for(name, "soil");
    int edge = vent_network_junction(network, edge_name.text, vent_junction_lossless(), err);
    if (edge < 0)
        return -1;
    vent__model *model = network->model;
    model->node[edge].height = model->node[pit].height;
    model->node[edge].leaving = run;
    model->node[pit].leaving = -1;
    model->run[run].from = edge;
    vent__model_extend_shape(model, 65, run, edge);
    int stub = vent_network_run(network, soil_name.text, pit, edge, first_pipe(model, run), 0, err);
    if (stub >= 0)
        network->model->run[stub].stub = true;
    return edge;
}

/* Joins an opening to a node beside the legs that meet there. */
static void add_inflow(vent_network *network, const char *name, int opening, int node,
                       double temperature, vent_error *err)
{
    made_name inflow = name_for(name, "inflow");
    vent_pipe pipe = first_pipe(network->model, network->model->node[node].leaving);
    int run = vent_network_run(network, inflow.text, opening, node, pipe, 0, err);
    vent_network_set_temperature(network, run, temperature, err);
    if (vent__failed(err))
        return;
    vent__model *model = network->model;
    model->run[run].rank = -1;
    --model->node[node].arriving;
    vent__model_extend_shape(model, 66, run, node);
}

static bool may_leak(const vent__model *model, const char *function, const char *name, int node,
                     vent_error *err)
{
    if (!vent__model_name_is_free(model, function, name, false, err) ||
        !vent__model_has_node(model, function, "node", node, err))
        return false;
    int kind = model->node[node].kind;
    if (strlen(name) > LONGEST_NAME)
        return vent__fail(err, VENT_E_ARGUMENT, function, "name", -1, (double)strlen(name), 1,
                          LONGEST_NAME, "%s: name is %zu bytes long; at most %d are allowed",
                          function, strlen(name), LONGEST_NAME);
    if (kind != VENT__JUNCTION && kind != VENT__SUCTION)
        return vent__fail(err, VENT_E_TOPOLOGY, function, "node", node, node, NAN, NAN,
                          "%s: node '%.60s' is %s; a leak is put at a junction or a suction point",
                          function, vent__node_name(model, node),
                          kind == VENT__DISCHARGE ? "a discharge" : "an opening itself");
    if (model->node[node].leaving < 0)
        return vent__fail(err, VENT_E_TOPOLOGY, function, "node", node, node, NAN, NAN,
                          "%s: no run leaves node '%.60s' yet; add it first", function,
                          vent__node_name(model, node));
    return true;
}

int vent_network_leak(vent_network *network, const char *name, int node, vent_opening opening,
                      double temperature, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) ||
        !may_leak(network->model, __func__, name, node, err) ||
        !vent__opening_check(&opening, __func__, err) ||
        !VENT__RANGE(temperature, "K", 233.15, 333.15))
        return -1;
    vent_error own = VENT_NO_ERROR;
    vent_network *trial = vent_network_copy(network, &own); /* so that nothing is done by halves */
    bool room = opening.surroundings == VENT_SURROUNDINGS_ROOM;
    double height = room ? 0 : network->model->node[node].height;
    int leak = vent_network_opening(trial, name, opening, height, &own);
    bool pit = network->model->node[node].kind == VENT__SUCTION;
    int at = pit && leak >= 0 ? edge_of(trial, name, node, &own) : node;
    if (!vent__failed(&own))
        add_inflow(trial, name, leak, at, temperature, &own);
    if (!vent__failed(&own)) {
        vent__model *built = trial->model;
        trial->model = network->model;
        network->model = built;
    } else if (err) {
        *err = own;
    }
    vent_network_free(trial);
    return vent__failed(&own) ? -1 : leak;
}
