#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# sh tests/coverage.sh [GCOVR ARGUMENTS]: which lines of geometry and solver the compiled tests reach.
# Builds both with counters, runs their tests two at a time and prints a line for each file, the
# whole last; ends with 2 where less than `least` in 100 lines are reached. Needs gcovr (Debian's
# package) and several times as long as the tests without counters.
set -eu
cd "$(dirname "$0")/.."
least=90
command -v gcovr >/dev/null || { echo "gcovr is missing: apt install gcovr" >&2; exit 3; }
cmake --preset coverage >/dev/null
cmake --build --preset coverage
find build/coverage -name '*.gcda' -delete
ctest --preset coverage -R '^(geometry|solver|plan|published|cli)/' -E 'whole|README'
# Threads count in the same counters without waiting for each other: one may end below zero.
exec gcovr --root . --filter geometry/ --filter solver/ --exclude-throw-branches \
  --gcov-ignore-parse-errors --object-directory build/coverage --fail-under-line "$least" "$@"
