# SPDX-License-Identifier: GPL-3.0-or-later
"""The solver against the same physics written separately, on SciPy and the `fluids` package.

Nothing here calls the library for a law: friction is fluids' Colebrook with the documented blend to
64/Re, the fittings are fluids' formulas, fan curves are Steffen slopes on SciPy's Hermite spline, soil,
junctions, buoyancy and terminations are written out below from the documentation. Only the state of
the air (density and viscosity at a temperature), the bores of the catalogue and the topology are
taken over: they are the problem, not the answer. SciPy then solves for the flows from a start of its
own.

Two claims are held: flows agree to 1e-9, and mass and pressure balances recomputed here from the flows
and pressures the library returns close to 1e-12 of the largest.
"""

import math
import random

import numpy as np
import pytest
import ventstack as vs
from ventstack.units import inch

fluids = pytest.importorskip("fluids", reason="needs python3-fluids")
optimize = pytest.importorskip("scipy.optimize", reason="needs python3-scipy")
from scipy.interpolate import CubicHermiteSpline  # noqa: E402

GRAVITY = 9.80665
STANDARD_DENSITY = 0.075 * 0.45359237 / 0.3048**3  # kg/m3 of 0.075 lb/ft3
TREES = 200
MOST_RUNS = 60

# ---- the laws, written separately ----------------------------------------------------------------


def friction(reynolds, relative_roughness):
    """64/Re, Colebrook-White, and a smoothstep of Re between 2000 and 4000."""
    if reynolds <= 2000:
        return 64 / reynolds
    turbulent = fluids.friction.Colebrook(reynolds, relative_roughness)
    if reynolds >= 4000:
        return turbulent
    t = (reynolds - 2000) / 2000
    return 64 / reynolds + t * t * (3 - 2 * t) * (turbulent - 64 / reynolds)


class Steffen:
    """A fan's curve: Steffen (1990), end slopes of the end chords, straight lines outside."""

    def __init__(self, flow, pressure):
        x, y = np.array(flow), np.array(pressure)
        h, chord = np.diff(x), np.diff(y) / np.diff(x)
        slope = np.empty(len(x))
        slope[0], slope[-1] = chord[0], chord[-1]
        parabola = (chord[:-1] * h[1:] + chord[1:] * h[:-1]) / (h[:-1] + h[1:])
        least = np.minimum(np.minimum(abs(chord[:-1]), abs(chord[1:])), abs(parabola) / 2)
        slope[1:-1] = (np.sign(chord[:-1]) + np.sign(chord[1:])) * least
        self.ends = ((x[0], y[0], slope[0]), (x[-1], y[-1], slope[-1]))
        self.inside = CubicHermiteSpline(x, y, slope)

    def __call__(self, flow):
        (x0, y0, m0), (x1, y1, m1) = self.ends
        if flow < x0:
            return y0 + m0 * (flow - x0)
        if flow > x1:
            return y1 + m1 * (flow - x1)
        return float(self.inside(flow))


def elbow(angle, ratio):
    def k(f, bore, _, forward):
        return fluids.fittings.bend_rounded(bore, math.degrees(angle), fd=f, bend_diameters=ratio,
                                            method="Rennels")
    return vs.elbow(angle, ratio), k


def mitre(angle):
    value = fluids.fittings.bend_miter(math.degrees(angle), method="Rennels")
    return vs.mitre(angle), lambda f, bore, re, forward: value


def entry(part, inward):
    return part, lambda f, bore, re, forward: inward(bore) if forward else 1.0


def flush():
    value = fluids.fittings.entrance_sharp(method="Idelchik")
    return entry(vs.entry_flush(), lambda bore: value)


def rounded(ratio):
    return entry(vs.entry_rounded(ratio), lambda bore: fluids.fittings.entrance_rounded(
        bore, ratio * bore, method="Rennels"))


