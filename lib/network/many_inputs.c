/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "network/many_inputs.h"

#include <stdlib.h>
#include <string.h>
#include <ventstack/units.h>

#include "base/fail.h"
#include "base/memory.h"
#include "network/parameter.h"
#include "network/state.h"
#include "numeric/widest.h"

enum { MOST_RUNS = 20000 }; /* a packet takes 2 kB a run: beyond this, lanes gain nothing */
static const double FIRST_FRICTION = 0.022; /* as in equations.c */

/* ---- what a parameter does ------------------------------------------------------------------ */

static const vent__item *item_of(const vent__model *model, const vent_parameter *p)
{
    return &model->item[vent__model_item(model, p->place, p->item)];
}

static int number_of_fan(const vent__model *model, const vent__program *program,
                         const vent_parameter *p)
{
    int number = 0;
    while (program->fan[number] != item_of(model, p)->fan)
        ++number;
    return number;
}

static int effect_of(const vent__model *model, const vent__program *program, vent__input *input)
{
    const vent_parameter *p = &input->varied.parameter;
    input->place = p->place;
    switch (p->kind) {
    case VENT_PARAMETER_WIND_PRESSURE:
    case VENT_PARAMETER_WIND_DYNAMIC_PRESSURE:
    case VENT_PARAMETER_PRESSURE_COEFFICIENT: /* a plain tree has one discharge */
        return VENT__TO_WIND;
    case VENT_PARAMETER_BUILDING_PRESSURE:
        return VENT__TO_BUILDING;
    case VENT_PARAMETER_OUTDOOR_TEMPERATURE:
    case VENT_PARAMETER_BAROMETRIC_PRESSURE:
    case VENT_PARAMETER_SOIL_GAS_TEMPERATURE:
    case VENT_PARAMETER_TEMPERATURE:
        return VENT__TO_AIR;
    case VENT_PARAMETER_HEIGHT:
        return VENT__TO_HEIGHT;
    case VENT_PARAMETER_SOIL:
        input->place = program->position[model->node[p->place].leaving];
        return p->slot ? VENT__TO_SOIL_B : VENT__TO_SOIL_A;
    case VENT_PARAMETER_SPEED:
    case VENT_PARAMETER_PRESSURE_FACTOR:
        input->place = number_of_fan(model, program, p);
        return p->kind == VENT_PARAMETER_SPEED ? VENT__TO_SPEED : VENT__TO_FAN_FACTOR;
    case VENT_PARAMETER_FITTING:
    case VENT_PARAMETER_FACTOR:
        return item_of(model, p)->kind == VENT__FAN ? VENT__TO_MODEL : VENT__TO_PART;
    case VENT_PARAMETER_RUNNING:
    case VENT_PARAMETER_AREA:
    case VENT_PARAMETER_DISCHARGE_COEFFICIENT:
    case VENT_PARAMETER_COUPLING:
        return VENT__TO_MODEL;
    default:
        return VENT__TO_PART;
    }
}

/* Where the chain of inputs of the same item or node begins; NULL for what is of neither. */
static int32_t *chain_of(vent__batch *batch, const vent_parameter *p)
{
    if (p->kind >= VENT_PARAMETER_HEIGHT && p->kind <= VENT_PARAMETER_TERMINATION_FACTOR)
        return &batch->first_input[batch->base->items + p->place];
    if (p->kind >= VENT_PARAMETER_LENGTH)
        return &batch->first_input[vent__model_item(batch->base, p->place, p->item)];
    return NULL;
}

static int by_address(const void *a, const void *b)
{
    return memcmp(a, b, sizeof(vent_parameter));
}

static bool no_twins(size_t inputs, const vent_varied *varied, const char *function,
                     vent_error *err)
{
    vent_parameter *list = malloc((inputs + 1) * sizeof *list);
    if (!list)
        return vent__fail(err, VENT_E_MEMORY, function, "", -1, NAN, NAN, NAN, "%s: no memory",
                          function);
    for (size_t i = 0; i < inputs; ++i)
        list[i] = varied[i].parameter;
    qsort(list, inputs, sizeof *list, by_address);
    bool twins = false;
    for (size_t i = 1; i < inputs; ++i)
        twins |= by_address(&list[i - 1], &list[i]) == 0;
    free(list);
    return !twins || vent__fail(err, VENT_E_DUPLICATE, function, "varied", -1, NAN, NAN, NAN,
                                "%s: varied holds one parameter twice", function);
}

