/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "practice/sampling.h"

#include <stdlib.h>
#include <string.h>
#include <ventstack/many.h>

#include "base/fail.h"
#include "numeric/chance.h"
#include "numeric/least_squares.h"

/* Samples solved at a time, whose inputs stay within the cache; and how far apart the rows stand, not by a
 * power of two, which would put all their beginnings into the same few lines of it. */
enum { BATCH = 2048, PITCH = BATCH + 16 };

/* Everything one run of sampling needs, in one piece of memory. */
typedef struct sampler {
    const vent__sampled *s;
    double *memory;
    double *factor; /* inputs x inputs: deviates from independent ones; NULL where independent */
    double *uncertainty;         /* inputs */
    vent_parameter_range *range; /* inputs */
    size_t *dimension;           /* inputs: which of Sobol's dimensions, or none */
    double *in;                  /* inputs x PITCH, an input a row: shares, deviates, values */
    double *out;                 /* outputs x samples, an output a row */
    vent_varied *varied;         /* inputs: where each stands in `in` */
    vent_observed *observed;     /* outputs */
    vent__sobol sobol;
} sampler;

static const size_t no_dimension = (size_t)-1;

static void sampler_free(sampler *a)
{
    free(a->memory);
    free(a->range);
    free(a->dimension);
    free(a->varied);
    free(a->observed);
    free(a->out);
    if (a->sobol.state)
        vent__sobol_end(&a->sobol);
}

static bool is_independent(const vent__sampled *s)
{
    for (size_t i = 0; i < s->inputs; ++i)
        for (size_t j = 0; j < i; ++j)
            if (s->covariance[i * s->inputs + j] != 0)
                return false;
    return true;
}

/* Factor of the correlations; what learning has taken all doubt from stays at its value. */
static void find_factor(sampler *a)
{
    size_t n = a->s->inputs;
    double *r = a->in; /* not yet in use, and longer */
    for (size_t i = 0; i < n; ++i)
        for (size_t j = 0; j < n; ++j) {
            double scale = a->uncertainty[i] * a->uncertainty[j];
            r[i * n + j] = i == j ? 1 : scale > 0 ? a->s->covariance[i * n + j] / scale : 0;
        }
    if (!vent__cholesky(n, r, a->factor))
        a->factor = NULL; /* cannot be: the covariance was checked; rounding alone */
}

/* Gives the weightiest inputs the dimensions of Sobol's points, in falling order. */
static void share_dimensions(sampler *a, unsigned dimensions)
{
    for (size_t i = 0; i < a->s->inputs; ++i)
        a->dimension[i] = no_dimension;
    for (unsigned d = 0; d < dimensions; ++d) {
        size_t best = no_dimension;
        for (size_t i = 0; i < a->s->inputs; ++i)
            if (a->dimension[i] == no_dimension &&
                (best == no_dimension || a->s->weight[i] > a->s->weight[best]))
                best = i;
        a->dimension[best] = d;
    }
}

static bool sampler_new(sampler *a, const vent__sampled *s)
{
    size_t n = s->inputs, samples = (size_t)s->how.samples;
    *a = (sampler){.s = s};
    size_t batch = PITCH > n ? PITCH : n;
    a->memory = malloc((n * n + n + n * batch) * sizeof *a->memory);
    a->range = malloc(n * sizeof *a->range);
    a->dimension = malloc(n * sizeof *a->dimension);
    a->varied = malloc(n * sizeof *a->varied);
    a->observed = malloc((s->outputs + 1) * sizeof *a->observed);
    a->out = malloc((s->outputs * samples + 1) * sizeof *a->out);
    if (!a->memory || !a->range || !a->dimension || !a->varied || !a->observed || !a->out)
        return false;
    a->factor = a->memory;
    a->uncertainty = a->factor + n * n;
    a->in = a->uncertainty + n;
    for (size_t i = 0; i < n; ++i) {
        a->uncertainty[i] = sqrt(s->covariance[i * n + i]);
        vent_network_parameter_range(s->network, s->input[i].parameter, &a->range[i]);
        a->varied[i] = (vent_varied){s->input[i].parameter, a->in + i * PITCH, 1};
    }
    for (size_t k = 0; k < s->outputs; ++k)
        a->observed[k] = (vent_observed){s->output[k], NULL, 1};
    if (is_independent(s))
        a->factor = NULL;
    else
        find_factor(a);
    unsigned dimensions = n < VENT__SOBOL_MOST ? (unsigned)n : VENT__SOBOL_MOST;
    if (s->how.kind != VENT_SAMPLING_QUASI)
        dimensions = 0;
    share_dimensions(a, dimensions);
    return dimensions == 0 || vent__sobol_begin(&a->sobol, dimensions, s->how.seed);
}

