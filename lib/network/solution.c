/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading a solution: every number follows from the flows, the pressures at the starts of the runs
 * and the model they were solved for. */
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <ventstack/units.h>

#include "base/fail.h"
#include "base/text.h"
#include "network/state.h"

static const double NEAR_SHUT_OFF = 0.9,
                    LITTLE_FLOW = 0.2;                     /* of shut-off pressure, free delivery */
static const double DRAIN_BACK_VELOCITY = 2000 * VENT_FPM; /* m/s */
static const double COMPRESSIBLE_PRESSURE = 2000;          /* Pa */
static const double LAMINAR_REYNOLDS = 2000, TURBULENT_REYNOLDS = 4000;
static const double LEAST_REYNOLDS = 1e-3; /* below it f grows beyond bounds while f V^2 vanishes */
static const double STILL = 1e-9;          /* kg/s: less than that is no flow to warn of */

static bool has_run(const vent_solution *s, int run)
{
    return s && run >= 0 && run < s->model->runs;
}

static bool has_node(const vent_solution *s, int node)
{
    return s && node >= 0 && node < s->model->nodes;
}

static int position_of(const vent_solution *s, int run)
{
    return s->program->position[run];
}

/* ---- walking along a run ------------------------------------------------------------------ */

vent__walk vent__walk_begin(const vent_solution *s, int position)
{
    int run = s->program->run[position];
    return (vent__walk){.solution = s,
                        .position = position,
                        .run = run,
                        .rank = -1,
                        .pressure = s->start[position],
                        .next_item = s->model->run[run].first};
}

/* Velocity, Reynolds number and friction factor in the walk's pipe. */
static void enter_pipe(vent__walk *walk, const vent__item *pipe)
{
    const vent__run *run = &walk->solution->model->run[walk->run];
    double flow = walk->solution->flow[walk->position];
    double area = vent_pipe_area(pipe->pipe);
    double per_metre = fabs(flow) / (run->viscosity * area);
    double effective = vent_pipe_effective_diameter(pipe->pipe);
    double slope;
    walk->pipe = pipe;
    walk->velocity = flow / (run->density * area);
    walk->velocity_pressure = run->density * walk->velocity * walk->velocity / 2;
    walk->reynolds = per_metre * vent_pipe_hydraulic_diameter(pipe->pipe);
    vent__friction(fmax(per_metre * effective, LEAST_REYNOLDS), pipe->pipe.roughness / effective,
                   &walk->friction, &slope);
}

static double signed_loss(const vent__walk *walk, double k)
{
    return copysign(k * walk->velocity_pressure, walk->velocity);
}

/* Reynolds number as the solver's law sees it: on the effective diameter, signed with the flow. */
static double law_reynolds(const vent__walk *walk)
{
    double ratio = vent_pipe_effective_diameter(walk->pipe->pipe) /
                   vent_pipe_hydraulic_diameter(walk->pipe->pipe);
    return copysign(fmax(walk->reynolds * ratio, LEAST_REYNOLDS), walk->velocity);
}

static void visit_fitting(vent__walk *walk, const vent_fitting *fitting, double count)
{
    walk->coefficient = vent__fitting_state(fitting, vent__bore(walk->pipe->pipe),
                                            law_reynolds(walk), walk->friction);
    walk->loss =
        signed_loss(walk, walk->coefficient.value * count) +
        count * vent__fitting_opening_pressure(fitting) * vent__opening_share(walk->velocity).value;
}

static void visit_transition(vent__walk *walk, const vent__item *to)
{
    vent_fitting change = vent__transition(to);
    walk->part = VENT__PART_TRANSITION;
    visit_fitting(walk, &change, to->transition_count);
}

static void visit_fan(vent__walk *walk)
{
    const vent__model *model = walk->solution->model;
    double density = model->run[walk->run].density;
    double flow = walk->solution->flow[walk->position] / density;
    const vent__fan *fan = &model->fan[walk->item->fan];
    double off = vent__fitting_count(walk->item);
    walk->part = VENT__PART_FAN;
    walk->loss = 0;
    if (off > 0)
        visit_fitting(walk, &walk->item->fitting, off);
    walk->loss -= vent__fan_share(model, walk->item->fan) *
                  vent_fan_pressure(fan->fan, flow, density, walk->item->amount);
}

