# SPDX-License-Identifier: GPL-3.0-or-later
"""Commissioning: predicted against measured."""

import collections.abc
import dataclasses
import enum
import html

from . import core
from ._checks import described, filled, instance, row
from ._reading import Reading
from ._table import as_html
from ._uncertainty import Uncertainty, named
from ._value import Bound


class Verdict(enum.IntEnum):
    """Verdicts on a line, a sheet, a later reading.

    Attributes
    ----------
    AGREES
        Within 2 standard uncertainties; of a later reading: within the weather.
    QUESTIONABLE
        Beyond 2, which chance does once in 22 cases: read again.
    DISAGREES
        Beyond 3, once in 370; of a later reading: a drift.

    Examples
    --------
    >>> design = vs.Uncertainty(net, [vs.Input("pit.c", 1e-4)])
    >>> vs.Sheet(design, {"pit.pressure": vs.Reading(-50, 2)}).verdict.name
    'DISAGREES'
    """

    AGREES = core.VENT_VERDICT_AGREES
    QUESTIONABLE = core.VENT_VERDICT_QUESTIONABLE
    DISAGREES = core.VENT_VERDICT_DISAGREES

    def __str__(self):
        return self.name.lower()


class SheetFlag(enum.IntFlag):
    """What to know of a line of a commissioning sheet.

    Attributes
    ----------
    SIGN
        Of the other sign it would fit: hoses exchanged, or a vacuum noted without its minus.
    LITTLE
        Twice the uncertainty reaches zero: a stack at rest would agree as well.
    AMONG
        Fits its prediction, but not what the other readings make of it.

    Examples
    --------
    >>> vacuum = -net.solve().pressure(pit)
    >>> design = vs.Uncertainty(net, [vs.Input("pit.c", 1e-4)])
    >>> vs.Sheet(design, {"pit.pressure": vs.Reading(vacuum, 2)}).lines[0].flags.name
    'SIGN'
    """

    SIGN = core.VENT_SHEET_SIGN
    LITTLE = core.VENT_SHEET_LITTLE
    AMONG = core.VENT_SHEET_AMONG


@dataclasses.dataclass(frozen=True)
class SheetLine:
    """One reading against its prediction.

    Attributes
    ----------
    name : str
        Of the observable.
    where : str
        The place in words.
    unit : str
        SI unit of the values.
    predicted, measured : Reading
        Value and standard uncertainty.
    deviation, uncertainty : float
        Measured less predicted, and the standard uncertainty of that.
    score : float
        Deviation in standard uncertainties [-].
    among : float
        The same against what design and all other readings make of it [-].
    verdict : Verdict
        By the score.
    flags : SheetFlag
        False where nothing is to be said.

    Examples
    --------
    >>> design = vs.Uncertainty(net, [vs.Input("pit.c", 1e-4)])
    >>> line = vs.Sheet(design, {"riser.flow": vs.Reading(40, 1) * cfm}).lines[0]
    >>> line.where, line.unit
    ('flow in riser', 'm3/s')
    """

    name: str
    where: str
    unit: str
    predicted: Reading
    measured: Reading
    deviation: float
    uncertainty: float
    score: float
    among: float
    verdict: Verdict
    flags: SheetFlag


def _line(c, i, name):
    (where, unit, predicted, u, measured, v, deviation, uncertainty, score, among, verdict,
     flags) = core.sheet_line_numbers(c, i)
    return SheetLine(name, where, unit, Reading(predicted, u), Reading(measured, v), deviation,
                     uncertainty, score, among, Verdict(verdict), SheetFlag(flags))


_NOTES = (core.VENT_NOTE_DATE, core.VENT_NOTE_INSTRUMENTS, core.VENT_NOTE_WEATHER, core.VENT_NOTE_REMARK)


