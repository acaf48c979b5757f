/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "commission_stack.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "csv.h"
#include "practice/commissioning.h"
#include "practice/known.h"
#include "suites.h"

/* ---- the algebra ------------------------------------------------------------------------------ */

/* Means of five observations and the covariance of the means. */
static void read_observations(csv *table, double *mean, double *covariance)
{
    double rows[5][3];
    for (int k = 0; k < 5; ++k) {
        ck_assert(csv_next(table));
        rows[k][0] = csv_number(table, "voltage");
        rows[k][1] = csv_number(table, "current_mA") * 1e-3;
        rows[k][2] = csv_number(table, "phase");
    }
    for (int i = 0; i < 3; ++i) {
        mean[i] = 0;
        for (int k = 0; k < 5; ++k)
            mean[i] += rows[k][i] / 5;
    }
    for (int i = 0; i < 3; ++i)
        for (int j = 0; j < 3; ++j) {
            covariance[3 * i + j] = 0;
            for (int k = 0; k < 5; ++k)
                covariance[3 * i + j] += (rows[k][i] - mean[i]) * (rows[k][j] - mean[j]) / 20;
        }
}

START_TEST(correlated_answers_come_out_as_in_the_gum)
{
    csv *table = csv_open("commission_gum.csv");
    double x[3], s[9], c[9], work[3];
    read_observations(table, x, s);
    double z = x[0] / x[1], co = cos(x[2]), si = sin(x[2]);
    const double value[] = {z * co, z * si, z};
    const double jacobian[] = {co / x[1], -z * co / x[1], -z * si,   si / x[1], -z * si / x[1],
                               z * co,    1 / x[1],       -z / x[1], 0};
    vent__propagate(3, 3, jacobian, s, c, work);
    static const char *const with[] = {"with_r", "with_x", "with_z"};
    for (int a = 0; a < 3; ++a) {
        ck_assert(csv_next(table));
        csv_expect(table, "value", value[a], 0, 1e-3);
        csv_expect(table, "uncertainty", sqrt(c[3 * a + a]), 0, 1e-3);
        for (int b = 0; b < 3; ++b)
            csv_expect(table, with[b], c[3 * a + b] / sqrt(c[3 * a + a] * c[3 * b + b]), 0, 1e-3);
    }
    csv_close(table);
}
END_TEST

/* Two deviations of correlation r: chi-square is (a^2 - 2 r a b + b^2)/(1 - r^2), and given the other
 * one, a is a - r b with standard deviation root 1 - r^2. */
START_TEST(scores_hang_together)
{
    for (double r = -0.99; r < 1; r += 0.22) {
        const double d[] = {3, -0.8}, u[] = {2, 0.5};
        const double c[] = {u[0] * u[0], r * u[0] * u[1], r * u[0] * u[1], u[1] * u[1]};
        double alone[2], among[2], square;
        ck_assert_int_eq(vent__score(2, d, c, alone, among, &square), VENT_OK);
        double a = d[0] / u[0], b = d[1] / u[1], rest = sqrt(1 - r * r);
        NEAR(alone[0], a, 1e-14);
        NEAR(alone[1], b, 1e-14);
        NEAR(among[0], (a - r * b) / rest, 1e-12);
        NEAR(among[1], (b - r * a) / rest, 1e-12);
        NEAR(square, (a * a - 2 * r * a * b + b * b) / (1 - r * r), 1e-12);
    }
    double one = 6, variance = 4, alone, among, square;
    ck_assert_int_eq(vent__score(1, &one, &variance, &alone, &among, &square), VENT_OK);
    ck_assert(alone == 3 && among == 3 && square == 9);
    const double d[] = {1, 1}, c[] = {1, 1, 1, 1};
    double both[2];
    ck_assert_int_eq(vent__score(2, d, c, both, both, &square), VENT_E_ARGUMENT);
}
END_TEST

static vent_sheet_line line_of(const vent_sheet *sheet, size_t i)
{
    vent_sheet_line line = {.verdict = -1};
    ck_assert(vent_sheet_line_at(sheet, i, &line));
    return line;
}

