/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The loss of each leg of a junction, for any number of legs and flow of any sign in any of them.
 *
 * The frame is momentum theory. Let U be the velocity the entering air brings, the mean of its
 * velocities as vectors, weighted by mass flow, and p the static pressure it meets at. Then
 *
 *     a pipe that air enters by has the total pressure   p + rho/2 |V|^2
 *     a pipe that air leaves by                          p + rho (U . V - |V|^2 / 2)
 *
 * With one pipe to leave by this is its momentum balance; with one to enter by, each stream loses the
 * square of its change of velocity. What is lost in all, the sum of m/2 |V - U|^2 over all pipes, is
 * never negative, and nothing jumps where a flow turns: p is what the turning pipe sees on either side.
 *
 * On it lie what measurements say it misses, while air leaves (or enters) by the combined pipe: a
 * share of that pipe's velocity pressure that depends on the leg's share of the air that goes through. */
#include "physics/laws.h"
#include "base/fail.h"
#include "base/source_list.h"
#include "physics/junction_parts.h"
#include "physics/junction_sources.h"

#include <ventstack/units.h>

_Static_assert(sizeof(vent_junction) == 24, "vent_junction is frozen");

/* ---- who meets ------------------------------------------------------------------------------ */

vent__meeting vent__meeting_of(vent_junction law, double area, double density)
{
    return (vent__meeting){.law = law,
                           .cosine = cos(law.angle),
                           .sine = sin(law.angle),
                           .area = area,
                           .density = density};
}

vent__leg vent__leg_of(const vent__meeting *meeting, int rank, double area, double density)
{
    bool straight = rank == 0, opposed = meeting->law.law == VENT_JUNCTION_DOUBLE_WYE;
    if (rank < 0)
        return (vent__leg){.aside = true, .area = INFINITY, .density = density};
    return (vent__leg){.straight = straight,
                       .side = straight || !opposed ? 0
                               : rank % 2           ? 1
                                                    : -1,
                       .area = area,
                       .density = density};
}

void vent__meeting_join(vent__meeting *meeting, const vent__leg *leg)
{
    if (leg->aside)
        return;
    *(leg->straight ? &meeting->straight_area : &meeting->branch_area) += leg->area;
    meeting->branches += !leg->straight;
}

/* ---- the sums over all that meet ------------------------------------------------------------ */

/* While the combined pipe takes the air away, what goes through is its flow and what leaves by legs;
 * while it feeds, its flow and what enters by legs. Alike, but so nothing is added in usual flow. */
vent__term vent__junction_combined_term(const vent__meeting *meeting, double flow)
{
    vent__term term = {.value[VENT__THROUGHPUT] = fabs(flow),
                       .slope[VENT__THROUGHPUT] = flow < 0 ? -1 : 1};
    if (flow < 0) {
        double inertia = 1 / (meeting->density * meeting->area);
        term.value[VENT__AXIAL] = -inertia * flow * flow;
        term.slope[VENT__AXIAL] = -2 * inertia * flow;
    }
    return term;
}

vent__term vent__junction_term(const vent__meeting *meeting, const vent__leg *leg, double flow,
                               double combined_flow)
{
    vent__term term = {0};
    bool enters = flow > 0;
    if (enters == (combined_flow < 0)) {
        term.value[VENT__THROUGHPUT] = fabs(flow);
        term.slope[VENT__THROUGHPUT] = enters ? 1 : -1;
    }
    if (enters) {
        double inertia = flow / (leg->density * leg->area);
        double along = axial(meeting, leg) * inertia, across = lateral(meeting, leg) * inertia;
        term.value[VENT__AXIAL] = along * flow;
        term.slope[VENT__AXIAL] = 2 * along;
        term.value[VENT__LATERAL] = across * flow;
        term.slope[VENT__LATERAL] = 2 * across;
    }
    return term;
}

void vent__junction_add(const vent__meeting *meeting, const vent__leg *leg, double flow,
                        double combined_flow, double *sums)
{
    vent__term term = vent__junction_term(meeting, leg, flow, combined_flow);
    for (int i = 0; i < VENT__SUMS; ++i)
        sums[i] += term.value[i];
}

