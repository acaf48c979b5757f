/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Coefficients without a shape: stated by the caller, or by general forms. */
#include "base/fail.h"
#include "base/names.h"
#include "physics/family.h"

#include <limits.h>
#include <stdio.h>
#include <string.h>
#include <ventstack/friction.h>
#include <ventstack/general.h>
#include <ventstack/units.h>

/* ---- formulas ------------------------------------------------------------------------------- */

vent__loss vent__three_constant(const double *geometry, double bore)
{
    (void)bore;
    double k1 = geometry[0], ki = geometry[1], kd = geometry[2], inches = geometry[3] / VENT_INCH;
    return (vent__loss){.k0 = ki * (1 + kd / pow(inches, 0.3)), .k1 = k1};
}

vent__loss vent__two_constant(const double *geometry, double bore)
{
    return (vent__loss){.k0 = geometry[1] * (1 + VENT_INCH / bore), .k1 = geometry[0]};
}

vent__loss vent__length_ratio(const double *geometry, double bore)
{
    (void)bore;
    return (vent__loss){.kf = geometry[0]};
}

/* ---- laws ----------------------------------------------------------------------------------- */

static vent__loss stated(const double *geometry, double bore)
{
    (void)bore;
    return (vent__loss){.k0 = geometry[0]};
}

static vent__loss stated_reversed(const double *geometry, double bore)
{
    (void)bore;
    return (vent__loss){.k0 = geometry[1]};
}

static double stated_uncertainty(const double *geometry, double k)
{
    (void)k;
    return geometry[2];
}

static const vent__law stated_along = {
    .more = stated_uncertainty,
    .formula = {{VENT__SOURCE_NONE, VENT__ANY_FLOW, stated, NULL, NULL}}};
static const vent__law stated_against = {
    .more = stated_uncertainty,
    .formula = {{VENT__SOURCE_NONE, VENT__ANY_FLOW, stated_reversed, NULL, NULL}}};

/* Constants of one kind of fitting from two makers, or two editions, differ by as much as elbows do. */
static const vent__law three_constant = {
    .relative = 0.25,
    .formula = {{VENT__SOURCE_DARBY_3K, VENT__ANY_FLOW, vent__three_constant, NULL, NULL}}};

/* Twice the same formula: one row of its table is known from memory only. */
static const vent__law two_constant = {
    .relative = 0.25,
    .formula = {{VENT__SOURCE_HOOPER_2K, VENT__ANY_FLOW, vent__two_constant, NULL, NULL},
                {VENT__SOURCE_HOOPER_2K_MEMORY, VENT__ANY_FLOW, vent__two_constant, NULL, NULL}}};

static const vent__law by_length = {
    .relative = 0.25,
    .formula = {{VENT__SOURCE_EQUIVALENT_LENGTH, VENT__ANY_FLOW, vent__length_ratio, NULL, NULL}}};

/* ---- families ------------------------------------------------------------------------------- */

const vent__family vent__stated = {
    .name = "stated coefficient",
    .along = &stated_along,
    .against = &stated_against,
    .parameters = 3,
    .parameter = {{"k", "", 0, 1e6, 0, 1e6},
                  {"k_reversed", "", 0, 1e6, 0, 1e6},
                  {"uncertainty", "", 0, 1e6, 0, 1e6}},
};

#define K1                                                                                         \
    {                                                                                              \
        "k1", "", 0, 1e5, 0, 1e5                                                                   \
    }

const vent__family vent__three_constant_form = {
    .name = "three-constant form",
    .along = &three_constant,
    .against = &three_constant,
    .parameters = 4,
    .parameter = {K1,
                  {"ki", "", 0, 1000, 0, 1000},
                  {"kd", "in^0.3", 0, 100, 0, 100},
                  {"nominal_size", "m", 0.003, 3, 0.006, 1}},
};

const vent__family vent__two_constant_form = {
    .name = "two-constant form",
    .along = &two_constant,
    .against = &two_constant,
    .parameters = 2,
    .parameter = {K1, {"k_infinite", "", 0, 1000, 0, 1000}},
};

const vent__family vent__equivalent_length = {
    .name = "equivalent length",
    .along = &by_length,
    .against = &by_length,
    .parameters = 1,
    .parameter = {{"length_ratio", "", 0, 1e5, 0, 1e5}},
};

/* ---- constructors --------------------------------------------------------------------------- */

vent_fitting vent_fitting_constant(double k, double uncertainty, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_CONSTANT, (double[]){k, k, uncertainty}, __func__, err);
}

vent_fitting vent_fitting_constant_each_way(double k, double k_reversed, double uncertainty,
                                            vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_CONSTANT, (double[]){k, k_reversed, uncertainty},
                              __func__, err);
}

vent_fitting vent_fitting_three_constant(double k1, double ki, double kd, double nominal_size,
                                         vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_THREE_CONSTANT, (double[]){k1, ki, kd, nominal_size},
                              __func__, err);
}