/* ---- the sheet -------------------------------------------------------------------------------- */

START_TEST(a_sheet_holds_readings_against_predictions)
{
    vent_error err = VENT_NO_ERROR;
    stack s = stack_new(1);
    vent_uncertainty *design = design_of(&s);
    double p = observed(s.net, s.gauge), q = observed(s.net, s.flow);
    vent_reading by_doubt = vent_uncertainty_of(design, s.gauge, &err);
    vent_site_reading taken[] = {{s.gauge, vent_reading_stated(p - 20, 3)},
                                 {s.flow, vent_reading_stated(q, 0.001)}};
    vent_sheet *sheet = vent_sheet_new(design, 2, taken, &err);
    well(&err);
    ck_assert_uint_eq(vent_sheet_count(sheet), 2);
    vent_sheet_line line = line_of(sheet, 0);
    NEAR(line.predicted.value, p, 1e-12);
    NEAR(line.predicted.uncertainty, by_doubt.uncertainty, 1e-12);
    NEAR(line.deviation, -20, 1e-10);
    NEAR(line.uncertainty, hypot(by_doubt.uncertainty, 3), 1e-12);
    NEAR(line.score, -20 / line.uncertainty, 1e-10);
    ck_assert_int_eq(line.verdict, VENT_VERDICT_AGREES);
    ck_assert_str_eq(line.where, "static pressure in riser, after the pipe");
    ck_assert_str_eq(line_of(sheet, 1).where, "flow in riser");
    /* Uncertain soil moves both alike: what they do against each other counts for more. */
    ck_assert(fabs(line.among) > fabs(line.score));
    vent_agreement whole = vent_sheet_whole(sheet);
    ck_assert(whole.degrees == 2 && whole.chi_square > line.score * line.score);
    NEAR(whole.probability, exp(-whole.chi_square / 2), 1e-12);
    ck_assert(!vent_sheet_line_at(sheet, 2, &line) && !vent_sheet_line_at(NULL, 0, &line));
    vent_sheet_free(sheet);
    vent_uncertainty_free(design);
    vent_network_free(s.net);
}
END_TEST

static int32_t verdict_at(const vent_uncertainty *design, vent_observable o, double value, double u,
                          vent_sheet_line *line, char *text, size_t size)
{
    vent_error err = VENT_NO_ERROR;
    vent_site_reading taken = {o, vent_reading_stated(value, u)};
    vent_sheet *sheet = vent_sheet_new(design, 1, &taken, &err);
    well(&err);
    *line = line_of(sheet, 0);
    vent_agreement whole = vent_sheet_whole(sheet);
    near("one reading's chi-square", whole.chi_square, line->score * line->score, 1e-12, 0);
    near("one reading's chance", whole.probability, erfc(fabs(line->score) / sqrt(2)), 1e-9, 1e-15);
    ck_assert_int_eq(whole.verdict, line->verdict);
    ck_assert_uint_eq(vent_sheet_verdict(sheet, size, text), strlen(text));
    vent_sheet_free(sheet);
    return line->verdict;
}

START_TEST(verdicts_change_at_two_and_three)
{
    stack s = stack_new(1);
    vent_uncertainty *design = design_of(&s);
    double p = observed(s.net, s.gauge);
    vent_sheet_line line;
    char text[2000];
    verdict_at(design, s.gauge, p, 3, &line, text, sizeof text);
    double u = line.uncertainty;
    const struct {
        double off;
        int verdict;
        const char *words;
    } steps[] = {{-1.99, VENT_VERDICT_AGREES, "readings agree with the design"},
                 {2.01, VENT_VERDICT_QUESTIONABLE, "less vacuum than predicted"},
                 {-2.99, VENT_VERDICT_QUESTIONABLE, "more vacuum than predicted"},
                 {3.01, VENT_VERDICT_DISAGREES, "do not agree with the design"}};
    for (size_t i = 0; i < 4; ++i) {
        int verdict =
            verdict_at(design, s.gauge, p + steps[i].off * u, 3, &line, text, sizeof text);
        ck_assert_int_eq(verdict, steps[i].verdict);
        ck_assert_msg(strstr(text, steps[i].words) != NULL, "%s", text);
        ck_assert(!(line.flags & VENT_SHEET_SIGN));
    }
    vent_uncertainty_free(design);
    vent_network_free(s.net);
}
END_TEST

