/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What fittings and terminations have in common: a family is a row of parameters with bounds, and a
 * law for either way through it; a law is one physical case, with one or more published formulas
 * for it. The first formula is the default and gives the value; how far the others lie from it is
 * part of the uncertainty. To add a family, add a row; to add a source to a case, a formula. */
#ifndef VENT_PHYSICS_FAMILY_H
#define VENT_PHYSICS_FAMILY_H

#include "base/source_list.h"
#include "physics/formulas.h"

enum { VENT__PARAMETERS = 6, VENT__FORMULAS = 6 };

/* One author's formula for a case, and the Reynolds numbers it holds for. */
typedef struct vent__formula {
    int32_t source;
    double reynolds_low, reynolds_high;
    vent__loss (*loss)(const double *geometry, double bore); /* NULL past the last formula */
    /* length [m] the Reynolds number of the range is formed with; NULL for the bore */
    double (*length)(const double *geometry);
    /* K beside `loss` that does not fit its form, and dK/dRe, at Re > 0; NULL for nothing */
    vent__slope (*extra)(const double *geometry, double bore, double reynolds);
} vent__formula;

/* One physical case: K = plain + factor x the default formula. The standard uncertainty combines
 * that of the plain part, a share of the formula's value, half the spread of the formulas, and
 * what `more` adds. */
typedef struct vent__law {
    double plain, plain_uncertainty; /* what the user's factor does not touch: an exit's own 1 */
    int32_t plain_source;
    double relative;
    double (*more)(const double *geometry, double k); /* NULL for nothing */
    vent__formula formula[VENT__FORMULAS];
} vent__law;

typedef struct vent__family {
    const char *name;
    const vent__law *along, *against; /* the way of the run, and reversed */
    bool by_bore; /* the laws are those of a growing bore; a far bore (parameter 0) smaller than the
                     pipe's exchanges them */
    int parameters;
    vent_parameter_range parameter[VENT__PARAMETERS];
    /* pressure [Pa] a flap needs to open, beside K, the way of the run; NULL for none */
    double (*opening_pressure)(const double *geometry);
    /* whether a source covers what the ranges of single parameters do not say; NULL where all do */
    bool (*covers)(int32_t source, const double *geometry, double bore);
    /* what the bounds of single parameters do not say; NULL for nothing */
    bool (*sound)(const double *geometry, const char *function, vent_error *err);
} vent__family;

/* Wires and openings of a mesh, in this order, that leave enough of the area free. */
#define VENT__WIRE                                                                                 \
    {                                                                                              \
        "wire", "m", 1e-5, 0.02, 1e-5, 0.02                                                        \
    }
#define VENT__OPENING                                                                              \
    {                                                                                              \
        "opening", "m", 1e-5, 1, 1e-5, 1                                                           \
    }
#define VENT__LEAST_FREE_AREA 0.05
bool vent__mesh_lets_air_through(const double *geometry, const char *function, vent_error *err);
/* Weaves of one free area differ by this share of K. */
#define VENT__WEAVE 0.15

/* A part as it stands: its family, and what the caller said of it. */
typedef struct vent__part {
    const vent__family *family;
    const double *geometry;
    double factor;
    int32_t source; /* whose formula gives the value where the law has one of it; 0 for the first */
} vent__part;

/* True where every parameter and the factor are inside their bounds and the source is one of the
 * family's; else records what is not. */
bool vent__family_check(const vent__part *part, const char *function, vent_error *err);

/* What fits the form k0 + k1/Re + kf f, either way. */
void vent__family_loss(const vent__part *part, double bore, vent__loss *along, vent__loss *against);

bool vent__family_feels_bore(const vent__part *part);

/* What does not: K beside it and dK/d|Re|, at a Reynolds number, negative for reversed flow. */
bool vent__family_has_extra(const vent__part *part, double bore);
vent__slope vent__family_extra(const vent__part *part, double bore, double reynolds);

/* The coefficient at a Reynolds number, negative for reversed flow, and friction factor f. */
vent_coefficient vent__family_state(const vent__part *part, double bore, double reynolds, double f);

/* The families of fittings, one a row: the enumerator of fitting.h, and the family as its theme's file
 * defines it (bend.c, area.c, entry.c, device.c, connector.c, screen.c, general.c). */
