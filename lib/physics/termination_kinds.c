/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/termination_kinds.h"

#include <ventstack/units.h>

_Static_assert(sizeof(vent_stream) == 40, "vent_stream is frozen");

/* ---- what blocks the end --------------------------------------------------------------------- */

/* What it costs beyond the clean end, on the velocity pressure there. */
static double blocked_exit(const double *geometry)
{
    return vent__is_blocked(geometry) ? vent__orifice_exit_rennels(vent__free_share(geometry)) - 1
                                      : 0;
}

static double blocked_entry(const double *geometry)
{
    return vent__is_blocked(geometry) ? vent__orifice_entry_rennels(vent__free_share(geometry)) -
                                            vent__orifice_entry_rennels(1)
                                      : 0;
}

/* Sharp edges cost the most; ice with well rounded ones may cost half. */
static const double BLOCKED_DOUBT = 0.3;

/* ---- the cases ---------------------------------------------------------------------------- */

/* What each termination adds to the plain end of a pipe: along the way, to the exit's own 1;
 * against it, to the entry into a pipe end of the wall thickness plastic pipe has. */

#define TURBULENT 4e3, 1e8

/* The kinetic energy of a turbulent profile is 1.03 to 1.06 times that of the mean velocity. */
#define EXIT .plain = 1, .plain_uncertainty = 0.05, .plain_source = VENT__SOURCE_EXIT
/* Sheet metal ends are thinner and cost up to 1. */
#define ENTRY                                                                                      \
    .plain = VENT__THICK_END_ENTRY, .plain_uncertainty = 0.12,                                     \
    .plain_source = VENT__SOURCE_RENNELS_REENTRANT

/* A formula of a termination: the part's own, and what blocks its end, where the velocity pressure
 * is `pressure` times the pipe's. */
#define ENDED(name, own, blocked, pressure)                                                        \
    static vent__loss name(const double *geometry, double bore)                                    \
    {                                                                                              \
        vent__loss loss = own(geometry, bore);                                                     \
        loss.k0 += pressure(geometry) * blocked(geometry);                                         \
        return loss;                                                                               \
    }

/* The standard uncertainty of such a formula's value k: a share of the part's own, and of what
 * blocks its end. */
#define DOUBTED(name, relative, blocked, pressure)                                                 \
    static double name(const double *geometry, double k)                                           \
    {                                                                                              \
        double shut = pressure(geometry) * blocked(geometry);                                      \
        return hypot((relative) * (k - shut), BLOCKED_DOUBT * shut);                               \
    }

static double whole(const double *geometry)
{
    (void)geometry;
    return 1;
}

/* ---- open end */

static const vent__law plain_exit = {
    EXIT, .formula = {{VENT__SOURCE_EXIT, TURBULENT, vent__no_loss, NULL, NULL}}};
static const vent__law plain_entry = {
    ENTRY, .formula = {{VENT__SOURCE_RENNELS_REENTRANT, TURBULENT, vent__no_loss, NULL, NULL}}};

ENDED(blocked_exit_rennels, vent__no_loss, blocked_exit, whole)
ENDED(blocked_entry_rennels, vent__no_loss, blocked_entry, whole)

static vent__loss blocked_exit_idelchik(const double *geometry, double bore)
{
    (void)bore;
    return constant_loss(vent__orifice_exit_idelchik(vent__free_share(geometry)) - 1);
}

static vent__loss blocked_entry_idelchik(const double *geometry, double bore)
{
    (void)bore;
    return constant_loss(vent__orifice_entry_idelchik(vent__free_share(geometry)) -
                         vent__orifice_entry_idelchik(1));
}

static const vent__law partial_exit = {
    EXIT, .relative = BLOCKED_DOUBT,
    .formula = {{VENT__SOURCE_RENNELS_ORIFICE_EXIT, TURBULENT, blocked_exit_rennels, NULL, NULL},
                {VENT__SOURCE_IDELCHIK_GRID_EXIT, TURBULENT, blocked_exit_idelchik, NULL, NULL}}};
static const vent__law partial_entry = {
    ENTRY, .relative = BLOCKED_DOUBT,
    .formula = {{VENT__SOURCE_ORIFICE_ENTRY, TURBULENT, blocked_entry_rennels, NULL, NULL},
                {VENT__SOURCE_IDELCHIK_GRID_ENTRY, TURBULENT, blocked_entry_idelchik, NULL, NULL}}};

