# SPDX-License-Identifier: GPL-3.0-or-later
"""Random stacks with a random fault, read with real instruments: what a diagnosis is held to.

Everything here is invented. The truth is drawn without looking at the diagnosis' own tables: sizes
come from ranges of their own, water is a slide gate, a weak fan runs slowly, leaking air is warm, and
instruments err within their data sheets' limits.
"""

import math
import types

import numpy as np
import ventstack as vs
from ventstack.units import inch

FAULTS = ("slab leak", "termination", "water", "joint leak", "weak fan", "wrong fan", "stopped fan",
          "tight soil", "wrong place")
KIND = {"nothing": "NONE", "slab leak": "SLAB_LEAK", "termination": "TERMINATION", "water": "WATER",
        "joint leak": "JOINT_LEAK", "weak fan": "FAN_WEAK", "wrong fan": "FAN_WRONG",
        "stopped fan": "FAN_STOPPED", "tight soil": "SOIL_TIGHT", "wrong place": "PLACE"}
PIPE = {3: vs.pipe("PVC 40", 3 * inch), 4: vs.pipe("PVC 40", 4 * inch)}


def _between(rng, low, high):
    """Any ratio alike."""
    return low * (high / low) ** rng.random()


def _fan(rng, name, shut_off=None, most=None):
    shut_off = _between(rng, 200, 900) if shut_off is None else shut_off
    most = _between(rng, 0.05, 0.14) if most is None else most
    x, power = np.linspace(0, 1, 7), rng.uniform(1.2, 2.4)
    return vs.Fan(name, flow=most * x, pressure=shut_off * (1 - x**power))


def draw_design(rng):
    """The numbers a stack is built from."""
    points = int(rng.integers(1, 4))
    pressure = rng.uniform(8.5e4, 1.03e5)
    fan = _fan(rng, "designed")
    ends = [vs.open_end(), vs.end_guard(1.2e-3, 12.7e-3), vs.rain_cap(0.5), vs.end_elbow(math.pi / 2, 1.0)]
    soils = []
    for _ in range(points):
        flow, vacuum, n = _between(rng, 4e-3, 0.03), _between(rng, 60, 300), rng.uniform(0.5, 0.95)
        if rng.random() < 0.75:
            soils.append(("c", flow / vacuum**n, n))
        else:
            share = rng.uniform(0.2, 0.8)
            soils.append(("a", share * vacuum / flow, (1 - share) * vacuum / flow**2))
    return types.SimpleNamespace(
        gas=vs.Air(rng.uniform(281, 289), pressure, 1.0),
        outdoors=vs.Air(rng.uniform(258, 303), pressure, rng.uniform(0.3, 0.9)),
        soils=soils, spread=rng.uniform(0.15, 0.3), fan_spread=rng.uniform(0.02, 0.05),
        lengths=rng.uniform(1.5, 9, points), elbows=rng.integers(1, 4, points),
        bore=int(rng.choice([3, 4])), riser=rng.uniform(4, 11), riser_elbows=int(rng.integers(1, 5)),
        above=rng.uniform(0.5, 3), end=ends[int(rng.integers(len(ends)))], fan=fan,
        others=[_fan(rng, f"other {i}", shut_off=_between(rng, 120, 1500)) for i in range(2)])


def _soil(letter, first, second, share):
    """A soil through which a share of the flow comes."""
    if letter == "c":
        return vs.soil_power(first * share, second)
    return vs.soil_two_term(first / share, second / share**2)


