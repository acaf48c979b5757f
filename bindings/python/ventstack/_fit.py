# SPDX-License-Identifier: GPL-3.0-or-later
"""A network fitted to readings in one state or several."""

import collections.abc
import math

import numpy as np

from . import core
from ._checks import instance, row
from ._errors import ArgumentError, NotFoundError
from ._estimate import _estimate, _residual
from ._network import Network
from ._reading import Reading
from ._uncertainty import Input, Uncertainty, named
from ._value import Bound


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
