/* Files that use other files, over a reader that holds them in memory.
   in: paths and texts. out: values asked for, messages. never: touches a disk. */
#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "sagitta.h"

typedef struct { const char *path, *text; size_t length; int same_as; } Held;      /* same_as: number of another that is this file too, -1 none */
typedef struct { const Held *held; size_t n; int reads; } Shelf;

static SgRead from_shelf(void *with, const char *path, SgFile *file)
{
    Shelf *s = with;
    for (size_t i = 0; i < s->n; i++) {
        if (strcmp(s->held[i].path, path)) continue;
        if (!s->held[i].text) return SG_READ_FORBIDDEN;
        s->reads++;
        *file = (SgFile){ s->held[i].text, s->held[i].length ? s->held[i].length : strlen(s->held[i].text), 7, (uint64_t)(s->held[i].same_as < 0 ? (int)i : s->held[i].same_as) + 1 };
        return SG_READ_DONE;
    }
    return SG_READ_ABSENT;
}

/* What `ask` or `check` says of a script: the answer, or else the messages; to be freed. */
static char *told(Shelf *shelf, const char *place, const char *script, const char *figure, const char *expression)
{
    static const SgFile self = { NULL, 0, 7, 1000 };
    SgJob job = { .kind = expression ? SG_JOB_ASK : SG_JOB_CHECK, .path = "main.sag", .script = script, .script_length = strlen(script), .figure = figure,
                  .expression = expression, .read = from_shelf, .read_with = shelf, .root = "lib:", .place = place, .self = &self };
    SgResult r;
    SgStatus status = sg_compile(&job, &r);
    char *text = malloc(r.messages_length + 1 + (r.nproducts ? r.product[0].length : 0));
    cr_assert_not_null(text);
    size_t n = r.messages_length;
    memcpy(text, r.messages, n);
    if (status == SG_DONE && r.nproducts) {
        memcpy(text + n, r.product[0].bytes, r.product[0].length);
        n += r.product[0].length;
    }
    text[n] = 0;
    sg_result_free(&r);
    return text;
}

static void expect_told(Shelf *shelf, const char *place, const char *script, const char *figure, const char *expression, const char *want)
{
    char *is = told(shelf, place, script, figure, expression);
    cr_expect(*want ? strstr(is, want) != NULL : !*is, "%s\nasked %s: it said\n%s\nwanted %s", script, expression ? expression : "nothing", is, want);
    free(is);
}

static const Held LAMPS[] = {
    { "main.sag", "", 0, 999 },                                   /* the script itself */
    { "parts/lamps.sag", "use \"numbers.sag\"\nlet f = focal_length\nlet g = 1 cm\nmodel by_rule\nscale 1:2\n"
      "figure room(u = 12 cm) \"Lamp, {f}\" {\n mirror L concave focal f at 20 cm\n object lamp height 0.5 cm at u before L\n ray a from lamp.tip parallel\n ray b from lamp.tip toward L.vertex\n image i of lamp by L\n}\n", 0, -1 },
    { "parts/numbers.sag", "let focal_length = 4 cm\nlet hall = 9 cm\n", 0, -1 },
    { "other.sag", "let f = 5 cm\nlet only = 3 cm\nfigure room { }\n", 0, -1 },
    { "again.sag", "", 0, 1 },
    { "wrong.sag", "let a = 1 cm\nlet b = nobody\n", 0, -1 },
    { "open.sag", "figure x {\n", 0, -1 },
    { "link.sag", NULL, 0, -1 },
    { "one.sag", "use \"two.sag\"\nlet a = 1\n", 0, -1 },
    { "two.sag", "use \"one.sag\"\nlet b = 1\n", 0, -1 },
    { "back.sag", "use \"main.sag\"\nlet b = 1\n", 0, -1 },
    { "maker.sag", "figure made {\n mirror M concave focal 4 cm at 16 cm\n object o height 1 cm at 12 cm before M\n construct i of o by M\n}\n", 0, -1 },
};
enum { NLAMPS = sizeof LAMPS / sizeof *LAMPS };
#define SHELF (&(Shelf){ LAMPS, NLAMPS, 0 })

Test(use, values_figures_and_scopes)
{
    static const struct { const char *script, *figure, *expression, *want; } cases[] = {
        { "use \"parts/lamps.sag\"\nfigure a { let x = f }\n", "a", "x", "4 cm\n" },
        { "use \"parts/../parts/./lamps.sag\"\nuse \"parts/lamps.sag\"\nfigure a { let x = f }\n", "a", "x", "4 cm\n" },
        { "use \"parts/lamps.sag\"\nlet f = 6 cm\nfigure a { let x = f }\n", "a", "x", "6 cm\n" },                                   /* its own name wins, */
        { "use \"parts/lamps.sag\"\nlet f = 6 cm\nfigure b = room(u = 8 cm)\n", "b", "L.focal", "4 cm\n" },                            /* and not inside the other file */
        { "use \"parts/lamps.sag\"\nfigure a { let x = hall }\n", "a", "x", "nothing here is called `hall`" },                        /* one file further is not seen */
        { "use \"parts/lamps.sag\"\nuse \"other.sag\"\nfigure a { let x = only }\n", "a", "x", "3 cm\n" },                            /* `f` is in both, and not used */
        { "use \"parts/lamps.sag\"\nuse \"other.sag\"\nfigure a { let x = f }\n", "a", "x", "`f` is declared in both lib:parts/lamps.sag and lib:other.sag" },
        { "use \"parts/lamps.sag\"\nuse \"other.sag\"\nfigure a = room\n", NULL, NULL, "`room` is declared in both lib:parts/lamps.sag and lib:other.sag" },
        { "use \"parts/lamps.sag\"\nlet f = 2 cm\nuse \"other.sag\"\nfigure a { let x = f }\n", "a", "x", "2 cm\n" },
        { "use \"parts/lamps.sag\"\nfigure b = room(u = 8 cm)\n", "b", "i.distance", "7.9" },          /* that file's model and scale count in its figure, */
        { "use \"parts/lamps.sag\"\nfigure b = room(u = 8 cm)\n", "b", "paper(L.focal)", "2 cm\n" },
        { "use \"parts/lamps.sag\"\nfigure a { let x = paper(f) }\n", "a", "x", "4 cm\n" },            /* and do not leak */
        { "use \"parts/lamps.sag\"\n", NULL, NULL, "" },                                               /* its figures are not drawn */
        { "use \"parts/lamps.sag\"\nfigure a { let x = f }\n", "room", "f", "no figure `room`" },
        { "use \"wrong.sag\"\nfigure a { let x = 1 }\n", NULL, NULL, "lib:wrong.sag:2:9: error: nothing at file level is called `nobody`" },
        { "use \"open.sag\"\n", NULL, NULL, "lib:open.sag:1:1: error: the block of this `figure" },
        { "use \"maker.sag\"\nfigure a = made\n", NULL, NULL, "has a `construct` and stands in lib:maker.sag" },
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) expect_told(SHELF, "main.sag", cases[i].script, cases[i].figure, cases[i].expression, cases[i].want);
}

