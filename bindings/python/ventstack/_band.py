# SPDX-License-Identifier: GPL-3.0-or-later
"""What a gauge may show over the year, and whether a later reading is weather or a drift."""

import dataclasses
import math
import typing

import numpy as np

from . import core
from ._checks import filled, instance, row
from ._commission import Verdict
from ._errors import ArgumentError, NotFoundError
from ._reading import Reading
from ._uncertainty import Uncertainty, named
from ._value import Bound


class Span(typing.NamedTuple):
    """A range with what is usual in it.

    Attributes
    ----------
    low, usual, high : float
        Least, mean or median, and greatest.

    Examples
    --------
    >>> vs.wind_span((-0.8, -0.5, 0.1), (0, 4, 10), 1.25).low
    -50.0
    """

    low: float
    usual: float
    high: float


def _span(value, argument):
    """A range from one number or three; the C side checks their order."""
    if value is None:
        return Span(math.nan, math.nan, math.nan)
    if isinstance(value, (int, float, np.floating, np.integer)) and not isinstance(value, bool):
        return Span(float(value), float(value), float(value))
    numbers = row(value, argument)
    if numbers.size != 3:
        raise ArgumentError(f"{argument} has {numbers.size} numbers: give one, or least, usual and "
                            "greatest", argument=argument)
    return Span(*numbers.tolist())


def _c_span(value, argument):
    made = core.span()
    made.low, made.usual, made.high = _span(value, argument)
    return made


def _of_c(span):
    return Span(span.low, span.usual, span.high)


def wind_span(coefficient, speed, density):
    """Range of the pressure that wind makes at the discharge.

    Parameters
    ----------
    coefficient : float or three of them
        Pressure coefficient of the discharge on its roof: least, usual, greatest [-]; -5 to 5.
    speed : float or three of them
        Of the wind there [m/s]; 0 to 100.
    density : float
        Of the outdoor air [kg/m3]; 0.1 to 10.

    Returns
    -------
    Span
        [Pa]; any wind from any side.

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds or a range out of order.

    Notes
    -----
    Dynamic pressure; which coefficient holds is for the caller to know.

    Examples
    --------
    >>> vs.wind_span(-0.5, (0, 4, 8), 1.25)
    Span(low=-20.0, usual=-5.0, high=0.0)
    """
    return _of_c(core.wind_span(_c_span(coefficient, "coefficient"), _c_span(speed, "speed"), density))


def room_span(outdoor_temperature, indoor_temperature, neutral_level, barometric_pressure):
    """Range of a room's pressure against the outdoors by the house's own stack effect.

    What exhaust fans and wind on the house do is to be added.

    Parameters
    ----------
    outdoor_temperature : float or three of them
        Least, usual, greatest [K]; 233.15 to 333.15.
    indoor_temperature : float
        [K]; 233.15 to 333.15.
    neutral_level : float
        Above the slab, where inside and outside have one pressure [m]; 0 to 100.
    barometric_pressure : float
        Absolute [Pa]; 3e4 to 1.2e5.

    Returns
    -------
    Span
        [Pa]; negative where it is colder outside.

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds or the range out of order.

    Examples
    --------
    >>> round(vs.room_span(celsius(-10), celsius(21), 2.5, 98000).usual, 1)
    -3.4
    """
    return _of_c(core.room_span(_c_span(outdoor_temperature, "outdoor_temperature"),
                                indoor_temperature, neutral_level, barometric_pressure))


QUANTITIES = ("outdoor_temperature", "soil_gas_temperature", "wind_pressure", "building_pressure",
              "barometric_pressure", "soil")


