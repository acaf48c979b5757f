/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file general.h
 *  @brief General forms of a coefficient: three constants, two constants, an equivalent length.
 *
 * They hold for laminar and turbulent flow alike, the same both ways. */
#ifndef VENTSTACK_GENERAL_H
#define VENTSTACK_GENERAL_H

#include <ventstack/fitting.h>

VENT_BEGIN_DECLS

/** @brief A coefficient by Darby's three constants.
 *
 * K = k1/Re + ki (1 + kd / Dn^0.3), with Dn the nominal size in inches (not the bore). Tables with
 * Dn in millimetres have a kd that is 25.4^0.3 = 2.64 times as large.
 *
 * @param[in] k1 [-] what laminar flow makes of it; 0 <= k1 <= 1e5.
 * @param[in] ki [-] loss of an infinitely wide one in turbulent flow; 0 <= ki <= 1000.
 * @param[in] kd [in^0.3] how much more a small one loses; 0 <= kd <= 100.
 * @param[in] nominal_size [m] of the fitting; 0.003 <= nominal_size <= 3, from the source 0.006 to 1.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source Darby (2001), Chemical Engineering Fluid Mechanics, 3-K method; reprint (a reference
 *   program).
 * @par Accuracy standard uncertainty 25 %, as between published elbows of one kind.
 * @since 0.1 */
VENT_API vent_fitting vent_fitting_three_constant(double k1, double ki, double kd,
                                                  double nominal_size, vent_error *err);

/** @brief A coefficient by Hooper's two constants.
 *
 * K = k1/Re + k_infinite (1 + 1 in / D), with D the bore of the pipe it is put in.
 *
 * @param[in] k1 [-] what laminar flow makes of it; 0 <= k1 <= 1e5.
 * @param[in] k_infinite [-] loss of an infinitely wide one in turbulent flow; 0 <= k_infinite <=
 *            1000.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source Hooper (1981), The two-K method, Chemical Engineering 88(17); reprint (a reference
 *   program).
 * @par Accuracy standard uncertainty 25 %, as between published elbows of one kind.
 * @since 0.1 */
VENT_API vent_fitting vent_fitting_two_constant(double k1, double k_infinite, vent_error *err);

/** @brief A coefficient told as a length of the pipe it is put in.
 *
 * K = f L/D with the pipe's friction factor f at the actual flow. Crane's own K takes f of fully
 * turbulent flow in clean steel instead and does not fall with the flow: in smooth plastic pipe at
 * vent flows it is lower by some 10 to 30 %.
 *
 * @param[in] length_ratio [-] length over bore, L/D; 0 <= length_ratio <= 1e5.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if length_ratio is outside its bounds.
 * @par Source Crane (2009), TP-410, chapter 2, equivalent length; reprint.
 * @par Accuracy standard uncertainty 25 %: one length is right at one flow only.
 * @since 0.1 */
VENT_API vent_fitting vent_fitting_equivalent_length(double length_ratio, vent_error *err);

/** @brief Finds Darby's published constants of a fitting.
 *
 * vent_fitting_three_constant_name() tells the names.
 *
 * @param[in] name as "elbow 90 threaded"; not NULL.
 * @param[in] nominal_size [m] of the fitting; 0.003 <= nominal_size <= 3, from the source 0.006 to 1.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if name is NULL or nominal_size outside its bounds; VENT_E_NOT_FOUND if
 *   there is no such name: the message has the nearest ones.
 * @par Source Darby (2001), Chemical Engineering Fluid Mechanics, 3-K constants; reprint (a reference
 *   program).
 * @par Accuracy as vent_fitting_three_constant().
 * @since 0.1 */
VENT_API vent_fitting vent_fitting_three_constant_find(const char *name, double nominal_size,
                                                       vent_error *err);

/** @brief Finds Hooper's published constants of a fitting.
 *
 * vent_fitting_two_constant_name() tells the names. A reprint of the table has tees used as elbows
 * without the tee, and the screwed 180 degree return bend as a 45 degree elbow with 0.70; here the
 * names, and 0.60 for that bend, are Hooper's as remembered.
 *
 * @param[in] name as "elbow 90 threaded"; not NULL.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if name is NULL; VENT_E_NOT_FOUND if there is no such name: the message
 *   has the nearest ones.
 * @par Source Hooper (1981), The two-K method, Chemical Engineering 88(17); reprint (a reference
 *   program), "return 180 threaded" memory.
 * @par Accuracy as vent_fitting_two_constant().
 * @since 0.1 */
VENT_API vent_fitting vent_fitting_two_constant_find(const char *name, vent_error *err);

/** @brief Names an entry of the table of Darby's constants.
 *
 * @param[in] entry its place, from 0.
 * @return a constant string; NULL past the last.
 * @since 0.1 */
VENT_API const char *vent_fitting_three_constant_name(int entry);

/** @brief Names an entry of the table of Hooper's constants.
 *
 * @param[in] entry its place, from 0.
 * @return a constant string; NULL past the last.
 * @since 0.1 */
VENT_API const char *vent_fitting_two_constant_name(int entry);

/** @brief Length of straight pipe that loses as much as a coefficient, at one flow.
 *
 * L = K D / f, with D the hydraulic diameter and f the friction factor at this Reynolds number. The
 * friction factor changes with the flow: a fixed length is right at one flow only.
 *
 * @param[in] k [-] loss coefficient; 0 <= k <= 1e6.
 * @param[in] pipe the pipe.
 * @param[in] reynolds [-] in that pipe, on its hydraulic diameter; 1e-3 <= reynolds <= 1e9.
 * @param[in,out] err failure record or NULL.
 * @return length, [m]; NaN on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source Darcy and Weisbach's definition of the friction factor; vent_friction_factor().
 * @par Accuracy that of the friction factor.
 * @since 0.1 */
VENT_API double vent_equivalent_length(double k, vent_pipe pipe, double reynolds, vent_error *err);

/** @brief Coefficient of what loses as much as a length of straight pipe, at one flow.
 *
 * K = f L / D: vent_equivalent_length() backwards. A fixed length is right at one flow only; for a
 * part that keeps its length at every flow see vent_fitting_equivalent_length().
 *
 * @param[in] length [m] of pipe; 0 <= length <= 1e6.
 * @param[in] pipe the pipe.
 * @param[in] reynolds [-] in that pipe, on its hydraulic diameter; 1e-3 <= reynolds <= 1e9.
 * @param[in,out] err failure record or NULL.
 * @return loss coefficient, [-]; NaN on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source Darcy and Weisbach's definition of the friction factor; vent_friction_factor().
 * @par Accuracy that of the friction factor.
 * @since 0.1 */
VENT_API double vent_equivalent_length_coefficient(double length, vent_pipe pipe, double reynolds,
                                                   vent_error *err);

VENT_END_DECLS

#endif
