# SPDX-License-Identifier: GPL-3.0-or-later
"""Every public header compiles alone. Arguments: include folders, then --, then the compiler."""

import subprocess
import sys

import tree

split = sys.argv.index("--")
folders, compiler = sys.argv[1:split], sys.argv[split + 1:]
flags = ["-Wall", "-Wextra", "-Wpedantic", "-Werror", "-fsyntax-only"]


def check(name):
    command = compiler + flags + [f"-I{folder}" for folder in folders] + ["-"]
    program = f"#include <ventstack/{name}>\nextern int the_header_may_hold_macros_only;\n"
    result = subprocess.run(command, input=program, text=True, capture_output=True)
    if result.returncode:
        return [f"{name} does not compile alone:\n{result.stderr}"]
    return []


names = sorted({path.name.removesuffix(".in")
                for path in tree.files("*.h", "*.h.in", under="include/ventstack")})
tree.report([text for name in names for text in check(name)], len(names), "headers")
