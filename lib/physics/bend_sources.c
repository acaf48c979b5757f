/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is published for bends, a formula an author. Charts and tables are read off between their
 * points along straight lines, and held at their ends. */
#include "physics/family.h"

#include <ventstack/units.h>

/* ---- tables --------------------------------------------------------------------------------- */

typedef struct place {
    int before;   /* the point below */
    double share; /* of the way to the next */
} place;

static place between_points(const double *points, int count, double x)
{
    int i = 0;
    while (i < count - 2 && x > points[i + 1])
        ++i;
    double share = (x - points[i]) / (points[i + 1] - points[i]);
    return (place){i, fmin(fmax(share, 0), 1)};
}

static double read_off(const double *values, place at)
{
    return values[at.before] + at.share * (values[at.before + 1] - values[at.before]);
}

static double along_line(double from, double to, double share)
{
    return from + share * (to - from);
}

static vent__slope scaled(double scale, vent__slope k)
{
    return (vent__slope){scale * k.value, scale * k.slope};
}

#define COUNT(table) ((int)(sizeof(table) / sizeof *(table)))

/* ---- smooth bends: angle, radius ratio ------------------------------------------------------ */

/* Rennels & Hudson (2012): surface friction, secondary flow, separation. At r/D below 1 the
 * exponent makes long bends absurd (5.7 at 180 degrees and r/D 0.5); the spread shows it. */
vent__loss vent__bend_rennels(const double *geometry, double bore)
{
    (void)bore;
    double angle = geometry[0], radius_ratio = geometry[1], half = sin(angle / 2);
    double separation = 6.6 * (sqrt(half) + half) / pow(radius_ratio, 4 * angle / VENT_PI);
    return (vent__loss){.k0 = 0.10 * half, .kf = angle * radius_ratio + 2.4 * half + separation};
}

bool vent__bend_rennels_covers(double angle, double radius_ratio)
{
    return angle <= VENT_PI / 2 + 1e-9 || radius_ratio >= 1;
}

/* Idelchik, diagram 6-1: A1 B1 and the friction of the bend's own length. A1 is given up to 70
 * degrees, at 90 and from 100; it is straight between. */
static double angle_factor_idelchik(double angle)
{
    double d = degrees(angle), at_70 = 0.9 * sin(VENT_RADIANS(70)), at_100 = 0.7 + 0.35 * 100 / 90;
    if (d <= 70)
        return 0.9 * sin(angle);
    if (d <= 90)
        return at_70 + (1 - at_70) * (d - 70) / 20;
    if (d <= 100)
        return 1 + (at_100 - 1) * (d - 90) / 10;
    return 0.7 + 0.35 * d / 90;
}

static double local_idelchik(const double *geometry)
{
    double b1 = 0.21 * pow(geometry[1], geometry[1] < 1 ? -2.5 : -0.5);
    return angle_factor_idelchik(geometry[0]) * b1;
}

vent__loss vent__bend_idelchik(const double *geometry, double bore)
{
    (void)bore;
    return (vent__loss){.k0 = local_idelchik(geometry), .kf = geometry[0] * geometry[1]};
}

/* Where k_Re stops to grow towards small Reynolds numbers: the least its table has. */
static const double IDELCHIK_LEAST = 1e4;

/* a Re^-n, and 1 from where that is less. */
static vent__slope fading(double a, double n, double reynolds)
{
    double k = a * pow(reynolds, -n);
    return k > 1 ? (vent__slope){k, -n * k / reynolds} : (vent__slope){1, 0};
}

