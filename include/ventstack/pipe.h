/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file pipe.h
 *  @brief Pipe: bore, roughness and their spread, from a sourced catalogue or of one's own. */
#ifndef VENTSTACK_PIPE_H
#define VENTSTACK_PIPE_H

#include <stddef.h>
#include <ventstack/error.h>
#include <ventstack/source.h>

VENT_BEGIN_DECLS

/** @brief The shapes of pipe. */
enum { VENT_PIPE_ROUND = 0, VENT_PIPE_RECTANGULAR = 1 };

/** @brief A kind of pipe; frozen layout. Make it with vent_pipe_find(), vent_pipe_round() or
 *  vent_pipe_rectangular(). */
typedef struct vent_pipe {
    int32_t shape;                /**< VENT_PIPE_ROUND or VENT_PIPE_RECTANGULAR */
    int32_t source;               /**< citation of the dimensions, 0 for a pipe of one's own */
    double width;                 /**< m: the bore of a round pipe, else the inside width */
    double depth;                 /**< m: the bore again, or the inside depth */
    double roughness;             /**< m, equivalent sand-grain roughness */
    double bore_uncertainty;      /**< m, standard uncertainty of the bore (of a rectangular pipe,
                                       of its hydraulic diameter) from the tolerances */
    double roughness_uncertainty; /**< m, standard uncertainty of the roughness */
} vent_pipe;

/** @brief A pipe of the catalogue, by name and nominal size.
 *
 * "PVC 40" and "PVC 80" (ASTM D1785), "PVC DWV" (ASTM D2665), "PVC cellular core" (ASTM F891, from
 * memory), "sewer SDR 35" (ASTM D3034) and "downspout" (2 by 3 and 3 by 4 inches, by the longer
 * side). The bore of a round pipe is the average one, which is smaller than outside diameter less
 * twice the least wall: makers stay clear of the least. Where no average is published it is the
 * outside diameter less 2.12 least walls, the rule that gives all published averages of D1785 to
 * 0.001 in. Cellular core pipe is made to its outside diameter, so its bore varies most.
 *
 * A downspout's sides are nominal ones: real profiles are corrugated and smaller. Measure.
 *
 * The roughness is vent_roughness_find()'s for "PVC", a downspout's for "aluminium".
 *
 * @param[in] name of the series, exactly as above; not NULL.
 * @param[in] nominal_size [m] such as 3 * VENT_INCH; 0.01 <= nominal_size <= 1.
 * @param[in,out] err failure record or NULL.
 * @return the pipe; NaN on failure.
 * @par Errors VENT_E_ARGUMENT if name is NULL or nominal_size outside its bounds; VENT_E_NOT_FOUND,
 *   with the nearest name or the sizes there are.
 * @par Source ASTM D1785 and D2665: outside diameters, walls, tolerances and average inside
 *   diameters, reprint. ASTM F891: memory. ASTM D3034: outside diameters reprint, tolerances and the
 *   walls of 6 and 8 in memory. Downspout: common practice, no source.
 * @par Accuracy bore_uncertainty is that of a bore anywhere between the limits which outside diameter
 *   and wall may have, equally likely: half the span over sqrt 3. For a downspout it is a guess, 5 %.
 * @since 0.1 */
VENT_API vent_pipe vent_pipe_find(const char *name, double nominal_size, vent_error *err);

/** @brief A round pipe of one's own.
 *
 * Both uncertainties are 0; set them in the struct where they are known.
 *
 * @param[in] bore [m] inside diameter; 1e-4 <= bore <= 10.
 * @param[in] roughness [m] equivalent sand-grain roughness; 0 <= roughness <= 0.1 bore.
 * @param[in,out] err failure record or NULL.
 * @return the pipe; NaN on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @since 0.1 */
VENT_API vent_pipe vent_pipe_round(double bore, double roughness, vent_error *err);

/** @brief A rectangular pipe of one's own.
 *
 * Both uncertainties are 0; set them in the struct where they are known.
 *
 * @param[in] width [m] inside; 1e-4 <= width <= 10.
 * @param[in] depth [m] inside; 1e-4 <= depth <= 10.
 * @param[in] roughness [m] equivalent sand-grain roughness; 0 <= roughness <= 0.1 of the effective
 *            diameter.
 * @param[in,out] err failure record or NULL.
 * @return the pipe; NaN on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @since 0.1 */
VENT_API vent_pipe vent_pipe_rectangular(double width, double depth, double roughness,
                                         vent_error *err);

/** @brief Area of a pipe's section.
 *
 * @param[in] pipe from one of the constructors.
 * @return [m2] NaN for a pipe no constructor made.
 * @since 0.1 */
VENT_API double vent_pipe_area(vent_pipe pipe);

/** @brief Hydraulic diameter of a pipe: four times its area over its perimeter.
 *
 * @param[in] pipe from one of the constructors.
 * @return [m] the bore of a round pipe; NaN for a pipe no constructor made.
 * @since 0.1 */
VENT_API double vent_pipe_hydraulic_diameter(vent_pipe pipe);

