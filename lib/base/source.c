/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/source_list.h"

#include <stddef.h>

_Static_assert(sizeof(vent_coefficient) == 24, "vent_coefficient is frozen");

static const vent_source sources[] = {
#define VENT__SOURCE_ROW(key, author, year, title, place, how) {author, title, place, year, how},
    VENT__SOURCE_LIST(VENT__SOURCE_ROW)
#undef VENT__SOURCE_ROW
};

int vent_source_count(void)
{
    return VENT__SOURCE_END - 1;
}

bool vent_source_find(int number, vent_source *source)
{
    if (!(number >= 1 && number <= vent_source_count() && source))
        return false;
    *source = sources[number - 1];
    return true;
}
