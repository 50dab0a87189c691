# Fails where a file includes a stage above its own. In: the list `order` (lowest first) and the files.
# The driver and the command line stand on top. An output reads pages, scenes, wordings and base only; numbers.* may read solved, answers.* sheets too.
BEGIN {
    n = split(order, stage, " ")
    for (i = 1; i <= n; i++) rank[stage[i]] = i
    rank["cli"] = n + 2
    if (n < 2) { print "layers: no order given"; bad = 1 }
}
FNR == 1 {
    parts = split(FILENAME, part, "/")
    own = parts > 2 ? part[parts - 1] : ""          # "": the driver and the public header
    mine = own == "" ? n + 1 : rank[own]
    name = part[parts]
    if (mine == "") { print FILENAME ": folder " own " has no place in the order"; bad = 1; mine = 0 }
    files++
}
/^[ \t]*#[ \t]*include[ \t]*"sagitta\.h"/ && own != "" && own != "cli" && FILENAME !~ /print\/cli\.c$/ { print FILENAME ":" FNR ": a stage may not include the public header"; bad = 1 }
/^[ \t]*#[ \t]*include[ \t]*"/ {
    split($0, quoted, "\"")
    if (split(quoted[2], path, "/") < 2) next       # made from the grammar, or the public header
    theirs = rank[path[1]]
    if (FILENAME ~ /print\/cli\.c$/) next           # stands among the command's own files
    ok = theirs != "" && theirs <= mine
    if (own == "output" && path[1] !~ /^(output|layout|scene|wordings|base)$/) ok = (name ~ /^(numbers|answers)\./ && path[1] == "solved") || (name ~ /^answers\./ && path[1] == "sheet")
    if (!ok) { print FILENAME ":" FNR ": " (own == "" ? "the driver" : own) " may not include " quoted[2]; bad = 1 }
    else if (path[1] == "cli" && own != "cli" && FILENAME !~ /print\/cli\.c$/) { print FILENAME ":" FNR ": only cli includes " quoted[2]; bad = 1 }
}
END { if (files < 20) { print "layers: only " files " files were given"; bad = 1 }; exit bad }
