/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Formulas called from Python: floats in, a float out; arrays of any shapes that broadcast, an array
 * out. One entry serves all formulas; what they are stands in the table of formulas.i. */
#ifndef VENT_PYTHON_FORMULAS_H
#define VENT_PYTHON_FORMULAS_H

#define NPY_NO_DEPRECATED_API NPY_1_20_API_VERSION
#include <numpy/arrayobject.h>

#include "core.h"

enum { MOST_OBJECTS = 2, MOST_NUMBERS = 4 };
enum { WORTH_RELEASING = 500 }; /* elements; for fewer, other threads need not be let in */

/* A formula: of the objects it belongs to, and of its numbers. */
typedef double formula_value(const void *const *of, const double *x);

/* The same over whole arrays; strides in elements; gives how many results are NaN. */
typedef size_t formula_row(size_t, const double *, ptrdiff_t, const double *, ptrdiff_t, double *,
                           ptrdiff_t);

typedef struct formula {
    PyMethodDef method;   /* its name in the module, and the one entry for all */
    const char *called;   /* by whom uses Python, in warnings */
    formula_value *value; /* of one element */
    formula_row *row;     /* of many, where the library has that for two numbers; else NULL */
    swig_type_info **type[MOST_OBJECTS]; /* of the objects it belongs to; NULL past the last */
    int numbers;
    const char *argument[MOST_NUMBERS]; /* their names */
} formula;

/* One call: where its numbers are. The result stands last among the operands. */
typedef struct evaluation {
    const formula *formula;
    const void *of[MOST_OBJECTS];
    PyArrayObject *array[MOST_NUMBERS + 1]; /* NULL where it is one number */
    double one[MOST_NUMBERS + 1];
    bool labelled; /* an input is of a class of its own, perhaps with labels */
    int ndim;      /* what the shapes broadcast to */
    npy_intp shape[NPY_MAXDIMS];
} evaluation;

/* Rows of elements of all operands at once; neighbouring dimensions that run on are one. */
typedef struct walk {
    int ndim;
    npy_intp size[NPY_MAXDIMS]; /* the row itself first */
    ptrdiff_t stride[NPY_MAXDIMS][MOST_NUMBERS + 1];
    double *data[MOST_NUMBERS + 1];
} walk;

/* ---- what comes in ------------------------------------------------------------------------ */

static PyObject *new_reference(PyObject *object)
{
    Py_INCREF(object);
    return object;
}

/* Calls a function of ventstack._checks. */
static PyObject *ask_python(const char *function, const char *format, ...)
{
    static PyObject *module; /* looked up once: it stays as long as this one */
    va_list list;
    va_start(list, format);
    if (!module)
        module = PyImport_ImportModule("ventstack._checks");
    PyObject *result = NULL;
    PyObject *callable = module ? PyObject_GetAttrString(module, function) : NULL;
    PyObject *arguments = callable ? Py_VaBuildValue(format, list) : NULL;
    if (arguments)
        result = PyObject_CallObject(callable, arguments);
    Py_XDECREF(arguments);
    Py_XDECREF(callable);
    va_end(list);
    return result;
}

/* The numbers of a call by their arguments' names. */
static PyObject *named_numbers(const evaluation *e)
{
    PyObject *dict = PyDict_New();
    for (int k = 0; dict && k < e->formula->numbers; ++k) {
        PyObject *number =
            e->array[k] ? new_reference((PyObject *)e->array[k]) : PyFloat_FromDouble(e->one[k]);
        if (!number || PyDict_SetItemString(dict, e->formula->argument[k], number) < 0)
            Py_CLEAR(dict);
        Py_XDECREF(number);
    }
    return dict;
}

/* One Python number; false where it is none, or an int too large for a double. */
static bool plain_number(PyObject *object, double *number)
{
    if (PyFloat_CheckExact(object)) {
        *number = PyFloat_AS_DOUBLE(object);
        return true;
    }
    if (!PyFloat_Check(object) && !PyLong_Check(object))
        return false;
    *number = PyFloat_AsDouble(object);
    bool fits = *number != -1 || !PyErr_Occurred();
    PyErr_Clear();
    return fits;
}

