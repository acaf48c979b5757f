/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Formulas for wyes and tees, as their authors print them. To add a source, add a formula and a row.
 *
 * q is the branch's share of the combined flow, f its area over the combined pipe's, v = q/f its
 * velocity over the combined one. */
#include "physics/junction_sources.h"

#include <math.h>
#include <ventstack/units.h>

#include "base/source_list.h"

static double squared(double x)
{
    return x * x;
}

/* Straight lines through points, level beyond the ends. */
static double between(int n, const double *x, const double *y, double at)
{
    if (at <= x[0])
        return y[0];
    for (int i = 1; i < n; ++i)
        if (at <= x[i])
            return y[i - 1] + (y[i] - y[i - 1]) * (at - x[i - 1]) / (x[i] - x[i - 1]);
    return y[n - 1];
}

/* ---- Idelchik --------------------------------------------------------------------------------- */

/* Table 7-1; Crane's table 2-1 is the same. */
static double joining_factor(double f, double q)
{
    return f <= 0.35 ? 1 : q <= 0.4 ? 0.9 * (1 - q) : 0.55;
}

/* Equations 7-1 and 7-2 with table 7-3. */
static double idelchik_joining(const vent__wye *w)
{
    double q = w->share, f = w->area, cosine = cos(w->angle);
    double k = 1 + squared(q / f) - 2 * squared(1 - q) - 2 * cosine * q * q / f;
    if (!w->straight)
        return joining_factor(f, q) * k;
    double drag = f <= 0.35 || q > 0.6 ? 0.8 * q : 0.5;
    return 1 - squared(1 - q) - (1.4 - q) * q * q * sin(w->angle) - 2 * drag * q * cosine / f;
}

/* ---- Crane ------------------------------------------------------------------------------------ */

/* A wye is one of Crane's up to 60 degrees, a tee at 90; between them the reference program sets this. */
static bool is_tee(const vent__wye *w)
{
    return w->angle >= VENT_RADIANS(75);
}

/* Twice the cosine, as printed. */
static double crane_drag(const vent__wye *w)
{
    static const double angle[] = {VENT_RADIANS(30), VENT_RADIANS(45), VENT_RADIANS(60),
                                   VENT_RADIANS(90)};
    static const double drag[] = {1.74, 1.41, 1, 0};
    return between(w->straight ? 3 : 4, angle, drag, w->angle);
}

static double crane_joining(const vent__wye *w)
{
    double q = w->share, f = w->area, rest = squared(1 - q);
    double carried = crane_drag(w) * q * q / f;
    if (!w->straight)
        return joining_factor(f, q) * (1 + squared(q / f) - 2 * rest - carried);
    return is_tee(w) ? 1.55 * q - q * q : 1 - rest - carried;
}

static double crane_dividing_factor(const vent__wye *w)
{
    double q = w->share, f = w->area;
    if (is_tee(w))
        return f <= 2.0 / 3 ? 1 : 1 + 0.3 * q * q;
    if (f <= 0.35)
        return q <= 0.4 ? 1.1 - 0.7 * q : 0.85;
    return q <= 0.6 ? 1 - 0.6 * q : 0.6;
}

static double crane_dividing(const vent__wye *w)
{
    double q = w->share, f = w->area, v = q / f;
    if (w->straight)
        return (f <= 0.4 ? 0.4 : (q <= 0.5 ? 2 : 0.3) * (2 * q - 1)) * q * q;
    bool wide_tee = is_tee(w) && sqrt(f) > 2.0 / 3; /* printed for equal bores */
    double turned = wide_tee ? 0.3 * v * v : v * v - 2 * v * cos(w->angle);
    return crane_dividing_factor(w) * (1 + turned);
}

/* ---- Gardel ----------------------------------------------------------------------------------- */

/* Sharp edges: his radius is zero. */
static double gardel_joining(const vent__wye *w)
{
    double q = w->share, f = w->area, turn = cos(w->angle) / f;
    double mixing = (2 - f) * q * (1 - q);
    if (w->straight)
        return 0.03 * squared(1 - q) - q * q * (1 + 1.62 * (turn - 1) - 0.38 * (1 - f)) + mixing;
    double own = 1.2 * (turn - 1) + 0.8 * (1 - 1 / (f * f)) - (1 - f) * turn;
    return -0.92 * squared(1 - q) - q * q * own + mixing;
}

static double gardel_dividing(const vent__wye *w)
{
    double q = w->share, f = w->area, turn = tan(w->angle / 2);
    if (w->straight)
        return 0.03 * squared(1 - q) + 0.35 * q * q - 0.2 * q * (1 - q);
    double own = 1.3 * turn - 0.3 + (0.4 - 0.1 * f) / (f * f);
    return 0.95 * squared(1 - q) + q * q * own + 0.4 * q * (1 - q) * (1 + 1 / f) * turn;
}

/* ---- all of them ------------------------------------------------------------------------------ */

static const struct {
    int32_t source;
    bool joins;
    double (*formula)(const vent__wye *);
    double least_angle, greatest_angle, least_area; /* as the author measured */
} AUTHOR[] = {
    {VENT__SOURCE_IDELCHIK_JOINING, true, idelchik_joining, VENT_RADIANS(15), VENT_RADIANS(90),
     0.1},
    {VENT__SOURCE_CRANE_JOINING, true, crane_joining, VENT_RADIANS(30), VENT_RADIANS(90), 0.1},
    {VENT__SOURCE_GARDEL_JOINING, true, gardel_joining, VENT_RADIANS(45), VENT_RADIANS(135), 0.4},
    {VENT__SOURCE_CRANE_PARTING, false, crane_dividing, VENT_RADIANS(30), VENT_RADIANS(90), 0.1},
    {VENT__SOURCE_GARDEL_PARTING, false, gardel_dividing, VENT_RADIANS(45), VENT_RADIANS(135), 0.4},
};
enum { AUTHORS = sizeof AUTHOR / sizeof *AUTHOR };

int vent__wye_formulas(const vent__wye *wye, vent_coefficient list[VENT__MOST_WYE_FORMULAS])
{
    const double rounding = 1e-9;
    int found = 0;
    for (int i = 0; i < AUTHORS; ++i)
        if (AUTHOR[i].joins == wye->joins) {
            bool covered = wye->angle >= AUTHOR[i].least_angle - rounding &&
                           wye->angle <= AUTHOR[i].greatest_angle + rounding &&
                           wye->area >= AUTHOR[i].least_area - rounding &&
                           wye->area <= 1 + rounding;
            list[found++] = (vent_coefficient){
                .value = AUTHOR[i].formula(wye),
                .source = AUTHOR[i].source,
                .flags = covered ? 0 : VENT_COEFFICIENT_GEOMETRY_OUTSIDE,
            };
        }
    return found;
}