def build(d, fault="nothing", place=None, size=None):
    """The stack; what is wrong with it is put in as it is built."""
    net = vs.Network(soil_gas=d.gas, outdoors=d.outdoors)
    points = len(d.soils)
    pits = []
    for i, soil in enumerate(d.soils):
        share = size if fault == "tight soil" and place == i else 1.0
        pits.append(net.suction_point(f"pit {i}", soil=_soil(*soil, share)))
    tee = net.junction("joint", vs.junction_lossless() if points == 1 else vs.wye(math.pi / 2))
    tee.height = 0.6
    end = d.end.blocked(free_area=size) if fault == "termination" else d.end
    roof = net.discharge("roof", end, height=0.6 + 0.8 * d.riser + d.above)
    pipe = PIPE[d.bore]

    def run(name, from_, to, length, here):
        """A run; water stands in its first pipe, or before it."""
        wet = fault == "water" and place[0] == name
        made = net.run(name, from_, to, pipe=pipe, length=0.0 if wet and place[1] < 0 else length)
        if wet:
            made.add(vs.slide_gate(size))
            if place[1] < 0:
                made.add_pipe(pipe, length)
        here(made)
        return made

    for i, pit in enumerate(pits):
        run(f"branch {i}", pit, tee, d.lengths[i],
            lambda made, i=i: made.add(vs.elbow(math.pi / 2, 1.0), count=int(d.elbows[i])))
    fan = d.others[place] if fault == "wrong fan" else d.fan

    def top(made):
        made.add(vs.elbow(math.pi / 2, 1.0), count=d.riser_elbows)
        placed = made.add(fan)
        if fault == "weak fan":
            placed.speed = size
        if fault == "stopped fan":
            placed.switch_off(vs.fitting_constant(size))
        made.add_pipe(pipe, d.above)

    run("riser", tee, roof, d.riser, top)
    if fault == "slab leak":
        net.leak("hole", pits[place], vs.opening(size, to="room", discharge_coefficient=0.65),
                 temperature=293.15)
    if fault == "joint leak":
        net.leak("hole", tee, vs.opening(size, to="room", discharge_coefficient=0.65),
                 temperature=293.15)
    return net


def inputs(design, d):
    """What the designer knows of the uncertainty."""
    known = vs.network_inputs(design)
    for i, (letter, _, _) in enumerate(d.soils):
        value = design.parameter(f"pit {i}.{letter}").value
        known.append(vs.Input(f"pit {i}.{letter}", d.spread * value, vs.Shape.LOG_NORMAL))
    known.append(vs.Input("riser[2].pressure_factor", d.fan_spread))
    return known


def draw_fault(rng, d, fault):
    """Where and how large."""
    point = int(rng.integers(len(d.soils)))
    if fault == "slab leak":
        return point, _between(rng, 5e-4, 1.5e-2)
    if fault == "termination":
        return "roof", rng.uniform(0.1, 0.45)
    if fault == "water":
        wet = [(f"branch {point}", -1), (f"branch {point}", 0), ("riser", 0)]
        return wet[int(rng.integers(3))], rng.uniform(0.12, 0.45)
    if fault == "joint leak":
        return "joint", _between(rng, 2e-4, 6e-3)
    if fault == "weak fan":
        return None, rng.uniform(0.4, 0.85)
    if fault == "wrong fan":
        return int(rng.integers(2)), None
    if fault == "stopped fan":
        return None, _between(rng, 2, 20)
    if fault == "tight soil":
        return point, _between(rng, 0.04, 0.45)
    return None, None


def draw_places(rng, d):
    """What is read: always the riser below the fan and one pit, the rest by chance."""
    points = len(d.soils)
    names = ["riser.static_pressure", f"pit {int(rng.integers(points))}.pressure"]
    names += [f"pit {i}.pressure" for i in range(points)
              if f"pit {i}.pressure" not in names and rng.random() < 0.8]
    chances = [("riser.flow", 0.8), ("riser[2].static_pressure", 0.5)]
    chances += [(f"branch {i}.static_pressure", 0.35) for i in range(points)]
    chances += [(f"branch {i}.flow", 0.35) for i in range(points) if points > 1]
    return names + [name for name, chance in chances if rng.random() < chance]


MANOMETER = vs.pressure_instrument(2500.0, 0.01, 0.5, 0.1)


def _read(rng, name, value):
    """What the instrument says; gusts shake pressures by 1 Pa."""
    if name.endswith("flow"):
        spread = math.hypot(0.05 * abs(value), 4e-4)
        shown = value + spread * rng.standard_normal()
        return vs.Reading(shown, math.hypot(0.05 * abs(shown), 4e-4))
    limit = 0.01 * abs(value) + 0.5
    shown = value + rng.uniform(-limit, limit) + rng.standard_normal()
    reading = MANOMETER.read(round(shown, 1))
    return vs.Reading(reading.value, math.hypot(reading.uncertainty, 1.0))


