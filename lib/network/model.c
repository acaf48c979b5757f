/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "network/model.h"

#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <ventstack/units.h>

#include "base/fail.h"
#include "base/memory.h"
#include "network/address.h"
#include "physics/laws.h"

static const double HEIGHT_LIMIT = 1000.0; /* m */
static const double LENGTH_LIMIT = 1e6;    /* m */
static const double COUNT_LIMIT = 1e6;

/* ---- memory ------------------------------------------------------------------------------- */

vent__model *vent__model_hold(vent__model *model)
{
    atomic_fetch_add_explicit(&model->references, 1, memory_order_relaxed);
    return model;
}

static void model_free(vent__model *model)
{
    for (int i = 0; i < model->fans; ++i)
        vent_fan_free(model->fan[i].fan);
    vent__names_free(&model->names);
    free(model->node);
    free(model->run);
    free(model->item);
    free(model->fan);
    free(model->coupling);
    free(model->owner);
    free(model);
}

void vent__model_release(vent__model *model)
{
    if (model && atomic_fetch_sub_explicit(&model->references, 1, memory_order_acq_rel) == 1)
        model_free(model);
}

vent__model *vent__model_copy(const vent__model *from)
{
    vent__model *to = malloc(sizeof *to);
    if (!to)
        return NULL;
    *to = (vent__model){
        .references = 1,
        .shape = from->shape,
        .soil_gas = from->soil_gas,
        .outdoors = from->outdoors,
        .wind_pressure = from->wind_pressure,
        .building_pressure = from->building_pressure,
        .wind_dynamic_pressure = from->wind_dynamic_pressure,
        .discharge = from->discharge,
        .links = from->links,
        .couplings = from->couplings,
        .coupling_room = from->couplings,
        .coupling =
            vent__duplicate(from->coupling, (size_t)from->couplings, sizeof *from->coupling),
        .nodes = from->nodes,
        .node_room = from->nodes,
        .runs = from->runs,
        .run_room = from->runs,
        .items = from->items,
        .item_room = from->items,
        .fan_room = from->fans,
        .owner_room = from->names.count,
        .node = vent__duplicate(from->node, (size_t)from->nodes, sizeof *from->node),
        .run = vent__duplicate(from->run, (size_t)from->runs, sizeof *from->run),
        .item = vent__duplicate(from->item, (size_t)from->items, sizeof *from->item),
        .fan = vent__duplicate(from->fan, (size_t)from->fans, sizeof *from->fan),
        .owner = vent__duplicate(from->owner, (size_t)from->names.count, sizeof *from->owner),
    };
    bool whole = vent__names_copy(&to->names, &from->names) && to->node && to->run && to->item &&
                 to->fan && to->coupling && to->owner;
    for (; whole && to->fans < from->fans; to->fans += whole) {
        to->fan[to->fans].fan = vent_fan_copy(from->fan[to->fans].fan, NULL);
        whole = to->fan[to->fans].fan != NULL;
    }
    if (whole)
        return to;
    model_free(to);
    return NULL;
}

vent__model *vent__model_writable(vent_network *network, const char *function, vent_error *err)
{
    if (atomic_load_explicit(&network->model->references, memory_order_acquire) > 1) {
        vent__model *own = vent__model_copy(network->model);
        if (!own) {
            vent__fail(err, VENT_E_MEMORY, function, "", -1, NAN, NAN, NAN,
                       "%s: no memory to copy the network", function);
            return NULL;
        }
        vent__model_release(network->model);
        network->model = own;
    }
    return network->model;
}

/* ---- shape -------------------------------------------------------------------------------- */

/* Two networks built by the same row of additions have the same shape. */
void vent__model_extend_shape(vent__model *model, int what, int a, int b)
{
    const uint64_t words[] = {(uint64_t)what, (uint64_t)(uint32_t)a, (uint64_t)(uint32_t)b};
    for (int i = 0; i < 3; ++i) {
        model->shape = (model->shape ^ words[i]) * 0x9e3779b97f4a7c15u;
        model->shape ^= model->shape >> 29;
    }
}

/* ---- begin, copy, end --------------------------------------------------------------------- */

static bool air_is_sound(vent_error *err, const char *function, const char *argument, vent_air air)
{
    return vent__check_range(err, function, argument, "K temperature", air.temperature, 100,
                             1000) &&
           vent__check_range(err, function, argument, "Pa pressure", air.pressure, 1e3, 1e6) &&
           vent__check_range(err, function, argument, "kg/m3 density", air.density, 1e-2, 1e2) &&
           vent__check_range(err, function, argument, "Pa s viscosity", air.viscosity, 1e-6, 1e-3);
}

