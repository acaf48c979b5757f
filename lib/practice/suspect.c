/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The design with the faults of a hypothesis put in, each of no size: what they do is a setting of
 * parameters of this one network. */
#include <stdio.h>
#include <stdlib.h>

#include "base/memory.h"
#include "practice/diagnosing.h"

/* Coefficient of a pipe of which water leaves a share free: the stream is led into the narrower section and
 * spreads behind it (Borda and Carnot; 0.5 (1 - f) of the velocity pressure there for leading it in). */
static double water_coefficient(double free_share)
{
    double narrow = 1 / free_share;
    return 0.5 * (1 - free_share) * narrow * narrow + (narrow - 1) * (narrow - 1);
}

/* ---- where fittings are inserted ------------------------------------------------------------------- */

static int by_run_and_item(const void *a, const void *b)
{
    const int *left = a, *right = b;
    if (left[0] != right[0])
        return (left[0] > right[0]) - (left[0] < right[0]);
    return (left[1] > right[1]) - (left[1] < right[1]);
}

static bool plan_insertions(vent__suspect *s, size_t faults, const vent_fault *fault)
{
    s->insertion = calloc(2 * faults + 2, sizeof *s->insertion);
    if (!s->insertion)
        return false;
    size_t n = 0;
    for (size_t i = 0; i < faults; ++i)
        if (fault[i].kind == VENT_FAULT_WATER) {
            s->insertion[2 * n] = fault[i].place;
            s->insertion[2 * n++ + 1] = fault[i].item;
        }
    qsort(s->insertion, n, 2 * sizeof *s->insertion, by_run_and_item);
    for (size_t i = 0; i < n; ++i)
        if (i == 0 || by_run_and_item(&s->insertion[2 * i], &s->insertion[2 * i - 2]) != 0) {
            s->insertion[2 * s->insertions] = s->insertion[2 * i];
            s->insertion[2 * s->insertions++ + 1] = s->insertion[2 * i + 1];
        }
    return true;
}

/* Number of an item of the design in the suspect network: one more for every fitting before it, two for
 * one at the start. */
static int moved_item(const vent__suspect *s, int run, int item)
{
    int moved = item;
    for (size_t i = 0; i < s->insertions; ++i)
        if (s->insertion[2 * i] == run && s->insertion[2 * i + 1] < item)
            moved += s->insertion[2 * i + 1] < 0 ? 2 : 1;
    return moved;
}

static bool begins_with_fitting(const vent__suspect *s, int run)
{
    return moved_item(s, run, 0) > 0;
}

/* The fitting that was inserted behind an item. */
static int inserted_item(const vent__suspect *s, int run, int item)
{
    return item < 0 ? 1 : moved_item(s, run, item) + 1;
}

vent_observable vent__moved(const vent__suspect *s, vent_observable o)
{
    if (o.kind >= VENT_OBSERVABLE_LOSS)
        o.item = moved_item(s, o.place, o.item);
    /* A tap where the pipe starts sits in the pipe: behind the water in the pit. */
    if (o.kind == VENT_OBSERVABLE_INLET_STATIC_PRESSURE && begins_with_fitting(s, o.place)) {
        o.kind = VENT_OBSERVABLE_STATIC_PRESSURE;
        o.item = 1;
    }
    return o;
}

static vent_parameter moved_parameter(const vent__suspect *s, vent_parameter p)
{
    if (p.kind >= VENT_PARAMETER_LENGTH)
        p.item = moved_item(s, p.place, p.item);
    return p;
}

static bool insert_fittings(vent__suspect *s, vent_error *err)
{
    vent_fitting nothing = vent_fitting_constant(0, 0, err);
    for (size_t i = s->insertions; i-- > 0;) /* from the back, so that numbers before it hold */
        vent_network_insert_fitting(s->network, s->insertion[2 * i], s->insertion[2 * i + 1],
                                    nothing, 1, err);
    return !vent__failed(err);
}

/* ---- causes ------------------------------------------------------------------------------------------ */

static void touch(vent__suspect *s, vent__cause *c, vent_parameter p, vent_error *err)
{
    int k = c->touched++;
    c->at[k] = p;
    c->healthy[k] = vent_network_get(s->network, p, err);
    c->input[k] = -1;
    for (size_t j = 0; j < s->n; ++j)
        if (vent__same_parameter(s->doubt[j].parameter, p))
            c->input[k] = (int)j;
}

