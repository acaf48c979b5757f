# SPDX-License-Identifier: GPL-3.0-or-later
"""Handles to the parts of a network: nodes, runs and the items of runs."""

import math

from . import core
from ._address import Parameter, of_place, parameter
from ._checks import instance
from ._errors import ArgumentError
from ._fan import Fan
from ._fitting import Fitting
from ._pipe import Pipe
from ._recipe import Slot, recorded


class _Part:
    """What has addresses as its attributes: they are not assigned to, their values are."""

    __slots__ = ()

    def __setattr__(self, quantity, value):
        if not hasattr(type(self), quantity):
            address = getattr(self, quantity)  # or an AttributeError that tells what there is
            raise AttributeError(
                f"{quantity!r} is set by its value: net.parameter({address.name!r}).value = ..."
                if isinstance(address, Parameter) else
                f"{address.name!r} is a result and cannot be set", name=quantity)
        object.__setattr__(self, quantity, value)


class _Handle(_Part):
    """A node or a run of a network, known by its number."""

    __slots__ = ("_network", "_number")

    def __init__(self, network, number):
        self._network = network
        self._number = number

    def __eq__(self, other):
        return (type(other) is type(self) and other._network is self._network
                and other._number == self._number)

    def __hash__(self):
        return hash((type(self), id(self._network), self._number))

    def __getattr__(self, quantity):
        """The address of a parameter or observable of this part: riser.length, pit.pressure."""
        if quantity.startswith("_"):
            raise AttributeError(quantity)
        return of_place(self._network, self.name, quantity)


def own_number(network, kind, handle, argument):
    """The number of a node or run of this very network."""
    if instance(handle, kind, argument, f"a {kind.__name__}")._network is not network:
        raise ArgumentError(f"{argument} is {handle!r} of another network", argument=argument)
    return handle._number


class Node(_Handle):
    """A node of a network: a suction point, a junction or the discharge.

    `Network.suction_point`, `Network.junction` and `Network.discharge` make them.

    Examples
    --------
    >>> net = vs.Network(soil_gas=air, outdoors=air)
    >>> net.suction_point("pit", soil=soil)
    <node 'pit'>
    """

    __slots__ = ()

    @property
    def name(self):
        """str : Its name."""
        return self._network._nodes[self._number]

    @property
    def height(self):
        """float : Above the slab [m]; -1000 to 1000. May be set."""
        return self._network._heights[self._number]

    @height.setter
    def height(self, height):
        core.network_set_height(self._network._c, self._number, height)
        self._network._heights[self._number] = float(height)

    @property
    def termination(self):
        """Termination : What stands on a discharge. May be set; no other node has one."""
        found = self._network._terminations.get(self._number)
        if found is None:
            raise AttributeError(f"{self!r} is no discharge", name="termination")
        return found

    @termination.setter
    def termination(self, termination):
        self._network._put_on_top(self, termination)

    def __repr__(self):
        return f"<node {self.name!r}>"


