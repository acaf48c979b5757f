# SPDX-License-Identifier: GPL-3.0-or-later
"""Which fault explains the readings, how surely, and what to read next."""

import dataclasses
import enum
import math

import numpy as np

from . import core
from ._checks import instance, member, row
from ._errors import ArgumentError
from ._estimate import Residual, ResidualFlag
from ._fan import Fan
from ._fitting import fitting_constant
from ._handles import Node, Run
from ._network import Network
from ._opening import opening
from ._reading import Reading
from ._table import as_html
from ._uncertainty import Input, named, network_inputs
from ._value import Bound


class FaultKind(enum.IntEnum):
    """Kinds of fault; `size_range` tells what the size of each is.

    Attributes
    ----------
    NONE
        Nothing is wrong.
    SLAB_LEAK
        Room air enters at a suction point, through so much opening [m2]. Soil looser than designed gives
        the same readings.
    TERMINATION
        The end is blocked or iced: share of it that is free [-].
    WATER
        Water stands in a low point or in the pit: share of the pipe's area left [-].
    JOINT_LEAK
        Room air enters at a joint, a junction of the network [m2].
    FAN_WEAK
        The fan makes a share of its pressure [-].
    FAN_WRONG
        Another fan stands there: its number among those given.
    FAN_STOPPED
        The fan stands still: coefficient of its wheel [-].
    SOIL_TIGHT
        Soil tighter or wetter than designed: share of the flow at equal vacuum [-].
    PLACE
        A reading was taken at another place.
    SIGN
        A reading has the wrong sign; of all pressures where the place is -1, of all readings where it is -2.

    Examples
    --------
    >>> vs.FaultKind.TERMINATION.label
    'blocked or iced termination'
    >>> vs.FaultKind.TERMINATION.size_range
    ('free_share', '', 0.05, 0.6)
    """

    NONE = core.VENT_FAULT_NONE
    SLAB_LEAK = core.VENT_FAULT_SLAB_LEAK
    TERMINATION = core.VENT_FAULT_TERMINATION
    WATER = core.VENT_FAULT_WATER
    JOINT_LEAK = core.VENT_FAULT_JOINT_LEAK
    FAN_WEAK = core.VENT_FAULT_FAN_WEAK
    FAN_WRONG = core.VENT_FAULT_FAN_WRONG
    FAN_STOPPED = core.VENT_FAULT_FAN_STOPPED
    SOIL_TIGHT = core.VENT_FAULT_SOIL_TIGHT
    PLACE = core.VENT_FAULT_PLACE
    SIGN = core.VENT_FAULT_SIGN

    @property
    def label(self):
        """str : In words."""
        return core.fault_name(self.value)

    @property
    def size_range(self):
        """tuple or None : Name and unit of the size, and its usual bounds; None where it has none."""
        numbers = core.fault_range_numbers(self.value)
        return numbers and (*numbers[:2], *numbers[4:])


class Claim(enum.IntEnum):
    """What the readings can tell.

    Attributes
    ----------
    OPEN
        Nothing: they leave several faults that differ, or none that fits.
    GROUP
        The first group of faults that look alike, not which of it.
    TOLD
        The first finding, at odds of 10 or more against all others together.

    Examples
    --------
    >>> job = vs.Diagnosis(net)
    >>> number = job.reading("riser.flow", vs.Reading(20, 1) * cfm)
    >>> job.solve().claim < vs.Claim.TOLD  # one reading tells no fault
    True
    """

    OPEN = core.VENT_DIAGNOSED_OPEN
    GROUP = core.VENT_DIAGNOSED_GROUP
    TOLD = core.VENT_DIAGNOSED_TOLD

    def __str__(self):
        return self.name.lower()


class DiagnosisFlag(enum.IntFlag):
    """What to know of the readings and the ranking.

    Attributes
    ----------
    SIGN
        A reading has the other sign than the design.
    CONSTANT
        One value at three places or more that should differ.
    CONTRARY
        Two readings of one place exclude each other.
    EXACT
        The design was given no uncertainty.
    UNEXPLAINED
        Even the first finding fits badly.
    FEW
        One reading only.

    Examples
    --------
    >>> job = vs.Diagnosis(net, inputs=[])
    >>> number = job.reading("riser.flow", vs.Reading(20, 1) * cfm)
    >>> job.solve().flags.name
    'EXACT|FEW'
    """

    SIGN = core.VENT_DIAGNOSED_SIGN
    CONSTANT = core.VENT_DIAGNOSED_CONSTANT
    CONTRARY = core.VENT_DIAGNOSED_CONTRARY
    EXACT = core.VENT_DIAGNOSED_EXACT
    UNEXPLAINED = core.VENT_DIAGNOSED_UNEXPLAINED
    FEW = core.VENT_DIAGNOSED_FEW


