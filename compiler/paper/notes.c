/* paper/notes: speaker's notes on paper. In: figures with the texts of their steps. Out: pages of A4.
   Never draws a figure anew: its items stand smaller, all by one factor. */
#include "paper/notes.h"

#include <math.h>

#include "paper/put.h"

#define A4_W_MM 210.0              /* ISO 216 */
#define A4_H_MM 297.0
#define LEFT_MM 15.0
#define TOP_MM 14.0
#define TEXT_X_MM 113.0                /* beside the widest picture */
#define BESIDE_MM 6.0
#define ROW_X_MM 27.0                  /* where values begin, from the names */
#define PAD_MM 3.0
enum { HEAD_PT = 11, TITLE_PT = 15, TEXT_PT = 11, ROW_PT = 9 };
#define LEAD_MM(pt) (SG_PT_MM(pt) * 1.35)
#define ASCENT_MM(pt) (SG_PT_MM(pt) * 0.8)

typedef struct { SgSheaf p; double y_mm, bottom_mm; const SgPaperNotes *now; } Notes;

/* Plain text as markup that says the same. */
static SgStr as_markup(SgArena *a, SgStr plain)
{
    SgBuf b = { .arena = a };
    for (uint32_t i = 0; i < plain.n; i++) {
        char c = plain.s[i];
        if (c == '_' || c == '^' || c == '*' || c == '\\' || c == '{' || c == '}') sg_put_char(&b, '\\');
        sg_put_char(&b, c);
    }
    return b.n > 0 ? sg_buf_str(&b) : SG_LIT("");
}

/* ---- pictures ---- */
static const SgWords *smaller_words(SgArena *a, const SgWords *words, double k)
{
    SgWords *w = SG_NEW(a, SgWords);
    *w = *words;
    w->width_mm *= k;
    w->ascent_mm *= k;
    w->descent_mm *= k;
    w->run = SG_ARRAY(a, SgRun, words->nruns);
    for (uint32_t i = 0; i < words->nruns; i++) {
        w->run[i] = words->run[i];
        w->run[i].size_mm *= k;
        w->run[i].x_mm *= k;
        w->run[i].rise_mm *= k;
        w->run[i].width_mm *= k;
    }
    return w;
}

static char look_at(const SgItem *item, int step)
{
    char look = 's';
    for (uint32_t i = 0; i < item->ncues && item->cue[i].step <= step; i++) look = item->cue[i].look;
    return look;
}

/* Towards white, as opacity on white paper looks. */
static uint32_t faded(uint32_t rgb, double opacity)
{
    uint32_t out = 0;
    for (int shift = 16; shift >= 0; shift -= 8) out = out << 8 | (uint32_t)floor((rgb >> shift & 255) * opacity + 255 * (1 - opacity) + 0.5);
    return out;
}

/* The figure as it stands after a step, its corner at `corner`. */
static void put_picture(Notes *t, SgPoint corner, int step)
{
    const SgPage *figure = t->now->figure;
    SgArena *a = t->p.c->arena;
    double k = t->now->scale;
    uint32_t first = t->p.item.n;
    for (uint32_t i = 0; i < figure->nitems; i++) {
        SgItem item = figure->item[i];
        char look = look_at(&item, step);
        if (item.step > step || look == 'h') continue;
        SgPoint *xy = SG_ARRAY(a, SgPoint, item.nxy);
        for (uint32_t n = 0; n < item.nxy; n++) xy[n] = sg_pt_add(sg_pt_scale(item.xy[n], k), corner);
        item.xy = xy;
        item.line_mm *= k;
        item.radius_mm *= k;
        for (uint8_t n = 0; n < item.ndash; n++) item.dash_mm[n] *= k;
        if (item.words != NULL) item.words = smaller_words(a, item.words, k);
        if (look == 'f') item.rgb = faded(item.rgb, figure->faded);
        item.step = 0;
        item.light = 0;
        item.cue = NULL;
        item.ncues = 0;
        SG_PUSH(a, &t->p.item, item);
    }
    sg_put_told(&t->p, first, sg_page_told(a, figure, step));
}

/* ---- texts ---- */
typedef struct { const SgWords *words; double x_mm, lead_mm, size_mm; bool bar; } Line;
typedef SG_VEC(Line) Lines;

static void add_lines(Notes *t, Lines *lines, double x_mm, SgStr plain, SgFace face, int pt, bool bar)
{
    uint32_t n;
    double width = t->p.w_mm - LEFT_MM - TEXT_X_MM - x_mm;
    SgWords *line = sg_shape_lines(t->p.c->arena, as_markup(t->p.c->arena, plain), face, pt, width, &n);
    for (uint32_t i = 0; i < n; i++) SG_PUSH(t->p.c->arena, lines, ((Line){ &line[i], x_mm, LEAD_MM(pt), SG_PT_MM(pt), bar }));
}

/* The name's line is the values' first: it takes no room of its own. */
static void add_row(Notes *t, Lines *lines, const SgPaperRow *row)
{
    add_lines(t, lines, 0, row->name, SG_FACE_UPRIGHT, ROW_PT, false);
    lines->v[lines->n - 1].lead_mm = 0;
    add_lines(t, lines, ROW_X_MM, row->values, SG_FACE_UPRIGHT, ROW_PT, false);
}

