# SPDX-License-Identifier: GPL-3.0-or-later
"""Installs the library into an empty folder and builds strangers' programs against it.

Arguments: the way (c, c++ or cmake), the build folder, the prefix, the library folder below it,
then the compiler.
"""

import os
import pathlib
import shutil
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).resolve().parent
WAY, BUILD, PREFIX, LIBDIR, *COMPILER = sys.argv[1:]
SKIPPED = 77


def run(*command, **environment):
    print("+", " ".join(map(str, command)), flush=True)
    return subprocess.run(command, check=True, env=os.environ | environment)


def install(root):
    """Installs below root; the folder that stands for the prefix."""
    run("/usr/bin/env", "meson", "install", "--quiet", "--no-rebuild", "-C", BUILD, "--destdir", root)
    return root / PREFIX.lstrip("/")


def pkg_config(libdir, *options):
    """Flags of the installed library alone: the search path is its folder and the system's."""
    environment = os.environ | {"PKG_CONFIG_PATH": str(libdir / "pkgconfig")}
    output = subprocess.run(["pkg-config", *options, "ventstack"], check=True, env=environment,
                            stdout=subprocess.PIPE, text=True).stdout
    # The .pc file names the prefix it will be used under: here that is below the new root.
    return [flag.replace(PREFIX, str(libdir.parents[len(pathlib.Path(LIBDIR).parts) - 1]))
            for flag in output.split()]


def build(source, program, libdir, link, *pkg_config_options):
    flags = pkg_config(libdir, "--cflags", "--libs", *pkg_config_options)
    run(*COMPILER, "-Wall", "-Wextra", "-Wpedantic", "-Werror", *link, source, "-o", program,
        *flags, "-lm")
    run(program, LD_LIBRARY_PATH=str(libdir))


def consume_by_pkg_config(scratch, prefix):
    libdir = prefix / LIBDIR
    build(HERE / "consumer.c", scratch / "with_shared", libdir, [])
    build(HERE / "consumer.c", scratch / "with_static", libdir, ["-static"], "--static")


def consume_by_cmake(scratch, prefix):
    run("cmake", "-G", "Ninja", "-S", HERE, "-B", scratch / "cmake",
        f"-DCMAKE_PREFIX_PATH={prefix}",
        f"-DCMAKE_C_COMPILER={COMPILER[0]}", "--log-level=WARNING")
    run("cmake", "--build", scratch / "cmake")
    run(scratch / "cmake/with_shared")
    run(scratch / "cmake/with_static")


if WAY == "cmake" and not shutil.which("cmake"):
    print("skipped: there is no cmake here")
    sys.exit(SKIPPED)
with tempfile.TemporaryDirectory(prefix="ventstack-install-") as folder:
    scratch = pathlib.Path(folder)
    prefix = install(scratch / "root")
    consume = consume_by_cmake if WAY == "cmake" else consume_by_pkg_config
    consume(scratch, prefix)
