# SPDX-License-Identifier: GPL-3.0-or-later
"""All operating points, and balancing, as users of the package meet them."""

import math

import numpy as np
import pytest
import ventstack as vs

optimize = pytest.importorskip("scipy.optimize")
interpolate = pytest.importorskip("scipy.interpolate")

AREA = math.pi * 0.1**2 / 4
DIP = ([0, 0.02, 0.04, 0.06, 0.08, 0.10], [300, 180, 60, 280, 200, 0])


def plain(fan_curve, soil=0.0042):
    """A pit, a pipe of no length, a fan, an open end: a system of q^2."""
    air = vs.Air(288.15, 101325, 0)
    net = vs.Network(soil_gas=air, outdoors=air)
    pit = net.suction_point("pit", soil=vs.soil_power(soil, 0.5))
    roof = net.discharge("roof", vs.open_end(), height=0)
    riser = net.run("riser", pit, roof, pipe=vs.round_pipe(0.1, 0), length=0)
    flow, pressure = fan_curve
    placed = riser.add(vs.Fan("fan", flow=flow, pressure=pressure, density=air.density))
    return net, riser, placed, 1 / soil**2 + air.density / (2 * AREA**2)


def roots(flow, pressure, c):
    """Where Steffen's cubics meet c q^2, by the roots of polynomials."""
    x, y = np.array(flow), np.array(pressure, dtype=float)
    h, chord = np.diff(x), np.diff(y) / np.diff(x)
    slope = np.concatenate([chord[:1], np.zeros(len(x) - 2), chord[-1:]])
    parabola = (chord[:-1] * h[1:] + chord[1:] * h[:-1]) / (h[:-1] + h[1:])
    least = np.minimum(np.minimum(abs(chord[:-1]), abs(chord[1:])), abs(parabola) / 2)
    slope[1:-1] = (np.sign(chord[:-1]) + np.sign(chord[1:])) * least
    found = []
    for i in range(len(h)):
        b = (3 * chord[i] - 2 * slope[i] - slope[i + 1]) / h[i]
        a = (slope[i] + slope[i + 1] - 2 * chord[i]) / h[i]**2
        t = np.roots([a, b - c, slope[i] - 2 * c * x[i], y[i] - c * x[i]**2])
        found += [x[i] + z.real for z in t if abs(z.imag) < 1e-9 and 0 <= z.real < h[i]]
    return sorted(found)


def test_all_points_of_a_dip():
    net, riser, placed, c = plain(DIP)
    points = net.operating_points()
    assert [p.flow for p in points] == pytest.approx(roots(*DIP, c), rel=1e-8)
    assert [p.is_stable for p in points] == [True, False, True]
    for point in points:
        assert point.flags & vs.PointFlag.ONE_OF_SEVERAL
        assert not point.flags & vs.PointFlag.MORE_POSSIBLE
        assert point.pressure == pytest.approx(c * point.flow**2, rel=1e-9)
        assert point.stall_flow == 0.06
        solution = point.solution()
        assert solution.flow(riser) == pytest.approx(point.flow, rel=1e-11)
        assert bool(solution.flags & vs.SolutionFlag.FAN_RISING) == (point.fan_slope > 0)
        assert solution.fans[0].name == "fan" and len(solution.ledger()) > 0
    assert net.operating_points(placed) == net.operating_points(0) == points
    assert net.solve().flow(riser) == pytest.approx(points[0].flow, rel=1e-9) or \
        net.solve().flow(riser) == pytest.approx(points[2].flow, rel=1e-9)


def test_points_are_a_picture():
    net, riser, placed, c = plain(DIP)
    point = net.operating_points()[2]
    placed.speed = 0.5
    assert point.solution().flow(riser) == pytest.approx(point.flow, rel=1e-11)
    assert net.operating_points()[2].flow == pytest.approx(point.flow / 2, rel=1e-9)


def test_refused_points():
    net, riser, placed, _ = plain(DIP)
    other = plain(DIP)[2]
    for fan in (1, -1, -2):
        with pytest.raises(vs.NotFoundError):
            net.operating_points(fan)
    with pytest.raises(vs.ArgumentError, match="another network"):
        net.operating_points(other)
    with pytest.raises(TypeError, match="fan must be"):
        net.operating_points("fan")
    with pytest.raises(vs.NoOperatingPointError):
        plain(([0, 0.05, 0.1], [100, 80, 300]), soil=0.05)[0].operating_points()


def test_points_of_junctions_alone_are_not_looked_for(manifold):
    points = manifold.net.operating_points(manifold.main)
    assert len(points) == 1 and points[0].fan == 1
    assert points[0].flow == pytest.approx(manifold.net.solve().fans[1].flow, rel=1e-9)
    assert manifold.net.operating_points()[0].fan == 0  # all fall: the first