def reentrant(ratio):
    return entry(vs.entry_reentrant(ratio), lambda bore: fluids.fittings.entrance_distance(
        bore, t=ratio * bore, method="Rennels"))


def stated(forth, back):
    return (vs.fitting_constant(forth, k_reversed=back),
            lambda f, bore, re, forward: forth if forward else back)


def change_of_bore(bore, other, angle):
    """K on the first pipe's velocity pressure; fluids gives it on the smaller pipe's."""
    def k(f, _, re, forward):
        a, b = (bore, other) if forward else (other, bore)
        if angle is None:
            value = fluids.fittings.diffuser_sharp(a, b, method="Rennels") if a < b \
                else fluids.fittings.contraction_sharp(a, b, method="Rennels")
        else:
            of_cone = fluids.fittings.diffuser_conical if a < b \
                else fluids.fittings.contraction_conical
            value = of_cone(a, b, angle=math.degrees(angle), fd=f, method="Rennels")
        return value * (bore / min(bore, other))**4
    return k


def bend_at_the_end(angle, ratio):
    return lambda f, bore, re: 1 + fluids.fittings.bend_rounded(
        bore, math.degrees(angle), fd=f, bend_diameters=ratio, method="Rennels")


def mesh(wire, opening):
    def k(f, bore, re):
        free = (opening / (opening + wire))**2
        return 1 + (1.3 * (1 - free) + (1 / free - 1)**2) * (1 + 22 / (re * wire / bore))
    return k


def random_termination(rng):
    """A termination and its K for outward flow, from its documentation."""
    angle, ratio, gap = rng.uniform(0.5, math.pi / 2), rng.uniform(0.6, 3), rng.uniform(0.45, 1)
    wire, opening = rng.uniform(5e-4, 2e-3), rng.uniform(3e-3, 2e-2)
    return rng.choice([
        (vs.open_end(), lambda f, bore, re: 1.0),
        (vs.end_elbow(angle, ratio), bend_at_the_end(angle, ratio)),
        (vs.end_return(ratio), bend_at_the_end(math.pi, ratio)),
        (vs.end_tee(), lambda f, bore, re: 1 + 1.5 / 4 + 1 / 4),
        (vs.end_guard(wire, opening), mesh(wire, opening)),
        (vs.rain_cap(gap), lambda f, bore, re: 1 + 0.1 * gap**-2.88),
    ])


def random_soil(rng):
    """A soil and the vacuum that draws a flow."""
    if rng.random() < 0.5:
        c, n = rng.uniform(1e-4, 3e-3), rng.uniform(0.5, 1.0)
        return vs.soil_power(c, n), lambda q: math.copysign((abs(q) / c)**(1 / n), q)
    a, b = rng.uniform(0, 2e4), rng.uniform(1e4, 1e6)
    return vs.soil_two_term(a, b), lambda q: a * q + b * q * abs(q)


def clamp(x):
    return min(max(x, 0.0), 1.0)


class Duct:
    """A pipe at a junction: its unit vector away from there, and its mass flow that way."""

    def __init__(self, away, area, density, flow):
        self.away, self.area, self.density, self.flow = away, area, density, flow
        self.velocity = away * (flow / density / area)


def meeting(ducts):
    """Total pressures where ducts meet, but for the one static pressure air enters at.

    What enters brings its momentum; what leaves by a duct keeps its part along the duct, and loses or
    regains by the change of its own.
    """
    entering = [d for d in ducts if d.flow < 0]
    brought = sum(-d.flow * d.velocity for d in entering) / sum(-d.flow for d in entering)
    return [d.density * ((np.dot(d.velocity, d.velocity) / 2) if d.flow < 0
                         else np.dot(brought, d.velocity) - np.dot(d.velocity, d.velocity) / 2)
            for d in ducts]


