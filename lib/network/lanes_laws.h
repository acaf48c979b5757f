/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The laws of fans, soil and runs over cases side by side, for many_lanes.c alone.
 *
 * The first steps take friction from cheap logarithms. Then every pipe's friction is evaluated once
 * with all digits, as a series in the flow: with Y of friction_kernel.h, w = m / Y is so smooth that
 * four derivatives carry all digits over a change of flow of 0.5 %, and Newton's last steps need no
 * logarithm. With g = d ln Y / d ln Re, r = g Y, P = (1 - g) g r and h = 2 - 3 g, the loss of a pipe is
 * proportional to w^2, and over its present value that is in powers of s, the change of flow as a share,
 *
 *     1 + 2 (1 - g) s + ((1 - g)^2 - P) s^2 - P r h / 3 s^3
 *       + P r (h + (1 - r) (6 - 20 g + 15 g^2)) / 12 s^4.
 *
 * In laminar flow the loss is proportional to m. Between the regimes there is no such series; there each
 * step takes its own friction. */
#ifndef VENT_NETWORK_LANES_LAWS_H
#define VENT_NETWORK_LANES_LAWS_H

#include <math.h>

#include "network/many_lanes.h"
#include "numeric/curve.h"
#include "physics/friction_kernel.h"

/* TOLERANCE of the pressure scale, after which one more step is taken; the others as in equations.c */
static const double TOLERANCE = 1e-13, LEAST_SCALE = 1e-6, LEAST_REYNOLDS = 1e-3;

static const double REACH = 5e-3;  /* how far the series go, of the flow */
static const double NEAR = 0.05;   /* steps of this size need exact friction */
static const double MARGIN = 0.01; /* the series keep this clear of a change of regime */

/* Vectors are worked on two abreast: while one waits for the end of a long chain of operations, the
 * processor has the other's to do. */
enum { ABREAST = 2 };

_Static_assert(VENT__PIECES == V_TABLE, "the pieces of a curve are looked up in a table");

#define EACH_VECTOR(i, at, o)                                                                      \
    int i = 0, at = (o);                                                                           \
    i < ABREAST;                                                                                   \
    ++i, at += VENT_LANES

typedef struct v_masks {
    vmask of[ABREAST];
} v_masks;

/* The vector of lanes o ... o + VENT_LANES - 1 of a row. */
V_INLINE vreal get(const vent__row *row, int i, int o)
{
    return v_load(&row[i].lane[o]);
}

V_INLINE void put(vent__row *row, int i, int o, vreal v)
{
    v_store(&row[i].lane[o], v);
}

V_INLINE vmask v_none(void)
{
    return (vmask){0};
}

V_INLINE vmask v_every(void)
{
    return v_all(0) == v_all(0);
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

/* A long curve is searched in one lane after the other. */
static void search_pieces(vent__lane_fan *fan, int o, vreal x)
{
    double at[VENT_LANES], piece[VENT__PIECE];
    v_store(at, x);
    for (int i = 0; i < VENT_LANES; ++i) {
        vent__piece_of(fan->curve, vent__curve_piece(fan->curve, at[i]), piece);
        for (int j = 0; j < VENT__PIECE; ++j)
            fan->piece[j].lane[o + i] = piece[j];
    }
}

/* Puts the lanes on the pieces of a fan's curve that hold x. */
static void find_pieces(vent__lane_fan *fan, int o, vreal x)
{
    vmask number = v_none();
    if (!fan->is_short) {
        search_pieces(fan, o, x);
        return;
    }
    for (size_t k = 0; k < fan->curve->n; ++k)
        number = v_tally(number, x >= fan->curve->x[k]);
    for (int j = 0; j < VENT__PIECE; ++j)
        put(&fan->piece[j], 0, o, v_lookup(fan->table[j], number));
}

V_INLINE v_law fan_of(vent__lane_fan *fan, int o, vreal flow)
{
    vreal per_kg = get(&fan->per_kg, 0, o), lift = get(&fan->lift, 0, o), x = flow * per_kg;
    vmask inside = (x >= get(fan->piece, VENT__LOW, o)) & (x < get(fan->piece, VENT__HIGH, o));
    if (v_any(V_NOT(inside)))
        find_pieces(fan, o, x);
    const vent__row *c = &fan->piece[VENT__CUBIC];
    vreal t = x - get(fan->piece, VENT__FROM, o);
    vreal c0 = get(c, 0, o), c1 = get(c, 1, o), c2 = get(c, 2, o), c3 = get(c, 3, o);
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
    vreal power[ABREAST];
    if (p->soil[k][0].law == VENT_SOIL_TWO_TERM)
        return;
    for (EACH_VECTOR(i, at, o)) {
        vreal x = v_max(v_abs(get(p->flow, k, at)) * get(p->soil_a, k, at), v_all(DBL_MIN));
        power[i] = v_pow(x, get(p->soil_b, k, at));
    }
    for (EACH_VECTOR(i, at, o))
        put(p->soil_order, k, at, power[i]);
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
        drive = v_max(drive, v_abs(fan.value));
        run->value -= fan.value;
        run->slope -= fan.slope;
    }
    return drive;
}