static void touch_part(vent__suspect *s, vent__cause *c, int kind, int place, int item, int slot,
                       vent_error *err)
{
    touch(s, c, vent_network_parameter(s->network, kind, place, item, slot, err), err);
}

static void touch_leak(vent__suspect *s, vent__cause *c, vent_error *err)
{
    char name[VENT__NAME_ROOM];
    snprintf(name, sizeof name, "possible leak at node %d", c->fault.place);
    vent_parameter gas =
        vent_network_parameter(s->network, VENT_PARAMETER_SOIL_GAS_TEMPERATURE, 0, 0, 0, err);
    vent_opening none = vent_opening_to(VENT_SURROUNDINGS_ROOM, 0, VENT_SHARP_EDGED_DISCHARGE, err);
    int leak = vent_network_leak(s->network, name, c->fault.place, none,
                                 vent_network_get(s->network, gas, err), err);
    touch_part(s, c, VENT_PARAMETER_AREA, leak, 0, 0, err);
}

static void touch_soil(vent__suspect *s, vent__cause *c, vent_error *err)
{
    vent_parameter_range range = {.name = ""};
    touch_part(s, c, VENT_PARAMETER_SOIL, c->fault.place, 0, 0, err);
    vent_network_parameter_range(s->network, c->at[0], &range);
    if (strcmp(range.name, "c") != 0) /* a two-term law: both terms grow */
        touch_part(s, c, VENT_PARAMETER_SOIL, c->fault.place, 0, 1, err);
}

/* The fan has a resistance to stand still with, but runs. */
static void touch_stop(vent__suspect *s, vent__cause *c, int item, vent_error *err)
{
    int run = c->fault.place;
    vent_network_fan_off(s->network, run, item, vent_fitting_constant(c->fault.low, 0, err), err);
    vent_network_fan_on(s->network, run, item, err);
    touch_part(s, c, VENT_PARAMETER_RUNNING, run, item, 0, err);
    touch_part(s, c, VENT_PARAMETER_FITTING, run, item, 0, err);
}

static void install(vent__suspect *s, vent__cause *c, vent_error *err)
{
    const vent_fault *f = &c->fault;
    bool of_item = f->kind == VENT_FAULT_WATER || f->kind == VENT_FAULT_FAN_WEAK ||
                   f->kind == VENT_FAULT_FAN_STOPPED;
    int item = of_item && f->item >= 0 ? moved_item(s, f->place, f->item) : 0;
    switch (f->kind) {
    case VENT_FAULT_SLAB_LEAK:
    case VENT_FAULT_JOINT_LEAK:
        touch_leak(s, c, err);
        break;
    case VENT_FAULT_TERMINATION:
        touch_part(s, c, VENT_PARAMETER_TERMINATION, f->place, 0, VENT_TERMINATION_BLOCKED, err);
        break;
    case VENT_FAULT_WATER:
        touch_part(s, c, VENT_PARAMETER_FITTING, f->place, inserted_item(s, f->place, f->item), 0,
                   err);
        break;
    case VENT_FAULT_FAN_STOPPED:
        touch_stop(s, c, item, err);
        break;
    case VENT_FAULT_FAN_WEAK:
        touch_part(s, c, VENT_PARAMETER_PRESSURE_FACTOR, f->place, item, 0, err);
        break;
    case VENT_FAULT_SOIL_TIGHT:
        touch_soil(s, c, err);
        break;
    default: /* touches no number */
        break;
    }
}

/* Value of the k-th parameter a fault touches, at a size. */
static double touched_value(const vent__cause *c, int k, double size)
{
    switch (c->fault.kind) {
    case VENT_FAULT_TERMINATION:
        return fmax(c->healthy[k], 1 - size); /* what the design says is blocked, stays blocked */
    case VENT_FAULT_WATER:
        return water_coefficient(size);
    case VENT_FAULT_FAN_STOPPED:
        return k == 0 ? 0 : size;
    case VENT_FAULT_FAN_WEAK:
        return c->healthy[k] * size;
    case VENT_FAULT_SOIL_TIGHT: /* Q = C dP^n, or dP = a Q + b Q^2 with Q over the share */
        return c->touched == 1 ? c->healthy[k] * size
                               : c->healthy[k] / (k == 0 ? size : size * size);
    default:
        return size;
    }
}

