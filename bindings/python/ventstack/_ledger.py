# SPDX-License-Identifier: GPL-3.0-or-later
"""The ledger: a solution told item by item."""

import dataclasses
import enum
import math

from . import core
from ._errors import ArgumentError
from ._handles import Node, Run
from ._source import CoefficientFlag, Source, source
from ._table import as_html, as_text, places


class LineKind(enum.IntEnum):
    """What a line of the ledger stands for.

    Attributes
    ----------
    SOIL
        The vacuum that draws gas through the soil.
    PIPE
        Friction of one pipe.
    FITTING
        Fittings of one kind in one place, all of their count.
    TRANSITION
        The change between two pipes of a run.
    JUNCTION
        The loss of one leg at a junction.
    TERMINATION
        What stands on top, with the velocity pressure that leaves.
    FAN
        A fan: its loss is negative.
    BUOYANCY
        The column of gas in one run: negative where it helps.
    WIND
        Wind at the discharge.
    OPENING
        An opening to the surroundings, as of a leak.
    SURROUNDINGS
        The pressure around an opening: negative where it drives air in.

    Examples
    --------
    >>> net.solve().ledger().lines[0].kind.name
    'SOIL'
    """

    SOIL = core.VENT_LINE_SOIL
    PIPE = core.VENT_LINE_PIPE
    FITTING = core.VENT_LINE_FITTING
    TRANSITION = core.VENT_LINE_TRANSITION
    JUNCTION = core.VENT_LINE_JUNCTION
    TERMINATION = core.VENT_LINE_TERMINATION
    FAN = core.VENT_LINE_FAN
    BUOYANCY = core.VENT_LINE_BUOYANCY
    WIND = core.VENT_LINE_WIND
    OPENING = core.VENT_LINE_OPENING
    SURROUNDINGS = core.VENT_LINE_SURROUNDINGS


_REMOVABLE = {LineKind.PIPE, LineKind.FITTING, LineKind.TRANSITION, LineKind.JUNCTION,
              LineKind.TERMINATION}


@dataclasses.dataclass(frozen=True)
class LedgerLine:
    """One line of the ledger, in SI.

    Attributes
    ----------
    kind : LineKind
        What it stands for.
    where, what : str
        The run or node, and the item, in words.
    run : Run or None
        The run it is in.
    item : int or None
        Its place among the run's items.
    node : Node or None
        The node it belongs to.
    count : float
        How many, the length of a pipe [m] or the rise of a column [m].
    k, k_uncertainty : float
        Loss coefficient of all of them on velocity_pressure, and its standard uncertainty [-]; NaN
        where none.
    velocity, velocity_pressure : float
        That k refers to [m/s], [Pa]; NaN where none.
    loss : float
        Of total pressure [Pa]; negative for what drives.
    share : float
        Loss over the fans' pressure [-]; NaN without a fan.
    flow_cost : float
        More through the discharge if it were gone, first order [m3/s]. For a termination, gone means
        an open end.
    exact_flow_cost : float
        The same by solving again without it [m3/s]; NaN unless asked for, and where there is
        nothing to take away.
    source : Source or None
        Citation of the coefficient; None where the caller stated it.
    sources : tuple of Source
        All it rests on: a pipe also on those of its roughness, of friction and of viscosity, a
        termination on that of the open end too. Empty where the caller stated it all.
    flags : CoefficientFlag
        Whether the coefficient is used outside its source's range.

    Examples
    --------
    >>> sum(line.loss for line in net.solve().ledger()) < 1e-9
    True
    """

    kind: LineKind
    where: str
    what: str
    run: Run
    item: int
    node: Node
    count: float
    k: float
    k_uncertainty: float
    velocity: float
    velocity_pressure: float
    loss: float
    share: float
    flow_cost: float
    exact_flow_cost: float
    source: Source
    sources: tuple
    flags: CoefficientFlag


def symbol(unit, quantity, argument):
    """How a unit is written; an ArgumentError if it measures something else."""
    if getattr(unit, "quantity", quantity) != quantity:
        raise ArgumentError(f"{argument} is {unit!r}, a unit of {unit.quantity}; it must be one of "
                            f"{quantity}", argument=argument)
    if not hasattr(unit, "symbol"):
        raise TypeError(f"{argument} must be a Unit of ventstack.units, not {type(unit).__name__}")
    return unit.symbol


def line_sources(solution, number):
    """The sources a line rests on, without what the caller stated."""
    found = []
    while (cited := core.solution_line_source(solution, number, len(found))) >= 0:
        found.append(cited)
    return tuple(source(cited) for cited in found if cited)


