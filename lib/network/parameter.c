/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "network/parameter.h"

#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <ventstack/units.h>

#include "base/fail.h"
#include "network/address.h"
#include "physics/laws.h"

_Static_assert(sizeof(vent_parameter) == 24, "vent_parameter is frozen");

/* ---- the kinds ---------------------------------------------------------------------------- */

typedef struct quantity {
    const char *name, *unit;
    double low, high;
} quantity;

/* Those without a row here have their names and bounds from the part's own table. */
static const quantity quantities[] = {
    [VENT_PARAMETER_WIND_PRESSURE] = {"wind_pressure", "Pa", -1e5, 1e5},
    [VENT_PARAMETER_BUILDING_PRESSURE] = {"building_pressure", "Pa", -1e5, 1e5},
    [VENT_PARAMETER_OUTDOOR_TEMPERATURE] = {"outdoor_temperature", "K", 233.15, 333.15},
    [VENT_PARAMETER_BAROMETRIC_PRESSURE] = {"barometric_pressure", "Pa", 3e4, 1.1e5},
    [VENT_PARAMETER_SOIL_GAS_TEMPERATURE] = {"soil_gas_temperature", "K", 233.15, 333.15},
    [VENT_PARAMETER_WIND_DYNAMIC_PRESSURE] = {"wind_dynamic_pressure", "Pa", 0, 1e5},
    [VENT_PARAMETER_HEIGHT] = {"height", "m", -1000, 1000},
    [VENT_PARAMETER_JUNCTION_ANGLE] = {"angle", "rad", 0, VENT_RADIANS(150)},
    [VENT_PARAMETER_JUNCTION_FACTOR] = {"factor", "", 0, 1000},
    [VENT_PARAMETER_TERMINATION_FACTOR] = {"factor", "", 0, 1000},
    [VENT_PARAMETER_AREA] = {"area", "m2", 0, 100},
    [VENT_PARAMETER_DISCHARGE_COEFFICIENT] = {"discharge_coefficient", "", 0.05, 1},
    [VENT_PARAMETER_PRESSURE_COEFFICIENT] = {"pressure_coefficient", "", -10, 10},
    [VENT_PARAMETER_COUPLING] = {"resistance", "Pa s/m3", 0, 1e9},
    [VENT_PARAMETER_TEMPERATURE] = {"temperature", "K", 233.15, 333.15},
    [VENT_PARAMETER_LENGTH] = {"length", "m", 0, 1e6},
    [VENT_PARAMETER_BORE] = {"bore", "m", 1e-4, 10},
    [VENT_PARAMETER_ROUGHNESS] = {"roughness", "m", 0, 1},
    [VENT_PARAMETER_TRANSITION_ANGLE] = {"transition_angle", "rad", 1e-3, VENT_PI},
    [VENT_PARAMETER_FACTOR] = {"factor", "", 0, 1000},
    [VENT_PARAMETER_COUNT] = {"count", "", 0, 1e6},
    [VENT_PARAMETER_SPEED] = {"speed", "", 1e-6, 10},
    [VENT_PARAMETER_PRESSURE_FACTOR] = {"pressure_factor", "", 0, 10},
    [VENT_PARAMETER_RUNNING] = {"running", "", 0, 1},
};

static const vent__node *node_of(const vent__model *model, const vent_parameter *p)
{
    return &model->node[p->place];
}

static const vent__item *item_of(const vent__model *model, const vent_parameter *p)
{
    return &model->item[vent__model_item(model, p->place, p->item)];
}

/* A stated coefficient's uncertainty changes no result, so it is no parameter. */
static bool has_slot(const vent_fitting *fitting, int slot)
{
    int count = vent_fitting_parameter_count(fitting->family);
    return slot >= 0 && slot < count - (fitting->family == VENT_FITTING_CONSTANT);
}

