# SPDX-License-Identifier: GPL-3.0-or-later
"""Addresses as objects, and many cases at once."""

import copy
import os
import signal
import sys
import threading
import types

import numpy as np
import pytest
import ventstack as vs
from ventstack import _sweep
from ventstack.units import inch


@pytest.fixture
def net(stack):
    return stack.net


def alone(net, settings, observable):
    """One case by itself."""
    one = net.copy()
    for name, value in settings.items():
        one.parameter(name).value = value
    return one.solve().observe(observable)


# ---- addresses --------------------------------------------------------------------------------


def test_attributes_are_addresses(stack):
    assert stack.riser.length == stack.net.parameter("riser.length")
    assert stack.riser.flow == stack.net.observable("riser.flow")
    assert stack.pit.pressure.unit == "Pa" and stack.riser.length.unit == "m"
    assert stack.riser[1].factor == stack.net.parameter("riser[1].factor")
    assert stack.riser[1] == stack.bends and stack.riser[2] == stack.placed
    assert isinstance(stack.riser[2], vs.FanItem) and stack.riser[2].speed == 1.0
    assert stack.riser[2].pressure_factor.value == 1.0
    assert stack.riser.length.range == (0, 1e6)
    assert str(stack.riser[1].loss) == "riser[1].loss"
    assert {stack.riser.length: 1}[stack.net.parameter("riser.length")] == 1
    assert stack.riser.length != stack.riser.roughness


def test_every_name_is_its_own(manifold):
    for names, find in ((manifold.net.parameters, manifold.net.parameter),
                        (manifold.net.observables, manifold.net.observable)):
        assert len(names) == len(set(names)) > 20
        assert [find(name).name for name in names] == names


def test_what_handles_had_is_what_it_was(stack):
    assert stack.riser.name == "riser" and stack.riser.start == stack.pit
    assert stack.riser.temperature == stack.air.temperature
    assert stack.pit.height == 0.0 and bool(stack.riser) and len(stack.riser) == 3
    assert copy.copy(stack.riser) == stack.riser
    assert not hasattr(stack.riser, "no_such_quantity")
    with pytest.raises(AttributeError, match="did you mean 'length'"):
        stack.riser.lenght
    with pytest.raises(AttributeError):
        stack.riser[0].factor  # the run has one, but it is another item's
    with pytest.raises(IndexError, match="3 items"):
        stack.riser[3]


@pytest.mark.parametrize("name, value, read", [
    ("riser.length", 7.0, lambda s: s.riser.length.value),
    ("riser.temperature", 280.0, lambda s: s.riser.temperature),
    ("roof.height", 9.5, lambda s: s.roof.height),
    ("riser.speed", 0.8, lambda s: s.placed.speed),
    ("wind_pressure", -3.0, lambda s: s.net.wind_pressure),
    ("building_pressure", -4.0, lambda s: s.net.building_pressure),
    ("outdoor_temperature", 260.0, lambda s: s.net.outdoors.temperature),
    ("soil_gas_temperature", 284.0, lambda s: s.riser.temperature),
    ("barometric_pressure", 9e4, lambda s: s.net.soil_gas.pressure),
    ("roof.factor", 1.5, lambda s: s.net.termination.factor),
])
def test_a_value_that_is_set_is_seen_everywhere(stack, name, value, read):
    parameter = stack.net.parameter(name)
    before = stack.net.solve().flow(stack.riser)
    parameter.value = value
    assert parameter.value == value and read(stack) == value
    if name not in ("roof.factor", "building_pressure"):
        assert stack.net.solve().flow(stack.riser) != before


def test_a_value_out_of_bounds_changes_nothing(stack):
    with pytest.raises(vs.ArgumentError, match="length is -1"):
        stack.riser.length.value = -1
    assert stack.riser.length.value > 0


def test_observe_and_gradient(stack):
    point = stack.net.solve()
    assert point.observe(stack.riser.flow) == point.observe("riser.flow") == point.flow(stack.riser)
    slope, = point.gradient(stack.riser.flow, [stack.riser.length])
    h = 1e-3
    flows = [alone(stack.net, {"riser.length": stack.riser.length.value + d}, "riser.flow")
             for d in (-h, h)]
    assert slope == pytest.approx((flows[1] - flows[0]) / (2 * h), rel=1e-6)
    other = stack.net.copy()
    with pytest.raises(vs.ArgumentError, match="another network"):
        point.observe(other.find_run("riser").flow)


# ---- answers ----------------------------------------------------------------------------------


