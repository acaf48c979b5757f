/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Networks of many loops against KINSOL with KLU and the exact Jacobian on the same equations. */
#include "bench.h"

#include <math.h>
#include <stdlib.h>

#include "kinsol.h"
#include "networks.h"

typedef struct shape {
    const char *name;
    int rows, columns, repeats;
    double goal; /* times KINSOL */
} shape;

static double worst_difference(const vent_network *net, const vent_solution *s, const kinsol *peer)
{
    double most = 0, worst = 0;
    for (int r = 0; r < vent_network_run_count(net); ++r) {
        double flow = vent_solution_mass_flow(s, r);
        most = fmax(most, fabs(flow));
        worst = fmax(worst, fabs(flow - kinsol_flow(peer, r)));
    }
    return worst / most;
}

static bool measure(const shape *of)
{
    vent_error err = VENT_NO_ERROR;
    vent_network *net = bench_grid(of->rows, of->columns, &err);
    vent_workspace *ws = vent_workspace_new(net, &err);
    vent_solution *s = vent_network_solve(net, ws, &err);
    if (!s) {
        fprintf(stderr, "%s: %s\n", of->name, err.message);
        return false;
    }
    kinsol *peer = kinsol_new(net, &err);
    double own = INFINITY, theirs = INFINITY;
    int steps = 0;
    for (int i = 0; i < of->repeats; ++i) {
        double begin = bench_now();
        vent_network_solve_into(net, ws, s, &err);
        double middle = bench_now();
        if (peer)
            steps = kinsol_solve(peer);
        double end = bench_now();
        own = fmin(own, middle - begin);
        theirs = fmin(theirs, end - middle);
    }
    char claim[64];
    snprintf(claim, sizeof claim, "loops.%s_vs_kinsol", of->name);
    printf("%s of %d runs: own %.3f ms, %d steps", of->name, vent_network_run_count(net), 1e3 * own,
           vent_solution_convergence(s).iterations);
    if (peer)
        printf("; KINSOL and KLU %.3f ms, %d steps; flows differ by %.1g", 1e3 * theirs, steps,
               worst_difference(net, s, peer));
    printf("\n");
    if (peer && steps >= 0)
        bench_claim(claim, theirs / own, ">=", of->goal, "x");
    else
        bench_skip(claim, peer ? "KINSOL does not converge" : "no SUNDIALS with KLU");
    kinsol_free(peer);
    vent_solution_free(s);
    vent_workspace_free(ws);
    vent_network_free(net);
    return true;
}

int main(void)
{
    static const shape SHAPES[] = {
        {"ladder_50", 2, 50, 5 * BENCH_REPEATS, 4},   {"ladder_5000", 2, 5000, BENCH_REPEATS, 4},
        {"grid_10", 10, 10, 5 * BENCH_REPEATS, 4},    {"grid_32", 32, 32, BENCH_REPEATS, 4},
        {"grid_100", 100, 100, BENCH_REPEATS / 4, 4},
    };
    for (size_t i = 0; i < sizeof SHAPES / sizeof *SHAPES; ++i)
        if (!measure(&SHAPES[i]))
            return 1;
    return 0;
}
