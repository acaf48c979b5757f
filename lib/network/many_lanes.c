/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Newton's method of solve.c over cases side by side, compiled once for each instruction set; VENT_ISA
 * names it and becomes the function's suffix.
 *
 * The first steps take friction from cheap logarithms. Then every pipe's friction is evaluated once
 * with all digits, as a series in the flow: with Y of friction_kernel.h, w = m / Y is so smooth that
 * four derivatives carry all digits over a change of flow of 0.5 %, and Newton's last steps need no
 * logarithm. With g = d ln Y / d ln Re, r = g Y and P = (1 - g) g^2,
 *
 *     m dw/dm       = (1 - g) w                   m g' = -(1 - g) g (1 - r)
 *     m^2 d2w/dm2   = -P Y w                      m r' = r (g - (1 - g) (1 - r))
 *     m^3 d3w/dm3   = P E Y w                     E = (2 - 3 g) (1 - r) + 1
 *     m^4 d4w/dm4   = P (m E' - E^2 - E) Y w
 *
 * and the loss of a pipe is proportional to w^2. In laminar flow it is proportional to m. Between the
 * regimes there is no such series; there each step takes its own friction.
 *
 * A lane that has come to rest is put aside and no longer moved, so that what its neighbours still do
 * changes nothing in it. */
#include "network/many_lanes.h"

#include <math.h>

#include "numeric/curve.h"
#include "physics/friction_kernel.h"

#define PASTE(name, isa)    name##_##isa
#define SUFFIXED(name, isa) PASTE(name, isa)
#define ISA(name)           SUFFIXED(name, VENT_ISA)

/* As in solve.c */
static const double TOLERANCE = 1e-13, LEAST_SCALE = 1e-6, LEAST_REYNOLDS = 1e-3;

static const double REACH = 5e-3;  /* how far the series go, of the flow */
static const double NEAR = 0.05;   /* steps of this size need exact friction */
static const double MARGIN = 0.01; /* the series keep this clear of a change of regime */
enum { CHEAP_STEPS = 6, SERIES = 12, SERIES_STEPS = 4 };

/* The vector of lanes o ... o + VENT_LANES - 1 of a row. */
V_INLINE vreal get(const vent__row *row, int i, int o)
{
    return v_load(&row[i].lane[o]);
}

V_INLINE void put(vent__row *row, int i, int o, vreal v)
{
    v_store(&row[i].lane[o], v);
}

V_INLINE vreal v_abs(vreal x)
{
    return v_max(x, -x);
}

/* A NaN in x counts as larger. */
V_INLINE vreal v_larger(vreal a, vreal x)
{
    return v_select(x <= a, a, x);
}

V_INLINE vmask v_none(void)
{
    return (vmask){0};
}

#if VENT_LANES > 1
#define V_NOT(mask) (~(mask))
#else
#define V_NOT(mask) (!(mask))
#endif

/* Row `along` of those that differ by the way the air goes, or `against` where it goes back. */
typedef struct v_way {
    vmask back;
    int some; /* lanes are */
} v_way;

V_INLINE v_way way_of(vreal flow)
{
    vmask back = flow < 0;
    return (v_way){back, v_any(back)};
}

V_INLINE vreal by_way(vent__row *const *rows, int i, int o, v_way way)
{
    vreal along = get(rows[VENT__ALONG], i, o);
    return way.some ? v_select(way.back, get(rows[VENT__AGAINST], i, o), along) : along;
}

/* ---- fans and soil -------------------------------------------------------------------------- */

typedef struct v_law {
    vreal value, slope;
} v_law;

/* The numbers of the pieces that hold x. A short row of knots is counted in all lanes at once. */
V_INLINE void number_pieces(const vent__curve *curve, vreal x, int64_t number[VENT_LANES])
{
    enum { SHORT = 32 };
    double at[VENT_LANES];
    vmask below = v_none();
    for (size_t k = 0; k < curve->n && curve->n <= SHORT; ++k)
        below = v_tally(below, x >= curve->x[k]);
    memcpy(number, &below, sizeof below);
    v_store(at, x);
    for (int i = 0; i < VENT_LANES && curve->n > SHORT; ++i)
        number[i] = (int64_t)vent__curve_piece(curve, at[i]);
}

/* Puts the lanes on the pieces of a fan's curve that hold x. */
static void find_pieces(vent__lane_fan *fan, int o, vreal x)
{
    const vent__curve *curve = fan->curve;
    int64_t number[VENT_LANES];
    number_pieces(curve, x, number);
    for (int i = 0; i < VENT_LANES; ++i) {
        size_t below = (size_t)number[i];
        const vent__piece *piece = &curve->piece[below];
        fan->low.lane[o + i] = below ? curve->x[below - 1] : -INFINITY;
        fan->high.lane[o + i] = below < curve->n ? curve->x[below] : INFINITY;
        fan->from.lane[o + i] = piece->from;
        for (int j = 0; j < 4; ++j)
            fan->c[j].lane[o + i] = piece->c[j];
    }
}

V_INLINE v_law fan_of(vent__lane_fan *fan, int o, vreal flow)
{
    vreal per_kg = get(&fan->per_kg, 0, o), lift = get(&fan->lift, 0, o), x = flow * per_kg;
    vmask inside = (x >= get(&fan->low, 0, o)) & (x < get(&fan->high, 0, o));
    if (v_any(V_NOT(inside)))
        find_pieces(fan, o, x);
    vreal t = x - get(&fan->from, 0, o);
    vreal c0 = get(fan->c, 0, o), c1 = get(fan->c, 1, o), c2 = get(fan->c, 2, o),
          c3 = get(fan->c, 3, o);
    return (v_law){lift * (c0 + t * (c1 + t * (c2 + t * c3))),
                   lift * per_kg * (c1 + t * (2 * c2 + 3 * c3 * t))};
}

/* An exponent above 1 has a law of its own at rest: such lanes are asked for one by one. */
static void soil_one_by_one(const vent__packet *p, int k, int o, vreal flow, vreal *value,
                            vreal *slope)
{
    double at[VENT_LANES], v[VENT_LANES], s[VENT_LANES];
    v_store(at, flow);
    v_store(v, *value);
    v_store(s, *slope);
    for (int i = 0; i < VENT_LANES; ++i)
        if (p->soil[k][o + i].b > 1) {
            double volume = p->soil_volume.lane[o + i];
            vent__slope law = vent__soil_law(&p->soil[k][o + i], at[i] * volume);
            v[i] = law.value;
            s[i] = law.slope * volume;
        }
    *value = v_load(v);
    *slope = v_load(s);
}

typedef v_law soil_law(const vent__packet *p, int k, int o, vreal flow);

/* Vacuum the soil needs: m a (|m| a)^b of the power law, m (a + b |m|) of the two terms; the power is
 * handed in. */
V_INLINE v_law soil_by(const vent__packet *p, int k, int o, vreal flow, vreal power)
{
    vreal a = get(p->soil_a, k, o), b = get(p->soil_b, k, o), size = v_abs(flow);
    if (p->soil[k][0].law == VENT_SOIL_TWO_TERM)
        return (v_law){flow * (a + b * size), a + 2 * b * size};
    v_law law = {flow * a * power, a * power * (b + 1)};
    if (v_any(b < 0))
        soil_one_by_one(p, k, o, flow, &law.value, &law.slope);
    return law;
}

/* 2^x to 0.2 %, x within the exponents of normal numbers: a parabola between the powers of two. */
V_INLINE vreal rough_power_of_two(vreal x)
{
    const double round = 0x1.8p52;
    vreal shifted = x + round, r = x - (shifted - round);
    vreal e = 1 + r * (0.69314718 + r * (0.24022651 + r * 0.05550411));
    return v_from_bits(v_to_bits(e) + (v_to_bits(shifted) << 52));
}

V_INLINE v_law cheap_soil(const vent__packet *p, int k, int o, vreal flow)
{
    vreal x = v_max(v_abs(flow) * get(p->soil_a, k, o), v_all(DBL_MIN));
    vreal power = get(p->soil_b, k, o) * (1 / V_LN2) * v_log_rough(x);
    return soil_by(p, k, o, flow,
                   rough_power_of_two(v_min(v_max(power, v_all(-1000)), v_all(1000))));
}

/* The power at the flow the series start from. */
V_INLINE void expand_soil(vent__packet *p, int k, int o)
{
    if (p->soil[k][0].law == VENT_SOIL_TWO_TERM)
        return;
    vreal x = v_max(v_abs(get(p->flow, k, o)) * get(p->soil_a, k, o), v_all(DBL_MIN));
    put(p->soil_order, k, o, v_pow(x, get(p->soil_b, k, o)));
}

/* (1 + s)^b = 1 + b s (1 + (b - 1)/2 s (1 + ...)), as far as the series of friction go. */
V_INLINE v_law series_soil(const vent__packet *p, int k, int o, vreal flow)
{
    vreal b = get(p->soil_b, k, o);
    vreal s = (flow - get(p->origin, k, o)) * get(p->per_origin, k, o);
    vreal power =
        1 + b * s *
                (1 + (b - 1) * (1.0 / 2) * s *
                         (1 + (b - 2) * (1.0 / 3) * s *
                                  (1 + (b - 3) * (1.0 / 4) * s * (1 + (b - 4) * (1.0 / 5) * s))));
    return soil_by(p, k, o, flow, get(p->soil_order, k, o) * power);
}

V_INLINE bool is_leaf(const vent__packet *p, int k)
{
    return p->program->soil[k] >= 0;
}

/* ---- the laws of the runs -------------------------------------------------------------------- */

/* Takes the fans off the loss of a run; gives the greatest pressure of one. */
V_INLINE vreal add_fans(vent__packet *p, int k, int o, vreal flow, v_law *run)
{
    vreal drive = v_all(0);
    for (int i = p->program->first_fan[k]; i < p->program->first_fan[k + 1]; ++i) {
        v_law fan = fan_of(&p->fan[i], o, flow);
        drive = v_larger(drive, v_abs(fan.value));
        run->value -= fan.value;
        run->slope -= fan.slope;
    }
    return drive;
}

/* m (|m| k + k1), with one friction factor for all pipes in k. */
V_INLINE v_law crude_run(vent__packet *p, int k, int o, vreal flow, vmask moving)
{
    (void)moving;
    v_way way = way_of(flow);
    vreal k0 = by_way(p->crude, k, o, way), k1 = by_way(p->linear, k, o, way);
    vreal part = v_abs(flow) * k0;
    return (v_law){flow * (part + k1), 2 * part + k1};
}

/* Friction of a run from logarithms of two digits. Leaves Y and its rise in the
 * lanes that move, to start from the next time. */
V_INLINE v_law cheap_run(vent__packet *p, int k, int o, vreal flow, vmask moving)
{
    v_way way = way_of(flow);
    vreal size = v_abs(flow);
    vreal k0 = by_way(p->fixed, k, o, way), k1 = by_way(p->linear, k, o, way), rise = 2 * k0;
    for (int s = p->first_pipe[k]; s < p->first_pipe[k + 1]; ++s) {
        vreal re = get(p->reynolds, s, o) * size, kf = by_way(p->friction, s, o, way);
        vreal x = v_max(v_all(VENT__REYNOLDS_LAMINAR), re) * VENT__COLEBROOK_X;
        vreal b = x * get(p->roughness, s, o) * (1 / 3.7);
        vreal y = v_colebrook_start(x, b), z1 = b + y + 1;
        vreal over = 1 / (y * z1), inverse = over * z1, g = over * y; /* one division for both */
        vreal f = VENT__COLEBROOK_F * inverse * inverse, slope = 2 - 2 * g;
        put(p->y, s, o, v_select(moving, y, get(p->y, s, o)));
        put(p->y_rise, s, o, v_select(moving, g * y, get(p->y_rise, s, o)));
        vmask laminar = re < VENT__REYNOLDS_LAMINAR;
        if (v_any(laminar)) {
            f = v_select(laminar, 64 / v_max(re, v_all(VENT__REYNOLDS_LEAST)), f);
            slope = v_select(laminar, v_all(1), slope);
        }
        vreal part = kf * f;
        k0 += part;
        rise += part * slope;
    }
    put(p->origin, k, o, v_select(moving, flow, get(p->origin, k, o)));
    return (v_law){flow * (size * k0 + k1), size * rise + k1};
}

/* Where the air of a lane is between the regimes, or nearly. */
V_INLINE vmask is_between(vreal re)
{
    return (re > VENT__REYNOLDS_LAMINAR * (1 - MARGIN)) &
           (re < VENT__REYNOLDS_TURBULENT * (1 + MARGIN));
}

/* Series of f in the flow, times kf: w^2 of the head of this file, its orders c. */
V_INLINE void add_series(vreal c[VENT__ORDERS], vreal part, const vreal a[VENT__ORDERS])
{
    for (int i = 0; i < VENT__ORDERS; ++i)
        c[i] += part * a[i];
}

/* Orders of w^2 for a pipe in turbulent flow, the first of which is 1. */
V_INLINE void turbulent_series(v_colebrook at, vreal a[VENT__ORDERS])
{
    vreal g = at.g, r = g * at.y, g1 = 1 - g, r1 = 1 - r, g23 = 2 - 3 * g;
    vreal py = g1 * g * r, e = g23 * r1 + 1;
    vreal de = 3 * g1 * g * r1 * r1 - g23 * r * (g - g1 * r1);
    a[0] = v_all(1);
    a[1] = 2 * g1;
    a[2] = g1 * g1 - py;
    a[3] = py * (e * (1.0 / 3) - g1);
    a[4] = py * ((de - e * e - e) * (1.0 / 12) + e * g1 * (1.0 / 3) + py * 0.25);
}

/* What expanding a run needs to know of it. */
typedef struct v_run {
    vreal size, moved;
    v_way way;
    vmask far; /* lanes that moved too far from where Y is known */
    int some_far;
} v_run;

/* Friction of one pipe, and its series; `plain` where no lane is but turbulent, goes forward and near. */
V_INLINE vmask expand_pipe(vent__packet *p, int s, int o, const v_run *run, bool plain,
                           vreal c[VENT__ORDERS])
{
    vreal re = get(p->reynolds, s, o) * run->size, rough = get(p->roughness, s, o);
    vreal x = (plain ? re : v_max(v_all(VENT__REYNOLDS_LAMINAR), re)) * VENT__COLEBROOK_X;
    vreal b = x * rough * (1 / 3.7), a[VENT__ORDERS];
    vreal y0 = get(p->y, s, o) + run->moved * get(p->y_rise, s, o);
    if (!plain && run->some_far)
        y0 = v_select(run->far, v_colebrook_start(x, b), y0);
    v_colebrook at = v_colebrook_finish(x, b, y0);
    vreal f = VENT__COLEBROOK_F / (at.y * at.y);
    turbulent_series(at, a);
    put(p->y, s, o, at.y);
    put(p->y_rise, s, o, at.g * at.y);
    vmask low = re < VENT__REYNOLDS_TURBULENT * (1 + MARGIN);
    if (!plain && v_any(low)) {
        v_friction exact = v_friction_all(re, rough);
        f = v_select(low, exact.factor, f);
        a[1] = v_select(low, 2 + exact.slope, a[1]);
        for (int i = 2; i < VENT__ORDERS; ++i)
            a[i] = v_select(low, v_all(0), a[i]);
    }
    vreal kf = plain ? get(p->friction[VENT__ALONG], s, o) : by_way(p->friction, s, o, run->way);
    add_series(c, kf * f, a);
    return plain ? v_none() : is_between(re);
}

V_INLINE vmask expand_pipes(vent__packet *p, int k, int o, const v_run *run, bool plain,
                            vreal c[VENT__ORDERS])
{
    vmask between = v_none();
    int s = p->first_pipe[k], end = p->first_pipe[k + 1];
    for (; s + 1 < end; s += 2) { /* two at once: a chain of operations for the other to wait in */
        between |= expand_pipe(p, s, o, run, plain, c);
        between |= expand_pipe(p, s + 1, o, run, plain, c);
    }
    if (s < end)
        between |= expand_pipe(p, s, o, run, plain, c);
    return between;
}

/* The smallest Reynolds number of a run, from the flow below which one of them is LEAST_REYNOLDS. */
V_INLINE vreal least_reynolds(const vent__packet *p, int k, int o, vreal size)
{
    return size * LEAST_REYNOLDS / get(p->creeping, k, o);
}

/* Expands the friction of a run about its flow, which lies near the origin so far; tells which lanes have
 * no series. */
V_INLINE vmask expand_run(vent__packet *p, int k, int o)
{
    vreal flow = get(p->flow, k, o), size = v_abs(flow), origin = get(p->origin, k, o);
    v_run run = {.size = size, .moved = (flow - origin) / origin, .way = way_of(flow)};
    run.far = V_NOT(v_abs(run.moved) <= NEAR);
    run.some_far = v_any(run.far);
    vmask low = V_NOT(least_reynolds(p, k, o, size) > VENT__REYNOLDS_TURBULENT * (1 + 2 * MARGIN));
    vreal c[VENT__ORDERS] = {v_all(0), v_all(0), v_all(0), v_all(0), v_all(0)};
    vmask between = run.some_far || run.way.some || v_any(low)
                        ? expand_pipes(p, k, o, &run, false, c)
                        : expand_pipes(p, k, o, &run, true, c);
    put(p->origin, k, o, flow);
    put(p->per_origin, k, o, 1 / flow);
    for (int i = 0; i < VENT__ORDERS; ++i)
        put(p->order[i], k, o, flow * size * c[i]);
    return between;
}

/* The run's law from its series; *far is how far from the origin it is asked for. */
V_INLINE v_law series_run(const vent__packet *p, int k, int o, vreal flow, vreal *far)
{
    v_way way = way_of(flow);
    vreal size = v_abs(flow), per_flow = get(p->per_origin, k, o);
    vreal k0 = by_way(p->fixed, k, o, way), k1 = by_way(p->linear, k, o, way);
    vreal s = (flow - get(p->origin, k, o)) * per_flow;
    vreal c0 = get(p->order[0], k, o), c1 = get(p->order[1], k, o), c2 = get(p->order[2], k, o),
          c3 = get(p->order[3], k, o), c4 = get(p->order[4], k, o);
    *far = v_abs(s);
    return (v_law){c0 + s * (c1 + s * (c2 + s * (c3 + s * c4))) + flow * (size * k0 + k1),
                   (c1 + s * (2 * c2 + s * (3 * c3 + s * (4 * c4)))) * per_flow + 2 * size * k0 +
                       k1};
}

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
        vreal momentum = momentum_at(p, k, o), combined = get(p->flow, k, o);
        vreal per_area = get(p->per_area, k, o), inertia = get(p->inertia, k, o);
        vreal factor = get(p->factor, k, o);
        for (EACH_LEG(p->program, k, j))
            joint_law(p, j, o, combined, per_area, inertia, factor, momentum);
    }
}

