/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "numeric/least_squares.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_ITERATIONS = 2000, MOST_SWEEPS = 60, QUIET_STEPS = 3 };

static const double RANK_TOLERANCE = 1e-9; /* gradients hold 1e-10; what is below says nothing */
static const double ROUNDING = 1e-12;      /* of a sum of squares, with room */
static const double FIRST_DAMPING =
    1; /* in squares of the greatest scaled column: steps begin short */
static const double NO_GAIN = 1e-20; /* share of the sum of squares not worth a step */
static const double EXACT =
    1e-12; /* share of what residuals are differences of: models hold no more */

static double dot(size_t n, const double *a, const double *b)
{
    double sum = 0;
    for (size_t i = 0; i < n; ++i)
        sum += a[i] * b[i];
    return sum;
}

/* ---- singular values ------------------------------------------------------------------------ */

static void rotate(size_t n, double *a, double *b, double c, double s)
{
    for (size_t i = 0; i < n; ++i) {
        double from = a[i];
        a[i] = c * from - s * b[i];
        b[i] = s * from + c * b[i];
    }
}

/* Turns two columns so that they stand at right angles; false where they did. */
static bool straighten(size_t m, size_t n, double *a, double *b, double *va, double *vb)
{
    double aa = dot(m, a, a), bb = dot(m, b, b), ab = dot(m, a, b);
    if (!(fabs(ab) > DBL_EPSILON * sqrt(aa) * sqrt(bb)) || ab == 0)
        return false;
    double zeta = (bb - aa) / (2 * ab);
    double t = copysign(1, zeta) / (fabs(zeta) + hypot(1, zeta));
    double c = 1 / hypot(1, t);
    rotate(m, a, b, c, c * t);
    rotate(n, va, vb, c, c * t);
    return true;
}

static void swap(size_t n, double *a, double *b)
{
    for (size_t i = 0; i < n; ++i) {
        double from = a[i];
        a[i] = b[i];
        b[i] = from;
    }
}

static void sort_falling(size_t m, size_t n, double *columns, double *singular, double *vectors)
{
    for (size_t i = 0; i < n; ++i) {
        size_t greatest = i;
        for (size_t j = i + 1; j < n; ++j)
            if (singular[j] > singular[greatest])
                greatest = j;
        if (greatest == i)
            continue;
        swap(1, singular + i, singular + greatest);
        swap(m, columns + i * m, columns + greatest * m);
        swap(n, vectors + i * n, vectors + greatest * n);
    }
}

void vent__singular_values(size_t m, size_t n, double *columns, double *singular, double *vectors)
{
    for (size_t i = 0; i < n * n; ++i)
        vectors[i] = i % (n + 1) == 0;
    bool turned = true;
    for (int sweep = 0; turned && sweep < MOST_SWEEPS; ++sweep) {
        turned = false;
        for (size_t i = 0; i + 1 < n; ++i)
            for (size_t j = i + 1; j < n; ++j)
                turned |= straighten(m, n, columns + i * m, columns + j * m, vectors + i * n,
                                     vectors + j * n);
    }
    for (size_t j = 0; j < n; ++j)
        singular[j] = sqrt(dot(m, columns + j * m, columns + j * m));
    sort_falling(m, n, columns, singular, vectors);
}

bool vent__cholesky(size_t n, const double *a, double *l)
{
    memset(l, 0, n * n * sizeof *l);
    for (size_t j = 0; j < n; ++j) {
        double rest = a[j * n + j] - dot(j, l + j * n, l + j * n);
        double rounding = 1e-12 * a[j * n + j];
        if (!(rest >= -rounding))
            return false;
        double pivot = rest > rounding ? sqrt(rest) : 0;
        l[j * n + j] = pivot;
        for (size_t i = j + 1; i < n; ++i) {
            double value = a[i * n + j] - dot(j, l + i * n, l + j * n);
            if (pivot == 0 && fabs(value) > 1e-6 * sqrt(a[i * n + i] * a[j * n + j]))
                return false;
            l[i * n + j] = pivot == 0 ? 0 : value / pivot;
        }
    }
    return true;
}

/* ---- one step ------------------------------------------------------------------------------- */

typedef struct work {
    double *memory;
    double *scale;     /* n: greatest norm of each column so far */
    double *gradient;  /* n: J'f */
    double *step;      /* n */
    double *trial;     /* n */
    double *predicted; /* m: residuals by the linear model */
    double *residual;  /* m, at the trial */
    double *columns;   /* m x n: the free unknowns' columns, scaled, then left vectors */
    double *singular;  /* n */
    double *vectors;   /* n x n */
    size_t *free;      /* n: numbers of the unknowns that may move */
    size_t free_count;
} work;