class Wye:
    """A straight leg and branches at an angle: momentum, and what measurements say it misses.

    Branches of a wye stand in planes of their own, those of a double wye by turns on either side.
    """

    def __init__(self, angle, double):
        self.angle, self.double = angle, double
        self.slant = clamp(math.sqrt(2) * math.cos(angle))  # 1 up to 45 degrees, 0 for a tee

    def away(self, rank, legs):
        """Where a leg points, seen from the junction."""
        vector = np.zeros(1 + legs)
        vector[0] = -math.cos(self.angle) if rank else -1.0
        if rank:
            vector[1 if self.double else rank] = math.sin(self.angle) * (-1)**rank
        return vector

    def losses(self, legs, combined):
        """Of total pressure from each leg, (area, density, flow towards the junction), to the
        combined pipe, (area, density, flow away from it)."""
        ducts = [Duct(self.away(rank, len(legs)), area, density, -flow)
                 for rank, (area, density, flow) in enumerate(legs)]
        ducts.append(Duct(-self.away(0, len(legs)), *combined))
        total = meeting(ducts)
        area, density, flow = combined
        way = math.copysign(1, flow)
        dynamic = way * flow**2 / (2 * density * area**2)
        shares = [max(way * m, 0) for _, _, m in legs]
        shares = [share / sum(shares) for share in shares]
        of_way = self.joining if way > 0 else self.dividing
        geometry = [(a / area, density / rho) for a, rho, _ in legs]
        return [total[i] - total[-1] + dynamic * of_way(i, shares, geometry)
                for i in range(len(legs))]

    @staticmethod
    def fading(geometry):
        """0 where the legs' areas add up to the combined one."""
        (main, _), branches = geometry[0], sum(f for f, _ in geometry[1:])
        return clamp((main + branches - 1) / branches) if branches else 0

    def joining(self, i, shares, geometry):
        """Idelchik's coefficients less momentum's, made continuous in the share and the areas."""
        fading, q = self.fading(geometry), shares[i]
        if i == 0:
            return -0.45 * fading * (1 - q) * (1 - self.slant * (1 - q))
        cosines = [1.0] + [math.cos(self.angle)] * (len(shares) - 1)
        f, ratio = geometry[i]
        momentum = 1 + ratio * (q / f)**2 - 2 * sum(
            c * r * p**2 / a for c, p, (a, r) in zip(cosines, shares, geometry))
        return -0.45 * fading * clamp((f - 0.2) / 0.3) * min(q / 0.4, 1) * momentum

    def dividing(self, i, shares, geometry):
        """The straight leg as Gardel and Crane have it, the branches as Crane, less momentum's."""
        f, ratio = geometry[i]
        v = shares[i] / f
        if i == 0:
            turned, branches = 1 - shares[0], [a for a, _ in geometry[1:]]
            narrow = sum(branches) / max(len(branches), 1)
            wide = self.fading(geometry) * clamp((narrow - 0.2) / 0.3)
            slowing = 1 - 2 * v + ratio * v * v
            return (-clamp(5 * turned) * (0.6 + 0.05 * wide) * slowing
                    - 0.2 * wide * turned * (1 - turned))
        slanted = self.slant * self.fading(geometry) * clamp((f - 0.2) / 0.3)
        slanted *= min(0.6 * shares[i], 0.36)
        return (-slanted * (1 + ratio * v * v - 2 * math.cos(self.angle) * v)
                - (0.5 + 0.2 * clamp((f - 0.2) / 0.3)) * (1 - self.slant) * ratio * v * v)


# ---- a tree, twice: as a network of the library and as the equations above ------------------------


class Segment:
    """A pipe with its fittings, and whatever stands at its end."""

    def __init__(self, pipe, length):
        self.pipe, self.bore, self.length = pipe, pipe.width, length
        self.area = math.pi / 4 * self.bore**2
        self.roughness = pipe.roughness / self.bore
        self.fittings = []  # K function and count

    def loss(self, mass_flow, density, viscosity):
        if mass_flow == 0:
            return 0.0
        velocity = mass_flow / (density * self.area)
        reynolds = abs(mass_flow) * self.bore / (viscosity * self.area)
        f = friction(reynolds, self.roughness)
        k = f * self.length / self.bore
        k += sum(count * k_of(f, self.bore, reynolds, mass_flow > 0)
                 for k_of, count in self.fittings)
        return k * density * velocity * abs(velocity) / 2


