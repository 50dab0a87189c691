#!/bin/bash
# same.sh FIRST_BINARY:LOCALE_TOOL OTHER_BINARY... -- SCRIPT...: the same script gives the same bytes (drawings, numbers,
# messages) from every build, in another folder, under a locale with a decimal comma, and twice in a row.
# Last line: "N passed, N failed".
set -u
first=$(realpath "${1%%:*}") tool=$(realpath "${1#*:}")
shift
others=()
while [ "$1" != -- ]; do others+=("$(realpath "$1")"); shift; done
shift
out=$PWD/build/test/same
rm -rf "$out"
mkdir -p "$out"
passed=0 failed=0

make_all() { # binary folder script...: everything a build makes of the scripts, into the folder
    local binary=$1 folder=$2 script name
    shift 2
    mkdir -p "$folder"
    for script in "$@"; do
        name=$(basename "$script" .sag)
        "$binary" draw "$script" -o "$folder/$name/" 2> "$folder/$name.messages"
        echo "status $?" >> "$folder/$name.messages"
        "$binary" draw "$script" -o "$folder/$name.html" 2>/dev/null
        "$binary" draw "$script" --still --step 1 -o "$folder/$name-still/" 2>/dev/null
        "$binary" solve "$script" > "$folder/$name.table" 2>/dev/null
        "$binary" solve "$script" --json > "$folder/$name.json" 2>/dev/null
        if grep -q '^sheet ' "$script"; then          # the same seed, the same versions
            "$binary" answers "$script" --json > "$folder/$name.answers.json" 2>/dev/null
            "$binary" draw "$script" --key -o "$folder/$name-key/" 2>/dev/null
        fi
    done
}
agree() { # what folder: counts every file of the first build
    local file
    while read -r file; do
        if cmp -s "$out/first/$file" "$2/$file"; then
            passed=$((passed + 1))
        else
            failed=$((failed + 1))
            echo "$1: $file differs"
        fi
    done < <(cd "$out/first" && find . -type f | sort)
}

make_all "$first" "$out/first" "$@"
make_all "$first" "$out/again" "$@"
agree "a second run" "$out/again"
k=0
for binary in "${others[@]}"; do
    k=$((k + 1))
    make_all "$binary" "$out/other-$k" "$@"
    agree "$binary" "$out/other-$k"
done

# Another folder: only the path in messages may tell, so the scripts are given by the same relative path.
elsewhere=$(mktemp -d)
trap 'rm -rf "$elsewhere"' EXIT
for script in "$@"; do
    mkdir -p "$elsewhere/$(dirname "$script")"
    cp "$script" "$elsewhere/$script"
done
(cd "$elsewhere" && make_all "$first" "$out/elsewhere" "$@")
agree "another folder" "$out/elsewhere"

# A program that has taken on a locale with a decimal comma. It writes the drawings in the order of the script, then the
# JSON: compared as sets of lines. Of a wrong script only the messages of drawing it.
localedef -i de_DE -f UTF-8 "$out/de_DE.UTF-8" 2>/dev/null
for script in "$@"; do
    name=$(basename "$script" .sag)
    LOCPATH=$out LC_ALL=de_DE.UTF-8 "$tool" "$script" > "$out/locale" 2> "$out/locale.messages"
    case $? in
        0) cmp -s <(sort "$out/locale") <(cat "$out/first/$name"/*.svg "$out/first/$name.json" | sort) ;;
        1) cmp -s "$out/locale.messages" <(sed '$d' "$out/first/$name.messages") ;;
        *) cat "$out/locale.messages"; false ;;
    esac
    if [ $? = 0 ]; then
        passed=$((passed + 1))
    else
        failed=$((failed + 1))
        echo "locale with a decimal comma: $script differs"
    fi
done
echo "$passed passed, $failed failed"
[ "$failed" = 0 ] && [ "$passed" -gt 0 ]
