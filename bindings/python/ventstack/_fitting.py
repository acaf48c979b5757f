# SPDX-License-Identifier: GPL-3.0-or-later
"""Fittings: elbows, changes of area, entries."""

from . import core
from ._checks import instance
from ._errors import ArgumentError
from ._pipe import Pipe
from ._source import Coefficient, Source, source
from ._value import Scaled, quantity


class Part(Scaled):
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
        >>> default, other, *_ = vs.elbow(np.pi / 2, 1.5).alternatives(pipe, 5e4)
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
        >>> default, other, *_ = vs.entry_rounded(0.1).alternatives(vs.pipe("PVC 40", 3 * inch), 5e4)
        >>> for k in default, other:
        ...     print(f"{k.value:.3f} {k.source.author}")
        0.203 D. C. Rennels, H. M. Hudson
        0.110 I. E. Idelchik
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
        chosen = f", by source {self.source.number}, {self.source.brief}" if self.source else ""
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


def segmented_elbow(angle, joints, radius_ratio):
    """An elbow made of straight pieces, mitred at one to five joints.

    A smooth bend of the same radius, and what each joint adds. Of one joint it is `mitre`.

    Parameters
    ----------
    angle : float
        The flow turns by in all [rad]; 0 to pi, from the source 45 to 90 degrees.
    joints : int
        One less than the pieces; 1 to 5.
    radius_ratio : float
        Radius of the axis over bore [-]; 0.4 to 10, from the source 0.5 to 2.5.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Hooper (1981), The two-K method, constants of mitred elbows less the smooth elbow, on Rennels and
    Hudson's smooth bend; read in a reprint. The split is this library's.

    Examples
    --------
    >>> pipe = vs.round_pipe(0.1, 0.0)
    >>> [round(vs.segmented_elbow(np.pi / 2, n, 1.5).coefficient(pipe, 1e5).value, 1)
    ...  for n in (1, 2, 5)]
    [1.2, 0.4, 0.3]
    """
    return Fitting._of(core.segmented_elbow(angle, joints, radius_ratio))


def drain_elbow(angle):
    """A short-radius drain-waste-vent elbow with sockets.

    No published coefficients of such moulded plastic elbows were found; sources for elbows of this
    kind run from 0.3 to 1.2 at 90 degrees, and the uncertainty says so.

    Parameters
    ----------
    angle : float
        The flow turns by [rad]; 0 to pi/2, from the source 22.5 to 90 degrees.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If angle is outside its bounds.

    Notes
    -----
    Darby (2001), three-constant form of threaded standard elbows; read in a reprint.

    Examples
    --------
    >>> k = vs.drain_elbow(np.pi / 2).coefficient(vs.pipe("PVC 40", 3 * inch), 5e4)
    >>> 0.5 < k.value < 0.6 and k.uncertainty > 0.2
    True
    """
    return Fitting._of(core.drain_elbow(angle))


def elbow_pair(radius_ratio, spacing, twist):
    """Two right-angled elbows close together, in any plane.

    K is for both, without the pipe between them. For 90 degree elbows only.

    Parameters
    ----------
    radius_ratio : float
        Radius of either axis over bore [-]; 0.4 to 10, from the source 1 to 3.
    spacing : float
        Straight pipe between them, in bores [-]; 0 to 1000; from 30 on they do not know of each
        other.
    twist : float
        From the plane of the first to that of the second [rad]: 0 same way (U), pi/2 at right
        angles, pi back (S); 0 to pi.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Miller (1990), Internal Flow Systems, table 10.1; read in a reprint. Each elbow as `elbow`.

    Examples
    --------
    >>> pipe = vs.round_pipe(0.1, 0.0)
    >>> alone = vs.elbow(np.pi / 2, 1.0).coefficient(pipe, 5e4).value
    >>> [round(vs.elbow_pair(1.0, 0.0, twist).coefficient(pipe, 5e4).value / (2 * alone), 2)
    ...  for twist in (0, np.pi / 2, np.pi)]
    [0.53, 0.81, 1.0]
    """
    return Fitting._of(core.elbow_pair(radius_ratio, spacing, twist))


