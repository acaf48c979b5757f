# SPDX-License-Identifier: GPL-3.0-or-later
"""Choice among sources, the families, and from a solution back to its sources."""

import copy
import math
import pickle

import numpy as np
import pytest
import ventstack as vs
from ventstack.units import inch, inwc

PIPE = vs.pipe("PVC 40", 3 * inch)
FAMILIES = vs.fitting_families() + vs.termination_families()


def middle(parameter):
    low, high = parameter.source_low, parameter.source_high
    return math.sqrt(low * high) if low > 0 and high / low > 100 else (low + high) / 2


def of_family(family):
    return family.make(**{each.name: middle(each) for each in family.parameters})


@pytest.mark.parametrize("family", FAMILIES, ids=lambda family: family.name)
def test_every_family(family):
    part = of_family(family)
    assert isinstance(part, family.kind) and part.family == family and part.name == family.name
    for each in family.parameters:
        assert each.low <= each.source_low < each.source_high <= each.high
        with pytest.raises(vs.ArgumentError, match=each.name) as refused:
            family.make(**{**part.parameters, each.name: math.nan})
        assert refused.value.low == each.low and refused.value.high == each.high
    for reynolds in (5e4, -5e4):
        found = part.alternatives(PIPE, reynolds)
        assert found[0] == part.coefficient(PIPE, reynolds)
        spread = (max(map(float, found)) - min(map(float, found))) / 2
        for k in found:
            assert k.uncertainty >= spread * (1 - 1e-12)
            assert part.by_source(k.source).coefficient(PIPE, reynolds) == k


def test_the_names_of_a_family_tell_them_apart():
    names = [(family.kind, family.name) for family in FAMILIES]
    assert len(set(names)) == len(names)


def test_formulas_are_those_of_the_alternatives():
    for family in FAMILIES:
        if any(parameter.name == "other_bore" for parameter in family.parameters):
            continue  # which of the two lists holds depends on the bore
        part = of_family(family)
        for formulas, reynolds in ((family.formulas, 5e4), (family.reversed_formulas, -5e4)):
            assert [k.source for k in part.alternatives(PIPE, reynolds)] == [
                formula.source for formula in formulas]
            for formula in formulas:
                assert 0 <= formula.reynolds_low < formula.reynolds_high


def test_a_family_makes_what_the_constructors_make():
    family = vs.elbow(1.0, 1.5).family
    assert family.make(radius_ratio=1.5, angle=1.0) == vs.elbow(1.0, 1.5)
    assert vs.end_tee().family.make() == vs.end_tee()
    for bad, word in (({"angle": 1.0}, "needs radius_ratio"),
                      ({"angle": 1.0, "radius_ration": 1.5}, "did you mean radius_ratio"),
                      ({"angle": 1.0, "radius_ratio": 1.5, "x": 1}, "angle, radius_ratio")):
        with pytest.raises(vs.ArgumentError, match=word):
            family.make(**bad)
    with pytest.raises(vs.ArgumentError, match="no parameters"):
        vs.end_tee().family.make(angle=1.0)
    with pytest.raises(TypeError, match="must be"):
        family.make(angle="1", radius_ratio=1.5)


def test_a_chosen_source_is_part_of_the_value():
    bend = vs.elbow(np.pi / 2, 1.0)
    alternatives = bend.alternatives(PIPE, 5e4)
    other = alternatives[1]
    chosen = bend.by_source(other.source)
    assert bend.source is None and chosen.source == other.source and chosen != bend
    assert chosen == bend.by_source(other.source.number) and hash(chosen) != hash(bend)
    assert chosen.by_source(None) == bend
    assert pickle.loads(pickle.dumps(chosen)) == chosen == copy.deepcopy(chosen)
    assert "Idelchik" in repr(chosen) and "Idelchik" not in repr(bend)
    assert chosen.with_factor(2).source == other.source
    assert float(chosen.with_factor(2).coefficient(PIPE, 5e4)) == pytest.approx(2 * float(other))
    assert chosen.alternatives(PIPE, 5e4) == alternatives


def test_a_source_the_family_does_not_have():
    with pytest.raises(vs.ArgumentError, match=r"2 \(I. E. Idelchik, 2006\)") as refused:
        vs.elbow(1.0, 1.5).by_source(vs.end_tee().coefficient(PIPE, 5e4).source)
    assert refused.value.argument == "source"
    with pytest.raises(vs.ArgumentError, match="source is -1"):
        vs.elbow(1.0, 1.5).by_source(-1)
    for bad in ("Idelchik", 1.0, vs):
        with pytest.raises(TypeError, match="a Source, an int or None"):
            vs.elbow(1.0, 1.5).by_source(bad)
    with pytest.raises(vs.ArgumentError, match="reynolds"):
        vs.elbow(1.0, 1.5).alternatives(PIPE, 0.0)
    with pytest.raises(TypeError, match="pipe must be a Pipe"):
        vs.elbow(1.0, 1.5).alternatives(0.1, 5e4)


def test_a_direction_without_that_source_keeps_the_default():
    entry = vs.entry_flush()
    other = entry.alternatives(PIPE, 5e4)[1]
    chosen = entry.by_source(other.source)
    assert float(chosen.coefficient(PIPE, 5e4)) == 0.57
    assert chosen.coefficient(PIPE, -5e4) == entry.coefficient(PIPE, -5e4)


