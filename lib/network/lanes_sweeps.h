/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Junctions, pressures and Newton's two sweeps over cases side by side, for many_lanes.c alone. */
#ifndef VENT_NETWORK_LANES_SWEEPS_H
#define VENT_NETWORK_LANES_SWEEPS_H

#include "network/lanes_laws.h"

/* ---- junctions ------------------------------------------------------------------------------- */

/* The legs that meet where run k starts, last to first; -1 after the first. */
V_INLINE int leg_before(const vent__program *program, int k, int at)
{
    return at - 1 >= program->first_fed[k] ? at - 1 : -1;
}

#define EACH_LEG(program, k, j)                                                                    \
    int j = leg_before(program, k, k);                                                             \
    j >= 0;                                                                                        \
    j = leg_before(program, k, (program)->first_fed[j])

/* The axial momentum that the legs bring to the junction where run k starts. */
V_INLINE vreal momentum_at(vent__packet *p, int k, int o)
{
    vreal sum = v_all(0);
    for (EACH_LEG(p->program, k, j)) {
        vreal flow = get(p->flow, j, o), part = get(p->unit_axial, j, o) * flow;
        sum += part * flow;
        put(p->axial, j, o, 2 * part);
    }
    return sum;
}

/* The law of vent__joining, which holds while all legs flow in: a lane does not come to rest otherwise. */
V_INLINE void joint_law(vent__packet *p, int j, int o, vreal combined, vreal per_area,
                        vreal inertia, vreal factor, vreal momentum)
{
    vreal flow = get(p->flow, j, o), part = get(p->kinetic, j, o) * flow;
    vreal most = get(p->most, j, o), per_flow = 1 / combined, q = flow * per_flow;
    vreal rise = inertia * combined, dynamic = 0.5 * rise * combined; /* of M^2 / (2 rho A^2) */
    vreal base = dynamic - momentum * per_area + part * flow;
    vreal gain, by_q, own; /* share gained, pascals by q, what the base counts */
    if (p->is_straight[j]) {
        vreal others = 1 - q, fading = get(p->fading, j, o);
        gain = most * others * (1 - fading * others);
        by_q = -dynamic * most * (1 - 2 * fading * others);
        own = v_all(1);
        put(p->joint, j, o, factor * (base + dynamic * gain));
    } else {
        vreal ramp = p->joining[j].rate * q;
        vmask flat = ramp >= p->joining[j].cap;
        gain = most * v_select(flat, v_all(p->joining[j].cap), ramp);
        by_q = base * most * v_select(flat, v_all(0), v_all(p->joining[j].rate));
        own = 1 + gain;
        put(p->joint, j, o, factor * (base + base * gain));
    }
    put(p->by_axial, j, o, -factor * per_area * own);
    put(p->by_leg, j, o, factor * (2 * part * own + by_q * per_flow));
    put(p->by_combined, j, o, factor * (rise * (1 + gain) - by_q * q * per_flow));
}

V_INLINE void joint_laws(vent__packet *p, int o)
{
    for (int k = 0; k < p->program->runs; ++k) {
        if (!p->is_lossy[k])
            continue;
        for (EACH_VECTOR(i, at, o)) {
            vreal momentum = momentum_at(p, k, at), combined = get(p->flow, k, at);
            vreal per_area = get(p->per_area, k, at), inertia = get(p->inertia, k, at);
            vreal factor = get(p->factor, k, at);
            for (EACH_LEG(p->program, k, j))
                joint_law(p, j, at, combined, per_area, inertia, factor, momentum);
        }
    }
}

/* Before a junction's laws are asked for, they are nothing. */
V_INLINE void still_joints(vent__packet *p, int o)
{
    vent__row *const rows[] = {p->joint, p->by_leg, p->by_combined, p->by_axial, p->axial};
    for (int k = 0; k < p->program->runs; ++k)
        for (int j = 0; j < 5; ++j)
            for (EACH_VECTOR(i, at, o))
                put(rows[j], k, at, v_all(0));
}

/* Lanes in which all air goes forward at junctions with losses. */
V_INLINE vmask all_join(const vent__packet *p, int o)
{
    const vent__program *program = p->program;
    vmask good = v_every();
    for (int k = 0; k < program->runs - 1; ++k)
        if (p->is_lossy[program->next[k]])
            good &= get(p->flow, k, o) > 0;
    return good;
}

/* ---- pressures and sweeps --------------------------------------------------------------------- */

/* What is left over at the suction points, and the pressures it is to be seen beside. */
typedef struct v_rest {
    vreal left_over, scale;
} v_rest;

/* The soil at the leaf k. */
V_INLINE void meet_soil(vent__packet *p, int k, int o, v_law soil, vreal start, v_rest *rest)
{
    vreal source = -soil.value - start;
    put(p->source, k, o, source);
    put(p->source_slope, k, o, soil.slope);
    rest->left_over = v_max(rest->left_over, v_abs(source));
}

