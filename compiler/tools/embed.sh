#!/bin/sh
# Writes C that holds each FILE as a const byte array, for a build without any tool but the shell, sed and od.
#   in   NAME=FILE or NAME=FILE+FILE: the files one after the other.   out  on standard output: sg_NAME[] and sg_NAME_bytes, as output/player.h declares them.
# Whole-line comments and indentation are left out, since these bytes stand in every stepped figure.
# Never passes a file that would end the CDATA section it is put into.
set -eu
export LC_ALL=C
strip() { sed -e 's/^[[:space:]]*//' -e '/^\/\//d' -e '/^\/\*.*\*\/$/d' -e '/^$/d' "$1"; }

printf '#include "output/player.h"\n'
for pair in "$@"; do
    name=${pair%%=*}
    files=$(printf '%s' "${pair#*=}" | tr + ' ')
    for file in $files; do
        [ -r "$file" ] || { echo "embed.sh: cannot read $file" >&2; exit 1; }
        if grep -q -e ']]>' -e '</s[ct]' "$file"; then
            echo "embed.sh: $file holds the signs that end a CDATA section, a script or a style sheet" >&2
            exit 1
        fi
    done
    printf '\nconst unsigned char sg_%s[] = {\n' "$name"
    for file in $files; do strip "$file"; done | od -An -v -tu1 | sed -e 's/\([0-9][0-9]*\)/\1,/g'
    printf '};\nconst uint32_t sg_%s_bytes = (uint32_t)sizeof sg_%s;\n' "$name" "$name"
done
