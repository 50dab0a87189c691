#!/bin/bash
# wordings.sh BINARY SCRIPT...: every script in every wording: nothing is crowded or leaves its frame, which the layout
# tells by warnings. (languages.mjs does the same with texts that are 30 % longer.) Last line: "N passed, N failed".
set -u
binary=$(realpath "$1")
shift
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
passed=0 failed=0
for wording in german french spanish; do
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
