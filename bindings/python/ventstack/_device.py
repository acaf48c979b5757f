# SPDX-License-Identifier: GPL-3.0-or-later
"""What throttles, shuts or meters: dampers, valves, orifice plates."""

from . import core
from ._fitting import Fitting


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
