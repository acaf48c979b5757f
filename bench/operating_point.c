/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One operating point: 10 pipes, 12 fittings, a fan of 10 points. The peer brackets the same point
 * with GSL: a Steffen spline for the fan and Brent's method, both allocated once and reused, on the
 * very same segments, friction and soil. */
#include "bench.h"

#include <math.h>
#include <ventstack/ventstack.h>

#include "example.h"

enum { CASES = 64 };

int main(void)
{
    static vent_network *net[CASES];
    static vent_workspace *ws[CASES];
    static vent_solution *solution[CASES];
    static peer peers[CASES];
    vent_error err = VENT_NO_ERROR;
    for (int i = 0; i < CASES; ++i) {
        net[i] = example(0.5 + 1.5 * i / CASES, true, &peers[i], &err);
        ws[i] = vent_workspace_new(net[i], &err);
        solution[i] = vent_network_solve(net[i], ws[i], &err);
        peer_begin(&peers[i], ws[i]);
    }
    if (err.status != VENT_OK) {
        fprintf(stderr, "%s\n", err.message);
        return 1;
    }
    double worst = 0, own = INFINITY, theirs = INFINITY;
    for (int repeat = 0; repeat < BENCH_REPEATS; ++repeat) {
        double begin = bench_now();
        for (int i = 0; i < CASES; ++i)
            vent_network_solve_into(net[i], ws[i], solution[i], &err);
        double middle = bench_now();
        double root[CASES];
        for (int i = 0; i < CASES; ++i)
            root[i] = peer_solve(&peers[i]);
        double end = bench_now();
        own = fmin(own, middle - begin);
        theirs = fmin(theirs, end - middle);
        for (int i = 0; i < CASES; ++i)
            worst = fmax(worst, fabs(vent_solution_flow(solution[i], 0) / root[i] - 1));
    }
    printf("operating point: own %.0f ns, GSL Steffen and Brent %.0f ns, %d steps\n",
           1e9 * own / CASES, 1e9 * theirs / CASES,
           vent_solution_convergence(solution[0]).iterations);
    bench_claim("operating_point.vs_gsl_brent", theirs / own, ">=", 6, "x");
    bench_claim("operating_point.same_answer", worst, "<=", 1e-12, "");
    for (int i = 0; i < CASES; ++i) {
        vent_solution_free(solution[i]);
        vent_workspace_free(ws[i]);
        vent_network_free(net[i]);
        peer_end(&peers[i]);
    }
    return 0;
}
