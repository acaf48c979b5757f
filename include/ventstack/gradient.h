/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file gradient.h
 *  @brief How results answer parameters: the derivative of any observable by every parameter.
 *
 * The equations are turned round: two sweeps of the tree give what a pascal more in each run does to
 * one observable; with that, each parameter costs no more than the change of its own law. Nothing is
 * solved again. */
#ifndef VENTSTACK_GRADIENT_H
#define VENTSTACK_GRADIENT_H

#include <ventstack/observable.h>

VENT_BEGIN_DECLS

/** @brief Derivatives of one observable by parameters, at a solution.
 *
 * Exact but for rounding; where a published coefficient answers its shape (an elbow's angle, the bore
 * an entry is in) that formula alone is differenced, good to 1e-11 of it, and so is what an observable other
 * than a flow reads for itself. A law with a kink at the solution has a derivative between those of both sides;
 * the formula of a shape has it within 2e-4 of the kink already. All parameters of a network cost about as much as solving it
 * once more, soonest in the order vent_network_parameters() lists them. With a workspace that did so before
 * nothing is allocated, unless the observable reads parameters itself.
 *
 * @param[in] solution not NULL.
 * @param[in,out] workspace made for a network of the same shape, or NULL for one made and freed here.
 * @param[in] observable an address in the network that was solved.
 * @param[in] n [-] how many parameters; 0 allowed.
 * @param[in] parameters addresses in the network that was solved; NULL allowed if n is 0.
 * @param[out] gradient [unit of the observable over that of the parameter] n derivatives; NaN on failure; NULL allowed if n is 0.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors VENT_E_NOT_FOUND for an address of another network; VENT_E_STALE for a workspace of another
 *   shape; VENT_E_ARGUMENT; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API bool vent_solution_gradient(const vent_solution *solution, vent_workspace *workspace,
                                     vent_observable observable, size_t n,
                                     const vent_parameter *parameters, double *gradient,
                                     vent_error *err);

/** @brief Derivatives of several observables by parameters, at a solution.
 *
 * As vent_solution_gradient(), with the changes of the laws worked out once for all observables.
 *
 * @param[in] solution not NULL.
 * @param[in,out] workspace made for a network of the same shape, or NULL for one made and freed here.
 * @param[in] rows [-] how many observables; 0 allowed.
 * @param[in] observables addresses in the network that was solved; NULL allowed if rows is 0.
 * @param[in] columns [-] how many parameters; 0 allowed.
 * @param[in] parameters addresses in the network that was solved; NULL allowed if columns is 0.
 * @param[out] jacobian [unit of the observable over that of the parameter] rows times columns
 *             derivatives, row by row; NaN on failure; NULL allowed if there
 *             are none.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors as vent_solution_gradient().
 * @since 0.1 */
VENT_API bool vent_solution_jacobian(const vent_solution *solution, vent_workspace *workspace,
                                     size_t rows, const vent_observable *observables,
                                     size_t columns, const vent_parameter *parameters,
                                     double *jacobian, vent_error *err);

VENT_END_DECLS

#endif