bool vent__suspect_heed(vent__suspect *s, const vent_error *err)
{
    s->no_memory |= err->status == VENT_E_MEMORY;
    return err->status == VENT_OK;
}

static bool set_touched(vent__suspect *s, const vent__cause *c, int k, double value)
{
    if (c->input[k] >= 0) {
        s->doubt[c->input[k]].base = value;
        return true;
    }
    vent_error none = VENT_NO_ERROR;
    vent_network_set(s->network, c->at[k], value, &none);
    return vent__suspect_heed(s, &none);
}

static bool is_pressure(const vent__read *r)
{
    return strcmp(vent_observable_unit(r->observable), "Pa") == 0;
}

static void turn_signs(vent__suspect *s, int reading, double sign)
{
    for (size_t i = 0; i < s->m; ++i)
        if (reading == (int)i || reading == VENT_SIGN_ALL_READINGS ||
            (reading == VENT_SIGN_ALL_PRESSURES && is_pressure(&s->reading[i])))
            s->sign[i] = sign;
}

static bool change_fan(vent__suspect *s, const vent__cause *c, int number)
{
    vent_error none = VENT_NO_ERROR;
    vent_network *other = vent_network_copy(s->network, &none);
    vent_network_set_fan(other, c->fault.place, moved_item(s, c->fault.place, c->fault.item),
                         s->fan[number], &none);
    if (!vent__suspect_heed(s, &none)) {
        vent_network_free(other);
        return false;
    }
    if (s->network != s->sound)
        vent_network_free(s->network);
    s->network = other;
    return true;
}

bool vent__suspect_enter(vent__suspect *s, const vent__cause *c, double size)
{
    const vent_fault *f = &c->fault;
    bool entered = true;
    for (int k = 0; k < c->touched; ++k)
        entered = set_touched(s, c, k, touched_value(c, k, size)) && entered;
    if (f->kind == VENT_FAULT_FAN_WRONG)
        entered = change_fan(s, c, (int)size);
    if (f->kind == VENT_FAULT_PLACE)
        s->observable[f->place] = s->place[f->place][(int)size];
    if (f->kind == VENT_FAULT_SIGN)
        turn_signs(s, f->place, -1);
    return entered;
}

void vent__suspect_free(vent__suspect *s)
{
    s->free = 0;
    for (size_t k = 0; k < s->causes; ++k)
        if (vent__fault_has_size(s->cause[k].fault.kind))
            s->freed[s->free++] = k;
}

bool vent__suspect_enter_listed(vent__suspect *s, const double *number)
{
    bool entered = true;
    for (size_t k = 0; k < s->causes; ++k)
        if (!vent__fault_has_size(s->cause[k].fault.kind))
            entered = vent__suspect_enter(s, &s->cause[k], number[k]) && entered;
    return entered;
}

void vent__suspect_leave(vent__suspect *s, const vent__cause *c)
{
    const vent_fault *f = &c->fault;
    if (f->kind == VENT_FAULT_FAN_WRONG && s->network != s->sound) {
        vent_network_free(s->network);
        s->network = s->sound;
    }
    for (int k = 0; k < c->touched; ++k)
        set_touched(s, c, k, c->healthy[k]);
    if (f->kind == VENT_FAULT_PLACE)
        s->observable[f->place] = s->reading[f->place].observable;
    if (f->kind == VENT_FAULT_SIGN)
        turn_signs(s, f->place, 1);
}

/* ---- inputs ------------------------------------------------------------------------------------------- */

static vent__doubt doubt_of(const vent__suspect *s, const vent_diagnosis *job, size_t j,
                            vent_error *err)
{
    const vent_input *input = &job->inputs[j];
    vent__doubt d = {.parameter = moved_parameter(s, input->parameter),
                     .uncertainty = input->uncertainty,
                     .shape = input->shape};
    vent_parameter_range range = {0};
    d.healthy = d.base = vent_network_get(job->design, input->parameter, err);
    vent_network_parameter_range(job->design, input->parameter, &range);
    d.low = range.low;
    d.high = range.high;
    d.spread = d.healthy == 0 ? 0 : fabs(d.uncertainty / d.healthy);
    if (d.shape == VENT_SHAPE_LOG_NORMAL)
        d.spread = sqrt(log1p(d.spread * d.spread));
    return d;
}

double vent__doubt_value(const vent__doubt *d, double x)
{
    return d->shape == VENT_SHAPE_LOG_NORMAL ? d->base * exp(d->spread * (x - 0.5 * d->spread))
           : d->healthy == 0                 ? d->base + d->uncertainty * x
                                             : d->base * (1 + d->spread * x);
}

