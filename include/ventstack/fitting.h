/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file fitting.h
 *  @brief Fittings: each a loss coefficient with range and source.
 *
 * A coefficient K tells the loss of total pressure as a multiple of the velocity pressure of the
 * pipe the fitting is put in. The same fitting has another K for reversed flow: an entry is an exit
 * then, an expansion a contraction; an elbow is the same both ways.
 *
 * Elbows are in bend.h, changes of bore in area.h, entries in entry.h; here is what all have in common,
 * and coefficients the caller states.
 *
 * What is published for one and the same elbow differs by a factor of two, and real piping by more:
 * each coefficient carries its standard uncertainty and its source, and says when it is used
 * outside the source's range. */
#ifndef VENTSTACK_FITTING_H
#define VENTSTACK_FITTING_H

#include <ventstack/pipe.h>

VENT_BEGIN_DECLS

/** @brief A fitting by kind and geometry; frozen layout. Its K is on the velocity pressure of the
 *  pipe it is put in. Set `factor` to state a known deviation: it multiplies the coefficient,
 * except the 1 of an exit (an entry with reversed flow). */
typedef struct vent_fitting {
    int32_t family;     /**< VENT_FITTING_... */
    int32_t source;     /**< citation whose formula gives the value; 0: the library's default */
    double geometry[6]; /**< in the order vent_fitting_parameter() tells; unused ones 0 */
    double factor;      /**< multiplies the coefficient; 1 unless stated; 0 to 1000 */
} vent_fitting;

/** @brief The families of fittings. */
enum {
    VENT_FITTING_NONE = 0,        /**< no fitting: what a failed constructor returns */
    VENT_FITTING_CONSTANT,        /**< coefficient each way and uncertainty, stated by the caller */
    VENT_FITTING_ELBOW,           /**< angle, radius ratio */
    VENT_FITTING_MITRE,           /**< angle */
    VENT_FITTING_SUDDEN,          /**< bore on the far (downstream) side */
    VENT_FITTING_GRADUAL,         /**< bore on the far side, included cone angle */
    VENT_FITTING_ENTRY_FLUSH,     /**< sharp-edged pipe end flush with a wall */
    VENT_FITTING_ENTRY_REENTRANT, /**< wall thickness over bore */
    VENT_FITTING_ENTRY_ROUNDED,   /**< edge radius over bore */
    VENT_FITTING_BUTTERFLY,       /**< blade angle from open, blade over bore */
    VENT_FITTING_SLIDE_GATE,      /**< opening over bore; straight edge */
    VENT_FITTING_GATE_VALVE,      /**< opening over bore; round end */
    VENT_FITTING_BALL_VALVE,      /**< angle from open */
    VENT_FITTING_ORIFICE_PLATE,   /**< diameter ratio */
    VENT_FITTING_CHECK_DAMPER,    /**< opening pressure, leak area ratio */
    VENT_FITTING_COUPLING,        /**< bead, gap and offset over bore */
    VENT_FITTING_FLEXIBLE_DUCT,   /**< length, compression */
    VENT_FITTING_BYPASS_TEE,      /**< run of a tee whose branch takes condensate only */
    VENT_FITTING_FAN_OUTLET,      /**< blast area ratio, length of outlet pipe over bore */
    VENT_FITTING_FAN_INLET_ELBOW, /**< radius ratio, distance to the fan over bore */
    VENT_FITTING_SEGMENTED,       /**< angle, joints, radius ratio of a mitred elbow */
    VENT_FITTING_DRAIN_ELBOW,     /**< angle of a short drain-waste-vent elbow */
    VENT_FITTING_ELBOW_PAIR,      /**< radius ratio, spacing over bore, twist */
    VENT_FITTING_CLOSE_RETURN,    /**< close return bend */
    VENT_FITTING_ELBOW_OUTLET,    /**< angle, radius ratio, length of the outlet over bore */
    VENT_FITTING_THREE_CONSTANT,  /**< k1, ki, kd, nominal size */
    VENT_FITTING_TWO_CONSTANT,    /**< k1, k at infinite Reynolds number and bore */
    VENT_FITTING_EQUIVALENT_LENGTH, /**< length over bore */
    VENT_FITTING_ROUNDED_CHANGE,    /**< bore on the far side, radius of the edge */
    VENT_FITTING_BEVELLED_CHANGE, /**< bore on the far side, bevel's length and angle to the axis */
    VENT_FITTING_BUSHING,         /**< bore on the far side, bore and length of the throat */
    VENT_FITTING_REDUCER,         /**< bore on the far side, length, eccentricity */
    VENT_FITTING_ENTRY_PROJECTING, /**< distance from the wall and wall thickness over bore */
    VENT_FITTING_ENTRY_BEVELLED,   /**< bevel's length over bore, angle to the axis */
    VENT_FITTING_ENTRY_ANGLED,     /**< angle between pipe and wall */
    VENT_FITTING_ENTRY_BELL,       /**< edge radius over bore, no wall */
    VENT_FITTING_ENTRY_CORED_HOLE, /**< bore of the hole, slab thickness, radius of the pit */
    VENT_FITTING_ENTRY_PERFORATED, /**< holes per length, their bore, length, discharge coefficient */
    VENT_FITTING_SCREEN,           /**< wire diameter, opening (clear width between wires) */
    VENT_FITTING_SQUARE_SCREEN,    /**< free area of a screen with square edges */
    VENT_FITTING_PERFORATED_PLATE, /**< free area, bore of a hole, thickness */
    VENT_FITTING_END               /**< one past the last family */
};

