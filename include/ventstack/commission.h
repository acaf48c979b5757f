/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file commission.h
 *  @brief Commissioning: predicted against measured, and what the gauge may show over the year.
 *
 * "The fan runs. Do these readings say that what was designed was built? And when the gauge on the
 * riser shows 1.2 instead of 1.0 in. w.c. in January: is that the weather, or has something changed?"
 *
 *     vent_site_reading taken[] = {{gauge, vent_reading_stated(-0.98 * VENT_INWC, 3)},
 *                                  {flow, vent_reading_stated(43 * VENT_CFM, 1.5 * VENT_CFM)}};
 *     vent_sheet *sheet = vent_sheet_new(design, 2, taken, &err);
 *     vent_sheet_note(sheet, VENT_NOTE_WEATHER, "calm, -3 C, frost since Tuesday", &err);
 *     vent_sheet_text(sheet, sizeof text, text);
 *
 *     vent_uncertainty *built = vent_commissioned(design, 2, taken, &err);
 *     vent_band *year = vent_band_new(built, gauge, 12, months, &err);
 *     vent_reading later = vent_reading_stated(-1.2 * VENT_INWC, 3);
 *     puts(vent_band_judge(year, 0, later, &err).text);
 *
 * The **design** is a network with what is known of its inputs (vent_uncertainty_new()): what its
 * parts carry (vent_network_uncertainties()), and what only you know of soil, fan, lengths, and of
 * the weather on the day of the readings, which the network is to be set to. The **sheet** holds each
 * reading against its prediction, and all of them together: predictions hang together, as one soil
 * and one fan stand behind them, so that readings may agree one by one and contradict each other.
 *
 * vent_commissioned() is the design after it met the readings. What was unsure of it and was read has
 * become as sure as the readings; the rest has moved as it must with them.
 *
 * The **band** is what one observable may be in the weather of each month, and how unsure that is. It
 * takes the design as well as the commissioned stack; the commissioned one's is narrower, as it is
 * anchored on what was read. Readings of later years are judged by it.
 *
 * Deviations are told in **standard uncertainties**. Beyond 2 a line is questionable, beyond 3 it
 * disagrees; these are conventional marks, passed by chance in 1 of 22 and 1 of 370 cases. Whole
 * sheets are held to the same chances.
 *
 * This is about flow and pressure. It is no measurement of radon: that is taken after commissioning,
 * and again, as local rules say, and local codes and licensed practice come before anything here. */
#ifndef VENTSTACK_COMMISSION_H
#define VENTSTACK_COMMISSION_H

#include <ventstack/fit.h>

VENT_BEGIN_DECLS

/** @brief Verdicts on a line, a sheet, a later reading. */
enum {
    VENT_VERDICT_NONE = 0,         /**< none was come to: the call failed */
    VENT_VERDICT_AGREES = 1,       /**< within 2 standard uncertainties */
    VENT_VERDICT_QUESTIONABLE = 2, /**< beyond 2: chance does that once in 22 cases. Read again */
    VENT_VERDICT_DISAGREES = 3     /**< beyond 3: once in 370. Something is not as it was thought */
};

/** @brief One reading taken on site; frozen layout. */
typedef struct vent_site_reading {
    vent_observable observable; /**< what was read: an address in the design's network */
    vent_reading reading;       /**< value and standard uncertainty, in the observable's unit */
} vent_site_reading;

/** @brief A commissioning sheet; opaque, independent of what it was made from. */
typedef struct vent_sheet vent_sheet;

