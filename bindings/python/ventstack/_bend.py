# SPDX-License-Identifier: GPL-3.0-or-later
"""Bends: elbows, mitres, and two in a row."""

from . import core
from ._fitting import Fitting


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
