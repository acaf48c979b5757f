# SPDX-License-Identifier: GPL-3.0-or-later
"""From a reading to a flow, and how far to trust it."""

import dataclasses
import enum
import math

import numpy as np

from . import _core, core
from ._air import Air
from ._checks import described, instance, numbers, row
from ._errors import ArgumentError
from ._pipe import Pipe
from ._source import source as _source
from ._value import Value, quantity


class ReadingFlag(enum.IntFlag):
    """What to know of a reading.

    Attributes
    ----------
    NOT_MEASURABLE
        Twice the instrument's uncertainty reaches zero: not measurable with this instrument.
    COARSE
        The instrument leaves more of the flow open than wanted.
    OFF_SCALE
        Beyond the instrument's scale.
    TRANSITIONAL
        Reynolds number 2000 to 4000: the profile may be either.
    BLOCKED
        The probe takes more than 3 % of the pipe's section.
    UNEVEN
        Over a quarter of a traverse reads below a tenth of its greatest velocity pressure.
    RANGE
        Outside the range of the rule's source.
    STRAIGHT
        Too little straight pipe before the station.

    Examples
    --------
    >>> gauge = vs.pressure_instrument(500, fixed=0.5, step=0.1)
    >>> gauge.read(0.3).flags.name
    'NOT_MEASURABLE'
    """

    NOT_MEASURABLE = core.VENT_READING_NOT_MEASURABLE
    COARSE = core.VENT_READING_COARSE
    OFF_SCALE = core.VENT_READING_OFF_SCALE
    TRANSITIONAL = core.VENT_READING_TRANSITIONAL
    BLOCKED = core.VENT_READING_BLOCKED
    UNEVEN = core.VENT_READING_UNEVEN
    RANGE = core.VENT_READING_RANGE
    STRAIGHT = core.VENT_READING_STRAIGHT


class Reading(Value):
    """A value with its standard uncertainty.

    Dividing by a unit converts both, and a format applies to both.

    Parameters
    ----------
    value : float
        In SI [-].
    uncertainty : float, optional
        One standard uncertainty, in the same unit [-]; at least 0.

    Raises
    ------
    ArgumentError
        If value is not finite or uncertainty is negative.

    Examples
    --------
    >>> flow = vs.Reading(0.0176, 0.0014)
    >>> print(f"{flow / cfm:.1f} cfm")
    37.3 +- 3.0 cfm
    """

    __slots__ = ()
    _struct = core.reading

    def __new__(cls, value, uncertainty=0.0):
        made = core.reading_stated(value, uncertainty)
        if math.isnan(made.value):
            raise ArgumentError(f"a reading of {value!r} with uncertainty {uncertainty!r}: the value "
                                "must be finite, the uncertainty finite and not negative",
                                argument="uncertainty")
        return cls._of(made)

    value = quantity("value", "SI unit of what it is", "The value")
    uncertainty = quantity("uncertainty", "same unit", "Its standard uncertainty")

    @property
    def relative_uncertainty(self):
        """float : Standard uncertainty over the size of the value [-]."""
        return self.uncertainty / abs(self.value) if self.value else math.inf

    @property
    def flags(self):
        """ReadingFlag : What to know of it; false where nothing is to be said."""
        return ReadingFlag(self._c.flags)

    @property
    def is_measurable(self):
        """bool : Whether the instrument can tell it from zero."""
        return not self.flags & ReadingFlag.NOT_MEASURABLE

    @property
    def source(self):
        """Source or None : Of the rule used."""
        return _source(self._c.source)

    def __truediv__(self, other):
        return self._with(value=self.value / other, uncertainty=self.uncertainty / abs(other))

    def __mul__(self, other):
        return self._with(value=self.value * other, uncertainty=self.uncertainty * abs(other))

    __rmul__ = __mul__

    def __float__(self):
        return self.value

    def __format__(self, spec):
        return f"{self.value:{spec}} +- {self.uncertainty:{spec}}"

    def __repr__(self):
        flags = " " + "|".join(flag.name for flag in ReadingFlag if flag & self.flags)
        return f"<{self:.4g}{flags.rstrip()}>"


