# SPDX-License-Identifier: GPL-3.0-or-later
"""A reading: a value with its uncertainty, and what to know of it."""

import enum
import math

from . import core
from ._checks import described
from ._errors import ArgumentError
from ._source import source as _source
from ._value import Value, quantity


class ReadingFlag(enum.IntFlag):
    """What to know of a reading.

    Attributes
    ----------
    NOT_MEASURABLE
        Twice the instrument's uncertainty reaches zero: not measurable with this instrument.
    COARSE
        The instrument leaves more of the flow open than wanted.
    OFF_SCALE
        Beyond the instrument's scale.
    TRANSITIONAL
        Reynolds number 2000 to 4000: the profile may be either.
    BLOCKED
        The probe takes more than 3 % of the pipe's section.
    UNEVEN
        Over a quarter of a traverse reads below a tenth of its greatest velocity pressure.
    RANGE
        Outside the range of the rule's source.
    STRAIGHT
        Too little straight pipe before the station.

    Examples
    --------
    >>> gauge = vs.pressure_instrument(500, fixed=0.5, step=0.1)
    >>> gauge.read(0.3).flags.name
    'NOT_MEASURABLE'
    """

    NOT_MEASURABLE = core.VENT_READING_NOT_MEASURABLE
    COARSE = core.VENT_READING_COARSE
    OFF_SCALE = core.VENT_READING_OFF_SCALE
    TRANSITIONAL = core.VENT_READING_TRANSITIONAL
    BLOCKED = core.VENT_READING_BLOCKED
    UNEVEN = core.VENT_READING_UNEVEN
    RANGE = core.VENT_READING_RANGE
    STRAIGHT = core.VENT_READING_STRAIGHT


class Reading(Value):
    """A value with its standard uncertainty.

    Dividing by a unit converts both, and a format applies to both.

    Parameters
    ----------
    value : float
        In SI [-].
    uncertainty : float, optional
        One standard uncertainty, in the same unit [-]; at least 0.

    Raises
    ------
    ArgumentError
        If value is not finite or uncertainty is negative.

    Examples
    --------
    >>> flow = vs.Reading(0.0176, 0.0014)
    >>> print(f"{flow / cfm:.1f} cfm")
    37.3 +- 3.0 cfm
    """

    __slots__ = ()
    _struct = core.reading

    def __new__(cls, value, uncertainty=0.0):
        made = core.reading_stated(value, uncertainty)
        if math.isnan(made.value):
            raise ArgumentError(f"a reading of {value!r} with uncertainty {uncertainty!r}: the value "
                                "must be finite, the uncertainty finite and not negative",
                                argument="uncertainty")
        return cls._of(made)

    value = quantity("value", "SI unit of what it is", "The value")
    uncertainty = quantity("uncertainty", "same unit", "Its standard uncertainty")

    @property
    def relative_uncertainty(self):
        """float : Standard uncertainty over the size of the value [-]."""
        return self.uncertainty / abs(self.value) if self.value else math.inf

    @property
    def flags(self):
        """ReadingFlag : What to know of it; false where nothing is to be said."""
        return ReadingFlag(self._c.flags)

    @property
    def is_measurable(self):
        """bool : Whether the instrument can tell it from zero."""
        return not self.flags & ReadingFlag.NOT_MEASURABLE

    @property
    def source(self):
        """Source or None : Of the rule used."""
        return _source(self._c.source)

    def __truediv__(self, other):
        return self._with(value=self.value / other, uncertainty=self.uncertainty / abs(other))

    def __mul__(self, other):
        return self._with(value=self.value * other, uncertainty=self.uncertainty * abs(other))

    __rmul__ = __mul__

    def __float__(self):
        return self.value

    def __format__(self, spec):
        return f"{self.value:{spec}} +- {self.uncertainty:{spec}}"

    def __repr__(self):
        flags = " " + "|".join(flag.name for flag in ReadingFlag if flag & self.flags)
        return f"<{self:.4g}{flags.rstrip()}>"


def _reading(value, argument):
    """A reading, or a number taken as exact."""
    if isinstance(value, Reading):
        return value._c
    try:
        return Reading(value)._c
    except TypeError:
        raise TypeError(f"{argument} must be a Reading or a number, {described(value)}") from None
