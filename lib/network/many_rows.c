/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From the values of the varied parameters to the rows of a packet. Pipes are laid out as rows; a
 * coefficient that a factor or a count alone varies is arithmetic on rows too, and only one whose shape
 * or bore varies is asked for lane by lane. Compiled once for each instruction set; the loops over lanes
 * are left to the compiler. */
#include <math.h>
#include <string.h>
#include <ventstack/units.h>

#include "network/many_inputs.h"
#include "network/parameter.h"
#include "network/state.h"

#define PASTE(name, isa)    name##_##isa
#define SUFFIXED(name, isa) PASTE(name, isa)
#define ISA(name)           SUFFIXED(name, VENT_ISA)

/* As in solve.c */
static const double LEAST_REYNOLDS = 1e-3, FIRST_FRICTION = 0.022, FIRST_VELOCITY = 3.0;
static const double ROUGHEST = 0.1 * (1 + 1e-9); /* of a pipe's effective diameter, as in model.c */

#define EACH_LANE(lane)                                                                            \
    int lane = 0;                                                                                  \
    lane < VENT__PACK;                                                                             \
    ++lane

static void fill(vent__row *row, double value)
{
    for (EACH_LANE(l))
        row->lane[l] = value;
}

/* The values of an input, or the network's own where there is none. */
static vent__row values_of(const vent__batch *batch, int32_t input, double own)
{
    vent__row row;
    if (input != VENT__NONE)
        return batch->value[input];
    fill(&row, own);
    return row;
}

/* ---- air and heights -------------------------------------------------------------------------- */

/* Writes one lane's airs and heights into the model. */
static bool store_air(vent__batch *batch, int lane)
{
    vent__model *model = batch->model;
    bool good = true;
    if (batch->air_varies) {
        model->soil_gas = batch->base->soil_gas;
        model->outdoors = batch->base->outdoors;
        memcpy(model->run, batch->base->run, (size_t)model->runs * sizeof *model->run);
    }
    for (size_t i = 0; i < batch->inputs; ++i) {
        const vent__input *input = &batch->input[i];
        double value = batch->value[i].lane[lane];
        if (input->effect == VENT__TO_HEIGHT)
            model->node[input->place].height = value;
        else if (input->effect == VENT__TO_AIR)
            good &= vent__parameter_store(model, &input->varied.parameter, value, batch->function,
                                          NULL);
    }
    return good;
}

static bool set_airs(vent__batch *batch)
{
    vent__packet *p = &batch->packet;
    bool good = true;
    if (!batch->air_varies && !batch->heights_vary)
        return true;
    for (EACH_LANE(lane)) {
        good &= store_air(batch, lane);
        p->soil_volume.lane[lane] = 1 / batch->model->soil_gas.density;
        for (int k = 0; k < p->program->runs; ++k) {
            const vent__run *run = &batch->model->run[p->program->run[k]];
            p->density[k].lane[lane] = run->density;
            batch->viscosity[k].lane[lane] = run->viscosity;
            p->lift[k].lane[lane] = vent__lift(batch->model, p->program->run[k]);
        }
    }
    return good;
}

/* ---- soil and fans ----------------------------------------------------------------------------- */

/* Q = C dP^n turned round: dP = x |x|^(1/n - 1) with x = Q / C; or dP = a Q + b Q |Q|; Q = volume m.
 * False where both of two terms are zero: that is no soil. */
static bool set_soil(vent__batch *batch, int k)
{
    vent__packet *p = &batch->packet;
    int node = p->program->soil[k];
    const vent_soil *own = &batch->base->node[node].soil;
    const vent__row *volume = &p->soil_volume;
    vent__row a = values_of(batch, VENT__NONE, own->a), b = values_of(batch, VENT__NONE, own->b);
    for (int i = vent__first_of_node(batch, node); i != VENT__NONE; i = batch->input[i].next) {
        if (batch->input[i].effect == VENT__TO_SOIL_A)
            a = batch->value[i];
        if (batch->input[i].effect == VENT__TO_SOIL_B)
            b = batch->value[i];
    }
    int good = 1;
    for (EACH_LANE(l)) {
        p->soil[k][l].a = a.lane[l];
        p->soil[k][l].b = b.lane[l];
        good &= a.lane[l] + b.lane[l] > 0;
    }
    if (own->law == VENT_SOIL_POWER)
        for (EACH_LANE(l)) {
            p->soil_a[k].lane[l] = volume->lane[l] / a.lane[l];
            p->soil_b[k].lane[l] = 1 / b.lane[l] - 1;
        }
    else
        for (EACH_LANE(l)) {
            p->soil_a[k].lane[l] = a.lane[l] * volume->lane[l];
            p->soil_b[k].lane[l] = b.lane[l] * volume->lane[l] * volume->lane[l];
        }
    return good;
}

