# SPDX-License-Identifier: GPL-3.0-or-later
"""Building, changing and solving networks from Python."""

import math
import threading

import numpy as np
import pytest
import ventstack as vs
from ventstack.units import celsius, fpm, inch

PIPE = vs.pipe("PVC 40", 3 * inch)


def test_handles(stack):
    net, riser = stack.net, stack.riser
    assert net.nodes == [stack.pit, stack.roof] and net.runs == [riser]
    assert net.find_run("riser") == riser and net.find_node("roof") == stack.roof
    assert (riser.start, riser.end, riser.name) == (stack.pit, stack.roof, "riser")
    assert {riser: 1}[net.runs[0]] == 1 and riser != net.copy().runs[0]
    assert (stack.pit.height, stack.roof.height) == (0.0, 7.9)
    assert (stack.bends.number, stack.placed.number) == (1, 2)
    assert stack.bends.what == "elbow" and stack.placed.what == "invented"
    assert riser.temperature == stack.air.temperature
    assert (net.soil_gas, net.outdoors) == (stack.air, stack.outdoors)
    assert "2 nodes and 1 runs" in repr(net) and "'riser'" in repr(riser) and "'pit'" in repr(stack.pit)
    assert stack.bends == vs.Item(riser, 1, "elbow") != stack.placed and hash(stack.bends)


def test_flows(stack):
    point = stack.net.solve()
    flow, riser = point.flow(stack.riser), stack.riser
    assert point.mass_flow(riser) == pytest.approx(flow * point.density(riser))
    assert point.standard_flow(riser) == pytest.approx(
        point.mass_flow(riser) / (0.075 * 0.45359237 / 0.3048**3))
    assert point.velocity(riser) == pytest.approx(flow / PIPE.area)
    assert point.discharge_flow == flow
    assert point.exit_velocity == pytest.approx(point.velocity(riser))
    assert point.density(riser) == pytest.approx(stack.air.density)
    assert "L/s" in repr(point)


def test_pressures(stack):
    point, riser = stack.net.solve(), stack.riser
    start = point.static_pressure(riser)
    velocity_pressure = point.density(riser) * point.velocity(riser)**2 / 2
    assert start == pytest.approx(point.pressure(stack.pit) - velocity_pressure)
    before, behind = (point.static_pressure(riser, item) for item in (stack.bends, stack.placed))
    assert behind - before == pytest.approx(point.fans[0].pressure)
    assert point.static_pressure(riser, 2) == behind
    assert point.pressure(stack.roof) == 0.0
    outside = stack.outdoors.pressure - stack.outdoors.density * 9.80665 * 7.9
    assert point.absolute_pressure(stack.roof) == pytest.approx(outside)
    assert point.absolute_pressure(stack.pit) == pytest.approx(
        stack.outdoors.pressure + point.pressure(stack.pit))
    source = point.source(stack.pit)
    assert source.pressure == point.pressure(stack.pit)
    assert source.mass_flow == point.mass_flow(riser)
    step = 1e-6
    slope = -(stack.soil.pressure(point.flow(riser) + step)
              - stack.soil.pressure(point.flow(riser) - step)) / (2 * step) / stack.air.density
    assert -source.slope == pytest.approx(slope, rel=1e-6)


def test_fans(manifold):
    point = manifold.net.solve()
    assert [fan.name for fan in point.fans] == ["booster", "invented"]
    for fan, placed in zip(point.fans, (manifold.booster, manifold.main)):
        assert (fan.run, fan.item) == (placed.run, placed.number)
        assert fan.flow == point.flow(fan.run) and fan.density == point.density(fan.run)
        assert fan.air_power == pytest.approx(fan.flow * fan.pressure)
        assert fan.shut_off_share == pytest.approx(fan.pressure / fan.shut_off) and fan.slope < 0
    main = point.fans[1]
    assert main.pressure == pytest.approx(manifold.fan.pressure(main.flow, density=main.density))
    assert main.power == pytest.approx(manifold.fan.power(main.flow, density=main.density))
    assert math.isnan(point.fans[0].power)


def test_speed_follows_the_fan_laws(stack):
    before = stack.net.solve()
    stack.placed.speed = 0.8
    after = stack.net.solve()
    assert stack.placed.speed == 0.8 and after.flow(stack.riser) < before.flow(stack.riser)
    fan = after.fans[0]
    assert fan.pressure == pytest.approx(stack.fan.pressure(fan.flow, density=fan.density, speed=0.8))
    assert fan.shut_off == pytest.approx(0.64 * before.fans[0].shut_off)
    assert fan.free_delivery == pytest.approx(0.8 * before.fans[0].free_delivery)


def test_conditions(stack):
    net, riser, pit = stack.net, stack.riser, stack.pit
    still = net.solve()
    net.wind_pressure = 20.0
    assert net.wind_pressure == 20.0 and net.solve().flow(riser) < still.flow(riser)
    net.wind_pressure = 0.0
    net.building_pressure = -4.0
    assert net.building_pressure == -4.0
    assert net.solve().pressure(pit) == pytest.approx(still.pressure(pit) + 4)
    net.building_pressure = 0
    riser.temperature = celsius(0)
    cold = net.solve()
    assert riser.temperature == 273.15 and cold.density(riser) > still.density(riser)
    riser.temperature = stack.air.temperature
    stack.roof.height = 12.0
    assert net.solve().flow(riser) > still.flow(riser)  # a taller warm column draws more
    stack.roof.height = 7.9
    assert net.solve().flow(riser) == still.flow(riser)


