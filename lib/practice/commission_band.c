/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What one observable may be over the weather of a year, and later readings held against it. */
#include <stdio.h>
#include <stdlib.h>
#include <ventstack/many.h>
#include <ventstack/units.h>

#include "practice/commissioning.h"
#include "practice/fitting.h"
#include "practice/known.h"

enum {
    MOST_ROWS = 400,
    QUANTITIES = VENT_WEATHER_END,
    CORNERS = 1 << QUANTITIES,
    POINTS = 1 + CORNERS + 2 * QUANTITIES /* usual, corners, each quantity alone at both ends */
};

_Static_assert(QUANTITIES == 6, "vent_weather and vent_band_row are frozen");

/* A point of the weather: one value of each quantity. */
typedef struct point {
    double value[QUANTITIES];
} point;

static const struct {
    const char *words;
    int parameter; /* of the network; none for the soil, which is all suction points' */
} quantity[QUANTITIES] = {
    [VENT_WEATHER_OUTDOOR_TEMPERATURE] = {"outdoor temperature",
                                          VENT_PARAMETER_OUTDOOR_TEMPERATURE},
    [VENT_WEATHER_SOIL_GAS_TEMPERATURE] = {"soil gas temperature",
                                           VENT_PARAMETER_SOIL_GAS_TEMPERATURE},
    [VENT_WEATHER_WIND_PRESSURE] = {"wind pressure", VENT_PARAMETER_WIND_PRESSURE},
    [VENT_WEATHER_BUILDING_PRESSURE] = {"building pressure", VENT_PARAMETER_BUILDING_PRESSURE},
    [VENT_WEATHER_BAROMETRIC_PRESSURE] = {"barometric pressure",
                                          VENT_PARAMETER_BAROMETRIC_PRESSURE},
    [VENT_WEATHER_SOIL] = {"soil", VENT_PARAMETER_NONE},
};

static const double soil_low = 1e-3, soil_high = 1e3;

/* ---- weather ------------------------------------------------------------------------------ */

static const vent_span no_span = {NAN, NAN, NAN};

static bool check_span(vent_span span, const char *what, double low, double high,
                       const char *function, vent_error *err)
{
    if (!(span.low <= span.usual && span.usual <= span.high))
        return vent__fail(err, VENT_E_ARGUMENT, function, what, -1, span.usual, span.low, span.high,
                          "%s: least %g, usual %g, greatest %g must be numbers in this order", what,
                          span.low, span.usual, span.high);
    if (!(span.low >= low && span.high <= high))
        return vent__fail(err, VENT_E_ARGUMENT, function, what, -1,
                          span.low >= low ? span.high : span.low, low, high,
                          "%s: its range %g to %g must lie between %g and %g", what, span.low,
                          span.high, low, high);
    return true;
}

vent_span vent_span_of(double low, double usual, double high, vent_error *err)
{
    vent_span span = {low, usual, high};
    vent_error own = VENT_NO_ERROR;
    bool sound =
        !vent__failed(err) && check_span(span, "span", -1e300, 1e300, __func__, err ? err : &own);
    return sound ? span : no_span;
}

vent_weather vent_weather_of(const vent_network *network, const char *name, vent_error *err)
{
    vent_weather weather = {.name = ""};
    for (int q = 0; q < QUANTITIES; ++q)
        weather.span[q] = no_span;
    if (vent__failed(err) || !VENT__POINTER(network) || !VENT__POINTER(name))
        return weather;
    snprintf(weather.name, sizeof weather.name, "%s", name);
    for (int q = 0; q < QUANTITIES; ++q) {
        double now = 1;
        if (quantity[q].parameter != VENT_PARAMETER_NONE)
            now = vent_network_get(
                network, vent_network_parameter(network, quantity[q].parameter, 0, 0, 0, err), err);
        weather.span[q] = (vent_span){now, now, now};
    }
    return weather;
}

