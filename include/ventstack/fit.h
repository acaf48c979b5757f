/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file fit.h
 *  @brief From readings to the numbers behind them, with what the readings do not say.
 *
 * "At full speed the riser moves 41 cfm with 0.9 in. w.c. in the pit, at half speed 19 with 0.25.
 * What soil is that, and how sure is it?"
 *
 *     vent_fit *fit = vent_fit_new(net, &err);
 *     vent_fit_unknown(fit, vent_network_find_parameter(net, "pit.c", &err), &err);
 *     vent_fit_unknown(fit, vent_network_find_parameter(net, "pit.n", &err), &err);
 *     int half = vent_fit_state(fit, net, &err);
 *     vent_fit_hold(fit, half, vent_network_find_parameter(net, "riser.speed", &err), 0.5, &err);
 *     vent_fit_reading(fit, 0, flow, vent_reading_stated(41 * VENT_CFM, 1.5 * VENT_CFM), &err);
 *     vent_fit_reading(fit, half, flow, vent_reading_stated(19 * VENT_CFM, 1 * VENT_CFM), &err);
 *     ...
 *     vent_fitted *found = vent_fit_solve(fit, &err);
 *     vent_estimate c;
 *     vent_fitted_estimate(found, 0, &c);
 *
 * A **fit** holds **unknowns** (parameters of the network), **readings** (observables with their
 * standard uncertainties) and **states** (the same stack with another damper position, termination,
 * fan speed, a branch closed): all states share the unknowns. An unknown may have bounds, and a
 * **prior**: what one knows of it beforehand, for instance a coefficient's published uncertainty.
 *
 * The estimate makes the sum of squares of all residuals least, each divided by its standard
 * uncertainty, priors among them. Where readings do not determine an unknown it has no number but
 * NaN, and the verdict says so: one reading never gives both C and n.
 *
 * Signs are those of the network: a vacuum is a negative pressure, a flow towards the discharge is
 * positive. A reading that only fits with the other sign is flagged. */
#ifndef VENTSTACK_FIT_H
#define VENTSTACK_FIT_H

#include <ventstack/uncertainty.h>

VENT_BEGIN_DECLS

/** @brief Unknowns, readings and states of one stack; opaque. */
typedef struct vent_fit vent_fit;

/** @brief The answer of a fit; opaque, independent of the fit it came from. */
typedef struct vent_fitted vent_fitted;

/** @brief Begins a fit; the network as it is now is state 0.
 *
 * @param[in] network a complete network, not NULL; a copy is kept. Its values are where the search
 *            begins.
 * @param[in,out] err failure record or NULL.
 * @return the fit, to be freed with vent_fit_free(); NULL on failure.
 * @par Errors as vent_workspace_new().
 * @since 0.1 */
VENT_API vent_fit *vent_fit_new(const vent_network *network, vent_error *err);

/** @brief Frees a fit.
 *
 * @param[in] fit NULL allowed.
 * @since 0.1 */
VENT_API void vent_fit_free(vent_fit *fit);

/** @brief Adds another state of the stack: what differs in it, is in the network given.
 *
 * It may have another termination or fan, another position of a damper, a closed branch. What is
 * unknown there is the same as elsewhere unless vent_fit_hold() says otherwise.
 *
 * @param[in,out] fit not NULL; unchanged on failure.
 * @param[in] network a complete network with the nodes and runs of the first one, not NULL; a copy is kept.
 * @param[in,out] err failure record or NULL.
 * @return the state's number, from 1; -1 on failure.
 * @par Errors as vent_workspace_new(); VENT_E_ARGUMENT for more than 1000 states.
 * @since 0.1 */
VENT_API int vent_fit_state(vent_fit *fit, const vent_network *network, vent_error *err);

