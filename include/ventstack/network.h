/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file network.h
 *  @brief Putting a stack together: suction points, junctions, runs of pipe, fans, discharges.
 *
 * A stack is a tree: air enters at suction points, runs carry it from node to node, runs meet at
 * junctions, and everything leaves at the discharge. Where several runs leave a junction they may
 * close loops or lead to further discharges: the first one carries the tree on, each later one is a
 * link, and joins the junction as one more branch. Each run is directed: its `from` node is
 * the suction side. A run is a row of items in the order the air meets them: first the pipe given
 * to vent_network_run(), then whatever is added after it.
 *
 * What is not added is not there: the entry from the pit into the pipe, the elbows, the couplings.
 *
 * Heights are in metres above the slab. A column of gas warmer than the outdoors rises: the
 * pressure it adds is (rho_outdoors - rho_gas) g times the rise, for every run, of which the height
 * at both ends follows from its nodes.
 *
 * Every run carries the soil gas at the soil gas's temperature until told otherwise. Density is
 * that of the run's gas at the outdoor pressure, constant along the run: each kPa of gauge
 * pressure the fan makes would change it by 1 %, which is left out (and warned of above 2 kPa). So the
 * soil gas is to be stated at the outdoor pressure.
 *
 * Nodes and runs are known by small numbers, counted from 0 in the order they were made. */
#ifndef VENTSTACK_NETWORK_H
#define VENTSTACK_NETWORK_H

#include <ventstack/air.h>
#include <ventstack/fan.h>
#include <ventstack/fitting.h>
#include <ventstack/junction.h>
#include <ventstack/opening.h>
#include <ventstack/pipe.h>
#include <ventstack/soil.h>
#include <ventstack/termination.h>

VENT_BEGIN_DECLS

/** @brief A stack under construction; opaque. */
typedef struct vent_network vent_network;

/** @brief Begins an empty network between soil gas and outdoors.
 *
 * @param[in] soil_gas state of the gas that enters at the suction points; from vent_air_moist().
 * @param[in] outdoors state of the air at slab height outdoors, whose pressure is the reference of
 *            every gauge pressure; from vent_air_moist().
 * @param[in,out] err failure record or NULL.
 * @return the network, to be freed with vent_network_free(); NULL on failure.
 * @par Errors VENT_E_ARGUMENT if an air's density, viscosity, pressure or temperature is not a
 *   positive number, or if the pressures differ by more than 1 %; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API vent_network *vent_network_new(vent_air soil_gas, vent_air outdoors, vent_error *err);

/** @brief Copies a network with all it holds.
 *
 * @param[in] network not NULL.
 * @param[in,out] err failure record or NULL.
 * @return the copy; NULL on failure.
 * @par Errors VENT_E_ARGUMENT if network is NULL; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API vent_network *vent_network_copy(const vent_network *network, vent_error *err);

/** @brief Frees a network. Solutions and workspaces made from it stay valid.
 *
 * @param[in] network NULL allowed.
 * @since 0.1 */
VENT_API void vent_network_free(vent_network *network);

/** @brief Adds a suction point at slab height: a pit or hole that the soil feeds.
 *
 * The soil's far pressure is the outdoors' at that height; the soil law gives the vacuum in the
 * pit below it. The loss of entering the pipe is a fitting of the first run (vent_entry_flush()...).
 *
 * @param[in,out] network not NULL.
 * @param[in] name not NULL, not empty, not yet used in this network.
 * @param[in] soil from vent_soil_power() or vent_soil_two_term().
 * @param[in,out] err failure record or NULL.
 * @return the node's number; -1 on failure.
 * @par Errors VENT_E_ARGUMENT for a missing pointer, an empty name or a soil that no constructor
 *   made; VENT_E_DUPLICATE; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API int vent_network_suction_point(vent_network *network, const char *name, vent_soil soil,
                                        vent_error *err);

/** @brief Couples two suction points through the soil: air drawn at one adds vacuum at the other.
 *
 * The resistance has an address, "north pit~sump.resistance" (parameter.h).
 *
 * To the vacuum of its own law each gets the resistance times the volume flow at the other, so that
 * with all pairs the soil's resistance matrix is symmetric, as it is for any soil whose flow follows
 * Darcy's law. Replaces what was stated for the pair before; 0 leaves them apart.
 *
 * No soil that only resists shares more than the root of the product of both own resistances: what does is refused,
 * here and, where numbers change later, by vent_network_solve(). That is known of two-term laws, by their
 * a, and looked at pair by pair: three pits that contradict one another only together pass.
 *
 * @param[in,out] network not NULL.
 * @param[in] a a suction point.
 * @param[in] b another one.
 * @param[in] resistance [Pa s/m3] 0 <= resistance <= 1e9, and of two-term laws not above the root of the
 *            product of their a.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors VENT_E_ARGUMENT (also: a equals b); VENT_E_NOT_FOUND where a node is no suction point;
 *   VENT_E_DUPLICATE where the address of the pair would read as that of another, "a~b~c.resistance"; VENT_E_MEMORY.
 * @par Source superposition of potential flow, computed; symmetric by reciprocity.
 * @par Accuracy exact for linear soil; of soil with inertia a linear stand-in.
 * @since 0.1 */
