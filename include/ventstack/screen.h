/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file screen.h
 *  @brief Screens and perforated plates in the pipe.
 *
 * K is on the velocity pressure of the pipe in front of the screen; the air may go either way. A
 * screen over the very end of the stack is a termination: see vent_end_guard(). All are clean:
 * leaves, webs, lint and ice are not in them. */
#ifndef VENTSTACK_SCREEN_H
#define VENTSTACK_SCREEN_H

#include <ventstack/fitting.h>

VENT_BEGIN_DECLS

/** @brief A screen across the pipe: a square mesh of round wires, from insect screen to half-inch
 *  mesh.
 *
 * K = [1.3 (1 - f) + (1/f - 1)^2] (1 + 22/Re), with f the free share of the area,
 * vent_guard_free_area(), and Re the Reynolds number of the wire in the air in front. The frame is
 * not in it.
 *
 * @param[in] wire [m] diameter of the wires; 1e-5 <= wire <= 0.02.
 * @param[in] opening [m] clear width between two wires; 1e-5 <= opening <= 1, and so that at least
 *            0.05 of the area is free.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source Idelchik (1966), diagram 8-6; memory; a table of its values without the formula is
 *   common in duct handbooks. The dependence on the Reynolds number is our fit to that diagram,
 *   within 5 % above 50. It is the default because it alone holds for coarse wire in fast air, where
 *   K becomes constant, and for every free area, and lies between the others. These are Blevins
 *   (1984), round wires, a table over Re 20 to 400, reprint; Brundrett (1993), Journal of Fluids
 *   Engineering 115, memory; Wieghardt (1953), Aeronautical Quarterly 4, Re/f 60 to 1000, memory.
 * @par Accuracy standard uncertainty 15 % for the weave, and half the distance between the sources.
 *   Flagged below a Reynolds number of the wire of 50.
 * @since 0.1 */
VENT_API vent_fitting vent_screen(double wire, double opening, vent_error *err);

/** @brief A screen of square-edged bars or thin punched sheet across the pipe.
 *
 * K = [(0.707 sqrt(1 - f) + 1 - f) / f]^2: the air contracts behind the edges, then fills the pipe
 * again. Thicker sheet costs less: see vent_perforated_plate(). Leaves out the Reynolds number.
 *
 * @param[in] free_area [-] free share f of the pipe's area; 0.05 <= free_area <= 1, from the source
 *            to 0.95.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if free_area is outside its bounds.
 * @par Source Idelchik (1966), diagram 8-1; memory; the same expression as his orifice. It is the
 *   default as a formula for plates of many holes, smooth over all free areas. Others: Blevins
 *   (1984), square-edged screens, a table, reprint; Rennels & Hudson (2012), sharp-edged orifice
 *   taken for many, memory.
 * @par Accuracy standard uncertainty 10 %, and half the distance between the sources.
 * @since 0.1 */
VENT_API vent_fitting vent_square_screen(double free_area, vent_error *err);

/** @brief A perforated plate across the pipe, thin or thick, with sharp-edged holes.
 *
 * K = [0.5 (1 - f)^0.75 + tau (1 - f)^1.375 + (1 - f)^2 + friction] / f^2: what the holes' entries
 * cost, what their jets lose while they still are contracted (tau falls from 1.35 for thin sheet to
 * 0 at 2.4 hole bores), and their expansion. Rounded or bevelled holes cost less. The friction in
 * the holes is taken with the friction factor of the pipe.
 *
 * @param[in] free_area [-] free share f of the pipe's area; 0.05 <= free_area <= 1, from the source
 *            to 0.95.
 * @param[in] hole_bore [m] bore of one hole; 1e-4 <= hole_bore <= 1.
 * @param[in] thickness [m] of the plate; 0 <= thickness <= 0.5.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source Idelchik (2006), diagram 4-15, thick-edged orifice (8-3 for plates); it is the default
 *   because its range of the holes' Reynolds number, from 1000, is known. The other: Rennels &
 *   Hudson (2012), thick-edged orifice; both memory.
 * @par Accuracy standard uncertainty 15 %, and half the distance between the sources. Flagged below
 *   a Reynolds number of the holes of 1000.
 * @since 0.1 */
VENT_API vent_fitting vent_perforated_plate(double free_area, double hole_bore, double thickness,
                                            vent_error *err);

VENT_END_DECLS

#endif