static void visit_item(vent__walk *walk)
{
    const vent__item *item = walk->item;
    switch (item->kind) {
    case VENT__PIPE:
        enter_pipe(walk, item);
        walk->part = VENT__PART_PIPE;
        walk->loss = signed_loss(walk, walk->friction * item->amount /
                                           vent_pipe_hydraulic_diameter(item->pipe));
        break;
    case VENT__FITTING:
        walk->part = VENT__PART_FITTING;
        visit_fitting(walk, &item->fitting, item->amount);
        break;
    default:
        visit_fan(walk);
    }
}

static void visit_termination(vent__walk *walk)
{
    const vent__model *model = walk->solution->model;
    const vent_termination *t = &model->node[model->run[walk->run].to].termination;
    walk->part = VENT__PART_TERMINATION;
    walk->item = NULL;
    walk->coefficient = vent__termination_state(t, vent__bore(walk->pipe->pipe), law_reynolds(walk),
                                                walk->friction);
    walk->loss = signed_loss(walk, walk->coefficient.value);
}

bool vent__walk_next(vent__walk *walk)
{
    const vent__model *model = walk->solution->model;
    const vent__run *run = &model->run[walk->run];
    if (walk->ended)
        return false;
    if (walk->next_item < 0) {
        walk->ended = true;
        if (model->node[run->to].kind != VENT__DISCHARGE)
            return false;
        ++walk->rank;
        visit_termination(walk);
    } else {
        walk->item = &model->item[walk->next_item];
        bool change = walk->item->kind == VENT__PIPE && walk->pipe && !walk->changed;
        walk->rank += !walk->changed;
        walk->changed = change;
        if (change) {
            visit_transition(walk, walk->item);
        } else {
            visit_item(walk);
            walk->next_item = walk->item->next;
        }
    }
    walk->pressure -= walk->loss;
    return true;
}

double vent__lift(const vent__model *model, int run)
{
    const vent__run *r = &model->run[run];
    double rise = model->node[r->to].height - model->node[r->from].height;
    return (model->outdoors.density - r->density) * VENT_GRAVITY * rise;
}

/* ---- flows -------------------------------------------------------------------------------- */

double vent_solution_mass_flow(const vent_solution *s, int run)
{
    return has_run(s, run) ? s->flow[position_of(s, run)] : NAN;
}

double vent_solution_density(const vent_solution *s, int run)
{
    return has_run(s, run) ? s->model->run[run].density : NAN;
}

double vent_solution_flow(const vent_solution *s, int run)
{
    return vent_solution_mass_flow(s, run) / vent_solution_density(s, run);
}

double vent_solution_standard_flow(const vent_solution *s, int run)
{
    return vent_solution_mass_flow(s, run) / VENT_STANDARD_DENSITY;
}

/* The state in the narrowest pipe of a run. */
static vent__walk narrowest(const vent_solution *s, int position)
{
    vent__walk walk = vent__walk_begin(s, position), least = walk;
    while (vent__walk_next(&walk))
        if (walk.part == VENT__PART_PIPE && !(fabs(walk.velocity) <= fabs(least.velocity)))
            least = walk;
        else if (!least.pipe)
            least = walk;
    return least;
}

double vent_solution_velocity(const vent_solution *s, int run)
{
    return has_run(s, run) ? narrowest(s, position_of(s, run)).velocity : NAN;
}

double vent_solution_reynolds(const vent_solution *s, int run)
{
    return has_run(s, run) ? narrowest(s, position_of(s, run)).reynolds : NAN;
}

double vent_solution_discharge_flow(const vent_solution *s)
{
    double sum = s ? 0 : NAN;
    for (int i = 0; s && i < s->program->roots; ++i)
        sum += vent_solution_flow(s, s->program->run[s->program->root[i]]);
    return sum;
}

