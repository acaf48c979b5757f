/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every test_NAME.c defines NAME_suite(); the build compiles it into a program of its own, with
 * SUITE standing for that name. */
#ifndef VENT_TEST_SUITES_H
#define VENT_TEST_SUITES_H

#include <check.h>

Suite *SUITE(void);

#endif
