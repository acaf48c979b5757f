/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The commissioning sheet: predicted against measured. */
#include <stdlib.h>

#include "base/memory.h"
#include "numeric/chance.h"
#include "practice/commissioning.h"
#include "practice/fitting.h"
#include "practice/known.h"

enum { MOST_READINGS = 1000 };

/* ---- scores ------------------------------------------------------------------------------- */

double vent__two_sided(double score)
{
    return erfc(fabs(score) / 1.4142135623730951);
}

int32_t vent__verdict_of_score(double score)
{
    double size = fabs(score);
    return size <= VENT__QUESTIONABLE ? VENT_VERDICT_AGREES
           : size <= VENT__DISAGREES  ? VENT_VERDICT_QUESTIONABLE
                                      : VENT_VERDICT_DISAGREES;
}

int32_t vent__verdict_of_chance(double probability)
{
    return probability >= vent__two_sided(VENT__QUESTIONABLE) ? VENT_VERDICT_AGREES
           : probability >= vent__two_sided(VENT__DISAGREES)  ? VENT_VERDICT_QUESTIONABLE
                                                              : VENT_VERDICT_DISAGREES;
}

void vent__propagate(size_t m, size_t n, const double *jacobian, const double *s, double *c,
                     double *work)
{
    for (size_t b = 0; b < m; ++b) {
        for (size_t i = 0; i < n; ++i) {
            work[i] = 0;
            for (size_t j = 0; j < n; ++j)
                work[i] += s[i * n + j] * jacobian[b * n + j];
        }
        for (size_t a = b; a < m; ++a) {
            double sum = 0;
            for (size_t i = 0; i < n; ++i)
                sum += jacobian[a * n + i] * work[i];
            c[a * m + b] = c[b * m + a] = sum;
        }
    }
}

/* Inverse of a lower triangle, in place. */
static bool invert_triangle(size_t n, double *l)
{
    const double singular =
        1e-5; /* of what is left of a deviation's deviation by those before it */
    for (size_t i = 0; i < n; ++i) {
        if (!(l[i * n + i] > singular))
            return false;
        double scale = 1 / l[i * n + i];
        for (size_t j = 0; j < i; ++j) {
            double sum = 0;
            for (size_t k = j; k < i; ++k)
                sum += l[i * n + k] * l[k * n + j];
            l[i * n + j] = -sum * scale;
        }
        l[i * n + i] = scale;
    }
    return true;
}

int vent__score(size_t n, const double *deviation, const double *covariance, double *alone,
                double *among, double *chi_square)
{
    double *r = calloc(2 * n * n + n, sizeof *r);
    if (!r)
        return VENT_E_MEMORY;
    double *l = r + n * n, *white = l + n * n;
    for (size_t i = 0; i < n; ++i) {
        alone[i] = deviation[i] / sqrt(covariance[i * n + i]);
        for (size_t j = 0; j < n; ++j)
            r[i * n + j] =
                covariance[i * n + j] / sqrt(covariance[i * n + i] * covariance[j * n + j]);
    }
    bool sound = vent__cholesky(n, r, l) && invert_triangle(n, l);
    *chi_square = 0;
    for (size_t i = 0; sound && i < n; ++i) {
        white[i] = 0;
        for (size_t j = 0; j <= i; ++j)
            white[i] += l[i * n + j] * alone[j];
        *chi_square += white[i] * white[i];
    }
    for (size_t i = 0; sound && i < n; ++i) { /* column i of the inverse triangle */
        double dot = 0, square = 0;
        for (size_t k = i; k < n; ++k) {
            dot += l[k * n + i] * white[k];
            square += l[k * n + i] * l[k * n + i];
        }
        among[i] = dot / sqrt(square);
    }
    free(r);
    return sound ? VENT_OK : VENT_E_ARGUMENT;
}

/* ---- making a sheet ----------------------------------------------------------------------- */

static bool check_readings(const vent_network *network, size_t n, const vent_site_reading *readings,
                           const char *function, vent_error *err)
{
    for (size_t i = 0; i < n; ++i) {
        if (vent_network_observable_name(network, readings[i].observable, 0, NULL) == 0)
            return vent__fail(err, VENT_E_NOT_FOUND, function, "readings", (int64_t)i, NAN, NAN,
                              NAN, "reading %zu: the network has no such place to read", i);
        if (!vent__check_reading(readings[i].reading, "readings", (int64_t)i, function, err))
            return false;
    }
    return true;
}

