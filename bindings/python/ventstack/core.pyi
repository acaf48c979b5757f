# SPDX-License-Identifier: GPL-3.0-or-later
# Generated from the C headers and private: use the package around it.
from typing import Any

def __getattr__(name: str) -> Any: ...
