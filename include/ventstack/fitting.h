/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file fitting.h
 *  @brief Fittings: elbows, changes of area, entries; each a loss coefficient with range and
 * source.
 *
 * A coefficient K tells the loss of total pressure as a multiple of the velocity pressure of the
 * pipe the fitting is put in. The same fitting has another K for reversed flow: an entry is an exit
 * then, an expansion a contraction; an elbow is the same both ways.
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
    int32_t reserved;   /**< 0 */
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
    VENT_FITTING_END              /**< one past the last family */
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

/** @brief A smooth round elbow, from a slight bend to a full return.
 *
 * K = f a r/D + (0.10 + 2.4 f) sin(a/2) + 6.6 f [sqrt(sin(a/2)) + sin(a/2)] / (r/D)^(4a/pi), with f
 * the pipe's friction factor. It includes the friction of the bend's own length, so the length of
 * the pipe leaves the arc out. It assumes straight pipe of some 30 bores behind the elbow and none
 * of the steps and sharp inner edges of socketed drain elbows. Above 90 degrees with a radius ratio
 * below 1 the formula climbs out of proportion, and the uncertainty with it.
 *
 * @param[in] angle [rad] the flow turns by; 0 <= angle <= pi.
 * @param[in] radius_ratio [-] radius of the axis over bore; 0.4 <= radius_ratio <= 10, from the
 *            source 0.5 <= radius_ratio.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source Rennels & Hudson (2012), Pipe Flow, smooth bends; reprint (a reference program).
 *   Second opinion for the spread: Idelchik (2006), diagram 6-1, with friction added; reprint.
 *   Others: Ito (1960), DOI 10.1115/1.3662501, within 7 % at 90 degrees, radius ratios 1 to 1.5 and
 *   a Reynolds number of 5e4; Miller (1990), 5 to 11 % higher.
 * @par Accuracy standard uncertainty 25 % from radius ratio 1 on (published values at 1.5 run from
 *   0.15 to 0.33), growing to 50 % at 0.5 (drain elbows: 0.3 to 1.2), and half the distance of the
 *   second opinion.
 * @since 0.1 */
VENT_API vent_fitting vent_elbow(double angle, double radius_ratio, vent_error *err);

/** @brief A mitre: two pipes cut at an angle and joined, without a bend.
 *
 * K = 0.42 sin(a/2) + 2.56 sin^3(a/2). Leaves the Reynolds number out: tables have 4 % more
 * at 1e5, 26 % more at 2e4.
 *
 * @param[in] angle [rad] the flow turns by; 0 <= angle <= pi, from the source angle <= 150 degrees.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if angle is outside its bounds.
 * @par Source Rennels & Hudson (2012), Pipe Flow, single-joint mitre bends; reprint (a reference
 *   program). Second opinion for the spread: Idelchik (2006), diagram 6-7; reprint.
 * @par Accuracy standard uncertainty 25 % and half the distance of the second opinion (between
 *   authors a right-angled mitre runs from 1.0 to 1.7); flagged below a Reynolds number of 2e4.
 * @since 0.1 */
VENT_API vent_fitting vent_mitre(double angle, vent_error *err);

/** @brief A sudden change of bore, wider or narrower.
 *
 * K is on the velocity pressure of the pipe it is put in, the upstream one. An expansion loses the
 * square of the difference of velocities (Borda-Carnot); a contraction what the narrowed jet loses
 * as it widens again. Reversed flow exchanges the two. Bores are those of round pipes, or of
 * circles of the same area.
 *
 * @param[in] other_bore [m] bore of the pipe on the far (downstream) side; 1e-4 <= other_bore <=
 *            10.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if other_bore is outside its bounds.
 * @par Source expansion: Borda and Carnot, exact by momentum; contraction: Rennels & Hudson (2012),
 *   Pipe Flow, sharp-edged contraction; reprint. Second opinion for the spread of the contraction:
 *   Crane (2009), TP-410, 0.5 (1 - area ratio); reprint.
 * @par Accuracy standard uncertainty 5 % (expansion), 25 % and half the distance of the second
 *   opinion (contraction; near equal bores Weisbach's measurements are half of the formula).
 * @since 0.1 */
