/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The loss of each leg of a junction, for flow of any sign in any leg.
 *
 * The frame is momentum theory, which for two legs holds everywhere and never makes energy: joining streams mix
 * at one static pressure, a dividing stream loses the square of its change of velocity. It is a
 * quadratic form in the flows in each of the six sectors their signs make, and continuous between.
 * On it lie what measurements say it misses, while air leaves (or enters) by the combined pipe: a
 * share of that pipe's velocity pressure that depends on the ratio of the flows, vanishes where the
 * branch is shut, and stays what it is where the other leg is shut once that leg reverses. */
#include "physics/laws.h"
#include "base/fail.h"
#include "base/source_list.h"

#include <ventstack/units.h>

_Static_assert(sizeof(vent_junction) == 24, "vent_junction is frozen");

/* ---- a value with its derivatives by the leg's and the combined flow ------------------------ */

typedef struct value {
    double of, leg, combined;
} value;

static value number(double x)
{
    return (value){x, 0, 0};
}

static value scaled(double by, value a)
{
    return (value){by * a.of, by * a.leg, by * a.combined};
}

static value sum(value a, value b)
{
    return (value){a.of + b.of, a.leg + b.leg, a.combined + b.combined};
}

static value difference(value a, value b)
{
    return sum(a, scaled(-1, b));
}

static value product(value a, value b)
{
    return (value){a.of * b.of, a.leg * b.of + a.of * b.leg, a.combined * b.of + a.of * b.combined};
}

static value quotient(value a, value b)
{
    double ratio = a.of / b.of;
    return (value){ratio, (a.leg - ratio * b.leg) / b.of, (a.combined - ratio * b.combined) / b.of};
}

static value square(value a)
{
    return product(a, a);
}

/* ---- the junction --------------------------------------------------------------------------- */

/* Velocities of the straight leg and the branch are positive towards the junction, that of the
 * combined pipe away from it. Areas are ratios to the combined pipe's. */
typedef struct joint {
    value straight, branch, combined;
    double straight_area, branch_area, cosine;
} joint;

static joint joint_of(const vent__leg *leg, double leg_flow, double combined_flow)
{
    double rho = leg->density, other = combined_flow - leg_flow;
    value own = {leg_flow / (rho * leg->leg_area), 1 / (rho * leg->leg_area), 0};
    value rest = {other / (rho * leg->other_area), -1 / (rho * leg->other_area),
                  1 / (rho * leg->other_area)};
    value all = {combined_flow / (rho * leg->combined_area), 0, 1 / (rho * leg->combined_area)};
    double own_area = leg->leg_area / leg->combined_area;
    double rest_area = leg->other_area / leg->combined_area;
    return (joint){.straight = leg->straight ? own : rest,
                   .branch = leg->straight ? rest : own,
                   .combined = all,
                   .straight_area = leg->straight ? own_area : rest_area,
                   .branch_area = leg->straight ? rest_area : own_area,
                   .cosine = cos(leg->law.angle)};
}

/* ---- momentum theory ------------------------------------------------------------------------ */

/* Squared difference of two velocities whose directions have this cosine between them. */
static value change(value from, value to, double cosine)
{
    return sum(sum(square(from), square(to)), scaled(-2 * cosine, product(from, to)));
}

typedef struct heads {
    value straight, branch; /* total pressure over that of the combined pipe, in units of rho/2 */
} heads;

/* Both legs join into the combined pipe. */
static heads joining(const joint *j)
{
    value carried = sum(scaled(j->straight_area, square(j->straight)),
                        scaled(j->branch_area * j->cosine, square(j->branch)));
    value mixed = difference(square(j->combined), scaled(2, carried));
    return (heads){sum(mixed, square(j->straight)), sum(mixed, square(j->branch))};
}

static heads from_branch(const joint *j)
{
    value branch = change(j->branch, j->combined, j->cosine);
    return (heads){difference(branch, change(j->branch, j->straight, j->cosine)), branch};
}

