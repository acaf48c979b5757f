/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The order: what has the fewest neighbours left goes first, and its neighbours become neighbours of
 * one another. That graph is kept as it is at each moment; its edges are what fills in, so the list of
 * an unknown when it goes is its row to the right of the pivot.
 *
 * The numbers: Gaussian elimination row by row, each row spread out in `work` and gathered again. */
#include "network/sparse.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* ---- the order -------------------------------------------------------------------------------- */

/* Who is whose neighbour among those not yet eliminated; afterwards, among those that came later. */
typedef struct graph {
    int size;
    int32_t **list; /* rising */
    int32_t *count, *room;
    int32_t *merged;                /* [size] scratch */
    int32_t *head, *after, *before; /* by count: the first of each, and the others like it */
    const int32_t (*waiting)[2];    /* [size] who waits for each */
    int32_t *waits;                 /* [size] for how many each still waits */
    int least;                      /* nobody has fewer neighbours */
} graph;

enum { NOBODY = -1 };

static void graph_free(graph *g)
{
    for (int i = 0; g->list && i < g->size; ++i)
        free(g->list[i]);
    free(g->list);
    free(g->count);
}

static bool graph_new(graph *g, int size)
{
    size_t n = (size_t)size;
    *g = (graph){.size = size};
    g->list = calloc(n, sizeof *g->list);
    g->count = calloc(7 * n, sizeof *g->count);
    if (!g->list || !g->count) {
        graph_free(g);
        return false;
    }
    g->room = g->count + n;
    g->merged = g->room + n;
    g->head = g->merged + n;
    g->after = g->head + n;
    g->before = g->after + n;
    g->waits = g->before + n;
    return true;
}

static void enter(graph *g, int i)
{
    int head = g->head[g->count[i]];
    g->after[i] = head;
    g->before[i] = NOBODY;
    if (head != NOBODY)
        g->before[head] = i;
    g->head[g->count[i]] = i;
    if (g->count[i] < g->least)
        g->least = g->count[i];
}

static void leave(graph *g, int i)
{
    if (g->after[i] != NOBODY)
        g->before[g->after[i]] = g->before[i];
    if (g->before[i] != NOBODY)
        g->after[g->before[i]] = g->after[i];
    else
        g->head[g->count[i]] = g->after[i];
}

static int by_number(const void *a, const void *b)
{
    int32_t x = *(const int32_t *)a, y = *(const int32_t *)b;
    return (x > y) - (x < y);
}

static bool add_neighbour(graph *g, int i, int32_t other)
{
    int room = g->room[i];
    if (!vent__reserve(&g->list[i], &room, g->count[i], sizeof **g->list))
        return false;
    g->room[i] = room;
    g->list[i][g->count[i]++] = other;
    return true;
}

static void sort_neighbours(graph *g, int i)
{
    int32_t *list = g->list[i];
    int kept = 0;
    if (list)
        qsort(list, (size_t)g->count[i], sizeof *list, by_number);
    for (int n = 0; n < g->count[i]; ++n)
        if (kept == 0 || list[n] != list[kept - 1])
            list[kept++] = list[n];
    g->count[i] = kept;
}

static bool graph_of(graph *g, int unknowns, int entries, const vent__entry *entry)
{
    if (!graph_new(g, unknowns))
        return false;
    bool room = true;
    for (int e = 0; room && e < entries; ++e)
        if (entry[e].row != entry[e].column)
            room = add_neighbour(g, entry[e].row, entry[e].column) &&
                   add_neighbour(g, entry[e].column, entry[e].row);
    if (!room)
        graph_free(g);
    for (int i = 0; room && i < unknowns; ++i)
        sort_neighbours(g, i);
    return room;
}

/* Gives i the neighbours of the one that goes, which is i's no more. */
static bool take_over(graph *g, int i, int from)
{
    const int32_t *a = g->list[i], *b = g->list[from];
    int a_count = g->count[i], b_count = g->count[from], x = 0, y = 0, count = 0;
    while (x < a_count || y < b_count) {
        int32_t next = y == b_count || (x < a_count && a[x] <= b[y]) ? a[x] : b[y];
        x += x < a_count && a[x] == next;
        y += y < b_count && b[y] == next;
        if (next != i && next != from)
            g->merged[count++] = next;
    }
    if (count > g->room[i]) {
        int room = count + count / 2;
        if (!vent__resize(&g->list[i], (size_t)room, sizeof **g->list))
            return false;
        g->room[i] = room;
    }
    memcpy(g->list[i], g->merged, (size_t)count * sizeof *g->merged);
    g->count[i] = count;
    return true;
}

