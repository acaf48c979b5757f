/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file friction.h
 *  @brief The Darcy friction factor of a straight pipe in every regime.
 *
 * Darcy's factor throughout, four times Fanning's: dp = f (L/D) rho V^2/2. Friction is that of
 * fully developed flow in a straight pipe; what the entry and the bends add is not in it.
 *
 * Pipes that are not round: in laminar flow divide vent_friction_laminar_rectangle() by the
 * Reynolds number on the hydraulic diameter; in turbulent flow use the hydraulic diameter in the
 * round pipe's law, or better the effective diameter 64/(f Re) times the hydraulic one. */
#ifndef VENTSTACK_FRICTION_H
#define VENTSTACK_FRICTION_H

#include <stddef.h>
#include <ventstack/error.h>

VENT_BEGIN_DECLS

/** @brief Friction factor in every regime: laminar, transitional, turbulent.
 *
 * 64/Re up to Re 2000, Colebrook-White from Re 4000, and in between a blend of the two by a
 * smoothstep of Re: continuous with its slope, and the loss f Re^2 rises with the flow throughout.
 * Real flow between 2000 and 4000 may be in either state and switches; the blend is a choice that
 * a solver can live with, not a law of nature.
 *
 * @param[in]  reynolds  [-] Reynolds number on the bore; 1e-300 <= reynolds <= 1e9.
 * @param[in]  relative_roughness  [-] roughness height over bore; 0 <= relative_roughness <= 0.1.
 * @return Darcy's friction factor, [-]; NaN outside the ranges.
 * @par Source Hagen-Poiseuille's law (exact); C. F. Colebrook (1939), J. Inst. Civ. Eng. 11, 133,
 *   doi 10.1680/ijoti.1939.13150 (memory), with the constants exactly 3.7 and 2.51; the blend is
 *   this library's own.
 * @par Accuracy of the formulas: 1e-15 relative. Of the law against nature: some 10 % for commercial
 *   pipe, most of it from the roughness (common practice, no source).
 * @since 0.1 */
VENT_API double vent_friction_factor(double reynolds, double relative_roughness);

/** @brief Turbulent friction factor of Colebrook and White.
 *
 * 1/sqrt f = -2 log10(k/3.7 + 2.51/(Re sqrt f)). Below Re 4000 it is the formula's value only:
 * flow is seldom turbulent there.
 *
 * @param[in]  reynolds  [-] Reynolds number on the bore; 2000 <= reynolds <= 1e9.
 * @param[in]  relative_roughness  [-] roughness height over bore; 0 <= relative_roughness <= 0.1.
 * @return Darcy's friction factor, [-]; NaN outside the ranges.
 * @par Source C. F. Colebrook (1939), see vent_friction_factor() (memory). Solved by one logarithm
 *   and a series; the change of variable is that of D. Clamond (2009), Ind. Eng. Chem. Res. 48,
 *   3665, doi 10.1021/ie801626g (reprint).
 * @par Accuracy of the solution: 1e-15 relative, against 50-digit values 1e-14 is held by test.
 * @since 0.1 */
VENT_API double vent_friction_colebrook(double reynolds, double relative_roughness);

/** @brief Friction factor of Churchill, one formula for every regime.
 *
 * f = 8 ((8/Re)^12 + (A + B)^-1.5)^(1/12) with A = (2.457 ln(1/((7/Re)^0.9 + 0.27 k)))^16 and
 * B = (37530/Re)^16. An alternative to vent_friction_factor() for comparisons: within 3.1 % of
 * Colebrook-White from Re 4e3 to 1e8 and relative roughness 1e-6 to 0.05.
 *
 * @param[in]  reynolds  [-] Reynolds number on the bore; 1e-300 <= reynolds <= 1e9.
 * @param[in]  relative_roughness  [-] roughness height over bore; 0 <= relative_roughness <= 0.1.
 * @return Darcy's friction factor, [-]; NaN outside the ranges.
 * @par Source S. W. Churchill (1977), Chemical Engineering 84(24), 91 (reprint).
 * @par Accuracy of the formula: 1e-14 relative.
 * @since 0.1 */
VENT_API double vent_friction_churchill(double reynolds, double relative_roughness);

/** @brief Laminar friction of a rectangular pipe: Darcy's factor times the Reynolds number, both on
 *  the hydraulic diameter.
 *
 * The exact series of fully developed flow. 64 times its inverse is the ratio of the effective to
 * the hydraulic diameter.
 *
 * @param[in]  aspect  [-] short side over long side; 0 <= aspect <= 1 (0: parallel plates).
 * @return f Re, [-], 56.908 (square) to 96 (plates); NaN outside the range.
 * @par Source the series of R. J. Cornish (1928), Proc. R. Soc. A 120, 691; as in F. M. White,
 *   Viscous Fluid Flow, eq. 3-48 (memory; values checked by independent computation and print).
 * @par Accuracy 1e-15 relative.
 * @since 0.1 */
