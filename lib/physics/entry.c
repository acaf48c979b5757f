/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Entries into the pipe, and the exits they are when the flow reverses. */
#include "physics/family.h"
#include "base/fail.h"

#include <ventstack/entry.h>
#include <ventstack/units.h>

/* ---- tables and curves ---------------------------------------------------------------------- */

double vent__interpolate(int count, const double *x, const double *y, double at)
{
    int i = 1;
    while (i < count - 1 && at > x[i])
        ++i;
    double share = (at - x[i - 1]) / (x[i] - x[i - 1]);
    return y[i - 1] + fmin(fmax(share, 0), 1) * (y[i] - y[i - 1]);
}

#define INTERPOLATE(x, y, at) vent__interpolate((int)(sizeof(x) / sizeof *(x)), x, y, at)

/* A table of rows over `y`, each over `x`. */
static double interpolate_grid(int columns, const double *x, int rows, const double *y,
                               const double *table, double at_x, double at_y)
{
    double column[16];
    for (int i = 0; i < rows; ++i)
        column[i] = vent__interpolate(columns, x, table + i * columns, at_x);
    return vent__interpolate(rows, y, column, at_y);
}

static double polynomial(int count, const double *coefficient, double x)
{
    double sum = 0;
    for (int i = 0; i < count; ++i)
        sum = sum * x + coefficient[i];
    return sum;
}

#define POLYNOMIAL(c, x) polynomial((int)(sizeof(c) / sizeof *(c)), c, x)

/* ---- formulas ------------------------------------------------------------------------------- */

vent__loss vent__flush_idelchik(const double *geometry, double bore)
{
    (void)geometry, (void)bore;
    return constant_loss(0.5);
}

vent__loss vent__flush_rennels(const double *geometry, double bore)
{
    (void)geometry, (void)bore;
    return constant_loss(VENT__THICK_END_ENTRY);
}

/* Thicker than a twentieth of the bore, the wall's face acts as a flange. */
vent__loss vent__reentrant_rennels(const double *geometry, double bore)
{
    (void)bore;
    double x = fmin(geometry[0], 0.05);
    return constant_loss(1.12 + x * (-22 + x * (216 + x * 80)));
}

/* Beyond a radius of one bore nothing changes any more (the source rounds 0.029998 to 0.03). */
vent__loss vent__rounded_rennels(const double *geometry, double bore)
{
    (void)bore;
    double ratio = fmin(geometry[0], 1);
    double contraction = fourth(1 - 0.30 * sqrt(ratio) - 0.70 * ratio);
    return constant_loss(vent__contracting_jet(0, 1 - 0.569 * ratio, contraction));
}

/* Idelchik, diagram 3-4, the formula from memory; the values it is fitted to were seen, and it
 * meets them within 0.017. */
vent__loss vent__rounded_idelchik(const double *geometry, double bore)
{
    (void)bore;
    return constant_loss(0.03 + 0.47 * pow(10, -7.7 * geometry[0]));
}

vent__loss vent__rounded_swamee(const double *geometry, double bore)
{
    (void)bore;
    return constant_loss(0.5 / (1 + 36 * pow(geometry[0], 1.2)));
}

static vent__loss flush_crane(const double *geometry, double bore)
{
    (void)geometry, (void)bore;
    return constant_loss(0.5);
}

static vent__loss flush_miller(const double *geometry, double bore)
{
    (void)geometry, (void)bore;
    return constant_loss(0.51);
}

/* ---- in front of a wall: distance from it and wall thickness, over the bore ------------------- */

