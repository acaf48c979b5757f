/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Time to solve a tree against its size: a balanced tree of pipes with a soil at every leaf and the
 * fan in the trunk, from a thousand to a million runs. */
#include "bench.h"

#include <math.h>
#include <stdlib.h>
#include <ventstack/ventstack.h>

/* Run i leaves node i; node 0 is the discharge's neighbour, node i hangs on node (i - 1) / 2. */
static vent_network *balanced(int runs, vent_error *err)
{
    vent_air gas = vent_air_moist(286.15, 98300, 1, err);
    double flow[] = {0, 0.5 * runs * 1e-3, runs * 1e-3}, pressure[] = {600, 450, 0};
    vent_fan *fan = vent_fan_new("bench", 3, flow, pressure, err);
    vent_network *net = vent_network_new(gas, gas, err);
    int *node = malloc((size_t)runs * sizeof *node);
    char name[24];
    for (int i = 0; i < runs; ++i) {
        snprintf(name, sizeof name, "n%d", i);
        bool leaf = 2 * i + 1 >= runs;
        node[i] = leaf
                      ? vent_network_suction_point(net, name, vent_soil_power(1e-4, 0.65, err), err)
                      : vent_network_junction(net, name, vent_junction_lossless(), err);
    }
    int roof = vent_network_discharge(net, "roof", vent_open_end(), 0, err);
    double wide = fmin(0.08 * sqrt((double)runs), 10); /* bores halve in area downwards */
    int depth = 0;
    for (int i = 0; i < runs; ++i) {
        while (i + 1 >= 2 << depth)
            ++depth;
        snprintf(name, sizeof name, "r%d", i);
        double bore = fmax(wide * pow(0.5, depth / 2.0), 0.05);
        vent_network_run(net, name, node[i], i == 0 ? roof : node[(i - 1) / 2],
                         vent_pipe_round(bore, 1e-5, err), 2, err);
    }
    vent_network_fan(net, 0, fan, err);
    vent_fan_free(fan);
    free(node);
    return net;
}

int main(void)
{
    static const int SIZES[] = {1000, 10000, 100000, 1000000};
    double seconds[4];
    for (int i = 0; i < 4; ++i) {
        vent_error err = VENT_NO_ERROR;
        vent_network *net = balanced(SIZES[i], &err);
        vent_workspace *ws = vent_workspace_new(net, &err);
        vent_solution *s = vent_network_solve(net, ws, &err);
        if (!s) {
            fprintf(stderr, "%d runs: %s\n", SIZES[i], err.message);
            return 1;
        }
        seconds[i] = INFINITY;
        for (int repeat = 0; repeat < (i < 3 ? BENCH_REPEATS : 5); ++repeat) {
            double begin = bench_now();
            vent_network_solve_into(net, ws, s, &err);
            seconds[i] = fmin(seconds[i], bench_now() - begin);
        }
        printf("tree of %d runs: %.3f ms, %d steps, %.1f ns a run and step\n", SIZES[i],
               1e3 * seconds[i], vent_solution_convergence(s).iterations,
               1e9 * seconds[i] / SIZES[i] / vent_solution_convergence(s).iterations);
        vent_solution_free(s);
        vent_workspace_free(ws);
        vent_network_free(net);
    }
    double exponent = log(seconds[3] / seconds[0]) / log(1000);
    bench_claim("trees.growth_exponent", exponent, "<=", 1.1, "");
    return 0;
}
