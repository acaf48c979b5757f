# SPDX-License-Identifier: GPL-3.0-or-later
"""What comes in: numbers, arrays and objects of this package, or an error that names the argument."""

import numpy as np

from ._errors import ArgumentError


def described(value):
    """The type of a value, for an error message."""
    return f"not {type(value).__name__}"


def instance(value, kinds, argument, what):
    """The value, if it is of one of the classes; else a TypeError that says what it should be."""
    if isinstance(value, kinds):
        return value
    raise TypeError(f"{argument} must be {what}, {described(value)}")


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


def spread(array, shape):
    """A contiguous array of a shape it broadcasts to."""
    return np.ascontiguousarray(array if array.shape == shape else np.broadcast_to(array, shape))


def like(result, *values):
    """An array result under the labels of the first value of its shape that has any (pandas)."""
    for value in values:
        if (not isinstance(value, np.ndarray) and getattr(value, "shape", None) == result.shape
                and hasattr(value, "astype")):
            labelled = value.astype(float)
            labelled[:] = result
            return labelled
    return result


def elementwise(function, **arguments):
    """A function of numbers, of numbers or of arrays that broadcast; float in, float out."""
    values = arguments.values()
    if all(type(value) is float for value in values):
        return function(*values)
    arrays = {name: numbers(value, name) for name, value in arguments.items()}
    shape = common_shape(arrays)
    if not shape:
        return function(*(float(array) for array in arrays.values()))
    each = np.broadcast(*arrays.values())
    result = np.fromiter((function(*row) for row in each), dtype=float, count=each.size)
    return like(result.reshape(shape), *values)
