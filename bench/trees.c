/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Balanced trees of a hundred to a million runs: time and memory against their size, and KINSOL with KLU and
 * the exact Jacobian on the same equations. */
#include "bench.h"

#include <math.h>
#include <malloc.h>

#include "kinsol.h"
#include "networks.h"

enum { SIZES = 5 };
static const int RUNS[SIZES] = {100, 1000, 10000, 100000, 1000000};

typedef struct measured {
    double own, theirs; /* s */
    double bytes;       /* of the workspace, a run */
} measured;

static double in_use(void)
{
    struct mallinfo2 m = mallinfo2();
    return (double)m.uordblks + (double)m.hblkhd;
}

/* Both by turns; at great sizes the peer takes seconds and goes first, a few times. */
static bool measure(int runs, measured *m)
{
    vent_error err = VENT_NO_ERROR;
    vent_network *net = bench_tree(runs, &err);
    double before = in_use();
    vent_workspace *ws = vent_workspace_new(net, &err);
    vent_solution *s = vent_network_solve(net, ws, &err);
    if (!s) {
        fprintf(stderr, "%d runs: %s\n", runs, err.message);
        return false;
    }
    vent_solution_free(s);
    m->bytes = (in_use() - before) / runs;
    s = vent_network_solve(net, ws, &err);
    kinsol *peer = kinsol_new(net, &err);
    m->own = m->theirs = INFINITY;
    int steps = -1, repeats = runs > 100000 ? 3 : BENCH_REPEATS;
    double difference = 0;
    for (int i = 0; i < repeats; ++i) {
        double begin = bench_now();
        vent_network_solve_into(net, ws, s, &err);
        double middle = bench_now();
        if (peer)
            steps = kinsol_solve(peer);
        double end = bench_now();
        m->own = fmin(m->own, middle - begin);
        m->theirs = fmin(m->theirs, end - middle);
    }
    for (int r = 0; peer && r < runs; ++r)
        difference = fmax(difference, fabs(kinsol_flow(peer, r) - vent_solution_mass_flow(s, r)));
    printf("tree of %d runs: own %.3f ms, %d steps, %.1f ns and %.0f bytes a run", runs,
           1e3 * m->own, vent_solution_convergence(s).iterations, 1e9 * m->own / runs, m->bytes);
    if (peer)
        printf("; KINSOL and KLU %.3f ms, %d steps; flows differ by %.1g", 1e3 * m->theirs, steps,
               difference / vent_solution_mass_flow(s, 0));
    printf("\n");
    if (steps < 0)
        m->theirs = NAN;
    kinsol_free(peer);
    vent_solution_free(s);
    vent_workspace_free(ws);
    vent_network_free(net);
    return true;
}

int main(void)
{
    measured m[SIZES];
    for (int i = 0; i < SIZES; ++i)
        if (!measure(RUNS[i], &m[i]))
            return 1;
    double exponent = log(m[SIZES - 1].own / m[0].own) / log(RUNS[SIZES - 1] / RUNS[0]);
    double worst = INFINITY;
    bool peer = true;
    for (int i = 2; i < SIZES; ++i) {
        worst = fmin(worst, m[i].theirs / m[i].own);
        peer = peer && !isnan(m[i].theirs);
    }
    bench_claim("trees.growth_exponent", exponent, "<=", 1.05, "");
    if (peer)
        bench_claim("trees.vs_kinsol", worst, ">=", 25, "x");
    else
        bench_skip("trees.vs_kinsol", "no SUNDIALS with KLU");
    bench_claim("trees.bytes_a_run", m[SIZES - 1].bytes, "<=", 64, "");
    return 0;
}
