# SPDX-License-Identifier: GPL-3.0-or-later
"""The layout of every public struct is frozen field by field in layout.c, and layout.c compiles.

Arguments: include folders, then --, then the compiler.
"""

import re
import subprocess
import sys

import tree

TABLE = tree.ROOT / "tests/house/layout.c"
STRUCT = re.compile(r"^typedef struct (\w+) \{(.*?)^\} \1;", re.DOTALL | re.MULTILINE)
FIELD = re.compile(r"^FIELD\((\w+), .*, (\w+)\);$", re.MULTILINE)


def fields(body):
    """Names of the fields of a struct, several to a declaration where they are."""
    body = re.sub(r"/\*.*?\*/", "", body, flags=re.DOTALL)
    for declaration in body.split(";"):
        for name in declaration.split(","):
            match = re.search(r"(\w+)\s*(\[\w+\])?\s*$", name)
            if match:
                yield match[1]


def declared():
    for path in tree.files("*.h", "*.h.in", under="include/ventstack"):
        for name, body in STRUCT.findall(path.read_text()):
            for field in fields(body):
                yield name, field


split = sys.argv.index("--")
command = sys.argv[split + 1:] + ["-Wall", "-Wextra", "-Wpedantic", "-Werror", "-fsyntax-only",
                                  str(TABLE)] + [f"-I{folder}" for folder in sys.argv[1:split]]
findings = []
result = subprocess.run(command, text=True, capture_output=True)
if result.returncode:
    findings.append(f"a frozen layout changed:\n{result.stderr}")
frozen, public = FIELD.findall(TABLE.read_text()), list(declared())
findings += [tree.finding(TABLE, 1, f"{name}.{field} is not frozen yet: add it")
             for name, field in public if (name, field) not in frozen]
findings += [tree.finding(TABLE, 1, f"{name}.{field} is no public field")
             for name, field in frozen if (name, field) not in public]
tree.report(findings, len(public), "public fields")