vent_span vent_wind_span(vent_span coefficient, vent_span speed, double density, vent_error *err)
{
    if (vent__failed(err) || !check_span(coefficient, "coefficient", -5, 5, __func__, err) ||
        !check_span(speed, "speed", 0, 100, __func__, err) ||
        !VENT__RANGE(density, "kg/m3", 0.1, 10))
        return no_span;
    double least = density / 2 * speed.low * speed.low;
    double most = density / 2 * speed.high * speed.high;
    double usual = density / 2 * speed.usual * speed.usual;
    return (vent_span){.low = 0 + fmin(coefficient.low * least, coefficient.low * most),
                       .usual = 0 + coefficient.usual * usual,
                       .high = 0 + fmax(coefficient.high * least, coefficient.high * most)};
}

/* Pressure at the slab of a column inside against one outside that meet at the neutral level. */
static double room_pressure(double outdoor, double indoor, double level, double barometer)
{
    double outside = vent_air_moist(outdoor, barometer, 0, NULL).density;
    double inside = vent_air_moist(indoor, barometer, 0, NULL).density;
    return (inside - outside) * VENT_GRAVITY * level;
}

vent_span vent_room_span(vent_span outdoor_temperature, double indoor_temperature,
                         double neutral_level, double barometric_pressure, vent_error *err)
{
    if (vent__failed(err) ||
        !check_span(outdoor_temperature, "outdoor_temperature", 233.15, 333.15, __func__, err) ||
        !VENT__RANGE(indoor_temperature, "K", 233.15, 333.15) ||
        !VENT__RANGE(neutral_level, "m", 0, 100) ||
        !VENT__RANGE(barometric_pressure, "Pa", 3e4, 1.2e5))
        return no_span;
    const double *t = &(double[]){outdoor_temperature.low, outdoor_temperature.usual,
                                  outdoor_temperature.high}[0];
    double p[3];
    for (int i = 0; i < 3; ++i)
        p[i] = room_pressure(t[i], indoor_temperature, neutral_level, barometric_pressure);
    return (vent_span){p[0], p[1], p[2]};
}

static bool check_weather(const vent_band *band, const vent_weather *weather, int row,
                          const char *function, vent_error *err)
{
    char what[96];
    for (int q = 0; q < QUANTITIES; ++q) {
        vent_parameter_range range = {.low = soil_low, .high = soil_high};
        if (quantity[q].parameter != VENT_PARAMETER_NONE)
            vent_network_parameter_range(
                band->network,
                vent_network_parameter(band->network, quantity[q].parameter, 0, 0, 0, err), &range);
        snprintf(what, sizeof what, "row %d (%.31s), %s", row, weather->name, quantity[q].words);
        if (!check_span(weather->span[q], what, range.low, range.high, function, err))
            return false;
    }
    return true;
}

/* ---- solving in weather ---------------------------------------------------------------------- */

static double soil_share(int power, double share)
{
    return pow(share, power);
}

/* Values of everything that weather changes, of all points, a parameter a row. */
typedef struct cases {
    size_t columns;
    vent_varied *varied;
    double *value;
    double result[POINTS];
} cases;

static void cases_free(cases *c)
{
    free(c->varied);
    free(c->value);
}

static bool cases_new(cases *c, const vent_band *band)
{
    size_t most = QUANTITIES + band->soils;
    c->columns = 0;
    c->varied = calloc(most, sizeof *c->varied);
    c->value = calloc(most * POINTS, sizeof *c->value);
    if (!c->varied || !c->value)
        return false;
    for (int q = 0; q < QUANTITIES; ++q)
        if (quantity[q].parameter != VENT_PARAMETER_NONE)
            c->varied[c->columns++].parameter =
                vent_network_parameter(band->network, quantity[q].parameter, 0, 0, 0, NULL);
    for (size_t s = 0; s < band->soils; ++s)
        c->varied[c->columns++].parameter = band->soil[s].parameter;
    for (size_t k = 0; k < c->columns; ++k) {
        c->varied[k].value = c->value + k * POINTS;
        c->varied[k].stride = 1;
    }
    return true;
}

static void put_point(cases *c, const vent_band *band, size_t i, const point *at)
{
    size_t k = 0;
    for (int q = 0; q < QUANTITIES; ++q)
        if (quantity[q].parameter != VENT_PARAMETER_NONE)
            c->value[k++ * POINTS + i] = at->value[q];
    for (size_t s = 0; s < band->soils; ++s)
        c->value[k++ * POINTS + i] =
            band->soil[s].value * soil_share(band->soil[s].power, at->value[VENT_WEATHER_SOIL]);
}