START_TEST(a_wrong_sign_is_told)
{
    stack s = stack_new(1);
    vent_uncertainty *design = design_of(&s);
    double p = observed(s.net, s.gauge);
    vent_sheet_line line;
    char text[2000];
    verdict_at(design, s.gauge, -p, 3, &line, text, sizeof text);
    ck_assert(line.flags & VENT_SHEET_SIGN);
    ck_assert_msg(strstr(text, "of the other sign it would fit") != NULL, "%s", text);
    /* of the other sign, but no fit either way: no such hint */
    verdict_at(design, s.gauge, -3 * p, 3, &line, text, sizeof text);
    ck_assert_int_eq(line.verdict, VENT_VERDICT_DISAGREES);
    ck_assert(!(line.flags & VENT_SHEET_SIGN));
    /* the others are not blamed for it */
    vent_error err = VENT_NO_ERROR;
    vent_site_reading taken[] = {{s.gauge, vent_reading_stated(-p, 3)},
                                 {s.pit, vent_reading_stated(observed(s.net, s.pit), 3)}};
    vent_sheet *sheet = vent_sheet_new(design, 2, taken, &err);
    ck_assert_uint_eq(line_of(sheet, 1).flags, 0);
    ck_assert(fabs(line_of(sheet, 1).among) > 3);
    vent_sheet_free(sheet);
    vent_uncertainty_free(design);
    vent_network_free(s.net);
}
END_TEST

START_TEST(a_coarse_reading_tells_little)
{
    stack s = stack_new(1);
    vent_uncertainty *design = design_of(&s);
    double p = observed(s.net, s.gauge);
    vent_sheet_line line;
    char text[2000];
    verdict_at(design, s.gauge, 0, fabs(p), &line, text, sizeof text);
    ck_assert_int_eq(line.verdict, VENT_VERDICT_AGREES);
    ck_assert(line.flags & VENT_SHEET_LITTLE);
    ck_assert_msg(strstr(text, "a stack at rest would agree too") != NULL, "%s", text);
    vent_uncertainty_free(design);
    vent_network_free(s.net);
}
END_TEST

/* Two gauges on one place that read differently each fit a doubtful design, and not each other. */
START_TEST(contradictory_readings_are_told_together)
{
    vent_error err = VENT_NO_ERROR;
    stack s = stack_new(1);
    vent_uncertainty *design = design_of(&s);
    double p = observed(s.net, s.pit);
    vent_site_reading taken[] = {{s.pit, vent_reading_stated(p + 15, 2)},
                                 {s.pit, vent_reading_stated(p - 15, 2)}};
    vent_sheet *sheet = vent_sheet_new(design, 2, taken, &err);
    well(&err);
    char text[4000];
    for (size_t i = 0; i < 2; ++i) {
        ck_assert_int_eq(line_of(sheet, i).verdict, VENT_VERDICT_AGREES);
        ck_assert(line_of(sheet, i).flags & VENT_SHEET_AMONG);
    }
    ck_assert_int_eq(vent_sheet_whole(sheet).verdict, VENT_VERDICT_DISAGREES);
    vent_sheet_verdict(sheet, sizeof text, text);
    ck_assert_msg(strstr(text, "not the other readings") != NULL, "%s", text);
    vent_sheet_free(sheet);
    vent_uncertainty_free(design);
    vent_network_free(s.net);
}
END_TEST