/* Pressures from the discharge down; what is left over at the suction points goes to source. */
V_INLINE void pressures(vent__packet *p, int o, soil_law soil_of, v_rest rest[ABREAST])
{
    const vent__program *program = p->program;
    for (int k = program->runs - 1; k >= 0; --k) {
        int next = program->next[k];
        for (EACH_VECTOR(i, at, o)) {
            vreal loss = get(p->loss, k, at), lift = get(p->lift, k, at);
            vreal end = next < 0 ? v_load(&p->wind.lane[at])
                                 : get(p->start, next, at) + get(p->joint, k, at);
            vreal start = end + loss, *scale = &rest[i].scale;
            put(p->start, k, at, start);
            *scale = v_max(v_max(*scale, v_abs(end)), v_abs(start));
            *scale = v_max(v_max(*scale, v_abs(lift)), v_abs(loss + lift));
            if (is_leaf(p, k))
                meet_soil(p, k, at, soil_of(p, k, at, get(p->flow, k, at)), start, &rest[i]);
        }
    }
}

/* What legs that meet without loss show to the pipe that leaves. */
V_INLINE void gather_lossless(vent__packet *p, int k, int o)
{
    vreal weight = v_all(0), pushed = v_all(0);
    for (EACH_LEG(p->program, k, j)) {
        vreal w = get(p->weight, j, o);
        weight += w;
        pushed += w * get(p->source, j, o);
    }
    vreal slope = 1 / weight;
    put(p->source_slope, k, o, slope);
    put(p->source, k, o, pushed * slope);
}

/* The same where each leg feels the others by the axial momentum S: with step dm_i of leg i and dM of
 * all, dS = sum a_i dm_i and leg i is pressed by c_i dM + g_i dS. */
V_INLINE void gather_joined(vent__packet *p, int k, int o)
{
    vreal all = v_all(0), own = v_all(1); /* sums of w g and of w g a */
    for (EACH_LEG(p->program, k, j)) {
        vreal felt = get(p->weight, j, o) * get(p->by_axial, j, o);
        all += felt;
        own += felt * get(p->axial, j, o);
    }
    vreal echo = all / own, weight = v_all(0), pushed = v_all(0), turned = v_all(1);
    for (EACH_LEG(p->program, k, j)) {
        vreal w = get(p->weight, j, o) * (1 - echo * get(p->axial, j, o));
        weight += w;
        pushed += w * get(p->source, j, o);
        turned += w * get(p->by_combined, j, o);
    }
    vreal per_weight = 1 / weight;
    put(p->source_slope, k, o, turned * per_weight);
    put(p->source, k, o, pushed * per_weight);
    put(p->turned, k, o, own);
}

V_INLINE void sweep_up(vent__packet *p, int o)
{
    for (int k = 0; k < p->program->runs; ++k)
        for (EACH_VECTOR(i, at, o)) {
            if (!is_leaf(p, k)) {
                if (p->is_lossy[k])
                    gather_joined(p, k, at);
                else
                    gather_lossless(p, k, at);
            }
            put(p->weight, k, at,
                1 / (get(p->source_slope, k, at) + get(p->slope, k, at) + get(p->by_leg, k, at)));
        }
}

/* By how much the step of run k changes the pressure where it starts. */
V_INLINE vreal change_at_start(const vent__packet *p, int k, int o)
{
    return get(p->source, k, o) - get(p->source_slope, k, o) * get(p->step, k, o);
}

V_INLINE void spread(vent__packet *p, int k, int o)
{
    vreal step = get(p->step, k, o), node = change_at_start(p, k, o);
    vreal alone = v_all(0); /* what the axial momentum would change, did the legs not feel it */
    for (EACH_LEG(p->program, k, j)) {
        vreal own =
            get(p->weight, j, o) * (get(p->source, j, o) - node - get(p->by_combined, j, o) * step);
        put(p->step, j, o, own);
        alone += own * get(p->axial, j, o);
    }
    if (!p->is_lossy[k])
        return;
    vreal change = alone / get(p->turned, k, o);
    for (EACH_LEG(p->program, k, j))
        put(p->step, j, o,
            get(p->step, j, o) - get(p->weight, j, o) * get(p->by_axial, j, o) * change);
}

V_INLINE void sweep_down(vent__packet *p, int o)
{
    int root = p->program->runs - 1;
    for (EACH_VECTOR(i, at, o))
        put(p->step, root, at, get(p->weight, root, at) * get(p->source, root, at));
    for (int k = root; k >= 0; --k)
        for (EACH_VECTOR(i, at, o))
            if (!is_leaf(p, k))
                spread(p, k, at);
}

/* Moves the lanes of the masks by Newton's step; every flow is the sum of what feeds it. Gives the
 * largest step over the flow it leads to. */
V_INLINE void move(vent__packet *p, int o, const v_masks *moving, vreal largest[ABREAST])
{
    for (EACH_VECTOR(i, at, o))
        largest[i] = v_all(0);
    for (int k = 0; k < p->program->runs; ++k)
        for (EACH_VECTOR(i, at, o)) {
            vreal flow = v_all(0), step = get(p->step, k, at);
            if (is_leaf(p, k)) {
                vreal before = get(p->flow, k, at);
                flow = v_select(moving->of[i], before + step, before);
            } else {
                for (EACH_LEG(p->program, k, j))
                    flow += get(p->flow, j, at);
            }
            put(p->flow, k, at, flow);
            largest[i] = v_max(largest[i], v_abs(step / flow));
        }
}

V_INLINE void newton_step(vent__packet *p, int o, const v_masks *moving, vreal largest[ABREAST])
{
    sweep_up(p, o);
    sweep_down(p, o);
    move(p, o, moving, largest);
}

#endif
