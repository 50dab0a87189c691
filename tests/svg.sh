#!/bin/bash
# svg.sh FOLDER: every SVG below it is well-formed, valid by the SVG 1.1 DTD (which knows no role, aria-, data-, lang and
# tabindex attributes: taken off first) and clean for the Nu validator. Last line: "N passed, N failed".
set -u
dtd=/usr/share/xml/w3c-sgml-lib/schema/dtd/REC-SVG11-20110816/svg11.dtd
jar=tests/browser/node_modules/vnu-jar/build/dist/vnu.jar
passed=0 failed=0
plain=$(mktemp)
trap 'rm -f "$plain"' EXIT
mapfile -t files < <(find "$1" -name '*.svg' | sort)
[ ${#files[@]} -gt 0 ] || { echo "no SVG in $1"; echo "0 passed, 1 failed"; exit 1; }
count() { if [ "$1" = 0 ]; then passed=$((passed + 1)); else failed=$((failed + 1)); echo "$2"; fi; }

for file in "${files[@]}"; do
    xmllint --noout "$file"
    count $? "$file is not well-formed"
    sed -E 's/ (role|aria-[a-z]+|data-[a-z-]+|lang|tabindex)="[^"]*"//g' "$file" > "$plain"
    xmllint --nonet --noout --dtdvalid "$dtd" "$plain"
    count $? "$file is not valid SVG 1.1"
done
if [ -r "$jar" ] && command -v java >/dev/null; then
    found=$(java -jar "$jar" --svg --format gnu "${files[@]}" 2>&1)
    status=$?
    [ -z "$found" ] || echo "$found" | head -n 40
    count $status "the Nu validator has complaints"
else
    count 1 "the Nu validator is not there ($jar, java)"
fi
mapfile -t pages < <(find "$1" -maxdepth 1 -name '*.html' | sort)
[ ${#pages[@]} -gt 0 ]
count $? "no page of slides in $1"
found=$(java -jar "$jar" --format gnu "${pages[@]}" 2>&1)
status=$?
[ -z "$found" ] || echo "$found" | head -n 40
count $status "the HTML checker has complaints about slides"
echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
