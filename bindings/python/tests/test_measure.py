# SPDX-License-Identifier: GPL-3.0-or-later
"""Measurement from Python: a second opinion by another library, and what Python adds to C."""

import copy
import math
import pickle

import numpy as np
import pytest
import ventstack as vs
from ventstack.units import celsius, cfm, inch, inwc, mm

GAUGE = vs.pressure_instrument(500, share=0.01, fixed=0.25, step=0.1)
PITOT = vs.pitot(0.125 * inch)


def place(pipe=None, **changes):
    return vs.Station(**dict(dict(
        pipe=pipe or vs.pipe("PVC 40", 3 * inch), barometer=vs.Reading(98300, 100),
        static_pressure=vs.Reading(-1.1 * inwc, 3), temperature=vs.Reading(celsius(12), 1),
        relative_humidity=vs.Reading(1.0, 0.05), straight=0.8), **changes))


# ---- a second opinion ---------------------------------------------------------------------------

TAPS = {vs.Taps.CORNER: "corner", vs.Taps.D_D2: "D", vs.Taps.FLANGE: "flange"}


@pytest.mark.parametrize("taps", vs.Taps)
@pytest.mark.parametrize("bore", [0.05, 0.0779, 0.1023, 0.3])
def test_orifice_against_fluids(taps, bore):
    meter = pytest.importorskip("fluids.flow_meter")
    for ratio in (0.15, 0.3, 0.5, 0.6, 0.74):
        for reynolds in (3e3, 1e4, 4e4, 1e6):
            mass_flow = reynolds * math.pi * bore * 1.8e-5 / 4
            theirs = meter.C_Reader_Harris_Gallagher(D=bore, Do=ratio * bore, rho=1.2, mu=1.8e-5,
                                                     m=mass_flow, taps=TAPS[taps])
            ours = vs.orifice_discharge(bore, ratio * bore, reynolds, taps)
            assert ours == pytest.approx(theirs, rel=1e-9)


def test_expansibility_and_loss_against_fluids():
    meter = pytest.importorskip("fluids.flow_meter")
    for ratio in (0.15, 0.3, 0.5, 0.74):
        for difference in (10, 300, 5000):
            theirs = meter.orifice_expansibility(D=0.1, Do=ratio * 0.1, P1=98e3,
                                                 P2=98e3 - difference, k=1.4)
            ours = vs.orifice_expansibility(ratio, 98e3, difference)
            assert ours == pytest.approx(theirs, rel=1e-9)
            theirs = meter.dP_orifice(D=0.1, Do=ratio * 0.1, P1=98e3, P2=98e3 - difference, C=0.61)
            assert vs.orifice_loss(ratio, 0.61, difference) == pytest.approx(theirs, rel=1e-9)


def test_the_flow_through_a_plate_against_fluids():
    meter = pytest.importorskip("fluids.flow_meter")
    here = place(vs.round_pipe(0.1, 0.0), straight=5.0)
    for taps in vs.Taps:
        for bore in (0.03, 0.05, 0.07):
            for difference in (20, 300):
                flow = here.orifice_flow(vs.metering_orifice(bore, taps=taps), GAUGE, difference)
                gas = here.gas
                theirs = meter.differential_pressure_meter_solver(
                    D=0.1, D2=bore, P1=gas.pressure, P2=gas.pressure - difference,
                    rho=gas.density, mu=gas.viscosity, k=1.4, meter_type="ISO 5167 orifice",
                    taps=TAPS[taps])
                assert flow.value == pytest.approx(theirs / gas.density, rel=1e-9)


# ---- readings -----------------------------------------------------------------------------------

