/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fault finding: evidence, ranking, claims, and readings that are wrong in themselves. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <ventstack/ventstack.h>

#include "faulty.h"
#include "numeric/chance.h"
#include "suites.h"

/* ---- evidence: held to plain averages over random inputs and sizes ---------------------------------- */

static double logarithm_of_mean(const double *l, int n)
{
    double most = -INFINITY, sum = 0;
    for (int i = 0; i < n; ++i)
        most = fmax(most, l[i]);
    for (int i = 0; i < n; ++i)
        sum += exp(l[i] - most);
    return most + log(sum / n);
}

/* 0.15: three times the scatter of the plain average, and what Laplace's approximation is off where inputs
 * must stretch by two of their uncertainties. */
START_TEST(evidence_is_the_average_likelihood)
{
    enum { SAMPLES = 40000, READINGS = 3 };
    stack s = built();
    vent_error err = VENT_NO_ERROR;
    vent_diagnosis *d = begun(&s, true);
    vent_observable o[READINGS];
    vent_reading truth[READINGS], r[READINGS];
    static const double rough[READINGS] = {12, 12, 3e-3}, exact[READINGS] = {0};
    static const char *const names[READINGS] = {"riser.static_pressure", "store.pressure",
                                                "riser.flow"};
    for (int i = 0; i < READINGS; ++i)
        o[i] = read_of(&s, names[i]);
    vent_fault faults[] = {{.kind = VENT_FAULT_NONE, .odds = 1},
                           {VENT_FAULT_SLAB_LEAK, s.store, 0, 0, 1, 2e-4, 2e-2},
                           {VENT_FAULT_FAN_WEAK, s.riser, RISER_FAN, 0, 1, 0.2, 0.9}};
    enum { FAULTS = 3 };
    vent_diagnosis_exercise(d, faults[1], 1e-3, 11, READINGS, o, rough, truth, &err);
    for (int i = 0; i < READINGS; ++i)
        take(d, o[i], truth[i].value, rough[i]);
    for (int k = 0; k < FAULTS; ++k)
        ck_assert(vent_diagnosis_fault(d, faults[k], &err));
    vent_diagnosed *found = solved(d);
    double *l = malloc(SAMPLES * sizeof *l);
    for (int k = 0; k < FAULTS; ++k) {
        for (int sample = 0; sample < SAMPLES; ++sample) {
            uint64_t seed = (uint64_t)(sample + SAMPLES * k);
            double size = faults[k].low; /* 0 where a fault has no size */
            if (size > 0)
                size *= pow(faults[k].high / size, vent__random_share(991, seed));
            vent_diagnosis_exercise(d, faults[k], size, seed, READINGS, o, exact, r, &err);
            l[sample] = 0;
            for (int i = 0; i < READINGS; ++i) {
                double off = (truth[i].value - r[i].value) / rough[i];
                l[sample] -= 0.5 * off * off + log(rough[i]) + 0.5 * log(2 * VENT_PI);
            }
        }
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        double want = logarithm_of_mean(l, SAMPLES);
        for (size_t rank = 0; rank < FAULTS; ++rank) {
            vent_finding f = at_rank(found, rank);
            if (f.fault[0].kind == faults[k].kind)
                ck_assert_msg(fabs(f.evidence - want) < 0.15,
                              "%s: evidence %.3f, plain average %.3f",
                              vent_fault_name(faults[k].kind), f.evidence, want);
        }
    }
    free(l);
    vent_diagnosed_free(found);
    vent_diagnosis_free(d);
    torn_down(&s);
}
END_TEST

/* ---- ranking ----------------------------------------------------------------------------------------- */

static bool is_fault(vent_finding f, vent_fault fault)
{
    return f.faults == 1 && f.fault[0].kind == fault.kind && f.fault[0].place == fault.place &&
           f.fault[0].item == fault.item;
}