static bool node_has(const vent__model *model, const vent_parameter *p)
{
    const vent__node *node = node_of(model, p);
    switch (p->kind) {
    case VENT_PARAMETER_HEIGHT:
        return p->slot == 0;
    case VENT_PARAMETER_SOIL:
        return node->kind == VENT__SUCTION && (p->slot == 0 || p->slot == 1);
    case VENT_PARAMETER_JUNCTION_ANGLE:
    case VENT_PARAMETER_JUNCTION_FACTOR:
        return node->kind == VENT__JUNCTION && node->junction.law != VENT_JUNCTION_LOSSLESS &&
               p->slot == 0;
    case VENT_PARAMETER_TERMINATION:
        return node->kind == VENT__DISCHARGE &&
               vent_termination_parameter(node->termination.family, p->slot,
                                          &(vent_parameter_range){0});
    case VENT_PARAMETER_TERMINATION_FACTOR:
        return node->kind == VENT__DISCHARGE && p->slot == 0;
    case VENT_PARAMETER_PRESSURE_COEFFICIENT:
        return vent__feels_wind(model, p->place) && p->slot == 0;
    case VENT_PARAMETER_AREA:
    case VENT_PARAMETER_DISCHARGE_COEFFICIENT:
        return node->kind == VENT__OPENING && p->slot == 0;
    default:
        return false;
    }
}

/* A fitting, or a fan of which is known what it resists as while it is off. */
static bool resists(const vent__item *item)
{
    return item->kind == VENT__FITTING ||
           (item->kind == VENT__FAN && item->fitting.family != VENT_FITTING_NONE);
}

static bool item_has(const vent__item *item, const vent_parameter *p)
{
    switch (p->kind) {
    case VENT_PARAMETER_LENGTH:
    case VENT_PARAMETER_ROUGHNESS:
        return item->kind == VENT__PIPE && p->slot == 0;
    case VENT_PARAMETER_BORE:
        return item->kind == VENT__PIPE &&
               (p->slot == 0 || (p->slot == 1 && item->pipe.shape != VENT_PIPE_ROUND));
    case VENT_PARAMETER_TRANSITION_ANGLE:
        return item->kind == VENT__PIPE && p->item > 0 && p->slot == 0;
    case VENT_PARAMETER_FITTING:
        return resists(item) && has_slot(&item->fitting, p->slot);
    case VENT_PARAMETER_FACTOR:
        return resists(item) && p->slot == 0;
    case VENT_PARAMETER_RUNNING:
        return item->kind == VENT__FAN && resists(item) && p->slot == 0;
    case VENT_PARAMETER_COUNT:
        return item->kind == VENT__FITTING && p->slot == 0;
    case VENT_PARAMETER_SPEED:
    case VENT_PARAMETER_PRESSURE_FACTOR:
        return item->kind == VENT__FAN && p->slot == 0;
    default:
        return false;
    }
}

static bool of_network(int kind)
{
    return kind >= VENT_PARAMETER_WIND_PRESSURE && kind <= VENT_PARAMETER_WIND_DYNAMIC_PRESSURE;
}

static bool of_node(int kind)
{
    return kind >= VENT_PARAMETER_HEIGHT && kind <= VENT_PARAMETER_COUPLING;
}

/* The first item of a leak's run is no pipe. */
static bool is_no_pipe(const vent__model *model, const vent_parameter *p)
{
    return p->item == 0 && vent__is_seep(model, p->place) && p->kind >= VENT_PARAMETER_LENGTH &&
           p->kind <= VENT_PARAMETER_ROUGHNESS;
}

/* Two suction points that are coupled, in the order they were. */
static bool is_pair(const vent__model *model, const vent_parameter *p)
{
    const vent__coupling *c = vent__model_coupling(model, p->place, p->item);
    return c && c->a == p->place;
}

/* Where a check stands: of parameters that follow each other most are of one place, and go on through its
 * items, so neither are its items counted nor its name read again. */
typedef struct visit {
    int run, rank, item;
    int sort, place; /* of the last mark */
    uint64_t mark;
} visit;
static const visit NOWHERE = {.run = -1, .item = -1, .place = -1};

static int item_at(const vent__model *model, const vent_parameter *p, visit *v)
{
    if (p->place < 0 || p->place >= model->runs || p->item < 0)
        return -1;
    if (p->place != v->run || p->item < v->rank || v->item < 0) {
        v->run = p->place;
        v->rank = 0;
        v->item = model->run[p->place].first;
    }
    for (; v->rank < p->item && v->item >= 0; ++v->rank)
        v->item = model->item[v->item].next;
    return v->item;
}

