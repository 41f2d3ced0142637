#!/usr/bin/env bash
# Builds the page and tries it in headless Chromium; closes with one line, "browser: N passed, N failed" or, where the
# tools cannot be had, "browser: skipped, and why".
set -eu
cd "$(dirname "$0")/../.."
house=$PWD
build=$house/.build/browser
skip() {
    echo "browser: skipped, $1"
    exit 0
}
. viewer/install_missing.sh
tools_to_test=(chromium poppler-utils)
command -v node >/dev/null || tools_to_test+=(nodejs)
command -v npm >/dev/null || tools_to_test+=(npm)
install_missing "${page_packages[@]}" || skip "Emscripten cannot be installed"
install_missing "${tools_to_test[@]}" || skip "Chromium or node cannot be installed"

viewer/browser/build.sh
tools=$build/tools
mkdir -p "$tools"
[ -d "$tools"/node_modules/playwright-core ] || npm install --silent --no-audit --no-fund --prefix "$tools" playwright-core@1.65 ||
    skip "npm brings no playwright-core"

# The desktop's program, to compare with.
if [ -z "${SWASHWRIGHT_PROGRAM:-}" ]; then
    install_missing "${program_packages[@]}"
    cmake --preset release >/dev/null
    cmake --build --preset release --target swashwright
    SWASHWRIGHT_PROGRAM=$house/.build/release/swashwright
fi
export SWASHWRIGHT_PROGRAM SWASHWRIGHT_HOUSE=$house SWASHWRIGHT_PAGE=$build/page SWASHWRIGHT_CHROMIUM=$(command -v chromium)
rm -rf "$build"/tests
cp -r tests/browser "$build"/tests  # so that node finds its modules
ln -s ../tools/node_modules "$build"/tests/node_modules
log=$build/tests.log
status=0
(cd "$build"/tests && node --test --test-reporter=tap .) >"$log" 2>&1 || status=$?
grep -vE '^ +(---|\.\.\.|duration_ms|type)' "$log"
counted() { sed -n "s/^# $1 \([0-9]*\)/\1/p" "$log" | tail -n 1; }
[ -n "$(counted pass)" ] || exit 1  # they did not come to an end
echo "browser: $(counted pass) passed, $(($(counted fail) + $(counted cancelled))) failed"
exit $status
