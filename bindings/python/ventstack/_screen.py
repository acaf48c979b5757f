# SPDX-License-Identifier: GPL-3.0-or-later
"""Screens and perforated plates."""

from . import core
from ._fitting import Fitting


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