VENT_API bool vent_network_couple(vent_network *network, int a, int b, double resistance,
                                  vent_error *err);

/** @brief Adds a junction at slab height where runs meet.
 *
 * The first run that arrives is the straight leg, each later one a branch at the law's angle; the
 * first run that leaves is the combined pipe, each later one a further branch.
 *
 * @param[in,out] network not NULL.
 * @param[in] name not NULL, not empty, not yet used in this network.
 * @param[in] law from vent_wye() or vent_junction_lossless().
 * @param[in,out] err failure record or NULL.
 * @return the node's number; -1 on failure.
 * @par Errors VENT_E_ARGUMENT; VENT_E_DUPLICATE; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API int vent_network_junction(vent_network *network, const char *name, vent_junction law,
                                   vent_error *err);

/** @brief Adds a point of discharge.
 *
 * A network may have several. Wind makes the same pressure at each, and more by the pressure coefficient
 * of each.
 *
 * @param[in,out] network not NULL.
 * @param[in] name not NULL, not empty, not yet used in this network.
 * @param[in] termination what stands on top; its K is on the last pipe of the run that ends here.
 * @param[in] height [m] above the slab; -1000 <= height <= 1000.
 * @param[in,out] err failure record or NULL.
 * @return the node's number; -1 on failure.
 * @par Errors VENT_E_ARGUMENT; VENT_E_DUPLICATE; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API int vent_network_discharge(vent_network *network, const char *name,
                                    vent_termination termination, double height, vent_error *err);

/** @brief Adds a run of pipe between two nodes, directed with the air.
 *
 * @param[in,out] network not NULL.
 * @param[in] name not NULL, not empty, not yet used in this network.
 * @param[in] from node on the suction side: a suction point that no run leaves yet, or a junction.
 * @param[in] to node on the discharge side: a junction or the discharge.
 * @param[in] pipe the run's first pipe.
 * @param[in] length [m] of that pipe along its axis, bends left to their fittings; 0 <= length <= 1e6.
 * @param[in,out] err failure record or NULL.
 * @return the run's number; -1 on failure.
 * @par Errors VENT_E_ARGUMENT (also: from equals to); VENT_E_NOT_FOUND for a node that does not
 *   exist; VENT_E_TOPOLOGY for a run that leaves a discharge, enters a suction point, is a second one
 *   to leave a suction point or to reach a discharge; VENT_E_DUPLICATE; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API int vent_network_run(vent_network *network, const char *name, int from, int to,
                              vent_pipe pipe, double length, vent_error *err);

/** @brief Continues a run with another pipe; where the bore changes, the change costs its loss.
 *
 * @param[in,out] network not NULL.
 * @param[in] run the run's number.
 * @param[in] pipe the next pipe.
 * @param[in] length [m] of it; 0 <= length <= 1e6.
 * @param[in] transition_angle [rad] included angle of the cone between the pipes;
 *            1e-3 <= transition_angle <= pi, and pi is a sudden change. Costs nothing where bores agree.
 * @param[in,out] err failure record or NULL.
 * @return the number of the pipe among the run's items; -1 on failure.
 * @par Errors VENT_E_ARGUMENT; VENT_E_NOT_FOUND; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API int vent_network_pipe(vent_network *network, int run, vent_pipe pipe, double length,
                               double transition_angle, vent_error *err);

/** @brief Adds fittings to the end of a run; their K is on the run's last pipe so far.
 *
 * @param[in,out] network not NULL.
 * @param[in] run the run's number.
 * @param[in] fitting from one of the constructors of fitting.h.
 * @param[in] count [-] how many of it, 0 <= count <= 1e6; a fraction is allowed.
 * @param[in,out] err failure record or NULL.
 * @return the number of the fitting among the run's items; -1 on failure.
 * @par Errors VENT_E_ARGUMENT; VENT_E_NOT_FOUND; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API int vent_network_fitting(vent_network *network, int run, vent_fitting fitting,
                                  double count, vent_error *err);

/** @brief Puts an in-line fan at the end of a run so far; the network keeps a copy.
 *
 * @param[in,out] network not NULL.
 * @param[in] run the run's number.
 * @param[in] fan not NULL.
 * @param[in,out] err failure record or NULL.
 * @return the number of the fan among the run's items; -1 on failure.
 * @par Errors VENT_E_ARGUMENT; VENT_E_NOT_FOUND; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API int vent_network_fan(vent_network *network, int run, const vent_fan *fan, vent_error *err);

/** @brief Adds a node that the surroundings feed through an opening.
 *
 * One run leaves it, which loses the velocity pressure of its own pipe by its own fittings, not here.
 *
 * The room's pressure is taken at slab height: an opening to the room belongs at height 0, and the column
 * of room air up to where the run ends is the run's, at the run's temperature. Wind acts outdoors by the
 * opening's pressure coefficient, vent_network_set_pressure_coefficient().
 *
 * @param[in,out] network not NULL.
 * @param[in] name not NULL, not empty, not yet used in this network.
 * @param[in] opening from vent_opening_to().
 * @param[in] height [m] above the slab; -1000 <= height <= 1000.
 * @param[in,out] err failure record or NULL.
 * @return the node's number; -1 on failure.
 * @par Errors VENT_E_ARGUMENT; VENT_E_DUPLICATE; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API int vent_network_opening(vent_network *network, const char *name, vent_opening opening,
                                  double height, vent_error *err);

/** @brief Puts a leak at a node: an opening to the surroundings through which air seeps in, or out.
 *
 * Adds the opening as a node of that name, and a run of no length named "NAME inflow" that ends at the node;
 * its flow is what leaks in: vent_network_inflow() tells its number. An opening to the room stands at height 0, one outdoors at the node's. At a
 * junction the leak takes no part but by its mass: it feels the static pressure where the legs
 * meet (of a lossless junction the total pressure), brings no momentum, and is none of the
 * branches. At a suction point it leaks into the pit: the pit's run then begins at a junction "NAME edge"
 * without losses, and soil gas comes there by a run of no length, "NAME soil"; further leaks of the pit join
 * them there. All addresses of the pit and
 * of its run stay as they are; the flow of the pit's run then holds the leak. The edge has a height of its own, at first
 * the pit's: who moves the pit later, by vent_network_set_height() or its address, moves "NAME edge.height" too, and an
 * opening outdoors; else the leak stays where it was, and solutions warn (VENT_WARN_PIT_LEVEL).
 *
 * @param[in,out] network not NULL.
 * @param[in] name not NULL, not empty; it and the names made from it not yet used in this network.
 * @param[in] node a junction or suction point that a run leaves.
 * @param[in] opening from vent_opening_to().
 * @param[in] temperature [K] of the air that leaks in; 233.15 <= temperature <= 333.15. Its vapour is taken to
 *            be the soil gas's, as far as air of that temperature holds it.
 * @param[in,out] err failure record or NULL.
 * @return the opening's number as a node; -1 on failure, with nothing changed.
 * @par Errors VENT_E_ARGUMENT; VENT_E_NOT_FOUND for a node that does not exist; VENT_E_TOPOLOGY for a
 *   discharge, another opening or a node that no run leaves yet; VENT_E_DUPLICATE; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API int vent_network_leak(vent_network *network, const char *name, int node,
                               vent_opening opening, double temperature, vent_error *err);

/** @brief Puts a fitting into a run behind one of its items; those behind it count one more.
 *
 * For what is found in a stack that was built: water in a low point, a damper put in later. Addresses of
 * items behind it mean their neighbours from then on.
 *
 * @param[in,out] network not NULL.
 * @param[in] run the run's number.
 * @param[in] item [-] the item it comes behind; -1 for the very start of the run, where it stands on
 *            a piece of the first pipe without length, and those behind it count two more.
 * @param[in] fitting from one of the constructors of fitting.h; its K is on the pipe before it.
 * @param[in] count [-] how many of it, 0 <= count <= 1e6; a fraction is allowed.
 * @param[in,out] err failure record or NULL.
 * @return the number of the fitting among the run's items; -1 on failure.
 * @par Errors VENT_E_ARGUMENT; VENT_E_NOT_FOUND where there is no such run or item; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API int vent_network_insert_fitting(vent_network *network, int run, int item,
                                         vent_fitting fitting, double count, vent_error *err);

/** @brief Exchanges a fan; the network keeps a copy. Its speed and pressure factor stay.
 *
 * @param[in,out] network not NULL.
 * @param[in] run the run the fan is in.
 * @param[in] item its number among the run's items, as vent_network_fan() gave it.
 * @param[in] fan not NULL.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors VENT_E_ARGUMENT; VENT_E_NOT_FOUND where that item is not a fan; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API bool vent_network_set_fan(vent_network *network, int run, int item, const vent_fan *fan,
                                   vent_error *err);

/** @brief Sets the height of a node. Leaks that were put there stay at the height they had: vent_network_leak().
 *
 * @param[in,out] network not NULL.
 * @param[in] node its number.
 * @param[in] height [m] above the slab; -1000 <= height <= 1000.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors VENT_E_ARGUMENT; VENT_E_NOT_FOUND; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API bool vent_network_set_height(vent_network *network, int node, double height,
                                      vent_error *err);

/** @brief Sets the temperature of the gas in one run; vapour it cannot hold has condensed.
 *
 * @param[in,out] network not NULL.
 * @param[in] run its number.
 * @param[in] temperature [K] mean over the run; 233.15 <= temperature <= 333.15. It is the run's own from
 *            then on; see vent_network_clear_temperature().
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors VENT_E_ARGUMENT; VENT_E_NOT_FOUND; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API bool vent_network_set_temperature(vent_network *network, int run, double temperature,
                                           vent_error *err);

/** @brief Lets a run carry the soil gas at the soil gas's temperature again, as before one was set.
 *
 * A temperature that was set, by vent_network_set_temperature() or at its address, is the run's own from
 * then on, even where it is what the soil gas has: it stays when the soil gas's changes. This takes that back.
 *
 * @param[in,out] network not NULL.
 * @param[in] run its number.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors VENT_E_ARGUMENT; VENT_E_NOT_FOUND; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API bool vent_network_clear_temperature(vent_network *network, int run, vent_error *err);

/** @brief Sets the pressure the wind makes at every discharge.
 *
 * What it makes more or less at one of them is its pressure coefficient's, vent_network_set_wind().
 *
 * @param[in,out] network not NULL.
 * @param[in] pressure [Pa] against still air at that height, positive where the wind blows in;
 *            -1e5 <= pressure <= 1e5.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors VENT_E_ARGUMENT; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API bool vent_network_set_wind_pressure(vent_network *network, double pressure,
                                             vent_error *err);

/** @brief Sets the dynamic pressure of the wind, which acts by the pressure coefficients.
 *
 * At a discharge, or an opening outdoors, the wind makes its pressure coefficient times this, beside what
 * vent_network_set_wind_pressure() says of all discharges.
 *
 * @param[in,out] network not NULL.
 * @param[in] dynamic_pressure [Pa] density / 2 times the square of the wind's speed where the coefficients
 *            refer to; 0 <= dynamic_pressure <= 1e5. 0 in a new network.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors VENT_E_ARGUMENT; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API bool vent_network_set_wind(vent_network *network, double dynamic_pressure,
                                    vent_error *err);

/** @brief Sets the pressure coefficient of the wind at one discharge, or at one opening outdoors.
 *
 * @param[in,out] network not NULL.
 * @param[in] node its number.
 * @param[in] coefficient [-] pressure there against still air over the wind's dynamic pressure; negative where
 *            the wind draws; -10 <= coefficient <= 10. 0 of a new node.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors VENT_E_ARGUMENT; VENT_E_NOT_FOUND where the node is neither; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API bool vent_network_set_pressure_coefficient(vent_network *network, int node,
                                                    double coefficient, vent_error *err);

/** @brief Sets the pressure of the room above the slab against the outdoors at slab height.
 *
 * It is the zero of the pressures a manometer in the room shows: a room that its stack effect and
 * its exhaust fans hold at -4 Pa leaves 4 Pa less vacuum under the slab, as seen from the room.
 *
 * @param[in,out] network not NULL.
 * @param[in] pressure [Pa]; usually negative in winter; -1e5 <= pressure <= 1e5.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors VENT_E_ARGUMENT; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API bool vent_network_set_building_pressure(vent_network *network, double pressure,
                                                 vent_error *err);

/** @brief Exchanges what stands on top of the stack, at the first discharge if there are several.
 *
 * @param[in,out] network not NULL, with a discharge.
 * @param[in] termination from one of the constructors of termination.h.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors VENT_E_ARGUMENT; VENT_E_TOPOLOGY where there is no discharge yet; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API bool vent_network_set_termination(vent_network *network, vent_termination termination,
                                           vent_error *err);

/** @brief Exchanges what stands on top of one of several stacks.
 *
 * @param[in,out] network not NULL.
 * @param[in] discharge the node's number.
 * @param[in] termination from one of the constructors of termination.h.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors VENT_E_ARGUMENT; VENT_E_NOT_FOUND where the node is no discharge; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API bool vent_network_set_termination_at(vent_network *network, int discharge,
                                              vent_termination termination, vent_error *err);

/** @brief Sets the speed of a fan, as a ratio to the speed its curve was taken at.
 *
 * @param[in,out] network not NULL.
 * @param[in] run the run the fan is in.
 * @param[in] item its number among the run's items, as vent_network_fan() gave it.
 * @param[in] speed [-] 1e-6 <= speed <= 10.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors VENT_E_ARGUMENT; VENT_E_NOT_FOUND where that item is not a fan; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API bool vent_network_set_fan_speed(vent_network *network, int run, int item, double speed,
                                         vent_error *err);

/** @brief Takes a fan out of service: it stands still and resists like a fitting.
 *
 * What a stopped fan resists is said by nobody but its maker or a measurement: no handbook read has a
 * coefficient, so there is no default. To measure it, draw air through it with another fan and read the total
 * pressure before and behind: K is their difference over the pipe's velocity pressure. A wheel that the
 * air turns resists less than one that is locked, and backwards may differ from forwards: state the K of the
 * way the air goes, or both, vent_fitting_constant_each_way().
 *
 * Air may go through it either way; a back-draft damper is a fitting of its own, vent_check_damper().
 * The fan keeps its numbers; what it resists as has addresses at the same item ("riser[2].k"), and
 * "riser[2].running" is 0.
 *
 * @param[in,out] network not NULL.
 * @param[in] run the run the fan is in.
 * @param[in] item its number among the run's items, as vent_network_fan() gave it.
 * @param[in] resistance any fitting, as vent_fitting_constant(); its K is on the pipe before the fan.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors VENT_E_ARGUMENT; VENT_E_NOT_FOUND where that item is not a fan; VENT_E_MEMORY.
 * @par Source none; the resistance is stated.
 * @par Accuracy that of the resistance.
 * @since 0.1 */
