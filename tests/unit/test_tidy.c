/* The one layout: what it looks like, and that it changes nothing a script says.
   in: every script of the project, scripts made up, and a table of layouts. out: a script that tidying harms is named.
   never: asks the stage itself whether two scripts are the same. */
#include "catalogue/catalogue.h"
#include "support/files.h"
#include "support/gen.h"
#include "tree/tree.h"
#include <criterion/criterion.h>
#include <setjmp.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- a script as a bag of what it says ---- */
typedef struct {
    char **word; size_t n, cap;            /* words, signs, numbers, texts: sorted */
    char **comment; size_t ncomments, comment_cap;      /* in their order */
    char **line; size_t nlines, line_cap;  /* of the tree: sorted; statements in their order stand before them */
    char *statements;
} Bag;

static void keep(char ***list, size_t *n, size_t *cap, const char *s, size_t length)
{
    if (*n == *cap) *list = realloc(*list, (*cap = *cap ? *cap * 2 : 64) * sizeof **list);
    char *copy = malloc(length + 1);
    memcpy(copy, s, length);
    copy[length] = 0;
    (*list)[(*n)++] = copy;
}

static int by_text(const void *a, const void *b) { return strcmp(*(char *const *)a, *(char *const *)b); }

/* Not inlined, so that the function that calls setjmp has nothing of its own for the jump to spoil. */
__attribute__((noinline))
static bool fill_bag(Bag *bag, const char *script, size_t length, SgArena *arena)
{
    SgCompile c = { .arena = arena };
    sg_names_init(&c.names, arena);
    SgSource source = sg_text_source(arena, SG_LIT("x.sag"), (SgStr){ script, (uint32_t)length });
    c.source = &source;
    c.nsources = 1;
    SgTokens raw = sg_tokens(&c, 0);
    for (uint32_t i = 1; i < raw.n; i++) {
        const SgToken *t = &raw.v[i];
        const char *s = source.bytes.s + t->at.start;
        size_t n = t->at.end - t->at.start;
        if (t->raw == SG_RAW_LINE_END || t->raw == SG_RAW_EOF || (n == 1 && *s == ';')) continue;
        if (t->raw == SG_RAW_COMMENT) {
            while (n && strchr(" \t\r", s[n - 1])) n--;
            keep(&bag->comment, &bag->ncomments, &bag->comment_cap, s, n);
            continue;
        }
        keep(&bag->word, &bag->n, &bag->cap, s, n);
        if (t->raw != SG_RAW_NUMBER) continue;
        char *number = bag->word[bag->n - 1], *to = number;      /* the digits and the unit, without what blanks are between */
        for (char *from = number; *from; from++) {
            if (strchr(" \t", *from)) continue;
            if (!strncmp(from, "\xC2\xA0", 2)) { from++; continue; }
            *to++ = *from;
        }
        *to = 0;
    }
    SgTagged tagged = sg_words(&c, &raw);
    SgNode *tree = sg_tree(&c, &tagged);
    SgBuf dump = { .arena = arena }, statements = { .arena = arena };
    sg_tree_dump(&c, tree, &dump);
    for (uint32_t i = 0; i < dump.n;) {
        uint32_t end = i;
        while (end < dump.n && dump.v[end] != '\n') end++;
        uint32_t first = i;
        while (first < end && dump.v[first] == ' ') first++;
        if (end - first > 11 && !memcmp(dump.v + first, "(statement ", 11)) sg_put(&statements, dump.v + i, end - i + 1);
        keep(&bag->line, &bag->nlines, &bag->line_cap, dump.v + i, end - i);
        i = end + 1;
    }
    sg_put_char(&statements, 0);
    bag->statements = strdup(statements.v);
    if (bag->n) qsort(bag->word, bag->n, sizeof *bag->word, by_text);
    qsort(bag->line, bag->nlines, sizeof *bag->line, by_text);
    return c.diags.n == 0;
}

