/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tree.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "physics/laws.h"

double tree_uniform(uint64_t *state, double low, double high)
{
    *state += 0x9e3779b97f4a7c15u; /* splitmix64 */
    uint64_t z = *state;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    z ^= z >> 31;
    return low + (high - low) * (double)(z >> 11) * 0x1p-53;
}

static int pick(uint64_t *state, int n)
{
    return (int)tree_uniform(state, 0, n);
}

static vent_fan *random_fan(uint64_t *state)
{
    double most = tree_uniform(state, 0.03, 0.15), highest = tree_uniform(state, 150, 900);
    double power = tree_uniform(state, 1.2, 2.5), flow[7], pressure[7];
    for (int i = 0; i < 7; ++i) {
        flow[i] = most * i / 6;
        pressure[i] = highest * (1 - pow(i / 6.0, power));
    }
    return vent_fan_new("drawn at random", 7, flow, pressure, NULL);
}

static vent_fitting random_fitting(uint64_t *state)
{
    switch (pick(state, 5)) {
    case 0:
        return vent_elbow(tree_uniform(state, 0.3, VENT_PI / 2), tree_uniform(state, 1, 3), NULL);
    case 1:
        return vent_mitre(tree_uniform(state, 0.3, VENT_PI / 2), NULL);
    case 2:
        return vent_entry_flush();
    case 3:
        return vent_fitting_constant(tree_uniform(state, 0, 3), 0, NULL);
    default:
        return vent_entry_rounded(tree_uniform(state, 0, 0.3), NULL);
    }
}

static vent_soil random_soil(uint64_t *state)
{
    if (pick(state, 2))
        return vent_soil_power(tree_uniform(state, 1e-4, 3e-3), tree_uniform(state, 0.5, 1), NULL);
    return vent_soil_two_term(tree_uniform(state, 0, 2e4), tree_uniform(state, 1e4, 1e6), NULL);
}

/* What two soils may share and still only resist. */
static double shared_at_most(vent_soil a, vent_soil b)
{
    bool both = a.law == VENT_SOIL_TWO_TERM && b.law == VENT_SOIL_TWO_TERM;
    return both ? sqrt(a.a * b.a) : INFINITY;
}

void tree_random(tree *t, int runs, bool branch_fans, uint64_t *state)
{
    static const double SIZES[] = {2, 3, 4, 6};
    int size[TREE_MOST_RUNS];
    *t = (tree){.runs = runs};
    t->soil_gas = vent_air_moist(tree_uniform(state, 278, 292), tree_uniform(state, 8e4, 1.03e5),
                                 tree_uniform(state, 0.5, 1), NULL);
    t->outdoors = vent_air_moist(tree_uniform(state, 243, 308), t->soil_gas.pressure,
                                 tree_uniform(state, 0, 1), NULL);
    t->wind = tree_uniform(state, -10, 10);
    vent_junction junction = pick(state, 2) ? vent_wye(tree_uniform(state, 0.5, VENT_PI / 2), NULL)
                                            : vent_junction_lossless();
    t->nodes = runs + 1;
    t->termination[0] = vent_open_end();
    for (int i = 0; i <= runs; ++i) {
        t->kind[i] = i > 0 ? VENT_NODE_SUCTION_POINT : VENT_NODE_DISCHARGE;
        t->junction[i] = junction;
    }
    for (int i = 0; i < runs; ++i) {
        tree_run *run = &t->run[i];
        run->from = i + 1;
        run->to = i == 0 ? 0 : 1 + pick(state, i); /* the trunk first, then anywhere above it */
        if (i > 0)
            t->kind[run->to] = VENT_NODE_JUNCTION;
        int widest = i == 0 ? 3 : size[run->to - 1]; /* no leg is wider than the pipe it joins */
        size[i] = pick(state, widest + 1);
        run->pipe = vent_pipe_find("PVC 40", SIZES[size[i]] * VENT_INCH, NULL);
        run->length = tree_uniform(state, 0.2, 12);
        run->temperature = tree_uniform(state, 270, 300);
        run->fittings = pick(state, TREE_MOST_FITTINGS + 1);
        for (int j = 0; j < run->fittings; ++j) {
            run->fitting[j] = random_fitting(state);
            run->count[j] = 1 + pick(state, 3);
        }
        run->fan = -1;
        run->speed = 1;
        if (i == 0 || (branch_fans && pick(state, 6) == 0)) {
            run->fan = t->fans;
            t->fan[t->fans++] = random_fan(state);
        }
        t->height[i + 1] = tree_uniform(state, -1, 6);
        t->soil[i + 1] = random_soil(state);
    }
    t->height[0] = tree_uniform(state, 4, 10);
}

