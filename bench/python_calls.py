# SPDX-License-Identifier: GPL-3.0-or-later
"""What a call from Python costs, against peers in the same run; a peer that is not installed is skipped.

Run with the built package on PYTHONPATH. The peers are the same C function by way of ctypes, the
friction factor of `fluids` in Python, and the fixed cost of one of NumPy's own functions."""

import ctypes
import timeit

import numpy as np
import ventstack as vs
from ventstack import _core
from ventstack.units import celsius, cfm, to_fahrenheit

REPEATS, LONG = 200, 100_000  # many short ones: some are undisturbed on a busy machine
LIBRARY = ctypes.CDLL(_core.__file__)  # finds what the module links


def claim(name, measured, op, goal, unit):
    met = measured >= goal if op == ">=" else measured <= goal
    print(f"claim {name} measured {measured:.3g}{unit} goal {op} {goal:.3g}{unit} "
          f"{'met' if met else 'short'}")


def nanoseconds(call, number=1000):
    """The least time of one call."""
    return min(timeit.repeat(call, globals=globals(), number=number, repeat=REPEATS)) / number * 1e9


def c_function(name, *kinds, result=ctypes.c_double):
    function = getattr(LIBRARY, name)
    function.argtypes, function.restype = kinds, result
    return function


def pointer(array):
    return array.ctypes.data_as(ctypes.POINTER(ctypes.c_double))


fan = vs.Fan("invented", flow=[0, 0.05, 0.1], pressure=[300, 200, 0], power=[20, 40, 50])
air, pipe, soil = vs.Air(286.15, 98300.0, 1.0), vs.round_pipe(0.1, 1.5e-6), vs.soil_power(1e-3, 0.62)

# calls, and a number that stands in them
SCALARS = {
    "vs.friction_factor({}, 1e-4)": 1e5, "vs.friction_colebrook({}, 1e-4)": 1e5,
    "vs.friction_churchill({}, 1e-4)": 1e5, "vs.friction_laminar_rectangle({})": 0.5,
    "vs.pressure_at({})": 250.0, "vs.saturation_pressure({})": 286.15, "vs.water_density({})": 290.0,
    "soil.flow({})": 10.0, "soil.pressure({})": 0.01, "fan.pressure({})": 0.05,
    "fan.slope({})": 0.05, "fan.power({})": 0.05, "pipe.loss(3.0, {}, 1.2, 1.8e-5)": 0.02,
    "vs.velocity_of_pressure({}, 1.2)": 20.0, "vs.velocity_4005({})": 20.0,
    "vs.mean_to_centre({}, 1e-4)": 1e5, "vs.mean_to_centre_power({})": 7.0,
    "vs.guard_free_area({}, 0.01)": 0.001, "vs.orifice_discharge(0.1, 0.05, {})": 1e5,
    "vs.orifice_expansibility({}, 1e5, 500.0)": 0.5, "vs.orifice_loss({}, 0.6, 100.0)": 0.5,
    "{} * cfm": 30.0, "{} / cfm": 0.01, "celsius({})": 13.0, "to_fahrenheit({})": 290.0,
}
PROPERTIES = ["air.density", "air.viscosity", "air.temperature"]


