/* Sheets of paper: true scale, and a key in which nothing of the sheet moves and no sheet tells its answer.
   in: small scripts, put on paper here. out: faults in words. never: measures with the compiler's own constants. */
#include "paper/paper.h"
#include "output/output.h"
#include <criterion/criterion.h>
#include <math.h>
#include <setjmp.h>
#include <stdio.h>
#include <string.h>

typedef struct { SgArena arena; jmp_buf out; SgCompile c; SgPage *sheet, *key; } Draft;

#define GIVEN "figure q {\nmirror M concave focal 4 cm aperture 6 cm at 14 cm\nobject candle height 1.5 cm at 12 cm before M\n"
#define ANSWER "step \"a\" {\nray a from candle.tip parallel\nray b from candle.tip through M.focus\nimage flame of candle by M\ndimension from M.vertex to flame.foot\n}\n"
#define OTHER "step \"a\" {\nray a from candle.tip through M.centre\npoint P at (1 cm, 1 cm)\n}\nstep \"b\" {\nray c from candle.foot angle 3 deg\nlabel \"here\" at M.centre\n}\n"

static bool lay(Draft *t, const char *script)
{
    *t = (Draft){ .arena = { .out = &t->out } };
    if (setjmp(t->out)) return false;
    t->c = (SgCompile){ .arena = &t->arena };
    sg_names_init(&t->c.names, &t->arena);
    t->c.source = SG_ARRAY(&t->arena, SgSource, 2);
    t->c.source[t->c.nsources++] = sg_text_source(&t->arena, sg_str("paper.sag"), sg_str(script));
    SgTokens raw = sg_tokens(&t->c, 0);
    SgTagged tagged = sg_words(&t->c, &raw);
    const SgModel *m = sg_model(&t->c, sg_tree(&t->c, &tagged));
    if (sg_errors(&t->c)) return false;
    SgSolved *s = sg_solve(&t->c, m, &m->figure[0], NULL, 0);
    SgScene *given = sg_scene_part(&t->c, s, &s, 1, (SgScenePart){ .paper = true }), *whole = sg_scene_part(&t->c, s, &s, 1, (SgScenePart){ .paper = true, .whole = true });
    if (sg_errors(&t->c)) return false;
    sg_layout_apart(&t->c, given, whole, sg_layout_frame(&t->c, given, 170, 76), &t->sheet, &t->key);
    return t->c.diags.n == 0;
}

static const SgPage *page_of(Draft *t, SgPaperKind kind, double w_mm, double h_mm)
{
    static const SgStr field[2] = { SG_LIT("Name"), SG_LIT("Date") };
    static SgStr answer[1] = { SG_LIT("v = 6.0 cm") };
    static SgPaperProblem q;
    q = (SgPaperProblem){ .question = sg_str("Draw two rays and find the image."), .marks = 3, .given = t->sheet, .key = t->key, .lines = 2, .answer = answer, .nanswers = 1 };
    SgPaperSheet s = { .id = sg_str("mirrors"), .title = sg_str("Mirrors"), .wording = &sg_wording_english, .w_mm = w_mm, .h_mm = h_mm, .margin_mm = 15, .check_bar_mm = 100, .columns = 1, .field = field, .nfields = 2, .set = sg_str("B"), .problem = &q, .nproblems = 1 };
    uint32_t n;
    const SgPage *const *page = sg_paper(&t->c, &s, kind, &n);
    return page ? page[0] : NULL;
}

static SgStr bytes(Draft *t, const SgPage *page)
{
    SgBuf b = { .arena = &t->arena };
    sg_output_svg(page, (SgSvgOptions){ .still = true, .step = -1 }, &b);
    return sg_buf_str(&b);
}

static bool same_item(const SgItem *a, const SgItem *b)
{
    if (a->shape != b->shape || a->nxy != b->nxy || a->rgb != b->rgb || fabs(a->line_mm - b->line_mm) > 0 || fabs(a->radius_mm - b->radius_mm) > 0) return false;
    for (uint32_t i = 0; i < a->nxy; i++) if (fabs(a->xy[i].x_mm - b->xy[i].x_mm) > 0 || fabs(a->xy[i].y_mm - b->xy[i].y_mm) > 0) return false;
    return a->shape != SG_ITEM_WORDS || sg_str_same(a->words->plain, b->words->plain);
}

static uint32_t missing_from(const SgPage *sheet, const SgPage *key)
{
    uint32_t missing = 0;
    for (uint32_t i = 0; i < sheet->nitems; i++) {
        bool there = false;
        for (uint32_t k = 0; k < key->nitems && !there; k++) there = same_item(&sheet->item[i], &key->item[k]);
        missing += !there;
    }
    return missing;
}

static bool says(const SgPage *page, const char *plain)
{
    for (uint32_t i = 0; i < page->nitems; i++)
        if (page->item[i].shape == SG_ITEM_WORDS && sg_str_is(page->item[i].words->plain, plain)) return true;
    return false;
}

