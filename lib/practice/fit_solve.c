/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Solving a fit: residuals of all states, the search, the answer. */
#include <stdio.h>
#include <stdlib.h>

#include "numeric/chance.h"
#include "practice/fitting.h"

static const double TWO_SIDED_95 = 1.959963984540054; /* normal quantile of 97.5 % */
static const double ONE_SIDED_95 = 1.644853626951473; /* and of 95 % */
static const double DECADES = 1e3; /* from this span of bounds on, a positive unknown's logarithm is
                                      what is searched */

/* ---- residuals of a problem ------------------------------------------------------------------ */

/* What one state needs to be solved again and again. */
typedef struct bench {
    vent_network *network;
    vent_workspace *workspace;
    vent_solution *solution;
    bool *acts;                /* which unknowns act here: held or absent ones do not */
    vent_parameter *parameter; /* those that act, one after the other */
    size_t acting, readings;
    vent_observable *observable; /* of the state's readings */
    size_t *row;                 /* their numbers among all readings */
    double *jacobian;            /* readings x acting */
} bench;

typedef struct problem {
    const vent_fit *fit;
    size_t n, m, priors;
    bench *bench;
    bool *logarithmic; /* unknowns searched by their logarithm */
    double *factor;    /* priors x priors: Cholesky's of their correlations; NULL where none */
    vent_error last;   /* why the last evaluation failed */
    bool no_memory;    /* of any call since the search began */
} problem;

static void bench_free(bench *b)
{
    vent_network_free(b->network);
    vent_workspace_free(b->workspace);
    vent_solution_free(b->solution);
    free(b->acts);
    free(b->parameter);
    free(b->observable);
    free(b->row);
    free(b->jacobian);
}

static void choose_acting(bench *b, const vent_fit *fit, const vent__fit_state *s)
{
    for (int j = 0; j < fit->unknown_count; ++j) {
        vent_parameter p = fit->unknowns[j].parameter;
        b->acts[j] =
            !vent__is_held(s, p) && vent_network_parameter_name(s->network, p, 0, NULL) > 0;
        if (b->acts[j])
            b->parameter[b->acting++] = p;
    }
}

static void choose_readings(bench *b, const vent_fit *fit, int number)
{
    for (int i = 0; i < fit->reading_count; ++i)
        if (fit->readings[i].state == number) {
            b->observable[b->readings] = fit->readings[i].observable;
            b->row[b->readings++] = (size_t)i;
        }
}

static bool bench_new(bench *b, const vent_fit *fit, int number, vent_error *err)
{
    size_t n = (size_t)fit->unknown_count + 1, m = (size_t)fit->reading_count + 1;
    const vent__fit_state *s = &fit->states[number];
    b->acts = calloc(n, sizeof *b->acts);
    b->parameter = calloc(n, sizeof *b->parameter);
    b->observable = calloc(m, sizeof *b->observable);
    b->row = calloc(m, sizeof *b->row);
    if (!b->acts || !b->parameter || !b->observable || !b->row)
        return vent__no_memory(err, "vent_fit_solve");
    choose_acting(b, fit, s);
    choose_readings(b, fit, number);
    b->jacobian = calloc(b->readings * b->acting + 1, sizeof *b->jacobian);
    if (!b->jacobian)
        return vent__no_memory(err, "vent_fit_solve");
    b->network = vent_network_copy(s->network, err);
    b->workspace = vent_workspace_new(b->network, err);
    b->solution = vent_network_solve(b->network, b->workspace, err);
    return b->solution != NULL;
}

static double unknown_value(const problem *p, size_t j, double x)
{
    const vent__sought *u = &p->fit->unknowns[j];
    return p->logarithmic[j] ? fmin(fmax(exp(x), u->low), u->high) : x;
}

static bool put_unknowns(problem *p, const bench *b, const double *x, vent_error *err)
{
    bool put = true;
    for (size_t j = 0; put && j < p->n; ++j)
        if (b->acts[j])
            put = vent_network_set(b->network, p->fit->unknowns[j].parameter,
                                   unknown_value(p, j, x[j]), err);
    return put;
}