def _read_line(solution, number, exact):
    line = core.ledger_line()
    core.solution_ledger_line(solution._c, number, line)
    network, kind = solution._network, LineKind(line.kind)
    cost = math.nan
    if exact and kind in _REMOVABLE:
        cost = core.solution_exact_flow_cost(solution._c, number)
    return LedgerLine(
        kind=kind, where=line.where, what=line.what,
        run=None if line.run < 0 else Run(network, line.run),
        item=None if line.item < 0 else line.item,
        node=None if line.node < 0 else Node(network, line.node),
        count=line.count, k=line.k, k_uncertainty=line.k_uncertainty,
        velocity=core.solution_ledger_velocity(solution._c, number),
        velocity_pressure=line.velocity_pressure, loss=line.loss, share=line.share,
        flow_cost=line.flow_cost, exact_flow_cost=cost, source=source(line.source),
        sources=line_sources(solution._c, number), flags=CoefficientFlag(line.flags))


class Ledger:
    """A solution told item by item, in the order the air meets them; made by `Solution.ledger`.

    Along any way from the soil to the open air the losses sum to zero: what the fans, the columns
    and the wind give, the soil, pipes and fittings take.

    Examples
    --------
    >>> ledger = net.solve().ledger()
    >>> len(ledger) == len(ledger.lines) == len(ledger.to_frame())
    True
    """

    __slots__ = ("lines", "_flow", "_pressure", "_velocity", "_exact")

    def __init__(self, solution, flow, pressure, velocity, exact):
        symbol(flow, "flow", "flow")
        symbol(pressure, "pressure", "pressure")
        symbol(velocity, "velocity", "velocity")
        self._flow, self._pressure, self._velocity = flow, pressure, velocity
        self._exact = bool(exact)
        self.lines = tuple(_read_line(solution, number, exact)
                           for number in range(core.solution_ledger_size(solution._c)))

    def __len__(self):
        return len(self.lines)

    def __iter__(self):
        return iter(self.lines)

    def __getitem__(self, index):
        return self.lines[index]

    def _columns(self):
        """Head, decimal places and values of each column; text where there are no places."""
        pressure, flow, velocity = self._pressure, self._flow, self._velocity
        fine, cost = places(pressure, 0.1), "exact_flow_cost" if self._exact else "flow_cost"
        return [
            ("where", None, [line.where for line in self.lines]),
            ("what", None, [line.what for line in self.lines]),
            ("K", 3, [line.k for line in self.lines]),
            ("+-", 3, [line.k_uncertainty for line in self.lines]),
            (f"velocity [{velocity.symbol}]", places(velocity, 0.1),
             [line.velocity / velocity for line in self.lines]),
            (f"velocity pressure [{pressure.symbol}]", fine,
             [line.velocity_pressure / pressure for line in self.lines]),
            (f"loss [{pressure.symbol}]", fine, [line.loss / pressure for line in self.lines]),
            ("share of fan [%]", 1, [100 * line.share for line in self.lines]),
            (f"flow cost{', exact' if self._exact else ''} [{flow.symbol}]", places(flow, 1e-5),
             [getattr(line, cost) / flow for line in self.lines]),
        ]

    def __str__(self):
        return as_text(self._columns())

    def _repr_html_(self):
        return as_html(self._columns())

    def __repr__(self):
        return f"<ledger of {len(self)} lines>"

    def to_frame(self):
        """The ledger as a pandas table, in the units the ledger was asked for.

        Returns
        -------
        pandas.DataFrame
            The printed columns under the printed heads, unrounded, and after them kind, count,
            flags and source.

        Examples
        --------
        >>> list(net.solve().ledger(pressure=inwc).to_frame().columns)[6]
        'loss [in. w.c.]'
        """
        import pandas
        frame = pandas.DataFrame({head: values for head, _, values in self._columns()})
        frame["kind"] = [line.kind.name.lower() for line in self.lines]
        frame["count"] = [line.count for line in self.lines]
        frame["flags"] = [int(line.flags) for line in self.lines]
        frame["source"] = [str(line.source or "") for line in self.lines]
        return frame

    def plot(self, *, ax=None):
        """Draws what each item takes or gives, in the order the air meets them.

        Parameters
        ----------
        ax : matplotlib.axes.Axes, optional
            Where to draw; a new figure's unless given.

        Returns
        -------
        matplotlib.axes.Axes

        Examples
        --------
        >>> net.solve().ledger().plot().get_xlabel()
        'loss of total pressure [Pa]'
        """
        from . import _plot
        return _plot.ledger(self, ax)