static bool visit_finds(const vent__model *model, const vent_parameter *p, visit *v)
{
    if (p->kind > VENT_PARAMETER_TEMPERATURE) { /* most */
        int item = item_at(model, p, v);
        return item >= 0 && item_has(&model->item[item], p) && !is_no_pipe(model, p);
    }
    if (of_network(p->kind))
        return p->place == 0 && p->item == 0 && p->slot == 0;
    if (p->kind == VENT_PARAMETER_COUPLING)
        return p->slot == 0 && is_pair(model, p);
    if (of_node(p->kind))
        return p->place >= 0 && p->place < model->nodes && p->item == 0 && node_has(model, p);
    return p->kind == VENT_PARAMETER_TEMPERATURE && p->place >= 0 && p->place < model->runs &&
           p->item == 0 && p->slot == 0;
}

static bool there_is(const vent__model *model, const vent_parameter *p)
{
    visit v = NOWHERE;
    return visit_finds(model, p, &v);
}

static uint64_t mark_of(const vent__model *model, const vent_parameter *p)
{
    if (of_network(p->kind))
        return 0;
    if (p->kind == VENT_PARAMETER_COUPLING) /* of both, in their order */
        return (3 * vent__node_mark(model, p->place)) ^ vent__node_mark(model, p->item);
    return of_node(p->kind) ? vent__node_mark(model, p->place) : vent__run_mark(model, p->place);
}

/* Of the network, of a node, of two nodes, of a run. */
static int sort_of(int kind)
{
    return kind == VENT_PARAMETER_COUPLING      ? -1
           : kind >= VENT_PARAMETER_TEMPERATURE ? VENT__OF_RUN
           : kind >= VENT_PARAMETER_HEIGHT      ? VENT__OF_NODE
                                                : VENT__OF_NETWORK;
}

static bool is_marked(const vent__model *model, const vent_parameter *p, visit *v)
{
    int sort = sort_of(p->kind);
    if (p->place != v->place || sort != v->sort || sort < 0) {
        v->mark = mark_of(model, p);
        v->place = p->place;
        v->sort = sort;
    }
    return p->network == v->mark;
}

bool vent__parameters_check(const vent__model *model, size_t n, const vent_parameter *parameters,
                            const char *function, vent_error *err)
{
    visit v = NOWHERE;
    for (size_t i = 0; i < n; ++i) {
        const vent_parameter *p = &parameters[i];
        if (!visit_finds(model, p, &v) || !is_marked(model, p, &v))
            return vent__fail(
                err, VENT_E_NOT_FOUND, function, "parameter", p->place, p->kind, NAN, NAN,
                "%s: parameter (kind %d, place %d, item %d, slot %d) is none of this network; "
                "addresses belong to the network they were made with",
                function, p->kind, p->place, p->item, p->slot);
    }
    return true;
}

bool vent__parameter_check(const vent__model *model, const vent_parameter *p, const char *function,
                           vent_error *err)
{
    return vent__parameters_check(model, 1, p, function, err);
}

/* Name, unit and bounds of a parameter that is there. */
static vent_parameter_range range_of(const vent__model *model, const vent_parameter *p)
{
    vent_parameter_range range = {0};
    if (p->kind == VENT_PARAMETER_SOIL) {
        vent__soil_parameter(&node_of(model, p)->soil, p->slot, &range);
    } else if (p->kind == VENT_PARAMETER_TERMINATION) {
        vent_termination_parameter(node_of(model, p)->termination.family, p->slot, &range);
    } else if (p->kind == VENT_PARAMETER_FITTING) {
        vent_fitting_parameter(item_of(model, p)->fitting.family, p->slot, &range);
    } else {
        const quantity *q = &quantities[p->kind];
        range = (vent_parameter_range){q->name, q->unit, q->low, q->high, q->low, q->high};
    }
    if (p->kind == VENT_PARAMETER_BORE && item_of(model, p)->pipe.shape != VENT_PIPE_ROUND)
        range.name = p->slot ? "depth" : "width";
    if (p->kind == VENT_PARAMETER_ROUGHNESS)
        range.high = range.source_high =
            0.1 * vent_pipe_effective_diameter(item_of(model, p)->pipe);
    return range;
}