def test_a_sweep_gives_what_single_cases_give(stack):
    lengths = np.linspace(3, 60, 23)
    q = stack.net.sweep({stack.riser.length: lengths, "pit.c": 1e-3},
                        observe=[stack.riser.flow, "pit.pressure", "riser[1].loss"])
    for i, length in enumerate(lengths):
        for name in ("riser.flow", "pit.pressure", "riser[1].loss"):
            expected = alone(stack.net, {"riser.length": length, "pit.c": 1e-3}, name)
            assert q[name][i] == pytest.approx(expected, rel=1e-12)
    assert q.failed == 0 and not q.status.any() and q.message == ""
    assert list(q) == list(q.observables) and len(q) == 3


def test_shapes_broadcast(stack):
    lengths, cs = np.array([[3], [10], [30]]), np.array([5e-4, 1e-3])
    q = stack.net.sweep({stack.riser.length: lengths, "pit.c": cs}, [stack.riser.flow])
    assert q.shape == q[stack.riser.flow].shape == q.status.shape == (3, 2)
    for i, j in np.ndindex(3, 2):
        one = stack.net.sweep({"riser.length": lengths[i, 0], "pit.c": cs[j]}, "riser.flow")
        assert one["riser.flow"].shape == () and one["riser.flow"] == q["riser.flow"][i, j]
    assert np.all(q.inputs[stack.riser.length] == lengths)


def test_all_kinds_of_numbers_come_in(stack):
    values = [4, 8, 16]
    expected = stack.net.sweep({"riser.length": np.array(values, float)}, "riser.flow")
    for kind in (np.float32, np.int16, np.uint64, list, tuple):
        array = kind(values) if kind in (list, tuple) else np.array(values, kind)
        got = stack.net.sweep({"riser.length": array}, "riser.flow")["riser.flow"]
        assert got.dtype == np.float64 and np.array_equal(got, expected["riser.flow"])
    backwards = stack.net.sweep({"riser.length": np.array(values, ">f8")[::-1]}, "riser.flow")
    assert np.array_equal(backwards["riser.flow"][::-1], expected["riser.flow"])


def test_threads_and_blocks_change_no_bit(stack, monkeypatch):
    values = {stack.riser.length: np.linspace(2, 80, 999), "riser[1].count": 3.0}
    whole = stack.net.sweep(values, [stack.riser.flow])[stack.riser.flow]
    monkeypatch.setattr(_sweep, "BLOCK", 64)
    for threads in (1, 2, 5):
        assert np.array_equal(stack.net.sweep(values, [stack.riser.flow], threads=threads)["riser.flow"],
                              whole)


def test_a_start_changes_nothing_that_counts(stack):
    values = {stack.riser.length: np.linspace(8, 14, 50)}
    cold = stack.net.sweep(values, "riser.flow")["riser.flow"]
    warm = stack.net.sweep(values, "riser.flow", start=stack.net.solve())["riser.flow"]
    np.testing.assert_allclose(warm, cold, rtol=1e-12)


def test_no_cases_and_no_parameters(stack):
    q = stack.net.sweep({stack.riser.length: []}, [stack.riser.flow])
    assert q["riser.flow"].shape == (0,) and q.failed == 0
    q = stack.net.sweep({}, [stack.riser.flow])
    assert q["riser.flow"] == pytest.approx(stack.net.solve().flow(stack.riser), rel=1e-12)


def test_the_network_is_as_it_was(stack):
    before = stack.net.solve().flow(stack.riser)
    stack.net.sweep({stack.riser.length: [1, 2, 3], "outdoor_temperature": 250}, "riser.flow")
    assert stack.net.solve().flow(stack.riser) == before


# ---- failures ---------------------------------------------------------------------------------


def test_a_case_that_fails_is_nan_and_told(stack):
    with pytest.warns(vs.DomainWarning, match="2 of 4 cases failed.*first is case 1.*length is -1"):
        q = stack.net.sweep({stack.riser.length: [5, -1, 6, np.nan]}, "riser.flow")
    assert np.array_equal(np.isnan(q["riser.flow"]), [False, True, False, True])
    assert np.array_equal(q.status != 0, np.isnan(q["riser.flow"]))
    assert q.failed == 2 and "length is -1" in q.message


def test_bad_addresses(stack):
    net, riser, other = stack.net, stack.riser, stack.net.copy().find_run("riser")
    with pytest.raises(vs.NotFoundError, match="nearest there is 'length'"):
        net.sweep({"riser.lenght": [1]}, "riser.flow")
    with pytest.raises(vs.NotFoundError):
        net.sweep({riser.length: [1]}, "riser.flwo")
    with pytest.raises(vs.ArgumentError, match="another network"):
        net.sweep({other.length: [1]}, "riser.flow")
    with pytest.raises(vs.ArgumentError, match="another network"):
        net.sweep({riser.length: [1]}, [other.flow])
    with pytest.raises(vs.ArgumentError, match="twice"):
        net.sweep({riser.length: [1], "riser.length": [2]}, "riser.flow")
    with pytest.raises(TypeError, match="Parameters or names"):
        net.sweep({riser.flow: [1]}, "riser.flow")
    with pytest.raises(TypeError, match="dict"):
        net.sweep([riser.length], "riser.flow")
    with pytest.raises(KeyError, match="was not observed"):
        net.sweep({riser.length: [1]}, "riser.flow")["pit.pressure"]


