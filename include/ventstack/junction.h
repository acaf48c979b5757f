/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file junction.h
 *  @brief Where runs meet: the loss of each leg as a function of its own and the combined flow.
 *
 * A leg's loss is that of total pressure, from the end of the leg to the start of the combined
 * pipe. It is negative where the faster stream drags the slower one along: right, and not a
 * mistake. What one leg gains the other loses, and more. */
#ifndef VENTSTACK_JUNCTION_H
#define VENTSTACK_JUNCTION_H

#include <ventstack/error.h>
#include <ventstack/source.h>

VENT_BEGIN_DECLS

/** @brief The laws for a junction. */
enum {
    VENT_JUNCTION_LOSSLESS = 0, /**< total pressure is the same in all legs */
    VENT_JUNCTION_WYE = 1       /**< a straight leg and branches at one angle */
};

/** @brief A law for a junction; frozen layout. The first run that arrives is the straight leg, each
 *  later one a branch that joins at `angle` to the combined pipe's axis. */
typedef struct vent_junction {
    int32_t law;      /**< VENT_JUNCTION_... */
    int32_t reserved; /**< 0 */
    double angle;     /**< rad between a branch and the combined pipe, 90 degrees for a tee */
    double factor;    /**< multiplies the loss; 1 unless stated; 0 to 1000 */
} vent_junction;

/** @brief A junction that costs nothing.
 *
 * The total pressure is the same at the end of every leg and at the start of the combined pipe. For
 * wide plenums, or to leave the junction out.
 *
 * @return the law.
 * @since 0.1 */
VENT_API vent_junction vent_junction_lossless(void);

/** @brief A wye, or a tee: a straight leg and a branch that joins it at an angle.
 *
 * Momentum theory for any angle and any three areas and for flow of any sign in any leg (exact for
 * streams that mix at one pressure); while the legs join, with Idelchik's corrections, made
 * continuous: the branch's coefficient falls to 0.55 of the theory's as its share of the flow grows
 * to 0.4 (from a branch of half the combined area on; not at all below a fifth), and the straight
 * leg loses 0.45 q less, or 0.45 q (1 - q) for branches up to 45 degrees, with q the branch's
 * share. Both belong to a straight leg as wide as the combined pipe, and fade as the areas of the
 * legs come to add up to the combined one. While the combined pipe feeds the legs, Crane's
 * corrections for dividing flow stand in their place. Where more than two legs meet, the others
 * count as one of their total area: all of them as the branch for the straight leg, and as the
 * straight leg for a branch: this understates the loss of many branches (by momentum theory
 * a third at three right-angled legs) and can make energy, so the coefficient is flagged there. All
 * velocities are reckoned at the combined pipe's density. Left out: rounded inner edges (real drain wyes and sweeps cost less),
 * guide vanes, the Reynolds number.
 *
 * @param[in] angle [rad] between branch and combined pipe, 90 degrees for a tee; 0 <= angle <= 150
 *            degrees, from the source 15 to 90 degrees.
 * @param[in,out] err failure record or NULL.
 * @return the law; angle and factor NaN on failure.
 * @par Errors VENT_E_ARGUMENT if angle is outside its bounds.
 * @par Source Idelchik (2006), Handbook of Hydraulic Resistance, equations 7-1 and 7-2 and table
 *   7-1 (after Levin and Taliev); reprint (a reference program). Dividing: Crane (2009), TP-410;
 *   reprint. Outside both: momentum balance, computed.
 * @par Accuracy standard uncertainty 0.1 (dividing: 0.2), 20 % of K, and for the straight leg half
 *   the distance from Idelchik's equation 7-2 as printed, which makes energy at slender angles and
 *   is not followed there. The corrections make up to 1.3 % of the moving power where parallel
 *   streams meet below 30 degrees; momentum theory alone makes none.
 * @since 0.1 */
VENT_API vent_junction vent_wye(double angle, vent_error *err);

/** @brief Coefficient of one leg of a junction while two legs join.
 *
 * On the velocity pressure of the combined pipe.
 *
 * @param[in] junction from one of the constructors.
 * @param[in] straight which leg: true for the straight one, false for the branch.
 * @param[in] flow_share [-] flow of that leg over combined flow; 0 <= flow_share <= 1.
 * @param[in] leg_area_ratio [-] area of that leg over that of the combined pipe; 0.01 <=
 *            leg_area_ratio <= 100, from the source 0.1 to 1 for a branch, 0.3 to 1 for the
 *            straight leg.
 * @param[in] other_area_ratio [-] the same for the other leg; 0.01 <= other_area_ratio <= 100.
 * @param[in,out] err failure record or NULL.
 * @return value, standard uncertainty, source and range flags; NaN on failure.
 * @par Errors VENT_E_ARGUMENT if junction is none that a constructor could have made, or a number
 *   is outside its bounds.
 * @par Source as vent_wye().
 * @par Accuracy as vent_wye(): the uncertainty returned.
 * @since 0.1 */
VENT_API vent_coefficient vent_junction_coefficient(vent_junction junction, bool straight,
                                                    double flow_share, double leg_area_ratio,
                                                    double other_area_ratio, vent_error *err);

VENT_END_DECLS

#endif
