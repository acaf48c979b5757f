/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "network/many_inputs.h"

#include <stdlib.h>
#include <string.h>
#include <ventstack/units.h>

#include "base/fail.h"
#include "base/memory.h"
#include "network/parameter.h"
#include "network/state.h"

enum { MOST_RUNS = 20000 }; /* a packet takes 2 kB a run: beyond this, lanes gain nothing */
static const double FIRST_FRICTION = 0.022; /* as in solve.c */

/* What a parameter does. All but BY_MODEL are arithmetic on rows. */
enum {
    BY_MODEL, /* anything else: the case is written into a model and laid out */
    WIND,
    BUILDING,
    HEIGHT,
    SOIL_A,
    SOIL_B,
    FAN_SPEED,
    FAN_FACTOR,
    ROUGHNESS,
    AMOUNT /* adds its value times its unit to the losses of a segment */
};

/* ---- what a parameter does ------------------------------------------------------------------ */

static const vent__item *item_of(const vent__model *model, const vent_parameter *p)
{
    return &model->item[vent__model_item(model, p->place, p->item)];
}

/* The pipe an item's coefficient is on, and which of the run's segments that is. */
static const vent__item *pipe_of(const vent__model *model, const vent_parameter *p, int *segment)
{
    const vent__item *pipe = NULL;
    int i = model->run[p->place].first;
    *segment = -1;
    for (int rank = 0; rank <= p->item && i >= 0; ++rank, i = model->item[i].next)
        if (model->item[i].kind == VENT__PIPE) {
            pipe = &model->item[i];
            ++*segment;
        }
    return pipe;
}

static vent__loss difference(vent__loss a, vent__loss b, double by)
{
    return (vent__loss){by * (a.k0 - b.k0), by * (a.k1 - b.k1), by * (a.kf - b.kf)};
}

/* Coefficients of a unit of the parameter: of one fitting, or of a factor of 1. */
static bool unit_of_fitting(const vent__item *item, const vent__item *pipe, vent__input *input)
{
    int kind = input->varied.parameter.kind, slot = input->varied.parameter.slot;
    double bore = vent__bore(pipe->pipe);
    vent_fitting one = item->fitting, none = item->fitting;
    vent__loss along, against, along_none = {0}, against_none = {0};
    if (kind == VENT_PARAMETER_FITTING && one.family != VENT_FITTING_CONSTANT)
        return false;
    if (kind == VENT_PARAMETER_FITTING) {
        one.geometry[slot] = 1;
        none.geometry[slot] = 0;
    } else if (kind == VENT_PARAMETER_FACTOR) {
        one.factor = 1;
        none.factor = 0;
    }
    vent__fitting_loss(&one, bore, &along, &against);
    if (kind != VENT_PARAMETER_COUNT)
        vent__fitting_loss(&none, bore, &along_none, &against_none);
    double count = kind == VENT_PARAMETER_COUNT ? 1 : item->amount;
    input->along = difference(along, along_none, count);
    input->against = difference(against, against_none, count);
    return true;
}

/* A length, or how much there is of a fitting. */
static int effect_of_amount(const vent__model *model, const vent__program *program,
                            vent__input *input)
{
    const vent_parameter *p = &input->varied.parameter;
    const vent__item *item = item_of(model, p), *pipe = pipe_of(model, p, &input->segment);
    input->place = program->position[p->place];
    input->segment += program->first_segment[input->place];
    if (p->kind == VENT_PARAMETER_ROUGHNESS) {
        input->unit = 1 / vent_pipe_effective_diameter(pipe->pipe);
        return ROUGHNESS;
    }
    if (p->kind == VENT_PARAMETER_LENGTH) {
        double kf = 1 / vent_pipe_hydraulic_diameter(pipe->pipe);
        input->along.kf = input->against.kf = kf;
        return AMOUNT;
    }
    return unit_of_fitting(item, pipe, input) ? AMOUNT : BY_MODEL;
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
        return WIND;
    case VENT_PARAMETER_BUILDING_PRESSURE:
        return BUILDING;
    case VENT_PARAMETER_HEIGHT:
        return HEIGHT;
    case VENT_PARAMETER_SOIL:
        input->place = program->position[model->node[p->place].leaving];
        return p->slot ? SOIL_B : SOIL_A;
    case VENT_PARAMETER_SPEED:
    case VENT_PARAMETER_PRESSURE_FACTOR:
        input->place = number_of_fan(model, program, p);
        return p->kind == VENT_PARAMETER_SPEED ? FAN_SPEED : FAN_FACTOR;
    case VENT_PARAMETER_LENGTH:
    case VENT_PARAMETER_ROUGHNESS:
    case VENT_PARAMETER_FACTOR:
    case VENT_PARAMETER_COUNT:
    case VENT_PARAMETER_FITTING:
        return effect_of_amount(model, program, input);
    default:
        return BY_MODEL;
    }
}

