# SPDX-License-Identifier: GPL-3.0-or-later
"""Writes coefficients.md, coefficients.csv and the pictures from the library itself.

    python3 make.py           writes all three
    python3 make.py --check   fails where the page or the numbers behind the pictures are stale

A new family appears by itself. Only where the library's ranges say nothing of what is usual does it
need a line in USUAL (what its other parameters are) or SWEEP (what is drawn, over which range).
"""

import csv
import math
import pathlib
import re
import sys

import numpy as np
import ventstack as vs
from ventstack.units import inch

HERE = pathlib.Path(__file__).resolve().parent
PAGE, NUMBERS, PICTURES = HERE / "coefficients.md", HERE / "coefficients.csv", HERE / "pictures"

PIPE, PIPE_NAME, REYNOLDS = vs.pipe("PVC 40", 3 * inch), '3 in "PVC 40"', 5e4
POINTS, KEPT = 121, 10  # points of a curve; every KEPT-th stands in the table of numbers
TOLERANCE = 2e-4        # of such a number: it has five digits

# ---- what is drawn ---------------------------------------------------------------------------------

DEGREE, MM = math.pi / 180, 1e-3

# Geometry a part usually has; else the middle of the source's range.
USUAL = {
    "angle": 90 * DEGREE, "cone_angle": 30 * DEGREE, "radius_ratio": 1.0,
    "other_bore": vs.pipe("PVC 40", 4 * inch).width, "wall_ratio": 0.05, "opening": 0.5,
    "gap_ratio": 0.5, "wire": 1 * MM, "length": 1.0, "distance_ratio": 0.0, "length_ratio": 1.0,
    "diameter_ratio": 0.6, "leak_ratio": 0.01, "opening_pressure": 25.0, "compression": 0.1,
    "free_area": 0.6, "thickness_ratio": 0.1,
}
USUAL_IN = {
    "rounded entry": {"radius_ratio": 0.1}, "butterfly damper": {"angle": 30 * DEGREE},
    "ball valve": {"angle": 30 * DEGREE}, "guard": {"opening": 12 * MM},
    "coupling": {"bead_ratio": 0.02, "gap_ratio": 0.1, "offset_ratio": 0.01},
}
# Parameter drawn and its range; else the first parameter over the source's range.
SWEEP = {
    "elbow": ("radius_ratio", 0.5, 5), "elbow at the end": ("radius_ratio", 0.5, 5),
    "return bend at the end": ("radius_ratio", 0.5, 5), "rounded entry": ("radius_ratio", 0, 0.5),
    "sudden change": ("other_bore", 55 * MM, 200 * MM),
    "gradual change": ("cone_angle", 2 * DEGREE, 180 * DEGREE), "guard": ("opening", 1 * MM, 25 * MM),
    "flexible duct": ("compression", 0, 0.3), "check damper": ("reynolds", 4e3, 2e5),
    "short outlet pipe of a fan": ("length_ratio", 0, 4),
    "elbow close to a fan inlet": ("distance_ratio", 0, 6),
}
REYNOLDS_RANGE = ("reynolds", 4e3, 2e5)


def middle(parameter):
    low, high = parameter.source_low, parameter.source_high
    return math.sqrt(low * high) if low > 0 and high / low > 100 else (low + high) / 2


def usual(family):
    """Geometry the family is looked at with."""
    here = USUAL_IN.get(family.name, {})
    return {p.name: min(max(here.get(p.name, USUAL.get(p.name, middle(p))), p.source_low),
                        p.source_high) for p in family.parameters}


def sweep(family):
    """Parameter drawn and the values it takes."""
    if family.name in SWEEP:
        name, low, high = SWEEP[family.name]
    elif family.parameters:
        first = family.parameters[0]
        name, low, high = first.name, first.source_low, first.source_high
    else:
        name, low, high = REYNOLDS_RANGE
    spaced = np.geomspace if low > 0 and high / low > 20 else np.linspace
    return name, spaced(low, high, POINTS)


# ---- what the library says -------------------------------------------------------------------------

