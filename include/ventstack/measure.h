/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file measure.h
 *  @brief From a reading to a flow, and how far to trust it.
 *
 * "A pitot tube at the centre of a 3 in pipe reads 0.055 in. w.c.; static pressure there is 1.1 in.
 * w.c. below the room, the gas is at 12 C. How many cfm, plus or minus what?"
 *
 *     vent_instrument gauge = vent_instrument_pressure(500, 0.01, 0.25, 0.1, &err);
 *     vent_station here = vent_station_at(vent_pipe_find("PVC 40", 3 * VENT_INCH, &err),
 *         vent_reading_stated(98300, 100), vent_reading_stated(-1.1 * VENT_INWC, 3),
 *         vent_reading_stated(VENT_CELSIUS(12), 1), vent_reading_stated(1, 0.05), 0.8, &err);
 *     vent_reading flow = vent_centre_flow(here, vent_pitot(0.125 * VENT_INCH, &err), gauge,
 *                                          0.055 * VENT_INWC, NULL, &err);
 *     printf("%.1f cfm, give or take %.1f\n", flow.value / VENT_CFM,
 *            2 * flow.uncertainty / VENT_CFM);
 *
 * An **instrument** turns what its scale shows into a pressure or a velocity. A **station** is
 * where one measures: the pipe, the gas in it as it is there, the straight pipe before it. A
 * **probe** is what is held into the pipe. Every answer is a **reading**: a value and its standard
 * uncertainty (one standard deviation; twice as much covers about 95 %), combined as the GUM has
 * it: limits of error taken as rectangular (over root 3), a step of the scale over root 12,
 * independent parts added in squares, what all points of a traverse share added straight.
 *
 * Pressures are of the actual gas at its actual pressure; nothing here assumes standard air except
 * vent_velocity_4005(), which is that assumption. Steady flow of a gas well below a third of the
 * speed of sound. Left out: pulsation, swirl, water in the hoses, and what turbulence adds to a
 * pitot tube's reading (its intensity squared: 0.3 % of the velocity pressure at 5 %). */
#ifndef VENTSTACK_MEASURE_H
#define VENTSTACK_MEASURE_H

#include <stddef.h>
#include <ventstack/air.h>
#include <ventstack/device.h>
#include <ventstack/error.h>
#include <ventstack/pipe.h>

VENT_BEGIN_DECLS

/** @brief A measured value with its honesty; frozen layout. */
typedef struct vent_reading {
    double value;       /**< in the unit its function names */
    double uncertainty; /**< standard uncertainty, same unit */
    int32_t source;     /**< citation of the rule used, for vent_source_find(); 0 for none */
    uint32_t flags;     /**< VENT_READING_... bits, 0 where nothing is to be said */
} vent_reading;

/** @brief Bits of vent_reading.flags and vent_advice.flags. */
enum {
    VENT_READING_NOT_MEASURABLE = 1, /**< twice the instrument's uncertainty reaches zero: not
                                          measurable with this instrument */
    VENT_READING_COARSE = 2,         /**< the instrument leaves more of the flow open than wanted */
    VENT_READING_OFF_SCALE = 4,      /**< beyond the instrument's scale */
    VENT_READING_TRANSITIONAL = 8,   /**< Reynolds number 2000 to 4000: the profile may be either */
    VENT_READING_BLOCKED = 16,       /**< the probe takes more than 3 % of the pipe's section */
    VENT_READING_UNEVEN = 32,        /**< over a quarter of a traverse reads below a tenth of its
                                          greatest velocity pressure: choose another place */
    VENT_READING_RANGE = 64,         /**< outside the range of the rule's source */
    VENT_READING_STRAIGHT = 128      /**< too little straight pipe before the station */
};

/** @brief A value the user states, with the standard uncertainty the user gives it.
 *
 * @param[in] value [-] any finite number, in the unit of what it is.
 * @param[in] uncertainty [-] standard uncertainty in the same unit; 0 <= uncertainty.
 * @return the reading; NaN where an argument is outside.
 * @since 0.1 */
VENT_API vent_reading vent_reading_stated(double value, double uncertainty);

/** @brief What an instrument shows. */
enum {
    VENT_INSTRUMENT_PRESSURE = 1, /**< pressure difference: gauge, dial, digital manometer [Pa] */
    VENT_INSTRUMENT_COLUMN = 2,   /**< length of a column of liquid [m] */
    VENT_INSTRUMENT_VANE = 3,     /**< velocity, whatever the density [m/s] */
    VENT_INSTRUMENT_HOT_WIRE = 4  /**< velocity at standard density: what it feels is mass [m/s] */
};