vent_network *vent_network_new(vent_air soil_gas, vent_air outdoors, vent_error *err)
{
    if (vent__failed(err) || !air_is_sound(err, __func__, "soil_gas", soil_gas) ||
        !air_is_sound(err, __func__, "outdoors", outdoors))
        return NULL;
    double low = outdoors.pressure * 0.99, high = outdoors.pressure * 1.01;
    if (!(soil_gas.pressure >= low && soil_gas.pressure <= high)) {
        vent__fail(
            err, VENT_E_ARGUMENT, __func__, "soil_gas.pressure", -1, soil_gas.pressure, low, high,
            "%s: soil_gas.pressure is %.10g Pa, more than 1 %% from outdoors.pressure, %.10g Pa",
            __func__, soil_gas.pressure, outdoors.pressure);
        return NULL;
    }
    vent_network *network = malloc(sizeof *network);
    vent__model *model = calloc(1, sizeof *model);
    if (!network || !model) {
        free(network);
        free(model);
        VENT__FAIL(VENT_E_MEMORY, "", -1, "%s: no memory", __func__);
        return NULL;
    }
    atomic_init(&model->references, 1);
    model->soil_gas = soil_gas;
    model->outdoors = outdoors;
    model->discharge = -1;
    network->model = model;
    return network;
}

vent_network *vent_network_copy(const vent_network *network, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network))
        return NULL;
    vent_network *copy = malloc(sizeof *copy);
    if (!copy) {
        VENT__FAIL(VENT_E_MEMORY, "", -1, "%s: no memory", __func__);
        return NULL;
    }
    copy->model = vent__model_hold(network->model);
    return copy;
}

void vent_network_free(vent_network *network)
{
    if (!network)
        return;
    vent__model_release(network->model);
    free(network);
}

/* ---- names and numbers -------------------------------------------------------------------- */

bool vent__model_name_is_free(const vent__model *model, const char *function, const char *name,
                              bool is_run, vent_error *err)
{
    if (!vent__check_pointer(err, function, "name", name))
        return false;
    if (!name[0])
        return vent__fail(err, VENT_E_ARGUMENT, function, "name", -1, NAN, NAN, NAN,
                          "%s: name is empty", function);
    const char *clash = vent__address_clash(model, name, is_run);
    if (clash)
        return vent__fail(err, VENT_E_DUPLICATE, function, "name", -1, NAN, NAN, NAN,
                          "%s: name '%.60s' beside '%.60s' would give addresses two meanings: the "
                          "items of a run are called by its name and a number in brackets",
                          function, name, clash);
    int number = vent__names_find(&model->names, name);
    if (number < 0)
        return true;
    int owner = model->owner[number];
    return vent__fail(err, VENT_E_DUPLICATE, function, "name", owner < 0 ? -1 - owner : owner, NAN,
                      NAN, NAN, "%s: name '%.60s' is taken by %s %d", function, name,
                      owner < 0 ? "run" : "node", owner < 0 ? -1 - owner : owner);
}

bool vent__model_has_node(const vent__model *model, const char *function, const char *argument,
                          int node, vent_error *err)
{
    if (node >= 0 && node < model->nodes)
        return true;
    return vent__fail(err, VENT_E_NOT_FOUND, function, argument, node, node, 0, model->nodes - 1,
                      "%s: %s is node %d; this network has %d nodes, numbered from 0", function,
                      argument, node, model->nodes);
}

bool vent__model_has_run(const vent__model *model, const char *function, int run, vent_error *err)
{
    if (run >= 0 && run < model->runs)
        return true;
    return vent__fail(err, VENT_E_NOT_FOUND, function, "run", run, run, 0, model->runs - 1,
                      "%s: run is %d; this network has %d runs, numbered from 0", function, run,
                      model->runs);
}

int vent__model_item(const vent__model *model, int run, int rank)
{
    int item = run >= 0 && run < model->runs && rank >= 0 ? model->run[run].first : -1;
    while (item >= 0 && rank-- > 0)
        item = model->item[item].next;
    return item;
}

/* ---- nodes -------------------------------------------------------------------------------- */

static bool add_name(vent__model *model, const char *name, int owner)
{
    if (!vent__reserve(&model->owner, &model->owner_room, model->names.count,
                       sizeof *model->owner) ||
        !vent__names_add(&model->names, name))
        return false;
    model->owner[model->names.count - 1] = owner;
    model->has_names_like_items |= vent__address_ends_in_item(name);
    return true;
}