def is_stated(family):
    """Whether its number is the caller's own."""
    return all(formula.source is None for formula in family.formulas)


def families():
    return [family for family in vs.fitting_families() + vs.termination_families()
            if not is_stated(family)]


def ways(family):
    """The directions that differ, in words, with the sign of their Reynolds number."""
    leaves = family.kind is vs.Termination
    one, other = ("air leaves", "air is drawn in") if leaves else ("with the run", "reversed")
    if not leaves and family.formulas == family.reversed_formulas:
        k = [coefficients(family, {}, sign)[0].value for sign in (1, -1)]
        if k[0] == k[1]:
            return {"both ways": 1}
    return {one: 1, other: -1}


def coefficients(family, changes, sign):
    """All alternatives with some of the usual geometry changed."""
    geometry = usual(family)
    reynolds = sign * changes.get("reynolds", REYNOLDS)
    geometry.update((name, x) for name, x in changes.items() if name != "reynolds")
    return family.make(**geometry).alternatives(PIPE, reynolds)


def curves(family, sign):
    """x, K of the default, its uncertainty, and K by each other source (NaN where it has none)."""
    name, x = sweep(family)
    lists = [coefficients(family, {name: float(value)}, sign) for value in x]
    others = {}
    for i, found in enumerate(lists):
        for k in found[1:]:
            others.setdefault(k.source, np.full(POINTS, np.nan))[i] = k.value
    return (np.asarray(x), np.array([found[0].value for found in lists]),
            np.array([found[0].uncertainty for found in lists]), others)


def junction_curves():
    """K of each leg of a wye of equal bores against the branch's share of the flow."""
    share = np.linspace(0, 1, POINTS)
    for angle in (45, 90):
        for straight in (False, True):
            law = vs.wye(angle * DEGREE)
            of = [law.coefficient(straight, 1 - q if straight else q, 1.0, 1.0) for q in share]
            yield (f"{'straight leg' if straight else 'branch'}, {angle} degrees", share,
                   np.array([k.value for k in of]), np.array([k.uncertainty for k in of]))


# ---- words -----------------------------------------------------------------------------------------

UNITS = {"rad": ("degrees", DEGREE), "m": ("mm", MM), "": ("", 1.0)}


def in_unit(parameter, value):
    """A value of a parameter as a reader wants it; a length beyond a metre stays in metres."""
    unit, size = UNITS.get(parameter.unit, (parameter.unit, 1.0))
    if parameter.unit == "m" and abs(value) >= 1:
        unit, size = "m", 1.0
    return f"{value / size:.4g} {unit}".strip()


def words(name):
    return name.replace("_", " ")


def short(source):
    """Author's surname and year."""
    if source is None:
        return "the caller"
    surnames = [re.sub(r"^(?:[A-Z]\. ?)+", "", author) for author in source.author.split(", ")]
    author = " and ".join(surnames) if len(surnames) < 3 else f"{surnames[0]} and others"
    return f"{author} {source.year or ''}".strip()


def cited(source):
    return "the caller" if source is None else f"{short(source)} [{source.number}](#sources)"


def number(value):
    return f"{value:.3g}"


def bounds(low, high, text=number):
    return f"{text(low)} to {text(high)}"


def table(heads, rows):
    return "\n".join("| " + " | ".join(map(str, row)) + " |"
                     for row in [heads, ["---"] * len(heads), *rows])


def heading(family):
    return f"{'Fitting' if family.kind is vs.Fitting else 'Termination'}: {family.name}"


def picture(family):
    return f"{family.kind.__name__.lower()}-{re.sub(r'[^a-z]+', '-', family.name.lower())}.png"


def anchor(text):
    return "#" + re.sub(r"[^a-z0-9 -]", "", text.lower()).replace(" ", "-")


# ---- the page --------------------------------------------------------------------------------------

