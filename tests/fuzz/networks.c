/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Random networks by the thousand: `networks [COUNT [SEED [ONLY]]]`. Each of 1 to 300 runs; half of them
 * have links, a second discharge and shared soil, half are hardened: fans that rise, dampers that are shut,
 * nothing that moves. Every one must be solved, and its laws and balances hold when they are recomputed, or be
 * refused with a reason that is true: "no operating point" where the fan's curve, followed from end to end,
 * lies on one side of the system's. One in eight is a ladder or grid of up to some hundred loops, half of these
 * with leaks: its fan falls, so it must be solved, and its balances are drawn up again from the ledger. The
 * last line is the tally; the exit status is 1 where anything was wrong. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tree.h"

enum { SCAN = 100 };

typedef struct tally {
    int solved, refused, wrong;
    double pressure, mass; /* the worst */
} tally;

static void draw(tree *t, int number, uint64_t *state)
{
    int runs = 1 + (int)tree_uniform(state, 0, number % 10 ? 40 : 300);
    tree_random(t, runs, number % 4 == 0 || number % 2, state);
    if (number % 2 && runs > 1)
        tree_link(t, 1 + number % 5, state);
    if (number % 4 > 1)
        tree_harden(t, state);
}

/* Whether the curve of a fan meets the system somewhere between the ends of its data. */
static bool meets(const tree *t, const vent_network *net, int number)
{
    const tree_run *run = t->run;
    for (int fans = 0; fans += run->fan >= 0, fans <= number; ++run)
        ;
    const vent_fan *fan = t->fan[run->fan];
    double least, most, flow[SCAN], system[SCAN];
    double density = vent_air_at_temperature(t->soil_gas, run->temperature, NULL).density;
    vent_fan_range(fan, &least, &most);
    for (int i = 0; i < SCAN; ++i)
        flow[i] = run->speed * (least + (most - least) * i / (SCAN - 1));
    vent_workspace *ws = vent_workspace_new(net, NULL);
    vent_network_system_curve(net, ws, number, SCAN, flow, system, NULL);
    vent_workspace_free(ws);
    int above = 0, below = 0;
    for (int i = 0; i < SCAN; ++i) {
        double excess = vent_fan_pressure(fan, flow[i], density, run->speed) - system[i];
        above += excess > 0;
        below += excess < 0;
    }
    return above && below;
}

static bool is_true(const tree *t, const vent_network *net, const vent_error *err)
{
    return err->status == VENT_E_NO_OPERATING_POINT && !meets(t, net, (int)err->index);
}

static void enter(tally *all, int number, bool solved, bool right, double pressure, double mass,
                  const vent_error *err)
{
    all->solved += solved;
    all->refused += !solved && right;
    all->wrong += !right;
    all->pressure = fmax(all->pressure, pressure);
    all->mass = fmax(all->mass, mass);
    if (!right)
        printf("network %d: pressure %.2g, mass %.2g %s\n", number, pressure, mass, err->message);
}

static void examine(tree *t, int number, tally *all)
{
    vent_error err = VENT_NO_ERROR;
    vent_network *net = tree_network(t, &err);
    vent_solution *s = vent_network_solve(net, NULL, &err);
    double pressure = 0, mass = 0;
    if (s)
        tree_residuals(t, s, &pressure, &mass);
    bool right = s ? pressure <= 1e-12 && mass <= 1e-12 : is_true(t, net, &err);
    enter(all, number, s != NULL, right, pressure, mass, &err);
    vent_solution_free(s);
    vent_network_free(net);
}

static vent_network *draw_grid(int number, uint64_t *state)
{
    int runs = 1 + (int)tree_uniform(state, 0, number % 10 ? 40 : 300);
    vent_network *net = tree_grid(2 + number / 8 % 3 * (runs / 40), 2 + runs / 8, state);
    if (net && number % 16 == 6)
        tree_add_leaks(net, 1 + number % 5, state);
    return net;
}

static void examine_grid(const vent_network *net, int number, tally *all)
{
    vent_error err = VENT_NO_ERROR;
    vent_solution *s = vent_network_solve(net, NULL, &err);
    double pressure = 0, mass = 0;
    if (s)
        tree_balances(net, s, &pressure, &mass);
    enter(all, number, s != NULL, s && pressure <= 1e-11 && mass <= 1e-12, pressure, mass, &err);
    vent_solution_free(s);
}

int main(int count, char **word)
{
    int networks = count > 1 ? atoi(word[1]) : 20000;
    int only = count > 3 ? atoi(word[3]) : -1;
    uint64_t state = count > 2 ? strtoull(word[2], NULL, 10) : 1;
    static tree t;
    tally all = {0};
    for (int i = 0; i < networks; ++i) {
        bool chosen = only < 0 || i == only;
        if (i % 8 == 6) { /* a ladder, a grid */
            vent_network *net = draw_grid(i, &state);
            if (chosen)
                examine_grid(net, i, &all);
            vent_network_free(net);
            continue;
        }
        draw(&t, i, &state);
        if (chosen)
            examine(&t, i, &all);
        tree_free(&t);
    }
    printf("%d solved, %d refused with a true reason, %d wrong; worst balance: pressure %.2g, mass "
           "%.2g\n",
           all.solved, all.refused, all.wrong, all.pressure, all.mass);
    return all.wrong > 0;
}
