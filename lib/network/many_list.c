/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which segments, coefficients and junctions of a network differ from case to case, and the sums over
 * all that does not. */
#include <math.h>
#include <ventstack/units.h>

#include "base/memory.h"
#include "network/many_inputs.h"
#include "network/state.h"

static void add_times(vent__loss *sum, double count, const vent__loss *part)
{
    sum->k0 += count * part->k0;
    sum->k1 += count * part->k1;
    sum->kf += count * part->kf;
}

static void add_both(vent__both *sum, double count, const vent__both *part)
{
    for (int w = 0; w < VENT__WAYS; ++w)
        add_times(&sum->way[w], count, &part->way[w]);
}

/* The input of a kind and slot in a chain, or none. */
static int32_t input_of(const vent__batch *batch, int32_t first, int kind, int slot)
{
    for (int32_t i = first; i != VENT__NONE; i = batch->input[i].next)
        if (batch->input[i].varied.parameter.kind == kind &&
            batch->input[i].varied.parameter.slot == slot)
            return i;
    return VENT__NONE;
}

/* How many inputs of a kind a chain has. */
static int count_of(const vent__batch *batch, int32_t first, int kind)
{
    int count = 0;
    for (int32_t i = first; i != VENT__NONE; i = batch->input[i].next)
        count += batch->input[i].varied.parameter.kind == kind;
    return count;
}

static bool bore_varies(const vent__batch *batch, int item)
{
    return count_of(batch, vent__first_of_item(batch, item), VENT_PARAMETER_BORE) > 0;
}

/* ---- portions ---------------------------------------------------------------------------------- */

static vent__both loss_of_fitting(const vent_fitting *fitting, double bore)
{
    vent__both loss;
    vent__fitting_loss(fitting, bore, &loss.way[VENT__ALONG], &loss.way[VENT__AGAINST]);
    return loss;
}

static vent__both loss_of_termination(const vent_termination *termination, double bore)
{
    vent__both loss;
    vent__termination_loss(termination, bore, &loss.way[VENT__ALONG], &loss.way[VENT__AGAINST]);
    return loss;
}

/* Writes a portion's coefficients at no scale and for a unit of it, for one of two copies of its part
 * with that number set so. */
static void set_unit(vent__portion *portion, vent__both none, vent__both one)
{
    portion->plain = portion->unit = none;
    if (portion->scale == VENT__NONE) {
        portion->unit = (vent__both){0};
        return;
    }
    portion->unit = one;
    add_both(&portion->unit, -1, &none);
}

/* A stated coefficient scales like a factor, but two numbers that multiply each other do not. */
static void set_fitting(const vent__batch *batch, vent__portion *portion, int pipe, double bore)
{
    const vent__item *item = &batch->base->item[portion->number];
    vent_fitting none = item->fitting, one = item->fitting;
    int32_t first = portion->varied;
    int32_t factor = input_of(batch, first, VENT_PARAMETER_FACTOR, 0);
    int shapes = count_of(batch, first, VENT_PARAMETER_FITTING);
    portion->own_count = item->amount;
    portion->count = input_of(batch, first, VENT_PARAMETER_COUNT, 0);
    portion->scale = factor;
    portion->is_shaped =
        shapes > 0 || (bore_varies(batch, pipe) && vent__fitting_feels_bore(&item->fitting));
    if (shapes == 1 && factor == VENT__NONE && item->fitting.family == VENT_FITTING_CONSTANT) {
        int slot = input_of(batch, first, VENT_PARAMETER_FITTING, 0) == VENT__NONE;
        portion->scale = input_of(batch, first, VENT_PARAMETER_FITTING, slot);
        portion->is_shaped = false;
        none.geometry[slot] = 0;
        one.geometry[slot] = 1;
    } else if (factor != VENT__NONE) {
        none.factor = 0;
        one.factor = 1;
    }
    if (!portion->is_shaped)
        set_unit(portion, loss_of_fitting(&none, bore), loss_of_fitting(&one, bore));
}

static void set_transition(const vent__batch *batch, vent__portion *portion, int pipe, double bore)
{
    const vent__item *to = &batch->base->item[portion->number];
    vent_fitting change = vent__transition(to);
    portion->own_count = to->transition_count;
    portion->is_shaped = bore_varies(batch, pipe) || bore_varies(batch, portion->number) ||
                         count_of(batch, portion->varied, VENT_PARAMETER_TRANSITION_ANGLE) > 0;
    vent__both loss = loss_of_fitting(&change, bore);
    set_unit(portion, loss, loss);
}

