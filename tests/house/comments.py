# SPDX-License-Identifier: GPL-3.0-or-later
"""Every public function says what it models, and unit and range of what it takes and gives."""

import re

import prototypes
import tree

COMMAND = re.compile(r"^@(\w+)(?:\[([\w,]+)\])?[ \t]*", re.MULTILINE)
UNIT = re.compile(r"\[[^\]\s][^\]]*\]")
RANGE = re.compile(r"<|>|\b(any|finite)\b")
NULL = re.compile(r"\b(not NULL|NULL allowed|or NULL)\b", re.IGNORECASE)
TOOLS = r"SPDX-License-Identifier|clang-format o(ff|n)"  # plain comments that are not for readers
ORDER = ("brief", "param", "return", "par", "since")


def parse(comment):
    """The comment as a list of (command, attribute, text)."""
    starts = list(COMMAND.finditer(comment))
    ends = [match.start() for match in starts[1:]] + [len(comment)]
    return [(match[1], match[2], " ".join(comment[match.end():end].split()))
            for match, end in zip(starts, ends)]


def check_parameter(function, parameter, direction, text):
    if parameter.is_written and direction == "in" and not function.name.endswith("_free"):
        yield "is written but marked [in]"
    if not parameter.is_written and direction != "in":
        yield "must be marked [in]"
    if "double" in parameter.type and not UNIT.match(text):
        yield "must begin with its [unit]"
    if parameter.is_double and not RANGE.search(text):
        yield "does not say its range"
    if parameter.is_pointer and not NULL.search(text):
        yield 'does not say "not NULL" or "NULL allowed"'


def check_parameters(function, documented):
    names = [parameter.name for parameter in function.parameters]
    told = [text.partition(" ")[0] for _, _, text in documented]
    if names != told:
        yield f"parameters are {', '.join(names) or 'none'}; told are {', '.join(told) or 'none'}"
        return
    for parameter, (_, direction, text) in zip(function.parameters, documented):
        for wrong in check_parameter(function, parameter, direction, text.partition(" ")[2]):
            yield f"parameter {parameter.name} {wrong}"


def check(function):
    commands = parse(function.comment)
    told = {name: [entry for entry in commands if entry[0] == name] for name in ORDER}
    paragraphs = {text.partition(" ")[0] for _, _, text in told["par"]}
    if not function.comment:
        yield "has no comment directly above it"
        return
    if [name for name, _, _ in commands] != sorted((name for name, _, _ in commands),
                                                   key=(ORDER + (None,)).index):
        yield "commands must stand in the order " + ", ".join(ORDER)
    brief = function.comment.partition("\n\n")[0]
    if len(told["brief"]) != 1 or not brief.startswith("@brief ") or brief[-1] != ".":
        yield "must begin with @brief, a sentence with a full stop"
    yield from check_parameters(function, told["param"])
    if (function.type != "void") != (len(told["return"]) == 1):
        yield "needs one @return, or none where it returns nothing"
    elif function.type == "double" and not UNIT.search(told["return"][0][2]):
        yield "@return must name its [unit]"
    takes_err = any(parameter.type == "vent_error *" for parameter in function.parameters)
    if takes_err != ("Errors" in paragraphs):
        yield "@par Errors stands where, and only where, there is an err parameter"
    for word in paragraphs - {"Errors", "Source", "Accuracy"}:
        yield f"@par {word}: only Errors, Source and Accuracy are known"
    if len(told["since"]) != 1 or not re.fullmatch(r"\d+\.\d+", told["since"][0][2]):
        yield "must end with @since MAJOR.MINOR"


def check_remarks():
    """Public headers hold comments for readers only."""
    for path in tree.files("*.h", "*.h.in", under="include/ventstack"):
        for number, line in enumerate(path.read_text().splitlines(), 1):
            if re.search(r"/\*(?!\*)|(?<!:)//", line) and not any(
                    word in line for word in ("SPDX-License-Identifier", "clang-format")):
                yield tree.finding(path, number, "a plain comment in a public header")


all_functions = list(prototypes.functions())
findings = [tree.finding(function.path, function.line, f"{function.name} {text}")
            for function in all_functions for text in check(function)]
tree.report(findings + list(check_remarks()), len(all_functions), "functions")
