/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Random inputs into a network, and what comes out of it. */
#ifndef VENT_PRACTICE_SAMPLING_H
#define VENT_PRACTICE_SAMPLING_H

#include <ventstack/uncertainty.h>

typedef struct vent__sampled {
    const vent_network *network;
    const vent_solution *solution; /* at the present values: where each search begins */
    size_t inputs;
    const vent_input *input;
    const double *value;      /* of each input, present */
    const double *covariance; /* inputs x inputs */
    const double *weight;     /* of each input: the weightiest get the best-spread numbers */
    size_t outputs;
    const vent_observable *output;
    vent_sampling how;
} vent__sampled;

/* Fills one result an output and, where there is room for them, all samples. */
bool vent__sample(const vent__sampled *s, vent_simulated *results, double *samples,
                  const char *function, vent_error *err);

#endif