def close_return():
    """A close return bend: a fitting that turns the flow by 180 degrees within two bores.

    Returns
    -------
    Fitting

    Notes
    -----
    Darby (2001), three-constant form of the threaded close return bend; read in a reprint.

    Examples
    --------
    >>> pipe = vs.round_pipe(0.1, 0.0)
    >>> [round(bend.coefficient(pipe, 5e4).value, 1)
    ...  for bend in (vs.close_return(), vs.elbow(np.pi, 1.0))]
    [0.9, 0.5]
    """
    return Fitting._of(core.close_return())


def elbow_outlet(angle, radius_ratio, outlet_ratio):
    """A smooth elbow with a short pipe behind it that ends in the open or in a plenum.

    The exit's own 1 is not in its K.

    Parameters
    ----------
    angle : float
        The flow turns by [rad]; 0 to pi.
    radius_ratio : float
        Radius of the axis over bore [-]; 0.4 to 10, from the source 0.5.
    outlet_ratio : float
        Length of the straight pipe behind, in bores [-]; 0 to 1000; from 30 on it is `elbow`.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Miller (1990), Internal Flow Systems, figure 9.4; read in a reprint. The elbow as `elbow`.

    Examples
    --------
    >>> pipe = vs.round_pipe(0.1, 0.0)
    >>> short = vs.elbow_outlet(np.pi / 2, 2.0, 2.0).coefficient(pipe, 5e4).value
    >>> round(short / vs.elbow(np.pi / 2, 2.0).coefficient(pipe, 5e4).value, 1)
    0.6
    """
    return Fitting._of(core.elbow_outlet(angle, radius_ratio, outlet_ratio))


def fitting_three_constant(k1, ki, kd, nominal_size):
    """A coefficient by Darby's three constants, K = k1/Re + ki (1 + kd / Dn^0.3).

    Dn is the nominal size in inches. Tables with Dn in millimetres have a kd 2.64 times as large.

    Parameters
    ----------
    k1 : float
        What laminar flow makes of it [-]; 0 to 1e5.
    ki : float
        Loss of an infinitely wide one in turbulent flow [-]; 0 to 1000.
    kd : float
        How much more a small one loses [in^0.3]; 0 to 100.
    nominal_size : float
        Of the fitting [m]; 0.003 to 3.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Darby (2001), Chemical Engineering Fluid Mechanics; read in a reprint.

    Examples
    --------
    >>> fitting = vs.fitting_three_constant(950, 0.25, 4.0, 12 * inch)
    >>> round(fitting.coefficient(vs.round_pipe(0.3, 0.0), 1e4).value, 4)
    0.8195
    """
    return Fitting._of(core.fitting_three_constant(k1, ki, kd, nominal_size))


def fitting_three_constant_find(name, nominal_size):
    """Darby's published constants of a fitting.

    Parameters
    ----------
    name : str
        One of `fitting_three_constant_names`.
    nominal_size : float
        Of the fitting [m]; 0.003 to 3.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If nominal_size is outside its bounds.
    NotFoundError
        If there is no such name; the message tells the nearest ones.

    Notes
    -----
    Darby (2001), Chemical Engineering Fluid Mechanics; read in a reprint.

    Examples
    --------
    >>> vs.fitting_three_constant_find("elbow 90 threaded", 3 * inch).parameters["ki"]
    0.14
    """
    return Fitting._of(core.fitting_three_constant_find(name, nominal_size))


def fitting_two_constant(k1, k_infinite):
    """A coefficient by Hooper's two constants, K = k1/Re + k_infinite (1 + 1 in / D).

    D is the bore of the pipe it is put in.

    Parameters
    ----------
    k1 : float
        What laminar flow makes of it [-]; 0 to 1e5.
    k_infinite : float
        Loss of an infinitely wide one in turbulent flow [-]; 0 to 1000.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Hooper (1981), The two-K method, Chemical Engineering 88(17); read in a reprint.

    Examples
    --------
    >>> fitting = vs.fitting_two_constant(900, 4.0)
    >>> round(fitting.coefficient(vs.round_pipe(2 * inch, 0.0), 1e4).value, 2)
    6.09
    """
    return Fitting._of(core.fitting_two_constant(k1, k_infinite))


