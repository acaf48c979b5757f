/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The stack that the suites of commissioning share. */
#ifndef VENT_TEST_COMMISSION_STACK_H
#define VENT_TEST_COMMISSION_STACK_H

#include <check.h>
#include <string.h>
#include <ventstack/ventstack.h>

enum { INPUTS = 5 };

/* One pit, a riser with a fan, a plain end; invented. */
typedef struct stack {
    vent_network *net;
    vent_observable gauge, flow, pit;
    vent_input inputs[INPUTS];
    double correlation[INPUTS * INPUTS];
} stack;

/* A stack with this soil and uncertainties of its inputs times scale; free its net. */
stack stack_of(vent_soil soil, double scale);
/* The same with a common soil. */
stack stack_new(double scale);
/* What is known of it, correlation included. */
vent_uncertainty *design_of(const stack *s);
/* An observable of a network as it is. */
double observed(const vent_network *net, vent_observable o);
/* Its present weather under a name, or these ranges where there are some. */
vent_weather month_of(const stack *s, const char *name, const double (*range)[3]);
/* Fails the test on a failure in err. */
void well(const vent_error *err);
void near(const char *what, double got, double want, double relative, double absolute);

#define NEAR(got, want, relative) near(#got, got, want, relative, 0)

#define REFUSED(call, code, words)                                                                 \
    do {                                                                                           \
        vent_error at = VENT_NO_ERROR, *e = &at;                                                   \
        (void)(call);                                                                              \
        ck_assert_msg(at.status == (code), #call ": status %d, %s", at.status, at.message);        \
        ck_assert_msg(strstr(at.message, words) != NULL, "\"%s\"", at.message);                    \
    } while (0)

#endif
