/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file general.h
 *  @brief General forms of a coefficient: three constants, two constants, an equivalent length. */
#ifndef VENTSTACK_GENERAL_H
#define VENTSTACK_GENERAL_H

#include <ventstack/fitting.h>

VENT_BEGIN_DECLS

VENT_END_DECLS

#endif
