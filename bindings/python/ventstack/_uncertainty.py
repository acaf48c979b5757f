# SPDX-License-Identifier: GPL-3.0-or-later
"""How sure an answer is, which input makes it unsure, and what to measure next."""

import collections.abc
import dataclasses
import enum

import numpy as np

from . import core
from ._address import Observable, Parameter
from ._checks import described, filled, instance, numbers, row
from ._errors import ArgumentError
from ._network import Network
from ._reading import Reading
from ._source import source as _source
from ._table import as_html, as_text
from ._value import Bound


def named(address, argument):
    """The name of an address, given as one or by its name."""
    if isinstance(address, str):
        return address
    if isinstance(address, (Observable, Parameter)):
        return address.name
    raise TypeError(f"{argument} must be an address or its name, {described(address)}")


class Shape(enum.IntEnum):
    """Shapes of an input's distribution; only samples look at them.

    Attributes
    ----------
    NORMAL
        Normal about the present value.
    LOG_NORMAL
        Never below 0, its logarithm normal: for what is known within a factor.
    RECTANGULAR
        Anywhere within root 3 standard uncertainties alike.

    Examples
    --------
    >>> vs.Input("pit.c", 4e-5, vs.Shape.LOG_NORMAL).shape.name
    'LOG_NORMAL'
    """

    NORMAL = core.VENT_SHAPE_NORMAL
    LOG_NORMAL = core.VENT_SHAPE_LOG_NORMAL
    RECTANGULAR = core.VENT_SHAPE_RECTANGULAR


@dataclasses.dataclass(frozen=True)
class Input:
    """What is known of one parameter: a standard uncertainty about its value in the network.

    Attributes
    ----------
    name : str
        Of the parameter, such as ``"riser.bore"``; may be given as a `Parameter`.
    uncertainty : float
        Standard uncertainty, in the parameter's unit; above 0.
    shape : Shape
        Of its distribution; normal unless given.
    source : Source or None
        What the uncertainty rests on.

    Examples
    --------
    >>> vs.Input("riser.length", 0.1).uncertainty
    0.1
    """

    name: str
    uncertainty: float
    shape: Shape = Shape.NORMAL
    source: object = None

    def __post_init__(self):
        object.__setattr__(self, "name", named(self.name, "name"))


def network_inputs(network):
    """The uncertainties that a network's own parts carry.

    Of every fitting, termination and junction the factor on its coefficient, of every pipe of the
    catalogue bore and roughness. Not the soil, the fan, temperatures, lengths, workmanship: what
    the network cannot know.

    Parameters
    ----------
    network : Network

    Returns
    -------
    list of Input

    Examples
    --------
    >>> placed = riser.add(fan)
    >>> [known.name for known in vs.network_inputs(net)][:2]
    ['riser.bore', 'riser.roughness']
    """
    instance(network, Network, "network", "a Network")
    return [Input(name, uncertainty, Shape(shape), _source(number))
            for name, uncertainty, shape, number in core.network_inputs(network._c)]


@dataclasses.dataclass(frozen=True)
class BudgetLine:
    """One line of an uncertainty budget.

    Attributes
    ----------
    name : str
        Of the input.
    uncertainty : float
        Its standard uncertainty, in its unit.
    sensitivity : float
        Change of the answer for each unit of it.
    variance : float
        What it contributes; negative where a correlation takes back what others give.
    share : float
        Of the answer's variance [-].

    Examples
    --------
    >>> budget = vs.Uncertainty(net).budget("riser.flow")
    >>> budget[0].share > budget[-1].share
    True
    """

    name: str
    uncertainty: float
    sensitivity: float
    variance: float
    share: float


class Budget(tuple):
    """An uncertainty budget: lines in order of their size, a table to read.

    Examples
    --------
    >>> budget = vs.Uncertainty(net).budget("riser.flow")
    >>> round(sum(line.share for line in budget), 12)
    1.0
    """

    __slots__ = ()

    def _columns(self):
        return [("input", None, [line.name for line in self]),
                ("uncertainty", None, [f"{line.uncertainty:.3g}" for line in self]),
                ("sensitivity", None, [f"{line.sensitivity:.3g}" for line in self]),
                ("share [%]", 1, [100 * line.share for line in self])]

    def __str__(self):
        return as_text(self._columns())

    def _repr_html_(self):
        return as_html(self._columns())

    def to_frame(self):
        """The budget as a pandas DataFrame.

        Returns
        -------
        pandas.DataFrame
            One row an input.

        Examples
        --------
        >>> frame = vs.Uncertainty(net).budget("riser.flow").to_frame()
        >>> list(frame.columns)
        ['name', 'uncertainty', 'sensitivity', 'variance', 'share']
        """
        import pandas

        return pandas.DataFrame([dataclasses.asdict(line) for line in self],
                                columns=[field.name for field in dataclasses.fields(BudgetLine)])


