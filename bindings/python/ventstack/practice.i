/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Uncertainty and fits: addresses come in by name, arrays of readings as arrays of their numbers. */

%{
enum { PARAMETER_NAME_ROOM = 256 };

static const char *text_at(PyObject *list, size_t i)
{
    PyObject *item = PyList_Check(list) ? PyList_GetItem(list, (Py_ssize_t)i) : NULL;
    const char *text = item ? PyUnicode_AsUTF8(item) : NULL;
    PyErr_Clear();
    return text ? text : "";
}

/* A name that stands for either: an observable first, as readings mostly are of these. */
static vent_candidate candidate_named(const vent_network *network, const char *name,
                                      double uncertainty, vent_error *err)
{
    vent_candidate c = {.uncertainty = uncertainty};
    vent_error none = VENT_NO_ERROR;
    c.observable = vent_network_find_observable(network, name, &none);
    if (none.status != VENT_OK)
        c.parameter = vent_network_find_parameter(network, name, err);
    return c;
}

/* Numbers and their uncertainties, of equal size, as readings; NULL for want of memory. */
static vent_reading *readings_of(const elements *value, const elements *uncertainty)
{
    size_t n = (size_t)value->size;
    vent_reading *readings = calloc(n + 1, sizeof *readings);
    for (size_t i = 0; readings && i < n; ++i)
        readings[i] = (vent_reading){.value = value->data[i], .uncertainty = uncertainty->data[i]};
    return readings;
}
%}

%thread vent_fit_solve;
%apply const char *name { const char *candidate, const char *observable, const char *adjusted };

HANDLE(vent_uncertainty)
HANDLE(vent_fit)
HANDLE(vent_fitted)
%newobject vent_fit_new;
%newobject vent_fit_solve;
%newobject vent_fitted_network;
%newobject vent_fitted_uncertainty;
%newobject uncertainty_make;
%newobject fan_fitted;

/* by the functions below */
%ignore vent_input;
%ignore vent_candidate;
%ignore vent_sampling;
%ignore vent_simulated;
%ignore vent_budget_line;
%ignore vent_network_uncertainties;
%ignore vent_uncertainty_new;
%ignore vent_uncertainty_of;
%ignore vent_uncertainty_budget;
%ignore vent_uncertainty_next;
%ignore vent_uncertainty_learn;
%ignore vent_uncertainty_simulate;
%ignore vent_fit_hold;
%ignore vent_fit_unknown;
%ignore vent_fit_priors;
%ignore vent_fit_reading;
%ignore vent_fitted_direction;
%ignore vent_fitted_verdict;
%ignore vent_estimate;
%ignore vent_residual;
%ignore vent_fitted_estimate;
%ignore vent_fitted_residual;
%ignore vent_soil_test;
%ignore vent_top_coefficient;
%ignore vent_field_test;
%ignore vent_fan_fit;
%include <ventstack/uncertainty.h>
%include <ventstack/fit.h>