/* Before a junction's laws are asked for, they are nothing. */
V_INLINE void still_joints(vent__packet *p, int o)
{
    vent__row *const rows[] = {p->joint, p->by_leg, p->by_combined, p->by_axial, p->axial};
    for (int k = 0; k < p->program->runs; ++k)
        for (int i = 0; i < 5; ++i)
            put(rows[i], k, o, v_all(0));
}

/* Lanes in which all air goes forward at junctions with losses. */
V_INLINE vmask all_join(const vent__packet *p, int o)
{
    const vent__program *program = p->program;
    vmask good = v_all(0) == v_all(0);
    for (int k = 0; k < program->runs - 1; ++k)
        if (p->is_lossy[program->next[k]])
            good &= get(p->flow, k, o) > 0;
    return good;
}

/* ---- pressures and sweeps --------------------------------------------------------------------- */

typedef struct v_rest {
    vreal left_over, scale;
} v_rest;

/* Pressures from the discharge down; what is left over at the suction points goes to source. */
V_INLINE v_rest pressures(vent__packet *p, int o, soil_law soil_of, vreal drive)
{
    const vent__program *program = p->program;
    v_rest rest = {v_all(0), v_larger(v_all(LEAST_SCALE), drive)};
    for (int k = program->runs - 1; k >= 0; --k) {
        int next = program->next[k];
        vreal loss = get(p->loss, k, o), lift = get(p->lift, k, o);
        vreal end =
            next < 0 ? v_load(&p->wind.lane[o]) : get(p->start, next, o) + get(p->joint, k, o);
        vreal start = end + loss;
        put(p->start, k, o, start);
        rest.scale = v_larger(v_larger(rest.scale, v_abs(end)), v_abs(start));
        rest.scale = v_larger(v_larger(rest.scale, v_abs(lift)), v_abs(loss + lift));
        if (is_leaf(p, k)) {
            v_law soil = soil_of(p, k, o, get(p->flow, k, o));
            vreal source = -soil.value - start;
            put(p->source, k, o, source);
            put(p->source_slope, k, o, soil.slope);
            rest.left_over = v_larger(rest.left_over, v_abs(source));
        }
    }
    return rest;
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
    for (int k = 0; k < p->program->runs; ++k) {
        if (!is_leaf(p, k)) {
            if (p->is_lossy[k])
                gather_joined(p, k, o);
            else
                gather_lossless(p, k, o);
        }
        put(p->weight, k, o,
            1 / (get(p->source_slope, k, o) + get(p->slope, k, o) + get(p->by_leg, k, o)));
    }
}

