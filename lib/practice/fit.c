/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Setting a fit up: states, unknowns, readings. */
#include <stdlib.h>

#include "base/memory.h"
#include "practice/fitting.h"
#include "practice/known.h"

enum { MOST_STATES = 1000, MOST_UNKNOWNS = 200, MOST_READINGS = 10000 };

const char *vent__parameter_text(const vent_network *network, vent_parameter parameter, char *name)
{
    name[0] = 0;
    vent_network_parameter_name(network, parameter, VENT__NAME_ROOM, name);
    return name;
}

bool vent__no_memory(vent_error *err, const char *function)
{
    return vent__fail(err, VENT_E_MEMORY, function, "", -1, NAN, NAN, NAN, "no memory");
}

bool vent__check_reading(vent_reading r, const char *what, int64_t index, const char *function,
                         vent_error *err)
{
    if (!isfinite(r.value))
        return vent__fail(err, VENT_E_ARGUMENT, function, what, index, r.value, -INFINITY, INFINITY,
                          "%s: value %g must be finite", what, r.value);
    if (!(r.uncertainty > 0) || !isfinite(r.uncertainty))
        return vent__fail(err, VENT_E_ARGUMENT, function, what, index, r.uncertainty, 0, INFINITY,
                          "%s: standard uncertainty %g must be above 0 and finite; no reading is "
                          "certain",
                          what, r.uncertainty);
    return true;
}

/* ---- states --------------------------------------------------------------------------------- */

/* Nodes and runs of both must be the same by number and name, as addresses go by these. */
static bool has_the_places_of(const vent_network *first, const vent_network *other)
{
    char a[VENT__NAME_ROOM], b[VENT__NAME_ROOM];
    int nodes = vent_network_node_count(first), runs = vent_network_run_count(first);
    if (vent_network_node_count(other) != nodes || vent_network_run_count(other) != runs)
        return false;
    for (int i = 0; i < nodes; ++i) {
        vent_network_node_name(first, i, sizeof a, a);
        vent_network_node_name(other, i, sizeof b, b);
        if (strcmp(a, b) != 0)
            return false;
    }
    for (int i = 0; i < runs; ++i) {
        vent_network_run_name(first, i, sizeof a, a);
        vent_network_run_name(other, i, sizeof b, b);
        if (strcmp(a, b) != 0)
            return false;
    }
    return true;
}

static bool is_complete(const vent_network *network, vent_error *err)
{
    vent_workspace *workspace = vent_workspace_new(network, err);
    vent_workspace_free(workspace);
    return workspace != NULL;
}

static int add_state(vent_fit *fit, const vent_network *network, const char *function,
                     vent_error *err)
{
    if (!is_complete(network, err))
        return -1;
    if (fit->state_count >= MOST_STATES) {
        vent__fail(err, VENT_E_ARGUMENT, function, "fit", -1, fit->state_count, 0, MOST_STATES,
                   "a fit holds at most %d states", MOST_STATES);
        return -1;
    }
    if (!vent__reserve(&fit->states, &fit->state_room, fit->state_count, sizeof *fit->states)) {
        vent__no_memory(err, function);
        return -1;
    }
    vent_network *copy = vent_network_copy(network, err);
    if (!copy)
        return -1;
    fit->states[fit->state_count] = (vent__fit_state){.network = copy};
    return fit->state_count++;
}

vent_fit *vent_fit_new(const vent_network *network, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network))
        return NULL;
    vent_fit *fit = calloc(1, sizeof *fit);
    if (!fit) {
        vent__no_memory(err, __func__);
        return NULL;
    }
    if (add_state(fit, network, __func__, err) < 0) {
        vent_fit_free(fit);
        return NULL;
    }
    return fit;
}

void vent_fit_free(vent_fit *fit)
{
    if (!fit)
        return;
    for (int i = 0; i < fit->state_count; ++i) {
        vent_network_free(fit->states[i].network);
        free(fit->states[i].held);
    }
    free(fit->states);
    free(fit->unknowns);
    free(fit->readings);
    free(fit->ties);
    free(fit);
}

int vent_fit_state(vent_fit *fit, const vent_network *network, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(fit) || !VENT__POINTER(network))
        return -1;
    if (!has_the_places_of(fit->states[0].network, network)) {
        VENT__FAIL(VENT_E_ARGUMENT, "network", -1,
                   "a state must have the nodes and runs of the first one, by number and name");
        return -1;
    }
    return add_state(fit, network, __func__, err);
}

static bool check_state(const vent_fit *fit, int number, const char *function, vent_error *err)
{
    return (number >= 0 && number < fit->state_count) ||
           vent__fail(err, VENT_E_NOT_FOUND, function, "state", number, number, 0,
                      fit->state_count - 1, "there is no state %d: this fit has 0 to %d", number,
                      fit->state_count - 1);
}

bool vent_fit_hold(vent_fit *fit, int state, vent_parameter parameter, double value,
                   vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(fit) || !check_state(fit, state, __func__, err))
        return false;
    vent__fit_state *s = &fit->states[state];
    if (!vent__reserve(&s->held, &s->held_room, s->held_count, sizeof *s->held))
        return vent__no_memory(err, __func__);
    if (!vent_network_set(s->network, parameter, value, err))
        return false;
    if (!vent__is_held(s, parameter))
        s->held[s->held_count++] = parameter;
    return true;
}

/* ---- unknowns ------------------------------------------------------------------------------- */

static int find_unknown(const vent_fit *fit, vent_parameter parameter)
{
    for (int i = 0; i < fit->unknown_count; ++i)
        if (vent__same_parameter(fit->unknowns[i].parameter, parameter))
            return i;
    return -1;
}

