#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Builds ventstack and runs every C and Python test, on a bare Debian 12 too.
#
#   sh tests/run.sh           all of it: gcc, clang, address and undefined-behaviour sanitizers, threads
#   sh tests/run.sh --quick   the gcc build and its tests only
#   sh tests/run.sh --long [SEED]    all of it, and 200 000 random networks (an hour or two)
#
# Root or sudo is used for nothing but missing Debian packages. The last line says how many tests
# passed and failed; the exit status is 0 where none failed.
set -eu
root=$(CDPATH='' cd "$(dirname "$0")/.." && pwd)
. "$root/tests/debian.sh"

quick= long=
case "${1-}" in
'') ;;
--quick) quick=yes ;;
--long) long=yes ;;
*)
    sed -n 's/^#   //p' "$0"
    exit 2
    ;;
esac

clang=clang
[ -z "$quick" ] || clang=
# shellcheck disable=SC2086 # one word a package
need $BUILD_PACKAGES g++ binutils check python3-pytest python3-scipy python3-fluids python3-pandas \
    python3-hypothesis python3-mypy cmake clang-format $clang

builds=$root/build-tests
mkdir -p "$builds"
passed=0 failed=0

# Runs a command quietly; shows what it said only if it fails.
quietly() {
    "$@" >"$builds/log" 2>&1 || {
        status=$?
        cat "$builds/log"
        return $status
    }
}

# build NAME MESON_OPTION... [-- TARGET...]: makes build-tests/NAME, whose path is left in $build, and
# compiles all of it or the targets alone. What does not is one failure; the tests of the rest run.
build() {
    build=$builds/$1 options=
    echo
    echo "== $1"
    shift
    while [ $# -gt 0 ] && [ "$1" != -- ]; do
        options="$options $1"
        shift
    done
    [ $# -eq 0 ] || shift
    [ -f "$build/build.ninja" ] && again=--reconfigure || again=
    # shellcheck disable=SC2086 # one word an option
    quietly meson setup $again "$build" "$root" $options &&
        quietly meson compile -C "$build" --ninja-args=-k,0 "$@" || failed=$((failed + 1))
}

# check MESON_TEST_ARGUMENT...: runs tests and adds them up. A run without tests, and one that failed
# without a failing test, is one failure.
check() {
    rm -f "$build"/meson-logs/*.junit.xml
    complete=yes
    meson test -C "$build" --no-rebuild --print-errorlogs "$@" || complete=
    counts=$(python3 "$root/tests/tally.py" "$build" 2>&1) || counts='0 0'
    echo "$counts" | sed '$d' # what was skipped
    counts=$(echo "$counts" | tail -n 1)
    passed=$((passed + ${counts% *}))
    failed=$((failed + ${counts#* }))
    case $complete/$counts in
    */'0 0' | /*' 0') failed=$((failed + 1)) ;;
    esac
}

build gcc -Dpython=enabled -Dbench=true
check
if [ -n "$long" ]; then
    "$build"/tests/fuzz/networks 200000 "${2-1}" && passed=$((passed + 1)) || failed=$((failed + 1))
fi

if [ -z "$quick" ]; then
    export CC=clang CXX=clang++
    build clang -Dpython=disabled -Dbench=true
    unset CC CXX
    check --suite unit --suite headers

    # Address and undefined-behaviour sanitizers; the interpreter is not built with them, so their
    # libraries are loaded before it, and what it never frees is its own.
    export CFLAGS='-fsanitize=float-divide-by-zero -fno-sanitize-recover=all'
    build sanitizers -Dpython=enabled -Doptimization=1 -Db_sanitize=address,undefined \
        -Db_lundef=false
    unset CFLAGS
    check --suite unit
    check --suite python --wrapper "env ASAN_OPTIONS=detect_leaks=0 \
LD_PRELOAD=$(gcc -print-file-name=libasan.so):$(gcc -print-file-name=libubsan.so)"

    # Thread sanitizer; it cannot follow threads through a fork.
    build threads -Dpython=disabled -Doptimization=1 -Db_sanitize=thread -Db_lundef=false \
        -- test_threads
    export CK_FORK=no
    check threads
fi

echo
echo "$passed passed, $failed failed"
[ "$passed" -gt 0 ] && [ "$failed" -eq 0 ]
