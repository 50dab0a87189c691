/* paper: problems flow down columns and pages; head, foot and check bars stand on every page.
   In: a sheet of solved problems. Out: pages of a sheet, its key or its overlay, all with the same places.
   Never moves anything for the key's sake: what the key has more stands where the student writes, or on pages of its own. */
#include "paper/put.h"
#include "layout/style.h"
#include <math.h>

/* Millimetres on paper. No printer reaches nearer than 5 mm to the edge (common practice). */
#define FOOT_MM 14.0               /* above the margin: check bar, its words */
#define RULER_MM 10.0              /* more, for a ruler */
#define EDGE_MM 9.0                /* crosses and the upright bar stand so far in, in the margin */
#define GUTTER_MM 9.0              /* for the number */
#define MARKS_MM 12.0              /* for the marks */
#define COLUMN_GAP_MM 8.0
#define BETWEEN_MM 8.0             /* problems */
#define LINE_MM 8.0                /* pitch of lines to write on */
#define SQUARE_MM 5.0
#define BAR_MM 100.0
#define CROSS_MM 4.0
enum { TITLE_PT = 14, NUMBER_PT = 11, TEXT_PT = 11, FIELD_PT = 10, FOOT_PT = 8 };
#define LEAD(pt) (SG_PT_MM(pt) * 1.35)
#define CAP(pt) (SG_PT_MM(pt) * 0.75)          /* about the height of capitals */
#define THIN_MM SG_PT_MM(0.5)

typedef struct {
    SgSheaf p;
    const SgPaperSheet *s;
    SgPaperKind kind;
    double top_mm, bottom_mm, column_mm, y_mm;
    uint32_t column;
} Sheet;

double sg_paper_column_mm(double w_mm, double margin_mm, uint32_t columns) { return (w_mm - 2 * margin_mm - (columns - 1) * COLUMN_GAP_MM) / columns; }

static bool given_too(const Sheet *t) { return t->kind != SG_PAPER_OVERLAY; }
static double column_x(const Sheet *t) { return t->s->margin_mm + t->column * (t->column_mm + COLUMN_GAP_MM); }

static void put_right(SgSheaf *p, double right_mm, double y_mm, SgStr markup, SgFace face, double size_pt, uint32_t rgb)
{
    SgWords *words = SG_NEW(p->c->arena, SgWords);
    *words = sg_shape(p->c->arena, markup, face, size_pt);
    sg_put_words_at(p, sg_pt(right_mm - words->width_mm, y_mm), words, rgb);
}

/* ---- every page: head, foot, bars ---- */

static void put_crosses(Sheet *t)
{
    for (int i = 0; i < 4; i++) {
        double x = i % 2 ? t->p.w_mm - EDGE_MM : EDGE_MM, y = i / 2 ? t->p.h_mm - EDGE_MM : EDGE_MM, half = CROSS_MM / 2;
        sg_put_rule(&t->p, sg_pt(x - half, y), sg_pt(x + half, y), THIN_MM, SG_INK_RGB);
        sg_put_rule(&t->p, sg_pt(x, y - half), sg_pt(x, y + half), THIN_MM, SG_INK_RGB);
    }
}

/* A bar from `at` along `way`, with a stroke at each of n parts to the side `out`: longer at its ends, and at each `most`th. */
static void put_bar(Sheet *t, SgPoint at, SgPoint way, SgPoint out, double part_mm, uint32_t n, uint32_t half, uint32_t most)
{
    sg_put_rule(&t->p, at, sg_pt_along(at, way, n * part_mm), THIN_MM, SG_INK_RGB);
    for (uint32_t i = 0; i <= n; i++) {
        SgPoint foot = sg_pt_along(at, way, i * part_mm);
        double stroke = i == 0 || i == n || i % most == 0 ? 3.0 : i % half == 0 ? 2.2 : 1.5;
        sg_put_rule(&t->p, foot, sg_pt_along(foot, out, stroke), THIN_MM, SG_INK_RGB);
    }
}

