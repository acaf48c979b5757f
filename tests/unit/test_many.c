/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <ventstack/ventstack.h>

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "network/equations.h"
#include "network/many_inputs.h"
#include "network/step.h"
#include "suites.h"
#include "tree.h"

enum { CASES = 40, MOST_INPUTS = 400, MOST_OUTPUTS = 2500 };

/* ---- a sweep, and the same case by case ------------------------------------------------------ */

/* Values of parameters in all cases, and what comes out. */
typedef struct sweep {
    const vent_network *net;
    size_t inputs, outputs;
    vent_parameter parameter[MOST_INPUTS];
    vent_observable observable[MOST_OUTPUTS];
    double *value;  /* [inputs][CASES] */
    double *result; /* [outputs][CASES] */
    int32_t status[CASES];
} sweep;

static sweep *sweep_new(const vent_network *net)
{
    sweep *s = calloc(1, sizeof *s);
    s->net = net;
    s->outputs = vent_network_observables(net, 0, MOST_OUTPUTS, s->observable);
    s->value = calloc((size_t)MOST_INPUTS * CASES, sizeof *s->value);
    s->result = calloc(s->outputs * CASES, sizeof *s->result);
    return s;
}

static void sweep_free(sweep *s)
{
    free(s->value);
    free(s->result);
    free(s);
}

static void vary(sweep *s, vent_parameter parameter, double low, double high, uint64_t *state)
{
    s->parameter[s->inputs] = parameter;
    for (int i = 0; i < CASES; ++i)
        s->value[s->inputs * CASES + (size_t)i] = tree_uniform(state, low, high);
    ++s->inputs;
}

/* Around the network's value, within the parameter's bounds. */
static void vary_a_little(sweep *s, vent_parameter parameter, double share, uint64_t *state)
{
    vent_parameter_range range;
    ck_assert(vent_network_parameter_range(s->net, parameter, &range));
    double value = vent_network_get(s->net, parameter, NULL);
    double by = share * (value != 0 ? fabs(value) : 0.01 * fmin(range.high, 100));
    vary(s, parameter, fmax(value - by, range.low), fmin(value + by, range.high), state);
}

/* Cases first ... first + count - 1; writes their results where those of the whole sweep go. */
static size_t run_part(sweep *s, size_t first, size_t count, vent_error *err)
{
    static vent_varied varied[MOST_INPUTS];
    static vent_observed observed[MOST_OUTPUTS];
    for (size_t i = 0; i < s->inputs; ++i)
        varied[i] = (vent_varied){s->parameter[i], s->value + i * CASES + first, 1};
    for (size_t i = 0; i < s->outputs; ++i)
        observed[i] = (vent_observed){s->observable[i], s->result + i * CASES + first, 1};
    return vent_network_solve_many(s->net, count, s->inputs, varied, s->outputs, observed,
                                   s->status + first, err);
}

static vent_network *network_of_case(const sweep *s, int i, vent_error *err)
{
    vent_network *net = vent_network_copy(s->net, NULL);
    for (size_t j = 0; j < s->inputs; ++j)
        vent_network_set(net, s->parameter[j], s->value[j * CASES + (size_t)i], err);
    return net;
}

/* The largest of the numbers that have the unit of one of them. */
static double scale_of(const sweep *s, const double *expected, size_t output)
{
    const char *unit = vent_observable_unit(s->observable[output]);
    double scale = 0;
    for (size_t i = 0; i < s->outputs; ++i)
        if (vent_observable_unit(s->observable[i])[0] == unit[0] && isfinite(expected[i]) &&
            strcmp(vent_observable_unit(s->observable[i]), unit) == 0)
            scale = fmax(scale, fabs(expected[i]));
    return scale;
}

/* The point of a network to the last digits. A single case ends where 1e-14 of the pressures is left over,
 * and where those nearly cancel that may be more than 1e-12 of a flow: from there one more step is taken, if
 * there is one. */
static vent_solution *point_of(vent_network *net, vent_error *err)
{
    vent_workspace *ws = vent_workspace_new(net, err);
    vent_solution *point = vent_network_solve(net, ws, err);
    if (!point)
        goto end;
    vent__evaluate(ws, ws->flow);
    vent__find_steps(ws);
    bool moves = true;
    for (int k = 0; k < ws->program->runs; ++k) {
        ws->settled[k] = ws->flow[k] + ws->step[k];
        moves &= isfinite(ws->settled[k]);
    }
    if (moves && vent__linearise(ws, net->model, ws->settled)) {
        vent_convergence convergence = vent_solution_convergence(point);
        vent__take_solution(ws, &convergence, point);
    }
end:
    vent_workspace_free(ws);
    return point;
}