static heads from_straight(const joint *j)
{
    value straight = change(j->straight, j->combined, 1);
    return (heads){straight, difference(straight, change(j->straight, j->branch, j->cosine))};
}

static heads from_combined(const joint *j)
{
    return (heads){scaled(-1, change(j->combined, j->straight, 1)),
                   scaled(-1, change(j->combined, j->branch, j->cosine))};
}

/* Branch and combined pipe join into the straight leg. */
static heads into_straight(const joint *j)
{
    value carried = scaled(
        1 / j->straight_area,
        difference(square(j->combined), scaled(j->branch_area * j->cosine, square(j->branch))));
    value mixed = difference(square(j->straight), scaled(2, carried));
    return (heads){scaled(-1, sum(mixed, square(j->combined))),
                   difference(square(j->branch), square(j->combined))};
}

/* Straight leg and combined pipe join into the branch. */
static heads into_branch(const joint *j)
{
    value carried =
        scaled(j->cosine / j->branch_area,
               difference(square(j->combined), scaled(j->straight_area, square(j->straight))));
    value mixed = difference(square(j->branch), scaled(2, carried));
    return (heads){difference(square(j->straight), square(j->combined)),
                   scaled(-1, sum(mixed, square(j->combined)))};
}

static heads momentum(const joint *j)
{
    double straight = j->straight.of, branch = j->branch.of;
    if (j->combined.of >= 0)
        return branch < 0 ? from_straight(j) : straight < 0 ? from_branch(j) : joining(j);
    return branch > 0 ? into_straight(j) : straight > 0 ? into_branch(j) : from_combined(j);
}

/* ---- what measurements add ------------------------------------------------------------------ */

static double clamp(double x)
{
    return fmin(fmax(x, 0), 1);
}

/* Branch flow over combined flow, kept between 0 and 1. */
static value share_of_branch(const joint *j)
{
    double share = j->branch_area * j->branch.of / j->combined.of;
    if (!(share > 0))
        return number(0);
    if (!(share < 1))
        return number(1);
    return quotient(scaled(j->branch_area, j->branch), j->combined);
}

/* The tables know two kinds of wye: the straight leg as wide as the combined pipe (1), to which the
 * corrections belong, and the legs' areas adding up to it (0), where momentum theory stands. */
static double widening(const joint *j)
{
    return clamp((j->straight_area + j->branch_area - 1) / j->branch_area);
}

/* The tables jump at a branch of 0.35 of the combined area; this goes from 0.2 to 0.5. */
static double wide_branch(const joint *j)
{
    return clamp((j->branch_area - 0.2) / 0.3);
}

/* 1 for branches that point along the combined pipe, up to 45 degrees; 0 for 90 degrees. */
static double slant(const joint *j)
{
    return clamp(sqrt(2) * j->cosine);
}

static value least(value a, double limit)
{
    return a.of < limit ? a : number(limit);
}

/* Momentum theory for joining flows, on the combined velocity pressure, by the branch's share. */
static value joining_branch(const joint *j, value q)
{
    value rest = difference(number(1), q);
    double f = j->branch_area;
    value k = sum(number(1), scaled(1 / (f * f) - 2 * j->cosine / f, square(q)));
    return difference(k, scaled(2 / j->straight_area, square(rest)));
}

/* Idelchik, table 7-1: the branch's K times 0.9 (1 - q) up to a share of 0.4 and 0.55 from there,
 * joined here by a line from 1 at q = 0, where nothing but the static pressure can act. */
static value joining_correction_branch(const joint *j, value q)
{
    value cut = scaled(-widening(j) * wide_branch(j), least(scaled(0.45 / 0.4, q), 0.45));
    return product(cut, joining_branch(j, q));
}

/* Idelchik's 1.55 q - q^2 of a right-angled tee is 0.45 q below momentum theory; a slanted branch
 * gains as much at a small share, and nothing alone. See idelchik_straight(). */
static value joining_correction_straight(const joint *j, value q)
{
    value fading = difference(number(1), scaled(slant(j), q));
    return scaled(-0.45 * widening(j), product(q, fading));
}

