/* SPDX-License-Identifier: GPL-3.0-or-later */
/* All flows at which a fan and the rest of the network agree.
 *
 * In place of the fan a falling straight line is put; where the network meets it is one point of the
 * system's curve, exactly, for one solve. A line through a point of the fan's curve that falls more
 * steeply than the fan anywhere meets the system at the end of a stretch that holds no point.
 * What the system takes grows with flow; where it may not, it is looked at more often, to see that. So
 * where the fan's curve falls, the signs at two flows tell whether there is a point between; where it rises, a stretch is ruled out if the fan's values there and
 * the system's at its ends do not overlap, and is halved otherwise. */
#include <ventstack/points.h>

#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "base/text.h"
#include "base/memory.h"
#include "network/newton.h"
#include "network/step.h"
#include "physics/fan_turns.h"

_Static_assert(sizeof(vent_operating_point) == 48, "vent_operating_point is frozen");

static const double FINEST = 1.0 / 4096; /* of a stretch, down to which it is halved */
static const double TOUCH = 1e-10; /* of the greatest pressure: curves that near each other touch */
static const double MEET = 1e-9;  /* likewise: what is left over at a crossing, else it is a jump */
static const double DONE = 1e-12; /* likewise: below it some more tries, while they help */
static const double SAME_POINT = 1e-8;  /* likewise: what a caller's point may be off */
static const double SAME_FLOW = 1e-6;   /* of the greatest flow: points whose flows agree are one */
static const double STALL_MARGIN = 1.1; /* of the flow up to which the curve rises */
static const double STEEPER = 20; /* than the system: its line meets it near the flow aimed at */
static const double PART = 1e-2; /* of the fan's greatest slope: curves that part so do not touch */
/* Of a stretch, which is split at 0.1 to 0.9: a system that grows is met within 1/STEEPER of it from
 * there, so farther from its ends than that. */
static const double NEAR_END = 0.04;
static const int LOOKS = 16; /* parts of the data in which a system is seen that may not grow */

/* A point of the system's curve. */
typedef struct sample {
    double flow;   /* m3/s through the fan */
    double system; /* Pa it takes */
    double excess; /* Pa the fan makes above that */
    bool shut;     /* no point lies between it and the next but where their signs differ */
} sample;

typedef struct found {
    vent_operating_point point;
    double *mass_flow; /* [runs] */
} found;

typedef struct search {
    vent_workspace *ws;
    vent__model *model;
    const char *function;
    vent_error *err;
    bool may_fall; /* the system: a junction that loses pressure, or soil that is shared */
    bool is_sure;  /* nothing was seen that the reasoning does not hold for */
    found *found;
    int founds, found_room;
    /* the fan that is followed */
    int fan, k; /* position of its run */
    double density, speed, factor;
    double least, greatest; /* m3/s of its data */
    double pressure_scale;  /* Pa, greatest of its curve */
    double steepest;        /* Pa s/m3, greatest slope of its curve, either sign */
    double stall_flow;      /* m3/s, NaN where it falls everywhere */
    double *turn;           /* [turns] m3/s: between two of them it does not turn */
    int turns;
    sample *sample;
    int samples, sample_room;
} search;

static bool out_of_memory(search *s)
{
    return vent__fail(s->err, VENT_E_MEMORY, s->function, "", -1, NAN, NAN, NAN, "%s: no memory",
                      s->function);
}

/* ---- the fan ------------------------------------------------------------------------------ */

static vent__slope fan_at(const search *s, double flow)
{
    vent__slope law = vent__fan_law(s->model->fan[s->fan].fan, flow, s->density, s->speed);
    return (vent__slope){s->factor * law.value, s->factor * law.slope};
}

/* Ends of the curve's pieces, and where it turns or is steepest in between. */
static bool find_turns(search *s)
{
    const vent_fan *fan = s->model->fan[s->fan].fan;
    size_t turns = vent__fan_turns(fan, 0, NULL);
    if (!vent__resize(&s->turn, turns, sizeof *s->turn))
        return out_of_memory(s);
    vent__fan_turns(fan, turns, s->turn);
    for (size_t i = 0; i < turns; ++i)
        s->turn[i] *= s->speed;
    s->turns = (int)turns;
    return true;
}

static bool rises(const search *s, int stretch)
{
    return fan_at(s, s->turn[stretch + 1]).value > fan_at(s, s->turn[stretch]).value;
}