/* k_Re of diagram 6-1 less 1. Three ranges of the radius; between two, 0.05 wide, straight. */
static vent__slope reynolds_idelchik(double radius_ratio, double reynolds)
{
    bool held = reynolds < IDELCHIK_LEAST;
    double re = held ? IDELCHIK_LEAST : reynolds;
    vent__slope sharp = {1 + 4400 / re, -4400 / re / re};
    vent__slope middle = fading(5.45, 0.131, re), round = fading(11.5, 0.19, re);
    double to_middle = fmin(fmax((radius_ratio - 0.50) / 0.05, 0), 1);
    double to_round = fmin(fmax((radius_ratio - 0.65) / 0.05, 0), 1);
    double k = along_line(along_line(sharp.value, middle.value, to_middle), round.value, to_round);
    double slope =
        along_line(along_line(sharp.slope, middle.slope, to_middle), round.slope, to_round);
    return (vent__slope){k - 1, held ? 0 : slope};
}

vent__slope vent__bend_idelchik_extra(const double *geometry, double bore, double reynolds)
{
    (void)bore;
    return scaled(local_idelchik(geometry), reynolds_idelchik(geometry[1], reynolds));
}

/* Ito (1960) in Blevins' form: 0.00431 alpha angle Re^-0.17 (r/D)^0.84, angle in degrees. alpha is
 * given at 45, 90 and 180 degrees; it is straight between, and that of 45 below. His form for
 * Re (D/r)^2 below 360 is left out. */
static double alpha_ito(double angle, double radius_ratio)
{
    double at_45 = 1 + 5.13 * pow(radius_ratio, -1.47);
    double at_90 = fmax(0.95 + 4.42 * pow(radius_ratio, -1.96), 1);
    double at_180 = 1 + 5.06 * pow(radius_ratio, -4.52);
    double d = degrees(angle);
    if (d <= 45)
        return at_45;
    return d <= 90 ? along_line(at_45, at_90, (d - 45) / 45)
                   : along_line(at_90, at_180, (d - 90) / 90);
}

vent__slope vent__bend_ito_extra(const double *geometry, double bore, double reynolds)
{
    (void)bore;
    const double least = 1e3; /* far below turbulence the power of Re would run away: held */
    double angle = geometry[0], radius_ratio = geometry[1], re = fmax(reynolds, least);
    double k = 0.00431 * alpha_ito(angle, radius_ratio) * degrees(angle) * pow(re, -0.17) *
               pow(radius_ratio, 0.84);
    return (vent__slope){k, reynolds < least ? 0 : -0.17 * k / re};
}

/* Miller (1990), figure 9.2: K_b at Re 1e6 of a smooth bend, its friction included. Read at these
 * points from the curves as the fluids package has them digitised. They end at K_b = 1, at 10
 * degrees, and above 120 degrees from r/D 6 on: beyond, continued straight; to 0 at 0 degrees. */
static const double miller_radius[] = {0.5, 0.6, 0.7, 0.8, 0.9, 1, 1.25, 1.5, 2, 3, 4, 6, 10};
static const double miller_angle[] = {0, 10, 20, 30, 45, 60, 75, 90, 120, 150, 180};
static const double miller_bend[COUNT(miller_radius)][COUNT(miller_angle)] = {
    {0, 0.028, 0.053, 0.119, 0.269, 0.464, 0.754, 1.03, 1.40, 1.75, 2.10},
    {0, 0.023, 0.045, 0.088, 0.201, 0.331, 0.541, 0.783, 0.991, 1.27, 1.57},
    {0, 0.019, 0.040, 0.072, 0.152, 0.254, 0.337, 0.487, 0.689, 0.781, 0.794},
    {0, 0.017, 0.037, 0.064, 0.123, 0.203, 0.281, 0.325, 0.433, 0.502, 0.540},
    {0, 0.017, 0.035, 0.060, 0.109, 0.166, 0.236, 0.278, 0.318, 0.345, 0.346},
    {0, 0.017, 0.034, 0.058, 0.100, 0.148, 0.203, 0.248, 0.268, 0.274, 0.287},
    {0, 0.018, 0.036, 0.059, 0.090, 0.129, 0.166, 0.206, 0.230, 0.237, 0.237},
    {0, 0.018, 0.039, 0.061, 0.088, 0.120, 0.150, 0.184, 0.205, 0.209, 0.209},
    {0, 0.020, 0.045, 0.064, 0.089, 0.112, 0.135, 0.160, 0.179, 0.183, 0.197},
    {0, 0.026, 0.051, 0.070, 0.093, 0.115, 0.132, 0.155, 0.188, 0.209, 0.219},
    {0, 0.034, 0.056, 0.077, 0.099, 0.123, 0.141, 0.166, 0.215, 0.244, 0.271},
    {0, 0.040, 0.064, 0.086, 0.117, 0.143, 0.170, 0.198, 0.246, 0.294, 0.342},
    {0, 0.046, 0.077, 0.109, 0.145, 0.179, 0.210, 0.237, 0.290, 0.343, 0.396},
};

