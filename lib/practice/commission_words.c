/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sheet, band and judgement in words. */
#include <stdio.h>
#include <string.h>
#include <ventstack/units.h>

#include "practice/commissioning.h"
#include "practice/fitting.h"

enum { NUMBER_ROOM = 64, BOTH_ROOM = 2 * NUMBER_ROOM + 8, CELL = 26 };

/* ---- places --------------------------------------------------------------------------------- */

/* %s is the name of the node or run; an item of a run is told after it. */
static const char *const place_words[] = {
    [VENT_OBSERVABLE_DISCHARGE_FLOW] = "flow through the discharge",
    [VENT_OBSERVABLE_EXIT_VELOCITY] = "exit velocity",
    [VENT_OBSERVABLE_PRESSURE] = "pressure in %s",
    [VENT_OBSERVABLE_ABSOLUTE_PRESSURE] = "absolute pressure in %s",
    [VENT_OBSERVABLE_TERMINATION_LOSS] = "loss of what stands on %s",
    [VENT_OBSERVABLE_MASS_FLOW] = "mass flow in %s",
    [VENT_OBSERVABLE_FLOW] = "flow in %s",
    [VENT_OBSERVABLE_STANDARD_FLOW] = "flow in %s, at standard density",
    [VENT_OBSERVABLE_VELOCITY] = "velocity in %s",
    [VENT_OBSERVABLE_REYNOLDS] = "Reynolds number in %s",
    [VENT_OBSERVABLE_DENSITY] = "density in %s",
    [VENT_OBSERVABLE_JUNCTION_LOSS] = "loss from %s into its junction",
    [VENT_OBSERVABLE_INLET_STATIC_PRESSURE] = "static pressure in %s, at its start",
    [VENT_OBSERVABLE_LOSS] = "loss in %s of",
    [VENT_OBSERVABLE_STATIC_PRESSURE] = "static pressure in %s, after",
    [VENT_OBSERVABLE_FAN_FLOW] = "flow in %s through",
    [VENT_OBSERVABLE_FAN_PRESSURE] = "pressure in %s of",
    [VENT_OBSERVABLE_FAN_POWER] = "electrical power in %s of",
    [VENT_OBSERVABLE_FAN_AIR_POWER] = "air power in %s of",
    [VENT_OBSERVABLE_SHUT_OFF_SHARE] = "share of shut-off pressure in %s of",
    [VENT_OBSERVABLE_FREE_DELIVERY_SHARE] = "share of free delivery in %s of",
};

static bool is_of_node(int kind)
{
    return kind >= VENT_OBSERVABLE_PRESSURE && kind < VENT_OBSERVABLE_MASS_FLOW;
}

static bool is_of_item(int kind)
{
    return kind >= VENT_OBSERVABLE_LOSS;
}

/* The item as the ledger calls it, of pipes their order alone: sizes may be in doubt. */
static void item_words(const vent_solution *solution, vent_observable o, size_t size, char *out)
{
    vent_ledger_line line;
    int pipes = 0;
    for (size_t i = 0; i < vent_solution_ledger_size(solution); ++i) {
        if (!vent_solution_ledger_line(solution, i, &line) || line.run != o.place)
            continue;
        pipes += line.kind == VENT_LINE_PIPE;
        if (line.item != o.item || line.kind == VENT_LINE_TRANSITION)
            continue;
        if (line.kind == VENT_LINE_PIPE && pipes == 1)
            snprintf(out, size, "the pipe");
        else if (line.kind == VENT_LINE_PIPE)
            snprintf(out, size, "pipe %d", pipes);
        else
            snprintf(out, size, "%s", line.what);
    }
    if (!*out) /* of a leak's run */
        snprintf(out, size, "its start");
}

/* A template with at most one %s in it. */
static void fill_in(const char *template, const char *name, vent__text *text)
{
    const char *gap = strstr(template, "%s");
    if (gap)
        vent__text_add(text, "%.*s%s%s", (int)(gap - template), template, name, gap + 2);
    else
        vent__text_add(text, "%s", template);
}

