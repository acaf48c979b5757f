/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Newton's method of solve.c over cases side by side, compiled once for each instruction set; VENT_ISA
 * names it and becomes the function's suffix. lanes_laws.h has the laws, lanes_sweeps.h the sweeps.
 *
 * A lane that has come to rest is put aside and no longer moved, so that what its neighbours still do
 * changes nothing in it. */
#include "network/many_lanes.h"

#include <math.h>

#include "network/lanes_sweeps.h"

#define PASTE(name, isa)    name##_##isa
#define SUFFIXED(name, isa) PASTE(name, isa)
#define ISA(name)           SUFFIXED(name, VENT_ISA)

_Static_assert(VENT__PACK % (ABREAST * VENT_LANES) == 0, "a packet is whole groups of vectors");

enum { CHEAP_STEPS = 6, SERIES = 12, SERIES_STEPS = 4 };

/* Newton's steps shrink with their square: after one of LAST, what the next would move is below NOTHING,
 * both as shares of the flow, where the step before tells so. */
static const double LAST = 1e-7, NOTHING = 1e-15;

/* ---- first flows --------------------------------------------------------------------------------- */

/* Nothing, with the secant at an ordinary flow as the slope. */
V_INLINE v_law soil_at_rest(const vent__packet *p, int k, int o, vreal flow)
{
    vreal reference = get(p->reference, k, o);
    return (v_law){0 * flow, cheap_soil(p, k, o, reference).value / reference};
}

/* Secant of a run at one velocity, fans from shut-off to free delivery, as in equations.c. */
V_INLINE v_law secant_of(const vent__packet *p, int k, int o)
{
    v_law secant = {-get(p->lift, k, o),
                    get(p->reference, k, o) * get(p->crude[VENT__ALONG], k, o) +
                        get(p->linear[VENT__ALONG], k, o)};
    for (int i = p->program->first_fan[k]; i < p->program->first_fan[k + 1]; ++i) {
        const vent__lane_fan *fan = &p->fan[i];
        vreal shut_off = fan->shut_off * get(&fan->lift, 0, o);
        secant.value -= shut_off;
        secant.slope += shut_off * get(&fan->per_kg, 0, o) * (1 / fan->most);
    }
    return secant;
}

V_INLINE void put_law(vent__packet *p, int k, int o, v_law law)
{
    put(p->loss, k, o, law.value);
    put(p->slope, k, o, law.slope);
}

V_INLINE v_masks all_lanes(void)
{
    v_masks lanes;
    for (int i = 0; i < ABREAST; ++i)
        lanes.of[i] = v_every();
    return lanes;
}

V_INLINE int some(const v_masks *lanes)
{
    vmask any = lanes->of[0];
    for (int i = 1; i < ABREAST; ++i)
        any |= lanes->of[i];
    return v_any(any);
}

V_INLINE void no_scale(v_rest rest[ABREAST])
{
    for (int i = 0; i < ABREAST; ++i)
        rest[i] = (v_rest){v_all(0), v_all(LEAST_SCALE)};
}

V_INLINE void secant_flows(vent__packet *p, int o)
{
    v_masks all = all_lanes();
    v_rest rest[ABREAST];
    vreal step[ABREAST];
    for (int k = 0; k < p->program->runs; ++k)
        for (EACH_VECTOR(i, at, o)) {
            put(p->flow, k, at, v_all(0));
            put_law(p, k, at, secant_of(p, k, at));
        }
    no_scale(rest);
    pressures(p, o, soil_at_rest, rest);
    newton_step(p, o, &all, step);
}

V_INLINE void given_flows(vent__packet *p, int o)
{
    for (int k = 0; k < p->program->runs; ++k)
        for (EACH_VECTOR(i, at, o))
            put(p->flow, k, at, v_all(p->first[k]));
}

/* ---- steps ----------------------------------------------------------------------------------------- */

/* One of Newton's steps by this law of the runs, with the junctions' losses as they were last. */
V_INLINE void step_by(vent__packet *p, int o, run_law law, const v_masks *moving,
                      vreal step[ABREAST])
{
    v_rest rest[ABREAST];
    no_scale(rest);
    for (int k = 0; k < p->program->runs; ++k) {
        v_law run[ABREAST];
        law(p, k, o, moving, run);
        for (EACH_VECTOR(i, at, o)) {
            run[i].value -= get(p->lift, k, at);
            add_fans(p, k, at, get(p->flow, k, at), &run[i]);
            put_law(p, k, at, run[i]);
        }
    }
    pressures(p, o, cheap_soil, rest);
    newton_step(p, o, moving, step);
}