/* Derivatives of this state's residuals by what is searched. */
static bool differentiate(problem *p, const bench *b, const double *x, double *jacobian,
                          vent_error *err)
{
    if (!vent_solution_jacobian(b->solution, b->workspace, b->readings, b->observable, b->acting,
                                b->parameter, b->jacobian, err))
        return false;
    for (size_t i = 0; i < b->readings; ++i) {
        double *row = jacobian + b->row[i] * p->n;
        double uncertainty = p->fit->readings[b->row[i]].uncertainty;
        size_t column = 0;
        for (size_t j = 0; j < p->n; ++j) {
            row[j] = 0;
            if (!b->acts[j])
                continue;
            double d = b->jacobian[i * b->acting + column++] / uncertainty;
            row[j] = p->logarithmic[j] ? d * unknown_value(p, j, x[j]) : d;
        }
    }
    return true;
}

static bool state_residuals(problem *p, const bench *b, const double *x, double *residual,
                            double *jacobian, vent_error *err)
{
    if (!put_unknowns(p, b, x, err) ||
        !vent_network_solve_into(b->network, b->workspace, b->solution, err))
        return false;
    for (size_t i = 0; i < b->readings; ++i) {
        const vent__taken *r = &p->fit->readings[b->row[i]];
        double computed = vent_solution_observe(b->solution, r->observable, err);
        residual[b->row[i]] = (computed - r->value) / r->uncertainty;
        if (!isfinite(computed))
            return vent__fail(err, VENT_E_ARGUMENT, "vent_fit_solve", "fit", (int64_t)b->row[i],
                              computed, NAN, NAN, "the network has no number for reading %zu",
                              b->row[i]);
    }
    return !jacobian || differentiate(p, b, x, jacobian, err);
}

/* From deviations that hang together to independent ones: row k of `rows`, each `width` wide, less what
 * the rows before it say of it. */
static void untie(const problem *p, size_t width, double *rows)
{
    for (size_t k = 0; k < p->priors; ++k)
        for (size_t c = 0; c < width; ++c) {
            double sum = rows[k * width + c];
            for (size_t j = 0; j < k; ++j)
                sum -= p->factor[k * p->priors + j] * rows[j * width + c];
            rows[k * width + c] = sum / p->factor[k * p->priors + k];
        }
}

static void prior_residuals(const problem *p, const double *x, double *residual, double *jacobian)
{
    size_t row = p->m;
    for (size_t j = 0; j < p->n; ++j) {
        const vent__sought *u = &p->fit->unknowns[j];
        if (isnan(u->prior))
            continue;
        double value = unknown_value(p, j, x[j]);
        residual[row] = (value - u->prior) / u->prior_uncertainty;
        if (jacobian) {
            memset(jacobian + row * p->n, 0, p->n * sizeof *jacobian);
            jacobian[row * p->n + j] = (p->logarithmic[j] ? value : 1) / u->prior_uncertainty;
        }
        ++row;
    }
    if (p->factor)
        untie(p, 1, residual + p->m);
    if (p->factor && jacobian)
        untie(p, p->n, jacobian + p->m * p->n);
}

static bool residuals(void *context, const double *x, double *residual, double *jacobian)
{
    problem *p = context;
    p->last = (vent_error)VENT_NO_ERROR;
    for (int i = 0; i < p->fit->state_count; ++i)
        if (p->bench[i].readings > 0 &&
            !state_residuals(p, &p->bench[i], x, residual, jacobian, &p->last)) {
            p->no_memory |= p->last.status == VENT_E_MEMORY;
            return false;
        }
    prior_residuals(p, x, residual, jacobian);
    return true;
}

static void problem_free(problem *p)
{
    for (int i = 0; p->bench && i < p->fit->state_count; ++i)
        bench_free(&p->bench[i]);
    free(p->bench);
    free(p->logarithmic);
    free(p->factor);
}