/* Whether C can step through an array as it is. */
static bool holds_aligned_doubles(PyArrayObject *array)
{
    bool whole = PyArray_TYPE(array) == NPY_DOUBLE && PyArray_ISBEHAVED_RO(array);
    for (int d = 0; whole && d < PyArray_NDIM(array); ++d)
        whole = PyArray_STRIDE(array, d) % (npy_intp)sizeof(double) == 0;
    return whole;
}

static bool holds_real_numbers(PyObject *object)
{
    int type = PyArray_CheckExact(object) ? PyArray_TYPE((PyArrayObject *)object) : NPY_NOTYPE;
    return PyTypeNum_ISFLOAT(type) || PyTypeNum_ISINTEGER(type) || PyTypeNum_ISBOOL(type);
}

static bool take_number(evaluation *e, int k, PyObject *object)
{
    if (plain_number(object, &e->one[k]))
        return true;
    if (PyArray_CheckExact(object) && holds_aligned_doubles((PyArrayObject *)object)) {
        e->array[k] = (PyArrayObject *)new_reference(object);
        return true;
    }
    PyObject *numbers = holds_real_numbers(object)
                            ? new_reference(object)
                            : ask_python("numbers", "(Os)", object, e->formula->argument[k]);
    e->labelled |= !PyArray_CheckExact(object) && !PyList_Check(object) && !PyTuple_Check(object);
    if (numbers)
        e->array[k] = (PyArrayObject *)PyArray_FROM_OTF(numbers, NPY_DOUBLE,
                                                        NPY_ARRAY_CARRAY_RO | NPY_ARRAY_FORCECAST);
    Py_XDECREF(numbers);
    return e->array[k] != NULL;
}

/* ---- shapes ------------------------------------------------------------------------------- */

/* Extent of an operand along a dimension of the result; 1 where it has no such dimension. */
static npy_intp extent(const evaluation *e, int k, int dimension)
{
    int own = e->array[k] ? dimension - (e->ndim - PyArray_NDIM(e->array[k])) : -1;
    return own < 0 ? 1 : PyArray_DIM(e->array[k], own);
}

static ptrdiff_t step(const evaluation *e, int k, int dimension)
{
    if (extent(e, k, dimension) == 1)
        return 0;
    int own = dimension - (e->ndim - PyArray_NDIM(e->array[k]));
    return PyArray_STRIDE(e->array[k], own) / (npy_intp)sizeof(double);
}

/* The shape that the inputs broadcast to; Python finds the words where they do not. */
static bool broadcast(evaluation *e)
{
    for (int k = 0; k < e->formula->numbers; ++k)
        if (e->array[k] && PyArray_NDIM(e->array[k]) > e->ndim)
            e->ndim = PyArray_NDIM(e->array[k]);
    bool fits = true;
    for (int d = 0; d < e->ndim; ++d) {
        e->shape[d] = 1;
        for (int k = 0; k < e->formula->numbers; ++k) {
            npy_intp size = extent(e, k, d);
            fits = fits && (size == 1 || e->shape[d] == 1 || e->shape[d] == size);
            e->shape[d] = size == 1 ? e->shape[d] : size;
        }
    }
    if (!fits)
        Py_XDECREF(ask_python("common_shape", "(N)", named_numbers(e)));
    return fits;
}

/* First byte and the one past the last of what an array covers. */
static void covered(PyArrayObject *array, const char *end[2])
{
    end[0] = end[1] = PyArray_BYTES(array);
    if (PyArray_SIZE(array) == 0)
        return;
    for (int d = 0; d < PyArray_NDIM(array); ++d) {
        npy_intp reach = (PyArray_DIM(array, d) - 1) * PyArray_STRIDE(array, d);
        end[reach > 0] += reach;
    }
    end[1] += sizeof(double);
}

/* Whether an array can take the result: float64 of that shape, writable, sharing no memory with an
 * input. Python finds the words where not. */
