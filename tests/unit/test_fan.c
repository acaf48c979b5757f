/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fans: the fan laws, operating points, shape of the curve, fans together, bad input, memory. */
#include <ventstack/fan.h>

#include "csv.h"
#include "physics/laws.h"
#include "random.h"
#include "refuse.h"
#include "suites.h"

#include <string.h>
#include <ventstack/pipe.h>
#include <ventstack/units.h>

static const double NOT_A_NUMBER = (double)NAN, INFINITE = (double)INFINITY;
static const double STANDARD = VENT_STANDARD_DENSITY;

enum { MOST = 64 };

typedef struct data {
    size_t n;
    double flow[MOST], pressure[MOST], power[MOST];
} data;

static vent_fan *fan_of(const data *d, bool with_power, double density)
{
    vent_error err = VENT_NO_ERROR;
    vent_fan *fan = vent_fan_new_at("a fan", d->n, d->flow, d->pressure,
                                    with_power ? d->power : NULL, density, &err);
    ck_assert_msg(fan != NULL, "%s", err.message);
    return fan;
}

/* p0 (1 - (Q/Q0)^2), sampled evenly from rest to Q0 times reach. */
static data parabola(size_t n, double p0, double q0, double reach)
{
    data d = {.n = n};
    for (size_t i = 0; i < n; ++i) {
        double x = reach * (double)i / (double)(n - 1);
        d.flow[i] = q0 * x;
        d.pressure[i] = p0 * (1 - x * x);
        d.power[i] = 30 + 20 * x;
    }
    return d;
}

/* Falling points as fans have them: from rest or above, to past free delivery or short of it. */
static data falling(random_states *r)
{
    data d = {.n = (size_t)random_between(r, 2, 12)};
    double flow = random_between(r, 0, 2) < 1 ? 0 : random_between(r, 0, 0.01);
    double pressure = random_between(r, 100, 1000), power = random_between(r, 20, 100);
    for (size_t i = 0; i < d.n; ++i) {
        d.flow[i] = flow;
        d.pressure[i] = pressure;
        d.power[i] = power;
        flow += random_decades(r, 1e-3, 3e-2);
        pressure -= random_decades(r, 1, 200);
        power = fabs(power + random_between(r, -5, 10));
    }
    return d;
}

static data anyhow(random_states *r)
{
    data d = falling(r);
    for (size_t i = 1; i < d.n; ++i)
        if (random_between(r, 0, 1) < 0.4)
            d.pressure[i] = random_between(r, 0, 1000);
    return d;
}

static double pressure_at(const vent_fan *fan, double flow)
{
    return vent_fan_pressure(fan, flow, vent_fan_density(fan), 1);
}

/* ---- the fan laws --------------------------------------------------------------------------- */

/* A fan through one point of a book. */
static vent_fan *fan_through(double flow, double pressure, double power)
{
    data d = {.n = 2,
              .flow = {flow, flow + 1},
              .pressure = {pressure, pressure - 1},
              .power = {power, power}};
    if (!(pressure > 0))
        d = (data){
            .n = 2, .flow = {flow - 1, flow}, .pressure = {1, pressure}, .power = {power, power}};
    return fan_of(&d, true, STANDARD);
}

START_TEST(the_laws_are_met)
{
    csv *table = csv_open("fan_laws.csv");
    while (csv_next(table)) {
        /* Fox and McDonald's second fan is larger, too: flow goes with the cube of the diameter,
         * pressure with its square, power with its fifth power, all apart from speed. */
        double size = strcmp(csv_text(table, "id"), "FOX1011") == 0 ? 42.0 / 36 : 1;
        double speed = csv_number(table, "speed"),
               density = csv_number(table, "density") * STANDARD;
        double relative = csv_number(table, "relative");
        vent_fan *fan = fan_through(csv_number(table, "flow"), csv_number(table, "pressure"),
                                    csv_number(table, "power"));
        double flow = csv_number(table, "flow") * speed;
        if (csv_has(table, "new_flow"))
            csv_expect(table, "new_flow", flow * pow(size, 3), relative, 0);
        csv_expect(table, "new_pressure",
                   vent_fan_pressure(fan, flow, density, speed) * pow(size, 2), relative, 1e-12);
        if (csv_has(table, "new_power"))
            csv_expect(table, "new_power", vent_fan_power(fan, flow, density, speed) * pow(size, 5),
                       relative, 0);
        vent_fan_free(fan);
    }
    csv_close(table);
}
END_TEST

START_TEST(the_laws_hold_all_along_the_curve)
{
    random_states r = {0};
    for (int trial = 0; trial < 300; ++trial) {
        data d = anyhow(&r);
        double density = random_between(&r, 0.5, 2);
        vent_fan *fan = fan_of(&d, true, density);
        for (int i = 0; i < 30; ++i) {
            double flow = random_between(&r, -0.02, 0.3), speed = random_between(&r, 0.2, 3);
            double ratio = random_between(&r, 0.5, 1.5);
            double p = vent_fan_pressure(fan, flow, density, 1), scale = 1000 + fabs(p);
            double slope = vent_fan_slope(fan, flow, density, 1);
            double rho = ratio * density, faster = speed * flow;
            double rounding = 1e-14 * (scale + fabs(slope * flow)) * speed * speed;
            ck_assert_double_eq_tol(vent_fan_pressure(fan, faster, rho, speed),
                                    ratio * speed * speed * p, rounding);
            ck_assert_double_eq_tol(vent_fan_power(fan, faster, rho, speed),
                                    ratio * pow(speed, 3) * vent_fan_power(fan, flow, density, 1),
                                    1e-11 * pow(speed, 3));
        }
        vent_fan_free(fan);
    }
}
END_TEST