/* The pipe a run ends with. */
static const vent__item *last_pipe(const vent__model *model, int run)
{
    const vent__item *pipe = NULL;
    for (int i = model->run[run].first; i >= 0; i = model->item[i].next)
        if (model->item[i].kind == VENT__PIPE)
            pipe = &model->item[i];
    return pipe;
}

/* Greatest velocity with which the air of one run leaves. */
static double exit_velocity(const vent_solution *s, int run)
{
    vent_stream stream[8];
    int streams =
        vent_termination_streams(s->model->node[s->model->run[run].to].termination, stream);
    double area = vent_pipe_area(last_pipe(s->model, run)->pipe), fastest = 0;
    for (int i = 0; i < streams; ++i)
        fastest = fmax(fastest, stream[i].share / stream[i].area_ratio);
    return fastest * fmax(vent_solution_flow(s, run), 0) / area;
}

double vent_solution_exit_velocity(const vent_solution *s)
{
    double fastest = s ? 0 : NAN;
    for (int i = 0; s && i < s->program->roots; ++i)
        fastest = fmax(fastest, exit_velocity(s, s->program->run[s->program->root[i]]));
    return fastest;
}

/* ---- pressures ---------------------------------------------------------------------------- */

/* Total pressure at a node against outdoors at the same height. */
static double node_pressure(const vent_solution *s, int node)
{
    int leaving = s->model->node[node].leaving;
    return leaving >= 0 ? s->start[position_of(s, leaving)] : vent__wind(s->model, node);
}

double vent_solution_pressure(const vent_solution *s, int node)
{
    return has_node(s, node) ? node_pressure(s, node) - s->model->building_pressure : NAN;
}

double vent_solution_absolute_pressure(const vent_solution *s, int node)
{
    if (!has_node(s, node))
        return NAN;
    const vent_air *outdoors = &s->model->outdoors;
    return outdoors->pressure - outdoors->density * VENT_GRAVITY * s->model->node[node].height +
           node_pressure(s, node);
}

/* The column of gas is spread over the length of the run's pipes. */
static double column_until(const vent_solution *s, int run, int item)
{
    double all = 0, until = 0;
    int rank = 0;
    for (int i = s->model->run[run].first; i >= 0; i = s->model->item[i].next, ++rank)
        if (s->model->item[i].kind == VENT__PIPE) {
            all += s->model->item[i].amount;
            until += rank <= item ? s->model->item[i].amount : 0;
        }
    double share = all > 0 ? until / all : item >= s->model->run[run].count - 1;
    return vent__lift(s->model, run) * share;
}

double vent_solution_static_pressure(const vent_solution *s, int run, int item)
{
    if (!has_run(s, run) || item < -1 || item >= s->model->run[run].count)
        return NAN;
    vent__walk walk = vent__walk_begin(s, position_of(s, run));
    double total = walk.pressure, velocity_pressure = NAN;
    while (vent__walk_next(&walk) && walk.part != VENT__PART_TERMINATION) {
        if (walk.rank > item && walk.pipe && !isnan(velocity_pressure))
            break;
        velocity_pressure = walk.velocity_pressure;
        if (walk.rank <= item)
            total = walk.pressure;
    }
    return total + column_until(s, run, item) - velocity_pressure - s->model->building_pressure;
}

/* ---- junctions ---------------------------------------------------------------------------- */

/* What a junction is to the run that leaves it. */
static vent__meeting meeting_at(const vent_solution *s, int k)
{
    const vent__run *run = &s->model->run[s->program->run[k]];
    if (s->model->node[run->from].junction.law != VENT_JUNCTION_LOSSLESS)
        return s->meeting[k];
    double area = vent_pipe_area(s->model->item[run->first].pipe);
    return vent__meeting_of(s->model->node[run->from].junction, area, run->density);
}

