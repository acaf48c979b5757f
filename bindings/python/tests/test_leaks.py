# SPDX-License-Identifier: GPL-3.0-or-later
"""Leaks against equations of their own, swept, differentiated and fitted."""

import math

import numpy as np
import pytest
import ventstack as vs
from scipy.optimize import root
from ventstack.units import celsius, inch

PIPE = vs.pipe("PVC 40", 3 * inch)


def two_pits(leak_at, area=3e-4, to="room"):
    """Two pits, a lossless manifold, a fan; a leak at one of them or at the manifold."""
    gas = vs.Air(celsius(12), 98000, 1.0)
    net = vs.Network(soil_gas=gas, outdoors=vs.Air(celsius(-5), 98000, 0.8))
    pits = [net.suction_point(name, soil=vs.soil_two_term(a, b))
            for name, a, b in (("near", 2e3, 3e5), ("far", 4e3, 1e5))]
    meet = net.junction("manifold", vs.junction_lossless())
    meet.height = 2.5
    roof = net.discharge("roof", vs.open_end(), height=7.0)
    legs = [net.run(f"{pit.name} leg", pit, meet, pipe=PIPE, length=0) for pit in pits]
    for leg, k in zip(legs, (1.5, 4.0)):
        leg.add(vs.fitting_constant(k))
    riser = net.run("riser", meet, roof, pipe=PIPE, length=0)
    riser.add(vs.fitting_constant(2.0))
    fan = vs.Fan("invented", flow=[0, 0.04, 0.08], pressure=[300, 240, 0])
    riser.add(fan)
    net.building_pressure = -4.0
    node = {"near": pits[0], "manifold": meet}[leak_at]
    net.leak("crack", node, vs.opening(area, to=to, discharge_coefficient=0.6),
             temperature=celsius(21) if to == "room" else None)
    return net, fan


def test_velocities_at_a_junction_without_loss():
    net, _ = two_pits("near")
    point = net.solve()
    (into_riser,) = {line.velocity for line in point.ledger()
                     if line.kind == vs.LineKind.JUNCTION and line.what.endswith("manifold")}
    assert into_riser == pytest.approx(point.velocity(net.find_run("riser")), rel=1e-12)


def by_scipy(leak_at, area, to, fan):
    """Flows of soil gas at both pits and of the leak, kg/s, from equations written here."""
    net = two_pits(leak_at)[0]
    gas, out = net.soil_gas, net.outdoors
    warm = gas.at_temperature(celsius(21) if to == "room" else out.temperature)
    g, area_of_pipe = 9.80665, PIPE.area
    room = -4.0 if to == "room" else 0.0
    leak_height = 2.5 if leak_at == "manifold" else 0.0
    around = room + ((out.density - warm.density) * g * leak_height if to == "room" else 0.0)

    def dynamic(flow):
        return flow * abs(flow) / (2 * gas.density * area_of_pipe**2)

    def rest(flows):
        near, far, leak = flows
        leg_near = near + (leak if leak_at == "near" else 0.0)
        all_of_it = near + far + leak
        column = (out.density - gas.density) * g
        pit = [-(a * q + b * q * abs(q)) for q, a, b in
               ((near / gas.density, 2e3, 3e5), (far / gas.density, 4e3, 1e5))]
        up = [pit[0] - 1.5 * dynamic(leg_near) + column * 2.5, pit[1] - 4.0 * dynamic(far) + column * 2.5]
        rise = fan.pressure(all_of_it / gas.density, density=gas.density)
        top = up[0] + column * 4.5 + rise - 3.0 * dynamic(all_of_it)
        inside = pit[0] if leak_at == "near" else up[0]
        loss = leak * abs(leak) / (2 * warm.density * (0.6 * area)**2)
        return [top, up[0] - up[1], around - inside - loss]

    found = root(rest, [0.02, 0.01, 0.004], tol=1e-14, options={"xtol": 1e-14})
    assert np.max(np.abs(rest(found.x))) < 1e-9
    return found.x


