# SPDX-License-Identifier: GPL-3.0-or-later
"""Fittings: elbows, changes of area, entries."""

from . import core
from ._checks import instance
from ._errors import ArgumentError
from ._pipe import Pipe
from ._source import Coefficient
from ._value import Value, quantity


class Part(Value):
    """What fittings and terminations have in common."""

    __slots__ = ()

    def __new__(cls, *args, **kwargs):
        raise TypeError(f"make a {cls.__name__} with one of the functions that return one")

    factor = quantity("factor", "-", "Multiplies the coefficient; 1 unless stated")

    @property
    def name(self):
        """str : The kind, in words."""
        return self._core_name(self._c.family)

    @property
    def parameters(self):
        """dict : Geometry by name, in SI."""
        found = core.parameter_range()
        geometry = self._c.geometry
        values = {}
        for number in range(self._core_parameter_count(self._c.family)):
            self._core_parameter(self._c.family, number, found)
            values[found.name] = geometry[number]
        return values

    def with_factor(self, factor):
        """The same with a known deviation from what is published.

        Parameters
        ----------
        factor : float
            Multiplies the coefficient, except an exit's own 1 [-]; 0 to 1000.

        Returns
        -------
        Fitting or Termination

        Raises
        ------
        ArgumentError
            If factor is outside its bounds.

        Examples
        --------
        >>> vs.entry_flush().with_factor(1.2).factor
        1.2
        """
        changed = self._with(factor=factor)
        if not 0 <= changed.factor <= 1000:
            raise ArgumentError(f"factor is {changed.factor:g}; it must lie between 0 and 1000",
                                argument="factor", value=changed.factor, low=0.0, high=1000.0)
        return changed

    def coefficient(self, pipe, reynolds):
        """Loss coefficient in a pipe.

        Parameters
        ----------
        pipe : Pipe
            The pipe it is put in, whose velocity pressure K is on.
        reynolds : float
            In that pipe, on its hydraulic diameter, negative for reversed flow [-]; magnitude 1e-3
            to 1e9.

        Returns
        -------
        Coefficient
            Value, standard uncertainty, source and flags.

        Raises
        ------
        ArgumentError
            If reynolds is outside its bounds.

        Notes
        -----
        The source is the one the coefficient names.

        Examples
        --------
        >>> vs.entry_flush().coefficient(vs.round_pipe(0.1, 0.0), 5e4).value
        0.5
        """
        pipe = instance(pipe, Pipe, "pipe", "a Pipe")
        return Coefficient._of(self._core_coefficient(self._c, pipe._c, reynolds))

    def __repr__(self):
        values = ", ".join(f"{name}={value!r}" for name, value in self.parameters.items())
        deviation = "" if self.factor == 1 else f", factor={self.factor!r}"
        return f"<{self.name}{': ' if values else ''}{values}{deviation}>"


class Fitting(Part):
    """A fitting by kind and geometry; made by `elbow`, `mitre`, `entry_flush` and the like.

    Its K is on the velocity pressure of the pipe it is put in.

    Examples
    --------
    >>> vs.elbow(np.pi / 2, 1.5).parameters["radius_ratio"]
    1.5
    """

    __slots__ = ()
    _struct = core.fitting
    _core_name = staticmethod(core.fitting_name)
    _core_parameter_count = staticmethod(core.fitting_parameter_count)
    _core_parameter = staticmethod(core.fitting_parameter)
    _core_coefficient = staticmethod(core.fitting_coefficient)


def fitting_constant(k, uncertainty=0.0, *, k_reversed=None):
    """A coefficient the caller knows.

    Parameters
    ----------
    k : float
        Loss coefficient the way of the run [-]; 0 to 1e6.
    uncertainty : float, optional
        Its standard uncertainty [-]; 0 to 1e6.
    k_reversed : float, optional
        Loss coefficient for reversed flow [-]; 0 to 1e6. The same as `k` unless given.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Examples
    --------
    >>> vs.fitting_constant(0.8).coefficient(vs.round_pipe(0.1, 0.0), 5e4).source is None
    True
    """
    k_reversed = k if k_reversed is None else k_reversed
    return Fitting._of(core.fitting_constant_each_way(k, k_reversed, uncertainty))


