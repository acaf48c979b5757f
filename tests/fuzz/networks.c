/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Random networks by the thousand: `networks [COUNT [SEED]]`. Each of 1 to 300 runs, half of them with
 * links, a second discharge and coupled soil, one in eight a ladder or grid of up to some hundred loops. Every one must be solved, with balances that hold when they
 * are drawn up again from the ledger, or be refused with a reason. The last line is the tally; the exit
 * status is 1 where a balance failed or a refusal had no reason. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tree.h"

typedef struct tally {
    int solved, refused, wrong;
    double pressure, mass; /* the worst */
} tally;

static vent_network *draw(int number, uint64_t *state)
{
    int runs = 1 + (int)tree_uniform(state, 0, number % 10 ? 40 : 300);
    if (number % 8 == 6) /* a ladder, a grid */
        return tree_grid(2 + number / 8 % 3 * (runs / 40), 2 + runs / 8, state);
    if (number % 2 && runs > 1)
        return tree_with_links(runs, 1 + number % 5, state);
    tree t;
    vent_error err = VENT_NO_ERROR;
    tree_random(&t, runs, number % 4 == 0, state);
    vent_network *net = tree_network(&t, &err);
    tree_free(&t);
    return net;
}

static void examine(const vent_network *net, int number, tally *all)
{
    vent_error err = VENT_NO_ERROR;
    vent_solution *s = vent_network_solve(net, NULL, &err);
    double pressure = 0, mass = 0;
    if (s)
        tree_balances(net, s, &pressure, &mass);
    bool told = err.status == VENT_E_NOT_CONVERGED || err.status == VENT_E_NO_OPERATING_POINT;
    bool right = s ? pressure <= 1e-11 && mass <= 1e-12 : told && err.message[0];
    all->solved += s != NULL;
    all->refused += s == NULL;
    all->wrong += !right;
    all->pressure = fmax(all->pressure, pressure);
    all->mass = fmax(all->mass, mass);
    if (!s || !right)
        printf("network %d: pressure %.2g, mass %.2g %s\n", number, pressure, mass, err.message);
    vent_solution_free(s);
}

int main(int count, char **word)
{
    int networks = count > 1 ? atoi(word[1]) : 20000;
    uint64_t state = count > 2 ? strtoull(word[2], NULL, 10) : 1;
    tally all = {0};
    for (int i = 0; i < networks; ++i) {
        vent_network *net = draw(i, &state);
        if (net)
            examine(net, i, &all);
        vent_network_free(net);
    }
    printf(
        "%d solved, %d refused with a reason, %d wrong; worst balance: pressure %.2g, mass %.2g\n",
        all.solved, all.refused, all.wrong, all.pressure, all.mass);
    return all.wrong > 0;
}
