# SPDX-License-Identifier: GPL-3.0-or-later
"""Fits and uncertainty from Python: a second opinion by SciPy, and what Python adds to C."""

import copy
import pickle

import numpy as np
import pytest
import ventstack as vs
from ventstack.units import cfm, inch


def two_speeds(net, truth=None, noise=None):
    """A fit of the soil to flow and vacuum at two speeds."""
    truth = net if truth is None else truth
    fit = vs.Fit(net)
    fit.unknown("pit.c")
    fit.unknown("pit.n")
    half = fit.state({"riser.speed": 0.5})
    noise = iter(np.zeros(4) if noise is None else noise)
    for state, speed in ((0, 1.0), (half, 0.5)):
        moved = truth.copy()
        moved.parameter("riser.speed").value = speed
        point = moved.solve()
        flow, vacuum = point.flow(moved.find_run("riser")), point.pressure(moved.find_node("pit"))
        fit.reading("riser.flow", vs.Reading(flow * (1 + 0.02 * next(noise)), 0.02 * flow), state)
        fit.reading("pit.pressure", vs.Reading(vacuum + 2 * next(noise), 2.0), state)
    return fit


def test_the_soil_comes_back(stack):
    truth = stack.net.copy()
    truth.parameter("pit.c").value, truth.parameter("pit.n").value = 9e-4, 0.7
    found = two_speeds(stack.net, truth).solve()
    assert found.estimates["pit.c"].value == pytest.approx(9e-4, rel=1e-7)
    assert found.estimates["pit.n"].value == pytest.approx(0.7, rel=1e-7)
    assert found.degrees == 2 and found.chi_square < 1e-9 and found.verdict == ""
    assert found.covariance[0, 0] == pytest.approx(found.estimates["pit.c"].uncertainty**2)
    assert found.correlation[0, 1] < -0.9
    assert [size for size, _ in found.directions] == sorted(size for size, _ in found.directions)
    net = found.network(1)
    assert net.parameter("riser.speed").value == 0.5
    assert net.solve().flow(net.find_run("riser")) == pytest.approx(found.residuals[2].computed)


def test_scipy_finds_the_same(stack):
    optimize = pytest.importorskip("scipy.optimize")
    rng = np.random.default_rng(5)
    fit = two_speeds(stack.net, noise=rng.standard_normal(4))
    found = fit.solve()
    nets = [stack.net.copy(), stack.net.copy()]
    nets[1].parameter("riser.speed").value = 0.5

    def residuals(x):
        out = []
        for net in nets:
            net.parameter("pit.c").value, net.parameter("pit.n").value = np.exp(x[0]), x[1]
            point = net.solve()
            out += [point.flow(net.find_run("riser")), point.pressure(net.find_node("pit"))]
        return [(computed - r.reading) / r.uncertainty for computed, r in zip(out, found.residuals)]

    theirs = optimize.least_squares(residuals, [np.log(1e-3), 0.65], xtol=1e-14, ftol=1e-14,
                                    gtol=1e-14, jac="3-point", x_scale=[1, 0.1])
    c, n = found.estimates.values()
    assert c.value == pytest.approx(np.exp(theirs.x[0]), rel=1e-5)
    assert n.value == pytest.approx(theirs.x[1], rel=1e-5)
    covariance = np.linalg.inv(theirs.jac.T @ theirs.jac)
    assert c.uncertainty == pytest.approx(c.value * covariance[0, 0]**0.5, rel=1e-4)
    assert n.uncertainty == pytest.approx(covariance[1, 1]**0.5, rel=1e-4)
    assert found.chi_square == pytest.approx(2 * theirs.cost, rel=1e-8)


def test_goodness_against_scipy(stack):
    stats = pytest.importorskip("scipy.stats")
    found = two_speeds(stack.net, noise=[1.0, -2.0, 0.5, 1.5]).solve()
    assert found.probability == pytest.approx(stats.chi2.sf(found.chi_square, found.degrees))


def test_one_reading_gives_no_two_numbers(stack):
    fit = vs.Fit(stack.net)
    fit.unknown("pit.c")
    fit.unknown(stack.net.parameter("pit.n"))
    fit.reading(stack.net.observable("riser.flow"), vs.Reading(0.02, 1e-3))
    with pytest.raises(vs.ArgumentError, match="cannot give 2 unknowns"):
        fit.solve()
    fit.reading("riser.flow", vs.Reading(0.021, 1e-3))
    found = fit.solve()
    assert all(np.isnan(e.value) and e.flags == vs.EstimateFlag.UNDETERMINED
               for e in found.estimates.values())
    assert found.directions[1][0] == np.inf and "do not determine" in found.verdict
    for asked in (found.network, found.uncertainty):
        with pytest.raises(vs.ArgumentError, match="do not determine"):
            asked()


