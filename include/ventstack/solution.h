/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file solution.h
 *  @brief The answer: flows, pressures, the fan's point, warnings, and the ledger.
 *
 * A solution is a picture of the network at one moment: it holds copies of all it needs and stays
 * valid when the network changes or goes. Gauge pressures are against the room above the slab
 * unless said otherwise, the way a manometer in the room reads them: vacuum is negative.
 *
 * Numbers that do not exist are NaN: a run that is not there, the power of a fan without power
 * data. */
#ifndef VENTSTACK_SOLUTION_H
#define VENTSTACK_SOLUTION_H

#include <ventstack/network.h>

VENT_BEGIN_DECLS

/** @brief Memory to solve one network again and again; opaque. */
typedef struct vent_workspace vent_workspace;

/** @brief A solved network; opaque. */
typedef struct vent_solution vent_solution;

/** @brief Prepares to solve a network repeatedly.
 *
 * The workspace remembers the shape of the network (nodes, runs, items); values may change between
 * solves. A workspace belongs to one call at a time; many workspaces may share one network.
 *
 * @param[in] network a complete network, not NULL.
 * @param[in,out] err failure record or NULL.
 * @return the workspace, to be freed with vent_workspace_free(); NULL on failure.
 * @par Errors VENT_E_TOPOLOGY for a missing discharge or suction point, a node nothing leads to or
 *   from, or runs that never reach a discharge; VENT_E_ARGUMENT if network is NULL; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API vent_workspace *vent_workspace_new(const vent_network *network, vent_error *err);

/** @brief Frees a workspace. Solutions made with it stay valid.
 *
 * @param[in] workspace NULL allowed.
 * @since 0.1 */
VENT_API void vent_workspace_free(vent_workspace *workspace);

/** @brief Finds the flows at which every law and every balance holds.
 *
 * Newton's method on the mass flows. Each step is exact and costs two sweeps of the tree: up, every
 * subtree shrinks to the pressure and slope it shows to the pipe above it; down, the flows come
 * back. A step that does not shrink the residual is halved. The answer is deterministic: the same
 * network gives the same bits, with a fresh or a used workspace.
 *
 * @param[in] network a complete network, not NULL.
 * @param[in,out] workspace made for this network, or NULL for one made for this call.
 * @param[in,out] err failure record or NULL.
 * @return the solution, to be freed with vent_solution_free(); NULL on failure.
 * @par Errors as vent_workspace_new(); VENT_E_STALE for a workspace of another shape;
 *   VENT_E_NO_OPERATING_POINT where a fan's pressure never comes down to the system's;
 *   VENT_E_NOT_CONVERGED.
 * @par Accuracy residual of pressure 1e-12 of the greatest pressure in the network, mass balance
 *   to rounding.
 * @since 0.1 */
VENT_API vent_solution *vent_network_solve(const vent_network *network, vent_workspace *workspace,
                                           vent_error *err);

/** @brief Solves again into a solution there is, allocating nothing.
 *
 * @param[in] network not NULL.
 * @param[in,out] workspace made for a network of this shape, not NULL.
 * @param[in,out] solution made by vent_network_solve() with this workspace, not NULL; unchanged on failure.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors as vent_network_solve().
 * @since 0.1 */
VENT_API bool vent_network_solve_into(const vent_network *network, vent_workspace *workspace,
                                      vent_solution *solution, vent_error *err);

/** @brief Frees a solution.
 *
 * @param[in] solution NULL allowed.
 * @since 0.1 */
VENT_API void vent_solution_free(vent_solution *solution);

/** @brief Mass flow of a run, positive from its suction side.
 *
 * @param[in] solution not NULL.
 * @param[in] run its number.
 * @return [kg/s]; NaN where there is no such run.
 * @since 0.1 */
VENT_API double vent_solution_mass_flow(const vent_solution *solution, int run);

/** @brief Actual volume flow of a run, at the density of its own gas.
 *
 * @param[in] solution not NULL.
 * @param[in] run its number.
 * @return [m3/s]; NaN where there is no such run.
 * @since 0.1 */
VENT_API double vent_solution_flow(const vent_solution *solution, int run);

/** @brief Volume flow of a run reduced to standard air, 0.075 lb/ft3.
 *
 * @param[in] solution not NULL.
 * @param[in] run its number.
 * @return [m3/s]; NaN where there is no such run.
 * @since 0.1 */
VENT_API double vent_solution_standard_flow(const vent_solution *solution, int run);

/** @brief Mean velocity in the narrowest pipe of a run.
 *
 * @param[in] solution not NULL.
 * @param[in] run its number.
 * @return [m/s]; NaN where there is no such run.
 * @since 0.1 */
VENT_API double vent_solution_velocity(const vent_solution *solution, int run);

