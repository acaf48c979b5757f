/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef VENT_NETWORK_LEDGER_H
#define VENT_NETWORK_LEDGER_H

#include "network/model.h"

/* How many ledger lines a run has; depends on the shape only. */
int vent__ledger_lines_of_run(const vent__model *model, int run);

#endif