static bool follow(search *s, int fan)
{
    const vent__fan *placed = &s->model->fan[fan];
    s->fan = fan;
    s->k = s->ws->program->position[placed->run];
    s->density = s->model->run[placed->run].density;
    s->speed = s->model->item[placed->number].amount;
    s->factor = vent__fan_share(s->model, fan);
    vent_fan_range(placed->fan, &s->least, &s->greatest);
    s->least *= s->speed;
    s->greatest *= s->speed;
    s->pressure_scale = s->steepest = 0;
    s->stall_flow = NAN;
    s->samples = 0;
    if (!find_turns(s))
        return false;
    for (int i = 0; i < s->turns; ++i) {
        vent__slope law = fan_at(s, s->turn[i]);
        s->pressure_scale = fmax(s->pressure_scale, fabs(law.value));
        s->steepest = fmax(s->steepest, fabs(law.slope));
        if (i + 1 < s->turns && rises(s, i))
            s->stall_flow = s->turn[i + 1];
    }
    /* a fan of no pressure still needs a line that falls */
    s->pressure_scale = fmax(s->pressure_scale, 1e-6);
    s->steepest = fmax(s->steepest, s->pressure_scale / (s->greatest - s->least));
    return true;
}

/* First of the turns above a flow. */
static int turn_above(const search *s, double flow)
{
    int low = 0, high = s->turns;
    while (low < high) {
        int middle = low + (high - low) / 2;
        if (s->turn[middle] > flow)
            high = middle;
        else
            low = middle + 1;
    }
    return low;
}

/* The fan's curve between two flows. */
typedef struct stretch {
    double low, high; /* Pa, least and greatest value */
    bool rises;       /* somewhere */
    double narrowest; /* m3/s, of the stretches of the curve it touches */
    double split;     /* m3/s: the turn nearest the middle, or the middle */
} stretch;

static stretch stretch_of(const search *s, double from, double to)
{
    double a = fan_at(s, from).value, b = fan_at(s, to).value;
    double middle = from + (to - from) / 2;
    stretch all = {fmin(a, b), fmax(a, b), false, INFINITY, middle};
    double nearest = 0.4 * (to - from); /* a turn nearer to an end than that is not split at */
    for (int i = turn_above(s, from); i < s->turns; ++i) {
        if (i > 0) {
            all.rises |= rises(s, i - 1);
            all.narrowest = fmin(all.narrowest, s->turn[i] - s->turn[i - 1]);
        }
        if (!(s->turn[i] < to))
            break;
        double value = fan_at(s, s->turn[i]).value, away = fabs(s->turn[i] - middle);
        all.low = fmin(all.low, value);
        all.high = fmax(all.high, value);
        if (away < nearest) {
            nearest = away;
            all.split = s->turn[i];
        }
    }
    return all;
}

/* ---- the system --------------------------------------------------------------------------- */

/* Where the system meets a line that passes a flow at a pressure and falls. */
static bool meet(search *s, double flow, double pressure, double stiffness, sample *at)
{
    vent_convergence c;
    s->ws->forced = (vent__forced){s->fan, flow, pressure, stiffness};
    bool solved = vent__solve(s->ws, s->model, s->function, &c, s->err);
    s->ws->forced.fan = -1;
    if (!solved)
        return false;
    at->flow = s->ws->flow[s->k] / s->density;
    at->system = pressure + stiffness * (flow - at->flow);
    at->excess = fan_at(s, at->flow).value - at->system;
    at->shut = false;
    return true;
}

/* A point of the system's curve near a flow between two others. */
static bool meet_between(search *s, const sample *a, const sample *b, double flow, sample *at)
{
    double chord = (b->system - a->system) / (b->flow - a->flow);
    double stiffness = fmax(STEEPER * fabs(chord), 1e-3 * s->steepest);
    return meet(s, flow, a->system + chord * (flow - a->flow), stiffness, at);
}

static bool is_between(const sample *at, const sample *a, const sample *b)
{
    return at->flow > a->flow && at->flow < b->flow;
}

static bool keep_sample(search *s, sample at)
{
    if (!vent__reserve(&s->sample, &s->sample_room, s->samples, sizeof at))
        return out_of_memory(s);
    s->sample[s->samples++] = at;
    return true;
}

static bool same_sign(const sample *a, const sample *b)
{
    return (a->excess < 0) == (b->excess < 0);
}