START_TEST(the_slope_is_the_derivative)
{
    random_states r = {0};
    for (int trial = 0; trial < 300; ++trial) {
        data d = anyhow(&r);
        vent_fan *fan = fan_of(&d, false, 1.1);
        for (int i = 0; i < 30; ++i) {
            double flow = random_between(&r, 0, 0.2), rho = random_between(&r, 0.8, 1.3);
            double speed = random_between(&r, 0.5, 1.5), step = 1e-8;
            bool near_knot = false; /* where the second derivative jumps */
            for (size_t k = 0; k < d.n; ++k)
                near_knot = near_knot || fabs(d.flow[k] * speed - flow) <= 2 * step;
            if (near_knot)
                continue;
            double low = flow - step, high = flow + step;
            double difference = (vent_fan_pressure(fan, high, rho, speed) -
                                 vent_fan_pressure(fan, low, rho, speed)) /
                                (high - low);
            double slope = vent_fan_slope(fan, flow, rho, speed);
            /* slopes are up to 1e6 Pa s/m3, values up to 1e4 Pa */
            ck_assert_double_eq_tol(slope, difference, 1e-6 * fabs(slope) + 1e-3);
            vent__slope law = vent__fan_law(fan, flow, rho, speed);
            ck_assert_double_eq(law.slope, slope);
            ck_assert_double_eq(law.value, vent_fan_pressure(fan, flow, rho, speed));
        }
        vent_fan_free(fan);
    }
}
END_TEST

/* ---- operating points ----------------------------------------------------------------------- */

/* A system that needs more pressure the more flows. */
typedef struct system_curve {
    double (*needs)(double flow);
    double most; /* flow surely beyond the point */
} system_curve;

static double meeting(const vent_fan *fan, system_curve system, double *pressure)
{
    double low = 0, high = system.most;
    for (int i = 0; i < 200; ++i) {
        double middle = 0.5 * (low + high);
        *(pressure_at(fan, middle) > system.needs(middle) ? &low : &high) = middle;
    }
    *pressure = system.needs(low);
    return low;
}

/* Cengel and Cimbala, example 14-1: inches of water against ft3/min, kinetic energy left counted. */
static double duct_of_cengel(double cfm)
{
    const double rho = 1.184, nu = 1.562e-5, bore = 0.23, length = 13.4, g = 9.81;
    vent_pipe pipe = vent_pipe_round(bore, 0.15e-3, NULL);
    double flow = cfm * VENT_CFM, velocity = flow / vent_pipe_area(pipe);
    double friction = vent_pipe_loss(pipe, length, flow * rho, rho, nu * rho);
    double local = (1.3 + 5 * 0.21 + 1.8 + 1.05) * 0.5 * rho * velocity * velocity;
    return (friction + local) / (998 * g * 0.0254);
}

static double parabola_of_abulencia(double flow)
{
    return 12 + 0.0198 * flow * flow;
}

static double plain_parabola(double flow)
{
    return 1e-4 * flow * flow;
}

typedef struct point {
    const char *id;
    double flow, pressure;
} point;

static point where_cengels_meets(void)
{
    const data d = {.n = 6,
                    .flow = {0, 250, 500, 750, 1000, 1200},
                    .pressure = {0.90, 0.95, 0.90, 0.75, 0.40, 0}};
    vent_fan *fan = fan_of(&d, false, STANDARD);
    point p = {.id = "CEN141"};
    p.flow = meeting(fan, (system_curve){duct_of_cengel, 1200}, &p.pressure);
    vent_fan_free(fan);
    return p;
}

static point where_abulencias_meets(void)
{
    data d = {.n = MOST};
    for (size_t i = 0; i < d.n; ++i) {
        d.flow[i] = (double)i;
        d.pressure[i] = 42 - 0.0047 * d.flow[i] * d.flow[i];
    }
    vent_fan *fan = fan_of(&d, false, STANDARD);
    point p = {.id = "ABU176"};
    p.flow = meeting(fan, (system_curve){parabola_of_abulencia, 60}, &p.pressure);
    vent_fan_free(fan);
    return p;
}

typedef vent_fan *combine(const char *, size_t, const vent_fan *const *, vent_error *);

static point where_parabolas_meet(const char *id, combine *together, size_t n)
{
    const data d = parabola(41, 2, 200, 1);
    vent_fan *one = fan_of(&d, false, STANDARD);
    vent_fan *all = together("all", n, (const vent_fan *[]){one, one}, NULL);
    point p = {.id = id};
    p.flow = meeting(all, (system_curve){plain_parabola, 400}, &p.pressure);
    vent_fan_free(all);
    vent_fan_free(one);
    return p;
}

START_TEST(fans_meet_their_systems)
{
    const point points[] = {
        where_cengels_meets(),
        where_abulencias_meets(),
        where_parabolas_meet("parabola, alone", vent_fan_series, 1),
        where_parabolas_meet("parabola, two in series", vent_fan_series, 2),
        where_parabolas_meet("parabola, two in parallel", vent_fan_parallel, 2),
    };
    csv *table = csv_open("fan_operating_points.csv");
    while (csv_next(table)) {
        const char *quantity = csv_text(table, "quantity");
        const point *at = points;
        while (strcmp(at->id, csv_text(table, "id")) != 0)
            ck_assert_ptr_ne(++at, points + sizeof points / sizeof *points);
        double got = strcmp(quantity, "flow") == 0       ? at->flow
                     : strcmp(quantity, "pressure") == 0 ? at->pressure
                                                         : duct_of_cengel(600);
        csv_expect(table, "value", got, csv_number(table, "relative"), 0);
    }
    csv_close(table);
}
END_TEST