V_INLINE void spread(vent__packet *p, int k, int o)
{
    vreal step = get(p->step, k, o);
    vreal node = get(p->source, k, o) - get(p->source_slope, k, o) * step;
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
    put(p->step, root, o, get(p->weight, root, o) * get(p->source, root, o));
    for (int k = root; k >= 0; --k)
        if (!is_leaf(p, k))
            spread(p, k, o);
}

/* Moves the lanes of the mask by Newton's step; every flow is the sum of what feeds it. Gives the
 * largest step over the flow it leads to. */
V_INLINE vreal move(vent__packet *p, int o, vmask moving)
{
    const vent__program *program = p->program;
    vreal largest = v_all(0);
    for (int k = 0; k < program->runs; ++k) {
        vreal flow = v_all(0), step = get(p->step, k, o);
        if (is_leaf(p, k)) {
            vreal before = get(p->flow, k, o);
            flow = v_select(moving, before + step, before);
        } else {
            for (EACH_LEG(program, k, j))
                flow += get(p->flow, j, o);
        }
        put(p->flow, k, o, flow);
        largest = v_larger(largest, v_abs(step / flow));
    }
    return largest;
}

V_INLINE vreal newton_step(vent__packet *p, int o, vmask moving)
{
    sweep_up(p, o);
    sweep_down(p, o);
    return move(p, o, moving);
}

