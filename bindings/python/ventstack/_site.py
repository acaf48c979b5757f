# SPDX-License-Identifier: GPL-3.0-or-later
"""Tests on site: of the soil, of how far its vacuum reaches, of a fan and of what stands on top."""

import dataclasses
import math

import numpy as np

from . import _core, core
from ._checks import instance, row
from ._errors import ArgumentError
from ._estimate import EstimateFlag
from ._fan import Fan
from ._fit import _split
from ._network import Network
from ._reading import Reading, _reading
from ._soil import Soil
from ._uncertainty import named
from ._value import Value, quantity


@dataclasses.dataclass(frozen=True)
class SoilEstimate:
    """A soil law from a test, with its honesty.

    Attributes
    ----------
    soil : Soil
        The law.
    first, second : Reading
        Its numbers with their uncertainties: C and n, or a and b.
    correlation : float
        Of both [-].
    chi_square, degrees : float
        Sum of squares of the residuals and its degrees of freedom [-].
    probability : float
        That chance alone gives a greater chi-square [-]; NaN without freedom.
    flags : EstimateFlag
        Of either number.

    Examples
    --------
    >>> found = vs.soil_test(vs.readings([50, 100, 200], 1.0),
    ...                      vs.readings([12, 18.5, 28] * cfm, 0.3 * cfm))
    >>> found.soil
    <soil: Q = 0.000530277 dP^0.607129>
    """

    soil: Soil
    first: Reading
    second: Reading
    correlation: float
    chi_square: float
    degrees: float
    probability: float
    flags: EstimateFlag


def soil_test(vacuum, flow, baseline=0.0, two_term=False):
    """The soil law of a suction point from a communication test in several steps.

    Parameters
    ----------
    vacuum : sequence of Reading
        Below the room, positive, of each step [Pa].
    flow : sequence of Reading
        Out of the soil, positive, of each step [m3/s].
    baseline : float or Reading, optional
        Vacuum with the fan off [Pa]; taken off every step.
    two_term : bool, optional
        Whether the law is dP = a Q + b Q^2 instead of Q = C dP^n.

    Returns
    -------
    SoilEstimate

    Raises
    ------
    ArgumentError
        If there is one step only, the steps do not differ by more than their uncertainties (one point
        gives no exponent), a sign is wrong, or an uncertainty is not above 0.

    Notes
    -----
    Deming (1943), Statistical Adjustment of Data: errors in both variables; from memory.

    Examples
    --------
    >>> found = vs.soil_test(vs.readings([55, 105, 205], 1.0),
    ...                      vs.readings([12, 18.5, 28] * cfm, 0.4 * cfm),
    ...                      baseline=vs.Reading(5.0, 0.5))
    >>> print(f"n = {found.second:.2f}")
    n = 0.61 +- 0.02
    """
    law = core.VENT_SOIL_TWO_TERM if two_term else core.VENT_SOIL_POWER
    p, q = _split(vacuum, "vacuum"), _split(flow, "flow")
    if len(p[0]) != len(q[0]):
        raise ArgumentError(f"vacuum has {len(p[0])} steps, flow {len(q[0])}", argument="flow")
    e = core.soil_tested(law, *p, *q, _reading(baseline, "baseline"))
    return SoilEstimate(Soil._of(core.soil_two_term(e.soil.a, e.soil.b) if two_term
                                 else core.soil_power(e.soil.a, e.soil.b)),
                        Reading(e.soil.a, e.a_uncertainty), Reading(e.soil.b, e.b_uncertainty),
                        e.correlation, e.chi_square, e.degrees, e.probability,
                        EstimateFlag(e.flags))


def top_coefficient(network, observable, open_, with_, adjusted):
    """Coefficient of whatever stands on top, from two flows on the same stack.

    Parameters
    ----------
    network : Network
        Its own termination plays no part.
    observable : Observable or str
        The flow that was read.
    open_ : Reading
        With a plain open end.
    with_ : Reading
        With the thing on top.
    adjusted : Parameter or str
        The parameter that makes the network meet the first reading, such as the soil's ``"pit.c"`` or
        the fan's ``"riser.pressure_factor"``.

    Returns
    -------
    Reading
        K on the velocity pressure of the last pipe [-]; a plain end has 1.

    Raises
    ------
    ArgumentError
        If more flows with the thing than without, an uncertainty is not above 0, or the flows do not
        determine K.

    Examples
    --------
    >>> open_, with_ = vs.Reading(40.0, 0.2) * cfm, vs.Reading(39.0, 0.2) * cfm
    >>> vs.top_coefficient(net, "riser.flow", open_, with_, "pit.c").value > 1
    True
    """
    instance(network, Network, "network", "a Network")
    return Reading._of(core.top_coefficient_named(
        network._c, named(observable, "observable"), _reading(open_, "open_"),
        _reading(with_, "with_"), named(adjusted, "adjusted")))


