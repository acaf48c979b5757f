/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading the answer of a diagnosis: findings, what would part them, the network of one. */
#include <stdlib.h>

#include "numeric/chance.h"
#include "practice/diagnosing.h"

void vent_diagnosed_free(vent_diagnosed *diagnosed)
{
    if (!diagnosed)
        return;
    for (int i = 0; i < diagnosed->count; ++i) {
        free(diagnosed->hypothesis[i].trial);
        free(diagnosed->hypothesis[i].computed);
    }
    free(diagnosed->hypothesis);
    free(diagnosed->finding);
    vent_solution_free(diagnosed->sound);
    vent_diagnosis_free(diagnosed->job);
    free(diagnosed);
}

size_t vent_diagnosed_count(const vent_diagnosed *diagnosed)
{
    return diagnosed ? (size_t)diagnosed->count : 0;
}

bool vent_diagnosed_finding(const vent_diagnosed *diagnosed, size_t rank, vent_finding *finding)
{
    if (!finding || rank >= vent_diagnosed_count(diagnosed))
        return false;
    *finding = diagnosed->finding[rank];
    return true;
}

int vent_diagnosed_at_bound(const vent_diagnosed *diagnosed, size_t rank, int fault)
{
    bool there = rank < vent_diagnosed_count(diagnosed) && fault >= 0 && fault < VENT__MOST_AT_ONCE;
    return there ? diagnosed->hypothesis[rank].at_bound[fault] : 0;
}

uint32_t vent_diagnosed_flags(const vent_diagnosed *diagnosed)
{
    return diagnosed ? diagnosed->flags : 0;
}

static bool is_sure(double probability)
{
    return probability >= VENT_DIAGNOSED_ODDS / (1 + VENT_DIAGNOSED_ODDS);
}

int vent_diagnosed_claim(const vent_diagnosed *diagnosed)
{
    if (!diagnosed || (diagnosed->flags & VENT_DIAGNOSED_UNEXPLAINED))
        return VENT_DIAGNOSED_OPEN;
    const vent_finding *f = diagnosed->finding;
    bool next = diagnosed->count > 1;
    if (is_sure(f[0].probability) &&
        (!next || f[0].evidence - f[1].evidence >= log(VENT_DIAGNOSED_ODDS)))
        return VENT_DIAGNOSED_TOLD;
    double group = 0;
    for (int i = 0; i < diagnosed->count; ++i)
        group += f[i].group == 0 ? f[i].probability : 0;
    return is_sure(group) ? VENT_DIAGNOSED_GROUP : VENT_DIAGNOSED_OPEN;
}

bool vent_diagnosed_residual(const vent_diagnosed *diagnosed, size_t rank, size_t reading,
                             vent_residual *residual)
{
    if (!residual || rank >= vent_diagnosed_count(diagnosed) ||
        reading >= (size_t)diagnosed->job->reading_count)
        return false;
    const vent__read *r = &diagnosed->job->readings[reading];
    double computed = diagnosed->hypothesis[rank].computed[reading];
    double off = (computed - r->value) / r->uncertainty;
    bool opposite = computed * r->value < 0 && fabs(r->value) > 3 * r->uncertainty &&
                    fabs(computed) > 3 * r->uncertainty;
    *residual = (vent_residual){.observable = r->observable,
                                .flags = (fabs(off) > 3 ? VENT_RESIDUAL_OUTLIER : 0u) |
                                         (opposite ? VENT_RESIDUAL_SIGN : 0u),
                                .reading = r->value,
                                .uncertainty = r->uncertainty,
                                .computed = computed,
                                .residual = off};
    return true;
}

vent_observable vent_diagnosed_place(const vent_diagnosed *diagnosed, size_t reading, int number)
{
    vent_observable none = {0};
    if (!diagnosed || reading >= (size_t)diagnosed->job->reading_count || number < 0)
        return none;
    const vent_diagnosis *job = diagnosed->job;
    size_t room = vent__readable(job->design, 0, NULL);
    vent_observable *places = calloc(room + 1, sizeof *places);
    if (!places)
        return none;
    size_t count = vent__other_places(job->design, job->readings[reading].observable, room, places);
    vent_observable place = (size_t)number < count ? places[number] : none;
    free(places);
    return place;
}