/** @brief Reynolds number in the narrowest pipe of a run, on its hydraulic diameter.
 *
 * @param[in] solution not NULL.
 * @param[in] run its number.
 * @return [-]; NaN where there is no such run.
 * @since 0.1 */
VENT_API double vent_solution_reynolds(const vent_solution *solution, int run);

/** @brief Density of the gas in a run.
 *
 * @param[in] solution not NULL.
 * @param[in] run its number.
 * @return [kg/m3]; NaN where there is no such run.
 * @since 0.1 */
VENT_API double vent_solution_density(const vent_solution *solution, int run);

/** @brief Total pressure at a node against the room; vacuum is negative.
 *
 * In a pit the air is still and this is what a manometer reads. At a junction it is the total
 * pressure at the start of the combined pipe, the velocity pressure included; a tap in the wall
 * reads vent_solution_static_pressure(). Both are referred to the room's own pressure at slab height
 * and, for nodes at another height, corrected for the column of outdoor air between.
 *
 * @param[in] solution not NULL.
 * @param[in] node its number.
 * @return [Pa]; NaN where there is no such node.
 * @since 0.1 */
VENT_API double vent_solution_pressure(const vent_solution *solution, int node);

/** @brief Absolute total pressure at a node.
 *
 * @param[in] solution not NULL.
 * @param[in] node its number.
 * @return [Pa]; NaN where there is no such node.
 * @since 0.1 */
VENT_API double vent_solution_absolute_pressure(const vent_solution *solution, int node);

/** @brief Static pressure a wall tap reads in a run, against the room.
 *
 * @param[in] solution not NULL.
 * @param[in] run its number.
 * @param[in] item the tap sits just downstream of this item of the run; -1 for the run's very start.
 * @return [Pa]; NaN where there is no such run or item.
 * @since 0.1 */
VENT_API double vent_solution_static_pressure(const vent_solution *solution, int run, int item);

/** @brief What a node offers to the pipe that leaves it: the equivalent source. */
typedef struct vent_equivalent_source {
    double pressure;  /**< Pa: total pressure at the node against the room, at the solved flow */
    double mass_flow; /**< kg/s: the flow leaving the node */
    double slope;     /**< Pa s/kg: how fast the pressure falls as the flow leaving grows */
} vent_equivalent_source;

/** @brief The equivalent source of everything upstream of a node, linear about the solution.
 *
 * The slope is that of all of the network but the run that leaves the node (the first, where several do),
 * with the flows of links and the vacuum that soil shares free to answer; in a tree that is what is
 * upstream. At a discharge it is the whole network's. NaN also where the run's flow answers nothing, or without
 * memory.
 *
 * @param[in] solution not NULL.
 * @param[in] node its number.
 * @return the source; NaN where there is no such node.
 * @since 0.1 */
VENT_API vent_equivalent_source vent_solution_source(const vent_solution *solution, int node);

/** @brief Where a fan works. */
typedef struct vent_fan_point {
    int32_t run;           /**< the run it is in */
    int32_t item;          /**< its number among the run's items */
    double flow;           /**< m3/s, actual, at the density of the gas in the fan */
    double pressure;       /**< Pa, the rise of total pressure it makes */
    double density;        /**< kg/m3 of the gas in it */
    double power;          /**< W, electrical; NaN without power data */
    double air_power;      /**< W, flow times pressure */
    double shut_off;       /**< Pa at zero flow, this density and speed */
    double free_delivery;  /**< m3/s at zero pressure */
    double shut_off_share; /**< pressure over shut-off pressure; 1 means no flow moves */
    double slope;          /**< Pa s/m3, of the curve at the point; positive on a rising part */
} vent_fan_point;

/** @brief Counts the fans.
 *
 * @param[in] solution not NULL.
 * @return how many.
 * @since 0.1 */
VENT_API int vent_solution_fan_count(const vent_solution *solution);

/** @brief Tells where one fan works.
 *
 * A fan that is off takes pressure (below 0) and no power, and has no shut-off pressure or free delivery.
 *
 * @param[in] solution not NULL.
 * @param[in] fan [-] 0 <= fan < vent_solution_fan_count(), in the order they were added.
 * @param[out] point not NULL.
 * @return true; false (point untouched) where there is no such fan.
 * @since 0.1 */
VENT_API bool vent_solution_fan(const vent_solution *solution, int fan, vent_fan_point *point);

/** @brief The system curve at a fan: what pressure it would need at other flows.
 *
 * Solves the network with the fan in question replaced by one that forces the flow; every other
 * fan runs as it is.
 *
 * @param[in] network not NULL.
 * @param[in,out] workspace made for a network of this shape, not NULL.
 * @param[in] fan [-] which fan, in the order they were added.
 * @param[in] n [-] how many flows.
 * @param[in] flow [m3/s] actual, n values; -1000 <= flow <= 1000. Not NULL.
 * @param[out] pressure [Pa] n values; NaN where a flow is out of range or the solver fails. Not NULL.
 * @param[in,out] err failure record or NULL.
 * @return how many values are NaN.
 * @par Errors as vent_network_solve(); VENT_E_NOT_FOUND for the fan.
 * @since 0.1 */
