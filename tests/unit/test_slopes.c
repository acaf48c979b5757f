/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What parameters do to laws, against differences of these laws. */
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

/* Flows from none to torrents, one way and the other; no run of a junction feels what does not balance. */
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
        size_t at = (size_t)tree_uniform(state, 0, (double)n);
        q.parameter = p[at];
        double value = vent_network_get(network, p[at], &err);
        vent_parameter_range range;
        vent_network_parameter_range(network, p[at], &range);
        double step =
            1e-4 * (value != 0 ? fabs(value) : 0.01 * fmin(fmax(range.high, -range.low), 100));
        char name[128];
        vent_network_parameter_name(network, p[at], sizeof name, name);
        if (!agrees(gradient[at], weighted_with, &q, value, step, 1e-14 * scale / step)) {
            fprintf(stderr, "by %s\n", name);int run=p[at].place,k=s->program->position[run];const vent__run*r=&network->model->run[run];fprintf(stderr,"   k %d flow %g item %d of %d slot %d link %d last %d toknot %d startknot %d: ",k,s->flow[k],p[at].item,r->count,p[at].slot,r->link,network->model->node[r->to].kind,vent__tie_at(ws,k)!=NULL,vent__knot_at(ws,k)!=NULL);for(int it=r->first;it>=0;it=network->model->item[it].next)fprintf(stderr,"%d/%d ",network->model->item[it].kind,network->model->item[it].kind?network->model->item[it].fitting.family:network->model->item[it].pipe.shape);fprintf(stderr,"\n");
            ++wrong;
        }
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

Suite *slopes_suite(void)
{
    Suite *suite = suite_create("slopes");
    TCase *laws = tcase_create("laws");
    tcase_add_test(laws, airs_have_exact_slopes);
    tcase_add_test(laws, friction_has_exact_slopes_by_roughness);
    tcase_add_test(laws, soils_have_exact_slopes_by_their_numbers);
    tcase_add_test(laws, legs_have_exact_slopes);
    tcase_add_test(laws, equations_have_exact_slopes);
    suite_add_tcase(suite, laws);
    return suite;
}
