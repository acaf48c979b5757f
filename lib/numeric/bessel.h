/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Modified Bessel functions of the second kind, scaled: exp(x) K(x), which never underflows. */
#ifndef VENT_NUMERIC_BESSEL_H
#define VENT_NUMERIC_BESSEL_H

/* NaN outside 1e-100 <= x <= 1e100. */
double vent__bessel_k0_scaled(double x);
double vent__bessel_k1_scaled(double x);

#endif
