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

from . import core as _core
from ._checks import numbers as _numbers

__all__ = [
    "Unit", "celsius", "centimetre", "cfm", "cm", "cubic_metre_per_hour", "cubic_metre_per_second",
    "degree", "fahrenheit", "feet", "foot", "fpm", "hectopascal", "inch", "inwc", "kilopascal",
    "litre_per_second", "metre", "metre_per_second", "millimetre", "mm", "pascal",
    "pound_per_cubic_foot", "to_celsius", "to_fahrenheit", "watt",
]


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

    Examples
    --------
    >>> yard = Unit(0.9144, "yd", "length")
    >>> 2 * yard
    1.8288
    """

    __slots__ = ("symbol", "quantity")

    def __new__(cls, value, symbol, quantity):
        unit = super().__new__(cls, value)
        unit.symbol = symbol
        unit.quantity = quantity
        return unit

    def __mul__(self, other):
        return float.__mul__(self, other) if isinstance(other, (int, float)) \
            else _elements(other) * float(self)

    __rmul__ = __mul__

    def __rtruediv__(self, other):
        return float.__rtruediv__(self, other) if isinstance(other, (int, float)) \
            else _elements(other) / float(self)

    def __repr__(self):
        return self.symbol

    __str__ = __repr__

    def __reduce__(self):
        return Unit, (float(self), self.symbol, self.quantity)


def _elements(values):
    """Lists and tuples as arrays of float; all else as it is."""
    return _numbers(values, "values") if isinstance(values, (list, tuple)) else values


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

_ZERO_CELSIUS = 273.15      # K
_ZERO_FAHRENHEIT = 459.67   # degrees Fahrenheit above absolute zero
_FAHRENHEIT = 5 / 9         # K a degree


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
    return _elements(temperature) + _ZERO_CELSIUS


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
    return (_elements(temperature) + _ZERO_FAHRENHEIT) * _FAHRENHEIT


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
    return _elements(temperature) - _ZERO_CELSIUS


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
    return _elements(temperature) / _FAHRENHEIT - _ZERO_FAHRENHEIT