/* Idelchik, diagram 3-1; a pipe with a wall of a twentieth of the bore is as good as flush. */
static double in_front_of_wall(double distance, double wall)
{
    static const double x[] = {0, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.3, 0.5};
    static const double y[] = {0, 0.004, 0.008, 0.012, 0.016, 0.02, 0.024, 0.03, 0.04, 0.05};
    static const double k[10][10] = {{0.50, 0.57, 0.63, 0.68, 0.73, 0.80, 0.86, 0.92, 0.97, 1.00},
                                     {0.50, 0.54, 0.58, 0.63, 0.67, 0.74, 0.80, 0.86, 0.90, 0.94},
                                     {0.50, 0.53, 0.55, 0.58, 0.62, 0.68, 0.74, 0.81, 0.85, 0.88},
                                     {0.50, 0.52, 0.53, 0.55, 0.58, 0.63, 0.68, 0.75, 0.79, 0.83},
                                     {0.50, 0.51, 0.51, 0.53, 0.55, 0.58, 0.64, 0.70, 0.74, 0.77},
                                     {0.50, 0.51, 0.51, 0.52, 0.53, 0.55, 0.60, 0.66, 0.69, 0.72},
                                     {0.50, 0.50, 0.50, 0.51, 0.52, 0.53, 0.58, 0.62, 0.65, 0.68},
                                     {0.50, 0.50, 0.50, 0.51, 0.52, 0.52, 0.54, 0.57, 0.59, 0.61},
                                     {0.50, 0.50, 0.50, 0.51, 0.51, 0.51, 0.51, 0.52, 0.52, 0.54},
                                     {0.50, 0.50, 0.50, 0.50, 0.50, 0.50, 0.50, 0.50, 0.50, 0.50}};
    return interpolate_grid(10, x, 10, y, k[0], distance, wall);
}

static vent__loss projecting_idelchik(const double *geometry, double bore)
{
    (void)bore;
    return constant_loss(in_front_of_wall(geometry[0], geometry[1]));
}

static vent__loss reentrant_idelchik(const double *geometry, double bore)
{
    (void)bore;
    return constant_loss(in_front_of_wall(1, geometry[0]));
}

/* The fluids package's polynomial through Miller's curve, up to a wall of 0.3 bores. */
static vent__loss reentrant_miller(const double *geometry, double bore)
{
    static const double c[] = {3.5979871366071166,    -2.735407311020481,   -14.08678246875138,
                               10.637236472292983,    21.99568490754116,    -16.38501138746954,
                               -17.62779826803278,    12.945551397987447,   7.715463242992863,
                               -5.850893341031715,    -1.3809402870404826,  1.179637166644488,
                               0.08781141316107932,   -0.09751968111743672, 0.00501792061942849,
                               0.0026378278251172615, 0.5309019247035696};
    (void)bore;
    return constant_loss(POLYNOMIAL(c, (fmin(geometry[0], 0.3) - 0.15) / 0.15));
}

/* ---- worked edges --------------------------------------------------------------------------- */

static vent__loss rounded_crane(const double *geometry, double bore)
{
    static const double radius[] = {0, 0.02, 0.04, 0.06, 0.10, 0.15};
    static const double k[] = {0.5, 0.28, 0.24, 0.15, 0.09, 0.04};
    (void)bore;
    return constant_loss(INTERPOLATE(radius, k, geometry[0]));
}

/* The fluids package's polynomial through Miller's curve, up to a radius of 0.3 bores. */
static vent__loss rounded_miller(const double *geometry, double bore)
{
    static const double c[] = {1.3127209945178038,    0.19963046592715727,  -6.49081916725612,
                               -0.10347409377743588,  12.68369791325003,    -0.9435681020599904,
                               -12.44320584089916,    1.328251365167716,    6.668390027065714,
                               -0.4356382649470076,   -2.209229212394282,   -0.07222448354500295,
                               0.6786898049825905,    -0.18686362789567468, 0.020064570486606065,
                               -0.013120241146656442, 0.061951596342059975};
    (void)bore;
    return constant_loss(POLYNOMIAL(c, (fmin(geometry[0], 0.3) - 0.15) / 0.15));
}

static vent__loss bell_idelchik(const double *geometry, double bore)
{
    static const double radius[] = {0,    0.01, 0.02, 0.03, 0.04, 0.05,
                                    0.06, 0.08, 0.10, 0.12, 0.16, 0.20};
    static const double k[] = {1.00, 0.87, 0.74, 0.61, 0.51, 0.40,
                               0.32, 0.20, 0.15, 0.10, 0.06, 0.03};
    (void)bore;
    return constant_loss(INTERPOLATE(radius, k, geometry[0]));
}