static bool eliminate(graph *g, int v)
{
    leave(g, v);
    for (int n = 0; n < g->count[v]; ++n) {
        int i = g->list[v][n];
        if (!g->waits[i])
            leave(g, i);
        if (!take_over(g, i, v))
            return false;
        if (!g->waits[i])
            enter(g, i);
    }
    for (int n = 0; n < 2; ++n) {
        int i = g->waiting[v][n];
        if (i >= 0 && --g->waits[i] == 0)
            enter(g, i);
    }
    return true;
}

/* Those of equal count go in the order they came to it, which is the same each time. */
static bool find_order(graph *g, int32_t *rank)
{
    for (int i = 0; i < g->size; ++i) {
        g->head[i] = NOBODY;
        for (int n = 0; n < 2; ++n)
            if (g->waiting[i][n] >= 0)
                ++g->waits[g->waiting[i][n]];
    }
    for (int i = g->size - 1; i >= 0; --i)
        if (!g->waits[i])
            enter(g, i);
    for (int at = 0; at < g->size; ++at) {
        while (g->head[g->least] == NOBODY)
            ++g->least;
        int v = g->head[g->least];
        if (!eliminate(g, v))
            return false;
        rank[v] = at;
    }
    return true;
}

/* ---- room ------------------------------------------------------------------------------------- */

/* Whether the next row has all the columns of this one right of its own pivot, and no more: it holds them at
 * least, once this one is taken off it. */
static bool is_nested(const vent__sparse *s, int r)
{
    int right = s->diagonal[r] + 1, count = s->first[r + 1] - right;
    return count > 0 && s->column[right] == r + 1 &&
           s->first[r + 2] - s->diagonal[r + 1] - 1 == count - 1;
}

/* Rows by rank: what fills in is symmetric, so what stands right of one pivot stands below it too. */
static bool lay_out_rows(vent__sparse *s, graph *g)
{
    int n = s->unknowns;
    size_t entries = (size_t)n;
    for (int i = 0; i < n; ++i)
        entries += 2 * (size_t)g->count[i];
    if (entries > INT32_MAX || !vent__resize(&s->column, entries, sizeof *s->column) ||
        !vent__resize(&s->value, entries, sizeof *s->value))
        return false;
    int32_t *order = g->merged, *left = g->before; /* how many stand left of each pivot */
    memset(left, 0, (size_t)n * sizeof *left);
    for (int i = 0; i < n; ++i) {
        order[s->rank[i]] = i;
        for (int e = 0; e < g->count[i]; ++e) {
            g->list[i][e] = s->rank[g->list[i][e]];
            ++left[g->list[i][e]];
        }
        if (g->list[i])
            qsort(g->list[i], (size_t)g->count[i], sizeof **g->list, by_number);
    }
    s->first[0] = 0;
    for (int r = 0; r < n; ++r) {
        int i = order[r];
        s->diagonal[r] = s->first[r] + left[r];
        s->column[s->diagonal[r]] = r;
        s->first[r + 1] = s->diagonal[r] + 1 + g->count[i];
        for (int e = 0; e < g->count[i]; ++e)
            s->column[s->diagonal[r] + 1 + e] = g->list[i][e];
        left[r] = 0;
    }
    for (int r = 0; r < n; ++r)
        for (int e = s->diagonal[r] + 1; e < s->first[r + 1]; ++e) {
            int below = s->column[e];
            s->column[s->first[below] + left[below]++] = r;
        }
    for (int r = 0; r + 1 < n; ++r)
        s->nested[r] = is_nested(s, r);
    return true;
}