class Sheet(Bound):
    """A commissioning sheet: readings held against a design, one by one and all together.

    Print it, or its `sentences` alone. Readings are taken as independent of one another.

    Parameters
    ----------
    design : Uncertainty
        What is predicted and how surely; its network in the state and the weather in which the
        readings were taken.
    readings : dict of Observable or str to Reading
        What was read [SI unit of each], with uncertainties above 0. A sequence of pairs where one
        place was read twice.
    date, instruments, weather, remark : str, optional
        Notes that are printed above the table: when, with what (kind, number, last calibration), in which
        weather, whatever else. One line each, at most 400 bytes.

    Attributes
    ----------
    notes : dict of str to str
        What was noted, by the names above.
    lines : list of SheetLine
        In the order of the readings.
    chi_square, degrees : float
        Of all deviations, with what they share counted once, and its degrees of freedom [-].
    probability : float
        That chance alone gives a greater chi-square [-].
    verdict : Verdict
        Of the whole: questionable below 4.6 %, disagrees below 0.27 %.
    sentences : str
        The verdict in words: the whole, what is off, of the wrong sign, or told too little.

    Raises
    ------
    ArgumentError
        If there is no reading, an uncertainty is not above 0, the network has no number for a place, or a
        note is too long or has more than one line.
    NotFoundError
        If the network has no such place.

    Notes
    -----
    Generalized least squares: Aitken (1935); covariance of several answers: JCGM 102:2011, 6.2; from
    memory. 2 and 3 standard uncertainties are conventional.

    Examples
    --------
    >>> known = vs.network_inputs(net) + [vs.Input("pit.c", 1e-4)]
    >>> sheet = vs.Sheet(vs.Uncertainty(net, known), {"riser.flow": vs.Reading(35, 1) * cfm,
    ...                                               "pit.pressure": vs.Reading(-60, 2)})
    >>> len(sheet.lines), sheet.degrees
    (2, 2.0)
    """

    __slots__ = ("lines", "chi_square", "degrees", "probability", "verdict", "sentences", "notes",
                 "_c", "_design", "_readings")
    _instead = "pickle the network and the readings"

    def __init__(self, design, readings, *, date="", instruments="", weather="", remark=""):
        self._design = instance(design, Uncertainty, "design", "an Uncertainty")
        self._readings = _readings(readings)
        self._c = core.sheet_made(design._c, design._network._c, *self._readings)
        self.lines = [_line(self._c, i, name) for i, name in enumerate(self._readings[0])]
        whole = core.sheet_whole(self._c)
        self.chi_square, self.degrees = whole.chi_square, whole.degrees
        self.probability, self.verdict = whole.probability, Verdict(whole.verdict)
        self.sentences = core.sheet_verdict_text(self._c)
        notes = {"date": date, "instruments": instruments, "weather": weather, "remark": remark}
        for kind, (name, note) in zip(_NOTES, notes.items()):
            core.sheet_note(self._c, kind, instance(note, str, name, "a str"))
        self.notes = {name: note for name, note in notes.items() if note}

    def commissioned(self):
        """The stack as commissioned: the design after it met the readings.

        Where the sheet disagrees this is a stack that no one designed: find out why first.

        Returns
        -------
        Uncertainty
            For answers, budgets, and a `Band` that is anchored on the readings.

        Raises
        ------
        ArgumentError
            If two inputs hang together wholly.
        NotConvergedError
            If no stack fits.

        Examples
        --------
        >>> design = vs.Uncertainty(net, [vs.Input("pit.c", 1e-4)])
        >>> built = vs.Sheet(design, {"pit.pressure": vs.Reading(-60, 2)}).commissioned()
        >>> built.of("riser.flow").uncertainty < design.of("riser.flow").uncertainty
        True
        """
        c = core.commissioned_named(self._design._c, self._design._network._c, *self._readings)
        network = self._design._network.copy()
        network._c = core.uncertainty_network(c)
        for name in core.network_parameter_names(network._c):
            network._refresh(core.network_find_parameter(network._c, name))
        return Uncertainty._of(network, c)

    def _columns(self):
        return [("place", None, [line.where for line in self.lines]),
                ("predicted", None, [f"{line.predicted:.4g} {line.unit}" for line in self.lines]),
                ("measured", None, [f"{line.measured:.4g} {line.unit}" for line in self.lines]),
                ("off [standard uncertainties]", 1, [line.score for line in self.lines]),
                ("among [standard uncertainties]", 1, [line.among for line in self.lines]),
                ("verdict", None, [line.verdict.name.lower() for line in self.lines])]

    def __str__(self):
        return core.sheet_whole_text(self._c)

    def _repr_html_(self):
        notes = "".join(f"<p>{name.capitalize()}: {html.escape(note)}</p>"
                        for name, note in self.notes.items())
        return notes + as_html(self._columns())

    def __repr__(self):
        return f"<commissioning sheet of {len(self.lines)} readings: {self.verdict.name.lower()}>"

    def to_frame(self):
        """The sheet as a pandas DataFrame, in SI.

        Returns
        -------
        pandas.DataFrame
            One row a reading.

        Examples
        --------
        >>> design = vs.Uncertainty(net, [vs.Input("pit.c", 1e-4)])
        >>> frame = vs.Sheet(design, {"pit.pressure": vs.Reading(-60, 2)}).to_frame()
        >>> frame.loc[0, "where"], frame.loc[0, "measured"]
        ('pressure in pit', -60.0)
        """
        import pandas

        return pandas.DataFrame([{
            "name": line.name, "where": line.where, "unit": line.unit,
            "predicted": line.predicted.value, "predicted uncertainty": line.predicted.uncertainty,
            "measured": line.measured.value, "measured uncertainty": line.measured.uncertainty,
            "deviation": line.deviation, "uncertainty": line.uncertainty, "score": line.score,
            "among": line.among, "verdict": line.verdict.name.lower(), "flags": int(line.flags),
        } for line in self.lines])


def _readings(readings):
    """Names, values and uncertainties."""
    pairs = filled(list(readings.items() if isinstance(readings, collections.abc.Mapping)
                        else readings), "readings", "a Reading")
    for pair in pairs:
        if not (isinstance(pair, tuple) and len(pair) == 2):
            raise TypeError(f"readings must be a dict or pairs of a place and a Reading, "
                            f"{described(pair)}")
        instance(pair[1], Reading, "readings", "Readings")
    return ([named(place, "readings") for place, _ in pairs],
            row([float(reading.value) for _, reading in pairs], "readings"),
            row([float(reading.uncertainty) for _, reading in pairs], "readings"))
