# SPDX-License-Identifier: GPL-3.0-or-later
"""Reads the public functions and their comments out of include/ventstack."""

import dataclasses
import re

import tree

PROTOTYPE = re.compile(r"(?P<comment>/\*\*(?:(?!\*/).)*\*/\s*)?^VENT_API\s+(?P<text>[^;{]*);",
                       re.DOTALL | re.MULTILINE)
SIGNATURE = re.compile(r"(?P<type>.*?)\b(?P<name>\w+)\s*\((?P<parameters>.*)\)$", re.DOTALL)


@dataclasses.dataclass
class Parameter:
    name: str
    type: str

    @property
    def is_double(self):
        return self.type == "double"

    @property
    def is_pointer(self):
        return "*" in self.type

    @property
    def is_written(self):
        return self.is_pointer and not re.fullmatch(r"const \w+ \*(?:const \*)?", self.type)


@dataclasses.dataclass
class Function:
    path: object
    line: int
    name: str
    type: str
    parameters: list
    comment: str


def parse_parameter(text):
    text = " ".join(text.split())
    match = re.fullmatch(r"(?P<type>.*?[\s*])(?P<name>\w+)(?P<array>\[\w*\])?", text)
    return Parameter(match["name"], match["type"].strip() + (" *" if match["array"] else ""))


def plain_comment(text):
    """The comment without its stars."""
    body = text.strip().removeprefix("/**").removesuffix("*/")
    return "\n".join(re.sub(r"^\s*\* ?", "", line) for line in body.splitlines()).strip()


def functions():
    for path in tree.files("*.h", "*.h.in", under="include/ventstack"):
        text = path.read_text()
        for match in PROTOTYPE.finditer(text):
            signature = SIGNATURE.match(" ".join(match["text"].split()))
            inside = signature["parameters"].strip()
            yield Function(
                path, text.count("\n", 0, match.start("text")) + 1, signature["name"],
                signature["type"].strip(),
                [] if inside == "void" else [parse_parameter(p) for p in inside.split(",")],
                plain_comment(match["comment"] or ""))
