/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What parameters do to laws, against differences of these laws. */
#include <ventstack/units.h>
#include <ventstack/ventstack.h>

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "network/slopes.h"
#include "physics/laws.h"
#include "suites.h"
#include "tree.h"

/* ---- differences ----------------------------------------------------------------------------- */

/* Derivative of a function of one number, from four points around it or on one side of it. */
typedef double of_number(void *what, double number);
static double difference(of_number *function, void *what, double at, double step, int side)
{
    const double steps[2][4] = {{-2, -1, 1, 2}, {1, 2, 3, 4}};
    const double weights[2][4] = {{1, -8, 8, -1}, {48, -36, 16, -3}};
    int one_sided = side != 0;
    double h = side < 0 ? -step : step, here = function(what, at), sum = 0;
    for (int i = 0; i < 4; ++i)
        sum += weights[one_sided][i] * (function(what, at + h * steps[one_sided][i]) - here);
    return sum / (12 * h);
}

/* Equal, or between the derivatives of both sides where a law has a kink. */
static bool agrees(double slope, of_number *function, void *what, double at, double step,
                   double noise)
{
    double left = difference(function, what, at, step, -1), right = NAN;
    double central = difference(function, what, at, step, 0);
    if (isnan(central)) /* at a bound */
        central = isnan(left) ? difference(function, what, at, step, 1) : left;
    if (fabs(slope - central) <= 1e-7 * fabs(central) + noise)
        return true;
    right = difference(function, what, at, step, 1);
    double low = fmin(left, right), high = fmax(left, right);
    double slack = 1e-6 * fmax(fabs(low), fabs(high)) + noise;
    bool found = high - low > slack && slope >= low - slack && slope <= high + slack;
    if (!found)
        fprintf(stderr, "slope %.12g, differences %.12g %.12g %.12g\n", slope, left, central,
                right);
    return found;
}

/* ---- airs, friction, soils ------------------------------------------------------------------- */

/* An air with one number free. */
typedef struct some_air {
    double number[3]; /* temperature, pressure, relative humidity */
    int free;
    bool of_viscosity;
} some_air;

static double log_of_air(void *what, double number)
{
    some_air a = *(some_air *)what;
    a.number[a.free] = number;
    vent_air air = vent_air_moist(a.number[0], a.number[1], a.number[2], NULL);
    return log(a.of_viscosity ? air.viscosity : air.density);
}

START_TEST(airs_have_exact_slopes)
{
    uint64_t state = 3;
    for (int i = 0; i < 2000; ++i) {
        some_air a = {{tree_uniform(&state, 235, 331), tree_uniform(&state, 3.2e4, 1.15e5),
                       tree_uniform(&state, 0.01, 0.99)},
                      i % 3,
                      i % 2};
        if (fabs(a.number[0] - 273.16) < 0.3)
            continue; /* ice and water */
        vent_air air = vent_air_moist(a.number[0], a.number[1], a.number[2], NULL);
        vent__air_slopes by =
            vent__air_slopes_at(air.temperature, air.pressure, air.vapour_fraction);
        vent__saturation saturated = vent__saturation_at(air.temperature, air.pressure);
        double vapour[] = {air.relative_humidity * saturated.by_temperature,
                           air.relative_humidity * saturated.by_pressure, saturated.fraction};
        vent__air_slope direct[] = {by.temperature, by.pressure, {0, 0}};
        double slope = a.of_viscosity
                           ? direct[a.free].viscosity + vapour[a.free] * by.vapour.viscosity
                           : direct[a.free].density + vapour[a.free] * by.vapour.density;
        double step = 1e-4 * a.number[a.free];
        ck_assert(agrees(slope, log_of_air, &a, a.number[a.free], step, 1e-13 / step));
    }
}
END_TEST

static double friction_of_roughness(void *reynolds, double roughness)
{
    return vent_friction_factor(*(double *)reynolds, roughness);
}

