/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/family.h"

#include <ventstack/device.h>
#include <ventstack/units.h>
