# SPDX-License-Identifier: GPL-3.0-or-later
"""Prints "PASSED FAILED" of the last `meson test` in a build folder, and names what was skipped."""

import pathlib
import sys
import xml.etree.ElementTree

log = pathlib.Path(sys.argv[1]) / "meson-logs" / "testlog.junit.xml"
cases = list(xml.etree.ElementTree.parse(log).iter("testcase"))
failed = [case for case in cases if case.find("failure") is not None
          or case.find("error") is not None]
skipped = [case for case in cases if case.find("skipped") is not None]
for case in skipped:
    print("skipped:", case.get("classname"), case.get("name"), file=sys.stderr)
print(len(cases) - len(failed) - len(skipped), len(failed))
