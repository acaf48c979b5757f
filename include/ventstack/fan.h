/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file fan.h
 *  @brief Fans: a curve through measured points, the fan laws, fans in series and in parallel.
 *
 * Pressure is the rise a fan gives the air, on whatever basis (static or total) the points were
 * taken; the network treats it as total pressure. */
#ifndef VENTSTACK_FAN_H
#define VENTSTACK_FAN_H

#include <stdbool.h>
#include <stddef.h>
#include <ventstack/error.h>

VENT_BEGIN_DECLS

/** @brief An immutable fan; opaque. Any number of threads may share it. */
typedef struct vent_fan vent_fan;

/** @brief A fan from measured points, taken in standard air at full speed.
 *
 * As vent_fan_new_at() without power, at 1.2013847530470107 kg/m3 (0.075 lb/ft3).
 *
 * @param[in] name shown in results; NULL allowed, meaning "fan".
 * @param[in] n [-] number of points; 2 <= n <= 100000.
 * @param[in] flow [m3/s] of each point, strictly increasing; 0 <= flow <= 1e6; not NULL.
 * @param[in] pressure [Pa] of each point, the first above 0; -1e9 <= pressure <= 1e9; not NULL.
 * @param[in,out] err failure record or NULL.
 * @return the fan, to be freed with vent_fan_free(); NULL on failure.
 * @par Errors as vent_fan_new_at().
 * @par Source as vent_fan_new_at().
 * @par Accuracy as vent_fan_new_at().
 * @since 0.1 */
VENT_API vent_fan *vent_fan_new(const char *name, size_t n, const double *flow,
                                const double *pressure, vent_error *err);

/** @brief A fan from measured points, taken in air of a stated density.
 *
 * A cubic runs through the points that keeps between the values of neighbours: where the data fall
 * it falls, where they rise it rises, and it has extrema at data points only. Past the first and
 * last point it goes on as the straight line through the two points there; a network warns of that.
 * A fan given no points near zero flow knows nothing of its stall.
 *
 * @param[in] name shown in results; NULL allowed, meaning "fan".
 * @param[in] n [-] number of points; 2 <= n <= 100000.
 * @param[in] flow [m3/s] of each point, strictly increasing; 0 <= flow <= 1e6; not NULL.
 * @param[in] pressure [Pa] of each point, the first above 0; -1e9 <= pressure <= 1e9; not NULL.
 * @param[in] power [W] electrical or shaft power of each point; 0 <= power <= 1e9; NULL allowed.
 * @param[in] density [kg/m3] of the air in the fan when the points were taken; 0.1 <= density <= 10.
 * @param[in,out] err failure record or NULL.
 * @return the fan, to be freed with vent_fan_free(); NULL on failure.
 * @par Errors VENT_E_ARGUMENT for a missing array, too few points, a value outside its bounds, a
 *   flow not above the one before it, a first pressure not above 0, points too close together to
 *   draw a curve through; VENT_E_MEMORY.
 * @par Source Steffen (1990), A simple method for monotonic interpolation in one dimension,
 *   Astronomy and Astrophysics 239, 443-450; the end slopes are those of the first and last chord.
 * @par Accuracy passes through the points; between them second order at an extremum, third order
 *   elsewhere. Six points on a parabola from shut-off to free delivery: within 0.6 % of shut-off in
 *   the first and last stretch, exact in between.
 * @since 0.1 */
VENT_API vent_fan *vent_fan_new_at(const char *name, size_t n, const double *flow,
                                   const double *pressure, const double *power, double density,
                                   vent_error *err);

