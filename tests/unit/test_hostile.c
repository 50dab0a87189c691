/* Hostile scripts: huge, deep, broken and extreme ones end in a message or a sound figure, within bounds.
   in: scripts made here. out: each row that breaks a bound is named.
   never: accepts a crash, a hang, or a number that is none in a figure. */
#include "support/files.h"
#include "support/svgread.h"
#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { KIB = 1024, MIB = 1024 * 1024, HALF = MIB / 2, MESSAGES_AT_MOST = 512 * 1024 };
/* Processor seconds a job may take; measured in the clock of the process, so that a busy machine does not matter. The sanitizer
   builds are several times slower, hence the room. */
static const double SECONDS_AT_MOST = 10;

typedef enum { ANY, GOOD, WRONG } Want;
typedef struct { char *v; size_t n, cap; } Text;

static void add_bytes(Text *t, const char *s, size_t n)
{
    if (t->n + n + 1 > t->cap) t->v = realloc(t->v, t->cap = (t->n + n + 1) * 2);
    memcpy(t->v + t->n, s, n);
    t->n += n;
    t->v[t->n] = 0;
}

static void add(Text *t, const char *s) { add_bytes(t, s, strlen(s)); }

static void add_many(Text *t, const char *s, size_t times)
{
    size_t n = strlen(s);
    for (size_t i = 0; i < times; i++) add_bytes(t, s, n);
}

/* Every point of every product is a number on a page of at most 2 m. */
static const char *product_fault(const SgResult *r)
{
    for (uint32_t i = 0; i < r->nproducts; i++) {
        SvgDrawing d = svg_read(r->product[i].bytes, r->product[i].length);
        bool sound = d.well_formed && d.width > 0 && d.width <= 2000 && d.height > 0 && d.height <= 2000;
        for (uint32_t k = 0; k < d.n; k++)
            for (uint32_t j = 0; j < d.shape[k].n; j++)
                sound = sound && isfinite(d.shape[k].at[j].x) && isfinite(d.shape[k].at[j].y) && fabs(d.shape[k].at[j].x) < 1e5;
        svg_free(&d);
        if (!sound) return "the figure is no sound SVG of at most 2 m";
    }
    return NULL;
}

static void run(const char *name, const Text *t, Want want)
{
    SgResult r;
    clock_t start = clock();
    bool figure = t->v && strstr(t->v, "figure");      /* without one there is nothing to draw, which is a mistake of its own */
    SgStatus status = test_run(figure || want != GOOD ? SG_JOB_DRAW : SG_JOB_CHECK, "hostile.sag", t->v ? t->v : "", t->n, NULL, NULL, &r);
    double seconds = (double)(clock() - start) / CLOCKS_PER_SEC;
    cr_expect(status == SG_DONE || status == SG_SCRIPT_WRONG, "%s: status %d", name, (int)status);
    cr_expect(status == SG_DONE || r.messages_length, "%s: refused without a message", name);
    cr_expect_lt(r.messages_length, MESSAGES_AT_MOST, "%s: %zu bytes of messages", name, r.messages_length);
    cr_expect_lt(seconds, SECONDS_AT_MOST, "%s: %.1f s", name, seconds);
    cr_expect(want != GOOD || status == SG_DONE, "%s: should be drawn, but\n%.600s", name, r.messages ? r.messages : "");
    cr_expect(want != WRONG || status == SG_SCRIPT_WRONG, "%s: should be refused", name);
    const char *fault = status == SG_DONE ? product_fault(&r) : NULL;
    cr_expect_null(fault, "%s: %s", name, fault);
    sg_result_free(&r);
}

