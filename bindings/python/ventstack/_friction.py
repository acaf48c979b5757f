# SPDX-License-Identifier: GPL-3.0-or-later
"""The Darcy friction factor of a straight pipe."""

import warnings

import numpy as np

from . import core
from ._checks import common_shape, elementwise, like, numbers, spread
from ._errors import ArgumentError, DomainWarning

# The compiled functions themselves: by way of ventstack.core each would cost a call more.
_compiled = core._core
_factor_of_floats = _compiled.friction_factor_of_floats
_colebrook_of_floats = _compiled.friction_colebrook_of_floats
_churchill_of_floats = _compiled.friction_churchill_of_floats
_float64 = np.dtype(float)


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
    value = _factor_of_floats(reynolds, relative_roughness)
    if value is None or out is not None:
        value = _of_arrays(_compiled.friction_factor_array, reynolds, relative_roughness, out)
    return value


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
    value = _colebrook_of_floats(reynolds, relative_roughness)
    if value is None or out is not None:
        value = _of_arrays(_compiled.friction_colebrook_array, reynolds, relative_roughness, out)
    return value


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
    value = _churchill_of_floats(reynolds, relative_roughness)
    if value is None or out is not None:
        value = _of_arrays(_compiled.friction_churchill_array, reynolds, relative_roughness, out)
    return value


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
    return elementwise(core.friction_laminar_rectangle, aspect=aspect)


def _of_arrays(law, reynolds, relative_roughness, out):
    """A law over arrays: at once where they are ready for it, else after what broadcasting needs."""
    if out is None and _is_row(reynolds) and (
            type(relative_roughness) is float
            or _is_row(relative_roughness) and relative_roughness.shape == reynolds.shape):
        result = np.empty(reynolds.shape)
        if law(reynolds, relative_roughness, result):
            _warn_of_domain(law, reynolds, relative_roughness, result)
        return result
    elements, result = _prepared(reynolds, relative_roughness, out)
    if law(*elements, result):
        _warn_of_domain(law, *elements, result)
    if out is not None:
        return out
    return like(result, reynolds, relative_roughness) if result.shape else float(result)


def _is_row(values):
    return type(values) is np.ndarray and values.dtype is _float64 and values.ndim == 1


def _prepared(reynolds, relative_roughness, out):
    """Inputs as numbers or contiguous arrays of one shape, and what the result goes into."""
    arrays = {"reynolds": numbers(reynolds, "reynolds"),
              "relative_roughness": numbers(relative_roughness, "relative_roughness")}
    shape = common_shape(arrays)
    elements = [float(array) if array.ndim == 0 else spread(array, shape)
                for array in arrays.values()]
    return elements, np.empty(shape) if out is None else _fillable(out, shape)


def _fillable(out, shape):
    """An array given to be filled, if it can be."""
    if not isinstance(out, np.ndarray) or out.dtype != _float64:
        raise TypeError("out must be a numpy.ndarray of float64")
    if out.shape != shape:
        raise ArgumentError(f"out has the shape {out.shape}, must have {shape}", argument="out")
    if not out.flags.writeable:
        raise ArgumentError("out is read-only", argument="out")
    if not out.flags.c_contiguous and out.ndim != 1:
        raise ArgumentError("out must be contiguous", argument="out")
    return out


def _warn_of_domain(law, reynolds, relative_roughness, result):
    """Tells of elements that became NaN though no NaN came in."""
    reynolds, relative_roughness, result = np.broadcast_arrays(reynolds, relative_roughness, result)
    outside = np.isnan(result) & ~np.isnan(reynolds) & ~np.isnan(relative_roughness)
    if not outside.any():
        return
    first = tuple(int(i) for i in np.argwhere(outside)[0])
    place = f" at {first if len(first) > 1 else first[0]}" if first else ""
    warnings.warn(
        f"{law.__name__.removesuffix('_array')}: {np.count_nonzero(outside)} of {outside.size} "
        f"elements are outside the domain and give NaN; the first{place}: reynolds "
        f"{reynolds[first]:g}, relative_roughness {relative_roughness[first]:g}",
        DomainWarning, stacklevel=4)
