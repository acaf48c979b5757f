# SPDX-License-Identifier: GPL-3.0-or-later
"""What a fit says of its unknowns and readings."""

import dataclasses
import enum

from . import core


class EstimateFlag(enum.IntFlag):
    """What to know of an estimate.

    Attributes
    ----------
    AT_BOUND
        The readings push it beyond a bound.
    UNDETERMINED
        The readings do not determine it; its value is NaN.
    WEAK
        Its uncertainty is as great as its value.
    PRIOR
        The readings add next to nothing to its prior.

    Examples
    --------
    >>> fit = vs.Fit(net)
    >>> fit.unknown("pit.c"), fit.unknown("pit.n", prior=vs.Reading(0.6, 0.05))
    (0, 1)
    >>> number = fit.reading("riser.flow", vs.Reading(35, 1) * cfm)
    >>> fit.solve().estimates["pit.n"].flags.name
    'PRIOR'
    """

    AT_BOUND = core.VENT_ESTIMATE_AT_BOUND
    UNDETERMINED = core.VENT_ESTIMATE_UNDETERMINED
    WEAK = core.VENT_ESTIMATE_WEAK
    PRIOR = core.VENT_ESTIMATE_PRIOR


class ResidualFlag(enum.IntFlag):
    """What to know of how a reading fits.

    Attributes
    ----------
    OUTLIER
        More than 3 standard uncertainties off.
    SIGN
        Would fit with the other sign: look at the convention.

    Examples
    --------
    >>> fit = vs.Fit(net)
    >>> number = fit.unknown("pit.c")
    >>> number = fit.reading("riser.flow", vs.Reading(net.solve().flow(riser), 1e-3))
    >>> number = fit.reading("pit.pressure", vs.Reading(-net.solve().pressure(pit), 2.0))
    >>> vs.ResidualFlag.SIGN in fit.solve().residuals[1].flags
    True
    """

    OUTLIER = core.VENT_RESIDUAL_OUTLIER
    SIGN = core.VENT_RESIDUAL_SIGN


@dataclasses.dataclass(frozen=True)
class Estimate:
    """What the readings say of one unknown.

    Attributes
    ----------
    value, uncertainty : float
        Estimate and standard uncertainty, in the parameter's unit; NaN where not determined.
    low, high : float
        Ends of the 95 % interval, within the bounds. At a bound (`EstimateFlag.AT_BOUND`) one-sided: it is at
        least `low` where the upper bound holds it, at most `high` where the lower one does.
    prior_share : float
        Of what is known of it, how much was known before [-]; 0 to 1.
    flags : EstimateFlag
        False where nothing is to be said.

    Examples
    --------
    >>> fit = vs.Fit(net)
    >>> number = fit.unknown("pit.c")
    >>> number = fit.reading("riser.flow", vs.Reading(35, 1) * cfm)
    >>> c = fit.solve().estimates["pit.c"]
    >>> c.low < c.value < c.high
    True
    """

    value: float
    uncertainty: float
    low: float
    high: float
    prior_share: float
    flags: EstimateFlag

    def __float__(self):
        return self.value


@dataclasses.dataclass(frozen=True)
class Residual:
    """How one reading fits.

    Attributes
    ----------
    name : str
        Of the observable.
    state : int
        In which state it was taken.
    reading, uncertainty : float
        What was read.
    computed : float
        What the fitted network gives.
    residual : float
        Computed less read, in standard uncertainties [-].
    flags : ResidualFlag
        False where nothing is to be said.

    Examples
    --------
    >>> fit = vs.Fit(net)
    >>> number = fit.unknown("pit.c")
    >>> number = fit.reading("riser.flow", vs.Reading(35, 1) * cfm)
    >>> abs(fit.solve().residuals[0].residual) < 1e-6
    True
    """

    name: str
    state: int
    reading: float
    uncertainty: float
    computed: float
    residual: float
    flags: ResidualFlag


def _estimate(c, i):
    *members, flags = core.fitted_estimate_numbers(c, i)
    return Estimate(*members, EstimateFlag(flags))


def _residual(c, i, name):
    *members, flags = core.fitted_residual_numbers(c, i)
    return Residual(name, *members, ResidualFlag(flags))
