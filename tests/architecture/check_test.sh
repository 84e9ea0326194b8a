#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Does check.sh see what it should? Small trees, each with one fault, and one without.
set -u
check=$(cd "$(dirname "$0")" && pwd)/check.sh
tree=$(mktemp -d) || exit 2
trap 'rm -rf "$tree"' EXIT
spdx='// SPDX-License-Identifier: GPL-3.0-or-later'
wrong=0

fresh_tree() {
  rm -rf "$tree"
  mkdir -p "$tree/geometry" "$tree/solver" "$tree/cli" "$tree/tests"
  printf '%s\n#include <CGAL/Origin.h>\n' "$spdx" >"$tree/geometry/area.cpp"
  printf '%s\n#include "geometry/area.hpp"\n' "$spdx" >"$tree/solver/row.cpp"
  printf '%s\n#include <nlohmann/json.hpp>\n#include "solver/row.hpp"\n' "$spdx" >"$tree/cli/main.cpp"
}

# expect_fault RULE FILE LINE...: a tree with these lines in FILE breaks the rule, and only it.
expect_fault() {
  rule=$1
  file=$2
  shift 2
  fresh_tree
  mkdir -p "$(dirname "$tree/$file")"
  printf '%s\n' "$@" >"$tree/$file"
  said=$(sh "$check" "$tree")
  status=$?
  if [ "$status" -ne 1 ] || [ "$(echo "$said" | grep -c '^broken')" -ne 1 ] ||
    ! echo "$said" | grep -q "^broken: .*$rule"; then
    echo "planted in $file: $*"
    echo "expected one broken rule with '$rule', got status $status and: $said"
    wrong=1
  fi
}

fresh_tree
sh "$check" "$tree" || { echo "a tree without fault is refused"; wrong=1; }

expect_fault "CGAL" geometry/area.hpp "$spdx" '#include <CGAL/Origin.h>'
expect_fault "CGAL" solver/plate.cpp "$spdx" '#  include "CGAL/Origin.h"'
expect_fault "CGAL" tests/geometry/area_test.cpp "$spdx" '#include <CGAL/Origin.h>'
expect_fault "JSON" solver/plate.cpp "$spdx" '#include <nlohmann/json.hpp>'
expect_fault "JSON" geometry/plate.cpp "$spdx" '#include <CLI/CLI.hpp>'
expect_fault "JSON" solver/plate.cpp "$spdx" '#include <valijson/validator.hpp>'
expect_fault "solver neither" solver/plate.cpp "$spdx" '#include <iostream>'
expect_fault "solver neither" solver/plate.hpp "$spdx" '#include <cstdio>'
expect_fault "geometry knows" geometry/plate.cpp "$spdx" '#include "solver/row.hpp"'
expect_fault "geometry knows" geometry/plate.cpp "$spdx" '#include "../cli/main.hpp"'
expect_fault "solver knows" solver/plate.cpp "$spdx" '#include "cli/main.hpp"'
expect_fault "cli knows" cli/plate.cpp "$spdx" '#include "tests/catch.hpp"'
expect_fault "top level" notes.txt 'remember the shims'
expect_fault "top level" scripts/go.sh "# ${spdx#// }"
expect_fault "licence" solver/plate.cpp 'int main() {}'
expect_fault "licence" tests/CMakeLists.txt 'add_test()'
home="/ho""me/"
expect_fault "path of the machine" README.md "see ${home}someone/notes"

exit "$wrong"
