/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file entry.h
 *  @brief Entries: how the air gets into the pipe.
 *
 * K is on the velocity pressure of the pipe entered. Reversed flow leaves by the entry, and loses its
 * whole velocity pressure: K = 1. Through a hole in a slab and through a perforated pipe it meets the
 * same obstacles the other way, which is told there.
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
 * @par Source Idelchik (1966), diagram 3-1: 0.5; reprint: what most say, Crane (2009), Blevins and
 *   Swamee among them. Others for the spread: Miller (1990) 0.51, Rennels & Hudson (2012) 0.57;
 *   reprints.
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
 * @par Source Rennels & Hudson (2012), Pipe Flow; reprint (a reference program): the highest, and a
 *   formula. Other opinions for the spread: Idelchik (1966), diagram 3-1, up to 13 % lower; Miller
 *   (1990), a polynomial through his curve; reprints. Crane's one value for every wall, 0.78, and
 *   Harris's measurements of 1928, lower than all, are left out.
 * @par Accuracy standard uncertainty 12 % and half the spread of the three.
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
 * @par Source Rennels & Hudson (2012), Pipe Flow, diagram 9.2; reprint (a reference program): the
 *   newest, whose authors doubt the measurements of 1929 that the others rest on. Other opinions for
 *   the spread: Idelchik (1966), diagram 3-4, from memory and checked against values of the diagram;
 *   Swamee & Sharma (2008), Design of Water Supply Pipe Networks; Crane (2009); Miller (1990);
 *   reprints. All are lower: at a radius of 0.15 bores 0.04 to 0.11 against 0.15.
 * @par Accuracy standard uncertainty 25 % and half the spread of the five.
 * @since 0.1 */
VENT_API vent_fitting vent_entry_rounded(double radius_ratio, vent_error *err);

/** @brief The entry into a sharp-edged pipe end that stands any distance out of a wall.
 *
 * From flush with the wall to half a bore in front of it, beyond which nothing changes any more; by
 * wall thickness, of which a twentieth of the bore is as good as a flange. Reversed flow leaves by it:
 * K = 1.
 *
 * @param[in] projection_ratio [-] distance of the end from the wall over bore; 0 <= projection_ratio
 *            <= 100.
 * @param[in] wall_ratio [-] wall thickness over bore; 0 <= wall_ratio <= 0.5.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source Idelchik (1966), diagram 3-1, table, straight between its values; reprint: the only
 *   source with both distances.
 * @par Accuracy standard uncertainty 12 %: where vent_entry_reentrant() covers the same case, its
 *   sources lie up to 13 % higher.
 * @since 0.1 */
VENT_API vent_fitting vent_entry_projecting(double projection_ratio, double wall_ratio,
                                            vent_error *err);

/** @brief The entry into a pipe whose edge is bevelled into the wall it is flush with.
 *
 * Reversed flow leaves by it: K = 1; what a long bevel recovers is left out.
 *
 * @param[in] length_ratio [-] length of the bevel along the axis over bore; 0 <= length_ratio <= 1,
 *            from the table up to 0.6.
 * @param[in] bevel_angle [rad] between bevel and axis, pi/4 for a chamfer of 45 degrees; 0 <=
 *            bevel_angle <= pi/2.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source Rennels & Hudson (2012), Pipe Flow, bevelled entry; reprint (a reference program): a
 *   formula without corners. Other opinion for the spread: Idelchik (1966), table of the conical entry
 *   with an end wall; reprint; up to 0.13 lower.
 * @par Accuracy standard uncertainty 20 % and half the distance of the other opinion: little credible
 *   data is available, say the authors.
 * @since 0.1 */
VENT_API vent_fitting vent_entry_bevelled(double length_ratio, double bevel_angle, vent_error *err);

/** @brief The entry into a sharp-edged pipe that meets the wall at an angle, cut flush with it.
 *
 * Reversed flow leaves by it: K = 1.
 *
 * @param[in] angle [rad] between the pipe's axis and the wall, pi/2 for a straight entry; 5 degrees <=
 *            angle <= pi/2, from the source above 20 degrees.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if angle is outside its bounds.
 * @par Source Rennels & Hudson (2012), Pipe Flow: 0.57 + 0.3 cos(angle) + 0.2 cos(angle)^2; reprint: the
 *   one that was read. Other opinions for the spread, from memory: Idelchik (1966), with 0.5 for 0.57;
 *   Weisbach (1855), 0.505 + 0.303 cos(angle) + 0.226 cos(angle)^2, from which both descend.
 * @par Accuracy standard uncertainty 10 % and half the spread of the three.
 * @since 0.1 */
