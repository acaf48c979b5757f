/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file termination.h
 *  @brief What stands on top of the stack: its loss, where the air goes, whether it leaves upward.
 *
 * The last pipe is taken as vertical. Reversed flow through a termination is an entry: K is that of
 * a thick pipe end, 0.57, and what the termination adds.
 *
 * The constructors make clean ends; vent_termination_blocked() and vent_termination_iced() make what
 * leaves, webs, frost and ice make of them. A stack that may ice over moves less air just when the
 * house draws most: local codes and licensed practice say what may stand on it. */
#ifndef VENTSTACK_TERMINATION_H
#define VENTSTACK_TERMINATION_H

#include <ventstack/fitting.h>

VENT_BEGIN_DECLS

/** @brief A termination by kind and geometry; frozen layout. K is on the velocity pressure of the
 *  last pipe and includes the velocity pressure that leaves with the air. */
typedef struct vent_termination {
    int32_t family;     /**< VENT_TERMINATION_... */
    int32_t source;     /**< citation whose formula gives the value; 0: the library's default */
    double geometry[6]; /**< in the order vent_termination_parameter() tells, and the share that is
                             blocked at VENT_TERMINATION_BLOCKED; unused ones 0 */
    double
        factor; /**< multiplies the part of the coefficient above the plain end's own; 0 to 1000 */
} vent_termination;

/** @brief The families of terminations. */
enum {
    VENT_TERMINATION_NONE = 0, /**< no termination: what a failed constructor returns */
    VENT_TERMINATION_OPEN_END, /**< nothing on it */
    VENT_TERMINATION_ELBOW,    /**< angle, radius ratio */
    VENT_TERMINATION_TEE,      /**< the air leaves both ways, level */
    VENT_TERMINATION_GUARD,    /**< wire diameter, opening (clear width between wires) */
    VENT_TERMINATION_RAIN_CAP, /**< gap over bore */
    VENT_TERMINATION_RETURN,   /**< radius ratio of a 180 degree return: the air leaves downward */
    VENT_TERMINATION_DOME,     /**< wire diameter, opening, area of the mesh over the pipe's */
    VENT_TERMINATION_CONE,     /**< bore of the mouth over the pipe's, cone angle */
    VENT_TERMINATION_DRAIN_STACK, /**< bore of a wider pipe around the end over the pipe's */
    VENT_TERMINATION_END          /**< one past the last family */
};

/** @brief Places in vent_termination.geometry that every family has. */
enum {
    VENT_TERMINATION_BLOCKED = 5 /**< share of the end that is blocked; 0 where it is clean */
};

/** @brief One stream of leaving air; frozen layout. Its velocity is share / area_ratio times that
 * in the last pipe. */
typedef struct vent_stream {
    double share;        /**< of the flow, 0..1; the shares of a termination add up to 1 */
    double direction[3]; /**< unit vector: x the way the termination faces, y sideways, z up */
    double area_ratio;   /**< area this stream leaves through over the pipe's area */
} vent_stream;

/** @brief The open end of the pipe.
 *
 * K = 1: the velocity pressure that leaves with the air. Wind over the end is not in it.
 *
 * @return the termination.
 * @par Source energy balance; exact for a flat velocity profile. Reversed: Rennels & Hudson (2012),
 *   Pipe Flow, entry into a thick pipe end, 0.57; reprint.
 * @par Accuracy standard uncertainty 0.05: the kinetic energy of a turbulent profile is 1.03 to
 *   1.06 times that of its mean velocity. Reversed: 0.12, thin sheet metal ends cost up to 1.
 * @since 0.1 */
VENT_API vent_termination vent_open_end(void);

/** @brief A smooth elbow as the very end of the stack.
 *
 * K = 1 and the coefficient of the elbow within straight pipe, vent_elbow(). Without pipe behind it
 * part of the loss does not happen inside any more, and the distorted stream carries away more
 * energy than an even one: published corrections differ even in sign, and the default has none.
 *
 * @param[in] angle [rad] from straight up to where the air leaves; 0 <= angle <= pi.
 * @param[in] radius_ratio [-] radius of the axis over bore; 0.4 <= radius_ratio <= 10, from the
 *            source 0.5 <= radius_ratio, above 90 degrees trusted from 1.
 * @param[in,out] err failure record or NULL.
 * @return the termination; family VENT_TERMINATION_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source the elbow: Rennels & Hudson (2012), Pipe Flow; reprint; default for the reasons told
 *   with vent_elbow(). Others: Idelchik (2006), diagram 6-1, reprint; the default's elbow with
 *   Miller's (1990) outlet tangent correction for no pipe at all, as a reference program has it: a
 *   factor of 0.6 at an elbow's coefficient of 0.10, 0.9 at 0.15, 1.2 at 0.20, 2.7 from 0.25 on;
 *   0.5 to 1.6 with one bore of pipe. It is not the default, for so little pipe undoes it.
 * @par Accuracy standard uncertainty 60 % of what is above 1, and half the distance between the
 *   sources.
 * @since 0.1 */
