# SPDX-License-Identifier: GPL-3.0-or-later
"""Where numbers come from: citations, and coefficients that carry them."""

import dataclasses
import enum

from . import core


class How(enum.IntEnum):
    """How a value was obtained from its source.

    Attributes
    ----------
    PRINTED
        Read in the printed source itself.
    REPRINT
        Read in a reprint, a reference program or a scan of another author.
    COMPUTED
        Computed independently, or exact by theory.
    MEMORY
        From memory: not found again, treat as unverified.
    PRACTICE
        Common practice, no source.

    Examples
    --------
    >>> vs.entry_flush().coefficient(vs.pipe("PVC 40", 3 * inch), 5e4).source.how.name
    'REPRINT'
    """

    PRINTED = core.VENT_HOW_PRINTED
    REPRINT = core.VENT_HOW_REPRINT
    COMPUTED = core.VENT_HOW_COMPUTED
    MEMORY = core.VENT_HOW_MEMORY
    PRACTICE = core.VENT_HOW_PRACTICE


class CoefficientFlag(enum.IntFlag):
    """What to know of a coefficient used where it is.

    Attributes
    ----------
    GEOMETRY_OUTSIDE
        A geometric parameter left the source's range.
    REYNOLDS_OUTSIDE
        The Reynolds number left the source's range.

    Examples
    --------
    >>> bool(vs.rain_cap(0.42).coefficient(vs.pipe("PVC 40", 3 * inch), 5e4).flags
    ...      & vs.CoefficientFlag.GEOMETRY_OUTSIDE)
    True
    """

    GEOMETRY_OUTSIDE = core.VENT_COEFFICIENT_GEOMETRY_OUTSIDE
    REYNOLDS_OUTSIDE = core.VENT_COEFFICIENT_REYNOLDS_OUTSIDE


@dataclasses.dataclass(frozen=True)
class Source:
    """One citation.

    Attributes
    ----------
    author : str
        Author or body.
    year : int
        Year of the edition, 0 where none.
    title : str
        Work.
    place : str
        Table, diagram, equation or section.
    how : How
        How the value was obtained there.
    number : int
        The library's number for it, from 1.

    Examples
    --------
    >>> print(vs.sources()[0])
    D. C. Rennels, H. M. Hudson (2012), Pipe Flow: A Practical and Comprehensive Guide, \
smooth round bend of any angle and radius [reprint]
    """

    author: str
    year: int
    title: str
    place: str
    how: How
    number: int

    @property
    def brief(self):
        """str : Author and year; several sources may have the same, `number` tells them apart."""
        return self.author + (f" ({self.year})" if self.year else "")

    def __str__(self):
        return f"{self.brief}, {self.title}, {self.place} [{self.how.name.lower()}]"


def source(number):
    """The citation of a number the library gives; None for 0, stated by the caller."""
    found = core.source()
    if not core.source_find(number, found):
        return None
    return Source(found.author, found.year, found.title, found.place, How(found.how), number)


def sources():
    """Every citation the library rests on.

    Returns
    -------
    list of Source

    Examples
    --------
    >>> sum(each.how is vs.How.MEMORY for each in vs.sources()) < len(vs.sources())
    True
    """
    return [source(number) for number in range(1, core.source_count() + 1)]


@dataclasses.dataclass(frozen=True)
class Coefficient:
    """A loss coefficient with its honesty.

    Attributes
    ----------
    value : float
        K on the stated bore's velocity pressure [-].
    uncertainty : float
        Standard uncertainty of value [-].
    source : Source or None
        Where it comes from; None where the caller stated it.
    flags : CoefficientFlag
        Whether it is used outside its source's range.

    Examples
    --------
    >>> k = vs.open_end().coefficient(vs.pipe("PVC 40", 3 * inch), reynolds=5e4)
    >>> float(k)
    1.0
    """

    value: float
    uncertainty: float
    source: Source
    flags: CoefficientFlag

    @classmethod
    def _of(cls, struct):
        return cls(struct.value, struct.uncertainty, source(struct.source),
                   CoefficientFlag(struct.flags))

    def __float__(self):
        return self.value
