# SPDX-License-Identifier: GPL-3.0-or-later
"""The ledger: its lines, its table, its frame; and the pictures."""

import math
import subprocess
import sys

import numpy as np
import pytest
import ventstack as vs
from ventstack.units import cfm, fpm, inch, inwc, kilopascal, litre_per_second, pascal


def test_lines(manifold):
    point = manifold.net.solve()
    ledger = point.ledger()
    assert len(ledger) == len(ledger.lines) == len(list(ledger)) and ledger[0] is ledger.lines[0]
    kinds = [line.kind.name for line in ledger]
    assert kinds.count("SOIL") == kinds.count("JUNCTION") == 2 and kinds.count("TERMINATION") == 1
    assert kinds.count("TRANSITION") == 1 and kinds.count("FAN") == 2 and kinds.count("WIND") == 1
    by_run = {run: [line for line in ledger if line.run == run] for run in manifold.net.runs}
    for branch in (manifold.first, manifold.second):  # any way up sums to zero
        way = by_run[branch] + by_run[manifold.riser]
        assert math.fsum(line.loss for line in way) == pytest.approx(0, abs=1e-8)
    bend = next(line for line in ledger if line.kind is vs.LineKind.TRANSITION)
    assert bend.k * bend.velocity_pressure == pytest.approx(bend.loss)
    assert "Rennels" in bend.source.author or "Borda" in bend.source.author
    top = next(line for line in ledger if line.kind is vs.LineKind.TERMINATION)
    assert top.node == manifold.roof and top.run == manifold.riser and top.item is None
    assert top.k == 1.0 and top.k_uncertainty > 0 and math.isnan(top.exact_flow_cost)
    soil = by_run[manifold.first][0]
    assert soil.node == manifold.near and soil.where == "near pit" and soil.source is None
    fans = sum(-line.loss * point.mass_flow(line.run) for line in ledger
               if line.kind is vs.LineKind.FAN) / point.mass_flow(manifold.riser)
    assert soil.share == pytest.approx(soil.loss / fans)


def test_exact_cost_is_another_solve(stack):
    elbows = stack.net.solve().ledger(exact=True)[3]
    assert "2 x elbow" in elbows.what and elbows.count == 2 and elbows.item == 1
    net = vs.Network(soil_gas=stack.air, outdoors=stack.outdoors)
    run = net.run("riser", net.suction_point("pit", soil=stack.soil),
                  net.discharge("roof", vs.open_end(), height=7.9),
                  pipe=vs.pipe("PVC 40", 3 * inch), length=38 * 0.3048)
    run.add(stack.fan)
    gain = net.solve().discharge_flow - stack.net.solve().discharge_flow
    assert elbows.exact_flow_cost == pytest.approx(gain, rel=1e-9)
    assert elbows.flow_cost == pytest.approx(gain, rel=0.1)


def test_the_top_of_the_stack_has_its_price(stack):
    """A termination's exact cost is the change against an open end."""
    free = stack.net.solve().discharge_flow
    stack.net.termination = vs.end_return(0.5)
    point = stack.net.solve()
    top = next(line for line in point.ledger(exact=True) if line.kind is vs.LineKind.TERMINATION)
    assert top.exact_flow_cost == pytest.approx(free - point.discharge_flow, rel=1e-9)


def test_printed_table(stack):
    text = str(stack.net.solve().ledger())
    rows = text.splitlines()
    assert rows[0].split("  ")[0] == "where" and "velocity pressure" in rows[0]
    assert rows[1].split() == ["[m/s]", "[Pa]", "[Pa]", "[%]", "[L/s]"]
    assert set(rows[2]) == {"-"} and len(rows[2]) == max(map(len, rows))
    assert len({len(row) for row in rows[3:]}) == 1  # the last column's numbers end together
    places = {row.index("riser") for row in rows[4:]}, {row.rindex(".") for row in rows[3:]}
    assert [len(place) for place in places] == [1, 1]
    assert "-100.0" in next(row for row in rows if "fan invented" in row)


def test_printed_units(stack):
    point = stack.net.solve()
    text = str(point.ledger(flow=cfm, pressure=inwc))
    assert text.splitlines()[1].split() == "[m/s] [in. w.c.] [in. w.c.] [%] [cfm]".split()
    soil = point.ledger()[0]
    assert f"{soil.loss / inwc:.4f}" in text and f"{soil.flow_cost / cfm:.2f}" in text
    assert f"{soil.loss / 1000:.4f}" in str(point.ledger(pressure=kilopascal))
    assert "exact" in str(point.ledger(exact=True)).splitlines()[0]
    assert "nan" not in text and "-0.0 " not in text
    top = point.ledger()[-2]
    assert top.velocity == pytest.approx(point.velocity(stack.riser))
    by_feet = str(point.ledger(velocity=fpm))
    assert "[ft/min]" in by_feet and f" {top.velocity / fpm:.0f} " in by_feet
    for bad in ({"flow": inwc}, {"pressure": cfm}, {"velocity": cfm}):
        with pytest.raises(vs.ArgumentError, match="unit of"):
            point.ledger(**bad)