/* ---- huge ---- */
typedef struct { const char *name, *before, *unit, *after; size_t bytes; Want want; } Flood;
static const Flood FLOODS[] = {
    { "opening brackets", "let a = ", "(", "\n", 4 * MIB, WRONG },
    { "closing brackets", "let a = ", ")", "\n", HALF, WRONG },
    { "bracket pairs", "let a = ", "()", "\n", HALF, WRONG },
    { "opening braces", "", "{", "\n", HALF, WRONG },
    { "closing braces", "", "}", "\n", HALF, WRONG },
    { "brace pairs", "", "{}", "\n", HALF, WRONG },
    { "figures without end", "", "figure a {", "\n", HALF, WRONG },
    { "steps without end", "figure a {", "step {", "\n", HALF, WRONG },
    { "square brackets", "", "[", "\n", HALF, WRONG },
    { "minus signs", "let a = ", "-", "1\n", HALF, WRONG },
    { "plus signs", "let a = ", "+", "1\n", HALF, WRONG },
    { "powers", "let a = 2", "^2", "\n", HALF, WRONG },
    { "sums", "let a = 1", "+1", "\n", HALF, WRONG },
    { "products", "let a = 1", "*1", "\n", HALF, WRONG },
    { "comparisons", "let a = 1", "<1", "\n", HALF, ANY },
    { "nots", "let a = ", "not ", "1=1\n", HALF, WRONG },
    { "ands", "let a = 1=1", " and 1=1", "\n", HALF, WRONG },
    { "befores", "let a = 1 cm", " before a", "\n", HALF, WRONG },
    { "dots", "let a = b", ".b", "\n", 4 * MIB, WRONG },
    { "bare dots", "", ".", "\n", HALF, WRONG },
    { "calls", "let a = ", "sin(", "1\n", HALF, WRONG },
    { "commas", "let a = max(1", ",1", ")\n", HALF, WRONG },
    { "bare commas", "", ",", "\n", HALF, WRONG },
    { "quotes", "", "\"", "\n", HALF, WRONG },
    { "quoted lines", "", "\"\n", "\n", HALF, WRONG },
    { "holes", "figure a \"", "{", "\"{}\n", HALF, WRONG },
    { "open texts with holes", "", "\"{a", "\n", HALF, WRONG },
    { "backslashes", "figure a \"", "\\", "\"{}\n", HALF, WRONG },
    { "markup", "figure a \"", "_^*", "\" {\n}\n", 4 * KIB, ANY },
    { "line ends", "", "\n", "", 4 * MIB, GOOD },
    { "line ends, then a figure", "", "\n", "figure a {\n}\n", HALF, GOOD },
    { "line ends in brackets", "let a = (", "\n", "1\n", HALF, WRONG },
    { "line ends and commas", "let a = (1", ",\n", "1\n", HALF, WRONG },
    { "carriage returns and line ends", "", "\r\n", "", HALF, GOOD },
    { "spaces", "", " ", "", HALF, GOOD },
    { "semicolons", "", ";", "\n", HALF, ANY },
    { "comments", "", "# brass\n", "", HALF, GOOD },
    { "one comment", "#", "x", "\n", HALF, GOOD },
    { "one name", "let ", "x", " = 1\n", HALF, WRONG },
    { "names", "", "lamp ", "\n", HALF, WRONG },
    { "names on lines", "", "lamp\n", "\n", 4 * MIB, WRONG },
    { "kinds", "", "mirror ", "\n", HALF, WRONG },
    { "kinds on lines", "figure a {\n", "ray\n", "}\n", HALF, WRONG },
    { "phrase words", "figure a {\nmirror M ", "at ", "\n}\n", HALF, WRONG },
    { "phrases", "figure a {\nmirror M plane ", "at 1 cm ", "\n}\n", HALF, WRONG },
    { "flags", "figure a {\nmirror M at 1 cm ", "plane ", "\n}\n", HALF, WRONG },
    { "digits", "let a = ", "1", "\n", HALF, WRONG },
    { "digits after the point", "let a = 1.", "0", "\n", HALF, WRONG },
    { "numbers", "let a = ", "1 ", "\n", HALF, WRONG },
    { "decimal commas", "let a = ", "2,5 cm ", "\n", HALF, WRONG },
    { "curly quotes", "figure a ", "\xE2\x80\x9C", "\n", HALF, WRONG },
    { "degree signs", "let a = 1", "\xC2\xB0", "\n", HALF, WRONG },
    { "equals signs", "let a ", "=", " 1\n", HALF, WRONG },
    { "colons", "let a = 1", ":1", "\n", HALF, WRONG },
    { "question marks", "", "?", "\n", HALF, WRONG },
    { "wrong bytes", "", "\xFF", "\n", HALF, WRONG },
};