/* ---- the curve ------------------------------------------------------------------------------ */

START_TEST(it_passes_through_its_points_and_keeps_copies)
{
    random_states r = {0};
    for (int trial = 0; trial < 200; ++trial) {
        data d = anyhow(&r), kept = d;
        vent_fan *fan = fan_of(&d, true, 1.1);
        memset(&d, 0, sizeof d); /* the fan has copies of its own */
        double flow[MOST], pressure[MOST], power[MOST], least, most;
        ck_assert_uint_eq(vent_fan_points(fan, MOST, flow, pressure, power), kept.n);
        for (size_t i = 0; i < kept.n; ++i) {
            ck_assert_double_eq(vent_fan_pressure(fan, kept.flow[i], 1.1, 1), kept.pressure[i]);
            ck_assert_double_eq(vent_fan_power(fan, kept.flow[i], 1.1, 1), kept.power[i]);
            ck_assert(flow[i] == kept.flow[i] && pressure[i] == kept.pressure[i]);
            ck_assert_double_eq(power[i], kept.power[i]);
        }
        ck_assert(vent_fan_range(fan, &least, &most));
        ck_assert(least == kept.flow[0] && most == kept.flow[kept.n - 1]);
        ck_assert_double_eq(vent_fan_density(fan), 1.1);
        vent_fan_free(fan);
    }
}
END_TEST

START_TEST(it_falls_where_the_data_fall_and_rises_where_they_rise)
{
    random_states r = {0};
    for (int trial = 0; trial < 300; ++trial) {
        data d = anyhow(&r);
        vent_fan *fan = fan_of(&d, false, STANDARD);
        bool data_fall = true;
        for (size_t i = 1; i < d.n; ++i) {
            double rise = d.pressure[i] - d.pressure[i - 1];
            data_fall = data_fall && rise < 0;
            for (int j = 1; j < 40; ++j) {
                double flow = d.flow[i - 1] + (d.flow[i] - d.flow[i - 1]) * j / 40;
                ck_assert_double_ge(vent_fan_slope(fan, flow, STANDARD, 1) * rise, 0);
            }
        }
        ck_assert(vent_fan_is_falling(fan) == data_fall);
        vent_fan_free(fan);
    }
    const data level = {.n = 3, .flow = {0, 1, 2}, .pressure = {5, 5, 1}};
    vent_fan *fan = fan_of(&level, false, STANDARD);
    ck_assert(!vent_fan_is_falling(fan));
    vent_fan_free(fan);
}
END_TEST

/* What vent_fan_new_at() says of its accuracy: six points on a parabola. */
START_TEST(few_points_on_a_parabola_draw_it_closely)
{
    const data d = parabola(6, 400, 0.1, 1);
    vent_fan *fan = fan_of(&d, false, STANDARD);
    double worst = 0, worst_inside = 0;
    for (int i = 0; i <= 1000; ++i) {
        double x = i / 1000.0, error = fabs(pressure_at(fan, 0.1 * x) - 400 * (1 - x * x)) / 400;
        worst = fmax(worst, error);
        if (x >= 0.2 && x <= 0.8)
            worst_inside = fmax(worst_inside, error);
    }
    ck_assert_double_le(worst, 0.006);
    ck_assert_double_le(worst_inside, 1e-14);
    vent_fan_free(fan);
}
END_TEST

START_TEST(shut_off_and_free_delivery)
{
    struct {
        data d;
        double shut_off, free_delivery;
    } const cases[] = {
        {{.n = 3, .flow = {0, 0.1, 0.2}, .pressure = {300, 200, 0}}, 300, 0.2},
        {{.n = 2, .flow = {0, 0.1}, .pressure = {300, 200}}, 300, 0.3},    /* continued */
        {{.n = 2, .flow = {0.1, 0.2}, .pressure = {300, 100}}, 500, 0.25}, /* both ends */
        {{.n = 3, .flow = {0, 0.1, 0.2}, .pressure = {300, 200, 210}}, 300, INFINITE}, /* rising */
        {{.n = 3, .flow = {0, 0.1, 0.2}, .pressure = {300, 200, 200}}, 300, INFINITE}, /* level */
        {{.n = 3, .flow = {0, 0.1, 0.2}, .pressure = {300, 0, -300}}, 300, 0.1},
        {{.n = 2, .flow = {0, 0.1}, .pressure = {300, -300}}, 300, 0.05},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; ++i) {
        vent_fan *fan = fan_of(&cases[i].d, false, STANDARD);
        ck_assert_double_eq_tol(vent_fan_shut_off(fan), cases[i].shut_off,
                                1e-13 * cases[i].shut_off);
        if (isinf(cases[i].free_delivery))
            ck_assert_double_infinite(vent_fan_free_delivery(fan));
        else
            ck_assert_double_eq_tol(vent_fan_free_delivery(fan), cases[i].free_delivery, 1e-16);
        vent_fan_free(fan);
    }
    random_states r = {0};
    for (int trial = 0; trial < 300; ++trial) {
        data d = falling(&r);
        vent_fan *fan = fan_of(&d, false, STANDARD);
        double free = vent_fan_free_delivery(fan), rounding = 1e-15 * d.pressure[0];
        rounding -= 4e-16 * free * vent_fan_slope(fan, free, STANDARD, 1);
        ck_assert_double_eq_tol(pressure_at(fan, free), 0, rounding);
        ck_assert(pressure_at(fan, free * 0.999) > 0);
        vent_fan_free(fan);
    }
}
END_TEST

