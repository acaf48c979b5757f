/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The evidence of a hypothesis: over its inputs by Laplace's approximation, over its sizes by quadrature. */
#include <stdlib.h>

#include "base/memory.h"
#include "numeric/chance.h"
#include "practice/diagnosing.h"

static const double LOG_TWO_PI = 1.8378770664093453;
static const double HOPELESS = 40; /* squares above the best fit so far */

/* ---- over the inputs, and over sizes that are free -------------------------------------------------- */

/* A free size stands as a normal deviate behind the inputs: normal beforehand, as they are, once any ratio of
 * sizes is alike likely. */
static double share_of(double deviate)
{
    return fmin(fmax(vent__normal_share(deviate), 1e-12), 1 - 1e-12);
}

static double size_at(const vent_fault *f, double share)
{
    return f->low * pow(f->high / f->low, share);
}

static bool put(vent__suspect *s, vent_error *err)
{
    bool put = true;
    for (size_t k = 0; k < s->free; ++k) {
        const vent__cause *c = &s->cause[s->freed[k]];
        put = vent__suspect_enter(s, c, size_at(&c->fault, share_of(s->x[s->n + k]))) && put;
    }
    return put && vent__suspect_put(s, s->x, err);
}

static bool solve(vent__suspect *s)
{
    vent_error none = VENT_NO_ERROR;
    if (put(s, &none))
        vent_network_solve_into(s->network, s->workspace, s->solution, &none);
    else if (none.status == VENT_OK)
        return false; /* a size that the network does not take */
    return vent__suspect_heed(s, &none);
}

static double compute(const vent__suspect *s, size_t i)
{
    vent_error none = VENT_NO_ERROR;
    return s->sign[i] * vent_solution_observe(s->solution, s->observable[i], &none);
}

/* Residuals [standard uncertainties] with the inputs at s->x; their sum of squares with what the inputs are
 * off, infinite where there is no answer. */
static double misfit(vent__suspect *s)
{
    double square = 0;
    if (!solve(s))
        return INFINITY;
    for (size_t i = 0; i < s->m; ++i) {
        const vent__read *r = &s->reading[i];
        s->computed[i] = compute(s, i);
        s->residual[i] = (r->value - s->computed[i]) / r->uncertainty;
        square += s->residual[i] * s->residual[i];
    }
    for (size_t j = 0; j < s->n + s->free; ++j)
        square += s->x[j] * s->x[j];
    return isfinite(square) ? square : INFINITY;
}

/* How an input's value answers its deviate: not at all beyond its bounds, where it stays. */
static double answer_of(const vent__doubt *d, double x)
{
    double value = vent__doubt_value(d, x);
    if (!(value >= d->low && value <= d->high))
        return 0;
    if (d->shape == VENT_SHAPE_LOG_NORMAL)
        return d->base * exp(d->spread * (x - 0.5 * d->spread)) * d->spread;
    return d->healthy == 0 ? d->uncertainty : d->base * d->spread;
}

/* Derivatives of observables by all deviates: exact by inputs, by free sizes from a solution beside this one,
 * since a size may act by several parameters. The solution is that one afterwards. */
static bool differentiate(vent__suspect *s, size_t rows, const vent_observable *observable,
                          double *jacobian)
{
    static const double BESIDE = 1e-3; /* deviates */
    size_t n = s->n, all = n + s->free;
    vent_error none = VENT_NO_ERROR;
    vent_solution_jacobian(s->solution, s->workspace, rows, observable, n, s->parameter, s->exact,
                           &none);
    if (!vent__suspect_heed(s, &none))
        return false;
    for (size_t i = 0; i < rows; ++i) {
        for (size_t j = 0; j < n; ++j)
            jacobian[i * all + j] = s->exact[i * n + j] * answer_of(&s->doubt[j], s->x[j]);
        for (size_t k = n; k < all; ++k)
            jacobian[i * all + k] = vent_solution_observe(s->solution, observable[i], &none);
    }
    for (size_t k = n; k < all; ++k) {
        double here = s->x[k];
        s->x[k] = here + BESIDE;
        bool solved = solve(s);
        s->x[k] = here;
        if (!solved)
            return false;
        for (size_t i = 0; i < rows; ++i)
            jacobian[i * all + k] =
                (vent_solution_observe(s->solution, observable[i], &none) - jacobian[i * all + k]) /
                BESIDE;
    }
    return vent__suspect_heed(s, &none);
}

static double dot(size_t n, const double *a, const double *b)
{
    double sum = 0;
    for (size_t i = 0; i < n; ++i)
        sum += a[i] * b[i];
    return sum;
}

