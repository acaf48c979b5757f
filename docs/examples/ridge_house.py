# SPDX-License-Identifier: GPL-3.0-or-later
"""What does the thing on top of the stack cost? An invented building and invented fans; not a design.

The same program as ridge_house.c, with two pictures. It reads the CSV files in ridge_house/.
"""

import argparse
import csv
import dataclasses
import pathlib

import ventstack as vs
from ventstack.units import cfm, degree, fahrenheit, feet, fpm, inch, inwc, litre_per_second, mm

HERE = pathlib.Path(__file__).parent / "ridge_house"


def rows(name):
    """The rows of a CSV file, numbers as numbers; lines that begin with # are remarks."""
    def value(text):
        try:
            return float(text)
        except ValueError:
            return text
    with open(HERE / name, newline="") as file:
        lines = csv.DictReader(line for line in file if not line.startswith("#"))
        return [{column: value(text) for column, text in row.items()} for row in lines]


# ---- the stack

def read_fan(name):
    points = rows(f"fan_{name}.csv")
    return vs.Fan(name, flow=[point["flow_cfm"] for point in points] * cfm,
                  pressure=[point["pressure_inwc"] for point in points] * inwc,
                  power=[point["power_w"] for point in points])


def read_weather():
    (row,) = rows("weather.csv")
    pressure = vs.pressure_at(row["altitude_ft"] * feet)
    net = vs.Network(
        soil_gas=vs.Air(fahrenheit(row["soil_gas_f"]), pressure, 1.0),
        outdoors=vs.Air(fahrenheit(row["outdoors_f"]), pressure, row["outdoors_humidity"]))
    net.building_pressure, net.wind_pressure = row["building_pa"], row["wind_pa"]
    return net


def read_stack(fan):
    """The network, and its suction points."""
    net, pits = read_weather(), []
    for row in rows("nodes.csv"):
        if row["kind"] == "suction point":
            soil = vs.soil_power(row["soil_lps_at_1_pa"] * litre_per_second, row["soil_exponent"])
            pits.append(net.suction_point(row["name"], soil=soil))
        elif row["kind"] == "junction":
            wye = net.junction(row["name"], vs.wye(row["wye_degrees"] * degree))
            wye.height = row["height_ft"] * feet
        elif row["kind"] == "discharge":
            net.discharge(row["name"], vs.open_end(), height=row["height_ft"] * feet)
        else:
            raise SystemExit(f"nodes.csv: {row['kind']!r} is no kind of node")
    for row in rows("runs.csv"):
        run = net.run(row["name"], net.find_node(row["from"]), net.find_node(row["to"]),
                      pipe=vs.pipe(row["pipe"], row["size_inch"] * inch),
                      length=row["length_ft"] * feet)
        run.temperature = fahrenheit(row["gas_f"])
    for row in rows("items.csv"):
        run = net.find_run(row["run"])
        if row["part"] == "fan":
            run.add(fan)
        elif row["part"] == "drain elbow":
            run.add(vs.drain_elbow(row["degrees"] * degree), count=row["count"])
        elif row["part"] == "flush entry":
            run.add(vs.entry_flush(), count=row["count"])
        else:
            raise SystemExit(f"items.csv: {row['part']!r} is no part")
    return net, pits


# ---- what stands on top

MAKERS = {
    "open end": lambda row: vs.open_end(),
    "elbow": lambda row: vs.end_elbow(row["degrees"] * degree, row["radius_ratio"]),
    "tee": lambda row: vs.end_tee(),
    "guard": lambda row: vs.end_guard(row["wire_mm"] * mm, row["opening_mm"] * mm),
    "cap": lambda row: vs.rain_cap(row["gap_ratio"]),
    "return": lambda row: vs.end_return(row["radius_ratio"]),
}


@dataclasses.dataclass
class Top:
    name: str
    remark: str
    termination: vs.Termination
    point: vs.Solution

    @property
    def flow(self):
        return self.point.discharge_flow

    @property
    def line(self):
        """What the ledger says of it."""
        return next(line for line in self.point.ledger() if line.kind == vs.LineKind.TERMINATION)


def solve_tops(net):
    tops = []
    for row in rows("terminations.csv"):
        net.termination = MAKERS[row["kind"]](row)
        tops.append(Top(row["name"], row["remark"], net.termination, net.solve()))
    net.termination = tops[0].termination
    return tops


def least_rise(termination):
    return min(stream.direction[2] for stream in termination.streams)


def where_the_air_goes(termination):
    rise = least_rise(termination)
    if rise > 0.99:
        return "straight up"
    if rise > 0.01:
        return "aslant, upward"
    if rise < -0.99:
        return "straight down"
    if rise < -0.01:
        return "aslant, downward"
    return {1: "level, one way", 2: "level, both ways"}.get(len(termination.streams),
                                                            "level, all round")


# Engineering judgement with bounds of our own, not a rule: local codes rule.
LITTLE = 0.02       # of the flow
CLOGS_BELOW = 6e-3  # m of clear opening


def verdict(top, open_flow):
    termination = top.termination
    if least_rise(termination) < -0.01:
        return "not acceptable: sends the air back down to the building"
    if not termination.is_upward:
        return "poor: throws the air sideways, toward openings and people"
    if termination.parameters.get("opening", 1) < CLOGS_BELOW:
        return "poor: leaves upward, but so fine a mesh ices over and clogs"
    if top.flow < (1 - LITTLE) * open_flow:
        return "fair: leaves upward, at a price"
    return "good: costs little and leaves upward"


# ---- what is printed