def fitting_two_constant_find(name):
    """Hooper's published constants of a fitting.

    Parameters
    ----------
    name : str
        One of `fitting_two_constant_names`.

    Returns
    -------
    Fitting

    Raises
    ------
    NotFoundError
        If there is no such name; the message tells the nearest ones.

    Notes
    -----
    Hooper (1981), The two-K method, Chemical Engineering 88(17); read in a reprint, the names of some
    rows and the screwed return bend from memory.

    Examples
    --------
    >>> vs.fitting_two_constant_find("elbow 90 threaded").parameters["k_infinite"]
    0.4
    """
    return Fitting._of(core.fitting_two_constant_find(name))


def _names(entry):
    names = []
    while (name := entry(len(names))) is not None:
        names.append(name)
    return tuple(names)


def fitting_three_constant_names():
    """The fittings Darby has constants for.

    Returns
    -------
    tuple of str

    Examples
    --------
    >>> "gate valve" in vs.fitting_three_constant_names()
    True
    """
    return _names(core.fitting_three_constant_name)


def fitting_two_constant_names():
    """The fittings Hooper has constants for.

    Returns
    -------
    tuple of str

    Examples
    --------
    >>> "globe valve" in vs.fitting_two_constant_names()
    True
    """
    return _names(core.fitting_two_constant_name)


def fitting_equivalent_length(length_ratio):
    """A coefficient told as a length of the pipe it is put in, K = f L/D at the actual flow.

    Parameters
    ----------
    length_ratio : float
        Length over bore [-]; 0 to 1e5.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If length_ratio is outside its bounds.

    Notes
    -----
    Crane (2009), TP-410, equivalent length; read in a reprint. Crane's own K takes the friction factor
    of fully turbulent flow in steel pipe instead.

    Examples
    --------
    >>> k = vs.fitting_equivalent_length(30).coefficient(vs.round_pipe(0.1, 0.0), 5e4)
    >>> round(k.value, 2)
    0.63
    """
    return Fitting._of(core.fitting_equivalent_length(length_ratio))


def equivalent_length(k, pipe, reynolds):
    """Length of straight pipe that loses as much as a coefficient, at one flow.

    The friction factor changes with the flow: a fixed length is right at one flow only.

    Parameters
    ----------
    k : float
        Loss coefficient [-]; 0 to 1e6.
    pipe : Pipe
        The pipe.
    reynolds : float
        In that pipe, on its hydraulic diameter [-]; 1e-3 to 1e9.

    Returns
    -------
    float
        Length [m].

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Darcy and Weisbach's definition of the friction factor.

    Examples
    --------
    >>> pipe = vs.round_pipe(0.1, 0.0)
    >>> [round(vs.equivalent_length(0.5, pipe, re), 1) for re in (2e4, 2e5)]
    [1.9, 3.2]
    """
    return core.equivalent_length(k, instance(pipe, Pipe, "pipe", "a Pipe")._c, reynolds)


def equivalent_length_coefficient(length, pipe, reynolds):
    """Coefficient of what loses as much as a length of straight pipe, at one flow.

    `equivalent_length` backwards.

    Parameters
    ----------
    length : float
        Of pipe [m]; 0 to 1e6.
    pipe : Pipe
        The pipe.
    reynolds : float
        In that pipe, on its hydraulic diameter [-]; 1e-3 to 1e9.

    Returns
    -------
    float
        Loss coefficient [-].

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Darcy and Weisbach's definition of the friction factor.

    Examples
    --------
    >>> pipe = vs.round_pipe(0.1, 0.0)
    >>> round(vs.equivalent_length_coefficient(vs.equivalent_length(0.5, pipe, 2e4), pipe, 2e4), 9)
    0.5
    """
    return core.equivalent_length_coefficient(length, instance(pipe, Pipe, "pipe", "a Pipe")._c,
                                              reynolds)


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


