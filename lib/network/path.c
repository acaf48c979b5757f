/* SPDX-License-Identifier: GPL-3.0-or-later */
/* With its twists off - the losses of junctions, the soil that is shared, fans that rise - every law
 * grows with flow, and the one point there is is easily found. From it leads a path of points along
 * which the twists are turned on. It may go back for a while, so flows and share are unknown together
 * and it is measured by its own length; where a flow turns, it bends sharply. Which way is on, the
 * determinant of the equations tells: where its sign changes, the share turns back (Allgower and Georg 1990). */
#include "network/path.h"

#include <math.h>
#include <string.h>

#include "network/equations.h"
#include "network/newton.h"
#include "network/step.h"

static void take_rest(const vent_workspace *ws, double *rest)
{
    const vent__program *program = ws->program;
    for (int k = 0; k < program->runs; ++k)
        if (program->soil[k] >= 0)
            rest[k] = ws->source[k];
    for (int l = 0; l < program->links; ++l)
        rest[program->start[l]] = ws->gap[l];
}

static void give_rest(vent_workspace *ws, const double *rest)
{
    const vent__program *program = ws->program;
    for (int k = 0; k < program->runs; ++k)
        if (program->soil[k] >= 0)
            ws->source[k] = rest[k];
    for (int l = 0; l < program->links; ++l)
        ws->gap[l] = rest[program->start[l]];
}

/* At the present flows and share: Newton's step in `first`, and in `step` how the flows answer a unit more
 * of the share, in which everything is linear. */
static void two_steps(vent_workspace *ws, vent_convergence *c)
{
    double share = ws->twists;
    ws->twists = share + 1;
    vent__evaluate(ws, ws->flow);
    take_rest(ws, ws->rest);
    ws->twists = share;
    vent__rest rest = vent__evaluate(ws, ws->flow);
    c->pressure_residual = rest.greatest;
    c->pressure_scale = rest.scale;
    vent__find_steps(ws);
    memcpy(ws->first, ws->step, (size_t)ws->program->runs * sizeof *ws->first);
    give_rest(ws, ws->rest);
    vent__find_steps(ws);
    for (int k = 0; k < ws->program->runs; ++k)
        ws->step[k] -= ws->first[k];
    ++c->iterations;
}

/* Goes from the point reached along the tangent. */
static void predict(vent_workspace *ws, const vent__path *p)
{
    for (int k = 0; k < ws->program->runs; ++k)
        ws->flow[k] = ws->settled[k] + p->stride * p->scale * ws->tangent[k];
    vent__sum_flows(ws, ws->flow);
    ws->twists = p->share + p->stride * p->along;
}

/* From there to the path, square to the tangent. */
static bool correct(vent_workspace *ws, const vent__path *p, vent_convergence *c)
{
    enum { MOST_STEPS = 4 };
    for (int i = 0; i <= MOST_STEPS; ++i) {
        two_steps(ws, c);
        if (c->pressure_residual <= vent__good_enough(ws, c->pressure_scale))
            return true;
        double left = p->stride - p->along * (ws->twists - p->share), rate = p->along;
        for (int k = 0; k < ws->program->runs; ++k) {
            double part = ws->tangent[k] / p->scale;
            left -= part * (ws->flow[k] + ws->first[k] - ws->settled[k]);
            rate += part * ws->step[k];
        }
        double more = left / rate;
        for (int k = 0; k < ws->program->runs; ++k)
            ws->flow[k] += ws->first[k] + more * ws->step[k];
        vent__sum_flows(ws, ws->flow);
        ws->twists += more;
    }
    return false;
}

/* How far the way from the last point to these flows leaves the direction that `step` gives: its cosine. */
static double straightness(const vent_workspace *ws, const vent__path *p)
{
    double way = ws->twists - p->share, product = way, square = 1, length = way * way;
    for (int k = 0; k < ws->program->runs; ++k) {
        double flow = (ws->flow[k] - ws->settled[k]) / p->scale, part = ws->step[k] / p->scale;
        product += part * flow;
        square += part * part;
        length += flow * flow;
    }
    return (vent__is_upright(ws) == p->forward ? 1 : -1) * product / sqrt(square * length);
}