static int pick_junction(const tree *t, uint64_t *state)
{
    int junctions = 0;
    for (int i = 0; i < t->nodes; ++i)
        junctions += t->kind[i] == VENT_NODE_JUNCTION;
    int left = pick(state, junctions);
    for (int i = 0; i < t->nodes; ++i)
        if (t->kind[i] == VENT_NODE_JUNCTION && left-- == 0)
            return i;
    return -1;
}

static void add_link(tree *t, int from, int to, uint64_t *state)
{
    tree_run *run = &t->run[t->runs + t->links++];
    *run = (tree_run){.from = from, .to = to, .fittings = 1, .count = {2}, .fan = -1, .speed = 1};
    run->pipe = vent_pipe_round(tree_uniform(state, 0.04, 0.12), 1e-5, NULL);
    run->length = tree_uniform(state, 1, 20);
    run->temperature = t->soil_gas.temperature;
    run->fitting[0] = vent_elbow(VENT_RADIANS(90), 1, NULL);
}

void tree_link(tree *t, int links, uint64_t *state)
{
    int second = t->nodes++, first = pick_junction(t, state);
    t->kind[second] = VENT_NODE_DISCHARGE;
    t->height[second] = 5;
    t->termination[second] = vent_open_end();
    add_link(t, first, second, state);
    for (int i = 1; i < links; ++i) {
        int from = pick_junction(t, state), to = pick_junction(t, state);
        if (from != to)
            add_link(t, from, to, state);
    }
    for (int i = 1, last = -1; i <= t->runs; ++i) {
        if (t->kind[i] != VENT_NODE_SUCTION_POINT)
            continue;
        if (last >= 0 && tree_uniform(state, 0, 1) < 0.3)
            t->couple[t->couples++] = (tree_couple){
                last, i,
                fmin(tree_uniform(state, 0, 3000), shared_at_most(t->soil[last], t->soil[i]))};
        last = i;
    }
}

/* ---- hard ones ------------------------------------------------------------------------------ */

/* A curve that rises and falls as it likes; one in four also where it begins or ends. */
static vent_fan *rising_fan(uint64_t *state)
{
    double most = tree_uniform(state, 0.03, 0.15), highest = tree_uniform(state, 150, 900);
    double least = pick(state, 4) ? 0 : tree_uniform(state, 0, 0.2) * most, flow[7], pressure[7];
    bool falls_at_ends = pick(state, 4);
    for (int i = 0; i < 7; ++i) {
        flow[i] = least + (most - least) * i / 6;
        pressure[i] = highest * (1 - i * i / 40.0) * tree_uniform(state, 0.4, 1);
    }
    if (falls_at_ends) {
        pressure[0] = 1.02 * pressure[1];
        pressure[6] = 0.8 * pressure[5];
    }
    return vent_fan_new("drawn at random", 7, flow, pressure, NULL);
}

static vent_fitting shut(uint64_t *state)
{
    switch (pick(state, 5)) {
    case 0:
        return vent_butterfly_damper(VENT_RADIANS(85), 1, NULL);
    case 1:
        return vent_slide_gate(0.02, NULL);
    case 2:
        return vent_orifice_plate(tree_uniform(state, 0.1, 0.9), NULL);
    default: /* against the air, or with it */
        return vent_check_damper(tree_uniform(state, 1, 60), tree_uniform(state, 0.002, 0.1), NULL);
    }
}

static vent_junction any_junction(uint64_t *state)
{
    double angle = tree_uniform(state, 0.5, VENT_PI / 2);
    switch (pick(state, 4)) {
    case 0:
        return vent_junction_lossless();
    case 1:
        return vent_double_wye(angle, NULL);
    case 2:
        return vent_wye_by_momentum(angle, NULL);
    default:
        return vent_wye(angle, NULL);
    }
}

static vent_termination any_end(uint64_t *state)
{
    switch (pick(state, 4)) {
    case 0:
        return vent_rain_cap(tree_uniform(state, 0.4, 1), NULL);
    case 1:
        return vent_termination_blocked(vent_open_end(), tree_uniform(state, 0.05, 0.9), NULL);
    case 2:
        return vent_end_guard(0.001, tree_uniform(state, 0.002, 0.02), NULL);
    default:
        return vent_open_end();
    }
}

