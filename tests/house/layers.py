# SPDX-License-Identifier: GPL-3.0-or-later
"""A layer includes only itself and lower ones; GSL is seen by lib/numeric alone."""

import re

import tree

LAYERS = ("base", "numeric", "physics", "network", "practice")

# Which layer a public header belongs to, so that <ventstack/fan.h> counts as physics.
PUBLIC = {
    "export": "base", "version": "base", "error": "base", "source": "base", "units": "base",
    "air": "physics", "friction": "physics", "pipe": "physics", "fitting": "physics",
    "area": "physics", "bend": "physics", "entry": "physics",
    "device": "physics", "connector": "physics", "screen": "physics", "general": "physics",
    "junction": "physics", "termination": "physics", "fan": "physics", "soil": "physics",
    "opening": "physics",
    "network": "network", "solution": "network", "provenance": "network", "parameter": "network",
    "observable": "network", "gradient": "network", "points": "network", "balance": "network", "many": "network",
    "measure": "practice", "uncertainty": "practice", "fit": "practice",
    "commission": "practice", "diagnose": "practice",
}
INTERNAL = ("physics", "network")  # layers whose private headers practice does not see
UMBRELLA = "ventstack"  # brings all layers, so no file of the library may include it

INCLUDE = re.compile(r'^\s*#\s*include\s*([<"])([^>"]+)[>"]')


def includes(path):
    for number, line in enumerate(path.read_text().splitlines(), 1):
        match = INCLUDE.match(line)
        if match:
            yield number, match[1], match[2]


def layer_of(path):
    """Layer of a file of lib/ or of a public header; the umbrella stands above all."""
    if path.parent.name in LAYERS:
        return path.parent.name
    name = path.name.split(".")[0]
    return LAYERS[-1] if name == UMBRELLA else PUBLIC.get(name)


def target_layer(bracket, target):
    """Layer of what is included: None for the system's headers, "" where it has no place."""
    folder, _, name = target.rpartition("/")
    if folder == "ventstack":
        return PUBLIC.get(name.removesuffix(".h"), "")
    if bracket == '"':
        return folder if folder in LAYERS else ""
    return None


def check(path):
    layer, public = layer_of(path), path.parent.name == "ventstack"
    if layer is None:
        yield tree.finding(path, 1, "belongs to no layer: name it in tests/house/layers.py")
        return
    for number, bracket, target in includes(path):
        if target.startswith("gsl/") and layer != "numeric":
            yield tree.finding(path, number, f"{target}: GSL is called in lib/numeric only")
        if public and (bracket == '"' or target.startswith("gsl/")):
            yield tree.finding(path, number, f"{target}: not for a public header")
        target_is = target_layer(bracket, target)
        if target_is == "":
            yield tree.finding(path, number, f"{target}: write <ventstack/NAME.h> or "
                                             '"layer/name.h"')
        elif target_is and LAYERS.index(target_is) > LAYERS.index(layer):
            yield tree.finding(path, number, f"{target}: {layer} must not include {target_is}")
        elif bracket == '"' and layer == "practice" and target_is in INTERNAL:
            yield tree.finding(path, number, f"{target}: practice stands on public headers; the "
                                             f"inside of {target_is} is not for it")


checked = [path for folder in ("lib", "include/ventstack")
           for path in tree.files("*.c", "*.h", "*.h.in", under=folder)]
tree.report([text for path in checked for text in check(path)], len(checked), "files")