/* Makes these flows the point reached, and what `step` gives the tangent. */
static void reach(vent_workspace *ws, vent__path *p)
{
    int runs = ws->program->runs;
    double square = 1;
    for (int k = 0; k < runs; ++k)
        square += ws->step[k] / p->scale * ws->step[k] / p->scale;
    p->share = ws->twists;
    p->along = (vent__is_upright(ws) == p->forward ? 1 : -1) / sqrt(square);
    for (int k = 0; k < runs; ++k)
        ws->tangent[k] = p->along * ws->step[k] / p->scale;
    memcpy(ws->settled, ws->flow, (size_t)runs * sizeof *ws->flow);
}

static void exchange(double **a, double **b)
{
    double *kept = *a;
    *a = *b;
    *b = kept;
}

/* Keeps the point reached in spare rows, or brings it back. */
static void exchange_points(vent_workspace *ws)
{
    exchange(&ws->settled, &ws->spare_settled);
    exchange(&ws->tangent, &ws->spare_tangent);
}

/* Over a kink just ahead, behind which the path goes another way: along the direction that holds there. */
static bool hop(vent_workspace *ws, vent__path *p, vent_convergence *c)
{
    const double right = 0.9; /* cosine */
    vent__path beyond = *p;
    predict(ws, p);
    two_steps(ws, c);
    exchange_points(ws);
    reach(ws, &beyond);
    beyond.stride *= 4;
    predict(ws, &beyond);
    bool is_on = correct(ws, &beyond, c) && straightness(ws, &beyond) > right;
    if (is_on) {
        reach(ws, &beyond);
        *p = beyond;
    } else {
        exchange_points(ws);
    }
    return is_on;
}

/* Goes on by a stride; false where the path bends too much for that. The last point goes to the spare rows. */
static bool advance(vent_workspace *ws, vent__path *p, vent_convergence *c)
{
    const double longest = 0.1, smooth = 0.98; /* cosine */
    const double short_enough = 1e-5;          /* for laws to be straight lines but for one kink */
    int before = c->iterations;
    predict(ws, p);
    if (!correct(ws, p, c) || !(straightness(ws, p) > smooth))
        return p->stride <= short_enough && hop(ws, p, c);
    exchange_points(ws);
    reach(ws, p);
    if (c->iterations - before <= 3)
        p->stride = fmin(2 * p->stride, longest);
    return true;
}

/* The point where just all is on, between the last one and this. */
static bool arrive(vent_workspace *ws, const vent__path *last, const vent__path *p,
                   vent_convergence *c)
{
    double part = (1 - last->share) / (p->share - last->share);
    for (int k = 0; k < ws->program->runs; ++k)
        ws->flow[k] = ws->spare_settled[k] + part * (ws->settled[k] - ws->spare_settled[k]);
    vent__sum_flows(ws, ws->flow);
    ws->twists = 1;
    return vent__newton(ws, c);
}

bool vent__path_begin(vent_workspace *ws, vent__path *p, vent_convergence *c)
{
    *p = (vent__path){.stride = 0.1};
    ws->twists = 0;
    vent__first_flows(ws);
    bool found = vent__newton(ws, c);
    if (found) {
        for (int k = 0; k < ws->program->runs; ++k)
            p->scale = vent__larger(p->scale, fabs(ws->flow[k]));
        two_steps(ws, c);
        p->forward = vent__is_upright(ws);
        reach(ws, p);
    }
    ws->twists = 1;
    return found;
}

bool vent__path_next(vent_workspace *ws, vent__path *p, vent_convergence *c)
{
    enum { MOST_POINTS = 3000 };
    const double least_stride = 1e-10, most_share = 5;
    bool found = false;
    while (!found && ++p->points < MOST_POINTS && p->stride > least_stride && p->share >= 0 &&
           p->share <= most_share) {
        vent__path last = *p;
        if (!advance(ws, p, c)) {
            p->stride /= 4;
        } else if ((last.share < 1) != (p->share < 1)) {
            found = arrive(ws, &last, p, c);
            if (!found) {
                exchange_points(ws);
                last.stride = p->stride / 4;
                *p = last;
            }
        }
    }
    ws->twists = 1;
    return found;
}