@dataclasses.dataclass(frozen=True)
class Weather:
    """The weather of a month, or of any stretch of time.

    Each quantity is one number, or three: least, usual, greatest. What is left out is as the network
    is set to.

    Attributes
    ----------
    name : str
        Such as ``"January"``; at most 31 letters.
    outdoor_temperature : float, three of them, or None
        At slab height [K].
    soil_gas_temperature : float, three of them, or None
        Also of every run that was not set its own [K].
    wind_pressure : float, three of them, or None
        At the discharge [Pa]; `wind_span`.
    building_pressure : float, three of them, or None
        Of the room against the outdoors [Pa]; `room_span`.
    barometric_pressure : float, three of them, or None
        Absolute, at the place [Pa].
    soil : float, three of them, or None
        Flow that the same vacuum draws, over that in the network [-]: below 1 where the water table
        stands higher.

    Examples
    --------
    >>> vs.Weather("January", outdoor_temperature=(258, 268, 278), soil=0.8).name
    'January'
    """

    name: str
    outdoor_temperature: object = None
    soil_gas_temperature: object = None
    wind_pressure: object = None
    building_pressure: object = None
    barometric_pressure: object = None
    soil: object = None

    def _numbers(self):
        return [number for quantity in QUANTITIES
                for number in _span(getattr(self, quantity), f"{quantity} of {self.name}")]


@dataclasses.dataclass(frozen=True)
class BandRow:
    """What an observable may be in the weather of one row, or of the year.

    Attributes
    ----------
    name : str
        Of the weather; ``"year"``.
    low, usual, high : Reading
        Least, usual and greatest that the weather makes of it, each with its standard uncertainty.
    band_low, band_high : float
        The ends with 2 standard uncertainties beyond them.
    moves : dict of str to float
        Change as each quantity alone goes from its least to its greatest, the others usual.

    Examples
    --------
    >>> known = vs.Uncertainty(net, [vs.Input("pit.c", 1e-4)])
    >>> band = vs.Band(known, "pit.pressure", [vs.Weather("windy", wind_pressure=(-20, 0, 20))])
    >>> row = band.rows[0]
    >>> row.band_low < row.low.value < row.usual.value < row.high.value < row.band_high
    True
    """

    name: str
    low: Reading
    usual: Reading
    high: Reading
    band_low: float
    band_high: float
    moves: dict


def _row(c, number):
    name, low, u, usual, v, high, w, band_low, band_high, moves = core.band_row_numbers(c, number)
    return BandRow(name, Reading(low, u), Reading(usual, v), Reading(high, w), band_low, band_high,
                   dict(zip(QUANTITIES, moves)))


@dataclasses.dataclass(frozen=True)
class Marks:
    """Where to put the marks on a gauge.

    Attributes
    ----------
    low, high : float
        Alarm below and above: no weather explains it [SI unit of the observable].
    fall, rise : float
        How far weather alone takes it below and above the usual, over the usual's size [-].
    holds_zero : bool
        Whether zero lies between the marks, so that they cannot tell a stopped fan.
    weather_beyond_20_percent : bool
        Whether weather alone changes it by more than 20 %.

    Examples
    --------
    >>> known = vs.Uncertainty(net, [vs.Input("pit.c", 1e-4)])
    >>> band = vs.Band(known, "pit.pressure", [vs.Weather("windy", wind_pressure=(-20, 0, 20))])
    >>> band.marks(2.0).holds_zero
    False
    """

    low: float
    high: float
    fall: float
    rise: float
    holds_zero: bool
    weather_beyond_20_percent: bool


@dataclasses.dataclass(frozen=True)
class Judgement:
    """What a later reading says.

    Attributes
    ----------
    verdict : Verdict
        AGREES within the weather, DISAGREES for a drift.
    side : int
        -1 below all that weather gives, 1 above, 0 within.
    low, high : float
        Least and greatest that weather gives.
    beyond : float
        Distance of the reading from the nearer end; 0 within.
    score : float
        The same in standard uncertainties of band and reading [-].
    probability : float
        Of a reading so far off or further, in the weather that favours it [-].
    text : str
        The verdict in sentences.

    Examples
    --------
    >>> known = vs.Uncertainty(net, [vs.Input("pit.c", 1e-4)])
    >>> band = vs.Band(known, "pit.pressure", [vs.Weather("windy", wind_pressure=(-20, 0, 20))])
    >>> print(band.judge(vs.Reading(-1, 2)).text.split(":")[0])
    Drift
    """

    verdict: Verdict
    side: int
    low: float
    high: float
    beyond: float
    score: float
    probability: float
    text: str


