#!/bin/bash
# fuzz.sh FUZZER SAGITTA SECONDS: seeds from the demos, values and wrong scripts, then that many seconds of fuzzing; after that
# the long forms of the mutation tests. What breaks a rule is kept in build/fuzz/; put it into tests/fuzz/corpus when it is mended.
set -u
fuzzer=$1 sagitta=$2 seconds=$3
work=build/fuzz
mkdir -p $work/corpus $work/seeds
"$sagitta" words --dict > $work/words.dict || exit 1
k=0
for script in scripts-demo/*.sag tests/values/*.sag tests/wrong/*.sag tests/cli/*.sag; do
    for job in 0 1 2 3 4 5 6 7 8 9; do
        k=$((k + 1))
        { printf '%s%s' $job $((k % 8)); head -c 4000 "$script"; } > "$work/seeds/$(basename "$script" .sag)-$job"
    done
done
"$fuzzer" -max_total_time="$seconds" -dict=$work/words.dict -max_len=4096 -timeout=20 -rss_limit_mb=2048 -print_final_stats=1 \
    -artifact_prefix=$work/ $work/corpus $work/seeds tests/fuzz/corpus > $work/log.txt 2>&1
status=$?
grep -E '^stat::number_of_executed_units|^broken rule|^SUMMARY|Test unit written' $work/log.txt
[ $status = 0 ] || { tail -n 40 $work/log.txt; exit 1; }
