/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file air.h
 *  @brief Moist air: density, viscosity, saturation, dew point, and the standard atmosphere.
 *
 * One pair of saturation curves serves everything here: over water at and above the triple point
 * of water (273.16 K, 0.01 C), over ice below it. Air that is cooled below its dew point condenses
 * what it cannot hold (vent_air_at_temperature()); fog is not carried along. */
#ifndef VENTSTACK_AIR_H
#define VENTSTACK_AIR_H

#include <ventstack/error.h>

VENT_BEGIN_DECLS

/** @brief A state of moist air; frozen layout. Make it with vent_air_moist(). */
typedef struct vent_air {
    double temperature;       /**< [K] */
    double pressure;          /**< [Pa] absolute */
    double relative_humidity; /**< [-] 0..1, over water from 273.16 K upward, over ice below */
    double vapour_fraction;   /**< [mol/mol] of water vapour */
    double density;           /**< [kg/m3] */
    double viscosity;         /**< [Pa s] dynamic */
} vent_air;

/** @brief Moist air of given temperature, absolute pressure and relative humidity.
 *
 * Density is that of the CIPM-2007 equation with 400 ppm of carbon dioxide, exactly so in its own
 * range of 15 to 27 C and 600 to 1100 hPa. Outside that range the same equation of state is used,
 * with the saturation pressure over ice below 273.16 K. Viscosity is that of the two gases at low
 * pressure, mixed by kinetic theory. Left out: the rise of viscosity with pressure (0.08 % at 1
 * atm), fog, and any gas other than air and water vapour.
 *
 * @param[in]  temperature  [K] 233.15 <= temperature <= 333.15.
 * @param[in]  pressure  [Pa] absolute; 3e4 <= pressure <= 1.2e5.
 * @param[in]  relative_humidity  [-] 0 <= relative_humidity <= 1; over water from 273.16 K upward,
 *             over ice below.
 * @param[in,out] err  failure record or NULL.
 * @return the state of the air; every member NaN on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its range; the message asks back where a
 *   number looks like degrees Celsius, hectopascal, kilopascal or per cent.
 * @par Source Density: A. Picard, R. S. Davis, M. Glaeser, K. Fujii (2008), Metrologia 45, 149,
 *   eq. 1 and appendix A, doi 10.1088/0026-1394/45/2/004 (reprint). Dry air: E. W. Lemmon, R. T.
 *   Jacobsen (2004), Int. J. Thermophys. 25, 21, eq. 2, doi 10.1023/B:IJOT.0000022327.04529.f3
 *   (constants from memory, held to the printed check values). Water vapour: IAPWS R12-08 (2008),
 *   eq. 11 (constants from memory, held to an independent program). Mixture: J. O. Hirschfelder,
 *   C. F. Curtiss, R. B. Bird (1954), Molecular Theory of Gases and Liquids, eqs 8.2-22 and 8.2-44
 *   (memory). Diffusion of vapour in air: T. R. Marrero, E. A. Mason (1972), J. Phys. Chem. Ref.
 *   Data 1, 3 (constants from memory, held to values reprinted in the CRC Handbook).
 * @par Accuracy Density: relative standard uncertainty 2.2e-5 in the equation's own range.
 *   Against the IAPWS formulation of humid air (G8-10): within 6e-5 from -40 to 40 C where the
 *   vapour fraction is below 0.05, within 2e-3 everywhere. Viscosity: 1 % for dry air; the
 *   effect of humidity is within 0.6 % of measurements up to 50 C and saturation.
 * @since 0.1 */
VENT_API vent_air vent_air_moist(double temperature, double pressure, double relative_humidity,
                                 vent_error *err);

/** @brief The same air at another temperature, pressure unchanged.
 *
 * The vapour fraction is kept as long as the air can hold it. Below the dew point it becomes
 * saturated (relative humidity 1) and the rest is taken as condensed and drained.
 *
 * @param[in]  air  a state made by vent_air_moist() or this function.
 * @param[in]  temperature  [K] 233.15 <= temperature <= 333.15.
 * @param[in,out] err  failure record or NULL.
 * @return the state of the air; every member NaN on failure.
 * @par Errors VENT_E_ARGUMENT if temperature, or the pressure or vapour fraction of air, is outside
 *   its range.
 * @par Source as vent_air_moist().
 * @par Accuracy as vent_air_moist().
 * @since 0.1 */
VENT_API vent_air vent_air_at_temperature(vent_air air, double temperature, vent_error *err);