START_TEST(past_the_data_it_is_a_straight_line)
{
    random_states r = {0};
    for (int trial = 0; trial < 100; ++trial) {
        data d = anyhow(&r);
        vent_fan *fan = fan_of(&d, false, STANDARD);
        size_t last = d.n - 1;
        double slope =
            (d.pressure[last] - d.pressure[last - 1]) / (d.flow[last] - d.flow[last - 1]);
        for (double out = 0.01; out < 1; out *= 2) {
            double want = d.pressure[last] + slope * out;
            ck_assert_double_eq_tol(pressure_at(fan, d.flow[last] + out), want,
                                    1e-13 * (1e3 + fabs(want)));
            ck_assert_double_eq(vent_fan_slope(fan, d.flow[last] + out, STANDARD, 1), slope);
        }
        vent_fan_free(fan);
    }
}
END_TEST

START_TEST(names_points_and_copies)
{
    const data d = parabola(9, 300, 0.1, 1);
    vent_fan *plain = vent_fan_new(NULL, d.n, d.flow, d.pressure, NULL);
    ck_assert_str_eq(vent_fan_name(plain), "fan");
    ck_assert_double_eq(vent_fan_density(plain), STANDARD);
    ck_assert_double_nan(vent_fan_power(plain, 0.05, 1.2, 1));
    double power[MOST], pressure[3] = {0};
    ck_assert_uint_eq(vent_fan_points(plain, MOST, NULL, NULL, power), 9);
    ck_assert_double_nan(power[4]);
    ck_assert_uint_eq(vent_fan_points(plain, 2, NULL, pressure, NULL), 9);
    ck_assert(pressure[1] == d.pressure[1] && pressure[2] == 0);
    ck_assert_uint_eq(vent_fan_points(plain, 0, NULL, NULL, NULL), 9);
    vent_fan_free(plain);

    vent_fan *fan = fan_of(&d, true, 1.1), *copy = vent_fan_copy(fan, NULL);
    for (double flow = -0.05; flow < 0.2; flow += 0.003) {
        ck_assert_double_eq(vent_fan_pressure(copy, flow, 1.3, 0.7),
                            vent_fan_pressure(fan, flow, 1.3, 0.7));
        ck_assert_double_eq(vent_fan_power(copy, flow, 1.3, 0.7),
                            vent_fan_power(fan, flow, 1.3, 0.7));
    }
    ck_assert_str_eq(vent_fan_name(copy), "a fan");
    ck_assert_double_eq(vent_fan_free_delivery(copy), vent_fan_free_delivery(fan));
    ck_assert(vent_fan_is_falling(copy) && vent_fan_density(copy) == 1.1);
    vent_fan_free(fan);
    ck_assert_double_eq(vent_fan_pressure(copy, 0, 1.1, 1), 300); /* the copy stands alone */
    vent_fan_free(copy);
}
END_TEST

/* ---- together ------------------------------------------------------------------------------- */

START_TEST(in_series_pressures_and_powers_add)
{
    random_states r = {0};
    for (int trial = 0; trial < 200; ++trial) {
        vent_fan *fan[3];
        for (int k = 0; k < 3; ++k) {
            data d = anyhow(&r);
            d.flow[0] = 0;
            fan[k] = fan_of(&d, true, random_between(&r, 0.8, 1.4));
        }
        vent_error err = VENT_NO_ERROR;
        vent_fan *all =
            vent_fan_series("all", 3, (const vent_fan *[]){fan[0], fan[1], fan[2]}, &err);
        ck_assert_msg(all != NULL, "%s", err.message);
        double least, most, greatest_common = INFINITE;
        for (int k = 0; k < 3; ++k) {
            vent_fan_range(fan[k], &least, &most);
            greatest_common = fmin(greatest_common, most);
        }
        vent_fan_range(all, &least, &most);
        ck_assert(least == 0 && most == greatest_common);
        ck_assert_double_eq(vent_fan_density(all), STANDARD);
        for (int i = 0; i < 50; ++i) {
            double flow = random_between(&r, -0.02, 0.4), rho = random_between(&r, 0.8, 1.3);
            double speed = random_between(&r, 0.5, 2), p = 0, slope = 0, power = 0, size = 0,
                   steep = 0;
            for (int k = 0; k < 3; ++k) {
                p += vent_fan_pressure(fan[k], flow, rho, speed);
                slope += vent_fan_slope(fan[k], flow, rho, speed);
                power += vent_fan_power(fan[k], flow, rho, speed);
                size += fabs(vent_fan_pressure(fan[k], flow, rho, speed)) + 1000;
                steep += fabs(vent_fan_slope(fan[k], flow, rho, speed)) + 1e6;
            }
            ck_assert_double_eq_tol(vent_fan_pressure(all, flow, rho, speed), p, 1e-13 * size * 10);
            ck_assert_double_eq_tol(vent_fan_slope(all, flow, rho, speed), slope, 1e-12 * steep);
            ck_assert_double_eq_tol(vent_fan_power(all, flow, rho, speed), power, 1e-10);
        }
        vent_fan_free(all);
        for (int k = 0; k < 3; ++k)
            vent_fan_free(fan[k]);
    }
}
END_TEST