/** @brief Gives a parameter its value in one state, whatever it is elsewhere.
 *
 * An unknown held in a state is not estimated from that state's readings.
 *
 * @param[in,out] fit not NULL; unchanged on failure.
 * @param[in] state its number, 0 for the first.
 * @param[in] parameter an address in that state's network.
 * @param[in] value [unit: vent_network_parameter_range()] low <= value <= high of that range.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors VENT_E_NOT_FOUND for no such state or parameter; VENT_E_ARGUMENT; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API bool vent_fit_hold(vent_fit *fit, int state, vent_parameter parameter, double value,
                            vent_error *err);

/** @brief Makes a parameter an unknown, within the bounds the network sets it.
 *
 * @param[in,out] fit not NULL; unchanged on failure.
 * @param[in] parameter an address in the network of state 0.
 * @param[in,out] err failure record or NULL.
 * @return the unknown's number, from 0; -1 on failure.
 * @par Errors VENT_E_NOT_FOUND where the network has no such parameter; VENT_E_DUPLICATE;
 *   VENT_E_ARGUMENT for more than 200 unknowns; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API int vent_fit_unknown(vent_fit *fit, vent_parameter parameter, vent_error *err);

/** @brief Narrows the bounds of an unknown.
 *
 * @param[in,out] fit not NULL; unchanged on failure.
 * @param[in] unknown its number.
 * @param[in] low [unit: vent_network_parameter_range()] low of that range <= low < high.
 * @param[in] high [unit: vent_network_parameter_range()] low < high <= high of that range.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors VENT_E_NOT_FOUND; VENT_E_ARGUMENT.
 * @since 0.1 */
VENT_API bool vent_fit_bounds(vent_fit *fit, int unknown, double low, double high, vent_error *err);

/** @brief Says what is known of an unknown beforehand.
 *
 * @param[in,out] fit not NULL; unchanged on failure.
 * @param[in] unknown its number.
 * @param[in] prior value [unit: vent_network_parameter_range()] and standard uncertainty, above 0.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors VENT_E_NOT_FOUND; VENT_E_ARGUMENT for an uncertainty not above 0 or a value that is not
 *   finite.
 * @since 0.1 */
VENT_API bool vent_fit_prior(vent_fit *fit, int unknown, vent_reading prior, vent_error *err);

/** @brief Makes unknowns of inputs, each with its present value and its uncertainty as prior.
 *
 * Takes what vent_network_uncertainties() lists: a fit then shares misfit out among the coefficients
 * as their published spreads allow, and the uncertainties of the estimates hold what the coefficients
 * leave open. A parameter that is an unknown already gets the prior.
 *
 * @param[in,out] fit not NULL; unchanged on failure.
 * @param[in] n [-] how many inputs.
 * @param[in] inputs that many; NULL allowed if n is 0.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors as vent_fit_unknown() and vent_fit_prior().
 * @since 0.1 */
VENT_API bool vent_fit_priors(vent_fit *fit, size_t n, const vent_input *inputs, vent_error *err);

/** @brief Makes unknowns of all that is known of a network, correlations between inputs included.
 *
 * As vent_fit_priors(), of the inputs of an uncertainty: what was stated, or what an earlier fit left
 * (vent_fitted_uncertainty()), which the readings of this one are then added to. The priors' values are
 * those of the uncertainty's network.
 *
 * @param[in,out] fit not NULL; unchanged on failure.
 * @param[in] known not NULL.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors as vent_fit_unknown() and vent_fit_prior(); VENT_E_ARGUMENT where two inputs hang together
 *   wholly (leave one of them out).
 * @since 0.1 */
VENT_API bool vent_fit_known(vent_fit *fit, const vent_uncertainty *known, vent_error *err);

/** @brief Adds a reading.
 *
 * @param[in,out] fit not NULL; unchanged on failure.
 * @param[in] state in which it was taken, 0 for the first.
 * @param[in] observable what was read: an address in that state's network.
 * @param[in] reading value [unit: vent_observable_unit()] and standard uncertainty, above 0.
 * @param[in,out] err failure record or NULL.
 * @return the reading's number, from 0; -1 on failure.
 * @par Errors VENT_E_NOT_FOUND for no such state or place; VENT_E_ARGUMENT for an uncertainty not above
 *   0, a value that is not finite, more than 10000 readings; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API int vent_fit_reading(vent_fit *fit, int state, vent_observable observable,
                              vent_reading reading, vent_error *err);

/** @brief Finds the values that fit the readings best.
 *
 * Levenberg and Marquardt's method within bounds, with exact derivatives; parameters above zero that
 * span decades are searched by their logarithm. Uncertainties are to first order about the estimate,
 * from the stated uncertainties alone: a poor fit does not widen them, its chi-square tells.
 *
 * @param[in] fit not NULL.
 * @param[in,out] err failure record or NULL.
 * @return the answer, to be freed with vent_fitted_free(); NULL on failure.
 * @par Errors VENT_E_ARGUMENT for no unknown, no reading, or fewer readings and priors than unknowns;
 *   VENT_E_NO_OPERATING_POINT where the network has no solution at its own values; VENT_E_NOT_CONVERGED;
 *   VENT_E_MEMORY.
 * @par Source Marquardt (1963), An algorithm for least-squares estimation of nonlinear parameters,
 *   Journal of the Society for Industrial and Applied Mathematics 11, 431-441; memory.
 * @par Accuracy six NIST reference problems to their certified digits.
 * @since 0.1 */
