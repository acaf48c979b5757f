/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "numeric/bessel.h"

#include <gsl/gsl_sf_bessel.h>
#include <math.h>
#include <stdbool.h>

/* Inside, GSL has nothing to report to its handler: no pole, no overflow, no underflow. */
static bool is_inside(double x)
{
    return x >= 1e-100 && x <= 1e100;
}

double vent__bessel_k0_scaled(double x)
{
    gsl_sf_result result;
    return is_inside(x) && gsl_sf_bessel_K0_scaled_e(x, &result) == 0 ? result.val : NAN;
}

double vent__bessel_k1_scaled(double x)
{
    gsl_sf_result result;
    return is_inside(x) && gsl_sf_bessel_K1_scaled_e(x, &result) == 0 ? result.val : NAN;
}
