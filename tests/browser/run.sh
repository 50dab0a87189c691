#!/bin/bash
# run.sh FOLDER: steps SVGs below it in a browser: of each folder there the first, since all take minutes.
# ALL=1 takes every one. Last line: "N passed, N failed"; no browser or no figure fails.
set -u
mapfile -t files < <(find "$1" -name '*.svg' | sort | awk -F / -v all="${ALL:-}" '{ folder = $0; sub(/\/[^\/]*$/, "", folder) } all || !(folder in seen) { seen[folder]; print }')
[ ${#files[@]} -gt 0 ] || { echo "no SVG in $1"; echo "0 passed, 1 failed"; exit 1; }
exec node "$(dirname "$0")/step.mjs" "${files[@]}"
