# SPDX-License-Identifier: GPL-3.0-or-later
"""Fittings: elbows, changes of area, entries."""

from . import core
from ._checks import instance
from ._errors import ArgumentError
from ._pipe import Pipe
from ._source import Coefficient, Source, source
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

    @property
    def family(self):
        """Family : What it is one of: parameters, ranges and sources."""
        from ._family import family
        return family(type(self), self._c.family)

    @property
    def source(self):
        """Source or None : Whose formula was chosen for it; None for the library's default."""
        return source(self._c.source)

    def by_source(self, source):
        """The same by the formula of one of its sources.

        Where the flow's direction has no formula by that source, the default holds.

        Parameters
        ----------
        source : Source, int or None
            One of those `alternatives` gives, or its number; None for the library's default.

        Returns
        -------
        Fitting or Termination

        Raises
        ------
        ArgumentError
            If its family has no formula by that source; the message lists those it has.

        Examples
        --------
        >>> pipe = vs.pipe("PVC 40", 3 * inch)
        >>> default, other = vs.elbow(np.pi / 2, 1.5).alternatives(pipe, 5e4)
        >>> chosen = vs.elbow(np.pi / 2, 1.5).by_source(other.source)
        >>> chosen.coefficient(pipe, 5e4) == other
        True
        """
        if isinstance(source, Source):
            source = source.number
        number = instance(0 if source is None else source, int, "source", "a Source, an int or None")
        return type(self)._of(self._core_by_source(self._c, number))

    def alternatives(self, pipe, reynolds):
        """The coefficient by every source the library has for it.

        Parameters
        ----------
        pipe : Pipe
            The pipe it is put in, whose velocity pressure K is on.
        reynolds : float
            In that pipe, on its hydraulic diameter, negative for reversed flow [-]; magnitude 1e-3
            to 1e9.

        Returns
        -------
        list of Coefficient
            The library's default first. Half the distance between the least and the greatest is
            part of the uncertainty of each.

        Raises
        ------
        ArgumentError
            If reynolds is outside its bounds.

        Examples
        --------
        >>> for k in vs.entry_rounded(0.1).alternatives(vs.pipe("PVC 40", 3 * inch), 5e4):
        ...     print(f"{k.value:.3f} {k.source.author}")
        0.203 D. C. Rennels, H. M. Hudson
        0.110 I. E. Idelchik
        0.153 P. K. Swamee, A. K. Sharma
        """
        pipe = instance(pipe, Pipe, "pipe", "a Pipe")
        found, result = core.coefficient(), []
        while self._core_alternative(self._c, pipe._c, reynolds, len(result), found):
            result.append(Coefficient._of(found))
        return result

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
        chosen = f", by {self.source.author}" if self.source else ""
        return f"<{self.name}{': ' if values else ''}{values}{deviation}{chosen}>"


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
    _core_alternative = staticmethod(core.fitting_alternative)
    _core_by_source = staticmethod(core.fitting_by_source)
    _core_formula = staticmethod(core.fitting_formula)


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


def butterfly_damper(angle, blade_ratio=1.0):
    """A butterfly damper: a disc in the pipe, turned about its diameter.

    Parameters
    ----------
    angle : float
        Of the blade, 0 open [rad]; 0 to 85 degrees, from the source up to 70.
    blade_ratio : float, optional
        Diameter of the blade over bore [-]; 0.5 to 1.

    Returns
    -------
    Fitting
        The same both ways.

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Idelchik (1986), section 9, disc throttling valve; from memory. Within 6 % of Weisbach's
    measurements from 40 to 65 degrees.

    Examples
    --------
    >>> pipe = vs.round_pipe(0.1, 0.0)
    >>> [round(vs.butterfly_damper(np.radians(a)).coefficient(pipe, 1e5).value, 1)
    ...  for a in (0, 30, 60)]
    [0.3, 4.5, 113.4]
    """
    return Fitting._of(core.butterfly_damper(angle, blade_ratio))