vent__joined vent__joined_at(const vent_solution *s, int k)
{
    const vent__model *model = s->model;
    const vent__program *program = s->program;
    int run = program->run[k], next = program->next[k];
    vent__walk end = vent__walk_begin(s, k);
    while (vent__walk_next(&end))
        continue;
    const vent__meeting meeting = meeting_at(s, next);
    vent__leg leg = vent__leg_of(&meeting, model->run[run].rank, vent_pipe_area(end.pipe->pipe),
                                 model->run[run].density);
    double velocity = s->flow[next] / (meeting.density * meeting.area);
    vent__joined joined = {
        .loss = end.pressure + vent__lift(model, run) - s->start[next],
        .velocity_pressure = meeting.density * velocity * velocity / 2,
    };
    if (s->flow[next] != 0)
        joined.coefficient =
            vent__junction_state(&meeting, &leg, s->flow[k], s->flow[next], s->sums[next]);
    return joined;
}

vent__joined vent__outlet_at(const vent_solution *s, int k)
{
    const vent__model *model = s->model;
    int outlet = s->program->outlet[s->program->link[k] - 1], next = s->program->next[outlet];
    const vent__run *run = &model->run[s->program->run[k]];
    const vent__meeting meeting = meeting_at(s, next);
    int rank = model->node[run->from].arriving + run->link - 1;
    double area = vent_pipe_area(model->item[run->first].pipe);
    vent__leg leg = vent__leg_of(&meeting, rank, area, run->density);
    double velocity = s->flow[next] / (meeting.density * meeting.area);
    vent__joined joined = {
        .loss = s->start[next] - s->start[k],
        .velocity_pressure = meeting.density * velocity * velocity / 2,
    };
    if (s->flow[next] != 0) {
        joined.coefficient =
            vent__junction_state(&meeting, &leg, s->flow[outlet], s->flow[next], s->sums[next]);
        joined.coefficient.value = -joined.coefficient.value; /* from the junction into the leg */
    }
    return joined;
}

/* ---- fans --------------------------------------------------------------------------------- */

int vent_solution_fan_count(const vent_solution *s)
{
    return s ? s->model->fans : 0;
}

/* What a fan takes from the air's pressure: less than nothing while it runs. */
static double fan_loss(const vent_solution *s, const vent__fan *fan)
{
    vent__walk walk = vent__walk_begin(s, position_of(s, fan->run));
    while (vent__walk_next(&walk))
        if (walk.rank == fan->item)
            return walk.loss;
    return NAN;
}

bool vent_solution_fan(const vent_solution *s, int number, vent_fan_point *point)
{
    if (!s || !point || number < 0 || number >= s->model->fans)
        return false;
    const vent__fan *fan = &s->model->fan[number];
    double speed = s->model->item[fan->number].amount;
    double density = s->model->run[fan->run].density;
    double flow = vent_solution_flow(s, fan->run);
    double factor = vent__fan_share(s->model, number);
    double pressure = -fan_loss(s, fan),
           shut_off = factor * vent_fan_pressure(fan->fan, 0, density, speed);
    bool off = vent__fan_is_off(s->model, number);
    *point = (vent_fan_point){
        .run = fan->run,
        .item = fan->item,
        .flow = flow,
        .pressure = pressure,
        .density = density,
        .power = off ? 0 : vent_fan_power(fan->fan, flow, density, speed),
        .air_power = flow * pressure,
        .shut_off = shut_off,
        .free_delivery = off ? NAN : vent_fan_free_delivery(fan->fan) * speed,
        .shut_off_share = off ? NAN : pressure / shut_off,
        .slope = factor * vent_fan_slope(fan->fan, flow, density, speed),
    };
    return true;
}

int vent__root_of(const vent_solution *s, int discharge)
{
    for (int i = 0; i < s->program->roots; ++i)
        if (s->model->run[s->program->run[s->program->root[i]]].to == discharge)
            return s->program->root[i];
    return -1;
}

double vent__mean_fan_pressure(const vent_solution *s)
{
    double sum = 0, through = 0;
    for (int i = 0; i < s->program->roots; ++i)
        through += fmax(s->flow[s->program->root[i]], 0);
    for (int i = 0; i < s->program->openings; ++i) /* all that leaves, by leaks too */
        through += fmax(-s->flow[s->program->opening[i]], 0);
    for (int i = 0; i < s->model->fans; ++i) {
        vent_fan_point point;
        vent_solution_fan(s, i, &point);
        if (!vent__fan_is_off(s->model, i))
            sum += point.pressure * vent_solution_mass_flow(s, point.run);
    }
    return s->model->fans && through != 0 ? sum / through : NAN;
}