/* Shares within (0, 1): Sobol's for the inputs that have one of his dimensions, random for the others. */
static void draw(sampler *a, uint64_t first, size_t count)
{
    size_t n = a->s->inputs;
    double point[VENT__SOBOL_MOST];
    for (size_t i = 0; i < n; ++i)
        if (a->dimension[i] == no_dimension)
            vent__random_shares(count, a->s->how.seed, first * n + i, n, a->in + i * PITCH);
    for (size_t c = 0; a->sobol.state && c < count; ++c) {
        vent__sobol_next(&a->sobol, point);
        for (size_t i = 0; i < n; ++i)
            if (a->dimension[i] != no_dimension)
                a->in[i * PITCH + c] = point[a->dimension[i]];
    }
}

/* Makes independent deviates hang together: rows from the last one up, as each needs those before it. */
static void correlate(const sampler *a, size_t count)
{
    size_t n = a->s->inputs;
    for (size_t i = n; i-- > 0;) {
        double *row = a->in + i * PITCH;
        for (size_t c = 0; c < count; ++c)
            row[c] *= a->factor[i * n + i];
        for (size_t j = 0; j < i; ++j)
            for (size_t c = 0; c < count; ++c)
                row[c] += a->factor[i * n + j] * a->in[j * PITCH + c];
    }
}

/* The value above 0 of given mean and standard deviation whose logarithm is normal. */
static void shape_log_normal(size_t count, double *z, double mean, double deviation)
{
    double ratio = deviation / mean, variance = log1p(ratio * ratio), sigma = sqrt(variance);
    const double most = 700; /* of a normal number's logarithm: bounds lie within */
    for (size_t c = 0; c < count; ++c) {
        double x = sigma * z[c] - variance / 2;
        z[c] = x > most ? most : x < -most ? -most : x;
    }
    vent__exponentials(count, z);
    for (size_t c = 0; c < count; ++c)
        z[c] *= mean;
}

/* Turns an input's deviates into values of its shape, within its parameter's bounds. */
static void shape(const sampler *a, size_t i, size_t count)
{
    double value = a->s->value[i], u = a->uncertainty[i], *z = a->in + i * PITCH;
    double low = a->range[i].low, high = a->range[i].high;
    switch (a->s->input[i].shape) {
    case VENT_SHAPE_LOG_NORMAL:
        shape_log_normal(count, z, value, u);
        break;
    case VENT_SHAPE_RECTANGULAR:
        for (size_t c = 0; c < count; ++c)
            z[c] = value + sqrt(3) * u * (2 * vent__normal_share(z[c]) - 1);
        break;
    default:
        for (size_t c = 0; c < count; ++c)
            z[c] = value + u * z[c];
    }
    for (size_t c = 0; c < count; ++c)
        z[c] = z[c] < low ? low : z[c] > high ? high : z[c];
}

static void fill_batch(sampler *a, uint64_t first, size_t count)
{
    draw(a, first, count);
    for (size_t i = 0; i < a->s->inputs; ++i)
        vent__normal_quantiles(count, a->in + i * PITCH);
    if (a->factor)
        correlate(a, count);
    for (size_t i = 0; i < a->s->inputs; ++i)
        shape(a, i, count);
}

/* Outputs of samples first to first + count, NaN where there is no answer. False where nothing can be
 * solved, whatever the inputs. */