/** @brief An instrument and its data sheet; frozen layout. Make it with a constructor below. */
typedef struct vent_instrument {
    int32_t kind;             /**< VENT_INSTRUMENT_... */
    int32_t reserved;         /**< 0 */
    double low;               /**< least indication, in the unit of the scale */
    double high;              /**< greatest indication */
    double share;             /**< [-] limit of error: share of the indication */
    double fixed;             /**< limit of error: fixed part, in the unit of the scale */
    double step;              /**< least difference that shows, in the unit of the scale */
    double scale;             /**< quantity for each unit of the scale: Pa/m for a column, else 1 */
    double scale_uncertainty; /**< [-] relative standard uncertainty of scale */
} vent_instrument;

/** @brief A pressure gauge: dial or digital manometer.
 *
 * Its limit of error is share times the indication plus a fixed part, as data sheets give it. Where
 * a sheet says per cent of full scale, the fixed part is that of greatest. Zero drift belongs in
 * it.
 *
 * @param[in] greatest [Pa] end of the scale; it reads either way; 1e-3 <= greatest <= 1e6.
 * @param[in] share [-] limit of error, share of the indication; 0 <= share <= 0.5.
 * @param[in] fixed [Pa] limit of error, fixed part; 0 <= fixed <= greatest.
 * @param[in] step [Pa] least difference that shows; 0 <= step <= greatest.
 * @param[in,out] err failure record or NULL.
 * @return the instrument; kind 0 and NaN on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @since 0.1 */
VENT_API vent_instrument vent_instrument_pressure(double greatest, double share, double fixed,
                                                  double step, vent_error *err);

/** @brief A vane anemometer: it turns with the velocity, whatever the density.
 *
 * Its drag at the start is in least. It needs a pipe much wider than its vane, or a calibration in
 * that pipe.
 *
 * @param[in] least [m/s] where it begins to turn; 0 <= least < greatest.
 * @param[in] greatest [m/s] end of the scale; 1e-3 <= greatest <= 200.
 * @param[in] share [-] limit of error, share of the indication; 0 <= share <= 0.5.
 * @param[in] fixed [m/s] limit of error, fixed part; 0 <= fixed <= greatest.
 * @param[in] step [m/s] least difference that shows; 0 <= step <= greatest.
 * @param[in,out] err failure record or NULL.
 * @return the instrument; kind 0 and NaN on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @since 0.1 */
VENT_API vent_instrument vent_instrument_vane(double least, double greatest, double share,
                                              double fixed, double step, vent_error *err);

/** @brief A hot-wire (thermal) anemometer: it feels mass, and shows the velocity that air of 0.075
 *  lb/ft3 would have.
 *
 * The actual velocity is the indication times standard density over the actual one. An instrument
 * that corrects for that by itself is a vane anemometer to this library.
 *
 * @param[in] least [m/s] least velocity it is good for; 0 <= least < greatest.
 * @param[in] greatest [m/s] end of the scale; 1e-3 <= greatest <= 200.
 * @param[in] share [-] limit of error, share of the indication; 0 <= share <= 0.5.
 * @param[in] fixed [m/s] limit of error, fixed part; 0 <= fixed <= greatest.
 * @param[in] step [m/s] least difference that shows; 0 <= step <= greatest.
 * @param[in,out] err failure record or NULL.
 * @return the instrument; kind 0 and NaN on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @since 0.1 */
VENT_API vent_instrument vent_instrument_hot_wire(double least, double greatest, double share,
                                                  double fixed, double step, vent_error *err);

/** @brief A vertical U-tube manometer; its indication is the difference of the two levels.
 *
 * Both levels are read, so the step counts root two times. Pressure is density times standard
 * gravity times the difference; gravity elsewhere differs by up to 0.3 %, which is left out.
 * Capillarity drops out where both legs are alike.
 *
 * @param[in] length [m] greatest difference of the levels; 1e-3 <= length <= 10.
 * @param[in] step [m] to which one level can be read; 0 <= step <= length.
 * @param[in] density [kg/m3] of the liquid less that of the gas above it, with its uncertainty; 100
 *            <= density.value <= 2e4; vent_water_density() for water.
 * @param[in,out] err failure record or NULL.
 * @return the instrument; kind 0 and NaN on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source hydrostatics.
 * @par Accuracy exact for the density given.
 * @since 0.1 */
