/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Screens and perforated plates in the pipe, and the formulas of what stands on top. */
#include "physics/family.h"
#include "base/fail.h"

#include <ventstack/screen.h>
#include <ventstack/termination.h>
#include <ventstack/units.h>

/* ---- meshes of round wires ------------------------------------------------------------------ */

/* Idelchik, diagram 8-6. His factor for wire Reynolds numbers below 1000 (1.44 at 50, 1.24 at 100,
 * 1.08 at 200, 1.03 at 300, from memory) is met by 1 + 22/Re within 5 %. */
vent__loss vent__mesh_idelchik(vent__mesh mesh, double bore)
{
    double k = square(mesh.speed) * (1.3 * (1 - mesh.free_area) + square(1 / mesh.free_area - 1));
    return (vent__loss){.k0 = k, .k1 = 22 * k * bore / (mesh.speed * mesh.wire)};
}

/* K on the pipe's velocity pressure and its slope, from a factor on `scale` that depends on the
 * Reynolds number of the wire; `per` is that over the pipe's. */
static vent__slope on_the_pipe(vent__mesh mesh, double scale, vent__slope factor, double per)
{
    scale *= square(mesh.speed);
    return (vent__slope){scale * factor.value, scale * factor.slope * per};
}

static double wire_reynolds_per(vent__mesh mesh, double bore)
{
    return mesh.speed * mesh.wire / bore;
}

/* Velocity pressure between the wires less that in front of them. */
static double gained(double free_area)
{
    return (1 - square(free_area)) / square(free_area);
}

/* Blevins (1984): a table over the wire's Reynolds number, straight between, held beyond. */
vent__slope vent__mesh_blevins(vent__mesh mesh, double bore, double reynolds)
{
    enum { COUNT = 8 };
    static const double at[COUNT] = {20, 30, 40, 60, 80, 100, 200, 400};
    static const double factor[COUNT] = {1.3, 1.1, 0.95, 0.83, 0.75, 0.7, 0.6, 0.52};
    double per = wire_reynolds_per(mesh, bore), re = per * reynolds, slope = 0;
    for (int i = 1; i < COUNT; ++i)
        if (re > at[i - 1] && re <= at[i])
            slope = (factor[i] - factor[i - 1]) / (at[i] - at[i - 1]);
    vent__slope read = {vent__interpolate(COUNT, at, factor, re), slope};
    return on_the_pipe(mesh, gained(mesh.free_area), read, per);
}

/* Brundrett (1993), square to the flow: 7.125/Re + 0.88/lg(Re + 1.25) + 0.055 lg Re. Below a wire
 * Reynolds number of 0.1 only the first term still moves. */
vent__slope vent__mesh_brundrett(vent__mesh mesh, double bore, double reynolds)
{
    double per = wire_reynolds_per(mesh, bore), re = per * reynolds, least = 0.1;
    double held = fmax(re, least), lg = log10(held + 1.25), creeping = 7.125 / re;
    vent__slope factor = {creeping + 0.88 / lg + 0.055 * log10(held), -creeping / re};
    if (re > least)
        factor.slope += 0.055 / (re * log(10)) - 0.88 / (square(lg) * (held + 1.25) * log(10));
    return on_the_pipe(mesh, gained(mesh.free_area), factor, per);
}

/* Wieghardt (1953): 6.5 (1 - f)/f^2 (Re/f)^(-1/3), with the velocity between the wires, for Reynolds
 * numbers of 60 to 1000; held beyond. */
vent__slope vent__mesh_wieghardt(vent__mesh mesh, double bore, double reynolds)
{
    double f = mesh.free_area, per = wire_reynolds_per(mesh, bore) / f, re = per * reynolds;
    double held = fmin(fmax(re, 60), 1000), factor = pow(held, -1.0 / 3);
    double slope = re > 60 && re < 1000 ? -factor / (3 * re) : 0;
    return on_the_pipe(mesh, 6.5 * (1 - f) / square(f), (vent__slope){factor, slope}, per);
}

/* ---- square edges --------------------------------------------------------------------------- */

static vent__loss square_idelchik(const double *geometry, double bore)
{
    (void)bore;
    return vent__opening_idelchik(geometry[0]);
}

static vent__loss square_rennels(const double *geometry, double bore)
{
    (void)bore;
    return vent__opening_rennels(geometry[0]);
}

