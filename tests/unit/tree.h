/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Random stacks, described apart from the library's own model, and a check of their solution that
 * recomputes every law and every balance from the laws and the public functions. */
#ifndef VENT_TEST_TREE_H
#define VENT_TEST_TREE_H

#include <ventstack/ventstack.h>

enum {
    TREE_MOST_RUNS = 400,
    TREE_MOST_LINKS = 10,
    TREE_MOST_ALL = TREE_MOST_RUNS + TREE_MOST_LINKS,
    TREE_MOST_NODES = TREE_MOST_ALL + 1,
    TREE_MOST_FITTINGS = 4
};

typedef struct tree_run {
    int from, to; /* nodes */
    vent_pipe pipe;
    double length, temperature;
    int fittings;
    vent_fitting fitting[TREE_MOST_FITTINGS + 1]; /* a damper comes on top */
    double count[TREE_MOST_FITTINGS + 1];
    int fan; /* number in tree.fan, -1 for none */
    double speed;
    int number; /* the library's */
} tree_run;

typedef struct tree_couple {
    int a, b; /* nodes */
    double resistance;
} tree_couple;

typedef struct tree {
    vent_air soil_gas, outdoors;
    int runs;  /* run i leaves node i + 1; node 0 is the discharge */
    int links; /* runs after these leave a junction that one of them leaves already */
    int nodes; /* those after runs are more discharges */
    tree_run run[TREE_MOST_ALL];
    double height[TREE_MOST_NODES];
    int kind[TREE_MOST_NODES]; /* VENT_NODE_... */
    vent_soil soil[TREE_MOST_NODES];
    vent_junction junction[TREE_MOST_NODES];
    vent_termination termination[TREE_MOST_NODES];
    int couples;
    tree_couple couple[TREE_MOST_NODES];
    double wind;
    vent_fan *fan[TREE_MOST_ALL];
    int fans;
    int node[TREE_MOST_NODES]; /* the library's numbers */
} tree;

/* A uniform number in [low, high) from a generator of the caller's. */
double tree_uniform(uint64_t *state, double low, double high);
/* A random tree with that many runs; fans in the trunk and, where asked for, in branches. */
void tree_random(tree *t, int runs, bool branch_fans, uint64_t *state);
/* Links between its junctions, a second discharge and shared soil. */
void tree_link(tree *t, int links, uint64_t *state);
/* What makes it hard: rising fans, fans that hardly turn, shut dampers, check dampers, pipes without
 * length, dense soil, junctions of several kinds, or nothing that moves. */
void tree_harden(tree *t, uint64_t *state);
/* The tree as a network of the library. */
vent_network *tree_network(tree *t, vent_error *err);
/* A random tree with links as a network. */
vent_network *tree_with_links(int runs, int links, uint64_t *state);
/* Largest residual of pressure over the largest pressure, and of mass over the largest flow. */
void tree_residuals(const tree *t, const vent_solution *s, double *pressure, double *mass);
void tree_free(tree *t);

/* Along every run the ledger's losses are the difference of the pressures at its ends, and air is neither
 * made nor lost at any junction: how far that fails, over the greatest pressure and flow. The walk that
 * writes the ledger knows nothing of the solver; the soil's line is what the pit's pressure says. */
void tree_balances(const vent_network *net, const vent_solution *s, double *pressure, double *mass);
/* Adds leaks of any size at nodes drawn at random. */
void tree_add_leaks(vent_network *net, int leaks, uint64_t *state);
/* A grid of that many junctions with pits at half of them, at times with joints missing, lossless or not, soil that
 * is coupled, a second discharge; a fan draws at one corner. */
vent_network *tree_grid(int rows, int columns, uint64_t *state);

#endif