def test_the_question_of_the_header():
    flow = place().centre_flow(GAUGE, 0.055 * inwc, probe=PITOT)
    velocity = math.sqrt(2 * 0.055 * inwc / place().gas.density)
    ratio = flow.value / place().pipe.area / velocity / (1 - PITOT.blockage(
        place().pipe, place().pipe.width / 2))
    reynolds = (flow.value / place().pipe.area * place().pipe.width * place().gas.density
                / place().gas.viscosity)
    assert ratio == pytest.approx(vs.mean_to_centre(reynolds, place().pipe.roughness
                                                    / place().pipe.width), rel=1e-12)
    assert 0.02 < flow.relative_uncertainty < 0.15 and flow.is_measurable and not flow.flags
    assert flow.source.year == 1998


def test_readings_are_values():
    reading = vs.Reading(3, 0.5)
    assert reading == vs.Reading(3.0, 0.5) and hash(reading) == hash(vs.Reading(3.0, 0.5))
    assert (2 * reading).uncertainty == 1 and (reading / -2).value == -1.5
    assert (reading / -2).uncertainty == 0.25 and float(reading) == 3
    assert f"{reading:.1f}" == "3.0 +- 0.5" and reading.source is None
    assert vs.Reading(0, 1).relative_uncertainty == math.inf
    assert (GAUGE.read(0.2) / inwc).flags == vs.ReadingFlag.NOT_MEASURABLE
    assert "NOT_MEASURABLE" in repr(GAUGE.read(0.2)) and not GAUGE.read(0.2).is_measurable
    for bad in ((math.nan, 0), (1, -1), (1, math.nan), (math.inf, 0)):
        with pytest.raises(vs.ArgumentError):
            vs.Reading(*bad)
    with pytest.raises(AttributeError):
        reading.value = 2


@pytest.mark.parametrize("thing", [vs.Reading(1, 2), GAUGE, PITOT, vs.metering_orifice(40 * mm),
                                   place()], ids=lambda thing: type(thing).__name__)
def test_they_copy_and_pickle(thing):
    for other in (copy.copy(thing), copy.deepcopy(thing), pickle.loads(pickle.dumps(thing))):
        assert other == thing and repr(other) == repr(thing)
    if isinstance(thing, vs.Station):
        again = pickle.loads(pickle.dumps(thing))
        assert again.centre_flow(GAUGE, 14) == thing.centre_flow(GAUGE, 14)


def test_a_station_keeps_its_pipe_and_gas():
    pipe, gas = place().pipe, place().gas  # the station itself is gone
    assert pipe == vs.pipe("PVC 40", 3 * inch) and isinstance(gas, vs.Air)
    assert gas.pressure == pytest.approx(98300 - 1.1 * inwc, abs=1e-9)
    assert gas == vs.Air(celsius(12), gas.pressure, 1.0)
    exact = place(barometer=98300, static_pressure=-1.1 * inwc, temperature=celsius(12),
                  relative_humidity=1)
    assert exact.density_uncertainty == 0 < place().density_uncertainty < 0.01


def test_a_traverse():
    pipe = vs.pipe("PVC 40", 4 * inch)
    y = vs.traverse_positions(pipe, vs.TraverseRule.LOG_LINEAR, 8)
    assert y.shape == (8,) and np.allclose(y + y[::-1], pipe.width)
    speed = 6 * (2 * np.minimum(y, pipe.width - y) / pipe.width)**(1 / 7)
    here = place(pipe)
    readings = 0.5 * here.gas.density * np.array([speed, speed])**2
    flow = here.traverse_flow(GAUGE, vs.TraverseRule.LOG_LINEAR, readings)
    assert flow.value == pytest.approx(6 * vs.mean_to_centre_power(7) * pipe.area, rel=2e-3)
    tilted = readings * np.linspace(0.9, 1.1, 8)
    assert here.traverse_flow(GAUGE, 1, tilted[:, ::-1]) == here.traverse_flow(
        GAUGE, 1, tilted[:, ::-1].copy())  # a view is read as what it shows
    assert vs.mean_velocity_pressure(readings.ravel()) == pytest.approx(
        0.5 * here.gas.density * speed.mean()**2)
    moved = vs.traverse_positions(pipe, 1, 8, probe=vs.pitot(8 * mm).with_offset(0.1))
    assert moved[0] == pytest.approx(0.104)


