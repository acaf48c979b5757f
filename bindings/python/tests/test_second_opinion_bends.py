# SPDX-License-Identifier: GPL-3.0-or-later
"""Bends and general forms against the formulas of the fluids package, over random states.

Where both claim the same formula they agree to 1e-9. Where not, the difference and its reason stand
with the test:

- Rennels and Hudson: fluids takes the friction factor it is given; here the library's own.
- Ito: fluids has another formula where Re (D/r)^2 is at most 360; those states are left out.
- Miller: fluids has a spline through digitised curves, the library a table of points of them: 10 %.
  Fluids takes his rule for sharp bends at radius ratios up to 0.7, here it fades out up to 0.8.
- Crane: fluids fits friction factor and L/D; from 90 degrees on within 5 %. Below, its formula for
  coils of quarter turns does not go to 0 with the angle; here K is in proportion to it.
- Blevins' and Crane's mitres end at 120 and 90 degrees.
"""

import math

import numpy as np
import pytest
import ventstack as vs

fluids = pytest.importorskip("fluids", reason="python3-fluids gives the second opinion")
fittings = pytest.importorskip("fluids.fittings")
RNG = np.random.default_rng(20240611)
BORE = 0.1
SMOOTH = vs.round_pipe(BORE, 0.0)


def source_of(fitting, author):
    """The fitting by the formula of one author."""
    found = [k.source for k in fitting.alternatives(SMOOTH, 5e4) if author in k.source.author]
    assert len(found) == 1, found
    return fitting.by_source(found[0])


def states(count=300, angles=(5.0, 180.0), ratios=(0.5, 10.0), reynolds=(1.05e4, 9e5)):
    for _ in range(count):
        yield (RNG.uniform(*angles), RNG.uniform(*ratios),
               math.exp(RNG.uniform(*np.log(reynolds))))


def by(author, angle, ratio, reynolds, pipe=SMOOTH):
    return source_of(vs.elbow(np.radians(angle), ratio), author).coefficient(pipe, reynolds).value


def test_rennels():
    for angle, ratio, re in states():
        f = float(vs.friction_factor(re, 0.0))
        other = fittings.bend_rounded(Di=BORE, angle=angle, fd=f, bend_diameters=ratio,
                                      method="Rennels")
        assert vs.elbow(np.radians(angle), ratio).coefficient(SMOOTH, re).value == pytest.approx(
            other, rel=1e-9)
        if angle <= 150:
            assert vs.mitre(np.radians(angle)).coefficient(SMOOTH, re).value == pytest.approx(
                fittings.bend_miter(angle, method="Rennels"), rel=1e-9)


def test_ito():
    met = 0
    for angle, ratio, re in states(ratios=(0.5, 9.8)):
        if re / ratio**2 <= 360:
            continue
        met += 1
        other = fittings.bend_rounded(Di=BORE, angle=angle, Re=re, bend_diameters=ratio,
                                      method="Ito")
        assert by("Ito", angle, ratio, re) == pytest.approx(other, rel=1e-9)
    assert met > 200


def test_miller():
    for low, high in ((0.55, 0.7), (0.8, 8.0)):
        for angle, ratio, re in states(ratios=(low, high), angles=(15.0, 115.0)):
            other = fittings.bend_rounded(Di=BORE, angle=angle, Re=re, bend_diameters=ratio,
                                          L_unimpeded=30 * BORE, method="Miller")
            assert by("Miller", angle, ratio, re) == pytest.approx(other, rel=0.10)


def test_miller_outlet():
    """Read from the same chart at points; the sharpest change is over half a bore behind the bend."""
    for angle, ratio, re in states(ratios=(1.0, 4.0), angles=(45.0, 115.0)):
        length = RNG.uniform(1.0, 30.0)
        whole, short = (fittings.bend_rounded(Di=BORE, angle=angle, Re=re, bend_diameters=ratio,
                                              L_unimpeded=outlet * BORE, method="Miller")
                        for outlet in (30.0, length))
        part = vs.elbow_outlet(np.radians(angle), ratio, length).coefficient(SMOOTH, re).value
        elbow = vs.elbow(np.radians(angle), ratio).coefficient(SMOOTH, re).value
        assert part / elbow == pytest.approx(short / whole, rel=0.05)


