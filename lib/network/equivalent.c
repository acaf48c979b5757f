/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The equivalent source at a node: the pressure it offers, and how that falls as the run takes more. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "network/state.h"
#include "network/transpose.h"

/* What a pascal more of loss in run k does to its own flow, or to the pressure where it starts. */
static double answer(vent_workspace *ws, double *block, int k, bool of_pressure)
{
    size_t runs = (size_t)ws->program->runs;
    double *flow = block, *pressure = block + runs, *response = block + 2 * runs;
    memset(block, 0, 2 * runs * sizeof *block);
    *(of_pressure ? &pressure[k] : &flow[k]) = 1;
    vent__transpose(ws, flow, pressure, response, block + 3 * runs);
    return response[k];
}

/* In a tree a node's source is the subtree upstream. Links, and soil that is shared, tie what is upstream to what is
 * downstream; then all but the run itself answers, and two answers to a pascal in it tell the slope. At
 * a discharge that pascal is the pressure there. */
static double tied_slope(const vent_solution *s, int k, bool at_discharge)
{
    vent_network network = {s->model};
    vent_workspace *ws = vent_workspace_new(&network, NULL);
    double *block = NULL, slope = NAN;
    if (ws && vent__resize(&block, 4 * (size_t)ws->program->runs, sizeof *block) &&
        vent__linearise(ws, s->model, s->flow))
        slope = -(at_discharge ? 1 : answer(ws, block, k, true)) / answer(ws, block, k, false);
    free(block);
    vent_workspace_free(ws);
    return slope;
}

vent_equivalent_source vent_solution_source(const vent_solution *s, int node)
{
    if (!s || node < 0 || node >= s->model->nodes)
        return (vent_equivalent_source){NAN, NAN, NAN};
    int leaving = s->model->node[node].leaving;
    int k = leaving >= 0 ? s->program->position[leaving] : vent__root_of(s, node);
    vent_equivalent_source source = {vent_solution_pressure(s, node), s->flow[k], NAN};
    if (s->program->links || s->program->coupled)
        source.slope = tied_slope(s, k, leaving < 0);
    else if (leaving >= 0)
        source.slope = s->source_slope[k];
    else
        source.slope = 1 / (s->response[k] * s->model->run[s->program->run[k]].density);
    return source;
}
