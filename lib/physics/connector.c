/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/family.h"

#include <ventstack/connector.h>
#include <ventstack/units.h>
