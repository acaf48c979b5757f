# SPDX-License-Identifier: GPL-3.0-or-later
"""How a network was built, so that a pickle can build it anew."""

import functools

from . import core


class Place(int):
    """The number of a node, where its handle stood among arguments."""

    __slots__ = ()


class Slot(int):
    """The number of an item in its run, where a setting belongs to one."""

    __slots__ = ()


def recorded(build=None, *, once=False):
    """A method of a network, or of a handle in one, that builds; it is kept with its arguments.

    With `once` it replaces what was kept for the same places: a setting, not a part. A method that
    is recorded must call no other one that is."""
    if build is None:
        return functools.partial(recorded, once=once)

    @functools.wraps(build)
    def method(self, *args, **kwargs):
        result = build(self, *args, **kwargs)
        network = getattr(self, "_network", self)
        args = [_kept(x) for x in args]
        kwargs = {name: _kept(x) for name, x in kwargs.items()}
        run = None if network is self else self._number
        places = (x for x in (*args, *kwargs.values()) if isinstance(x, (Place, Slot)))
        key = (build.__name__, run, *places) if once else len(network._recipe)
        network._recipe.pop(key, None)  # the latest comes last
        network._recipe[key] = run, build.__name__, args, kwargs
        return result

    return method


def _kept(argument):
    return Place(argument._number) if hasattr(argument, "_network") else argument


def state(network):
    """What a pickle of a network holds: air, parts, and the numbers that may have changed since."""
    return (network._soil_gas, network._outdoors, list(network._recipe.values()),
            sorted(network._own_temperatures), core.network_parameter_values(network._c))


def rebuild(network, parts, own_temperatures, values):
    """Does to an empty network what was done to the one that was pickled."""
    from ._handles import Node, Run  # which record by this module

    def found(x):
        return Node(network, int(x)) if isinstance(x, Place) else x

    for run, name, args, keywords in parts:
        target = network if run is None else Run(network, run)
        if name == "couple":  # what soils share is held to what they are, and both follow as values
            named = dict(zip(("first", "second", "resistance"), args))
            args, keywords = (), {**named, **keywords, "resistance": 0.0}
        getattr(target, name)(*map(found, args), **{key: found(x) for key, x in keywords.items()})
    for run in own_temperatures:
        Run(network, run).temperature = network._temperatures[run]
    address = core.parameter()
    for number, value in enumerate(values):
        core.network_parameter_entry(network._c, number, address)
        if core.network_get(network._c, address) != value:
            core.network_set(network._c, address, value)
            network._refresh(address)
    return network
