# SPDX-License-Identifier: GPL-3.0-or-later
"""What fittings and terminations have in common, and fittings of a stated coefficient."""

from . import core
from ._checks import instance
from ._pipe import Pipe
from ._source import Coefficient, Source, source
from ._value import Scaled, quantity


class Part(Scaled):
    """What fittings and terminations have in common."""

    __slots__ = ()

    def __new__(cls, *args, **kwargs):
        raise TypeError(f"make a {cls.__name__} with one of the functions that return one")

    factor = quantity("factor", "-", "Multiplies the coefficient; 1 unless stated")

    @property
    def name(self):
        """str : The kind, in words."""
        return self._core_name(self._c.family)

    @property
    def parameters(self):
        """dict : Geometry by name, in SI."""
        found = core.parameter_range()
        geometry = self._c.geometry
        values = {}
        for number in range(self._core_parameter_count(self._c.family)):
            self._core_parameter(self._c.family, number, found)
            values[found.name] = geometry[number]
        return values

    @property
    def family(self):
        """Family : What it is one of: parameters, ranges and sources."""
        from ._family import family
        return family(type(self), self._c.family)

    @property
    def source(self):
        """Source or None : Whose formula was chosen for it; None for the library's default."""
        return source(self._c.source)

    def by_source(self, source):
        """The same by the formula of one of its sources.

        Where the flow's direction has no formula by that source, the default holds.

        Parameters
        ----------
        source : Source, int or None
            One of those `alternatives` gives, or its number; None for the library's default.

        Returns
        -------
        Fitting or Termination

        Raises
        ------
        ArgumentError
            If its family has no formula by that source; the message lists those it has.

        Examples
        --------
        >>> pipe = vs.pipe("PVC 40", 3 * inch)
        >>> default, other, *_ = vs.elbow(np.pi / 2, 1.5).alternatives(pipe, 5e4)
        >>> chosen = vs.elbow(np.pi / 2, 1.5).by_source(other.source)
        >>> chosen.coefficient(pipe, 5e4) == other
        True
        """
        if isinstance(source, Source):
            source = source.number
        number = instance(0 if source is None else source, int, "source", "a Source, an int or None")
        return type(self)._of(self._core_by_source(self._c, number))

    def alternatives(self, pipe, reynolds):
        """The coefficient by every source the library has for it.

        Parameters
        ----------
        pipe : Pipe
            The pipe it is put in, whose velocity pressure K is on.
        reynolds : float
            In that pipe, on its hydraulic diameter, negative for reversed flow [-]; magnitude 1e-3
            to 1e9.

        Returns
        -------
        list of Coefficient
            The library's default first. Half the distance between the least and the greatest is
            part of the uncertainty of each.

        Raises
        ------
        ArgumentError
            If reynolds is outside its bounds.

        Examples
        --------
        >>> default, other, *_ = vs.entry_rounded(0.1).alternatives(vs.pipe("PVC 40", 3 * inch), 5e4)
        >>> for k in default, other:
        ...     print(f"{k.value:.3f} {k.source.author}")
        0.203 D. C. Rennels, H. M. Hudson
        0.110 I. E. Idelchik
        """
        pipe = instance(pipe, Pipe, "pipe", "a Pipe")
        found, result = core.coefficient(), []
        while self._core_alternative(self._c, pipe._c, reynolds, len(result), found):
            result.append(Coefficient._of(found))
        return result

    def coefficient(self, pipe, reynolds):
        """Loss coefficient in a pipe.

        Parameters
        ----------
        pipe : Pipe
            The pipe it is put in, whose velocity pressure K is on.
        reynolds : float
            In that pipe, on its hydraulic diameter, negative for reversed flow [-]; magnitude 1e-3
            to 1e9.

        Returns
        -------
        Coefficient
            Value, standard uncertainty, source and flags.

        Raises
        ------
        ArgumentError
            If reynolds is outside its bounds.

        Notes
        -----
        The source is the one the coefficient names.

        Examples
        --------
        >>> vs.entry_flush().coefficient(vs.round_pipe(0.1, 0.0), 5e4).value
        0.5
        """
        pipe = instance(pipe, Pipe, "pipe", "a Pipe")
        return Coefficient._of(self._core_coefficient(self._c, pipe._c, reynolds))

    def __repr__(self):
        values = ", ".join(f"{name}={value!r}" for name, value in self.parameters.items())
        deviation = "" if self.factor == 1 else f", factor={self.factor!r}"
        chosen = f", by source {self.source.number}, {self.source.brief}" if self.source else ""
        return f"<{self.name}{': ' if values else ''}{values}{deviation}{chosen}>"


class Fitting(Part):
    """A fitting by kind and geometry; made by `elbow`, `mitre`, `entry_flush` and the like.

    Its K is on the velocity pressure of the pipe it is put in.

    Examples
    --------
    >>> vs.elbow(np.pi / 2, 1.5).parameters["radius_ratio"]
    1.5
    """

    __slots__ = ()
    _struct = core.fitting
    _core_name = staticmethod(core.fitting_name)
    _core_parameter_count = staticmethod(core.fitting_parameter_count)
    _core_parameter = staticmethod(core.fitting_parameter)
    _core_coefficient = staticmethod(core.fitting_coefficient)
    _core_alternative = staticmethod(core.fitting_alternative)
    _core_by_source = staticmethod(core.fitting_by_source)
    _core_formula = staticmethod(core.fitting_formula)


def fitting_constant(k, uncertainty=0.0, *, k_reversed=None):
    """A coefficient the caller knows.

    Parameters
    ----------
    k : float
        Loss coefficient the way of the run [-]; 0 to 1e6.
    uncertainty : float, optional
        Its standard uncertainty [-]; 0 to 1e6.
    k_reversed : float, optional
        Loss coefficient for reversed flow [-]; 0 to 1e6. The same as `k` unless given.

    Returns
    -------
    Fitting

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Examples
    --------
    >>> vs.fitting_constant(0.8).coefficient(vs.round_pipe(0.1, 0.0), 5e4).source is None
    True
    """
    k_reversed = k if k_reversed is None else k_reversed
    return Fitting._of(core.fitting_constant_each_way(k, k_reversed, uncertainty))