static bool take_out(evaluation *e, PyObject *object)
{
    PyArrayObject *out = (PyArrayObject *)object;
    bool fits = PyArray_Check(object) && holds_aligned_doubles(out) && PyArray_ISWRITEABLE(out) &&
                PyArray_NDIM(out) == e->ndim &&
                PyArray_CompareLists(PyArray_DIMS(out), e->shape, e->ndim);
    bool apart = true;
    for (int k = 0; fits && k < e->formula->numbers; ++k) {
        const char *a[2], *b[2];
        if (!e->array[k])
            continue;
        covered(e->array[k], a);
        covered(out, b);
        apart = apart && !(a[0] < b[1] && b[0] < a[1]);
    }
    if (fits && apart) {
        e->array[e->formula->numbers] = (PyArrayObject *)new_reference(object);
        return true;
    }
    PyObject *shape = PyArray_IntTupleFromIntp(e->ndim, e->shape);
    Py_XDECREF(ask_python("refuse_out", "(ONO)", object, shape, apart ? Py_False : Py_True));
    return false;
}

/* ---- evaluation --------------------------------------------------------------------------- */

static bool runs_on(const walk *w, const ptrdiff_t *stride, int operands)
{
    bool on = w->ndim > 0;
    for (int k = 0; on && k < operands; ++k)
        on = stride[k] == w->stride[w->ndim - 1][k] * w->size[w->ndim - 1];
    return on;
}

/* Lays out the walk over all elements; the longest dimension is its row. */
static walk lay_out(evaluation *e)
{
    walk w = {.ndim = 0};
    int operands = e->formula->numbers + 1, longest = 0;
    for (int k = 0; k < operands; ++k)
        w.data[k] = e->array[k] ? PyArray_DATA(e->array[k]) : &e->one[k];
    for (int d = e->ndim - 1; d >= 0; --d) {
        ptrdiff_t stride[MOST_NUMBERS + 1];
        for (int k = 0; k < operands; ++k)
            stride[k] = step(e, k, d);
        if (e->shape[d] == 1)
            continue;
        if (runs_on(&w, stride, operands)) {
            w.size[w.ndim - 1] *= e->shape[d];
            continue;
        }
        memcpy(w.stride[w.ndim], stride, sizeof stride);
        w.size[w.ndim++] = e->shape[d];
    }
    for (int d = 1; d < w.ndim; ++d)
        longest = w.size[d] > w.size[longest] ? d : longest;
    if (w.ndim == 0) {
        w.size[w.ndim++] = 1;
        memset(w.stride[0], 0, sizeof w.stride[0]);
    } else if (longest != 0) {
        npy_intp size = w.size[0];
        ptrdiff_t stride[MOST_NUMBERS + 1];
        w.size[0] = w.size[longest];
        w.size[longest] = size;
        memcpy(stride, w.stride[0], sizeof stride);
        memcpy(w.stride[0], w.stride[longest], sizeof stride);
        memcpy(w.stride[longest], stride, sizeof stride);
    }
    return w;
}

/* One row; gives how many results are NaN. */
static size_t evaluate_row(const evaluation *e, const walk *w)
{
    const formula *f = e->formula;
    const ptrdiff_t *stride = w->stride[0];
    double *out = w->data[f->numbers];
    if (f->row)
        return f->row((size_t)w->size[0], w->data[0], stride[0], w->data[1], stride[1], out,
                      stride[2]);
    size_t failed = 0;
    for (npy_intp i = 0; i < w->size[0]; ++i) {
        double x[MOST_NUMBERS];
        for (int k = 0; k < f->numbers; ++k)
            x[k] = w->data[k][i * stride[k]];
        double value = out[i * stride[f->numbers]] = f->value(e->of, x);
        failed += isnan(value) != 0;
    }
    return failed;
}

/* All rows, one after the other. */
static size_t evaluate(const evaluation *e, walk *w)
{
    size_t failed = 0;
    npy_intp at[NPY_MAXDIMS] = {0};
    for (int d = 0; d < w->ndim;) {
        failed += evaluate_row(e, w);
        for (d = 1; d < w->ndim; ++d) {
            bool wraps = ++at[d] == w->size[d];
            for (int k = 0; k <= e->formula->numbers; ++k)
                w->data[k] += (wraps ? 1 - w->size[d] : 1) * w->stride[d][k];
            if (!wraps)
                break;
            at[d] = 0;
        }
    }
    return failed;
}

