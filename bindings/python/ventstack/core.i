/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The private module ventstack.core: the C interface as it is, one to one. What users see is the
 * package around it. Here are only: how failures are raised, how numbers, names and memory come in,
 * and a few functions where C's arrays have no likeness in Python. */
%module(package = "ventstack", threads = "1") core

%{
#include <ventstack/ventstack.h>
#include "core.h"
%}

/* The interpreter runs on unless a call is long: then other Python threads may run beside it. */
%nothread;
%thread vent_network_solve;
%thread vent_solution_exact_flow_cost;
%thread network_system_curve;
%thread network_points;
%thread network_solve_at;
%thread vent_balance_solve;

%rename("%(strip:[vent_])s") "";

%include <stdint.i>
%include <typemaps.i>

/* ---- failures ----------------------------------------------------------------------------- */

%typemap(in, numinputs = 0, noblock = 1) vent_error *err (vent_error record)
{
    memset(&record, 0, sizeof record);
    $1 = &record;
}
%typemap(argout, noblock = 1) vent_error *err
{
    if ($1->status != VENT_OK) {
        Py_CLEAR($result);
        raise_record($1);
        SWIG_fail;
    }
}

/* ---- numbers, names, vectors -------------------------------------------------------------- */

%typemap(in, noblock = 1) double
{
    if (!number_in($input, "$1_name", &$1))
        SWIG_fail;
}
%typemap(in, noblock = 1) const char *name, const char *material
{
    $1 = (char *)name_in($input, "$1_name");
    if (!$1)
        SWIG_fail;
}
%typemap(freearg) const char *name, const char *material "";
%typemap(out, noblock = 1) double[ANY]
{
    $result = doubles_out($1, $1_dim0);
}
%typemap(in, noblock = 1) double[ANY] (double vector[$1_dim0])
{
    if (!doubles_in($input, "$1_name", $1_dim0, vector))
        SWIG_fail;
    $1 = vector;
}
%typemap(out, noblock = 1) char[ANY]
{
    $result = text_out($1);
}

%apply double *OUTPUT { double *low, double *high, double *nominal_size };
%apply double *OUTPUT { double *least_flow, double *greatest_flow };
%apply int *OUTPUT { int32_t *source };
%typemap(in, numinputs = 0, noblock = 1) const char **name (const char *text),
                                         const char **material (const char *text)
{
    text = NULL;
    $1 = (char **)&text;
}
%typemap(argout, noblock = 1) const char **name, const char **material
{
    $result = SWIG_AppendOutput($result, text_out(*$1 ? *$1 : ""));
}

/* ---- memory of arrays --------------------------------------------------------------------- */

%typemap(arginit, noblock = 1) const elements *, elements *
{
    elements $1_elements = NO_ELEMENTS;
}
%typemap(in, noblock = 1) const elements *
{
    if (!elements_in($input, "$1_name", &$1_elements))
        SWIG_fail;
    $1 = &$1_elements;
}
%typemap(in, noblock = 1) elements *
{
    if (!elements_to_fill($input, "$1_name", &$1_elements))
        SWIG_fail;
    $1 = &$1_elements;
}
%typemap(freearg, noblock = 1) const elements *, elements *
{
    elements_release(&$1_elements);
}

/* ---- handles: freed with the last reference ------------------------------------------------ */

%define HANDLE(type)
%ignore type##_free;
%nodefaultctor type;
struct type {
    %extend {
        ~type()
        {
            type##_free($self);
        }
    }
};
%enddef
HANDLE(vent_fan)
HANDLE(vent_network)
HANDLE(vent_solution)

%newobject vent_fan_series;
%newobject vent_fan_parallel;
%newobject vent_network_new;
%newobject vent_network_copy;
%newobject vent_network_solve;

/* A list of fans. */
%typemap(in) (size_t n, const vent_fan *const *fans)
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
        void *fan = NULL;
        int ok = item ? SWIG_ConvertPtr(item, &fan, $descriptor(vent_fan *), 0) : -1;
        Py_XDECREF(item);
        if (!SWIG_IsOK(ok)) {
            PyErr_SetString(PyExc_TypeError, "fans must hold fans only");
            SWIG_fail;
        }
        ((const vent_fan **)$2)[i] = fan;
    }
}
%typemap(arginit, noblock = 1) (size_t n, const vent_fan *const *fans)
{
    $2 = NULL;
}
%typemap(freearg, noblock = 1) (size_t n, const vent_fan *const *fans)
{
    PyMem_Free((void *)$2);
}