/* A case beside the network's point, or without tolerance beside what vent_network_solve() gives. */
static void check_case(const sweep *s, int i, double tolerance)
{
    vent_error err = VENT_NO_ERROR;
    vent_network *net = network_of_case(s, i, &err);
    vent_solution *one = tolerance > 0 ? point_of(net, &err) : vent_network_solve(net, NULL, &err);
    ck_assert_msg(s->status[i] == err.status, "case %d: status %d, alone %d: %s", i, s->status[i],
                  err.status, err.message);
    static double alone[MOST_OUTPUTS];
    for (size_t j = 0; j < s->outputs; ++j)
        alone[j] = one ? vent_solution_observe(one, s->observable[j], NULL) : NAN;
    for (size_t j = 0; j < s->outputs; ++j) {
        double value = s->result[j * CASES + (size_t)i], expected = alone[j];
        if (value == expected || (isnan(expected) && isnan(value)))
            continue;
        char name[80], varied[80];
        vent_network_observable_name(s->net, s->observable[j], sizeof name, name);
        vent_network_parameter_name(s->net, s->parameter[0], sizeof varied, varied);
        double scale = scale_of(s, alone, j);
        ck_assert_msg(fabs(value - expected) <= tolerance * scale,
                      "case %d of %s: %s is %.17g, alone %.17g: off by %.3g of %.3g", i, varied,
                      name, value, expected, value - expected, scale);
    }
    vent_solution_free(one);
    vent_network_free(net);
}

static void check_sweep(sweep *s, double tolerance)
{
    vent_error err = VENT_NO_ERROR;
    size_t failed = run_part(s, 0, CASES, &err), expected = 0;
    for (int i = 0; i < CASES; ++i) {
        check_case(s, i, tolerance);
        expected += s->status[i] != VENT_OK;
    }
    ck_assert_uint_eq(failed, expected);
    ck_assert_int_eq(failed > 0, err.status != VENT_OK);
}

/* ---- networks -------------------------------------------------------------------------------- */

