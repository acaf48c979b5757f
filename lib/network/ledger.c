/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The ledger: the solution told item by item. */
#include "network/ledger.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <ventstack/units.h>

#include "base/fail.h"
#include "network/state.h"

int vent__ledger_lines_of_run(const vent__model *model, int run)
{
    const vent__run *r = &model->run[run];
    int lines = 1; /* the column of gas */
    int pipes = 0;
    for (int i = r->first; i >= 0; i = model->item[i].next) {
        bool pipe = model->item[i].kind == VENT__PIPE;
        lines += 1 + (pipe && pipes > 0); /* a further pipe brings a transition */
        pipes += pipe;
    }
    lines -= vent__is_seep(model, run); /* the first pipe is none */
    lines += model->node[r->from].kind == VENT__SUCTION || r->link;
    lines += model->node[r->from].kind == VENT__OPENING ? 2 : 0; /* what it loses, what drives it */
    switch (model->node[r->to].kind) {
    case VENT__JUNCTION:
        return lines + 1;
    default: /* the discharge: what stands there, and the wind */
        return lines + 2;
    }
}

/* ---- one line ----------------------------------------------------------------------------- */

static vent_ledger_line line_of(int kind, int run, int item, double loss)
{
    return (vent_ledger_line){.kind = kind,
                              .run = run,
                              .item = item,
                              .node = -1,
                              .count = 1,
                              .k = NAN,
                              .k_uncertainty = NAN,
                              .velocity_pressure = NAN,
                              .loss = loss};
}

static void set_coefficient(vent_ledger_line *line, vent_coefficient k, double count,
                            double velocity_pressure)
{
    line->count = count;
    line->k = k.value * count;
    line->k_uncertainty = k.uncertainty * count;
    line->source = k.source;
    line->flags = k.flags;
    line->velocity_pressure = velocity_pressure;
}

/* The catalogue's words for a pipe and a length, " (3 in PVC 40, 34 ft)"; nothing for a pipe of one's
 * own. */
static void trade_words(vent_pipe pipe, double length, char *text, size_t room)
{
    for (int i = 0; i < vent_pipe_count(); ++i) {
        const char *name;
        double size;
        vent_pipe entry = vent_pipe_entry(i, &name, &size);
        if (entry.source == pipe.source && entry.width == pipe.width && entry.depth == pipe.depth) {
            snprintf(text, room, " (%.4g in %s, %.4g ft)", size / VENT_INCH, name,
                     length / VENT_FOOT);
            return;
        }
    }
    text[0] = 0;
}

static vent_ledger_line pipe_line(const vent__walk *at)
{
    vent_ledger_line line = line_of(VENT_LINE_PIPE, at->run, at->rank, at->loss);
    line.count = at->item->amount;
    if (at->velocity_pressure > 0) /* at rest f has no bounds */
        line.k = at->friction * at->item->amount / vent_pipe_hydraulic_diameter(at->pipe->pipe);
    line.velocity_pressure = at->velocity_pressure;
    line.source = at->item->pipe.source;
    double bore = vent_pipe_hydraulic_diameter(at->item->pipe);
    snprintf(line.what, sizeof line.what, "pipe %.1f mm, %.4g m", 1000 * bore, at->item->amount);
    char trade[48];
    trade_words(at->item->pipe, at->item->amount, trade, sizeof trade);
    if (strlen(line.what) + strlen(trade) < sizeof line.what) /* miles of pipe go without */
        strcat(line.what, trade);
    return line;
}

static vent_ledger_line fitting_line(const vent__walk *at)
{
    vent_ledger_line line = line_of(VENT_LINE_FITTING, at->run, at->rank, at->loss);
    set_coefficient(&line, at->coefficient, at->item->amount, at->velocity_pressure);
    const char *name = vent_fitting_name(at->item->fitting.family);
    double opening = vent__fitting_opening_pressure(&at->item->fitting);
    char more[24] = "";
    if (at->item->fitting.family == VENT_FITTING_CHECK_DAMPER && at->velocity < 0)
        snprintf(more, sizeof more, ", shut");
    else if (opening > 0) /* beside K times the velocity pressure */
        snprintf(more, sizeof more, ", %.3g Pa to open", opening);
    if (at->item->amount == 1)
        snprintf(line.what, sizeof line.what, "%s%s", name, more);
    else
        snprintf(line.what, sizeof line.what, "%.4g x %s%s", at->item->amount, name, more);
    return line;
}

