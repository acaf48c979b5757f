/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sparse elimination against GSL's dense one. */
#include "suites.h"

#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>

#include "network/sparse.h"
#include "random.h"
#include "refuse.h"

enum { MOST = 60 };

/* A system like that of a network: runs between nodes. */
typedef struct drawn {
    int unknowns, entries;
    vent__entry entry[8 * MOST];
    int32_t waiting[MOST][2], slot[8 * MOST];
    double value[8 * MOST];
} drawn;

static random_states random_state;

static double uniform(double low, double high)
{
    return random_between(&random_state, low, high);
}

static void put(drawn *d, int row, int column, double value)
{
    d->entry[d->entries] = (vent__entry){row, column};
    d->value[d->entries++] = value;
}

/* An unknown for each node and run, nothing on the diagonal of most nodes. */
static drawn draw(int nodes)
{
    drawn d = {.unknowns = nodes};
    for (int i = 0; i < nodes; ++i)
        d.waiting[i][0] = d.waiting[i][1] = -1;
    int runs = nodes + nodes / 2;
    for (int r = 0; r < runs && d.unknowns < MOST; ++r) {
        int from = r < nodes ? r : (int)uniform(0, nodes), run = d.unknowns++;
        int to = r == 0 ? -1 : r < nodes ? (int)uniform(0, r) : (int)uniform(0, nodes);
        put(&d, run, run, -uniform(0.1, 3));
        put(&d, run, from, uniform(0.9, 1.1));
        put(&d, from, run, uniform(0.9, 1.1));
        if (to >= 0) {
            put(&d, run, to, -uniform(0.9, 1.1));
            put(&d, to, run, -uniform(0.9, 1.1));
        }
        d.waiting[run][0] = from;
        d.waiting[run][1] = to == from ? -1 : to;
    }
    for (int i = 0; i < nodes; ++i)
        put(&d, i, i, i % 3 ? 0 : uniform(0, 1));
    return d;
}

static void fill(vent__sparse *s, const drawn *d)
{
    vent__sparse_clear(s);
    for (int i = 0; i < d->entries; ++i)
        s->value[d->slot[i]] += d->value[i];
    vent__sparse_factor(s);
}

/* Greatest difference from the dense answer, over the greatest unknown. */
static double compare(const vent__sparse *s, const drawn *d, bool transposed)
{
    size_t n = (size_t)d->unknowns;
    gsl_matrix *dense = gsl_matrix_calloc(n, n);
    gsl_vector *right = gsl_vector_alloc(n), *want = gsl_vector_alloc(n);
    gsl_permutation *order = gsl_permutation_alloc(n);
    double got[MOST];
    int sign;
    for (int i = 0; i < d->entries; ++i) {
        size_t row = (size_t)d->entry[i].row, column = (size_t)d->entry[i].column;
        *gsl_matrix_ptr(dense, transposed ? column : row, transposed ? row : column) += d->value[i];
    }
    for (size_t i = 0; i < n; ++i) {
        double x = uniform(-1, 1);
        gsl_vector_set(right, i, x);
        got[s->rank[i]] = x;
    }
    gsl_linalg_LU_decomp(dense, order, &sign);
    gsl_linalg_LU_solve(dense, order, right, want);
    (transposed ? vent__sparse_solve_transposed : vent__sparse_solve)(s, got);
    double most = 0, worst = 0;
    for (size_t i = 0; i < n; ++i) {
        most = fmax(most, fabs(gsl_vector_get(want, i)));
        worst = fmax(worst, fabs(gsl_vector_get(want, i) - got[s->rank[i]]));
    }
    gsl_matrix_free(dense);
    gsl_vector_free(right);
    gsl_vector_free(want);
    gsl_permutation_free(order);
    return worst / most;
}

START_TEST(agrees_with_dense_elimination)
{
    random_state.state = 8;
    for (int i = 0; i < 200; ++i) {
        drawn d = draw(1 + i % 24);
        vent__sparse s;
        ck_assert(vent__sparse_lay_out(&s, d.unknowns, (const int32_t(*)[2])d.waiting, d.entries,
                                       d.entry, d.slot));
        for (int turn = 0; turn < 2; ++turn) { /* the second in used room */
            fill(&s, &d);
            for (int transposed = 0; transposed < 2; ++transposed) {
                double difference = compare(&s, &d, transposed);
                ck_assert_msg(difference <= 1e-9, "network %d: %g", i, difference);
            }
        }
        vent__sparse_free(&s);
    }
}
END_TEST

START_TEST(refusals_leave_nothing_behind)
{
    random_state.state = 3;
    drawn d = draw(20);
    vent__sparse s;
    long refusals = 0;
    for (long k = 1;; ++k) {
        refuse_request(k);
        bool done = vent__sparse_lay_out(&s, d.unknowns, (const int32_t(*)[2])d.waiting, d.entries,
                                         d.entry, d.slot);
        refuse_request(0);
        if (done)
            break;
        ck_assert_ptr_null(s.value);
        ++refusals;
    }
    ck_assert_int_gt(refusals, 5);
    vent__sparse_free(&s);
}
END_TEST

Suite *sparse_suite(void)
{
    Suite *suite = suite_create("sparse");
    TCase *values = tcase_create("values");
    tcase_add_test(values, agrees_with_dense_elimination);
    tcase_add_test(values, refusals_leave_nothing_behind);
    suite_add_tcase(suite, values);
    return suite;
}
