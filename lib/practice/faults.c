/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The kinds of fault: their sizes, where they may be, which ones one usually asks about. */
#include <stdlib.h>

#include "practice/diagnosing.h"

/* Where a fault sits. */
enum { NOWHERE, AT_SUCTION_POINT, AT_JUNCTION, AT_DISCHARGE, IN_RUN, AT_FAN, IN_READING };

typedef struct fault_kind {
    const char *name;
    int sits;
    double odds;               /* of all its places together, against nothing wrong */
    vent_parameter_range size; /* without a name where it has none: bounds, then the usual ones */
} fault_kind;

/* Odds and usual bounds: common practice, no source. Bounds are wide, so that a fault of any size that
 * could matter lies within; the least sizes are those a fan system would hardly feel. */
static const fault_kind kinds[VENT_FAULT_END] = {
    [VENT_FAULT_NONE] = {"nothing wrong", NOWHERE, 1, {0}},
    [VENT_FAULT_SLAB_LEAK] = {"slab leak",
                              AT_SUCTION_POINT,
                              1,
                              {"area", "m2", 1e-6, 1, 2e-4, 2e-2}},
    [VENT_FAULT_TERMINATION] = {"blocked or iced termination",
                                AT_DISCHARGE,
                                1,
                                {"free_share", "", 0.05, 0.99, 0.05, 0.6}},
    [VENT_FAULT_WATER] = {"standing water", IN_RUN, 1, {"free_share", "", 0.002, 0.99, 0.01, 0.6}},
    [VENT_FAULT_JOINT_LEAK] = {"joint leak", AT_JUNCTION, 1, {"area", "m2", 1e-6, 1, 1e-4, 1e-2}},
    [VENT_FAULT_FAN_WEAK] = {"weak fan",
                             AT_FAN,
                             1,
                             {"pressure_factor", "", 0.01, 0.99, 0.05, 0.85}},
    [VENT_FAULT_FAN_WRONG] = {"wrong fan", AT_FAN, 1, {0}},
    [VENT_FAULT_FAN_STOPPED] = {"stopped fan", AT_FAN, 1, {"k", "", 1e-3, 1e5, 1, 30}},
    [VENT_FAULT_SOIL_TIGHT] = {"soil tighter or wetter",
                               AT_SUCTION_POINT,
                               1,
                               {"flow_share", "", 1e-4, 0.99, 0.02, 0.6}},
    [VENT_FAULT_PLACE] = {"reading taken elsewhere", IN_READING, 0.2, {0}},
    [VENT_FAULT_SIGN] = {"wrong sign", IN_READING, 0.05, {0}},
};

static bool is_kind(int kind)
{
    return kind >= VENT_FAULT_NONE && kind < VENT_FAULT_END;
}

const char *vent_fault_name(int kind)
{
    return is_kind(kind) ? kinds[kind].name : "unknown";
}

bool vent__fault_has_size(int kind)
{
    return is_kind(kind) && kinds[kind].size.name;
}

bool vent_fault_range(int kind, vent_parameter_range *range)
{
    if (!range || !vent__fault_has_size(kind))
        return false;
    *range = kinds[kind].size;
    return true;
}

bool vent__same_fault(vent_fault a, vent_fault b)
{
    return a.kind == b.kind && a.place == b.place && a.item == b.item;
}

/* ---- where ---------------------------------------------------------------------------------------- */

static bool has_observable(const vent_network *design, int kind, int place, int item)
{
    vent_error none = VENT_NO_ERROR;
    return vent_network_observable(design, kind, place, item, &none).kind == kind;
}

static bool has_parameter(const vent_network *design, int kind, int place, int item)
{
    vent_error none = VENT_NO_ERROR;
    return vent_network_parameter(design, kind, place, item, 0, &none).kind == kind;
}

/* An item of a pipe that can be got at; a leak's run has none. */
static bool is_item(const vent_network *design, int run, int item)
{
    return vent_network_run_is_pipe(design, run) &&
           has_observable(design, VENT_OBSERVABLE_LOSS, run, item);
}

/* The junction at which the soil gas of a pit meets what leaks into the pit is the pit's. */
static bool is_joint(const vent_network *design, int node)
{
    int from, to;
    bool of_pit = false;
    for (int run = 0; vent_network_run_ends(design, run, &from, &to); ++run)
        of_pit |= to == node && !vent_network_run_is_pipe(design, run) &&
                  vent_network_node_kind(design, from) == VENT_NODE_SUCTION_POINT;
    return vent_network_node_kind(design, node) == VENT_NODE_JUNCTION && !of_pit;
}

/* Whether a run begins at a suction point, or at the edge of one that leaks. */
static bool leaves_pit(const vent_network *design, int run)
{
    int from, to;
    if (!vent_network_run_is_pipe(design, run) || !vent_network_run_ends(design, run, &from, &to))
        return false;
    int kind = vent_network_node_kind(design, from);
    return kind == VENT_NODE_SUCTION_POINT ||
           (kind == VENT_NODE_JUNCTION && !is_joint(design, from));
}

