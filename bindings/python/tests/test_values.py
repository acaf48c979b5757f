# SPDX-License-Identifier: GPL-3.0-or-later
"""Air, pipe, fittings, terminations, soil and fans: what Python says is what C says, and values of
published sources come through the binding unharmed. The sources themselves are tested in C."""

import copy
import math
import pickle

import numpy as np
import pytest
import ventstack as vs
from ventstack.units import celsius, cfm, inch, inwc, mm

PIPE = vs.pipe("PVC 40", 3 * inch)


def test_air():
    air = vs.Air(temperature=celsius(20), pressure=101325, relative_humidity=0.5)
    # CIPM-2007, computed with mpmath from the published coefficients
    assert air.density == pytest.approx(1.19931389547, rel=1e-9)
    # ASHRAE Fundamentals (2017), ch. 1, table 3, reprint: 872.6 Pa at 5 C, 103.24 Pa at -20 C
    assert vs.saturation_pressure(celsius(5)) == pytest.approx(872.6, rel=3e-4)
    assert vs.saturation_pressure(celsius(-20)) == pytest.approx(103.24, rel=3e-4)
    # ISO 2533, as reprinted: 1000 m, 89875 Pa
    assert vs.pressure_at(1000) == pytest.approx(89875, abs=1)
    assert celsius(9) < air.dew_point < celsius(9.5) and 0.007 < air.humidity_ratio < 0.0075
    warm = air.at_temperature(celsius(30))
    assert warm.vapour_fraction == air.vapour_fraction and warm.relative_humidity < 0.3
    assert warm.dew_point == pytest.approx(air.dew_point, abs=1e-6)


def test_pipe():
    # ASTM D1785 (reprint): average inside diameter of 3 in schedule 40 is 3.042 in
    assert PIPE.width / inch == pytest.approx(3.042, abs=1e-3) and PIPE.depth == PIPE.width
    assert PIPE.is_round and PIPE.hydraulic_diameter == PIPE.effective_diameter == PIPE.width
    assert PIPE.area == pytest.approx(math.pi / 4 * PIPE.width**2)
    assert PIPE.bore_uncertainty > 0 and "D1785" in str(PIPE.source)
    assert (PIPE.source.year, type(PIPE.source.how)) == (PIPE.source.year, vs.How)
    assert vs.round_pipe(0.1, 0.0).source is None
    flat = vs.rectangular_pipe(0.3, 0.1, 1e-5)
    assert not flat.is_round and (flat.width, flat.depth) == (0.3, 0.1)
    assert flat.hydraulic_diameter == pytest.approx(2 * 0.3 * 0.1 / 0.4)
    assert flat.effective_diameter != flat.hydraulic_diameter
    loss = PIPE.loss(30.48, 0.05, 1.2, 1.8e-5)
    assert PIPE.loss(30.48, -0.05, 1.2, 1.8e-5) == -loss
    velocity = 0.05 / 1.2 / PIPE.area
    f = vs.friction_factor(1.2 * velocity * PIPE.width / 1.8e-5, PIPE.roughness / PIPE.width)
    assert loss == pytest.approx(f * 30.48 / PIPE.width * 0.6 * velocity**2, rel=1e-12)


def test_catalogues():
    for name, size, pipe in vs.pipes():
        assert vs.pipe(name, size) == pipe
    assert {"PVC 40", "PVC 80"} <= {name for name, _, _ in vs.pipes()}
    for each in vs.roughnesses():
        assert vs.roughness(each.material) == each and each.low <= float(each) <= each.high
    assert len(set(map(str, vs.sources()))) == len(vs.sources()) > 10


def test_coefficients():
    k = vs.elbow(np.radians(90), 1.5).coefficient(PIPE, 5e4)
    assert float(k) == k.value and 0 < k.uncertainty < k.value
    assert "Rennels" in k.source.author and k.source.how is vs.How.REPRINT
    assert k.flags == 0 and "Rennels" in str(k.source) and "[reprint]" in str(k.source)
    # Borda-Carnot, exact
    assert vs.sudden_change(2 * PIPE.width).coefficient(PIPE, 5e4).value == pytest.approx(9 / 16)
    assert vs.mitre(math.pi / 2).coefficient(PIPE, 1e3).flags is vs.CoefficientFlag.REYNOLDS_OUTSIDE
    assert vs.rain_cap(0.42).coefficient(PIPE, 5e4).flags & vs.CoefficientFlag.GEOMETRY_OUTSIDE
    own = vs.fitting_constant(2.0, 0.5, k_reversed=3.0)
    assert own.coefficient(PIPE, 5e4) == vs.Coefficient(2.0, 0.5, None, vs.CoefficientFlag(0))
    assert own.coefficient(PIPE, -5e4).value == 3.0
    assert vs.fitting_constant(2.0).coefficient(PIPE, -5e4).value == 2.0
    assert own.with_factor(1.5).coefficient(PIPE, 5e4).value == 3.0
    tee = vs.wye(math.pi / 2).coefficient(True, 0.5, 1.0, 1.0)
    assert isinstance(tee, vs.Coefficient) and "Idelchik" in tee.source.author