/** @brief A coefficient the caller knows, the same both ways.
 *
 * Does not depend on the Reynolds number. Its source is number 0: stated by the caller.
 *
 * @param[in] k [-] loss coefficient; 0 <= k <= 1e6.
 * @param[in] uncertainty [-] its standard uncertainty; 0 <= uncertainty <= 1e6.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @since 0.1 */
VENT_API vent_fitting vent_fitting_constant(double k, double uncertainty, vent_error *err);

/** @brief A coefficient the caller knows, one for either way.
 *
 * Does not depend on the Reynolds number. Its source is number 0: stated by the caller.
 *
 * @param[in] k [-] loss coefficient the way of the run; 0 <= k <= 1e6.
 * @param[in] k_reversed [-] loss coefficient for reversed flow; 0 <= k_reversed <= 1e6.
 * @param[in] uncertainty [-] standard uncertainty of either; 0 <= uncertainty <= 1e6.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @since 0.1 */
VENT_API vent_fitting vent_fitting_constant_each_way(double k, double k_reversed,
                                                     double uncertainty, vent_error *err);

/** @brief Coefficient of a fitting in a pipe at a Reynolds number.
 *
 * @param[in] fitting from one of the constructors.
 * @param[in] pipe the pipe it is put in.
 * @param[in] reynolds [-] in that pipe, on its hydraulic diameter, negative for reversed flow; 1e-3
 *            <= |reynolds| <= 1e9.
 * @param[in,out] err failure record or NULL.
 * @return value, standard uncertainty, source and range flags; NaN on failure.
 * @par Errors VENT_E_ARGUMENT if fitting is none that a constructor could have made, or pipe or
 *   reynolds is outside its bounds.
 * @par Source as the constructor of the family says, and vent_source_find() of the number returned.
 * @par Accuracy the uncertainty returned: of the published coefficient, not of the workmanship.
 *   Measured vent piping had fittings 53 % below to 109 % above handbook values (Brodhead & Saum,
 *   1996; abstract).
 * @since 0.1 */
VENT_API vent_coefficient vent_fitting_coefficient(vent_fitting fitting, vent_pipe pipe,
                                                   double reynolds, vent_error *err);

