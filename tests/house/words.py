# SPDX-License-Identifier: GPL-3.0-or-later
"""No file names the machine it was written on, the place packages come from, or work left over."""

import re

import tree

# The groups keep this file from finding itself.
FORBIDDEN = {
    "a path of one machine": r"(?<![\w.:}/$-])/(?:work|tmp|root|home)(?:/|\b)",
    "the address of a package registry": r"\b(?:pypi\.(?:org)|pythonhosted\.(?:org)|deb\.(?:debian)"
                                         r"|ftp\.(?:debian)|crates\.(?:io)|npmjs\.(?:com|org))",
    "work left over": r"\b(?:TO(?:DO)|FIX(?:ME)|XX(?:X)|HA(?:CK))\b",
    "the way this was made": r"(?i)\b(?:seed (?:document)|pyen(?:v)|sub-?sess(?:ion)|"
                             r"language mod(?:el)|chat ?b(?:ot))",
}
TEXT = ("*.c", "*.h", "*.in", "*.i", "*.map", "*.py", "*.pyi", "*.sh", "*.cpp", "*.cmake", "*.md",
        "*.txt", "*.csv", "*.toml", "*.json", "*.yml", "*.build", "*.cfg", "run", ".clang-format",
        ".gitignore")


def check(path):
    for number, line in enumerate(path.read_text().splitlines(), 1):
        for what, pattern in FORBIDDEN.items():
            for match in re.finditer(pattern, line):
                yield tree.finding(path, number, f"{what}: {match[0]}")


checked = tree.files(*TEXT)
tree.report([text for path in checked for text in check(path)], len(checked), "files")
