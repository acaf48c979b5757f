# SPDX-License-Identifier: GPL-3.0-or-later
"""Handles live as long as they are needed and no longer."""

import gc
import os
import sys
import weakref

import numpy as np
import pytest
import ventstack as vs
from conftest import make_stack
from ventstack.units import inch


def test_reference_counts_free_everything_at_once():
    """No cycles: a network and its solution go with the last reference, without the collector."""
    gc.collect()
    gc.disable()
    try:
        s = make_stack()
        s.placed = s.riser.add(s.fan)
        point = s.net.solve()
        ledger, fans, warnings = point.ledger(exact=True), point.fans, point.warnings
        watched = [weakref.ref(each) for each in (s.net, s.fan, point)]
        del s, point, ledger, fans, warnings
        assert [ref() for ref in watched] == [None] * 3
    finally:
        gc.enable()


def test_parts_keep_what_they_need():
    s = make_stack()
    riser, pit = s.riser, s.pit
    s.riser.add(s.fan)
    expected = s.net.solve().flow(riser)
    fan, net = weakref.ref(s.fan), weakref.ref(s.net)
    point = s.net.solve()
    del s
    assert net() is not None and riser.name == "riser" and pit.height == 0.0
    assert point.flow(riser) == expected and point.fans[0].name == "invented"
    riser.add(vs.entry_flush())
    del riser, pit, point
    assert net() is None and fan() is None


def resident():
    """Memory of this process [bytes]."""
    with open("/proc/self/statm") as file:
        return int(file.read().split()[1]) * 4096


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="reads /proc")
@pytest.mark.skipif("asan" in os.environ.get("LD_PRELOAD", ""), reason="a sanitizer holds memory back")
@pytest.mark.parametrize("what", ["values", "fans", "networks", "solutions", "errors", "arrays"])
def test_memory_does_not_grow(what):
    s = make_stack()
    s.riser.add(s.fan)
    point = s.net.solve()
    big, rough = np.geomspace(1e3, 1e8, 1000), np.linspace(0, 0.05, 1000)
    flow, pressure = np.linspace(0, 1, 500), np.linspace(100, 0, 500)

    def errors():
        for bad in (lambda: vs.elbow(90, 1), lambda: vs.elbow("a", 1), lambda: s.net.find_run("x"),
                    lambda: vs.Fan("f", flow=flow, pressure=-pressure),
                    lambda: vs.friction_factor(big, big[:3]), lambda: vs.friction_factor(big, None),
                    lambda: vs.friction_factor(big, 1e-4, out=big),
                    lambda: vs.Fan.series("f", [])):
            try:
                bad()
            except (vs.VentError, TypeError):
                pass

    work = {
        "values": lambda: (vs.Air(286.0, 1e5, 0.5).at_temperature(280.0), vs.elbow(1.0, 1.5).parameters,
                           vs.pipes(), vs.roughnesses(), vs.rain_cap(0.5).streams),
        "fans": lambda: (vs.Fan("f", flow=flow, pressure=pressure).points,
                         vs.Fan.parallel("g", [s.fan, s.fan])),
        "networks": make_stack,
        "solutions": lambda: (s.net.solve().ledger(exact=True), point.system_curve([0.01, 0.02]),
                              str(point.ledger()), point.warnings, s.net.copy()),
        "errors": errors,
        "arrays": lambda: (vs.friction_factor(big, 1e-4), vs.friction_factor(big.tolist(), 1e-4),
                           vs.friction_factor(big, rough, out=np.empty(1000)), big * inch,
                           vs.friction_factor(big[:30], rough[:3, None])),
    }[what]
    for _ in range(300):
        work()
    gc.collect()
    before = resident()
    rounds = 3000
    for _ in range(rounds):
        work()
    gc.collect()
    assert resident() - before < 50 * rounds  # any lost handle, array or exception is larger
