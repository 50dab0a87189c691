#!/bin/bash
# addkind.sh BINARY: a new kind is catalogue lines and a solver file. In a copy of the tree under build/ it adds a kind of post
# with rings at equal distances, builds, and uses it: scripts, tidy, words and messages know it, and the parser and the scanner
# made from grammar/ are the same bytes as before. Last line: "N passed, N failed".
set -u
before=$(realpath "$1") gen=$(realpath build/gen)
copy=build/addkind
passed=0 failed=0
holds() { # name command...
    local name=$1
    shift
    if "$@"; then passed=$((passed + 1)); else failed=$((failed + 1)); echo "FAILED $name"; fi
}
quiet() { "$@" > "$copy/out.txt" 2> "$copy/err.txt"; }

rm -rf $copy
mkdir -p $copy/build/gen
cp -r compiler grammar runtime Makefile $copy/
touch $copy/build/deps-build
cp "$gen"/faces.c $copy/build/gen/ && cp build/make_faces $copy/build/     # only the parser and the scanner are made anew
touch $copy/build/make_faces $copy/build/gen/faces.c

# ---- the kind ----
cat > $copy/kind.def <<'END'
KIND(post, MUST, WORDS, SG_IN_FIGURE, false, "a post", "A post lying along the axis, with rings at equal distances.")
PHRASE(post, brass, FLAG, NONE, NUMBER, SG_SCENE, 0, 0, SG_PART_SHAPE, 0, NULL, "It is made of brass.")
PHRASE(post, rings, VALUE, NUMBER, NUMBER, SG_SCENE, 1, 1, SG_PART_SHAPE, 0, "3", "How many rings it has.")
PHRASE(post, spacing, VALUE, NUMBER, LENGTH, SG_SCENE, 1, 1, SG_PART_SHAPE, 1, NULL, "From one ring to the next.")
PHRASE(post, at, VALUE, PLACE, LENGTH, SG_SCENE, 1, 1, SG_PART_STAND, 1, NULL, "Where its first ring is.")
PROPERTY(post, last, POINT, LENGTH, SG_PART_STAND, SG_SIGNED, "Where its last ring is.")

END
cat > $copy/compiler/solved/post.c <<'END'
/* A post with rings. In: its phrases. Out: where its last ring is. */
#include "solved/build.h"

static void post_stand(SgSolved *s, uint32_t symbol)
{
    bool given;
    SgThing *t = &s->thing[symbol];
    SgValue rings = sg_read(s, symbol, SG_PHRASE_post_rings, &given);
    double count = given ? rings.number : 3;
    SgValue spacing = sg_read(s, symbol, SG_PHRASE_post_spacing, &given), at = sg_read(s, symbol, SG_PHRASE_post_at, &given);
    t->state = spacing.state == SG_VALID && at.state == SG_VALID ? SG_VALID : SG_POISON;
    t->value = sg_value_point(sg_pt(at.point.x_mm + (count - 1) * spacing.number, at.point.y_mm));
}

static SgValue post_property(SgSolved *s, uint32_t symbol, SgPropertyId id)
{
    (void)id;
    return s->thing[symbol].value;
}

const SgKindSolver sg_post_solver = { { NULL, post_stand, NULL }, post_property };
END
awk -v kind="$copy/kind.def" '/^KIND\(point,/ { while ((getline line < kind) > 0) print line } { print }' $copy/compiler/catalogue/catalogue.def > $copy/whole.def
mv $copy/whole.def $copy/compiler/catalogue/catalogue.def
sed -i 's/^extern const SgKindSolver /extern const SgKindSolver sg_post_solver, /' $copy/compiler/solved/build.h
sed -i 's/\[SG_KIND_mirror\] = &sg_mirror_solver,/[SG_KIND_post] = \&sg_post_solver, &/' $copy/compiler/solved/solve.c
cat > $copy/post.sag <<'END'
figure quay {
    post at_the_gate at 2 cm spacing 0.5 cm rings 5 brass
    post rings spacing 1 cm at 3 cm beyond M
    mirror M plane at at_the_gate.last
    point spacing at rings.last
}
END
after=$copy/build/debug-$(basename "${CC:-gcc}")/sagitta

# ---- what must hold ----
holds "the script is wrong before" eval '! quiet "$before" check $copy/post.sag'
holds "for want of the kind" grep -q 'no kind of thing is called `post`' $copy/err.txt
holds "the copy builds" eval '${MAKE:-make} --no-print-directory -s -j2 -C $copy CC="${CC:-gcc}" PROFILE=debug binary'
holds "the grammar is untouched" diff -r grammar $copy/grammar
holds "the parser is the same, byte for byte" cmp "$gen/script.c" $copy/build/gen/script.c
holds "so is its header" cmp "$gen/script.h" $copy/build/gen/script.h
holds "the scanner is the same, byte for byte" cmp "$gen/scan.c" $copy/build/gen/scan.c
holds "the script is right now" quiet "$after" check $copy/post.sag
holds "and says nothing" eval '[ ! -s $copy/err.txt ]'
holds "it is solved" eval '[ "$("$after" ask $copy/post.sag at_the_gate.last)" = "(4, 0) cm" ]'
holds "with its default" eval '[ "$("$after" ask $copy/post.sag rings.last)" = "(9, 0) cm" ]'
holds "tidy knows the order of its phrases" eval '"$after" tidy - < $copy/post.sag | grep -qx "    post at_the_gate brass rings 5 spacing 0.5 cm at 2 cm"'
holds "words tells of it" eval '"$after" words | grep -qx "post NAME"'
sed 's/spacing 0.5/spacin 0.5/' $copy/post.sag > $copy/slip.sag
holds "a slip in it is told" eval '! quiet "$after" check $copy/slip.sag && grep -q "post has no .spacin.; did you mean .spacing.?" $copy/err.txt'
sed 's/ spacing 0.5 cm//' $copy/post.sag > $copy/lack.sag
holds "what it lacks is told" eval '! quiet "$after" check $copy/lack.sag && grep -q "a post needs .spacing." $copy/err.txt'
echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