VENT_API vent_termination vent_end_elbow(double angle, double radius_ratio, vent_error *err);

/** @brief A tee as the end of the stack: the air turns into both arms and leaves level.
 *
 * The tee's bores are all the pipe's; each arm carries half the flow. K = 1.375 of the dividing
 * tee, and 0.25 for the velocity pressure the two arms lose at their ends.
 *
 * @return the termination.
 * @par Source Idelchik (2006), diagram 7-29, symmetrical tee: 1 + k (arm velocity over stem
 *   velocity)^2, k = 1.5; reprint (a reference program). From memory, k = 0.3 for a smooth tee.
 *   Reversed: the same diagram and two entries.
 * @par Accuracy standard uncertainty 0.2: the two k are 0.3 apart in K.
 * @since 0.1 */
VENT_API vent_termination vent_end_tee(void);

/** @brief A guard: a square mesh of round wires over the open end.
 *
 * K = 1 and that of the screen, [1.3 (1 - f) + (1/f - 1)^2] (1 + 22/Re), with f the free share of
 * the area and Re the Reynolds number of the wire in the approaching air: the wires' wakes fill up
 * within some ten wires, well before the stream feels the still air around it. Clean mesh without a
 * frame: a rim that takes 5 % of the pipe's area, 1 mm all around in a 3 in pipe, costs as much as
 * the mesh again, see vent_termination_blocked(). A mesh that bulges costs less: vent_end_dome().
 *
 * @param[in] wire [m] diameter of the wires; 1e-5 <= wire <= 0.02.
 * @param[in] opening [m] clear width between two wires; 1e-5 <= opening <= 1, and so that at least
 *            0.05 of the area is free.
 * @param[in,out] err failure record or NULL.
 * @return the termination; family VENT_TERMINATION_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source as vent_screen(): Idelchik (1966), diagram 8-6, memory; the others there.
 * @par Accuracy standard uncertainty 15 % of what is above 1 for the weave, and half the distance
 *   between the sources. Flagged below a Reynolds number of the wire of 50.
 * @since 0.1 */
VENT_API vent_termination vent_end_guard(double wire, double opening, vent_error *err);

/** @brief A rain cap: a plate or cone held above the end; the air leaves level all around.
 *
 * K = 1 + 0.1 (gap over bore)^-2.88. Caps of designs other than the plain cone and plate differ.
 *
 * @param[in] gap_ratio [-] height of the gap over the pipe's bore; 0.4 <= gap_ratio <= 1.2, from
 *            the source 0.45 <= gap_ratio <= 1.
 * @param[in,out] err failure record or NULL.
 * @return the termination; family VENT_TERMINATION_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if gap_ratio is outside its bounds.
 * @par Source a power law of our own through values of ACGIH, Industrial Ventilation, that are from
 *   memory (1.0 at 0.45, 0.73 at 0.5, 0.1 at 1), taken as what comes on top of the exit's 1.
 * @par Accuracy standard uncertainty 30 % of what is above 1. Cory (2005), Fans & Ventilation,
 *   figure 3.70, has 1.0 for one design of cap and 0.2 to 0.25 for another (reprint).
 * @since 0.1 */
VENT_API vent_termination vent_rain_cap(double gap_ratio, vent_error *err);

/** @brief A 180 degree return as the end of the stack: the air leaves straight down.
 *
 * K = 1 and the coefficient of the return bend within straight pipe, vent_elbow().
 *
 * @param[in] radius_ratio [-] radius of the axis over bore; 0.4 <= radius_ratio <= 10, from the
 *            source 0.5 <= radius_ratio, trusted from 1.
 * @param[in,out] err failure record or NULL.
 * @return the termination; family VENT_TERMINATION_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if radius_ratio is outside its bounds.
 * @par Source as vent_end_elbow().
 * @par Accuracy standard uncertainty 60 % of what is above 1, and half the distance between the
 *   sources, which is large below a radius ratio of 1.
 * @since 0.1 */
VENT_API vent_termination vent_end_return(double radius_ratio, vent_error *err);