static bool take_inputs(vent__batch *batch, const vent_network *network, size_t inputs,
                        const vent_varied *varied, vent_error *err)
{
    const vent__program *program = batch->workspace->program;
    for (size_t i = 0; i < inputs; ++i) {
        vent__input *input = &batch->input[i];
        *input = (vent__input){.varied = varied[i]};
        if (!vent__parameter_check(batch->base, &varied[i].parameter, batch->function, err))
            return false;
        vent_network_parameter_range(network, varied[i].parameter, &input->range);
        input->effect = effect_of(batch->base, program, input);
        input->own = vent__parameter_value(batch->base, &varied[i].parameter);
        batch->heights_vary |= input->effect == VENT__TO_HEIGHT;
        batch->air_varies |= input->effect == VENT__TO_AIR;
        int32_t *first = chain_of(batch, &varied[i].parameter);
        input->next = first ? *first : VENT__NONE;
        if (first)
            *first = (int32_t)i;
    }
    return no_twins(inputs, varied, batch->function, err);
}

/* ---- one case as a model -------------------------------------------------------------------- */

void vent__batch_restore(vent__batch *batch)
{
    const vent__model *from = batch->base;
    vent__model *to = batch->model;
    to->soil_gas = from->soil_gas;
    to->outdoors = from->outdoors;
    to->wind_pressure = from->wind_pressure;
    to->building_pressure = from->building_pressure;
    to->wind_dynamic_pressure = from->wind_dynamic_pressure;
    memcpy(to->node, from->node, (size_t)from->nodes * sizeof *from->node);
    memcpy(to->run, from->run, (size_t)from->runs * sizeof *from->run);
    memcpy(to->item, from->item, (size_t)from->items * sizeof *from->item);
    for (int i = 0; i < from->couplings; ++i)
        to->coupling[i] = from->coupling[i];
    for (int i = 0; i < from->fans; ++i)
        to->fan[i].pressure_factor = from->fan[i].pressure_factor;
}

/* One number's bounds may hang on another's: what is refused is tried again after the others. */
bool vent__batch_store(vent__batch *batch, int lane, vent_error *err)
{
    size_t refused = batch->inputs, before;
    vent_error error = VENT_NO_ERROR;
    vent__batch_restore(batch);
    vent__forget(batch->workspace);
    do {
        before = refused;
        refused = 0;
        error = (vent_error)VENT_NO_ERROR;
        for (size_t i = 0; i < batch->inputs; ++i) {
            const vent_parameter *p = &batch->input[i].varied.parameter;
            double value = batch->value[i].lane[lane];
            if (!vent__parameter_store(batch->model, p, value, batch->function,
                                       refused > 0 ? NULL : &error))
                ++refused;
        }
    } while (refused > 0 && refused < before);
    if (refused > 0 && err && err->status == VENT_OK)
        *err = error;
    return refused == 0;
}

/* ---- rows ----------------------------------------------------------------------------------- */

static void set_losses(vent__batch *batch, int k, int lane)
{
    vent__packet *p = &batch->packet;
    const vent__segment *segment = batch->workspace->segment;
    double kf[VENT__WAYS] = {0}, k0[VENT__WAYS] = {0}, k1[VENT__WAYS] = {0}, creeping = 0;
    for (int s = p->program->first_segment[k]; s < p->program->first_segment[k + 1]; ++s) {
        const vent__loss *way[VENT__WAYS] = {&segment[s].along, &segment[s].against};
        int pipe = batch->pipe[s];
        p->reynolds[pipe].lane[lane] = segment[s].reynolds;
        p->roughness[pipe].lane[lane] = batch->workspace->roughness[s];
        batch->inertia[s].lane[lane] = segment[s].inertia;
        creeping = fmax(creeping, VENT__LEAST_REYNOLDS / segment[s].reynolds);
        for (int w = 0; w < VENT__WAYS; ++w) {
            p->friction[w][pipe].lane[lane] += way[w]->kf;
            kf[w] += way[w]->kf;
            k0[w] += way[w]->k0;
            k1[w] += way[w]->k1;
        }
    }
    for (int w = 0; w < VENT__WAYS; ++w) {
        p->fixed[w][k].lane[lane] = k0[w];
        p->linear[w][k].lane[lane] = k1[w];
        p->crude[w][k].lane[lane] = k0[w] + FIRST_FRICTION * kf[w];
    }
    p->creeping[k].lane[lane] = creeping;
}