START_TEST(equal_fans_in_parallel_share_the_flow)
{
    random_states r = {0};
    for (int trial = 0; trial < 100; ++trial) {
        data d = falling(&r);
        vent_fan *one = fan_of(&d, true, 1.1);
        const vent_fan *many[] = {one, one, one};
        vent_fan *three = vent_fan_parallel(NULL, 3, many, NULL);
        for (int i = 0; i < 30; ++i) {
            double flow = random_between(&r, 0, 0.3), rho = 1.25, speed = 0.9;
            double p = vent_fan_pressure(one, flow, rho, speed),
                   slope = vent_fan_slope(one, flow, rho, speed);
            double rounding = 1e-13 * (fabs(p) + fabs(slope) * flow + 1e3);
            ck_assert_double_eq_tol(vent_fan_pressure(three, 3 * flow, rho, speed), p, rounding);
            ck_assert_double_eq_tol(vent_fan_slope(three, 3 * flow, rho, speed), slope / 3,
                                    1e-9 * fabs(slope));
            ck_assert_double_eq_tol(vent_fan_power(three, 3 * flow, rho, speed),
                                    3 * vent_fan_power(one, flow, rho, speed), 1e-10);
        }
        ck_assert_double_eq_tol(vent_fan_free_delivery(three), 3 * vent_fan_free_delivery(one),
                                1e-14 * vent_fan_free_delivery(three));
        vent_fan_free(three);
        vent_fan_free(one);
    }
}
END_TEST

/* Flow of a falling fan in standard air at a pressure, without the library's own inverse. */
static double flow_at(const vent_fan *fan, double pressure)
{
    double low = -1e4, high = 1e4;
    for (int i = 0; i < 200; ++i) {
        double middle = 0.5 * (low + high);
        *(vent_fan_pressure(fan, middle, STANDARD, 1) > pressure ? &low : &high) = middle;
    }
    return low;
}

START_TEST(unequal_fans_in_parallel_add_their_flows)
{
    random_states r = {0};
    double worst = 0, worst_power = 0, worst_slope = 0;
    for (int trial = 0; trial < 150; ++trial) {
        size_t n = 2 + (size_t)trial % 2;
        const vent_fan *fan[3];
        vent_fan *own[3];
        double shut_off = 0, power_scale = 0;
        for (size_t k = 0; k < n; ++k) {
            data d = falling(&r);
            fan[k] = own[k] = fan_of(&d, true, random_between(&r, 0.9, 1.3));
            shut_off = fmax(shut_off, vent_fan_pressure(fan[k], 0, STANDARD, 1));
            for (size_t i = 0; i < d.n; ++i)
                power_scale = fmax(power_scale, (double)n * d.power[i]);
        }
        vent_error err = VENT_NO_ERROR;
        vent_fan *all = vent_fan_parallel("all", n, fan, &err);
        if (!all) /* their data may have no pressure in common */
            ck_assert_ptr_nonnull(strstr(err.message, "share no pressure"));
        for (int i = 0; all && i < 200; ++i) {
            double p = random_between(&r, -0.3, 1.1) * shut_off, flow = 0, compliance = 0,
                   power = 0;
            for (size_t k = 0; k < n; ++k) {
                double share = flow_at(fan[k], p);
                flow += share;
                compliance += 1 / vent_fan_slope(fan[k], share, STANDARD, 1);
                power += vent_fan_power(fan[k], share, STANDARD, 1);
            }
            worst = fmax(worst, fabs(vent_fan_pressure(all, flow, STANDARD, 1) - p) / shut_off);
            worst_power = fmax(worst_power,
                               fabs(vent_fan_power(all, flow, STANDARD, 1) - power) / power_scale);
            double slope = vent_fan_slope(all, flow, STANDARD, 1);
            worst_slope = fmax(worst_slope, fabs(slope * compliance - 1));
        }
        ck_assert(!all || vent_fan_is_falling(all));
        vent_fan_free(all);
        for (size_t k = 0; k < n; ++k)
            vent_fan_free(own[k]);
    }
    ck_assert_double_le(worst, 1e-6);
    ck_assert_double_le(worst_power, 1e-6);
    ck_assert_double_le(worst_slope, 1e-3);
}
END_TEST

START_TEST(the_order_of_fans_does_not_matter)
{
    const data a = parabola(8, 300, 0.1, 1), b = parabola(11, 420, 0.07, 1.2);
    vent_fan *one = fan_of(&a, true, 1.2), *other = fan_of(&b, false, 1.1);
    combine *const ways[] = {vent_fan_series, vent_fan_parallel};
    for (int k = 0; k < 2; ++k) {
        vent_fan *ab = ways[k]("ab", 2, (const vent_fan *[]){one, other}, NULL);
        vent_fan *ba = ways[k]("ba", 2, (const vent_fan *[]){other, one}, NULL);
        for (double flow = 0; flow < 0.2; flow += 0.004)
            ck_assert_double_eq_tol(pressure_at(ab, flow), pressure_at(ba, flow), 1e-10);
        ck_assert_double_nan(vent_fan_power(ab, 0.05, 1.2, 1)); /* one has no power */
        vent_fan_free(ab);
        vent_fan_free(ba);
    }
    vent_fan_free(one);
    vent_fan_free(other);
}
END_TEST