def test_another_termination_is_another_state(stack):
    hooded = stack.net.copy()
    hooded.termination = vs.end_tee()
    fit = vs.Fit(stack.net)
    with_hood = fit.state(network=hooded)
    fit.unknown("riser.pressure_factor")
    flow = hooded.solve().flow(hooded.find_run("riser"))
    fit.reading("riser.flow", vs.Reading(flow, 1e-4), state=with_hood)
    assert fit.solve().estimates["riser.pressure_factor"].value == pytest.approx(1, rel=1e-6)


@pytest.mark.parametrize("wrong, error", [
    (lambda fit: fit.reading("attic.pressure", vs.Reading(1, 1)), vs.NotFoundError),
    (lambda fit: fit.reading("riser.flow", vs.Reading(1, 1), state=3), vs.NotFoundError),
    (lambda fit: fit.reading("riser.flow", vs.Reading(1, 0)), vs.ArgumentError),
    (lambda fit: fit.reading("riser.flow", 0.02), TypeError),
    (lambda fit: fit.unknown("riser.colour"), vs.NotFoundError),
    (lambda fit: fit.unknown("pit.c", low=2e-3, high=1e-3), vs.ArgumentError),
    (lambda fit: fit.unknown("pit.c", prior=vs.Reading(1e-3, 0)), vs.ArgumentError),
    (lambda fit: fit.unknown(7), TypeError),
    (lambda fit: fit.state({"riser.speed": 50}), vs.ArgumentError),
    (lambda fit: fit.state({"riser.colour": 1}), vs.NotFoundError),
    (lambda fit: fit.solve(), vs.ArgumentError),
])
def test_bad_fits(stack, wrong, error):
    fit = vs.Fit(stack.net)
    with pytest.raises(error):
        wrong(fit)
    # what failed left nothing behind
    fit.unknown("pit.c", low=1e-4)
    fit.reading("riser.flow", vs.Reading(0.02, 1e-3))
    assert len(fit.solve().estimates) == 1


def test_soil_tests_against_orthogonal_distances():
    odr = pytest.importorskip("scipy.odr")
    vacuum, flow = np.array([30.0, 70, 140, 260]), np.array([0.0052, 0.0088, 0.0131, 0.0199])
    p_size, q_size = 1 + 0.01 * vacuum, 0.02 * flow
    ours = vs.soil_test([vs.Reading(*pair) for pair in zip(vacuum, p_size)],
                        [vs.Reading(*pair) for pair in zip(flow, q_size)])
    data = odr.RealData(vacuum, flow, sx=p_size, sy=q_size)
    task = odr.ODR(data, odr.Model(lambda b, x: np.exp(b[0]) * x**b[1]), beta0=[-7, 0.6],
                   sstol=1e-14, partol=1e-14)
    theirs = task.run()
    assert ours.first.value == pytest.approx(np.exp(theirs.beta[0]), rel=1e-4)
    assert ours.second.value == pytest.approx(theirs.beta[1], rel=1e-4)
    assert ours.chi_square == pytest.approx(theirs.sum_square, rel=1e-4)
    assert ours.second.uncertainty == pytest.approx(theirs.cov_beta[1, 1]**0.5, rel=0.02)


def test_bad_soil_tests():
    with pytest.raises(vs.ArgumentError, match="a soil law has two"):
        vs.soil_test(vs.readings([50], 1.0), vs.readings([0.01], 1e-4))
    with pytest.raises(vs.ArgumentError, match="positive"):
        vs.soil_test(vs.readings([-50, -90], 1.0), vs.readings([0.01, 0.014], 1e-4))
    with pytest.raises(vs.ArgumentError, match="steps"):
        vs.soil_test(vs.readings([50, 90], 1.0), vs.readings([0.01], 1e-4))
    with pytest.raises(TypeError):
        vs.soil_test([50, 90], [0.01, 0.014])


def test_fields_against_scipy():
    special = pytest.importorskip("scipy.special")
    distance = np.array([0.5, 1, 2, 4])
    vacuum = 180 * special.k0(distance / 2.2) / special.k0(0.15 / 2.2)
    field = vs.field_test(distance, vs.readings(vacuum, 0.5), radius=0.15)
    assert field.length.value == pytest.approx(2.2) and field.at_radius.value == pytest.approx(180)
    assert field.vacuum(distance) == pytest.approx(vacuum)
    assert field.is_radial and not field.flags
    with pytest.warns(vs.DomainWarning):
        assert np.isnan(field.vacuum(0.1))
    with pytest.raises(vs.ArgumentError, match="at most"):
        field.reach(200.0)
    assert copy.copy(field) == field == pickle.loads(pickle.dumps(field))