START_TEST(the_sheet_prints_both_units_and_the_cautions)
{
    vent_error err = VENT_NO_ERROR;
    stack s = stack_new(1);
    vent_uncertainty *design = design_of(&s);
    vent_observable speed = vent_network_find_observable(s.net, "riser.velocity", &err);
    vent_observable fan = vent_network_find_observable(s.net, "riser.fan_pressure", &err);
    vent_observable share = vent_network_find_observable(s.net, "riser.shut_off_share", &err);
    vent_site_reading taken[] = {{s.pit, vent_reading_stated(-1 * VENT_INWC, 0.01 * VENT_INWC)},
                                 {s.flow, vent_reading_stated(50 * VENT_CFM, 1 * VENT_CFM)},
                                 {speed, vent_reading_stated(1000 * VENT_FPM, 20 * VENT_FPM)},
                                 {fan, vent_reading_stated(380, 5)},
                                 {share, vent_reading_stated(0.8, 0.01)}};
    vent_sheet *sheet = vent_sheet_new(design, 5, taken, &err);
    well(&err);
    size_t length = vent_sheet_text(sheet, 0, NULL);
    char *text = malloc(length + 1), small[10];
    ck_assert_uint_eq(vent_sheet_text(sheet, length + 1, text), length);
    ck_assert_uint_eq(strlen(text), length);
    static const char *const words[] = {
        "-1.000 +- 0.010 in. w.c.", "50.0 +- 1.0 cfm",          "1000 +- 20 ft/min",
        "-249.1 +- 2.5 Pa",         "23.60 +- 0.47 L/s",        "0.800 +- 0.010 ",
        "pressure in pit",          "velocity in riser",        "pressure in riser of fan",
        "no measurement of radon",  "Local codes and licensed", "share of shut-off"};
    for (size_t i = 0; i < sizeof words / sizeof *words; ++i)
        ck_assert_msg(strstr(text, words[i]) != NULL, "no \"%s\" in\n%s", words[i], text);
    ck_assert_uint_eq(vent_sheet_text(sheet, sizeof small, small), length);
    ck_assert(strncmp(small, text, 9) == 0 && small[9] == 0);
    free(text);
    vent_sheet_free(sheet);
    vent_uncertainty_free(design);
    vent_network_free(s.net);
}
END_TEST

/* Date, instruments and weather stand above the table; nothing written there can forge a line of it. */
START_TEST(a_sheet_has_room_for_notes)
{
    vent_error err = VENT_NO_ERROR;
    stack s = stack_new(1);
    vent_uncertainty *design = design_of(&s);
    vent_site_reading taken = {s.pit, vent_reading_stated(-1 * VENT_INWC, 0.01 * VENT_INWC)};
    vent_sheet *sheet = vent_sheet_new(design, 1, &taken, &err);
    char bare[4000], text[4000], long_note[402];
    vent_sheet_text(sheet, sizeof bare, bare);
    ck_assert(!strstr(bare, "Date:") && !strstr(bare, "Weather:"));
    ck_assert(vent_sheet_note(sheet, VENT_NOTE_WEATHER,
                              "calm, -3 \xc2\xb0"
                              "C",
                              &err));
    ck_assert(vent_sheet_note(sheet, VENT_NOTE_DATE, "yesterday", &err));
    ck_assert(vent_sheet_note(sheet, VENT_NOTE_DATE, "14 March, 10 h", &err)); /* replaces it */
    ck_assert(vent_sheet_note(sheet, VENT_NOTE_INSTRUMENTS, "micromanometer, 100 %s", &err));
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    vent_sheet_text(sheet, sizeof text, text);
    ck_assert_msg(strstr(text, "Commissioning sheet\nDate: 14 March, 10 h\nInstruments: "
                               "micromanometer, 100 %s\nWeather: calm, -3 \xc2\xb0"
                               "C\nValues +-"),
                  "%s", text);
    memset(long_note, 'x', sizeof long_note - 1);
    long_note[sizeof long_note - 1] = 0;
    const struct {
        int kind;
        const char *note, *says;
    } bad[] = {{-1, "a", "kind"},
               {VENT_NOTE_END, "a", "kind"},
               {VENT_NOTE_DATE, long_note, "401 bytes"},
               {VENT_NOTE_DATE, "a\nriser   0 +- 0", "control character 10 at byte 1"},
               {VENT_NOTE_DATE, "\x1b[2J", "control character 27"},
               {VENT_NOTE_DATE, "\x7f", "control character 127"}};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; ++i) {
        vent_error is = VENT_NO_ERROR;
        ck_assert(!vent_sheet_note(sheet, bad[i].kind, bad[i].note, &is));
        ck_assert_int_eq(is.status, VENT_E_ARGUMENT);
        ck_assert_msg(strstr(is.message, bad[i].says), "%s", is.message);
    }
    ck_assert(!vent_sheet_note(NULL, 0, "a", NULL));
    char again[4000];
    vent_sheet_text(sheet, sizeof again, again);
    ck_assert_str_eq(again, text);
    vent_sheet_note(sheet, VENT_NOTE_DATE, "", &err);
    vent_sheet_note(sheet, VENT_NOTE_WEATHER, NULL, &err);
    vent_sheet_note(sheet, VENT_NOTE_INSTRUMENTS, NULL, &err);
    vent_sheet_text(sheet, sizeof again, again);
    ck_assert_str_eq(again, bare);
    vent_sheet_free(sheet);
    vent_uncertainty_free(design);
    vent_network_free(s.net);
}
END_TEST

