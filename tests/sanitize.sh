#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# sh tests/sanitize.sh [PART...]: builds with AddressSanitizer and UndefinedBehaviorSanitizer (the
# sanitize preset) and runs the tests part by part, each as soon as it is built: geometry, plan,
# solver, published, cli, rest; without names all of them. Exit status 0: every part passed.
#
# Not part of the test run: the whole takes hours. Nothing is left out: bounds on time and
# memory are wider where a program is watched (tests/cli/broken_test.py, the timeout of the preset).
# It installs nothing: what tests/run.sh installs has to be there, or the page is skipped.
set -u
cd "$(dirname "$0")/.." || exit 3
. cli/setup.sh

# The first finding ends a test; its stack is printed with it.
export ASAN_OPTIONS="${ASAN_OPTIONS:-detect_stack_use_after_return=1:strict_string_checks=1}"
export UBSAN_OPTIONS="${UBSAN_OPTIONS:-print_stacktrace=1}"

# What is built for a part, and which tests are its own.
targets_of() {
  case $1 in
    geometry | plan | solver | published) echo "test_$1" ;;
    cli) echo "test_cli stackfit" ;;
    rest) echo all ;;
    *) return 1 ;;
  esac
}

run_part() {
  log=build/sanitize/build_$1.log
  if ! cmake --build --preset sanitize --target $(targets_of "$1") >"$log" 2>&1; then
    cat "$log"
    return 1
  fi
  case $1 in
    rest) ctest --preset sanitize -E '^(geometry|plan|solver|published|cli)/' ;;
    *) ctest --preset sanitize -R "^$1/" ;;
  esac
}

if [ $# -eq 0 ]; then
  set -- geometry plan solver published cli rest
fi
for part in "$@"; do
  targets_of "$part" >/dev/null || { say "$part is no part: see the head of this file"; exit 3; }
done
mkdir -p build/sanitize
cmake --preset sanitize >build/sanitize/configure.log 2>&1 || { cat build/sanitize/configure.log; exit 3; }
failed=
for part in "$@"; do
  say "== $part, from $(date +%H:%M)"
  run_part "$part" || failed="$failed $part"
done
if [ -n "$failed" ]; then
  say "failed:$failed"
  exit 1
fi
