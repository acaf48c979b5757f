/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/fan_turns.h"

#include <math.h>

#include "physics/fan_parts.h"

/* Where the slope of a cubic, a + 2 b t + 3 c t^2, is zero, and where it is steepest, within its length. */
typedef struct bends {
    double at[3]; /* rising */
    int count;
} bends;

/* NaN where there is no such place: no comparison below holds for it. */
static double ratio(double a, double b)
{
    return b != 0 ? a / b : NAN;
}

static bends bends_of(const double *c, double length)
{
    double b = c[2], root = sqrt(b * b - 3 * c[3] * c[1]);
    double q = -(b + copysign(root, b)); /* no cancellation */
    const double any[] = {ratio(c[1], q), ratio(q, 3 * c[3]), ratio(-b, 3 * c[3])};
    bends all = {.count = 0};
    for (int i = 0; i < 3; ++i) {
        if (!(any[i] > 0 && any[i] < length))
            continue;
        int j = all.count++;
        for (; j > 0 && all.at[j - 1] > any[i]; --j)
            all.at[j] = all.at[j - 1];
        all.at[j] = any[i];
    }
    return all;
}

typedef struct row {
    size_t count, room;
    double *flow;
    double last;
} row;

static void add(row *r, double flow)
{
    if (r->count && !(flow > r->last))
        return;
    if (r->count < r->room)
        r->flow[r->count] = flow;
    r->last = flow;
    ++r->count;
}

size_t vent__fan_turns(const vent_fan *fan, size_t room, double *flow)
{
    const vent__curve *curve = fan->pressure;
    row r = {.room = room, .flow = flow};
    add(&r, curve->x[0]);
    for (size_t i = 1; i < curve->n; ++i) {
        bends within = bends_of(curve->piece[i].c, curve->x[i] - curve->x[i - 1]);
        for (int j = 0; j < within.count; ++j)
            add(&r, fmin(curve->x[i - 1] + within.at[j], curve->x[i]));
        add(&r, curve->x[i]);
    }
    return r.count;
}