int vent__model_add_node(vent_network *network, const char *function, const char *name,
                         vent__node node, vent_error *err)
{
    vent__model *model = vent__model_writable(network, function, err);
    if (!model)
        return -1;
    if (!vent__reserve(&model->node, &model->node_room, model->nodes, sizeof node) ||
        !add_name(model, name, model->nodes)) {
        vent__fail(err, VENT_E_MEMORY, function, "", -1, NAN, NAN, NAN,
                   "%s: no memory for another node", function);
        return -1;
    }
    node.name = model->names.count - 1;
    node.leaving = -1;
    node.arriving = node.outlets = 0;
    model->node[model->nodes] = node;
    vent__model_extend_shape(model, 1 + node.kind, model->nodes, 0);
    return model->nodes++;
}

bool vent__model_soil_check(vent_soil soil, const char *function, vent_error *err)
{
    if (isfinite(vent_soil_pressure(soil, 1e-3)))
        return true;
    return vent__fail(err, VENT_E_ARGUMENT, function, "soil", -1, soil.law, NAN, NAN,
                      "%s: soil is no law that vent_soil_power() or vent_soil_two_term() made "
                      "(law %d, a %g, b %g)",
                      function, soil.law, soil.a, soil.b);
}

int vent_network_suction_point(vent_network *network, const char *name, vent_soil soil,
                               vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) ||
        !vent__model_name_is_free(network->model, __func__, name, false, err) ||
        !vent__model_soil_check(soil, __func__, err))
        return -1;
    return vent__model_add_node(network, __func__, name,
                                (vent__node){.kind = VENT__SUCTION, .soil = soil}, err);
}

int vent_network_junction(vent_network *network, const char *name, vent_junction law,
                          vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) ||
        !vent__model_name_is_free(network->model, __func__, name, false, err) ||
        !vent__junction_check(&law, __func__, err))
        return -1;
    return vent__model_add_node(network, __func__, name,
                                (vent__node){.kind = VENT__JUNCTION, .junction = law}, err);
}

int vent_network_discharge(vent_network *network, const char *name, vent_termination termination,
                           double height, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) ||
        !vent__model_name_is_free(network->model, __func__, name, false, err) ||
        !vent__termination_check(&termination, __func__, err) ||
        !VENT__RANGE(height, "m", -HEIGHT_LIMIT, HEIGHT_LIMIT))
        return -1;
    int node = vent__model_add_node(
        network, __func__, name,
        (vent__node){.kind = VENT__DISCHARGE, .height = height, .termination = termination}, err);
    if (node >= 0 && network->model->discharge < 0)
        network->model->discharge = node;
    return node;
}

/* ---- runs and their items ----------------------------------------------------------------- */

bool vent__model_pipe_check(vent_pipe pipe, const char *function, vent_error *err)
{
    double area = vent_pipe_area(pipe);
    double most = 0.1 * vent_pipe_effective_diameter(pipe) * (1 + 1e-9);
    if (area > 0 && isfinite(area) && pipe.roughness >= 0 && pipe.roughness <= most)
        return true;
    return vent__fail(err, VENT_E_ARGUMENT, function, "pipe", -1, pipe.width, NAN, NAN,
                      "%s: pipe is none that a constructor of pipe.h made (width %g m, depth %g m, "
                      "roughness %g m)",
                      function, pipe.width, pipe.depth, pipe.roughness);
}

static bool run_may_join(const vent__model *model, const char *function, int from, int to,
                         vent_error *err)
{
    if (!vent__model_has_node(model, function, "from", from, err) ||
        !vent__model_has_node(model, function, "to", to, err))
        return false;
    const vent__node *a = &model->node[from], *b = &model->node[to];
    const char *from_name = vent__node_name(model, from), *to_name = vent__node_name(model, to);
    if (from == to)
        return vent__fail(err, VENT_E_ARGUMENT, function, "to", to, to, NAN, NAN,
                          "%s: a run cannot lead from '%.60s' to itself", function, from_name);
    if (a->kind == VENT__DISCHARGE)
        return vent__fail(err, VENT_E_TOPOLOGY, function, "from", from, from, NAN, NAN,
                          "%s: no run leaves the discharge '%.60s'; runs are directed with the air",
                          function, from_name);
    if (b->kind == VENT__SUCTION || b->kind == VENT__OPENING)
        return vent__fail(err, VENT_E_TOPOLOGY, function, "to", to, to, NAN, NAN,
                          "%s: no run enters the %s '%.60s'; runs are directed with the "
                          "air, and a junction joins several",
                          function, b->kind == VENT__SUCTION ? "suction point" : "opening",
                          to_name);
    if (a->leaving >= 0 && (a->kind == VENT__SUCTION || a->kind == VENT__OPENING))
        return vent__fail(err, VENT_E_TOPOLOGY, function, "from", from, from, NAN, NAN,
                          "%s: run '%.60s' leaves the %s '%.60s' already; let it end at a "
                          "junction, which several runs may leave",
                          function, vent__run_name(model, a->leaving),
                          a->kind == VENT__SUCTION ? "suction point" : "opening", from_name);
    if (b->kind == VENT__DISCHARGE && b->arriving > 0)
        return vent__fail(
            err, VENT_E_TOPOLOGY, function, "to", to, to, NAN, NAN,
            "%s: a run reaches the discharge '%.60s' already; join runs at a junction", function,
            to_name);
    return true;
}

