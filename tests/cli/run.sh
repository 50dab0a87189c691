#!/bin/bash
# run.sh BINARY: the command line, its files and its statuses, from outside. Last line: "N passed, N failed".
set -u
binary=$(realpath "$1")
here=$(realpath "$(dirname "$0")")
work=$(mktemp -d)
trap 'chmod -R u+w "$work"; rm -rf "$work"' EXIT
cd "$work" || exit 1
cp "$here"/*.sag .
passed=0 failed=0
sagitta() { "$binary" "$@"; }

# expect NAME STATUS [out PATTERN] [err PATTERN] -- COMMAND...: the command's status, and an extended pattern in what it
# writes; no pattern for err means that it says nothing there.
expect() {
    local name=$1 status=$2 out= err= got trouble=
    shift 2
    while [ "$1" != -- ]; do
        case $1 in out) out=$2 ;; err) err=$2 ;; esac
        shift 2
    done
    shift
    "$@" > stdout.txt 2> stderr.txt
    got=$?
    [ "$got" = "$status" ] || trouble="status $got, not $status"
    [ -z "$out" ] || grep -qE -- "$out" stdout.txt || trouble="$trouble; standard output lacks $out"
    if [ -n "$err" ]; then grep -qE -- "$err" stderr.txt || trouble="$trouble; standard error lacks $err"
    elif [ -s stderr.txt ]; then trouble="$trouble; it says something"; fi
    verdict "$name" "$trouble"
}
verdict() { # name trouble
    if [ -z "$2" ]; then passed=$((passed + 1)); return; fi
    failed=$((failed + 1))
    echo "FAILED $1: $2"
    head -c 600 stderr.txt
}
holds() { # name command...: a plain test
    local name=$1
    shift
    if "$@"; then verdict "$name" ""; else verdict "$name" "does not hold"; fi
}
nothing_left() { [ -z "$(find . -name '.sagitta-*')" ]; }
one_line() { [ "$(wc -l < stderr.txt)" = 1 ]; }

# ---- the command line itself ----
expect "no command" 2 err 'a command is wanted' -- sagitta
expect "unknown command, near" 2 err 'no command `drwa`; did you mean draw\? The commands are draw, solve, ask, answers, check' -- sagitta drwa lamp.sag
expect "unknown command, far" 2 err 'no command `paint`; the commands are draw, solve, ask, answers, check, tidy, expand, words' -- sagitta paint lamp.sag
expect "help" 0 out 'sagitta draw FILE\.\.\. -o OUT' -- sagitta --help
expect "help of a command" 0 out '--with NAME=VALUE' -- sagitta solve --help
expect "help command" 0 out '--still' -- sagitta help draw
expect "help of nothing" 2 err 'no command `nothing`' -- sagitta help nothing
expect "version" 0 out '^sagitta [0-9]+\.[0-9]+\.[0-9]+$' -- sagitta --version
holds "help fits 79 columns" [ -z "$(for c in '' draw solve ask check tidy words; do sagitta help $c; done | grep -E '.{80}')" ]
expect "unknown option, near" 2 err 'did you mean --figure\?' -- sagitta draw lamp.sag --figur lamp -o a.svg
expect "option of another command" 2 err 'ask takes no --json; it belongs to solve' -- sagitta ask lamp.sag M.vertex --json
expect "option without its value" 2 err '--figure wants NAME after it' -- sagitta draw lamp.sag -o a.svg --figure
expect "option twice" 2 err 'stands twice' -- sagitta draw lamp.sag -o a.svg -o b.svg
expect "value for a flag" 2 err '--still takes no value' -- sagitta draw lamp.sag -o a.svg --still=yes
expect "no file" 2 err 'write sagitta draw FILE\.\.\. -o OUT' -- sagitta draw -o a.svg
expect "one file too many" 2 err 'solve takes no `museum.sag` there' -- sagitta solve lamp.sag museum.sag
expect "no output" 2 err 'wants -o OUT' -- sagitta draw lamp.sag
expect "a suffix that is not drawn" 2 err 'name ending in .svg' -- sagitta draw lamp.sag -o lamp.gif
expect "step that is no number" 2 err 'whole number' -- sagitta draw lamp.sag -o a.svg --step two
expect "with, the same twice" 2 err '--with u stands twice' -- sagitta draw museum.sag --figure shaving_mirror --with u=6cm --with 'u = 7 cm' -o a.svg
expect "with without =" 2 err 'such as --with u=6cm' -- sagitta draw museum.sag --figure shaving_mirror --with u -o a.svg
holds "nothing drawn by a wrong command line" [ ! -e a.svg ]

# ---- drawing ----
expect "one figure" 0 -- sagitta draw lamp.sag -o lamp.svg
holds "it is SVG" grep -q '<svg' lamp.svg
expect "joined forms of options" 0 -- sagitta draw --step=0 -olamp0.svg -- lamp.sag
holds "the givens alone differ" test "$(cmp -s lamp.svg lamp0.svg; echo $?)" = 1
expect "standard output" 0 out '</svg>' -- sagitta draw lamp.sag -o -
holds "the same bytes as in a file" cmp -s stdout.txt lamp.svg
cat_to() { "$binary" draw - -o - < lamp.sag; }
expect "standard input" 0 out '</svg>' -- cat_to
holds "the same bytes from there" cmp -s stdout.txt lamp.svg
expect "still" 0 -- sagitta draw lamp.sag -o still.svg --still
holds "a still has no script and no style" [ -z "$(grep -E '<script|<style' still.svg)" ]
holds "a drawing that steps has them" grep -q '<script' lamp.svg
expect "several figures, one file" 2 err 'several figures: shaving_mirror, reading_glass; choose one with --figure NAME, or draw all into a folder' -- sagitta draw museum.sag -o m.svg
expect "one of several" 0 -- sagitta draw museum.sag --figure reading_glass -o m.svg
expect "figure unknown, near" 2 err 'did you mean `reading_glass`\?' -- sagitta draw museum.sag --figure reading_glas -o m2.svg
expect "figure unknown, far" 2 err 'it has shaving_mirror, reading_glass' -- sagitta draw museum.sag --figure periscope -o m2.svg
expect "all into a folder" 0 -- sagitta draw museum.sag -o all/
holds "every figure is there" test "$(ls all | tr '\n' ' ')" = "reading_glass.svg shaving_mirror.svg "
holds "the same bytes as alone" cmp -s all/reading_glass.svg m.svg
expect "again over what is there" 0 -- sagitta draw museum.sag -o all
expect "a folder two levels down" 2 err 'cannot make the folder' -- sagitta draw museum.sag -o one/two/
expect "step past the last" 2 err '--step 9: the figure has 1 steps' -- sagitta draw lamp.sag -o a.svg --step 9
expect "with" 0 -- sagitta draw museum.sag --figure shaving_mirror --with u=6cm -o six.svg
expect "without" 0 -- sagitta draw museum.sag --figure shaving_mirror -o twelve.svg
holds "with makes another figure" test "$(cmp -s six.svg twelve.svg; echo $?)" = 1
expect "with, an expression" 0 -- sagitta draw museum.sag --figure shaving_mirror --with 'u = 3*f/2' -o a.svg
holds "and the same as its value" cmp -s a.svg six.svg
expect "unknown parameter" 2 err 'no parameter `v`; figure shaving_mirror has u' -- sagitta draw museum.sag --figure shaving_mirror --with v=6cm -o b.svg
expect "no parameters at all" 2 err 'no parameter `u`: there are none' -- sagitta draw lamp.sag --with u=6cm -o b.svg
expect "with that cannot be read" 2 err '^--with u:1:[0-9]+: error' -- sagitta draw museum.sag --figure shaving_mirror --with 'u=6 cm +' -o b.svg
expect "with that is no length" 2 err '^--with u:1:1: error: u needs a length: 6 what\? Write 6 cm' -- sagitta draw museum.sag --figure shaving_mirror --with 'u=6' -o b.svg
expect "with that is an angle" 2 err '^--with u:1:1: error: u needs a length, and this is an angle' -- sagitta draw museum.sag --figure shaving_mirror --with 'u=6 deg' -o b.svg
holds "nothing is drawn" [ ! -e b.svg ]

# ---- the speaker's notes ----
expect "notes" 0 -- sagitta draw museum.sag -o notes.html --notes
holds "notes of both figures" [ "$(grep -c '^<h2>' notes.html)" = 2 ]
holds "a picture a step, and one of what is given" [ "$(grep -c '<svg ' notes.html)" = "$(grep -c '^<article' notes.html)" ]
holds "the numbers beside it" grep -qE '<tr><th scope="row">flame \(image\)</th><td>real, inverted, reduced, distance 6.+cm' notes.html
holds "no id twice" [ -z "$(grep -oE ' id="[^"]*"' notes.html | sort | uniq -d)" ]
expect "notes of one figure" 0 out '<h2>' -- sagitta draw museum.sag --figure reading_glass -o - --notes
expect "notes under another name" 2 err 'write a name ending in .html or .pdf' -- sagitta draw museum.sag -o notes.svg --notes
expect "notes into a folder" 2 err 'write a name ending in .html' -- sagitta draw museum.sag -o house/ --notes
expect "notes of a step" 2 err 'take --step away' -- sagitta draw museum.sag -o n.html --notes --step 1
expect "a presentation of a step" 2 err 'a presentation is one file of all figures and all their steps; take --step away' -- sagitta draw museum.sag -o p.odp --step 1
expect "a presentation of two scripts" 2 err 'a presentation is one file of one script' -- sagitta draw museum.sag lamp.sag -o p.odp
expect "a picture of a presentation" 2 err 'take --dpi away' -- sagitta draw museum.sag -o p.odp --dpi 90
holds "no presentation is made of them" [ ! -e p.odp ]

# ---- slides ----
expect "slides" 0 -- sagitta draw museum.sag -o slides.html
holds "a slide a figure" [ "$(grep -c '^<section class="slide' slides.html)" = 2 ]
holds "one script, one style sheet" [ "$(grep -c '<script\|<style' slides.html)" = 2 ]
holds "no id twice in slides" [ -z "$(grep -oE ' id="[^"]*"' slides.html | sort | uniq -d)" ]
expect "slides of one figure" 0 -- sagitta draw museum.sag --figure reading_glass -o one.html --ratio 4:3
holds "the other ratio" grep -q -e '--wide:4;--high:3' one.html
printf 'figure odd "</script><b>&\x27 </h2>" { mirror M concave focal 4 cm aperture 7 cm at 14 cm named "</svg><script>"\nstep "]]> <script> & more" { ask "<img src=x>?"\nsay "\\"><script>"\npoint P at 3 cm } }\n' > odd.sag
expect "slides of texts full of signs" 0 -- sagitta draw odd.sag -o odd.html
holds "all of them written as texts" [ "$(grep -c '<script\|<img\|<b>' odd.html)" = 1 ]
expect "slides as a strip" 2 err 'take --strip away' -- sagitta draw lamp.sag -o s.html --strip
expect "a strip of one step" 2 err 'all steps of a figure in one still picture' -- sagitta draw lamp.sag -o s.svg --strip --step 1
{ cat lamp.sag; printf 'panel pair "Twice" {\n    part near = lamp\n    part far = lamp\n}\n'; } > pair.sag
expect "a panel drawn" 0 -- sagitta draw pair.sag --figure pair -o pair.svg
for form in html odp; do
    expect "a panel as .$form" 2 err '^sagitta: `pair` is a panel, a still picture, drawn as .svg, .pdf or .png only; name one of the figures here: lamp$' \
        -- sagitta draw pair.sag --figure pair -o pair.$form
done
expect "a panel asked" 2 err '`pair` is a panel' -- sagitta ask pair.sag --figure pair 1
expect "a panel unknown to slides" 2 err 'no figure `other`; it has lamp$' -- sagitta draw pair.sag --figure other -o s.html
expect "a third ratio" 2 err 'wants 16:9 or 4:3' -- sagitta draw museum.sag -o s.html --ratio 5:4
expect "a ratio for a figure" 2 err 'name ending in .html' -- sagitta draw lamp.sag -o a.svg --ratio 4:3
expect "slides of a step" 2 err 'take --still away' -- sagitta draw museum.sag -o s.html --still
expect "slides of a key" 2 err 'take --key away' -- sagitta draw museum.sag -o s.html --key
expect "a list of a PDF" 2 err 'a PDF holds all of a script' -- sagitta draw museum.sag -o all.pdf --manifest all.json
holds "no slides by a wrong command line" [ ! -e s.html ]

# ---- solve, ask, check ----
expect "solve" 0 out '^figure shaving_mirror: Shaving mirror, candle at 12.+cm$' -- sagitta solve museum.sag
holds "of all figures" grep -q '^figure reading_glass' stdout.txt
holds "the image distance" grep -qE '^ +distance +6 cm$' stdout.txt
holds "columns are aligned" [ "$(grep -E '^  (M|flame) ' stdout.txt | sed -E 's/^(  [A-Za-z]+ +).*/\1/' | awk '{ print length }' | sort -u | wc -l)" = 1 ]
expect "solve as JSON" 0 out '"distance": \{"state": "known", "value": 60, "unit": "mm"\}' -- sagitta solve museum.sag --json
holds "it is JSON" node -e 'const j = JSON.parse(require("fs").readFileSync("stdout.txt")); if (j.figures.length !== 2 || j.figures[0].things.length < 4) process.exit(1)'
expect "solve one" 0 out '^figure reading_glass' -- sagitta solve museum.sag --figure reading_glass
holds "and no other" [ -z "$(grep shaving stdout.txt)" ]
expect "ask" 0 out '^6 cm$' -- sagitta ask museum.sag flame.distance --figure shaving_mirror
expect "ask a point" 0 out '^\(10, -0\.5\) cm$' -- sagitta ask museum.sag flame.tip --figure shaving_mirror
expect "ask a sum" 0 out '^10 cm$' -- sagitta ask museum.sag 'flame.distance + f' --figure shaving_mirror
expect "ask with" 0 out '^12 cm$' -- sagitta ask museum.sag flame.distance --figure shaving_mirror --with u=6cm
expect "ask at infinity" 0 out '^at infinity$' -- sagitta ask museum.sag flame.distance --figure shaving_mirror --with u=4cm
expect "ask a truth" 0 out '^true$' -- sagitta ask museum.sag flame.real --figure shaving_mirror
expect "ask a thing" 2 err 'M is a mirror; ask for one of its properties: vertex, focus' -- sagitta ask museum.sag M --figure shaving_mirror
expect "ask what is not there" 2 err '^expression:1:7: error' -- sagitta ask museum.sag flame.distanse --figure shaving_mirror
expect "ask two things" 2 err 'expression' -- sagitta ask museum.sag 'f; f' --figure shaving_mirror
expect "ask nothing" 2 err 'expression' -- sagitta ask museum.sag '' --figure shaving_mirror
expect "ask which figure" 2 err 'several figures' -- sagitta ask museum.sag flame.distance
expect "check" 0 -- sagitta check museum.sag lamp.sag
holds "check says nothing" [ ! -s stdout.txt ]
printf 'figure a { mirror M concave focal 4 at 10 cm }\n' > wrong.sag
expect "check a wrong script" 1 err '^wrong.sag:1:[0-9]+: error: ' -- sagitta check wrong.sag lamp.sag
expect "draw a wrong script" 1 err 'error: ' -- sagitta draw wrong.sag -o w.svg
holds "a wrong script makes nothing" [ ! -e w.svg ]
printf '' > empty.sag
expect "a script with no figure" 1 err '^empty.sag: error: the script has no figure' -- sagitta draw empty.sag -o e.svg
expect "check finds nothing wrong with it" 0 -- sagitta check empty.sag

