# SPDX-License-Identifier: GPL-3.0-or-later
"""From readings to the numbers behind them, with what the readings do not say."""

import collections.abc
import dataclasses
import enum
import math

import numpy as np

from . import _core, core
from ._checks import instance, row
from ._errors import ArgumentError, NotFoundError
from ._fan import Fan
from ._measure import Reading, _reading
from ._network import Network
from ._soil import Soil
from ._uncertainty import Input, Uncertainty, named
from ._value import Bound, Value, quantity


class EstimateFlag(enum.IntFlag):
    """What to know of an estimate.

    Attributes
    ----------
    AT_BOUND
        The readings push it beyond a bound.
    UNDETERMINED
        The readings do not determine it; its value is NaN.
    WEAK
        Its uncertainty is as great as its value.
    PRIOR
        The readings add next to nothing to its prior.

    Examples
    --------
    >>> fit = vs.Fit(net)
    >>> fit.unknown("pit.c"), fit.unknown("pit.n", prior=vs.Reading(0.6, 0.05))
    (0, 1)
    >>> number = fit.reading("riser.flow", vs.Reading(35, 1) * cfm)
    >>> fit.solve().estimates["pit.n"].flags.name
    'PRIOR'
    """

    AT_BOUND = core.VENT_ESTIMATE_AT_BOUND
    UNDETERMINED = core.VENT_ESTIMATE_UNDETERMINED
    WEAK = core.VENT_ESTIMATE_WEAK
    PRIOR = core.VENT_ESTIMATE_PRIOR


class ResidualFlag(enum.IntFlag):
    """What to know of how a reading fits.

    Attributes
    ----------
    OUTLIER
        More than 3 standard uncertainties off.
    SIGN
        Would fit with the other sign: look at the convention.

    Examples
    --------
    >>> fit = vs.Fit(net)
    >>> number = fit.unknown("pit.c")
    >>> number = fit.reading("riser.flow", vs.Reading(net.solve().flow(riser), 1e-3))
    >>> number = fit.reading("pit.pressure", vs.Reading(-net.solve().pressure(pit), 2.0))
    >>> vs.ResidualFlag.SIGN in fit.solve().residuals[1].flags
    True
    """

    OUTLIER = core.VENT_RESIDUAL_OUTLIER
    SIGN = core.VENT_RESIDUAL_SIGN


@dataclasses.dataclass(frozen=True)
class Estimate:
    """What the readings say of one unknown.

    Attributes
    ----------
    value, uncertainty : float
        Estimate and standard uncertainty, in the parameter's unit; NaN where not determined.
    low, high : float
        Ends of the 95 % interval, within the bounds. At a bound (`EstimateFlag.AT_BOUND`) one-sided: it is at
        least `low` where the upper bound holds it, at most `high` where the lower one does.
    prior_share : float
        Of what is known of it, how much was known before [-]; 0 to 1.
    flags : EstimateFlag
        False where nothing is to be said.

    Examples
    --------
    >>> fit = vs.Fit(net)
    >>> number = fit.unknown("pit.c")
    >>> number = fit.reading("riser.flow", vs.Reading(35, 1) * cfm)
    >>> c = fit.solve().estimates["pit.c"]
    >>> c.low < c.value < c.high
    True
    """

    value: float
    uncertainty: float
    low: float
    high: float
    prior_share: float
    flags: EstimateFlag

    def __float__(self):
        return self.value


@dataclasses.dataclass(frozen=True)
class Residual:
    """How one reading fits.

    Attributes
    ----------
    name : str
        Of the observable.
    state : int
        In which state it was taken.
    reading, uncertainty : float
        What was read.
    computed : float
        What the fitted network gives.
    residual : float
        Computed less read, in standard uncertainties [-].
    flags : ResidualFlag
        False where nothing is to be said.

    Examples
    --------
    >>> fit = vs.Fit(net)
    >>> number = fit.unknown("pit.c")
    >>> number = fit.reading("riser.flow", vs.Reading(35, 1) * cfm)
    >>> abs(fit.solve().residuals[0].residual) < 1e-6
    True
    """

    name: str
    state: int
    reading: float
    uncertainty: float
    computed: float
    residual: float
    flags: ResidualFlag


