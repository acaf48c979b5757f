# SPDX-License-Identifier: GPL-3.0-or-later
"""The shared library holds no data that a call could change, neither global nor thread-local."""

import re
import subprocess
import sys

import tree

# Writable while the loader works, read-only once the program runs.
SEALED = {".data.rel.ro", ".init_array", ".fini_array", ".dynamic", ".got", ".got.plt",
          ".eh_frame", ".tm_clone_table"}
# What the compiler's own start-up code keeps.
RUNTIME = {
    "completed.0": "gcc's crtstuff: whether the destructors ran",
    "__dso_handle": "gcc's crtstuff: the library's own address",
    "__cpu_model": "libgcc: which instructions the processor has, found out at load",
    "__cpu_features2": "libgcc: the same, further instructions",
}
SECTION = re.compile(r"\s*\[\s*(\d+)\]\s+(\S+)\s+\S+\s+\S+\s+\S+\s+\S+\s+\S+\s+([A-Z]*)\s")
SYMBOL = re.compile(r"\s*\d+:\s+\S+\s+(\d+|0x\w+)\s+(OBJECT|NOTYPE|TLS)\s+\S+\s+\S+\s+(\d+)\s+(\S+)")


def readelf(option, library):
    return subprocess.run(["readelf", "--wide", option, library], check=True, capture_output=True,
                          text=True).stdout.splitlines()


library = sys.argv[1]
sections = {match[1]: match[2] for match in map(SECTION.match, readelf("--sections", library))
            if match and "W" in match[3] and match[2] not in SEALED}
symbols = [match.groups() for match in map(SYMBOL.match, readelf("--symbols", library)) if match]
findings = [f"{name}: {int(size, 0)} bytes that can be written, in {sections[section]}"
            for size, kind, section, name in symbols
            if section in sections and int(size, 0) > 0 and name not in RUNTIME]
findings += [f"{section}: thread-local data" for section in sections.values()
             if section in (".tdata", ".tbss")]
tree.report(findings, len(symbols), "data symbols")
