# SPDX-License-Identifier: GPL-3.0-or-later
"""Commissioning against equations written a second time, and by Monte Carlo over those."""

import types

import numpy as np
import pytest
import ventstack as vs
from scipy import optimize, stats
from ventstack.units import inwc

# One pit, no friction, K in all on the pipe's velocity pressure, a straight fan curve; invented.
BORE, HEIGHT, K, SHUT_OFF, FREE = 0.08, 7.0, 6.0, 420.0, 0.07
C, N, WIND = 7e-4, 0.62, -4.0
C_DOUBT, N_DOUBT, FAN_DOUBT, WIND_DOUBT, TIE = 0.5e-4, 0.012, 0.02, 2.0, -0.8
GAS, OUTDOORS = 286.15, 280.15


def air(temperature):
    return vs.Air(temperature, 98300.0, 0.9)


def equations(c, n, fan, wind, outdoors=OUTDOORS, share=1.0):
    """Vacuum in the pit and flow, by Brent's method on one equation."""
    gas, out, area = air(GAS).density, air(outdoors).density, np.pi * BORE**2 / 4

    def vacuum(q):
        return (q / (share * c))**(1 / n)

    def left_over(q):
        made = fan * SHUT_OFF * (1 - q / FREE) * gas / 1.2013847530470107
        return made + (out - gas) * 9.80665 * HEIGHT - wind - vacuum(q) \
            - K * gas * (q / area)**2 / 2

    q = optimize.brentq(left_over, 1e-9, 3 * FREE, xtol=1e-15, rtol=1e-13)
    return vacuum(q), q


@pytest.fixture(scope="module")
def simple():
    net = vs.Network(soil_gas=air(GAS), outdoors=air(OUTDOORS))
    pit = net.suction_point("pit", soil=vs.soil_power(C, N))
    roof = net.discharge("roof", vs.open_end(), height=HEIGHT)
    riser = net.run("riser", pit, roof, pipe=vs.round_pipe(BORE, 0.0), length=0.0)
    riser.add(vs.fitting_constant(K - 1, 0.0))
    fan = [0, FREE / 2, FREE], [SHUT_OFF, SHUT_OFF / 2, 0]
    riser.add(vs.Fan("straight", flow=fan[0], pressure=fan[1]))
    net.wind_pressure = WIND
    known = [vs.Input("pit.c", C_DOUBT), vs.Input("pit.n", N_DOUBT),
             vs.Input("riser.pressure_factor", FAN_DOUBT), vs.Input("wind_pressure", WIND_DOUBT)]
    tie = np.eye(4)
    tie[0, 1] = tie[1, 0] = TIE
    return types.SimpleNamespace(net=net, design=vs.Uncertainty(net, known, tie))


@pytest.fixture(scope="module")
def drawn():
    """Random inputs, and what the equations make of them on the day and in another weather."""
    random = np.random.default_rng(7)
    z = random.standard_normal((20000, 4))
    z[:, 1] = TIE * z[:, 0] + np.sqrt(1 - TIE**2) * z[:, 1]
    inputs = np.array([C, N, 1.0, WIND]) + z * [C_DOUBT, N_DOUBT, FAN_DOUBT, WIND_DOUBT]
    day = np.array([equations(*one) for one in inputs])
    later = np.array([equations(*one[:3], wind=-15.0, outdoors=262.0, share=0.75)[0]
                      for one in inputs])
    return types.SimpleNamespace(vacuum=day[:, 0], flow=day[:, 1], later=later)


def test_predictions_are_those_of_the_equations(simple, drawn):
    vacuum, flow = equations(C, N, 1.0, WIND)
    sheet = vs.Sheet(simple.design, {"pit.pressure": vs.Reading(-vacuum, 2.0),
                                     "riser.flow": vs.Reading(flow, 5e-4)})
    first, second = sheet.lines
    assert first.predicted.value == pytest.approx(-vacuum, rel=1e-9)
    assert second.predicted.value == pytest.approx(flow, rel=1e-9)
    # first order against 20000 samples: their own error is 0.5 %, the equations' bend some 1 %
    assert first.predicted.uncertainty == pytest.approx(drawn.vacuum.std(), rel=0.02)
    assert second.predicted.uncertainty == pytest.approx(drawn.flow.std(), rel=0.02)
    assert sheet.verdict == vs.Verdict.AGREES and sheet.chi_square < 1e-12