/** @brief Dew point of moist air; the frost point where it lies below 273.16 K.
 *
 * The temperature at which air of this pressure and vapour fraction is just saturated over a flat
 * surface of pure water or ice. Dew on a surface below 273.16 K that has not frozen is left out.
 *
 * @param[in]  air  a state made by vent_air_moist() or vent_air_at_temperature().
 * @return the dew or frost point, [K]; NaN for air without vapour (or next to none: a frost point
 *   below 100 K) or a state that is none.
 * @par Source the saturation curves and the enhancement factor of vent_air_moist(), inverted.
 * @par Accuracy of the inversion: 1e-9 K (3e-6 K at the step between the curves, 273.16 K). Of the
 *   curves: 0.02 K from -40 to 60 C.
 * @since 0.1 */
VENT_API double vent_dew_point(vent_air air);

/** @brief Humidity ratio of moist air: mass of vapour for each mass of dry air.
 *
 * @param[in]  air  a state made by vent_air_moist() or vent_air_at_temperature().
 * @return the humidity ratio, [kg/kg]; NaN where the vapour fraction is not in 0 <= x < 1.
 * @par Source ratio of molar masses 18.01528 / 28.96546 as in Picard et al. (2008), see
 *   vent_air_moist() (reprint).
 * @par Accuracy exact for that ratio.
 * @since 0.1 */
VENT_API double vent_humidity_ratio(vent_air air);

/** @brief Saturation pressure of pure water vapour over the phase that is stable: ice below 273.16
 *  K, water at and above it.
 *
 * @param[in]  temperature  [K] 50 <= temperature <= 373.15.
 * @return the saturation pressure, [Pa]; NaN outside that range.
 * @par Source as vent_saturation_pressure_ice() and vent_saturation_pressure_water().
 * @par Accuracy as these; the step at 273.16 K is 3e-7 of the value.
 * @since 0.1 */
VENT_API double vent_saturation_pressure(double temperature);

/** @brief Saturation pressure of pure water vapour over water, supercooled below 273.16 K.
 *
 * @param[in]  temperature  [K] 233.15 <= temperature <= 373.15.
 * @return the saturation pressure, [Pa]; NaN outside that range.
 * @par Source Picard et al. (2008), see vent_air_moist(), appendix A.1.1 (reprint). One curve
 *   serves humidity, dew point and density, and density is to be CIPM-2007's.
 * @par Accuracy against IAPWS-IF97: within 6e-5 from 0 to 60 C (IF97 itself: 2.5e-4), 4e-4 at 100
 *   C. Over supercooled water against D. M. Murphy and T. Koop (2005): 6e-4 high at -20 C, 6e-3
 *   high at -40 C.
 * @since 0.1 */
VENT_API double vent_saturation_pressure_water(double temperature);

/** @brief Saturation pressure of pure water vapour over ice.
 *
 * @param[in]  temperature  [K] 50 <= temperature <= 273.16.
 * @return the saturation pressure, [Pa]; NaN outside that range.
 * @par Source IAPWS R14-08 (2011), eq. 6; W. Wagner, T. Riethmann, R. Feistel, A. H. Harvey (2011),
 *   J. Phys. Chem. Ref. Data 40, 043103, doi 10.1063/1.3657937 (constants from memory, held to the
 *   release's check value).
 * @par Accuracy 1e-3 (the release's estimate for the range of interest).
 * @since 0.1 */
VENT_API double vent_saturation_pressure_ice(double temperature);

/** @brief Pressure of the standard atmosphere at an altitude.
 *
 * Geopotential altitude, which is what the standard is written in. A geometric altitude z is a
 * geopotential altitude of z / (1 + z/6356766 m): 2000 m geometric are 1999.37 m geopotential and
 * 6 Pa. The weather moves the pressure at a place by some 3 % either way; measure where it matters.
 *
 * @param[in]  altitude  [m] geopotential, above sea level; -5000 <= altitude <= 11000.
 * @return the pressure, [Pa]; NaN outside that range.
 * @par Source ISO 2533:1975, section 2, and U.S. Standard Atmosphere (1976), eq. 33a, whose lowest
 *   layer is the same: 288.15 K, 101325 Pa, -6.5 K/km, 9.80665 m/s2 (values from a reprint).
 * @par Accuracy exact for ISO 2533; the U.S. standard's gas constant makes 1e-6 more at 10 km.
 * @since 0.1 */
VENT_API double vent_pressure_at_altitude(double altitude);

VENT_END_DECLS

#endif
