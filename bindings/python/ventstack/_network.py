# SPDX-License-Identifier: GPL-3.0-or-later
"""Putting a stack together."""

from . import core
from ._address import observable, parameter
from ._air import Air
from ._balance import balance
from ._checks import instance
from ._errors import ArgumentError
from ._handles import Node, Run, own_number
from ._junction import Junction
from ._opening import Opening
from ._pipe import Pipe
from ._points import operating_points
from ._recipe import rebuild, recorded, state
from ._soil import Soil
from ._solution import Solution
from ._sweep import sweep
from ._termination import Termination

_OF_AIR = (core.VENT_PARAMETER_OUTDOOR_TEMPERATURE, core.VENT_PARAMETER_BAROMETRIC_PRESSURE,
           core.VENT_PARAMETER_SOIL_GAS_TEMPERATURE, core.VENT_PARAMETER_TEMPERATURE)
_OF_TERMINATION = (core.VENT_PARAMETER_TERMINATION, core.VENT_PARAMETER_TERMINATION_FACTOR)


class Network:
    """A stack: suction points, junctions, runs of pipe, fans and discharges.

    What is not added is not there: the entry from the pit into the pipe, the elbows, the couplings.
    Heights are in metres above the slab.

    Parameters
    ----------
    soil_gas : Air
        State of the gas that enters at the suction points.
    outdoors : Air
        State of the air at slab height outdoors; its pressure is the reference of every gauge
        pressure.

    Examples
    --------
    >>> net = vs.Network(soil_gas=vs.Air(celsius(13), 98300, 1.0),
    ...                  outdoors=vs.Air(celsius(-5), 98300, 0.8))
    >>> pit = net.suction_point("pit", soil=vs.soil_power(4.2e-4, 0.62))
    >>> roof = net.discharge("roof", vs.open_end(), height=7.9)
    >>> riser = net.run("riser", pit, roof, pipe=vs.pipe("PVC 40", 3 * inch), length=9.0)
    >>> item = riser.add(fan)
    >>> net.solve().pressure(pit) < 0
    True
    """

    __slots__ = ("_c", "_nodes", "_heights", "_runs", "_temperatures", "_fans", "_soil_gas",
                 "_outdoors", "_wind_pressure", "_wind_dynamic_pressure", "_building_pressure",
                 "_terminations", "_items", "_recipe", "_own_temperatures", "__weakref__")

    def __init__(self, *, soil_gas, outdoors):
        self._soil_gas = instance(soil_gas, Air, "soil_gas", "an Air")
        self._outdoors = instance(outdoors, Air, "outdoors", "an Air")
        self._c = core.network_new(soil_gas._c, outdoors._c)
        self._nodes, self._heights = [], []
        self._runs, self._temperatures = [], []
        self._fans = []  # the fan and its speed
        self._items = []  # of each run: what each item is, and its number among the fans
        self._wind_pressure = self._wind_dynamic_pressure = self._building_pressure = 0.0
        self._terminations = {}  # of each discharge, by its number
        self._recipe = {}  # what was added and set, for pickles
        self._own_temperatures = set()  # runs whose temperature was stated

    def copy(self):
        """A network of the same parts; what is done to one does not touch the other.

        Returns
        -------
        Network
            With the same names; `find_node` and `find_run` give its own handles.

        Examples
        --------
        >>> other = net.copy()
        >>> other.termination = vs.end_tee()
        >>> net.termination.name
        'open end'
        """
        other = object.__new__(Network)
        for name in Network.__slots__[:-1]:
            value = getattr(self, name)
            setattr(other, name, value.copy() if isinstance(value, (list, dict, set)) else value)
        other._c = core.network_copy(self._c)
        return other

    __copy__ = copy

    def __deepcopy__(self, memo):
        return self.copy()

    def __reduce__(self):
        return _rebuilt, state(self)

    # ---- building ---------------------------------------------------------------------------

    def _node(self, number, name, height):
        self._nodes.append(name)
        self._heights.append(float(height))
        return Node(self, number)

    @recorded
    def suction_point(self, name, *, soil):
        """Adds a suction point at slab height: a pit or hole that the soil feeds.

        Parameters
        ----------
        name : str
            Not yet used in this network.
        soil : Soil
            How the soil gives.

        Returns
        -------
        Node

        Raises
        ------
        DuplicateError
            If the name is taken, or reads like an item of a run, as 'riser[1]' beside 'riser'.
        ArgumentError
            If the name is empty.

        Examples
        --------
        >>> net.suction_point("north pit", soil=vs.soil_two_term(2e3, 4e5))
        <node 'north pit'>
        """
        soil = instance(soil, Soil, "soil", "a Soil")
        return self._node(core.network_suction_point(self._c, name, soil._c), name, 0.0)

    @recorded(once=True)
    def couple(self, first, second, resistance):
        """Couples two suction points through the soil: air drawn at one adds vacuum at the other.

        Parameters
        ----------
        first, second : Node
            Two suction points.
        resistance : float
            Vacuum at each over the volume flow at the other [Pa s/m3]; 0 to 1e9, and of two-term laws not
            above the root of the product of their a: no soil that only resists shares more. Replaces what
            was stated for the pair before.

        Returns
        -------
        Parameter
            The resistance, named "FIRST~SECOND.resistance".

        Raises
        ------
        NotFoundError
            If a node is no suction point.
        ArgumentError
            If a node belongs to another network, both are one, or resistance is outside its bounds.
        DuplicateError
            If the pair's name would read as another's: 'a~b' with 'c', 'a' with 'b~c'.

        Notes
        -----
        Superposition, exact where the soil's flow follows Darcy's law.

        Examples
        --------
        >>> sump = net.suction_point("sump", soil=soil)
        >>> net.couple(pit, sump, 400.0)
        <parameter 'pit~sump.resistance'>
        """
        core.network_couple(self._c, own_number(self, Node, first, "first"),
                            own_number(self, Node, second, "second"), resistance)
        return parameter(self, f"{first.name}~{second.name}.resistance")

    @recorded
    def junction(self, name, law):
        """Adds a junction at slab height where runs meet.

        The first run that leaves it carries the tree on; each later one closes a loop or leads to a
        further discharge, and joins as one more branch.

        Parameters
        ----------
        name : str
            Not yet used in this network.
        law : Junction
            From `wye` or `junction_lossless`.

        Returns
        -------
        Node

        Raises
        ------
        DuplicateError
            If the name is taken, or reads like an item of a run, as 'riser[1]' beside 'riser'.
        ArgumentError
            If the name is empty.

        Examples
        --------
        >>> net.junction("manifold", vs.wye(np.radians(45))).height
        0.0
        """
        law = instance(law, Junction, "law", "a Junction")
        return self._node(core.network_junction(self._c, name, law._c), name, 0.0)

    @recorded
    def discharge(self, name, termination, *, height):
        """Adds a point of discharge; there may be several.

        Parameters
        ----------
        name : str
            Not yet used in this network.
        termination : Termination
            What stands on top.
        height : float
            Above the slab [m]; -1000 to 1000.

        Returns
        -------
        Node

        Raises
        ------
        DuplicateError
            If the name is taken, or reads like an item of a run, as 'riser[1]' beside 'riser'.
        ArgumentError
            If the name is empty or height outside its bounds.

        Examples
        --------
        >>> empty = vs.Network(soil_gas=air, outdoors=air)
        >>> empty.discharge("ridge", vs.rain_cap(0.5), height=25 * feet).height
        7.62
        """
        termination = instance(termination, Termination, "termination", "a Termination")
        number = core.network_discharge(self._c, name, termination._c, height)
        self._terminations[number] = termination
        return self._node(number, name, height)

    @recorded
    def opening(self, name, opening, *, height=0.0):
        """Adds a node that the surroundings feed through an opening, to be joined by a run: an air inlet.

        Parameters
        ----------
        name : str
            Not yet used in this network.
        opening : Opening
            Its area and what is around it. Wind acts outdoors by the node's `pressure_coefficient`.
        height : float, optional
            Above the slab [m]; -1000 to 1000. The room's pressure is taken at slab height: leave an opening
            to the room there, the column of air up to the end of its run is the run's.

        Returns
        -------
        Node

        Raises
        ------
        DuplicateError
            If the name is taken.
        ArgumentError
            If the name is empty or height outside its bounds.

        Examples
        --------
        >>> net.opening("inlet", vs.opening(2e-3, to="outdoors"), height=1.0).area
        <parameter 'inlet.area'>
        """
        opening = instance(opening, Opening, "opening", "an Opening")
        return self._node(core.network_opening(self._c, name, opening._c, height), name, height)

    @recorded
    def leak(self, name, node, opening, *, temperature=None):
        """Puts a leak at a node: an opening to the surroundings through which air seeps in, or out.

        Adds the opening as a node of that name, and a run of no length named "NAME inflow" whose flow is what
        leaks in. At a junction the leak feels the static pressure where the legs meet (of a lossless
        junction the total pressure) and is none of its branches. At a suction point it leaks into the pit,
        whose run then begins at a junction "NAME edge"; soil gas comes there by a run "NAME soil", and
        further leaks of the pit join them there.
        All addresses of the pit and its run stay. The edge has a height of its own: move it where you move the
        pit (`SolutionFlag.PIT_LEVEL` reminds).

        Parameters
        ----------
        name : str
            It and the names made from it not yet used in this network.
        node : Node
            A junction or suction point that a run leaves.
        opening : Opening
            Its area and what is around it.
        temperature : float, optional
            Of the air that leaks in [K]; 233.15 to 333.15. Unless given, that of the outdoors; to be given
            of a room.

        Returns
        -------
        Node
            The opening; its area and discharge coefficient are parameters.

        Raises
        ------
        ArgumentError
            If node belongs to another network, or temperature is outside its bounds or missing.
        TopologyError
            If node is a discharge or another opening, or no run leaves it yet.
        DuplicateError
            If a name is taken.

        Examples
        --------
        >>> crack = net.leak("crack", pit, vs.opening(2e-4, to="room"), temperature=celsius(20))
        >>> point = net.solve()
        >>> inflow, soil_gas, all_of_it = (point.mass_flow(run)
        ...                                for run in (net.inflow(crack), net.inflow(pit), riser))
        >>> inflow > 0, abs(inflow + soil_gas - all_of_it) < 1e-12 * all_of_it
        (True, True)
        >>> bool(point.gradient(pit.pressure, [crack.area])[0] > 0)
        True
        """
        opening = instance(opening, Opening, "opening", "an Opening")
        place = own_number(self, Node, node, "node")
        if temperature is None and opening.to == "room":
            raise ArgumentError("temperature is missing: say how warm the room's air is that leaks in",
                                argument="temperature")
        warm = self._outdoors.temperature if temperature is None else temperature
        number = core.network_leak(self._c, name, place, opening._c, warm)
        leak = self._node(number, name, 0.0 if opening.to == "room" else node.height)
        pipe = (("pipe", None),)
        if core.network_node_kind(self._c, place) == core.VENT_NODE_SUCTION_POINT:
            run = next(i for i, (_, start, _) in enumerate(self._runs) if start == place)
            edge = self._runs[run][2]  # where the pit leaks already
            if core.network_node_count(self._c) > len(self._nodes):
                edge = self._node(number + 1, f"{name} edge", node.height)._number
                self._runs[run] = (self._runs[run][0], edge, self._runs[run][2])
                self._runs.append((f"{name} soil", place, edge))
                self._items.append(pipe)
                self._temperatures.append(self._soil_gas.temperature)
            place = edge
        self._runs.append((f"{name} inflow", number, place))
        self._items.append(pipe)
        self._temperatures.append(float(warm))
        return leak

    @recorded
    def run(self, name, from_, to, *, pipe, length):
        """Adds a run of pipe between two nodes, directed with the air.

        Parameters
        ----------
        name : str
            Not yet used in this network.
        from_ : Node
            On the suction side: a suction point that no run leaves yet, or a junction.
        to : Node
            On the discharge side: a junction or the discharge.
        pipe : Pipe
            The run's first pipe.
        length : float
            Of that pipe along its axis, bends left to their fittings [m]; 0 to 1e6.

        Returns
        -------
        Run

        Raises
        ------
        TopologyError
            If the run leaves a discharge, enters a suction point, is a second one to leave a suction
            point or to reach a discharge.
        DuplicateError
            If the name is taken, or reads like an item of a run, as 'riser[1]' beside 'riser'.
        ArgumentError
            If a node belongs to another network, the nodes are one, or length is outside its bounds.

        Examples
        --------
        >>> net.run("twin", pit, roof, pipe=vs.pipe("PVC 40", 3 * inch), length=9.0)
        Traceback (most recent call last):
            ...
        ventstack.TopologyError: Network.run: run 'riser' leaves the suction point 'pit' already; let it end at a junction, which several runs may leave
        """
        start, end = own_number(self, Node, from_, "from_"), own_number(self, Node, to, "to")
        pipe = instance(pipe, Pipe, "pipe", "a Pipe")
        number = core.network_run(self._c, name, start, end, pipe._c, length)
        self._runs.append((name, start, end))
        self._items.append((("pipe", None),))
        self._temperatures.append(self._soil_gas.temperature)
        return Run(self, number)

    # ---- finding ----------------------------------------------------------------------------

    @property
    def nodes(self):
        """list of Node : In the order they were added."""
        return [Node(self, number) for number in range(len(self._nodes))]

    @property
    def runs(self):
        """list of Run : In the order they were added."""
        return [Run(self, number) for number in range(len(self._runs))]

    def find_node(self, name):
        """The node of a name.

        Parameters
        ----------
        name : str
            As it was given.

        Returns
        -------
        Node

        Raises
        ------
        NotFoundError
            If there is none; the message tells the nearest name.

        Examples
        --------
        >>> net.find_node("pit") == pit
        True
        """
        return Node(self, core.network_find_node(self._c, name))

    def inflow(self, node):
        """The run by which air comes in at a suction point or an opening: its flow is what soil, or a leak, gives.

        Parameters
        ----------
        node : Node

        Returns
        -------
        Run
            Of a leak "NAME inflow"; of a pit that leaks "NAME soil" of its first leak, which carries
            soil gas alone; else the run that was laid there.

        Raises
        ------
        NotFoundError
            If the node is a junction or a discharge.
        TopologyError
            If no run leaves it yet.

        Examples
        --------
        >>> net.inflow(pit) == riser
        True
        >>> crack = net.leak("crack", pit, vs.opening(2e-4, to="room"), temperature=celsius(20))
        >>> net.inflow(crack), net.inflow(pit)
        (<run 'crack inflow'>, <run 'crack soil'>)
        """
        return Run(self, core.network_inflow(self._c, own_number(self, Node, node, "node")))

    def find_run(self, name):
        """The run of a name.

        Parameters
        ----------
        name : str
            As it was given.

        Returns
        -------
        Run

        Raises
        ------
        NotFoundError
            If there is none; the message tells the nearest name.

        Examples
        --------
        >>> net.find_run("riser") == riser
        True
        """
        return Run(self, core.network_find_run(self._c, name))

    # ---- conditions -------------------------------------------------------------------------

    @property
    def soil_gas(self):
        """Air : State of the gas that enters at the suction points."""
        return self._soil_gas

    @property
    def outdoors(self):
        """Air : State of the air at slab height outdoors."""
        return self._outdoors

    @property
    def wind_pressure(self):
        """float : What the wind makes at every discharge, against still air [Pa]. May be set."""
        return self._wind_pressure

    @wind_pressure.setter
    def wind_pressure(self, pressure):
        core.network_set_wind_pressure(self._c, pressure)
        self._wind_pressure = float(pressure)

    @property
    def wind_dynamic_pressure(self):
        """float : Density over 2 times the square of the wind's speed [Pa]; at least 0. May be set.

        A discharge or an opening outdoors feels its own `pressure_coefficient` times this, beside
        `wind_pressure`: `roof.pressure_coefficient.value = -0.6`.
        """
        return self._wind_dynamic_pressure

    @wind_dynamic_pressure.setter
    def wind_dynamic_pressure(self, pressure):
        core.network_set_wind(self._c, pressure)
        self._wind_dynamic_pressure = float(pressure)

    @property
    def building_pressure(self):
        """float : The room above the slab against outdoors at slab height [Pa]. May be set."""
        return self._building_pressure

    @building_pressure.setter
    def building_pressure(self, pressure):
        core.network_set_building_pressure(self._c, pressure)
        self._building_pressure = float(pressure)

    @property
    def termination(self):
        """Termination or None : What stands on the first discharge. May be set once there is one.

        Where there are several, each has its own: `Node.termination`.
        """
        return next(iter(self._terminations.values()), None)

    @termination.setter
    def termination(self, termination):
        first = next(iter(self._terminations), None)
        if first is None:
            core.network_set_termination(  # which says what is missing
                self._c, instance(termination, Termination, "termination", "a Termination")._c)
        self._put_on_top(Node(self, first), termination)

    @recorded(once=True)
    def _put_on_top(self, discharge, termination):
        termination = instance(termination, Termination, "termination", "a Termination")
        core.network_set_termination_at(self._c, discharge._number, termination._c)
        self._terminations[discharge._number] = termination

    # ---- addresses --------------------------------------------------------------------------

    def parameter(self, name):
        """The parameter of a name: a number that the network is made of.

        Parameters
        ----------
        name : str
            Such as "riser.length", "riser[2].factor", "pit.c" or "wind_pressure". An item's number may
            be left out where only one item of the run has such a parameter.

        Returns
        -------
        Parameter

        Raises
        ------
        NotFoundError
            If there is none; the message tells the nearest name.
        ArgumentError
            If several items answer to the name.

        Examples
        --------
        >>> net.parameter("riser.bore").value == riser.bore.value
        True
        """
        return parameter(self, name)

    def observable(self, name):
        """The observable of a name: a number that comes out of a solution.

        Parameters
        ----------
        name : str
            Such as "riser.flow", "riser[2].loss", "pit.pressure" or "exit_velocity".

        Returns
        -------
        Observable

        Raises
        ------
        NotFoundError
            If there is none; the message tells the nearest name.
        ArgumentError
            If several items answer to the name.

        Examples
        --------
        >>> net.observable("exit_velocity").unit
        'm/s'
        """
        return observable(self, name)

    @property
    def parameters(self):
        """list of str : Names of all numbers that the network is made of."""
        return core.network_parameter_names(self._c)

    @property
    def observables(self):
        """list of str : Names of all numbers that come out."""
        return core.network_observable_names(self._c)

    def _refresh(self, address):
        """Brings what is kept in Python up to date with a parameter that was written."""
        value, place = core.network_get(self._c, address), address.place
        if address.kind == core.VENT_PARAMETER_HEIGHT:
            self._heights[place] = value
        elif address.kind == core.VENT_PARAMETER_WIND_PRESSURE:
            self._wind_pressure = value
        elif address.kind == core.VENT_PARAMETER_WIND_DYNAMIC_PRESSURE:
            self._wind_dynamic_pressure = value
        elif address.kind == core.VENT_PARAMETER_BUILDING_PRESSURE:
            self._building_pressure = value
        elif address.kind == core.VENT_PARAMETER_SPEED:
            fan = self._items[place][address.item][1]
            self._fans[fan] = (self._fans[fan][0], value)
        elif address.kind in _OF_AIR:
            self._refresh_air()
        elif address.kind in _OF_TERMINATION:
            self._refresh_termination(place, address)

    def _refresh_air(self):
        read = {kind: core.network_get(self._c, core.network_parameter(self._c, kind, 0, 0, 0))
                for kind in _OF_AIR[:3]}
        cold, pressure, warm = read.values()
        share = pressure / self._outdoors.pressure
        gas, out = self._soil_gas, self._outdoors
        if (cold, pressure, warm) != (out.temperature, out.pressure, gas.temperature):
            self._soil_gas = Air(warm, gas.pressure * share, gas.relative_humidity)
            self._outdoors = Air(cold, pressure, out.relative_humidity)
        for run in range(len(self._temperatures)):
            own = core.network_parameter(self._c, core.VENT_PARAMETER_TEMPERATURE, run, 0, 0)
            self._temperatures[run] = core.network_get(self._c, own)

    def _refresh_termination(self, node, changed):
        struct = self._terminations[node]._c
        def read(kind, slot):
            return core.network_get(self._c, core.network_parameter(self._c, kind, node, 0, slot))
        geometry = list(struct.geometry)
        slots = set(range(core.termination_parameter_count(struct.family)))
        if changed.kind == core.VENT_PARAMETER_TERMINATION:
            slots.add(changed.slot)  # the blocked share counts beside the family's own
        for slot in slots:
            geometry[slot] = read(core.VENT_PARAMETER_TERMINATION, slot)
        self._terminations[node] = self._terminations[node]._with(
            geometry=tuple(geometry), factor=read(core.VENT_PARAMETER_TERMINATION_FACTOR, 0))

    # ---- solving ----------------------------------------------------------------------------

    def sweep(self, parameters, observe, *, start=None, threads=1, progress=False, out=None):
        """Solves many cases that differ in some parameters.

        Several cases are solved side by side. What comes out for one does not depend on the others, nor
        on how many threads work. The network itself stays as it is.

        Parameters
        ----------
        parameters : dict
            From each parameter that varies, as `Run.length` or a name, to its values, any real numbers
            of any shapes that broadcast with each other. Arrays of other kinds than float64, such as
            float32, are converted; results are float64.
        observe : list of Observable or str
            What to read in every case.
        start : Solution, optional
            Of this network: its flows are where the search starts, for cases close to it.
        threads : int, optional
            How many work at once; 1 to 1024.
        progress : bool, optional
            Whether to show a bar, where tqdm is installed.
        out : dict, optional
            From observables to arrays of float64 to write to, of the cases' shape.

        Returns
        -------
        Sweep
            Indexed by an observable it gives an array of the cases' shape.

        Warns
        -----
        DomainWarning
            If cases failed; they are NaN, and `Sweep.status` tells which.

        Raises
        ------
        NotFoundError
            If a name is not found; the message tells the nearest one.
        ArgumentError
            If an address is of another network or stands twice, shapes do not broadcast, or an array
            to write to does not fit, is read-only or shares memory with another.
        TopologyError
            If the network cannot be solved at all.

        Examples
        --------
        >>> q = net.sweep({riser.length: np.linspace(3, 60, 1000)}, observe=[riser.flow])
        >>> q[riser.flow].shape, bool(q[riser.flow][0] > q[riser.flow][-1])
        ((1000,), True)
        >>> grid = net.sweep({riser.length: [[5], [10]], "pit.c": [1e-4, 4e-4, 1e-3]},
        ...                  observe=[pit.pressure])
        >>> grid[pit.pressure].shape
        (2, 3)
        """
        if start is not None:
            start = instance(start, Solution, "start", "a Solution")
        return sweep(self, parameters, observe, start, threads, progress, out)

    def solve(self):
        """Finds the flows at which every law and every balance holds.

        Deterministic: the same network gives the same bits. Other Python threads run meanwhile, and
        may change the network: what is solved is the network as it was when this was called.

        Returns
        -------
        Solution

        Raises
        ------
        TopologyError
            If a discharge or a suction point is missing, a node leads nowhere, or runs form a loop.
        NoOperatingPointError
            If a fan's pressure never comes down to the system's.
        NotConvergedError
            If the iteration ended before the residual was small.

        Examples
        --------
        >>> point = net.solve()
        >>> point.flow(riser) > 0
        True
        """
        picture = core.network_copy(self._c)
        return Solution(self, picture, core.network_solve(picture, None))

    def operating_points(self, fan=None):
        """All flows at which fan and system agree, stable or not.

        A fan whose curve rises somewhere may meet its system at several flows; `solve` gives one.

        Parameters
        ----------
        fan : FanItem or int, optional
            Which fan to follow from end to end of its curve. Unless given, every fan whose curve rises
            somewhere, or the first one where none does.

        Returns
        -------
        list of OperatingPoint
            By rising flow of each fan followed.

        Raises
        ------
        NotFoundError
            If there is no such fan.
        NoOperatingPointError
            If the curves do not meet.

        Notes
        -----
        With one rising fan all points along its data are found, if what the system takes grows with flow: two that lie within 1/4096 of a stretch between data
        and part by less than 1e-10 of the fan's pressure are one that touches. With several rising fans there may be
        more than are found: `PointFlag.MORE_POSSIBLE` says so. It is also set where the system was seen to fall
        or jump, as shared soil and junctions that lose pressure may make it; without it none was seen, which
        is no proof.

        Examples
        --------
        >>> (point,) = net.operating_points()
        >>> abs(point.flow / net.solve().flow(riser) - 1) < 1e-9
        True
        """
        return operating_points(self, fan)

    def balance(self, targets, adjust):
        """Finds settings that give the flows or vacuums that are wanted, or the nearest there are.

        One damper at least is left wide open where the targets allow. A damper's published
        coefficients are good to a third: measure what was set.

        Parameters
        ----------
        targets : dict
            From the names of observables, such as "near leg.flow" or "far pit.pressure", to pairs of value
            and tolerance [SI]. A vacuum is a negative pressure.
        adjust : list of str or dict
            Names of the parameters that may be set, such as "near leg[2].opening" or "riser.speed";
            as a dict with a pair of bounds or None for each.

        Returns
        -------
        Balanced
            The network is as it was until `Balanced.apply`.

        Raises
        ------
        NotFoundError
            If there is no such observable or parameter; the message tells the nearest name.
        ArgumentError
            If a tolerance is not above 0, or bounds are outside the parameter's own.
        NotConvergedError
            If the settings did not come to rest.

        Examples
        --------
        >>> gate = riser.add(vs.slide_gate(1.0))
        >>> found = net.balance({"riser.flow": (30 * cfm, 0.1 * cfm)}, adjust=["riser.opening"])
        >>> found.is_met, 0.2 < found.settings["riser.opening"].value < 0.5
        (True, True)
        """
        return balance(self, targets, adjust)

    def __repr__(self):
        return f"<network of {len(self._nodes)} nodes and {len(self._runs)} runs>"


def _rebuilt(soil_gas, outdoors, *rest):
    """The network a pickle holds."""
    return rebuild(Network(soil_gas=soil_gas, outdoors=outdoors), *rest)
