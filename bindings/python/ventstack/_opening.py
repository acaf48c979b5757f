# SPDX-License-Identifier: GPL-3.0-or-later
"""Openings to the surroundings: leaks and inlets."""

import math

from . import _core, core
from ._errors import ArgumentError
from ._value import Value, quantity

SHARP_EDGED = math.pi / (math.pi + 2)
_SURROUNDINGS = {"outdoors": core.VENT_SURROUNDINGS_OUTDOORS, "room": core.VENT_SURROUNDINGS_ROOM}


class Opening(Value):
    """An opening to the surroundings; made by `opening`.

    Examples
    --------
    >>> vs.opening(4e-4, to="room")
    <opening: 4 cm2 to the room>
    """

    __slots__ = ()
    _struct = core.opening

    def __new__(cls, *args, **kwargs):
        raise TypeError("make an Opening with opening()")

    area = quantity("area", "m2", "Its area")
    discharge_coefficient = quantity("discharge_coefficient", "-", "Share of the area that the jet fills")

    @property
    def to(self):
        """str : What is around it: "outdoors" or "room"."""
        return next(name for name, number in _SURROUNDINGS.items() if number == self._c.surroundings)

    def flow(self, pressure, density):
        """Volume flow at a difference of pressure.

        Parameters
        ----------
        pressure : float or array_like
            Outside less inside [Pa], signed.
        density : float or array_like
            Of the air that flows [kg/m3]; above 0.

        Returns
        -------
        float or numpy.ndarray
            Inwards [m3/s].

        Examples
        --------
        >>> round(vs.opening(1e-3, to="room", discharge_coefficient=0.6).flow(50.0, 1.2), 6)
        0.005477
        """
        return _core.opening_flow(self._c, pressure, density)

    def __repr__(self):
        where = "the room" if self.to == "room" else "outdoors"
        return f"<opening: {1e4 * self.area:.4g} cm2 to {where}>"


def opening(area, *, to, discharge_coefficient=SHARP_EDGED):
    """An opening of a stated area: Q = C A sqrt(2 dP / density), the same both ways.

    Leaves out the friction in long or narrow cracks: an area measured at one pressure holds near it.

    Parameters
    ----------
    area : float
        [m2]; 0 to 100. At 0 next to nothing goes through.
    to : {"outdoors", "room"}
        What is around it.
    discharge_coefficient : float, optional
        Share of the area that the jet fills [-]; 0.05 to 1. Unless given, that of a sharp-edged slit,
        pi / (pi + 2); 1 for an area that was measured as an effective one.

    Returns
    -------
    Opening

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Kirchhoff (1869) for the slit, from memory; the square law is Bernoulli's equation.

    Examples
    --------
    >>> round(vs.opening(1e-4, to="outdoors").discharge_coefficient, 3)
    0.611
    """
    if not isinstance(to, str):
        raise TypeError(f"to must be a str, not {type(to).__name__}")
    if to not in _SURROUNDINGS:
        raise ArgumentError(f"to is {to!r}; an opening is to 'outdoors' or 'room'", argument="to")
    return Opening._of(core.opening_to(_SURROUNDINGS[to], area, discharge_coefficient))
