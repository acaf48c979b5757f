/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One result against every parameter of a network, and one solve of it; then each further result. */
#include "bench.h"

#include <math.h>
#include <stdlib.h>

#include "networks.h"

static bool measure(const char *name, vent_network *net, double goal)
{
    vent_error err = VENT_NO_ERROR;
    vent_workspace *ws = vent_workspace_new(net, &err);
    vent_solution *s = vent_network_solve(net, ws, &err);
    size_t n = vent_network_parameter_count(net);
    vent_parameter *p = malloc(n * sizeof *p);
    double *gradient = malloc(n * sizeof *gradient);
    vent_network_parameters(net, 0, n, p);
    vent_observable flow = vent_network_find_observable(net, "discharge_flow", &err);
    if (err.status != VENT_OK) {
        fprintf(stderr, "%s\n", err.message);
        return false;
    }
    enum { ROWS = 40 };
    vent_observable flows[ROWS];
    double *jacobian = malloc(ROWS * n * sizeof *jacobian);
    for (int i = 0; i < ROWS; ++i)
        flows[i] = vent_network_observable(net, VENT_OBSERVABLE_FLOW, i, 0, &err);
    double solve = INFINITY, derive = INFINITY, all = INFINITY;
    for (int i = 0; i < BENCH_REPEATS; ++i) {
        double begin = bench_now();
        vent_network_solve_into(net, ws, s, &err);
        double middle = bench_now();
        vent_solution_gradient(s, ws, flow, n, p, gradient, &err);
        double end = bench_now();
        vent_solution_jacobian(s, ws, ROWS, flows, n, p, jacobian, &err);
        all = fmin(all, bench_now() - end);
        solve = fmin(solve, middle - begin);
        derive = fmin(derive, end - middle);
    }
    printf("gradient, %s of %d runs: %.3f ms for %zu parameters, one solve %.3f ms\n", name,
           vent_network_run_count(net), 1e3 * derive, n, 1e3 * solve);
    char claim[64];
    snprintf(claim, sizeof claim, "gradient.%s_vs_solve", name);
    bench_claim(claim, derive / solve, "<=", goal, "x");
    snprintf(claim, sizeof claim, "gradient.%s_row_vs_solve", name);
    bench_claim(claim, (all - derive) / (ROWS - 1) / solve, "<=", 0.5, "x");
    free(jacobian);
    free(p);
    free(gradient);
    vent_solution_free(s);
    vent_workspace_free(ws);
    vent_network_free(net);
    return err.status == VENT_OK;
}

int main(void)
{
    vent_error err = VENT_NO_ERROR;
    return measure("tree", bench_tree(1000, &err), 1) &&
                   measure("fitted", bench_fitted(1000, &err), 1) &&
                   measure("grid", bench_grid(16, 16, &err), 1)
               ? 0
               : 1;
}