/** @brief Holds readings against a design.
 *
 * Inputs and readings are taken as independent of one another, and so are two readings; what two
 * readings share (one gauge's error, one density) is not seen. The same observable may be read twice.
 *
 * @param[in] design what is predicted and how surely, not NULL; its network in the state and the
 *            weather in which the readings were taken.
 * @param[in] n [-] how many readings; 1 <= n <= 1000.
 * @param[in] readings that many; uncertainties above 0; not NULL.
 * @param[in,out] err failure record or NULL.
 * @return the sheet, to be freed with vent_sheet_free(); NULL on failure.
 * @par Errors VENT_E_ARGUMENT for a value that is not finite, an uncertainty not above 0, a place for
 *   which the network has no number, readings so much surer than the design that it cannot be told
 *   whether they contradict each other; VENT_E_NOT_FOUND for a place the network has not; VENT_E_MEMORY.
 * @par Source JCGM 102:2011, 6.2 (covariance of several answers); generalized least squares: Aitken
 *   (1935), On least squares and linear combination of observations, Proceedings of the Royal Society
 *   of Edinburgh 55, 42-48; memory.
 * @par Accuracy first order, as vent_uncertainty_of().
 * @since 0.1 */
VENT_API vent_sheet *vent_sheet_new(const vent_uncertainty *design, size_t n,
                                    const vent_site_reading *readings, vent_error *err);

/** @brief Frees a sheet.
 *
 * @param[in] sheet NULL allowed.
 * @since 0.1 */
VENT_API void vent_sheet_free(vent_sheet *sheet);

/** @brief What may be noted on a sheet, in the order in which it is printed. */
enum {
    VENT_NOTE_DATE = 0,        /**< day and hour of the readings */
    VENT_NOTE_INSTRUMENTS = 1, /**< with what they were taken: kind, number, last calibration */
    VENT_NOTE_WEATHER = 2, /**< wind, temperatures, rain, frost; the network is set to it apart */
    VENT_NOTE_REMARK = 3,  /**< whatever else: doors, appliances, who was there */
    VENT_NOTE_END = 4      /**< one past the last */
};

/** @brief Notes on a sheet what numbers do not tell; it is printed above the table as it is.
 *
 * @param[in,out] sheet not NULL; unchanged on failure.
 * @param[in] kind VENT_NOTE_...; replaces what was noted there.
 * @param[in] note one line, at most 400 bytes without control characters; NULL allowed: that, or nothing in it,
 *   takes the note away.
 * @param[in,out] err failure record or NULL.
 * @return true; false on failure.
 * @par Errors VENT_E_ARGUMENT for an unknown kind, a note that is too long, a line break or another control
 *   character in it; VENT_E_MEMORY.
 * @since 0.1 */
VENT_API bool vent_sheet_note(vent_sheet *sheet, int kind, const char *note, vent_error *err);

/** @brief Bits of vent_sheet_line.flags. */
enum {
    VENT_SHEET_SIGN = 1,   /**< of the other sign it would fit: hoses exchanged, or a vacuum noted
                                 without its minus */
    VENT_SHEET_LITTLE = 2, /**< twice the uncertainty of the deviation reaches zero: a stack at rest
                                 would agree as well */
    VENT_SHEET_AMONG = 4   /**< within 3 of its prediction, beyond 3 of what the other readings make
                                 of it */
};

/** @brief One line of a sheet; frozen layout. */
typedef struct vent_sheet_line {
    vent_observable observable; /**< what was read */
    vent_reading predicted;     /**< value and standard uncertainty by the design */
    vent_reading measured;      /**< as read */
    double deviation;           /**< measured less predicted */
    double uncertainty;         /**< standard uncertainty of the deviation */
    double score;               /**< [-] deviation in standard uncertainties */
    double among;    /**< [-] the same against what design and all other readings make of it */
    int32_t verdict; /**< VENT_VERDICT_..., by the score */
    uint32_t flags;  /**< VENT_SHEET_... bits */
    char where[96];  /**< the place, in words */
} vent_sheet_line;

/** @brief Counts the lines of a sheet.
 *
 * @param[in] sheet not NULL.
 * @return how many, one a reading; 0 if sheet is NULL.
 * @since 0.1 */
VENT_API size_t vent_sheet_count(const vent_sheet *sheet);

/** @brief Reads one line.
 *
 * @param[in] sheet not NULL.
 * @param[in] index [-] 0 <= index < vent_sheet_count(), in the order of the readings.
 * @param[out] line not NULL.
 * @return true; false (line untouched) where there is no such line.
 * @since 0.1 */