VENT_API vent_instrument vent_instrument_u_tube(double length, double step, vent_reading density,
                                                vent_error *err);

/** @brief An inclined manometer with a well; its indication is the length along the tube.
 *
 * The column stands sin tilt high for each metre of tube, and the well sinks by the ratio of the
 * areas. An uncertain tilt costs cot tilt times its uncertainty: level the instrument. Where the
 * printed scale already holds all this, it is a pressure gauge to this library.
 *
 * @param[in] length [m] of the tube; 1e-3 <= length <= 10.
 * @param[in] step [m] to which the meniscus can be read; 0 <= step <= length.
 * @param[in] density [kg/m3] as in vent_instrument_u_tube(); 100 <= density.value <= 2e4.
 * @param[in] tilt [rad] of the tube above level, with its uncertainty; 0.01 <= tilt.value <= pi/2.
 * @param[in] area_ratio [-] area of the tube over that of the well, 0 for a large well;
 *            0 <= area_ratio <= 1.
 * @param[in,out] err failure record or NULL.
 * @return the instrument; kind 0 and NaN on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source hydrostatics.
 * @par Accuracy exact for density and tilt given.
 * @since 0.1 */
VENT_API vent_instrument vent_instrument_inclined(double length, double step, vent_reading density,
                                                  vent_reading tilt, double area_ratio,
                                                  vent_error *err);

/** @brief Density of water without air at 1 atm.
 *
 * @param[in] temperature [K] 273.15 <= temperature <= 313.15.
 * @return [kg/m3] NaN outside the range.
 * @par Source M. Tanaka, G. Girard, R. Davis, A. Peuto, N. Bignell (2001), Metrologia 38, 301, eq.
 *   1, doi 10.1088/0026-1394/38/4/3 (reprint).
 * @par Accuracy 1e-6 for pure water; tap water is up to 1e-3 denser (common practice, no source).
 * @since 0.1 */
VENT_API double vent_water_density(double temperature);

/** @brief What an instrument's indication means: pressure or velocity, and how sure it is.
 *
 * A negative pressure is no error here: a static pressure may well be. Flagged
 * VENT_READING_NOT_MEASURABLE where twice the uncertainty reaches zero, and below what an
 * anemometer is good for.
 *
 * @param[in] instrument from a constructor.
 * @param[in] indication [unit of the scale] Pa, m or m/s; instrument.low (of an anemometer 0) <=
 *            indication <= instrument.high.
 * @param[in,out] err failure record or NULL.
 * @return the reading, Pa or m/s (of a hot wire: at standard density); NaN on failure.
 * @par Errors VENT_E_ARGUMENT if the instrument is none or the indication beyond its scale.
 * @par Source JCGM 100 (2008), the GUM, 4.3.7 and F.2.2.1; memory.
 * @par Accuracy that of the data sheet.
 * @since 0.1 */
VENT_API vent_reading vent_instrument_read(vent_instrument instrument, double indication,
                                           vent_error *err);

/** @brief Where one measures; frozen layout. Make it with vent_station_at(). */
typedef struct vent_station {
    vent_pipe pipe;             /**< the pipe there */
    vent_air gas;               /**< the gas as it is there */
    double density_uncertainty; /**< kg/m3, standard uncertainty of the gas's density */
    double straight;            /**< m of straight pipe before it */
} vent_station;

/** @brief A measuring station: pipe, gas at the pressure and temperature it has there, straight
 * length.
 *
 * The absolute pressure is the barometer's (at the place, not reduced to the sea) and the static
 * pressure's sum. Soil gas keeps its temperature at altitude, so its density falls with the
 * pressure; the standard atmosphere's density ratio assumes colder air and is wrong here.
 *
 * @param[in] pipe from one of the constructors; its bore_uncertainty counts.
 * @param[in] barometer [Pa] absolute, with its uncertainty; 3e4 <= barometer.value <= 1.2e5.
 * @param[in] static_pressure [Pa] in the pipe against the air around, with its uncertainty;
 *            -2e4 <= static_pressure.value <= 2e4.
 * @param[in] temperature [K] of the gas, with its uncertainty; 233.15 <= temperature.value <=
 *            333.15.
 * @param[in] relative_humidity [-] of the gas, with its uncertainty; 0 <= value <= 1.
 * @param[in] straight [m] of straight pipe before the station; 0 <= straight <= 1e4.
 * @param[in,out] err failure record or NULL.
 * @return the station; NaN on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source vent_air_moist()'s.
 * @par Accuracy vent_air_moist()'s, and what the arguments leave open.
 * @since 0.1 */
