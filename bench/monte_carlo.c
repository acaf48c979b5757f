/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Monte Carlo of one stack: 10 pipes, 12 fittings, a fan of 10 points, and all that is uncertain of them,
 * with soil, fan, air and lengths 40 inputs at the least. The peer finds every sample's operating point
 * with GSL on its own laws, given the same segments for all samples: it lays nothing out, and draws 40
 * deviates by GSL's ziggurat. */
#include "bench.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdlib.h>
#include <ventstack/ventstack.h>

#include "example.h"

enum { SAMPLES = 4096, PEERS = 1000, MOST = 64 };

static size_t list_inputs(const vent_network *net, vent_input *inputs, vent_error *err)
{
    static const struct {
        const char *name;
        double uncertainty;
        int32_t shape;
    } MORE[] = {
        {"pit.c", 1e-4, VENT_SHAPE_LOG_NORMAL},
        {"pit.n", 0.02, VENT_SHAPE_NORMAL},
        {"run.pressure_factor", 0.04, VENT_SHAPE_NORMAL},
        {"run.speed", 0.01, VENT_SHAPE_RECTANGULAR},
        {"wind_pressure", 2, VENT_SHAPE_NORMAL},
        {"outdoor_temperature", 3, VENT_SHAPE_NORMAL},
        {"run.temperature", 1, VENT_SHAPE_NORMAL},
        {"top.height", 0.05, VENT_SHAPE_NORMAL},
    };
    size_t n = vent_network_uncertainties(net, MOST - 8, inputs, err);
    for (size_t i = 0; i < sizeof MORE / sizeof *MORE; ++i)
        inputs[n++] = (vent_input){vent_network_find_parameter(net, MORE[i].name, err),
                                   MORE[i].uncertainty, MORE[i].shape, 0};
    return n;
}

static double seconds(const vent_uncertainty *doubt, int kind, vent_observable flow,
                      vent_simulated *result, vent_error *err)
{
    double begin = bench_now();
    vent_sampling how = {.samples = SAMPLES, .seed = 1, .kind = kind};
    vent_uncertainty_simulate(doubt, how, 1, &flow, result, NULL, err);
    return bench_now() - begin;
}

static double peer_seconds(peer *p, gsl_rng *random, size_t inputs)
{
    double begin = bench_now(), sum = 0;
    for (int i = 0; i < PEERS; ++i) {
        for (size_t j = 0; j < inputs; ++j)
            sum += gsl_ran_gaussian_ziggurat(random, 1);
        sum += peer_solve(p);
    }
    static volatile double kept; /* so that the work is done */
    kept = sum;
    (void)kept;
    return bench_now() - begin;
}

int main(void)
{
    vent_error err = VENT_NO_ERROR;
    vent_input inputs[MOST];
    peer p;
    vent_network *net = example(1, true, &p, &err);
    size_t n = list_inputs(net, inputs, &err);
    vent_uncertainty *doubt = vent_uncertainty_new(net, n, inputs, NULL, &err);
    vent_observable flow = vent_network_find_observable(net, "run.flow", &err);
    vent_workspace *ws = vent_workspace_new(net, &err);
    vent_solution_free(vent_network_solve(net, ws, &err));
    if (err.status != VENT_OK) {
        fprintf(stderr, "%s\n", err.message);
        return 1;
    }
    peer_begin(&p, ws);
    gsl_rng *random = gsl_rng_alloc(gsl_rng_taus2);
    vent_simulated result = {0};
    double own[2] = {INFINITY, INFINITY}, theirs = INFINITY;
    for (int repeat = 0; repeat < BENCH_REPEATS; ++repeat) {
        for (int kind = 0; kind < 2; ++kind)
            own[kind] = fmin(own[kind], seconds(doubt, kind, flow, &result, &err));
        theirs = fmin(theirs, peer_seconds(&p, random, n));
    }
    printf("Monte Carlo of %zu inputs: %.0f ns a sample, quasi-random %.0f ns, GSL %.0f ns; %.4g "
           "+- %.2g m3/s, %d failed\n",
           n, 1e9 * own[0] / SAMPLES, 1e9 * own[1] / SAMPLES, 1e9 * theirs / PEERS, result.mean,
           result.uncertainty, (int)result.failed);
    bench_claim("monte_carlo.million_samples", 1e6 * own[0] / SAMPLES, "<=", 1, "s");
    bench_claim("monte_carlo.quasi_random", 1e6 * own[1] / SAMPLES, "<=", 1, "s");
    bench_claim("monte_carlo.vs_gsl", theirs / PEERS / (own[0] / SAMPLES), ">=", 3, "x");
    gsl_rng_free(random);
    peer_end(&p);
    vent_workspace_free(ws);
    vent_uncertainty_free(doubt);
    vent_network_free(net);
    return err.status == VENT_OK ? 0 : 1;
}