START_TEST(every_place_has_words)
{
    vent_error err = VENT_NO_ERROR;
    stack s = stack_new(1);
    vent_solution *solution = vent_network_solve(s.net, NULL, &err);
    size_t count = vent_network_observable_count(s.net);
    vent_observable *all = malloc(count * sizeof *all);
    char(*words)[96] = malloc(count * sizeof *words);
    vent_network_observables(s.net, 0, count, all);
    for (size_t i = 0; i < count; ++i) {
        vent__place_words(s.net, solution, all[i], sizeof words[i], words[i]);
        ck_assert_msg(strlen(words[i]) > 5 && !strchr(words[i], '%'), "\"%s\"", words[i]);
        for (size_t j = 0; j < i; ++j)
            ck_assert_msg(strcmp(words[i], words[j]) != 0, "\"%s\" twice", words[i]);
    }
    free(all);
    free(words);
    vent_solution_free(solution);
    vent_network_free(s.net);
}
END_TEST

/* ---- commissioned ----------------------------------------------------------------------------- */

/* With small uncertainties everything is straight: Kalman's step by hand. */
START_TEST(commissioning_is_kalmans_step)
{
    vent_error err = VENT_NO_ERROR;
    stack s = stack_new(1e-4);
    vent_uncertainty *design = design_of(&s);
    vent_reading before = vent_uncertainty_of(design, s.flow, &err);
    vent_reading gauge = vent_uncertainty_of(design, s.gauge, &err);
    double gradient[2][INPUTS], covariance[4], work[INPUTS], noise = 0.5 * gauge.uncertainty;
    const vent_observable both[] = {s.gauge, s.flow};
    vent_solution_jacobian(design->solution, NULL, 2, both, INPUTS, design->parameters, gradient[0],
                           &err);
    vent__propagate(2, INPUTS, gradient[0], design->covariance, covariance, work);
    double gain = covariance[1] / (covariance[0] + noise * noise), off = gauge.uncertainty;
    vent_site_reading taken = {s.gauge, vent_reading_stated(gauge.value + off, noise)};
    vent_uncertainty *built = vent_commissioned(design, 1, &taken, &err);
    well(&err);
    vent_reading after = vent_uncertainty_of(built, s.flow, &err);
    near("flow moved by", after.value - before.value, gain * off, 1e-4, 0);
    NEAR(after.uncertainty * after.uncertainty, covariance[3] - gain * covariance[1], 1e-4);
    vent_network *net = vent_uncertainty_network(built, &err);
    NEAR(observed(net, s.flow), after.value, 1e-12);
    ck_assert(vent_uncertainty_network(NULL, &err) == NULL && err.status == VENT_E_ARGUMENT);
    vent_network_free(net);
    vent_uncertainty_free(built);
    vent_uncertainty_free(design);
    vent_network_free(s.net);
}
END_TEST

