/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file bend.h
 *  @brief Elbows, mitres and what two of them do together.
 *
 * A bend costs the same both ways, unless told otherwise. Where several authors have a formula, the
 * default gives the value and half the spread of all is part of the uncertainty;
 * vent_fitting_alternatives() lists them, vent_fitting_by_source() takes another. */
#ifndef VENTSTACK_BEND_H
#define VENTSTACK_BEND_H

#include <ventstack/fitting.h>

VENT_BEGIN_DECLS

/** @brief A smooth round elbow, from a slight bend to a full return.
 *
 * K = f a r/D + (0.10 + 2.4 f) sin(a/2) + 6.6 f [sqrt(sin(a/2)) + sin(a/2)] / (r/D)^(4a/pi), with f
 * the pipe's friction factor. It includes the friction of the bend's own length, so the length of
 * the pipe leaves the arc out. It assumes straight pipe of some 30 bores behind the elbow and none
 * of the steps and sharp inner edges of socketed drain elbows. Above 90 degrees with a radius ratio
 * below 1 the formula climbs out of proportion, and the uncertainty with it: it is flagged there.
 *
 * @param[in] angle [rad] the flow turns by; 0 <= angle <= pi.
 * @param[in] radius_ratio [-] radius of the axis over bore; 0.4 <= radius_ratio <= 10, from the
 *            source 0.5 <= radius_ratio, above 90 degrees trusted from 1.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source Rennels & Hudson (2012), Pipe Flow, smooth bends; reprint (a reference program). It is
 *   the default because it takes angle, radius and, through the pipe's friction factor, Reynolds
 *   number and roughness in one expression, and lies among the others. These are Idelchik (2006),
 *   diagram 6-1 with k_Re and friction; Ito (1960), DOI 10.1115/1.3662501, Re 2e4 to 4e5; Miller
 *   (1990), read from his curves, of a smooth wall; Crane (2009), of steel; all reprint. At 90
 *   degrees, radius ratio 1 and a Reynolds number of 5e4 the five are within 0.33 and 0.37.
 * @par Accuracy standard uncertainty 25 % (published values at radius ratio 1.5 run from 0.15 to
 *   0.33) and half the spread of the five: some 45 % in all at radius ratio 0.5.
 * @since 0.1 */
VENT_API vent_fitting vent_elbow(double angle, double radius_ratio, vent_error *err);

/** @brief A mitre: two pipes cut at an angle and joined, without a bend.
 *
 * K = 0.42 sin(a/2) + 2.56 sin^3(a/2). Leaves the Reynolds number out: tables have 4 % more
 * at 1e5, 26 % more at 2e4.
 *
 * @param[in] angle [rad] the flow turns by; 0 <= angle <= pi, from the source angle <= 150 degrees.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if angle is outside its bounds.
 * @par Source Rennels & Hudson (2012), Pipe Flow, single-joint mitre bends; reprint (a reference
 *   program). It is the default as the middle one of five. The others are Idelchik (2006), diagram
 *   6-7, with k_Re of SMACNA (2006), computed; Miller (1990), read from his curves; Blevins (1984), times (2e5/Re)^0.2; Crane
 *   (2009); reprint; all but Crane higher at small Reynolds numbers.
 * @par Accuracy standard uncertainty 25 % and half the spread of the five (at a right angle they run
 *   from 1.0 to 1.7); flagged below a Reynolds number of 2e4.
 * @since 0.1 */
VENT_API vent_fitting vent_mitre(double angle, vent_error *err);

/** @brief An elbow made of straight pieces, mitred at one to five joints.
 *
 * K is that of a smooth bend of the same radius, and what each joint adds by the angle it turns:
 * 0.075 at 45 degrees, 0.033 at 30, 0.0175 at 22.5, 0.01 at 18, times 1 + 1 in / D. The pieces' ends
 * have the spacing the radius makes, 2 r tan(a / 2n); far wider ones cost as mitres do alone. Of one
 * joint it is vent_mitre(), and the radius has no meaning.
 *
 * @param[in] angle [rad] the flow turns by in all; 0 <= angle <= pi, from the source 45 to 90 degrees.
 * @param[in] joints [-] number of joints, one less than the pieces; 1 <= joints <= 5.
 * @param[in] radius_ratio [-] radius of the axis over bore; 0.4 <= radius_ratio <= 10, from the
 *            source 0.5 to 2.5.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source Hooper (1981), constants of mitred elbows of 1 to 5 joints at radius ratio 1.5, less
 *   his smooth elbow, on Rennels & Hudson's smooth bend: the split is this library's, to have other
 *   radii and angles; computed. Second opinion: each joint as a mitre alone and the friction of the
 *   length, Rennels & Hudson (2012); reprint.
 * @par Accuracy standard uncertainty 25 % and half the distance of the second opinion. Against 13
 *   tabled values at radius ratios 0.5 to 2 not used in it: 6 to 53 % higher, by 0.06 to 0.10.
 * @since 0.1 */
VENT_API vent_fitting vent_segmented_elbow(double angle, int joints, double radius_ratio,
                                           vent_error *err);

