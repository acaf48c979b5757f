/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fans that are off, alone and beside running ones; wind and terminations of one discharge; what else is set. */
#include "suites.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <ventstack/ventstack.h>

static vent_solution *solve(const vent_network *net)
{
    vent_error err = VENT_NO_ERROR;
    vent_solution *s = vent_network_solve(net, NULL, &err);
    ck_assert_msg(s && err.status == VENT_OK, "%s", err.message);
    return s;
}

static vent_fan *some_fan(void)
{
    const double flow[] = {0, 0.02, 0.04, 0.06}, pressure[] = {400, 350, 220, 0},
                 power[] = {30, 40, 50, 55};
    return vent_fan_new_at("some", 4, flow, pressure, power, 1.2, NULL);
}

/* Two pits with a fan in each leg, a header that both legs press into, a riser that resists. */
typedef struct header {
    vent_network *net;
    int near, far, meet, roof, left, right, riser, left_fan, right_fan;
} header;

static header header_new(bool damper, double riser_k)
{
    vent_error err = VENT_NO_ERROR;
    vent_air gas = vent_air_moist(285.15, 98000, 1, &err);
    vent_pipe pipe = vent_pipe_find("PVC 40", 3 * VENT_INCH, &err);
    vent_fan *fan = some_fan();
    header h = {.net = vent_network_new(gas, gas, &err)};
    h.near = vent_network_suction_point(h.net, "near", vent_soil_two_term(2e3, 2e5, &err), &err);
    h.far = vent_network_suction_point(h.net, "far", vent_soil_two_term(3e3, 1e5, &err), &err);
    h.meet = vent_network_junction(h.net, "header", vent_wye(VENT_RADIANS(45), &err), &err);
    h.roof = vent_network_discharge(h.net, "roof", vent_open_end(), 6, &err);
    h.left = vent_network_run(h.net, "left", h.near, h.meet, pipe, 4, &err);
    h.right = vent_network_run(h.net, "right", h.far, h.meet, pipe, 5, &err);
    h.riser = vent_network_run(h.net, "riser", h.meet, h.roof, pipe, 8, &err);
    h.left_fan = vent_network_fan(h.net, h.left, fan, &err);
    h.right_fan = vent_network_fan(h.net, h.right, fan, &err);
    if (damper)
        vent_network_fitting(h.net, h.right, vent_check_damper(10, 0.01, &err), 1, &err);
    vent_network_fitting(h.net, h.riser, vent_fitting_constant(riser_k, 0, &err), 1, &err);
    vent_fan_free(fan);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return h;
}

static bool tells(const vent_solution *s, uint32_t flag, const char *what)
{
    vent_warning w;
    for (size_t i = 0; vent_solution_warning(s, i, &w); ++i)
        if (w.flag == flag && strstr(w.message, what))
            return true;
    return false;
}

static bool ledger_tells(const vent_solution *s, const char *what)
{
    vent_ledger_line line;
    for (size_t i = 0; vent_solution_ledger_line(s, i, &line); ++i)
        if (strstr(line.what, what))
            return true;
    return false;
}

/* One of two fans stops: the other presses air from the header back through it, into the soil. A damper holds it
 * but for its leak. */
