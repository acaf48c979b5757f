/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Text that grows; what does not fit for want of memory is left off, and `is_short` says so. */
#ifndef VENT_BASE_TEXT_H
#define VENT_BASE_TEXT_H

#include <stdbool.h>
#include <stddef.h>

typedef struct vent__text {
    char *data; /* terminated; NULL while empty */
    size_t length;
    bool is_short;
} vent__text;

/* Adds printf-like text. */
void vent__text_add(vent__text *text, const char *format, ...)
#if defined(__GNUC__)
    __attribute__((format(printf, 2, 3)))
#endif
    ;
/* Spaces up to a width of the last line. */
void vent__text_pad(vent__text *text, size_t width);
/* Copies out, cut to size and terminated; the length of the whole. */
size_t vent__text_copy(const vent__text *text, size_t size, char *out);
void vent__text_free(vent__text *text);

enum { VENT__BOTH_ROOM = 64, VENT__NAME_ROOM = 128 }; /* the latter of an address in a message */
/* A value [unit: Pa, m3/s, m/s or another] as one says it, in SI and in the trade's unit where it has one, "18.88 L/s
 * (40 cfm)", in a buffer of VENT__BOTH_ROOM, which is given back. */
const char *vent__in_both(double value, const char *unit, char *out);

#endif
