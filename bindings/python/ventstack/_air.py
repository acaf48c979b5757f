# SPDX-License-Identifier: GPL-3.0-or-later
"""Moist air and the standard atmosphere."""

from . import _core, core
from ._value import Value, quantity


class Air(Value):
    """A state of moist air.

    Parameters
    ----------
    temperature : float
        [K]; 233.15 to 333.15, which is -40 to 60 degrees Celsius.
    pressure : float
        Absolute [Pa]; 3e4 to 1.2e5. See `pressure_at` for the pressure at an altitude.
    relative_humidity : float
        [-]; 0 to 1, over water at or above 0 degrees Celsius, over ice below.

    Raises
    ------
    ArgumentError
        If an argument is outside its bounds; a temperature in degrees Celsius and a humidity in
        per cent are.

    Notes
    -----
    Density: CIPM-2007, Picard, Davis, Glaeser and Fujii (2008), Metrologia 45, 149,
    DOI 10.1088/0026-1394/45/2/004, exactly so from 15 to 27 degrees Celsius and 600 to 1100 hPa; the
    same equation of state outside, with ice below 273.16 K. Viscosity: Lemmon and Jacobsen (2004),
    IAPWS R12-08 and kinetic theory. The C header ``ventstack/air.h`` says how well each is known.

    Examples
    --------
    >>> air = vs.Air(temperature=celsius(20), pressure=101325, relative_humidity=0.5)
    >>> round(air.density, 3)
    1.199
    """

    __slots__ = ()
    _struct = core.air

    def __new__(cls, temperature, pressure, relative_humidity):
        return cls._of(core.air_moist(temperature, pressure, relative_humidity))

    temperature = quantity("temperature", "K", "Temperature")
    pressure = quantity("pressure", "Pa", "Absolute pressure")
    relative_humidity = quantity("relative_humidity", "-", "Relative humidity, 0 to 1")
    vapour_fraction = quantity("vapour_fraction", "mol/mol", "Share of water vapour")
    density = quantity("density", "kg/m3", "Density")
    viscosity = quantity("viscosity", "Pa s", "Dynamic viscosity")

    @property
    def dew_point(self):
        """float : Dew point, frost point below 0 degrees Celsius [K]."""
        return core.dew_point(self._c)

    @property
    def humidity_ratio(self):
        """float : Mass of vapour over mass of dry air [kg/kg]."""
        return core.humidity_ratio(self._c)

    def at_temperature(self, temperature):
        """The same air warmed or cooled; vapour it can not hold has condensed.

        Parameters
        ----------
        temperature : float
            [K]; 233.15 to 333.15.

        Returns
        -------
        Air

        Raises
        ------
        ArgumentError
            If temperature is outside its bounds.

        Examples
        --------
        >>> damp = vs.Air(celsius(13), 98300, 1.0)
        >>> damp.at_temperature(celsius(3)).relative_humidity
        1.0
        """
        return Air._of(core.air_at_temperature(self._c, temperature))

    def __repr__(self):
        return (f"Air(temperature={self.temperature!r}, pressure={self.pressure!r}, "
                f"relative_humidity={self.relative_humidity!r})")


def pressure_at(altitude):
    """Pressure of the standard atmosphere at an altitude.

    Parameters
    ----------
    altitude : float or array_like
        Geopotential, above the sea [m]; -5000 to 11000.

    Returns
    -------
    float or numpy.ndarray
        [Pa], absolute; NaN outside the domain. The weather moves it by some 3 % either way.

    Notes
    -----
    ISO 2533 (1975) and the US Standard Atmosphere (1976), which agree here.

    Examples
    --------
    >>> vs.pressure_at(0)
    101325.0
    """
    return _core.pressure_at(altitude)


def saturation_pressure(temperature):
    """Saturation pressure of water vapour: over ice below 273.16 K, else over water.

    Parameters
    ----------
    temperature : float or array_like
        [K]; 50 to 373.15.

    Returns
    -------
    float or numpy.ndarray
        [Pa]; NaN outside the domain.

    Notes
    -----
    Over water as CIPM-2007, Picard and others (2008), Metrologia 45, 149; over ice IAPWS R14-08
    (2011).

    Examples
    --------
    >>> round(vs.saturation_pressure(celsius(20)) / 1000, 2)
    2.34
    """
    return _core.saturation_pressure(temperature)