static bool observe(const vent_uncertainty *design, size_t n, const vent_site_reading *readings,
                    vent_sheet_line *lines, vent_error *err)
{
    for (size_t i = 0; i < n; ++i) {
        vent_sheet_line *line = &lines[i];
        *line = (vent_sheet_line){.observable = readings[i].observable,
                                  .measured = readings[i].reading};
        line->predicted.value = vent_solution_observe(design->solution, line->observable, err);
        vent__place_words(design->network, design->solution, line->observable, sizeof line->where,
                          line->where);
        if (!isfinite(line->predicted.value))
            return vent__fail(err, VENT_E_ARGUMENT, "vent_sheet_new", "readings", (int64_t)i,
                              line->predicted.value, NAN, NAN,
                              "reading %zu, %s: the network has no number for it", i, line->where);
        line->deviation = line->measured.value - line->predicted.value;
    }
    return true;
}

/* Clear of zero on either side, and a fit if the reading's sign were turned. */
static bool has_wrong_sign(const vent_sheet_line *line)
{
    double m = line->measured.value, p = line->predicted.value;
    return m * p < 0 && fabs(m) > 2 * line->measured.uncertainty &&
           fabs(p) > 2 * line->predicted.uncertainty && fabs(line->score) > VENT__QUESTIONABLE &&
           fabs(m + p) < VENT__DISAGREES * line->uncertainty;
}

/* What the others make of a reading is no use while the sign of one of them is wrong. */
static void flag_lines(vent_sheet *sheet)
{
    bool all_signs = true;
    for (size_t i = 0; i < sheet->n; ++i)
        if (has_wrong_sign(&sheet->lines[i])) {
            sheet->lines[i].flags |= VENT_SHEET_SIGN;
            all_signs = false;
        }
    for (size_t i = 0; i < sheet->n; ++i) {
        vent_sheet_line *line = &sheet->lines[i];
        if (fabs(line->predicted.value) < 2 * line->uncertainty)
            line->flags |= VENT_SHEET_LITTLE;
        if (all_signs && fabs(line->score) <= VENT__DISAGREES &&
            fabs(line->among) > VENT__DISAGREES)
            line->flags |= VENT_SHEET_AMONG;
    }
}

/* Room for the work on one sheet. */
typedef struct bench {
    vent_observable *observable; /* n */
    double *jacobian;            /* n x inputs */
    double *covariance;          /* n x n */
    double *row;                 /* three of n, one of the inputs */
} bench;

static bool bench_new(bench *b, size_t n, size_t inputs)
{
    b->observable = calloc(n, sizeof *b->observable);
    b->jacobian = calloc(n * inputs, sizeof *b->jacobian);
    b->covariance = calloc(n * n, sizeof *b->covariance);
    b->row = calloc(3 * n + inputs, sizeof *b->row);
    return b->observable && b->jacobian && b->covariance && b->row;
}

static void bench_free(bench *b)
{
    free(b->observable);
    free(b->jacobian);
    free(b->covariance);
    free(b->row);
}

/* Covariance of the deviations: what design and readings leave open. */
static bool find_covariance(vent_sheet *sheet, const vent_uncertainty *design, bench *b,
                            vent_error *err)
{
    size_t n = sheet->n;
    for (size_t i = 0; i < n; ++i)
        b->observable[i] = sheet->lines[i].observable;
    if (!vent_solution_jacobian(design->solution, NULL, n, b->observable, design->n,
                                design->parameters, b->jacobian, err))
        return false;
    vent__propagate(n, design->n, b->jacobian, design->covariance, b->covariance, b->row + 3 * n);
    for (size_t i = 0; i < n; ++i) {
        vent_sheet_line *line = &sheet->lines[i];
        double *variance = &b->covariance[i * n + i], u = line->measured.uncertainty;
        line->predicted.uncertainty = sqrt(fmax(0, *variance));
        *variance = fmax(0, *variance) + u * u;
        line->uncertainty = sqrt(*variance);
    }
    return true;
}

static bool score_lines(vent_sheet *sheet, bench *b, vent_error *err)
{
    size_t n = sheet->n;
    double *deviation = b->row, *alone = deviation + n, *among = alone + n;
    for (size_t i = 0; i < n; ++i)
        deviation[i] = sheet->lines[i].deviation;
    vent_agreement *whole = &sheet->whole;
    int status = vent__score(n, deviation, b->covariance, alone, among, &whole->chi_square);
    if (status == VENT_E_MEMORY)
        return vent__no_memory(err, "vent_sheet_new");
    if (status != VENT_OK)
        return vent__fail(err, VENT_E_ARGUMENT, "vent_sheet_new", "readings", -1, NAN, NAN, NAN,
                          "readings of the same thing are so much surer than the design that it "
                          "cannot be told whether they contradict each other: take their mean");
    for (size_t i = 0; i < n; ++i) {
        sheet->lines[i].score = alone[i];
        sheet->lines[i].among = among[i];
        sheet->lines[i].verdict = vent__verdict_of_score(alone[i]);
    }
    flag_lines(sheet);
    whole->degrees = (double)n;
    whole->probability = vent__chi_square_tail(whole->chi_square, whole->degrees);
    whole->verdict = vent__verdict_of_chance(whole->probability);
    return true;
}

