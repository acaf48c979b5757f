/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Runs one suite under a GSL error handler that fails the test: the library must neither reach the
 * handler nor exchange it. */
#include "suites.h"

#include <gsl/gsl_errno.h>
#include <stdio.h>
#include <stdlib.h>

static void fail_the_test(const char *reason, const char *file, int line, int code)
{
    ck_abort_msg("GSL's error handler was reached: %s (%s:%d, code %d)", reason, file, line, code);
}

/* Check runs every test in a process of its own, which leaves through here too. */
static void look_at_the_handler(void)
{
    if (gsl_set_error_handler(fail_the_test) == fail_the_test)
        return;
    fputs("Bail out! the library exchanged GSL's error handler\n", stderr);
    abort();
}

int main(void)
{
    gsl_set_error_handler(fail_the_test);
    if (atexit(look_at_the_handler) != 0)
        return EXIT_FAILURE;
    SRunner *runner = srunner_create(SUITE());
    srunner_run_all(runner, CK_ENV);
    int failed = srunner_ntests_failed(runner);
    int ran = srunner_ntests_run(runner);
    srunner_free(runner);
    if (ran == 0)
        fputs("Bail out! the suite holds no test\n", stderr);
    return failed || ran == 0 ? EXIT_FAILURE : EXIT_SUCCESS;
}