/* A run in the lanes of one vector. */
typedef struct v_run {
    vreal flow, size, moved; /* moved from the origin, as a share */
    v_way way;
    vmask far; /* lanes that moved too far from where Y is known */
} v_run;

typedef struct v_runs {
    v_run of[ABREAST];
    bool plain; /* in no lane is the air but turbulent, or does it go back, or come from far */
} v_runs;

/* Whether some Reynolds number of a run is not clearly turbulent, from the flow below which one of them is
 * LEAST_REYNOLDS. */
V_INLINE vmask is_low(const vent__packet *p, int k, int o, vreal size)
{
    const double least = VENT__REYNOLDS_TURBULENT * (1 + 2 * MARGIN) / LEAST_REYNOLDS;
    return V_NOT(size > least * get(p->creeping, k, o));
}

V_INLINE v_runs look_at(const vent__packet *p, int k, int o, bool has_origin)
{
    v_runs runs;
    vmask odd = v_none();
    for (EACH_VECTOR(i, at, o)) {
        v_run *run = &runs.of[i];
        run->flow = get(p->flow, k, at);
        run->size = v_abs(run->flow);
        run->way = way_of(run->flow);
        odd |= run->way.back | is_low(p, k, at, run->size);
        if (has_origin) {
            vreal origin = get(p->origin, k, at);
            run->moved = (run->flow - origin) / origin;
            run->far = V_NOT(v_abs(run->moved) <= NEAR);
            odd |= run->far;
        }
    }
    runs.plain = !v_any(odd);
    return runs;
}

V_INLINE vreal friction_by_way(const vent__packet *p, int s, int o, const v_run *run, bool plain)
{
    return plain ? get(p->friction[VENT__ALONG], s, o) : by_way(p->friction, s, o, run->way);
}

typedef void run_law(vent__packet *p, int k, int o, const v_masks *moving, v_law law[ABREAST]);

/* m (|m| k + k1), with one friction factor for all pipes in k. */
V_INLINE void crude_run(vent__packet *p, int k, int o, const v_masks *moving, v_law law[ABREAST])
{
    (void)moving;
    for (EACH_VECTOR(i, at, o)) {
        vreal flow = get(p->flow, k, at);
        v_way way = way_of(flow);
        vreal k0 = by_way(p->crude, k, at, way), k1 = by_way(p->linear, k, at, way);
        vreal part = v_abs(flow) * k0;
        law[i] = (v_law){flow * (part + k1), 2 * part + k1};
    }
}

/* Friction of two digits: f, d ln (f m^2) / d ln m, Y and its g. */
typedef struct v_cheap {
    vreal f, slope, y, g;
} v_cheap;

