#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Shows that the two commands are enough on a bare Debian 12: makes a minimal root with nothing in
# it, clones this checkout into it and runs them there. Not part of tests/run.sh: it needs root,
# debootstrap, git, a Debian mirror and about 4 GB.
#
#   sh tests/bare_debian.sh FOLDER [COMMAND]
#
# FOLDER must not exist yet; it is kept, with the root in it, until you remove it. COMMAND is what
# to run beside the clone instead of both commands, e.g. 'sh ventstack/tests/run.sh --quick'.
set -eu
root=$(CDPATH='' cd "$(dirname "$0")/.." && pwd)
case "${1-}" in
'' | -*)
    sed -n 's/^#   //p' "$0"
    exit 2
    ;;
esac
debian=$1
command=${2:-'sh ventstack/docs/quickstart.sh && sh ventstack/tests/run.sh'}
if [ -e "$debian" ]; then
    echo "$debian exists already" >&2
    exit 2
fi

# The mirror is the one this machine's own apt uses for Debian's main archive, be its sources in
# the one-line or in the deb822 form.
mirror=$(cat /etc/apt/sources.list /etc/apt/sources.list.d/*.list \
    /etc/apt/sources.list.d/*.sources 2>/dev/null |
    sed -n -E 's/^(deb +(\[[^]]*\] +)?|URIs: *)([a-z]+:[^ ]*\/debian\/?)( .*)?$/\3/p' | head -n 1)
[ -n "$mirror" ] || { echo "no Debian mirror is named in this machine's apt sources" >&2; exit 1; }

debootstrap --variant=minbase bookworm "$debian" "$mirror"

# How names are resolved and how apt reaches the mirror.
cp /etc/resolv.conf /etc/hosts "$debian/etc/"
cp /etc/apt/apt.conf "$debian/etc/apt/" 2>/dev/null || true
mkdir -p "$debian/src"
git clone --quiet --no-hardlinks "$root" "$debian/src/ventstack"

mount --bind /proc "$debian/proc"
trap 'umount "$debian/proc"' EXIT
# From beside the checkout, not from within it: the commands must work from anywhere.
status=0
chroot "$debian" env -i PATH=/usr/sbin:/usr/bin:/sbin:/bin HOME=/ \
    sh -c "cd /src && $command" || status=$?
if [ "$status" -eq 0 ]; then
    echo "bare Debian 12: passed"
else
    echo "bare Debian 12: failed with status $status"
fi
exit "$status"
