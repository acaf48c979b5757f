/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file bend.h
 *  @brief Elbows, mitres and what two of them do together.
 *
 * A bend costs the same both ways.
 */
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
 * below 1 the formula climbs out of proportion, and the uncertainty with it.
 *
 * @param[in] angle [rad] the flow turns by; 0 <= angle <= pi.
 * @param[in] radius_ratio [-] radius of the axis over bore; 0.4 <= radius_ratio <= 10, from the
 *            source 0.5 <= radius_ratio.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source Rennels & Hudson (2012), Pipe Flow, smooth bends; reprint (a reference program).
 *   Second opinion for the spread: Idelchik (2006), diagram 6-1, with friction added; reprint.
 *   Others: Ito (1960), DOI 10.1115/1.3662501, within 7 % at 90 degrees, radius ratios 1 to 1.5 and
 *   a Reynolds number of 5e4; Miller (1990), 5 to 11 % higher.
 * @par Accuracy standard uncertainty 25 % from radius ratio 1 on (published values at 1.5 run from
 *   0.15 to 0.33), growing to 50 % at 0.5 (drain elbows: 0.3 to 1.2), and half the distance of the
 *   second opinion.
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
 *   program). Second opinion for the spread: Idelchik (2006), diagram 6-7; reprint.
 * @par Accuracy standard uncertainty 25 % and half the distance of the second opinion (between
 *   authors a right-angled mitre runs from 1.0 to 1.7); flagged below a Reynolds number of 2e4.
 * @since 0.1 */
VENT_API vent_fitting vent_mitre(double angle, vent_error *err);

VENT_END_DECLS

#endif
