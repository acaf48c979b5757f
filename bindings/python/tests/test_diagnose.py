# SPDX-License-Identifier: GPL-3.0-or-later
"""Fault finding from Python: random systems with random faults, and what Python adds to C."""

import math
import pickle

import faulty_systems
import numpy as np
import pytest
import ventstack as vs
from ventstack.units import cfm, inwc

SYSTEMS = 60  # docs/calibration/faults.py asks 500


def test_claims_hold_in_random_systems():
    """Where an answer claims to tell, the true fault comes first, and groups hold it."""
    cases = [faulty_systems.judge(seed) for seed in range(SYSTEMS)]
    told = [one for one in cases if one.claim == "TOLD"]
    group = [one for one in cases if one.claim == "GROUP"]
    assert len(told) > 0.3 * SYSTEMS, "an answer that never claims anything cannot be wrong"
    assert sum(one.rank == 0 for one in told) >= 0.85 * len(told)
    assert sum(one.rank < 2 for one in told) >= 0.97 * len(told)
    assert sum(one.inside for one in group) >= 0.85 * len(group)
    assert sum(one.rank == 0 for one in cases) >= 0.6 * SYSTEMS


def test_sound_systems_raise_no_alarm():
    cases = [faulty_systems.judge(seed, "nothing") for seed in range(15)]
    assert sum(one.claim == "TOLD" and one.rank > 0 for one in cases) <= 1
    assert sum(one.rank == 0 for one in cases) >= 10


@pytest.fixture
def job(stack):
    known = vs.network_inputs(stack.net) + [vs.Input("pit.c", 4e-4, vs.Shape.LOG_NORMAL),
                                            vs.Input("riser.pressure_factor", 0.03)]
    other = vs.Fan("other", flow=[0, 40, 80, 120] * cfm, pressure=[0.9, 0.7, 0.4, 0.0] * inwc)
    return vs.Diagnosis(stack.net, known, [other])


INSTRUMENTS = {"pit.pressure": 1.0, "riser.static_pressure": 1.0, "riser.flow": 1e-3,
               "riser[2].static_pressure": 1.0}


def test_an_exercise_comes_back(job, stack):
    fault = vs.Fault(vs.FaultKind.WATER, stack.riser, item=-1)
    taken = job.exercise(fault, 0.2, seed=4, instruments=INSTRUMENTS)
    assert taken == job.exercise(fault, 0.2, seed=4, instruments=INSTRUMENTS)
    assert taken != job.exercise(fault, 0.2, seed=5, instruments=INSTRUMENTS)
    for i, (name, reading) in enumerate(taken.items()):
        assert reading.uncertainty == INSTRUMENTS[name]
        assert job.reading(name, reading) == i
    answer = job.solve()
    first = answer.findings[0]
    [found] = first.faults
    assert (found.kind, found.place, found.item) == (vs.FaultKind.WATER, "riser", -1)
    assert found.low < 0.2 < found.high and found.low < found.size < found.high
    assert answer.claim == vs.Claim.TOLD and not answer.flags
    assert all(abs(one.residual) < 3.5 for one in answer.residuals())
    assert first.words in str(answer) and first.words in answer._repr_html_()
    assert repr(answer) == f"<diagnosis: {first.words}, TOLD>"
    frame = answer.to_frame()
    assert len(frame) == len(answer.findings)
    assert frame["probability"].sum() == pytest.approx(1)
    assert frame["kind"][0] == "WATER"
    better = answer.next()
    assert [one.distance for one in better] == sorted((one.distance for one in better), reverse=True)
    assert answer.next(0, 2, {"riser.flow": 1e-3})[0].name == "riser.flow"


def test_usual_faults_may_be_edited(job):
    job.reading("riser.flow", vs.Reading(30, 1) * cfm)
    usual = job.usual()
    assert {fault.kind for fault in usual} == set(vs.FaultKind) - {
        vs.FaultKind.JOINT_LEAK, vs.FaultKind.PLACE}  # no junction, and no other run to read
    job.fault(*(fault for fault in usual if fault.kind <= vs.FaultKind.SLAB_LEAK))
    job.fault(vs.Fault(vs.FaultKind.TERMINATION, "roof", odds=3.0, low=0.1, high=0.4))
    answer = job.solve()
    assert len(answer.findings) == 3
    blocked = next(one for one in answer.findings
                   if one.faults[0].kind == vs.FaultKind.TERMINATION).faults[0]
    assert 0.1 <= blocked.low <= blocked.high <= 0.4


