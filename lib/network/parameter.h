/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Addresses, for those who write many values into a model of their own. */
#ifndef VENT_NETWORK_PARAMETER_H
#define VENT_NETWORK_PARAMETER_H

#include <ventstack/parameter.h>

#include "network/model.h"

/* True where the model has this parameter; else records why not. */
bool vent__parameter_check(const vent__model *model, const vent_parameter *parameter,
                           const char *function, vent_error *err);
/* The same of many, soonest where those of a place follow each other. */
bool vent__parameters_check(const vent__model *model, size_t n, const vent_parameter *parameters,
                            const char *function, vent_error *err);
/* Name, unit and bounds of an address that was checked. */
void vent__parameter_range(const vent__model *model, const vent_parameter *parameter,
                           vent_parameter_range *range);
/* The value at an address that was checked. */
double vent__parameter_value(const vent__model *model, const vent_parameter *parameter);
/* Writes a value to an address that was checked; false with err, and nothing changed, where the value
 * is out of bounds. */
bool vent__parameter_store(vent__model *model, const vent_parameter *parameter, double value,
                           const char *function, vent_error *err);
/* Writes back what an original of the same shape has there, with all that follows from it. */
void vent__parameter_restore(vent__model *model, const vent__model *original,
                             const vent_parameter *parameter);

#endif