START_TEST(a_weaker_fan_in_parallel_lets_air_back)
{
    const data strong = parabola(20, 400, 0.1, 1), weak = parabola(20, 200, 0.1, 1);
    vent_fan *a = fan_of(&strong, false, STANDARD), *b = fan_of(&weak, false, STANDARD);
    vent_fan *both = vent_fan_parallel("both", 2, (const vent_fan *[]){a, b}, NULL);
    double shut_off = vent_fan_shut_off(both);
    ck_assert(shut_off > 200 && shut_off < 400);
    ck_assert_double_eq_tol(flow_at(a, shut_off) + flow_at(b, shut_off), 0, 1e-9);
    double least, most;
    vent_fan_range(both, &least, &most); /* up to where the weaker fan's data begin */
    ck_assert_double_eq_tol(least, flow_at(a, 200), 1e-12);
    ck_assert_double_eq_tol(most, 0.2, 1e-12);
    vent_fan_free(both);
    vent_fan_free(a);
    vent_fan_free(b);
}
END_TEST

/* ---- bad input ------------------------------------------------------------------------------ */

typedef struct mistake {
    data d;
    double density;
    const char *argument, *words;
    int64_t index;
} mistake;

START_TEST(bad_points_are_refused)
{
    const mistake mistakes[] = {
        {{.n = 0}, 1.2, "n", "n is 0", -1},
        {{.n = 1, .pressure = {100}}, 1.2, "n", "n is 1; a fan curve takes 2", -1},
        {{.n = 3, .flow = {0, 2, 1}, .pressure = {3, 2, 1}},
         1.2,
         "flow",
         "flow[2] is 1 m3/s, not above flow[1]",
         2},
        {{.n = 3, .flow = {0, 1, 1}, .pressure = {3, 2, 1}}, 1.2, "flow", "flow[2]", 2},
        {{.n = 3, .flow = {-1, 1, 2}, .pressure = {3, 2, 1}}, 1.2, "flow", "flow[0] is -1", 0},
        {{.n = 3, .flow = {0, NOT_A_NUMBER, 2}, .pressure = {3, 2, 1}},
         1.2,
         "flow",
         "flow[1] is nan",
         1},
        {{.n = 3, .flow = {0, 1, INFINITE}, .pressure = {3, 2, 1}},
         1.2,
         "flow",
         "flow[2] is inf",
         2},
        {{.n = 3, .flow = {0, 1, 2e6}, .pressure = {3, 2, 1}},
         1.2,
         "flow",
         "between 0 and 1e+06",
         2},
        {{.n = 3, .flow = {0, 1, 2}, .pressure = {3, NOT_A_NUMBER, 1}},
         1.2,
         "pressure",
         "pressure[1] is nan",
         1},
        {{.n = 3, .flow = {0, 1, 2}, .pressure = {3, 2, -INFINITE}},
         1.2,
         "pressure",
         "pressure[2] is -inf",
         2},
        {{.n = 3, .flow = {0, 1, 2}, .pressure = {0, 2, 1}}, 1.2, "pressure", "above 0", 0},
        {{.n = 3, .flow = {0, 1, 2}, .pressure = {0, 0, 0}}, 1.2, "pressure", "no fan", 0},
        {{.n = 3, .flow = {0, 1, 2}, .pressure = {-3, -2, -1}}, 1.2, "pressure", "above 0", 0},
        {{.n = 3, .flow = {0, 1, 2}, .pressure = {3, 2, 1}, .power = {5, -1, 5}},
         1.2,
         "power",
         "power[1] is -1 W",
         1},
        {{.n = 3, .flow = {0, 1, 2}, .pressure = {3, 2, 1}, .power = {5, 5, NOT_A_NUMBER}},
         1.2,
         "power",
         "power[2]",
         2},
        {{.n = 3, .flow = {0, 1, 2}, .pressure = {3, 2, 1}},
         0,
         "density",
         "between 0.1 and 10",
         -1},
        {{.n = 3, .flow = {0, 1, 2}, .pressure = {3, 2, 1}}, -1.2, "density", "-1.2", -1},
        {{.n = 3, .flow = {0, 1, 2}, .pressure = {3, 2, 1}}, 1000, "density", "1000", -1},
        {{.n = 3, .flow = {0, 1, 2}, .pressure = {3, 2, 1}}, NOT_A_NUMBER, "density", "nan", -1},
        {{.n = 3, .flow = {0, 1e-300, 2}, .pressure = {3e8, 2, 1}},
         1.2,
         "flow",
         "too close together",
         -1},
    };
    for (size_t i = 0; i < sizeof mistakes / sizeof *mistakes; ++i) {
        const mistake *m = &mistakes[i];
        vent_error err = VENT_NO_ERROR;
        ck_assert_ptr_null(
            vent_fan_new_at("a", m->d.n, m->d.flow, m->d.pressure, m->d.power, m->density, &err));
        ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
        ck_assert_str_eq(err.argument, m->argument);
        ck_assert_str_eq(err.function, "vent_fan_new_at");
        ck_assert_msg(strstr(err.message, m->words) != NULL, "%s", err.message);
        ck_assert_int_eq(err.index, m->index);
    }
}
END_TEST

START_TEST(too_many_points_are_refused_unread)
{
    vent_error err = VENT_NO_ERROR;
    const double one = 1;
    ck_assert_ptr_null(vent_fan_new("a", SIZE_MAX, &one, &one, &err));
    ck_assert_str_eq(err.function, "vent_fan_new");
    ck_assert_str_eq(err.argument, "n");
    ck_assert_ptr_nonnull(strstr(err.message, "100000"));
}
END_TEST

