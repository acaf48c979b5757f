# SPDX-License-Identifier: GPL-3.0-or-later
"""The soil as a suction point feels it."""

from . import _core, core
from ._value import Value


class Soil(Value):
    """A soil law; made by `soil_power` or `soil_two_term`.

    Examples
    --------
    >>> vs.soil_power(4.2e-4, 0.62)
    <soil: Q = 0.00042 dP^0.62>
    """

    __slots__ = ()
    _struct = core.soil

    def __new__(cls, *args, **kwargs):
        raise TypeError("make a Soil with soil_power() or soil_two_term()")

    def pressure(self, flow):
        """Vacuum that draws a flow through the soil.

        Parameters
        ----------
        flow : float or array_like
            Volume flow of soil gas [m3/s], signed.

        Returns
        -------
        float or numpy.ndarray
            [Pa], with the sign of the flow.

        Examples
        --------
        >>> vs.soil_two_term(100.0, 0.0).pressure(0.5)
        50.0
        """
        return _core.soil_pressure(self._c, flow)

    def flow(self, pressure):
        """Flow that a vacuum draws through the soil.

        Parameters
        ----------
        pressure : float or array_like
            Vacuum in the pit against the soil's far pressure [Pa], signed.

        Returns
        -------
        float or numpy.ndarray
            Volume flow of soil gas [m3/s], with the sign of the pressure.

        Examples
        --------
        >>> round(vs.soil_power(4e-4, 0.5).flow(100.0), 6)
        0.004
        """
        return _core.soil_flow(self._c, pressure)

    def __repr__(self):
        if self._c.law == core.VENT_SOIL_POWER:
            return f"<soil: Q = {self._c.a:g} dP^{self._c.b:g}>"
        return f"<soil: dP = {self._c.a:g} Q + {self._c.b:g} Q^2>"


def soil_power(c, n):
    """A soil whose flow is a power of the vacuum: Q = c dP^n.

    Parameters
    ----------
    c : float
        Flow at a vacuum of 1 Pa [m3/s/Pa^n]; 1e-15 to 1e3.
    n : float
        0.5 where inertia rules (coarse gravel, gaps), 1 where viscosity does [-]; 0.4 to 1.1.

    Returns
    -------
    Soil

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    The form is common practice; its limits are Darcy's law (n = 1) and the orifice (n = 0.5).
    A law taken in cfm and inches of water, Q = k dP^n, comes in as ``k * cfm / inwc**n``.

    Examples
    --------
    >>> round(vs.soil_power(4.2e-4, 0.62).flow(50.0), 5)
    0.00475
    """
    return Soil._of(core.soil_power(c, n))


def soil_two_term(a, b):
    """A soil whose vacuum has a laminar and a turbulent part: dP = a Q + b Q^2.

    Parameters
    ----------
    a : float
        Viscous coefficient [Pa s/m3]; 0 to 1e15.
    b : float
        Inertial coefficient [Pa s2/m6]; 0 to 1e18, and not both 0.

    Returns
    -------
    Soil

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    P. Forchheimer (1901), Wasserbewegung durch Boden; from memory.

    Examples
    --------
    >>> vs.soil_two_term(1e3, 1e5).pressure(0.01)
    20.0
    """
    return Soil._of(core.soil_two_term(a, b))