/* Solves l l' z = b. */
static void solve_factored(size_t n, const double *l, const double *b, double *z)
{
    for (size_t i = 0; i < n; ++i)
        z[i] = (b[i] - dot(i, &l[i * n], z)) / l[i * n + i];
    for (size_t i = n; i-- > 0;) {
        for (size_t k = i + 1; k < n; ++k)
            z[i] -= l[k * n + i] * z[k];
        z[i] /= l[i * n + i];
    }
}

/* Readings are normal about a straight line in the deviates through the present point: with b = r + J x the
 * sum of squares is least, b' (1 + J J')^-1 b, at x = J' (1 + J J')^-1 b, which goes to s->x. The density
 * of the readings but for that sum; NaN where there are no derivatives. */
static double step(vent__suspect *s, double *least)
{
    size_t m = s->m, n = s->n + s->free;
    if (!differentiate(s, m, s->observable, s->jacobian))
        return NAN;
    double density = -0.5 * (double)m * LOG_TWO_PI;
    for (size_t i = 0; i < m; ++i)
        for (size_t j = 0; j < n; ++j)
            s->jacobian[i * n + j] *= s->sign[i] / s->reading[i].uncertainty;
    for (size_t i = 0; i < m; ++i)
        for (size_t k = 0; k < m; ++k)
            s->matrix[i * m + k] = (i == k) + dot(n, &s->jacobian[i * n], &s->jacobian[k * n]);
    if (!vent__cholesky(m, s->matrix, s->factor))
        return NAN;
    for (size_t i = 0; i < m; ++i) {
        s->straight[i] = s->residual[i] + dot(n, &s->jacobian[i * n], s->x);
        density -= log(s->factor[i * m + i] * s->reading[i].uncertainty);
    }
    solve_factored(m, s->factor, s->straight, s->solved);
    *least = dot(m, s->straight, s->solved);
    memcpy(s->before, s->x, n * sizeof *s->x);
    memset(s->x, 0, n * sizeof *s->x);
    for (size_t i = 0; i < m; ++i)
        for (size_t j = 0; j < n; ++j)
            s->x[j] += s->jacobian[i * n + j] * s->solved[i];
    return density;
}

/* Nobody believes an input further off: a hypothesis that needs it is no good, and need not be followed. */
static bool keep_within_reason(vent__suspect *s)
{
    static const double FURTHEST = 6;
    bool kept = true;
    for (size_t j = 0; j < s->n + s->free; ++j) {
        kept = kept && fabs(s->x[j]) <= FURTHEST;
        s->x[j] = fmin(fmax(s->x[j], -FURTHEST), FURTHEST);
    }
    return kept;
}

/* Takes the deviates back towards where they came from until the fit is no worse than there. */
static double halve_until_better(vent__suspect *s, double last)
{
    enum { MOST_HALVINGS = 6 };
    double now = misfit(s);
    for (int i = 0; i < MOST_HALVINGS && !(now <= last + 1e-3); ++i) {
        for (size_t j = 0; j < s->n + s->free; ++j)
            s->x[j] = 0.5 * (s->x[j] + s->before[j]);
        now = misfit(s);
    }
    return now;
}

/* From where the last one settled, which is mostly near, or from the design, whichever fits better. */
static double begin_settling(vent__suspect *s)
{
    double there = misfit(s);
    memcpy(s->before, s->x, s->n * sizeof *s->x);
    memset(s->x, 0, s->n * sizeof *s->x);
    double designed = misfit(s);
    if (!(there < designed))
        return designed;
    memcpy(s->x, s->before, s->n * sizeof *s->x);
    return misfit(s);
}

double vent__suspect_settle(vent__suspect *s, double *square)
{
    enum { MOST_STEPS = 12, FEWEST_STEPS = 2 };
    static const double SETTLED = 0.05, POOR = 10; /* of squares; a poor fit need not be so exact */
    double density = NAN, least = NAN;
    *square = begin_settling(s);
    for (int i = 0; i < MOST_STEPS && *square < INFINITY; ++i) {
        density = step(s, &least);
        if (isnan(density))
            break;
        bool kept = keep_within_reason(s);
        double before = *square;
        *square = halve_until_better(s, before);
        bool settled = fabs(*square - least) < SETTLED * fmax(1, least / POOR);
        bool hopeless = !kept || fmin(least, *square) > s->hopeless || !(*square < before);
        if (settled || (i >= FEWEST_STEPS && hopeless))
            break;
    }
    double likelihood = density - 0.5 * *square;
    return isfinite(likelihood) ? likelihood : -INFINITY;
}

