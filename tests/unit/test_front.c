/* The front end: tokens, words, tree and messages, over right and wrong scripts. Tables, not tests, hold the cases. */
#include <criterion/criterion.h>
#include <setjmp.h>
#include <stdio.h>
#include <string.h>

#include "catalogue/catalogue.h"
#include "tree/tree.h"

typedef struct {
    SgArena arena;
    jmp_buf out;
    SgCompile c;
    SgSource source;
    SgNode *tree;              /* NULL when the bytes may not be read */
    SgTagged tagged;
} Front;

static void read_bytes(Front *f, const char *bytes, size_t n)
{
    memset(f, 0, sizeof *f);
    f->arena.out = &f->out;
    f->c.arena = &f->arena;
    sg_names_init(&f->c.names, &f->arena);
    f->source = sg_text_source(&f->arena, SG_LIT("lamp.sag"), (SgStr){ bytes, (uint32_t)n });
    f->c.source = &f->source;
    f->c.nsources = 1;
    if (!sg_text_check(&f->c, 0)) return;
    SgTokens raw = sg_tokens(&f->c, 0);
    f->tagged = sg_words(&f->c, &raw);
    f->tree = sg_tree(&f->c, &f->tagged);
    sg_messages_settle(&f->c, f->tagged.tops.v, f->tagged.tops.n);
}

static void read_script(Front *f, const char *script)
{
    read_bytes(f, script, strlen(script));
}

static SgStr dump(Front *f)
{
    SgBuf b = { .arena = &f->arena };
    if (f->tree) sg_tree_dump(&f->c, f->tree, &b);
    return sg_buf_str(&b);
}

/* The dump with line ends and indents taken out, so that a table may hold it on a line. */
static const char *squeezed(Front *f)
{
    SgStr s = dump(f);
    char *out = sg_arena_get(&f->arena, s.n + 1);
    uint32_t n = 0;
    for (uint32_t i = 0; i < s.n; i++) {
        bool line_start = i == 0 || s.s[i - 1] == '\n' || (s.s[i] == ' ' && n && out[n - 1] == '\n');
        if (s.s[i] == '\n' || (s.s[i] == ' ' && line_start)) continue;
        if (s.s[i] == ' ' && n && i && s.s[i - 1] == ' ' && (i < 2 || s.s[i - 2] == ' ' || s.s[i - 2] == '\n')) continue;
        out[n++] = s.s[i];
    }
    return out;
}

static const char EXAMPLE[] =
    "# the shaving mirror in the keeper's room\n"
    "let f = 4 cm\n"
    "\n"
    "figure shaving_mirror(u = 12 cm) \"Shaving mirror, candle at {u}\" {\n"
    "    mirror M concave focal f aperture 7 cm at 16 cm\n"
    "    object candle height 1 cm at u before M\n"
    "\n"
    "    step \"As far beyond F as F is from the mirror: the centre of curvature.\" {\n"
    "        dimension from M.vertex to M.focus\n"
    "        dimension from M.focus to M.centre\n"
    "    }\n"
    "    step \"In through the centre of curvature, and back the way it came.\" {\n"
    "        ray a from candle.tip through M.centre\n"
    "    }\n"
    "    step \"In parallel to the axis, out through the focal point.\" {\n"
    "        ray b from candle.tip parallel\n"
    "    }\n"
    "    step \"To the vertex. It leaves at the same angle on the other side of the axis.\" {\n"
    "        ray d from candle.tip toward M.vertex\n"
    "        angle from axis to d.in\n"
    "        angle from axis to d.out\n"
    "    }\n"
    "    step \"Where they meet is the tip of the image: {flame.nature}.\" {\n"
    "        image flame of candle by M\n"
    "    }\n"
    "}\n"
    "figure at_c = shaving_mirror(u = 8 cm) \"At C\"\n";

static const SgNode *child(const SgNode *n, uint32_t k)
{
    const SgNode *x = n->first;
    while (x && k--) x = x->next;
    return x;
}

static bool spans_nest(const SgNode *n)
{
    for (const SgNode *x = n->first; x; x = x->next)
        if (x->at.start < n->at.start || x->at.end > n->at.end || x->at.start > x->at.end || !spans_nest(x)) return false;
    return true;
}