_OF_RUNS = (FaultKind.WATER, FaultKind.FAN_WEAK, FaultKind.FAN_WRONG, FaultKind.FAN_STOPPED)
_OF_READINGS = (FaultKind.PLACE, FaultKind.SIGN)


@dataclasses.dataclass(frozen=True)
class Fault:
    """A fault that may be: what, where, how likely, how large.

    Attributes
    ----------
    kind : FaultKind
    place : str or int
        Name of the node or run, or number of the reading; may be given as a `Node` or `Run`.
    item : int
        Of a fan, its number in the run; of water, the item it stands behind, -1 for the start of the
        run: the pit; else 0.
    odds : float
        Against "nothing is wrong", before any reading [-]; above 0.
    low, high : float or None
        Bounds of its size [unit of the kind]; the usual ones where None.

    Examples
    --------
    >>> vs.Fault(vs.FaultKind.WATER, riser, item=-1).place
    'riser'
    """

    kind: FaultKind
    place: str | int = 0
    item: int = 0
    odds: float = 1.0
    low: float | None = None
    high: float | None = None

    def __post_init__(self):
        object.__setattr__(self, "kind", member(self.kind, FaultKind, "kind"))
        if isinstance(self.place, (Node, Run)):
            object.__setattr__(self, "place", self.place.name)

    def _numbers(self, network):
        """Kind, place and item as the library counts them."""
        place = self.place
        if isinstance(place, str):
            find = core.network_find_run if self.kind in _OF_RUNS else core.network_find_node
            place = find(network._c, place)
        return self.kind.value, instance(place, int, "place", "a name or a number"), self.item

    def _bounds(self):
        usual = self.kind.size_range or (None, None, 0.0, 0.0)
        return (usual[2] if self.low is None else self.low,
                usual[3] if self.high is None else self.high)


def _place_name(network, kind, place):
    if kind == FaultKind.NONE or kind in _OF_READINGS:
        return place
    return network._runs[place][0] if kind in _OF_RUNS else network._nodes[place]


@dataclasses.dataclass(frozen=True)
class FoundFault:
    """A fault and the size the readings give it.

    Attributes
    ----------
    kind, place, item
        As of `Fault`.
    size, low, high : float
        Half-way value and 95 % interval [unit of the kind]; NaN where it has no size.
    at_bound : int
        1 where the readings push the size to the greatest that was asked about, -1 to the least, else 0.
        The interval is one-sided then: at least `low`, or at most `high`; the true size may lie
        beyond. Give the fault wider bounds, or look for another.

    Examples
    --------
    >>> job = vs.Diagnosis(net)
    >>> number = job.reading("riser.flow", vs.Reading(20, 1) * cfm)
    >>> [fault] = job.solve().findings[0].faults
    >>> fault.low <= fault.size <= fault.high
    True
    """

    kind: FaultKind
    place: str | int
    item: int
    size: float
    low: float
    high: float
    at_bound: int = 0


@dataclasses.dataclass(frozen=True)
class Finding:
    """One hypothesis and what the readings say of it.

    Attributes
    ----------
    words : str
        What, where, how large.
    probability : float
        Of all findings together 1 [-].
    evidence : float
        Natural logarithm of how probable it made the readings beforehand [-].
    chi_square : float
        Of its best fit [-].
    group : int
        Number of the first finding that fits the readings in the same way.
    faults : tuple of FoundFault
        One, or two at once.

    Examples
    --------
    >>> job = vs.Diagnosis(net)
    >>> number = job.reading("riser.flow", vs.Reading(20, 1) * cfm)
    >>> findings = job.solve().findings
    >>> round(sum(finding.probability for finding in findings), 12)
    1.0
    """

    words: str
    probability: float
    evidence: float
    chi_square: float
    group: int
    faults: tuple[FoundFault, ...]