def print_answer(tops):
    opened, *others = tops
    cheapest = max(others, key=lambda top: top.flow)
    dearest = min(others, key=lambda top: top.flow)

    def cost(top):
        return (f"{(opened.flow - top.flow) / cfm:.1f} cfm "
                f"({100 * (1 - top.flow / opened.flow):.1f} %)")

    print("What does the thing on top cost me?")
    print(f"With an {opened.name} the stack moves {opened.flow / cfm:.1f} cfm. Of that the "
          f"{cheapest.name} takes {cost(cheapest)},\n"
          f"the least of all here, and the {dearest.name} {cost(dearest)}, the most.")
    print(f"Where the air goes matters more: {sum(top.termination.is_upward for top in tops)} of "
          f"these {len(tops)} let it leave upward.")


def pit_heads(pits):
    return "".join(f"  {pit.name:>15}" for pit in pits)


def vacuums(point, pits):
    return "".join(f"  {-point.pressure(pit) / inwc:8.3f} {-point.pressure(pit):6.1f}"
                   for pit in pits)


def print_tops(tops, pits):
    opened = tops[0].flow
    print(f"\n{'':17}  {'':11}  {'':13}  {'against the':>13}  {'leaves':>6}{pit_heads(pits)}")
    print(f"{'':17}  {'':11}  {'flow':>13}  {'open end':>13}  {'at':>6}  {'vacuum':>15}"
          f"  {'vacuum':>15}")
    print(f"{'on top':17}  {'K':>5} {'+-':>5}  {'cfm':>6} {'L/s':>6}  {'cfm':>6} {'%':>6}"
          f"  {'m/s':>6}  {'in. w.c.':>8} {'Pa':>6}  {'in. w.c.':>8} {'Pa':>6}")
    for top in tops:
        flow, line = top.flow, top.line
        print(f"{top.name:17}  {line.k:5.2f} {line.k_uncertainty:5.2f}"
              f"  {flow / cfm:6.1f} {flow / litre_per_second:6.1f}"
              f"  {(flow - opened) / cfm:+6.1f} {100 * (flow / opened - 1):+6.1f}"
              f"  {top.point.exit_velocity:6.1f}{vacuums(top.point, pits)}")
    print("+- is the standard uncertainty of K; smaller differences in K mean nothing.")
    print(f"\n{'on top':17}  {'the air goes':16}  verdict and reason")
    for top in tops:
        print(f"{top.name:17}  {where_the_air_goes(top.termination):16}  {verdict(top, opened)}"
              f"{'; ' if top.remark else ''}{top.remark}")
    print("Verdicts are engineering judgement on clean parts; your local code decides.")


def print_ledger(point):
    print("\nThe ledger of the stack with the open end, in the order the air meets the parts.\n"
          "Flow cost: what more would move if the part cost nothing, to first order.\n")
    print(point.ledger(flow=cfm, velocity=fpm))
    print("+- is the standard uncertainty of K: large for moulded drain elbows, of which no published\n"
          "measurements were found. Where many stand in a row, measure what they take.")
    for warning in point.warnings:
        kind = "Remark" if warning.flag == vs.SolutionFlag.NEAR_RANGE else "Warning"
        print(f"{kind}: {warning.message}")


def print_fans(points, pits_of):
    print("\nWould another fan do? The same stack with the open end.\n")
    print(f"{'':17}  {'flow':>13}  {'power':>6}  {'pressure, %':>11}{pit_heads(pits_of[0])}")
    print(f"{'fan':17}  {'cfm':>6} {'L/s':>6}  {'W':>6}  {'of shut-off':>11}"
          f"  {'in. w.c.':>8} {'Pa':>6}  {'in. w.c.':>8} {'Pa':>6}")
    for point, pits in zip(points, pits_of):
        (fan,), flow = point.fans, point.discharge_flow
        print(f"{fan.name:17}  {flow / cfm:6.1f} {flow / litre_per_second:6.1f}  {fan.power:6.1f}"
              f"  {100 * fan.shut_off_share:11.0f}{vacuums(point, pits)}")


CAUTIONS = """
Cautions
- These results do not replace licensed or certified practice. Local codes rule: on where
  and how the air may leave, on caps and guards, on permits and who may do the work.
- Suction under a slab can draw on the rooms and make combustion appliances back-draft:
  have them tested before and after.
- Electrical work is for those licensed to do it.
- Know what is in and under the slab before drilling: post-tension cables, heating, power,
  gas, water, sewers; flooring and mastic may hold asbestos.
- Air flow proves nothing about radon: only a radon test shows that it is down."""


def draw(point, folder):
    folder.mkdir(parents=True, exist_ok=True)
    for name, axes in {"operating_point.png": point.plot(flow=cfm, pressure=inwc),
                       "ledger.png": point.ledger(flow=cfm).plot()}.items():
        axes.figure.suptitle("Ridge house, open end: an invented building and an invented fan",
                             fontsize="medium")
        axes.figure.savefig(folder / name, dpi=120)


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--out", type=pathlib.Path, help="folder for the two pictures")
    out = parser.parse_args().out

    house, pits = read_stack(read_fan("strong"))
    other, other_pits = read_stack(read_fan("mild"))
    tops = solve_tops(house)
    point = tops[0].point

    print("Ridge house: an invented building and invented fans; not a design.\n")
    print_answer(tops)
    print_tops(tops, pits)
    print_ledger(point)
    print_fans([point, other.solve()], [pits, other_pits])
    print(CAUTIONS)
    if out:
        draw(point, out)


if __name__ == "__main__":
    main()
