#!/bin/bash
# run.sh FOLDER: steps every SVG below it in a browser. Last line: "N passed, N failed"; no browser or no figure fails.
set -u
mapfile -t files < <(find "$1" -name '*.svg' | sort)
[ ${#files[@]} -gt 0 ] || { echo "no SVG in $1"; echo "0 passed, 1 failed"; exit 1; }
exec node "$(dirname "$0")/step.mjs" "${files[@]}"
