/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "network/program.h"

#include <limits.h>
#include <stdlib.h>

#include "base/fail.h"
#include "base/memory.h"
#include "network/ledger.h"

vent__program *vent__program_hold(vent__program *program)
{
    atomic_fetch_add_explicit(&program->references, 1, memory_order_relaxed);
    return program;
}

static void program_free(vent__program *program)
{
    free(program->run); /* all arrays are one block */
    free(program);
}

void vent__program_release(vent__program *program)
{
    if (program && atomic_fetch_sub_explicit(&program->references, 1, memory_order_acq_rel) == 1)
        program_free(program);
}

static bool bad_shape(vent_error *err, const char *function, int node, const char *format,
                      const char *name)
{
    /* The formats below are this file's own and take the function and one name. */
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
    return vent__fail(err, VENT_E_TOPOLOGY, function, "network", node, NAN, NAN, NAN, format,
                      function, name);
#pragma GCC diagnostic pop
}

/* Every node must lead somewhere, and every node but a suction point must be led to. */
static bool ends_meet(const vent__model *model, const char *function, vent_error *err)
{
    bool soil = false;
    if (model->discharge < 0)
        return bad_shape(err, function, -1, "%s: the network has no discharge%s", "");
    for (int i = 0; i < model->nodes; ++i) {
        const vent__node *node = &model->node[i];
        const char *name = vent__node_name(model, i);
        bool fed = node->kind == VENT__SUCTION || node->kind == VENT__OPENING;
        soil |= node->kind == VENT__SUCTION;
        if (node->kind != VENT__DISCHARGE && node->leaving < 0)
            return bad_shape(err, function, i, "%s: no run leaves node '%.60s'", name);
        if (!fed && node->arriving == 0)
            return bad_shape(err, function, i, "%s: no run arrives at node '%.60s'", name);
    }
    return soil || bad_shape(err, function, -1, "%s: the network has no suction point%s", "");
}

/* Some node that following the air out of an unreached run brings back to itself. */
static int node_on_loop(const vent__model *model, int run)
{
    for (int i = 0; i < model->runs; ++i)
        run = model->node[model->run[run].to].leaving;
    return model->run[run].from;
}

/* Orders the runs from the discharges backwards, depth first, and reverses: so the runs that feed a
 * node stand close before the run that leaves it. Numbers from the model's runs on are the links'
 * outlets. `chain` and `head` are scratch. */
static bool order_runs(vent__program *program, const vent__model *model, int32_t *head,
                       int32_t *chain, const char *function, vent_error *err)
{
    int runs = program->runs, at = runs, depth = 0, link = 0;
    for (int i = 0; i < model->nodes; ++i)
        head[i] = -1;
    for (int r = 0; r < model->runs; ++r)
        if (model->run[r].link)
            program->start[link++] = r;
    for (int l = program->links - 1; l >= 0; --l) {
        int from = model->run[program->start[l]].from;
        chain[model->runs + l] = head[from];
        head[from] = model->runs + l;
    }
    for (int r = 0; r < model->runs;
         ++r) { /* later arrivals first, so that they are visited last */
        chain[r] = head[model->run[r].to];
        head[model->run[r].to] = r;
    }
    int32_t *stack = program->first_fed; /* free until the order is known */
    for (int r = 0; r < runs; ++r)
        program->next[r] = 0;
    for (int i = 0; i < model->nodes; ++i)
        if (model->node[i].kind == VENT__DISCHARGE)
            stack[depth++] = head[i];
    while (depth > 0) {
        int run = stack[--depth];
        program->run[--at] = run;
        program->next[run] = 1; /* reached */
        if (run < model->runs && !model->run[run].link)
            for (int r = head[model->run[run].from]; r >= 0; r = chain[r])
                stack[depth++] = r;
    }
    for (int r = 0; r < model->runs && at > 0; ++r)
        if (!program->next[r]) {
            int node = node_on_loop(model, r);
            return bad_shape(err, function, node,
                             "%s: the runs through node '%.60s' form a loop that never reaches the "
                             "discharge",
                             vent__node_name(model, node));
        }
    for (int k = 0; k < runs; ++k) {
        int run = program->run[k], l = run - model->runs;
        program->link[k] = l >= 0 ? -1 - l : 0;
        if (l >= 0) {
            program->outlet[l] = k;
            program->run[k] = program->start[l];
        } else {
            program->position[run] = k;
        }
    }
    for (int l = 0; l < program->links; ++l) {
        program->start[l] = program->position[program->start[l]];
        program->link[program->start[l]] = 1 + l;
    }
    for (int k = 0; k < runs; ++k) {
        const vent__run *run = &model->run[program->run[k]];
        int leaving = model->node[program->link[k] < 0 ? run->from : run->to].leaving;
        program->next[k] = leaving >= 0 ? program->position[leaving] : -1;
        program->first_fed[k] = k;
    }
    for (int k = 0; k < runs; ++k) {
        if (program->next[k] < 0)
            continue;
        int32_t *first = &program->first_fed[program->next[k]];
        *first = *first < program->first_fed[k] ? *first : program->first_fed[k];
    }
    return true;
}