/* ---- bends */

/* The bend's coefficient holds for 30 bores of straight pipe behind it. Without any, sources do not
 * agree even on the sign of the change: Miller's correction runs from 0.6 at a coefficient of 0.1
 * over 0.9 at 0.15 to 2.7 from 0.25 on, and is below 1 again within one bore. It is one of the
 * sources, not the default. */
#define SHORT_OUTLET 0.6
#define BEND_ENTRY   0.25

static vent__loss bend_without_outlet(const double *geometry, double bore)
{
    return vent__outlet_rennels((double[]){geometry[0], geometry[1], 0}, bore);
}

static vent__loss return_rennels(const double *geometry, double bore)
{
    return vent__bend_rennels((double[]){VENT_PI, geometry[0]}, bore);
}

static vent__loss return_idelchik(const double *geometry, double bore)
{
    return vent__bend_idelchik((double[]){VENT_PI, geometry[0]}, bore);
}

static vent__slope return_idelchik_extra(const double *geometry, double bore, double reynolds)
{
    return vent__bend_idelchik_extra((double[]){VENT_PI, geometry[0]}, bore, reynolds);
}

ENDED(bend_rennels_out, vent__bend_rennels, blocked_exit, whole)
ENDED(bend_idelchik_out, vent__bend_idelchik, blocked_exit, whole)
ENDED(bend_miller_out, bend_without_outlet, blocked_exit, whole)
ENDED(return_rennels_out, return_rennels, blocked_exit, whole)
ENDED(return_idelchik_out, return_idelchik, blocked_exit, whole)
DOUBTED(bend_out_doubt, SHORT_OUTLET, blocked_exit, whole)

ENDED(bend_rennels_in, vent__bend_rennels, blocked_entry, whole)
ENDED(bend_idelchik_in, vent__bend_idelchik, blocked_entry, whole)
ENDED(return_rennels_in, return_rennels, blocked_entry, whole)
ENDED(return_idelchik_in, return_idelchik, blocked_entry, whole)
DOUBTED(bend_in_doubt, BEND_ENTRY, blocked_entry, whole)

static bool turn_is_covered(int32_t source, double angle, double radius_ratio)
{
    bool rennels = source == VENT__SOURCE_RENNELS_BEND || source == VENT__SOURCE_MILLER_OUTLET;
    return !rennels || vent__bend_rennels_covers(angle, radius_ratio);
}

static bool elbow_is_covered(int32_t source, const double *geometry, double bore)
{
    (void)bore;
    return turn_is_covered(source, geometry[0], geometry[1]);
}

static bool return_is_covered(int32_t source, const double *geometry, double bore)
{
    (void)bore;
    return turn_is_covered(source, VENT_PI, geometry[0]);
}

static const vent__law end_bend = {
    EXIT, .more = bend_out_doubt,
    .formula = {
        {VENT__SOURCE_RENNELS_BEND, TURBULENT, bend_rennels_out, NULL, NULL},
        {VENT__SOURCE_IDELCHIK_BEND, TURBULENT, bend_idelchik_out, NULL, vent__bend_idelchik_extra},
        {VENT__SOURCE_MILLER_OUTLET, TURBULENT, bend_miller_out, NULL, NULL}}};
static const vent__law entry_bend = {
    ENTRY, .more = bend_in_doubt,
    .formula = {{VENT__SOURCE_RENNELS_BEND, TURBULENT, bend_rennels_in, NULL, NULL},
                {VENT__SOURCE_IDELCHIK_BEND, TURBULENT, bend_idelchik_in, NULL,
                 vent__bend_idelchik_extra}}};

static const vent__law end_return = {
    EXIT, .more = bend_out_doubt,
    .formula = {
        {VENT__SOURCE_RENNELS_BEND, TURBULENT, return_rennels_out, NULL, NULL},
        {VENT__SOURCE_IDELCHIK_BEND, TURBULENT, return_idelchik_out, NULL, return_idelchik_extra}}};
