# SPDX-License-Identifier: GPL-3.0-or-later
"""Every status is an exception, every exception says what is wrong with which argument."""

import math
import pickle
import warnings

import numpy as np
import pytest
import ventstack as vs
from ventstack import _errors, core

BUILTIN = {
    "VENT_E_ARGUMENT": ("ArgumentError", ValueError),
    "VENT_E_MEMORY": ("OutOfMemory", MemoryError),
    "VENT_E_NOT_FOUND": ("NotFoundError", LookupError),
    "VENT_E_DUPLICATE": ("DuplicateError", ValueError),
    "VENT_E_TOPOLOGY": ("TopologyError", ValueError),
    "VENT_E_NO_OPERATING_POINT": ("NoOperatingPointError", ArithmeticError),
    "VENT_E_NOT_CONVERGED": ("NotConvergedError", ArithmeticError),
    "VENT_E_STALE": ("StaleError", RuntimeError),
    "VENT_E_DEPENDENCY": ("DependencyError", RuntimeError),
}


def test_every_status_has_its_exception():
    kinds = [_errors.BY_STATUS[status] for status in range(1, core.VENT_STATUS_END)]
    assert len(set(kinds)) == len(kinds) == len(BUILTIN)
    for name, (kind, builtin) in BUILTIN.items():
        error = _errors.from_record(getattr(core, name), "f", "x", 3, 1.0, 2.0, 4.0, "sentence")
        assert type(error) is getattr(vs, kind)
        assert isinstance(error, (vs.VentError, builtin)) and isinstance(error, builtin)
        assert error.status == getattr(core, name)
        assert core.status_text(error.status) != "unknown status"
        assert (error.function, error.argument, error.index) == ("f", "x", 3)
        assert (error.value, error.low, error.high, str(error)) == (1.0, 2.0, 4.0, "sentence")


def test_a_status_from_the_future_is_still_an_exception():
    error = _errors.from_record(core.VENT_STATUS_END, "f", "", -1, 1.0, 2.0, 3.0, "new")
    assert type(error) is vs.VentError and error.status == core.VENT_STATUS_END
    assert error.index is None


def test_attributes_and_pickle():
    with pytest.raises(vs.ArgumentError) as caught:
        vs.elbow(angle=90, radius_ratio=1.5)
    for error in (caught.value, pickle.loads(pickle.dumps(caught.value))):
        assert (error.argument, error.value, error.low) == ("angle", 90.0, 0.0)
        assert error.high == pytest.approx(math.pi)
        assert error.function == "vent_elbow" and error.index is None
        assert "angle is 90" in str(error) and error.message == str(error)


@pytest.mark.parametrize("build, argument, value", [
    (lambda: vs.Air(13, 1e5, 0.5), "temperature", 13),
    (lambda: vs.Air(286, 1e5, 50), "relative_humidity", 50),
    (lambda: vs.Air(286, 1013, 0.5), "pressure", 1013),
    (lambda: vs.Air(math.nan, 1e5, 0.5), "temperature", math.nan),
    (lambda: vs.round_pipe(0.0, 0.0), "bore", 0),
    (lambda: vs.round_pipe(math.inf, 0.0), "bore", math.inf),
    (lambda: vs.rain_cap(0.1), "gap_ratio", 0.1),
    (lambda: vs.wye(4.0), "angle", 4),
    (lambda: vs.double_wye(math.nan), "angle", math.nan),
    (lambda: vs.wye(1.0).coefficient(False, 1001, 1, 1), "flow_share", 1001),
    (lambda: vs.wye(1.0).alternatives(False, 0.5, 1, 0), "other_area_ratio", 0),
    (lambda: vs.wye(1.0).coefficients([1, 0], [1, 1]), "area_ratio", 0),
    (lambda: vs.wye(1.0).coefficients([], []), "legs", 0),
    (lambda: vs.soil_power(1e-3, 2.0), "n", 2),
    (lambda: vs.open_end().with_factor(-1.0), "factor", -1),
    (lambda: vs.wye(1.0).with_factor(1001), "factor", 1001),
    (lambda: vs.wye(1.0).with_factor(math.nan), "factor", math.nan),
    (lambda: vs.open_end().with_factor(math.nan), "factor", math.nan),
    (lambda: vs.Fan("f", flow=[0, 1], pressure=[1, math.nan]), "pressure", math.nan),
    (lambda: vs.Fan("f", flow=[0, 1, 1], pressure=[2, 1, 0]), "flow", 1),
    (lambda: vs.Fan("f", flow=[1, 0], pressure=[2, 1]), "flow", 0),
    (lambda: vs.Fan("f", flow=[0], pressure=[1]), "n", 1),
    (lambda: vs.Fan("f", flow=[0, 1], pressure=[1, 0], density=99), "density", 99),
])
def test_bounds(build, argument, value):
    with pytest.raises(vs.ArgumentError) as caught:
        build()
    assert caught.value.argument == argument
    assert caught.value.value == pytest.approx(value, nan_ok=True)
    assert argument in str(caught.value)
    assert "vent_" not in str(caught.value)  # nothing the user never called


