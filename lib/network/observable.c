/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <ventstack/observable.h>

#include <stdlib.h>

#include "base/fail.h"
#include "network/address.h"
#include "network/observable.h"
#include "network/state.h"

_Static_assert(sizeof(vent_observable) == 24, "vent_observable is frozen");

/* ---- the kinds ---------------------------------------------------------------------------- */

enum { OF_NETWORK = 1, OF_NODE, OF_DISCHARGE, OF_RUN, OF_LEG, OF_ITEM, OF_FAN };

typedef struct quantity {
    const char *name, *unit;
    int of;
} quantity;

static const quantity quantities[] = {
    [VENT_OBSERVABLE_DISCHARGE_FLOW] = {"discharge_flow", "m3/s", OF_NETWORK},
    [VENT_OBSERVABLE_EXIT_VELOCITY] = {"exit_velocity", "m/s", OF_NETWORK},
    [VENT_OBSERVABLE_PRESSURE] = {"pressure", "Pa", OF_NODE},
    [VENT_OBSERVABLE_ABSOLUTE_PRESSURE] = {"absolute_pressure", "Pa", OF_NODE},
    [VENT_OBSERVABLE_TERMINATION_LOSS] = {"loss", "Pa", OF_DISCHARGE},
    [VENT_OBSERVABLE_MASS_FLOW] = {"mass_flow", "kg/s", OF_RUN},
    [VENT_OBSERVABLE_FLOW] = {"flow", "m3/s", OF_RUN},
    [VENT_OBSERVABLE_STANDARD_FLOW] = {"standard_flow", "m3/s", OF_RUN},
    [VENT_OBSERVABLE_VELOCITY] = {"velocity", "m/s", OF_RUN},
    [VENT_OBSERVABLE_REYNOLDS] = {"reynolds", "", OF_RUN},
    [VENT_OBSERVABLE_DENSITY] = {"density", "kg/m3", OF_RUN},
    [VENT_OBSERVABLE_JUNCTION_LOSS] = {"junction_loss", "Pa", OF_LEG},
    [VENT_OBSERVABLE_INLET_STATIC_PRESSURE] = {"inlet_static_pressure", "Pa", OF_RUN},
    [VENT_OBSERVABLE_LOSS] = {"loss", "Pa", OF_ITEM},
    [VENT_OBSERVABLE_STATIC_PRESSURE] = {"static_pressure", "Pa", OF_ITEM},
    [VENT_OBSERVABLE_FAN_FLOW] = {"fan_flow", "m3/s", OF_FAN},
    [VENT_OBSERVABLE_FAN_PRESSURE] = {"fan_pressure", "Pa", OF_FAN},
    [VENT_OBSERVABLE_FAN_POWER] = {"fan_power", "W", OF_FAN},
    [VENT_OBSERVABLE_FAN_AIR_POWER] = {"fan_air_power", "W", OF_FAN},
    [VENT_OBSERVABLE_SHUT_OFF_SHARE] = {"shut_off_share", "", OF_FAN},
    [VENT_OBSERVABLE_FREE_DELIVERY_SHARE] = {"free_delivery_share", "", OF_FAN},
};
enum { KINDS = sizeof quantities / sizeof *quantities };

static const quantity *quantity_of(int kind)
{
    return kind > 0 && kind < KINDS && quantities[kind].of ? &quantities[kind] : NULL;
}

static bool at_node(const quantity *q)
{
    return q->of == OF_NODE || q->of == OF_DISCHARGE;
}

static bool there_is(const vent__model *model, const vent_observable *o)
{
    const quantity *q = quantity_of(o->kind);
    if (!q || o->reserved != 0 || o->place < 0)
        return false;
    if (q->of == OF_NETWORK)
        return o->place == 0 && o->item == 0 && model->discharge >= 0;
    if (at_node(q))
        return o->item == 0 && o->place < model->nodes &&
               (q->of == OF_NODE || model->node[o->place].kind == VENT__DISCHARGE);
    if (o->place >= model->runs)
        return false;
    if (q->of == OF_RUN)
        return o->item == 0;
    if (q->of == OF_LEG)
        return o->item == 0 && model->node[model->run[o->place].to].kind == VENT__JUNCTION;
    int item = vent__model_item(model, o->place, o->item);
    return item >= 0 && (q->of == OF_ITEM || model->item[item].kind == VENT__FAN);
}

