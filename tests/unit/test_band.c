/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "commission_stack.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "numeric/chance.h"
#include "refuse.h"
#include "suites.h"

/* ---- weather ------------------------------------------------------------------------------------ */

START_TEST(spans_of_wind_and_room)
{
    vent_error err = VENT_NO_ERROR;
    vent_span still = vent_wind_span(vent_span_of(-0.8, -0.4, 0.2, &err),
                                     vent_span_of(0, 0, 0, &err), 1.25, &err);
    ck_assert(still.low == 0 && still.usual == 0 && still.high == 0);
    vent_span either = vent_wind_span(vent_span_of(-0.8, -0.4, 0.2, &err),
                                      vent_span_of(0, 4, 10, &err), 1.25, &err);
    NEAR(either.low, -50, 1e-12);
    NEAR(either.usual, -4, 1e-12);
    NEAR(either.high, 12.5, 1e-12);
    vent_span suction = vent_wind_span(vent_span_of(-0.8, -0.4, -0.2, &err),
                                       vent_span_of(2, 4, 10, &err), 1.25, &err);
    NEAR(suction.high, -0.5, 1e-12);
    /* ideal gas of 28.96546 g/mol (CIPM-2007, dry air): rho g h of both columns. Compressibility differs
     * by 8e-4 between these temperatures, of densities that differ by 0.16 */
    vent_span t = vent_span_of(253.15, 273.15, 293.15, &err);
    vent_span room = vent_room_span(t, 293.15, 2.5, 101325, &err);
    double rho = 101325 * 0.02896546 / 8.314462618;
    NEAR(room.low, rho * (1 / 293.15 - 1 / 253.15) * 9.80665 * 2.5, 6e-3);
    NEAR(room.usual, rho * (1 / 293.15 - 1 / 273.15) * 9.80665 * 2.5, 6e-3);
    near("no difference", room.high, 0, 0, 1e-12);
    well(&err);
    REFUSED(vent_span_of(1, 0, 2, e), VENT_E_ARGUMENT, "in this order");
    REFUSED(vent_span_of(0, NAN, 2, e), VENT_E_ARGUMENT, "in this order");
    REFUSED(vent_span_of(0, 1, INFINITY, e), VENT_E_ARGUMENT, "must lie between");
    REFUSED(vent_wind_span(t, t, 1.2, e), VENT_E_ARGUMENT, "coefficient");
    REFUSED(vent_wind_span(vent_span_of(0, 0, 1, e), vent_span_of(-1, 0, 1, e), 1.2, e),
            VENT_E_ARGUMENT, "speed");
    REFUSED(vent_wind_span(vent_span_of(0, 0, 1, e), vent_span_of(0, 0, 1, e), 0, e),
            VENT_E_ARGUMENT, "density");
    REFUSED(vent_room_span(t, 20, 2.5, 1e5, e), VENT_E_ARGUMENT, "indoor_temperature");
    REFUSED(vent_room_span(t, 293, -1, 1e5, e), VENT_E_ARGUMENT, "neutral_level");
    REFUSED(vent_room_span(t, 293, 2, NAN, e), VENT_E_ARGUMENT, "barometric_pressure");
    REFUSED(vent_weather_of(NULL, "x", e), VENT_E_ARGUMENT, "network");
    ck_assert(isnan(vent_span_of(2, 1, 0, NULL).low));
}
END_TEST

static const double january[VENT_WEATHER_END][3] = {{258, 268, 278},       {283, 284, 285},
                                                    {-40, -5, 10},         {-6, -4, -2},
                                                    {97000, 98300, 99500}, {.7, .8, .9}};
static const double july[VENT_WEATHER_END][3] = {{285, 295, 306},       {286, 287, 288},
                                                 {-15, -3, 5},          {-1, 0, 1},
                                                 {97500, 98300, 99000}, {1, 1.1, 1.3}};

