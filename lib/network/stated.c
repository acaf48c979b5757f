/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/fail.h"
#include "network/parameter.h"

/* Of a rectangular pipe the stated uncertainty is that of its hydraulic diameter: width and depth taken
 * together, so that either side carries the same share of itself. */
static double bore_uncertainty(const vent_pipe *pipe, int slot)
{
    double side = slot == 0 ? pipe->width : pipe->depth;
    return pipe->bore_uncertainty * side / vent_pipe_hydraulic_diameter(*pipe);
}

double vent_network_stated_uncertainty(const vent_network *network, vent_parameter parameter,
                                       vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) ||
        !vent__parameter_check(network->model, &parameter, __func__, err))
        return NAN;
    if (parameter.kind != VENT_PARAMETER_BORE && parameter.kind != VENT_PARAMETER_ROUGHNESS)
        return 0;
    const vent__model *model = network->model;
    const vent_pipe *pipe =
        &model->item[vent__model_item(model, parameter.place, parameter.item)].pipe;
    return parameter.kind == VENT_PARAMETER_BORE ? bore_uncertainty(pipe, parameter.slot)
                                                 : pipe->roughness_uncertainty;
}