%inline %{
/* Name, uncertainty, shape and source of every uncertainty a network's parts carry. */
PyObject *network_inputs(const vent_network *network, vent_error *err)
{
    size_t count = vent_network_uncertainties(network, 0, NULL, err);
    vent_input *inputs = malloc((count + 1) * sizeof *inputs);
    PyObject *list = PyList_New(0);
    if (inputs && list)
        vent_network_uncertainties(network, count, inputs, err);
    for (size_t i = 0; inputs && list && i < count && err->status == VENT_OK; ++i) {
        char name[PARAMETER_NAME_ROOM];
        vent_network_parameter_name(network, inputs[i].parameter, sizeof name, name);
        PyObject *row = Py_BuildValue("sdii", name, inputs[i].uncertainty, inputs[i].shape,
                                      inputs[i].source);
        if (!row || PyList_Append(list, row) < 0)
            PyErr_Clear();
        Py_XDECREF(row);
    }
    free(inputs);
    return list;
}

vent_uncertainty *uncertainty_make(const vent_network *network, PyObject *names,
                                   const elements *uncertainty, const elements *shape,
                                   const elements *correlation, vent_error *err)
{
    size_t n = (size_t)uncertainty->size;
    vent_input *inputs = calloc(n + 1, sizeof *inputs);
    for (size_t i = 0; inputs && i < n; ++i) {
        inputs[i] = (vent_input){vent_network_find_parameter(network, text_at(names, i), err),
                                 uncertainty->data[i],
                                 (int32_t)shape->data[i], 0};
    }
    vent_uncertainty *made =
        inputs ? vent_uncertainty_new(network, n, inputs,
                                      correlation->size ? correlation->data : NULL, err)
               : NULL;
    free(inputs);
    return made;
}

vent_reading uncertainty_of_named(const vent_uncertainty *uncertainty, const vent_network *network,
                                  const char *name, vent_error *err)
{
    return vent_uncertainty_of(uncertainty, vent_network_find_observable(network, name, err), err);
}

/* Rows of name, uncertainty, sensitivity, variance and share. */
PyObject *uncertainty_budget_named(const vent_uncertainty *uncertainty, const vent_network *network,
                                   const char *name, vent_error *err)
{
    vent_observable answer = vent_network_find_observable(network, name, err);
    size_t count = vent_uncertainty_budget(uncertainty, answer, 0, NULL, err);
    vent_budget_line *lines = malloc((count + 1) * sizeof *lines);
    PyObject *list = PyList_New(0);
    if (lines && list)
        vent_uncertainty_budget(uncertainty, answer, count, lines, err);
    for (size_t i = 0; lines && list && i < count && err->status == VENT_OK; ++i) {
        char input[PARAMETER_NAME_ROOM];
        vent_network_parameter_name(network, lines[i].parameter, sizeof input, input);
        PyObject *row = Py_BuildValue("sdddd", input, lines[i].uncertainty, lines[i].sensitivity,
                                      lines[i].variance, lines[i].share);
        if (!row || PyList_Append(list, row) < 0)
            PyErr_Clear();
        Py_XDECREF(row);
    }
    free(lines);
    return list;
}

/* Standard uncertainty of an answer after a reading that is not taken yet. */
double uncertainty_after_named(const vent_uncertainty *uncertainty, const vent_network *network,
                               const char *name, const char *candidate, double reading,
                               vent_error *err)
{
    double after = NAN;
    vent_observable answer = vent_network_find_observable(network, name, err);
    vent_candidate one = candidate_named(network, candidate, reading, err);
    vent_uncertainty_next(uncertainty, answer, 1, &one, &after, err);
    return after;
}

bool uncertainty_learn_named(vent_uncertainty *uncertainty, const vent_network *network,
                             const char *candidate, double reading, vent_error *err)
{
    return vent_uncertainty_learn(uncertainty, candidate_named(network, candidate, reading, err),
                                  err);
}

/* Six numbers an observable into `results`; the samples, where there is room for them, row by row. */
bool uncertainty_sampled(const vent_uncertainty *uncertainty, const vent_network *network,
                         PyObject *names, double samples, double seed, bool quasi,
                         elements *results, elements *all, vent_error *err)
{
    size_t n = (size_t)results->size / 6;
    vent_observable *observables = calloc(n + 1, sizeof *observables);
    vent_simulated *out = calloc(n + 1, sizeof *out);
    bool done = observables && out;
    for (size_t k = 0; done && k < n; ++k)
        observables[k] = vent_network_find_observable(network, text_at(names, k), err);
    vent_sampling how = {.samples = (int64_t)samples, .seed = (uint64_t)seed, .kind = quasi};
    Py_BEGIN_ALLOW_THREADS
    done = done && vent_uncertainty_simulate(uncertainty, how, n, observables, out,
                                             all->size ? all->data : NULL, err);
    Py_END_ALLOW_THREADS
    for (size_t k = 0; done && k < n; ++k) {
        const double row[] = {out[k].mean, out[k].uncertainty, out[k].low, out[k].median,
                              out[k].high, (double)out[k].failed};
        memcpy(results->data + 6 * k, row, sizeof row);
    }
    free(observables);
    free(out);
    return done;
}

int fit_unknown_named(vent_fit *fit, const vent_network *network, const char *name, vent_error *err)
{
    return vent_fit_unknown(fit, vent_network_find_parameter(network, name, err), err);
}

/* The bounds the network sets a parameter. */
PyObject *network_bounds_named(const vent_network *network, const char *name, vent_error *err)
{
    vent_parameter_range range = {.low = NAN, .high = NAN};
    vent_network_parameter_range(network, vent_network_find_parameter(network, name, err), &range);
    return Py_BuildValue("dd", range.low, range.high);
}

bool fit_hold_named(vent_fit *fit, int state, const vent_network *network, const char *name,
                    double value, vent_error *err)
{
    return vent_fit_hold(fit, state, vent_network_find_parameter(network, name, err), value, err);
}

int fit_reading_named(vent_fit *fit, int state, const vent_network *network, const char *name,
                      vent_reading reading, vent_error *err)
{
    return vent_fit_reading(fit, state, vent_network_find_observable(network, name, err), reading,
                            err);
}

PyObject *fitted_estimate_numbers(const vent_fitted *fitted, size_t unknown)
{
    vent_estimate e;
    if (!vent_fitted_estimate(fitted, unknown, &e))
        Py_RETURN_NONE;
    return Py_BuildValue("dddddI", e.value, e.uncertainty, e.low, e.high, e.prior_share, e.flags);
}

PyObject *fitted_residual_numbers(const vent_fitted *fitted, size_t reading)
{
    vent_residual r;
    if (!vent_fitted_residual(fitted, reading, &r))
        Py_RETURN_NONE;
    return Py_BuildValue("iddddI", r.state, r.reading, r.uncertainty, r.computed, r.residual, r.flags);
}

/* Fills a row with a direction; gives its standard uncertainty. */
double fitted_direction_row(const vent_fitted *fitted, size_t index, elements *direction)
{
    return vent_fitted_direction(fitted, index, (size_t)direction->size, direction->data);
}

PyObject *fitted_text(const vent_fitted *fitted)
{
    size_t length = vent_fitted_verdict(fitted, 0, NULL);
    char *text = calloc(length + 1, 1);
    if (!text)
        return PyErr_NoMemory();
    vent_fitted_verdict(fitted, length + 1, text);
    PyObject *out = text_out(text);
    free(text);
    return out;
}

vent_soil_estimate soil_tested(int law, const elements *vacuum, const elements *vacuum_uncertainty,
                               const elements *flow, const elements *flow_uncertainty,
                               vent_reading baseline, vent_error *err)
{
    vent_reading *p = readings_of(vacuum, vacuum_uncertainty);
    vent_reading *q = readings_of(flow, flow_uncertainty);
    vent_soil_estimate estimate =
        vent_soil_test(law, (size_t)vacuum->size, p, q, baseline, err);
    free(p);
    free(q);
    return estimate;
}

vent_reading top_coefficient_named(const vent_network *network, const char *observable,
                                   vent_reading open, vent_reading with, const char *adjusted,
                                   vent_error *err)
{
    return vent_top_coefficient(network, vent_network_find_observable(network, observable, err),
                                open, with, vent_network_find_parameter(network, adjusted, err),
                                err);
}

vent_field field_tested(int form, double radius, const elements *distance, const elements *vacuum,
                        const elements *uncertainty, vent_error *err)
{
    vent_reading *v = readings_of(vacuum, uncertainty);
    vent_field field = vent_field_test(form, radius, (size_t)distance->size, distance->data, v, err);
    free(v);
    return field;
}

vent_fan *fan_fitted(const char *name, const elements *flow, const elements *pressure,
                     const elements *uncertainty, bool falling, double density, vent_error *err)
{
    vent_reading *p = readings_of(pressure, uncertainty);
    vent_fan *fan = vent_fan_fit(name, (size_t)flow->size, flow->data, p, falling, density, err);
    free(p);
    return fan;
}
%}

