/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "csv.h"
#include "suites.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <ventstack/air.h>

static vent_air moist(double temperature, double pressure, double relative_humidity)
{
    vent_error err = VENT_NO_ERROR;
    vent_air air = vent_air_moist(temperature, pressure, relative_humidity, &err);
    ck_assert_msg(err.status == VENT_OK, "%s", err.message);
    return air;
}

static vent_air moist_row(const csv *table)
{
    return moist(csv_number(table, "temperature"), csv_number(table, "pressure"),
                 csv_number(table, "relative_humidity"));
}

/* ---- values ---- */

START_TEST(density_is_cipm_2007)
{
    csv *table = csv_open("cipm.csv");
    while (csv_next(table)) {
        double temperature = 273.15 + csv_number(table, "celsius");
        vent_air air = moist(temperature, csv_number(table, "pressure"),
                             csv_number(table, "relative_humidity"));
        csv_expect(table, "saturation", vent_saturation_pressure_water(temperature), 1e-11, 0);
        csv_expect(table, "vapour_fraction", air.vapour_fraction,
                   csv_number(table, "vapour_tolerance"), 0);
        csv_expect(table, "density", air.density, csv_number(table, "density_tolerance"), 0);
    }
    csv_close(table);
}
END_TEST

START_TEST(density_agrees_with_iapws_humid_air)
{
    csv *table = csv_open("air_density.csv");
    while (csv_next(table)) {
        vent_air air = moist_row(table);
        csv_expect(table, "vapour_fraction", air.vapour_fraction, 2e-3, 0);
        csv_expect(table, "density", air.density, csv_number(table, "tolerance"), 0);
    }
    csv_close(table);
}
END_TEST

/* Two ideal gases with the vapour pressure as it would be without air around. */
static double ideal_density(double temperature, double pressure, double relative_humidity)
{
    double x = relative_humidity * vent_saturation_pressure(temperature) / pressure;
    return pressure * (0.02896546 * (1 - x) + 0.01801528 * x) / (8.314472 * temperature);
}

START_TEST(density_differs_from_ideal_gas_for_known_reasons)
{
    csv *table = csv_open("air_density_ideal.csv");
    while (csv_next(table)) {
        double temperature = 273.15 + csv_number(table, "celsius");
        double pressure = csv_number(table, "pressure");
        double humidity = csv_number(table, "relative_humidity");
        double denser =
            moist(temperature, pressure, humidity).density / csv_number(table, "density") - 1;
        ck_assert_msg(denser > 2e-4 && denser < 6e-4, "%s: %g", csv_where(table), denser);
        csv_expect(table, "density", ideal_density(temperature, pressure, humidity), 3e-5, 0);
    }
    csv_close(table);
}
END_TEST

static double saturation(const csv *table)
{
    const char *curve = csv_text(table, "curve");
    double temperature = csv_number(table, "temperature");
    if (strcmp(curve, "water") == 0)
        return vent_saturation_pressure_water(temperature);
    if (strcmp(curve, "ice") == 0)
        return vent_saturation_pressure_ice(temperature);
    ck_assert_str_eq(curve, "stable");
    return vent_saturation_pressure(temperature);
}

START_TEST(saturation_pressure)
{
    csv *table = csv_open("saturation.csv");
    while (csv_next(table))
        csv_expect(table, "pressure", saturation(table), csv_number(table, "tolerance"), 0);
    csv_close(table);
}
END_TEST

START_TEST(viscosity)
{
    csv *table = csv_open("viscosity.csv");
    while (csv_next(table))
        csv_expect(table, "viscosity", moist_row(table).viscosity, csv_number(table, "tolerance"),
                   0);
    csv_close(table);
}
END_TEST

START_TEST(viscosity_of_the_mixture)
{
    csv *table = csv_open("viscosity_mixture.csv");
    while (csv_next(table))
        csv_expect(table, "viscosity", moist_row(table).viscosity, 1e-11, 0);
    csv_close(table);
}
END_TEST

START_TEST(pressure_at_altitude)
{
    csv *table = csv_open("atmosphere.csv");
    while (csv_next(table))
        csv_expect(table, "pressure", vent_pressure_at_altitude(csv_number(table, "altitude")),
                   csv_number(table, "relative"), csv_number(table, "absolute"));
    csv_close(table);
}
END_TEST