VENT_API vent_fitted *vent_fit_solve(const vent_fit *fit, vent_error *err);

/** @brief Frees an answer.
 *
 * @param[in] fitted NULL allowed.
 * @since 0.1 */
VENT_API void vent_fitted_free(vent_fitted *fitted);

/** @brief Bits of vent_estimate.flags. */
enum {
    VENT_ESTIMATE_AT_BOUND = 1,     /**< the readings push it beyond a bound */
    VENT_ESTIMATE_UNDETERMINED = 2, /**< the readings do not determine it: value NaN */
    VENT_ESTIMATE_WEAK = 4,         /**< its uncertainty is as great as its value */
    VENT_ESTIMATE_PRIOR = 8         /**< the readings add next to nothing to its prior */
};

/** @brief What the readings say of one unknown; frozen layout. */
typedef struct vent_estimate {
    vent_parameter parameter; /**< the unknown */
    double value;             /**< the estimate, in the parameter's unit */
    double uncertainty;       /**< its standard uncertainty */
    double low;  /**< 95 % interval, within the bounds; at a bound one-sided: at least this */
    double high; /**< 95 % interval, within the bounds; at a bound one-sided: at most this */
    double prior_share; /**< of what is known of it, how much was known before: 0 to 1 */
    uint32_t flags;     /**< VENT_ESTIMATE_... bits */
    int32_t reserved;   /**< 0 */
} vent_estimate;

/** @brief Counts the unknowns.
 *
 * @param[in] fitted not NULL.
 * @return how many; 0 if fitted is NULL.
 * @since 0.1 */
VENT_API size_t vent_fitted_count(const vent_fitted *fitted);

/** @brief Reads one estimate.
 *
 * @param[in] fitted not NULL.
 * @param[in] unknown [-] 0 <= unknown < vent_fitted_count().
 * @param[out] estimate not NULL.
 * @return true; false (estimate untouched) where there is no such unknown.
 * @since 0.1 */
VENT_API bool vent_fitted_estimate(const vent_fitted *fitted, size_t unknown,
                                   vent_estimate *estimate);

/** @brief Covariance of two estimates.
 *
 * @param[in] fitted not NULL.
 * @param[in] a number of an unknown.
 * @param[in] b number of an unknown.
 * @return [product of both units]; NaN where one is not determined or does not exist.
 * @since 0.1 */
VENT_API double vent_fitted_covariance(const vent_fitted *fitted, size_t a, size_t b);

/** @brief Correlation of two estimates: near 1 or -1 the readings tell their sum or difference only.
 *
 * @param[in] fitted not NULL.
 * @param[in] a number of an unknown.
 * @param[in] b number of an unknown.
 * @return [-] -1 to 1; NaN where one is not determined or does not exist.
 * @since 0.1 */
VENT_API double vent_fitted_correlation(const vent_fitted *fitted, size_t a, size_t b);

/** @brief One combination of unknowns, from the best known to the least.
 *
 * Singular vectors of the derivatives, every unknown measured in its scale: its prior's uncertainty,
 * else its own size. A combination whose uncertainty is infinite is one the readings say nothing about: what
 * trades off against what.
 *
 * @param[in] fitted not NULL.
 * @param[in] index [-] 0 <= index < vent_fitted_count(), the best known first.
 * @param[in] room [-] how many fit into direction; 0 allowed.
 * @param[out] direction [-] weight of each unknown, in its scale; squares sum to 1; NULL allowed if room is 0.
 * @return [-] standard uncertainty along it, in those scales; infinity where not determined; NaN
 *   where there is no such combination.
 * @since 0.1 */
VENT_API double vent_fitted_direction(const vent_fitted *fitted, size_t index, size_t room,
                                      double *direction);