/* ---- what a finding expects ------------------------------------------------------------------------- */

/* A suspect with only the faults of one finding in it. */
static bool begin_with(vent__suspect *s, const vent_diagnosed *d, size_t rank, vent_error *err)
{
    const vent_finding *f = &d->finding[rank];
    return vent__suspect_begin(s, d->job, (size_t)f->faults, f->fault, err);
}

static void leave_all(vent__suspect *s)
{
    for (size_t k = s->causes; k-- > 0;)
        vent__suspect_leave(s, &s->cause[k]);
}

/* Mean and variance over the sizes: of the means, and the mean of the variances. */
static void add_trial(vent_reading *r, double weight, double mean, double variance, double *total)
{
    double before = *total, apart = mean - r->value;
    *total += weight;
    r->value += apart * weight / *total;
    r->uncertainty += (variance - r->uncertainty) * weight / *total +
                      apart * apart * weight * before / (*total * *total);
}

/* A trial as it was weighed: sizes entered, or where two were free, sought again from there. */
static double settle_trial(vent__suspect *s, const vent__trial *t)
{
    double square;
    if (s->causes == 1)
        return vent__suspect_enter(s, &s->cause[0], t->size[0]) ? vent__suspect_settle(s, &square)
                                                                : -INFINITY;
    vent__suspect_free(s);
    for (size_t k = 0; k < s->free; ++k)
        s->x[s->n + k] = t->deviate[s->freed[k]];
    return vent__suspect_enter_listed(s, t->size) ? vent__suspect_settle(s, &square) : -INFINITY;
}

/* What a finding expects of each candidate; its uncertainty leaves out the instrument. */
static bool expect(const vent_diagnosed *d, size_t rank, size_t n, const vent_candidate *candidates,
                   vent_reading *expected, const char *function, vent_error *err)
{
    static const double NEGLIGIBLE = 1e-3; /* weight of a size */
    const vent__hypothesis *h = &d->hypothesis[rank];
    vent__suspect s = {0};
    double mean, variance, *total = calloc(n + 1, sizeof *total);
    bool begun = total ? begin_with(&s, d, rank, err) : vent__no_memory(err, function);
    memset(expected, 0, n * sizeof *expected);
    for (int i = 0; begun && i < h->trials; ++i) {
        if (h->trial[i].weight < NEGLIGIBLE)
            continue;
        if (settle_trial(&s, &h->trial[i]) > -INFINITY)
            for (size_t k = 0; k < n; ++k)
                if (vent__suspect_expect(&s, vent__moved(&s, candidates[k].observable), &mean,
                                         &variance))
                    add_trial(&expected[k], h->trial[i].weight, mean, variance, &total[k]);
        leave_all(&s);
    }
    for (size_t k = 0; begun && k < n; ++k)
        expected[k] = total[k] > 0 ? vent_reading_stated(expected[k].value,
                                                         sqrt(fmax(0, expected[k].uncertainty)))
                                   : vent_reading_stated(NAN, NAN);
    begun = begun && (!s.no_memory || vent__no_memory(err, function));
    vent__suspect_end(&s);
    free(total);
    return begun;
}

/* ---- what to read next --------------------------------------------------------------------------------- */

static const double USUAL_PRESSURE = 1, USUAL_PRESSURE_SHARE = 0.01; /* Pa */
static const double USUAL_FLOW = 5e-4, USUAL_FLOW_SHARE = 0.05;      /* m3/s */

size_t vent_diagnosed_candidates(const vent_diagnosed *diagnosed, size_t room,
                                 vent_candidate *candidates)
{
    if (!diagnosed || (room > 0 && !candidates))
        return 0;
    vent_error own = VENT_NO_ERROR; /* only memory may be wanting */
    const vent_network *design = diagnosed->job->design;
    size_t count = vent__readable(design, 0, NULL);
    size_t n = room < count ? room : count;
    vent_observable *o = calloc(count + 1, sizeof *o);
    vent_reading *expected = calloc(count + 1, sizeof *expected);
    if (o && expected && n > 0) {
        vent__readable(design, count, o);
        for (size_t i = 0; i < n; ++i)
            candidates[i] = (vent_candidate){.observable = o[i]};
        expect(diagnosed, 0, n, candidates, expected, __func__, &own);
        for (size_t i = 0; i < n; ++i) {
            bool flow = o[i].kind == VENT_OBSERVABLE_FLOW;
            double value = isfinite(expected[i].value) ? expected[i].value : 0;
            candidates[i].uncertainty = flow ? hypot(USUAL_FLOW, USUAL_FLOW_SHARE * value)
                                             : hypot(USUAL_PRESSURE, USUAL_PRESSURE_SHARE * value);
        }
    }
    bool done = o && expected && own.status == VENT_OK;
    free(o);
    free(expected);
    return done ? count : 0;
}

