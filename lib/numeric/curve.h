/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Curves of piecewise cubics with a continuous slope that go on as straight lines past their ends.
 * Making one may fail for want of memory (NULL); reading one allocates nothing and keeps nothing. */
#ifndef VENT_NUMERIC_CURVE_H
#define VENT_NUMERIC_CURVE_H

#include <stdbool.h>
#include <stddef.h>

/* y = c[0] + c[1] t + c[2] t^2 + c[3] t^3 with t = x - from. */
typedef struct vent__piece {
    double from;
    double c[4];
} vent__piece;

/* A point that a curve passes with a given slope. */
typedef struct vent__knot {
    double x, y, slope;
} vent__knot;

typedef struct vent__curve {
    size_t n;  /* knots, at least 2 */
    double *x; /* n knots, strictly increasing */
    vent__piece
        *piece; /* n + 1: the line before x[0]; piece i from x[i-1] to x[i]; the line after */
} vent__curve;

/* Steffen's monotone cubic through n points: between two points it never leaves their values, so it
 * has extrema at data points only, and flat where two neighbours agree. The end slopes are those of
 * the first and last chord. */
vent__curve *vent__curve_steffen(size_t n, const double *x, const double *y);
/* The cubic Hermite curve through n >= 2 knots. */
vent__curve *vent__curve_hermite(size_t n, const vent__knot *knot);
/* The sum of n curves, exact to rounding: its knots are all knots of the curves. */
vent__curve *vent__curve_sum(size_t n, vent__curve *const *curve);
/* y_scale times the curve, stretched along x: new(x) = y_scale curve(x / x_scale), x_scale > 0. */
vent__curve *vent__curve_scaled(const vent__curve *curve, double x_scale, double y_scale);
vent__curve *vent__curve_copy(const vent__curve *curve);
void vent__curve_free(vent__curve *curve); /* NULL allowed */

/* Value on the cubic between two knots. */
double vent__curve_between(const vent__knot *a, const vent__knot *b, double x);
/* Value at x; its slope goes to *slope. NaN at NaN. */
double vent__curve_at(const vent__curve *curve, double x, double *slope);
/* How many knots are at or below x, which is also the number of the piece that holds x. */
size_t vent__curve_piece(const vent__curve *curve, double x);
/* Value and slope at a knot. */
double vent__curve_knot(const vent__curve *curve, size_t knot, double *slope);
/* True if every coefficient is a finite number. */
bool vent__curve_is_finite(const vent__curve *curve);
bool vent__curve_is_same(const vent__curve *a, const vent__curve *b);

/* True if the slope is below zero everywhere. */
bool vent__curve_is_falling(const vent__curve *curve);
/* The x at which a falling curve has the value y; *slope is the curve's there. */
double vent__curve_inverse(const vent__curve *curve, double y, double *slope);
/* The first x from x[0] on at which the curve has come down to zero: infinity if it never does. */
double vent__curve_descent(const vent__curve *curve);

/* Sorts n >= 1 numbers upwards and keeps one of each; tells how many are left. */
size_t vent__sort_distinct(double *x, size_t n);

#endif