/* The fan laws, in kg/s. */
static void set_fan(vent__batch *batch, int number)
{
    const vent__program *program = batch->packet.program;
    vent__lane_fan *fan = &batch->packet.fan[number];
    int k = program->position[batch->base->fan[program->fan[number]].run];
    const vent__row *density = &batch->packet.density[k];
    double per_density = 1 / fan->density;
    for (EACH_LANE(l)) {
        double speed = fan->speed.lane[l];
        fan->per_kg.lane[l] = 1 / (density->lane[l] * speed);
        fan->lift.lane[l] = fan->factor.lane[l] * (density->lane[l] * per_density) * speed * speed;
    }
}

/* As vent__wind() has it. */
static void set_wind(vent__batch *batch)
{
    const vent__model *base = batch->base;
    vent__row everywhere = values_of(batch, VENT__NONE, base->wind_pressure),
              dynamic = values_of(batch, VENT__NONE, base->wind_dynamic_pressure),
              coefficient =
                  values_of(batch, VENT__NONE, base->node[base->discharge].pressure_coefficient);
    for (size_t i = 0; i < batch->inputs; ++i) {
        int kind = batch->input[i].varied.parameter.kind;
        if (batch->input[i].effect == VENT__TO_WIND)
            *(kind == VENT_PARAMETER_WIND_PRESSURE           ? &everywhere
              : kind == VENT_PARAMETER_WIND_DYNAMIC_PRESSURE ? &dynamic
                                                             : &coefficient) = batch->value[i];
    }
    for (EACH_LANE(l))
        batch->packet.wind.lane[l] = everywhere.lane[l] + coefficient.lane[l] * dynamic.lane[l];
}

static bool set_soils_and_fans(vent__batch *batch)
{
    vent__packet *p = &batch->packet;
    bool good = true, all = batch->air_varies || !batch->is_set;
    for (int k = 0; all && k < p->program->runs; ++k)
        if (p->program->soil[k] >= 0)
            good &= set_soil(batch, k);
    for (size_t i = 0; i < batch->inputs; ++i) {
        const vent__input *input = &batch->input[i];
        switch (input->effect) {
        case VENT__TO_WIND:
            set_wind(batch);
            break;
        case VENT__TO_BUILDING:
            batch->building_pressure = batch->value[i];
            break;
        case VENT__TO_SOIL_A:
        case VENT__TO_SOIL_B:
            good = good && (all || set_soil(batch, input->place));
            break;
        case VENT__TO_SPEED:
        case VENT__TO_FAN_FACTOR:
            *(input->effect == VENT__TO_SPEED ? &p->fan[input->place].speed
                                              : &p->fan[input->place].factor) = batch->value[i];
            if (!all)
                set_fan(batch, input->place);
            break;
        default:
            break;
        }
    }
    for (int i = 0; all && i < p->program->fans; ++i)
        set_fan(batch, i);
    batch->is_set = true;
    return good;
}

/* ---- coefficients ------------------------------------------------------------------------------ */

/* Coefficients in all lanes. */
typedef struct row_loss {
    vent__row k0, k1, kf;
} row_loss;

static void fill_loss(row_loss *row, vent__loss loss)
{
    fill(&row->k0, loss.k0);
    fill(&row->k1, loss.k1);
    fill(&row->kf, loss.kf);
}

static void add_row(vent__row *sum, const vent__row *count, const vent__row *scale, double plain,
                    double unit)
{
    if (plain != 0 || unit != 0)
        for (EACH_LANE(l))
            sum->lane[l] += count->lane[l] * (plain + scale->lane[l] * unit);
}

/* A shaped portion's part, to be given each lane's numbers in turn. */
typedef struct shaped {
    int32_t part;
    vent__item to; /* of a transition: the pipe it leads into */
    vent_fitting fitting;
    vent_termination termination;
    bool by_geometry; /* which has to be looked at again */
} shaped;

