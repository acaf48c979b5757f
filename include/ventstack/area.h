/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file area.h
 *  @brief Changes of bore: sudden and gradual, wider and narrower.
 *
 * K is on the velocity pressure of the pipe the change is put in, the upstream one. Reversed flow
 * exchanges widening and narrowing.
 */
#ifndef VENTSTACK_AREA_H
#define VENTSTACK_AREA_H

#include <ventstack/fitting.h>

VENT_BEGIN_DECLS

/** @brief A sudden change of bore, wider or narrower.
 *
 * K is on the velocity pressure of the pipe it is put in, the upstream one. An expansion loses the
 * square of the difference of velocities (Borda-Carnot); a contraction what the narrowed jet loses
 * as it widens again. Reversed flow exchanges the two. Bores are those of round pipes, or of
 * circles of the same area.
 *
 * @param[in] other_bore [m] bore of the pipe on the far (downstream) side; 1e-4 <= other_bore <=
 *            10.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if other_bore is outside its bounds.
 * @par Source expansion: Borda and Carnot, exact by momentum; Hooper (1988) adds 0.8 f of it; reprint.
 *   Contraction: Rennels & Hudson (2012), Pipe Flow, sharp-edged contraction; reprint: the newest,
 *   and the one from which rounding, bevel and cone follow without a step. Other opinions for the
 *   spread, all lower: Crane (2009), TP-410, 0.5 (1 - area ratio); Idelchik (2006), diagram 4-9, 0.5
 *   (1 - area ratio)^0.75; Hooper (1988), (0.6 + 0.48 f) (1 - area ratio); reprints. Hooper's formulas
 *   for laminar flow are left out: they do not meet his turbulent ones.
 * @par Accuracy standard uncertainty 5 % (expansion), 25 % and half the distance of the second
 *   opinion (contraction; near equal bores Weisbach's measurements are half of the formula).
 * @since 0.1 */
VENT_API vent_fitting vent_sudden_change(double other_bore, vent_error *err);

/** @brief A conical change of bore, wider or narrower.
 *
 * K is on the velocity pressure of the pipe it is put in, the upstream one, and includes the wall
 * friction of the cone, with that pipe's friction factor. Between 40 and 180 degrees a widening
 * cone costs up to a fifth more than a step: measured, and kept. The source's ranges of angle do
 * not quite meet; straight bridges from 20 to 21 and 60 to 65 degrees join them, and one from 175
 * to 180 degrees leads into vent_sudden_change(), which a cone of 180 degrees equals.
 *
 * @param[in] other_bore [m] bore of the pipe on the far (downstream) side; 1e-4 <= other_bore <=
 *            10.
 * @param[in] cone_angle [rad] between opposite walls; 1e-3 <= cone_angle <= pi.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source Rennels & Hudson (2012), Pipe Flow, conical diffusers and contractions; reprint (a
 *   reference program): the only one with wall friction and peak. Other opinions for the spread:
 *   Crane (2009), TP-410; Hooper (1988); reprints; for the widening cone Idelchik (1966), 3.2
 *   tan(angle/2)^1.25 (1 - area ratio)^2 up to 40 degrees from memory, checked against values of the
 *   diagram.
 * @par Accuracy standard uncertainty 25 % (widening) or 20 % (narrowing) and half the spread of the
 *   opinions.
 * @since 0.1 */
VENT_API vent_fitting vent_gradual_change(double other_bore, double cone_angle, vent_error *err);

/** @brief A sudden change of bore whose narrower pipe has a rounded edge.
 *
 * K is on the velocity pressure of the pipe it is put in, the upstream one. The rounding helps where
 * the bore shrinks; where it grows the jet leaves the edge as it leaves a sharp one. Beyond a radius
 * of one small bore nothing changes any more. Reversed flow exchanges the two.
 *
 * @param[in] other_bore [m] bore of the pipe on the far (downstream) side; 1e-4 <= other_bore <=
 *            10.
 * @param[in] edge_radius [m] radius of the edge; 0 <= edge_radius <= 10.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source contraction: Rennels & Hudson (2012), Pipe Flow, rounded contraction; reprint; at a
 *   radius of 0 it is the default of vent_sudden_change(). Other opinion for the spread: Idelchik
 *   (1966), his rounded entry (from memory) times one less the area ratio. Expansion: Borda and
 *   Carnot.
 * @par Accuracy standard uncertainty 25 % and half the distance of the other opinion (contraction),
 *   15 % (expansion).
 * @since 0.1 */
VENT_API vent_fitting vent_rounded_change(double other_bore, double edge_radius, vent_error *err);