def rounded_change(other_bore, edge_radius):
    """A sudden change of bore whose narrower pipe has a rounded edge.

    The rounding helps where the bore shrinks; where it grows the change is sudden.

    Parameters
    ----------
    other_bore : float
        Bore of the pipe on the far (downstream) side [m]; 1e-4 to 10.
    edge_radius : float
        Radius of the edge [m]; 0 to 10.

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
    Contraction: Rennels and Hudson (2012), Pipe Flow; read in a reprint. Expansion: Borda and
    Carnot.

    Examples
    --------
    >>> sharp, rounded = vs.sudden_change(0.05), vs.rounded_change(0.05, 0.005)
    >>> pipe = vs.round_pipe(0.1, 0.0)
    >>> bool(rounded.coefficient(pipe, 5e4).value < sharp.coefficient(pipe, 5e4).value)
    True
    """
    return Fitting._of(core.rounded_change(other_bore, edge_radius))


def bevelled_change(other_bore, bevel_length, bevel_angle):
    """A sudden change of bore whose narrower pipe has a bevelled edge.

    The bevel helps where the bore shrinks; where it grows the change is sudden.

    Parameters
    ----------
    other_bore : float
        Bore of the pipe on the far (downstream) side [m]; 1e-4 to 10.
    bevel_length : float
        Length of the bevel along the axis [m]; 0 to 10.
    bevel_angle : float
        Between bevel and axis [rad]; 0 to pi/2, pi/4 for a chamfer of 45 degrees.

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
    Contraction: Rennels and Hudson (2012), Pipe Flow; read in a reprint. Expansion: Borda and
    Carnot.

    Examples
    --------
    >>> sharp, bevelled = vs.sudden_change(0.05), vs.bevelled_change(0.05, 0.005, np.pi / 4)
    >>> pipe = vs.round_pipe(0.1, 0.0)
    >>> bool(bevelled.coefficient(pipe, 5e4).value < sharp.coefficient(pipe, 5e4).value)
    True
    """
    return Fitting._of(core.bevelled_change(other_bore, bevel_length, bevel_angle))


def bushing(other_bore, throat_bore, throat_length):
    """A bushing, insert or stop: a throat of some length between two bores.

    A bushing bored as wide as the narrower pipe is a sudden change.

    Parameters
    ----------
    other_bore : float
        Bore of the pipe on the far (downstream) side [m]; 1e-4 to 10.
    throat_bore : float
        Bore of the throat [m]; 1e-3 to 10.
    throat_length : float
        Its length [m]; 0 to 10.

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
    Idelchik (2006), Handbook of Hydraulic Resistance, diagrams 4-12 and 4-15; for unequal bores from
    memory.

    Examples
    --------
    >>> k = vs.bushing(0.1, 0.08, 0.02).coefficient(vs.round_pipe(0.1, 0.0), 5e4)
    >>> 1.0 < k.value < 2.0
    True
    """
    return Fitting._of(core.bushing(other_bore, throat_bore, throat_length))


def reducer(other_bore, length, eccentricity=0.0):
    """A pipe reducer: a cone between two straight ends, on one axis or not.

    Its K includes the friction of its length, so the length of the pipe leaves it out.

    Parameters
    ----------
    other_bore : float
        Bore of the pipe on the far (downstream) side [m]; 1e-4 to 10.
    length : float
        Of the whole reducer [m]; 1e-4 to 10.
    eccentricity : float, optional
        Distance of the axes over half the difference of the bores [-]; 0 on one axis, 1 with one
        side flush.

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
    Rennels and Hudson (2012), Pipe Flow, pipe reducers (15 % more if eccentric) and conical changes;
    read in a reprint.

    Examples
    --------
    >>> straight, flush = vs.reducer(0.1, 0.1), vs.reducer(0.1, 0.1, eccentricity=1.0)
    >>> pipe = vs.round_pipe(0.08, 0.0)
    >>> round(flush.coefficient(pipe, 5e4).value / straight.coefficient(pipe, 5e4).value, 6)
    1.15
    """
    return Fitting._of(core.reducer(other_bore, length, eccentricity))


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


