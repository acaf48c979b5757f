# SPDX-License-Identifier: GPL-3.0-or-later
"""Arrays: broadcasting, conversion, memory given to be filled, and what is refused."""

import threading
import warnings

import numpy as np
import pytest
import ventstack as vs
from ventstack import _core
from ventstack.units import celsius, fahrenheit, inch, to_celsius, to_fahrenheit

LAWS = [vs.friction_factor, vs.friction_colebrook, vs.friction_churchill]
REYNOLDS = np.geomspace(2.5e3, 1e8, 12)


@pytest.mark.parametrize("law", LAWS)
def test_arrays_agree_with_scalars(law):
    expected = [law(float(re), 1e-3) for re in REYNOLDS]
    assert all(type(value) is float for value in expected)
    for reynolds in (REYNOLDS, REYNOLDS.tolist(), tuple(REYNOLDS), np.asfortranarray(REYNOLDS)):
        result = law(reynolds, 1e-3)
        assert type(result) is np.ndarray and result.dtype == float
        assert result.tolist() == expected
    assert law(REYNOLDS, np.full(12, 1e-3)).tolist() == expected
    assert law(REYNOLDS.reshape(3, 4), 1e-3).tolist() == np.reshape(expected, (3, 4)).tolist()


@pytest.mark.parametrize("law", LAWS)
def test_broadcasting(law):
    rough = np.array([0.0, 1e-4, 1e-2])
    table = law(REYNOLDS[:, None], rough)
    assert table.shape == (12, 3)
    for i, j in np.ndindex(table.shape):
        assert table[i, j] == law(float(REYNOLDS[i]), float(rough[j]))
    assert law(1e5, rough).tolist() == [law(1e5, float(r)) for r in rough]
    assert law(np.empty((0, 3)), rough).shape == (0, 3)
    assert law([], 1e-4).shape == (0,)


def test_scalars_of_every_kind():
    for reynolds in (100000, 1e5, np.float64(1e5), np.int32(100000), np.array(1e5), True * 100000):
        assert type(vs.friction_factor(reynolds, 0)) is float
        assert vs.friction_factor(reynolds, 0) == vs.friction_factor(1e5, 0.0)
    assert vs.friction_factor(np.float32(1e5), 0.0) == vs.friction_factor(1e5, 0.0)
    assert vs.elbow(np.array(1.0), np.float32(1.5)) == vs.elbow(1, 1.5)
    assert vs.friction_factor(np.array([1e5]), 1e-4).shape == (1,)
    with pytest.raises(TypeError, match="reynolds"):
        vs.friction_factor(10**400, 0.0)  # no double holds it
    with pytest.raises(OverflowError):
        vs.elbow(10**400, 1.5)


@pytest.mark.parametrize("kind", ["f4", "f8", ">f8", "i4", "u8"])
def test_other_kinds_are_converted(kind):
    values = np.array([3000, 50000, 1000000], dtype=kind)
    assert vs.friction_factor(values, 1e-4).tolist() == \
        vs.friction_factor(values.astype(float), 1e-4).tolist()


def test_strided_and_reversed():
    wide = np.geomspace(1e3, 1e8, 60).reshape(20, 3)
    for view in (wide[:, 1], wide[::-1, 0], wide[::2, ::2], wide.T):
        assert np.array_equal(vs.friction_factor(view, 1e-4),
                              vs.friction_factor(np.ascontiguousarray(view), 1e-4))


def test_out():
    out = np.empty(12)
    assert vs.friction_factor(REYNOLDS, 1e-4, out=out) is out
    assert np.array_equal(out, vs.friction_factor(REYNOLDS, 1e-4))
    strided = np.zeros(24)[::2]
    assert vs.friction_factor(REYNOLDS, 1e-4, out=strided) is strided
    assert np.array_equal(strided, out)
    one = np.empty(())
    assert vs.friction_factor(1e5, 1e-4, out=one) is one and one == vs.friction_factor(1e5, 1e-4)


def test_out_that_cannot_be_filled():
    frozen = np.empty(12)
    frozen.flags.writeable = False
    memory = np.geomspace(1e3, 1e6, 20)
    for bad, words in ((frozen, "out is read-only"), (np.empty(11), r"out has the shape \(11,\)"),
                       (np.empty((12, 1)), "out has the shape"), (memory[4:16], "overlap"),
                       (memory[:12], "overlap"), (memory[11::-1], "overlap")):
        before = bad.copy()
        with pytest.raises(vs.ArgumentError, match=words) as caught:
            vs.friction_factor(memory[:12], 1e-4, out=bad)
        assert caught.value.argument == "out"
        assert np.array_equal(bad, before, equal_nan=True)
    for bad in (np.empty(12, dtype="f4"), [0.0] * 12, bytearray(96), None.__class__):
        with pytest.raises(TypeError, match="out must be"):
            vs.friction_factor(REYNOLDS, 1e-4, out=bad)


