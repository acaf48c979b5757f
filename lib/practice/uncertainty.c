/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>
#include <string.h>
#include <ventstack/uncertainty.h>

#include "base/fail.h"
#include "base/text.h"
#include "numeric/least_squares.h"
#include "practice/known.h"
#include "practice/sampling.h"

enum { MOST_INPUTS = 1000 };

/* ---- what a network's parts carry ------------------------------------------------------------ */

typedef struct collector {
    const vent_network *network;
    size_t room, count;
    vent_input *inputs;
} collector;

static void collect(collector *c, vent_parameter parameter, double uncertainty, int shape,
                    int32_t source)
{
    if (parameter.kind == VENT_PARAMETER_NONE || !(uncertainty > 0))
        return;
    if (c->count < c->room)
        c->inputs[c->count] = (vent_input){parameter, uncertainty, shape, source};
    ++c->count;
}

static vent_parameter address(const collector *c, int kind, int place, int item, int slot)
{
    vent_error none = VENT_NO_ERROR;
    return vent_network_parameter(c->network, kind, place, item, slot, &none);
}

static void collect_pipe(collector *c, const vent_ledger_line *line)
{
    for (int slot = 0; slot < 2; ++slot) {
        vent_parameter bore = address(c, VENT_PARAMETER_BORE, line->run, line->item, slot);
        if (bore.kind != VENT_PARAMETER_NONE)
            collect(c, bore, vent_network_stated_uncertainty(c->network, bore, NULL),
                    VENT_SHAPE_NORMAL, line->source);
    }
    vent_parameter wall = address(c, VENT_PARAMETER_ROUGHNESS, line->run, line->item, 0);
    if (wall.kind == VENT_PARAMETER_NONE)
        return;
    int shape =
        vent_network_get(c->network, wall, NULL) > 0 ? VENT_SHAPE_LOG_NORMAL : VENT_SHAPE_NORMAL;
    collect(c, wall, vent_network_stated_uncertainty(c->network, wall, NULL), shape, line->source);
}

/* The factor on a coefficient, which is uncertain by the share that the coefficient is. */
static void collect_factor(collector *c, vent_parameter factor, double share, int32_t source)
{
    if (factor.kind == VENT_PARAMETER_NONE)
        return;
    double value = vent_network_get(c->network, factor, NULL);
    if (value > 0)
        collect(c, factor, value * share, VENT_SHAPE_LOG_NORMAL, source);
}

static void collect_fitting(collector *c, const vent_ledger_line *line)
{
    if (fabs(line->k) > 0)
        collect_factor(c, address(c, VENT_PARAMETER_FACTOR, line->run, line->item, 0),
                       line->k_uncertainty / fabs(line->k), line->source);
}

/* Its factor multiplies what is above a plain end's coefficient of 1. */
static void collect_termination(collector *c, const vent_ledger_line *line)
{
    if (line->k - 1 > 1e-9)
        collect_factor(c, address(c, VENT_PARAMETER_TERMINATION_FACTOR, line->node, 0, 0),
                       line->k_uncertainty / (line->k - 1), line->source);
}

/* One factor stands for all legs of a junction: its share is that of their losses together, at most
 * all of them. */
static void collect_junction(collector *c, const vent_solution *solution, size_t first)
{
    double loss = 0, spread = 0;
    vent_ledger_line line, leg;
    vent_solution_ledger_line(solution, first, &line);
    for (size_t i = 0; i < vent_solution_ledger_size(solution); ++i) {
        vent_solution_ledger_line(solution, i, &leg);
        if (leg.kind != VENT_LINE_JUNCTION || leg.node != line.node)
            continue;
        if (i < first)
            return; /* counted with its first leg */
        loss = hypot(loss, leg.k * leg.velocity_pressure);
        spread = hypot(spread, leg.k_uncertainty * leg.velocity_pressure);
    }
    if (loss > 0)
        collect_factor(c, address(c, VENT_PARAMETER_JUNCTION_FACTOR, line.node, 0, 0),
                       fmin(1, spread / loss), line.source);
}

static void collect_line(collector *c, const vent_solution *solution, size_t i)
{
    vent_ledger_line line;
    vent_solution_ledger_line(solution, i, &line);
    switch (line.kind) {
    case VENT_LINE_PIPE:
        collect_pipe(c, &line);
        break;
    case VENT_LINE_FITTING:
    case VENT_LINE_FAN: /* that is off */
        collect_fitting(c, &line);
        break;
    case VENT_LINE_JUNCTION:
        collect_junction(c, solution, i);
        break;
    case VENT_LINE_TERMINATION:
        collect_termination(c, &line);
        break;
    default:
        break;
    }
}

