/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/fail.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

_Static_assert(sizeof(vent_error) == 456, "vent_error is frozen");

const char *vent_status_text(int32_t status)
{
    switch (status) {
#define VENT_STATUS_CASE(name, number, text)                                                       \
    case name:                                                                                     \
        return text;
        VENT_STATUS_LIST(VENT_STATUS_CASE)
#undef VENT_STATUS_CASE
    default:
        return "unknown status";
    }
}

static void copy_text(char *to, size_t size, const char *from)
{
    snprintf(to, size, "%s", from ? from : "");
}

bool vent__fail(vent_error *err, int32_t status, const char *function, const char *argument,
                int64_t index, double value, double low, double high, const char *format, ...)
{
    if (!err || err->status != VENT_OK)
        return false;
    err->status = status;
    err->reserved = 0;
    err->index = index;
    err->value = value;
    err->low = low;
    err->high = high;
    copy_text(err->function, sizeof err->function, function);
    copy_text(err->argument, sizeof err->argument, argument);
    va_list list;
    va_start(list, format);
    vsnprintf(err->message, sizeof err->message, format, list);
    va_end(list);
    return false;
}

/* An angle is told in degrees too. A number above a turn that would do as degrees was meant so. */
static bool refuse_angle(vent_error *err, const char *function, const char *argument, double value,
                         double low, double high)
{
    const double degree = 0.017453292519943295;
    bool meant = value > 7 && value * degree >= low && value * degree <= high;
    char hint[64] = "";
    if (meant)
        snprintf(hint, sizeof hint, ": did you mean %.10g degrees = %.5g rad?", value,
                 value * degree);
    return vent__fail(err, VENT_E_ARGUMENT, function, argument, -1, value, low, high,
                      "%s: %s is %.10g rad (%.6g degrees); it must lie between %.6g and %.6g (%.6g "
                      "and %.6g degrees)%s",
                      function, argument, value, value / degree, low, high, low / degree,
                      high / degree, hint);
}

bool vent__check_range(vent_error *err, const char *function, const char *argument,
                       const char *unit, double value, double low, double high)
{
    if (value >= low && value <= high)
        return true;
    const char *space = unit[0] ? " " : "";
    if (!strcmp(unit, "rad"))
        return refuse_angle(err, function, argument, value, low, high);
    return vent__fail(err, VENT_E_ARGUMENT, function, argument, -1, value, low, high,
                      "%s: %s is %.10g%s%s; it must lie between %.6g and %.6g", function, argument,
                      value, space, unit, low, high);
}

bool vent__check_pointer(vent_error *err, const char *function, const char *argument,
                         const void *pointer)
{
    if (pointer)
        return true;
    return vent__fail(err, VENT_E_ARGUMENT, function, argument, -1, NAN, NAN, NAN,
                      "%s: %s is missing (null)", function, argument);
}