static vent_ledger_line item_line(const vent__walk *at, const vent__model *model)
{
    vent_ledger_line line;
    switch (at->part) {
    case VENT__PART_PIPE:
        return pipe_line(at);
    case VENT__PART_FITTING:
        return fitting_line(at);
    case VENT__PART_FAN:
        line = line_of(VENT_LINE_FAN, at->run, at->rank, at->loss);
        if (vent__fan_is_off(model, at->item->fan))
            set_coefficient(&line, at->coefficient, 1, at->velocity_pressure);
        snprintf(line.what, sizeof line.what, "fan %.36s%s",
                 vent_fan_name(model->fan[at->item->fan].fan),
                 !vent__fan_is_off(model, at->item->fan) ? ""
                 : at->velocity < 0                      ? ", off, air backwards"
                                                         : ", off");
        return line;
    default:
        line = line_of(VENT_LINE_TRANSITION, at->run, at->rank, at->loss);
        set_coefficient(&line, at->coefficient, at->item->transition_count, at->velocity_pressure);
        snprintf(line.what, sizeof line.what, "change to %.1f mm",
                 1000 * vent__bore(at->item->pipe));
        return line;
    }
}

/* First what the opening loses, then the pressure around it. */
static vent_ledger_line opening_line(const vent_solution *s, int k, int run, bool around)
{
    int node = s->program->soil[k];
    const vent_opening *opening = &s->model->node[node].opening;
    bool room = opening->surroundings == VENT_SURROUNDINGS_ROOM;
    double driving = vent__surroundings(s->model, node);
    vent_ledger_line line = line_of(around ? VENT_LINE_SURROUNDINGS : VENT_LINE_OPENING, run, -1,
                                    around ? -driving : driving - s->start[k]);
    line.node = node;
    if (around)
        snprintf(line.what, sizeof line.what, "pressure of %s", room ? "the room" : "outdoors");
    else
        snprintf(line.what, sizeof line.what, "opening to %s, %.3g cm2",
                 room ? "the room" : "outdoors", 1e4 * opening->area);
    snprintf(line.where, sizeof line.where, "%s", vent__node_name(s->model, node));
    return line;
}

static vent_ledger_line soil_line(const vent_solution *s, int k, int run)
{
    int node = s->program->soil[k];
    vent_ledger_line line = line_of(VENT_LINE_SOIL, run, -1, -s->start[k]);
    line.node = node;
    snprintf(line.what, sizeof line.what, "soil");
    snprintf(line.where, sizeof line.where, "%s", vent__node_name(s->model, node));
    return line;
}

static vent_ledger_line junction_line(const vent_solution *s, int k, int run)
{
    vent__joined joined = vent__joined_at(s, k);
    vent_ledger_line line = line_of(VENT_LINE_JUNCTION, run, -1, joined.loss);
    line.node = s->model->run[run].to;
    if (joined.velocity_pressure > 0)
        set_coefficient(&line, joined.coefficient, 1, joined.velocity_pressure);
    int rank = s->model->run[run].rank;
    snprintf(line.what, sizeof line.what, "%s into %s",
             rank == 0  ? "straight leg"
             : rank < 0 ? "leak"
                        : "branch leg",
             vent__node_name(s->model, line.node));
    return line;
}

/* What a link loses in leaving its junction. */
static vent_ledger_line outlet_line(const vent_solution *s, int k, int run)
{
    vent__joined joined = vent__outlet_at(s, k);
    vent_ledger_line line = line_of(VENT_LINE_JUNCTION, run, -1, joined.loss);
    line.node = s->model->run[run].from;
    if (joined.velocity_pressure > 0)
        set_coefficient(&line, joined.coefficient, 1, joined.velocity_pressure);
    snprintf(line.what, sizeof line.what, "branch leg out of %s",
             vent__node_name(s->model, line.node));
    return line;
}