static bool check_unknown(const vent_fit *fit, int number, const char *function, vent_error *err)
{
    return (number >= 0 && number < fit->unknown_count) ||
           vent__fail(err, VENT_E_NOT_FOUND, function, "unknown", number, number, 0,
                      fit->unknown_count - 1, "there is no unknown %d: this fit has %d", number,
                      fit->unknown_count);
}

int vent_fit_unknown(vent_fit *fit, vent_parameter parameter, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(fit))
        return -1;
    char name[VENT__NAME_ROOM];
    const vent_network *network = fit->states[0].network;
    if (isnan(vent_network_get(network, parameter, err)))
        return -1;
    int there = find_unknown(fit, parameter);
    if (there >= 0) {
        VENT__FAIL(VENT_E_DUPLICATE, "parameter", there, "%s is unknown %d already",
                   vent__parameter_text(network, parameter, name), there);
        return -1;
    }
    if (!vent__check_range(err, __func__, "fit: unknowns", "", fit->unknown_count + 1, 1,
                           MOST_UNKNOWNS))
        return -1;
    if (!vent__reserve(&fit->unknowns, &fit->unknown_room, fit->unknown_count,
                       sizeof *fit->unknowns)) {
        vent__no_memory(err, __func__);
        return -1;
    }
    vent_parameter_range range;
    vent_network_parameter_range(network, parameter, &range);
    fit->unknowns[fit->unknown_count] = (vent__sought){parameter, range.low, range.high, NAN, NAN};
    return fit->unknown_count++;
}

bool vent_fit_bounds(vent_fit *fit, int unknown, double low, double high, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(fit) || !check_unknown(fit, unknown, __func__, err))
        return false;
    vent_parameter_range range;
    vent__sought *u = &fit->unknowns[unknown];
    vent_network_parameter_range(fit->states[0].network, u->parameter, &range);
    if (!VENT__RANGE(low, range.unit, range.low, range.high) ||
        !VENT__RANGE(high, range.unit, range.low, range.high))
        return false;
    if (!(low < high))
        return VENT__FAIL(
            VENT_E_ARGUMENT, "high", unknown,
            "bounds %g to %g of %s leave nothing between: hold a parameter that is known", low,
            high, range.name);
    u->low = low;
    u->high = high;
    return true;
}

bool vent_fit_prior(vent_fit *fit, int unknown, vent_reading prior, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(fit) || !check_unknown(fit, unknown, __func__, err) ||
        !vent__check_reading(prior, "prior", unknown, __func__, err))
        return false;
    fit->unknowns[unknown].prior = prior.value;
    fit->unknowns[unknown].prior_uncertainty = prior.uncertainty;
    return true;
}

static bool add_prior(vent_fit *fit, vent_parameter p, double value, double uncertainty,
                      vent_error *err)
{
    int number = find_unknown(fit, p);
    if (number < 0)
        number = vent_fit_unknown(fit, p, err);
    return number >= 0 && vent_fit_prior(fit, number, vent_reading_stated(value, uncertainty), err);
}

bool vent_fit_priors(vent_fit *fit, size_t n, const vent_input *inputs, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(fit) || (n > 0 && !VENT__POINTER(inputs)))
        return false;
    int before = fit->unknown_count;
    for (size_t i = 0; i < n; ++i) {
        vent_parameter p = inputs[i].parameter;
        double value = vent_network_get(fit->states[0].network, p, err);
        if (!add_prior(fit, p, value, inputs[i].uncertainty, err)) {
            fit->unknown_count = before;
            return false;
        }
    }
    return true;
}

static bool add_tie(vent_fit *fit, vent_parameter a, vent_parameter b, double correlation)
{
    if (!vent__reserve(&fit->ties, &fit->tie_room, fit->tie_count, sizeof *fit->ties))
        return false;
    fit->ties[fit->tie_count++] =
        (vent__tie){find_unknown(fit, a), find_unknown(fit, b), correlation};
    return true;
}

bool vent_fit_known(vent_fit *fit, const vent_uncertainty *known, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(fit) || !VENT__POINTER(known))
        return false;
    int unknowns = fit->unknown_count, ties = fit->tie_count;
    bool done = true;
    for (size_t i = 0; done && i < known->n; ++i) {
        double u = sqrt(known->covariance[i * known->n + i]);
        done = add_prior(fit, known->parameters[i], known->value[i], u, err);
        for (size_t j = 0; done && j < i; ++j) {
            double v = sqrt(known->covariance[j * known->n + j]);
            double r = known->covariance[i * known->n + j] / (u * v);
            if (r != 0 && !add_tie(fit, known->parameters[i], known->parameters[j], r))
                done = vent__no_memory(err, __func__);
        }
    }
    if (!done) {
        fit->unknown_count = unknowns;
        fit->tie_count = ties;
    }
    return done;
}

int vent_fit_reading(vent_fit *fit, int state, vent_observable observable, vent_reading reading,
                     vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(fit) || !check_state(fit, state, __func__, err))
        return -1;
    if (vent_network_observable_name(fit->states[state].network, observable, 0, NULL) == 0) {
        VENT__FAIL(VENT_E_NOT_FOUND, "observable", state,
                   "the network of state %d has no such place to read", state);
        return -1;
    }
    if (!vent__check_reading(reading, "reading", fit->reading_count, __func__, err) ||
        !vent__check_range(err, __func__, "fit: readings", "", fit->reading_count + 1, 1,
                           MOST_READINGS))
        return -1;
    if (!vent__reserve(&fit->readings, &fit->reading_room, fit->reading_count,
                       sizeof *fit->readings)) {
        vent__no_memory(err, __func__);
        return -1;
    }
    fit->readings[fit->reading_count] =
        (vent__taken){observable, state, reading.value, reading.uncertainty};
    return fit->reading_count++;
}