VENT_API bool vent_sheet_line_at(const vent_sheet *sheet, size_t index, vent_sheet_line *line);

/** @brief How a sheet stands as a whole; frozen layout. */
typedef struct vent_agreement {
    double chi_square;  /**< of all deviations, with what they share counted once */
    double degrees;     /**< of freedom: one a reading */
    double probability; /**< that chance alone gives a greater chi-square */
    int32_t verdict;    /**< VENT_VERDICT_...: questionable below 4.6 %, disagrees below 0.27 % */
    int32_t reserved;   /**< 0 */
} vent_agreement;

/** @brief Tells whether all readings together agree with the design.
 *
 * @param[in] sheet not NULL.
 * @return the figures; NaN and VENT_VERDICT_NONE if sheet is NULL.
 * @since 0.1 */
VENT_API vent_agreement vent_sheet_whole(const vent_sheet *sheet);

/** @brief The verdict in sentences: the whole, what is off, of the wrong sign, or told too little.
 *
 * @param[in] sheet not NULL.
 * @param[in] size [-] of the buffer; 0 allowed.
 * @param[out] text buffer, cut to size and terminated; NULL allowed if size is 0.
 * @return the length of the whole text; 0 if sheet is NULL.
 * @since 0.1 */
VENT_API size_t vent_sheet_verdict(const vent_sheet *sheet, size_t size, char *text);

/** @brief The sheet to print: the notes, a table in SI and trade units, the verdict, the cautions.
 *
 * @param[in] sheet not NULL.
 * @param[in] size [-] of the buffer; 0 allowed.
 * @param[out] text buffer, cut to size and terminated; NULL allowed if size is 0.
 * @return the length of the whole text; 0 if sheet is NULL.
 * @since 0.1 */
VENT_API size_t vent_sheet_text(const vent_sheet *sheet, size_t size, char *text);

/** @brief The stack as commissioned: the design after it met the readings.
 *
 * A fit with all inputs as unknowns, each with its prior; correlations between inputs hold. Where the
 * sheet disagrees this is a stack that no one designed: find out why first.
 *
 * @param[in] design as in vent_sheet_new(), of at most 200 inputs, not NULL.
 * @param[in] n [-] how many readings; 1 <= n <= 1000.
 * @param[in] readings that many; uncertainties above 0; not NULL.
 * @param[in,out] err failure record or NULL.
 * @return the handle, to be freed with vent_uncertainty_free(); NULL on failure.
 * @par Errors as vent_sheet_new(), vent_fit_known() and vent_fit_solve().
 * @par Source vent_fit_solve()'s.
 * @par Accuracy vent_fit_solve()'s.
 * @since 0.1 */
VENT_API vent_uncertainty *vent_commissioned(const vent_uncertainty *design, size_t n,
                                             const vent_site_reading *readings, vent_error *err);

/** @brief A range with what is usual in it; frozen layout. Make it with vent_span_of(). */
typedef struct vent_span {
    double low;   /**< least */
    double usual; /**< what is usual: mean or median */
    double high;  /**< greatest */
} vent_span;

/** @brief Makes a range.
 *
 * @param[in] low [-] least, in the unit of what it is; any finite number.
 * @param[in] usual [-] low <= usual <= high.
 * @param[in] high [-] greatest; usual <= high, finite.
 * @param[in,out] err failure record or NULL.
 * @return the range; NaN on failure.
 * @par Errors VENT_E_ARGUMENT where the three are not in order or not finite.
 * @since 0.1 */
VENT_API vent_span vent_span_of(double low, double usual, double high, vent_error *err);