VENT_API size_t vent_network_system_curve(const vent_network *network, vent_workspace *workspace,
                                          int fan, size_t n, const double *flow, double *pressure,
                                          vent_error *err);

/** @brief Flow through all discharges, actual, each at the density of its last run's gas.
 *
 * A stack that draws air in counts as minus: read each by the flow of its run.
 *
 * @param[in] solution not NULL.
 * @return [m3/s]; NaN if solution is NULL.
 * @since 0.1 */
VENT_API double vent_solution_discharge_flow(const vent_solution *solution);

/** @brief Greatest velocity at which air leaves the termination, over its streams; 0 while air enters.
 *
 * @param[in] solution not NULL.
 * @return [m/s]; NaN if solution is NULL.
 * @since 0.1 */
VENT_API double vent_solution_exit_velocity(const vent_solution *solution);

/** @brief How the iteration went. */
typedef struct vent_convergence {
    int32_t iterations;       /**< Newton steps taken */
    int32_t reserved;         /**< 0 */
    double pressure_residual; /**< Pa, greatest */
    double pressure_scale;    /**< Pa, greatest pressure in the network */
    double mass_residual;     /**< kg/s, greatest */
    double mass_scale;        /**< kg/s, greatest mass flow */
} vent_convergence;

/** @brief Tells how well the equations hold.
 *
 * @param[in] solution not NULL.
 * @return the figures; NaN if solution is NULL.
 * @since 0.1 */
VENT_API vent_convergence vent_solution_convergence(const vent_solution *solution);

/** @brief Things that are not errors but worth knowing. */
enum {
    VENT_WARN_COEFFICIENT_RANGE = 1 << 0, /**< a coefficient is used outside its source's range */
    VENT_WARN_FAN_EXTRAPOLATED = 1 << 1,  /**< a fan works beyond its data */
    VENT_WARN_FAN_NEAR_SHUT_OFF = 1
                                  << 2, /**< above 90 % of shut-off and little flow, or overcome */
    VENT_WARN_FAN_RISING = 1 << 3,      /**< a fan works where its curve rises */
    VENT_WARN_FAN_MAY_HUNT = 1 << 4, /**< a fan's curve rises somewhere: other points may exist */
    VENT_WARN_DRAIN_BACK = 1 << 5, /**< velocity above 2000 ft/min: condensate may not fall back */
    VENT_WARN_REVERSED = 1 << 6,   /**< a run flows backwards */
    VENT_WARN_COMPRESSIBLE = 1 << 7, /**< gauge pressure above 2 kPa: density is off by over 2 % */
    VENT_WARN_TRANSITIONAL = 1 << 8, /**< a run flows between laminar and turbulent */
    VENT_WARN_NEAR_RANGE = 1 << 9,   /**< no more than a remark: a coefficient is used at a Reynolds
                                          number up to 10 % outside its source's range */
    VENT_WARN_FAN_OFF = 1 << 10,     /**< a fan is off; it says which way air goes through it */
    VENT_WARN_FAN_DRIVEN = 1 << 11, /**< a running fan is beyond its free delivery: air drives it */
    VENT_WARN_PIT_LEVEL = 1 << 12,  /**< a pit that leaks was moved, and its edge was not */
    VENT_WARN_BLOWS_OUT =
        1 << 13 /**< a leak or an inlet lets the stack's air out: into the room, or
                                         outdoors where no discharge is planned */
};

/** @brief One warning: what, where and in words; frozen layout. */
typedef struct vent_warning {
    uint32_t flag;     /**< one of VENT_WARN_... */
    int32_t run;       /**< the run concerned, -1 where none */
    int32_t item;      /**< the item concerned, -1 where none */
    int32_t reserved;  /**< 0 */
    double value;      /**< the value that gave rise to it */
    double limit;      /**< what it was held against */
    char message[200]; /**< one readable sentence */
} vent_warning;

/** @brief All warnings' flags in one word.
 *
 * @param[in] solution not NULL.
 * @return VENT_WARN_... bits; 0 for none.
 * @since 0.1 */
VENT_API uint32_t vent_solution_flags(const vent_solution *solution);

/** @brief Counts the warnings.
 *
 * @param[in] solution not NULL.
 * @return how many.
 * @since 0.1 */
VENT_API size_t vent_solution_warning_count(const vent_solution *solution);