/* By name, with what is seen from below: how much of it is blocked, how much a guard leaves open. */
static void tell_termination(const vent_termination *termination, size_t size, char *what)
{
    double blocked = termination->geometry[VENT_TERMINATION_BLOCKED];
    bool guard = termination->family == VENT_TERMINATION_GUARD ||
                 termination->family == VENT_TERMINATION_DOME;
    char mesh[32] = "", share[32] = "";
    if (guard)
        snprintf(mesh, sizeof mesh, " (screen), %.0f %% free",
                 100 * vent_guard_free_area(termination->geometry[0], termination->geometry[1]));
    if (blocked > 0)
        snprintf(share, sizeof share, ", %.3g %% blocked", 100 * blocked);
    snprintf(what, size, "%s%s%s", vent_termination_name(termination->family), mesh, share);
}

static vent_ledger_line termination_line(const vent_solution *s, const vent__walk *end, int run)
{
    vent_ledger_line line = line_of(VENT_LINE_TERMINATION, run, -1, end->loss);
    line.node = s->model->run[run].to;
    set_coefficient(&line, end->coefficient, 1, end->velocity_pressure);
    tell_termination(&s->model->node[line.node].termination, sizeof line.what, line.what);
    return line;
}

/* ---- the lines of a run ------------------------------------------------------------------- */

/* The rank-th ledger line of the run at position k. */
static vent_ledger_line line_in_run(const vent_solution *s, int k, int rank)
{
    int run = s->program->run[k];
    const vent__run *r = &s->model->run[run];
    if (s->model->node[r->from].kind == VENT__OPENING && (rank -= 2) < 0)
        return opening_line(s, k, run, rank == -1);
    if (s->model->node[r->from].kind == VENT__SUCTION && rank-- == 0)
        return soil_line(s, k, run);
    if (s->program->link[k] > 0 && rank-- == 0)
        return outlet_line(s, k, run);
    if (rank-- == 0) {
        const vent__node *from = &s->model->node[r->from], *to = &s->model->node[r->to];
        vent_ledger_line line = line_of(VENT_LINE_BUOYANCY, run, -1, -vent__lift(s->model, run));
        line.count = to->height - from->height;
        if (line.count == 0)
            snprintf(line.what, sizeof line.what, "stack effect: none, as the run ends level");
        else
            snprintf(line.what, sizeof line.what, "stack effect, %.4g m (%.4g ft) up", line.count,
                     line.count / VENT_FOOT);
        return line;
    }
    vent__walk at = vent__walk_begin(s, k);
    bool skip = vent__is_seep(s->model, run);
    while (vent__walk_next(&at))
        if (skip) /* what is no pipe has no line */
            skip = false;
        else if (rank-- == 0)
            return at.part == VENT__PART_TERMINATION ? termination_line(s, &at, run)
                                                     : item_line(&at, s->model);
    if (s->model->node[r->to].kind == VENT__JUNCTION)
        return junction_line(s, k, run);
    vent_ledger_line line = line_of(VENT_LINE_WIND, run, -1, vent__wind(s->model, r->to));
    line.node = r->to;
    snprintf(line.what, sizeof line.what, line.loss == 0 ? "wind: none stated" : "wind");
    return line;
}

/* The run whose lines hold line number index, by position. */
static int run_of_line(const vent__program *program, int index)
{
    int low = 0, high = program->runs;
    while (high - low > 1) {
        int middle = low + (high - low) / 2;
        if (program->first_line[middle] <= index)
            low = middle;
        else
            high = middle;
    }
    return low;
}