static void set_termination(const vent__batch *batch, vent__portion *portion, int pipe, double bore)
{
    const vent_termination *own = &batch->base->node[portion->number].termination;
    vent_termination none = *own, one = *own;
    portion->scale = input_of(batch, portion->varied, VENT_PARAMETER_TERMINATION_FACTOR, 0);
    portion->is_shaped = count_of(batch, portion->varied, VENT_PARAMETER_TERMINATION) > 0 ||
                         (bore_varies(batch, pipe) && vent__termination_feels_bore(own));
    if (portion->scale != VENT__NONE) {
        none.factor = 0;
        one.factor = 1;
    }
    if (!portion->is_shaped)
        set_unit(portion, loss_of_termination(&none, bore), loss_of_termination(&one, bore));
}

/* Puts a coefficient on the segment's list where it varies, and else into what rests. */
static bool list_portion(vent__batch *batch, vent__laid *laid, int part, int number)
{
    bool of_node = part == VENT__PART_TERMINATION;
    double bore = vent__bore(batch->base->item[laid->item].pipe);
    vent__portion portion = {.part = part,
                             .number = number,
                             .varied = of_node ? vent__first_of_node(batch, number)
                                               : vent__first_of_item(batch, number),
                             .scale = VENT__NONE,
                             .count = VENT__NONE,
                             .own_count = 1};
    if (part == VENT__PART_FITTING)
        set_fitting(batch, &portion, laid->item, bore);
    else if (of_node)
        set_termination(batch, &portion, laid->item, bore);
    else
        set_transition(batch, &portion, laid->item, bore);
    if (!portion.is_shaped && portion.scale == VENT__NONE && portion.count == VENT__NONE) {
        add_both(&laid->rest, portion.own_count, &portion.plain);
        return true;
    }
    laid->has_portions = true;
    if (!vent__reserve(&batch->portion, &batch->portion_room, batch->portions, sizeof portion))
        return false;
    batch->portion[batch->portions++] = portion;
    return true;
}

/* ---- segments and runs -------------------------------------------------------------------------- */

/* The packet's pipe of a segment: one of the last of its run that is like it in every case, or a new one. */
static int pipe_of(vent__batch *batch, int k, int s, bool is_own)
{
    enum { LOOK_BACK = 16 };
    const vent_workspace *ws = batch->workspace;
    int32_t *first = batch->packet.first_pipe;
    int pipes = first[k + 1]; /* so far */
    for (int t = s - 1; t >= ws->program->first_segment[k] && t >= s - LOOK_BACK && !is_own; --t)
        if (ws->segment[t].reynolds == ws->segment[s].reynolds &&
            ws->roughness[t] == ws->roughness[s] && !batch->pipe_is_own[batch->pipe[t]])
            return batch->pipe[t];
    batch->pipe_is_own[pipes] = is_own;
    return first[k + 1]++;
}

static vent__laid begin_segment(vent__batch *batch, int k, int s, int item)
{
    const vent__model *model = batch->base;
    int32_t first = vent__first_of_item(batch, item);
    vent_pipe pipe = model->item[item].pipe;
    bool is_own = bore_varies(batch, item) ||
                  input_of(batch, first, VENT_PARAMETER_ROUGHNESS, 0) != VENT__NONE;
    for (int lane = 0; lane < VENT__PACK; ++lane)
        batch->bore[s].lane[lane] = vent__bore(pipe);
    batch->pipe[s] = pipe_of(batch, k, s, is_own);
    return (vent__laid){
        .segment = s,
        .run = k,
        .pipe = batch->pipe[s],
        .item = item,
        .length = input_of(batch, first, VENT_PARAMETER_LENGTH, 0),
        .roughness = input_of(batch, first, VENT_PARAMETER_ROUGHNESS, 0),
        .width = input_of(batch, first, VENT_PARAMETER_BORE, 0),
        .depth = input_of(batch, first, VENT_PARAMETER_BORE, 1),
        .is_shaped = bore_varies(batch, item) || batch->air_varies,
        .first = batch->portions,
        .per_hydraulic = 1 / vent_pipe_hydraulic_diameter(pipe),
        .per_effective = 1 / vent_pipe_effective_diameter(pipe),
        .per_reynolds = 1 / batch->workspace->segment[s].reynolds,
    };
}

