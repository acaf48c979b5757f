/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Threads that share const handles: each has its own workspace, and all get the same bits. The
 * thread sanitizer's build runs this suite alone. */
#include "suites.h"
#include "tree.h"

#include <math.h>
#include <pthread.h>
#include <stdatomic.h>
#include <string.h>

enum { THREADS = 8, SOLVES = 25, RUNS = 40, CURVE = 5, ELEMENTS = 1000 };

/* What one thread computes; doubles only, so that equal answers are equal bytes. */
typedef struct answer {
    double flow[RUNS], pressure[RUNS], loss[RUNS], exact_cost, curve[CURVE];
    double factor[ELEMENTS], fan_pressure[CURVE];
} answer;

typedef struct job {
    const vent_network *network;
    const vent_fan *fan;
    vent_error err;
    answer answer;
} job;

static atomic_int waiting;

/* Lets every thread begin at once, so that a first call that sets something up meets the others. */
static void meet(int threads)
{
    atomic_fetch_add(&waiting, 1);
    while (atomic_load(&waiting) < threads)
        continue;
}

static void read_out(const vent_solution *solution, answer *a)
{
    for (int run = 0; run < RUNS; run++) {
        vent_ledger_line line;
        a->flow[run] = vent_solution_mass_flow(solution, run);
        a->pressure[run] = vent_solution_pressure(solution, run);
        a->loss[run] =
            vent_solution_ledger_line(solution, (size_t)run, &line) ? line.loss : (double)NAN;
    }
}

/* How much more would flow without the first pipe of the ledger: solves a changed network. */
static double cost_of_a_pipe(const vent_solution *solution, vent_error *err)
{
    vent_ledger_line line = {.kind = 0};
    size_t index = 0;
    while (vent_solution_ledger_line(solution, index, &line) && line.kind != VENT_LINE_PIPE)
        index++;
    return vent_solution_exact_flow_cost(solution, index, err);
}

static void work(job *j)
{
    double reynolds[ELEMENTS], roughness = 1e-4;
    for (int i = 0; i < ELEMENTS; i++)
        reynolds[i] = 100 * exp(0.01 * i);
    vent_friction_factor_array(ELEMENTS, reynolds, 1, &roughness, 0, j->answer.factor, 1);

    const double flow[CURVE] = {0.001, 0.01, 0.02, 0.03, 0.04};
    for (int i = 0; i < CURVE; i++)
        j->answer.fan_pressure[i] = vent_fan_pressure(j->fan, flow[i], 1.2, 1);

    vent_workspace *workspace = vent_workspace_new(j->network, &j->err);
    vent_solution *solution = vent_network_solve(j->network, workspace, &j->err);
    for (int i = 0; i < SOLVES; i++) {
        vent_solution_free(vent_network_solve(j->network, NULL, &j->err));
        vent_network_solve_into(j->network, workspace, solution, &j->err);
    }
    vent_network_system_curve(j->network, workspace, 0, CURVE, flow, j->answer.curve, &j->err);
    if (solution) {
        read_out(solution, &j->answer);
        j->answer.exact_cost = cost_of_a_pipe(solution, &j->err);
    }
    vent_solution_free(solution);
    vent_workspace_free(workspace);
}

static void *thread(void *argument)
{
    meet(THREADS);
    work(argument);
    return NULL;
}

START_TEST(eight_threads_share_one_network)
{
    static tree forest;
    static job jobs[THREADS], alone;
    uint64_t seed = 20;
    vent_error err = VENT_NO_ERROR;
    tree_random(&forest, RUNS, true, &seed);
    vent_network *network = tree_network(&forest, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);

    pthread_t threads[THREADS];
    for (int i = 0; i < THREADS; i++) {
        jobs[i] = (job){.network = network, .fan = forest.fan[0]};
        ck_assert_int_eq(pthread_create(&threads[i], NULL, thread, &jobs[i]), 0);
    }
    for (int i = 0; i < THREADS; i++)
        ck_assert_int_eq(pthread_join(threads[i], NULL), 0);

    alone = (job){.network = network, .fan = forest.fan[0]};
    work(&alone);
    ck_assert_msg(alone.err.status == VENT_OK, "%s", alone.err.message);
    ck_assert(alone.answer.flow[0] > 0);
    for (int i = 0; i < THREADS; i++) {
        ck_assert_msg(jobs[i].err.status == VENT_OK, "thread %d: %s", i, jobs[i].err.message);
        ck_assert_mem_eq(&jobs[i].answer, &alone.answer, sizeof alone.answer);
    }
    vent_network_free(network);
    tree_free(&forest);
}
END_TEST

Suite *threads_suite(void)
{
    Suite *suite = suite_create("threads");
    TCase *shared = tcase_create("shared");
    tcase_add_test(shared, eight_threads_share_one_network);
    suite_add_tcase(suite, shared);
    return suite;
}
