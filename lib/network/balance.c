/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Settings that bring observables to what is wanted: bounded least squares on deviations in tolerances,
 * then dampers opened one after the other as far as the tolerances allow. */
#include <ventstack/balance.h>

#include <stdlib.h>
#include <string.h>
#include <ventstack/gradient.h>

#include "base/fail.h"
#include "base/memory.h"
#include "network/balancing.h"
#include "network/model.h"
#include "network/observable.h"
#include "network/parameter.h"
#include "network/workspace.h"
#include "numeric/least_squares.h"

_Static_assert(sizeof(vent_achievement) == 40, "vent_achievement is frozen");
_Static_assert(sizeof(vent_setting) == 48, "vent_setting is frozen");

enum { MOST_TARGETS = 1000, MOST_SETTINGS = 200 };

static const double GREATEST = 1e12;
static const double ROUNDING = 1e-9; /* of a tolerance, beyond which a target is not met */
static const double STOPPED = 1e-2;  /* of the squares, by which they would fall over its range */

/* ---- the problem ---------------------------------------------------------------------------- */

void vent_balance_free(vent_balance *balance)
{
    if (!balance)
        return;
    vent_network_free(balance->network);
    free(balance->target);
    free(balance->setting);
    free(balance);
}

static bool no_memory(vent_error *err, const char *function)
{
    return vent__fail(err, VENT_E_MEMORY, function, "", -1, NAN, NAN, NAN, "%s: no memory",
                      function);
}

vent_balance *vent_balance_new(const vent_network *network, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(network))
        return NULL;
    vent_balance *balance = calloc(1, sizeof *balance);
    vent_network *copy = balance ? vent_network_copy(network, err) : NULL;
    if (copy) {
        balance->network = copy;
        return balance;
    }
    no_memory(err, __func__); /* the first failure wins */
    free(balance);
    return NULL;
}

static bool has_room(int count, int most, const char *what, const char *function, vent_error *err)
{
    return count < most ||
           vent__fail(err, VENT_E_ARGUMENT, function, what, count, count, 0, most,
                      "%s: there are %d already, which is the most", function, most);
}

static bool is_new(bool found, int number, const char *what, const char *function, vent_error *err)
{
    return !found || vent__fail(err, VENT_E_DUPLICATE, function, what, number, NAN, NAN, NAN,
                                "%s: this %s is number %d already", function, what, number);
}

static bool same_observable(const vent_observable *a, const vent_observable *b)
{
    return a->kind == b->kind && a->place == b->place && a->item == b->item;
}

static bool same_parameter(const vent_parameter *a, const vent_parameter *b)
{
    return a->kind == b->kind && a->place == b->place && a->item == b->item && a->slot == b->slot;
}

int vent_balance_target(vent_balance *balance, vent_observable observable, double value,
                        double tolerance, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(balance) ||
        !vent__observable_check(balance->network->model, &observable, __func__, err))
        return -1;
    const char *unit = vent_observable_unit(observable);
    if (!VENT__RANGE(value, unit, -GREATEST, GREATEST) ||
        !VENT__RANGE(tolerance, unit, 1e-300, GREATEST) ||
        !has_room(balance->targets, MOST_TARGETS, "observable", __func__, err))
        return -1;
    for (int i = 0; i < balance->targets; ++i)
        if (!is_new(same_observable(&balance->target[i].observable, &observable), i, "observable",
                    __func__, err))
            return -1;
    if (!vent__reserve(&balance->target, &balance->target_room, balance->targets,
                       sizeof *balance->target)) {
        no_memory(err, __func__);
        return -1;
    }
    balance->target[balance->targets] = (vent__target){observable, value, tolerance};
    return balance->targets++;
}

int vent_balance_adjust(vent_balance *balance, vent_parameter parameter, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(balance) ||
        !vent__parameter_check(balance->network->model, &parameter, __func__, err) ||
        !has_room(balance->settings, MOST_SETTINGS, "parameter", __func__, err))
        return -1;
    for (int i = 0; i < balance->settings; ++i)
        if (!is_new(same_parameter(&balance->setting[i].parameter, &parameter), i, "parameter",
                    __func__, err))
            return -1;
    if (!vent__reserve(&balance->setting, &balance->setting_room, balance->settings,
                       sizeof *balance->setting)) {
        no_memory(err, __func__);
        return -1;
    }
    vent_parameter_range bounds;
    vent__parameter_range(balance->network->model, &parameter, &bounds);
    balance->setting[balance->settings] = (vent__range){parameter, bounds.low, bounds.high};
    return balance->settings++;
}

