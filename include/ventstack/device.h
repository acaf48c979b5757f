/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file device.h
 *  @brief Devices that are set by hand or open by themselves: dampers, valves, orifice plates.
 *
 * All of them leave an opening; the loss is that of the jet behind it, and grows without bound as it
 * closes. Near closed, edges, stops and seals decide, of which no formula knows: the sources part
 * there, and the uncertainty says so. For balancing, set the device by a measured pressure, not by
 * its scale. */
#ifndef VENTSTACK_DEVICE_H
#define VENTSTACK_DEVICE_H

#include <ventstack/fitting.h>

VENT_BEGIN_DECLS

/** @brief A butterfly damper: a disc in the pipe, turned about its diameter.
 *
 * K = k1/Re + (1 - 50/Re) [1.56/(1 - b^2 sin(a)) - 1]^2, with the blade over bore b. The same both
 * ways. Leaves out the thickness of the blade, stops and seals. By the other sources, which know
 * only the blade of full size, a smaller one counts as the full one that leaves the same area free.
 *
 * @param[in] angle [rad] of the blade, 0 open; 0 <= angle <= 85 degrees, from the source angle <= 70
 *            degrees.
 * @param[in] blade_ratio [-] diameter of the blade over bore; 0.5 <= blade_ratio <= 1.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source Idelchik (1986), section 9, disc throttling valve; memory. The default as it alone
 *   knows the blade's size and the Reynolds number, and lies within 6 % of Weisbach's
 *   measurements from 40 to 65 degrees. Others: Weisbach (1855), memory, 5 of 14 values met in a
 *   reprint; Miller (1978), as fitted in an open program library, reprint; Haves and others (1996),
 *   single-blade dampers, reprint.
 * @par Accuracy standard uncertainty 20 % and half the spread of the four sources: 30 to 42 % in all
 *   from 10 to 60 degrees.
 * @since 0.1 */
VENT_API vent_fitting vent_butterfly_damper(double angle, double blade_ratio, vent_error *err);

/** @brief A slide gate (blast gate) whose blade has a straight edge.
 *
 * The loss of a sharp-edged orifice that leaves the same part of the bore free: the segment below
 * the edge. The same both ways. Leaves out the guide slots (in the uncertainty) and the leak around
 * the blade.
 *
 * @param[in] opening [-] height of the opening over bore; 0.02 <= opening <= 1, by the source 0.1
 *            <= opening.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if opening is outside its bounds.
 * @par Source Rennels & Hudson (2012), sharp-edged orifice, memory, by the free area; the default as
 *   it is derived, and right at both ends. Others: Idelchik (1986), diagram 4-14, memory; Miller
 *   (1978), sluice valve, as fitted in an open program library, reprint.
 * @par Accuracy standard uncertainty 15 %, 0.08 for the slots, and half the spread of the sources.
 * @since 0.1 */
VENT_API vent_fitting vent_slide_gate(double opening, vent_error *err);

/** @brief A gate valve: a slide with a round end of the bore's size.
 *
 * As vent_slide_gate(), with the area that the bore and the shifted round end leave free.
 *
 * @param[in] opening [-] way of the slide from closed, over bore; 0.02 <= opening <= 1, by the
 *            source 0.1 <= opening.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if opening is outside its bounds.
 * @par Source Rennels & Hudson (2012), sharp-edged orifice, memory, by the free area; within 10 % of
 *   Weisbach's measurements from half to 7/8 closed. Others: Idelchik (1986), diagram 4-14, memory;
 *   Weisbach (1855), memory; Miller (1978), as fitted in an open program library, reprint.
 * @par Accuracy standard uncertainty 15 %, 0.08 for the slots, and half the spread of the sources.
 * @since 0.1 */
VENT_API vent_fitting vent_gate_valve(double opening, vent_error *err);

/** @brief A ball valve of full bore, by its angle.
 *
 * Two sharp-edged openings in series, where the rims of the turned bore and of the port cross; shut
 * at 82.5 degrees, as a ball of 1.52 bores is. The same both ways. A reduced bore is left out: add
 * vent_orifice_plate().
 *
 * @param[in] angle [rad] of the lever, 0 open; 0 <= angle <= 80 degrees, by the source angle <= 65
 *            degrees.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if angle is outside its bounds.
 * @par Source Rennels & Hudson (2012), sharp-edged orifice, memory, by the free area; within 30 % of
 *   Weisbach's measurements of a cock from 20 to 65 degrees. Others: Weisbach (1855), memory, 5 of
 *   13 values met in a reprint; Miller (1978), as fitted in an open program library, reprint, a
 *   third of these.
 * @par Accuracy standard uncertainty 15 %, 0.05 for the open valve, and half the spread of the
 *   sources.
 * @since 0.1 */