void vent__place_words(const vent_network *network, const vent_solution *solution,
                       vent_observable o, size_t size, char *out)
{
    char name[VENT__NAME_ROOM] = "", item[VENT__NAME_ROOM] = "";
    vent__text text = {0};
    if (is_of_node(o.kind))
        vent_network_node_name(network, o.place, sizeof name, name);
    else
        vent_network_run_name(network, o.place, sizeof name, name);
    if (o.kind != VENT_OBSERVABLE_NONE)
        fill_in(place_words[o.kind], name, &text);
    if (is_of_item(o.kind)) {
        item_words(solution, o, sizeof item, item);
        vent__text_add(&text, " %s", item);
    }
    vent__text_copy(&text, size, out);
    vent__text_free(&text);
}

/* ---- numbers ------------------------------------------------------------------------------ */

/* How a quantity is printed: in SI as one says it, and in the trade's unit where it has one. */
typedef struct units {
    const char *unit; /* of the observable */
    const char *si;
    double si_size;
    const char *trade;
    double trade_size;
} units;

static units units_of(vent_observable o)
{
    static const units known[] = {{"Pa", "Pa", 1, "in. w.c.", VENT_INWC},
                                  {"m3/s", "L/s", VENT_LITRE_S, "cfm", VENT_CFM},
                                  {"m/s", "m/s", 1, "ft/min", VENT_FPM}};
    const char *unit = vent_observable_unit(o);
    for (size_t i = 0; i < sizeof known / sizeof *known; ++i)
        if (strcmp(unit, known[i].unit) == 0 && o.kind != VENT_OBSERVABLE_ABSOLUTE_PRESSURE)
            return known[i];
    return (units){unit, unit, 1, NULL, 1};
}

/* Decimal places that show two figures of the finest part. */
static int decimals(double finest)
{
    double places = finest > 0 ? 1 - floor(log10(finest)) : 3;
    return (int)fmin(9, fmax(0, places));
}

static const char *with_uncertainty(vent_reading r, const char *unit, double size, char *out)
{
    int places = decimals(r.uncertainty / size);
    snprintf(out, NUMBER_ROOM, "%.*f +- %.*f%s%s", places, r.value / size, places,
             r.uncertainty / size, *unit ? " " : "", unit);
    return out;
}

static const char *plain(double value, double finest, const char *unit, double size, char *out)
{
    snprintf(out, NUMBER_ROOM, "%.*f%s%s", decimals(finest / size), value / size, *unit ? " " : "",
             unit);
    return out;
}

/* In SI, and in the trade's unit in brackets. */
static const char *both(double value, double finest, units u, char *out)
{
    char first[NUMBER_ROOM], second[NUMBER_ROOM];
    plain(value, finest, u.si, u.si_size, first);
    if (u.trade)
        snprintf(out, BOTH_ROOM, "%s (%s)", first,
                 plain(value, finest, u.trade, u.trade_size, second));
    else
        snprintf(out, BOTH_ROOM, "%s", first);
    return out;
}

static const char *chance(double probability, char *out)
{
    double cent = 100 * probability;
    if (cent < 0.01)
        snprintf(out, NUMBER_ROOM, "less than 0.01 %%");
    else
        snprintf(out, NUMBER_ROOM, "%.*f %%", cent < 0.1 ? 2 : cent < 10 ? 1 : 0, cent);
    return out;
}

/* Whether a pressure is read by a gauge against the room, so that below zero it is a vacuum. */
static bool is_gauge(vent_observable o)
{
    return o.kind == VENT_OBSERVABLE_PRESSURE || o.kind == VENT_OBSERVABLE_STATIC_PRESSURE ||
           o.kind == VENT_OBSERVABLE_INLET_STATIC_PRESSURE;
}

/* Whether a usual value below zero is a vacuum on the gauge. */
static bool is_vacuum(vent_observable o, double usual)
{
    return is_gauge(o) && usual < 0;
}

/* More or less of what one expects there. */
static const char *amount(vent_observable o, double expected, bool is_above)
{
    if (is_vacuum(o, expected))
        return is_above ? "less vacuum" : "more vacuum";
    return is_above ? "more" : "less";
}

static const char *verdict_words(int verdict)
{
    static const char *const words[] = {"", "agrees", "questionable", "DISAGREES"};
    return words[verdict];
}

static const char caution[] = "This sheet is about flow and pressure. It is no measurement of "
                              "radon: have that done after the\n"
                              "system has run as long as local rules ask, and again in later "
                              "years. Local codes and licensed\n"
                              "practice come first. Where fuel is burnt in the building, test for "
                              "spillage with the fan running.\n";

/* ---- the sheet ------------------------------------------------------------------------------ */