/* ASHRAE Fundamentals 2017, chapter 1, example 1 (reprint): 100 F dry bulb, 65 F wet bulb, 14.696
 * psia has W 0.00523, dew point 40 F, relative humidity 13 %. At the humidity that gives this W
 * exactly, the dew point must be 40 F to its last digit, and the humidity 13 % to its. */
START_TEST(psychrometric_example)
{
    double low = 0, high = 1;
    for (int i = 0; i < 60; i++) {
        double middle = 0.5 * (low + high);
        *(vent_humidity_ratio(moist(310.927777777778, 101325.353, middle)) < 0.00523 ? &low
                                                                                     : &high) =
            middle;
    }
    ck_assert_double_eq_tol(low, 0.13, 0.005);
    double dew = vent_dew_point(moist(310.927777777778, 101325.353, low));
    ck_assert_double_eq_tol(dew * 1.8 - 459.67, 40, 0.5);
}
END_TEST

/* ---- invariants ---- */

static const double pressures[] = {3e4, 5.5e4, 8.4e4, 101325, 1.2e5};
enum { PRESSURES = sizeof pressures / sizeof pressures[0] };

START_TEST(saturated_air_is_at_its_dew_point)
{
    for (int i = 0; i < PRESSURES; i++)
        for (double temperature = 233.15; temperature <= 333.15; temperature += 0.137) {
            double dew = vent_dew_point(moist(temperature, pressures[i], 1));
            ck_assert_double_eq_tol(dew, temperature, 1e-9);
        }
}
END_TEST

/* Air cooled to its dew point is just saturated. */
START_TEST(dew_point_saturates)
{
    vent_error err = VENT_NO_ERROR;
    for (double temperature = 243.15; temperature <= 333.15; temperature += 1.7)
        for (double humidity = 0.41; humidity < 1; humidity += 0.0931) {
            vent_air air = moist(temperature, 98300, humidity);
            double dew = vent_dew_point(air);
            ck_assert(dew < temperature);
            vent_air cooled = vent_air_at_temperature(air, dew, &err);
            ck_assert_double_eq_tol(cooled.relative_humidity, 1, 1e-9);
            ck_assert_double_eq_tol(cooled.vapour_fraction, air.vapour_fraction,
                                    1e-9 * air.vapour_fraction);
        }
    ck_assert_int_eq(err.status, VENT_OK);
}
END_TEST

START_TEST(dew_point_rises_with_humidity)
{
    double last = 0;
    for (double humidity = 1e-12; humidity < 1; humidity *= 1.05) {
        double dew = vent_dew_point(moist(293.15, 101325, humidity));
        ck_assert_msg(dew > last, "at %g: %g after %g", humidity, dew, last);
        last = dew;
    }
}
END_TEST

START_TEST(saturation_is_continuous_at_the_triple_point)
{
    double water = vent_saturation_pressure_water(273.16);
    ck_assert_double_eq_tol(water, 611.657, 5e-4);
    ck_assert_double_eq_tol(vent_saturation_pressure_ice(273.16), 611.657, 1e-6);
    ck_assert_double_eq(vent_saturation_pressure(273.16), water);
    ck_assert_double_eq(vent_saturation_pressure(273.15), vent_saturation_pressure_ice(273.15));
    ck_assert(vent_saturation_pressure_water(253.15) > vent_saturation_pressure_ice(253.15));
}
END_TEST

START_TEST(humidity_below_freezing_is_over_ice)
{
    double ice = vent_saturation_pressure_ice(253.15);
    vent_air air = moist(253.15, 101325, 1);
    ck_assert_double_eq_tol(air.vapour_fraction * 101325 / ice, 1.00403, 1e-5);
}
END_TEST

START_TEST(warm_and_moist_air_is_lighter)
{
    for (int i = 0; i < PRESSURES; i++)
        for (double temperature = 233.15; temperature < 333; temperature += 1.3)
            for (double humidity = 0; humidity < 0.95; humidity += 0.1) {
                vent_air air = moist(temperature, pressures[i], humidity);
                ck_assert(moist(temperature, pressures[i], humidity + 0.05).density < air.density);
                ck_assert(moist(temperature + 0.1, pressures[i], humidity).density < air.density);
                ck_assert(moist(temperature + 0.1, pressures[i], 0).viscosity >
                          moist(temperature, pressures[i], 0).viscosity);
            }
}
END_TEST

START_TEST(a_state_repeats_what_it_was_made_from)
{
    vent_air air = moist(286.15, 98300, 0.7);
    ck_assert_double_eq(air.temperature, 286.15);
    ck_assert_double_eq(air.pressure, 98300);
    ck_assert_double_eq(air.relative_humidity, 0.7);
}
END_TEST

