/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From hypotheses to an answer: single faults, two at once, probabilities, groups, remarks. */
#include <stdlib.h>

#include "base/memory.h"
#include "numeric/chance.h"
#include "practice/diagnosing.h"

static const double UNLIKELY = 0.05;    /* below this a misfit asks for a second fault */
static const double UNEXPLAINED = 0.01; /* below this even the best finding is doubted */
static const double ODDS_OF_TWO = 0.02; /* over the product of their odds */
static const double TWO_SIDED_95 = 1.959963984540054; /* normal quantile of 97.5 % */
static const double ONE_SIDED_95 = 1.644853626951473; /* and of 95 % */
static const double NEAR = 0.25, UPON = 0.01;         /* shares of the range next to a bound */
static const double EXCLUDED =
    1.920729410347062;                /* logarithms below the best: half of chi-square's 95 % */
static const double SATURATED = 0.05; /* the same of a size that is sought beside another */
enum { PARTNERS_OF = 3, FEWEST_FOR_TWO = 3 };

/* ---- hypotheses ---------------------------------------------------------------------------------------- */

static bool add_hypothesis(vent_diagnosed *d, int count, int a, int b, double odds, double start,
                           vent_error *err)
{
    if (!vent__reserve(&d->hypothesis, &d->room, d->count, sizeof *d->hypothesis))
        return vent__no_memory(err, "vent_diagnosis_solve");
    vent__hypothesis *h = &d->hypothesis[d->count++];
    *h = (vent__hypothesis){.count = count, .fault = {a, b}, .odds = odds, .start = start};
    vent_fault faults[VENT__MOST_AT_ONCE];
    for (int k = 0; k < count; ++k)
        faults[k] = d->job->faults[h->fault[k]];
    vent__suspect s;
    bool done = vent__suspect_begin(&s, d->job, (size_t)count, faults, err) &&
                (vent__weigh(&s, h) || vent__no_memory(err, "vent_diagnosis_solve"));
    vent__suspect_end(&s);
    return done;
}

static double support(const vent__hypothesis *h)
{
    return h->evidence + log(h->odds);
}

static int by_support(const void *a, const void *b)
{
    double left = support(a), right = support(b);
    return (left < right) - (left > right);
}

static double least_square(const vent__hypothesis *h)
{
    return h->trials > 0 ? h->trial[h->best].square : INFINITY;
}

/* Chance that a sound network with these faults fits worse: readings less what sizes can take up. */
static double chance(const vent_diagnosed *d, const vent__hypothesis *h)
{
    double sizes = 0, square = least_square(h);
    for (int k = 0; k < h->count; ++k)
        sizes += vent__fault_has_size(d->job->faults[h->fault[k]].kind);
    double degrees = fmax(1, d->job->reading_count - sizes);
    return isfinite(square) ? vent__chi_square_tail(square, degrees) : 0;
}

/* ---- two at once ----------------------------------------------------------------------------------------- */

static bool is_of_fan(int kind)
{
    return kind == VENT_FAULT_FAN_WEAK || kind == VENT_FAULT_FAN_WRONG ||
           kind == VENT_FAULT_FAN_STOPPED;
}

/* Nothing wrong is no partner, and one fan or one reading has one fault. */
static bool may_pair(vent_fault a, vent_fault b)
{
    if (a.kind == VENT_FAULT_NONE || b.kind == VENT_FAULT_NONE)
        return false;
    if (is_of_fan(a.kind) && is_of_fan(b.kind))
        return a.place != b.place || a.item != b.item;
    if (a.kind == VENT_FAULT_SIGN && b.kind == VENT_FAULT_SIGN)
        return a.place >= 0 && b.place >= 0 && a.place != b.place;
    return !vent__same_fault(a, b);
}

static bool is_paired(const vent_diagnosed *d, int a, int b)
{
    for (int i = 0; i < d->count; ++i) {
        const vent__hypothesis *h = &d->hypothesis[i];
        if (h->count == 2 &&
            ((h->fault[0] == a && h->fault[1] == b) || (h->fault[0] == b && h->fault[1] == a)))
            return true;
    }
    return false;
}

/* Which share of the range, by ratio, lies below a size. */
static double share_below(const vent_fault *f, double size)
{
    return log(size / f->low) / log(f->high / f->low);
}

/* The deviate that a size is, which share of its range lies below. */
static double deviate_of(const vent_fault *f, double size)
{
    return vent__normal_quantile(fmin(fmax(share_below(f, size), 0.01), 0.99));
}

