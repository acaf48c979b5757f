/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file uncertainty.h
 *  @brief How sure an answer is, which input makes it unsure, and what to measure next.
 *
 * "The design says 41 cfm. Plus or minus what? Because of which number? Which one reading on site
 * would help most?"
 *
 *     size_t n = vent_network_uncertainties(net, 64, inputs, &err);
 *     vent_uncertainty *doubt = vent_uncertainty_new(net, n, inputs, NULL, &err);
 *     vent_observable flow = vent_network_find_observable(net, "riser.flow", &err);
 *     vent_reading answer = vent_uncertainty_of(doubt, flow, &err);
 *     vent_budget_line line[64];
 *     n = vent_uncertainty_budget(doubt, flow, 64, line, &err);
 *
 * What one knows is a list of **inputs**: parameters of the network, each with a standard uncertainty
 * about its present value, and where they hang together their correlations. To first order (GUM) the
 * variance of an answer is a sum over inputs, with exact gradients; its terms are the **budget**. A
 * **candidate** is a reading not taken yet: what it would leave of the answer's uncertainty follows
 * from gradients alone, whatever it will show. Where the stack is too crooked for first order,
 * vent_uncertainty_simulate() solves it for many random inputs. */
#ifndef VENTSTACK_UNCERTAINTY_H
#define VENTSTACK_UNCERTAINTY_H

#include <ventstack/gradient.h>
#include <ventstack/measure.h>

VENT_BEGIN_DECLS

/** @brief Shapes of an input's distribution; the first-order budget needs none. */
enum {
    VENT_SHAPE_NORMAL = 0, /**< normal about the present value */
    VENT_SHAPE_LOG_NORMAL =
        1, /**< never below 0, its logarithm normal; mean and standard deviation as
                                     stated: for what is known within a factor */
    VENT_SHAPE_RECTANGULAR = 2, /**< anywhere within root 3 standard uncertainties alike */
    VENT_SHAPE_END = 3          /**< one past the last */
};

/** @brief What is known of one parameter: a standard uncertainty about its value; frozen layout. */
typedef struct vent_input {
    vent_parameter parameter; /**< an address in the network */
    double uncertainty;       /**< standard uncertainty, in the parameter's unit, above 0 */
    int32_t shape;            /**< VENT_SHAPE_... */
    int32_t source;           /**< citation the uncertainty rests on, 0 for the caller's own */
} vent_input;

/** @brief A network with what is known of its inputs, solved at its present values; opaque. */
typedef struct vent_uncertainty vent_uncertainty;

/** @brief Lists the uncertainties that a network's own parts carry.
 *
 * Of every fitting, termination and junction the factor on its coefficient (by the coefficient's
 * published spread), of every pipe of the catalogue its bore and its roughness. The same coefficient
 * in several places (four like elbows in one row are one line) is taken as independent from line to
 * line, and so are the bores of two pipes. What the network cannot know is not in it: the soil, the
 * fan, temperatures, lengths, workmanship.
 *
 * @param[in] network a complete network, not NULL.
 * @param[in] room [-] how many fit into inputs; 0 allowed.
 * @param[out] inputs the first `room` of them; NULL allowed if room is 0.
 * @param[in,out] err failure record or NULL.
 * @return how many there are; 0 on failure.
 * @par Errors as vent_network_solve(), as coefficients are taken at the operating point.
 * @since 0.1 */
VENT_API size_t vent_network_uncertainties(const vent_network *network, size_t room,
                                           vent_input *inputs, vent_error *err);

/** @brief Prepares to tell how sure a network's results are.
 *
 * @param[in] network a complete network, not NULL; a copy is kept.
 * @param[in] n [-] how many inputs; 1 <= n <= 1000.
 * @param[in] inputs that many, no parameter twice; not NULL.
 * @param[in] correlation [-] n times n, row by row, symmetric, 1 on the diagonal, without a negative
 *            eigenvalue; NULL allowed, meaning none.
 * @param[in,out] err failure record or NULL.
 * @return the handle, to be freed with vent_uncertainty_free(); NULL on failure.
 * @par Errors VENT_E_ARGUMENT for an uncertainty not above 0, an unknown shape, a log-normal input
 *   whose value is not above 0, no correlation matrix; VENT_E_DUPLICATE for a parameter given twice;
 *   VENT_E_NOT_FOUND for one the network has not; as vent_network_solve(); VENT_E_MEMORY.
 * @since 0.1 */