/* ---- what the package does in another way -------------------------------------------------- */

/* by fan_make() and fan_data() below */
%ignore vent_fan_new;
%ignore vent_fan_new_at;
%ignore vent_fan_points;
%ignore vent_fan_copy;
/* by formulas.i */
%ignore vent_friction_factor_array;
%ignore vent_friction_colebrook_array;
%ignore vent_friction_churchill_array;
/* by the array function below */
%ignore vent_network_system_curve;
/* by fitting_alternative(), termination_alternative() and solution_line_source() below */
%ignore vent_fitting_alternatives;
%ignore vent_termination_alternatives;
%ignore vent_solution_line_sources;
/* by junction_alternative() and junction_legs() below */
%ignore vent_junction_alternatives;
%ignore vent_junction_dividing_alternatives;
%ignore vent_junction_coefficients;
/* by termination_stream() below */
%ignore vent_termination_streams;
/* the package keeps the names */
%ignore vent_network_node_name;
%ignore vent_network_run_name;
/* a workspace belongs to one call at a time; each call from Python has its own */
%ignore vent_workspace;
%ignore vent_workspace_new;
%ignore vent_workspace_free;
%ignore vent_network_solve_into;
/* strings of the library, not to be written to */
%immutable vent_source::author;
%immutable vent_source::title;
%immutable vent_source::place;
%immutable vent_parameter_range::name;
%immutable vent_parameter_range::unit;

%include "formulas.i"

%include <ventstack/export.h>
%include <ventstack/version.h>
%include <ventstack/error.h>
%include <ventstack/units.h>
%include <ventstack/source.h>
%include <ventstack/air.h>
%include <ventstack/friction.h>
%include <ventstack/pipe.h>
%include <ventstack/fitting.h>
%include <ventstack/bend.h>
%include <ventstack/area.h>
%include <ventstack/entry.h>
%include <ventstack/device.h>
%include <ventstack/connector.h>
%include <ventstack/screen.h>
%include <ventstack/general.h>
%include <ventstack/junction.h>
%include <ventstack/termination.h>
%include <ventstack/fan.h>
%include <ventstack/soil.h>
%include <ventstack/opening.h>
%include <ventstack/network.h>
%include <ventstack/solution.h>
%include <ventstack/provenance.h>

/* ---- what C says with arrays --------------------------------------------------------------- */

