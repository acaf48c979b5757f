# SPDX-License-Identifier: GPL-3.0-or-later
"""What stands on top of the stack."""

import dataclasses
import math

from . import _core, core
from ._fitting import Part


@dataclasses.dataclass(frozen=True)
class Stream:
    """One stream of leaving air.

    Attributes
    ----------
    share : float
        Of the flow [-]; the shares of a termination add up to 1.
    direction : tuple of float
        Unit vector: x the way the termination faces, y sideways, z up.
    area_ratio : float
        Area it leaves through over the last pipe's [-]; its velocity is share over area_ratio times
        that in the pipe.

    Examples
    --------
    >>> vs.open_end().streams
    (Stream(share=1.0, direction=(0.0, 0.0, 1.0), area_ratio=1.0),)
    """

    share: float
    direction: tuple
    area_ratio: float


def _heading(direction):
    """A direction in words."""
    above = math.degrees(math.asin(max(-1.0, min(1.0, direction[2]))))
    if above > 89:
        return "straight up"
    if above < -89:
        return "straight down"
    if abs(above) < 1:
        return "level"
    return f"{abs(above):.0f} degrees {'above' if above > 0 else 'below'} level"


class Termination(Part):
    """What stands on top of the stack; made by `open_end`, `end_tee`, `rain_cap` and the like.

    Its K is on the velocity pressure of the last pipe and includes the velocity pressure that leaves
    with the air. `factor` multiplies what is above the plain end's own.

    Examples
    --------
    >>> [top.is_upward for top in (vs.open_end(), vs.end_tee())]
    [True, False]
    """

    __slots__ = ()
    _struct = core.termination
    _core_name = staticmethod(core.termination_name)
    _core_parameter_count = staticmethod(core.termination_parameter_count)
    _core_parameter = staticmethod(core.termination_parameter)
    _core_coefficient = staticmethod(core.termination_coefficient)
    _core_alternative = staticmethod(core.termination_alternative)
    _core_by_source = staticmethod(core.termination_by_source)
    _core_formula = staticmethod(core.termination_formula)

    @property
    def free_area(self):
        """float : Share of the clean end's area that nothing blocks [-]."""
        return 1.0 - self._c.geometry[core.VENT_TERMINATION_BLOCKED]

    @property
    def rain_openness(self):
        """float : Area that vertical rain finds open, over the pipe's [-].

        Leaves out rain that wind drives aslant, which is most of it, and drops off wires.
        """
        return core.termination_rain_openness(self._c)

    def blocked(self, *, free_area):
        """The same termination partly blocked: by leaves, a nest, webs, frost or a rim.

        Parameters
        ----------
        free_area : float
            Share of the clean end's area that is left [-]; 0.05 to 1. What blocked it before is
            forgotten.

        Returns
        -------
        Termination

        Raises
        ------
        ArgumentError
            If free_area is outside its bounds.

        Notes
        -----
        Rennels and Hudson (2012), Pipe Flow, discharge from a sharp-edged orifice at the end of a pipe;
        read in a reprint. Standard uncertainty 30 % of what the blockage adds.

        Examples
        --------
        >>> pipe = vs.round_pipe(0.1, 0.0)
        >>> [round(vs.open_end().blocked(free_area=f).coefficient(pipe, 5e4).value, 1) for f in (1, 0.5, 0.1)]
        [1.0, 9.1, 276.2]
        """
        return Termination._of(core.termination_blocked(self._c, free_area))

    def iced(self, thickness):
        """The same guard with its wires under an even coat of ice.

        Parameters
        ----------
        thickness : float
            Of the coat [m]; 0 to 0.01, so that at least 0.05 of the area is left free.

        Returns
        -------
        Termination

        Raises
        ------
        ArgumentError
            If it is no guard, or thickness or what is left of the openings is outside its bounds.

        Notes
        -----
        Geometry: wires thicker and openings narrower by twice the coat.

        Examples
        --------
        >>> iced = vs.end_guard(wire=1 * mm, opening=11 * mm).iced(2 * mm)
        >>> [round(size / mm, 9) for size in iced.parameters.values()]
        [5.0, 7.0]
        """
        return Termination._of(core.termination_iced(self._c, thickness))

    def __repr__(self):
        return Part.__repr__(self) if self.free_area == 1 else (
            f"{Part.__repr__(self)[:-1]}, free_area={self.free_area:.6g}>")

    @property
    def streams(self):
        """tuple of Stream : Where the air goes."""
        found = []
        stream = core.stream()
        while core.termination_stream(self._c, len(found), stream):
            found.append(Stream(stream.share, stream.direction, stream.area_ratio))
        return tuple(found)

    @property
    def is_upward(self):
        """bool : Whether every stream leaves within 45 degrees of straight up."""
        return core.termination_is_upward(self._c)

    def describe(self):
        """Tells in words what it is and where the air goes.

        Returns
        -------
        str

        Examples
        --------
        >>> vs.open_end().describe()
        'open end: all of the air leaves straight up'
        >>> vs.end_tee().describe()
        'tee at the end: the air leaves in 2 streams, level'
        """
        streams = self.streams
        headings = list(dict.fromkeys(_heading(stream.direction) for stream in streams))
        way = {1: "all of the air leaves", 2: "the air leaves in 2 streams,"}.get(
            len(streams), "the air leaves all around,")
        free = "" if self.free_area == 1 else f", {self.free_area:.3g} of it free"
        return f"{self.name}{free}: {way} {' and '.join(headings)}"