static shaped part_of(const vent__batch *batch, const vent__portion *portion)
{
    shaped part = {.part = portion->part};
    if (part.part == VENT__PART_TERMINATION) {
        part.termination = batch->base->node[portion->number].termination;
    } else if (part.part == VENT__PART_TRANSITION) {
        part.to = batch->base->item[portion->number];
        part.fitting = vent__transition(&part.to);
    } else {
        part.fitting = batch->base->item[portion->number].fitting;
    }
    return part;
}

static void set_number(shaped *part, const vent_parameter *p, double value)
{
    switch (p->kind) {
    case VENT_PARAMETER_FITTING:
        part->fitting.geometry[p->slot] = value;
        part->by_geometry = true;
        break;
    case VENT_PARAMETER_TERMINATION:
        part->termination.geometry[p->slot] = value;
        part->by_geometry = true;
        break;
    case VENT_PARAMETER_FACTOR:
        part->fitting.factor = value;
        break;
    case VENT_PARAMETER_TERMINATION_FACTOR:
        part->termination.factor = value;
        break;
    case VENT_PARAMETER_TRANSITION_ANGLE:
        part->to.transition_angle = value;
        part->fitting = vent__transition(&part->to);
        break;
    default:
        break;
    }
}

/* Its coefficients; false where its numbers may not stand together. */
static bool loss_of(const shaped *part, double bore, const char *function, vent__both *loss)
{
    vent__loss *along = &loss->way[VENT__ALONG], *against = &loss->way[VENT__AGAINST];
    if (part->part == VENT__PART_TERMINATION) {
        vent__termination_loss(&part->termination, bore, along, against);
        return !part->by_geometry || vent__termination_check(&part->termination, function, NULL);
    }
    vent__fitting_loss(&part->fitting, bore, along, against);
    return !part->by_geometry || vent__fitting_check(&part->fitting, function, NULL);
}

/* A shaped portion on segment s, lane by lane. */
static bool add_shaped(const vent__batch *batch, const vent__portion *portion, int s,
                       row_loss sum[VENT__WAYS], bool *alone)
{
    vent__row count = values_of(batch, portion->count, portion->own_count);
    shaped part = part_of(batch, portion);
    bool good = true;
    for (EACH_LANE(lane)) {
        vent__both loss;
        for (int i = portion->varied; i != VENT__NONE; i = batch->input[i].next)
            set_number(&part, &batch->input[i].varied.parameter, batch->value[i].lane[lane]);
        if (part.part == VENT__PART_TRANSITION)
            part.fitting.geometry[0] = batch->bore[s + 1].lane[lane];
        good &= loss_of(&part, batch->bore[s].lane[lane], batch->function, &loss);
        if (part.part == VENT__PART_FITTING && part.by_geometry)
            alone[lane] |= vent__fitting_opening_pressure(&part.fitting) > 0;
        for (int w = 0; w < VENT__WAYS; ++w) {
            sum[w].k0.lane[lane] += count.lane[lane] * loss.way[w].k0;
            sum[w].k1.lane[lane] += count.lane[lane] * loss.way[w].k1;
            sum[w].kf.lane[lane] += count.lane[lane] * loss.way[w].kf;
        }
    }
    return good;
}

static void add_scaled(const vent__batch *batch, const vent__portion *portion,
                       row_loss sum[VENT__WAYS])
{
    vent__row count = values_of(batch, portion->count, portion->own_count);
    vent__row scale = values_of(batch, portion->scale, 0);
    for (int w = 0; w < VENT__WAYS; ++w) {
        vent__loss plain = portion->plain.way[w], unit = portion->unit.way[w];
        add_row(&sum[w].k0, &count, &scale, plain.k0, unit.k0);
        add_row(&sum[w].k1, &count, &scale, plain.k1, unit.k1);
        add_row(&sum[w].kf, &count, &scale, plain.kf, unit.kf);
    }
}

/* ---- pipes -------------------------------------------------------------------------------------- */

/* A pipe in all lanes. */
typedef struct pipe_rows {
    vent__row length, per_hydraulic, per_effective, roughness, area, per_reynolds;
} pipe_rows;

