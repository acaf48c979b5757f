# SPDX-License-Identifier: GPL-3.0-or-later
"""Every flow at which a fan and its system agree."""

import dataclasses
import enum

import numpy as np

from . import core
from ._checks import instance
from ._errors import ArgumentError
from ._handles import FanItem
from ._solution import Solution


class PointFlag(enum.IntFlag):
    """What is to be known of an operating point.

    Attributes
    ----------
    STABLE
        The system's pressure rises faster with flow than the fan's.
    TOUCHING
        The curves touch without crossing: it holds on one side only.
    NEAR_STALL
        Below 1.1 of the flow up to which the fan's curve rises.
    EXTRAPOLATED
        Beyond the fan's data.
    ONE_OF_SEVERAL
        The network has more than one point.
    MORE_POSSIBLE
        There may be points that were not found.

    Examples
    --------
    >>> net.operating_points()[0].flags
    <PointFlag.STABLE: 1>
    """

    STABLE = core.VENT_POINT_STABLE
    TOUCHING = core.VENT_POINT_TOUCHING
    NEAR_STALL = core.VENT_POINT_NEAR_STALL
    EXTRAPOLATED = core.VENT_POINT_EXTRAPOLATED
    ONE_OF_SEVERAL = core.VENT_POINT_ONE_OF_SEVERAL
    MORE_POSSIBLE = core.VENT_POINT_MORE_POSSIBLE


@dataclasses.dataclass(frozen=True)
class OperatingPoint:
    """A flow at which a fan makes what its system takes; made by `Network.operating_points`.

    Attributes
    ----------
    fan : int
        The fan that was followed, in the order they were added.
    flags : PointFlag
        What is to be known.
    flow : float
        Through that fan, actual [m3/s].
    pressure : float
        The rise it makes there [Pa].
    fan_slope, system_slope : float
        Of its curve and of the system's [Pa s/m3].
    stall_flow : float
        Up to here the fan's curve rises somewhere; NaN if it never does [m3/s].

    Examples
    --------
    >>> (point,) = net.operating_points()
    >>> point.is_stable, point.system_slope > 0 > point.fan_slope
    (True, True)
    """

    fan: int
    flags: PointFlag
    flow: float
    pressure: float
    fan_slope: float
    system_slope: float
    stall_flow: float

    @property
    def is_stable(self):
        """bool : Whether the air would stay at this flow."""
        return bool(self.flags & PointFlag.STABLE)

    def solution(self):
        """The network at this point, also at one where no air would stay.

        Returns
        -------
        Solution
            Of the network as it was when the point was found.

        Examples
        --------
        >>> (point,) = net.operating_points()
        >>> abs(point.solution().flow(riser) / net.solve().flow(riser) - 1) < 1e-9
        True
        """
        network, picture, fans = self._origin
        found = Solution(network, picture, core.network_solve_at(
            picture, self.fan, self.flow, self.pressure, self.system_slope))
        found._fans = fans
        return found


def fan_number(network, fan):
    """The number the core knows a fan by; None is every fan."""
    if fan is None:
        return core.VENT_EVERY_FAN
    if not isinstance(fan, FanItem):
        number = instance(fan, (int, np.integer), "fan", "a FanItem or an int").__index__()
        return number if number >= 0 else -2  # no fan; -1 would be every one
    if fan.run._network is not network:
        raise ArgumentError(f"fan is {fan!r} of another network", argument="fan")
    return fan._fan


def operating_points(network, fan):
    """All points of a network, see `Network.operating_points`."""
    number, picture = fan_number(network, fan), core.network_copy(network._c)
    origin = network, picture, tuple(network._fans)
    rows = np.empty((16, 7))
    count = core.network_points(picture, number, rows)
    if count > len(rows):
        rows = np.empty((count, 7))
        core.network_points(picture, number, rows)
    return [_point(row.tolist(), origin) for row in rows[:count]]


def _point(row, origin):
    fan, flags, *numbers = row
    point = OperatingPoint(int(fan), PointFlag(int(flags)), *numbers)
    object.__setattr__(point, "_origin", origin)  # what solution() is taken from; no part of its value
    return point
