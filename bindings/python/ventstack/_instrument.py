# SPDX-License-Identifier: GPL-3.0-or-later
"""Instruments and probes, and where in the pipe a probe is held."""

import enum

import numpy as np

from . import _core, core
from ._checks import instance
from ._pipe import Pipe
from ._reading import Reading, _reading
from ._value import Value, quantity


class Instrument(Value):
    """An instrument and its data sheet; made by `pressure_instrument`, `vane_anemometer` and the like.

    Examples
    --------
    >>> vs.vane_anemometer(0.3, 20, share=0.01, fixed=0.1, step=0.01).read(4)
    <4 +- 0.08088>
    """

    __slots__ = ()
    _struct = core.instrument

    def __new__(cls, *args, **kwargs):
        raise TypeError("make an Instrument with pressure_instrument(), vane_anemometer() and such")

    @property
    def is_pressure(self):
        """bool : Whether it shows a pressure (else a velocity)."""
        return self._c.kind in (core.VENT_INSTRUMENT_PRESSURE, core.VENT_INSTRUMENT_COLUMN)

    def read(self, indication):
        """What an indication means, and how sure it is.

        Parameters
        ----------
        indication : float
            [unit of the scale]: Pa, m of a column, or m/s; within the scale.

        Returns
        -------
        Reading
            [Pa] or [m/s]; flagged where it cannot be told from zero.

        Raises
        ------
        ArgumentError
            If indication is beyond the scale.

        Examples
        --------
        >>> vs.pressure_instrument(500, share=0.01, fixed=0.25, step=0.1).read(14)
        <14 +- 0.227>
        """
        return Reading._of(core.instrument_read(self._c, indication))

    def __repr__(self):
        kinds = {core.VENT_INSTRUMENT_PRESSURE: "pressure, Pa",
                 core.VENT_INSTRUMENT_COLUMN: "column of liquid, m",
                 core.VENT_INSTRUMENT_VANE: "vane anemometer, m/s",
                 core.VENT_INSTRUMENT_HOT_WIRE: "hot-wire anemometer, m/s"}
        return f"<instrument: {kinds[self._c.kind]}, {self._c.low:g} to {self._c.high:g}>"


def pressure_instrument(greatest, share=0.0, fixed=0.0, step=0.0):
    """A pressure gauge: dial or digital manometer.

    Parameters
    ----------
    greatest : float
        End of the scale [Pa]; it reads either way.
    share : float, optional
        Limit of error, share of the indication [-]; 0 to 0.5.
    fixed : float, optional
        Limit of error, fixed part [Pa]; of a sheet in per cent of full scale, that of greatest.
    step : float, optional
        Least difference that shows [Pa].

    Returns
    -------
    Instrument

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Examples
    --------
    >>> vs.pressure_instrument(500, share=0.01, fixed=0.25, step=0.1)
    <instrument: pressure, Pa, -500 to 500>
    """
    return Instrument._of(core.instrument_pressure(greatest, share, fixed, step))


def vane_anemometer(least, greatest, share=0.0, fixed=0.0, step=0.0):
    """A vane anemometer: it turns with the velocity, whatever the density.

    Parameters
    ----------
    least : float
        Where it begins to turn [m/s].
    greatest : float
        End of the scale [m/s].
    share, fixed, step : float, optional
        As in `pressure_instrument`, fixed and step [m/s].

    Returns
    -------
    Instrument

    Examples
    --------
    >>> vs.vane_anemometer(0.3, 20, share=0.01, fixed=0.1)
    <instrument: vane anemometer, m/s, 0.3 to 20>
    """
    return Instrument._of(core.instrument_vane(least, greatest, share, fixed, step))


def hot_wire_anemometer(least, greatest, share=0.0, fixed=0.0, step=0.0):
    """A hot-wire anemometer: it feels mass, and shows the velocity standard air would have.

    One that corrects for density by itself is a `vane_anemometer` here.

    Parameters
    ----------
    least : float
        Least velocity it is good for [m/s].
    greatest : float
        End of the scale [m/s].
    share, fixed, step : float, optional
        As in `pressure_instrument`, fixed and step [m/s].

    Returns
    -------
    Instrument

    Examples
    --------
    >>> vs.hot_wire_anemometer(0.1, 20, share=0.03, fixed=0.1)
    <instrument: hot-wire anemometer, m/s, 0.1 to 20>
    """
    return Instrument._of(core.instrument_hot_wire(least, greatest, share, fixed, step))


