/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What setting a diagnosis up, weighing its hypotheses and reading its answer share. */
#ifndef VENT_PRACTICE_DIAGNOSING_H
#define VENT_PRACTICE_DIAGNOSING_H

#include <ventstack/diagnose.h>

#include "practice/fitting.h"

/* ---- the job as it was stated ------------------------------------------------------------------ */

typedef struct vent__read {
    vent_observable observable;
    double value, uncertainty;
} vent__read;

struct vent_diagnosis {
    vent_network *design;
    vent_input *inputs;
    vent__read *readings;
    vent_fan **fans;
    vent_fault *faults;
    int input_count, input_room, reading_count, reading_room, fan_count, fan_room, fault_count,
        fault_room;
};

vent_diagnosis *vent__diagnosis_copy(const vent_diagnosis *diagnosis, vent_error *err);
/* True where the design has a place for the fault and its bounds are sound. */
bool vent__fault_check(const vent_diagnosis *diagnosis, vent_fault fault, const char *function,
                       vent_error *err);
bool vent__fault_has_size(int kind); /* one of a continuum */
bool vent__same_fault(vent_fault a, vent_fault b);

/* Places where a reading of this observable may have been taken instead; how many. */
size_t vent__other_places(const vent_network *design, vent_observable read, size_t room,
                          vent_observable *places);
/* All pressures and flows one can read; how many. */
size_t vent__readable(const vent_network *design, size_t room, vent_observable *observables);

/* ---- the design with the faults of one hypothesis put in, each of no size ----------------------- */

enum { VENT__MOST_AT_ONCE = 2, VENT__MOST_TOUCHED = 2 };

/* A fault and the parameters it acts by. */
typedef struct vent__cause {
    vent_fault fault;
    int touched;
    vent_parameter at[VENT__MOST_TOUCHED];
    int input
        [VENT__MOST_TOUCHED]; /* the uncertain input that is this parameter, -1 where none is */
    double healthy[VENT__MOST_TOUCHED];
} vent__cause;

/* An uncertain input: its value is base (1 + spread x) or base exp(spread x - spread^2 / 2), x normal; base is
 * the healthy value until a fault changes it. */
typedef struct vent__doubt {
    vent_parameter parameter;
    double healthy, base, uncertainty, spread;
    double low, high;
    int shape;
} vent__doubt;

/* Value at x of its uncertainties, wherever its bounds are. */
double vent__doubt_value(const vent__doubt *doubt, double x);

typedef struct vent__suspect {
    vent_network *network; /* with a fault in it between enter and leave */
    vent_network *sound;   /* the same without another fan */
    vent_workspace *workspace;
    vent_solution *solution;
    size_t m, n, causes;
    vent__cause *cause;
    vent__doubt *doubt;          /* n */
    vent_parameter *parameter;   /* n, those of the doubts */
    vent__read *reading;         /* m, moved */
    vent_observable *observable; /* m, where each is taken as having been read */
    double *sign;                /* m */
    vent_observable **place;     /* m lists, moved */
    size_t *places;
    vent_fan *const *fan; /* the job's */
    size_t fans;
    int *insertion; /* pairs of run and item, ascending */
    size_t insertions;
    size_t free, freed[VENT__MOST_AT_ONCE]; /* causes whose size is sought like an input */
    double first_deviate;                   /* of the first one, to begin with */
    double hopeless;                        /* a sum of squares above which nobody asks how much */
    bool no_memory; /* something failed for want of it: no likelihood may be believed */
    /* Scratch of settling: n + free deviates, m readings. */
    double *x, *before, *computed, *best, *residual, *straight, *solved, *jacobian, *exact, *matrix,
        *factor;
} vent__suspect;

bool vent__suspect_begin(vent__suspect *s, const vent_diagnosis *job, size_t faults,
                         const vent_fault *fault, vent_error *err);
void vent__suspect_end(vent__suspect *s);
/* Failures make a hypothesis impossible, but for want of memory, which is remembered. True for none. */
bool vent__suspect_heed(vent__suspect *s, const vent_error *err);
/* The addresses of the design in the suspect network. */
vent_observable vent__moved(const vent__suspect *s, vent_observable observable);

bool vent__suspect_enter(vent__suspect *s, const vent__cause *cause, double size);
/* Sets the sizes of all faults that have one free; the others are entered by their numbers. */
void vent__suspect_free(vent__suspect *s);
bool vent__suspect_enter_listed(vent__suspect *s, const double *number);
void vent__suspect_leave(vent__suspect *s, const vent__cause *cause);
/* Puts in the inputs that are x of their uncertainties off. */
bool vent__suspect_put(vent__suspect *s, const double *x, vent_error *err);

/* ---- weighing ------------------------------------------------------------------------------------ */

/* Logarithm of the probability density of the readings with the faults entered, over all inputs, and the
 * least sum of squares; minus infinity where the network has no answer. Inputs, residuals and derivatives
 * stay in the scratch. */
double vent__suspect_settle(vent__suspect *s, double *square);
/* What is expected of an observable after settling: mean and variance. */
bool vent__suspect_expect(vent__suspect *s, vent_observable observable, double *mean,
                          double *variance);

typedef struct vent__trial {
    double size[VENT__MOST_AT_ONCE];
    double deviate[VENT__MOST_AT_ONCE], spread[VENT__MOST_AT_ONCE]; /* of free sizes */
    double weight; /* logarithm, until the sum is known; then of all trials together 1 */
    double likelihood, square;
} vent__trial;

typedef struct vent__hypothesis {
    int count, fault[VENT__MOST_AT_ONCE]; /* numbers among the job's */
    double odds, evidence;                /* evidence is a logarithm */
    double start;                         /* of two: the deviate the first one's size had alone */
    vent__trial *trial;
    int trials, trial_room;
    int best;                         /* the trial that fits best */
    int at_bound[VENT__MOST_AT_ONCE]; /* of each size: 1 at the greatest, -1 at the least, else 0 */
    double *computed;                 /* m readings by it */
} vent__hypothesis;

/* Averages over the sizes; false for want of memory. */
bool vent__weigh(vent__suspect *s, vent__hypothesis *h);

struct vent_diagnosed {
    vent_diagnosis *job;  /* with the faults that were asked about */
    vent_solution *sound; /* of its design */
    vent__hypothesis *hypothesis;
    vent_finding *finding;
    int count, room;
    uint32_t flags;
};

#endif