/* ---- the way to the point ---------------------------------------------------------------------- */

/* Nothing, with the secant at an ordinary flow as the slope. */
V_INLINE v_law soil_at_rest(const vent__packet *p, int k, int o, vreal flow)
{
    vreal reference = get(p->reference, k, o);
    return (v_law){0 * flow, cheap_soil(p, k, o, reference).value / reference};
}

/* Secants of every law at one velocity, fans from shut-off to free delivery, as in equations.c. */
V_INLINE void secant_flows(vent__packet *p, int o)
{
    const vent__program *program = p->program;
    still_joints(p, o);
    for (int k = 0; k < program->runs; ++k) {
        vreal reference = get(p->reference, k, o);
        v_law secant = {-get(p->lift, k, o), reference * get(p->crude[VENT__ALONG], k, o) +
                                                 get(p->linear[VENT__ALONG], k, o)};
        for (int i = program->first_fan[k]; i < program->first_fan[k + 1]; ++i) {
            vent__lane_fan *fan = &p->fan[i];
            vreal shut_off = fan->shut_off * get(&fan->lift, 0, o);
            secant.value -= shut_off;
            secant.slope += shut_off * get(&fan->per_kg, 0, o) * (1 / fan->most);
        }
        put(p->flow, k, o, v_all(0));
        put(p->loss, k, o, secant.value);
        put(p->slope, k, o, secant.slope);
    }
    pressures(p, o, soil_at_rest, v_all(0));
    newton_step(p, o, v_all(0) == v_all(0));
}

