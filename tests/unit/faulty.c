/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "faulty.h"

#include <math.h>

#include "suites.h"

vent_fan *fan_of(const char *name, double shut_off, double most)
{
    double flow[7], pressure[7];
    for (int i = 0; i < 7; ++i) {
        flow[i] = most * i / 6;
        pressure[i] = shut_off * (1 - pow(i / 6.0, 1.8));
    }
    return vent_fan_new(name, 7, flow, pressure, NULL);
}

stack built(void)
{
    vent_error err = VENT_NO_ERROR;
    vent_air gas = vent_air_moist(286, 98300, 1, &err),
             outdoors = vent_air_moist(275, 98300, 0.8, &err);
    vent_pipe pipe = vent_pipe_find("PVC 40", 3 * VENT_INCH, &err);
    stack s = {.fan = fan_of("designed", 480, 0.08), .other = fan_of("other", 260, 0.09)};
    s.net = vent_network_new(gas, outdoors, &err);
    s.store = vent_network_suction_point(s.net, "store", vent_soil_power(4.2e-4, 0.62, &err), &err);
    s.hall = vent_network_suction_point(s.net, "hall", vent_soil_two_term(2e3, 4e5, &err), &err);
    s.tee = vent_network_junction(s.net, "tee", vent_wye(VENT_RADIANS(90), &err), &err);
    s.roof =
        vent_network_discharge(s.net, "ridge", vent_end_guard(1.2e-3, 12.7e-3, &err), 7.9, &err);
    vent_network_set_height(s.net, s.tee, 0.8, &err);
    s.first = vent_network_run(s.net, "first", s.store, s.tee, pipe, 3, &err);
    s.second = vent_network_run(s.net, "second", s.hall, s.tee, pipe, 6, &err);
    s.riser = vent_network_run(s.net, "riser", s.tee, s.roof, pipe, 6, &err);
    vent_network_fitting(s.net, s.riser, vent_elbow(VENT_RADIANS(90), 1.5, &err), 2, &err);
    ck_assert_int_eq(vent_network_fan(s.net, s.riser, s.fan, &err), RISER_FAN);
    ck_assert_int_eq(vent_network_pipe(s.net, s.riser, pipe, 2, VENT_PI, &err), RISER_ABOVE);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return s;
}

void torn_down(stack *s)
{
    vent_network_free(s->net);
    vent_fan_free(s->fan);
    vent_fan_free(s->other);
}

vent_observable read_of(const stack *s, const char *name)
{
    vent_error err = VENT_NO_ERROR;
    vent_observable o = vent_network_find_observable(s->net, name, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return o;
}

/* What one knows of the design: its own parts' spread, the soils', the fan's. */
size_t known_of(const stack *s, vent_input *inputs)
{
    vent_error err = VENT_NO_ERROR;
    size_t n = vent_network_uncertainties(s->net, MOST_INPUTS - 3, inputs, &err);
    ck_assert_uint_le(n, MOST_INPUTS - 3);
    static const struct {
        const char *name;
        double uncertainty;
        int shape;
    } more[] = {{"store.c", 1e-4, VENT_SHAPE_LOG_NORMAL},
                {"hall.a", 5e2, VENT_SHAPE_LOG_NORMAL},
                {"riser.pressure_factor", 0.03, VENT_SHAPE_NORMAL}};
    for (int i = 0; i < 3; ++i)
        inputs[n++] = (vent_input){vent_network_find_parameter(s->net, more[i].name, &err),
                                   more[i].uncertainty, more[i].shape, 0};
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return n;
}

vent_diagnosis *begun(const stack *s, bool doubts)
{
    vent_error err = VENT_NO_ERROR;
    vent_input inputs[MOST_INPUTS];
    vent_diagnosis *d = vent_diagnosis_new(s->net, &err);
    if (doubts)
        vent_diagnosis_inputs(d, known_of(s, inputs), inputs, &err);
    vent_diagnosis_fan(d, s->other, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return d;
}

vent_fault fault_at(int kind, int place, int item)
{
    return (vent_fault){.kind = kind, .place = place, .item = item, .odds = 1};
}

void take(vent_diagnosis *d, vent_observable o, double value, double uncertainty)
{
    vent_error err = VENT_NO_ERROR;
    vent_diagnosis_reading(d, o, vent_reading_stated(value, uncertainty), &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
}

vent_diagnosed *solved(const vent_diagnosis *d)
{
    vent_error err = VENT_NO_ERROR;
    vent_diagnosed *found = vent_diagnosis_solve(d, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return found;
}

vent_finding at_rank(const vent_diagnosed *found, size_t rank)
{
    vent_finding f;
    ck_assert(vent_diagnosed_finding(found, rank, &f));
    return f;
}

const char *const all_names[ALL] = {
    "riser.static_pressure",   "store.pressure", "hall.pressure", "first.static_pressure",
    "second.static_pressure",  "first.flow",     "riser.flow",    "riser[3].static_pressure",
    "riser[1].static_pressure"};
const double all_uncertainty[ALL] = {1, 1, 1, 1, 1, 4e-4, 8e-4, 1, 1};

/* The readings of an exercise at all places. */
void exercise(vent_diagnosis *d, const stack *s, vent_fault fault, double size, uint64_t seed,
              int n)
{
    vent_error err = VENT_NO_ERROR;
    vent_observable o[ALL] = {0};
    vent_reading r[ALL];
    for (int i = 0; i < n; ++i)
        o[i] = read_of(s, all_names[i]);
    vent_diagnosis_exercise(d, fault, size, seed, (size_t)n, o, all_uncertainty, r, &err);
    for (int i = 0; i < n; ++i)
        vent_diagnosis_reading(d, o[i], r[i], &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
}

double riser_flow(const vent_network *net, const stack *s)
{
    vent_error err = VENT_NO_ERROR;
    vent_solution *point = vent_network_solve(net, NULL, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    double flow = vent_solution_flow(point, s->riser);
    vent_solution_free(point);
    return flow;
}
