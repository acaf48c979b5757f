/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the solver works in, and the solution it fills. Arrays over runs are in the program's order. */
#ifndef VENT_NETWORK_WORKSPACE_H
#define VENT_NETWORK_WORKSPACE_H

#include <math.h>
#include <ventstack/solution.h>

#include "network/program.h"
#include "physics/laws.h"

enum { VENT__LANES = 8 }; /* widest vector of doubles; arrays of segments are padded to it */
static const double VENT__LEAST_REYNOLDS = 1e-3; /* below it laws are continued by straight lines */

/* One pipe with its fittings: loss = m (|m| (kf f(Re) + k0) + k1), Re = reynolds |m|, with the
 * coefficients multiplied through to pascals and kg/s. */
typedef struct vent__segment {
    double inertia;            /* 1 / (2 rho A^2) */
    double reynolds;           /* D / (mu A), on the effective diameter */
    vent__loss along, against; /* flow along the run, and against it */
} vent__segment;

/* A fitting or termination whose loss has more than that form: K(Re) of its own, or a flap that opens. */
typedef struct vent__extra {
    int32_t run;                         /* position */
    const vent_fitting *fitting;         /* NULL for the termination */
    const vent_termination *termination; /* both in the model that is laid out */
    double bore, count;
    double inertia, reynolds; /* of its segment */
    double velocity;          /* m/s of a kg/s */
} vent__extra;

/* A fan that forces a flow, in place of one of the network's own: pressure + stiffness (flow - Q). */
typedef struct vent__forced {
    int fan; /* number in the model, -1 for none */
    double flow, pressure, stiffness;
} vent__forced;

/* A junction that loses pressure, and what the sweeps know of it. To each leg i that arrives there, with
 * step dm_i, the sums z over all of them answer by dz = sum adds_i dm_i + adds dM and press by
 * d_sum_i . dz. */
typedef struct vent__knot {
    vent__meeting meeting;
    double sums[VENT__SUMS];               /* over all that meet there */
    double adds[VENT__SUMS];               /* what the combined flow adds to the sums */
    double answer[VENT__SUMS][VENT__SUMS]; /* (1 + sum of w_i adds_i x d_sum_i)^-1 */
    double echo[VENT__SUMS]; /* kg/s of all legs together that go with a unit of each sum */
    double weight;           /* kg/s/Pa: how all legs answer a change of pressure together */
} vent__knot;

/* A leg of such a junction. */
typedef struct vent__tie {
    vent__leg leg;
    vent__leg_loss joint;    /* from the run's end into the next */
    double adds[VENT__SUMS]; /* what its flow adds to the sums */
} vent__tie;

typedef struct vent__core vent__core;     /* core.h */
typedef struct vent__slopes vent__slopes; /* slopes.h */

struct vent_workspace {
    vent__program *program;
    vent__model *model; /* whose values are laid out below, held; NULL before the first solve */
    vent__forced forced;
    double drive; /* Pa, greatest pressure of a fan at the flows the laws were last asked for */
    double felt;  /* Pa, greatest flow times slope of a fan there, whose rounding is felt */
    double
        twists; /* share that is on of what may turn laws back; 1 but on the path to a hard point */
    /* laid out values */
    vent__segment *segment;
    vent__extra *extra; /* in order of position */
    int extras, extra_room;
    double *roughness; /* [segments] relative to the effective diameter */
    double *lift;      /* [runs] Pa that the column of gas adds */
    double *reference; /* [runs] kg/s, an ordinary flow for a pipe like that */
    double *density;   /* [runs] */
    vent_soil *soil;   /* [leaves] of the suction points, in order of position */
    /* junctions that lose pressure; where there is none, neither list is */
    int32_t *knot_at,
        *tie_at; /* [runs] number of the one a run starts at, and of its leg of the one it
                                  ends at; else -1 */
    vent__knot *knot;
    vent__tie *tie;
    int knots, ties;
    /* the state and what the laws say of it */
    double *flow;                          /* [runs] kg/s */
    double *trial;                         /* [runs] kg/s */
    double *settled;                       /* [runs] kg/s, the point reached on a path */
    double *tangent;                       /* [runs] of the path there, in its scale */
    double *spare_settled, *spare_tangent; /* [runs] the same of the point before */
    double *first;                         /* [runs] kg/s, Newton's step */
    double *rest;                          /* [runs] Pa, left over a unit further on */
    double *
        loss; /* [runs] Pa from the start of the run to its end, fans included, the column left out */
    double *slope; /* [runs] its derivative */
    double *start; /* [runs] Pa, total, against outdoors at the same height */
    /* the sweeps: what the air upstream shows to the start of the run, in corrections */
    double *source;       /* [runs] Pa */
    double *source_slope; /* [runs] Pa s/kg */
    double *weight;       /* [runs] kg/s/Pa: how the run answers a change at its end */
    double *step;         /* [runs] kg/s */
    double *gap;          /* [links] Pa, left over where a link begins */
    double *shared;       /* [coupled] Pa of vacuum, from what the other suction points draw */
    vent__core *core;     /* what links and coupled soil tie together; NULL in a tree */
    vent__slopes *slopes; /* room for gradients; NULL before the first */
};