/* The result as Python has it, warned of where it is NaN though no input was. */
static PyObject *finished(const evaluation *e, size_t failed, PyObject *const *numbers)
{
    int last = e->formula->numbers;
    PyObject *result = e->array[last] ? new_reference((PyObject *)e->array[last])
                                      : PyFloat_FromDouble(e->one[last]);
    if (result && failed) {
        PyObject *warned =
            ask_python("warn_of_domain", "(sNO)", e->formula->called, named_numbers(e), result);
        if (!warned)
            Py_CLEAR(result);
        Py_XDECREF(warned);
    }
    if (result && e->labelled && e->ndim) {
        PyObject *row = PyTuple_New(last);
        for (int k = 0; row && k < last; ++k)
            PyTuple_SET_ITEM(row, k, new_reference(numbers[k]));
        result = ask_python("like", "(NN)", result, row);
    }
    return result;
}

/* A call with arrays, or with anything that must be made numbers first. */
static PyObject *of_arrays(evaluation *e, PyObject *const *numbers, PyObject *out)
{
    int last = e->formula->numbers;
    PyObject *result = NULL;
    bool ready = true;
    for (int k = 0; ready && k < last; ++k)
        ready = take_number(e, k, numbers[k]);
    ready = ready && broadcast(e) && (!out || take_out(e, out));
    if (ready && !out && e->ndim) {
        e->array[last] = (PyArrayObject *)PyArray_SimpleNew(e->ndim, e->shape, NPY_DOUBLE);
        ready = e->array[last] != NULL;
    }
    if (ready) {
        size_t failed = 0;
        npy_intp size = PyArray_MultiplyList(e->shape, e->ndim);
        walk w = lay_out(e);
        PyThreadState *released = size >= WORTH_RELEASING ? PyEval_SaveThread() : NULL;
        if (size > 0)
            failed = evaluate(e, &w);
        if (released)
            PyEval_RestoreThread(released);
        result = finished(e, failed, numbers);
    }
    for (int k = 0; k <= last; ++k)
        Py_XDECREF(e->array[k]);
    return result;
}

static bool take_object(evaluation *e, int i, PyObject *object)
{
    void *found = NULL;
    if (!SWIG_IsOK(SWIG_ConvertPtr(object, &found, *e->formula->type[i], 0)) || !found)
        PyErr_Format(PyExc_TypeError, "%s: not of the class it is for: %R", e->formula->called,
                     Py_TYPE(object));
    e->of[i] = found;
    return found != NULL;
}

/* The one entry: a formula's objects, its numbers, and perhaps an array for the result. */
static PyObject *call_formula(PyObject *self, PyObject *const *arguments, Py_ssize_t size)
{
    evaluation e = {.formula = PyCapsule_GetPointer(self, NULL)};
    const formula *f = e.formula;
    int objects = (f->type[0] != NULL) + (f->type[1] != NULL);
    Py_ssize_t needed = objects + f->numbers;
    if (size != needed && size != needed + 1)
        return PyErr_Format(PyExc_TypeError, "%s takes %zd arguments, %zd were given",
                            f->method.ml_name, needed, size);
    for (int i = 0; i < objects; ++i)
        if (!take_object(&e, i, arguments[i]))
            return NULL;
    PyObject *const *numbers = arguments + objects;
    PyObject *out = size > needed && arguments[needed] != Py_None ? arguments[needed] : NULL;
    bool plain = !out;
    for (int k = 0; plain && k < f->numbers; ++k)
        plain = plain_number(numbers[k], &e.one[k]);
    double value = plain ? f->value(e.of, e.one) : NAN;
    return isnan(value) ? of_arrays(&e, numbers, out) : PyFloat_FromDouble(value);
}

/* Adds a formula to the module, as a function. */
static bool add_formula(PyObject *module, formula *f)
{
    f->method.ml_meth = (PyCFunction)(void (*)(void))call_formula;
    f->method.ml_flags = METH_FASTCALL;
    PyObject *self = PyCapsule_New(f, NULL, NULL);
    PyObject *function = self ? PyCFunction_New(&f->method, self) : NULL;
    Py_XDECREF(self);
    if (function && PyModule_AddObject(module, f->method.ml_name, function) == 0)
        return true;
    Py_XDECREF(function);
    return false;
}

#endif