/** @brief The coefficient of a fitting by every source the library has for it.
 *
 * The library's default first. Half the distance between the least and the greatest is part of the
 * uncertainty of each.
 *
 * @param[in] fitting from one of the constructors; a source chosen for it makes no difference.
 * @param[in] pipe the pipe it is put in.
 * @param[in] reynolds [-] in that pipe, on its hydraulic diameter, negative for reversed flow; 1e-3
 *            <= |reynolds| <= 1e9.
 * @param[in] room [-] how many fit into list; 0 <= room.
 * @param[out] list the first `room` of them; NULL allowed where room is 0.
 * @param[in,out] err failure record or NULL.
 * @return how many there are; 0 on failure (list untouched).
 * @par Errors VENT_E_ARGUMENT if fitting is none that a constructor could have made, pipe or
 *   reynolds is outside its bounds, room is negative, or list NULL with room.
 * @par Source each coefficient's own.
 * @par Accuracy each coefficient's own.
 * @since 0.1 */
VENT_API int vent_fitting_alternatives(vent_fitting fitting, vent_pipe pipe, double reynolds,
                                       int room, vent_coefficient *list, vent_error *err);

/** @brief The same fitting by the formula of one of its sources.
 *
 * Where the flow's direction has no formula by that source, the library's default holds.
 *
 * @param[in] fitting from one of the constructors.
 * @param[in] source [-] citation number as vent_fitting_formula() tells; 0 for the default.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if fitting is none that a constructor could have made, or no formula
 *   of its family has that source: the message lists those that have.
 * @since 0.1 */
VENT_API vent_fitting vent_fitting_by_source(vent_fitting fitting, int source, vent_error *err);

/** @brief Counts the families of fittings; they are numbered 1 to this.
 *
 * @return the count.
 * @since 0.1 */
VENT_API int vent_fitting_family_count(void);

/** @brief Names a family of fittings.
 *
 * @param[in] family VENT_FITTING_...
 * @return a constant string; "unknown" where there is none.
 * @since 0.1 */
VENT_API const char *vent_fitting_name(int family);

/** @brief Counts the geometric parameters of a family.
 *
 * @param[in] family VENT_FITTING_...
 * @return how many; 0 where there is no such family.
 * @since 0.1 */
VENT_API int vent_fitting_parameter_count(int family);

/** @brief One geometric parameter of a family; frozen layout. */
typedef struct vent_parameter_range {
    const char *name;   /**< as the constructor's argument is named */
    const char *unit;   /**< "m", "1/m", "rad", "Pa" or "" for a ratio */
    double low;         /**< least admissible value: below is an error */
    double high;        /**< greatest admissible value: above is an error */
    double source_low;  /**< least value of the source's own range: below is a flag */
    double source_high; /**< greatest value of the source's own range: above is a flag */
} vent_parameter_range;

/** @brief Tells name, unit and bounds of one geometric parameter of a family.
 *
 * @param[in] family VENT_FITTING_...
 * @param[in] parameter its place in vent_fitting.geometry.
 * @param[out] range not NULL.
 * @return true; false (range untouched) where there is no such family or parameter.
 * @since 0.1 */
VENT_API bool vent_fitting_parameter(int family, int parameter, vent_parameter_range *range);

/** @brief One published formula a family rests on; frozen layout. */
typedef struct vent_formula {
    int32_t source;      /**< citation number for vent_source_find(); 0: stated by the caller */
    int32_t own_length;  /**< 0: the range is of the pipe's Reynolds number; 1: of one formed with a
                               length of the part, as a wire */
    double reynolds_low; /**< least Reynolds number of the source's own range: below is a flag */
    double reynolds_high; /**< greatest Reynolds number of it: above is a flag */
} vent_formula;

/** @brief Tells one of the published formulas a family rests on.
 *
 * The first is the library's default; the reason for it, and what else went into the uncertainty,
 * is told with the constructor.
 *
 * @param[in] family VENT_FITTING_...
 * @param[in] reversed false for the way of the run, true for reversed flow; for a change of bore,
 *            false for a bore that grows, true for one that shrinks.
 * @param[in] index [-] which of them; 0 <= index.
 * @param[out] formula not NULL.
 * @return true; false (formula untouched) where there is no such family, or no further formula.
 * @since 0.1 */
VENT_API bool vent_fitting_formula(int family, bool reversed, int index, vent_formula *formula);

VENT_END_DECLS

#endif
