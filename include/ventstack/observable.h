/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file observable.h
 *  @brief The vector of observables: every result of a solution has an address.
 *
 * Names read as those of parameters do: riser.flow, riser[2].loss, pit.pressure, exit_velocity. */
#ifndef VENTSTACK_OBSERVABLE_H
#define VENTSTACK_OBSERVABLE_H

#include <ventstack/parameter.h>
#include <ventstack/solution.h>

VENT_BEGIN_DECLS

/** @brief Kinds of observable: below 16 of the network, below 32 of a node, then of a run or of an item in it. */
enum {
    VENT_OBSERVABLE_NONE = 0,                   /**< no observable: what a failed search returns */
    VENT_OBSERVABLE_DISCHARGE_FLOW = 1,         /**< m3/s, vent_solution_discharge_flow() */
    VENT_OBSERVABLE_EXIT_VELOCITY = 2,          /**< m/s, vent_solution_exit_velocity() */
    VENT_OBSERVABLE_PRESSURE = 16,              /**< Pa, vent_solution_pressure() */
    VENT_OBSERVABLE_ABSOLUTE_PRESSURE = 17,     /**< Pa, vent_solution_absolute_pressure() */
    VENT_OBSERVABLE_TERMINATION_LOSS = 18,      /**< Pa of what stands on the discharge */
    VENT_OBSERVABLE_MASS_FLOW = 32,             /**< kg/s, vent_solution_mass_flow() */
    VENT_OBSERVABLE_FLOW = 33,                  /**< m3/s, vent_solution_flow() */
    VENT_OBSERVABLE_STANDARD_FLOW = 34,         /**< m3/s, vent_solution_standard_flow() */
    VENT_OBSERVABLE_VELOCITY = 35,              /**< m/s, vent_solution_velocity() */
    VENT_OBSERVABLE_REYNOLDS = 36,              /**< [-], vent_solution_reynolds() */
    VENT_OBSERVABLE_DENSITY = 37,               /**< kg/m3, vent_solution_density() */
    VENT_OBSERVABLE_JUNCTION_LOSS = 38,         /**< Pa from the run's end into the run it joins */
    VENT_OBSERVABLE_INLET_STATIC_PRESSURE = 39, /**< Pa where the run starts, by a wall tap */
    VENT_OBSERVABLE_LOSS = 48, /**< Pa of an item, all of its count; of a fan minus its pressure */
    VENT_OBSERVABLE_STATIC_PRESSURE = 49,    /**< Pa behind an item, by a wall tap */
    VENT_OBSERVABLE_FAN_FLOW = 50,           /**< m3/s through a fan */
    VENT_OBSERVABLE_FAN_PRESSURE = 51,       /**< Pa it makes */
    VENT_OBSERVABLE_FAN_POWER = 52,          /**< W, electrical; NaN without power data */
    VENT_OBSERVABLE_FAN_AIR_POWER = 53,      /**< W, flow times pressure */
    VENT_OBSERVABLE_SHUT_OFF_SHARE = 54,     /**< [-] pressure over shut-off pressure */
    VENT_OBSERVABLE_FREE_DELIVERY_SHARE = 55 /**< [-] flow over free delivery */
};

/** @brief The address of one observable; frozen layout. Made by the functions below. */
typedef struct vent_observable {
    int32_t kind;     /**< VENT_OBSERVABLE_... */
    int32_t place;    /**< number of the run or node, 0 for the network */
    int32_t item;     /**< number of the item in its run, 0 where none */
    int32_t reserved; /**< 0 */
    uint64_t network; /**< follows from the name of the run or node: valid in any network that has
                           one of that number and name */
} vent_observable;

/** @brief Counts the observables of a network.
 *
 * @param[in] network not NULL.
 * @return how many; 0 if network is NULL.
 * @since 0.1 */
VENT_API size_t vent_network_observable_count(const vent_network *network);

/** @brief Lists the observables of a network: its own, those of the nodes, those of the runs.
 *
 * @param[in] network not NULL.
 * @param[in] first [-] number of the first one wanted, from 0.
 * @param[in] room [-] how many at most.
 * @param[out] observables room for that many; NULL allowed if room is 0.
 * @return how many were written.
 * @since 0.1 */
VENT_API size_t vent_network_observables(const vent_network *network, size_t first, size_t room,
                                         vent_observable *observables);

/** @brief Finds an observable by its name.
 *
 * @param[in] network not NULL.
 * @param[in] name not NULL, as vent_network_observable_name() writes it, or with the item's number left
 *            out where only one item of the run has such an observable.
 * @param[in,out] err failure record or NULL.
 * @return the address; kind VENT_OBSERVABLE_NONE on failure.
 * @par Errors VENT_E_NOT_FOUND, with the nearest name; VENT_E_ARGUMENT for a missing pointer or a name
 *   that several items answer to.
 * @since 0.1 */
VENT_API vent_observable vent_network_find_observable(const vent_network *network, const char *name,
                                                      vent_error *err);

/** @brief Makes the address of one observable from its parts.
 *
 * @param[in] network not NULL.
 * @param[in] kind VENT_OBSERVABLE_...
 * @param[in] place number of the run or node; any for the network's own.
 * @param[in] item number of the item in its run; any where the kind has none.
 * @param[in,out] err failure record or NULL.
 * @return the address; kind VENT_OBSERVABLE_NONE on failure.
 * @par Errors VENT_E_NOT_FOUND where the network has no such observable.
 * @since 0.1 */
VENT_API vent_observable vent_network_observable(const vent_network *network, int kind, int place,
                                                 int item, vent_error *err);

/** @brief Writes the name of an observable.
 *
 * @param[in] network not NULL.
 * @param[in] observable an address in this network.
 * @param[in] size [-] of the buffer; 0 allowed.
 * @param[out] name buffer for the name, cut to size and terminated; NULL allowed if size is 0.
 * @return the length of the whole name; 0 where this network has no such observable.
 * @since 0.1 */
VENT_API size_t vent_network_observable_name(const vent_network *network,
                                             vent_observable observable, size_t size, char *name);

/** @brief Names the unit of an observable.
 *
 * @param[in] observable an address; only its kind is looked at.
 * @return a constant string, "" for a ratio; NULL where there is no such kind.
 * @since 0.1 */
VENT_API const char *vent_observable_unit(vent_observable observable);

/** @brief Reads an observable from a solution.
 *
 * @param[in] solution not NULL.
 * @param[in] observable an address in the network it was solved for.
 * @param[in,out] err failure record or NULL.
 * @return its value [unit: vent_observable_unit()]; NaN on failure, and where there is no such number.
 * @par Errors VENT_E_NOT_FOUND where the network has no such observable; VENT_E_ARGUMENT.
 * @since 0.1 */
VENT_API double vent_solution_observe(const vent_solution *solution, vent_observable observable,
                                      vent_error *err);

VENT_END_DECLS

#endif
