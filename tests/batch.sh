#!/bin/bash
# batch.sh BINARY: many scripts drawn in one call, the lists of it, and make and ninja that live by its dependencies.
# Last line: "N passed, N failed".
set -u
binary=$(realpath "$1")                  # with sagitta-print beside it
demos=$(realpath scripts-demo)
jar=$(realpath tests/browser/node_modules/vnu-jar/build/dist/vnu.jar 2>/dev/null)
work=$(mktemp -d)
trap 'chmod -R u+w "$work"; rm -rf "$work"' EXIT
cd "$work" || exit 1
passed=0 failed=0
sagitta() { "$binary" "$@"; }
holds() { # name command...
    local name=$1
    shift
    if "$@" > said.txt 2>&1; then passed=$((passed + 1)); return; fi
    failed=$((failed + 1))
    echo "FAILED $name"
    head -c 800 said.txt
}
status() { # wanted command...
    local wanted=$1 got
    shift
    "$@" > out.txt 2> err.txt
    got=$?
    [ "$got" = "$wanted" ] || { echo "status $got, not $wanted"; cat err.txt; return 1; }
}
says() { grep -qE -- "$1" err.txt || { echo "standard error lacks: $1"; cat err.txt; return 1; }; }
valid() { [ -s "$1" ] && [ -r "$jar" ] && java -jar "$jar" --format gnu "$1"; }
none() { local f; for f in "$@"; do [ ! -e "$f" ] || { echo "$f is there"; return 1; }; done; }

figure() { printf 'figure %s "%s" {\n  mirror M concave focal 4 cm at 16 cm\n  object lamp height 1 cm at %s before M\n  image flame of lamp by M\n  %s\n}\n' "$1" "$2" "$3" "${4:-}"; }
figure near 'Lamp \"near\" & <small>' '3 cm' > a.sag
figure far 'Lamp, far' '12 cm' > b.sag
figure odd 'Damaged' '12 cm' 'mirro N' > wrong.sag
figure warned 'Warned' '12 cm' 'ray r from lamp.tip angle 12 deg' > d.sag
sed 's/aperture 7 cm/& /; s/focal 4 cm at/focal 4 cm aperture 2 cm at/' d.sag > warning.sag

# ---- names, and whole or nothing ----
holds "two scripts into a folder" status 0 sagitta draw a.sag b.sag -o out/
holds "the same bytes as one by one" eval 'sagitta draw a.sag -o one.svg && cmp one.svg out/near.svg && sagitta draw b.sag -o one.svg && cmp one.svg out/far.svg'
holds "several scripts want a folder" status 2 sagitta draw a.sag b.sag -o c.svg
holds "and are told so" says 'want a folder'
cp a.sag same.sag
holds "a clash of two scripts" status 2 sagitta draw a.sag same.sag -o clash/
holds "names both and the mend" says 'near of a.sag and figure near of same.sag would both write clash/near.svg.*--apart'
holds "and writes nothing" none clash
sed 's/figure near/figure Near/' a.sag > capital.sag
holds "a clash of capitals" status 2 sagitta draw a.sag capital.sag -o clash/
holds "says why" says 'capitals'
holds "apart there is none" status 0 sagitta draw a.sag same.sag -o clash/ --apart
holds "a folder a script" eval '[ -s clash/a/near.svg ] && [ -s clash/same/near.svg ]'
holds "a list in the place of an output" status 2 sagitta draw a.sag -o c.html --contact c.html
holds "a list in the place of a list" status 2 sagitta draw a.sag -o /dev/null --contact out/c.html --manifest out/C.html
holds "a list in the place of a script" status 2 sagitta draw a.sag -o x.svg --manifest b.sag
holds "leaves the script" eval 'grep -q far b.sag && [ ! -e x.svg ]'