bool vent_balance_bounds(vent_balance *balance, int number, double low, double high,
                         vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(balance))
        return false;
    if (number < 0 || number >= balance->settings)
        return VENT__FAIL(VENT_E_NOT_FOUND, "setting", number,
                          "%s: setting is %d; there are %d, numbered from 0", __func__, number,
                          balance->settings);
    vent__range *s = &balance->setting[number];
    vent_parameter_range bounds;
    vent__parameter_range(balance->network->model, &s->parameter, &bounds);
    if (!VENT__RANGE(low, bounds.unit, bounds.low, bounds.high) ||
        !VENT__RANGE(high, bounds.unit, low, bounds.high))
        return false;
    if (!(high > low))
        return vent__fail(err, VENT_E_ARGUMENT, __func__, "high", number, high, low, bounds.high,
                          "%s: high is %.10g %s; it must lie above low, which is the same",
                          __func__, high, bounds.unit);
    s->low = low;
    s->high = high;
    return true;
}

/* ---- the answer ----------------------------------------------------------------------------- */

void vent_balanced_free(vent_balanced *balanced)
{
    if (!balanced)
        return;
    free(balanced->achievement);
    free(balanced->setting);
    free(balanced->parameter);
    vent__text_free(&balanced->verdict);
    free(balanced);
}

static vent_balanced *balanced_new(const vent_balance *balance)
{
    size_t targets = (size_t)balance->targets, settings = (size_t)balance->settings;
    vent_balanced *b = calloc(1, sizeof *b);
    if (!b || !vent__resize(&b->achievement, targets, sizeof *b->achievement) ||
        !vent__resize(&b->setting, settings + 1, sizeof *b->setting) ||
        !vent__resize(&b->parameter, settings + 1, sizeof *b->parameter)) {
        vent_balanced_free(b);
        return NULL;
    }
    b->targets = balance->targets;
    b->settings = balance->settings;
    for (int j = 0; j < b->settings; ++j)
        b->parameter[j] = balance->setting[j].parameter;
    return b;
}

/* ---- deviations ----------------------------------------------------------------------------- */

static bool try_settings(vent__search *s, vent_error *err)
{
    for (size_t j = 0; j < s->settings; ++j)
        if (!vent_network_set(s->network, s->balance->setting[j].parameter, s->value[j], err))
            return false;
    vent_convergence convergence;
    if (!vent__solve(s->workspace, s->network->model, s->function, &convergence, err))
        return false;
    vent__take_solution(s->workspace, &convergence, s->solution);
    return true;
}

static void read_deviations(const vent__search *s, double *residual)
{
    for (size_t i = 0; i < s->targets; ++i) {
        const vent__target *t = &s->balance->target[i];
        residual[i] = (vent__observe(s->solution, &t->observable) - t->value) / t->tolerance;
    }
}

static bool read_slopes(vent__search *s, double *jacobian, vent_error *err)
{
    if (!vent_solution_jacobian(s->solution, s->workspace, s->targets, s->observable, s->free_count,
                                s->parameter, jacobian, err))
        return false;
    for (size_t i = 0; i < s->targets; ++i)
        for (size_t j = 0; j < s->free_count; ++j)
            jacobian[i * s->free_count + j] /= s->balance->target[i].tolerance;
    return true;
}

/* As least squares ask for it. */
static bool deviations(void *context, const double *x, double *residual, double *jacobian)
{
    vent__search *s = context;
    vent_error one = VENT_NO_ERROR; /* a step that leads nowhere is shortened */
    for (size_t j = 0; j < s->free_count; ++j)
        s->value[s->free[j]] = x[j];
    if (!try_settings(s, &one))
        return false;
    read_deviations(s, residual);
    return !jacobian || read_slopes(s, jacobian, &one);
}

static bool all_met(const vent__search *s, const double *residual)
{
    for (size_t i = 0; i < s->targets; ++i)
        if (!(fabs(residual[i]) <= 1 + ROUNDING))
            return false;
    return true;
}

/* ---- dampers -------------------------------------------------------------------------------- */

/* Fittings that are set by hand, and which end of their scale is open. */
static const struct {
    int32_t family, slot, open; /* -1 at the low end, 1 at the high one */
} dampers[] = {
    {VENT_FITTING_BUTTERFLY, 0, -1},    {VENT_FITTING_SLIDE_GATE, 0, 1},
    {VENT_FITTING_GATE_VALVE, 0, 1},    {VENT_FITTING_BALL_VALVE, 0, -1},
    {VENT_FITTING_ORIFICE_PLATE, 0, 1},
};

