#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# sh cli/try.sh [ARGUMENTS]: installs what is missing, builds, and runs stackfit on the example,
# or with the arguments given. The exit status is that of stackfit.
set -u
cd "$(dirname "$0")/.." || exit 3
. cli/setup.sh

install_missing $build_packages
build_release stackfit
if [ $# -eq 0 ]; then
  set -- pick fixtures/shed_bank.json
fi
exec build/release/cli/stackfit "$@"