static bool add_pairs_with(vent_diagnosed *d, int a, double start, vent_error *err)
{
    const vent_fault *fault = d->job->faults;
    for (int b = 0; b < d->job->fault_count; ++b)
        if (may_pair(fault[a], fault[b]) && !is_paired(d, a, b) &&
            !add_hypothesis(d, 2, a, b, ODDS_OF_TWO * fault[a].odds * fault[b].odds, start, err))
            return false;
    return true;
}

/* Each of the best singles, which stand first, with every other. */
static bool add_pairs(vent_diagnosed *d, vent_error *err)
{
    int singles = d->count;
    for (int i = 0, led = 0; i < singles && led < PARTNERS_OF; ++i) {
        int a = d->hypothesis[i].fault[0];
        const vent_fault *f = &d->job->faults[a];
        if (f->kind == VENT_FAULT_NONE)
            continue;
        double size = d->hypothesis[i].trial[d->hypothesis[i].best].size[0];
        double start = vent__fault_has_size(f->kind) ? deviate_of(f, size) : 0;
        if (!add_pairs_with(d, a, start, err))
            return false;
        ++led;
    }
    return true;
}

/* ---- findings -------------------------------------------------------------------------------------------- */

typedef struct weighted {
    double size, weight;
} weighted;

static int by_size(const void *a, const void *b)
{
    double left = ((const weighted *)a)->size, right = ((const weighted *)b)->size;
    return (left > right) - (left < right);
}

/* The size below which a share of the probability lies; half of each trial's lies below its own. */
static double quantile(size_t n, const weighted *w, double share)
{
    double below = 0;
    for (size_t i = 0; i < n; ++i) {
        double middle = below + 0.5 * w[i].weight;
        if (middle >= share) {
            if (i == 0)
                return w[0].size;
            double last = below - 0.5 * w[i - 1].weight;
            double t = (share - last) / (middle - last);
            return w[i - 1].size * pow(w[i].size / w[i - 1].size, t);
        }
        below += w[i].weight;
    }
    return w[n - 1].size;
}

static double size_of(const vent_fault *f, double deviate)
{
    return f->low * pow(f->high / f->low, vent__normal_share(deviate));
}

/* Two at once: each size is normal in its deviate. */
static void find_size_of_two(vent__hypothesis *h, int k, vent_finding *f)
{
    const vent__trial *t = &h->trial[h->best];
    const vent_fault *fault = &f->fault[k];
    double share = vent__normal_share(t->deviate[k]);
    h->at_bound[k] = share > 1 - SATURATED ? 1 : share < SATURATED ? -1 : 0;
    double reach = (h->at_bound[k] ? ONE_SIDED_95 : TWO_SIDED_95) * t->spread[k];
    f->low[k] = h->at_bound[k] < 0 ? fault->low : size_of(fault, t->deviate[k] - reach);
    f->high[k] = h->at_bound[k] > 0 ? fault->high : size_of(fault, t->deviate[k] + reach);
}

/* The likelihood of the size that lies at one end of those asked about. */
static double likelihood_at(const vent__hypothesis *h, double size)
{
    for (int i = 0; i < h->trials; ++i)
        if (h->trial[i].size[0] == size)
            return h->trial[i].likelihood;
    return -INFINITY;
}

/* At a bound the readings do not exclude it, and half of the probability lies near; or half of it lies upon it, where
 * fits are poor and their likelihoods rough. */
static int bound_of(const vent__hypothesis *h, double half, double least, double most)
{
    double best = h->trial[h->best].likelihood;
    if (half > 1 - UPON || (half > 1 - NEAR && likelihood_at(h, most) > best - EXCLUDED))
        return 1;
    return half < UPON || (half < NEAR && likelihood_at(h, least) > best - EXCLUDED) ? -1 : 0;
}

static void find_size_of_one(vent__hypothesis *h, weighted *w, vent_finding *f)
{
    size_t n = (size_t)h->trials;
    const vent_fault *fault = &f->fault[0];
    for (size_t i = 0; i < n; ++i)
        w[i] = (weighted){h->trial[i].size[0], h->trial[i].weight};
    qsort(w, n, sizeof *w, by_size);
    f->size[0] = quantile(n, w, 0.5);
    int at = bound_of(h, share_below(fault, f->size[0]), w[0].size, w[n - 1].size);
    f->low[0] = at < 0 ? fault->low : quantile(n, w, at ? 0.05 : 0.025);
    f->high[0] = at > 0 ? fault->high : quantile(n, w, at ? 0.95 : 0.975);
    h->at_bound[0] = at;
}