class Run(_Handle):
    """A run of a network: a row of pipes, fittings and fans in the order the air meets them.

    `Network.run` makes it.

    Examples
    --------
    >>> net = vs.Network(soil_gas=air, outdoors=air)
    >>> pit, roof = net.suction_point("pit", soil=soil), net.discharge("roof", vs.open_end(), height=6)
    >>> riser = net.run("riser", pit, roof, pipe=vs.pipe("PVC 40", 3 * inch), length=6.5)
    >>> riser.add(vs.elbow(np.radians(90), 1.5), count=2)
    <item 1 of run 'riser': elbow>
    """

    __slots__ = ()

    @property
    def name(self):
        """str : Its name."""
        return self._network._runs[self._number][0]

    @property
    def start(self):
        """Node : Where the air enters it."""
        return Node(self._network, self._network._runs[self._number][1])

    @property
    def end(self):
        """Node : Where the air leaves it."""
        return Node(self._network, self._network._runs[self._number][2])

    @property
    def temperature(self):
        """float : Mean of the gas in it [K]; 233.15 to 333.15. May be set; the soil gas's until.

        What is set, here or as a parameter, is the run's own from then on, even where it is what the soil gas
        has; None takes that back.
        """
        return self._network._temperatures[self._number]

    @temperature.setter
    def temperature(self, temperature):
        network = self._network
        if temperature is None:
            core.network_clear_temperature(network._c, self._number)
            network._temperatures[self._number] = network._soil_gas.temperature
            network._own_temperatures.discard(self._number)
        else:
            core.network_set_temperature(network._c, self._number, temperature)
            network._temperatures[self._number] = float(temperature)
            network._own_temperatures.add(self._number)

    @recorded
    def add(self, part, count=1):
        """Adds fittings or a fan to the end of the run.

        Parameters
        ----------
        part : Fitting or Fan
            A fitting's K is on the run's last pipe so far. The network keeps a copy of a fan.
        count : float, optional
            How many of a fitting [-]; 0 to 1e6, a fraction is allowed. Fans are added one by one.

        Returns
        -------
        Item
            What was added; a fan's has a `speed`.

        Raises
        ------
        ArgumentError
            If count is outside its bounds, or not 1 for a fan.

        Examples
        --------
        >>> riser.add(vs.entry_flush()).number
        1
        """
        if isinstance(part, Fan):
            if count != 1:
                raise ArgumentError(f"count is {count}; it must be 1 for a fan: add fans one by one",
                                    argument="count")
            number = core.network_fan(self._network._c, self._number, part._c)
            self._network._fans.append((part, 1.0))
            self._remember(part.name, len(self._network._fans) - 1)
            return FanItem(self, number, part.name, len(self._network._fans) - 1)
        if isinstance(part, Pipe):
            raise TypeError("part is a Pipe: add_pipe() takes it, with its length")
        part = instance(part, Fitting, "part", "a Fitting or a Fan")
        number = core.network_fitting(self._network._c, self._number, part._c, count)
        self._remember(part.name)
        return Item(self, number, part.name)

    @recorded
    def insert(self, part, after, count=1):
        """Puts a fitting into the run behind one of its items; those behind it count one more.

        For what is found in a stack that was built: water in a low point, a damper put in later. An `Item` or an
        address of what stands behind it means its neighbour from then on.

        Parameters
        ----------
        part : Fitting
            Its K is on the pipe before it.
        after : int
            Number of the item it comes behind; -1 for the very start of the run, where it stands on a piece of the
            first pipe without length, and those behind it count two more.
        count : float, optional
            How many of it [-]; 0 to 1e6, a fraction is allowed.

        Returns
        -------
        Item
            What was put in.

        Raises
        ------
        ArgumentError
            If count is outside its bounds.
        NotFoundError
            If the run has no such item.

        Examples
        --------
        >>> riser.insert(vs.fitting_constant(4.0), after=0)
        <item 1 of run 'riser': stated coefficient>
        """
        part = instance(part, Fitting, "part", "a Fitting")
        after = instance(after, int, "after", "an int")
        number = core.network_insert_fitting(self._network._c, self._number, after, part._c, count)
        items = self._network._items[self._number]
        put_in = ((part.name, None),) if after >= 0 else (items[0], (part.name, None))
        self._network._items[self._number] = items[:after + 1] + put_in + items[after + 1:]
        return Item(self, number, part.name)

    @recorded(once=True)
    def _replace(self, item, fan):
        network, placed = self._network, self[item]
        core.network_set_fan(network._c, self._number, item, fan._c)
        network._fans[placed._fan] = (fan, placed.speed)
        items = list(network._items[self._number])
        items[item] = fan.name, placed._fan
        network._items[self._number] = tuple(items)

    @recorded(once=True)
    def _switch_off(self, item, resistance):
        resistance = instance(resistance, Fitting, "resistance", "a Fitting")
        core.network_fan_off(self._network._c, self._number, item, resistance._c)

    @recorded
    def add_pipe(self, pipe, length, transition_angle=math.pi):
        """Continues the run with another pipe; where the bore changes, the change costs its loss.

        Parameters
        ----------
        pipe : Pipe
            The next pipe.
        length : float
            Of it, along its axis [m]; 0 to 1e6.
        transition_angle : float, optional
            Included angle of the cone between the pipes [rad]; above 0, to pi, a sudden change.
            Without meaning where the bores agree.

        Returns
        -------
        Item
            What was added.

        Raises
        ------
        ArgumentError
            If an argument is outside its bounds.

        Examples
        --------
        >>> riser.add_pipe(vs.pipe("PVC 40", 4 * inch), 3.0, transition_angle=np.radians(20))
        <item 1 of run 'riser': pipe>
        """
        pipe = instance(pipe, Pipe, "pipe", "a Pipe")
        number = core.network_pipe(self._network._c, self._number, pipe._c, length, transition_angle)
        self._remember("pipe")
        return Item(self, number, "pipe")

    def _remember(self, what, fan=None):
        self._network._items[self._number] += ((what, fan),)

    def __len__(self):
        return len(self._network._items[self._number])

    def __bool__(self):
        return True

    def __getitem__(self, number):
        """An item of the run; its parameters and observables are its attributes: riser[2].factor."""
        number = number.__index__()
        if not 0 <= number < len(self):
            raise IndexError(f"run {self.name!r} has {len(self)} items, numbered from 0")
        what, fan = self._network._items[self._number][number]
        return Item(self, number, what) if fan is None else FanItem(self, number, what, fan)

    def __repr__(self):
        return f"<run {self.name!r}>"


