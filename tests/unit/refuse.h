/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Refuses memory at a chosen request. The linker routes malloc, calloc and realloc through here
 * (-Wl,--wrap); a suite that uses it lists refuse.c and those link arguments. */
#ifndef VENT_TEST_REFUSE_H
#define VENT_TEST_REFUSE_H

/* Refuses the k-th request from now on, counted from 1; 0 refuses none. */
void refuse_request(long k);
/* Requests since the last call of refuse_request(). */
long requests_made(void);

#endif
