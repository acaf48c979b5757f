/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of formulas: pure functions of numbers, called as formulas.h says. Part of core.i. */

%{
#include "formulas.h"
%}

%init %{
import_array1(NULL);
%}

/* name after vent_; as Python calls it; array form of the library or NULL; types of its objects `of` or
 * NULL; its value at the numbers `x`; their names. */
%define FORMULA_OF(name, called, row, first, second, value, ...)
%ignore vent_##name;
%{
static double value_of_##name(const void *const *of, const double *x)
{
    return value;
}
static formula formula_##name = {
    {#name, NULL, 0, NULL}, called, value_of_##name, row, {first, second},
    sizeof((const char *[]){__VA_ARGS__}) / sizeof(const char *), {__VA_ARGS__}};
%}
%init %{
if (!add_formula(m, &formula_##name))
    return NULL;
%}
%enddef
%define FORMULA(name, value, ...)
FORMULA_OF(name, #name, NULL, NULL, NULL, value, __VA_ARGS__)
%enddef
%define ARRAY_FORMULA(name, value, ...)
FORMULA_OF(name, #name, vent_##name##_array, NULL, NULL, value, __VA_ARGS__)
%enddef
%define METHOD(name, called, type, value, ...)
FORMULA_OF(name, called, NULL, &SWIGTYPE_p_##type, NULL, value, __VA_ARGS__)
%enddef

ARRAY_FORMULA(friction_factor, vent_friction_factor(x[0], x[1]),
        "reynolds", "relative_roughness")
ARRAY_FORMULA(friction_colebrook, vent_friction_colebrook(x[0], x[1]),
        "reynolds", "relative_roughness")
ARRAY_FORMULA(friction_churchill, vent_friction_churchill(x[0], x[1]),
        "reynolds", "relative_roughness")
FORMULA(friction_laminar_rectangle, vent_friction_laminar_rectangle(x[0]), "aspect")

%ignore vent_pressure_at_altitude;
FORMULA(pressure_at, vent_pressure_at_altitude(x[0]), "altitude")
FORMULA(saturation_pressure, vent_saturation_pressure(x[0]), "temperature")
FORMULA(water_density, vent_water_density(x[0]), "temperature")

METHOD(pipe_loss, "Pipe.loss", vent_pipe,
        vent_pipe_loss(*(const vent_pipe *)of[0], x[0], x[1], x[2], x[3]),
        "length", "mass_flow", "density", "viscosity")
FORMULA(guard_free_area, vent_guard_free_area(x[0], x[1]), "wire", "opening")
METHOD(soil_pressure, "Soil.pressure", vent_soil,
        vent_soil_pressure(*(const vent_soil *)of[0], x[0]), "flow")
METHOD(soil_flow, "Soil.flow", vent_soil,
        vent_soil_flow(*(const vent_soil *)of[0], x[0]), "pressure")
METHOD(opening_flow, "Opening.flow", vent_opening,
        vent_opening_flow(*(const vent_opening *)of[0], x[0], x[1]), "pressure", "density")
METHOD(fan_pressure, "Fan.pressure", vent_fan,
        vent_fan_pressure(of[0], x[0], x[1], x[2]), "flow", "density", "speed")
METHOD(fan_slope, "Fan.slope", vent_fan,
        vent_fan_slope(of[0], x[0], x[1], x[2]), "flow", "density", "speed")
METHOD(fan_power, "Fan.power", vent_fan,
        vent_fan_power(of[0], x[0], x[1], x[2]), "flow", "density", "speed")

METHOD(field_vacuum, "Field.vacuum", vent_field,
       vent_field_vacuum(*(const vent_field *)of[0], x[0]).value, "distance")
METHOD(field_uncertainty, "Field.uncertainty", vent_field,
       vent_field_vacuum(*(const vent_field *)of[0], x[0]).uncertainty, "distance")
FORMULA_OF(probe_blockage, "Probe.blockage", NULL, &SWIGTYPE_p_vent_probe, &SWIGTYPE_p_vent_pipe,
           vent_probe_blockage(*(const vent_pipe *)of[1], *(const vent_probe *)of[0], x[0]),
        "insertion")
FORMULA(velocity_of_pressure, vent_velocity_of_pressure(x[0], x[1]), "velocity_pressure", "density")
FORMULA(velocity_4005, vent_velocity_4005(x[0]), "velocity_pressure")
FORMULA(mean_to_centre, vent_mean_to_centre(x[0], x[1]), "reynolds", "relative_roughness")
FORMULA(mean_to_centre_power, vent_mean_to_centre_power(x[0]), "n")
FORMULA(orifice_discharge, vent_orifice_discharge(x[0], x[1], x[2], x[3] >= 0 && x[3] <= VENT_TAPS_FLANGE ? (int32_t)x[3] : -1),
        "pipe_bore", "bore", "reynolds", "taps")
FORMULA(orifice_expansibility, vent_orifice_expansibility(x[0], x[1], x[2], x[3]),
        "diameter_ratio", "pressure", "difference", "isentropic_exponent")
FORMULA(orifice_loss, vent_orifice_loss(x[0], x[1], x[2]), "diameter_ratio", "discharge", "difference")

/* units: what is not of the library, but costs no more */
FORMULA(times, x[0] * x[1], "values", "unit")
FORMULA(over, x[0] / x[1], "values", "unit")
FORMULA(celsius, VENT_CELSIUS(x[0]), "temperature")
FORMULA(fahrenheit, VENT_FAHRENHEIT(x[0]), "temperature")
FORMULA(to_celsius, x[0] - 273.15, "temperature")
FORMULA(to_fahrenheit, x[0] / (5.0 / 9) - 459.67, "temperature")