def test_shapes_that_do_not_fit():
    with pytest.raises(vs.ArgumentError, match="relative_roughness has the shape") as caught:
        vs.friction_factor(np.ones(3), np.ones(4))
    assert caught.value.argument == "relative_roughness"


@pytest.mark.parametrize("bad", ["1e5", ["1e5"], [1j], None, [None], object()])
def test_not_numbers(bad):
    with pytest.raises(TypeError, match="reynolds must hold real numbers"):
        vs.friction_factor(bad, 1e-4)


def test_ragged():
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # NumPy warned where it now refuses
        with pytest.raises((vs.ArgumentError, TypeError), match="reynolds"):
            vs.friction_factor([[1, 2], [3]], 1e-4)


def test_outside_the_domain_warns_once_and_loses_nothing():
    reynolds = np.array([1e5, -1.0, np.nan, 1e5, 2e9])
    with pytest.warns(vs.DomainWarning) as caught:
        result = vs.friction_factor(reynolds, 1e-4)
    assert len(caught) == 1 and caught[0].filename == __file__
    message = str(caught[0].message)
    assert "friction_factor: 2 of 5" in message and "first at 1" in message and "-1" in message
    assert np.isnan(result).tolist() == [False, True, True, False, True]
    with pytest.warns(vs.DomainWarning, match="relative_roughness 0.2") as caught:
        assert np.isnan(vs.friction_factor(1e5, 0.2))
    assert caught[0].filename == __file__
    with pytest.warns(vs.DomainWarning, match=r"first at \(1, 0\)"):
        vs.friction_colebrook([[1e5], [10.0]], [1e-4, 1e-3])


def test_nan_passes_quietly():
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        assert np.isnan(vs.friction_factor(np.nan, 1e-4))
        assert np.isnan(vs.friction_factor([1e5, np.nan], 1e-4)).tolist() == [False, True]


def test_pandas_keeps_its_index():
    pandas = pytest.importorskip("pandas", reason="needs python3-pandas")
    series = pandas.Series([1e4, 1e5], index=["a", "b"])
    result = vs.friction_factor(series, 1e-4)
    assert list(result.index) == ["a", "b"] and result["b"] == vs.friction_factor(1e5, 1e-4)
    assert list(vs.pressure_at(series / 100).index) == ["a", "b"]
    frame = pandas.DataFrame({"x": [1e4, 1e5], "y": [2000, 3000]})
    assert list(vs.friction_factor(frame, 1e-4).columns) == ["x", "y"]
    assert vs.friction_factor(frame.y, 1e-4).tolist() == vs.friction_factor([2e3, 3e3], 1e-4).tolist()


def test_functions_of_numbers_take_arrays_too(stack):
    for call in (vs.pressure_at, stack.soil.flow, stack.soil.pressure, stack.fan.pressure,
                 stack.fan.slope, stack.fan.power, vs.saturation_pressure,
                 lambda x: vs.pipe("PVC 40", 0.0762).loss(3.0, x, 1.2, 1.8e-5),
                 lambda x: vs.guard_free_area(0.001, x), vs.friction_laminar_rectangle):
        values = [0.1, 0.02] if call is not vs.saturation_pressure else [280.0, 300.0]
        result = call([values])
        assert result.shape == (1, 2)
        assert result[0].tolist() == [call(value) for value in values]
        assert type(call(values[0])) is float
    assert stack.fan.pressure(0.01, speed=[0.5, 1.0]).shape == (2,)


# ---- one way for every formula -------------------------------------------------------------------

