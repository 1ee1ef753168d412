# shellcheck shell=bash
# Shared by ./run, ./test and ./bench: what is needed is installed, and a person is told what happens.

house_say() { printf '%s\n' "zoneproof: $*" >&2; }

# The packages that packages.txt lists for any of the tags given (run, test, bench, webassembly, tidy).
house_packages() {
  local tags="$*"
  awk -v tags="${tags// /|}" '!/^#/ && NF >= 2 && ("," $2 ",") ~ (",(" tags "),") { print $1 }' packages.txt
}

# Node is the one thing that many machines have from elsewhere, and two of it get in each other's way: a program that is
# there already need not be installed.
house_missing() {
  local package
  for package in $(house_packages "$@"); do
    case "$package" in
      nodejs) ! command -v node >/dev/null || continue ;;
      npm) ! command -v npm >/dev/null || continue ;;
    esac
    dpkg-query -W -f='${db:Status-Status}\n' "$package" 2>/dev/null | grep -qx installed || printf '%s\n' "$package"
  done
}

# What a person without the right to install can pass on to somebody who has it.
house_name_missing() {
  local before=""
  house_say "these packages are missing: $*"
  if command -v sudo >/dev/null; then
    before="sudo "
    house_say "install them with these commands, then start again:"
  else
    house_say "have the administrator (root) install them with these commands, then start again:"
  fi
  printf '  %sapt-get update\n  %sapt-get install --no-install-recommends %s\n' "$before" "$before" "$*" >&2
}

# Installs what packages.txt lists for the tags and the machine lacks. Without the right to do so it names the
# packages and what to type, and gives up.
house_install() {
  local missing as_root=()
  if ! command -v dpkg-query >/dev/null; then
    house_say "this is no Debian; the build needs what packages.txt lists. Trying with what is there."
    return 0
  fi
  mapfile -t missing < <(house_missing "$@")
  [ "${#missing[@]}" -gt 0 ] || return 0
  if [ "$(id -u)" -ne 0 ]; then
    if ! command -v sudo >/dev/null || ! sudo -n true 2>/dev/null; then
      house_name_missing "${missing[@]}"
      exit 1
    fi
    as_root=(sudo)
  fi
  house_say "installing ${#missing[@]} packages (a minute or two): ${missing[*]}"
  mkdir -p build
  if ! { "${as_root[@]}" apt-get update &&
    "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y --no-install-recommends "${missing[@]}"; } \
    >build/install.log 2>&1; then
    tail -n 20 build/install.log >&2
    house_say "the installation failed; the whole of its words is in build/install.log"
    exit 1
  fi
}

# Configures a preset with further options and builds the targets named after "--", all without any.
house_build() {
  local preset=$1 options=() targets=()
  shift
  while [ $# -gt 0 ] && [ "$1" != -- ]; do
    options+=("$1")
    shift
  done
  if [ $# -gt 1 ]; then
    shift
    targets=(--target "$@")
  fi
  mkdir -p build
  if ! cmake --preset "$preset" "${options[@]}" >build/configure.log 2>&1; then
    cat build/configure.log >&2
    house_say "the build cannot be set up; see above"
    exit 1
  fi
  cmake --build --preset "$preset" "${targets[@]}" >&2
}