def test_bad_values(stack):
    with pytest.raises(vs.ArgumentError, match=r"pit.c has the shape \(3,\)"):
        stack.net.sweep({stack.riser.length: [1, 2], "pit.c": [1e-3] * 3}, "riser.flow")
    with pytest.raises(TypeError, match="real numbers"):
        stack.net.sweep({stack.riser.length: ["a"]}, "riser.flow")
    with pytest.raises(vs.ArgumentError, match="threads is 0"):
        stack.net.sweep({stack.riser.length: [1]}, "riser.flow", threads=0)
    with pytest.raises(vs.TopologyError):
        vs.Network(soil_gas=stack.air, outdoors=stack.air).sweep({"wind_pressure": [1]}, [])


def test_a_solution_of_another_shape_is_no_start(stack, manifold):
    with pytest.raises(vs.StaleError):
        stack.net.sweep({stack.riser.length: [1]}, "riser.flow", start=manifold.net.solve())


def test_arrays_to_write_to(stack):
    flow, values = stack.riser.flow, {stack.riser.length: np.array([[4.0, 5.0], [6.0, 7.0]])}
    expected = stack.net.sweep(values, [flow])[flow]
    for mine in (np.empty((2, 2)), np.empty((2, 2), order="F"), np.empty((2, 4))[:, ::2]):
        assert stack.net.sweep(values, [flow], out={flow: mine})[flow] is mine
        assert np.array_equal(mine, expected)
    frozen = np.empty((2, 2))
    frozen.flags.writeable = False
    for wrong, said in ((frozen, "read-only"), (np.empty(4), "of the shape"),
                        (np.empty((2, 2), np.float32), "float64"),
                        (values[stack.riser.length], "shares memory")):
        with pytest.raises(vs.ArgumentError, match=said):
            stack.net.sweep(values, [flow], out={flow: wrong})
    with pytest.raises(vs.ArgumentError, match="not observed"):
        stack.net.sweep(values, [flow], out={stack.pit.pressure: np.empty((2, 2))})


def test_more_than_memory_holds_is_refused(stack):
    with pytest.raises(vs.OutOfMemory, match="sweep in parts"):
        stack.net.sweep({stack.riser.length: np.broadcast_to(5.0, (10**9, 10**4))}, "riser.flow")


def test_a_billion_cases_are_refused_where_memory_is_short(stack, monkeypatch):
    pages = {"SC_PHYS_PAGES": 2**21, "SC_PAGE_SIZE": 4096}  # 8.6 GB
    monkeypatch.setattr(os, "sysconf", pages.__getitem__)
    billion = np.broadcast_to(5.0, 10**9)
    with pytest.raises(vs.OutOfMemory, match="9 GB, this machine has 8.59 GB: sweep in parts"):
        stack.net.sweep({stack.riser.length: billion}, "riser.flow")
    with pytest.raises(MemoryError):  # the same, as Python calls it
        stack.net.sweep({stack.riser.length: billion}, "riser.flow")


def test_ctrl_c_ends_a_sweep(stack):
    cases = np.broadcast_to(stack.riser.length.value, 10**8)
    others = threading.active_count()
    before = stack.net.solve().flow(stack.riser)
    for threads in (1, 2):
        timer = threading.Timer(0.3, signal.raise_signal, [signal.SIGINT])
        timer.start()
        with pytest.raises(KeyboardInterrupt):
            stack.net.sweep({stack.riser.length: cases}, [stack.riser.flow], threads=threads)
        timer.join()
        assert threading.active_count() == others
    assert stack.net.solve().flow(stack.riser) == before
    assert stack.net.sweep({stack.riser.length: [5.0]}, "riser.flow").failed == 0


# ---- tables -----------------------------------------------------------------------------------


def test_frame(stack):
    pandas = pytest.importorskip("pandas")
    q = stack.net.sweep({stack.riser.length: pandas.Series([4.0, 8.0])}, [stack.riser.flow])
    frame = q.to_frame()
    assert list(frame.columns) == ["riser.length", "riser.flow"]
    assert frame.attrs["units"] == {"riser.length": "m", "riser.flow": "m3/s"}
    assert np.array_equal(frame["riser.flow"], q["riser.flow"])


