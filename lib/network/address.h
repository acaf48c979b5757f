/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What addresses of parameters and of observables have in common: how they are written, read and told
 * from those of another network. */
#ifndef VENT_NETWORK_ADDRESS_H
#define VENT_NETWORK_ADDRESS_H

#include "network/model.h"

/* A number that follows from the name of a node or run. */
uint64_t vent__node_mark(const vent__model *model, int node);
uint64_t vent__run_mark(const vent__model *model, int run);

/* Whether a name ends as "run[1]" does. */
bool vent__address_ends_in_item(const char *name);

/* A name of the network with which a new one would make addresses of two meanings, as "run[1]" beside
 * a run "run"; NULL for none. */
const char *vent__address_clash(const vent__model *model, const char *name, bool is_run);

/* Writes "place.quantity", "place[item].quantity" where item is not 0, or "quantity" where the place
 * has no name; the whole length. */
size_t vent__address_name(size_t size, char *name, const char *place, int item,
                          const char *quantity);

enum { VENT__OF_NOTHING, VENT__OF_NETWORK, VENT__OF_NODE, VENT__OF_RUN };

typedef struct vent__address_text {
    const char *whole;
    const char *quantity; /* what stands behind the last point */
    int of, place;
    int item; /* -1 where no number was given */
} vent__address_text;

/* Takes a name apart; VENT__OF_NOTHING with err where its place is none of the network. `what` is what
 * is looked for, "parameter" or "observable". */
vent__address_text vent__address_read(const vent__model *model, const char *name, const char *what,
                                      const char *function, vent_error *err);

/* The number among the candidates that the text means, -1 with err where none or several are meant.
 * `candidate` tells name and item of each, and 0 past the last; the note ends the error where no name is near. */
int vent__address_choose(const vent__address_text *text,
                         int (*candidate)(void *list, int number, const char **name, int *item),
                         void *list, const char *what, const char *note, const char *function,
                         vent_error *err);

#endif