Test(front, the_tree_of_the_example)
{
    Front f;
    read_script(&f, EXAMPLE);
    cr_assert(f.c.diags.n == 0, "%u messages", f.c.diags.n);
    const SgNode *figure = child(f.tree, 1), *copy = child(f.tree, 2), *step = child(figure, 4);
    SgStr name = sg_names_str(&f.c.names, figure->name);
    cr_expect(sg_str_is(name, "shaving_mirror"));
    cr_expect(child(figure, 0)->kind == SG_N_PARAMETERS && child(child(figure, 0), 0)->kind == SG_N_CHAIN);
    cr_expect(child(child(child(figure, 0), 0), 1)->relation == '=', "the relation stands on the operand after it");
    cr_expect(child(figure, 1)->kind == SG_N_CAPTION && child(child(figure, 1), 0)->kind == SG_N_TEXT);
    cr_expect(step->kind == SG_N_STATEMENT && child(step, 0)->kind == SG_N_CAPTION && child(step, 2)->kind == SG_N_STATEMENT && !child(step, 3));
    cr_expect(child(copy, 0)->kind == SG_N_DEFINITION && child(child(copy, 0), 0)->kind == SG_N_CALL && child(copy, 1)->kind == SG_N_CAPTION);
    const SgNode *piece = child(child(child(figure, 1), 0), 0);
    cr_expect(sg_str_is((SgStr){ EXAMPLE + piece->at.start, piece->at.end - piece->at.start }, "Shaving mirror, candle at "), "a piece has neither quote nor brace");
    cr_expect(spans_nest(f.tree), "each node lies inside the one that holds it");
    cr_expect(!f.tagged.braces_damaged && f.tagged.tops.n == 2);
    sg_arena_free(&f.arena);
}

static const struct { const char *script, *tree; } TREES[] = {
    { "let a = -2^2\n", "(file(statement let named a(definition(negate(binary ^(number 2)(number 2))))))" },
    { "let a = 1 < 2 <= b + 1\n", "(file(statement let named a(definition(chain(number 1)(number after < 2)(binary after l +(name b)(number 1))))))" },
    { "let a = (1 = 2) = 3\n", "(file(statement let named a(definition(chain(chain(number 1)(number after = 2))(number after = 3)))))" },
    { "let a = not b and c or d\n", "(file(statement let named a(definition(binary o(binary a(not(name b))(name c))(name d)))))" },
    { "let a = 2 cm + 1 mm before M.x(3)\n",
      "(file(statement let named a(definition(place b(binary +(number 20 written in cm)(number 1 written in mm))(property x(name M)(number 3))))))" },
    { "figure f { frame 18 cm by 9 cm }", "(file(statement figure named f(statement frame(number 180 written in cm)(word by(number 90 written in cm)))))" },
    { "figure f { mirror M plane surface auto facing left }", "(file(statement figure named f(statement mirror named M(flag plane)(word surface(name auto))(word facing(name left)))))" },
    { "figure f { ray angle 3 deg }", "(file(statement figure named f(statement ray(word angle(number 3 written in deg)))))" },
    { "figure f { object focal height height at before before radius }",
      "(file(statement figure named f(statement object named focal(word height(name height))(word at(place b(name before)(name radius))))))" },
    { "figure f { image i of o by A, B }", "(file(statement figure named f(statement image named i(word of(name o))(word by(name A)(name B)))))" },
    { "figure f { mirror M {\nconcave\nat 2 cm\n} }", "(file(statement figure named f(statement mirror named M(line(flag concave))(line(word at(number 20 written in cm))))))" },
    { "figure f \"a{x:0.5 mm}b{y : 3 sf cm}\" { }",
      "(file(statement figure named f(caption(text(piece a)(hole(name x)(number 0.5 written in mm))(piece b)(hole(name y)(number 3 written in sf)(name cm))(piece )))))" },
    { "sagitta 1\nlet a = 1\n", "(file(statement let named a(definition(number 1))))" },
    { "let a =\n  1 +\n\n  2\n  * 3\n", "(file(statement let named a(definition(binary +(number 1)(binary *(number 2)(number 3))))))" },
    { "let a = 20\xC2\xB5m; let b = 3\xC2\xA0" "cm\n", "(file(statement let named a(definition(number 0.02 written in \xC2\xB5m)))(statement let named b(definition(number 30 written in cm))))" },
    { "let a = (1 cm, 2)\r\n", "(file(statement let named a(definition(point ,(number 10 written in cm)(number 2)))))" },
};

Test(front, trees)
{
    for (size_t i = 0; i < sizeof TREES / sizeof *TREES; i++) {
        Front f;
        read_script(&f, TREES[i].script);
        cr_expect(f.c.diags.n == 0, "%s: %u messages", TREES[i].script, f.c.diags.n);
        cr_expect_str_eq(squeezed(&f), TREES[i].tree, "%s\n gives  %s\n wanted %s", TREES[i].script, squeezed(&f), TREES[i].tree);
        sg_arena_free(&f.arena);
    }
}

