/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file units.h
 *  @brief A unit is a number: multiply to come in, divide to go out. Everything else is SI.
 *
 * `3 * VENT_INCH` is a length in metres; `flow / VENT_CFM` is a flow in cubic feet a minute.
 * Sources: the inch, pound and their derivatives are exact by definition (NIST SP 811, 2008,
 * appendix B.8). The inch of water is the conventional one, water of 1000 kg/m3 and standard
 * gravity: 249.08891 Pa (NIST SP 811 gives 249.0889). */
#ifndef VENTSTACK_UNITS_H
#define VENTSTACK_UNITS_H

#define VENT_INCH             0.0254                /**< m */
#define VENT_FOOT             0.3048                /**< m */
#define VENT_MM               1e-3                  /**< m */
#define VENT_CFM              (0.028316846592 / 60) /**< m3/s, cubic foot a minute */
#define VENT_LITRE_S          1e-3                  /**< m3/s */
#define VENT_M3_H             (1.0 / 3600)          /**< m3/s */
#define VENT_FPM              (0.3048 / 60)         /**< m/s, foot a minute */
#define VENT_INWC             249.08891             /**< Pa, inch of water column */
#define VENT_LB_FT3           16.018463373960142    /**< kg/m3 */
#define VENT_PI               3.14159265358979323846
#define VENT_RADIANS(degrees) ((degrees) * (VENT_PI / 180))
#define VENT_CELSIUS(t)       ((t) + 273.15)                 /**< K from degrees Celsius */
#define VENT_FAHRENHEIT(t)    (((t) + 459.67) * (5.0 / 9.0)) /**< K from degrees Fahrenheit */
#define VENT_GRAVITY          9.80665                        /**< m/s2, standard */
#define VENT_STANDARD_DENSITY 1.2013847530470107 /**< kg/m3, "standard air" 0.075 lb/ft3 */

#endif
