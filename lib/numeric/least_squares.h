/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Nonlinear least squares within bounds, and what the data say about each unknown.
 * Matrices are row by row unless told otherwise. Residuals are in standard uncertainties. */
#ifndef VENT_NUMERIC_LEAST_SQUARES_H
#define VENT_NUMERIC_LEAST_SQUARES_H

#include <stdbool.h>
#include <stddef.h>

/* m residuals at n unknowns and, where jacobian is not NULL, their m x n derivatives. False where the
 * model has no answer there; a step that leads there is shortened. */
typedef bool vent__residuals(void *context, const double *x, double *residual, double *jacobian);

typedef struct vent__least_squares {
    size_t m, n;
    vent__residuals *residuals;
    void *context;
    const double *low, *high; /* n bounds each; NULL for none */
    double *x;                /* n unknowns: the start, then the estimate */
    double *residual;         /* m, at the estimate */
    double *jacobian;         /* m x n, at the estimate */
    double square;            /* sum of squares of the residuals */
    int iterations;
} vent__least_squares;

enum {
    VENT__FIT_DONE,
    VENT__FIT_NO_START, /* no residuals at the start */
    VENT__FIT_STUCK,    /* no convergence */
    VENT__FIT_MEMORY
};

/* Levenberg and Marquardt's method; unknowns at a bound that the residuals push outward stay there. */
int vent__least_squares_solve(vent__least_squares *problem);

/* What a Jacobian says about its unknowns, each measured in its own scale (n, above 0). */
typedef struct vent__determination {
    size_t n, rank;
    double *singular;   /* n, falling: 1 over the standard uncertainty of each direction */
    double *direction;  /* n x n: a direction a row, in scales */
    double *covariance; /* n x n, in the unknowns' own units; NaN where not determined */
    bool *determined;   /* n */
} vent__determination;

/* False for want of memory, with nothing to free. */
bool vent__determine(size_t m, size_t n, const double *jacobian, const double *scale,
                     vent__determination *d);
void vent__determination_free(vent__determination *d);

/* Singular values (n, falling) and right singular vectors (n x n, one a row) of an m x n matrix given
 * column by column, which is overwritten by its left vectors times the singular values. One-sided
 * Jacobi rotations: small singular values come out as exact as the columns are. */
void vent__singular_values(size_t m, size_t n, double *columns, double *singular, double *vectors);

/* Lower triangle l with l l' = a for a symmetric n x n matrix without negative eigenvalues (to
 * rounding); false where it has one. */
bool vent__cholesky(size_t n, const double *a, double *l);

#endif
