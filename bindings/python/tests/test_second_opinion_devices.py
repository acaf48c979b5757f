# SPDX-License-Identifier: GPL-3.0-or-later
"""Devices and connectors against the `fluids` package, over random states in range.

Where both claim the same formula they agree to 1e-9. Known differences, with their reasons:

- Darby's method takes the nominal size, the library the bore in inches: 3 in Schedule 40 pipe has
  3.042 in, which moves K by 0.3 %. Held against the package at a nominal size equal to the bore.
- Crane's friction factor: the library takes the fully rough limit of Colebrook's equation (3.7) with
  Crane's roughness 0.00015 ft, the package a curve through printed values, up to 0.8 % beside it. Its
  von Karman formula rounds a constant (1.14 for 2 log10 3.7) and is 0.05 % off.
- Crane's open valves (gate 8, ball 3 friction factors) hold seats that the library's opening law
  leaves out and books as uncertainty.
- The package has no Weisbach, Idelchik or Miller formula for throttling devices, no fan surroundings
  and no flexible duct.
- Its sharp entry through an orifice is Rennels' form with still air in front: the jet is the same where the
  orifice is small in the pipe, and expands to the pipe's area in both.
"""

import math
import random

import pytest
import ventstack as vs
from ventstack.units import inch

fluids = pytest.importorskip("fluids", reason="needs python3-fluids")

STATES = 500


@pytest.fixture
def rng():
    return random.Random(20)


def smooth(bore):
    return vs.round_pipe(bore, 0.0)


def by(fitting, author, place=""):
    """The fitting by the formula of an author, told apart by a word of its place."""
    formulas = fitting.family.formulas + fitting.family.reversed_formulas
    number, = {f.source.number for f in formulas
               if author in f.source.author and place in f.source.place}
    return fitting.by_source(number)


def test_orifice_plate(rng):
    for _ in range(STATES):
        bore, beta = rng.uniform(0.03, 0.3), rng.uniform(0.1, 0.75)
        reynolds = math.exp(rng.uniform(math.log(5e3), math.log(1e7)))
        density, viscosity = 1.2, 1.8e-5
        flow = reynolds * math.pi / 4 * bore * viscosity
        c = fluids.flow_meter.C_Reader_Harris_Gallagher(
            D=bore, Do=beta * bore, rho=density, mu=viscosity, m=flow, taps="corner")
        k = fluids.flow_meter.discharge_coefficient_to_K(D=bore, Do=beta * bore, C=c)
        found = vs.orifice_plate(beta).coefficient(smooth(bore), reynolds)
        assert found.value == pytest.approx(k, rel=1e-9)


@pytest.mark.parametrize("fitting, k1, k_infinite, k_infinite_darby, k_d", [
    (vs.check_damper(10.0), 1500, 1.5, 0.46, 4.0),
    (vs.bypass_tee(), 150, 0.05, 0.05, 4.0),
])
def test_general_forms(rng, fitting, k1, k_infinite, k_infinite_darby, k_d):
    for _ in range(STATES):
        inches = rng.uniform(1, 12)
        reynolds = math.exp(rng.uniform(math.log(10), math.log(1e7)))
        hooper = fluids.fittings.Hooper2K(Di=inches, Re=reynolds, K1=k1, Kinfty=k_infinite)
        darby = fluids.fittings.Darby3K(NPS=inches, Re=reynolds, K1=k1, Ki=k_infinite_darby, Kd=k_d)
        pipe = smooth(inches * inch)
        found = by(fitting, "Hooper").coefficient(pipe, reynolds)
        assert found.value == pytest.approx(hooper, rel=1e-9)
        found = by(fitting, "Darby").coefficient(pipe, reynolds)
        assert found.value == pytest.approx(darby, rel=1e-9)


def test_nominal_size_for_bore():
    pipe = vs.pipe("PVC 40", 3 * inch)
    ours = by(vs.bypass_tee(), "Darby").coefficient(pipe, 1e9).value
    nominal = fluids.fittings.Darby3K(NPS=3, Re=1e9, K1=150, Ki=0.05, Kd=4.0)
    assert 0.002 < abs(ours / nominal - 1) < 0.004


def test_crane_run_of_a_tee(rng):
    for _ in range(STATES):
        bore = rng.uniform(0.03, 0.3)
        ours = by(vs.bypass_tee(), "Crane").coefficient(smooth(bore), 1e5).value
        rough = fluids.friction.Colebrook(1e18, 0.00015 * 0.3048 / bore)
        assert ours == pytest.approx(20 * rough, rel=1e-9)
        if 0.05 < bore < 0.2:
            assert ours == pytest.approx(20 * fluids.friction.ft_Crane(bore), rel=0.008)


def test_jet_of_an_orifice(rng):
    """A small orifice at the end of a pipe or within it: the same jet expands into the pipe."""
    for _ in range(STATES):
        beta = rng.uniform(0.1, 0.15)
        ours = by(vs.orifice_plate(beta), "Rennels").coefficient(smooth(0.1), 1e6).value
        jet = 1 + 0.622 * (1 - 0.215 * beta**2 - 0.785 * beta**5)
        contraction = fluids.fittings.contraction_sharp(Di1=0.1, Di2=beta * 0.1, method="Rennels")
        # the contraction's own loss, its jet then expanding to the pipe in place of the orifice
        expected = (contraction - (jet - 1)**2 + (jet - beta**2)**2) / beta**4
        assert ours == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("open_device, crane", [
    (vs.gate_valve(1.0), fluids.fittings.K_gate_valve_Crane),
    (vs.ball_valve(0.0), fluids.fittings.K_ball_valve_Crane),
])
def test_open_valves(rng, open_device, crane):
    for _ in range(50):
        bore = rng.uniform(0.05, 0.2)
        found = open_device.coefficient(smooth(bore), 1e6)
        assert abs(crane(bore, bore, 0) - found.value) <= 2 * found.uncertainty


def test_swing_check_valve_of_crane(rng):
    """Crane's swing check valves, 100 and 50 friction factors, lie inside the uncertainty."""
    for angled in (True, False):
        for _ in range(50):
            bore = rng.uniform(0.05, 0.2)
            found = vs.check_damper(5.0).coefficient(smooth(bore), 1e6)
            k = fluids.fittings.K_swing_check_valve_Crane(D=bore, angled=angled)
            assert abs(k - found.value) <= 2 * found.uncertainty