void vent__junction_sums(const vent__meeting *meeting, int legs, const vent__leg *leg,
                         const double *flow, double combined_flow, double *sums)
{
    vent__term combined = vent__junction_combined_term(meeting, combined_flow);
    for (int i = 0; i < VENT__SUMS; ++i)
        sums[i] = combined.value[i];
    for (int k = 0; k < legs; ++k)
        vent__junction_add(meeting, &leg[k], flow[k], combined_flow, sums);
}

/* ---- momentum theory ------------------------------------------------------------------------ */

/* Static pressure at the junction over the total pressure of the combined pipe; `u` is the part of U
 * along its axis, `by_u` the derivative. */
static double node_pressure(const vent__meeting *meeting, double flow, double u, double *by_flow,
                            double *by_u)
{
    double velocity = flow / (meeting->density * meeting->area);
    double leaving = flow < 0 ? 0 : flow / meeting->area; /* rho V, of air that leaves */
    *by_flow = flow < 0 ? -velocity / meeting->area : (velocity - u) / meeting->area;
    *by_u = -leaving;
    return flow < 0 ? -flow / meeting->area * velocity / 2 : leaving * (velocity / 2 - u);
}

static vent__leg_loss momentum(const vent__meeting *meeting, const vent__leg *leg, double leg_flow,
                               double combined_flow, const double *sums)
{
    double through = sums[VENT__THROUGHPUT], by_u, by_w = 0;
    double u = sums[VENT__AXIAL] / through, w = sums[VENT__LATERAL] / through;
    double along = axial(meeting, leg), across = lateral(meeting, leg);
    double momentum = leg_flow / leg->area, velocity = momentum / leg->density;
    vent__leg_loss h = {0};
    h.loss = node_pressure(meeting, combined_flow, u, &h.d_combined, &by_u);
    if (leg_flow > 0) {
        h.loss += momentum * velocity / 2;
        h.d_leg = velocity / leg->area;
    } else {
        double brought = u * along + w * across; /* of U, along this leg */
        h.loss += momentum * (brought - velocity / 2);
        h.d_leg = (brought - velocity) / leg->area;
        by_u += momentum * along;
        by_w += momentum * across;
    }
    h.d_sum[VENT__AXIAL] = by_u / through;
    h.d_sum[VENT__LATERAL] = by_w / through;
    h.d_sum[VENT__THROUGHPUT] = -(by_u * u + by_w * w) / through;
    return h;
}

/* ---- what measurements add ------------------------------------------------------------------ */

/* A share of a coefficient that follows momentum theory. */
static by_share part_of(vent__slope share, by_share theory)
{
    return (by_share){share.value * theory.k, share.slope * theory.k + share.value * theory.by_q,
                      share.value * theory.by_u};
}

static vent__slope scaled(double by, vent__slope a)
{
    return (vent__slope){by * a.value, by * a.slope};
}

static double most_of_branch(const vent__meeting *meeting, double f)
{
    return -widening(meeting) * wide_branch(f);
}

static double most_of_straight(const vent__meeting *meeting)
{
    return -0.45 * widening(meeting);
}

static by_share joining_correction_branch(const vent__meeting *meeting, double f, double r,
                                          double q, double u)
{
    vent__slope share = scaled(most_of_branch(meeting, f), ramp(JOINING_RATE, q, JOINING_CAP));
    return part_of(share, joining_branch(f, r, q, u));
}

/* Idelchik's 1.55 q - q^2 of a right-angled tee is 0.45 q below momentum theory; a slanted branch
 * gains as much at a small share, and nothing alone. That follows his equation 7-2 for slanted branches
 * as wide as the pipe within 0.13, and for narrow ones Crane, who has momentum theory: as printed the
 * equation makes energy there (up to 9.7 % of the moving power at 30 degrees). q is the share of all
 * branches. */
static by_share joining_correction_straight(const vent__meeting *meeting, double q)
{
    double most = most_of_straight(meeting), fading = slant(meeting);
    return (by_share){most * q * (1 - fading * q), most * (1 - 2 * fading * q), 0};
}

/* Crane: a slanted branch has the theory's loss times 1 - 0.6 q up to a share of 0.6; a
 * right-angled one as wide as the pipe keeps 0.3 of the branch's own velocity pressure. A narrow one
 * keeps all of it by Crane and some 0.4 by Gardel; in the limit it is a sharp-edged entry flush with a
 * wall, which keeps 0.5, and so it does here. */