static void put_ruler(Sheet *t, double y_mm)
{
    bool inch = t->s->rulers == SG_RULERS_INCH;
    double part = inch ? 25.4 / 8 : 1, left = t->s->margin_mm;
    uint32_t most = inch ? 8 : 10, n = (uint32_t)((t->p.w_mm - 2 * left) / part + 1e-9) / most * most;
    put_bar(t, sg_pt(left, y_mm), sg_pt(1, 0), sg_pt(0, -1), part, n, most / 2, most);
    for (uint32_t i = 0; i <= n; i += most) {
        SgStr number = sg_format(t->p.c->arena, i == 0 ? "%u %s" : "%u", (unsigned)(i / most), inch ? "in" : "cm");
        sg_put_text(&t->p, sg_pt(left + i * part + 0.8, y_mm - 3.2), number, SG_FACE_UPRIGHT, 7, SG_INK_RGB);
    }
}

static void put_check_bars(Sheet *t)
{
    double y = t->p.h_mm - t->s->margin_mm - 1, x = t->p.w_mm - EDGE_MM, bar = t->s->check_bar_mm, part = bar / 10;
    if (t->s->rulers != SG_RULERS_NONE) put_ruler(t, y - RULER_MM);
    if (bar <= 0) return;
    put_bar(t, sg_pt(t->s->margin_mm, y), sg_pt(1, 0), sg_pt(0, -1), part, 10, 5, 10);
    put_bar(t, sg_pt(x, (t->p.h_mm + bar) / 2), sg_pt(0, -1), sg_pt(-1, 0), part, 10, 5, 10);
    SgStr length = sg_format(t->p.c->arena, "%u mm", (unsigned)(bar + 0.5));
    sg_put_text(&t->p, sg_pt(t->s->margin_mm + bar + 3, y - 0.5), length, SG_FACE_UPRIGHT, FOOT_PT, SG_INK_RGB);
}

static void put_foot(Sheet *t, uint32_t page, uint32_t pages)
{
    double y = t->p.h_mm - EDGE_MM - 0.5 + CAP(FOOT_PT) / 2;
    SgArena *a = t->p.c->arena;
    const SgWording *w = t->s->wording;
    SgStr bar = sg_format(a, "%u", (unsigned)(t->s->check_bar_mm + 0.5)), foot = SG_LIT("");
    if (t->s->set.n) foot = SG_FILLED(a, w, SG_TEXT_sheet_set, { "set", t->s->set });
    if (t->s->seed.n) foot = sg_joined(a, w, foot, SG_FILLED(a, w, SG_TEXT_sheet_seed, { "seed", t->s->seed }));
    if (t->s->check_bar_mm > 0) foot = sg_joined(a, w, foot, SG_FILLED(a, w, SG_TEXT_sheet_print, { "bar", bar }));
    foot = sg_joined(a, w, foot, t->s->footer);
    put_check_bars(t);
    if (foot.n) sg_put_text(&t->p, sg_pt(t->s->margin_mm, y), foot, SG_FACE_UPRIGHT, FOOT_PT, SG_INK_RGB);
    SgStr of = SG_FILLED(a, w, SG_TEXT_sheet_page, { "page", sg_format(a, "%u", (unsigned)page) }, { "pages", sg_format(a, "%u", (unsigned)pages) });
    put_right(&t->p, t->p.w_mm - t->s->margin_mm, y, of, SG_FACE_UPRIGHT, FOOT_PT, SG_INK_RGB);
}

/* Fields share the line: each its word and a rule to write on. */
static double put_fields(Sheet *t, double y_mm)
{
    if (t->s->nfields == 0) return y_mm;
    double each = (t->p.w_mm - 2 * t->s->margin_mm) / t->s->nfields, base = y_mm + LEAD(FIELD_PT) + 1;
    for (uint32_t i = 0; i < t->s->nfields && given_too(t); i++) {
        double x = t->s->margin_mm + i * each, w = sg_put_text(&t->p, sg_pt(x, base), t->s->field[i], SG_FACE_UPRIGHT, FIELD_PT, SG_INK_RGB);
        sg_put_rule(&t->p, sg_pt(x + w + 2, base + 0.5), sg_pt(x + each - 4, base + 0.5), THIN_MM, SG_RULE_RGB);
    }
    return base + 2;
}

static double put_caution(Sheet *t, double y_mm)
{
    if (!t->s->caution.n) return y_mm;
    double w = t->p.w_mm - 2 * t->s->margin_mm, pad = 2;
    SgPoint first = sg_pt(t->s->margin_mm + pad, y_mm + 3 + pad + CAP(FIELD_PT));
    uint32_t n = sg_put_lines(&t->p, first, t->s->caution, SG_FACE_BOLD, FIELD_PT, w - 2 * pad, LEAD(FIELD_PT), SG_INK_RGB, given_too(t));
    double h = 2 * pad + CAP(FIELD_PT) + (n - 1) * LEAD(FIELD_PT);
    if (given_too(t)) sg_put_frame(&t->p, sg_pt(t->s->margin_mm, y_mm + 3), w, h, SG_PT_MM(1.0), SG_INK_RGB);
    return y_mm + 3 + h;
}