/* Appends an item to a run; the new item's number in the model, -1 without memory. */
static int append_item(vent__model *model, int run, vent__item item)
{
    if (!vent__reserve(&model->item, &model->item_room, model->items, sizeof item))
        return -1;
    item.next = -1;
    model->item[model->items] = item;
    vent__run *r = &model->run[run];
    if (r->last >= 0)
        model->item[r->last].next = model->items;
    else
        r->first = model->items;
    r->last = model->items;
    ++r->count;
    vent__model_extend_shape(model, 16 + item.kind, run, 0);
    return model->items++;
}

static vent__item pipe_item(vent_pipe pipe, double length, double transition_angle)
{
    return (vent__item){.kind = VENT__PIPE,
                        .amount = length,
                        .pipe = pipe,
                        .transition_angle = transition_angle,
                        .transition_count = 1};
}

int vent_network_run(vent_network *network, const char *name, int from, int to, vent_pipe pipe,
                     double length, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) ||
        !vent__model_name_is_free(network->model, __func__, name, true, err) ||
        !run_may_join(network->model, __func__, from, to, err) ||
        !vent__model_pipe_check(pipe, __func__, err) || !VENT__RANGE(length, "m", 0, LENGTH_LIMIT))
        return -1;
    vent__model *model = vent__model_writable(network, __func__, err);
    if (!model)
        return -1;
    int run = model->runs;
    bool room = vent__reserve(&model->run, &model->run_room, run, sizeof *model->run) &&
                vent__reserve(&model->item, &model->item_room, model->items, sizeof *model->item) &&
                add_name(model, name, -1 - run);
    if (!room) {
        VENT__FAIL(VENT_E_MEMORY, "", -1, "%s: no memory for another run", __func__);
        return -1;
    }
    model->run[run] =
        (vent__run){.name = model->names.count - 1,
                    .from = from,
                    .to = to,
                    .rank = model->node[to].arriving++,
                    .first = -1,
                    .last = -1,
                    .temperature = model->soil_gas.temperature,
                    .density = model->soil_gas.density,
                    .viscosity = model->soil_gas.viscosity,
                    .link = model->node[from].leaving < 0 ? 0 : ++model->node[from].outlets};
    if (model->run[run].link)
        ++model->links;
    else
        model->node[from].leaving = run;
    ++model->runs;
    vent__model_extend_shape(model, 8, from, to);
    append_item(model, run, pipe_item(pipe, length, VENT_PI));
    return run;
}

static int add_item(vent_network *network, const char *function, int run, vent__item item,
                    vent_error *err)
{
    vent__model *model = vent__model_writable(network, function, err);
    if (!model)
        return -1;
    if (append_item(model, run, item) < 0) {
        vent__fail(err, VENT_E_MEMORY, function, "", -1, NAN, NAN, NAN,
                   "%s: no memory for another item", function);
        return -1;
    }
    return model->run[run].count - 1;
}

int vent_network_pipe(vent_network *network, int run, vent_pipe pipe, double length,
                      double transition_angle, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) ||
        !vent__model_has_run(network->model, __func__, run, err) ||
        !vent__model_pipe_check(pipe, __func__, err) ||
        !VENT__RANGE(length, "m", 0, LENGTH_LIMIT) ||
        !VENT__RANGE(transition_angle, "rad", 1e-3, VENT_PI))
        return -1;
    return add_item(network, __func__, run, pipe_item(pipe, length, transition_angle), err);
}

int vent_network_fitting(vent_network *network, int run, vent_fitting fitting, double count,
                         vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) ||
        !vent__model_has_run(network->model, __func__, run, err) ||
        !vent__fitting_check(&fitting, __func__, err) || !VENT__RANGE(count, "", 0, COUNT_LIMIT))
        return -1;
    return add_item(network, __func__, run,
                    (vent__item){.kind = VENT__FITTING, .amount = count, .fitting = fitting}, err);
}