def test_a_fan_from_readings():
    flow = np.linspace(0, 0.07, 15)
    fan = vs.fan_fit("read", flow, vs.readings(450 - 9e4 * flow**2, 2.0), density=1.2)
    assert fan.is_falling and fan.density == 1.2
    assert fan.pressure(0.035, density=1.2) == pytest.approx(450 - 9e4 * 0.035**2, abs=4)
    with pytest.raises(vs.ArgumentError, match="distinct"):
        vs.fan_fit("read", [0.01] * 5, vs.readings([1, 2, 3, 4, 5], 1.0))


def test_the_budget_sums(stack):
    known = vs.network_inputs(stack.net) + [vs.Input("pit.c", 1e-4), vs.Input(
        stack.net.parameter("pit.n"), 0.02, vs.Shape.RECTANGULAR)]
    doubt = vs.Uncertainty(stack.net, known)
    answer, budget = doubt.of("riser.flow"), doubt.budget(stack.net.observable("riser.flow"))
    assert sum(line.variance for line in budget) == pytest.approx(answer.uncertainty**2, rel=1e-12)
    assert "pit.c" in str(budget) and "<table>" in budget._repr_html_()
    for line in budget:
        assert line.variance == pytest.approx((line.sensitivity * line.uncertainty)**2, rel=1e-12)


def test_samples(stack):
    known = [vs.Input("pit.c", 2e-5, vs.Shape.LOG_NORMAL), vs.Input("pit.n", 5e-3)]
    doubt = vs.Uncertainty(stack.net, known, correlation=[[1, -0.9], [-0.9, 1]])
    out = doubt.simulate(["riser.flow", "pit.pressure"], samples=20000, seed=3, keep=True)
    flow = out["riser.flow"]
    assert flow.uncertainty == pytest.approx(doubt.of("riser.flow").uncertainty, rel=0.03)
    assert flow.samples.mean() == pytest.approx(flow.mean) and flow.failed == 0
    assert np.percentile(flow.samples, 97.5) == pytest.approx(flow.high, rel=1e-4)
    again = doubt.simulate("riser.flow", samples=20000, seed=3)
    assert again.mean == flow.mean and again.samples is None
    # steeper soil goes with more vacuum: both answers hang together
    assert abs(np.corrcoef(flow.samples, out["pit.pressure"].samples)[0, 1]) > 0.5
    with pytest.raises(vs.ArgumentError, match="samples"):
        doubt.simulate("riser.flow", samples=1)
    with pytest.raises(vs.NotFoundError):
        doubt.simulate("attic.pressure")


def test_what_to_measure_next(stack):
    doubt = vs.Uncertainty(stack.net, vs.network_inputs(stack.net) + [vs.Input("pit.c", 3e-4)])
    plan = doubt.next("riser.flow", {"pit.pressure": 2.0, "riser.bore": 1e-4, "roof.factor": 0.1})
    best, left = next(iter(plan.items()))
    assert best == "pit.pressure" and left < doubt.of("riser.flow").uncertainty
    assert doubt.learn(best, 2.0).of("riser.flow").uncertainty == pytest.approx(left)
    with pytest.raises(vs.NotFoundError):
        doubt.next("riser.flow", {"attic.pressure": 1.0})


def test_bad_uncertainties(stack):
    with pytest.raises(vs.ArgumentError, match="above 0"):
        vs.Uncertainty(stack.net, [vs.Input("pit.c", 0.0)])
    with pytest.raises(vs.DuplicateError):
        vs.Uncertainty(stack.net, [vs.Input("pit.c", 1e-4)] * 2)
    with pytest.raises(vs.ArgumentError, match="shape"):
        vs.Uncertainty(stack.net, [vs.Input("pit.c", 1e-4)], correlation=[1, 2, 3])
    with pytest.raises(vs.ArgumentError, match="contradict|within"):
        vs.Uncertainty(stack.net, [vs.Input("pit.c", 1e-4), vs.Input("pit.n", 0.01)],
                       correlation=[[1, 1.5], [1.5, 1]])
    with pytest.raises(TypeError):
        vs.Uncertainty(stack.net, ["pit.c"])


def test_top_coefficient(stack):
    wide = stack.net.copy()
    hooded = wide.copy()
    hooded.termination = vs.end_tee()
    flows = [net.solve().flow(net.find_run("riser")) for net in (wide, hooded)]
    wrong = wide.copy()
    wrong.parameter("pit.c").value *= 1.1
    k = vs.top_coefficient(wrong, "riser.flow", *(vs.Reading(q, 0.1 * cfm) for q in flows),
                           adjusted="pit.c")
    tee = vs.end_tee().coefficient(vs.pipe("PVC 40", 3 * inch), 3e4)
    assert k.value == pytest.approx(tee.value, rel=1e-4) and k.uncertainty > 0