/** @brief Bits of vent_residual.flags. */
enum {
    VENT_RESIDUAL_OUTLIER = 1, /**< more than 3 standard uncertainties off */
    VENT_RESIDUAL_SIGN = 2     /**< would fit with the other sign: look at the convention */
};

/** @brief How one reading fits; frozen layout. */
typedef struct vent_residual {
    vent_observable observable; /**< what was read */
    int32_t state;              /**< in which state */
    uint32_t flags;             /**< VENT_RESIDUAL_... bits */
    double reading;             /**< what was read */
    double uncertainty;         /**< its standard uncertainty */
    double computed;            /**< what the fitted network gives */
    double residual;            /**< [-] computed less read, in standard uncertainties */
} vent_residual;

/** @brief Counts the readings.
 *
 * @param[in] fitted not NULL.
 * @return how many; 0 if fitted is NULL.
 * @since 0.1 */
VENT_API size_t vent_fitted_reading_count(const vent_fitted *fitted);

/** @brief Tells how one reading fits.
 *
 * @param[in] fitted not NULL.
 * @param[in] reading [-] 0 <= reading < vent_fitted_reading_count().
 * @param[out] residual not NULL.
 * @return true; false (residual untouched) where there is no such reading.
 * @since 0.1 */
VENT_API bool vent_fitted_residual(const vent_fitted *fitted, size_t reading,
                                   vent_residual *residual);

/** @brief How well all of it fits; frozen layout. */
typedef struct vent_goodness {
    double chi_square; /**< sum of squares of residuals, those of priors included */
    double degrees;    /**< of freedom: readings and priors less what they determine */
    double
        probability; /**< that chance alone gives a greater chi-square; NaN without freedom. Below
                             0.01: the network, or the uncertainties, are not right */
    int32_t rank;    /**< how many combinations of unknowns the readings determine */
    int32_t iterations; /**< of the search */
} vent_goodness;

/** @brief Tells how well the readings fit together.
 *
 * @param[in] fitted not NULL.
 * @return the figures; NaN if fitted is NULL.
 * @since 0.1 */
VENT_API vent_goodness vent_fitted_goodness(const vent_fitted *fitted);

/** @brief The network of one state with the estimates put in.
 *
 * @param[in] fitted not NULL.
 * @param[in] state its number.
 * @param[in,out] err failure record or NULL.
 * @return a network, to be freed with vent_network_free(); NULL on failure.
 * @par Errors VENT_E_NOT_FOUND for no such state; VENT_E_ARGUMENT where an unknown is not determined;
 *   VENT_E_MEMORY.
 * @since 0.1 */
VENT_API vent_network *vent_fitted_network(const vent_fitted *fitted, int state, vent_error *err);

/** @brief What is known after the fit, for answers, budgets and what to measure next.
 *
 * @param[in] fitted not NULL.
 * @param[in] state for whose network.
 * @param[in,out] err failure record or NULL.
 * @return the handle, to be freed with vent_uncertainty_free(); NULL on failure.
 * @par Errors as vent_fitted_network() and vent_uncertainty_new().
 * @since 0.1 */
VENT_API vent_uncertainty *vent_fitted_uncertainty(const vent_fitted *fitted, int state,
                                                   vent_error *err);

/** @brief What to know of a fit, in sentences: what is not determined, off, or of the wrong sign.
 *
 * @param[in] fitted not NULL.
 * @param[in] size [-] of the buffer; 0 allowed.
 * @param[out] text buffer, cut to size and terminated; NULL allowed if size is 0.
 * @return the length of the whole text; 0 where nothing is to be said.
 * @since 0.1 */
VENT_API size_t vent_fitted_verdict(const vent_fitted *fitted, size_t size, char *text);

/** @brief A soil law from a test, with its honesty; frozen layout. */
typedef struct vent_soil_estimate {
    vent_soil soil;       /**< the law; 0 and NaN on failure */
    double a_uncertainty; /**< standard uncertainty of soil.a: C, or a */
    double b_uncertainty; /**< standard uncertainty of soil.b: n, or b */
    double correlation;   /**< of both: C and n hang together strongly */
    double chi_square;    /**< sum of squares of the residuals */
    double degrees;       /**< of freedom: steps less two */
    double probability;   /**< that chance alone gives a greater chi-square; NaN without freedom */
    uint32_t flags;       /**< VENT_ESTIMATE_... bits of either number */
    int32_t reserved;     /**< 0 */
} vent_soil_estimate;