static vent__loss bevelled_rennels(const double *geometry, double bore)
{
    (void)bore;
    double length = geometry[0], angle = fmin(geometry[1] / (VENT_PI / 2), 1);
    double bevel = (1 - angle) * pow(angle, 1 / (1 + length));
    double reach = pow(length, (1 - pow(length, 0.25)) / 2);
    return constant_loss(vent__contracting_jet(0, 1 - bevel * length, 1 - 1.5 * bevel * reach));
}

/* The table begins at a length of 0.025 bores; the sharp edge stands before it. */
double vent__bevel_idelchik(double length_ratio, double angle)
{
    static const double x[] = {0, 10, 20, 30, 40, 60, 100, 140, 180}; /* between opposite walls */
    static const double y[] = {0, 0.025, 0.05, 0.075, 0.1, 0.15, 0.6};
    static const double k[7][9] = {{0.50, 0.50, 0.50, 0.50, 0.50, 0.50, 0.50, 0.50, 0.50},
                                   {0.50, 0.47, 0.45, 0.43, 0.41, 0.40, 0.42, 0.45, 0.50},
                                   {0.50, 0.45, 0.41, 0.36, 0.33, 0.30, 0.35, 0.42, 0.50},
                                   {0.50, 0.42, 0.35, 0.30, 0.26, 0.23, 0.30, 0.40, 0.50},
                                   {0.50, 0.39, 0.32, 0.25, 0.22, 0.18, 0.27, 0.38, 0.50},
                                   {0.50, 0.37, 0.27, 0.20, 0.16, 0.15, 0.25, 0.37, 0.50},
                                   {0.50, 0.27, 0.18, 0.13, 0.11, 0.12, 0.23, 0.36, 0.50}};
    return interpolate_grid(9, x, 7, y, k[0], degrees(2 * angle), length_ratio);
}

static vent__loss bevelled_idelchik(const double *geometry, double bore)
{
    (void)bore;
    return constant_loss(vent__bevel_idelchik(geometry[0], geometry[1]));
}

/* ---- at an angle ---------------------------------------------------------------------------- */

static vent__loss quadratic_in_cosine(double angle, double a, double b, double c)
{
    double x = cos(angle);
    return constant_loss(a + x * (b + x * c));
}

static vent__loss angled_rennels(const double *geometry, double bore)
{
    (void)bore;
    return quadratic_in_cosine(geometry[0], VENT__THICK_END_ENTRY, 0.30, 0.20);
}

static vent__loss angled_idelchik(const double *geometry, double bore)
{
    (void)bore;
    return quadratic_in_cosine(geometry[0], 0.5, 0.30, 0.20);
}

static vent__loss angled_weisbach(const double *geometry, double bore)
{
    (void)bore;
    return quadratic_in_cosine(geometry[0], 0.505, 0.303, 0.226);
}

/* ---- through a hole in a slab: hole, slab, radius of the pit ----------------------------------- */

static vent__throat hole_inwards(const double *geometry, double bore)
{
    return (vent__throat){2 * geometry[2], geometry[0], bore, geometry[1]};
}

static vent__throat hole_outwards(const double *geometry, double bore)
{
    return (vent__throat){bore, geometry[0], 2 * geometry[2], geometry[1]};
}

static vent__loss on_pipe_from_hole(vent__loss loss, const double *geometry, double bore)
{
    return times(fourth(bore / geometry[0]), loss);
}

static vent__loss hole_idelchik(const double *geometry, double bore)
{
    return on_pipe_from_hole(vent__throat_idelchik(hole_inwards(geometry, bore)), geometry, bore);
}

static vent__loss hole_idelchik_reversed(const double *geometry, double bore)
{
    return on_pipe_from_hole(vent__throat_idelchik(hole_outwards(geometry, bore)), geometry, bore);
}

static vent__loss hole_rennels(const double *geometry, double bore)
{
    return on_pipe_from_hole(vent__throat_rennels(hole_inwards(geometry, bore)), geometry, bore);
}

