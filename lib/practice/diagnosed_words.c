/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The answer of a diagnosis in words. */
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <ventstack/units.h>

#include "practice/commissioning.h"
#include "practice/diagnosing.h"

/* Text written into a buffer that may be too small: what does not fit is counted. */
typedef struct page {
    char *text;
    size_t size, length;
} page;

static void say(page *p, const char *format, ...)
#if defined(__GNUC__)
    __attribute__((format(printf, 2, 3)))
#endif
    ;

static void say(page *p, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    size_t room = p->length < p->size ? p->size - p->length : 0;
    int length = vsnprintf(room ? p->text + p->length : NULL, room, format, arguments);
    p->length += length > 0 ? (size_t)length : 0;
    va_end(arguments);
}

/* ---- where ---------------------------------------------------------------------------------------------- */

static void say_node(page *p, const vent_network *design, int node)
{
    char name[VENT__NAME_ROOM] = "";
    vent_network_node_name(design, node, sizeof name, name);
    say(p, "%s", name);
}

static void say_run(page *p, const vent_network *design, int run)
{
    char name[VENT__NAME_ROOM] = "";
    vent_network_run_name(design, run, sizeof name, name);
    say(p, "%s", name);
}

/* Where to hold the hose. */
static void say_observable(page *p, const vent_diagnosed *d, vent_observable o)
{
    char words[2 * VENT__NAME_ROOM + 64] = "";
    vent__place_words(d->job->design, d->sound, o, sizeof words, words);
    say(p, "%s", words);
}

/* And the address to enter it by. */
static void say_address(page *p, const vent_diagnosed *d, vent_observable o)
{
    char name[VENT__NAME_ROOM] = "";
    vent_network_observable_name(d->job->design, o, sizeof name, name);
    say(p, " (%s)", name);
}

static void say_item(page *p, const vent_network *design, const vent_fault *f)
{
    if (f->kind == VENT_FAULT_WATER && f->item < 0) {
        int from, to;
        say(p, "where ");
        say_run(p, design, f->place);
        say(p, " starts at ");
        vent_network_run_ends(design, f->place, &from, &to);
        say_node(p, design, from);
        return;
    }
    say_run(p, design, f->place);
    if (f->item > 0)
        say(p, "[%d]", f->item);
}

static void say_signs_of(page *p, const vent_diagnosed *d, int reading)
{
    if (reading == VENT_SIGN_ALL_PRESSURES)
        say(p, "all pressures: tubes swapped, or signs reversed");
    else if (reading == VENT_SIGN_ALL_READINGS)
        say(p, "all readings: signs reversed");
    else
        say_observable(p, d, d->job->readings[reading].observable);
}

static void say_where(page *p, const vent_diagnosed *d, const vent_fault *f)
{
    const vent_diagnosis *job = d->job;
    switch (f->kind) {
    case VENT_FAULT_NONE:
        break;
    case VENT_FAULT_WATER:
    case VENT_FAULT_FAN_WEAK:
    case VENT_FAULT_FAN_WRONG:
    case VENT_FAULT_FAN_STOPPED:
        say(p, f->kind == VENT_FAULT_WATER && f->item < 0 ? ", " : " in ");
        say_item(p, job->design, f);
        break;
    case VENT_FAULT_PLACE:
        say(p, ": ");
        say_observable(p, d, job->readings[f->place].observable);
        break;
    case VENT_FAULT_SIGN:
        say(p, ": ");
        say_signs_of(p, d, f->place);
        break;
    default:
        say(p, " at ");
        say_node(p, job->design, f->place);
    }
}

/* ---- how large --------------------------------------------------------------------------------------------- */

/* What a size is of; NULL where it is not told. */
static const char *size_words(int kind)
{
    switch (kind) {
    case VENT_FAULT_SLAB_LEAK:
    case VENT_FAULT_JOINT_LEAK:
        return "cm2";
    case VENT_FAULT_TERMINATION:
        return "% of the end free";
    case VENT_FAULT_WATER:
        return "% of the pipe free";
    case VENT_FAULT_FAN_WEAK:
        return "% of its pressure";
    case VENT_FAULT_SOIL_TIGHT:
        return "% of its flow";
    default:
        return NULL;
    }
}

static void say_amount(page *p, int kind, double size)
{
    if (kind == VENT_FAULT_SLAB_LEAK || kind == VENT_FAULT_JOINT_LEAK)
        say(p, "%.3g", 1e4 * size);
    else
        say(p, "%.0f", 100 * size);
}

