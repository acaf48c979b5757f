# SPDX-License-Identifier: GPL-3.0-or-later
"""Which sources a solution rests on, and how much hangs on each."""

import dataclasses

from . import core
from ._ledger import symbol
from ._source import CoefficientFlag, Source, source
from ._table import as_html, as_text, places

_LEFT = {CoefficientFlag.GEOMETRY_OUTSIDE: "geometry", CoefficientFlag.REYNOLDS_OUTSIDE: "Reynolds"}


@dataclasses.dataclass(frozen=True)
class SourceUse:
    """What rests on one source.

    Attributes
    ----------
    source : Source or None
        The citation; None for what the caller stated.
    flags : CoefficientFlag
        Whether any of its coefficients is used outside its range.
    lines : int
        How many lines of the ledger rest on it.
    greatest_loss : float
        The greatest loss or drive of one of these lines, by size [Pa].
    greatest_share : float
        That over the fans' pressure [-]; NaN without a fan.

    Examples
    --------
    >>> net.solve().sources()[0].lines > 0
    True
    """

    source: Source
    flags: CoefficientFlag
    lines: int
    greatest_loss: float
    greatest_share: float


class Provenance:
    """The sources a solution rests on, those with most hanging on them first.

    Made by `Solution.sources`. Prints as a table.

    Examples
    --------
    >>> known = net.solve().sources()
    >>> len(known) == len(list(known))
    True
    >>> any(use.source == vs.pipe("PVC 40", 3 * inch).source for use in known)
    True
    """

    __slots__ = ("uses", "_pressure")

    def __init__(self, solution, pressure):
        symbol(pressure, "pressure", "pressure")
        self._pressure, uses, found = pressure, [], core.source_use()
        while core.solution_source_use(solution._c, len(uses), found):
            uses.append(SourceUse(source(found.source), CoefficientFlag(found.flags), found.lines,
                                  found.greatest_loss, found.greatest_share))
        self.uses = tuple(uses)

    def __len__(self):
        return len(self.uses)

    def __iter__(self):
        return iter(self.uses)

    def __getitem__(self, index):
        return self.uses[index]

    def _columns(self):
        unit = self._pressure
        return [
            ("lines", 0, [use.lines for use in self.uses]),
            (f"greatest loss [{unit.symbol}]", places(unit, 0.1),
             [use.greatest_loss / unit for use in self.uses]),
            ("share of fan [%]", 1, [100 * use.greatest_share for use in self.uses]),
            ("range left", None, [", ".join(word for flag, word in _LEFT.items()
                                            if use.flags & flag) for use in self.uses]),
            ("source", None, [str(use.source or "stated by the caller") for use in self.uses]),
        ]

    def __str__(self):
        return as_text(self._columns())

    def _repr_html_(self):
        return as_html(self._columns())

    def __repr__(self):
        return f"<{len(self)} sources>"

    def to_frame(self):
        """The table as a pandas table, in the unit it was asked for.

        Returns
        -------
        pandas.DataFrame
            The printed columns under the printed heads, unrounded.

        Examples
        --------
        >>> list(net.solve().sources().to_frame().columns)[1]
        'greatest loss [Pa]'
        """
        import pandas
        return pandas.DataFrame({head: values for head, _, values in self._columns()})