def entry_projecting(projection_ratio, wall_ratio):
    """The entry into a sharp-edged pipe end that stands any distance out of a wall.

    Parameters
    ----------
    projection_ratio : float
        Distance of the end from the wall over bore [-]; 0 to 100.
    wall_ratio : float
        Wall thickness over bore [-]; 0 to 0.5.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Idelchik (1966), Handbook of Hydraulic Resistance, diagram 3-1; read in a reprint.

    Examples
    --------
    >>> k = vs.entry_projecting(0.2, 0.0).coefficient(vs.round_pipe(0.1, 0.0), 5e4)
    >>> round(k.value, 2)
    0.92
    """
    return Fitting._of(core.entry_projecting(projection_ratio, wall_ratio))


def entry_bevelled(length_ratio, bevel_angle):
    """The entry into a pipe whose edge is bevelled into the wall it is flush with.

    Parameters
    ----------
    length_ratio : float
        Length of the bevel along the axis over bore [-]; 0 to 1, from the table up to 0.6.
    bevel_angle : float
        Between bevel and axis [rad]; 0 to pi/2, pi/4 for a chamfer of 45 degrees.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Rennels and Hudson (2012), Pipe Flow; read in a reprint.

    Examples
    --------
    >>> k = vs.entry_bevelled(0.03, np.pi / 4).coefficient(vs.round_pipe(0.1, 0.0), 5e4)
    >>> round(k.value, 2)
    0.45
    """
    return Fitting._of(core.entry_bevelled(length_ratio, bevel_angle))


def entry_angled(angle):
    """The entry into a sharp-edged pipe that meets the wall at an angle, cut flush with it.

    Parameters
    ----------
    angle : float
        Between the pipe's axis and the wall [rad]; 5 degrees to pi/2, from the source above 20
        degrees.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If angle is outside its bounds.

    Notes
    -----
    Rennels and Hudson (2012), Pipe Flow; read in a reprint.

    Examples
    --------
    >>> k = vs.entry_angled(np.radians(30)).coefficient(vs.round_pipe(0.1, 0.0), 5e4)
    >>> round(k.value, 2)
    0.98
    """
    return Fitting._of(core.entry_angled(angle))


def entry_bell(radius_ratio):
    """The entry into a pipe end with a rounded edge that stands free, without a wall.

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
    Idelchik (1966), Handbook of Hydraulic Resistance, diagram 3-4; read in a reprint.

    Examples
    --------
    >>> vs.entry_bell(0.1).coefficient(vs.round_pipe(0.1, 0.0), 5e4).value
    0.15
    """
    return Fitting._of(core.entry_bell(radius_ratio))


def entry_cored_hole(hole_bore, slab_thickness, pit_radius):
    """The entry from a pit through a hole in a slab into the pipe.

    From the pit's air to the pipe: what the air loses on its way into the pit is the soil's.
    Reversed flow leaves through the hole into the pit.

    Parameters
    ----------
    hole_bore : float
        Bore of the hole [m]; 1e-3 to 10.
    slab_thickness : float
        Length of the hole [m]; 0 to 10.
    pit_radius : float
        Radius of the pit under it [m]; half of `hole_bore` to 100. See `pit_radius`.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Computed from the thick-edged orifice of Idelchik (2006), Handbook of Hydraulic Resistance,
    diagrams 4-12 (from memory) and 4-15.

    Examples
    --------
    >>> wide, narrow = (vs.entry_cored_hole(d, 0.1, vs.pit_radius(0.02)) for d in (0.1, 0.05))
    >>> pipe = vs.round_pipe(0.1, 0.0)
    >>> narrow.coefficient(pipe, 5e4).value > 10 * wide.coefficient(pipe, 5e4).value
    True
    """
    return Fitting._of(core.entry_cored_hole(hole_bore, slab_thickness, pit_radius))


def pit_radius(volume):
    """Radius of a pit of a given volume, dug as half a ball.

    Parameters
    ----------
    volume : float
        Of the pit [m3]; 1e-9 to 1e6.

    Returns
    -------
    float
        The radius [m].

    Raises
    ------
    ArgumentError
        If volume is outside its bounds.

    Notes
    -----
    Geometry.

    Examples
    --------
    >>> round(vs.pit_radius(0.02), 3)
    0.212
    """
    return core.pit_radius(volume)