/** @brief What makes the weather of a stack. */
enum {
    VENT_WEATHER_OUTDOOR_TEMPERATURE = 0,  /**< K, at slab height */
    VENT_WEATHER_SOIL_GAS_TEMPERATURE = 1, /**< K, also of every run that was not set its own */
    VENT_WEATHER_WIND_PRESSURE = 2,        /**< Pa at the discharge; vent_wind_span() */
    VENT_WEATHER_BUILDING_PRESSURE = 3,    /**< Pa of the room against outdoors; vent_room_span() */
    VENT_WEATHER_BAROMETRIC_PRESSURE = 4,  /**< Pa, absolute, at the place */
    VENT_WEATHER_SOIL =
        5,               /**< [-] flow the same vacuum draws, over that in the network: 1 as there,
                                below 1 where the water table stands higher, above 1 where lower */
    VENT_WEATHER_END = 6 /**< one past the last */
};

/** @brief The weather of a month, or of any stretch of time; frozen layout. */
typedef struct vent_weather {
    char name[32];     /**< such as "January" */
    vent_span span[6]; /**< by VENT_WEATHER_... */
} vent_weather;

/** @brief The weather a network is set to, without any range: where to begin a month.
 *
 * @param[in] network not NULL.
 * @param[in] name not NULL; cut to 31 letters.
 * @param[in,out] err failure record or NULL.
 * @return the weather, its soil 1; NaN on failure.
 * @par Errors VENT_E_ARGUMENT for a missing pointer.
 * @since 0.1 */
VENT_API vent_weather vent_weather_of(const vent_network *network, const char *name,
                                      vent_error *err);

/** @brief Range of the pressure wind makes at the discharge.
 *
 * Coefficient times density times half the square of speed. Speed and coefficient are taken as
 * independent: any wind from any side.
 *
 * @param[in] coefficient [-] pressure coefficient of the discharge on its roof, for what wind there
 *            comes from; negative where it sucks; -5 <= low, high <= 5.
 * @param[in] speed [m/s] of the wind at the discharge; 0 <= low, high <= 100.
 * @param[in] density [kg/m3] of the outdoor air; 0.1 <= density <= 10.
 * @param[in,out] err failure record or NULL.
 * @return [Pa] the range; NaN on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds or a range out of order.
 * @par Source dynamic pressure; which coefficient holds is for the caller to know.
 * @par Accuracy that of the coefficient.
 * @since 0.1 */
VENT_API vent_span vent_wind_span(vent_span coefficient, vent_span speed, double density,
                                  vent_error *err);

/** @brief Range of a room's pressure against the outdoors by the house's own stack effect.
 *
 * Columns of dry air of both temperatures between the slab and the neutral level; what exhaust fans
 * and wind on the house do is to be added.
 *
 * @param[in] outdoor_temperature [K] 233.15 <= low, high <= 333.15.
 * @param[in] indoor_temperature [K] 233.15 <= indoor_temperature <= 333.15.
 * @param[in] neutral_level [m] above the slab, where inside and outside have one pressure; 0 <=
 *            neutral_level <= 100.
 * @param[in] barometric_pressure [Pa] absolute; 3e4 <= barometric_pressure <= 1.2e5.
 * @param[in,out] err failure record or NULL.
 * @return [Pa] the range, negative where it is colder outside; NaN on failure.
 * @par Errors VENT_E_ARGUMENT if an argument is outside its bounds or the range out of order.
 * @par Source hydrostatics and the ideal gas.
 * @par Accuracy 1 % of the columns; the neutral level is seldom known within 1 m.
 * @since 0.1 */
VENT_API vent_span vent_room_span(vent_span outdoor_temperature, double indoor_temperature,
                                  double neutral_level, double barometric_pressure,
                                  vent_error *err);

/** @brief What one observable may be over the weather of a year; opaque. */
typedef struct vent_band vent_band;

