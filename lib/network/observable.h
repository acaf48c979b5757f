/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Observables, for those who read many. */
#ifndef VENT_NETWORK_OBSERVABLE_H
#define VENT_NETWORK_OBSERVABLE_H

#include <ventstack/observable.h>

#include "network/model.h"

/* True where the model has this observable; else records why not. */
bool vent__observable_check(const vent__model *model, const vent_observable *observable,
                            const char *function, vent_error *err);
/* The value of an observable that was checked. */
double vent__observe(const vent_solution *solution, const vent_observable *observable);

#endif
