/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What parameters do to the equations of a solved network, and what its results read.
 *
 * Parameters enter by way of a few numbers of each run: Pa it loses, the density of its air, ... A change is
 * how one of these answers one parameter, and does not depend on the result that is asked for. What a result
 * answers to each of these numbers is an answer; a derivative is the sum of changes times answers. */
#ifndef VENT_NETWORK_SLOPES_H
#define VENT_NETWORK_SLOPES_H

#include <ventstack/observable.h>

#include "network/workspace.h"

/* The numbers of a run; densities, viscosities and areas as their logarithms. */
enum {
    VENT__LOSS,      /* Pa lost in the run, its joint, against its column and the wind at its end */
    VENT__VACUUM,    /* Pa of vacuum that the soil or opening at its start needs */
    VENT__DENSITY,   /* of its air */
    VENT__VISCOSITY, /* of its air */
    VENT__START,     /* area of the first pipe, in the junction where it starts */
    VENT__END,       /* area of the last pipe, in the junction where it ends */
    VENT__ANGLE,     /* of the junction where it starts */
    VENT__FACTOR,    /* of the junction where it starts */
    VENT__OF_RUN     /* how many */
};

/* Those of the network. */
enum { VENT__OUTDOOR_DENSITY, VENT__SOIL_DENSITY, VENT__SOIL_VISCOSITY, VENT__OF_NETWORK };

/* One parameter's change of one number. */
typedef struct vent__change {
    int32_t column;
    int32_t number; /* of the answers */
    double amount;
} vent__change;

/* Where an item stands, and what it takes to know of the pipe it is in. */
typedef struct vent__spot {
    int run, rank, k, segment;
    const vent__item *item, *pipe, *before; /* before: the pipe before that */
    double flow, size;                      /* size: as laws see it */
    double bore, hydraulic, effective;      /* of the circle of its area; diameters */
    double reynolds, f, e;
    double feels_roughness; /* Pa by the relative roughness; NaN before it was asked for */
    double pressure;        /* Pa of a coefficient of 1, signed with the flow */
} vent__spot;

/* The air of a run with a temperature of its own; NaN where it was not asked for. */
typedef struct vent__own_air {
    vent__air_slope temperature, pressure; /* pressure with the soil gas's vapour kept */
    vent__air_slope vapour;                /* by the mole fraction in the soil gas */
} vent__own_air;

/* A fitting or a termination: one of the two. */
typedef struct vent__part_at {
    const vent_fitting *fitting;
    const vent_termination *termination;
} vent__part_at;

/* k0 + k1/Re + kf f of a part either way, or how these answer a number of it: a slot of its geometry, the bore,
 * the factor. */
typedef struct vent__form {
    vent__loss along, against;
} vent__form;
enum { VENT__BY_BORE = 6, VENT__BY_FACTOR, VENT__ITSELF, VENT__FORMS };

/* What is known of a part in a bore. */
typedef struct vent__known_part {
    double contents[8];
    double bore;
    bool is_termination;
    bool has_rest;  /* something the form does not hold */
    unsigned known; /* bits of the forms that are there; 0 where nothing is */
    vent__form form[VENT__FORMS];
} vent__known_part;
enum { VENT__KNOWN_PARTS = 64 };

struct vent__slopes {
    const vent_solution *solution;
    const vent__model *model;
    const vent__program *program;
    vent_workspace *ws;
    int runs; /* positions */
    vent__change *change;
    int changes, room;
    bool junctions, airs; /* asked for: areas, angles, factors or densities; airs of the network */
    bool short_of_memory;
    /* rows of one block */
    double *block;
    double *f, *e;                     /* [segments] friction factor, d ln f / d ln Re */
    double *column;                    /* [runs] m2/s2, g times its rise */
    double *by_density, *by_viscosity; /* [runs] Pa of loss by their logarithms */
    double *flow, *pressure;           /* [runs] the result's own derivatives */
    double *scratch;                   /* [runs] */
    double *answer;                    /* [OF_RUN x runs + OF_NETWORK] */
    vent__leg_slopes *leg;             /* [ties] */
    int32_t *root;                     /* [nodes] position of the run that ends at a discharge */
    int ties;                          /* room for */
    vent__spot spot;                   /* where the last item stood */

    vent__own_air *own;                       /* [runs of the model] */
    int own_room, own_last;                   /* own_last: evaluated last, -1 for none */
    bool own_known;                           /* the list is of this solution */
    vent__known_part part[VENT__KNOWN_PARTS]; /* asked for last, each where its contents tell */
    vent__known_part *last_part;
    vent__model *trial; /* to write values into that results read; NULL until one is needed */
};

/* Room for more changes; false without memory. */
bool vent__slopes_grow(vent__slopes *s);

