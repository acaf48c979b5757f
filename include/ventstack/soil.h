/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file soil.h
 *  @brief The soil as a suction point feels it: pressure against flow. */
#ifndef VENTSTACK_SOIL_H
#define VENTSTACK_SOIL_H

#include <ventstack/error.h>

VENT_BEGIN_DECLS

/** @brief The laws of soil. */
enum {
    VENT_SOIL_POWER = 1,   /**< Q = C dP^n */
    VENT_SOIL_TWO_TERM = 2 /**< dP = a Q + b Q^2 */
};

/** @brief A soil law; frozen layout. Make it with vent_soil_power() or vent_soil_two_term(). */
typedef struct vent_soil {
    int32_t law;      /**< VENT_SOIL_...; 0 for none */
    int32_t reserved; /**< 0 */
    double a;         /**< C of Q = C dP^n [m3/s/Pa^n], or a of dP = a Q + b Q^2 [Pa s/m3] */
    double b;         /**< n [-], or b [Pa s2/m6] */
} vent_soil;

/** @brief The power law of a suction point, Q = C dP^n.
 *
 * What a suction test usually is reduced to. n is 0.5 where inertia rules (coarse gravel, gaps), 1
 * where viscosity does (Darcy flow through fine soil), and in between for a mixture. A fit to a few
 * noisy readings may land a little outside, which is why 0.4 to 1.1 is admitted; further out the
 * readings, not the soil, are at fault. It says nothing about where the air comes from, and beyond
 * the range of the readings it is a guess: a mixture's n grows as the flow falls.
 *
 * With n above 1 the slope of pressure at rest would be infinite; below 1 mPa an odd cubic that
 * meets the law and its slope there takes over.
 *
 * @param[in] c [m3/s/Pa^n] flow at a vacuum of 1 Pa; 1e-15 <= c <= 1e3.
 * @param[in] n [-] exponent; 0.4 <= n <= 1.1.
 * @param[in,out] err failure record or NULL.
 * @return the soil; law 0 and NaN on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source the form is common practice; its limits are Darcy's law (n = 1) and the orifice
 *   (n = 1/2). Reddy and others (1992), EPA/600/SR-92/090: flow under slabs is turbulent in beds of
 *   gravel, laminar in soil; printed.
 * @par Accuracy that of the fit.
 * @since 0.1 */
VENT_API vent_soil vent_soil_power(double c, double n, vent_error *err);

/** @brief The two-term law of a suction point, dP = a Q + b Q^2.
 *
 * Viscous and inertial resistance in series (Forchheimer): physically additive, so it extrapolates
 * better than a power law.
 *
 * @param[in] a [Pa s/m3] viscous coefficient; 0 <= a <= 1e15.
 * @param[in] b [Pa s2/m6] inertial coefficient; 0 <= b <= 1e18; not both may be 0.
 * @param[in,out] err failure record or NULL.
 * @return the soil; law 0 and NaN on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds or both are 0.
 * @par Source P. Forchheimer (1901), Wasserbewegung durch Boden; memory.
 * @par Accuracy that of the fit.
 * @since 0.1 */
VENT_API vent_soil vent_soil_two_term(double a, double b, vent_error *err);

/** @brief The vacuum that draws a flow from the soil.
 *
 * Odd in the flow, with a continuous slope: air pressed into the soil meets the same resistance.
 *
 * @param[in] soil from vent_soil_power() or vent_soil_two_term().
 * @param[in] flow [m3/s] out of the soil at its own density; any finite number.
 * @return [Pa] vacuum, positive for flow out of the soil; NaN outside.
 * @par Source see the soil's law.
 * @par Accuracy 1e-14 of the law.
 * @since 0.1 */
VENT_API double vent_soil_pressure(vent_soil soil, double flow);

/** @brief The flow that a vacuum draws from the soil: the inverse of vent_soil_pressure().
 *
 * @param[in] soil from vent_soil_power() or vent_soil_two_term().
 * @param[in] pressure [Pa] vacuum in the pit below the pressure far away in the soil; any finite number.
 * @return [m3/s] out of the soil, positive for a vacuum; NaN outside.
 * @par Source see the soil's law.
 * @par Accuracy 1e-14 of the law.
 * @since 0.1 */
VENT_API double vent_soil_flow(vent_soil soil, double pressure);

VENT_END_DECLS

#endif