START_TEST(friction_has_exact_slopes_by_roughness)
{
    const double roughnesses[] = {1e-6, 1e-5, 1e-4, 1e-3, 0.01, 0.05};
    for (double reynolds = 1e-3; reynolds < 1e9; reynolds *= 1.21)
        for (int i = 0; i < 6; ++i) {
            double f, e, roughness = roughnesses[i], step = 1e-3 * roughness;
            vent__friction(reynolds, roughness, &f, &e);
            double slope = vent__friction_by_roughness(reynolds, roughness, f, e);
            ck_assert(
                agrees(slope, friction_of_roughness, &reynolds, roughness, step, 1e-13 * f / step));
        }
}
END_TEST

typedef struct some_soil {
    vent_soil soil;
    int slot;
    double flow;
} some_soil;

static double vacuum_of(void *what, double number)
{
    some_soil s = *(some_soil *)what;
    *(s.slot ? &s.soil.b : &s.soil.a) = number;
    return vent__soil_law(&s.soil, s.flow).value;
}

START_TEST(soils_have_exact_slopes_by_their_numbers)
{
    uint64_t state = 5;
    for (int i = 0; i < 4000; ++i) {
        double n = i % 8 ? tree_uniform(&state, 0.45, 1.05) : 1.05; /* also where it creeps */
        some_soil s = {.soil = i % 4 == 3 ? vent_soil_two_term(3e3, 2e5, NULL)
                                          : vent_soil_power(4e-4, n, NULL),
                       .slot = i % 2,
                       .flow = i % 5 ? pow(10, tree_uniform(&state, -9, -1)) : 0};
        s.flow *= i % 3 ? 1 : -1;
        vent__slope law = vent__soil_law(&s.soil, s.flow);
        double at = s.slot ? s.soil.b : s.soil.a, step = 1e-4 * at;
        ck_assert(agrees(vent__soil_by_number(&s.soil, s.slot, s.flow, law.slope), vacuum_of, &s,
                         at, step, 1e-13 * fabs(law.value) / step));
    }
}
END_TEST

/* ---- junctions ------------------------------------------------------------------------------- */

/* A leg of a junction with its flows and sums; `free` is the number to vary. */
enum { AREA, DENSITY, COMBINED_AREA, COMBINED_DENSITY, STRAIGHT_AREA, BRANCH_AREA, ANGLE, FACTOR };
typedef struct some_leg {
    vent_junction law;
    double ln[6]; /* logarithms of the first six */
    int rank, branches, free;
    double flow, combined, sums[VENT__SUMS];
} some_leg;

static vent__meeting meeting_of(const some_leg *l, vent__leg *leg)
{
    vent__meeting meeting =
        vent__meeting_of(l->law, exp(l->ln[COMBINED_AREA]), exp(l->ln[COMBINED_DENSITY]));
    *leg = vent__leg_of(&meeting, l->rank, exp(l->ln[AREA]), exp(l->ln[DENSITY]));
    meeting.straight_area = exp(l->ln[STRAIGHT_AREA]);
    meeting.branch_area = exp(l->ln[BRANCH_AREA]);
    meeting.branches = l->branches;
    return meeting;
}

static some_leg varied(const void *what, double number)
{
    some_leg l = *(const some_leg *)what;
    *(l.free == ANGLE ? &l.law.angle : l.free == FACTOR ? &l.law.factor : &l.ln[l.free]) = number;
    return l;
}

static double loss_of_leg(void *what, double number)
{
    some_leg l = varied(what, number);
    vent__leg leg;
    vent__meeting meeting = meeting_of(&l, &leg);
    return vent__junction_loss(&meeting, &leg, l.flow, l.combined, l.sums).loss;
}

static some_leg random_leg(uint64_t *state, int i)
{
    vent_junction laws[] = {vent_wye(VENT_RADIANS(tree_uniform(state, 20, 85)), NULL),
                            vent_wye(VENT_RADIANS(tree_uniform(state, 95, 140)), NULL),
                            vent_double_wye(VENT_RADIANS(tree_uniform(state, 50, 70)), NULL),
                            vent_wye(VENT_RADIANS(90), NULL)};
    some_leg l = {.law = laws[i % 4], .rank = i % 3, .branches = 1 + i % 2};
    for (int n = 0; n < 6; ++n)
        l.ln[n] = log(n % 2 && n < 4 ? tree_uniform(state, 1, 1.4) : 0.005) +
                  (n % 2 && n < 4 ? 0 : tree_uniform(state, -1.5, 0.2));
    l.law.factor = tree_uniform(state, 0.5, 2);
    l.combined = i % 13 ? tree_uniform(state, -0.05, 0.05) : 0;
    l.flow = i % 11 ? tree_uniform(state, -0.05, 0.05) : 0;
    l.sums[VENT__THROUGHPUT] = fabs(l.combined) + fmax(0, -l.flow) + tree_uniform(state, 0, 0.05);
    l.sums[VENT__AXIAL] = tree_uniform(state, -0.5, 0.5);
    l.sums[VENT__LATERAL] = tree_uniform(state, -0.5, 0.5);
    return l;
}