def test_terminations_cost_what_they_say(stack):
    flows = []
    for top in (vs.open_end(), vs.end_tee(), vs.end_return(0.5)):
        stack.net.termination = top
        assert stack.net.termination == top
        flows.append(stack.net.solve().discharge_flow)
    assert flows == sorted(flows, reverse=True) and flows[0] > 1.01 * flows[-1]


def test_warnings(stack):
    assert stack.net.solve().warnings == [] and stack.net.solve().flags == 0
    stack.net.termination = vs.rain_cap(0.42)
    stack.placed.speed = 2.5
    point = stack.net.solve()
    flags = vs.SolutionFlag.COEFFICIENT_RANGE | vs.SolutionFlag.DRAIN_BACK
    assert point.flags & flags == flags
    by_flag = {warning.flag: warning for warning in point.warnings}
    fast = by_flag[vs.SolutionFlag.DRAIN_BACK]
    assert fast.run == stack.riser and fast.value == pytest.approx(point.velocity(stack.riser))
    assert fast.limit == pytest.approx(2000 * fpm) and str(fast) == fast.message
    assert "riser" in fast.message and point.flags == sum(set(by_flag))


def test_a_solution_is_a_picture(stack):
    """It outlives every change of the network, the network itself and the fan."""
    point = stack.net.solve()
    flow, table = point.flow(stack.riser), str(point.ledger())
    curve = point.system_curve([0.02, 0.05])
    stack.net.termination = vs.end_tee()
    stack.placed.speed = 0.5
    stack.riser.add(vs.mitre(1.5), count=9)
    assert stack.net.solve().flow(stack.riser) != flow
    assert point.flow(stack.riser) == flow and str(point.ledger()) == table
    assert np.array_equal(point.system_curve([0.02, 0.05]), curve)
    riser = stack.riser
    del stack.net, stack.fan, stack.placed
    assert point.flow(riser) == flow and point.fans[0].name == "invented"


def test_copies_part_ways(stack):
    twin = stack.net.copy()
    twin.termination = vs.end_tee()
    twin.find_node("roof").height = 3.0
    twin.find_run("riser").add(vs.entry_flush())
    twin.suction_point("only here", soil=stack.soil)
    assert stack.net.termination == vs.open_end() and stack.roof.height == 7.9
    assert len(stack.net.nodes) == 2 and stack.net.solve().flow(stack.riser) > 0


def test_system_curve(manifold):
    point = manifold.net.solve()
    for placed, fan in ((manifold.booster, 0), (manifold.main, 1)):
        at = point.fans[fan]
        flows = np.array([[0.5, 1.0], [1.2, 1.4]]) * at.flow
        curve = point.system_curve(flows, fan=placed)
        assert np.array_equal(curve, point.system_curve(flows, fan=fan))
        assert curve.shape == flows.shape and np.all(np.diff(curve.ravel()) > 0)
        assert curve[0, 1] == pytest.approx(at.pressure, rel=1e-9)
    with pytest.raises(vs.ArgumentError, match="2 fans: say which"):
        point.system_curve([0.01])
    assert np.isnan(point.system_curve([np.nan], fan=0))


def test_no_fan_at_all(bare):
    """The warm column alone draws a little."""
    point = bare.net.solve()
    assert point.fans == [] and 0 < point.flow(bare.riser) < 0.02
    assert all(math.isnan(line.share) for line in point.ledger())
    with pytest.raises(vs.ArgumentError, match="no fan"):
        point.plot()


def test_two_solves_give_the_same_bits(manifold):
    first, second = manifold.net.solve(), manifold.net.copy().solve()
    for i in range(3):
        assert first.mass_flow(manifold.net.runs[i]) == second.mass_flow(second._network.runs[i])


def test_a_chain_of_many_runs(stack):
    net, count = vs.Network(soil_gas=stack.air, outdoors=stack.outdoors), 5000
    node = net.suction_point("pit", soil=stack.soil)
    for i in range(count):
        after = net.junction(f"{i}", vs.junction_lossless()) if i + 1 < count \
            else net.discharge("roof", vs.open_end(), height=3.0)
        run = net.run(f"run {i}", node, after, pipe=PIPE, length=0.01)
        node = after
    run.add(stack.fan)
    point = net.solve()
    assert point.flow(net.runs[0]) == pytest.approx(point.flow(run), rel=1e-12)


def test_threads_solve_one_network(manifold):
    """Solving lets other threads run; they may even change the network."""
    expected = [manifold.net.copy().solve().discharge_flow]
    manifold.net.termination = vs.end_tee()
    expected.append(manifold.net.copy().solve().discharge_flow)
    seen, errors = set(), []

    def work():
        try:
            for _ in range(300):
                seen.add(manifold.net.solve().discharge_flow)
        except Exception as error:
            errors.append(error)

    threads = [threading.Thread(target=work) for _ in range(4)]
    for thread in threads:
        thread.start()
    for i in range(300):
        manifold.net.termination = vs.open_end() if i % 2 else vs.end_tee()
    for thread in threads:
        thread.join()
    assert not errors and seen <= set(expected)


def test_a_quantity_that_is_assigned_to_says_how_it_is_set(stack):
    for part, quantity, words in ((stack.riser, "length", r"net\.parameter\('riser\.length'\)\.value = "),
                                  (stack.riser, "flow", "'riser.flow' is a result and cannot be set"),
                                  (stack.riser, "lenght", "did you mean 'length'"),
                                  (stack.riser[0], "bore", r"net\.parameter\('riser\.bore'\)\.value = ")):
        before = getattr(stack.riser, "length").value
        with pytest.raises(AttributeError, match=words):
            setattr(part, quantity, 3.0)
        assert stack.riser.length.value == before
    stack.riser.length.value = 3.0
    assert stack.net.parameter("riser.length").value == 3.0
