/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Measurement: published values, uncertainty against random trials, verdicts, bad input. */
#include <ventstack/measure.h>

#include "csv.h"
#include "random.h"
#include "suites.h"

#include <string.h>
#include <ventstack/friction.h>
#include <ventstack/source.h>
#include <ventstack/units.h>

static const double NOT_A_NUMBER = (double)NAN;

static vent_pipe pvc(double inches)
{
    return vent_pipe_find("PVC 40", inches * VENT_INCH, NULL);
}

/* A place with 100 bores of straight pipe before it, known exactly but for the pipe's own bore. */
static vent_station place(vent_pipe pipe)
{
    vent_error err = VENT_NO_ERROR;
    vent_station s = vent_station_at(pipe, vent_reading_stated(98300, 0),
                                     vent_reading_stated(-274, 0), vent_reading_stated(285.15, 0),
                                     vent_reading_stated(1, 0), 100 * pipe.width, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return s;
}

static vent_station place_of_density(double density)
{
    vent_station s = place(vent_pipe_round(0.5, 0, NULL));
    s.gas.density = density;
    return s;
}

/* Shows everything, errs in nothing. */
static vent_instrument perfect(void)
{
    return vent_instrument_pressure(1e5, 0, 0, 0, NULL);
}

static vent_instrument of_spread(double standard)
{
    return vent_instrument_pressure(1e5, 0, sqrt(3) * standard, 0, NULL);
}

/* No thickness, no error. */
static vent_probe point(void)
{
    return vent_probe_new(0, 0, 1, 0, 0, NULL);
}

/* ---- published values ----------------------------------------------------------------------- */

START_TEST(velocities_are_the_published_ones)
{
    csv *table = csv_open("measure_velocity.csv");
    while (csv_next(table)) {
        double p = csv_number(table, "pressure"), tolerance = csv_number(table, "tolerance");
        if (strcmp(csv_text(table, "path"), "4005") == 0) {
            csv_expect(table, "velocity", vent_velocity_4005(p), tolerance, 0);
            continue;
        }
        double density = csv_number(table, "density");
        csv_expect(table, "velocity", vent_velocity_of_pressure(p, density), tolerance, 0);
        vent_reading v =
            vent_point_velocity(place_of_density(density), point(), perfect(), p, 0.2, NULL);
        csv_expect(table, "velocity", v.value, tolerance, 0);
    }
    csv_close(table);
}
END_TEST

START_TEST(the_4005_rule_stands_apart_by_its_inch_of_water)
{
    double exact = vent_velocity_of_pressure(60, VENT_STANDARD_DENSITY);
    ck_assert_double_eq_tol(exact / vent_velocity_4005(60), 4008.551 / 4005, 1e-7);
}
END_TEST

START_TEST(traverse_points_are_the_published_ones)
{
    csv *table = csv_open("measure_traverse.csv");
    while (csv_next(table)) {
        bool round = strcmp(csv_text(table, "shape"), "round") == 0;
        vent_pipe pipe = round ? vent_pipe_round(1, 0, NULL) : vent_pipe_rectangular(1, 1, 0, NULL);
        double position[24];
        int moved =
            vent_traverse_positions(pipe, 0, (int)csv_number(table, "rule"),
                                    (int)csv_number(table, "points"), point(), position, NULL);
        ck_assert_int_eq(moved, 0);
        csv_expect(table, "share", position[(int)csv_number(table, "index") - 1], 0,
                   csv_number(table, "tolerance"));
    }
    csv_close(table);
}
END_TEST

START_TEST(power_law_ratios_are_exact)
{
    csv *table = csv_open("measure_power_law.csv");
    while (csv_next(table))
        csv_expect(table, "ratio", vent_mean_to_centre_power(csv_number(table, "n")),
                   csv_number(table, "tolerance"), 0);
    csv_close(table);
}
END_TEST

START_TEST(an_entrance_is_found_through_the_power_law)
{
    csv *table = csv_open("measure_entrance.csv");
    while (csv_next(table)) {
        double d = csv_number(table, "bore"), q = csv_number(table, "flow");
        double v = q / (VENT_PI / 4 * d * d);
        double n = -1.7 + 1.8 * log10(v * d / csv_number(table, "viscosity"));
        double alpha =
            pow(1 / vent_mean_to_centre_power(n), 3) * 2 * n * n / ((3 + n) * (3 + 2 * n));
        double heads = csv_number(table, "head") * 2 * csv_number(table, "gravity") / (v * v);
        double friction = csv_number(table, "friction") * csv_number(table, "length") / d;
        csv_expect(table, "k", heads - friction - alpha, 0, csv_number(table, "tolerance"));
    }
    csv_close(table);
}
END_TEST

START_TEST(mean_to_centre_is_the_published_one)
{
    csv *table = csv_open("measure_mean_to_centre.csv");
    while (csv_next(table))
        csv_expect(table, "ratio", vent_mean_to_centre(csv_number(table, "reynolds"), 0),
                   csv_number(table, "tolerance"), 0);
    csv_close(table);
}
END_TEST

START_TEST(discharge_is_the_published_one)
{
    csv *table = csv_open("measure_orifice.csv");
    while (csv_next(table)) {
        double d = csv_number(table, "pipe_bore");
        csv_expect(table, "discharge",
                   vent_orifice_discharge(d, csv_number(table, "diameter_ratio") * d,
                                          csv_number(table, "reynolds"),
                                          (int)csv_number(table, "taps")),
                   csv_number(table, "tolerance"), 0);
    }
    csv_close(table);
}
END_TEST

START_TEST(expansibility_and_loss_are_the_published_ones)
{
    csv *table = csv_open("measure_expansibility.csv");
    while (csv_next(table))
        csv_expect(table, "expansibility",
                   vent_orifice_expansibility(
                       csv_number(table, "diameter_ratio"), csv_number(table, "pressure"),
                       csv_number(table, "difference"), csv_number(table, "exponent")),
                   csv_number(table, "tolerance"), 0);
    csv_close(table);
    table = csv_open("measure_orifice_loss.csv");
    while (csv_next(table))
        csv_expect(table, "loss",
                   vent_orifice_loss(csv_number(table, "diameter_ratio"),
                                     csv_number(table, "discharge"),
                                     csv_number(table, "difference")),
                   csv_number(table, "tolerance"), 0);
    csv_close(table);
}
END_TEST

START_TEST(water_and_columns_weigh_what_is_published)
{
    csv *table = csv_open("measure_water.csv");
    while (csv_next(table))
        csv_expect(table, "density", vent_water_density(csv_number(table, "temperature")),
                   csv_number(table, "tolerance"), 0);
    csv_close(table);
    table = csv_open("measure_column.csv");
    while (csv_next(table)) {
        vent_error err = VENT_NO_ERROR;
        vent_reading density = vent_reading_stated(csv_number(table, "density"), 0);
        vent_instrument column =
            strcmp(csv_text(table, "kind"), "u-tube") == 0
                ? vent_instrument_u_tube(1, 0, density, &err)
                : vent_instrument_inclined(1, 0, density,
                                           vent_reading_stated(csv_number(table, "tilt"), 0),
                                           csv_number(table, "area_ratio"), &err);
        vent_reading p = vent_instrument_read(column, csv_number(table, "indication"), &err);
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        csv_expect(table, "pressure", p.value, csv_number(table, "tolerance"), 0);
    }
    csv_close(table);
}
END_TEST

START_TEST(uncertainty_propagates_as_in_the_published_example)
{
    csv *table = csv_open("measure_gum.csv");
    while (csv_next(table)) {
        double t = csv_number(table, "temperature"), p = csv_number(table, "pressure");
        vent_station s = place_of_density(p / (csv_number(table, "gas_constant") * t));
        s.density_uncertainty = s.gas.density * hypot(csv_number(table, "u_temperature") / t,
                                                      csv_number(table, "u_pressure") / p);
        vent_reading v =
            vent_point_velocity(s, point(), of_spread(csv_number(table, "u_difference")),
                                csv_number(table, "difference"), 0.2, NULL);
        csv_expect(table, "velocity", v.value, csv_number(table, "velocity_tolerance"), 0);
        csv_expect(table, "u_velocity", v.uncertainty, csv_number(table, "u_tolerance"), 0);
        ck_assert_uint_eq(v.flags, 0);
    }
    csv_close(table);
}
END_TEST

/* How far one-point readings may be off where the straight pipe is not known. */
START_TEST(one_point_factors_of_practice_scatter_as_the_uncertainty_says)
{
    csv *table = csv_open("measure_one_point.csv");
    double squares = 0;
    while (csv_next(table)) {
        vent_station s = place(pvc(csv_number(table, "nominal")));
        s.gas.density = VENT_STANDARD_DENSITY;
        s.straight = 0;
        vent_reading flow = vent_centre_flow(s, point(), perfect(), 0.2 * VENT_INWC, NULL, NULL);
        double theirs = csv_number(table, "factor") * sqrt(0.2) * VENT_CFM;
        double deviation = (theirs - flow.value) / flow.uncertainty;
        ck_assert_msg(fabs(deviation) <= 2.06, "%s: %g", csv_where(table), deviation);
        squares += deviation * deviation;
    }
    csv_close(table);
    ck_assert_double_le(squares, 9.49);
}
END_TEST

/* ---- the rules by themselves ---------------------------------------------------------------- */

/* Over a pipe's section the mean of ln(y/R) is -3/2: what a log rule must give. */
START_TEST(log_rules_average_a_log_law)
{
    for (int rule = VENT_TRAVERSE_LOG_LINEAR; rule <= VENT_TRAVERSE_LOG_TCHEBYCHEFF; ++rule)
        for (int points = 4; points <= 10; points += 2) {
            double y[24], sum = 0;
            if (vent_traverse_positions(vent_pipe_round(1, 0, NULL), 0, rule, points, point(), y,
                                        NULL) < 0)
                continue;
            for (int k = 0; k < points; ++k)
                sum += log(2 * fmin(y[k], 1 - y[k])) / points;
            ck_assert_double_eq_tol(sum, -1.5, 0.004);
        }
}
END_TEST

/* Flow of a developed power-law profile, traversed: the rules' own error. */
START_TEST(rules_find_the_flow_of_a_power_law)
{
    static const struct {
        int rule, points;
        double least, most;
    } cases[] = {{1, 4, -0.004, 0.004},  {1, 6, -0.004, 0.004}, {1, 8, -0.004, 0.004},
                 {1, 10, -0.004, 0.004}, {2, 6, -0.005, 0.004}, {2, 8, -0.004, 0.004},
                 {2, 10, -0.004, 0.004}, {3, 4, 0.010, 0.0151}, {3, 10, 0.003, 0.006}};
    vent_station s = place(vent_pipe_round(0.3, 0, NULL));
    for (size_t c = 0; c < sizeof cases / sizeof *cases; ++c)
        for (double n = 6; n <= 10; n += 1) {
            double y[24], vp[48];
            int points = cases[c].points;
            ck_assert_int_eq(
                vent_traverse_positions(s.pipe, 0, cases[c].rule, points, point(), y, NULL), 0);
            for (int k = 0; k < 2 * points; ++k) {
                double v = 8 * pow(2 * fmin(y[k % points], 0.3 - y[k % points]) / 0.3, 1 / n);
                vp[k] = 0.5 * s.gas.density * v * v;
            }
            vent_reading q =
                vent_traverse_flow(s, point(), perfect(), cases[c].rule, 2, points, vp, NULL);
            double exact = 8 * vent_mean_to_centre_power(n) * vent_pipe_area(s.pipe);
            double error = q.value / exact - 1;
            ck_assert_msg(error >= cases[c].least && error <= cases[c].most, "%d %d n %g: %g",
                          cases[c].rule, points, n, error);
            ck_assert_double_le(fabs(q.value - exact), 2 * q.uncertainty);
        }
}
END_TEST

START_TEST(rectangular_rules_find_the_flow_of_a_power_law)
{
    vent_station s = place(vent_pipe_rectangular(0.4, 0.2, 0, NULL));
    for (int rule = VENT_TRAVERSE_LOG_TCHEBYCHEFF; rule <= VENT_TRAVERSE_EQUAL_AREA; ++rule)
        for (int lines = 5; lines <= 7; ++lines) {
            double x[24], y[24], vp[49];
            vent_traverse_positions(s.pipe, 0, rule, 6, point(), x, NULL);
            vent_traverse_positions(s.pipe, 1, rule, lines, point(), y, NULL);
            for (int k = 0; k < 6 * lines; ++k) {
                double across = fmin(x[k % 6], 0.4 - x[k % 6]) / 0.2;
                double along = fmin(y[k / 6], 0.2 - y[k / 6]) / 0.1;
                vp[k] = 0.5 * s.gas.density * pow(8 * pow(across * along, 1 / 7.0), 2);
            }
            vent_reading q = vent_traverse_flow(s, point(), perfect(), rule, lines, 6, vp, NULL);
            double exact = 8 * (49 / 64.0) * vent_pipe_area(s.pipe);
            double bound = rule == VENT_TRAVERSE_EQUAL_AREA ? 0.03 : 0.006;
            ck_assert_double_le(fabs(q.value / exact - 1), bound);
            ck_assert_double_le(fabs(q.value - exact), 2 * q.uncertainty);
        }
}
END_TEST

START_TEST(the_mean_is_of_velocities_not_of_pressures)
{
    double vp[] = {4, 16, 36};
    ck_assert_double_eq_tol(vent_mean_velocity_pressure(3, vp, NULL), 16, 1e-13);
}
END_TEST

START_TEST(a_wide_head_is_kept_off_the_wall)
{
    vent_error err = VENT_NO_ERROR;
    vent_probe probe = vent_pitot(0.008, &err);
    probe.offset = 0.05;
    double y[10], bore = pvc(3).width;
    ck_assert_int_eq(
        vent_traverse_positions(pvc(3), 0, VENT_TRAVERSE_LOG_LINEAR, 6, probe, y, &err), 2);
    ck_assert_double_eq_tol(y[0], 0.05 + 0.004, 1e-15);
    ck_assert_double_eq_tol(y[1], 0.05 + 0.135 * bore, 1e-15);
    ck_assert_double_eq_tol(y[5], 0.05 + bore - 0.004, 1e-15);
    probe = vent_pitot(0.03, &err);
    ck_assert_int_eq(
        vent_traverse_positions(pvc(3), 0, VENT_TRAVERSE_LOG_LINEAR, 10, probe, y, &err), -1);
    ck_assert_ptr_nonnull(strstr(err.message, "fall together"));
}
END_TEST

/* ---- one reading at the centre -------------------------------------------------------------- */

/* A flow that is known, its centre velocity laid on by the ratio, comes back. */
START_TEST(a_known_flow_comes_back)
{
    for (double cfm = 0.5; cfm < 400; cfm *= 1.1) {
        vent_station s = place(pvc(4));
        double mean = cfm * VENT_CFM / vent_pipe_area(s.pipe);
        double re = mean * s.pipe.width * s.gas.density / s.gas.viscosity;
        double centre = mean / vent_mean_to_centre(re, s.pipe.roughness / s.pipe.width);
        vent_reading q = vent_centre_flow(s, point(), perfect(),
                                          0.5 * s.gas.density * centre * centre, NULL, NULL);
        ck_assert_double_eq_tol(q.value / VENT_CFM / cfm, 1, 1e-11);
        ck_assert_uint_eq(q.flags, re > 2000 && re < 4000 ? VENT_READING_TRANSITIONAL : 0);
        double relative = q.uncertainty / q.value, floor = re < 2000 ? 0.01 : 0.02;
        ck_assert_double_ge(relative, floor);
        ck_assert(re > 4000 || re < 2000 ? relative < 0.03 : relative < 0.16);
    }
}
END_TEST

START_TEST(the_ratio_is_continuous)
{
    for (double re = 2000; re <= 4000; re += 2000) {
        double below = vent_mean_to_centre(re * (1 - 1e-9), 1e-4);
        ck_assert_double_eq_tol(below, vent_mean_to_centre(re * (1 + 1e-9), 1e-4), 1e-8);
    }
    ck_assert_double_eq(vent_mean_to_centre(1e-300, 0), 0.5);
}
END_TEST

START_TEST(straight_pipe_makes_it_surer)
{
    vent_station s = place(pvc(3));
    vent_reading before = {0};
    for (double bores = 0; bores <= 30; bores += 5) {
        s.straight = bores * s.pipe.width;
        vent_reading q = vent_centre_flow(s, point(), perfect(), 14, NULL, NULL);
        if (bores > 0) {
            ck_assert_double_le(q.uncertainty, before.uncertainty);
            ck_assert_double_eq(q.value, before.value);
        }
        before = q;
    }
}
END_TEST

START_TEST(an_own_ratio_is_taken_as_it_is)
{
    vent_station s = place(pvc(3));
    s.straight = 0;
    vent_reading own = vent_reading_stated(0.9, 0.009);
    vent_reading q = vent_centre_flow(s, point(), perfect(), 14, &own, NULL);
    double v = vent_velocity_of_pressure(14, s.gas.density);
    ck_assert_double_eq_tol(q.value, 0.9 * v * vent_pipe_area(s.pipe), 1e-15);
    double bore = 2 * s.pipe.bore_uncertainty / s.pipe.width;
    ck_assert_double_eq_tol(q.uncertainty / q.value, hypot(0.01, bore), 1e-12);
}
END_TEST

START_TEST(a_thick_stem_is_corrected_and_said)
{
    vent_station s = place(pvc(3));
    vent_probe thick = vent_pitot(5 / 16.0 * VENT_INCH, NULL);
    double share = vent_probe_blockage(s.pipe, thick, s.pipe.width / 2);
    ck_assert_double_eq_tol(share, 0.066, 0.003); /* 2 d / (pi D) */
    ck_assert_double_eq_tol(share, 2 * thick.stem / (VENT_PI * s.pipe.width), 1e-15);
    vent_reading own = vent_reading_stated(0.82, 0);
    vent_reading q = vent_centre_flow(s, thick, perfect(), 14, &own, NULL);
    vent_reading free = vent_centre_flow(s, point(), perfect(), 14, &own, NULL);
    ck_assert_double_eq_tol(q.value / free.value, 1 - share, 1e-14);
    ck_assert_uint_eq(q.flags, VENT_READING_BLOCKED);
    ck_assert_double_ge(q.uncertainty / q.value, share / 2);
}
END_TEST

/* Thin air at altitude: the same reading is more flow, by the root of the pressures' ratio. */
START_TEST(density_is_that_of_the_place)
{
    vent_reading exact = {0}, t = vent_reading_stated(285.15, 0), dry = vent_reading_stated(0, 0);
    vent_station sea =
        vent_station_at(pvc(4), vent_reading_stated(101325, 0), exact, t, dry, 3, NULL);
    vent_station high =
        vent_station_at(pvc(4), vent_reading_stated(vent_pressure_at_altitude(5280 * VENT_FOOT), 0),
                        exact, t, dry, 3, NULL);
    double a = vent_point_velocity(sea, point(), perfect(), 20, 0.05, NULL).value;
    double b = vent_point_velocity(high, point(), perfect(), 20, 0.05, NULL).value;
    ck_assert_double_eq_tol(b / a, sqrt(101325 / 83428.0), 2e-4);
    ck_assert_double_eq_tol(high.gas.density / sea.gas.density, 0.8234, 3e-4);
}
END_TEST

START_TEST(a_hot_wire_feels_mass_and_a_vane_does_not)
{
    vent_station s = place(pvc(6));
    vent_instrument vane = vent_instrument_vane(0.3, 20, 0.01, 0.1, 0.01, NULL);
    vent_instrument wire = vent_instrument_hot_wire(0.1, 20, 0.03, 0.1, 0.01, NULL);
    ck_assert_double_eq_tol(vent_point_velocity(s, point(), vane, 4, 0.05, NULL).value, 4, 1e-15);
    ck_assert_double_eq_tol(vent_point_velocity(s, point(), wire, 4, 0.05, NULL).value,
                            4 * VENT_STANDARD_DENSITY / s.gas.density, 1e-14);
    vent_reading v = vent_point_velocity(s, point(), wire, 4, 0.05, NULL);
    double u = hypot((0.03 * 4 + 0.1) / sqrt(3), 0.01 / sqrt(12));
    ck_assert_double_eq_tol(v.uncertainty / v.value, u / 4, 1e-12);
    ck_assert_uint_eq(vent_instrument_read(vane, 0.2, NULL).flags, VENT_READING_NOT_MEASURABLE);
}
END_TEST

/* ---- uncertainty against random trials ------------------------------------------------------ */

static double even(random_states *r, double limit)
{
    return random_between(r, -limit, limit);
}

static double normal(random_states *r, double standard)
{
    double u = random_between(r, 1e-12, 1), angle = random_between(r, 0, 2 * VENT_PI);
    return standard * sqrt(-2 * log(u)) * cos(angle);
}

enum { TRIALS = 40000 };

/* What every input may have been, drawn anew each time and sent through the formula written out. */
START_TEST(one_point_spreads_as_random_trials_do)
{
    random_states r = {0};
    vent_pipe pipe = pvc(4);
    vent_error err = VENT_NO_ERROR;
    vent_station s =
        vent_station_at(pipe, vent_reading_stated(98300, 300), vent_reading_stated(-274, 20),
                        vent_reading_stated(285.15, 2), vent_reading_stated(0.8, 0.05), 0, &err);
    vent_instrument gauge = vent_instrument_pressure(250, 0.02, 0.5, 0.5, &err);
    vent_probe probe = vent_probe_new(0, 0, 0.98, 0.015, 0, &err);
    vent_reading ratio = vent_reading_stated(0.82, 0.03);
    double p = 12, sum = 0, squares = 0;
    vent_reading q = vent_centre_flow(s, probe, gauge, p, &ratio, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    for (int i = 0; i < TRIALS; ++i) {
        double pressure = 98300 - 274 + normal(&r, 300) + normal(&r, 20);
        double density =
            vent_air_moist(285.15 + normal(&r, 2), pressure, fmin(0.8 + normal(&r, 0.05), 1), NULL)
                .density;
        double vp = p + even(&r, 0.02 * p + 0.5) + even(&r, 0.25);
        double bore = pipe.width + normal(&r, pipe.bore_uncertainty);
        double flow = VENT_PI / 4 * bore * bore * (0.82 + normal(&r, 0.03)) *
                      (0.98 + normal(&r, 0.015)) * sqrt(2 * vp / density);
        sum += flow - q.value;
        squares += (flow - q.value) * (flow - q.value);
    }
    double mean = sum / TRIALS, deviation = sqrt(squares / TRIALS - mean * mean);
    ck_assert_double_eq_tol(deviation / q.uncertainty, 1, 0.02);
    ck_assert_double_le(fabs(mean), 0.02 * q.uncertainty);
}
END_TEST

/* Traverses of a known flow with an instrument that errs as its sheet allows, a probe held by hand
 * and a profile that leans: twice the uncertainty covers the truth in 95 % or more. */
START_TEST(a_traverse_covers_the_truth)
{
    random_states r = {0};
    enum { RUNS = 3000, POINTS = 6 };
    vent_station s = place(vent_pipe_round(0.15, 0, NULL));
    vent_instrument gauge = vent_instrument_pressure(250, 0.02, 0.3, 0.1, NULL);
    vent_probe probe = vent_probe_new(0.003, 0, 1, 0, 1e-3, NULL);
    int covered = 0, tight = 0;
    for (int run = 0; run < RUNS; ++run) {
        double n = random_between(&r, 6, 9), lean = even(&r, 0.1), top = random_between(&r, 4, 10);
        double share = even(&r, 0.02), fixed = even(&r, 0.3), heading = even(&r, VENT_PI);
        double y[POINTS], vp[2 * POINTS];
        vent_traverse_positions(s.pipe, 0, VENT_TRAVERSE_LOG_LINEAR, POINTS, probe, y, NULL);
        for (int k = 0; k < 2 * POINTS; ++k) {
            double at = fmin(fmax(y[k % POINTS] + normal(&r, 1e-3), 0.0015), 0.1485);
            double x = 1 - at / 0.075, slope = k < POINTS ? cos(heading) : sin(heading);
            double v = top * pow(1 - fabs(x), 1 / n) * (1 + lean * x * slope);
            double indication = 0.5 * s.gas.density * v * v * (1 + share) + fixed;
            vp[k] = fmax(0.1 * round(indication / 0.1), 0);
        }
        vent_reading q =
            vent_traverse_flow(s, probe, gauge, VENT_TRAVERSE_LOG_LINEAR, 2, POINTS, vp, NULL);
        double error = fabs(q.value / vent_pipe_area(s.pipe) - top * vent_mean_to_centre_power(n));
        covered += error <= 2 * q.uncertainty / vent_pipe_area(s.pipe);
        tight += q.uncertainty < 0.04 * q.value;
    }
    ck_assert_msg(covered >= 0.95 * RUNS, "covered %d of %d", covered, RUNS);
    ck_assert_msg(tight >= 0.9 * RUNS, "tight %d of %d", tight, RUNS);
}
END_TEST

/* What all readings share is not averaged away; the scale's step is. */
START_TEST(shared_errors_do_not_average_out)
{
    vent_station s = place(vent_pipe_round(0.3, 0, NULL));
    double vp[20];
    for (int k = 0; k < 20; ++k)
        vp[k] = 20;
    vent_instrument limit = vent_instrument_pressure(250, 0, 1, 0, NULL);
    vent_instrument step = vent_instrument_pressure(250, 0, 0, 1, NULL);
    vent_reading a = vent_traverse_flow(s, point(), limit, 1, 2, 10, vp, NULL);
    vent_reading b = vent_traverse_flow(s, point(), step, 1, 2, 10, vp, NULL);
    ck_assert_double_eq_tol(a.uncertainty / a.value, hypot(1 / sqrt(3) / 40, 0.005), 3e-6);
    ck_assert_double_eq_tol(b.uncertainty / b.value, hypot(1 / sqrt(12) / 40 / sqrt(20), 0.005),
                            3e-6);
}
END_TEST

START_TEST(columns_carry_the_uncertainty_of_liquid_and_tilt)
{
    vent_reading liquid = vent_reading_stated(827, 2), tilt = vent_reading_stated(0.1, 0.002);
    vent_instrument c = vent_instrument_inclined(0.3, 1e-3, liquid, tilt, 0.01, NULL);
    vent_reading p = vent_instrument_read(c, 0.2, NULL);
    double rise = sin(0.1) + 0.01, step = 1e-3 / sqrt(12) / 0.2;
    double relative = sqrt(pow(2 / 827.0, 2) + pow(cos(0.1) * 0.002 / rise, 2) + step * step);
    ck_assert_double_eq_tol(p.value, 827 * VENT_GRAVITY * rise * 0.2, 1e-12);
    ck_assert_double_eq_tol(p.uncertainty / p.value, relative, 1e-12);
    c = vent_instrument_u_tube(0.3, 1e-3, liquid, NULL);
    p = vent_instrument_read(c, -0.2, NULL); /* two levels read */
    ck_assert_double_eq_tol(p.uncertainty / fabs(p.value), hypot(2 / 827.0, sqrt(2) * step), 1e-12);
}
END_TEST

START_TEST(static_taps_average)
{
    double p[] = {-271, -275, -276, -274};
    vent_instrument gauge = vent_instrument_pressure(500, 0.01, 0, 1, NULL);
    vent_reading s = vent_static_pressure(gauge, 4, p, 30, 0.02, NULL);
    double scatter = sqrt((9 + 1 + 4 + 0) / 3.0 / 4), shared = 2.74 / sqrt(3);
    double own = 1 / sqrt(12) / 2, taps = 0.02 * 30 / sqrt(3) / 2;
    ck_assert_double_eq_tol(s.value, -274, 1e-12);
    ck_assert_double_eq_tol(
        s.uncertainty, sqrt(scatter * scatter + shared * shared + own * own + taps * taps), 1e-12);
}
END_TEST

/* ---- orifice plate -------------------------------------------------------------------------- */

START_TEST(an_orifice_satisfies_its_own_equation)
{
    vent_station s = place(vent_pipe_round(0.1, 0, NULL));
    for (int taps = VENT_TAPS_CORNER; taps <= VENT_TAPS_FLANGE; ++taps)
        for (double d = 0.012; d < 0.075; d += 0.007)
            for (double dp = 5; dp < 5000; dp *= 4) {
                vent_error err = VENT_NO_ERROR;
                vent_orifice plate = vent_metering_orifice(d, 1e-5, taps, &err);
                vent_reading q = vent_orifice_flow(s, plate, perfect(), dp, &err);
                ck_assert_msg(err.status == VENT_OK, "%s", err.message);
                double re = 4 * q.value * s.gas.density / (VENT_PI * 0.1 * s.gas.viscosity);
                double b = d / 0.1, c = vent_orifice_discharge(0.1, d, re, taps);
                double e = vent_orifice_expansibility(b, s.gas.pressure, dp, 1.4);
                double flow = c * e * VENT_PI / 4 * d * d * sqrt(2 * dp / s.gas.density) /
                              sqrt(1 - b * b * b * b);
                ck_assert_double_eq_tol(q.value / flow, 1, 1e-12);
                bool outside =
                    d < 0.0125 || re < (taps == VENT_TAPS_FLANGE ? fmax(5000, 17000 * b * b)
                                        : b > 0.56               ? 16000 * b * b
                                                                 : 5000);
                ck_assert_uint_eq(q.flags, outside ? VENT_READING_RANGE : 0);
            }
}
END_TEST

/* The standard's own sum: 0.5 % of the coefficient (95 %), bores, difference, density. */
START_TEST(orifice_uncertainty_is_that_of_the_standard)
{
    vent_station s = place(vent_pipe_round(0.1, 0, NULL));
    s.pipe.bore_uncertainty = 2e-4;
    s.density_uncertainty = 0.004 * s.gas.density;
    vent_orifice plate = vent_metering_orifice(0.05, 5e-5, VENT_TAPS_CORNER, NULL);
    vent_reading q = vent_orifice_flow(s, plate, of_spread(1), 300, NULL);
    double b4 = 0.0625, parts[] = {0.0025,
                                   0.0175 * 300 / (1.4 * s.gas.pressure),
                                   2 * b4 / (1 - b4) * 2e-3,
                                   2 / (1 - b4) * 1e-3,
                                   0.5 / 300,
                                   0.5 * 0.004};
    double sum = 0;
    for (int i = 0; i < 6; ++i)
        sum += parts[i] * parts[i];
    ck_assert_double_eq_tol(q.uncertainty / q.value, sqrt(sum), 2e-5);
    s.straight = 1.0; /* 10 bores: between the standard's two columns for 0.5, 9 and 22 */
    vent_reading shorter = vent_orifice_flow(s, plate, of_spread(1), 300, NULL);
    sum += 0.005 * 0.005 - 0.0025 * 0.0025;
    ck_assert_double_eq_tol(shorter.uncertainty / q.value, sqrt(sum), 2e-5);
    ck_assert_uint_eq(shorter.flags, 0);
    s.straight = 0.5;
    ck_assert_uint_eq(vent_orifice_flow(s, plate, of_spread(1), 300, NULL).flags,
                      VENT_READING_STRAIGHT);
}
END_TEST

/* ---- verdicts ------------------------------------------------------------------------------- */

START_TEST(what_cannot_be_told_from_zero_is_not_measurable)
{
    vent_instrument gauge = vent_instrument_pressure(500, 0.01, 0.5, 0.1, NULL);
    vent_station s = place(pvc(4));
    for (double p = 0; p < 3; p += 0.1) {
        vent_reading read = vent_instrument_read(gauge, p, NULL);
        vent_reading q = vent_centre_flow(s, point(), gauge, p, NULL, NULL);
        bool lost = 2 * read.uncertainty >= p;
        ck_assert_uint_eq(read.flags, lost ? VENT_READING_NOT_MEASURABLE : 0);
        ck_assert_uint_eq(q.flags & VENT_READING_NOT_MEASURABLE,
                          lost ? VENT_READING_NOT_MEASURABLE : 0);
        ck_assert(isfinite(q.value) && isfinite(q.uncertainty) && q.uncertainty > 0);
    }
}
END_TEST

/* A measuring section and a plate as advised make the instrument as good as wanted. */
START_TEST(advice_does_what_it_says)
{
    vent_instrument gauge = vent_instrument_pressure(500, 0.01, 0.25, 0.1, NULL);
    vent_station s = place(pvc(4));
    s.pipe.bore_uncertainty = 0;
    for (double cfm = 4; cfm < 20; cfm += 2) {
        vent_error err = VENT_NO_ERROR;
        vent_advice a = vent_measure_advice(s, point(), gauge, cfm * VENT_CFM, 0.05, &err);
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        ck_assert(a.flags & VENT_READING_COARSE);
        ck_assert_ptr_nonnull(strstr(a.message, "measuring section"));
        vent_station narrow = place(vent_pipe_round(a.section, s.pipe.roughness, NULL));
        vent_advice b = vent_measure_advice(narrow, point(), gauge, cfm * VENT_CFM, 0.05, &err);
        ck_assert_double_eq_tol(b.uncertainty, 0.05, 1e-9);
        ck_assert_double_lt(b.uncertainty, a.uncertainty);
        vent_orifice plate = vent_metering_orifice(a.orifice, 0, VENT_TAPS_CORNER, &err);
        vent_reading q = vent_orifice_flow(s, plate, gauge, a.orifice_pressure, &err);
        ck_assert_msg(err.status == VENT_OK, "%s", err.message);
        ck_assert_double_eq_tol(q.value / VENT_CFM / cfm, 1, 1e-4); /* the gas's expansion */
        ck_assert(!(q.flags & VENT_READING_NOT_MEASURABLE));
    }
    vent_advice fine = vent_measure_advice(s, point(), gauge, 80 * VENT_CFM, 0.05, NULL);
    ck_assert_uint_eq(fine.flags, 0);
    ck_assert_ptr_nonnull(strstr(fine.message, "Measurable"));
    vent_advice none = vent_measure_advice(s, point(), gauge, 5 * VENT_CFM, 0.05, NULL);
    ck_assert(none.flags & VENT_READING_NOT_MEASURABLE);
    ck_assert_ptr_nonnull(strstr(none.message, "Not measurable with this instrument"));
    ck_assert_ptr_nonnull(strstr(none.message, "hot-wire"));
    vent_instrument wire = vent_instrument_hot_wire(0.1, 20, 0.03, 0.1, 0.01, NULL);
    vent_instrument vane = vent_instrument_vane(0.5, 20, 0.01, 0.1, 0.01, NULL);
    vent_advice slow = vent_measure_advice(s, point(), wire, 5 * VENT_CFM, 0.05, NULL);
    ck_assert_double_eq_tol(slow.indication, slow.velocity * s.gas.density / VENT_STANDARD_DENSITY,
                            1e-15);
    ck_assert(slow.flags == VENT_READING_COARSE && isnan(slow.orifice));
    ck_assert_ptr_nonnull(strstr(slow.message, "measuring section"));
    slow = vent_measure_advice(s, point(), vane, 4 * VENT_CFM, 0.2, NULL);
    ck_assert_double_lt(slow.velocity, 0.5); /* it does not turn yet */
    ck_assert(slow.flags == VENT_READING_NOT_MEASURABLE);
    ck_assert_double_eq_tol(slow.indication, slow.velocity, 1e-15);
    vent_instrument poor = vent_instrument_pressure(500, 0.5, 0, 0, NULL);
    vent_advice hopeless = vent_measure_advice(s, point(), poor, 80 * VENT_CFM, 0.05, NULL);
    ck_assert(isnan(hopeless.section) && isnan(hopeless.orifice));
    ck_assert_ptr_nonnull(strstr(hopeless.message, "a better instrument"));
    vent_advice off = vent_measure_advice(s, point(), gauge, 800 * VENT_CFM, 0.05, NULL);
    ck_assert_uint_eq(off.flags, VENT_READING_OFF_SCALE);
}
END_TEST

START_TEST(an_uneven_traverse_is_said)
{
    vent_station s = place(vent_pipe_round(0.3, 0, NULL));
    double vp[12] = {0, 0, 1, 40, 42, 41, 0.5, 1, 2, 40, 41, 38};
    vent_reading q = vent_traverse_flow(s, point(), perfect(), 1, 2, 6, vp, NULL);
    ck_assert_uint_eq(q.flags, VENT_READING_UNEVEN);
    ck_assert_double_gt(q.uncertainty, 0.2 * q.value);
}
END_TEST

/* ---- bad input ------------------------------------------------------------------------------ */

#define REFUSED(call, argument_is)                                                                 \
    do {                                                                                           \
        vent_error err = VENT_NO_ERROR;                                                            \
        (void)(call);                                                                              \
        ck_assert_msg(err.status == VENT_E_ARGUMENT && strcmp(err.argument, argument_is) == 0,     \
                      #call ": status %d, argument \"%s\"", (int)err.status, err.argument);        \
        ck_assert_msg(strstr(err.message, argument_is) || err.message[0], "no message");           \
    } while (0)

START_TEST(instruments_refuse_what_is_none)
{
    vent_reading water = vent_reading_stated(998, 1), bad = vent_reading_stated(998, -1);
    ck_assert(isnan(bad.value) && isnan(vent_reading_stated(NOT_A_NUMBER, 0).value));
    REFUSED(vent_instrument_pressure(0, 0, 0, 0, &err), "greatest");
    REFUSED(vent_instrument_pressure(500, NOT_A_NUMBER, 0, 0, &err), "share");
    REFUSED(vent_instrument_pressure(500, 0, -1, 0, &err), "fixed");
    REFUSED(vent_instrument_pressure(500, 0, 0, 501, &err), "step");
    REFUSED(vent_instrument_vane(20, 20, 0, 0, 0, &err), "least");
    REFUSED(vent_instrument_hot_wire(0, 300, 0, 0, 0, &err), "greatest");
    REFUSED(vent_instrument_u_tube(0.3, 0.001, bad, &err), "density");
    REFUSED(vent_instrument_u_tube(20, 0.001, water, &err), "length");
    REFUSED(vent_instrument_inclined(0.3, 0.001, water, vent_reading_stated(10, 0), 0, &err),
            "tilt");
    REFUSED(vent_instrument_inclined(0.3, 0.001, water, vent_reading_stated(0.1, 0), 2, &err),
            "area_ratio");
    REFUSED(vent_instrument_read(perfect(), NOT_A_NUMBER, &err), "indication");
    REFUSED(vent_instrument_read((vent_instrument){0}, 1, &err), "instrument");
    ck_assert(isnan(vent_water_density(20)) && isnan(vent_water_density(NOT_A_NUMBER)));
}
END_TEST

START_TEST(stations_and_probes_refuse_what_is_none)
{
    vent_reading p = vent_reading_stated(98300, 100), s = {0}, h = vent_reading_stated(1, 0.05);
    vent_reading t = vent_reading_stated(285, 1), celsius = vent_reading_stated(12, 1);
    vent_reading negative = {.value = 98300, .uncertainty = -1};
    REFUSED(vent_station_at((vent_pipe){0}, p, s, t, h, 1, &err), "pipe");
    REFUSED(vent_station_at(pvc(3), vent_reading_stated(983, 1), s, t, h, 1, &err), "barometer");
    REFUSED(vent_station_at(pvc(3), negative, s, t, h, 1, &err), "barometer");
    REFUSED(vent_station_at(pvc(3), p, vent_reading_stated(98000, 1), t, h, 1, &err),
            "static_pressure");
    REFUSED(vent_station_at(pvc(3), p, s, celsius, h, 1, &err), "temperature");
    REFUSED(vent_station_at(pvc(3), p, s, t, vent_reading_stated(50, 1), 1, &err),
            "relative_humidity");
    REFUSED(vent_station_at(pvc(3), p, s, t, h, -1, &err), "straight");
    REFUSED(vent_pitot(3, &err), "diameter");
    REFUSED(vent_probe_new(0, 0, 0, 0, 0, &err), "factor");
    REFUSED(vent_probe_new(0, 0, 1, -1, 0, &err), "factor_uncertainty");
    ck_assert(isnan(vent_probe_blockage(pvc(3), point(), 1)));
    REFUSED(vent_point_velocity((vent_station){.straight = NOT_A_NUMBER}, point(), perfect(), 1, 0,
                                &err),
            "pipe");
    REFUSED(vent_centre_flow(place(pvc(3)), (vent_probe){0}, perfect(), 1, NULL, &err), "probe");
}
END_TEST

START_TEST(negative_velocity_pressures_are_called_what_they_are)
{
    vent_instrument gauge = vent_instrument_pressure(500, 0.01, 0.25, 0.1, NULL);
    vent_station s = place(pvc(3));
    vent_error err = VENT_NO_ERROR;
    vent_reading q = vent_centre_flow(s, point(), gauge, -12, NULL, &err);
    ck_assert(isnan(q.value) && isnan(q.uncertainty));
    ck_assert_ptr_nonnull(strstr(err.message, "hoses are exchanged"));
    ck_assert_double_eq(err.value, -12);
    err = (vent_error)VENT_NO_ERROR;
    vent_centre_flow(s, point(), gauge, -0.2, NULL, &err);
    ck_assert_ptr_nonnull(strstr(err.message, "noise"));
    double vp[12] = {10, 12, 14, 14, 12, 10, 10, 12, -14, 14, 12, 10};
    err = (vent_error)VENT_NO_ERROR;
    vent_traverse_flow(s, point(), gauge, 1, 2, 6, vp, &err);
    ck_assert_ptr_nonnull(strstr(err.message, "point 3 of line 2"));
    ck_assert_int_eq((int)err.index, 8);
    err = (vent_error)VENT_NO_ERROR;
    ck_assert(isnan(vent_mean_velocity_pressure(12, vp, &err)));
    ck_assert_ptr_nonnull(strstr(err.message, "cannot be negative"));
    err = (vent_error)VENT_NO_ERROR;
    vent_orifice plate = vent_metering_orifice(0.04, 0, VENT_TAPS_CORNER, NULL);
    ck_assert(isnan(vent_orifice_flow(s, plate, gauge, -60, &err).value));
    ck_assert_ptr_nonnull(strstr(err.message, "pressure difference"));
    ck_assert_double_eq(vent_static_pressure(gauge, 1, &vp[8], 0, 0, NULL).value, -14);
}
END_TEST

START_TEST(flows_refuse_what_is_none)
{
    vent_station round = place(pvc(3)), flat = place(vent_pipe_rectangular(0.1, 0.07, 0, NULL));
    vent_instrument vane = vent_instrument_vane(0.3, 20, 0.01, 0.1, 0.01, NULL);
    vent_reading ratio = vent_reading_stated(8.2, 0.1);
    vent_orifice plate = vent_metering_orifice(0.04, 0, VENT_TAPS_CORNER, NULL);
    vent_orifice wide = vent_metering_orifice(0.07, 0, VENT_TAPS_CORNER, NULL);
    double vp[12] = {1, 2, 3, 3, 2, 1, 1, 2, NOT_A_NUMBER, 3, 2, 1}, y[24];
    REFUSED(vent_point_velocity(round, point(), perfect(), 5, 1, &err), "insertion");
    REFUSED(vent_point_velocity(round, point(), perfect(), 2e5, 0.03, &err), "indication");
    REFUSED(vent_centre_flow(flat, point(), perfect(), 5, NULL, &err), "pipe");
    REFUSED(vent_centre_flow(round, point(), perfect(), 5, &ratio, &err), "ratio");
    REFUSED(vent_centre_flow(round, vent_probe_new(0.07, 0.07, 1, 0, 0, NULL), perfect(), 5, NULL,
                             &err),
            "probe");
    REFUSED(vent_traverse_positions(round.pipe, 0, 1, 7, point(), y, &err), "points");
    REFUSED(vent_traverse_positions(round.pipe, 2, 1, 6, point(), y, &err), "side");
    REFUSED(vent_traverse_positions(round.pipe, 0, 1, 6, point(), NULL, &err), "position");
    REFUSED(vent_traverse_positions(flat.pipe, 0, 1, 6, point(), y, &err), "points");
    REFUSED(vent_traverse_flow(round, point(), perfect(), 1, 2, 6, vp, &err), "indication");
    REFUSED(vent_traverse_flow(round, point(), perfect(), 1, 0, 6, vp, &err), "lines");
    REFUSED(vent_traverse_flow(flat, point(), perfect(), 2, 1, 6, vp, &err), "lines");
    REFUSED(vent_traverse_flow(round, point(), perfect(), 9, 2, 6, vp, &err), "points");
    REFUSED(vent_traverse_flow(round, point(), perfect(), 1, 2, 6, NULL, &err), "indication");
    REFUSED(vent_mean_velocity_pressure(0, vp, &err), "n");
    REFUSED(vent_static_pressure(vane, 1, vp, 0, 0, &err), "instrument");
    REFUSED(vent_static_pressure(perfect(), 1, vp, 0, 2, &err), "tap_error");
    REFUSED(vent_static_pressure(perfect(), 12, vp, 0, 0, &err), "indication");
    REFUSED(vent_metering_orifice(0.04, 0.01, 1, &err), "bore_uncertainty");
    REFUSED(vent_metering_orifice(0.04, 0, 4, &err), "taps");
    REFUSED(vent_orifice_flow(round, wide, perfect(), 50, &err), "orifice.bore");
    REFUSED(vent_orifice_flow(round, (vent_orifice){0}, perfect(), 50, &err), "orifice");
    REFUSED(vent_orifice_flow(flat, plate, perfect(), 50, &err), "pipe");
    REFUSED(vent_orifice_flow(round, plate, vane, 5, &err), "instrument");
    REFUSED(vent_orifice_flow(round, plate, perfect(), 5e4, &err), "indication");
    vent_probe wide_probe = vent_probe_new(0.07, 0.07, 1, 0, 0, NULL);
    vent_station lost = round;
    lost.gas.density = NOT_A_NUMBER;
    REFUSED(vent_point_velocity(lost, point(), perfect(), 5, 0.03, &err), "station");
    REFUSED(vent_point_velocity(round, wide_probe, perfect(), 5, 0.07, &err), "probe");
    REFUSED(vent_measure_advice(round, wide_probe, perfect(), 0.01, 0.05, &err), "probe");
    REFUSED(vent_measure_advice(flat, point(), perfect(), 0.01, 0.05, &err), "pipe");
    double much[] = {1, 2e6};
    REFUSED(vent_mean_velocity_pressure(2, much, &err), "velocity_pressure");
    REFUSED(vent_measure_advice(round, point(), perfect(), NOT_A_NUMBER, 0.05, &err), "flow");
    REFUSED(vent_measure_advice(round, point(), perfect(), 0.01, 0, &err), "wanted");
}
END_TEST

START_TEST(pure_formulas_give_nan_outside)
{
    ck_assert(isnan(vent_velocity_of_pressure(-1, 1.2)) && isnan(vent_velocity_of_pressure(1, 0)));
    ck_assert(isnan(vent_velocity_4005(-1)) && isnan(vent_velocity_4005(NOT_A_NUMBER)));
    ck_assert(isnan(vent_mean_to_centre(0, 0)) && isnan(vent_mean_to_centre(1e4, 0.2)));
    ck_assert(isnan(vent_mean_to_centre_power(0.5)));
    ck_assert(isnan(vent_orifice_discharge(0.1, 0.09, 1e5, 1)));
    ck_assert(isnan(vent_orifice_discharge(0.1, 0.05, 1e5, 0)));
    ck_assert(isnan(vent_orifice_expansibility(0.5, 1e5, 3e4, 1.4)));
    ck_assert(isnan(vent_orifice_loss(0.5, 0.1, 100)));
}
END_TEST

START_TEST(an_earlier_failure_stops_the_chain)
{
    vent_error err = {.status = VENT_E_NOT_FOUND};
    ck_assert_int_eq(vent_instrument_pressure(500, 0, 0, 0, &err).kind, 0);
    ck_assert(isnan(vent_pitot(0.003, &err).head));
    ck_assert(isnan(vent_centre_flow(place(pvc(3)), point(), perfect(), 5, NULL, &err).value));
    ck_assert_int_eq(err.status, VENT_E_NOT_FOUND);
}
END_TEST

START_TEST(readings_know_their_source)
{
    vent_source source;
    vent_reading q = vent_centre_flow(place(pvc(3)), point(), perfect(), 5, NULL, NULL);
    ck_assert(vent_source_find(q.source, &source) && source.year == 1998);
    vent_orifice plate = vent_metering_orifice(0.04, 0, VENT_TAPS_CORNER, NULL);
    q = vent_orifice_flow(place(pvc(3)), plate, perfect(), 60, NULL);
    ck_assert(vent_source_find(q.source, &source) && strstr(source.title, "5167"));
}
END_TEST

Suite *measure_suite(void)
{
    Suite *suite = suite_create("measure");
    TCase *values = tcase_create("published");
    tcase_add_test(values, velocities_are_the_published_ones);
    tcase_add_test(values, the_4005_rule_stands_apart_by_its_inch_of_water);
    tcase_add_test(values, traverse_points_are_the_published_ones);
    tcase_add_test(values, power_law_ratios_are_exact);
    tcase_add_test(values, an_entrance_is_found_through_the_power_law);
    tcase_add_test(values, mean_to_centre_is_the_published_one);
    tcase_add_test(values, discharge_is_the_published_one);
    tcase_add_test(values, expansibility_and_loss_are_the_published_ones);
    tcase_add_test(values, water_and_columns_weigh_what_is_published);
    tcase_add_test(values, uncertainty_propagates_as_in_the_published_example);
    tcase_add_test(values, one_point_factors_of_practice_scatter_as_the_uncertainty_says);
    suite_add_tcase(suite, values);
    TCase *rules = tcase_create("rules");
    tcase_add_test(rules, log_rules_average_a_log_law);
    tcase_add_test(rules, rules_find_the_flow_of_a_power_law);
    tcase_add_test(rules, rectangular_rules_find_the_flow_of_a_power_law);
    tcase_add_test(rules, the_mean_is_of_velocities_not_of_pressures);
    tcase_add_test(rules, a_wide_head_is_kept_off_the_wall);
    suite_add_tcase(suite, rules);
    TCase *centre = tcase_create("centre");
    tcase_add_test(centre, a_known_flow_comes_back);
    tcase_add_test(centre, the_ratio_is_continuous);
    tcase_add_test(centre, straight_pipe_makes_it_surer);
    tcase_add_test(centre, an_own_ratio_is_taken_as_it_is);
    tcase_add_test(centre, a_thick_stem_is_corrected_and_said);
    tcase_add_test(centre, density_is_that_of_the_place);
    tcase_add_test(centre, a_hot_wire_feels_mass_and_a_vane_does_not);
    suite_add_tcase(suite, centre);
    TCase *spread = tcase_create("uncertainty");
    tcase_add_test(spread, one_point_spreads_as_random_trials_do);
    tcase_add_test(spread, a_traverse_covers_the_truth);
    tcase_add_test(spread, shared_errors_do_not_average_out);
    tcase_add_test(spread, columns_carry_the_uncertainty_of_liquid_and_tilt);
    tcase_add_test(spread, static_taps_average);
    suite_add_tcase(suite, spread);
    TCase *orifice = tcase_create("orifice");
    tcase_add_test(orifice, an_orifice_satisfies_its_own_equation);
    tcase_add_test(orifice, orifice_uncertainty_is_that_of_the_standard);
    suite_add_tcase(suite, orifice);
    TCase *verdicts = tcase_create("verdicts");
    tcase_add_test(verdicts, what_cannot_be_told_from_zero_is_not_measurable);
    tcase_add_test(verdicts, advice_does_what_it_says);
    tcase_add_test(verdicts, an_uneven_traverse_is_said);
    tcase_add_test(verdicts, readings_know_their_source);
    suite_add_tcase(suite, verdicts);
    TCase *refusals = tcase_create("refusals");
    tcase_add_test(refusals, instruments_refuse_what_is_none);
    tcase_add_test(refusals, stations_and_probes_refuse_what_is_none);
    tcase_add_test(refusals, negative_velocity_pressures_are_called_what_they_are);
    tcase_add_test(refusals, flows_refuse_what_is_none);
    tcase_add_test(refusals, pure_formulas_give_nan_outside);
    tcase_add_test(refusals, an_earlier_failure_stops_the_chain);
    suite_add_tcase(suite, refusals);
    return suite;
}
