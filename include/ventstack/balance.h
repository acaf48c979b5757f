/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file balance.h
 *  @brief Which openings give the flows or vacuums that are wanted.
 *
 *     vent_balance *balance = vent_balance_new(net, &err);
 *     vent_balance_target(balance, vent_network_find_observable(net, "near leg.flow", &err),
 *                         30 * VENT_CFM, 1 * VENT_CFM, &err);
 *     vent_balance_adjust(balance, vent_network_find_parameter(net, "near leg[2].opening", &err), &err);
 *     ...
 *     vent_balanced *found = vent_balance_solve(balance, &err);
 *     if (vent_balanced_is_met(found))
 *         vent_balanced_apply(found, net, &err);
 *
 * **Targets** are observables with a value and a tolerance; what may be **adjusted** are parameters within
 * bounds: openings and angles of dampers, a fan's speed. The stack is balanced where every target is met
 * within its tolerance. Where that cannot be, the answer is the nearest there is and the reason.
 *
 * A scale on a damper is no measurement: its published coefficients are good to a third. The openings
 * found are where to begin; what was set is to be measured, at the pits and in the pipe. */
#ifndef VENTSTACK_BALANCE_H
#define VENTSTACK_BALANCE_H

#include <ventstack/observable.h>

VENT_BEGIN_DECLS

/** @brief What is wanted and what may be turned; opaque. */
typedef struct vent_balance vent_balance;

/** @brief What was found; opaque, independent of where it came from. */
typedef struct vent_balanced vent_balanced;

/** @brief Begins to balance a network.
 *
 * @param[in] network a complete network, not NULL; a copy is kept and the network left as it is.
 * @param[in,out] err failure record or NULL.
 * @return to be freed with vent_balance_free(); NULL on failure.
 * @par Errors VENT_E_ARGUMENT if network is NULL; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API vent_balance *vent_balance_new(const vent_network *network, vent_error *err);

/** @brief Frees it.
 *
 * @param[in] balance NULL allowed.
 * @since 0.1 */
VENT_API void vent_balance_free(vent_balance *balance);

/** @brief States what an observable shall be.
 *
 * @param[in,out] balance not NULL; unchanged on failure.
 * @param[in] observable an address in its network.
 * @param[in] value [unit: vent_observable_unit()] wanted; -1e12 <= value <= 1e12. A vacuum is negative.
 * @param[in] tolerance [unit: vent_observable_unit()] either way; above 0, tolerance <= 1e12.
 * @param[in,out] err failure record or NULL.
 * @return the target's number, from 0; -1 on failure.
 * @par Errors VENT_E_NOT_FOUND where the network has no such observable; VENT_E_DUPLICATE;
 *   VENT_E_ARGUMENT, also for more than 1000 targets; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API int vent_balance_target(vent_balance *balance, vent_observable observable, double value,
                                 double tolerance, vent_error *err);

/** @brief Allows a parameter to be adjusted, within the bounds the network sets it.
 *
 * @param[in,out] balance not NULL; unchanged on failure.
 * @param[in] parameter an address in its network.
 * @param[in,out] err failure record or NULL.
 * @return the setting's number, from 0; -1 on failure.
 * @par Errors VENT_E_NOT_FOUND where the network has no such parameter; VENT_E_DUPLICATE;
 *   VENT_E_ARGUMENT for more than 200; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API int vent_balance_adjust(vent_balance *balance, vent_parameter parameter, vent_error *err);

/** @brief Narrows the bounds of a setting.
 *
 * @param[in,out] balance not NULL; unchanged on failure.
 * @param[in] setting its number.
 * @param[in] low [unit: vent_network_parameter_range()] low of that range <= low < high.
 * @param[in] high [unit: vent_network_parameter_range()] low < high <= high of that range.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors VENT_E_NOT_FOUND for the setting; VENT_E_ARGUMENT.
 * @since 0.1 */
VENT_API bool vent_balance_bounds(vent_balance *balance, int setting, double low, double high,
                                  vent_error *err);

