/* The wordings: every language says everything, and figures say it in the language they are told.
   in: runtime/wordings/, scripts over a reader in memory. out: keys, holes and texts that are wrong.
   never: judges a translation. */
#include "support/files.h"
#include "wordings/wordings.h"
#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_KEYS = 600 };
typedef struct { char *bytes; char *key[MOST_KEYS], *text[MOST_KEYS]; size_t n; } Read;

/* A reader of its own: KEY = text. */
static Read read_wording(const char *name)
{
    Read r = { 0 };
    char path[200];
    snprintf(path, sizeof path, "../runtime/wordings/%s", name);
    r.bytes = test_read(path, NULL);
    cr_assert_not_null(r.bytes, "%s cannot be read", path);
    for (char *line = strtok(r.bytes, "\n"); line; line = strtok(NULL, "\n")) {
        char *is = strstr(line, " = ");
        if (*line == '#') continue;
        cr_assert(is && r.n < MOST_KEYS, "%s: \"%s\" is no line of a wording", name, line);
        *is = 0;
        r.key[r.n] = line;
        r.text[r.n++] = is + 3;
    }
    return r;
}

static const char *text_of(const Read *r, const char *key)
{
    const char *text = NULL;
    for (size_t i = 0; i < r->n; i++) if (!strcmp(r->key[i], key)) { cr_expect_null(text, "%s stands twice", key); text = r->text[i]; }
    return text;
}

/* Every {hole} of a stands in b. */
static bool holes_in(const char *a, const char *b)
{
    char hole[80];
    for (const char *at = strchr(a, '{'); at; at = strchr(at + 1, '{')) {
        const char *end = strchr(at, '}');
        if (!end || end - at > 70) return false;
        snprintf(hole, sizeof hole, "%.*s", (int)(end - at + 1), at);
        if (!strstr(b, hole)) return false;
    }
    return true;
}

static void hold_to_english(const char *name, const Read *english)
{
    Read r = read_wording(name);
    cr_expect_eq(r.n, english->n, "%s has %zu texts, english.txt %zu", name, r.n, english->n);
    for (size_t i = 0; i < english->n; i++) {
        const char *text = text_of(&r, english->key[i]);
        cr_expect_not_null(text, "%s lacks %s", name, english->key[i]);
        if (text) cr_expect(holes_in(text, english->text[i]) && holes_in(english->text[i], text), "%s: %s has other holes", name, english->key[i]);
    }
    free(r.bytes);
}

Test(wordings, every_language_says_everything)
{
    static const SgWording *const built_in[] = { &sg_wording_english, &sg_wording_german, &sg_wording_french, &sg_wording_spanish };
    size_t n;
    char **list = test_list("../runtime/wordings", ".txt", &n);
    Read english = read_wording("english.txt");
    cr_assert_geq(n, 4);
    cr_assert_eq(english.n, (size_t)SG_TEXT_COUNT);
    for (size_t i = 0; i < n; i++) {
        hold_to_english(list[i], &english);
        free(list[i]);
    }
    free(list);
    for (size_t k = 0; k < sizeof built_in / sizeof *built_in; k++) {          /* what is compiled in is what the files say */
        char name[60];
        snprintf(name, sizeof name, "%s.txt", built_in[k]->name);
        Read r = read_wording(name);
        for (size_t i = 0; i < english.n; i++) {
            const char *text = text_of(&r, english.key[i]);
            cr_expect(text && built_in[k]->text[i].n == strlen(text) && !memcmp(built_in[k]->text[i].s, text, strlen(text)), "%s: %s is not compiled in", name, english.key[i]);
        }
        free(r.bytes);
    }
    free(english.bytes);
}

/* ---- figures ---- */

static SgRead shelf(void *with, const char *path, SgFile *file)
{
    const char *const *held = with;                    /* path, text, path, text, NULL */
    for (uint64_t i = 0; held[i]; i += 2)
        if (!strcmp(held[i], path)) { *file = (SgFile){ held[i + 1], strlen(held[i + 1]), 7, i + 1 }; return SG_READ_DONE; }
    return SG_READ_ABSENT;
}

