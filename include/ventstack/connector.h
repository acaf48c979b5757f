/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file connector.h
 *  @brief What joins pipes and fans: couplings, flexible pieces, and the surroundings of a fan. */
#ifndef VENTSTACK_CONNECTOR_H
#define VENTSTACK_CONNECTOR_H

#include <ventstack/fitting.h>

VENT_BEGIN_DECLS

VENT_END_DECLS

#endif
