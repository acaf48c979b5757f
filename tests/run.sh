#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Builds ventstack and runs every C and Python test, on a bare Debian 12 too.
#
#   sh tests/run.sh           all of it: gcc, clang, address and undefined-behaviour sanitizers, threads
#   sh tests/run.sh --quick   the gcc build and its tests only
#
# Root or sudo is used for nothing but missing Debian packages. The last line says how many tests
# passed and failed; the exit status is 0 where none failed.
set -eu
root=$(CDPATH='' cd "$(dirname "$0")/.." && pwd)
. "$root/tests/debian.sh"

quick=
case "${1-}" in
'') ;;
--quick) quick=yes ;;
*)
    sed -n 's/^#   //p' "$0"
    exit 2
    ;;
esac

clang=clang
[ -z "$quick" ] || clang=
# shellcheck disable=SC2086 # one word a package
need $BUILD_PACKAGES g++ binutils check python3-pytest python3-scipy python3-fluids cmake \
    clang-format $clang

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

# build NAME MESON_OPTION...: (re)configures build-tests/NAME and leaves its path in $build.
build() {
    build=$builds/$1
    echo
    echo "== $1"
    shift
    if [ -f "$build/build.ninja" ] && quietly meson setup --reconfigure "$build" "$root" "$@"; then
        return
    fi
    rm -rf "$build"
    quietly meson setup "$build" "$root" "$@"
}

# check MESON_TEST_ARGUMENT...: builds what the tests need, runs them and adds them up. A run without
# tests, and one that failed without a failing test (something does not compile), is one failure.
check() {
    rm -f "$build/meson-logs/testlog.junit.xml"
    complete=yes
    meson test -C "$build" --print-errorlogs "$@" || complete=
    counts=$(python3 "$root/tests/tally.py" "$build" 2>&1) || counts='0 0'
    echo "$counts" | sed '$d' # what was skipped
    counts=$(echo "$counts" | tail -n 1)
    passed=$((passed + ${counts% *}))
    failed=$((failed + ${counts#* }))
    case $complete/$counts in
    */'0 0' | /*' 0') failed=$((failed + 1)) ;;
    esac
}

# Everything there is must compile, tested or not.
compile() {
    quietly meson compile -C "$build" || failed=$((failed + 1))
}

failing_setup() {
    failed=$((failed + 1))
}

if build gcc -Dpython=enabled -Dbench=true; then
    compile
    check
else
    failing_setup
fi

if [ -z "$quick" ]; then
    if CC=clang CXX=clang++ build clang -Dpython=disabled; then
        check --suite unit --suite headers
    else
        failing_setup
    fi

    # Address and undefined-behaviour sanitizers; the interpreter is not built with them, so their
    # libraries are loaded before it, and what it never frees is its own.
    if build sanitizers -Dpython=enabled -Db_sanitize=address,undefined -Db_lundef=false \
        -Doptimization=1 -Dc_args='-fsanitize=float-divide-by-zero -fno-sanitize-recover=all'; then
        check --suite unit
        check --suite python --wrapper "env ASAN_OPTIONS=detect_leaks=0 \
LD_PRELOAD=$(gcc -print-file-name=libasan.so):$(gcc -print-file-name=libubsan.so)"
    else
        failing_setup
    fi

    # Thread sanitizer: it cannot follow threads through a fork.
    if build threads -Dpython=disabled -Db_sanitize=thread -Db_lundef=false -Doptimization=1; then
        CK_FORK=no check threads
    else
        failing_setup
    fi
fi

echo
echo "$passed passed, $failed failed"
[ "$passed" -gt 0 ] && [ "$failed" -eq 0 ]
