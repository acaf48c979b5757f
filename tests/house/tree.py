# SPDX-License-Identifier: GPL-3.0-or-later
"""What the checks of the tree share: the files, their text, and how a finding is told."""

import fnmatch
import pathlib
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
SKIPPED = 77  # the exit status meson reads as "skipped"

# As .gitignore: made by tools, not written by anyone.
GENERATED = (".git", "build*", "subprojects", "__pycache__", "*.egg-info", ".pytest_cache",
             ".hypothesis", ".mypy_cache", "docs/examples/out")


def is_generated(path):
    relative = path.relative_to(ROOT)
    if not path.is_dir():
        return relative.name == ".git"
    return any(fnmatch.fnmatch(str(relative) if "/" in pattern else relative.name, pattern)
               for pattern in GENERATED)


def files(*patterns, under="."):
    """Every written file below a folder whose name matches one of the patterns, sorted."""
    folders, found = [ROOT / under], []
    while folders:
        for path in folders.pop().iterdir():
            if is_generated(path):
                continue
            if path.is_dir():
                folders.append(path)
            elif any(fnmatch.fnmatch(path.name, pattern) for pattern in patterns):
                found.append(path)
    return sorted(found)


def finding(path, line, text):
    """One finding, in the form editors jump to."""
    return f"{path.relative_to(ROOT)}:{line}: {text}"


def report(findings, checked, what):
    """Prints the findings and ends the program; having looked at nothing is a finding too."""
    if not checked:
        findings = [f"there were no {what} to check"]
    for text in findings:
        print(text, file=sys.stderr)
    print(f"{checked} {what} checked, {len(findings)} findings")
    sys.exit(1 if findings else 0)
