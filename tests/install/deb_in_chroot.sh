#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# sh tests/install/deb_in_chroot.sh [SUITE [BUILD]]: packs what BUILD (build/release) holds, makes a
# bare Debian of that suite (bookworm) in a folder of its own, installs the package there with apt,
# and says what it saw. As root; needs cpack and debootstrap, and takes some minutes and 500 MB.
#
# Not part of the test run: it loads packages. The suite has to be the one stackfit was built on.
set -eu
cd "$(dirname "$0")/../.."
suite=${1:-bookworm}
build=${2:-build/release}

if [ "$(id -u)" -ne 0 ]; then
  echo "deb_in_chroot.sh: only root can make a chroot" >&2
  exit 2
fi
for tool in cpack debootstrap; do
  if ! command -v "$tool" >/dev/null; then
    echo "deb_in_chroot.sh: $tool is not installed" >&2
    exit 2
  fi
done

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
root=$work/root

echo "== packing"
cpack --config "$build/CPackConfig.cmake" -B "$work/packages" >"$work/cpack.log" 2>&1 ||
  { cat "$work/cpack.log"; exit 1; }
for package in "$work"/packages/*.deb; do
  basename "$package"
  dpkg-deb -f "$package" Package Version Section Maintainer Depends | sed 's/^/  /'
done

echo "== a bare $suite"
debootstrap --variant=minbase "$suite" "$root" >"$work/debootstrap.log" 2>&1 ||
  { tail -20 "$work/debootstrap.log"; exit 1; }
inside() {
  chroot "$root" env -i PATH=/usr/sbin:/usr/bin:/sbin:/bin LC_ALL=C.UTF-8 \
    DEBIAN_FRONTEND=noninteractive "$@"
}

echo "== installing with apt"
cp "$work"/packages/stackfit_*.deb "$root/tmp/stackfit.deb"
inside apt-get -qq update
inside apt-get -qq -y --no-install-recommends install /tmp/stackfit.deb >"$work/apt.log" 2>&1 ||
  { cat "$work/apt.log"; exit 1; }
sed -n 's/^Setting up /  /p' "$work/apt.log"
inside dpkg-query -W -f '  ${Package} ${Version}: ${Status}\n' stackfit

echo "== stackfit pick on an installed example"
inside stackfit --version
status=0
inside sh -c 'cd /usr/share/doc/stackfit && stackfit pick fixtures/shed_bank.json' \
  >"$work/pick.txt" || status=$?
head -8 "$work/pick.txt"
echo "  ... exit status $status"
test "$status" -le 1
grep -q '^FACE PRESSURE' "$work/pick.txt"

echo "== manual pages and completions"
if inside sh -c 'command -v man' >/dev/null; then
  inside man -w stackfit-pick
else
  echo "man is not there; the files:"
  inside ls /usr/share/man/man1 | grep '^stackfit' | sed 's/^/  /'
  test -s "$root/usr/share/man/man1/stackfit-pick.1"
fi
for file in bash-completion/completions/stackfit zsh/vendor-completions/_stackfit \
  fish/vendor_completions.d/stackfit.fish stackfit/build.schema.json doc/stackfit/copyright; do
  test -s "$root/usr/share/$file"
  echo "  /usr/share/$file"
done
inside bash --norc -c '. /usr/share/bash-completion/completions/stackfit
  COMP_WORDS=(stackfit pick --by ""); COMP_CWORD=3; _stackfit; echo "  --by: ${COMPREPLY[*]}"'

echo "== the libraries' package finds its own"
cp "$work"/packages/libstackfit-dev_*.deb "$root/tmp/libstackfit-dev.deb"
inside apt-get -qq -y --no-install-recommends install /tmp/libstackfit-dev.deb >"$work/apt.log" 2>&1 ||
  { cat "$work/apt.log"; exit 1; }
inside dpkg-query -W -f '  ${Package} ${Version}: ${Status}\n' libstackfit-dev libgmp-dev libmpfr-dev

echo "== taking it off again"
inside apt-get -qq -y purge stackfit libstackfit-dev >/dev/null 2>&1
left=$(inside find /usr -name '*stackfit*')
if [ -n "$left" ]; then
  echo "left behind: $left" >&2
  exit 1
fi
echo "  nothing is left"
