/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Invented networks of any size, for programs that measure: trees, ladders, grids. Each has pipe with a
 * fitting in every run, a power-law soil at every leaf or node, and a fan in the trunk. */
#ifndef VENT_BENCH_NETWORKS_H
#define VENT_BENCH_NETWORKS_H

#include <ventstack/ventstack.h>

/* A balanced tree of that many runs. */
vent_network *bench_tree(int runs, vent_error *err);
/* The same with wyes, elbows, cones and air that cools on its way. */
vent_network *bench_fitted(int runs, vent_error *err);
/* A grid of rows by columns of junctions, each with a pit, all neighbours joined; the fan draws at one
 * corner. Two rows are a ladder. */
vent_network *bench_grid(int rows, int columns, vent_error *err);

#endif