START_TEST(back_flow_through_a_header)
{
    double back[2];
    for (int damper = 0; damper < 2; ++damper) {
        vent_error err = VENT_NO_ERROR;
        header h = header_new(damper, 30);
        vent_solution *s = solve(h.net);
        ck_assert(vent_solution_flow(s, h.right) > 0.005);
        ck_assert(!(vent_solution_flags(s) & VENT_WARN_FAN_OFF));
        vent_solution_free(s);
        ck_assert(vent_network_fan_off(h.net, h.right, h.right_fan,
                                       vent_fitting_constant(12, 0, &err), &err));
        s = solve(h.net);
        back[damper] = -vent_solution_flow(s, h.right);
        ck_assert(back[damper] > 0);
        ck_assert(vent_solution_pressure(s, h.far) > 0); /* the far soil is pressed upon */
        ck_assert(vent_solution_flags(s) & VENT_WARN_FAN_OFF);
        ck_assert(vent_solution_flags(s) & VENT_WARN_REVERSED);
        ck_assert(tells(s, VENT_WARN_FAN_OFF, "off and air goes backwards through it"));
        ck_assert(ledger_tells(s, "fan some, off, air backwards"));
        ck_assert(ledger_tells(s, "check damper, shut") == (damper == 1));
        vent_fan_point point;
        ck_assert(vent_solution_fan(s, 1, &point));
        double v = point.flow / vent_pipe_area(vent_pipe_find("PVC 40", 3 * VENT_INCH, NULL));
        ck_assert_double_eq_tol(point.pressure, 12 * point.density * v * v / 2, 1e-12);
        ck_assert(point.power == 0 && point.shut_off == 0 && isnan(point.free_delivery));
        vent_solution_free(s);
        ck_assert(vent_network_fan_on(h.net, h.right, h.right_fan, &err));
        s = solve(h.net);
        ck_assert(vent_solution_flow(s, h.right) > 0.005);
        vent_solution_free(s);
        vent_network_free(h.net);
    }
    ck_assert_msg(back[1] < 0.1 * back[0], "%g %g", back[0], back[1]);
}
END_TEST

/* A fan that is off is that fitting, bit for bit. */
START_TEST(off_is_a_fitting)
{
    for (int family = 0; family < 2; ++family) {
        vent_error err = VENT_NO_ERROR;
        vent_fitting resistance =
            family ? vent_orifice_plate(0.6, &err) : vent_fitting_constant(9, 0, &err);
        header h = header_new(false, 5), other = header_new(false, 5);
        vent_network_fan_off(h.net, h.right, h.right_fan, resistance, &err);
        vent_network_free(other.net);
        vent_air gas = vent_air_moist(285.15, 98000, 1, &err);
        vent_fan *fan = some_fan();
        vent_pipe pipe = vent_pipe_find("PVC 40", 3 * VENT_INCH, &err);
        vent_network *net = vent_network_new(gas, gas, &err);
        int near =
            vent_network_suction_point(net, "near", vent_soil_two_term(2e3, 2e5, &err), &err);
        int far = vent_network_suction_point(net, "far", vent_soil_two_term(3e3, 1e5, &err), &err);
        int meet = vent_network_junction(net, "header", vent_wye(VENT_RADIANS(45), &err), &err);
        int roof = vent_network_discharge(net, "roof", vent_open_end(), 6, &err);
        int left = vent_network_run(net, "left", near, meet, pipe, 4, &err);
        int right = vent_network_run(net, "right", far, meet, pipe, 5, &err);
        int riser = vent_network_run(net, "riser", meet, roof, pipe, 8, &err);
        vent_network_fan(net, left, fan, &err);
        vent_network_fitting(net, right, resistance, 1, &err);
        vent_network_fitting(net, riser, vent_fitting_constant(5, 0, &err), 1, &err);
        vent_fan_free(fan);
        vent_solution *a = solve(h.net), *b = solve(net);
        for (int run = 0; run < 3; ++run)
            ck_assert_double_eq_tol(vent_solution_flow(a, run), vent_solution_flow(b, run), 1e-15);
        vent_solution_free(a);
        vent_solution_free(b);
        vent_network_free(h.net);
        vent_network_free(net);
    }
}
END_TEST

/* A weak fan in series with a strong one is driven beyond its free delivery, and says so. */
START_TEST(driven_fan)
{
    vent_error err = VENT_NO_ERROR;
    header h = header_new(false, 0);
    const double flow[] = {0, 0.005, 0.01}, pressure[] = {40, 25, 0};
    vent_fan *weak = vent_fan_new("weak", 3, flow, pressure, &err);
    vent_network_fan(h.net, h.left, weak, &err);
    vent_fan_free(weak);
    vent_solution *s = solve(h.net);
    ck_assert(vent_solution_flags(s) & VENT_WARN_FAN_DRIVEN);
    ck_assert(
        tells(s, VENT_WARN_FAN_DRIVEN, "'weak' is driven by the air, beyond its free delivery"));
    vent_solution_free(s);
    vent_network_free(h.net);
}
END_TEST

