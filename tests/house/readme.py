# SPDX-License-Identifier: GPL-3.0-or-later
"""Compiles and runs the C program of README.md, and runs its Python program.

readme.py README LIBRARY_FOLDER INCLUDE_FOLDERS... (PYTHONPATH leads to the package, or the package
is not built and the Python program is left out)
"""

import importlib.util
import os
import pathlib
import re
import subprocess
import sys
import tempfile

readme, library, *includes = sys.argv[1:]
blocks = dict(re.findall(r"```(c|python)\n(.*?)```", pathlib.Path(readme).read_text(), re.S))
with tempfile.TemporaryDirectory() as folder:
    source, program = pathlib.Path(folder, "program.c"), pathlib.Path(folder, "program")
    source.write_text(blocks["c"])
    subprocess.run([os.environ.get("CC", "cc"), "-std=c11", "-Wall", "-Wextra", "-Wpedantic",
                    "-Werror", *(f"-I{include}" for include in includes), str(source), "-o",
                    str(program), f"-L{library}", f"-Wl,-rpath,{library}", "-lventstack"], check=True)
    said = subprocess.run([program], check=True, capture_output=True, text=True).stdout
    if not re.fullmatch(r"\d+\.\d cfm\n", said):
        sys.exit(f"the C program of README.md says {said!r}")
if importlib.util.find_spec("ventstack"):
    subprocess.run([sys.executable, "-c", blocks["python"]], check=True)