static uint64_t mark_of(const vent__model *model, const vent_observable *o)
{
    const quantity *q = quantity_of(o->kind);
    if (q->of == OF_NETWORK)
        return 0;
    return at_node(q) ? vent__node_mark(model, o->place) : vent__run_mark(model, o->place);
}

bool vent__observable_check(const vent__model *model, const vent_observable *o,
                            const char *function, vent_error *err)
{
    if (there_is(model, o) && o->network == mark_of(model, o))
        return true;
    return vent__fail(err, VENT_E_NOT_FOUND, function, "observable", o->place, o->kind, NAN, NAN,
                      "%s: observable (kind %d, place %d, item %d) is none of this network; "
                      "addresses belong to the network they were made with",
                      function, o->kind, o->place, o->item);
}

/* ---- listing ------------------------------------------------------------------------------ */

typedef struct listing {
    const vent__model *model;
    size_t first, room, seen, written;
    vent_observable *out;
} listing;

static void list_kinds(listing *list, int first, int last, int place, int item)
{
    for (int kind = first; kind <= last; ++kind) {
        vent_observable o = {kind, place, item, 0, 0};
        if (there_is(list->model, &o) && list->seen++ >= list->first &&
            list->written < list->room) {
            o.network = mark_of(list->model, &o);
            list->out[list->written++] = o;
        }
    }
}

static void list_network(listing *list)
{
    list_kinds(list, VENT_OBSERVABLE_DISCHARGE_FLOW, VENT_OBSERVABLE_EXIT_VELOCITY, 0, 0);
}

static void list_node(listing *list, int node)
{
    list_kinds(list, VENT_OBSERVABLE_PRESSURE, VENT_OBSERVABLE_TERMINATION_LOSS, node, 0);
}

static void list_run(listing *list, int run)
{
    list_kinds(list, VENT_OBSERVABLE_MASS_FLOW, VENT_OBSERVABLE_INLET_STATIC_PRESSURE, run, 0);
    for (int item = 0; item < list->model->run[run].count; ++item)
        list_kinds(list, VENT_OBSERVABLE_LOSS, VENT_OBSERVABLE_FREE_DELIVERY_SHARE, run, item);
}

static size_t list_all(listing *list)
{
    list_network(list);
    for (int i = 0; i < list->model->nodes; ++i)
        list_node(list, i);
    for (int i = 0; i < list->model->runs; ++i)
        list_run(list, i);
    return list->written;
}

size_t vent_network_observable_count(const vent_network *network)
{
    if (!network)
        return 0;
    listing list = {.model = network->model};
    list_all(&list);
    return list.seen;
}

size_t vent_network_observables(const vent_network *network, size_t first, size_t room,
                                vent_observable *observables)
{
    if (!network || !observables)
        return 0;
    listing list = {.model = network->model, .first = first, .room = room, .out = observables};
    return list_all(&list);
}

/* ---- names -------------------------------------------------------------------------------- */

size_t vent_network_observable_name(const vent_network *network, vent_observable observable,
                                    size_t size, char *name)
{
    if (!network || !vent__observable_check(network->model, &observable, __func__, NULL))
        return vent__address_name(size, name, "", 0, "");
    const quantity *q = quantity_of(observable.kind);
    const char *place = q->of == OF_NETWORK ? ""
                        : at_node(q)        ? vent__node_name(network->model, observable.place)
                                            : vent__run_name(network->model, observable.place);
    return vent__address_name(size, name, place, observable.item, q->name);
}

const char *vent_observable_unit(vent_observable observable)
{
    const quantity *q = quantity_of(observable.kind);
    return q ? q->unit : NULL;
}

static int candidate(void *list, int number, const char **name, int *item)
{
    const listing *found = list;
    if ((size_t)number >= found->written)
        return 0;
    *name = quantity_of(found->out[number].kind)->name;
    *item = found->out[number].item;
    return 1;
}

vent_observable vent_network_find_observable(const vent_network *network, const char *name,
                                             vent_error *err)
{
    vent_observable none = {0};
    if (vent__failed(err) || !VENT__POINTER(network) || !VENT__POINTER(name))
        return none;
    const vent__model *model = network->model;
    vent__address_text text = vent__address_read(model, name, "observable", __func__, err);
    if (text.of == VENT__OF_NOTHING)
        return none;
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
    int number = vent__address_choose(&text, candidate, &list, "observable", "", __func__, err);
    vent_observable found = number >= 0 ? list.out[number] : none;
    free(list.out);
    return found;
}