def _reading(value, argument):
    """A reading, or a number taken as exact."""
    if isinstance(value, Reading):
        return value._c
    try:
        return Reading(value)._c
    except TypeError:
        raise TypeError(f"{argument} must be a Reading or a number, {described(value)}") from None


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


class Taps(enum.IntEnum):
    """Where an orifice plate's pressure difference is taken.

    Attributes
    ----------
    CORNER
        At the plate.
    D_D2
        One bore before, half a bore behind.
    FLANGE
        25.4 mm before and behind.

    Examples
    --------
    >>> vs.metering_orifice(40 * mm, taps=vs.Taps.FLANGE).taps.name
    'FLANGE'
    """

    CORNER = core.VENT_TAPS_CORNER
    D_D2 = core.VENT_TAPS_D_D2
    FLANGE = core.VENT_TAPS_FLANGE


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


class Orifice(Value):
    """A square-edged orifice plate to measure with; made by `metering_orifice`.

    Examples
    --------
    >>> vs.metering_orifice(40 * mm).bore
    0.04
    """

    __slots__ = ()
    _struct = core.orifice

    def __new__(cls, *args, **kwargs):
        raise TypeError("make an Orifice with metering_orifice()")

    bore = quantity("bore", "m", "Diameter of the hole")
    bore_uncertainty = quantity("bore_uncertainty", "m", "Standard uncertainty of bore")

    @property
    def taps(self):
        """Taps : Where the difference is taken."""
        return Taps(self._c.taps)

    def __repr__(self):
        return f"<orifice: {self.bore:g} m, {self.taps.name} taps>"


def metering_orifice(bore, bore_uncertainty=0.0, taps=Taps.CORNER):
    """A square-edged, thin, concentric orifice plate to measure with.

    Parameters
    ----------
    bore : float
        Diameter of the hole [m].
    bore_uncertainty : float, optional
        Its standard uncertainty [m].
    taps : Taps, optional
        Where the difference is taken.

    Returns
    -------
    Orifice

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Examples
    --------
    >>> vs.metering_orifice(40 * mm)
    <orifice: 0.04 m, CORNER taps>
    """
    return Orifice._of(core.metering_orifice(bore, bore_uncertainty, int(taps)))


@dataclasses.dataclass(frozen=True)
class Advice:
    """Whether an instrument can measure a flow, and what would do if not.

    Attributes
    ----------
    message : str
        The verdict in words.
    flags : ReadingFlag
        NOT_MEASURABLE, COARSE, OFF_SCALE or none.
    velocity : float
        At the centre of the pipe [m/s].
    indication : float
        What the instrument would show there [unit of its scale].
    uncertainty : float
        Relative standard uncertainty it leaves of the flow [-].
    section : float
        Bore of a measuring section in which it is as good as wanted [m].
    orifice : float
        Hole of an orifice plate that makes it so [m]; NaN where none does.
    orifice_pressure : float
        Across that plate's taps [Pa].
    orifice_loss : float
        What that plate costs [Pa].

    Examples
    --------
    >>> here = vs.Station(vs.pipe("PVC 40", 4 * inch), 98300, -274, celsius(12), 1.0)
    >>> gauge = vs.pressure_instrument(500, share=0.01, fixed=0.25, step=0.1)
    >>> bool(here.advice(gauge, 60 * cfm).flags), bool(here.advice(gauge, 5 * cfm).flags)
    (False, True)
    """

    message: str
    flags: ReadingFlag
    velocity: float
    indication: float
    uncertainty: float
    section: float
    orifice: float
    orifice_pressure: float
    orifice_loss: float

    def __str__(self):
        return self.message


def _copied(kind, struct):
    """A value of this package with the members of a struct that belongs to another."""
    copy = kind._struct()
    for name in (name for name, member in vars(kind._struct).items()
                 if isinstance(member, property) and name != "thisown"):
        setattr(copy, name, getattr(struct, name))
    return kind._of(copy)


