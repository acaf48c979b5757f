# SPDX-License-Identifier: GPL-3.0-or-later
"""What the tests of the Python package share: a stack to ask about."""

import os
import types

os.environ["MPLBACKEND"] = "Agg"  # pictures without a screen

import numpy as np
import pytest
import ventstack as vs
from ventstack.units import celsius, cfm, feet, inch, inwc


def make_stack():
    """The stack of the package's first example; its fan is invented."""
    air = vs.Air(temperature=celsius(13), pressure=vs.pressure_at(250), relative_humidity=1.0)
    outdoors = vs.Air(temperature=celsius(-5), pressure=air.pressure, relative_humidity=0.8)
    fan = vs.Fan("invented", flow=[0, 30, 60, 90, 120, 150] * cfm,
                 pressure=[1.9, 1.7, 1.4, 1.0, 0.5, 0.0] * inwc,
                 power=[30, 40, 50, 58, 64, 68])
    soil = vs.soil_power(1.5e-3, 0.62)
    net = vs.Network(soil_gas=air, outdoors=outdoors)
    pit = net.suction_point("pit", soil=soil)
    roof = net.discharge("roof", vs.open_end(), height=7.9)
    riser = net.run("riser", pit, roof, pipe=vs.pipe("PVC 40", 3 * inch), length=38 * feet)
    return types.SimpleNamespace(air=air, outdoors=outdoors, fan=fan, soil=soil, net=net, pit=pit,
                                 roof=roof, riser=riser)


@pytest.fixture
def bare():
    """A stack without a fan yet."""
    return make_stack()


@pytest.fixture
def stack(bare):
    """A stack with two elbows and a fan."""
    bare.bends = bare.riser.add(vs.elbow(np.radians(90), 1.5), count=2)
    bare.placed = bare.riser.add(bare.fan)
    return bare


@pytest.fixture
def manifold():
    """Two suction points that meet in a wye below one riser; a fan in the riser and one in a branch."""
    s = make_stack()
    net = vs.Network(soil_gas=s.air, outdoors=s.outdoors)
    pipe = vs.pipe("PVC 40", 3 * inch)
    s.near = net.suction_point("near pit", soil=s.soil)
    s.far = net.suction_point("far pit", soil=vs.soil_two_term(2e3, 4e5))
    s.meet = net.junction("manifold", vs.wye(np.radians(90)))
    s.roof = net.discharge("roof", vs.open_end(), height=6.0)
    s.meet.height = 0.5
    s.first = net.run("near branch", s.near, s.meet, pipe=pipe, length=2.0)
    s.second = net.run("far branch", s.far, s.meet, pipe=pipe, length=9.0)
    s.riser = net.run("riser", s.meet, s.roof, pipe=pipe, length=7.0)
    s.booster = s.second.add(vs.Fan("booster", flow=[0, 0.03, 0.06], pressure=[120, 80, 0]))
    s.main = s.riser.add(s.fan)
    s.riser.add_pipe(vs.pipe("PVC 40", 4 * inch), 1.0)
    s.net = net
    return s
