#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Builds ventstack and computes the example house in C and in Python, on a bare Debian 12 too.
#
#   sh docs/quickstart.sh [FOLDER]    pictures go to FOLDER, docs/examples/out unless told otherwise
#
# Root or sudo is used for nothing but missing Debian packages.
set -eu
root=$(CDPATH='' cd "$(dirname "$0")/.." && pwd)
. "$root/tests/debian.sh"
trap '[ $? -eq 0 ] || echo "The quickstart failed; the lines above say where." >&2' EXIT

pictures=${1:-$root/docs/examples/out}
mkdir -p "$pictures"
pictures=$(cd "$pictures" && pwd)

# shellcheck disable=SC2086 # one word a package
need $BUILD_PACKAGES

build=$root/build-quickstart
[ -f "$build/build.ninja" ] || rm -rf "$build"
[ -d "$build" ] || meson setup "$build" "$root" -Dpython=enabled -Dtests=false
meson compile -C "$build"

cd "$root/docs/examples"
echo
echo "== In C: docs/examples/ridge_house.c"
"$build/docs/examples/ridge_house"
echo
echo "== In Python: docs/examples/ridge_house.py"
PYTHONPATH=$build/bindings/python MPLBACKEND=Agg python3 ridge_house.py --out "$pictures"

echo
echo "Done. The pictures are in $pictures"
