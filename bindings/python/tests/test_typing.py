# SPDX-License-Identifier: GPL-3.0-or-later
"""The type stubs say what the package has, and the program of the examples type-checks."""

import importlib.util
import os
import pathlib
import subprocess
import sys

import pytest
import ventstack

if importlib.util.find_spec("mypy") is None:
    pytest.skip("needs python3-mypy: the type stubs were NOT checked", allow_module_level=True)

PACKAGE = pathlib.Path(ventstack.__file__).parent
CONFIG = pathlib.Path(__file__).resolve().parents[3] / "pyproject.toml"
# what is private has no stubs
PRIVATE = r"ventstack\.core\..*" "\n" r"ventstack\._[a-z]+\..*" "\n"


def run(*command, **paths):
    environment = dict(os.environ, MYPYPATH=str(PACKAGE.parent), PYTHONPATH=str(PACKAGE.parent),
                       PYTHONDONTWRITEBYTECODE="1")
    return subprocess.run([sys.executable, "-m", *command], env=environment, capture_output=True,
                          text=True, **paths)


def test_stubs_agree_with_the_package(tmp_path):
    (tmp_path / "private").write_text(PRIVATE)
    done = run("mypy.stubtest", "ventstack", "--mypy-config-file", str(CONFIG), "--allowlist",
               str(tmp_path / "private"), "--ignore-unused-allowlist", cwd=tmp_path)
    assert done.returncode == 0, done.stdout + done.stderr
    assert "no issues found" in done.stdout


PROGRAM = """
import numpy as np
import ventstack as vs
from ventstack.units import celsius, cfm, feet, inch, inwc

air = vs.Air(temperature=celsius(13), pressure=vs.pressure_at(250), relative_humidity=1.0)
flow = np.array([0.0, 75.0, 150.0]) * cfm
fan = vs.Fan("example", flow=[0, 30, 60, 90, 120, 150] * cfm, pressure=[1.9, 1.7, 1.4, 1.0, 0.5, 0.0] * inwc)
fan = vs.Fan("example", flow=(0, 75, 150) * cfm, pressure=inwc * [1.9, 1.2, 0.0])
reveal_type(cfm * [0, 75])
net = vs.Network(soil_gas=air, outdoors=air)
pit = net.suction_point("pit", soil=vs.soil_power(4.2e-4, 0.62))
roof = net.discharge("ridge", vs.open_end(), height=7.9)
riser = net.run("riser", pit, roof, pipe=vs.pipe("PVC 40", 3 * inch), length=38 * feet)
riser.add(vs.elbow(np.radians(90), 1.5), count=2)
placed = riser.add(fan)
placed.speed = 0.9
net.sweep({"riser.length": [3, 9], "wind_pressure": 0.0}, observe="riser.flow")
net.sweep({net.parameter("riser.length"): flow, net.parameter("wind_pressure"): 0.0}, observe="riser.flow")
net.sweep({net.parameter("riser.length"): [3, 9], "wind_pressure": 0.0}, observe=["riser.flow"])
point = net.solve()
answer: float = point.flow(riser) / cfm
table: str = str(point.ledger(flow=cfm, pressure=inwc))
one: float = vs.friction_factor(1e5, 1e-4)
reveal_type(vs.friction_factor(flow, 1e-4))
"""


def test_a_program_type_checks(tmp_path):
    (tmp_path / "program.py").write_text(PROGRAM)
    done = run("mypy", "--strict", "--cache-dir", str(tmp_path / "cache"), "program.py", cwd=tmp_path)
    assert done.returncode == 0, done.stdout + done.stderr
    assert done.stdout.count('Revealed type is "numpy.ndarray') == 2


WRONG = [
    'net.run("x", "pit", roof, pipe=vs.round_pipe(0.1, 0.0), length=1.0)', "point.flow(pit)",
    "riser.add(vs.open_end())", "None * cfm", 'vs.elbow("90", 1.5)', "placed.speeds = 1.0",
]


def test_a_wrong_program_does_not(tmp_path):
    text = PROGRAM + "\n".join(WRONG) + "\n"
    (tmp_path / "program.py").write_text(text)
    done = run("mypy", "--strict", "--cache-dir", str(tmp_path / "cache"), "program.py", cwd=tmp_path)
    lines = {int(line.split(":")[1]) for line in done.stdout.splitlines() if ": error:" in line}
    last = len(text.splitlines())
    assert lines == set(range(last - len(WRONG) + 1, last + 1)), done.stdout + done.stderr
