/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stating a diagnosis: design, inputs, readings, faults. */
#include <stdlib.h>

#include "base/memory.h"
#include "practice/diagnosing.h"

enum { MOST_INPUTS = 1000, MOST_READINGS = 100, MOST_FANS = 100, MOST_FAULTS = 500 };

/* ---- begin, copy, end ---------------------------------------------------------------------------- */

vent_diagnosis *vent_diagnosis_new(const vent_network *design, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(design))
        return NULL;
    vent_workspace *complete = vent_workspace_new(design, err);
    vent_workspace_free(complete);
    vent_diagnosis *d = complete ? calloc(1, sizeof *d) : NULL;
    if (!d) {
        if (complete)
            vent__no_memory(err, __func__);
        return NULL;
    }
    d->design = vent_network_copy(design, err);
    if (d->design)
        return d;
    free(d);
    return NULL;
}

void vent_diagnosis_free(vent_diagnosis *diagnosis)
{
    if (!diagnosis)
        return;
    vent_network_free(diagnosis->design);
    free(diagnosis->inputs);
    free(diagnosis->readings);
    for (int i = 0; i < diagnosis->fan_count; ++i)
        vent_fan_free(diagnosis->fans[i]);
    free(diagnosis->fans);
    free(diagnosis->faults);
    free(diagnosis);
}

vent_diagnosis *vent__diagnosis_copy(const vent_diagnosis *from, vent_error *err)
{
    vent_diagnosis *to = vent_diagnosis_new(from->design, err);
    if (!to)
        return NULL;
    to->inputs = vent__duplicate(from->inputs, (size_t)from->input_count, sizeof *to->inputs);
    to->readings =
        vent__duplicate(from->readings, (size_t)from->reading_count, sizeof *to->readings);
    to->faults = vent__duplicate(from->faults, (size_t)from->fault_count, sizeof *to->faults);
    bool whole = to->inputs && to->readings && to->faults;
    to->input_count = to->input_room = from->input_count;
    to->reading_count = to->reading_room = from->reading_count;
    to->fault_count = to->fault_room = from->fault_count;
    for (int i = 0; whole && i < from->fan_count; ++i)
        whole = vent_diagnosis_fan(to, from->fans[i], err) >= 0;
    if (whole)
        return to;
    vent__no_memory(err, "vent_diagnosis_solve");
    vent_diagnosis_free(to);
    return NULL;
}

/* ---- inputs --------------------------------------------------------------------------------------- */

static bool input_is_sound(const vent_diagnosis *d, const vent_input *input, size_t i,
                           vent_error *err)
{
    char name[VENT__NAME_ROOM];
    const char *function = "vent_diagnosis_inputs";
    double value = vent_network_get(d->design, input->parameter, err);
    if (isnan(value))
        return false;
    vent__parameter_text(d->design, input->parameter, name);
    if (!(input->uncertainty > 0) || !isfinite(input->uncertainty))
        return vent__fail(
            err, VENT_E_ARGUMENT, function, "inputs", (int64_t)i, input->uncertainty, 0, INFINITY,
            "input %zu, %s: standard uncertainty %g must be above 0 and finite; leave "
            "out what is certain",
            i, name, input->uncertainty);
    if (input->shape < 0 || input->shape >= VENT_SHAPE_END)
        return vent__fail(err, VENT_E_ARGUMENT, function, "inputs", (int64_t)i, input->shape, 0,
                          VENT_SHAPE_END - 1, "input %zu, %s: no shape %d", i, name,
                          (int)input->shape);
    if (input->shape == VENT_SHAPE_LOG_NORMAL && !(value > 0))
        return vent__fail(err, VENT_E_ARGUMENT, function, "inputs", (int64_t)i, value, 0, INFINITY,
                          "input %zu, %s: log-normal, but its value %g is not above 0", i, name,
                          value);
    for (int j = 0; j < d->input_count; ++j)
        if (vent__same_parameter(d->inputs[j].parameter, input->parameter))
            return vent__fail(err, VENT_E_DUPLICATE, function, "inputs", (int64_t)i, NAN, NAN, NAN,
                              "input %zu, %s: is an input already", i, name);
    return true;
}

bool vent_diagnosis_inputs(vent_diagnosis *diagnosis, size_t n, const vent_input *inputs,
                           vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(diagnosis) || (n > 0 && !VENT__POINTER(inputs)) ||
        !vent__check_range(err, __func__, "inputs", "", (double)diagnosis->input_count + (double)n,
                           0, MOST_INPUTS))
        return false;
    vent_diagnosis *d = diagnosis;
    int before = d->input_count;
    for (size_t i = 0; i < n; ++i) {
        bool room = vent__reserve(&d->inputs, &d->input_room, d->input_count, sizeof *d->inputs) ||
                    vent__no_memory(err, __func__);
        if (!room || !input_is_sound(d, &inputs[i], i, err)) {
            d->input_count = before;
            return false;
        }
        d->inputs[d->input_count++] = inputs[i];
    }
    return true;
}

