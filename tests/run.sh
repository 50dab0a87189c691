#!/bin/bash
# Every test there is, part by part. A part's output is in build/test/PART.log and shown when it fails; parts that count
# end in "N passed, N failed", others count as one. The last line totals them. Status 1 when anything failed or was skipped.
set -u
make=${MAKE:-make}
logs=build/test
mkdir -p $logs
passed=0 failed=0

part() { # name command...
    local name=$1 status line p f start=$SECONDS
    shift
    "$@" > "$logs/$name.log" 2>&1 < /dev/null
    status=$?
    line=$(grep -E '^[0-9]+ passed, [0-9]+ failed$' "$logs/$name.log" | tail -n 1)
    if [ -n "$line" ]; then
        p=${line%% *} f=${line#*, } f=${f%% *}
        [ "$status" = 0 ] || [ "$f" != 0 ] || f=1
        [ "$p" != 0 ] || [ "$f" != 0 ] || f=1
    elif [ "$status" = 0 ]; then p=1 f=0
    else p=0 f=1
    fi
    passed=$((passed + p)) failed=$((failed + f))
    printf '%-22s %5d passed, %d failed  (%d s)\n' "$name" "$p" "$f" $((SECONDS - start))
    [ "$f" = 0 ] || { tail -n 60 "$logs/$name.log" | sed 's/^/    /'; false; }
}
m() { $make --no-print-directory -s -j2 "$@"; }

# A build that fails makes the parts that use it fail too: they say so themselves.
part build-gcc-release   m CC=gcc PROFILE=release binary
part build-gcc-debug     m CC=gcc PROFILE=debug binary
part build-clang-release m CC=clang PROFILE=release binary
part build-clang-debug   m CC=clang PROFILE=debug binary
part build-sanitizers    m CC=gcc PROFILE=san binary printer
part build-print         m CC=gcc PROFILE=release printer
part layers              m layers
part headers             m headers
part no-globals          m CC=gcc no-globals
part no-globals-clang    m CC=clang no-globals
part no-libm             m CC=gcc no-libm
part lint                m CC=gcc lint
part addkind             bash tests/addkind.sh build/release-gcc/sagitta
part unit-debug          m CC=gcc PROFILE=debug unit
part unit-sanitizers     m CC=gcc PROFILE=san unit
part cli                 bash tests/cli/run.sh build/release-gcc/sagitta
part cli-sanitizers      bash tests/cli/run.sh build/san-gcc/sagitta
demos=$(ls scripts-demo/*.sag)
shared=$(ls scripts-demo/shared/*.sag)       # they use each other, which only the command can do
part faults              eval 'm CC=gcc PROFILE=debug build/debug-gcc/tool-faults && build/debug-gcc/tool-faults $demos tests/wrong/*.sag'
part arena-faults        eval 'm CC=gcc build/release-gcc/tool-arena_faults && build/release-gcc/tool-arena_faults 1 scripts-demo/shaving_mirror.sag scripts-demo/questions.sag scripts-demo/whole_lens.sag'
part arena-faults-rest   build/release-gcc/tool-arena_faults 17 $demos
part arena-faults-wrong  build/release-gcc/tool-arena_faults 7 tests/wrong/*.sag tests/cli/*.sag
part sheet               node tests/sheet.mjs build/release-gcc/sagitta scripts-demo/mirror_sheet.sag scripts-demo/lens_sheet.sag scripts-demo/curved_mirrors.sag scripts-demo/thin_lenses.sag scripts-demo/rows_sheet.sag
part versions            node tests/versions.mjs build/release-gcc/sagitta scripts-demo/mirror_sheet.sag scripts-demo/curved_mirrors.sag scripts-demo/thin_lenses.sag scripts-demo/rows_sheet.sag
part worked              node tests/worked.mjs build/release-gcc/sagitta
part pencils             node tests/pencils.mjs build/release-gcc/sagitta
part demo-words          node tests/demo_words.mjs build/release-gcc/sagitta $demos $shared
part wordings            bash tests/wordings.sh build/release-gcc/sagitta $demos $shared
part languages           node tests/languages.mjs build/release-gcc/sagitta $demos $shared
part texts               node tests/texts.mjs build/release-gcc/sagitta $demos $shared
part figure-rules        m CC=gcc figure-rules
part figure-words        m CC=gcc figure-words
part golden              bash tests/golden.sh check build/release-gcc/sagitta $demos $shared
m CC=gcc build/release-gcc/tool-locale_draw > $logs/tool.log 2>&1
part same                bash tests/same.sh build/release-gcc/sagitta:build/release-gcc/tool-locale_draw \
    build/debug-gcc/sagitta build/release-clang/sagitta build/debug-clang/sagitta build/san-gcc/sagitta -- $demos tests/wrong/*.sag
part browser-packages    bash tests/browser/packages.sh
part batch               bash tests/batch.sh build/release-gcc/sagitta
part manual              m manual
part install             bash tests/install.sh
part svg                 bash tests/svg.sh build/test/same/first
part browser             bash tests/browser/run.sh build/test/same/first
part demo                m demo
part pdf-and-png         eval 'm build/pixels all && bash tests/pdf.sh build/sagitta'
part presentation        bash tests/odp.sh pack build/sagitta $demos $shared

echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
