/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the system takes at a flow: a stiff line stands in the fan's place. */
#include <math.h>

#include "base/fail.h"
#include "network/equations.h"

static const double MOST_FLOW = 1e3; /* m3/s a system curve is asked for */

/* What the system takes when the fan is a stiff line through `pressure` at the flow asked for. */
static double taken_pressure(vent_workspace *ws, vent__model *model, int k, double pressure,
                             const char *function, vent_error *err)
{
    vent_convergence c;
    ws->forced.pressure = pressure;
    if (!vent__solve(ws, model, function, &c, err))
        return NAN;
    return vent__fan_of(ws, ws->forced.fan, k, ws->flow[k]).value;
}

/* The pressure a fan must make for a flow: the line's own pressure there, found by secants, since on
 * soil of any tightness the system's slope may be far above or below the line's. */
static double needed_pressure(vent_workspace *ws, vent__model *model, int fan, double flow,
                              const char *function, vent_error *err)
{
    enum { MOST_PASSES = 30 };
    const double enough = 1e-12, least_stiffness = 1e6; /* of the pressure; Pa s/m3 */
    int k = ws->program->position[model->fan[fan].run];
    ws->forced = (vent__forced){.fan = fan, .flow = flow, .stiffness = least_stiffness};
    double before = 0, taken_before = taken_pressure(ws, model, k, before, function, err);
    double chord = fabs(taken_before) * ws->density[k] / vent__larger(fabs(ws->flow[k]), 1e-30);
    if (chord > least_stiffness) { /* tight soil needs a line as steep as its own */
        ws->forced.stiffness = chord;
        taken_before = taken_pressure(ws, model, k, before, function, err);
    }
    double pressure = taken_before, taken = NAN;
    for (int i = 0; i < MOST_PASSES && isfinite(pressure); ++i) {
        taken = taken_pressure(ws, model, k, pressure, function, err);
        double rest = taken - pressure, rest_before = taken_before - before;
        if (!isfinite(taken) || fabs(rest) <= enough * fabs(pressure) || rest == rest_before)
            break;
        double next = pressure - rest * (pressure - before) / (rest - rest_before);
        before = pressure;
        taken_before = taken;
        pressure = next;
    }
    ws->forced.fan = -1;
    if (fabs(taken - pressure) <= 1e-9 * fabs(pressure))
        return taken;
    vent__fail(err, VENT_E_NOT_CONVERGED, function, "flow", -1, flow, NAN, NAN,
               "%s: at %.4g m3/s no pressure of the fan was found", function, flow);
    return NAN;
}

size_t vent_network_system_curve(const vent_network *network, vent_workspace *workspace, int fan,
                                 size_t n, const double *flow, double *pressure, vent_error *err)
{
    for (size_t i = 0; pressure && i < n; ++i)
        pressure[i] = NAN;
    if (vent__failed(err) || !VENT__POINTER(network) || !VENT__POINTER(workspace) ||
        !VENT__POINTER(flow) || !VENT__POINTER(pressure))
        return n;
    vent__model *model = network->model;
    if (!vent__same_shape(workspace, model, __func__, err))
        return n;
    if (fan < 0 || fan >= model->fans) {
        VENT__FAIL(VENT_E_NOT_FOUND, "fan", fan,
                   "%s: fan is %d; this network has %d, numbered from 0", __func__, fan,
                   model->fans);
        return n;
    }
    size_t failed = 0;
    for (size_t i = 0; i < n; ++i) {
        vent_error one = VENT_NO_ERROR;
        if (vent__check_range(&one, __func__, "flow", "m3/s", flow[i], -MOST_FLOW, MOST_FLOW))
            pressure[i] = needed_pressure(workspace, model, fan, flow[i], __func__, &one);
        one.index = (int64_t)i;
        failed += isfinite(pressure[i]) ? 0 : 1;
        if (one.status != VENT_OK && err && err->status == VENT_OK)
            *err = one;
    }
    return failed;
}
