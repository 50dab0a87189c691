#!/bin/bash
# odp.sh MODE BINARY SCRIPT...: the demos as presentations. Last line: "N passed, N failed".
#   pack    the package: its type first, stored and without an extra field, so that `file` names it; whole; well-formed; the same
#           bytes again from another folder
#   schema  valid by the OpenDocument 1.3 schema, with jing. The schema is taken out of a Debian package, into build/odf/
#   office  opened by an office program, without a screen: a page a figure, a click a step and a question, still there after its
#           own saving. PDFs to look at stay in build/test/odp/
set -u
mode=$1 binary=$(realpath "$2")
shift 2
out=build/test/odp
rm -rf "$out"
mkdir -p "$out"
passed=0 failed=0
count() { if [ "$1" = 0 ]; then passed=$((passed + 1)); else failed=$((failed + 1)); echo "$2"; fi; }
holds() { local what=$1; shift; "$@" > "$out/holds.log" 2>&1; count $? "$what"; }

for script in "$@"; do
    name=$(basename "$script" .sag)
    "$binary" draw "$script" -o "$out/$name.odp"
    count $? "$script: no presentation"
done

pack() {
    for script in "$@"; do
        odp=$out/$(basename "$script" .sag).odp
        again=$(realpath "$script")
        holds "$odp is damaged" unzip -tq "$odp"
        holds "file does not know $odp" grep -q 'OpenDocument Presentation' <(file -b "$odp")
        # A zip's first entry: its way of packing at byte 8, the length of its extra field at 28, its name and bytes from 30 on.
        holds "$odp: the type is not first and plain" [ "$(head -c 85 "$odp" | tail -c 55)" = mimetypeapplication/vnd.oasis.opendocument.presentation ]
        holds "$odp: the type is packed, or has an extra field" [ "$(head -c 10 "$odp" | tail -c 2 | od -An -tx1)$(head -c 30 "$odp" | tail -c 2 | od -An -tx1)" = " 00 00 00 00" ]
        for part in META-INF/manifest.xml meta.xml styles.xml content.xml; do
            holds "$odp: $part is not well-formed" xmllint --noout <(unzip -p "$odp" "$part")
        done
        (cd / && "$binary" draw "$again" -o "$OLDPWD/$out/again.odp")
        holds "$odp: other bytes from another folder" cmp "$odp" "$out/again.odp"
    done
}

schema() {
    local folder=build/odf rnc
    if [ -z "$(find $folder -name 'OpenDocument-schema-v1.3.rnc' 2>/dev/null)" ]; then
        mkdir -p $folder
        (cd $folder && apt-get download -q emacs-common && dpkg-deb -x emacs-common_*.deb . && rm emacs-common_*.deb) || return 1
    fi
    rnc=$(realpath "$(find $folder -name 'OpenDocument-schema-v1.3.rnc' | head -n 1)")
    for script in "$@"; do
        name=$(basename "$script" .sag)
        mkdir "$out/$name" && unzip -q "$out/$name.odp" -d "$out/$name"
    done
    # -i: the schema's own sorts of ids are not what jing holds them to.
    jing -i -c "$rnc" "$out"/*/content.xml "$out"/*/styles.xml "$out"/*/meta.xml > "$out/jing.log" 2> /dev/null
    count $? "$(head -n 20 "$out/jing.log")"
    sed 's/<draw:line /<draw:streak /' "$out/$name/content.xml" > "$out/broken.xml"
    holds "the schema takes anything" eval "! jing -i -c '$rnc' '$out/broken.xml'"
}

office() {
    local names=()
    for script in "$@"; do names+=("$out/$(basename "$script" .sag).odp"); done
    soffice --headless "-env:UserInstallation=file://$PWD/build/office" --convert-to pdf --outdir "$out" "${names[@]}" > "$out/office.log" 2>&1
    soffice --headless "-env:UserInstallation=file://$PWD/build/office" --convert-to fodp --outdir "$out" "${names[@]}" >> "$out/office.log" 2>&1
    for odp in "${names[@]}"; do
        unzip -p "$odp" content.xml > "$out/content.xml"
        slides=$(grep -c '<draw:page ' "$out/content.xml")
        clicks=$(grep -o 'node-type="on-click"' "$out/content.xml" | wc -l)
        wipes=$(grep -o '<anim:transitionFilter' "$out/content.xml" | wc -l)
        holds "$odp: not $slides pages" [ "$(pdfinfo "${odp%.odp}.pdf" | awk '/^Pages/ { print $2 }')" = "$slides" ]
        holds "$odp: not $clicks clicks" [ "$(grep -o 'node-type="on-click"' "${odp%.odp}.fodp" | wc -l)" = "$clicks" ]
        holds "$odp: not $wipes wipes" [ "$(grep -o '<anim:transitionFilter' "${odp%.odp}.fodp" | wc -l)" = "$wipes" ]
    done
}

[ $# -gt 0 ] || { echo "no script"; failed=1; }
"$mode" "$@" || { failed=$((failed + 1)); echo "$mode stopped"; }
echo "$passed passed, $failed failed"
[ "$failed" = 0 ] && [ "$passed" -gt 0 ]
