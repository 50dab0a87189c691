#!/bin/bash
# bench.sh BINARY SCRIPT: what drawing one figure costs as a whole process, against an empty static process and against a
# bare cairo program of 200 primitives and 20 labels. Writes build/bench.txt and shows it.
set -eu
binary=$1 script=$2
cc=${CC:-cc}
face=/usr/share/fonts/truetype/liberation2/LiberationSans-Regular.ttf
at=build/bench
rm -rf $at
mkdir -p $at
here=tests/bench
$cc -O2 -static $here/empty.c -o $at/empty
$cc -O2 $here/cairo_figure.c $(pkg-config --cflags cairo freetype2) -o $at/cairo $(pkg-config --libs cairo freetype2)
$cc -O2 $here/cairo_figure.c $(pkg-config --cflags cairo freetype2) -o $at/cairo_static -static -Wl,--gc-sections $(pkg-config --static --libs cairo freetype2) -lm
$cc -O2 $here/in_turn.c -o $at/in_turn
figure=$("$binary" solve "$script" --json | sed -n 's/.*"figure": "\(.*\)".*/\1/p;T;q')

instructions() { # name command...
    local name=$1
    shift
    valgrind --tool=callgrind --callgrind-out-file=$at/$name.callgrind "$@" > $at/$name.out 2> $at/$name.err || { cat $at/$name.err >&2; exit 1; }
    sed -n 's/.*Collected : \([0-9]*\).*/\1/p' $at/$name.err
}
ours=("$binary" draw "$script" --figure "$figure" -o $at/figure.svg)
check=("$binary" check "$script")
ir_empty=$(instructions empty $at/empty)
ir_ours=$(instructions ours "${ours[@]}")
ir_check=$(instructions check "${check[@]}")
ir_cairo=$(instructions cairo $at/cairo $at/cairo.svg $face)
{ read -r ms_empty least_empty faults_empty
  read -r ms_ours least_ours faults_ours
  read -r ms_check least_check faults_check
  read -r ms_cairo least_cairo faults_cairo
} < <($at/in_turn 41 $at/empty , "${ours[@]}" , "${check[@]}" , $at/cairo $at/cairo.svg $face)

# Many figures in one process, and a long script: made here, so that their sizes are what the names say.
{
    echo 'let f = 4 cm'
    echo 'figure first(u = 12 cm) { mirror M concave focal f aperture 7 cm at 16 cm; object o height 1 cm at u before M'
    echo 'step "a" { ray a from o.tip parallel }'
    echo 'step "b" { ray b from o.tip toward M.vertex }'
    echo 'step "c" { image i of o by M } }'
    for k in $(seq 2 500); do echo "figure f$k = first(u = $((90 + k)) mm) \"At {u}\""; done
} > $at/many.sag
{
    echo 'let a0 = 1 cm'
    for k in $(seq 19998); do echo "let a$k = a$((k - 1)) + $k mm   # line $k"; done
    echo 'figure f { point P at 1 cm }'
} > $at/long.sag
# A page of slides of fourteen figures, each with five steps.
{
    cat scripts-demo/shaving_mirror.sag
    for k in $(seq 2 14); do echo "figure slide$k = shaving_mirror(u = $((100 + 2 * k)) mm) \"At {u}\""; done
} > $at/slides.sag
# A sheet of four problems in 26 versions, printed, and its key.
sed 's/versions 6 /versions 26 /; s/step 0.5 cm/step 0.1 cm/' scripts-demo/thin_lenses.sag > $at/sheet.sag
mkdir -p $at/one $at/many
ir_one=$(instructions one "$binary" draw $at/many.sag --figure f2 -o $at/one/f.svg)
ir_many=$(instructions many "$binary" draw $at/many.sag -o $at/many/)
ir_slides=$(instructions slides "$binary" draw $at/slides.sag -o $at/slides.html)
ir_long=$(instructions long "$binary" check $at/long.sag)
{ read -r ms_many least_many faults_many
  read -r ms_slides least_slides faults_slides
  read -r ms_long least_long faults_long
} < <($at/in_turn 5 "$binary" draw $at/many.sag -o $at/many/ , "$binary" draw $at/slides.sag -o $at/slides.html , "$binary" check $at/long.sag)

print=$(dirname "$binary")/sagitta-print
ir_sheet=$(instructions sheet "$print" draw $at/sheet.sag -o $at/sheet.pdf)
ir_key=$(instructions key "$print" draw $at/sheet.sag --key -o $at/key.pdf)
{ read -r ms_sheet least_sheet faults_sheet
  read -r ms_key least_key faults_key
} < <($at/in_turn 5 "$binary" draw $at/sheet.sag -o $at/sheet.pdf , "$binary" draw $at/sheet.sag --key -o $at/key.pdf)
[ "$(grep -ac '/Type /Page %' $at/sheet.pdf)" = 52 ]