static point usual_point(const vent_weather *w)
{
    point at;
    for (int q = 0; q < QUANTITIES; ++q)
        at.value[q] = w->span[q].usual;
    return at;
}

static bool is_range(vent_span span)
{
    return span.high > span.low;
}

/* The usual weather, then all corners of what has a range, then each of these alone at both ends. */
static size_t lay_points(const vent_weather *w, point *points)
{
    size_t n = 0;
    points[n++] = usual_point(w);
    for (int corner = 0; corner < CORNERS; ++corner) {
        point at = usual_point(w);
        bool is_new = true;
        for (int q = 0; q < QUANTITIES; ++q) {
            bool high = corner >> q & 1;
            is_new = is_new && (is_range(w->span[q]) || !high);
            at.value[q] = high ? w->span[q].high : w->span[q].low;
        }
        if (is_new)
            points[n++] = at;
    }
    for (int q = 0; q < QUANTITIES; ++q)
        for (int high = 0; is_range(w->span[q]) && high < 2; ++high) {
            points[n] = usual_point(w);
            points[n++].value[q] = high ? w->span[q].high : w->span[q].low;
        }
    return n;
}

static bool solve_points(cases *c, const vent_band *band, const vent_weather *w, size_t n,
                         const point *points, const char *function, vent_error *err)
{
    for (size_t i = 0; i < n; ++i)
        put_point(c, band, i, &points[i]);
    vent_error one = VENT_NO_ERROR;
    vent_observed observed = {band->observable, c->result, 1};
    if (vent_network_solve_many(band->network, n, c->columns, c->varied, 1, &observed, NULL,
                                &one) == 0)
        return true;
    return vent__fail(err, one.status, function, "weather", one.index, NAN, NAN, NAN,
                      "%.31s: no answer in some of its weather: %.200s", w->name, one.message);
}

/* Standard uncertainty at one point: the network set to it and solved, gradients from there. */
static bool uncertainty_at(const vent_band *band, const point *at, double *uncertainty,
                           vent_error *err)
{
    *uncertainty = 0;
    if (band->inputs == 0)
        return true;
    double *gradient = calloc(2 * band->inputs, sizeof *gradient), variance = 0;
    if (!gradient)
        return vent__no_memory(err, "vent_band_new");
    vent_network *network = vent_network_copy(band->network, err);
    for (int q = 0; network && q < QUANTITIES; ++q)
        if (quantity[q].parameter != VENT_PARAMETER_NONE)
            vent_network_set(network,
                             vent_network_parameter(network, quantity[q].parameter, 0, 0, 0, err),
                             at->value[q], err);
    double share = at->value[VENT_WEATHER_SOIL];
    for (size_t s = 0; network && s < band->soils; ++s)
        vent_network_set(network, band->soil[s].parameter,
                         band->soil[s].value * soil_share(band->soil[s].power, share), err);
    vent_solution *solution = network ? vent_network_solve(network, NULL, err) : NULL;
    bool done = solution && vent_solution_gradient(solution, NULL, band->observable, band->inputs,
                                                   band->parameters, gradient, err);
    for (size_t i = 0; i < band->inputs; ++i)
        gradient[i] *= soil_share(band->power[i], share);
    vent__propagate(1, band->inputs, gradient, band->covariance, &variance,
                    gradient + band->inputs);
    *uncertainty = sqrt(fmax(0, variance));
    vent_solution_free(solution);
    vent_network_free(network);
    free(gradient);
    return done;
}

static vent_reading reading_at(const vent_band *band, const cases *c, const point *points, size_t i,
                               bool *done, vent_error *err)
{
    vent_reading r = {.value = c->result[i], .uncertainty = NAN};
    *done = *done && uncertainty_at(band, &points[i], &r.uncertainty, err);
    return r;
}

