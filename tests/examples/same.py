# SPDX-License-Identifier: GPL-3.0-or-later
"""The example says the same in C and in Python, digit by digit, and draws its two pictures.

Arguments: the C program, the folder that holds the Python package.
"""

import importlib.util
import os
import pathlib
import subprocess
import sys
import tempfile

EXAMPLES = pathlib.Path(__file__).resolve().parents[2] / "docs/examples"
PROGRAM, PACKAGE = sys.argv[1:]
PICTURES = ("operating_point.png", "ledger.png")


def told(*command):
    """What a program prints, blanks run together and rules left out: tables may differ in width."""
    environment = os.environ | {"PYTHONPATH": PACKAGE, "PYTHONDONTWRITEBYTECODE": "1",
                                "MPLBACKEND": "Agg"}
    output = subprocess.run(command, check=True, cwd=EXAMPLES, env=environment, text=True,
                            stdout=subprocess.PIPE).stdout
    lines = [" ".join(line.split()) for line in output.splitlines()]
    return [line for line in lines if line.strip("-") or not line]


with tempfile.TemporaryDirectory(prefix="ventstack-example-") as folder:
    draws = importlib.util.find_spec("matplotlib") is not None
    in_c = told(PROGRAM)
    in_python = told(sys.executable, "ridge_house.py", *(["--out", folder] if draws else []))
    for number, (c, python) in enumerate(zip(in_c, in_python), 1):
        assert c == python, f"line {number}\nC:      {c}\nPython: {python}"
    assert len(in_c) == len(in_python), (len(in_c), len(in_python))
    pictures = {name: (pathlib.Path(folder) / name).read_bytes() for name in PICTURES if draws}
assert all(picture.startswith(b"\x89PNG") for picture in pictures.values())

text = "\n".join(in_c)
for part in ("invented building", "What does the thing on top cost me?", "open end 1.00",
             "180 degree return straight down not acceptable", "The ledger", "Cautions",
             "radon test"):
    assert part in text, part
assert "nan" not in text and "inf " not in text
print(f"{len(in_c)} lines agree, {len(pictures)} pictures drawn")