double vent__bend_miller_base(double angle, double radius_ratio)
{
    place radius = between_points(miller_radius, COUNT(miller_radius), radius_ratio);
    place turn = between_points(miller_angle, COUNT(miller_angle), degrees(angle));
    const double *below = miller_bend[radius.before], *above = miller_bend[radius.before + 1];
    return along_line(read_off(below, turn), read_off(above, turn), radius.share);
}

/* Miller, figure 9.3: C_Re by log10 Re for r/D 1, 1.5 and from 2 on, read as above. The third curve
 * goes on below 1, the others stay there. */
static const double miller_log_reynolds[] = {4, 4.30103, 4.69897, 5, 5.30103, 5.69897, 6, 7};
static const double miller_reynolds_radius[] = {1, 1.5, 2};
static const double miller_reynolds[3][COUNT(miller_log_reynolds)] = {
    {2.18, 1.856, 1.49, 1.244, 1.01, 1, 1, 1},
    {2.18, 1.900, 1.60, 1.406, 1.23, 1.004, 1, 1},
    {2.18, 1.935, 1.655, 1.48, 1.32, 1.13, 1, 0.69},
};

static vent__slope reynolds_miller(double radius_ratio, double reynolds)
{
    double decade = log10(reynolds);
    place at = between_points(miller_log_reynolds, COUNT(miller_log_reynolds), decade);
    place radius = between_points(miller_reynolds_radius, 3, radius_ratio);
    const double *below = miller_reynolds[radius.before],
                 *above = below + COUNT(miller_log_reynolds);
    double c = along_line(read_off(below, at), read_off(above, at), radius.share);
    int i = at.before;
    double rise = along_line(below[i + 1] - below[i], above[i + 1] - above[i], radius.share) /
                  (miller_log_reynolds[i + 1] - miller_log_reynolds[i]);
    bool held = at.share <= 0 || decade >= 7;
    return (vent__slope){c, held ? 0 : rise / (log(10) * reynolds)};
}

/* Miller's rule for sharp bends, r/D below 0.7 and mitres: not the loss is raised by C_Re but what a
 * loss of 0.2 would be raised by is added, C = K_b / (K_b - 0.2 C_Re + 0.2). He starts it at K_b =
 * 0.4, with a jump; here where both rules give the same. */
static vent__slope sharp_miller(double base, vent__slope c)
{
    if (base <= 0.2 * c.value)
        return c;
    double rest = base - 0.2 * c.value + 0.2;
    return (vent__slope){base / rest, 0.2 * base / square(rest) * c.slope};
}

/* The roughness factor is left out: plastic pipe is smooth. The sharp rule fades between r/D 0.7 and
 * 0.8. */
vent__slope vent__bend_miller_extra(const double *geometry, double bore, double reynolds)
{
    (void)bore;
    double base = vent__bend_miller_base(geometry[0], geometry[1]);
    vent__slope c = reynolds_miller(geometry[1], reynolds), sharp = sharp_miller(base, c);
    double share = fmin(fmax((geometry[1] - 0.7) / 0.1, 0), 1);
    return scaled(base, (vent__slope){along_line(sharp.value, c.value, share),
                                      along_line(sharp.slope, c.slope, share)});
}