/** @brief A sudden change of bore whose narrower pipe has a bevelled edge.
 *
 * K is on the velocity pressure of the pipe it is put in, the upstream one. The bevel helps where the
 * bore shrinks; where it grows the jet leaves as it leaves a sharp edge, and what a long bevel
 * recovers is left out: a bevel over the whole step is vent_gradual_change(). Reversed flow exchanges
 * the two.
 *
 * @param[in] other_bore [m] bore of the pipe on the far (downstream) side; 1e-4 <= other_bore <=
 *            10.
 * @param[in] bevel_length [m] length of the bevel along the axis; 0 <= bevel_length <= 10.
 * @param[in] bevel_angle [rad] between bevel and axis, pi/4 for a chamfer of 45 degrees; 0 <=
 *            bevel_angle <= pi/2.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source contraction: Rennels & Hudson (2012), Pipe Flow, bevelled contraction; reprint; without
 *   a bevel it is the default of vent_sudden_change(), with a whole one that of vent_gradual_change()
 *   without friction. Other opinion for the spread: Idelchik (1966), table of the conical entry with
 *   an end wall times one less the area ratio; reprint. Expansion: Borda and Carnot.
 * @par Accuracy standard uncertainty 25 % and half the distance of the other opinion (contraction),
 *   15 % (expansion).
 * @since 0.1 */
VENT_API vent_fitting vent_bevelled_change(double other_bore, double bevel_length,
                                           double bevel_angle, vent_error *err);

/** @brief A bushing, insert or stop: a throat of some length between two bores.
 *
 * K is on the velocity pressure of the pipe it is put in, the upstream one. The air contracts into the
 * throat and widens out of it, each suddenly; in a short throat the jet is still narrow as it leaves.
 * The throat may be narrower than both pipes, between them, or wider: then it counts as far as the
 * jet reaches its wall, some eight steps on (from memory). A bushing bored as wide as the
 * narrower pipe is a sudden change. Wall friction of the throat is that of the pipe at its Reynolds
 * number.
 *
 * @param[in] other_bore [m] bore of the pipe on the far (downstream) side; 1e-4 <= other_bore <=
 *            10.
 * @param[in] throat_bore [m] bore of the throat; 1e-3 <= throat_bore <= 10.
 * @param[in] throat_length [m] its length; 0 <= throat_length <= 10.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source Idelchik (2006), thick-edged orifice: for equal bores on both sides, diagram 4-15, read
 *   in reprints (one of three has another exponent, which does not meet the values of the diagram);
 *   for unequal ones, diagram 4-12, from memory. Other opinion for the spread: Rennels & Hudson
 *   (2012), Pipe Flow, thick-edged orifice, from memory; without length it agrees with a reprint.
 * @par Accuracy standard uncertainty 20 % and half the distance of the other opinion, which is up to
 *   42 % away for a throat about as long as wide, and 10 % for a long or thin one of up to 0.6 of
 *   the pipe's area.
 * @since 0.1 */
VENT_API vent_fitting vent_bushing(double other_bore, double throat_bore, double throat_length,
                                   vent_error *err);

/** @brief A pipe reducer: a cone between two straight ends, on one axis or not.
 *
 * K is on the velocity pressure of the pipe it is put in, the upstream one, and includes the wall
 * friction of the whole length, with that pipe's friction factor: the pipes' lengths leave the reducer
 * out. The cone takes 0.6 of the length, each end 0.2. With equal bores it is a piece of pipe.
 * Reversed flow exchanges widening and narrowing.
 *
 * @param[in] other_bore [m] bore of the pipe on the far (downstream) side; 1e-4 <= other_bore <=
 *            10.
 * @param[in] length [m] of the whole reducer; 1e-4 <= length <= 10.
 * @param[in] eccentricity [-] distance of the axes over half the difference of the bores: 0 on one
 *            axis, 1 with one side flush; 0 <= eccentricity <= 1.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source Rennels & Hudson (2012), Pipe Flow, pipe reducer: shape, friction, and 15 % more if
 *   eccentric; reprint. The reprint's formula has wall friction only, and warns of itself; the loss of
 *   the cone's form is added by the same authors' conical laws. Other opinion for the spread: Crane's
 *   (2009) cones, with the same ends. Between 0 and 1 the eccentric part grows in proportion (ours).
 * @par Accuracy standard uncertainty 25 %, half the distance of the other opinion, and all of what is
 *   added for eccentricity.
 * @since 0.1 */
VENT_API vent_fitting vent_reducer(double other_bore, double length, double eccentricity,
                                   vent_error *err);

VENT_END_DECLS

#endif
