/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A manifold of two suction points that faults are put into, and what its diagnoses are asked. Invented. */
#ifndef VENT_TEST_FAULTY_H
#define VENT_TEST_FAULTY_H

#include <ventstack/ventstack.h>

enum { RISER_FAN = 2, RISER_ABOVE = 3 };

typedef struct stack {
    vent_network *net;
    vent_fan *fan, *other;
    int store, hall, tee, roof, first, second, riser;
} stack;

enum { MOST_INPUTS = 64, ALL = 9 };

/* Where one reads, and with what standard uncertainty. */
extern const char *const all_names[ALL];
extern const double all_uncertainty[ALL];

vent_fan *fan_of(const char *name, double shut_off, double most);
stack built(void);
void torn_down(stack *s);
vent_observable read_of(const stack *s, const char *name);
/* What one knows of the design: its own parts' spread, the soils', the fan's. */
size_t known_of(const stack *s, vent_input *inputs);
vent_diagnosis *begun(const stack *s, bool doubts);
vent_fault fault_at(int kind, int place, int item);
void take(vent_diagnosis *d, vent_observable o, double value, double uncertainty);
vent_diagnosed *solved(const vent_diagnosis *d);
vent_finding at_rank(const vent_diagnosed *found, size_t rank);
/* The readings of an exercise at all places. */
void exercise(vent_diagnosis *d, const stack *s, vent_fault fault, double size, uint64_t seed,
              int n);
double riser_flow(const vent_network *net, const stack *s);

#endif