/* The drawing, the answer or the messages of a script; to be freed. */
static char *made(SgJobKind kind, const char *script, const char *expression, const char *const *files)
{
    bool csv = kind == SG_JOB_ANSWERS;
    SgJob job = { .kind = kind, .path = "main.sag", .script = script, .script_length = strlen(script), .expression = expression, .json = !csv, .csv = csv,
                  .still = true, .read = files ? shelf : NULL, .read_with = (void *)(uintptr_t)files };
    SgResult r;
    SgStatus status = sg_compile(&job, &r);
    size_t n = status == SG_DONE && r.nproducts ? r.product[0].length : r.messages_length;
    char *text = calloc(n + 1, 1);
    cr_assert_not_null(text);
    if (n) memcpy(text, status == SG_DONE && r.nproducts ? r.product[0].bytes : r.messages, n);
    sg_result_free(&r);
    return text;
}
static void expect_says(SgJobKind kind, const char *script, const char *expression, const char *const *files, const char *want)
{
    char *is = made(kind, script, expression, files);
    cr_expect_not_null(strstr(is, want), "%s\nit said\n%s\nwanted %s", script, is, want);
    free(is);
}

#define BODY(setting, step) setting "\nfigure a {\n lens L converging focal 4.5 cm aperture 6 cm at 9 cm\n object lamp height 1 cm at 6.5 cm before L\n" \
    " note \"{L.focal} {-L.focal} {p.nature} {p.real}\" at (1 cm, 3 cm)\n" step " { image p of lamp by L }\n}\n"
#define SCRIPT(setting) BODY(setting, "step \"{p.nature}\"")

Test(wordings, figures_speak_the_language_they_are_told)
{
    expect_says(SG_JOB_DRAW, SCRIPT(""), NULL, NULL, ">4.5\xE2\x80\x89" "cm \xE2\x88\x92" "4.5\xE2\x80\x89" "cm real, inverted, enlarged yes<");
    expect_says(SG_JOB_DRAW, SCRIPT("wording german"), NULL, NULL, ">4,5\xE2\x80\x89" "cm \xE2\x88\x92" "4,5\xE2\x80\x89" "cm reell, umgekehrt, vergr\xC3\xB6\xC3\x9F" "ert ja<");
    expect_says(SG_JOB_DRAW, SCRIPT("wording french\nscale 1:2.5"), NULL, NULL, ">\xC3\xA9" "chelle 1\xE2\x80\x89:\xE2\x80\x89" "2,5<");
    expect_says(SG_JOB_DRAW, SCRIPT("wording spanish"), NULL, NULL, "xml:lang=\"es\"");
    expect_says(SG_JOB_DRAW, SCRIPT("wording spanish"), NULL, NULL, ">eje \xC3\xB3ptico<");
    /* What programs read is the same in every language. */
    expect_says(SG_JOB_ASK, SCRIPT("wording german"), "p.nature", NULL, "real, inverted, enlarged");
    expect_says(SG_JOB_ASK, SCRIPT("wording german"), "L.focal", NULL, "4.5 cm");
    char *german = made(SG_JOB_SOLVE, SCRIPT("wording german"), NULL, NULL), *english = made(SG_JOB_SOLVE, SCRIPT("wording english"), NULL, NULL);
    cr_expect_str_eq(german, english);
    free(german);
    free(english);
}

#define SHEET(setting) setting "\nfigure a(u = 6.5 cm) {\n mirror M concave focal 4.5 cm aperture 6 cm at 20 cm\n object lamp height 1 cm at u before M\n" \
    " step { ray b from lamp.tip toward M.vertex\n image p of lamp by M\n }\n mistake m of b wrong_side\n}\n" \
    "sheet s \"x\" {\n problem q = a \"Where?\" marks 3 asks p.distance, p.magnification, p.real\n problem w = a \"What is wrong?\" shows m\n}\n"

