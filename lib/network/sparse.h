/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sparse linear equations of one structure solved many times. The order of elimination and the room
 * for what fills in are found once; after that nothing is allocated and nothing is searched.
 *
 * The pattern is symmetric, the values need not be. Pivots stay where the order puts them. */
#ifndef VENT_NETWORK_SPARSE_H
#define VENT_NETWORK_SPARSE_H

#include <math.h>
#include <stdbool.h>
#include <stdint.h>

/* Keeps a slope or pivot away from zero without turning its sign. */
static inline double vent__firm(double slope)
{
    const double least = 1e-30;
    return fabs(slope) > least ? slope : copysign(least, slope);
}

typedef struct vent__entry {
    int32_t row, column;
} vent__entry;

typedef struct vent__sparse {
    int unknowns;
    int32_t *rank;     /* [unknowns] when each is eliminated */
    int32_t *first;    /* [unknowns + 1] where each row begins, in the order of elimination */
    int32_t *diagonal; /* [unknowns] and where its pivot stands */
    int32_t *column;   /* [entries] ranks, rising along a row */
    bool *nested;      /* [unknowns] whether the next row has the same columns right of its pivot */
    double *value;     /* [entries] the matrix; once factored, what eliminates it */
    double *work;      /* [unknowns] zero between rows */
} vent__sparse;

/* Lays out a system with these entries, of which slot[i] becomes the place in `value`; false without
 * memory. Each unknown is eliminated before the two (or -1) that wait for it: those whose pivot may be
 * zero until then. */
bool vent__sparse_lay_out(vent__sparse *system, int unknowns, const int32_t (*waiting)[2],
                          int entries, const vent__entry *entry, int32_t *slot);
void vent__sparse_free(vent__sparse *system);

/* Clears all values. */
void vent__sparse_clear(vent__sparse *system);
/* Eliminates. */
void vent__sparse_factor(vent__sparse *system);
/* Turns the right side, by rank, into the answer, of the equations or of the transposed ones. */
void vent__sparse_solve(const vent__sparse *system, double *right);
void vent__sparse_solve_transposed(const vent__sparse *system, double *right);

#endif
