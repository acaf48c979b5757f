/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A set of names, each numbered in the order it came; finding one takes constant time. */
#ifndef VENT_BASE_NAMES_H
#define VENT_BASE_NAMES_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef struct vent__names {
    char *text;       /* all names, each terminated */
    size_t text_size; /* used bytes of text */
    size_t text_room;
    size_t *start; /* where name i begins in text */
    int count;
    int room;
    int32_t *slot; /* hash table of numbers, -1 where empty; a power of two, at most half full */
    uint32_t slots;
} vent__names;

/* Adds a name that is not there yet (the caller looked). False when memory is out; then unchanged. */
bool vent__names_add(vent__names *names, const char *name);
/* The number of a name, or -1. */
int vent__names_find(const vent__names *names, const char *name);
const char *vent__names_get(const vent__names *names, int number);
bool vent__names_copy(vent__names *to, const vent__names *from);
void vent__names_free(vent__names *names);

/* Least number of single-letter edits (insert, delete, exchange; case ignored) between two names;
 * long names are compared by their first 63 letters. */
int vent__edit_distance(const char *a, const char *b);
/* How unlike a name is to what was asked for: their edit distance, at most 2 where it holds what was asked for;
 * INT_MAX where a suggestion would be noise, less than half of the longer one's letters agreeing. */
int vent__unlikeness(const char *asked, const char *name);

#endif
