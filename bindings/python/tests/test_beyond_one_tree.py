# SPDX-License-Identifier: GPL-3.0-or-later
"""Fans that are off, back-flow, wind and tops of each discharge, against equations written here."""

import math

import numpy as np
import pytest
import ventstack as vs
from scipy.optimize import root
from ventstack.units import celsius, inch

PIPE = vs.pipe("PVC 40", 3 * inch)
AIR = vs.Air(celsius(12), 98000, 1.0)
FAN = vs.Fan("invented", flow=[0, 0.02, 0.04, 0.06], pressure=[400, 340, 210, 0])
STOPPED = 11.0
DAMPER = vs.check_damper(15.0, 0.01)


def dynamic(flow):
    """Velocity pressure with the flow's sign, Pa."""
    return math.copysign(AIR.density * (flow / PIPE.area)**2 / 2, flow)


def damper(flow):
    """Its K at the Reynolds number there is, and what opens it."""
    reynolds = AIR.density * flow / PIPE.area * PIPE.hydraulic_diameter / AIR.viscosity
    k = DAMPER.coefficient(PIPE, reynolds).value
    return k * dynamic(flow) + (15.0 if flow > 0 else 0.0)


def soil(flow, a, b):
    return a * flow + b * flow * abs(flow)


def pressure(flow):
    return FAN.pressure(flow, density=AIR.density)


def solved(equations, start):
    found = root(equations, start, tol=1e-14, options={"xtol": 1e-14})
    assert np.max(np.abs(equations(found.x))) < 1e-8, found.message
    return found.x


def run(net, name, start, end, *parts):
    made = net.run(name, start, end, pipe=PIPE, length=0)
    return made, [made.add(part) for part in parts]


@pytest.mark.parametrize("with_damper", [False, True])
def test_parallel_fans_on_a_common_riser(with_damper):
    net = vs.Network(soil_gas=AIR, outdoors=AIR)
    pit = net.suction_point("pit", soil=vs.soil_two_term(1e3, 2e5))
    low, high = (net.junction(name, vs.junction_lossless()) for name in ("low", "high"))
    roof = net.discharge("roof", vs.open_end(), height=0)
    run(net, "riser", pit, low, vs.fitting_constant(2.0))
    one, (first, _) = run(net, "one", low, high, FAN, vs.fitting_constant(1.0))
    parts = [FAN, vs.fitting_constant(1.0)] + ([DAMPER] if with_damper else [])
    two, (second, *_) = run(net, "two", low, high, *parts)
    run(net, "top", high, roof, vs.fitting_constant(3.0))
    second.switch_off(vs.fitting_constant(STOPPED))
    assert first.is_on and not second.is_on
    point = net.solve()

    def rest(flows):
        a, b = flows
        bottom = -soil(a + b, 1e3, 2e5) - 2.0 * dynamic(a + b)
        by_one = bottom + pressure(a) - dynamic(a)
        by_two = bottom - (STOPPED + 1.0) * dynamic(b) - (damper(b) if with_damper else 0.0)
        return [by_one - by_two, by_one - 4.0 * dynamic(a + b)]

    # flows of the running fan, and of what comes back through the other
    want = solved(rest, [0.03, -0.0005 if with_damper else -0.02])
    assert want[1] < 0
    assert [point.flow(one), point.flow(two)] == pytest.approx(want, rel=1e-9)
    assert point.flags & vs.SolutionFlag.FAN_OFF and point.flags & vs.SolutionFlag.REVERSED
    assert any("off and air goes backwards" in warning.message for warning in point.warnings)
    back = -point.flow(two) / 1e-3
    assert any(f"flows backwards: {back:.4g} L/s" in warning.message for warning in point.warnings)
    assert "fan invented, off, air backwards" in str(point.ledger())
    assert ("check damper, shut" in str(point.ledger())) is with_damper
    assert point.fans[1].power == 0 and point.fans[1].pressure == pytest.approx(
        -STOPPED * dynamic(point.flow(two)), rel=1e-9)
    second.switch_on()
    assert second.is_on and net.solve().flow(two) > 0


