/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "numeric/curve.h"

#include <float.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* One block holds the curve, then its pieces, then its knots. */
static vent__curve *curve_new(size_t n)
{
    unsigned char *block = NULL;
    const size_t head = sizeof(vent__curve), pieces = (n + 1) * sizeof(vent__piece);
    if (n > SIZE_MAX / 8 / sizeof(vent__piece) ||
        !vent__resize(&block, head + pieces + n * sizeof(double), 1))
        return NULL;
    vent__curve *curve = (void *)block;
    curve->n = n;
    curve->piece = (void *)(block + head);
    curve->x = (void *)(block + head + pieces);
    return curve;
}

void vent__curve_free(vent__curve *curve)
{
    free(curve);
}

vent__curve *vent__curve_copy(const vent__curve *curve)
{
    vent__curve *copy = curve_new(curve->n);
    if (copy) {
        memcpy(copy->x, curve->x, curve->n * sizeof *curve->x);
        memcpy(copy->piece, curve->piece, (curve->n + 1) * sizeof *curve->piece);
    }
    return copy;
}

static vent__piece cubic(const vent__knot *a, const vent__knot *b)
{
    double h = b->x - a->x, chord = (b->y - a->y) / h;
    return (vent__piece){
        .from = a->x,
        .c = {a->y, a->slope, (3 * chord - 2 * a->slope - b->slope) / h,
              (a->slope + b->slope - 2 * chord) / h / h},
    };
}

static vent__piece line(double x, double y, double slope)
{
    return (vent__piece){.from = x, .c = {y, slope, 0, 0}};
}

static vent__piece tangent(const vent__knot *at)
{
    return line(at->x, at->y, at->slope);
}

vent__curve *vent__curve_hermite(size_t n, const vent__knot *knot)
{
    vent__curve *curve = curve_new(n);
    if (!curve)
        return NULL;
    for (size_t i = 0; i < n; ++i)
        curve->x[i] = knot[i].x;
    curve->piece[0] = tangent(&knot[0]);
    for (size_t i = 1; i < n; ++i)
        curve->piece[i] = cubic(&knot[i - 1], &knot[i]);
    curve->piece[n] = tangent(&knot[n - 1]);
    return curve;
}

/* Steffen (1990), A simple method for monotonic interpolation in one dimension, Astron. Astrophys.
 * 239, 443: the slope of the parabola through three points, held to twice the lesser of the two
 * chords, and to zero where they disagree in sign. */
static double steffen_slope(double h0, double h1, double chord0, double chord1)
{
    double parabola = (chord0 * h1 + chord1 * h0) / (h0 + h1);
    double least = fmin(fmin(fabs(chord0), fabs(chord1)), 0.5 * fabs(parabola));
    return (copysign(1, chord0) + copysign(1, chord1)) * least;
}

/* Steffen also offers end slopes from the first and last parabola, held to zero where they would
 * overshoot. The chord is taken instead: a falling curve then keeps falling past its last point, and
 * the values agree with gsl_interp_steffen. */
vent__curve *vent__curve_steffen(size_t n, const double *x, const double *y)
{
    vent__knot *knot = NULL;
    if (!vent__resize(&knot, n, sizeof *knot))
        return NULL;
    double h = x[1] - x[0], chord = (y[1] - y[0]) / h;
    knot[0] = (vent__knot){x[0], y[0], chord};
    for (size_t i = 1; i + 1 < n; ++i) {
        double next_h = x[i + 1] - x[i], next_chord = (y[i + 1] - y[i]) / next_h;
        knot[i] = (vent__knot){x[i], y[i], steffen_slope(h, next_h, chord, next_chord)};
        h = next_h;
        chord = next_chord;
    }
    knot[n - 1] = (vent__knot){x[n - 1], y[n - 1], chord};
    vent__curve *curve = vent__curve_hermite(n, knot);
    free(knot);
    return curve;
}