/* The stack in one weather, set by hand. */
static double in_weather(const stack *s, const double *value, vent_observable o)
{
    static const char *const names[] = {"outdoor_temperature", "soil_gas_temperature",
                                        "wind_pressure", "building_pressure",
                                        "barometric_pressure"};
    vent_error err = VENT_NO_ERROR;
    vent_network *net = vent_network_copy(s->net, &err);
    for (int q = 0; q < 5; ++q)
        vent_network_set(net, vent_network_find_parameter(net, names[q], &err), value[q], &err);
    vent_network_set(net, s->inputs[0].parameter,
                     value[5] * vent_network_get(net, s->inputs[0].parameter, &err), &err);
    double answer = observed(net, o);
    well(&err);
    vent_network_free(net);
    return answer;
}

START_TEST(the_band_ends_where_the_weather_does)
{
    vent_error err = VENT_NO_ERROR;
    stack s = stack_new(1);
    vent_uncertainty *design = design_of(&s);
    vent_weather months[] = {month_of(&s, "January", january), month_of(&s, "July", july)};
    vent_band *band = vent_band_new(design, s.gauge, 2, months, &err);
    well(&err);
    ck_assert_uint_eq(vent_band_count(band), 2);
    vent_band_row row, year;
    for (int m = 0; m < 2; ++m) {
        const double(*range)[3] = m == 0 ? january : july;
        double usual[VENT_WEATHER_END], least = INFINITY, most = -INFINITY;
        ck_assert(vent_band_row_at(band, m, &row));
        ck_assert_str_eq(row.name, m == 0 ? "January" : "July");
        for (int q = 0; q < VENT_WEATHER_END; ++q)
            usual[q] = range[q][1];
        NEAR(row.usual.value, in_weather(&s, usual, s.gauge), 1e-9);
        for (int k = 0; k < 729;
             ++k) { /* ends and middles of all: none lies beyond the row's ends */
            double at[VENT_WEATHER_END];
            int rest = k;
            for (int q = 0; q < VENT_WEATHER_END; ++q, rest /= 3)
                at[q] = range[q][rest % 3];
            double value = in_weather(&s, at, s.gauge);
            least = fmin(least, value);
            most = fmax(most, value);
        }
        NEAR(row.low.value, least, 1e-9);
        NEAR(row.high.value, most, 1e-9);
        NEAR(row.band_low, least - 2 * row.low.uncertainty, 1e-9);
        NEAR(row.band_high, most + 2 * row.high.uncertainty, 1e-9);
        for (int q = 0; q < VENT_WEATHER_END; ++q) {
            double at[VENT_WEATHER_END], end[2];
            for (int high = 0; high < 2; ++high) {
                memcpy(at, usual, sizeof at);
                at[q] = range[q][2 * high];
                end[high] = in_weather(&s, at, s.gauge);
            }
            near("moves", row.moves[q], end[1] - end[0], 1e-9, 1e-9);
            ck_assert(row.moves[q] != 0);
        }
    }
    ck_assert(vent_band_row_at(band, VENT_BAND_YEAR, &year));
    vent_band_row first;
    vent_band_row_at(band, 0, &first);
    ck_assert(year.low.value == fmin(first.low.value, row.low.value));
    ck_assert(year.band_high == fmax(first.band_high, row.band_high));
    ck_assert_str_eq(year.name, "year");
    ck_assert(!vent_band_row_at(band, 2, &row) && !vent_band_row_at(NULL, 0, &row));
    vent_band_free(band);
    vent_uncertainty_free(design);
    vent_network_free(s.net);
}
END_TEST