AIR_PIPE = vs.pipe("PVC 40", 0.0762)
FAN = vs.Fan("invented", flow=[0, 0.05, 0.1], pressure=[300, 200, 0], power=[20, 40, 50])
FIELD = vs.field_test([1, 3], vs.readings([100, 10], 1.0), radius=0.5)
# each formula with numbers inside its domain
FORMULAS = {
    "friction_factor": (vs.friction_factor, 1e5, 1e-4),
    "friction_colebrook": (vs.friction_colebrook, 1e5, 1e-4),
    "friction_churchill": (vs.friction_churchill, 1e5, 1e-4),
    "friction_laminar_rectangle": (vs.friction_laminar_rectangle, 0.5),
    "pressure_at": (vs.pressure_at, 250.0),
    "saturation_pressure": (vs.saturation_pressure, 290.0),
    "water_density": (vs.water_density, 290.0),
    "pipe_loss": (AIR_PIPE.loss, 3.0, 0.02, 1.2, 1.8e-5),
    "guard_free_area": (vs.guard_free_area, 0.001, 0.01),
    "soil_pressure": (vs.soil_power(1e-3, 0.6).pressure, 0.01),
    "opening_flow": (vs.opening(1e-3, to="room").flow, 10.0, 1.2),
    "soil_flow": (vs.soil_power(1e-3, 0.6).flow, 10.0),
    "fan_pressure": (lambda q, d, s: FAN.pressure(q, density=d, speed=s), 0.05, 1.2, 0.9),
    "fan_slope": (lambda q, d, s: FAN.slope(q, density=d, speed=s), 0.05, 1.2, 0.9),
    "fan_power": (lambda q, d, s: FAN.power(q, density=d, speed=s), 0.05, 1.2, 0.9),
    "field_vacuum": (FIELD.vacuum, 2.0),
    "field_uncertainty": (FIELD.uncertainty, 2.0),
    "probe_blockage": (lambda depth: vs.pitot(0.008).blockage(AIR_PIPE, depth), 0.03),
    "velocity_of_pressure": (vs.velocity_of_pressure, 20.0, 1.2),
    "velocity_4005": (vs.velocity_4005, 20.0),
    "mean_to_centre": (vs.mean_to_centre, 1e5, 1e-4),
    "mean_to_centre_power": (vs.mean_to_centre_power, 7.0),
    "orifice_discharge": (vs.orifice_discharge, 0.1, 0.05, 1e5),
    "orifice_expansibility": (vs.orifice_expansibility, 0.5, 1e5, 500.0, 1.4),
    "orifice_loss": (vs.orifice_loss, 0.5, 0.6, 100.0),
    "times": (lambda x: x * inch, 3.0),
    "over": (lambda x: x / inch, 3.0),
    "celsius": (celsius, 20.0),
    "fahrenheit": (fahrenheit, 20.0),
    "to_celsius": (to_celsius, 300.0),
    "to_fahrenheit": (to_fahrenheit, 300.0),
}


def test_the_table_is_whole():
    """Every formula of the compiled module stands above; what it is given here lies in its domain."""
    compiled = {name for name in dir(_core) if isinstance(
        getattr(getattr(_core, name), "__self__", None), type(_core.friction_factor.__self__))}
    assert compiled == set(FORMULAS)
    for call, *at in FORMULAS.values():
        assert np.isfinite(call(*at))


@pytest.mark.parametrize("name", FORMULAS)
def test_formulas_take_whatever_holds_numbers(name):
    call, *at = FORMULAS[name]
    one = call(*at)
    assert type(one) is float
    first, rest = at[0], at[1:]
    varied = np.linspace(first, first * 1.01, 24)
    expected = [call(float(x), *rest) for x in varied]
    assert expected[0] == one and (len(set(expected)) > 1)
    wide, frozen = np.zeros((24, 2)), varied.copy()
    wide[:, 1] = varied
    frozen.flags.writeable = False
    packed = np.zeros(24, dtype=[("byte", "u1"), ("value", "f8")])  # not aligned
    packed["value"] = varied
    for each in (varied, list(varied), tuple(varied), wide[:, 1], frozen, packed["value"],
                 varied.astype(">f8"), varied[::-1][::-1], varied.astype("O").astype(float)):
        result = call(each, *rest)
        assert type(result) is np.ndarray and result.dtype == float
        assert result.tolist() == expected
        assert result.flags.writeable and result.flags.c_contiguous
    single = varied.astype("f4")
    assert call(single, *rest).tolist() == [call(float(x), *rest) for x in single]
    table = varied.reshape(2, 3, 4)
    for view in (table, table.T, table[:, ::-1, ::2], np.asfortranarray(table), table[:0], table[None]):
        result = call(view, *rest)
        assert result.shape == view.shape
        assert np.array_equal(result, np.reshape([call(float(x), *rest) for x in view.ravel()], view.shape))
    assert varied.tolist() == np.linspace(first, first * 1.01, 24).tolist()  # inputs are left alone