VENT_API vent_station vent_station_at(vent_pipe pipe, vent_reading barometer,
                                      vent_reading static_pressure, vent_reading temperature,
                                      vent_reading relative_humidity, double straight,
                                      vent_error *err);

/** @brief What is held into the pipe; frozen layout. Make it with vent_pitot() or vent_probe_new().
 * */
typedef struct vent_probe {
    double head;                 /**< m, diameter of what faces the flow */
    double stem;                 /**< m, diameter of what reaches it in from the wall */
    double offset;               /**< m from the head's axis to the mark one reads at the wall; 0 */
    double factor;               /**< [-] actual velocity over the one its reading means */
    double factor_uncertainty;   /**< [-] standard uncertainty of factor */
    double position_uncertainty; /**< m, standard uncertainty of where the head is */
} vent_probe;

/** @brief A standard pitot-static tube: factor 1 within 1 %, placed to 1 mm.
 *
 * The 1 % holds for a head within some 10 degrees of the flow; up to 30 degrees the velocity
 * pressure stays within 2 %, as the errors of its two pressures cancel.
 *
 * @param[in] diameter [m] of head and stem; 1e-4 <= diameter <= 0.05.
 * @param[in,out] err failure record or NULL.
 * @return the probe; NaN on failure.
 * @par Errors VENT_E_ARGUMENT if diameter is outside its bounds.
 * @par Source ISO 3966 (2008), factor of standard heads; memory. Yaw: a university's laboratory
 *   notes on air flow measurement; reprint.
 * @par Accuracy factor_uncertainty 0.01, position_uncertainty 1e-3 m; set them where you know
 *   better.
 * @since 0.1 */
VENT_API vent_probe vent_pitot(double diameter, vent_error *err);

/** @brief Any probe: a type S tube, a vane, a hot wire, a calibrated pitot tube.
 *
 * @param[in] head [m] diameter of what faces the flow; 0 <= head <= 0.5.
 * @param[in] stem [m] diameter of what reaches it in; 0 <= stem <= 0.5.
 * @param[in] factor [-] actual velocity over the one its reading means, such as 0.84 for a type S
 *            tube; 0.1 <= factor <= 10.
 * @param[in] factor_uncertainty [-] standard uncertainty of factor; 0 <= factor_uncertainty <= 1.
 * @param[in] position_uncertainty [m] of where the head is; 0 <= position_uncertainty <= 0.1.
 * @param[in,out] err failure record or NULL.
 * @return the probe; NaN on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @par Source type S: 40 CFR 60, appendix A, method 2; memory.
 * @par Accuracy as stated by the caller.
 * @since 0.1 */
VENT_API vent_probe vent_probe_new(double head, double stem, double factor,
                                   double factor_uncertainty, double position_uncertainty,
                                   vent_error *err);

/** @brief Share of a pipe's section that a probe takes.
 *
 * The stem's shadow from the wall to the head's axis; of a pipe of 78 mm an 8 mm stem to the centre
 * takes 6.5 %. The velocity beside the probe is higher than in the free pipe by that share, at
 * most.
 *
 * @param[in] pipe from one of the constructors.
 * @param[in] probe from a constructor.
 * @param[in] insertion [m] from the wall to the head's axis; 0 <= insertion <= width of the pipe.
 * @return [-] 0 to 1; NaN outside.
 * @par Source continuity.
 * @par Accuracy exact as geometry. As correction it may be too much where the head stands well
 *   before its stem: half of it counts as its standard uncertainty wherever it is used.
 * @since 0.1 */
VENT_API double vent_probe_blockage(vent_pipe pipe, vent_probe probe, double insertion);

/** @brief Velocity from velocity pressure: root of 2 p / rho.
 *
 * @param[in] velocity_pressure [Pa] 0 <= velocity_pressure <= 1e6.
 * @param[in] density [kg/m3] of the gas at the place; 0 < density <= 1e4.
 * @return [m/s] NaN outside.
 * @par Source Bernoulli's equation.
 * @par Accuracy exact for constant density; high by 0.1 % at 30 m/s.
 * @since 0.1 */