/** @brief Fans in series: the same flow passes all, their pressures add.
 *
 * All are at the same density and speed ratio. Past its own free delivery a fan resists, as its curve
 * continued says. The sum is given for standard air; its data reach as far as the data of all its
 * fans do. It has a power where all its fans have one.
 *
 * @param[in] name shown in results; NULL allowed, meaning "fan".
 * @param[in] n [-] number of fans; 1 <= n <= 1000.
 * @param[in] fans n fans, not NULL, none of them NULL; the same one may stand there repeatedly.
 * @param[in,out] err failure record or NULL.
 * @return the fans as one, to be freed with vent_fan_free(); NULL on failure.
 * @par Errors VENT_E_ARGUMENT for a missing array or fan, too few or too many, or data that share no
 *   range of flow; VENT_E_MEMORY.
 * @par Source common practice, no source; exact for what it models.
 * @par Accuracy rounding: the sum of the curves, piece by piece.
 * @since 0.1 */
VENT_API vent_fan *vent_fan_series(const char *name, size_t n, const vent_fan *const *fans,
                                   vent_error *err);

/** @brief Fans in parallel: all work at the same pressure, their flows add.
 *
 * All are at the same density and speed ratio, and none has a damper: above a weaker fan's shut-off
 * pressure air flows back through it, as its curve continued says. Only fans whose pressure falls
 * everywhere can be added so: a rising curve has several flows at one pressure, and which one it
 * takes is not for the sum to say. The sum is given for standard air.
 *
 * @param[in] name shown in results; NULL allowed, meaning "fan".
 * @param[in] n [-] number of fans; 1 <= n <= 1000.
 * @param[in] fans n fans, not NULL, none of them NULL; the same one may stand there repeatedly.
 * @param[in,out] err failure record or NULL.
 * @return the fans as one, to be freed with vent_fan_free(); NULL on failure.
 * @par Errors VENT_E_ARGUMENT for a missing array or fan, too few or too many, a curve that does not
 *   fall everywhere, or data that share no range of pressure; VENT_E_MEMORY.
 * @par Source common practice, no source; exact for what it models.
 * @par Accuracy equal fans: rounding. Unequal ones: within 1e-6 of the greatest pressure and power, by
 *   cubics through as many exact points and slopes as it takes.
 * @since 0.1 */
VENT_API vent_fan *vent_fan_parallel(const char *name, size_t n, const vent_fan *const *fans,
                                     vent_error *err);

/** @brief Copies a fan.
 *
 * @param[in] fan not NULL.
 * @param[in,out] err failure record or NULL.
 * @return the copy, to be freed with vent_fan_free(); NULL on failure.
 * @par Errors VENT_E_ARGUMENT if fan is NULL; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API vent_fan *vent_fan_copy(const vent_fan *fan, vent_error *err);

/** @brief Frees a fan. Networks keep copies and stay valid.
 *
 * @param[in] fan NULL allowed.
 * @since 0.1 */
VENT_API void vent_fan_free(vent_fan *fan);

/** @brief Names a fan.
 *
 * @param[in] fan not NULL.
 * @return the fan's own string, valid until it is freed; NULL if fan is NULL.
 * @since 0.1 */
VENT_API const char *vent_fan_name(const vent_fan *fan);

/** @brief Pressure rise of a fan at a flow, by the fan laws.
 *
 * p = (density / density of the curve) speed^2 curve(flow / speed). The Reynolds number's small
 * effect on efficiency and slip of the motor under load are left out.
 *
 * @param[in] fan not NULL.
 * @param[in] flow [m3/s] at the density in the fan; any finite number.
 * @param[in] density [kg/m3] of the air in the fan; 0 < density.
 * @param[in] speed [-] ratio to the speed of the curve; 0 < speed.
 * @return [Pa] negative past free delivery; NaN outside.
 * @par Source the fan laws: Abulencia & Theodore (2009), Fluid Flow for the Practicing Chemical
 *   Engineer, section 17.2; reprint.
 * @par Accuracy that of the points; the laws hold within a few per cent for moderate changes of
 *   speed (common practice, no source).
 * @since 0.1 */
VENT_API double vent_fan_pressure(const vent_fan *fan, double flow, double density, double speed);