# ---- statuses ----
rm -rf out
holds "one wrong script of three" status 1 sagitta draw a.sag wrong.sag b.sag -o out/ --manifest m.json --depfile d.d --contact c.html
holds "the others are drawn" eval '[ -s out/near.svg ] && [ -s out/far.svg ]'
holds "no list tells of half a call" none m.json d.d c.html out/odd.svg
holds "a script that is not there" status 2 sagitta draw a.sag nowhere.sag -o out2/
holds "the others are drawn too" [ -s out2/near.svg ]
holds "a warning is no mistake" status 0 sagitta draw warning.sag -o warned/
holds "it is told" says 'warning:'
holds "unless strict" status 1 sagitta draw warning.sag a.sag -o strict/ --strict
holds "and only then is nothing made of it" eval '[ ! -e strict/warned.svg ] && [ -s strict/near.svg ] && [ -s warned/warned.svg ]'
mkdir locked && chmod a-w locked
[ "$(id -u)" = 0 ] || holds "a folder that cannot be written" status 3 sagitta draw a.sag b.sag -o locked/
holds "a folder in a folder that is not there" status 2 sagitta draw a.sag -o no/where/

# ---- the lists ----
mkdir parts
printf 'let f = 4 cm\n' > 'parts/the lamp #1 $.sag'
printf 'use "parts/the lamp #1 $.sag"\n%s\n' "$(figure used 'Used' '12 cm' | sed 's/focal 4 cm/focal f/')" > 'user ü.sag'
holds "all lists" status 0 sagitta draw a.sag 'user ü.sag' -o 'out put/' --manifest m.json --depfile d.d --contact c.html
cat > manifest.mjs <<'JS'
import { readFileSync } from 'node:fs'
import { createHash } from 'node:crypto'
const digest = path => createHash('sha256').update(readFileSync(path)).digest('hex')
const m = JSON.parse(readFileSync('m.json', 'utf8'))
const wrong = []
const want = (a, b, what) => { if (JSON.stringify(a) !== JSON.stringify(b)) wrong.push(`${what}: ${JSON.stringify(a)}, not ${JSON.stringify(b)}`) }
want(m.outputs.map(o => o.path), ['out put/near.svg', 'out put/used.svg'], 'paths')
want(m.outputs[0].title, 'Lamp "near" & <small>', 'title')
want(m.outputs[1].sources.map(s => s.path), ['user ü.sag', 'parts/the lamp #1 $.sag'], 'sources')
for (const o of m.outputs) {
    const svg = readFileSync(o.path, 'utf8')
    want(o.sha256, digest(o.path), o.path)
    want(o.bytes, Buffer.byteLength(svg), 'bytes')
    for (const s of o.sources) want(s.sha256, digest(s.path), s.path)
    want([...new Set(svg.match(/#[0-9a-f]{6}(?=")/g))].sort(), o.colours, 'colours')
    const [, w, h] = svg.match(/<svg[^>]*? width="([\d.]+)mm" height="([\d.]+)mm"/)
    want([o.width_mm], [+w], 'width')
    if (!(o.height_mm > 20 && o.height_mm <= +h)) wrong.push(`height ${o.height_mm} beside ${h}`)
}
if (wrong.length) { console.log(wrong.join('\n')); process.exit(1) }
JS
holds "the manifest tells the truth" node manifest.mjs
holds "the texts" status 0 sagitta draw "$demos"/*.sag -o texts/ --apart --texts texts.csv
cat > texts.mjs <<'JS'
import { readFileSync } from 'node:fs'
// RFC 4180: quoted cells, a quote in one doubled, lines ended by CR LF.
const lines = readFileSync('texts.csv', 'utf8').split('\r\n')
if (lines.pop() !== '' || lines.shift() !== 'figure,title,short,long,width_mm,height_mm,steps,file') throw Error('head or end')
for (const line of lines) {
    const cells = [...line.matchAll(/("(?:[^"]|"")*"|[^",]*)(,|$)/g)].slice(0, 8).map(m => m[1].replace(/^"|"$/g, '').replaceAll('""', '"'))
    const [figure, title, short, long, w, h, steps, file] = cells
    const svg = readFileSync(file, 'utf8')
    if (!figure || !title || !short || [...short].length > 150) throw Error(`short text of ${figure}: ${short}`)
    if (!svg.includes(`width="${w}mm" height="${h}mm"`)) throw Error(`size of ${figure}`)
    if (!long.includes(' ') || long.length < short.length / 2 || !/^\d+$/.test(steps)) throw Error(`long text of ${figure}`)
}
if (lines.length < 60) throw Error(`${lines.length} figures`)
JS
holds "short texts of at most 150 characters, long ones, true sizes" node texts.mjs
cp m.json m1.json; cp c.html c1.html; cp d.d d1.d
sagitta draw a.sag 'user ü.sag' -o 'out put/' --manifest m.json --depfile d.d --contact c.html
holds "the same bytes again" eval 'cmp m.json m1.json && cmp c.html c1.html && cmp d.d d1.d'
holds "the contact sheet is valid" valid c.html
holds "it needs no other file" eval '[ "$(grep -c "src=\"data:" c.html)" = 2 ] && ! grep -qE "(src|href)=\"[^d]" c.html'
for n in 0 1 3 55 56 63 64 65 119 120 1000; do      # lengths round the blocks of the digest
    { cat a.sag; head -c $n /dev/zero | tr '\0' '#'; } > sized.sag
    sagitta draw sized.sag -o s.svg --manifest s.json
    holds "digest of $n bytes more" grep -q "\"sized.sag\", \"sha256\": \"$(sha256sum < sized.sag | cut -d ' ' -f 1)\"" s.json
done
holds "a path that make would not read" status 2 sagitta draw a.sag -o 'x%y.svg' --depfile x.d
holds "is named and not drawn" eval 'says "x%y.svg" && none x%y.svg x.d'

# ---- several forms ----
printf 'figure lone { point P at 1 cm }\npanel two "Both" { part a = lone }\nsheet quiz "Quiz" { problem lone "Draw." }\n' > panel.sag
holds "every form of every figure" status 0 sagitta draw a.sag b.sag panel.sag -o forms/ --as svg,pdf,png,html,odp --manifest f.json --contact f.html --depfile f.d --texts f.csv
holds "a file each, but no slides of a panel and no sheet" eval '[ "$(cd forms && echo *)" = "$(echo {far,lone,near}.{html,odp,pdf,png,svg} two.{pdf,png,svg})" ]'
for form in svg pdf png html odp; do holds "the same $form as alone" eval "sagitta draw b.sag -o one.$form && cmp one.$form forms/far.$form"; done
cat > forms.mjs <<'JS'
import { readFileSync } from 'node:fs'
import { createHash } from 'node:crypto'
const m = JSON.parse(readFileSync('f.json', 'utf8')), page = readFileSync('f.html', 'utf8'), rules = readFileSync('f.d', 'utf8'), rows = readFileSync('f.csv', 'utf8').split('\r\n')
if (m.outputs.length !== 18 || rows.length !== 20) throw Error(`${m.outputs.length} outputs, ${rows.length} rows`)
for (const o of m.outputs) {
    const bytes = readFileSync(o.path)
    if (!o.path.endsWith('/' + o.figure + '.' + o.form) || o.bytes !== bytes.length || o.sha256 !== createHash('sha256').update(bytes).digest('hex')) throw Error(o.path)
    if (!page.includes(`<p>${o.path}</p>`) || !rules.includes(o.path) || !rows.some(r => r.includes(o.path))) throw Error(`${o.path} is not in every list`)
    if (o.form === 'png' && Math.abs(bytes.readUInt32BE(16) - o.width_mm * 150 / 25.4) > 0.51) throw Error(`${o.width_mm} mm are ${bytes.readUInt32BE(16)} pixels`)
    if (o.form === 'pdf' && Math.abs(/MediaBox \[ 0 0 (\S+)/.exec(bytes.toString('latin1'))[1] - o.width_mm * 72 / 25.4) > 0.02) throw Error(`${o.width_mm} mm wide`)
}
if (page.split('<li>').length !== 5) throw Error('not a picture a figure')
JS
holds "every list has every form" node forms.mjs
holds "their contact sheet is valid" valid f.html
holds "what one form takes is for that one" eval 'status 0 sagitta draw a.sag -o mixed/ --as pdf,svg,png --frames --final --dpi 72 --apart && [ "$(ls mixed/a | wc -l)" = 3 ] && [ -s mixed/a/near.pdf ] && [ -s mixed/a/near-0.png ]'
holds "a warning is told once" eval 'status 0 sagitta draw warning.sag -o warned/ --as svg,pdf,html && [ "$(grep -c warning: err.txt)" = 1 ]'
refused() { local name=$1 pattern=$2; shift 2; holds "$name" status 2 sagitta draw a.sag -o refused/ "$@"; holds "$name is told" says "$pattern"; holds "$name leaves nothing" none refused; }
refused "a form that is none" '`jpeg` is no form of a figure; write some of svg, pdf, png, html and odp' --as svg,jpeg
refused "a form twice" 'stands there twice' --as svg,pdf,svg
refused "a form that is missing" 'a form is missing' --as svg,,pdf
refused "frames of what has all steps" 'add svg or png to --as' --as pdf,html --frames
refused "slides of one step" 'take --step away, or html and odp' --as svg,odp --step 0
refused "sheets in other forms" 'a PDF of all pages is made by -o NAME.pdf' --as pdf --key
refused "dots for none" 'add png to --as' --as svg,pdf --dpi 100
refused "a picture too large, behind one that is made" 'smaller --dpi' --as svg,png --dpi 2400
holds "forms of a file" eval 'status 2 sagitta draw a.sag -o a.svg --as svg && says "write -o FOLDER/"'
holds "make is told of every form" eval 'printf "forms2/near.pdf: a.sag\n\t@\"%s\" draw a.sag -o forms2/ --as svg,pdf --depfile forms2.d\n-include forms2.d\n" "$binary" > forms.mk && make -s -f forms.mk && make -s -f forms.mk forms2/near.svg && grep -q "^forms2/near.svg forms2/near.pdf: a.sag$" forms2.d'

# ---- make and ninja: made once, left alone, made again when a used file changes, and no error when one is gone ----
rm -rf build-m build-n
cat > Makefile <<MAKE
build-m/used.svg: user\ ü.sag
	@echo drawn >> m.log
	@"$binary" draw 'user ü.sag' -o build-m/ --depfile build-m/used.d
-include build-m/used.d
MAKE
cat > build.ninja <<NINJA
rule draw
  command = echo drawn >> n.log && "$binary" draw 'user ü.sag' -o build-n/ --depfile \$out.d
  depfile = \$out.d
  deps = gcc
build build-n/used.svg: draw user\$ ü.sag
NINJA
times() { [ "$(wc -l < "$1")" = "$2" ] || { echo "drawn $(wc -l < "$1") times, not $2"; return 1; }; }
used='parts/the lamp #1 $.sag'
for pass in 1 1 2 3; do
    [ $pass != 2 ] || { sleep 1.1; printf 'let f = 5 cm\n' > "$used"; }
    [ $pass != 3 ] || { sleep 1.1; mv "$used" parts/bulb.sag; sed -i 's/the lamp #1 \$/bulb/' 'user ü.sag'; }
    holds "make" eval "make -s && times m.log $pass"
    holds "ninja" eval "ninja > /dev/null && times n.log $pass"
done

# ---- a hundred scripts ----
mkdir many
for i in $(seq 100); do figure "lamp_$i" "Lamp $i" "$((5 + i % 9)) cm" > many/$i.sag; done
holds "a hundred scripts" status 0 sagitta draw many/*.sag -o hundred/ --manifest h.json --contact h.html --depfile h.d
holds "a hundred drawings" eval '[ "$(ls hundred | wc -l)" = 100 ]'
holds "every demo in one call" status 0 sagitta draw "$demos"/*.sag "$demos"/shared/*.sag -o demos/ --apart --contact demos.html --manifest demos.json
holds "their contact sheet is valid" valid demos.html
holds "nothing left behind" eval '[ -z "$(find . -name ".sagitta-*")" ]'

echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