vent_fitting vent_fitting_two_constant(double k1, double k_infinite, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_TWO_CONSTANT, (double[]){k1, k_infinite}, __func__, err);
}

vent_fitting vent_fitting_equivalent_length(double length_ratio, vent_error *err)
{
    return vent__fitting_make(VENT_FITTING_EQUIVALENT_LENGTH, &length_ratio, __func__, err);
}

/* ---- published constants -------------------------------------------------------------------- */

typedef struct constants {
    const char *name;
    double k1, k, kd; /* k: Ki, or K at infinite Reynolds number and bore; kd [in^0.3]: Darby's */
    int32_t source;   /* 0 for that of the form */
} constants;

static const constants darby[] = {
    {"elbow 90 threaded", 800, 0.14, 4.0, 0},
    {"elbow 90 threaded long radius", 800, 0.071, 4.2, 0},
    {"elbow 90 flanged", 800, 0.091, 4.0, 0},
    {"bend 90 of radius 2", 800, 0.056, 3.9, 0},
    {"bend 90 of radius 4", 800, 0.066, 3.9, 0},
    {"bend 90 of radius 6", 800, 0.075, 4.2, 0},
    {"mitre 90 of 1 joint", 1000, 0.27, 4.0, 0},
    {"mitre 90 of 2 joints", 800, 0.068, 4.1, 0},
    {"mitre 90 of 3 joints", 800, 0.035, 4.2, 0},
    {"elbow 45 threaded", 500, 0.071, 4.2, 0},
    {"elbow 45 long radius", 500, 0.052, 4.0, 0},
    {"mitre 45 of 1 joint", 500, 0.086, 4.0, 0},
    {"mitre 45 of 2 joints", 500, 0.052, 4.0, 0},
    {"return 180 threaded", 1000, 0.23, 4.0, 0},
    {"return 180 flanged", 1000, 0.12, 4.0, 0},
    {"return 180 long radius", 1000, 0.10, 4.0, 0},
    {"tee as elbow threaded", 500, 0.274, 4.0, 0},
    {"tee as elbow long radius", 800, 0.14, 4.0, 0},
    {"tee as elbow flanged", 800, 0.28, 4.0, 0},
    {"tee as elbow stub-in", 1000, 0.34, 4.0, 0},
    {"tee run threaded", 200, 0.091, 4.0, 0},
    {"tee run flanged", 150, 0.050, 4.0, 0},
    {"tee run stub-in", 100, 0, 0, 0},
    {"angle valve 45", 950, 0.25, 4.0, 0},
    {"angle valve 90", 1000, 0.69, 4.0, 0},
    {"globe valve", 1500, 1.70, 3.6, 0},
    {"plug valve branch", 500, 0.41, 4.0, 0},
    {"plug valve straight", 300, 0.084, 3.9, 0},
    {"plug valve three-way", 300, 0.14, 4.0, 0},
    {"gate valve", 300, 0.037, 3.9, 0},
    {"ball valve", 300, 0.017, 3.5, 0},
    {"diaphragm valve", 1000, 0.69, 4.9, 0},
    {"swing check valve", 1500, 0.46, 4.0, 0},
    {"lift check valve", 2000, 2.85, 3.8, 0},
};

/* A reprint has four rows under other names (its rows of tees used as elbows lack the tee) and the
 * screwed return bend as a 45 degree elbow, with 0.70. The names here, and that bend's 0.60, are
 * Hooper's as remembered. */
static const constants hooper[] = {
    {"elbow 90 threaded", 800, 0.40, 0, 0},
    {"elbow 90 flanged", 800, 0.25, 0, 0},
    {"elbow 90 long radius", 800, 0.20, 0, 0},
    {"mitre 90 of 1 joint", 1000, 1.15, 0, 0},
    {"mitre 90 of 2 joints", 800, 0.35, 0, 0},
    {"mitre 90 of 3 joints", 800, 0.30, 0, 0},
    {"mitre 90 of 4 joints", 800, 0.27, 0, 0},
    {"mitre 90 of 5 joints", 800, 0.25, 0, 0},
    {"elbow 45", 500, 0.20, 0, 0},
    {"elbow 45 long radius", 500, 0.15, 0, 0},
    {"mitre 45 of 1 joint", 500, 0.25, 0, 0},
    {"mitre 45 of 2 joints", 500, 0.15, 0, 0},
    {"return 180 threaded", 1000, 0.60, 0, VENT__SOURCE_HOOPER_2K_MEMORY},
    {"return 180 flanged", 1000, 0.35, 0, 0},
    {"return 180 long radius", 1000, 0.30, 0, 0},
    {"tee as elbow threaded", 500, 0.70, 0, 0},
    {"tee as elbow long radius", 800, 0.40, 0, 0},
    {"tee as elbow flanged", 800, 0.80, 0, 0},
    {"tee as elbow stub-in", 1000, 1.00, 0, 0},
    {"tee run threaded", 200, 0.10, 0, 0},
    {"tee run flanged", 150, 0.05, 0, 0},
    {"tee run stub-in", 100, 0, 0, 0},
    {"gate, ball or plug valve", 300, 0.10, 0, 0},
    {"gate, ball or plug valve of trim 0.9", 500, 0.15, 0, 0},
    {"gate, ball or plug valve of trim 0.8", 1000, 0.25, 0, 0},
    {"globe valve", 1500, 4.0, 0, 0},
    {"angle valve", 1000, 2.0, 0, 0},
    {"diaphragm valve", 1000, 2.0, 0, 0},
    {"butterfly valve", 800, 0.25, 0, 0},
    {"lift check valve", 2000, 10, 0, 0},
    {"swing check valve", 1500, 1.5, 0, 0},
    {"tilting-disc check valve", 1000, 0.5, 0, 0},
};
enum { DARBY = sizeof darby / sizeof *darby, HOOPER = sizeof hooper / sizeof *hooper };