/* Variance that the readings leave of what has this gradient by the deviates. */
static double variance_left(vent__suspect *s, const double *gradient)
{
    size_t m = s->m, n = s->n + s->free;
    for (size_t i = 0; i < m; ++i)
        s->straight[i] = dot(n, &s->jacobian[i * n], gradient);
    solve_factored(m, s->factor, s->straight, s->solved);
    return fmax(0, dot(n, gradient, gradient) - dot(m, s->straight, s->solved));
}

bool vent__suspect_expect(vent__suspect *s, vent_observable observable, double *mean,
                          double *variance)
{
    vent_error none = VENT_NO_ERROR;
    if (!solve(s))
        return false;
    *mean = vent_solution_observe(s->solution, observable, &none);
    if (!isfinite(*mean) || !differentiate(s, 1, &observable, s->before))
        return false;
    *variance = variance_left(s, s->before);
    return true;
}

/* ---- over the sizes ------------------------------------------------------------------------------------ */

static bool record(vent__suspect *s, vent__hypothesis *h, vent__trial trial)
{
    if (!vent__reserve(&h->trial, &h->trial_room, h->trials, sizeof *h->trial))
        return false;
    s->hopeless = fmin(s->hopeless, trial.square + HOPELESS);
    h->trial[h->trials] = trial;
    if (h->trials == 0 || trial.likelihood > h->trial[h->best].likelihood) {
        h->best = h->trials;
        memcpy(h->computed, s->computed, s->m * sizeof *h->computed);
    }
    ++h->trials;
    return true;
}

static double add_logarithms(double a, double b)
{
    double most = fmax(a, b);
    return most > -INFINITY ? most + log(exp(a - most) + exp(b - most)) : most;
}

/* A size among those a fault may have, and what comes of it. */
typedef struct node {
    double share; /* 0 to 1: of the way from the least size to the greatest, by ratio */
    double likelihood;
    int trial;
} node;

enum { FIRST_NODES = 9, MOST_NODES = 97 };
static const double FAR_BELOW = 9;    /* logarithms below the best: adds nothing */
static const double COARSE = 0.5;     /* logarithms between neighbours */
static const double NARROWEST = 1e-5; /* share */

static bool try_size(vent__suspect *s, vent__hypothesis *h, double size, double *likelihood)
{
    vent__trial t = {.size = {size, NAN}, .square = INFINITY, .likelihood = -INFINITY};
    if (vent__suspect_enter(s, &s->cause[0], size))
        t.likelihood = vent__suspect_settle(s, &t.square);
    vent__suspect_leave(s, &s->cause[0]);
    *likelihood = t.likelihood;
    return record(s, h, t);
}

static bool visit(vent__suspect *s, vent__hypothesis *h, double share, node *n)
{
    *n = (node){.share = share, .trial = h->trials};
    return try_size(s, h, size_at(&s->cause[0].fault, share), &n->likelihood);
}

static double slope(const node *a, const node *b)
{
    return (b->likelihood - a->likelihood) / (b->share - a->share);
}

/* Between i and i + 1 likelihood matters and does not run straight on. */
static bool is_coarse(const node *n, int count, int i, double best)
{
    double width = n[i + 1].share - n[i].share;
    double high = fmax(n[i].likelihood, n[i + 1].likelihood);
    double low = fmin(n[i].likelihood, n[i + 1].likelihood);
    if (!(high > best - FAR_BELOW) || width < NARROWEST)
        return false;
    if (!(low > -INFINITY) || high - low > COARSE)
        return true;
    double here = slope(&n[i], &n[i + 1]);
    double before = i > 0 ? slope(&n[i - 1], &n[i]) : here;
    double after = i + 2 < count ? slope(&n[i + 1], &n[i + 2]) : here;
    return width * fmax(fabs(here - before), fabs(after - here)) > 2 * COARSE;
}

static double best_of(const vent__hypothesis *h)
{
    return h->trial[h->best].likelihood;
}

/* Each size stands for the stretch half-way to its neighbours. */
static void average(vent__hypothesis *h, int count, const node *n)
{
    h->evidence = -INFINITY;
    for (int i = 0; i < count; ++i) {
        double from = i > 0 ? n[i - 1].share : n[i].share;
        double to = i + 1 < count ? n[i + 1].share : n[i].share;
        double weight = n[i].likelihood + log(0.5 * (to - from));
        h->trial[n[i].trial].weight = weight;
        h->evidence = add_logarithms(h->evidence, weight);
    }
}