static size_t count_verdicts(const vent_sheet *sheet, int least)
{
    size_t count = 0;
    for (size_t i = 0; i < sheet->n; ++i)
        count += sheet->lines[i].verdict >= least;
    return count;
}

static void say_whole(const vent_sheet *sheet, vent__text *text)
{
    static const char *const words[] = {
        [VENT_VERDICT_AGREES] = "The readings agree with the design",
        [VENT_VERDICT_QUESTIONABLE] = "The readings hardly agree with the design: repeat them",
        [VENT_VERDICT_DISAGREES] = "The readings do not agree with the design"};
    char by_chance[NUMBER_ROOM];
    const vent_agreement *w = &sheet->whole;
    vent__text_add(
        text, "%s (chi-square %.1f for %zu reading%s; chance alone gives more in %s of cases).",
        words[w->verdict], w->chi_square, sheet->n, sheet->n == 1 ? "" : "s",
        chance(w->probability, by_chance));
    size_t off = count_verdicts(sheet, VENT_VERDICT_QUESTIONABLE);
    if (off > 0 && w->verdict == VENT_VERDICT_AGREES && sheet->n > 1)
        vent__text_add(text,
                       "\n%zu of %zu lines beyond 2 standard uncertainties; of as many, chance "
                       "puts about %.1f there.",
                       off, sheet->n, (double)sheet->n * vent__two_sided(VENT__QUESTIONABLE));
}

static void say_line(const vent_sheet_line *line, vent__text *text)
{
    char number[BOTH_ROOM];
    const char *what = amount(line->observable, line->predicted.value, line->deviation > 0);
    if (line->flags & VENT_SHEET_SIGN)
        vent__text_add(text,
                       "\n%s: of the other sign it would fit. A vacuum is negative, a flow towards "
                       "the discharge positive: look at the hoses and at how it was noted.",
                       line->where);
    else if (line->verdict != VENT_VERDICT_AGREES)
        vent__text_add(
            text, "\n%s: %s than predicted by %s, %.1f standard uncertainties.", line->where, what,
            both(fabs(line->deviation), line->uncertainty, units_of(line->observable), number),
            fabs(line->score));
    if (line->flags & VENT_SHEET_AMONG)
        vent__text_add(text,
                       "\n%s: fits the design, but not the other readings (%.1f standard "
                       "uncertainties from what they make of it).",
                       line->where, fabs(line->among));
    if (line->flags & VENT_SHEET_LITTLE)
        vent__text_add(text,
                       "\n%s: tells little; with these uncertainties a stack at rest would agree "
                       "too.",
                       line->where);
}

static void say_verdict(const vent_sheet *sheet, vent__text *text)
{
    say_whole(sheet, text);
    for (size_t i = 0; i < sheet->n; ++i)
        say_line(&sheet->lines[i], text);
}

static size_t place_width(const vent_sheet *sheet)
{
    size_t width = strlen("place");
    for (size_t i = 0; i < sheet->n; ++i) {
        size_t length = strlen(sheet->lines[i].where);
        width = length > width ? length : width;
    }
    return width + 2;
}

static void write_line(const vent_sheet_line *line, size_t width, vent__text *text)
{
    char number[NUMBER_ROOM];
    units u = units_of(line->observable);
    vent__text_add(text, "%s", line->where);
    vent__text_pad(text, width);
    vent__text_add(text, "%s", with_uncertainty(line->predicted, u.si, u.si_size, number));
    vent__text_pad(text, width + CELL);
    vent__text_add(text, "%s", with_uncertainty(line->measured, u.si, u.si_size, number));
    vent__text_pad(text, width + 2 * CELL);
    vent__text_add(text, "%+6.1f   %+6.1f   %s%s\n", line->score, line->among,
                   verdict_words(line->verdict),
                   line->flags & VENT_SHEET_SIGN ? ", wrong sign?" : "");
    if (!u.trade)
        return;
    vent__text_pad(text, width);
    vent__text_add(text, "%s", with_uncertainty(line->predicted, u.trade, u.trade_size, number));
    vent__text_pad(text, width + CELL);
    vent__text_add(text, "%s\n", with_uncertainty(line->measured, u.trade, u.trade_size, number));
}