class Band(Bound):
    """What one observable may be over the weather of a year.

    Of a design as of a commissioned stack; the latter's is narrower, as it is anchored on what was
    read. In each row every quantity may be anywhere in its range, whatever the others are. Left out:
    temperatures of runs that were set their own, ice, gusts, rain fronts.

    Parameters
    ----------
    known : Uncertainty
        As designed, or `Sheet.commissioned`.
    observable : Observable or str
        Such as the riser's static pressure where the gauge is.
    weather : sequence of Weather
        1 to 400 rows.

    Attributes
    ----------
    where : str
        The place in words.
    rows : list of BandRow
        One a row of weather.
    year : BandRow
        Extremes of all rows.

    Raises
    ------
    ArgumentError
        If there is no weather, a range is out of order or outside its bounds.
    NotFoundError
        If the network has no such observable.

    Examples
    --------
    >>> design = vs.Uncertainty(net, [vs.Input("pit.c", 1e-4)])
    >>> months = [vs.Weather("January", outdoor_temperature=(258, 268, 278), soil=(0.7, 0.8, 1)),
    ...           vs.Weather("July", outdoor_temperature=(285, 295, 305))]
    >>> band = vs.Band(design, "pit.pressure", months)
    >>> band.judge(vs.Reading(band.rows[0].usual.value, 2), month="January").verdict.name
    'AGREES'
    """

    __slots__ = ("where", "rows", "year", "_c", "_network", "_name", "_unit")
    _instead = "pickle its rows"

    def __init__(self, known, observable, weather):
        self._network = instance(known, Uncertainty, "known", "an Uncertainty")._network
        self._name = named(observable, "observable")
        rows = filled(list(weather), "weather", "a Weather")
        for i, one in enumerate(rows):
            instance(one, Weather, f"weather[{i}]", "a Weather")
        numbers = np.array([one._numbers() for one in rows], dtype=float).ravel()
        self._c = core.band_made(known._c, self._network._c, self._name,
                                 [one.name for one in rows], numbers)
        self._unit = core.observable_unit(core.network_find_observable(self._network._c, self._name))
        self.where = core.band_where_text(self._c)
        self.rows = [_row(self._c, i) for i in range(len(rows))]
        self.year = _row(self._c, core.VENT_BAND_YEAR)

    def _number(self, month):
        if month is None:
            return core.VENT_BAND_YEAR
        names = [one.name for one in self.rows]
        if month in names:
            return names.index(month)
        raise NotFoundError(f"there is no month {month!r}: this band has {', '.join(names)}",
                            argument="month")

    def judge(self, reading, month=None, weather=None):
        """Judges a later reading: whether weather explains it.

        Parameters
        ----------
        reading : Reading
            [SI unit of the observable], uncertainty above 0.
        month : str, optional
            The name of a row, whose weather it may have been; of any row unless given.
        weather : Weather, optional
            As it was noted with the reading, which judges more sharply.

        Returns
        -------
        Judgement

        Raises
        ------
        ArgumentError
            If the uncertainty is not above 0, or both month and weather are given.
        NotFoundError
            If there is no such month.

        Examples
        --------
        >>> known = vs.Uncertainty(net, [vs.Input("pit.c", 1e-4)])
        >>> band = vs.Band(known, "pit.pressure", [vs.Weather("windy", wind_pressure=(-20, 0, 20))])
        >>> band.judge(vs.Reading(-300, 2), weather=vs.Weather("calm", wind_pressure=0)).side
        -1
        """
        instance(reading, Reading, "reading", "a Reading")
        if month is not None and weather is not None:
            raise ArgumentError("weather was noted, so month must be left out", argument="month")
        if weather is None:
            found = core.band_judge(self._c, self._number(month), reading._c)
        else:
            instance(weather, Weather, "weather", "a Weather")
            found = core.band_judged_in(self._c, self._network._c, weather.name,
                                        np.array(weather._numbers()), reading._c)
        return Judgement(Verdict(found.verdict), found.side, found.low, found.high, found.beyond,
                         found.score, found.probability, found.text)

    def marks(self, uncertainty=0.0, month=None):
        """Marks beyond which a reading is a drift: 3 standard uncertainties beyond the weather.

        Parameters
        ----------
        uncertainty : float, optional
            With which the gauge is read [SI unit of the observable]; at least 0.
        month : str, optional
            The name of a row; the whole year unless given.

        Returns
        -------
        Marks

        Raises
        ------
        ArgumentError
            If uncertainty is negative.
        NotFoundError
            If there is no such month.

        Notes
        -----
        3 standard uncertainties are conventional; 20 %: ANSI/AARST CCAH-2020, Exhibit 2.

        Examples
        --------
        >>> known = vs.Uncertainty(net, [vs.Input("pit.c", 1e-4)])
        >>> band = vs.Band(known, "pit.pressure", [vs.Weather("windy", wind_pressure=(-20, 0, 20))])
        >>> band.marks(2.0).low < band.year.band_low
        True
        """
        m = core.band_marks(self._c, self._number(month), uncertainty)
        return Marks(m.low, m.high, m.fall, m.rise, bool(m.flags & core.VENT_MARKS_ZERO),
                     bool(m.flags & core.VENT_MARKS_WEATHER))

    def text(self, uncertainty=0.0):
        """The band to print: months, marks, what moves it, cautions.

        Parameters
        ----------
        uncertainty : float, optional
            With which the gauge is read [SI unit of the observable]; at least 0.

        Returns
        -------
        str

        Examples
        --------
        >>> known = vs.Uncertainty(net, [vs.Input("pit.c", 1e-4)])
        >>> band = vs.Band(known, "pit.pressure", [vs.Weather("windy", wind_pressure=(-20, 0, 20))])
        >>> print(band.text(2.0).splitlines()[0])
        Expected over the year: pressure in pit
        """
        return core.band_whole_text(self._c, uncertainty)

    def __str__(self):
        return self.text()

    def __repr__(self):
        return f"<band of {self._name} over {len(self.rows)} rows of weather>"

    def to_frame(self):
        """The band as a pandas DataFrame, in SI; the year is its last row.

        Returns
        -------
        pandas.DataFrame

        Examples
        --------
        >>> known = vs.Uncertainty(net, [vs.Input("pit.c", 1e-4)])
        >>> band = vs.Band(known, "pit.pressure", [vs.Weather("windy", wind_pressure=(-20, 0, 20))])
        >>> list(band.to_frame()["name"])
        ['windy', 'year']
        """
        import pandas

        return pandas.DataFrame([{
            "name": one.name, "usual": one.usual.value, "low": one.low.value, "high": one.high.value,
            "low uncertainty": one.low.uncertainty, "usual uncertainty": one.usual.uncertainty,
            "high uncertainty": one.high.uncertainty, "band low": one.band_low,
            "band high": one.band_high, **one.moves,
        } for one in [*self.rows, self.year]])

    def plot(self, *, readings=None, uncertainty=0.0, unit=None, ax=None):
        """Draws the band over the rows, and readings in it.

        Parameters
        ----------
        readings : dict of str to Reading, optional
            By the name of the row each belongs to [SI unit of the observable].
        uncertainty : float, optional
            With which the gauge is read, for the marks [SI unit of the observable].
        unit : Unit, optional
            Of the axis; the observable's SI unit unless given.
        ax : matplotlib.axes.Axes, optional
            Where to draw; a new figure's unless given.

        Returns
        -------
        matplotlib.axes.Axes

        Raises
        ------
        ArgumentError
            If unit measures something else.
        NotFoundError
            If there is no such row.

        Examples
        --------
        >>> known = vs.Uncertainty(net, [vs.Input("pit.c", 1e-4)])
        >>> band = vs.Band(known, "pit.pressure", [vs.Weather("windy", wind_pressure=(-20, 0, 20))])
        >>> band.plot(unit=inwc).get_ylabel()
        'pressure in pit [in. w.c.]'
        """
        from . import _plot
        taken = {self._number(name): instance(reading, Reading, "readings", "Readings")
                 for name, reading in (readings or {}).items()}
        return _plot.band(self, taken, self.marks(uncertainty), unit, ax)