def test_html(stack):
    html = stack.net.solve().ledger(pressure=inwc)._repr_html_()
    assert html.count("<tr>") == 8 and "loss [in. w.c.]" in html and "<td>2 x elbow</td>" in html
    bare = vs.Network(soil_gas=stack.air, outdoors=stack.air)
    pit = bare.suction_point("<b>&", soil=stack.soil)
    bare.run("r", pit, bare.discharge("roof", vs.open_end(), height=1), pipe=vs.round_pipe(0.1, 0.0),
             length=1).add(stack.fan)
    assert "&lt;b&gt;&amp;" in bare.solve().ledger()._repr_html_()


def test_frame(stack):
    pytest.importorskip("pandas", reason="needs python3-pandas")
    point = stack.net.solve()
    frame = point.ledger(flow=cfm, pressure=inwc).to_frame()
    assert len(frame) == 7 and frame["what"][0] == "soil"
    assert frame["loss [in. w.c.]"].sum() == pytest.approx(0, abs=1e-9)
    assert frame["loss [in. w.c.]"][0] == point.ledger()[0].loss / inwc
    assert frame["flow cost [cfm]"][0] == point.ledger()[0].flow_cost / cfm
    assert list(frame["kind"][:2]) == ["soil", "buoyancy"]
    assert "[reprint]" in frame["source"][3] and frame["count"][2] == pytest.approx(38 * 0.3048)


# ---- pictures -------------------------------------------------------------------------------------

matplotlib = pytest.importorskip("matplotlib", reason="needs python3-matplotlib")


@pytest.fixture(autouse=True)
def closed_figures():
    yield
    import matplotlib.pyplot as plt
    plt.close("all")


def drawn(ax, path):
    """The picture is written, and no text of the axes leaves it."""
    figure = ax.figure
    figure.savefig(path, dpi=100)
    assert path.stat().st_size > 5000
    frame = figure.bbox
    texts = [ax.xaxis.label, ax.yaxis.label, ax.title, *ax.texts]
    for axis in (ax.xaxis, ax.yaxis):
        low, high = sorted(axis.get_view_interval())
        texts += [tick.label1 for tick in axis.get_major_ticks() if low <= tick.get_loc() <= high]
    if ax.get_legend():
        texts += ax.get_legend().get_texts()
    for text in texts:
        if text.get_text():
            box = text.get_window_extent()
            assert box.x0 >= frame.x0 - 1 and box.x1 <= frame.x1 + 1, text
            assert box.y0 >= frame.y0 - 1 and box.y1 <= frame.y1 + 1, text


def test_operating_point(stack, tmp_path):
    point = stack.net.solve()
    ax = point.plot(flow=cfm, pressure=inwc)
    assert (ax.get_xlabel(), ax.get_ylabel()) == ("flow [cfm]", "pressure [in. w.c.]")
    fan, system, meet = ax.get_lines()
    at = point.fans[0]
    assert meet.get_xydata()[0] == pytest.approx([at.flow / cfm, at.pressure / inwc])
    flows, made = fan.get_xydata().T
    assert made * inwc == pytest.approx(stack.fan.pressure(flows * cfm, density=at.density))
    flows, needed = system.get_xydata()[~np.isnan(system.get_ydata())].T
    assert needed * inwc == pytest.approx(point.system_curve(flows * cfm))
    assert np.interp(at.flow / cfm, flows, needed) == pytest.approx(at.pressure / inwc, rel=1e-2)
    labels = [text.get_text() for text in ax.get_legend().get_texts()]
    assert labels[:2] == ["fan invented", "system"] and "cfm at" in labels[2]
    drawn(ax, tmp_path / "point.png")
    assert point.plot().get_xlabel() == "flow [L/s]"
    mine = matplotlib.pyplot.subplots()[1]
    assert point.plot(ax=mine) is mine
    with pytest.raises(vs.ArgumentError, match="unit of"):
        point.plot(flow=pascal)


def test_one_of_several_fans(manifold, tmp_path):
    point = manifold.net.solve()
    with pytest.raises(vs.ArgumentError, match="say which"):
        point.plot()
    manifold.main.speed = 0.9
    point = manifold.net.solve()
    manifold.main.speed = 0.1  # after the picture was taken
    for fan, name in ((manifold.main, "invented"), (0, "booster")):
        ax = point.plot(fan=fan, flow=litre_per_second)
        assert ax.get_legend().get_texts()[0].get_text() == f"fan {name}"
        line, _, meet = ax.get_lines()
        x, y = meet.get_xydata()[0]
        assert np.interp(x, *line.get_xydata().T) == pytest.approx(y, rel=1e-3)
        drawn(ax, tmp_path / f"{name}.png")


def test_ledger_picture(manifold, tmp_path):
    ledger = manifold.net.solve().ledger(pressure=inwc)
    ax = ledger.plot()
    assert ax.get_xlabel() == "loss of total pressure [in. w.c.]"
    shown = [line for line in ledger if line.loss != 0]
    assert [bar.get_width() for bar in ax.patches] == [line.loss / inwc for line in shown]
    assert [label.get_text() for label in ax.get_yticklabels()] == [
        f"{line.where}: {line.what}" for line in shown]
    drawn(ax, tmp_path / "ledger.png")


def test_matplotlib_and_pandas_come_late():
    """Importing the package and printing a ledger bring neither."""
    code = ("import sys, ventstack as vs; "
            "print([name for name in ('matplotlib', 'pandas') if name in sys.modules])")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