def test_instruments_agree_on_one_flow():
    here = place(vs.pipe("PVC 40", 4 * inch))
    v = 4.0
    pressure = here.point_velocity(GAUGE, 0.5 * here.gas.density * v**2, 0.05)
    vane = here.point_velocity(vs.vane_anemometer(0.3, 20, fixed=0.1), v, 0.05)
    wire = here.point_velocity(vs.hot_wire_anemometer(0.1, 20, fixed=0.1),
                               v * here.gas.density / (0.075 * vs.units.pound_per_cubic_foot), 0.05)
    water = vs.u_tube(0.1, 1e-3, vs.water_density(celsius(20)))
    column = here.point_velocity(water, 0.5 * here.gas.density * v**2 / (998.2067 * 9.80665), 0.05)
    for reading in (pressure, vane, wire, column):
        assert reading.value == pytest.approx(v, rel=1e-7)
    assert column.relative_uncertainty > 0.2  # one millimetre in a U-tube


def test_advice():
    here = place(vs.pipe("PVC 40", 4 * inch))
    advice = here.advice(GAUGE, 5 * cfm)
    assert advice.flags & vs.ReadingFlag.NOT_MEASURABLE and str(advice) == advice.message
    assert "hot-wire" in advice.message and 0.02 < advice.section < here.pipe.width
    plate = here.orifice_flow(vs.metering_orifice(advice.orifice), GAUGE, advice.orifice_pressure)
    assert plate.value / cfm == pytest.approx(5, rel=1e-4) and plate.is_measurable
    assert not here.advice(GAUGE, 80 * cfm).flags


def test_bad_input():
    here = place()
    with pytest.raises(vs.ArgumentError, match="hoses are exchanged"):
        here.centre_flow(GAUGE, -12)
    with pytest.raises(vs.ArgumentError, match="noise"):
        here.centre_flow(GAUGE, -0.2)
    with pytest.raises(vs.ArgumentError, match="point 2 of line 1"):
        here.traverse_flow(GAUGE, 1, [[10, -12, 14, 14, 12, 10]])
    with pytest.raises(vs.ArgumentError, match="dimensions"):
        here.traverse_flow(GAUGE, 1, [10, 12, 14, 14])
    with pytest.raises(vs.ArgumentError, match="points"):
        here.traverse_flow(GAUGE, 1, np.ones((2, 7)))
    with pytest.raises(vs.ArgumentError, match="does not have"):
        vs.traverse_positions(here.pipe, vs.TraverseRule.LOG_LINEAR, 7)
    for points in (-1, 0, 30, 10**6):
        with pytest.raises(vs.ArgumentError):
            vs.traverse_positions(here.pipe, vs.TraverseRule.EQUAL_AREA, points)
    with pytest.raises(vs.ArgumentError, match="temperature"):
        place(temperature=12)
    with pytest.raises(TypeError, match="temperature"):
        place(temperature="warm")
    with pytest.raises(TypeError, match="instrument must be an Instrument"):
        here.centre_flow(None, 14)
    with pytest.raises(TypeError, match="orifice must be an Orifice"):
        here.orifice_flow(vs.open_end(), GAUGE, 14)
    with pytest.raises(vs.ArgumentError, match="rectangular"):
        place(vs.rectangular_pipe(0.1, 0.1, 0.0)).centre_flow(GAUGE, 14)
    with pytest.raises(vs.ArgumentError, match="velocity"):
        vs.static_pressure(vs.vane_anemometer(0, 20), [1.0])
    with pytest.raises(vs.ArgumentError):
        vs.mean_velocity_pressure([])
    for maker in (vs.Instrument, vs.Probe, vs.Orifice):
        with pytest.raises(TypeError, match="make an? "):
            maker()
