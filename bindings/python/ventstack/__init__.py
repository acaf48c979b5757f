# SPDX-License-Identifier: GPL-3.0-or-later
"""Fan-driven vent stacks for soil-gas (radon) mitigation.

From the suction point under the slab, through pipe, fittings and fan, to whatever stands on top of
the stack: how much moves, what vacuum is left at the pit, and what each part costs.

Everything is SI; `ventstack.units` has the units of the trade. Build a `Network`, `Network.solve`
it, read the `Solution` and print its ledger.

The results do not replace licensed practice, and local codes rule. Vacuum under a slab can draw
flue gas from combustion appliances into the house (back-drafting): have them tested. Electrical work
and what lies under a slab are dangers of their own. Only a radon test shows whether radon is low.

Examples
--------
>>> import numpy as np, ventstack as vs
>>> from ventstack.units import celsius, cfm, feet, inch, inwc
>>> air = vs.Air(temperature=celsius(13), pressure=vs.pressure_at(250), relative_humidity=1.0)
>>> outdoors = vs.Air(temperature=celsius(-5), pressure=air.pressure, relative_humidity=0.8)
>>> fan = vs.Fan("invented", flow=[0, 30, 60, 90, 120, 150] * cfm,
...              pressure=[1.9, 1.7, 1.4, 1.0, 0.5, 0.0] * inwc)
>>> net = vs.Network(soil_gas=air, outdoors=outdoors)
>>> pit = net.suction_point("store room", soil=vs.soil_power(4.2e-4, 0.62))
>>> roof = net.discharge("ridge", vs.open_end(), height=7.9)
>>> riser = net.run("riser", pit, roof, pipe=vs.pipe("PVC 40", 3 * inch), length=38 * feet)
>>> bends, placed = riser.add(vs.elbow(np.radians(90), 1.5), count=2), riser.add(fan)
>>> point = net.solve()
>>> point.pressure(pit) < 0 < point.flow(riser)
True
"""

from . import units
from ._address import Observable, Parameter
from ._air import Air, pressure_at, saturation_pressure
from ._area import bevelled_change, bushing, gradual_change, reducer, rounded_change, sudden_change
from ._balance import Achievement, Balanced, Setting
from ._band import Band, BandRow, Judgement, Marks, Span, Weather, room_span, wind_span
from ._bend import (
    close_return, drain_elbow, elbow, elbow_outlet, elbow_pair, mitre, segmented_elbow,
)
from ._commission import Sheet, SheetFlag, SheetLine, Verdict
from ._connector import bypass_tee, coupling, fan_inlet_elbow, fan_outlet, flexible_duct
from ._device import (
    ball_valve, butterfly_damper, check_damper, gate_valve, orifice_plate, slide_gate,
)
from ._diagnose import (
    Claim, Diagnosed, Diagnosis, DiagnosisFlag, Fault, FaultKind, Finding, FoundFault, NextReading,
)
from ._entry import (
    entry_angled, entry_bell, entry_bevelled, entry_cored_hole, entry_flush,
    entry_perforated, entry_projecting, entry_reentrant, entry_rounded, pit_radius,
)
from ._errors import (
    ArgumentError, DependencyError, DomainWarning, DuplicateError, NoOperatingPointError,
    NotConvergedError, NotFoundError, OutOfMemory, StaleError, TopologyError, VentError,
)
from ._estimate import Estimate, EstimateFlag, Residual, ResidualFlag
from ._family import Family, Formula, ParameterRange, fitting_families, termination_families
from ._fan import Fan
from ._fit import Fit, Fitted, readings
from ._fitting import Fitting, fitting_constant
from ._friction import (
    friction_churchill, friction_colebrook, friction_factor, friction_laminar_rectangle,
)
from ._general import (
    equivalent_length, equivalent_length_coefficient, fitting_equivalent_length,
    fitting_three_constant, fitting_three_constant_find, fitting_three_constant_names,
    fitting_two_constant, fitting_two_constant_find, fitting_two_constant_names,
)
from ._handles import FanItem, Item, Node, Run
from ._instrument import (
    Instrument, Probe, TraverseRule, hot_wire_anemometer, inclined_manometer, pitot,
    pressure_instrument, probe, traverse_positions, u_tube, vane_anemometer, water_density,
)
from ._junction import Junction, double_wye, junction_lossless, wye, wye_by_momentum
from ._ledger import Ledger, LedgerLine, LineKind
from ._measure import (
    Advice, Station, mean_to_centre, mean_to_centre_power, mean_velocity_pressure,
    static_pressure, velocity_4005, velocity_of_pressure,
)
from ._network import Network
from ._opening import Opening, opening
from ._orifice import (
    Orifice, Taps, metering_orifice, orifice_discharge, orifice_expansibility, orifice_loss,
)
from ._pipe import (
    Pipe, Roughness, pipe, pipes, rectangular_pipe, roughness, roughnesses, round_pipe,
)
from ._points import OperatingPoint, PointFlag
from ._provenance import Provenance, SourceUse
from ._reading import Reading, ReadingFlag
from ._screen import perforated_plate, screen, square_screen
from ._site import Field, SoilEstimate, fan_fit, field_test, soil_test, top_coefficient
from ._soil import Soil, soil_power, soil_two_term
from ._solution import (
    Convergence, EquivalentSource, FanPoint, Solution, SolutionFlag, SolutionWarning,
)
from ._source import Coefficient, CoefficientFlag, How, Source, sources
from ._sweep import Sweep
from ._termination import (
    Stream, Termination, drain_stack, end_cone, end_dome, end_elbow, end_guard, end_return,
    end_tee, guard_free_area, open_end, rain_cap,
)
from ._uncertainty import (
    Budget, BudgetLine, Input, Shape, Simulated, Uncertainty, network_inputs,
)
from .core import version as _version