/* A size at its bound may lie beyond: only one end of its interval is known. */
static void say_interval(page *p, const vent_finding *f, int k, int at_bound)
{
    int kind = f->fault[k].kind;
    const char *words = size_words(kind);
    if (!words)
        return;
    say(p, at_bound > 0 ? ", at least " : at_bound < 0 ? ", at most " : ", ");
    say_amount(p, kind, at_bound > 0 ? f->low[k] : at_bound < 0 ? f->high[k] : f->size[k]);
    say(p, " %s (", words);
    if (at_bound) {
        say(p, "at its bound: the %s asked about is ", at_bound > 0 ? "most" : "least");
        say_amount(p, kind, at_bound > 0 ? f->fault[k].high : f->fault[k].low);
    } else {
        say_amount(p, kind, f->low[k]);
        say(p, " to ");
        say_amount(p, kind, f->high[k]);
    }
    say(p, ")");
}

static void say_size(page *p, const vent_diagnosed *d, size_t rank, int k)
{
    const vent_finding *f = &d->finding[rank];
    int place = f->fault[k].place, number = (int)f->size[k];
    switch (f->fault[k].kind) {
    case VENT_FAULT_FAN_WRONG:
        say(p, ": it would be '%s'", vent_fan_name(d->job->fans[number]));
        break;
    case VENT_FAULT_PLACE:
        say(p, ", perhaps: ");
        say_observable(p, d, vent_diagnosed_place(d, (size_t)place, number));
        break;
    default:
        say_interval(p, f, k, vent_diagnosed_at_bound(d, rank, k));
    }
}

static void say_finding(page *p, const vent_diagnosed *d, size_t rank)
{
    const vent_finding *f = &d->finding[rank];
    for (int k = 0; k < f->faults; ++k) {
        say(p, "%s%s", k ? "; and " : "", vent_fault_name(f->fault[k].kind));
        say_where(p, d, &f->fault[k]);
        if (!isnan(f->size[k]))
            say_size(p, d, rank, k);
    }
}

size_t vent_diagnosed_words(const vent_diagnosed *diagnosed, size_t rank, size_t size, char *text)
{
    page p = {text, text ? size : 0, 0};
    if (rank >= vent_diagnosed_count(diagnosed))
        return 0;
    say_finding(&p, diagnosed, rank);
    return p.length;
}

/* ---- the report ------------------------------------------------------------------------------------------------ */

static int group_size(const vent_diagnosed *d, int group)
{
    int n = 0;
    for (int i = 0; i < d->count; ++i)
        n += d->finding[i].group == group;
    return n;
}

static void say_claim(page *p, const vent_diagnosed *d)
{
    const vent_finding *first = &d->finding[0];
    int claim = vent_diagnosed_claim(d);
    if (claim == VENT_DIAGNOSED_TOLD) {
        say(p, "Of the faults asked about, the readings tell: ");
        say_finding(p, d, 0);
    } else if (first->fault[0].kind == VENT_FAULT_NONE && d->flags & VENT_DIAGNOSED_UNEXPLAINED) {
        say(p, "The readings fit neither the design nor any fault that was asked about");
    } else if (first->fault[0].kind == VENT_FAULT_NONE) {
        say(p, "The readings fit the design: nothing need be wrong. What may hide in them, stands "
               "below");
    } else if (claim == VENT_DIAGNOSED_GROUP) {
        say(p,
            "The readings tell that it is one of %d faults that look alike from where they were "
            "taken, not which",
            group_size(d, 0));
    } else {
        say(p, "The readings do not tell. Most probable: ");
        say_finding(p, d, 0);
    }
    say(p, ".\n\n");
}

static bool is_worth_a_line(const vent_diagnosed *d, int i)
{
    return i < 3 || d->finding[i].probability >= 0.01;
}

/* In whole percent, as odds that are guesses deserve; nothing is ever certain. */
static void say_likelihood(page *p, double probability)
{
    char percent[16];
    snprintf(percent, sizeof percent, "%.0f", 100 * probability);
    say(p, "%6s %%", probability > 0.995 ? "> 99" : probability < 0.005 ? "< 1" : percent);
}

/* Odds against all other candidates together, as one says them. */
static const char *likelihood_words(double probability)
{
    static const struct {
        double least;
        const char *words;
    } rows[] = {
        {0.99, "hardly another"}, {VENT_DIAGNOSED_ODDS / (1 + VENT_DIAGNOSED_ODDS), "very likely"},
        {0.5, "likely"},          {0.1, "possible"},
        {0.01, "unlikely"},       {0, "hardly"}};
    size_t i = 0;
    while (!(probability >= rows[i].least))
        ++i;
    return rows[i].words;
}

static void say_table(page *p, const vent_diagnosed *d)
{
    say(p, "rank  likelihood among the candidates  group  finding\n");
    for (int i = 0; i < d->count; ++i) {
        const vent_finding *f = &d->finding[i];
        if (!is_worth_a_line(d, i))
            continue;
        say(p, "%4d  ", i + 1);
        say_likelihood(p, f->probability);
        say(p, "  %-21s  %5d  ", likelihood_words(f->probability), f->group + 1);
        say_finding(p, d, (size_t)i);
        say(p, "\n");
    }
    say(p, "(all candidates together are 100 %%; those of one group give the same readings)\n");
}