%newobject fan_make;
%inline %{
/* A fan from contiguous arrays of equal size; power may be empty. */
vent_fan *fan_make(const char *name, const elements *flow, const elements *pressure,
                   const elements *power, double density, vent_error *err)
{
    if (!same_size(__func__, "pressure", flow, pressure, err) ||
        (power->size && !same_size(__func__, "power", flow, power, err)))
        return NULL;
    return vent_fan_new_at(name, (size_t)flow->size, flow->data, pressure->data,
                           power->size ? power->data : NULL, density, err);
}

/* Fills contiguous arrays with a fan's points; gives how many there are. */
size_t fan_data(const vent_fan *fan, elements *flow, elements *pressure, elements *power,
                vent_error *err)
{
    if (!same_size(__func__, "pressure", flow, pressure, err) ||
        !same_size(__func__, "power", flow, power, err))
        return 0;
    return vent_fan_points(fan, (size_t)flow->size, flow->data, pressure->data, power->data);
}

/* One of the alternatives for a coefficient; false past the last. */
bool fitting_alternative(vent_fitting fitting, vent_pipe pipe, double reynolds, int index,
                         vent_coefficient *found, vent_error *err)
{
    vent_coefficient list[MOST_ALTERNATIVES];
    return pick(list, vent_fitting_alternatives(fitting, pipe, reynolds, MOST_ALTERNATIVES, list, err),
                index, found);
}

bool termination_alternative(vent_termination termination, vent_pipe pipe, double reynolds,
                             int index, vent_coefficient *found, vent_error *err)
{
    vent_coefficient list[MOST_ALTERNATIVES];
    return pick(list, vent_termination_alternatives(termination, pipe, reynolds, MOST_ALTERNATIVES,
                                                    list, err), index, found);
}

bool junction_alternative(vent_junction junction, bool straight, bool dividing, double flow_share,
                          double leg_area_ratio, double other_area_ratio, int index,
                          vent_coefficient *found, vent_error *err)
{
    vent_coefficient list[MOST_ALTERNATIVES];
    return pick(list, (dividing ? vent_junction_dividing_alternatives : vent_junction_alternatives)(
                          junction, straight, flow_share, leg_area_ratio, other_area_ratio,
                          MOST_ALTERNATIVES, list, err),
                index, found);
}

/* Fills contiguous arrays with the coefficients of all legs of a junction; false on failure. */
bool junction_legs(vent_junction junction, const elements *area_ratio, const elements *flow,
                   elements *value, elements *uncertainty, elements *source, elements *flags,
                   vent_error *err)
{
    if (!same_size(__func__, "area_ratio", flow, area_ratio, err))
        return false;
    size_t legs = (size_t)flow->size;
    vent_coefficient *list = malloc((legs + !legs) * sizeof *list);
    if (!list) {
        PyErr_NoMemory();
        return false;
    }
    bool done = vent_junction_coefficients(junction, (int)legs, area_ratio->data, flow->data, list, err);
    for (size_t i = 0; done && i < legs; ++i) {
        value->data[i] = list[i].value;
        uncertainty->data[i] = list[i].uncertainty;
        source->data[i] = list[i].source;
        flags->data[i] = list[i].flags;
    }
    free(list);
    return done;
}

/* One of the sources a line of the ledger rests on; -1 past the last. */
int solution_line_source(const vent_solution *solution, size_t line, int index)
{
    int32_t sources[MOST_ALTERNATIVES];
    int count = vent_solution_line_sources(solution, line, MOST_ALTERNATIVES, sources);
    return index >= 0 && index < count && index < MOST_ALTERNATIVES ? sources[index] : -1;
}

/* One of the streams of a termination; false past the last. */
bool termination_stream(vent_termination termination, int index, vent_stream *stream)
{
    vent_stream streams[8];
    bool there = index >= 0 && index < vent_termination_streams(termination, streams);
    if (there)
        *stream = streams[index];
    return there;
}

/* The system curve at a fan over contiguous arrays; gives how many values are NaN. */
size_t network_system_curve(const vent_network *network, int fan, const elements *flow,
                            elements *pressure, vent_error *err)
{
    if (!same_size(__func__, "pressure", flow, pressure, err))
        return 0;
    vent_workspace *workspace = vent_workspace_new(network, err);
    vent_error one = VENT_NO_ERROR; /* what fails at one flow is NaN there, and no more */
    size_t failed = workspace ? vent_network_system_curve(network, workspace, fan,
                                                          (size_t)flow->size, flow->data,
                                                          pressure->data, &one)
                              : 0;
    if (one.status == VENT_E_NOT_FOUND)
        *err = one;
    vent_workspace_free(workspace);
    return failed;
}
%}

/* ---- measurement --------------------------------------------------------------------------- */

/* by the array functions below */
%ignore vent_traverse_positions;
%ignore vent_traverse_flow;
%ignore vent_static_pressure;
%ignore vent_mean_velocity_pressure;
%include <ventstack/measure.h>

%inline %{
/* How many of the points of one line were moved off the wall; fills their positions. */
int measure_traverse_positions(vent_pipe pipe, int32_t side, int32_t rule, int32_t points,
                               vent_probe probe, elements *position, vent_error *err)
{
    double all[24];
    int moved = points <= 24 ? vent_traverse_positions(pipe, side, rule, points, probe, all, err)
                             : vent_traverse_positions(pipe, side, rule, 0, probe, all, err);
    for (int32_t k = 0; moved >= 0 && k < points && k < position->size; ++k)
        position->data[k] = all[k];
    return moved;
}

vent_reading measure_traverse_flow(vent_station station, vent_probe probe,
                                   vent_instrument instrument, int32_t rule, int32_t lines,
                                   int32_t points, const elements *indication, vent_error *err)
{
    return vent_traverse_flow(station, probe, instrument, rule, lines, points, indication->data,
                              err);
}

vent_reading measure_static_pressure(vent_instrument instrument, const elements *indication,
                                     double velocity_pressure, double tap_error, vent_error *err)
{
    return vent_static_pressure(instrument, (size_t)indication->size, indication->data,
                                velocity_pressure, tap_error, err);
}

double measure_mean_velocity_pressure(const elements *velocity_pressure, vent_error *err)
{
    return vent_mean_velocity_pressure((size_t)velocity_pressure->size, velocity_pressure->data,
                                       err);
}
%}