@pytest.mark.parametrize("leak_at", ["near", "manifold"])
@pytest.mark.parametrize("to", ["room", "outdoors"])
@pytest.mark.parametrize("area", [1e-5, 3e-4, 3e-3])
def test_leak_against_scipy(leak_at, to, area):
    net, fan = two_pits(leak_at, area, to)
    point = net.solve()
    near = "crack soil" if leak_at == "near" else "near leg"
    got = [point.mass_flow(net.find_run(run)) for run in (near, "far leg", "crack inflow")]
    assert got == pytest.approx(by_scipy(leak_at, area, to, fan), rel=1e-9)
    ledger = point.ledger()
    kinds = {line.kind for line in ledger.lines}
    assert {vs.LineKind.OPENING, vs.LineKind.SURROUNDINGS} <= kinds
    assert f"opening to {'the room' if to == 'room' else to}" in str(ledger)


def test_sweep_gradient_and_area_of_zero():
    net, _ = two_pits("manifold")
    areas = np.array([0.0, 1e-6, 1e-4, 1e-3])
    swept = net.sweep({"crack.area": areas, "crack.discharge_coefficient": 0.7},
                      observe=["riser.flow", "near.pressure"])
    for area, flow in zip(areas, swept["riser.flow"]):
        other = net.copy()
        other.parameter("crack.area").value = area
        other.parameter("crack.discharge_coefficient").value = 0.7
        assert other.solve().flow(other.find_run("riser")) == flow
    assert np.all(np.diff(swept["riser.flow"]) > 0) and np.all(np.diff(swept["near.pressure"]) > 0)
    net.parameter("crack.area").value = 0.0  # what a first small hole would do
    (slope,) = net.solve().gradient("riser.flow", ["crack.area"])
    pair = net.sweep({"crack.area": [1e-9, 1e-7]}, observe=["riser.flow"])["riser.flow"]
    assert slope == pytest.approx((pair[1] - pair[0]) / (1e-7 - 1e-9), rel=1e-3)


def test_leak_is_found_again():
    net, _ = two_pits("near", area=2.2e-4)
    point = net.solve()
    names = ("near.pressure", "far.pressure", "riser.flow")
    seen = {name: point.observe(net.observable(name)) for name in names}
    net.parameter("crack.area").value = 0.5e-4
    fit = vs.Fit(net)
    fit.unknown("crack.area")
    for name, value in seen.items():
        fit.reading(name, vs.Reading(value, 1e-4 * abs(value)))
    assert fit.solve().estimates["crack.area"].value == pytest.approx(2.2e-4, rel=1e-6)


def test_handles_follow():
    net, _ = two_pits("near")
    leg = net.find_run("near leg")
    assert leg.start.name == "crack edge" and leg.end.name == "manifold"
    assert net.find_run("crack inflow").start == net.find_node("crack")
    assert net.find_run("crack soil").start.name == "near"
    assert net.find_run("crack inflow").temperature == celsius(21)
    assert [node.name for node in net.nodes][-2:] == ["crack", "crack edge"]
    net.leak("second", net.find_node("near"), vs.opening(1e-4, to="outdoors"))
    assert [node.name for node in net.nodes][-2:] == ["crack edge", "second"]
    assert net.runs[-1].name == "second inflow" and net.runs[-1].end.name == "crack edge"
    assert vs.opening(1e-4, to="room") == vs.opening(1e-4, to="room") != vs.opening(1e-4, to="outdoors")


def test_leaks_bring_no_pipe():
    sealed, _ = two_pits("near", area=1e-4)
    net = sealed.copy()
    net.leak("gap", net.find_node("manifold"), vs.opening(1e-4, to="outdoors"))
    lines = [line for line in net.solve().ledger() if line.run.name in ("crack soil", "crack inflow", "gap inflow")]
    assert lines and not [line for line in lines if line.kind == vs.LineKind.PIPE or "pipe" in line.what]
    names = [item.name for item in vs.network_inputs(net)]
    assert names == [item.name for item in vs.network_inputs(sealed)]
    with pytest.raises(vs.NotFoundError, match="length"):
        net.parameter("gap inflow.length")


