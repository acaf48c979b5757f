# SPDX-License-Identifier: GPL-3.0-or-later
"""What joins pipe to pipe and pipe to fan."""

from . import core
from ._fitting import Fitting


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