/* Crane TP-410: L/D of 90 degree bends times its friction factor; beyond 90 degrees a quarter turn
 * adds half of that and half the friction of its length. Below 90 in proportion to the angle, below
 * r/D 1 straight to its right-angled mitre (60) at 0.5: both not from Crane. */
static const double crane_radius[] = {0.5, 1, 1.5, 2, 3, 4, 6, 8, 10};
static const double crane_lengths[] = {60, 20, 14, 12, 12, 14, 17, 24, 30};

vent__loss vent__bend_crane(const double *geometry, double bore)
{
    double radius_ratio = geometry[1], quarters = geometry[0] / (VENT_PI / 2);
    double right =
        read_off(crane_lengths, between_points(crane_radius, COUNT(crane_radius), radius_ratio));
    double lengths = quarters <= 1
                         ? quarters * right
                         : right + (quarters - 1) * (0.25 * VENT_PI * radius_ratio + 0.5 * right);
    return constant_loss(lengths * vent__crane_friction(bore));
}

/* ---- one mitre joint: angle ----------------------------------------------------------------- */

vent__loss vent__mitre_rennels(const double *geometry, double bore)
{
    (void)bore;
    double half = sin(geometry[0] / 2);
    return constant_loss(0.42 * half + 2.56 * half * square(half));
}

/* Idelchik, diagram 6-7, times A = 0.95 + 33.5/angle; the product vanishes with the angle. */
vent__loss vent__mitre_idelchik(const double *geometry, double bore)
{
    (void)bore;
    double angle = geometry[0], half = sin(angle / 2);
    double a = angle > 0 ? 0.95 + 33.5 / degrees(angle) : 0;
    return constant_loss(a * (0.95 * square(half) + 2.05 * fourth(half)));
}

/* Its k_Re less 1, which SMACNA (2006), table A-7, has and is taken for his, at log10 Re of 1, 2, 3, 4,
 * 6, 8, 10, 14 times 1e4. */
static const double mitre_log_reynolds[] = {4,       4.30103, 4.47712, 4.60206,
                                            4.77815, 4.90309, 5,       5.14613};
static const double mitre_reynolds[] = {0.40, 0.26, 0.19, 0.14, 0.09, 0.06, 0.04, 0};

vent__slope vent__mitre_idelchik_extra(const double *geometry, double bore, double reynolds)
{
    place at = between_points(mitre_log_reynolds, COUNT(mitre_log_reynolds), log10(reynolds));
    int i = at.before;
    double rise = (mitre_reynolds[i + 1] - mitre_reynolds[i]) /
                  (mitre_log_reynolds[i + 1] - mitre_log_reynolds[i]);
    bool held = at.share <= 0 || at.share >= 1;
    vent__slope k = {read_off(mitre_reynolds, at), held ? 0 : rise / (log(10) * reynolds)};
    return scaled(vent__mitre_idelchik(geometry, bore).k0, k);
}

/* Miller, figure 9.12, read as his bends; to 0 at 0 degrees, and straight on beyond 120. */
static const double miller_mitre_angle[] = {0, 10, 15, 20, 30, 45, 60, 75, 90, 105, 120, 180};
static const double miller_mitre[] = {0,     0.027, 0.038, 0.055, 0.119, 0.286,
                                      0.507, 0.787, 1.127, 1.369, 1.501, 2.029};

vent__slope vent__mitre_miller_extra(const double *geometry, double bore, double reynolds)
{
    (void)bore;
    place at = between_points(miller_mitre_angle, COUNT(miller_mitre_angle), degrees(geometry[0]));
    double base = read_off(miller_mitre, at);
    return scaled(base, sharp_miller(base, reynolds_miller(1, reynolds)));
}

