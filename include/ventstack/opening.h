/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file opening.h
 *  @brief Openings to the surroundings: a leak in a joint, the unsealed edge of a pit, an air inlet.
 *
 * Air is drawn in through an opening wherever a stack is below the pressure around it, and blown out where it
 * is above. A leak upstream of the fan costs flow from the soil; one downstream of it in a building blows
 * soil gas into the rooms: that is why codes keep fans and pressurised pipe outside of them.
 *
 * A network takes one as a leak at a node it has, vent_network_leak(), or as a node of its own that the
 * surroundings feed, vent_network_opening(). Its area and its discharge coefficient have addresses,
 * "crack.area" and "crack.discharge_coefficient" (parameter.h), so a leak can be swept, differentiated and
 * fitted. */
#ifndef VENTSTACK_OPENING_H
#define VENTSTACK_OPENING_H

#include <stdint.h>
#include <ventstack/error.h>
#include <ventstack/units.h>

VENT_BEGIN_DECLS

/** @brief Discharge coefficient of a sharp-edged slit, pi / (pi + 2) = 0.611, from free streamlines. */
#define VENT_SHARP_EDGED_DISCHARGE (VENT_PI / (VENT_PI + 2))

/** @brief What is around an opening. */
enum {
    VENT_SURROUNDINGS_OUTDOORS = 1, /**< open air at any height; still, unless
                                          vent_network_set_pressure_coefficient() gives it wind */
    VENT_SURROUNDINGS_ROOM = 2      /**< the room above the slab, at the building's pressure */
};

/** @brief An opening; frozen layout. Make it with vent_opening_to(). */
typedef struct vent_opening {
    int32_t surroundings;         /**< VENT_SURROUNDINGS_...; 0 for none */
    int32_t reserved;             /**< 0 */
    double area;                  /**< m2 */
    double discharge_coefficient; /**< [-] of the area that the jet fills */
} vent_opening;

/** @brief An opening of a stated area, Q = C A sqrt(2 dP / density).
 *
 * The same both ways. Leaves out the friction in long or narrow cracks, whose flow grows faster
 * with pressure, so that an area measured at one pressure holds near that pressure.
 *
 * @param[in] surroundings VENT_SURROUNDINGS_OUTDOORS or VENT_SURROUNDINGS_ROOM.
 * @param[in] area [m2] 0 <= area <= 100; below 1e-12 as 1e-12, through which next to nothing goes.
 * @param[in] discharge_coefficient [-] 0.05 <= discharge_coefficient <= 1; VENT_SHARP_EDGED_DISCHARGE
 *            for a thin edge, 1 for an area that was measured as an effective one.
 * @param[in,out] err failure record or NULL.
 * @return the opening; surroundings 0 and NaN on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source G. Kirchhoff (1869), Zur Theorie freier Fluessigkeitsstrahlen, for the slit; memory. The
 *   square law: Bernoulli's equation, computed.
 * @par Accuracy that of the area.
 * @since 0.1 */
VENT_API vent_opening vent_opening_to(int surroundings, double area, double discharge_coefficient,
                                      vent_error *err);

/** @brief Volume flow through an opening at a difference of pressure.
 *
 * @param[in] opening from vent_opening_to().
 * @param[in] pressure [Pa] outside less inside; any finite number.
 * @param[in] density [kg/m3] of the air that flows; 0 < density.
 * @return [m3/s] inwards; NaN outside.
 * @par Source as vent_opening_to().
 * @par Accuracy rounding; below 1 mm/s in the opening the law is continued to rest by a straight line.
 * @since 0.1 */
VENT_API double vent_opening_flow(vent_opening opening, double pressure, double density);

VENT_END_DECLS

#endif
