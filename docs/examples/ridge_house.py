# SPDX-License-Identifier: GPL-3.0-or-later
"""What does the thing on top of the stack cost? An invented building, an invented fan.

The same program as ridge_house.c, with two pictures: python3 ridge_house.py --out FOLDER
"""

import argparse
import csv
import math
import pathlib

import ventstack as vs
from ventstack.units import celsius, cfm, inch, inwc, litre_per_second

HERE = pathlib.Path(__file__).parent / "ridge_house"

# The verdicts are judgements of engineering, not rules: local codes rule.
UPWARD = "good: leaves upward, nothing in the way"
SIDEWAYS = "poor: thrown sideways, towards walls, windows and people"
DOWNWARD = "not fit: sends the gas back down to the building"
MESH = "fair: leaves upward; look after leaves and ice"
FINE_MESH = "poor: leaves upward, but fine mesh ices and clogs first"
SLANTED = "fair: leaves slanting; mind what it points at"

COARSE, FINE = 12.7e-3, 1.6e-3  # m from wire to wire, centres
TOPS = [
    ("open end", vs.open_end(), UPWARD),
    ("45 degree elbow", vs.end_elbow(math.radians(45), 1), SLANTED),
    ("90 degree elbow", vs.end_elbow(math.radians(90), 1), SIDEWAYS),
    ("tee", vs.end_tee(), SIDEWAYS),
    ("coarse mesh guard", vs.end_guard(1.6e-3, COARSE - 1.6e-3), MESH),
    ("fine mesh guard", vs.end_guard(0.3e-3, FINE - 0.3e-3), FINE_MESH),
    ("rain cap, half bore gap", vs.rain_cap(0.5), SIDEWAYS),
    ("180 degree return", vs.end_return(1), DOWNWARD),
]

CAUTIONS = """
Cautions. These results do not replace licensed practice; local codes rule. Check that
combustion appliances do not back-draft. Electrical work is for those licensed to do it.
Know what is under the slab before drilling: tension cables, heating, cables, gas, water,
asbestos. Whether radon has come down is proven only by a radon test."""


def rows(name):
    with open(HERE / name, newline="") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


def read_fan():
    table = rows("fan.csv")
    return vs.Fan("example", flow=[float(row["flow_cfm"]) for row in table] * cfm,
                  pressure=[float(row["pressure_inwc"]) for row in table] * inwc,
                  power=[float(row["power_w"]) for row in table])


def read_stack():
    soil_gas = vs.Air(temperature=celsius(12), pressure=vs.pressure_at(250), relative_humidity=1.0)
    outdoors = vs.Air(temperature=celsius(-8), pressure=soil_gas.pressure, relative_humidity=0.8)
    net = vs.Network(soil_gas=soil_gas, outdoors=outdoors)
    fan = read_fan()
    for row in rows("layout.csv"):
        kind, name = row["kind"], row["name"]
        value, second = (float(row[column] or 0) for column in ("value", "second"))
        if kind == "suction":
            net.suction_point(name, soil=vs.soil_power(value, second))
        elif kind == "junction":
            net.junction(name, vs.wye(math.radians(value))).height = second
        elif kind == "discharge":
            net.discharge(name, vs.open_end(), height=second)
        elif kind == "run":
            net.run(name, net.find_node(row["from"]), net.find_node(row["to"]),
                    pipe=vs.pipe("PVC 40", value * inch), length=second)
        elif kind == "entry":
            net.find_run(name).add(vs.entry_flush(), count=second)
        elif kind == "elbow":
            net.find_run(name).add(vs.elbow(math.radians(value), 1), count=second)
        elif kind == "temperature":
            net.find_run(name).temperature = celsius(value)
        elif kind == "fan":
            net.find_run(name).add(fan)
    return net


def where_the_air_goes(termination):
    streams = termination.streams
    up = streams[0].direction[2]
    if up > 0.99:
        return "straight up"
    if up > 0.5:
        return "slanting up"
    if up < -0.5:
        return "straight down"
    return {1: "level, one way", 2: "level, both ways"}.get(len(streams), "level, all round")


def print_tops(net):
    north, south = net.find_node("store room"), net.find_node("workshop")
    opened = None
    print(f"{'on top':<24} {'cfm':>6} {'L/s':>6} {'change':>7}  {'store room':>10} {'workshop':>10} "
          f"{'exit':>8}  {'the air goes':<16}  verdict")
    print(f"{'':<24} {'':>6} {'':>6} {'cfm':>7}  {'in w.c.':>10} {'in w.c.':>10} {'m/s':>8}")
    for name, termination, verdict in TOPS:
        net.termination = termination
        point = net.solve()
        flow = point.discharge_flow
        opened = flow if opened is None else opened
        print(f"{name:<24} {flow / cfm:6.1f} {flow / litre_per_second:6.1f} "
              f"{(flow - opened) / cfm:7.1f}  {-point.pressure(north) / inwc:10.3f} "
              f"{-point.pressure(south) / inwc:10.3f} {point.exit_velocity:8.1f}  "
              f"{where_the_air_goes(termination):<16}  {verdict}")
    net.termination = vs.open_end()


def print_ledger(point):
    print(f"\n{'where':<16} {'what':<32} {'K':>7} {'Pa':>9} {'share':>7} {'cost cfm':>9}")
    for line in point.ledger():
        k = "" if math.isnan(line.k) else f"{line.k:.3f}"
        print(f"{line.where:<16} {line.what:<32} {k:>7} {line.loss:9.2f} {100 * line.share:6.1f}% "
              f"{line.flow_cost / cfm:9.2f}")
    for warning in point.warnings:
        print(f"note: {warning.message}")


def draw(point, folder):
    import matplotlib

    matplotlib.use("Agg")
    folder.mkdir(parents=True, exist_ok=True)
    for name, axes in (("operating_point.png", point.plot(flow=cfm, pressure=inwc)),
                       ("ledger.png", point.ledger(flow=cfm, pressure=inwc).plot())):
        axes.figure.savefig(folder / name, dpi=120, bbox_inches="tight")


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--out", type=pathlib.Path, help="folder for the two pictures")
    out = parser.parse_args().out
    net = read_stack()
    print("An invented building and an invented fan: what does the thing on top of the stack cost?\n")
    print_tops(net)
    point = net.solve()
    print_ledger(point)
    print(CAUTIONS)
    if out:
        draw(point, out)


if __name__ == "__main__":
    main()