/* Which bound of a parameter opens a damper: -1 or 1, and 0 where it is none. */
static int open_end(const vent__model *model, const vent_parameter *p)
{
    if (p->kind == VENT_PARAMETER_FACTOR || p->kind == VENT_PARAMETER_COUNT)
        return -1;
    if (p->kind != VENT_PARAMETER_FITTING)
        return 0;
    int family = model->item[vent__model_item(model, p->place, p->item)].fitting.family;
    for (size_t i = 0; i < sizeof dampers / sizeof *dampers; ++i)
        if (dampers[i].family == family && dampers[i].slot == p->slot)
            return dampers[i].open;
    return 0;
}

int vent__open_end_of(const vent__search *s, size_t j)
{
    return open_end(s->balance->network->model, &s->balance->setting[j].parameter);
}

/* ---- the search ----------------------------------------------------------------------------- */

static void release_all(vent__search *s)
{
    s->free_count = s->settings;
    for (size_t j = 0; j < s->settings; ++j)
        s->free[j] = j;
}

static void hold(vent__search *s, size_t setting)
{
    size_t count = 0;
    for (size_t j = 0; j < s->free_count; ++j)
        if (s->free[j] != setting)
            s->free[count++] = s->free[j];
    s->free_count = count;
}

/* Least squares from the present values over what is free; leaves residual and values at the end. */
static int descend(vent__search *s, double *square)
{
    for (size_t j = 0; j < s->free_count; ++j) {
        const vent__range *one = &s->balance->setting[s->free[j]];
        s->parameter[j] = one->parameter;
        s->low[j] = one->low;
        s->high[j] = one->high;
        s->x[j] = s->value[s->free[j]];
    }
    vent__least_squares problem = {
        .m = s->targets,
        .n = s->free_count,
        .residuals = deviations,
        .context = s,
        .low = s->low,
        .high = s->high,
        .x = s->x,
        .residual = s->residual,
        .jacobian = s->jacobian,
    };
    int status = vent__least_squares_solve(&problem);
    *square =
        status == VENT__FIT_NO_START || status == VENT__FIT_MEMORY ? INFINITY : problem.square;
    for (size_t j = 0; j < s->free_count; ++j)
        s->value[s->free[j]] = s->x[j];
    return status;
}

/* Where the search may begin: the present settings, all dampers open, everything halfway. */
enum { PRESENT, OPEN, HALFWAY, STARTS };

static double start_value(const vent__search *s, size_t j, int start)
{
    const vent__range *one = &s->balance->setting[j];
    double now = vent_network_get(s->balance->network, one->parameter, NULL);
    int open = vent__open_end_of(s, j);
    if (start == HALFWAY)
        return one->low + (one->high - one->low) / 2;
    if (start == OPEN && open)
        return open > 0 ? one->high : one->low;
    return fmin(fmax(now, one->low), one->high);
}

/* Every target has to be a number there. */
static bool can_start(vent__search *s, vent_error *err)
{
    if (!try_settings(s, err))
        return false;
    for (size_t i = 0; i < s->targets; ++i) {
        char name[VENT__NAME_ROOM] = "";
        if (isfinite(vent__observe(s->solution, &s->observable[i])))
            continue;
        vent_network_observable_name(s->network, s->observable[i], sizeof name, name);
        return vent__fail(err, VENT_E_ARGUMENT, s->function, "target", (int64_t)i, NAN, NAN, NAN,
                          "%s: target %zu, %s, has no value in this network", s->function, i, name);
    }
    return true;
}

/* Where the targets pull a setting, all being free. */
static double pull_on(const vent__search *s, size_t j)
{
    double pull = 0;
    for (size_t i = 0; i < s->targets; ++i)
        pull -= s->residual[i] * s->jacobian[i * s->settings + j];
    return pull;
}

static int bound_of(const vent__search *s, size_t j)
{
    const vent__range *one = &s->balance->setting[j];
    return s->value[j] >= one->high ? 1 : s->value[j] <= one->low ? -1 : 0;
}

bool vent__is_stopped(const vent__search *s)
{
    double square = 0;
    for (size_t i = 0; i < s->targets; ++i)
        square += s->residual[i] * s->residual[i];
    for (size_t j = 0; j < s->settings; ++j) {
        const vent__range *one = &s->balance->setting[j];
        if (!bound_of(s, j) && fabs(pull_on(s, j)) * (one->high - one->low) > STOPPED * square)
            return true;
    }
    return false;
}

