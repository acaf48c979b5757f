/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "network/address.h"

#include <limits.h>
#include <stdio.h>
#include <string.h>

#include "base/fail.h"

/* ---- marks -------------------------------------------------------------------------------- */

/* Fowler, Noll and Vo's hash 1a, seeded so that a node and a run of one name differ. */
static uint64_t mark(const char *name, uint64_t seed)
{
    uint64_t hash = 0xcbf29ce484222325u ^ seed;
    for (; *name; ++name)
        hash = (hash ^ (unsigned char)*name) * 0x100000001b3u;
    return hash | 1; /* never that of the network as a whole, 0 */
}

uint64_t vent__node_mark(const vent__model *model, int node)
{
    return mark(vent__node_name(model, node), 1);
}

uint64_t vent__run_mark(const vent__model *model, int run)
{
    return mark(vent__run_name(model, run), 2);
}

/* ---- writing ------------------------------------------------------------------------------ */

size_t vent__address_name(size_t size, char *name, const char *place, int item,
                          const char *quantity)
{
    char *to = size && name ? name : NULL;
    size_t room = to ? size : 0;
    int length = item != 0 ? snprintf(to, room, "%s[%d].%s", place, item, quantity)
                           : snprintf(to, room, "%s%s%s", place, place[0] ? "." : "", quantity);
    return (size_t)length;
}

/* ---- reading ------------------------------------------------------------------------------ */

/* The name of a node or run, among the model's names; -1 for none. */
static int find_name(const vent__model *model, const char *name, size_t length)
{
    enum { LONGEST = 1024 };
    char text[LONGEST];
    if (length >= sizeof text)
        return -1;
    memcpy(text, name, length);
    text[length] = 0;
    return vent__names_find(&model->names, text);
}

/* The number in a trailing [number]; -1 without one. *length is cut to what stands before it. */
static int trailing_number(const char *name, size_t *length)
{
    size_t at = *length;
    int number = 0, digits = 0;
    if (at < 3 || name[at - 1] != ']')
        return -1;
    for (size_t i = at - 1; i > 0 && name[i - 1] != '['; --i)
        if (name[i - 1] < '0' || name[i - 1] > '9' || ++digits > 8)
            return -1;
    if (!digits || at < (size_t)digits + 2)
        return -1;
    for (int i = 0; i < digits; ++i)
        number = 10 * number + (name[at - 1 - (size_t)(digits - i)] - '0');
    *length = at - (size_t)digits - 2;
    return number;
}

/* The run of which a name could be an item; -1 for none. */
static int stem(const vent__model *model, const char *name)
{
    size_t length = strlen(name);
    int number = trailing_number(name, &length) >= 0 ? find_name(model, name, length) : -1;
    return number >= 0 && model->owner[number] < 0 ? number : -1;
}

bool vent__address_ends_in_item(const char *name)
{
    size_t length = strlen(name);
    return trailing_number(name, &length) >= 0;
}

const char *vent__address_clash(const vent__model *model, const char *name, bool is_run)
{
    int run = stem(model, name);
    if (run >= 0)
        return vent__names_get(&model->names, run);
    for (int i = 0; is_run && model->has_names_like_items && i < model->names.count; ++i) {
        const char *other = vent__names_get(&model->names, i);
        size_t length = strlen(other);
        if (trailing_number(other, &length) >= 0 && strlen(name) == length &&
            strncmp(name, other, length) == 0)
            return other;
    }
    return NULL;
}

static const char *nearest_place(const vent__model *model, const char *name)
{
    const char *nearest = "";
    int least = INT_MAX;
    for (int i = 0; i < model->names.count; ++i) {
        int distance = vent__unlikeness(name, vent__names_get(&model->names, i));
        if (distance < least) {
            least = distance;
            nearest = vent__names_get(&model->names, i);
        }
    }
    return nearest;
}

vent__address_text vent__address_read(const vent__model *model, const char *name, const char *what,
                                      const char *function, vent_error *err)
{
    vent__address_text text = {.whole = name, .quantity = name, .item = -1};
    const char *point = strrchr(name, '.');
    if (!point) {
        text.of = VENT__OF_NETWORK;
        return text;
    }
    size_t length = (size_t)(point - name);
    int number = find_name(model, name, length);
    if (number < 0) {
        text.item = trailing_number(name, &length);
        number = text.item >= 0 ? find_name(model, name, length) : -1;
    }
    text.quantity = point + 1;
    if (number < 0) {
        char place[64];
        snprintf(place, sizeof place, "%.*s", (int)(length < 63 ? length : 63), name);
        const char *nearest = nearest_place(model, place);
        vent__fail(err, VENT_E_NOT_FOUND, function, "name", -1, NAN, NAN, NAN,
                   nearest[0] ? "%s: there is no %s named '%.60s': the network has no node or run "
                                "'%.60s'; the nearest is '%.60s'"
                              : "%s: there is no %s named '%.60s': the network has no node or run "
                                "'%.60s'%s",
                   function, what, name, place, nearest);
        return text;
    }
    int owner = model->owner[number];
    text.of = owner < 0 ? VENT__OF_RUN : VENT__OF_NODE;
    text.place = owner < 0 ? -1 - owner : owner;
    return text;
}

/* ---- choosing ----------------------------------------------------------------------------- */

/* A number that was given must be met; without one the first pipe's own come before all others. */
int vent__address_choose(const vent__address_text *text,
                         int (*candidate)(void *list, int number, const char **name, int *item),
                         void *list, const char *what, const char *note, const char *function,
                         vent_error *err)
{
    int found = -1, found_item = -1, matches = 0, least = INT_MAX, item;
    const char *name, *nearest = "";
    for (int i = 0; candidate(list, i, &name, &item); ++i) {
        int distance = vent__unlikeness(text->quantity, name);
        if (distance < least) {
            least = distance;
            nearest = name;
        }
        if (strcmp(text->quantity, name) != 0 || (text->item >= 0 && text->item != item))
            continue;
        if (matches++ == 0 || item < found_item) {
            found = i;
            found_item = item;
        }
    }
    if (matches == 1 || (matches > 1 && found_item == 0 && text->item < 0))
        return found;
    if (matches > 1)
        vent__fail(err, VENT_E_ARGUMENT, function, "name", -1, NAN, NAN, NAN,
                   "%s: '%.60s' is said of %d items; give the item's number, as in "
                   "run[%d].%.40s",
                   function, text->whole, matches, found_item, text->quantity);
    else
        vent__fail(err, VENT_E_NOT_FOUND, function, "name", -1, NAN, NAN, NAN,
                   least == 0   ? "%s: there is no %s named '%.60s': that item has no %.60s"
                   : nearest[0] ? "%s: there is no %s named '%.60s'; the nearest there is '%.60s'"
                                : "%s: there is no %s named '%.60s'%s",
                   function, what, text->whole, least && !nearest[0] ? note : nearest);
    return -1;
}