/* ---- values ------------------------------------------------------------------------------- */

static double *number_in_node(vent__node *node, const vent_parameter *p)
{
    switch (p->kind) {
    case VENT_PARAMETER_HEIGHT:
        return &node->height;
    case VENT_PARAMETER_SOIL:
        return p->slot ? &node->soil.b : &node->soil.a;
    case VENT_PARAMETER_JUNCTION_ANGLE:
        return &node->junction.angle;
    case VENT_PARAMETER_JUNCTION_FACTOR:
        return &node->junction.factor;
    case VENT_PARAMETER_TERMINATION:
        return &node->termination.geometry[p->slot];
    case VENT_PARAMETER_PRESSURE_COEFFICIENT:
        return &node->pressure_coefficient;
    case VENT_PARAMETER_AREA:
        return &node->opening.area;
    case VENT_PARAMETER_DISCHARGE_COEFFICIENT:
        return &node->opening.discharge_coefficient;
    default:
        return &node->termination.factor;
    }
}

static double *number_in_item(vent__model *model, vent__item *item, const vent_parameter *p)
{
    switch (p->kind) {
    case VENT_PARAMETER_BORE:
        return p->slot ? &item->pipe.depth : &item->pipe.width;
    case VENT_PARAMETER_ROUGHNESS:
        return &item->pipe.roughness;
    case VENT_PARAMETER_TRANSITION_ANGLE:
        return &item->transition_angle;
    case VENT_PARAMETER_FITTING:
        return &item->fitting.geometry[p->slot];
    case VENT_PARAMETER_FACTOR:
        return &item->fitting.factor;
    case VENT_PARAMETER_RUNNING:
        return &item->running;
    case VENT_PARAMETER_PRESSURE_FACTOR:
        return &model->fan[item->fan].pressure_factor;
    default:
        return &item->amount;
    }
}

/* Where the number stands; those that others follow from are written by store(). */
static double *number(vent__model *model, const vent_parameter *p)
{
    switch (p->kind) {
    case VENT_PARAMETER_WIND_PRESSURE:
        return &model->wind_pressure;
    case VENT_PARAMETER_BUILDING_PRESSURE:
        return &model->building_pressure;
    case VENT_PARAMETER_WIND_DYNAMIC_PRESSURE:
        return &model->wind_dynamic_pressure;
    case VENT_PARAMETER_COUPLING:
        return &vent__model_coupling(model, p->place, p->item)->resistance;
    case VENT_PARAMETER_OUTDOOR_TEMPERATURE:
        return &model->outdoors.temperature;
    case VENT_PARAMETER_BAROMETRIC_PRESSURE:
        return &model->outdoors.pressure;
    case VENT_PARAMETER_SOIL_GAS_TEMPERATURE:
        return &model->soil_gas.temperature;
    case VENT_PARAMETER_TEMPERATURE:
        return &model->run[p->place].temperature;
    default:
        break;
    }
    if (of_node(p->kind))
        return number_in_node(&model->node[p->place], p);
    return number_in_item(model, &model->item[vent__model_item(model, p->place, p->item)], p);
}

void vent__parameter_range(const vent__model *model, const vent_parameter *p,
                           vent_parameter_range *range)
{
    *range = range_of(model, p);
}

double vent__parameter_value(const vent__model *model, const vent_parameter *p)
{
    return *number((vent__model *)(uintptr_t)model, p); /* read only */
}

/* What stands around a number may forbid it where its own bounds do not: wires that leave no room. */
static bool part_is_sound(const vent__model *model, const vent_parameter *p, const char *function,
                          vent_error *err)
{
    switch (p->kind) {
    case VENT_PARAMETER_TERMINATION:
        return vent__termination_check(&node_of(model, p)->termination, function, err);
    case VENT_PARAMETER_FITTING:
        return vent__fitting_check(&item_of(model, p)->fitting, function, err);
    case VENT_PARAMETER_BORE:
        return vent__model_pipe_check(item_of(model, p)->pipe, function, err);
    case VENT_PARAMETER_SOIL:
        return vent__model_soil_check(node_of(model, p)->soil, function, err);
    default:
        return true;
    }
}