def slide_gate(opening):
    """A slide gate (blast gate) whose blade has a straight edge.

    Parameters
    ----------
    opening : float
        Height of the opening over bore [-]; 0.02 to 1, by the source from 0.1.

    Returns
    -------
    Fitting
        The same both ways.

    Raises
    ------
    ArgumentError
        If opening is outside its bounds.

    Notes
    -----
    Rennels and Hudson (2012), Pipe Flow, sharp-edged orifice of the same free area; from memory.

    Examples
    --------
    >>> k = vs.slide_gate(0.5).coefficient(vs.round_pipe(0.1, 0.0), 1e5)
    >>> round(k.value, 2)
    4.25
    """
    return Fitting._of(core.slide_gate(opening))


def gate_valve(opening):
    """A gate valve: a slide with a round end of the bore's size.

    Parameters
    ----------
    opening : float
        Way of the slide from closed, over bore [-]; 0.02 to 1, by the source from 0.1.

    Returns
    -------
    Fitting
        The same both ways.

    Raises
    ------
    ArgumentError
        If opening is outside its bounds.

    Notes
    -----
    Rennels and Hudson (2012), Pipe Flow, sharp-edged orifice of the same free area; from memory.
    Within 10 % of Weisbach's measurements from half to 7/8 closed.

    Examples
    --------
    >>> k = vs.gate_valve(0.5).coefficient(vs.round_pipe(0.1, 0.0), 1e5)
    >>> round(k.value, 2)
    1.94
    """
    return Fitting._of(core.gate_valve(opening))


def ball_valve(angle):
    """A ball valve of full bore, by its angle.

    Parameters
    ----------
    angle : float
        Of the lever, 0 open [rad]; 0 to 80 degrees, by the source up to 65.

    Returns
    -------
    Fitting
        The same both ways.

    Raises
    ------
    ArgumentError
        If angle is outside its bounds.

    Notes
    -----
    Two sharp-edged openings in series by Rennels and Hudson (2012), Pipe Flow; from memory. Within
    30 % of Weisbach's measurements of a cock from 20 to 65 degrees.

    Examples
    --------
    >>> k = vs.ball_valve(np.radians(30)).coefficient(vs.round_pipe(0.1, 0.0), 1e5)
    >>> round(k.value, 1)
    6.1
    """
    return Fitting._of(core.ball_valve(angle))


def orifice_plate(diameter_ratio):
    """A sharp-edged orifice plate, as a restriction: what it takes for good.

    Parameters
    ----------
    diameter_ratio : float
        Of orifice over bore [-]; 0.1 to 1, from the source up to 0.75.

    Returns
    -------
    Fitting
        The same both ways.

    Raises
    ------
    ArgumentError
        If diameter_ratio is outside its bounds.

    Notes
    -----
    ISO 5167-2 (2003), Reader-Harris/Gallagher equation with corner taps and pressure loss
    coefficient; read in a reprint.

    Examples
    --------
    >>> k = vs.orifice_plate(0.5).coefficient(vs.round_pipe(0.1, 0.0), 1e5)
    >>> round(k.value, 1)
    29.8
    """
    return Fitting._of(core.orifice_plate(diameter_ratio))


def check_damper(opening_pressure, leak_ratio=0.01):
    """A check (back-draft) damper that a pressure opens.

    The way of the run it takes the opening pressure and, beside it, K of a swing check valve;
    reversed, K is that of the leak. K does not hold the opening pressure. None replaces what a
    local code asks for against back-draft.

    Parameters
    ----------
    opening_pressure : float
        That holds the flap open [Pa]; 0 to 1000.
    leak_ratio : float, optional
        Area of the leak of the closed flap over that of the bore [-]; 1e-4 to 0.5.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Open: Hooper (1981), two-K method, swing check valve; read in a reprint. Leak: Rennels and Hudson
    (2012), orifice; from memory.

    Examples
    --------
    >>> flap, pipe = vs.check_damper(10.0), vs.round_pipe(0.1, 0.0)
    >>> flap.coefficient(pipe, 1e5).value < 3, flap.coefficient(pipe, -1e5).value > 1e4
    (True, True)
    """
    return Fitting._of(core.check_damper(opening_pressure, leak_ratio))


