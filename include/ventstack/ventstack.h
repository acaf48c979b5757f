/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file ventstack.h
 *  @brief Everything, in the order one reads it.
 *
 * A vent stack draws soil gas from under a slab and sends it up and away. Say what air it is
 * (air.h), what the gas passes through (friction.h, pipe.h, fitting.h, junction.h), what drives it
 * (fan.h), where it comes from (soil.h), how it leaks (opening.h) and how it leaves
 * (termination.h); put the parts together (network.h) and read the answer (solution.h). Measure
 * the stack that was built (measure.h), say how sure an answer is (uncertainty.h), find the
 * numbers behind readings (fit.h), hold what was built against what was designed, and later
 * readings against the weather (commission.h), and find the fault that explains them
 * (diagnose.h). Every call that can fail fills the caller's own record (error.h); every quantity
 * is SI (units.h); every coefficient can say where it comes from (source.h).
 *
 * Threads: the library has no mutable global or thread-local state and installs no handlers.
 * Functions without a handle are pure. `const` handles may be shared by any number of threads. A
 * handle that is not const belongs to one call at a time. */
#ifndef VENTSTACK_H
#define VENTSTACK_H

#include <ventstack/version.h>
#include <ventstack/error.h>
#include <ventstack/units.h>
#include <ventstack/source.h>
#include <ventstack/air.h>
#include <ventstack/friction.h>
#include <ventstack/pipe.h>
#include <ventstack/fitting.h>
#include <ventstack/bend.h>
#include <ventstack/area.h>
#include <ventstack/entry.h>
#include <ventstack/device.h>
#include <ventstack/connector.h>
#include <ventstack/screen.h>
#include <ventstack/general.h>
#include <ventstack/junction.h>
#include <ventstack/termination.h>
#include <ventstack/fan.h>
#include <ventstack/soil.h>
#include <ventstack/opening.h>
#include <ventstack/network.h>
#include <ventstack/solution.h>
#include <ventstack/provenance.h>
#include <ventstack/parameter.h>
#include <ventstack/observable.h>
#include <ventstack/gradient.h>
#include <ventstack/points.h>
#include <ventstack/balance.h>
#include <ventstack/many.h>
#include <ventstack/measure.h>
#include <ventstack/uncertainty.h>
#include <ventstack/fit.h>
#include <ventstack/commission.h>
#include <ventstack/diagnose.h>

#endif
