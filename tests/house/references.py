# SPDX-License-Identifier: GPL-3.0-or-later
"""Published values name their source and how it was read, and a test reads them; every suite runs.

Arguments: the suites the build knows.
"""

import csv
import sys

import tree

HOW = {"printed", "reprint", "computed", "memory", "practice"}
SUITES = "tests/unit/meson.build"


def check_table(path, tests):
    lines = path.read_text().splitlines()
    comments = [line for line in lines if line.startswith("#")]
    if not lines or not lines[0].startswith("#"):
        yield tree.finding(path, 1, "the first lines say where the values come from, after a #")
    rows = list(csv.DictReader(line for line in lines if line and not line.startswith("#")))
    if not rows:
        yield tree.finding(path, len(lines), "holds no rows")
        return
    for row in rows:
        if "how" in row and row["how"] not in HOW:
            yield tree.finding(path, 1, f'how is "{row["how"]}", not one of {sorted(HOW)}')
    if "how" not in rows[0] and not any(word in line for line in comments for word in HOW):
        yield tree.finding(path, 1, "neither a comment nor a column says how the values are known")
    if path.name not in tests:
        yield tree.finding(path, 1, "no test reads it")


tables = tree.files("*.csv", under="tests/reference")
programs = tree.files("test_*.c", under="tests/unit")
tests = "".join(path.read_text() for path in tree.files("*.c", "*.py", under="tests")
                + tree.files("*.py", under="bindings"))
findings = [text for path in tables for text in check_table(path, tests)]
findings += [tree.finding(path, 1, f"is not in the list of {SUITES}") for path in programs
             if path.stem.removeprefix("test_") not in sys.argv[1:]]
tree.report(findings, len(tables) + len(programs), "tables and suites")