void vent__set_junction(vent__packet *p, int k, int lane, const vent_workspace *ws)
{
    const vent__meeting *meeting = &vent__knot_at(ws, k)->meeting;
    p->factor[k].lane[lane] = meeting->law.factor;
    p->per_area[k].lane[lane] = 1 / meeting->area;
    p->inertia[k].lane[lane] = 1 / (meeting->density * meeting->area * meeting->area);
    for (int j = vent__last_leg(p->program, k); j >= 0; j = vent__leg_before(p->program, k, j)) {
        const vent__leg *leg = &vent__tie_at(ws, j)->leg;
        vent__joining joining = vent__junction_joining(meeting, leg);
        p->joining[j] = joining;
        p->is_straight[j] = leg->straight;
        p->unit_axial[j].lane[lane] = joining.axial;
        p->kinetic[j].lane[lane] = joining.kinetic;
        p->most[j].lane[lane] = joining.most;
        p->fading[j].lane[lane] = joining.fading;
    }
}

/* The network and what is laid out of it, into one lane. */
static void set_lane(vent__batch *batch, int lane)
{
    vent__packet *p = &batch->packet;
    const vent__model *model = batch->base;
    const vent_workspace *ws = batch->workspace;
    const vent__program *program = p->program;
    p->wind.lane[lane] = vent__wind(model, model->discharge); /* a plain tree has one */
    batch->building_pressure.lane[lane] = model->building_pressure;
    p->soil_volume.lane[lane] = 1 / model->soil_gas.density;
    for (int k = 0; k < program->runs; ++k) {
        set_losses(batch, k, lane);
        p->lift[k].lane[lane] = ws->lift[k];
        p->reference[k].lane[lane] = ws->reference[k];
        p->density[k].lane[lane] = ws->density[k];
        batch->viscosity[k].lane[lane] = model->run[program->run[k]].viscosity;
        if (program->soil[k] >= 0)
            p->soil[k][lane] = model->node[program->soil[k]].soil;
        if (p->is_lossy[k])
            vent__set_junction(p, k, lane, ws);
        for (int i = program->first_fan[k]; i < program->first_fan[k + 1]; ++i) {
            const vent__fan *fan = &model->fan[program->fan[i]];
            p->fan[i].speed.lane[lane] = model->item[fan->number].amount;
            p->fan[i].factor.lane[lane] = fan->pressure_factor;
        }
    }
}

/* ---- loading -------------------------------------------------------------------------------- */

/* Fills a lane with the network's own values. */
static void fill_lane(vent__batch *batch, int lane)
{
    for (size_t i = 0; i < batch->inputs; ++i)
        batch->value[i].lane[lane] = batch->input[i].own;
}

static bool are_within(const vent__input *input, const vent__row *value)
{
    bool good = true;
    for (int lane = 0; lane < VENT__PACK; ++lane)
        good &= value->lane[lane] >= input->range.low && value->lane[lane] <= input->range.high;
    return good;
}

/* Looks at the values of all lanes; those of a lane that are refused become the network's own. */
static void load_rows(vent__batch *batch, int count, vent_error *error, bool *alone)
{
    vent__row_setter *set_rows = VENT__WIDEST(vent__rows_set);
    bool good = true;
    for (size_t i = 0; i < batch->inputs; ++i)
        good &= are_within(&batch->input[i], &batch->value[i]);
    good = good && set_rows(batch, alone);
    if (good)
        return;
    for (int lane = 0; lane < VENT__PACK; ++lane)
        if (lane >= count || !vent__batch_store(batch, lane, &error[lane]))
            fill_lane(batch, lane);
    vent__batch_restore(batch);
    set_rows(batch, alone);
}

/* The values of cases first ... first + count - 1; the lanes beyond hold the last. */
static void gather(vent__row *row, const vent_varied *varied, size_t first, int count)
{
    const double *value = varied->value + (ptrdiff_t)first * varied->stride;
    if (varied->stride == 1 && count == VENT__PACK) {
        memcpy(row, value, sizeof *row);
        return;
    }
    for (int lane = 0; lane < VENT__PACK; ++lane)
        row->lane[lane] = value[(lane < count ? lane : count - 1) * varied->stride];
}