def test_junctions():
    tee = vs.wye(math.pi / 2)
    two = tee.coefficients([1, 0.6], [0.7, 0.3])
    assert two[1] == tee.coefficient(False, 0.3, 0.6, 1.0)
    apart = tee.coefficients([1, 0.6], [-0.7, -0.3])
    assert apart[0] == tee.coefficient(True, 0.7, 1.0, 0.6, dividing=True)
    assert [k.source.author for k in apart] == ["A. Gardel", "Crane Co."] and not apart[0].flags
    back = tee.coefficient(False, -0.2, 0.6, 1.0)
    assert back.flags & vs.CoefficientFlag.GEOMETRY_OUTSIDE and math.isfinite(back.value)
    cross = vs.double_wye(math.pi / 2).coefficients([1, 0.5, 0.5, 0.5], [0.4, 0.2, 0.2, 0.2])
    assert len(cross) == 4 and all(k.uncertainty > 0.1 for k in cross)
    assert math.isnan(tee.coefficients([1, 1], [1, -1])[0].value)
    theory = vs.wye_by_momentum(math.pi / 2)
    assert theory.source.author == "momentum balance" and tee.source is None
    assert tee.alternatives(False, 0.3, 0.6, 1.0)[-1] == theory.coefficient(False, 0.3, 0.6, 1.0)
    assert len(tee.alternatives(False, 0.3, 0.6, 1.0, dividing=True)) == 4
    assert len(tee.alternatives(False, 1.3, 0.6, 1.0)) == 2


def test_parameters_and_words():
    bend = vs.elbow(1.0, 1.5)
    assert bend.name == "elbow" and bend.parameters == {"angle": 1.0, "radius_ratio": 1.5}
    assert repr(bend) == "<elbow: angle=1.0, radius_ratio=1.5>"
    assert repr(bend.with_factor(2)) == "<elbow: angle=1.0, radius_ratio=1.5, factor=2.0>"
    assert vs.entry_flush().parameters == {} and repr(vs.entry_flush()) == "<flush entry>"
    assert vs.gradual_change(0.2, 0.5).parameters == {"other_bore": 0.2, "cone_angle": 0.5}
    assert vs.end_guard(1 * mm, 12 * mm).parameters == {"wire": 0.001, "opening": 0.012}


@pytest.mark.parametrize("top, upward, streams, words", [
    (vs.open_end(), True, 1, "straight up"), (vs.end_guard(1 * mm, 12 * mm), True, 1, "straight up"),
    (vs.end_elbow(np.radians(45), 1.5), True, 1, "45 degrees above level"),
    (vs.end_elbow(np.radians(90), 1.5), False, 1, "level"),
    (vs.end_elbow(np.radians(120), 1.5), False, 1, "30 degrees below level"),
    (vs.end_tee(), False, 2, "level"), (vs.rain_cap(0.5), False, 8, "level"),
    (vs.end_return(1.0), False, 1, "straight down"),
])
def test_terminations(top, upward, streams, words):
    assert top.is_upward is upward and len(top.streams) == streams
    assert sum(stream.share for stream in top.streams) == pytest.approx(1)
    for stream in top.streams:
        assert math.hypot(*stream.direction) == pytest.approx(1)
    assert top.name in top.describe() and words in top.describe()
    k = top.coefficient(PIPE, 5e4)
    assert k.value >= vs.open_end().coefficient(PIPE, 5e4).value == 1.0
    assert top.with_factor(0).coefficient(PIPE, 5e4).value == 1.0


def test_soil():
    for soil in (vs.soil_power(4e-4, 0.6), vs.soil_two_term(2e3, 4e5)):
        for flow in (0.0, 1e-5, 0.01, -0.02):
            assert soil.flow(soil.pressure(flow)) == pytest.approx(flow, rel=1e-12, abs=1e-18)
    assert vs.soil_two_term(2e3, 4e5).pressure(0.01) == pytest.approx(60.0)
    assert "dP^0.6" in repr(vs.soil_power(4e-4, 0.6)) and "Q^2" in repr(vs.soil_two_term(2e3, 4e5))