def test_the_solution_follows_the_chosen_source(stack):
    ours = stack.net.solve()
    bend = vs.elbow(np.radians(90), 1.5)
    other = bend.alternatives(PIPE, 5e4)[1].source
    net = vs.Network(soil_gas=stack.air, outdoors=stack.outdoors)
    run = net.run("riser", net.suction_point("pit", soil=stack.soil),
                  net.discharge("roof", vs.open_end(), height=7.9), pipe=PIPE, length=38 * 0.3048)
    run.add(bend.by_source(other), count=2)
    run.add(stack.fan)
    theirs = net.solve()
    line = theirs.ledger()[3]
    assert line.source == other and line.sources == (other,)
    k = bend.by_source(other).coefficient(PIPE, theirs.reynolds(run))
    assert line.k == pytest.approx(2 * float(k), rel=1e-12)
    assert line.k_uncertainty == pytest.approx(2 * k.uncertainty, rel=1e-12)
    assert (line.k < ours.ledger()[3].k) == (theirs.discharge_flow > ours.discharge_flow)
    assert line.k != pytest.approx(ours.ledger()[3].k, rel=1e-3)


# ---- provenance ----------------------------------------------------------------------------------


def test_lines_and_sources_say_the_same(manifold):
    point = manifold.net.solve()
    lines, known = point.ledger(), point.sources()
    assert len(known) == len(known.uses) == len(list(known)) and known[0] is known.uses[0]
    for use in known:
        if use.source is None:
            continue
        resting = [line for line in lines if use.source in line.sources]
        assert use.lines == len(resting) > 0
        greatest = max(resting, key=lambda line: abs(line.loss))
        assert use.greatest_loss == abs(greatest.loss)
        assert use.greatest_share == pytest.approx(abs(greatest.share))
        flags = vs.CoefficientFlag(0)
        for line in resting:
            flags |= line.flags
        assert use.flags == flags
    cited = {source for line in lines for source in line.sources}
    assert cited == {use.source for use in known} - {None}
    losses = [use.greatest_loss for use in known]
    assert losses == sorted(losses, reverse=True)


def test_what_the_caller_stated_is_told(stack):
    stack.riser.add(vs.fitting_constant(0.3))
    point = stack.net.solve()
    stated = next(use for use in point.sources() if use.source is None)
    assert stated.lines == 4  # soil, fan, the fitting, wind
    by_kind = {line.kind.name: line for line in point.ledger()}
    assert by_kind["SOIL"].sources == by_kind["FAN"].sources == by_kind["WIND"].sources == ()
    pipe = by_kind["PIPE"].sources
    assert pipe[0] == by_kind["PIPE"].source == PIPE.source
    assert vs.roughness("PVC").source in pipe and len(pipe) == 4
    assert [source.year for source in by_kind["BUOYANCY"].sources] == [2008]


def test_a_range_that_was_left_is_told(stack):
    assert "geometry" not in str(stack.net.solve().sources())
    stack.net.termination = vs.rain_cap(0.42)
    known = stack.net.solve().sources()
    left = {use.source.author for use in known if use.flags}
    assert left == {"American Conference of Governmental Industrial Hygienists", "energy balance"}
    assert str(known).count("geometry") == 2


def test_printed_table(stack):
    known = stack.net.solve().sources(pressure=inwc)
    rows = str(known).splitlines()
    assert len(rows) == 3 + len(known) and rows[1].split() == ["[in.", "w.c.]", "[%]"]
    assert "stated by the caller" in rows[3] and "100.0" in rows[3]
    assert any("[reprint]" in row for row in rows) and "nan" not in str(known)
    assert f"{known[0].greatest_loss / inwc:.4f}" in rows[3]
    assert known._repr_html_().count("<tr>") == 1 + len(known)
    assert repr(known) == f"<{len(known)} sources>"
    with pytest.raises(vs.ArgumentError, match="unit of"):
        stack.net.solve().sources(pressure=vs.units.cfm)


def test_a_stack_without_a_fan_has_no_share(bare):
    known = bare.net.solve().sources()
    assert all(math.isnan(use.greatest_share) for use in known) and "nan" not in str(known)


def test_frame(stack):
    pytest.importorskip("pandas", reason="needs python3-pandas")
    known = stack.net.solve().sources(pressure=inwc)
    frame = known.to_frame()
    assert len(frame) == len(known)
    assert frame["greatest loss [in. w.c.]"][0] == known[0].greatest_loss / inwc


def test_numbers_of_sources():
    assert [source.number for source in vs.sources()] == list(range(1, len(vs.sources()) + 1))


def test_sources_of_one_author_are_told_apart():
    """Two formulas of Miller for a pair of elbows: in the part's own words, and as sources."""
    pair = vs.elbow_pair(1.5, 3.0, 0.0)
    mine = [formula.source for formula in pair.family.formulas if "Miller" in formula.source.author]
    assert len(mine) == 2 and len({source.brief for source in mine}) == 1
    chosen = [pair.by_source(source) for source in mine]
    assert len({repr(part) for part in chosen}) == len({str(part.source) for part in chosen}) == 2
    for part, source in zip(chosen, mine):
        assert f"by source {source.number}, D. S. Miller (1990)" in repr(part)
        assert pair.by_source(source.number) == part
    assert len({str(source) for source in vs.sources()}) == len(vs.sources())


def test_a_junction_with_a_known_deviation():
    law = vs.wye(np.radians(90))
    more = law.with_factor(2.0)
    assert more.factor == 2.0 and law.factor == 1.0 and "factor=2.0" in repr(more) and more != law
    at = (False, 0.4, 1.0, 1.0)
    assert more.coefficient(*at).value == 2 * law.coefficient(*at).value
    assert more.with_factor(1.0) == law
    net = vs.Network(soil_gas=vs.Air(286, 98300, 1), outdoors=vs.Air(286, 98300, 0.8))
    assert net.junction("tee", more).height == 0.0 and net.parameter("tee.factor").value == 2.0