# ---- files ----
expect "no such file" 2 err 'cannot read nowhere.sag: No such file' -- sagitta check nowhere.sag
expect "a folder for a script" 2 err 'cannot read all: ' -- sagitta check all
head -c 8388609 /dev/zero | tr '\0' '#' > large.sag
expect "a script of 8 MiB and a byte" 1 err 'larger than 8 MiB' -- sagitta check large.sag
head -c 8388608 large.sag > largest.sag
expect "a script of 8 MiB" 0 -- sagitta check largest.sag
cp lamp.sag own.svg
cp lamp.sag kept
expect "onto the script itself" 2 err 'own.svg is the script itself' -- sagitta draw own.svg -o own.svg
ln -s own.svg link.svg
expect "onto it through a link" 2 err 'is the script itself' -- sagitta draw own.svg -o link.svg
ln own.svg hard.svg
expect "onto it under another name" 2 err 'is the script itself' -- sagitta draw own.svg -o hard.svg
from_itself() { "$binary" draw - -o own.svg < own.svg; }
expect "onto it from standard input" 2 err 'is the script itself' -- from_itself
holds "the script is whole" cmp -s own.svg kept
mkdir house && cp lamp.sag house/lamp.svg
expect "onto it in a folder" 2 err 'is the script itself' -- sagitta draw house/lamp.svg -o house/
holds "it is whole there too" cmp -s house/lamp.svg kept
expect "a list onto the full device" 3 err 'cannot write /dev/full: No space left' -- sagitta draw lamp.sag -o full/ --manifest /dev/full
holds "and no drawing beside it" [ ! -e full/lamp.svg ]
ln -s later.svg early.svg
expect "through a link to what is not there yet" 0 -- sagitta draw lamp.sag -o early.svg
holds "the link is still one, and leads to the drawing" [ -L early.svg -a -f later.svg -a ! -L later.svg ]
ln -s nowhere/later.svg astray.svg
expect "through a link that leads astray" 2 err 'cannot write astray.svg: No such file' -- sagitta draw lamp.sag -o astray.svg
ln -s round.svg round.svg
expect "through a link in a circle" 2 err 'cannot write round.svg: Too many levels' -- sagitta draw lamp.sag -o round.svg
holds "that link is untouched" [ -L round.svg ]
expect "a name too long" 2 err 'File name too long' -- sagitta draw lamp.sag -o "$(printf 'a%.0s' {1..300}).svg"
expect "the full device" 3 err 'cannot write /dev/full: No space left' -- sagitta draw lamp.sag -o /dev/full
holds "one message" one_line
to_full() { "$binary" draw lamp.sag -o - > /dev/full; }
expect "standard output onto it" 3 err 'cannot write to standard output: No space left' -- to_full
holds "one message" one_line
closed() { "$binary" draw lamp.sag -o - >&-; }
expect "standard output closed" 3 err 'cannot write to standard output' -- closed
help_closed() { "$binary" --help >&-; }
expect "help with it closed" 3 err 'cannot write' -- help_closed
"$binary" solve museum.sag --json | head -n 1 > head.txt
holds "a reader that leaves does no harm" grep -q '{' head.txt
echo old > small.svg
disk_full() { (ulimit -f 1; exec "$binary" draw lamp.sag -o small.svg); }
expect "a disk that fills" 3 err 'cannot write small.svg: File too large' -- disk_full
holds "what was there stays" test "$(cat small.svg)" = old
all_full() { (ulimit -f 1; exec "$binary" draw museum.sag -o fresh/); }
expect "a disk that fills on a folder" 3 err 'cannot write fresh/' -- all_full
holds "and the folder is gone again" [ ! -e fresh ]
expect "a name that is a folder's" 0 -- sagitta draw lamp.sag -o house2/
expect "into no folder" 2 err 'cannot write gone/a.svg' -- sagitta draw lamp.sag -o gone/a.svg
ln -s six.svg alias.svg
expect "through a link" 0 -- sagitta draw lamp.sag -o alias.svg
holds "the link stays, its file is new" eval '[ -L alias.svg ] && cmp -s six.svg lamp.svg'
chmod 640 six.svg
sagitta draw lamp.sag -o six.svg
holds "its mode stays" test "$(stat -c %a six.svg)" = 640
mkdir locked && chmod 555 locked && chmod 755 "$work"
plain_user() { # as root, permissions bind nobody: become someone else
    if [ "$(id -u)" = 0 ]; then cp -f "$binary" ./binary && setpriv --reuid=65534 --regid=65534 --clear-groups ./binary "$@"
    else "$binary" "$@"; fi
}
expect "a folder that may not be written" 3 err 'cannot write locked/a.svg: Permission denied' -- plain_user draw lamp.sag -o locked/a.svg
holds "one message" one_line
holds "no temporary file is left" nothing_left
expect "strict without warnings" 0 -- sagitta check --strict lamp.sag
printf 'figure a { mirror M concave focal 4 cm aperture 2 cm at 16 cm\n object o height 3 cm at 12 cm before M\n ray r from o.tip parallel\n}\n' > wide.sag
expect "a warning" 0 err 'warning: ' -- sagitta draw wide.sag -o wide.svg
expect "a warning, strictly" 1 err 'warning: ' -- sagitta draw wide.sag --strict -o strict.svg
holds "makes nothing" [ ! -e strict.svg ]

