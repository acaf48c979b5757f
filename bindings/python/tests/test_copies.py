# SPDX-License-Identifier: GPL-3.0-or-later
"""Copies and pickles: of values, fans, networks and their handles; what cannot be pickled says what can."""

import concurrent.futures
import copy
import inspect
import pickle

import numpy as np
import pytest
import ventstack as vs
from ventstack import core
from ventstack.units import celsius


def again(thing):
    return pickle.loads(pickle.dumps(thing))


@pytest.fixture
def busy(manifold):
    """A network where all was used that building knows, and much was changed afterwards."""
    s, net = manifold, manifold.net
    s.second.add(vs.elbow(1.0, 1.5), count=2.5)
    s.second.add(vs.slide_gate(0.7))
    s.riser.add(vs.fitting_constant(0.4, 0.1))
    net.couple(s.near, s.far, 300.0)
    net.couple(s.far, s.near, 400.0)
    net.termination = vs.rain_cap(0.5)
    net.termination = vs.end_tee()
    s.side = net.discharge("side", vs.end_elbow(1.0, 1.5), height=2.0)
    s.cross = net.run("cross", s.meet, s.side, pipe=vs.round_pipe(0.05, 1e-5), length=1.0)
    s.main.speed, s.booster.speed = 0.9, 1.1
    s.roof.height, s.riser.temperature = 7.5, celsius(5)
    s.first.temperature = s.first.temperature  # stated, though it is the soil gas's
    net.leak("crack", s.far, vs.opening(1e-5, to="room"), temperature=celsius(20))
    net.leak("joint", s.meet, vs.opening(1e-5, to="outdoors"))
    s.inlet = net.opening("inlet", vs.opening(1e-5, to="outdoors"), height=1.0)
    net.run("inlet pipe", s.inlet, s.meet, pipe=vs.round_pipe(0.05, 1e-5), length=1.0)
    s.side.termination = vs.rain_cap(0.4)
    s.booster.switch_off(vs.fitting_constant(5.0))
    s.booster.switch_off(vs.fitting_constant(8.0))
    s.main.switch_off(vs.fitting_constant(5.0))
    s.main.switch_on()
    net.wind_dynamic_pressure = 3.0
    net.parameter("roof.pressure_coefficient").value = -0.6
    net.wind_pressure, net.building_pressure = -4.0, -2.0
    s.second.length.value = 8.0
    net.parameter("far branch[3].opening").value = 0.5
    net.parameter("cross.temperature").value = celsius(2)
    net.parameter("outdoor_temperature").value = celsius(-8)
    return s


def same(a, b):
    assert a is not b and a.parameters == b.parameters and a.observables == b.observables
    assert core.network_parameter_values(a._c) == core.network_parameter_values(b._c)
    for kept in ("_nodes", "_heights", "_runs", "_temperatures", "_fans", "_items", "_soil_gas",
                 "_outdoors", "_wind_pressure", "_wind_dynamic_pressure", "_building_pressure",
                 "_terminations"):
        assert getattr(a, kept) == getattr(b, kept), kept
    x, y = a.solve(), b.solve()
    assert [x.mass_flow(run) for run in a.runs] == [y.mass_flow(run) for run in b.runs]
    assert [x.pressure(node) for node in a.nodes] == [y.pressure(node) for node in b.nodes]
    assert str(x.ledger(exact=True)) == str(y.ledger(exact=True))


@pytest.mark.parametrize("way", [again, copy.copy, copy.deepcopy, vs.Network.copy,
                                 lambda net: again(again(net.copy()))])
def test_a_network_is_the_same_again(busy, way):
    twin = way(busy.net)
    same(busy.net, twin)
    before = core.network_parameter_values(busy.net._c)
    twin.find_run("riser").length.value = 20.0
    twin.suction_point("more", soil=busy.soil)
    twin.termination = vs.open_end()
    assert core.network_parameter_values(busy.net._c) == before
    assert busy.net.termination == vs.end_tee() and len(busy.net.nodes) == len(twin.nodes) - 1