/* No ranges, the weather the network is set to: the answer itself, and nothing moves it. */
START_TEST(without_ranges_the_band_is_the_uncertainty)
{
    vent_error err = VENT_NO_ERROR;
    stack s = stack_new(1);
    vent_uncertainty *design = vent_uncertainty_new(s.net, INPUTS - 1, s.inputs, NULL, &err);
    vent_uncertainty *windy = vent_uncertainty_new(s.net, INPUTS, s.inputs, NULL, &err);
    vent_weather still = month_of(&s, "now", NULL);
    vent_reading answer = vent_uncertainty_of(design, s.gauge, &err);
    for (int k = 0; k < 2; ++k) { /* that the wind was unsure on the day is of no account later */
        vent_band *band = vent_band_new(k ? windy : design, s.gauge, 1, &still, &err);
        well(&err);
        vent_band_row row;
        vent_band_row_at(band, VENT_BAND_YEAR, &row);
        ck_assert(row.low.value == row.usual.value && row.high.value == row.usual.value);
        NEAR(row.usual.value, answer.value, 1e-12);
        NEAR(row.low.uncertainty, answer.uncertainty, 1e-12);
        NEAR(row.band_high - row.band_low, 4 * answer.uncertainty, 1e-12);
        for (int q = 0; q < VENT_WEATHER_END; ++q)
            ck_assert(row.moves[q] == 0);
        vent_band_free(band);
    }
    /* nothing unsure but the weather */
    vent_uncertainty *sure = vent_uncertainty_new(s.net, 1, s.inputs + INPUTS - 1, NULL, &err);
    vent_band *band = vent_band_new(sure, s.gauge, 1, &still, &err);
    vent_band_row row;
    vent_band_row_at(band, 0, &row);
    ck_assert(row.band_low == row.band_high && row.low.uncertainty == 0);
    char text[4000];
    ck_assert(vent_band_text(band, 0, sizeof text, text) > 0);
    ck_assert(strstr(text, "nan") == NULL);
    vent_band_free(band);
    vent_uncertainty_free(sure);
    vent_uncertainty_free(windy);
    vent_uncertainty_free(design);
    vent_network_free(s.net);
}
END_TEST

/* A share f of the soil's flow: C becomes f C; a becomes a/f, b becomes b/f^2. Its uncertainty is that
 * of the stack with these numbers and theirs. */
START_TEST(the_water_table_scales_the_soils_flow)
{
    vent_error err = VENT_NO_ERROR;
    const double f = 0.6;
    const vent_soil soils[2][2] = {
        {vent_soil_power(6e-4, 0.65, &err), vent_soil_power(f * 6e-4, 0.65, &err)},
        {vent_soil_two_term(4e3, 2e5, &err), vent_soil_two_term(4e3 / f, 2e5 / (f * f), &err)}};
    for (int law = 0; law < 2; ++law) {
        NEAR(vent_soil_flow(soils[law][1], 200), f * vent_soil_flow(soils[law][0], 200), 1e-12);
        stack dry = stack_of(soils[law][0], 1), wet = stack_of(soils[law][1], 1);
        wet.inputs[0].uncertainty = dry.inputs[0].uncertainty * soils[law][1].a / soils[law][0].a;
        wet.inputs[1].uncertainty = dry.inputs[1].uncertainty * soils[law][1].b / soils[law][0].b;
        vent_uncertainty *of_dry = vent_uncertainty_new(dry.net, 4, dry.inputs, NULL, &err);
        vent_uncertainty *of_wet = vent_uncertainty_new(wet.net, 4, wet.inputs, NULL, &err);
        vent_weather w = month_of(&dry, "wet", NULL);
        w.span[VENT_WEATHER_SOIL] = vent_span_of(f, f, f, &err);
        vent_band *band = vent_band_new(of_dry, dry.flow, 1, &w, &err);
        vent_reading want = vent_uncertainty_of(of_wet, wet.flow, &err);
        well(&err);
        vent_band_row row;
        vent_band_row_at(band, 0, &row);
        NEAR(row.usual.value, want.value, 1e-9);
        NEAR(row.usual.uncertainty, want.uncertainty, 1e-9);
        vent_band_free(band);
        vent_uncertainty_free(of_dry);
        vent_uncertainty_free(of_wet);
        vent_network_free(dry.net);
        vent_network_free(wet.net);
    }
}
END_TEST

/* ---- judging ------------------------------------------------------------------------------------- */