static const vent__law entry_return = {
    ENTRY, .more = bend_in_doubt,
    .formula = {
        {VENT__SOURCE_RENNELS_BEND, TURBULENT, return_rennels_in, NULL, NULL},
        {VENT__SOURCE_IDELCHIK_BEND, TURBULENT, return_idelchik_in, NULL, return_idelchik_extra}}};

/* ---- tee */

/* Each arm carries half the flow, so its velocity pressure is a quarter of the stem's. */
static double arm_pressure(const double *geometry)
{
    (void)geometry;
    return 0.25;
}

static vent__loss tee_dividing(const double *geometry, double bore)
{
    vent__loss loss = vent__tee_dividing_idelchik(geometry, bore);
    loss.k0 += arm_pressure(geometry) - 1;
    return loss;
}

static vent__loss tee_joining(const double *geometry, double bore)
{
    vent__loss loss = vent__tee_joining_idelchik(geometry, bore);
    loss.k0 += VENT__THICK_END_ENTRY * (arm_pressure(geometry) - 1);
    return loss;
}

/* The source's k of 1.5 is for a standard threaded tee and falls to 0.3 (from memory) for a smooth
 * one: 0.625 to 0.325 above the exit's own. */
ENDED(tee_out, tee_dividing, blocked_exit, arm_pressure)
DOUBTED(tee_out_doubt, 0.3, blocked_exit, arm_pressure)
ENDED(tee_in, tee_joining, blocked_entry, arm_pressure)
DOUBTED(tee_in_doubt, 0.5, blocked_entry, arm_pressure)

static const vent__law end_tee = {
    EXIT, .more = tee_out_doubt,
    .formula = {{VENT__SOURCE_IDELCHIK_TEE, TURBULENT, tee_out, NULL, NULL}}};
static const vent__law entry_tee = {
    ENTRY, .more = tee_in_doubt,
    .formula = {{VENT__SOURCE_IDELCHIK_TEE, TURBULENT, tee_in, NULL, NULL}}};

/* ---- guards */

/* The air passes the mesh only where nothing blocks it, the faster the less is free. That of a dome
 * has more area than the pipe. */
static vent__mesh flat_mesh(const double *geometry)
{
    return (vent__mesh){geometry[0], vent_guard_free_area(geometry[0], geometry[1]),
                        1 / vent__free_share(geometry)};
}

static vent__mesh domed_mesh(const double *geometry)
{
    vent__mesh mesh = flat_mesh(geometry);
    mesh.speed /= geometry[2];
    return mesh;
}

DOUBTED(mesh_out_doubt, VENT__WEAVE, blocked_exit, whole)
DOUBTED(mesh_in_doubt, VENT__WEAVE, blocked_entry, whole)

/* Each author's formula for one kind of mesh, and the two laws made of them. */
#define MESH(kind, mesh_of)                                                                        \
    static vent__loss kind##_idelchik(const double *geometry, double bore)                         \
    {                                                                                              \
        return vent__mesh_idelchik(mesh_of(geometry), bore);                                       \
    }                                                                                              \
    static vent__slope kind##_blevins(const double *geometry, double bore, double reynolds)        \
    {                                                                                              \
        return vent__mesh_blevins(mesh_of(geometry), bore, reynolds);                              \
    }                                                                                              \
    static vent__slope kind##_brundrett(const double *geometry, double bore, double reynolds)      \
    {                                                                                              \
        return vent__mesh_brundrett(mesh_of(geometry), bore, reynolds);                            \
    }                                                                                              \
    static vent__slope kind##_wieghardt(const double *geometry, double bore, double reynolds)      \
    {                                                                                              \
        return vent__mesh_wieghardt(mesh_of(geometry), bore, reynolds);                            \
    }                                                                                              \
    static double kind##_wire(const double *geometry)                                              \
    {                                                                                              \
        return geometry[0] * mesh_of(geometry).speed;                                              \
    }                                                                                              \
    static double kind##_between(const double *geometry)                                           \
    {                                                                                              \
        return kind##_wire(geometry) / mesh_of(geometry).free_area;                                \
    }                                                                                              \
    ENDED(kind##_idelchik_out, kind##_idelchik, blocked_exit, whole)                               \
    ENDED(kind##_idelchik_in, kind##_idelchik, blocked_entry, whole)                               \
    static const vent__law end_##kind = {EXIT, .more = mesh_out_doubt,                             \
                                         .formula = MESH_FORMULAS(kind, out, exit)};               \
    static const vent__law entry_##kind = {ENTRY, .more = mesh_in_doubt,                           \
                                           .formula = MESH_FORMULAS(kind, in, entry)};