static Text flood(const Flood *f, size_t bytes)
{
    Text t = { 0 };
    size_t room = strlen(f->before) + strlen(f->after);
    add(&t, f->before);
    add_many(&t, f->unit, bytes > room ? (bytes - room) / strlen(f->unit) : 0);
    add(&t, f->after);
    return t;
}

Test(hostile, floods)
{
    for (size_t i = 0; i < sizeof FLOODS / sizeof *FLOODS; i++) {
        Text t = flood(&FLOODS[i], FLOODS[i].bytes);
        run(FLOODS[i].name, &t, FLOODS[i].want);
        free(t.v);
    }
}

/* ---- limits: what stands just inside is taken, one more is refused ---- */
typedef enum { BRACKETS, HEIGHT, NAME, TEXT, DIGITS, POWER_UP, POWER_DOWN, STATEMENTS, FIGURES, STEPS, FILE_SIZE, LETS, RAYS, COUNT, FANS } Limit;
static const struct { const char *name; Limit limit; size_t most; } LIMITS[] = {
    { "brackets", BRACKETS, 60 }, { "height of an expression", HEIGHT, 256 }, { "letters of a name", NAME, 64 },
    { "bytes of a text, its quotes included", TEXT, 4 * KIB }, { "digits", DIGITS, 15 }, { "power of ten", POWER_UP, 22 },
    { "negative power of ten", POWER_DOWN, 22 }, { "statements of a figure", STATEMENTS, 50000 },
    { "figures", FIGURES, 2000 }, { "steps", STEPS, 200 }, { "bytes of a file", FILE_SIZE, 8 * MIB },
    { "rays of a fan", COUNT, 500 }, { "rays of a figure, in fans and one by one", FANS, 5000 },
};

static Text at_limit(Limit limit, size_t n)
{
    Text t = { 0 };
    char number[100];
    switch (limit) {
    case BRACKETS: add(&t, "let a = "); add_many(&t, "(", n); add(&t, "1"); add_many(&t, ")", n); add(&t, "\n"); break;
    case HEIGHT: add(&t, "let a = 1"); add_many(&t, "+1", n - 2); add(&t, "\n"); break;     /* n - 1 leaves under a definition: n high */
    case NAME: add(&t, "let "); add_many(&t, "n", n); add(&t, " = 1\n"); break;
    case TEXT: add(&t, "figure a \""); add_many(&t, "i", n - 2); add(&t, "\" {\n}\n"); break;
    case DIGITS: add(&t, "let a = "); add_many(&t, "7", n); add(&t, "\n"); break;
    case POWER_UP: case POWER_DOWN:
        snprintf(number, sizeof number, "let a = 1e%s%zu\n", limit == POWER_UP ? "" : "-", n);
        add(&t, number);
        break;
    case STATEMENTS: add(&t, "figure a {\n");
        for (size_t i = 0; i < n; i++) { snprintf(number, sizeof number, "let a%zu = 1\n", i); add(&t, number); }
        add(&t, "}\n");
        break;
    case FIGURES: for (size_t i = 0; i < n; i++) { snprintf(number, sizeof number, "figure a%zu {\n}\n", i); add(&t, number); } break;
    case STEPS: add(&t, "figure a {\n"); add_many(&t, "step {\n}\n", n); add(&t, "}\n"); break;
    case FILE_SIZE: add(&t, "figure a {\n}\n#"); add_many(&t, "x", n - t.n - 1); add(&t, "\n"); break;
    case LETS:
        add(&t, "let a0 = 1\n");
        for (size_t i = 1; i < n; i++) { snprintf(number, sizeof number, "let a%zu = a%zu + 1\n", i, i - 1); add(&t, number); }
        break;
    case COUNT:
    case FANS:
        add(&t, "figure a {\nlens L converging focal 4 cm at 10 cm\n");
        for (size_t k = 0; k < n / 500 - (limit == COUNT); k++) add(&t, "fan from (0 cm, 0 cm) filling L count 500\n");
        snprintf(number, sizeof number, "fan from (0 cm, 0 cm) filling L count %zu\n", limit == COUNT ? n : n - 500 * (n / 500));
        if (limit == COUNT || n % 500) add(&t, number);
        add(&t, "}\n");
        break;
    case RAYS:
        add(&t, "figure a {\nlens L converging focal 4 cm aperture 20 cm at 10 cm\n");
        for (size_t i = 0; i < n; i++) {
            snprintf(number, sizeof number, "ray from (0 cm, %zu.%03zu mm) parallel\n", i / 1000 + 1, i % 1000);
            add(&t, number);
        }
        add(&t, "}\n");
        break;
    }
    return t;
}