@pytest.mark.parametrize("call, name", [
    (lambda s: vs.Air(3, 1e5, 0.5), "Air"), (lambda s: s.air.at_temperature(3), "Air.at_temperature"),
    (lambda s: vs.elbow(90, 1), "elbow"), (lambda s: vs.pipe("banana", 0.1), "pipe"),
    (lambda s: vs.elbow(1, 1).family.make(angle=90, radius_ratio=1), "Family.make"),
    (lambda s: vs.elbow(1, 1).by_source(99), "Fitting.by_source"),
    (lambda s: vs.open_end().by_source(99), "Termination.by_source"),
    (lambda s: vs.Fan("f", flow=[1, 0], pressure=[1, 0]), "Fan"),
    (lambda s: vs.Fan.series("f", []), "Fan.series"),
    (lambda s: s.net.suction_point("pit", soil=s.soil), "Network.suction_point"),
    (lambda s: s.riser.add(vs.entry_flush(), count=-1), "Run.add"),
    (lambda s: setattr(s.riser, "temperature", 3), "Run.temperature"),
    (lambda s: setattr(s.riser.length, "value", -1), "Parameter.value"),
    (lambda s: setattr(s.placed, "speed", 0), "FanItem.speed"),
    (lambda s: s.net.balance({"riser.flow": (1, 1)}, ["riser.lenth"]), "Network.balance"),
    (lambda s: s.net.sweep({"riser.lenth": [1]}, ["riser.flow"]), "Network.sweep"),
    (lambda s: [vs.mitre(x) for x in [90]], "mitre"),
    (lambda s: vs.Uncertainty(s.net, [vs.Input("riser.x", 1.0)]), "Uncertainty"),
    (lambda s: vs.Network(soil_gas=s.air, outdoors=s.air).solve(), "Network.solve"),
])
def test_messages_name_what_was_called(stack, call, name):
    with pytest.raises(vs.VentError) as caught:
        call(stack)
    assert str(caught.value).startswith(name + ": ") and caught.value.function.startswith("vent_")


@pytest.mark.parametrize("call, near", [
    (lambda s: s.net.find_node("pitt"), "'pit'"), (lambda s: s.net.find_node("banana"), None),
    (lambda s: s.net.find_run("pit"), "that is a node"), (lambda s: s.net.parameter("riser.lenth"), "'length'"),
    (lambda s: s.net.parameter("riser.banana"), None), (lambda s: s.net.parameter("riser[7].length"), "no length"),
    (lambda s: s.net.observable("riser.flo"), "'flow'"), (lambda s: s.net.observable("pit.e"), None),
    (lambda s: vs.fitting_three_constant_find("elbow", 0.1), '"elbow 90 threaded"'),
    (lambda s: vs.fitting_two_constant_find("buterfly valve"), '"butterfly valve"'),
    (lambda s: vs.fitting_two_constant_find("x"), None), (lambda s: vs.pipe("banana", 0.0762), None),
    (lambda s: vs.roughness("PVCC"), '"PVC"'),
])
def test_only_what_is_near_is_suggested(stack, call, near):
    with pytest.raises(vs.NotFoundError) as caught:
        call(stack)
    assert near in str(caught.value) if near else "nearest" not in str(caught.value)


def test_no_address_has_two_meanings(stack):
    """A node "riser[1]" beside the item 1 of a run "riser"."""
    for name in ("riser[1]", "riser[20]"):
        with pytest.raises(vs.DuplicateError, match="two meanings") as caught:
            stack.net.suction_point(name, soil=stack.soil)
        assert caught.value.argument == "name"
    stack.net.suction_point("pit[1]", soil=stack.soil)
    assert stack.net.parameter("pit[1].c").value == 1.5e-3
    drain = stack.net.suction_point("drain[2]", soil=stack.soil)
    meet = stack.net.junction("meet", vs.junction_lossless())
    with pytest.raises(vs.DuplicateError, match="two meanings"):
        stack.net.run("drain", drain, meet, pipe=vs.round_pipe(0.1, 0.0), length=1)


def test_a_flow_without_its_unit_is_asked_about():
    with pytest.warns(UserWarning, match=r"flow goes up to 150 m3/s, which is 317832 cfm; did you mean 150 \* cfm") as caught:
        fan = vs.Fan("f", flow=[0, 75, 150], pressure=[475, 250, 0])
    assert caught[0].filename == __file__ and fan.free_delivery == 150  # it is taken at its word
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        vs.Fan("f", flow=[0, 10, 25], pressure=[475, 250, 0])


