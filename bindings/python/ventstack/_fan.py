# SPDX-License-Identifier: GPL-3.0-or-later
"""Fans: a curve through measured points."""

import math
import warnings

import numpy as np

from . import _core, core
from ._checks import instance, row

_NO_POWER = np.empty(0)
_ABSURD = 25.0  # m3/s, beyond any fan of a vent stack; in cubic feet a minute it is a small one


class Fan:
    """A fan from measured points; immutable, equal to another of the same name and points.

    A monotone cubic runs through the points and goes on past them as straight lines, of which a
    solved network warns. The fan laws carry it to other densities and speeds.

    Parameters
    ----------
    name : str
        Shown in results.
    flow : array_like
        Of each point, strictly increasing [m3/s]; 0 to 1e6.
    pressure : array_like
        Rise of pressure at each point, the first above 0 [Pa].
    power : array_like, optional
        Electrical or shaft power at each point [W].
    density : float, optional
        Of the air the points were taken in [kg/m3]; 0.1 to 10. Standard air, 0.075 lb/ft3, unless
        given.

    Warns
    -----
    UserWarning
        If flow goes beyond 25 m3/s: the unit was left out, most likely.

    Raises
    ------
    ArgumentError
        If there are fewer than two points, the flows do not increase or a value is outside its
        bounds.

    Notes
    -----
    Steffen (1990), Astronomy and Astrophysics 239, 443, for the curve; Abulencia and Theodore
    (2009), Fluid Flow for the Practicing Chemical Engineer, section 17.2, for the fan laws.

    Examples
    --------
    >>> fan = vs.Fan("invented", flow=[0, 50, 100, 150] * cfm, pressure=[1.5, 1.3, 0.8, 0] * inwc)
    >>> round(fan.pressure(50 * cfm) / inwc, 3)
    1.3
    """

    __slots__ = ("_c", "_recipe", "_density", "_has_power", "__weakref__")

    def __init__(self, name, *, flow, pressure, power=None, density=core.VENT_STANDARD_DENSITY):
        points = (row(flow, "flow"), row(pressure, "pressure"),
                  _NO_POWER if power is None else row(power, "power"))
        self._c = core.fan_make(name, *points, density)
        greatest = float(points[0][-1])
        if greatest > _ABSURD:
            warnings.warn(f"flow goes up to {greatest:g} m3/s, which is {greatest / core.VENT_CFM:.0f} cfm; "
                          f"did you mean {greatest:g} * cfm?", stacklevel=2)
        self._density, self._has_power = float(density), power is not None
        self._recipe = _measured, (name, *(tuple(x.tolist()) for x in points), self._density)

    @classmethod
    def _together(cls, way, name, fans):
        self = object.__new__(cls)
        fans = tuple(instance(fan, Fan, f"fans[{i}]", "a Fan") for i, fan in enumerate(fans))
        self._c = way(name, [fan._c for fan in fans])
        self._density = core.fan_density(self._c)
        self._has_power = all(fan._has_power for fan in fans)
        self._recipe = cls.series if way is core.fan_series else cls.parallel, (name, fans)
        return self

    @classmethod
    def series(cls, name, fans):
        """Fans in series: the same flow passes all, their pressures add.

        Parameters
        ----------
        name : str
            Shown in results.
        fans : sequence of Fan
            1 to 1000 of them; the same one may stand there repeatedly.

        Returns
        -------
        Fan

        Raises
        ------
        ArgumentError
            If there are none, or their data share no range of flow.

        Examples
        --------
        >>> fan = vs.Fan("invented", flow=[0, 0.05], pressure=[300, 100])
        >>> vs.Fan.series("two", [fan, fan]).shut_off
        600.0
        """
        return cls._together(core.fan_series, name, fans)

    @classmethod
    def parallel(cls, name, fans):
        """Fans in parallel: all work at the same pressure, their flows add.

        Parameters
        ----------
        name : str
            Shown in results.
        fans : sequence of Fan
            1 to 1000 of them, each falling everywhere; the same one may stand there repeatedly.

        Returns
        -------
        Fan

        Raises
        ------
        ArgumentError
            If there are none, one does not fall everywhere, or their data share no range of
            pressure.

        Examples
        --------
        >>> fan = vs.Fan("invented", flow=[0, 0.05], pressure=[300, 100])
        >>> round(vs.Fan.parallel("two", [fan, fan]).pressure(0.1), 6)
        100.0
        """
        return cls._together(core.fan_parallel, name, fans)

    @property
    def name(self):
        """str : Shown in results."""
        return core.fan_name(self._c)

    @property
    def density(self):
        """float : Of the air the curve is given for [kg/m3]."""
        return self._density

    @property
    def shut_off(self):
        """float : Pressure at zero flow, at the curve's own density and speed [Pa]."""
        return core.fan_shut_off(self._c)

    @property
    def free_delivery(self):
        """float : Flow at zero pressure, at the curve's own speed; infinite if never [m3/s]."""
        return core.fan_free_delivery(self._c)

    @property
    def is_falling(self):
        """bool : Whether the pressure falls with flow everywhere."""
        return core.fan_is_falling(self._c)

    @property
    def range(self):
        """tuple of float : Least and greatest flow of the data, at the curve's own speed [m3/s]."""
        _, least, greatest = core.fan_range(self._c)
        return least, greatest

    @property
    def points(self):
        """tuple of numpy.ndarray : Flow [m3/s], pressure [Pa] and power [W] of the points."""
        count = core.fan_data(self._c, *(np.empty(0) for _ in range(3)))
        arrays = tuple(np.empty(count) for _ in range(3))
        core.fan_data(self._c, *arrays)
        return arrays

    def pressure(self, flow, *, density=None, speed=1.0):
        """Pressure rise at a flow, by the fan laws.

        Parameters
        ----------
        flow : float or array_like
            At the density in the fan [m3/s].
        density : float or array_like, optional
            Of the gas in the fan [kg/m3]; the curve's own unless given.
        speed : float or array_like, optional
            Ratio to the speed of the curve [-].

        Returns
        -------
        float or numpy.ndarray
            [Pa]; negative past free delivery, NaN outside the domain.

        Examples
        --------
        >>> fan = vs.Fan("invented", flow=[0, 0.05], pressure=[300, 100])
        >>> fan.pressure([0.0, 0.025, 0.05])
        array([300., 200., 100.])
        """
        density = self._density if density is None else density
        return _core.fan_pressure(self._c, flow, density, speed)

    def slope(self, flow, *, density=None, speed=1.0):
        """Derivative of the pressure by flow.

        Parameters
        ----------
        flow, density, speed : float or array_like
            As in `pressure`.

        Returns
        -------
        float or numpy.ndarray
            [Pa s/m3]; below 0 where the fan is stable, NaN outside the domain.

        Examples
        --------
        >>> round(vs.Fan("invented", flow=[0, 0.05], pressure=[300, 100]).slope(0.01))
        -4000
        """
        density = self._density if density is None else density
        return _core.fan_slope(self._c, flow, density, speed)

    def power(self, flow, *, density=None, speed=1.0):
        """Power at a flow, by the fan laws.

        Parameters
        ----------
        flow, density, speed : float or array_like
            As in `pressure`.

        Returns
        -------
        float or numpy.ndarray
            [W]; NaN outside the domain and without power data.

        Examples
        --------
        >>> fan = vs.Fan("invented", flow=[0, 0.05], pressure=[300, 100], power=[20, 40])
        >>> round(fan.power(0.025))
        30
        """
        if not self._has_power:
            speed = math.nan  # asks for nothing, so that no warning tells of a wrong flow
        density = self._density if density is None else density
        return _core.fan_power(self._c, flow, density, speed)

    def __eq__(self, other):
        return type(other) is type(self) and other._recipe == self._recipe

    def __hash__(self):
        return hash(self._recipe)

    def __reduce__(self):
        return self._recipe

    def __repr__(self):
        return f"<fan {self.name!r}: shut-off {self.shut_off:.4g} Pa, free delivery {self.free_delivery:.4g} m3/s>"


def _measured(name, flow, pressure, power, density):
    """The fan a pickle holds."""
    return Fan(name, flow=flow, pressure=pressure, power=power or None,
               density=density)
