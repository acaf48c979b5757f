# SPDX-License-Identifier: GPL-3.0-or-later
"""The program users are promised works exactly as it is written."""

import math

import numpy as np
import pytest
import ventstack as vs
from ventstack.units import cfm, inch, inwc

PROGRAM = """
import numpy as np, ventstack as vs
from ventstack.units import celsius, cfm, feet, inch, inwc

air = vs.Air(temperature=celsius(13), pressure=vs.pressure_at(250), relative_humidity=1.0)
air.density, air.viscosity                                     # kg/m3, Pa s
vs.friction_factor(reynolds, relative_roughness)               # broadcasts; float in, float out
fan = vs.Fan("example", flow=[0, 30, 60, 90, 120, 150] * cfm, pressure=[1.9, 1.7, 1.4, 1.0, 0.5, 0.0] * inwc)
net = vs.Network(soil_gas=air, outdoors=vs.Air(temperature=celsius(-5), pressure=air.pressure, relative_humidity=0.8))
pit = net.suction_point("store room", soil=vs.soil_power(4.2e-4, 0.62))
roof = net.discharge("ridge", vs.open_end(), height=7.9)
riser = net.run("riser", pit, roof, pipe=vs.pipe("PVC 40", 3 * inch), length=38 * feet)
riser.add(vs.elbow(np.radians(90), 1.5), count=2)
riser.add(fan)
point = net.solve()
point.flow(riser) / cfm, point.pressure(pit) / inwc
print(point.ledger())                                          # readable table; .to_frame() for pandas
"""


@pytest.fixture
def ran(capsys):
    names = {"reynolds": np.array([1e3, 1e5]), "relative_roughness": 1e-4}
    exec(PROGRAM, names)
    names["printed"] = capsys.readouterr().out
    return names


def test_the_point_lies_on_every_law(ran):
    """Fan, soil, pipe, elbows, exit and buoyancy, each by itself, at the flow that was found."""
    point, riser, pit, air = ran["point"], ran["riser"], ran["pit"], ran["air"]
    flow, pipe = point.flow(riser), vs.pipe("PVC 40", 3 * inch)
    vacuum = vs.soil_power(4.2e-4, 0.62).pressure(flow)
    assert point.pressure(pit) == pytest.approx(-vacuum, rel=1e-12)
    velocity = flow / (math.pi / 4 * pipe.width**2)
    assert point.velocity(riser) == pytest.approx(velocity, rel=1e-12)
    reynolds = air.density * velocity * pipe.width / air.viscosity
    assert point.reynolds(riser) == pytest.approx(reynolds, rel=1e-12)
    elbow = vs.elbow(math.pi / 2, 1.5).coefficient(pipe, reynolds).value
    k = vs.friction_factor(reynolds, pipe.roughness / pipe.width) * 38 * 0.3048 / pipe.width
    spent = vacuum + (k + 2 * elbow + 1) * air.density * velocity**2 / 2
    column = (ran["net"].outdoors.density - air.density) * 9.80665 * 7.9
    given = ran["fan"].pressure(flow, density=air.density) + column
    assert spent == pytest.approx(given, rel=1e-10)


def test_the_table_prints_what_was_found(ran):
    lines = ran["printed"].splitlines()
    assert "[Pa]" in lines[1] and "[L/s]" in lines[1]
    assert [line.split("  ")[0] for line in lines[3:]] == ["store room"] + 6 * ["riser"]
    loss = {line.what: line.loss for line in ran["point"].ledger()}
    assert f"{loss['soil']:.1f}" in lines[3]
    assert sum(loss.values()) == pytest.approx(0, abs=1e-9)


def test_friction_broadcasts(ran):
    factor = vs.friction_factor(ran["reynolds"], ran["relative_roughness"])
    assert factor[0] == 0.064
    # fluids, Colebrook(1E5, 1E-4), and 50 digits by independent computation
    assert factor[1] == pytest.approx(0.018513866077471643, rel=1e-14)


def test_units_bring_the_answer_home(ran):
    point = ran["point"]
    assert point.flow(ran["riser"]) / cfm * 0.028316846592 / 60 == pytest.approx(
        point.flow(ran["riser"]))
    assert -2 < point.pressure(ran["pit"]) / inwc < 0


def test_version():
    assert vs.__version__.count(".") == 2
