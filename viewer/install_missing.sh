# Sourced by the start scripts: `install_missing PACKAGE...` brings what is not yet installed, from Debian.
program_packages=(g++ cmake ninja-build pkg-config libeigen3-dev libexpected-dev libfmt-dev libfcl-dev libtomlplusplus-dev libglm-dev
                  libcli11-dev nlohmann-json3-dev libimgui-dev libglfw3-dev libepoxy-dev libegl-dev libgl-dev libopengl-dev
                  libgl1-mesa-dri libpng-dev libwebp-dev libtinygltf-dev libpango1.0-dev libcairo2-dev fonts-b612 fonts-dejavu-core)

# The page's: Emscripten brings its own node where none is installed.
page_packages=(emscripten cmake ninja-build dpkg-dev debian-archive-keyring python3 libeigen3-dev libexpected-dev libfmt-dev
               libtomlplusplus-dev libglm-dev nlohmann-json3-dev libcereal-dev fonts-b612 fonts-dejavu-core)

install_missing() {
    local missing=() as_root=() package
    for package in "$@"; do
        case "$(dpkg-query -W -f='${Status}' "$package" 2>/dev/null || true)" in
            *"ok installed") ;;
            *) missing+=("$package") ;;
        esac
    done
    [ "${#missing[@]}" -gt 0 ] || return 0
    [ "$(id -u)" -eq 0 ] || as_root=(sudo)
    echo "Installing from Debian: ${missing[*]}"
    "${as_root[@]}" apt-get update -q
    "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends "${missing[@]}"
}