START_TEST(cooling_condenses_and_warming_does_not_undo_it)
{
    vent_error err = VENT_NO_ERROR;
    vent_air soil_gas = moist(286.15, 98300, 1);
    vent_air attic = vent_air_at_temperature(soil_gas, 263.15, &err);
    ck_assert_double_eq(attic.relative_humidity, 1);
    ck_assert_double_eq(attic.pressure, 98300);
    ck_assert_double_eq(attic.density, moist(263.15, 98300, 1).density);
    ck_assert(attic.vapour_fraction < soil_gas.vapour_fraction);
    vent_air house = vent_air_at_temperature(attic, 293.15, &err);
    ck_assert_double_eq(house.vapour_fraction, attic.vapour_fraction);
    ck_assert_double_eq_tol(vent_dew_point(house), 263.15, 1e-9);
    ck_assert_double_eq_tol(house.density, moist(293.15, 98300, house.relative_humidity).density,
                            1e-12);
    ck_assert_int_eq(err.status, VENT_OK);
}
END_TEST

/* ---- limits and errors ---- */

static void assert_no_air(vent_air air)
{
    ck_assert(isnan(air.temperature) && isnan(air.pressure) && isnan(air.relative_humidity) &&
              isnan(air.vapour_fraction) && isnan(air.density) && isnan(air.viscosity));
}

START_TEST(bounds_are_admissible)
{
    static const double temperature[] = {233.15, 333.15}, pressure[] = {3e4, 1.2e5};
    for (int i = 0; i < 8; i++) {
        vent_air air = moist(temperature[i & 1], pressure[i >> 1 & 1], i >> 2);
        ck_assert(air.density > 0 && air.viscosity > 0 && air.vapour_fraction < 1);
    }
}
END_TEST

typedef struct bad {
    double temperature, pressure, relative_humidity;
    const char *argument, *words;
} bad;

static const bad bad_arguments[] = {
    {13, 98300, 0.5, "temperature", "did you mean 13 C = 286.15 K or 13 F = 262.59444 K?"},
    {-5, 98300, 0.5, "temperature", "did you mean -5 C = 268.15 K or -5 F = 252.59444 K?"},
    {55.4, 98300, 0.5, "temperature", "or 55.4 F = 286.15 K?"},
    {70, 98300, 0.5, "temperature", "did you mean 70 F = 294.26111 K?"},
    {170, 98300, 0.5, "temperature", "170 K; it must lie between 233.15 and 333.15"},
    {233.1499, 98300, 0.5, "temperature", "233.15 and 333.15"},
    {NAN, 98300, 0.5, "temperature", "nan"},
    {INFINITY, 98300, 0.5, "temperature", "inf"},
    {286.15, 983, 0.5, "pressure", "did you mean 983 hPa = 98300 Pa?"},
    {286.15, 98.3, 0.5, "pressure", "did you mean 98.3 kPa = 98300 Pa?"},
    {286.15, -98300, 0.5, "pressure", "30000 and 120000"},
    {286.15, NAN, 0.5, "pressure", "nan"},
    {286.15, 98300, 50, "relative_humidity", "did you mean 50 % = 0.5?"},
    {286.15, 98300, 101, "relative_humidity", "between 0 and 1"},
    {286.15, 98300, -0.1, "relative_humidity", "between 0 and 1"},
    {286.15, 98300, NAN, "relative_humidity", "nan"},
};

START_TEST(bad_argument_is_named)
{
    const bad *b = &bad_arguments[_i];
    vent_error err = VENT_NO_ERROR;
    assert_no_air(vent_air_moist(b->temperature, b->pressure, b->relative_humidity, &err));
    ck_assert_int_eq(err.status, VENT_E_ARGUMENT);
    ck_assert_str_eq(err.argument, b->argument);
    ck_assert_str_eq(err.function, "vent_air_moist");
    ck_assert_msg(strstr(err.message, b->words), "%s", err.message);
    ck_assert(err.low < err.high);
    assert_no_air(vent_air_moist(b->temperature, b->pressure, b->relative_humidity, NULL));
}
END_TEST

START_TEST(a_failure_passes_through)
{
    vent_error err = VENT_NO_ERROR;
    vent_air none = vent_air_moist(286.15, 98300, 2, &err);
    vent_error first = err;
    assert_no_air(vent_air_at_temperature(none, 286.15, &err));
    assert_no_air(vent_air_moist(286.15, 98300, 1, &err));
    ck_assert_mem_eq(&first, &err, sizeof err);
}
END_TEST

