# SPDX-License-Identifier: GPL-3.0-or-later
"""Where runs meet."""

from . import core
from ._source import Coefficient
from ._value import Value, quantity


class Junction(Value):
    """A law for a junction; made by `wye` or `junction_lossless`.

    The first run that arrives is the straight leg, each later one a branch.

    Examples
    --------
    >>> vs.junction_lossless()
    <lossless junction>
    """

    __slots__ = ()
    _struct = core.junction

    def __new__(cls, *args, **kwargs):
        raise TypeError("make a Junction with wye() or junction_lossless()")

    angle = quantity("angle", "rad", "Between a branch and the combined pipe")
    factor = quantity("factor", "-", "Multiplies the loss; 1 unless stated")

    @property
    def is_lossless(self):
        """bool : Whether the total pressure is the same in all legs."""
        return self._c.law == core.VENT_JUNCTION_LOSSLESS

    def coefficient(self, straight, flow_share, leg_area_ratio, other_area_ratio):
        """Loss coefficient of one leg while two legs join.

        Negative where the faster stream drags the slower one along.

        Parameters
        ----------
        straight : bool
            Which leg: the straight one or the branch.
        flow_share : float
            Flow of that leg over combined flow [-]; 0 to 1.
        leg_area_ratio : float
            Area of that leg over that of the combined pipe [-]; 0.01 to 100.
        other_area_ratio : float
            The same for the other leg [-]; 0.01 to 100.

        Returns
        -------
        Coefficient
            On the velocity pressure of the combined pipe.

        Raises
        ------
        ArgumentError
            If an argument is outside its bounds.

        Notes
        -----
        Idelchik (2006), Handbook of Hydraulic Resistance, equations 7-1 and 7-2 and table 7-1, made
        continuous; read in a reprint.

        Examples
        --------
        >>> vs.junction_lossless().coefficient(True, 0.5, 1.0, 1.0).value
        0.0
        """
        return Coefficient._of(core.junction_coefficient(
            self._c, bool(straight), flow_share, leg_area_ratio, other_area_ratio))

    def __repr__(self):
        return "<lossless junction>" if self.is_lossless else f"<wye: angle={self.angle!r}>"


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
    """A wye, or a tee: a straight leg and a branch that joins it at an angle.

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
    equations 7-1 and 7-2 and table 7-1, made continuous; read in a reprint.

    Examples
    --------
    >>> tee, slanted = vs.wye(np.pi / 2), vs.wye(np.pi / 4)
    >>> (slanted.coefficient(False, 0.5, 1.0, 1.0).value
    ...  < tee.coefficient(False, 0.5, 1.0, 1.0).value)
    True
    """
    return Junction._of(core.wye(angle))
