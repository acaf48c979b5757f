# SPDX-License-Identifier: GPL-3.0-or-later
"""Where runs meet."""

import numpy as np

from . import core
from ._source import Coefficient, CoefficientFlag, source
from ._value import Scaled, quantity


class Junction(Scaled):
    """A law for a junction; made by `wye`, `double_wye`, `wye_by_momentum` or `junction_lossless`.

    The first run that arrives is the straight leg, each later one a branch. Any number of them may
    meet, of any areas, and air may go any way in any of them.

    Examples
    --------
    >>> vs.junction_lossless()
    <lossless junction>
    """

    __slots__ = ()
    _struct = core.junction

    def __new__(cls, *args, **kwargs):
        raise TypeError("make a Junction with wye(), double_wye(), wye_by_momentum() or "
                        "junction_lossless()")

    angle = quantity("angle", "rad", "Between a branch and the combined pipe")
    factor = quantity("factor", "-", "Multiplies the loss; 1 unless stated")

    @property
    def is_lossless(self):
        """bool : Whether the total pressure is the same in all legs."""
        return self._c.law == core.VENT_JUNCTION_LOSSLESS

    @property
    def source(self):
        """Source or None : Whose formula was chosen; None for the library's default."""
        return source(self._c.source)

    def coefficient(self, straight, flow_share, leg_area_ratio, other_area_ratio, *,
                    dividing=False):
        """Loss coefficient of one leg of a junction of two.

        Negative where the faster stream drags the slower one along.

        Parameters
        ----------
        straight : bool
            Which leg: the straight one or the branch.
        flow_share : float
            Flow of that leg over combined flow [-]; -1000 to 1000. Negative where the leg's air goes
            against the combined pipe's, above 1 where the other leg's does.
        leg_area_ratio : float
            Area of that leg over that of the combined pipe [-]; 0.01 to 100.
        other_area_ratio : float
            The same for the other leg [-]; 0.01 to 100.
        dividing : bool, optional
            Whether the combined pipe feeds the legs; else air leaves by it.

        Returns
        -------
        Coefficient
            On the velocity pressure of the combined pipe, the way the air goes there.

        Raises
        ------
        ArgumentError
            If an argument is outside its bounds.

        Notes
        -----
        Joining: Idelchik (2006), Handbook of Hydraulic Resistance, equations 7-1 and 7-2 and table
        7-1; dividing: Crane (2009), TP-410; both made continuous and read in reprints.

        Examples
        --------
        >>> vs.junction_lossless().coefficient(True, 0.5, 1.0, 1.0).value
        0.0
        """
        get = core.junction_dividing_coefficient if dividing else core.junction_coefficient
        return Coefficient._of(get(self._c, bool(straight), flow_share, leg_area_ratio,
                                   other_area_ratio))

    def coefficients(self, area_ratio, flow):
        """Loss coefficients of all legs of a junction of any number of legs.

        Parameters
        ----------
        area_ratio : array_like
            Area of each leg over that of the combined pipe, the straight leg first [-]; 0.01 to 100.
        flow : array_like
            Of each leg towards the junction, in any unit. Their sum is what the combined pipe takes.

        Returns
        -------
        list of Coefficient
            On the velocity pressure of the combined pipe, the way the air goes there; NaN where it
            moves no air.

        Raises
        ------
        ArgumentError
            If there are no legs, the arguments differ in size, or one is outside its bounds.

        Examples
        --------
        >>> k = vs.wye(90 * degree).coefficients([1, 1, 1], [0.5, 0.25, 0.25])
        >>> [round(float(leg), 1) for leg in k]
        [0.5, 0.4, 0.4]
        """
        area_ratio, flow = (np.ascontiguousarray(x, dtype=float).ravel() for x in (area_ratio, flow))
        columns = [np.empty(flow.size) for _ in range(4)]
        core.junction_legs(self._c, area_ratio, flow, *columns)
        return [Coefficient(float(value), float(uncertainty), source(int(number)),
                            CoefficientFlag(int(flags)))
                for value, uncertainty, number, flags in zip(*columns)]

    def alternatives(self, straight, flow_share, leg_area_ratio, other_area_ratio, *,
                     dividing=False):
        """The coefficient of one leg of two by every source the library has for it.

        Parameters
        ----------
        straight, flow_share, leg_area_ratio, other_area_ratio, dividing
            As in `coefficient`.

        Returns
        -------
        list of Coefficient
            The library's default first, then the authors' formulas as printed (for a straight leg
            as wide as the combined pipe and a share of 0 to 1), and momentum theory last.

        Raises
        ------
        ArgumentError
            If an argument is outside its bounds.

        Examples
        --------
        >>> for k in vs.wye(90 * degree).alternatives(False, 0.5, 1.0, 1.0):
        ...     print(f"{k.value:.2f} {k.source.author}")
        0.41 I. E. Idelchik
        0.41 I. E. Idelchik
        0.41 Crane Co.
        0.32 A. Gardel
        0.75 momentum balance
        """
        found, result = core.coefficient(), []
        while core.junction_alternative(self._c, bool(straight), bool(dividing), flow_share,
                                        leg_area_ratio, other_area_ratio, len(result), found):
            result.append(Coefficient._of(found))
        return result

    def __repr__(self):
        if self.is_lossless:
            return "<lossless junction>"
        kind = "double wye" if self._c.law == core.VENT_JUNCTION_DOUBLE_WYE else "wye"
        deviation = "" if self.factor == 1 else f", factor={self.factor!r}"
        return f"<{kind}{' by momentum' if self.source else ''}: angle={self.angle!r}{deviation}>"


