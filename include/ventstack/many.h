/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file many.h
 *  @brief Many cases of one network: any parameters varied, any observables read. */
#ifndef VENTSTACK_MANY_H
#define VENTSTACK_MANY_H

#include <ventstack/observable.h>

VENT_BEGIN_DECLS

/** @brief A parameter that differs from case to case; frozen layout. */
typedef struct vent_varied {
    vent_parameter parameter; /**< an address in the network */
    const double *value;      /**< its value in case i is value[i * stride] */
    ptrdiff_t stride;         /**< in elements; 0 for one value in all cases */
} vent_varied;

/** @brief An observable that is read in every case; frozen layout. */
typedef struct vent_observed {
    vent_observable observable; /**< an address in the network */
    double *value;              /**< its value in case i goes to value[i * stride] */
    ptrdiff_t stride;           /**< in elements; not 0 for more than one case */
} vent_observed;

/** @brief Solves n cases of a network that differ in any parameters.
 *
 * Cases of a tree are solved side by side in the lanes of the processor's vectors; cases that do not come to
 * rest there, and networks with links, coupled soil, openings, a fan that is off or whose curve rises
 * somewhere, or a part whose loss has a form of its own, one by one as by vent_network_solve(), with which all
 * results agree to 1e-12, or where pressures nearly cancel to what it leaves over itself: 1e-14 of the greatest.
 * What comes out for a case is the same to the last bit however many there are, in any order, with any width of
 * vectors. Only what varies is laid out for each case. Lengths, roughnesses, bores of round pipes, counts,
 * factors, stated coefficients, soil, fans and pressures are arithmetic and quick; the shape of a fitting,
 * a change of bore, a junction and the airs cost a formula in each case (tens of nanoseconds).
 *
 * Memory does not grow with the number of cases. To show progress, to end early or to use several threads,
 * hand over the cases in blocks: the network is only read.
 *
 * @param[in] network not NULL; unchanged.
 * @param[in] cases [-] how many; 0 allowed.
 * @param[in] inputs [-] how many parameters vary; 0 allowed.
 * @param[in] varied that many; NULL allowed if inputs is 0.
 * @param[in] outputs [-] how many observables are read; 0 allowed.
 * @param[in] observed that many; NULL allowed if outputs is 0.
 * @param[out] status VENT_OK or why it failed, of each case; NULL allowed.
 * @param[in,out] err failure record or NULL; of the first case that failed, with its index.
 * @return how many cases failed: their observables are NaN.
 * @par Errors VENT_E_ARGUMENT; VENT_E_NOT_FOUND for an address of another network; as
 *   vent_network_solve() for single cases; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API size_t vent_network_solve_many(const vent_network *network, size_t cases, size_t inputs,
                                        const vent_varied *varied, size_t outputs,
                                        const vent_observed *observed, int32_t *status,
                                        vent_error *err);

/** @brief As vent_network_solve_many(), each case started from the flows of one solution.
 *
 * For cases that lie close to one that is solved already. Where a case is solved alone (see there), the
 * start is not looked at. Another start may change the last digits, nothing more.
 *
 * @param[in] network not NULL; unchanged.
 * @param[in] start not NULL; a solution of a network of the same shape.
 * @param[in] cases [-] how many; 0 allowed.
 * @param[in] inputs [-] how many parameters vary; 0 allowed.
 * @param[in] varied that many; NULL allowed if inputs is 0.
 * @param[in] outputs [-] how many observables are read; 0 allowed.
 * @param[in] observed that many; NULL allowed if outputs is 0.
 * @param[out] status VENT_OK or why it failed, of each case; NULL allowed.
 * @param[in,out] err failure record or NULL; of the first case that failed, with its index.
 * @return how many cases failed: their observables are NaN.
 * @par Errors as vent_network_solve_many(); VENT_E_STALE for a start of another shape.
 * @since 0.1 */
VENT_API size_t vent_network_solve_many_from(const vent_network *network,
                                             const vent_solution *start, size_t cases,
                                             size_t inputs, const vent_varied *varied,
                                             size_t outputs, const vent_observed *observed,
                                             int32_t *status, vent_error *err);

VENT_END_DECLS

#endif
