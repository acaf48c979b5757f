/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <ventstack/version.h>

const char *vent_version(void)
{
    return VENT_VERSION;
}

int vent_version_number(void)
{
    return 10000 * VENT_VERSION_MAJOR + 100 * VENT_VERSION_MINOR + VENT_VERSION_PATCH;
}