START_TEST(missing_arrays_are_refused)
{
    const double flow[] = {0, 1}, pressure[] = {2, 1};
    vent_error err = VENT_NO_ERROR;
    ck_assert_ptr_null(vent_fan_new("a", 2, NULL, pressure, &err));
    ck_assert_str_eq(err.argument, "flow");
    err = (vent_error)VENT_NO_ERROR;
    ck_assert_ptr_null(vent_fan_new("a", 2, flow, NULL, &err));
    ck_assert_str_eq(err.argument, "pressure");
    vent_error first = err;
    ck_assert_ptr_null(vent_fan_new("a", 2, flow, pressure, &err)); /* failed already */
    ck_assert_ptr_null(vent_fan_new_at("a", 2, flow, pressure, NULL, 1.2, &err));
    ck_assert_ptr_null(vent_fan_copy(NULL, &err));
    ck_assert_ptr_null(vent_fan_series("a", 0, NULL, &err));
    ck_assert_ptr_null(vent_fan_parallel("a", 0, NULL, &err));
    ck_assert_mem_eq(&err, &first, sizeof err);
    ck_assert_ptr_null(vent_fan_new("a", 1, flow, pressure, NULL));
    err = (vent_error)VENT_NO_ERROR;
    ck_assert_ptr_null(vent_fan_copy(NULL, &err));
    ck_assert_str_eq(err.argument, "fan");
}
END_TEST

static void expect_refusal(combine *together, size_t n, const vent_fan *const *fans,
                           const char *argument, const char *words, int64_t index)
{
    vent_error err = VENT_NO_ERROR;
    ck_assert_ptr_null(together("all", n, fans, &err));
    ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
    ck_assert_str_eq(err.argument, argument);
    ck_assert_msg(strstr(err.message, words) != NULL, "%s", err.message);
    ck_assert_int_eq(err.index, index);
}

START_TEST(fans_that_cannot_be_put_together_are_refused)
{
    const data plain = parabola(6, 300, 0.1, 1),
               far = {.n = 2, .flow = {0.2, 0.3}, .pressure = {250, 10}};
    const data hump = {.n = 4, .flow = {0, 0.05, 0.1, 0.15}, .pressure = {300, 340, 200, 0}};
    const data strong = {.n = 3, .flow = {0, 0.05, 0.1}, .pressure = {900, 800, 500}};
    vent_fan *a = fan_of(&plain, false, STANDARD), *b = fan_of(&far, false, STANDARD);
    vent_fan *c = fan_of(&hump, false, STANDARD), *d = fan_of(&strong, false, STANDARD);
    combine *const ways[] = {vent_fan_series, vent_fan_parallel};
    for (int k = 0; k < 2; ++k) {
        expect_refusal(ways[k], 0, (const vent_fan *[]){a}, "n", "n is 0", -1);
        expect_refusal(ways[k], 1001, (const vent_fan *[]){a}, "n", "between 1 and 1000", -1);
        expect_refusal(ways[k], 2, NULL, "fans", "missing", -1);
        expect_refusal(ways[k], 2, (const vent_fan *[]){a, NULL}, "fans", "fans[1] is missing", 1);
    }
    expect_refusal(vent_fan_series, 2, (const vent_fan *[]){a, b}, "fans", "share no flow", -1);
    expect_refusal(vent_fan_parallel, 2, (const vent_fan *[]){a, d}, "fans", "share no pressure",
                   -1);
    expect_refusal(vent_fan_parallel, 2, (const vent_fan *[]){a, c}, "fans",
                   "fans[1], \"a fan\", does not fall", 1);
    expect_refusal(vent_fan_parallel, 1, (const vent_fan *[]){c}, "fans", "does not fall", 0);
    vent_fan *series =
        vent_fan_series("s", 2, (const vent_fan *[]){a, c}, NULL); /* rising is fine here */
    ck_assert_ptr_nonnull(series);
    vent_fan_free(series);
    vent_fan_free(a);
    vent_fan_free(b);
    vent_fan_free(c);
    vent_fan_free(d);
}
END_TEST

START_TEST(outside_their_domain_the_laws_are_nan)
{
    const data d = parabola(6, 300, 0.1, 1);
    vent_fan *fan = fan_of(&d, true, STANDARD);
    const double bad[] = {NOT_A_NUMBER, INFINITE, -INFINITE};
    for (int i = 0; i < 3; ++i) {
        ck_assert_double_nan(vent_fan_pressure(fan, bad[i], 1.2, 1));
        ck_assert_double_nan(vent_fan_slope(fan, bad[i], 1.2, 1));
        ck_assert_double_nan(vent_fan_power(fan, bad[i], 1.2, 1));
        ck_assert_double_nan(vent_fan_pressure(fan, 0.05, bad[i], 1));
        ck_assert_double_nan(vent_fan_pressure(fan, 0.05, 1.2, bad[i]));
    }
    const double low[] = {0, -1};
    for (int i = 0; i < 2; ++i) {
        ck_assert_double_nan(vent_fan_pressure(fan, 0.05, low[i], 1));
        ck_assert_double_nan(vent_fan_slope(fan, 0.05, 1.2, low[i]));
        ck_assert_double_nan(vent_fan_power(fan, 0.05, 1.2, low[i]));
    }
    vent_fan_free(fan);
    double least = 7;
    ck_assert_double_nan(vent_fan_pressure(NULL, 0.05, 1.2, 1));
    ck_assert_double_nan(vent_fan_slope(NULL, 0.05, 1.2, 1));
    ck_assert_double_nan(vent_fan_power(NULL, 0.05, 1.2, 1));
    ck_assert_double_nan(vent_fan_shut_off(NULL));
    ck_assert_double_nan(vent_fan_free_delivery(NULL));
    ck_assert_double_nan(vent_fan_density(NULL));
    ck_assert_ptr_null(vent_fan_name(NULL));
    ck_assert(!vent_fan_is_falling(NULL) && !vent_fan_range(NULL, &least, NULL) && least == 7);
    ck_assert_uint_eq(vent_fan_points(NULL, 1, &least, NULL, NULL), 0);
    vent_fan_free(NULL);
}
END_TEST

