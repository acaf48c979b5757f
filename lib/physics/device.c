/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Devices that are set by hand, or that the air sets: all of them leave an opening of known shape. */
#include "physics/family.h"

#include <ventstack/device.h>
#include <ventstack/units.h>

/* ---- openings ------------------------------------------------------------------------------- */

/* Rennels & Hudson (2012), sharp-edged orifice: the jet contracts, then expands to the bore. */
vent__loss vent__opening_rennels(double free_area)
{
    double beta = sqrt(free_area), b5 = square(free_area) * beta;
    double jet = 1 + 0.622 * (1 - 0.215 * free_area - 0.785 * b5);
    return constant_loss((0.0696 * (1 - b5) * square(jet) + square(jet - free_area)) /
                         square(free_area));
}

/* Idelchik, diagram 4-14. */
vent__loss vent__opening_idelchik(double free_area)
{
    return constant_loss(square((0.707 * sqrt(1 - free_area) + 1 - free_area) / free_area));
}

double vent__overlap(double offset)
{
    return (acos(offset) - offset * sqrt(1 - square(offset))) * 2 / VENT_PI;
}

/* The part of a circle on one side of a straight edge, that lies `height` diameters from the rim. */
static double segment(double height)
{
    double half = acos(fmax(1 - 2 * height, -1));
    return fmin((half - sin(half) * cos(half)) / VENT_PI, 1);
}

/* ---- measured tables ------------------------------------------------------------------------ */

typedef struct measured {
    double x, k;
} measured;

/* Straight between neighbours in x and ln K, which is how these grow; on beyond the last in the
 * same way; the first value below the first. */
static double read_off(const measured *table, int count, double x)
{
    int i = 1;
    while (i < count - 1 && x > table[i].x)
        ++i;
    double share = (fmax(x, table[0].x) - table[i - 1].x) / (table[i].x - table[i - 1].x);
    return table[i - 1].k * pow(table[i].k / table[i - 1].k, share);
}
#define READ_OFF(table, x) read_off(table, (int)(sizeof(table) / sizeof *(table)), x)

/* Weisbach (1855): degrees from open, or the part of the bore that is shut. */
static const measured throttle[] = {{5, 0.24},  {10, 0.52}, {15, 0.90}, {20, 1.54}, {25, 2.51},
                                    {30, 3.91}, {35, 6.22}, {40, 10.8}, {45, 18.7}, {50, 32.6},
                                    {55, 58.8}, {60, 118},  {65, 256},  {70, 751}};
static const measured cock[] = {{5, 0.05},  {10, 0.29}, {15, 0.75}, {20, 1.56}, {25, 3.10},
                                {30, 5.47}, {35, 9.68}, {40, 17.3}, {45, 31.2}, {50, 52.6},
                                {55, 106},  {60, 206},  {65, 486}};
static const measured slide[] = {{0.125, 0.07}, {0.25, 0.26}, {0.375, 0.81}, {0.5, 2.06},
                                 {0.625, 5.52}, {0.75, 17.0}, {0.875, 97.8}};

/* ---- butterfly damper ----------------------------------------------------------------------- */

/* Share of the bore that the blade shuts. */
static double shut_by_blade(const double *geometry)
{
    return square(geometry[1]) * sin(geometry[0]);
}

/* Where the blade of full size would leave the same area free [degrees]: the other formulas know no
 * smaller one. */
static double full_blade_angle(const double *geometry)
{
    return degrees(asin(fmin(shut_by_blade(geometry), 1)));
}

static vent__loss butterfly_idelchik(const double *geometry, double bore)
{
    (void)bore;
    double open = 1 - shut_by_blade(geometry);
    double turbulent = square(1.56 / open - 1);
    double creeping = 120 * (1 + 0.5 * geometry[1] * (1 + sin(geometry[0]))) / square(open);
    return (vent__loss){.k0 = turbulent, .k1 = creeping - 50 * turbulent};
}

static vent__loss butterfly_weisbach(const double *geometry, double bore)
{
    (void)bore;
    return constant_loss(READ_OFF(throttle, full_blade_angle(geometry)));
}