START_TEST(a_later_reading_is_judged_by_the_nearer_end)
{
    vent_error err = VENT_NO_ERROR;
    stack s = stack_new(1);
    vent_uncertainty *design = design_of(&s);
    vent_weather months[] = {month_of(&s, "January", january), month_of(&s, "July", july)};
    vent_band *band = vent_band_new(design, s.gauge, 2, months, &err);
    vent_band_row row;
    vent_band_row_at(band, 0, &row);
    const double u = 3;
    double below = hypot(row.low.uncertainty, u), above = hypot(row.high.uncertainty, u);
    const struct {
        double value, score;
        int side, verdict;
        const char *words;
    } cases[] = {
        {row.usual.value, 0, 0, VENT_VERDICT_AGREES, "Within the weather (January)."},
        {row.low.value, 0, 0, VENT_VERDICT_AGREES, "Within the weather"},
        {row.low.value - below, 1, -1, VENT_VERDICT_AGREES, "weather and uncertainty"},
        {row.high.value + 2.5 * above, 2.5, 1, VENT_VERDICT_QUESTIONABLE, "Read it again"},
        {row.low.value - 4 * below, 4, -1, VENT_VERDICT_DISAGREES, "Drift: more vacuum than the"},
        {row.high.value + 4 * above, 4, 1, VENT_VERDICT_DISAGREES, "less vacuum"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; ++i) {
        vent_judgement j = vent_band_judge(band, 0, vent_reading_stated(cases[i].value, u), &err);
        well(&err);
        near("score", j.score, cases[i].score, 1e-9, 1e-9);
        near("chance", j.probability, erfc(cases[i].score / sqrt(2)), 1e-6, 0);
        ck_assert_int_eq(j.side, cases[i].side);
        ck_assert_int_eq(j.verdict, cases[i].verdict);
        ck_assert_msg(strstr(j.text, cases[i].words) != NULL, "%s", j.text);
        ck_assert(j.low == row.low.value && j.high == row.high.value);
    }
    vent_judgement j = vent_band_judge(band, VENT_BAND_YEAR, vent_reading_stated(-1, u), &err);
    ck_assert_msg(strstr(j.text, "the fan stands still") != NULL, "%s", j.text);
    /* the year forgives what any month does */
    vent_band_row other;
    vent_band_row_at(band, 1, &other);
    for (double p = -600; p < 0; p += 7) {
        vent_reading reading = vent_reading_stated(p, u);
        double score = vent_band_judge(band, VENT_BAND_YEAR, reading, &err).score;
        ck_assert(score <= vent_band_judge(band, 0, reading, &err).score);
        ck_assert(score <= vent_band_judge(band, 1, reading, &err).score);
    }
    /* marks are where the judgement turns */
    vent_marks marks = vent_band_marks(band, VENT_BAND_YEAR, u, &err);
    vent_reading inside = vent_reading_stated(marks.low * (1 - 1e-6), u);
    vent_reading outside = vent_reading_stated(marks.low * (1 + 1e-6), u);
    ck_assert_int_eq(vent_band_judge(band, VENT_BAND_YEAR, inside, &err).verdict,
                     VENT_VERDICT_QUESTIONABLE);
    ck_assert_int_eq(vent_band_judge(band, VENT_BAND_YEAR, outside, &err).verdict,
                     VENT_VERDICT_DISAGREES);
    ck_assert_uint_eq(marks.flags & VENT_MARKS_ZERO, 0);
    ck_assert(vent_band_marks(band, VENT_BAND_YEAR, 200, &err).flags & VENT_MARKS_ZERO);
    vent_band_free(band);
    vent_uncertainty_free(design);
    vent_network_free(s.net);
}
END_TEST

START_TEST(known_weather_judges_more_sharply)
{
    vent_error err = VENT_NO_ERROR;
    stack s = stack_new(1);
    vent_uncertainty *design = design_of(&s);
    double p = observed(s.net, s.gauge);
    vent_site_reading taken = {s.gauge, vent_reading_stated(p, 2)};
    vent_uncertainty *built = vent_commissioned(design, 1, &taken, &err);
    vent_weather month = month_of(&s, "January", january);
    vent_band *band = vent_band_new(built, s.gauge, 1, &month, &err);
    vent_weather today = vent_weather_of(s.net, "as commissioned", &err);
    vent_reading later = vent_reading_stated(p - 12, 2);
    ck_assert_int_eq(vent_band_judge(band, 0, later, &err).verdict, VENT_VERDICT_AGREES);
    vent_judgement j = vent_band_judge_in(band, today, later, &err);
    well(&err);
    ck_assert_int_eq(j.verdict, VENT_VERDICT_DISAGREES);
    ck_assert_msg(strstr(j.text, "as commissioned") != NULL, "%s", j.text);
    /* What anchors the band is the reading's 2 Pa and, through the day's 3 Pa of wind, at most 3 more. */
    ck_assert(j.score > 12 / sqrt(4 + 4 + 9) && j.score < 12 / sqrt(4 + 4));
    vent_band_free(band);
    vent_uncertainty_free(built);
    vent_uncertainty_free(design);
    vent_network_free(s.net);
}
END_TEST

/* ---- coverage ------------------------------------------------------------------------------------- */

static double normal(uint64_t *k)
{
    return vent__normal_quantile(vent__random_share(2024, (*k)++));
}

/* A true stack drawn from what the design says of its inputs. */
static vent_network *draw_truth(const stack *s, uint64_t *k)
{
    vent_error err = VENT_NO_ERROR;
    vent_network *net = vent_network_copy(s->net, &err);
    double z[INPUTS], r = s->correlation[1];
    for (int i = 0; i < INPUTS; ++i)
        z[i] = normal(k);
    z[1] = r * z[0] + sqrt(1 - r * r) * z[1];
    for (int i = 0; i < INPUTS; ++i) {
        vent_parameter p = s->inputs[i].parameter;
        double value = vent_network_get(net, p, &err) + s->inputs[i].uncertainty * z[i];
        vent_network_set(net, p, fmax(value, i == 3 ? 0 : -INFINITY), &err);
    }
    well(&err);
    return net;
}

static vent_site_reading read_truth(const vent_network *truth, vent_observable o, double u,
                                    uint64_t *k)
{
    return (vent_site_reading){o, vent_reading_stated(observed(truth, o) + u * normal(k), u)};
}

/* Over random stacks that are what their design says: chi-square and scores come out as often as they
 * should; after commissioning the band of another day holds 95 %, and at the worst end of the weather,
 * where only one side counts, 97.7 %. */
START_TEST(bands_hold_the_truth_as_often_as_told)
{
    enum { TRIALS = 2000 };
    vent_error err = VENT_NO_ERROR;
    stack s = stack_new(0.5);
    vent_uncertainty *design = design_of(&s);
    uint64_t k = 0;
    int sheets = 0, lines = 0, known = 0, worst = 0, alarms = 0;
    vent_weather cold = month_of(&s, "cold", NULL), range;
    cold.span[VENT_WEATHER_OUTDOOR_TEMPERATURE] = vent_span_of(258, 258, 258, &err);
    cold.span[VENT_WEATHER_SOIL] = vent_span_of(0.7, 0.7, 0.7, &err);
    cold.span[VENT_WEATHER_WIND_PRESSURE] = vent_span_of(-20, -20, -20, &err);
    range = cold;
    range.span[VENT_WEATHER_SOIL] = vent_span_of(0.7, 1, 1.3, &err);
    for (int trial = 0; trial < TRIALS; ++trial) {
        vent_network *truth = draw_truth(&s, &k);
        vent_site_reading taken[] = {read_truth(truth, s.gauge, 3, &k),
                                     read_truth(truth, s.flow, 5e-4, &k)};
        vent_sheet *sheet = vent_sheet_new(design, 2, taken, &err);
        sheets += vent_sheet_whole(sheet).probability >= 0.05;
        vent_sheet_line line;
        lines += vent_sheet_line_at(sheet, 0, &line) && fabs(line.score) <= 1.959964;
        vent_sheet_free(sheet);
        vent_uncertainty *built = vent_commissioned(design, 2, taken, &err);
        stack later = s;
        later.net = truth;
        const double weather[] = {258, 285.15, -20, 0, 98300, 0.7};
        double p = in_weather(&later, weather, s.pit);
        vent_reading reading = vent_reading_stated(p + 3 * normal(&k), 3);
        vent_band *sharp = vent_band_new(built, s.pit, 1, &cold, &err);
        vent_band *wide = vent_band_new(built, s.pit, 1, &range, &err);
        well(&err);
        vent_band_row row;
        vent_band_row_at(sharp, 0, &row);
        known += fabs(p - row.usual.value) <= 1.959964 * row.usual.uncertainty;
        alarms += vent_band_judge(sharp, 0, reading, &err).probability < 0.05;
        vent_band_row_at(wide, 0, &row);
        worst += p >= row.band_low && p <= row.band_high;
        vent_band_free(sharp);
        vent_band_free(wide);
        vent_uncertainty_free(built);
        vent_network_free(truth);
    }
    printf("# of %d: sheets %d, lines %d, known weather %d, worst end %d, alarms %d\n", TRIALS,
           sheets, lines, known, worst, alarms);
    ck_assert(sheets > 0.93 * TRIALS && sheets < 0.97 * TRIALS);
    ck_assert(lines > 0.93 * TRIALS && lines < 0.97 * TRIALS);
    ck_assert(known > 0.93 * TRIALS && known < 0.97 * TRIALS);
    ck_assert(worst > 0.965 * TRIALS && worst < 0.989 * TRIALS);
    ck_assert(alarms > 0.03 * TRIALS && alarms < 0.07 * TRIALS);
    vent_uncertainty_free(design);
    vent_network_free(s.net);
}
END_TEST

/* ---- what is refused ---- */

START_TEST(bad_bands_are_refused)
{
    vent_error err = VENT_NO_ERROR;
    stack s = stack_new(1);
    vent_uncertainty *design = design_of(&s);
    vent_weather good = month_of(&s, "January", january), bad;
    vent_observable nowhere = s.gauge;
    nowhere.item = 9;
    REFUSED(vent_band_new(NULL, s.gauge, 1, &good, e), VENT_E_ARGUMENT, "known");
    REFUSED(vent_band_new(design, s.gauge, 1, NULL, e), VENT_E_ARGUMENT, "weather");
    REFUSED(vent_band_new(design, s.gauge, 0, &good, e), VENT_E_ARGUMENT, "between 1 and 400");
    REFUSED(vent_band_new(design, nowhere, 1, &good, e), VENT_E_NOT_FOUND, "no such place");
    for (int q = 0; q < VENT_WEATHER_END; ++q) {
        bad = good;
        bad.span[q].low = good.span[q].high + 1;
        REFUSED(vent_band_new(design, s.gauge, 1, &bad, e), VENT_E_ARGUMENT, "in this order");
        bad.span[q] = (vent_span){NAN, NAN, NAN};
        REFUSED(vent_band_new(design, s.gauge, 1, &bad, e), VENT_E_ARGUMENT, "row 0 (January)");
        bad.span[q] = (vent_span){-1e9, 0, 1e9};
        REFUSED(vent_band_new(design, s.gauge, 1, &bad, e), VENT_E_ARGUMENT, "must lie between");
    }
    bad = good;
    bad.span[VENT_WEATHER_SOIL] = (vent_span){0, 0.5, 1};
    REFUSED(vent_band_new(design, s.gauge, 1, &bad, e), VENT_E_ARGUMENT, "soil");
    vent_band *band = vent_band_new(design, s.gauge, 1, &good, &err);
    well(&err);
    vent_reading reading = vent_reading_stated(-200, 3), poor = {.value = -200, .uncertainty = 0};
    REFUSED(vent_band_judge(band, 1, reading, e), VENT_E_NOT_FOUND, "no row 1");
    REFUSED(vent_band_judge(band, -2, reading, e), VENT_E_NOT_FOUND, "no row -2");
    REFUSED(vent_band_judge(band, 0, poor, e), VENT_E_ARGUMENT, "must be above 0");
    REFUSED(vent_band_judge(NULL, 0, reading, e), VENT_E_ARGUMENT, "band");
    REFUSED(vent_band_judge_in(band, bad, reading, e), VENT_E_ARGUMENT, "soil");
    REFUSED(vent_band_judge_in(band, good, poor, e), VENT_E_ARGUMENT, "must be above 0");
    REFUSED(vent_band_marks(band, 5, 1, e), VENT_E_NOT_FOUND, "no row 5");
    REFUSED(vent_band_marks(band, 0, -1, e), VENT_E_ARGUMENT, "uncertainty");
    REFUSED(vent_band_marks(band, 0, NAN, e), VENT_E_ARGUMENT, "uncertainty");
    ck_assert(vent_band_text(band, NAN, 0, NULL) == 0 && vent_band_text(NULL, 1, 0, NULL) == 0);
    ck_assert_int_eq(vent_band_judge(band, 9, reading, NULL).verdict, VENT_VERDICT_NONE);
    ck_assert(vent_band_count(NULL) == 0);
    vent_band_free(NULL);
    vent_band_free(band);
    vent_uncertainty_free(design);
    vent_network_free(s.net);
}
END_TEST

static double commission(const stack *s, const vent_weather *w, vent_error *err)
{
    vent_uncertainty *design = vent_uncertainty_new(s->net, INPUTS, s->inputs, s->correlation, err);
    vent_site_reading taken[] = {{s->gauge, vent_reading_stated(-330, 3)},
                                 {s->flow, vent_reading_stated(0.025, 1e-3)}};
    vent_sheet *sheet = design ? vent_sheet_new(design, 2, taken, err) : NULL;
    vent_uncertainty *built = sheet ? vent_commissioned(design, 2, taken, err) : NULL;
    vent_band *band = built ? vent_band_new(built, s->gauge, 1, w, err) : NULL;
    double low = NAN;
    if (band)
        low = vent_band_judge_in(band, *w, vent_reading_stated(-300, 2), err).low;
    vent_band_free(band);
    vent_uncertainty_free(built);
    vent_sheet_free(sheet);
    vent_uncertainty_free(design);
    return low;
}

START_TEST(refused_memory_is_an_error)
{
    vent_error err = VENT_NO_ERROR;
    stack s = stack_new(1);
    vent_weather w = month_of(&s, "now", NULL);
    double want = commission(&s, &w, &err);
    well(&err);
    for (long k = 1;; ++k) {
        vent_error each = VENT_NO_ERROR;
        refuse_request(k);
        double got = commission(&s, &w, &each);
        refuse_request(0);
        if (each.status == VENT_OK && got == want)
            break;
        /* words fall short without an error: the last requests of all */
        ck_assert_msg(each.status == VENT_E_MEMORY, "refusal %ld: %d '%s'", k, each.status,
                      each.message);
    }
    vent_network_free(s.net);
}
END_TEST

Suite *band_suite(void)
{
    Suite *suite = suite_create("band");
    TCase *band = tcase_create("band");
    tcase_add_test(band, spans_of_wind_and_room);
    tcase_add_test(band, the_band_ends_where_the_weather_does);
    tcase_add_test(band, without_ranges_the_band_is_the_uncertainty);
    tcase_add_test(band, the_water_table_scales_the_soils_flow);
    tcase_add_test(band, a_later_reading_is_judged_by_the_nearer_end);
    tcase_add_test(band, known_weather_judges_more_sharply);
    suite_add_tcase(suite, band);
    TCase *coverage = tcase_create("coverage");
    tcase_set_timeout(coverage, 120);
    tcase_add_test(coverage, bands_hold_the_truth_as_often_as_told);
    suite_add_tcase(suite, coverage);
    TCase *refusal = tcase_create("refusal");
    tcase_add_test(refusal, bad_bands_are_refused);
    tcase_add_test(refusal, refused_memory_is_an_error);
    suite_add_tcase(suite, refusal);
    return suite;
}
