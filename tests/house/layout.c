/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Size of every public struct, offset and type of every field. Programs compiled against these
 * headers hold such structs by value: a change here breaks them all, so it needs a new major
 * version. Offsets are those of 64-bit targets, the only ones with pointers of 8 bytes. */
#include <stddef.h>
#include <ventstack/ventstack.h>

#define SIZE(record, bytes) _Static_assert(sizeof(record) == (bytes), #record " changed its size")
#define FIELD(record, offset, type, field)                                                         \
    _Static_assert(offsetof(record, field) == (offset) &&                                          \
                       _Generic(&((record *)0)->field, __typeof__(type) * : 1, default : 0),       \
                   #record "." #field " moved or changed its type")

SIZE(vent_error, 456);
FIELD(vent_error, 0, int32_t, status);
FIELD(vent_error, 4, int32_t, reserved);
FIELD(vent_error, 8, int64_t, index);
FIELD(vent_error, 16, double, value);
FIELD(vent_error, 24, double, low);
FIELD(vent_error, 32, double, high);
FIELD(vent_error, 40, char[48], function);
FIELD(vent_error, 88, char[48], argument);
FIELD(vent_error, 136, char[320], message);

SIZE(vent_source, 32);
FIELD(vent_source, 0, const char *, author);
FIELD(vent_source, 8, const char *, title);
FIELD(vent_source, 16, const char *, place);
FIELD(vent_source, 24, int32_t, year);
FIELD(vent_source, 28, int32_t, how);

SIZE(vent_coefficient, 24);
FIELD(vent_coefficient, 0, double, value);
FIELD(vent_coefficient, 8, double, uncertainty);
FIELD(vent_coefficient, 16, int32_t, source);
FIELD(vent_coefficient, 20, uint32_t, flags);

SIZE(vent_air, 48);
FIELD(vent_air, 0, double, temperature);
FIELD(vent_air, 8, double, pressure);
FIELD(vent_air, 16, double, relative_humidity);
FIELD(vent_air, 24, double, vapour_fraction);
FIELD(vent_air, 32, double, density);
FIELD(vent_air, 40, double, viscosity);

SIZE(vent_pipe, 48);
FIELD(vent_pipe, 0, int32_t, shape);
FIELD(vent_pipe, 4, int32_t, source);
FIELD(vent_pipe, 8, double, width);
FIELD(vent_pipe, 16, double, depth);
FIELD(vent_pipe, 24, double, roughness);
FIELD(vent_pipe, 32, double, bore_uncertainty);
FIELD(vent_pipe, 40, double, roughness_uncertainty);

SIZE(vent_fitting, 64);
FIELD(vent_fitting, 0, int32_t, family);
FIELD(vent_fitting, 4, int32_t, source);
FIELD(vent_fitting, 8, double[6], geometry);
FIELD(vent_fitting, 56, double, factor);

SIZE(vent_formula, 24);
FIELD(vent_formula, 0, int32_t, source);
FIELD(vent_formula, 4, int32_t, own_length);
FIELD(vent_formula, 8, double, reynolds_low);
FIELD(vent_formula, 16, double, reynolds_high);

SIZE(vent_parameter_range, 48);
FIELD(vent_parameter_range, 0, const char *, name);
FIELD(vent_parameter_range, 8, const char *, unit);
FIELD(vent_parameter_range, 16, double, low);
FIELD(vent_parameter_range, 24, double, high);
FIELD(vent_parameter_range, 32, double, source_low);
FIELD(vent_parameter_range, 40, double, source_high);

SIZE(vent_junction, 24);
FIELD(vent_junction, 0, int32_t, law);
FIELD(vent_junction, 4, int32_t, source);
FIELD(vent_junction, 8, double, angle);
FIELD(vent_junction, 16, double, factor);

SIZE(vent_termination, 64);
FIELD(vent_termination, 0, int32_t, family);
FIELD(vent_termination, 4, int32_t, source);
FIELD(vent_termination, 8, double[6], geometry);
FIELD(vent_termination, 56, double, factor);

SIZE(vent_stream, 40);
FIELD(vent_stream, 0, double, share);
FIELD(vent_stream, 8, double[3], direction);
FIELD(vent_stream, 32, double, area_ratio);

SIZE(vent_soil, 24);
FIELD(vent_soil, 0, int32_t, law);
FIELD(vent_soil, 4, int32_t, reserved);
FIELD(vent_soil, 8, double, a);
FIELD(vent_soil, 16, double, b);

SIZE(vent_equivalent_source, 24);
FIELD(vent_equivalent_source, 0, double, pressure);
FIELD(vent_equivalent_source, 8, double, mass_flow);
FIELD(vent_equivalent_source, 16, double, slope);

SIZE(vent_fan_point, 80);
FIELD(vent_fan_point, 0, int32_t, run);
FIELD(vent_fan_point, 4, int32_t, item);
FIELD(vent_fan_point, 8, double, flow);
FIELD(vent_fan_point, 16, double, pressure);
FIELD(vent_fan_point, 24, double, density);
FIELD(vent_fan_point, 32, double, power);
FIELD(vent_fan_point, 40, double, air_power);
FIELD(vent_fan_point, 48, double, shut_off);
FIELD(vent_fan_point, 56, double, free_delivery);
FIELD(vent_fan_point, 64, double, shut_off_share);
FIELD(vent_fan_point, 72, double, slope);

SIZE(vent_convergence, 40);
FIELD(vent_convergence, 0, int32_t, iterations);
FIELD(vent_convergence, 4, int32_t, reserved);
FIELD(vent_convergence, 8, double, pressure_residual);
FIELD(vent_convergence, 16, double, pressure_scale);
FIELD(vent_convergence, 24, double, mass_residual);
FIELD(vent_convergence, 32, double, mass_scale);

SIZE(vent_warning, 232);
FIELD(vent_warning, 0, uint32_t, flag);
FIELD(vent_warning, 4, int32_t, run);
FIELD(vent_warning, 8, int32_t, item);
FIELD(vent_warning, 12, int32_t, reserved);
FIELD(vent_warning, 16, double, value);
FIELD(vent_warning, 24, double, limit);
FIELD(vent_warning, 32, char[200], message);

SIZE(vent_source_use, 32);
FIELD(vent_source_use, 0, int32_t, source);
FIELD(vent_source_use, 4, uint32_t, flags);
FIELD(vent_source_use, 8, int32_t, lines);
FIELD(vent_source_use, 12, int32_t, reserved);
FIELD(vent_source_use, 16, double, greatest_loss);
FIELD(vent_source_use, 24, double, greatest_share);

SIZE(vent_ledger_line, 208);
FIELD(vent_ledger_line, 0, int32_t, kind);
FIELD(vent_ledger_line, 4, int32_t, run);
FIELD(vent_ledger_line, 8, int32_t, item);
FIELD(vent_ledger_line, 12, int32_t, node);
FIELD(vent_ledger_line, 16, int32_t, source);
FIELD(vent_ledger_line, 20, uint32_t, flags);
FIELD(vent_ledger_line, 24, double, count);
FIELD(vent_ledger_line, 32, double, k);
FIELD(vent_ledger_line, 40, double, k_uncertainty);
FIELD(vent_ledger_line, 48, double, velocity_pressure);
FIELD(vent_ledger_line, 56, double, loss);
FIELD(vent_ledger_line, 64, double, share);
FIELD(vent_ledger_line, 72, double, flow_cost);
FIELD(vent_ledger_line, 80, char[64], where);
FIELD(vent_ledger_line, 144, char[64], what);

SIZE(vent_reading, 24);
FIELD(vent_reading, 0, double, value);
FIELD(vent_reading, 8, double, uncertainty);
FIELD(vent_reading, 16, int32_t, source);
FIELD(vent_reading, 20, uint32_t, flags);

SIZE(vent_instrument, 64);
FIELD(vent_instrument, 0, int32_t, kind);
FIELD(vent_instrument, 4, int32_t, reserved);
FIELD(vent_instrument, 8, double, low);
FIELD(vent_instrument, 16, double, high);
FIELD(vent_instrument, 24, double, share);
FIELD(vent_instrument, 32, double, fixed);
FIELD(vent_instrument, 40, double, step);
FIELD(vent_instrument, 48, double, scale);
FIELD(vent_instrument, 56, double, scale_uncertainty);

SIZE(vent_station, 112);
FIELD(vent_station, 0, vent_pipe, pipe);
FIELD(vent_station, 48, vent_air, gas);
FIELD(vent_station, 96, double, density_uncertainty);
FIELD(vent_station, 104, double, straight);

SIZE(vent_probe, 48);
FIELD(vent_probe, 0, double, head);
FIELD(vent_probe, 8, double, stem);
FIELD(vent_probe, 16, double, offset);
FIELD(vent_probe, 24, double, factor);
FIELD(vent_probe, 32, double, factor_uncertainty);
FIELD(vent_probe, 40, double, position_uncertainty);

SIZE(vent_orifice, 24);
FIELD(vent_orifice, 0, int32_t, taps);
FIELD(vent_orifice, 4, int32_t, reserved);
FIELD(vent_orifice, 8, double, bore);
FIELD(vent_orifice, 16, double, bore_uncertainty);

SIZE(vent_advice, 384);
FIELD(vent_advice, 0, uint32_t, flags);
FIELD(vent_advice, 4, int32_t, reserved);
FIELD(vent_advice, 8, double, velocity);
FIELD(vent_advice, 16, double, indication);
FIELD(vent_advice, 24, double, uncertainty);
FIELD(vent_advice, 32, double, section);
FIELD(vent_advice, 40, double, orifice);
FIELD(vent_advice, 48, double, orifice_pressure);
FIELD(vent_advice, 56, double, orifice_loss);
FIELD(vent_advice, 64, char[320], message);

SIZE(vent_parameter, 24);
FIELD(vent_parameter, 0, int32_t, kind);
FIELD(vent_parameter, 4, int32_t, place);
FIELD(vent_parameter, 8, int32_t, item);
FIELD(vent_parameter, 12, int32_t, slot);
FIELD(vent_parameter, 16, uint64_t, network);

SIZE(vent_observable, 24);
FIELD(vent_observable, 0, int32_t, kind);
FIELD(vent_observable, 4, int32_t, place);
FIELD(vent_observable, 8, int32_t, item);
FIELD(vent_observable, 12, int32_t, reserved);
FIELD(vent_observable, 16, uint64_t, network);

SIZE(vent_operating_point, 48);
FIELD(vent_operating_point, 0, int32_t, fan);
FIELD(vent_operating_point, 4, uint32_t, flags);
FIELD(vent_operating_point, 8, double, flow);
FIELD(vent_operating_point, 16, double, pressure);
FIELD(vent_operating_point, 24, double, fan_slope);
FIELD(vent_operating_point, 32, double, system_slope);
FIELD(vent_operating_point, 40, double, stall_flow);

SIZE(vent_achievement, 40);
FIELD(vent_achievement, 0, double, wanted);
FIELD(vent_achievement, 8, double, tolerance);
FIELD(vent_achievement, 16, double, achieved);
FIELD(vent_achievement, 24, double, deviation);
FIELD(vent_achievement, 32, int32_t, is_met);
FIELD(vent_achievement, 36, int32_t, reserved);

SIZE(vent_setting, 48);
FIELD(vent_setting, 0, double, before);
FIELD(vent_setting, 8, double, value);
FIELD(vent_setting, 16, double, low);
FIELD(vent_setting, 24, double, high);
FIELD(vent_setting, 32, double, pull);
FIELD(vent_setting, 40, int32_t, at_bound);
FIELD(vent_setting, 44, int32_t, is_wide_open);

SIZE(vent_input, 40);
FIELD(vent_input, 0, vent_parameter, parameter);
FIELD(vent_input, 24, double, uncertainty);
FIELD(vent_input, 32, int32_t, shape);
FIELD(vent_input, 36, int32_t, source);

SIZE(vent_budget_line, 56);
FIELD(vent_budget_line, 0, vent_parameter, parameter);
FIELD(vent_budget_line, 24, double, uncertainty);
FIELD(vent_budget_line, 32, double, sensitivity);
FIELD(vent_budget_line, 40, double, variance);
FIELD(vent_budget_line, 48, double, share);

SIZE(vent_candidate, 56);
FIELD(vent_candidate, 0, vent_observable, observable);
FIELD(vent_candidate, 24, vent_parameter, parameter);
FIELD(vent_candidate, 48, double, uncertainty);

SIZE(vent_sampling, 24);
FIELD(vent_sampling, 0, int64_t, samples);
FIELD(vent_sampling, 8, uint64_t, seed);
FIELD(vent_sampling, 16, int32_t, kind);
FIELD(vent_sampling, 20, int32_t, reserved);

SIZE(vent_simulated, 48);
FIELD(vent_simulated, 0, double, mean);
FIELD(vent_simulated, 8, double, uncertainty);
FIELD(vent_simulated, 16, double, low);
FIELD(vent_simulated, 24, double, median);
FIELD(vent_simulated, 32, double, high);
FIELD(vent_simulated, 40, int64_t, failed);

SIZE(vent_estimate, 72);
FIELD(vent_estimate, 0, vent_parameter, parameter);
FIELD(vent_estimate, 24, double, value);
FIELD(vent_estimate, 32, double, uncertainty);
FIELD(vent_estimate, 40, double, low);
FIELD(vent_estimate, 48, double, high);
FIELD(vent_estimate, 56, double, prior_share);
FIELD(vent_estimate, 64, uint32_t, flags);
FIELD(vent_estimate, 68, int32_t, reserved);

SIZE(vent_residual, 64);
FIELD(vent_residual, 0, vent_observable, observable);
FIELD(vent_residual, 24, int32_t, state);
FIELD(vent_residual, 28, uint32_t, flags);
FIELD(vent_residual, 32, double, reading);
FIELD(vent_residual, 40, double, uncertainty);
FIELD(vent_residual, 48, double, computed);
FIELD(vent_residual, 56, double, residual);

SIZE(vent_goodness, 32);
FIELD(vent_goodness, 0, double, chi_square);
FIELD(vent_goodness, 8, double, degrees);
FIELD(vent_goodness, 16, double, probability);
FIELD(vent_goodness, 24, int32_t, rank);
FIELD(vent_goodness, 28, int32_t, iterations);

SIZE(vent_fault, 40);
FIELD(vent_fault, 0, int32_t, kind);
FIELD(vent_fault, 4, int32_t, place);
FIELD(vent_fault, 8, int32_t, item);
FIELD(vent_fault, 12, int32_t, reserved);
FIELD(vent_fault, 16, double, odds);
FIELD(vent_fault, 24, double, low);
FIELD(vent_fault, 32, double, high);

SIZE(vent_finding, 160);
FIELD(vent_finding, 0, int32_t, faults);
FIELD(vent_finding, 4, int32_t, group);
FIELD(vent_finding, 8, vent_fault[2], fault);
FIELD(vent_finding, 88, double[2], size);
FIELD(vent_finding, 104, double[2], low);
FIELD(vent_finding, 120, double[2], high);
FIELD(vent_finding, 136, double, probability);
FIELD(vent_finding, 144, double, evidence);
FIELD(vent_finding, 152, double, chi_square);

SIZE(vent_opening, 24);
FIELD(vent_opening, 0, int32_t, surroundings);
FIELD(vent_opening, 4, int32_t, reserved);
FIELD(vent_opening, 8, double, area);
FIELD(vent_opening, 16, double, discharge_coefficient);

SIZE(vent_soil_estimate, 80);
FIELD(vent_soil_estimate, 0, vent_soil, soil);
FIELD(vent_soil_estimate, 24, double, a_uncertainty);
FIELD(vent_soil_estimate, 32, double, b_uncertainty);
FIELD(vent_soil_estimate, 40, double, correlation);
FIELD(vent_soil_estimate, 48, double, chi_square);
FIELD(vent_soil_estimate, 56, double, degrees);
FIELD(vent_soil_estimate, 64, double, probability);
FIELD(vent_soil_estimate, 72, uint32_t, flags);
FIELD(vent_soil_estimate, 76, int32_t, reserved);

SIZE(vent_field, 80);
FIELD(vent_field, 0, int32_t, form);
FIELD(vent_field, 4, uint32_t, flags);
FIELD(vent_field, 8, double, radius);
FIELD(vent_field, 16, double, vacuum);
FIELD(vent_field, 24, double, vacuum_uncertainty);
FIELD(vent_field, 32, double, length);
FIELD(vent_field, 40, double, length_uncertainty);
FIELD(vent_field, 48, double, correlation);
FIELD(vent_field, 56, double, chi_square);
FIELD(vent_field, 64, double, degrees);
FIELD(vent_field, 72, double, probability);

SIZE(vent_varied, 40);
FIELD(vent_varied, 0, vent_parameter, parameter);
FIELD(vent_varied, 24, const double *, value);
FIELD(vent_varied, 32, ptrdiff_t, stride);

SIZE(vent_observed, 40);
FIELD(vent_observed, 0, vent_observable, observable);
FIELD(vent_observed, 24, double *, value);
FIELD(vent_observed, 32, ptrdiff_t, stride);

SIZE(vent_site_reading, 48);
FIELD(vent_site_reading, 0, vent_observable, observable);
FIELD(vent_site_reading, 24, vent_reading, reading);

SIZE(vent_sheet_line, 208);
FIELD(vent_sheet_line, 0, vent_observable, observable);
FIELD(vent_sheet_line, 24, vent_reading, predicted);
FIELD(vent_sheet_line, 48, vent_reading, measured);
FIELD(vent_sheet_line, 72, double, deviation);
FIELD(vent_sheet_line, 80, double, uncertainty);
FIELD(vent_sheet_line, 88, double, score);
FIELD(vent_sheet_line, 96, double, among);
FIELD(vent_sheet_line, 104, int32_t, verdict);
FIELD(vent_sheet_line, 108, uint32_t, flags);
FIELD(vent_sheet_line, 112, char[96], where);

SIZE(vent_agreement, 32);
FIELD(vent_agreement, 0, double, chi_square);
FIELD(vent_agreement, 8, double, degrees);
FIELD(vent_agreement, 16, double, probability);
FIELD(vent_agreement, 24, int32_t, verdict);
FIELD(vent_agreement, 28, int32_t, reserved);

SIZE(vent_span, 24);
FIELD(vent_span, 0, double, low);
FIELD(vent_span, 8, double, usual);
FIELD(vent_span, 16, double, high);

SIZE(vent_weather, 176);
FIELD(vent_weather, 0, char[32], name);
FIELD(vent_weather, 32, vent_span[6], span);

SIZE(vent_band_row, 168);
FIELD(vent_band_row, 0, char[32], name);
FIELD(vent_band_row, 32, vent_reading, low);
FIELD(vent_band_row, 56, vent_reading, usual);
FIELD(vent_band_row, 80, vent_reading, high);
FIELD(vent_band_row, 104, double, band_low);
FIELD(vent_band_row, 112, double, band_high);
FIELD(vent_band_row, 120, double[6], moves);

SIZE(vent_marks, 40);
FIELD(vent_marks, 0, double, low);
FIELD(vent_marks, 8, double, high);
FIELD(vent_marks, 16, double, fall);
FIELD(vent_marks, 24, double, rise);
FIELD(vent_marks, 32, uint32_t, flags);
FIELD(vent_marks, 36, int32_t, reserved);

SIZE(vent_judgement, 448);
FIELD(vent_judgement, 0, int32_t, verdict);
FIELD(vent_judgement, 4, int32_t, side);
FIELD(vent_judgement, 8, double, low);
FIELD(vent_judgement, 16, double, high);
FIELD(vent_judgement, 24, double, beyond);
FIELD(vent_judgement, 32, double, score);
FIELD(vent_judgement, 40, double, probability);
FIELD(vent_judgement, 48, char[400], text);