static void harden_run(tree *t, tree_run *run, uint64_t *state)
{
    if (pick(state, 8) == 0) {
        run->fitting[run->fittings] = shut(state);
        run->count[run->fittings++] = 1;
    }
    if (pick(state, 20) == 0)
        run->length = 0;
    if (run->fan < 0 && pick(state, 20) == 0)
        t->fan[run->fan = t->fans++] = rising_fan(state);
    if (run->fan >= 0 && pick(state, 8) == 0)
        run->speed = exp(tree_uniform(state, log(1e-6), log(2)));
}

static void still(tree *t)
{
    t->outdoors = vent_air_at_temperature(t->soil_gas, t->soil_gas.temperature, NULL);
    t->wind = 0;
    for (int i = 0; i < t->runs + t->links; ++i) {
        t->run[i].fan = -1;
        t->run[i].temperature = t->soil_gas.temperature;
    }
}

void tree_harden(tree *t, uint64_t *state)
{
    bool fans_rise = pick(state, 2);
    for (int i = 0; i < t->fans && fans_rise; ++i) {
        vent_fan_free(t->fan[i]);
        t->fan[i] = rising_fan(state);
    }
    bool junctions_differ = pick(state, 2);
    for (int i = 0; i < t->nodes; ++i) {
        if (junctions_differ)
            t->junction[i] = any_junction(state);
        if (t->kind[i] == VENT_NODE_SUCTION_POINT && pick(state, 10) == 0)
            t->soil[i] = vent_soil_power(1e-9, 0.7, NULL);
        if (t->kind[i] == VENT_NODE_DISCHARGE)
            t->termination[i] = any_end(state);
    }
    for (int i = 0; i < t->runs + t->links; ++i)
        harden_run(t, &t->run[i], state);
    if (pick(state, 50) == 0)
        still(t);
}

/* ---- as a network --------------------------------------------------------------------------- */

static void add_node(tree *t, vent_network *net, int i, vent_error *err)
{
    char name[32];
    snprintf(name, sizeof name, i ? "node %d" : "ridge", i);
    t->node[i] = t->kind[i] == VENT_NODE_SUCTION_POINT
                     ? vent_network_suction_point(net, name, t->soil[i], err)
                 : t->kind[i] == VENT_NODE_JUNCTION
                     ? vent_network_junction(net, name, t->junction[i], err)
                     : vent_network_discharge(net, name, t->termination[i], t->height[i], err);
    vent_network_set_height(net, t->node[i], t->height[i], err);
}

static void add_run(tree *t, vent_network *net, int i, vent_error *err)
{
    char name[32];
    tree_run *run = &t->run[i];
    snprintf(name, sizeof name, "run %d", i);
    run->number = vent_network_run(net, name, t->node[run->from], t->node[run->to], run->pipe,
                                   run->length, err);
    vent_network_set_temperature(net, run->number, run->temperature, err);
    for (int j = 0; j < run->fittings; ++j)
        vent_network_fitting(net, run->number, run->fitting[j], run->count[j], err);
    if (run->fan >= 0) {
        int item = vent_network_fan(net, run->number, t->fan[run->fan], err);
        vent_network_set_fan_speed(net, run->number, item, run->speed, err);
    }
}

vent_network *tree_network(tree *t, vent_error *err)
{
    vent_network *net = vent_network_new(t->soil_gas, t->outdoors, err);
    for (int i = 0; i < t->nodes; ++i)
        add_node(t, net, i, err);
    for (int i = 0; i < t->runs + t->links; ++i)
        add_run(t, net, i, err);
    for (int i = 0; i < t->couples; ++i)
        vent_network_couple(net, t->node[t->couple[i].a], t->node[t->couple[i].b],
                            t->couple[i].resistance, err);
    vent_network_set_wind_pressure(net, t->wind, err);
    return net;
}

vent_network *tree_with_links(int runs, int links, uint64_t *state)
{
    tree *t = calloc(1, sizeof *t);
    vent_error err = VENT_NO_ERROR;
    tree_random(t, runs, true, state);
    tree_link(t, links, state);
    vent_network *net = tree_network(t, &err);
    tree_free(t);
    free(t);
    return net;
}