static vent__loss butterfly_miller(const double *geometry, double bore)
{
    (void)bore;
    return constant_loss(619.81 * exp(-7.3211 * (1 - full_blade_angle(geometry) / 90)));
}

static vent__loss butterfly_haves(const double *geometry, double bore)
{
    (void)bore;
    return constant_loss(exp(-1.51 + 0.0842 * full_blade_angle(geometry)));
}

/* Blades differ in thickness, stops and edges. */
static const vent__law butterfly = {
    .relative = 0.20,
    .formula = {{VENT__SOURCE_IDELCHIK_BUTTERFLY, VENT__TURBULENT, butterfly_idelchik, NULL, NULL},
                {VENT__SOURCE_WEISBACH_THROTTLE, VENT__TURBULENT, butterfly_weisbach, NULL, NULL},
                {VENT__SOURCE_MILLER_BUTTERFLY, VENT__TURBULENT, butterfly_miller, NULL, NULL},
                {VENT__SOURCE_HAVES_BLADE, VENT__TURBULENT, butterfly_haves, NULL, NULL}}};

const vent__family vent__butterfly = {
    .name = "butterfly damper",
    .along = &butterfly,
    .against = &butterfly,
    .parameters = 2,
    .parameter = {{"angle", "rad", 0, VENT_RADIANS(85), 0, VENT_RADIANS(70)},
                  {"blade_ratio", "", 0.5, 1, 0.5, 1}},
};

/* ---- gates ---------------------------------------------------------------------------------- */

static vent__loss slide_gate_rennels(const double *geometry, double bore)
{
    (void)bore;
    return vent__opening_rennels(segment(geometry[0]));
}

static vent__loss slide_gate_idelchik(const double *geometry, double bore)
{
    (void)bore;
    return vent__opening_idelchik(segment(geometry[0]));
}

static vent__loss slide_gate_miller(const double *geometry, double bore)
{
    (void)bore;
    return constant_loss(248.89 * exp(-7.8265 * geometry[0]));
}

static double free_of_round_end(const double *geometry)
{
    return 1 - vent__overlap(geometry[0]);
}

static vent__loss gate_valve_rennels(const double *geometry, double bore)
{
    (void)bore;
    return vent__opening_rennels(free_of_round_end(geometry));
}

static vent__loss gate_valve_idelchik(const double *geometry, double bore)
{
    (void)bore;
    return vent__opening_idelchik(free_of_round_end(geometry));
}

static vent__loss gate_valve_weisbach(const double *geometry, double bore)
{
    (void)bore;
    return constant_loss(READ_OFF(slide, 1 - geometry[0]));
}

static vent__loss gate_valve_miller(const double *geometry, double bore)
{
    (void)bore;
    return constant_loss(51.45 * exp(-6.046 * geometry[0]));
}

/* The guide slots, that the opening formulas leave out: published values of open gates run from 0
 * to 0.17. */
static double guide_slots(const double *geometry, double k)
{
    (void)geometry, (void)k;
    return 0.08;
}

static const vent__law slide_gate = {
    .relative = 0.15,
    .more = guide_slots,
    .formula = {{VENT__SOURCE_RENNELS_ORIFICE, VENT__TURBULENT, slide_gate_rennels, NULL, NULL},
                {VENT__SOURCE_IDELCHIK_ORIFICE, VENT__TURBULENT, slide_gate_idelchik, NULL, NULL},
                {VENT__SOURCE_MILLER_SLUICE, VENT__TURBULENT, slide_gate_miller, NULL, NULL}}};

static const vent__law gate_valve = {
    .relative = 0.15,
    .more = guide_slots,
    .formula = {{VENT__SOURCE_RENNELS_ORIFICE, VENT__TURBULENT, gate_valve_rennels, NULL, NULL},
                {VENT__SOURCE_IDELCHIK_ORIFICE, VENT__TURBULENT, gate_valve_idelchik, NULL, NULL},
                {VENT__SOURCE_WEISBACH_GATE, VENT__TURBULENT, gate_valve_weisbach, NULL, NULL},
                {VENT__SOURCE_MILLER_GATE, VENT__TURBULENT, gate_valve_miller, NULL, NULL}}};