START_TEST(a_state_that_is_none_is_refused)
{
    vent_air air = moist(286.15, 98300, 0.5), bad_air = air;
    vent_error err = VENT_NO_ERROR;
    assert_no_air(vent_air_at_temperature(air, 20, &err));
    ck_assert_msg(strstr(err.message, "293.15 K"), "%s", err.message);

    bad_air.vapour_fraction = NAN;
    err = (vent_error)VENT_NO_ERROR;
    assert_no_air(vent_air_at_temperature(bad_air, 286.15, &err));
    ck_assert_str_eq(err.argument, "air.vapour_fraction");
    ck_assert(isnan(vent_dew_point(bad_air)) && isnan(vent_humidity_ratio(bad_air)));

    bad_air = air;
    bad_air.pressure = 0;
    err = (vent_error)VENT_NO_ERROR;
    assert_no_air(vent_air_at_temperature(bad_air, 286.15, &err));
    ck_assert_str_eq(err.argument, "air.pressure");
    ck_assert(isnan(vent_dew_point(bad_air)));
}
END_TEST

START_TEST(air_without_vapour_has_no_dew_point)
{
    vent_air dry = moist(293.15, 101325, 0);
    ck_assert_double_eq(dry.vapour_fraction, 0);
    ck_assert_double_eq(vent_humidity_ratio(dry), 0);
    ck_assert(isnan(vent_dew_point(dry)));
    ck_assert(isnan(vent_dew_point(moist(293.15, 101325, 1e-300))));
}
END_TEST

START_TEST(formulas_are_nan_outside)
{
    ck_assert(isnan(vent_saturation_pressure(49.9)) && isnan(vent_saturation_pressure(373.16)));
    ck_assert(isnan(vent_saturation_pressure_water(233.1)));
    ck_assert(isnan(vent_saturation_pressure_water(373.16)));
    ck_assert(isnan(vent_saturation_pressure_ice(49.9)));
    ck_assert(isnan(vent_saturation_pressure_ice(273.17)));
    ck_assert(isnan(vent_saturation_pressure(NAN)) && isnan(vent_pressure_at_altitude(NAN)));
    ck_assert(isnan(vent_pressure_at_altitude(-5000.1)));
    ck_assert(isnan(vent_pressure_at_altitude(11000.1)));
    ck_assert(vent_pressure_at_altitude(-5000) > vent_pressure_at_altitude(11000));
}
END_TEST

Suite *air_suite(void)
{
    Suite *suite = suite_create("air");

    TCase *values = tcase_create("values");
    tcase_add_test(values, density_is_cipm_2007);
    tcase_add_test(values, density_agrees_with_iapws_humid_air);
    tcase_add_test(values, density_differs_from_ideal_gas_for_known_reasons);
    tcase_add_test(values, saturation_pressure);
    tcase_add_test(values, viscosity);
    tcase_add_test(values, viscosity_of_the_mixture);
    tcase_add_test(values, pressure_at_altitude);
    tcase_add_test(values, psychrometric_example);
    suite_add_tcase(suite, values);

    TCase *invariants = tcase_create("invariants");
    tcase_add_test(invariants, saturated_air_is_at_its_dew_point);
    tcase_add_test(invariants, dew_point_saturates);
    tcase_add_test(invariants, dew_point_rises_with_humidity);
    tcase_add_test(invariants, saturation_is_continuous_at_the_triple_point);
    tcase_add_test(invariants, humidity_below_freezing_is_over_ice);
    tcase_add_test(invariants, warm_and_moist_air_is_lighter);
    tcase_add_test(invariants, a_state_repeats_what_it_was_made_from);
    tcase_add_test(invariants, cooling_condenses_and_warming_does_not_undo_it);
    suite_add_tcase(suite, invariants);

    TCase *limits = tcase_create("limits");
    tcase_add_test(limits, bounds_are_admissible);
    tcase_add_loop_test(limits, bad_argument_is_named, 0,
                        sizeof bad_arguments / sizeof bad_arguments[0]);
    tcase_add_test(limits, a_failure_passes_through);
    tcase_add_test(limits, a_state_that_is_none_is_refused);
    tcase_add_test(limits, air_without_vapour_has_no_dew_point);
    tcase_add_test(limits, formulas_are_nan_outside);
    suite_add_tcase(suite, limits);

    return suite;
}
