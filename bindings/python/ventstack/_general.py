# SPDX-License-Identifier: GPL-3.0-or-later
"""Fittings by general methods: two and three constants, equivalent lengths."""

from . import core
from ._checks import instance
from ._fitting import Fitting
from ._pipe import Pipe


def fitting_three_constant(k1, ki, kd, nominal_size):
    """A coefficient by Darby's three constants, K = k1/Re + ki (1 + kd / Dn^0.3).

    Dn is the nominal size in inches. Tables with Dn in millimetres have a kd 2.64 times as large.

    Parameters
    ----------
    k1 : float
        What laminar flow makes of it [-]; 0 to 1e5.
    ki : float
        Loss of an infinitely wide one in turbulent flow [-]; 0 to 1000.
    kd : float
        How much more a small one loses [in^0.3]; 0 to 100.
    nominal_size : float
        Of the fitting [m]; 0.003 to 3.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Darby (2001), Chemical Engineering Fluid Mechanics; read in a reprint.

    Examples
    --------
    >>> fitting = vs.fitting_three_constant(950, 0.25, 4.0, 12 * inch)
    >>> round(fitting.coefficient(vs.round_pipe(0.3, 0.0), 1e4).value, 4)
    0.8195
    """
    return Fitting._of(core.fitting_three_constant(k1, ki, kd, nominal_size))


def fitting_three_constant_find(name, nominal_size):
    """Darby's published constants of a fitting.

    Parameters
    ----------
    name : str
        One of `fitting_three_constant_names`.
    nominal_size : float
        Of the fitting [m]; 0.003 to 3.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If nominal_size is outside its bounds.
    NotFoundError
        If there is no such name; the message tells the nearest ones.

    Notes
    -----
    Darby (2001), Chemical Engineering Fluid Mechanics; read in a reprint.

    Examples
    --------
    >>> vs.fitting_three_constant_find("elbow 90 threaded", 3 * inch).parameters["ki"]
    0.14
    """
    return Fitting._of(core.fitting_three_constant_find(name, nominal_size))


def fitting_two_constant(k1, k_infinite):
    """A coefficient by Hooper's two constants, K = k1/Re + k_infinite (1 + 1 in / D).

    D is the bore of the pipe it is put in.

    Parameters
    ----------
    k1 : float
        What laminar flow makes of it [-]; 0 to 1e5.
    k_infinite : float
        Loss of an infinitely wide one in turbulent flow [-]; 0 to 1000.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Hooper (1981), The two-K method, Chemical Engineering 88(17); read in a reprint.

    Examples
    --------
    >>> fitting = vs.fitting_two_constant(900, 4.0)
    >>> round(fitting.coefficient(vs.round_pipe(2 * inch, 0.0), 1e4).value, 2)
    6.09
    """
    return Fitting._of(core.fitting_two_constant(k1, k_infinite))


def fitting_two_constant_find(name):
    """Hooper's published constants of a fitting.

    Parameters
    ----------
    name : str
        One of `fitting_two_constant_names`.

    Returns
    -------
    Fitting

    Raises
    ------
    NotFoundError
        If there is no such name; the message tells the nearest ones.

    Notes
    -----
    Hooper (1981), The two-K method, Chemical Engineering 88(17); read in a reprint, the names of some
    rows and the screwed return bend from memory.

    Examples
    --------
    >>> vs.fitting_two_constant_find("elbow 90 threaded").parameters["k_infinite"]
    0.4
    """
    return Fitting._of(core.fitting_two_constant_find(name))


def _names(entry):
    names = []
    while (name := entry(len(names))) is not None:
        names.append(name)
    return tuple(names)


def fitting_three_constant_names():
    """The fittings Darby has constants for.

    Returns
    -------
    tuple of str

    Examples
    --------
    >>> "gate valve" in vs.fitting_three_constant_names()
    True
    """
    return _names(core.fitting_three_constant_name)


def fitting_two_constant_names():
    """The fittings Hooper has constants for.

    Returns
    -------
    tuple of str

    Examples
    --------
    >>> "globe valve" in vs.fitting_two_constant_names()
    True
    """
    return _names(core.fitting_two_constant_name)


def fitting_equivalent_length(length_ratio):
    """A coefficient told as a length of the pipe it is put in, K = f L/D at the actual flow.

    Parameters
    ----------
    length_ratio : float
        Length over bore [-]; 0 to 1e5.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If length_ratio is outside its bounds.

    Notes
    -----
    Crane (2009), TP-410, equivalent length; read in a reprint. Crane's own K takes the friction factor
    of fully turbulent flow in steel pipe instead.

    Examples
    --------
    >>> k = vs.fitting_equivalent_length(30).coefficient(vs.round_pipe(0.1, 0.0), 5e4)
    >>> round(k.value, 2)
    0.63
    """
    return Fitting._of(core.fitting_equivalent_length(length_ratio))


def equivalent_length(k, pipe, reynolds):
    """Length of straight pipe that loses as much as a coefficient, at one flow.

    The friction factor changes with the flow: a fixed length is right at one flow only.

    Parameters
    ----------
    k : float
        Loss coefficient [-]; 0 to 1e6.
    pipe : Pipe
        The pipe.
    reynolds : float
        In that pipe, on its hydraulic diameter [-]; 1e-3 to 1e9.

    Returns
    -------
    float
        Length [m].

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Darcy and Weisbach's definition of the friction factor.

    Examples
    --------
    >>> pipe = vs.round_pipe(0.1, 0.0)
    >>> [round(vs.equivalent_length(0.5, pipe, re), 1) for re in (2e4, 2e5)]
    [1.9, 3.2]
    """
    return core.equivalent_length(k, instance(pipe, Pipe, "pipe", "a Pipe")._c, reynolds)


def equivalent_length_coefficient(length, pipe, reynolds):
    """Coefficient of what loses as much as a length of straight pipe, at one flow.

    `equivalent_length` backwards.

    Parameters
    ----------
    length : float
        Of pipe [m]; 0 to 1e6.
    pipe : Pipe
        The pipe.
    reynolds : float
        In that pipe, on its hydraulic diameter [-]; 1e-3 to 1e9.

    Returns
    -------
    float
        Loss coefficient [-].

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Notes
    -----
    Darcy and Weisbach's definition of the friction factor.

    Examples
    --------
    >>> pipe = vs.round_pipe(0.1, 0.0)
    >>> round(vs.equivalent_length_coefficient(vs.equivalent_length(0.5, pipe, 2e4), pipe, 2e4), 9)
    0.5
    """
    return core.equivalent_length_coefficient(length, instance(pipe, Pipe, "pipe", "a Pipe")._c,
                                              reynolds)