Test(hostile, limits)
{
    char name[100];
    for (size_t i = 0; i < sizeof LIMITS / sizeof *LIMITS; i++)
        for (size_t past = 0; past < 2; past++) {
            Text t = at_limit(LIMITS[i].limit, LIMITS[i].most + past);
            snprintf(name, sizeof name, "%s: %zu", LIMITS[i].name, LIMITS[i].most + past);
            run(name, &t, past ? WRONG : GOOD);
            free(t.v);
        }
    Text t = at_limit(LETS, 40000);
    run("a chain of 40 000 lets", &t, GOOD);
    free(t.v);
}

/* ---- bytes ---- */
typedef struct { const char *name, *bytes; size_t n; Want want; } Bytes;
#define BYTES(name, text, want) { name, text, sizeof(text) - 1, want }
static const Bytes BROKEN[] = {
    BYTES("nothing", "", GOOD),
    BYTES("plain", "figure a {\n}\n", GOOD),
    BYTES("byte order mark", "\xEF\xBB\xBF" "figure a {\n}\n", GOOD),
    BYTES("CRLF", "figure a {\r\n    point P at 1 cm\r\n}\r\n", GOOD),
    BYTES("no last line end", "figure a {\n}", GOOD),
    BYTES("lone CR", "figure a {\r    point P at 1 cm\r}\r", WRONG),
    BYTES("NUL", "figure a {\0\n}\n", WRONG),
    BYTES("NUL in a text", "figure a \"x\0y\" {\n}\n", WRONG),
    BYTES("NUL in a comment", "# x\0y\nfigure a {\n}\n", WRONG),
    BYTES("NUL first", "\0figure a {\n}\n", WRONG),
    BYTES("bell", "figure a \"x\007y\" {\n}\n", WRONG),
    BYTES("escape", "# \033[2J\nfigure a {\n}\n", WRONG),
    BYTES("delete", "figure a \"x\177y\" {\n}\n", WRONG),
    BYTES("form feed", "figure a {\f}\n", WRONG),
    BYTES("next-line control", "figure a \"x\xC2\x85y\" {\n}\n", WRONG),
    BYTES("cut character", "figure a \"x\xE2\x80\" {\n}\n", WRONG),
    BYTES("cut character at the end", "figure a {\n}\n# \xE2\x80", WRONG),
    BYTES("continuation alone", "figure a \"x\x80y\" {\n}\n", WRONG),
    BYTES("overlong slash", "figure a \"x\xC0\xAFy\" {\n}\n", WRONG),
    BYTES("overlong NUL", "figure a \"x\xE0\x80\x80y\" {\n}\n", WRONG),
    BYTES("surrogate", "figure a \"x\xED\xA0\x80y\" {\n}\n", WRONG),
    BYTES("past Unicode", "figure a \"x\xF4\x90\x80\x80y\" {\n}\n", WRONG),
    BYTES("never a byte", "figure a \"x\xFEy\" {\n}\n", WRONG),
    BYTES("left-to-right embedding", "figure a \"x\xE2\x80\xAAy\" {\n}\n", WRONG),
    BYTES("right-to-left override", "figure a \"x\xE2\x80\xAEy\" {\n}\n", WRONG),
    BYTES("pop directional", "# \xE2\x80\xAC\nfigure a {\n}\n", WRONG),
    BYTES("left-to-right isolate", "figure a \"x\xE2\x81\xA6y\" {\n}\n", WRONG),
    BYTES("pop isolate", "# \xE2\x81\xA9\nfigure a {\n}\n", WRONG),
    BYTES("markup of XML", "figure a \"<b>&amp;</title><script>x</script>]]>\" {\n}\n", GOOD),
    BYTES("quotes of XML", "figure a \"' \\\" > < &#0;\" {\n    step \"</title><!-- '\" {\n        point P at 1 cm named \"<&'>\"\n    }\n}\n", GOOD),
};