/* ---- commissioning ------------------------------------------------------------------------------ */

HANDLE(vent_sheet)
HANDLE(vent_band)
%newobject sheet_made;
%newobject commissioned_named;
%newobject band_made;

/* by the functions below */
%ignore vent_site_reading;
%ignore vent_sheet_line;
%ignore vent_weather;
%ignore vent_band_row;
%ignore vent_sheet_new;
%ignore vent_sheet_line_at;
%ignore vent_sheet_verdict;
%ignore vent_sheet_text;
%ignore vent_commissioned;
%ignore vent_weather_of;
%ignore vent_band_new;
%ignore vent_band_row_at;
%ignore vent_band_judge_in;
%ignore vent_band_text;
%ignore vent_band_where;
%include <ventstack/commission.h>

%{
/* Readings by their places' names; NULL for want of memory. */
static vent_site_reading *site_readings_of(const vent_network *network, PyObject *names,
                                           const elements *value, const elements *uncertainty,
                                           vent_error *err)
{
    size_t n = (size_t)value->size;
    vent_site_reading *taken = calloc(n + 1, sizeof *taken);
    for (size_t i = 0; taken && i < n; ++i) {
        taken[i].observable = vent_network_find_observable(network, text_at(names, i), err);
        taken[i].reading =
            (vent_reading){.value = value->data[i], .uncertainty = uncertainty->data[i]};
    }
    return taken;
}

/* A row of weather from 18 numbers, three a quantity; NaN stands for what the network is set to. */
static vent_weather weather_from(const vent_network *network, const char *name, const double *span,
                                 vent_error *err)
{
    vent_weather weather = vent_weather_of(network, name, err);
    for (int q = 0; q < VENT_WEATHER_END; ++q)
        if (!isnan(span[3 * q]))
            weather.span[q] = (vent_span){span[3 * q], span[3 * q + 1], span[3 * q + 2]};
    return weather;
}

static PyObject *text_of(char *text)
{
    PyObject *out = text ? text_out(text) : PyErr_NoMemory();
    free(text);
    return out;
}
%}

