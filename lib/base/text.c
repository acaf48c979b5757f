/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/text.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <ventstack/units.h>

#include "base/memory.h"

void vent__text_add(vent__text *text, const char *format, ...)
{
    va_list arguments, again;
    va_start(arguments, format);
    va_copy(again, arguments);
    int length = vsnprintf(NULL, 0, format, arguments);
    if (length >= 0 && vent__resize(&text->data, text->length + (size_t)length + 1, 1)) {
        vsnprintf(text->data + text->length, (size_t)length + 1, format, again);
        text->length += (size_t)length;
    } else {
        text->is_short = true;
    }
    va_end(again);
    va_end(arguments);
}

void vent__text_pad(vent__text *text, size_t width)
{
    size_t begin = text->length;
    while (begin > 0 && text->data[begin - 1] != '\n')
        --begin;
    size_t used = text->length - begin;
    if (used < width)
        vent__text_add(text, "%*s", (int)(width - used), "");
}

size_t vent__text_copy(const vent__text *text, size_t size, char *out)
{
    if (out && size > 0)
        snprintf(out, size, "%s", text->data ? text->data : "");
    return text->length;
}

void vent__text_free(vent__text *text)
{
    free(text->data);
    *text = (vent__text){0};
}

/* Significant digits that need no powers of ten, below a million. */
static int digits_of(double value, int least)
{
    int digits = least;
    for (double size = pow(10, least); digits < 6 && fabs(value) >= size - 0.5; size *= 10)
        ++digits;
    return digits;
}

const char *vent__in_both(double value, const char *unit, char *out)
{
    static const struct {
        const char *unit, *si, *trade;
        double si_size, trade_size;
    } rows[] = {{"Pa", "Pa", "in. w.c.", 1, VENT_INWC},
                {"m3/s", "L/s", "cfm", VENT_LITRE_S, VENT_CFM},
                {"m/s", "m/s", "ft/min", 1, VENT_FPM}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i)
        if (strcmp(unit, rows[i].unit) == 0) {
            double si = value / rows[i].si_size, trade = value / rows[i].trade_size;
            snprintf(out, VENT__BOTH_ROOM, "%.*g %s (%.*g %s)", digits_of(si, 4), si, rows[i].si,
                     digits_of(trade, 3), trade, rows[i].trade);
            return out;
        }
    snprintf(out, VENT__BOTH_ROOM, "%.4g%s%.20s", value, *unit ? " " : "", unit);
    return out;
}