def _vary(rng, net, known):
    """The true coefficients: each off by its uncertainty."""
    for one in known:
        name = one.name
        try:
            parameter = net.parameter(name)
        except vs.NotFoundError:  # items that moved behind water: theirs stay as designed
            continue
        value = parameter.value
        if one.shape == vs.Shape.LOG_NORMAL:
            share = one.uncertainty / known.design[name]
            sigma = math.sqrt(math.log1p(share**2))
            value *= math.exp(sigma * rng.standard_normal() - sigma**2 / 2)
        else:
            value += one.uncertainty * value / known.design[name] * rng.standard_normal()
        parameter.value = value


class Known(list):
    """Inputs, with the values they have in the design."""


def case(seed, fault=None):
    """A random stack, a fault, readings; and the diagnosis, not solved yet."""
    made, rng = None, np.random.default_rng(seed)
    while made is None:  # a design that hardly moves air, or a gale, is drawn anew
        made = _try(rng, fault)
    return made


def _try(rng, fault):
    d = draw_design(rng)
    fault = FAULTS[int(rng.integers(len(FAULTS)))] if fault is None else fault
    design = build(d)
    flow = design.solve().flow(design.find_run("riser"))
    if not 3e-3 < flow < 0.12:
        return None
    place, size = draw_fault(rng, d, fault)
    known = Known(inputs(design, d))
    known.design = {one.name: design.parameter(one.name).value for one in known}
    truth = build(d, fault, place, size)
    _vary(rng, truth, known)
    names = draw_places(rng, d)
    point = truth.solve()
    where = {name: _name_in(truth, name, fault, place) for name in names}
    job = vs.Diagnosis(design, known, d.others)
    swapped = None
    if fault == "wrong place":
        pressures = [name for name in names if name.endswith("pressure")]
        swapped = pressures[int(rng.integers(len(pressures)))]
        others = ["riser.static_pressure", "riser[2].static_pressure"]
        others += [f"pit {i}.pressure" for i in range(len(d.soils))]
        others += [f"branch {i}.static_pressure" for i in range(len(d.soils))]
        others = [name for name in others if name != swapped]
        where[swapped] = others[int(rng.integers(len(others)))]
    for name in names:
        job.reading(name, _read(rng, name, point.observe(where[name])))
    found = {"slab leak": f"pit {place}", "tight soil": f"pit {place}", "termination": "roof",
             "joint leak": "joint", "weak fan": "riser", "wrong fan": "riser", "stopped fan": "riser",
             "wrong place": names.index(swapped) if swapped else None, "nothing": 0,
             "water": place[0] if fault == "water" else None}[fault]
    item = {"water": place[1] if fault == "water" else 0, "weak fan": 2, "wrong fan": 2,
            "stopped fan": 2}.get(fault, 0)
    return types.SimpleNamespace(design=design, truth=truth, job=job, fault=fault, place=place,
                                 size=size, names=names, kind=KIND[fault], where=found, item=item,
                                 spread=d.spread, swapped=where.get(swapped))


def _name_in(truth, name, fault, place):
    """The same tap in the stack with water in it, where items behind the water count more."""
    run, _, quantity = name.rpartition(".")
    number = 0
    if run.endswith("]"):
        run, number = run[:-1].split("[")
        number = int(number)
    if fault == "water" and quantity == "static_pressure" and place[0] == run:
        number += 2 if place[1] < 0 else (number > 0)
    return f"{run}[{number}].{quantity}" if number else f"{run}.{quantity}"


def is_truth(made, finding):
    """Whether a finding is the true fault and nothing else: kind and place."""
    [fault, *more] = finding.faults
    return (not more and (fault.kind.name, fault.place) == (made.kind, made.where)
            and (made.kind != "WATER" or fault.item == made.item))


def rank_of_truth(made, answer):
    """At which rank the true fault stands, from 0; behind all where it is not among them."""
    return next((rank for rank, finding in enumerate(answer.findings) if is_truth(made, finding)),
                len(answer.findings))


def judge(seed, fault=None):
    """One system, asked and held to the truth."""
    made = case(seed, fault)
    answer = made.job.solve()
    rank = rank_of_truth(made, answer)
    group = sum(1 for finding in answer.findings if finding.group == 0)
    inside = rank < len(answer.findings) and answer.findings[rank].group == 0
    return types.SimpleNamespace(
        seed=seed, fault=made.fault, place=made.place, size=made.size, swapped=made.swapped,
        readings=len(made.names), claim=answer.claim.name, rank=rank, group=group, inside=inside,
        first=answer.findings[0].words,
        probabilities=[(finding.probability, is_truth(made, finding)) for finding in answer.findings])
