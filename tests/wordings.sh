#!/bin/bash
# wordings.sh BINARY SCRIPT...: every script in every wording, and in one whose texts are 30 % longer: nothing is crowded or
# leaves its frame, which the layout tells by warnings. Last line: "N passed, N failed".
set -u
binary=$(realpath "$1")
shift
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
# Longer by 30 %, but for the two that are no words.
awk '/^#|^$/ { next } /^(language|decimal_mark) = / { print; next }
     { at = index($0, " = "); text = substr($0, at + 3); n = int(length(text) * 3 / 10 + 0.999)
       printf "%s ", $0; for (i = 1; i < n; i++) printf "m"; print "m" }' runtime/wordings/english.txt > "$work/longer.txt"
passed=0 failed=0
for wording in german french spanish '"longer.txt"'; do
    for script in "$@"; do
        awk -v wording="$wording" 'NR == 1 { print "wording " wording } !/^[ \t]*wording / { print }' "$script" > "$work/$(basename "$script")"
    done
    for script in "$@"; do
        if (cd "$work" && "$binary" check "$(basename "$script")" --strict) > "$work/told" 2>&1; then passed=$((passed + 1))
        elif (cd "$(dirname "$script")" && "$binary" check "$(basename "$script")" --strict) > /dev/null 2>&1; then
            failed=$((failed + 1))
            echo "wording $wording: $script"
            head -n 4 "$work/told"
        fi
    done
done
echo "$passed passed, $failed failed"
[ "$failed" = 0 ] && [ "$passed" -gt 0 ]