/* Sizes evenly at first, then half-way wherever the likelihood is coarse. */
static bool weigh_range(vent__suspect *s, vent__hypothesis *h)
{
    node n[MOST_NODES];
    int count = 0;
    for (; count < FIRST_NODES; ++count)
        if (!visit(s, h, count / (FIRST_NODES - 1.0), &n[count]))
            return false;
    for (bool changed = true; changed && count < MOST_NODES;) {
        changed = false;
        for (int i = 0; i + 1 < count && count < MOST_NODES; ++i) {
            if (!is_coarse(n, count, i, best_of(h)))
                continue;
            double share = 0.5 * (n[i].share + n[i + 1].share);
            memmove(&n[i + 2], &n[i + 1], (size_t)(count - i - 1) * sizeof *n);
            if (!visit(s, h, share, &n[i + 1]))
                return false;
            ++count;
            ++i;
            changed = true;
        }
    }
    average(h, count, n);
    return true;
}

static size_t choices(const vent__suspect *s, const vent__cause *c)
{
    return c->fault.kind == VENT_FAULT_FAN_WRONG ? s->fans
           : c->fault.kind == VENT_FAULT_PLACE   ? s->places[c->fault.place]
                                                 : 1;
}

static bool weigh_list(vent__suspect *s, vent__hypothesis *h)
{
    size_t count = choices(s, &s->cause[0]);
    h->evidence = -INFINITY;
    for (size_t i = 0; i < count; ++i) {
        double likelihood;
        if (!try_size(s, h, (double)i, &likelihood))
            return false;
        h->trial[h->trials - 1].weight = likelihood - log((double)count);
        h->evidence = add_logarithms(h->evidence, h->trial[h->trials - 1].weight);
    }
    return true;
}

/* ---- two at once --------------------------------------------------------------------------------------- */

/* Sizes of both set free: where the fit is best from several sizes of the second, beginning with the size
 * the first had alone. */
static vent__trial settle_free(vent__suspect *s, const double *size)
{
    static const double starts[] = {-1.2, 0, 1.2};
    vent__trial best = {.size = {size[0], size[1]}, .likelihood = -INFINITY, .square = INFINITY};
    for (size_t start = 0; start < sizeof starts / sizeof *starts; ++start) {
        memset(s->x, 0, s->n * sizeof *s->x);
        for (size_t k = 0; k < s->free; ++k)
            s->x[s->n + k] = s->freed[k] == 0 ? s->first_deviate : starts[start];
        double square, likelihood = vent__suspect_settle(s, &square);
        if (!(likelihood > best.likelihood + 1e-3))
            continue;
        best.likelihood = likelihood;
        best.square = square - dot(s->free, &s->x[s->n], &s->x[s->n]); /* sizes are no misfit */
        memcpy(s->best, s->computed, s->m * sizeof *s->best);
        for (size_t k = 0; k < s->free; ++k) {
            memset(s->before, 0, (s->n + s->free) * sizeof *s->before);
            s->before[s->n + k] = 1;
            best.deviate[s->freed[k]] = s->x[s->n + k];
            best.spread[s->freed[k]] = sqrt(variance_left(s, s->before));
            best.size[s->freed[k]] =
                size_at(&s->cause[s->freed[k]].fault, share_of(s->x[s->n + k]));
        }
        if (s->free == 0 || (s->free == 1 && s->freed[0] == 0))
            break; /* all starts are one */
    }
    memcpy(s->computed, s->best, s->m * sizeof *s->best);
    return best;
}

static bool weigh_two(vent__suspect *s, vent__hypothesis *h)
{
    const vent__cause *a = &s->cause[0], *b = &s->cause[1];
    vent__suspect_free(s);
    h->evidence = -INFINITY;
    size_t of_a = choices(s, a), of_b = choices(s, b);
    for (size_t i = 0; i < of_a * of_b; ++i) {
        const double size[] = {(double)(i / of_b), (double)(i % of_b)};
        bool entered = vent__suspect_enter_listed(s, size);
        vent__trial t = {.likelihood = -INFINITY, .square = INFINITY};
        if (entered)
            t = settle_free(s, size);
        t.weight = t.likelihood - log((double)(of_a * of_b));
        h->evidence = add_logarithms(h->evidence, t.weight);
        bool recorded = record(s, h, t);
        vent__suspect_leave(s, b);
        vent__suspect_leave(s, a);
        if (!recorded)
            return false;
    }
    return true;
}

bool vent__weigh(vent__suspect *s, vent__hypothesis *h)
{
    h->computed = calloc(s->m + 1, sizeof *h->computed);
    s->first_deviate = h->start;
    bool weighed =
        h->computed && (h->count > 1                                   ? weigh_two(s, h)
                        : vent__fault_has_size(s->cause[0].fault.kind) ? weigh_range(s, h)
                                                                       : weigh_list(s, h));
    weighed = weighed && !s->no_memory;
    for (int i = 0; weighed && i < h->trials; ++i)
        h->trial[i].weight = h->evidence > -INFINITY ? exp(h->trial[i].weight - h->evidence) : 0;
    return weighed;
}
