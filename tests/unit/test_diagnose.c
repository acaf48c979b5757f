/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fault finding: what is stated, what faults do, what is refused. Everything in these stacks is invented. */
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <ventstack/ventstack.h>

#include "faulty.h"
#include "practice/fitting.h"
#include "refuse.h"
#include "suites.h"

/* ---- faults as parameters: held to stacks built with them ------------------------------------------ */

static void expect_readings(vent_diagnosis *d, const stack *s, vent_fault fault, double size,
                            const vent_network *truth, const char *const *names_there)
{
    vent_error err = VENT_NO_ERROR;
    vent_observable o[ALL];
    vent_reading r[ALL];
    const double exact[ALL] = {0};
    vent_solution *point = vent_network_solve(truth, NULL, &err);
    for (int i = 0; i < ALL; ++i)
        o[i] = read_of(s, all_names[i]);
    ck_assert(vent_diagnosis_exercise(d, fault, size, 1, ALL, o, exact, r, &err));
    for (int i = 0; i < ALL; ++i) {
        vent_observable there = vent_network_find_observable(truth, names_there[i], &err);
        double want = vent_solution_observe(point, there, &err);
        ck_assert_msg(fabs(r[i].value - want) <= 1e-7 * (1 + fabs(want)),
                      "fault %d: %s is %.10g, not %.10g", fault.kind, all_names[i], r[i].value,
                      want);
    }
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    vent_solution_free(point);
}