class Branch:
    """A run and the node it starts at."""

    def __init__(self, parent):
        self.parent = parent  # the run it flows into, None for the trunk
        self.feeders = []
        self.fan = None


class Tree:
    def __init__(self, seed, runs):
        rng = random.Random(seed)
        pressure = rng.uniform(8e4, 1.03e5)
        self.soil_gas = vs.Air(rng.uniform(278, 292), pressure, rng.uniform(0.5, 1))
        self.outdoors = vs.Air(rng.uniform(248, 305), pressure, rng.uniform(0.1, 1))
        self.net = vs.Network(soil_gas=self.soil_gas, outdoors=self.outdoors)
        self.net.wind_pressure = rng.uniform(-10, 10)
        self.net.building_pressure = rng.uniform(-5, 2)
        self.branches = []
        for i in range(runs):
            self.branches.append(Branch(self.branches[rng.randrange(i)] if i else None))
        for branch in self.branches[1:]:
            branch.parent.feeders.append(branch)
        top, self.end_k = random_termination(rng)
        self.height = rng.uniform(4, 10)
        self.roof = self.net.discharge("roof", top, height=self.height)
        for i, branch in enumerate(self.branches):
            self.add_node(rng, i, branch)
        for i, branch in enumerate(self.branches):
            self.add_run(rng, i, branch)
        self.leaves = [b for b in self.branches if not b.feeders]

    def add_node(self, rng, i, branch):
        if branch.feeders:
            angle = rng.choice([math.radians(45), math.radians(90), rng.uniform(0.4, math.pi / 2)])
            kind = rng.random()
            branch.law = Wye(angle, double=kind < 0.2) if kind < 0.7 else None
            law = vs.junction_lossless()
            if branch.law:
                law = (vs.double_wye if branch.law.double else vs.wye)(angle)
            branch.node = self.net.junction(f"junction {i}", law)
        else:
            soil, branch.soil = random_soil(rng)
            branch.node = self.net.suction_point(f"pit {i}", soil=soil)
        branch.height = branch.node.height = rng.uniform(-1, 4)

    def add_run(self, rng, i, branch):
        def pipe():
            return vs.pipe("PVC 40", rng.choice([2, 3, 4, 6]) * inch)
        first = Segment(pipe(), rng.uniform(0.2, 12))
        end = branch.parent.node if branch.parent else self.roof
        run = branch.run = self.net.run(f"run {i}", branch.node, end, pipe=first.pipe,
                                        length=first.length)
        branch.segments = [first]
        self.add_fittings(rng, branch)
        if not branch.parent or rng.random() < 0.12:
            self.add_fan(rng, branch)
        if rng.random() < 0.3:
            self.add_pipe(rng, branch, Segment(pipe(), rng.uniform(0.2, 5)))
            self.add_fittings(rng, branch)
        run.temperature = rng.uniform(268, 300)
        branch.air = self.soil_gas.at_temperature(run.temperature)

    def add_fittings(self, rng, branch):
        for _ in range(rng.randrange(4)):
            part, k_of = rng.choice([
                lambda: elbow(rng.uniform(0.3, math.pi / 2), rng.uniform(0.6, 3)),
                lambda: mitre(rng.uniform(0.3, math.pi / 2)), flush,
                lambda: rounded(rng.uniform(0, 0.6)), lambda: reentrant(rng.uniform(0, 0.1)),
                lambda: stated(rng.uniform(0, 3), rng.uniform(0, 3))])()
            count = rng.randint(1, 3)
            branch.run.add(part, count=count)
            branch.segments[-1].fittings.append((k_of, count))

    def add_pipe(self, rng, branch, segment):
        # the library bridges gaps of the source's cone angles at 20 to 21 and 60 to 65 degrees
        angle = rng.choice([None, math.radians(rng.uniform(5, 20)), math.radians(rng.uniform(21, 60)),
                            math.radians(rng.uniform(65, 175))])
        branch.run.add_pipe(segment.pipe, segment.length, math.pi if angle is None else angle)
        before = branch.segments[-1]
        if before.bore != segment.bore:
            before.fittings.append((change_of_bore(before.bore, segment.bore, angle), 1))
        branch.segments.append(segment)

    def add_fan(self, rng, branch):
        most, highest = rng.uniform(0.03, 0.15), rng.uniform(150, 900)
        power, speed = rng.uniform(1.2, 2.5), rng.uniform(0.7, 1.1)
        flow = [most * i / 6 for i in range(7)]
        pressure = [highest * (1 - (i / 6)**power) for i in range(7)]
        branch.run.add(vs.Fan("drawn at random", flow=flow, pressure=pressure)).speed = speed
        branch.fan = (Steffen(flow, pressure), speed)

    # ---- the equations ----

    def flows(self, at_leaves):
        """Mass flow of every run from those at the suction points."""
        flow = {id(leaf): m for leaf, m in zip(self.leaves, at_leaves)}
        for branch in reversed(self.branches):  # feeders come after what they feed
            if branch.feeders:
                flow[id(branch)] = math.fsum(flow[id(f)] for f in branch.feeders)
        return flow

    def drop(self, branch, m):
        """Total pressure from a run's start to its end, against outdoors at either height."""
        density, viscosity = branch.air.density, branch.air.viscosity
        drop = sum(segment.loss(m, density, viscosity) for segment in branch.segments)
        end = branch.parent.height if branch.parent else self.height
        drop -= (self.outdoors.density - density) * GRAVITY * (end - branch.height)
        if branch.fan:
            curve, speed = branch.fan
            drop -= density / STANDARD_DENSITY * speed**2 * curve(m / density / speed)
        if not branch.parent:
            last = branch.segments[-1]
            velocity = m / (density * last.area)
            reynolds = abs(m) * last.bore / (viscosity * last.area)
            k = self.end_k(friction(reynolds, last.roughness), last.bore, reynolds)
            drop += k * density * velocity * abs(velocity) / 2
        return drop

    def joining(self, branch, flow):
        """Total pressure from a run's end into the run it joins."""
        into = branch.parent
        if not into or not into.law:
            return 0.0
        legs = [(f.segments[-1].area, f.air.density, flow[id(f)]) for f in into.feeders]
        combined = (into.segments[0].area, into.air.density, flow[id(into)])
        return into.law.losses(legs, combined)[into.feeders.index(branch)]

    def residuals(self, at_leaves):
        """At every suction point: vacuum there is less vacuum the soil needs."""
        flow = self.flows(at_leaves)
        start = {None: self.net.wind_pressure}
        for branch in self.branches:  # the trunk first, then what feeds it
            end = start[id(branch.parent) if branch.parent else None]
            start[id(branch)] = (end + self.joining(branch, flow)
                                 + self.drop(branch, flow[id(branch)]))
        return np.array([-start[id(leaf)] - leaf.soil(flow[id(leaf)] / self.soil_gas.density)
                         for leaf in self.leaves])

    def solve(self, start=None):
        """Flows at the suction points by SciPy, from shares of 3 m/s in the trunk; None if it fails."""
        trunk = self.branches[0]
        scale = 3 * trunk.air.density * trunk.segments[0].area / len(self.leaves)
        if len(self.leaves) == 1:
            residual = lambda x: self.residuals([x * scale])[0]  # noqa: E731
            return np.array([optimize.brentq(residual, 1e-9, 100, xtol=1e-16, rtol=1e-15)]) * scale
        residual = lambda x: self.residuals(x * scale)  # noqa: E731
        x = np.ones(len(self.leaves)) if start is None else start
        for _ in range(4):
            answer = optimize.root(residual, x, method="hybr", options={"xtol": 1e-13})
            x = answer.x
            if np.max(abs(answer.fun)) < 1e-9:
                break
        if np.max(abs(answer.fun)) > 1e-6:
            return None
        for _ in range(2):  # the last digits, by Newton's step
            x = x - np.linalg.solve(jacobian(residual, x), residual(x))
        return x * scale


