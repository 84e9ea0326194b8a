#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# sh tests/run.sh [CTEST ARGUMENTS]: installs what is missing, builds, and runs every test.
# The last lines and the exit status are those of ctest.
set -u
cd "$(dirname "$0")/.." || exit 3
. cli/setup.sh

# What the build sheet is looked at with. Programs are asked for, not packages: node and npm come in
# more than one way. Where they cannot be had the tests of the page are skipped, and say so.
page_packages() {
  for pair in node:nodejs npm:npm 'chromium:chromium fonts-dejavu-core' \
    pdftotext:poppler-utils; do
    command -v "${pair%%:*}" >/dev/null || echo "${pair#*:}"
  done
}

# npm ci in tests/page, where what is there is not what the lock file asks for.
install_page_modules() {
  installed=tests/page/node_modules/.installed
  if cmp -s tests/page/package-lock.json "$installed"; then
    return 0
  fi
  if ! command -v npm >/dev/null; then
    say "Without npm the page is not looked at in a browser."
    return 0
  fi
  if said=$(cd tests/page && npm ci --ignore-scripts 2>&1); then
    cp tests/page/package-lock.json "$installed"
  else
    say "npm ci did not install what tests/page needs, the page is not looked at in a browser:"
    say "$said"
  fi
}

install_missing $build_packages catch2 librapidcheck-dev libglpk-dev python3 python3-scipy
packages=$(page_packages)
if [ -n "$packages" ] && ! (install_missing $packages); then
  say "Without them the page is not looked at in a browser."
fi
install_page_modules
if command -v node >/dev/null; then
  node tests/page/page_test.mjs --missing >&2
fi
build_release all
exec ctest --preset release "$@"