class Field(Value):
    """Vacuum against distance from a suction point; made by `field_test`.

    Examples
    --------
    >>> field = vs.field_test([0.5, 1, 2, 4], vs.readings([120, 75, 36, 10], 1.0), radius=0.15)
    >>> print(f"{field.reach(1.0):.1f} m")
    8.5 +- 0.2 m
    """

    __slots__ = ()
    _struct = core.field

    def __new__(cls, *args, **kwargs):
        raise TypeError("make a Field with field_test()")

    radius = quantity("radius", "m", "Of the pit or hole")
    correlation = quantity("correlation", "-", "Of vacuum and length")
    chi_square = quantity("chi_square", "-", "Sum of squares of the residuals")
    degrees = quantity("degrees", "-", "Of freedom")
    probability = quantity("probability", "-", "That chance alone gives a greater chi-square")

    @property
    def is_radial(self):
        """bool : Whether it is the radial form, K0."""
        return self._c.form == core.VENT_FIELD_RADIAL

    @property
    def at_radius(self):
        """Reading : Vacuum at the radius [Pa]."""
        return Reading(self._c.vacuum, self._c.vacuum_uncertainty)

    @property
    def length(self):
        """Reading : Over which the vacuum falls by a factor of e, far out [m]."""
        return Reading(self._c.length, self._c.length_uncertainty)

    @property
    def flags(self):
        """EstimateFlag : Of either number."""
        return EstimateFlag(self._c.flags)

    def vacuum(self, distance):
        """Vacuum at a distance.

        Parameters
        ----------
        distance : float or array_like
            From the axis [m].

        Returns
        -------
        float or numpy.ndarray
            [Pa]; NaN within the radius.

        Examples
        --------
        >>> field = vs.field_test([1, 3], vs.readings([100, 10], 1.0), radius=1.0, radial=False)
        >>> round(field.vacuum(5.0), 6)
        1.0
        """
        return _core.field_vacuum(self._c, distance)

    def uncertainty(self, distance):
        """Standard uncertainty of the vacuum at a distance.

        Parameters
        ----------
        distance : float or array_like
            From the axis [m].

        Returns
        -------
        float or numpy.ndarray
            [Pa]

        Examples
        --------
        >>> field = vs.field_test([1, 3], vs.readings([100, 10], 1.0), radius=1.0, radial=False)
        >>> round(field.uncertainty(3.0), 6)
        1.0
        """
        return _core.field_uncertainty(self._c, distance)

    def reach(self, vacuum):
        """How far a vacuum reaches.

        Parameters
        ----------
        vacuum : float
            Wanted [Pa]; above 0, at most that at the radius.

        Returns
        -------
        Reading
            [m] from the axis.

        Raises
        ------
        ArgumentError
            If vacuum is outside its bounds.

        Examples
        --------
        >>> field = vs.field_test([1, 3], vs.readings([100, 10], 1.0), radius=1.0, radial=False)
        >>> round(field.reach(1.0).value, 6)
        5.0
        """
        found = core.field_reach(self._c, vacuum)
        if math.isnan(found.value):
            raise ArgumentError(f"vacuum is {vacuum:g} Pa, must be above 0 and at most the "
                                f"{self._c.vacuum:g} Pa at the radius", argument="vacuum")
        return Reading._of(found)

    def __repr__(self):
        return (f"<field: {self._c.vacuum:.3g} Pa at {self._c.radius:g} m, length "
                f"{self._c.length:.3g} m>")


def field_test(distance, vacuum, radius, radial=True):
    """Vacuum against distance, from test holes.

    Parameters
    ----------
    distance : array_like
        Of each hole from the axis [m].
    vacuum : sequence of Reading
        Below the room, positive, the baseline subtracted, of each hole [Pa].
    radius : float
        Of the pit or hole, or of the first test hole [m]; 1e-3 to 10.
    radial : bool, optional
        Whether it falls as K0(r / length), a leaky plenum about a round hole; else by a constant
        fraction per distance.

    Returns
    -------
    Field

    Raises
    ------
    ArgumentError
        If there is one hole only or all are at one distance, vacuums do not fall or have the wrong
        sign, or an uncertainty is not above 0.

    Notes
    -----
    De Glee (1930), Over grondwaterstroomingen bij wateronttrekking door middel van putten, from memory.

    Examples
    --------
    >>> vs.field_test([1, 3], vs.readings([100, 10], 1.0), radius=1.0, radial=False)
    <field: 100 Pa at 1 m, length 0.869 m>
    """
    form = core.VENT_FIELD_RADIAL if radial else core.VENT_FIELD_EXPONENTIAL
    distance, (value, size) = row(distance, "distance"), _split(vacuum, "vacuum")
    if len(distance) != len(value):
        raise ArgumentError(f"distance has {len(distance)} holes, vacuum {len(value)}",
                            argument="vacuum")
    return Field._of(core.field_tested(form, radius, distance, value, size))


def fan_fit(name, flow, pressure, falling=True, density=core.VENT_STANDARD_DENSITY):
    """A fan from scattered readings of its curve, smooth and falling.

    Parameters
    ----------
    name : str
        Shown in results.
    flow : array_like
        Of each reading, in any order [m3/s].
    pressure : sequence of Reading
        Rise of pressure of each reading [Pa].
    falling : bool, optional
        Whether the curve may only fall; False for one with a stall.
    density : float, optional
        Of the air in the fan [kg/m3].

    Returns
    -------
    Fan

    Raises
    ------
    ArgumentError
        If there are fewer than three distinct flows, an uncertainty is not above 0, or the pressure
        does not fall.

    Notes
    -----
    Eilers and Marx (1996), Statistical Science 11, 89, from memory.

    Examples
    --------
    >>> flow = [0, 0.01, 0.02, 0.03, 0.04]
    >>> read = vs.fan_fit("read", flow, vs.readings([401, 377, 322, 219, 81], 4.0))
    >>> read.is_falling
    True
    """
    flow, (value, size) = row(flow, "flow"), _split(pressure, "pressure")
    if len(flow) != len(value):
        raise ArgumentError(f"flow has {len(flow)} readings, pressure {len(value)}",
                            argument="pressure")
    c = core.fan_fitted(name, flow, value, size, bool(falling), density)
    points = [np.empty(core.fan_data(c, *(np.empty(0),) * 3)) for _ in range(3)]
    core.fan_data(c, *points)
    return Fan(name, flow=points[0], pressure=points[1], density=density)