# PDF (a page) and PNG (150 pixels an inch) of the same figure, against the bare program's. Valgrind follows no exec unless told;
# the program that prints is counted itself, and timed with the one that hands over to it.
pdf=(draw "$script" --figure "$figure" --final -o $at/figure.pdf)
png=(draw "$script" --figure "$figure" -o $at/figure.png)
ir_pdf=$(instructions pdf "$print" "${pdf[@]}")
ir_png=$(instructions png "$print" "${png[@]}")
ir_cairo_pdf=$(instructions cairo_pdf $at/cairo $at/cairo.pdf $face)
ir_static_pdf=$(instructions static_pdf $at/cairo_static $at/static.pdf $face)
ir_cairo_png=$(instructions cairo_png $at/cairo $at/cairo.png $face)
{ read -r ms_pdf least_pdf faults_pdf
  read -r ms_cairo_pdf least_cairo_pdf faults_cairo_pdf
  read -r ms_png least_png faults_png
  read -r ms_cairo_png least_cairo_png faults_cairo_png
} < <($at/in_turn 41 "$binary" "${pdf[@]}" , $at/cairo $at/cairo.pdf $face , "$binary" "${png[@]}" , $at/cairo $at/cairo.png $face)
against() { awk -v n="$1" -v a="$2" -v b="$3" -v m="$4" -v w="$5" 'BEGIN { printf "%s: %.2f times the instructions of the bare cairo program, %.2f times its time\n", n, a / b, m / w }'; }

row() { awk -v n="$1" -v ir="$2" -v e="$ir_empty" -v c="$ir_cairo" -v m="$3" -v l="$4" -v me="$ms_empty" -v mc="$ms_cairo" -v f="$5" \
    'BEGIN { printf "%-26s %11d %8.2f %8.4f %9d %9d %8.2f %8.3f %7d\n", n, ir, ir / e, ir / c, m, l, m / me, m / mc, f }'; }
{
    echo "figure $figure of $script, $(stat -c %s $at/figure.svg) bytes of SVG; cairo $(pkg-config --modversion cairo), $(stat -c %s $at/cairo.svg) bytes"
    echo "instructions by callgrind; wall time in microseconds, 41 rounds in turn; minor page faults of the last round"
    printf '%-26s %11s %8s %8s %9s %9s %8s %8s %7s\n' process instructions /empty /cairo median least /empty /cairo faults
    row "empty, static" "$ir_empty" "$ms_empty" "$least_empty" "$faults_empty"
    row "sagitta draw, one SVG" "$ir_ours" "$ms_ours" "$least_ours" "$faults_ours"
    row "sagitta check, whole file" "$ir_check" "$ms_check" "$least_check" "$faults_check"
    row "bare cairo, one SVG" "$ir_cairo" "$ms_cairo" "$least_cairo" "$faults_cairo"
    row "sagitta draw, a PDF page" "$ir_pdf" "$ms_pdf" "$least_pdf" "$faults_pdf"
    row "bare cairo, a PDF page" "$ir_cairo_pdf" "$ms_cairo_pdf" "$least_cairo_pdf" "$faults_cairo_pdf"
    row "sagitta draw, PNG 150 dpi" "$ir_png" "$ms_png" "$least_png" "$faults_png"
    row "bare cairo, PNG 150 dpi" "$ir_cairo_png" "$ms_cairo_png" "$least_cairo_png" "$faults_cairo_png"
    row "500 figures, one process" "$ir_many" "$ms_many" "$least_many" "$faults_many"
    row "page of 14 slides" "$ir_slides" "$ms_slides" "$least_slides" "$faults_slides"
    row "26 versions of 2 pages" "$ir_sheet" "$ms_sheet" "$least_sheet" "$faults_sheet"
    row "their key" "$ir_key" "$ms_key" "$least_key" "$faults_key"
    row "check of 20,000 lines" "$ir_long" "$ms_long" "$least_long" "$faults_long"
    against PDF "$ir_pdf" "$ir_cairo_pdf" "$ms_pdf" "$ms_cairo_pdf"
    awk -v a="$ir_pdf" -v b="$ir_static_pdf" 'BEGIN { printf "PDF: %.2f times with the bare program linked statically too, as ours is\n", a / b }'
    against PNG "$ir_png" "$ir_cairo_png" "$ms_png" "$ms_cairo_png"
    echo "one of the 500 figures: $((ir_many / 500)) instructions in the crowd, $ir_one as a process of its own"
} | tee build/bench.txt
