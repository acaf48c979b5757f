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
import textwrap

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
    "rounded entry": {"radius_ratio": 0.1}, "butterfly damper": {"angle": 30 * DEGREE, "blade_ratio": 1.0},
    "ball valve": {"angle": 30 * DEGREE}, "guard": {"opening": 12 * MM},
    "coupling": {"bead_ratio": 0.02, "gap_ratio": 0.1, "offset_ratio": 0.01},
    "segmented elbow": {"joints": 3}, "pair of elbows": {"spacing": 1.0},
    "elbow with a short outlet": {"outlet_ratio": 1.0},
    "three-constant form": {"k1": 800, "ki": 0.14, "kd": 4.0, "nominal_size": 3 * inch},
    "two-constant form": {"k1": 800, "k_infinite": 0.4}, "equivalent length": {"length_ratio": 30},
    "rounded change": {"edge_radius": 5 * MM},
    "bevelled change": {"bevel_length": 5 * MM, "bevel_angle": 45 * DEGREE},
    "bushing": {"throat_bore": 60 * MM, "throat_length": 40 * MM},
    "reducer": {"length": 100 * MM, "eccentricity": 0.0},
    "projecting entry": {"projection_ratio": 0.2, "wall_ratio": 0.02},
    "bevelled entry": {"length_ratio": 0.1, "bevel_angle": 45 * DEGREE},
    "screen": {"wire": 0.25 * MM, "opening": 1.2 * MM},
    "perforated plate": {"hole_bore": 6 * MM, "thickness": 1 * MM},
    "domed guard": {"opening": 6 * MM, "area_ratio": 2},
    "conical outlet": {"bore_ratio": 1.5, "cone_angle": 10 * DEGREE},
    "drain stack": {"bore_ratio": 1.3},
    "angled entry": {"angle": 45 * DEGREE}, "bell entry": {"radius_ratio": 0.1},
    "cored hole": {"hole_bore": 100 * MM, "slab_thickness": 100 * MM, "pit_radius": 0.3},
    "perforated pipe": {"holes_per_length": 100, "hole_bore": 10 * MM, "discharge_coefficient": 0.6},
}
# Parameter drawn and its range; else the first parameter over the source's range.
SWEEP = {
    "elbow": ("radius_ratio", 0.5, 5), "elbow at the end": ("radius_ratio", 0.5, 5),
    "return bend at the end": ("radius_ratio", 0.5, 5), "rounded entry": ("radius_ratio", 0, 0.5),
    "sudden change": ("other_bore", 78 * MM, 200 * MM),
    "gradual change": ("cone_angle", 2 * DEGREE, 180 * DEGREE), "guard": ("opening", 1 * MM, 25 * MM),
    "flexible duct": ("compression", 0, 0.3), "check damper": ("reynolds", 4e3, 2e5),
    "short outlet pipe of a fan": ("length_ratio", 0, 4),
    "elbow close to a fan inlet": ("distance_ratio", 0, 6),
    "segmented elbow": ("radius_ratio", 0.5, 2.5), "pair of elbows": ("spacing", 0, 10),
    "elbow with a short outlet": ("outlet_ratio", 0, 10),
    "three-constant form": ("reynolds", 4e2, 2e5), "two-constant form": ("reynolds", 4e2, 2e5),
    "equivalent length": ("reynolds", 4e3, 2e5), "rounded change": ("edge_radius", 0, 20 * MM),
    "bevelled change": ("bevel_length", 0, 20 * MM), "bushing": ("throat_bore", 40 * MM, 75 * MM),
    "reducer": ("length", 20 * MM, 300 * MM), "projecting entry": ("projection_ratio", 0, 1),
    "bell entry": ("radius_ratio", 0, 0.4), "cored hole": ("hole_bore", 60 * MM, 150 * MM),
    "perforated pipe": ("holes_per_length", 10, 500), "screen": ("opening", 0.5 * MM, 5 * MM),
    "domed guard": ("area_ratio", 1, 6), "conical outlet": ("bore_ratio", 1, 2.5),
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


class Curve:
    """K over x: by the default, its uncertainty, and by each other source (NaN where it has none)."""

    def __init__(self, x, lists):
        self.x = np.asarray(x)
        self.sources = list(dict.fromkeys(found[0].source for found in lists))
        self.k = np.array([found[0].value for found in lists])
        self.u = np.array([found[0].uncertainty for found in lists])
        self.others = {}
        for i, found in enumerate(lists):
            for k in found[1:]:
                self.others.setdefault(k.source, np.full(len(lists), np.nan))[i] = k.value


def curve(family, sign):
    name, x = sweep(family)
    return Curve(x, [coefficients(family, {name: float(value)}, sign) for value in x])


# Cases of a wye of equal bores: words, angle [degrees], whether the straight leg, whether dividing.
JUNCTIONS = {angle: {f"{'dividing' if dividing else 'joining'}, {'straight leg' if straight else 'branch'}":
                     (straight, dividing) for dividing in (False, True) for straight in (False, True)}
             for angle in (45, 90)}


def junction_coefficients(angle, straight, dividing, branch_share):
    share = 1 - branch_share if straight else branch_share
    return vs.wye(angle * DEGREE).alternatives(straight, share, 1.0, 1.0, dividing=dividing)


def junction_curve(angle, straight, dividing):
    share = np.linspace(0, 1, POINTS)
    return Curve(share, [junction_coefficients(angle, straight, dividing, float(q)) for q in share])


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


def numbered(source):
    return short(source) if source is None else f"{short(source)} [{source.number}]"


def cited(source):
    return short(source) if source is None else f"{numbered(source)}(#sources)"


def number(value):
    return f"{value:.3g}"


def with_uncertainty(k):
    return f"{number(k.value)} ± {number(k.uncertainty)}"


def bounds(low, high, text=number):
    return f"{text(low)} to {text(high)}"


def table(heads, rows):
    return "\n".join("| " + " | ".join(map(str, row)) + " |"
                     for row in [heads, ["---"] * len(heads), *rows])


def heading(family):
    return f"{'Fitting' if family.kind is vs.Fitting else 'Termination'}: {family.name}"


def picture(family):
    return f"{family.kind.__name__.lower()}-{re.sub(r'[^a-z]+', '-', family.name.lower())}.png"


def junction_picture(angle):
    return f"junction-wye-{angle}.png"


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
                     with_uncertainty(k[0]),
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
            rows.append([way if i == 0 else "", with_uncertainty(k),
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
    parts = ["## Junctions",
             "A wye or tee of equal bores, half of the flow by the branch; on the velocity pressure of "
             "the combined pipe. Negative where the faster stream drags the slower one along. Any angle, "
             "any areas, any number of legs and any directions: `vs.wye`, `vs.double_wye`, "
             "`vs.wye_by_momentum`. The default is an author's formula made continuous; the formulas as "
             "printed follow it, momentum theory last."]
    for angle, cases in JUNCTIONS.items():
        rows = []
        for case, where in cases.items():
            for i, k in enumerate(junction_coefficients(angle, *where, 0.5)):
                rows.append(["" if i else case, with_uncertainty(k), cited(k.source),
                             k.source.place, k.source.how.name.lower()])
        parts += [f"### Wye at {angle} degrees",
                  table(["leg", "K ± standard uncertainty", "source, the default first", "place",
                         "how known"], rows),
                  f"![K of a wye at {angle} degrees](pictures/{junction_picture(angle)})"]
    return "\n\n".join(parts)


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
    def rows(name, way, over, of):
        yield [name, way, over, *kept(of.x)]
        yield [name, way, "K", *kept(of.k)]
        yield [name, way, "uncertainty", *kept(of.u)]
        for source, values in of.others.items():
            yield [name, way, f"K by source {source.number}", *kept(values)]
    def kept(values):
        return [f"{value:.5g}" for value in values[::KEPT]]
    for family in families():
        for way, sign in ways(family).items():
            yield from rows(heading(family), way, f"{sweep(family)[0]} (SI)", curve(family, sign))
    for angle, cases in JUNCTIONS.items():
        for case, where in cases.items():
            yield from rows(f"Junction: wye at {angle} degrees", case, "flow share of the branch",
                            junction_curve(angle, *where))


def same_number(a, b):
    a, b = float(a), float(b)
    return a == b or (math.isnan(a) and math.isnan(b)) or abs(a - b) <= TOLERANCE * max(abs(a), abs(b))


def same_row(a, b):
    return a[:3] == b[:3] and len(a) == len(b) and all(map(same_number, a[3:], b[3:]))


# ---- the pictures ----------------------------------------------------------------------------------

FIRST, REST = "#1b3a6b", ("#d98032", "#3f8f7f", "#8c1c4b", "#7f7f7f", "#6f5b3e")
STYLES = ("--", "-.", ":", (0, (5, 1)), (0, (3, 1, 1, 1, 1, 1)))


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


def draw(ax, of, size, label, title):
    """One curve with its band, and what the other sources say."""
    low = of.k - of.u if of.k.min() < 0 else np.maximum(of.k - of.u, 0)
    ax.fill_between(of.x / size, low, of.k + of.u, color=FIRST, alpha=0.15, linewidth=0)
    ax.plot(of.x / size, of.k, color=FIRST, linewidth=1.8, label=f"{', '.join(map(numbered, of.sources))}, default")
    for i, (source, values) in enumerate(of.others.items()):
        ax.plot(of.x / size, values, color=REST[i % len(REST)], linestyle=STYLES[i % len(STYLES)],
                linewidth=1.3, label=numbered(source))
    if of.x[0] > 0 and of.x[-1] / of.x[0] > 20:
        ax.set_xscale("log")
    if of.k.min() >= 0 and of.k.max() > 20 * np.median(of.k) > 0:
        ax.set_yscale("log", nonpositive="clip")
    else:
        ax.set_ylim(bottom=min(0, ax.get_ylim()[0]))
    ax.set_xlabel(label)
    ax.set_title(title, fontsize=9)
    ax.grid(alpha=0.3)
    ax.legend(fontsize=7)


def save(figure, name):
    figure.savefig(PICTURES / name, dpi=80, metadata={"Software": None})


def draw_family(plt, family):
    both, (label, size) = ways(family), axis_label(family)
    figure, axes = plt.subplots(1, len(both), figsize=(4.6 * len(both), 3.3), layout="constrained",
                                squeeze=False)
    for ax, (way, sign) in zip(axes[0], both.items()):
        draw(ax, curve(family, sign), size, label, way)
    axes[0][0].set_ylabel("loss coefficient K [-]")
    held = fixed(family)
    title = textwrap.wrap(family.name + (f"; {held}" if held else ""), 58 * len(both))
    figure.suptitle("\n".join(title), fontsize=10)
    save(figure, picture(family))
    plt.close(figure)


def draw_junction(plt, angle):
    figure, axes = plt.subplots(2, 2, figsize=(9.2, 6.2), layout="constrained")
    for ax, (case, where) in zip(axes.flat, JUNCTIONS[angle].items()):
        draw(ax, junction_curve(angle, *where), 1.0, "share of the flow by the branch [-]", case)
        ax.axhline(0, color="black", linewidth=0.6)
    for ax in axes[:, 0]:
        ax.set_ylabel("loss coefficient K [-]")
    figure.suptitle(f"wye at {angle} degrees, equal bores; K on the combined pipe's velocity pressure",
                    fontsize=10)
    save(figure, junction_picture(angle))
    plt.close(figure)


def pictures():
    """Names of all pictures."""
    return {picture(family) for family in families()} | {junction_picture(angle) for angle in JUNCTIONS}


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
    for angle in JUNCTIONS:
        draw_junction(plt, angle)


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
