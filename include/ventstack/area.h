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
 * @par Source expansion: Borda and Carnot, exact by momentum; contraction: Rennels & Hudson (2012),
 *   Pipe Flow, sharp-edged contraction; reprint. Second opinion for the spread of the contraction:
 *   Crane (2009), TP-410, 0.5 (1 - area ratio); reprint.
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
 *   reference program). Second opinion for the spread: Crane (2009), TP-410; reprint.
 * @par Accuracy standard uncertainty 25 % (widening) or 20 % (narrowing) and half the distance of
 *   the second opinion.
 * @since 0.1 */
VENT_API vent_fitting vent_gradual_change(double other_bore, double cone_angle, vent_error *err);

VENT_END_DECLS

#endif