VENT_API vent_fitting vent_sudden_change(double other_bore, vent_error *err);

/** @brief A conical change of bore, wider or narrower.
 *
 * K is on the velocity pressure of the pipe it is put in, the upstream one, and includes the wall
 * friction of the cone, with that pipe's friction factor. Between 40 and 180 degrees a widening
 * cone costs up to a fifth more than a step: measured, and kept. The source's ranges of angle do
 * not quite meet; straight bridges from 20 to 21 and 60 to 65 degrees join them, and one from 175
 * to 180 degrees leads into vent_sudden_change(), which a cone of 180 degrees equals.
 *
 * @param[in] other_bore [m] bore of the pipe on the far (downstream) side; 1e-4 <= other_bore <=
 *            10.
 * @param[in] cone_angle [rad] between opposite walls; 1e-3 <= cone_angle <= pi.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source Rennels & Hudson (2012), Pipe Flow, conical diffusers and contractions; reprint (a
 *   reference program). Second opinion for the spread: Crane (2009), TP-410; reprint.
 * @par Accuracy standard uncertainty 25 % (widening) or 20 % (narrowing) and half the distance of
 *   the second opinion.
 * @since 0.1 */
VENT_API vent_fitting vent_gradual_change(double other_bore, double cone_angle, vent_error *err);

/** @brief The entry into a sharp-edged pipe end flush with a wall, from still air.
 *
 * Reversed flow leaves by it: K = 1.
 *
 * @return the fitting.
 * @par Source Idelchik (1966), diagram 3-1: 0.5; reprint. Crane, Blevins and Swamee say the same;
 *   Miller 0.51; Rennels & Hudson (2012) 0.57, which makes the spread.
 * @par Accuracy standard uncertainty 9 %.
 * @since 0.1 */
VENT_API vent_fitting vent_entry_flush(void);

/** @brief The entry into a pipe end that stands at least half a bore out of the wall.
 *
 * K = 1.12 - 22 x + 216 x^2 + 80 x^3 with x the wall thickness over bore, 0.57 from 0.05 on, where
 * the wall's face does what a flange does. Reversed flow leaves by it: K = 1.
 *
 * @param[in] wall_ratio [-] wall thickness over bore; 0 <= wall_ratio <= 0.5.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if wall_ratio is outside its bounds.
 * @par Source Rennels & Hudson (2012), Pipe Flow; reprint (a reference program). Idelchik (1966),
 *   diagram 3-1, lies up to 13 % lower.
 * @par Accuracy standard uncertainty 12 %.
 * @since 0.1 */
VENT_API vent_fitting vent_entry_reentrant(double wall_ratio, vent_error *err);

/** @brief The entry into a pipe whose edge is rounded into the wall it is flush with.
 *
 * Beyond an edge radius of one bore K stays 0.03. Reversed flow leaves by it: K = 1; a trumpet's
 * recovery is left out.
 *
 * @param[in] radius_ratio [-] radius of the edge over bore; 0 <= radius_ratio <= 10.
 * @param[in,out] err failure record or NULL.
 * @return the fitting; family VENT_FITTING_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if radius_ratio is outside its bounds.
 * @par Source Rennels & Hudson (2012), Pipe Flow, diagram 9.2; reprint (a reference program). Other
 *   opinions for the spread: Idelchik (1966), diagram 3-4, from memory and checked against values
 *   of the diagram; Swamee & Sharma (2008), Design of Water Supply Pipe Networks; reprint. Both are
 *   lower, as are Crane and Miller: at a radius of 0.15 bores 0.04 to 0.08 against 0.15.
 * @par Accuracy standard uncertainty 25 % and half the spread of the three.
 * @since 0.1 */
VENT_API vent_fitting vent_entry_rounded(double radius_ratio, vent_error *err);

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
    const char *unit;   /**< "m", "rad" or "" for a ratio */
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

VENT_END_DECLS

#endif