__version__ = _version()

__all__ = [
    "Band", "BandRow", "Judgement", "Marks", "Sheet", "SheetFlag", "SheetLine", "Span", "Verdict",
    "Weather", "room_span", "wind_span",
    "Claim", "Diagnosed", "Diagnosis", "DiagnosisFlag", "Fault", "FaultKind", "Finding", "FoundFault",
    "NextReading",
    "Budget", "BudgetLine", "Estimate", "EstimateFlag", "Field", "Fit", "Fitted", "Input", "Residual",
    "ResidualFlag", "Shape", "Simulated", "SoilEstimate", "Uncertainty", "fan_fit", "field_test",
    "network_inputs", "readings", "soil_test", "top_coefficient",
    "Achievement", "Advice", "Air", "ArgumentError", "Balanced", "Coefficient",
    "CoefficientFlag", "Convergence", "DependencyError", "DomainWarning", "DuplicateError",
    "EquivalentSource", "Family", "Fan", "FanItem", "FanPoint", "Fitting", "Formula", "How",
    "Instrument", "Item", "Junction", "Ledger", "LedgerLine", "LineKind", "Network",
    "NoOperatingPointError", "Node", "NotConvergedError", "NotFoundError", "OperatingPoint",
    "Observable", "Opening", "Orifice", "OutOfMemory", "Parameter", "ParameterRange", "Pipe", "PointFlag", "Probe", "Provenance",
    "Reading", "ReadingFlag", "Roughness", "Run", "Setting", "Soil", "Solution", "SolutionFlag",
    "SolutionWarning", "Source", "SourceUse", "StaleError", "Station", "Stream", "Taps",
    "Sweep", "Termination", "TopologyError", "TraverseRule", "VentError", "ball_valve",
    "bevelled_change", "bushing", "butterfly_damper", "bypass_tee", "check_damper",
    "close_return", "coupling", "double_wye", "drain_elbow", "drain_stack", "elbow",
    "elbow_outlet", "elbow_pair", "end_cone", "end_dome", "end_elbow", "end_guard",
    "end_return", "end_tee", "entry_angled", "entry_bell", "entry_bevelled", "entry_cored_hole",
    "entry_flush", "entry_perforated", "entry_projecting", "entry_reentrant", "entry_rounded",
    "equivalent_length", "equivalent_length_coefficient", "fan_inlet_elbow", "fan_outlet",
    "fitting_constant", "fitting_equivalent_length", "fitting_families",
    "fitting_three_constant", "fitting_three_constant_find", "fitting_three_constant_names",
    "fitting_two_constant", "fitting_two_constant_find", "fitting_two_constant_names",
    "flexible_duct", "friction_churchill", "friction_colebrook", "friction_factor",
    "friction_laminar_rectangle", "gate_valve", "gradual_change", "guard_free_area",
    "hot_wire_anemometer", "inclined_manometer", "junction_lossless", "mean_to_centre",
    "mean_to_centre_power", "mean_velocity_pressure", "metering_orifice", "mitre", "open_end", "opening",
    "orifice_discharge", "orifice_expansibility", "orifice_loss", "orifice_plate",
    "perforated_plate", "pipe", "pipes", "pit_radius", "pitot", "pressure_at",
    "pressure_instrument", "probe", "rain_cap", "rectangular_pipe", "reducer", "roughness",
    "roughnesses", "round_pipe", "rounded_change", "saturation_pressure", "screen",
    "segmented_elbow", "slide_gate", "soil_power", "soil_two_term", "sources", "square_screen",
    "static_pressure", "sudden_change", "termination_families", "traverse_positions", "u_tube",
    "units", "vane_anemometer", "velocity_4005", "velocity_of_pressure", "water_density", "wye",
    "wye_by_momentum",
]

for _name in __all__:
    if _name != "units":
        globals()[_name].__module__ = __name__
del _name
