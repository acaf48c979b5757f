# SPDX-License-Identifier: GPL-3.0-or-later
# What SWIG compiles: beneath ventstack.core, and the formulas of formulas.i. Private.
from typing import Any

def __getattr__(name: str) -> Any: ...