vent_convergence vent_solution_convergence(const vent_solution *s)
{
    return s ? s->convergence : (vent_convergence){0, 0, NAN, NAN, NAN, NAN};
}

/* ---- warnings ----------------------------------------------------------------------------- */

/* Counts warnings, and keeps the one that was asked for. */
typedef struct collector {
    const vent_solution *solution;
    size_t count, wanted;
    vent_warning *kept; /* NULL allowed */
    int turn;           /* of what is told now */
    uint32_t flags;
} collector;

/* What blows out comes first, remarks after all that matters more. */
enum { TURNS = 3 };
static int turn_of(uint32_t flag)
{
    return flag == VENT_WARN_BLOWS_OUT ? 0 : flag == VENT_WARN_NEAR_RANGE ? 2 : 1;
}

static void warn(collector *c, uint32_t flag, int run, int item, double value, double limit,
                 const char *format, ...)
#if defined(__GNUC__)
    __attribute__((format(printf, 7, 8)))
#endif
    ;

static void warn(collector *c, uint32_t flag, int run, int item, double value, double limit,
                 const char *format, ...)
{
    if (turn_of(flag) != c->turn)
        return;
    c->flags |= flag;
    if (c->count++ != c->wanted || !c->kept)
        return;
    *c->kept =
        (vent_warning){.flag = flag, .run = run, .item = item, .value = value, .limit = limit};
    va_list list;
    va_start(list, format);
    vsnprintf(c->kept->message, sizeof c->kept->message, format, list);
    va_end(list);
}

static void warn_of_fan(collector *c, int number)
{
    vent_fan_point at;
    vent_solution_fan(c->solution, number, &at);
    const vent__fan *fan = &c->solution->model->fan[number];
    const char *name = vent_fan_name(fan->fan);
    char flow[VENT__BOTH_ROOM], more[VENT__BOTH_ROOM];
    if (vent__fan_is_off(c->solution->model, number)) {
        warn(c, VENT_WARN_FAN_OFF, at.run, at.item, at.flow, 0,
             at.flow < -STILL
                 ? "fan '%.40s' is off and air goes backwards through it: %s, which it "
                   "resists with %s"
                 : "fan '%.40s' is off: %s goes through it, which it resists with %s",
             name, vent__in_both(fabs(at.flow), "m3/s", flow),
             vent__in_both(fabs(at.pressure), "Pa", more));
        return;
    }
    double speed = c->solution->model->item[fan->number].amount, least, most;
    vent_fan_range(fan->fan, &least, &most);
    least *= speed;
    most *= speed;
    if (!(at.flow >= least && at.flow <= most))
        warn(c, VENT_WARN_FAN_EXTRAPOLATED, at.run, at.item, at.flow,
             at.flow < least ? least : most,
             "fan '%.40s' works at %s, beyond its data, which end at %s", name,
             vent__in_both(at.flow, "m3/s", flow),
             vent__in_both(at.flow < least ? least : most, "m3/s", more));
    if (at.flow < 0)
        warn(c, VENT_WARN_FAN_NEAR_SHUT_OFF, at.run, at.item, at.shut_off_share, NEAR_SHUT_OFF,
             "fan '%.40s' is overcome: air goes backwards through it", name);
    else if (at.pressure < 0)
        warn(c, VENT_WARN_FAN_DRIVEN, at.run, at.item, at.flow, at.free_delivery,
             "fan '%.40s' is driven by the air, beyond its free delivery of %s: it resists with %s",
             name, vent__in_both(at.free_delivery, "m3/s", flow),
             vent__in_both(-at.pressure, "Pa", more));
    else if (at.shut_off_share > NEAR_SHUT_OFF && at.flow < LITTLE_FLOW * at.free_delivery)
        warn(
            c, VENT_WARN_FAN_NEAR_SHUT_OFF, at.run, at.item, at.shut_off_share, NEAR_SHUT_OFF,
            "fan '%.40s' works at %.0f %% of its shut-off pressure and moves %s, little of what it "
            "could",
            name, 100 * at.shut_off_share, vent__in_both(at.flow, "m3/s", flow));
    if (at.slope > 0)
        warn(c, VENT_WARN_FAN_RISING, at.run, at.item, at.slope, 0,
             "fan '%.40s' works where its pressure rises with flow: it may hunt or stall", name);
    else if (!vent_fan_is_falling(fan->fan))
        warn(c, VENT_WARN_FAN_MAY_HUNT, at.run, at.item, at.flow, NAN,
             "the curve of fan '%.40s' rises somewhere: it may meet the system at other flows too",
             name);
}