def jacobian(function, x):
    """Central differences."""
    columns = []
    for i, value in enumerate(x):
        step = np.zeros(len(x))
        step[i] = 1e-6 * max(abs(value), 1e-3)
        columns.append((function(x + step) - function(x - step)) / (2 * step[i]))
    return np.array(columns).T


# ---- the checks -----------------------------------------------------------------------------------


def returned(tree, point):
    return {id(b): point.mass_flow(b.run) for b in tree.branches}


def check_balances(tree, point):
    """Mass and pressure, from what the library returned, by the laws of this file."""
    flow = returned(tree, point)
    greatest = max(abs(m) for m in flow.values())
    for b in tree.branches:
        if b.feeders:
            assert abs(math.fsum(flow[id(f)] for f in b.feeders) - flow[id(b)]) <= 1e-12 * greatest
    room = tree.net.building_pressure
    scale = max(abs(point.pressure(b.node) + room) for b in tree.branches)
    for b in tree.branches:
        here = point.pressure(b.node) + room
        end = point.pressure(b.parent.node) + room if b.parent else tree.net.wind_pressure
        rest = here - (end + tree.joining(b, flow) + tree.drop(b, flow[id(b)]))
        assert abs(rest) <= 1e-12 * scale
        if not b.feeders:
            rest = here + b.soil(flow[id(b)] / tree.soil_gas.density)
            assert abs(rest) <= 1e-12 * scale