INTRO = f"""# Coefficients

Made by `docs/reference/make.py` from the library itself; edit that, not this. A test fails when it is stale.

Every coefficient is on the velocity pressure of the pipe the part sits in. Where several sources cover a case, the default is named first and the
others can be asked for (`part.alternatives()`, `part.by_source()`); half the distance between the least and the greatest is part of the standard uncertainty. Why the
default is the default, what else is in the uncertainty and what a formula leaves out is told with each constructor in the C headers
`include/ventstack/bend.h`, `area.h`, `entry.h`, `device.h`, `connector.h`, `screen.h`, `general.h`, `junction.h` and `termination.h`.

Numbers and pictures are for {PIPE_NAME} pipe at a Reynolds number of {REYNOLDS:g} and the geometry given with them. Outside a *source's range* a coefficient
is flagged, outside the *bounds* it is refused. *How known* is how the value was obtained: `printed` (read in the source), `reprint` (read in
another's reprint or program), `computed` (exact theory or computed independently), `memory` (not found again: treat as unverified), `practice` (common
practice, no source).
"""


def overview():
    rows = []
    for family in families():
        k = coefficients(family, {}, 1)
        rows.append([f"[{family.name}]({anchor(heading(family))})",
                     ", ".join(f"{words(p.name)} {source_range(p)}" for p in family.parameters) or "none",
                     f"{number(k[0].value)} ± {number(k[0].uncertainty)}",
                     "; ".join(short(each.source) for each in k),
                     "; ".join(each.source.how.name.lower() for each in k)])
    return table(["family", "source's range", "K ± standard uncertainty", "sources, the default first",
                  "how known"], rows)


def bounds_in_unit(p, low, high):
    """Both ends of a range of a parameter, the unit said once where it is the same."""
    low, high = in_unit(p, low), in_unit(p, high)
    value, _, unit = low.partition(" ")
    return f"{value if high.endswith(unit) or value == '0' else low} to {high}"


def source_range(p):
    return bounds_in_unit(p, p.source_low, p.source_high)


def parameter_table(family):
    geometry = usual(family)
    return table(["parameter", "bounds", "source's range", "here"],
                 [[words(p.name), bounds_in_unit(p, p.low, p.high), source_range(p),
                   in_unit(p, geometry[p.name])] for p in family.parameters])


def reynolds_range(formula):
    if formula.reynolds_low <= 0 and formula.reynolds_high >= 1e9:
        return "any"
    of = ", on a length of the part" if formula.own_length else ""
    return f"{power(formula.reynolds_low)} to {power(formula.reynolds_high)}{of}"


def power(value):
    """A Reynolds number: 4000, 1e8."""
    return f"{value:.0f}" if value < 1e5 else re.sub(r"e\+0?", "e", f"{value:.3g}")


def coefficient_table(family):
    rows = []
    for way, sign in ways(family).items():
        known = family.formulas if sign > 0 else family.reversed_formulas
        ranges = {formula.source: formula for formula in known}
        for i, k in enumerate(coefficients(family, {}, sign)):
            rows.append([way if i == 0 else "", f"{number(k.value)} ± {number(k.uncertainty)}",
                         cited(k.source), "" if k.source is None else k.source.how.name.lower(),
                         reynolds_range(ranges[k.source])])
    return table(["flow", "K ± standard uncertainty", "source, the default first", "how known",
                  "Reynolds number"], rows)


def section(family):
    parts = [f"### {heading(family)}"]
    if family.parameters:
        parts.append(parameter_table(family))
    parts += [coefficient_table(family), f"![K of {family.name}](pictures/{picture(family)})"]
    return "\n\n".join(parts)


def junction_section():
    rows = []
    for label, share, k, u in junction_curves():
        i = POINTS // 2
        rows.append([label, f"{number(k[i])} ± {number(u[i])}"])
    source = vs.wye(90 * DEGREE).coefficient(False, 0.5, 1.0, 1.0).source
    return "\n\n".join([
        "## Junctions", "A wye or tee of equal bores, half of the flow from the branch; on the velocity "
        "pressure of the combined pipe. Negative where the faster stream drags the slower one along. "
        f"Joining: {cited(source)}, {source.how.name.lower()}; what else is in it: `junction.h`.",
        table(["leg", "K ± standard uncertainty"], rows), "![K of a wye](pictures/junction-wye.png)"])


