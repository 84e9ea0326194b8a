#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# sh check.sh TREE: do the folders keep to themselves? Says each place where one does not.
#
#  1. CGAL is included by geometry's .cpp files only.
#  2. The JSON, schema and command-line libraries are included by cli and tests only.
#  3. solver neither reads nor writes: no streams, no stdio.
#  4. Dependencies point cli -> solver -> geometry, never back.
#  5. The top level holds the agreed names only.
#  6. Every source file says its licence.
#  7. No file holds a path of the machine it was written on.
set -u
cd "$1" || exit 2
failures=0

# The tree's own files: those of git where it is to be had, else all but what a build makes.
list_files() {
  if [ -e .git ] && git ls-files --cached --others --exclude-standard 2>/dev/null; then
    return
  fi
  find . -name .git -prune -o -path ./build -prune -o -name node_modules -prune -o -type f -print | sed 's|^\./||'
}
files=$(list_files | while IFS= read -r file; do [ -f "$file" ] && echo "$file"; done)

# files_like PATTERN: those whose path matches the extended regular expression.
files_like() {
  echo "$files" | grep -E "$1"
}

# forbid RULE PATH_PATTERN TEXT_PATTERN: no such line in such files.
forbid() {
  found=$(files_like "$2" | xargs -r grep -nIE -e "$3" -- /dev/null)
  report "$1" "$found"
}

report() {
  if [ -n "$2" ]; then
    echo "broken: $1"
    echo "$2" | sed 's/^/  /'
    failures=$((failures + 1))
  fi
}

include='^[[:space:]]*#[[:space:]]*include[[:space:]]*[<"]'
outside_geometry=$(echo "$files" | grep -vE '^geometry/[^/]*\.cpp$' | grep -E '\.[ch]pp$')
report "CGAL is included by geometry's .cpp files only" \
  "$(echo "$outside_geometry" | xargs -r grep -nE -e "${include}CGAL/" -- /dev/null)"
forbid "JSON, schema and command-line libraries belong to cli and tests" \
  '^(geometry|solver)/' "${include}(nlohmann|valijson|CLI)/"
forbid "solver neither reads nor writes" \
  '^solver/' "${include}(iostream|istream|ostream|fstream|sstream|iomanip|print|cstdio|stdio\.h|filesystem|unistd\.h)[>\"]"
forbid "geometry knows nothing of solver, cli or tests" '^geometry/' "${include}(\.\./)*(solver|cli|tests)/"
forbid "solver knows nothing of cli or tests" '^solver/' "${include}(\.\./)*(cli|tests)/"
forbid "cli knows nothing of tests" '^cli/' "${include}(\.\./)*tests/"

agreed='CMakeLists\.txt|CMakePresets\.json|README\.md|DEVELOPERS\.md|LICENSE|geometry|solver|cli|tests|fixtures|\..*'
report "the top level holds the agreed names only" \
  "$(echo "$files" | cut -d/ -f1 | sort -u | grep -vxE "$agreed")"

sources='(\.(cpp|hpp|cmake|sh|py|m?js)|(^|/)CMakeLists\.txt|^\.ci/run|^\.clang-(format|tidy))$'
report "every source file says its licence" \
  "$(files_like "$sources" | xargs -r grep -L 'SPDX-License-Identifier: GPL-3.0-or-later')"

forbid "no file holds a path of the machine it was written on" '.' '/(work|root|home)/'

[ "$failures" -eq 0 ]
