/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef VENT_PHYSICS_FAN_TURNS_H
#define VENT_PHYSICS_FAN_TURNS_H

#include <ventstack/fan.h>

/* Flows [m3/s], at the curve's own speed and strictly rising, between two of which a fan's pressure neither turns nor
 * is steeper than at both: its data, and the bends in between. Writes the first `room`; how many there are. */
size_t vent__fan_turns(const vent_fan *fan, size_t room, double *flow);

#endif