/* The row of a name; else records the names most like it, three at most. */
static const constants *find(const constants *table, int count, const char *name,
                             const char *function, vent_error *err)
{
    enum { NEAR = 3 };
    const char *near[NEAR + 1] = {NULL};
    for (int i = 0; i < count; ++i) {
        const char *candidate = table[i].name;
        if (strcmp(name, candidate) == 0)
            return &table[i];
        int place = NEAR, unlike = vent__unlikeness(name, candidate);
        while (unlike != INT_MAX && place > 0 &&
               (!near[place - 1] || unlike < vent__unlikeness(name, near[place - 1]))) {
            near[place] = near[place - 1];
            near[--place] = candidate;
        }
    }
    char text[200] = "";
    for (int k = 0, length = 0; k < NEAR && near[k]; ++k)
        length += snprintf(text + length, sizeof text - (size_t)length, "%s\"%s\"",
                           k ? ", " : "; the nearest: ", near[k]);
    vent__fail(err, VENT_E_NOT_FOUND, function, "name", -1, NAN, NAN, NAN,
               "%s: no constants are named \"%.40s\"%s", function, name, text);
    return NULL;
}

static const vent_fitting nothing = {.family = VENT_FITTING_NONE, .factor = NAN};

vent_fitting vent_fitting_three_constant_find(const char *name, double nominal_size,
                                              vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(name))
        return nothing;
    const constants *row = find(darby, DARBY, name, __func__, err);
    if (!row)
        return nothing;
    return vent__fitting_make(VENT_FITTING_THREE_CONSTANT,
                              (double[]){row->k1, row->k, row->kd, nominal_size}, __func__, err);
}

vent_fitting vent_fitting_two_constant_find(const char *name, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(name))
        return nothing;
    const constants *row = find(hooper, HOOPER, name, __func__, err);
    if (!row)
        return nothing;
    vent_fitting fitting = vent_fitting_two_constant(row->k1, row->k, err);
    fitting.source = row->source;
    return fitting;
}

const char *vent_fitting_three_constant_name(int entry)
{
    return entry >= 0 && entry < DARBY ? darby[entry].name : NULL;
}

const char *vent_fitting_two_constant_name(int entry)
{
    return entry >= 0 && entry < HOOPER ? hooper[entry].name : NULL;
}

/* ---- equivalent length ---------------------------------------------------------------------- */

static const double K_GREATEST = 1e6, LENGTH_GREATEST = 1e6; /* -, m */

/* Friction factor over hydraulic diameter, f / D [1/m]; NaN where a check fails. */
static double friction_per_length(vent_pipe pipe, double reynolds, const char *function,
                                  vent_error *err)
{
    double hydraulic = vent_pipe_hydraulic_diameter(pipe);
    double effective = vent_pipe_effective_diameter(pipe);
    double roughness = pipe.roughness / effective;
    if (!vent__check_range(err, function, "hydraulic diameter of pipe", "m", hydraulic, 1e-4,
                           100) ||
        !vent__check_range(err, function, "relative roughness of pipe", "", roughness, 0, 0.1) ||
        !vent__check_range(err, function, "reynolds", "", reynolds, 1e-3, 1e9))
        return NAN;
    return vent_friction_factor(reynolds * effective / hydraulic, roughness) / hydraulic;
}

double vent_equivalent_length(double k, vent_pipe pipe, double reynolds, vent_error *err)
{
    if (vent__failed(err) || !VENT__RANGE(k, "", 0, K_GREATEST))
        return NAN;
    return k / friction_per_length(pipe, reynolds, __func__, err);
}

double vent_equivalent_length_coefficient(double length, vent_pipe pipe, double reynolds,
                                          vent_error *err)
{
    if (vent__failed(err) || !VENT__RANGE(length, "m", 0, LENGTH_GREATEST))
        return NAN;
    return length * friction_per_length(pipe, reynolds, __func__, err);
}
