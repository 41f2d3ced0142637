#!/usr/bin/env bash
# Makes the program as a page, on Debian 12 or a relative: installs what is missing, fetches the sources of what is
# compiled along from Debian, compiles, and writes a folder that any static server can serve.
#   viewer/browser/build.sh [FOLDER]      FOLDER: .build/browser/page if not given
set -eu
cd "$(dirname "$0")/../.."
. viewer/install_missing.sh
install_missing "${page_packages[@]}"

build=$PWD/.build/browser
page=$(realpath -m "${1:-$build/page}")
sources=$build/sources
export NODE_PATH=/usr/share/nodejs  # emscripten's own scripts stand there, whichever node is installed

# Sources from Debian, with apt's lists and keys but folders of our own.
fetch_sources() {
    local apt=$build/apt uri
    uri=$(sed -n 's/^URIs: *\([^ ]*\).*/\1/p; s/^deb \(\[[^]]*\] \)\?\([^ ]*\) .*/\2/p' \
        /etc/apt/sources.list.d/debian.sources /etc/apt/sources.list 2>/dev/null | head -n 1)
    mkdir -p "$apt"/sources "$apt"/lists/partial "$apt"/cache/archives/partial "$sources"
    printf 'Types: deb-src\nURIs: %s\nSuites: bookworm\nComponents: main\nSigned-By: %s\n' \
        "${uri:-http://deb.debian.org/debian}" /usr/share/keyrings/debian-archive-keyring.gpg >"$apt"/sources/debian.sources
    local own=(-q -o Dir::Etc::sourcelist=/dev/null -o Dir::Etc::sourceparts="$apt"/sources -o Dir::State::lists="$apt"/lists
        -o Dir::Cache="$apt"/cache -o APT::Sandbox::User=root)
    apt-get "${own[@]}" update
    (cd "$sources" && apt-get "${own[@]}" source --download-only imgui fcl)
    rm -rf "$sources"/imgui "$sources"/fcl
    for package in imgui fcl; do
        dpkg-source -x "$sources"/"$package"_*.dsc "$sources"/"$package"
    done
}

# What FCL's own build would write; and templates that we compile ourselves are not to be sought in its library.
prepare_fcl() {
    local fcl=$sources/fcl/include/fcl
    sed -E 's/@FCL_[A-Z_]*VERSION@/0/; s/#cmakedefine01 (.*)/#define \1 0/' "$fcl"/config.h.in >"$fcl"/config.h
    printf '#pragma once\n#define FCL_EXPORT\n#define FCL_DEPRECATED\n#define FCL_DEPRECATED_EXPORT\n' >"$fcl"/export.h
    find "$fcl" -name '*.h' -exec perl -0pi -e 's/extern template\b[^;]*;//g' {} +
}

# Headers alone, out of /usr/include, which Emscripten must not see as a whole.
link_headers() {
    mkdir -p "$sources"/include
    for name in eigen3/Eigen eigen3/unsupported tl fmt toml++ glm nlohmann cereal; do
        ln -sfn /usr/include/$name "$sources"/include/"${name##*/}"
    done
}

if [ ! -e "$sources"/ready ]; then
    fetch_sources
    prepare_fcl
    link_headers
    touch "$sources"/ready
fi

launcher=()
! command -v ccache >/dev/null || launcher=(-DCMAKE_CXX_COMPILER_LAUNCHER=ccache)
emcmake cmake -G Ninja -S viewer/browser -B "$build"/objects -DSWASHWRIGHT_SOURCES="$sources" "${launcher[@]}" >/dev/null
cmake --build "$build"/objects

# The folder that is served. Of the fonts the letters that the window draws, of the scenes the demos and lessons.
mkdir -p "$page"
cp viewer/browser/*.html viewer/browser/*.css viewer/browser/*.js viewer/desktop/swashwright.svg \
    "$build"/objects/swashwright.js "$build"/objects/swashwright.wasm "$page"
fonts=/usr/share/fonts
(cd "$page" && python3 /usr/share/emscripten/tools/file_packager.py swashwright.data --js-output=data.js \
    --preload $fonts/opentype/b612/B612-Regular.otf $fonts/opentype/b612/B612-Bold.otf \
    $fonts/truetype/dejavu/DejaVuSans.ttf "$OLDPWD"/scenes@/scenes --exclude '*.md' >/dev/null)
echo "The page is in $page: $(du -sb "$page" | cut -f1) bytes, $(tar -c -C "$page" . | gzip -9 | wc -c) compressed."
echo "To look at it: python3 -m http.server -d $page 8000, then http://localhost:8000"