/* ---- laws and balances, once more ----------------------------------------------------------- */

static double density_in(const tree *t, const tree_run *run)
{
    return vent_air_at_temperature(t->soil_gas, run->temperature, NULL).density;
}

/* K at a Reynolds number, from its parts. */
static double coefficient(vent__loss along, vent__loss against, vent__slope extra, double reynolds,
                          double f)
{
    vent__loss k = reynolds < 0 ? against : along;
    return k.k0 + k.k1 / fabs(reynolds) + k.kf * f + extra.value;
}

/* Loss of total pressure along a run at a flow. */
static double run_loss(const tree *t, const tree_run *run, double mass_flow)
{
    const double least_reynolds = 1e-3; /* below it coefficients are held */
    vent_air gas = vent_air_at_temperature(t->soil_gas, run->temperature, NULL);
    double area = vent_pipe_area(run->pipe), bore = vent_pipe_hydraulic_diameter(run->pipe);
    double velocity = mass_flow / (gas.density * area);
    double reynolds = gas.density * velocity * bore / gas.viscosity;
    double seen = copysign(fmax(fabs(reynolds), least_reynolds), reynolds);
    double share = fabs(reynolds) / fabs(seen); /* the straight line below */
    double dynamic = share > 0 ? gas.density * velocity * fabs(velocity) / (2 * share) : 0;
    double loss = vent_pipe_loss(run->pipe, run->length, mass_flow, gas.density, gas.viscosity);
    double f = vent_friction_factor(fabs(seen), run->pipe.roughness / bore);
    vent__loss along, against;
    for (int j = 0; j < run->fittings; ++j) {
        const vent_fitting *fitting = &run->fitting[j];
        vent__fitting_loss(fitting, bore, &along, &against);
        vent__slope extra = {0, 0};
        if (vent__fitting_has_extra(fitting, bore))
            extra = vent__fitting_extra(fitting, bore, seen);
        loss += run->count[j] *
                (coefficient(along, against, extra, seen, f) * dynamic +
                 vent__fitting_opening_pressure(fitting) * vent__opening_share(velocity).value);
    }
    if (t->kind[run->to] == VENT_NODE_DISCHARGE) {
        const vent_termination *end = &t->termination[run->to];
        vent__termination_loss(end, bore, &along, &against);
        vent__slope extra = {0, 0};
        if (vent__termination_has_extra(end, bore))
            extra = vent__termination_extra(end, bore, seen);
        loss += coefficient(along, against, extra, seen, f) * dynamic;
    }
    if (run->fan >= 0)
        loss -=
            vent_fan_pressure(t->fan[run->fan], mass_flow / gas.density, gas.density, run->speed);
    double rise = t->height[run->to] - t->height[run->from];
    return loss - (t->outdoors.density - gas.density) * VENT_GRAVITY * rise;
}

/* Loss from a leg of a junction into the run that the junction feeds: the leg is a run that arrives there,
 * or a link that leaves. */
static double joint_loss(const tree *t, const vent_solution *s, int at, int leg_run)
{
    const tree_run *next = &t->run[at - 1];
    double combined = vent_solution_mass_flow(s, next->number);
    vent__meeting meeting =
        vent__meeting_of(t->junction[at], vent_pipe_area(next->pipe), density_in(t, next));
    vent__leg leg[TREE_MOST_ALL];
    double flow[TREE_MOST_ALL], sums[VENT__SUMS];
    int legs = 0, own = -1, all = t->runs + t->links;
    for (int arrives = 1; arrives >= 0;
         --arrives) /* first those that arrive, then those that leave */
        for (int j = 0; j < all; ++j) {
            const tree_run *run = &t->run[j];
            if ((arrives ? run->to : run->from) != at || run == next)
                continue;
            own = j == leg_run ? legs : own;
            flow[legs] = (arrives ? 1 : -1) * vent_solution_mass_flow(s, run->number);
            leg[legs] = vent__leg_of(&meeting, legs, vent_pipe_area(run->pipe), density_in(t, run));
            vent__meeting_join(&meeting, &leg[legs]);
            ++legs;
        }
    vent__junction_sums(&meeting, legs, leg, flow, combined, sums);
    return vent__junction_loss(&meeting, &leg[own], flow[own], combined, sums).loss;
}