/* Everything about one row of weather. */
static bool work_out(const vent_band *band, const vent_weather *w, vent_band_row *row,
                     const char *function, vent_error *err)
{
    point points[POINTS];
    cases c;
    size_t n = lay_points(w, points), low = 0, high = 0, next = n;
    *row = (vent_band_row){.name = ""};
    snprintf(row->name, sizeof row->name, "%.31s", w->name);
    bool done = cases_new(&c, band) || vent__no_memory(err, function);
    done = done && solve_points(&c, band, w, n, points, function, err);
    if (done) {
        for (size_t i = 0; i < n; ++i) {
            low = c.result[i] < c.result[low] ? i : low;
            high = c.result[i] > c.result[high] ? i : high;
        }
        row->low = reading_at(band, &c, points, low, &done, err);
        row->usual = reading_at(band, &c, points, 0, &done, err);
        row->high = reading_at(band, &c, points, high, &done, err);
        row->band_low = row->low.value - VENT__QUESTIONABLE * row->low.uncertainty;
        row->band_high = row->high.value + VENT__QUESTIONABLE * row->high.uncertainty;
        for (int q = QUANTITIES; q-- > 0;) /* the last points are pairs */
            if (is_range(w->span[q])) {
                next -= 2;
                row->moves[q] = c.result[next + 1] - c.result[next];
            }
    }
    cases_free(&c);
    return done;
}

/* ---- making a band ------------------------------------------------------------------------ */

static bool is_weather(vent_parameter parameter)
{
    for (int q = 0; q < QUANTITIES; ++q)
        if (parameter.kind != VENT_PARAMETER_NONE && parameter.kind == quantity[q].parameter)
            return true;
    return false;
}

/* By which power of its flow's share a soil's number goes: C as the flow, a of dP = a Q + b Q^2 as one
 * over it, b as one over its square, and an exponent not at all. */
static int soil_power_of(const vent_network *network, vent_parameter parameter)
{
    vent_parameter_range range = {.name = ""};
    if (parameter.kind != VENT_PARAMETER_SOIL)
        return 0;
    vent_network_parameter_range(network, parameter, &range);
    switch (range.name[0]) {
    case 'c':
        return 1;
    case 'a':
        return -1;
    case 'b':
        return -2;
    default:
        return 0;
    }
}

static bool take_inputs(vent_band *band, const vent_uncertainty *known)
{
    size_t all = known->n, n = 0, *kept = calloc(all, sizeof *kept);
    band->parameters = calloc(all, sizeof *band->parameters);
    band->power = calloc(all, sizeof *band->power);
    band->covariance = calloc(all * all, sizeof *band->covariance);
    bool done = kept && band->parameters && band->power && band->covariance;
    for (size_t i = 0; done && i < all; ++i)
        if (!is_weather(known->parameters[i])) {
            band->parameters[n] = known->parameters[i];
            band->power[n] = soil_power_of(band->network, known->parameters[i]);
            kept[n++] = i;
        }
    for (size_t i = 0; done && i < n; ++i)
        for (size_t j = 0; j < n; ++j)
            band->covariance[i * n + j] = known->covariance[kept[i] * all + kept[j]];
    band->inputs = n;
    free(kept);
    return done;
}

static bool take_soils(vent_band *band)
{
    int nodes = vent_network_node_count(band->network);
    band->soil = calloc(2 * (size_t)nodes + 1, sizeof *band->soil);
    for (int node = 0; band->soil && node < nodes; ++node)
        for (int slot = 0; slot < 2; ++slot) {
            vent_error none = VENT_NO_ERROR;
            vent_parameter p =
                vent_network_parameter(band->network, VENT_PARAMETER_SOIL, node, 0, slot, &none);
            int power = none.status == VENT_OK ? soil_power_of(band->network, p) : 0;
            if (power != 0)
                band->soil[band->soils++] =
                    (vent__soil_number){p, vent_network_get(band->network, p, NULL), power};
        }
    return band->soil != NULL;
}

/* The year's row: extremes of all rows, and what is usual and what moves it in weather that has
 * the ranges of all. */
