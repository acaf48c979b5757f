/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the typemaps of core.i call: failures out; numbers, names and array memory in. */
#ifndef VENT_PYTHON_CORE_H
#define VENT_PYTHON_CORE_H

#include <Python.h>
#include <math.h>
#include <stdbool.h>
#include <string.h>
#include <ventstack/ventstack.h>

/* ---- text --------------------------------------------------------------------------------- */

/* Text of the library may have been cut within a letter of several bytes: the rest is left off. */
static PyObject *text_out(const char *text)
{
    return PyUnicode_DecodeUTF8(text, (Py_ssize_t)strlen(text), "ignore");
}

/* The bytes of a str, kept by it; NULL with an error set. */
static const char *name_in(PyObject *object, const char *argument)
{
    Py_ssize_t size;
    if (!PyUnicode_Check(object)) {
        PyErr_Format(PyExc_TypeError, "%s must be a str, not %R", argument, Py_TYPE(object));
        return NULL;
    }
    const char *text = PyUnicode_AsUTF8AndSize(object, &size);
    if (text && strlen(text) != (size_t)size) {
        PyErr_Format(PyExc_ValueError, "%s must not contain a null character", argument);
        return NULL;
    }
    return text;
}

/* ---- failures ----------------------------------------------------------------------------- */

/* Raises the exception that belongs to a status; the classes live in Python. */
static void raise_record(const vent_error *record)
{
    PyObject *errors = PyImport_ImportModule("ventstack._errors");
    PyObject *function = text_out(record->function), *argument = text_out(record->argument);
    PyObject *message = text_out(record->message), *error = NULL;
    if (errors && function && argument && message)
        error = PyObject_CallMethod(errors, "from_record", "iOOLdddO", (int)record->status,
                                    function, argument, (long long)record->index, record->value,
                                    record->low, record->high, message);
    if (error)
        PyErr_SetObject((PyObject *)Py_TYPE(error), error);
    Py_XDECREF(error);
    Py_XDECREF(message);
    Py_XDECREF(argument);
    Py_XDECREF(function);
    Py_XDECREF(errors);
}

/* ---- numbers ------------------------------------------------------------------------------ */

/* Anything with one float in it, but no text, no sequence and no quantity with a unit. */
static bool number_in(PyObject *object, const char *argument, double *number)
{
    if (PyFloat_Check(object)) {
        *number = PyFloat_AsDouble(object);
        return true;
    }
    if (PySequence_Check(object) && PySequence_Size(object) >= 0) {
        PyErr_Format(PyExc_TypeError, "%s must be one number, not %R", argument, Py_TYPE(object));
        return false;
    }
    PyErr_Clear(); /* an array of no dimensions is a sequence without a size, and a number */
    *number = PyFloat_AsDouble(object);
    if (*number != -1 || !PyErr_Occurred())
        return true;
    if (PyErr_ExceptionMatches(PyExc_TypeError) || PyErr_ExceptionMatches(PyExc_ValueError))
        PyErr_Format(PyExc_TypeError, "%s must be a number, not %R", argument, Py_TYPE(object));
    return false;
}

static PyObject *doubles_out(const double *vector, Py_ssize_t size)
{
    PyObject *tuple = PyTuple_New(size);
    for (Py_ssize_t i = 0; tuple && i < size; ++i) {
        PyObject *number = PyFloat_FromDouble(vector[i]);
        if (!number || PyTuple_SetItem(tuple, i, number) < 0)
            Py_CLEAR(tuple);
    }
    return tuple;
}

static bool doubles_in(PyObject *object, const char *argument, Py_ssize_t size, double *vector)
{
    if (PySequence_Size(object) != size) {
        PyErr_Format(PyExc_TypeError, "%s must hold %zd numbers", argument, size);
        return false;
    }
    for (Py_ssize_t i = 0; i < size; ++i) {
        PyObject *item = PySequence_GetItem(object, i);
        bool ok = item && number_in(item, argument, &vector[i]);
        Py_XDECREF(item);
        if (!ok)
            return false;
    }
    return true;
}