def _restored_station(pipe, gas, density_uncertainty, straight):
    """The station a pickle holds."""
    struct = core.station()
    struct.pipe, struct.gas = pipe._c, gas._c
    struct.density_uncertainty, struct.straight = density_uncertainty, straight
    return Station._of_struct(struct)


class Station(Value):
    """Where one measures: pipe, the gas in it as it is there, the straight pipe before it.

    What is given as a plain number is taken as exact; give a `Reading` where it is not.

    Parameters
    ----------
    pipe : Pipe
        Its bore's uncertainty counts.
    barometer : float or Reading
        Absolute pressure at the place, not reduced to the sea [Pa].
    static_pressure : float or Reading
        In the pipe against the air around [Pa].
    temperature : float or Reading
        Of the gas [K].
    relative_humidity : float or Reading
        Of the gas [-].
    straight : float, optional
        Straight pipe before the station [m]; none unless said.

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds.

    Examples
    --------
    >>> here = vs.Station(vs.pipe("PVC 40", 3 * inch), barometer=vs.Reading(98300, 100),
    ...                   static_pressure=-1.1 * inwc, temperature=vs.Reading(celsius(12), 1),
    ...                   relative_humidity=1.0, straight=0.8)
    >>> gauge = vs.pressure_instrument(500, share=0.01, fixed=0.25, step=0.1)
    >>> flow = here.centre_flow(gauge, 0.055 * inwc, probe=vs.pitot(0.125 * inch))
    >>> print(f"{flow / cfm:.1f} cfm")
    37.3 +- 3.1 cfm
    """

    __slots__ = ("pipe", "gas")
    _struct = core.station

    def __new__(cls, pipe, barometer, static_pressure, temperature, relative_humidity,
                straight=0.0):
        pipe = instance(pipe, Pipe, "pipe", "a Pipe")
        return cls._of_struct(core.station_at(
            pipe._c, _reading(barometer, "barometer"), _reading(static_pressure, "static_pressure"),
            _reading(temperature, "temperature"), _reading(relative_humidity, "relative_humidity"),
            straight))

    @classmethod
    def _of_struct(cls, struct):
        station = cls._of(struct)
        object.__setattr__(station, "pipe", _copied(Pipe, struct.pipe))
        object.__setattr__(station, "gas", _copied(Air, struct.gas))
        return station

    def _state(self):
        return self.pipe, self.gas, self.density_uncertainty, self.straight

    def __reduce__(self):
        return _restored_station, self._state()

    density_uncertainty = quantity("density_uncertainty", "kg/m3",
                                   "Standard uncertainty of the gas's density")
    straight = quantity("straight", "m", "Straight pipe before it")

    def point_velocity(self, instrument, indication, insertion, probe=_POINT):
        """Velocity at one point.

        Parameters
        ----------
        instrument : Instrument
        indication : float
            [unit of the scale]; not negative.
        insertion : float
            From the wall to the head's axis [m].
        probe : Probe, optional

        Returns
        -------
        Reading
            [m/s].

        Raises
        ------
        ArgumentError
            If an argument is outside its bounds; a negative velocity pressure is said to be what
            it is.

        Examples
        --------
        >>> here = vs.Station(vs.pipe("PVC 40", 3 * inch), 98300, -274, celsius(12), 1.0)
        >>> print(f"{here.point_velocity(vs.pressure_instrument(500, step=0.1), 14, 0.02):.2f} m/s")
        4.85 +- 0.00 m/s
        """
        return Reading._of(core.point_velocity(
            self._c, _probe(probe), _instrument(instrument), indication, insertion))

    def centre_flow(self, instrument, indication, probe=_POINT, ratio=None):
        """Flow from one reading at the centre.

        Parameters
        ----------
        instrument : Instrument
        indication : float
            [unit of the scale]; not negative.
        probe : Probe, optional
        ratio : float or Reading, optional
            Mean over centre velocity of an own calibration [-]; else `mean_to_centre`.

        Returns
        -------
        Reading
            [m3/s] at the station's density.

        Raises
        ------
        ArgumentError
            If an argument is outside its bounds, or the pipe not round and no ratio given.

        Examples
        --------
        >>> here = vs.Station(vs.pipe("PVC 40", 3 * inch), 98300, -274, celsius(12), 1.0)
        >>> gauge = vs.pressure_instrument(500, share=0.01, fixed=0.25, step=0.1)
        >>> print(f"{here.centre_flow(gauge, 14, ratio=vs.Reading(0.84, 0.02)) / cfm:.1f} cfm")
        40.5 +- 1.1 cfm
        """
        return Reading._of(core.centre_flow(
            self._c, _probe(probe), _instrument(instrument), indication,
            None if ratio is None else _reading(ratio, "ratio")))

    def traverse_flow(self, instrument, rule, indications, probe=_POINT):
        """Flow from a traverse.

        Parameters
        ----------
        instrument : Instrument
        rule : TraverseRule
        indications : array_like
            One row a line (a diameter, or a line of a rectangular pipe), one column a point.
        probe : Probe, optional

        Returns
        -------
        Reading
            [m3/s] at the station's density.

        Raises
        ------
        ArgumentError
            If an indication is negative or beyond the scale, or the rule has no such points.

        Examples
        --------
        >>> here = vs.Station(vs.pipe("PVC 40", 4 * inch), 98300, -274, celsius(12), 1.0)
        >>> gauge = vs.pressure_instrument(500, share=0.01, fixed=0.25, step=0.1)
        >>> readings = [[8.0, 12.0, 15.5, 15.9, 12.4, 8.4], [7.8, 11.8, 15.2, 15.7, 12.1, 8.3]]
        >>> print(f"{here.traverse_flow(gauge, vs.TraverseRule.LOG_LINEAR, readings) / cfm:.1f} cfm")
        76.1 +- 1.2 cfm
        """
        array = numbers(indications, "indications")
        if array.ndim != 2:
            raise ArgumentError(f"indications has {array.ndim} dimensions, must have two: one row a "
                                "line, one column a point", argument="indications")
        return Reading._of(core.measure_traverse_flow(
            self._c, _probe(probe), _instrument(instrument), int(rule), *array.shape,
            np.ascontiguousarray(array)))

    def orifice_flow(self, orifice, instrument, indication):
        """Flow through an orifice plate, before which the station is.

        Parameters
        ----------
        orifice : Orifice
        instrument : Instrument
            A pressure instrument.
        indication : float
            [unit of the scale]; not negative.

        Returns
        -------
        Reading
            [m3/s] at the station's density.

        Raises
        ------
        ArgumentError
            If an argument is outside its bounds or the pipe not round.

        Notes
        -----
        ISO 5167-1 and -2 (2003), Reader-Harris/Gallagher.

        Examples
        --------
        >>> here = vs.Station(vs.pipe("PVC 40", 3 * inch), 98300, -274, celsius(12), 1.0, straight=2)
        >>> plate = vs.metering_orifice(40 * mm, 0.1 * mm)
        >>> gauge = vs.pressure_instrument(500, share=0.01, fixed=0.25, step=0.1)
        >>> print(f"{here.orifice_flow(plate, gauge, 60) / cfm:.2f} cfm")
        17.23 +- 0.15 cfm
        """
        return Reading._of(core.orifice_flow(
            self._c, instance(orifice, Orifice, "orifice", "an Orifice")._c,
            _instrument(instrument), indication))

    def advice(self, instrument, flow, wanted=0.05, probe=_POINT):
        """Whether an instrument can measure a flow at the centre, and what would do if not.

        Parameters
        ----------
        instrument : Instrument
        flow : float
            That is expected [m3/s].
        wanted : float, optional
            Relative standard uncertainty wanted of the instrument's part [-].
        probe : Probe, optional

        Returns
        -------
        Advice

        Raises
        ------
        ArgumentError
            If an argument is outside its bounds or the pipe not round.

        Examples
        --------
        >>> here = vs.Station(vs.pipe("PVC 40", 4 * inch), 98300, -274, celsius(12), 1.0)
        >>> print(here.advice(vs.pressure_instrument(500, fixed=0.5, step=0.1), 60 * cfm))
        Measurable: at the centre (4.33 m/s) it would show 11.2 Pa, which leaves 1.3 % of the flow \
open (one standard uncertainty; 5 % wanted).
        """
        found = core.measure_advice(self._c, _probe(probe), _instrument(instrument), flow, wanted)
        fields = [field.name for field in dataclasses.fields(Advice)[2:]]
        return Advice(found.message, ReadingFlag(found.flags),
                      *(getattr(found, name) for name in fields))

    def __repr__(self):
        return (f"<station: {self.pipe!r}, {self.gas.density:.4g} kg/m3, "
                f"{self.straight:g} m straight before it>")


