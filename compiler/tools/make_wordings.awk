# Writes C that holds wordings as const tables, so that no compile reads them. In: files of lines KEY = text, named as the
# wording is (german.txt); -v keys: the list of keys, compiler/wordings/keys.def. Out: on standard output. Fails on a key that
# is unknown, missing or told twice, on a text that is no sentence of its own line, and on holes other than those of the first file.
function fail(text) { print FILENAME ":" FNR ": " text > "/dev/stderr"; bad = 1 }
function holes(text,   list, n, i, name, all) {
    n = split(text, list, "{")
    all = " "
    for (i = 2; i <= n; i++) {
        name = list[i]
        sub(/}.*/, "", name)
        if (index(all, " " name " ") == 0) all = all name " "
    }
    return all
}
function same(a, b,   list, n, i) {
    if (length(a) != length(b)) return 0
    n = split(a, list, " ")
    for (i = 1; i <= n; i++) if (index(b, " " list[i] " ") == 0) return 0
    return 1
}
function finish(   k) {
    if (wording == "") return
    for (k = 1; k <= nkeys; k++) if (!(key[k] in told)) { print file ": has no " key[k] > "/dev/stderr"; bad = 1 }
    print "} };"
    delete told
}
BEGIN {
    while ((getline line < keys) > 0)
        if (match(line, /^TEXT\([a-z0-9_]+\)/)) { key[++nkeys] = substr(line, 6, RLENGTH - 6); known[key[nkeys]] = 1 }
    if (nkeys < 10) { print "make_wordings: no keys in " keys > "/dev/stderr"; bad = 1 }
    print "#include \"wordings/wordings.h\"\n#define T(text) { text, (uint32_t)sizeof(text) - 1 }"
}
FNR == 1 {
    finish()
    file = FILENAME
    wording = FILENAME
    sub(/.*\//, "", wording)
    sub(/\.txt$/, "", wording)
    print "const SgWording sg_wording_" wording " = { \"" wording "\", {"
    if (first == "") first = wording
}
/^[ \t]*(#|$)/ { next }
{
    at = index($0, " = ")
    name = substr($0, 1, at - 1)
    text = substr($0, at + 3)
    if (at < 2 || text == "") { fail("is no line KEY = text"); next }
    if (!(name in known)) { fail("no key is called " name); next }
    if (name in told) { fail(name " stands twice"); next }
    told[name] = 1
    if (wording == first) need[name] = holes(text)
    else if (!same(holes(text), need[name])) fail(name " has the holes" holes(text) "and needs" need[name])
    gsub(/\\/, "\\\\", text)
    gsub(/"/, "\\\"", text)
    print "[SG_TEXT_" name "] = T(\"" text "\"),"
}
END { finish(); exit bad }
