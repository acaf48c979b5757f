/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The laws as the solver sees them: value and slope, nothing else. The public functions of
 * include/ventstack are thin shells over these, so there is one physics. */
#ifndef VENT_PHYSICS_LAWS_H
#define VENT_PHYSICS_LAWS_H

#include <ventstack/fan.h>
#include <ventstack/fitting.h>
#include <ventstack/junction.h>
#include <ventstack/soil.h>
#include <ventstack/termination.h>

/* A value and its derivative. */
typedef struct vent__slope {
    double value, slope;
} vent__slope;

/* Friction factor f and e = dln f / dln Re, all regimes; Re > 0, no checks. */
void vent__friction(double reynolds, double relative_roughness, double *f, double *e);
/* The same over contiguous arrays, widest vectors the processor has. Re >= 0 (0 gives a finite f). */
void vent__friction_many(size_t n, const double *reynolds, const double *relative_roughness,
                         double *f, double *e);

/* Every fitting and termination reduces to K(Re) = k0 + k1/Re + kf f(Re), with f of the pipe it
 * sits in; forward and reversed flow. `bore` is the diameter of the circle of that pipe's area. */
typedef struct vent__loss {
    double k0, k1, kf;
} vent__loss;
void vent__fitting_loss(const vent_fitting *fitting, double bore, vent__loss *forward,
                        vent__loss *reverse);
void vent__termination_loss(const vent_termination *termination, double bore, vent__loss *forward,
                            vent__loss *reverse);
/* Value, uncertainty, citation and range flags at a Reynolds number, negative for reversed flow. */
vent_coefficient vent__fitting_state(const vent_fitting *fitting, double bore, double reynolds,
                                     double f);
vent_coefficient vent__termination_state(const vent_termination *termination, double bore,
                                         double reynolds, double f);
/* True for what a constructor made, or could have; else records why not. */
bool vent__fitting_check(const vent_fitting *fitting, const char *function, vent_error *err);
bool vent__termination_check(const vent_termination *termination, const char *function,
                             vent_error *err);

/* Loss of total pressure [Pa] from the end of a leg to the combined pipe of a junction:
 * h(m_leg, m_combined), of degree two in the flows, continuous for every sign of them, with its
 * derivatives (which jump where a leg's flow turns). leg_area, other_area (the sum of all other
 * legs'), combined_area in m2, all above 0; density [kg/m3] of the combined pipe's gas. */
typedef struct vent__leg {
    vent_junction law;
    int straight;
    double leg_area, other_area, combined_area, density;
    int legs; /* that arrive; 0 is taken as 2. Of more the law knows only their sum, and says so */
} vent__leg;
typedef struct vent__leg_loss {
    double loss, d_leg, d_combined;
} vent__leg_loss;
vent__leg_loss vent__junction_leg(const vent__leg *leg, double leg_flow, double combined_flow);
/* The same by momentum theory alone: no measured correction, and no energy ever made. */
vent__leg_loss vent__junction_momentum(const vent__leg *leg, double leg_flow, double combined_flow);
/* Coefficient on the combined pipe's velocity pressure, either sign of either flow; NaN where no
 * air moves in the combined pipe. */
vent_coefficient vent__junction_state(const vent__leg *leg, double leg_flow, double combined_flow);
/* True for what a constructor made, or could have; else records why not. */
bool vent__junction_check(const vent_junction *junction, const char *function, vent_error *err);

/* Fan pressure [Pa] against volume flow, with fan laws applied. */
vent__slope vent__fan_law(const vent_fan *fan, double flow, double density, double speed);
/* Vacuum [Pa] against volume flow. */
vent__slope vent__soil_law(const vent_soil *soil, double flow);

#endif