/* Whether the values of fan and system between two samples do not overlap. */
static bool is_apart(const search *s, const sample *a, const sample *b)
{
    stretch fan = stretch_of(s, a->flow, b->flow);
    return fan.high < a->system || fan.low > b->system;
}

/* Keeps the samples from a up to b but b itself, as near to each other as it takes. */
static bool divide(search *s, sample a, const sample *b)
{
    stretch fan = stretch_of(s, a.flow, b->flow);
    bool grows = a.system <= b->system + TOUCH * s->pressure_scale;
    s->is_sure &= grows;
    bool is_seen = !s->may_fall || b->flow - a.flow <= (s->greatest - s->least) / LOOKS;
    a.shut = grows && is_seen && (!fan.rises || is_apart(s, &a, b));
    if (a.shut || b->flow - a.flow <= FINEST * fan.narrowest)
        return keep_sample(s, a);
    sample middle;
    if (!meet_between(s, &a, b, fan.split, &middle))
        return false;
    double part = (middle.flow - a.flow) / (b->flow - a.flow);
    if (part > NEAR_END && part < 1 - NEAR_END)
        return divide(s, a, &middle) && divide(s, middle, b);
    s->is_sure = false;
    return keep_sample(s, a);
}

/* ---- points ------------------------------------------------------------------------------- */

/* Slope of a line through a point that meets no other, as even a system that falls is not so steep. */
static double steep(const search *s, double flow, double pressure)
{
    double chord = fabs(pressure / flow);
    return STEEPER * (flow != 0 ? fmax(s->steepest, chord) : s->steepest);
}

/* Slope of the system's curve through a point of it. */
static bool system_slope(search *s, const sample *at, double *slope)
{
    double step = 1e-4 * fmax(fabs(at->flow), 1e-3 * s->greatest);
    sample below, above;
    if (!meet(s, at->flow - step, at->system, steep(s, at->flow, at->system), &below) ||
        !meet(s, at->flow + step, at->system, steep(s, at->flow, at->system), &above))
        return false;
    *slope = (above.system - below.system) / (above.flow - below.flow);
    return true;
}

static uint32_t flags_of(const search *s, double flow, uint32_t flags)
{
    if (flow < STALL_MARGIN * s->stall_flow)
        flags |= VENT_POINT_NEAR_STALL;
    if (!(flow >= s->least && flow <= s->greatest))
        flags |= VENT_POINT_EXTRAPOLATED;
    return flags;
}

static bool is_same(const search *s, const double *mass_flow, const double *other)
{
    double difference = 0, greatest = 0;
    for (int k = 0; k < s->ws->program->runs; ++k) {
        difference = fmax(difference, fabs(mass_flow[k] - other[k]));
        greatest = fmax(greatest, fabs(mass_flow[k]));
    }
    return difference <= SAME_FLOW * greatest;
}

/* Adds a point, unless another fan led to it before. */
static bool add_point(search *s, const sample *at, uint32_t flags)
{
    sample again;
    double slope;
    if (!meet(s, at->flow, at->system, steep(s, at->flow, at->system), &again))
        return false;
    for (int i = 0; i < s->founds; ++i)
        if (s->found[i].point.fan != s->fan && is_same(s, s->found[i].mass_flow, s->ws->flow))
            return true;
    double *mass_flow =
        vent__duplicate(s->ws->flow, (size_t)s->ws->program->runs, sizeof *mass_flow);
    if (!mass_flow || !vent__reserve(&s->found, &s->found_room, s->founds, sizeof *s->found)) {
        free(mass_flow);
        return out_of_memory(s);
    }
    s->found[s->founds++] = (found){.mass_flow = mass_flow};
    if (!system_slope(s, at, &slope))
        return false;
    s->is_sure &= slope >= -1e-6 * s->steepest; /* but for rounding */
    vent__slope fan = fan_at(s, at->flow);
    s->found[s->founds - 1].point = (vent_operating_point){
        .fan = s->fan,
        .flags = flags_of(s, at->flow, flags),
        .flow = at->flow,
        .pressure = fan.value,
        .fan_slope = fan.slope,
        .system_slope = slope,
        .stall_flow = s->stall_flow,
    };
    return true;
}

/* The crossing between two samples of different sign: secants, for which an end that stays twice counts
 * half (Dowell and Jarratt 1971), and every fourth time the middle. */