static Bag bag_of(const char *script, size_t length, bool *good)
{
    Bag bag = { 0 };
    SgArena arena = { 0 };
    jmp_buf out;
    arena.out = &out;
    *good = false;
    if (setjmp(out) == 0) *good = fill_bag(&bag, script, length, &arena);
    sg_arena_free(&arena);
    return bag;
}

static void free_list(char **list, size_t n)
{
    for (size_t i = 0; i < n; i++) free(list[i]);
    free(list);
}

static void free_bag(Bag *bag)
{
    free_list(bag->word, bag->n);
    free_list(bag->comment, bag->ncomments);
    free_list(bag->line, bag->nlines);
    free(bag->statements);
}

static const char *list_fault(char **a, size_t na, char **b, size_t nb, const char *what)
{
    if (na != nb) return what;
    for (size_t i = 0; i < na; i++) if (strcmp(a[i], b[i])) return what;
    return NULL;
}

static const char *difference(const char *a, size_t na, const char *b, size_t nb)
{
    bool good_a, good_b;
    Bag x = bag_of(a, na, &good_a), y = bag_of(b, nb, &good_b);
    const char *fault = !good_a ? "the script itself has messages" : !good_b ? "it has messages"
        : list_fault(x.word, x.n, y.word, y.n, "its words differ");
    if (!fault) fault = list_fault(x.comment, x.ncomments, y.comment, y.ncomments, "its comments differ, or their order");
    if (!fault) fault = list_fault(x.line, x.nlines, y.line, y.nlines, "its tree differs");
    if (!fault && strcmp(x.statements, y.statements)) fault = "the order of its statements differs";
    free_bag(&x);
    free_bag(&y);
    return fault;
}

static SgStatus tidied(const char *script, size_t length, SgResult *r)
{
    return test_run(SG_JOB_TIDY, "x.sag", script, length, NULL, NULL, r);
}

/* Tidies a script: the same said, lines well formed, and a second time changes nothing. */
static void check_tidy(const char *name, const char *script, size_t length)
{
    SgResult r, again;
    SgStatus status = tidied(script, length, &r);
    cr_expect_eq(status, SG_DONE, "%s: status %d\n%.400s", name, (int)status, r.messages);
    if (status == SG_DONE) {
        const SgProduct *p = &r.product[0];
        const char *fault = difference(script, length, p->bytes, p->length);
        cr_expect_null(fault, "%s: %s\n%.*s", name, fault, (int)p->length, p->bytes);
        cr_expect(p->length == 0 || p->bytes[p->length - 1] == '\n', "%s: its last line has no end", name);
        for (size_t i = 0; i < p->length; i++) {
            bool blank = p->bytes[i] == ' ' || p->bytes[i] == '\r' || p->bytes[i] == '\t';
            cr_expect(!blank || p->bytes[i + 1] != '\n', "%s: a blank before a line end", name);
        }
        cr_expect_eq(tidied(p->bytes, p->length, &again), SG_DONE);
        cr_expect(again.nproducts == 1 && again.product[0].length == p->length && !memcmp(again.product[0].bytes, p->bytes, p->length),
                  "%s: twice is not once", name);
        sg_result_free(&again);
    }
    sg_result_free(&r);
}

Test(tidy, scripts_of_the_project_say_the_same)
{
    static const char *const folder[] = { "../scripts-demo", "values", "cli", "wrong" };
    unsigned tidy = 0, refused = 0;
    for (size_t k = 0; k < sizeof folder / sizeof *folder; k++) {
        size_t n;
        char **list = test_list(folder[k], ".sag", &n);
        cr_assert(list && n > 0, "%s has no scripts", folder[k]);
        for (size_t i = 0; i < n; i++) {
            char path[300];
            size_t length;
            SgResult r;
            bool good;
            snprintf(path, sizeof path, "%s/%s", folder[k], list[i]);
            char *script = test_read(path, &length);
            Bag bag = bag_of(script, length, &good);
            free_bag(&bag);
            if (good) {
                check_tidy(path, script, length);
                tidy++;
            } else {
                cr_expect(k == 3, "%s has a mistake", path);
                cr_expect_eq(tidied(script, length, &r), SG_SCRIPT_WRONG, "%s should be refused", path);
                cr_expect(r.nproducts == 0 && r.errors > 0, "%s: refused without a message, or written all the same", path);
                sg_result_free(&r);
                refused++;
            }
            free(script);
            free(list[i]);
        }
        free(list);
    }
    cr_expect(tidy >= 30 && refused >= 8, "only %u tidied, %u refused", tidy, refused);
}