static void count_items(vent__program *program, const vent__model *model)
{
    int segments = 0, fans = 0, lines = 0;
    for (int k = 0; k < program->runs; ++k) {
        program->first_segment[k] = segments;
        program->first_fan[k] = fans;
        program->first_line[k] = lines;
        int run = program->run[k], from = model->run[run].from;
        int kind = model->node[from].kind;
        program->soil[k] = kind == VENT__SUCTION || kind == VENT__OPENING ? from : -1;
        if (kind == VENT__OPENING)
            program->opening[program->openings++] = k;
        if (program->link[k] < 0)
            continue; /* an outlet has nothing in it */
        for (int i = model->run[run].first; i >= 0; i = model->item[i].next) {
            segments += model->item[i].kind == VENT__PIPE;
            if (model->item[i].kind == VENT__FAN)
                program->fan[fans++] = model->item[i].fan;
        }
        lines += vent__ledger_lines_of_run(model, run);
    }
    for (int k = 0; k < program->runs; ++k)
        if (program->next[k] < 0)
            program->root[program->roots++] = k;
    program->first_segment[program->runs] = program->segments = segments;
    program->first_fan[program->runs] = program->fans = fans;
    program->first_line[program->runs] = program->lines = lines;
}

/* Numbers the suction points that are coupled; `number` is scratch, of the nodes. */
static void number_coupled(vent__program *program, const vent__model *model, int32_t *number)
{
    for (int i = 0; i < model->nodes; ++i)
        number[i] = -1;
    for (int i = 0; i < model->couplings; ++i) {
        const int32_t ends[2] = {model->coupling[i].a, model->coupling[i].b};
        for (int e = 0; e < 2; ++e) {
            if (number[ends[e]] < 0) {
                program->couple[program->coupled] = program->position[model->node[ends[e]].leaving];
                number[ends[e]] = program->coupled++;
            }
            program->pair[e][i] = number[ends[e]];
        }
    }
}

vent__program *vent__program_new(const vent__model *model, const char *function, vent_error *err)
{
    if (!ends_meet(model, function, err))
        return NULL;
    size_t links = (size_t)model->links, runs = (size_t)model->runs + links;
    size_t discharges = 0, openings = 0;
    for (int i = 0; i < model->nodes; ++i) {
        discharges += model->node[i].kind == VENT__DISCHARGE;
        openings += model->node[i].kind == VENT__OPENING;
    }
    size_t words = 6 * runs + 3 * (runs + 1) + 2 * links + discharges + openings +
                   4 * (size_t)model->couplings + (size_t)model->fans;
    vent__program *program = calloc(1, sizeof *program);
    int32_t *block = NULL, *scratch = NULL;
    bool room = program && vent__resize(&block, words, sizeof *block) &&
                vent__resize(&scratch, runs + (size_t)model->nodes, sizeof *scratch);
    if (!room) {
        vent__fail(err, VENT_E_MEMORY, function, "", -1, NAN, NAN, NAN, "%s: no memory", function);
        free(program);
        free(block);
        return NULL;
    }
    *program = (vent__program){.references = 1,
                               .shape = model->shape,
                               .runs = (int)runs,
                               .links = model->links,
                               .couplings = model->couplings};
    program->run = block;
    program->position = program->run + runs;
    program->next = program->position + runs;
    program->soil = program->next + runs;
    program->first_fed = program->soil + runs;
    program->link = program->first_fed + runs;
    program->start = program->link + runs;
    program->outlet = program->start + links;
    program->root = program->outlet + links;
    program->opening = program->root + discharges;
    program->couple = program->opening + openings;
    program->pair[0] = program->couple + 2 * model->couplings;
    program->pair[1] = program->pair[0] + model->couplings;
    program->first_segment = program->pair[1] + model->couplings;
    program->first_fan = program->first_segment + runs + 1;
    program->first_line = program->first_fan + runs + 1;
    program->fan = program->first_line + runs + 1;
    bool tree = order_runs(program, model, scratch, scratch + model->nodes, function, err);
    if (!tree) {
        free(scratch);
        program_free(program);
        return NULL;
    }
    count_items(program, model);
    number_coupled(program, model, scratch);
    free(scratch);
    return program;
}
