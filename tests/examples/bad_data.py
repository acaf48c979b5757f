# SPDX-License-Identifier: GPL-3.0-or-later
"""The example in C refuses data that are wrong, naming the file or the value. Argument: the program."""

import pathlib
import shutil
import subprocess
import sys
import tempfile

DATA = pathlib.Path(__file__).resolve().parents[2] / "docs/examples/ridge_house"
PROGRAM = sys.argv[1]

CASES = [  # file, what stands there, what is put in its place, what the refusal must name
    ("nodes.csv", "name,kind", "kind,name", "nodes.csv: the heading"),
    ("nodes.csv", "wye,junction,8", "wye,junction,eight", "'eight'"),
    ("nodes.csv", "wye,junction", "wye,crossing", "'crossing'"),
    ("runs.csv", "riser,wye,ridge", "riser,wye", "fields"),
    ("runs.csv", "riser,wye,ridge,PVC 40", "riser,wye,ridge,PVC 41", "PVC 41"),
    ("runs.csv", "riser,wye,ridge", "riser,why,ridge", "why"),
    ("items.csv", "riser,drain elbow,1,45", "riser,drain elbow,1,145", "angle"),
    ("items.csv", "riser,fan", "riser,pump", "'pump'"),
    ("weather.csv", "0.8,820", "80,820", "relative_humidity"),
    ("fan_strong.csv", "30,3.05", "0,3.05", "flow"),
    ("terminations.csv", "rain cap,cap,,,,,0.5", "rain cap,cap,,,,,", "''"),
    ("terminations.csv", "tee,tee,", "tee,tea,", "'tea'"),
]

with tempfile.TemporaryDirectory(prefix="ventstack-example-") as scratch:
    for number, (file, there, instead, named) in enumerate(CASES):
        folder = pathlib.Path(scratch) / str(number)
        shutil.copytree(DATA, folder)
        text = (folder / file).read_text()
        assert there in text, (file, there)
        (folder / file).write_text(text.replace(there, instead))
        ran = subprocess.run([PROGRAM, folder], capture_output=True, text=True)
        assert ran.returncode == 1 and not ran.stdout and named in ran.stderr, (file, instead, ran)
    ran = subprocess.run([PROGRAM, scratch], capture_output=True, text=True)
    assert ran.returncode == 1 and "cannot be read" in ran.stderr, ran
    assert subprocess.run([PROGRAM, DATA], stdout=subprocess.DEVNULL).returncode == 0
print(f"{len(CASES) + 1} cases refused")