def _probe(value):
    return instance(value, Probe, "probe", "a Probe")._c


def _instrument(value):
    return instance(value, Instrument, "instrument", "an Instrument")._c


def static_pressure(instrument, indications, velocity_pressure=0.0, tap_error=0.02):
    """Static pressure from one or several taps in the wall of one section.

    Parameters
    ----------
    instrument : Instrument
        A pressure instrument.
    indications : float or array_like
        One for each tap [unit of the scale].
    velocity_pressure : float, optional
        In the pipe there [Pa].
    tap_error : float, optional
        Limit of a tap's error in velocity pressures [-]; 0.02 clean, 0.1 with a burr.

    Returns
    -------
    Reading
        [Pa], signed.

    Raises
    ------
    ArgumentError
        If an indication is beyond the scale or the instrument shows a velocity.

    Notes
    -----
    Hole error: R. Shaw (1960), J. Fluid Mech. 7, 550; from memory.

    Examples
    --------
    >>> gauge = vs.pressure_instrument(500, share=0.01, step=1)
    >>> print(f"{vs.static_pressure(gauge, [-271, -275, -276, -274], 14):.1f} Pa")
    -274.0 +- 1.9 Pa
    """
    return Reading._of(core.measure_static_pressure(
        _instrument(instrument), row(np.atleast_1d(indications), "indications"), velocity_pressure,
        tap_error))