/** @brief The soil law of a suction point from a communication test in several steps.
 *
 * Both flow and vacuum of each step are uncertain, and the true ones are estimated beside the law.
 * The baseline is what the manometer shows with the fan off (stack effect of the house, zero of the
 * instrument); it is taken off every step, and its uncertainty is shared by all. Weather and wind that
 * change it between steps belong into the uncertainty of each vacuum.
 *
 * @param[in] law VENT_SOIL_POWER or VENT_SOIL_TWO_TERM.
 * @param[in] n [-] number of steps; 2 <= n <= 60.
 * @param[in] vacuum [Pa] below the room, positive, n readings with uncertainties above 0; not NULL.
 * @param[in] flow [m3/s] out of the soil, positive, n readings with uncertainties above 0; not NULL.
 * @param[in] baseline [Pa] vacuum with the fan off and its standard uncertainty, 0 for certain.
 * @param[in,out] err failure record or NULL.
 * @return the law; NaN on failure.
 * @par Errors VENT_E_ARGUMENT for a missing array, one step, an uncertainty not above 0, vacuums or
 *   flows below zero (their sign is told), a vacuum not above the baseline, steps that do not differ by
 *   more than their uncertainties (one point gives no exponent); VENT_E_NOT_CONVERGED; VENT_E_MEMORY.
 * @par Source least squares with errors in both variables: Deming (1943), Statistical Adjustment of
 *   Data; memory. The laws: vent_soil_power(), vent_soil_two_term().
 * @par Accuracy synthetic tests: the 95 % interval of each number holds the truth in 93 to 97 % of cases.
 * @since 0.1 */
VENT_API vent_soil_estimate vent_soil_test(int law, size_t n, const vent_reading *vacuum,
                                           const vent_reading *flow, vent_reading baseline,
                                           vent_error *err);

/** @brief How much flow whatever stands on top costs, turned into its coefficient.
 *
 * Two flows on the same stack: with a plain open end, and with the thing. The first one sets the
 * adjusted parameter (the soil's C, the fan's pressure factor: what is doubtful about the stack), the
 * second one the coefficient. The network's own termination plays no part.
 *
 * @param[in] network a complete network, not NULL.
 * @param[in] observable the flow that was read, an address in it.
 * @param[in] open what was read with a plain end, uncertainty above 0.
 * @param[in] with what was read with the thing on top, uncertainty above 0.
 * @param[in] adjusted the parameter that makes the network meet the first reading.
 * @param[in,out] err failure record or NULL.
 * @return [-] K on the velocity pressure of the last pipe, what leaves included (a plain end: 1), and its standard
 *   uncertainty; NaN on failure.
 * @par Errors VENT_E_ARGUMENT for an uncertainty not above 0, or a flow with the thing that is above the one without by
 *   more than 3 standard uncertainties; VENT_E_NOT_FOUND; as vent_fit_solve().
 * @par Source least squares, as vent_fit_solve().
 * @par Accuracy that of the readings; what else is wrong with the network mostly cancels.
 * @since 0.1 */
VENT_API vent_reading vent_top_coefficient(const vent_network *network, vent_observable observable,
                                           vent_reading open, vent_reading with,
                                           vent_parameter adjusted, vent_error *err);

/** @brief Forms of the fall of vacuum with distance. */
enum {
    VENT_FIELD_EXPONENTIAL = 1, /**< a constant fraction per distance */
    VENT_FIELD_RADIAL = 2       /**< K0(r / length): a leaky plenum about a round hole */
};

/** @brief Vacuum against distance from a suction point, fitted; frozen layout. */
typedef struct vent_field {
    int32_t form;              /**< VENT_FIELD_...; 0 on failure */
    uint32_t flags;            /**< VENT_ESTIMATE_... bits of either number */
    double radius;             /**< m of the pit or hole, where `vacuum` is */
    double vacuum;             /**< Pa at that radius */
    double vacuum_uncertainty; /**< its standard uncertainty */
    double length;             /**< m over which the vacuum falls by a factor of e, far out */
    double length_uncertainty; /**< its standard uncertainty */
    double correlation;        /**< of vacuum and length */
    double chi_square;         /**< sum of squares of the residuals */
    double degrees;            /**< of freedom: holes less two */
    double probability; /**< that chance alone gives a greater chi-square; NaN without freedom */
} vent_field;

