# SPDX-License-Identifier: GPL-3.0-or-later
"""The families of fittings and terminations: what there is, in which ranges, by whom."""

import dataclasses
import difflib

from . import core
from ._errors import ArgumentError
from ._fitting import Fitting
from ._source import Source, source
from ._termination import Termination


@dataclasses.dataclass(frozen=True)
class ParameterRange:
    """One geometric parameter of a family.

    Attributes
    ----------
    name : str
        As the argument is named.
    unit : str
        "m", "rad", and so on; empty for a ratio.
    low, high : float
        Bounds; outside is an error.
    source_low, source_high : float
        The source's own range; outside is a flag.

    Examples
    --------
    >>> angle, radius_ratio = vs.elbow(1.0, 1.5).family.parameters
    >>> radius_ratio.low < radius_ratio.source_low
    True
    """

    name: str
    unit: str
    low: float
    high: float
    source_low: float
    source_high: float


@dataclasses.dataclass(frozen=True)
class Formula:
    """One published formula a family rests on.

    Attributes
    ----------
    source : Source or None
        Whose; None where the caller states the value.
    reynolds_low, reynolds_high : float
        Its range [-]; outside is a flag.
    own_length : bool
        Whether that Reynolds number is formed with a length of the part, as a wire, not the bore.

    Examples
    --------
    >>> vs.entry_flush().family.formulas[0].reynolds_low
    10000.0
    """

    source: Source
    reynolds_low: float
    reynolds_high: float
    own_length: bool


@dataclasses.dataclass(frozen=True)
class Family:
    """A family of fittings or terminations: its parameters, ranges and sources.

    Attributes
    ----------
    kind : type
        `Fitting` or `Termination`.
    number : int
        The library's number for it, from 1.
    name : str
        In words.
    parameters : tuple of ParameterRange
        Its geometry, in order.
    formulas : tuple of Formula
        For the way of the run, the default first. For a change of bore: for a bore that grows.
    reversed_formulas : tuple of Formula
        For reversed flow. For a change of bore: for a bore that shrinks.

    Examples
    --------
    >>> default, *others = vs.elbow(1.0, 1.5).family.formulas
    >>> default.source.author
    'D. C. Rennels, H. M. Hudson'
    """

    kind: type
    number: int
    name: str
    parameters: tuple
    formulas: tuple
    reversed_formulas: tuple

    def make(self, **geometry):
        """A part of the family from its geometry by name.

        Parameters
        ----------
        **geometry : float
            One number [SI] for each of `parameters`.

        Returns
        -------
        Fitting or Termination

        Raises
        ------
        ArgumentError
            If a name is missing or unknown, or a number is outside its bounds.

        Examples
        --------
        >>> family = vs.elbow(1.0, 1.5).family
        >>> family.make(angle=1.0, radius_ratio=1.5) == vs.elbow(1.0, 1.5)
        True
        """
        names = [parameter.name for parameter in self.parameters]
        for name in geometry.keys() - set(names):
            near = difflib.get_close_matches(name, names, 1)
            raise ArgumentError(f"{self.name} has no {name}"
                                + (f"; did you mean {near[0]}" if near else "")
                                + f"; it has {', '.join(names) or 'no parameters'}", argument=name)
        for name in names:
            if name not in geometry:
                raise ArgumentError(f"{self.name} needs {name}; it has {', '.join(names)}",
                                    argument=name)
        struct = self.kind._struct()
        struct.family, struct.factor = self.number, 1.0
        values = [geometry[name] for name in names]
        struct.geometry = values + [0.0] * (6 - len(values))
        return self.kind._of(self.kind._core_by_source(struct, 0))


def _parameters(kind, number):
    for place in range(kind._core_parameter_count(number)):
        found = core.parameter_range()
        kind._core_parameter(number, place, found)
        yield ParameterRange(found.name, found.unit, found.low, found.high, found.source_low,
                             found.source_high)


def _formulas(kind, number, is_reversed):
    found, place = core.formula(), 0
    while kind._core_formula(number, is_reversed, place, found):
        yield Formula(source(found.source), found.reynolds_low, found.reynolds_high,
                      bool(found.own_length))
        place += 1


def family(kind, number):
    """The family of a number."""
    return Family(kind, number, kind._core_name(number), tuple(_parameters(kind, number)),
                  tuple(_formulas(kind, number, False)), tuple(_formulas(kind, number, True)))


def fitting_families():
    """Every family of fittings.

    Returns
    -------
    list of Family

    Examples
    --------
    >>> "elbow" in [family.name for family in vs.fitting_families()]
    True
    """
    return [family(Fitting, number) for number in range(1, core.fitting_family_count() + 1)]


def termination_families():
    """Every family of terminations.

    Returns
    -------
    list of Family

    Examples
    --------
    >>> "open end" in [family.name for family in vs.termination_families()]
    True
    """
    return [family(Termination, number)
            for number in range(1, core.termination_family_count() + 1)]
