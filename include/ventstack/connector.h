/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file connector.h
 *  @brief What joins pipes and fans: couplings, flexible pieces, and the surroundings of a fan.
 *
 * A fan's curve is measured with air that enters evenly and leaves through a pipe. What the pipes next
 * to it spoil is stated as a fitting on the velocity pressure of the pipe, in addition to the loss of
 * the elbow or the bore's change itself. An inlet with a straight pipe costs nothing more; a free inlet
 * is an entry as any other (vent_entry_reentrant(), vent_entry_rounded()), and a pipe wider than the
 * fan's outlet a change of bore (vent_sudden_change(), vent_gradual_change()). */
#ifndef VENTSTACK_CONNECTOR_H
#define VENTSTACK_CONNECTOR_H

#include <ventstack/fitting.h>

VENT_BEGIN_DECLS

/** @brief A coupling or a flexible sleeve between two pipes of one bore.
 *
 * Bead and offset together leave a part of the bore free, whose loss is that of a sharp-edged orifice;
 * over the gap the air beside drags with a shear stress of 0.011 rho V^2, so that K grows by 0.088 gap/bore.
 * The same both ways. A sleeve that sags into the stream is left out. Add it as often as it is there.
 *
 * @param[in] bead_ratio [-] height of a bead or burr around the bore, over bore; 0 <= bead_ratio <= 0.2,
 *            trusted to 0.1.
 * @param[in] gap_ratio [-] length of the gap between the pipe ends, over bore; 0 <= gap_ratio <= 2,
 *            trusted to 0.5.
 * @param[in] offset_ratio [-] of the axes, over bore; 0 <= offset_ratio <= 0.3, trusted to 0.1.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source Rennels & Hudson (2012), sharp-edged orifice, memory, the default as right at both ends;
 *   Idelchik (1986), diagram 4-14, memory. Gap: shear stress of a mixing layer, Pope (2000),
 *   section 5.4, memory.
 * @par Accuracy standard uncertainty 40 % and half the distance of the second opinion. Handbooks have
 *   0.04 to 0.08 for couplings and unions of threaded pipe: a bead of 1.7 to 3 % of the bore.
 * @since 0.1 */
VENT_API vent_fitting vent_coupling(double bead_ratio, double gap_ratio, double offset_ratio,
                                    vent_error *err);

/** @brief A piece of flexible duct, by its length and how far it is pushed together.
 *
 * Friction in fully rough flow with the roughness of stretched flexible duct (as vent_roughness_find()
 * has it), times 1 + 0.58 r exp(-0.00496 D), r the compression in per cent and D the bore in mm.
 * It stands for the length of the duct: the length of the pipe leaves it out. Bends and sagging
 * are left out. In bores outside 150 to 255 mm it is flagged: thinner duct is not known to follow it.
 * For corrugated drain tubing take a pipe with the roughness of that name.
 *
 * @param[in] length [m] as installed; 0 <= length <= 100.
 * @param[in] compression [-] share of the stretched length that is lost; 0 <= compression <= 0.5, from
 *            the source compression <= 0.3.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source Abushakra, Walker & Sherman (2004), measured at 150 to 250 mm; the formula from memory,
 *   its size ("a factor of four", "close to ten") from the abstract, reprint.
 * @par Accuracy standard uncertainty 35 %, as the published roughness of stretched duct spans a decade.
 * @since 0.1 */
VENT_API vent_fitting vent_flexible_duct(double length, double compression, vent_error *err);

/** @brief A tee that lets condensate past the fan, as the main stream sees it.
 *
 * The run of a tee of equal bores whose branch takes water and no air worth counting. The same both ways.
 * Water that stands in it, and air that passes through a bypass that has run dry, are left out.
 *
 * @return the fitting.
 * @par Source Darby (2001), three-K method, flanged tee, run-through, reprint, with the bore in inches for
 *   the nominal size; the default as the middle one. Others: Hooper (1981), two-K method, reprint;
 *   Crane (2009), 20 friction factors of clean steel pipe, reprint.
 * @par Accuracy standard uncertainty 30 % and half the spread of the sources, which differ by a factor of
 *   five.
 * @since 0.1 */
VENT_API vent_fitting vent_bypass_tee(void);

/** @brief What an outlet pipe too short for the fan's stream to fill it costs.
 *
 * A fan blows through a part of its outlet, the blast area; the stream fills a pipe of 2.5 bores (up to
 * 12.7 m/s). By momentum, what is not recovered without a pipe is 2 (1 - b)/b; it decays as exp(-6 x)
 * along the share x of the full length. For a fan whose curve was measured with a full outlet pipe.
 * Reversed flow: unknown, taken as 0 with an uncertainty of 1.
 *
 * @param[in] blast_ratio [-] blast area over outlet area; 0.2 <= blast_ratio <= 1, from the source 0.4 <=
 *            blast_ratio.
 * @param[in] length_ratio [-] length of straight outlet pipe over its bore; 0 <= length_ratio <= 1000.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source momentum balance over the outlet; decay through the remembered curves of AMCA 201; memory.
 * @par Accuracy standard uncertainty 30 %: remembered curves lie 5 to 37 % below (blast area 0.4)
 *   without a pipe.
 * @since 0.1 */
VENT_API vent_fitting vent_fan_outlet(double blast_ratio, double length_ratio, vent_error *err);

/** @brief What an elbow close to the inlet of a fan costs beside its own loss.
 *
 * The fan works with a lopsided, swirling stream: K = 1.35 (r/D)^-0.6 exp(-x/4), x the distance in
 * bores. Swirl with or against the wheel, which can raise or lower the fan's curve, is left out. Reversed
 * flow: unknown, taken as 0 with an uncertainty of 1.
 *
 * @param[in] radius_ratio [-] radius of the elbow's axis over bore; 0.25 (a two-piece mitre) <=
 *            radius_ratio <= 10, from the source 0.5 <= radius_ratio <= 3.
 * @param[in] distance_ratio [-] straight pipe between elbow and fan over bore; 0 <= distance_ratio <= 1000.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source power law and decay through the remembered curves of AMCA 201-02, Fans and Systems; memory.
 * @par Accuracy standard uncertainty 30 %: within 27 % of a reprinted table for square elbows.
 * @since 0.1 */
VENT_API vent_fitting vent_fan_inlet_elbow(double radius_ratio, double distance_ratio,
                                           vent_error *err);

VENT_END_DECLS

#endif