static bool store_number(vent__model *model, const vent_parameter *p, double value,
                         const char *function, vent_error *err)
{
    double *at = number(model, p), before = *at;
    vent__item *item = p->kind == VENT_PARAMETER_BORE
                           ? &model->item[vent__model_item(model, p->place, p->item)]
                           : NULL;
    bool round = item && item->pipe.shape == VENT_PIPE_ROUND;
    *at = value;
    if (round)
        item->pipe.depth = value;
    if (part_is_sound(model, p, function, err))
        return true;
    *at = before;
    if (round)
        item->pipe.depth = before;
    return false;
}

static bool store_air(vent__model *model, const vent_parameter *p, double value, vent_error *err)
{
    vent_air soil_gas = model->soil_gas, outdoors = model->outdoors;
    double soil_temperature = soil_gas.temperature, soil_pressure = soil_gas.pressure;
    double temperature = outdoors.temperature, pressure = outdoors.pressure;
    switch (p->kind) {
    case VENT_PARAMETER_TEMPERATURE:
        return vent__model_set_temperature(model, p->place, value, err);
    case VENT_PARAMETER_OUTDOOR_TEMPERATURE:
        temperature = value;
        break;
    case VENT_PARAMETER_SOIL_GAS_TEMPERATURE:
        soil_temperature = value;
        break;
    default:
        pressure = value;
        soil_pressure *= value / outdoors.pressure;
    }
    if (p->kind != VENT_PARAMETER_SOIL_GAS_TEMPERATURE)
        outdoors = vent_air_moist(temperature, pressure, outdoors.relative_humidity, err);
    if (p->kind != VENT_PARAMETER_OUTDOOR_TEMPERATURE)
        soil_gas = vent_air_moist(soil_temperature, soil_pressure, soil_gas.relative_humidity, err);
    return outdoors.density > 0 && soil_gas.density > 0 &&
           vent__model_set_airs(model, soil_gas, outdoors, err);
}

static bool is_of_air(int kind)
{
    return kind == VENT_PARAMETER_OUTDOOR_TEMPERATURE ||
           kind == VENT_PARAMETER_BAROMETRIC_PRESSURE ||
           kind == VENT_PARAMETER_SOIL_GAS_TEMPERATURE || kind == VENT_PARAMETER_TEMPERATURE;
}

bool vent__parameter_store(vent__model *model, const vent_parameter *p, double value,
                           const char *function, vent_error *err)
{
    vent_parameter_range range = range_of(model, p);
    if (!vent__check_range(err, function, range.name, range.unit, value, range.low, range.high))
        return false;
    return is_of_air(p->kind) ? store_air(model, p, value, err)
                              : store_number(model, p, value, function, err);
}

void vent__parameter_restore(vent__model *model, const vent__model *original,
                             const vent_parameter *p)
{
    if (!is_of_air(p->kind)) {
        store_number(model, p, vent__parameter_value(original, p), __func__, NULL);
        return;
    }
    model->soil_gas = original->soil_gas;
    model->outdoors = original->outdoors;
    int first = p->kind == VENT_PARAMETER_TEMPERATURE ? p->place : 0;
    int end = p->kind == VENT_PARAMETER_TEMPERATURE ? p->place + 1 : model->runs;
    for (int i = first; i < end; ++i) {
        vent__run *run = &model->run[i];
        const vent__run *from = &original->run[i];
        run->temperature = from->temperature;
        run->density = from->density;
        run->viscosity = from->viscosity;
        run->own_temperature = from->own_temperature;
    }
}

/* ---- listing ------------------------------------------------------------------------------ */

typedef struct listing {
    const vent__model *model;
    size_t first, room, seen, written;
    vent_parameter *out;
} listing;

static void list_one(listing *list, vent_parameter p)
{
    if (!there_is(list->model, &p))
        return;
    if (list->seen++ >= list->first && list->written < list->room) {
        p.network = mark_of(list->model, &p);
        list->out[list->written++] = p;
    }
}

/* Every slot there may be; those that are not there are left out. */
enum { SLOTS = 6 };