/** @brief Reads one warning.
 *
 * What blows out (VENT_WARN_BLOWS_OUT) stands first, remarks (VENT_WARN_NEAR_RANGE) last.
 *
 * @param[in] solution not NULL.
 * @param[in] index [-] 0 <= index < vent_solution_warning_count().
 * @param[out] warning not NULL.
 * @return true; false (warning untouched) where there is no such warning.
 * @since 0.1 */
VENT_API bool vent_solution_warning(const vent_solution *solution, size_t index,
                                    vent_warning *warning);

/** @brief Kinds of ledger line. */
enum {
    VENT_LINE_SOIL = 1,         /**< the vacuum that draws gas through the soil */
    VENT_LINE_PIPE = 2,         /**< friction of one pipe */
    VENT_LINE_FITTING = 3,      /**< fittings of one kind in one place, all of their count */
    VENT_LINE_TRANSITION = 4,   /**< the change between two pipes of a run */
    VENT_LINE_JUNCTION = 5,     /**< the loss of one leg at a junction */
    VENT_LINE_TERMINATION = 6,  /**< what stands on top, with the velocity pressure that leaves */
    VENT_LINE_FAN = 7,          /**< a fan: its loss is negative */
    VENT_LINE_BUOYANCY = 8,     /**< the column of gas in one run: negative where it helps */
    VENT_LINE_WIND = 9,         /**< wind at the discharge */
    VENT_LINE_OPENING = 10,     /**< an opening to the surroundings */
    VENT_LINE_SURROUNDINGS = 11 /**< pressure around an opening: negative where it drives air in */
};

/** @brief One line of the ledger; frozen layout. */
typedef struct vent_ledger_line {
    int32_t kind;   /**< VENT_LINE_... */
    int32_t run;    /**< the run it is in, -1 where none */
    int32_t item;   /**< its number among the run's items, -1 where it is not one */
    int32_t node;   /**< the node it belongs to, -1 where none */
    int32_t source; /**< citation of its coefficient, 0 where none */
    uint32_t flags; /**< VENT_COEFFICIENT_... bits */
    double count;   /**< how many, or the length in metres of a pipe */
    double k;       /**< loss coefficient of all of them on velocity_pressure; NaN where none */
    double k_uncertainty;     /**< standard uncertainty of k; NaN where none */
    double velocity_pressure; /**< Pa, that k refers to; NaN where none */
    double loss;              /**< Pa of total pressure, negative for what drives */
    double
        share; /**< loss over the fans' pressure, weighted by flow over all that leaves; NaN without */
    double flow_cost; /**< m3/s more through the discharge if it were gone, first order */
    char where[64];   /**< the run or node, by name */
    char what[64];    /**< the item, in words; a pipe of the catalogue in the trade's too */
} vent_ledger_line;

/** @brief Counts the ledger's lines.
 *
 * @param[in] solution not NULL.
 * @return how many.
 * @since 0.1 */
VENT_API size_t vent_solution_ledger_size(const vent_solution *solution);

/** @brief Reads one line of the ledger; lines stand in the order the air meets them, run by run.
 *
 * Along any way from the soil to the open air the losses sum to zero: what the fans, the columns
 * and the wind give, the soil, pipes and fittings take.
 *
 * @param[in] solution not NULL.
 * @param[in] index [-] 0 <= index < vent_solution_ledger_size().
 * @param[out] line not NULL.
 * @return true; false (line untouched) where there is no such line.
 * @since 0.1 */
VENT_API bool vent_solution_ledger_line(const vent_solution *solution, size_t index,
                                        vent_ledger_line *line);

/** @brief The velocity whose velocity pressure a ledger line names.
 *
 * Of the pipe an item sits in; of the combined pipe for a leg of a junction.
 *
 * @param[in] solution not NULL.
 * @param[in] index [-] 0 <= index < vent_solution_ledger_size().
 * @return [m/s] not negative; NaN for a line without velocity pressure and where there is no such line.
 * @since 0.1 */
VENT_API double vent_solution_ledger_velocity(const vent_solution *solution, size_t index);

/** @brief Flow cost of one ledger line, exact: the network is solved again without the item.
 *
 * For a termination, without it means an open end; for a leg of a junction, that the whole junction
 * costs nothing; for everything else, a loss of zero.
 *
 * @param[in] solution not NULL.
 * @param[in] index [-] a ledger line of kind pipe, fitting, transition, junction or termination.
 * @param[in,out] err failure record or NULL.
 * @return [m3/s] more through the discharge; NaN on failure.
 * @par Errors VENT_E_ARGUMENT for a line of another kind; VENT_E_NOT_FOUND for no such line; as
 *   vent_network_solve().
 * @since 0.1 */
VENT_API double vent_solution_exact_flow_cost(const vent_solution *solution, size_t index,
                                              vent_error *err);

VENT_END_DECLS

#endif