def test_wrong_signs_are_said(job, stack):
    point = stack.net.solve()
    for name in ("pit.pressure", "riser.static_pressure", "riser[1].static_pressure"):
        job.reading(name, vs.Reading(-point.observe(name), 1.0))
    answer = job.solve()
    assert vs.DiagnosisFlag.SIGN in answer.flags
    assert answer.findings[0].faults[0].kind == vs.FaultKind.SIGN
    assert answer.findings[0].faults[0].place == -1
    assert "a vacuum is negative" in str(answer)


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf])
def test_uncertainties_must_be_above_zero(job, bad):
    with pytest.raises((vs.ArgumentError, ValueError)):
        job.reading("riser.flow", vs.Reading(0.02, bad))
    with pytest.raises(vs.ArgumentError, match="needs a reading"):
        job.solve()


def test_places_must_be_there(job, stack):
    with pytest.raises(vs.NotFoundError, match="riser"):
        job.reading("rizer.flow", vs.Reading(0.02, 1e-3))
    with pytest.raises(vs.NotFoundError):
        job.fault(vs.Fault(vs.FaultKind.JOINT_LEAK, "pit"))
    with pytest.raises(vs.NotFoundError, match="nearest is 'roof'"):
        job.fault(vs.Fault(vs.FaultKind.TERMINATION, "rof"))
    with pytest.raises(vs.ArgumentError, match="odds"):
        job.fault(vs.Fault(vs.FaultKind.NONE, odds=0.0))
    with pytest.raises(vs.ArgumentError, match="low"):
        job.fault(vs.Fault(vs.FaultKind.SLAB_LEAK, "pit", low=-1.0))
    with pytest.raises(vs.DuplicateError):
        vs.Diagnosis(stack.net, [vs.Input("pit.c", 1e-4)] * 2)
    with pytest.raises(TypeError, match="design"):
        vs.Diagnosis("a stack")
    with pytest.raises(vs.ArgumentError, match="size"):
        job.exercise(vs.Fault(vs.FaultKind.SLAB_LEAK, "pit"), -1.0, seed=1, instruments=INSTRUMENTS)


def test_ranks_must_be_there(job):
    job.reading("riser.flow", vs.Reading(30, 1) * cfm)
    answer = job.solve()
    with pytest.raises(vs.ArgumentError, match="rank"):
        answer.residuals(999)
    with pytest.raises(vs.ArgumentError, match="rank"):
        answer.next(0, -1)
    with pytest.raises(vs.NotFoundError):
        answer.next(candidates={"nowhere.flow": 1.0})
    with pytest.raises(vs.ArgumentError, match="above 0"):
        answer.next(candidates={"riser.flow": 0.0})


def test_the_report_says_where_and_in_the_trades_units(job):
    job.reading("riser.flow", vs.Reading(30, 1) * cfm)
    answer = job.solve()
    report, best = str(answer), answer.next()[0]
    pressure = "pressure" in best.name
    unit = inwc if pressure else cfm
    assert f"({best.name})" in report
    first = best.first.value / unit if abs(best.first.value) > 1e-9 else 0  # rounding is told as 0
    assert f"({first:.3g} {'in. w.c.' if pressure else 'cfm'}) by the first" in report
    assert "100.0 %" not in report and " 0.0 %" not in report
    assert "test for spillage" in report


def test_a_picture(job):
    job.reading("riser.flow", vs.Reading(30, 1) * cfm)
    answer = job.solve()
    ax = answer.plot()
    labels = [text.get_text() for text in ax.get_yticklabels()]
    assert labels[0].replace("\n", " ") == answer.findings[0].words
    assert max(len(line) for label in labels for line in label.split("\n")) <= 42
    assert np.isclose(ax.patches[0].get_width(), 100 * answer.findings[0].probability)


def test_what_is_nothing_to_the_gauge_is_told_as_0():
    """Behind a fan that is the last thing below an open end the gauge shows nothing, not 1e-15 Pa of rounding."""
    air = vs.Air(286.15, 98300, 1.0)
    net = vs.Network(soil_gas=air, outdoors=air)
    pit, roof = net.suction_point("pit", soil=vs.soil_power(4.2e-4, 0.62)), net.discharge("ridge", vs.open_end(), height=8)
    riser = net.run("riser", pit, roof, pipe=vs.round_pipe(0.078, 1.5e-6), length=9)
    riser.add(vs.Fan("invented", flow=[0, 40, 80, 120] * cfm, pressure=[1.9, 1.6, 1.0, 0.0] * inwc))
    sound = net.solve()
    job = vs.Diagnosis(net, [vs.Input("pit.c", 4e-5)])
    job.reading(pit.pressure, vs.Reading(0.4 * sound.pressure(pit), 2))
    job.reading(riser.flow, vs.Reading(0.55 * sound.flow(riser), 0.001))
    report = str(job.solve())
    assert "(riser[1].static_pressure)" in report
    assert "e-" not in report.partition(": expected ")[2].partition(" uncertainties")[0]
    assert "0 Pa (0 in. w.c.) by the " in report