/* ---- memory --------------------------------------------------------------------------------- */

/* Every way to make a fan; asserts nothing, as Check asks for memory too. */
static bool make_all(vent_error *err)
{
    const data d = parabola(5, 300, 0.1, 1), e = parabola(7, 350, 0.08, 1);
    vent_fan *a = vent_fan_new_at("a", d.n, d.flow, d.pressure, d.power, 1.2, err);
    vent_fan *b = vent_fan_new_at("b", e.n, e.flow, e.pressure, e.power, 1.1, err);
    vent_fan *series = vent_fan_series("s", 2, (const vent_fan *[]){a, b}, err);
    vent_fan *unequal = vent_fan_parallel("u", 2, (const vent_fan *[]){a, b}, err);
    vent_fan *equal = vent_fan_parallel("e", 2, (const vent_fan *[]){a, a}, err);
    vent_fan *copy = vent_fan_copy(unequal, err);
    bool made = a && b && series && unequal && equal && copy;
    vent_fan_free(a);
    vent_fan_free(b);
    vent_fan_free(series);
    vent_fan_free(unequal);
    vent_fan_free(equal);
    vent_fan_free(copy);
    return made;
}

START_TEST(every_refusal_of_memory_is_an_error)
{
    long refusals = 0;
    for (vent_error err = {.status = VENT_E_MEMORY}; err.status != VENT_OK; ++refusals) {
        err = (vent_error)VENT_NO_ERROR;
        refuse_request(refusals + 1);
        bool made = make_all(&err);
        refuse_request(0);
        ck_assert(made == (err.status == VENT_OK));
        ck_assert_msg(err.status == VENT_OK || err.status == VENT_E_MEMORY, "%s", err.message);
        ck_assert(err.status == VENT_OK || strstr(err.message, "out of memory"));
    }
    ck_assert_int_gt(refusals, 30);
}
END_TEST

START_TEST(reading_asks_for_no_memory)
{
    const data d = parabola(5, 300, 0.1, 1);
    vent_fan *fan = fan_of(&d, true, 1.2);
    double flow[8], sum = 0;
    refuse_request(0);
    for (int i = 0; i < 100; ++i)
        sum += vent_fan_pressure(fan, 0.002 * i, 1.2, 1) + vent_fan_power(fan, 0.002 * i, 1.2, 1) +
               vent_fan_slope(fan, 0.002 * i, 1.2, 1) + vent_fan_free_delivery(fan);
    vent_fan_points(fan, 8, flow, NULL, NULL);
    ck_assert_int_eq(requests_made(), 0);
    ck_assert_double_finite(sum);
    vent_fan_free(fan);
}
END_TEST

Suite *fan_suite(void)
{
    Suite *suite = suite_create("fan");
    TCase *laws = tcase_create("laws");
    tcase_add_test(laws, the_laws_are_met);
    tcase_add_test(laws, the_laws_hold_all_along_the_curve);
    tcase_add_test(laws, the_slope_is_the_derivative);
    tcase_add_test(laws, fans_meet_their_systems);
    suite_add_tcase(suite, laws);
    TCase *curve = tcase_create("curve");
    tcase_add_test(curve, it_passes_through_its_points_and_keeps_copies);
    tcase_add_test(curve, it_falls_where_the_data_fall_and_rises_where_they_rise);
    tcase_add_test(curve, few_points_on_a_parabola_draw_it_closely);
    tcase_add_test(curve, shut_off_and_free_delivery);
    tcase_add_test(curve, past_the_data_it_is_a_straight_line);
    tcase_add_test(curve, names_points_and_copies);
    suite_add_tcase(suite, curve);
    TCase *together = tcase_create("together");
    tcase_add_test(together, in_series_pressures_and_powers_add);
    tcase_add_test(together, equal_fans_in_parallel_share_the_flow);
    tcase_add_test(together, unequal_fans_in_parallel_add_their_flows);
    tcase_add_test(together, the_order_of_fans_does_not_matter);
    tcase_add_test(together, a_weaker_fan_in_parallel_lets_air_back);
    suite_add_tcase(suite, together);
    TCase *bad_input = tcase_create("bad input");
    tcase_add_test(bad_input, bad_points_are_refused);
    tcase_add_test(bad_input, too_many_points_are_refused_unread);
    tcase_add_test(bad_input, missing_arrays_are_refused);
    tcase_add_test(bad_input, fans_that_cannot_be_put_together_are_refused);
    tcase_add_test(bad_input, outside_their_domain_the_laws_are_nan);
    suite_add_tcase(suite, bad_input);
    TCase *memory = tcase_create("memory");
    tcase_add_test(memory, every_refusal_of_memory_is_an_error);
    tcase_add_test(memory, reading_asks_for_no_memory);
    suite_add_tcase(suite, memory);
    return suite;
}
