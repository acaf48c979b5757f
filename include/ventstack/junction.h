/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file junction.h
 *  @brief Where runs meet: the loss of each leg, for any number of legs and flow of any sign.
 *
 * A leg's loss is that of total pressure, from the end of the leg to the start of the combined
 * pipe. It is negative where the faster stream drags the slower one along: right, and not a
 * mistake. What one leg gains the others lose, and more. */
#ifndef VENTSTACK_JUNCTION_H
#define VENTSTACK_JUNCTION_H

#include <ventstack/error.h>
#include <ventstack/source.h>

VENT_BEGIN_DECLS

/** @brief The laws for a junction. */
enum {
    VENT_JUNCTION_LOSSLESS = 0,  /**< total pressure is the same in all legs */
    VENT_JUNCTION_WYE = 1,       /**< a straight leg and branches at one angle */
    VENT_JUNCTION_DOUBLE_WYE = 2 /**< the same, the branches by turns on opposite sides */
};

/** @brief A law for a junction; frozen layout. The first run that arrives is the straight leg, each
 *  later one a branch that joins at `angle` to the combined pipe's axis. */
typedef struct vent_junction {
    int32_t law;    /**< VENT_JUNCTION_... */
    int32_t source; /**< whose formula: 0 for the default, else its citation (vent_source()) */
    double angle;   /**< rad between a branch and the combined pipe, 90 degrees for a tee */
    double factor;  /**< multiplies the loss; 1 unless stated; 0 to 1000 */
} vent_junction;

/** @brief A junction that costs nothing.
 *
 * The total pressure is the same at the end of every leg and at the start of the combined pipe. For
 * wide plenums, or to leave the junction out.
 *
 * @return the law.
 * @since 0.1 */
VENT_API vent_junction vent_junction_lossless(void);

/** @brief A wye, or a tee: a straight leg and branches that join it at an angle.
 *
 * For any number of legs of any areas and densities, and flow of any sign in any of them. Momentum
 * theory: the pipes air enters by meet at one static pressure; what leaves by a pipe keeps the
 * momentum brought along its direction. That is exact for streams that mix at one pressure and makes
 * no energy. Each branch stands in a plane of its own, so none blows into another. On it lie, while
 * air leaves by the combined pipe, Idelchik's corrections, made continuous: a branch's coefficient
 * falls to 0.55 of the theory's as its own share q of the flow grows to 0.4 (from a branch of half
 * the combined area on; not at all below a fifth), and the straight leg loses 0.45 q less, or
 * 0.45 q (1 - q) for branches up to 45 degrees, with q the share of all branches. Both belong to a
 * straight leg as wide as the combined pipe, and fade as the areas of the legs come to add up to the
 * combined one. While the combined pipe feeds the legs, Crane's corrections for dividing flow stand
 * in their place, by the same shares; the straight leg keeps 0.35 of the loss of its slowing less
 * 0.2 q (1 - q), as Gardel measured, between him and Crane (0.4 of it beside narrow branches, as
 * Crane). They were measured with one branch: where there are more, the
 * uncertainty says that they may be anything from nothing to twice. Left out: rounded inner edges
 * (real drain wyes and sweeps cost less), guide vanes, the Reynolds number.
 *
 * The default rests on Idelchik and Crane because they alone cover 30 to 90 degrees and branches
 * from a tenth of the pipe on; they agree with one another, and for equal bores with Gardel.
 *
 * @param[in] angle [rad] between branch and combined pipe, 90 degrees for a tee; 0 <= angle <= 150
 *            degrees, from the source 15 to 90 degrees.
 * @param[in,out] err failure record or NULL.
 * @return the law; angle and factor NaN on failure.
 * @par Errors VENT_E_ARGUMENT if angle is outside its bounds.
 * @par Source Idelchik (2006), Handbook of Hydraulic Resistance, equations 7-1 and 7-2 and table
 *   7-1 (after Levin and Taliev); reprint (a reference program); the straight leg beside slanted
 *   branches by a form of this library through 7-2 and Crane. Dividing: Crane (2009), TP-410;
 *   reprint; its straight leg Gardel (1957), memory. Outside all: momentum balance, computed.
 * @par Accuracy standard uncertainty 0.1 (dividing: 0.2), 20 % of K, half the distance between the
 *   least and the greatest of what the authors of vent_junction_alternatives() and the law give, and
 *   with several branches 0.58 of the correction. The corrections make up to 1.3 % of the moving
 *   power where parallel streams meet below 30 degrees; momentum theory alone makes none.
 * @since 0.1 */
VENT_API vent_junction vent_wye(double angle, vent_error *err);

