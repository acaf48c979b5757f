/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/names.h"

#include <ctype.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

static uint32_t hash(const char *name)
{
    uint32_t h = 2166136261u; /* FNV-1a */
    for (; *name; ++name)
        h = (h ^ (unsigned char)*name) * 16777619u;
    return h;
}

const char *vent__names_get(const vent__names *names, int number)
{
    return names->text + names->start[number];
}

/* The slot that holds the name, or the empty one where it would go. */
static uint32_t probe(const vent__names *names, const char *name)
{
    uint32_t mask = names->slots - 1;
    uint32_t at = hash(name) & mask;
    while (names->slot[at] >= 0 && strcmp(vent__names_get(names, names->slot[at]), name) != 0)
        at = (at + 1) & mask;
    return at;
}

int vent__names_find(const vent__names *names, const char *name)
{
    return names->slots ? names->slot[probe(names, name)] : -1;
}

static bool grow_table(vent__names *names)
{
    uint32_t slots = names->slots ? 2 * names->slots : 16;
    if (!vent__resize(&names->slot, slots, sizeof *names->slot))
        return false;
    names->slots = slots;
    memset(names->slot, -1, slots * sizeof *names->slot);
    for (int i = 0; i < names->count; ++i)
        names->slot[probe(names, vent__names_get(names, i))] = i;
    return true;
}

bool vent__names_add(vent__names *names, const char *name)
{
    size_t length = strlen(name) + 1;
    if (names->text_size + length > names->text_room) {
        size_t room = 2 * names->text_room + length + 64;
        if (!vent__resize(&names->text, room, 1))
            return false;
        names->text_room = room;
    }
    if (!vent__reserve(&names->start, &names->room, names->count, sizeof *names->start))
        return false;
    if (2 * ((uint32_t)names->count + 1) > names->slots && !grow_table(names))
        return false;
    memcpy(names->text + names->text_size, name, length);
    names->start[names->count] = names->text_size;
    names->slot[probe(names, name)] = names->count;
    names->text_size += length;
    ++names->count;
    return true;
}

bool vent__names_copy(vent__names *to, const vent__names *from)
{
    *to = *from;
    to->text = vent__duplicate(from->text, from->text_size, 1);
    to->start = vent__duplicate(from->start, (size_t)from->count, sizeof *from->start);
    to->slot = vent__duplicate(from->slot, from->slots, sizeof *from->slot);
    to->text_room = from->text_size;
    to->room = from->count;
    if (to->text && to->start && to->slot)
        return true;
    vent__names_free(to);
    return false;
}

void vent__names_free(vent__names *names)
{
    free(names->text);
    free(names->start);
    free(names->slot);
    *names = (vent__names){0};
}

static int least(int a, int b)
{
    return a < b ? a : b;
}

int vent__edit_distance(const char *a, const char *b)
{
    enum { LONGEST = 63 };
    int row[LONGEST + 1];
    int m = least((int)strlen(a), LONGEST), n = least((int)strlen(b), LONGEST);
    for (int j = 0; j <= n; ++j)
        row[j] = j;
    for (int i = 1; i <= m; ++i) {
        int diagonal = row[0];
        row[0] = i;
        for (int j = 1; j <= n; ++j) {
            int same = tolower((unsigned char)a[i - 1]) == tolower((unsigned char)b[j - 1]);
            int here = least(least(row[j], row[j - 1]) + 1, diagonal + !same);
            diagonal = row[j];
            row[j] = here;
        }
    }
    return row[n];
}

static bool holds(const char *name, const char *part)
{
    size_t length = strlen(part), same = 0;
    for (; *name && same < length; ++name)
        for (same = 0; same < length &&
                       tolower((unsigned char)name[same]) == tolower((unsigned char)part[same]);)
            ++same;
    return same == length;
}

int vent__unlikeness(const char *asked, const char *name)
{
    enum { A_WORD = 3 };
    int longer = (int)strlen(strlen(asked) > strlen(name) ? asked : name);
    int distance = vent__edit_distance(asked, name);
    if (strlen(asked) >= A_WORD && holds(name, asked))
        return least(distance, 2);
    return 2 * distance <= longer ? distance : INT_MAX;
}