/* One reading after the other is both at once. */
START_TEST(knowledge_adds_up)
{
    vent_error err = VENT_NO_ERROR;
    stack s = stack_new(1e-3);
    vent_uncertainty *design = design_of(&s);
    double p = observed(s.net, s.gauge), q = observed(s.net, s.flow);
    vent_site_reading taken[] = {{s.gauge, vent_reading_stated(p + 0.02, 0.02)},
                                 {s.flow, vent_reading_stated(q + 1e-6, 2e-6)}};
    vent_uncertainty *at_once = vent_commissioned(design, 2, taken, &err);
    vent_uncertainty *first = vent_commissioned(design, 1, taken, &err);
    vent_uncertainty *then = vent_commissioned(first, 1, taken + 1, &err);
    well(&err);
    vent_reading a = vent_uncertainty_of(at_once, s.pit, &err);
    vent_reading b = vent_uncertainty_of(then, s.pit, &err);
    near("after both", b.value, a.value, 0, 1e-3 * a.uncertainty);
    NEAR(b.uncertainty, a.uncertainty, 1e-3);
    vent_uncertainty_free(then);
    vent_uncertainty_free(first);
    vent_uncertainty_free(at_once);
    vent_uncertainty_free(design);
    vent_network_free(s.net);
}
END_TEST

/* Without correlations a fit of what is known is a fit with priors, to the last bit. */
START_TEST(what_is_known_enters_a_fit_as_priors)
{
    vent_error err = VENT_NO_ERROR;
    stack s = stack_new(1);
    vent_uncertainty *design = vent_uncertainty_new(s.net, INPUTS, s.inputs, NULL, &err);
    double q = observed(s.net, s.flow);
    vent_fitted *fitted[2];
    for (int k = 0; k < 2; ++k) {
        vent_fit *fit = vent_fit_new(s.net, &err);
        if (k == 0)
            vent_fit_known(fit, design, &err);
        else
            vent_fit_priors(fit, INPUTS, s.inputs, &err);
        vent_fit_reading(fit, 0, s.flow, vent_reading_stated(0.9 * q, 0.01 * q), &err);
        fitted[k] = vent_fit_solve(fit, &err);
        vent_fit_free(fit);
    }
    well(&err);
    for (size_t i = 0; i < INPUTS; ++i) {
        vent_estimate a, b;
        ck_assert(vent_fitted_estimate(fitted[0], i, &a) && vent_fitted_estimate(fitted[1], i, &b));
        ck_assert(a.value == b.value && a.uncertainty == b.uncertainty);
    }
    vent_fitted_free(fitted[0]);
    vent_fitted_free(fitted[1]);
    vent_uncertainty_free(design);
    /* wholly correlated inputs are one input */
    s.correlation[1] = s.correlation[INPUTS] = 1;
    design = design_of(&s);
    vent_site_reading taken = {s.flow, vent_reading_stated(q, 0.01 * q)};
    REFUSED(vent_commissioned(design, 1, &taken, e), VENT_E_ARGUMENT, "leave one of them out");
    vent_fit *fit = vent_fit_new(s.net, &err);
    REFUSED(vent_fit_known(fit, NULL, e), VENT_E_ARGUMENT, "known");
    REFUSED(vent_fit_known(NULL, design, e), VENT_E_ARGUMENT, "fit");
    vent_fit_free(fit);
    vent_uncertainty_free(design);
    vent_network_free(s.net);
}
END_TEST

/* ---- what is refused ---- */