static void shape_rectangular(const vent__batch *batch, const vent__laid *laid, pipe_rows *rows)
{
    vent_pipe pipe = batch->base->item[laid->item].pipe;
    vent__row width = values_of(batch, laid->width, pipe.width);
    vent__row depth = values_of(batch, laid->depth, pipe.depth);
    for (EACH_LANE(l)) {
        pipe.width = width.lane[l];
        pipe.depth = depth.lane[l];
        rows->area.lane[l] = vent_pipe_area(pipe);
        rows->per_hydraulic.lane[l] = 1 / vent_pipe_hydraulic_diameter(pipe);
        rows->per_effective.lane[l] = 1 / vent_pipe_effective_diameter(pipe);
        batch->bore[laid->segment].lane[l] = vent__bore(pipe);
    }
}

static void shape_round(const vent__batch *batch, const vent__laid *laid, pipe_rows *rows)
{
    vent__row bore = values_of(batch, laid->width, batch->base->item[laid->item].pipe.width);
    for (EACH_LANE(l)) {
        rows->area.lane[l] = VENT_PI / 4 * (bore.lane[l] * bore.lane[l]);
        rows->per_hydraulic.lane[l] = rows->per_effective.lane[l] = 1 / bore.lane[l];
    }
    batch->bore[laid->segment] = bore;
}

/* A segment whose bore or air varies. */
static void shape_pipe(vent__batch *batch, const vent__laid *laid, pipe_rows *rows)
{
    vent__packet *p = &batch->packet;
    int s = laid->segment, k = laid->run;
    if (batch->base->item[laid->item].pipe.shape == VENT_PIPE_ROUND)
        shape_round(batch, laid, rows);
    else
        shape_rectangular(batch, laid, rows);
    for (EACH_LANE(l)) {
        double area = rows->area.lane[l], density = p->density[k].lane[l];
        batch->inertia[s].lane[l] = 1 / (2 * density * area * area);
        rows->per_reynolds.lane[l] =
            rows->per_effective.lane[l] * batch->viscosity[k].lane[l] * area;
        p->reynolds[laid->pipe].lane[l] = 1 / rows->per_reynolds.lane[l];
    }
    if (s == p->program->first_segment[k])
        for (EACH_LANE(l))
            p->reference[k].lane[l] = FIRST_VELOCITY * p->density[k].lane[l] * rows->area.lane[l];
}

/* The bores first, as a change of bore asks for that of the next pipe; false for walls too rough. */
static bool set_pipe(vent__batch *batch, const vent__laid *laid, pipe_rows *rows)
{
    const vent__item *item = &batch->base->item[laid->item];
    rows->length = values_of(batch, laid->length, item->amount);
    rows->roughness = values_of(batch, laid->roughness, item->pipe.roughness);
    if (laid->is_shaped) {
        shape_pipe(batch, laid, rows);
    } else {
        fill(&rows->per_hydraulic, laid->per_hydraulic);
        fill(&rows->per_effective, laid->per_effective);
        fill(&rows->per_reynolds, laid->per_reynolds);
    }
    if (!laid->is_shaped && laid->roughness == VENT__NONE)
        return true;
    vent__row *relative = &batch->packet.roughness[laid->pipe];
    int good = 1;
    for (EACH_LANE(l)) {
        relative->lane[l] = rows->roughness.lane[l] * rows->per_effective.lane[l];
        good &= relative->lane[l] <= ROUGHEST;
    }
    return good;
}

/* ---- segments and runs ------------------------------------------------------------------------- */

/* Sums over a run, in pascals of a kg/s. */
typedef struct run_rows {
    row_loss way[VENT__WAYS];
    vent__row creeping;
} run_rows;