def drawn_tree(number):
    """The trees grow from one run to sixty."""
    return Tree(seed=number, runs=1 + number * (MOST_RUNS - 1) // (TREES - 1))


def agree(tree, flow, at_leaves):
    """Every flow to 1e-9 of itself; one that all but stands still, to 1e-13 of the largest."""
    if at_leaves is None:
        return False
    expected = tree.flows(at_leaves)
    greatest = max(abs(m) for m in expected.values())
    return all(abs(flow[i] - m) <= max(1e-9 * abs(m), 1e-13 * greatest)
               for i, m in expected.items())


def agrees_from_some_start(tree, flow, seed):
    """Whether SciPy finds the same point from other shares, drawn without a look at it."""
    rng = np.random.default_rng(seed)
    return any(agree(tree, flow, tree.solve(rng.lognormal(0, 1, len(tree.leaves))))
               for _ in range(40))


@pytest.mark.parametrize("part", range(10))
def test_random_trees(part):
    """At junctions that draw one leg by another a tree may have several points: then the library's must
    be one of those SciPy finds from other starts. That is seldom."""
    several = []
    for number in range(part, TREES, 10):
        tree = drawn_tree(number)
        point = tree.net.solve()
        check_balances(tree, point)
        flow = returned(tree, point)
        if not agree(tree, flow, tree.solve()):
            several.append(number)
            assert agrees_from_some_start(tree, flow, number), number
    assert len(several) <= 1, several


def test_the_check_can_fail():
    """A change of a tenth of a per cent in one coefficient is seen by both claims."""
    tree = drawn_tree(100)
    point = tree.net.solve()
    end_k = tree.end_k
    tree.end_k = lambda f, bore, re: 1.001 * end_k(f, bore, re)
    with pytest.raises(AssertionError):
        check_balances(tree, point)
    assert not agree(tree, returned(tree, point), tree.solve())