static vent__loss square_blevins(const double *geometry, double bore)
{
    (void)bore;
    enum { COUNT = 19 };
    static const double at[COUNT] = {0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5,
                                     0.55, 0.6, 0.65, 0.7, 0.75, 0.8, 0.85, 0.9, 1};
    static const double k[COUNT] = {1000, 250, 85,  52,  30,   17,   11,   7.7,  5.5, 3.8,
                                    2.8,  2,   1.5, 1.1, 0.78, 0.53, 0.35, 0.08, 0};
    return constant_loss(vent__interpolate(COUNT, at, k, geometry[0]));
}

/* A plate's holes as one throat of the same free area in a pipe of width 1, as long in its own bores. */
static vent__throat throat_of(const double *geometry)
{
    double bore = sqrt(geometry[0]);
    return (vent__throat){1, bore, 1, bore * geometry[2] / geometry[1]};
}

static vent__loss on_the_face(vent__loss loss, const double *geometry)
{
    return times(1 / square(geometry[0]), loss);
}

static vent__loss plate_idelchik(const double *geometry, double bore)
{
    (void)bore;
    return on_the_face(vent__throat_idelchik(throat_of(geometry)), geometry);
}

static vent__loss plate_rennels(const double *geometry, double bore)
{
    (void)bore;
    return on_the_face(vent__throat_rennels(throat_of(geometry)), geometry);
}

/* The holes' Reynolds number over the pipe's, as a length. */
static double hole_length(const double *geometry)
{
    return geometry[1] / geometry[0];
}

/* ---- what stands on top --------------------------------------------------------------------- */

/* Rennels & Hudson (2012), discharge from a sharp-edged orifice at the end of a pipe; 1 where it is
 * as wide as the pipe. */
double vent__orifice_exit_rennels(double free_area)
{
    double beta = sqrt(free_area), b5 = square(free_area) * beta;
    double jet = 1 + 0.622 * (1 - 0.215 * free_area - 0.785 * b5);
    return (0.0696 * (1 - b5) + 1) * square(jet / free_area);
}

/* Idelchik, discharge from a straight pipe through an orifice or a grid with sharp edges. */
double vent__orifice_exit_idelchik(double free_area)
{
    return square((1 + 0.707 * sqrt(1 - free_area)) / free_area);
}

/* The same ways round: in from still air the jet contracts to the full, then fills the pipe. At the
 * full bore these are both authors' flush entries, 0.57 and 0.5. */
double vent__orifice_entry_rennels(double free_area)
{
    const double jet = 1.622;
    return (0.0696 * square(jet) + square(jet - free_area)) / square(free_area);
}

double vent__orifice_entry_idelchik(double free_area)
{
    return square((1.707 - free_area) / free_area);
}

/* A power law of our own through remembered values: 1.0 at a gap of 0.45 bores, 0.1 at one bore. */
vent__loss vent__weather_cap(const double *geometry, double bore)
{
    (void)bore;
    return constant_loss(0.1 * pow(geometry[0], -2.88));
}

/* Idelchik, diagram 7-29: 1 + k (arm velocity / stem velocity)^2 with k 1.5 for a standard tee. */
vent__loss vent__tee_dividing_idelchik(const double *geometry, double bore)
{
    (void)geometry, (void)bore;
    return constant_loss(1 + 1.5 * square(0.5));
}

/* The same diagram: A [1 + 1 + 3 (q^2 - q)] with A 0.55 (table 7-1) and q one half. */
vent__loss vent__tee_joining_idelchik(const double *geometry, double bore)
{
    (void)geometry, (void)bore;
    return constant_loss(0.55 * (2 + 3 * (0.25 - 0.5)));
}

/* ---- the screen in the pipe ----------------------------------------------------------------- */

double vent_guard_free_area(double wire, double opening)
{
    if (!(wire >= 0 && wire <= 1e6 && opening > 0 && opening <= 1e6))
        return NAN;
    double open_share = opening / (opening + wire);
    return open_share * open_share;
}

bool vent__mesh_lets_air_through(const double *geometry, const char *function, vent_error *err)
{
    double free_area = vent_guard_free_area(geometry[0], geometry[1]);
    if (free_area >= VENT__LEAST_FREE_AREA)
        return true;
    return vent__fail(err, VENT_E_ARGUMENT, function, "opening", -1, geometry[1], NAN, NAN,
                      "%s: opening %.6g m leaves %.3g of the area free between wires of "
                      "%.6g m; it must leave at least %.2g",
                      function, geometry[1], free_area, geometry[0], VENT__LEAST_FREE_AREA);
}