VENT_API double vent_velocity_of_pressure(double velocity_pressure, double density);

/** @brief The trade's rule: V[fpm] = 4005 root VP[in. w.c.], for standard air only.
 *
 * Here in SI. It differs from vent_velocity_of_pressure() at 0.075 lb/ft3 by 0.09 %, because its
 * inch of water is that of water at room temperature, 0.18 % less than the conventional inch.
 * Nothing else in the library uses it.
 *
 * @param[in] velocity_pressure [Pa] 0 <= velocity_pressure <= 1e6.
 * @return [m/s] NaN outside.
 * @par Source common practice, no source.
 * @par Accuracy as good as the gas is standard air: 10 % low at 5280 ft.
 * @since 0.1 */
VENT_API double vent_velocity_4005(double velocity_pressure);

/** @brief Mean velocity pressure of a traverse: the square of the mean of the square roots.
 *
 * The mean of the pressures themselves would give too much.
 *
 * @param[in] n how many; 1 <= n.
 * @param[in] velocity_pressure [Pa] not NULL; each 0 <= velocity_pressure <= 1e6.
 * @param[in,out] err failure record or NULL.
 * @return [Pa] NaN on failure.
 * @par Errors VENT_E_ARGUMENT if one is outside its bounds; a negative one is said to be what it
 *   is.
 * @par Source flow is the mean of velocities.
 * @par Accuracy exact.
 * @since 0.1 */
VENT_API double vent_mean_velocity_pressure(size_t n, const double *velocity_pressure,
                                            vent_error *err);

/** @brief Mean over centre velocity of developed flow in a round pipe, at any Reynolds number.
 *
 * 1/2 up to Re 2000. From Re 4000 the centre runs 4.28 friction velocities before the mean, so the
 * ratio is 1 / (1 + 4.28 root(f/8)). In between a smoothstep of Re joins them, though real flow may
 * be in either state. Profiles that bends, entries or fans leave behind are left out: they need
 * some 25 bores of straight pipe to settle.
 *
 * @param[in] reynolds [-] on bore and mean velocity; 1e-300 <= reynolds <= 1e9.
 * @param[in] relative_roughness [-] 0 <= relative_roughness <= 0.1.
 * @return [-] NaN outside.
 * @par Source M. V. Zagarola, A. J. Smits (1998), J. Fluid Mech. 373, 33, from Re 31e3 to 35e6 (the
 *   4.28 from memory); f from vent_friction_factor().
 * @par Accuracy 2 % of developed flow from Re 4000; the log law without a wake (White's 1 + 1.3
 *   root f) gives 1 to 2.5 % more, a power law with n = 7 at Re 1.1e5 1.9 % less.
 * @since 0.1 */
VENT_API double vent_mean_to_centre(double reynolds, double relative_roughness);

/** @brief Mean over centre velocity of a power-law profile (y/R)^(1/n) in a round pipe.
 *
 * 2 n^2 / ((n + 1)(2 n + 1)); an alternative to vent_mean_to_centre() for comparison.
 *
 * @param[in] n [-] exponent; 1 <= n <= 100.
 * @return [-] NaN outside.
 * @par Source R. B. Bird, W. E. Stewart, E. N. Lightfoot, Transport Phenomena, chapter 5: n = 6, 7,
 *   10 near Re 4e3, 1.1e5, 3.2e6; reprint.
 * @par Accuracy exact for the profile.
 * @since 0.1 */
VENT_API double vent_mean_to_centre_power(double n);

/** @brief Velocity at one point in the pipe.
 *
 * Corrected for the probe's factor, the gas's density and the probe's blockage.
 *
 * @param[in] station from vent_station_at().
 * @param[in] probe from a constructor.
 * @param[in] instrument from a constructor.
 * @param[in] indication [unit of the scale] 0 <= indication <= instrument.high.
 * @param[in] insertion [m] from the wall to the head's axis; 0 <= insertion <= width of the pipe.
 * @param[in,out] err failure record or NULL.
 * @return [m/s] the reading; NaN on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds; a negative velocity pressure is
 *   said to be what it is: hoses exchanged, head backwards, flow reversed, or noise.
 * @par Source Bernoulli's equation; continuity.
 * @par Accuracy the reading's uncertainty.
 * @since 0.1 */
VENT_API vent_reading vent_point_velocity(vent_station station, vent_probe probe,
                                          vent_instrument instrument, double indication,
                                          double insertion, vent_error *err);

