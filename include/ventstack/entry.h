/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file entry.h
 *  @brief Entries: how the air gets into the pipe.
 *
 * K is on the velocity pressure of the pipe entered. Reversed flow leaves by the entry, and loses its
 * whole velocity pressure: K = 1.
 */
#ifndef VENTSTACK_ENTRY_H
#define VENTSTACK_ENTRY_H

#include <ventstack/fitting.h>

VENT_BEGIN_DECLS

/** @brief The entry into a sharp-edged pipe end flush with a wall, from still air.
 *
 * Reversed flow leaves by it: K = 1.
 *
 * @return the fitting.
 * @par Source Idelchik (1966), diagram 3-1: 0.5; reprint. Crane, Blevins and Swamee say the same;
 *   Miller 0.51; Rennels & Hudson (2012) 0.57, which makes the spread.
 * @par Accuracy standard uncertainty 9 %.
 * @since 0.1 */
VENT_API vent_fitting vent_entry_flush(void);

/** @brief The entry into a pipe end that stands at least half a bore out of the wall.
 *
 * K = 1.12 - 22 x + 216 x^2 + 80 x^3 with x the wall thickness over bore, 0.57 from 0.05 on, where
 * the wall's face does what a flange does. Reversed flow leaves by it: K = 1.
 *
 * @param[in] wall_ratio [-] wall thickness over bore; 0 <= wall_ratio <= 0.5.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if wall_ratio is outside its bounds.
 * @par Source Rennels & Hudson (2012), Pipe Flow; reprint (a reference program). Idelchik (1966),
 *   diagram 3-1, lies up to 13 % lower.
 * @par Accuracy standard uncertainty 12 %.
 * @since 0.1 */
VENT_API vent_fitting vent_entry_reentrant(double wall_ratio, vent_error *err);

/** @brief The entry into a pipe whose edge is rounded into the wall it is flush with.
 *
 * Beyond an edge radius of one bore K stays 0.03. Reversed flow leaves by it: K = 1; a trumpet's
 * recovery is left out.
 *
 * @param[in] radius_ratio [-] radius of the edge over bore; 0 <= radius_ratio <= 10.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if radius_ratio is outside its bounds.
 * @par Source Rennels & Hudson (2012), Pipe Flow, diagram 9.2; reprint (a reference program). Other
 *   opinions for the spread: Idelchik (1966), diagram 3-4, from memory and checked against values
 *   of the diagram; Swamee & Sharma (2008), Design of Water Supply Pipe Networks; reprint. Both are
 *   lower, as are Crane and Miller: at a radius of 0.15 bores 0.04 to 0.08 against 0.15.
 * @par Accuracy standard uncertainty 25 % and half the spread of the three.
 * @since 0.1 */
VENT_API vent_fitting vent_entry_rounded(double radius_ratio, vent_error *err);

VENT_END_DECLS

#endif