static vent__mesh whole_pipe(const double *geometry)
{
    return (vent__mesh){geometry[0], vent_guard_free_area(geometry[0], geometry[1]), 1};
}

vent__loss vent__screen_idelchik(const double *geometry, double bore)
{
    return vent__mesh_idelchik(whole_pipe(geometry), bore);
}

static vent__slope screen_blevins(const double *geometry, double bore, double reynolds)
{
    return vent__mesh_blevins(whole_pipe(geometry), bore, reynolds);
}

static vent__slope screen_brundrett(const double *geometry, double bore, double reynolds)
{
    return vent__mesh_brundrett(whole_pipe(geometry), bore, reynolds);
}

static vent__slope screen_wieghardt(const double *geometry, double bore, double reynolds)
{
    return vent__mesh_wieghardt(whole_pipe(geometry), bore, reynolds);
}

static double wire_length(const double *geometry)
{
    return geometry[0];
}

static double between_wires(const double *geometry)
{
    return geometry[0] / vent_guard_free_area(geometry[0], geometry[1]);
}

/* ---- laws and families ---------------------------------------------------------------------- */

/* Weaves of one free area differ by this much beside what the authors differ. */
static const vent__law screen = {
    .relative = VENT__WEAVE,
    .formula = {
        {VENT__SOURCE_IDELCHIK_SCREEN, 50, 1e6, vent__screen_idelchik, wire_length, NULL},
        {VENT__SOURCE_BLEVINS_SCREEN, 20, 400, vent__no_loss, wire_length, screen_blevins},
        {VENT__SOURCE_BRUNDRETT_SCREEN, 0.1, 1e4, vent__no_loss, wire_length, screen_brundrett},
        {VENT__SOURCE_WIEGHARDT_SCREEN, 60, 1e3, vent__no_loss, between_wires, screen_wieghardt}}};

static const vent__law square_screen = {
    .relative = 0.10,
    .formula = {{VENT__SOURCE_IDELCHIK_THIN_PLATE, VENT__TURBULENT, square_idelchik, NULL, NULL},
                {VENT__SOURCE_BLEVINS_SQUARE, VENT__TURBULENT, square_blevins, NULL, NULL},
                {VENT__SOURCE_RENNELS_ORIFICE, VENT__TURBULENT, square_rennels, NULL, NULL}}};

/* An entry of 0.5 (1 - f) instead, as others have it, makes thick open plates up to 30 % cheaper. */
static const vent__law perforated_plate = {
    .relative = 0.15,
    .formula = {{VENT__SOURCE_IDELCHIK_THICK_EDGE, 1e3, 1e8, plate_idelchik, hole_length, NULL},
                {VENT__SOURCE_RENNELS_THICK_EDGE, 1e3, 1e8, plate_rennels, hole_length, NULL}}};

const vent__family vent__screen = {
    .name = "screen",
    .along = &screen,
    .against = &screen,
    .parameters = 2,
    .parameter = {VENT__WIRE, VENT__OPENING},
    .sound = vent__mesh_lets_air_through,
};

#define FREE_AREA                                                                                  \
    {                                                                                              \
        "free_area", "", VENT__LEAST_FREE_AREA, 1, VENT__LEAST_FREE_AREA, 0.95                     \
    }

const vent__family vent__square_screen = {
    .name = "square-edged screen",
    .along = &square_screen,
    .against = &square_screen,
    .parameters = 1,
    .parameter = {FREE_AREA},
};

const vent__family vent__perforated_plate = {
    .name = "perforated plate",
    .along = &perforated_plate,
    .against = &perforated_plate,
    .parameters = 3,
    .parameter = {FREE_AREA,
                  {"hole_bore", "m", 1e-4, 1, 1e-4, 1},
                  {"thickness", "m", 0, 0.5, 0, 0.5}},
};

/* ---- constructors --------------------------------------------------------------------------- */

vent_fitting vent_screen(double wire, double opening, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_SCREEN, (double[]){wire, opening}, __func__, err);
}

vent_fitting vent_square_screen(double free_area, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_SQUARE_SCREEN, &free_area, __func__, err);
}

vent_fitting vent_perforated_plate(double free_area, double hole_bore, double thickness,
                                   vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_PERFORATED_PLATE,
                              (double[]){free_area, hole_bore, thickness}, __func__, err);
}