static bool work_new(work *w, size_t m, size_t n)
{
    w->memory = malloc((5 * n + 2 * m + m * n + n * n + 1) * sizeof(double));
    w->free = malloc((n + 1) * sizeof(size_t));
    if (!w->memory || !w->free)
        return false;
    double *next = w->memory;
    double **vector[] = {&w->scale, &w->gradient, &w->step, &w->trial, &w->singular};
    for (size_t i = 0; i < sizeof vector / sizeof *vector; ++i, next += n)
        *vector[i] = next;
    w->predicted = next;
    w->residual = next + m;
    w->columns = next + 2 * m;
    w->vectors = w->columns + m * n;
    for (size_t j = 0; j < n; ++j)
        w->scale[j] = 0;
    return true;
}

static void work_free(work *w)
{
    free(w->memory);
    free(w->free);
}

static double bounded(const vent__least_squares *p, size_t j, double x)
{
    if (p->low && x < p->low[j])
        return p->low[j];
    if (p->high && x > p->high[j])
        return p->high[j];
    return x;
}

static void choose_free(const vent__least_squares *p, work *w)
{
    w->free_count = 0;
    for (size_t j = 0; j < p->n; ++j) {
        double norm = 0;
        w->gradient[j] = 0;
        for (size_t i = 0; i < p->m; ++i) {
            double d = p->jacobian[i * p->n + j];
            norm += d * d;
            w->gradient[j] += d * p->residual[i];
        }
        w->scale[j] = fmax(w->scale[j], sqrt(norm));
        bool at_low = p->low && p->x[j] <= p->low[j] && w->gradient[j] > 0;
        bool at_high = p->high && p->x[j] >= p->high[j] && w->gradient[j] < 0;
        if (w->scale[j] > 0 && !at_low && !at_high)
            w->free[w->free_count++] = j;
    }
}

static void decompose(const vent__least_squares *p, work *w)
{
    for (size_t k = 0; k < w->free_count; ++k)
        for (size_t i = 0; i < p->m; ++i)
            w->columns[k * p->m + i] = p->jacobian[i * p->n + w->free[k]] / w->scale[w->free[k]];
    vent__singular_values(p->m, w->free_count, w->columns, w->singular, w->vectors);
}

/* The damped step, cut off at the bounds; tells by how much the linear model says it helps. */
static double step_to_trial(const vent__least_squares *p, work *w, double damping)
{
    size_t n = w->free_count;
    memset(w->step, 0, p->n * sizeof *w->step);
    for (size_t k = 0; k < n; ++k) {
        double s = w->singular[k];
        if (!(s > 1e-13 * w->singular[0]))
            break;
        double along = -dot(p->m, w->columns + k * p->m, p->residual) / (s * s + damping);
        for (size_t j = 0; j < n; ++j)
            w->step[w->free[j]] += along * w->vectors[k * n + j] / w->scale[w->free[j]];
    }
    for (size_t j = 0; j < p->n; ++j) {
        w->trial[j] = bounded(p, j, p->x[j] + w->step[j]);
        w->step[j] = w->trial[j] - p->x[j];
    }
    double gain = 0;
    for (size_t i = 0; i < p->m; ++i) {
        double change = dot(p->n, p->jacobian + i * p->n, w->step);
        gain -= change * (2 * p->residual[i] + change);
    }
    return gain;
}

static bool all_finite(size_t n, const double *x)
{
    for (size_t i = 0; i < n; ++i)
        if (!isfinite(x[i]))
            return false;
    return true;
}

static bool evaluate(const vent__least_squares *p, const double *x, double *residual,
                     double *jacobian)
{
    return all_finite(p->n, x) && p->residuals(p->context, x, residual, jacobian) &&
           all_finite(p->m, residual) && (!jacobian || all_finite(p->m * p->n, jacobian));
}

/* Moves to the trial; false where its Jacobian cannot be had. */
static bool accept(vent__least_squares *p, work *w, double square)
{
    if (!evaluate(p, w->trial, p->residual, p->jacobian))
        return false;
    memcpy(p->x, w->trial, p->n * sizeof *p->x);
    p->square = square;
    return true;
}

/* ---- the iteration (Nielsen's rule for the damping) ------------------------------------------ */

/* Near the end a gain drowns in rounding: steps are taken there unseen, while they still shrink. */
static bool is_quiet(const vent__least_squares *p, double gain, double actual)
{
    return fabs(gain) <= 1e-9 * p->square && actual >= -ROUNDING * p->square;
}

static double next_damping(double damping, double quality)
{
    double next = damping * fmax(1.0 / 3, 1 - quality * quality * quality);
    return next < 1e-15 ? 0 : next;
}

/* Size of the unknowns in residuals: what these are differences of. */
static double size_of(const vent__least_squares *p, const work *w, const double *x)
{
    double size = 0;
    for (size_t j = 0; j < p->n; ++j)
        size = hypot(size, w->scale[j] * x[j]);
    return size;
}

