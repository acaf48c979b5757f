# SPDX-License-Identifier: GPL-3.0-or-later
"""Batches from Python against peers in Python, side by side; a peer that is not installed is skipped.

Run with the built package on PYTHONPATH. The peers are Newton's method vectorised in NumPy, on laws
written anew from their formulas, and the friction factor of `fluids` compiled by numba."""

import pathlib
import time

import ventstack as vs

try:
    import numpy as np
except ImportError:
    np = None

CASES, CHUNK, REPEATS = 65536, 4096, 15
FLAGS = pathlib.Path("/proc/cpuinfo")
AVX512 = FLAGS.exists() and "avx512dq" in FLAGS.read_text()


def claim(name, measured, op, goal, unit):
    met = measured >= goal if op == ">=" else measured <= goal
    print(f"claim {name} measured {measured:.3g}{unit} goal {op} {goal:.3g}{unit} "
          f"{'met' if met else 'short'}")


def best(function):
    times = []
    for _ in range(REPEATS):
        begin = time.perf_counter()
        function()
        times.append(time.perf_counter() - begin)
    return min(times)


def steffen(x, y):
    """Coefficients of Steffen's cubics (1990), and of the last chord beyond the last point."""
    h, chord = np.diff(x), np.diff(y) / np.diff(x)
    p = (chord[:-1] * h[1:] + chord[1:] * h[:-1]) / (h[:-1] + h[1:])
    inner = (np.sign(chord[:-1]) + np.sign(chord[1:])) * np.minimum(
        np.minimum(abs(chord[:-1]), abs(chord[1:])), abs(p) / 2)
    d = np.concatenate(([chord[0]], inner, [chord[-1]]))
    c = np.array([y[:-1], d[:-1], (3 * chord - 2 * d[:-1] - d[1:]) / h,
                  (d[:-1] + d[1:] - 2 * chord) / h**2])
    return np.concatenate((c, [[y[-1]], [d[-1]], [0], [0]]), axis=1)


class Stack:
    """Ten pipes with twelve stated coefficients, a fan of ten points, a soil."""

    def __init__(self):
        self.gas = vs.Air(286.15, 98300, 1.0)
        self.out = vs.Air(268.15, 98300, 0.8)
        self.bore = np.array([0.078, 0.102] * 5)
        self.length = 1.2 + 0.3 * np.arange(10)
        self.roughness = 1.5e-6
        self.k = np.array([0.9, 0.4, 0.3, 0.3, 0.2, 0.3, 0.2, 0.4, 0.3, 0.2])
        x = np.linspace(0, 1, 10)
        self.flow, self.pressure = 0.1 * x, 600 * (1 - x**1.8)
        net = self.net = vs.Network(soil_gas=self.gas, outdoors=self.out)
        pit = net.suction_point("pit", soil=vs.soil_power(8e-4, 0.62))
        top = net.discharge("top", vs.open_end(), height=8)
        pipes = [vs.round_pipe(bore, self.roughness) for bore in self.bore]
        self.run = net.run("run", pit, top, pipe=pipes[0], length=self.length[0])
        self.run.add(vs.fitting_constant(self.k[0]))
        for pipe, length, k in zip(pipes[1:], self.length[1:], self.k[1:]):
            self.run.add_pipe(pipe, length)
            self.run.add(vs.fitting_constant(k))
        self.run.add(vs.fitting_constant(0.1))
        self.run.add(vs.fitting_constant(0.1))
        self.run.add(vs.Fan("invented", flow=self.flow, pressure=self.pressure,
                            density=self.gas.density))
        # what the peer needs: loss coefficients on each pipe, the changes of bore among them
        wide, narrow = self.bore[1], self.bore[0]
        ratio = (narrow / wide)**2
        grow = vs.sudden_change(wide).coefficient(pipes[0], 1e6).value
        shrink = vs.sudden_change(narrow).coefficient(pipes[1], 1e6).value
        assert 0 < ratio < 1
        self.all_k = self.k + np.where(np.arange(10) % 2, shrink, grow)
        self.all_k[9] += 0.2 + vs.open_end().coefficient(pipes[9], 1e6).value - shrink
        self.cubics = steffen(self.flow, self.pressure)

    def peer(self, first_length, c, factor):
        """Volume flow by Newton's method over arrays, on the formulas of the laws."""
        rho, mu, n = self.gas.density, self.gas.viscosity, 0.62
        area = np.pi / 4 * self.bore**2
        lift = (self.out.density - rho) * 9.80665 * 8
        q = np.full_like(c, 0.05)
        y = [np.full_like(c, 8.0) for _ in area]
        for step in range(6):
            loss, slope = (q / c)**(1 / n), 0
            slope = loss / (n * q)
            for i, a in enumerate(area):
                length = first_length if i == 0 else self.length[i]
                re = rho * self.bore[i] / (mu * a) * q
                x = np.log(10) / (2 * 2.51) * re
                b = self.roughness / self.bore[i] / 3.7 * x
                for _ in range(1 if step else 3):
                    y[i] -= (y[i] - np.log(x / (b + y[i]))) / (1 + 1 / (b + y[i]))
                f = (np.log(10) / 2)**2 / y[i]**2
                dynamic = rho / (2 * a * a)
                friction = dynamic * length / self.bore[i] * f
                kinetic = dynamic * self.all_k[i]
                loss += q * q * (friction + kinetic)
                slope += 2 * q * (friction * (1 - 1 / (b + y[i] + 1)) + kinetic)
            at = np.minimum(np.searchsorted(self.flow, q, "right") - 1, 9)
            c0, c1, c2, c3 = self.cubics[:, at]
            t = q - self.flow[at]
            fan = factor * (c0 + t * (c1 + t * (c2 + t * c3)))
            fan_slope = factor * (c1 + t * (2 * c2 + 3 * t * c3))
            q = q - (loss - lift - fan) / (slope - fan_slope)
        return q


