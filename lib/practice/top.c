/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The coefficient of what stands on top, from two flows on one stack. */
#include "practice/fitting.h"

static int last_run(const vent_network *network, vent_error *err)
{
    vent_solution *solution = vent_network_solve(network, NULL, err);
    int run = -1;
    for (size_t i = 0; i < vent_solution_ledger_size(solution); ++i) {
        vent_ledger_line line;
        vent_solution_ledger_line(solution, i, &line);
        if (line.kind == VENT_LINE_TERMINATION)
            run = line.run;
    }
    vent_solution_free(solution);
    return run;
}

/* The stack with an open end and a coefficient of its own before it: K is 1 and that coefficient. */
static vent_fit *top_fit(const vent_network *network, vent_parameter *extra, vent_error *err)
{
    vent_network *open = vent_network_copy(network, err);
    int run = vent_network_set_termination(open, vent_open_end(), err) ? last_run(open, err) : -1;
    int item =
        run >= 0 ? vent_network_fitting(open, run, vent_fitting_constant(0.5, 0, err), 1, err) : -1;
    if (item >= 0)
        *extra = vent_network_parameter(open, VENT_PARAMETER_FITTING, run, item, 0, err);
    vent_fit *fit = item >= 0 ? vent_fit_new(open, err) : NULL;
    if (fit) {
        vent_fit_state(fit, open, err);
        vent_fit_hold(fit, 0, *extra, 0, err);
        vent_fit_unknown(fit, *extra, err);
    }
    vent_network_free(open);
    return fit;
}

static bool check_flows(vent_reading open, vent_reading with, const char *function, vent_error *err)
{
    if (!vent__check_reading(open, "open", -1, function, err) ||
        !vent__check_reading(with, "with", -1, function, err))
        return false;
    char more[VENT__BOTH_ROOM], less[VENT__BOTH_ROOM];
    double doubt = hypot(open.uncertainty, with.uncertainty);
    if (fabs(with.value) > fabs(open.value) + 3 * doubt)
        return vent__fail(err, VENT_E_ARGUMENT, function, "with", -1, with.value, 0, open.value,
                          "more flow with the thing, %s, than with a plain end, %s: are they "
                          "exchanged?",
                          vent__in_both(with.value, "m3/s", more),
                          vent__in_both(open.value, "m3/s", less));
    return true;
}

vent_reading vent_top_coefficient(const vent_network *network, vent_observable observable,
                                  vent_reading open, vent_reading with, vent_parameter adjusted,
                                  vent_error *err)
{
    vent_reading k = {.value = NAN, .uncertainty = NAN};
    vent_parameter extra = {0};
    vent_error own = VENT_NO_ERROR;
    vent_error *to = err ? err : &own;
    if (vent__failed(err) || !VENT__POINTER(network) || !check_flows(open, with, __func__, to))
        return k;
    vent_fit *fit = top_fit(network, &extra, to);
    vent_fitted *fitted = NULL;
    if (fit) {
        vent_fit_unknown(fit, adjusted, to);
        vent_fit_reading(fit, 0, observable, open, to);
        vent_fit_reading(fit, 1, observable, with, to);
        fitted = vent_fit_solve(fit, to);
    }
    vent_estimate e, other;
    if (vent_fitted_estimate(fitted, 0, &e) && vent_fitted_estimate(fitted, 1, &other)) {
        if ((e.flags | other.flags) & VENT_ESTIMATE_UNDETERMINED)
            VENT__FAIL(VENT_E_ARGUMENT, "adjusted", -1,
                       "these flows do not determine the coefficient: it or the adjusted parameter "
                       "does not change the flow that was read");
        else
            k = vent_reading_stated(1 + e.value, e.uncertainty);
    }
    vent_fitted_free(fitted);
    vent_fit_free(fit);
    return k;
}
