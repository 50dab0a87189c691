#!/bin/bash
# demo.sh BINARY FOLDER SCRIPT...: draws every figure of the scripts into FOLDER/SCRIPT/, with the numbers behind them, and
# writes FOLDER/index.html, which shows them all. Says where to look.
set -eu
binary=$1 folder=$2
shift 2
[ $# -gt 0 ] || { echo "no script to draw" >&2; exit 1; }
rm -rf "$folder"
mkdir -p "$folder"
page=$folder/index.html
cat > "$page" <<'HTML'
<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<title>Sagitta: figures from the harbour museum</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<style>
body { font: 16px/1.5 sans-serif; color: #091a20; background: #fff; max-width: 70rem; margin: 2rem auto; padding: 0 1rem }
ul { list-style: none; padding: 0; display: grid; grid-template-columns: repeat(auto-fill, minmax(20rem, 1fr)); gap: 2rem }
img { display: block; width: 100%; height: 12rem; object-fit: contain; border: 1px solid #c8d0d4; background: #fff; box-sizing: border-box }
a { color: #0353c4 }
h2 { font-size: 1rem; margin: .5rem 0 0 }
p { margin: 0 }
</style>
</head>
<body>
<h1>Figures from the harbour museum</h1>
<p>Open a figure and step through it: right and left arrow, space, Home and End, or a click.</p>
<ul>
HTML
figures=0
for script in "$@"; do
    name=$(basename "$script" .sag)
    "$binary" draw "$script" -o "$folder/$name/"
    "$binary" draw "$script" -o "$folder/$name/slides.html"
    "$binary" draw "$script" -o "$folder/$name/slides.odp"
    "$binary" draw "$script" -o "$folder/$name/notes.pdf" --notes
    "$binary" solve "$script" > "$folder/$name/numbers.txt"
    cp "$script" "$folder/$name.sag.txt"
    for svg in "$folder/$name"/*.svg; do
        file=$name/$(basename "$svg")
        title=$(sed -n 's/.*<title[^>]*>\([^<]*\)<\/title>.*/\1/p;T;q' "$svg")
        title=${title:-$file}
        printf '<li><a href="%s"><img src="%s" alt="%s"></a>\n<h2>%s</h2>\n' "$file" "$file" "${title//\"/&quot;}" "$title" >> "$page"
        printf '<p><a href="%s.sag.txt">script</a>, <a href="%s/numbers.txt">numbers</a>, <a href="%s/slides.html">slides</a>, <a href="%s/slides.odp">slides to edit</a>, <a href="%s/notes.pdf">notes</a></p></li>\n' "$name" "$name" "$name" "$name" "$name" >> "$page"
        figures=$((figures + 1))
    done
done
printf '</ul>\n</body>\n</html>\n' >> "$page"
echo "$figures figures: open $page"