static bool cross(search *s, sample a, sample b)
{
    enum { MOST = 200, HALVE = 4, MOST_IDLE = 8 };
    uint32_t stable = a.excess < 0 ? 0u : VENT_POINT_STABLE;
    double share_a = 1, share_b = 1;
    int was_left = -1; /* neither */
    sample best = fabs(a.excess) < fabs(b.excess) ? a : b;
    for (int i = 1, idle = 0; i < MOST && idle < MOST_IDLE && best.excess != 0; ++i) {
        double weight_a = share_a * fabs(a.excess), weight_b = share_b * fabs(b.excess);
        double part = i % HALVE == 0 ? 0.5 : weight_a / (weight_a + weight_b);
        double aim = a.flow + part * (b.flow - a.flow);
        sample at;
        if (!(aim > a.flow && aim < b.flow))
            break;
        if (!meet_between(s, &a, &b, aim, &at))
            return false;
        bool better = fabs(at.excess) < fabs(best.excess);
        int is_left = same_sign(&at, &a);
        if (better)
            best = at;
        idle = better || fabs(best.excess) > DONE * s->pressure_scale ? 0 : idle + 1;
        if (!is_between(&at, &a, &b))
            break;
        *(is_left ? &a : &b) = at;
        share_a = is_left || was_left != is_left ? 1 : share_a / 2;
        share_b = !is_left || was_left != is_left ? 1 : share_b / 2;
        was_left = is_left;
    }
    if (fabs(best.excess) <= MEET * s->pressure_scale)
        return add_point(s, &best, stable);
    s->is_sure = false; /* the system jumps here */
    return true;
}

/* The least distance of the curves about a sample that is nearer than its neighbours: two crossings, one
 * touch or nothing. */
static bool approach(search *s, sample low, sample middle, sample high)
{
    enum { MOST = 100 };
    const double golden = 0.381966;
    for (int i = 0; i < MOST; ++i) {
        bool left = middle.flow - low.flow > high.flow - middle.flow;
        const sample *end = left ? &low : &high;
        double width = end->flow - middle.flow;
        sample at;
        if (fabs(width) <= 1e-7 * s->greatest)
            break;
        if (is_apart(s, &low, &high))
            return true;
        bool met = left ? meet_between(s, &low, &middle, middle.flow + golden * width, &at)
                        : meet_between(s, &middle, &high, middle.flow + golden * width, &at);
        if (!met)
            return false;
        if (!is_between(&at, left ? &low : &middle, left ? &middle : &high))
            break;
        if (!same_sign(&at, &middle))
            return left ? cross(s, low, at) && cross(s, at, middle)
                        : cross(s, middle, at) && cross(s, at, high);
        if (fabs(at.excess) < fabs(middle.excess)) {
            *(left ? &high : &low) = middle;
            middle = at;
        } else {
            *(left ? &low : &high) = at;
        }
    }
    return fabs(middle.excess) > TOUCH * s->pressure_scale ||
           add_point(s, &middle, VENT_POINT_TOUCHING);
}

/* Looks about a sample for curves that come near each other where nothing rules a point out. */
static bool approach_about(search *s, int i)
{
    const sample *at = &s->sample[i];
    const sample *low = i > 0 && !at[-1].shut ? at - 1 : at;
    const sample *high = i + 1 < s->samples && !at->shut ? at + 1 : at;
    bool nearest = low != high && same_sign(low, at) && same_sign(high, at) &&
                   fabs(at->excess) <= fabs(low->excess) && fabs(at->excess) <= fabs(high->excess);
    bool again = i > 0 && low == at - 1 && at->excess == low->excess; /* a level stretch: once */
    return !nearest || again || approach(s, *low, *at, *high);
}

/* The straight continuation of the curve past an end of the data, where it falls. */
static bool add_beyond(search *s, double end)
{
    vent__slope line = fan_at(s, end);
    sample at;
    return meet(s, end, line.value, -line.slope, &at) && add_point(s, &at, VENT_POINT_STABLE);
}

static bool crossings(search *s)
{
    for (int i = 0; i < s->samples; ++i) {
        if (!approach_about(s, i))
            return false;
        if (i + 1 < s->samples && !same_sign(&s->sample[i], &s->sample[i + 1]) &&
            !cross(s, s->sample[i], s->sample[i + 1]))
            return false;
    }
    return true;
}

