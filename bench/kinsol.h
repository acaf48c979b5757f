/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The peer for whole networks: KINSOL's Newton iteration with KLU on the exact sparse Jacobian (SUNDIALS,
 * SuiteSparse), on the very same equations: an unknown flow for each run and pressure for each junction,
 * laws and slopes by the library's own code in a workspace of its own. Junctions must be lossless and
 * soil not coupled. It starts as the library does, from flows found by the library's own first steps, which
 * both clocks count. */
#ifndef VENT_BENCH_KINSOL_H
#define VENT_BENCH_KINSOL_H

#include <ventstack/ventstack.h>

typedef struct kinsol kinsol;

/* NULL where SUNDIALS or SuiteSparse was not there when the benchmarks were built. */
kinsol *kinsol_new(const vent_network *network, vent_error *err);
/* Solves from the start; how many iterations, or -1. */
int kinsol_solve(kinsol *peer);
/* Flow of a run [kg/s]. */
double kinsol_flow(const kinsol *peer, int run);
void kinsol_free(kinsol *peer);

#endif