size_t vent_network_uncertainties(const vent_network *network, size_t room, vent_input *inputs,
                                  vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) || (room > 0 && !VENT__POINTER(inputs)))
        return 0;
    vent_solution *solution = vent_network_solve(network, NULL, err);
    collector c = {.network = network, .room = room, .inputs = inputs};
    for (size_t i = 0; i < vent_solution_ledger_size(solution); ++i)
        collect_line(&c, solution, i);
    vent_solution_free(solution);
    return c.count;
}

/* ---- the handle ----------------------------------------------------------------------------- */

static void name_of(const vent_network *network, vent_parameter parameter, char *name)
{
    name[0] = 0;
    vent_network_parameter_name(network, parameter, VENT__NAME_ROOM, name);
}

static bool check_input(const vent_network *network, const vent_input *inputs, size_t i,
                        vent_error *err)
{
    const vent_input *input = &inputs[i];
    char name[VENT__NAME_ROOM];
    double value = vent_network_get(network, input->parameter, err);
    if (vent__failed(err) || isnan(value))
        return false;
    name_of(network, input->parameter, name);
    if (!(input->uncertainty > 0) || !isfinite(input->uncertainty))
        return vent__fail(
            err, VENT_E_ARGUMENT, "vent_uncertainty_new", "inputs", (int64_t)i, input->uncertainty,
            0, INFINITY,
            "input %zu, %s: standard uncertainty %g must be above 0 and finite; leave "
            "out what is certain",
            i, name, input->uncertainty);
    if (input->shape < 0 || input->shape >= VENT_SHAPE_END)
        return vent__fail(err, VENT_E_ARGUMENT, "vent_uncertainty_new", "inputs", (int64_t)i,
                          input->shape, 0, VENT_SHAPE_END - 1, "input %zu, %s: no shape %d", i,
                          name, (int)input->shape);
    if (input->shape == VENT_SHAPE_LOG_NORMAL && !(value > 0))
        return vent__fail(err, VENT_E_ARGUMENT, "vent_uncertainty_new", "inputs", (int64_t)i, value,
                          0, INFINITY, "input %zu, %s: log-normal, but its value %g is not above 0",
                          i, name, value);
    for (size_t j = 0; j < i; ++j)
        if (memcmp(&inputs[j].parameter, &input->parameter, sizeof input->parameter) == 0)
            return vent__fail(err, VENT_E_DUPLICATE, "vent_uncertainty_new", "inputs", (int64_t)i,
                              NAN, NAN, NAN, "input %zu, %s: is input %zu already", i, name, j);
    return true;
}

static bool check_correlation(size_t n, const double *r, vent_error *err)
{
    for (size_t i = 0; i < n; ++i)
        for (size_t j = 0; j < n; ++j) {
            double value = r[i * n + j];
            bool sound = i == j ? fabs(value - 1) <= 1e-9
                                : fabs(value) <= 1 && fabs(value - r[j * n + i]) <= 1e-9;
            if (!sound)
                return vent__fail(
                    err, VENT_E_ARGUMENT, "vent_uncertainty_new", "correlation",
                    (int64_t)(i * n + j), value, -1, 1,
                    "correlation of inputs %zu and %zu is %g: must lie within -1 to 1, "
                    "be the same both ways, and 1 of an input with itself",
                    i, j, value);
        }
    double *l = malloc(n * n * sizeof *l);
    bool sound = l && vent__cholesky(n, r, l);
    bool is_memory = !l;
    free(l);
    if (is_memory)
        return vent__fail(err, VENT_E_MEMORY, "vent_uncertainty_new", "", -1, NAN, NAN, NAN,
                          "no memory for %zu correlations", n * n);
    return sound || vent__fail(err, VENT_E_ARGUMENT, "vent_uncertainty_new", "correlation", -1, NAN,
                               NAN, NAN,
                               "correlations contradict one another: the matrix has a negative "
                               "eigenvalue");
}

static vent_uncertainty *allocate(size_t n)
{
    vent_uncertainty *u = calloc(1, sizeof *u);
    if (!u)
        return NULL;
    u->n = n;
    u->inputs = calloc(n, sizeof *u->inputs);
    u->parameters = calloc(n, sizeof *u->parameters);
    u->value = calloc(n, sizeof *u->value);
    u->covariance = calloc(n * n, sizeof *u->covariance);
    if (u->inputs && u->parameters && u->value && u->covariance)
        return u;
    vent_uncertainty_free(u);
    return NULL;
}