/* Vacuum of a suction point by the soil's laws. */
static double vacuum_of(const tree *t, const vent_solution *s, int node)
{
    double flow = vent_solution_mass_flow(s, t->run[node - 1].number) / t->soil_gas.density;
    double vacuum = vent_soil_pressure(t->soil[node], flow);
    for (int i = 0; i < t->couples; ++i) {
        const tree_couple *c = &t->couple[i];
        int other = c->a == node ? c->b : c->b == node ? c->a : 0;
        if (other)
            vacuum += c->resistance * vent_solution_mass_flow(s, t->run[other - 1].number) /
                      t->soil_gas.density;
    }
    return vacuum;
}

void tree_residuals(const tree *t, const vent_solution *s, double *pressure, double *mass)
{
    double worst = 0, scale = 1e-6, worst_mass = 0, scale_mass = 0, balance[TREE_MOST_NODES] = {0};
    for (int i = 0; i < t->runs + t->links; ++i) {
        const tree_run *run = &t->run[i];
        double flow = vent_solution_mass_flow(s, run->number);
        double from = vent_solution_pressure(s, t->node[run->from]);
        double to = vent_solution_pressure(s, t->node[run->to]);
        if (i >= t->runs)
            from += joint_loss(t, s, run->from, i);
        if (t->kind[run->to] == VENT_NODE_JUNCTION)
            to += joint_loss(t, s, run->to, i);
        double loss = run_loss(t, run, flow);
        worst = fmax(worst, fabs(from - to - loss));
        scale = fmax(scale, fmax(fabs(from), fabs(to)));
        if (run->fan >= 0) {
            double density = vent_solution_density(s, run->number);
            const vent_fan *fan = t->fan[run->fan];
            double slope = vent_fan_slope(fan, flow / density, density, run->speed);
            scale = fmax(scale, fabs(vent_fan_pressure(fan, flow / density, density, run->speed)));
            scale = fmax(scale, fabs(slope * flow / density)); /* what a rounded flow leaves over */
        }
        if (t->kind[run->from] == VENT_NODE_SUCTION_POINT)
            worst = fmax(worst, fabs(vacuum_of(t, s, run->from) + from));
        balance[run->from] -= flow;
        balance[run->to] += flow;
        scale_mass = fmax(scale_mass, fabs(flow));
    }
    for (int i = 0; i < t->nodes; ++i)
        worst_mass = fmax(worst_mass, t->kind[i] == VENT_NODE_JUNCTION ? fabs(balance[i]) : 0);
    *pressure = worst / scale;
    *mass = scale_mass > 0 ? worst_mass / scale_mass : 0;
}

void tree_free(tree *t)
{
    for (int i = 0; i < t->fans; ++i)
        vent_fan_free(t->fan[i]);
    t->fans = 0;
}

void tree_add_leaks(vent_network *net, int leaks, uint64_t *state)
{
    vent_network_set_building_pressure(net, tree_uniform(state, -10, 10), NULL);
    for (int i = 0; i < leaks; ++i) {
        char name[32];
        snprintf(name, sizeof name, "leak %d", i);
        int node = pick(state, vent_network_node_count(net)), around = 1 + pick(state, 2);
        double area = pow(10, tree_uniform(state, -7, -3));
        vent_opening opening = vent_opening_to(around, area, tree_uniform(state, 0.5, 1), NULL);
        vent_network_leak(net, name, node, opening, tree_uniform(state, 260, 300), NULL);
    } /* a discharge, or another leak, has none */
}

void tree_balances(const vent_network *net, const vent_solution *s, double *pressure, double *mass)
{
    int runs = vent_network_run_count(net), nodes = vent_network_node_count(net);
    double *loss = calloc((size_t)runs, sizeof *loss), *gain = calloc((size_t)nodes, sizeof *gain);
    double scale = vent_solution_convergence(s).pressure_scale, most = 0;
    double room =
        vent_network_get(net, vent_network_find_parameter(net, "building_pressure", NULL), NULL);
    vent_ledger_line line;
    for (size_t i = 0; vent_solution_ledger_line(s, i, &line); ++i)
        loss[line.run] += line.loss;
    *pressure = *mass = 0;
    for (int r = 0; r < runs; ++r) {
        int from, to;
        vent_network_run_ends(net, r, &from, &to);
        int kind = vent_network_node_kind(net, from);
        bool soil = kind == VENT_NODE_SUCTION_POINT || kind == VENT_NODE_OPENING;
        bool open = vent_network_node_kind(net, to) == VENT_NODE_DISCHARGE;
        double drop = (soil ? 0 : vent_solution_pressure(s, from) + room) -
                      (open ? 0 : vent_solution_pressure(s, to) + room);
        *pressure = fmax(*pressure, fabs(loss[r] - drop) / scale);
        double flow = vent_solution_mass_flow(s, r);
        most = fmax(most, fabs(flow));
        gain[from] -= flow;
        gain[to] += flow;
    }
    for (int i = 0; i < nodes; ++i)
        if (vent_network_node_kind(net, i) == VENT_NODE_JUNCTION && most > 0)
            *mass = fmax(*mass, fabs(gain[i]) / most);
    free(loss);
    free(gain);
}