static vent__loss hole_rennels_reversed(const double *geometry, double bore)
{
    return on_pipe_from_hole(vent__throat_rennels(hole_outwards(geometry, bore)), geometry, bore);
}

/* ---- perforated pipe, one end closed ----------------------------------------------------------
 *
 * With u the flow over that at the open end, s the length over the whole, P the pressure across the
 * wall over the velocity pressure at the open end and g the area of all holes, as they discharge,
 * over that of the bore: each hole passes du/ds = g sqrt(P). */

static double discharging_area_ratio(const double *geometry, double bore)
{
    return geometry[3] * geometry[0] * geometry[2] * square(geometry[1] / bore);
}

/* Inwards the air brings no momentum along the pipe: dP/du = 4 u, hence u = sinh(t s)/sinh(t) with
 * t = sqrt(2) g. Wall friction adds u^2 f L/D to dP/ds: its effect to the first order in f. Where t
 * is 300 all has long entered at the open end. */
static vent__loss collecting_pipe(const double *geometry, double bore)
{
    double t = fmin(sqrt(2) * discharging_area_ratio(geometry, bore), 300);
    double coth = 1 / tanh(t), sinh2 = square(sinh(t));
    double share = t < 1e-3 ? 0.25 : coth * (1 - log1p(sinh2) / sinh2) / (2 * t);
    return (vent__loss){.k0 = 2 * square(coth) - 1, .kf = share * geometry[2] / bore};
}

/* Outwards the pipe keeps its total pressure: dP/du = -2 u, hence u = sin(g s)/sin(g), until the
 * holes discharge so well that the velocity pressure at the open end is all there is. */
static vent__loss emitting_pipe(const double *geometry, double bore)
{
    double g = fmin(discharging_area_ratio(geometry, bore), VENT_PI / 2);
    double sin2 = fmin(square(sin(g)), 1 - 1e-15), cot = sqrt(1 / sin2 - 1);
    double share = g < 1e-3 ? 0.25 : -cot * (1 + log1p(-sin2) / sin2) / (2 * g);
    return (vent__loss){.k0 = 1 / square(sin(g)), .kf = share * geometry[2] / bore};
}

/* ---- laws ----------------------------------------------------------------------------------- */

static const vent__law flush = {
    .relative = 0.05,
    .formula = {{VENT__SOURCE_IDELCHIK_FLUSH, 1e4, 1e8, vent__flush_idelchik, NULL, NULL},
                {VENT__SOURCE_RENNELS_FLUSH, VENT__TURBULENT, vent__flush_rennels, NULL, NULL},
                {VENT__SOURCE_CRANE_FLUSH, VENT__TURBULENT, flush_crane, NULL, NULL},
                {VENT__SOURCE_MILLER_FLUSH, VENT__TURBULENT, flush_miller, NULL, NULL}}};

static const vent__law reentrant = {
    .relative = 0.12,
    .formula = {
        {VENT__SOURCE_RENNELS_REENTRANT, VENT__TURBULENT, vent__reentrant_rennels, NULL, NULL},
        {VENT__SOURCE_IDELCHIK_PROJECTING, 1e4, 1e8, reentrant_idelchik, NULL, NULL},
        {VENT__SOURCE_MILLER_PROJECTING, VENT__TURBULENT, reentrant_miller, NULL, NULL}}};

/* The only source with both distance and wall; others lie up to 13 % higher where they meet it. */
static const vent__law projecting = {
    .relative = 0.12,
    .formula = {{VENT__SOURCE_IDELCHIK_PROJECTING, 1e4, 1e8, projecting_idelchik, NULL, NULL}}};

static const vent__law rounded = {
    .relative = 0.25,
    .formula = {{VENT__SOURCE_RENNELS_ROUNDED, VENT__TURBULENT, vent__rounded_rennels, NULL, NULL},
                {VENT__SOURCE_IDELCHIK_ROUNDED, 1e4, 1e8, vent__rounded_idelchik, NULL, NULL},
                {VENT__SOURCE_SWAMEE_ROUNDED, VENT__TURBULENT, vent__rounded_swamee, NULL, NULL},
                {VENT__SOURCE_CRANE_ROUNDED, VENT__TURBULENT, rounded_crane, NULL, NULL},
                {VENT__SOURCE_MILLER_ROUNDED, VENT__TURBULENT, rounded_miller, NULL, NULL}}};