/** @brief A domed guard: a mesh over the end that bulges or hangs as a basket, with more area than the
 *  pipe.
 *
 * As vent_end_guard(), with the air through the mesh slower by the ratio of areas, and the stream
 * whole again above it. A mesh so deep that the air leaves sideways is beyond it.
 *
 * @param[in] wire [m] diameter of the wires; 1e-5 <= wire <= 0.02.
 * @param[in] opening [m] clear width between two wires; 1e-5 <= opening <= 1, and so that at least
 *            0.05 of the mesh is free.
 * @param[in] area_ratio [-] area of the mesh, wires and openings, over the pipe's area; 1 <=
 *            area_ratio <= 20, from the source to 10. A half sphere has 2.
 * @param[in,out] err failure record or NULL.
 * @return the termination; family VENT_TERMINATION_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source as vent_screen(), on the velocity through the mesh; that screens larger than the duct
 *   are reckoned so is usual in duct handbooks.
 * @par Accuracy standard uncertainty 15 % of what is above 1, and half the distance between the
 *   sources.
 * @since 0.1 */
VENT_API vent_termination vent_end_dome(double wire, double opening, double area_ratio,
                                        vent_error *err);

/** @brief A conical outlet: the end widens, and part of the velocity pressure comes back.
 *
 * K = the cone's own loss and (1 / bore_ratio)^4 for what still leaves with the air; below 1 for a
 * slender cone. `factor` multiplies what it saves. Wider angles, where the stream leaves the wall and
 * nothing comes back without pipe behind it, are refused.
 *
 * @param[in] bore_ratio [-] bore of the mouth over the pipe's; 1 <= bore_ratio <= 3.
 * @param[in] cone_angle [rad] between opposite walls; 1 to 30 degrees: 0.01745 <= cone_angle <=
 *            0.5236, from the source 3 to 20 degrees.
 * @param[in,out] err failure record or NULL.
 * @return the termination; family VENT_TERMINATION_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source the cone: Rennels & Hudson (2012), Pipe Flow, conical diffuser, reprint; the default,
 *   as it has wall friction and angle. The other: Crane (2009), reprint. Reversed: their cones, and
 *   the entry of the mouth.
 * @par Accuracy standard uncertainty 15 % of the velocity pressure an ideal cone would win back, and
 *   half the distance between the sources.
 * @since 0.1 */
VENT_API vent_termination vent_end_cone(double bore_ratio, double cone_angle, vent_error *err);

/** @brief A drain stack: a wider pipe around the end, open below, that catches slanting rain.
 *
 * K = 1: the head takes nothing. The wider pipe begins below the end of the stack and stands about
 * four of its bores above it; rain that comes aslant meets its wall and runs out through the ring
 * between the pipes. A shorter one sheds less rain. Momentum says that the jet draws air in through
 * the ring, which pulls at the end a little: that is the other source. Blockage is that of the inner
 * pipe's end.
 *
 * @param[in] bore_ratio [-] bore of the wider pipe over the stack's; 1.05 <= bore_ratio <= 2, from
 *            the source 1.1 to 1.5.
 * @param[in,out] err failure record or NULL.
 * @return the termination; family VENT_TERMINATION_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if bore_ratio is outside its bounds.
 * @par Source ACGIH (2001), Industrial Ventilation, stack head of no loss; memory; the default, as
 *   the careful side. The other: momentum balance over the wider pipe, with 0.5 for its ring's entry;
 *   computed.
 * @par Accuracy standard uncertainty 0.05, and half the distance between the sources, 0.1.
 * @since 0.1 */
VENT_API vent_termination vent_drain_stack(double bore_ratio, vent_error *err);