/* Of a loss or a power there is only one place. */
static bool has_other_place(const vent_diagnosis *d, int reading)
{
    vent_observable two[2]; /* the place itself may be the first */
    return vent__other_places(d->design, d->readings[reading].observable, 2, two) > 0;
}

static bool place_exists(const vent_diagnosis *d, const vent_fault *f)
{
    switch (kinds[f->kind].sits) {
    case NOWHERE:
        return f->place == 0 && f->item == 0;
    case AT_SUCTION_POINT:
        return vent_network_node_kind(d->design, f->place) == VENT_NODE_SUCTION_POINT &&
               f->item == 0;
    case AT_JUNCTION:
        return is_joint(d->design, f->place) && f->item == 0;
    case AT_DISCHARGE:
        return vent_network_node_kind(d->design, f->place) == VENT_NODE_DISCHARGE && f->item == 0;
    case IN_RUN:
        return f->item == -1 ? vent_network_run_is_pipe(d->design, f->place)
                             : is_item(d->design, f->place, f->item);
    case AT_FAN:
        return has_observable(d->design, VENT_OBSERVABLE_FAN_FLOW, f->place, f->item) &&
               (f->kind != VENT_FAULT_FAN_WRONG || d->fan_count > 0);
    default:
        if (f->item != 0 || f->place >= d->reading_count)
            return false;
        return f->kind == VENT_FAULT_SIGN ? f->place >= VENT_SIGN_ALL_READINGS
                                          : f->place >= 0 && has_other_place(d, f->place);
    }
}

bool vent__fault_check(const vent_diagnosis *d, vent_fault f, const char *function, vent_error *err)
{
    static const char *const what[] = {"0",
                                       "a suction point",
                                       "a junction",
                                       "a discharge",
                                       "a run",
                                       "a fan (of a wrong one, others must be given)",
                                       ("a reading (of a place, one that others could be "
                                        "taken for)")};
    if (!is_kind(f.kind))
        return vent__fail(err, VENT_E_ARGUMENT, function, "fault.kind", -1, f.kind, 0,
                          VENT_FAULT_END - 1, "%s: there is no kind of fault %d", function, f.kind);
    const fault_kind *k = &kinds[f.kind];
    if (!place_exists(d, &f))
        return vent__fail(err, VENT_E_NOT_FOUND, function, "fault.place", -1, f.place, NAN, NAN,
                          "%s: place %d, item %d is no place for a %s: it sits at %s", function,
                          f.place, f.item, k->name, what[k->sits]);
    if (!(f.odds > 0) || !isfinite(f.odds))
        return vent__fail(err, VENT_E_ARGUMENT, function, "fault.odds", -1, f.odds, 0, INFINITY,
                          "%s: odds of %g for a %s must be above 0 and finite", function, f.odds,
                          k->name);
    if (!k->size.name)
        return true;
    if (!vent__check_range(err, function, "fault.low", k->size.unit, f.low, k->size.low,
                           k->size.high) ||
        !vent__check_range(err, function, "fault.high", k->size.unit, f.high, k->size.low,
                           k->size.high))
        return false;
    return f.low < f.high ||
           vent__fail(err, VENT_E_ARGUMENT, function, "fault.high", -1, f.high, f.low, k->size.high,
                      "%s: a %s of %g to %g has no room between", function, k->name, f.low, f.high);
}

/* ---- what one can read ------------------------------------------------------------------------------ */

typedef struct listing {
    const vent_network *design;
    size_t room, count;
    vent_observable *out;
} listing;

static void list(listing *l, int kind, int place, int item)
{
    vent_error none = VENT_NO_ERROR;
    vent_observable o = vent_network_observable(l->design, kind, place, item, &none);
    if (o.kind == VENT_OBSERVABLE_NONE)
        return;
    if (l->count < l->room)
        l->out[l->count] = o;
    ++l->count;
}

static void list_pressures(listing *l)
{
    for (int i = 0; i < vent_network_node_count(l->design); ++i)
        if (vent_network_node_kind(l->design, i) == VENT_NODE_SUCTION_POINT)
            list(l, VENT_OBSERVABLE_PRESSURE, i, 0);
    for (int run = 0; run < vent_network_run_count(l->design); ++run)
        for (int item = 0; is_item(l->design, run, item); ++item)
            if (has_parameter(l->design, VENT_PARAMETER_LENGTH, run, item) ||
                has_observable(l->design, VENT_OBSERVABLE_FAN_FLOW, run, item) ||
                has_observable(l->design, VENT_OBSERVABLE_FAN_FLOW, run, item + 1))
                list(l, VENT_OBSERVABLE_STATIC_PRESSURE, run, item);
}

static void list_flows(listing *l)
{
    for (int run = 0; run < vent_network_run_count(l->design); ++run)
        if (vent_network_run_is_pipe(l->design, run))
            list(l, VENT_OBSERVABLE_FLOW, run, 0);
}