/* From the first start that can be solved, and from the next where the way ended for want of a solution.
 * What stops the present settings is told where no start will do. */
static bool find_nearest(vent__search *s, bool *is_met)
{
    vent_error present = VENT_NO_ERROR;
    double least = INFINITY;
    int best_status = VENT__FIT_NO_START;
    bool is_tried = false;
    release_all(s);
    for (int start = PRESENT; start < STARTS; ++start) {
        vent_error other = VENT_NO_ERROR;
        double square;
        for (size_t j = 0; j < s->settings; ++j)
            s->value[j] = start_value(s, j, start);
        if (!can_start(s, start == PRESENT ? &present : &other))
            continue;
        int status = descend(s, &square);
        if (status == VENT__FIT_MEMORY)
            return no_memory(s->err, s->function);
        if (!is_tried || square < least) {
            is_tried = true;
            least = square;
            best_status = status;
            *is_met = isfinite(square) && all_met(s, s->residual);
            memcpy(s->best, s->value, s->settings * sizeof *s->best);
        }
        if (*is_met || (isfinite(square) && !vent__is_stopped(s)))
            break;
    }
    memcpy(s->value, s->best, s->settings * sizeof *s->value);
    if (!is_tried) {
        *s->err = present;
        return false;
    }
    return *is_met || best_status == VENT__FIT_DONE ||
           vent__fail(s->err, VENT_E_NOT_CONVERGED, s->function, "balance", -1, least, NAN, NAN,
                      "%s: the settings did not come to rest; a sum of squares of %.3g tolerances "
                      "is left over",
                      s->function, least);
}

/* The damper nearest to open that is neither held nor tried yet; `settings` where there is none. */
static size_t widest(const vent__search *s, const bool *tried)
{
    size_t found = s->settings;
    double least = INFINITY;
    for (size_t j = 0; j < s->settings; ++j) {
        const vent__range *one = &s->balance->setting[j];
        int open = vent__open_end_of(s, j);
        double shut =
            (open > 0 ? one->high - s->best[j] : s->best[j] - one->low) / (one->high - one->low);
        if (open && !tried[j] && shut < least) {
            least = shut;
            found = j;
        }
    }
    return found;
}

/* Opens dampers, the widest first, while everything else makes up for it. */
static bool open_up(vent__search *s)
{
    bool tried[MOST_SETTINGS] = {false};
    for (size_t j = widest(s, tried); j < s->settings; j = widest(s, tried)) {
        const vent__range *one = &s->balance->setting[j];
        double square;
        size_t free_before = s->free_count;
        tried[j] = true;
        memcpy(s->value, s->best, s->settings * sizeof *s->value);
        s->value[j] = vent__open_end_of(s, j) > 0 ? one->high : one->low;
        hold(s, j);
        int status = descend(s, &square);
        if (status == VENT__FIT_MEMORY)
            return no_memory(s->err, s->function);
        if (isfinite(square) && all_met(s, s->residual)) {
            memcpy(s->best, s->value, s->settings * sizeof *s->best);
        } else { /* let it go again, in its place */
            size_t at = s->free_count;
            s->free_count = free_before;
            for (; at > 0 && s->free[at - 1] > j; --at)
                s->free[at] = s->free[at - 1];
            s->free[at] = j;
        }
    }
    memcpy(s->value, s->best, s->settings * sizeof *s->value);
    return true;
}

/* ---- solving -------------------------------------------------------------------------------- */

/* What the values that were found come to. */
static bool conclude(vent__search *s, vent_balanced *b)
{
    release_all(s);
    for (size_t j = 0; j < s->settings; ++j)
        s->parameter[j] = s->balance->setting[j].parameter;
    if (!try_settings(s, s->err) || !read_slopes(s, s->jacobian, s->err))
        return false;
    read_deviations(s, s->residual);
    b->is_met = all_met(s, s->residual);
    for (size_t i = 0; i < s->targets; ++i) {
        const vent__target *t = &s->balance->target[i];
        b->achievement[i] = (vent_achievement){
            .wanted = t->value,
            .tolerance = t->tolerance,
            .achieved = vent__observe(s->solution, &t->observable),
            .deviation = s->residual[i],
            .is_met = fabs(s->residual[i]) <= 1 + ROUNDING,
        };
    }
    for (size_t j = 0; j < s->settings; ++j) {
        const vent__range *one = &s->balance->setting[j];
        int at = bound_of(s, j);
        b->setting[j] = (vent_setting){
            .before = vent_network_get(s->balance->network, one->parameter, NULL),
            .value = s->value[j],
            .low = one->low,
            .high = one->high,
            .pull = pull_on(s, j),
            .at_bound = at,
            .is_wide_open = at != 0 && at == vent__open_end_of(s, j),
        };
    }
    vent__compose_verdict(s, b);
    return !b->verdict.is_short || no_memory(s->err, s->function);
}