/** @brief Bore of the round pipe that has the same laminar friction factor at the same velocity.
 *
 * 64 / (f Re) times the hydraulic diameter, with the laminar f Re of the rectangle. Reynolds number
 * and relative roughness of turbulent flow are taken on it too.
 *
 * @param[in] pipe from one of the constructors.
 * @return [m] the bore of a round pipe; NaN for a pipe no constructor made.
 * @par Source White, Fluid Mechanics, 4th edition (1999), section 6.8, noncircular ducts; reprint.
 *   The laminar f Re is vent_friction_laminar_rectangle()'s.
 * @par Accuracy exact in laminar flow; turbulent friction of rectangles within 5 % (Jones, 1976, ASME
 *   Journal of Fluids Engineering 98; memory).
 * @since 0.1 */
VENT_API double vent_pipe_effective_diameter(vent_pipe pipe);

/** @brief Loss of total pressure along a straight pipe.
 *
 * Darcy-Weisbach, f L / Dh times the velocity pressure, in every regime: f is
 * vent_friction_factor()'s on the effective diameter. Fully developed flow of constant density; the
 * longer way until the flow is developed behind an entry is left out. At rest the loss is exactly 0,
 * and near it the laminar law's straight line.
 *
 * @param[in] pipe from one of the constructors.
 * @param[in] length [m] along the axis; 0 <= length <= 1e6.
 * @param[in] mass_flow [kg/s] either way, with a Reynolds number of at most 1e9; any finite number.
 * @param[in] density [kg/m3] of the gas; 0 < density.
 * @param[in] viscosity [Pa s] of the gas, dynamic; 0 < viscosity.
 * @return [Pa] signed as the flow; NaN outside.
 * @par Source Darcy and Weisbach; the friction factor's and the effective diameter's sources.
 * @par Accuracy that of the friction factor: 1e-9 of an independent computation in 50 digits.
 * @since 0.1 */
VENT_API double vent_pipe_loss(vent_pipe pipe, double length, double mass_flow, double density,
                               double viscosity);

/** @brief Counts the pipes of the catalogue.
 *
 * @return how many.
 * @since 0.1 */
VENT_API int vent_pipe_count(void);

/** @brief One pipe of the catalogue, for listing it.
 *
 * @param[in] entry [-] 0 <= entry < vent_pipe_count().
 * @param[out] name of the series, a constant string of the library; NULL allowed.
 * @param[out] nominal_size [m] its nominal size; NULL allowed.
 * @return the pipe; NaN (and name NULL, nominal_size NaN) where there is no such entry.
 * @par Source as vent_pipe_find().
 * @par Accuracy as vent_pipe_find().
 * @since 0.1 */
VENT_API vent_pipe vent_pipe_entry(int entry, const char **name, double *nominal_size);

/** @brief Equivalent sand-grain roughness of a material, with its published span.
 *
 * "PVC", "drawn tubing", "commercial steel", "aluminium" (duct with joints), "galvanized steel"
 * (duct with joints), "flexible duct" (fully extended; compressed it loses several times as much,
 * see vent_flexible_duct()) and "corrugated drain tubing" (inside corrugations, 3 to 4 in; from
 * Manning's coefficients 0.015 to 0.018 for water). Low and high are the least and the greatest value published for it.
 *
 * PVC is published at 1.5 to 7 um in general tables and at 9.1 to 46 um by Swim, who measured air in
 * it with its joints. Here it is 5 um. Pressure drops measured in vent systems lie 9 to 23 % below
 * handbook figures for 0.09 mm (Brodhead and Saum, 1996), and at their flows in 3 and 4 in pipe even
 * a hydraulically smooth wall would lie 10 to 15 % below: so the low end it must be, where it hardly
 * matters which value (5 um costs 1 % over smooth). The uncertainty of a pipe's roughness covers
 * the whole span.
 *
 * @param[in] material by name, exactly as above; not NULL.
 * @param[out] low [m] least published value; NULL allowed.
 * @param[out] high [m] greatest published value; NULL allowed.
 * @param[out] source citation number; NULL allowed.
 * @param[in,out] err failure record or NULL.
 * @return [m] roughness; NaN (and low, high NaN, source 0) on failure.
 * @par Errors VENT_E_ARGUMENT if material is NULL; VENT_E_NOT_FOUND, with the nearest name.
 * @par Source the citation of each; reprint, that of corrugated tubing memory.
 * @par Accuracy standard uncertainty half the span over sqrt 3.
 * @since 0.1 */
VENT_API double vent_roughness_find(const char *material, double *low, double *high,
                                    int32_t *source, vent_error *err);

/** @brief Counts the materials.
 *
 * @return how many.
 * @since 0.1 */
VENT_API int vent_roughness_count(void);

/** @brief One material, for listing them.
 *
 * @param[in] entry [-] 0 <= entry < vent_roughness_count().
 * @param[out] material its name, a constant string of the library; NULL allowed.
 * @param[out] low [m] least published value; NULL allowed.
 * @param[out] high [m] greatest published value; NULL allowed.
 * @param[out] source citation number; NULL allowed.
 * @return [m] roughness; NaN (and material NULL, low, high NaN, source 0) where there is no such entry.
 * @par Source as vent_roughness_find().
 * @par Accuracy as vent_roughness_find().
 * @since 0.1 */
VENT_API double vent_roughness_entry(int entry, const char **material, double *low, double *high,
                                     int32_t *source);

VENT_END_DECLS

#endif