/* Blevins (1984): a table at Re 2e5, times (2e5/Re)^0.2; straight on beyond 120 degrees. */
static const double blevins_angle[] = {0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 120, 180};
static const double blevins_mitre[] = {0,   0.025, 0.055, 0.1, 0.2, 0.35,
                                       0.5, 0.7,   0.9,   1.1, 1.5, 2.3};

vent__slope vent__mitre_blevins_extra(const double *geometry, double bore, double reynolds)
{
    (void)bore;
    const double least = 1e3; /* held below, as Ito's */
    double re = fmax(reynolds, least);
    place at = between_points(blevins_angle, COUNT(blevins_angle), degrees(geometry[0]));
    double k = read_off(blevins_mitre, at) * pow(2e5 / re, 0.2);
    return (vent__slope){k, reynolds < least ? 0 : -0.2 * k / re};
}

/* Crane TP-410: L/D by angle times its friction factor. Its 2 at 0 degrees is the friction of two
 * bores of pipe: left out (0 there), in full at 15. Beyond 90 straight on. */
static const double crane_mitre_angle[] = {0, 15, 30, 45, 60, 75, 90, 180};
static const double crane_mitre[] = {0, 4, 8, 15, 25, 40, 60, 180};

vent__loss vent__mitre_crane(const double *geometry, double bore)
{
    place at = between_points(crane_mitre_angle, COUNT(crane_mitre_angle), degrees(geometry[0]));
    return constant_loss(read_off(crane_mitre, at) * vent__crane_friction(bore));
}

/* ---- mitred elbow of several joints: angle, joints, radius ratio ------------------------------ */

/* What a joint that turns by an angle adds to a smooth bend of the same radius. From Hooper's (1981)
 * constants at r/D 1.5: of 1 to 5 joints at 90 degrees 1.15, 0.35, 0.30, 0.27, 0.25, less 0.20 of
 * the smooth elbow, shared among the joints. His 45 degree elbows, 0.25 and 0.15 less 0.15, are
 * within their last digit of this. A power of the angle between two points, its square below. */
static const double joint_angle[] = {18, 22.5, 30, 45, 90};
static const double joint_adds[] = {0.01, 0.0175, 0.1 / 3, 0.075, 0.95};

static double joint_hooper(double angle)
{
    double d = degrees(angle);
    if (d <= joint_angle[0])
        return joint_adds[0] * square(d / joint_angle[0]);
    int i = 0;
    while (i < COUNT(joint_angle) - 2 && d > joint_angle[i + 1])
        ++i;
    double power =
        log(joint_adds[i + 1] / joint_adds[i]) / log(joint_angle[i + 1] / joint_angle[i]);
    return joint_adds[i] * pow(d / joint_angle[i], power);
}

vent__loss vent__segmented_hooper(const double *geometry, double bore)
{
    double angle = geometry[0], joints = geometry[1], radius_ratio = geometry[2];
    vent__loss loss = vent__bend_rennels((double[]){angle, radius_ratio}, bore);
    loss.k0 += joints * joint_hooper(angle / joints) * (1 + VENT_INCH / bore);
    return loss;
}

/* Every joint as if alone, and the friction of the bend's length: what far joints come to. */
vent__loss vent__segmented_apart(const double *geometry, double bore)
{
    double joints = geometry[1];
    vent__loss joint = vent__mitre_rennels((double[]){geometry[0] / joints}, bore);
    return (vent__loss){.k0 = joints * joint.k0, .kf = geometry[0] * geometry[2]};
}

/* ---- short drain elbows: angle ---------------------------------------------------------------- */

/* From 0 at no angle over a value at 45 degrees to one at 90, straight between. */
static vent__loss by_angle(double angle, vent__loss at_45, vent__loss at_90)
{
    double eighths = angle / (VENT_PI / 4);
    return eighths <= 1 ? times(eighths, at_45) : between(at_45, at_90, eighths - 1);
}

