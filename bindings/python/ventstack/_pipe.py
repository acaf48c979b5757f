# SPDX-License-Identifier: GPL-3.0-or-later
"""Pipe: bore, roughness and their spread."""

import dataclasses

from . import _core, core
from ._source import Source, source
from ._value import Value, quantity


class Pipe(Value):
    """A kind of pipe; made by `pipe`, `round_pipe` or `rectangular_pipe`.

    Examples
    --------
    >>> vs.round_pipe(bore=0.1, roughness=1.5e-6)
    Pipe(bore=0.1, roughness=1.5e-06)
    """

    __slots__ = ()
    _struct = core.pipe

    def __new__(cls, *args, **kwargs):
        raise TypeError("make a Pipe with pipe(), round_pipe() or rectangular_pipe()")

    width = quantity("width", "m", "Bore of a round pipe, else inside width")
    depth = quantity("depth", "m", "Bore of a round pipe, else inside depth")
    roughness = quantity("roughness", "m", "Equivalent sand-grain roughness")
    bore_uncertainty = quantity("bore_uncertainty", "m",
                                "Standard uncertainty of the bore from the wall's tolerance")
    roughness_uncertainty = quantity("roughness_uncertainty", "m",
                                     "Standard uncertainty of the roughness")

    @property
    def is_round(self):
        """bool : Whether the pipe is round."""
        return self._c.shape == core.VENT_PIPE_ROUND

    @property
    def area(self):
        """float : Inside area [m2]."""
        return core.pipe_area(self._c)

    @property
    def hydraulic_diameter(self):
        """float : Four times area over perimeter; the bore of a round pipe [m]."""
        return core.pipe_hydraulic_diameter(self._c)

    @property
    def effective_diameter(self):
        """float : Diameter of the round pipe with the same laminar law [m]."""
        return core.pipe_effective_diameter(self._c)

    @property
    def source(self):
        """Source or None : Citation of the dimensions; None for a pipe of one's own."""
        return source(self._c.source)

    def loss(self, length, mass_flow, density, viscosity):
        """Loss of pressure along a length of the pipe.

        Parameters
        ----------
        length : float or array_like
            Along the axis [m]; 0 to 1e6.
        mass_flow : float or array_like
            [kg/s], signed.
        density : float or array_like
            Of the gas [kg/m3].
        viscosity : float or array_like
            Of the gas [Pa s].

        Returns
        -------
        float or numpy.ndarray
            [Pa], with the sign of the flow; NaN outside the domain.

        Notes
        -----
        Darcy and Weisbach, with `friction_factor` on the effective diameter.

        Examples
        --------
        >>> vs.round_pipe(0.1, 1.5e-6).loss(10, 0.0, 1.2, 1.8e-5)
        0.0
        """
        return _core.pipe_loss(self._c, length, mass_flow, density, viscosity)

    def __repr__(self):
        if self.is_round:
            return f"Pipe(bore={self.width!r}, roughness={self.roughness!r})"
        return f"Pipe(width={self.width!r}, depth={self.depth!r}, roughness={self.roughness!r})"


def pipe(name, nominal_size):
    """A pipe of the catalogue.

    Parameters
    ----------
    name : str
        Kind, as `pipes` lists them: "PVC 40".
    nominal_size : float
        As the trade calls it [m], such as ``3 * inch``; 0.01 to 1.

    Returns
    -------
    Pipe
        With the standard's average inside diameter, and its tolerance as the uncertainty.

    Raises
    ------
    NotFoundError
        If there is no such kind or no such size of it; the message tells what there is.

    Notes
    -----
    ASTM D1785, D2665, F891 and D3034: outside diameters, walls and tolerances. Each pipe's `source`
    says how its dimensions are known; the C header ``ventstack/pipe.h`` says how bores follow.

    Examples
    --------
    >>> round(vs.pipe("PVC 40", 3 * inch).width / inch, 2)
    3.04
    """
    return Pipe._of(core.pipe_find(name, nominal_size))


def round_pipe(bore, roughness):
    """A round pipe of one's own.

    Parameters
    ----------
    bore : float
        Inside diameter [m]; 1e-4 to 10.
    roughness : float
        Equivalent sand-grain roughness [m]; 0 to 0.1 bore. See `roughness`.

    Returns
    -------
    Pipe

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Examples
    --------
    >>> round(vs.round_pipe(4 * inch, 0.0).area, 5)
    0.00811
    """
    return Pipe._of(core.pipe_round(bore, roughness))


def rectangular_pipe(width, depth, roughness):
    """A rectangular pipe of one's own, such as a downspout.

    Parameters
    ----------
    width, depth : float
        Inside [m]; 1e-4 to 10.
    roughness : float
        Equivalent sand-grain roughness [m]; 0 to 0.1 of the effective diameter. See `roughness`.

    Returns
    -------
    Pipe

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Examples
    --------
    >>> round(vs.rectangular_pipe(3 * inch, 4 * inch, 0.0).hydraulic_diameter / inch, 3)
    3.429
    """
    return Pipe._of(core.pipe_rectangular(width, depth, roughness))


def pipes():
    """The catalogue of pipes.

    Returns
    -------
    list of (str, float, Pipe)
        Kind and nominal size [m], as `pipe` takes them, and the pipe.

    Examples
    --------
    >>> [round(size / inch, 1) for name, size, _ in vs.pipes() if name == "PVC 40"][:3]
    [1.5, 2.0, 2.5]
    """
    entries = (core.pipe_entry(entry) for entry in range(core.pipe_count()))
    return [(name, size, Pipe._of(struct)) for struct, name, size in entries]


@dataclasses.dataclass(frozen=True)
class Roughness:
    """Roughness of a material.

    Attributes
    ----------
    material : str
        As the catalogue names it.
    value : float
        Equivalent sand-grain roughness [m].
    low, high : float
        The span of published values [m].
    source : Source or None
        Citation.

    Examples
    --------
    >>> each = vs.roughnesses()[0]
    >>> each.low <= each.value <= each.high
    True
    """

    material: str
    value: float
    low: float
    high: float
    source: Source

    def __float__(self):
        return self.value


def roughness(material):
    """Roughness of a material by name.

    Parameters
    ----------
    material : str
        As `roughnesses` lists them.

    Returns
    -------
    Roughness
        With its published span and source.

    Raises
    ------
    NotFoundError
        If there is no such material.

    Examples
    --------
    >>> vs.roughness(vs.roughnesses()[0].material) == vs.roughnesses()[0]
    True
    """
    value, low, high, number = core.roughness_find(material)
    return Roughness(material, value, low, high, source(number))


def roughnesses():
    """The catalogue of roughnesses.

    Returns
    -------
    list of Roughness

    Examples
    --------
    >>> len(vs.roughnesses()) > 0
    True
    """
    entries = (core.roughness_entry(entry) for entry in range(core.roughness_count()))
    return [Roughness(material, value, low, high, source(number))
            for value, material, low, high, number in entries]
