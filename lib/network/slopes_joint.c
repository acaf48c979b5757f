/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Junctions: every leg's loss h feels its own pipe, the combined pipe, what all branches open together, and the
 * sums z over all that meet. A number that changes one leg's term of the sums changes the losses of all by it; in
 * a result's answers these come as beta = sum of mu dh/dz, so a junction of n legs costs n. */
#include "base/memory.h"
#include "network/slopes.h"

bool vent__slopes_of_legs(vent__slopes *s)
{
    const vent_workspace *ws = s->ws;
    const double *flow = s->solution->flow;
    if (ws->ties > s->ties && !vent__resize(&s->leg, (size_t)ws->ties, sizeof *s->leg))
        return false;
    s->ties = ws->ties > s->ties ? ws->ties : s->ties;
    for (int k = 0; k < s->runs; ++k) {
        const vent__tie *tie = vent__tie_at(ws, k);
        if (!tie)
            continue;
        int next = s->program->next[k];
        const vent__knot *knot = vent__knot_at(ws, next);
        s->leg[ws->tie_at[k]] =
            vent__junction_slopes(&knot->meeting, &tie->leg, flow[k], flow[next], knot->sums);
    }
    return true;
}

void vent__slope_of_junction(vent__slopes *s, int column, const vent_parameter *p)
{
    int what = p->kind == VENT_PARAMETER_JUNCTION_ANGLE ? VENT__ANGLE : VENT__FACTOR;
    s->junctions = true;
    vent__change_run(s, column, what, vent__leaving(s, p->place), 1);
}

/* Axial and lateral momentum, which go as 1 / (rho A), in a result's answers. */
static double momentum(const double *beta, const vent__term *term)
{
    return beta[VENT__AXIAL] * term->value[VENT__AXIAL] +
           beta[VENT__LATERAL] * term->value[VENT__LATERAL];
}

/* What all legs of one junction answer together, by one number of it. */
typedef struct whole {
    double beta[VENT__SUMS];
    double area, density, straight, branch, angle, factor;
} whole;

/* `mu` of a leg, and one more where its loss is the result itself. */
static double weight_of(const vent__slopes *s, int leg, int seen)
{
    return s->answer[vent__number_of(s, VENT__LOSS, leg)] + (leg == seen);
}

static whole gather(const vent__slopes *s, int k, int seen)
{
    const vent_workspace *ws = s->ws;
    whole all = {0};
    for (int j = vent__last_leg(s->program, k); j >= 0; j = vent__leg_before(s->program, k, j)) {
        const vent__leg_slopes *by = &s->leg[ws->tie_at[j]];
        double mu = weight_of(s, j, seen);
        for (int i = 0; i < VENT__SUMS; ++i)
            all.beta[i] += mu * vent__tie_at(ws, j)->joint.d_sum[i];
        all.area += mu * by->combined_area;
        all.density += mu * by->combined_density;
        all.straight += mu * by->straight_area;
        all.branch += mu * by->branch_area;
        all.angle += mu * by->angle;
        all.factor += mu * by->factor;
    }
    return all;
}

/* A leg opens a part of what all of its kind do. */
static double shared_area(const vent__meeting *meeting, const vent__leg *leg, const whole *all)
{
    if (leg->aside)
        return 0;
    return leg->straight ? all->straight * leg->area / meeting->straight_area
                         : all->branch * leg->area / meeting->branch_area;
}

static void answer_leg(vent__slopes *s, int k, int j, double mu, const vent__knot *knot, whole *all)
{
    const vent__leg *leg = &vent__tie_at(s->ws, j)->leg;
    const vent__leg_slopes *by = &s->leg[s->ws->tie_at[j]];
    const double *flow = s->solution->flow;
    vent__term term = vent__junction_term(&knot->meeting, leg, flow[j], flow[k]);
    vent__term turned = vent__junction_term_by_angle(&knot->meeting, leg, flow[j]);
    double brought = momentum(all->beta, &term);
    s->answer[vent__number_of(s, VENT__END, j)] =
        mu * by->area + shared_area(&knot->meeting, leg, all) - brought;
    s->answer[vent__number_of(s, VENT__DENSITY, j)] += mu * by->density - brought;
    all->angle += momentum(all->beta, &turned);
}

void vent__answer_junctions(vent__slopes *s, int seen)
{
    const vent__program *program = s->program;
    for (int k = 0; k < s->runs; ++k) {
        const vent__knot *knot = vent__knot_at(s->ws, k);
        if (!knot)
            continue;
        whole all = gather(s, k, seen);
        vent__term combined = vent__junction_combined_term(&knot->meeting, s->solution->flow[k]);
        double brought = momentum(all.beta, &combined);
        s->answer[vent__number_of(s, VENT__START, k)] = all.area - brought;
        s->answer[vent__number_of(s, VENT__DENSITY, k)] += all.density - brought;
        for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j))
            answer_leg(s, k, j, weight_of(s, j, seen), knot, &all);
        s->answer[vent__number_of(s, VENT__ANGLE, k)] = all.angle;
        s->answer[vent__number_of(s, VENT__FACTOR, k)] = all.factor;
    }
}
