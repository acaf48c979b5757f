/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fault finding: faults and findings go through as tuples of numbers. */

%thread vent_diagnosis_solve;

HANDLE(vent_diagnosis)
HANDLE(vent_diagnosed)
%newobject vent_diagnosis_new;
%newobject vent_diagnosis_solve;
%newobject vent_diagnosed_network;

/* by the functions below */
%ignore vent_fault;
%ignore vent_finding;
%ignore vent_fault_range;
%ignore vent_diagnosis_inputs;
%ignore vent_diagnosis_reading;
%ignore vent_diagnosis_usual;
%ignore vent_diagnosis_fault;
%ignore vent_diagnosis_exercise;
%ignore vent_diagnosed_finding;
%ignore vent_diagnosed_at_bound;
%ignore vent_diagnosed_residual;
%ignore vent_diagnosed_place;
%ignore vent_diagnosed_candidates;
%ignore vent_diagnosed_next;
%ignore vent_diagnosed_words;
%ignore vent_diagnosed_report;
%include <ventstack/diagnose.h>

%inline %{
/* Name, unit, admissible bounds and usual ones of a kind's size; None where it has none. */
PyObject *fault_range_numbers(int kind)
{
    vent_parameter_range r;
    if (!vent_fault_range(kind, &r))
        Py_RETURN_NONE;
    return Py_BuildValue("ssdddd", r.name, r.unit, r.low, r.high, r.source_low, r.source_high);
}

bool diagnosis_inputs_named(vent_diagnosis *diagnosis, const vent_network *network, PyObject *names,
                            const elements *uncertainty, const elements *shape, vent_error *err)
{
    size_t n = (size_t)uncertainty->size;
    vent_input *inputs = calloc(n + 1, sizeof *inputs);
    for (size_t i = 0; inputs && i < n; ++i)
        inputs[i] = (vent_input){vent_network_find_parameter(network, text_at(names, i), err),
                                 uncertainty->data[i], (int32_t)shape->data[i], 0};
    bool done = inputs && vent_diagnosis_inputs(diagnosis, n, inputs, err);
    free(inputs);
    return done;
}

int diagnosis_reading_named(vent_diagnosis *diagnosis, const vent_network *network,
                            const char *name, vent_reading reading, vent_error *err)
{
    return vent_diagnosis_reading(diagnosis, vent_network_find_observable(network, name, err),
                                  reading, err);
}

bool diagnosis_fault_numbers(vent_diagnosis *diagnosis, int kind, int place, int item, double odds,
                             double low, double high, vent_error *err)
{
    vent_fault fault = {kind, place, item, 0, odds, low, high};
    return vent_diagnosis_fault(diagnosis, fault, err);
}

PyObject *diagnosis_usual_numbers(const vent_diagnosis *diagnosis, vent_error *err)
{
    size_t n = vent_diagnosis_usual(diagnosis, 0, NULL, err);
    vent_fault *faults = calloc(n + 1, sizeof *faults);
    PyObject *list = PyList_New(0);
    if (faults && list)
        vent_diagnosis_usual(diagnosis, n, faults, err);
    for (size_t i = 0; faults && list && i < n; ++i) {
        const vent_fault *f = &faults[i];
        PyObject *row = Py_BuildValue("iiiddd", f->kind, f->place, f->item, f->odds, f->low, f->high);
        if (!row || PyList_Append(list, row) < 0)
            PyErr_Clear();
        Py_XDECREF(row);
    }
    free(faults);
    return list;
}

/* Readings of an exercise into `values`. */
bool diagnosis_exercise_named(const vent_diagnosis *diagnosis, const vent_network *network,
                              int kind, int place, int item, double size, double seed,
                              PyObject *names, const elements *uncertainty, elements *values,
                              vent_error *err)
{
    size_t n = (size_t)uncertainty->size;
    vent_observable *observables = calloc(n + 1, sizeof *observables);
    vent_reading *readings = calloc(n + 1, sizeof *readings);
    vent_fault fault = {.kind = kind, .place = place, .item = item};
    bool done = observables && readings;
    for (size_t i = 0; done && i < n; ++i)
        observables[i] = vent_network_find_observable(network, text_at(names, i), err);
    done = done && vent_diagnosis_exercise(diagnosis, fault, size, (uint64_t)seed, n, observables,
                                           uncertainty->data, readings, err);
    for (size_t i = 0; done && i < n; ++i)
        values->data[i] = readings[i].value;
    free(observables);
    free(readings);
    return done;
}

/* Probability, evidence, chi-square and group, then of each fault kind, place, item, size, low, high,
 * at which bound. */
PyObject *diagnosed_finding_numbers(const vent_diagnosed *diagnosed, size_t rank)
{
    vent_finding f;
    if (!vent_diagnosed_finding(diagnosed, rank, &f))
        Py_RETURN_NONE;
    PyObject *faults = PyList_New(0);
    for (int k = 0; faults && k < f.faults; ++k) {
        PyObject *row = Py_BuildValue("iiidddi", f.fault[k].kind, f.fault[k].place, f.fault[k].item,
                                      f.size[k], f.low[k], f.high[k],
                                      vent_diagnosed_at_bound(diagnosed, rank, k));
        if (!row || PyList_Append(faults, row) < 0)
            PyErr_Clear();
        Py_XDECREF(row);
    }
    return Py_BuildValue("dddiN", f.probability, f.evidence, f.chi_square, f.group, faults);
}

PyObject *diagnosed_residual_numbers(const vent_diagnosed *diagnosed, size_t rank, size_t reading)
{
    vent_residual r;
    if (!vent_diagnosed_residual(diagnosed, rank, reading, &r))
        Py_RETURN_NONE;
    return Py_BuildValue("iddddI", r.state, r.reading, r.uncertainty, r.computed, r.residual, r.flags);
}

/* Name of the place a wrong place would be. */
PyObject *diagnosed_place_name(const vent_diagnosed *diagnosed, const vent_network *network,
                               size_t reading, int number)
{
    char name[PARAMETER_NAME_ROOM] = "";
    vent_network_observable_name(network, vent_diagnosed_place(diagnosed, reading, number),
                                 sizeof name, name);
    return text_out(name);
}

/* Names and uncertainties of the readings one usually takes. */
PyObject *diagnosed_candidate_names(const vent_diagnosed *diagnosed, const vent_network *network)
{
    size_t n = vent_diagnosed_candidates(diagnosed, 0, NULL);
    vent_candidate *candidates = calloc(n + 1, sizeof *candidates);
    PyObject *list = PyList_New(0);
    if (candidates && list)
        vent_diagnosed_candidates(diagnosed, n, candidates);
    for (size_t i = 0; candidates && list && i < n; ++i) {
        char name[PARAMETER_NAME_ROOM];
        vent_network_observable_name(network, candidates[i].observable, sizeof name, name);
        PyObject *row = Py_BuildValue("sd", name, candidates[i].uncertainty);
        if (!row || PyList_Append(list, row) < 0)
            PyErr_Clear();
        Py_XDECREF(row);
    }
    free(candidates);
    return list;
}

/* Five numbers a candidate into `results`: what a expects and how surely, b likewise, and how far apart. */
bool diagnosed_next_named(const vent_diagnosed *diagnosed, const vent_network *network, size_t a,
                          size_t b, PyObject *names, const elements *uncertainty,
                          elements *results, vent_error *err)
{
    size_t n = (size_t)uncertainty->size;
    vent_candidate *candidates = calloc(n + 1, sizeof *candidates);
    vent_reading *expected = calloc(2 * n + 1, sizeof *expected);
    double *distance = calloc(n + 1, sizeof *distance);
    bool done = candidates && expected && distance;
    for (size_t i = 0; done && i < n; ++i) {
        candidates[i].observable = vent_network_find_observable(network, text_at(names, i), err);
        candidates[i].uncertainty = uncertainty->data[i];
    }
    if (done)
        vent_diagnosed_next(diagnosed, a, b, n, candidates, expected, distance, err);
    for (size_t i = 0; done && i < n; ++i) {
        const double row[] = {expected[i].value, expected[i].uncertainty, expected[n + i].value,
                              expected[n + i].uncertainty, distance[i]};
        memcpy(results->data + 5 * i, row, sizeof row);
    }
    free(candidates);
    free(expected);
    free(distance);
    return done;
}

/* A finding in words; of all, where rank is negative, the report. */
PyObject *diagnosed_text(const vent_diagnosed *diagnosed, int rank)
{
    size_t length = rank < 0 ? vent_diagnosed_report(diagnosed, 0, NULL)
                             : vent_diagnosed_words(diagnosed, (size_t)rank, 0, NULL);
    char *text = calloc(length + 1, 1);
    if (!text)
        return PyErr_NoMemory();
    if (rank < 0)
        vent_diagnosed_report(diagnosed, length + 1, text);
    else
        vent_diagnosed_words(diagnosed, (size_t)rank, length + 1, text);
    PyObject *out = text_out(text);
    free(text);
    return out;
}
%}