def open_end():
    """Nothing on top: the air leaves straight up with its velocity pressure.

    Returns
    -------
    Termination
        K 1.

    Notes
    -----
    Energy balance, exact for a flat velocity profile.

    Examples
    --------
    >>> vs.open_end().is_upward
    True
    """
    return Termination._of(core.open_end())


def end_elbow(angle, radius_ratio):
    """A smooth elbow as the very end of the stack.

    Parameters
    ----------
    angle : float
        From straight up to where the air leaves [rad]; 0 to pi.
    radius_ratio : float
        Radius of the axis over bore [-]; 0.4 to 10, from the source 0.5.

    Returns
    -------
    Termination

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Rennels and Hudson (2012), Pipe Flow, for the bend; read in a reprint. Published corrections for
    the missing pipe behind it differ even in sign, and none is applied.

    Examples
    --------
    >>> vs.end_elbow(np.radians(45), 1.5).describe()
    'elbow at the end: all of the air leaves 45 degrees above level'
    """
    return Termination._of(core.end_elbow(angle, radius_ratio))


def end_tee():
    """A tee as the end of the stack: the air turns into both arms and leaves level.

    Returns
    -------
    Termination

    Notes
    -----
    Idelchik (2006), Handbook of Hydraulic Resistance, diagram 7-29; read in a reprint.

    Examples
    --------
    >>> len(vs.end_tee().streams)
    2
    """
    return Termination._of(core.end_tee())


def end_guard(wire, opening):
    """A guard: a square mesh of round wires over the open end. Clean mesh, no frame.

    Leaves, ice and a rim are `Termination.blocked` and `Termination.iced`.

    Parameters
    ----------
    wire : float
        Diameter of the wires [m]; 1e-5 to 0.02.
    opening : float
        Clear width between two wires [m]; 1e-5 to 1, so that at least 0.05 of the area is free.

    Returns
    -------
    Termination

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Idelchik (1966), Handbook of Hydraulic Resistance, diagram 8-6; from memory.

    Examples
    --------
    >>> vs.end_guard(wire=1 * mm, opening=12 * mm).is_upward
    True
    """
    return Termination._of(core.end_guard(wire, opening))


def rain_cap(gap_ratio):
    """A rain cap: a plate or cone held above the end; the air leaves level all around.

    Parameters
    ----------
    gap_ratio : float
        Height of the gap over the pipe's bore [-]; 0.4 to 1.2, from the source 0.45 to 1.

    Returns
    -------
    Termination

    Raises
    ------
    ArgumentError
        If gap_ratio is outside its bounds.

    Notes
    -----
    A power law through values of ACGIH, Industrial Ventilation; from memory.

    Examples
    --------
    >>> vs.rain_cap(0.5).describe()
    'rain cap: the air leaves all around, level'
    """
    return Termination._of(core.rain_cap(gap_ratio))


