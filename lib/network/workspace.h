/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the solver works in, and the solution it fills. Arrays over runs are in the program's order. */
#ifndef VENT_NETWORK_WORKSPACE_H
#define VENT_NETWORK_WORKSPACE_H

#include <ventstack/solution.h>

#include "network/program.h"
#include "physics/laws.h"

/* One pipe with its fittings: loss = m (|m| (kf f(Re) + k0) + k1), Re = reynolds |m|, with the
 * coefficients multiplied through to pascals and kg/s. */
typedef struct vent__segment {
    double inertia;            /* 1 / (2 rho A^2) */
    double reynolds;           /* D / (mu A), on the effective diameter */
    double creeping;           /* kg/s: below it the law is a straight line */
    vent__loss along, against; /* flow along the run, and against it */
} vent__segment;

/* A fan that forces a flow, in place of one of the network's own: pressure + stiffness (flow - Q). */
typedef struct vent__forced {
    int fan; /* number in the model, -1 for none */
    double flow, pressure, stiffness;
} vent__forced;

struct vent_workspace {
    vent__program *program;
    vent__model *model; /* whose values are laid out below, held; NULL before the first solve */
    vent__forced forced;
    double drive;  /* Pa, greatest pressure of a fan at the flows the laws were last asked for */
    double felt;   /* Pa, greatest flow times slope of a fan there, whose rounding is felt */
    double joints; /* share of the junctions' losses that is on; 1 but on the way to a hard point */
    /* laid out values */
    vent__segment *segment;
    double *roughness; /* [segments] relative to the effective diameter */
    double *lift;      /* [runs] Pa that the column of gas adds */
    double *reference; /* [runs] kg/s, an ordinary flow for a pipe like that */
    double *density;   /* [runs] */
    vent__leg *leg;    /* [runs] how the run joins the next */
    /* the state and what the laws say of it */
    double *flow;    /* [runs] kg/s */
    double *trial;   /* [runs] kg/s */
    double *settled; /* [runs] kg/s, to come back to */
    double *loss;    /* [runs] Pa from the start of the run to its end, fans and column included */
    double *slope;   /* [runs] its derivative */
    vent__leg_loss *joint; /* [runs] from the run's end into the next */
    double *start;         /* [runs] Pa, total, against outdoors at the same height */
    /* the sweeps: what the air upstream shows to the start of the run, in corrections */
    double *source;       /* [runs] Pa */
    double *source_slope; /* [runs] Pa s/kg */
    double *weight;       /* [runs] kg/s/Pa: how the run answers a change at its end */
    double *legs;         /* [runs] sum of the d_combined of the legs that meet at the start */
    double *step;         /* [runs] kg/s */
};

struct vent_solution {
    vent__program *program;
    vent__model *model;
    double *flow;         /* [runs] kg/s */
    double *start;        /* [runs] Pa, total pressure at the start, against outdoors */
    double *source_slope; /* [runs] Pa s/kg, of everything upstream of the start */
    double *response;     /* [runs] kg/s through the discharge for a pascal more in the run */
    vent_convergence convergence;
};

/* Runs a network through the solver; false with err set. Leaves flow, start, source_slope and weight. */
bool vent__solve(vent_workspace *workspace, vent__model *model, const char *function,
                 vent_convergence *convergence, vent_error *err);
/* Lays a model's values out for the solver. */
void vent__lay_out(vent_workspace *workspace, vent__model *model);
/* Copies the solver's state into a solution. */
void vent__take_solution(const vent_workspace *workspace, const vent_convergence *convergence,
                         vent_solution *solution);

#endif