# ---- words ----
expect "words" 0 out '^mirror NAME$' -- sagitta words
expect "words as JSON" 0 out '"word": "mirror"' -- sagitta words --json
holds "it is JSON" node -e 'const j = JSON.parse(require("fs").readFileSync("stdout.txt")); if (j.kinds.length < 10 || j.messages.length < 50 || !j.kinds.every(k => k.group && Array.isArray(k.phrases))) process.exit(1)'
expect "words as Markdown" 0 out '^## mirror$' -- sagitta words --md
expect "words as a dictionary" 0 out '^"aperture"$' -- sagitta words --dict
expect "messages" 0 out '^unit-missing \(error\): ' -- sagitta words --messages
expect "two forms at once" 2 err 'takes one of --json, --md' -- sagitta words --md --json
expect "words of a file" 2 err 'words takes no file' -- sagitta words lamp.sag
words_full() { "$binary" words > /dev/full; }
expect "words onto the full device" 3 err 'cannot write to standard output: No space left' -- words_full

# ---- pipes ----
mkfifo pipe.svg
expect "a pipe that nobody reads" 2 err 'cannot write pipe.svg: it is a pipe, and nobody reads it; begin to read it first, or write -o -' -- timeout 10 "$binary" draw lamp.sag -o pipe.svg
cat pipe.svg > read.svg &
reader=$!
piped() { for _ in $(seq 50); do "$binary" draw lamp.sag -o pipe.svg 2> /dev/null && return; sleep 0.1; done; false; }      # until the reader has begun
expect "a pipe that is read" 0 -- piped
wait $reader
holds "all of it comes through, and the pipe stays" eval '[ -p pipe.svg ] && cmp -s read.svg lamp.svg'

