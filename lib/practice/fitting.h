/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What setting a fit up, solving it and reading its answer share. */
#ifndef VENT_PRACTICE_FITTING_H
#define VENT_PRACTICE_FITTING_H

#include <string.h>
#include <ventstack/fit.h>

#include "base/fail.h"
#include "base/text.h"
#include "numeric/least_squares.h"

typedef struct vent__sought {
    vent_parameter parameter;
    double low, high;
    double prior, prior_uncertainty; /* NaN where nothing is known beforehand */
} vent__sought;

typedef struct vent__taken {
    vent_observable observable;
    int state;
    double value, uncertainty;
} vent__taken;

typedef struct vent__fit_state {
    vent_network *network;
    vent_parameter *held;
    int held_count, held_room;
} vent__fit_state;

/* Two unknowns whose priors hang together. */
typedef struct vent__tie {
    int a, b;
    double correlation;
} vent__tie;

struct vent_fit {
    vent__fit_state *states;
    vent__sought *unknowns;
    vent__taken *readings;
    vent__tie *ties;
    int state_count, state_room, unknown_count, unknown_room, reading_count, reading_room;
    int tie_count, tie_room;
};

struct vent_fitted {
    size_t n, m, states; /* unknowns, readings, states */
    vent_network **network;
    vent_estimate *estimates;
    vent_residual *residuals;
    vent__determination data;
    vent_goodness goodness;
    vent__text verdict;
    vent_parameter *held; /* all held ones: those of state i end at held_end[i] */
    size_t *held_end;
    double *scale; /* of each unknown in data.direction */
};

static inline bool vent__same_parameter(vent_parameter a, vent_parameter b)
{
    return memcmp(&a, &b, sizeof a) == 0;
}

static inline bool vent__is_held(const vent__fit_state *s, vent_parameter parameter)
{
    for (int i = 0; i < s->held_count; ++i)
        if (vent__same_parameter(s->held[i], parameter))
            return true;
    return false;
}

/* Fills a buffer of VENT__NAME_ROOM with the name of a parameter and gives it back. */
const char *vent__parameter_text(const vent_network *network, vent_parameter parameter, char *name);
/* Always false. */
bool vent__no_memory(vent_error *err, const char *function);
/* A reading must be finite, and its uncertainty above zero: else it would be believed without limit. */
bool vent__check_reading(vent_reading reading, const char *what, int64_t index,
                         const char *function, vent_error *err);

#endif