static bool is_of_same_item(const vent_parameter *a, const vent_parameter *b)
{
    return a->place == b->place && a->item == b->item;
}

/* Two numbers of one fitting multiply each other: then the sum of effects does not hold. */
static bool multiply(const vent__input *a, const vent__input *b)
{
    return a->effect == AMOUNT && b->effect == AMOUNT &&
           is_of_same_item(&a->varied.parameter, &b->varied.parameter);
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
        batch->by_model |= input->effect == BY_MODEL;
        input->own = vent__parameter_value(batch->base, &varied[i].parameter);
        batch->heights_vary |= input->effect == HEIGHT;
        for (size_t j = 0; j < i && !batch->by_model; ++j)
            batch->by_model |= multiply(input, &batch->input[j]);
    }
    return no_twins(inputs, varied, batch->function, err);
}

/* ---- one case as a model -------------------------------------------------------------------- */

/* Brings the values of the network back. */
static void restore(vent__model *to, const vent__model *from)
{
    to->soil_gas = from->soil_gas;
    to->outdoors = from->outdoors;
    to->wind_pressure = from->wind_pressure;
    to->building_pressure = from->building_pressure;
    memcpy(to->node, from->node, (size_t)from->nodes * sizeof *from->node);
    memcpy(to->run, from->run, (size_t)from->runs * sizeof *from->run);
    memcpy(to->item, from->item, (size_t)from->items * sizeof *from->item);
    for (int i = 0; i < from->fans; ++i)
        to->fan[i].pressure_factor = from->fan[i].pressure_factor;
}

/* One number's bounds may hang on another's: what is refused is tried again after the others. */
bool vent__batch_store(vent__batch *batch, int lane, vent_error *err)
{
    size_t refused = batch->inputs, before;
    vent_error error = VENT_NO_ERROR;
    restore(batch->model, batch->base);
    vent__forget(batch->workspace);
    do {
        before = refused;
        refused = 0;
        error = (vent_error)VENT_NO_ERROR;
        for (size_t i = 0; i < batch->inputs; ++i) {
            const vent_parameter *p = &batch->input[i].varied.parameter;
            double value = batch->value[i].lane[lane];
            if (!vent__parameter_store(batch->model, p, value, batch->function, &error))
                ++refused;
        }
    } while (refused > 0 && refused < before);
    if (refused > 0 && err && err->status == VENT_OK)
        *err = error;
    return refused == 0;
}

/* ---- rows ----------------------------------------------------------------------------------- */