const vent__family vent__slide_gate = {
    .name = "slide gate",
    .along = &slide_gate,
    .against = &slide_gate,
    .parameters = 1,
    .parameter = {{"opening", "", 0.02, 1, 0.1, 1}},
};

const vent__family vent__gate_valve = {
    .name = "gate valve",
    .along = &gate_valve,
    .against = &gate_valve,
    .parameters = 1,
    .parameter = {{"opening", "", 0.02, 1, 0.1, 1}},
};

/* ---- ball valve ----------------------------------------------------------------------------- */

/* Where a bore through a ball as wide as 1.52 bores is shut: where Weisbach's cock was. */
static const double SHUT = 82.5;

/* The rims of bore and port cross twice, where the air enters the ball and where it leaves: two
 * sharp-edged openings, one after the other. */
static vent__loss ball_rennels(const double *geometry, double bore)
{
    (void)bore;
    return times(2, vent__opening_rennels(vent__overlap(degrees(geometry[0]) / SHUT)));
}

static vent__loss ball_weisbach(const double *geometry, double bore)
{
    (void)bore;
    return constant_loss(READ_OFF(cock, degrees(geometry[0])));
}

static vent__loss ball_miller(const double *geometry, double bore)
{
    (void)bore;
    return constant_loss(pow(10, 2.9449 - 3.8397 * (1 - degrees(geometry[0]) / 90)));
}

/* Rims and gaps of an open ball of full bore: 0.05 in handbooks. */
static double open_ball(const double *geometry, double k)
{
    (void)geometry, (void)k;
    return 0.05;
}

static const vent__law ball_valve = {
    .relative = 0.15,
    .more = open_ball,
    .formula = {{VENT__SOURCE_RENNELS_ORIFICE, VENT__TURBULENT, ball_rennels, NULL, NULL},
                {VENT__SOURCE_WEISBACH_COCK, VENT__TURBULENT, ball_weisbach, NULL, NULL},
                {VENT__SOURCE_MILLER_BALL, VENT__TURBULENT, ball_miller, NULL, NULL}}};

const vent__family vent__ball_valve = {
    .name = "ball valve",
    .along = &ball_valve,
    .against = &ball_valve,
    .parameters = 1,
    .parameter = {{"angle", "rad", 0, VENT_RADIANS(80), 0, VENT_RADIANS(65)}},
};

/* ---- orifice plate -------------------------------------------------------------------------- */

static const double ORIFICE_LEAST_REYNOLDS = 5e3; /* of the standard; C is held below */

static vent__slope held_discharge(double beta, double bore, double reynolds)
{
    bool held = reynolds < ORIFICE_LEAST_REYNOLDS;
    vent__slope c = vent__orifice_discharge(beta, bore, held ? ORIFICE_LEAST_REYNOLDS : reynolds);
    return (vent__slope){c.value, held ? 0 : c.slope};
}

/* ISO 5167-2: what the plate takes for good, from the discharge coefficient. */
static vent__slope orifice_iso(const double *geometry, double bore, double reynolds)
{
    double b2 = square(geometry[0]), b4 = square(b2);
    vent__slope c = held_discharge(geometry[0], bore, reynolds);
    double root = sqrt(1 - b4 * (1 - square(c.value)));
    double excess = root / (c.value * b2) - 1; /* of the jet's velocity over the pipe's */
    double d_excess = (b4 - 1) / (square(c.value) * b2 * root);
    return (vent__slope){square(excess), 2 * excess * d_excess * c.slope};
}

static vent__loss orifice_rennels(const double *geometry, double bore)
{
    (void)bore;
    return vent__opening_rennels(square(geometry[0]));
}

static vent__loss orifice_idelchik(const double *geometry, double bore)
{
    (void)bore;
    return vent__opening_idelchik(square(geometry[0]));
}

