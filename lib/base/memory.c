/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/memory.h"

#include <limits.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

bool vent__resize(void *place, size_t count, size_t size)
{
    if (count > SIZE_MAX / 2 / size)
        return false;
    void *array;
    memcpy(&array, place, sizeof array); /* the pointer may be of any type */
    array = realloc(array, count * size);
    if (array)
        memcpy(place, &array, sizeof array);
    return array != NULL;
}

bool vent__reserve(void *place, int *room, int count, size_t size)
{
    if (count < *room)
        return true;
    if (*room > INT_MAX / 2 - 8)
        return false;
    int more = 2 * *room + 8;
    bool done = vent__resize(place, (size_t)more, size);
    if (done)
        *room = more;
    return done;
}

void *vent__duplicate(const void *from, size_t count, size_t size)
{
    void *to = NULL;
    if (vent__resize(&to, count ? count : 1, size) && count)
        memcpy(to, from, count * size);
    return to;
}
