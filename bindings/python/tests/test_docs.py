# SPDX-License-Identifier: GPL-3.0-or-later
"""Everything public has a numpydoc docstring that is complete, and its example runs."""

import dataclasses
import doctest
import enum
import inspect
import re
import types

import numpy as np
import pytest
import ventstack as vs
from conftest import make_stack
from ventstack import units

SECTIONS = ["Parameters", "Attributes", "Returns", "Warns", "Raises", "See Also", "Notes", "Examples"]


def members(kind):
    """Public methods and properties a class defines or inherits within the package."""
    for name in dir(kind):
        if name.startswith("_"):
            continue
        owner = next(base for base in kind.__mro__ if name in vars(base))
        if owner.__module__.split(".")[0] == "ventstack":
            yield name, inspect.getattr_static(kind, name)


def everything():
    for module, prefix in ((vs, "ventstack"), (units, "ventstack.units")):
        yield prefix, module
        for name in module.__all__:
            thing = getattr(module, name)
            if isinstance(thing, (types.ModuleType, units.Unit)):
                continue
            yield f"{prefix}.{name}", thing
            if inspect.isclass(thing) and not issubclass(thing, (enum.Enum, Warning)):
                for member, value in members(thing):
                    yield f"{prefix}.{name}.{member}", value


THINGS = dict(everything())
FUNCTIONS = {name: getattr(thing, "__func__", thing) for name, thing in THINGS.items()
             if inspect.isfunction(getattr(thing, "__func__", thing))}
CLASSES = {name: thing for name, thing in THINGS.items() if inspect.isclass(thing)}
PROPERTIES = {name: thing for name, thing in THINGS.items() if isinstance(thing, property)}


def test_the_net_is_wide():
    assert len(FUNCTIONS) > 60 and len(CLASSES) > 30 and len(PROPERTIES) > 50


def sections(text):
    """The sections of a docstring by name, and the text before them as ""."""
    found, name = {"": []}, ""
    lines = inspect.cleandoc(text).splitlines()
    for line, below in zip(lines, [*lines[1:], ""]):
        if below and set(below) == {"-"} and len(below) == len(line):
            assert line in SECTIONS, f"unknown section {line}"
            assert line not in found, f"section {line} twice"
            name = line
            found[name] = []
        elif not (set(line) == {"-"} and line):
            found[name].append(line)
    order = [SECTIONS.index(name) for name in found if name]
    assert order == sorted(order), "sections out of order"
    return found


def entries(lines):
    """Entries of Parameters and their like: names, the type, the words below."""
    result = {}
    for line in lines:
        if line and not line.startswith(" "):
            names, _, kind = line.partition(" : ")
            current = (kind, [])
            for name in names.split(", "):
                result[name.lstrip("*")] = current
        elif line:
            current[1].append(line.strip())
    return {name: (kind, " ".join(words)) for name, (kind, words) in result.items()}


def summary_is_a_sentence(found):
    first = found[""][0]
    return first[:1].isupper() and " ".join(found[""]).split("\n\n")[0].strip().count(".") >= 1


@pytest.mark.parametrize("name", FUNCTIONS)
def test_functions(name):
    function = FUNCTIONS[name]
    assert function.__doc__, "no docstring"
    found = sections(function.__doc__)
    assert summary_is_a_sentence(found)
    parameters = [p for p in inspect.signature(function).parameters.values()
                  if p.name not in ("self", "cls")]
    told = entries(found.get("Parameters", []))
    assert list(told) == [p.name for p in parameters]
    for parameter in parameters:
        kind, words = told[parameter.name]
        optional = parameter.default is not parameter.empty
        assert optional == (", optional" in kind) or "As in" in words, parameter.name
        if "float" in kind and "As in" not in words:
            assert re.search(r"\[[^]]+\]", words), f"{parameter.name} has no [unit]"
    assert "Returns" in found and "Examples" in found
    first = found["Returns"][0]
    if first.startswith("float") or "ndarray" in first:
        assert "[" in " ".join(found["Returns"]) or "degrees" in " ".join(found["Returns"])


@pytest.mark.parametrize("name", CLASSES)
def test_classes(name):
    kind = CLASSES[name]
    found = sections(kind.__doc__)
    assert summary_is_a_sentence(found)
    if issubclass(kind, vs.VentError):
        assert "Examples" in found or "VentError" in " ".join(found["See Also"])
        return
    assert "Examples" in found
    if dataclasses.is_dataclass(kind):
        told = entries(found["Attributes"])
        assert list(told) == [field.name for field in dataclasses.fields(kind)]
    if issubclass(kind, enum.Enum):
        assert list(entries(found["Attributes"])) == list(kind.__members__)


@pytest.mark.parametrize("name", PROPERTIES)
def test_properties(name):
    text = PROPERTIES[name].__doc__
    kind, _, words = text.partition(" : ")
    assert words and words.rstrip().endswith("."), "type : words."
    if kind == "float":
        assert re.search(r"\[[^]]+\]", words), "no [unit]"


class Globals(dict):
    """What the examples may use without saying so, made afresh for each."""

    def __init__(self):
        s = make_stack()
        super().__init__({unit: getattr(units, unit) for unit in units.__all__}, vs=vs, np=np)
        self.update(air=s.air, soil=s.soil, fan=s.fan, net=s.net, pit=s.pit, roof=s.roof,
                    riser=s.riser)


NEEDS_A_FAN = ("Solution", "Ledger", "LedgerLine", "LineKind", "FanPoint", "Convergence",
               "EquivalentSource", "Provenance", "SolutionFlag", "SolutionWarning", "SourceUse",
               "Network.solve", "OperatingPoint", "PointFlag", "Achievement", "Setting", "Balanced",
               "Network.operating_points", "Network.balance", "Fit.", "Fitted", "Estimate", "Residual",
               "Uncertainty", "Budget", "Simulated", "top_coefficient", "Sheet", "Band", "Judgement",
               "Marks", "Verdict", "Claim", "Diagnosed", "Diagnosis", "Finding", "FoundFault",
               "NextReading")
EXAMPLES = [name for name, thing in THINGS.items() if ">>>" in (thing.__doc__ or "")]


@pytest.mark.parametrize("name", EXAMPLES)
def test_examples(name):
    space = Globals()
    if any(part in name for part in NEEDS_A_FAN):
        space["riser"].add(space["fan"])
    if ".plot" in name:
        pytest.importorskip("matplotlib", reason="needs python3-matplotlib")
    if "to_frame" in THINGS[name].__doc__:
        pytest.importorskip("pandas", reason="needs python3-pandas")
    test = doctest.DocTestParser().get_doctest(THINGS[name].__doc__, space, name, None, 0)
    output = []
    runner = doctest.DocTestRunner(optionflags=doctest.IGNORE_EXCEPTION_DETAIL)
    runner.run(test, out=output.append)
    assert runner.summarize(verbose=False).failed == 0, "".join(output)


def test_cautions_are_in_the_package():
    for words in ("licensed practice", "local codes", "combustion", "back-drafting", "radon test",
                  "Electrical"):
        assert words in vs.__doc__