/* One table, two digits; what is left of so small a loss is little known. */
static const vent__law bell = {
    .relative = 0.20,
    .formula = {{VENT__SOURCE_IDELCHIK_BELL, 1e4, 1e8, bell_idelchik, NULL, NULL}}};

static const vent__law bevelled = {
    .relative = 0.20,
    .formula = {{VENT__SOURCE_RENNELS_BEVELLED, VENT__TURBULENT, bevelled_rennels, NULL, NULL},
                {VENT__SOURCE_IDELCHIK_BEVEL, 1e4, 1e8, bevelled_idelchik, NULL, NULL}}};

static const vent__law angled = {
    .relative = 0.10,
    .formula = {{VENT__SOURCE_RENNELS_ANGLED, VENT__TURBULENT, angled_rennels, NULL, NULL},
                {VENT__SOURCE_IDELCHIK_ANGLED, 1e4, 1e8, angled_idelchik, NULL, NULL},
                {VENT__SOURCE_WEISBACH_ANGLED, VENT__TURBULENT, angled_weisbach, NULL, NULL}}};

/* A cored edge is neither sharp nor worked, and a pit no pipe: more than the orifice's own 10 %. */
static const vent__law hole = {
    .relative = 0.20,
    .formula = {{VENT__SOURCE_IDELCHIK_THICK_EDGE, VENT__TURBULENT, hole_idelchik, NULL, NULL},
                {VENT__SOURCE_RENNELS_THICK_EDGE, VENT__TURBULENT, hole_rennels, NULL, NULL}}};

static const vent__law hole_reversed = {
    .relative = 0.20,
    .formula = {
        {VENT__SOURCE_IDELCHIK_THICK_EDGE, VENT__TURBULENT, hole_idelchik_reversed, NULL, NULL},
        {VENT__SOURCE_RENNELS_THICK_EDGE, VENT__TURBULENT, hole_rennels_reversed, NULL, NULL}}};

/* Twice the 10 % of a drilled hole's discharge coefficient. */
static const vent__law collecting = {
    .relative = 0.20,
    .formula = {{VENT__SOURCE_COLLECTING_PIPE, VENT__TURBULENT, collecting_pipe, NULL, NULL}}};

static const vent__law emitting = {
    .relative = 0.20,
    .formula = {{VENT__SOURCE_EMITTING_PIPE, VENT__TURBULENT, emitting_pipe, NULL, NULL}}};

/* An entry the air leaves by. The kinetic energy of a turbulent profile is 1.03 to 1.06 times that
 * of the mean velocity, which the convention K = 1 leaves out. */
const vent__law vent__exit = {
    .plain = 1,
    .plain_uncertainty = 0.05,
    .plain_source = VENT__SOURCE_EXIT,
    .formula = {{VENT__SOURCE_EXIT, VENT__TURBULENT, vent__no_loss, NULL, NULL}}};

/* ---- families ------------------------------------------------------------------------------- */

const vent__family vent__flush = {
    .name = "flush entry",
    .along = &flush,
    .against = &vent__exit,
};

const vent__family vent__reentrant = {
    .name = "re-entrant entry",
    .along = &reentrant,
    .against = &vent__exit,
    .parameters = 1,
    .parameter = {{"wall_ratio", "", 0, 0.5, 0, 0.5}},
};

const vent__family vent__rounded = {
    .name = "rounded entry",
    .along = &rounded,
    .against = &vent__exit,
    .parameters = 1,
    .parameter = {{"radius_ratio", "", 0, 10, 0, 10}},
};

const vent__family vent__projecting = {
    .name = "projecting entry",
    .along = &projecting,
    .against = &vent__exit,
    .parameters = 2,
    .parameter = {{"projection_ratio", "", 0, 100, 0, 100}, {"wall_ratio", "", 0, 0.5, 0, 0.5}},
};

