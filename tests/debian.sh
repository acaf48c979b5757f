# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck shell=sh
# Sourced by tests/run.sh and docs/quickstart.sh: Debian's packages and Debian's tools.

# Debian's own python3, meson and compilers come first, whatever else PATH names before them, and
# nothing left in the environment bends the build.
PATH=/usr/bin:/bin:/usr/sbin:/sbin:$PATH
export PATH LC_ALL=C.UTF-8 PYTHONNOUSERSITE=1 PYTHONDONTWRITEBYTECODE=1
unset CC CXX CFLAGS CXXFLAGS CPPFLAGS LDFLAGS CPATH C_INCLUDE_PATH LIBRARY_PATH LD_LIBRARY_PATH \
    LD_PRELOAD PKG_CONFIG_PATH PYTHONPATH PYTHONHOME DESTDIR MESON_TESTTHREADS CDPATH

# need PACKAGE...: installs those that are missing; with none missing it needs no root.
need() {
    missing=
    for package in "$@"; do
        case $(dpkg-query -W -f='${Status}' "$package" 2>/dev/null) in
        *' ok installed') ;;
        *) missing="$missing $package" ;;
        esac
    done
    [ -z "$missing" ] && return
    if [ "$(id -u)" -eq 0 ]; then
        root_by=
    elif command -v sudo >/dev/null; then
        root_by=sudo
    else
        echo "These Debian packages are missing, and only root can install them:$missing" >&2
        exit 1
    fi
    echo "Installing Debian packages with apt-get${root_by:+, by sudo}:$missing"
    apt="$root_by env DEBIAN_FRONTEND=noninteractive apt-get -q -y -o DPkg::Lock::Timeout=600"
    $apt update
    # shellcheck disable=SC2086 # one word a package
    $apt install --no-install-recommends $missing
}

# What building the library and its Python package takes; dpkg-dev tells meson Debian's library folder.
# shellcheck disable=SC2034 # used by who sources this
BUILD_PACKAGES="meson ninja-build gcc libc6-dev dpkg-dev pkg-config libgsl-dev swig python3 python3-dev
    python3-numpy python3-matplotlib"
