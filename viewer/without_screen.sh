#!/usr/bin/env bash
# What the program does, where no window can be opened: a head as it is and with one link too long, told and drawn.
#   viewer/without_screen.sh PROGRAM SCENE FOLDER_FOR_PICTURES
set -eu
program=$1 scene=$2 folder=$3
fault='upper_link[2].error_mm=0.3'

echo "There is no screen here (neither DISPLAY nor WAYLAND_DISPLAY is set), so no window can be opened."
echo "Without one: $scene as it is, then with upper link 2 made 0.30 mm too long."
mkdir -p "$folder"
printf '\n1. As it is\n\n'
"$program" pose "$scene"
printf '\n2. Upper link 2 0.30 mm too long\n\n'
"$program" pose "$scene" --with "$fault"
"$program" picture "$scene" --out "$folder/1_as_it_is.png"
"$program" picture "$scene" --with "$fault" --show 'upper_link[2]' --out "$folder/2_upper_link_2_too_long.png"
printf '\nBoth are drawn in\n    %s\n    %s\n' "$folder/1_as_it_is.png" "$folder/2_upper_link_2_too_long.png"
echo "Next: $program --help"
