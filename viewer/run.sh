#!/usr/bin/env bash
# Installs what is missing (Debian and its relatives), builds Swashwright and opens a demo head.
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
    echo "There is no screen here (neither DISPLAY nor WAYLAND_DISPLAY is set), so no window can be opened."
    echo "A picture needs no screen:"
    echo "    .build/release/swashwright picture $scene --out head.png"
    exit 0
fi
exec .build/release/swashwright "$scene"