/** @brief The same termination partly blocked: by leaves, a nest, webs, frost or a rim.
 *
 * Where the air leaves it passes only the free share, contracts behind its edges, and the jets' whole
 * velocity pressure is lost: for an open end K = [1 + 0.0696 (1 - f^2.5)] (jet / f)^2, jet = 1 + 0.622
 * (1 - 0.215 f - 0.785 f^2.5). Other terminations add what that exceeds 1 by, on the velocity
 * pressure they let out: that of both arms of a tee, of the gap of a cap, of the mouth of a cone.
 * Through the mesh of a guard the air passes the faster. A clean end is exactly the unblocked one.
 * Ice around the wires is another thing: vent_termination_iced(). `factor` multiplies this part too.
 *
 * @param[in] termination from one of the constructors; what blocked it before is forgotten.
 * @param[in] free_area [-] share of the clean end's area that is left; 0.05 <= free_area <= 1.
 * @param[in,out] err failure record or NULL.
 * @return the termination; family VENT_TERMINATION_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if termination is none that a constructor could have made, or
 *   free_area is outside its bounds.
 * @par Source Rennels & Hudson (2012), Pipe Flow, discharge from a sharp-edged orifice at the end of
 *   a pipe; reprint; the default, as it is known from one and meets the clean end without a kink.
 *   The other, of the open end: Idelchik (1966), discharge through an orifice or grid, (1 + 0.707
 *   sqrt(1 - f))^2 / f^2; memory. Reversed: the same jet, spreading to the bore of the pipe.
 * @par Accuracy standard uncertainty 30 % of what the blockage adds, besides the termination's own:
 *   sharp edges cost the most, rounded ice may cost half.
 * @since 0.1 */
VENT_API vent_termination vent_termination_blocked(vent_termination termination, double free_area,
                                                   vent_error *err);

/** @brief The same guard with its wires under an even coat of ice.
 *
 * The wires are thicker by twice the coat, the openings narrower by as much: free area shrinks fast.
 * Ice that bridges openings is blockage: vent_termination_blocked().
 *
 * @param[in] termination a guard, flat or domed; clean wires.
 * @param[in] thickness [m] of the coat; 0 <= thickness <= 0.01, and so that at least 0.05 of the area
 *            is left free.
 * @param[in,out] err failure record or NULL.
 * @return the guard; family VENT_TERMINATION_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if termination is no guard, thickness is outside its bounds, or what is
 *   left of the openings is.
 * @par Source geometry; the mesh as vent_end_guard().
 * @par Accuracy that of the mesh; how thick the ice is, weather tells.
 * @since 0.1 */
VENT_API vent_termination vent_termination_iced(vent_termination termination, double thickness,
                                                vent_error *err);

/** @brief Coefficient of a termination at the end of a pipe.
 *
 * @param[in] termination from one of the constructors.
 * @param[in] pipe the last pipe.
 * @param[in] reynolds [-] in that pipe, on its hydraulic diameter, negative for air drawn in; 1e-3
 *            <= |reynolds| <= 1e9.
 * @param[in,out] err failure record or NULL.
 * @return value, standard uncertainty, source and range flags; NaN on failure.
 * @par Errors VENT_E_ARGUMENT if termination is none that a constructor could have made, or pipe or
 *   reynolds is outside its bounds.
 * @par Source as the constructor of the family says, and vent_source_find() of the number returned.
 * @par Accuracy the uncertainty returned.
 * @since 0.1 */
VENT_API vent_coefficient vent_termination_coefficient(vent_termination termination, vent_pipe pipe,
                                                       double reynolds, vent_error *err);

/** @brief Share of the area that a square mesh leaves open.
 *
 * Geometry seen at right angles: (opening / (opening + wire))^2.
 *
 * @param[in] wire [m] diameter of the wires; 0 <= wire <= 1e6.
 * @param[in] opening [m] clear width between two wires; 0 < opening <= 1e6.
 * @return [-] 0 to 1; NaN outside the domain.
 * @par Source geometry, exact.
 * @par Accuracy to rounding.
 * @since 0.1 */
VENT_API double vent_guard_free_area(double wire, double opening);

/** @brief Where the air goes: the streams it leaves in.
 *
 * One stream up from an open end, a guard, a cone or a drain stack; one at its angle from an elbow;
 * two level ones from a tee; eight level ones, evenly around, from a rain cap; one down from a
 * return. Of a blocked end only the free share counts as area. How the streams contract, spread and
 * bend afterwards is not in it.
 *
 * @param[in] termination from one of the constructors.
 * @param[out] streams room for 8; not NULL.
 * @return how many there are; 0 where termination is none.
 * @par Source geometry of the parts; the rain cap's level streams are a simplification of our own.
 * @par Accuracy a plain statement of direction, no spread.
 * @since 0.1 */
VENT_API int vent_termination_streams(vent_termination termination, vent_stream streams[8]);

/** @brief Tells whether every stream leaves within 45 degrees of straight up.
 *
 * 45 degrees itself counts. A bound of 45 degrees is one standard's rule; which rule holds is for
 * the local code to say.
 *
 * @param[in] termination from one of the constructors.
 * @return true where all streams do; false where one does not, or termination is none.
 * @par Source geometry; the bound: ANSI/AARST RMS-MF 2018, 6.4.9 to 6.4.11; printed.
 * @par Accuracy exact, but for 1e-12 of rounding.
 * @since 0.1 */