/** @brief Vacuum against distance, from test holes.
 *
 * The radial form is that of a pumping test in a leaky aquifer: a plenum of even conductance under a
 * slab that leaks evenly, p = vacuum K0(r / length) / K0(radius / length). The exponential one, vacuum
 * exp(-(r - radius) / length), is its far end without the spreading and what the trade goes by: 10 % left
 * after a distance of 2.3 lengths. Left out: edges of the slab, footings, flow that is not laminar.
 *
 * @param[in] form VENT_FIELD_...
 * @param[in] radius [m] of the pit or hole, or of the first test hole; 1e-3 <= radius <= 10.
 * @param[in] n [-] number of test holes; 2 <= n <= 1000.
 * @param[in] distance [m] of each from the axis; radius <= distance <= 1000; not NULL.
 * @param[in] vacuum [Pa] below the room, baseline subtracted, with uncertainties above 0; not NULL.
 * @param[in,out] err failure record or NULL.
 * @return the field; form 0 and NaN on failure.
 * @par Errors VENT_E_ARGUMENT for a missing array, one hole, all holes at one distance, an uncertainty not above 0, vacuums of
 *   the wrong sign, vacuums that do not fall with distance; VENT_E_NOT_CONVERGED; VENT_E_MEMORY.
 * @par Source G. J. de Glee (1930), Over grondwaterstroomingen bij wateronttrekking door middel van
 *   putten; memory. Exponential: common practice, no source.
 * @par Accuracy the forms: rounding. Whether a floor obeys one of them the chi-square tells.
 * @since 0.1 */
VENT_API vent_field vent_field_test(int form, double radius, size_t n, const double *distance,
                                    const vent_reading *vacuum, vent_error *err);

/** @brief Vacuum of a fitted field at a distance.
 *
 * @param[in] field from vent_field_test().
 * @param[in] distance [m] from the axis; field.radius <= distance <= 1e4.
 * @return [Pa] and standard uncertainty; NaN outside.
 * @since 0.1 */
VENT_API vent_reading vent_field_vacuum(vent_field field, double distance);

/** @brief How far a vacuum reaches: the distance at which a fitted field has come down to it.
 *
 * @param[in] field from vent_field_test().
 * @param[in] vacuum [Pa] wanted; 0 < vacuum <= field.vacuum.
 * @return [m] from the axis and standard uncertainty; NaN outside, and beyond 1e4 m.
 * @since 0.1 */
VENT_API vent_reading vent_field_reach(vent_field field, double vacuum);

/** @brief A fan from scattered readings of its curve: smooth, and falling where told so.
 *
 * Cubic B-splines by least squares: the smoothest curve that the readings do not refute (a chi-square
 * chance gives in one case of twenty), so that too small an uncertainty makes a wavy curve. A falling
 * one is kept falling. Readings at one flow may repeat.
 *
 * @param[in] name shown in results; NULL allowed, meaning "fan".
 * @param[in] n [-] number of readings; 3 <= n <= 1000.
 * @param[in] flow [m3/s] of each, in any order, at least 3 distinct; 0 <= flow <= 1e6; not NULL.
 * @param[in] pressure [Pa] and standard uncertainty, above 0, of each; not NULL.
 * @param[in] falling whether the curve may only fall; false for one with a stall.
 * @param[in] density [kg/m3] of the air in the fan when the points were taken; 0.1 <= density <= 10.
 * @param[in,out] err failure record or NULL.
 * @return the fan, to be freed with vent_fan_free(); NULL on failure.
 * @par Errors VENT_E_ARGUMENT for a missing array, too few points, a value outside its bounds, pressures
 *   that do not begin above 0 or do not fall at all; VENT_E_MEMORY.
 * @par Source penalised splines: Eilers and Marx (1996), Flexible smoothing with B-splines and
 *   penalties, Statistical Science 11, 89-121; memory.
 * @par Accuracy that of the readings; 1e-3 of shut-off in laying a monotone cubic through it.
 * @since 0.1 */
VENT_API vent_fan *vent_fan_fit(const char *name, size_t n, const double *flow,
                                const vent_reading *pressure, bool falling, double density,
                                vent_error *err);

VENT_END_DECLS

#endif