/* ---- all operating points, balancing --------------------------------------------------------- */

/* by the functions below */
%ignore vent_network_operating_points;
%ignore vent_network_solve_point;
%ignore vent_balance_target;
%ignore vent_balance_adjust;
%ignore vent_balanced_verdict;
HANDLE(vent_balance)
HANDLE(vent_balanced)
%newobject vent_balance_new;
%newobject vent_balance_solve;
%include <ventstack/points.h>
%include <ventstack/balance.h>

%constant int PARAMETER_OUTDOOR_TEMPERATURE = VENT_PARAMETER_OUTDOOR_TEMPERATURE;
%constant int PARAMETER_BAROMETRIC_PRESSURE = VENT_PARAMETER_BAROMETRIC_PRESSURE;
%constant int PARAMETER_SOIL_GAS_TEMPERATURE = VENT_PARAMETER_SOIL_GAS_TEMPERATURE;
%constant int PARAMETER_TERMINATION = VENT_PARAMETER_TERMINATION;
%constant int PARAMETER_TERMINATION_FACTOR = VENT_PARAMETER_TERMINATION_FACTOR;
%constant int PARAMETER_WIND_PRESSURE = VENT_PARAMETER_WIND_PRESSURE;
%constant int PARAMETER_BUILDING_PRESSURE = VENT_PARAMETER_BUILDING_PRESSURE;
%constant int PARAMETER_HEIGHT = VENT_PARAMETER_HEIGHT;
%constant int PARAMETER_TEMPERATURE = VENT_PARAMETER_TEMPERATURE;
%constant int PARAMETER_SPEED = VENT_PARAMETER_SPEED;
%newobject network_solve_at;
%inline %{
/* Fills rows of 7 numbers, the members of an operating point in order; gives how many points there are. */
size_t network_points(const vent_network *network, int fan, elements *rows, vent_error *err)
{
    size_t room = (size_t)rows->size / 7;
    vent_operating_point *points = malloc((room + !room) * sizeof *points);
    if (!points) {
        *err = (vent_error){.status = VENT_E_MEMORY, .index = -1, .message = "no memory"};
        return 0;
    }
    size_t count = vent_network_operating_points(network, NULL, fan, room, points, err);
    for (size_t i = 0; i < count && i < room; ++i) {
        const vent_operating_point *p = &points[i];
        double row[] = {p->fan, p->flags, p->flow, p->pressure, p->fan_slope, p->system_slope,
                        p->stall_flow};
        memcpy(rows->data + 7 * i, row, sizeof row);
    }
    free(points);
    return count;
}

vent_solution *network_solve_at(const vent_network *network, int fan, double flow, double pressure,
                                double system_slope, vent_error *err)
{
    vent_operating_point point = {
        .fan = fan, .flow = flow, .pressure = pressure, .system_slope = system_slope};
    return vent_network_solve_point(network, NULL, point, err);
}

/* Kind, place, item and value of a parameter; None on failure. */
PyObject *network_parameter_named(const vent_network *network, const char *name, vent_error *err)
{
    vent_parameter p = vent_network_find_parameter(network, name, err);
    double value = vent_network_get(network, p, err);
    return Py_BuildValue("iiid", p.kind, p.place, p.item, value);
}

int balance_target_named(vent_balance *balance, const vent_network *network, const char *name,
                         double value, double tolerance, vent_error *err)
{
    vent_observable o = vent_network_find_observable(network, name, err);
    return vent_balance_target(balance, o, value, tolerance, err);
}

/* Allows a parameter to be adjusted, within bounds of its own where it has any. */
int balance_adjust_named(vent_balance *balance, const vent_network *network, const char *name,
                         bool bounded, double low, double high, vent_error *err)
{
    vent_parameter p = vent_network_find_parameter(network, name, err);
    int number = vent_balance_adjust(balance, p, err);
    if (bounded)
        vent_balance_bounds(balance, number, low, high, err);
    return number;
}

PyObject *balanced_text(const vent_balanced *balanced)
{
    size_t size = vent_balanced_verdict(balanced, 0, NULL) + 1;
    char *text = PyMem_Malloc(size);
    if (!text)
        return PyErr_NoMemory();
    text[0] = '\0';
    vent_balanced_verdict(balanced, size, text);
    PyObject *out = text_out(text);
    PyMem_Free(text);
    return out;
}
%}

%include "addresses.i"

%include "practice.i"
%include "diagnose.i"
