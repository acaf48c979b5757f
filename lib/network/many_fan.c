/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Curves of fans, laid out for the lanes. */
#include <math.h>
#include <ventstack/fan.h>

#include "network/many_lanes.h"
#include "numeric/curve.h"

void vent__piece_of(const vent__curve *curve, size_t number, double piece[VENT__PIECE])
{
    const vent__piece *of = &curve->piece[number];
    piece[VENT__LOW] = number ? curve->x[number - 1] : -INFINITY;
    piece[VENT__HIGH] = number < curve->n ? curve->x[number] : INFINITY;
    piece[VENT__FROM] = of->from;
    for (int j = 0; j < 4; ++j)
        piece[VENT__CUBIC + j] = of->c[j];
}

void vent__set_lane_fan(vent__lane_fan *lane, const vent_fan *fan)
{
    const vent__curve *curve = vent__fan_curve(fan);
    lane->curve = curve;
    lane->shut_off = vent_fan_shut_off(fan);
    lane->most = vent_fan_free_delivery(fan);
    lane->density = vent_fan_density(fan);
    lane->is_short = curve->n < VENT__PIECES;
    for (size_t k = 0; k <= curve->n && lane->is_short; ++k) {
        double piece[VENT__PIECE];
        vent__piece_of(curve, k, piece);
        for (int j = 0; j < VENT__PIECE; ++j)
            lane->table[j][k] = piece[j];
    }
    for (int l = 0; l < VENT__PACK; ++l) {
        lane->piece[VENT__LOW].lane[l] = INFINITY;
        lane->piece[VENT__HIGH].lane[l] = -INFINITY;
    }
}