def operating_points():
    random = np.random.default_rng(1)
    stack = Stack()
    length, c, factor = (random.uniform(low, high, CASES)
                         for low, high in ((1, 12), (4e-4, 1.6e-3), (0.5, 2)))
    values = {"run.length": length, "pit.c": c, "run.pressure_factor": factor}

    def own(threads=1):
        return stack.net.sweep(values, [stack.run.flow], threads=threads)[stack.run.flow]

    def theirs():
        return np.concatenate([stack.peer(*(a[i:i + CHUNK] for a in (length, c, factor)))
                               for i in range(0, CASES, CHUNK)])

    worst = np.max(abs(own() / theirs() - 1))
    one, two, peer = best(own), best(lambda: own(2)), best(theirs)
    print(f"operating points from Python: own {1e9 * one / CASES:.0f} ns a case, NumPy "
          f"{1e9 * peer / CASES:.0f} ns")
    claim("batch.vs_numpy_newton", peer / one, ">=", 15, "x")
    claim("batch.vs_numpy_same_answer", worst, "<=", 1e-12, "")
    claim("batch.two_threads_in_python", one / two, ">=", 1.8, "x")


def friction():
    try:
        import fluids.numba
        import numba
    except ImportError:
        print("claim batch.friction_vs_numba_fluids skipped")
        return
    clamond = fluids.numba.fluids.friction.Clamond

    @numba.vectorize([numba.float64(numba.float64, numba.float64)])
    def peer(reynolds, roughness):
        return clamond(reynolds, roughness, False)

    random = np.random.default_rng(2)
    reynolds = 10**random.uniform(np.log10(4e3), 8, 100000)
    roughness = 10**random.uniform(-7, np.log10(0.05), 100000)
    out = np.empty_like(reynolds)
    worst = np.max(abs(vs.friction_colebrook(reynolds, roughness) / peer(reynolds, roughness) - 1))
    own = best(lambda: vs.friction_colebrook(reynolds, roughness, out=out))
    theirs = best(lambda: peer(reynolds, roughness, out))
    print(f"friction from Python: own {own * 1e4:.2f} ns, fluids by numba {theirs * 1e4:.2f} ns, "
          f"apart by {worst:.1e}")
    claim("batch.friction_vs_numba_fluids", theirs / own, ">=", 10 if AVX512 else 5, "x")


if np is None:
    print("claim batch.vs_numpy_newton skipped")
else:
    operating_points()
    friction()