VENT_API bool vent_termination_is_upward(vent_termination termination);

/** @brief Area that vertical rain finds open, over the pipe's.
 *
 * Seen from above: 1 for an open end and a drain stack, the cosine of its angle for an elbow up to 90
 * degrees, 0 under caps, tees and returns, what is free between the wires for a guard, and more than 1
 * for a cone, whose mouth gathers rain; all times the share nothing blocks. Leaves out rain that
 * wind drives aslant, which is most of it: it enters level ends and passes under caps, and the wall of
 * a drain stack catches it; also drops that drip from wires, and the updraught of a running fan.
 *
 * @param[in] termination from one of the constructors.
 * @return [-] 0 to 9; NaN where termination is none.
 * @par Source geometry.
 * @par Accuracy exact for vertical rain and sharp edges.
 * @since 0.1 */
VENT_API double vent_termination_rain_openness(vent_termination termination);

/** @brief Names a family of terminations.
 *
 * @param[in] family VENT_TERMINATION_...
 * @return a constant string; "unknown" where there is none.
 * @since 0.1 */
VENT_API const char *vent_termination_name(int family);

/** @brief Counts the geometric parameters of a family.
 *
 * @param[in] family VENT_TERMINATION_...
 * @return how many; 0 where there is no such family.
 * @since 0.1 */
VENT_API int vent_termination_parameter_count(int family);

/** @brief Tells name, unit and bounds of one geometric parameter of a family.
 *
 * @param[in] family VENT_TERMINATION_...
 * @param[in] parameter its place in vent_termination.geometry; also VENT_TERMINATION_BLOCKED, which
 *            every family has and none counts.
 * @param[out] range not NULL.
 * @return true; false (range untouched) where there is no such family or parameter.
 * @since 0.1 */
VENT_API bool vent_termination_parameter(int family, int parameter, vent_parameter_range *range);

/** @brief Counts the families of terminations; they are numbered 1 to this.
 *
 * @return the count.
 * @since 0.1 */
VENT_API int vent_termination_family_count(void);

/** @brief Tells one of the published formulas a family rests on.
 *
 * What the termination adds to the plain end of the pipe. The first is the library's default.
 *
 * @param[in] family VENT_TERMINATION_...
 * @param[in] reversed false for air that leaves, true for air drawn in.
 * @param[in] index [-] which of them; 0 <= index.
 * @param[out] formula not NULL.
 * @return true; false (formula untouched) where there is no such family, or no further formula.
 * @since 0.1 */
VENT_API bool vent_termination_formula(int family, bool reversed, int index, vent_formula *formula);

/** @brief The same termination by the formula of one of its sources.
 *
 * Where the air's direction has no formula by that source, the library's default holds.
 *
 * @param[in] termination from one of the constructors.
 * @param[in] source [-] citation number as vent_termination_formula() tells; 0 for the default.
 * @param[in,out] err failure record or NULL.
 * @return the termination; family VENT_TERMINATION_NONE on failure.
 * @par Errors VENT_E_ARGUMENT if termination is none that a constructor could have made, or no
 *   formula of its family has that source: the message lists those that have.
 * @since 0.1 */
VENT_API vent_termination vent_termination_by_source(vent_termination termination, int source,
                                                     vent_error *err);

/** @brief The coefficient of a termination by every source the library has for it.
 *
 * The library's default first. Half the distance between the least and the greatest is part of the
 * uncertainty of each.
 *
 * @param[in] termination from one of the constructors; a source chosen for it makes no difference.
 * @param[in] pipe the last pipe.
 * @param[in] reynolds [-] in that pipe, on its hydraulic diameter, negative for reversed flow; 1e-3
 *            <= |reynolds| <= 1e9.
 * @param[in] room [-] how many fit into list; 0 <= room.
 * @param[out] list the first `room` of them; NULL allowed where room is 0.
 * @param[in,out] err failure record or NULL.
 * @return how many there are; 0 on failure (list untouched).
 * @par Errors VENT_E_ARGUMENT if termination is none that a constructor could have made, pipe or
 *   reynolds is outside its bounds, room is negative, or list NULL with room.
 * @par Source each coefficient's own.
 * @par Accuracy each coefficient's own.
 * @since 0.1 */
VENT_API int vent_termination_alternatives(vent_termination termination, vent_pipe pipe,
                                           double reynolds, int room, vent_coefficient *list,
                                           vent_error *err);

VENT_END_DECLS

#endif