def test_a_size_at_its_bound_says_so(job):
    iced = vs.Fault(vs.FaultKind.TERMINATION, "roof")
    for name, reading in job.exercise(iced, 0.08, seed=4, instruments=INSTRUMENTS).items():
        job.reading(name, reading)
    job.fault(vs.Fault(vs.FaultKind.TERMINATION, "roof", low=0.3, high=0.6))
    finding = job.solve().findings[0]
    [found] = finding.faults
    assert found.at_bound == -1 and found.low == 0.3 < found.high
    assert f"at most {found.high:.0%} of the end free (at its bound".replace("%", " %") in finding.words


@pytest.mark.parametrize("kind, item, size", [
    ("SLAB_LEAK", 0, 4e-3), ("TERMINATION", 0, 0.2), ("WATER", -1, 0.2), ("WATER", 0, 0.2), ("FAN_WEAK", 2, 0.6),
    ("FAN_WRONG", 2, 0), ("FAN_STOPPED", 2, 5.0), ("SOIL_TIGHT", 0, 0.1), ("NONE", 0, math.nan)])
def test_the_network_of_a_finding(stack, kind, item, size):
    """It reads as the finding says, and can be copied, pickled and asked like any other."""
    other = vs.Fan("other", flow=[0, 40, 80, 120] * cfm, pressure=[0.9, 0.7, 0.4, 0.0] * inwc)
    job = vs.Diagnosis(stack.net, [vs.Input("pit.c", 1e-4)], [other])
    place = {"NONE": 0, "SLAB_LEAK": "pit", "SOIL_TIGHT": "pit", "TERMINATION": "roof"}.get(kind, "riser")
    fault = vs.Fault(vs.FaultKind[kind], place, item=item)
    for name, reading in job.exercise(fault, size, seed=4, instruments=INSTRUMENTS).items():
        job.reading(name, reading)
    answer = job.fault(fault).solve()
    found, residuals = answer.network(), answer.residuals()
    shift = {("WATER", -1): 2, ("WATER", 0): 1}.get((kind, item), 0)
    names = ["pit.pressure", "riser[2].static_pressure" if item < 0 else "riser.static_pressure", "riser.flow", f"riser[{2 + shift}].static_pressure"]
    for twin in (found, found.copy(), pickle.loads(pickle.dumps(found))):
        point = twin.solve()
        for name, one in zip(names, residuals):
            assert point.observe(twin.observable(name)) == pytest.approx(one.computed, rel=1e-3, abs=1e-5), name
        assert twin.parameters == found.parameters
        assert [len(run) for run in twin.runs] == [len(run) for run in found.runs]
    fan = found.find_run("riser")[2 + shift]
    assert fan.what == ("other" if kind == "FAN_WRONG" else "invented")
    assert fan.is_on == (kind != "FAN_STOPPED")
    if kind == "SLAB_LEAK":
        assert [node.name for node in found.nodes][-2:] == ["possible leak at node 0", "possible leak at node 0 edge"]
    with pytest.raises(vs.ArgumentError, match="rank"):
        answer.network(7)


def test_wrong_kinds_and_candidates_are_named(job):
    with pytest.raises(vs.ArgumentError, match=r"perhaps FaultKind.SLAB_LEAK: NONE, SLAB_LEAK, TERMINATION"):
        vs.Fault("slab_leak")
    with pytest.raises(vs.ArgumentError, match="kind is 99; it must be a FaultKind: NONE"):
        vs.Fault(99)
    job.reading("riser.flow", vs.Reading(0.01, 0.001))
    with pytest.raises(vs.ArgumentError, match="candidate 1, pit.pressure: standard uncertainty 0"):
        job.solve().next(candidates={"riser.flow": 1e-3, "pit.pressure": 0.0})


def test_parts_put_in_later(stack):
    net, riser = stack.net, stack.riser
    before = net.solve().flow(riser)
    put_in = riser.insert(vs.fitting_constant(26.0), after=-1)
    assert put_in.number == 1 and len(riser) == 5 and riser[4].what == "invented"
    assert [riser[i].what for i in range(5)] == ["pipe", "stated coefficient", "pipe", "elbow", "invented"]
    assert riser.insert(vs.fitting_constant(1.0), 3, count=2).number == 4
    assert riser[5].speed == 1.0 and net.solve().flow(riser) < before
    riser[5].replace(vs.Fan("other", flow=[0, 0.05, 0.1], pressure=[300, 200, 0]))
    twin = pickle.loads(pickle.dumps(net))
    assert twin.solve().flow(twin.find_run("riser")) == net.solve().flow(riser)
    assert twin.find_run("riser")[5].what == riser[5].what == "other"
    with pytest.raises(vs.NotFoundError):
        riser.insert(vs.fitting_constant(1.0), 17)
    assert len(riser) == 6