/* ---- arrays ------------------------------------------------------------------------------- */

/* Memory of doubles, held until released: a buffer of another object, or one number for all. */
typedef struct elements {
    Py_buffer view;
    double *data;
    ptrdiff_t stride; /* in elements; 0 for one number that stands for any size */
    Py_ssize_t size;
    double one;
} elements;

#define NO_ELEMENTS                                                                                \
    {                                                                                              \
        .view = {.obj = NULL }                                                                     \
    }

static void elements_release(elements *e)
{
    if (e->view.obj)
        PyBuffer_Release(&e->view);
}

static bool holds_doubles(const Py_buffer *view)
{
    return view->itemsize == sizeof(double) && view->format && strcmp(view->format, "d") == 0;
}

static bool refuse_view(elements *e, PyObject *type, const char *argument, const char *why)
{
    PyErr_Format(type, "%s %s", argument, why);
    elements_release(e);
    e->view.obj = NULL;
    return false;
}

/* Lays the elements over a buffer of doubles: of any shape where contiguous, else a row of them. */
static bool elements_over(PyObject *object, const char *argument, int flags, elements *e)
{
    if (PyObject_GetBuffer(object, &e->view, PyBUF_FORMAT | PyBUF_STRIDES | flags) < 0) {
        e->view.obj = NULL;
        PyErr_Format(PyExc_TypeError, "%s must be %s of float64, not %R", argument,
                     flags ? "a writable array" : "an array", Py_TYPE(object));
        return false;
    }
    if (!holds_doubles(&e->view))
        return refuse_view(e, PyExc_TypeError, argument, "must hold float64");
    e->data = e->view.buf;
    e->size = e->view.len / (Py_ssize_t)sizeof(double);
    e->stride = 1;
    if (PyBuffer_IsContiguous(&e->view, 'C'))
        return true;
    Py_ssize_t step = e->view.strides[0];
    if (e->view.ndim != 1 || step % (Py_ssize_t)sizeof(double) != 0)
        return refuse_view(e, PyExc_ValueError, argument, "must be contiguous or a row of float64");
    e->stride = step / (Py_ssize_t)sizeof(double);
    return true;
}

static bool elements_in(PyObject *object, const char *argument, elements *e)
{
    if (!PyFloat_Check(object))
        return elements_over(object, argument, 0, e);
    e->one = PyFloat_AsDouble(object);
    e->data = &e->one;
    e->stride = 0;
    e->size = 1;
    return true;
}

static bool elements_to_fill(PyObject *object, const char *argument, elements *e)
{
    return elements_over(object, argument, PyBUF_WRITABLE, e);
}

static bool fail(vent_error *err, const char *function, const char *argument, const char *why)
{
    *err =
        (vent_error){.status = VENT_E_ARGUMENT, .index = -1, .value = NAN, .low = NAN, .high = NAN};
    snprintf(err->function, sizeof err->function, "%s", function);
    snprintf(err->argument, sizeof err->argument, "%s", argument);
    snprintf(err->message, sizeof err->message, "%s: %s %s", function, argument, why);
    return false;
}

static bool same_size(const char *function, const char *argument, const elements *first,
                      const elements *e, vent_error *err)
{
    if (e->size != first->size)
        return fail(err, function, argument, "has another number of elements than flow");
    if (e->stride != 1 || first->stride != 1)
        return fail(err, function, argument, "must be contiguous");
    return true;
}

/* ---- lists of coefficients ------------------------------------------------------------------ */

enum { MOST_ALTERNATIVES = 16 }; /* of one coefficient, and sources of one line */

static bool pick(const vent_coefficient *list, int count, int index, vent_coefficient *found)
{
    bool there = index >= 0 && index < count && index < MOST_ALTERNATIVES;
    if (there)
        *found = list[index];
    return there;
}

#endif
