# SPDX-License-Identifier: GPL-3.0-or-later
#
# Shared by cli/try.sh and tests/run.sh, which read it with "." from the root of the tree:
# sees that the packages named are installed, and builds. Whatever it says goes to standard
# error, so that standard output belongs to the program.

# What Debian 12 and 13 call the tools and libraries that the program is built with.
build_packages="g++ cmake ninja-build libcgal-dev libgmp-dev libmpfr-dev libeigen3-dev
  libboost-dev librandom123-dev nlohmann-json3-dev libvalijson-dev libcli11-dev libfmt-dev
  libkainjow-mustache-dev"

say() {
  echo "$*" >&2
}

# missing_packages NAME...: those that are not installed.
missing_packages() {
  for package in "$@"; do
    case $(dpkg-query -W -f '${Status}' "$package" 2>/dev/null) in
      "install ok installed") ;;
      *) echo "$package" ;;
    esac
  done
}

# as_root COMMAND...: run it as root, asking for a password only where someone can answer.
as_root() {
  if [ "$(id -u)" -eq 0 ]; then
    "$@"
  elif sudo -n true 2>/dev/null || [ -t 0 ]; then
    sudo "$@"
  else
    return 1
  fi
}

may_be_root() {
  [ "$(id -u)" -eq 0 ] || { command -v sudo >/dev/null && { sudo -n true 2>/dev/null || [ -t 0 ]; }; }
}

apt_get() {
  as_root env DEBIAN_FRONTEND=noninteractive apt-get -qq -y \
    -o DPkg::Lock::Timeout=300 -o Dpkg::Use-Pty=0 "$@" >/dev/null
}

# install_missing NAME...: nothing to do is quick and silent. Exits with 3 when it cannot.
install_missing() {
  if ! command -v dpkg-query >/dev/null; then
    say "This is not Debian, so nothing is installed for you. What is needed, by Debian's names:"
    say "$(echo "$@")"
    return 0
  fi
  missing=$(missing_packages "$@")
  if [ -z "$missing" ]; then
    return 0
  fi
  say "Missing packages:" $missing
  if ! may_be_root; then
    say "They can be installed only as root, and neither root nor sudo is to be had here. As root:"
    say "  apt-get update && apt-get install --no-install-recommends" $missing
    exit 3
  fi
  say "Installing them with apt-get ..."
  if ! { apt_get update && apt_get install --no-install-recommends $missing; }; then
    say "apt-get did not install them; what it said stands above."
    exit 3
  fi
}

# build_release TARGET: into build/release; says only that the first time takes long, and what
# went wrong.
build_release() {
  log=build/release/build.log
  if [ ! -e build/release/.ninja_log ]; then
    say "Building in build/release; the first time takes some minutes ..."
  fi
  mkdir -p build/release
  if ! cmake --preset release >"$log" 2>&1; then
    cat "$log" >&2
    exit 3
  fi
  if ! cmake --build --preset release --target "$1" >"$log" 2>&1; then
    cat "$log" >&2
    exit 3
  fi
}