/* Keeps a segment on its run's list where something varies in it, and else adds it to what rests. */
static bool end_segment(vent__batch *batch, vent__laid_run *run, vent__laid *laid)
{
    laid->end = batch->portions;
    if (laid->is_shaped || laid->has_portions || laid->length != VENT__NONE ||
        laid->roughness != VENT__NONE) {
        if (!vent__reserve(&batch->laid, &batch->laid_room, batch->laids, sizeof *laid))
            return false;
        laid->is_first = !batch->pipe_is_laid[laid->pipe];
        batch->pipe_is_laid[laid->pipe] = true;
        batch->laid[batch->laids++] = *laid;
        return true;
    }
    const vent__segment *s = &batch->workspace->segment[laid->segment];
    add_times(&run->rest.way[VENT__ALONG], 1, &s->along);
    add_times(&run->rest.way[VENT__AGAINST], 1, &s->against);
    batch->friction[laid->pipe][VENT__ALONG] += s->along.kf;
    batch->friction[laid->pipe][VENT__AGAINST] += s->against.kf;
    run->creeping = fmax(run->creeping, VENT__LEAST_REYNOLDS / s->reynolds);
    return true;
}

static bool list_run(vent__batch *batch, int k)
{
    const vent__model *model = batch->base;
    const vent__program *program = batch->workspace->program;
    const vent__run *run = &model->run[program->run[k]];
    int32_t *first_pipe = batch->packet.first_pipe;
    first_pipe[k + 1] = first_pipe[k];
    vent__laid_run laid_run = {.run = k, .first = batch->laids};
    vent__laid laid = {0};
    int s = program->first_segment[k] - 1;
    bool room = true;
    for (int i = run->first; i >= 0 && room; i = model->item[i].next) {
        if (model->item[i].kind == VENT__PIPE) {
            if (++s > program->first_segment[k])
                room = list_portion(batch, &laid, VENT__PART_TRANSITION, i) &&
                       end_segment(batch, &laid_run, &laid);
            laid = begin_segment(batch, k, s, i);
        } else if (model->item[i].kind == VENT__FITTING) {
            room = list_portion(batch, &laid, VENT__PART_FITTING, i);
        }
    }
    if (room && model->node[run->to].kind == VENT__DISCHARGE)
        room = list_portion(batch, &laid, VENT__PART_TERMINATION, run->to);
    room = room && end_segment(batch, &laid_run, &laid);
    laid_run.end = batch->laids;
    if (!room || laid_run.end == laid_run.first)
        return room;
    if (!vent__reserve(&batch->laid_run, &batch->laid_run_room, batch->laid_runs, sizeof laid_run))
        return false;
    batch->laid_run[batch->laid_runs++] = laid_run;
    return true;
}

/* ---- junctions ---------------------------------------------------------------------------------- */

/* Whether bore or air of a segment vary. */
static bool segment_is_shaped(const vent__batch *batch, int s)
{
    int low = 0, high = batch->laids;
    while (low < high) {
        int middle = low + (high - low) / 2;
        if (batch->laid[middle].segment < s)
            low = middle + 1;
        else
            high = middle;
    }
    return low < batch->laids && batch->laid[low].segment == s && batch->laid[low].is_shaped;
}

static bool junction_varies(const vent__batch *batch, int k)
{
    const vent__program *program = batch->workspace->program;
    int node = batch->base->run[program->run[k]].from;
    int32_t first = vent__first_of_node(batch, node);
    bool varies = count_of(batch, first, VENT_PARAMETER_JUNCTION_ANGLE) > 0 ||
                  count_of(batch, first, VENT_PARAMETER_JUNCTION_FACTOR) > 0 ||
                  segment_is_shaped(batch, program->first_segment[k]);
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j))
        varies |= segment_is_shaped(batch, program->first_segment[j + 1] - 1);
    return varies;
}

bool vent__batch_list(vent__batch *batch)
{
    const vent__program *program = batch->workspace->program;
    for (int k = 0; k < program->runs; ++k)
        if (!list_run(batch, k))
            return false;
    for (int k = 0; k < program->runs; ++k) {
        if (!batch->packet.is_lossy[k] || !junction_varies(batch, k))
            continue;
        if (!vent__reserve(&batch->junction, &batch->junction_room, batch->junctions,
                           sizeof *batch->junction))
            return false;
        batch->junction[batch->junctions++] = k;
    }
    return true;
}