def roughness_section():
    rows = [[each.material, f"{each.value * 1e6:.3g}", bounds(each.low * 1e6, each.high * 1e6),
             cited(each.source), each.source.how.name.lower()] for each in vs.roughnesses()]
    return "\n\n".join(["## Roughness of pipe",
                        table(["material", "roughness [um]", "published span [um]", "source",
                               "how known"], rows)])


def source_section():
    rows = [[each.number, f"{each.author}{f' ({each.year})' if each.year else ''}, *{each.title}*",
             each.place, each.how.name.lower()] for each in vs.sources()]
    return "\n\n".join(["## Sources", table(["", "work", "place", "how known"], rows)])


def page():
    sections = "\n\n".join(section(family) for family in families())
    return "\n\n".join([INTRO.rstrip(), "## All families", overview(), "## Family by family", sections,
                        junction_section(), roughness_section(), source_section()]) + "\n"


# ---- the numbers -----------------------------------------------------------------------------------

def numbers():
    """Rows of the table behind the pictures: whose, which way, what, and the values."""
    def row(name, way, what, values):
        return [name, way, what, *(f"{value:.5g}" for value in values[::KEPT])]
    for family in families():
        name = heading(family)
        for way, sign in ways(family).items():
            x, k, u, others = curves(family, sign)
            yield row(name, way, f"{sweep(family)[0]} (SI)", x)
            yield row(name, way, "K", k)
            yield row(name, way, "uncertainty", u)
            for source, values in others.items():
                yield row(name, way, f"K by source {source.number}", values)
    for label, share, k, u in junction_curves():
        yield row("Junction: wye", label, "flow share of the branch", share)
        yield row("Junction: wye", label, "K", k)
        yield row("Junction: wye", label, "uncertainty", u)


def same_number(a, b):
    a, b = float(a), float(b)
    return a == b or (math.isnan(a) and math.isnan(b)) or abs(a - b) <= TOLERANCE * max(abs(a), abs(b))


def same_row(a, b):
    return a[:3] == b[:3] and len(a) == len(b) and all(map(same_number, a[3:], b[3:]))


# ---- the pictures ----------------------------------------------------------------------------------

FIRST, REST = "#1b3a6b", ("#d98032", "#3f8f7f", "#8c1c4b", "#7f7f7f", "#6f5b3e")


def axis_label(family):
    name, _ = sweep(family)
    if name == "reynolds":
        return "Reynolds number in the pipe [-]", 1.0
    parameter = next(p for p in family.parameters if p.name == name)
    unit, size = UNITS.get(parameter.unit, (parameter.unit, 1.0))
    return f"{words(name)} [{unit or '-'}]", size


def fixed(family):
    """What the picture holds fixed, in words."""
    name, _ = sweep(family)
    geometry = usual(family)
    return ", ".join(f"{words(p.name)} {in_unit(p, geometry[p.name])}" for p in family.parameters
                     if p.name != name)


def draw_way(ax, family, way, sign):
    x, k, u, others = curves(family, sign)
    label, size = axis_label(family)
    source = coefficients(family, {}, sign)[0].source
    ax.fill_between(x / size, np.maximum(k - u, 0) if k.min() >= 0 else k - u, k + u, color=FIRST,
                    alpha=0.15, linewidth=0)
    ax.plot(x / size, k, color=FIRST, linewidth=1.8, label=short(source))
    for colour, style, (source, values) in zip(REST, ("--", "-.", ":", "--", "-."), others.items()):
        ax.plot(x / size, values, color=colour, linestyle=style, linewidth=1.3, label=short(source))
    if x[0] > 0 and x[-1] / x[0] > 20:
        ax.set_xscale("log")
    if k.min() >= 0 and k.max() > 20 * np.median(k) > 0:
        ax.set_yscale("log", nonpositive="clip")
    else:
        ax.set_ylim(bottom=min(0, ax.get_ylim()[0]))
    ax.set_xlabel(label)
    ax.set_title(way, fontsize=9)
    ax.grid(alpha=0.3)
    ax.legend(fontsize=7)