/* Crane: a slanted branch has the theory's loss times 1 - 0.6 q up to a share of 0.6; a
 * right-angled one keeps 0.3 of the branch's own velocity pressure. */
static value dividing_correction_branch(const joint *j, value q)
{
    value velocity = scaled(1 / j->branch_area, q); /* over the combined pipe's */
    value cut = scaled(-slant(j) * widening(j) * wide_branch(j), least(scaled(0.6, q), 0.36));
    value slanted = product(cut, change(number(1), velocity, j->cosine));
    return sum(slanted, scaled(-0.7 * (1 - slant(j)), square(velocity)));
}

/* Into a straight leg the slowing stream loses 0.4 of what a sudden expansion would. */
static value dividing_correction_straight(const joint *j, value q)
{
    value rest = scaled(1 / j->straight_area, difference(number(1), q));
    return scaled(-0.6, product(q, change(number(1), rest, 1)));
}

/* Below this velocity [m/s] its square is nothing, and ratios to it are not to be formed. */
static const double STILL = 1e-140;

static value correction(const joint *j, bool straight)
{
    if (!(fabs(j->combined.of) > STILL))
        return number(0);
    value q = share_of_branch(j);
    bool joins = j->combined.of > 0;
    value k = joins ? straight ? joining_correction_straight(j, q) : joining_correction_branch(j, q)
              : straight ? dividing_correction_straight(j, q)
                         : dividing_correction_branch(j, q);
    return scaled(joins ? 1 : -1, product(k, square(j->combined)));
}

/* ---- the law -------------------------------------------------------------------------------- */

static value momentum_head(const joint *j, bool straight)
{
    heads h = momentum(j);
    return straight ? h.straight : h.branch;
}

static value total_head(const joint *j, bool straight)
{
    return sum(momentum_head(j, straight), correction(j, straight));
}

static vent__leg_loss in_pascal(value head, const vent__leg *leg)
{
    value loss = scaled(leg->law.factor * leg->density / 2, head);
    return (vent__leg_loss){loss.of, loss.leg, loss.combined};
}

vent__leg_loss vent__junction_momentum(const vent__leg *leg, double leg_flow, double combined_flow)
{
    joint j = joint_of(leg, leg_flow, combined_flow);
    return in_pascal(momentum_head(&j, leg->straight), leg);
}

vent__leg_loss vent__junction_leg(const vent__leg *leg, double leg_flow, double combined_flow)
{
    if (leg->law.law == VENT_JUNCTION_LOSSLESS)
        return (vent__leg_loss){0, 0, 0};
    joint j = joint_of(leg, leg_flow, combined_flow);
    return in_pascal(total_head(&j, leg->straight), leg);
}

/* ---- value, uncertainty, source -------------------------------------------------------------- */

/* Idelchik's equation 7-2 as printed, for a branch of any angle into a straight pipe of one width.
 * For slanted branches as wide as the pipe the law follows it within 0.13, for narrow ones Crane,
 * who has momentum theory; as printed it makes energy (at 30 degrees, half the area and a tenth of
 * the flow 4 % of the power of the combined stream). How far it lies off is part of the
 * uncertainty. */
static double idelchik_straight(const joint *j, double q)
{
    double sine = sqrt(1 - j->cosine * j->cosine), drag = 0.8 * q;
    if (j->branch_area > 0.35)
        drag = fmax(drag, 0.5);
    return 2 * q - q * q - (1.4 - q) * q * q * sine - 2 * drag * q * j->cosine / j->branch_area;
}

static double half_spread(const joint *j, bool straight, double k)
{
    double q = share_of_branch(j).of;
    return straight && j->combined.of > 0 ? widening(j) * fabs(k - idelchik_straight(j, q)) / 2 : 0;
}

static double uncertainty_of(const joint *j, bool straight, double k)
{
    double plain = j->combined.of < 0 ? 0.2 : 0.1;
    return hypot(plain, hypot(0.2 * k, half_spread(j, straight, k)));
}

static bool inside(double x, double low, double high)
{
    return x >= low && x <= high;
}

