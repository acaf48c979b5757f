/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is set in a network that is built. */
#include <ventstack/units.h>

#include "base/fail.h"
#include "network/model.h"
#include "physics/laws.h"

static const double HEIGHT_LIMIT = 1000.0; /* m */
static const double PRESSURE_LIMIT = 1e5;  /* Pa */
static const double SPEED_LIMIT = 10.0;
static const double COEFFICIENT_LIMIT = 10.0;

/* ---- settings ----------------------------------------------------------------------------- */

bool vent_network_set_height(vent_network *network, int node, double height, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) ||
        !vent__model_has_node(network->model, __func__, "node", node, err) ||
        !VENT__RANGE(height, "m", -HEIGHT_LIMIT, HEIGHT_LIMIT))
        return false;
    vent__model *model = vent__model_writable(network, __func__, err);
    if (model)
        model->node[node].height = height;
    return model != NULL;
}

static void fill(vent__run *run, vent_air air)
{
    run->temperature = air.temperature;
    run->density = air.density;
    run->viscosity = air.viscosity;
}

bool vent__model_set_temperature(vent__model *model, int run, double temperature, vent_error *err)
{
    vent_air air = vent_air_at_temperature(model->soil_gas, temperature, err);
    if (!(air.density > 0))
        return false;
    fill(&model->run[run], air);
    model->run[run].own_temperature = true;
    return true;
}

bool vent_network_clear_temperature(vent_network *network, int run, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) ||
        !vent__model_has_run(network->model, __func__, run, err))
        return false;
    vent__model *model = vent__model_writable(network, __func__, err);
    if (!model)
        return false;
    fill(&model->run[run], model->soil_gas);
    model->run[run].own_temperature = false;
    return true;
}

bool vent__model_set_airs(vent__model *model, vent_air soil_gas, vent_air outdoors, vent_error *err)
{
    for (int i = 0; i < model->runs; ++i) /* all first, so that nothing is changed by halves */
        if (model->run[i].own_temperature &&
            !(vent_air_at_temperature(soil_gas, model->run[i].temperature, err).density > 0))
            return false;
    model->soil_gas = soil_gas;
    model->outdoors = outdoors;
    for (int i = 0; i < model->runs; ++i) {
        vent__run *run = &model->run[i];
        fill(run, run->own_temperature ? vent_air_at_temperature(soil_gas, run->temperature, NULL)
                                       : soil_gas);
    }
    return true;
}

bool vent_network_set_temperature(vent_network *network, int run, double temperature,
                                  vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) ||
        !vent__model_has_run(network->model, __func__, run, err))
        return false;
    vent__model *model = vent__model_writable(network, __func__, err);
    return model && vent__model_set_temperature(model, run, temperature, err);
}

bool vent_network_set_wind_pressure(vent_network *network, double pressure, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) ||
        !VENT__RANGE(pressure, "Pa", -PRESSURE_LIMIT, PRESSURE_LIMIT))
        return false;
    vent__model *model = vent__model_writable(network, __func__, err);
    if (model)
        model->wind_pressure = pressure;
    return model != NULL;
}

bool vent_network_set_building_pressure(vent_network *network, double pressure, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) ||
        !VENT__RANGE(pressure, "Pa", -PRESSURE_LIMIT, PRESSURE_LIMIT))
        return false;
    vent__model *model = vent__model_writable(network, __func__, err);
    if (model)
        model->building_pressure = pressure;
    return model != NULL;
}

bool vent_network_set_termination(vent_network *network, vent_termination termination,
                                  vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network))
        return false;
    if (network->model->discharge < 0)
        return VENT__FAIL(VENT_E_TOPOLOGY, "", -1, "%s: the network has no discharge yet",
                          __func__);
    return vent_network_set_termination_at(network, network->model->discharge, termination, err);
}

bool vent_network_set_termination_at(vent_network *network, int discharge,
                                     vent_termination termination, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) ||
        !vent__termination_check(&termination, __func__, err) ||
        !vent__model_has_node(network->model, __func__, "discharge", discharge, err))
        return false;
    if (network->model->node[discharge].kind != VENT__DISCHARGE)
        return VENT__FAIL(VENT_E_NOT_FOUND, "discharge", discharge,
                          "%s: node '%.60s' is no discharge", __func__,
                          vent__node_name(network->model, discharge));
    vent__model *model = vent__model_writable(network, __func__, err);
    if (model)
        model->node[discharge].termination = termination;
    return model != NULL;
}

bool vent_network_set_wind(vent_network *network, double dynamic_pressure, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) ||
        !VENT__RANGE(dynamic_pressure, "Pa", 0, PRESSURE_LIMIT))
        return false;
    vent__model *model = vent__model_writable(network, __func__, err);
    if (model)
        model->wind_dynamic_pressure = dynamic_pressure;
    return model != NULL;
}

bool vent_network_set_pressure_coefficient(vent_network *network, int node, double coefficient,
                                           vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) ||
        !vent__model_has_node(network->model, __func__, "node", node, err) ||
        !VENT__RANGE(coefficient, "", -COEFFICIENT_LIMIT, COEFFICIENT_LIMIT))
        return false;
    if (!vent__feels_wind(network->model, node))
        return VENT__FAIL(VENT_E_NOT_FOUND, "node", node,
                          "%s: node '%.60s' is neither a discharge nor an opening to the outdoors",
                          __func__, vent__node_name(network->model, node));
    vent__model *model = vent__model_writable(network, __func__, err);
    if (model)
        model->node[node].pressure_coefficient = coefficient;
    return model != NULL;
}

/* Number of a fan's item in the model; -1 with err. */
static int fan_item(const vent__model *model, const char *function, int run, int item,
                    vent_error *err)
{
    int number = vent__model_item(model, run, item);
    if (number >= 0 && model->item[number].kind == VENT__FAN)
        return number;
    vent__fail(err, VENT_E_NOT_FOUND, function, "item", item, item, NAN, NAN,
               "%s: item %d of run '%.60s' is not a fan", function, item,
               vent__run_name(model, run));
    return -1;
}

bool vent_network_set_fan_speed(vent_network *network, int run, int item, double speed,
                                vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) ||
        !vent__model_has_run(network->model, __func__, run, err) ||
        !VENT__RANGE(speed, "", 1e-6, SPEED_LIMIT))
        return false;
    int number = fan_item(network->model, __func__, run, item, err);
    vent__model *model = number >= 0 ? vent__model_writable(network, __func__, err) : NULL;
    if (model)
        model->item[number].amount = speed;
    return model != NULL;
}

bool vent_network_fan_off(vent_network *network, int run, int item, vent_fitting resistance,
                          vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) ||
        !vent__model_has_run(network->model, __func__, run, err) ||
        !vent__fitting_check(&resistance, __func__, err))
        return false;
    int number = fan_item(network->model, __func__, run, item, err);
    vent__model *model = number >= 0 ? vent__model_writable(network, __func__, err) : NULL;
    if (!model)
        return false;
    model->item[number].fitting = resistance;
    model->item[number].running = 0;
    return true;
}

bool vent_network_fan_on(vent_network *network, int run, int item, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) ||
        !vent__model_has_run(network->model, __func__, run, err))
        return false;
    int number = fan_item(network->model, __func__, run, item, err);
    vent__model *model = number >= 0 ? vent__model_writable(network, __func__, err) : NULL;
    if (model)
        model->item[number].running = 1;
    return model != NULL;
}