def coupling(bead_ratio=0.0, gap_ratio=0.0, offset_ratio=0.0):
    """A coupling or a flexible sleeve between two pipes of one bore.

    Parameters
    ----------
    bead_ratio : float, optional
        Height of a bead or burr around the bore, over bore [-]; 0 to 0.2.
    gap_ratio : float, optional
        Length of the gap between the pipe ends, over bore [-]; 0 to 2.
    offset_ratio : float, optional
        Of the axes, over bore [-]; 0 to 0.3.

    Returns
    -------
    Fitting
        The same both ways.

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Rennels and Hudson (2012), Pipe Flow, sharp-edged orifice of the same free area; from memory. Gap:
    shear stress of a mixing layer, Pope (2000), Turbulent Flows; from memory.

    Examples
    --------
    >>> k = vs.coupling(bead_ratio=0.017).coefficient(vs.round_pipe(0.1, 0.0), 1e5)
    >>> round(k.value, 2)
    0.04
    """
    return Fitting._of(core.coupling(bead_ratio, gap_ratio, offset_ratio))


def flexible_duct(length, compression=0.0):
    """A piece of flexible duct, by its length and how far it is pushed together.

    It stands for the length of the duct: the length of the pipe leaves it out.

    Parameters
    ----------
    length : float
        As installed [m]; 0 to 100.
    compression : float, optional
        Share of the stretched length that is lost [-]; 0 to 0.5, from the source up to 0.3.

    Returns
    -------
    Fitting
        The same both ways.

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Abushakra, Walker and Sherman (2004); the formula from memory.

    Examples
    --------
    >>> pipe = vs.round_pipe(0.15, 0.0)
    >>> stretched, pushed = (vs.flexible_duct(2.0, c).coefficient(pipe, 1e5) for c in (0, 0.3))
    >>> round(pushed.value / stretched.value, 1)
    9.3
    """
    return Fitting._of(core.flexible_duct(length, compression))


def bypass_tee():
    """A tee that lets condensate past the fan, as the main stream sees it.

    Returns
    -------
    Fitting
        The same both ways.

    Notes
    -----
    Darby (2001), three-K method, flanged tee, run-through; read in a reprint.

    Examples
    --------
    >>> k = vs.bypass_tee().coefficient(vs.pipe("PVC 40", 3 * inch), 5e4)
    >>> round(k.value, 2)
    0.2
    """
    return Fitting._of(core.bypass_tee())


def fan_outlet(blast_ratio, length_ratio=0.0):
    """What an outlet pipe too short for the fan's stream to fill it costs.

    For a fan whose curve was measured with a full outlet pipe.

    Parameters
    ----------
    blast_ratio : float
        Blast area over outlet area [-]; 0.2 to 1, from the source from 0.4.
    length_ratio : float, optional
        Length of straight outlet pipe over its bore [-]; 0 to 1000.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Momentum balance; the decay along the pipe through remembered curves of AMCA 201.

    Examples
    --------
    >>> vs.fan_outlet(0.5).coefficient(vs.round_pipe(0.1, 0.0), 1e5).value
    2.0
    """
    return Fitting._of(core.fan_outlet(blast_ratio, length_ratio))


def fan_inlet_elbow(radius_ratio, distance_ratio=0.0):
    """What an elbow close to the inlet of a fan costs beside its own loss.

    Parameters
    ----------
    radius_ratio : float
        Radius of the elbow's axis over bore [-]; 0.25 (a two-piece mitre) to 10, from the source
        0.5 to 3.
    distance_ratio : float, optional
        Straight pipe between elbow and fan over bore [-]; 0 to 1000.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Power law and decay through remembered curves of AMCA 201-02, Fans and Systems.

    Examples
    --------
    >>> k = vs.fan_inlet_elbow(1.0, 5.0).coefficient(vs.round_pipe(0.1, 0.0), 1e5)
    >>> round(k.value, 2)
    0.39
    """
    return Fitting._of(core.fan_inlet_elbow(radius_ratio, distance_ratio))