/* A pair of crossings nearer to each other than can be told apart is one touch. */
static void merge_pairs(search *s, int first)
{
    for (int i = first; i + 1 < s->founds; ++i) {
        vent_operating_point *a = &s->found[i].point, *b = &s->found[i + 1].point;
        if (!(fabs(b->flow - a->flow) <= 1e-9 * s->greatest))
            continue;
        bool part = fabs(a->system_slope - a->fan_slope) > PART * s->steepest; /* one, seen twice */
        a->flags &= b->flags | ~(uint32_t)VENT_POINT_STABLE;
        a->flags |= part ? 0u : VENT_POINT_TOUCHING;
        found *gone = &s->found[i + 1];
        free(gone->mass_flow);
        --s->founds;
        memmove(gone, gone + 1, (size_t)(s->founds - i - 1) * sizeof *gone);
    }
}

static bool find_along(search *s, int fan)
{
    sample low, high;
    int first = s->founds;
    if (!follow(s, fan))
        return false;
    vent__slope from = fan_at(s, s->least), to = fan_at(s, s->greatest);
    if (!meet(s, s->least, from.value, 2 * s->steepest, &low) ||
        !meet(s, s->greatest, to.value, 2 * s->steepest, &high))
        return false;
    s->may_fall = s->ws->knots > 0 || s->ws->program->couplings > 0;
    if (low.flow < s->least && from.slope < 0 && !add_beyond(s, s->least))
        return false;
    if (low.flow < high.flow && !(divide(s, low, &high) && keep_sample(s, high) && crossings(s)))
        return false;
    merge_pairs(s, first);
    return !(high.flow > s->greatest && to.slope < 0) || add_beyond(s, s->greatest);
}

/* ---- all of them -------------------------------------------------------------------------- */

static bool may_rise(const search *s, int fan)
{
    return !vent_fan_is_falling(s->model->fan[fan].fan);
}

static bool find_all(search *s, int fan)
{
    int rising = 0, rising_besides = 0;
    for (int i = 0; i < s->model->fans; ++i) {
        rising += may_rise(s, i);
        rising_besides += i != fan && may_rise(s, i);
    }
    if (fan != VENT_EVERY_FAN) {
        s->is_sure = rising_besides == 0;
        return find_along(s, fan);
    }
    s->is_sure = rising <= 1;
    for (int i = 0; i < s->model->fans; ++i)
        if ((rising ? may_rise(s, i) : i == 0) && !find_along(s, i))
            return false;
    return true;
}

static bool begin(search *s, const vent_network *network, vent_workspace *ws, int fan)
{
    vent__model *model = network->model;
    if (ws->program->shape != model->shape)
        return vent__fail(s->err, VENT_E_STALE, s->function, "workspace", -1, NAN, NAN, NAN,
                          "%s: the workspace was made for a network of another shape; make a new "
                          "one after adding nodes, runs or items",
                          s->function);
    if (model->fans == 0 || fan < VENT_EVERY_FAN || fan >= model->fans)
        return vent__fail(s->err, VENT_E_NOT_FOUND, s->function, "fan", fan, fan, 0,
                          model->fans - 1, "%s: fan is %d; this network has %d, numbered from 0",
                          s->function, fan, model->fans);
    s->ws = ws;
    s->model = model;
    return true;
}

static bool some(search *s)
{
    char from[VENT__BOTH_ROOM], to[VENT__BOTH_ROOM];
    return s->founds > 0 ||
           vent__fail(s->err, VENT_E_NO_OPERATING_POINT, s->function, "fan", s->fan, NAN, NAN, NAN,
                      "%s: fan '%.40s' meets the system nowhere on its curve; its points run "
                      "from %s to %s, and it is continued past them only where its pressure falls",
                      s->function, vent_fan_name(s->model->fan[s->fan].fan),
                      vent__in_both(s->least, "m3/s", from),
                      vent__in_both(s->greatest, "m3/s", to));
}

static void end(search *s)
{
    for (int i = 0; i < s->founds; ++i)
        free(s->found[i].mass_flow);
    free(s->found);
    free(s->turn);
    free(s->sample);
}

size_t vent_network_operating_points(const vent_network *network, vent_workspace *workspace,
                                     int fan, size_t room, vent_operating_point *points,
                                     vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) || (room && !VENT__POINTER(points)))
        return 0;
    vent_error record = VENT_NO_ERROR; /* a search without one could not tell that it failed */
    search s = {.function = __func__, .err = &record};
    vent_workspace *own = workspace ? NULL : vent_workspace_new(network, &record);
    vent_workspace *ws = workspace ? workspace : own;
    size_t count = 0;
    if (ws && begin(&s, network, ws, fan) && find_all(&s, fan) && some(&s))
        count = (size_t)s.founds;
    for (size_t i = 0; i < count && i < room; ++i) {
        points[i] = s.found[i].point;
        points[i].flags |= (count > 1 ? VENT_POINT_ONE_OF_SEVERAL : 0u) |
                           (s.is_sure ? 0u : VENT_POINT_MORE_POSSIBLE);
    }
    end(&s);
    vent_workspace_free(own);
    if (err && record.status != VENT_OK)
        *err = record;
    return count;
}