static void find_size(vent__hypothesis *h, int k, bool has_size, weighted *w, vent_finding *f)
{
    double most = h->trials > 0 ? h->trial[h->best].size[k] : NAN;
    f->size[k] = f->low[k] = f->high[k] = most;
    if (!has_size || h->trials == 0 || !(h->evidence > -INFINITY))
        return;
    if (h->count > 1)
        find_size_of_two(h, k, f);
    else
        find_size_of_one(h, w, f);
}

static bool has_number(int kind)
{
    return vent__fault_has_size(kind) || kind == VENT_FAULT_FAN_WRONG || kind == VENT_FAULT_PLACE;
}

static vent_finding finding_of(const vent_diagnosed *d, vent__hypothesis *h, weighted *w)
{
    vent_finding f = {.faults = h->count,
                      .size = {NAN, NAN},
                      .low = {NAN, NAN},
                      .high = {NAN, NAN},
                      .evidence = h->evidence,
                      .chi_square = least_square(h)};
    for (int k = 0; k < h->count; ++k) {
        f.fault[k] = d->job->faults[h->fault[k]];
        if (has_number(f.fault[k].kind))
            find_size(h, k, vent__fault_has_size(f.fault[k].kind), w, &f);
    }
    return f;
}

static void give_probabilities(vent_diagnosed *d)
{
    double most = support(&d->hypothesis[0]), sum = 0;
    for (int i = 0; i < d->count; ++i)
        sum += exp(support(&d->hypothesis[i]) - most);
    for (int i = 0; i < d->count; ++i)
        d->finding[i].probability = exp(support(&d->hypothesis[i]) - most) / sum;
}

/* Both give the same readings to within their uncertainties, and neither is told from the other. */
static bool are_alike(const vent_diagnosed *d, int a, int b)
{
    const vent__hypothesis *first = &d->hypothesis[a], *second = &d->hypothesis[b];
    if (!(fabs(first->evidence - second->evidence) < log(VENT_DIAGNOSED_ODDS)))
        return false;
    double square = 0;
    for (int i = 0; i < d->job->reading_count; ++i) {
        double apart = (first->computed[i] - second->computed[i]) / d->job->readings[i].uncertainty;
        square += apart * apart;
    }
    return square < 1;
}

static void form_groups(vent_diagnosed *d)
{
    for (int i = 0; i < d->count; ++i) {
        d->finding[i].group = i;
        for (int j = 0; j < i; ++j)
            if (d->finding[j].group == j && are_alike(d, j, i)) {
                d->finding[i].group = j;
                break;
            }
    }
}

static bool conclude(vent_diagnosed *d, vent_error *err)
{
    size_t count = (size_t)d->count, most = 1;
    for (size_t i = 0; i < count; ++i)
        most = (size_t)d->hypothesis[i].trials > most ? (size_t)d->hypothesis[i].trials : most;
    weighted *w = calloc(most, sizeof *w);
    d->finding = calloc(count, sizeof *d->finding);
    if (!w || !d->finding) {
        free(w);
        return vent__no_memory(err, "vent_diagnosis_solve");
    }
    for (size_t i = 0; i < count; ++i)
        d->finding[i] = finding_of(d, &d->hypothesis[i], w);
    free(w);
    give_probabilities(d);
    form_groups(d);
    return true;
}

/* ---- remarks ----------------------------------------------------------------------------------------------- */

static bool same_place(vent_observable a, vent_observable b)
{
    return a.kind == b.kind && a.place == b.place && a.item == b.item;
}

static bool are_contrary(const vent_diagnosis *job)
{
    for (int i = 0; i < job->reading_count; ++i)
        for (int j = 0; j < i; ++j) {
            const vent__read *a = &job->readings[i], *b = &job->readings[j];
            if (same_place(a->observable, b->observable) &&
                fabs(a->value - b->value) > 4 * hypot(a->uncertainty, b->uncertainty))
                return true;
        }
    return false;
}

static bool same_unit(const vent__read *a, const vent__read *b)
{
    return strcmp(vent_observable_unit(a->observable), vent_observable_unit(b->observable)) == 0;
}

/* One value to the last digit at three places or more, where the design has them clearly apart. */
static bool are_constant(const vent_diagnosis *job, const double *designed)
{
    for (int i = 0; i < job->reading_count; ++i) {
        const vent__read *a = &job->readings[i];
        int places = 1;
        bool apart = false;
        for (int j = 0; j < i; ++j) {
            const vent__read *b = &job->readings[j];
            if (!same_unit(a, b) || a->value != b->value ||
                same_place(a->observable, b->observable))
                continue;
            ++places;
            apart |= fabs(designed[i] - designed[j]) > 3 * hypot(a->uncertainty, b->uncertainty);
        }
        if (places >= 3 && apart)
            return true;
    }
    return false;
}

