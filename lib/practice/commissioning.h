/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the sheet, the band over the year and their words share. */
#ifndef VENT_PRACTICE_COMMISSIONING_H
#define VENT_PRACTICE_COMMISSIONING_H

#include <ventstack/commission.h>

#include "base/text.h"

enum { VENT__QUESTIONABLE = 2, VENT__DISAGREES = 3 }; /* standard uncertainties */

struct vent_sheet {
    size_t n;
    vent_sheet_line *lines;
    vent_agreement whole;
    char *note[VENT_NOTE_END]; /* NULL where there is none */
};

/* One number of a soil law, and the power of the soil's share by which it goes. */
typedef struct vent__soil_number {
    vent_parameter parameter;
    double value;
    int power;
} vent__soil_number;

struct vent_band {
    vent_network *network;
    vent_observable observable;
    size_t inputs; /* what is unsure beside the weather */
    vent_parameter *parameters;
    int *power;         /* inputs: of the soil's share, by which they go too */
    double *covariance; /* inputs x inputs */
    size_t soils;
    vent__soil_number *soil;
    size_t n;
    vent_band_row *rows;
    vent_band_row year;
    char where[96];
};

/* Chance of a normal deviate at least so far from 0, either way. */
double vent__two_sided(double score);
int32_t vent__verdict_of_score(double score);
int32_t vent__verdict_of_chance(double probability);

/* C = J S J' of m answers with an m x n Jacobian and inputs of covariance S; work holds n. */
void vent__propagate(size_t m, size_t n, const double *jacobian, const double *s, double *c,
                     double *work);

/* Scores of n deviations against a covariance (n x n) of theirs: each alone, each among the others, and
 * chi-square of all. VENT_OK, VENT_E_MEMORY, or VENT_E_ARGUMENT where the covariance is singular. */
int vent__score(size_t n, const double *deviation, const double *covariance, double *alone,
                double *among, double *chi_square);

/* ---- words -------------------------------------------------------------------------------- */

/* A place that can be read, in words, such as "flow in riser". */
void vent__place_words(const vent_network *network, const vent_solution *solution,
                       vent_observable observable, size_t size, char *out);
/* Fills in the judgement's sentences; `when` is the weather it was judged by. */
void vent__judgement_words(const vent_band *band, const char *when, vent_reading reading,
                           vent_judgement *judgement);

#endif