/* The row of an unknown's prior among all priors. */
static size_t prior_row(const vent_fit *fit, int unknown)
{
    size_t row = 0;
    for (int j = 0; j < unknown; ++j)
        row += isnan(fit->unknowns[j].prior) ? 0 : 1;
    return row;
}

static bool factor_priors(problem *p, vent_error *err)
{
    const vent_fit *fit = p->fit;
    size_t n = p->priors;
    double *r = calloc(n * n, sizeof *r);
    p->factor = calloc(n * n, sizeof *p->factor);
    if (!r || !p->factor) {
        free(r);
        return vent__no_memory(err, "vent_fit_solve");
    }
    for (size_t i = 0; i < n; ++i)
        r[i * n + i] = 1;
    for (int t = 0; t < fit->tie_count; ++t) {
        size_t a = prior_row(fit, fit->ties[t].a), b = prior_row(fit, fit->ties[t].b);
        r[a * n + b] = r[b * n + a] = fit->ties[t].correlation;
    }
    bool sound = vent__cholesky(n, r, p->factor);
    for (size_t i = 0; i < n; ++i)
        sound = sound && p->factor[i * n + i] > 1e-5;
    free(r);
    return sound ||
           vent__fail(err, VENT_E_ARGUMENT, "vent_fit_solve", "fit", -1, NAN, NAN, NAN,
                      "some of the priors hang together wholly, or contradict one another: "
                      "leave one of them out");
}

static bool problem_new(problem *p, const vent_fit *fit, vent_error *err)
{
    *p = (problem){.fit = fit, .n = (size_t)fit->unknown_count, .m = (size_t)fit->reading_count};
    p->bench = calloc((size_t)fit->state_count, sizeof *p->bench);
    p->logarithmic = calloc(p->n, sizeof *p->logarithmic);
    if (!p->bench || !p->logarithmic)
        return vent__no_memory(err, "vent_fit_solve");
    for (size_t j = 0; j < p->n; ++j) {
        const vent__sought *u = &fit->unknowns[j];
        p->logarithmic[j] = u->low > 0 && u->high / u->low >= DECADES;
        p->priors += isnan(u->prior) ? 0 : 1;
    }
    for (int i = 0; i < fit->state_count; ++i)
        if (!bench_new(&p->bench[i], fit, i, err))
            return false;
    return fit->tie_count == 0 || factor_priors(p, err);
}

/* ---- searching ------------------------------------------------------------------------------ */

/* One reading cannot give two numbers, whatever is done with it. */
static bool check_count(const vent_fit *fit, vent_error *err)
{
    char name[VENT__NAME_ROOM], list[256] = "";
    int priors = 0;
    for (int j = 0; j < fit->unknown_count; ++j) {
        priors += !isnan(fit->unknowns[j].prior);
        size_t length = strlen(list);
        snprintf(list + length, sizeof list - length, "%s%s", j ? ", " : "",
                 vent__parameter_text(fit->states[0].network, fit->unknowns[j].parameter, name));
    }
    if (fit->unknown_count == 0 || fit->reading_count == 0)
        return vent__fail(err, VENT_E_ARGUMENT, "vent_fit_solve", "fit", -1, NAN, NAN, NAN,
                          "a fit needs an unknown and a reading; this one has %d and %d",
                          fit->unknown_count, fit->reading_count);
    if (fit->reading_count + priors < fit->unknown_count)
        return vent__fail(
            err, VENT_E_ARGUMENT, "vent_fit_solve", "fit", -1, fit->reading_count,
            fit->unknown_count - priors, NAN,
            "%d readings and %d priors cannot give %d unknowns (%s): take more readings, "
            "in other states of the stack, or hold or give priors to some",
            fit->reading_count, priors, fit->unknown_count, list);
    return true;
}