def steffen(flow, pressure):
    """Steffen (1990), written again on SciPy's Hermite cubics."""
    h, chord = np.diff(flow), np.diff(pressure) / np.diff(flow)
    slope = np.concatenate([chord[:1], np.zeros(len(flow) - 2), chord[-1:]])
    parabola = (chord[:-1] * h[1:] + chord[1:] * h[:-1]) / (h[:-1] + h[1:])
    least = np.minimum(np.minimum(abs(chord[:-1]), abs(chord[1:])), abs(parabola) / 2)
    slope[1:-1] = (np.sign(chord[:-1]) + np.sign(chord[1:])) * least
    return interpolate.CubicHermiteSpline(flow, pressure, slope)


def scan(excess, flows):
    """Roots of a function and whether it falls there, by brentq in each step that changes its sign."""
    value = [excess(q) for q in flows]
    found = []
    for low, high, a, b in zip(flows, flows[1:], value, value[1:]):
        if (a < 0) != (b < 0):
            found.append((optimize.brentq(excess, low, high, xtol=1e-16, rtol=1e-14), a > b))
    return found


@pytest.mark.parametrize("speed, soil, exponent, k, several", [
    (1.0, 1.86e-3, 0.7, 1.0, True),
    (1.0, 4.3e-3, 0.6, 3.0, True),
    (0.8, 3.15e-3, 0.62, 2.0, True),
    (1.0, 5.0e-4, 0.8, 0.0, False),
    (1.0, 2.0e-2, 0.55, 1.0, False),
])
def test_points_against_a_dense_scan(speed, soil, exponent, k, several):
    air = vs.Air(288.15, 101325, 0)
    net = vs.Network(soil_gas=air, outdoors=air)
    pit = net.suction_point("pit", soil=vs.soil_power(soil, exponent))
    roof = net.discharge("roof", vs.open_end(), height=0)
    riser = net.run("riser", pit, roof, pipe=vs.round_pipe(0.1, 0), length=0)
    riser.add(vs.fitting_constant(k))
    placed = riser.add(vs.Fan("fan", flow=DIP[0], pressure=DIP[1], density=air.density))
    placed.speed = speed
    curve = steffen(np.array(DIP[0]), np.array(DIP[1], dtype=float))

    def excess(q):  # affinity; soil, open end and fitting
        system = (q / soil)**(1 / exponent) + (1 + k) * air.density / 2 * (q / AREA)**2
        return speed**2 * curve(q / speed) - system

    expected = scan(excess, np.linspace(0, 0.1 * speed, 4001))
    assert (len(expected) > 1) == several
    points = net.operating_points()
    assert [p.flow for p in points] == pytest.approx([q for q, _ in expected], rel=1e-9)
    assert [p.is_stable for p in points] == [falls for _, falls in expected]
    for point in points:
        assert not point.flags & (vs.PointFlag.MORE_POSSIBLE | vs.PointFlag.TOUCHING)


def test_soil_that_is_shared_may_hide_points():
    """Where air of the other pit gives way, what a fan's system takes falls with its flow."""
    air, soil, shared = vs.Air(288.15, 101325, 0), 4e-3, 8e3
    net = vs.Network(soil_gas=air, outdoors=air)
    pits = [net.suction_point(name, soil=vs.soil_power(soil, 0.5)) for name in ("a", "b")]
    net.couple(*pits, shared)
    for pit in pits:
        roof = net.discharge(f"roof {pit.name}", vs.open_end(), height=0)
        net.run(f"riser {pit.name}", pit, roof, pipe=vs.round_pipe(0.1, 0), length=0).add(
            vs.Fan("fan", flow=[0, 0.1], pressure=[300, 0], density=air.density))

    def short(q, other):  # Pa that a fan lacks; nothing is lost where air comes in at a roof
        end = air.density / 2 * (q / AREA)**2 if q > 0 else 0.0
        return q * abs(q) / soil**2 + shared * other + end - 300 + 3000 * q

    def excess(q):
        other = optimize.brentq(short, -1, 1, args=(q,), xtol=1e-16, rtol=1e-14)
        return -short(q, other)

    expected = scan(excess, np.linspace(-0.1, 0.1, 4001))
    assert len(expected) == 3
    points = net.operating_points(0)
    for point in points:
        assert point.flags & vs.PointFlag.MORE_POSSIBLE
        assert not point.flags & vs.PointFlag.TOUCHING
        q, is_stable = min(expected, key=lambda e: abs(e[0] - point.flow))
        assert point.is_stable == is_stable
        assert point.solution().flow(net.find_run("riser a")) == pytest.approx(point.flow, rel=1e-9)