# ---- tidy ----
printf '\357\273\277let f=4cm # lamp\r\nfigure a{mirror M at 16 cm focal f concave}\r\n' > untidy.sag
printf 'let f = 4 cm  # lamp\nfigure a {\n    mirror M concave focal f at 16 cm\n}\n' > tidied.sag
cp untidy.sag kept.sag
expect "tidy --check names the file" 1 out '^untidy.sag$' -- sagitta tidy --check untidy.sag tidied.sag
holds "and no other" [ "$(cat stdout.txt)" = untidy.sag ]
holds "and changes nothing" cmp -s untidy.sag kept.sag
filter() { "$binary" tidy - < untidy.sag; }
expect "tidy as a filter" 0 out '^let f = 4 cm  # lamp$' -- filter
holds "the whole of it" cmp -s stdout.txt tidied.sag
filter_check() { "$binary" tidy --check - < untidy.sag; }
expect "a filter that only checks" 1 out '^standard input$' -- filter_check
chmod 640 untidy.sag
expect "tidy" 0 -- sagitta tidy untidy.sag
holds "the file is tidy" cmp -s untidy.sag tidied.sag
holds "its mode stays" test "$(stat -c %a untidy.sag)" = 640
touch -d '2001-02-03 04:05:06' tidied.sag
expect "tidy what is tidy" 0 -- sagitta tidy tidied.sag
holds "it is not written" test "$(stat -c %Y tidied.sag)" = "$(date -d '2001-02-03 04:05:06' +%s)"
expect "tidy --check of tidy files" 0 -- sagitta tidy --check tidied.sag untidy.sag
holds "says nothing" [ ! -s stdout.txt ]
cp kept.sag behind.sag && ln -s behind.sag before.sag
expect "through a link" 0 -- sagitta tidy before.sag
holds "the link stays, its file is tidy" eval '[ -L before.sag ] && cmp -s behind.sag tidied.sag'
printf 'figure a {\n  mirror M concave focal at 16 cm\n}\n' > broken.sag
cp broken.sag broken.kept
cp kept.sag other.sag
expect "a script with a syntax error" 1 err '^broken.sag:2:26: error: `focal` needs a value' -- sagitta tidy broken.sag other.sag
holds "it stays as it was" cmp -s broken.sag broken.kept
holds "the other is tidied all the same" cmp -s other.sag tidied.sag
expect "a script that only means nonsense" 0 -- sagitta tidy wrong.sag
{ cat kept.sag; printf '# the lamp room%.0s\n' $(seq 200); } > small.sag
cp small.sag small.kept
tidy_full() { (ulimit -f 1; exec "$binary" tidy small.sag); }
expect "a disk that fills" 3 err 'cannot write small.sag' -- tidy_full
holds "what was there stays" cmp -s small.sag small.kept
expect "tidy what is not there" 2 err 'cannot read nowhere.sag' -- sagitta tidy nowhere.sag
tidy_locked() { plain_user tidy locked/t.sag; }
chmod 755 locked && cp kept.sag locked/t.sag && chmod 555 locked
expect "tidy in a folder that may not be written" 3 err 'cannot write locked/t.sag: Permission denied' -- tidy_locked
holds "it is whole" cmp -s locked/t.sag kept.sag
holds "no temporary file is left" nothing_left