/* A value whose opposite the network gives: true where both stand clear of zero. */
static bool is_opposite(const vent__taken *r, double computed)
{
    double clear = 3 * r->uncertainty;
    return r->value * computed < 0 && fabs(r->value) > clear && fabs(computed) > clear;
}

static bool search(problem *p, vent__least_squares *s, vent_error *err)
{
    int status = vent__least_squares_solve(s);
    if (p->no_memory) /* a state of the search passed for one without an answer */
        return vent__no_memory(err, "vent_fit_solve");
    switch (status) {
    case VENT__FIT_DONE:
        return true;
    case VENT__FIT_MEMORY:
        return vent__no_memory(err, "vent_fit_solve");
    case VENT__FIT_NO_START:
        return vent__fail(err, p->last.status ? p->last.status : VENT_E_NO_OPERATING_POINT,
                          "vent_fit_solve", "fit", -1, NAN, NAN, NAN,
                          "no answer at the values the search begins with: %s", p->last.message);
    default:
        return vent__fail(
            err, VENT_E_NOT_CONVERGED, "vent_fit_solve", "fit", -1, s->square, NAN, NAN,
            "the search ended without a best fit after %d steps; look at signs and units "
            "of the readings, and begin with better values",
            s->iterations);
    }
}

/* ---- putting the answer together --------------------------------------------------------------- */

/* Covariance is wanted by the unknowns themselves, not by their logarithms. */
static void by_value(const problem *p, const vent__least_squares *s)
{
    for (size_t j = 0; j < p->n; ++j)
        if (p->logarithmic[j])
            for (size_t i = 0; i < s->m; ++i)
                s->jacobian[i * p->n + j] /= unknown_value(p, j, s->x[j]);
}

static void find_scales(const problem *p, const vent__least_squares *s, double *scale)
{
    for (size_t j = 0; j < p->n; ++j) {
        const vent__sought *u = &p->fit->unknowns[j];
        double value = fabs(unknown_value(p, j, s->x[j]));
        scale[j] = !isnan(u->prior) ? u->prior_uncertainty : value > 0 ? value : 1;
    }
}

static vent_estimate estimate_of(const problem *p, const vent__least_squares *s,
                                 const vent__determination *d, size_t j)
{
    const vent__sought *u = &p->fit->unknowns[j];
    double value = unknown_value(p, j, s->x[j]);
    vent_estimate e = {u->parameter, NAN, NAN, NAN, NAN, 0, 0, 0};
    if (!d->determined[j]) {
        e.flags = VENT_ESTIMATE_UNDETERMINED;
        return e;
    }
    e.value = value;
    e.uncertainty = sqrt(fmax(0, d->covariance[j * p->n + j]));
    bool pushed = value <= u->low || value >= u->high;
    double reach = (pushed ? ONE_SIDED_95 : TWO_SIDED_95) * e.uncertainty;
    e.low = fmax(u->low, p->logarithmic[j] ? value * exp(-reach / value) : value - reach);
    e.high = fmin(u->high, p->logarithmic[j] ? value * exp(reach / value) : value + reach);
    if (!isnan(u->prior)) {
        double share = e.uncertainty / u->prior_uncertainty;
        e.prior_share = fmin(1, share * share);
    }
    if (pushed)
        e.flags |= VENT_ESTIMATE_AT_BOUND;
    if (isnan(u->prior) && e.uncertainty >= fabs(value))
        e.flags |= VENT_ESTIMATE_WEAK;
    if (e.prior_share > 0.9)
        e.flags |= VENT_ESTIMATE_PRIOR;
    return e;
}

static vent_residual residual_of(const problem *p, const vent__least_squares *s,
                                 const bool *opposite_at_start, size_t i)
{
    const vent__taken *r = &p->fit->readings[i];
    double computed = r->value + s->residual[i] * r->uncertainty;
    vent_residual out = {r->observable, r->state,      0, r->value, r->uncertainty,
                         computed,      s->residual[i]};
    if (fabs(out.residual) > 3)
        out.flags |= VENT_RESIDUAL_OUTLIER;
    if (fabs(out.residual) > 3 && (is_opposite(r, computed) || opposite_at_start[i]))
        out.flags |= VENT_RESIDUAL_SIGN;
    return out;
}

