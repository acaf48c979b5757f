# SPDX-License-Identifier: GPL-3.0-or-later
"""Fails unless the C and the Python example print the same text and the pictures come out.

compare.py C_PROGRAM PYTHON_PROGRAM, run in docs/examples.
"""

import pathlib
import subprocess
import sys
import tempfile

program, script = sys.argv[1:]
with tempfile.TemporaryDirectory() as folder:
    in_c = subprocess.run([program], check=True, capture_output=True, text=True).stdout
    in_python = subprocess.run([sys.executable, script, "--out", folder], check=True,
                               capture_output=True, text=True).stdout
    pictures = sorted(path.name for path in pathlib.Path(folder).glob("*.png"))
if in_c != in_python:
    sys.exit(f"the two differ:\n{in_c}\n{in_python}")
if "open end" not in in_c or pictures != ["ledger.png", "operating_point.png"]:
    sys.exit(f"output or pictures are missing: {pictures}")
