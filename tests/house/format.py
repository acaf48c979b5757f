# SPDX-License-Identifier: GPL-3.0-or-later
"""C files are as clang-format leaves them."""

import shutil
import subprocess
import sys

import tree

if not shutil.which("clang-format"):
    print("skipped: there is no clang-format here")
    sys.exit(tree.SKIPPED)

checked = tree.files("*.c", "*.h", "*.cpp")


def check(path):
    text = path.read_text()
    formatted = subprocess.run(
        ["clang-format", f"--assume-filename={path}"], input=text, check=True,
        capture_output=True, text=True).stdout
    if formatted == text:
        return []
    pairs = zip(text.splitlines() + [""], formatted.splitlines() + [""])
    line = next((number for number, (a, b) in enumerate(pairs, 1) if a != b), 1)
    return [tree.finding(path, line, "run clang-format -i on it")]


tree.report([text for path in checked for text in check(path)], len(checked), "files")