@pytest.mark.parametrize("with_damper", [False, True])
@pytest.mark.parametrize("top", [1.0, 40.0])
def test_one_of_two_fans_in_a_tree_stops(with_damper, top):
    """With little above the header the running fan's air leaves; with much it presses into the other pit."""
    net = vs.Network(soil_gas=AIR, outdoors=AIR)
    near = net.suction_point("near", soil=vs.soil_two_term(2e3, 2e5))
    far = net.suction_point("far", soil=vs.soil_two_term(3e3, 1e5))
    header = net.junction("header", vs.junction_lossless())
    roof = net.discharge("roof", vs.open_end(), height=0)
    left, _ = run(net, "left", near, header, FAN)
    right, (stopped, *_) = run(net, "right", far, header, FAN, *([DAMPER] if with_damper else []))
    run(net, "riser", header, roof, vs.fitting_constant(top))
    stopped.switch_off(vs.fitting_constant(STOPPED))
    point = net.solve()

    def rest(flows):
        a, b = flows
        up = (top + 1) * dynamic(a + b)
        return [-soil(a, 2e3, 2e5) + pressure(a) - up,
                -soil(b, 3e3, 1e5) - STOPPED * dynamic(b) - (damper(b) if with_damper else 0.0) - up]

    want = solved(rest, [0.03, -1e-4])
    assert want[1] < 0
    assert [point.flow(left), point.flow(right)] == pytest.approx(want, rel=1e-9)
    assert point.pressure(far) == pytest.approx(-soil(want[1], 3e3, 1e5), rel=1e-9)
    assert point.pressure(far) > 0
    by_k = point.gradient(right.flow, ["right[1].k_reversed", "right[1].k"])
    assert by_k[0] > 0 and by_k[1] == 0  # less comes back; what it resists forwards does not count


def test_stopped_fan_in_series():
    net = vs.Network(soil_gas=AIR, outdoors=AIR)
    pit = net.suction_point("pit", soil=vs.soil_two_term(1e3, 2e5))
    roof = net.discharge("roof", vs.open_end(), height=0)
    riser, (_, second) = run(net, "riser", pit, roof, FAN, FAN)
    both = net.solve().flow(riser)
    second.switch_off(vs.fitting_constant(STOPPED))
    point = net.solve()
    (want,) = solved(lambda q: [pressure(q[0]) - soil(q[0], 1e3, 2e5) - (STOPPED + 1) * dynamic(q[0])], [0.03])
    assert point.flow(riser) == pytest.approx(want, rel=1e-9) and want < both
    assert any("is off: " in warning.message for warning in point.warnings)
    line = next(line for line in point.ledger().lines if line.what == "fan invented, off")
    assert line.k == STOPPED and line.loss == pytest.approx(STOPPED * dynamic(want), rel=1e-9)
    assert point.ledger().lines[0].share < 1  # of the running fan's pressure alone
    # switching is a parameter too, and cases that differ in it can be swept
    swept = net.sweep({riser[2].running: [0, 1], "riser[1].speed": [[1.0], [0.8]]}, observe=[riser.flow])
    assert swept[riser.flow][0] == pytest.approx([want, both], rel=1e-9)
    assert swept[riser.flow][1, 0] < want


def two_tops():
    net = vs.Network(soil_gas=AIR, outdoors=AIR)
    pit = net.suction_point("pit", soil=vs.soil_two_term(1e3, 2e5))
    meet = net.junction("meet", vs.junction_lossless())
    east, west = (net.discharge(name, vs.open_end(), height=0) for name in ("east", "west"))
    run(net, "in", pit, meet, FAN)
    run(net, "to east", meet, east, vs.fitting_constant(2.0))
    run(net, "to west", meet, west, vs.fitting_constant(2.0))
    return net, east, west


def test_wind_at_each_discharge():
    net, east, west = two_tops()
    net.wind_dynamic_pressure = 25.0
    net.wind_pressure = -2.0
    east.pressure_coefficient.value = 0.8
    west.pressure_coefficient.value = -0.6
    point = net.solve()

    def rest(flows):
        a, b = flows
        meet = pressure(a + b) - soil(a + b, 1e3, 2e5)
        return [meet - 3.0 * dynamic(a) - (0.8 * 25 - 2), meet - 3.0 * dynamic(b) - (-0.6 * 25 - 2)]

    want = solved(rest, [0.01, 0.03])
    assert np.all(want > 0)  # an end that air enters by has another coefficient
    got = [point.flow(net.find_run(name)) for name in ("to east", "to west")]
    assert got == pytest.approx(want, rel=1e-9)
    assert (point.pressure(east), point.pressure(west)) == pytest.approx((18.0, -17.0))
    swept = net.sweep({"wind_dynamic_pressure": [0, 25], "wind_pressure": -2}, observe=["to east.flow"])
    assert swept["to east.flow"][1] == got[0] < swept["to east.flow"][0]
    assert net.wind_dynamic_pressure == 25.0
    for bad in (-1, math.nan):
        with pytest.raises(vs.ArgumentError):
            net.wind_dynamic_pressure = bad
    with pytest.raises(vs.ArgumentError):
        east.pressure_coefficient.value = 11
    assert "pit.pressure_coefficient" not in net.parameters