#define VENT__FITTING_FAMILIES(X)                                                                  \
    X(CONSTANT, stated)                                                                            \
    X(ELBOW, elbow)                                                                                \
    X(MITRE, mitre)                                                                                \
    X(SUDDEN, sudden)                                                                              \
    X(GRADUAL, gradual)                                                                            \
    X(ENTRY_FLUSH, flush)                                                                          \
    X(ENTRY_REENTRANT, reentrant)                                                                  \
    X(ENTRY_ROUNDED, rounded)                                                                      \
    X(BUTTERFLY, butterfly)                                                                        \
    X(SLIDE_GATE, slide_gate)                                                                      \
    X(GATE_VALVE, gate_valve)                                                                      \
    X(BALL_VALVE, ball_valve)                                                                      \
    X(ORIFICE_PLATE, orifice_plate)                                                                \
    X(CHECK_DAMPER, check_damper)                                                                  \
    X(COUPLING, coupling)                                                                          \
    X(FLEXIBLE_DUCT, flexible_duct)                                                                \
    X(BYPASS_TEE, bypass_tee)                                                                      \
    X(FAN_OUTLET, fan_outlet)                                                                      \
    X(FAN_INLET_ELBOW, fan_inlet_elbow)                                                            \
    X(SEGMENTED, segmented)                                                                        \
    X(DRAIN_ELBOW, drain_elbow)                                                                    \
    X(ELBOW_PAIR, elbow_pair)                                                                      \
    X(CLOSE_RETURN, close_return)                                                                  \
    X(ELBOW_OUTLET, elbow_outlet)                                                                  \
    X(THREE_CONSTANT, three_constant_form)                                                         \
    X(TWO_CONSTANT, two_constant_form)                                                             \
    X(EQUIVALENT_LENGTH, equivalent_length)                                                        \
    X(ROUNDED_CHANGE, rounded_change)                                                              \
    X(BEVELLED_CHANGE, bevelled_change)                                                            \
    X(BUSHING, bushing)                                                                            \
    X(REDUCER, reducer)                                                                            \
    X(ENTRY_PROJECTING, projecting)                                                                \
    X(ENTRY_BEVELLED, bevelled)                                                                    \
    X(ENTRY_ANGLED, angled)                                                                        \
    X(ENTRY_BELL, bell)                                                                            \
    X(ENTRY_CORED_HOLE, cored_hole)                                                                \
    X(ENTRY_PERFORATED, perforated)                                                                \
    X(SCREEN, screen)                                                                              \
    X(SQUARE_SCREEN, square_screen)                                                                \
    X(PERFORATED_PLATE, perforated_plate)
#define VENT__FAMILY_DECLARATION(KEY, family) extern const vent__family vent__##family;
VENT__FITTING_FAMILIES(VENT__FAMILY_DECLARATION)
#undef VENT__FAMILY_DECLARATION

/* A fitting of a family, its geometry checked; family VENT_FITTING_NONE on failure. */
vent_fitting vent__fitting_make(int number, const double *geometry, const char *function,
                                vent_error *err);

/* Nothing beside the plain part of a law; and an entry that the air leaves by: K = 1. */
vent__loss vent__no_loss(const double *geometry, double bore);
extern const vent__law vent__exit;

/* The formulas are for turbulent flow; most name no bounds of the Reynolds number. */
#define VENT__TURBULENT 4e3, 1e8
#define VENT__ANY_FLOW  0, 1e9

/* Source of the plain part of a law; VENT__SOURCE_NONE where it has none. */
int32_t vent__family_plain_source(const vent__family *family, bool reversed);

/* ---- what the public functions of fittings and terminations share; family NULL allowed ---------- */

bool vent__family_parameter(const vent__family *family, int parameter, vent_parameter_range *range);
bool vent__family_formula(const vent__family *family, bool reversed, int index,
                          vent_formula *formula);

/* The state in this pipe; the part is checked already, pipe and Reynolds number are here. */
vent_coefficient vent__family_in_pipe(const vent__part *part, vent_pipe pipe, double reynolds,
                                      const char *function, vent_error *err);
/* The same by every formula of the law at work; how many there are, 0 on failure. */
int vent__family_alternatives(const vent__part *part, vent_pipe pipe, double reynolds, int room,
                              vent_coefficient *list, const char *function, vent_error *err);

#endif