Test(hostile, bytes)
{
    for (size_t i = 0; i < sizeof BROKEN / sizeof *BROKEN; i++) {
        Text t = { 0 };
        add_bytes(&t, BROKEN[i].bytes, BROKEN[i].n);
        run(BROKEN[i].name, &t, BROKEN[i].want);
        free(t.v);
    }
}

/* A byte order mark and CRLF change nothing of the figure. */
Test(hostile, line_ends_change_nothing)
{
    const char *plain = "figure a \"The lamp\" {\n    mirror M concave focal 4 cm at 16 cm\n    object wick height 1 cm at 12 cm before M\n"
                        "    step \"Parallel.\" {\n        ray r from wick.tip parallel\n    }\n}\n";
    Text t = { 0 };
    add(&t, "\xEF\xBB\xBF");
    for (const char *s = plain; *s; s++) {
        if (*s == '\n') add(&t, "\r");
        add_bytes(&t, s, 1);
    }
    SgResult a, b;
    cr_assert_eq(test_run(SG_JOB_DRAW, "x.sag", plain, strlen(plain), NULL, NULL, &a), SG_DONE, "%s", a.messages);
    cr_assert_eq(test_run(SG_JOB_DRAW, "x.sag", t.v, t.n, NULL, NULL, &b), SG_DONE, "%s", b.messages);
    cr_expect(a.product[0].length == b.product[0].length && !memcmp(a.product[0].bytes, b.product[0].bytes, a.product[0].length));
    sg_result_free(&a);
    sg_result_free(&b);
    free(t.v);
}