Test(wordings, answers_speak_it_too)
{
    expect_says(SG_JOB_ANSWERS, SHEET("wording german"), NULL, NULL, "Fassung;Nummer;Aufgabe;Punkte;gefragt;Wert;Einheit;gezeichnet von;gezeichnet bis;gerechnet von;gerechnet bis\r\n");
    expect_says(SG_JOB_ANSWERS, SHEET("wording german"), NULL, NULL, "A;1;q;3;p.distance;14,625;cm;");
    expect_says(SG_JOB_ANSWERS, SHEET("wording german"), NULL, NULL, "A;1;q;3;p.magnification;-2,25;;");
    expect_says(SG_JOB_ANSWERS, SHEET("wording german"), NULL, NULL, "p.real;ja;");
    expect_says(SG_JOB_ANSWERS, SHEET("wording german"), NULL, NULL, ";Fehler;Strahl 1 verl\xC3\xA4uft auf der falschen Seite des Lots weiter;");
    expect_says(SG_JOB_ANSWERS, SHEET(""), NULL, NULL, "A,1,q,3,p.magnification,-2.25,,");
}

/* A point has no way up, and is never told to be inverted. */
Test(wordings, an_object_without_height)
{
    static const char flat[] = "figure a {\n lens L converging focal 3 cm aperture 6 cm at 9 cm\n object lamp height 0 cm at 6 cm before L\n ray r from lamp angle 10 deg\n"
        " note \"It is {p.nature}.\" at (1 cm, 3 cm)\n image p of lamp by L\n}\n";
    expect_says(SG_JOB_ASK, flat, "p.nature", NULL, "real\n");
    expect_says(SG_JOB_DRAW, flat, NULL, NULL, "The object lamp is a point.");
    expect_says(SG_JOB_DRAW, flat, NULL, NULL, "The image p of lamp is a point, real; it lies 6");
    char *figure = made(SG_JOB_DRAW, flat, NULL, NULL);
    cr_expect_null(strstr(figure, "inverted"), "%s", figure);
    free(figure);
}

Test(wordings, an_authors_own)
{
    static const char *const files[] = { "words.txt", "# ours\nlanguage = pt-BR\ndecimal_mark = ,\r\nprincipal_axis = eixo \xC3\xB3ptico\n", "odd.txt",
        "principal_axs = a\nscale = escala\nimage_far_off = longe {distance} {x}\nfoo\nlanguage = <b>\ndecimal_mark = ;\nyes = a { b\n", "rubbish.txt", "yes = a\x01\n", NULL };
    expect_says(SG_JOB_DRAW, SCRIPT("wording \"words.txt\""), NULL, files, ">eixo \xC3\xB3ptico<");
    expect_says(SG_JOB_DRAW, SCRIPT("wording \"words.txt\""), NULL, files, "xml:lang=\"pt-BR\"");
    expect_says(SG_JOB_DRAW, SCRIPT("wording \"words.txt\""), NULL, files, ">4,5\xE2\x80\x89" "cm \xE2\x88\x92" "4,5\xE2\x80\x89" "cm real, inverted, enlarged yes<");
    static const char *const wrong[] = { "odd.txt:1:1: error: no text is called `principal_axs`; did you mean `principal_axis`?", "odd.txt:2:1: error: the text of `scale` needs {ratio}",
        "odd.txt:3:1: error: nothing fills {x} in `image_far_off`", "odd.txt:4:1: error: a line of a wording is a key", "odd.txt:5:1: error: a language is a short tag",
        "odd.txt:6:1: error: a decimal mark is a point or a comma", "odd.txt:7:1: error: a brace stands alone in `yes`" };
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) expect_says(SG_JOB_CHECK, SCRIPT("wording \"odd.txt\""), NULL, files, wrong[i]);
    expect_says(SG_JOB_CHECK, SCRIPT("wording \"rubbish.txt\""), NULL, files, "rubbish.txt:1:8: error:");
    expect_says(SG_JOB_CHECK, SCRIPT("wording \"none.txt\""), NULL, files, "main.sag:1:10: error: there is no file `none.txt`");
    expect_says(SG_JOB_CHECK, SCRIPT("wording \"../words.txt\""), NULL, files, "lies outside the folder of the main script");
    expect_says(SG_JOB_CHECK, SCRIPT("wording german \"words.txt\""), NULL, files, "error: write one language");
    expect_says(SG_JOB_CHECK, SCRIPT("wording"), NULL, files, "error: write one language");
    expect_says(SG_JOB_CHECK, SCRIPT("wording german french"), NULL, files, "error:");
}