class Item(_Part):
    """A part of a run.

    Attributes
    ----------
    run : Run
        The run it is in.
    number : int
        Its place among the run's items; 0 is the run's first pipe.
    what : str
        In words.

    Examples
    --------
    >>> riser.add(vs.mitre(np.radians(45))).what
    'mitre'
    """

    __slots__ = ("run", "number", "what")

    def __init__(self, run, number, what):
        self.run = run
        self.number = number
        self.what = what

    def __eq__(self, other):
        return (isinstance(other, Item) and other.run == self.run and other.number == self.number)

    def __hash__(self):
        return hash((self.run, self.number))

    def __getattr__(self, quantity):
        """The address of a parameter or observable of this item: riser[2].factor."""
        if quantity.startswith("_") or quantity in Item.__slots__:
            raise AttributeError(quantity)
        place = self.run.name + (f"[{self.number}]" if self.number else "")
        found = of_place(self.run._network, place, quantity)
        if found._c.item != self.number:  # the run's only one, which is another item
            raise AttributeError(f"{self!r} has no {quantity!r}", name=quantity)
        return found

    def __repr__(self):
        return f"<item {self.number} of run {self.run.name!r}: {self.what}>"


class FanItem(Item):
    """A fan in a run.

    Attributes
    ----------
    run, number, what
        As of any `Item`.

    Examples
    --------
    >>> placed = riser.add(fan)
    >>> placed.speed = 0.8
    """

    __slots__ = ("_fan",)

    def __init__(self, run, number, what, fan):
        super().__init__(run, number, what)
        self._fan = fan

    @property
    def speed(self):
        """float : Ratio to the speed of the fan's curve [-]; above 0, to 10. May be set."""
        return self.run._network._fans[self._fan][1]

    @speed.setter
    def speed(self, speed):
        network = self.run._network
        core.network_set_fan_speed(network._c, self.run._number, self.number, speed)
        network._fans[self._fan] = (network._fans[self._fan][0], float(speed))

    def replace(self, fan):
        """Puts another fan in its place; speed and pressure factor stay.

        Parameters
        ----------
        fan : Fan
            The network keeps a copy.

        Returns
        -------
        None

        Examples
        --------
        >>> placed = riser.add(fan)
        >>> before = net.solve().flow(riser)
        >>> placed.replace(vs.Fan("weaker", flow=[0, 60, 120] * cfm, pressure=[1.0, 0.7, 0.0] * inwc))
        >>> net.solve().flow(riser) < before
        True
        """
        fan = instance(fan, Fan, "fan", "a Fan")
        self.run._replace(Slot(self.number), fan)
        self.what = fan.name

    @property
    def is_on(self):
        """bool : Whether it runs; see `switch_off`."""
        name = f"{self.run.name}[{self.number}].running"
        network = self.run._network
        return name not in network.parameters or parameter(network, name).value != 0

    def switch_off(self, resistance):
        """Takes the fan out of service: it stands still and resists like a fitting, either way.

        What a stopped fan resists is known from its maker or by measuring: there is no handbook value and no
        default. Draw air through it with another fan; K is the total pressure it takes over the
        velocity pressure in the pipe.

        Parameters
        ----------
        resistance : Fitting
            As `fitting_constant`; its K is on the pipe before the fan.

        Returns
        -------
        None

        Notes
        -----
        A back-draft damper is a fitting of its own, `check_damper`. What the fan resists as has addresses at the
        same item from then on: `riser[2].k`, and `riser[2].running`, which is 0, and 1 once it runs again.

        Examples
        --------
        >>> placed = riser.add(fan)
        >>> placed.switch_off(vs.fitting_constant(8.0))
        >>> net.solve().warnings[0].message[:23]
        "fan 'invented' is off: "
        >>> placed.switch_on()
        >>> placed.is_on
        True
        """
        self.run._switch_off(Slot(self.number), resistance)

    def switch_on(self):
        """Lets the fan run again, at the speed it had.

        Returns
        -------
        None

        Examples
        --------
        >>> placed = riser.add(fan)
        >>> placed.switch_on()
        """
        core.network_fan_on(self.run._network._c, self.run._number, self.number)
