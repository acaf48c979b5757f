/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Many cases of one network. Packets of sixteen go through the lanes; what does not come to rest there
 * goes to the solver of single cases, and so does every network whose laws the lanes do not hold. */
#include <ventstack/many.h>

#include <stdlib.h>
#include <string.h>
#include <ventstack/units.h>

#include "base/fail.h"
#include "base/memory.h"
#include "network/many_inputs.h"
#include "network/observable.h"
#include "network/state.h"
#include "numeric/widest.h"

_Static_assert(sizeof(vent_varied) == 40, "vent_varied is frozen");
_Static_assert(sizeof(vent_observed) == 40, "vent_observed is frozen");

/* ---- what is asked for ---------------------------------------------------------------------- */

typedef struct request {
    const vent_network *network;
    size_t cases, inputs, outputs;
    const vent_varied *varied;
    const vent_observed *observed;
    int32_t *status;
    const char *function;
} request;

/* The bytes that an array of strided elements reaches over. */
typedef struct reach {
    uintptr_t low, high; /* first byte, and one past the last */
    uintptr_t pace;      /* bytes from one element to the next */
    uintptr_t first;
} reach;

static reach reach_of(const void *array, ptrdiff_t stride, size_t count, size_t size)
{
    uintptr_t first = (uintptr_t)array;
    uintptr_t pace = (uintptr_t)(stride < 0 ? -stride : stride) * size;
    uintptr_t length = pace * (count - 1);
    uintptr_t low = stride < 0 ? first - length : first;
    return (reach){.low = low, .high = low + length + size, .pace = pace, .first = first};
}

static uintptr_t common_divisor(uintptr_t a, uintptr_t b)
{
    while (b != 0) {
        uintptr_t rest = a % b;
        a = b;
        b = rest;
    }
    return a;
}

/* Whether elements of two arrays may share bytes: columns of one table do not, though their reaches
 * overlap. */
static bool overlap(reach a, reach b)
{
    const uintptr_t size = sizeof(double);
    if (a.high <= b.low || b.high <= a.low)
        return false;
    uintptr_t pace = common_divisor(a.pace, b.pace);
    uintptr_t apart = a.first > b.first ? a.first - b.first : b.first - a.first;
    if (pace == 0)
        return apart < size;
    apart %= pace;
    return apart < size || pace - apart < size;
}

static bool refuse(vent_error *err, const request *r, const char *argument, size_t index,
                   const char *what)
{
    return vent__fail(err, VENT_E_ARGUMENT, r->function, argument, (int64_t)index, NAN, NAN, NAN,
                      "%s: %s[%zu] %s", r->function, argument, index, what);
}

static bool check_output(const request *r, size_t i, vent_error *err)
{
    const vent_observed *out = &r->observed[i];
    if (!out->value)
        return refuse(err, r, "observed", i, "has no array (NULL)");
    if (out->stride == 0 && r->cases > 1)
        return refuse(err, r, "observed", i,
                      "has stride 0: all cases would be written to one place");
    reach own = reach_of(out->value, out->stride, r->cases, sizeof(double));
    for (size_t j = 0; j < r->inputs; ++j)
        if (overlap(own,
                    reach_of(r->varied[j].value, r->varied[j].stride, r->cases, sizeof(double))))
            return refuse(err, r, "observed", i, "overlaps the array of a varied parameter");
    for (size_t j = 0; j < i; ++j)
        if (overlap(own, reach_of(r->observed[j].value, r->observed[j].stride, r->cases,
                                  sizeof(double))))
            return refuse(err, r, "observed", i, "overlaps the array of another observable");
    if (r->status && overlap(own, reach_of(r->status, 1, r->cases, sizeof(int32_t))))
        return refuse(err, r, "observed", i, "overlaps the array of the status");
    return true;
}

/* Arrays and strides, before anything is written. */
static bool check_arrays(const request *r, vent_error *err)
{
    if (!vent__check_pointer(err, r->function, "network", r->network) ||
        (r->inputs > 0 && !vent__check_pointer(err, r->function, "varied", r->varied)) ||
        (r->outputs > 0 && !vent__check_pointer(err, r->function, "observed", r->observed)))
        return false;
    if (r->cases == 0)
        return true;
    for (size_t i = 0; i < r->inputs; ++i)
        if (!r->varied[i].value)
            return refuse(err, r, "varied", i, "has no array (NULL)");
    for (size_t i = 0; i < r->outputs; ++i)
        if (!check_output(r, i, err))
            return false;
    return true;
}

