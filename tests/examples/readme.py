# SPDX-License-Identifier: GPL-3.0-or-later
"""The programs of README.md build and run as they stand there.

Arguments: c, the two folders of headers, the library, the compiler; or python, the folder that holds
the package.
"""

import os
import pathlib
import re
import subprocess
import sys
import tempfile

from blocks import blocks

LANGUAGE, *REST = sys.argv[1:]
(program,) = blocks("README.md", LANGUAGE)


def run(*command, **environment):
    return subprocess.run(command, check=True, env=os.environ | environment, text=True,
                          stdout=subprocess.PIPE).stdout


with tempfile.TemporaryDirectory(prefix="ventstack-readme-") as folder:
    source = pathlib.Path(folder) / f"program.{'c' if LANGUAGE == 'c' else 'py'}"
    source.write_text(program)
    if LANGUAGE == "c":
        *headers, library, compiler = *REST[:3], REST[3:]
        binary = source.with_suffix("")
        run(*compiler, "-Wall", "-Wextra", "-Wpedantic", "-Werror", *("-I" + path for path in headers),
            source, library, "-o", binary)
        printed = run(binary, LD_LIBRARY_PATH=str(pathlib.Path(library).parent))
    else:
        printed = run(sys.executable, source, PYTHONPATH=REST[0], PYTHONDONTWRITEBYTECODE="1")

print(printed, end="")
# The fan of the page is at its shut-off at 0 cfm and delivers freely at 150 cfm.
flow = float(re.search(r"([\d.]+) cfm", printed)[1])
assert 0 < flow < 150, flow
if LANGUAGE == "python":
    for part in ("store room", "riser", "fan example", "open end", "share of fan"):
        assert part in printed, part
