# SPDX-License-Identifier: GPL-3.0-or-later
"""The answer: flows, pressures, the fans' points, warnings."""

import dataclasses
import enum

import numpy as np

from . import core
from ._address import Observable, Parameter, observable as observable_of, own, own_all, parameter
from ._checks import instance, numbers
from ._errors import ArgumentError, NotFoundError
from ._handles import FanItem, Item, Node, Run, own_number
from ._ledger import Ledger
from ._provenance import Provenance
from ._value import Bound
from .units import litre_per_second, metre_per_second, pascal


class SolutionFlag(enum.IntFlag):
    """Things that are not errors but worth knowing.

    Attributes
    ----------
    COEFFICIENT_RANGE
        A coefficient is used outside its source's range.
    FAN_EXTRAPOLATED
        A fan works beyond its data.
    FAN_NEAR_SHUT_OFF
        A fan works above 90 % of its shut-off pressure.
    FAN_RISING
        A fan works where its curve rises.
    FAN_MAY_HUNT
        A fan's curve rises somewhere: other points may exist.
    DRAIN_BACK
        Velocity above 2000 ft/min: condensate may not fall back.
    REVERSED
        A run flows backwards.
    COMPRESSIBLE
        Gauge pressure above 2 kPa: density is off by over 2 %.
    TRANSITIONAL
        A run flows between laminar and turbulent.
    NEAR_RANGE
        No more than a remark, and last among the warnings: a coefficient is used at a Reynolds number
        up to 10 % outside its source's range.
    FAN_OFF
        A fan is off; the message tells which way air goes through it.
    FAN_DRIVEN
        A running fan is beyond its free delivery: the air drives it.
    PIT_LEVEL
        A pit that leaks was moved, and its edge was not.
    BLOWS_OUT
        First among the warnings: a leak or an inlet lets the stack's air out, into the room, or
        outdoors where no discharge is planned.

    Examples
    --------
    >>> bool(net.solve().flags & vs.SolutionFlag.REVERSED)
    False
    """

    COEFFICIENT_RANGE = core.VENT_WARN_COEFFICIENT_RANGE
    FAN_EXTRAPOLATED = core.VENT_WARN_FAN_EXTRAPOLATED
    FAN_NEAR_SHUT_OFF = core.VENT_WARN_FAN_NEAR_SHUT_OFF
    FAN_RISING = core.VENT_WARN_FAN_RISING
    FAN_MAY_HUNT = core.VENT_WARN_FAN_MAY_HUNT
    DRAIN_BACK = core.VENT_WARN_DRAIN_BACK
    REVERSED = core.VENT_WARN_REVERSED
    COMPRESSIBLE = core.VENT_WARN_COMPRESSIBLE
    TRANSITIONAL = core.VENT_WARN_TRANSITIONAL
    NEAR_RANGE = core.VENT_WARN_NEAR_RANGE
    FAN_OFF = core.VENT_WARN_FAN_OFF
    FAN_DRIVEN = core.VENT_WARN_FAN_DRIVEN
    PIT_LEVEL = core.VENT_WARN_PIT_LEVEL
    BLOWS_OUT = core.VENT_WARN_BLOWS_OUT


@dataclasses.dataclass(frozen=True)
class SolutionWarning:
    """One thing worth knowing of a solution.

    Attributes
    ----------
    flag : SolutionFlag
        What.
    run : Run or None
        Where.
    item : int or None
        Place among the run's items.
    value, limit : float
        What gave rise to it and what it was held against.
    message : str
        One readable sentence.

    Examples
    --------
    >>> [warning.flag.name for warning in net.solve().warnings]
    []
    """

    flag: SolutionFlag
    run: Run
    item: int
    value: float
    limit: float
    message: str

    def __str__(self):
        return self.message