def test_crane():
    for angle, ratio, _ in states(angles=(90.0, 180.0), ratios=(1.0, 10.0)):
        bore = RNG.uniform(0.05, 0.2)
        other = fittings.bend_rounded(Di=bore, angle=angle, bend_diameters=ratio, method="Crane")
        mine = by("Crane", angle, ratio, 5e4, vs.round_pipe(bore, 0.0))
        assert mine == pytest.approx(other, rel=0.05)


def test_mitres():
    for angle, _, re in states(angles=(0.1, 120.0)):
        mitre = vs.mitre(np.radians(angle))
        blevins = source_of(mitre, "Blevins").coefficient(SMOOTH, re).value
        assert blevins == pytest.approx(
            fittings.bend_miter(angle, Re=re, method="Blevins"), rel=1e-9)
        if 15 <= angle <= 90:
            crane = source_of(mitre, "Crane").coefficient(SMOOTH, re).value
            assert crane == pytest.approx(
                fittings.bend_miter(angle, Di=BORE, method="Crane"), rel=0.01)
        if angle >= 60:
            miller = source_of(mitre, "Miller").coefficient(SMOOTH, re).value
            assert miller == pytest.approx(
                fittings.bend_miter(angle, Di=BORE, Re=re, L_unimpeded=30 * BORE, method="Miller"),
                rel=0.03)


def test_general_forms():
    for _ in range(300):
        re = math.exp(RNG.uniform(np.log(1.0), np.log(1e7)))
        inches, k1, ki, kd = RNG.uniform((0.5, 0, 0, 0), (12, 2000, 3, 6))
        bore = inches * 0.0254
        pipe = vs.round_pipe(bore, 0.0)
        three = vs.fitting_three_constant(k1, ki, kd, bore).coefficient(pipe, re).value
        assert three == pytest.approx(fluids.Darby3K(NPS=inches, Re=re, K1=k1, Ki=ki, Kd=kd),
                                      rel=1e-9)
        two = vs.fitting_two_constant(k1, ki).coefficient(pipe, re).value
        assert two == pytest.approx(fluids.Hooper2K(Di=inches, Re=re, K1=k1, Kinfty=ki), rel=1e-9)


def test_equivalent_length():
    for _ in range(300):
        re, k = 10.0**RNG.uniform(3.7, 6), RNG.uniform(0.01, 10)
        f = float(vs.friction_factor(re, 0.0))
        length = vs.equivalent_length(k, SMOOTH, re)
        assert fluids.core.K_from_f(fd=f, L=length, D=BORE) == pytest.approx(k, rel=1e-9)
        assert vs.equivalent_length_coefficient(length, SMOOTH, re) == pytest.approx(k, rel=1e-12)
        assert vs.fitting_equivalent_length(length / BORE).coefficient(SMOOTH, re).value == (
            pytest.approx(fluids.core.K_from_L_equiv(L_D=length / BORE, fd=f), rel=1e-9))


@pytest.mark.parametrize("find, name, nearest", [
    (lambda name: vs.fitting_three_constant_find(name, 0.1), "elbow 90 treaded", "elbow 90 threaded"),
    (vs.fitting_two_constant_find, "buterfly valv", "butterfly valve"),
])
def test_names(find, name, nearest):
    with pytest.raises(vs.NotFoundError, match=nearest):
        find(name)
    assert find(nearest).name.endswith("constant form")


def test_every_name_is_found():
    assert len(vs.fitting_three_constant_names()) == 34
    assert len(vs.fitting_two_constant_names()) == 32
    for name in vs.fitting_three_constant_names():
        vs.fitting_three_constant_find(name, 0.1)
    for name in vs.fitting_two_constant_names():
        vs.fitting_two_constant_find(name)