VENT_API vent_fitting vent_ball_valve(double angle, vent_error *err);

/** @brief A sharp-edged orifice plate, as a restriction.
 *
 * K = [sqrt(1 - b^4 (1 - C^2))/(C b^2) - 1]^2 with the diameter ratio b and the discharge coefficient
 * C(b, bore, Re) of corner taps. This is what the plate takes for good, less than the differential
 * pressure at its taps. C is held at its value at a Reynolds number of 5000 below that (the standard asks
 * for 16000 b^2 above b = 0.56). The same both ways; a plate bevelled on one side takes less against
 * its mark. Expansion of the gas is left out: 1 kPa changes the result by less than 1 %.
 *
 * @param[in] diameter_ratio [-] of orifice over bore; 0.1 <= diameter_ratio <= 1, from the source
 *            diameter_ratio <= 0.75.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if diameter_ratio is outside its bounds.
 * @par Source ISO 5167-2 (2003), Reader-Harris/Gallagher equation and pressure loss coefficient;
 *   reprint (a reference program); the default as a standard. Others, without the Reynolds number:
 *   Rennels & Hudson (2012), memory; Idelchik (1986), diagram 4-14, memory.
 * @par Accuracy standard uncertainty 5 % (the standard's 0.5 % of C needs long straight pipes) and
 *   half the spread of the sources.
 * @since 0.1 */
VENT_API vent_fitting vent_orifice_plate(double diameter_ratio, vent_error *err);

/** @brief Where an orifice plate's pressure difference is taken. */
enum {
    VENT_TAPS_CORNER = 1, /**< at the plate */
    VENT_TAPS_D_D2 = 2,   /**< one bore before, half a bore behind */
    VENT_TAPS_FLANGE = 3  /**< 25.4 mm before and behind */
};

/** @brief Discharge coefficient of an orifice plate.
 *
 * For a plate as a meter, see vent_metering_orifice() and vent_orifice_flow() (measure.h).
 *
 * Below Re 3700, where the standard ends, taps off the plate have a further term, as the reference
 * program has it.
 *
 * @param[in] pipe_bore [m] 0.01 <= pipe_bore <= 2; the source's range is 0.05 to 1.
 * @param[in] bore [m] of the hole; 0.1 <= bore / pipe_bore <= 0.75.
 * @param[in] reynolds [-] on the pipe's bore; 100 <= reynolds <= 1e9; the source's begins at 5000.
 * @param[in] taps [-] VENT_TAPS_...
 * @return [-] NaN outside.
 * @par Source ISO 5167-2 (2003), 5.3.2.1, the Reader-Harris/Gallagher equation; reprint (a
 *   reference program).
 * @par Accuracy vent_orifice_flow()'s.
 * @since 0.1 */
VENT_API double vent_orifice_discharge(double pipe_bore, double bore, double reynolds,
                                       int32_t taps);

/** @brief A check (back-draft) damper that a pressure opens.
 *
 * The way of the run it takes the opening pressure and, beside it, K of a swing check valve; below 0.1
 * m/s the air leaks around the flap and the opening pressure comes in as 3x^2 - 2x^3 of the velocity over 0.1
 * m/s. Reversed, the flap is shut, and K is that of a sharp-edged opening of the leak's area. K does
 * not hold the opening pressure. A flap that flutters, sticks or freezes is left out; none replaces
 * what a local code asks for against back-draft.
 *
 * @param[in] opening_pressure [Pa] that holds the flap open; 0 <= opening_pressure <= 1000.
 * @param[in] leak_ratio [-] area of the leak of the closed flap over that of the bore; 1e-4 <= leak_ratio
 *            <= 0.5.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source Hooper (1981), two-K method, swing check valve, reprint; the default as it knows bore
 *   and Reynolds number and lies between the others: Darby (2001), three-K method, reprint; Perry (1997),
 *   reprint. Leak: Rennels & Hudson (2012) and Idelchik (1986), orifices, memory. Opening: common
 *   practice, no source.
 * @par Accuracy standard uncertainty 40 % open, as the sources are of valves for liquids, 50 % shut,
 *   and half the spread of the sources.
 * @since 0.1 */
VENT_API vent_fitting vent_check_damper(double opening_pressure, double leak_ratio,
                                        vent_error *err);

VENT_END_DECLS

#endif