def end_return(radius_ratio):
    """A 180 degree return as the end of the stack: the air leaves straight down.

    Parameters
    ----------
    radius_ratio : float
        Radius of the axis over bore [-]; 0.4 to 10, from the source 0.5.

    Returns
    -------
    Termination

    Raises
    ------
    ArgumentError
        If radius_ratio is outside its bounds.

    Notes
    -----
    As `end_elbow`.

    Examples
    --------
    >>> vs.end_return(1.0).describe()
    'return bend at the end: all of the air leaves straight down'
    """
    return Termination._of(core.end_return(radius_ratio))


def end_dome(wire, opening, area_ratio):
    """A domed guard: a mesh over the end that bulges or hangs as a basket.

    Parameters
    ----------
    wire : float
        Diameter of the wires [m]; 1e-5 to 0.02.
    opening : float
        Clear width between two wires [m]; 1e-5 to 1, so that at least 0.05 of the mesh is free.
    area_ratio : float
        Area of the mesh, wires and openings, over the pipe's area [-]; 1 to 20, from the source to
        10. A half sphere has 2.

    Returns
    -------
    Termination

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    As `end_guard`, on the velocity through the mesh.

    Examples
    --------
    >>> pipe = vs.round_pipe(0.1, 0.0)
    >>> flat, dome = vs.end_guard(1 * mm, 3 * mm), vs.end_dome(1 * mm, 3 * mm, 2.0)
    >>> dome.coefficient(pipe, 5e4).value < flat.coefficient(pipe, 5e4).value
    True
    """
    return Termination._of(core.end_dome(wire, opening, area_ratio))


def end_cone(bore_ratio, cone_angle):
    """A conical outlet: the end widens, and part of the velocity pressure comes back.

    Parameters
    ----------
    bore_ratio : float
        Bore of the mouth over the pipe's [-]; 1 to 3.
    cone_angle : float
        Between opposite walls [rad]; 1 to 30 degrees, from the source 3 to 20.

    Returns
    -------
    Termination
        K below 1 for a slender cone.

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Rennels and Hudson (2012), Pipe Flow, conical diffusers; read in a reprint.

    Examples
    --------
    >>> k = vs.end_cone(1.5, np.radians(10)).coefficient(vs.round_pipe(0.1, 0.0), 5e4)
    >>> k.value < 0.5
    True
    """
    return Termination._of(core.end_cone(bore_ratio, cone_angle))


def drain_stack(bore_ratio):
    """A drain stack: a wider pipe around the end, open below, that catches slanting rain.

    Parameters
    ----------
    bore_ratio : float
        Bore of the wider pipe over the stack's [-]; 1.05 to 2, from the source 1.1 to 1.5. It
        should stand four of its bores above the end.

    Returns
    -------
    Termination
        K 1.

    Raises
    ------
    ArgumentError
        If bore_ratio is outside its bounds.

    Notes
    -----
    ACGIH, Industrial Ventilation, stack head of no loss; from memory.

    Examples
    --------
    >>> vs.drain_stack(1.3).describe()
    'drain stack: all of the air leaves straight up'
    """
    return Termination._of(core.drain_stack(bore_ratio))


def guard_free_area(wire, opening):
    """Share of the area that a square mesh leaves open, seen at right angles.

    Parameters
    ----------
    wire : float or array_like
        Diameter of the wires [m]; 0 to 1e6.
    opening : float or array_like
        Clear width between two wires [m]; above 0, to 1e6.

    Returns
    -------
    float or numpy.ndarray
        [-], 0 to 1; NaN outside the domain.

    Notes
    -----
    Geometry: (opening / (opening + wire))^2.

    Examples
    --------
    >>> vs.guard_free_area(1.0, 3.0)
    0.5625
    """
    return _core.guard_free_area(wire, opening)