VENT_API vent_uncertainty *vent_uncertainty_new(const vent_network *network, size_t n,
                                                const vent_input *inputs, const double *correlation,
                                                vent_error *err);

/** @brief Frees it.
 *
 * @param[in] uncertainty NULL allowed.
 * @since 0.1 */
VENT_API void vent_uncertainty_free(vent_uncertainty *uncertainty);

/** @brief The network an uncertainty is about, at its present values.
 *
 * @param[in] uncertainty not NULL.
 * @param[in,out] err failure record or NULL.
 * @return a copy, to be freed with vent_network_free(); NULL on failure.
 * @par Errors VENT_E_ARGUMENT; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API vent_network *vent_uncertainty_network(const vent_uncertainty *uncertainty,
                                                vent_error *err);

/** @brief An answer with its standard uncertainty, to first order.
 *
 * @param[in] uncertainty not NULL.
 * @param[in] observable an address in the network.
 * @param[in,out] err failure record or NULL.
 * @return value and standard uncertainty [unit: vent_observable_unit()]; NaN on failure.
 * @par Errors VENT_E_NOT_FOUND where the network has no such observable; VENT_E_ARGUMENT;
 *   VENT_E_MEMORY.
 * @par Source JCGM 100:2008 (GUM), equations 10 and 13; memory.
 * @par Accuracy first order: good where the answer is nearly straight over a standard uncertainty.
 * @since 0.1 */
VENT_API vent_reading vent_uncertainty_of(const vent_uncertainty *uncertainty,
                                          vent_observable observable, vent_error *err);

/** @brief One line of an uncertainty budget; frozen layout. */
typedef struct vent_budget_line {
    vent_parameter parameter; /**< the input */
    double uncertainty;       /**< its standard uncertainty, in its unit */
    double sensitivity;       /**< change of the answer for each unit of it */
    double variance;          /**< what it contributes: the lines sum to the answer's variance. With
                                   correlations it may be negative: it takes back what others give */
    double share;             /**< variance over the answer's */
} vent_budget_line;

/** @brief The uncertainty budget of an answer: which input contributes how much.
 *
 * A correlated input's line holds its own variance and half of each covariance it has a part in.
 *
 * @param[in] uncertainty not NULL.
 * @param[in] observable an address in the network.
 * @param[in] room [-] how many fit into lines; 0 allowed.
 * @param[out] lines the first `room`, the greatest contribution first; NULL allowed if room is 0.
 * @param[in,out] err failure record or NULL.
 * @return how many there are, one an input; 0 on failure.
 * @par Errors as vent_uncertainty_of().
 * @par Source JCGM 100:2008 (GUM), equation 13; memory.
 * @par Accuracy the lines sum to the variance to rounding.
 * @since 0.1 */
VENT_API size_t vent_uncertainty_budget(const vent_uncertainty *uncertainty,
                                        vent_observable observable, size_t room,
                                        vent_budget_line *lines, vent_error *err);

/** @brief A reading one might take: of an observable, or of a parameter itself; frozen layout. */
typedef struct vent_candidate {
    vent_observable
        observable; /**< what would be read; kind VENT_OBSERVABLE_NONE where a parameter */
    vent_parameter
        parameter;      /**< what would be read; kind VENT_PARAMETER_NONE where an observable */
    double uncertainty; /**< standard uncertainty of the reading, in its unit, above 0 */
} vent_candidate;