static bool geometry_is_covered(const joint *j, double angle)
{
    return inside(angle, VENT_RADIANS(15), VENT_RADIANS(90) + 1e-9) &&
           inside(j->branch_area, 0.1, 1 + 1e-9) && inside(j->straight_area, 0.3, 1 + 1e-9);
}

vent_coefficient vent__junction_state(const vent__leg *leg, double leg_flow, double combined_flow)
{
    if (leg->law.law == VENT_JUNCTION_LOSSLESS)
        return (vent_coefficient){0, 0, VENT__SOURCE_NONE, 0};
    if (combined_flow == 0)
        return (vent_coefficient){NAN, NAN, VENT__SOURCE_NONE, 0};
    joint j = joint_of(leg, leg_flow, combined_flow);
    double k = total_head(&j, leg->straight).of / square(j.combined).of;
    bool one_way = inside(leg_flow / combined_flow, 0, 1);
    bool crowded = leg->legs > 2; /* the others are one stream to this law: trust it less */
    bool covered = one_way && !crowded && geometry_is_covered(&j, leg->law.angle);
    return (vent_coefficient){
        .value = leg->law.factor * k,
        .uncertainty =
            leg->law.factor * hypot(uncertainty_of(&j, leg->straight, k), crowded ? 0.5 : 0),
        .source =
            combined_flow < 0 ? VENT__SOURCE_CRANE_DIVIDING : VENT__SOURCE_IDELCHIK_CONVERGING,
        .flags = covered ? 0 : VENT_COEFFICIENT_GEOMETRY_OUTSIDE,
    };
}

/* ---- for everyone ---------------------------------------------------------------------------- */

static const double LEAST_ANGLE = 0, GREATEST_ANGLE = VENT_RADIANS(150), FACTOR_LIMIT = 1000;

vent_junction vent_junction_lossless(void)
{
    return (vent_junction){.law = VENT_JUNCTION_LOSSLESS, .angle = 0, .factor = 1};
}

vent_junction vent_wye(double angle, vent_error *err)
{
    if (vent__failed(err) || !VENT__RANGE(angle, "rad", LEAST_ANGLE, GREATEST_ANGLE))
        return (vent_junction){.law = VENT_JUNCTION_LOSSLESS, .angle = NAN, .factor = NAN};
    return (vent_junction){.law = VENT_JUNCTION_WYE, .angle = angle, .factor = 1};
}

bool vent__junction_check(const vent_junction *junction, const char *function, vent_error *err)
{
    if (junction->law != VENT_JUNCTION_LOSSLESS && junction->law != VENT_JUNCTION_WYE)
        return vent__fail(err, VENT_E_ARGUMENT, function, "junction", -1, junction->law,
                          VENT_JUNCTION_LOSSLESS, VENT_JUNCTION_WYE,
                          "%s: junction is none that a constructor of junction.h made (law %d)",
                          function, junction->law);
    return vent__check_range(err, function, "angle", "rad", junction->angle, LEAST_ANGLE,
                             GREATEST_ANGLE) &&
           vent__check_range(err, function, "factor", "", junction->factor, 0, FACTOR_LIMIT);
}

vent_coefficient vent_junction_coefficient(vent_junction junction, bool straight, double flow_share,
                                           double leg_area_ratio, double other_area_ratio,
                                           vent_error *err)
{
    if (vent__failed(err) || !vent__junction_check(&junction, __func__, err) ||
        !VENT__RANGE(flow_share, "", 0, 1) || !VENT__RANGE(leg_area_ratio, "", 0.01, 100) ||
        !VENT__RANGE(other_area_ratio, "", 0.01, 100))
        return (vent_coefficient){NAN, NAN, VENT__SOURCE_NONE, 0};
    vent__leg leg = {.law = junction,
                     .straight = straight,
                     .leg_area = leg_area_ratio,
                     .other_area = other_area_ratio,
                     .combined_area = 1,
                     .density = 1};
    return vent__junction_state(&leg, flow_share, 1);
}