/* ---- what comes out -------------------------------------------------------------------------- */

/* An observable that follows from flows and pressures alone is read from the rows. */
enum { OF_SOLUTION, OF_ROWS };

static int source_of(const vent_observable *o)
{
    switch (o->kind) {
    case VENT_OBSERVABLE_DISCHARGE_FLOW:
    case VENT_OBSERVABLE_PRESSURE:
    case VENT_OBSERVABLE_MASS_FLOW:
    case VENT_OBSERVABLE_FLOW:
    case VENT_OBSERVABLE_STANDARD_FLOW:
    case VENT_OBSERVABLE_DENSITY:
        return OF_ROWS;
    default:
        return OF_SOLUTION;
    }
}

static double node_pressure(const vent__batch *batch, int node, int lane)
{
    const vent__packet *p = &batch->packet;
    int leaving = batch->base->node[node].leaving;
    double total =
        leaving < 0 ? p->wind.lane[lane] : p->found_start[p->program->position[leaving]].lane[lane];
    return total - batch->building_pressure.lane[lane];
}

static double from_rows(const vent__batch *batch, const vent_observable *o, int lane)
{
    const vent__packet *p = &batch->packet;
    if (o->kind == VENT_OBSERVABLE_PRESSURE)
        return node_pressure(batch, o->place, lane);
    int k = o->kind == VENT_OBSERVABLE_DISCHARGE_FLOW ? p->program->runs - 1
                                                      : p->program->position[o->place];
    double flow = p->found_flow[k].lane[lane], density = p->density[k].lane[lane];
    switch (o->kind) {
    case VENT_OBSERVABLE_MASS_FLOW:
        return flow;
    case VENT_OBSERVABLE_STANDARD_FLOW:
        return flow / VENT_STANDARD_DENSITY;
    case VENT_OBSERVABLE_DENSITY:
        return density;
    default:
        return flow / density;
    }
}

typedef struct work {
    const request *request;
    vent__batch batch;
    vent_solution *solution; /* to read what the rows do not hold; NULL where they hold all */
    bool by_rows;            /* they do */
} work;

static double *place_of(const vent_observed *out, size_t number)
{
    return &out->value[(ptrdiff_t)number * out->stride];
}

static void write_nothing(const request *r, size_t number)
{
    for (size_t i = 0; i < r->outputs; ++i)
        *place_of(&r->observed[i], number) = NAN;
}

static void write_rows(const work *w, size_t first, int lane)
{
    const request *r = w->request;
    for (size_t i = 0; i < r->outputs; ++i)
        *place_of(&r->observed[i], first + (size_t)lane) =
            from_rows(&w->batch, &r->observed[i].observable, lane);
}

static void write_solution(const work *w, size_t number)
{
    const request *r = w->request;
    for (size_t i = 0; i < r->outputs; ++i)
        *place_of(&r->observed[i], number) = vent__observe(w->solution, &r->observed[i].observable);
}

/* ---- the cases ------------------------------------------------------------------------------- */

/* A case that the lanes did not solve, by the solver of single cases. */
static bool solve_alone(work *w, int lane, vent_error *err)
{
    vent__batch *batch = &w->batch;
    vent_convergence convergence;
    if (!vent__batch_store(batch, lane, err) ||
        !vent__solve(batch->workspace, batch->model, batch->function, &convergence, err))
        return false;
    vent__take_solution(batch->workspace, &convergence, w->solution);
    return true;
}

/* A case the lanes solved, as a solution. */
static bool take_lane(work *w, int lane, vent_error *err)
{
    vent__batch *batch = &w->batch;
    vent_workspace *ws = batch->workspace;
    for (int k = 0; k < ws->program->runs; ++k)
        ws->settled[k] = batch->packet.found_flow[k].lane[lane];
    if (!vent__batch_store(batch, lane, err))
        return false;
    if (!vent__linearise(ws, batch->model, ws->settled))
        return vent__fail(err, VENT_E_MEMORY, batch->function, "", -1, NAN, NAN, NAN,
                          "%s: no memory", batch->function);
    vent__take_solution(ws, &(vent_convergence){0}, w->solution);
    return true;
}