#define IN_FIGURE(line) "figure f {\n" line "\n}\n"
/* Each wrong script has one mistake and must give this one message, here. */
static const struct { const char *script, *code; uint32_t line, column; } WRONG[] = {
    { IN_FIGURE("mirror M plane apeture 6 cm at 3 cm"), "word_unknown", 2, 16 },
    { IN_FIGURE("mirror M concave focal at 3 cm"), "value_missing", 2, 24 },
    { IN_FIGURE("object o height at u before M"), "value_missing", 2, 17 },
    { IN_FIGURE("mirror M plane at 3 cm + focal 4 cm"), "value_missing", 2, 26 },
    { IN_FIGURE("mirror M concave focal 4 ft at 16 cm"), "unit_unknown", 2, 26 },
    { IN_FIGURE("mirror M concave focal\nmirror N plane at 2 cm"), "value_missing", 2, 23 },
    { IN_FIGURE("mirror M concave 4 cm at 3 cm"), "word_needs_no_value", 2, 18 },
    { IN_FIGURE("mirror M concave focal 4 cn at 3 cm"), "unit_unknown", 2, 26 },
    { IN_FIGURE("mirror M concave focal 4furlong at 3 cm"), "unit_unknown", 2, 25 },
    { IN_FIGURE("miror M concave focal 4 cm at 3 cm"), "kind_unknown", 2, 1 },
    { IN_FIGURE("hologram H wide 3 cm { inner 4 cm\n grain fine }"), "kind_unknown", 2, 1 },
    { IN_FIGURE("mirror M plane at (3 cm, 2 cm"), "bracket_missing", 2, 30 },
    { IN_FIGURE("mirror M plane at 3 cm)"), "bracket_extra", 2, 23 },
    { IN_FIGURE("mirror M plane (at 3 cm"), "word_needs_no_value", 2, 16 },
    { IN_FIGURE("ray angle from p toward q"), "word_as_name", 2, 5 },
    { IN_FIGURE("point not at 3 cm"), "word_as_name", 2, 7 },
    { IN_FIGURE("mirror M plane at 3 cm object o height 1 cm at 2 cm"), "statement_start", 2, 24 },
    { IN_FIGURE("mirror M plane\nat 3 cm\nfacing left"), "statement_start", 3, 1 },
    { IN_FIGURE("+ 3 cm"), "statement_start", 2, 1 },
    { IN_FIGURE("{ mirror M plane at 3 cm }"), "block_alone", 2, 1 },
    { IN_FIGURE("note \xE2\x80\x9Chere\xE2\x80\x9D at p"), "character_typeset", 2, 6 },
    { IN_FIGURE("note \"here\xE2\x80\x9D at p"), "text_open", 2, 11 },
    { IN_FIGURE("note 'here' at p"), "character_typeset", 2, 6 },
    { IN_FIGURE("note \"here at p"), "text_open", 2, 6 },
    { IN_FIGURE("note \"here {x\" at p"), "hole_open", 2, 14 },
    { IN_FIGURE("note \"here {x + }\" at p"), "value_missing", 2, 17 },
    { IN_FIGURE("note \"here {}\" at p"), "value_missing", 2, 13 },
    { IN_FIGURE("note \"{x : 0,1 cm}\" at p"), "decimal_comma", 2, 12 },
    { IN_FIGURE("point p at 3 @ cm"), "character_odd", 2, 14 },
    { IN_FIGURE("point p at 3 cm \xE2\x88\x92 1 cm"), "character_typeset", 2, 17 },
    { IN_FIGURE("point p(x = 3 cm) at 3 cm"), "unexpected", 2, 8 },
    { "let f = 2,5 cm\n", "decimal_comma", 1, 9 },
    { "let f = .5 cm\n", "decimal_bare", 1, 9 },
    { "let f = 5. cm\n", "decimal_bare", 1, 9 },
    { "let \xCE\xB2 = 3\n", "character_odd", 1, 5 },
    { "let a = 1.2345678901234567 cm\n", "number_digits", 1, 9 },
    { "let a = 1e99 cm\n", "number_range", 1, 9 },
    { "let a = 3 sf\n", "unit_figures", 1, 9 },
    { "let a = 1 +\n", "value_missing", 1, 12 },
    { "let a = 1 + + 2\n", "value_missing", 1, 13 },
    { "sagitta 2\nlet a = 1\n", "language_version", 1, 9 },
    { "let a = 1\nsagitta 1\n", "language_version", 2, 1 },
    { "\"a text\"\n", "statement_start", 1, 1 },
    { "figure f {\n    step \"one\" {\n        ray a from p parallel\n    step \"two\" {\n        ray b from p parallel\n    }\n}\n", "block_open", 2, 5 },
    { "# lamp room\nfigure f \"A\" {\n    mirror M plane at 3 cm\n\nfigure g { }\n", "block_open", 2, 1 },
    { "figure f {\n    mirror M plane at 3 cm\n", "block_open", 1, 1 },
    { "figure f {\n    step \"one\" { ray a from p parallel } }\n    point p at 3 cm\n}\n", "block_extra", 4, 1 },
};

