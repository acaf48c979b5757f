# SPDX-License-Identifier: GPL-3.0-or-later
"""Pictures; matplotlib is imported when the first is drawn."""

import math
import textwrap

import numpy as np

from ._ledger import LineKind, places, symbol

# Told apart by lightness too, so that they survive a grey print and every kind of colour vision.
FAN, SYSTEM, POINT = "#1b3a6b", "#d98032", "#8c1c4b"
COLOURS = {
    LineKind.FAN: FAN, LineKind.SOIL: "#6f5b3e", LineKind.PIPE: "#7fa8d1",
    LineKind.FITTING: SYSTEM, LineKind.TRANSITION: "#f0c48a", LineKind.JUNCTION: "#3f8f7f",
    LineKind.TERMINATION: POINT, LineKind.BUOYANCY: "#b9b9b9", LineKind.WIND: "#d7e4ef",
    LineKind.OPENING: "#a65c4a", LineKind.SURROUNDINGS: "#d7e4ef",
}
CURVE_POINTS = 81


def _axes(ax, size):
    if ax is not None:
        return ax
    import matplotlib.pyplot as plt
    return plt.subplots(figsize=size, layout="constrained")[1]


def _quiet(ax):
    """Grid behind, no box."""
    ax.set_axisbelow(True)
    ax.grid(color="#e4e4e4", linewidth=0.8)
    ax.spines[["top", "right"]].set_visible(False)


def operating_point(solution, number, fan, speed, flow, pressure, ax):
    """Fan's curve, system's curve and where they meet."""
    flow_symbol = symbol(flow, "flow", "flow")
    pressure_symbol = symbol(pressure, "pressure", "pressure")
    point = solution.fans[number]
    most = point.free_delivery if math.isfinite(point.free_delivery) else 2 * abs(point.flow)
    most = max(most, 1.15 * point.flow)
    least = min(0.0, 1.15 * point.flow)
    flows = np.linspace(least, most, CURVE_POINTS)
    needed = solution.system_curve(flows, fan=number)
    made = fan.pressure(flows, density=point.density, speed=speed)
    top = 1.12 * max(np.nanmax(made), point.pressure)
    needed[needed > top] = np.nan  # the system's curve leaves the picture there

    ax = _axes(ax, (6.4, 4.4))
    _quiet(ax)
    ax.plot(flows / flow, made / pressure, color=FAN, linewidth=2.2,
            label=f"fan {fan.name}")
    ax.plot(flows / flow, needed / pressure, color=SYSTEM, linewidth=2.2, linestyle=(0, (5, 1.5)),
            label="system")
    ax.plot(point.flow / flow, point.pressure / pressure, "o", color=POINT, markersize=9,
            markeredgecolor="white", zorder=3,
            label=f"operating point: {point.flow / flow:.3g} {flow_symbol} at "
                  f"{point.pressure / pressure:.3g} {pressure_symbol}")
    ax.set_xlim(least / flow, most / flow)
    ax.set_ylim(min(0.0, np.nanmin(needed)) / pressure, top / pressure)
    ax.set_xlabel(f"flow [{flow_symbol}]")
    ax.set_ylabel(f"pressure [{pressure_symbol}]")
    ax.legend(frameon=False, loc="lower center", bbox_to_anchor=(0.5, 1.0))
    return ax


def ledger(lines, ax):
    """A bar a line, in the order the air meets them."""
    unit, digits = lines._pressure, places(lines._pressure, 0.1)
    shown = [line for line in lines if line.loss != 0]
    ax = _axes(ax, (7.6, 1.6 + 0.28 * len(shown)))
    _quiet(ax)
    ax.grid(axis="y", visible=False)
    bars = ax.barh(range(len(shown)), [line.loss / unit for line in shown], height=0.72,
                   color=[COLOURS[line.kind] for line in shown])
    ax.bar_label(bars, fmt=f"%.{digits}f", padding=3, fontsize="small")
    ax.axvline(0, color="#444444", linewidth=0.9)
    ax.set_yticks(range(len(shown)), [f"{line.where}: {line.what}" for line in shown])
    ax.set_ylim(len(shown) - 0.4, -0.6)
    ax.margins(x=0.2)  # room for the numbers at the bars' ends
    ax.tick_params(axis="y", length=0)
    ax.spines["left"].set_visible(False)
    ax.set_xlabel(f"loss of total pressure [{unit.symbol}]")
    ax.set_title("given (to the left) and taken (to the right)", fontsize="medium", loc="left")
    return ax