/* Steps from cheap friction until every lane is near. */
V_INLINE void come_near(vent__packet *p, int o)
{
    v_masks far = all_lanes();
    vreal step[ABREAST];
    for (int n = 0; n < CHEAP_STEPS && some(&far); ++n) {
        if (n > 0)
            joint_laws(p, o);
        step_by(p, o, cheap_run, &far, step);
        for (int i = 0; i < ABREAST; ++i)
            far.of[i] &= V_NOT(step[i] <= NEAR);
    }
}

/* Expands all laws about the present flows; gives the lanes that have no series. */
V_INLINE v_masks expand(vent__packet *p, int o)
{
    v_masks between;
    for (int i = 0; i < ABREAST; ++i)
        between.of[i] = v_none();
    for (int k = 0; k < p->program->runs; ++k) {
        expand_run(p, k, o, &between);
        if (is_leaf(p, k))
            expand_soil(p, k, o);
    }
    return between;
}

/* What the laws say of a vector. */
typedef struct v_verdict {
    vmask valid; /* lanes within the reach of the series, with air that moves and joins */
    vmask quiet; /* lanes in which nothing is left over */
} v_verdict;

/* Laws and pressures from the series. */
V_INLINE void ask_series(vent__packet *p, int o, v_verdict verdict[ABREAST])
{
    v_rest rest[ABREAST];
    no_scale(rest);
    for (int i = 0; i < ABREAST; ++i)
        verdict[i].valid = v_every();
    for (int k = 0; k < p->program->runs; ++k)
        for (EACH_VECTOR(i, at, o)) {
            vreal flow = get(p->flow, k, at), far;
            v_law run = series_run(p, k, at, flow, &far);
            verdict[i].valid &= (far <= REACH) & (v_abs(flow) >= get(p->creeping, k, at));
            run.value -= get(p->lift, k, at);
            rest[i].scale = v_max(rest[i].scale, add_fans(p, k, at, flow, &run));
            put_law(p, k, at, run);
        }
    joint_laws(p, o);
    pressures(p, o, series_soil, rest);
    for (EACH_VECTOR(i, at, o)) {
        verdict[i].valid &= all_join(p, at);
        verdict[i].quiet = rest[i].left_over <= TOLERANCE * rest[i].scale;
    }
}

/* Puts the lanes aside that have come to rest by the step that was taken. */
V_INLINE void set_aside(vent__packet *p, int o, vmask resting)
{
    for (int k = 0; k < p->program->runs; ++k) {
        vreal start = get(p->start, k, o) + change_at_start(p, k, o);
        put(p->found_flow, k, o, v_select(resting, get(p->flow, k, o), get(p->found_flow, k, o)));
        put(p->found_start, k, o, v_select(resting, start, get(p->found_start, k, o)));
    }
    put(&p->is_found, 0, o, v_select(resting, v_all(1), get(&p->is_found, 0, o)));
}

/* Newton's steps along the series about the present flows; keeps the lanes that still move. */
V_INLINE void follow_series(vent__packet *p, int o, v_masks *moving)
{
    v_masks between = expand(p, o), stepping = *moving;
    vreal step[ABREAST], before[ABREAST];
    for (int i = 0; i < ABREAST; ++i)
        before[i] = v_all(0);
    for (int n = 0; n < SERIES_STEPS && some(&stepping); ++n) {
        v_verdict verdict[ABREAST];
        ask_series(p, o, verdict);
        newton_step(p, o, &stepping, step);
        for (EACH_VECTOR(i, at, o)) {
            vmask last = (step[i] <= LAST) &
                         (step[i] * step[i] * step[i] <= NOTHING * before[i] * before[i]);
            vmask resting = stepping.of[i] & verdict[i].valid &
                            (last | (verdict[i].quiet & (step[i] < (double)INFINITY)));
            if (v_any(resting))
                set_aside(p, at, resting);
            moving->of[i] &= V_NOT(resting);
            /* between the regimes a law is right at its origin only */
            stepping.of[i] &= V_NOT(resting | between.of[i]);
            before[i] = step[i];
        }
    }
}

void ISA(vent__packet_solve)(vent__packet *packet)
{
    vent__packet *p = packet;
    for (int o = 0; o < VENT__PACK; o += ABREAST * VENT_LANES) {
        v_masks moving = all_lanes();
        vreal step[ABREAST];
        for (EACH_VECTOR(i, at, o))
            put(&p->is_found, 0, at, v_all(0));
        still_joints(p, o);
        if (p->first) {
            given_flows(p, o);
        } else {
            secant_flows(p, o);
            step_by(p, o, crude_run, &moving, step);
        }
        come_near(p, o);
        for (int n = 0; n < SERIES && some(&moving); ++n)
            follow_series(p, o, &moving);
    }
}