/** @brief Flow from one reading at the centre of a round pipe.
 *
 * The velocity there times a ratio of mean to centre: vent_mean_to_centre() at the Reynolds number
 * that comes out, or the user's own. The ratio counts 2 % (laminar 1 %, between Re 2000 and 4000
 * the spread of both states). Where less than 4.4 Re^(1/6) bores of straight pipe lie before the
 * station, the profile may be anything between developed and flat, to the degree the length is
 * missing: right behind a bend that is some 13 %.
 *
 * @param[in] station from vent_station_at(), in a round pipe unless ratio is given.
 * @param[in] probe from a constructor.
 * @param[in] instrument from a constructor.
 * @param[in] indication [unit of the scale] 0 <= indication <= instrument.high.
 * @param[in] ratio [-] mean over centre velocity found by an own calibration, with its uncertainty;
 *            0.3 <= ratio->value <= 1.5; NULL allowed for vent_mean_to_centre().
 * @param[in,out] err failure record or NULL.
 * @return [m3/s] the flow at the station's density; NaN on failure.
 * @par Errors VENT_E_ARGUMENT as vent_point_velocity(), or if the pipe is not round and ratio is
 *   NULL.
 * @par Source vent_mean_to_centre()'s. Length: F. M. White, Fluid Mechanics, 4.4 Re^(1/6); memory.
 *   That a profile on its way lies between flat and developed is this library's estimate.
 * @par Accuracy the reading's uncertainty.
 * @since 0.1 */
VENT_API vent_reading vent_centre_flow(vent_station station, vent_probe probe,
                                       vent_instrument instrument, double indication,
                                       const vent_reading *ratio, vent_error *err);

/** @brief The rules of where to measure in a traverse. */
enum {
    VENT_TRAVERSE_LOG_LINEAR = 1, /**< round pipe; 4, 6, 8 or 10 points a diameter */
    VENT_TRAVERSE_LOG_TCHEBYCHEFF =
        2, /**< round: 6, 8 or 10 points a diameter; rectangular: 5, 6 or
                                            7 points a side */
    VENT_TRAVERSE_EQUAL_AREA =
        3 /**< centres of equal areas; round: an even number of points a diameter,
                                      2 to 24; rectangular: 2 to 24 a side */
};

/** @brief How far to push the probe in for each point of one line of a traverse.
 *
 * From the wall where it enters to the far one, along a diameter of a round pipe or along one side
 * of a rectangular one, plus the probe's offset. All points count alike. A point that the head
 * cannot reach because the wall is in the way is moved to where it can.
 *
 * @param[in] pipe from one of the constructors.
 * @param[in] side [-] 0 along the width, 1 along the depth; of no matter in a round pipe.
 * @param[in] rule [-] VENT_TRAVERSE_...
 * @param[in] points [-] on the line; as the rule allows.
 * @param[in] probe from a constructor.
 * @param[out] position [m] of each point; not NULL.
 * @param[in,out] err failure record or NULL.
 * @return how many points were moved off the wall; -1 (position untouched) on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds, or if the head is so wide that
 *   points would fall together.
 * @par Source log-linear and rectangular log-Tchebycheff: ISO 3966 as tabled in instrument manuals
 *   (reprint), log-linear with 4 points and round log-Tchebycheff from memory, held to the exact
 *   mean of a log law; equal areas: 40 CFR 60, appendix A, method 1 (closed form).
 * @par Accuracy of the mean of a developed profile, computed for power laws: log-linear and
 *   log-Tchebycheff 0.5 %; equal area 0.4 to 1.5 % too much in a round pipe (10 to 4 points), 2 to
 *   3 % too much in a rectangular one.
 * @since 0.1 */
VENT_API int vent_traverse_positions(vent_pipe pipe, int32_t side, int32_t rule, int32_t points,
                                     vent_probe probe, double *position, vent_error *err);