static int32_t slot_of(const vent__sparse *s, vent__entry entry)
{
    int32_t row = s->rank[entry.row], column = s->rank[entry.column];
    int32_t low = s->first[row], high = s->first[row + 1] - 1;
    while (low < high) {
        int32_t middle = low + (high - low) / 2;
        if (s->column[middle] < column)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

bool vent__sparse_lay_out(vent__sparse *s, int unknowns, const int32_t (*waiting)[2], int entries,
                          const vent__entry *entry, int32_t *slot)
{
    graph g;
    size_t n = (size_t)unknowns;
    *s = (vent__sparse){.unknowns = unknowns};
    s->rank = calloc(3 * n + 1, sizeof *s->rank);
    s->nested = calloc(n, sizeof *s->nested);
    s->work = calloc(n, sizeof *s->work);
    bool room = s->rank && s->nested && s->work && graph_of(&g, unknowns, entries, entry);
    if (room) {
        s->first = s->rank + n;
        s->diagonal = s->first + n + 1;
        g.waiting = waiting;
        room = find_order(&g, s->rank) && lay_out_rows(s, &g);
        graph_free(&g);
    }
    if (!room) {
        vent__sparse_free(s);
        return false;
    }
    for (int e = 0; e < entries; ++e)
        slot[e] = slot_of(s, entry[e]);
    return true;
}

void vent__sparse_free(vent__sparse *s)
{
    free(s->rank);
    free(s->nested);
    free(s->column);
    free(s->value);
    free(s->work);
    *s = (vent__sparse){0};
}

/* ---- numbers ---------------------------------------------------------------------------------- */

void vent__sparse_clear(vent__sparse *s)
{
    memset(s->value, 0, (size_t)s->first[s->unknowns] * sizeof *s->value);
}

/* What elimination works on. */
typedef struct factors {
    const int32_t *restrict first, *restrict diagonal, *restrict column;
    double *restrict value, *restrict work;
} factors;

/* Takes the multiple of an earlier row off the one spread out. */
static inline void take_off(factors f, int row, double multiple)
{
    for (int e = f.diagonal[row] + 1; e < f.first[row + 1]; ++e)
        f.work[f.column[e]] -= multiple * f.value[e];
}

/* The same of that row and the next, which has the same columns right of its pivot. */
static inline void take_off_two(factors f, int row, double multiple, double next_multiple)
{
    int next = f.diagonal[row + 1] + 1, end = f.first[row + 2];
    for (int e = f.diagonal[row] + 2; next < end; ++e, ++next)
        f.work[f.column[next]] -= multiple * f.value[e] + next_multiple * f.value[next];
}

static inline double multiple_of(factors f, int row)
{
    double multiple = f.work[row] * f.value[f.diagonal[row]];
    f.work[row] = 0;
    return multiple;
}

/* Clears the row that is spread out left of its pivot. */
static inline void eliminate_row(const vent__sparse *s, factors f, int begin, int pivot)
{
    for (int e = begin; e < pivot; ++e) {
        int row = f.column[e];
        double multiple = f.value[e] = multiple_of(f, row);
        if (!s->nested[row] || e + 1 == pivot || f.column[e + 1] != row + 1) {
            take_off(f, row, multiple);
            continue;
        }
        f.work[row + 1] -= multiple * f.value[f.diagonal[row] + 1];
        f.value[++e] = multiple_of(f, row + 1);
        take_off_two(f, row, multiple, f.value[e]);
    }
}

void vent__sparse_factor(vent__sparse *s)
{
    factors f = {s->first, s->diagonal, s->column, s->value, s->work};
    for (int r = 0; r < s->unknowns; ++r) {
        int begin = f.first[r], end = f.first[r + 1], pivot = f.diagonal[r];
        for (int e = begin; e < end; ++e)
            f.work[f.column[e]] = f.value[e];
        eliminate_row(s, f, begin, pivot);
        for (int e = pivot; e < end; ++e) {
            f.value[e] = f.work[f.column[e]];
            f.work[f.column[e]] = 0;
        }
        f.value[pivot] = 1 / vent__firm(f.value[pivot]);
    }
}

void vent__sparse_solve(const vent__sparse *s, double *right)
{
    for (int r = 0; r < s->unknowns; ++r)
        for (int e = s->first[r]; e < s->diagonal[r]; ++e)
            right[r] -= s->value[e] * right[s->column[e]];
    for (int r = s->unknowns - 1; r >= 0; --r) {
        for (int e = s->diagonal[r] + 1; e < s->first[r + 1]; ++e)
            right[r] -= s->value[e] * right[s->column[e]];
        right[r] *= s->value[s->diagonal[r]];
    }
}

void vent__sparse_solve_transposed(const vent__sparse *s, double *right)
{
    for (int r = 0; r < s->unknowns; ++r) {
        right[r] *= s->value[s->diagonal[r]];
        for (int e = s->diagonal[r] + 1; e < s->first[r + 1]; ++e)
            right[s->column[e]] -= s->value[e] * right[r];
    }
    for (int r = s->unknowns - 1; r >= 0; --r)
        for (int e = s->first[r]; e < s->diagonal[r]; ++e)
            right[s->column[e]] -= s->value[e] * right[r];
}
