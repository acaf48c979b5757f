# SPDX-License-Identifier: GPL-3.0-or-later
"""What must hold for every input, tried on many."""

import math

import numpy as np
import pytest
import ventstack as vs
from conftest import make_stack
from ventstack.units import cfm, feet, inch, inwc, to_celsius, celsius

hypothesis = pytest.importorskip("hypothesis", reason="needs python3-hypothesis")
from hypothesis import given, settings, strategies as st  # noqa: E402

settings.register_profile("quick", max_examples=60, deadline=None, derandomize=True,
                          database=None)
settings.load_profile("quick")

reals = st.floats(1e-12, 1e6) | st.floats(-1e6, -1e-12) | st.just(0.0)
reynolds = st.floats(1, 1e8)
rough = st.floats(0, 0.05)


@given(reals, st.sampled_from([inch, feet, cfm, inwc]))
def test_units_there_and_back(x, unit):
    assert x * unit / unit == pytest.approx(x, rel=1e-15, abs=0)
    assert ([x] * unit)[0] == x * unit == unit * x


@given(st.floats(-40, 60))
def test_temperatures_there_and_back(t):
    assert to_celsius(celsius(t)) == pytest.approx(t, abs=1e-12)


@given(reynolds, rough)
def test_friction_is_darcys(re, k):
    f = vs.friction_factor(re, k)
    assert f == vs.friction_factor(np.array([re]), k)[0]
    if re <= 2000:
        assert f == 64 / re
    if re >= 4000:  # Colebrook's own equation, as it is written
        rest = 1 / math.sqrt(f) + 2 * math.log10(k / 3.7 + 2.51 / (re * math.sqrt(f)))
        assert abs(rest) < 1e-12 / math.sqrt(f)
        assert f == vs.friction_colebrook(re, k)


@given(reynolds, reynolds, rough)
def test_more_flow_never_costs_less(a, b, k):
    low, high = sorted((a, b))
    if high > low * (1 + 1e-9):
        assert vs.friction_factor(low, k) * low**2 < vs.friction_factor(high, k) * high**2


@given(st.lists(st.floats(1, 1e9) | st.just(math.nan) | st.floats(-10, 0), min_size=1, max_size=30),
       st.lists(rough, min_size=1, max_size=3))
@pytest.mark.filterwarnings("ignore::ventstack.DomainWarning")
def test_arrays_are_scalars_side_by_side(re, k):
    table = vs.friction_factor(np.array(re)[:, None], k)
    for i, j in np.ndindex(table.shape):
        assert table[i, j] == pytest.approx(vs.friction_factor(re[i], k[j]), rel=0, nan_ok=True)


@given(st.floats(233.15, 333.15), st.floats(6e4, 1.1e5), st.floats(0, 1))
def test_air(t, p, rh):
    air = vs.Air(t, p, rh)
    dry = vs.Air(t, p, 0.0)
    assert air.density <= dry.density and 0 <= air.vapour_fraction < 1
    assert air.density == pytest.approx(p * 0.0289 / (8.314 * t), rel=0.09)
    if rh > 1e-3:
        assert air.dew_point <= t + 1e-6
        assert air.at_temperature(t).density == pytest.approx(air.density, rel=1e-9)


@settings(max_examples=30)
@given(st.floats(0, 40), st.floats(1, 80), st.floats(0.3, 2.0), st.integers(0, 8))
def test_more_resistance_never_moves_more(height, length, speed, elbows):
    """Against the same stack with one part more; and every way up closes."""
    s = make_stack()
    net = vs.Network(soil_gas=s.air, outdoors=s.air)
    pit, roof = net.suction_point("pit", soil=s.soil), net.discharge("roof", vs.open_end(), height=height)
    run = net.run("riser", pit, roof, pipe=vs.pipe("PVC 40", 3 * inch), length=length)
    run.add(vs.elbow(np.radians(90), 1.0), count=elbows)
    run.add(s.fan).speed = speed
    before = net.solve()
    assert math.fsum(line.loss for line in before.ledger()) == pytest.approx(
        0, abs=1e-9 * before.fans[0].shut_off)
    run.add(vs.fitting_constant(0.5))
    after = net.solve()
    assert 0 < after.flow(run) < before.flow(run)
    assert after.pressure(pit) > before.pressure(pit)  # less vacuum