static by_share dividing_correction_branch(const vent__meeting *meeting, double f, double r,
                                           double q)
{
    double most = -slant(meeting) * widening(meeting) * wide_branch(f);
    double upright = -(0.5 + 0.2 * wide_branch(f)) * (1 - slant(meeting)) * r / (f * f);
    by_share c = part_of(scaled(most, ramp(0.6, q, 0.36)), dividing_leg(meeting->cosine, f, r, q));
    return (by_share){c.k + upright * q * q, c.by_q + 2 * upright * q, 0};
}

/* Into a straight leg the slowing stream loses a part of what a sudden expansion would: 0.4 of it by
 * Crane beside a narrow branch, 0.35 by Gardel beside a wide one. What turns off into that is the slow
 * air along the wall, so that the rest comes out 0.2 q (1 - q) ahead. Gardel's 0.03 (1 - q)^2, which
 * stays where nothing turns off, is a tee's joints and no meeting of streams: without it this lies
 * between him and Crane, who falls to -0.07. At q = 0 theory stands; over the first fifth of q a
 * line leads from it. q is the share of all branches. */
static by_share dividing_correction_straight(const vent__meeting *meeting, double f, double r,
                                             double q)
{
    double branch = meeting->branch_area / fmax(meeting->branches, 1) / meeting->area;
    double wide = widening(meeting) * wide_branch(branch), most = 0.6 + 0.05 * wide;
    by_share theory = dividing_leg(1, f, r, 1 - q);
    by_share c =
        part_of(scaled(-1, ramp(most / 0.2, q, most)), (by_share){theory.k, -theory.by_q, 0});
    return (by_share){c.k - 0.2 * wide * q * (1 - q), c.by_q - 0.2 * wide * (1 - 2 * q), 0};
}

by_share vent__junction_correction(const vent__meeting *meeting, const vent__leg *leg, bool joins,
                                   double q, double u)
{
    double f = leg->area / meeting->area, r = meeting->density / leg->density;
    if (joins)
        return leg->straight ? joining_correction_straight(meeting, q)
                             : joining_correction_branch(meeting, f, r, q, u);
    return leg->straight ? dividing_correction_straight(meeting, f, r, q)
                         : dividing_correction_branch(meeting, f, r, q);
}

/* Corrections are on the combined pipe's velocity pressure. */
static vent__leg_loss correction(const vent__meeting *meeting, const vent__leg *leg,
                                 double leg_flow, double combined_flow, const double *sums)
{
    bool joins = combined_flow > 0;
    double through = sums[VENT__THROUGHPUT], way = joins ? 1 : -1;
    double per_flow = combined_flow / (meeting->density * meeting->area) / meeting->area;
    share_of_leg at = share_at(meeting, leg, leg_flow, combined_flow, sums);
    by_share c = vent__junction_correction(meeting, leg, joins, at.q, at.u);
    double by_own = leg->straight ? -c.by_q : c.by_q;
    return (vent__leg_loss){
        .loss = at.dynamic * c.k,
        .d_leg = way * leg_flow > 0 ? at.dynamic * by_own * way / through : 0,
        .d_combined = way * per_flow * c.k,
        .d_sum = {[VENT__THROUGHPUT] =
                      -at.dynamic * (by_own * at.own + 2 * c.by_u * at.u) / through,
                  [VENT__AXIAL] = at.dynamic * c.by_u / through / at.all},
    };
}

/* ---- the law -------------------------------------------------------------------------------- */

static vent__leg_loss sum(double factor, vent__leg_loss a, vent__leg_loss b)
{
    vent__leg_loss all = {factor * (a.loss + b.loss),
                          factor * (a.d_leg + b.d_leg),
                          factor * (a.d_combined + b.d_combined),
                          {0}};
    for (int i = 0; i < VENT__SUMS; ++i)
        all.d_sum[i] = factor * (a.d_sum[i] + b.d_sum[i]);
    return all;
}

vent__leg_loss vent__junction_loss(const vent__meeting *meeting, const vent__leg *leg,
                                   double leg_flow, double combined_flow, const double *sums)
{
    vent__leg_loss none = {0};
    if (!moves(meeting, sums))
        return none;
    return sum(meeting->law.factor, momentum(meeting, leg, leg_flow, combined_flow, sums),
               is_corrected_at(meeting, leg, combined_flow)
                   ? correction(meeting, leg, leg_flow, combined_flow, sums)
                   : none);
}