VENT_API double vent_friction_laminar_rectangle(double aspect);

/** @brief Friction factor in every regime over arrays.
 *
 * Element i of each array is i strides from its first, counted in elements: 1 is contiguous, 0 the
 * same number for all, a negative stride runs backwards from the given element. Every element is
 * computed; one outside the domain gives NaN and stops nothing.
 *
 * @param[in]  n  how many elements.
 * @param[in]  reynolds  [-] not NULL (NULL allowed where n is 0); 1e-300 <= Re <= 1e9.
 * @param[in]  reynolds_stride  elements from one to the next.
 * @param[in]  relative_roughness  [-] not NULL (NULL allowed where n is 0); 0 <= eps/D <= 0.1.
 * @param[in]  roughness_stride  elements from one to the next.
 * @param[out] factor  [-] Darcy factors; not NULL (NULL allowed where n is 0). May be one of the
 *             inputs with its stride; must not overlap them otherwise.
 * @param[in]  factor_stride  elements from one to the next; not 0 where n exceeds 1.
 * @return how many elements are NaN.
 * @par Source as vent_friction_factor().
 * @par Accuracy the same bits as vent_friction_factor(), on every processor.
 * @since 0.1 */
VENT_API size_t vent_friction_factor_array(size_t n, const double *reynolds,
                                           ptrdiff_t reynolds_stride,
                                           const double *relative_roughness,
                                           ptrdiff_t roughness_stride, double *factor,
                                           ptrdiff_t factor_stride);

/** @brief Colebrook and White's friction factor over arrays.
 *
 * Element i of each array is i strides from its first, counted in elements: 1 is contiguous, 0 the
 * same number for all, a negative stride runs backwards from the given element. Every element is
 * computed; one outside the domain gives NaN and stops nothing.
 *
 * @param[in]  n  how many elements.
 * @param[in]  reynolds  [-] not NULL (NULL allowed where n is 0); 2000 <= Re <= 1e9.
 * @param[in]  reynolds_stride  elements from one to the next.
 * @param[in]  relative_roughness  [-] not NULL (NULL allowed where n is 0); 0 <= eps/D <= 0.1.
 * @param[in]  roughness_stride  elements from one to the next.
 * @param[out] factor  [-] Darcy factors; not NULL (NULL allowed where n is 0). May be one of the
 *             inputs with its stride; must not overlap them otherwise.
 * @param[in]  factor_stride  elements from one to the next; not 0 where n exceeds 1.
 * @return how many elements are NaN.
 * @par Source as vent_friction_colebrook().
 * @par Accuracy the same bits as vent_friction_colebrook(), on every processor.
 * @since 0.1 */
VENT_API size_t vent_friction_colebrook_array(size_t n, const double *reynolds,
                                              ptrdiff_t reynolds_stride,
                                              const double *relative_roughness,
                                              ptrdiff_t roughness_stride, double *factor,
                                              ptrdiff_t factor_stride);

/** @brief Churchill's friction factor over arrays.
 *
 * Element i of each array is i strides from its first, counted in elements: 1 is contiguous, 0 the
 * same number for all, a negative stride runs backwards from the given element. Every element is
 * computed; one outside the domain gives NaN and stops nothing.
 *
 * @param[in]  n  how many elements.
 * @param[in]  reynolds  [-] not NULL (NULL allowed where n is 0); 1e-300 <= Re <= 1e9.
 * @param[in]  reynolds_stride  elements from one to the next.
 * @param[in]  relative_roughness  [-] not NULL (NULL allowed where n is 0); 0 <= eps/D <= 0.1.
 * @param[in]  roughness_stride  elements from one to the next.
 * @param[out] factor  [-] Darcy factors; not NULL (NULL allowed where n is 0). May be one of the
 *             inputs with its stride; must not overlap them otherwise.
 * @param[in]  factor_stride  elements from one to the next; not 0 where n exceeds 1.
 * @return how many elements are NaN.
 * @par Source as vent_friction_churchill().
 * @par Accuracy the same bits as vent_friction_churchill(), on every processor.
 * @since 0.1 */
VENT_API size_t vent_friction_churchill_array(size_t n, const double *reynolds,
                                              ptrdiff_t reynolds_stride,
                                              const double *relative_roughness,
                                              ptrdiff_t roughness_stride, double *factor,
                                              ptrdiff_t factor_stride);

VENT_END_DECLS

#endif