/* The first page has all of it, the others their title; returns where problems begin. */
static void begin_page(Sheet *t)
{
    double y = t->s->margin_mm + CAP(TITLE_PT);
    if (t->p.page.n == 0) {
        if (given_too(t)) sg_put_text(&t->p, sg_pt(t->s->margin_mm, y), t->s->title, SG_FACE_BOLD, TITLE_PT, SG_INK_RGB);
        y = put_fields(t, y + 2);
    } else if (given_too(t)) {
        sg_put_text(&t->p, sg_pt(t->s->margin_mm, y), t->s->title, SG_FACE_UPRIGHT, FIELD_PT, SG_INK_RGB);
    }
    if (t->kind != SG_PAPER_SHEET) put_right(&t->p, t->p.w_mm - t->s->margin_mm, t->s->margin_mm - 2, t->s->wording->text[t->kind == SG_PAPER_KEY ? SG_TEXT_sheet_key : SG_TEXT_sheet_overlay], SG_FACE_BOLD, FIELD_PT, SG_KEY_RGB);
    y = put_caution(t, y);
    put_crosses(t);
    t->top_mm = t->y_mm = y + 7;
    t->column = 0;
}

/* ---- a problem ---- */

static void put_squares(Sheet *t, SgPoint corner, double w_mm, double h_mm)
{
    const uint32_t pale = 0xC3CDD1;
    for (double x = 0; x <= w_mm + 1e-9; x += SQUARE_MM) sg_put_rule(&t->p, sg_pt(corner.x_mm + x, corner.y_mm), sg_pt(corner.x_mm + x, corner.y_mm + h_mm), THIN_MM / 2, pale);
    for (double y = 0; y <= h_mm + 1e-9; y += SQUARE_MM) sg_put_rule(&t->p, sg_pt(corner.x_mm, corner.y_mm + y), sg_pt(corner.x_mm + w_mm, corner.y_mm + y), THIN_MM / 2, pale);
}

/* A picture to work on says only which it is: in words it could tell what is asked. */
static void put_problem_figure(Sheet *t, uint32_t index, SgPoint corner)
{
    const SgPaperProblem *q = &t->s->problem[index];
    uint32_t first = t->p.item.n;
    SgStr number = sg_format(t->p.c->arena, "%u", (unsigned)index + 1);
    if (given_too(t)) sg_put_figure(&t->p, corner, q->given, -1, SG_INK_RGB);
    bool answer = t->kind != SG_PAPER_SHEET && q->key != NULL;
    if (answer) sg_put_figure(&t->p, corner, q->key, 1, SG_KEY_RGB);
    for (uint32_t i = 0; answer && i < q->nzones && t->kind == SG_PAPER_OVERLAY; i++)
        sg_put_ellipse(&t->p, sg_pt_add(corner, q->zone[i].centre), q->zone[i].half_w_mm, q->zone[i].half_h_mm, SG_PT_MM(1.0), SG_KEY_RGB);
    sg_put_told(&t->p, first, SG_FILLED(t->p.c->arena, t->s->wording, SG_TEXT_sheet_picture, { "number", number }));
}

/* Where the student writes stands, in the key, as much of the answer as has room; returns how many of its lines. */
static uint32_t put_answers(Sheet *t, const SgPaperProblem *q, double x_mm, double y_mm, double width_mm, double room_mm, double pitch_mm)
{
    uint32_t most = (uint32_t)floor(room_mm / pitch_mm + 1e-9), n = q->nanswers < most ? q->nanswers : most;
    for (uint32_t i = 0; i < n && t->kind == SG_PAPER_KEY; i++) {
        uint32_t lines = sg_put_lines(&t->p, sg_pt(0, 0), q->answer[i], SG_FACE_UPRIGHT, FIELD_PT, width_mm, 0, SG_KEY_RGB, false);
        if (lines > 1) return i;
        sg_put_lines(&t->p, sg_pt(x_mm, y_mm + (i + 1) * pitch_mm - 1.5), q->answer[i], SG_FACE_UPRIGHT, FIELD_PT, width_mm, 0, SG_KEY_RGB, true);
    }
    return n;
}