@dataclasses.dataclass(frozen=True)
class FanPoint:
    """Where a fan works; one that is off takes pressure and no power, and has no shut-off or free delivery.

    Attributes
    ----------
    name : str
        The fan's.
    run : Run
        The run it is in.
    item : int
        Its place among the run's items.
    flow : float
        Actual, at the density of the gas in the fan [m3/s].
    pressure : float
        The rise of total pressure it makes [Pa].
    density : float
        Of the gas in it [kg/m3].
    power : float
        Electrical [W]; NaN without power data.
    air_power : float
        Flow times pressure [W].
    shut_off : float
        Pressure at zero flow, at this density and speed [Pa].
    free_delivery : float
        Flow at zero pressure [m3/s].
    shut_off_share : float
        Pressure over shut-off pressure [-]; 1 means no flow moves.
    slope : float
        Of the curve at the point [Pa s/m3]; positive on a rising part.

    Examples
    --------
    >>> point = net.solve().fans[0]
    >>> 0 < point.shut_off_share < 1
    True
    """

    name: str
    run: Run
    item: int
    flow: float
    pressure: float
    density: float
    power: float
    air_power: float
    shut_off: float
    free_delivery: float
    shut_off_share: float
    slope: float


@dataclasses.dataclass(frozen=True)
class EquivalentSource:
    """What everything else offers at a node to the run that leaves it (the first, where several do).

    In a tree that is what is upstream; links and shared soil are free to answer.

    Attributes
    ----------
    pressure : float
        Total pressure at the node against the room, at the solved flow [Pa].
    mass_flow : float
        Leaving the node [kg/s].
    slope : float
        How fast the pressure falls as the flow leaving grows [Pa s/kg].

    Examples
    --------
    >>> net.solve().source(pit).slope > 0
    True
    """

    pressure: float
    mass_flow: float
    slope: float


@dataclasses.dataclass(frozen=True)
class Convergence:
    """How well the equations hold.

    Attributes
    ----------
    iterations : int
        Newton steps taken.
    pressure_residual, pressure_scale : float
        Greatest residual, and greatest pressure in the network [Pa].
    mass_residual, mass_scale : float
        Greatest residual, and greatest mass flow [kg/s].

    Examples
    --------
    >>> c = net.solve().convergence
    >>> c.pressure_residual <= 1e-12 * c.pressure_scale
    True
    """

    iterations: int
    pressure_residual: float
    pressure_scale: float
    mass_residual: float
    mass_scale: float


def _members(kind, struct, **others):
    """A result class filled from the struct's members of the same names."""
    names = {field.name for field in dataclasses.fields(kind)} - others.keys()
    return kind(**{name: getattr(struct, name) for name in names}, **others)