/* Of a termination only what exceeds an open end, passed the same way, would be gained. */
static double removable_loss(const vent_solution *solution, int k, const vent_ledger_line *line)
{
    if (line->kind != VENT_LINE_TERMINATION)
        return line->loss;
    const vent_termination open = vent_open_end();
    double sign = copysign(1, solution->flow[k]);
    double of_open = vent__termination_state(&open, 1, sign * 1e5, 0.02).value; /* a constant */
    return line->loss - sign * of_open * line->velocity_pressure;
}

/* Of the gas in the pipe whose velocity pressure a line names, kg/m3. */
static double density_of(const vent_solution *s, const vent_ledger_line *line)
{
    if (line->kind != VENT_LINE_JUNCTION)
        return s->model->run[line->run].density;
    const vent__node *node = &s->model->node[line->node];
    if (node->junction.law == VENT_JUNCTION_LOSSLESS) /* has no meeting */
        return s->model->run[node->leaving].density;
    return s->meeting[s->program->position[node->leaving]].density;
}

double vent_solution_ledger_velocity(const vent_solution *solution, size_t index)
{
    vent_ledger_line line;
    if (!vent_solution_ledger_line(solution, index, &line))
        return NAN;
    return sqrt(2 * line.velocity_pressure / density_of(solution, &line));
}

size_t vent_solution_ledger_size(const vent_solution *solution)
{
    return solution ? (size_t)solution->program->lines : 0;
}

bool vent_solution_ledger_line(const vent_solution *solution, size_t index, vent_ledger_line *line)
{
    if (!solution || !line || index >= (size_t)solution->program->lines)
        return false;
    int k = run_of_line(solution->program, (int)index);
    *line = line_in_run(solution, k, (int)index - solution->program->first_line[k]);
    if (!line->where[0])
        snprintf(line->where, sizeof line->where, "%s", vent__run_name(solution->model, line->run));
    line->share = line->loss / vent__mean_fan_pressure(solution);
    line->flow_cost = solution->response[k] * removable_loss(solution, k, line);
    return true;
}

/* ---- exact cost --------------------------------------------------------------------------- */

/* Takes what a line stands for out of a model. */
static bool remove_line(vent__model *model, const vent_ledger_line *line)
{
    int item = vent__model_item(model, line->run, line->item);
    switch (line->kind) {
    case VENT_LINE_PIPE:
    case VENT_LINE_FITTING:
        model->item[item].amount = 0;
        return true;
    case VENT_LINE_TRANSITION:
        model->item[item].transition_count = 0;
        return true;
    case VENT_LINE_JUNCTION:
        model->node[line->node].junction = vent_junction_lossless();
        return true;
    case VENT_LINE_TERMINATION:
        model->node[line->node].termination = vent_open_end();
        return true;
    default:
        return false;
    }
}

double vent_solution_exact_flow_cost(const vent_solution *solution, size_t index, vent_error *err)
{
    vent_ledger_line line;
    if (vent__failed(err) || !VENT__POINTER(solution))
        return NAN;
    if (!vent_solution_ledger_line(solution, index, &line)) {
        vent__fail(err, VENT_E_NOT_FOUND, __func__, "index", (int64_t)index, (double)index, 0,
                   solution->program->lines - 1, "%s: index is %zu; the ledger has %d lines",
                   __func__, index, solution->program->lines);
        return NAN;
    }
    vent__model *model = vent__model_copy(solution->model);
    if (!model) {
        VENT__FAIL(VENT_E_MEMORY, "", -1, "%s: no memory", __func__);
        return NAN;
    }
    vent_network without = {.model = model};
    double cost = NAN;
    if (remove_line(model, &line)) {
        vent_solution *freed = vent_network_solve(&without, NULL, err);
        if (freed)
            cost = vent_solution_discharge_flow(freed) - vent_solution_discharge_flow(solution);
        vent_solution_free(freed);
    } else {
        VENT__FAIL(VENT_E_ARGUMENT, "index", (int64_t)index,
                   "%s: line %zu ('%s') cannot be taken away; pipes, fittings, transitions, "
                   "junctions and terminations can",
                   __func__, index, line.what);
    }
    vent__model_release(model);
    return cost;
}