def mean_velocity_pressure(velocity_pressure):
    """Mean velocity pressure of a traverse: the square of the mean of the square roots.

    Parameters
    ----------
    velocity_pressure : array_like
        [Pa]; none negative.

    Returns
    -------
    float
        [Pa].

    Raises
    ------
    ArgumentError
        If one is negative.

    Examples
    --------
    >>> vs.mean_velocity_pressure([4, 16, 36])
    16.0
    """
    return core.measure_mean_velocity_pressure(row(velocity_pressure, "velocity_pressure"))


def velocity_of_pressure(velocity_pressure, density):
    """Velocity from velocity pressure: root of 2 p / rho.

    Parameters
    ----------
    velocity_pressure : float or array_like
        [Pa]; not negative.
    density : float or array_like
        Of the gas at the place [kg/m3].

    Returns
    -------
    float or numpy.ndarray
        [m/s]; NaN outside the domain.

    Examples
    --------
    >>> round(vs.velocity_of_pressure(15.0, 1.2), 3)
    5.0
    """
    return _core.velocity_of_pressure(velocity_pressure, density)


def velocity_4005(velocity_pressure):
    """The trade's rule for standard air: V[fpm] = 4005 root VP[in. w.c.]; here in SI.

    It differs from `velocity_of_pressure` by 0.09 %, by its inch of water.

    Parameters
    ----------
    velocity_pressure : float or array_like
        [Pa]; not negative.

    Returns
    -------
    float or numpy.ndarray
        [m/s]; NaN outside the domain.

    Notes
    -----
    Common practice, no source.

    Examples
    --------
    >>> round(vs.velocity_4005(1 * inwc) / fpm)
    4005
    """
    return _core.velocity_4005(velocity_pressure)


