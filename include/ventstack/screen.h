/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file screen.h
 *  @brief Screens and perforated plates in the pipe. */
#ifndef VENTSTACK_SCREEN_H
#define VENTSTACK_SCREEN_H

#include <ventstack/fitting.h>

VENT_BEGIN_DECLS

VENT_END_DECLS

#endif