vent__curve *vent__curve_scaled(const vent__curve *curve, double x_scale, double y_scale)
{
    vent__curve *scaled = vent__curve_copy(curve);
    if (!scaled)
        return NULL;
    for (size_t i = 0; i < curve->n; ++i)
        scaled->x[i] *= x_scale;
    for (size_t i = 0; i <= curve->n; ++i) {
        vent__piece *piece = &scaled->piece[i];
        piece->from *= x_scale;
        double factor = y_scale;
        for (int j = 0; j < 4; ++j) {
            piece->c[j] *= factor;
            factor /= x_scale;
        }
    }
    return scaled;
}

/* Long rows are halved and short ones counted, by arithmetic, so that no branch is there to be guessed
 * wrong. */
size_t vent__curve_piece(const vent__curve *curve, double x)
{
    enum { SHORT = 16 };
    const double *row = curve->x;
    size_t n = curve->n;
    while (n > SHORT) {
        size_t half = n / 2;
        row += row[half] <= x ? half : 0;
        n -= half;
    }
    size_t below = (size_t)(row - curve->x);
    for (size_t i = 0; i < n; i++)
        below += row[i] <= x;
    return below;
}

static double piece_at(const vent__piece *piece, double t, double *slope)
{
    const double *c = piece->c;
    *slope = c[1] + t * (2 * c[2] + 3 * c[3] * t);
    return c[0] + t * (c[1] + t * (c[2] + c[3] * t));
}

double vent__curve_between(const vent__knot *a, const vent__knot *b, double x)
{
    double slope;
    vent__piece piece = cubic(a, b);
    return piece_at(&piece, x - piece.from, &slope);
}

double vent__curve_at(const vent__curve *curve, double x, double *slope)
{
    const vent__piece *piece = &curve->piece[vent__curve_piece(curve, x)];
    return piece_at(piece, x - piece->from, slope);
}

double vent__curve_knot(const vent__curve *curve, size_t knot, double *slope)
{
    return piece_at(&curve->piece[knot + 1], 0, slope);
}

/* The same cubic in powers of the distance from another origin. */
static vent__piece moved(vent__piece piece, double to)
{
    const double *c = piece.c, s = to - piece.from;
    return (vent__piece){
        .from = to,
        .c =
            {
                c[0] + s * (c[1] + s * (c[2] + s * c[3])),
                c[1] + s * (2 * c[2] + 3 * c[3] * s),
                c[2] + 3 * c[3] * s,
                c[3],
            },
    };
}

static int ascending(const void *a, const void *b)
{
    double x, y;
    memcpy(&x, a, sizeof x);
    memcpy(&y, b, sizeof y);
    return (x > y) - (x < y);
}

size_t vent__sort_distinct(double *x, size_t n)
{
    size_t kept = 1;
    qsort(x, n, sizeof *x, ascending);
    for (size_t i = 1; i < n; ++i)
        if (x[i] > x[kept - 1])
            x[kept++] = x[i];
    return kept;
}

/* The sum of all pieces that hold the stretch beginning at `from`, or of all first lines. */
static vent__piece sum_of_pieces(size_t n, vent__curve *const *curve, double from, bool before)
{
    vent__piece sum = line(from, 0, 0);
    for (size_t k = 0; k < n; ++k) {
        size_t at = before ? 0 : vent__curve_piece(curve[k], from);
        vent__piece term = moved(curve[k]->piece[at], from);
        for (int j = 0; j < 4; ++j)
            sum.c[j] += term.c[j];
    }
    return sum;
}

