/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The laws as the solver sees them: value and slope, nothing else. The public functions of
 * include/ventstack are thin shells over these, so there is one physics. */
#ifndef VENT_PHYSICS_LAWS_H
#define VENT_PHYSICS_LAWS_H

#include <stdbool.h>
#include <ventstack/air.h>
#include <ventstack/fan.h>
#include <ventstack/fitting.h>
#include <ventstack/junction.h>
#include <ventstack/opening.h>
#include <ventstack/soil.h>
#include <ventstack/termination.h>

/* A value and its derivative. */
typedef struct vent__slope {
    double value, slope;
} vent__slope;

/* How ln density and ln viscosity of moist air answer. */
typedef struct vent__air_slope {
    double density, viscosity;
} vent__air_slope;
typedef struct vent__air_slopes {
    vent__air_slope temperature, pressure; /* 1/K, 1/Pa, at the mole fraction of vapour there is */
    vent__air_slope vapour;                /* 1/(mol/mol) */
} vent__air_slopes;
vent__air_slopes vent__air_slopes_at(double temperature, double pressure, double vapour_fraction);
/* Mole fraction of vapour at saturation, with its slopes [1/K, 1/Pa]. */
typedef struct vent__saturation {
    double fraction, by_temperature, by_pressure;
} vent__saturation;
vent__saturation vent__saturation_at(double temperature, double pressure);

/* Friction factor f and e = dln f / dln Re, all regimes; Re > 0, no checks. */
void vent__friction(double reynolds, double relative_roughness, double *f, double *e);
/* The same over contiguous arrays, widest vectors the processor has. Re >= 0 (0 gives a finite f). */
void vent__friction_many(size_t n, const double *reynolds, const double *relative_roughness,
                         double *f, double *e);
/* df / d(relative roughness), with f and e as above. */
double vent__friction_by_roughness(double reynolds, double relative_roughness, double f, double e);

/* A fitting or termination has K(Re) = k0 + k1/Re + kf f(Re), with f of the pipe it
 * sits in; forward and reversed flow. `bore` is the diameter of the circle of that pipe's area. */
typedef struct vent__loss {
    double k0, k1, kf;
} vent__loss;
void vent__fitting_loss(const vent_fitting *fitting, double bore, vent__loss *forward,
                        vent__loss *reverse);
void vent__termination_loss(const vent_termination *termination, double bore, vent__loss *forward,
                            vent__loss *reverse);
/* Whether those coefficients depend on the bore. */
bool vent__fitting_feels_bore(const vent_fitting *fitting);
bool vent__termination_feels_bore(const vent_termination *termination);
/* Some have more: K beside that form and dK/d|Re|, at a Reynolds number, negative for reversed flow. */
bool vent__fitting_has_extra(const vent_fitting *fitting, double bore);
bool vent__termination_has_extra(const vent_termination *termination, double bore);
vent__slope vent__fitting_extra(const vent_fitting *fitting, double bore, double reynolds);
vent__slope vent__termination_extra(const vent_termination *termination, double bore,
                                    double reynolds);
/* Pressure [Pa] that opens a flap, beside K pv, the way of the run; 0 for most. At a velocity the loss
 * has the share vent__opening_share() of it. */
double vent__fitting_opening_pressure(const vent_fitting *fitting);
vent__slope vent__opening_share(double velocity);
/* Value, uncertainty, citation and range flags at a Reynolds number, negative for reversed flow. */
vent_coefficient vent__fitting_state(const vent_fitting *fitting, double bore, double reynolds,
                                     double f);
vent_coefficient vent__termination_state(const vent_termination *termination, double bore,
                                         double reynolds, double f);
/* Source of the open pipe end that is part of it; 0 where none is. */
int32_t vent__fitting_end_source(const vent_fitting *fitting, bool reversed);
int32_t vent__termination_end_source(const vent_termination *termination, bool reversed);
/* Source of a pipe's roughness; 0 unless it is of the catalogue and has the catalogue's roughness. */
int32_t vent__pipe_roughness_source(const vent_pipe *pipe);
/* True for what a constructor made, or could have; else records why not. */
bool vent__fitting_check(const vent_fitting *fitting, const char *function, vent_error *err);
bool vent__termination_check(const vent_termination *termination, const char *function,
                             vent_error *err);

/* A junction: any number of legs and the combined pipe. Flows [kg/s] of legs are positive towards the
 * junction, that of the combined pipe away from it; every sign of every flow is allowed, while they
 * balance. A leg feels the others through sums over all that meet, so a junction of n legs costs n:
 * gather the sums, then ask each leg. Everything has its derivatives (which jump where a flow turns). */
enum {
    VENT__THROUGHPUT, /* kg/s that enters the junction, by legs or the combined pipe */
    VENT__AXIAL,      /* N it carries in, along the combined pipe's axis */
    VENT__LATERAL,    /* N across it, in the plane of opposed branches */
    VENT__SUMS
};

/* What the legs of one junction share. */
typedef struct vent__meeting {
    vent_junction law;
    double cosine, sine;
    double area, density;              /* m2, kg/m3 of the combined pipe and its gas */
    double straight_area, branch_area; /* m2, of the straight leg, and of all branches together */
    int branches;
} vent__meeting;