#define MESH_FORMULAS(kind, way, end)                                                              \
    {                                                                                              \
        {VENT__SOURCE_IDELCHIK_SCREEN, 50, 1e6, kind##_idelchik_##way, kind##_wire, NULL},         \
            {VENT__SOURCE_BLEVINS_SCREEN, 20,          400,                                        \
             blocked_##end##_rennels,     kind##_wire, kind##_blevins},                            \
            {VENT__SOURCE_BRUNDRETT_SCREEN, 0.1,         1e4,                                      \
             blocked_##end##_rennels,       kind##_wire, kind##_brundrett},                        \
        {                                                                                          \
            VENT__SOURCE_WIEGHARDT_SCREEN, 60, 1e3, blocked_##end##_rennels, kind##_between,       \
                kind##_wieghardt                                                                   \
        }                                                                                          \
    }

MESH(guard, flat_mesh)
MESH(dome, domed_mesh)

/* ---- rain cap */

/* In the gap, whose area is 4 x its height over the bore times the pipe's. */
static double gap_pressure(const double *geometry)
{
    return 1 / square(4 * geometry[0]);
}

/* 30 %, as the values are from memory; two printed designs lie at 0.2 to 0.25 and at 1.0. */
ENDED(cap_out, vent__weather_cap, blocked_exit, gap_pressure)
DOUBTED(cap_out_doubt, 0.3, blocked_exit, gap_pressure)
/* Drawn in under the cap: nothing published was found; the same, with the whole of it in doubt. */
ENDED(cap_in, vent__weather_cap, blocked_entry, gap_pressure)
DOUBTED(cap_in_doubt, 1, blocked_entry, gap_pressure)

static const vent__law end_cap = {
    EXIT, .more = cap_out_doubt,
    .formula = {{VENT__SOURCE_WEATHER_CAP, TURBULENT, cap_out, NULL, NULL}}};
static const vent__law entry_cap = {
    ENTRY, .more = cap_in_doubt,
    .formula = {{VENT__SOURCE_WEATHER_CAP, TURBULENT, cap_in, NULL, NULL}}};

/* ---- conical outlet */

static double mouth_pressure(const double *geometry)
{
    return 1 / fourth(geometry[0]);
}

/* The cone's own loss and what leaves its mouth, less the 1 of the plain end; in, the mouth's entry
 * and the cone, less the plain end's. */
static vent__loss with_mouth(vent__loss cone, const double *geometry, double end)
{
    cone.k0 += end * (mouth_pressure(geometry) - 1);
    return cone;
}

#define CONE(name, formula, end)                                                                   \
    static vent__loss name(const double *geometry, double bore)                                    \
    {                                                                                              \
        vent__loss cone = formula((double[]){geometry[0] * bore, geometry[1]}, bore);              \
        return with_mouth(cone, geometry, end);                                                    \
    }

CONE(cone_rennels, vent__diffuser_rennels, 1)
CONE(cone_crane, vent__diffuser_crane, 1)
CONE(nozzle_rennels, vent__cone_rennels, VENT__THICK_END_ENTRY)
CONE(nozzle_crane, vent__cone_crane, VENT__THICK_END_ENTRY)
ENDED(cone_rennels_out, cone_rennels, blocked_exit, mouth_pressure)
ENDED(cone_crane_out, cone_crane, blocked_exit, mouth_pressure)
ENDED(cone_rennels_in, nozzle_rennels, blocked_entry, mouth_pressure)
ENDED(cone_crane_in, nozzle_crane, blocked_entry, mouth_pressure)

/* A share of the velocity pressure that an ideal cone would win back: without pipe behind it, and
 * with a bend or swirl in front, less comes back than the sources' long straight pipes gave. */
static double cone_out_doubt(const double *geometry, double k)
{
    (void)k;
    return hypot(0.15 * (1 - mouth_pressure(geometry)),
                 BLOCKED_DOUBT * mouth_pressure(geometry) * blocked_exit(geometry));
}

DOUBTED(cone_in_doubt, 0.5, blocked_entry, mouth_pressure)

static const vent__law end_cone = {
    EXIT, .more = cone_out_doubt,
    .formula = {{VENT__SOURCE_RENNELS_DIFFUSER, TURBULENT, cone_rennels_out, NULL, NULL},
                {VENT__SOURCE_CRANE_DIFFUSER, TURBULENT, cone_crane_out, NULL, NULL}}};
static const vent__law entry_cone = {
    ENTRY, .more = cone_in_doubt,
    .formula = {{VENT__SOURCE_RENNELS_CONTRACTION, TURBULENT, cone_rennels_in, NULL, NULL},
                {VENT__SOURCE_CRANE_CONTRACTION, TURBULENT, cone_crane_in, NULL, NULL}}};

/* ---- drain stack */

/* The jet draws air in around the end and mixes with it in the wider pipe; the suction that takes
 * pulls at the end. Momentum from there to the top gives the velocity around the end over that in
 * the pipe, x, with m = 2 s (1 - s) and s the pipe's share of the wider one's area. */
static vent__loss ejector(const double *geometry, double bore)
{
    (void)bore;
    const double entry = 0.5; /* of the ring between the pipes, sharp-edged */
    double share = 1 / square(geometry[0]), m = 2 * share * (1 - share);
    double x = sqrt(m) / (sqrt(1 + entry) + sqrt(m));
    return constant_loss(-(1 + entry) * square(x));
}

ENDED(ejector_out, ejector, blocked_exit, whole)
DOUBTED(stack_out_doubt, 0, blocked_exit, whole)
DOUBTED(stack_in_doubt, 0, blocked_entry, whole)

static const vent__law end_stack = {
    EXIT, .more = stack_out_doubt,
    .formula = {{VENT__SOURCE_DRAIN_STACK, TURBULENT, blocked_exit_rennels, NULL, NULL},
                {VENT__SOURCE_STACK_EJECTOR, TURBULENT, ejector_out, NULL, NULL}}};
static const vent__law entry_stack = {
    ENTRY, .more = stack_in_doubt,
    .formula = {{VENT__SOURCE_DRAIN_STACK, TURBULENT, blocked_entry_rennels, NULL, NULL}}};

/* ---- where the air goes ------------------------------------------------------------------- */

static int straight_up(const double *geometry, vent_stream *streams)
{
    (void)geometry;
    streams[0] = (vent_stream){1, {0, 0, 1}, 1};
    return 1;
}

static int along_the_elbow(const double *geometry, vent_stream *streams)
{
    streams[0] = (vent_stream){1, {sin(geometry[0]), 0, cos(geometry[0])}, 1};
    return 1;
}

static int both_ways(const double *geometry, vent_stream *streams)
{
    (void)geometry;
    streams[0] = (vent_stream){0.5, {1, 0, 0}, 1};
    streams[1] = (vent_stream){0.5, {-1, 0, 0}, 1};
    return 2;
}

/* Level all around, in eight equal streams through the cylinder under the cap's edge. */
static int under_the_cap(const double *geometry, vent_stream *streams)
{
    enum { AROUND = 8 };
    double gap_area = 4 * geometry[0];
    for (int i = 0; i < AROUND; ++i) {
        double angle = i * (2 * VENT_PI / AROUND);
        streams[i] = (vent_stream){1.0 / AROUND, {cos(angle), sin(angle), 0}, gap_area / AROUND};
    }
    return AROUND;
}

static int out_of_the_mouth(const double *geometry, vent_stream *streams)
{
    streams[0] = (vent_stream){1, {0, 0, 1}, square(geometry[0])};
    return 1;
}

static int straight_down(const double *geometry, vent_stream *streams)
{
    (void)geometry;
    streams[0] = (vent_stream){1, {0, 0, -1}, 1};
    return 1;
}

/* ---- what vertical rain finds open ---------------------------------------------------------- */

static double sheltered(const double *geometry)
{
    (void)geometry;
    return 0;
}

static double above_an_elbow(const double *geometry)
{
    return fmax(cos(geometry[0]), 0);
}

static double between_the_wires(const double *geometry)
{
    return vent_guard_free_area(geometry[0], geometry[1]);
}

/* What falls onto the cone runs down it. */
static double into_the_mouth(const double *geometry)
{
    return square(geometry[0]);
}

/* ---- the families ------------------------------------------------------------------------- */

/* The last two numbers of a parameter are the source's own range. */
#define RADIUS_RATIO                                                                               \
    {                                                                                              \
        "radius_ratio", "", 0.4, 10, 0.5, 10                                                       \
    }

static const vent__termination_kind kinds[VENT_TERMINATION_END] = {
    [VENT_TERMINATION_OPEN_END] = {.family = {.name = "open end",
                                              .along = &plain_exit,
                                              .against = &plain_entry},
                                   .streams = straight_up,
                                   .rain = whole},
    [VENT_TERMINATION_ELBOW] = {.family = {.name = "elbow at the end",
                                           .along = &end_bend,
                                           .covers = elbow_is_covered,
                                           .against = &entry_bend,
                                           .parameters = 2,
                                           .parameter = {{"angle", "rad", 0, VENT__HALF_TURN, 0,
                                                          VENT__HALF_TURN},
                                                         RADIUS_RATIO}},
                                .streams = along_the_elbow,
                                .rain = above_an_elbow},
    [VENT_TERMINATION_TEE] = {.family = {.name = "tee at the end",
                                         .along = &end_tee,
                                         .against = &entry_tee},
                              .streams = both_ways,
                              .rain = sheltered},
    [VENT_TERMINATION_GUARD] = {.family = {.name = "guard",
                                           .along = &end_guard,
                                           .against = &entry_guard,
                                           .sound = vent__mesh_lets_air_through,
                                           .parameters = 2,
                                           .parameter = {VENT__WIRE, VENT__OPENING}},
                                .streams = straight_up,
                                .rain = between_the_wires},
    [VENT_TERMINATION_RAIN_CAP] = {.family = {.name = "rain cap",
                                              .along = &end_cap,
                                              .against = &entry_cap,
                                              .parameters = 1,
                                              .parameter = {{"gap_ratio", "", 0.4, 1.2, 0.45, 1}}},
                                   .streams = under_the_cap,
                                   .rain = sheltered},
    [VENT_TERMINATION_RETURN] = {.family = {.name = "return bend at the end",
                                            .along = &end_return,
                                            .covers = return_is_covered,
                                            .against = &entry_return,
                                            .parameters = 1,
                                            .parameter = {RADIUS_RATIO}},
                                 .streams = straight_down,
                                 .rain = sheltered},
    [VENT_TERMINATION_DOME] =
        {.family = {.name = "domed guard",
                    .along = &end_dome,
                    .against = &entry_dome,
                    .sound = vent__mesh_lets_air_through,
                    .parameters = 3,
                    .parameter = {VENT__WIRE, VENT__OPENING, {"area_ratio", "", 1, 20, 1, 10}}},
         .streams = straight_up,
         .rain = between_the_wires},
    [VENT_TERMINATION_CONE] = {.family = {.name = "conical outlet",
                                          .along = &end_cone,
                                          .against = &entry_cone,
                                          .parameters = 2,
                                          .parameter = {{"bore_ratio", "", 1, 3, 1, 3},
                                                        {"cone_angle", "rad", VENT_RADIANS(1),
                                                         VENT_RADIANS(30), VENT_RADIANS(3),
                                                         VENT_RADIANS(20)}}},
                               .streams = out_of_the_mouth,
                               .rain = into_the_mouth},
    [VENT_TERMINATION_DRAIN_STACK] = {.family = {.name = "drain stack",
                                                 .along = &end_stack,
                                                 .against = &entry_stack,
                                                 .parameters = 1,
                                                 .parameter = {{"bore_ratio", "", 1.05, 2, 1.1,
                                                                1.5}}},
                                      .streams = straight_up,
                                      .rain = whole},
};

/* An open end rests on other sources once something blocks it. */
const vent__family vent__blocked_open_end = {
    .name = "open end", .along = &partial_exit, .against = &partial_entry};

const vent__termination_kind *vent__termination_kind_of(int number)
{
    bool known = number > VENT_TERMINATION_NONE && number < VENT_TERMINATION_END;
    return known ? &kinds[number] : NULL;
}
