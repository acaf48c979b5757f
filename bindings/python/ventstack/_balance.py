# SPDX-License-Identifier: GPL-3.0-or-later
"""Which openings give the flows or vacuums that are wanted."""

import collections.abc
import dataclasses

from . import core
from ._checks import instance
from ._errors import ArgumentError
from ._value import Bound

# The weather is not for us to adjust, and a termination is exchanged, not set.
_FIXED = (core.PARAMETER_OUTDOOR_TEMPERATURE, core.PARAMETER_BAROMETRIC_PRESSURE,
          core.PARAMETER_SOIL_GAS_TEMPERATURE, core.PARAMETER_TERMINATION,
          core.PARAMETER_TERMINATION_FACTOR)


@dataclasses.dataclass(frozen=True)
class Achievement:
    """What became of a target.

    Attributes
    ----------
    wanted, tolerance : float
        As stated.
    achieved : float
        At the settings found.
    deviation : float
        Achieved less wanted, in tolerances [-].
    is_met : bool
        Whether that is at most one either way.

    Examples
    --------
    >>> found = net.balance({"riser.flow": (35 * cfm, 1 * cfm)}, adjust=["riser.speed"])
    >>> found.targets["riser.flow"].is_met
    True
    """

    wanted: float
    tolerance: float
    achieved: float
    deviation: float
    is_met: bool


@dataclasses.dataclass(frozen=True)
class Setting:
    """What became of a parameter that may be adjusted.

    Attributes
    ----------
    before, value : float
        In the network, and found.
    low, high : float
        Its bounds.
    pull : float
        Where the targets pull it, by half the sum of their squares; past a bound it stands at, else 0
        or near.
    at_bound : int
        1 at high, -1 at low, else 0.
    is_wide_open : bool
        Whether it is a damper that takes the least it can.

    Examples
    --------
    >>> found = net.balance({"riser.flow": (35 * cfm, 1 * cfm)}, adjust=["riser.speed"])
    >>> found.settings["riser.speed"].value < 1
    True
    """

    before: float
    value: float
    low: float
    high: float
    pull: float
    at_bound: int
    is_wide_open: bool


class Balanced(Bound):
    """What `Network.balance` found; the network is as it was until `apply`.

    Attributes
    ----------
    is_met : bool
        Whether every target is met within its tolerance.
    targets : dict of str to Achievement
        By the names given.
    settings : dict of str to Setting
        By the names given.
    verdict : str
        In words: whether it is balanced, which damper is open, which target cannot be met and why.

    Examples
    --------
    >>> found = net.balance({"riser.flow": (900 * cfm, 5 * cfm)}, adjust={"riser.speed": (0.5, 1)})
    >>> found.is_met, found.settings["riser.speed"].value
    (False, 1.0)
    >>> print(found.verdict.split(": ")[1])
    riser[1].speed stands at its upper bound, 1.
    """

    __slots__ = ("is_met", "targets", "settings", "verdict", "_network", "_c")
    _instead = "pickle its settings, or the network after apply()"

    def __init__(self, network, found, targets, settings):
        self._network = network
        self._c = found
        self.is_met = core.balanced_is_met(found)
        self.verdict = core.balanced_text(found)
        self.targets = {name: _read(Achievement, core.achievement(), core.balanced_target,
                                    found, i) for i, name in enumerate(targets)}
        self.settings = {name: _read(Setting, core.setting(), core.balanced_setting, found, i)
                         for i, name in enumerate(settings)}

    def apply(self):
        """Gives the network the settings that were found.

        Returns
        -------
        Network
            The one that was balanced.

        Examples
        --------
        >>> net = net.balance({"riser.flow": (35 * cfm, 0.1 * cfm)}, adjust=["riser.speed"]).apply()
        >>> round(net.solve().flow(riser) / cfm, 1)
        35.0
        """
        core.balanced_apply(self._c, self._network._c)
        for name in self.settings:
            self._network._refresh(core.network_find_parameter(self._network._c, name))
        return self._network

    def __repr__(self):
        return f"<balanced: {self.verdict}>"


def _read(kind, struct, reader, found, number):
    reader(found, number, struct)
    return kind(**{field.name: field.type(getattr(struct, field.name))
                   for field in dataclasses.fields(kind)})


def _pair(value, argument, what):
    if isinstance(value, str) or not isinstance(value, collections.abc.Iterable):
        raise TypeError(f"{argument} must be {what}")
    value = tuple(value)
    if len(value) != 2:
        raise TypeError(f"{argument} must be {what}, not {len(value)} numbers")
    return value


def balance(network, targets, adjust):
    """The settings that meet targets, see `Network.balance`."""
    targets = instance(targets, collections.abc.Mapping, "targets",
                       "a dict of observables to (value, tolerance)")
    if isinstance(adjust, str):
        raise TypeError("adjust must be a list of names, not one str")
    bounds = adjust if isinstance(adjust, collections.abc.Mapping) else dict.fromkeys(adjust)
    task = core.balance_new(network._c)
    for name, wanted in targets.items():
        value, tolerance = _pair(wanted, f"targets[{name!r}]", "a pair of value and tolerance")
        core.balance_target_named(task, network._c, name, value, tolerance)
    for name, limits in bounds.items():
        kind, *_ = core.network_parameter_named(network._c, name)
        if kind in _FIXED:
            raise ArgumentError(f"adjust holds {name!r}, which cannot be set on a stack",
                                argument="adjust")
        low, high = (0.0, 0.0) if limits is None else _pair(
            limits, f"adjust[{name!r}]", "a pair of bounds or None")
        core.balance_adjust_named(task, network._c, name, limits is not None, low, high)
    return Balanced(network, core.balance_solve(task), tuple(targets), tuple(bounds))
