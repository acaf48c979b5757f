/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cases of one network side by side: the values of sixteen stand in a row, and every width of vectors
 * takes the rows apart in its own steps. Each lane is computed as if it were alone. */
#ifndef VENT_NETWORK_MANY_LANES_H
#define VENT_NETWORK_MANY_LANES_H

#include "network/program.h"
#include "physics/laws.h"

enum { VENT__PACK = 16, VENT__ORDERS = 5 };
enum { VENT__ALONG, VENT__AGAINST, VENT__WAYS };

/* What a piece of a fan's curve has: where it begins and ends, and vent__piece's numbers. */
enum { VENT__LOW, VENT__HIGH, VENT__FROM, VENT__CUBIC, VENT__PIECE = VENT__CUBIC + 4 };
#define VENT__PIECES 16 /* that a curve of few knots has at most */

/* One number in each of the cases. */
typedef struct vent__row {
    double lane[VENT__PACK];
} vent__row;

/* A fan at work: pressure = lift curve(per_kg m). */
typedef struct vent__lane_fan {
    _Alignas(64) vent__row per_kg; /* m3/s of the curve for a kg/s */
    vent__row lift;                /* Pa for a pascal of the curve */
    vent__row piece[VENT__PIECE];  /* of the curve, on which each case stands */
    vent__row speed, factor;
    double table[VENT__PIECE][VENT__PIECES]; /* the pieces of a short curve */
    const struct vent__curve *curve;
    double shut_off; /* Pa of the curve at no flow */
    double most;     /* m3/s of the curve at no pressure; infinity if it has no end */
    double density;  /* kg/m3 the curve is for */
    bool is_short;
} vent__lane_fan;

/* A fan's curve, no piece of it found yet; and the numbers of one piece. */
void vent__set_lane_fan(vent__lane_fan *lane, const vent_fan *fan);
void vent__piece_of(const struct vent__curve *curve, size_t number, double piece[VENT__PIECE]);

typedef struct vent__packet {
    const vent__program *program;
    /* Segments of a run that are alike in bore and wall have one friction factor: they are one pipe */
    int32_t *first_pipe; /* [runs + 1] */
    /* [pipes] values, as they are laid out in vent__segment */
    vent__row *reynolds, *roughness, *friction[VENT__WAYS];
    vent__row *y, *g; /* [pipes] of friction_kernel.h, at the origin */
    /* [runs] sums of k0 and k1 over the run, and of k0 with one friction factor for all */
    vent__row *fixed[VENT__WAYS], *linear[VENT__WAYS], *crude[VENT__WAYS];
    vent__row *lift, *reference, *creeping, *density;
    /* [runs] the soil a run starts at, in kg/s, by its law: see soil_of() in many_lanes.c */
    vent__row *soil_a, *soil_b;
    vent_soil (*soil)[VENT__PACK];
    vent__row soil_volume; /* m3/kg of the soil gas */
    vent__row wind;
    vent__lane_fan *fan; /* [fans] in the program's order */
    /* [runs] the junction a run starts at, and how a run joins the next: see vent__joining */
    vent__row *factor, *inertia, *per_area;
    vent__row *unit_axial, *kinetic, *most, *fading;
    vent__joining *joining; /* [runs] for what no case changes */
    bool *is_straight;      /* [runs] */
    bool *is_lossy;         /* [runs] whether that junction has losses */
    /* [runs] the state */
    vent__row *flow, *origin, *per_origin, *loss, *slope, *start, *source, *source_slope, *weight,
        *step;
    vent__row *order[VENT__ORDERS]; /* loss of the friction in powers of (flow - origin) / origin */
    vent__row *soil_order;          /* the power law of the soil at the origin */
    vent__row *joint, *by_leg, *by_combined, *by_axial, *axial; /* of the leg a run ends as */
    vent__row *turned; /* [runs] what the legs that meet where it starts do to each other */
    /* what comes out */
    vent__row *found_flow, *found_start; /* [runs] */
    vent__row is_found;                  /* 1 or 0 */
    const double *first;                 /* [runs] flows to start from, kg/s; NULL for none */
} vent__packet;

/* Solves the cases of a packet; those that do not come to rest quickly are left to others. */
typedef void vent__packet_solver(vent__packet *packet);
vent__packet_solver vent__packet_solve_baseline;
#if defined(__x86_64__)
vent__packet_solver vent__packet_solve_avx2, vent__packet_solve_avx512;
#endif

#endif