def test_fan(stack):
    fan = stack.fan
    flow, pressure, power = fan.points
    assert (flow / cfm).tolist() == pytest.approx([0, 30, 60, 90, 120, 150])
    assert fan.pressure(flow).tolist() == pytest.approx(pressure.tolist())
    assert fan.power(flow).tolist() == pytest.approx(power.tolist())
    assert fan.range == (0.0, 150 * cfm) and fan.free_delivery == pytest.approx(150 * cfm)
    assert fan.shut_off == pytest.approx(1.9 * inwc) and fan.is_falling
    # fan laws: Abulencia and Theodore (2009), section 17.2 (reprint): pressure with the square of
    # speed and with density, flow with speed, power with the cube of speed
    s = 2100 / 1694
    assert fan.pressure(s * flow, speed=s, density=0.9 * fan.density).tolist() == pytest.approx(
        (0.9 * s**2 * pressure).tolist())
    assert fan.power(s * flow, speed=s).tolist() == pytest.approx((s**3 * power).tolist())
    step = 1e-6
    slope = (fan.pressure(0.03 + step) - fan.pressure(0.03 - step)) / (2 * step)
    assert fan.slope(0.03) == pytest.approx(slope, rel=1e-6)
    plain = vs.Fan("no power", flow=[0, 1], pressure=[1, 0])
    assert math.isnan(plain.power(0.5)) and np.isnan(plain.points[2]).all()
    with pytest.warns(vs.DomainWarning, match="speed -1"):
        assert math.isnan(plain.pressure(0.5, speed=-1.0))


def test_fans_together(stack):
    fan = stack.fan
    for q in (0.01, 0.03, 0.06):
        two = vs.Fan.series("two", [fan, fan])
        assert two.pressure(q, density=1.1) == pytest.approx(2 * fan.pressure(q, density=1.1))
        pair = vs.Fan.parallel("pair", [fan, fan])
        assert pair.pressure(2 * q) == pytest.approx(fan.pressure(q))
    assert (two.name, pair.name) == ("two", "pair")
    with pytest.raises(vs.ArgumentError):
        vs.Fan.series("none", [])


VALUES = [
    vs.Air(286.15, 98300, 1.0), vs.Air(286.15, 98300, 1.0).at_temperature(280.0), PIPE,
    vs.rectangular_pipe(0.1, 0.07, 1e-5), vs.elbow(1.0, 1.5), vs.mitre(0.7).with_factor(1.2),
    vs.fitting_constant(1.0, 0.1), vs.rain_cap(0.5), vs.end_guard(0.001, 0.012), vs.wye(0.8),
    vs.junction_lossless(), vs.double_wye(0.8), vs.wye_by_momentum(0.8),
    vs.soil_power(1e-3, 0.6), vs.soil_two_term(1e3, 1e5),
]


@pytest.mark.parametrize("value", VALUES, ids=repr)
def test_values_are_values(value):
    for twin in (pickle.loads(pickle.dumps(value)), copy.copy(value), copy.deepcopy(value)):
        assert twin == value and hash(twin) == hash(value) and repr(twin) == repr(value)
    assert value != 3 and value not in [other for other in VALUES if other is not value]
    name = next(name for name in dir(value) if not name.startswith("_"))
    with pytest.raises(AttributeError, match="frozen"):
        setattr(value, name, 1)
    with pytest.raises(AttributeError):
        delattr(value, name)


@pytest.mark.parametrize("kind", [vs.Pipe, vs.Fitting, vs.Termination, vs.Junction, vs.Soil])
def test_values_come_from_functions(kind):
    with pytest.raises(TypeError, match="make a"):
        kind()


def test_fans_pickle(stack):
    fans = [stack.fan, vs.Fan("at 1.1", flow=[0, 0.1], pressure=[300, 0], density=1.1)]
    fans += [vs.Fan.series("row", fans), vs.Fan.parallel("side by side", fans)]
    for fan in fans:
        twin = pickle.loads(pickle.dumps(fan))
        assert (twin.name, twin.density, twin.range) == (fan.name, fan.density, fan.range)
        for q in (0.0, 0.02, 0.08):
            assert twin.pressure(q, speed=0.9) == fan.pressure(q, speed=0.9)