/** @brief Flow from a traverse.
 *
 * The mean of the velocities over all points (not of their pressures). Uncertainty: the
 * instrument's limit of error is shared by all points, its step is not; each point's place counts
 * by the slope of a 1/7 power law there; the rule by what it makes of such a profile, at least 0.5
 * %; and what the readings themselves show of unevenness by the spread between the radii of a round
 * pipe or the quarters of a rectangular one, which errs on the safe side: a lean of the profile that
 * cancels between opposite radii still counts.
 *
 * @param[in] station from vent_station_at().
 * @param[in] probe from a constructor.
 * @param[in] instrument from a constructor.
 * @param[in] rule [-] VENT_TRAVERSE_...
 * @param[in] lines [-] lines the probe went along: diameters of a round pipe, 1 <= lines <= 6; in a
 *            rectangular one a number the rule allows.
 * @param[in] points [-] on each line; as the rule allows.
 * @param[in] indication [unit of the scale] lines * points of them, line after line; not NULL; each
 *            0 <= indication <= instrument.high.
 * @param[in,out] err failure record or NULL.
 * @return [m3/s] the flow at the station's density; NaN on failure.
 * @par Errors VENT_E_ARGUMENT as vent_point_velocity(), with the number of the reading.
 * @par Source vent_traverse_positions()'s. Evenness: the rule of air balancers that three quarters
 *   of the velocity pressures exceed a tenth of the greatest; reprint.
 * @par Accuracy the reading's uncertainty.
 * @since 0.1 */
VENT_API vent_reading vent_traverse_flow(vent_station station, vent_probe probe,
                                         vent_instrument instrument, int32_t rule, int32_t lines,
                                         int32_t points, const double *indication, vent_error *err);

/** @brief Static pressure from one or several taps in the wall of one section.
 *
 * The mean of the readings. What a hole does to the flow beside it is a share of the velocity
 * pressure: a clean square hole reads about 0.01 to 0.02 too much, a burr or a chamfer can make 0.1
 * either way (common practice, no source). Several taps around the pipe average out what is uneven,
 * and their spread shows in the uncertainty.
 *
 * @param[in] instrument a pressure instrument.
 * @param[in] n taps; 1 <= n.
 * @param[in] indication [unit of the scale] of each; not NULL; within the instrument's scale.
 * @param[in] velocity_pressure [Pa] in the pipe there; 0 <= velocity_pressure <= 1e5.
 * @param[in] tap_error [-] limit of a tap's error in velocity pressures; 0 <= tap_error <= 1.
 * @param[in,out] err failure record or NULL.
 * @return [Pa] the static pressure, signed; NaN on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds or the instrument no pressure
 *   instrument.
 * @par Source hole error: R. Shaw (1960), J. Fluid Mech. 7, 550: some 3 wall shear stresses
 *   (memory), which at f = 0.02 is 0.015 velocity pressures.
 * @par Accuracy the reading's uncertainty.
 * @since 0.1 */
VENT_API vent_reading vent_static_pressure(vent_instrument instrument, size_t n,
                                           const double *indication, double velocity_pressure,
                                           double tap_error, vent_error *err);

/** @brief A square-edged orifice plate; frozen layout. Make it with vent_metering_orifice(). */
typedef struct vent_orifice {
    int32_t taps;            /**< VENT_TAPS_... */
    int32_t reserved;        /**< 0 */
    double bore;             /**< m, diameter of the hole */
    double bore_uncertainty; /**< m, standard uncertainty of bore */
} vent_orifice;

/** @brief A square-edged, thin, concentric orifice plate.
 *
 * @param[in] bore [m] diameter of the hole; 1e-3 <= bore <= 1.
 * @param[in] bore_uncertainty [m] its standard uncertainty; 0 <= bore_uncertainty <= 0.1 bore.
 * @param[in] taps [-] VENT_TAPS_...
 * @param[in,out] err failure record or NULL.
 * @return the plate; taps 0 and NaN on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds.
 * @since 0.1 */
VENT_API vent_orifice vent_metering_orifice(double bore, double bore_uncertainty, int32_t taps,
                                            vent_error *err);

/** @brief Expansibility of an orifice plate: what the gas's expansion takes off the flow.
 *
 * @param[in] diameter_ratio [-] bore over pipe bore; 0.1 <= diameter_ratio <= 0.75.
 * @param[in] pressure [Pa] absolute, before the plate; 0 < pressure.
 * @param[in] difference [Pa] across the taps; 0 <= difference <= 0.25 pressure.
 * @param[in] isentropic_exponent [-] 1.4 for air; 1 < isentropic_exponent <= 2.
 * @return [-] NaN outside.
 * @par Source ISO 5167-2 (2003), 5.3.2.2; memory, held to a value of the standard.
 * @par Accuracy 3.5 % of difference / (isentropic_exponent pressure), 95 %; reprint.
 * @since 0.1 */