def scalars():
    """Calls with floats. What is beyond the formula's own cost, an element's in a long array, is the
    cost of the call."""
    globals()["many"] = many = np.empty(1000)
    cost, beyond = {}, {}
    for call, number in SCALARS.items():
        many[:] = number
        text = call.format(number)
        cost[text] = nanoseconds(text)
        beyond[text] = cost[text] - nanoseconds(call.format("many"), 10) / many.size
        print(f"{cost[text]:8.0f} ns, {beyond[text]:3.0f} of it for the call  {text}")
    for text in PROPERTIES:
        cost[text] = beyond[text] = nanoseconds(text)
        print(f"{cost[text]:8.0f} ns  {text}")
    friction = cost["vs.friction_factor(100000.0, 1e-4)"]
    claim("python.scalar_friction", friction, "<=", 120, " ns")
    print(f"above 120 ns: {', '.join(text for text in cost if cost[text] > 120)}")
    claim("python.scalar_greatest_cost_of_a_call", max(beyond.values()), "<=", 120, " ns")
    globals()["by_ctypes"] = c_function("vent_friction_factor", ctypes.c_double, ctypes.c_double)
    assert by_ctypes(1e5, 1e-4) == vs.friction_factor(1e5, 1e-4)
    ctypes_cost = nanoseconds("by_ctypes(1e5, 1e-4)")
    print(f"{ctypes_cost:8.0f} ns  the same by ctypes")
    claim("python.scalar_vs_ctypes", ctypes_cost / friction, ">=", 2, "x")
    try:
        from fluids.friction import friction_factor
    except ImportError:
        print("claim python.scalar_vs_fluids skipped")
        return
    globals()["by_fluids"] = friction_factor
    assert abs(by_fluids(1e5, 1e-4) / vs.friction_factor(1e5, 1e-4) - 1) < 1e-9
    fluids_cost = nanoseconds("by_fluids(1e5, 1e-4)")
    print(f"{fluids_cost:8.0f} ns  fluids.friction.friction_factor")
    claim("python.scalar_vs_fluids", fluids_cost / friction, ">=", 4, "x")


def arrays():
    """The fixed cost is that of an array of one element; of costly formulas without the element."""
    globals()["one"] = one = np.empty(1)
    one[:] = 1
    numpy_cost = nanoseconds("np.sqrt(one)")
    print(f"{numpy_cost:8.0f} ns  np.sqrt of one element")
    cost = {}
    for call, number in SCALARS.items():
        text = call.format("one")
        one[:], many[:] = number, number
        cost[text] = nanoseconds(text) - nanoseconds(call.format("many"), 10) / many.size
    units = [cost.pop(text) for text in ("one * cfm", "one / cfm")]  # NumPy asks first whose turn it is
    cost["cfm * one"] = nanoseconds("cfm * one")
    dearest = sorted(cost, key=cost.get)[-5:]
    print("the dearest: " + ", ".join(f"{text} {cost[text]:.0f} ns" for text in dearest))
    claim("python.array_fixed_friction", cost["vs.friction_factor(one, 1e-4)"], "<=", 300, " ns")
    claim("python.array_fixed_greatest", cost[dearest[-1]], "<=", 300, " ns")
    claim("python.array_fixed_vs_numpy", cost["vs.friction_factor(one, 1e-4)"] / numpy_cost, "<=", 1.2,
          "x")
    print(f"{units[0]:8.0f} ns  one * cfm; {nanoseconds('one * 2.0'):.0f} ns  one * 2.0")
    for text in ("[30.0, 60.0] * cfm", "vs.friction_factor([1e4, 1e5], 1e-4)"):
        print(f"{nanoseconds(text):8.0f} ns  {text}")


def long_arrays():
    double, step, size = ctypes.POINTER(ctypes.c_double), ctypes.c_ssize_t, ctypes.c_size_t
    by_c = c_function("vent_friction_factor_array", size, double, step, double, step, double, step,
                      result=size)
    reynolds, roughness = np.geomspace(3e3, 1e8, LONG), np.linspace(0, 0.05, LONG)
    out = np.empty(LONG)
    given = (LONG, pointer(reynolds), 1, pointer(roughness), 1, pointer(out), 1)
    by_c(*given)
    assert np.array_equal(out, vs.friction_factor(reynolds, roughness))
    globals().update(locals())
    c_time, new, filled, sparse = (nanoseconds(call, 2) for call in (
        "by_c(*given)", "vs.friction_factor(reynolds, roughness)",
        "vs.friction_factor(reynolds, roughness, out=out)",
        "vs.friction_factor(reynolds[::2], roughness[::2])"))
    print(f"{LONG} elements: C {c_time / LONG:.2f} ns each, Python {new / LONG:.2f}, into an array that is "
          f"given {filled / LONG:.2f}, every other element {2 * sparse / LONG:.2f}")
    claim("python.array_vs_c", new / c_time, "<=", 1.1, "x")
    claim("python.array_out_vs_c", filled / c_time, "<=", 1.1, "x")


scalars()
arrays()
long_arrays()
