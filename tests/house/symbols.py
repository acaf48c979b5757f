# SPDX-License-Identifier: GPL-3.0-or-later
"""What the shared library offers and what it calls, held against committed lists.

symbols.py LIBRARY            compares
symbols.py LIBRARY --update   writes the lists anew, for the diff to be reviewed
"""

import pathlib
import subprocess
import sys

import prototypes
import tree

HERE = pathlib.Path(__file__).parent

# A library neither prints, ends the program, reads its surroundings nor keeps state elsewhere.
FORBIDDEN = {
    "printing": ("printf", "vprintf", "fprintf", "vfprintf", "puts", "fputs", "putchar", "fputc",
                 "putc", "fwrite", "perror", "write", "stdout", "stderr", "__printf_chk",
                 "__fprintf_chk", "__vprintf_chk", "__vfprintf_chk"),
    "ending the program": ("exit", "_exit", "_Exit", "quick_exit", "abort", "__assert_fail",
                           "raise", "kill", "longjmp", "_longjmp", "atexit"),
    "its surroundings": ("getenv", "secure_getenv", "setenv", "fopen", "open", "system"),
    "state of the whole program": ("signal", "sigaction", "setlocale", "rand", "srand", "random",
                                   "srandom", "strtok", "localtime", "gmtime", "fesetround",
                                   "feenableexcept", "feholdexcept", "fesetenv"),
    "GSL's error handler": ("gsl_set_error_handler", "gsl_set_error_handler_off", "gsl_error"),
}


def names(library, which):
    """Names in the dynamic symbol table, without versions; the version nodes left out."""
    lines = subprocess.run(["nm", "-D", "--format=posix", which, library], check=True,
                           capture_output=True, text=True).stdout.splitlines()
    fields = [line.split() for line in lines]
    return sorted({name.partition("@")[0] for name, kind, *_ in fields if kind != "A"})


def compare(what, found, wanted):
    """Differences between two lists of names, in words."""
    for name in sorted(set(found) - set(wanted)):
        yield f"{name} is {what[0]} but not in {what[1]}"
    for name in sorted(set(wanted) - set(found)):
        yield f"{name} is in {what[1]} but not {what[0]}"


library = sys.argv[1]
exported, imported = names(library, "--defined-only"), names(library, "--undefined-only")
lists = {"symbols.txt": ("exported", exported),
         "gsl_imports.txt": ("called", [name for name in imported if name.startswith("gsl_")])}
declared = [function.name for function in prototypes.functions()]

findings = list(compare(("exported", "the public headers"), exported, declared))
for file, (verb, found) in lists.items():
    path = HERE / file
    if "--update" in sys.argv[2:]:
        path.write_text("".join(name + "\n" for name in found))
    findings += compare((verb, f"tests/house/{file}"), found, path.read_text().split())
for reason, forbidden in FORBIDDEN.items():
    findings += [f"{name} is called: {reason}" for name in imported if name in forbidden]
tree.report(findings, len(exported), "exported symbols")
