# SPDX-License-Identifier: GPL-3.0-or-later
"""Changes of bore and entries against the formulas of the fluids package, over random states.

Where both claim the same formula they agree to 1e-9. Where not, the difference and its reason stand
with the test:

- Rennels and Hudson's cones: between their ranges of angle (20 to 21, 60 to 65 and from 175 degrees)
  the library has bridges; those states are left out.
- Hooper: fluids turns to laminar formulas below Re 2500 and 4000; the library has none.
- Idelchik's diffuser: fluids has a spline through the diagram, held from an area ratio of 0.6 on (those
  states are left out), the library his formula up to 40 degrees and three values beyond, and
  friction by theory instead of by table: 0.03 and 12 %.
- Idelchik's rounded edge: fluids has the table, the library a formula through it: 0.02.
- Idelchik's bevel: fluids holds the table's first row below a length of 0.025 bores, the library goes
  on to the sharp edge; those states are left out.
- The reducer: fluids prints wall friction alone and doubts it, the library adds the loss of the cone.
- Left out: Swamee's cones (the contraction does not depend on the bores, the diffuser loses more than
  ten times the velocity pressure at 180 degrees), Blevins's and Miller's (they jump, says fluids),
  Idelchik's contracting cone (a table of short bevels, stretched to long cones), Harris's entries
  (measured in 1928, below all others).
"""

import math

import numpy as np
import pytest
import ventstack as vs

fluids = pytest.importorskip("fluids", reason="python3-fluids gives the second opinion")
fittings = pytest.importorskip("fluids.fittings")
RNG = np.random.default_rng(20240612)
REYNOLDS = 6e4
FRICTION = float(vs.friction_factor(REYNOLDS, 0.0))


def by(fitting, author, bore, reynolds=REYNOLDS):
    """The coefficient in a smooth pipe by the formula of one author."""
    pipe = vs.round_pipe(bore, 0.0)
    found = [k for k in fitting.alternatives(pipe, reynolds) if author in k.source.author]
    assert len(found) == 1, found
    return found[0].value


def bores(count=300):
    for _ in range(count):
        small = RNG.uniform(0.02, 0.2)
        yield small, small / RNG.uniform(0.2, 0.95)


def near(value):
    return pytest.approx(value, rel=1e-9)


def test_sudden_changes():
    for small, large in bores():
        change = vs.sudden_change(large)
        hooper = dict(Re=REYNOLDS, fd=FRICTION, method="Hooper")
        assert by(change, "Borda", small) == near(fittings.diffuser_sharp(small, large))
        assert by(change, "Hooper", small) == near(
            fittings.diffuser_sharp(small, large, **hooper))
        assert by(change, "Rennels", small, -REYNOLDS) == near(
            fittings.contraction_sharp(large, small))
        assert by(change, "Crane", small, -REYNOLDS) == near(
            fittings.contraction_sharp(large, small, method="Crane"))
        assert by(change, "Hooper", small, -REYNOLDS) == near(
            fittings.contraction_sharp(large, small, **hooper))


def test_contraction_seen_from_the_wide_pipe():
    for small, large in bores():
        k = by(vs.sudden_change(small), "Rennels", large)
        assert k * (small / large) ** 4 == near(fittings.contraction_sharp(large, small))


def test_cones():
    for small, large in bores():
        angle = RNG.uniform(3, 175)
        change = vs.gradual_change(large, np.radians(angle))
        state = dict(angle=angle, fd=FRICTION, Re=REYNOLDS)
        for author in "Crane", "Hooper":
            assert by(change, author, small) == near(
                fittings.diffuser_conical(small, large, method=author, **state))
            assert by(change, author, small, -REYNOLDS) == near(
                fittings.contraction_conical(large, small, method=author, **state))
        assert by(change, "Rennels", small, -REYNOLDS) == near(
            fittings.contraction_conical(large, small, method="Rennels", **state))
        if not (20 < angle < 21 or 60 < angle < 65):
            assert by(change, "Rennels", small) == near(
                fittings.diffuser_conical(small, large, method="Rennels", **state))
        if (small / large) ** 2 < 0.6:
            assert by(change, "Idelchik", small) == pytest.approx(
                fittings.diffuser_conical(small, large, method="Idelchik", **state),
                abs=0.03, rel=0.12)


def test_worked_edges():
    for small, large in bores():
        radius = small * RNG.uniform(0, 0.2)
        change = vs.rounded_change(large, radius)
        assert by(change, "Rennels", small, -REYNOLDS) == near(
            fittings.contraction_round(large, small, radius))
        assert by(change, "Idelchik", small, -REYNOLDS) == pytest.approx(
            fittings.contraction_round(large, small, radius, method="Idelchik"), abs=0.02)
        angle = RNG.uniform(5, 85)
        whole = (large - small) / (2 * math.tan(math.radians(angle)))
        length = whole * RNG.uniform(0, 1)
        change = vs.bevelled_change(large, length, np.radians(angle))
        assert by(change, "Rennels", small, -REYNOLDS) == near(
            fittings.contraction_beveled(large, small, l=length, angle=2 * angle))