@pytest.mark.parametrize("name", [name for name, (_, *at) in FORMULAS.items() if len(at) > 1])
def test_formulas_broadcast(name):
    """Every argument along a dimension of its own, against one call for each element."""
    call, *at = FORMULAS[name]
    grid = [np.reshape([x, x * 1.01], [2 if d == k else 1 for d in range(len(at))])
            for k, x in enumerate(at)]
    result = call(*grid)
    assert result.shape == (2,) * len(at)
    full = np.broadcast_arrays(*grid)
    for i in np.ndindex(result.shape):
        assert result[i] == call(*(float(x[i]) for x in full))
    for k in range(len(at)):  # and each alone, beside numbers
        numbers = list(at)
        numbers[k] = np.array([at[k], at[k] * 1.01])
        assert call(*numbers).shape == (2,)
    with pytest.raises(vs.ArgumentError, match="does not broadcast"):
        call(np.full(3, at[0]), np.full(2, at[1]), *at[2:])


@pytest.mark.parametrize("name", FORMULAS)
def test_formulas_refuse_what_holds_none(name):
    if name in ("times", "over"):
        return  # in test_units: another object may know how to be multiplied
    call, *at = FORMULAS[name]
    with pytest.raises(TypeError, match="must hold real numbers, not NoneType"):
        call(None, *at[1:])
    for bad in ("1", [None], [1j], object()):
        for k in range(len(at)):
            with pytest.raises(TypeError, match="must hold real numbers, not"):
                call(*at[:k], bad, *at[k + 1:])
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        assert np.isnan(call(np.nan, *at[1:])) and np.isnan(call([np.nan], *at[1:])).all()


@pytest.mark.parametrize("call, name", [
    (lambda: vs.pressure_at(2e4), "pressure_at"), (lambda: vs.water_density([290, 9]), "water_density"),
    (lambda: FAN.pressure(0.05, speed=-1), "Fan.pressure"), (lambda: FIELD.vacuum(0.1), "Field.vacuum"),
    (lambda: AIR_PIPE.loss(-1, 0.1, 1.2, 1.8e-5), "Pipe.loss"),
])
def test_formulas_warn_in_the_words_of_python(call, name):
    with pytest.warns(vs.DomainWarning) as caught:
        assert np.isnan(call()).any()
    (warning,) = caught
    assert str(warning.message).startswith(name + ": 1 of") and warning.filename == __file__
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        with pytest.raises(vs.DomainWarning):
            call()


def test_power_without_data_is_no_wrong_flow():
    plain = vs.Fan("plain", flow=[0, 1], pressure=[1, 0])
    for fan in (plain, vs.Fan.series("two", [FAN, plain])):
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            assert np.isnan(fan.power(0.05)) and np.isnan(fan.power([0.01, 0.02])).tolist() == [True] * 2


def test_long_and_short_dimensions():
    """Rows are walked along the longest dimension, whichever that is."""
    reynolds = np.geomspace(1e4, 1e6, 700)
    rough = np.array([0.0, 1e-4, 1e-2])
    expected = np.array([vs.friction_factor(reynolds, r) for r in rough])
    assert np.array_equal(vs.friction_factor(reynolds, rough[:, None]), expected)
    assert np.array_equal(vs.friction_factor(reynolds[:, None], rough), expected.T)
    out = np.zeros((700, 6))[:, ::2]
    assert vs.friction_factor(reynolds[:, None], rough, out=out) is out
    assert np.array_equal(out, expected.T)
    many = vs.friction_factor(reynolds.reshape((1, 7, 1, 10, 10)), rough.reshape(3, 1, 1, 1, 1))
    assert np.array_equal(many.reshape(3, 700), expected)
    assert vs.friction_factor(np.ones((2,) * 20), 0.0).shape == (2,) * 20


def test_masks_and_units_are_not_computed_with_quietly():
    class Odd(np.ndarray):
        to_base_units = None
    with pytest.raises(TypeError, match="altitude carries a unit"):
        vs.pressure_at(np.ones(3).view(Odd))


@pytest.mark.parametrize("arguments", [(), (1e5,), (1e5, 0.0, None, None), (vs.round_pipe(0.1, 0.0), 1e5, 0.0)])
def test_the_module_beneath_counts_its_arguments(arguments):
    with pytest.raises(TypeError):
        _core.friction_factor(*arguments)


def test_the_module_beneath_knows_its_objects():
    for wrong in (FAN, AIR_PIPE._c, None, 3.0):
        with pytest.raises(TypeError, match="Fan.pressure"):
            _core.fan_pressure(wrong, 0.05, 1.2, 1.0)


def test_threads_share_the_work():
    """Array calls let other Python threads run, and every thread gets its own right answer."""
    reynolds = np.geomspace(1e3, 1e8, 200_000)
    expected = vs.friction_factor(reynolds, 1e-4)
    results = [None] * 4

    def work(i):
        results[i] = vs.friction_factor(reynolds, 1e-4)

    threads = [threading.Thread(target=work, args=(i,)) for i in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert all(np.array_equal(result, expected) for result in results)