static bool fill_sheet(vent_sheet *sheet, const vent_uncertainty *design, size_t n,
                       const vent_site_reading *readings, vent_error *err)
{
    sheet->n = n;
    sheet->lines = calloc(n, sizeof *sheet->lines);
    bench b = {0};
    bool done = bench_new(&b, n, design->n) && sheet->lines;
    if (!done)
        vent__no_memory(err, "vent_sheet_new");
    done = done && observe(design, n, readings, sheet->lines, err) &&
           find_covariance(sheet, design, &b, err) && score_lines(sheet, &b, err);
    bench_free(&b);
    return done;
}

vent_sheet *vent_sheet_new(const vent_uncertainty *design, size_t n,
                           const vent_site_reading *readings, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(design) || !VENT__POINTER(readings) ||
        !vent__check_range(err, __func__, "n", "", (double)n, 1, MOST_READINGS) ||
        !check_readings(design->network, n, readings, __func__, err))
        return NULL;
    vent_sheet *sheet = calloc(1, sizeof *sheet);
    if (!sheet) {
        vent__no_memory(err, __func__);
        return NULL;
    }
    if (!fill_sheet(sheet, design, n, readings, err)) {
        vent_sheet_free(sheet);
        return NULL;
    }
    return sheet;
}

void vent_sheet_free(vent_sheet *sheet)
{
    if (!sheet)
        return;
    for (int kind = 0; kind < VENT_NOTE_END; ++kind)
        free(sheet->note[kind]);
    free(sheet->lines);
    free(sheet);
}

/* A line break would forge a line of the sheet. */
static bool check_note(const char *note, const char *function, vent_error *err)
{
    enum { LONGEST_NOTE = 400 };
    size_t length = strlen(note);
    if (length > LONGEST_NOTE)
        return vent__fail(err, VENT_E_ARGUMENT, function, "note", -1, (double)length, 0,
                          LONGEST_NOTE, "note is %zu bytes long; at most %d are allowed", length,
                          LONGEST_NOTE);
    for (size_t i = 0; i < length; ++i)
        if ((unsigned char)note[i] < ' ' || note[i] == 127)
            return vent__fail(err, VENT_E_ARGUMENT, function, "note", (int64_t)i, note[i], ' ', NAN,
                              "note has control character %d at byte %zu; it must be one line of "
                              "plain text",
                              note[i], i);
    return true;
}

bool vent_sheet_note(vent_sheet *sheet, int kind, const char *note, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(sheet) ||
        !vent__check_range(err, __func__, "kind", "", kind, 0, VENT_NOTE_END - 1))
        return false;
    char *copy = NULL;
    if (note && *note) {
        if (!check_note(note, __func__, err))
            return false;
        copy = vent__duplicate(note, strlen(note) + 1, 1);
        if (!copy)
            return vent__no_memory(err, __func__);
    }
    free(sheet->note[kind]);
    sheet->note[kind] = copy;
    return true;
}

size_t vent_sheet_count(const vent_sheet *sheet)
{
    return sheet ? sheet->n : 0;
}

bool vent_sheet_line_at(const vent_sheet *sheet, size_t index, vent_sheet_line *line)
{
    if (!sheet || !line || index >= sheet->n)
        return false;
    *line = sheet->lines[index];
    return true;
}

vent_agreement vent_sheet_whole(const vent_sheet *sheet)
{
    return sheet ? sheet->whole : (vent_agreement){NAN, NAN, NAN, VENT_VERDICT_NONE, 0};
}

/* ---- the stack as commissioned -------------------------------------------------------------- */

vent_uncertainty *vent_commissioned(const vent_uncertainty *design, size_t n,
                                    const vent_site_reading *readings, vent_error *err)
{
    vent_error own = VENT_NO_ERROR;
    vent_error *to = err ? err : &own;
    if (vent__failed(err) || !VENT__POINTER(design) || !VENT__POINTER(readings) ||
        !vent__check_range(to, __func__, "n", "", (double)n, 1, MOST_READINGS) ||
        !check_readings(design->network, n, readings, __func__, to))
        return NULL;
    vent_fit *fit = vent_fit_new(design->network, to);
    if (fit)
        vent_fit_known(fit, design, to);
    for (size_t i = 0; fit && i < n; ++i)
        vent_fit_reading(fit, 0, readings[i].observable, readings[i].reading, to);
    vent_fitted *fitted = fit ? vent_fit_solve(fit, to) : NULL;
    vent_uncertainty *known = fitted ? vent_fitted_uncertainty(fitted, 0, to) : NULL;
    vent_fitted_free(fitted);
    vent_fit_free(fit);
    return known;
}