size_t vent__readable(const vent_network *design, size_t room, vent_observable *observables)
{
    listing l = {design, room, 0, observables};
    list_pressures(&l);
    list_flows(&l);
    return l.count;
}

static bool is_gauge_pressure(int kind)
{
    return kind == VENT_OBSERVABLE_PRESSURE || kind == VENT_OBSERVABLE_STATIC_PRESSURE ||
           kind == VENT_OBSERVABLE_INLET_STATIC_PRESSURE;
}

static bool same_observable(vent_observable a, vent_observable b)
{
    return a.kind == b.kind && a.place == b.place && a.item == b.item;
}

size_t vent__other_places(const vent_network *design, vent_observable read, size_t room,
                          vent_observable *places)
{
    listing l = {design, room, 0, places};
    if (is_gauge_pressure(read.kind))
        list_pressures(&l);
    else if (read.kind == VENT_OBSERVABLE_FLOW)
        list_flows(&l);
    size_t kept = 0;
    for (size_t i = 0; i < l.count && i < room; ++i)
        if (!same_observable(places[i], read))
            places[kept++] = places[i];
    return kept;
}

/* ---- the usual ones ---------------------------------------------------------------------------------- */

typedef struct collector {
    const vent_diagnosis *d;
    size_t room, count, first; /* first of the kind that is being listed */
    vent_fault *out;
} collector;

static void add(collector *c, int kind, int place, int item)
{
    if (c->count < c->room)
        c->out[c->count] = (vent_fault){
            .kind = kind,
            .place = place,
            .item = item,
            .low = kinds[kind].size.source_low,
            .high = kinds[kind].size.source_high,
        };
    ++c->count;
}

/* The odds of a kind are shared among its places. */
static void share_odds(collector *c, int kind)
{
    for (size_t i = c->first; i < c->count && i < c->room; ++i)
        c->out[i].odds = kinds[kind].odds / (double)(c->count - c->first);
    c->first = c->count;
}

static void add_nodes(collector *c, int kind, int node_kind)
{
    for (int i = 0; i < vent_network_node_count(c->d->design); ++i)
        if (vent_network_node_kind(c->d->design, i) == node_kind &&
            (kind != VENT_FAULT_JOINT_LEAK || is_joint(c->d->design, i)))
            add(c, kind, i, 0);
}

static void add_water(collector *c)
{
    const vent_network *design = c->d->design;
    for (int run = 0; run < vent_network_run_count(design); ++run) {
        if (leaves_pit(design, run))
            add(c, VENT_FAULT_WATER, run, -1);
        if (vent_network_run_is_pipe(design, run))
            add(c, VENT_FAULT_WATER, run, 0);
    }
}

static void add_fans(collector *c, int kind)
{
    const vent_network *design = c->d->design;
    for (int run = 0; run < vent_network_run_count(design); ++run)
        for (int item = 0; has_observable(design, VENT_OBSERVABLE_LOSS, run, item); ++item)
            if (has_observable(design, VENT_OBSERVABLE_FAN_FLOW, run, item))
                add(c, kind, run, item);
}

static void add_readings(collector *c, int kind)
{
    const vent_diagnosis *d = c->d;
    int pressures = 0;
    for (int i = 0; i < d->reading_count; ++i) {
        vent_observable o = d->readings[i].observable;
        pressures += is_gauge_pressure(o.kind);
        if (kind == VENT_FAULT_SIGN || has_other_place(d, i))
            add(c, kind, i, 0);
    }
    if (kind == VENT_FAULT_SIGN && pressures > 1)
        add(c, kind, VENT_SIGN_ALL_PRESSURES, 0);
    if (kind == VENT_FAULT_SIGN && pressures > 0 && pressures < d->reading_count)
        add(c, kind, VENT_SIGN_ALL_READINGS, 0);
}

static void add_kind(collector *c, int kind)
{
    switch (kinds[kind].sits) {
    case NOWHERE:
        add(c, kind, 0, 0);
        break;
    case AT_SUCTION_POINT:
        add_nodes(c, kind, VENT_NODE_SUCTION_POINT);
        break;
    case AT_JUNCTION:
        add_nodes(c, kind, VENT_NODE_JUNCTION);
        break;
    case AT_DISCHARGE:
        add_nodes(c, kind, VENT_NODE_DISCHARGE);
        break;
    case IN_RUN:
        add_water(c);
        break;
    case AT_FAN:
        if (kind != VENT_FAULT_FAN_WRONG || c->d->fan_count > 0)
            add_fans(c, kind);
        break;
    default:
        add_readings(c, kind);
    }
    share_odds(c, kind);
}

size_t vent_diagnosis_usual(const vent_diagnosis *diagnosis, size_t room, vent_fault *faults,
                            vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(diagnosis) || (room > 0 && !VENT__POINTER(faults)))
        return 0;
    collector c = {.d = diagnosis, .room = room, .out = faults};
    for (int kind = VENT_FAULT_NONE; kind < VENT_FAULT_END; ++kind)
        add_kind(&c, kind);
    return c.count;
}