/** @brief Works out the band of one observable.
 *
 * In each row all six quantities may be anywhere in their ranges, whatever the others are: what hangs
 * together (cold and the room's pressure) makes the band a little too wide within a month; across the
 * rows it is kept. Extremes are sought at the ends of the ranges, so the observable must rise or fall
 * all along each range, as pressures and flows do. Weather replaces what the network is set to, and
 * the uncertainty stated of it. Left out: the temperature of runs that were set their own, soil that
 * suction points share (vent_network_couple()) changing with the water table, ice, and everything
 * that is not steady: gusts, rain fronts, a falling barometer.
 *
 * @param[in] known what is known of the stack, not NULL: as designed, or vent_commissioned().
 * @param[in] observable an address in its network.
 * @param[in] n [-] how many rows; 1 <= n <= 400.
 * @param[in] weather that many rows; low <= usual <= high of each range; not NULL.
 * @param[in,out] err failure record or NULL.
 * @return the band, to be freed with vent_band_free(); NULL on failure.
 * @par Errors VENT_E_ARGUMENT for a range out of order or outside its parameter's bounds, a soil
 *   outside 1e-3 to 1e3; VENT_E_NOT_FOUND for a place the network has not; as vent_network_solve()
 *   for a row whose weather has no answer; VENT_E_MEMORY.
 * @par Source extremes of the solved network; uncertainties as vent_uncertainty_of().
 * @par Accuracy of the ends: the solver's; of uncertainties: first order.
 * @since 0.1 */
VENT_API vent_band *vent_band_new(const vent_uncertainty *known, vent_observable observable,
                                  size_t n, const vent_weather *weather, vent_error *err);

/** @brief Frees a band.
 *
 * @param[in] band NULL allowed.
 * @since 0.1 */
VENT_API void vent_band_free(vent_band *band);

/** @brief The row that stands for the whole year. */
enum { VENT_BAND_YEAR = -1 };

/** @brief One row of a band; frozen layout. */
typedef struct vent_band_row {
    char name[32];      /**< of the weather's row; "year" */
    vent_reading low;   /**< least the weather makes of it, and standard uncertainty there */
    vent_reading usual; /**< in the usual weather; of the year: of the mean of all rows' */
    vent_reading high;  /**< greatest the weather makes of it, and standard uncertainty there */
    double band_low;    /**< low end less 2 standard uncertainties */
    double band_high;   /**< high end and 2 standard uncertainties */
    double moves[6];    /**< change as each quantity alone goes from its least to its greatest, the
                             others usual, by VENT_WEATHER_... */
} vent_band_row;

/** @brief The place a band is about, in words.
 *
 * @param[in] band not NULL.
 * @param[in] size [-] of the buffer; 0 allowed.
 * @param[out] text buffer, cut to size and terminated; NULL allowed if size is 0.
 * @return the length of the whole text; 0 if band is NULL.
 * @since 0.1 */
VENT_API size_t vent_band_where(const vent_band *band, size_t size, char *text);

/** @brief Counts the rows of a band.
 *
 * @param[in] band not NULL.
 * @return how many, without that of the year; 0 if band is NULL.
 * @since 0.1 */
VENT_API size_t vent_band_count(const vent_band *band);

/** @brief Reads one row.
 *
 * @param[in] band not NULL.
 * @param[in] row [-] 0 <= row < vent_band_count(), or VENT_BAND_YEAR: the extremes of all rows.
 * @param[out] out not NULL.
 * @return true; false (out untouched) where there is no such row.
 * @since 0.1 */
VENT_API bool vent_band_row_at(const vent_band *band, int row, vent_band_row *out);

/** @brief Bits of vent_marks.flags. */
enum {
    VENT_MARKS_ZERO = 1,   /**< zero lies between the marks: they cannot tell a stopped fan */
    VENT_MARKS_WEATHER = 2 /**< weather alone takes it more than 20 % from the usual */
};

/** @brief Where to put the marks on a gauge; frozen layout. */
typedef struct vent_marks {
    double low;  /**< alarm below: no weather explains it */
    double high; /**< alarm above */
    double fall; /**< [-] how far weather alone takes it below the usual, over the usual's size */
    double rise; /**< [-] how far above */
    uint32_t flags;   /**< VENT_MARKS_... bits */
    int32_t reserved; /**< 0 */
} vent_marks;

