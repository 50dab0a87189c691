# Reports long functions and files. A function begins at a line in column 1 that ends in ")" with "{" alone below it.
FNR == 1 { if (file != "") report(); file = FILENAME; lines = 0; name = "" }
{ lines++; total++ }
/^{$/ { start = FNR; name = before }
/^}/ && name != "" {
    length_ = FNR - start + 1
    functions++
    if (length_ > 40) printf "%s:%d: %d lines: %s\n", FILENAME, start, length_, name
    if (length_ > 60) bad = 1
    name = ""
}
{ before = $0 }
function report() { if (lines > 800) { printf "%s: %d lines\n", file, lines; bad = 1 } }
END { report(); printf "%d lines, %d functions\n", total, functions; exit bad }
