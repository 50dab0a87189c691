#!/bin/bash
# unit.sh BUILD_FOLDER FILTER: runs the Criterion suites and fails on a failed test, on no test at all, and on anything a
# sanitizer found (a leak alone would not fail a test). Last line: "N passed, N failed".
set -u
B=$1
log=$PWD/$B/unit.log
rm -f "$B"/sanitizer.*
ASAN_OPTIONS=log_path=$PWD/$B/sanitizer:handle_segv=0:handle_abort=0 \
UBSAN_OPTIONS=log_path=$PWD/$B/sanitizer:print_stacktrace=1 \
    "$B/unit" -j2 --timeout 120 --filter "$2" >"$log" 2>&1
status=$?
line=$(sed 's/\x1b\[[0-9;]*m//g' "$log" | grep -E 'Synthesis: Tested: [1-9]' | tail -n 1)
grep -vE 'Synthesis|Running|^$' "$log" | tail -n 60
if [ -z "$line" ]; then
    echo "no test ran"
    echo "0 passed, 1 failed"
    exit 1
fi
passed=$(sed -E 's/.*Passing: ([0-9]+).*/\1/' <<<"$line")
failed=$(sed -E 's/.*Failing: ([0-9]+).*/\1/' <<<"$line")
if compgen -G "$B/sanitizer.*" >/dev/null; then
    cat "$B"/sanitizer.* | head -n 80
    failed=$((failed + 1))
elif [ "$status" != 0 ] && [ "$failed" = 0 ]; then
    echo "the suites ended with status $status"
    failed=1
fi
echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