void vent__batch_load(vent__batch *batch, size_t first, int count, vent_error *error, bool *alone)
{
    for (size_t i = 0; i < batch->inputs; ++i)
        gather(&batch->value[i], &batch->input[i].varied, first, count);
    for (int lane = 0; lane < VENT__PACK; ++lane) {
        error[lane].status = VENT_OK;
        alone[lane] = !batch->in_lanes;
    }
    if (batch->in_lanes)
        load_rows(batch, count, error, alone);
    for (int lane = 0; lane < count && !batch->in_lanes; ++lane)
        vent__batch_store(batch, lane, &error[lane]);
}

/* ---- memory --------------------------------------------------------------------------------- */

/* The arrays of a packet, one after the other, each at a boundary of two cache lines and none a power
 * of two from the next. */
typedef struct shelf {
    unsigned char *at; /* NULL while only counting */
    size_t used;
} shelf;

static void *place(shelf *on, size_t count, size_t size)
{
    const size_t line = 128;
    size_t begin = on->used;
    on->used += (count * size + line - 1) / line * line + line;
    return on->at ? on->at + begin : NULL;
}

static void place_all(vent__batch *batch, shelf *on, size_t runs, size_t segments, size_t fans,
                      bool lossy)
{
    vent__packet *p = &batch->packet;
    vent__row **of_segments[] = {&p->reynolds, &p->roughness, &p->friction[0], &p->friction[1],
                                 &p->y,        &p->g,         &batch->bore,    &batch->inertia};
    vent__row **of_runs[] = {&p->fixed[0],    &p->fixed[1],   &p->linear[0],   &p->linear[1],
                             &p->crude[0],    &p->crude[1],   &p->lift,        &p->reference,
                             &p->creeping,    &p->density,    &p->soil_a,      &p->soil_b,
                             &p->flow,        &p->origin,     &p->per_origin,  &p->loss,
                             &p->slope,       &p->start,      &p->source,      &p->source_slope,
                             &p->weight,      &p->step,       &p->joint,       &p->by_leg,
                             &p->by_combined, &p->by_axial,   &p->axial,       &p->order[0],
                             &p->order[1],    &p->order[2],   &p->order[3],    &p->order[4],
                             &p->soil_order,  &p->found_flow, &p->found_start, &batch->viscosity};
    for (size_t i = 0; i < sizeof of_segments / sizeof *of_segments; ++i)
        *of_segments[i] = place(on, segments, sizeof(vent__row));
    for (size_t i = 0; i < sizeof of_runs / sizeof *of_runs; ++i)
        *of_runs[i] = place(on, runs, sizeof(vent__row));
    p->soil = place(on, runs, sizeof *p->soil);
    p->is_lossy = place(on, runs, sizeof *p->is_lossy);
    p->fan = place(on, fans, sizeof *p->fan);
    p->joining = place(on, runs, sizeof *p->joining);
    p->is_straight = place(on, runs, sizeof *p->is_straight);
    p->first_pipe = place(on, runs + 1, sizeof *p->first_pipe);
    batch->pipe = place(on, segments, sizeof *batch->pipe);
    batch->friction = place(on, segments, sizeof *batch->friction);
    batch->pipe_is_laid = place(on, segments, sizeof *batch->pipe_is_laid);
    batch->pipe_is_own = place(on, segments, sizeof *batch->pipe_is_own);
    vent__row **of_junctions[] = {&p->factor,  &p->inertia, &p->per_area, &p->unit_axial,
                                  &p->kinetic, &p->most,    &p->fading,   &p->turned};
    for (size_t i = 0; i < sizeof of_junctions / sizeof *of_junctions; ++i)
        *of_junctions[i] = place(on, lossy ? runs : 0, sizeof(vent__row));
}

static bool has_losses(const vent__model *model, const vent__program *program, int k)
{
    const vent__node *from = &model->node[model->run[program->run[k]].from];
    return from->kind == VENT__JUNCTION && from->junction.law != VENT_JUNCTION_LOSSLESS;
}