def mean_to_centre(reynolds, relative_roughness=0.0):
    """Mean over centre velocity of developed flow in a round pipe.

    Parameters
    ----------
    reynolds : float or array_like
        On bore and mean velocity [-].
    relative_roughness : float or array_like, optional
        [-]; 0 to 0.1.

    Returns
    -------
    float or numpy.ndarray
        [-]; NaN outside the domain.

    Notes
    -----
    1 / (1 + 4.28 root(f/8)), Zagarola and Smits (1998), J. Fluid Mech. 373, 33 (from memory); 1/2 in
    laminar flow.

    Examples
    --------
    >>> vs.mean_to_centre([1000, 4e4]).round(3)
    array([0.5  , 0.817])
    """
    return _core.mean_to_centre(reynolds, relative_roughness)


def mean_to_centre_power(n):
    """Mean over centre velocity of a power-law profile (y/R)^(1/n) in a round pipe.

    Parameters
    ----------
    n : float or array_like
        Exponent [-]; 1 to 100.

    Returns
    -------
    float or numpy.ndarray
        [-]; NaN outside the domain.

    Examples
    --------
    >>> round(vs.mean_to_centre_power(7), 4)
    0.8167
    """
    return _core.mean_to_centre_power(n)


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


def orifice_discharge(pipe_bore, bore, reynolds, taps=Taps.CORNER):
    """Discharge coefficient of an orifice plate.

    Parameters
    ----------
    pipe_bore : float or array_like
        [m]; 0.01 to 2.
    bore : float or array_like
        Of the hole [m]; 0.1 to 0.75 of the pipe's.
    reynolds : float or array_like
        On the pipe's bore [-]; from 100, the source's range from 5000.
    taps : Taps, optional

    Returns
    -------
    float or numpy.ndarray
        [-]; NaN outside the domain.

    Notes
    -----
    ISO 5167-2 (2003), 5.3.2.1, Reader-Harris/Gallagher.

    Examples
    --------
    >>> round(vs.orifice_discharge(0.1016, 0.0508, 1e5), 4)
    0.6069
    """
    return _core.orifice_discharge(pipe_bore, bore, reynolds, int(taps))


def orifice_expansibility(diameter_ratio, pressure, difference, isentropic_exponent=1.4):
    """Expansibility of an orifice plate: what the gas's expansion takes off the flow.

    Parameters
    ----------
    diameter_ratio : float or array_like
        Bore over pipe bore [-]; 0.1 to 0.75.
    pressure : float or array_like
        Absolute, before the plate [Pa].
    difference : float or array_like
        Across the taps [Pa]; up to a quarter of pressure.
    isentropic_exponent : float or array_like, optional
        [-]; 1.4 for air.

    Returns
    -------
    float or numpy.ndarray
        [-]; NaN outside the domain.

    Notes
    -----
    ISO 5167-2 (2003), 5.3.2.2.

    Examples
    --------
    >>> round(vs.orifice_expansibility(0.5, 1e5, 500), 5)
    0.99868
    """
    return _core.orifice_expansibility(diameter_ratio, pressure, difference, isentropic_exponent)


def orifice_loss(diameter_ratio, discharge, difference):
    """What an orifice plate costs for good, of the difference across its taps.

    Parameters
    ----------
    diameter_ratio : float or array_like
        Bore over pipe bore [-]; 0.1 to 0.75.
    discharge : float or array_like
        `orifice_discharge` [-].
    difference : float or array_like
        Across the taps [Pa].

    Returns
    -------
    float or numpy.ndarray
        [Pa]; NaN outside the domain.

    Notes
    -----
    ISO 5167-2 (2003), 5.4.1, eq. 7.

    Examples
    --------
    >>> round(vs.orifice_loss(0.5, 0.61, 100.0), 1)
    73.1
    """
    return _core.orifice_loss(diameter_ratio, discharge, difference)
