# SPDX-License-Identifier: GPL-3.0-or-later
"""From a reading to a flow, and how far to trust it."""

import dataclasses

import numpy as np

from . import _core, core
from ._air import Air
from ._checks import instance, numbers, row
from ._errors import ArgumentError
from ._instrument import _POINT, _copied, _instrument, _probe, probe
from ._orifice import Orifice, orifice_loss
from ._pipe import Pipe
from ._reading import Reading, ReadingFlag, _reading
from ._value import Value, quantity


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
