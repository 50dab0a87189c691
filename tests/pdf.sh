#!/bin/bash
# pdf.sh BINARY: PDF and PNG as other programs find them: qpdf, poppler, mupdf and librsvg. sagitta-print must stand beside
# BINARY. Last line: "N passed, N failed".
set -u
binary=$(realpath "$1")
pixels=$(realpath build/pixels)
demos=$(realpath scripts-demo)
out=build/test/pdf
rm -rf $out
mkdir -p $out
out=$(realpath $out)
cd "$out" || exit 1
passed=0 failed=0
holds() { # what command...
    local what=$1
    shift
    if "$@" > holds.log 2>&1; then passed=$((passed + 1)); else failed=$((failed + 1)); echo "FAILED $what"; head -n 5 holds.log; fi
}
draw() { "$binary" draw "$@"; }
plain() { qpdf --qdf --object-streams=disable "$1" "${1%.pdf}.qdf" && grep -aq -- "$2" "${1%.pdf}.qdf"; }
near() { awk -v a="$1" -v b="$2" -v within="$3" 'BEGIN { d = a - b; exit !((d < 0 ? -d : d) <= within) }'; }

# ---- a figure whose lengths are known: a line of 100 mm and one of 40 mm on paper ----
cat > scale.sag <<'SAG'
figure bar "Bar of the lamp room" {
    frame 140 mm by 60 mm
    point P at (0 mm, 0 mm) unnamed
    line a from (0 mm, 10 mm) to (100 mm, 10 mm)
    line b from (0 mm, 10 mm) to (0 mm, -30 mm)
    note "the bar is 100 mm" at (20 mm, 14 mm)
}
SAG
holds "a PDF of known lengths is drawn" draw scale.sag -o scale.pdf
# Strokes as they stand on the page, in points of 1/72 inch: the transform is part of each line.
spans() { # axis: length in mm of every stroked line along x (1) or y (2)
    mutool trace "$1" 1 | awk -v axis="$2" '
        /<stroke_path/ { split($0, t, "transform=\""); split(t[2], m, /[ "]/); on = 1; n = 0 }
        on && /<(moveto|lineto)/ { split($0, q, "\""); n++; x[n] = q[2] * m[1] + q[4] * m[3]; y[n] = q[2] * m[2] + q[4] * m[4] }
        on && /<\/stroke_path/ { on = 0; if (n == 2) { d = axis == 1 ? x[2] - x[1] : y[2] - y[1]; printf "%.4f\n", (d < 0 ? -d : d) * 25.4 / 72 } }'
}
longest() { spans scale.pdf "$1" | awk -v want="$2" '{ d = $1 - want; if (d < 0) d = -d; if (NR == 1 || d < least) { least = d; best = $1 } } END { print best }'; }
holds "100 mm are 100.00 mm, within 0.05" near "$(longest 1 100)" 100 0.05
holds "40 mm are 40.00 mm, within 0.05" near "$(longest 2 40)" 40 0.05
holds "100 mm are not 101 mm" eval '! near "$(longest 1 101)" 101 0.05'
size=$(pdfinfo scale.pdf | awk '/^Page size/ { print $3, $5 }')
holds "the page is 140 mm wide" near "${size% *}" "$(awk 'BEGIN { print 140 * 72 / 25.4 }')" 0.02
holds "the page is 60 mm high" near "${size#* }" "$(awk 'BEGIN { print 60 * 72 / 25.4 }')" 0.02
# 254 dots an inch are 10 a millimetre, so the picture is 1400 by 600.
pdftoppm -r 254 -x 0 -y 0 -W 1400 -H 600 -png -singlefile scale.pdf scale
draw scale.sag -o own.png --dpi 254
holds "ten pixels are a millimetre" eval '[ "$(file -b own.png | grep -oE "[0-9]+ x [0-9]+")" = "1400 x 600" ]'
# Programs round the last pixel of a side up or down, so what both have is compared.
apart() {
    local w h
    read -r w h < <(file -b "$1" "$2" | grep -oE '[0-9]+ x [0-9]+' | awk 'NR == 1 || $1 < w { w = $1 } NR == 1 || $3 < h { h = $3 } END { print w, h }')
    "$pixels" "$1" "$2" 0 0 0 0 "$w" "$h" | tee apart.txt | awk -v most="$3" '{ ok = $1 <= most } END { exit !ok }'
}
holds "our PNG shows what another program makes of our PDF" apart own.png scale.png 60

# ---- every demo: sound, its text inside, what is read aloud ----
for script in "$demos"/{shaving_mirror,questions,five_styles,four_wordings,lens_in_water,harbour_telescope}.sag; do
    [ -e "$script" ] || { holds "$script is there" false; continue; }
    name=$(basename "$script" .sag)
    holds "$name is drawn" draw "$script" -o "$name.pdf"
    holds "$name is sound" qpdf --check "$name.pdf"
    holds "$name has its fonts inside, with the characters they stand for" eval 'pdffonts "$name.pdf" | awk "NR > 2 { n++; if (\$(NF - 4) != \"yes\" || \$(NF - 2) != \"yes\") bad = 1 } END { exit bad || n == 0 }"'
    holds "$name is tagged" grep -q '^Tagged: *yes' <(pdfinfo "$name.pdf")
    holds "$name has a title" grep -q '^Title: *[^ ]' <(pdfinfo "$name.pdf")
    holds "$name says its language" plain "$name.pdf" '/Lang ('
    holds "$name prints at its own size" grep -aq '/PrintScaling /None' "$name.qdf"
    holds "$name shows its title" grep -aq '/DisplayDocTitle true' "$name.qdf"
    holds "every figure of $name is told in words" eval '[ "$(grep -ac "/S /Figure" "$name.qdf")" = "$(grep -ac "/Alt [(<]" "$name.qdf")" ]'
done
holds "German texts are said to be German" grep -aq '/Lang (de)' four_wordings.qdf
text() { pdftotext "$@" - | tr '\n\f' '  '; }
text shaving_mirror.pdf > text.txt
for words in 'candle' 'principal axis' 'In parallel to the axis, out through the focal point.' '4 cm'; do
    holds "the text has: $words" grep -qF "$words" text.txt
done
pages() { pdfinfo "$1" | awk '/^Pages/ { print $2 }'; }
holds "a page for what is given and one for each of five steps" [ "$(pages shaving_mirror.pdf)" = 6 ]
holds "captions stand on their own pages" eval '! text -f 2 -l 2 shaving_mirror.pdf | grep -qF "In parallel"'
holds "a question comes before what answers it" eval 'text -f 2 -l 2 questions.pdf | grep -qF "Where does it leave?" && ! text -f 2 -l 2 questions.pdf | grep -qF "focal point"'
draw "$demos/shaving_mirror.sag" -o final.pdf --final
holds "--final is one page, without captions" eval '[ "$(pages final.pdf)" = 1 ] && ! text final.pdf | grep -qF "In parallel"'
draw "$demos/shaving_mirror.sag" -o two.pdf --step 2
holds "--step 2 stops there" eval '[ "$(pages two.pdf)" = 3 ] && ! text two.pdf | grep -qF "In parallel"'
plain two.pdf x
holds "and tells nobody what comes after" eval '! grep -aq "inverted" two.qdf'

draw "$demos/lens_sheet.sag" -o sheet.pdf
holds "the lines of a sheet are read apart" eval 'qpdf --check sheet.pdf && pdfinfo -struct-text sheet.pdf | grep -qF "\"Lenses, version A\""'

# ---- pictures among text: each is told, at its step no more than it shows; those of a sheet give nothing away ----
alts() { qpdf --json "$1" | node -e '
const objects = JSON.parse(require("fs").readFileSync(0)).qpdf[1], all = Object.values(objects).map(o => o.value).filter(v => v && v["/S"] === "/Figure")
const kids = Object.values(objects).find(o => o.value && o.value["/S"] === "/Document").value["/K"].map(k => objects["obj:" + k].value)
if (all.length === 0 || all.some(f => !f["/Alt"])) process.exit(1)
for (const k of kids) if (k["/S"] === "/Figure") console.log(k["/Alt"].replace(/^u:/, ""))'; }
draw "$demos/shaving_mirror.sag" -o notes.pdf --notes
alts notes.pdf > alts.txt
holds "six pictures of speaker's notes are told" eval 'qpdf --check notes.pdf && [ "$(wc -l < alts.txt)" = 6 ]'
holds "each says what its step brings, and none earlier" eval '! head -n 5 alts.txt | grep -q "image" && tail -n 1 alts.txt | grep -q "image" && sed -n 4p alts.txt | grep -q "Step 3" && ! sed -n 3p alts.txt | grep -q "Step 3"'
printf 'figure f "Bare (\\\\) > \303\274 \316\251 \360\235\233\274" {\n axis none\n step "a" { point P at (1 cm, 2 cm) }\n}\n' > bare.sag
holds "a page that shows nothing yet" eval 'draw bare.sag -o bare.pdf && qpdf --check bare.pdf && [ "$(alts bare.pdf | wc -l)" = 1 ] && alts bare.pdf | grep -qF "Bare (\\) > ü Ω 𝛼. A drawing"'
holds "a document that shows nothing at all" eval 'draw bare.sag -o bare.pdf --step 0 && qpdf --check bare.pdf && [ "$(pages bare.pdf)" = 1 ]'
for part in "" --key --overlay; do
    draw "$demos/thin_lenses.sag" -o pages.pdf --set B $part
    holds "the drawings of a sheet are named and no more: $part" eval 'qpdf --check pages.pdf && [ "$(alts pages.pdf | tr "\n" "|")" = "The drawing of problem 1.|The drawing of problem 2.|The drawing of problem 3.|" ]'
done

# ---- the same bytes ----
holds "the same bytes again" eval 'draw "$demos/shaving_mirror.sag" -o again.pdf && cmp again.pdf shaving_mirror.pdf'
holds "the same bytes from another folder" eval '(cd / && "$binary" draw "$demos/shaving_mirror.sag" -o "$out/again.pdf") && cmp again.pdf shaving_mirror.pdf'
holds "the same bytes in another place of the world" eval 'TZ=Asia/Tokyo LC_ALL=de_DE.UTF-8 draw "$demos/shaving_mirror.sag" -o again.pdf && cmp again.pdf shaving_mirror.pdf'
holds "the date that is asked for" eval 'SOURCE_DATE_EPOCH=1700000000 draw scale.sag -o dated.pdf && TZ=UTC pdfinfo dated.pdf | grep -q "^CreationDate: *Tue Nov 14 22:13:20 2023"'
holds "the last second that a PDF's date can tell" eval 'SOURCE_DATE_EPOCH=253402300799 draw scale.sag -o dated.pdf && TZ=UTC pdfinfo dated.pdf | grep -q "^CreationDate: *Fri Dec 31 23:59:59 9999"'

# ---- PNG beside what librsvg makes of the still SVG, at 150 dots an inch ----
for name in shaving_mirror questions lens_in_water; do
    figure=$("$binary" solve "$demos/$name.sag" --json | sed -n 's/.*"figure": "\(.*\)".*/\1/p;T;q')
    draw "$demos/$name.sag" --figure "$figure" -o $name.png
    draw "$demos/$name.sag" --figure "$figure" -o $name.svg --still
    rsvg-convert -d 150 -p 150 -b white $name.svg -o librsvg.png
    holds "$name: librsvg shows the same, to 40 of 255 over 4 by 4 pixels" apart $name.png librsvg.png 40
done
draw "$demos/shaving_mirror.sag" -o less.png --step 3
holds "a picture without its last steps is told apart" eval '! apart less.png shaving_mirror.png 40'
draw "$demos/shaving_mirror.sag" -o clear.png --transparent
holds "--transparent has an alpha" grep -q RGBA <(file -b clear.png)

# ---- a file a step ----
draw "$demos/shaving_mirror.sag" -o frame.svg --frames
draw "$demos/shaving_mirror.sag" -o frame.png --frames --step 2
holds "six SVGs, and three PNGs up to step 2" [ "$(ls frame-* | tr '\n' ' ')" = "frame-0.png frame-0.svg frame-1.png frame-1.svg frame-2.png frame-2.svg frame-3.svg frame-4.svg frame-5.svg " ]
for k in 0 2; do
    holds "frame $k is what --step $k draws" eval 'draw "$demos/shaving_mirror.sag" -o k.svg --still --step $k && cmp k.svg frame-$k.svg && draw "$demos/shaving_mirror.sag" -o k.png --step $k && cmp k.png frame-$k.png'
done
holds "the last frame is the finished figure" cmp shaving_mirror.svg frame-5.svg
draw "$demos/questions.sag" "$demos/shaving_mirror.sag" -o frames/ --frames --manifest frames.json
holds "frames of several scripts in a folder" eval '[ "$(ls frames | wc -l)" = 12 ] && grep -q "questions-5.svg" frames.json'
holds "a contact sheet of pictures" eval 'draw "$demos/shaving_mirror.sag" -o c.png --contact c.html && grep -q "data:image/svg" c.html'

# ---- what goes wrong leaves nothing ----
refuses() { # status pattern arguments...
    local status=$1 pattern=$2
    shift 2
    rm -f none.*
    draw "$@" 2> refused.txt
    [ $? = "$status" ] && grep -qE -- "$pattern" refused.txt && [ -z "$(find . -name 'none.*' -o -name '.sagitta-*')" ]
}
printf 'figure f { point P at 1 furlong }\n' > wrong.sag
holds "too many pixels are refused" refuses 2 'smaller --dpi' "$demos/shaving_mirror.sag" -o none.png --dpi 2400 --figure shaving_mirror
holds "a wrong script prints nothing" refuses 1 'error' wrong.sag -o none.pdf
holds "a step that is not there" refuses 2 'step' "$demos/shaving_mirror.sag" -o none.pdf --step 99
for date in 253402300800 99999999999999999999 -5 soon 12h; do
    holds "no date: $date" eval 'SOURCE_DATE_EPOCH=$date refuses 2 "SOURCE_DATE_EPOCH" scale.sag -o none.pdf'
done
holds "dots for a PDF" refuses 2 '--dpi is for PNG' scale.sag -o none.pdf --dpi 100
holds "frames of a PDF" refuses 2 'page a step already' scale.sag -o none.pdf --frames
holds "frames on standard output" refuses 2 '--frames makes a file a step' scale.sag -o - --frames
holds "a manifest of a PDF" refuses 2 'a PDF holds all of a script' scale.sag -o none.pdf --manifest none.json
mkdir -p held/none-1.svg
holds "frames are written all or none" eval '! draw "$demos/shaving_mirror.sag" -o held/none.svg --frames 2> refused.txt && [ "$(ls -A held)" = none-1.svg ]'
holds "a folder that is not there" refuses 2 'cannot write' scale.sag -o nowhere/none.pdf
mkdir -p alone && cp "$binary" alone/
holds "without sagitta-print it says so" eval 'alone/$(basename "$binary") draw scale.sag -o none.pdf 2> refused.txt; [ $? = 3 ] && grep -q "sagitta-print, which is not there" refused.txt && [ ! -e none.pdf ]'
# Memory that runs out, anywhere from the start of the program to its last page: no file, whatever becomes of the program (cairo
# 1.16 falls over where it finishes the outline of a document without memory).
made=0 refused=0
for kilobytes in $(seq 6600 20 7400) 8000 12000 30000; do      # of a program of 6.6 MB
    rm -f none.pdf
    { (ulimit -c 0 && ulimit -v "$kilobytes" && exec "$(dirname "$binary")/sagitta-print" draw scale.sag -o none.pdf); } 2> refused.txt
    status=$?
    if [ $status = 0 ]; then made=$((made + 1)); holds "with $kilobytes kB the whole PDF" cmp none.pdf scale.pdf
    else refused=$((refused + 1)); holds "with $kilobytes kB no file" eval '[ ! -e none.pdf ] && [ -z "$(find . -name ".sagitta-*")" ]'; fi
done
holds "memory ran out in some of them, and not in others" [ $made -gt 2 -a $refused -gt 7 ]
echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
