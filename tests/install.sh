#!/bin/bash
# install.sh: the manual is valid, and what `make install` puts into a folder works from there alone: the programs, the man pages,
# and the library by its header and pkg-config. Last line: "N passed, N failed".
set -u
make=${MAKE:-make}
jar=tests/browser/node_modules/vnu-jar/build/dist/vnu.jar
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
passed=0 failed=0
holds() { # name command...
    local name=$1
    shift
    if "$@" > "$work/said.txt" 2>&1; then passed=$((passed + 1)); return; fi
    failed=$((failed + 1))
    echo "FAILED $name"
    head -c 1500 "$work/said.txt"
}
silent() { local said; said=$("$@" 2>&1) || { echo "$said"; return 1; }; [ -z "$said" ] || { echo "$said"; return 1; }; }
installs() { "$make" --no-print-directory -s -j2 "$@"; }

# ---- into a prefix of its own, with a space in the folder before it ----
stage="$work/a stage"
to="$stage/opt/light"
holds "install" installs install "DESTDIR=$work/stage" PREFIX=/opt/light
mv "$work/stage" "$stage"
holds "every file, and no other" diff <(cd "$to" && find . -type f | sort) <(printf './%s\n' bin/sagitta include/sagitta.h lib/libsagitta.a libexec/sagitta/sagitta-print \
    lib/pkgconfig/sagitta.pc share/doc/sagitta/{LICENSE,example.c,face-licence.txt,manual.html} share/man/man1/sagitta.1 share/man/man5/sagitta.5 | sort)
holds "no path of the build or of the stage in them" eval '! grep -rlF -e "$PWD" -e "$work" "$to"'
for program in bin/sagitta libexec/sagitta/sagitta-print; do
    holds "$program needs no shared library" eval 'file=$(ldd "$to/$program" 2>&1); [[ $file == *"not a dynamic executable"* || $file == *"statically linked"* ]] || { echo "$file"; false; }'
done

# ---- the manual and the man pages ----
holds "the manual is valid HTML" eval '[ -s "$to/share/doc/sagitta/manual.html" ] && [ -r "$jar" ] && java -jar "$jar" --format gnu "$to/share/doc/sagitta/manual.html"'
holds "it needs no other file" eval '! grep -nE "(src|href)=\"[^#d]" "$to/share/doc/sagitta/manual.html"'
shows_every_kind() {
    local kind kinds missing=
    kinds=$("$to/bin/sagitta" words --json | node -e 'console.log(JSON.parse(require("fs").readFileSync(0, "utf8")).kinds.map(k => k.word).join(" "))')
    [ -n "$kinds" ] || { echo "no kinds are told"; return 1; }
    for kind in $kinds; do grep -q "id=\"kind-$kind\"" "$to/share/doc/sagitta/manual.html" || missing="$missing $kind"; done
    [ -z "$missing" ] || { echo "not shown:$missing"; return 1; }
}
holds "it shows every kind" shows_every_kind
for page in man1/sagitta.1 man5/sagitta.5; do
    holds "$page by mandoc" silent mandoc -Tlint -Wwarning "$to/share/man/$page"
    holds "$page by groff" silent groff -ww -mdoc -Tutf8 -z "$to/share/man/$page"
done

# ---- the program, from an empty folder ----
mkdir "$work/empty"
cd "$work/empty" || exit 1
printf 'figure lamp {\n  lens L converging focal 3 cm at 8 cm\n  object lamp height 1 cm at 5 cm before L\n  construct picture of lamp by L\n}\n' > lamp.sag
holds "draws" env -i PATH=/nowhere "$to/bin/sagitta" draw lamp.sag -o lamp.svg
holds "prints" env -i PATH=/nowhere "$to/bin/sagitta" draw lamp.sag -o lamp.pdf

# ---- the library ----
library() { PKG_CONFIG_PATH="$stage/opt/light/lib/pkgconfig" pkg-config --define-variable=prefix="$to" "$@" sagitta; }
holds "pkg-config knows its version" eval '[ "sagitta $(library --modversion)" = "$("$to/bin/sagitta" --version)" ]'
mv "$stage" "$work/stage"                      # flags with spaces are more than shells bear
stage="$work/stage" to="$work/stage/opt/light"
for cc in gcc clang; do
    holds "the example with $cc" eval '$cc -std=c11 -Wall -Wextra -Wpedantic -Werror "$to/share/doc/sagitta/example.c" $(library --cflags --libs) -o example'
    holds "it draws the same figure" eval './example > drawn.svg && cmp drawn.svg lamp.svg'
done
holds "the header in C++" eval 'echo "#include <sagitta.h>" | gcc -xc++ -fsyntax-only -Wall -Wextra -Werror $(library --cflags) - 2>&1 || ! command -v g++'

cd - > /dev/null || exit 1
holds "uninstall" installs uninstall "DESTDIR=$work/stage" PREFIX=/opt/light
holds "leaves no file" eval '[ -z "$(find "$work/stage" -type f)" ]'

echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
