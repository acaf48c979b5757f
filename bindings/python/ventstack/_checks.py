# SPDX-License-Identifier: GPL-3.0-or-later
"""What comes in: numbers, arrays and objects of this package, or an error that names the argument."""

import difflib
import warnings

import numpy as np

from ._errors import ArgumentError, DomainWarning

MYPY = False  # mypy itself takes a name like this for True


def described(value):
    """The type of a value, for an error message."""
    return f"not {type(value).__name__}"


def instance(value, kinds, argument, what):
    """The value, if it is of one of the classes; else a TypeError that says what it should be."""
    if isinstance(value, kinds):
        return value
    raise TypeError(f"{argument} must be {what}, {described(value)}")


def member(value, kinds, argument):
    """The value as one of an enumeration; else an ArgumentError that lists them, the nearest first."""
    try:
        return kinds(value)
    except ValueError:
        names = list(kinds.__members__)
        near = difflib.get_close_matches(str(value).upper(), names, 1)
    raise ArgumentError(f"{argument} is {value!r}; it must be a {kinds.__name__}"
                        + (f", perhaps {kinds.__name__}.{near[0]}" if near else "")
                        + f": {', '.join(names)}", argument=argument)


def filled(values, argument, what):
    """The values, if there are any; else an ArgumentError that names what is missing."""
    if len(values):
        return values
    raise ArgumentError(f"{argument} is empty; it must hold {what}", argument=argument)


def numbers(values, argument):
    """Any array-like of real numbers as an array of float64; no copy where it is one."""
    if hasattr(values, "to_base_units"):
        raise TypeError(f"{argument} carries a unit: give its magnitude in SI units")
    try:
        array = np.asarray(values)
    except ValueError as error:
        raise ArgumentError(f"{argument} is no array: {error}", argument=argument) from None
    if array.dtype.kind not in "fiub":
        raise TypeError(f"{argument} must hold real numbers, {described(values)} of "
                        f"{array.dtype.name}")
    return np.asarray(array, dtype=float)


def row(values, argument):
    """A row of numbers as a contiguous array of one dimension."""
    array = numbers(values, argument)
    if array.ndim != 1:
        raise ArgumentError(f"{argument} has {array.ndim} dimensions, must have one",
                            argument=argument)
    return np.ascontiguousarray(array)


def common_shape(arrays):
    """The shape arrays broadcast to; an ArgumentError that names the first that does not fit."""
    shape = ()
    for argument, array in arrays.items():
        if array.shape == shape or not array.ndim:
            continue
        try:
            shape = np.broadcast_shapes(shape, array.shape) if shape else array.shape
        except ValueError:
            raise ArgumentError(f"{argument} has the shape {array.shape}, which does not broadcast "
                                f"with {shape}", argument=argument) from None
    return shape


def refuse_out(out, shape, overlaps):
    """Raises what is wrong with an array given to be filled with a result of a shape."""
    if not isinstance(out, np.ndarray) or out.dtype != np.dtype(float):
        raise TypeError("out must be a numpy.ndarray of float64")
    why = (f"has the shape {out.shape}, must have {shape}" if out.shape != shape
           else "is read-only" if not out.flags.writeable
           else "overlaps the memory of an input" if overlaps else "is not aligned")
    raise ArgumentError(f"out {why}", argument="out")


def like(result, values):
    """An array result under the labels of the first value of its shape that has any (pandas)."""
    for value in values:
        if (not isinstance(value, np.ndarray) and getattr(value, "shape", None) == result.shape
                and hasattr(value, "astype")):
            labelled = value.astype(float)
            labelled[:] = result
            return labelled
    return result


def warn_of_domain(called, arguments, result):
    """Tells of elements that became NaN though no NaN came in; called by what is called by users."""
    *values, result = np.broadcast_arrays(*arguments.values(), result)
    outside = np.isnan(result) & ~np.any([np.isnan(value) for value in values], axis=0)
    if not outside.any():
        return
    first = tuple(int(i) for i in np.argwhere(outside)[0])
    place = f" at {first if len(first) > 1 else first[0]}" if first else ""
    numbers_there = ", ".join(f"{name} {value[first]:g}" for name, value in zip(arguments, values))
    warnings.warn(
        f"{called}: {np.count_nonzero(outside)} of {outside.size} elements are outside the domain "
        f"and give NaN; the first{place}: {numbers_there}", DomainWarning, stacklevel=3)
