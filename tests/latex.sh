#!/bin/bash
# latex.sh BINARY: a LaTeX document made as the manual says, with its own words and lines: a page for each page of a figure's PDF, and
# one with the finished figure. The document is then asked for sizes, fonts and steps. Last line: "N passed, N failed".
set -u
binary=$(realpath "$1")
manual=$(realpath runtime/manual)
out=build/test/latex
rm -rf $out
mkdir -p $out/bin
cd $out || exit 1
ln -s "$binary" bin/sagitta
PATH=$PWD/bin:$PATH
passed=0 failed=0
holds() { # what command...
    local what=$1
    shift
    if "$@" > holds.log 2>&1; then passed=$((passed + 1)); else failed=$((failed + 1)); echo "FAILED $what"; head -n 5 holds.log; fi
}
near() { awk -v a="$1" -v b="$2" -v within="$3" 'BEGIN { d = a - b; exit !(a != "" && b != "" && (d < 0 ? -d : d) <= within) }'; }
section() { awk -v head="## $1" '/^## / { on = $0 == head } on' "$manual/12-elsewhere.md"; }
fence() { awk -v fence="\`\`\`$1" '$0 == "```" { on = 0 } on; $0 == fence { on = 1 }'; }
pages() { pdfinfo "$1" | awk '/^Pages/ { print $2 }'; }

# ---- what the manual says, done ----
fence 'sag shaving' < "$manual/01-first.md" > shaving.sag
section 'In a LaTeX document' | fence shell > draw.sh
section 'In a LaTeX document' | fence latex > lines.tex
holds "the manual has a script, commands and lines" [ -s shaving.sag -a -s draw.sh -a -s lines.tex ]
holds "its commands draw" sh -eu draw.sh
steps=$(pages shaving.pdf)
tex() { # name: a document of the lines on standard input, a page a line
    { printf '\\documentclass[a4paper,landscape]{article}\n\\usepackage[a4paper,landscape,margin=15mm]{geometry}\n\\usepackage{graphicx}\n\\pagestyle{empty}\n\\setlength{\\parindent}{0pt}\n\\begin{document}\n'
      sed 's/$/\n\\newpage/'
      printf '\\end{document}\n'; } > "$1.tex"
    pdflatex -interaction=nonstopmode -halt-on-error "$1.tex" > "$1.out"
}
holds "the manual's lines are typeset" tex manual < lines.tex
for k in $(seq "$steps"); do printf '\\includegraphics[page=%d]{shaving.pdf}\n' "$k"; done > every.lines
echo '\includegraphics{shaving_final.pdf}' >> every.lines
holds "every page is typeset" tex every < every.lines
holds "LaTeX has nothing to say of them" eval '! grep -nE "Warning|Overfull|Underfull .hbox|pdfTeX warning" every.log'

# ---- sizes, fonts, steps ----
holds "a page for each" [ "$(pages every.pdf)" = $((steps + 1)) ]
holds "the paper stays A4" eval 'pdfinfo every.pdf | grep -q "^Page size: *841.89 x 595.27[0-9]* pts (A4)"'
holds "it is sound" qpdf --check every.pdf
holds "our faces are inside, all of them" eval 'pdffonts every.pdf | awk "NR > 2 { n++; ours += /LiberationSans/; if (\$(NF - 4) != \"yes\" || \$(NF - 2) != \"yes\") bad = 1 } END { exit bad || !ours || n != ours }"'
# Where two words of the figure stand apart, in points: the same on the page of the figure alone and in the document.
apart() { pdftotext -f "$2" -l "$2" -bbox "$1" - | awk '/>candle</ { split($0, a, "\""); x = a[2] } />principal</ { split($0, a, "\""); print a[2] - x; exit }'; }
for k in $(seq "$steps"); do
    holds "page $k has its true size" near "$(apart every.pdf "$k")" "$(apart shaving.pdf "$k")" 0.02
    holds "page $k has the words of its step, and of no other" diff <(pdftotext -f "$k" -l "$k" -raw shaving.pdf -) <(pdftotext -f "$k" -l "$k" -raw every.pdf -)
done
holds "page 3 is the figure after its second step, as the manual says" eval 'pdftotext -f 1 -l 1 manual.pdf - | grep -qF "$(awk "/ step \"/ && ++n == 2 { split(\$0, q, \"\\\"\"); print q[2] }" shaving.sag)"'
holds "the finished figure has no caption" eval '! pdftotext -f 2 -l 2 manual.pdf - | grep -q "[a-z]\\.\$"'
holds "a figure made smaller is seen" eval 'sed "s/page=3/page=3,width=100mm/" lines.tex | tex smaller && ! near "$(apart smaller.pdf 1)" "$(apart shaving.pdf 3)" 0.02'
# What another program finds to draw on a page, and how wide its strokes are, in points.
drawn() { mutool trace "$1" "$2" | awk '/<(stroke_path|fill_path|fill_text)/ { n = split($0, part, "\""); w = a = 0
    for (i = 1; i < n; i++) { if (part[i] ~ / linewidth=$/) w = part[i + 1]; if (part[i] ~ / transform=$/) { split(part[i + 1], m, " "); a = m[1] } }
    printf "%s %.2f\n", $1, w * a }'; }
for k in $(seq "$steps"); do holds "page $k has every stroke" eval '[ "$(drawn shaving.pdf $k | wc -l)" -gt 5 ] && diff <(drawn shaving.pdf $k) <(drawn every.pdf $k)'; done
holds "the last page has every stroke of the finished figure" diff <(drawn shaving_final.pdf 1) <(drawn every.pdf $((steps + 1)))
holds "and more than the page before it" eval '[ "$(drawn every.pdf $((steps + 1)) | wc -l)" -gt "$(drawn every.pdf 3 | wc -l)" ]'
echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