static bool work_out_year(vent_band *band, const vent_weather *weather, vent_error *err)
{
    vent_weather all = weather[0];
    snprintf(all.name, sizeof all.name, "year");
    for (int q = 0; q < QUANTITIES; ++q) {
        double sum = 0;
        for (size_t i = 0; i < band->n; ++i) {
            all.span[q].low = fmin(all.span[q].low, weather[i].span[q].low);
            all.span[q].high = fmax(all.span[q].high, weather[i].span[q].high);
            sum += weather[i].span[q].usual;
        }
        double mean = sum / (double)band->n;
        all.span[q].usual = fmin(all.span[q].high, fmax(all.span[q].low, mean));
    }
    if (!work_out(band, &all, &band->year, "vent_band_new", err))
        return false;
    vent_band_row *year = &band->year;
    const vent_band_row *first = &band->rows[0];
    year->low = first->low;
    year->high = first->high;
    year->band_low = first->band_low;
    year->band_high = first->band_high;
    for (size_t i = 1; i < band->n; ++i) {
        const vent_band_row *row = &band->rows[i];
        year->low = row->low.value < year->low.value ? row->low : year->low;
        year->high = row->high.value > year->high.value ? row->high : year->high;
        year->band_low = fmin(year->band_low, row->band_low);
        year->band_high = fmax(year->band_high, row->band_high);
    }
    return true;
}

static bool fill_band(vent_band *band, const vent_uncertainty *known, size_t n,
                      const vent_weather *weather, vent_error *err)
{
    band->n = n;
    band->network = vent_network_copy(known->network, err);
    band->rows = calloc(n, sizeof *band->rows);
    if (!band->network)
        return false;
    if (!band->rows || !take_inputs(band, known) || !take_soils(band))
        return vent__no_memory(err, "vent_band_new");
    vent__place_words(known->network, known->solution, band->observable, sizeof band->where,
                      band->where);
    for (size_t i = 0; i < n; ++i)
        if (!check_weather(band, &weather[i], (int)i, "vent_band_new", err) ||
            !work_out(band, &weather[i], &band->rows[i], "vent_band_new", err))
            return false;
    return work_out_year(band, weather, err);
}

vent_band *vent_band_new(const vent_uncertainty *known, vent_observable observable, size_t n,
                         const vent_weather *weather, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(known) || !VENT__POINTER(weather) ||
        !vent__check_range(err, __func__, "n", "", (double)n, 1, MOST_ROWS))
        return NULL;
    if (vent_network_observable_name(known->network, observable, 0, NULL) == 0) {
        VENT__FAIL(VENT_E_NOT_FOUND, "observable", -1, "the network has no such place to read");
        return NULL;
    }
    vent_error own = VENT_NO_ERROR;
    vent_band *band = calloc(1, sizeof *band);
    if (!band) {
        vent__no_memory(err, __func__);
        return NULL;
    }
    band->observable = observable;
    if (!fill_band(band, known, n, weather, err ? err : &own)) {
        vent_band_free(band);
        return NULL;
    }
    return band;
}

void vent_band_free(vent_band *band)
{
    if (!band)
        return;
    vent_network_free(band->network);
    free(band->parameters);
    free(band->power);
    free(band->covariance);
    free(band->soil);
    free(band->rows);
    free(band);
}

/* ---- reading a band ----------------------------------------------------------------------- */

size_t vent_band_where(const vent_band *band, size_t size, char *text)
{
    if (!band)
        return 0;
    if (text && size > 0)
        snprintf(text, size, "%s", band->where);
    return strlen(band->where);
}

size_t vent_band_count(const vent_band *band)
{
    return band ? band->n : 0;
}

static const vent_band_row *find_row(const vent_band *band, int row)
{
    if (row == VENT_BAND_YEAR)
        return &band->year;
    return row >= 0 && (size_t)row < band->n ? &band->rows[row] : NULL;
}

bool vent_band_row_at(const vent_band *band, int row, vent_band_row *out)
{
    const vent_band_row *found = band && out ? find_row(band, row) : NULL;
    if (found)
        *out = *found;
    return found != NULL;
}

static bool check_row(const vent_band *band, int row, const char *function, vent_error *err)
{
    return find_row(band, row) ||
           vent__fail(err, VENT_E_NOT_FOUND, function, "row", row, row, VENT_BAND_YEAR,
                      (double)band->n - 1,
                      "there is no row %d: this band has 0 to %zu, and %d for "
                      "the year",
                      row, band->n - 1, VENT_BAND_YEAR);
}

/* Rows that a number stands for: one, or all of them for the year. */
static void rows_of(const vent_band *band, int row, size_t *first, size_t *end)
{
    *first = row == VENT_BAND_YEAR ? 0 : (size_t)row;
    *end = row == VENT_BAND_YEAR ? band->n : *first + 1;
}