static void write_notes(const vent_sheet *sheet, vent__text *text)
{
    static const char *const heads[VENT_NOTE_END] = {
        [VENT_NOTE_DATE] = "Date",
        [VENT_NOTE_INSTRUMENTS] = "Instruments",
        [VENT_NOTE_WEATHER] = "Weather",
        [VENT_NOTE_REMARK] = "Remark",
    };
    for (int kind = 0; kind < VENT_NOTE_END; ++kind)
        if (sheet->note[kind])
            vent__text_add(text, "%s: %s\n", heads[kind], sheet->note[kind]);
}

static void write_sheet(const vent_sheet *sheet, vent__text *text)
{
    size_t width = place_width(sheet);
    vent__text_add(text, "Commissioning sheet\n");
    write_notes(sheet, text);
    vent__text_add(text,
                   "Values +- one standard uncertainty. \"Off\" is measured less predicted in "
                   "standard\nuncertainties: beyond 2 questionable, beyond 3 disagrees. "
                   "\"Among\" is the same, given the\nother readings.\n\nplace");
    vent__text_pad(text, width);
    vent__text_add(text, "predicted");
    vent__text_pad(text, width + CELL);
    vent__text_add(text, "measured");
    vent__text_pad(text, width + 2 * CELL);
    vent__text_add(text, "   off    among   verdict\n");
    for (size_t i = 0; i < sheet->n; ++i)
        write_line(&sheet->lines[i], width, text);
    vent__text_add(text, "\n");
    say_verdict(sheet, text);
    vent__text_add(text, "\n\n%s", caution);
}

size_t vent_sheet_verdict(const vent_sheet *sheet, size_t size, char *text)
{
    vent__text all = {0};
    if (!sheet)
        return 0;
    say_verdict(sheet, &all);
    size_t length = vent__text_copy(&all, size, text);
    vent__text_free(&all);
    return length;
}

size_t vent_sheet_text(const vent_sheet *sheet, size_t size, char *text)
{
    vent__text all = {0};
    if (!sheet)
        return 0;
    write_sheet(sheet, &all);
    size_t length = vent__text_copy(&all, size, text);
    vent__text_free(&all);
    return length;
}

/* ---- judging ------------------------------------------------------------------------------ */

/* What to look at first; common practice, no source. */
static const char *where_to_look(bool more_vacuum)
{
    return more_vacuum ? "Look upstream of the gauge: water in the pit or in a low point, a "
                         "blocked or closed "
                         "leg, a pit that silted up."
                       : "Look at the fan; downstream for ice or a blocked screen; upstream for an "
                         "open joint, "
                         "a new crack, an open sump.";
}

void vent__judgement_words(const vent_band *band, const char *when, vent_reading reading,
                           vent_judgement *j)
{
    double usual = band->year.usual.value;
    bool drift = j->verdict == VENT_VERDICT_DISAGREES, above = j->side > 0;
    const char *what = amount(band->observable, usual, above);
    char by_chance[NUMBER_ROOM], off[BOTH_ROOM];
    vent__text text = {0};
    double uncertainty =
        j->score > 0 ? j->beyond / j->score : 0; /* within the weather nothing is beyond */
    both(j->beyond, uncertainty, units_of(band->observable), off);
    if (j->side == 0)
        vent__text_add(&text, "Within the weather (%s).", when);
    else if (j->verdict == VENT_VERDICT_AGREES)
        vent__text_add(
            &text, "Within weather and uncertainty (%s): %s by %s, %.1f standard uncertainties.",
            when, what, off, j->score);
    else
        vent__text_add(
            &text,
            "%s: %s than the weather stated (%s) explains, by %s, %.1f standard uncertainties; "
            "chance alone does that in %s%s of cases.%s",
            drift ? "Drift" : "Questionable", what, when, off, j->score,
            j->probability < 1e-4 ? "" : "at most ", chance(j->probability, by_chance),
            drift ? "" : " Read it again.");
    if (drift && is_vacuum(band->observable, usual)) {
        bool zero = above && fabs(reading.value) <= 2 * reading.uncertainty;
        vent__text_add(&text, " %s",
                       zero ? "It shows zero: the fan stands still, or the gauge's hose is off."
                            : where_to_look(!above));
    }
    vent__text_copy(&text, sizeof j->text, j->text);
    vent__text_free(&text);
}

/* ---- the band ------------------------------------------------------------------------------- */