VENT_API vent_fitting vent_entry_angled(double angle, vent_error *err);

/** @brief The entry into a pipe end with a rounded edge that stands free, without a wall.
 *
 * Beyond an edge radius of 0.2 bores K stays 0.03. Reversed flow leaves by it: K = 1; what the bell
 * recovers is left out.
 *
 * @param[in] radius_ratio [-] radius of the edge over bore; 0 <= radius_ratio <= 10.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if radius_ratio is outside its bounds.
 * @par Source Idelchik (1966), diagram 3-4, table, straight between its values; reprint: the only
 *   source.
 * @par Accuracy standard uncertainty 20 %.
 * @since 0.1 */
VENT_API vent_fitting vent_entry_bell(double radius_ratio, vent_error *err);

/** @brief The entry from a pit through a hole in a slab into the pipe.
 *
 * The air contracts from the pit into the hole and widens, or contracts again, into the pipe; a slab
 * thinner than about two holes lets the jet leave while it is still narrow. The loss is that of total
 * pressure from the pit to the pipe: in a large pit the air is still, in a small one it arrives with a
 * velocity, as if the pit were a pipe of its radius. What the air loses on its way into the pit is the
 * soil's. Between hole and pipe all is tight. Reversed flow widens from the pipe through the hole into
 * the pit; a hole wider than the pipe helps it as far as the jet reaches the hole's wall, and into a
 * large pit it loses its whole velocity pressure.
 *
 * @param[in] hole_bore [m] bore of the hole; 1e-3 <= hole_bore <= 10.
 * @param[in] slab_thickness [m] length of the hole; 0 <= slab_thickness <= 10.
 * @param[in] pit_radius [m] radius of the pit under it, of vent_pit_radius() where its volume is
 *            known; hole_bore/2 <= pit_radius <= 100.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source computed from Idelchik's (2006) thick-edged orifice between unequal pipes, diagrams 4-12
 *   (from memory) and 4-15 (reprints). Other opinion for the spread: Rennels & Hudson (2012), Pipe
 *   Flow, thick-edged orifice, from memory. No measurement of a cored slab was found.
 * @par Accuracy standard uncertainty 20 % and half the distance of the other opinion, which is up to
 *   42 % away where slab and hole are alike and the pipe is wider.
 * @since 0.1 */
VENT_API vent_fitting vent_entry_cored_hole(double hole_bore, double slab_thickness,
                                            double pit_radius, vent_error *err);

/** @brief Radius of a pit of a given volume, dug as half a ball.
 *
 * @param[in] volume [m3] of the pit; 1e-9 <= volume <= 1e6.
 * @param[in,out] err failure record or NULL.
 * @return the radius, [m]; NaN on failure.
 * @par Errors VENT_E_ARGUMENT if volume is outside its bounds.
 * @par Source geometry.
 * @par Accuracy exact; a real pit is no half-ball, which matters little to vent_entry_cored_hole().
 * @since 0.1 */
VENT_API double vent_pit_radius(double volume, vent_error *err);

/** @brief The entry through the holes of a perforated pipe, closed at its far end.
 *
 * Each hole discharges as an orifice under the pressure across the wall there; the air that is in the
 * pipe already makes room for what comes, which takes pressure off the far holes. Pressure outside is
 * the same along the pipe. Many small holes come to K = 1, few to 1/g^2 + 1/3 with g the area of all
 * holes times the discharge coefficient over the pipe's area. Friction of the perforated length is
 * included to the first order: the length of the run leaves it out. Reversed flow leaves by the holes:
 * K = 1/sin(g)^2, and 1, the exit, from g = pi/2 on.
 *
 * @param[in] holes_per_length [1/m] holes in one metre of pipe; 0.1 <= holes_per_length <= 1e5.
 * @param[in] hole_bore [m] bore of a hole; 1e-4 <= hole_bore <= 1.
 * @param[in] length [m] of the perforated pipe; 1e-3 <= length <= 1000.
 * @param[in] discharge_coefficient [-] of a hole, about 0.6 where the wall is thin and the edge sharp,
 *            and less where gravel covers it; 0.1 <= discharge_coefficient <= 1.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source computed: orifice law, and momentum along the pipe (inwards) or constant total pressure
 *   (outwards); friction to the first order. No measurement was found.
 * @par Accuracy standard uncertainty 20 %: twice 10 % of the discharge coefficient. Where the loss of
 *   friction, f length/bore, is below 1 its first order is within 2 % of K.
 * @since 0.1 */
VENT_API vent_fitting vent_entry_perforated(double holes_per_length, double hole_bore,
                                            double length, double discharge_coefficient,
                                            vent_error *err);

VENT_END_DECLS

#endif
