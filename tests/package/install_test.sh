#!/usr/bin/env bash
# Installs into a folder of its own, looks at what is there, and builds a stranger's program upon it.
#   install_test.sh BUILD_FOLDER TESTS_FOLDER COMPILER
set -eu
build=$1 tests=$2 compiler=$3
prefix=$(mktemp -d)
trap 'rm -rf "$prefix"' EXIT
fail() { echo "$*"; exit 1; }

cmake --install "$build" --prefix "$prefix/usr" >/dev/null
program=$prefix/usr/bin/swashwright

echo "Its own scenes are found beside it"
[ -f "$prefix/usr/share/swashwright/scenes/two_blade_600.toml" ] || fail "no scenes"
[ -f "$prefix/usr/share/swashwright/scenes/lessons/01_parts.toml" ] || fail "no lessons"

echo "The typeface of most letters is asked for"
grep -q "PACKAGE_DEPENDS .*fonts-dejavu-core" "$build/CPackConfig.cmake" || fail "the package does not"
grep -q fonts-dejavu-core "$tests/../viewer/install_missing.sh" || fail "the start scripts do not"

echo "Every verb stands in the man page and is completed"
manual=$prefix/usr/share/man/man1/swashwright.1
verbs=$("$program" --help | sed -n '/^Subcommands:/,/^$/s/^  \([a-z]*\) .*/\1/p')
[ -n "$verbs" ] || fail "no verbs"
for verb in $verbs; do grep -qx "\.B $verb" "$manual" || fail "the man page lacks $verb"; done
PATH=$prefix/usr/bin:$PATH bash -c '
    set -eu
    . "$1"
    COMP_WORDS=(swashwright toler) COMP_CWORD=1; _swashwright
    [ "${COMPREPLY[*]}" = tolerance ] || { echo "verbs: ${COMPREPLY[*]}"; exit 1; }
    COMP_WORDS=(swashwright pose --coll) COMP_CWORD=2; _swashwright
    [ "${COMPREPLY[*]}" = --collective ] || { echo "options: ${COMPREPLY[*]}"; exit 1; }
    COMP_WORDS=(swashwright tracking --wit) COMP_CWORD=2; _swashwright
    [ "${COMPREPLY[*]}" = --with ] || { echo "options: ${COMPREPLY[*]}"; exit 1; }
' _ "$prefix/usr/share/bash-completion/completions/swashwright" || fail "completion"

echo "A stranger's program is built upon the library"
cmake -G Ninja -S "$tests/package/stranger" -B "$prefix/stranger" -DCMAKE_CXX_COMPILER="$compiler" \
    -DCMAKE_PREFIX_PATH="$prefix/usr" >/dev/null
cmake --build "$prefix/stranger" >/dev/null
# The height is the independent solver's, see data/reference.
"$prefix/stranger/stranger" "$tests/data/reference/head_01.toml" 49.52512600149557