@pytest.fixture
def gates():
    """Two legs with a gate each."""
    air = vs.Air(288.15, 101325, 0)
    net = vs.Network(soil_gas=air, outdoors=air)
    wye, roof = net.junction("wye", vs.wye(math.pi / 4)), net.discharge("roof", vs.open_end(), height=6)
    pipe = vs.round_pipe(0.08, 1e-5)
    for name, soil, length in ("near", 4e-3, 2.0), ("far", 3e-3, 12.0):
        pit = net.suction_point(f"{name} pit", soil=vs.soil_power(soil, 0.5))
        leg = net.run(f"{name} leg", pit, wye, pipe=pipe, length=length)
        leg.add(vs.slide_gate(1.0))
    riser = net.run("riser", wye, roof, pipe=pipe, length=5)
    riser.add(vs.Fan("fan", flow=[0, 0.12], pressure=[500, 0]))
    return net


def test_balanced(gates):
    targets = {"near leg.flow": (0.015, 1e-5), "far leg.flow": (0.015, 1e-5)}
    before = gates.solve().flow(gates.find_run("near leg"))
    adjust = {"near leg.opening": None, "far leg.opening": None, "riser.speed": (0.3, 1)}
    found = gates.balance(targets, adjust)
    assert found.is_met and found.verdict.startswith("Balanced: 2 of 2 targets")
    assert found.settings["far leg.opening"].is_wide_open
    assert found.settings["far leg.opening"].value == 1
    assert not found.settings["near leg.opening"].is_wide_open
    assert found.settings["riser.speed"].low == 0.3
    assert gates.solve().flow(gates.find_run("near leg")) == before  # nothing was set
    assert found.apply() is gates
    solution = gates.solve()
    for name in "near leg", "far leg":
        assert solution.flow(gates.find_run(name)) == pytest.approx(0.015, abs=1.01e-5)
    assert gates._fans[0][1] == found.settings["riser.speed"].value
    copy = gates.copy()
    assert copy.solve().flow(copy.find_run("riser")) == solution.flow(gates.find_run("riser"))


def test_what_cannot_be(gates):
    found = gates.balance({"far pit.pressure": (-480.0, 1.0)},
                          ["near leg.opening", "far leg.opening"])
    assert not found.is_met
    target = found.targets["far pit.pressure"]
    assert target.achieved > -480 and target.deviation > 1 and not target.is_met
    assert found.settings["far leg.opening"].at_bound == 1
    assert found.settings["near leg.opening"].at_bound == -1
    assert "far pit.pressure cannot be -480 Pa" in found.verdict
    assert "stands at its" in found.verdict and repr(found) == f"<balanced: {found.verdict}>"
    assert "nothing may be adjusted" in gates.balance({"riser.flow": (1.0, 0.1)}, []).verdict


def by_hand(soils=(4e-3, 3e-3), curve=([0, 0.12], [500, 0]), damper=None):
    """Two legs without length, a junction without loss: each leg is soil and a stated coefficient."""
    air = vs.Air(288.15, 101325, 0)
    net = vs.Network(soil_gas=air, outdoors=air)
    wye, roof = net.junction("wye", vs.junction_lossless()), net.discharge("roof", vs.open_end(), height=0)
    pipe = vs.round_pipe(0.1, 0)
    for name, soil in zip(("near", "far"), soils):
        pit = net.suction_point(f"{name} pit", soil=vs.soil_power(soil, 0.6))
        net.run(f"{name} leg", pit, wye, pipe=pipe, length=0).add(damper or vs.fitting_constant(1.0))
    net.run("riser", wye, roof, pipe=pipe, length=0).add(
        vs.Fan("fan", flow=curve[0], pressure=curve[1], density=air.density))
    return net, air.density / (2 * AREA**2)


@pytest.mark.parametrize("share", [0.9, 0.6, 0.3])
def test_balanced_by_hand(share):
    soils = 1.6e-3, 1.1e-3
    net, c = by_hand(soils)
    near = share * net.solve().flow(net.find_run("near leg"))

    def branches(x):
        far, k = x[0] * near, x[1]
        vacuum = 500 * (1 - (near + far) / 0.12) - c * (near + far)**2
        return [(near / soils[0])**(1 / 0.6) + k * c * near**2 - vacuum,
                (far / soils[1])**(1 / 0.6) + 1.0 * c * far**2 - vacuum]

    far, k = optimize.fsolve(branches, [1.0, 10.0], xtol=1e-12)
    assert max(map(abs, branches([far, k]))) < 1e-10 * 500 and k > 1
    found = net.balance({"near leg.flow": (near, 1e-6 * near)}, {"near leg[1].factor": (0, 1000)})
    assert found.is_met
    assert found.settings["near leg[1].factor"].value == pytest.approx(k, rel=1e-9)
    solution = found.apply().solve()
    assert solution.flow(net.find_run("near leg")) == pytest.approx(near, rel=1e-9)
    assert solution.flow(net.find_run("far leg")) == pytest.approx(far * near, rel=1e-9)