@dataclasses.dataclass(frozen=True)
class Simulated:
    """What came out of many samples.

    Attributes
    ----------
    mean, uncertainty : float
        Mean and standard deviation of the samples.
    low, median, high : float
        2.5 %, half and 97.5 % of the samples lie below.
    failed : int
        Samples without an answer, left out of all others.
    samples : numpy.ndarray or None
        All of them, where asked for; NaN where one failed.

    Examples
    --------
    >>> out = vs.Uncertainty(net).simulate("riser.flow", samples=1000, seed=1)
    >>> out.low < out.median < out.high
    True
    """

    mean: float
    uncertainty: float
    low: float
    median: float
    high: float
    failed: int
    samples: object = None


class Uncertainty(Bound):
    """What is known of a network's inputs, and what follows for its answers.

    To first order: exact gradients at the network's present values. A copy of the network is kept.

    Parameters
    ----------
    network : Network
    inputs : sequence of Input, optional
        What is known; what the network's own parts carry, by `network_inputs`, unless given.
    correlation : array_like, optional
        Of every pair of inputs [-], a square matrix; none unless given.

    Raises
    ------
    ArgumentError
        If there is no input, an uncertainty is not above 0 or the correlations contradict one another.
    DuplicateError
        If a parameter is given twice.
    NotFoundError
        If the network has no such parameter.

    Notes
    -----
    JCGM 100:2008 (GUM), equations 10 and 13, from memory.

    Examples
    --------
    >>> known = vs.network_inputs(net) + [vs.Input("pit.c", 1e-4)]
    >>> doubt = vs.Uncertainty(net, known)
    >>> doubt.of("riser.flow").uncertainty > 0
    True
    """

    __slots__ = ("_c", "_network")
    _instead = "pickle its network and inputs"
    _frozen = False

    def __init__(self, network, inputs=None, correlation=None):
        self._network = instance(network, Network, "network", "a Network").copy()
        known = filled(network_inputs(network) if inputs is None else list(inputs), "inputs",
                       "an Input: a network whose parts carry none needs yours")
        for i, one in enumerate(known):
            instance(one, Input, f"inputs[{i}]", "an Input")
        size = len(known)
        matrix = np.empty(0) if correlation is None else numbers(correlation, "correlation")
        if correlation is not None and matrix.shape != (size, size):
            raise ArgumentError(f"correlation has the shape {matrix.shape}, must have {(size, size)}",
                                argument="correlation")
        self._c = core.uncertainty_make(
            self._network._c, [one.name for one in known],
            row([one.uncertainty for one in known], "uncertainty"),
            row([float(one.shape) for one in known], "shape"), np.ascontiguousarray(matrix))

    @classmethod
    def _of(cls, network, c):
        self = object.__new__(cls)
        self._network, self._c = network, c
        return self

    def of(self, observable):
        """An answer with its standard uncertainty.

        Parameters
        ----------
        observable : Observable or str
            Such as ``"riser.flow"``, ``"pit.pressure"``, ``"exit_velocity"``.

        Returns
        -------
        Reading
            In the observable's SI unit.

        Raises
        ------
        NotFoundError
            If the network has no such observable.

        Examples
        --------
        >>> vs.Uncertainty(net, [vs.Input("pit.c", 1e-4)]).of("riser.flow").is_measurable
        True
        """
        return Reading._of(core.uncertainty_of_named(self._c, self._network._c,
                                                    named(observable, "observable")))

    def budget(self, observable):
        """Which input contributes how much to the variance of an answer.

        Parameters
        ----------
        observable : Observable or str

        Returns
        -------
        Budget
            The greatest contribution first; contributions sum to the variance.

        Examples
        --------
        >>> budget = vs.Uncertainty(net, [vs.Input("riser.speed", 0.01)]).budget("riser.flow")
        >>> budget[0].name, budget[0].share
        ('riser[1].speed', 1.0)
        """
        return Budget(BudgetLine(*line) for line in
                      core.uncertainty_budget_named(self._c, self._network._c,
                                                        named(observable, "observable")))

    def next(self, answer, candidates):
        """What each of some readings would leave of an answer's uncertainty, whatever it shows.

        Parameters
        ----------
        answer : Observable or str
            The observable one wants to know.
        candidates : dict of Observable, Parameter or str to float
            Observables or parameters that might be read, with the standard uncertainty of the
            reading [SI unit of each].

        Returns
        -------
        dict of str to float
            Standard uncertainty of the answer after that reading alone, the best one first.

        Raises
        ------
        ArgumentError
            If an uncertainty is not above 0.
        NotFoundError
            If the network has no such observable or parameter.

        Notes
        -----
        Kalman (1960), Journal of Basic Engineering 82, 35, from memory.

        Examples
        --------
        >>> doubt = vs.Uncertainty(net, vs.network_inputs(net) + [vs.Input("pit.c", 1e-4)])
        >>> plan = doubt.next("riser.flow", {"pit.pressure": 1.0, "riser.bore": 1e-4})
        >>> next(iter(plan))
        'pit.pressure'
        """
        candidates = instance(candidates, collections.abc.Mapping, "candidates",
                              "a dict of names to uncertainties")
        answer = named(answer, "answer")
        after = {name: core.uncertainty_after_named(self._c, self._network._c, answer, name, size)
                 for name, size in ((named(one, "candidates"), size)
                                    for one, size in candidates.items())}
        return dict(sorted(after.items(), key=lambda entry: entry[1]))

    def learn(self, candidate, uncertainty):
        """Counts a reading as taken, for plans of several; its value is not known yet.

        Parameters
        ----------
        candidate : Observable, Parameter or str
        uncertainty : float
            Standard uncertainty of the reading [its SI unit]; above 0.

        Returns
        -------
        Uncertainty
            Itself.

        Examples
        --------
        >>> doubt = vs.Uncertainty(net, [vs.Input("pit.c", 1e-4)])
        >>> before = doubt.of("riser.flow").uncertainty
        >>> doubt.learn("pit.pressure", 1.0).of("riser.flow").uncertainty < before
        True
        """
        core.uncertainty_learn_named(self._c, self._network._c, named(candidate, "candidate"),
                                     uncertainty)
        return self

    def simulate(self, observables, samples=10000, seed=0, quasi=False, keep=False):
        """Answers for many random inputs.

        Parameters
        ----------
        observables : Observable or str, or a sequence of them
        samples : int, optional
            2 to 100 000 000.
        seed : int, optional
            The same seed gives the same samples; 0 to 2**53.
        quasi : bool, optional
            Whether Sobol's points are taken for the 40 inputs that matter most.
        keep : bool, optional
            Whether all samples are given back.

        Returns
        -------
        Simulated or dict of str to Simulated
            One for one observable, else by name.

        Raises
        ------
        ArgumentError
            If samples is outside its bounds.

        Notes
        -----
        SplitMix64 by Steele, Lea and Flood (2014) and Sobol' (1967), from memory.

        Examples
        --------
        >>> doubt = vs.Uncertainty(net, [vs.Input("riser.speed", 0.01)])
        >>> out = doubt.simulate("riser.flow", samples=2000, quasi=True)
        >>> abs(out.uncertainty / doubt.of("riser.flow").uncertainty - 1) < 0.01
        True
        """
        single = isinstance(observables, (str, Observable))
        names = [named(one, "observables") for one in ([observables] if single else observables)]
        out = np.empty((len(names), 6))
        kept = np.empty((int(samples), len(names))) if keep else np.empty(0)
        core.uncertainty_sampled(self._c, self._network._c, names, float(samples), float(seed),
                                 bool(quasi), out, kept)
        results = {name: Simulated(*map(float, line[:5]), int(line[5]),
                                   kept[:, i].copy() if keep else None)
                   for i, (name, line) in enumerate(zip(names, out))}
        return results[names[0]] if single else results

    def __repr__(self):
        return f"<uncertainty of {self._network!r}>"