class Fitted(Bound):
    """The answer of a fit.

    Attributes
    ----------
    estimates : dict of str to Estimate
        By the names given.
    residuals : list of Residual
        In the order of the readings.
    covariance, correlation : numpy.ndarray
        Of the estimates, square; NaN where one is not determined.
    chi_square, degrees : float
        Sum of squares of the residuals, those of priors included, and its degrees of freedom [-].
    probability : float
        That chance alone gives a greater chi-square [-]; NaN without freedom. Below 0.01 the network,
        or the uncertainties, are not right.
    verdict : str
        In words: what is not determined, off, or of the wrong sign; empty where nothing is to be said.

    Examples
    --------
    >>> fit = vs.Fit(net)
    >>> fit.unknown("pit.c"), fit.unknown("pit.n")
    (0, 1)
    >>> for take in (35, 34.5):  # one point of the law, read twice
    ...     number = fit.reading("riser.flow", vs.Reading(take, 1) * cfm)
    >>> print(fit.solve().verdict)
    pit.c: these readings do not determine it
    pit.n: these readings do not determine it
    """

    __slots__ = ("estimates", "residuals", "covariance", "correlation", "chi_square", "degrees",
                 "probability", "verdict", "_c", "_states")
    _instead = "pickle its estimates, or the networks that network() gives"

    def __init__(self, c, states, unknowns, readings):
        self._c, self._states = c, states
        count = range(len(unknowns))
        self.estimates = {name: _estimate(c, i) for i, name in enumerate(unknowns)}
        self.residuals = [_residual(c, i, name) for i, name in enumerate(readings)]
        self.covariance = np.array([[core.fitted_covariance(c, i, j) for j in count] for i in count])
        self.correlation = np.array([[core.fitted_correlation(c, i, j) for j in count]
                                     for i in count])
        goodness = core.fitted_goodness(c)
        self.chi_square, self.degrees = goodness.chi_square, goodness.degrees
        self.probability = goodness.probability
        self.verdict = core.fitted_text(c)

    @property
    def directions(self):
        """list of (float, dict of str to float) : Combinations of unknowns, the best known first.

        The standard uncertainty along each, infinite where not determined, and the weight of each
        unknown; unknowns are measured by their priors' uncertainties, else by their own sizes.
        """
        weights = np.empty(len(self.estimates))
        out = []
        for i in range(len(self.estimates)):
            size = core.fitted_direction_row(self._c, i, weights)
            out.append((size, dict(zip(self.estimates, weights.tolist()))))
        return out

    def network(self, state=0):
        """The network of one state with the estimates put in.

        Parameters
        ----------
        state : int, optional
            Its number.

        Returns
        -------
        Network

        Raises
        ------
        ArgumentError
            If an unknown is not determined.
        NotFoundError
            If there is no such state.

        Examples
        --------
        >>> fit = vs.Fit(net)
        >>> number = fit.unknown("riser.speed")
        >>> number = fit.reading("riser.flow", vs.Reading(30, 1) * cfm)
        >>> found = fit.solve().network()
        >>> round(found.solve().flow(found.find_run("riser")) / cfm, 3)
        30.0
        """
        c = core.fitted_network(self._c, state)
        network = self._states[state].copy()
        network._c = c
        for name in self.estimates:
            try:
                network._refresh(core.network_find_parameter(c, name))
            except NotFoundError:
                continue  # not a part of this state
        return network

    def uncertainty(self, state=0):
        """What is known after the fit, for answers, budgets and what to measure next.

        Parameters
        ----------
        state : int, optional
            For whose network.

        Returns
        -------
        Uncertainty

        Raises
        ------
        ArgumentError
            If an unknown is not determined.

        Examples
        --------
        >>> fit = vs.Fit(net)
        >>> number = fit.unknown("pit.c")
        >>> number = fit.reading("riser.flow", vs.Reading(35, 1) * cfm)
        >>> print(f"{fit.solve().uncertainty().of('riser.flow') / cfm:.1f}")
        35.0 +- 1.0
        """
        network = self.network(state)
        return Uncertainty._of(network, core.fitted_uncertainty(self._c, state))

    def __repr__(self):
        return f"<fit of {len(self.estimates)} unknowns to {len(self.residuals)} readings>"


def _estimate(c, i):
    *members, flags = core.fitted_estimate_numbers(c, i)
    return Estimate(*members, EstimateFlag(flags))


def _residual(c, i, name):
    *members, flags = core.fitted_residual_numbers(c, i)
    return Residual(name, *members, ResidualFlag(flags))