def save(figure, name):
    figure.savefig(PICTURES / name, dpi=80, metadata={"Software": None})


def draw_family(plt, family):
    both = ways(family)
    figure, axes = plt.subplots(1, len(both), figsize=(4.6 * len(both), 3.3), layout="constrained",
                                squeeze=False)
    for ax, (way, sign) in zip(axes[0], both.items()):
        draw_way(ax, family, way, sign)
    axes[0][0].set_ylabel("loss coefficient K [-]")
    held = fixed(family)
    figure.suptitle(family.name + (f"; {held}" if held else ""), fontsize=10)
    save(figure, picture(family))
    plt.close(figure)


def draw_junction(plt):
    figure, ax = plt.subplots(figsize=(5.4, 3.6), layout="constrained")
    for (label, share, k, u), colour in zip(junction_curves(), (FIRST, *REST)):
        ax.fill_between(share, k - u, k + u, color=colour, alpha=0.12, linewidth=0)
        ax.plot(share, k, color=colour, linestyle="--" if "straight" in label else "-", label=label)
    ax.axhline(0, color="black", linewidth=0.6)
    ax.set_xlabel("share of the flow that comes from the branch [-]")
    ax.set_ylabel("K on the combined pipe's velocity pressure [-]")
    ax.set_title("joining flow, equal bores", fontsize=10)
    ax.grid(alpha=0.3)
    ax.legend(fontsize=7)
    save(figure, "junction-wye.png")
    plt.close(figure)


def pictures():
    """Names of all pictures."""
    return {picture(family) for family in families()} | {"junction-wye.png"}


def draw_all():
    import matplotlib
    matplotlib.use("Agg")
    import matplotlib.pyplot as plt
    PICTURES.mkdir(exist_ok=True)
    for old in PICTURES.glob("*.png"):
        if old.name not in pictures():
            old.unlink()
    for family in families():
        draw_family(plt, family)
    draw_junction(plt)


# ---- writing and checking --------------------------------------------------------------------------

NUMBERS_HEAD = ["# numbers behind the pictures of coefficients.md, by make.py: part, flow, quantity, "
                "values along the curve"]


def write():
    PAGE.write_text(page())
    with NUMBERS.open("w", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(NUMBERS_HEAD)
        writer.writerows(numbers())
    draw_all()


def stale():
    """What differs from what the library says today, one line each."""
    written, now = PAGE.read_text().splitlines(), page().splitlines()
    for line, (a, b) in enumerate(zip(written, now), 1):
        if a != b:
            yield f"{PAGE.name}:{line}: is   {a}\n{PAGE.name}:{line}: want {b}"
            break
    else:
        if len(written) != len(now):
            yield f"{PAGE.name}: has {len(written)} lines, must have {len(now)}"
    with NUMBERS.open(newline="") as file:
        rows = list(csv.reader(file))[1:]
    today = list(numbers())
    if len(rows) != len(today):
        yield f"{NUMBERS.name}: has {len(rows)} curves, must have {len(today)}"
    for line, (a, b) in enumerate(zip(rows, today), 2):
        if not same_row(a, b):
            yield f"{NUMBERS.name}:{line}: is   {','.join(a)}\n{NUMBERS.name}:{line}: want {','.join(b)}"
            break
    there = {path.name for path in PICTURES.glob("*.png")}
    yield from (f"pictures/{name}: is missing" for name in sorted(pictures() - there))
    yield from (f"pictures/{name}: belongs to no family" for name in sorted(there - pictures()))


def main():
    if sys.argv[1:] == ["--check"]:
        found = list(stale())
        print("\n".join(found) or f"{len(families())} families, nothing stale")
        if found:
            print("stale: run python3 docs/reference/make.py")
        sys.exit(bool(found))
    if sys.argv[1:]:
        sys.exit("make.py takes --check or nothing")
    write()


main()
