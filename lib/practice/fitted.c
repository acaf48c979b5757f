/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading the answer of a fit. */
#include <stdlib.h>

#include "practice/fitting.h"

void vent_fitted_free(vent_fitted *fitted)
{
    if (!fitted)
        return;
    for (size_t i = 0; fitted->network && i < fitted->states; ++i)
        vent_network_free(fitted->network[i]);
    free(fitted->network);
    free(fitted->estimates);
    free(fitted->residuals);
    vent__text_free(&fitted->verdict);
    free(fitted->held);
    free(fitted->held_end);
    free(fitted->scale);
    vent__determination_free(&fitted->data);
    free(fitted);
}

/* ---- reading the answer ---------------------------------------------------------------------- */

size_t vent_fitted_count(const vent_fitted *fitted)
{
    return fitted ? fitted->n : 0;
}

bool vent_fitted_estimate(const vent_fitted *fitted, size_t unknown, vent_estimate *estimate)
{
    if (!fitted || !estimate || unknown >= fitted->n)
        return false;
    *estimate = fitted->estimates[unknown];
    return true;
}

double vent_fitted_covariance(const vent_fitted *fitted, size_t a, size_t b)
{
    bool there = fitted && a < fitted->n && b < fitted->n;
    return there ? fitted->data.covariance[a * fitted->n + b] : NAN;
}

double vent_fitted_correlation(const vent_fitted *fitted, size_t a, size_t b)
{
    double variances = vent_fitted_covariance(fitted, a, a) * vent_fitted_covariance(fitted, b, b);
    double r = vent_fitted_covariance(fitted, a, b) / sqrt(variances);
    return isnan(r) ? NAN : fmin(1, fmax(-1, r));
}

double vent_fitted_direction(const vent_fitted *fitted, size_t index, size_t room,
                             double *direction)
{
    if (!fitted || index >= fitted->n || (room > 0 && !direction))
        return NAN;
    for (size_t j = 0; j < room && j < fitted->n; ++j)
        direction[j] = fitted->data.direction[index * fitted->n + j];
    return index < fitted->data.rank ? 1 / fitted->data.singular[index] : INFINITY;
}

size_t vent_fitted_reading_count(const vent_fitted *fitted)
{
    return fitted ? fitted->m : 0;
}

bool vent_fitted_residual(const vent_fitted *fitted, size_t reading, vent_residual *residual)
{
    if (!fitted || !residual || reading >= fitted->m)
        return false;
    *residual = fitted->residuals[reading];
    return true;
}

vent_goodness vent_fitted_goodness(const vent_fitted *fitted)
{
    return fitted ? fitted->goodness : (vent_goodness){NAN, NAN, NAN, 0, 0};
}

static bool check_fitted(const vent_fitted *f, int state, const char *function, vent_error *err)
{
    char name[VENT__NAME_ROOM];
    if (!(state >= 0 && (size_t)state < f->states))
        return vent__fail(err, VENT_E_NOT_FOUND, function, "state", state, state, 0,
                          (double)f->states - 1, "there is no state %d", state);
    for (size_t j = 0; j < f->n; ++j)
        if (f->estimates[j].flags & VENT_ESTIMATE_UNDETERMINED)
            return vent__fail(err, VENT_E_ARGUMENT, function, "fitted", (int64_t)j, NAN, NAN, NAN,
                              "the readings do not determine %s",
                              vent__parameter_text(f->network[0], f->estimates[j].parameter, name));
    return true;
}

vent_network *vent_fitted_network(const vent_fitted *fitted, int state, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(fitted) || !check_fitted(fitted, state, __func__, err))
        return NULL;
    return vent_network_copy(fitted->network[state], err);
}

/* True where an unknown is one in this state too. */
static bool acts_in(const vent_fitted *f, int state, vent_parameter parameter)
{
    for (size_t k = state > 0 ? f->held_end[state - 1] : 0; k < f->held_end[state]; ++k)
        if (vent__same_parameter(f->held[k], parameter))
            return false;
    return vent_network_parameter_name(f->network[state], parameter, 0, NULL) > 0;
}

vent_uncertainty *vent_fitted_uncertainty(const vent_fitted *fitted, int state, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(fitted) || !check_fitted(fitted, state, __func__, err))
        return NULL;
    size_t n = 0, *number = calloc(fitted->n, sizeof *number);
    vent_input *inputs = calloc(fitted->n, sizeof *inputs);
    double *correlation = calloc(fitted->n * fitted->n, sizeof *correlation);
    vent_uncertainty *u = NULL;
    if (!number || !inputs || !correlation) {
        vent__no_memory(err, __func__);
    } else {
        for (size_t j = 0; j < fitted->n; ++j) {
            const vent_estimate *e = &fitted->estimates[j];
            if (!acts_in(fitted, state, e->parameter))
                continue;
            number[n] = j;
            inputs[n++] = (vent_input){e->parameter, e->uncertainty, VENT_SHAPE_NORMAL, 0};
        }
        for (size_t i = 0; i < n; ++i)
            for (size_t j = 0; j < n; ++j)
                correlation[i * n + j] =
                    i == j ? 1 : vent_fitted_correlation(fitted, number[i], number[j]);
        u = vent_uncertainty_new(fitted->network[state], n, inputs, correlation, err);
    }
    free(number);
    free(inputs);
    free(correlation);
    return u;
}

size_t vent_fitted_verdict(const vent_fitted *fitted, size_t size, char *text)
{
    return fitted ? vent__text_copy(&fitted->verdict, size, text) : 0;
}