def test_the_joint_chi_square_is_that_of_the_samples(simple, drawn):
    vacuum, flow = equations(C, N, 1.0, WIND)
    covariance = np.cov(-drawn.vacuum, drawn.flow) + np.diag([2.0**2, 5e-4**2])
    for off in [8.0, 0.0], [0.0, 1e-3], [8.0, 1e-3], [-8.0, 1e-3]:
        sheet = vs.Sheet(simple.design, {"pit.pressure": vs.Reading(-vacuum + off[0], 2.0),
                                         "riser.flow": vs.Reading(flow + off[1], 5e-4)})
        expected = np.array(off) @ np.linalg.solve(covariance, off)
        assert sheet.chi_square == pytest.approx(expected, rel=0.05)
        assert sheet.probability == pytest.approx(stats.chi2.sf(sheet.chi_square, 2), rel=1e-9)


def test_the_anchored_band_is_bayes_rule_on_the_samples(simple, drawn):
    """The samples weighed by how well each fits the readings: no linear algebra, no derivative."""
    vacuum, flow = equations(C + 0.6 * C_DOUBT, N, 1.0 - 0.5 * FAN_DOUBT, WIND)
    taken = {"pit.pressure": vs.Reading(-vacuum, 3.0), "riser.flow": vs.Reading(flow, 8e-4)}
    weight = np.exp(-((drawn.vacuum - vacuum) / 3.0)**2 / 2 - ((drawn.flow - flow) / 8e-4)**2 / 2)
    weight /= weight.sum()
    mean = weight @ drawn.later
    spread = np.sqrt(weight @ (drawn.later - mean)**2)
    assert 1 / (weight @ weight) > 2000  # samples that count
    weather = vs.Weather("cold and wet", outdoor_temperature=262.0, wind_pressure=-15.0, soil=0.75)
    built = vs.Sheet(simple.design, taken).commissioned()
    row = vs.Band(built, "pit.pressure", [weather]).rows[0]
    assert row.usual.value == pytest.approx(-mean, abs=0.1 * spread)
    assert row.usual.uncertainty == pytest.approx(spread, rel=0.05)
    before = vs.Band(simple.design, "pit.pressure", [weather]).rows[0]
    assert before.usual.uncertainty == pytest.approx(drawn.later.std(), rel=0.02)
    assert row.usual.uncertainty < 0.5 * before.usual.uncertainty


def test_ends_are_those_of_the_equations(simple):
    weather = vs.Weather("March", outdoor_temperature=(262.0, 275.0, 288.0),
                         wind_pressure=(-15.0, -4.0, 6.0), soil=(0.75, 0.9, 1.1))
    row = vs.Band(simple.design, "pit.pressure", [weather]).rows[0]
    most = equations(C, N, 1.0, -15.0, outdoors=262.0, share=0.75)[0]
    least = equations(C, N, 1.0, 6.0, outdoors=288.0, share=1.1)[0]
    usual = equations(C, N, 1.0, -4.0, outdoors=275.0, share=0.9)[0]
    wet = equations(C, N, 1.0, -4.0, outdoors=275.0, share=0.75)[0]
    dry = equations(C, N, 1.0, -4.0, outdoors=275.0, share=1.1)[0]
    assert row.low.value == pytest.approx(-most, rel=1e-8)
    assert row.high.value == pytest.approx(-least, rel=1e-8)
    assert row.usual.value == pytest.approx(-usual, rel=1e-8)
    assert row.moves["soil"] == pytest.approx(wet - dry, rel=1e-6)
    assert row.moves["soil_gas_temperature"] == 0


MONTHS = [vs.Weather("winter", outdoor_temperature=(258, 268, 278), soil=(0.7, 0.8, 0.9)),
          vs.Weather("summer", outdoor_temperature=(285, 295, 305))]


def test_judging(simple):
    band = vs.Band(simple.design, "pit.pressure", MONTHS)
    winter = band.rows[0]
    assert band.judge(vs.Reading(winter.usual.value, 2), month="winter").text.startswith("Within")
    deep = band.judge(vs.Reading(winter.low.value - 8 * winter.low.uncertainty, 2))
    assert deep.verdict == vs.Verdict.DISAGREES and deep.side == -1 and "more vacuum" in deep.text
    assert deep.probability < 1e-6
    noted = band.judge(vs.Reading(winter.usual.value, 2), weather=MONTHS[1])
    assert noted.score >= band.judge(vs.Reading(winter.usual.value, 2)).score
    marks = band.marks(2.0)
    assert marks.low < band.year.band_low < band.year.band_high < marks.high < 0
    assert not marks.holds_zero
    assert band.marks(2.0, month="summer").low > marks.low


def test_tables(simple):
    pytest.importorskip("pandas")
    sheet = vs.Sheet(simple.design, [("pit.pressure", vs.Reading(-200, 2)),
                                     ("pit.pressure", vs.Reading(-201, 2))])
    assert list(sheet.to_frame()["where"]) == ["pressure in pit"] * 2
    assert "<table>" in sheet._repr_html_() and "in. w.c." in str(sheet)
    frame = vs.Band(simple.design, "pit.pressure", MONTHS).to_frame()
    assert list(frame["name"]) == ["winter", "summer", "year"]
    assert frame["low"].iloc[2] == frame["low"].iloc[:2].min()