static void warn_of_pipe(collector *c, const vent__walk *at, const char *name)
{
    double speed = fabs(at->velocity);
    char is[VENT__BOTH_ROOM], limit[VENT__BOTH_ROOM];
    if (speed > DRAIN_BACK_VELOCITY)
        warn(c, VENT_WARN_DRAIN_BACK, at->run, at->rank, speed, DRAIN_BACK_VELOCITY,
             "run '%.40s': %s is above %s: condensate may not drain back", name,
             vent__in_both(speed, "m/s", is), vent__in_both(DRAIN_BACK_VELOCITY, "m/s", limit));
    if (at->reynolds > LAMINAR_REYNOLDS && at->reynolds < TURBULENT_REYNOLDS)
        warn(c, VENT_WARN_TRANSITIONAL, at->run, at->rank, at->reynolds, TURBULENT_REYNOLDS,
             "run '%.40s': Reynolds number %.0f lies between laminar and turbulent flow: friction "
             "is uncertain",
             name, at->reynolds);
}

static const double NEAR_RANGE = 1.1; /* a Reynolds number outside by less than this is a remark */

/* Whether the coefficient of a part leaves its source's range at so many times the Reynolds number. */
static bool is_outside(const vent__walk *at, double times)
{
    const vent__model *model = at->solution->model;
    double bore = vent__bore(at->pipe->pipe), reynolds = times * law_reynolds(at);
    if (at->part == VENT__PART_TERMINATION)
        return vent__termination_state(&model->node[model->run[at->run].to].termination, bore,
                                       reynolds, at->friction)
                   .flags != 0;
    vent_fitting part =
        at->part == VENT__PART_FITTING ? at->item->fitting : vent__transition(at->item);
    return vent__fitting_state(&part, bore, reynolds, at->friction).flags != 0;
}

/* The Reynolds number at which a range ends that ends near; NaN where none does. */
static double range_end(const vent__walk *at)
{
    double in = !is_outside(at, NEAR_RANGE) ? NEAR_RANGE : 1 / NEAR_RANGE, out = 1;
    if (is_outside(at, in))
        return NAN;
    for (int i = 0; i < 40; ++i) {
        double middle = (in + out) / 2;
        *(is_outside(at, middle) ? &out : &in) = middle;
    }
    return in * at->reynolds;
}

static void warn_of_coefficient(collector *c, const vent__walk *at, const char *name)
{
    int top = c->solution->model->node[c->solution->model->run[at->run].to].termination.family;
    const char *part = at->part == VENT__PART_FITTING ? vent_fitting_name(at->item->fitting.family)
                       : at->part == VENT__PART_TRANSITION ? "a change of bore"
                                                           : vent_termination_name(top);
    double end = range_end(at);
    if (!isnan(end))
        warn(c, VENT_WARN_NEAR_RANGE, at->run, at->rank, at->reynolds, end,
             "run '%.40s': a Reynolds number of %.0f is just outside the range of the coefficient "
             "of "
             "%s, which ends at %.0f",
             name, at->reynolds, part, end);
    else
        warn(c, VENT_WARN_COEFFICIENT_RANGE, at->run, at->rank, at->coefficient.value, NAN,
             "run '%.40s': the coefficient of %s is used outside its source's range%s (Reynolds "
             "number %.0f)",
             name, part,
             at->coefficient.flags & VENT_COEFFICIENT_GEOMETRY_OUTSIDE ? " of geometry"
                                                                       : " of Reynolds number",
             at->reynolds);
}