STALLING = [0.02, 0.03, 0.12], [200, 400, 0]  # with the gates down its curve ends before the system's


@pytest.mark.parametrize("opening, can_be_solved", [(0.02, False), (0.05, False), (0.3, True)])
def test_balanced_past_settings_that_cannot_be_solved(opening, can_be_solved):
    net, _ = by_hand(curve=STALLING, damper=vs.slide_gate(opening))
    if can_be_solved:
        net.solve()
    else:
        with pytest.raises(vs.NoOperatingPointError):
            net.solve()
    wanted = by_hand(curve=STALLING, damper=vs.slide_gate(0.8))[0]
    targets = {f"{name} leg.flow": (wanted.solve().flow(wanted.find_run(f"{name} leg")), 1e-6)
               for name in ("near", "far")}
    found = net.balance(targets, ["near leg.opening", "far leg.opening"])
    assert found.is_met and found.settings["near leg.opening"].before == opening
    for setting in found.settings.values():
        assert setting.value == pytest.approx(0.8, abs=1e-3)
    if not can_be_solved:
        with pytest.raises(vs.NoOperatingPointError):  # where nothing may be turned it is told
            net.balance(targets, [])


def test_a_long_verdict_is_told_whole():
    air = vs.Air(288.15, 101325, 0)
    net = vs.Network(soil_gas=air, outdoors=air)
    wye, roof = net.junction("wye", vs.junction_lossless()), net.discharge("roof", vs.open_end(), height=0)
    names = [f"leg {i} of a long name" for i in range(60)]
    for name in names:
        pit = net.suction_point(f"pit of {name}", soil=vs.soil_power(1e-4, 0.6))
        net.run(name, pit, wye, pipe=vs.round_pipe(0.1, 0), length=0)
    net.run("riser", wye, roof, pipe=vs.round_pipe(0.1, 0), length=0).add(
        vs.Fan("fan", flow=[0, 0.12], pressure=[500, 0]))
    verdict = net.balance({f"{name}.flow": (1.0, 1e-3) for name in names}, []).verdict
    assert len(verdict) > 4000 and verdict.endswith("nothing may be adjusted.")
    assert all(f"{name}.flow cannot be 1000 L/s (2119 cfm)" in verdict for name in names)


@pytest.mark.parametrize("targets, adjust, error, words", [
    ({"near log.flow": (1, 1)}, [], vs.NotFoundError, "near leg"),
    ({"near leg.flow": (1, 1)}, ["near leg.openning"], vs.NotFoundError, "opening"),
    ({"near leg.flow": (1, 0)}, [], vs.ArgumentError, "tolerance"),
    ({"near leg.flow": (math.nan, 1)}, [], vs.ArgumentError, "value"),
    ({"near leg.flow": (1, 1)}, {"near leg.opening": (0.5, 2)}, vs.ArgumentError, "high"),
    ({"near leg.flow": (1, 1)}, ["outdoor_temperature"], vs.ArgumentError, "cannot be set"),
    ({"near leg.flow": (1, 1)}, ["roof.factor"], vs.ArgumentError, "cannot be set"),
    ({"near leg.flow": (1, 1)}, ["riser.speed", "riser[1].speed"], vs.DuplicateError, "already"),
    ({}, [], vs.ArgumentError, "no target"),
    ({"near leg.flow": 1}, [], TypeError, "pair"),
    ({"near leg.flow": (1, 2, 3)}, [], TypeError, "3 numbers"),
    ({"near leg.flow": ("a", 2)}, [], TypeError, "number"),
    ({1: (1, 2)}, [], TypeError, "str"),
    ([("near leg.flow", 1)], [], TypeError, "dict"),
    ({"near leg.flow": (1, 1)}, "riser.speed", TypeError, "not one str"),
    ({"near leg.flow": (1, 1)}, {"riser.speed": 1}, TypeError, "pair of bounds"),
])
def test_refused_balances(gates, targets, adjust, error, words):
    with pytest.raises(error, match=words):
        gates.balance(targets, adjust)