V_INLINE v_cheap cheap_friction(vreal re, vreal roughness, bool plain)
{
    vreal x = (plain ? re : v_max(v_all(VENT__REYNOLDS_LAMINAR), re)) * VENT__COLEBROOK_X;
    vreal b = x * roughness * (1 / 3.7);
    vreal y = v_colebrook_start(x, b), z1 = b + y + 1;
    vreal over = 1 / (y * z1), inverse = over * z1, g = over * y; /* one division for both */
    v_cheap pipe = {VENT__COLEBROOK_F * inverse * inverse, 2 - 2 * g, y, g};
    vmask laminar = re < VENT__REYNOLDS_LAMINAR;
    if (!plain && v_any(laminar)) {
        pipe.f = v_select(laminar, 64 / v_max(re, v_all(VENT__REYNOLDS_LEAST)), pipe.f);
        pipe.slope = v_select(laminar, v_all(1), pipe.slope);
    }
    return pipe;
}

typedef struct v_sum {
    vreal loss, rise;
} v_sum;

/* Adds a pipe's friction to a run's sums. Leaves Y and g in the lanes that move, to start from the next
 * time. */
V_INLINE void add_cheap_pipe(vent__packet *p, int s, int o, const v_runs *runs, bool plain,
                             const v_masks *moving, v_sum sum[ABREAST])
{
    v_cheap pipe[ABREAST];
    for (EACH_VECTOR(i, at, o))
        pipe[i] = cheap_friction(get(p->reynolds, s, at) * runs->of[i].size,
                                 get(p->roughness, s, at), plain);
    for (EACH_VECTOR(i, at, o)) {
        vreal part = friction_by_way(p, s, at, &runs->of[i], plain) * pipe[i].f;
        sum[i].loss += part;
        sum[i].rise += part * pipe[i].slope;
        put(p->y, s, at, v_select(moving->of[i], pipe[i].y, get(p->y, s, at)));
        put(p->g, s, at, v_select(moving->of[i], pipe[i].g, get(p->g, s, at)));
    }
}

V_INLINE void cheap_run(vent__packet *p, int k, int o, const v_masks *moving, v_law law[ABREAST])
{
    v_runs runs = look_at(p, k, o, false);
    v_sum sum[ABREAST];
    vreal k1[ABREAST];
    for (EACH_VECTOR(i, at, o)) {
        const v_run *run = &runs.of[i];
        vreal k0 = by_way(p->fixed, k, at, run->way);
        k1[i] = by_way(p->linear, k, at, run->way);
        sum[i] = (v_sum){k0, 2 * k0};
        put(p->origin, k, at, v_select(moving->of[i], run->flow, get(p->origin, k, at)));
    }
    int begin = p->first_pipe[k], end = p->first_pipe[k + 1];
    for (int s = begin; s < end && runs.plain; ++s)
        add_cheap_pipe(p, s, o, &runs, true, moving, sum);
    for (int s = begin; s < end && !runs.plain; ++s)
        add_cheap_pipe(p, s, o, &runs, false, moving, sum);
    for (EACH_VECTOR(i, at, o)) {
        const v_run *run = &runs.of[i];
        law[i] =
            (v_law){run->flow * (run->size * sum[i].loss + k1[i]), run->size * sum[i].rise + k1[i]};
    }
}

/* ---- series ---------------------------------------------------------------------------------- */

/* Sums over pipes of the orders in the head of this file, less the numbers that stand before them. */
typedef struct v_orders {
    vreal c[VENT__ORDERS];
} v_orders;

static const double ORDER[VENT__ORDERS] = {1, 2, 1, -1.0 / 3, 1.0 / 12};

/* Adds a pipe in turbulent flow, `part` its loss. */
V_INLINE void add_turbulent(v_orders *sum, vreal part, v_colebrook at)
{
    vreal g = at.g, r = g * at.y, g1 = 1 - g, r1 = 1 - r, h = 2 - 3 * g, power = g1 * g * r;
    vreal third = part * (power * r);
    sum->c[0] += part;
    sum->c[1] += part * g1;
    sum->c[2] += part * (g1 * g1 - power);
    sum->c[3] += third * h;
    sum->c[4] += third * (h + r1 * (6 + g * (15 * g - 20)));
}

