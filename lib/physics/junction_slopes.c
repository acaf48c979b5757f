/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a leg's loss answers the numbers of its junction: areas, densities, the angle, the factor. */
#include "physics/junction_parts.h"

/* ---- momentum theory ------------------------------------------------------------------------ */

vent__term vent__junction_term_by_angle(const vent__meeting *meeting, const vent__leg *leg,
                                        double flow)
{
    vent__term term = {0};
    if (flow > 0 && !leg->straight) {
        double momentum = flow / (leg->density * leg->area) * flow;
        term.value[VENT__AXIAL] = -meeting->sine * momentum;
        term.value[VENT__LATERAL] = leg->side * meeting->cosine * momentum;
    }
    return term;
}

static void momentum_slopes(const vent__meeting *meeting, const vent__leg *leg, double leg_flow,
                            double combined_flow, const double *sums, vent__leg_slopes *by)
{
    double through = sums[VENT__THROUGHPUT];
    double u = sums[VENT__AXIAL] / through, w = sums[VENT__LATERAL] / through;
    double per_area = combined_flow / meeting->area, velocity = per_area / meeting->density;
    by->combined_density = (combined_flow < 0 ? 1 : -1) * per_area * velocity / 2;
    by->combined_area = combined_flow < 0 ? per_area * velocity : -per_area * (velocity - u);
    per_area = leg_flow / leg->area;
    velocity = per_area / leg->density;
    if (leg_flow > 0) {
        by->density = -per_area * velocity / 2;
        by->area = -per_area * velocity;
        return;
    }
    double brought = u * axial(meeting, leg) + w * lateral(meeting, leg);
    by->density = per_area * velocity / 2;
    by->area = -per_area * (brought - velocity);
    if (!leg->straight)
        by->angle = per_area * (w * leg->side * meeting->cosine - u * meeting->sine);
}

/* ---- what measurements add ------------------------------------------------------------------ */

/* How a correction's coefficient answers its form. */
typedef struct by_form {
    double area, density; /* of the ratios f and r */
    double branch;        /* of the area ratio of a branch beside a straight leg */
    double widening, slant, cosine;
} by_form;

/* Of clamp(); at its corners, where many a junction stands, the mean of both sides: what one pipe does to two
 * junctions, or to two areas of one, then lies between what it does on either side. */
static double clamp_slope(double x)
{
    const double near = 1e-9; /* areas of one bore differ by rounding */
    if (fabs(x) < near || fabs(x - 1) < near)
        return 0.5;
    return x > 0 && x < 1 ? 1 : 0;
}

static double wide_branch_slope(double area_ratio)
{
    return clamp_slope((area_ratio - 0.2) / 0.3) / 0.3;
}

/* Of the widening, by what the junction opens over what its branches do. */
static double widening_slope(const vent__meeting *meeting)
{
    double over = meeting->straight_area + meeting->branch_area - meeting->area;
    return meeting->branches ? clamp_slope(over / meeting->branch_area) : 0;
}

static by_form joining_straight_by_form(const vent__meeting *meeting, double q)
{
    double wide = widening(meeting);
    return (by_form){.widening = -0.45 * q * (1 - slant(meeting) * q),
                     .slant = 0.45 * wide * q * q};
}

static by_form joining_branch_by_form(const vent__meeting *meeting, double f, double r, double q,
                                      double u)
{
    double wide = widening(meeting), share = ramp(JOINING_RATE, q, JOINING_CAP).value, v = q / f;
    double theory = joining_branch(f, r, q, u).k, part = -wide * wide_branch(f) * share;
    return (by_form){.area =
                         -wide * wide_branch_slope(f) * share * theory - 2 * part * r * v * v / f,
                     .density = part * v * v,
                     .widening = -wide_branch(f) * share * theory};
}

static by_form dividing_branch_by_form(const vent__meeting *meeting, double f, double r, double q)
{
    double wide = widening(meeting), slanted = slant(meeting), v = q / f, c = meeting->cosine;
    double share = ramp(0.6, q, 0.36).value, theory = dividing_leg(c, f, r, q).k;
    double part = -slanted * wide * wide_branch(f) * share;
    double kept = 0.5 + 0.2 * wide_branch(f), upright = -(1 - slanted) * v * v;
    return (by_form){
        .area = -slanted * wide * wide_branch_slope(f) * share * theory +
                2 * part * v * (c - r * v) / f +
                r * upright * (0.2 * wide_branch_slope(f) - 2 * kept / f),
        .density = part * v * v + kept * upright,
        .widening = -slanted * wide_branch(f) * share * theory,
        .slant = -wide * wide_branch(f) * share * theory + kept * r * v * v,
        .cosine = -2 * part * v,
    };
}