static bool has_other_sign(const vent_diagnosis *job, const double *designed)
{
    for (int i = 0; i < job->reading_count; ++i) {
        double clear = 3 * job->readings[i].uncertainty, read = job->readings[i].value;
        if (read * designed[i] < 0 && fabs(read) > clear && fabs(designed[i]) > clear)
            return true;
    }
    return false;
}

static uint32_t remarks(const vent_diagnosed *d, const double *designed)
{
    const vent_diagnosis *job = d->job;
    return (has_other_sign(job, designed) ? VENT_DIAGNOSED_SIGN : 0u) |
           (are_constant(job, designed) ? VENT_DIAGNOSED_CONSTANT : 0u) |
           (are_contrary(job) ? VENT_DIAGNOSED_CONTRARY : 0u) |
           (job->input_count == 0 ? VENT_DIAGNOSED_EXACT : 0u) |
           (chance(d, &d->hypothesis[0]) < UNEXPLAINED ? VENT_DIAGNOSED_UNEXPLAINED : 0u) |
           (job->reading_count == 1 ? VENT_DIAGNOSED_FEW : 0u);
}

/* ---- solving ------------------------------------------------------------------------------------------------ */

static bool take_usual_faults(vent_diagnosis *job, vent_error *err)
{
    if (job->fault_count > 0)
        return true;
    size_t n = vent_diagnosis_usual(job, 0, NULL, err);
    vent_fault *usual = realloc(job->faults, (n + 1) * sizeof *usual);
    if (!usual)
        return vent__no_memory(err, "vent_diagnosis_solve");
    job->faults = usual;
    job->fault_count = job->fault_room = (int)vent_diagnosis_usual(job, n, job->faults, err);
    return true;
}

static bool rank(vent_diagnosed *d, vent_error *err)
{
    for (int i = 0; i < d->job->fault_count; ++i)
        if (!add_hypothesis(d, 1, i, -1, d->job->faults[i].odds, 0, err))
            return false;
    qsort(d->hypothesis, (size_t)d->count, sizeof *d->hypothesis, by_support);
    bool second =
        d->job->reading_count >= FEWEST_FOR_TWO && chance(d, &d->hypothesis[0]) < UNLIKELY;
    if (second && !add_pairs(d, err))
        return false;
    qsort(d->hypothesis, (size_t)d->count, sizeof *d->hypothesis, by_support);
    if (!(support(&d->hypothesis[0]) > -INFINITY))
        return vent__fail(err, VENT_E_NO_OPERATING_POINT, "vent_diagnosis_solve", "diagnosis", -1,
                          NAN, NAN, NAN, "no hypothesis has an operating point");
    return conclude(d, err);
}

static double *designed_readings(const vent_diagnosed *d, vent_error *err)
{
    double *designed = calloc((size_t)d->job->reading_count + 1, sizeof *designed);
    for (int i = 0; designed && i < d->job->reading_count; ++i)
        designed[i] = vent_solution_observe(d->sound, d->job->readings[i].observable, err);
    if (!designed)
        vent__no_memory(err, "vent_diagnosis_solve");
    return designed;
}

vent_diagnosed *vent_diagnosis_solve(const vent_diagnosis *diagnosis, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(diagnosis))
        return NULL;
    if (diagnosis->reading_count == 0) {
        VENT__FAIL(VENT_E_ARGUMENT, "diagnosis", -1, "a diagnosis needs a reading");
        return NULL;
    }
    vent_error own = VENT_NO_ERROR;
    vent_error *to = err ? err : &own;
    vent_diagnosed *d = calloc(1, sizeof *d);
    if (!d) {
        vent__no_memory(to, __func__);
        return NULL;
    }
    d->job = vent__diagnosis_copy(diagnosis, to);
    d->sound = d->job ? vent_network_solve(d->job->design, NULL, to) : NULL;
    double *designed = d->sound ? designed_readings(d, to) : NULL;
    bool done = !vent__failed(to) && take_usual_faults(d->job, to) && rank(d, to);
    if (done)
        d->flags = remarks(d, designed);
    free(designed);
    if (done)
        return d;
    vent_diagnosed_free(d);
    return NULL;
}