static void list_slots(listing *list, int kind, int place, int item)
{
    for (int slot = 0; slot < SLOTS; ++slot)
        list_one(list, (vent_parameter){kind, place, item, slot, 0});
}

static void list_node(listing *list, int node)
{
    for (int kind = VENT_PARAMETER_HEIGHT; kind < VENT_PARAMETER_COUPLING; ++kind)
        list_slots(list, kind, node, 0);
}

/* Walks the chain itself, so that a run of many items takes linear time. */
static void list_run(listing *list, int run)
{
    const vent__model *model = list->model;
    list_one(list, (vent_parameter){VENT_PARAMETER_TEMPERATURE, run, 0, 0, 0});
    int rank = 0;
    for (int i = model->run[run].first; i >= 0; i = model->item[i].next, ++rank)
        for (int kind = VENT_PARAMETER_LENGTH; kind <= VENT_PARAMETER_RUNNING; ++kind)
            for (int slot = 0; slot < SLOTS; ++slot) {
                vent_parameter p = {kind, run, rank, slot, 0};
                if (!item_has(&model->item[i], &p) || is_no_pipe(model, &p))
                    continue;
                if (list->seen++ >= list->first && list->written < list->room) {
                    p.network = vent__run_mark(model, run);
                    list->out[list->written++] = p;
                }
            }
}

static vent_parameter coupling_at(const vent__model *model, int number)
{
    const vent__coupling *c = &model->coupling[number];
    return (vent_parameter){VENT_PARAMETER_COUPLING, c->a, c->b, 0, 0};
}

static void list_network(listing *list)
{
    for (int kind = VENT_PARAMETER_WIND_PRESSURE; kind <= VENT_PARAMETER_WIND_DYNAMIC_PRESSURE;
         ++kind)
        list_one(list, (vent_parameter){kind, 0, 0, 0, 0});
}

static size_t list_all(listing *list)
{
    list_network(list);
    for (int i = 0; i < list->model->nodes; ++i)
        list_node(list, i);
    for (int i = 0; i < list->model->couplings; ++i)
        list_one(list, coupling_at(list->model, i));
    for (int i = 0; i < list->model->runs; ++i)
        list_run(list, i);
    return list->written;
}

size_t vent_network_parameter_count(const vent_network *network)
{
    if (!network)
        return 0;
    listing list = {.model = network->model};
    list_all(&list);
    return list.seen;
}

size_t vent_network_parameters(const vent_network *network, size_t first, size_t room,
                               vent_parameter *parameters)
{
    if (!network || !parameters)
        return 0;
    listing list = {.model = network->model, .first = first, .room = room, .out = parameters};
    return list_all(&list);
}

/* ---- names -------------------------------------------------------------------------------- */

static size_t write_name(const vent__model *model, const vent_parameter *p, size_t size, char *name)
{
    const char *quantity_name = range_of(model, p).name;
    if (p->kind == VENT_PARAMETER_COUPLING)
        return (size_t)snprintf(size ? name : NULL, name ? size : 0, "%s~%s.%s",
                                vent__node_name(model, p->place), vent__node_name(model, p->item),
                                quantity_name);
    if (of_network(p->kind))
        return vent__address_name(size, name, "", 0, quantity_name);
    const char *place =
        of_node(p->kind) ? vent__node_name(model, p->place) : vent__run_name(model, p->place);
    return vent__address_name(size, name, place, p->item, quantity_name);
}

size_t vent_network_parameter_name(const vent_network *network, vent_parameter parameter,
                                   size_t size, char *name)
{
    if (!network || !vent__parameter_check(network->model, &parameter, __func__, NULL))
        return vent__address_name(size, name, "", 0, "");
    return write_name(network->model, &parameter, size, name);
}

/* What a text begins with is taken off it. */
static bool takes(const char **text, const char *part)
{
    size_t length = strlen(part);
    bool begins = strncmp(*text, part, length) == 0;
    *text += begins ? length : 0;
    return begins;
}

static bool reads_as(const vent__model *model, const char *name, int first, int second)
{
    return takes(&name, vent__node_name(model, first)) && takes(&name, "~") &&
           takes(&name, vent__node_name(model, second)) && takes(&name, ".resistance") && !*name;
}