VENT_API double vent_orifice_expansibility(double diameter_ratio, double pressure,
                                           double difference, double isentropic_exponent);

/** @brief What an orifice plate costs for good, of the difference across its taps.
 *
 * @param[in] diameter_ratio [-] bore over pipe bore; 0.1 <= diameter_ratio <= 0.75.
 * @param[in] discharge [-] vent_orifice_discharge(); 0.3 <= discharge <= 1.
 * @param[in] difference [Pa] across the taps; 0 <= difference <= 1e6.
 * @return [Pa] NaN outside.
 * @par Source ISO 5167-2 (2003), 5.4.1, eq. 7; reprint.
 * @par Accuracy approximate, says the standard.
 * @since 0.1 */
VENT_API double vent_orifice_loss(double diameter_ratio, double discharge, double difference);

/** @brief Flow through an orifice plate.
 *
 * By iteration, as the discharge coefficient hangs on the flow. The station's gas is that before
 * the plate. Uncertainty after ISO 5167: coefficient, expansibility, both bores, difference,
 * density. With less straight pipe before it than the standard has behind a single bend 0.5 % is
 * added; with less than its shorter length the reading is flagged. Outside the standard's limits
 * (bore of the pipe 50 mm to 1 m, hole from 12.5 mm, Re from 5000) it is flagged, and its
 * coefficient counts twice as uncertain, which is this library's estimate. Left out: roughness, a
 * worn edge, a plate off centre.
 *
 * @param[in] station from vent_station_at(), in a round pipe.
 * @param[in] orifice from vent_metering_orifice(); 0.1 <= bore / pipe bore <= 0.75.
 * @param[in] instrument a pressure instrument.
 * @param[in] indication [unit of the scale] of the difference; 0 <= indication <= instrument.high.
 * @param[in,out] err failure record or NULL.
 * @return [m3/s] the flow at the station's density; NaN on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds or the difference more than a
 *   quarter of the pressure; a negative difference is said to be what it is.
 * @par Source ISO 5167-1 and -2 (2003); uncertainties reprint, straight lengths memory.
 * @par Accuracy the reading's uncertainty.
 * @since 0.1 */
VENT_API vent_reading vent_orifice_flow(vent_station station, vent_orifice orifice,
                                        vent_instrument instrument, double indication,
                                        vent_error *err);

/** @brief Whether an instrument can measure a flow, and what could; frozen layout. */
typedef struct vent_advice {
    uint32_t flags;     /**< VENT_READING_NOT_MEASURABLE, _COARSE, _OFF_SCALE or 0 */
    int32_t reserved;   /**< 0 */
    double velocity;    /**< m/s at the centre of the pipe */
    double indication;  /**< what the instrument would show there, in the unit of its scale */
    double uncertainty; /**< [-] relative standard uncertainty it leaves of the flow */
    double section;     /**< m, bore of a measuring section in which it is as good as wanted */
    double orifice;     /**< m, hole of an orifice plate that makes it so; NaN where none does */
    double orifice_pressure; /**< Pa across that plate's taps */
    double orifice_loss;     /**< Pa that plate costs */
    char message[320];       /**< the verdict, one or two readable sentences */
} vent_advice;

/** @brief Whether an instrument can measure a flow at the centre of a pipe, and what would if not.
 *
 * For planning, and for a reading that came out as VENT_READING_NOT_MEASURABLE. It counts the
 * instrument's own uncertainty only. What would do: another instrument, a measuring section of
 * smaller bore (10 bores long, smoothly joined), or an orifice plate; both cost pressure, so take
 * them out again.
 *
 * @param[in] station from vent_station_at(), in a round pipe.
 * @param[in] probe from a constructor.
 * @param[in] instrument from a constructor.
 * @param[in] flow [m3/s] that is expected; 1e-7 <= flow <= 100.
 * @param[in] wanted [-] relative standard uncertainty wanted of the instrument's part; 0.001 <=
 *            wanted <= 0.5.
 * @param[in,out] err failure record or NULL.
 * @return the advice; NaN and an empty message on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds or the pipe not round.
 * @par Source vent_centre_flow()'s and vent_orifice_flow()'s.
 * @par Accuracy bores to 1 % of the rules themselves.
 * @since 0.1 */
VENT_API vent_advice vent_measure_advice(vent_station station, vent_probe probe,
                                         vent_instrument instrument, double flow, double wanted,
                                         vent_error *err);

VENT_END_DECLS

#endif
