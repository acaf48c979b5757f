# SPDX-License-Identifier: GPL-3.0-or-later
"""Metering orifices."""

import enum

from . import _core, core
from ._value import Value, quantity


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