vent__loss vent__drain_darby(const double *geometry, double bore)
{
    return by_angle(geometry[0], vent__three_constant((double[]){500, 0.071, 4.2, bore}, bore),
                    vent__three_constant((double[]){800, 0.14, 4.0, bore}, bore));
}

vent__loss vent__drain_hooper(const double *geometry, double bore)
{
    return by_angle(geometry[0], vent__two_constant((double[]){500, 0.20}, bore),
                    vent__two_constant((double[]){800, 0.40}, bore));
}

vent__loss vent__drain_crane(const double *geometry, double bore)
{
    double friction = vent__crane_friction(bore);
    return by_angle(geometry[0], constant_loss(16 * friction), constant_loss(30 * friction));
}

/* A smooth bend of the radius a short drain elbow has (common practice, no source). */
static const double DRAIN_RADIUS = 0.55;

vent__loss vent__drain_idelchik(const double *geometry, double bore)
{
    return vent__bend_idelchik((double[]){geometry[0], DRAIN_RADIUS}, bore);
}

vent__slope vent__drain_idelchik_extra(const double *geometry, double bore, double reynolds)
{
    return vent__bend_idelchik_extra((double[]){geometry[0], DRAIN_RADIUS}, bore, reynolds);
}

/* ---- close return bend: nothing --------------------------------------------------------------- */

vent__loss vent__close_return_darby(const double *geometry, double bore)
{
    (void)geometry;
    return vent__three_constant((double[]){1000, 0.23, 4.0, bore}, bore);
}

vent__loss vent__close_return_crane(const double *geometry, double bore)
{
    (void)geometry;
    return constant_loss(50 * vent__crane_friction(bore));
}

/* ---- two right-angled elbows: radius ratio, spacing, twist ------------------------------------- */

/* Miller, table 10.1: loss of two 90 degree bends over that of both alone, by radius ratio 1, 2 and
 * 3, spacing 0, 1, 4 and 8 bores, and 180 to 0 degrees of his angle (his 180 turns the same way, 0
 * back; told apart by the return bends of his figure 9.2). It comes to 1 at 30 bores. One entry of
 * the reprint, 0.91 at ratio 1, 8 bores and his 150 degrees, stands between 0.80 and 0.81: taken as
 * a misprint of 0.81. */
enum { SPACINGS = 5, TWISTS = 7 };
static const double pair_radius[] = {1, 2, 3};
static const double pair_log_spacing[SPACINGS] = {0, 0.693147, 1.609438, 2.197225, 3.433987};
static const double pair_twist[TWISTS] = {0, 30, 60, 90, 120, 150, 180};
static const double pair_factor[3][SPACINGS][TWISTS] = {
    {{0.53, 0.60, 0.69, 0.81, 1.04, 1.16, 1.00},
     {0.58, 0.63, 0.69, 0.79, 0.93, 1.04, 0.86},
     {0.71, 0.73, 0.72, 0.74, 0.76, 0.94, 0.71},
     {0.80, 0.81, 0.81, 0.82, 0.82, 0.83, 0.81},
     {1, 1, 1, 1, 1, 1, 1}},
    {{0.58, 0.63, 0.68, 0.73, 0.77, 0.79, 0.86},
     {0.62, 0.65, 0.68, 0.71, 0.74, 0.79, 0.83},
     {0.72, 0.69, 0.69, 0.70, 0.70, 0.71, 0.72},
     {0.80, 0.80, 0.80, 0.80, 0.81, 0.81, 0.77},
     {1, 1, 1, 1, 1, 1, 1}},
    {{0.71, 0.74, 0.76, 0.78, 0.81, 0.83, 0.86},
     {0.73, 0.75, 0.77, 0.79, 0.83, 0.85, 0.87},
     {0.79, 0.79, 0.80, 0.80, 0.81, 0.81, 0.82},
     {0.85, 0.85, 0.85, 0.85, 0.85, 0.85, 0.85},
     {1, 1, 1, 1, 1, 1, 1}},
};