def test_orifices_without_thickness():
    for small, large in bores():
        hole = vs.entry_cored_hole(small, 0.0, 100.0)
        other = fittings.entrance_beveled_orifice(large, small, 0.01, 90.0)
        k = by(hole, "Rennels", large) * (small / large) ** 4
        assert k == pytest.approx(other, rel=1e-5)  # the pit of 100 m is not quite a wide space


def test_reducers():
    for small, large in bores():
        length = RNG.uniform(0.5, 3) * large
        k = by(vs.reducer(large, length), "Rennels", small)
        friction = fittings.diffuser_pipe_reducer(small, large, length, FRICTION)
        cone = vs.gradual_change(large, 2 * math.atan((large - small) / (1.2 * length)))
        whole = by(cone, "Rennels", small) if cone.parameters["cone_angle"] < np.radians(20) else k
        assert friction < k
        if whole != k:
            ends = FRICTION * 0.2 * length * (1 / small + small**4 / large**5)
            assert k == near(whole + ends)


def test_entries():
    assert by(vs.entry_flush(), "Idelchik", 0.1) == fittings.entrance_sharp("Idelchik")
    assert by(vs.entry_flush(), "Rennels", 0.1) == fittings.entrance_sharp("Rennels")
    assert by(vs.entry_flush(), "Miller", 0.1) == pytest.approx(
        fittings.entrance_sharp("Miller"), abs=1e-3)  # a curve, here rounded to two digits
    for _ in range(300):
        wall, distance, radius = RNG.uniform(0, 0.1), RNG.uniform(0, 1), RNG.uniform(0, 0.5)
        for author in "Rennels", "Idelchik", "Miller":
            assert by(vs.entry_reentrant(wall), author, 0.1) == near(
                fittings.entrance_distance(0.1, t=0.1 * wall, l=0.1, method=author))
        assert by(vs.entry_projecting(distance, wall), "Idelchik", 0.1) == near(
            fittings.entrance_distance(0.1, t=0.1 * wall, l=0.1 * distance, method="Idelchik"))
        for author in "Rennels", "Crane", "Miller", "Swamee":
            assert by(vs.entry_rounded(radius), author, 0.1) == near(
                fittings.entrance_rounded(0.1, 0.1 * radius, method=author))
        assert by(vs.entry_rounded(radius), "Idelchik", 0.1) == pytest.approx(
            fittings.entrance_rounded(0.1, 0.1 * radius, method="Idelchik"), abs=0.02)
        length, angle = RNG.uniform(0.025, 0.6), RNG.uniform(0, 90)
        bevel = vs.entry_bevelled(length, np.radians(angle))
        assert by(bevel, "Rennels", 0.1) == near(
            fittings.entrance_beveled(0.1, 0.1 * length, angle))
        assert by(bevel, "Idelchik", 0.1) == near(
            fittings.entrance_beveled(0.1, 0.1 * length, angle, method="Idelchik"))
        tilt = RNG.uniform(5, 90)
        assert by(vs.entry_angled(np.radians(tilt)), "Rennels", 0.1) == near(
            fittings.entrance_angled(tilt))


def test_perforated_pipe_against_its_equation():
    """An ODE solver of SciPy, friction included, to the first order the header promises."""
    integrate = pytest.importorskip("scipy.integrate")
    for _ in range(30):
        bore, length = RNG.uniform(0.05, 0.2), RNG.uniform(0.3, 3)
        hole, holes = RNG.uniform(0.004, 0.012), RNG.uniform(20, 2000)
        pipe = vs.entry_perforated(holes, hole, length, 0.62)
        ratio = 0.62 * holes * length * (hole / bore) ** 2
        loss = FRICTION * length / bore
        if ratio > 5:
            continue

        def along(_, state, ratio=ratio, loss=loss):
            flow, pressure = state
            inflow = ratio * math.sqrt(pressure)
            return inflow, 4 * flow * inflow + loss * flow**2

        end = integrate.solve_ivp(along, (0, 1), (0.0, 1.0), rtol=1e-10, atol=1e-12).y[:, -1]
        k = pipe.coefficient(vs.round_pipe(bore, 0.0), REYNOLDS).value
        assert k == pytest.approx(end[1] / end[0] ** 2 - 1, rel=0.02)


def test_bad_input_is_named():
    for call, argument in [(lambda: vs.bushing(0.0, 0.05, 0.1), "other_bore"),
                           (lambda: vs.bushing(0.1, math.nan, 0.1), "throat_bore"),
                           (lambda: vs.reducer(0.1, -0.1), "length"),
                           (lambda: vs.reducer(0.1, 0.1, 1.5), "eccentricity"),
                           (lambda: vs.entry_bevelled(0.1, 2.0), "bevel_angle"),
                           (lambda: vs.entry_cored_hole(0.1, 0.1, 0.01), "pit_radius"),
                           (lambda: vs.entry_perforated(10, 0.01, 1.0, 1.2),
                            "discharge_coefficient"),
                           (lambda: vs.pit_radius(0.0), "volume")]:
        with pytest.raises(vs.ArgumentError) as failure:
            call()
        assert failure.value.argument == argument
