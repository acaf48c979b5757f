/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file device.h
 *  @brief Devices that are set by hand or open by themselves: dampers, valves, orifice plates. */
#ifndef VENTSTACK_DEVICE_H
#define VENTSTACK_DEVICE_H

#include <ventstack/fitting.h>

VENT_BEGIN_DECLS

VENT_END_DECLS

#endif