static vent_goodness goodness_of(const problem *p, const vent__least_squares *s,
                                 const vent__determination *d)
{
    double degrees = (double)(p->m + p->priors) - (double)d->rank;
    return (vent_goodness){.chi_square = s->square,
                           .degrees = degrees,
                           .probability = vent__chi_square_tail(s->square, degrees),
                           .rank = (int32_t)d->rank,
                           .iterations = s->iterations};
}

/* Where the next line of the verdict begins. */
static vent__text *next_line(vent_fitted *f)
{
    if (f->verdict.length > 0)
        vent__text_add(&f->verdict, "\n");
    return &f->verdict;
}

static void say_estimate(vent_fitted *f, const vent_estimate *e)
{
    char name[VENT__NAME_ROOM];
    vent__parameter_text(f->network[0], e->parameter, name);
    if (e->flags & VENT_ESTIMATE_UNDETERMINED)
        vent__text_add(next_line(f), "%s: these readings do not determine it", name);
    if (e->flags & VENT_ESTIMATE_AT_BOUND)
        vent__text_add(next_line(f), "%s: the readings push it to its bound of %.4g: it is %s %.4g",
                       name, e->value, e->high > e->value ? "at most" : "at least",
                       e->high > e->value ? e->high : e->low);
    if (e->flags & VENT_ESTIMATE_WEAK)
        vent__text_add(next_line(f), "%s: its uncertainty %.2g is as great as its value %.2g", name,
                       e->uncertainty, e->value);
    if (e->flags & VENT_ESTIMATE_PRIOR)
        vent__text_add(next_line(f),
                       "%s: what is known of it is its prior, these readings add next to nothing",
                       name);
}

static void say_residual(vent_fitted *f, size_t i, const vent_residual *r)
{
    char name[VENT__NAME_ROOM] = "";
    vent_network_observable_name(f->network[r->state], r->observable, sizeof name, name);
    if (r->flags & VENT_RESIDUAL_SIGN)
        vent__text_add(
            next_line(f),
            "reading %zu, %s in state %d: read %.4g, computed %.4g; of the other sign it would fit "
            "better (a vacuum is negative, a flow towards the discharge positive)",
            i, name, (int)r->state, r->reading, r->computed);
    else if (r->flags & VENT_RESIDUAL_OUTLIER)
        vent__text_add(
            next_line(f),
            "reading %zu, %s in state %d: read %.4g, computed %.4g, %.1f standard uncertainties "
            "off",
            i, name, (int)r->state, r->reading, r->computed, fabs(r->residual));
}

static void say_all(vent_fitted *f)
{
    for (size_t j = 0; j < f->n; ++j)
        say_estimate(f, &f->estimates[j]);
    for (size_t i = 0; i < f->m; ++i)
        say_residual(f, i, &f->residuals[i]);
    if (f->goodness.probability < 0.01)
        vent__text_add(
            next_line(f),
            "chi-square %.3g for %g degrees of freedom: the network or the uncertainties are not "
            "right",
            f->goodness.chi_square, f->goodness.degrees);
}

static bool fitted_new(vent_fitted **out, const problem *p)
{
    vent_fitted *f = calloc(1, sizeof *f);
    *out = f;
    if (!f)
        return false;
    size_t held = 0;
    f->n = p->n;
    f->m = p->m;
    f->states = (size_t)p->fit->state_count;
    for (size_t i = 0; i < f->states; ++i)
        held += (size_t)p->fit->states[i].held_count;
    f->network = calloc(f->states, sizeof *f->network);
    f->estimates = calloc(f->n, sizeof *f->estimates);
    f->residuals = calloc(f->m, sizeof *f->residuals);
    f->scale = calloc(f->n, sizeof *f->scale);
    f->held = calloc(held + 1, sizeof *f->held);
    f->held_end = calloc(f->states, sizeof *f->held_end);
    return f->network && f->estimates && f->residuals && f->scale && f->held && f->held_end;
}