static inline int vent__number_of(const vent__slopes *s, int what, int k)
{
    return what * s->runs + k;
}
static inline int vent__number_of_network(const vent__slopes *s, int what)
{
    return VENT__OF_RUN * s->runs + what;
}

static inline void vent__change_number(vent__slopes *s, int column, int number, double amount)
{
    if (s->changes == s->room && !vent__slopes_grow(s))
        return;
    s->change[s->changes++] = (vent__change){column, number, amount};
}
static inline void vent__change_run(vent__slopes *s, int column, int what, int k, double amount)
{
    if (amount != 0)
        vent__change_number(s, column, vent__number_of(s, what, k), amount);
}

/* The position of the run that leaves a node. */
static inline int vent__leaving(const vent__slopes *s, int node)
{
    return s->program->position[s->model->node[node].leaving];
}

/* ---- together -------------------------------------------------------------------------------- */

/* The slopes at a solution, which stay the workspace's; NULL without memory. Then the changes that so many
 * parameters make; false without memory. */
vent__slopes *vent__slopes_begin(vent_workspace *ws, const vent_solution *solution);
bool vent__slopes_of(vent__slopes *s, size_t columns, const vent_parameter *parameters);
/* For a result whose answers to LOSS and VACUUM of every run are there: those to all other numbers of runs;
 * `seen` is the position of the leg whose joint is the result, or -1. Then those to the soil gas, which follow.
 * Last, changes times answers, added up by parameter. */
void vent__answers(vent__slopes *s, int seen);
void vent__answer_soil_gas(vent__slopes *s);
void vent__add_changes(const vent__slopes *s, double *gradient);

/* ---- one part (slopes_part.c) ---------------------------------------------------------------- */

/* Where a law is a published formula it is differenced at four points; all on one side where the number
 * stands at a bound. */
enum { VENT__POINTS = 4 };
typedef struct vent__stencil {
    double at[VENT__POINTS], weight[VENT__POINTS]; /* for the change from the value itself */
} vent__stencil;
vent__stencil vent__stencil_at(double value, double low, double high);

/* Loss of one [Pa] at a spot, with what a flap takes to open; its slope by a number: a slot of its geometry, the
 * factor, or the bore, through its coefficient alone; and what the logarithms of the area and of the Reynolds
 * number do to it beside the form. */
double vent__part_loss(vent__slopes *s, const vent__spot *at, vent__part_at part);
double vent__part_by(vent__slopes *s, const vent__spot *at, vent__part_at part, int by);
double vent__rest_by_widening(vent__slopes *s, const vent__spot *at, vent__part_at part,
                              double area, double reynolds);

/* ---- changes, by theme ----------------------------------------------------------------------- */

/* Of what stands in a run: pipes, fittings, fans, the termination (slopes_run.c). */
void vent__slope_of_item(vent__slopes *s, int column, const vent_parameter *p);
void vent__slope_of_termination(vent__slopes *s, int column, const vent_parameter *p);
/* Of airs and the columns they stand in (slopes_air.c). The first is what all runs answer to density and
 * viscosity; the last adds what follows from the answers of the runs. */
void vent__slopes_of_columns(vent__slopes *s);
void vent__slope_of_air(vent__slopes *s, int column, const vent_parameter *p);
void vent__slope_of_height(vent__slopes *s, int column, const vent_parameter *p);
void vent__answer_air(vent__slopes *s);
/* Of soils, openings, wind and rooms (slopes_soil.c). */
void vent__slope_of_soil(vent__slopes *s, int column, const vent_parameter *p);
void vent__slope_of_opening(vent__slopes *s, int column, const vent_parameter *p);
void vent__slope_of_coupling(vent__slopes *s, int column, const vent_parameter *p);
void vent__slope_of_wind(vent__slopes *s, int column, const vent_parameter *p);
/* Of junctions (slopes_joint.c): all legs once; `seen` is the leg whose loss is the result, or -1. */
bool vent__slopes_of_legs(vent__slopes *s);
void vent__slope_of_junction(vent__slopes *s, int column, const vent_parameter *p);
void vent__answer_junctions(vent__slopes *s, int seen);

/* ---- what results read (observed.c) ---------------------------------------------------------- */

/* Leaves the result's own derivatives by flows and pressures. */
void vent__seed(vent__slopes *s, const vent_observable *o);
/* Adds to the answers what it reads of airs. */
void vent__read_airs(vent__slopes *s, const vent_observable *o);
/* The derivative by what it reads of other parameters itself, beside flows and pressures. */
void vent__read_parameters(vent__slopes *s, const vent_observable *o, size_t columns,
                           const vent_parameter *parameters, double *gradient);

#endif
