#!/bin/bash
# cross.sh HERE EMULATOR OTHER_BINARY SCRIPT...: the same script gives the same bytes (drawings, numbers, messages) from a build
# for another processor, run under emulation. Last line: "N passed, N failed".
set -u
here=$(realpath "$1") emulator=$2 other=$(realpath "$3")
shift 3
at=build/cross
rm -rf $at
mkdir -p $at
passed=0 failed=0

make_all() { # folder program...: reads the scripts from $scripts
    local folder=$1 script name
    shift
    mkdir -p "$folder"
    for script in $scripts; do
        name=$(basename "$script" .sag)
        "$@" draw "$script" -o "$folder/$name/" 2> "$folder/$name.messages"
        echo "status $?" >> "$folder/$name.messages"
        "$@" solve "$script" > "$folder/$name.table" 2>/dev/null
        "$@" solve "$script" --json > "$folder/$name.json" 2>/dev/null
        if grep -q '^sheet ' "$script"; then          # the same seed, the same versions
            "$@" answers "$script" --json > "$folder/$name.answers.json" 2>/dev/null
            "$@" draw "$script" --key -o "$folder/$name-key/" 2>/dev/null
        fi
    done
}
scripts="$*"
make_all $at/here "$here"
make_all $at/there "$emulator" "$other"
while read -r file; do
    if cmp -s "$at/here/$file" "$at/there/$file"; then passed=$((passed + 1)); else failed=$((failed + 1)); echo "$file differs"; fi
done < <(cd $at/here && find . -type f | sort)
echo "$passed passed, $failed failed"
[ "$failed" = 0 ] && [ "$passed" -gt 0 ]