def test_wind_in_one_stack_in_many_lanes(stack):
    """A plain tree goes side by side: the coefficient's share must be in all lanes, whatever is varied."""
    stack.net.wind_dynamic_pressure = 30
    stack.roof.pressure_coefficient.value = -0.5
    cases = np.linspace(-5, 5, 40)
    swept = stack.net.sweep({"wind_pressure": cases}, observe=["riser.flow"])["riser.flow"]
    for wind, flow in zip(cases[::9], swept[::9]):
        stack.net.wind_pressure = wind
        assert stack.net.solve().flow(stack.riser) == pytest.approx(flow, rel=1e-12)
    coefficients = stack.net.sweep({"roof.pressure_coefficient": cases / 5}, observe=["riser.flow"])
    stack.roof.pressure_coefficient.value = cases[7] / 5
    assert stack.net.solve().flow(stack.riser) == pytest.approx(coefficients["riser.flow"][7], rel=1e-12)


def test_termination_of_each_discharge():
    net, east, west = two_tops()
    assert east.termination == west.termination == net.termination == vs.open_end()
    west.termination = vs.open_end().blocked(free_area=0.5)
    assert net.termination == vs.open_end() != west.termination
    point = net.solve()
    assert point.flow(net.find_run("to west")) < point.flow(net.find_run("to east"))
    assert "open end, 50 % blocked" in str(point.ledger())
    net.parameter("west.factor").value = 2.0
    assert west.termination.factor == 2.0 and east.termination.factor == 1.0
    other = net.copy()
    other.find_node("east").termination = vs.end_tee()
    assert east.termination == vs.open_end()
    net.termination = vs.end_tee()
    assert east.termination == vs.end_tee() != west.termination
    with pytest.raises(AttributeError):
        net.find_node("pit").termination
    with pytest.raises(vs.NotFoundError):
        net.find_node("pit").termination = vs.open_end()
    with pytest.raises(TypeError):
        east.termination = "tee"


def test_coupling_is_a_parameter(manifold):
    net = manifold.net
    shared = net.couple(manifold.far, manifold.near, 800.0)
    assert shared.name == "far pit~near pit.resistance" and shared.value == 800.0
    assert net.parameter("near pit~far pit.resistance") == shared and shared.unit == "Pa s/m3"
    assert shared.name in net.parameters
    (slope,) = net.solve().gradient(manifold.riser.flow, [shared])
    swept = net.sweep({shared: [799.0, 801.0]}, observe=[manifold.riser.flow])[manifold.riser.flow]
    assert slope == pytest.approx((swept[1] - swept[0]) / 2, rel=1e-5)
    assert shared.value == 800.0
    seen = net.solve()
    fit = vs.Fit(net)
    fit.unknown(shared.name, prior=None)
    for name in ("near pit.pressure", "far pit.pressure", "riser.flow"):
        fit.reading(name, vs.Reading(seen.observe(net.observable(name)), 1e-3))
    net.couple(manifold.near, manifold.far, 300.0)
    assert shared.value == 300.0
    assert fit.solve().estimates[shared.name].value == pytest.approx(800.0, rel=1e-6)
    with pytest.raises(vs.ArgumentError):
        shared.value = -1.0


def test_temperature_can_be_given_back(stack):
    riser, net = stack.riser, stack.net
    riser_parameter = net.parameter("riser.temperature")
    riser_parameter.value = riser_parameter.value
    net.parameter("soil_gas_temperature").value = celsius(5)
    assert riser.temperature == stack.air.temperature  # it has become the run's own
    riser.temperature = None
    assert riser.temperature == riser_parameter.value == celsius(5)
    net.parameter("soil_gas_temperature").value = celsius(9)
    assert riser.temperature == celsius(9)


@pytest.mark.parametrize("bad", [None, 3.0, "open"])
def test_what_cannot_resist(stack, bad):
    with pytest.raises(TypeError):
        stack.placed.switch_off(bad)