static void set(vent_network *net, const char *name, double value)
{
    vent_error err = VENT_NO_ERROR;
    vent_network_set(net, vent_network_find_parameter(net, name, &err), value, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
}

START_TEST(faults_are_what_they_say)
{
    stack s = built();
    vent_error err = VENT_NO_ERROR;
    vent_diagnosis *d = begun(&s, false);
    vent_opening hole =
        vent_opening_to(VENT_SURROUNDINGS_ROOM, 3e-3, VENT_SHARP_EDGED_DISCHARGE, &err);
    struct {
        vent_fault fault;
        double size;
    } cases[] = {{fault_at(VENT_FAULT_NONE, 0, 0), NAN},
                 {fault_at(VENT_FAULT_SLAB_LEAK, s.store, 0), 3e-3},
                 {fault_at(VENT_FAULT_JOINT_LEAK, s.tee, 0), 3e-3},
                 {fault_at(VENT_FAULT_TERMINATION, s.roof, 0), 0.25},
                 {fault_at(VENT_FAULT_FAN_WEAK, s.riser, RISER_FAN), 0.6},
                 {fault_at(VENT_FAULT_FAN_WRONG, s.riser, RISER_FAN), 0},
                 {fault_at(VENT_FAULT_SOIL_TIGHT, s.store, 0), 0.3},
                 {fault_at(VENT_FAULT_SOIL_TIGHT, s.hall, 0), 0.3}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; ++i) {
        vent_network *truth = vent_network_copy(s.net, &err);
        switch (cases[i].fault.kind) {
        case VENT_FAULT_SLAB_LEAK:
            vent_network_leak(truth, "hole", s.store, hole, 286, &err);
            break;
        case VENT_FAULT_JOINT_LEAK:
            vent_network_leak(truth, "hole", s.tee, hole, 286, &err);
            break;
        case VENT_FAULT_TERMINATION:
            vent_network_set_termination(
                truth, vent_termination_blocked(vent_end_guard(1.2e-3, 12.7e-3, &err), 0.25, &err),
                &err);
            break;
        case VENT_FAULT_FAN_WEAK:
            set(truth, "riser.pressure_factor", 0.6);
            break;
        case VENT_FAULT_FAN_WRONG:
            vent_network_set_fan(truth, s.riser, RISER_FAN, s.other, &err);
            break;
        case VENT_FAULT_SOIL_TIGHT:
            set(truth, cases[i].fault.place == s.store ? "store.c" : "hall.a",
                cases[i].fault.place == s.store ? 0.3 * 4.2e-4 : 2e3 / 0.3);
            if (cases[i].fault.place == s.hall)
                set(truth, "hall.b", 4e5 / 0.09);
            break;
        default:
            break;
        }
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        expect_readings(d, &s, cases[i].fault, cases[i].size, truth, all_names);
        vent_network_free(truth);
    }
    vent_diagnosis_free(d);
    torn_down(&s);
}
END_TEST

/* Borda and Carnot by hand for a fifth of the area: 0.5 (1 - 0.2) 25 + 16 = 26. */
START_TEST(water_is_a_coefficient_and_a_stopped_wheel_is_one)
{
    stack s = built();
    vent_error err = VENT_NO_ERROR;
    vent_diagnosis *d = begun(&s, false);
    vent_network *truth = vent_network_copy(s.net, &err);
    vent_network_insert_fitting(truth, s.first, -1, vent_fitting_constant(26, 0, &err), 1, &err);
    static const char *const at_pit[] = {
        "riser.static_pressure",   "store.pressure", "hall.pressure", "first[2].static_pressure",
        "second.static_pressure",  "first.flow",     "riser.flow",    "riser[3].static_pressure",
        "riser[1].static_pressure"};
    expect_readings(d, &s, fault_at(VENT_FAULT_WATER, s.first, -1), 0.2, truth, at_pit);
    vent_network_free(truth);

    /* A tap at the pipe's end is read before the water behind the pipe. */
    truth = vent_network_copy(s.net, &err);
    vent_network_insert_fitting(truth, s.first, 0, vent_fitting_constant(26, 0, &err), 1, &err);
    expect_readings(d, &s, fault_at(VENT_FAULT_WATER, s.first, 0), 0.2, truth, all_names);
    vent_network_free(truth);

    truth = vent_network_copy(s.net, &err);
    vent_network_fan_off(truth, s.riser, RISER_FAN, vent_fitting_constant(7, 0, &err), &err);
    expect_readings(d, &s, fault_at(VENT_FAULT_FAN_STOPPED, s.riser, RISER_FAN), 7, truth,
                    all_names);
    vent_network_free(truth);
    vent_diagnosis_free(d);
    torn_down(&s);
}
END_TEST

/* Water stands in pipe, joints are between pipes: a leak's own runs and the edge it makes are neither. */
START_TEST(what_a_leak_brings_is_no_place_of_a_fault)
{
    stack s = built();
    vent_error err = VENT_NO_ERROR;
    vent_fault sound[64], leaky[64];
    vent_diagnosis *d = begun(&s, false);
    take(d, read_of(&s, "store.pressure"), -90, 2);
    size_t usual = vent_diagnosis_usual(d, 64, sound, &err);
    vent_diagnosis_free(d);
    vent_opening hole = vent_opening_to(VENT_SURROUNDINGS_ROOM, 1e-4, 0.6, &err);
    vent_network_leak(s.net, "crack", s.store, hole, 286, &err);
    vent_network_leak(s.net, "gap", s.tee, hole, 286, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    d = begun(&s, false);
    take(d, read_of(&s, "store.pressure"), -90, 2);
    ck_assert_uint_eq(vent_diagnosis_usual(d, 64, leaky, &err), usual);
    for (size_t i = 0; i < usual; ++i) {
        ck_assert_int_eq(leaky[i].kind, sound[i].kind);
        ck_assert_int_eq(leaky[i].place, sound[i].place);
        ck_assert_int_eq(leaky[i].item, sound[i].item);
        ck_assert_double_eq_tol(leaky[i].odds, sound[i].odds, 1e-15);
    }
    static const char *const runs[] = {"crack inflow", "crack soil", "gap inflow"};
    for (size_t i = 0; i < sizeof runs / sizeof *runs; ++i)
        for (int item = -1; item <= 0; ++item) {
            vent_error bad = VENT_NO_ERROR;
            vent_fault water =
                fault_at(VENT_FAULT_WATER, vent_network_find_run(s.net, runs[i], &err), item);
            ck_assert(!vent_diagnosis_fault(d, water, &bad) && bad.status == VENT_E_NOT_FOUND);
        }
    vent_error bad = VENT_NO_ERROR;
    vent_fault joint =
        fault_at(VENT_FAULT_JOINT_LEAK, vent_network_find_node(s.net, "crack edge", &err), 0);
    ck_assert(!vent_diagnosis_fault(d, joint, &bad) && bad.status == VENT_E_NOT_FOUND);
    /* Nobody holds a hose into a crack: no such place to read, or to have read. */
    vent_diagnosed *found = solved(d);
    vent_candidate candidates[64];
    size_t n = vent_diagnosed_candidates(found, 64, candidates);
    for (size_t i = 0; i < n; ++i)
        ck_assert(candidates[i].observable.kind == VENT_OBSERVABLE_PRESSURE ||
                  vent_network_run_is_pipe(s.net, candidates[i].observable.place));
    vent_diagnosed_free(found);
    vent_diagnosis_free(d);
    torn_down(&s);
}
END_TEST

START_TEST(exercises_repeat_and_scatter_as_stated)
{
    stack s = built();
    vent_error err = VENT_NO_ERROR;
    vent_diagnosis *d = begun(&s, false);
    vent_observable o = read_of(&s, "store.pressure");
    vent_fault none = fault_at(VENT_FAULT_NONE, 0, 0);
    vent_reading r, again;
    const double exact = 0, rough = 2.5;
    double sum = 0, squares = 0;
    ck_assert(vent_diagnosis_exercise(d, none, NAN, 5, 1, &o, &exact, &r, &err));
    double truth = r.value;
    enum { DRAWS = 2000 };
    for (uint64_t seed = 0; seed < DRAWS; ++seed) {
        ck_assert(vent_diagnosis_exercise(d, none, NAN, seed, 1, &o, &rough, &r, &err));
        ck_assert_double_eq(r.uncertainty, rough);
        sum += (r.value - truth) / rough;
        squares += (r.value - truth) * (r.value - truth) / (rough * rough);
    }
    ck_assert_double_lt(fabs(sum / DRAWS), 4 / sqrt(DRAWS));
    ck_assert_double_lt(fabs(squares / DRAWS - 1), 4 * sqrt(2.0 / DRAWS));
    ck_assert(vent_diagnosis_exercise(d, none, NAN, DRAWS - 1, 1, &o, &rough, &again, &err));
    ck_assert_double_eq(again.value, r.value);
    vent_diagnosis_free(d);

    d = begun(&s, true); /* with inputs drawn, the design itself scatters */
    ck_assert(vent_diagnosis_exercise(d, none, NAN, 1, 1, &o, &exact, &r, &err));
    ck_assert(vent_diagnosis_exercise(d, none, NAN, 2, 1, &o, &exact, &again, &err));
    ck_assert_double_gt(fabs(r.value - again.value), 0.5);
    vent_diagnosis_free(d);
    torn_down(&s);
}
END_TEST

/* ---- what is refused -------------------------------------------------------------------------------------- */

START_TEST(bad_input_is_refused)
{
    stack s = built();
    vent_diagnosis *d = begun(&s, true);
    vent_observable o = read_of(&s, "riser.flow"), nowhere = o;
    nowhere.place = 17;
    static const struct {
        double value, uncertainty;
    } bad[] = {{0.03, 0},        {0.03, -1e-3}, {0.03, NAN},
               {0.03, INFINITY}, {NAN, 1e-3},   {INFINITY, 1e-3}};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; ++i) {
        vent_error err = VENT_NO_ERROR;
        vent_reading r = {.value = bad[i].value, .uncertainty = bad[i].uncertainty};
        ck_assert_int_eq(vent_diagnosis_reading(d, o, r, &err), -1);
        ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
    }
    vent_error err = VENT_NO_ERROR;
    ck_assert_int_eq(vent_diagnosis_reading(d, nowhere, vent_reading_stated(1, 1), &err), -1);
    ck_assert_int_eq(err.status, VENT_E_NOT_FOUND);
    err = (vent_error)VENT_NO_ERROR;
    ck_assert_ptr_null(vent_diagnosis_solve(d, &err)); /* no reading */
    ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
    ck_assert_ptr_null(vent_diagnosis_solve(d, NULL));
    err = (vent_error)VENT_NO_ERROR;
    ck_assert_ptr_null(vent_diagnosis_new(NULL, &err));
    ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
    err = (vent_error)VENT_NO_ERROR;
    vent_input twice = {vent_network_find_parameter(s.net, "store.c", NULL), 1e-4, 0, 0};
    ck_assert(!vent_diagnosis_inputs(d, 1, &twice, &err));
    ck_assert_int_eq(err.status, VENT_E_DUPLICATE);
    vent_diagnosis_free(d);
    vent_diagnosis_free(NULL);
    vent_diagnosed_free(NULL);
    ck_assert_int_eq(vent_diagnosed_claim(NULL), VENT_DIAGNOSED_OPEN);
    ck_assert_uint_eq(vent_diagnosed_count(NULL) + vent_diagnosed_flags(NULL), 0);
    torn_down(&s);
}
END_TEST

START_TEST(faults_without_a_place_or_size_are_refused)
{
    stack s = built();
    vent_diagnosis *d = begun(&s, true);
    const vent_fault bad[] = {
        {-1, 0, 0, 0, 1, 0, 0},
        {VENT_FAULT_END, 0, 0, 0, 1, 0, 0},
        {VENT_FAULT_NONE, 0, 0, 0, 0, 0, 0},
        {VENT_FAULT_NONE, 0, 0, 0, NAN, 0, 0},
        {VENT_FAULT_SLAB_LEAK, s.tee, 0, 0, 1, 1e-4, 1e-2},
        {VENT_FAULT_SLAB_LEAK, s.store, 0, 0, 1, 1e-2, 1e-4},
        {VENT_FAULT_SLAB_LEAK, s.store, 0, 0, 1, NAN, 1e-2},
        {VENT_FAULT_SLAB_LEAK, s.store, 0, 0, 1, 1e-9, 1e-2},
        {VENT_FAULT_JOINT_LEAK, s.hall, 0, 0, 1, 1e-4, 1e-2},
        {VENT_FAULT_TERMINATION, s.tee, 0, 0, 1, 0.1, 0.5},
        {VENT_FAULT_WATER, s.first, 4, 0, 1, 0.1, 0.5},
        {VENT_FAULT_WATER, 12, -1, 0, 1, 0.1, 0.5},
        {VENT_FAULT_FAN_WEAK, s.riser, 0, 0, 1, 0.1, 0.5},
        {VENT_FAULT_PLACE, 0, 0, 0, 1, 0, 0}, /* no reading yet */
        {VENT_FAULT_SIGN, -3, 0, 0, 1, 0, 0},
    };
    for (size_t i = 0; i < sizeof bad / sizeof *bad; ++i) {
        vent_error err = VENT_NO_ERROR;
        ck_assert_msg(!vent_diagnosis_fault(d, bad[i], &err), "fault %zu", i);
        ck_assert_msg(err.status == VENT_E_ARGUMENT || err.status == VENT_E_NOT_FOUND,
                      "fault %zu: %d", i, err.status);
        ck_assert_uint_gt(strlen(err.message), 10);
    }
    vent_error err = VENT_NO_ERROR;
    vent_fault sound = {VENT_FAULT_SLAB_LEAK, s.store, 0, 0, 1, 1e-4, 1e-2};
    ck_assert(vent_diagnosis_fault(d, sound, &err));
    ck_assert(!vent_diagnosis_fault(d, sound, &err));
    ck_assert_int_eq(err.status, VENT_E_DUPLICATE);
    vent_diagnosis_free(d);
    torn_down(&s);
}
END_TEST

START_TEST(the_usual_faults_share_the_odds_of_their_kind)
{
    stack s = built();
    vent_error err = VENT_NO_ERROR;
    vent_diagnosis *d = begun(&s, true);
    take(d, read_of(&s, "riser.flow"), 0.03, 1e-3);
    take(d, read_of(&s, "store.pressure"), -200, 1);
    enum { ROOM = 64 };
    vent_fault f[ROOM];
    size_t n = vent_diagnosis_usual(d, ROOM, f, &err);
    ck_assert_uint_le(n, ROOM);
    ck_assert_uint_eq(n, vent_diagnosis_usual(d, 0, NULL, &err));
    double odds[VENT_FAULT_END] = {0};
    for (size_t i = 0; i < n; ++i) {
        odds[f[i].kind] += f[i].odds;
        ck_assert(vent_diagnosis_fault(d, f[i], &err)); /* all of them are sound */
    }
    for (int kind = 0; kind < VENT_FAULT_END; ++kind)
        ck_assert_double_eq_tol(odds[kind],
                                kind == VENT_FAULT_PLACE  ? 0.2
                                : kind == VENT_FAULT_SIGN ? 0.05
                                                          : 1,
                                1e-12);
    vent_diagnosis_free(d);
    torn_down(&s);
}
END_TEST

/* ---- memory ------------------------------------------------------------------------------------------------- */

static double small_job(const stack *s, vent_error *err)
{
    vent_observable o = vent_network_find_observable(s->net, "store.pressure", err);
    vent_observable q = vent_network_find_observable(s->net, "riser.flow", err);
    vent_diagnosis *d = vent_diagnosis_new(s->net, err);
    vent_input c = {vent_network_find_parameter(s->net, "store.c", err), 1e-4,
                    VENT_SHAPE_LOG_NORMAL, 0};
    vent_diagnosis_inputs(d, 1, &c, err);
    vent_diagnosis_fan(d, s->other, err);
    vent_diagnosis_reading(d, o, vent_reading_stated(-120, 5), err);
    vent_diagnosis_reading(d, q, vent_reading_stated(0.03, 3e-3), err);
    vent_diagnosis_reading(d, q, vent_reading_stated(0.06, 3e-3), err);
    vent_diagnosis_fault(d, (vent_fault){VENT_FAULT_SLAB_LEAK, s->store, 0, 0, 1, 1e-3, 2e-3}, err);
    vent_diagnosis_fault(d, (vent_fault){VENT_FAULT_FAN_WRONG, s->riser, RISER_FAN, 0, 1, 0, 0},
                         err);
    vent_diagnosed *found = vent_diagnosis_solve(d, err);
    vent_finding f = {.probability = NAN};
    vent_diagnosed_finding(found, 0, &f);
    vent_diagnosed_free(found);
    vent_diagnosis_free(d);
    return f.probability;
}

START_TEST(refused_memory_is_told)
{
    stack s = built();
    vent_error err = VENT_NO_ERROR;
    refuse_request(0);
    double want = small_job(&s, &err);
    long requests = requests_made();
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    for (long k = 1; k <= requests; k += k < 100 ? 1 : 7) {
        vent_error each = VENT_NO_ERROR;
        refuse_request(k);
        double got = small_job(&s, &each);
        refuse_request(0);
        if (each.status == VENT_OK)
            ck_assert_double_eq(got, want);
        else
            ck_assert_msg(each.status == VENT_E_MEMORY, "refusal %ld: %d '%s'", k, each.status,
                          each.message);
        if (each.status == VENT_OK)
            ck_assert_msg(k > requests - 5, "refusal %ld of %ld went unnoticed", k, requests);
    }
    torn_down(&s);
}
END_TEST

/* All that is asked of an answer: what would part its findings, the network of one, an exercise. */
static double ask(const stack *s, vent_diagnosis *d, const vent_diagnosed *found, vent_error *err)
{
    vent_candidate c[40];
    double distance[40] = {0}, sum = 0;
    size_t n = vent_diagnosed_candidates(found, 40, c);
    if (n == 0) /* it has no other way to say so */
        vent__no_memory(err, "vent_diagnosed_candidates");
    vent_diagnosed_next(found, 0, 1, n, c, NULL, distance, err);
    for (size_t i = 0; i < n; ++i)
        sum += distance[i] + c[i].uncertainty;
    vent_network *with = vent_diagnosed_network(found, 0, err);
    vent_solution *point = vent_network_solve(with, NULL, err);
    sum += vent_solution_flow(point, s->riser);
    vent_solution_free(point);
    vent_network_free(with);
    const double exact = 0;
    vent_observable o = vent_network_find_observable(s->net, "riser.flow", err);
    vent_reading r = {0};
    vent_diagnosis_exercise(d, fault_at(VENT_FAULT_FAN_WRONG, s->riser, RISER_FAN), 0, 3, 1, &o,
                            &exact, &r, err);
    return sum + r.value;
}

START_TEST(refused_memory_is_told_by_what_is_asked_later)
{
    stack s = built();
    vent_error err = VENT_NO_ERROR;
    vent_diagnosis *d = begun(&s, true);
    take(d, read_of(&s, "store.pressure"), -120, 5);
    take(d, read_of(&s, "riser.flow"), 0.03, 3e-3);
    vent_diagnosis_fault(d, (vent_fault){VENT_FAULT_FAN_WRONG, s.riser, RISER_FAN, 0, 1, 0, 0},
                         &err);
    vent_diagnosis_fault(d, (vent_fault){VENT_FAULT_SLAB_LEAK, s.store, 0, 0, 1, 1e-3, 2e-3}, &err);
    vent_diagnosed *found = solved(d);
    refuse_request(0);
    double want = ask(&s, d, found, &err);
    long requests = requests_made();
    ck_assert_msg(err.status == VENT_OK && isfinite(want), "%s", err.message);
    char whole[4000], cut[4000];
    vent_diagnosed_report(found, sizeof whole, whole);
    for (long k = 1; k <= requests; k += k < 200 ? 1 : 37) {
        vent_error each = VENT_NO_ERROR;
        refuse_request(k);
        double got = ask(&s, d, found, &each);
        refuse_request(0);
        ck_assert_msg(each.status == VENT_E_MEMORY, "refusal %ld of %ld: %d, %.17g, not %.17g", k,
                      requests, each.status, got, want);
    }
    for (long k = 1; k < 100; ++k) { /* it has no error to fill, and says it */
        refuse_request(k);
        vent_diagnosed_report(found, sizeof cut, cut);
        refuse_request(0);
        ck_assert_msg(strcmp(whole, cut) == 0 || strstr(cut, "memory"), "refusal %ld: %s", k, cut);
    }
    vent_diagnosed_free(found);
    vent_diagnosis_free(d);
    torn_down(&s);
}
END_TEST

/* A fit of two unknowns in two states, and all that is asked of its answer. */
static double fitted_job(const stack *s, vent_error *err)
{
    vent_observable o = vent_network_find_observable(s->net, "store.pressure", err);
    vent_observable q = vent_network_find_observable(s->net, "riser.flow", err);
    vent_parameter c = vent_network_find_parameter(s->net, "store.c", err);
    vent_parameter speed = vent_network_find_parameter(s->net, "riser.speed", err);
    vent_network *slow = vent_network_copy(s->net, err);
    vent_network_set(slow, speed, 0.8, err);
    vent_fit *fit = vent_fit_new(s->net, err);
    int state = vent_fit_state(fit, slow, err);
    vent_fit_unknown(fit, c, err);
    vent_fit_unknown(fit, vent_network_find_parameter(s->net, "hall.a", err), err);
    vent_fit_reading(fit, 0, o, vent_reading_stated(-120, 5), err);
    vent_fit_reading(fit, 0, q, vent_reading_stated(0.04, 3e-3), err);
    vent_fit_reading(fit, state, q, vent_reading_stated(0.03, 3e-3), err);
    vent_fitted *fitted = vent_fit_solve(fit, err);
    vent_network *found = vent_fitted_network(fitted, 0, err);
    vent_uncertainty *known = vent_fitted_uncertainty(fitted, 0, err);
    vent_reading flow = vent_uncertainty_of(known, q, err);
    double sum = vent_network_get(found, c, err) + flow.value + flow.uncertainty;
    vent_uncertainty_free(known);
    vent_network_free(found);
    vent_fitted_free(fitted);
    vent_fit_free(fit);
    vent_network_free(slow);
    return sum;
}

START_TEST(refused_memory_is_told_by_fits)
{
    stack s = built();
    vent_error err = VENT_NO_ERROR;
    refuse_request(0);
    double want = fitted_job(&s, &err);
    long requests = requests_made();
    ck_assert_msg(err.status == VENT_OK && isfinite(want), "%s", err.message);
    for (long k = 1; k <= requests; k += k < 400 ? 1 : 37) {
        vent_error each = VENT_NO_ERROR;
        refuse_request(k);
        double got = fitted_job(&s, &each);
        refuse_request(0);
        ck_assert_msg(each.status == VENT_E_MEMORY || (each.status == VENT_OK && got == want),
                      "refusal %ld of %ld: %d '%s', %.17g, not %.17g", k, requests, each.status,
                      each.message, got, want);
    }
    torn_down(&s);
}
END_TEST

Suite *diagnose_suite(void)
{
    Suite *suite = suite_create("diagnose");
    TCase *faults = tcase_create("faults");
    tcase_add_test(faults, faults_are_what_they_say);
    tcase_add_test(faults, water_is_a_coefficient_and_a_stopped_wheel_is_one);
    tcase_add_test(faults, what_a_leak_brings_is_no_place_of_a_fault);
    tcase_add_test(faults, exercises_repeat_and_scatter_as_stated);
    tcase_add_test(faults, the_usual_faults_share_the_odds_of_their_kind);
    suite_add_tcase(suite, faults);
    TCase *errors = tcase_create("errors");
    tcase_add_test(errors, bad_input_is_refused);
    tcase_add_test(errors, faults_without_a_place_or_size_are_refused);
    tcase_add_test(errors, refused_memory_is_told);
    tcase_add_test(errors, refused_memory_is_told_by_what_is_asked_later);
    tcase_add_test(errors, refused_memory_is_told_by_fits);
    suite_add_tcase(suite, errors);
    return suite;
}
