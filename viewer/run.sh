#!/usr/bin/env bash
# Installs what is missing (Debian and its relatives), builds Swashwright and opens a demo head; without a screen, tells and draws it.
#   viewer/run.sh [SCENE]
set -eu
scene=${1:+$(realpath "$1")}
cd "$(dirname "$0")/.."

. viewer/install_missing.sh
install_missing "${program_packages[@]}"

echo "Building in .build/release (up to ten minutes on two cores the first time, seconds afterwards)"
cmake --preset release -DSWASHWRIGHT_TESTS=OFF >/dev/null
cmake --build .build/release --target swashwright

scene=${scene:-scenes/two_blade_600.toml}
if [ -z "${DISPLAY:-}" ] && [ -z "${WAYLAND_DISPLAY:-}" ]; then
    exec viewer/without_screen.sh .build/release/swashwright "$scene" "$PWD/.build/pictures"
fi
echo "Try first: make the error of upper link 2 0.30 mm, in the ledger on the right, and read the sentence across the top."
exec .build/release/swashwright "$scene"