static void set_losses(vent__packet *p, int k, int lane, const vent__segment *segment)
{
    double kf[VENT__WAYS] = {0}, k0[VENT__WAYS] = {0}, k1[VENT__WAYS] = {0}, creeping = 0;
    for (int s = p->program->first_segment[k]; s < p->program->first_segment[k + 1]; ++s) {
        const vent__loss *way[VENT__WAYS] = {&segment[s].along, &segment[s].against};
        p->reynolds[s].lane[lane] = segment[s].reynolds;
        creeping = fmax(creeping, segment[s].creeping);
        for (int w = 0; w < VENT__WAYS; ++w) {
            p->friction[w][s].lane[lane] = way[w]->kf;
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

/* Q = C dP^n turned round: dP = x |x|^(1/n - 1) with x = Q / C; or dP = a Q + b Q |Q|; Q = volume m. */
static void set_soil_a(vent__packet *p, int k, int lane, double a)
{
    vent_soil *soil = &p->soil[k][lane];
    double volume = p->soil_volume.lane[lane];
    soil->a = a;
    p->soil_a[k].lane[lane] = soil->law == VENT_SOIL_POWER ? volume / a : a * volume;
}

static void set_soil_b(vent__packet *p, int k, int lane, double b)
{
    vent_soil *soil = &p->soil[k][lane];
    double volume = p->soil_volume.lane[lane];
    soil->b = b;
    p->soil_b[k].lane[lane] = soil->law == VENT_SOIL_POWER ? 1 / b - 1 : b * volume * volume;
}

static void set_soil(vent__packet *p, int k, int lane, const vent_soil *soil)
{
    p->soil[k][lane] = *soil;
    set_soil_a(p, k, lane, soil->a);
    set_soil_b(p, k, lane, soil->b);
}

/* The fan laws, in kg/s. */
static void set_fan(vent__lane_fan *fan, int lane, double density)
{
    double speed = fan->speed.lane[lane];
    fan->per_kg.lane[lane] = 1 / (density * speed);
    fan->lift.lane[lane] = fan->factor.lane[lane] * (density / fan->density) * speed * speed;
}

/* The junction a run starts at, and how it joins the one it ends at. */
static void set_junction(vent__packet *p, int k, int lane, const vent_workspace *ws)
{
    int next = p->program->next[k];
    if (p->is_lossy[k]) {
        const vent__meeting *meeting = &ws->meeting[k];
        p->factor[k].lane[lane] = meeting->law.factor;
        p->per_area[k].lane[lane] = 1 / meeting->area;
        p->inertia[k].lane[lane] = 1 / (meeting->density * meeting->area * meeting->area);
    }
    if (next >= 0 && p->is_lossy[next]) {
        vent__joining joining = vent__junction_joining(&ws->meeting[next], &ws->leg[k]);
        p->joining[k] = joining;
        p->is_straight[k] = ws->leg[k].straight;
        p->unit_axial[k].lane[lane] = joining.axial;
        p->kinetic[k].lane[lane] = joining.kinetic;
        p->most[k].lane[lane] = joining.most;
        p->fading[k].lane[lane] = joining.fading;
    }
}

/* A model and what is laid out of it, into one lane. */
static void set_lane(vent__batch *batch, int lane, const vent__model *model,
                     const vent_workspace *ws)
{
    vent__packet *p = &batch->packet;
    const vent__program *program = p->program;
    p->wind.lane[lane] = model->wind_pressure;
    batch->building_pressure.lane[lane] = model->building_pressure;
    p->soil_volume.lane[lane] = 1 / model->soil_gas.density;
    for (int k = 0; k < program->runs; ++k) {
        set_losses(p, k, lane, ws->segment);
        for (int s = program->first_segment[k]; s < program->first_segment[k + 1]; ++s)
            p->roughness[s].lane[lane] = ws->roughness[s];
        p->lift[k].lane[lane] = ws->lift[k];
        p->reference[k].lane[lane] = ws->reference[k];
        p->density[k].lane[lane] = ws->density[k];
        if (program->soil[k] >= 0)
            set_soil(p, k, lane, &model->node[program->soil[k]].soil);
        set_junction(p, k, lane, ws);
        for (int i = program->first_fan[k]; i < program->first_fan[k + 1]; ++i) {
            const vent__fan *fan = &model->fan[program->fan[i]];
            p->fan[i].speed.lane[lane] = model->item[fan->number].amount;
            p->fan[i].factor.lane[lane] = fan->pressure_factor;
            set_fan(&p->fan[i], lane, ws->density[k]);
        }
    }
}

/* ---- arithmetic on rows ---------------------------------------------------------------------- */

static void fill(vent__row *row, double value)
{
    for (int lane = 0; lane < VENT__PACK; ++lane)
        row->lane[lane] = value;
}

static void add_times(vent__row *row, double unit, const vent__row *value)
{
    for (int lane = 0; lane < VENT__PACK; ++lane)
        row->lane[lane] += unit * value->lane[lane];
}

/* The rows that an amount adds to, with what it adds for a unit and what is there without it. */
typedef struct sum_row {
    vent__row *row;
    double unit, rest;
} sum_row;

enum { SUM_ROWS = 4 * VENT__WAYS };

static void rows_of(vent__packet *p, const vent__batch *batch, const vent__input *input,
                    sum_row rows[SUM_ROWS])
{
    int k = input->place, s = input->segment;
    const vent__loss *unit[VENT__WAYS] = {&input->along, &input->against};
    const vent__loss *run[VENT__WAYS] = {&batch->run[k].along, &batch->run[k].against};
    const vent__loss *pipe[VENT__WAYS] = {&batch->segment[s].along, &batch->segment[s].against};
    for (int w = 0; w < VENT__WAYS; ++w) {
        *rows++ = (sum_row){&p->friction[w][s], unit[w]->kf, pipe[w]->kf};
        *rows++ = (sum_row){&p->fixed[w][k], unit[w]->k0, run[w]->k0};
        *rows++ = (sum_row){&p->linear[w][k], unit[w]->k1, run[w]->k1};
        *rows++ = (sum_row){&p->crude[w][k], unit[w]->k0 + FIRST_FRICTION * unit[w]->kf,
                            run[w]->k0 + FIRST_FRICTION * run[w]->kf};
    }
}

static void set_losses_of_inputs(vent__batch *batch)
{
    sum_row rows[SUM_ROWS];
    for (int adding = 0; adding < 2; ++adding)
        for (size_t i = 0; i < batch->inputs; ++i) {
            if (batch->input[i].effect != AMOUNT)
                continue;
            rows_of(&batch->packet, batch, &batch->input[i], rows);
            for (int r = 0; r < SUM_ROWS; ++r)
                if (rows[r].unit != 0) {
                    if (adding)
                        add_times(rows[r].row, rows[r].unit, &batch->value[i]);
                    else
                        fill(rows[r].row, rows[r].rest);
                }
        }
}

/* The columns of gas between nodes of which some height varies. */
static void set_lifts(vent__batch *batch)
{
    vent__model *model = batch->model;
    const vent__program *program = batch->packet.program;
    for (int lane = 0; batch->heights_vary && lane < VENT__PACK; ++lane) {
        for (size_t i = 0; i < batch->inputs; ++i)
            if (batch->input[i].effect == HEIGHT)
                model->node[batch->input[i].place].height = batch->value[i].lane[lane];
        for (int k = 0; k < program->runs; ++k)
            batch->packet.lift[k].lane[lane] = vent__lift(model, program->run[k]);
    }
}

static void set_fans(vent__batch *batch, const vent__input *input, const vent__row *value)
{
    const vent__program *program = batch->packet.program;
    vent__lane_fan *fan = &batch->packet.fan[input->place];
    int k = program->position[batch->base->fan[program->fan[input->place]].run];
    *(input->effect == FAN_SPEED ? &fan->speed : &fan->factor) = *value;
    for (int lane = 0; lane < VENT__PACK; ++lane)
        set_fan(fan, lane, batch->packet.density[k].lane[lane]);
}

static void set_rows(vent__batch *batch)
{
    set_losses_of_inputs(batch);
    set_lifts(batch);
    for (size_t i = 0; i < batch->inputs; ++i) {
        const vent__input *input = &batch->input[i];
        const vent__row *value = &batch->value[i];
        switch (input->effect) {
        case WIND:
            batch->packet.wind = *value;
            break;
        case BUILDING:
            batch->building_pressure = *value;
            break;
        case SOIL_A:
            for (int lane = 0; lane < VENT__PACK; ++lane)
                set_soil_a(&batch->packet, input->place, lane, value->lane[lane]);
            break;
        case SOIL_B:
            for (int lane = 0; lane < VENT__PACK; ++lane)
                set_soil_b(&batch->packet, input->place, lane, value->lane[lane]);
            break;
        case FAN_SPEED:
        case FAN_FACTOR:
            set_fans(batch, input, value);
            break;
        case ROUGHNESS:
            fill(&batch->packet.roughness[input->segment], 0);
            add_times(&batch->packet.roughness[input->segment], input->unit, value);
            break;
        default:
            break;
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

/* Two terms of a soil that are both zero are no soil. */
static bool is_sound(const vent__batch *batch, const vent__input *input, int lane)
{
    if (input->effect != SOIL_A && input->effect != SOIL_B)
        return true;
    const vent_soil *soil = &batch->packet.soil[input->place][lane];
    return soil->law == VENT_SOIL_POWER || soil->a + soil->b > 0;
}

static bool are_within(const vent__input *input, const vent__row *value)
{
    bool good = true;
    for (int lane = 0; lane < VENT__PACK; ++lane)
        good &= value->lane[lane] >= input->range.low && value->lane[lane] <= input->range.high;
    return good;
}

/* Looks at the values of all lanes; those of a lane that are refused become the network's own. */
static void load_rows(vent__batch *batch, int count, vent_error *error)
{
    bool good = true;
    for (size_t i = 0; i < batch->inputs; ++i)
        good &= are_within(&batch->input[i], &batch->value[i]);
    if (good)
        set_rows(batch);
    for (size_t i = 0; i < batch->inputs; ++i)
        for (int lane = 0; good && lane < count; ++lane)
            good &= is_sound(batch, &batch->input[i], lane);
    if (good)
        return;
    for (int lane = 0; lane < VENT__PACK; ++lane)
        if (lane >= count || !vent__batch_store(batch, lane, &error[lane]))
            fill_lane(batch, lane);
    restore(batch->model, batch->base);
    set_rows(batch);
}

/* Lays the cases out one by one. */
static void load_models(vent__batch *batch, int count, vent_error *error, bool *alone)
{
    for (int lane = 0; lane < count; ++lane) {
        if (!vent__batch_store(batch, lane, &error[lane])) {
            fill_lane(batch, lane);
            continue; /* whatever the lane holds is solved and thrown away */
        }
        if (!vent__lay_out(batch->workspace, batch->model)) {
            vent__fail(&error[lane], VENT_E_MEMORY, batch->function, "", -1, NAN, NAN, NAN,
                       "%s: no memory", batch->function);
            continue;
        }
        alone[lane] = batch->workspace->extras > 0;
        set_lane(batch, lane, batch->model, batch->workspace);
    }
}

static double value_of_case(const vent_varied *varied, size_t i)
{
    return varied->value[(ptrdiff_t)i * varied->stride];
}

void vent__batch_load(vent__batch *batch, size_t first, int count, vent_error *error, bool *alone)
{
    for (size_t i = 0; i < batch->inputs; ++i)
        for (int lane = 0; lane < VENT__PACK; ++lane) {
            size_t number = first + (size_t)(lane < count ? lane : count - 1);
            batch->value[i].lane[lane] = value_of_case(&batch->input[i].varied, number);
        }
    for (int lane = 0; lane < count; ++lane) {
        error[lane].status = VENT_OK;
        alone[lane] = !batch->in_lanes;
    }
    if (!batch->in_lanes) {
        for (int lane = 0; lane < count; ++lane)
            vent__batch_store(batch, lane, &error[lane]);
        return;
    }
    if (batch->by_model)
        load_models(batch, count, error, alone);
    else
        load_rows(batch, count, error);
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

static void place_all(vent__packet *p, shelf *on, size_t runs, size_t segments, size_t fans,
                      bool lossy)
{
    vent__row **of_segments[] = {&p->reynolds,    &p->roughness, &p->friction[0],
                                 &p->friction[1], &p->y,         &p->y_rise};
    vent__row **of_runs[] = {
        &p->fixed[0], &p->fixed[1],   &p->linear[0],  &p->linear[1],    &p->crude[0],
        &p->crude[1], &p->lift,       &p->reference,  &p->creeping,     &p->density,
        &p->soil_a,   &p->soil_b,     &p->flow,       &p->origin,       &p->loss,
        &p->slope,    &p->start,      &p->source,     &p->source_slope, &p->weight,
        &p->step,     &p->joint,      &p->by_leg,     &p->by_combined,  &p->by_axial,
        &p->axial,    &p->order[0],   &p->order[1],   &p->order[2],     &p->order[3],
        &p->order[4], &p->soil_order, &p->found_flow, &p->found_start};
    for (size_t i = 0; i < sizeof of_segments / sizeof *of_segments; ++i)
        *of_segments[i] = place(on, segments, sizeof(vent__row));
    for (size_t i = 0; i < sizeof of_runs / sizeof *of_runs; ++i)
        *of_runs[i] = place(on, runs, sizeof(vent__row));
    p->soil = place(on, runs, sizeof *p->soil);
    p->is_lossy = place(on, runs, sizeof *p->is_lossy);
    p->fan = place(on, fans, sizeof *p->fan);
    p->joining = place(on, runs, sizeof *p->joining);
    p->is_straight = place(on, runs, sizeof *p->is_straight);
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
    place_all(p, &memory, runs, segments, fans, lossy);
    batch->block = calloc(1, memory.used + 128);
    if (!batch->block)
        return false;
    memory.at = batch->block + (128 - (uintptr_t)batch->block % 128);
    memory.used = 0;
    place_all(p, &memory, runs, segments, fans, lossy);
    p->program = program;
    for (int k = 0; k < program->runs; ++k)
        p->is_lossy[k] = has_losses(model, program, k);
    for (int i = 0; i < program->fans; ++i) {
        const vent_fan *fan = batch->model->fan[program->fan[i]].fan;
        vent__lane_fan *lane = &p->fan[i];
        lane->curve = vent__fan_curve(fan);
        lane->shut_off = vent_fan_shut_off(fan);
        lane->most = vent_fan_free_delivery(fan);
        lane->density = vent_fan_density(fan);
        for (int l = 0; l < VENT__PACK; ++l) {
            lane->low.lane[l] = INFINITY;
            lane->high.lane[l] = -INFINITY;
        }
    }
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

static void add_loss(vent__loss *sum, const vent__loss *part)
{
    sum->k0 += part->k0;
    sum->k1 += part->k1;
    sum->kf += part->kf;
}

/* No links, no soil that couples suction points. */
static bool is_plain_tree(const vent__program *program)
{
    return program->links == 0 && program->couplings == 0;
}

/* Lays the network out with the varied amounts at zero, and keeps that. */
static bool keep_rest(vent__batch *batch)
{
    vent_workspace *ws = batch->workspace;
    const vent__program *program = ws->program;
    size_t segments = (size_t)program->segments;
    vent_error refused = VENT_NO_ERROR;
    for (size_t i = 0; i < batch->inputs; ++i)
        if (batch->input[i].effect == AMOUNT)
            vent__parameter_store(batch->model, &batch->input[i].varied.parameter, 0,
                                  batch->function, &refused);
    batch->by_model |= refused.status != VENT_OK; /* a coefficient that may not be zero */
    vent__forget(ws);
    if (!vent__resize(&batch->segment, segments, sizeof *batch->segment) ||
        !vent__resize(&batch->run, (size_t)program->runs, sizeof *batch->run) ||
        !vent__lay_out(ws, batch->model))
        return false;
    memcpy(batch->segment, ws->segment, segments * sizeof *ws->segment);
    for (int k = 0; k < program->runs; ++k) {
        batch->run[k] = (vent__both){0};
        for (int s = program->first_segment[k]; s < program->first_segment[k + 1]; ++s) {
            add_loss(&batch->run[k].along, &ws->segment[s].along);
            add_loss(&batch->run[k].against, &ws->segment[s].against);
        }
    }
    restore(batch->model, batch->base);
    vent__forget(ws);
    for (size_t i = 0; i < batch->inputs; ++i) {
        vent__input *input = &batch->input[i];
        if (input->effect != AMOUNT)
            continue;
        const vent__segment *s = &batch->segment[input->segment];
        vent__loss *way[VENT__WAYS] = {&input->along, &input->against};
        for (int w = 0; w < VENT__WAYS; ++w) {
            way[w]->k0 *= s->inertia;
            way[w]->kf *= s->inertia;
            way[w]->k1 *= s->inertia / s->reynolds;
        }
    }
    return true;
}

static bool begin(vent__batch *batch, const vent_network *network, size_t inputs,
                  const vent_varied *varied, vent_error *err)
{
    batch->workspace = vent_workspace_new(network, err);
    if (!batch->workspace)
        return false;
    size_t runs = (size_t)batch->workspace->program->runs;
    batch->model = vent__model_copy(batch->base);
    bool room = batch->model && vent__resize(&batch->input, inputs + 1, sizeof *batch->input) &&
                vent__resize(&batch->value, inputs + 1, sizeof *batch->value);
    if (room && !take_inputs(batch, network, inputs, varied, err))
        return false;
    batch->in_lanes =
        runs <= MOST_RUNS && is_plain_tree(batch->workspace->program) && fans_fall(batch->base);
    room = room && keep_rest(batch) && vent__lay_out(batch->workspace, batch->model);
    if (room)
        batch->in_lanes &= batch->by_model || batch->workspace->extras == 0;
    room = room && (!batch->in_lanes || packet_begin(batch));
    if (!room)
        return vent__fail(err, VENT_E_MEMORY, batch->function, "", -1, NAN, NAN, NAN,
                          "%s: no memory for a network of %zu runs", batch->function, runs);
    for (int lane = 0; lane < VENT__PACK && batch->in_lanes; ++lane)
        set_lane(batch, lane, batch->model, batch->workspace);
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
    free(batch->segment);
    free(batch->run);
    free(batch->block);
    *batch = (vent__batch){0};
}