/** @brief A double wye, or a cross: a straight leg and branches by turns on opposite sides.
 *
 * As vent_wye(), but the branches stand in one plane, the second to arrive on one side, the third on the
 * other, and so on: what they bring across the pipe cancels while they join, and the air of a
 * branch blows on into the opposite one where that takes air away. With one branch shut off it is a
 * wye. No formula for crosses could be read in print; the corrections are those of the wye.
 *
 * @param[in] angle [rad] between a branch and the combined pipe, 90 degrees for a cross; 0 <= angle
 *            <= 150 degrees, from the source 15 to 90 degrees.
 * @param[in,out] err failure record or NULL.
 * @return the law; angle and factor NaN on failure.
 * @par Errors VENT_E_ARGUMENT if angle is outside its bounds.
 * @par Source as vent_wye(), for several branches momentum balance.
 * @par Accuracy as vent_wye() with several branches.
 * @since 0.1 */
VENT_API vent_junction vent_double_wye(double angle, vent_error *err);

/** @brief A wye by momentum theory alone: a second opinion for any angle.
 *
 * As vent_wye(), without what measurements add. It never makes energy, and overstates a wide branch
 * that carries most of the flow by up to its half.
 *
 * @param[in] angle [rad] between branch and combined pipe, 90 degrees for a tee; 0 <= angle <= 150
 *            degrees.
 * @param[in,out] err failure record or NULL.
 * @return the law; angle and factor NaN on failure.
 * @par Errors VENT_E_ARGUMENT if angle is outside its bounds.
 * @par Source momentum balance, computed.
 * @par Accuracy as vent_wye(), and 0.58 of the correction it leaves out.
 * @since 0.1 */
VENT_API vent_junction vent_wye_by_momentum(double angle, vent_error *err);

/** @brief Coefficient of one leg of a junction of two while air leaves by the combined pipe.
 *
 * The loss from the leg to the combined pipe, on the velocity pressure of the combined pipe.
 *
 * @param[in] junction from one of the constructors.
 * @param[in] straight which leg: true for the straight one, false for the branch.
 * @param[in] flow_share [-] flow of that leg over combined flow; -1000 <= flow_share <= 1000:
 *            negative where air leaves by that leg too, above 1 where it leaves by the other.
 * @param[in] leg_area_ratio [-] area of that leg over that of the combined pipe; 0.01 <=
 *            leg_area_ratio <= 100, from the source 0.1 to 1 for a branch; for the straight leg 1,
 *            or what makes the legs' areas add up to 1.
 * @param[in] other_area_ratio [-] the same for the other leg; 0.01 <= other_area_ratio <= 100.
 * @param[in,out] err failure record or NULL.
 * @return value, standard uncertainty, source and range flags; NaN on failure.
 * @par Errors VENT_E_ARGUMENT if junction is none that a constructor could have made, or a number
 *   is outside its bounds.
 * @par Source as the constructor of the junction.
 * @par Accuracy the uncertainty returned.
 * @since 0.1 */
VENT_API vent_coefficient vent_junction_coefficient(vent_junction junction, bool straight,
                                                    double flow_share, double leg_area_ratio,
                                                    double other_area_ratio, vent_error *err);

/** @brief Coefficient of one leg of a junction of two while air enters by the combined pipe.
 *
 * The loss from the combined pipe to the leg, on the velocity pressure of the combined pipe.
 *
 * @param[in] junction from one of the constructors.
 * @param[in] straight which leg: true for the straight one, false for the branch.
 * @param[in] flow_share [-] flow into that leg over combined flow; -1000 <= flow_share <= 1000:
 *            negative where air enters by that leg too, above 1 where it enters by the other.
 * @param[in] leg_area_ratio [-] area of that leg over that of the combined pipe; 0.01 <=
 *            leg_area_ratio <= 100, from the source 0.1 to 1 for a branch; for the straight leg 1,
 *            or what makes the legs' areas add up to 1.
 * @param[in] other_area_ratio [-] the same for the other leg; 0.01 <= other_area_ratio <= 100.
 * @param[in,out] err failure record or NULL.
 * @return value, standard uncertainty, source and range flags; NaN on failure.
 * @par Errors VENT_E_ARGUMENT if junction is none that a constructor could have made, or a number
 *   is outside its bounds.
 * @par Source as the constructor of the junction.
 * @par Accuracy the uncertainty returned.
 * @since 0.1 */
VENT_API vent_coefficient vent_junction_dividing_coefficient(vent_junction junction, bool straight,
                                                             double flow_share,
                                                             double leg_area_ratio,
                                                             double other_area_ratio,
                                                             vent_error *err);