VENT_API bool vent_network_fan_off(vent_network *network, int run, int item,
                                   vent_fitting resistance, vent_error *err);

/** @brief Lets a fan run again, at the speed it had.
 *
 * @param[in,out] network not NULL.
 * @param[in] run the run the fan is in.
 * @param[in] item its number among the run's items, as vent_network_fan() gave it.
 * @param[in,out] err failure record or NULL.
 * @return true, also where it runs already; false on failure.
 * @par Errors VENT_E_ARGUMENT; VENT_E_NOT_FOUND where that item is not a fan; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API bool vent_network_fan_on(vent_network *network, int run, int item, vent_error *err);

/** @brief Counts the nodes.
 *
 * @param[in] network not NULL.
 * @return how many; 0 if network is NULL.
 * @since 0.1 */
VENT_API int vent_network_node_count(const vent_network *network);

/** @brief Counts the runs.
 *
 * @param[in] network not NULL.
 * @return how many; 0 if network is NULL.
 * @since 0.1 */
VENT_API int vent_network_run_count(const vent_network *network);

/** @brief Kinds of node. */
enum {
    VENT_NODE_SUCTION_POINT = 0, /**< fed by the soil */
    VENT_NODE_JUNCTION = 1,      /**< runs arrive and leave */
    VENT_NODE_DISCHARGE = 2,     /**< to the open air */
    VENT_NODE_OPENING = 3        /**< fed by the surroundings: opening.h */
};