static bool check_candidate(const vent_diagnosed *d, const vent_candidate *c, size_t i,
                            vent_error *err)
{
    const char *function = "vent_diagnosed_next";
    char name[VENT__NAME_ROOM] = "";
    vent_network_observable_name(d->job->design, c->observable, sizeof name, name);
    if (c->parameter.kind != VENT_PARAMETER_NONE)
        return vent__fail(err, VENT_E_ARGUMENT, function, "candidates", (int64_t)i, NAN, NAN, NAN,
                          "candidate %zu is a parameter: give what a reading would show", i);
    if (!*name)
        return vent__fail(err, VENT_E_NOT_FOUND, function, "candidates", (int64_t)i, NAN, NAN, NAN,
                          "candidate %zu: the design has no such place to read", i);
    if (!(c->uncertainty > 0) || !isfinite(c->uncertainty))
        return vent__fail(err, VENT_E_ARGUMENT, function, "candidates", (int64_t)i, c->uncertainty,
                          0, INFINITY,
                          "candidate %zu, %s: standard uncertainty %g must be above 0 and finite",
                          i, name, c->uncertainty);
    return true;
}

static bool check_rank(const vent_diagnosed *d, const char *argument, size_t rank, vent_error *err)
{
    return rank < (size_t)d->count ||
           vent__fail(err, VENT_E_NOT_FOUND, "vent_diagnosed_next", argument, (int64_t)rank,
                      (double)rank, 0, d->count - 1.0, "there is no finding %zu of %d", rank,
                      d->count);
}

static double apart(vent_reading a, vent_reading b, double instrument)
{
    double uncertainty = sqrt(a.uncertainty * a.uncertainty + b.uncertainty * b.uncertainty +
                              instrument * instrument);
    return fabs(a.value - b.value) / uncertainty;
}

int vent_diagnosed_next(const vent_diagnosed *diagnosed, size_t a, size_t b, size_t n,
                        const vent_candidate *candidates, vent_reading *expected, double *distance,
                        vent_error *err)
{
    for (size_t i = 0; distance && i < n; ++i)
        distance[i] = NAN;
    if (vent__failed(err) || !VENT__POINTER(diagnosed) || (n > 0 && !VENT__POINTER(candidates)) ||
        !check_rank(diagnosed, "a", a, err) || !check_rank(diagnosed, "b", b, err))
        return -1;
    for (size_t i = 0; i < n; ++i)
        if (!check_candidate(diagnosed, &candidates[i], i, err))
            return -1;
    vent_reading *both = calloc(2 * n + 1, sizeof *both);
    int best = -1;
    double most = 0;
    if (!both) {
        vent__no_memory(err, __func__);
        return -1;
    }
    vent_error own = VENT_NO_ERROR;
    vent_error *to = err ? err : &own;
    if (expect(diagnosed, a, n, candidates, both, __func__, to) &&
        expect(diagnosed, b, n, candidates, both + n, __func__, to))
        for (size_t i = 0; i < n; ++i) {
            double far = apart(both[i], both[n + i], candidates[i].uncertainty);
            if (distance)
                distance[i] = far;
            if (far > most || (best < 0 && far >= most)) {
                most = far;
                best = (int)i;
            }
        }
    if (expected && best >= 0)
        memcpy(expected, both, 2 * n * sizeof *both);
    free(both);
    return best;
}

/* ---- networks -------------------------------------------------------------------------------------------- */