V_INLINE void given_flows(vent__packet *p, int o)
{
    still_joints(p, o);
    for (int k = 0; k < p->program->runs; ++k)
        put(p->flow, k, o, v_all(p->first[k]));
}

typedef v_law run_law(vent__packet *p, int k, int o, vreal flow, vmask moving);

/* One of Newton's steps by this law of the runs, with the junctions' losses as they were last. */
V_INLINE vreal step_by(vent__packet *p, int o, run_law law, vmask moving)
{
    vreal drive = v_all(0);
    for (int k = 0; k < p->program->runs; ++k) {
        vreal flow = get(p->flow, k, o);
        v_law run = law(p, k, o, flow, moving);
        run.value -= get(p->lift, k, o);
        drive = v_larger(drive, add_fans(p, k, o, flow, &run));
        put(p->loss, k, o, run.value);
        put(p->slope, k, o, run.slope);
    }
    pressures(p, o, cheap_soil, drive);
    return newton_step(p, o, moving);
}

/* Puts the lanes aside that have come to rest. */
V_INLINE void set_aside(vent__packet *p, int o, vmask resting)
{
    for (int k = 0; k < p->program->runs; ++k) {
        put(p->found_flow, k, o, v_select(resting, get(p->flow, k, o), get(p->found_flow, k, o)));
        put(p->found_start, k, o,
            v_select(resting, get(p->start, k, o), get(p->found_start, k, o)));
    }
    put(&p->is_found, 0, o, v_select(resting, v_all(1), get(&p->is_found, 0, o)));
}