/* ---- extreme lengths ---- */
typedef struct { const char *name, *element, *object; Want want; const char *distance; } Extreme;
static const Extreme EXTREMES[] = {
    { "plain", "mirror E concave focal 4 cm at 16 cm", "height 1 cm at 12 cm before E", GOOD, "6 cm" },
    { "tiny focal length", "mirror E concave focal 1e-9 mm at 16 cm", "height 1 cm at 12 cm before E", ANY, NULL },
    { "huge focal length", "mirror E concave focal 1e12 mm at 16 cm", "height 1 cm at 12 cm before E", ANY, NULL },
    { "focal length past the limit", "mirror E concave focal 1e13 mm at 16 cm", "height 1 cm at 12 cm before E", WRONG, NULL },
    { "focal length 0", "mirror E concave focal 0 at 16 cm", "height 1 cm at 12 cm before E", WRONG, NULL },
    { "focal length 0 mm", "lens E converging focal 0 mm at 16 cm", "height 1 cm at 12 cm before E", WRONG, NULL },
    { "radius 0", "mirror E concave radius 0 cm at 16 cm", "height 1 cm at 12 cm before E", WRONG, NULL },
    { "power 0", "lens E converging power 0 D at 16 cm", "height 1 cm at 12 cm before E", ANY, NULL },
    { "aperture 0", "mirror E concave focal 4 cm aperture 0 cm at 16 cm", "height 1 cm at 12 cm before E", ANY, NULL },
    { "negative aperture", "mirror E concave focal 4 cm aperture -2 cm at 16 cm", "height 1 cm at 12 cm before E", WRONG, NULL },
    { "tiny aperture", "mirror E concave focal 4 cm aperture 1e-9 mm at 16 cm", "height 1 cm at 12 cm before E", ANY, NULL },
    { "huge aperture", "lens E converging focal 4 cm aperture 1e12 mm at 16 cm", "height 1 cm at 12 cm before E", ANY, NULL },
    { "height 0", "mirror E concave focal 4 cm at 16 cm", "height 0 at 12 cm before E", ANY, NULL },
    { "tiny height", "mirror E concave focal 4 cm at 16 cm", "height 1e-9 mm at 12 cm before E", ANY, NULL },
    { "huge height", "mirror E concave focal 4 cm at 16 cm", "height 1e12 mm at 12 cm before E", ANY, NULL },
    { "object at the mirror", "mirror E concave focal 4 cm at 16 cm", "height 1 cm at 16 cm", ANY, NULL },
    { "object at the lens", "lens E converging focal 4 cm at 16 cm", "height 1 cm at 0 cm before E", ANY, NULL },
    { "object behind the mirror", "mirror E concave focal 4 cm at 16 cm", "height 1 cm at 3 cm beyond E", WRONG, NULL },
    { "object behind the lens", "lens E converging focal 4 cm at 16 cm", "height 1 cm at 3 cm beyond E", WRONG, NULL },
    { "object far before", "mirror E concave focal 4 cm at 16 cm", "height 1 cm at 1e11 mm before E", ANY, NULL },
    { "object at F", "mirror E concave focal 4 cm at 16 cm", "height 1 cm at 4 cm before E", GOOD, "at infinity" },
    { "1e-12 inside F", "mirror E concave focal 4 cm at 16 cm", "height 1 cm at 3.999999999996 cm before E", GOOD, "at infinity" },
    { "1e-12 outside F", "lens E converging focal 4 cm at 16 cm", "height 1 cm at 4.000000000004 cm before E", GOOD, "at infinity" },
    { "1e-7 outside F", "lens E converging focal 4 cm at 16 cm", "height 1 cm at 4.0000004 cm before E", ANY, NULL },
    { "at C of a tiny mirror", "mirror E concave focal 1e-6 mm at 0 cm", "height 1e-7 mm at 2e-6 mm before E", ANY, NULL },
    { "everything far out", "mirror E concave focal 4 cm at 1e11 mm", "height 1 cm at 12 cm before E", ANY, NULL },
};

Test(hostile, extremes)
{
    for (size_t i = 0; i < sizeof EXTREMES / sizeof *EXTREMES; i++) {
        const Extreme *x = &EXTREMES[i];
        Text t = { 0 };
        add(&t, "figure a {\n    "); add(&t, x->element); add(&t, "\n    object o "); add(&t, x->object);
        add(&t, "\n    image i of o by E\n    ray p from o.tip parallel\n}\n");
        run(x->name, &t, x->want);
        if (x->distance) {
            SgResult r;
            SgStatus status = test_run(SG_JOB_ASK, "x.sag", t.v, t.n, NULL, "i.distance", &r);
            const char *got = status == SG_DONE && r.nproducts ? r.product[0].bytes : "";
            size_t n = strlen(x->distance);
            cr_expect(!strncmp(got, x->distance, n) && got[n] == '\n', "%s: the image is \"%s\", want %s", x->name, got, x->distance);
            sg_result_free(&r);
        }
        free(t.v);
    }
}

Test(hostile, many_rays)
{
    Text t = at_limit(RAYS, 3000);
    run("3000 rays", &t, GOOD);
    free(t.v);
    t = at_limit(RAYS, 8000);
    run("8000 rays", &t, WRONG);
    free(t.v);
}
