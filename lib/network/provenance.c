/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From the lines of the ledger to the sources they rest on. */
#include "base/source_list.h"
#include "network/state.h"

#include <math.h>
#include <ventstack/provenance.h>

_Static_assert(sizeof(vent_source_use) == 32, "vent_source_use is frozen");

/* ---- of a line ------------------------------------------------------------------------------ */

enum { MOST = 4 }; /* sources of one line */

typedef struct sources {
    int32_t number[MOST];
    int count;
} sources;

static void add(sources *to, int32_t number)
{
    for (int i = 0; i < to->count; ++i)
        if (to->number[i] == number)
            return;
    to->number[to->count++] = number;
}

static sources of_pipe(const vent_solution *solution, const vent_ledger_line *line)
{
    const vent__model *model = solution->model;
    const vent_pipe *pipe = &model->item[vent__model_item(model, line->run, line->item)].pipe;
    sources list = {.count = 0};
    add(&list, pipe->source);
    add(&list, vent__pipe_roughness_source(pipe));
    add(&list, VENT__SOURCE_FRICTION);
    add(&list, VENT__SOURCE_AIR_VISCOSITY);
    return list;
}

/* The coefficient's, and that of the pipe end which is part of it. */
static sources of_coefficient(const vent_solution *solution, const vent_ledger_line *line)
{
    const vent__model *model = solution->model;
    bool reversed = solution->flow[solution->program->position[line->run]] < 0;
    int32_t end = VENT__SOURCE_NONE;
    if (line->kind == VENT_LINE_TERMINATION)
        end = vent__termination_end_source(&model->node[line->node].termination, reversed);
    else if (line->kind == VENT_LINE_FITTING)
        end = vent__fitting_end_source(
            &model->item[vent__model_item(model, line->run, line->item)].fitting, reversed);
    sources list = {.count = 0};
    add(&list, line->source);
    if (end != VENT__SOURCE_NONE)
        add(&list, end);
    return list;
}

static sources of_line(const vent_solution *solution, const vent_ledger_line *line)
{
    switch (line->kind) {
    case VENT_LINE_PIPE:
        return of_pipe(solution, line);
    case VENT_LINE_FITTING:
    case VENT_LINE_TRANSITION:
    case VENT_LINE_JUNCTION:
    case VENT_LINE_TERMINATION:
    case VENT_LINE_FAN: /* of one that is off; that of a running fan is none */
        return of_coefficient(solution, line);
    case VENT_LINE_BUOYANCY:
    case VENT_LINE_OPENING: /* the density of what flows; the coefficient is stated */
        return (sources){{VENT__SOURCE_AIR_DENSITY}, 1};
    default: /* soil, wind, what is around an opening */
        return (sources){{VENT__SOURCE_NONE}, 1};
    }
}

int vent_solution_line_sources(const vent_solution *solution, size_t index, int room,
                               int32_t *sources_out)
{
    vent_ledger_line line;
    if (!vent_solution_ledger_line(solution, index, &line))
        return 0;
    sources list = of_line(solution, &line);
    for (int i = 0; sources_out && i < list.count && i < room; ++i)
        sources_out[i] = list.number[i];
    return list.count;
}

/* ---- of a solution -------------------------------------------------------------------------- */

/* What rests on each source, by number; lines 0 where nothing does. */
static void gather(const vent_solution *solution, vent_source_use use[VENT__SOURCE_END])
{
    for (int i = 0; i < VENT__SOURCE_END; ++i)
        use[i] = (vent_source_use){.source = i, .greatest_loss = 0, .greatest_share = NAN};
    for (size_t i = 0; i < vent_solution_ledger_size(solution); ++i) {
        vent_ledger_line line;
        vent_solution_ledger_line(solution, i, &line);
        sources list = of_line(solution, &line);
        for (int j = 0; j < list.count; ++j) {
            vent_source_use *of = &use[list.number[j]];
            of->flags |= line.flags;
            if (of->lines++ == 0 || fabs(line.loss) > of->greatest_loss) {
                of->greatest_loss = fabs(line.loss);
                of->greatest_share = fabs(line.share);
            }
        }
    }
}

/* Whether a stands before b, both in use: more hangs on it, or the same and its number is lower. */
static bool before(const vent_source_use *a, const vent_source_use *b)
{
    if (!a->lines)
        return false;
    if (a->greatest_loss != b->greatest_loss)
        return a->greatest_loss > b->greatest_loss;
    return a->source < b->source;
}

size_t vent_solution_source_count(const vent_solution *solution)
{
    vent_source_use use[VENT__SOURCE_END];
    size_t count = 0;
    gather(solution, use);
    for (int i = 0; i < VENT__SOURCE_END; ++i)
        count += use[i].lines > 0;
    return count;
}

bool vent_solution_source_use(const vent_solution *solution, size_t index, vent_source_use *found)
{
    vent_source_use use[VENT__SOURCE_END];
    gather(solution, use);
    for (int i = 0; found && i < VENT__SOURCE_END; ++i) {
        size_t ahead = 0;
        for (int j = 0; j < VENT__SOURCE_END; ++j)
            ahead += before(&use[j], &use[i]);
        if (use[i].lines && ahead == index) {
            *found = use[i];
            return true;
        }
    }
    return false;
}