/* Laws and pressures from the series; the lanes in which nothing is left over, within their reach. */
V_INLINE vmask at_rest(vent__packet *p, int o)
{
    vreal drive = v_all(0), farthest = v_all(0);
    vmask moving_air = v_all(0) == v_all(0);
    for (int k = 0; k < p->program->runs; ++k) {
        vreal flow = get(p->flow, k, o), far;
        v_law run = series_run(p, k, o, flow, &far);
        farthest = v_larger(farthest, far);
        moving_air &= v_abs(flow) >= get(p->creeping, k, o);
        run.value -= get(p->lift, k, o);
        drive = v_larger(drive, add_fans(p, k, o, flow, &run));
        put(p->loss, k, o, run.value);
        put(p->slope, k, o, run.slope);
    }
    joint_laws(p, o);
    v_rest rest = pressures(p, o, series_soil, drive);
    return (rest.left_over <= TOLERANCE * rest.scale) & (farthest <= REACH) & moving_air &
           all_join(p, o);
}

/* ---- all vectors of a packet ------------------------------------------------------------------ */

/* The vectors of a packet go through each stage together, so that while one waits for the other's long
 * chain of operations the processor has something to do. */
enum { VECTORS = VENT__PACK / VENT_LANES };

typedef struct v_lanes {
    vmask of[VECTORS];
} v_lanes;