START_TEST(every_fault_is_found_from_good_readings)
{
    stack s = built();
    struct {
        vent_fault fault;
        double size;
    } cases[] = {{fault_at(VENT_FAULT_SLAB_LEAK, s.store, 0), 4e-3},
                 {fault_at(VENT_FAULT_SLAB_LEAK, s.hall, 0), 4e-3},
                 {fault_at(VENT_FAULT_JOINT_LEAK, s.tee, 0), 2e-3},
                 {fault_at(VENT_FAULT_TERMINATION, s.roof, 0), 0.2},
                 {fault_at(VENT_FAULT_WATER, s.first, -1), 0.2},
                 {fault_at(VENT_FAULT_WATER, s.second, 0), 0.2},
                 {fault_at(VENT_FAULT_WATER, s.riser, 0), 0.15},
                 {fault_at(VENT_FAULT_FAN_WEAK, s.riser, RISER_FAN), 0.7},
                 {fault_at(VENT_FAULT_FAN_WRONG, s.riser, RISER_FAN), 0},
                 {fault_at(VENT_FAULT_FAN_STOPPED, s.riser, RISER_FAN), 5},
                 {fault_at(VENT_FAULT_SOIL_TIGHT, s.store, 0), 0.15},
                 {fault_at(VENT_FAULT_SOIL_TIGHT, s.hall, 0), 0.15}};
    enum { CASES = sizeof cases / sizeof *cases };
    int first = 0;
    for (size_t i = 0; i < CASES; ++i) {
        vent_diagnosis *d = begun(&s, true);
        exercise(d, &s, cases[i].fault, cases[i].size, 3 + i, ALL);
        vent_diagnosed *found = solved(d);
        char words[200];
        vent_diagnosed_words(found, 0, sizeof words, words);
        bool is_first = is_fault(at_rank(found, 0), cases[i].fault);
        first += is_first;
        vent_finding f = at_rank(found, is_first ? 0 : 1);
        ck_assert_msg(is_fault(f, cases[i].fault), "%s at %d came out as '%s'",
                      vent_fault_name(cases[i].fault.kind), cases[i].fault.place, words);
        vent_parameter_range range;
        if (vent_fault_range(f.fault[0].kind, &range)) {
            ck_assert_double_le(f.low[0], f.size[0]);
            ck_assert_double_le(f.size[0], f.high[0]);
            ck_assert_double_gt(f.size[0], 0.3 * cases[i].size);
            ck_assert_double_lt(f.size[0], 3 * cases[i].size);
        } else if (f.fault[0].kind != VENT_FAULT_FAN_WRONG) {
            ck_assert_double_nan(f.size[0]);
        }
        vent_diagnosed_free(found);
        vent_diagnosis_free(d);
    }
    ck_assert_int_ge(first, CASES - 1); /* chance may put one behind */
    torn_down(&s);
}
END_TEST

START_TEST(probabilities_are_what_evidence_and_odds_make)
{
    stack s = built();
    vent_diagnosis *d = begun(&s, true);
    exercise(d, &s, fault_at(VENT_FAULT_SLAB_LEAK, s.store, 0), 1e-3, 9, 3);
    vent_diagnosed *found = solved(d), *again = solved(d);
    double sum = 0, first = at_rank(found, 0).evidence + log(at_rank(found, 0).fault[0].odds);
    for (size_t rank = 0; rank < vent_diagnosed_count(found); ++rank) {
        vent_finding f = at_rank(found, rank), same = at_rank(again, rank);
        double want =
            at_rank(found, 0).probability * exp(f.evidence + log(f.fault[0].odds) - first);
        ck_assert_double_eq_tol(f.probability, want, 1e-12);
        ck_assert(rank == 0 || f.probability <= at_rank(found, rank - 1).probability);
        ck_assert_mem_eq(&f.probability, &same.probability, sizeof f.probability);
        ck_assert_mem_eq(f.size, same.size, sizeof f.size);
        ck_assert_int_le(f.group, (int)rank);
        sum += f.probability;
    }
    ck_assert_double_eq_tol(sum, 1, 1e-12);
    vent_diagnosed_free(found);
    vent_diagnosed_free(again);
    vent_diagnosis_free(d);
    torn_down(&s);
}
END_TEST