static bool lay_segment(vent__batch *batch, const vent__laid *laid, const pipe_rows *pipe,
                        run_rows *run, bool *alone)
{
    int s = laid->segment;
    const vent__row *inertia = &batch->inertia[s], *per_reynolds = &pipe->per_reynolds;
    row_loss sum[VENT__WAYS];
    bool good = true;
    for (int w = 0; w < VENT__WAYS; ++w)
        fill_loss(&sum[w], laid->rest.way[w]);
    for (int i = laid->first; i < laid->end; ++i)
        if (batch->portion[i].is_shaped)
            good &= add_shaped(batch, &batch->portion[i], s, sum, alone);
        else
            add_scaled(batch, &batch->portion[i], sum);
    for (int w = 0; w < VENT__WAYS; ++w) {
        vent__row *all = &batch->packet.friction[w][laid->pipe];
        if (laid->is_first)
            fill(all, batch->friction[laid->pipe][w]);
        for (EACH_LANE(l)) {
            double m = inertia->lane[l],
                   length_ratio = pipe->length.lane[l] * pipe->per_hydraulic.lane[l];
            double friction = m * (sum[w].kf.lane[l] + length_ratio);
            all->lane[l] += friction;
            run->way[w].kf.lane[l] += friction;
            run->way[w].k0.lane[l] += m * sum[w].k0.lane[l];
            run->way[w].k1.lane[l] += m * per_reynolds->lane[l] * sum[w].k1.lane[l];
        }
    }
    for (EACH_LANE(l)) {
        double creeping = LEAST_REYNOLDS * per_reynolds->lane[l];
        run->creeping.lane[l] = run->creeping.lane[l] > creeping ? run->creeping.lane[l] : creeping;
    }
    return good;
}

static bool lay_run(vent__batch *batch, const vent__laid_run *of, bool *alone)
{
    vent__packet *p = &batch->packet;
    pipe_rows pipe[2];
    run_rows run;
    int k = of->run;
    bool good = true;
    for (int w = 0; w < VENT__WAYS; ++w)
        fill_loss(&run.way[w], of->rest.way[w]);
    fill(&run.creeping, of->creeping);
    for (int i = of->first; i < of->end; ++i) {
        bool first = i == of->first, last = i == of->end - 1;
        if (first)
            good &= set_pipe(batch, &batch->laid[i], &pipe[i % 2]);
        if (!last) /* a change of bore asks for the bore of the next pipe */
            good &= set_pipe(batch, &batch->laid[i + 1], &pipe[(i + 1) % 2]);
        good &= lay_segment(batch, &batch->laid[i], &pipe[i % 2], &run, alone);
    }
    for (int w = 0; w < VENT__WAYS; ++w) {
        p->fixed[w][k] = run.way[w].k0;
        p->linear[w][k] = run.way[w].k1;
        for (EACH_LANE(l))
            p->crude[w][k].lane[l] = run.way[w].k0.lane[l] + FIRST_FRICTION * run.way[w].kf.lane[l];
    }
    p->creeping[k] = run.creeping;
    return good;
}

/* ---- junctions --------------------------------------------------------------------------------- */

static double *junction_number(vent_junction *junction, int kind)
{
    return kind == VENT_PARAMETER_JUNCTION_ANGLE ? &junction->angle : &junction->factor;
}

/* One lane of the junction where run k starts: written into the workspace and the model, and laid out. */
static void set_junction(vent__batch *batch, int k, int lane)
{
    vent__packet *p = &batch->packet;
    const vent__program *program = p->program;
    vent_workspace *ws = batch->workspace;
    int node = batch->base->run[program->run[k]].from, first = program->first_segment[k];
    for (int i = vent__first_of_node(batch, node); i != VENT__NONE; i = batch->input[i].next)
        if (batch->input[i].effect == VENT__TO_PART)
            *junction_number(&batch->model->node[node].junction,
                             batch->input[i].varied.parameter.kind) = batch->value[i].lane[lane];
    ws->density[k] = p->density[k].lane[lane];
    ws->segment[first].inertia = batch->inertia[first].lane[lane];
    for (int j = vent__last_leg(program, k); j >= 0; j = vent__leg_before(program, k, j)) {
        int last = program->first_segment[j + 1] - 1;
        ws->segment[last].inertia = batch->inertia[last].lane[lane];
        batch->model->run[program->run[j]].density = p->density[j].lane[lane];
    }
    vent__lay_out_junction(ws, batch->model, k);
    vent__set_junction(p, k, lane, ws);
}

/* ---- all of it ---------------------------------------------------------------------------------- */

bool ISA(vent__rows_set)(vent__batch *batch, bool *alone)
{
    bool good = set_airs(batch);
    good &= set_soils_and_fans(batch);
    for (int i = 0; i < batch->laid_runs; ++i)
        good &= lay_run(batch, &batch->laid_run[i], alone);
    for (int i = 0; i < batch->junctions; ++i)
        for (EACH_LANE(lane))
            set_junction(batch, batch->junction[i], lane);
    return good;
}
