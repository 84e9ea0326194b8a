#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# sh tests/run.sh [CTEST ARGUMENTS]: installs what is missing, builds, and runs every test.
# The last lines and the exit status are those of ctest.
set -u
cd "$(dirname "$0")/.." || exit 3
. cli/setup.sh

install_missing $build_packages catch2 librapidcheck-dev libglpk-dev python3 python3-scipy
build_release all
exec ctest --preset release "$@"