/** @brief Coefficients of all legs of a junction, of any number of them and flow of any sign.
 *
 * On the velocity pressure of the combined pipe, whose flow is the sum of the legs'; the loss from
 * the leg to the combined pipe where air leaves by that, the other way where it enters. All pipes hold
 * air of one density.
 *
 * @param[in] junction from one of the constructors.
 * @param[in] legs [-] how many; 1 <= legs. The first is the straight one.
 * @param[in] area_ratio [-] of each leg over the combined pipe; not NULL; 0.01 <= area_ratio <=
 *            100.
 * @param[in] flow [-] of each leg, towards the junction, in any unit; not NULL; -1e9 <= flow <=
 *            1e9.
 * @param[out] coefficient of each leg; not NULL. NaN where no air moves in the combined pipe.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure (coefficient untouched).
 * @par Errors VENT_E_ARGUMENT if junction is none that a constructor could have made, a pointer is
 *   NULL, or a number is outside its bounds (err tells which leg's).
 * @par Source as the constructor of the junction.
 * @par Accuracy the uncertainty returned.
 * @since 0.1 */
VENT_API bool vent_junction_coefficients(vent_junction junction, int legs, const double *area_ratio,
                                         const double *flow, vent_coefficient *coefficient,
                                         vent_error *err);

/** @brief The coefficient of a leg while two join, by every source the library has for it.
 *
 * The library's default first, then the authors' formulas as printed (they have a straight leg as
 * wide as the combined pipe, and a flow_share of 0 to 1), and momentum theory last.
 *
 * @param[in] junction from one of the constructors; a source chosen for it makes no difference.
 * @param[in] straight which leg: true for the straight one, false for the branch.
 * @param[in] flow_share [-] flow of that leg over combined flow; -1000 <= flow_share <= 1000.
 * @param[in] leg_area_ratio [-] area of that leg over that of the combined pipe; 0.01 <=
 *            leg_area_ratio <= 100.
 * @param[in] other_area_ratio [-] the same for the other leg; 0.01 <= other_area_ratio <= 100.
 * @param[in] room [-] how many fit into list; 0 <= room.
 * @param[out] list the first `room` of them; NULL allowed where room is 0.
 * @param[in,out] err failure record or NULL.
 * @return how many there are; 0 on failure (list untouched).
 * @par Errors VENT_E_ARGUMENT if junction is none that a constructor could have made, a number is
 *   outside its bounds, or list NULL with room.
 * @par Source each coefficient's own. Idelchik (2006), equations 7-1 and 7-2; Crane (2009), TP-410,
 *   chapter 2; reprints (reference programs). Gardel (1957); memory.
 * @par Accuracy each coefficient's own. As printed, Idelchik's equation 7-2 makes energy at slender
 *   angles, and all but Gardel's formulas jump.
 * @since 0.1 */
VENT_API int vent_junction_alternatives(vent_junction junction, bool straight, double flow_share,
                                        double leg_area_ratio, double other_area_ratio, int room,
                                        vent_coefficient *list, vent_error *err);

/** @brief The coefficient of a leg that the combined pipe feeds, by every source there is for it.
 *
 * As vent_junction_alternatives(), for dividing flow.
 *
 * @param[in] junction from one of the constructors; a source chosen for it makes no difference.
 * @param[in] straight which leg: true for the straight one, false for the branch.
 * @param[in] flow_share [-] flow into that leg over combined flow; -1000 <= flow_share <= 1000.
 * @param[in] leg_area_ratio [-] area of that leg over that of the combined pipe; 0.01 <=
 *            leg_area_ratio <= 100.
 * @param[in] other_area_ratio [-] the same for the other leg; 0.01 <= other_area_ratio <= 100.
 * @param[in] room [-] how many fit into list; 0 <= room.
 * @param[out] list the first `room` of them; NULL allowed where room is 0.
 * @param[in,out] err failure record or NULL.
 * @return how many there are; 0 on failure (list untouched).
 * @par Errors VENT_E_ARGUMENT if junction is none that a constructor could have made, a number is
 *   outside its bounds, or list NULL with room.
 * @par Source each coefficient's own. Crane (2009), TP-410, chapter 2; reprint (a reference
 *   program). Gardel (1957); memory.
 * @par Accuracy each coefficient's own.
 * @since 0.1 */
VENT_API int vent_junction_dividing_alternatives(vent_junction junction, bool straight,
                                                 double flow_share, double leg_area_ratio,
                                                 double other_area_ratio, int room,
                                                 vent_coefficient *list, vent_error *err);

VENT_END_DECLS

#endif
