/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a junction's law and its slopes are both made of. */
#ifndef VENT_PHYSICS_JUNCTION_PARTS_H
#define VENT_PHYSICS_JUNCTION_PARTS_H

#include <math.h>

#include "physics/laws.h"

/* ---- the frame ------------------------------------------------------------------------------ */

/* Parts of a leg's direction along the combined pipe's axis, and across it. */
static inline double axial(const vent__meeting *meeting, const vent__leg *leg)
{
    return leg->straight ? 1 : meeting->cosine;
}

static inline double lateral(const vent__meeting *meeting, const vent__leg *leg)
{
    return leg->side * meeting->sine;
}

/* ---- what measurements add ------------------------------------------------------------------ */

static inline double clamp(double x)
{
    return fmin(fmax(x, 0), 1);
}

/* A coefficient with its derivatives by the leg's share q of the air that goes through, and by the
 * velocity `u` that air brings along the combined pipe, over the one it has if it all leaves there. */
typedef struct by_share {
    double k, by_q, by_u;
} by_share;

/* A number that rises with the share and stays at `most`. */
static inline vent__slope ramp(double rate, double q, double most)
{
    return rate * q < most ? (vent__slope){rate * q, rate} : (vent__slope){most, 0};
}

/* The tables know two kinds of wye: the straight leg as wide as the combined pipe (1), to which the
 * corrections belong, and the legs' areas adding up to it (0), where momentum theory stands. */
static inline double widening(const vent__meeting *meeting)
{
    double over = meeting->straight_area + meeting->branch_area - meeting->area;
    return meeting->branches ? clamp(over / meeting->branch_area) : 0;
}

/* The tables jump at a branch of 0.35 of the combined area; this goes from 0.2 to 0.5. */
static inline double wide_branch(double area_ratio)
{
    return clamp((area_ratio - 0.2) / 0.3);
}

/* 1 for branches that point along the combined pipe, up to 45 degrees; 0 for 90 degrees. */
static inline double slant(const vent__meeting *meeting)
{
    return clamp(sqrt(2) * meeting->cosine);
}

/* A branch's coefficient by momentum theory while all air leaves by the combined pipe. */
static inline by_share joining_branch(double f, double r, double q, double u)
{
    return (by_share){1 + r * q * q / (f * f) - 2 * u, 2 * r * q / (f * f), -2};
}

/* Idelchik, table 7-1: the branch's K times 0.9 (1 - q) up to a share of 0.4 and 0.55 from there,
 * joined here by a line from 1 at q = 0, where nothing but the static pressure can act. */
static const double JOINING_RATE = 0.45 / 0.4, JOINING_CAP = 0.45;

/* What a stream that divides loses by momentum theory: the square of its change of velocity, over
 * that of the combined pipe. */
static inline by_share dividing_leg(double cosine, double f, double r, double q)
{
    double v = q / f;
    return (by_share){1 - 2 * cosine * v + r * v * v, (2 * r * v - 2 * cosine) / f, 0};
}

/* What counts at a leg: its share of the air that goes the combined pipe's way, for the straight leg that of
 * all others; the velocity air brings; the combined pipe's velocity pressure [Pa], signed with its flow. */
typedef struct share_of_leg {
    double q, own, u, all, dynamic;
} share_of_leg;

static inline share_of_leg share_at(const vent__meeting *meeting, const vent__leg *leg,
                                    double leg_flow, double combined_flow, const double *sums)
{
    double through = sums[VENT__THROUGHPUT], way = combined_flow > 0 ? 1 : -1;
    double velocity = combined_flow / (meeting->density * meeting->area);
    double all =
        through / (meeting->density * meeting->area); /* were it all in the combined pipe */
    double own = fmax(way * leg_flow, 0) / through;
    return (share_of_leg){.q = leg->straight ? 1 - own : own,
                          .own = own,
                          .u = sums[VENT__AXIAL] / through / all,
                          .all = all,
                          .dynamic = way * velocity / meeting->area * combined_flow / 2};
}

/* The correction of a leg, with q and u of share_at(). */
by_share vent__junction_correction(const vent__meeting *meeting, const vent__leg *leg, bool joins,
                                   double q, double u);

/* ---- what moves ------------------------------------------------------------------------------ */

/* Below this velocity [m/s] its square is nothing, and ratios to it are not to be formed. */
static const double STILL = 1e-140;

static inline bool is_corrected(const vent__meeting *meeting)
{
    return meeting->law.source == 0;
}

/* kg/s in the combined pipe below which nothing moves */
static inline double moving(const vent__meeting *meeting)
{
    return STILL * meeting->density * meeting->area;
}

static inline bool moves(const vent__meeting *meeting, const double *sums)
{
    return meeting->law.law != VENT_JUNCTION_LOSSLESS && sums[VENT__THROUGHPUT] > moving(meeting);
}

static inline bool is_corrected_at(const vent__meeting *meeting, const vent__leg *leg,
                                   double combined_flow)
{
    return is_corrected(meeting) && !leg->aside && fabs(combined_flow) > moving(meeting);
}

#endif