static const char *const weather_words[VENT_WEATHER_END] = {
    [VENT_WEATHER_OUTDOOR_TEMPERATURE] = "outdoor temperature",
    [VENT_WEATHER_SOIL_GAS_TEMPERATURE] = "soil gas temperature",
    [VENT_WEATHER_WIND_PRESSURE] = "wind at the discharge",
    [VENT_WEATHER_BUILDING_PRESSURE] = "pressure of the room",
    [VENT_WEATHER_BAROMETRIC_PRESSURE] = "barometric pressure",
    [VENT_WEATHER_SOIL] = "soil: water table"};

static void write_row(const vent_band_row *row, const char *unit, double size, const char *name,
                      vent__text *text)
{
    char number[NUMBER_ROOM];
    const double values[] = {row->usual.value, row->low.value, row->high.value, row->band_low,
                             row->band_high};
    double finest = fmin(row->low.uncertainty, row->high.uncertainty);
    if (!(finest > 0))
        finest = (row->high.value - row->low.value) / 10;
    vent__text_add(text, "%s", name);
    vent__text_pad(text, 14);
    for (size_t i = 0; i < sizeof values / sizeof *values; ++i)
        vent__text_add(text, "%12s", plain(values[i], finest, "", size, number));
    vent__text_add(text, "  %s\n", unit);
}

static void write_rows(const vent_band_row *row, units u, vent__text *text)
{
    write_row(row, u.si, u.si_size, row->name, text);
    if (u.trade)
        write_row(row, u.trade, u.trade_size, "", text);
}

static void write_moves(const vent_band *band, units u, vent__text *text)
{
    char number[BOTH_ROOM];
    vent__text_add(text,
                   "\nWhat moves it over the year, each from its least to its greatest, the others "
                   "usual (+ is upwards):\n");
    for (int q = 0; q < VENT_WEATHER_END; ++q)
        if (band->year.moves[q] != 0)
            vent__text_add(text, "  %-22s %s\n", weather_words[q],
                           both(band->year.moves[q], fabs(band->year.moves[q]), u, number));
}

static void write_marks(const vent_band *band, double uncertainty, units u, vent__text *text)
{
    char low[BOTH_ROOM], high[BOTH_ROOM];
    vent_marks m = vent_band_marks(band, VENT_BAND_YEAR, uncertainty, NULL);
    double finest = hypot(uncertainty, band->year.low.uncertainty);
    if (!(finest > 0))
        finest = fabs(m.high - m.low) / 10;
    vent__text_add(text,
                   "\nMarks on the gauge: the weather stated explains no reading below %s or above "
                   "%s.\n",
                   both(m.low, finest, u, low), both(m.high, finest, u, high));
    if (is_vacuum(band->observable, band->year.usual.value))
        vent__text_add(text,
                       "A vacuum is negative here: the lowest is the most vacuum. A gauge piped to "
                       "read vacuum shows these\nnumbers without their sign.\n");
    if (m.flags & VENT_MARKS_ZERO)
        vent__text_add(text, "Zero lies between the marks: this gauge cannot tell that the fan has "
                             "stopped. Take a finer one,\nor another alarm.\n");
    if (m.flags & VENT_MARKS_WEATHER)
        vent__text_add(text,
                       "Weather alone takes it %.0f %% below and %.0f %% above the usual: \"call "
                       "when it has changed by\n20 %%\" would be a false alarm here.\n",
                       100 * m.fall, 100 * m.rise);
}

static void write_band(const vent_band *band, double uncertainty, vent__text *text)
{
    units u = units_of(band->observable);
    vent__text_add(
        text,
        "Expected over the year: %s\n"
        "Weather alone moves it between \"lowest\" and \"highest\"; the band adds 2 standard "
        "uncertainties\nof the stack, those of reading the gauge not among them.\n\n",
        band->where);
    vent__text_pad(text, 14);
    vent__text_add(text, "%12s%12s%12s%12s%12s\n", "usual", "lowest", "highest", "band from", "to");
    for (size_t i = 0; i < band->n; ++i)
        write_rows(&band->rows[i], u, text);
    write_rows(&band->year, u, text);
    write_moves(band, u, text);
    write_marks(band, uncertainty, u, text);
    vent__text_add(text, "\n%s", caution);
}

size_t vent_band_text(const vent_band *band, double uncertainty, size_t size, char *text)
{
    vent__text all = {0};
    if (!band || !(uncertainty >= 0 && uncertainty <= 1e300))
        return 0;
    write_band(band, uncertainty, &all);
    size_t length = vent__text_copy(&all, size, text);
    vent__text_free(&all);
    return length;
}