Test(tidy, demos_are_tidy)
{
    size_t n;
    char **list = test_list("../scripts-demo", ".sag", &n);
    for (size_t i = 0; i < n; i++) {
        char path[300];
        size_t length;
        SgResult r;
        snprintf(path, sizeof path, "../scripts-demo/%s", list[i]);
        char *script = test_read(path, &length);
        cr_expect_eq(tidied(script, length, &r), SG_DONE);
        cr_expect(r.nproducts && r.product[0].length == length && !memcmp(r.product[0].bytes, script, length), "%s: run sagitta tidy on it", list[i]);
        sg_result_free(&r);
        free(script);
        free(list[i]);
    }
    free(list);
}

/* One content in many layouts has one tidy form: that is what "the one layout" means. */
Test(tidy, made_up_scripts_have_one_form)
{
    enum { SCRIPTS = 400, LAYOUTS = 4 };
    size_t longest = 0;
    for (uint64_t content = 1; content <= SCRIPTS; content++) {
        Gen neat;
        SgResult first;
        char name[60];
        gen_begin(&neat, content, 0);
        gen_script(&neat);
        snprintf(name, sizeof name, "made-up script %u", (unsigned)content);
        check_tidy(name, neat.out.v, neat.out.n);
        cr_assert_eq(tidied(neat.out.v, neat.out.n, &first), SG_DONE, "%s\n%s%s", name, first.messages, neat.out.v);
        if (first.product[0].length > longest) longest = first.product[0].length;
        for (uint64_t layout = 1; layout < LAYOUTS; layout++) {
            Gen messy;
            SgResult other;
            gen_begin(&messy, content, content * 31 + layout);
            gen_script(&messy);
            const char *fault = difference(neat.out.v, neat.out.n, messy.out.v, messy.out.n);
            cr_expect_null(fault, "%s: the maker's layouts say different things: %s\n%s", name, fault, messy.out.v);
            SgStatus status = tidied(messy.out.v, messy.out.n, &other);
            cr_expect(status == SG_DONE && other.product[0].length == first.product[0].length
                      && !memcmp(other.product[0].bytes, first.product[0].bytes, first.product[0].length),
                      "%s: two layouts, two forms:\n%s---\n%.*s---\n%.*s", name, messy.out.v, (int)first.product[0].length, first.product[0].bytes,
                      status == SG_DONE ? (int)other.product[0].length : 0, status == SG_DONE ? other.product[0].bytes : "");
            sg_result_free(&other);
            gen_free(&messy);
        }
        sg_result_free(&first);
        gen_free(&neat);
    }
    cr_expect_gt(longest, 1000, "the scripts made up are all short");
}