@dataclasses.dataclass(frozen=True)
class NextReading:
    """A reading that could be taken, and what two findings expect of it.

    Attributes
    ----------
    name : str
        Of the observable.
    first, second : Reading
        What either finding expects, without the instrument's uncertainty.
    distance : float
        Of the two, over the uncertainty of both and of the instrument [-]: above 3 one reading will
        do, below 1 it will not.

    Examples
    --------
    >>> job = vs.Diagnosis(net)
    >>> number = job.reading("riser.flow", vs.Reading(20, 1) * cfm)
    >>> job.solve().next()[0].distance > 3
    True
    """

    name: str
    first: Reading
    second: Reading
    distance: float


class Diagnosed(Bound):
    """The answer of a diagnosis; prints as a report.

    Attributes
    ----------
    findings : list of Finding
        The most probable first.
    claim : Claim
        What the readings can tell.
    flags : DiagnosisFlag
        What to know of the readings and the ranking.

    Examples
    --------
    >>> job = vs.Diagnosis(net)
    >>> number = job.reading("riser.flow", vs.Reading(20, 1) * cfm)
    >>> print(str(job.solve()).partition(" is ")[0])
    The readings tell that it
    """

    __slots__ = ("findings", "claim", "flags", "_c", "_network", "_readings", "_fans")
    _instead = "pickle its findings"

    def __init__(self, c, network, readings, fans=()):
        self._c, self._network, self._readings, self._fans = c, network, readings, fans
        self.claim = Claim(core.diagnosed_claim(c))
        self.flags = DiagnosisFlag(core.diagnosed_flags(c))
        self.findings = [self._finding(rank) for rank in range(core.diagnosed_count(c))]

    def _finding(self, rank):
        *members, faults = core.diagnosed_finding_numbers(self._c, rank)
        found = [FoundFault(FaultKind(kind), _place_name(self._network, kind, place), item, *size)
                 for kind, place, item, *size in faults]
        return Finding(core.diagnosed_text(self._c, rank), *members, tuple(found))

    def residuals(self, rank=0):
        """How the readings fit a finding.

        Parameters
        ----------
        rank : int, optional
            Of the finding.

        Returns
        -------
        list of Residual

        Examples
        --------
        >>> job = vs.Diagnosis(net)
        >>> number = job.reading("riser.flow", vs.Reading(20, 1) * cfm)
        >>> abs(job.solve().residuals()[0].residual) < 0.5
        True
        """
        self._check(rank)
        out = []
        for i, name in enumerate(self._readings):
            *members, flags = core.diagnosed_residual_numbers(self._c, rank, i)
            out.append(Residual(name, *members, ResidualFlag(flags)))
        return out

    def _check(self, rank):
        if not 0 <= instance(rank, (int, np.integer), "rank", "an int") < len(self.findings):
            raise ArgumentError(f"rank is {rank}: there are findings 0 to {len(self.findings) - 1}",
                                argument="rank")

    def next(self, first=0, second=1, candidates=None):
        """Which readings would part two findings, the best first.

        Parameters
        ----------
        first, second : int, optional
            Ranks of the findings.
        candidates : dict of Observable or str to float, optional
            Readings that could be taken, with their standard uncertainties [SI unit of each];
            pressures and flows everywhere with usual ones (1 Pa and 1 %, 0.5 L/s and 5 %) unless given.

        Returns
        -------
        list of NextReading

        Raises
        ------
        ArgumentError
            If an uncertainty is not above 0, or there is no such finding.
        NotFoundError
            If the design has no such place to read.

        Examples
        --------
        >>> job = vs.Diagnosis(net)
        >>> number = job.reading("riser.flow", vs.Reading(20, 1) * cfm)
        >>> better = job.solve().next(candidates={"pit.pressure": 1.0, "exit_velocity": 0.5})
        >>> better[0].distance >= better[1].distance
        True
        """
        self._check(first)
        self._check(second)
        pairs = (core.diagnosed_candidate_names(self._c, self._network._c) if candidates is None
                 else [(named(one, "candidates"), value) for one, value in candidates.items()])
        names = [name for name, _ in pairs]
        results = np.full((len(names), 5), math.nan)
        core.diagnosed_next_named(self._c, self._network._c, first, second, names,
                                  row([value for _, value in pairs], "candidates"), results.ravel())
        out = [NextReading(name, Reading(a, da), Reading(b, db), distance)
               for name, (a, da, b, db, distance) in zip(names, results.tolist())]
        return sorted(out, key=lambda one: -one.distance if one.distance == one.distance else math.inf)

    def network(self, rank=0):
        """The design with a finding's faults in it, at their most probable sizes and inputs.

        Parameters
        ----------
        rank : int, optional
            Of the finding.

        Returns
        -------
        Network
            Water is a fitting of its own: items behind it count one more. A leak is an opening named
            ``"possible leak at node N"``.

        Examples
        --------
        >>> job = vs.Diagnosis(net)
        >>> number = job.reading("riser.flow", vs.Reading(20, 1) * cfm)
        >>> found = job.solve().network()
        >>> abs(found.solve().flow(found.find_run("riser")) / cfm - 20) < 2
        True
        """
        self._check(rank)
        c, network = core.diagnosed_network(self._c, rank), self._network.copy()
        faults = self.findings[rank].faults
        runs = [run.name for run in network.runs]
        wet = {(runs.index(one.place), one.item) for one in faults if one.kind == FaultKind.WATER}
        for run, item in sorted(wet, reverse=True):  # from the back, so that numbers before it hold
            network.runs[run].insert(fitting_constant(0.0), item)
        for fault in faults:
            self._install(network, fault, wet)
        network._c = c
        address = core.parameter()
        for number in range(core.network_parameter_count(c)):
            core.network_parameter_entry(c, number, address)
            network._refresh(address)
        return network

    def _install(self, network, fault, wet):
        """What the library did to the design for a fault that takes more than numbers."""
        if fault.kind in (FaultKind.SLAB_LEAK, FaultKind.JOINT_LEAK):
            node = network.find_node(fault.place)
            network.leak(f"possible leak at node {node._number}", node, opening(0.0, to="room"),
                         temperature=network.soil_gas.temperature)
        elif fault.kind in (FaultKind.FAN_WRONG, FaultKind.FAN_STOPPED):
            run = network.find_run(fault.place)
            moved = sum(2 if item < 0 else 1 for number, item in wet
                        if number == run._number and item < fault.item)
            placed = run[fault.item + moved]
            if fault.kind == FaultKind.FAN_WRONG:
                placed.replace(self._fans[int(fault.size)])
            else:
                placed.switch_off(fitting_constant(1.0))

    def to_frame(self):
        """The findings as a pandas DataFrame.

        Returns
        -------
        pandas.DataFrame
            One row a finding, with the size of its first fault.

        Examples
        --------
        >>> job = vs.Diagnosis(net)
        >>> number = job.reading("riser.flow", vs.Reading(20, 1) * cfm)
        >>> list(job.solve().to_frame().columns)[:3]
        ['finding', 'probability', 'evidence']
        """
        import pandas

        rows = [{"finding": one.words, "probability": one.probability, "evidence": one.evidence,
                 "chi_square": one.chi_square, "group": one.group,
                 "kind": " + ".join(fault.kind.name for fault in one.faults),
                 "place": one.faults[0].place, "size": one.faults[0].size,
                 "low": one.faults[0].low, "high": one.faults[0].high,
                 "at_bound": one.faults[0].at_bound} for one in self.findings]
        return pandas.DataFrame(rows)

    def plot(self, ax=None):
        """Draws how probable the findings are, those that look alike in one colour.

        Parameters
        ----------
        ax : matplotlib.axes.Axes, optional
            Where to; a new figure unless given.

        Returns
        -------
        matplotlib.axes.Axes

        Examples
        --------
        >>> job = vs.Diagnosis(net)
        >>> number = job.reading("riser.flow", vs.Reading(20, 1) * cfm)
        >>> job.solve().plot().get_xlabel()
        'probability [%]'
        """
        from ._plot import findings

        return findings(self.findings, ax)

    def __str__(self):
        return core.diagnosed_text(self._c, -1)

    def _repr_html_(self):
        shown = [one for i, one in enumerate(self.findings) if i < 3 or one.probability >= 0.01]
        return as_html([("finding", None, [one.words for one in shown]),
                        ("likelihood among the candidates [%]", 1, [100 * one.probability for one in shown]),
                        ("group", 0, [float(one.group + 1) for one in shown])])

    def __repr__(self):
        return f"<diagnosis: {self.findings[0].words}, {self.claim.name}>"