def junction_lossless():
    """A junction that costs nothing: a wide plenum, or to leave the junction out.

    Returns
    -------
    Junction

    Examples
    --------
    >>> vs.junction_lossless().is_lossless
    True
    """
    return Junction._of(core.junction_lossless())


def wye(angle):
    """A wye, or a tee: a straight leg and branches that join it at an angle.

    Any number of legs, each of its own area and density, with air going any way in any of them.

    Parameters
    ----------
    angle : float
        Between branch and combined pipe [rad], pi/2 for a tee; 0 to 150 degrees, from the source 15
        to 90 degrees.

    Returns
    -------
    Junction

    Raises
    ------
    ArgumentError
        If angle is outside its bounds.

    Notes
    -----
    Momentum theory with the corrections of Idelchik (2006), Handbook of Hydraulic Resistance,
    equations 7-1 and 7-2 and table 7-1, while the legs join, and of Crane (2009), TP-410, while the
    combined pipe feeds them, made continuous; read in reprints. They were measured with one branch:
    with more of them the uncertainty is wider.

    Examples
    --------
    >>> tee, slanted = vs.wye(np.pi / 2), vs.wye(np.pi / 4)
    >>> (slanted.coefficient(False, 0.5, 1.0, 1.0).value
    ...  < tee.coefficient(False, 0.5, 1.0, 1.0).value)
    True
    """
    return Junction._of(core.wye(angle))


def double_wye(angle):
    """A double wye, or a cross: branches by turns on opposite sides of a straight leg.

    Parameters
    ----------
    angle : float
        Between a branch and the combined pipe [rad], pi/2 for a cross; 0 to 150 degrees.

    Returns
    -------
    Junction

    Raises
    ------
    ArgumentError
        If angle is outside its bounds.

    Notes
    -----
    As `wye`, but air of one branch blows into the opposite one where that takes air away.

    Examples
    --------
    >>> vs.double_wye(np.pi / 4)
    <double wye: angle=0.7853981633974483>
    """
    return Junction._of(core.double_wye(angle))


def wye_by_momentum(angle):
    """A wye by momentum theory alone: a second opinion for any angle.

    Parameters
    ----------
    angle : float
        Between branch and combined pipe [rad], pi/2 for a tee; 0 to 150 degrees.

    Returns
    -------
    Junction

    Raises
    ------
    ArgumentError
        If angle is outside its bounds.

    Notes
    -----
    The pipes air enters by meet at one static pressure; what leaves by a pipe keeps the momentum
    brought along its direction. It makes no energy.

    Examples
    --------
    >>> vs.wye_by_momentum(np.pi / 2).coefficient(False, 0.5, 1.0, 1.0).value
    0.75
    """
    return Junction._of(core.wye_by_momentum(angle))
