#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# sh tests/install/suite_in_chroot.sh SUITE [CTEST ARGUMENTS]: makes a bare Debian of that suite
# (bookworm, trixie) in a folder of its own, clones what is committed here into it, runs
# `sh tests/run.sh` there, and takes all away again. The exit status is that of ctest.
#
# As root; needs debootstrap and git, 4 GB and the time of a whole build. Not part of the test run:
# it loads packages. In the environment:
#   KEPT_CCACHE=FOLDER   compile with ccache, whose cache stays there from run to run
#   NODE_EXTRA_CA_CERTS  certificates that npm needs here; the file is copied in
set -eu
cd "$(dirname "$0")/../.."
this=tests/install/suite_in_chroot.sh

fail() {
  echo "suite_in_chroot.sh: $*" >&2
  exit 2
}

# --- Outside: a folder, and this script once more with mounts and processes of its own ------
# What is mounted and started inside is gone with it, so that the folder alone is left to remove.
if [ "${1:-}" != --inside ]; then
  [ $# -gt 0 ] || fail "name a suite: bookworm or trixie"
  [ "$(id -u)" -eq 0 ] || fail "only root can make a chroot"
  for tool in debootstrap git unshare; do
    command -v "$tool" >/dev/null || fail "$tool is not installed"
  done
  work=$(mktemp -d)
  unshare --mount --pid --fork --kill-child sh "$this" --inside "$work" "$@" &
  inside=$!
  # unshare overlooks milder signals; all that it holds goes with it.
  trap 'kill -KILL "$inside" 2>/dev/null || true; wait "$inside" || true
    rm -rf --one-file-system "$work"' EXIT
  trap 'exit 130' INT
  trap 'exit 143' TERM
  status=0
  wait "$inside" || status=$?
  exit "$status"
fi

# --- Inside -----------------------------------------------------------------------------
work=$2
suite=$3
shift 3
root=$work/root
# In the place that it has here: a cache of compiled files that both use knows it again.
tree=$(pwd)
cache=/var/cache/kept-ccache

echo "== a bare $suite"
debootstrap --variant=minbase "$suite" "$root" >"$work/debootstrap.log" 2>&1 ||
  { tail -20 "$work/debootstrap.log"; exit 1; }
# It is thrown away: packages need not reach the disk one by one.
echo force-unsafe-io >"$root/etc/dpkg/dpkg.cfg.d/unsafe-io"
mount -t proc proc "$root/proc"
mount --rbind /dev "$root/dev"
mount -t tmpfs tmpfs "$root/dev/shm"
git clone -q "$tree" "$root$tree"

inside() {
  chroot "$root" env -i PATH=/usr/local/sbin:/usr/local/bin:/usr/sbin:/usr/bin:/sbin:/bin \
    HOME=/root LC_ALL=C.UTF-8 DEBIAN_FRONTEND=noninteractive ${certificates:+"$certificates"} \
    CCACHE_DIR="$cache" CCACHE_BASEDIR="$tree" CCACHE_NOHASHDIR=1 "$@"
}
certificates=
if [ -n "${NODE_EXTRA_CA_CERTS:-}" ]; then
  cp "$NODE_EXTRA_CA_CERTS" "$root/etc/npm-certificates.crt"
  certificates=NODE_EXTRA_CA_CERTS=/etc/npm-certificates.crt
fi
if [ -n "${KEPT_CCACHE:-}" ]; then
  mkdir -p "$root$cache"
  mount --bind "$KEPT_CCACHE" "$root$cache"
  inside apt-get -qq update
  inside apt-get -qq -y --no-install-recommends install ccache >/dev/null
fi

echo "== sh tests/run.sh at $(git rev-parse --short HEAD)"
start=$(date +%s)
status=0
inside sh "$tree/tests/run.sh" "$@" >"$work/run.log" 2>&1 || status=$?

echo "== built with"
inside dpkg-query -W -f '  ${Package} ${Version}\n' \
  g++ cmake libcgal-dev libeigen3-dev libboost-dev libfmt-dev libcli11-dev catch2 nodejs chromium ||
  echo "  (what is not named is not installed)"
echo "== the last lines of $(wc -l <"$work/run.log"), after $((($(date +%s) - start) / 60)) minutes"
# A failed test tells what it lacks; the summary alone says only its name.
if [ "$status" -ne 0 ]; then
  tail -400 "$work/run.log"
else
  grep -E 'skipped:|Skipped' "$work/run.log" | sort -u || true
  tail -12 "$work/run.log"
fi
exit "$status"
