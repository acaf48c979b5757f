/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "refuse.h"

#include <stddef.h>

void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *old, size_t size);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_realloc(void *old, size_t size);

static long made, refused;

void refuse_request(long k)
{
    made = 0;
    refused = k;
}

long requests_made(void)
{
    return made;
}

static int is_refused(void)
{
    return ++made == refused;
}

void *__wrap_malloc(size_t size)
{
    return is_refused() ? NULL : __real_malloc(size);
}

void *__wrap_calloc(size_t count, size_t size)
{
    return is_refused() ? NULL : __real_calloc(count, size);
}

void *__wrap_realloc(void *old, size_t size)
{
    return is_refused() ? NULL : __real_realloc(old, size);
}