/* A pipe with a fitting, sized and laid at random. */
static int random_run(vent_network *net, const char *name, int from, int to, uint64_t *state,
                      vent_error *err)
{
    double bore = tree_uniform(state, 0.05, 0.2), length = tree_uniform(state, 0.3, 8);
    int run = vent_network_run(net, name, from, to, vent_pipe_round(bore, 1e-5, err), length, err);
    vent_network_fitting(net, run, random_fitting(state), 1 + pick(state, 2), err);
    vent_network_set_temperature(net, run, tree_uniform(state, 275, 295), err);
    return run;
}

vent_network *tree_grid(int rows, int columns, uint64_t *state)
{
    vent_error err = VENT_NO_ERROR;
    vent_air gas = vent_air_moist(286, 98300, 1, &err), out = vent_air_moist(268, 98300, 0.8, &err);
    vent_network *net = vent_network_new(gas, out, &err);
    int nodes = rows * columns, wyes = pick(state, 3), last = -1; /* none, some or all */
    int *node = calloc((size_t)nodes, sizeof *node);
    bool *fed = calloc((size_t)nodes, sizeof *fed);
    char name[32];
    for (int i = 0; i < nodes; ++i) {
        snprintf(name, sizeof name, "node %d", i);
        vent_junction wye = vent_wye(tree_uniform(state, 0.5, VENT_PI / 2), &err);
        bool lossy = wyes == 2 || (wyes == 1 && pick(state, 2));
        node[i] = vent_network_junction(net, name, lossy ? wye : vent_junction_lossless(), &err);
        vent_network_set_height(net, node[i], tree_uniform(state, 0, 0.5), &err);
    }
    int roof = vent_network_discharge(net, "roof", vent_open_end(), 8, &err);
    vent_fan *fan = random_fan(state);
    vent_network_fan(net, random_run(net, "riser", node[0], roof, state, &err), fan, &err);
    vent_fan_free(fan);
    for (int i = 1; i < nodes; ++i) {
        int row = i / columns, column = i % columns;
        bool north = row > 0 && (column == 0 || pick(state, 8));
        bool west = column > 0 && (!north || pick(state, 8));
        snprintf(name, sizeof name, "north %d", i);
        if (north)
            random_run(net, name, node[i], node[i - columns], state, &err);
        snprintf(name, sizeof name, "west %d", i);
        if (west)
            random_run(net, name, node[i], node[i - 1], state, &err);
        fed[i - columns >= 0 ? i - columns : 0] |= north;
        fed[i - 1] |= west;
    }
    vent_soil last_soil = {0};
    for (int i = 0; i < nodes; ++i) {
        if (fed[i] && pick(state, 2))
            continue;
        snprintf(name, sizeof name, "pit %d", i);
        vent_soil soil = random_soil(state);
        int pit = vent_network_suction_point(net, name, soil, &err);
        snprintf(name, sizeof name, "from pit %d", i);
        random_run(net, name, pit, node[i], state, &err);
        if (last >= 0 && pick(state, 4) == 0)
            vent_network_couple(net, last, pit,
                                fmin(tree_uniform(state, 0, 2000), shared_at_most(last_soil, soil)),
                                &err);
        last = pit;
        last_soil = soil;
    }
    if (pick(state, 2)) {
        int second = vent_network_discharge(net, "second", vent_open_end(), 5, &err);
        random_run(net, "second riser", node[nodes - 1], second, state, &err);
    }
    free(node);
    free(fed);
    if (err.status == VENT_OK)
        return net;
    fprintf(stderr, "grid: %s\n", err.message);
    vent_network_free(net);
    return NULL;
}