static void fill(vent_uncertainty *u, const vent_input *inputs, const double *correlation)
{
    size_t n = u->n;
    for (size_t i = 0; i < n; ++i) {
        u->inputs[i] = inputs[i];
        u->parameters[i] = inputs[i].parameter;
        u->value[i] = vent_network_get(u->network, inputs[i].parameter, NULL);
        for (size_t j = 0; j < n; ++j) {
            double r = i == j ? 1 : correlation ? correlation[i * n + j] : 0;
            u->covariance[i * n + j] = r * inputs[i].uncertainty * inputs[j].uncertainty;
        }
    }
}

vent_uncertainty *vent_uncertainty_new(const vent_network *network, size_t n,
                                       const vent_input *inputs, const double *correlation,
                                       vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) || !VENT__POINTER(inputs) ||
        !vent__check_range(err, __func__, "n", "", (double)n, 1, MOST_INPUTS))
        return NULL;
    vent_error own = VENT_NO_ERROR; /* a check must see its failure even where err is NULL */
    vent_error *to = err ? err : &own;
    for (size_t i = 0; i < n; ++i)
        if (!check_input(network, inputs, i, to))
            return NULL;
    if (correlation && !check_correlation(n, correlation, to))
        return NULL;
    vent_uncertainty *u = allocate(n);
    if (!u) {
        VENT__FAIL(VENT_E_MEMORY, "", -1, "no memory for %zu inputs", n);
        return NULL;
    }
    u->network = vent_network_copy(network, to);
    u->solution = vent_network_solve(u->network, NULL, to);
    if (to->status != VENT_OK) {
        vent_uncertainty_free(u);
        return NULL;
    }
    fill(u, inputs, correlation);
    return u;
}

void vent_uncertainty_free(vent_uncertainty *uncertainty)
{
    if (!uncertainty)
        return;
    vent_network_free(uncertainty->network);
    vent_solution_free(uncertainty->solution);
    free(uncertainty->inputs);
    free(uncertainty->parameters);
    free(uncertainty->value);
    free(uncertainty->covariance);
    free(uncertainty);
}

vent_network *vent_uncertainty_network(const vent_uncertainty *uncertainty, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(uncertainty))
        return NULL;
    return vent_network_copy(uncertainty->network, err);
}

/* ---- first order ---------------------------------------------------------------------------- */

/* How an answer hangs on the inputs: gradient, and covariance with each input. */
typedef struct response {
    double *gradient;   /* n */
    double *covariance; /* n: of the answer with each input */
    double variance;
} response;

static void response_free(response *r)
{
    free(r->gradient);
    *r = (response){0};
}

/* From a gradient that stands in r to all the rest. */
static void respond_to_gradient(const vent_uncertainty *u, response *r)
{
    size_t n = u->n;
    r->variance = 0;
    for (size_t i = 0; i < n; ++i) {
        r->covariance[i] = 0;
        for (size_t j = 0; j < n; ++j)
            r->covariance[i] += u->covariance[i * n + j] * r->gradient[j];
        r->variance += r->gradient[i] * r->covariance[i];
    }
}

static bool response_new(const vent_uncertainty *u, response *r, const char *function,
                         vent_error *err)
{
    *r = (response){.gradient = calloc(2 * u->n, sizeof(double))};
    if (!r->gradient)
        return vent__fail(err, VENT_E_MEMORY, function, "", -1, NAN, NAN, NAN,
                          "no memory for %zu inputs", u->n);
    r->covariance = r->gradient + u->n;
    return true;
}

static bool respond(const vent_uncertainty *u, vent_observable answer, response *r,
                    const char *function, vent_error *err)
{
    if (!response_new(u, r, function, err))
        return false;
    if (!vent_solution_gradient(u->solution, NULL, answer, u->n, u->parameters, r->gradient, err)) {
        response_free(r);
        return false;
    }
    respond_to_gradient(u, r);
    return true;
}

static const vent_reading no_reading = {.value = NAN, .uncertainty = NAN};

vent_reading vent_uncertainty_of(const vent_uncertainty *uncertainty, vent_observable observable,
                                 vent_error *err)
{
    response r;
    if (vent__failed(err) || !VENT__POINTER(uncertainty) ||
        !respond(uncertainty, observable, &r, __func__, err))
        return no_reading;
    vent_reading answer = {.value = vent_solution_observe(uncertainty->solution, observable, err),
                           .uncertainty = sqrt(fmax(0, r.variance))};
    response_free(&r);
    return answer;
}