/** @brief Tells what a node is.
 *
 * @param[in] network not NULL.
 * @param[in] node its number.
 * @return VENT_NODE_...; -1 where there is no such node.
 * @since 0.1 */
VENT_API int vent_network_node_kind(const vent_network *network, int node);

/** @brief Tells the nodes at both ends of a run.
 *
 * @param[in] network not NULL.
 * @param[in] run its number.
 * @param[out] from node on the suction side; not NULL.
 * @param[out] to node on the discharge side; not NULL.
 * @return true; false (nothing written) where there is no such run.
 * @since 0.1 */
VENT_API bool vent_network_run_ends(const vent_network *network, int run, int *from, int *to);

/** @brief The run by which air comes in at a suction point or an opening: its flow is what the soil, or a leak, gives.
 *
 * Of a leak "NAME inflow"; of a pit that leaks "NAME soil" of its first leak, which carries soil gas alone; else
 * the run that somebody laid.
 *
 * @param[in] network not NULL.
 * @param[in] node its number.
 * @param[in,out] err failure record or NULL.
 * @return the run's number; -1 on failure.
 * @par Errors VENT_E_NOT_FOUND where there is no such node, or it is a junction or a discharge; VENT_E_TOPOLOGY where
 *   no run leaves it yet.
 * @since 0.1 */