class Fit(Bound):
    """Unknowns, readings and states of one stack.

    Signs are those of the network: a vacuum is a negative pressure, a flow towards the discharge is
    positive.

    Parameters
    ----------
    network : Network
        As it is now it is state 0, and its values are where the search begins; copies are kept.

    Raises
    ------
    TopologyError
        If the network is not complete.

    Examples
    --------
    Flow and vacuum at two speeds of the fan give both numbers of the soil's law.

    >>> placed = riser.add(fan)
    >>> fit = vs.Fit(net)
    >>> fit.unknown("pit.c"), fit.unknown("pit.n")
    (0, 1)
    >>> half = fit.state({"riser.speed": 0.5})
    >>> for state, flow, vacuum in (0, 40, 52), (half, 19, 15):  # invented
    ...     number = fit.reading("riser.flow", vs.Reading(flow, 1) * cfm, state=state)
    ...     number = fit.reading("pit.pressure", vs.Reading(-vacuum, 2.0), state=state)
    >>> fit.solve().residuals[0].name
    'riser.flow'
    """

    __slots__ = ("_c", "_states", "_unknowns", "_readings")
    _instead = "pickle its networks and readings"
    _frozen = False

    def __init__(self, network):
        network = instance(network, Network, "network", "a Network").copy()
        self._c = core.fit_new(network._c)
        self._states, self._unknowns, self._readings = [network], [], []

    def _state(self, number):
        if isinstance(number, int) and 0 <= number < len(self._states):
            return self._states[number]
        raise NotFoundError(f"there is no state {number!r}: this fit has 0 to "
                            f"{len(self._states) - 1}", argument="state")

    def state(self, hold=None, network=None):
        """Adds another state of the stack: a damper elsewhere, another termination, a fan slowed.

        Parameters
        ----------
        hold : dict of Parameter or str to float, optional
            Parameters with a value of their own in this state [SI unit of each]; not estimated from
            its readings.
        network : Network, optional
            Of this state, where more than numbers differ: the same nodes and runs, another
            termination or fan. As in state 0 unless given.

        Returns
        -------
        int
            The state's number, for `reading`.

        Raises
        ------
        ArgumentError
            If a value is outside its bounds, or the network has other nodes or runs.
        NotFoundError
            If the network has no such parameter.

        Examples
        --------
        >>> fit = vs.Fit(net)
        >>> fit.state({"riser.speed": 0.5})
        1
        """
        hold = {} if hold is None else instance(hold, collections.abc.Mapping, "hold",
                                                "a dict of names to values")
        if network is not None:
            instance(network, Network, "network", "a Network")
        mine = (self._states[0] if network is None else network).copy()
        hold = {named(one, "hold"): value for one, value in hold.items()}
        for name in hold:
            core.network_find_parameter(mine._c, name)
        number = core.fit_state(self._c, mine._c)
        self._states.append(mine)
        for name, value in hold.items():
            self.hold(name, value, state=number)
        return number

    def hold(self, name, value, state=0):
        """Gives a parameter its value in one state, whatever it is elsewhere.

        Parameters
        ----------
        name : Parameter or str
        value : float
            [SI unit of the parameter].
        state : int, optional

        Returns
        -------
        Fit
            Itself.

        Raises
        ------
        ArgumentError
            If value is outside its bounds.
        NotFoundError
            If there is no such state or parameter.

        Examples
        --------
        >>> vs.Fit(net).hold("riser.speed", 0.8)
        <fit: 0 unknowns, 0 readings>
        """
        core.fit_hold_named(self._c, state, self._state(state)._c, named(name, "name"), value)
        return self

    def unknown(self, name, low=None, high=None, prior=None):
        """Makes a parameter an unknown.

        Parameters
        ----------
        name : Parameter or str
            Such as ``"pit.c"``, ``"riser.pressure_factor"``, ``"roof.factor"``.
        low, high : float, optional
            Bounds, within those the network sets it [SI unit of the parameter].
        prior : Reading, optional
            What is known of it beforehand.

        Returns
        -------
        int
            The unknown's number.

        Raises
        ------
        ArgumentError
            If the bounds leave nothing between, or the prior's uncertainty is not above 0.
        DuplicateError
            If it is an unknown already.
        NotFoundError
            If the network has no such parameter.

        Examples
        --------
        >>> vs.Fit(net).unknown("riser.pressure_factor", prior=vs.Reading(1.0, 0.1))
        0
        """
        network, name = self._states[0]._c, named(name, "name")
        if prior is not None:
            prior = instance(prior, Reading, "prior", "a Reading")
        least, greatest = core.network_bounds_named(network, name)
        low, high = least if low is None else low, greatest if high is None else high
        if not least <= low < high <= greatest:
            raise ArgumentError(f"bounds {low:g} to {high:g} of {name}: must lie within {least:g} to "
                                f"{greatest:g} and leave something between", argument="low")
        if prior is not None and not 0 < prior.uncertainty < math.inf:
            raise ArgumentError(f"prior of {name}: its uncertainty must be above 0",
                                argument="prior")
        number = core.fit_unknown_named(self._c, network, name)
        self._unknowns.append(name)
        core.fit_bounds(self._c, number, low, high)
        if prior is not None:
            core.fit_prior(self._c, number, prior._c)
        return number

    def priors(self, inputs):
        """Makes unknowns of inputs, each with its present value and its uncertainty as prior.

        Parameters
        ----------
        inputs : sequence of Input
            Such as `network_inputs` gives.

        Returns
        -------
        list of int
            Their numbers.

        Raises
        ------
        ArgumentError
            If an uncertainty is not above 0.

        Examples
        --------
        >>> elbow = riser.add(vs.elbow(90 * degree, 1.5))
        >>> fit = vs.Fit(net)
        >>> numbers = fit.priors(vs.network_inputs(net))
        >>> number = fit.reading("riser.flow", vs.Reading(35, 1) * cfm)
        >>> 0 < fit.solve().estimates["riser[2].factor"].prior_share <= 1
        True
        """
        made, network = [], self._states[0]._c
        for i, one in enumerate(inputs):
            one = instance(one, Input, f"inputs[{i}]", "an Input")
            value = core.network_get(network, core.network_find_parameter(network, one.name))
            made.append(self.unknown(one.name, prior=Reading(value, one.uncertainty)))
        return made

    def reading(self, observable, reading, state=0):
        """Adds a reading.

        Parameters
        ----------
        observable : Observable or str
            What was read: ``"riser.flow"``, ``"pit.pressure"``, ``"riser[1].static_pressure"``.
        reading : Reading
            In the observable's SI unit, its uncertainty above 0.
        state : int, optional
            In which state it was taken.

        Returns
        -------
        int
            The reading's number.

        Raises
        ------
        ArgumentError
            If its uncertainty is not above 0.
        NotFoundError
            If there is no such state, or no such place to read.

        Examples
        --------
        >>> vs.Fit(net).reading("pit.pressure", vs.Reading(-0.4, 0.01) * inwc)
        0
        """
        reading = instance(reading, Reading, "reading", "a Reading")
        observable = named(observable, "observable")
        number = core.fit_reading_named(self._c, state, self._state(state)._c, observable,
                                        reading._c)
        self._readings.append(observable)
        return number

    def solve(self):
        """The values that fit the readings best.

        Returns
        -------
        Fitted

        Raises
        ------
        ArgumentError
            If there are fewer readings and priors than unknowns.
        NoOperatingPointError
            If the network has no solution at its own values.
        NotConvergedError
            If the search ends without a best fit.

        Notes
        -----
        Marquardt (1963), Journal of the Society for Industrial and Applied Mathematics 11, 431, from
        memory. NIST's reference problems come out to their certified digits.

        Examples
        --------
        >>> fit = vs.Fit(net)
        >>> number = fit.unknown("pit.c")
        >>> number = fit.reading("riser.flow", vs.Reading(35, 1) * cfm)
        >>> fit.solve()
        <fit of 1 unknowns to 1 readings>
        """
        return Fitted(core.fit_solve(self._c), self._states, self._unknowns, self._readings)

    def __repr__(self):
        return f"<fit: {len(self._unknowns)} unknowns, {len(self._readings)} readings>"


# ---- special cases --------------------------------------------------------------------------------


def _split(readings, argument):
    """A sequence of readings as two rows: values and uncertainties."""
    readings = list(readings)
    for i, one in enumerate(readings):
        instance(one, Reading, f"{argument}[{i}]", "a Reading")
    return (row([one.value for one in readings], argument),
            row([one.uncertainty for one in readings], argument))


def readings(values, uncertainty):
    """Readings of one kind from their values.

    Parameters
    ----------
    values : array_like
        [SI unit]
    uncertainty : float or array_like
        Standard uncertainty of all, or of each [same unit].

    Returns
    -------
    list of Reading

    Raises
    ------
    ArgumentError
        If a value is not finite or an uncertainty is negative.

    Examples
    --------
    >>> vs.readings([50, 100], 1.0)
    [<50 +- 1>, <100 +- 1>]
    """
    values = row(values, "values")
    return [Reading(value, size) for value, size in
            zip(values.tolist(), np.broadcast_to(uncertainty, values.shape).tolist())]


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