static int by_size(const void *a, const void *b)
{
    double left = fabs(((const vent_budget_line *)a)->variance);
    double right = fabs(((const vent_budget_line *)b)->variance);
    return (left < right) - (left > right);
}

static void fill_budget(const vent_uncertainty *u, const response *r, vent_budget_line *lines)
{
    for (size_t i = 0; i < u->n; ++i) {
        double variance = r->gradient[i] * r->covariance[i];
        lines[i] = (vent_budget_line){
            .parameter = u->parameters[i],
            .uncertainty = sqrt(u->covariance[i * u->n + i]),
            .sensitivity = r->gradient[i],
            .variance = variance,
            .share = r->variance > 0 ? variance / r->variance : 0,
        };
    }
    qsort(lines, u->n, sizeof *lines, by_size);
}

size_t vent_uncertainty_budget(const vent_uncertainty *uncertainty, vent_observable observable,
                               size_t room, vent_budget_line *lines, vent_error *err)
{
    response r;
    if (vent__failed(err) || !VENT__POINTER(uncertainty) || (room > 0 && !VENT__POINTER(lines)) ||
        !respond(uncertainty, observable, &r, __func__, err))
        return 0;
    size_t n = uncertainty->n;
    vent_budget_line *all = malloc(n * sizeof *all);
    if (all) {
        fill_budget(uncertainty, &r, all);
        for (size_t i = 0; i < n && i < room; ++i)
            lines[i] = all[i];
    } else {
        VENT__FAIL(VENT_E_MEMORY, "", -1, "no memory for %zu lines", n);
    }
    free(all);
    response_free(&r);
    return all ? n : 0;
}

/* ---- what to measure next --------------------------------------------------------------------- */

static size_t input_number(const vent_uncertainty *u, vent_parameter parameter)
{
    size_t i = 0;
    while (i < u->n && memcmp(&u->parameters[i], &parameter, sizeof parameter) != 0)
        ++i;
    return i;
}

/* A parameter that is no input is certain already: nothing hangs on it. */
static bool respond_to_parameter(const vent_uncertainty *u, vent_parameter parameter, response *r,
                                 const char *function, vent_error *err)
{
    if (isnan(vent_network_get(u->network, parameter, err)) || !response_new(u, r, function, err))
        return false;
    size_t i = input_number(u, parameter);
    if (i < u->n)
        r->gradient[i] = 1;
    respond_to_gradient(u, r);
    return true;
}

/* Fills a buffer of VENT__NAME_ROOM with the name of what would be read and gives it back. */
static const char *candidate_text(const vent_network *network, const vent_candidate *candidate,
                                  char *name)
{
    name[0] = 0;
    if (candidate->observable.kind != VENT_OBSERVABLE_NONE)
        vent_network_observable_name(network, candidate->observable, VENT__NAME_ROOM, name);
    else
        vent_network_parameter_name(network, candidate->parameter, VENT__NAME_ROOM, name);
    return *name ? name : "which is no address of this network";
}

static bool respond_to_candidate(const vent_uncertainty *u, const vent_candidate *candidate,
                                 size_t index, response *r, const char *function, vent_error *err)
{
    char name[VENT__NAME_ROOM];
    bool observable = candidate->observable.kind != VENT_OBSERVABLE_NONE;
    bool parameter = candidate->parameter.kind != VENT_PARAMETER_NONE;
    if (observable == parameter)
        return vent__fail(err, VENT_E_ARGUMENT, function, "candidate", (int64_t)index, NAN, NAN,
                          NAN, "candidate %zu must be of an observable or of a parameter, not %s",
                          index, observable ? "both" : "neither");
    if (!(candidate->uncertainty > 0) || !isfinite(candidate->uncertainty))
        return vent__fail(
            err, VENT_E_ARGUMENT, function, "candidate", (int64_t)index, candidate->uncertainty, 0,
            INFINITY, "candidate %zu, %s: standard uncertainty %g must be above 0 and finite",
            index, candidate_text(u->network, candidate, name), candidate->uncertainty);
    return observable ? respond(u, candidate->observable, r, function, err)
                      : respond_to_parameter(u, candidate->parameter, r, function, err);
}