/* ---- while all legs flow in ------------------------------------------------------------------ */

vent__joining vent__junction_joining(const vent__meeting *meeting, const vent__leg *leg)
{
    double most = leg->straight ? most_of_straight(meeting)
                                : most_of_branch(meeting, leg->area / meeting->area);
    return (vent__joining){
        .axial = axial(meeting, leg) / (leg->density * leg->area),
        .kinetic = 1 / (2 * leg->density * leg->area * leg->area),
        .most = is_corrected(meeting) ? most : 0,
        .rate = JOINING_RATE,
        .cap = JOINING_CAP,
        .fading = slant(meeting),
    };
}

/* ---- value, uncertainty, source -------------------------------------------------------------- */

/* A junction of two legs with its flows, of one density and on a combined pipe of 1. */
typedef struct pair {
    vent__meeting meeting;
    vent__leg leg[2];
    double flow[2], combined, sums[VENT__SUMS];
} pair;

/* The straight leg or the branch, then the other. */
static pair pair_of(vent_junction law, bool straight, double area, double other_area, double flow,
                    double other_flow)
{
    pair p = {.meeting = vent__meeting_of(law, 1, 1),
              .flow = {flow, other_flow},
              .combined = flow + other_flow};
    p.leg[0] = vent__leg_of(&p.meeting, straight ? 0 : 1, area, 1);
    p.leg[1] = vent__leg_of(&p.meeting, straight ? 1 : 0, other_area, 1);
    vent__meeting_join(&p.meeting, &p.leg[0]);
    vent__meeting_join(&p.meeting, &p.leg[1]);
    vent__junction_sums(&p.meeting, 2, p.leg, p.flow, p.combined, p.sums);
    return p;
}

/* The law's value where the handbooks have one, the way the air goes. */
static double value_in_handbook(vent_junction law, const vent__wye *w)
{
    double way = w->joins ? 1 : -1, share = w->straight ? 1 - w->share : w->share;
    pair p = pair_of(law, w->straight, w->straight ? 1 : w->area, w->straight ? w->area : 1,
                     way * share, way * (1 - share));
    double unit = law.factor * p.combined * p.combined / 2;
    return way * vent__junction_loss(&p.meeting, p.leg, p.flow[0], p.combined, p.sums).loss / unit;
}

/* Half the distance between the least and the greatest of the law's and the authors' values, of
 * those who measured there. They know a straight leg as wide as the combined pipe. */
static double half_spread(const vent__meeting *meeting, const vent__wye *w)
{
    vent_coefficient said[VENT__MOST_WYE_FORMULAS];
    vent_junction law = meeting->law;
    law.factor = 1;
    double least = value_in_handbook(law, w), most = least;
    for (int i = vent__wye_formulas(w, said) - 1; i >= 0; --i)
        if (!said[i].flags) {
            least = fmin(least, said[i].value);
            most = fmax(most, said[i].value);
        }
    return widening(meeting) * (most - least) / 2;
}

static vent__wye wye_of(const vent__meeting *meeting, const vent__leg *leg, double share,
                        bool joins)
{
    double area = leg->straight ? meeting->branch_area : leg->area;
    return (vent__wye){.straight = leg->straight,
                       .joins = joins,
                       .angle = meeting->law.angle,
                       .area = area / meeting->area,
                       .share = clamp(leg->straight ? 1 - share : share)};
}

static bool inside(double x, double low, double high)
{
    return x >= low && x <= high;
}

static bool geometry_is_covered(const vent__meeting *meeting, const vent__leg *leg)
{
    double branch = leg->straight ? meeting->branch_area / fmax(meeting->branches, 1) : leg->area;
    double straight = meeting->straight_area / meeting->area;
    double branches = meeting->branch_area / meeting->area;
    return inside(meeting->law.angle, VENT_RADIANS(15), VENT_RADIANS(90) + 1e-9) &&
           (!meeting->branches || inside(branch / meeting->area, 0.1, 1 + 1e-9)) &&
           (inside(straight, 0.9, 1.1) || inside(straight + branches, 0.9, 1.1));
}

/* Whether every leg goes the way of the combined pipe: then nothing but its flow goes through. */
static bool one_way(double combined_flow, const double *sums)
{
    return sums[VENT__THROUGHPUT] <= fabs(combined_flow) * (1 + 1e-12);
}