def entry_perforated(holes_per_length, hole_bore, length, discharge_coefficient=0.6):
    """The entry through the holes of a perforated pipe, closed at its far end.

    Its K includes the friction of the perforated length, so the length of the pipe leaves it out.
    Reversed flow leaves by the holes.

    Parameters
    ----------
    holes_per_length : float
        Holes in one metre of pipe [1/m]; 0.1 to 1e5.
    hole_bore : float
        Bore of a hole [m]; 1e-4 to 1.
    length : float
        Of the perforated pipe [m]; 1e-3 to 1000.
    discharge_coefficient : float, optional
        Of a hole [-]; 0.1 to 1, about 0.6 where the wall is thin and the edge sharp, and less where
        gravel covers it.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Computed: orifice law at each hole, momentum along the pipe, friction to the first order.

    Examples
    --------
    >>> few, many = (vs.entry_perforated(n, 0.01, 1.0) for n in (50, 5000))
    >>> pipe = vs.round_pipe(0.1, 0.0)
    >>> few.coefficient(pipe, 5e4).value > 10, many.coefficient(pipe, 5e4).value < 1.1
    (True, True)
    """
    return Fitting._of(core.entry_perforated(holes_per_length, hole_bore, length,
                                             discharge_coefficient))


def screen(wire, opening):
    """A screen across the pipe: a square mesh of round wires, clean and without its frame.

    Parameters
    ----------
    wire : float
        Diameter of the wires [m]; 1e-5 to 0.02.
    opening : float
        Clear width between two wires [m]; 1e-5 to 1, so that at least 0.05 of the area is free.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Idelchik (1966), Handbook of Hydraulic Resistance, diagram 8-6; from memory. Others: Blevins
    (1984), read in a reprint; Brundrett (1993) and Wieghardt (1953), from memory.

    Examples
    --------
    >>> pipe = vs.round_pipe(0.1, 0.0)
    >>> insect, coarse = vs.screen(0.25 * mm, 1.2 * mm), vs.screen(1 * mm, 12 * mm)
    >>> insect.coefficient(pipe, 5e4).value > coarse.coefficient(pipe, 5e4).value
    True
    """
    return Fitting._of(core.screen(wire, opening))


def square_screen(free_area):
    """A screen of square-edged bars or thin punched sheet across the pipe.

    Parameters
    ----------
    free_area : float
        Free share of the pipe's area [-]; 0.05 to 1, from the source to 0.95.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If free_area is outside its bounds.

    Notes
    -----
    Idelchik (1966), Handbook of Hydraulic Resistance, diagram 8-1; from memory. Others: Blevins
    (1984), read in a reprint; Rennels and Hudson (2012), from memory.

    Examples
    --------
    >>> k = vs.square_screen(0.5).coefficient(vs.round_pipe(0.1, 0.0), 5e4)
    >>> round(k.value, 1)
    4.0
    """
    return Fitting._of(core.square_screen(free_area))


def perforated_plate(free_area, hole_bore, thickness):
    """A perforated plate across the pipe, thin or thick, with sharp-edged holes.

    Parameters
    ----------
    free_area : float
        Free share of the pipe's area [-]; 0.05 to 1, from the source to 0.95.
    hole_bore : float
        Bore of one hole [m]; 1e-4 to 1.
    thickness : float
        Of the plate [m]; 0 to 0.5.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Idelchik (2006), Handbook of Hydraulic Resistance, diagram 4-15, thick-edged orifice; from memory.
    The other: Rennels and Hudson (2012), from memory.

    Examples
    --------
    >>> pipe = vs.round_pipe(0.1, 0.0)
    >>> thin, thick = (vs.perforated_plate(0.5, 6 * mm, t * mm) for t in (0.5, 12))
    >>> thick.coefficient(pipe, 5e4).value < thin.coefficient(pipe, 5e4).value
    True
    """
    return Fitting._of(core.perforated_plate(free_area, hole_bore, thickness))


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
    Abushakra, Walker and Sherman (2004), measured in bores of 150 to 250 mm; the formula from memory.
    In other bores the coefficient is flagged.

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