def u_tube(length, step, density):
    """A vertical U-tube manometer; its indication is the difference of the two levels.

    Parameters
    ----------
    length : float
        Greatest difference of the levels [m].
    step : float
        To which one level can be read [m]; both are read.
    density : float or Reading
        Of the liquid less that of the gas above it [kg/m3]; `water_density` for water.

    Returns
    -------
    Instrument

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Examples
    --------
    >>> tube = vs.u_tube(0.1, step=1e-3, density=vs.Reading(997.0, 1.0))
    >>> print(f"{tube.read(1.1 * inch) / inwc:.2f} in. w.c.")
    1.10 +- 0.02 in. w.c.
    """
    return Instrument._of(core.instrument_u_tube(length, step, _reading(density, "density")))


def inclined_manometer(length, step, density, tilt, area_ratio=0.0):
    """An inclined manometer with a well; its indication is the length along the tube.

    Where the printed scale already holds tilt and liquid it is a `pressure_instrument`.

    Parameters
    ----------
    length : float
        Of the tube [m].
    step : float
        To which the meniscus can be read [m].
    density : float or Reading
        As in `u_tube` [kg/m3].
    tilt : float or Reading
        Of the tube above level [rad].
    area_ratio : float, optional
        Area of the tube over that of the well [-].

    Returns
    -------
    Instrument

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Examples
    --------
    >>> slope = vs.inclined_manometer(0.3, 5e-4, density=826.0, tilt=vs.Reading(0.1, 0.002))
    >>> print(f"{slope.read(0.1):.1f} Pa")
    80.9 +- 1.6 Pa
    """
    return Instrument._of(core.instrument_inclined(length, step, _reading(density, "density"),
                                                   _reading(tilt, "tilt"), area_ratio))


class Probe(Value):
    """What is held into the pipe; made by `pitot` or `probe`.

    Examples
    --------
    >>> vs.pitot(0.125 * inch).head
    0.003175
    """

    __slots__ = ()
    _struct = core.probe

    def __new__(cls, *args, **kwargs):
        raise TypeError("make a Probe with pitot() or probe()")

    head = quantity("head", "m", "Diameter of what faces the flow")
    stem = quantity("stem", "m", "Diameter of what reaches it in")
    offset = quantity("offset", "m", "From the head's axis to the mark one reads at the wall")
    factor = quantity("factor", "-", "Actual velocity over the one its reading means")
    factor_uncertainty = quantity("factor_uncertainty", "-", "Standard uncertainty of factor")
    position_uncertainty = quantity("position_uncertainty", "m",
                                    "Standard uncertainty of where the head is")

    def with_offset(self, offset):
        """The same probe, read at a mark so far from the head's axis.

        Parameters
        ----------
        offset : float
            [m].

        Returns
        -------
        Probe

        Examples
        --------
        >>> vs.pitot(3 * mm).with_offset(0.02).offset
        0.02
        """
        return self._with(offset=float(offset))

    def blockage(self, pipe, insertion):
        """Share of a pipe's section it takes.

        Parameters
        ----------
        pipe : Pipe
        insertion : float or array_like
            From the wall to the head's axis [m].

        Returns
        -------
        float or numpy.ndarray
            [-]; NaN outside the pipe.

        Examples
        --------
        >>> pipe = vs.pipe("PVC 40", 3 * inch)
        >>> round(vs.pitot(5 / 16 * inch).blockage(pipe, pipe.width / 2), 3)
        0.065
        """
        pipe = instance(pipe, Pipe, "pipe", "a Pipe")
        return _core.probe_blockage(self._c, pipe._c, insertion)

    def __repr__(self):
        return f"<probe: head {self.head:g} m, stem {self.stem:g} m, factor {self.factor:g}>"


def pitot(diameter):
    """A standard pitot-static tube: factor 1 within 1 %, placed to 1 mm.

    Parameters
    ----------
    diameter : float
        Of head and stem [m]; 1e-4 to 0.05.

    Returns
    -------
    Probe

    Raises
    ------
    ArgumentError
        If diameter is outside its bounds.

    Notes
    -----
    ISO 3966 (2008), from memory.

    Examples
    --------
    >>> vs.pitot(3 * mm)
    <probe: head 0.003 m, stem 0.003 m, factor 1>
    """
    return Probe._of(core.pitot(diameter))


