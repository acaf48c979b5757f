# SPDX-License-Identifier: GPL-3.0-or-later
"""Changes of area."""

from . import core
from ._fitting import Fitting


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