/* Variance that is left of an answer after a reading of variance `noise` beside its own. */
static double variance_after(const vent_uncertainty *u, const response *answer,
                             const response *reading, double noise)
{
    double both = 0;
    for (size_t i = 0; i < u->n; ++i)
        both += answer->gradient[i] * reading->covariance[i];
    return fmax(0, answer->variance - both * both / (reading->variance + noise));
}

int vent_uncertainty_next(const vent_uncertainty *uncertainty, vent_observable answer, size_t n,
                          const vent_candidate *candidates, double *after, vent_error *err)
{
    response wanted;
    vent_error own = VENT_NO_ERROR;
    vent_error *to = err ? err : &own;
    for (size_t i = 0; after && i < n; ++i)
        after[i] = NAN;
    if (vent__failed(err) || !VENT__POINTER(uncertainty) || (n > 0 && !VENT__POINTER(candidates)) ||
        !respond(uncertainty, answer, &wanted, __func__, to))
        return -1;
    int best = -1;
    double least = INFINITY;
    for (size_t i = 0; i < n; ++i) {
        response r;
        if (!respond_to_candidate(uncertainty, &candidates[i], i, &r, __func__, to))
            break;
        double noise = candidates[i].uncertainty * candidates[i].uncertainty;
        double left = variance_after(uncertainty, &wanted, &r, noise);
        response_free(&r);
        if (after)
            after[i] = sqrt(left);
        if (left < least) {
            least = left;
            best = (int)i;
        }
    }
    response_free(&wanted);
    return to->status == VENT_OK ? best : -1;
}

bool vent_uncertainty_learn(vent_uncertainty *uncertainty, vent_candidate candidate,
                            vent_error *err)
{
    response r;
    if (vent__failed(err) || !VENT__POINTER(uncertainty) ||
        !respond_to_candidate(uncertainty, &candidate, 0, &r, __func__, err))
        return false;
    vent_uncertainty *u = uncertainty;
    double total = r.variance + candidate.uncertainty * candidate.uncertainty;
    for (size_t i = 0; i < u->n; ++i)
        for (size_t j = 0; j < u->n; ++j) {
            double *cell = &u->covariance[i * u->n + j];
            *cell -= r.covariance[i] * r.covariance[j] / total;
            if (i == j)
                *cell = fmax(0, *cell);
        }
    response_free(&r);
    return true;
}

/* ---- Monte Carlo ---------------------------------------------------------------------------- */

/* Sum over all observables of the share that each input has in their variance. */
static bool weigh(const vent_uncertainty *u, size_t n, const vent_observable *observables,
                  double *weight, vent_error *err)
{
    memset(weight, 0, u->n * sizeof *weight);
    for (size_t k = 0; k < n; ++k) {
        response r;
        if (!respond(u, observables[k], &r, "vent_uncertainty_simulate", err))
            return false;
        for (size_t i = 0; r.variance > 0 && i < u->n; ++i)
            weight[i] += fabs(r.gradient[i] * r.covariance[i]) / r.variance;
        response_free(&r);
    }
    return true;
}

bool vent_uncertainty_simulate(const vent_uncertainty *uncertainty, vent_sampling how, size_t n,
                               const vent_observable *observables, vent_simulated *results,
                               double *samples, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(uncertainty) ||
        (n > 0 && (!VENT__POINTER(observables) || !VENT__POINTER(results))))
        return false;
    for (size_t k = 0; k < n; ++k)
        results[k] = (vent_simulated){NAN, NAN, NAN, NAN, NAN, 0};
    if (!vent__check_range(err, __func__, "how.samples", "", (double)how.samples, 2, 1e8) ||
        !vent__check_range(err, __func__, "how.kind", "", how.kind, 0, VENT_SAMPLING_QUASI))
        return false;
    const vent_uncertainty *u = uncertainty;
    double *weight = malloc(u->n * sizeof *weight);
    if (!weight)
        return VENT__FAIL(VENT_E_MEMORY, "", -1, "no memory for %zu inputs", u->n);
    vent_error own = VENT_NO_ERROR;
    vent_error *to = err ? err : &own;
    bool done = weigh(u, n, observables, weight, to);
    if (done) {
        vent__sampled s = {.network = u->network,
                           .solution = u->solution,
                           .inputs = u->n,
                           .input = u->inputs,
                           .value = u->value,
                           .covariance = u->covariance,
                           .weight = weight,
                           .outputs = n,
                           .output = observables,
                           .how = how};
        done = vent__sample(&s, results, samples, __func__, to);
    }
    free(weight);
    return done;
}