/* How one pipe stands in a junction. */
typedef struct vent__leg {
    bool straight;
    bool aside; /* seeps in beside the legs: mass without momentum, none of the branches */
    int side;   /* of opposed branches: 1 or -1; else 0, in a plane of its own */
    double area, density;
} vent__leg;

/* A term of the sums, and its derivative by the flow it comes with. */
typedef struct vent__term {
    double value[VENT__SUMS], slope[VENT__SUMS];
} vent__term;

/* Loss of total pressure [Pa] from the end of a leg to the combined pipe. */
typedef struct vent__leg_loss {
    double loss, d_leg, d_combined, d_sum[VENT__SUMS];
} vent__leg_loss;

/* A junction without legs, of a checked law; the leg that arrives there after `rank` others, of
 * which the first is the straight one, and which seeps in aside where the rank is -1; and the junction
 * with one leg more. */
vent__meeting vent__meeting_of(vent_junction law, double area, double density);
vent__leg vent__leg_of(const vent__meeting *meeting, int rank, double area, double density);
void vent__meeting_join(vent__meeting *meeting, const vent__leg *leg);

vent__term vent__junction_combined_term(const vent__meeting *meeting, double combined_flow);
vent__term vent__junction_term(const vent__meeting *meeting, const vent__leg *leg, double leg_flow,
                               double combined_flow);
/* One leg's part in the sums, added to them. */
void vent__junction_add(const vent__meeting *meeting, const vent__leg *leg, double leg_flow,
                        double combined_flow, double *sums);
/* The sums over n legs that take in or give up all of the combined flow, which is their sum. */
void vent__junction_sums(const vent__meeting *meeting, int legs, const vent__leg *leg,
                         const double *flow, double combined_flow, double *sums);
vent__leg_loss vent__junction_loss(const vent__meeting *meeting, const vent__leg *leg,
                                   double leg_flow, double combined_flow, const double *sums);
/* The same law while all legs flow in, for those who ask many cases at once: with the combined flow M, the
 * sum S of a m over the legs' flows m, B = M^2 / (2 rho A^2) - S / A + kinetic m^2 and q = m / M, a branch
 * loses factor B (1 + most min(rate q, cap)), the straight leg
 * factor (B + M^2 / (2 rho A^2) most (1 - q) (1 - fading (1 - q))). */
typedef struct vent__joining {
    double axial, kinetic; /* a [m/kg], 1/kg/m */
    double most, rate, cap, fading;
} vent__joining;
vent__joining vent__junction_joining(const vent__meeting *meeting, const vent__leg *leg);
/* How a leg's loss answers the numbers of the junction, the sums being what they are: Pa for a unit of the
 * logarithm of an area or a density, of the angle, of the factor. */
typedef struct vent__leg_slopes {
    double area, density;                   /* its own */
    double combined_area, combined_density; /* of the combined pipe */
    double straight_area, branch_area;      /* of what the straight leg and all branches open */
    double angle, factor;
} vent__leg_slopes;
vent__leg_slopes vent__junction_slopes(const vent__meeting *meeting, const vent__leg *leg,
                                       double leg_flow, double combined_flow, const double *sums);
/* What a radian more adds to a leg's term of the sums; a logarithm of its area or density takes the axial and
 * the lateral part of the term off. */
vent__term vent__junction_term_by_angle(const vent__meeting *meeting, const vent__leg *leg,
                                        double leg_flow);
/* Coefficient on the combined pipe's velocity pressure, either sign of any flow; NaN where no air
 * moves in the combined pipe. Its sign is the loss's: from the leg to the combined pipe. */
vent_coefficient vent__junction_state(const vent__meeting *meeting, const vent__leg *leg,
                                      double leg_flow, double combined_flow, const double *sums);
/* True for what a constructor made, or could have; else records why not. */
bool vent__junction_check(const vent_junction *junction, const char *function, vent_error *err);

/* Fan pressure [Pa] against volume flow, with fan laws applied. */
vent__slope vent__fan_law(const vent_fan *fan, double flow, double density, double speed);
/* Its pressure [Pa] against m3/s, at its own density and speed. */
const struct vent__curve *vent__fan_curve(const vent_fan *fan);
/* Vacuum [Pa] against volume flow. */
vent__slope vent__soil_law(const vent_soil *soil, double flow);
/* dP/d of one of its two numbers, by slot, where the law has this slope dP/dQ. */
double vent__soil_by_number(const vent_soil *soil, int slot, double flow, double slope);
/* Pressure [Pa] outside less inside against kg/s inwards. */
vent__slope vent__opening_law(const vent_opening *opening, double density, double flow);
/* Its area, no less than what a law needs, or its discharge coefficient. */
double vent__opening_number(const vent_opening *opening, bool area);
bool vent__opening_check(const vent_opening *opening, const char *function, vent_error *err);
/* The same of soils, over contiguous arrays, widest vectors the processor has; agrees to rounding. */
void vent__soil_many(size_t n, const vent_soil *soil, const double *flow, double *value,
                     double *slope);
/* x^y, x positive, x, y and the result within what doubles hold; relative error 2^-53 (2 + |y ln x|). */
void vent__power_many(size_t n, const double *x, const double *y, double *power);
/* Name, unit and bounds of the soil's two numbers; false where there is no such soil or slot. */
bool vent__soil_parameter(const vent_soil *soil, int slot, vent_parameter_range *range);

#endif
