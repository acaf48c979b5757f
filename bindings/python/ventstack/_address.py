# SPDX-License-Identifier: GPL-3.0-or-later
"""Addresses: every number a network is made of, and every number that comes out."""

import difflib

from . import core
from ._errors import ArgumentError, NotFoundError


class _Address:
    """One number of one network, known by its name."""

    __slots__ = ("_network", "_c", "name")
    _key: tuple[str, ...] = ()  # what tells it from others of its network

    def __init__(self, network, address, name):
        self._network = network
        self._c = address
        self.name = name

    def _identity(self):
        return tuple(getattr(self._c, part) for part in self._key)

    def __eq__(self, other):
        return (type(other) is type(self) and other._network is self._network
                and other._identity() == self._identity())

    def __hash__(self):
        return hash((type(self), id(self._network), self._identity()))

    def __reduce__(self):
        find = parameter if isinstance(self, Parameter) else observable
        return find, (self._network, self.name)

    def __str__(self):
        return self.name

    def __repr__(self):
        return f"<{type(self).__name__.lower()} {self.name!r}>"


class Parameter(_Address):
    """A number that a network is made of.

    Read it as an attribute of what it belongs to, `riser.length`, or find it by its name,
    `Network.parameter`. It stays valid while the network grows.

    Attributes
    ----------
    name : str
        As `Network.parameter` takes it.

    Examples
    --------
    >>> riser.length
    <parameter 'riser.length'>
    >>> riser.length.value > 0, riser.length.unit
    (True, 'm')
    >>> riser.length.value = 12
    >>> net.parameter("riser.length").value
    12.0
    """

    __slots__ = ()
    _key = ("kind", "place", "item", "slot")

    def _range(self):
        found = core.parameter_range()
        core.network_parameter_range(self._network._c, self._c, found)
        return found

    @property
    def unit(self):
        """str : Its unit; empty for a ratio."""
        return self._range().unit

    @property
    def range(self):
        """tuple of float : Its bounds, both allowed."""
        found = self._range()
        return found.low, found.high

    @property
    def value(self):
        """float : What the network holds [`unit`]. May be set."""
        return core.network_get(self._network._c, self._c)

    @value.setter
    def value(self, value):
        core.network_set(self._network._c, self._c, value)
        self._network._refresh(self._c)
        if self._c.kind == core.VENT_PARAMETER_TEMPERATURE:
            self._network._own_temperatures.add(self._c.place)


class Observable(_Address):
    """A number that comes out of a solution.

    Read it as an attribute of what it belongs to, `riser.flow`, or find it by its name,
    `Network.observable`.

    Attributes
    ----------
    name : str
        As `Network.observable` takes it.

    Examples
    --------
    >>> riser.flow, pit.pressure.unit
    (<observable 'riser.flow'>, 'Pa')
    >>> point = net.solve()
    >>> point.observe(riser.flow) == point.flow(riser)
    True
    """

    __slots__ = ()
    _key = ("kind", "place", "item")

    @property
    def unit(self):
        """str : Its unit; empty for a ratio."""
        return core.observable_unit(self._c)


def parameter(network, name):
    """The parameter of a name, see `Network.parameter`."""
    found = core.network_find_parameter(network._c, name)
    return Parameter(network, found, core.network_parameter_text(network._c, found))


def observable(network, name):
    """The observable of a name, see `Network.observable`."""
    found = core.network_find_observable(network._c, name)
    return Observable(network, found, core.network_observable_text(network._c, found))


def own(network, address, kind, find, argument):
    """An address of this very network, given as one or by its name."""
    if isinstance(address, str):
        return find(network, address)
    if not isinstance(address, kind):
        what = kind.__name__
        raise TypeError(f"{argument} must hold {what}s or names, not {type(address).__name__}")
    if address._network is not network:
        raise ArgumentError(f"{argument} holds {address!r} of another network", argument=argument)
    return address


def own_all(network, addresses, kind, find, argument):
    """Such addresses, given as a list or as a single one."""
    if isinstance(addresses, (str, kind)):
        addresses = [addresses]
    return [own(network, one, kind, find, argument) for one in addresses]


def of_place(network, place, quantity):
    """What a part of a network has under this name; an AttributeError that lists what it has."""
    if quantity.startswith("_"):
        raise AttributeError(quantity)
    for find in (parameter, observable):
        try:
            return find(network, f"{place}.{quantity}")
        except NotFoundError:
            continue
        except ArgumentError as error:  # several items have it
            raise AttributeError(str(error)) from None
    known = sorted({name[len(place) + 1:] for name in core.network_parameter_names(network._c)
                    + core.network_observable_names(network._c)
                    if name.startswith(place + ".")})
    near = difflib.get_close_matches(quantity, known, 3, 0.5)
    raise AttributeError(f"{place!r} has no {quantity!r}"
                         + (f"; did you mean {' or '.join(map(repr, near))}?" if near
                            else f"; it has {', '.join(known)}" if known else ""),
                         name=quantity)