/* The height of a problem from the top of its number; draw: it is put as well. */
static double problem(Sheet *t, uint32_t index, double y_mm, bool draw, uint32_t *answered)
{
    const SgPaperProblem *q = &t->s->problem[index];
    SgArena *a = t->p.c->arena;
    bool given = draw && given_too(t);
    double x = column_x(t), text_x = x + GUTTER_MM, text_w = t->column_mm - GUTTER_MM - (q->marks ? MARKS_MM : 0), y = y_mm + CAP(TEXT_PT);
    if (draw) sg_put_text(&t->p, sg_pt(x, y), sg_format(a, "%u", (unsigned)index + 1), SG_FACE_BOLD, NUMBER_PT, given_too(t) ? SG_INK_RGB : SG_KEY_RGB);
    uint32_t n = sg_put_lines(&t->p, sg_pt(text_x, y), q->question, SG_FACE_UPRIGHT, TEXT_PT, text_w, LEAD(TEXT_PT), SG_INK_RGB, given);
    y += (n - 1) * LEAD(TEXT_PT);
    if (q->marks && given) put_right(&t->p, x + t->column_mm, y, sg_format(a, "[%u]", (unsigned)q->marks), SG_FACE_UPRIGHT, TEXT_PT, SG_INK_RGB);
    y += 2;
    for (uint32_t i = 0; i < q->nchoices; i++) {
        y += LEAD(TEXT_PT);
        if (given) sg_put_text(&t->p, sg_pt(text_x, y), sg_format(a, "%c", 'A' + (char)i), SG_FACE_BOLD, TEXT_PT, SG_INK_RGB);
        if (draw && t->kind != SG_PAPER_SHEET && i == q->right) sg_put_ellipse(&t->p, sg_pt(text_x + 1.3, y - CAP(TEXT_PT) / 2 + 0.1), 2.6, 2.6, SG_PT_MM(1.0), SG_KEY_RGB);
        n = sg_put_lines(&t->p, sg_pt(text_x + 7, y), q->choice[i], SG_FACE_UPRIGHT, TEXT_PT, text_w - 7, LEAD(TEXT_PT), SG_INK_RGB, given);
        y += (n - 1) * LEAD(TEXT_PT);
    }
    if (q->given) {
        double room = t->column_mm - q->given->w_mm;
        if (draw) put_problem_figure(t, index, sg_pt(x + (room > 0 ? room / 2 : 0), y + 2));
        y += 2 + q->given->h_mm;
    }
    *answered = 0;
    for (uint32_t i = 1; i <= q->lines && given; i++) sg_put_rule(&t->p, sg_pt(text_x, y + i * LINE_MM), sg_pt(x + t->column_mm, y + i * LINE_MM), THIN_MM, SG_RULE_RGB);
    if (q->lines) *answered = put_answers(t, q, text_x, y, t->column_mm - GUTTER_MM, draw ? q->lines * LINE_MM : 0, LINE_MM);
    y += q->lines * LINE_MM;
    if (q->box_mm > 0) {
        double w = t->column_mm - GUTTER_MM;
        if (given && q->squared) put_squares(t, sg_pt(text_x, y + 2), floor(w / SQUARE_MM) * SQUARE_MM, floor(q->box_mm / SQUARE_MM) * SQUARE_MM);
        else if (given) sg_put_frame(&t->p, sg_pt(text_x, y + 2), w, q->box_mm, THIN_MM, SG_RULE_RGB);
        if (!q->lines) *answered = put_answers(t, q, text_x + 2, y + 2, t->column_mm - GUTTER_MM - 4, draw ? q->box_mm : 0, 6);
        y += 2 + q->box_mm;
    }
    return y - y_mm;
}

static bool too_wide(Sheet *t, const SgPaperProblem *q)
{
    if (!q->given || q->given->w_mm <= t->column_mm + 1e-6) return false;
    sg_say(t->p.c, SG_MSG_sheet_room, q->at, "this problem's figure is %d mm wide and a column has %d mm; make its `frame` narrower, or take fewer columns or larger paper",
           (int)ceil(q->given->w_mm), (int)t->column_mm);
    return true;
}

/* The next column, or the first of the next page. */
static void next_column(Sheet *t)
{
    if (t->column + 1 < t->s->columns) {
        t->column++;
        t->y_mm = t->top_mm;
        return;
    }
    sg_end_page(&t->p);
    begin_page(t);
}

