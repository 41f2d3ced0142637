#!/bin/sh
# shares_no_code.sh NM LIBRARY: object files compiled for machines that not everyone has must hold no function that the
# linker could take for another file's (names of types, which sanitizers write, are none). Nothing is said where the
# library has none of them.
set -eu
"$1" --defined-only "$2" | awk '
    /^lane_kernel_wid.*:$/ { inside = 1; next }
    /:$/ { inside = 0 }
    inside && $2 ~ /^[TWViu]$/ && $3 !~ /^(_ZT[IS]|__)/ { print "shared: " $3; found = 1 }
    END { exit found }'