class Solution(Bound):
    """A solved network; made by `Network.solve`.

    A picture of the network at one moment: it stays valid when the network changes. Gauge pressures
    are against the room above the slab, the way a manometer in the room reads them: vacuum is
    negative.

    Examples
    --------
    >>> point = net.solve()
    >>> point.flow(riser) / cfm > 0 > point.pressure(pit) / inwc
    True
    """

    __slots__ = ("_network", "_picture", "_fans", "_c", "__weakref__")
    _instead = "pickle its network and solve again: the same network gives the same bits"

    def __init__(self, network, picture, solution):
        self._network = network
        self._picture = picture
        self._fans = tuple(network._fans)
        self._c = solution

    # ---- runs -------------------------------------------------------------------------------

    def _run(self, run):
        number = own_number(self._network, Run, run, "run")
        return self._known(number, core.network_run_count(self._picture), run)

    def _node(self, node):
        number = own_number(self._network, Node, node, "node")
        return self._known(number, core.network_node_count(self._picture), node)

    @staticmethod
    def _known(number, count, handle):
        if number >= count:
            raise NotFoundError(f"{handle!r} was added after this solution was made", index=number)
        return number

    def _item(self, run, item):
        """Number of an item, given by handle or number."""
        if not isinstance(item, Item):
            return instance(item, (int, np.integer), "item", "an Item or an int").__index__()
        if item.run != run:
            raise ArgumentError(f"item is {item!r}, not one of {run!r}", argument="item")
        return item.number

    def mass_flow(self, run):
        """Mass flow of a run, positive from its suction side.

        Parameters
        ----------
        run : Run

        Returns
        -------
        float
            [kg/s].

        Raises
        ------
        ArgumentError
            If run belongs to another network.
        NotFoundError
            If run was added after this solution was made.

        Examples
        --------
        >>> net.solve().mass_flow(riser) > 0
        True
        """
        return core.solution_mass_flow(self._c, self._run(run))

    def flow(self, run):
        """Actual volume flow of a run, at the density of its own gas.

        Parameters
        ----------
        run : Run

        Returns
        -------
        float
            [m3/s].

        Raises
        ------
        ArgumentError, NotFoundError
            As `mass_flow`.

        Examples
        --------
        >>> net.solve().flow(riser) / cfm > 0
        True
        """
        return core.solution_flow(self._c, self._run(run))

    def standard_flow(self, run):
        """Volume flow of a run reduced to standard air, 0.075 lb/ft3.

        Parameters
        ----------
        run : Run

        Returns
        -------
        float
            [m3/s].

        Raises
        ------
        ArgumentError, NotFoundError
            As `mass_flow`.

        Examples
        --------
        >>> net.solve().standard_flow(riser) > 0
        True
        """
        return core.solution_standard_flow(self._c, self._run(run))

    def velocity(self, run):
        """Mean velocity in the narrowest pipe of a run.

        Parameters
        ----------
        run : Run

        Returns
        -------
        float
            [m/s].

        Raises
        ------
        ArgumentError, NotFoundError
            As `mass_flow`.

        Examples
        --------
        >>> net.solve().velocity(riser) / fpm > 0
        True
        """
        return core.solution_velocity(self._c, self._run(run))

    def reynolds(self, run):
        """Reynolds number in the narrowest pipe of a run, on its hydraulic diameter.

        Parameters
        ----------
        run : Run

        Returns
        -------
        float
            [-].

        Raises
        ------
        ArgumentError, NotFoundError
            As `mass_flow`.

        Examples
        --------
        >>> net.solve().reynolds(riser) > 0
        True
        """
        return core.solution_reynolds(self._c, self._run(run))

    def density(self, run):
        """Density of the gas in a run.

        Parameters
        ----------
        run : Run

        Returns
        -------
        float
            [kg/m3].

        Raises
        ------
        ArgumentError, NotFoundError
            As `mass_flow`.

        Examples
        --------
        >>> 1.0 < net.solve().density(riser) < 1.3
        True
        """
        return core.solution_density(self._c, self._run(run))

    def static_pressure(self, run, item=-1):
        """Static pressure a wall tap reads in a run, against the room.

        Parameters
        ----------
        run : Run
        item : Item or int, optional
            The tap sits just downstream of it; -1 for the run's very start.

        Returns
        -------
        float
            [Pa].

        Raises
        ------
        ArgumentError
            If run belongs to another network or item to another run.
        NotFoundError
            If run or item was added after this solution was made, or there is no such item.

        Examples
        --------
        >>> point = net.solve()
        >>> point.static_pressure(riser) < point.pressure(pit)
        True
        """
        pressure = core.solution_static_pressure(self._c, self._run(run), self._item(run, item))
        if pressure != pressure:
            raise NotFoundError(f"{run!r} had no item {item!r} when this solution was made")
        return pressure

    # ---- nodes ------------------------------------------------------------------------------

    def pressure(self, node):
        """Total pressure at a node against the room; vacuum is negative.

        In a pit the air is still and this is what a manometer reads. At a junction it is the total
        pressure at the start of the combined pipe; a tap in the wall reads `static_pressure`.

        Parameters
        ----------
        node : Node

        Returns
        -------
        float
            [Pa].

        Raises
        ------
        ArgumentError
            If node belongs to another network.
        NotFoundError
            If node was added after this solution was made.

        Examples
        --------
        >>> net.solve().pressure(pit) / inwc < 0
        True
        """
        return core.solution_pressure(self._c, self._node(node))

    def absolute_pressure(self, node):
        """Absolute total pressure at a node.

        Parameters
        ----------
        node : Node

        Returns
        -------
        float
            [Pa].

        Raises
        ------
        ArgumentError, NotFoundError
            As `pressure`.

        Examples
        --------
        >>> net.solve().absolute_pressure(pit) < net.outdoors.pressure
        True
        """
        return core.solution_absolute_pressure(self._c, self._node(node))

    def source(self, node):
        """The equivalent source of everything upstream of a node, linear about the solution.

        Parameters
        ----------
        node : Node

        Returns
        -------
        EquivalentSource

        Raises
        ------
        ArgumentError, NotFoundError
            As `pressure`.

        Examples
        --------
        >>> point = net.solve()
        >>> point.source(pit).mass_flow == point.mass_flow(riser)
        True
        """
        return _members(EquivalentSource, core.solution_source(self._c, self._node(node)))

    # ---- the whole --------------------------------------------------------------------------

    @property
    def discharge_flow(self):
        """float : Flow through all discharges, actual [m3/s]; a stack that draws air in counts as minus."""
        return core.solution_discharge_flow(self._c)

    @property
    def exit_velocity(self):
        """float : Greatest velocity at which air leaves the termination [m/s]."""
        return core.solution_exit_velocity(self._c)

    @property
    def fans(self):
        """list of FanPoint : Where each fan works, in the order they were added."""
        found = core.fan_point()
        points = []
        for number, (fan, _) in enumerate(self._fans):
            core.solution_fan(self._c, number, found)
            points.append(_members(FanPoint, found, name=fan.name,
                                   run=Run(self._network, found.run)))
        return points

    @property
    def flags(self):
        """SolutionFlag : The flags of all warnings in one."""
        return SolutionFlag(core.solution_flags(self._c))

    @property
    def warnings(self):
        """list of SolutionWarning : What is worth knowing, each readable by `str`."""
        found = core.warning()
        warnings = []
        for number in range(core.solution_warning_count(self._c)):
            core.solution_warning(self._c, number, found)
            warnings.append(_members(
                SolutionWarning, found, flag=SolutionFlag(found.flag),
                run=None if found.run < 0 else Run(self._network, found.run),
                item=None if found.item < 0 else found.item))
        return warnings

    @property
    def convergence(self):
        """Convergence : How well the equations hold."""
        return _members(Convergence, core.solution_convergence(self._c))

    def observe(self, observable):
        """A number by its address.

        Parameters
        ----------
        observable : Observable or str
            Such as `Run.flow` or "riser[2].loss".

        Returns
        -------
        float
            In the address's unit [SI]; NaN where the solution has no such number.

        Raises
        ------
        NotFoundError
            If there is nothing of that name; the message tells the nearest name.
        ArgumentError
            If the address is of another network.

        Examples
        --------
        >>> point = net.solve()
        >>> point.observe("riser.flow") == point.flow(riser)
        True
        """
        address = own(self._network, observable, Observable, observable_of, "observable")
        return core.solution_observe(self._c, address._c)

    def gradient(self, observable, parameters):
        """Exact derivatives of a result by parameters of the network, without solving again.

        Parameters
        ----------
        observable : Observable or str
            The result.
        parameters : Parameter or str, or a list of them
            By which to differentiate.

        Returns
        -------
        numpy.ndarray
            A derivative for each [unit of the observable over that of the parameter].

        Raises
        ------
        NotFoundError
            If there is nothing of a name; the message tells the nearest name.
        ArgumentError
            If an address is of another network.

        Examples
        --------
        >>> by_length, by_speed = net.solve().gradient(riser.flow, [riser.length, "riser.speed"])
        >>> bool(by_length < 0 < by_speed)
        True
        """
        result = own(self._network, observable, Observable, observable_of, "observable")
        return self.jacobian(result, parameters)[0]

    def jacobian(self, observables, parameters):
        """Exact derivatives of several results by parameters, quicker than one gradient after another.

        Parameters
        ----------
        observables : Observable or str, or a list of them
            The results.
        parameters : Parameter or str, or a list of them
            By which to differentiate.

        Returns
        -------
        numpy.ndarray
            A row for each result, a column for each parameter [unit of the observable over that of the
            parameter].

        Raises
        ------
        NotFoundError
            If there is nothing of a name; the message tells the nearest name.
        ArgumentError
            If an address is of another network.

        Examples
        --------
        >>> point = net.solve()
        >>> rows = point.jacobian([riser.flow, "pit.pressure"], [riser.length, "riser.speed"])
        >>> rows.shape
        (2, 2)
        >>> bool((rows[0] == point.gradient(riser.flow, [riser.length, "riser.speed"])).all())
        True
        """
        results = own_all(self._network, observables, Observable, observable_of, "observables")
        by = own_all(self._network, parameters, Parameter, parameter, "parameters")
        found = np.empty(len(results) * len(by))
        core.solution_jacobian(self._c, [one._c for one in results], [one._c for one in by], found)
        return found.reshape(len(results), len(by))

    def ledger(self, *, flow=litre_per_second, pressure=pascal, velocity=metre_per_second,
               exact=False):
        """The solution item by item: what each part takes or gives, and what it costs in flow.

        Parameters
        ----------
        flow, pressure, velocity : Unit, optional
            Units of the printed table, of `ventstack.units`; the lines themselves are SI.
        exact : bool, optional
            Whether to solve the network again without each item for its exact flow cost. For a leg
            of a junction that is the cost of the whole junction, on each of its legs.

        Returns
        -------
        Ledger
            Prints as a table; its lines can be looped over.

        Raises
        ------
        ArgumentError
            If a unit measures something else.

        Examples
        --------
        >>> print(net.solve().ledger(flow=cfm, pressure=inwc).lines[0].what)
        soil
        """
        return Ledger(self, flow, pressure, velocity, exact)

    def sources(self, *, pressure=pascal):
        """Which sources the solution rests on, and how much hangs on each.

        Parameters
        ----------
        pressure : Unit, optional
            Unit of the printed table, of `ventstack.units`; the entries themselves are SI.

        Returns
        -------
        Provenance
            Prints as a table; its entries can be looped over, most hanging on the first.

        Raises
        ------
        ArgumentError
            If the unit measures something else.

        Examples
        --------
        >>> print(net.solve().sources()[0].source)  # soil and fan
        None
        """
        return Provenance(self, pressure)

    def _fan_number(self, fan):
        """Number of a fan, given by handle or number, or the only one there is."""
        count = len(self._fans)
        if fan is None:
            if count == 1:
                return 0
            said = f"{count} fans: say which" if count else "no fan, hence no operating point to draw"
            raise ArgumentError(f"this solution has {said}", argument="fan")
        if isinstance(fan, FanItem):
            own_number(self._network, Run, fan.run, "fan")
            number = fan._fan
        else:
            number = instance(fan, (int, np.integer), "fan", "a FanItem or an int").__index__()
        if 0 <= number < count:
            return number
        raise NotFoundError(f"fan is {fan!r}; this solution has {count}, numbered from 0",
                            argument="fan")

    def system_curve(self, flow, *, fan=None):
        """The pressure a fan would need at other flows, every other fan running as it is.

        Parameters
        ----------
        flow : array_like
            Actual, at the density of the gas in the fan [m3/s].
        fan : FanItem or int, optional
            Which fan, by what `Run.add` returned or its place in `fans`; may be left out where there
            is one.

        Returns
        -------
        numpy.ndarray
            [Pa], of the shape of flow; NaN where the solver fails.

        Raises
        ------
        ArgumentError
            If there are several fans and none is chosen.
        NotFoundError
            If there is no such fan.

        Examples
        --------
        >>> point = net.solve()
        >>> float(abs(point.system_curve([point.fans[0].flow])[0] / point.fans[0].pressure - 1)) < 1e-9
        True
        """
        flow = np.ascontiguousarray(numbers(flow, "flow"))
        pressure = np.empty(flow.shape)
        core.network_system_curve(self._picture, self._fan_number(fan), flow, pressure)
        return pressure

    def plot(self, *, fan=None, flow=litre_per_second, pressure=pascal, ax=None):
        """Draws the fan's curve, the system's and where they meet.

        Parameters
        ----------
        fan : FanItem or int, optional
            Which fan; may be left out where there is one.
        flow, pressure : Unit, optional
            Units of the axes, of `ventstack.units`.
        ax : matplotlib.axes.Axes, optional
            Where to draw; a new figure's unless given.

        Returns
        -------
        matplotlib.axes.Axes

        Raises
        ------
        ArgumentError
            If there are several fans and none is chosen, or a unit measures something else.

        Examples
        --------
        >>> net.solve().plot(flow=cfm, pressure=inwc).get_xlabel()
        'flow [cfm]'
        """
        from . import _plot
        number = self._fan_number(fan)
        return _plot.operating_point(self, number, *self._fans[number], flow, pressure, ax)

    def __repr__(self):
        return (f"<solution: {self.discharge_flow / litre_per_second:.4g} L/s through the discharge, "
                f"{len(self.warnings)} warnings>")