static bool put_problems(Sheet *t, uint32_t *answered)
{
    for (uint32_t i = 0; i < t->s->nproblems; i++) {
        const SgPaperProblem *q = &t->s->problem[i];
        if (q->breaks && i > 0) {
            sg_end_page(&t->p);
            begin_page(t);
        }
        uint32_t none;
        double height = problem(t, i, 0, false, &none);
        if (too_wide(t, q)) return false;
        for (uint32_t tries = 0; t->y_mm + height > t->bottom_mm + 1e-6; tries++) {
            if (tries > t->s->columns) {               /* no page has more room than this one */
                sg_say(t->p.c, SG_MSG_sheet_room, q->at, "this problem needs %d mm of height and a page has %d mm; make its `frame` lower, give it fewer `lines`, or take larger paper",
                       (int)ceil(height), (int)(t->bottom_mm - t->top_mm));
                return false;
            }
            next_column(t);
        }
        problem(t, i, t->y_mm, true, &answered[i]);
        t->y_mm += height + BETWEEN_MM;
    }
    sg_end_page(&t->p);
    return true;
}

/* ---- the key's own pages ---- */

static void room_for(Sheet *t, double height_mm)
{
    if (t->y_mm + height_mm <= t->bottom_mm || t->y_mm <= t->top_mm) return;
    next_column(t);
}

static void worked_line(Sheet *t, SgStr markup, SgFace face, double x_mm)
{
    double w = column_x(t) + t->column_mm - x_mm;
    uint32_t n = sg_put_lines(&t->p, sg_pt(0, 0), markup, face, FIELD_PT, w, 0, SG_INK_RGB, false);
    double shift = x_mm - column_x(t);
    room_for(t, n * LEAD(FIELD_PT));
    sg_put_lines(&t->p, sg_pt(column_x(t) + shift, t->y_mm + CAP(FIELD_PT)), markup, face, FIELD_PT, w, LEAD(FIELD_PT), SG_INK_RGB, true);
    t->y_mm += n * LEAD(FIELD_PT);
}

/* The answers that found no room on the sheet, and the worked solutions. */
static void put_worked(Sheet *t, const uint32_t *answered)
{
    bool any = false;
    for (uint32_t i = 0; i < t->s->nproblems; i++) any = any || t->s->problem[i].nworked > 0 || answered[i] < t->s->problem[i].nanswers;
    if (!any) return;
    begin_page(t);
    for (uint32_t i = 0; i < t->s->nproblems; i++) {
        const SgPaperProblem *q = &t->s->problem[i];
        if (q->nworked == 0 && answered[i] >= q->nanswers) continue;
        room_for(t, 4 * LEAD(FIELD_PT));
        sg_put_text(&t->p, sg_pt(column_x(t), t->y_mm + CAP(FIELD_PT)), sg_format(t->p.c->arena, "%u", (unsigned)i + 1), SG_FACE_BOLD, NUMBER_PT, SG_INK_RGB);
        for (uint32_t k = answered[i]; k < q->nanswers; k++) worked_line(t, q->answer[k], SG_FACE_UPRIGHT, column_x(t) + GUTTER_MM);
        for (uint32_t k = 0; k < q->nworked; k++) worked_line(t, q->worked[k], SG_FACE_UPRIGHT, column_x(t) + GUTTER_MM);
        t->y_mm += LEAD(FIELD_PT);
    }
    sg_end_page(&t->p);
}

static const SgPage *const *finish(Sheet *t, uint32_t *npages)
{
    /* The foot needs the number of pages, so it comes last. */
    *npages = t->p.page.n;
    SgSheaf done = t->p;
    for (uint32_t i = 0; i < *npages; i++) {
        const SgPage *page = done.page.v[i];
        t->p.item.n = 0;
        put_foot(t, i + 1, *npages);
        SgPage *whole = SG_NEW(t->p.c->arena, SgPage);
        *whole = *page;
        whole->nitems = page->nitems + t->p.item.n;
        whole->item = SG_ARRAY(t->p.c->arena, SgItem, whole->nitems);
        for (uint32_t k = 0; k < page->nitems; k++) whole->item[k] = page->item[k];
        for (uint32_t k = 0; k < t->p.item.n; k++) whole->item[page->nitems + k] = t->p.item.v[k];
        done.page.v[i] = whole;
    }
    return done.page.v;
}