/* The coupling that a name means, with its nodes in either order; kind VENT_PARAMETER_NONE for none. */
static vent_parameter find_coupling(const vent__model *model, const char *name)
{
    for (int i = 0; i < model->couplings; ++i) {
        vent_parameter p = coupling_at(model, i);
        if (reads_as(model, name, p.place, p.item) || reads_as(model, name, p.item, p.place)) {
            p.network = mark_of(model, &p);
            return p;
        }
    }
    return (vent_parameter){0};
}

static int kinds_of_search(void *list, int number, const char **name, int *item)
{
    const listing *found = list;
    if ((size_t)number >= found->written)
        return 0;
    *name = range_of(found->model, &found->out[number]).name;
    *item = found->out[number].item;
    return 1;
}

vent_parameter vent_network_find_parameter(const vent_network *network, const char *name,
                                           vent_error *err)
{
    vent_parameter none = {0};
    if (vent__failed(err) || !VENT__POINTER(network) || !VENT__POINTER(name))
        return none;
    const vent__model *model = network->model;
    vent_parameter coupling = find_coupling(model, name);
    if (coupling.kind != VENT_PARAMETER_NONE)
        return coupling;
    vent__address_text text = vent__address_read(model, name, "parameter", __func__, err);
    if (text.of == VENT__OF_NOTHING)
        return none;
    const char *note = strcmp(text.quantity, quantities[VENT_PARAMETER_RUNNING].name) == 0
                           ? "; a fan has it once it was switched off, with what it resists as then"
                           : "";
    listing list = {.model = model};
    for (int pass = 0; pass < 2; ++pass) { /* counts, then lists */
        list.seen = 0;
        if (text.of == VENT__OF_NETWORK)
            list_network(&list);
        else if (text.of == VENT__OF_NODE)
            list_node(&list, text.place);
        else
            list_run(&list, text.place);
        if (pass == 0) {
            list.out = malloc((list.seen + 1) * sizeof *list.out);
            list.room = list.out ? list.seen : 0;
        }
    }
    if (!list.out) {
        VENT__FAIL(VENT_E_MEMORY, "", -1, "%s: no memory", __func__);
        return none;
    }
    int number_found =
        vent__address_choose(&text, kinds_of_search, &list, "parameter", note, __func__, err);
    vent_parameter found = number_found >= 0 ? list.out[number_found] : none;
    free(list.out);
    return found;
}

/* ---- for everyone ------------------------------------------------------------------------- */

vent_parameter vent_network_parameter(const vent_network *network, int kind, int place, int item,
                                      int slot, vent_error *err)
{
    vent_parameter p = {kind, place, item, slot, 0};
    if (vent__failed(err) || !VENT__POINTER(network))
        return (vent_parameter){0};
    if (of_network(kind))
        p.place = 0;
    bool of_pair = kind == VENT_PARAMETER_COUPLING;
    if (of_network(kind) || (of_node(kind) && !of_pair) || kind == VENT_PARAMETER_TEMPERATURE)
        p.item = 0;
    if (of_pair && vent__model_coupling(network->model, place, item) &&
        !is_pair(network->model, &p)) {
        p.place = item;
        p.item = place;
    }
    if (there_is(network->model, &p))
        p.network = mark_of(network->model, &p);
    return vent__parameter_check(network->model, &p, __func__, err) ? p : (vent_parameter){0};
}

bool vent_network_parameter_range(const vent_network *network, vent_parameter parameter,
                                  vent_parameter_range *range)
{
    if (!network || !range || !vent__parameter_check(network->model, &parameter, __func__, NULL))
        return false;
    *range = range_of(network->model, &parameter);
    return true;
}

double vent_network_get(const vent_network *network, vent_parameter parameter, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) ||
        !vent__parameter_check(network->model, &parameter, __func__, err))
        return NAN;
    return vent__parameter_value(network->model, &parameter);
}

bool vent_network_set(vent_network *network, vent_parameter parameter, double value,
                      vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) ||
        !vent__parameter_check(network->model, &parameter, __func__, err))
        return false;
    vent__model *model = vent__model_writable(network, __func__, err);
    return model && vent__parameter_store(model, &parameter, value, __func__, err);
}