static void warn_of_run(collector *c, int k)
{
    const vent_solution *s = c->solution;
    int run = s->program->run[k];
    const char *name = vent__run_name(s->model, run);
    double greatest = fabs(s->start[k]);
    char said[VENT__BOTH_ROOM];
    double backwards = -s->flow[k] / s->model->run[run].density;
    const vent__run *r = &s->model->run[run];
    if (s->flow[k] < -STILL)
        warn(c, VENT_WARN_REVERSED, run, -1, s->flow[k], 0, "run '%.40s' flows backwards: %s", name,
             vent__in_both(backwards, "m3/s", said));
    if (s->flow[k] < -STILL && s->model->node[r->from].kind == VENT__OPENING)
        warn(
            c, VENT_WARN_BLOWS_OUT, run, -1, s->flow[k], 0,
            vent__faces_room(s->model, r->from)
                ? "'%.40s' blows %s of the stack's air into the room: mend it before the fan runs"
                : "'%.40s' blows %s of the stack's air out of doors, where no discharge is planned",
            vent__node_name(s->model, r->from), vent__in_both(backwards, "m3/s", said));
    double pit = s->model->node[r->from].height, edge = s->model->node[r->to].height;
    if (r->stub && pit != edge)
        warn(c, VENT_WARN_PIT_LEVEL, run, -1, pit, edge,
             "'%.40s' is at %.4g m (%.4g ft), its edge '%.40s' where leaks come in at %.4g m (%.4g "
             "ft): move the edge too",
             vent__node_name(s->model, r->from), pit, pit / VENT_FOOT,
             vent__node_name(s->model, r->to), edge, edge / VENT_FOOT);
    vent__walk at = vent__walk_begin(s, k);
    while (vent__walk_next(&at)) {
        greatest = fmax(greatest, fabs(at.pressure));
        if (at.part == VENT__PART_PIPE && !vent__is_seep(s->model, run))
            warn_of_pipe(c, &at, name);
        else if (at.part != VENT__PART_PIPE && at.part != VENT__PART_FAN && at.coefficient.flags &&
                 fabs(s->flow[k]) > STILL)
            warn_of_coefficient(c, &at, name);
    }
    if (s->model->node[s->model->run[run].to].kind == VENT__JUNCTION && fabs(s->flow[k]) > STILL) {
        vent__joined joined = vent__joined_at(s, k);
        if (joined.coefficient.flags)
            warn(c, VENT_WARN_COEFFICIENT_RANGE, run, -1, joined.coefficient.value, NAN,
                 "run '%.40s': the coefficient of its leg of '%.40s' is used outside its source's "
                 "range of geometry or of ways to flow",
                 name, vent__node_name(s->model, s->model->run[run].to));
    }
    if (greatest > COMPRESSIBLE_PRESSURE)
        warn(c, VENT_WARN_COMPRESSIBLE, run, -1, greatest, COMPRESSIBLE_PRESSURE,
             "run '%.40s' sees %s: density is taken at the outdoor pressure, which is off by %.1f "
             "%%",
             name, vent__in_both(greatest, "Pa", said),
             100 * greatest / s->model->outdoors.pressure);
}

static void collect(collector *c)
{
    for (c->turn = 0; c->turn < TURNS; ++c->turn) {
        for (int i = 0; i < c->solution->model->fans; ++i)
            warn_of_fan(c, i);
        for (int k = 0; k < c->solution->program->runs; ++k)
            if (c->solution->program->link[k] >= 0)
                warn_of_run(c, k);
    }
}

uint32_t vent_solution_flags(const vent_solution *solution)
{
    if (!solution)
        return 0;
    collector c = {.solution = solution};
    collect(&c);
    return c.flags;
}

size_t vent_solution_warning_count(const vent_solution *solution)
{
    if (!solution)
        return 0;
    collector c = {.solution = solution};
    collect(&c);
    return c.count;
}

bool vent_solution_warning(const vent_solution *solution, size_t index, vent_warning *warning)
{
    if (!solution || !warning)
        return false;
    collector c = {.solution = solution, .wanted = index, .kept = warning};
    collect(&c);
    return index < c.count;
}