def elbow(angle, radius_ratio):
    """A smooth round elbow, from a slight bend to a full return.

    Its K includes the friction of the bend's own length, so the length of the pipe leaves the arc
    out.

    Parameters
    ----------
    angle : float
        The flow turns by [rad]; 0 to pi.
    radius_ratio : float
        Radius of the axis over bore [-]; 0.4 to 10, from the source 0.5.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Rennels and Hudson (2012), Pipe Flow, smooth bends; read in a reprint.

    Examples
    --------
    >>> k = vs.elbow(np.pi / 2, 1.5).coefficient(vs.round_pipe(0.1, 0.0), 5e4)
    >>> round(k.value, 2)
    0.25
    """
    return Fitting._of(core.elbow(angle, radius_ratio))


def mitre(angle):
    """A mitre: two pipes cut at an angle and joined, without a bend.

    Parameters
    ----------
    angle : float
        The flow turns by [rad]; 0 to pi, from the source up to 150 degrees.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If angle is outside its bounds.

    Notes
    -----
    Rennels and Hudson (2012), Pipe Flow, single-joint mitre bends; read in a reprint.

    Examples
    --------
    >>> k = vs.mitre(np.pi / 2).coefficient(vs.round_pipe(0.1, 0.0), 1e5)
    >>> round(k.value, 2)
    1.2
    """
    return Fitting._of(core.mitre(angle))


def sudden_change(other_bore):
    """A sudden change of bore, wider or narrower.

    `Run.add_pipe` brings its own change; this one is for what is not modelled as a pipe.

    Parameters
    ----------
    other_bore : float
        Bore of the pipe on the far (downstream) side [m]; 1e-4 to 10.

    Returns
    -------
    Fitting
        K on the pipe it is put in, the upstream one.

    Raises
    ------
    ArgumentError
        If other_bore is outside its bounds.

    Notes
    -----
    Expansion: Borda and Carnot, exact by momentum. Contraction: Rennels and Hudson (2012), Pipe
    Flow; read in a reprint.

    Examples
    --------
    >>> k = vs.sudden_change(0.2).coefficient(vs.round_pipe(0.1, 0.0), 5e4)
    >>> round(k.value, 4)  # (1 - 1/4)^2
    0.5625
    """
    return Fitting._of(core.sudden_change(other_bore))


def gradual_change(other_bore, cone_angle):
    """A conical change of bore, wider or narrower.

    Parameters
    ----------
    other_bore : float
        Bore of the pipe on the far (downstream) side [m]; 1e-4 to 10.
    cone_angle : float
        Between opposite walls [rad]; 1e-3 to pi.

    Returns
    -------
    Fitting
        K on the pipe it is put in, the upstream one.

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Rennels and Hudson (2012), Pipe Flow, conical diffusers and contractions; read in a reprint.

    Examples
    --------
    >>> gentle, steep = (vs.gradual_change(0.2, np.radians(a)) for a in (10, 60))
    >>> pipe = vs.round_pipe(0.1, 0.0)
    >>> gentle.coefficient(pipe, 5e4).value < steep.coefficient(pipe, 5e4).value
    True
    """
    return Fitting._of(core.gradual_change(other_bore, cone_angle))


def entry_flush():
    """The entry into a sharp-edged pipe end flush with a wall, from still air.

    Returns
    -------
    Fitting
        K 0.5; reversed flow leaves by it, K 1.

    Notes
    -----
    Idelchik (1966), Handbook of Hydraulic Resistance, diagram 3-1; read in a reprint.

    Examples
    --------
    >>> vs.entry_flush().coefficient(vs.round_pipe(0.1, 0.0), -5e4).value
    1.0
    """
    return Fitting._of(core.entry_flush())


def entry_reentrant(wall_ratio):
    """The entry into a pipe end that stands at least half a bore out of the wall.

    Parameters
    ----------
    wall_ratio : float
        Wall thickness over bore [-]; 0 to 0.5.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If wall_ratio is outside its bounds.

    Notes
    -----
    Rennels and Hudson (2012), Pipe Flow; read in a reprint.

    Examples
    --------
    >>> vs.entry_reentrant(0.05).coefficient(vs.round_pipe(0.1, 0.0), 5e4).value < 0.6
    True
    """
    return Fitting._of(core.entry_reentrant(wall_ratio))


def entry_rounded(radius_ratio):
    """The entry into a pipe whose edge is rounded into the wall it is flush with.

    Parameters
    ----------
    radius_ratio : float
        Radius of the edge over bore [-]; 0 to 10.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If radius_ratio is outside its bounds.

    Notes
    -----
    Rennels and Hudson (2012), Pipe Flow, diagram 9.2; read in a reprint.

    Examples
    --------
    >>> vs.entry_rounded(0.2).coefficient(vs.round_pipe(0.1, 0.0), 5e4).value < 0.2
    True
    """
    return Fitting._of(core.entry_rounded(radius_ratio))