# ---- files that use other files ----
mkdir -p harbour/rooms harbour/real elsewhere
printf 'let f = 4 cm\nfigure room(u = 12 cm) { let x = 2 * u }\n' > harbour/rooms/lamp.sag
cp harbour/rooms/lamp.sag harbour/real/lamp.sag
cp harbour/rooms/lamp.sag elsewhere/lamp.sag
using() { printf 'use "%s"\nfigure a { let x = f }\n' "$1" > harbour/main.sag; }
using rooms/lamp.sag
expect "a used file" 0 out '^4 cm$' -- sagitta ask harbour/main.sag x
in_harbour() { (cd harbour && exec "$binary" ask - x < main.sag); }
expect "used by standard input, from the working folder" 0 out '^4 cm$' -- in_harbour
printf 'use "rooms/lamp.sag"\nfigure b = room(u = 5 cm)\n' > harbour/copy.sag
expect "a copy of a used figure" 0 out '^10 cm$' -- sagitta ask harbour/copy.sag x
expect "its own figures are not drawn" 2 err 'no figure `room`; it has b' -- sagitta draw harbour/copy.sag --figure room -o room.svg
using nowhere.sag
expect "a used file that is not there" 1 err '^harbour/main.sag:1:6: error: there is no file `nowhere.sag`' -- sagitta check harbour/main.sag
using rooms/nowhere/lamp.sag
expect "nor its folder" 1 err 'there is no file' -- sagitta check harbour/main.sag
using ../elsewhere/lamp.sag
expect "outside the folder of the script" 1 err 'lies outside the folder of the main script' -- sagitta ask harbour/main.sag x
expect "allowed by --root" 0 out '^4 cm$' -- sagitta ask harbour/main.sag x --root .
expect "a root written otherwise" 0 out '^4 cm$' -- sagitta ask harbour/main.sag x --root "$PWD/harbour/.."
expect "a root that does not hold the script" 2 err '--root elsewhere: the script does not lie in it or below' -- sagitta ask harbour/main.sag x --root elsewhere
mkdir -p harb && cp harbour/main.sag harb/
expect "a root whose name begins alike" 2 err 'does not lie in it' -- sagitta ask harbour/main.sag x --root harb
expect "a root that is not there" 2 err 'cannot open the folder nowhere' -- sagitta ask harbour/main.sag x --root nowhere
printf 'let f = (\n' > harbour/rooms/bad.sag
using rooms/bad.sag
expect "a mistake in a used file" 1 err '^harbour/rooms/bad.sag:1:' -- sagitta check harbour/main.sag
ln -s ../real/lamp.sag harbour/rooms/link.sag
ln -s real harbour/linked
ln -s /etc/hostname harbour/rooms/out.sag
mkfifo harbour/rooms/pipe.sag
mkdir harbour/rooms/folder.sag
for file in rooms/link.sag linked/lamp.sag rooms/out.sag rooms/pipe.sag rooms/folder.sag; do
    using $file
    expect "not followed: $file" 1 err "\`$file\` is no regular file, or a link stands in its way" -- timeout 10 "$binary" check harbour/main.sag
done
ln harbour/rooms/lamp.sag harbour/twin.sag
printf 'use "twin.sag"\nuse "rooms/lamp.sag"\nfigure a { let x = f }\n' > harbour/main.sag
expect "one file under two names is read once" 0 out '^4 cm$' -- sagitta ask harbour/main.sag x
cp harbour/rooms/lamp.sag harbour/closed.sag
chmod 000 harbour/closed.sag
printf 'use "closed.sag"\nfigure a { let x = f }\n' > harbour/main.sag
chmod 755 harbour
locked_file() { plain_user check harbour/main.sag; }
expect "a used file that may not be read" 1 err '`closed.sag` cannot be read' -- locked_file
echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