static Sheet sheet_of(SgCompile *c, const SgPaperSheet *s, SgPaperKind kind)
{
    Sheet t = { .s = s, .kind = kind };
    t.p = (SgSheaf){ .c = c, .id = s->id, .title = sg_plain(c->arena, s->title), .wording = s->wording };
    t.p.w_mm = s->w_mm;
    t.p.h_mm = s->h_mm;
    t.bottom_mm = s->h_mm - s->margin_mm - FOOT_MM - (s->rulers != SG_RULERS_NONE ? RULER_MM : 0);
    t.column_mm = sg_paper_column_mm(s->w_mm, s->margin_mm, s->columns);
    return t;
}

const SgPage *const *sg_paper(SgCompile *c, const SgPaperSheet *s, SgPaperKind kind, uint32_t *npages)
{
    Sheet t = sheet_of(c, s, kind);
    uint32_t *answered = SG_ARRAY(c->arena, uint32_t, s->nproblems + 1);
    begin_page(&t);
    if (!put_problems(&t, answered)) return NULL;
    if (kind == SG_PAPER_KEY) put_worked(&t, answered);
    return finish(&t, npages);
}

/* ---- answers of all versions ---- */

static void strip_row(Sheet *t, const SgPaperStrip *s, uint32_t row, double first_mm, double each_mm)
{
    double base = t->y_mm + CAP(FIELD_PT);
    uint32_t most = 1;
    sg_put_text(&t->p, sg_pt(t->s->margin_mm, base), s->row[row], SG_FACE_BOLD, FIELD_PT, SG_INK_RGB);
    for (uint32_t k = 0; k < s->ncolumns; k++) {
        uint32_t n = sg_put_lines(&t->p, sg_pt(first_mm + k * each_mm, base), s->cell[row * s->ncolumns + k], SG_FACE_UPRIGHT, FIELD_PT, each_mm - 2, LEAD(FIELD_PT), SG_INK_RGB, true);
        if (n > most) most = n;
    }
    t->y_mm += most * LEAD(FIELD_PT) + 2;
    sg_put_rule(&t->p, sg_pt(t->s->margin_mm, t->y_mm - 1.5), sg_pt(t->p.w_mm - t->s->margin_mm, t->y_mm - 1.5), THIN_MM, SG_RULE_RGB);
}

const SgPage *const *sg_paper_strip(SgCompile *c, const SgPaperStrip *s, uint32_t *npages)
{
    enum { LEAST_COLUMN_MM = 22 };
    SgPaperSheet plain = { .id = s->id, .title = s->title, .wording = s->wording, .w_mm = s->w_mm, .h_mm = s->h_mm, .margin_mm = s->margin_mm, .columns = 1 };
    Sheet t = sheet_of(c, &plain, SG_PAPER_SHEET);
    double first = s->margin_mm + GUTTER_MM + 12, wide = t.p.w_mm - s->margin_mm - first;
    uint32_t side = (uint32_t)(wide / LEAST_COLUMN_MM), from = 0;
    if (side > s->ncolumns) side = s->ncolumns;
    while (from < s->ncolumns) {                       /* as many versions side by side as there is room for */
        SgPaperStrip part = *s;
        part.ncolumns = s->ncolumns - from < side ? s->ncolumns - from : side;
        SgStr *cell = SG_ARRAY(c->arena, SgStr, s->nrows * part.ncolumns + 1);
        for (uint32_t r = 0; r < s->nrows; r++)
            for (uint32_t k = 0; k < part.ncolumns; k++) cell[r * part.ncolumns + k] = s->cell[r * s->ncolumns + from + k];
        part.cell = cell;
        double each = wide / side;
        begin_page(&t);
        for (uint32_t k = 0; k < part.ncolumns; k++) sg_put_text(&t.p, sg_pt(first + k * each, t.y_mm + CAP(FIELD_PT)), s->column[from + k], SG_FACE_BOLD, FIELD_PT, SG_INK_RGB);
        t.y_mm += LEAD(FIELD_PT) + 2;
        for (uint32_t r = 0; r < s->nrows; r++) {
            if (t.y_mm + 3 * LEAD(FIELD_PT) > t.bottom_mm) {
                sg_end_page(&t.p);
                begin_page(&t);
            }
            strip_row(&t, &part, r, first, each);
        }
        sg_end_page(&t.p);
        from += part.ncolumns;
    }
    return finish(&t, npages);
}