def test_what_was_stated_stays_stated(busy):
    """A stated temperature does not follow the soil gas, one that was not does: in the pickle too."""
    for net in (busy.net, again(busy.net)):
        net.parameter("soil_gas_temperature").value = celsius(9)
        temperatures = {run.name: run.temperature for run in net.runs}
        assert temperatures["near branch"] == celsius(13) and temperatures["riser"] == celsius(5)
        assert temperatures["far branch"] == celsius(9)


def test_an_empty_network_and_one_that_grows_on(bare):
    empty = again(vs.Network(soil_gas=bare.air, outdoors=bare.outdoors))
    assert empty.nodes == [] and empty.termination is None
    net = again(bare.net)
    net.find_run("riser").add(bare.fan)
    bare.riser.add(bare.fan)
    same(bare.net, net)
    same(again(net), bare.net)


def test_settings_do_not_pile_up(stack):
    size = len(stack.net._recipe)
    other = stack.net.suction_point("other", soil=stack.soil)
    for r in range(20):
        stack.net.termination = vs.rain_cap(0.5)
        stack.net.couple(stack.pit, other, float(r))
    assert len(stack.net._recipe) == size + 3


def test_a_failure_leaves_no_trace(stack):
    before = dict(stack.net._recipe)
    for bad in (lambda: stack.net.suction_point("pit", soil=stack.soil),
                lambda: stack.riser.add(stack.fan, count=2),
                lambda: setattr(stack.net, "termination", 3)):
        with pytest.raises((vs.VentError, TypeError)):
            bad()
    assert stack.net._recipe == before


# Methods and properties that build or set nothing, or only parameters: those are in a pickle as numbers.
BUILD_NOTHING = {
    vs.Network: {"copy", "find_node", "find_run", "inflow", "parameter", "observable", "sweep", "solve",
                 "operating_points", "balance", "wind_pressure", "building_pressure",
                 "wind_dynamic_pressure", "termination"},  # the last sets by a recorded method,
    vs.Run: {"temperature"}, vs.Node: {"height", "termination"},  # as it does here
    vs.FanItem: {"speed", "switch_on", "switch_off", "replace"},  # the last too
    vs.Item: set(),
}


@pytest.mark.parametrize("kind", BUILD_NOTHING)
def test_whatever_builds_is_recorded(kind):
    for name, member in inspect.getmembers(kind):
        if name.startswith("_") or name in BUILD_NOTHING[kind]:
            continue
        if inspect.isfunction(member):
            assert hasattr(member, "__wrapped__"), f"{kind.__name__}.{name} builds but is not recorded"
        else:
            assert getattr(member, "fset", None) is None, f"{kind.__name__}.{name} is set, not recorded"


def test_handles_go_with_their_network(busy):
    net, pit, riser, main, length, flow = again(
        (busy.net, busy.near, busy.riser, busy.main, busy.riser.length, busy.riser.flow))
    assert riser._network is net and pit == net.find_node("near pit") and length == riser.length
    assert main == riser[1] and main.speed == 0.9 and length.value == busy.riser.length.value
    assert net.solve().observe(flow) == busy.net.solve().observe(busy.riser.flow)
    alone = again(busy.riser)
    assert alone.name == "riser" and alone != busy.riser  # of a network of its own
    assert copy.copy(busy.riser) == busy.riser and copy.copy(length) == length
    net, table = copy.deepcopy((busy.net, {busy.riser: 1, busy.riser.length: 2}))
    assert net is not busy.net and list(table) == [net.find_run("riser"), net.find_run("riser").length]


def flow_of(net):
    return net.solve().flow(net.find_run("riser"))


def test_other_processes_may_solve(busy):
    with concurrent.futures.ProcessPoolExecutor(1) as pool:
        assert list(pool.map(flow_of, [busy.net])) == [flow_of(busy.net)]


