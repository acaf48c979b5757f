# SPDX-License-Identifier: GPL-3.0-or-later
"""Pictures; matplotlib is imported when the first is drawn."""

import math

import numpy as np

from ._ledger import LineKind, places, symbol

# Told apart by lightness too, so that they survive a grey print and every kind of colour vision.
FAN, SYSTEM, POINT = "#1b3a6b", "#d98032", "#8c1c4b"
COLOURS = {
    LineKind.FAN: FAN, LineKind.SOIL: "#6f5b3e", LineKind.PIPE: "#7fa8d1",
    LineKind.FITTING: SYSTEM, LineKind.TRANSITION: "#f0c48a", LineKind.JUNCTION: "#3f8f7f",
    LineKind.TERMINATION: POINT, LineKind.BUOYANCY: "#b9b9b9", LineKind.WIND: "#d7e4ef",
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
    ax.margins(x=0.14)
    ax.tick_params(axis="y", length=0)
    ax.spines["left"].set_visible(False)
    ax.set_xlabel(f"loss of total pressure [{unit.symbol}]")
    ax.set_title("given (to the left) and taken (to the right)", fontsize="medium", loc="left")
    return ax