struct vent_solution {
    vent__program *program;
    vent__model *model;
    double *flow;           /* [runs] kg/s */
    double *start;          /* [runs] Pa, total pressure at the start, against outdoors */
    double *source_slope;   /* [runs] Pa s/kg, of everything upstream of the start */
    double *response;       /* [runs] m3/s through the discharges for a pascal less in the run */
    vent__meeting *meeting; /* [runs] the junction the run starts at, if it does */
    double (*sums)[VENT__SUMS]; /* [runs] over all that meet there */
    vent_convergence convergence;
};

/* Vacuum that draws a flow in kg/s into a suction point from its soil, or through an opening from air of this
 * density. */
static inline vent__slope vent__feed(const vent__model *model, int node, double density,
                                     double flow)
{
    const vent__node *at = &model->node[node];
    if (at->kind == VENT__OPENING)
        return vent__opening_law(&at->opening, density, flow);
    double volume = 1 / model->soil_gas.density; /* m3/kg */
    vent__slope law = vent__soil_law(&at->soil, flow * volume);
    return (vent__slope){law.value, law.slope * volume};
}

/* The junction where run k starts, and the leg by which it joins the next; NULL where no pressure is lost. */
static inline vent__knot *vent__knot_at(const vent_workspace *ws, int k)
{
    return ws->knots && ws->knot_at[k] >= 0 ? &ws->knot[ws->knot_at[k]] : NULL;
}
static inline vent__tie *vent__tie_at(const vent_workspace *ws, int k)
{
    return ws->knots && ws->tie_at[k] >= 0 ? &ws->tie[ws->tie_at[k]] : NULL;
}

/* What run k loses where it joins the next. */
static inline vent__leg_loss vent__joint_at(const vent_workspace *ws, int k)
{
    const vent__tie *tie = vent__tie_at(ws, k);
    return tie ? tie->joint : (vent__leg_loss){0};
}

static inline double vent__larger(double a, double b)
{
    return a > b ? a : b;
}

static inline double vent__dot(const double *a, const double *b)
{
    double sum = 0;
    for (int i = 0; i < VENT__SUMS; ++i)
        sum += a[i] * b[i];
    return sum;
}

/* Runs a network through the solver; false with err set. Leaves flow, start, source_slope and weight. */
bool vent__solve(vent_workspace *workspace, vent__model *model, const char *function,
                 vent_convergence *convergence, vent_error *err);
/* Goes to a point of a fan within its data, where there is one, and best to one that is stable. */
bool vent__solve_along(vent_workspace *workspace, vent__model *model, int fan,
                       vent_convergence *convergence);
/* Lays a model's values out for the solver; false without memory, and then nothing is laid out. */
bool vent__lay_out(vent_workspace *workspace, vent__model *model);
/* One run, or the junction where it starts, whose runs are laid out; false without memory. */
bool vent__lay_out_run(vent_workspace *workspace, const vent__model *model, int k);
void vent__lay_out_junction(vent_workspace *workspace, const vent__model *model, int k);
/* False with err where a workspace is of another shape than a model. */
bool vent__same_shape(const vent_workspace *workspace, const vent__model *model,
                      const char *function, vent_error *err);
/* Lays a model out and leaves all laws, their slopes and the upward sweep at these flows; false without
 * memory. */
bool vent__linearise(vent_workspace *workspace, vent__model *model, const double *flow);
/* Drops what is laid out, so that the next solve lays out anew. */
void vent__forget(vent_workspace *workspace);

void vent__slopes_free(vent__slopes *slopes);

/* Room for a solution, freed with vent_solution_free(); NULL without memory. */
vent_solution *vent__solution_new(const vent__program *program);
/* Copies the solver's state into a solution. */
void vent__take_solution(vent_workspace *workspace, const vent_convergence *convergence,
                         vent_solution *solution);

#endif