static bool solve_batch(const sampler *a, size_t first, size_t count, vent_error *err)
{
    const vent__sampled *s = a->s;
    for (size_t k = 0; k < s->outputs; ++k)
        a->observed[k].value = a->out + k * (size_t)s->how.samples + first;
    vent_error one = VENT_NO_ERROR; /* a sample without an answer is counted, and no more */
    size_t failed = vent_network_solve_many_from(s->network, s->solution, count, s->inputs,
                                                 a->varied, s->outputs, a->observed, NULL, &one);
    if (failed == count && one.status == VENT_E_MEMORY) {
        if (err)
            *err = one;
        return false;
    }
    return true;
}

/* ---- what came out --------------------------------------------------------------------------- */

/* Puts the k-th smallest at its place, smaller ones before it, greater ones behind (Hoare's find, as
 * Wirth writes it). */
static double nth(double *x, size_t n, size_t wanted)
{
    ptrdiff_t low = 0, high = (ptrdiff_t)n - 1, k = (ptrdiff_t)wanted;
    while (low < high) {
        double pivot = x[k];
        ptrdiff_t i = low, j = high;
        do {
            while (x[i] < pivot)
                ++i;
            while (pivot < x[j])
                --j;
            if (i <= j) {
                double from = x[i];
                x[i++] = x[j];
                x[j--] = from;
            }
        } while (i <= j);
        if (j < k)
            low = i;
        if (k < i)
            high = j;
    }
    return x[k];
}

/* Moves what is a number to the front; tells how many there are. */
static size_t keep_numbers(double *x, size_t n)
{
    size_t kept = 0;
    for (size_t i = 0; i < n; ++i)
        if (!isnan(x[i]))
            x[kept++] = x[i];
    return kept;
}

static vent_simulated summarize(double *x, size_t samples)
{
    size_t n = keep_numbers(x, samples);
    vent_simulated r = {NAN, NAN, NAN, NAN, NAN, (int64_t)(samples - n)};
    if (n == 0)
        return r;
    double sum = 0, squares = 0;
    for (size_t i = 0; i < n; ++i)
        sum += x[i] - x[0];
    double mean = sum / (double)n, first = x[0];
    for (size_t i = 0; i < n; ++i)
        squares += (x[i] - first - mean) * (x[i] - first - mean);
    r.mean = first + mean;
    r.uncertainty = n > 1 ? sqrt(squares / (double)(n - 1)) : 0;
    r.low = nth(x, n, (size_t)(0.025 * (double)n));
    r.median = nth(x, n, n / 2);
    r.high = nth(x, n, (size_t)fmin(0.975 * (double)n, (double)(n - 1)));
    return r;
}

static bool conclude(const sampler *a, vent_simulated *results, double *samples,
                     const char *function, vent_error *err)
{
    size_t n = (size_t)a->s->how.samples, outputs = a->s->outputs;
    for (size_t k = 0; samples && k < outputs; ++k)
        for (size_t i = 0; i < n; ++i)
            samples[i * outputs + k] = a->out[k * n + i];
    for (size_t k = 0; k < outputs; ++k) {
        results[k] = summarize(a->out + k * n, n);
        if (results[k].failed == a->s->how.samples)
            return vent__fail(err, VENT_E_NO_OPERATING_POINT, function, "observables", (int64_t)k,
                              NAN, NAN, NAN,
                              "not one of %zu samples has an answer for observable %zu", n, k);
    }
    return true;
}

bool vent__sample(const vent__sampled *s, vent_simulated *results, double *samples,
                  const char *function, vent_error *err)
{
    sampler a;
    size_t n = (size_t)s->how.samples;
    bool done = sampler_new(&a, s);
    if (!done)
        vent__fail(err, VENT_E_MEMORY, function, "how.samples", -1, (double)n, NAN, NAN,
                   "no memory for %zu samples of %zu results", n, s->outputs);
    for (size_t first = 0; done && first < n; first += BATCH) {
        size_t count = n - first < BATCH ? n - first : BATCH;
        fill_batch(&a, first, count);
        done = solve_batch(&a, first, count, err);
    }
    done = done && conclude(&a, results, samples, function, err);
    sampler_free(&a);
    return done;
}