VENT_API int vent_network_inflow(const vent_network *network, int node, vent_error *err);

/** @brief Tells whether a run is pipe that somebody laid.
 *
 * Not one of those without length that vent_network_leak() brings, "NAME inflow" and "NAME soil": where nothing is to
 * be measured, where no water stands, and which have neither bore nor length nor roughness as parameters.
 *
 * @param[in] network not NULL.
 * @param[in] run its number.
 * @return true; false for a leak's run, and where there is no such run.
 * @since 0.1 */
VENT_API bool vent_network_run_is_pipe(const vent_network *network, int run);

/** @brief Finds a node by name.
 *
 * @param[in] network not NULL.
 * @param[in] name not NULL.
 * @param[in,out] err failure record or NULL.
 * @return its number; -1 on failure.
 * @par Errors VENT_E_NOT_FOUND, with the nearest name; VENT_E_ARGUMENT for a missing pointer.
 * @since 0.1 */
VENT_API int vent_network_find_node(const vent_network *network, const char *name, vent_error *err);

/** @brief Finds a run by name.
 *
 * @param[in] network not NULL.
 * @param[in] name not NULL.
 * @param[in,out] err failure record or NULL.
 * @return its number; -1 on failure.
 * @par Errors VENT_E_NOT_FOUND, with the nearest name; VENT_E_ARGUMENT for a missing pointer.
 * @since 0.1 */
VENT_API int vent_network_find_run(const vent_network *network, const char *name, vent_error *err);

/** @brief Copies a node's name out.
 *
 * @param[in] network not NULL.
 * @param[in] node its number.
 * @param[in] size [-] of the buffer; 0 allowed.
 * @param[out] name buffer for the name, cut to size and terminated; NULL allowed if size is 0.
 * @return the length of the whole name; 0 where there is no such node.
 * @since 0.1 */
VENT_API size_t vent_network_node_name(const vent_network *network, int node, size_t size,
                                       char *name);

/** @brief Copies a run's name out.
 *
 * @param[in] network not NULL.
 * @param[in] run its number.
 * @param[in] size [-] of the buffer; 0 allowed.
 * @param[out] name buffer for the name, cut to size and terminated; NULL allowed if size is 0.
 * @return the length of the whole name; 0 where there is no such run.
 * @since 0.1 */
VENT_API size_t vent_network_run_name(const vent_network *network, int run, size_t size,
                                      char *name);

VENT_END_DECLS

#endif
