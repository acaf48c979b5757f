/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How the library records a failure: one line a check. */
#ifndef VENT_BASE_FAIL_H
#define VENT_BASE_FAIL_H

#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <ventstack/error.h>

/* True when a chained call must do nothing because an earlier one failed. */
static inline bool vent__failed(const vent_error *err)
{
    return err && err->status != VENT_OK;
}

/* Records a failure (the first one wins) with a printf-like sentence. Always returns false. */
bool vent__fail(vent_error *err, int32_t status, const char *function, const char *argument,
                int64_t index, double value, double low, double high, const char *format, ...)
#if defined(__GNUC__)
    __attribute__((format(printf, 9, 10)))
#endif
    ;

/* Checks low <= value <= high; NaN fails. The sentence is composed from name, unit and bounds. */
bool vent__check_range(vent_error *err, const char *function, const char *argument,
                       const char *unit, double value, double low, double high);

/* Checks that a pointer argument is there. */
bool vent__check_pointer(vent_error *err, const char *function, const char *argument,
                         const void *pointer);

#define VENT__RANGE(argument, unit, low, high)                                                     \
    vent__check_range(err, __func__, #argument, unit, argument, low, high)
#define VENT__POINTER(argument) vent__check_pointer(err, __func__, #argument, argument)
/* A failure that is neither a range nor a pointer. */
#define VENT__FAIL(status, argument, index, ...)                                                   \
    vent__fail(err, status, __func__, argument, index, NAN, NAN, NAN, __VA_ARGS__)

#endif
