# SPDX-License-Identifier: GPL-3.0-or-later
"""Units of the trade: a unit is a number that one multiplies by to come in, divides by to go out.

Everything in `ventstack` is SI: metres, cubic metres a second, pascals, kelvin, radians.
``3 * inch`` is a length in metres and ``flow / cfm`` a flow in cubic feet a minute; both work on
lists and arrays too. Temperatures have a zero of their own and are functions: ``celsius(13)`` is a
temperature in kelvin, ``to_celsius(286.15)`` the way back.

Sources: the inch, pound and what derives from them are exact by definition (NIST SP 811, 2008,
appendix B.8). The inch of water column is the conventional one, water of 1000 kg/m3 and standard
gravity: 249.08891 Pa (NIST SP 811 gives 249.0889).

Examples
--------
>>> from ventstack.units import cfm, inch, celsius
>>> round(3 * inch, 4)
0.0762
>>> ([30, 60] * cfm).round(4)
array([0.0142, 0.0283])
>>> celsius(13)
286.15
"""

import math as _math

import numpy as _np

from . import _core as _compiled, core as _core
from ._errors import ArgumentError as _ArgumentError

__all__ = [
    "Unit", "celsius", "centimetre", "cfm", "cm", "cubic_metre_per_hour", "cubic_metre_per_second",
    "degree", "fahrenheit", "feet", "foot", "fpm", "hectopascal", "inch", "inwc", "kilopascal",
    "litre_per_second", "metre", "metre_per_second", "millimetre", "mm", "pascal",
    "pound_per_cubic_foot", "to_celsius", "to_fahrenheit", "watt",
]


_PLAIN = frozenset((float, int, list, tuple, _np.ndarray))


class Unit(float):
    """A unit: its worth in SI, with a symbol and what it measures.

    Multiplying and dividing give plain numbers, or arrays where the other side is a list, a tuple
    or an array.

    Parameters
    ----------
    value : float
        How many of the SI unit it is.
    symbol : str
        How it is written.
    quantity : str
        What it measures: "length", "flow", "pressure", "velocity", "density", "angle", "power".

    Raises
    ------
    ArgumentError
        If value is not above 0 and finite.

    Notes
    -----
    mypy takes a list in brackets times anything for a list. Where it matters, write the unit first:
    ``cfm * [0, 30, 60]``.

    Examples
    --------
    >>> yard = Unit(0.9144, "yd", "length")
    >>> 2 * yard
    1.8288
    """

    __slots__ = ("symbol", "quantity")
    __array_priority__ = 1  # an array leaves its multiplication to the unit, as a list does

    def __new__(cls, value, symbol, quantity):
        unit = super().__new__(cls, value)
        if not 0 < unit < _math.inf:
            raise _ArgumentError(f"value is {value}; a unit is worth more than 0 and not infinite",
                                 argument="value", value=value, low=0.0, high=_math.inf)
        unit.symbol = symbol
        unit.quantity = quantity
        return unit

    def __mul__(self, other):
        return _compiled.times(other, self) if type(other) in _PLAIN else other * float(self)

    __rmul__ = __mul__

    def __rtruediv__(self, other):
        return _compiled.over(other, self) if type(other) in _PLAIN else other / float(self)

    def __index__(self):
        raise TypeError(f"{self.symbol} is a unit, not a whole number")

    def __repr__(self):
        return self.symbol

    __str__ = __repr__

    def __reduce__(self):
        return Unit, (float(self), self.symbol, self.quantity)


metre = Unit(1.0, "m", "length")
centimetre = cm = Unit(0.01, "cm", "length")
millimetre = mm = Unit(_core.VENT_MM, "mm", "length")
inch = Unit(_core.VENT_INCH, "in", "length")
foot = feet = Unit(_core.VENT_FOOT, "ft", "length")

cubic_metre_per_second = Unit(1.0, "m3/s", "flow")
cubic_metre_per_hour = Unit(_core.VENT_M3_H, "m3/h", "flow")
litre_per_second = Unit(_core.VENT_LITRE_S, "L/s", "flow")
cfm = Unit(_core.VENT_CFM, "cfm", "flow")

pascal = Unit(1.0, "Pa", "pressure")
hectopascal = Unit(100.0, "hPa", "pressure")
kilopascal = Unit(1000.0, "kPa", "pressure")
inwc = Unit(_core.VENT_INWC, "in. w.c.", "pressure")

metre_per_second = Unit(1.0, "m/s", "velocity")
fpm = Unit(_core.VENT_FPM, "ft/min", "velocity")

pound_per_cubic_foot = Unit(_core.VENT_LB_FT3, "lb/ft3", "density")
degree = Unit(_math.pi / 180, "deg", "angle")
watt = Unit(1.0, "W", "power")


def celsius(temperature):
    """Temperature in kelvin from degrees Celsius.

    Parameters
    ----------
    temperature : float or array_like
        [degrees Celsius].

    Returns
    -------
    float or numpy.ndarray
        [K].

    Examples
    --------
    >>> celsius([-5, 13])
    array([268.15, 286.15])
    """
    return _compiled.celsius(temperature)


def fahrenheit(temperature):
    """Temperature in kelvin from degrees Fahrenheit.

    Parameters
    ----------
    temperature : float or array_like
        [degrees Fahrenheit].

    Returns
    -------
    float or numpy.ndarray
        [K].

    Examples
    --------
    >>> round(fahrenheit(32), 2)
    273.15
    """
    return _compiled.fahrenheit(temperature)


def to_celsius(temperature):
    """Temperature in degrees Celsius from kelvin.

    Parameters
    ----------
    temperature : float or array_like
        [K].

    Returns
    -------
    float or numpy.ndarray
        [degrees Celsius].

    Examples
    --------
    >>> to_celsius(273.15)
    0.0
    """
    return _compiled.to_celsius(temperature)


def to_fahrenheit(temperature):
    """Temperature in degrees Fahrenheit from kelvin.

    Parameters
    ----------
    temperature : float or array_like
        [K].

    Returns
    -------
    float or numpy.ndarray
        [degrees Fahrenheit].

    Examples
    --------
    >>> round(to_fahrenheit(373.15), 2)
    212.0
    """
    return _compiled.to_fahrenheit(temperature)