static bool packet_begin(vent__batch *batch)
{
    vent__packet *p = &batch->packet;
    const vent__model *model = batch->base;
    const vent__program *program = batch->workspace->program;
    bool lossy = false;
    for (int k = 0; k < program->runs; ++k)
        lossy |= has_losses(model, program, k);
    size_t runs = (size_t)program->runs, segments = (size_t)program->segments,
           fans = (size_t)program->fans;
    shelf memory = {0};
    place_all(batch, &memory, runs, segments, fans, lossy);
    batch->block = calloc(1, memory.used + 128);
    if (!batch->block)
        return false;
    memory.at = batch->block + (128 - (uintptr_t)batch->block % 128);
    memory.used = 0;
    place_all(batch, &memory, runs, segments, fans, lossy);
    p->program = program;
    for (int k = 0; k < program->runs; ++k)
        p->is_lossy[k] = has_losses(model, program, k);
    for (int i = 0; i < program->fans; ++i)
        vent__set_lane_fan(&p->fan[i], batch->model->fan[program->fan[i]].fan);
    return true;
}

/* ---- begin and end --------------------------------------------------------------------------- */

static bool fans_fall(const vent__model *model)
{
    for (int i = 0; i < model->fans; ++i)
        if (!vent_fan_is_falling(model->fan[i].fan))
            return false;
    return true;
}

/* No links, no soil that couples suction points, no openings, no fan that is off. */
static bool is_plain_tree(const vent__program *program, const vent__model *model)
{
    bool plain = program->links == 0 && program->couplings == 0;
    for (int i = 0; i < model->nodes; ++i)
        plain &= model->node[i].kind != VENT__OPENING;
    for (int i = 0; i < model->fans; ++i)
        plain &= model->item[model->fan[i].number].running == 1;
    return plain;
}

/* Whether the rows hold all that varies. */
static bool rows_hold(const vent__batch *batch)
{
    for (size_t i = 0; i < batch->inputs; ++i)
        if (batch->input[i].effect == VENT__TO_MODEL)
            return false;
    return true;
}

static bool begin(vent__batch *batch, const vent_network *network, size_t inputs,
                  const vent_varied *varied, vent_error *err)
{
    batch->workspace = vent_workspace_new(network, err);
    if (!batch->workspace)
        return false;
    size_t runs = (size_t)batch->workspace->program->runs,
           parts = (size_t)batch->base->items + (size_t)batch->base->nodes;
    batch->model = vent__model_copy(batch->base);
    bool room = batch->model && vent__resize(&batch->input, inputs + 1, sizeof *batch->input) &&
                vent__resize(&batch->value, inputs + 1, sizeof *batch->value) &&
                vent__resize(&batch->first_input, parts, sizeof *batch->first_input);
    for (size_t i = 0; room && i < parts; ++i)
        batch->first_input[i] = VENT__NONE;
    if (room && !take_inputs(batch, network, inputs, varied, err))
        return false;
    room = room && vent__lay_out(batch->workspace, batch->model);
    batch->in_lanes = room && runs <= MOST_RUNS &&
                      is_plain_tree(batch->workspace->program, batch->base) && rows_hold(batch) &&
                      fans_fall(batch->base) && batch->workspace->extras == 0;
    room = room && (!batch->in_lanes || (packet_begin(batch) && vent__batch_list(batch)));
    if (!room)
        return vent__fail(err, VENT_E_MEMORY, batch->function, "", -1, NAN, NAN, NAN,
                          "%s: no memory for a network of %zu runs", batch->function, runs);
    for (int lane = 0; lane < VENT__PACK && batch->in_lanes; ++lane)
        set_lane(batch, lane);
    return true;
}

bool vent__batch_begin(vent__batch *batch, const vent_network *network, size_t inputs,
                       const vent_varied *varied, const char *function, vent_error *err)
{
    *batch = (vent__batch){.function = function, .base = network->model, .inputs = inputs};
    if (begin(batch, network, inputs, varied, err))
        return true;
    vent__batch_end(batch);
    return false;
}

void vent__batch_end(vent__batch *batch)
{
    vent_workspace_free(batch->workspace);
    vent__model_release(batch->model);
    free(batch->input);
    free(batch->value);
    free(batch->first_input);
    free(batch->laid);
    free(batch->laid_run);
    free(batch->portion);
    free(batch->junction);
    free(batch->block);
    *batch = (vent__batch){0};
}