@pytest.mark.parametrize("bad", [
    lambda net: vs.opening(-1.0, to="room"), lambda net: vs.opening(math.nan, to="room"),
    lambda net: vs.opening(1e-4, to="attic"), lambda net: vs.opening(1e-4, to="room", discharge_coefficient=2),
    lambda net: net.leak("hole", net.find_node("manifold"), vs.opening(1e-4, to="room")),
    lambda net: net.leak("hole", net.find_node("roof"), vs.opening(1e-4, to="outdoors")),
    lambda net: net.leak("hole", net.find_node("crack"), vs.opening(1e-4, to="outdoors")),
    lambda net: net.leak("crack", net.find_node("manifold"), vs.opening(1e-4, to="outdoors")),
    lambda net: net.leak("hole", net.find_node("manifold"), vs.opening(1e-4, to="outdoors"), temperature=0),
    lambda net: net.opening("hole", vs.opening(1e-4, to="outdoors"), height=math.nan),
])
def test_what_cannot_be(bad):
    net, _ = two_pits("near")
    nodes, runs = len(net.nodes), len(net.runs)
    with pytest.raises(vs.VentError):
        bad(net)
    assert (len(net.nodes), len(net.runs)) == (nodes, runs)
    with pytest.raises(TypeError):
        net.leak("hole", net.find_node("manifold"), 1e-4)
    with pytest.raises(TypeError):
        vs.opening(1e-4, to=1)


def test_a_leak_above_the_fan_is_told_first():
    gas = vs.Air(celsius(12), 98000, 1.0)
    net = vs.Network(soil_gas=gas, outdoors=gas)
    pit = net.suction_point("pit", soil=vs.soil_two_term(2e3, 3e5))
    attic, roof = net.junction("attic", vs.junction_lossless()), net.discharge("roof", vs.open_end(), height=0)
    net.run("riser", pit, attic, pipe=PIPE, length=4).add(vs.Fan("invented", flow=[0, 0.08], pressure=[300, 0]))
    net.run("top", attic, roof, pipe=PIPE, length=2).add(vs.fitting_constant(8.0))
    assert not net.solve().flags & vs.SolutionFlag.BLOWS_OUT
    net.leak("bad joint", attic, vs.opening(1e-3, to="room", discharge_coefficient=0.6), temperature=celsius(20))
    point = net.solve()
    first = point.warnings[0]
    assert first.flag is vs.SolutionFlag.BLOWS_OUT and first.run.name == "bad joint inflow"
    out = -point.flow(first.run) * 1e3
    assert out > 1 and first.message == (
        f"'bad joint' blows {out:.4g} L/s ({out / 0.4719474432:.3g} cfm) of the stack's air into the room: "
        "mend it before the fan runs")
    assert point.flags & vs.SolutionFlag.REVERSED
    # what leaves by the joint has gone through the fan as well
    fan, = (line for line in point.ledger() if line.kind is vs.LineKind.FAN)
    assert fan.share == pytest.approx(-1, rel=1e-12)


def test_every_kind_of_line_has_a_colour():
    from ventstack._plot import COLOURS
    assert set(COLOURS) == set(vs.LineKind)


def test_jacobian_is_a_row_for_each_result():
    net, _ = two_pits("manifold")
    point, by = net.solve(), ["crack.area", "riser.bore", "building_pressure"]
    rows = point.jacobian(["riser.flow", "near.pressure"], by)
    assert rows.shape == (2, 3)
    for row, result in zip(rows, ("riser.flow", "near.pressure")):
        assert (row == point.gradient(result, by)).all()
        assert point.gradient(result, "crack.area") == row[:1]
    assert point.jacobian([], by).shape == (0, 3)
    assert point.jacobian("riser.flow", []).shape == (1, 0)
    with pytest.raises(vs.NotFoundError, match="nearest"):
        point.jacobian(["riser.flwo"], by)
    with pytest.raises(TypeError, match="observables must hold"):
        point.jacobian([3], by)
