#!/bin/bash
# golden.sh update|check BINARY SCRIPT...: the demos' drawings and numbers against tests/golden/, byte for byte.
# Last line of a check: "N passed, N failed".
set -u
mode=$1 binary=$2
shift 2
new=build/test/golden
rm -rf "$new"
mkdir -p "$new"
for script in "$@"; do
    name=$(basename "$script" .sag)
    "$binary" draw "$script" -o "$new/$name/" && "$binary" solve "$script" --json > "$new/$name/numbers.json" || exit 1
    ! grep -q '^sheet ' "$script" || "$binary" answers "$script" --csv > "$new/$name/answers.csv" || exit 1
done
if [ "$mode" = update ]; then
    rm -rf tests/golden
    cp -r "$new" tests/golden
    echo "tests/golden: $(find tests/golden -type f | wc -l) files"
    exit 0
fi
passed=0 failed=0
while read -r file; do
    if cmp -s "$new/$file" "tests/golden/$file"; then
        passed=$((passed + 1))
    else
        failed=$((failed + 1))
        echo "tests/golden/$file is not what is drawn now ($new/$file)"
    fi
done < <({ (cd "$new" && find . -type f); [ ! -d tests/golden ] || (cd tests/golden && find . -type f); } | sort -u)
echo "$passed passed, $failed failed"
[ "$failed" = 0 ] && [ "$passed" -gt 0 ]