vent_network *vent_diagnosed_network(const vent_diagnosed *diagnosed, size_t rank, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(diagnosed) || !check_rank(diagnosed, "rank", rank, err))
        return NULL;
    const vent__hypothesis *h = &diagnosed->hypothesis[rank];
    vent__suspect s = {0};
    vent_network *network = NULL;
    vent_error own = VENT_NO_ERROR;
    vent_error *to = err ? err : &own;
    if (begin_with(&s, diagnosed, rank, to) && h->trials > 0) {
        settle_trial(&s, &h->trial[h->best]);
        if (!s.no_memory || vent__no_memory(to, __func__))
            network = vent_network_copy(s.network, to);
    }
    vent__suspect_end(&s);
    return network;
}

/* ---- exercises ---------------------------------------------------------------------------------------------- */

static bool is_of_network(vent_fault f)
{
    return f.kind != VENT_FAULT_PLACE && f.kind != VENT_FAULT_SIGN;
}

static bool check_exercise(const vent_diagnosis *d, vent_fault *f, double size, size_t n,
                           const vent_observable *observables, const double *uncertainty,
                           vent_error *err)
{
    const char *function = "vent_diagnosis_exercise";
    vent_parameter_range range;
    bool sized = vent_fault_range(f->kind, &range);
    f->odds = 1;
    if (sized) { /* the bounds play no part here */
        f->low = range.source_low;
        f->high = range.source_high;
    }
    if (!vent__fault_check(d, *f, function, err))
        return false;
    if (!is_of_network(*f))
        return vent__fail(err, VENT_E_ARGUMENT, function, "fault.kind", -1, f->kind, NAN, NAN,
                          "a %s is no fault of the stack: give the reading so",
                          vent_fault_name(f->kind));
    if (sized && !vent__check_range(err, function, "size", range.unit, size, range.low, range.high))
        return false;
    if (f->kind == VENT_FAULT_FAN_WRONG &&
        !vent__check_range(err, function, "size", "", size, 0, d->fan_count - 1))
        return false;
    for (size_t i = 0; i < n; ++i) {
        if (vent_network_observable_name(d->design, observables[i], 0, NULL) == 0)
            return vent__fail(err, VENT_E_NOT_FOUND, function, "observables", (int64_t)i, NAN, NAN,
                              NAN, "reading %zu: the design has no such place to read", i);
        if (!vent__check_range(err, function, "uncertainty", "", uncertainty[i], 0, 1e300))
            return false;
    }
    return true;
}

static double deviate(uint64_t seed, size_t k)
{
    return vent__normal_quantile(vent__random_share(seed, k));
}

bool vent_diagnosis_exercise(const vent_diagnosis *diagnosis, vent_fault fault, double size,
                             uint64_t seed, size_t n, const vent_observable *observables,
                             const double *uncertainty, vent_reading *readings, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(diagnosis) ||
        (n > 0 &&
         (!VENT__POINTER(observables) || !VENT__POINTER(uncertainty) || !VENT__POINTER(readings))))
        return false;
    for (size_t i = 0; i < n; ++i)
        readings[i] = vent_reading_stated(NAN, NAN);
    vent_error own = VENT_NO_ERROR;
    vent_error *to = err ? err : &own;
    if (!check_exercise(diagnosis, &fault, size, n, observables, uncertainty, to))
        return false;
    vent__suspect s = {0};
    size_t faults = fault.kind != VENT_FAULT_NONE;
    bool begun = vent__suspect_begin(&s, diagnosis, faults, &fault, to);
    if (begun) {
        for (size_t k = 0; k < s.causes; ++k)
            vent__suspect_enter(&s, &s.cause[k], size);
        if (s.no_memory)
            vent__no_memory(to, __func__);
        for (size_t j = 0; j < s.n; ++j)
            s.x[j] = deviate(seed, j);
        if (vent__suspect_put(&s, s.x, to) &&
            vent_network_solve_into(s.network, s.workspace, s.solution, to))
            for (size_t i = 0; i < n; ++i)
                readings[i] = vent_reading_stated(
                    vent_solution_observe(s.solution, vent__moved(&s, observables[i]), to) +
                        uncertainty[i] * deviate(seed, s.n + i),
                    uncertainty[i]);
    }
    vent__suspect_end(&s);
    return !vent__failed(to);
}