/* The corrections were measured with one branch. Where there are more, or where the law leaves them
 * out, the truth may lie anywhere from none of them to twice: a uniform distribution. */
static double doubt(const vent__meeting *meeting, double correction)
{
    return meeting->branches > 1 || !is_corrected(meeting) ? fabs(correction) / sqrt(3) : 0;
}

/* A straight leg beside slanted branches, and one that is fed, rest on forms of this library's own
 * through what the authors have. */
static int32_t source_of(const vent__meeting *meeting, const vent__leg *leg, bool joins)
{
    if (!is_corrected(meeting))
        return meeting->law.source;
    if (!joins)
        return leg->straight ? VENT__SOURCE_DIVIDING_STRAIGHT : VENT__SOURCE_CRANE_DIVIDING;
    return leg->straight && slant(meeting) > 1e-9 ? VENT__SOURCE_JOINING_STRAIGHT
                                                  : VENT__SOURCE_IDELCHIK_CONVERGING;
}

vent_coefficient vent__junction_state(const vent__meeting *meeting, const vent__leg *leg,
                                      double leg_flow, double combined_flow, const double *sums)
{
    if (meeting->law.law == VENT_JUNCTION_LOSSLESS)
        return (vent_coefficient){0, 0, VENT__SOURCE_NONE, 0};
    double velocity = combined_flow / (meeting->density * meeting->area);
    double dynamic = meeting->density * velocity * velocity / 2;
    if (!(dynamic > 0))
        return (vent_coefficient){NAN, NAN, VENT__SOURCE_NONE, 0};
    bool joins = combined_flow > 0;
    double theory = momentum(meeting, leg, leg_flow, combined_flow, sums).loss / dynamic;
    if (leg->aside)
        return (vent_coefficient){meeting->law.factor * theory, 0, VENT__SOURCE_MOMENTUM_JUNCTION,
                                  0};
    double more = correction(meeting, leg, leg_flow, combined_flow, sums).loss / dynamic;
    double k = theory + (is_corrected(meeting) ? more : 0);
    double plain = joins ? 0.1 : 0.2, spread = 0;
    if (meeting->branches) {
        vent__wye w = wye_of(meeting, leg, leg_flow / combined_flow, joins);
        spread = half_spread(meeting, &w);
    }
    double own = hypot(hypot(plain, 0.2 * k), hypot(spread, doubt(meeting, more)));
    bool covered = one_way(combined_flow, sums) && geometry_is_covered(meeting, leg);
    return (vent_coefficient){
        .value = meeting->law.factor * k,
        .uncertainty = meeting->law.factor * own,
        .source = source_of(meeting, leg, joins),
        .flags = covered ? 0 : VENT_COEFFICIENT_GEOMETRY_OUTSIDE,
    };
}

/* ---- for everyone ---------------------------------------------------------------------------- */

static const double LEAST_ANGLE = 0, GREATEST_ANGLE = VENT_RADIANS(150), FACTOR_LIMIT = 1000;

vent_junction vent_junction_lossless(void)
{
    return (vent_junction){.law = VENT_JUNCTION_LOSSLESS, .angle = 0, .factor = 1};
}

static const vent_junction NO_JUNCTION = {
    .law = VENT_JUNCTION_LOSSLESS, .angle = NAN, .factor = NAN};

static vent_junction wye_by(int32_t law, int32_t source, double angle, const char *function,
                            vent_error *err)
{
    if (vent__failed(err) ||
        !vent__check_range(err, function, "angle", "rad", angle, LEAST_ANGLE, GREATEST_ANGLE))
        return NO_JUNCTION;
    return (vent_junction){.law = law, .source = source, .angle = angle, .factor = 1};
}

vent_junction vent_wye(double angle, vent_error *err)
{
    return wye_by(VENT_JUNCTION_WYE, 0, angle, __func__, err);
}

vent_junction vent_double_wye(double angle, vent_error *err)
{
    return wye_by(VENT_JUNCTION_DOUBLE_WYE, 0, angle, __func__, err);
}

vent_junction vent_wye_by_momentum(double angle, vent_error *err)
{
    return wye_by(VENT_JUNCTION_WYE, VENT__SOURCE_MOMENTUM_JUNCTION, angle, __func__, err);
}