Test(front, one_mistake_gives_one_message_at_its_place)
{
    for (size_t i = 0; i < sizeof WRONG / sizeof *WRONG; i++) {
        Front f;
        read_script(&f, WRONG[i].script);
        cr_expect(f.c.diags.n == 1, "%s: %u messages", WRONG[i].script, f.c.diags.n);
        if (f.c.diags.n == 0) continue;
        const SgDiag *d = &f.c.diags.v[0];
        SgPlace place = sg_text_place(&f.source, d->at.start);
        cr_expect_str_eq(sg_code_info(d->code)->id, WRONG[i].code, "%s: %s", WRONG[i].script, sg_code_info(d->code)->id);
        cr_expect(place.line == WRONG[i].line && place.column == WRONG[i].column, "%s: at %u:%u", WRONG[i].script, place.line, place.column);
        sg_arena_free(&f.arena);
    }
}

Test(front, several_mistakes_do_not_hide_each_other)
{
    Front f;
    read_script(&f, "figure f {\n    miror M concav fokal 2.5 cm at 15 cm\n    ray a from M.focus paralel\n    point p at (1 cm\n    note \"open at p\n    point q at\n}\n");
    cr_expect(f.c.diags.n == 7, "%u messages", f.c.diags.n);
    cr_expect(sg_errors(&f.c) == 7);
    uint32_t before = f.c.diags.n;
    sg_messages_settle(&f.c, f.tagged.tops.v, f.tagged.tops.n);
    cr_expect(f.c.diags.n == before, "settling twice changes nothing");
    cr_expect(child(child(f.tree, 0), 2)->damaged && child(child(f.tree, 0), 3)->damaged && !child(child(f.tree, 0), 0)->damaged, "damage marks the statement that cannot be completed, and no mended one");
    sg_arena_free(&f.arena);
}

Test(front, messages_as_text_and_json)
{
    Front f;
    SgBuf b = { 0 };
    read_script(&f, IN_FIGURE("\tmirror M plane apeture 6 cm at 3 cm # \xC3\xA9"));
    b.arena = &f.arena;
    sg_messages_text(&f.c, &b);
    sg_put_char(&b, '\0');
    static const char expected[] = "lamp.sag:2:17: error: mirror has no `apeture`; did you mean `aperture`? [word-unknown]\n"
                           "    \tmirror M plane apeture 6 cm at 3 cm # \xC3\xA9\n"
                           "    \t               ^~~~~~~\n";
    cr_expect_str_eq(b.v, expected, "%s", b.v);
    b.n = 0;
    sg_messages_json(&f.c, &b);
    sg_put_char(&b, '\0');
    cr_expect(strstr(b.v, "{ \"file\": \"lamp.sag\", \"line\": 2, \"column\": 17, \"end_line\": 2, \"end_column\": 24, \"severity\": \"error\", \"code\": \"word-unknown\""),
              "%s", b.v);
    sg_arena_free(&f.arena);

    char longest[3000];
    memset(longest, ' ', sizeof longest);
    memcpy(longest, "let a = 1", 9);
    memcpy(longest + 1500, "+ +", 3);
    longest[2999] = '\0';
    read_script(&f, longest);
    b = (SgBuf){ .arena = &f.arena };
    sg_messages_text(&f.c, &b);
    cr_expect(f.c.diags.n == 1 && b.n < 500, "a long line is cut around the caret: %u bytes", b.n);
    sg_arena_free(&f.arena);
}