static void end(vent__search *s)
{
    vent_network_free(s->network);
    vent_workspace_free(s->workspace);
    vent_solution_free(s->solution);
    free(s->observable);
    free(s->parameter);
    free(s->free);
    free(s->block);
}

static bool begin(vent__search *s)
{
    const vent_balance *balance = s->balance;
    s->targets = (size_t)balance->targets;
    s->settings = (size_t)balance->settings;
    size_t m = s->targets, n = s->settings;
    if (m == 0)
        return vent__fail(s->err, VENT_E_ARGUMENT, s->function, "balance", -1, 0, 1, MOST_TARGETS,
                          "%s: balance has no target", s->function);
    s->network = vent_network_copy(balance->network, s->err);
    s->workspace = vent_workspace_new(balance->network, s->err);
    if (vent__failed(s->err))
        return false;
    s->solution = vent__solution_new(s->workspace->program);
    double **row[] = {&s->value, &s->low, &s->high, &s->x, &s->best};
    enum { ROWS = sizeof row / sizeof *row };
    if (!s->solution || !vent__resize(&s->observable, m, sizeof *s->observable) ||
        !vent__resize(&s->parameter, n + 1, sizeof *s->parameter) ||
        !vent__resize(&s->free, n + 1, sizeof *s->free) ||
        !vent__resize(&s->block, ROWS * n + m + m * n, sizeof *s->block))
        return no_memory(s->err, s->function);
    for (size_t i = 0; i < ROWS; ++i)
        *row[i] = s->block + i * n;
    s->residual = s->block + ROWS * n;
    s->jacobian = s->residual + m;
    for (size_t i = 0; i < m; ++i)
        s->observable[i] = balance->target[i].observable;
    return true;
}

vent_balanced *vent_balance_solve(const vent_balance *balance, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(balance))
        return NULL;
    vent_error record = VENT_NO_ERROR;
    vent__search s = {.balance = balance, .function = __func__, .err = &record};
    vent_balanced *b = NULL;
    bool is_met = false;
    bool done = begin(&s) && find_nearest(&s, &is_met) && (!is_met || open_up(&s));
    if (done && !(b = balanced_new(balance)))
        no_memory(&record, __func__);
    if (b && !conclude(&s, b)) {
        vent_balanced_free(b);
        b = NULL;
    }
    end(&s);
    if (err && record.status != VENT_OK)
        *err = record;
    return b;
}

/* ---- reading -------------------------------------------------------------------------------- */

bool vent_balanced_is_met(const vent_balanced *balanced)
{
    return balanced && balanced->is_met;
}

bool vent_balanced_target(const vent_balanced *balanced, int number, vent_achievement *achievement)
{
    if (!balanced || !achievement || number < 0 || number >= balanced->targets)
        return false;
    *achievement = balanced->achievement[number];
    return true;
}

bool vent_balanced_setting(const vent_balanced *balanced, int number, vent_setting *found)
{
    if (!balanced || !found || number < 0 || number >= balanced->settings)
        return false;
    *found = balanced->setting[number];
    return true;
}

size_t vent_balanced_verdict(const vent_balanced *balanced, size_t size, char *text)
{
    return balanced ? vent__text_copy(&balanced->verdict, size, text) : 0;
}

bool vent_balanced_apply(const vent_balanced *balanced, vent_network *network, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(balanced) || !VENT__POINTER(network))
        return false;
    for (int j = 0; j < balanced->settings; ++j)
        if (!vent__parameter_check(network->model, &balanced->parameter[j], __func__, err))
            return false;
    vent_network *trial = vent_network_copy(network, err);
    vent_error record = VENT_NO_ERROR;
    for (int j = 0; trial && j < balanced->settings; ++j)
        vent_network_set(trial, balanced->parameter[j], balanced->setting[j].value, &record);
    if (trial && record.status == VENT_OK) {
        vent__model *before = network->model;
        network->model = trial->model;
        trial->model = before;
    } else if (err && record.status != VENT_OK) {
        *err = record;
    }
    vent_network_free(trial);
    return trial && record.status == VENT_OK;
}