/** @brief Slope of a fan's pressure against flow: the derivative of vent_fan_pressure().
 *
 * @param[in] fan not NULL.
 * @param[in] flow [m3/s] at the density in the fan; any finite number.
 * @param[in] density [kg/m3] of the air in the fan; 0 < density.
 * @param[in] speed [-] ratio to the speed of the curve; 0 < speed.
 * @return [Pa s/m3] below 0 where the fan is stable; NaN outside.
 * @par Source as vent_fan_pressure().
 * @par Accuracy rounding, of the curve as drawn.
 * @since 0.1 */
VENT_API double vent_fan_slope(const vent_fan *fan, double flow, double density, double speed);

/** @brief Power a fan takes at a flow, by the fan laws.
 *
 * P = (density / density of the curve) speed^3 curve(flow / speed). Shaft power obeys this;
 * electrical power does as far as the motor's efficiency stays the same, which it does not when a
 * controller slows it much.
 *
 * @param[in] fan not NULL.
 * @param[in] flow [m3/s] at the density in the fan; any finite number.
 * @param[in] density [kg/m3] of the air in the fan; 0 < density.
 * @param[in] speed [-] ratio to the speed of the curve; 0 < speed.
 * @return [W] NaN outside and for a fan without power data.
 * @par Source as vent_fan_pressure().
 * @par Accuracy that of the points, at full speed.
 * @since 0.1 */
VENT_API double vent_fan_power(const vent_fan *fan, double flow, double density, double speed);

/** @brief Pressure of a fan at zero flow, at the curve's own density and speed.
 *
 * Where the points begin above zero flow it is the continuation's.
 *
 * @param[in] fan not NULL.
 * @return [Pa] NaN if fan is NULL.
 * @since 0.1 */
VENT_API double vent_fan_shut_off(const vent_fan *fan);

/** @brief Flow of a fan at zero pressure, at the curve's own speed.
 *
 * The first flow at which the pressure has come down to zero, by the continuation where the points
 * end above zero.
 *
 * @param[in] fan not NULL.
 * @return [m3/s] infinity where the pressure never comes down to zero; NaN if fan is NULL.
 * @since 0.1 */
VENT_API double vent_fan_free_delivery(const vent_fan *fan);

/** @brief Density of the air a fan's curve is given for.
 *
 * @param[in] fan not NULL.
 * @return [kg/m3] NaN if fan is NULL.
 * @since 0.1 */
VENT_API double vent_fan_density(const vent_fan *fan);

/** @brief Tells whether a fan's pressure falls with flow everywhere, level stretches excluded.
 *
 * Where it does not, a system may meet the fan at more than one flow, and the fan may hunt.
 *
 * @param[in] fan not NULL.
 * @return true if it falls everywhere; false otherwise and if fan is NULL.
 * @since 0.1 */
VENT_API bool vent_fan_is_falling(const vent_fan *fan);

/** @brief The range of flow a fan's data span, at the curve's own speed.
 *
 * Beyond it the curve is a straight line and a guess.
 *
 * @param[in] fan not NULL.
 * @param[out] least_flow [m3/s] of the first point; NULL allowed.
 * @param[out] greatest_flow [m3/s] of the last point; NULL allowed.
 * @return true; false (nothing written) if fan is NULL.
 * @since 0.1 */
VENT_API bool vent_fan_range(const vent_fan *fan, double *least_flow, double *greatest_flow);

/** @brief Copies the points of a fan out, at the curve's own density and speed.
 *
 * For fans in series or parallel they are the ends of the pieces of the combined curve.
 *
 * @param[in] fan not NULL.
 * @param[in] size [-] how many each array holds; 0 allowed.
 * @param[out] flow [m3/s] the first size of them; NULL allowed.
 * @param[out] pressure [Pa] likewise; NULL allowed.
 * @param[out] power [W] likewise, NaN without power data; NULL allowed.
 * @return how many points there are; 0 if fan is NULL.
 * @since 0.1 */
VENT_API size_t vent_fan_points(const vent_fan *fan, size_t size, double *flow, double *pressure,
                                double *power);

VENT_END_DECLS

#endif
