#!/bin/bash
# run.sh FOLDER: steps SVGs below it in a browser: of every third folder there the first figure, since all take minutes.
# ALL=1 takes every one. Then the pages of slides there, of which three are stepped. Last line: "N passed, N failed"; no browser or no figure fails.
set -uo pipefail
mkdir -p build/test
mapfile -t files < <(find "$1" -name '*.svg' | sort | awk -F / -v all="${ALL:-}" '{ folder = $0; sub(/\/[^\/]*$/, "", folder) } all || !(folder in seen) { seen[folder]; print }')
[ ${#files[@]} -gt 0 ] || { echo "no SVG in $1"; echo "0 passed, 1 failed"; exit 1; }
here=$(dirname "$0")
# Figures with questions have a stage more than steps: those where things change besides have a test of their own.
mapfile -t asking < <(grep -l 'class="cued"' $(grep -l 'class="question"' "${files[@]}"))
# Stepping a figure takes some ten seconds: every fifth, unless all are asked for.
mapfile -t plain < <(grep -L 'class="question"' "${files[@]}" | awk -v all="${ALL:-}" 'all || NR % 5 == 1')
[ ${#asking[@]} -gt 0 ] || { echo "no figure with questions in $1"; echo "0 passed, 1 failed"; exit 1; }
node "$here/cues.mjs" "${asking[@]}" | tee build/test/cues.log
status=${PIPESTATUS[0]}
p1=$(tail -n 1 build/test/cues.log)
node "$here/step.mjs" "${plain[@]}" | tee build/test/step.log || status=1
p2=$(tail -n 1 build/test/step.log)
node "$here/slides.mjs" "$1" | tee build/test/slides.log || status=1
p3=$(tail -n 1 build/test/slides.log)
printf '%s\n%s\n%s\n' "$p1" "$p2" "$p3" | awk '{ p += $1; f += $3 } END { printf "%d passed, %d failed\n", p, f }'
exit "$status"