def test_network_bounds(stack):
    for what, change in {
        "height": lambda: setattr(stack.roof, "height", 1e4),
        "temperature": lambda: setattr(stack.riser, "temperature", 13),
        "speed": lambda: setattr(stack.placed, "speed", 0),
        "count": lambda: stack.riser.add(vs.entry_flush(), count=-1),
        "length": lambda: stack.riser.add_pipe(vs.round_pipe(0.1, 0.0), -1.0),
        "transition_angle": lambda: stack.riser.add_pipe(vs.round_pipe(0.1, 0.0), 1.0, 0.0),
        "pressure": lambda: setattr(stack.net, "wind_pressure", math.nan),
    }.items():
        with pytest.raises(vs.ArgumentError) as caught:
            change()
        assert caught.value.argument == what
    assert stack.roof.height == 7.9 and stack.riser.temperature == stack.air.temperature
    assert stack.placed.speed == 1.0 and stack.net.wind_pressure == 0.0


@pytest.mark.parametrize("call, argument", [
    (lambda s: vs.elbow("90", 1.5), "angle"),
    (lambda s: vs.elbow([1.0], 1.5), "angle"),
    (lambda s: vs.elbow(None, 1.5), "angle"),
    (lambda s: vs.elbow(1j, 1.5), "angle"),
    (lambda s: vs.elbow(1.0, np.array([1.5])), "radius_ratio"),
    (lambda s: vs.Air("warm", 1e5, 0.5), "temperature"),
    (lambda s: vs.pipe(40, 0.1), "name"),
    (lambda s: vs.roughness(None), "material"),
    (lambda s: vs.Fan(None, flow=[0, 1], pressure=[1, 0]), "name"),
    (lambda s: vs.Fan("f", flow=["0", "1"], pressure=[1, 0]), "flow"),
    (lambda s: vs.Fan("f", flow=[0, 1], pressure=[1, 0j]), "pressure"),
    (lambda s: vs.Fan.series("f", [s.fan, 3]), "fans[1]"),
    (lambda s: vs.Network(soil_gas=1.2, outdoors=s.air), "soil_gas"),
    (lambda s: vs.Network(soil_gas=s.air, outdoors=None), "outdoors"),
    (lambda s: s.net.suction_point("x", soil=0.5), "soil"),
    (lambda s: s.net.suction_point(5, soil=s.soil), "name"),
    (lambda s: s.net.junction("x", s.soil), "law"),
    (lambda s: s.net.discharge("x", "open", height=1), "termination"),
    (lambda s: s.net.run("x", "pit", s.roof, pipe=vs.round_pipe(0.1, 0.0), length=1), "from_"),
    (lambda s: s.net.run("x", s.pit, 3, pipe=vs.round_pipe(0.1, 0.0), length=1), "to"),
    (lambda s: s.net.run("x", s.pit, s.roof, pipe=0.1, length=1), "pipe"),
    (lambda s: s.riser.add("elbow"), "part"),
    (lambda s: s.riser.add(vs.round_pipe(0.1, 0.0)), "add_pipe"),
    (lambda s: s.riser.add_pipe(vs.open_end(), 1.0), "pipe"),
    (lambda s: s.net.solve().flow("riser"), "run"),
    (lambda s: s.net.solve().flow(s.pit), "run"),
    (lambda s: s.net.solve().pressure(s.riser), "node"),
    (lambda s: s.net.solve().static_pressure(s.riser, "fan"), "item"),
    (lambda s: s.net.solve().ledger(flow=2.0), "flow"),
    (lambda s: setattr(s.net, "termination", vs.elbow(1.0, 1.0)), "termination"),
    (lambda s: vs.entry_flush().coefficient(0.1, 5e4), "pipe"),
])
def test_wrong_types_are_named(stack, call, argument):
    with pytest.raises(TypeError) as caught:
        call(stack)
    assert argument in str(caught.value)


def test_text_that_c_could_not_hold(stack):
    with pytest.raises(ValueError, match="name .*null"):
        stack.net.suction_point("a\0b", soil=stack.soil)
    with pytest.raises(vs.ArgumentError, match="name is empty"):
        stack.net.suction_point("", soil=stack.soil)
    with pytest.raises(UnicodeError):
        stack.net.suction_point("\udcff", soil=stack.soil)


def test_quantities_are_refused():
    """An object that carries a unit must not lose it quietly."""
    class Quantity:
        magnitude = 3.0

        def to_base_units(self):
            return self

        def __array__(self, dtype=None):
            return np.array([3.0, 4.0])

        def __float__(self):
            raise ValueError("cannot convert metre to a number")

    with pytest.raises(TypeError, match="flow carries a unit"):
        vs.Fan("f", flow=Quantity(), pressure=[1, 0])
    with pytest.raises(TypeError, match="reynolds carries a unit"):
        vs.friction_factor(Quantity(), 0.0)
    with pytest.raises(TypeError, match="bore must be a number"):
        vs.round_pipe(Quantity(), 0.0)