#define EACH_VECTOR(i)                                                                             \
    int i = 0;                                                                                     \
    i < VECTORS;                                                                                   \
    ++i

V_INLINE int some(const v_lanes *lanes)
{
    int any = 0;
    for (EACH_VECTOR(i))
        any |= v_any(lanes->of[i]);
    return any;
}

/* One of Newton's steps from cheap friction; keeps the lanes that are not near yet. */
V_INLINE void step_cheaply(vent__packet *p, v_lanes *far)
{
    for (EACH_VECTOR(i))
        if (v_any(far->of[i])) {
            vreal step = step_by(p, i * VENT_LANES, cheap_run, far->of[i]);
            far->of[i] &= V_NOT(step <= NEAR);
        }
}

/* Expands all laws about the present flows; gives the lanes that have no series. */
V_INLINE void expand(vent__packet *p, const v_lanes *moving, v_lanes *between)
{
    for (EACH_VECTOR(i)) {
        between->of[i] = v_none();
        if (!v_any(moving->of[i]))
            continue;
        for (int k = 0; k < p->program->runs; ++k) {
            between->of[i] |= expand_run(p, k, i * VENT_LANES);
            if (is_leaf(p, k))
                expand_soil(p, k, i * VENT_LANES);
        }
    }
}

/* Newton's steps along the series about the present flows; keeps the lanes that still move. */
V_INLINE void follow_series(vent__packet *p, v_lanes *moving)
{
    v_lanes between, stepping = *moving;
    expand(p, moving, &between);
    for (int n = 0; n < SERIES_STEPS && some(&stepping); ++n) {
        for (EACH_VECTOR(i)) {
            int o = i * VENT_LANES;
            if (!v_any(stepping.of[i]))
                continue;
            vmask resting = at_rest(p, o) & stepping.of[i];
            if (v_any(resting))
                set_aside(p, o, resting);
            moving->of[i] &= V_NOT(resting);
            stepping.of[i] &= V_NOT(resting);
        }
        for (EACH_VECTOR(i)) {
            if (v_any(stepping.of[i]))
                newton_step(p, i * VENT_LANES, stepping.of[i]);
            stepping.of[i] &= V_NOT(between.of[i]); /* their law is right at its origin only */
        }
    }
}

void ISA(vent__packet_solve)(vent__packet *packet)
{
    vent__packet *p = packet;
    v_lanes moving;
    for (EACH_VECTOR(i)) {
        moving.of[i] = v_all(0) == v_all(0);
        put(&p->is_found, 0, i * VENT_LANES, v_all(0));
        if (p->first)
            given_flows(p, i * VENT_LANES);
        else
            secant_flows(p, i * VENT_LANES);
    }
    for (EACH_VECTOR(i))
        if (!p->first)
            step_by(p, i * VENT_LANES, crude_run, moving.of[i]);
    v_lanes far = moving;
    for (int n = 0; n < CHEAP_STEPS && some(&far); ++n) {
        for (EACH_VECTOR(i))
            if (n > 0)
                joint_laws(p, i * VENT_LANES);
        step_cheaply(p, &far);
    }
    for (int n = 0; n < SERIES && some(&moving); ++n)
        follow_series(p, &moving);
}
