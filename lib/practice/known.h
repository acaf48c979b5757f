/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The inside of a vent_uncertainty, for the jobs that stand on it. */
#ifndef VENT_PRACTICE_KNOWN_H
#define VENT_PRACTICE_KNOWN_H

#include <ventstack/uncertainty.h>

struct vent_uncertainty {
    vent_network *network;
    vent_solution *solution;
    size_t n;
    vent_input *inputs;
    vent_parameter *parameters; /* those of the inputs */
    double *value;              /* n, present values */
    double *covariance;         /* n x n */
};

#endif