%inline %{
vent_sheet *sheet_made(const vent_uncertainty *design, const vent_network *network, PyObject *names,
                       const elements *value, const elements *uncertainty, vent_error *err)
{
    vent_site_reading *taken = site_readings_of(network, names, value, uncertainty, err);
    vent_sheet *sheet = vent_sheet_new(design, (size_t)value->size, taken, err);
    free(taken);
    return sheet;
}

vent_uncertainty *commissioned_named(const vent_uncertainty *design, const vent_network *network,
                                     PyObject *names, const elements *value,
                                     const elements *uncertainty, vent_error *err)
{
    vent_site_reading *taken = site_readings_of(network, names, value, uncertainty, err);
    vent_uncertainty *known = vent_commissioned(design, (size_t)value->size, taken, err);
    free(taken);
    return known;
}

PyObject *sheet_line_numbers(const vent_sheet *sheet, size_t index)
{
    vent_sheet_line l;
    if (!vent_sheet_line_at(sheet, index, &l))
        Py_RETURN_NONE;
    const char *unit = vent_observable_unit(l.observable);
    return Py_BuildValue("ssddddddddiI", l.where, unit, l.predicted.value, l.predicted.uncertainty,
                         l.measured.value, l.measured.uncertainty, l.deviation, l.uncertainty, l.score,
                         l.among, l.verdict, l.flags);
}

PyObject *sheet_verdict_text(const vent_sheet *sheet)
{
    size_t length = vent_sheet_verdict(sheet, 0, NULL);
    char *text = calloc(length + 1, 1);
    vent_sheet_verdict(sheet, text ? length + 1 : 0, text);
    return text_of(text);
}

PyObject *sheet_whole_text(const vent_sheet *sheet)
{
    size_t length = vent_sheet_text(sheet, 0, NULL);
    char *text = calloc(length + 1, 1);
    vent_sheet_text(sheet, text ? length + 1 : 0, text);
    return text_of(text);
}

vent_band *band_made(const vent_uncertainty *known, const vent_network *network, const char *name,
                     PyObject *rows, const elements *spans, vent_error *err)
{
    size_t n = (size_t)spans->size / (3 * VENT_WEATHER_END);
    vent_observable observable = vent_network_find_observable(network, name, err);
    vent_weather *weather = calloc(n + 1, sizeof *weather);
    for (size_t i = 0; weather && i < n; ++i)
        weather[i] = weather_from(network, text_at(rows, i), spans->data + 3 * VENT_WEATHER_END * i,
                                  err);
    vent_band *band = vent_band_new(known, observable, n, weather, err);
    free(weather);
    return band;
}

PyObject *band_where_text(const vent_band *band)
{
    char text[128] = "";
    vent_band_where(band, sizeof text, text);
    return text_out(text);
}

PyObject *band_row_numbers(const vent_band *band, int row)
{
    vent_band_row r;
    if (!vent_band_row_at(band, row, &r))
        Py_RETURN_NONE;
    return Py_BuildValue("sdddddddd[dddddd]", r.name, r.low.value, r.low.uncertainty, r.usual.value,
                         r.usual.uncertainty, r.high.value, r.high.uncertainty, r.band_low, r.band_high,
                         r.moves[0], r.moves[1], r.moves[2], r.moves[3], r.moves[4], r.moves[5]);
}

vent_judgement band_judged_in(const vent_band *band, const vent_network *network, const char *name,
                              const elements *spans, vent_reading reading, vent_error *err)
{
    return vent_band_judge_in(band, weather_from(network, name, spans->data, err), reading, err);
}

PyObject *band_whole_text(const vent_band *band, double uncertainty)
{
    size_t length = vent_band_text(band, uncertainty, 0, NULL);
    char *text = calloc(length + 1, 1);
    vent_band_text(band, uncertainty, text ? length + 1 : 0, text);
    return text_of(text);
}
%}
