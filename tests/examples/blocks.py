# SPDX-License-Identifier: GPL-3.0-or-later
"""The fenced programs of a page."""

import pathlib
import re

ROOT = pathlib.Path(__file__).resolve().parents[2]


def blocks(page, language):
    """The text of every block of a language in a page of the tree; there must be one."""
    found = re.findall(rf"^```{language}\n(.*?)^```$", (ROOT / page).read_text(), re.M | re.S)
    assert found, f"{page} has no block of {language}"
    return found