def test_topology(bare):
    net, pipe = bare.net, vs.round_pipe(0.1, 0.0)
    with pytest.raises(vs.DuplicateError, match="'pit' is taken"):
        net.junction("pit", vs.junction_lossless())
    with pytest.raises(vs.TopologyError, match="let it end at a junction"):
        net.run("second", bare.pit, bare.roof, pipe=pipe, length=1)
    with pytest.raises(vs.TopologyError):
        net.run("back", bare.roof, bare.pit, pipe=pipe, length=1)
    with pytest.raises(vs.ArgumentError):
        net.run("nowhere", bare.pit, bare.pit, pipe=pipe, length=1)
    net.junction("orphan", vs.junction_lossless())
    with pytest.raises(vs.TopologyError, match="orphan"):
        net.solve()
    with pytest.raises(vs.TopologyError, match="no discharge"):
        vs.Network(soil_gas=bare.air, outdoors=bare.air).solve()
    with pytest.raises(vs.TopologyError):
        vs.Network(soil_gas=bare.air, outdoors=bare.air).termination = vs.open_end()


def test_a_loop_is_named(bare):
    net, pipe = vs.Network(soil_gas=bare.air, outdoors=bare.air), vs.round_pipe(0.1, 0.0)
    pit, roof = net.suction_point("pit", soil=bare.soil), net.discharge("roof", vs.open_end(), height=3)
    a, b = (net.junction(name, vs.junction_lossless()) for name in "ab")
    net.run("riser", pit, roof, pipe=pipe, length=3)
    net.run("there", a, b, pipe=pipe, length=1)
    net.run("back", b, a, pipe=pipe, length=1)
    with pytest.raises(vs.TopologyError, match="loop"):
        net.solve()


def test_a_fan_that_never_meets_the_system(bare):
    bare.riser.add(vs.Fan("rising", flow=[0.5, 1.0], pressure=[100, 200]))
    with pytest.raises(ArithmeticError) as caught:
        bare.net.solve()
    assert isinstance(caught.value, vs.NoOperatingPointError) and "rising" in str(caught.value)


def test_handles_of_another_network(stack, manifold):
    point = stack.net.solve()
    for call in (lambda: point.flow(manifold.riser), lambda: point.pressure(manifold.far),
                 lambda: point.static_pressure(stack.riser, manifold.main),
                 lambda: point.system_curve([0.01], fan=manifold.main),
                 lambda: stack.net.run("x", manifold.far, stack.roof,
                                       pipe=vs.round_pipe(0.1, 0.0), length=1)):
        with pytest.raises(vs.ArgumentError) as caught:
            call()
        assert caught.value.argument in str(caught.value)
    twin = stack.net.copy()
    with pytest.raises(vs.ArgumentError, match="another network"):
        twin.solve().flow(stack.riser)


def test_what_is_not_there(stack):
    with pytest.raises(vs.NotFoundError, match="riser"):
        stack.net.find_run("risar")
    with pytest.raises(LookupError, match="pit"):
        stack.net.find_node("pitt")
    with pytest.raises(vs.NotFoundError, match="PVC 40"):
        vs.pipe("PVC 41", 0.0762)
    point = stack.net.solve()
    with pytest.raises(vs.NotFoundError):
        point.static_pressure(stack.riser, 7)
    with pytest.raises(vs.NotFoundError):
        point.plot(fan=1)
    late = stack.net.suction_point("late pit", soil=stack.soil)
    with pytest.raises(vs.NotFoundError, match="late pit"):
        point.pressure(late)


def test_two_fans_are_not_one_item(stack):
    with pytest.raises(vs.ArgumentError) as caught:
        stack.riser.add(stack.fan, count=2)
    assert caught.value.argument == "count"
    assert len(stack.net.solve().fans) == 1


def test_cut_text_never_breaks(bare):
    """Names longer than the library's records are cut; what is left of a letter must not matter."""
    name = "ä" * 300
    with pytest.raises(vs.NotFoundError) as caught:
        bare.net.find_node(name)
    assert str(caught.value).encode()
    pit = bare.net.suction_point(name, soil=bare.soil)
    meet = bare.net.junction("meet", vs.junction_lossless())
    bare.net.run("€" * 300, pit, meet, pipe=vs.round_pipe(0.1, 0.0), length=1)
    with pytest.raises(vs.TopologyError) as caught:
        bare.net.solve()
    assert str(caught.value).encode()