vent__curve *vent__curve_sum(size_t n, vent__curve *const *curve)
{
    size_t knots = 0;
    for (size_t k = 0; k < n; ++k)
        knots += curve[k]->n;
    vent__curve *sum = curve_new(knots);
    if (!sum)
        return NULL;
    knots = 0;
    for (size_t k = 0; k < n; ++k) {
        memcpy(sum->x + knots, curve[k]->x, curve[k]->n * sizeof *sum->x);
        knots += curve[k]->n;
    }
    sum->n = vent__sort_distinct(sum->x, knots);
    sum->piece[0] = sum_of_pieces(n, curve, sum->x[0], true);
    for (size_t i = 0; i < sum->n; ++i)
        sum->piece[i + 1] = sum_of_pieces(n, curve, sum->x[i], false);
    return sum;
}

bool vent__curve_is_finite(const vent__curve *curve)
{
    for (size_t i = 0; i <= curve->n; ++i)
        for (int j = 0; j < 4; ++j)
            if (!isfinite(curve->piece[i].c[j]))
                return false;
    return true;
}

bool vent__curve_is_same(const vent__curve *a, const vent__curve *b)
{
    return a->n == b->n && memcmp(a->x, b->x, a->n * sizeof *a->x) == 0 &&
           memcmp(a->piece, b->piece, (a->n + 1) * sizeof *a->piece) == 0;
}

/* The slope of a cubic is a parabola, greatest at an end or at its vertex in between. */
static bool piece_is_falling(const vent__piece *piece, double length, double end_slope)
{
    const double *c = piece->c;
    double slope = end_slope, bend = c[2], end_bend = c[2] + 3 * c[3] * length;
    if ((bend < 0 && end_bend > 0) || (bend > 0 && end_bend < 0))
        piece_at(piece, -c[2] / (3 * c[3]), &slope);
    return c[1] < 0 && end_slope < 0 && slope < 0;
}

bool vent__curve_is_falling(const vent__curve *curve)
{
    for (size_t i = 1; i < curve->n; ++i)
        if (!piece_is_falling(&curve->piece[i], curve->x[i] - curve->x[i - 1],
                              curve->piece[i + 1].c[1]))
            return false;
    return true;
}

/* Where within 0 <= t <= length a piece that goes from above y to below it meets y: Newton's steps,
 * each one replaced by halving the bracket where it would leave it. */
static double meet(const vent__piece *piece, double length, double y)
{
    double low = 0, high = length, t = 0.5 * length;
    for (int step = 0; step < 200; ++step) {
        double slope, above = piece_at(piece, t, &slope) - y;
        if (above > 0)
            low = t;
        else
            high = t;
        double next = t - above / slope;
        if (!(next > low && next < high))
            next = low + 0.5 * (high - low);
        if (above == 0 || fabs(next - t) <= DBL_EPSILON * (fabs(piece->from) + t))
            return above == 0 ? t : next;
        t = next;
    }
    return t;
}

/* The number of the piece in which a falling curve has the value y. */
static size_t piece_at_value(const vent__curve *curve, double y)
{
    size_t low = 0, high = curve->n;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (curve->piece[middle + 1].c[0] >= y)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

static double meet_line(const vent__piece *piece, double y)
{
    return (y - piece->c[0]) / piece->c[1];
}

double vent__curve_inverse(const vent__curve *curve, double y, double *slope)
{
    size_t at = piece_at_value(curve, y);
    const vent__piece *piece = &curve->piece[at];
    bool beyond = at == 0 || at == curve->n;
    double t = beyond ? meet_line(piece, y) : meet(piece, curve->x[at] - piece->from, y);
    piece_at(piece, t, slope);
    return piece->from + t;
}

double vent__curve_descent(const vent__curve *curve)
{
    size_t at = 0;
    while (at < curve->n && curve->piece[at + 1].c[0] > 0)
        ++at;
    const vent__piece *piece = &curve->piece[at];
    if (at == 0 || (at < curve->n && curve->piece[at + 1].c[0] == 0))
        return curve->x[at];
    if (at == curve->n)
        return piece->c[1] < 0 ? piece->from + meet_line(piece, 0) : INFINITY;
    return piece->from + meet(piece, curve->x[at] - piece->from, 0);
}