/* ---- what it looks like ---- */
static const struct { const char *script, *tidy; } LOOKS[] = {
    { "", "" },
    { "\xEF\xBB\xBFlet f=4cm\r\n", "let f = 4 cm\n" },
    { "# lamp   \r\n\r\n\r\n\r\nlet f = 4 cm # seen\r\n", "# lamp\n\nlet f = 4 cm  # seen\n" },
    { "\n\nsagitta   1 # first\nlet a=1;let b=a;;let c=b", "sagitta 1  # first\nlet a = 1\nlet b = a\nlet c = b\n" },
    { "let a=-2^-1*( 3-b )/c .x+d.y( 2,3 )", "let a = -2^-1 * (3 - b) / c.x + d.y(2, 3)\n" },
    { "let a = 1.50 cm + 2e-3m+30\xC2\xB0 + 4 .x + 1E+2   mm", "let a = 1.50 cm + 2e-3 m + 30\xC2\xB0 + 4 .x + 1E+2 mm\n" },
    { "let a = not(b)and not c or d<=e", "let a = not (b) and not c or d <= e\n" },
    { "let a = f *\n # half\n 2 # of it\n + 1\n", "let a = f *\n        # half\n        2  # of it\n        + 1\n" },
    { "figure a{}", "figure a { }\n" },
    { "figure a {\n\n\n\n# only\n\n}\n", "figure a {\n    # only\n}\n" },
    { "figure a { # beside\n}\n# after\n", "figure a {  # beside\n}\n# after\n" },
    { "figure a # head\n{ # one\n# two\n}", "figure a {  # head\n    # one\n    # two\n}\n" },
    { "figure a (u=3cm , v = 2 cm) \"t {u:1 mm}\"\n{mirror M at 3 cm hidden plane}", "figure a(u = 3 cm, v = 2 cm) \"t {u:1 mm}\" {\n    mirror M plane at 3 cm hidden\n}\n" },
    { "figure a {\nray parallel from p\n.tip { colour blue hidden; }\nstep { }\n\n\nstep \"b\" { }\n\n}", "figure a {\n    ray from p.tip parallel {\n        colour blue hidden\n    }\n    step { }\n\n    step \"b\" { }\n}\n" },
    { "figure a {\nnote at (1 cm,\n2 cm) \"here\"\nimage i by L,\n# and\nM of o\n}", "figure a {\n    note \"here\" at (1 cm, 2 cm)\n    image i of o by L,\n            # and\n            M\n}\n" },
    { "let long_name = another_long_name + yet_another_long_name - the_last_long_name + one_more_of_them_all * 2\n",
      "let long_name = another_long_name + yet_another_long_name - the_last_long_name\n        + one_more_of_them_all * 2\n" },
    { "let long_name = max(another_long_name, yet_another_long_name, the_last_long_name_here, one_more_of_them)\n",
      "let long_name = max(another_long_name, yet_another_long_name, the_last_long_name_here,\n        one_more_of_them)\n" },
    { "let exactly = max(another_long_name, yet_another_long_name, the_last_long_name, one_xxxmore_of_them)\n",
      "let exactly = max(another_long_name, yet_another_long_name, the_last_long_name, one_xxxmore_of_them)\n" },
};

Test(tidy, looks)
{
    for (size_t i = 0; i < sizeof LOOKS / sizeof *LOOKS; i++) {
        SgResult r;
        cr_expect_eq(tidied(LOOKS[i].script, strlen(LOOKS[i].script), &r), SG_DONE, "%s\n%s", LOOKS[i].script, r.messages);
        const char *got = r.nproducts ? r.product[0].bytes : "";
        size_t n = r.nproducts ? r.product[0].length : 0, want = strlen(LOOKS[i].tidy);
        cr_expect(n == want && !memcmp(got, LOOKS[i].tidy, n), "%s\ngives\n%.*s", LOOKS[i].script, (int)n, got);
        sg_result_free(&r);
        check_tidy("look", LOOKS[i].tidy, want);
    }
}

/* A script too large once its lines are indented, and one that is wrong by its bytes alone. */
Test(tidy, refusals)
{
    SgResult r;
    size_t n = 0, most = 7 * 1024 * 1024;
    char *script = malloc(most + 64);
    n += (size_t)sprintf(script, "figure a { step { ");
    while (n < most) n += (size_t)sprintf(script + n, "ray;");
    n += (size_t)sprintf(script + n, "} }");
    cr_expect_eq(tidied(script, n, &r), SG_SCRIPT_WRONG);
    cr_expect(r.messages_length && r.nproducts == 0);
    sg_result_free(&r);
    free(script);
    cr_expect_eq(tidied("let a = 1\0", 10, &r), SG_SCRIPT_WRONG);
    cr_expect(r.errors == 1 && r.nproducts == 0);
    sg_result_free(&r);
}