/* So much that the first step is short against where it begins: a far start may lie across a ridge. */
static double first_damping(const vent__least_squares *p, work *w)
{
    double damping = FIRST_DAMPING;
    choose_free(p, w);
    decompose(p, w);
    double reach = 0.3 * fmax(1, size_of(p, w, p->x));
    while (w->free_count > 0 && damping < 1e20) {
        step_to_trial(p, w, damping);
        if (size_of(p, w, w->step) <= reach)
            break;
        damping *= 2;
    }
    return damping;
}

/* Nothing is left to be gained but rounding. */
static bool is_done(const vent__least_squares *p, const work *w, double gain)
{
    double exact = EXACT * size_of(p, w, p->x);
    return w->free_count == 0 || p->square <= exact * exact || fabs(gain) <= NO_GAIN * p->square;
}

static int iterate(vent__least_squares *p, work *w)
{
    double damping = first_damping(p, w), growth = 2, last_gain = INFINITY;
    int no_smaller = 0;
    bool moved = true;
    for (p->iterations = 0; p->iterations < MOST_ITERATIONS; ++p->iterations) {
        if (moved) {
            choose_free(p, w);
            decompose(p, w);
        }
        double gain = step_to_trial(p, w, damping), square = INFINITY;
        if (is_done(p, w, gain))
            return VENT__FIT_DONE;
        if (evaluate(p, w->trial, w->residual, NULL))
            square = dot(p->m, w->residual, w->residual);
        double actual = p->square - square;
        bool quiet = is_quiet(p, gain, actual);
        moved = (gain > 0 && actual > 0) || quiet;
        if (!moved) {
            damping = fmax(damping * growth, FIRST_DAMPING * 1e-6);
            growth *= 2;
            if (damping > 1e40)
                return fabs(gain) <= 1e-9 * p->square ? VENT__FIT_DONE : VENT__FIT_STUCK;
            continue;
        }
        if (!accept(p, w, square))
            return VENT__FIT_STUCK;
        no_smaller = quiet && fabs(gain) > 0.8 * last_gain ? no_smaller + 1 : 0;
        if (no_smaller > QUIET_STEPS)
            return VENT__FIT_DONE;
        last_gain = fabs(gain);
        damping = next_damping(damping, quiet ? 1 : 2 * actual / gain - 1);
        growth = 2;
    }
    return VENT__FIT_STUCK;
}

int vent__least_squares_solve(vent__least_squares *problem)
{
    vent__least_squares *p = problem;
    work w = {0};
    int status = VENT__FIT_MEMORY;
    p->iterations = 0;
    if (work_new(&w, p->m, p->n)) {
        for (size_t j = 0; j < p->n; ++j)
            p->x[j] = bounded(p, j, p->x[j]);
        status = VENT__FIT_NO_START;
        if (evaluate(p, p->x, p->residual, p->jacobian)) {
            p->square = dot(p->m, p->residual, p->residual);
            status = iterate(p, &w);
        }
    }
    work_free(&w);
    return status;
}

/* ---- what the data say ---------------------------------------------------------------------- */

static void find_determined(vent__determination *d)
{
    size_t n = d->n;
    for (size_t j = 0; j < n; ++j) {
        double lost = 0;
        for (size_t k = d->rank; k < n; ++k)
            lost += d->direction[k * n + j] * d->direction[k * n + j];
        d->determined[j] = lost < 1e-8;
    }
}

static void fill_covariance(vent__determination *d, const double *scale)
{
    size_t n = d->n;
    for (size_t i = 0; i < n; ++i)
        for (size_t j = 0; j < n; ++j) {
            double sum = 0;
            for (size_t k = 0; k < d->rank; ++k)
                sum += d->direction[k * n + i] * d->direction[k * n + j] /
                       (d->singular[k] * d->singular[k]);
            bool known = d->determined[i] && d->determined[j];
            d->covariance[i * n + j] = known ? sum * scale[i] * scale[j] : NAN;
        }
}

bool vent__determine(size_t m, size_t n, const double *jacobian, const double *scale,
                     vent__determination *d)
{
    *d = (vent__determination){.n = n};
    double *columns = malloc((m * n + 1) * sizeof *columns);
    d->singular = malloc((n + 2 * n * n + 1) * sizeof *d->singular);
    d->determined = malloc(n + 1);
    if (!columns || !d->singular || !d->determined) {
        free(columns);
        vent__determination_free(d);
        return false;
    }
    d->direction = d->singular + n;
    d->covariance = d->direction + n * n;
    for (size_t j = 0; j < n; ++j)
        for (size_t i = 0; i < m; ++i)
            columns[j * m + i] = jacobian[i * n + j] * scale[j];
    vent__singular_values(m, n, columns, d->singular, d->direction);
    while (d->rank < n && d->singular[d->rank] > RANK_TOLERANCE * d->singular[0])
        ++d->rank;
    find_determined(d);
    fill_covariance(d, scale);
    free(columns);
    return true;
}

void vent__determination_free(vent__determination *d)
{
    free(d->singular);
    free(d->determined);
    *d = (vent__determination){0};
}