@pytest.fixture
def xarray():
    found = pytest.importorskip("xarray", minversion="0.16")
    if not hasattr(found, "Dataset"):
        pytest.skip("not the real xarray")
    return found


def test_dataset(stack, xarray):
    q = stack.net.sweep({stack.riser.length: [[4.0], [8.0]], "pit.c": [1e-3, 2e-3, 3e-3]},
                        [stack.riser.flow, stack.pit.pressure])
    data = q.to_xarray()
    assert isinstance(data, xarray.Dataset)
    assert data["riser.flow"].dims == ("riser.length", "pit.c")
    assert data["riser.flow"].attrs["units"] == "m3/s"
    assert data["riser.length"].attrs["units"] == "m" and data["pit.pressure"].attrs["units"] == "Pa"
    assert np.array_equal(data["riser.length"], [4.0, 8.0])
    picked = data["pit.pressure"].sel({"riser.length": 8.0, "pit.c": 2e-3})
    assert float(picked) == q["pit.pressure"][1, 1]


def test_dataset_of_cases_in_a_row(stack, xarray):
    lengths, cs = [4.0, -1.0, 8.0], [1e-3, 2e-3, 3e-3]
    with pytest.warns(vs.DomainWarning):
        q = stack.net.sweep({stack.riser.length: lengths, "pit.c": cs}, [stack.riser.flow])
    data = q.to_xarray()
    assert data["riser.flow"].dims == data["pit.c"].dims == ("case",)  # neither varies alone
    assert np.array_equal(data["riser.length"], lengths) and np.array_equal(data["pit.c"], cs)
    assert np.array_equal(np.isnan(data["riser.flow"]), [False, True, False])
    single = stack.net.sweep({stack.riser.length: 4.0, "pit.c": 1e-3}, "riser.flow").to_xarray()
    assert single["riser.flow"].dims == () and float(single["riser.flow"]) == q["riser.flow"][0]


def test_tables_need_their_packages(stack, monkeypatch):
    q = stack.net.sweep({stack.riser.length: [4.0]}, [stack.riser.flow])
    for package, make in (("pandas", q.to_frame), ("xarray", q.to_xarray)):
        monkeypatch.setitem(sys.modules, package, None)
        with pytest.raises(ImportError, match=package):
            make()


class Bar:
    """Stands for tqdm's bar: what it was told."""

    made = []

    def __init__(self, total, **_):
        self.total, self.done, self.closed = total, 0, False
        Bar.made.append(self)

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.closed = True

    def update(self, cases):
        self.done += cases


def test_progress_without_and_with_tqdm(stack, monkeypatch):
    values = {stack.riser.length: np.linspace(3, 9, 20000)}
    expected = stack.net.sweep(values, "riser.flow")["riser.flow"]
    monkeypatch.setitem(sys.modules, "tqdm.auto", None)
    assert np.array_equal(stack.net.sweep(values, "riser.flow", progress=True)["riser.flow"],
                          expected)
    monkeypatch.setitem(sys.modules, "tqdm", types.SimpleNamespace())
    monkeypatch.setitem(sys.modules, "tqdm.auto", types.SimpleNamespace(tqdm=Bar))
    for threads in (1, 2):
        Bar.made.clear()
        q = stack.net.sweep(values, "riser.flow", progress=True, threads=threads)
        assert np.array_equal(q["riser.flow"], expected)
        bar, = Bar.made
        assert bar.total == bar.done == 20000 and bar.closed
    Bar.made.clear()
    stack.net.sweep(values, "riser.flow")
    assert not Bar.made


def test_ctrl_c_closes_the_bar(stack, monkeypatch):
    class Interrupted(Bar):
        def update(self, cases):
            super().update(cases)
            raise KeyboardInterrupt

    monkeypatch.setitem(sys.modules, "tqdm", types.SimpleNamespace())
    monkeypatch.setitem(sys.modules, "tqdm.auto", types.SimpleNamespace(tqdm=Interrupted))
    for threads in (1, 2):
        Bar.made.clear()
        with pytest.raises(KeyboardInterrupt):
            stack.net.sweep({stack.riser.length: np.linspace(3, 9, 10**5)}, "riser.flow",
                            progress=True, threads=threads)
        bar, = Bar.made
        assert bar.closed and 0 < bar.done < 10**5


def test_a_larger_network(manifold):
    pipe_length = np.linspace(1, 20, 40)
    q = manifold.net.sweep({manifold.second.length: pipe_length, "riser.bore": 4 * inch},
                           [manifold.first.flow, manifold.far.pressure])
    for i in (0, 17, 39):
        settings = {"far branch.length": pipe_length[i], "riser.bore": 4 * inch}
        assert q[manifold.first.flow][i] == pytest.approx(
            alone(manifold.net, settings, "near branch.flow"), rel=1e-12)
