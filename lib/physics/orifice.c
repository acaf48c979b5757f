/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The discharge coefficient of an orifice plate: for the plate that restricts (device.c), and, as the
 * public function, for the one that meters. */
#include "physics/formulas.h"

#include <ventstack/device.h>
#include <ventstack/units.h>

/* Below this Reynolds number the standard ends, and the reference program's further terms count. */
static const double STANDARD_ENDS = 3700;

/* What the jet gains at low Reynolds numbers: (1e6/Re)^0.3, but no less than 22.7 - 0.0047 Re. */
static vent__slope jet_gain(double reynolds)
{
    double power = pow(1e6 / reynolds, 0.3), line = 22.7 - 0.0047 * reynolds;
    return power >= line ? (vent__slope){power, -0.3 * power / reynolds}
                         : (vent__slope){line, -0.0047};
}

/* Reader-Harris and Gallagher: a coefficient for corner taps, its rise at low Reynolds numbers, and
 * a term for pipes below 71.12 mm. */
vent__slope vent__orifice_discharge(double beta, double bore, double reynolds)
{
    double a = pow(19000 * beta / reynolds, 0.8), rise = 0.000521 * pow(1e6 * beta / reynolds, 0.7);
    double by_gain = (0.0188 + 0.0063 * a) * pow(beta, 3.5);
    double d_by_gain = -0.8 * 0.0063 * a * pow(beta, 3.5) / reynolds;
    double small = 0.011 * (0.75 - beta) * fmax(2.8 - bore / VENT_INCH, 0);
    vent__slope gain = jet_gain(reynolds);
    double c = 0.5961 + 0.0261 * square(beta) - 0.216 * fourth(square(beta)) + rise +
               by_gain * gain.value + small;
    return (vent__slope){c, -0.7 * rise / reynolds + by_gain * gain.slope + d_by_gain * gain.value};
}

/* What taps read that lie so many bores before and behind the plate, beyond corner taps. */
static double apart_from_corners(double beta, double before, double behind, double reynolds)
{
    double a = pow(19000 * beta / reynolds, 0.8), m = 2 * behind / (1 - beta), b4 = fourth(beta);
    double upstream = (0.043 + 0.080 * exp(-10 * before) - 0.123 * exp(-7 * before)) *
                      (1 - 0.11 * a) * b4 / (1 - b4);
    double downstream = -0.031 * (m - 0.8 * pow(m, 1.1)) * pow(beta, 1.3) *
                        (1 + 8 * fmax(log10(STANDARD_ENDS / reynolds), 0));
    return upstream + downstream;
}

double vent_orifice_discharge(double pipe_bore, double bore, double reynolds, int32_t taps)
{
    double beta = bore / pipe_bore;
    if (!(pipe_bore >= 0.01 && pipe_bore <= 2) || !(beta >= 0.1 && beta <= 0.75) ||
        !(reynolds >= 100 && reynolds <= 1e9) || taps < VENT_TAPS_CORNER || taps > VENT_TAPS_FLANGE)
        return NAN;
    double corner = vent__orifice_discharge(beta, pipe_bore, reynolds).value;
    if (taps == VENT_TAPS_CORNER)
        return corner;
    bool flange = taps == VENT_TAPS_FLANGE;
    double inch = VENT_INCH / pipe_bore;
    return corner + apart_from_corners(beta, flange ? inch : 1, flange ? inch : 0.47, reynolds);
}
