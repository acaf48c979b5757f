/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Operating points of one stack in many cases: 10 pipes, 12 fittings, a fan of 10 points; length, soil
 * and fan differ from case to case. The peer brackets each point with GSL, a Steffen spline and Brent's
 * method, on the very same segments, friction and soil, all laid out before the clock starts; the cases
 * of the library's own are laid out while it runs. */
#include "bench.h"

#include <math.h>
#include <pthread.h>
#include <stdlib.h>
#include <ventstack/ventstack.h>

#include "example.h"

enum { CASES = 8192, PEERS = 64, INPUTS = 3 };

typedef struct cases {
    const vent_network *net;
    vent_varied varied[INPUTS];
    vent_observed observed;
    size_t count;
} cases;

static double input[INPUTS][CASES], flow[CASES];

static double between(double low, double high)
{
    return low + (high - low) * rand() / (double)RAND_MAX;
}

/* The cases from `first` on. */
static cases all_cases(const vent_network *net, size_t first, size_t count, vent_error *err)
{
    static const char *NAMES[INPUTS] = {"run[0].length", "pit.c", "run.pressure_factor"};
    cases c = {.net = net, .count = count};
    for (int i = 0; i < INPUTS; ++i)
        c.varied[i] = (vent_varied){.parameter = vent_network_find_parameter(net, NAMES[i], err),
                                    .value = input[i] + first,
                                    .stride = 1};
    c.observed = (vent_observed){.observable = vent_network_find_observable(net, "run.flow", err),
                                 .value = flow + first,
                                 .stride = 1};
    return c;
}

static void solve(const cases *c, vent_error *err)
{
    vent_network_solve_many(c->net, c->count, INPUTS, c->varied, 1, &c->observed, NULL, err);
}

static void *solve_in_thread(void *argument)
{
    vent_error err = VENT_NO_ERROR;
    solve(argument, &err);
    return NULL;
}

/* Each half in a thread of its own. */
static void solve_by_two(cases halves[2])
{
    pthread_t thread;
    pthread_create(&thread, NULL, solve_in_thread, &halves[1]);
    solve_in_thread(&halves[0]);
    pthread_join(thread, NULL);
}

static double worst_error(const double *root)
{
    double worst = 0;
    for (int i = 0; i < PEERS; ++i)
        worst = fmax(worst, fabs(flow[i] / root[i] - 1));
    return worst;
}

static int compare(bool alike, const char *claims)
{
    static peer peers[PEERS];
    static vent_workspace *ws[PEERS];
    static vent_network *net[PEERS];
    char claim[80];
    vent_error err = VENT_NO_ERROR;
    peer drawing;
    vent_network *base = example(1, alike, &drawing, &err);
    for (int i = 0; i < CASES; ++i) {
        input[0][i] = between(1, 12);
        input[1][i] = between(4e-4, 1.6e-3);
        input[2][i] = between(0.5, 2);
    }
    cases all = all_cases(base, 0, CASES, &err);
    cases halves[2] = {all_cases(base, 0, CASES / 2, &err),
                       all_cases(base, CASES / 2, CASES / 2, &err)};
    for (int i = 0; i < PEERS; ++i) {
        net[i] = vent_network_copy(base, &err);
        for (int j = 0; j < INPUTS; ++j)
            vent_network_set(net[i], all.varied[j].parameter, input[j][i], &err);
        ws[i] = vent_workspace_new(net[i], &err);
        vent_solution_free(vent_network_solve(net[i], ws[i], &err));
        peers[i] = drawing;
        peers[i].soil = vent_soil_power(input[1][i], 0.62, &err);
        for (int k = 0; k < POINTS; ++k)
            peers[i].pressure[k] *= input[2][i];
        peer_begin(&peers[i], ws[i]);
    }
    if (err.status != VENT_OK) {
        fprintf(stderr, "%s\n", err.message);
        return 1;
    }
    double own = INFINITY, two = INFINITY, theirs = INFINITY, root[PEERS];
    for (int repeat = 0; repeat < BENCH_REPEATS; ++repeat) {
        double begin = bench_now();
        solve_by_two(halves);
        double both = bench_now();
        solve(&all, &err);
        double middle = bench_now();
        for (int i = 0; i < PEERS; ++i)
            root[i] = peer_solve(&peers[i]);
        double end = bench_now();
        two = fmin(two, both - begin);
        own = fmin(own, middle - both);
        theirs = fmin(theirs, end - middle);
    }
    own /= CASES;
    theirs /= PEERS;
    printf("operating points, %s: own %.1f ns a case, GSL Steffen and Brent %.0f ns\n",
           alike ? "pipes of two sizes" : "each pipe its own size", 1e9 * own, 1e9 * theirs);
    snprintf(claim, sizeof claim, "%s.vs_gsl_brent", claims);
    bench_claim(claim, theirs / own, ">=", BENCH_AVX512 ? 50 : 22, "x");
    snprintf(claim, sizeof claim, "%s.same_answer", claims);
    bench_claim(claim, worst_error(root), "<=", 1e-12, "");
    snprintf(claim, sizeof claim, "%s.two_threads", claims);
    bench_claim(claim, own * CASES / two, ">=", 1.8, "x");
    for (int i = 0; i < PEERS; ++i) {
        peer_end(&peers[i]);
        vent_workspace_free(ws[i]);
        vent_network_free(net[i]);
    }
    vent_network_free(base);
    return err.status == VENT_OK ? 0 : 1;
}

int main(void)
{
    int failed = compare(true, "batch");
    return failed + compare(false, "batch.each_its_own");
}