static vent_network *random_network(int runs, uint64_t *state)
{
    static tree t;
    vent_error err = VENT_NO_ERROR;
    tree_random(&t, runs, true, state);
    vent_network *net = tree_network(&t, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    tree_free(&t);
    return net;
}

/* One run with everything a run may hold but a law of its own. */
static vent_network *one_run(bool rising)
{
    const double flow[] = {0, 0.02, 0.04, 0.06, 0.08}, pressure[] = {500, 460, 380, 240, 0};
    const double hump[] = {400, 460, 380, 240, 0};
    vent_error err = VENT_NO_ERROR;
    vent_air gas = vent_air_moist(286.15, 98300, 1, &err),
             out = vent_air_moist(268.15, 98300, 0.8, &err);
    vent_network *net = vent_network_new(gas, out, &err);
    vent_fan *fan =
        vent_fan_new_at("invented", 5, flow, rising ? hump : pressure, flow, gas.density, &err);
    int pit = vent_network_suction_point(net, "pit", vent_soil_power(8e-4, 0.62, &err), &err);
    int top = vent_network_discharge(net, "top", vent_open_end(), 8, &err);
    int run = vent_network_run(net, "run", pit, top, vent_pipe_round(0.078, 2e-5, &err), 6, &err);
    vent_network_fitting(net, run, vent_elbow(VENT_RADIANS(90), 1.5, &err), 3, &err);
    vent_network_fitting(net, run, vent_fitting_constant(0.4, 0, &err), 1, &err);
    vent_network_pipe(net, run, vent_pipe_rectangular(0.06, 0.12, 1e-5, &err), 2, VENT_RADIANS(30),
                      &err);
    vent_network_fan(net, run, fan, &err);
    vent_network_set_wind_pressure(net, 3, &err);
    vent_fan_free(fan);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return net;
}

/* ---- the answers of single cases --------------------------------------------------------------- */

START_TEST(test_every_parameter_of_a_run_alone)
{
    vent_network *net = one_run(false);
    vent_parameter list[60];
    size_t count = vent_network_parameters(net, 0, 60, list);
    ck_assert_uint_gt(count, 20);
    for (size_t i = 0; i < count; ++i) {
        uint64_t state = 10 + i;
        sweep *s = sweep_new(net);
        vary_a_little(s, list[i], 0.1, &state);
        check_sweep(s, 1e-12);
        sweep_free(s);
    }
    vent_network_free(net);
}
END_TEST

START_TEST(test_every_parameter_at_once)
{
    uint64_t state = 5;
    vent_network *net = one_run(false);
    sweep *s = sweep_new(net);
    vent_parameter list[60];
    size_t count = vent_network_parameters(net, 0, 60, list);
    for (size_t i = 0; i < count; ++i)
        vary_a_little(s, list[i], 0.03, &state);
    check_sweep(s, 1e-12);
    sweep_free(s);
    vent_network_free(net);
}
END_TEST

/* All that is arithmetic, over ranges from still air to several times the usual. */
START_TEST(test_wide_ranges)
{
    static const struct {
        const char *name;
        double low, high;
    } RANGES[] = {
        {"run[0].length", 0, 300},     {"run[0].roughness", 0, 5e-3}, {"run[1].count", 0, 50},
        {"run[2].k", 0, 40},           {"run[3].length", 0, 90},      {"run.speed", 0.05, 3},
        {"run.pressure_factor", 0, 3}, {"pit.c", 1e-9, 1e-1},         {"pit.n", 0.4, 1.1},
        {"wind_pressure", -40, 300},   {"building_pressure", -9, 9},  {"top.height", -20, 40},
    };
    vent_network *net = one_run(false);
    for (int seed = 0; seed < 40; ++seed) {
        uint64_t state = 100 + (uint64_t)seed;
        sweep *s = sweep_new(net);
        for (size_t i = 0; i < sizeof RANGES / sizeof *RANGES; ++i) {
            vent_error err = VENT_NO_ERROR;
            vent_parameter p = vent_network_find_parameter(net, RANGES[i].name, &err);
            ck_assert_msg(err.status == VENT_OK, "%s", err.message);
            if (tree_uniform(&state, 0, 1) < 0.5)
                vary(s, p, RANGES[i].low, RANGES[i].high, &state);
        }
        check_sweep(s, 1e-12);
        sweep_free(s);
    }
    vent_network_free(net);
}
END_TEST

/* A tenth of all parameters of random trees. */
static void check_tree(int seed, bool of_geometry)
{
    uint64_t state = 1000 + (uint64_t)seed;
    int runs = 1 + (int)tree_uniform(&state, 0, seed % 4 ? 8 : 40);
    vent_network *net = random_network(runs, &state);
    sweep *s = sweep_new(net);
    vent_parameter p;
    for (size_t i = 0; vent_network_parameters(net, i, 1, &p) == 1; ++i) {
        bool arithmetic = p.kind == VENT_PARAMETER_LENGTH || p.kind == VENT_PARAMETER_SOIL ||
                          p.kind == VENT_PARAMETER_FACTOR || p.kind == VENT_PARAMETER_HEIGHT ||
                          p.kind == VENT_PARAMETER_SPEED || p.kind == VENT_PARAMETER_WIND_PRESSURE;
        if ((of_geometry || arithmetic) && tree_uniform(&state, 0, 1) < 0.1)
            vary_a_little(s, p, 0.2, &state);
    }
    check_sweep(s, 1e-12);
    sweep_free(s);
    vent_network_free(net);
}

START_TEST(test_random_trees_arithmetic)
{
    check_tree(_i, false);
}
END_TEST

START_TEST(test_random_trees_all)
{
    check_tree(_i, true);
}
END_TEST

/* Pipes that are alike share one friction factor until a case makes one of them another. */
START_TEST(test_alike_pipes)
{
    static const char *VARIED[][3] = {
        {"run[0].length", "run[2].length", "run[3].length"},
        {"run[2].bore", "run[0].length", "run[4].length"},
        {"run[4].roughness", "run[2].length", "run.temperature"},
        {"run[0].bore", "run[2].roughness", "barometric_pressure"},
        {"run[1].bore", "run[3].transition_angle", "soil_gas_temperature"},
    };
    vent_error err = VENT_NO_ERROR;
    vent_air gas = vent_air_moist(286.15, 98300, 1, &err);
    vent_pipe pipe[] = {vent_pipe_round(0.08, 2e-5, &err), vent_pipe_round(0.1, 2e-5, &err)};
    vent_network *alike = vent_network_new(gas, gas, &err);
    int pit = vent_network_suction_point(alike, "pit", vent_soil_power(8e-4, 0.62, &err), &err);
    int top = vent_network_discharge(alike, "top", vent_open_end(), 8, &err);
    int run = vent_network_run(alike, "run", pit, top, pipe[0], 3, &err);
    for (int i = 1; i < 6; ++i)
        vent_network_pipe(alike, run, pipe[i % 2], 1 + i, VENT_PI, &err);
    vent_network_set_wind_pressure(alike, -120, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    for (size_t i = 0; i < sizeof VARIED / sizeof *VARIED; ++i) {
        uint64_t state = 40 + i;
        sweep *s = sweep_new(alike);
        for (int j = 0; j < 3; ++j)
            vary_a_little(s, vent_network_find_parameter(alike, VARIED[i][j], &err), 0.1, &state);
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        check_sweep(s, 1e-12);
        sweep_free(s);
    }
    vent_network_free(alike);
}
END_TEST

/* Numbers whose bounds hang on each other: a wall that is too rough for the bore beside it, wires that
 * leave no room. */
START_TEST(test_numbers_that_may_not_stand_together)
{
    uint64_t state = 3;
    vent_error err = VENT_NO_ERROR;
    vent_network *net = one_run(false);
    vent_network_fitting(net, vent_network_find_run(net, "run", &err),
                         vent_screen(1e-3, 4e-3, &err), 1, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    sweep *s = sweep_new(net);
    vary(s, vent_network_find_parameter(net, "run[0].bore", &err), 0.01, 0.08, &state);
    vary(s, vent_network_find_parameter(net, "run[0].roughness", &err), 1e-4, 6e-3, &state);
    vary(s, vent_network_find_parameter(net, "run[5].wire", &err), 1e-3, 3e-3, &state);
    vary(s, vent_network_find_parameter(net, "run[5].opening", &err), 1e-4, 4e-3, &state);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    check_sweep(s, 1e-12);
    int bad = 0;
    for (int i = 0; i < CASES; ++i)
        bad += s->status[i] != VENT_OK;
    ck_assert_msg(bad > 5 && bad < CASES - 5, "%d of %d cases failed", bad, CASES);
    sweep_free(s);
    vent_network_free(net);
}
END_TEST

/* Links and coupled soil are solved one by one, and so is a fan whose curve rises somewhere. */
START_TEST(test_what_the_lanes_do_not_hold)
{
    uint64_t state = 77;
    vent_network *nets[] = {tree_with_links(12, 3, &state), one_run(true)};
    for (int i = 0; i < 2; ++i) {
        sweep *s = sweep_new(nets[i]);
        vent_parameter p;
        for (size_t j = 0; vent_network_parameters(nets[i], j, 1, &p) == 1; ++j)
            if (p.kind == VENT_PARAMETER_LENGTH)
                vary_a_little(s, p, 0.2, &state);
        check_sweep(s, 0);
        sweep_free(s);
        vent_network_free(nets[i]);
    }
}
END_TEST

START_TEST(test_start_from_a_solution)
{
    uint64_t state = 9;
    vent_error err = VENT_NO_ERROR;
    vent_network *net = one_run(false), *other = random_network(3, &state);
    vent_solution *start = vent_network_solve(net, NULL, &err);
    sweep *s = sweep_new(net);
    vary(s, vent_network_find_parameter(net, "run[0].length", &err), 4, 9, &state);
    run_part(s, 0, CASES, &err);
    double warm[CASES];
    vent_varied varied = {s->parameter[0], s->value, 1};
    vent_observed flow = {vent_network_find_observable(net, "run.flow", &err), warm, 1};
    ck_assert_uint_eq(
        vent_network_solve_many_from(net, start, CASES, 1, &varied, 1, &flow, NULL, &err), 0);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    for (int i = 0; i < CASES; ++i) {
        double cold = NAN;
        for (size_t j = 0; j < s->outputs; ++j)
            if (memcmp(&s->observable[j], &flow.observable, sizeof flow.observable) == 0)
                cold = s->result[j * CASES + (size_t)i];
        ck_assert_double_eq_tol(warm[i] / cold, 1, 1e-12);
    }
    vent_parameter p;
    vent_network_parameters(other, 0, 1, &p);
    ck_assert_uint_eq(vent_network_solve_many_from(other, start, 1, 0, NULL, 0, NULL, NULL, &err),
                      1);
    ck_assert_int_eq(err.status, VENT_E_STALE);
    vent_solution_free(start);
    sweep_free(s);
    vent_network_free(net);
    vent_network_free(other);
}
END_TEST

/* ---- on what a result does not depend ---------------------------------------------------------- */

static sweep *sweep_of_tree(vent_network *net, uint64_t *state)
{
    sweep *s = sweep_new(net);
    vent_parameter p;
    for (size_t i = 0; vent_network_parameters(net, i, 1, &p) == 1; ++i)
        if (p.kind == VENT_PARAMETER_LENGTH || p.kind == VENT_PARAMETER_SOIL)
            vary_a_little(s, p, 0.3, state);
    return s;
}

/* Bit for bit: in one piece, in pieces of 1, 3 and 17, and backwards. */
START_TEST(test_size_and_order_of_a_batch)
{
    uint64_t state = 300 + (uint64_t)_i;
    vent_network *net = random_network(1 + _i, &state);
    sweep *s = sweep_of_tree(net, &state);
    size_t bytes = s->outputs * CASES * sizeof *s->result;
    double *whole = malloc(bytes);
    vent_error err = VENT_NO_ERROR;
    run_part(s, 0, CASES, &err);
    memcpy(whole, s->result, bytes);
    static const size_t PIECES[] = {1, 3, 17};
    for (int i = 0; i < 3; ++i) {
        memset(s->result, 0, bytes);
        for (size_t first = 0; first < CASES; first += PIECES[i])
            run_part(s, first, first + PIECES[i] > CASES ? CASES - first : PIECES[i], &err);
        ck_assert_mem_eq(s->result, whole, bytes);
    }
    vent_varied varied[MOST_INPUTS];
    vent_observed observed[MOST_OUTPUTS];
    for (size_t i = 0; i < s->inputs; ++i)
        varied[i] = (vent_varied){s->parameter[i], s->value + i * CASES + CASES - 1, -1};
    for (size_t i = 0; i < s->outputs; ++i)
        observed[i] = (vent_observed){s->observable[i], s->result + i * CASES + CASES - 1, -1};
    memset(s->result, 0, bytes);
    vent_network_solve_many(net, CASES, s->inputs, varied, s->outputs, observed, NULL, &err);
    ck_assert_mem_eq(s->result, whole, bytes);
    free(whole);
    sweep_free(s);
    vent_network_free(net);
}
END_TEST

#if defined(__GNUC__) && defined(__x86_64__)
/* The rows laid out and found by a width of vectors; the caller frees them. */
static vent__row *rows_by(vent__row_setter *set, vent__packet_solver *solve, const sweep *s,
                          size_t *bytes)
{
    static vent_varied varied[MOST_INPUTS];
    vent__batch batch;
    vent_error error[VENT__PACK], err = VENT_NO_ERROR;
    bool alone[VENT__PACK];
    for (size_t i = 0; i < s->inputs; ++i)
        varied[i] = (vent_varied){s->parameter[i], s->value + i * CASES, 1};
    ck_assert(vent__batch_begin(&batch, s->net, s->inputs, varied, "test", &err));
    ck_assert(batch.in_lanes);
    vent__batch_load(&batch, 0, VENT__PACK, error, alone);
    ck_assert(set(&batch, alone));
    solve(&batch.packet);
    size_t runs = (size_t)batch.workspace->program->runs;
    *bytes = (2 * runs + 1) * sizeof(vent__row);
    vent__row *rows = malloc(*bytes);
    memcpy(rows, batch.packet.found_flow, runs * sizeof *rows);
    memcpy(rows + runs, batch.packet.found_start, runs * sizeof *rows);
    rows[2 * runs] = batch.packet.is_found;
    vent__batch_end(&batch);
    return rows;
}

START_TEST(test_width_of_vectors)
{
    uint64_t state = 500 + (uint64_t)_i;
    vent_network *net = random_network(1 + _i, &state);
    sweep *s = sweep_new(net);
    vent_parameter p;
    for (size_t i = 0; vent_network_parameters(net, i, 1, &p) == 1; ++i)
        if (p.kind != VENT_PARAMETER_RUNNING && /* which stands in no row */
            (p.kind == VENT_PARAMETER_LENGTH || tree_uniform(&state, 0, 1) < 0.3))
            vary_a_little(s, p, 0.02, &state);
    size_t bytes;
    vent__row *narrow = rows_by(vent__rows_set_baseline, vent__packet_solve_baseline, s, &bytes);
    bool wide[] = {__builtin_cpu_supports("avx2"),
                   __builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq")};
    vent__packet_solver *solver[] = {vent__packet_solve_avx2, vent__packet_solve_avx512};
    vent__row_setter *setter[] = {vent__rows_set_avx2, vent__rows_set_avx512};
    for (int i = 0; i < 2; ++i) {
        if (!wide[i])
            continue;
        vent__row *rows = rows_by(setter[i], solver[i], s, &bytes);
        ck_assert_mem_eq(rows, narrow, bytes);
        free(rows);
    }
    free(narrow);
    sweep_free(s);
    vent_network_free(net);
}
END_TEST
#endif

/* Ordinary cases come to rest in the lanes; those that are handed on are few. */
START_TEST(test_most_cases_stay_in_the_lanes)
{
    vent_network *net = one_run(false);
    vent_error error[VENT__PACK], err = VENT_NO_ERROR;
    double length[VENT__PACK];
    for (int i = 0; i < VENT__PACK; ++i)
        length[i] = 3 + 2 * i;
    vent_varied varied = {vent_network_find_parameter(net, "run[0].length", &err), length, 1};
    vent__batch batch;
    bool alone[VENT__PACK];
    ck_assert(vent__batch_begin(&batch, net, 1, &varied, "test", &err));
    ck_assert(batch.in_lanes);
    vent__batch_load(&batch, 0, VENT__PACK, error, alone);
    vent__packet_solve_baseline(&batch.packet);
    for (int i = 0; i < VENT__PACK; ++i)
        ck_assert(!alone[i] && batch.packet.is_found.lane[i] == 1);
    vent__batch_end(&batch);
    vent_network_free(net);
}
END_TEST

/* ---- failures ---------------------------------------------------------------------------------- */

START_TEST(test_a_case_out_of_bounds_spoils_no_other)
{
    static const double BAD[] = {-1, NAN, INFINITY, 2e6};
    static const char *NAMES[] = {"run[0].length", "run[0].bore"}; /* in rows, and by a model */
    vent_network *net = one_run(false);
    for (int n = 0; n < 2; ++n) {
        vent_error err = VENT_NO_ERROR;
        double length[20], flow[20], clean[20];
        int32_t status[20];
        for (int i = 0; i < 20; ++i)
            length[i] = n ? 0.07 + 1e-3 * i : 4 + i;
        vent_varied varied = {vent_network_find_parameter(net, NAMES[n], &err), length, 1};
        vent_observed observed = {vent_network_find_observable(net, "run.flow", &err), clean, 1};
        ck_assert_uint_eq(vent_network_solve_many(net, 20, 1, &varied, 1, &observed, status, &err),
                          0);
        observed.value = flow;
        for (int i = 0; i < 4; ++i)
            length[3 + 5 * i] = BAD[i];
        ck_assert_uint_eq(vent_network_solve_many(net, 20, 1, &varied, 1, &observed, status, &err),
                          4);
        ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
        ck_assert_int_eq(err.index, 3);
        ck_assert_str_eq(err.argument, n ? "bore" : "length");
        for (int i = 0; i < 20; ++i) {
            bool bad = i % 5 == 3;
            ck_assert_int_eq(status[i], bad ? VENT_E_ARGUMENT : VENT_OK);
            ck_assert(bad ? isnan(flow[i]) : flow[i] == clean[i]);
        }
    }
    vent_network_free(net);
}
END_TEST

START_TEST(test_two_terms_may_not_both_vanish)
{
    uint64_t state = 1;
    vent_error err = VENT_NO_ERROR;
    vent_network *net = one_run(false);
    vent_air gas = vent_air_moist(286.15, 98300, 1, &err);
    vent_network *two = vent_network_new(gas, gas, &err);
    int pit = vent_network_suction_point(two, "pit", vent_soil_two_term(2e3, 4e5, &err), &err);
    int top = vent_network_discharge(two, "top", vent_open_end(), 0, &err);
    vent_network_run(two, "run", pit, top, vent_pipe_round(0.1, 0, &err), 3, &err);
    vent_network_set_wind_pressure(two, -20, &err);
    sweep *s = sweep_new(two);
    vary(s, vent_network_find_parameter(two, "pit.a", &err), 0, 4e3, &state);
    vary(s, vent_network_find_parameter(two, "pit.b", &err), 0, 1e6, &state);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    s->value[0] = s->value[5] = s->value[CASES] = s->value[CASES + 6] = 0;
    vent_error refused = VENT_NO_ERROR;
    ck_assert_uint_eq(run_part(s, 0, CASES, &refused), 1);
    ck_assert_int_eq(refused.index, 0);
    ck_assert_int_eq(s->status[0], VENT_E_ARGUMENT);
    for (int i = 1; i < CASES; ++i)
        check_case(s, i, 1e-12);
    sweep_free(s);
    vent_network_free(two);
    vent_network_free(net);
}
END_TEST

typedef struct call {
    vent_network *net;
    vent_varied varied[2];
    vent_observed observed[2];
    double table[4][20];
} call;

static call sound_call(vent_error *err)
{
    static double table[4][20];
    call c = {.net = one_run(false)};
    for (int i = 0; i < 20; ++i) {
        table[0][i] = 3 + i;
        table[1][i] = 5e-4;
    }
    c.varied[0] =
        (vent_varied){vent_network_find_parameter(c.net, "run[0].length", err), table[0], 1};
    c.varied[1] = (vent_varied){vent_network_find_parameter(c.net, "pit.c", err), table[1], 1};
    c.observed[0] =
        (vent_observed){vent_network_find_observable(c.net, "run.flow", err), table[2], 1};
    c.observed[1] =
        (vent_observed){vent_network_find_observable(c.net, "pit.pressure", err), table[3], 1};
    return c;
}

/* Refused with this status, and a message that holds this. */
static void check_refused(const call *c, size_t cases, int status, const char *text)
{
    vent_error err = VENT_NO_ERROR;
    size_t failed =
        vent_network_solve_many(c->net, cases, 2, c->varied, 2, c->observed, NULL, &err);
    ck_assert_uint_eq(failed, cases);
    ck_assert_int_eq(err.status, status);
    ck_assert_msg(strstr(err.message, text) != NULL, "%s", err.message);
}

START_TEST(test_bad_arrays)
{
    vent_error err = VENT_NO_ERROR;
    const call good = sound_call(&err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    ck_assert_uint_eq(
        vent_network_solve_many(good.net, 20, 2, good.varied, 2, good.observed, NULL, &err), 0);
    call c = good;
    c.observed[1].stride = 0;
    check_refused(&c, 20, VENT_E_ARGUMENT, "stride 0");
    ck_assert_uint_eq(vent_network_solve_many(c.net, 1, 2, c.varied, 2, c.observed, NULL, &err), 0);
    c = good;
    c.observed[0].value = (double *)(uintptr_t)c.varied[0].value + 19;
    check_refused(&c, 20, VENT_E_ARGUMENT, "overlaps the array of a varied parameter");
    c = good;
    c.observed[1].value = c.observed[0].value + 3;
    check_refused(&c, 20, VENT_E_ARGUMENT, "overlaps the array of another observable");
    c = good;
    c.varied[1].value = NULL;
    check_refused(&c, 20, VENT_E_ARGUMENT, "no array");
    c = good;
    c.observed[1].value = NULL;
    check_refused(&c, 20, VENT_E_ARGUMENT, "no array");
    c = good;
    c.varied[1].parameter = c.varied[0].parameter;
    check_refused(&c, 20, VENT_E_DUPLICATE, "twice");
    c = good;
    c.varied[1].parameter.network ^= 1;
    check_refused(&c, 20, VENT_E_NOT_FOUND, "none of this network");
    ck_assert(isnan(c.observed[0].value[7]));
    c = good;
    c.observed[1].observable.network ^= 1;
    check_refused(&c, 20, VENT_E_NOT_FOUND, "none of this network");
    vent_error none = VENT_NO_ERROR;
    ck_assert_uint_eq(vent_network_solve_many(NULL, 4, 0, NULL, 0, NULL, NULL, &none), 4);
    ck_assert_int_eq(none.status, VENT_E_ARGUMENT);
    none = (vent_error)VENT_NO_ERROR;
    ck_assert_uint_eq(vent_network_solve_many(good.net, 4, 1, NULL, 0, NULL, NULL, &none), 4);
    ck_assert_int_eq(none.status, VENT_E_ARGUMENT);
    ck_assert_uint_eq(vent_network_solve_many(good.net, 4, 0, NULL, 0, NULL, NULL, NULL), 0);
    vent_network_free(good.net);
}
END_TEST

/* Columns of one table interleave without touching. */
START_TEST(test_columns_of_one_table)
{
    vent_error err = VENT_NO_ERROR;
    call c = sound_call(&err);
    static double table[20][5];
    for (int i = 0; i < 20; ++i) {
        table[i][0] = 3 + i;
        table[i][1] = 5e-4;
    }
    for (int i = 0; i < 2; ++i) {
        c.varied[i].value = &table[0][i];
        c.observed[i].value = &table[0][2 + i];
        c.varied[i].stride = c.observed[i].stride = 5;
    }
    ck_assert_uint_eq(vent_network_solve_many(c.net, 20, 2, c.varied, 2, c.observed, NULL, &err),
                      0);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    ck_assert(table[19][2] > 0 && table[19][3] < 0);
    c.varied[1].stride = 0; /* one value for all */
    ck_assert_uint_eq(vent_network_solve_many(c.net, 20, 2, c.varied, 2, c.observed, NULL, &err),
                      0);
    vent_network_free(c.net);
}
END_TEST

START_TEST(test_no_cases_and_no_network)
{
    vent_error err = VENT_NO_ERROR;
    call c = sound_call(&err);
    ck_assert_uint_eq(vent_network_solve_many(c.net, 0, 2, c.varied, 2, c.observed, NULL, &err), 0);
    ck_assert_int_eq(err.status, VENT_OK);
    vent_air gas = vent_air_moist(286.15, 98300, 1, &err);
    vent_network *empty = vent_network_new(gas, gas, &err);
    int32_t status[3];
    ck_assert_uint_eq(vent_network_solve_many(empty, 3, 0, NULL, 0, NULL, status, &err), 3);
    ck_assert_int_eq(err.status, VENT_E_TOPOLOGY);
    ck_assert_int_eq(status[2], VENT_E_TOPOLOGY);
    c.observed[0].value[0] = 5;
    ck_assert_uint_eq(vent_network_solve_many(c.net, 20, 2, c.varied, 2, c.observed, NULL, &err),
                      20); /* err says so already: nothing is done */
    ck_assert_double_eq(c.observed[0].value[0], 5);
    vent_network_free(empty);
    vent_network_free(c.net);
}
END_TEST

Suite *many_suite(void)
{
    Suite *suite = suite_create("many");
    TCase *answers = tcase_create("answers of single cases");
    tcase_add_test(answers, test_every_parameter_of_a_run_alone);
    tcase_add_test(answers, test_every_parameter_at_once);
    tcase_add_test(answers, test_wide_ranges);
    tcase_add_loop_test(answers, test_random_trees_arithmetic, 0, 60);
    tcase_add_loop_test(answers, test_random_trees_all, 0, 30);
    tcase_add_test(answers, test_alike_pipes);
    tcase_add_test(answers, test_numbers_that_may_not_stand_together);
    tcase_add_test(answers, test_what_the_lanes_do_not_hold);
    tcase_add_test(answers, test_start_from_a_solution);
    suite_add_tcase(suite, answers);
    TCase *same = tcase_create("batches and widths");
    tcase_add_loop_test(same, test_size_and_order_of_a_batch, 0, 12);
#if defined(__GNUC__) && defined(__x86_64__)
    tcase_add_loop_test(same, test_width_of_vectors, 0, 24);
#endif
    tcase_add_test(same, test_most_cases_stay_in_the_lanes);
    suite_add_tcase(suite, same);
    TCase *failures = tcase_create("failures");
    tcase_add_test(failures, test_a_case_out_of_bounds_spoils_no_other);
    tcase_add_test(failures, test_two_terms_may_not_both_vanish);
    tcase_add_test(failures, test_bad_arrays);
    tcase_add_test(failures, test_columns_of_one_table);
    tcase_add_test(failures, test_no_cases_and_no_network);
    suite_add_tcase(suite, failures);
    return suite;
}
