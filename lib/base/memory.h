/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Arrays that grow and are copied; sizes are checked, failure leaves everything as it was. */
#ifndef VENT_BASE_MEMORY_H
#define VENT_BASE_MEMORY_H

#include <stdbool.h>
#include <stddef.h>

/* Gives the array whose pointer stands at `place` room for `count` elements. */
bool vent__resize(void *place, size_t count, size_t size);
/* Makes room for one more element beside the `count` there are; *room grows by doubling. */
bool vent__reserve(void *place, int *room, int count, size_t size);
/* A copy of count elements, never NULL for want of elements alone. */
void *vent__duplicate(const void *from, size_t count, size_t size);

#endif
