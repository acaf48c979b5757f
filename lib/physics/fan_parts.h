/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a fan is made of, for fan.c (one fan) and fans.c (several as one). */
#ifndef VENT_PHYSICS_FAN_PARTS_H
#define VENT_PHYSICS_FAN_PARTS_H

#include <ventstack/fan.h>

#include "numeric/curve.h"

struct vent_fan {
    char *name;
    vent__curve *pressure;            /* Pa against m3/s, at the density and speed of the data */
    vent__curve *power;               /* W against m3/s, with the same knots; NULL without data */
    double density;                   /* kg/m3 */
    double least_flow, greatest_flow; /* m3/s, of the data */
    double free_delivery;             /* m3/s */
    bool falling;
};

/* A fan to be. */
typedef struct vent__fan_shape {
    vent__curve *pressure, *power; /* handed over; NULL where memory was refused */
    bool has_power;
    double density, least_flow, greatest_flow;
} vent__fan_shape;

/* Makes the fan, or fails for want of memory in the name of function; the curves are gone then. */
vent_fan *vent__fan_assemble(vent_error *err, const char *function, const char *name,
                             vent__fan_shape shape);
/* Records that memory was refused; always NULL. */
vent_fan *vent__fan_out_of_memory(vent_error *err, const char *function);

#endif