START_TEST(legs_have_exact_slopes)
{
    uint64_t state = 11;
    int wrong = 0;
    for (int i = 0; i < 20000; ++i) {
        some_leg l = random_leg(&state, i);
        vent__leg leg;
        vent__meeting meeting = meeting_of(&l, &leg);
        vent__leg_slopes by = vent__junction_slopes(&meeting, &leg, l.flow, l.combined, l.sums);
        double slopes[] = {by.area,          by.density,     by.combined_area, by.combined_density,
                           by.straight_area, by.branch_area, by.angle,         by.factor};
        double scale = fabs(vent__junction_loss(&meeting, &leg, l.flow, l.combined, l.sums).loss);
        for (l.free = AREA; l.free <= FACTOR; ++l.free) {
            double at = l.free == ANGLE    ? l.law.angle
                        : l.free == FACTOR ? l.law.factor
                                           : l.ln[l.free];
            bool good = agrees(slopes[l.free], loss_of_leg, &l, at, 1e-5, 1e-7 * scale + 1e-9);
            if (!good && ++wrong < 40)
                fprintf(stderr, "number %d of leg %d: rank %d flow %g of %g\n", l.free, i, l.rank,
                        l.flow, l.combined);
        }
    }
    ck_assert_int_eq(wrong, 0);
}
END_TEST

/* ---- every parameter of random networks ------------------------------------------------------- */

/* A weighted sum of all that stands in the equations of a network, at given flows, with one parameter free. */
typedef struct some_equations {
    const vent_network *network;
    const vent_solution *solution;
    vent_workspace *ws;
    vent_parameter parameter;
    const double *of_loss, *of_vacuum; /* weights */
} some_equations;

static double weighted(const some_equations *q, vent__model *model)
{
    vent_workspace *ws = q->ws;
    const vent__program *program = ws->program;
    double sum = 0;
    ck_assert(vent__linearise(ws, model, q->solution->flow));
    for (int k = 0; k < program->runs; ++k) {
        double wind = program->next[k] < 0 ? vent__wind(model, model->run[program->run[k]].to) : 0;
        double loss = ws->loss[k] + vent__joint_at(ws, k).loss - ws->lift[k] + wind;
        sum += q->of_loss[k] * loss;
        if (program->soil[k] >= 0) /* source: what is left over of surroundings - vacuum - start */
            sum -= q->of_vacuum[k] * (ws->source[k] + ws->start[k]);
    }
    return sum;
}

static double weighted_with(void *what, double number)
{
    const some_equations *q = what;
    vent_error err = VENT_NO_ERROR;
    vent_network *other = vent_network_copy(q->network, &err);
    if (!vent_network_set(other, q->parameter, number, &err)) {
        vent_network_free(other);
        return NAN;
    }
    double sum = weighted(q, other->model);
    vent_network_free(other);
    return sum;
}

/* Flows from none to torrents, one way and the other; laws hold whether or not they balance. */
static void any_flows(vent_solution *solution, uint64_t *state)
{
    double scale = pow(10, tree_uniform(state, -9, 0));
    for (int k = 0; k < solution->program->runs; ++k) {
        double size = scale * pow(10, tree_uniform(state, -2, 0));
        solution->flow[k] = tree_uniform(state, 0, 1) < 0.1   ? 0
                            : tree_uniform(state, 0, 1) < 0.4 ? -size
                                                              : size;
    }
}

