#!/bin/bash
# office.sh BINARY PIXELS SCRIPT...: every figure as an SVG in a text document, opened by an office program without a screen and
# printed to PDF: drawn whole, in its place and at its size. Pictures to look at stay in build/test/office/.
# Last line: "N passed, N failed".
set -u
binary=$(realpath "$1") pixels=$(realpath "$2")
shift 2
out=build/test/office
rm -rf $out
mkdir -p $out
scripts=()
for script in "$@"; do scripts+=("$(realpath "$script")"); done
profile="file://$PWD/build/office"
cd $out || exit 1
passed=0 failed=0
count() { if [ "$1" = 0 ]; then passed=$((passed + 1)); else failed=$((failed + 1)); echo "FAILED $2"; fi; }
holds() { local what=$1; shift; "$@" > holds.log 2>&1; count $? "$what"; }

# ---- a text document for each: A2 lying, so that all of them have room, the figure an inch from its corner and one from the top ----
"$binary" draw "${scripts[@]}" -o figures/ --apart --as svg,png --still 2> draw.log
count $? "the demos are drawn"
"$binary" draw "${scripts[0]}" -o steps/ 2>> draw.log                        # one with its script and style
mkdir documents
for svg in figures/*/*.svg; do
    name=$(basename "$(dirname "$svg")").$(basename "$svg" .svg)
    ln "$svg" "documents/$name.svg"
    ln "${svg%.svg}.png" "documents/$name.png"
done
first=$(ls steps/*.svg | head -n 1)
cp "$first" documents/stepping.svg
cp "documents/$(basename "${scripts[0]}" .sag).$(basename "$first" .svg).png" documents/stepping.png
# Copies that are damaged must be seen: the last ray gone, and a hundredth less wide.
sed 's/<path[^>]* stroke="#e45753"[^>]*>//' documents/shaving_mirror.shaving_mirror.svg > documents/damaged.svg
cp documents/shaving_mirror.shaving_mirror.png documents/damaged.png
sed -E 's/(<svg[^>]* width=")[^"]*mm/\1168.4mm/' documents/shaving_mirror.shaving_mirror.svg > documents/narrow.svg
cp documents/shaving_mirror.shaving_mirror.png documents/narrow.png
cat > documents.mjs <<'JS'
import { readFileSync, writeFileSync, readdirSync } from 'node:fs'
const spaces = { office: 'office', style: 'style', text: 'text', draw: 'drawing', fo: 'xsl-fo-compatible', svg: 'svg-compatible' }
const names = Object.entries(spaces).map(([k, v]) => `xmlns:${k}="urn:oasis:names:tc:opendocument:xmlns:${v}:1.0"`).join(' ')
for (const file of readdirSync('documents').filter(f => f.endsWith('.svg'))) {
    const svg = readFileSync('documents/' + file, 'utf8'), [, w, h] = svg.match(/<svg[^>]*? width="([\d.]+)mm" height="([\d.]+)mm"/)
    writeFileSync('documents/' + file.replace(/svg$/, 'fodt'), `<?xml version="1.0" encoding="UTF-8"?>
<office:document ${names} office:version="1.3" office:mimetype="application/vnd.oasis.opendocument.text">
<office:automatic-styles>
<style:page-layout style:name="paper"><style:page-layout-properties fo:page-width="594mm" fo:page-height="420mm" style:print-orientation="landscape" fo:margin="10mm"/></style:page-layout>
<style:style style:name="picture" style:family="graphic"><style:graphic-properties style:horizontal-pos="from-left" style:horizontal-rel="page" style:vertical-pos="from-top" style:vertical-rel="page" fo:border="none" fo:padding="0mm"/></style:style>
</office:automatic-styles>
<office:master-styles><style:master-page style:name="Standard" style:page-layout-name="paper"/></office:master-styles>
<office:body><office:text><text:p><draw:frame draw:style-name="picture" draw:name="figure" text:anchor-type="paragraph" svg:x="25.4mm" svg:y="25.4mm" svg:width="${w}mm" svg:height="${h}mm"><draw:image draw:mime-type="image/svg+xml"><office:binary-data>${Buffer.from(svg).toString('base64')}</office:binary-data></draw:image></draw:frame></text:p></office:text></office:body>
</office:document>
`)
}
JS
node documents.mjs
office() { soffice --headless "-env:UserInstallation=$profile" "$@" >> office.log 2>&1; }
office --convert-to pdf --outdir documents documents/*.fodt

# ---- beside our own picture, at 150 pixels an inch: means over 4 by 4 pixels ----
apart() { # name: how far apart the two pictures are, of 255
    local w h
    read -r w h < <(file -b "documents/$1.png" | sed -E 's/.* ([0-9]+) x ([0-9]+),.*/\1 \2/')
    pdftoppm -r 150 -png -singlefile -x 150 -y 150 -W "$w" -H "$h" "documents/$1.pdf" "documents/$1.office" &&
        "$pixels" "documents/$1.png" "documents/$1.office.png" 0 0 0 0 $((w - 1)) $((h - 1)) | cut -d ' ' -f 1
}
worst=0
for png in documents/*.png; do
    name=$(basename "$png" .png)
    d=$(apart "$name")
    case $name in
    damaged|narrow) holds "$name is seen" awk -v d="$d" 'BEGIN { exit !(d > 90) }' ;;
    *)
        holds "$name: a document of one page" [ "$(pdfinfo "documents/$name.pdf" | awk '/^Pages/ { print $2 }')" = 1 ]
        holds "$name is drawn as we draw it, to 90 of 255 ($d)" awk -v d="$d" 'BEGIN { exit !(d != "" && d <= 90) }'
        worst=$(awk -v a="$worst" -v b="$d" 'BEGIN { print (a > b ? a : b) }') ;;
    esac
done
echo "the greatest difference is $worst of 255"

# ---- the size at which the program itself takes a figure in ----
office --convert-to fodg --outdir taken documents/shaving_mirror.shaving_mirror.svg
size() { grep -oE "$2=\"[0-9.]+(cm|mm)" "$1" | head -n 1 | sed -E 's/.*"//; s/([0-9.]+)cm/\1 10/; s/([0-9.]+)mm/\1 1/' | awk '{ print $1 * $2 }'; }
holds "a figure taken in keeps its size" eval 'awk -v a="$(size taken/shaving_mirror.shaving_mirror.fodg "draw:layer=\"layout\" svg:width")" -v b="$(size documents/shaving_mirror.shaving_mirror.svg " width")" "BEGIN { d = a - b; exit !(a > 0 && d * d <= 0.02 * 0.02) }"'
echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
