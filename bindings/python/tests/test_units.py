# SPDX-License-Identifier: GPL-3.0-or-later
"""A unit is a number: multiply to come in, divide to go out."""

import pickle

import numpy as np
import pytest
import ventstack as vs
from ventstack import units
from ventstack.units import (
    Unit, celsius, cfm, cubic_metre_per_hour, degree, fahrenheit, feet, fpm, inch, inwc,
    litre_per_second, mm, pascal, pound_per_cubic_foot, to_celsius, to_fahrenheit,
)


@pytest.mark.parametrize("unit, worth", [
    # exact by definition: NIST SP 811 (2008), appendix B.8 (from memory)
    (inch, 0.0254), (feet, 0.3048), (mm, 0.001), (cfm, 0.3048**3 / 60), (fpm, 0.3048 / 60),
    (cubic_metre_per_hour, 1 / 3600), (litre_per_second, 0.001), (pascal, 1),
    (pound_per_cubic_foot, 0.45359237 / 0.3048**3), (degree, np.pi / 180),
    # the conventional inch of water: 1000 kg/m3, standard gravity
    (inwc, 1000 * 9.80665 * 0.0254),
])
def test_worth(unit, worth):
    assert float(unit) == pytest.approx(worth, rel=1e-15)


def test_printed_value_of_the_inch_of_water():
    assert round(float(inwc), 4) == 249.0889  # NIST SP 811 (2008), appendix B.8 (from memory)


def test_numbers_lists_and_arrays():
    assert type(3 * inch) is float and 3 * inch == inch * 3 == 3 * 0.0254
    assert type(0.5 / cfm) is float and type(np.float64(3) * inch) in (float, np.float64)
    for values in ([0, 30, 60], (0, 30, 60), np.array([0, 30, 60])):
        for flow in (values * cfm, cfm * values):
            assert type(flow) is np.ndarray and flow.dtype == float
            assert flow.tolist() == [0, 30 * float(cfm), 60 * float(cfm)]
        assert (values * cfm / cfm).tolist() == pytest.approx([0, 30, 60])
        assert (values / cfm).tolist() == [value / float(cfm) for value in values]
    assert ([[1, 2], [3, 4]] * inch).shape == (2, 2)
    assert type(cfm / feet**2) is float


def test_a_unit_is_no_whole_number():
    with pytest.raises(TypeError, match="cfm is a unit"):
        range(cfm)
    with pytest.raises(TypeError):
        [1, 2][cfm]


@pytest.mark.parametrize("value", [0.0, -1.0, np.nan, np.inf])
def test_a_unit_is_worth_something(value):
    with pytest.raises(vs.ArgumentError, match="value is") as caught:
        Unit(value, "x", "length")
    assert caught.value.argument == "value"


def test_objects_that_know_better():
    """What is neither number nor array multiplies itself: a mask stays a mask."""
    masked = np.ma.array([1.0, 2.0], mask=[True, False])
    assert (inch * masked).mask.tolist() == (masked * inch).mask.tolist() == [True, False]
    assert (np.array([3], dtype="f4") * inch).dtype == float
    assert np.multiply([1.0, 2.0], inch).tolist() == [0.0254, 0.0508]
    assert np.sum([1.0, 2.0]) * inch == 3 * 0.0254


def test_what_no_unit_can_be_multiplied_by():
    for bad in (["3"], [None], "3", None, {}):
        with pytest.raises(TypeError):
            bad * inch


def test_pandas_series():
    pandas = pytest.importorskip("pandas", reason="needs python3-pandas")
    series = pandas.Series([1.0, 2.0], index=["a", "b"])
    assert (series * inch)["b"] == (inch * series)["b"] == 2 * 0.0254
    assert (series / inch)["b"] == 2 / 0.0254
    assert celsius(series)["a"] == 274.15


def test_temperatures():
    assert celsius(13) == 286.15 and to_celsius(286.15) == 13
    assert celsius([-5, 13]).tolist() == [268.15, 286.15]
    assert fahrenheit(32) == pytest.approx(273.15) and fahrenheit(212) == pytest.approx(373.15)
    assert to_fahrenheit(fahrenheit([50, 55])).tolist() == pytest.approx([50, 55])
    assert celsius(np.array(13.0)) == 286.15


def test_symbols_and_own_units():
    assert f"{inwc}" == "in. w.c." and f"{inwc:.3f}" == "249.089" and repr(cfm) == "cfm"
    yard = Unit(0.9144, "yd", "length")
    again = pickle.loads(pickle.dumps(yard))
    assert (float(again), again.symbol, again.quantity) == (0.9144, "yd", "length")


def test_everything_is_listed():
    public = {name for name in vars(units) if not name.startswith("_")}
    assert public == set(units.__all__)
