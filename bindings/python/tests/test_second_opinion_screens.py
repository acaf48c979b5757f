# SPDX-License-Identifier: GPL-3.0-or-later
"""Screens and terminations against the formulas of the fluids package, over random states.

Where both claim the same formula they agree to 1e-9. Where not, the difference and its reason stand
with the test:

- Blevins' round wires: the package stops at nothing, the library's free areas end at 0.05.
- Blevins' square edges: the package goes on below 0.05 by extrapolation; left out.
- Blevins' thick grill: the package has 1 - a^2 where the momentum loss of the jets is (1 - a)^2, so
  that a thick plate costs as much as a thin one. The library has Idelchik's thick edge instead.
- Blevins' open meshes hold from 0.85 free area on; the library has no such formula, and its default
  lies within its own uncertainty of them.
- Diffusers: fluids takes the friction factor it is given; here the library's own. The mouth's exit is
  added here.
"""

import math

import numpy as np
import pytest
import ventstack as vs

fluids = pytest.importorskip("fluids", reason="python3-fluids gives the second opinion")
filters = pytest.importorskip("fluids.filters")
fittings = pytest.importorskip("fluids.fittings")
RNG = np.random.default_rng(19930203)
BORE = 0.1
SMOOTH = vs.round_pipe(BORE, 0.0)


def by(part, author, reynolds, title=""):
    """The part's K by the formula of one author."""
    found = [k for k in part.alternatives(SMOOTH, reynolds)
             if author in k.source.author and title in k.source.place]
    assert len(found) == 1, found
    return found[0].value


def decades(low, high):
    return math.exp(RNG.uniform(math.log(low), math.log(high)))


def random_mesh():
    wire = decades(1e-4, 3e-3)
    return wire, wire * decades(0.4, 30)


def test_round_wires():
    for _ in range(1000):
        wire, opening = random_mesh()
        reynolds = decades(1e3, 1e6)
        other = filters.round_edge_screen(vs.guard_free_area(wire, opening), reynolds * wire / BORE)
        screen = vs.screen(wire, opening)
        assert by(screen, "Blevins", reynolds) == pytest.approx(other, rel=1e-9)
        guard = vs.end_guard(wire, opening)
        assert by(guard, "Blevins", reynolds) == pytest.approx(1 + other, rel=1e-9)


def test_round_wires_of_a_dome_and_behind_leaves():
    for _ in range(500):
        wire, opening = random_mesh()
        ratio, free, reynolds = RNG.uniform(1, 10), RNG.uniform(0.05, 1), decades(1e4, 1e6)
        speed = 1 / (ratio * free)
        mesh = filters.round_edge_screen(vs.guard_free_area(wire, opening),
                                         speed * reynolds * wire / BORE)
        leaves = vs.open_end().blocked(free_area=free).coefficient(SMOOTH, reynolds).value
        dome = vs.end_dome(wire, opening, ratio).blocked(free_area=free)
        assert by(dome, "Blevins", reynolds) == pytest.approx(leaves + speed**2 * mesh, rel=1e-9)


def test_square_edges():
    for _ in range(500):
        free = RNG.uniform(0.05, 1)
        k = by(vs.square_screen(free), "Blevins", 5e4)
        assert k == pytest.approx(filters.square_edge_screen(free), rel=1e-9, abs=1e-12)


def test_thick_plates_differ():
    """The package's thick grill costs as much as its thin screen: 1 - a^2 for (1 - a)^2."""
    for free in np.linspace(0.3, 0.8, 11):
        plate = vs.perforated_plate(free, 6e-3, 12e-3).coefficient(SMOOTH, 5e4)
        other = filters.square_edge_grill(free)
        assert plate.value + 2 * plate.uncertainty < other
        thin = filters.square_edge_screen(free)
        assert plate.value < 0.8 * thin < other


def test_open_meshes_lie_within_the_uncertainty():
    for free in np.linspace(0.86, 0.98, 13):
        wire = 1e-3
        opening = wire * math.sqrt(free) / (1 - math.sqrt(free))
        k = vs.screen(wire, opening).coefficient(SMOOTH, 1e5)
        other = filters.round_edge_open_mesh(free, subtype="round bar screen")
        assert abs(k.value - other) < 2 * k.uncertainty


def test_conical_outlets():
    for _ in range(500):
        ratio, angle = RNG.uniform(1.01, 3), RNG.uniform(1, 20)
        reynolds = decades(1e4, 1e6)
        f = vs.friction_factor(reynolds, 0.0)
        cone = vs.end_cone(ratio, np.radians(angle))
        for author in ("Rennels", "Crane"):
            other = fittings.diffuser_conical(Di1=BORE, Di2=ratio * BORE, angle=angle, fd=f,
                                              method=author)
            assert by(cone, author, reynolds) == pytest.approx(other + ratio**-4, rel=1e-9)
        other = fittings.contraction_conical(Di1=ratio * BORE, Di2=BORE, angle=angle, fd=f,
                                             method="Rennels")
        assert by(cone, "Rennels", -reynolds) == pytest.approx(other + 0.57 * ratio**-4, rel=1e-9)


def test_ends_of_pipes():
    """The exit is 1 in both, and a partly free end is at least that of its velocity."""
    assert vs.open_end().coefficient(SMOOTH, 5e4).value == fittings.exit_normal()
    for free in np.linspace(0.05, 1, 20):
        k = vs.open_end().blocked(free_area=free).coefficient(SMOOTH, 5e4).value
        assert fittings.exit_normal() / free**2 <= k * (1 + 1e-12)


def test_blockage_in_a_network(stack):
    """Ice takes flow; the share that is blocked is a parameter of the network like any other."""
    flows = []
    for free in (1.0, 0.5, 0.2, 0.05):
        stack.net.termination = vs.open_end().blocked(free_area=free)
        assert stack.net.termination.free_area == pytest.approx(free)
        flows.append(stack.net.solve().flow(stack.riser))
    assert flows == sorted(flows, reverse=True) and flows[-1] < flows[0] / 2


def test_words():
    half = vs.open_end().blocked(free_area=0.5)
    assert half.describe() == "open end, 0.5 of it free: all of the air leaves straight up"
    assert repr(half) == "<open end, free_area=0.5>" and half != vs.open_end()
    assert half.blocked(free_area=1.0) == vs.open_end()
    assert vs.end_elbow(np.radians(60), 1.0).rain_openness == pytest.approx(0.5)
    assert vs.end_cone(2.0, 0.2).streams[0].area_ratio == 4.0
    with pytest.raises(vs.ArgumentError, match="free_area"):
        vs.open_end().blocked(free_area=0.0)
    with pytest.raises(vs.ArgumentError, match="only a guard"):
        vs.end_tee().iced(1e-3)
    with pytest.raises(vs.ArgumentError, match="thickness"):
        vs.end_guard(1e-3, 1e-2).iced(math.nan)