Test(front, bytes_that_may_not_stand_in_a_script)
{
    static const struct { const char *bytes; size_t n; uint32_t line, column; } row[] = {
        { "let a = 1\nlet \0b = 2\n", 21, 2, 5 }, { "let a = \"caf\xE9\"\n", 15, 1, 13 }, { "let a = 1\rlet b = 2\n", 20, 1, 10 }, { "# \xE2\x80\xAE\n", 6, 1, 3 },
    };
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        Front f;
        read_bytes(&f, row[i].bytes, row[i].n);
        cr_assert(f.c.diags.n == 1 && !f.tree, "row %zu", i);
        SgPlace place = sg_text_place(&f.source, f.c.diags.v[0].at.start);
        cr_expect(f.c.diags.v[0].code == SG_MSG_byte_forbidden && place.line == row[i].line && place.column == row[i].column, "row %zu at %u:%u", i, place.line, place.column);
        SgBuf b = { .arena = &f.arena };
        sg_messages_text(&f.c, &b);
        for (uint32_t k = 0; k < b.n; k++) cr_expect(b.v[k] == '\n' || (unsigned char)b.v[k] >= ' ', "row %zu shows a control character", i);
        sg_arena_free(&f.arena);
    }
}

/* `count` times `part` between two ends: at the limit silent, one past it a message of that code. */
static uint32_t told(const char *before, const char *part, uint32_t count, const char *middle, const char *close, const char *after, const char *code)
{
    static char script[1 << 20];
    size_t n = 0;
    n += (size_t)sprintf(script + n, "%s", before);
    for (uint32_t i = 0; i < count; i++) n += (size_t)sprintf(script + n, "%s", part);
    n += (size_t)sprintf(script + n, "%s", middle);
    for (uint32_t i = 0; i < count; i++) n += (size_t)sprintf(script + n, "%s", close);
    n += (size_t)sprintf(script + n, "%s", after);
    Front f;
    read_bytes(&f, script, n);
    uint32_t messages = f.c.diags.n;
    bool right = messages == 0 || strcmp(sg_code_info(f.c.diags.v[0].code)->id, code) == 0;
    sg_arena_free(&f.arena);
    return right ? messages : 1000;
}

Test(front, limits_hold_at_their_number)
{
    static const struct { const char *what, *before, *part, *middle, *close, *after; uint32_t limit; const char *code; } row[] = {
        { "brackets", "let a = ", "(", "1", ")", "\n", SG_MAX_BRACKETS, "limit" },
        { "steps in steps", "figure f {", "step {", "", "}", "}\n", 1, "block_open" },
        { "letters of a name", "let ", "a", " = 1", "", "\n", SG_MAX_NAME, "limit" },
        { "bytes of a text", "figure f \"", "x", "\"", "", " { }\n", SG_MAX_TEXT - 2, "limit" },
        { "digits", "let a = ", "1", "", "", "\n", 15, "number_digits" },
        { "height", "let a = b", ".b", "", "", "\n", SG_MAX_HEIGHT, "limit" },
        { "statements", "figure f {\n", "let a = 1\n", "}", "", "\n", SG_MAX_STATEMENTS, "limit" },
    };
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        uint32_t at = told(row[i].before, row[i].part, row[i].limit, row[i].middle, row[i].close, row[i].after, row[i].code);
        uint32_t past = told(row[i].before, row[i].part, row[i].limit + 1, row[i].middle, row[i].close, row[i].after, row[i].code);
        cr_expect(at == 0, "%s: %u messages at the limit", row[i].what, at);
        cr_expect(past == 1, "%s: %u messages one past it", row[i].what, past);
    }
    uint32_t deep = told("figure f {", "mirror M { ", 20, "", "}", "}", "block_open");
    cr_expect(deep == 1, "blocks that hold no statements: %u", deep);
}

Test(front, what_a_hostile_script_says_is_bounded)
{
    static char bytes[500000];
    static const char *const part[] = { "(", ")", "-", "not ", "2^", "{", "}", "\"", "\"\n", ".b", "\n", ";", "x ", "x\n", "1,", "{a}", "\xE2\x80\x9C", "mirror ", "'\n", "figure f {", "let a = 1\n" };
    for (size_t i = 0; i < sizeof part / sizeof *part; i++) {
        size_t n = strlen(part[i]), count = sizeof bytes / n;
        for (size_t k = 0; k < count; k++) memcpy(bytes + k * n, part[i], n);
        Front f;
        read_bytes(&f, bytes, count * n);
        SgBuf b = { .arena = &f.arena };
        sg_messages_text(&f.c, &b);
        cr_expect(f.c.diags.n <= SG_MAX_MESSAGES && b.n < 64000, "%s: %u messages, %u bytes", part[i], f.c.diags.n, b.n);
        sg_arena_free(&f.arena);
    }
}