# What a unit of the axis must measure, by the SI unit of the observable.
QUANTITIES = {"Pa": "pressure", "m3/s": "flow", "m/s": "velocity", "W": "power", "kg/m3": "density"}


def band(found, readings, marks, unit, ax):
    """What weather does, what is unsure beyond it, marks, and readings."""
    written = found._unit if unit is None else symbol(unit, QUANTITIES.get(found._unit), "unit")
    size = 1.0 if unit is None else float(unit)
    rows = found.rows
    ax = _axes(ax, (max(6.4, 1.6 + 0.55 * len(rows)), 4.6))
    _quiet(ax)
    ax.grid(axis="x", visible=False)

    def bars(low, high, width, colour, label):
        ax.bar(range(len(rows)), [(b - a) / size for a, b in zip(low, high)], width,
               bottom=[a / size for a in low], color=colour, label=label, zorder=2)

    bars([row.band_low for row in rows], [row.band_high for row in rows], 0.96, "#dbe6f2",
         "band: weather, 2 uncertainties of the stack")
    bars([row.low.value for row in rows], [row.high.value for row in rows], 0.6, "#7fa8d1",
         "weather alone")
    ax.plot(range(len(rows)), [row.usual.value / size for row in rows], "_", color=FAN,
            markersize=14, markeredgewidth=2.2, label="usual", zorder=3)
    for mark, label in (marks.low, "marks: beyond what the weather stated explains"), (marks.high, None):
        ax.axhline(mark / size, color=SYSTEM, linewidth=1.8, linestyle=(0, (5, 1.5)), label=label)
    if readings:
        ax.errorbar(list(readings), [reading.value / size for reading in readings.values()],
                    yerr=[2 * reading.uncertainty / size for reading in readings.values()], fmt="o",
                    color=POINT, markersize=8, markeredgecolor="white", capsize=3, zorder=4,
                    label="read, with 2 standard uncertainties")
    ax.set_xticks(range(len(rows)), [row.name for row in rows],
                  rotation=30 if max(len(row.name) for row in rows) > 4 and len(rows) > 6 else 0)
    ax.set_xlim(-0.6, len(rows) - 0.4)
    ax.set_ylabel(f"{found.where} [{written}]".replace(", ", ",\n", 1))
    ax.legend(frameon=False, loc="lower left", bbox_to_anchor=(0, 1.0), fontsize="small")
    return ax


LABEL_WIDTH = 42  # characters a line; longer ones leave the bars no room


def percent(probability):
    """Nothing is ever certain."""
    return "< 1" if probability < 0.005 else "> 99" if probability > 0.995 else f"{100 * probability:.0f}"


def findings(found, ax):
    """A bar a finding that counts; those of one group in one colour."""
    shown = [one for i, one in enumerate(found) if i < 3 or one.probability >= 0.01]
    colours = [FAN, SYSTEM, POINT, "#3f8f7f", "#6f5b3e", "#7fa8d1", "#b9b9b9"]
    groups = list(dict.fromkeys(one.group for one in shown))
    words = [textwrap.fill(one.words, LABEL_WIDTH) for one in shown]
    ax = _axes(ax, (7.6, 1.2 + 0.22 * sum(1.5 + label.count("\n") for label in words)))
    _quiet(ax)
    ax.grid(axis="y", visible=False)
    bars = ax.barh(range(len(shown)), [100 * one.probability for one in shown], height=0.72,
                   color=[colours[groups.index(one.group) % len(colours)] for one in shown])
    ax.bar_label(bars, [percent(one.probability) for one in shown], padding=3, fontsize="small")
    ax.set_yticks(range(len(shown)), words)
    ax.set_ylim(len(shown) - 0.4, -0.6)
    ax.set_xlim(0, 118)
    ax.tick_params(axis="y", length=0)
    ax.spines["left"].set_visible(False)
    ax.set_xlabel("probability [%]")
    return ax