START_TEST(addresses_of_a_fan_that_is_off)
{
    vent_error err = VENT_NO_ERROR;
    header h = header_new(false, 5);
    vent_error none = VENT_NO_ERROR;
    vent_network_find_parameter(h.net, "right.running", &none);
    ck_assert_int_eq(none.status, VENT_E_NOT_FOUND); /* nothing is known of it standing still */
    ck_assert_msg(strstr(none.message, "a fan has it once it was switched off") != NULL, "%s",
                  none.message);
    size_t before = vent_network_parameter_count(h.net);
    vent_network_fan_off(h.net, h.right, h.right_fan, vent_fitting_constant(7, 0, &err), &err);
    ck_assert_uint_eq(vent_network_parameter_count(h.net),
                      before + 4); /* k, k_reversed, factor, running */
    vent_parameter running = vent_network_find_parameter(h.net, "right.running", &err);
    vent_parameter k = vent_network_find_parameter(h.net, "right[1].k", &err);
    vent_parameter factor = vent_network_find_parameter(h.net, "right[1].factor", &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    ck_assert(vent_network_get(h.net, running, &err) == 0 && vent_network_get(h.net, k, &err) == 7);
    ck_assert(vent_network_get(h.net, factor, &err) == 1);
    vent_solution *off = solve(h.net);
    ck_assert(vent_network_set(h.net, running, 1, &err));
    vent_solution *on = solve(h.net);
    ck_assert(vent_solution_flow(on, h.right) > vent_solution_flow(off, h.right));
    ck_assert(!(vent_solution_flags(on) & VENT_WARN_FAN_OFF));
    vent_solution_free(off);
    vent_solution_free(on);
    vent_network_free(h.net);
}
END_TEST

START_TEST(fans_that_cannot_be_off)
{
    vent_error ok = VENT_NO_ERROR;
    header h = header_new(false, 5);
    vent_fitting k = vent_fitting_constant(7, 0, &ok), bad = {0};
    const struct {
        int run, item;
        vent_fitting resistance;
        int status;
        const char *says;
    } row[] = {{9, 1, k, VENT_E_NOT_FOUND, "run is 9"},
               {h.right, 0, k, VENT_E_NOT_FOUND, "item 0 of run 'right' is not a fan"},
               {h.right, -1, k, VENT_E_NOT_FOUND, "item -1"},
               {h.right, h.right_fan, bad, VENT_E_ARGUMENT, "fitting"}};
    for (size_t i = 0; i < sizeof row / sizeof *row; ++i) {
        vent_error err = VENT_NO_ERROR;
        ck_assert(!vent_network_fan_off(h.net, row[i].run, row[i].item, row[i].resistance, &err));
        ck_assert_msg(err.status == row[i].status && strstr(err.message, row[i].says), "%s",
                      err.message);
        vent_error again = VENT_NO_ERROR;
        if (i < 3) {
            ck_assert(!vent_network_fan_on(h.net, row[i].run, row[i].item, &again));
            ck_assert_int_eq(again.status, row[i].status);
        }
    }
    ck_assert(!vent_network_fan_off(NULL, 0, 0, k, NULL));
    ck_assert(!vent_network_fan_on(NULL, 0, 0, NULL));
    vent_network_free(h.net);
}
END_TEST

/* ---- wind and tops of each discharge ------------------------------------------------------------- */

/* Two stacks on one header, alike but for the wind at their ends. */
START_TEST(wind_at_each_discharge)
{
    vent_error err = VENT_NO_ERROR;
    vent_air air = vent_air_moist(288.15, 98000, 0.5, &err);
    vent_pipe pipe = vent_pipe_find("PVC 40", 3 * VENT_INCH, &err);
    vent_network *net = vent_network_new(air, air, &err);
    int pit = vent_network_suction_point(net, "pit", vent_soil_two_term(1e3, 0, &err), &err);
    int tee = vent_network_junction(net, "tee", vent_junction_lossless(), &err);
    int east = vent_network_discharge(net, "east", vent_open_end(), 5, &err);
    int west = vent_network_discharge(net, "west", vent_open_end(), 5, &err);
    vent_network_run(net, "in", pit, tee, pipe, 1, &err);
    int to_east = vent_network_run(net, "to east", tee, east, pipe, 6, &err);
    int to_west = vent_network_run(net, "to west", tee, west, pipe, 6, &err);
    vent_network_set_wind(net, 20, &err);
    vent_network_set_pressure_coefficient(net, east, 0.7, &err);
    vent_network_set_pressure_coefficient(net, west, -1.1, &err);
    vent_network_set_wind_pressure(net, -3, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    vent_solution *s = solve(net);
    ck_assert_double_eq_tol(vent_solution_pressure(s, east), 0.7 * 20 - 3, 1e-12);
    ck_assert_double_eq_tol(vent_solution_pressure(s, west), -1.1 * 20 - 3, 1e-12);
    ck_assert(vent_solution_flow(s, to_east) < 0 && vent_solution_flow(s, to_west) > 0);
    vent_ledger_line line;
    int winds = 0;
    for (size_t i = 0; vent_solution_ledger_line(s, i, &line); ++i)
        if (line.kind == VENT_LINE_WIND) {
            ck_assert_double_eq_tol(line.loss, line.node == east ? 11 : -25, 1e-12);
            ++winds;
        }
    ck_assert_int_eq(winds, 2);
    vent_solution_free(s);
    /* a top of its own */
    ck_assert(vent_network_set_termination_at(
        net, west, vent_termination_blocked(vent_open_end(), 0.5, &err), &err));
    s = solve(net);
    int blocked = 0, open = 0;
    for (size_t i = 0; vent_solution_ledger_line(s, i, &line); ++i)
        if (line.kind == VENT_LINE_TERMINATION) {
            blocked += line.node == west && !strcmp(line.what, "open end, 50 % blocked");
            open += line.node == east && !strcmp(line.what, "open end");
        }
    ck_assert(blocked == 1 && open == 1);
    vent_solution_free(s);
    vent_error bad = VENT_NO_ERROR;
    ck_assert(!vent_network_set_termination_at(net, pit, vent_open_end(), &bad));
    ck_assert(bad.status == VENT_E_NOT_FOUND && strstr(bad.message, "'pit' is no discharge"));
    bad = (vent_error)VENT_NO_ERROR;
    ck_assert(!vent_network_set_pressure_coefficient(net, pit, 1, &bad));
    ck_assert(bad.status == VENT_E_NOT_FOUND);
    const double out[] = {NAN, 11, -11};
    for (int i = 0; i < 3; ++i)
        ck_assert(!vent_network_set_pressure_coefficient(net, east, out[i], NULL));
    ck_assert(!vent_network_set_wind(net, -1, NULL) && !vent_network_set_wind(net, NAN, NULL));
    ck_assert(!vent_network_set_termination_at(net, 99, vent_open_end(), NULL));
    ck_assert(!vent_network_set_termination_at(net, east, (vent_termination){0}, NULL));
    vent_network_free(net);
}
END_TEST

START_TEST(guards_tell_what_is_free)
{
    vent_error err = VENT_NO_ERROR;
    header h = header_new(false, 0);
    vent_termination guard = vent_end_guard(0.001, 0.009, &err);
    vent_network_set_termination(h.net, guard, &err);
    vent_solution *s = solve(h.net);
    ck_assert(ledger_tells(s, "81 % free"));
    vent_solution_free(s);
    vent_network_set_termination(h.net, vent_termination_iced(guard, 0.002, &err), &err);
    s = solve(h.net);
    ck_assert(ledger_tells(s, "25 % free"));
    vent_solution_free(s);
    vent_network_free(h.net);
}
END_TEST

/* ---- coupled soil, and temperatures of their own -------------------------------------------------- */

START_TEST(coupling_has_an_address)
{
    vent_error err = VENT_NO_ERROR;
    header h = header_new(false, 5);
    vent_error none = VENT_NO_ERROR;
    vent_network_find_parameter(h.net, "near~far.resistance", &none);
    ck_assert_int_eq(none.status, VENT_E_NOT_FOUND);
    size_t before = vent_network_parameter_count(h.net);
    vent_network_couple(h.net, h.far, h.near, 500, &err);
    ck_assert_uint_eq(vent_network_parameter_count(h.net), before + 1);
    vent_parameter p = vent_network_find_parameter(h.net, "near~far.resistance", &err);
    vent_parameter q = vent_network_find_parameter(h.net, "far~near.resistance", &err);
    vent_parameter r =
        vent_network_parameter(h.net, VENT_PARAMETER_COUPLING, h.near, h.far, 0, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    ck_assert(!memcmp(&p, &q, sizeof p) && !memcmp(&p, &r, sizeof p));
    char name[64];
    ck_assert_uint_eq(vent_network_parameter_name(h.net, p, sizeof name, name), strlen(name));
    ck_assert_str_eq(name, "far~near.resistance"); /* as it was stated */
    char cut[6];
    ck_assert_uint_eq(vent_network_parameter_name(h.net, p, sizeof cut, cut), strlen(name));
    ck_assert_str_eq(cut, "far~n");
    ck_assert(vent_network_get(h.net, p, &err) == 500);
    vent_solution *s = solve(h.net);
    ck_assert(vent_network_set(h.net, p, 0, &err));
    vent_solution *apart = solve(h.net);
    ck_assert(vent_solution_flow(apart, h.riser) > vent_solution_flow(s, h.riser));
    ck_assert(!vent_network_set(h.net, p, -1, NULL) && !vent_network_set(h.net, p, NAN, NULL));
    vent_parameter_range range;
    ck_assert(vent_network_parameter_range(h.net, p, &range));
    ck_assert_str_eq(range.unit, "Pa s/m3");
    vent_solution_free(s);
    vent_solution_free(apart);
    vent_network_free(h.net);
}
END_TEST

/* What is read and written back becomes the run's own; clearing takes that back. */
START_TEST(own_temperature_and_back)
{
    vent_error err = VENT_NO_ERROR;
    header h = header_new(false, 5);
    vent_parameter own = vent_network_find_parameter(h.net, "riser.temperature", &err);
    vent_parameter gas = vent_network_find_parameter(h.net, "soil_gas_temperature", &err);
    vent_network_set(h.net, own, vent_network_get(h.net, own, &err), &err);
    vent_network_set(h.net, gas, 280, &err);
    ck_assert(vent_network_get(h.net, own, &err) == 285.15);
    ck_assert(vent_network_clear_temperature(h.net, h.riser, &err));
    ck_assert(vent_network_get(h.net, own, &err) == 280);
    vent_network_set(h.net, gas, 290, &err);
    ck_assert(vent_network_get(h.net, own, &err) == 290);
    ck_assert(!vent_network_clear_temperature(h.net, 77, NULL));
    ck_assert(!vent_network_clear_temperature(NULL, 0, NULL));
    vent_network_free(h.net);
}
END_TEST

Suite *fans_off_suite(void)
{
    Suite *suite = suite_create("fans_off");
    TCase *fans = tcase_create("fans");
    tcase_add_test(fans, back_flow_through_a_header);
    tcase_add_test(fans, off_is_a_fitting);
    tcase_add_test(fans, driven_fan);
    tcase_add_test(fans, addresses_of_a_fan_that_is_off);
    tcase_add_test(fans, fans_that_cannot_be_off);
    TCase *settings = tcase_create("settings");
    tcase_add_test(settings, wind_at_each_discharge);
    tcase_add_test(settings, guards_tell_what_is_free);
    tcase_add_test(settings, coupling_has_an_address);
    tcase_add_test(settings, own_temperature_and_back);
    suite_add_tcase(suite, fans);
    suite_add_tcase(suite, settings);
    return suite;
}