def test_a_vacuum_is_told_from_a_pressure(simple):
    text = vs.Band(simple.design, "pit.pressure", MONTHS).text(3.0)
    assert "the lowest is the most vacuum" in text
    assert "vacuum" not in vs.Band(simple.design, "riser.flow", MONTHS).text(1e-3)


def test_the_picture(simple):
    pytest.importorskip("matplotlib")
    band = vs.Band(simple.design, "pit.pressure", MONTHS)
    ax = band.plot(readings={"winter": vs.Reading(-1.0 * inwc, 3)}, uncertainty=3, unit=inwc)
    assert ax.get_ylabel() == "pressure in pit [in. w.c.]"
    assert [label.get_text() for label in ax.get_xticklabels()] == ["winter", "summer"]
    figure = ax.figure
    figure.draw_without_rendering()
    assert ax.get_legend().get_window_extent().x1 < figure.bbox.x1
    with pytest.raises(vs.ArgumentError, match="flow"):
        band.plot(unit=vs.units.cfm)


def test_what_is_refused(simple):
    good = vs.Reading(-200, 2)
    with pytest.raises(vs.ArgumentError, match="readings is empty; it must hold a Reading"):
        vs.Sheet(simple.design, {})
    with pytest.raises(vs.ArgumentError, match="above 0"):
        vs.Sheet(simple.design, {"pit.pressure": vs.Reading(-200, 0)})
    with pytest.raises(vs.NotFoundError):
        vs.Sheet(simple.design, {"pit.presure": good})
    with pytest.raises(TypeError, match="Reading"):
        vs.Sheet(simple.design, {"pit.pressure": -200.0})
    with pytest.raises(TypeError, match="Uncertainty"):
        vs.Sheet(simple.net, {"pit.pressure": good})
    with pytest.raises(vs.ArgumentError, match="weather is empty; it must hold a Weather"):
        vs.Band(simple.design, "pit.pressure", [])
    with pytest.raises(vs.ArgumentError, match="in this order"):
        vs.Band(simple.design, "pit.pressure", [vs.Weather("x", soil=(1, 0.5, 2))])
    with pytest.raises(vs.ArgumentError, match="least, usual and greatest"):
        vs.Band(simple.design, "pit.pressure", [vs.Weather("x", soil=(1, 2))])
    band = vs.Band(simple.design, "pit.pressure", MONTHS)
    with pytest.raises(vs.NotFoundError, match="winter, summer"):
        band.judge(good, month="May")
    with pytest.raises(vs.ArgumentError, match="left out"):
        band.judge(good, month="winter", weather=MONTHS[0])
    with pytest.raises(vs.ArgumentError, match="uncertainty"):
        band.marks(-1.0)


def test_the_commissioned_network_is_the_packages_too(simple):
    """What Python keeps of a network follows what the readings moved."""
    vacuum, _ = equations(C, N, 1.0, WIND + 20)
    built = vs.Sheet(simple.design, {"pit.pressure": vs.Reading(-vacuum, 1.0)}).commissioned()
    net = built._network
    assert net.wind_pressure == net.parameter("wind_pressure").value != WIND
    assert built.of("pit.pressure").value == pytest.approx(-vacuum, abs=1.0)


def test_nothing_given_is_named(stack):
    known = vs.Uncertainty(stack.net)
    for call, argument in ((lambda: vs.Sheet(known, {}), "readings"), (lambda: vs.Uncertainty(stack.net, []), "inputs"),
                           (lambda: vs.Band(known, "pit.pressure", []), "weather")):
        with pytest.raises(vs.ArgumentError, match=f"{argument} is empty; it must hold") as told:
            call()
        assert told.value.argument == argument


def test_notes_of_a_sheet(stack):
    design = vs.Uncertainty(stack.net, [vs.Input("pit.c", 1e-4)])
    taken = {"pit.pressure": vs.Reading(-60, 2)}
    sheet = vs.Sheet(design, taken, date="14 March", weather="calm & <dry>")
    assert sheet.notes == {"date": "14 March", "weather": "calm & <dry>"}
    assert str(sheet).startswith("Commissioning sheet\nDate: 14 March\nWeather: calm & <dry>\n")
    assert "<p>Weather: calm &amp; &lt;dry&gt;</p>" in sheet._repr_html_()
    assert vs.Sheet(design, taken).notes == {}
    with pytest.raises(vs.ArgumentError, match="control character 10"):
        vs.Sheet(design, taken, remark="two\nlines")
    with pytest.raises(TypeError, match="weather must be a str"):
        vs.Sheet(design, taken, weather=None)