static int check_equations(vent_network *network, uint64_t *state, int parameters)
{
    vent_error err = VENT_NO_ERROR;
    vent_workspace *ws = vent_workspace_new(network, &err),
                   *trial = vent_workspace_new(network, &err);
    vent_solution *s = vent_network_solve(network, ws, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    size_t n = vent_network_parameter_count(network), runs = (size_t)s->program->runs;
    vent_parameter *p = malloc(n * sizeof *p);
    double *gradient = calloc(n, sizeof *gradient), *weight = malloc(2 * runs * sizeof *weight);
    vent_network_parameters(network, 0, n, p);
    any_flows(s, state);
    for (size_t k = 0; k < 2 * runs; ++k)
        weight[k] = tree_uniform(state, -1, 1);
    vent__slopes *slopes = vent__slopes_begin(ws, s);
    ck_assert(slopes && vent__slopes_of(slopes, n, p));
    memcpy(slopes->answer, weight, 2 * runs * sizeof *weight);
    vent__answers(slopes, -1);
    vent__answer_soil_gas(slopes);
    vent__add_changes(slopes, gradient);
    some_equations q = {network, s, trial, {0}, weight, weight + runs};
    double scale = 0;
    weighted(&q, network->model);
    for (size_t k = 0; k < runs; ++k)
        scale += fabs(trial->loss[k]) + fabs(vent__joint_at(trial, (int)k).loss) +
                 fabs(trial->lift[k]) + fabs(trial->source[k] + trial->start[k]) +
                 fabs(trial->start[k]);
    int wrong = 0;
    for (int i = 0; i < parameters; ++i) {
        size_t at =
            parameters >= (int)n ? (size_t)i % n : (size_t)tree_uniform(state, 0, (double)n);
        vent_parameter_range range;
        q.parameter = p[at];
        vent_network_parameter_range(network, p[at], &range);
        double value = vent_network_get(network, p[at], &err);
        if (p[at].kind == VENT_PARAMETER_TRANSITION_ANGLE && value == VENT_PI)
            continue; /* a step, which stays one */
        double size = value != 0 ? fabs(value) : 0.01 * fmin(fmax(range.high, -range.low), 100);
        if (agrees(gradient[at], weighted_with, &q, value, 1e-4 * size, 1e-10 * scale / size))
            continue;
        char name[128];
        vent_network_parameter_name(network, p[at], sizeof name, name);
        fprintf(stderr, "by %s\n", name);
        ++wrong;
    }
    free(p);
    free(gradient);
    free(weight);
    vent_solution_free(s);
    vent_workspace_free(ws);
    vent_workspace_free(trial);
    return wrong;
}

START_TEST(equations_have_exact_slopes)
{
    uint64_t state = 21;
    int wrong = 0;
    for (int i = 0; i < 120; ++i) {
        tree t;
        vent_error err = VENT_NO_ERROR;
        tree_random(&t, 1 + i / 2, i % 2, &state);
        vent_network *network = tree_network(&t, &err);
        wrong += check_equations(network, &state, 60);
        vent_network_free(network);
        tree_free(&t);
    }
    for (int i = 0; i < 40; ++i) {
        vent_network *network = tree_with_links(3 + i / 2, 1 + i % 3, &state);
        tree_add_leaks(network, 2 + i % 5, &state);
        wrong += check_equations(network, &state, 60);
        vent_network_free(network);
    }
    ck_assert_int_eq(wrong, 0);
}
END_TEST

/* A geometry within a source's range; false where none was found that is sound. */
static bool any_geometry(int parameters, bool (*range_of)(int, int, vent_parameter_range *),
                         int family, uint64_t *state, double *geometry)
{
    for (int i = 0; i < parameters; ++i) {
        vent_parameter_range range;
        if (!range_of(family, i, &range))
            return false;
        double low = fmax(range.low, range.source_low), high = fmin(range.high, range.source_high);
        geometry[i] = tree_uniform(state, low, fmin(high, low + 100));
    }
    return true;
}

static vent_fitting any_fitting(int family, uint64_t *state)
{
    vent_fitting fitting = {.family = family, .factor = tree_uniform(state, 0.5, 2)};
    int parameters = vent_fitting_parameter_count(family);
    for (int i = 0; i < 200; ++i)
        if (any_geometry(parameters, vent_fitting_parameter, family, state, fitting.geometry) &&
            vent__fitting_check(&fitting, __func__, NULL))
            return fitting;
    ck_abort_msg("no geometry for %s", vent_fitting_name(family));
}

static vent_termination any_termination(int family, uint64_t *state)
{
    vent_termination top = {.family = family, .factor = tree_uniform(state, 0.5, 2)};
    int parameters = vent_termination_parameter_count(family);
    for (int i = 0; i < 200; ++i)
        if (any_geometry(parameters, vent_termination_parameter, family, state, top.geometry) &&
            vent__termination_check(&top, __func__, NULL))
            return top;
    ck_abort_msg("no geometry for %s", vent_termination_name(family));
}

/* A run of several pipes, round and rectangular, wider and narrower, with a part of any family in each, a fan that
 * runs, one that is off, a flap. */
static vent_network *with_parts(int family, int top, uint64_t *state)
{
    vent_error err = VENT_NO_ERROR;
    vent_air soil_gas = vent_air_moist(tree_uniform(state, 280, 290), 98300, 0.9, &err);
    vent_air outdoors = vent_air_moist(268.15, 98300, 0.8, &err);
    const double flow[] = {0, 0.03, 0.06}, pressure[] = {400, 300, 0};
    vent_fan *fan = vent_fan_new("demo", 3, flow, pressure, &err);
    vent_network *net = vent_network_new(soil_gas, outdoors, &err);
    int pit = vent_network_suction_point(net, "pit", vent_soil_power(4e-4, 0.62, &err), &err);
    int roof = vent_network_discharge(net, "roof", any_termination(top, state), 7, &err);
    const vent_pipe pipes[] = {
        vent_pipe_round(0.0773, 1e-5, &err), vent_pipe_round(0.102, 1e-4, &err),
        vent_pipe_rectangular(0.1, 0.07, 1e-4, &err), vent_pipe_round(0.0627, 1e-5, &err)};
    const double angles[] = {0, VENT_RADIANS(30), VENT_PI, VENT_RADIANS(50)};
    int run = vent_network_run(net, "run", pit, roof, pipes[0], 4, &err);
    for (int i = 0; i < 4; ++i) {
        if (i > 0)
            vent_network_pipe(net, run, pipes[i], 3, angles[i], &err);
        vent_network_fitting(net, run, any_fitting(family, state), 1 + i, &err);
    }
    vent_network_fan(net, run, fan, &err);
    int off = vent_network_fan(net, run, fan, &err);
    vent_network_fan_off(net, run, off, vent_orifice_plate(0.8, &err), &err);
    vent_network_fitting(net, run, vent_check_damper(12, 0.02, &err), 1, &err);
    if (family % 2)
        vent_network_set_temperature(net, run, tree_uniform(state, 275, 295), &err);
    ck_assert_msg(err.status == VENT_OK, "%s: %s", vent_fitting_name(family), err.message);
    vent_fan_free(fan);
    return net;
}

START_TEST(every_part_has_exact_slopes)
{
    uint64_t state = 31;
    int wrong = 0, tops = vent_termination_family_count();
    for (int i = 0; i < 6 * vent_fitting_family_count(); ++i) {
        int family = 1 + i % vent_fitting_family_count();
        vent_network *network = with_parts(family, 1 + i % tops, &state);
        int here = check_equations(network, &state, (int)vent_network_parameter_count(network));
        if (here)
            fprintf(stderr, "with %s below %s\n", vent_fitting_name(family),
                    vent_termination_name(1 + i % tops));
        wrong += here;
        vent_network_free(network);
    }
    ck_assert_int_eq(wrong, 0);
}
END_TEST

Suite *slopes_suite(void)
{
    Suite *suite = suite_create("slopes");
    TCase *laws = tcase_create("laws");
    tcase_add_test(laws, airs_have_exact_slopes);
    tcase_add_test(laws, friction_has_exact_slopes_by_roughness);
    tcase_add_test(laws, soils_have_exact_slopes_by_their_numbers);
    tcase_add_test(laws, legs_have_exact_slopes);
    tcase_add_test(laws, equations_have_exact_slopes);
    tcase_add_test(laws, every_part_has_exact_slopes);
    suite_add_tcase(suite, laws);
    return suite;
}