def test_what_cannot_be_pickled_says_what_can(stack):
    point = stack.net.solve()
    fit = vs.Fit(stack.net)
    fit.unknown("pit.c")
    fit.reading("riser.flow", vs.Reading(0.01, 0.001))
    frozen = {point: "pickle its network and solve again",
              stack.net.balance({"riser.flow": (0.01, 0.001)}, adjust=["riser.speed"]): "pickle its settings",
              fit.solve(): "pickle its estimates"}
    for thing, words in frozen.items():
        with pytest.raises(TypeError, match=f"a {type(thing).__name__} cannot be pickled: {words}"):
            pickle.dumps(thing)
        assert copy.copy(thing) is thing and copy.deepcopy([thing])[0] is thing
    job = vs.Diagnosis(stack.net)
    job.reading("riser.flow", vs.Reading(0.01, 0.001))
    with pytest.raises(TypeError, match="a Diagnosed cannot be pickled: pickle its findings"):
        pickle.dumps(job.solve())
    for thing, called in ((fit, "a Fit"), (vs.Uncertainty(stack.net), "an Uncertainty"), (job, "a Diagnosis")):
        for way in (pickle.dumps, copy.copy, copy.deepcopy):
            with pytest.raises(TypeError, match=f"{called} cannot be pickled or copied: pickle its network"):
                way(thing)


def test_results_that_hold_numbers_pickle(stack):
    point = stack.net.solve()
    sweep = stack.net.sweep({stack.riser.length: np.array([5.0, 9.0])}, observe=[stack.riser.flow])
    net, found = again((stack.net, sweep))
    assert found[net.find_run("riser").flow].tolist() == sweep[stack.riser.flow].tolist()
    for thing in (point.fans[0].flow, point.warnings, point.convergence, vs.sources()[0],
                  vs.elbow(1.0, 1.5).family, stack.fan.range):
        assert again(thing) == thing


def test_fans_are_what_they_hold():
    def fan(**changes):
        return vs.Fan(**{**dict(name="invented", flow=[0, 0.05], pressure=[300, 100]), **changes})

    assert fan() == fan() and hash(fan()) == hash(fan()) and len({fan(), fan()}) == 1
    assert fan(flow=np.array([0, 0.05])) == fan() and fan(density=vs.Fan("x", flow=[0, 1], pressure=[1, 0]).density) == fan()
    others = [fan(name="other"), fan(flow=[0, 0.06]), fan(pressure=[300, 0]), fan(power=[20, 40]),
              fan(density=1.1), vs.Fan.series("invented", [fan()]), vs.Fan.parallel("invented", [fan()]),
              vs.Fan.series("invented", [fan(), fan()])]
    assert len({fan(), *others}) == len(others) + 1
    assert vs.Fan.series("two", [fan(), fan()]) == vs.Fan.series("two", (fan(), fan()))
    assert fan() != "invented" and fan() is not None
    for each in (fan(), *others):
        twin = again(each)
        assert twin == each and copy.deepcopy(each) == each and twin.power(0.02) == pytest.approx(
            each.power(0.02), nan_ok=True)


def test_coupled_soil_that_was_set_by_value_pickles():
    gas = vs.Air(285, 98000, 1.0)
    net = vs.Network(soil_gas=gas, outdoors=gas)
    a, b = (net.suction_point(name, soil=vs.soil_two_term(1e3, 0)) for name in "ab")
    meet, roof = net.junction("meet", vs.junction_lossless()), net.discharge("roof", vs.open_end(), height=3)
    for pit in (a, b):
        net.run(f"{pit.name} leg", pit, meet, pipe=vs.round_pipe(0.1, 0), length=3)
    net.run("riser", meet, roof, pipe=vs.round_pipe(0.1, 0), length=3).add(
        vs.Fan("invented", flow=[0, 0.08], pressure=[300, 0]))
    for name in ("a.a", "b.a"):
        net.parameter(name).value = 1e4
    net.couple(a, b, 5e3)  # more than the soils share that the pits were made with
    twin = again(net)
    assert twin.solve().flow(twin.runs[2]) == net.solve().flow(net.runs[2])
