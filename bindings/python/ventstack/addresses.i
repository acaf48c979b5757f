/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Addresses of parameters and observables, and sweeps over them. Part of core.i. */

/* by the functions below */
%ignore vent_network_parameters;
%ignore vent_network_parameter_name;
%ignore vent_network_observables;
%ignore vent_network_observable_name;
%include <ventstack/parameter.h>
%include <ventstack/observable.h>

/* Lists of addresses. */
%define LIST_OF(type, count, list)
%typemap(arginit, noblock = 1) (size_t count, const type *list)
{
    $2 = NULL;
}
%typemap(in) (size_t count, const type *list)
{
    Py_ssize_t size = PySequence_Size($input);
    if (size < 0)
        SWIG_fail;
    $1 = (size_t)size;
    $2 = PyMem_Calloc($1 + 1, sizeof *$2);
    if (!$2) {
        PyErr_NoMemory();
        SWIG_fail;
    }
    for (Py_ssize_t i = 0; i < size; ++i) {
        PyObject *item = PySequence_GetItem($input, i);
        void *address = NULL;
        int ok = item ? SWIG_ConvertPtr(item, &address, $descriptor(type *), 0) : -1;
        if (SWIG_IsOK(ok) && address)
            $2[i] = *(type *)address;
        Py_XDECREF(item);
        if (!SWIG_IsOK(ok) || !address) {
            PyErr_SetString(PyExc_TypeError, #list " must hold addresses only");
            SWIG_fail;
        }
    }
}
%typemap(freearg, noblock = 1) (size_t count, const type *list)
{
    PyMem_Free($2);
}
%enddef
LIST_OF(vent_parameter, inputs, parameters)
LIST_OF(vent_observable, outputs, observables)

%thread network_sweep;
%thread solution_jacobian;

%{
typedef size_t name_writer(const vent_network *, const void *, size_t, char *);

static size_t parameter_name(const vent_network *network, const void *address, size_t size,
                             char *name)
{
    return vent_network_parameter_name(network, *(const vent_parameter *)address, size, name);
}

static size_t observable_name(const vent_network *network, const void *address, size_t size,
                              char *name)
{
    return vent_network_observable_name(network, *(const vent_observable *)address, size, name);
}

static PyObject *name_of(name_writer *write, const vent_network *network, const void *address)
{
    size_t length = write(network, address, 0, NULL);
    char *name = PyMem_Malloc(length + 1);
    if (!name)
        return PyErr_NoMemory();
    write(network, address, length + 1, name);
    name[length] = 0;
    PyObject *text = text_out(name);
    PyMem_Free(name);
    return text;
}

/* The names of an array of addresses. */
static PyObject *names_of(name_writer *write, const vent_network *network, const void *list,
                          size_t count, size_t size)
{
    PyObject *names = PyList_New((Py_ssize_t)count);
    for (size_t i = 0; names && i < count; ++i) {
        PyObject *name = name_of(write, network, (const char *)list + i * size);
        if (!name || PyList_SetItem(names, (Py_ssize_t)i, name) < 0)
            Py_CLEAR(names);
    }
    return names;
}
%}

%inline %{
PyObject *network_parameter_text(const vent_network *network, const vent_parameter *parameter)
{
    return name_of(parameter_name, network, parameter);
}

PyObject *network_observable_text(const vent_network *network, const vent_observable *observable)
{
    return name_of(observable_name, network, observable);
}

/* All values, in the order of the library's lists. */
PyObject *network_parameter_values(const vent_network *network, vent_error *err)
{
    size_t count = vent_network_parameter_count(network);
    PyObject *values = PyList_New((Py_ssize_t)count);
    for (size_t i = 0; values && i < count; ++i) {
        vent_parameter p;
        vent_network_parameters(network, i, 1, &p);
        PyObject *value = PyFloat_FromDouble(vent_network_get(network, p, err));
        if (!value || PyList_SetItem(values, (Py_ssize_t)i, value) < 0)
            Py_CLEAR(values);
    }
    return values;
}

/* One of them; false past the last. */
bool network_parameter_entry(const vent_network *network, size_t index, vent_parameter *found)
{
    return vent_network_parameters(network, index, 1, found) == 1;
}

/* All names, in the order of the library's lists. */
PyObject *network_parameter_names(const vent_network *network)
{
    size_t count = vent_network_parameter_count(network);
    vent_parameter *list = PyMem_Calloc(count + 1, sizeof *list);
    if (!list)
        return PyErr_NoMemory();
    count = vent_network_parameters(network, 0, count, list);
    PyObject *names = names_of(parameter_name, network, list, count, sizeof *list);
    PyMem_Free(list);
    return names;
}

PyObject *network_observable_names(const vent_network *network)
{
    size_t count = vent_network_observable_count(network);
    vent_observable *list = PyMem_Calloc(count + 1, sizeof *list);
    if (!list)
        return PyErr_NoMemory();
    count = vent_network_observables(network, 0, count, list);
    PyObject *names = names_of(observable_name, network, list, count, sizeof *list);
    PyMem_Free(list);
    return names;
}

/* Fills an array, row by row, with the derivatives of each observable by each of the parameters. */
bool solution_jacobian(const vent_solution *solution, size_t outputs, const vent_observable *observables,
                       size_t inputs, const vent_parameter *parameters, elements *jacobian, vent_error *err)
{
    if ((size_t)jacobian->size != inputs * outputs || jacobian->stride != 1)
        return fail(err, __func__, "jacobian", "must have one contiguous element for each pair");
    return vent_solution_jacobian(solution, NULL, outputs, observables, inputs, parameters,
                                  jacobian->data, err);
}

/* Solves the cases of a block: `values` row by row, a row for each input, `results` likewise, and a
 * number for each status. The failure of the first case that failed goes to `first`. Without any case
 * only the addresses and the network are looked at, and what is wrong with them is raised. Gives how many
 * failed. */
size_t network_sweep(const vent_network *network, const vent_solution *start, size_t inputs,
                     const vent_parameter *parameters, size_t outputs,
                     const vent_observable *observables, const elements *values, elements *results,
                     elements *status, vent_error *first, vent_error *err)
{
    size_t cases = (size_t)status->size, failed = 0;
    vent_varied *varied = calloc(inputs + 1, sizeof *varied);
    vent_observed *observed = calloc(outputs + 1, sizeof *observed);
    int32_t *state = calloc(cases + 1, sizeof *state);
    *first = (vent_error)VENT_NO_ERROR;
    for (size_t i = 0; varied && i < inputs; ++i)
        varied[i] = (vent_varied){parameters[i], values->data + i * cases, 1};
    for (size_t i = 0; observed && i < outputs; ++i)
        observed[i] = (vent_observed){observables[i], results->data + i * cases, 1};
    if ((size_t)values->size != inputs * cases || (size_t)results->size != outputs * cases)
        fail(err, __func__, "values", "and results must have a row of all cases for each address");
    else if (!varied || !observed || !state)
        err->status = VENT_E_MEMORY;
    else if (start)
        failed = vent_network_solve_many_from(network, start, cases, inputs, varied, outputs,
                                              observed, state, first);
    else
        failed = vent_network_solve_many(network, cases, inputs, varied, outputs, observed, state,
                                         first);
    if (cases == 0 && first->status != VENT_OK)
        *err = *first;
    for (size_t i = 0; state && i < cases; ++i)
        status->data[i] = state[i];
    free(varied);
    free(observed);
    free(state);
    return failed;
}
%}
