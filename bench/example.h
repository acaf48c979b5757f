/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A stack of 10 pipes, 12 fittings and a fan of 10 points, and the peer that finds its operating point
 * with GSL: a Steffen spline for the fan and Brent's method, both allocated once and reused, on the very
 * same segments, friction and soil. */
#ifndef VENT_BENCH_EXAMPLE_H
#define VENT_BENCH_EXAMPLE_H

#include <gsl/gsl_errno.h>
#include <gsl/gsl_interp.h>
#include <gsl/gsl_roots.h>
#include <math.h>
#include <ventstack/ventstack.h>

#include "network/workspace.h"

enum { PIPES = 10, FITTINGS = 12, POINTS = 10 };

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

/* Pipes of two sizes in turn, or each of its own. */
static vent_pipe example_pipe(int i, bool alike, vent_error *err)
{
    double inches = i % 2 ? 4 : 3;
    return alike ? vent_pipe_find("PVC 40", inches * VENT_INCH, err)
                 : vent_pipe_round((inches + 0.05 * i) * VENT_INCH, 1e-6 * (1 + i), err);
}

static vent_network *example(double scale, bool alike, peer *p, vent_error *err)
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
    int run = vent_network_run(net, "run", pit, top, example_pipe(0, alike, err), 1.2, err);
    for (int i = 1; i < PIPES; ++i)
        vent_network_pipe(net, run, example_pipe(i, alike, err), 0.5 + 0.3 * i, VENT_PI, err);
    for (int i = 0; i < FITTINGS; ++i)
        vent_network_fitting(net, run, vent_elbow(VENT_RADIANS(i % 3 ? 90 : 45), 1 + 0.1 * i, err),
                             1, err);
    vent_network_fan(net, run, fan, err);
    vent_fan_free(fan);
    return net;
}

/* From a workspace that is laid out; to be ended. */
static void peer_begin(peer *p, const vent_workspace *ws)
{
    p->ws = ws;
    p->spline = gsl_interp_alloc(gsl_interp_steffen, POINTS);
    gsl_interp_init(p->spline, p->flow, p->pressure, POINTS);
    p->solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
}

static void peer_end(peer *p)
{
    gsl_interp_free(p->spline);
    gsl_root_fsolver_free(p->solver);
}

#endif