/** @brief Finds the settings.
 *
 * The squares of the deviations, each in its tolerance, are made least within the bounds, by Levenberg
 * and Marquardt's method with exact derivatives, from the present settings; where the network cannot be
 * solved with these or on the way from them, from all dampers open, then everything halfway between its
 * bounds. Then dampers (an
 * opening or angle, a fitting's factor or count) are opened, the widest first, while all targets stay
 * within their tolerance: one damper at least, that of the index run, is left wide open where the
 * targets allow (common practice, no source). That uses the tolerances up: a target may end at the very
 * edge of its own. Where readings are to find it within, state less.
 *
 * Where targets are not met the deviations are the least about the settings found; other settings, far
 * off, might do better, as the equations are not convex. Of 600 random manifolds of 2 to 7 legs none gained by
 * three further starts.
 *
 * @param[in] balance not NULL, with a target; unchanged.
 * @param[in,out] err failure record or NULL.
 * @return what was found, to be freed with vent_balanced_free(); NULL on failure.
 * @par Errors VENT_E_ARGUMENT without a target or where a target is no number in this network;
 *   VENT_E_NOT_CONVERGED; as vent_network_solve() at the present settings, where no start can be solved;
 *   VENT_E_MEMORY.
 * @since 0.1 */
VENT_API vent_balanced *vent_balance_solve(const vent_balance *balance, vent_error *err);

/** @brief Frees it.
 *
 * @param[in] balanced NULL allowed.
 * @since 0.1 */
VENT_API void vent_balanced_free(vent_balanced *balanced);

/** @brief Tells whether all targets are met.
 *
 * @param[in] balanced not NULL.
 * @return true if they are within their tolerance; false otherwise and if balanced is NULL.
 * @since 0.1 */
VENT_API bool vent_balanced_is_met(const vent_balanced *balanced);

/** @brief What became of a target; frozen layout. */
typedef struct vent_achievement {
    double wanted;    /**< as stated */
    double tolerance; /**< as stated */
    double achieved;  /**< at the settings found */
    double deviation; /**< [-] achieved less wanted, in tolerances */
    int32_t is_met;   /**< 1 if within the tolerance, else 0 */
    int32_t reserved; /**< 0 */
} vent_achievement;

/** @brief What became of a parameter that may be adjusted; frozen layout. */
typedef struct vent_setting {
    double before;    /**< its value in the network */
    double value;     /**< found */
    double low, high; /**< its bounds */
    double
        pull; /**< [1/unit] where the targets pull it, by half the sum of squares: past a bound it
                               stands at, else 0 or near */
    int32_t at_bound;     /**< 1 at high, -1 at low, else 0 */
    int32_t is_wide_open; /**< 1 for a damper that takes the least it can, else 0 */
} vent_setting;

/** @brief Reads what became of a target.
 *
 * @param[in] balanced not NULL.
 * @param[in] target its number.
 * @param[out] achievement not NULL.
 * @return true; false (achievement untouched) where there is no such target.
 * @since 0.1 */
VENT_API bool vent_balanced_target(const vent_balanced *balanced, int target,
                                   vent_achievement *achievement);

/** @brief Reads what became of a setting.
 *
 * @param[in] balanced not NULL.
 * @param[in] number the setting's.
 * @param[out] setting not NULL.
 * @return true; false (setting untouched) where there is no such setting.
 * @since 0.1 */
VENT_API bool vent_balanced_setting(const vent_balanced *balanced, int number,
                                    vent_setting *setting);

/** @brief Copies out, in words, whether it is balanced, which damper is open, which target cannot be met and why.
 *
 * @param[in] balanced not NULL.
 * @param[in] size [-] of the buffer; 0 allowed.
 * @param[out] text buffer, cut to size and terminated; NULL allowed if size is 0.
 * @return the length of the whole text; 0 if balanced is NULL.
 * @since 0.1 */
VENT_API size_t vent_balanced_verdict(const vent_balanced *balanced, size_t size, char *text);

/** @brief Gives a network the settings that were found.
 *
 * @param[in] balanced not NULL.
 * @param[in,out] network the one that was balanced, or a copy; not NULL.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure, with nothing changed.
 * @par Errors VENT_E_NOT_FOUND for another network; as vent_network_set().
 * @since 0.1 */
VENT_API bool vent_balanced_apply(const vent_balanced *balanced, vent_network *network,
                                  vent_error *err);

VENT_END_DECLS

#endif