static by_form dividing_straight_by_form(const vent__meeting *meeting, double branch, double f,
                                         double r, double q)
{
    double wide = widening(meeting), most = 0.6 + 0.05 * wide * wide_branch(branch);
    double share = ramp(1 / 0.2, q, 1).value, v = (1 - q) / f;
    double theory = dividing_leg(1, f, r, 1 - q).k;
    double by_wide = -0.05 * share * theory - 0.2 * q * (1 - q);
    return (by_form){.area = -2 * most * share * v * (1 - r * v) / f,
                     .density = -most * share * v * v,
                     .branch = by_wide * wide * wide_branch_slope(branch),
                     .widening = by_wide * wide_branch(branch)};
}

static by_form correction_by_form(const vent__meeting *meeting, const vent__leg *leg, bool joins,
                                  double branch, double q, double u)
{
    double f = leg->area / meeting->area, r = meeting->density / leg->density;
    if (joins)
        return leg->straight ? joining_straight_by_form(meeting, q)
                             : joining_branch_by_form(meeting, f, r, q, u);
    return leg->straight ? dividing_straight_by_form(meeting, branch, f, r, q)
                         : dividing_branch_by_form(meeting, f, r, q);
}

static void add_correction_slopes(const vent__meeting *meeting, const vent__leg *leg,
                                  double leg_flow, double combined_flow, const double *sums,
                                  vent__leg_slopes *by)
{
    bool joins = combined_flow > 0;
    share_of_leg at = share_at(meeting, leg, leg_flow, combined_flow, sums);
    double f = leg->area / meeting->area, r = meeting->density / leg->density;
    double opened = meeting->branch_area, wide = widening(meeting);
    double branch = opened / fmax(meeting->branches, 1) / meeting->area;
    by_share c = vent__junction_correction(meeting, leg, joins, at.q, at.u);
    by_form form = correction_by_form(meeting, leg, joins, branch, at.q, at.u);
    double widens =
        opened > 0 ? form.widening * widening_slope(meeting) / opened : 0; /* by areas */
    double slants = -sqrt(2) * meeting->sine * clamp_slope(sqrt(2) * meeting->cosine);
    by->area += at.dynamic * form.area * f;
    by->density -= at.dynamic * form.density * r;
    by->combined_density += at.dynamic * (form.density * r + c.by_u * at.u - c.k);
    by->combined_area += at.dynamic * (c.by_u * at.u - 2 * c.k - form.area * f -
                                       form.branch * branch - widens * meeting->area);
    by->straight_area += at.dynamic * widens * meeting->straight_area;
    by->branch_area += at.dynamic * (form.branch * branch + widens * (1 - wide) * opened);
    by->angle += at.dynamic * (form.slant * slants - form.cosine * meeting->sine);
}

/* ---- the law -------------------------------------------------------------------------------- */

static vent__leg_slopes scaled_slopes(double factor, vent__leg_slopes by)
{
    return (vent__leg_slopes){.area = factor * by.area,
                              .density = factor * by.density,
                              .combined_area = factor * by.combined_area,
                              .combined_density = factor * by.combined_density,
                              .straight_area = factor * by.straight_area,
                              .branch_area = factor * by.branch_area,
                              .angle = factor * by.angle};
}

vent__leg_slopes vent__junction_slopes(const vent__meeting *meeting, const vent__leg *leg,
                                       double leg_flow, double combined_flow, const double *sums)
{
    vent__leg_slopes by = {0};
    if (!moves(meeting, sums))
        return by;
    momentum_slopes(meeting, leg, leg_flow, combined_flow, sums, &by);
    if (is_corrected_at(meeting, leg, combined_flow))
        add_correction_slopes(meeting, leg, leg_flow, combined_flow, sums, &by);
    by = scaled_slopes(meeting->law.factor, by);
    vent__meeting plain = *meeting;
    plain.law.factor = 1;
    by.factor = vent__junction_loss(&plain, leg, leg_flow, combined_flow, sums).loss;
    return by;
}