/* ---- where the solver found none ----------------------------------------------------------- */

/* A point of a fan within its data, best one at which the air would stay. */
bool vent__solve_along(vent_workspace *ws, vent__model *model, int fan,
                       vent_convergence *convergence)
{
    vent_error record = VENT_NO_ERROR;
    search s = {.function = __func__, .err = &record, .ws = ws, .model = model};
    find_along(&s, fan);
    const found *best = NULL;
    for (int i = 0; i < s.founds; ++i)
        if (!best || (s.found[i].point.flags & VENT_POINT_STABLE))
            best = &s.found[i];
    if (best)
        memcpy(ws->flow, best->mass_flow, (size_t)ws->program->runs * sizeof *ws->flow);
    bool done = best && vent__newton(ws, convergence);
    if (done)
        vent__eliminate_all(ws);
    end(&s);
    return done;
}

/* ---- the solution at one ------------------------------------------------------------------ */

/* What is left over at the flows that were linearised last. */
static vent_convergence convergence_of(const vent_workspace *ws)
{
    const vent__program *program = ws->program;
    vent_convergence c = {.pressure_scale = ws->drive};
    for (int k = 0; k < program->runs; ++k) {
        c.pressure_scale = fmax(c.pressure_scale, fabs(ws->start[k]));
        if (program->soil[k] >= 0)
            c.pressure_residual = fmax(c.pressure_residual, fabs(ws->source[k]));
    }
    for (int i = 0; i < program->links; ++i)
        c.pressure_residual = fmax(c.pressure_residual, fabs(ws->gap[i]));
    return c;
}

static bool solve_at(search *s, const vent_operating_point *point, vent_solution *solution)
{
    sample at;
    if (!follow(s, point->fan) ||
        !meet(s, point->flow, point->pressure, steep(s, point->flow, point->pressure), &at))
        return false;
    if (!(fabs(at.excess) <= SAME_POINT * s->pressure_scale))
        return vent__fail(s->err, VENT_E_ARGUMENT, s->function, "point", -1, at.flow, NAN, NAN,
                          "%s: point is none of this network: at %.6g m3/s the fan makes %.6g Pa "
                          "and the system takes %.6g",
                          s->function, at.flow, at.system + at.excess, at.system);
    memcpy(s->ws->trial, s->ws->flow, (size_t)s->ws->program->runs * sizeof *s->ws->flow);
    if (!vent__linearise(s->ws, s->model, s->ws->trial))
        return out_of_memory(s);
    vent_convergence c = convergence_of(s->ws);
    vent__take_solution(s->ws, &c, solution);
    return true;
}

static bool is_finite(const vent_operating_point *point, const char *function, vent_error *err)
{
    return (isfinite(point->flow) && isfinite(point->pressure) && isfinite(point->system_slope)) ||
           vent__fail(err, VENT_E_ARGUMENT, function, "point", -1, point->flow, NAN, NAN,
                      "%s: point holds a number that is not finite; "
                      "vent_network_operating_points() makes points",
                      function);
}

vent_solution *vent_network_solve_point(const vent_network *network, vent_workspace *workspace,
                                        vent_operating_point point, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network) || !is_finite(&point, __func__, err))
        return NULL;
    vent_error record = VENT_NO_ERROR;
    search s = {.function = __func__, .err = &record};
    vent_workspace *own = workspace ? NULL : vent_workspace_new(network, &record);
    vent_workspace *ws = workspace ? workspace : own;
    vent_solution *solution = NULL;
    int fan = point.fan == VENT_EVERY_FAN ? -2 : point.fan; /* a point is of one fan */
    if (ws && begin(&s, network, ws, fan)) {
        solution = vent__solution_new(ws->program);
        if (!solution)
            out_of_memory(&s);
        else if (!solve_at(&s, &point, solution)) {
            vent_solution_free(solution);
            solution = NULL;
        }
    }
    end(&s);
    vent_workspace_free(own);
    if (err && record.status != VENT_OK)
        *err = record;
    return solution;
}
