#!/usr/bin/env bash
# Installs what is missing (Debian and its relatives), builds Swashwright with its tests and runs them all.
#   tests/run.sh [PRESET] [CTEST OPTION...]      PRESET: release (default), debug or sanitize
#   tests/run.sh browser                         the program as a page, in headless Chromium
set -eu
cd "$(dirname "$0")/.."
[ "${1:-}" != browser ] || exec tests/browser/run.sh
. viewer/install_missing.sh
install_missing "${program_packages[@]}" libgtest-dev libgmock-dev librapidcheck-dev libsimbody-dev libmujoco-dev libassimp-dev libcereal-dev \
    xvfb xauth xdotool x11-utils procps poppler-utils dpkg-dev file  # the last two: to make the Debian packages

preset=release
if [ $# -gt 0 ] && [ "${1#-}" = "$1" ]; then
    preset=$1
    shift
fi
[ "$preset" != sanitize ] || install_missing clang
cmake --preset "$preset" -DSWASHWRIGHT_TESTS=ON >/dev/null
cmake --build --preset "$preset"
ctest --preset "$preset" --no-tests=error --parallel "$(nproc)" "$@"