Test(use, paths_that_are_refused)
{
    static const struct { const char *place, *script, *want; } cases[] = {
        { "main.sag", "use \"../other.sag\"\n", "`../other.sag` lies outside the folder of the main script" },
        { "main.sag", "use \"parts/../../parts/lamps.sag\"\n", "lies outside" },
        { "sub/main.sag", "use \"../other.sag\"\n", "" },                       /* --root one folder up */
        { "sub/main.sag", "use \"../../other.sag\"\n", "lies outside" },
        { "main.sag", "use \"/other.sag\"\n", "`use` takes a plain path in quotes" },
        { "main.sag", "use \"a//other.sag\"\n", "plain path" },
        { "main.sag", "use \"other.sag/\"\n", "plain path" },
        { "main.sag", "use \"\"\n", "plain path" },
        { "main.sag", "use\n", "plain path" },
        { "main.sag", "use \"..\"\n", "lies outside" },
        { "main.sag", "let n = 1\nuse \"o{n}.sag\"\n", "plain path" },
        { "main.sag", "use \"parts\\\\lamps.sag\"\n", "plain path" },
        { "main.sag", "figure a {\n use \"other.sag\"\n}\n", "cannot stand inside a figure" },
        { "main.sag", "use \"missing.sag\"\n", "there is no file `missing.sag`" },
        { "main.sag", "use \"link.sag\"\n", "`link.sag` is no regular file, or a link stands in its way" },
        { "main.sag", "use \"one.sag\"\n", "in a circle: lib:one.sag uses lib:two.sag uses lib:one.sag" },
        { "main.sag", "use \"back.sag\"\n", "in a circle: main.sag uses lib:back.sag uses main.sag" },
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        expect_told(SHELF, cases[i].place, cases[i].script, NULL, NULL, cases[i].want);
    }
    SgJob job = { .kind = SG_JOB_CHECK, .path = "main.sag", .script = "use \"other.sag\"\n", .script_length = 16 };
    SgResult r;
    cr_expect_eq(sg_compile(&job, &r), SG_SCRIPT_WRONG, "without a reader no file is used");
    cr_expect(strstr(r.messages, "can use no other files here"), "%s", r.messages);
    sg_result_free(&r);
}

/* n files, each using the next (in a chain) or all used by the script. */
static void many(int n, bool chain, const char *want)
{
    static char path[80][24], text[80][48];
    static Held held[80];
    char script[4000] = "";
    for (int i = 0; i < n; i++) {
        snprintf(path[i], sizeof path[i], "f%d.sag", i);
        snprintf(text[i], sizeof text[i], chain && i + 1 < n ? "use \"f%d.sag\"\n" : "let v%d = 1\n", chain && i + 1 < n ? i + 1 : i);
        held[i] = (Held){ path[i], text[i], 0, -1 };
        if (!chain || i == 0) snprintf(script + strlen(script), sizeof script - strlen(script), "use \"%s\"\n", path[i]);
    }
    expect_told(&(Shelf){ held, (size_t)n, 0 }, "main.sag", script, NULL, NULL, want);
}

Test(use, limits_at_and_just_past)
{
    many(63, false, "");                                    /* with the script itself 64 */
    many(64, false, "at most 64 files");
    many(16, true, "");
    many(17, true, "files use files at most 16 deep");
    size_t n = 8 * 1024 * 1024;
    char *large = malloc(n + 1);
    cr_assert_not_null(large);
    memset(large, ' ', n + 1);
    large[n] = '\n';
    Held held[5];
    static char path[5][24];
    for (int i = 0; i < 5; i++) {
        snprintf(path[i], sizeof path[i], "l%d.sag", i);
        held[i] = (Held){ path[i], large, n, -1 };
    }
    Shelf shelf = { held, 5, 0 };
    expect_told(&shelf, "main.sag", "use \"l0.sag\"\nuse \"l1.sag\"\nuse \"l2.sag\"\n", NULL, NULL, "");
    expect_told(&shelf, "main.sag", "use \"l0.sag\"\nuse \"l1.sag\"\nuse \"l2.sag\"\nuse \"l3.sag\"\n", NULL, NULL, "at most 32 MiB together");
    held[0].length = n + 1;
    expect_told(&shelf, "main.sag", "use \"l0.sag\"\n", NULL, NULL, "larger than 8 MiB");
    free(large);
}
