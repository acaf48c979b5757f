/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file parameter.h
 *  @brief The vector of parameters: every number a network is made of has an address.
 *
 * An address is a small value. It says which quantity (a length, a bore, a coefficient's factor, a
 * fan's speed, the soil's C) of which run or node, and stays valid while the network grows. What is
 * built on top (many cases, gradients, fits) speaks only of addresses and of their values.
 *
 * Addresses have names, which read as the network does:
 *
 *     riser.length            the first pipe of run "riser"
 *     riser[2].factor         item 2 of it, numbered as vent_network_fitting() told
 *     riser.temperature       of the run as a whole
 *     store room.c            soil of suction point "store room"
 *     ridge.height            of a node
 *     crack.area              of the opening that is node "crack"
 *     north pit~sump.resistance   of two suction points, in the order vent_network_couple() had them
 *     wind_pressure           of the network as a whole
 *
 * Where only one item of a run has a quantity, its number may be left out: riser.speed. */
#ifndef VENTSTACK_PARAMETER_H
#define VENTSTACK_PARAMETER_H

#include <ventstack/network.h>

VENT_BEGIN_DECLS

/** @brief Kinds of parameter: below 16 of the network, below 32 of a node or of two, then of a run or of an
 *  item in it. */
enum {
    VENT_PARAMETER_NONE = 0,                  /**< no parameter: what a failed search returns */
    VENT_PARAMETER_WIND_PRESSURE = 1,         /**< Pa at the discharge */
    VENT_PARAMETER_BUILDING_PRESSURE = 2,     /**< Pa of the room against the outdoors */
    VENT_PARAMETER_OUTDOOR_TEMPERATURE = 3,   /**< K; its relative humidity stays */
    VENT_PARAMETER_BAROMETRIC_PRESSURE = 4,   /**< Pa, absolute, of outdoors and soil gas alike */
    VENT_PARAMETER_SOIL_GAS_TEMPERATURE = 5,  /**< K; also of every run that was not set its own */
    VENT_PARAMETER_WIND_DYNAMIC_PRESSURE = 6, /**< Pa, that pressure coefficients multiply */
    VENT_PARAMETER_HEIGHT = 16,               /**< m above the slab */
    VENT_PARAMETER_SOIL = 17,               /**< slot 0: C or a; slot 1: n or b of the soil's law */
    VENT_PARAMETER_JUNCTION_ANGLE = 18,     /**< rad */
    VENT_PARAMETER_JUNCTION_FACTOR = 19,    /**< multiplies the junction's losses */
    VENT_PARAMETER_TERMINATION = 20,        /**< slot: which geometric parameter of its family */
    VENT_PARAMETER_TERMINATION_FACTOR = 21, /**< multiplies the coefficient above the plain end's */
    VENT_PARAMETER_AREA = 22,               /**< m2 of an opening */
    VENT_PARAMETER_DISCHARGE_COEFFICIENT = 23, /**< of an opening */
    VENT_PARAMETER_PRESSURE_COEFFICIENT = 24, /**< of the wind at a discharge or opening outdoors */
    VENT_PARAMETER_COUPLING = 25,             /**< Pa s/m3 of soil that two suction points share */
    VENT_PARAMETER_TEMPERATURE =
        32,                     /**< K of the gas in the run; setting it makes it the run's own */
    VENT_PARAMETER_LENGTH = 33, /**< m of a pipe */
    VENT_PARAMETER_BORE = 34,   /**< m: slot 0 of a round pipe; 0 width, 1 depth of another */
    VENT_PARAMETER_ROUGHNESS = 35,        /**< m of a pipe's wall */
    VENT_PARAMETER_TRANSITION_ANGLE = 36, /**< rad of the cone that leads into a further pipe */
    VENT_PARAMETER_FITTING = 37, /**< slot: which geometric parameter of its family; also of what
                                               a fan resists as while it is off */
    VENT_PARAMETER_FACTOR = 38,  /**< multiplies a fitting's coefficient, or that of a fan that is
                                               off */
    VENT_PARAMETER_COUNT = 39,   /**< how many of a fitting */
    VENT_PARAMETER_SPEED = 40,   /**< of a fan, over that of its curve */
    VENT_PARAMETER_PRESSURE_FACTOR = 41, /**< multiplies a fan's pressure */
    VENT_PARAMETER_RUNNING = 42 /**< 1 of a fan that runs, 0 of one that is off, from the first
                                               vent_network_fan_off() on; between, so much of each
                                               law: for derivatives, no state of a fan */
};

/** @brief The address of one parameter; frozen layout. Made by the functions below. */
typedef struct vent_parameter {
    int32_t kind;  /**< VENT_PARAMETER_... */
    int32_t place; /**< number of the run or node, 0 for the network */
    int32_t item;  /**< number of the item in its run, or of the second node of two; 0 where none */
    int32_t slot;  /**< which number of it, 0 where there is one */
    uint64_t network; /**< follows from the name of the run or node: valid in any network that has
                           one of that number and name */
} vent_parameter;

