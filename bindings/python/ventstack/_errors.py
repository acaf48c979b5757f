# SPDX-License-Identifier: GPL-3.0-or-later
"""One exception for each status of the library, each also the builtin one expects."""

import math
import sys

from . import core


class VentError(Exception):
    """What every failure of the library is.

    Raised as one of its subclasses, which are also the builtin exceptions one expects:
    `ArgumentError` is a `ValueError`, `NotFoundError` a `LookupError` and so on.

    Parameters
    ----------
    message : str
        One readable sentence, complete in itself.
    function, argument : str, optional
        The function that found it and the argument concerned.
    index : int, optional
        The element, node or run concerned.
    value, low, high : float, optional
        The offending value and the bounds it should have kept; NaN where there is none.

    Attributes
    ----------
    status : int
        Number of the library's status.
    message, function, argument, index, value, low, high
        As the parameters.

    Examples
    --------
    >>> import ventstack as vs
    >>> try:
    ...     vs.elbow(angle=90, radius_ratio=1.5)
    ... except vs.ArgumentError as error:
    ...     print(error.argument, error.value)
    angle 90.0
    """

    status = -1

    def __init__(self, message, *, function="", argument="", index=None, value=math.nan,
                 low=math.nan, high=math.nan):
        super().__init__(message)
        self.message = message
        self.function = function
        self.argument = argument
        self.index = index
        self.value = value
        self.low = low
        self.high = high

    def __reduce__(self):
        return type(self), (self.message,), self.__dict__


class ArgumentError(VentError, ValueError):
    """An argument is outside its bounds or is not a number.

    See Also
    --------
    VentError : the attributes that say which, and how far.
    """

    status = core.VENT_E_ARGUMENT


class OutOfMemory(VentError, MemoryError):
    """Memory could not be had.

    See Also
    --------
    VentError : its attributes.
    """

    status = core.VENT_E_MEMORY


class NotFoundError(VentError, LookupError):
    """There is nothing of that name or number.

    See Also
    --------
    VentError : its attributes.
    """

    status = core.VENT_E_NOT_FOUND


class DuplicateError(VentError, ValueError):
    """The name is taken.

    See Also
    --------
    VentError : its attributes.
    """

    status = core.VENT_E_DUPLICATE


class TopologyError(VentError, ValueError):
    """The runs do not lead from suction points to discharges.

    See Also
    --------
    VentError : its attributes.
    """

    status = core.VENT_E_TOPOLOGY


class NoOperatingPointError(VentError, ArithmeticError):
    """No flow satisfies fan and system.

    See Also
    --------
    VentError : its attributes.
    """

    status = core.VENT_E_NO_OPERATING_POINT


class NotConvergedError(VentError, ArithmeticError):
    """The iteration ended before the residual was small.

    See Also
    --------
    VentError : its attributes.
    """

    status = core.VENT_E_NOT_CONVERGED


class StaleError(VentError, RuntimeError):
    """What was asked refers to an earlier shape of the network.

    See Also
    --------
    VentError : its attributes.
    """

    status = core.VENT_E_STALE


class DependencyError(VentError, RuntimeError):
    """A library this one uses reported a failure.

    See Also
    --------
    VentError : its attributes.
    """

    status = core.VENT_E_DEPENDENCY


class DomainWarning(RuntimeWarning):
    """A formula was asked outside its domain; the value there is NaN.

    One warning a call, with the count and the first place. NaN that comes in goes out quietly.

    Examples
    --------
    >>> import warnings
    >>> warnings.simplefilter("error", vs.DomainWarning)  # to have an exception instead
    """


BY_STATUS = {kind.status: kind for kind in VentError.__subclasses__()}


def _called():
    """What of this package the user called, from the frames on the stack: "Network.run", "elbow"."""
    frame, outermost = sys._getframe(2), None
    while frame and frame.f_globals.get("__name__", "").startswith(__package__ + "."):
        if not (frame.f_globals["__name__"].endswith("._recipe")  # which stands before what it records
                or frame.f_code.co_name == "__setattr__"):  # which stands before the property
            outermost = frame
        frame = frame.f_back
    if outermost is None:
        return None
    name, first = outermost.f_code.co_name, outermost.f_code.co_varnames[:1]
    if first not in (("self",), ("cls",)):
        return name
    owner = outermost.f_locals[first[0]]
    kind = owner.__name__ if first == ("cls",) else type(owner).__name__
    return kind if name in ("__init__", "__new__") else f"{kind}.{name}"


def from_record(status, function, argument, index, value, low, high, message):
    """The exception for a failure record of the library; called by the compiled module."""
    kind = BY_STATUS.get(status, VentError)
    if message.startswith(function + ": "):
        message = (_called() or function) + message[len(function):]
    error = kind(message, function=function, argument=argument,
                 index=None if index < 0 else index, value=value, low=low, high=high)
    error.status = status
    return error