/* ---- readings ------------------------------------------------------------------------------------- */

int vent_diagnosis_reading(vent_diagnosis *diagnosis, vent_observable observable,
                           vent_reading reading, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(diagnosis))
        return -1;
    vent_diagnosis *d = diagnosis;
    if (vent_network_observable_name(d->design, observable, 0, NULL) == 0) {
        VENT__FAIL(VENT_E_NOT_FOUND, "observable", d->reading_count,
                   "reading %d: the design has no such place to read", d->reading_count);
        return -1;
    }
    if (!vent__check_reading(reading, "reading", d->reading_count, __func__, err) ||
        !vent__check_range(err, __func__, "diagnosis: readings", "", d->reading_count + 1, 1,
                           MOST_READINGS))
        return -1;
    if (!vent__reserve(&d->readings, &d->reading_room, d->reading_count, sizeof *d->readings)) {
        vent__no_memory(err, __func__);
        return -1;
    }
    d->readings[d->reading_count] = (vent__read){observable, reading.value, reading.uncertainty};
    return d->reading_count++;
}

int vent_diagnosis_test_hole(vent_diagnosis *diagnosis, int node, vent_reading share,
                             vent_reading pressure, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(diagnosis) ||
        !vent__check_range(err, __func__, "share", "", share.value, 1e-4, 1) ||
        !vent__check_range(err, __func__, "share.uncertainty", "", share.uncertainty, 0, 1) ||
        !vent__check_reading(pressure, "pressure", diagnosis->reading_count, __func__, err))
        return -1;
    vent_observable pit =
        vent_network_observable(diagnosis->design, VENT_OBSERVABLE_PRESSURE, node, 0, err);
    if (pit.kind == VENT_OBSERVABLE_NONE)
        return -1;
    if (vent_network_node_kind(diagnosis->design, node) != VENT_NODE_SUCTION_POINT) {
        VENT__FAIL(VENT_E_ARGUMENT, "node", node,
                   "node %d is no suction point: a test hole looks "
                   "at the soil around one",
                   node);
        return -1;
    }
    double value = pressure.value / share.value;
    double uncertainty =
        hypot(pressure.uncertainty / share.value, value * share.uncertainty / share.value);
    return vent_diagnosis_reading(diagnosis, pit, vent_reading_stated(value, uncertainty), err);
}

int vent_diagnosis_fan(vent_diagnosis *diagnosis, const vent_fan *fan, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(diagnosis) || !VENT__POINTER(fan) ||
        !vent__check_range(err, __func__, "diagnosis: fans", "", diagnosis->fan_count + 1, 1,
                           MOST_FANS))
        return -1;
    vent_diagnosis *d = diagnosis;
    bool room = vent__reserve(&d->fans, &d->fan_room, d->fan_count, sizeof(vent_fan *));
    vent_fan *copy = room ? vent_fan_copy(fan, err) : NULL;
    if (!copy) {
        vent__no_memory(err, __func__);
        return -1;
    }
    d->fans[d->fan_count] = copy;
    return d->fan_count++;
}

/* ---- faults --------------------------------------------------------------------------------------- */

bool vent_diagnosis_fault(vent_diagnosis *diagnosis, vent_fault fault, vent_error *err)
{
    if (vent__failed(err) || !VENT__POINTER(diagnosis) ||
        !vent__check_range(err, __func__, "diagnosis: faults", "", diagnosis->fault_count + 1, 1,
                           MOST_FAULTS))
        return false;
    vent_diagnosis *d = diagnosis;
    vent_error own = VENT_NO_ERROR;
    if (!vent__fault_check(d, fault, __func__, &own)) {
        if (err)
            *err = own;
        return false;
    }
    for (int i = 0; i < d->fault_count; ++i)
        if (vent__same_fault(d->faults[i], fault))
            return VENT__FAIL(VENT_E_DUPLICATE, "fault", i,
                              "%s there is among the faults already, as number %d",
                              vent_fault_name(fault.kind), i);
    if (!vent__reserve(&d->faults, &d->fault_room, d->fault_count, sizeof *d->faults))
        return vent__no_memory(err, __func__);
    d->faults[d->fault_count++] = fault;
    return true;
}
