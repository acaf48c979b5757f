# SPDX-License-Identifier: GPL-3.0-or-later
"""Prints "PASSED FAILED" of the last `meson test` in a build folder, and names what was skipped.

A test NAME that left meson-logs/NAME.junit.xml, as pytest can, counts as the tests listed there.
"""

import pathlib
import sys
import xml.etree.ElementTree

LOGS = pathlib.Path(sys.argv[1]) / "meson-logs"


def cases(name):
    path = LOGS / f"{name}.junit.xml"
    return list(xml.etree.ElementTree.parse(path).iter("testcase")) if path.exists() else []


def is_(outcomes, case):
    return any(case.find(outcome) is not None for outcome in outcomes)


inner = {case.get("name"): cases(case.get("name")) for case in cases("testlog")}
told = [one for case in cases("testlog") for one in inner[case.get("name")] or [case]]
failed = [case for case in told if is_(("failure", "error"), case)]
skipped = [case for case in told if is_(("skipped",), case)]
for case in skipped:
    print("skipped:", case.get("classname"), case.get("name"), file=sys.stderr)
print(len(told) - len(failed) - len(skipped), len(failed))