int vent_network_fan(vent_network *network, int run, const vent_fan *fan, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) || !VENT__POINTER(fan) ||
        !vent__model_has_run(network->model, __func__, run, err))
        return -1;
    vent__model *model = vent__model_writable(network, __func__, err);
    vent_fan *copy = model ? vent_fan_copy(fan, err) : NULL;
    if (!copy)
        return -1;
    vent__item item = {.kind = VENT__FAN, .amount = 1, .fan = model->fans, .running = 1};
    if (!vent__reserve(&model->fan, &model->fan_room, model->fans, sizeof *model->fan) ||
        append_item(model, run, item) < 0) {
        vent_fan_free(copy);
        VENT__FAIL(VENT_E_MEMORY, "", -1, "%s: no memory for another fan", __func__);
        return -1;
    }
    int rank = model->run[run].count - 1;
    model->fan[model->fans++] = (vent__fan){
        .fan = copy, .run = run, .item = rank, .number = model->items - 1, .pressure_factor = 1};
    return rank;
}

/* ---- looking up --------------------------------------------------------------------------- */

int vent_network_node_count(const vent_network *network)
{
    return network ? network->model->nodes : 0;
}

int vent_network_run_count(const vent_network *network)
{
    return network ? network->model->runs : 0;
}

int vent_network_node_kind(const vent_network *network, int node)
{
    bool there = network && node >= 0 && node < network->model->nodes;
    return there ? network->model->node[node].kind : -1;
}

bool vent_network_run_ends(const vent_network *network, int run, int *from, int *to)
{
    if (!network || run < 0 || run >= network->model->runs || !from || !to)
        return false;
    *from = network->model->run[run].from;
    *to = network->model->run[run].to;
    return true;
}

bool vent_network_run_is_pipe(const vent_network *network, int run)
{
    bool there = network && run >= 0 && run < network->model->runs;
    return there && !vent__is_seep(network->model, run);
}

/* The name most like the one asked for, among those of nodes or of runs; NULL where none is. */
static const char *nearest_name(const vent__model *model, const char *name, bool of_runs)
{
    const char *nearest = NULL;
    int least = INT_MAX;
    for (int i = 0; i < model->names.count; ++i) {
        if ((model->owner[i] < 0) != of_runs)
            continue;
        int distance = vent__unlikeness(name, vent__names_get(&model->names, i));
        if (distance < least) {
            least = distance;
            nearest = vent__names_get(&model->names, i);
        }
    }
    return nearest;
}

static int find(const vent_network *network, const char *function, const char *name, bool of_runs,
                vent_error *err)
{
    if (vent__failed(err) || !vent__check_pointer(err, function, "network", network) ||
        !vent__check_pointer(err, function, "name", name))
        return -1;
    const vent__model *model = network->model;
    int number = vent__names_find(&model->names, name);
    if (number >= 0 && (model->owner[number] < 0) == of_runs)
        return of_runs ? -1 - model->owner[number] : model->owner[number];
    const char *kind = of_runs ? "run" : "node";
    if (number >= 0) {
        vent__fail(err, VENT_E_NOT_FOUND, function, "name", -1, NAN, NAN, NAN,
                   "%s: there is no %s named '%.60s'; that is a %s", function, kind, name,
                   of_runs ? "node" : "run");
        return -1;
    }
    const char *near = nearest_name(model, name, of_runs);
    bool none_yet = of_runs ? model->runs == 0 : model->nodes == 0;
    vent__fail(err, VENT_E_NOT_FOUND, function, "name", -1, NAN, NAN, NAN,
               near       ? "%s: there is no %s named '%.60s'; the nearest is '%.60s'"
               : none_yet ? "%s: there is no %s named '%.60s'; this network has none yet%s"
                          : "%s: there is no %s named '%.60s'%s",
               function, kind, name, near ? near : "");
    return -1;
}

int vent_network_find_node(const vent_network *network, const char *name, vent_error *err)
{
    return find(network, __func__, name, false, err);
}

int vent_network_find_run(const vent_network *network, const char *name, vent_error *err)
{
    return find(network, __func__, name, true, err);
}

static size_t copy_name(const char *from, size_t size, char *to)
{
    if (size && to)
        snprintf(to, size, "%s", from);
    return strlen(from);
}

size_t vent_network_node_name(const vent_network *network, int node, size_t size, char *name)
{
    bool there = network && node >= 0 && node < network->model->nodes;
    return copy_name(there ? vent__node_name(network->model, node) : "", size, name);
}

size_t vent_network_run_name(const vent_network *network, int run, size_t size, char *name)
{
    bool there = network && run >= 0 && run < network->model->runs;
    return copy_name(there ? vent__run_name(network->model, run) : "", size, name);
}