/* The longest straight strokes of a direction that end in 3 mm strokes are the check bars: their length on paper. */
static double bar_mm(const SgPage *page, bool upright)
{
    for (uint32_t i = 0; i < page->nitems; i++) {
        const SgItem *it = &page->item[i];
        if (it->shape != SG_ITEM_STROKE || it->nxy != 2) continue;
        double dx = fabs(it->xy[0].x_mm - it->xy[1].x_mm), dy = fabs(it->xy[0].y_mm - it->xy[1].y_mm);
        uint32_t ticks = 0;
        for (uint32_t k = 0; k < page->nitems; k++) {
            const SgItem *o = &page->item[k];
            if (o->shape != SG_ITEM_STROKE || o->nxy != 2) continue;
            double ox = fabs(o->xy[0].x_mm - o->xy[1].x_mm), oy = fabs(o->xy[0].y_mm - o->xy[1].y_mm);
            bool across = upright ? oy < 1e-9 && ox < 3.1 : ox < 1e-9 && oy < 3.1;
            double along = upright ? o->xy[0].y_mm : o->xy[0].x_mm, from = upright ? it->xy[0].y_mm : it->xy[0].x_mm, to = upright ? it->xy[1].y_mm : it->xy[1].x_mm;
            double aside = upright ? o->xy[0].x_mm - it->xy[0].x_mm : o->xy[0].y_mm - it->xy[0].y_mm;
            bool on = (along - from) * (along - to) < 1e-9 && fabs(aside) < 1e-9;
            ticks += across && on;
        }
        if (ticks == 11 && (upright ? dx < 1e-9 : dy < 1e-9)) return upright ? dy : dx;
    }
    return 0;
}

Test(paper, the_sheet_tells_nothing_and_the_key_moves_nothing)
{
    Draft a, b;
    cr_assert(lay(&a, GIVEN ANSWER "}") && lay(&b, GIVEN OTHER "}"), "%.*s", a.c.diags.n ? (int)a.c.diags.v[0].text.n : 0, a.c.diags.n ? a.c.diags.v[0].text.s : "");
    const SgPage *sheet = page_of(&a, SG_PAPER_SHEET, 210, 297), *key = page_of(&a, SG_PAPER_KEY, 210, 297), *other = page_of(&b, SG_PAPER_SHEET, 210, 297);
    const SgPage *overlay = page_of(&a, SG_PAPER_OVERLAY, 210, 297);
    cr_assert(sheet && key && other && overlay);
    cr_expect(sg_str_same(bytes(&a, sheet), bytes(&b, other)), "another answer is seen on the sheet");
    cr_expect_eq(missing_from(sheet, key), 0, "something of the sheet moves in its key");
    cr_expect(key->nitems > sheet->nitems + 8 && says(key, "flame") && says(key, "v = 6.0 cm") && says(key, "6\xE2\x80\x89" "cm"), "the answer is not on the key");
    cr_expect(says(sheet, "F") && says(sheet, "candle") && !says(sheet, "flame") && !says(sheet, "v = 6.0 cm") && says(sheet, "[3]") && says(sheet, "Name"));
    cr_expect(!says(overlay, "candle") && says(overlay, "flame"), "an overlay has the answer only");

    /* Broken on purpose: the same checks must see it. */
    SgPage moved = *key;
    moved.item = SG_ARRAY(&a.arena, SgItem, key->nitems);
    for (uint32_t i = 0; i < key->nitems; i++) {
        moved.item[i] = key->item[i];
        SgPoint *xy = SG_ARRAY(&a.arena, SgPoint, key->item[i].nxy);
        for (uint32_t k = 0; k < key->item[i].nxy; k++) xy[k] = sg_pt(key->item[i].xy[k].x_mm + 0.01, key->item[i].xy[k].y_mm);
        moved.item[i].xy = xy;
    }
    cr_expect_gt(missing_from(sheet, &moved), 20, "a key moved by 0.01 mm is not seen");
    Draft leak;
    cr_assert(lay(&leak, "figure q {\nmirror M concave focal 4 cm aperture 6 cm at 14 cm\nobject candle height 1.5 cm at 12 cm before M\nimage flame of candle by M\n}"));
    cr_expect(!sg_str_same(bytes(&a, sheet), bytes(&leak, page_of(&leak, SG_PAPER_SHEET, 210, 297))), "a given image is not seen");
    sg_arena_free(&a.arena);
    sg_arena_free(&b.arena);
    sg_arena_free(&leak.arena);
}

Test(paper, true_scale_on_every_paper)
{
    Draft t;
    cr_assert(lay(&t, GIVEN ANSWER "}"));
    static const double size[][2] = { { 210, 297 }, { 297, 210 }, { 297, 420 }, { 420, 297 }, { 215.9, 279.4 }, { 279.4, 215.9 } };   /* ISO 216; ANSI Y14.1 A */
    cr_expect(page_of(&t, SG_PAPER_SHEET, 148, 210) == NULL && t.c.diags.n == 1 && strstr(t.c.diags.v[0].text.s, "170 mm wide and a column has 118 mm"), "a figure wider than the paper");
    for (size_t k = 0; k < sizeof size / sizeof *size; k++) {
        const SgPage *page = page_of(&t, SG_PAPER_SHEET, size[k][0], size[k][1]);
        cr_assert(page != NULL, "paper %zu", k);
        cr_expect(fabs(page->w_mm - size[k][0]) < 1e-9 && fabs(page->h_mm - size[k][1]) < 1e-9);
        cr_expect(fabs(bar_mm(page, false) - 100) < 1e-9 && fabs(bar_mm(page, true) - 100) < 1e-9, "check bars of %g and %g mm", bar_mm(page, false), bar_mm(page, true));
        for (uint32_t i = 0; i < page->nitems; i++)
            for (uint32_t j = 0; j < page->item[i].nxy; j++) {
                SgPoint p = page->item[i].xy[j];
                cr_assert(p.x_mm >= 6 && p.y_mm >= 6 && p.x_mm <= page->w_mm - 6 && p.y_mm <= page->h_mm - 6, "where no printer reaches: %g, %g", p.x_mm, p.y_mm);
            }
    }
    sg_arena_free(&t.arena);
}