/* The standard's 0.5 to 0.7 % of C are for plates between long straight pipes. */
static const vent__law orifice_plate = {
    .relative = 0.05,
    .formula = {{VENT__SOURCE_ISO_ORIFICE, 5e3, 1e8, vent__no_loss, NULL, orifice_iso},
                {VENT__SOURCE_RENNELS_ORIFICE, VENT__TURBULENT, orifice_rennels, NULL, NULL},
                {VENT__SOURCE_IDELCHIK_ORIFICE, VENT__TURBULENT, orifice_idelchik, NULL, NULL}}};

const vent__family vent__orifice_plate = {
    .name = "orifice plate",
    .along = &orifice_plate,
    .against = &orifice_plate,
    .parameters = 1,
    .parameter = {{"diameter_ratio", "", 0.1, 1, 0.1, 0.75}},
};

/* ---- check damper --------------------------------------------------------------------------- */

static vent__loss swing_hooper(const double *geometry, double bore)
{
    (void)geometry;
    return vent__two_constant((double[]){1500, 1.5}, bore);
}

static vent__loss swing_darby(const double *geometry, double bore)
{
    (void)geometry;
    return vent__three_constant((double[]){1500, 0.46, 4, bore}, bore);
}

static vent__loss swing_perry(const double *geometry, double bore)
{
    (void)geometry, (void)bore;
    return constant_loss(2);
}

static vent__loss leak_rennels(const double *geometry, double bore)
{
    (void)bore;
    return vent__opening_rennels(geometry[1]);
}

static vent__loss leak_idelchik(const double *geometry, double bore)
{
    (void)bore;
    return vent__opening_idelchik(geometry[1]);
}

/* Valves for liquids stand in for a light flap here. */
static const vent__law swing = {
    .relative = 0.40,
    .formula = {{VENT__SOURCE_HOOPER_SWING, VENT__ANY_FLOW, swing_hooper, NULL, NULL},
                {VENT__SOURCE_DARBY_SWING, VENT__ANY_FLOW, swing_darby, NULL, NULL},
                {VENT__SOURCE_PERRY_SWING, VENT__TURBULENT, swing_perry, NULL, NULL}}};

/* A slit is no round hole, and a flap is pressed on by what it holds back. */
static const vent__law leak = {
    .relative = 0.50,
    .formula = {{VENT__SOURCE_RENNELS_ORIFICE, VENT__ANY_FLOW, leak_rennels, NULL, NULL},
                {VENT__SOURCE_IDELCHIK_ORIFICE, VENT__ANY_FLOW, leak_idelchik, NULL, NULL}}};

static double flap_pressure(const double *geometry)
{
    return geometry[0];
}

const vent__family vent__check_damper = {
    .name = "check damper",
    .along = &swing,
    .against = &leak,
    .opening_pressure = flap_pressure,
    .parameters = 2,
    .parameter = {{"opening_pressure", "Pa", 0, 1000, 0, 1000},
                  {"leak_ratio", "", 1e-4, 0.5, 1e-4, 0.5}},
};

/* A closed flap leaks: to this velocity in the pipe the flow passes around it, then it lifts. Like
 * the loss of a leak, the share begins with the square of the flow. */
static const double LIFTS_AT = 0.1; /* m/s */

vent__slope vent__opening_share(double velocity)
{
    double x = fmin(fmax(velocity / LIFTS_AT, 0), 1);
    return (vent__slope){square(x) * (3 - 2 * x), 6 * x * (1 - x) / LIFTS_AT};
}

/* ---- constructors --------------------------------------------------------------------------- */

vent_fitting vent_butterfly_damper(double angle, double blade_ratio, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_BUTTERFLY, (double[]){angle, blade_ratio}, __func__,
                              err);
}

vent_fitting vent_slide_gate(double opening, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_SLIDE_GATE, &opening, __func__, err);
}

vent_fitting vent_gate_valve(double opening, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_GATE_VALVE, &opening, __func__, err);
}

vent_fitting vent_ball_valve(double angle, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_BALL_VALVE, &angle, __func__, err);
}

vent_fitting vent_orifice_plate(double diameter_ratio, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_ORIFICE_PLATE, &diameter_ratio, __func__, err);
}

vent_fitting vent_check_damper(double opening_pressure, double leak_ratio, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_CHECK_DAMPER, (double[]){opening_pressure, leak_ratio},
                              __func__, err);
}