const vent__family vent__bevelled = {
    .name = "bevelled entry",
    .along = &bevelled,
    .against = &vent__exit,
    .parameters = 2,
    .parameter = {{"length_ratio", "", 0, 1, 0, 0.6},
                  {"bevel_angle", "rad", 0, VENT__HALF_TURN / 2, 0, VENT__HALF_TURN / 2}},
};

const vent__family vent__angled = {
    .name = "angled entry",
    .along = &angled,
    .against = &vent__exit,
    .parameters = 1,
    .parameter = {{"angle", "rad", VENT_RADIANS(5), VENT__HALF_TURN / 2, VENT_RADIANS(20),
                   VENT__HALF_TURN / 2}},
};

const vent__family vent__bell = {
    .name = "bell entry",
    .along = &bell,
    .against = &vent__exit,
    .parameters = 1,
    .parameter = {{"radius_ratio", "", 0, 10, 0, 10}},
};

const vent__family vent__cored_hole = {
    .name = "cored hole",
    .along = &hole,
    .against = &hole_reversed,
    .parameters = 3,
    .parameter = {{"hole_bore", "m", 1e-3, 10, 1e-3, 10},
                  {"slab_thickness", "m", 0, 10, 0, 10},
                  {"pit_radius", "m", 1e-3, 100, 1e-3, 100}},
};

const vent__family vent__perforated = {
    .name = "perforated pipe",
    .along = &collecting,
    .against = &emitting,
    .parameters = 4,
    .parameter = {{"holes_per_length", "1/m", 0.1, 1e5, 0.1, 1e5},
                  {"hole_bore", "m", 1e-4, 1, 1e-4, 1},
                  {"length", "m", 1e-3, 1000, 1e-3, 1000},
                  {"discharge_coefficient", "", 0.1, 1, 0.5, 0.9}},
};

/* ---- constructors --------------------------------------------------------------------------- */

vent_fitting vent_entry_flush(void)
{
    return vent__fitting_make(VENT_FITTING_ENTRY_FLUSH, NULL, __func__, NULL);
}

vent_fitting vent_entry_reentrant(double wall_ratio, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_ENTRY_REENTRANT, &wall_ratio, __func__, err);
}

vent_fitting vent_entry_rounded(double radius_ratio, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_ENTRY_ROUNDED, &radius_ratio, __func__, err);
}

vent_fitting vent_entry_projecting(double projection_ratio, double wall_ratio, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_ENTRY_PROJECTING,
                              (double[]){projection_ratio, wall_ratio}, __func__, err);
}

vent_fitting vent_entry_bevelled(double length_ratio, double bevel_angle, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_ENTRY_BEVELLED, (double[]){length_ratio, bevel_angle},
                              __func__, err);
}

vent_fitting vent_entry_angled(double angle, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_ENTRY_ANGLED, &angle, __func__, err);
}

vent_fitting vent_entry_bell(double radius_ratio, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_ENTRY_BELL, &radius_ratio, __func__, err);
}

vent_fitting vent_entry_cored_hole(double hole_bore, double slab_thickness, double pit_radius,
                                   vent_error *err)
{
    vent_fitting fitting =
        vent__fitting_make(VENT_FITTING_ENTRY_CORED_HOLE,
                           (double[]){hole_bore, slab_thickness, pit_radius}, __func__, err);
    if (fitting.family != VENT_FITTING_NONE && !VENT__RANGE(pit_radius, "m", hole_bore / 2, 100))
        return (vent_fitting){.family = VENT_FITTING_NONE, .factor = NAN};
    return fitting;
}

double vent_pit_radius(double volume, vent_error *err)
{
    if (vent__failed(err) || !VENT__RANGE(volume, "m3", 1e-9, 1e6))
        return NAN;
    return cbrt(3 * volume / (2 * VENT_PI));
}

vent_fitting vent_entry_perforated(double holes_per_length, double hole_bore, double length,
                                   double discharge_coefficient, vent_error *err)
{
    return vent__fitting_make(
        VENT_FITTING_ENTRY_PERFORATED,
        (double[]){holes_per_length, hole_bore, length, discharge_coefficient}, __func__, err);
}