static Lines lines_of(Notes *t, uint32_t k)
{
    Lines lines = { 0 };
    const SgPage *figure = t->now->figure;
    const SgWording *w = figure->wording;
    SgArena *a = t->p.c->arena;
    if (k == 0) {
        add_lines(t, &lines, 0, w->text[SG_TEXT_notes_given], SG_FACE_BOLD, TEXT_PT, false);
        if (t->now->nrows > 0) add_lines(t, &lines, 0, w->text[SG_TEXT_notes_numbers], SG_FACE_BOLD, ROW_PT, false);
        for (uint32_t i = 0; i < t->now->nrows; i++) add_row(t, &lines, &t->now->row[i]);
        return lines;
    }
    const SgPageStep *s = &figure->step[k - 1];
    add_lines(t, &lines, 0, SG_FILLED(a, w, SG_TEXT_notes_step, { "step", sg_format(a, "%u", (unsigned)k) }), SG_FACE_BOLD, TEXT_PT, false);
    if (s->ask.n) add_lines(t, &lines, 0, SG_FILLED(a, w, SG_TEXT_notes_ask, { "question", s->ask }), SG_FACE_ITALIC, TEXT_PT, false);
    if (s->plain.n) add_lines(t, &lines, 0, s->plain, SG_FACE_UPRIGHT, TEXT_PT, false);
    if (s->say.n) add_lines(t, &lines, 3, s->say, SG_FACE_UPRIGHT, TEXT_PT, true);
    return lines;
}

/* ---- pages ---- */
static void next_page(Notes *t)
{
    sg_end_page(&t->p);
    t->y_mm = TOP_MM;
}

static void put_line(Notes *t, const Line *line)
{
    if (t->y_mm + line->size_mm > t->bottom_mm) next_page(t);
    double x = TEXT_X_MM + line->x_mm;
    sg_put_words_at(&t->p, sg_pt(x, t->y_mm + 0.8 * line->size_mm), line->words, 0);
    if (line->bar) sg_put_rule(&t->p, sg_pt(TEXT_X_MM + 0.4, t->y_mm), sg_pt(TEXT_X_MM + 0.4, t->y_mm + line->lead_mm), 0.8, 0);
    t->y_mm += line->lead_mm;
}

static void put_stage(Notes *t, uint32_t k)
{
    Lines lines = lines_of(t, k);
    const SgPage *figure = t->now->figure;
    double text = 0, picture = figure->h_mm * t->now->scale;
    for (uint32_t i = 0; i < lines.n; i++) text += lines.v[i].lead_mm;
    double high = text > picture ? text : picture;
    if (t->y_mm + high + 2 * PAD_MM > t->bottom_mm && t->y_mm > TOP_MM) next_page(t);
    double top = t->y_mm + PAD_MM;
    size_t page = t->p.page.n;
    sg_put_rule(&t->p, sg_pt(LEFT_MM, t->y_mm), sg_pt(t->p.w_mm - LEFT_MM, t->y_mm), 0.2, 0);
    put_picture(t, sg_pt(LEFT_MM, top), (int)k);
    t->y_mm = top;
    for (uint32_t i = 0; i < lines.n; i++) put_line(t, &lines.v[i]);
    if (t->p.page.n == page && t->y_mm < top + picture) t->y_mm = top + picture;
    t->y_mm += PAD_MM;
}

static void put_head(Notes *t, bool first)
{
    const SgPage *figure = t->now->figure;
    SgArena *a = t->p.c->arena;
    uint32_t n;
    SgStr title = figure->title.n ? figure->title : figure->id;
    if (first) {
        sg_put_text(&t->p, sg_pt(LEFT_MM, t->y_mm + ASCENT_MM(HEAD_PT)), as_markup(a, figure->wording->text[SG_TEXT_notes_title]), SG_FACE_UPRIGHT, HEAD_PT, 0);
        t->y_mm += LEAD_MM(HEAD_PT) + PAD_MM;
    }
    n = sg_put_lines(&t->p, sg_pt(LEFT_MM, t->y_mm + ASCENT_MM(TITLE_PT)), as_markup(a, title), SG_FACE_BOLD, TITLE_PT,
        t->p.w_mm - 2 * LEFT_MM, LEAD_MM(TITLE_PT), 0, true);
    t->y_mm += n * LEAD_MM(TITLE_PT) + PAD_MM / 2;
}

const SgPage *const *sg_paper_notes(SgCompile *c, const SgPaperNotes *notes, uint32_t n, uint32_t *npages)
{
    Notes t = { .p = { .c = c } };
    t.p.w_mm = A4_W_MM;
    t.p.h_mm = A4_H_MM;
    t.bottom_mm = t.p.h_mm - TOP_MM;
    for (uint32_t i = 0; i < n; i++) {
        t.now = &notes[i];
        t.p.id = t.now->figure->id;
        t.p.title = t.now->figure->title;
        t.y_mm = TOP_MM;
        put_head(&t, i == 0);
        for (uint32_t k = 0; k <= t.now->figure->nsteps; k++) put_stage(&t, k);
        sg_end_page(&t.p);
    }
    *npages = t.p.page.n;
    return t.p.page.v;
}