/** @brief A short-radius drain-waste-vent elbow with sockets.
 *
 * K = k1/Re + ki (1 + kd / D^0.3), as a threaded standard elbow, straight between 0, 45 and 90
 * degrees. No published coefficients of such moulded plastic elbows were found: their inner edge is
 * nearly sharp (radius ratio 0.5 to 0.6; common practice, no source), their sockets make no step in
 * the bore if the pipe is pushed home. Leaves out gaps, steps and cement beads: see the coupling of
 * connector.h.
 *
 * @param[in] angle [rad] the flow turns by; 0 <= angle <= pi/2, from the source 22.5 to 90 degrees.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if angle is outside its bounds.
 * @par Source Darby (2001), threaded standard elbows, with the bore for the nominal size; reprint. It
 *   is the default as the nearest kind (short turn, socketed) that knows the size. The others are
 *   Hooper (1981) and Crane (2009), standard elbows, which agree with it, and Idelchik (2006),
 *   diagram 6-1, smooth bend of radius ratio 0.55, which is more than twice as high; all reprint.
 * @par Accuracy standard uncertainty 25 % and half the spread of the four, some 75 % in all at 90
 *   degrees and more below: sources for such elbows run from 0.3 to 1.2 at 90 degrees.
 * @since 0.1 */
VENT_API vent_fitting vent_drain_elbow(double angle, vent_error *err);

/** @brief Two right-angled elbows close together, in any plane.
 *
 * K is that of both elbows alone times an interaction factor of radius ratio, spacing and plane: at
 * radius ratio 1, without a spacer, 0.53 where the second turns on the same way (a return), 0.81 at
 * right angles, 1.00 where it turns back (an offset), and most, 1.16, a little out of that plane. It
 * comes to 1 at 30 bores. The pipe between the two is not in it. For 90 degree elbows only: how two
 * 45s of an offset work together is not known here; put them in one by one.
 *
 * @param[in] radius_ratio [-] radius of either axis over bore; 0.4 <= radius_ratio <= 10, from the
 *            source 1 to 3.
 * @param[in] spacing [-] straight pipe between them, in bores; 0 <= spacing <= 1000.
 * @param[in] twist [rad] from the plane of the first to that of the second: 0 same way (U), pi/2 at
 *            right angles, pi back (S); 0 <= twist <= pi.
 * @param[in,out] err failure record or NULL.
 * @return the fitting, for both elbows; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source Miller (1990), Internal Flow Systems, table 10.1 for equal radii; reprint (a public
 *   transcription). Each elbow by Rennels & Hudson, as vent_elbow(); second opinion: by Miller.
 * @par Accuracy standard uncertainty 27 % and half the distance of the second opinion. Without a
 *   spacer the same-way pair is within 10 % of Miller's own 180 degree bends.
 * @since 0.1 */
VENT_API vent_fitting vent_elbow_pair(double radius_ratio, double spacing, double twist,
                                      vent_error *err);

/** @brief A close return bend: a fitting that turns the flow by 180 degrees within two bores.
 *
 * K = k1/Re + ki (1 + kd / D^0.3). A smooth return is vent_elbow() with an angle of pi; two elbows are
 * vent_elbow_pair() with a twist of 0.
 *
 * @return the fitting.
 * @par Source Darby (2001), threaded close return bend, with the bore for the nominal size; reprint.
 *   Second opinion: Crane (2009), 50 L/D; reprint.
 * @par Accuracy standard uncertainty 35 %: tables have from 0.75 to 1.5 at 4 inches.
 * @since 0.1 */
VENT_API vent_fitting vent_close_return(void);

/** @brief A smooth elbow with a short pipe behind it that ends in the open or in a plenum.
 *
 * K is that of the elbow times the share of its loss that a short outlet leaves: the flow leaves
 * before all of the elbow's turbulence has come about, 0.5 to 0.7 of it at one or two bores for mild
 * elbows; right at the end a sharp elbow loses up to 2.7 times as much. The exit's own 1 is not in
 * it, nor the friction of the outlet pipe. Reversed it is vent_elbow().
 *
 * @param[in] angle [rad] the flow turns by; 0 <= angle <= pi.
 * @param[in] radius_ratio [-] radius of the axis over bore; 0.4 <= radius_ratio <= 10, from the
 *            source 0.5 <= radius_ratio.
 * @param[in] outlet_ratio [-] length of the straight pipe behind, in bores; 0 <= outlet_ratio <=
 *            1000; from 30 on it is the elbow.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source Miller (1990), Internal Flow Systems, figure 9.4; reprint (curves digitised by a
 *   reference program). The elbow by Rennels & Hudson, as vent_elbow(); second opinion: by Miller.
 * @par Accuracy standard uncertainty 27 % and half the distance of the second opinion. Below half a
 *   bore the share of a sharp elbow changes by a factor of two within a quarter of a bore.
 * @since 0.1 */
VENT_API vent_fitting vent_elbow_outlet(double angle, double radius_ratio, double outlet_ratio,
                                        vent_error *err);

VENT_END_DECLS

#endif