class Diagnosis(Bound):
    """A design, readings of what was built, and the faults that may be.

    Signs are those of the network: a vacuum is a negative pressure, a flow towards the discharge is
    positive. A stopped fan and an iced end protect nobody, whatever a ranking says: see to them first,
    and leave fans, wiring and roofs to those licensed to work on them.

    Parameters
    ----------
    design : Network
        As it should be; a copy is kept.
    inputs : sequence of Input, optional
        What is uncertain about it when nothing is wrong: what its own parts carry, by
        `network_inputs`, unless given. Add what only you know: the soil, the fan.
    fans : sequence of Fan, optional
        Others that may stand in place of the design's.

    Raises
    ------
    ArgumentError
        If an uncertainty is not above 0.
    DuplicateError
        If a parameter is given twice.
    NotFoundError
        If the design has no such parameter.
    TopologyError
        If the design is not complete.

    Notes
    -----
    Bayes factors: Kass & Raftery (1995), Journal of the American Statistical Association 90, 773, from
    memory.

    Examples
    --------
    >>> job = vs.Diagnosis(net, vs.network_inputs(net) + [vs.Input("pit.c", 1e-4)])
    >>> taken = job.exercise(vs.Fault(vs.FaultKind.SLAB_LEAK, "pit"), 5e-3, seed=1,
    ...                      instruments={"riser.flow": 5e-4, "pit.pressure": 1.0})
    >>> for name, reading in taken.items():
    ...     number = job.reading(name, reading)
    >>> job.solve().findings[0].faults[0].kind.name
    'SLAB_LEAK'
    """

    __slots__ = ("_c", "_network", "_readings", "_fans")
    _instead = "pickle its network, inputs and readings"
    _frozen = False

    def __init__(self, design, inputs=None, fans=()):
        self._network = instance(design, Network, "design", "a Network").copy()
        self._c, self._readings = core.diagnosis_new(self._network._c), []
        known = network_inputs(design) if inputs is None else list(inputs)
        for i, one in enumerate(known):
            instance(one, Input, f"inputs[{i}]", "an Input")
        core.diagnosis_inputs_named(self._c, self._network._c, [one.name for one in known],
                                    row([one.uncertainty for one in known], "uncertainty"),
                                    row([float(one.shape) for one in known], "shape"))
        self._fans = tuple(fans)
        for i, fan in enumerate(self._fans):
            core.diagnosis_fan(self._c, instance(fan, Fan, f"fans[{i}]", "a Fan")._c)

    def reading(self, observable, reading):
        """Adds a reading.

        Parameters
        ----------
        observable : Observable or str
            What was read: ``"riser.flow"``, ``"pit.pressure"``, ``"riser[1].static_pressure"``.
        reading : Reading
            In the observable's SI unit, its uncertainty above 0.

        Returns
        -------
        int
            The reading's number.

        Raises
        ------
        ArgumentError
            If its uncertainty is not above 0.
        NotFoundError
            If the design has no such place to read.

        Examples
        --------
        >>> vs.Diagnosis(net).reading("pit.pressure", vs.Reading(-0.4, 0.01) * inwc)
        0
        """
        reading = instance(reading, Reading, "reading", "a Reading")
        observable = named(observable, "observable")
        number = core.diagnosis_reading_named(self._c, self._network._c, observable, reading._c)
        self._readings.append(observable)
        return number

    def test_hole(self, pit, share, pressure):
        """Adds the vacuum at a test hole, of which one knows what share of the pit's arrives there.

        Parameters
        ----------
        pit : Node or str
            The suction point it looks at.
        share : Reading or float
            Of the pit's vacuum, by a communication test [-]; 1e-4 to 1.
        pressure : Reading
            In the hole against the room [Pa], negative for a vacuum.

        Returns
        -------
        int
            The reading's number.

        Raises
        ------
        ArgumentError
            If share or an uncertainty is outside its bounds, or the node is no suction point.

        Examples
        --------
        >>> vs.Diagnosis(net).test_hole("pit", vs.Reading(0.2, 0.03), vs.Reading(-12.0, 0.5))
        0
        """
        name = pit.name if isinstance(pit, Node) else pit
        share = share if isinstance(share, Reading) else Reading(share, 0.0)
        pressure = instance(pressure, Reading, "pressure", "a Reading")
        node = core.network_find_node(self._network._c, name)
        number = core.diagnosis_test_hole(self._c, node, share._c, pressure._c)
        self._readings.append(f"{name}.pressure")
        return number

    def usual(self):
        """The faults one usually asks about, from design, readings and fans so far.

        Returns
        -------
        list of Fault

        Examples
        --------
        >>> [fault.place for fault in vs.Diagnosis(net).usual()
        ...  if fault.kind == vs.FaultKind.TERMINATION]
        ['roof']
        """
        return [Fault(FaultKind(kind), _place_name(self._network, kind, place), item, odds,
                      *(size if FaultKind(kind).size_range else (None, None)))
                for kind, place, item, odds, *size in core.diagnosis_usual_numbers(self._c)]

    def fault(self, *faults):
        """Adds faults to those that may be; without any, those of `usual` are asked about.

        Parameters
        ----------
        *faults : Fault

        Returns
        -------
        Diagnosis
            Itself.

        Raises
        ------
        ArgumentError
            If odds or bounds are outside theirs.
        DuplicateError
            If a fault is there already.
        NotFoundError
            If the place is none for such a fault.

        Examples
        --------
        >>> vs.Diagnosis(net).fault(vs.Fault(vs.FaultKind.NONE), vs.Fault(vs.FaultKind.SLAB_LEAK, "pit"))
        <diagnosis of 0 readings>
        """
        for i, one in enumerate(faults):
            one = instance(one, Fault, f"faults[{i}]", "a Fault")
            core.diagnosis_fault_numbers(self._c, *one._numbers(self._network), one.odds,
                                         *one._bounds())
        return self

    def exercise(self, fault, size=math.nan, *, seed, instruments):
        """The same thing backwards: the readings a fault would give.

        The design with that fault, its uncertain inputs drawn at random, read with instruments whose
        errors are normal.

        Parameters
        ----------
        fault : Fault
            Kind and place; no kind of a reading.
        size : float, optional
            Of the fault [unit of the kind]; none for a kind without size.
        seed : int
            The same one gives the same readings; 0 to 2**53.
        instruments : dict of Observable or str to float
            What to read, with its standard uncertainty [SI unit of each].

        Returns
        -------
        dict of str to Reading

        Raises
        ------
        ArgumentError
            If size or an uncertainty is outside its bounds.
        NotFoundError
            If the place is none for such a fault, or none to read.

        Examples
        --------
        >>> job = vs.Diagnosis(net)
        >>> stopped = vs.Fault(vs.FaultKind.FAN_STOPPED, riser, item=1)
        >>> taken = job.exercise(stopped, 5.0, seed=3, instruments={"pit.pressure": 1.0})
        >>> abs(taken["pit.pressure"].value) < 15
        True
        """
        fault = instance(fault, Fault, "fault", "a Fault")
        names = [named(one, "instruments") for one in instruments]
        values = np.full(len(names), math.nan)
        uncertainty = row(list(instruments.values()), "instruments")
        core.diagnosis_exercise_named(self._c, self._network._c, *fault._numbers(self._network),
                                      size, float(seed), names, uncertainty, values)
        return {name: Reading(value, spread)
                for name, value, spread in zip(names, values.tolist(), uncertainty.tolist())}

    def solve(self):
        """Ranks the faults by how probable they are.

        Returns
        -------
        Diagnosed

        Raises
        ------
        ArgumentError
            If there is no reading.
        NoOperatingPointError
            If the design itself has no solution.

        Examples
        --------
        >>> job = vs.Diagnosis(net)
        >>> number = job.reading("riser.flow", vs.Reading(20, 1) * cfm)
        >>> job.solve().findings[0].probability > 0.1
        True
        """
        return Diagnosed(core.diagnosis_solve(self._c), self._network, list(self._readings),
                         self._fans)

    def __repr__(self):
        return f"<diagnosis of {len(self._readings)} readings>"
