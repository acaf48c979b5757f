/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One operating point: 10 pipes, 12 fittings, a fan of 10 points. The peer brackets the same point
 * with GSL: a Steffen spline for the fan and Brent's method, both allocated once and reused, on the
 * very same segments, friction and soil. */
#include "bench.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_interp.h>
#include <gsl/gsl_roots.h>
#include <math.h>
#include <ventstack/ventstack.h>

#include "network/workspace.h"

enum { PIPES = 10, FITTINGS = 12, POINTS = 10, CASES = 64 };

typedef struct peer {
    const vent_workspace *ws;
    gsl_interp *spline;
    gsl_root_fsolver *solver;
    double flow[POINTS], pressure[POINTS], density;
    vent_soil soil;
} peer;

/* What the fan makes less what the system takes, at a volume flow within the fan's data. */
static double excess(double flow, void *context)
{
    const peer *p = context;
    double mass = flow * p->density, f, e, loss = 0;
    for (int i = 0; i < p->ws->program->segments; ++i) {
        const vent__segment *s = &p->ws->segment[i];
        double reynolds = s->reynolds * mass;
        vent__friction(reynolds, p->ws->roughness[i], &f, &e);
        loss += mass * (mass * (s->along.kf * f + s->along.k0) + s->along.k1);
    }
    double fan = gsl_interp_eval(p->spline, p->flow, p->pressure, flow, NULL);
    return fan + p->ws->lift[0] - loss - vent_soil_pressure(p->soil, flow);
}

static double peer_solve(peer *p)
{
    gsl_function function = {.function = excess, .params = p};
    double low = 1e-6, high = p->flow[POINTS - 1];
    gsl_root_fsolver_set(p->solver, &function, low, high);
    for (int i = 0; i < 100; ++i) {
        gsl_root_fsolver_iterate(p->solver);
        low = gsl_root_fsolver_x_lower(p->solver);
        high = gsl_root_fsolver_x_upper(p->solver);
        if (gsl_root_test_interval(low, high, 0, 1e-13) == GSL_SUCCESS)
            break;
    }
    return gsl_root_fsolver_root(p->solver);
}

static vent_network *example(double scale, peer *p, vent_error *err)
{
    vent_air gas = vent_air_moist(286.15, 98300, 1, err);
    vent_air out = vent_air_moist(268.15, 98300, 0.8, err);
    for (int i = 0; i < POINTS; ++i) {
        double x = (double)i / (POINTS - 1);
        p->flow[i] = 0.1 * x;
        p->pressure[i] = 600 * scale * (1 - pow(x, 1.8));
    }
    p->density = gas.density;
    p->soil = vent_soil_power(8e-4, 0.62, err);
    vent_fan *fan = vent_fan_new_at("bench", POINTS, p->flow, p->pressure, NULL, gas.density, err);
    vent_network *net = vent_network_new(gas, out, err);
    int pit = vent_network_suction_point(net, "pit", p->soil, err);
    int top = vent_network_discharge(net, "top", vent_open_end(), 8, err);
    vent_pipe three = vent_pipe_find("PVC 40", 3 * VENT_INCH, err);
    vent_pipe four = vent_pipe_find("PVC 40", 4 * VENT_INCH, err);
    int run = vent_network_run(net, "run", pit, top, three, 1.2, err);
    for (int i = 1; i < PIPES; ++i)
        vent_network_pipe(net, run, i % 2 ? four : three, 0.5 + 0.3 * i, VENT_PI, err);
    for (int i = 0; i < FITTINGS; ++i)
        vent_network_fitting(net, run, vent_elbow(VENT_RADIANS(i % 3 ? 90 : 45), 1 + 0.1 * i, err),
                             1, err);
    vent_network_fan(net, run, fan, err);
    vent_fan_free(fan);
    return net;
}

int main(void)
{
    static vent_network *net[CASES];
    static vent_workspace *ws[CASES];
    static vent_solution *solution[CASES];
    static peer peers[CASES];
    vent_error err = VENT_NO_ERROR;
    for (int i = 0; i < CASES; ++i) {
        net[i] = example(0.5 + 1.5 * i / CASES, &peers[i], &err);
        ws[i] = vent_workspace_new(net[i], &err);
        solution[i] = vent_network_solve(net[i], ws[i], &err);
        peers[i].ws = ws[i];
        peers[i].spline = gsl_interp_alloc(gsl_interp_steffen, POINTS);
        gsl_interp_init(peers[i].spline, peers[i].flow, peers[i].pressure, POINTS);
        peers[i].solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
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
    bench_claim("operating_point.vs_gsl_brent", theirs / own, ">=", 4, "x");
    bench_claim("operating_point.same_answer", worst, "<=", 1e-12, "");
    for (int i = 0; i < CASES; ++i) {
        vent_solution_free(solution[i]);
        vent_workspace_free(ws[i]);
        vent_network_free(net[i]);
        gsl_interp_free(peers[i].spline);
        gsl_root_fsolver_free(peers[i].solver);
    }
    return 0;
}