bool vent__suspect_put(vent__suspect *s, const double *x, vent_error *err)
{
    bool put = true;
    for (size_t j = 0; put && j < s->n; ++j) {
        const vent__doubt *d = &s->doubt[j];
        double value = fmin(fmax(vent__doubt_value(d, x[j]), d->low), d->high);
        put = vent_network_set(s->network, d->parameter, value, err);
    }
    return put;
}

/* ---- begin and end -------------------------------------------------------------------------------------- */

static bool take_readings(vent__suspect *s, const vent_diagnosis *job)
{
    for (size_t i = 0; i < s->m; ++i) {
        s->reading[i] = job->readings[i];
        s->reading[i].observable = s->observable[i] = vent__moved(s, job->readings[i].observable);
        s->sign[i] = 1;
        size_t room = vent__readable(job->design, 0, NULL);
        s->place[i] = calloc(room + 1, sizeof **s->place);
        if (!s->place[i])
            return false;
        s->places[i] =
            vent__other_places(job->design, job->readings[i].observable, room, s->place[i]);
        for (size_t k = 0; k < s->places[i]; ++k)
            s->place[i][k] = vent__moved(s, s->place[i][k]);
    }
    return true;
}

static bool allocate(vent__suspect *s)
{
    size_t m = s->m + 1, n = s->n + 1;
    s->cause = calloc(s->causes + 1, sizeof *s->cause);
    s->doubt = calloc(n, sizeof *s->doubt);
    s->parameter = calloc(n, sizeof *s->parameter);
    s->reading = calloc(m, sizeof *s->reading);
    s->observable = calloc(m, sizeof *s->observable);
    s->place = calloc(m, sizeof(vent_observable *));
    s->places = calloc(m, sizeof *s->places);
    size_t all = n + VENT__MOST_AT_ONCE;
    s->x = calloc(2 * all + 6 * m + m * all + m * n + 2 * m * m, sizeof *s->x);
    if (!s->x)
        return false;
    s->before = s->x + all;
    s->computed = s->before + all;
    s->best = s->computed + m;
    s->residual = s->best + m;
    s->sign = s->residual + m;
    s->straight = s->sign + m;
    s->solved = s->straight + m;
    s->jacobian = s->solved + m;
    s->exact = s->jacobian + m * all;
    s->matrix = s->exact + m * n;
    s->factor = s->matrix + m * m;
    return s->cause && s->doubt && s->parameter && s->reading && s->observable && s->place &&
           s->places;
}

bool vent__suspect_begin(vent__suspect *s, const vent_diagnosis *job, size_t faults,
                         const vent_fault *fault, vent_error *err)
{
    *s = (vent__suspect){.m = (size_t)job->reading_count,
                         .n = (size_t)job->input_count,
                         .causes = faults,
                         .hopeless = INFINITY,
                         .fan = (vent_fan *const *)job->fans,
                         .fans = (size_t)job->fan_count};
    if (!allocate(s) || !plan_insertions(s, faults, fault) || !take_readings(s, job))
        return vent__no_memory(err, "vent_diagnosis_solve");
    s->network = s->sound = vent_network_copy(job->design, err);
    if (!s->network || !insert_fittings(s, err))
        return false;
    for (size_t j = 0; j < s->n; ++j) {
        s->doubt[j] = doubt_of(s, job, j, err);
        s->parameter[j] = s->doubt[j].parameter;
    }
    for (size_t i = 0; i < faults && !vent__failed(err); ++i) {
        s->cause[i].fault = fault[i];
        install(s, &s->cause[i], err);
    }
    s->workspace = vent_workspace_new(s->network, err);
    s->solution = vent_network_solve(s->network, s->workspace, err);
    return s->solution != NULL;
}

void vent__suspect_end(vent__suspect *s)
{
    if (s->network != s->sound)
        vent_network_free(s->network);
    vent_network_free(s->sound);
    vent_workspace_free(s->workspace);
    vent_solution_free(s->solution);
    for (size_t i = 0; s->place && i < s->m; ++i)
        free(s->place[i]);
    free(s->cause);
    free(s->doubt);
    free(s->parameter);
    free(s->reading);
    free(s->observable);
    free(s->place);
    free(s->places);
    free(s->insertion);
    free(s->x);
}