vent_marks vent_band_marks(const vent_band *band, int row, double uncertainty, vent_error *err)
{
    vent_marks marks = {NAN, NAN, NAN, NAN, 0, 0};
    if (vent__failed(err) || !VENT__POINTER(band) || !check_row(band, row, __func__, err) ||
        !VENT__RANGE(uncertainty, vent_observable_unit(band->observable), 0, 1e300))
        return marks;
    size_t first, end;
    rows_of(band, row, &first, &end);
    for (size_t i = first; i < end; ++i) {
        const vent_band_row *r = &band->rows[i];
        double below = VENT__DISAGREES * hypot(r->low.uncertainty, uncertainty);
        double above = VENT__DISAGREES * hypot(r->high.uncertainty, uncertainty);
        marks.low = fmin(marks.low, r->low.value - below); /* fmin and fmax pass NaN over */
        marks.high = fmax(marks.high, r->high.value + above);
    }
    const vent_band_row *all = find_row(band, row);
    marks.fall = (all->usual.value - all->low.value) / fabs(all->usual.value);
    marks.rise = (all->high.value - all->usual.value) / fabs(all->usual.value);
    if (marks.low <= 0 && marks.high >= 0)
        marks.flags |= VENT_MARKS_ZERO;
    if (!(marks.fall <= 0.2 && marks.rise <= 0.2))
        marks.flags |= VENT_MARKS_WEATHER;
    return marks;
}

/* ---- judging ------------------------------------------------------------------------------ */

static const vent_judgement no_judgement = {VENT_VERDICT_NONE, 0, NAN, NAN, NAN, NAN, NAN, ""};

static vent_judgement judge_row(const vent_band_row *row, vent_reading reading)
{
    vent_judgement j = {VENT_VERDICT_AGREES, 0, row->low.value, row->high.value, 0, 0, 1, ""};
    double spread = 0;
    if (reading.value < row->low.value) {
        j.side = -1;
        j.beyond = row->low.value - reading.value;
        spread = row->low.uncertainty;
    } else if (reading.value > row->high.value) {
        j.side = 1;
        j.beyond = reading.value - row->high.value;
        spread = row->high.uncertainty;
    }
    j.score = j.beyond / hypot(spread, reading.uncertainty);
    j.probability = vent__two_sided(j.score);
    j.verdict = vent__verdict_of_score(j.score);
    return j;
}

/* Of several rows the one that favours the reading. */
static vent_judgement judge_rows(const vent_band *band, int row, vent_reading reading)
{
    size_t first, end;
    rows_of(band, row, &first, &end);
    const vent_band_row *all = find_row(band, row);
    vent_judgement best = judge_row(&band->rows[first], reading);
    for (size_t i = first + 1; i < end; ++i) {
        vent_judgement one = judge_row(&band->rows[i], reading);
        if (one.score < best.score)
            best = one;
    }
    if (reading.value >= all->low.value && reading.value <= all->high.value)
        best = judge_row(all, reading); /* between the rows: some weather on the way gives it */
    best.low = all->low.value;
    best.high = all->high.value;
    return best;
}

vent_judgement vent_band_judge(const vent_band *band, int row, vent_reading reading,
                               vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(band) || !check_row(band, row, __func__, err) ||
        !vent__check_reading(reading, "reading", -1, __func__, err))
        return no_judgement;
    vent_judgement j = judge_rows(band, row, reading);
    vent__judgement_words(band, find_row(band, row)->name, reading, &j);
    return j;
}

vent_judgement vent_band_judge_in(const vent_band *band, vent_weather weather, vent_reading reading,
                                  vent_error *err)
{
    vent_error own = VENT_NO_ERROR;
    vent_error *to = err ? err : &own;
    vent_band_row row;
    if (vent__failed(err) || !VENT__POINTER(band) ||
        !vent__check_reading(reading, "reading", -1, __func__, to) ||
        !check_weather(band, &weather, 0, __func__, to) ||
        !work_out(band, &weather, &row, __func__, to))
        return no_judgement;
    vent_judgement j = judge_row(&row, reading);
    vent__judgement_words(band, row.name, reading, &j);
    return j;
}
