# SPDX-License-Identifier: GPL-3.0-or-later
"""Entries: how the gas gets from the pit into the pipe."""

from . import core
from ._fitting import Fitting


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