bool vent__junction_check(const vent_junction *junction, const char *function, vent_error *err)
{
    if (junction->law < VENT_JUNCTION_LOSSLESS || junction->law > VENT_JUNCTION_DOUBLE_WYE)
        return vent__fail(err, VENT_E_ARGUMENT, function, "junction", -1, junction->law,
                          VENT_JUNCTION_LOSSLESS, VENT_JUNCTION_DOUBLE_WYE,
                          "%s: junction is none that a constructor of junction.h made (law %d)",
                          function, junction->law);
    if (junction->source != 0 && junction->source != VENT__SOURCE_MOMENTUM_JUNCTION)
        return vent__fail(err, VENT_E_ARGUMENT, function, "junction", -1, junction->source, 0,
                          VENT__SOURCE_MOMENTUM_JUNCTION,
                          "%s: junction's source is %d; only 0, the default, and %d, momentum "
                          "theory, hold for every flow",
                          function, junction->source, VENT__SOURCE_MOMENTUM_JUNCTION);
    return vent__check_range(err, function, "angle", "rad", junction->angle, LEAST_ANGLE,
                             GREATEST_ANGLE) &&
           vent__check_range(err, function, "factor", "", junction->factor, 0, FACTOR_LIMIT);
}

static const double MOST_SHARE = 1e3, LEAST_RATIO = 0.01, MOST_RATIO = 100;
static const vent_coefficient NO_COEFFICIENT = {NAN, NAN, VENT__SOURCE_NONE, 0};

static bool pair_is_sound(const vent_junction *junction, double flow_share, double leg_area_ratio,
                          double other_area_ratio, const char *function, vent_error *err)
{
    return vent__junction_check(junction, function, err) &&
           vent__check_range(err, function, "flow_share", "", flow_share, -MOST_SHARE,
                             MOST_SHARE) &&
           vent__check_range(err, function, "leg_area_ratio", "", leg_area_ratio, LEAST_RATIO,
                             MOST_RATIO) &&
           vent__check_range(err, function, "other_area_ratio", "", other_area_ratio, LEAST_RATIO,
                             MOST_RATIO);
}

/* A coefficient the way the air goes in the combined pipe. */
static vent_coefficient the_way(double way, vent_coefficient c)
{
    c.value *= way;
    return c;
}

static vent_coefficient pair_coefficient(vent_junction junction, bool straight, double way,
                                         double share, double leg_area, double other_area)
{
    pair p = pair_of(junction, straight, leg_area, other_area, way * share, way * (1 - share));
    return the_way(way, vent__junction_state(&p.meeting, p.leg, p.flow[0], way, p.sums));
}

vent_coefficient vent_junction_coefficient(vent_junction junction, bool straight, double flow_share,
                                           double leg_area_ratio, double other_area_ratio,
                                           vent_error *err)
{
    if (vent__failed(err) ||
        !pair_is_sound(&junction, flow_share, leg_area_ratio, other_area_ratio, __func__, err))
        return NO_COEFFICIENT;
    return pair_coefficient(junction, straight, 1, flow_share, leg_area_ratio, other_area_ratio);
}

vent_coefficient vent_junction_dividing_coefficient(vent_junction junction, bool straight,
                                                    double flow_share, double leg_area_ratio,
                                                    double other_area_ratio, vent_error *err)
{
    if (vent__failed(err) ||
        !pair_is_sound(&junction, flow_share, leg_area_ratio, other_area_ratio, __func__, err))
        return NO_COEFFICIENT;
    return pair_coefficient(junction, straight, -1, flow_share, leg_area_ratio, other_area_ratio);
}

/* ---- any number of legs ----------------------------------------------------------------------- */

static bool legs_are_sound(int legs, const double *area_ratio, const double *flow,
                           const char *function, vent_error *err)
{
    const double most_flow = 1e9;
    for (int i = 0; i < legs; ++i) {
        vent_error one = VENT_NO_ERROR;
        if (vent__check_range(&one, function, "area_ratio", "", area_ratio[i], LEAST_RATIO,
                              MOST_RATIO) &&
            vent__check_range(&one, function, "flow", "", flow[i], -most_flow, most_flow))
            continue;
        one.index = i;
        if (err)
            *err = one;
        return false;
    }
    return true;
}