/* Below the fan a blocked end, a weak fan and water above look alike; a tap behind the fan parts them. */
START_TEST(what_looks_alike_is_one_group_until_the_right_tap_is_read)
{
    stack s = built();
    vent_error err = VENT_NO_ERROR;
    vent_diagnosis *d = begun(&s, true);
    exercise(d, &s, fault_at(VENT_FAULT_TERMINATION, s.roof, 0), 0.2, 21, 3);
    vent_diagnosed *found = solved(d);
    ck_assert_int_eq(vent_diagnosed_claim(found), VENT_DIAGNOSED_GROUP);
    bool weak = false, blocked = false;
    for (size_t rank = 0; rank < vent_diagnosed_count(found); ++rank) {
        vent_finding f = at_rank(found, rank);
        weak |= f.group == 0 && f.fault[0].kind == VENT_FAULT_FAN_WEAK;
        blocked |= f.group == 0 && f.fault[0].kind == VENT_FAULT_TERMINATION;
    }
    ck_assert(weak && blocked);
    enum { ROOM = 40 };
    vent_candidate c[ROOM];
    vent_reading expected[2 * ROOM];
    double distance[ROOM];
    size_t n = vent_diagnosed_candidates(found, ROOM, c);
    ck_assert_uint_le(n, ROOM);
    int best = vent_diagnosed_next(found, 0, 1, n, c, expected, distance, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    char name[64];
    vent_network_observable_name(s.net, c[best].observable, sizeof name, name);
    ck_assert_msg(strcmp(name, "riser[2].static_pressure") == 0 ||
                      strcmp(name, "riser[3].static_pressure") == 0, /* behind the fan */
                  "%s", name);
    ck_assert_double_gt(distance[best], 3);
    for (size_t i = 0; i < n; ++i)
        ck_assert_double_le(distance[i], distance[best]);
    vent_diagnosed_free(found);

    vent_reading r;
    const double one = 1;
    vent_diagnosis_exercise(d, fault_at(VENT_FAULT_TERMINATION, s.roof, 0), 0.2, 21, 1,
                            &c[best].observable, &one, &r, &err);
    ck_assert_int_eq(vent_diagnosis_reading(d, c[best].observable, r, &err), 3);
    found = solved(d);
    ck_assert_int_eq(vent_diagnosed_claim(found), VENT_DIAGNOSED_TOLD);
    ck_assert_int_eq(at_rank(found, 0).fault[0].kind, VENT_FAULT_TERMINATION);
    vent_diagnosed_free(found);
    vent_diagnosis_free(d);
    torn_down(&s);
}
END_TEST

/* One reading cannot tell, and the answer does not claim to. */
START_TEST(one_reading_tells_nothing)
{
    stack s = built();
    vent_diagnosis *d = begun(&s, true);
    take(d, read_of(&s, "riser.flow"), 0.02, 8e-4);
    vent_diagnosed *found = solved(d);
    ck_assert_int_ne(vent_diagnosed_claim(found), VENT_DIAGNOSED_TOLD);
    ck_assert_uint_ne(vent_diagnosed_flags(found) & VENT_DIAGNOSED_FEW, 0);
    vent_diagnosed_free(found);
    vent_diagnosis_free(d);
    torn_down(&s);
}
END_TEST

/* A stack as designed: its readings make "nothing wrong" the first. */
START_TEST(a_sound_stack_is_left_in_peace)
{
    stack s = built();
    int first = 0, claimed_fault = 0;
    enum { STACKS = 20 };
    for (uint64_t seed = 0; seed < STACKS; ++seed) {
        vent_diagnosis *d = begun(&s, true);
        exercise(d, &s, fault_at(VENT_FAULT_NONE, 0, 0), NAN, seed, 6);
        vent_diagnosed *found = solved(d);
        bool none = at_rank(found, 0).fault[0].kind == VENT_FAULT_NONE;
        first += none;
        claimed_fault += !none && vent_diagnosed_claim(found) == VENT_DIAGNOSED_TOLD;
        vent_diagnosed_free(found);
        vent_diagnosis_free(d);
    }
    ck_assert_int_ge(first, 17);
    ck_assert_int_le(claimed_fault, 1);
    torn_down(&s);
}
END_TEST

/* Two faults in the stack: the slab leaks air of a temperature at one pit, a share of the end is blocked. */
static vent_network *leaking_and_blocked(const stack *s, double blocked, double temperature,
                                         vent_error *err)
{
    vent_network *truth = vent_network_copy(s->net, err);
    vent_network_set_termination(
        truth, vent_termination_blocked(vent_end_guard(1.2e-3, 12.7e-3, err), blocked, err), err);
    vent_network_leak(
        truth, "hole", s->hall,
        vent_opening_to(VENT_SURROUNDINGS_ROOM, 4e-3, VENT_SHARP_EDGED_DISCHARGE, err), temperature,
        err);
    return truth;
}

START_TEST(two_faults_at_once)
{
    stack s = built();
    vent_error err = VENT_NO_ERROR;
    vent_network *truth = leaking_and_blocked(&s, 0.2, 293, &err);
    vent_solution *point = vent_network_solve(truth, NULL, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    vent_diagnosis *d = begun(&s, true);
    for (int i = 0; i < ALL; ++i)
        take(d, read_of(&s, all_names[i]),
             vent_solution_observe(point, vent_network_find_observable(truth, all_names[i], &err),
                                   &err),
             all_uncertainty[i]);
    vent_diagnosed *found = solved(d);
    vent_finding f = at_rank(found, 0);
    char words[300];
    vent_diagnosed_words(found, 0, sizeof words, words);
    int leak = f.fault[0].kind == VENT_FAULT_SLAB_LEAK ? 0 : 1;
    ck_assert_msg(f.faults == 2 && f.fault[leak].kind == VENT_FAULT_SLAB_LEAK &&
                      f.fault[leak].place == s.hall &&
                      f.fault[1 - leak].kind == VENT_FAULT_TERMINATION,
                  "came out as '%s'", words);
    ck_assert_double_lt(f.low[leak], 4e-3);
    ck_assert_double_gt(f.high[leak], 4e-3);
    ck_assert_double_lt(f.low[1 - leak], 0.2);
    ck_assert_double_gt(f.high[1 - leak], 0.2);
    for (size_t i = 0; i < ALL; ++i) {
        vent_residual r;
        ck_assert(vent_diagnosed_residual(found, 0, i, &r));
        ck_assert_double_lt(fabs(r.residual), 3);
    }
    vent_network *both = vent_diagnosed_network(found, 0, &err);
    ck_assert_double_eq_tol(riser_flow(both, &s), vent_solution_flow(point, s.riser), 2e-3);
    vent_network_free(both);
    vent_diagnosed_free(found);
    vent_diagnosis_free(d);
    vent_solution_free(point);
    vent_network_free(truth);
    torn_down(&s);
}
END_TEST

/* Where the design is certain, chi-square is the squares of the residuals and nothing else: a size near the
 * end of its range is no misfit. */
START_TEST(sizes_of_two_faults_are_no_misfit)
{
    stack s = built();
    vent_error err = VENT_NO_ERROR;
    vent_network *truth = leaking_and_blocked(&s, 0.08, 286, &err);
    vent_solution *point = vent_network_solve(truth, NULL, &err);
    vent_diagnosis *d = begun(&s, false);
    for (int i = 0; i < ALL; ++i)
        take(d, read_of(&s, all_names[i]),
             vent_solution_observe(point, vent_network_find_observable(truth, all_names[i], &err),
                                   &err),
             all_uncertainty[i]);
    vent_fault leak = {VENT_FAULT_SLAB_LEAK, s.hall, 0, 0, 1, 2e-4, 2e-2},
               end = {VENT_FAULT_TERMINATION, s.roof, 0, 0, 1, 0.05, 0.6};
    ck_assert(vent_diagnosis_fault(d, leak, &err) && vent_diagnosis_fault(d, end, &err));
    vent_diagnosed *found = solved(d);
    vent_finding f = at_rank(found, 0);
    ck_assert_int_eq(f.faults, 2);
    double squares = 0;
    for (size_t i = 0; i < ALL; ++i) {
        vent_residual r;
        ck_assert(vent_diagnosed_residual(found, 0, i, &r));
        squares += r.residual * r.residual;
    }
    ck_assert_double_eq_tol(f.chi_square, squares, 1e-6 * (1 + squares));
    vent_diagnosed_free(found);
    vent_diagnosis_free(d);
    vent_solution_free(point);
    vent_network_free(truth);
    torn_down(&s);
}
END_TEST

/* ---- readings that are wrong in themselves -------------------------------------------------------------- */

static void take_designed(vent_diagnosis *d, const stack *s, int n, double sign)
{
    vent_error err = VENT_NO_ERROR;
    vent_solution *point = vent_network_solve(s->net, NULL, &err);
    for (int i = 0; i < n; ++i) {
        vent_observable o = read_of(s, all_names[i]);
        take(d, o, sign * vent_solution_observe(point, o, &err), all_uncertainty[i]);
    }
    vent_solution_free(point);
}

static void expect_text(const vent_diagnosed *found, const char *part)
{
    char text[8000];
    size_t length = vent_diagnosed_report(found, sizeof text, text);
    ck_assert_uint_lt(length, sizeof text);
    ck_assert_uint_eq(length, vent_diagnosed_report(found, 0, NULL));
    ck_assert_msg(strstr(text, part), "no '%s' in: %s", part, text);
}

/* A leak four times as large as the largest asked about, alone and beside a weak fan: neither interval may close on the
 * bound as if it were known. */
START_TEST(a_size_at_its_bound_is_told_from_one_side)
{
    stack s = built();
    vent_error err = VENT_NO_ERROR;
    vent_fault leak = fault_at(VENT_FAULT_SLAB_LEAK, s.store, 0);
    leak.low = 1e-4;
    leak.high = 1e-3;
    vent_diagnosis *d = begun(&s, true);
    exercise(d, &s, fault_at(VENT_FAULT_SLAB_LEAK, s.store, 0), 4e-3, 11, 5);
    vent_diagnosis_fault(d, leak, &err);
    vent_diagnosed *found = solved(d);
    vent_finding f = at_rank(found, 0);
    ck_assert_int_eq(vent_diagnosed_at_bound(found, 0, 0), 1);
    ck_assert(f.high[0] == leak.high && f.low[0] < f.high[0] && f.low[0] > 0.5 * leak.high);
    char words[200], least[40];
    vent_diagnosed_words(found, 0, sizeof words, words);
    snprintf(least, sizeof least, "at least %.3g cm2", 1e4 * f.low[0]);
    ck_assert_msg(strstr(words, least) && strstr(words, "the most asked about is 10)"), "%s",
                  words);
    ck_assert_int_eq(vent_diagnosed_at_bound(found, 0, 1), 0);
    ck_assert_int_eq(vent_diagnosed_at_bound(found, 9, 0), 0);
    ck_assert_int_eq(vent_diagnosed_at_bound(found, 0, -1), 0);
    ck_assert_int_eq(vent_diagnosed_at_bound(NULL, 0, 0), 0);
    vent_diagnosed_free(found);

    vent_fault weak = fault_at(VENT_FAULT_FAN_WEAK, s.riser, RISER_FAN);
    weak.low = 0.9;
    weak.high = 0.98;
    vent_diagnosis_fault(d, weak, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    found = solved(d);
    bool told = false;
    for (size_t rank = 0; rank < vent_diagnosed_count(found); ++rank) {
        f = at_rank(found, rank);
        for (int k = 0; f.faults == 2 && k < 2; ++k)
            if (f.fault[k].kind == VENT_FAULT_SLAB_LEAK) {
                told = true;
                ck_assert_int_eq(vent_diagnosed_at_bound(found, rank, k), 1);
                ck_assert(f.high[k] == leak.high && f.low[k] <= f.size[k]);
            }
    }
    ck_assert(told);
    vent_diagnosed_free(found);
    vent_diagnosis_free(d);

    /* Soil so tight that nothing asked about is: the other bound. */
    vent_fault tight = fault_at(VENT_FAULT_SOIL_TIGHT, s.store, 0);
    tight.low = 0.4;
    tight.high = 0.9;
    d = begun(&s, true);
    exercise(d, &s, fault_at(VENT_FAULT_SOIL_TIGHT, s.store, 0), 0.03, 5, 5);
    vent_diagnosis_fault(d, tight, &err);
    found = solved(d);
    ck_assert_int_eq(vent_diagnosed_at_bound(found, 0, 0), -1);
    vent_diagnosed_words(found, 0, sizeof words, words);
    ck_assert_msg(strstr(words, "at most ") && strstr(words, "the least asked about is 40)"), "%s",
                  words);
    vent_diagnosed_free(found);
    vent_diagnosis_free(d);
    torn_down(&s);
}
END_TEST

/* An input that its bound holds cannot explain a reading, and does not pretend to: a crack's discharge coefficient is at most 1. */
START_TEST(an_input_at_its_bound_gives_no_more)
{
    stack s = built();
    vent_error err = VENT_NO_ERROR;
    vent_opening hole = vent_opening_to(VENT_SURROUNDINGS_ROOM, 3e-3, 1, &err);
    vent_network_leak(s.net, "hole", s.store, hole, 286, &err);
    vent_solution *point = vent_network_solve(s.net, NULL, &err);
    vent_observable o = read_of(&s, "store.pressure");
    double designed = vent_solution_observe(point, o, &err);
    vent_input input = {vent_network_find_parameter(s.net, "hole.discharge_coefficient", &err), 0.3,
                        VENT_SHAPE_NORMAL, 0};
    double chi_square[2], evidence[2];
    for (int unsure = 0; unsure < 2; ++unsure) {
        vent_diagnosis *d = vent_diagnosis_new(s.net, &err);
        if (unsure)
            vent_diagnosis_inputs(d, 1, &input, &err);
        vent_diagnosis_fault(d, fault_at(VENT_FAULT_NONE, 0, 0), &err);
        take(d, o, designed + 6, 2); /* less vacuum: more than the hole can give */
        vent_diagnosed *found = solved(d);
        chi_square[unsure] = at_rank(found, 0).chi_square;
        evidence[unsure] = at_rank(found, 0).evidence;
        vent_diagnosed_free(found);
        vent_diagnosis_free(d);
    }
    ck_assert_double_eq_tol(chi_square[0], 9, 1e-6);
    ck_assert_double_eq_tol(chi_square[1], 9, 0.02);
    /* Half of what the coefficient may be is its bound, and as probable; the other half less so. */
    ck_assert_double_ge(evidence[1], evidence[0] - log(2));
    ck_assert_double_le(evidence[1], evidence[0] + 1e-9);
    vent_solution_free(point);
    torn_down(&s);
}
END_TEST

START_TEST(wrong_signs_are_told)
{
    stack s = built();
    vent_diagnosis *d = begun(&s, true);
    take_designed(d, &s, 5, -1); /* all vacuums entered as positive numbers */
    vent_diagnosed *found = solved(d);
    ck_assert_uint_ne(vent_diagnosed_flags(found) & VENT_DIAGNOSED_SIGN, 0);
    ck_assert_int_eq(at_rank(found, 0).fault[0].kind, VENT_FAULT_SIGN);
    ck_assert_int_eq(at_rank(found, 0).fault[0].place, -1);
    expect_text(found, "wrong sign: all pressures: tubes swapped, or signs reversed");
    expect_text(found, "a vacuum is negative");
    vent_diagnosed_free(found);
    vent_diagnosis_free(d);
    torn_down(&s);
}
END_TEST

/* Pressures and flows by the other convention: no water, no ice, but signs. */
START_TEST(the_other_convention_throughout_is_told)
{
    for (int share = 1; share <= 10; share *= 10) {
        stack s = built();
        vent_error err = VENT_NO_ERROR;
        vent_diagnosis *d = begun(&s, true);
        vent_solution *point = vent_network_solve(s.net, NULL, &err);
        static const char *const names[] = {"store.pressure", "hall.pressure", "riser.flow"};
        for (int i = 0; i < 3; ++i) {
            vent_observable o = read_of(&s, names[i]);
            double value = vent_solution_observe(point, o, &err);
            take(d, o, -value, 0.01 * share * fabs(value));
        }
        vent_diagnosed *found = solved(d);
        vent_finding f = at_rank(found, 0);
        ck_assert_int_eq(f.fault[0].kind, VENT_FAULT_SIGN);
        ck_assert_int_eq(f.fault[0].place, VENT_SIGN_ALL_READINGS);
        ck_assert_int_eq(f.faults, 1);
        ck_assert_int_eq(vent_diagnosed_claim(found), VENT_DIAGNOSED_TOLD);
        expect_text(found, "wrong sign: all readings: signs reversed");
        vent_fault none = fault_at(VENT_FAULT_SIGN, -3, 0);
        ck_assert(!vent_diagnosis_fault(d, none, &err) && err.status == VENT_E_NOT_FOUND);
        vent_solution_free(point);
        vent_diagnosed_free(found);
        vent_diagnosis_free(d);
        torn_down(&s);
    }
}
END_TEST

/* What a contractor reads is percent and words; logarithms and chi-squares stay with the findings. */
START_TEST(a_report_tells_likelihoods_in_words)
{
    stack s = built();
    vent_diagnosis *d = begun(&s, true);
    exercise(d, &s, fault_at(VENT_FAULT_SLAB_LEAK, s.store, 0), 4e-3, 3, ALL);
    vent_diagnosed *found = solved(d);
    char text[6000], line[80];
    vent_diagnosed_report(found, sizeof text, text);
    expect_text(found, "likelihood among the candidates");
    expect_text(found, at_rank(found, 0).probability >= 0.99 ? "hardly another" : "likely");
    expect_text(found, "all candidates together are 100 %");
    ck_assert_msg(!strstr(text, "evidence") && !strstr(text, "chi"), "%s", text);
    snprintf(line, sizeof line, "%.1f %%  ", 100 * at_rank(found, 0).probability);
    if (at_rank(found, 0).probability < 0.9995)
        expect_text(found, line);
    ck_assert(isfinite(at_rank(found, 0).evidence) && isfinite(at_rank(found, 0).chi_square));
    vent_diagnosed_free(found);
    vent_diagnosis_free(d);
    torn_down(&s);
}
END_TEST

START_TEST(a_reading_taken_elsewhere_is_told)
{
    stack s = built();
    vent_error err = VENT_NO_ERROR;
    vent_diagnosis *d = begun(&s, true);
    take_designed(d, &s, 3, 1);
    vent_solution *point = vent_network_solve(s.net, NULL, &err);
    take(d, read_of(&s, "second.static_pressure"), /* read above the fan */
         vent_solution_observe(point, read_of(&s, "riser[2].static_pressure"), &err), 1);
    vent_diagnosed *found = solved(d);
    vent_finding f = at_rank(found, 0);
    ck_assert_int_eq(f.fault[0].kind, VENT_FAULT_PLACE);
    ck_assert_int_eq(f.fault[0].place, 3);
    vent_observable there = vent_diagnosed_place(found, 3, (int)f.size[0]);
    char name[64];
    vent_network_observable_name(s.net, there, sizeof name, name);
    ck_assert_str_eq(name, "riser[2].static_pressure");
    expect_text(found,
                "reading taken elsewhere: static pressure in second, after the pipe, perhaps: "
                "static pressure in riser, after fan designed\n");
    vent_solution_free(point);
    vent_diagnosed_free(found);
    vent_diagnosis_free(d);
    torn_down(&s);
}
END_TEST

START_TEST(constant_and_contrary_readings_are_told)
{
    stack s = built();
    vent_diagnosis *d = begun(&s, true);
    static const char *const places[] = {"riser.static_pressure", "store.pressure", "hall.pressure",
                                         "second.static_pressure"};
    for (int i = 0; i < 4; ++i)
        take(d, read_of(&s, places[i]), -210, 1);
    vent_diagnosed *found = solved(d);
    ck_assert_uint_ne(vent_diagnosed_flags(found) & VENT_DIAGNOSED_CONSTANT, 0);
    expect_text(found, "stuck instrument");
    vent_diagnosed_free(found);
    vent_diagnosis_free(d);

    d = begun(&s, false);
    take(d, read_of(&s, "hall.pressure"), -180, 1);
    take(d, read_of(&s, "hall.pressure"), -195, 1);
    found = solved(d);
    uint32_t flags = vent_diagnosed_flags(found);
    ck_assert_uint_ne(flags & VENT_DIAGNOSED_CONTRARY, 0);
    ck_assert_uint_ne(flags & VENT_DIAGNOSED_EXACT, 0);
    ck_assert_uint_eq(flags & (VENT_DIAGNOSED_CONSTANT | VENT_DIAGNOSED_SIGN), 0);
    expect_text(found, "exclude each other");
    vent_diagnosed_free(found);
    vent_diagnosis_free(d);
    torn_down(&s);
}
END_TEST

START_TEST(a_test_hole_is_a_reading_of_its_pit)
{
    stack s = built();
    vent_error err = VENT_NO_ERROR;
    vent_diagnosis *d = begun(&s, true);
    int number = vent_diagnosis_test_hole(d, s.store, vent_reading_stated(0.2, 0.02),
                                          vent_reading_stated(-40, 2), &err);
    ck_assert_int_eq(number, 0);
    vent_diagnosed *found = solved(d);
    vent_residual r;
    ck_assert(vent_diagnosed_residual(found, 0, 0, &r));
    ck_assert_double_eq_tol(r.reading, -200, 1e-9);
    ck_assert_double_eq_tol(r.uncertainty, hypot(10, 20), 1e-9); /* 2/0.2 and a tenth of 200 */
    vent_diagnosed_free(found);
    ck_assert_int_eq(vent_diagnosis_test_hole(d, s.tee, vent_reading_stated(0.2, 0.02),
                                              vent_reading_stated(-40, 2), &err),
                     -1);
    ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
    err = (vent_error)VENT_NO_ERROR;
    ck_assert_int_eq(vent_diagnosis_test_hole(d, s.store, vent_reading_stated(1.2, 0),
                                              vent_reading_stated(-40, 2), &err),
                     -1);
    ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
    vent_diagnosis_free(d);
    torn_down(&s);
}
END_TEST

/* Contradictory readings that nothing explains: the design ranks first, and is not said to fit. */
START_TEST(a_design_that_ranks_first_need_not_fit)
{
    stack s = built();
    vent_error err = VENT_NO_ERROR;
    vent_diagnosis *d = begun(&s, false);
    take(d, read_of(&s, "hall.pressure"), -180, 1);
    take(d, read_of(&s, "hall.pressure"), -195, 1);
    ck_assert(vent_diagnosis_fault(d, fault_at(VENT_FAULT_NONE, 0, 0), &err));
    vent_diagnosed *found = solved(d);
    char text[8000];
    vent_diagnosed_report(found, sizeof text, text);
    ck_assert_uint_ne(vent_diagnosed_flags(found) & VENT_DIAGNOSED_UNEXPLAINED, 0);
    ck_assert_ptr_null(strstr(text, "nothing need be wrong"));
    ck_assert_ptr_nonnull(strstr(text, "fit neither the design nor"));
    vent_diagnosed_free(found);
    vent_diagnosis_free(d);
    torn_down(&s);
}
END_TEST

/* A loss is read at one place only: no fault to be asked about, with a choice of none to solve. */
START_TEST(a_reading_without_another_place_was_not_taken_there)
{
    stack s = built();
    vent_error err = VENT_NO_ERROR;
    vent_diagnosis *d = begun(&s, false);
    for (int i = 0; i < 3; ++i)
        take(d, read_of(&s, "riser.loss"), 5 + 40 * i, 1);
    ck_assert(!vent_diagnosis_fault(d, fault_at(VENT_FAULT_PLACE, 0, 0), &err));
    ck_assert_int_eq(err.status, VENT_E_NOT_FOUND);
    err = (vent_error)VENT_NO_ERROR;
    ck_assert(vent_diagnosis_fault(d, fault_at(VENT_FAULT_NONE, 0, 0), &err));
    vent_diagnosed_free(solved(d));
    vent_diagnosis_free(d);
    torn_down(&s);
}
END_TEST

Suite *ranking_suite(void)
{
    Suite *suite = suite_create("ranking");
    TCase *evidence = tcase_create("evidence");
    tcase_add_test(evidence, evidence_is_the_average_likelihood);
    suite_add_tcase(suite, evidence);
    TCase *ranking = tcase_create("ranking");
    tcase_add_test(ranking, every_fault_is_found_from_good_readings);
    tcase_add_test(ranking, probabilities_are_what_evidence_and_odds_make);
    tcase_add_test(ranking, what_looks_alike_is_one_group_until_the_right_tap_is_read);
    tcase_add_test(ranking, one_reading_tells_nothing);
    tcase_add_test(ranking, a_sound_stack_is_left_in_peace);
    tcase_add_test(ranking, two_faults_at_once);
    tcase_add_test(ranking, sizes_of_two_faults_are_no_misfit);
    tcase_add_test(ranking, a_size_at_its_bound_is_told_from_one_side);
    tcase_add_test(ranking, an_input_at_its_bound_gives_no_more);
    suite_add_tcase(suite, ranking);
    TCase *readings = tcase_create("readings");
    tcase_add_test(readings, wrong_signs_are_told);
    tcase_add_test(readings, the_other_convention_throughout_is_told);
    tcase_add_test(readings, a_report_tells_likelihoods_in_words);
    tcase_add_test(readings, a_reading_taken_elsewhere_is_told);
    tcase_add_test(readings, constant_and_contrary_readings_are_told);
    tcase_add_test(readings, a_design_that_ranks_first_need_not_fit);
    tcase_add_test(readings, a_reading_without_another_place_was_not_taken_there);
    tcase_add_test(readings, a_test_hole_is_a_reading_of_its_pit);
    suite_add_tcase(suite, readings);
    return suite;
}
