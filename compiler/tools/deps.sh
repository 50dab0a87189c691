#!/bin/sh
# Sees to what a build (`deps.sh build`), the manual (`manual`), the tests (`test`), the measurements (`bench`), the build for another processor (`cross`), the comparison of renderers (`renderers`) or the checks of documents of other programs (`odf`, `office`, `latex`) need from the system.
#   in   a list of what shows that a package is there: a command, or a file.   out  the missing packages, installed by apt-get.
# When nothing is missing it does nothing and needs no network. Never touches a package that is there.
set -eu

# package=what shows it: a bare word is a command, a path a file.
build="flex=flex bison=bison pkg-config=pkg-config binutils=objdump
  libcairo2-dev=/usr/include/cairo/cairo.h libpng-dev=/usr/include/png.h libminizip-dev=/usr/include/minizip/zip.h zlib1g-dev=/usr/include/zlib.h libfreetype-dev=/usr/include/freetype2/ft2build.h fonts-liberation2=/usr/share/fonts/truetype/liberation2/LiberationSans-Regular.ttf"
manual="nodejs=node cmark-gfm=cmark-gfm"
tests="$manual mandoc=mandoc groff-base=groff clang=clang libcriterion-dev=/usr/include/criterion/criterion.h libxml2-dev=/usr/include/libxml2/libxml/parser.h
  libxml2-utils=xmllint w3c-sgml-lib=/usr/share/xml/w3c-sgml-lib/schema/dtd/REC-SVG11-20110816/svg11.dtd
  mupdf-tools=mutool qpdf=qpdf librsvg2-bin=rsvg-convert poppler-utils=pdftotext locales=/usr/share/i18n/locales/de_DE default-jre-headless=java chromium=chromium firefox-esr=firefox-esr npm=npm unzip=unzip file=file ninja-build=ninja"
renderers="libcairo2-dev=/usr/include/cairo/cairo.h librsvg2-bin=rsvg-convert chromium=chromium firefox-esr=firefox-esr nodejs=node npm=npm"
odf="$build unzip=unzip jing=jing"
office="$build unzip=unzip poppler-utils=pdfinfo nodejs=node file=file libreoffice-impress=/usr/lib/libreoffice/program/simpress libreoffice-writer=/usr/lib/libreoffice/program/swriter"
latex="$build qpdf=qpdf mupdf-tools=mutool poppler-utils=pdffonts texlive-latex-base=pdflatex"
cross="$build gcc-aarch64-linux-gnu=aarch64-linux-gnu-gcc qemu-user-static=qemu-aarch64-static"
bench="valgrind=valgrind"
case "${1:-}" in
    build) wanted=$build ;;
    manual) wanted="$build $manual" ;;
    test) wanted="$build $tests" ;;
    bench) wanted="$build $bench" ;;
    cross) wanted=$cross ;;
    renderers) wanted="$build $renderers" ;;
    odf) wanted=$odf ;;
    office) wanted=$office ;;
    latex) wanted=$latex ;;
    *) echo "usage: deps.sh build|manual|test|bench|cross|renderers|odf|office|latex" >&2; exit 2 ;;
esac

there() {
    case $1 in
        /*) [ -e "$1" ] ;;
        *) command -v "$1" >/dev/null 2>&1 ;;
    esac
}
missing=
for pair in $wanted; do
    there "${pair#*=}" || missing="$missing ${pair%%=*}"
done
[ -n "$missing" ] || exit 0

echo "needed and not there:$missing"
command -v apt-get >/dev/null 2>&1 || { echo "no apt-get here; install these or their like by hand" >&2; exit 1; }
root=
if [ "$(id -u)" != 0 ]; then
    command -v sudo >/dev/null 2>&1 || { echo "as root: apt-get install$missing" >&2; exit 1; }
    root=sudo
fi
echo "installing them: $root apt-get install$missing"
$root apt-get update -q
$root env DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends $missing
for pair in $wanted; do
    there "${pair#*=}" || { echo "still missing after installing ${pair%%=*}: ${pair#*=}" >&2; exit 1; }
done