/* Brings out one case of a packet; false where it failed. */
static bool finish(work *w, size_t first, int lane, bool alone, vent_error *err)
{
    bool found = !alone && w->batch.packet.is_found.lane[lane] > 0;
    if (err->status == VENT_OK && found && w->by_rows) {
        write_rows(w, first, lane);
        return true;
    }
    if (err->status == VENT_OK && (found ? take_lane(w, lane, err) : solve_alone(w, lane, err))) {
        write_solution(w, first + (size_t)lane);
        return true;
    }
    write_nothing(w->request, first + (size_t)lane);
    err->index = (int64_t)(first + (size_t)lane);
    return false;
}

static size_t run_packet(work *w, size_t first, int count, vent_error *err)
{
    vent_error error[VENT__PACK];
    bool alone[VENT__PACK];
    size_t failed = 0;
    vent__batch_load(&w->batch, first, count, error, alone);
    if (w->batch.in_lanes)
        VENT__WIDEST(vent__packet_solve)(&w->batch.packet);
    for (int lane = 0; lane < count; ++lane) {
        bool good = finish(w, first, lane, alone[lane], &error[lane]);
        if (w->request->status)
            w->request->status[first + (size_t)lane] = error[lane].status;
        if (!good && failed++ == 0 && err && err->status == VENT_OK)
            *err = error[lane];
    }
    return failed;
}

static size_t run(work *w, vent_error *err)
{
    size_t failed = 0, cases = w->request->cases;
    for (size_t first = 0; first < cases; first += VENT__PACK) {
        size_t left = cases - first;
        failed += run_packet(w, first, left < VENT__PACK ? (int)left : VENT__PACK, err);
    }
    return failed;
}

/* ---- begin and end --------------------------------------------------------------------------- */

static bool begin(work *w, const vent_solution *start, vent_error *err)
{
    const request *r = w->request;
    for (size_t i = 0; i < r->outputs; ++i) {
        const vent_observable *o = &r->observed[i].observable;
        if (!vent__observable_check(r->network->model, o, r->function, err))
            return false;
        w->by_rows &= source_of(o) == OF_ROWS;
    }
    if (!vent__batch_begin(&w->batch, r->network, r->inputs, r->varied, r->function, err))
        return false;
    if (start && start->program->shape != r->network->model->shape)
        return vent__fail(err, VENT_E_STALE, r->function, "start", -1, NAN, NAN, NAN,
                          "%s: start is a solution of a network of another shape", r->function);
    w->batch.packet.first = start ? start->flow : NULL;
    w->solution = vent__solution_new(w->batch.workspace->program);
    return w->solution || vent__fail(err, VENT_E_MEMORY, r->function, "", -1, NAN, NAN, NAN,
                                     "%s: no memory", r->function);
}

/* Nothing can be solved: so says every case. */
static size_t fail_all(const request *r, int32_t status)
{
    for (size_t i = 0; i < r->cases; ++i) {
        write_nothing(r, i);
        if (r->status)
            r->status[i] = status;
    }
    return r->cases;
}

static size_t solve_many(const request *r, const vent_solution *start, vent_error *err)
{
    vent_error own = VENT_NO_ERROR, *record = err ? err : &own;
    if (!check_arrays(r, record))
        return r->cases;
    work w = {.request = r, .by_rows = true};
    size_t failed = begin(&w, start, record) ? run(&w, record) : fail_all(r, record->status);
    vent_solution_free(w.solution);
    vent__batch_end(&w.batch);
    return failed;
}

size_t vent_network_solve_many(const vent_network *network, size_t cases, size_t inputs,
                               const vent_varied *varied, size_t outputs,
                               const vent_observed *observed, int32_t *status, vent_error *err)
{
    const request r = {network, cases, inputs, outputs, varied, observed, status, __func__};
    return vent__failed(err) ? cases : solve_many(&r, NULL, err);
}

size_t vent_network_solve_many_from(const vent_network *network, const vent_solution *start,
                                    size_t cases, size_t inputs, const vent_varied *varied,
                                    size_t outputs, const vent_observed *observed, int32_t *status,
                                    vent_error *err)
{
    const request r = {network, cases, inputs, outputs, varied, observed, status, __func__};
    if (vent__failed(err) || !VENT__POINTER(start))
        return cases;
    return solve_many(&r, start, err);
}