double vent__pair_factor(double radius_ratio, double spacing, double twist)
{
    place radius = between_points(pair_radius, 3, radius_ratio);
    place apart = between_points(pair_log_spacing, SPACINGS, log1p(spacing));
    place turned = between_points(pair_twist, TWISTS, degrees(twist));
    double at[2];
    for (int i = 0; i < 2; ++i) {
        const double(*plane)[TWISTS] = pair_factor[radius.before + i];
        at[i] = along_line(read_off(plane[apart.before], turned),
                           read_off(plane[apart.before + 1], turned), apart.share);
    }
    return along_line(at[0], at[1], radius.share);
}

static double both(const double *geometry)
{
    return 2 * vent__pair_factor(geometry[0], geometry[1], geometry[2]);
}

vent__loss vent__pair_rennels(const double *geometry, double bore)
{
    return times(both(geometry), vent__bend_rennels((double[]){VENT_PI / 2, geometry[0]}, bore));
}

vent__slope vent__pair_miller_extra(const double *geometry, double bore, double reynolds)
{
    return scaled(both(geometry),
                  vent__bend_miller_extra((double[]){VENT_PI / 2, geometry[0]}, bore, reynolds));
}

/* ---- elbow with a short outlet: angle, radius ratio, outlet length over bore ------------------- */

/* Miller, figure 9.4: share of the loss that is left where the pipe behind the bend is short, by
 * K_b, read as above. */
static const double outlet_base[] = {0.1, 0.15, 0.2, 0.25, 1};
static const double outlet_length[] = {0, 0.25, 0.5, 0.75, 1,  1.5, 2,  3,
                                       4, 6,    8,   10,   15, 20,  25, 30};
static const double outlet_share[COUNT(outlet_base)][COUNT(outlet_length)] = {
    {0.617, 0.580, 0.535, 0.505, 0.492, 0.491, 0.501, 0.532, 0.562, 0.607, 0.645, 0.682, 0.771,
     0.854, 0.928, 1},
    {0.866, 0.769, 0.681, 0.625, 0.599, 0.594, 0.604, 0.628, 0.657, 0.706, 0.744, 0.775, 0.841,
     0.914, 0.984, 1},
    {1.203, 1.032, 0.836, 0.742, 0.695, 0.665, 0.671, 0.694, 0.719, 0.764, 0.801, 0.832, 0.897,
     0.964, 1, 1},
    {2.71, 2.50, 2.07, 1.20, 0.798, 0.716, 0.722, 0.754, 0.782, 0.824, 0.855, 0.884, 0.955, 1, 1,
     1},
    {2.71, 2.58, 2.32, 1.98, 1.58, 1.13, 0.992, 0.921, 0.904, 0.916, 0.940, 0.963, 1, 1, 1, 1},
};

double vent__outlet_factor(double angle, double radius_ratio, double outlet_ratio)
{
    double base = vent__bend_miller_base(angle, radius_ratio);
    place curve = between_points(outlet_base, COUNT(outlet_base), base);
    place length = between_points(outlet_length, COUNT(outlet_length), outlet_ratio);
    return along_line(read_off(outlet_share[curve.before], length),
                      read_off(outlet_share[curve.before + 1], length), curve.share);
}

vent__loss vent__outlet_rennels(const double *geometry, double bore)
{
    return times(vent__outlet_factor(geometry[0], geometry[1], geometry[2]),
                 vent__bend_rennels(geometry, bore));
}

vent__slope vent__outlet_miller_extra(const double *geometry, double bore, double reynolds)
{
    return scaled(vent__outlet_factor(geometry[0], geometry[1], geometry[2]),
                  vent__bend_miller_extra(geometry, bore, reynolds));
}
