# SPDX-License-Identifier: GPL-3.0-or-later
"""Every source file names its licence in its first line, or in the second under a #! line."""

import tree

SOURCES = ("*.c", "*.h", "*.in", "*.map", "*.i", "*.py", "*.pyi", "*.sh", "*.cpp", "*.cmake",
           "meson.build", "meson_options.txt", "CMakeLists.txt", "pyproject.toml")
WORDS = "SPDX-License-Identifier: GPL-3.0-or-later"


def names_it(path):
    lines = path.read_text().splitlines()
    first = 1 if lines and lines[0].startswith("#!") else 0
    return len(lines) > first and WORDS in lines[first]


checked = tree.files(*SOURCES) + tree.files("run", under=".ci")
tree.report([tree.finding(path, 1, f"the first line must hold {WORDS}")
             for path in checked if not names_it(path)], len(checked), "files")