/** @brief Marks beyond which a reading is a drift: 3 standard uncertainties beyond the weather.
 *
 * One handed-over instruction to home owners is to call for service where the gauge has changed by 20 %
 * or shows zero; fall and rise tell whether weather alone does that.
 *
 * @param[in] band not NULL.
 * @param[in] row [-] 0 <= row < vent_band_count(), or VENT_BAND_YEAR.
 * @param[in] uncertainty [unit: vent_observable_unit()] with which the gauge is read; 0 <= uncertainty.
 * @param[in,out] err failure record or NULL.
 * @return the marks; NaN on failure.
 * @par Errors VENT_E_ARGUMENT for an uncertainty outside its bounds; VENT_E_NOT_FOUND for no such row.
 * @par Source 3 standard uncertainties: conventional. 20 %: ANSI/AARST CCAH-2020, Exhibit 2; printed.
 * @par Accuracy that of the band.
 * @since 0.1 */
VENT_API vent_marks vent_band_marks(const vent_band *band, int row, double uncertainty,
                                    vent_error *err);

/** @brief What a later reading says; frozen layout. */
typedef struct vent_judgement {
    int32_t verdict;    /**< VENT_VERDICT_...: agrees, for within weather; disagrees, for drift */
    int32_t side;       /**< -1 below all that weather gives, 1 above, 0 within */
    double low;         /**< least that weather gives */
    double high;        /**< greatest */
    double beyond;      /**< distance of the reading from the nearer end; 0 within */
    double score;       /**< [-] the same in standard uncertainties, of band and reading */
    double probability; /**< of a reading so far off or further, in the weather that favours it */
    char text[400];     /**< the verdict, in sentences */
} vent_judgement;

/** @brief Judges a later reading whose weather is known by month only.
 *
 * The reading is given every weather of the row: nothing is assumed of how likely each is.
 *
 * @param[in] band not NULL.
 * @param[in] row [-] 0 <= row < vent_band_count(), or VENT_BAND_YEAR for any row's weather.
 * @param[in] reading what was read and its standard uncertainty, above 0.
 * @param[in,out] err failure record or NULL.
 * @return the judgement; VENT_VERDICT_NONE and NaN on failure.
 * @par Errors VENT_E_ARGUMENT for a value that is not finite or an uncertainty not above 0;
 *   VENT_E_NOT_FOUND for no such row.
 * @par Source the greatest chance over the weather: a composite hypothesis; Lehmann and Romano
 *   (2005), Testing statistical hypotheses, chapter 3; memory.
 * @par Accuracy false alarms at most as often as told: most often at the ends of the weather.
 * @since 0.1 */
VENT_API vent_judgement vent_band_judge(const vent_band *band, int row, vent_reading reading,
                                        vent_error *err);

/** @brief Judges a later reading in weather that was noted with it.
 *
 * Sharper than vent_band_judge(), as far as the ranges are narrow.
 *
 * @param[in] band not NULL.
 * @param[in] weather as it was; ranges of what is not known.
 * @param[in] reading what was read and its standard uncertainty, above 0.
 * @param[in,out] err failure record or NULL.
 * @return the judgement; VENT_VERDICT_NONE and NaN on failure.
 * @par Errors as vent_band_new() and vent_band_judge().
 * @par Source as vent_band_judge().
 * @par Accuracy as vent_band_judge().
 * @since 0.1 */
VENT_API vent_judgement vent_band_judge_in(const vent_band *band, vent_weather weather,
                                           vent_reading reading, vent_error *err);

/** @brief The band to print: a row a month in SI and trade units, marks, what moves it, cautions.
 *
 * @param[in] band not NULL.
 * @param[in] uncertainty [unit: vent_observable_unit()] with which the gauge is read; 0 <= uncertainty.
 * @param[in] size [-] of the buffer; 0 allowed.
 * @param[out] text buffer, cut to size and terminated; NULL allowed if size is 0.
 * @return the length of the whole text; 0 if band is NULL or uncertainty outside its bounds.
 * @since 0.1 */
VENT_API size_t vent_band_text(const vent_band *band, double uncertainty, size_t size, char *text);

VENT_END_DECLS

#endif
