# SPDX-License-Identifier: GPL-3.0-or-later
"""Prints "PASSED FAILED" of the last `meson test` in a build folder, and names what was skipped.

A test NAME that left meson-logs/NAME.junit.xml, as pytest can, counts as the tests listed there.
"""

import pathlib
import sys
import xml.etree.ElementTree

SUFFIX = ".junit.xml"
reports = {path.name.removesuffix(SUFFIX): list(xml.etree.ElementTree.parse(path).iter("testcase"))
           for path in (pathlib.Path(sys.argv[1]) / "meson-logs").glob("*" + SUFFIX)}


def listed(case):
    """The tests behind one of meson's, which calls it "project:suite / name"."""
    return reports.get(case.get("name").rpartition(" / ")[2]) or [case]


def is_(outcomes, case):
    return any(case.find(outcome) is not None for outcome in outcomes)


# meson appends the wrapper's name to "testlog"
(log,) = [cases for name, cases in reports.items() if name.startswith("testlog")]
told = [one for case in log for one in listed(case)]
failed = [case for case in told if is_(("failure", "error"), case)]
skipped = [case for case in told if is_(("skipped",), case)]
for case in skipped:
    print("skipped:", case.get("classname"), case.get("name"), file=sys.stderr)
print(len(told) - len(failed) - len(skipped), len(failed))