/* The same where some lanes are not in turbulent flow: theirs is their own friction. */
V_INLINE void add_any(v_orders *sum, vreal kf, vreal part, v_colebrook at, vreal re,
                      vreal roughness)
{
    vmask low = re < VENT__REYNOLDS_TURBULENT * (1 + MARGIN);
    vreal none = v_all(0);
    add_turbulent(sum, v_select(low, none, part), at);
    if (v_any(low)) {
        v_friction exact = v_friction_all(re, roughness);
        part = v_select(low, kf * exact.factor, none);
        sum->c[0] += part;
        sum->c[1] += part * (1 + 0.5 * exact.slope);
    }
}

/* Where the air of a lane is between the regimes, or nearly. */
V_INLINE vmask is_between(vreal re)
{
    return (re > VENT__REYNOLDS_LAMINAR * (1 - MARGIN)) &
           (re < VENT__REYNOLDS_TURBULENT * (1 + MARGIN));
}

/* Y and g of one pipe with all digits, from near where they are known or from the start. */
V_INLINE void settle_pipe(vent__packet *p, int s, int o, const v_runs *runs, bool plain)
{
    v_colebrook pipe[ABREAST];
    for (EACH_VECTOR(i, at, o)) {
        const v_run *run = &runs->of[i];
        vreal re = get(p->reynolds, s, at) * run->size, y = get(p->y, s, at);
        vreal x = (plain ? re : v_max(v_all(VENT__REYNOLDS_LAMINAR), re)) * VENT__COLEBROOK_X;
        vreal b = x * get(p->roughness, s, at) * (1 / 3.7);
        vreal y0 = y + y * (run->moved * get(p->g, s, at));
        if (!plain)
            y0 = v_select(run->far, v_colebrook_start(x, b), y0);
        pipe[i] = v_colebrook_finish(x, b, y0);
    }
    for (EACH_VECTOR(i, at, o)) {
        put(p->y, s, at, pipe[i].y);
        put(p->g, s, at, pipe[i].g);
    }
}

/* Its series. */
V_INLINE void add_pipe(vent__packet *p, int s, int o, const v_runs *runs, bool plain,
                       v_orders sum[ABREAST], v_masks *between)
{
    for (EACH_VECTOR(i, at, o)) {
        v_colebrook pipe = {get(p->y, s, at), get(p->g, s, at)};
        vreal kf = friction_by_way(p, s, at, &runs->of[i], plain);
        vreal part = kf * (VENT__COLEBROOK_F / (pipe.y * pipe.y));
        if (plain) {
            add_turbulent(&sum[i], part, pipe);
        } else {
            vreal re = get(p->reynolds, s, at) * runs->of[i].size;
            add_any(&sum[i], kf, part, pipe, re, get(p->roughness, s, at));
            between->of[i] |= is_between(re);
        }
    }
}

/* Y of all pipes first: as a loop of its own it leaves room for other pipes' operations while one waits. */
V_INLINE void expand_pipes(vent__packet *p, int k, int o, const v_runs *runs, bool plain,
                           v_orders sum[ABREAST], v_masks *between)
{
    for (int s = p->first_pipe[k]; s < p->first_pipe[k + 1]; ++s)
        settle_pipe(p, s, o, runs, plain);
    for (int s = p->first_pipe[k]; s < p->first_pipe[k + 1]; ++s)
        add_pipe(p, s, o, runs, plain, sum, between);
}

/* Expands the friction of a run about its flow, which lies near the origin so far; marks the lanes that
 * have no series. */
V_INLINE void expand_run(vent__packet *p, int k, int o, v_masks *between)
{
    v_runs runs = look_at(p, k, o, true);
    v_orders sum[ABREAST];
    for (int i = 0; i < ABREAST; ++i)
        for (int j = 0; j < VENT__ORDERS; ++j)
            sum[i].c[j] = v_all(0);
    if (runs.plain)
        expand_pipes(p, k, o, &runs, true, sum, between);
    else
        expand_pipes(p, k, o, &runs, false, sum, between);
    for (EACH_VECTOR(i, at, o)) {
        vreal flow = runs.of[i].flow, square = flow * runs.of[i].size;
        put(p->origin, k, at, flow);
        put(p->per_origin, k, at, 1 / flow);
        for (int j = 0; j < VENT__ORDERS; ++j)
            put(p->order[j], k, at, square * (sum[i].c[j] * ORDER[j]));
    }
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

#endif