/* Each state's network with what was found put in, as far as it was. */
static bool keep_networks(vent_fitted *f, problem *p, const double *x, vent_error *err)
{
    size_t held = 0;
    for (size_t i = 0; i < f->states; ++i) {
        const vent__fit_state *s = &p->fit->states[i];
        if (!put_unknowns(p, &p->bench[i], x, err))
            return false;
        f->network[i] = vent_network_copy(p->bench[i].network, err);
        if (!f->network[i])
            return false;
        for (int k = 0; k < s->held_count; ++k)
            f->held[held++] = s->held[k];
        f->held_end[i] = held;
    }
    return true;
}

static vent_fitted *conclude(problem *p, const vent__least_squares *s, const bool *opposite,
                             vent_error *err)
{
    vent_fitted *f;
    by_value(p, s);
    bool done = fitted_new(&f, p);
    if (done) {
        find_scales(p, s, f->scale);
        done = vent__determine(s->m, s->n, s->jacobian, f->scale, &f->data);
    }
    if (!done)
        vent__no_memory(err, "vent_fit_solve");
    done = done && keep_networks(f, p, s->x, err);
    if (!done) {
        vent_fitted_free(f);
        return NULL;
    }
    for (size_t j = 0; j < f->n; ++j)
        f->estimates[j] = estimate_of(p, s, &f->data, j);
    for (size_t i = 0; i < f->m; ++i)
        f->residuals[i] = residual_of(p, s, opposite, i);
    f->goodness = goodness_of(p, s, &f->data);
    say_all(f);
    return f;
}

/* Start, search, answer; memory of the search is one piece. */
static vent_fitted *solve(problem *p, vent_error *err)
{
    size_t n = p->n, m = p->m + p->priors;
    double *memory = calloc(3 * n + m + m * n, sizeof *memory);
    bool *opposite = calloc(p->m, sizeof *opposite);
    vent_fitted *fitted = NULL;
    if (!memory || !opposite) {
        vent__no_memory(err, "vent_fit_solve");
    } else {
        double *low = memory + n, *high = low + n;
        vent__least_squares s = {.m = m,
                                 .n = n,
                                 .residuals = residuals,
                                 .context = p,
                                 .low = low,
                                 .high = high,
                                 .x = memory,
                                 .residual = high + n,
                                 .jacobian = high + n + m};
        for (size_t j = 0; j < n; ++j) {
            const vent__sought *u = &p->fit->unknowns[j];
            double start = vent_network_get(p->fit->states[0].network, u->parameter, NULL);
            start = fmin(fmax(start, u->low), u->high);
            s.x[j] = p->logarithmic[j] ? log(start) : start;
            low[j] = p->logarithmic[j] ? log(u->low) : u->low;
            high[j] = p->logarithmic[j] ? log(u->high) : u->high;
        }
        if (residuals(p, s.x, s.residual, NULL))
            for (size_t i = 0; i < p->m; ++i) {
                const vent__taken *r = &p->fit->readings[i];
                opposite[i] = is_opposite(r, r->value + s.residual[i] * r->uncertainty);
            }
        if (search(p, &s, err))
            fitted = conclude(p, &s, opposite, err);
    }
    free(memory);
    free(opposite);
    return fitted;
}

vent_fitted *vent_fit_solve(const vent_fit *fit, vent_error *err)
{
    problem p;
    if (vent__failed(err) || !VENT__POINTER(fit) || !check_count(fit, err))
        return NULL;
    vent_error own = VENT_NO_ERROR;
    vent_error *to = err ? err : &own;
    vent_fitted *fitted = problem_new(&p, fit, to) ? solve(&p, to) : NULL;
    problem_free(&p);
    return fitted;
}