/** @brief Counts the parameters of a network.
 *
 * @param[in] network not NULL.
 * @return how many; 0 if network is NULL.
 * @since 0.1 */
VENT_API size_t vent_network_parameter_count(const vent_network *network);

/** @brief Lists the parameters of a network: its own, those of the nodes, those of the runs.
 *
 * @param[in] network not NULL.
 * @param[in] first [-] number of the first one wanted, from 0.
 * @param[in] room [-] how many at most.
 * @param[out] parameters room for that many; NULL allowed if room is 0.
 * @return how many were written.
 * @since 0.1 */
VENT_API size_t vent_network_parameters(const vent_network *network, size_t first, size_t room,
                                        vent_parameter *parameters);

/** @brief Finds a parameter by its name.
 *
 * @param[in] network not NULL.
 * @param[in] name not NULL, as vent_network_parameter_name() writes it, or with the item's number left
 *            out where only one item of the run has such a parameter.
 * @param[in,out] err failure record or NULL.
 * @return the address; kind VENT_PARAMETER_NONE on failure.
 * @par Errors VENT_E_NOT_FOUND, with the nearest name; VENT_E_ARGUMENT for a missing pointer or a name
 *   that several items answer to.
 * @since 0.1 */
VENT_API vent_parameter vent_network_find_parameter(const vent_network *network, const char *name,
                                                    vent_error *err);

/** @brief Makes the address of one parameter from its parts.
 *
 * @param[in] network not NULL.
 * @param[in] kind VENT_PARAMETER_...
 * @param[in] place number of the run or node; any for the network's own.
 * @param[in] item number of the item in its run; of a coupling the other suction point; any where the kind
 *            has none.
 * @param[in] slot which number of it; 0 where there is one.
 * @param[in,out] err failure record or NULL.
 * @return the address; kind VENT_PARAMETER_NONE on failure.
 * @par Errors VENT_E_NOT_FOUND where the network has no such parameter.
 * @since 0.1 */
VENT_API vent_parameter vent_network_parameter(const vent_network *network, int kind, int place,
                                               int item, int slot, vent_error *err);

/** @brief Writes the name of a parameter.
 *
 * @param[in] network not NULL.
 * @param[in] parameter an address in this network.
 * @param[in] size [-] of the buffer; 0 allowed.
 * @param[out] name buffer for the name, cut to size and terminated; NULL allowed if size is 0.
 * @return the length of the whole name; 0 where this network has no such parameter.
 * @since 0.1 */
VENT_API size_t vent_network_parameter_name(const vent_network *network, vent_parameter parameter,
                                            size_t size, char *name);

/** @brief Tells name, unit and bounds of a parameter.
 *
 * @param[in] network not NULL.
 * @param[in] parameter an address in this network.
 * @param[out] range not NULL; its name is that of the quantity alone.
 * @return true; false (range untouched) where this network has no such parameter.
 * @since 0.1 */
VENT_API bool vent_network_parameter_range(const vent_network *network, vent_parameter parameter,
                                           vent_parameter_range *range);

/** @brief Reads a parameter.
 *
 * @param[in] network not NULL.
 * @param[in] parameter an address in this network.
 * @param[in,out] err failure record or NULL.
 * @return its value [unit: vent_network_parameter_range()]; NaN on failure.
 * @par Errors VENT_E_NOT_FOUND where this network has no such parameter; VENT_E_ARGUMENT.
 * @since 0.1 */
VENT_API double vent_network_get(const vent_network *network, vent_parameter parameter,
                                 vent_error *err);

/** @brief Changes a parameter.
 *
 * @param[in,out] network not NULL.
 * @param[in] parameter an address in this network.
 * @param[in] value [unit: vent_network_parameter_range()] low <= value <= high of that range.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure, with nothing changed.
 * @par Errors VENT_E_NOT_FOUND where this network has no such parameter; VENT_E_ARGUMENT for a value
 *   outside its bounds; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API bool vent_network_set(vent_network *network, vent_parameter parameter, double value,
                               vent_error *err);

/** @brief Standard uncertainty that a part states of its own number: bore and roughness of a pipe.
 *
 * A coefficient's uncertainty hangs on the flow; it is in the ledger. For all of them as a list see
 * vent_network_uncertainties().
 *
 * @param[in] network not NULL.
 * @param[in] parameter an address in this network.
 * @param[in,out] err failure record or NULL.
 * @return [unit: vent_network_parameter_range()] 0 where the part states none; NaN on failure.
 * @par Errors VENT_E_NOT_FOUND where this network has no such parameter; VENT_E_ARGUMENT.
 * @since 0.1 */
VENT_API double vent_network_stated_uncertainty(const vent_network *network,
                                                vent_parameter parameter, vent_error *err);

VENT_END_DECLS

#endif