bool vent_junction_coefficients(vent_junction junction, int legs, const double *area_ratio,
                                const double *flow, vent_coefficient *coefficient, vent_error *err)
{
    if (vent__failed(err) || !vent__junction_check(&junction, __func__, err) ||
        !VENT__RANGE(legs, "", 1, INT32_MAX) || !VENT__POINTER(area_ratio) ||
        !VENT__POINTER(flow) || !VENT__POINTER(coefficient) ||
        !legs_are_sound(legs, area_ratio, flow, __func__, err))
        return false;
    vent__meeting meeting = vent__meeting_of(junction, 1, 1);
    double combined = 0, sums[VENT__SUMS];
    for (int i = 0; i < legs; ++i) {
        vent__leg leg = vent__leg_of(&meeting, i, area_ratio[i], 1);
        vent__meeting_join(&meeting, &leg);
        combined += flow[i];
    }
    vent__junction_sums(&meeting, 0, NULL, NULL, combined, sums);
    for (int i = 0; i < legs; ++i) {
        vent__leg leg = vent__leg_of(&meeting, i, area_ratio[i], 1);
        vent__junction_add(&meeting, &leg, flow[i], combined, sums);
    }
    for (int i = 0; i < legs; ++i) {
        vent__leg leg = vent__leg_of(&meeting, i, area_ratio[i], 1);
        coefficient[i] = the_way(combined < 0 ? -1 : 1,
                                 vent__junction_state(&meeting, &leg, flow[i], combined, sums));
    }
    return true;
}

/* ---- by every source --------------------------------------------------------------------------- */

enum { MOST_ALTERNATIVES = 2 + VENT__MOST_WYE_FORMULAS };

/* The law's own value, the authors' where they have one, and momentum theory. */
static int alternatives(vent_junction law, bool straight, bool joins, double share, double leg_area,
                        double other_area, vent_coefficient list[MOST_ALTERNATIVES])
{
    double way = joins ? 1 : -1, main = straight ? leg_area : other_area;
    law.source = 0;
    list[0] = pair_coefficient(law, straight, way, share, leg_area, other_area);
    if (law.law == VENT_JUNCTION_LOSSLESS)
        return 1;
    int n = 1;
    if (inside(share, 0, 1) && fabs(main - 1) < 1e-9) {
        vent__wye w = {.straight = straight,
                       .joins = joins,
                       .angle = law.angle,
                       .area = straight ? other_area : leg_area,
                       .share = straight ? 1 - share : share};
        n += vent__wye_formulas(&w, list + 1);
        for (int i = 1; i < n; ++i) {
            list[i].uncertainty = law.factor * hypot(joins ? 0.1 : 0.2, 0.2 * list[i].value);
            list[i].value *= law.factor;
        }
    }
    law.source = VENT__SOURCE_MOMENTUM_JUNCTION;
    list[n] = pair_coefficient(law, straight, way, share, leg_area, other_area);
    return n + 1;
}

static int hand_out(int found, const vent_coefficient *from, int room, vent_coefficient *list)
{
    for (int i = 0; i < found && i < room; ++i)
        list[i] = from[i];
    return found;
}

int vent_junction_alternatives(vent_junction junction, bool straight, double flow_share,
                               double leg_area_ratio, double other_area_ratio, int room,
                               vent_coefficient *list, vent_error *err)
{
    if (vent__failed(err) ||
        !pair_is_sound(&junction, flow_share, leg_area_ratio, other_area_ratio, __func__, err) ||
        !VENT__RANGE(room, "", 0, INT32_MAX) || (room > 0 && !VENT__POINTER(list)))
        return 0;
    vent_coefficient all[MOST_ALTERNATIVES];
    return hand_out(
        alternatives(junction, straight, true, flow_share, leg_area_ratio, other_area_ratio, all),
        all, room, list);
}

int vent_junction_dividing_alternatives(vent_junction junction, bool straight, double flow_share,
                                        double leg_area_ratio, double other_area_ratio, int room,
                                        vent_coefficient *list, vent_error *err)
{
    if (vent__failed(err) ||
        !pair_is_sound(&junction, flow_share, leg_area_ratio, other_area_ratio, __func__, err) ||
        !VENT__RANGE(room, "", 0, INT32_MAX) || (room > 0 && !VENT__POINTER(list)))
        return 0;
    vent_coefficient all[MOST_ALTERNATIVES];
    return hand_out(
        alternatives(junction, straight, false, flow_share, leg_area_ratio, other_area_ratio, all),
        all, room, list);
}