START_TEST(bad_sheets_are_refused)
{
    vent_error err = VENT_NO_ERROR;
    stack s = stack_new(1);
    vent_uncertainty *design = design_of(&s);
    vent_site_reading good = {s.flow, vent_reading_stated(0.02, 1e-3)}, bad = good;
    REFUSED(vent_sheet_new(NULL, 1, &good, e), VENT_E_ARGUMENT, "design");
    REFUSED(vent_sheet_new(design, 1, NULL, e), VENT_E_ARGUMENT, "readings");
    REFUSED(vent_sheet_new(design, 0, &good, e), VENT_E_ARGUMENT, "must lie between 1 and 1000");
    REFUSED(vent_sheet_new(design, 1001, &good, e), VENT_E_ARGUMENT, "must lie between");
    const double wrong[] = {0, -1, NAN, INFINITY};
    for (size_t i = 0; i < 4; ++i) {
        bad.reading = (vent_reading){.value = 0.02, .uncertainty = wrong[i]};
        REFUSED(vent_sheet_new(design, 1, &bad, e), VENT_E_ARGUMENT, "must be above 0");
        REFUSED(vent_commissioned(design, 1, &bad, e), VENT_E_ARGUMENT, "must be above 0");
    }
    bad.reading = (vent_reading){.value = NAN, .uncertainty = 1};
    REFUSED(vent_sheet_new(design, 1, &bad, e), VENT_E_ARGUMENT, "must be finite");
    bad = good;
    bad.observable.place = 7;
    REFUSED(vent_sheet_new(design, 1, &bad, e), VENT_E_NOT_FOUND, "no such place");
    REFUSED(vent_commissioned(design, 1, &bad, e), VENT_E_NOT_FOUND, "no such place");
    bad = good;
    bad.observable = vent_network_find_observable(s.net, "riser.fan_power", &err);
    REFUSED(vent_sheet_new(design, 1, &bad, e), VENT_E_ARGUMENT, "has no number for it");
    vent_site_reading twice[] = {{s.pit, vent_reading_stated(-250, 1e-7)},
                                 {s.pit, vent_reading_stated(-251, 1e-7)}};
    REFUSED(vent_sheet_new(design, 2, twice, e), VENT_E_ARGUMENT, "take their mean");
    ck_assert(vent_sheet_new(design, 1, &bad, NULL) == NULL);
    ck_assert(vent_commissioned(NULL, 1, &good, NULL) == NULL);
    vent_error before = {.status = VENT_E_MEMORY};
    ck_assert(vent_sheet_new(design, 1, &good, &before) == NULL && !before.message[0]);
    ck_assert(vent_sheet_count(NULL) == 0 && isnan(vent_sheet_whole(NULL).chi_square));
    ck_assert(vent_sheet_text(NULL, 0, NULL) == 0 && vent_sheet_verdict(NULL, 0, NULL) == 0);
    vent_sheet_free(NULL);
    vent_uncertainty_free(design);
    vent_network_free(s.net);
}
END_TEST

Suite *commission_suite(void)
{
    Suite *suite = suite_create("commission");
    TCase *algebra = tcase_create("algebra");
    tcase_add_test(algebra, correlated_answers_come_out_as_in_the_gum);
    tcase_add_test(algebra, scores_hang_together);
    suite_add_tcase(suite, algebra);
    TCase *sheet = tcase_create("sheet");
    tcase_add_test(sheet, a_sheet_holds_readings_against_predictions);
    tcase_add_test(sheet, verdicts_change_at_two_and_three);
    tcase_add_test(sheet, a_wrong_sign_is_told);
    tcase_add_test(sheet, a_coarse_reading_tells_little);
    tcase_add_test(sheet, contradictory_readings_are_told_together);
    tcase_add_test(sheet, the_sheet_prints_both_units_and_the_cautions);
    tcase_add_test(sheet, every_place_has_words);
    tcase_add_test(sheet, a_sheet_has_room_for_notes);
    suite_add_tcase(suite, sheet);
    TCase *known = tcase_create("commissioned");
    tcase_add_test(known, commissioning_is_kalmans_step);
    tcase_add_test(known, knowledge_adds_up);
    tcase_add_test(known, what_is_known_enters_a_fit_as_priors);
    suite_add_tcase(suite, known);
    TCase *refusal = tcase_create("refusal");
    tcase_add_test(refusal, bad_sheets_are_refused);
    suite_add_tcase(suite, refusal);
    return suite;
}
