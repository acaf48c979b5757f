# SPDX-License-Identifier: GPL-3.0-or-later
"""The Darcy friction factor of a straight pipe."""

from . import _core


def friction_factor(reynolds, relative_roughness, out=None):
    """Darcy friction factor of a straight pipe in every regime.

    64/Re up to 2000, Colebrook-White from 4000, and between them a blend by a smoothstep of the
    Reynolds number: continuous with its slope.

    Parameters
    ----------
    reynolds : float or array_like
        Reynolds number on the bore [-]; 1e-300 to 1e9.
    relative_roughness : float or array_like
        Equivalent sand-grain roughness over diameter [-]; 0 to 0.1.
    out : numpy.ndarray, optional
        Filled with the result and returned: float64, of the shape the inputs broadcast to, sharing
        no memory with them.

    Returns
    -------
    float or numpy.ndarray
        Friction factor [-]; a float for floats. NaN outside the domain.

    Warns
    -----
    DomainWarning
        If an element is outside the domain; once a call, with the count.

    Raises
    ------
    ArgumentError
        If the shapes do not fit, or `out` is read-only or overlaps an input.

    Notes
    -----
    Colebrook (1939), J. Inst. Civ. Eng. 11, 133, DOI 10.1680/ijoti.1939.13150, with the constants
    3.7 and 2.51 (from memory); solved to 1e-15. The blend is this library's own.

    Examples
    --------
    >>> round(vs.friction_factor(1e5, 1e-4), 6)
    0.018514
    >>> vs.friction_factor([1000, 1e5], 1e-4).round(4)
    array([0.064 , 0.0185])
    """
    return _core.friction_factor(reynolds, relative_roughness, out)


def friction_colebrook(reynolds, relative_roughness, out=None):
    """Darcy friction factor by Colebrook and White, for turbulent flow.

    Parameters
    ----------
    reynolds : float or array_like
        Reynolds number on the bore [-]; 2000 to 1e9. Below 4000 it is the formula's value only: flow
        is seldom turbulent there.
    relative_roughness : float or array_like
        Equivalent sand-grain roughness over diameter [-]; 0 to 0.1.
    out : numpy.ndarray, optional
        As in `friction_factor`.

    Returns
    -------
    float or numpy.ndarray
        Friction factor [-]; NaN outside the domain.

    Warns
    -----
    DomainWarning
        If an element is outside the domain; once a call, with the count.

    Raises
    ------
    ArgumentError
        If the shapes do not fit, or `out` is read-only or overlaps an input.

    Notes
    -----
    1/sqrt(f) = -2 log10(k/3.7 + 2.51/(Re sqrt(f))). Colebrook (1939), J. Inst. Civ. Eng. 11, 133,
    DOI 10.1680/ijoti.1939.13150 (from memory); solved to 1e-15.

    Examples
    --------
    >>> round(vs.friction_colebrook(1e5, 1e-4), 12)
    0.018513866077
    """
    return _core.friction_colebrook(reynolds, relative_roughness, out)


def friction_churchill(reynolds, relative_roughness, out=None):
    """Darcy friction factor by Churchill's formula for all regimes.

    An alternative for comparisons: within 3.1 % of Colebrook-White from a Reynolds number of 4e3.

    Parameters
    ----------
    reynolds : float or array_like
        Reynolds number on the bore [-]; 1e-300 to 1e9.
    relative_roughness : float or array_like
        Equivalent sand-grain roughness over diameter [-]; 0 to 0.1.
    out : numpy.ndarray, optional
        As in `friction_factor`.

    Returns
    -------
    float or numpy.ndarray
        Friction factor [-]; NaN outside the domain.

    Warns
    -----
    DomainWarning
        If an element is outside the domain; once a call, with the count.

    Raises
    ------
    ArgumentError
        If the shapes do not fit, or `out` is read-only or overlaps an input.

    Notes
    -----
    Churchill (1977), Chemical Engineering 84 (24), 91; read in a reprint.

    Examples
    --------
    >>> round(vs.friction_churchill(1e5, 1e-4), 6)
    0.018463
    """
    return _core.friction_churchill(reynolds, relative_roughness, out)


def friction_laminar_rectangle(aspect):
    """Friction factor times Reynolds number of laminar flow in a rectangular pipe.

    Parameters
    ----------
    aspect : float or array_like
        Short side over long side [-]; 0 to 1.

    Returns
    -------
    float or numpy.ndarray
        f Re on the hydraulic diameter [-]: 96 between plates, 56.9 in a square; NaN outside the
        domain.

    Notes
    -----
    The series of Cornish (1928), Proc. R. Soc. A 120, 691 (from memory, values checked).

    Examples
    --------
    >>> round(vs.friction_laminar_rectangle(1.0), 4)
    56.9083
    """
    return _core.friction_laminar_rectangle(aspect)