static void say_both(page *p, double value, vent_observable o)
{
    char text[VENT__BOTH_ROOM];
    say(p, "%s", vent__in_both(value, vent_observable_unit(o), text));
}

static bool is_read(const vent_diagnosis *job, vent_observable o)
{
    for (int i = 0; i < job->reading_count; ++i) {
        vent_observable r = job->readings[i].observable;
        if (r.kind == o.kind && r.place == o.place && r.item == o.item)
            return true;
    }
    return false;
}

/* What is nothing to the instrument is told as 0. */
static double unrounded(vent_reading expected, double instrument)
{
    return fabs(expected.value) < 1e-6 * instrument ? 0 : expected.value;
}

static void say_next(page *p, const vent_diagnosed *d)
{
    vent_error none = VENT_NO_ERROR;
    size_t n = vent_diagnosed_candidates(d, 0, NULL);
    vent_candidate *c = calloc(n + 1, sizeof *c);
    vent_reading *expected = calloc(2 * n + 1, sizeof *expected);
    double *distance = calloc(n + 1, sizeof *distance);
    bool told = vent_diagnosed_claim(d) == VENT_DIAGNOSED_TOLD;
    bool ready = d->count > 1 && n > 0 && c && expected && distance &&
                 vent_diagnosed_candidates(d, n, c) == n;
    if (ready) {
        int best = vent_diagnosed_next(d, 0, 1, n, c, expected, distance, &none);
        if (best >= 0) {
            say(p, told ? "\nTo make sure, read " : "\nTo tell the first two apart, read ");
            say_observable(p, d, c[best].observable);
            say_address(p, d, c[best].observable);
            say(p, "%s: expected ", is_read(d->job, c[best].observable) ? " again" : "");
            say_both(p, unrounded(expected[best], c[best].uncertainty), c[best].observable);
            say(p, " by the first, ");
            say_both(p, unrounded(expected[n + (size_t)best], c[best].uncertainty),
                     c[best].observable);
            say(p, " by the second, %.1f uncertainties apart%s.\n", distance[best],
                distance[best] < 1 ? ": no single reading will do it" : "");
        }
    }
    if (d->count > 1 && (!ready || none.status == VENT_E_MEMORY))
        say(p, "\nThere was no memory to work out what to read next.\n");
    free(c);
    free(expected);
    free(distance);
}

static void say_signs(page *p, const vent_diagnosed *d)
{
    const vent_diagnosis *job = d->job;
    for (int i = 0; i < job->reading_count; ++i) {
        const vent__read *r = &job->readings[i];
        double designed = vent_solution_observe(d->sound, r->observable, NULL);
        double clear = 3 * r->uncertainty;
        if (!(r->value * designed < 0 && fabs(r->value) > clear && fabs(designed) > clear))
            continue;
        say(p, "Reading %d, ", i);
        say_observable(p, d, r->observable);
        say(p, ", is ");
        say_both(p, r->value, r->observable);
        say(p, " where the design has ");
        say_both(p, designed, r->observable);
        say(p, ": a vacuum is negative, and flow towards the "
               "discharge positive. Look at the convention first.\n");
    }
}

static void say_remarks(page *p, const vent_diagnosed *d)
{
    static const struct {
        uint32_t flag;
        const char *text;
    } remarks[] = {
        {VENT_DIAGNOSED_CONSTANT,
         "One and the same value was read at three places or more that should differ: a stuck "
         "instrument, or one reading copied.\n"},
        {VENT_DIAGNOSED_CONTRARY,
         "Two readings of one place exclude each other: take them again.\n"},
        {VENT_DIAGNOSED_EXACT, "The design was given no uncertainty, so every misfit counts as a "
                               "fault: state the soil's at least.\n"},
        {VENT_DIAGNOSED_UNEXPLAINED,
         "Even the first finding fits badly: something else, or more than one thing, is wrong.\n"},
        {VENT_DIAGNOSED_FEW, "One reading cannot tell faults apart that can each give it.\n"},
    };
    say(p, "\n");
    if (d->flags & VENT_DIAGNOSED_SIGN)
        say_signs(p, d);
    for (size_t i = 0; i < sizeof remarks / sizeof *remarks; ++i)
        if (d->flags & remarks[i].flag)
            say(p, "%s", remarks[i].text);
    say(p,
        "A stopped fan and an iced end protect nobody: see to them first; fans, wiring and "
        "roofs are for those licensed to work on them.\nWhere fuel is burnt in the building, test "
        "for spillage after the repair, with the fan running.\nWhether radon is down, only a radon "
        "test tells.\n");
}

size_t vent_diagnosed_report(const vent_diagnosed *diagnosed, size_t size, char *text)
{
    page p = {text, text ? size : 0, 0};
    if (!diagnosed)
        return 0;
    say_claim(&p, diagnosed);
    say_table(&p, diagnosed);
    say_next(&p, diagnosed);
    say_remarks(&p, diagnosed);
    return p.length;
}