vent_observable vent_network_observable(const vent_network *network, int kind, int place, int item,
                                        vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network))
        return (vent_observable){0};
    const quantity *q = quantity_of(kind);
    bool whole = q && q->of == OF_NETWORK, of_item = q && (q->of == OF_ITEM || q->of == OF_FAN);
    vent_observable o = {kind, whole ? 0 : place, of_item ? item : 0, 0, 0};
    if (there_is(network->model, &o))
        o.network = mark_of(network->model, &o);
    return vent__observable_check(network->model, &o, __func__, err) ? o : (vent_observable){0};
}

/* ---- values ------------------------------------------------------------------------------- */

/* Loss of an item by its rank, or of the termination behind the last. */
static double item_loss(const vent_solution *s, int run, int rank)
{
    vent__walk walk = vent__walk_begin(s, s->program->position[run]);
    while (vent__walk_next(&walk))
        if (walk.rank == rank && walk.part != VENT__PART_TRANSITION)
            return walk.loss;
    return NAN;
}

static double termination_loss(const vent_solution *s, int node)
{
    int run = s->program->run[vent__root_of(s, node)];
    return item_loss(s, run, s->model->run[run].count);
}

static double of_fan(const vent_solution *s, const vent_observable *o)
{
    const vent__item *item = &s->model->item[vent__model_item(s->model, o->place, o->item)];
    vent_fan_point point;
    vent_solution_fan(s, item->fan, &point);
    switch (o->kind) {
    case VENT_OBSERVABLE_FAN_FLOW:
        return point.flow;
    case VENT_OBSERVABLE_FAN_PRESSURE:
        return point.pressure;
    case VENT_OBSERVABLE_FAN_POWER:
        return point.power;
    case VENT_OBSERVABLE_FAN_AIR_POWER:
        return point.air_power;
    case VENT_OBSERVABLE_SHUT_OFF_SHARE:
        return point.shut_off_share;
    default:
        return point.flow / point.free_delivery;
    }
}

double vent__observe(const vent_solution *s, const vent_observable *o)
{
    switch (o->kind) {
    case VENT_OBSERVABLE_DISCHARGE_FLOW:
        return vent_solution_discharge_flow(s);
    case VENT_OBSERVABLE_EXIT_VELOCITY:
        return vent_solution_exit_velocity(s);
    case VENT_OBSERVABLE_PRESSURE:
        return vent_solution_pressure(s, o->place);
    case VENT_OBSERVABLE_ABSOLUTE_PRESSURE:
        return vent_solution_absolute_pressure(s, o->place);
    case VENT_OBSERVABLE_TERMINATION_LOSS:
        return termination_loss(s, o->place);
    case VENT_OBSERVABLE_MASS_FLOW:
        return vent_solution_mass_flow(s, o->place);
    case VENT_OBSERVABLE_FLOW:
        return vent_solution_flow(s, o->place);
    case VENT_OBSERVABLE_STANDARD_FLOW:
        return vent_solution_standard_flow(s, o->place);
    case VENT_OBSERVABLE_VELOCITY:
        return vent_solution_velocity(s, o->place);
    case VENT_OBSERVABLE_REYNOLDS:
        return vent_solution_reynolds(s, o->place);
    case VENT_OBSERVABLE_DENSITY:
        return vent_solution_density(s, o->place);
    case VENT_OBSERVABLE_JUNCTION_LOSS:
        return vent__joined_at(s, s->program->position[o->place]).loss;
    case VENT_OBSERVABLE_INLET_STATIC_PRESSURE:
        return vent_solution_static_pressure(s, o->place, -1);
    case VENT_OBSERVABLE_LOSS:
        return item_loss(s, o->place, o->item);
    case VENT_OBSERVABLE_STATIC_PRESSURE:
        return vent_solution_static_pressure(s, o->place, o->item);
    default:
        return of_fan(s, o);
    }
}

double vent_solution_observe(const vent_solution *solution, vent_observable observable,
                             vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(solution) ||
        !vent__observable_check(solution->model, &observable, __func__, err))
        return NAN;
    return vent__observe(solution, &observable);
}
