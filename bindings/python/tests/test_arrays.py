# SPDX-License-Identifier: GPL-3.0-or-later
"""Arrays: broadcasting, conversion, memory given to be filled, and what is refused."""

import array
import threading
import warnings

import numpy as np
import pytest
import ventstack as vs
from ventstack import core

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
    with pytest.raises(vs.ArgumentError, match="contiguous"):
        vs.friction_factor(np.ones((2, 3)), 1e-4, out=np.empty((2, 6))[:, ::2])
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


# ---- the module beneath, which checks for itself ----


def test_the_module_beneath_takes_any_buffer_of_doubles():
    out = array.array("d", [0.0] * 12)
    assert core.friction_factor_array(array.array("d", REYNOLDS), 1e-4, out) == 0
    assert list(out) == vs.friction_factor(REYNOLDS, 1e-4).tolist()
    assert core.friction_factor_array(memoryview(REYNOLDS)[::2], 1e-4, memoryview(out)[::2]) == 0


@pytest.mark.parametrize("reynolds, rough, out, error", [
    (REYNOLDS.astype("f4"), 1e-4, np.empty(12), TypeError),
    (REYNOLDS, 1e-4, bytes(96), TypeError),
    (REYNOLDS, 1e-4, REYNOLDS, ValueError),
    (REYNOLDS, 1e-4, np.empty(13), ValueError),
    (REYNOLDS, np.empty(3), np.empty(12), ValueError),
    (REYNOLDS.reshape(3, 4)[:, ::2], 1e-4, np.empty(6), ValueError),
    ([1.0], 1e-4, np.empty(1), TypeError),
    (1e5, 1e-4, None, TypeError),
])
def test_the_module_beneath_refuses(reynolds, rough, out, error):
    with pytest.raises(error):
        core.friction_factor_array(reynolds, rough, out)


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