/** @brief What a reading would leave of an answer's uncertainty, whatever it will show.
 *
 * To first order the answer's variance shrinks by the square of its covariance with the reading over
 * the variance of the reading, that of the instrument included.
 *
 * @param[in] uncertainty not NULL.
 * @param[in] answer an address in the network.
 * @param[in] n [-] how many candidates.
 * @param[in] candidates that many; NULL allowed if n is 0.
 * @param[out] after [unit: vent_observable_unit()] standard uncertainty of the answer after each one
 *             alone; NaN on failure; NULL allowed.
 * @param[in,out] err failure record or NULL.
 * @return the candidate that would help most, the first of equals; -1 on failure or for none.
 * @par Errors VENT_E_ARGUMENT for an uncertainty not above 0, a candidate of both kinds or of none;
 *   VENT_E_NOT_FOUND for an address the network has not; VENT_E_MEMORY.
 * @par Source Kalman (1960), A new approach to linear filtering and prediction problems, Journal of
 *   Basic Engineering 82, 35-45; memory.
 * @par Accuracy as vent_uncertainty_of().
 * @since 0.1 */
VENT_API int vent_uncertainty_next(const vent_uncertainty *uncertainty, vent_observable answer,
                                   size_t n, const vent_candidate *candidates, double *after,
                                   vent_error *err);

/** @brief Counts a reading as taken, as planned: what is known of the inputs sharpens.
 *
 * For plans of several readings: learn the best, then ask again. Values do not change, as none was
 * read yet; a reading that was is for vent_fit_reading().
 *
 * @param[in,out] uncertainty not NULL; unchanged on failure.
 * @param[in] candidate the reading.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors as vent_uncertainty_next().
 * @since 0.1 */
VENT_API bool vent_uncertainty_learn(vent_uncertainty *uncertainty, vent_candidate candidate,
                                     vent_error *err);

/** @brief Ways of sampling. */
enum {
    VENT_SAMPLING_RANDOM = 0, /**< independent: error falls as 1 over root n */
    VENT_SAMPLING_QUASI = 1   /**< Sobol's points in the 40 inputs that matter most, random beyond:
                                   means come out far better for the same n */
};

/** @brief How to sample; frozen layout. The same values give the same samples anywhere. */
typedef struct vent_sampling {
    int64_t samples;  /**< 2 to 100 000 000 */
    uint64_t seed;    /**< any */
    int32_t kind;     /**< VENT_SAMPLING_... */
    int32_t reserved; /**< 0 */
} vent_sampling;

/** @brief What came out of many samples; frozen layout. */
typedef struct vent_simulated {
    double mean;        /**< in the unit of the observable */
    double uncertainty; /**< standard deviation of the samples */
    double low;         /**< 2.5 % lie below */
    double median;      /**< half lie below */
    double high;        /**< 2.5 % lie above */
    int64_t failed;     /**< samples without an answer; left out above */
} vent_simulated;

/** @brief Answers for many random inputs: Monte Carlo.
 *
 * Inputs are drawn from their shapes (correlations hold between the normal deviates behind them); one
 * that falls beyond its parameter's bounds is put on the bound.
 *
 * @param[in] uncertainty not NULL.
 * @param[in] how samples, seed, kind.
 * @param[in] n [-] how many observables; 0 allowed.
 * @param[in] observables addresses in the network; NULL allowed if n is 0.
 * @param[out] results one an observable; NaN on failure; NULL allowed if n is 0.
 * @param[out] samples [unit of each] how.samples rows of n values, NaN where a sample failed; NULL allowed.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors VENT_E_ARGUMENT for a sampling outside its bounds; VENT_E_NOT_FOUND for an address the
 *   network has not; VENT_E_NO_OPERATING_POINT where no sample has an answer; VENT_E_MEMORY.
 * @par Source JCGM 101:2008; Sobol' (1967); SplitMix64 by Steele, Lea, Flood (2014); memory.
 * @par Accuracy random: the mean within its uncertainty over root n; percentiles are those of the
 *   samples.
 * @since 0.1 */
VENT_API bool vent_uncertainty_simulate(const vent_uncertainty *uncertainty, vent_sampling how,
                                        size_t n, const vent_observable *observables,
                                        vent_simulated *results, double *samples, vent_error *err);

VENT_END_DECLS

#endif