def probe(head, stem, factor=1.0, factor_uncertainty=0.0, position_uncertainty=0.0):
    """Any probe: a type S tube, a vane, a hot wire, a calibrated pitot tube.

    Parameters
    ----------
    head : float
        Diameter of what faces the flow [m].
    stem : float
        Diameter of what reaches it in [m].
    factor : float, optional
        Actual velocity over the one its reading means [-]; 0.84 for a type S tube.
    factor_uncertainty : float, optional
        Standard uncertainty of factor [-].
    position_uncertainty : float, optional
        Standard uncertainty of where the head is [m].

    Returns
    -------
    Probe

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Examples
    --------
    >>> vs.probe(0.01, 0.006, factor=0.84, factor_uncertainty=0.01).factor
    0.84
    """
    return Probe._of(core.probe_new(head, stem, factor, factor_uncertainty, position_uncertainty))


class TraverseRule(enum.IntEnum):
    """Where to measure in a traverse.

    Attributes
    ----------
    LOG_LINEAR
        Round pipe; 4, 6, 8 or 10 points a diameter.
    LOG_TCHEBYCHEFF
        Round: 6, 8 or 10 points a diameter; rectangular: 5, 6 or 7 a side.
    EQUAL_AREA
        Centres of equal areas; round: even, 2 to 24 points a diameter; rectangular: 2 to 24 a side.

    Examples
    --------
    >>> vs.traverse_positions(vs.round_pipe(0.1, 0.0), vs.TraverseRule.EQUAL_AREA, 4).round(4)
    array([0.0067, 0.025 , 0.075 , 0.0933])
    """

    LOG_LINEAR = core.VENT_TRAVERSE_LOG_LINEAR
    LOG_TCHEBYCHEFF = core.VENT_TRAVERSE_LOG_TCHEBYCHEFF
    EQUAL_AREA = core.VENT_TRAVERSE_EQUAL_AREA


_POINT = probe(0, 0)


def traverse_positions(pipe, rule, points, probe=_POINT, side=0):
    """How far to push a probe in for each point of one line of a traverse.

    Parameters
    ----------
    pipe : Pipe
    rule : TraverseRule
    points : int
        On the line, as the rule allows.
    probe : Probe, optional
        Points its head cannot reach are moved to where it can; its offset is added.
    side : int, optional
        0 along the width, 1 along the depth of a rectangular pipe.

    Returns
    -------
    numpy.ndarray
        [m] from the wall where it enters.

    Raises
    ------
    ArgumentError
        If the rule has no such points, or the head is so wide that points fall together.

    Notes
    -----
    ISO 3966 as tabled in instrument manuals (partly from memory); 40 CFR 60, appendix A, method 1.

    Examples
    --------
    >>> pipe = vs.pipe("PVC 40", 4 * inch)
    >>> (vs.traverse_positions(pipe, vs.TraverseRule.LOG_LINEAR, 6) / mm).round(1)
    array([ 3.2, 13.7, 32.6, 69. , 87.8, 98.3])
    """
    pipe = instance(pipe, Pipe, "pipe", "a Pipe")
    probe = instance(probe, Probe, "probe", "a Probe")
    position = np.full(int(points) if 0 < points < 100 else 1, np.nan)
    core.measure_traverse_positions(pipe._c, int(side), int(rule), int(points), probe._c, position)
    return position


def _copied(kind, struct):
    """A value of this package with the members of a struct that belongs to another."""
    copy = kind._struct()
    for name in (name for name, member in vars(kind._struct).items()
                 if isinstance(member, property) and name != "thisown"):
        setattr(copy, name, getattr(struct, name))
    return kind._of(copy)


def _probe(value):
    return instance(value, Probe, "probe", "a Probe")._c


def _instrument(value):
    return instance(value, Instrument, "instrument", "an Instrument")._c


def water_density(temperature):
    """Density of water without air at 1 atm.

    Parameters
    ----------
    temperature : float or array_like
        [K]; 273.15 to 313.15.

    Returns
    -------
    float or numpy.ndarray
        [kg/m3]; NaN outside the domain.

    Notes
    -----
    Tanaka and others (2001), Metrologia 38, 301, DOI 10.1088/0026-1394/38/4/3.

    Examples
    --------
    >>> round(vs.water_density(celsius(20)), 2)
    998.21
    """
    return _core.water_density(temperature)
