/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "networks.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <ventstack/units.h>

/* A network with nothing in it, and a fan for so many pits. */
static vent_network *with_fan(int pits, vent_fan **fan, vent_error *err)
{
    vent_air gas = vent_air_moist(286.15, 98300, 1, err);
    double most = 2e-3 * pits, flow[] = {0, most / 2, most}, pressure[] = {600, 450, 0};
    *fan = vent_fan_new("bench", 3, flow, pressure, err);
    return vent_network_new(gas, gas, err);
}

static int add_run(vent_network *net, char letter, int number, int from, int to, double bore,
                   double length, vent_error *err)
{
    char name[24];
    snprintf(name, sizeof name, "%c%d", letter, number);
    int run = vent_network_run(net, name, from, to, vent_pipe_round(bore, 1e-5, err), length, err);
    vent_network_fitting(net, run, vent_fitting_constant(0.5, 0, err), 1, err);
    return run;
}

static int add_pit(vent_network *net, int number, vent_error *err)
{
    char name[24];
    snprintf(name, sizeof name, "pit %d", number);
    double c = 1e-4 * (1 + 0.3 * sin(number));
    return vent_network_suction_point(net, name, vent_soil_power(c, 0.65, err), err);
}

static int add_node(vent_network *net, int number, vent_error *err)
{
    char name[24];
    snprintf(name, sizeof name, "node %d", number);
    return vent_network_junction(net, name, vent_junction_lossless(), err);
}

/* Bores halve in area downwards. */
vent_network *bench_tree(int runs, vent_error *err)
{
    vent_fan *fan;
    vent_network *net = with_fan(runs / 2, &fan, err);
    int *node = calloc((size_t)runs, sizeof *node), depth = 0;
    for (int i = 0; i < runs; ++i)
        node[i] = 2 * i + 1 >= runs ? add_pit(net, i, err) : add_node(net, i, err);
    int roof = vent_network_discharge(net, "roof", vent_open_end(), 0, err);
    double wide = fmin(0.08 * sqrt((double)runs), 10);
    for (int i = 0; i < runs; ++i) {
        while (i + 1 >= 2 << depth)
            ++depth;
        double bore = fmax(wide * pow(0.5, depth / 2.0), 0.05);
        add_run(net, 'r', i, node[i], i == 0 ? roof : node[(i - 1) / 2], bore, 2, err);
    }
    vent_network_fan(net, 0, fan, err);
    vent_fan_free(fan);
    free(node);
    return net;
}

/* The same tree as a plumber leaves it: wyes, elbows, a cone into a wider pipe, air that cools on its way. */
vent_network *bench_fitted(int runs, vent_error *err)
{
    vent_fan *fan;
    vent_network *net = with_fan(runs / 2, &fan, err);
    int *node = calloc((size_t)runs, sizeof *node), depth = 0;
    for (int i = 0; i < runs; ++i) {
        char name[24];
        snprintf(name, sizeof name, "wye %d", i);
        node[i] = 2 * i + 1 >= runs
                      ? add_pit(net, i, err)
                      : vent_network_junction(net, name, vent_wye(VENT_RADIANS(60), err), err);
    }
    int roof = vent_network_discharge(net, "roof", vent_open_end(), 7, err);
    double wide = fmin(0.08 * sqrt((double)runs), 9);
    for (int i = 0; i < runs; ++i) {
        while (i + 1 >= 2 << depth)
            ++depth;
        double bore = fmax(wide * pow(0.5, depth / 2.0), 0.05);
        int run = add_run(net, 'r', i, node[i], i == 0 ? roof : node[(i - 1) / 2], bore, 2, err);
        vent_network_fitting(net, run, vent_elbow(VENT_RADIANS(90), 1.5, err), 2, err);
        vent_network_pipe(net, run, vent_pipe_round(1.1 * bore, 1e-5, err), 1, VENT_RADIANS(30),
                          err);
        vent_network_set_temperature(net, run, 280 + 5 * sin(i), err);
    }
    vent_network_fan(net, 0, fan, err);
    vent_fan_free(fan);
    free(node);
    return net;
}

vent_network *bench_grid(int rows, int columns, vent_error *err)
{
    vent_fan *fan;
    int nodes = rows * columns, links = 0;
    vent_network *net = with_fan(nodes, &fan, err);
    int *node = calloc((size_t)nodes, sizeof *node);
    for (int i = 0; i < nodes; ++i)
        node[i] = add_node(net, i, err);
    int roof = vent_network_discharge(net, "roof", vent_open_end(), 0, err);
    double bore = fmin(0.05 * sqrt((double)nodes), 5);
    int trunk = add_run(net, 't', 0, node[0], roof, bore, 5, err);
    for (int i = 0; i < nodes; ++i)
        add_run(net, 'p', i, add_pit(net, i, err), node[i], 0.08, 1, err);
    for (int i = 1; i < nodes; ++i) {
        int row = i / columns, column = i % columns;
        if (row > 0)
            add_run(net, 'n', links++, node[i], node[i - columns], 0.5 * bore, 3, err);
        if (column > 0)
            add_run(net, 'w', links++, node[i], node[i - 1], 0.5 * bore, 3, err);
    }
    vent_network_fan(net, trunk, fan, err);
    vent_fan_free(fan);
    free(node);
    return net;
}
