# SPDX-License-Identifier: GPL-3.0-or-later
"""Loops and several discharges against SciPy, on equations written apart from the library's."""

import numpy as np
import pytest
import ventstack as vs
from ventstack.units import celsius

optimize = pytest.importorskip("scipy.optimize")

AIR = vs.Air(temperature=celsius(20), pressure=101325.0, relative_humidity=0.5)
BORE = 0.08
AREA = np.pi / 4 * BORE**2
LEAST = 1e-9  # of the greatest flow


def resistance(net, name, start, end, k):
    run = net.run(name, start, end, pipe=vs.round_pipe(BORE, 0.0), length=0.0)
    run.add(vs.fitting_constant(k, 0.0))
    return run


class System:
    """Runs with K alone, lossless junctions, power-law soil: p_from - p_to = K m |m| / (2 rho A^2)."""

    def __init__(self):
        self.net = vs.Network(soil_gas=AIR, outdoors=AIR)
        self.soils, self.runs, self.ends = {}, [], []
        self.junctions, self.nodes, self.coupled = [], {}, []

    def suction(self, name, c, n):
        self.soils[name] = (c, n)
        self.nodes[name] = self.net.suction_point(name, soil=vs.soil_power(c, n))

    def couple(self, a, b, resistance):
        self.coupled.append((a, b, resistance))
        self.net.couple(self.nodes[a], self.nodes[b], resistance)

    def junction(self, name):
        self.junctions.append(name)
        self.nodes[name] = self.net.junction(name, vs.junction_lossless())

    def discharge(self, name):
        self.ends.append(name)
        self.nodes[name] = self.net.discharge(name, vs.open_end(), height=0.0)

    def run(self, name, start, end, k, fan=None):
        run = resistance(self.net, name, self.nodes[start], self.nodes[end], k)
        if fan is not None:
            run.add(fan)
        self.runs.append((run, start, end, k, fan))

    def residuals(self, x):
        """Flows of the runs in units of 0.01 kg/s, pressures of suction points and junctions in 100 Pa."""
        flow = 0.01 * x[:len(self.runs)]
        names = [*self.soils, *self.junctions]
        pressure = dict(zip(names, 100 * x[len(self.runs):]), **{end: 0.0 for end in self.ends})
        rest = []
        for (_, start, end, k, fan), m in zip(self.runs, flow):
            if end in self.ends:  # the open end: a jet out, a thick pipe's entry in
                k += 1.0 if m > 0 else 0.57
            drop = k * m * abs(m) / (2 * AIR.density * AREA**2)
            gain = 0.0 if fan is None else fan.pressure(m / AIR.density, density=AIR.density)
            rest.append((pressure[start] - pressure[end] - drop + gain) / 100)
        balance = dict.fromkeys(names, 0.0)
        for (_, start, end, _, _), m in zip(self.runs, flow):
            balance[start] -= m
            if end in balance:
                balance[end] += m
        drawn = {start: m / AIR.density for (_, start, *_), m in zip(self.runs, flow)}
        shared = dict.fromkeys(self.soils, 0.0)
        for a, b, resistance in self.coupled:
            shared[a] += resistance * drawn[b]
            shared[b] += resistance * drawn[a]
        for name, (c, n) in self.soils.items():
            vacuum = -pressure[name] - shared[name]
            balance[name] += AIR.density * c * np.sign(vacuum) * abs(vacuum)**n
        return np.array(rest + [100 * b for b in balance.values()])

    def check(self, start):
        x = optimize.root(self.residuals, start, method="hybr", tol=1e-14).x
        x = optimize.root(self.residuals, x, method="hybr", tol=1e-15).x
        assert np.abs(self.residuals(x)).max() < 1e-9
        point = self.net.solve()
        flow = np.array([point.mass_flow(run) for run, *_ in self.runs])
        expected = 0.01 * x[:len(self.runs)]
        assert np.abs(flow - expected).max() < LEAST * np.abs(expected).max()
        return flow


def steep():
    return vs.Fan("steep", flow=[0, 0.02, 0.04, 0.06], pressure=[400, 330, 200, 0])


def test_two_risers_with_a_cross_link():
    s = System()
    for name, c in (("pit", 4e-4), ("sump", 9e-4)):
        s.suction(name, c, 0.6)
    for name in ("left", "right"):
        s.junction(name)
    for name in ("west", "east"):
        s.discharge(name)
    s.run("pit leg", "pit", "left", 2.0)
    s.run("sump leg", "sump", "right", 2.0)
    s.run("west riser", "left", "west", 6.0, steep())
    s.run("east riser", "right", "east", 6.0, steep())
    s.run("cross-link", "left", "right", 3.0)
    flow = s.check(np.r_[np.ones(5), -np.ones(4)])
    assert flow[-1] < 0  # the tighter pit leaves its fan more to draw: air comes over from the right


def test_three_pits_that_share_their_soil():
    s = System()
    for name, c in (("pit", 4e-4), ("sump", 9e-4), ("tile", 2e-4)):
        s.suction(name, c, 0.7)
    s.junction("header")
    s.discharge("roof")
    for name in s.soils:
        s.run(f"{name} leg", name, "header", 3.0)
    s.run("riser", "header", "roof", 6.0, steep())
    apart = s.check(np.r_[1.0, 1.0, 1.0, 3.0, -np.ones(4)])
    s.couple("pit", "sump", 2500.0)
    s.couple("sump", "tile", 1000.0)
    together = s.check(np.r_[1.0, 1.0, 1.0, 3.0, -np.ones(4)])
    assert together[3] < apart[3]


def test_a_fan_that_is_off_lets_air_flow_back():
    s = System()
    s.suction("pit", 4e-4, 0.6)
    s.junction("header")
    for name in ("west", "east"):
        s.discharge(name)
    s.run("leg", "pit", "header", 2.0)
    s.run("west riser", "header", "west", 6.0, steep())
    s.run("east riser", "header", "east", 6.0)
    flow = s.check(np.r_[1.0, 2.0, -1.0, -1.0, -1.0])
    assert flow[2] < 0  # down the idle riser, and out by the other


@pytest.mark.parametrize("seed", range(20))
def test_random_grids(seed):
    random = np.random.default_rng(seed)
    s = System()
    s.suction("pit", 10**random.uniform(-4, -3), random.uniform(0.5, 0.9))
    rows, columns = 2 + seed % 3, 3
    for i in range(rows * columns):
        s.junction(f"j{i}")
    s.discharge("roof")
    s.run("in", "pit", "j0", 1.0)
    for i in range(rows * columns):
        if (i + 1) % columns:
            s.run(f"across {i}", f"j{i}", f"j{i + 1}", random.uniform(0.5, 20))
        if i + columns < rows * columns:
            s.run(f"up {i}", f"j{i}", f"j{i + columns}", random.uniform(0.5, 20))
    s.run("out", f"j{rows * columns - 1}", "roof", 1.0, steep())
    names = len(s.soils) + len(s.junctions)
    s.check(np.r_[0.5 * np.ones(len(s.runs)), -np.ones(names)])
