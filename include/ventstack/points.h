/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file points.h
 *  @brief Every flow at which a fan and its system agree, where there may be several.
 *
 * A fan whose pressure rises with flow somewhere (a stall dip) may meet its system at several flows.
 * Which one it runs at depends on how it got there, and it may change over by itself.
 * vent_network_solve() gives one of them; here are all. */
#ifndef VENTSTACK_POINTS_H
#define VENTSTACK_POINTS_H

#include <ventstack/solution.h>

VENT_BEGIN_DECLS

/** @brief What is to be known of an operating point. */
enum {
    VENT_POINT_STABLE = 1 << 0, /**< the system's pressure rises faster with flow than the fan's */
    VENT_POINT_TOUCHING =
        1 << 1, /**< the curves touch without crossing: it holds on one side only */
    VENT_POINT_NEAR_STALL = 1 << 2, /**< below 1.1 of the flow up to which the fan's curve rises */
    VENT_POINT_EXTRAPOLATED = 1 << 3,   /**< beyond the fan's data */
    VENT_POINT_ONE_OF_SEVERAL = 1 << 4, /**< the network has more than one point */
    VENT_POINT_MORE_POSSIBLE = 1 << 5   /**< points may be missing: see below */
};

/** @brief Which fan is followed: all whose curve rises somewhere, the first one where none does. */
enum { VENT_EVERY_FAN = -1 };

/** @brief A flow at which a fan makes what its system takes; frozen layout. */
typedef struct vent_operating_point {
    int32_t fan;      /**< the fan that was followed, in the order they were added */
    uint32_t flags;   /**< VENT_POINT_... bits */
    double flow;      /**< m3/s through that fan, actual */
    double pressure;  /**< Pa, the rise it makes there */
    double fan_slope; /**< Pa s/m3 of its curve */
    double
        system_slope; /**< Pa s/m3 of what the system takes; its own, by a chord of 1e-4 of the flow */
    double
        stall_flow; /**< m3/s: up to here the fan's curve rises somewhere; NaN if it never does */
} vent_operating_point;

/** @brief Finds all operating points along a fan's curve.
 *
 * The fan's curve is followed from end to end of its data, and on along its straight continuations where
 * they fall. All else is the system, each other fan running as it is; what it takes is expected to
 * grow with the flow. Then where the fan's curve falls there is at most one point. A stretch where it rises
 * is halved until the values at its ends rule a point out or it is 1/4096 of a stretch between two points
 * of the data; then the least distance of the curves is sought. So two points are told apart unless they
 * lie within 1/4096 of a stretch and the curves part there by less than 1e-10 of the fan's greatest
 * pressure: these are one that touches. Three within 1/2048 of a stretch
 * may be taken for one.
 *
 * Stable is meant against slow changes of the flow. Pulsing with the volume of long ducts is left
 * out. Near stall, at 1.1 of the flow, is common practice, no source.
 *
 * With one rising fan in the network all points along its data are found, as far as the system grows with
 * flow. Pipes, fittings, openings and soil on its own do; a junction that loses pressure and soil that
 * suction points share may not (more flow in one leg can draw the other along, or turn it back). Where
 * there is either, the system is looked at in 16 parts of the fan's data at least, and
 * VENT_POINT_MORE_POSSIBLE is set where it was seen to fall or jump: without the flag the system was not
 * seen to fall, which is no proof. With several rising fans, each is followed with the others where
 * vent_network_solve() puts them: what is found exists, but there may be more, and the flag is set. A
 * network whose fans all fall may still have several points by its junctions or shared soil; of these
 * those along the fan that is followed are found if they are seen.
 *
 * @param[in] network a complete network, not NULL.
 * @param[in,out] workspace made for a network of this shape, or NULL for one made for this call.
 * @param[in] fan which fan, in the order they were added, or VENT_EVERY_FAN.
 * @param[in] room [-] how many points at most are written; 0 allowed.
 * @param[out] points room for that many, by rising flow of each fan followed; NULL allowed if room is 0.
 * @param[in,out] err failure record or NULL.
 * @return how many points there are, which may be above room; 0 on failure.
 * @par Errors VENT_E_NOT_FOUND for the fan; VENT_E_NO_OPERATING_POINT where the curves do not meet; as
 *   vent_network_solve().
 * @since 0.1 */
VENT_API size_t vent_network_operating_points(const vent_network *network,
                                              vent_workspace *workspace, int fan, size_t room,
                                              vent_operating_point *points, vent_error *err);

/** @brief Solves a network at one of its operating points.
 *
 * Also at an unstable one, where no air would stay.
 *
 * @param[in] network not NULL, as it was when the point was found.
 * @param[in,out] workspace made for a network of this shape, or NULL for one made for this call.
 * @param[in] point from vent_network_operating_points().
 * @param[in,out] err failure record or NULL.
 * @return the solution, to be freed with vent_solution_free(); NULL on failure.
 * @par Errors VENT_E_ARGUMENT where fan and system do not agree at that flow within 1e-8 of the fan's
 *   greatest pressure; VENT_E_NOT_FOUND for the fan; as vent_network_solve().
 * @since 0.1 */
VENT_API vent_solution *vent_network_solve_point(const vent_network *network,
                                                 vent_workspace *workspace,
                                                 vent_operating_point point, vent_error *err);

VENT_END_DECLS

#endif
