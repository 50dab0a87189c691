/* Panels and strips. In: parts as pages, each to be shown up to a step. Out: one page of all their items, moved, with letters.
   Nothing is made smaller to fit. */
#include "panel/panel.h"
#include "base/num.h"
#include "solved/build.h"
#include <math.h>

#define SG_TEXT_GAP_MM 1.0         /* between a part's frame and the letters' tops */

/* A part: a page, the last step shown (its items' own), the words beneath. */
typedef struct { const SgPage *page; int step; uint32_t figure; SgStr text; SgWords letter, *line; uint32_t nlines; } Part;
typedef struct {
    SgCompile *c;
    SgStyle style;                 /* of the first part: its letters and its ink */
    SG_VEC(Part) part;
    uint32_t columns;
    double gap_mm, width_mm;       /* width 0: as wide as the parts */
    SgSpan width_at;
    bool lettered;
    double *column_mm;             /* width of each column */
    double *before_mm;             /* from its left to where the parts' places are counted from */
    bool *same;                    /* its parts are one figure; others stand in the middle */
} Panel;

static double high(double a, double b) { return a > b ? a : b; }

static double lead_mm(const Panel *p) { return SG_PT_MM(p->style.label_pt) * p->style.caption_lead; }

static uint32_t rows(const Panel *p) { return (p->part.n + p->columns - 1) / p->columns; }

/* (a) to (z), then (aa), (ab) and so on. */
static SgStr letter_of(SgArena *a, uint32_t i)
{
    if (i < 26) return sg_format(a, "(%c)", (char)('a' + i));
    return sg_format(a, "(%c%c)", (char)('a' + i / 26 - 1), (char)('a' + i % 26));
}

static void shape_words(Panel *p)
{
    SgArena *a = p->c->arena;
    for (uint32_t i = 0; i < p->part.n; i++) {
        Part *part = &p->part.v[i];
        double pt = p->style.label_pt, room = p->column_mm[i % p->columns] - 2 * p->style.margin_mm;
        if (p->lettered) part->letter = sg_shape(a, letter_of(a, i), SG_FACE_BOLD, pt);
        if (part->letter.width_mm > 0) room -= part->letter.width_mm + 0.5 * SG_PT_MM(pt);
        if (part->text.n) part->line = sg_shape_lines(a, part->text, SG_FACE_UPRIGHT, pt, room > 20 ? room : 20, &part->nlines);
    }
}

/* Of a row: the parts' height above and below their axes, and the lines beneath. */
typedef struct { double over_mm, under_mm; uint32_t lines; } Row;

static Row row_of(const Panel *p, uint32_t row)
{
    Row r = { 0 };
    for (uint32_t i = row * p->columns; i < p->part.n && i < (row + 1) * p->columns; i++) {
        const Part *part = &p->part.v[i];
        uint32_t lines = part->nlines > 0 ? part->nlines : part->letter.nruns > 0;
        r.over_mm = high(r.over_mm, part->page->origin.y_mm);
        r.under_mm = high(r.under_mm, part->page->h_mm - part->page->origin.y_mm);
        if (lines > r.lines) r.lines = lines;
    }
    return r;
}

static double row_height(const Panel *p, const Row *r) { return r->over_mm + r->under_mm + (r->lines ? SG_TEXT_GAP_MM + r->lines * lead_mm(p) + p->style.margin_mm / 2 : 0); }

/* What an item looks like in the end, seen up to its part's step: hidden ones are left out, faded ones stay so. */
static bool take(const SgItem *from, int step, SgItem *to)
{
    static const SgCue faded = { 0, 'f' };
    char look = 's';
    *to = *from;
    if (from->step > step) return false;
    for (uint32_t i = 0; i < from->ncues && from->cue[i].step <= step; i++) look = from->cue[i].look;
    to->step = 0;
    to->light = 0;
    to->cue = look == 'f' ? &faded : NULL;
    to->ncues = look == 'f';
    return look != 'h';
}

typedef SG_VEC(SgItem) Items;

static void put_part(Panel *p, Items *out, const Part *part, double x_mm, double y_mm)
{
    SgArena *a = p->c->arena;
    for (uint32_t i = 0; i < part->page->nitems; i++) {        /* they come by step */
        const SgItem *from = &part->page->item[i];
        SgItem item;
        if (!take(from, part->step, &item)) continue;
        SgPoint *xy = SG_ARRAY(a, SgPoint, from->nxy);
        for (uint32_t k = 0; k < from->nxy; k++) xy[k] = sg_pt(from->xy[k].x_mm + x_mm, from->xy[k].y_mm + y_mm);
        item.xy = xy;
        SG_PUSH(a, out, item);
    }
}

static void put_line(Panel *p, Items *out, const SgWords *words, double x_mm, double y_mm)
{
    SgPoint *at = SG_NEW(p->c->arena, SgPoint);
    SgItem item = { .shape = SG_ITEM_WORDS, .role = SG_ROLE_NOTE, .name = SG_LIT(""), .rgb = p->style.ink_rgb, .xy = at, .nxy = 1, .words = words };
    *at = sg_pt(x_mm, y_mm);
    SG_PUSH(p->c->arena, out, item);
}

static void put_words(Panel *p, Items *out, const Part *part, double x_mm, double y_mm)
{
    double first = y_mm + SG_TEXT_GAP_MM + 0.75 * SG_PT_MM(p->style.label_pt), x = x_mm + p->style.margin_mm;
    if (part->letter.nruns > 0) {
        put_line(p, out, &part->letter, x, first);
        x += part->letter.width_mm + 0.5 * SG_PT_MM(p->style.label_pt);
    }
    for (uint32_t i = 0; i < part->nlines; i++) put_line(p, out, &part->line[i], x, first + i * lead_mm(p));
}

/* One figure with several values stands with its places below each other, so that they can be compared; others in the middle. */
static void measure_column(Panel *p, uint32_t k)
{
    double wide = 0, before = -1e9, after = -1e9;
    bool same = true;
    for (uint32_t i = k; i < p->part.n; i += p->columns) {
        const Part *part = &p->part.v[i];
        wide = high(wide, part->page->w_mm);
        before = high(before, part->page->origin.x_mm);
        after = high(after, part->page->w_mm - part->page->origin.x_mm);
        same = same && part->figure == p->part.v[k].figure;
    }
    p->column_mm[k] = same ? before + after : wide;
    p->before_mm[k] = before;
    p->same[k] = same;
}

/* The whole width, nothing spread. */
static double measure(Panel *p)
{
    double wide = p->gap_mm * (p->columns - 1);
    p->column_mm = SG_ARRAY(p->c->arena, double, p->columns);
    p->before_mm = SG_ARRAY(p->c->arena, double, p->columns);
    p->same = SG_ARRAY(p->c->arena, bool, p->columns);
    for (uint32_t k = 0; k < p->columns; k++) {
        measure_column(p, k);
        wide += p->column_mm[k];
    }
    return wide;
}

static void say_narrow(const Panel *p, double needs_mm)
{
    SgBuf needs = { .arena = p->c->arena }, has = { .arena = p->c->arena };
    sg_put_mm3(&needs, floor(needs_mm + 1));
    sg_put_mm3(&has, p->width_mm);
    SgStr need = sg_buf_str(&needs), is = sg_buf_str(&has);
    sg_say(p->c, SG_MSG_frame_small, p->width_at, "the parts need %.*s mm across, more than %.*s mm, so the panel is wider; write `across %.*s mm`, fewer `columns`, or a smaller `scale`",
           (int)need.n, need.s, (int)is.n, is.s, (int)need.n, need.s);
}

/* Each part as far as it goes: a figure cut short tells what is given and its captions, never its end. */
static SgStr described(const Panel *p)
{
    SgBuf b = { .arena = p->c->arena };
    for (uint32_t i = 0; i < p->part.n; i++) {
        const Part *part = &p->part.v[i];
        const SgPage *page = part->page;
        bool whole = part->step >= (int)page->nsteps;
        SgStr letter = letter_of(p->c->arena, i), text = sg_plain(p->c->arena, part->text), told = whole ? page->describe : page->given;
        if (i) sg_put_char(&b, ' ');
        if (p->lettered) sg_putf(&b, "%.*s ", (int)letter.n, letter.s);
        sg_put_str(&b, text);
        if (text.n && told.n) sg_puts(&b, text.s[text.n - 1] == '.' ? " " : ". ");
        sg_put_str(&b, told);
        for (int k = 0; !whole && k < part->step; k++) sg_putf(&b, " %.*s", (int)page->step[k].plain.n, page->step[k].plain.s);
    }
    return sg_buf_str(&b);
}

/* A panel is called by its title where there is room for little: the short text of one part would tell of that part only. */
static SgStr briefly(SgArena *a, SgStr title)
{
    enum { BRIEF_MOST = 150 };
    uint32_t end = 0, n = 0, space = 0, code;
    while (end < title.n && n < BRIEF_MOST) {
        if (title.s[end] == ' ') space = end;
        end = sg_utf8_next(title, end, &code);
        n++;
    }
    if (end < title.n && space > 0) end = space;
    return sg_str_keep(a, title.s, end);
}

static SgPage *compose(Panel *p, SgStr id, SgStr title)
{
    SgPage *page = SG_NEW(p->c->arena, SgPage);
    Items items = { 0 };
    const SgPage *first = p->part.v[0].page;
    if (p->columns == 0 || p->columns > p->part.n) p->columns = p->part.n;
    double natural = measure(p), spare = p->width_mm > 0 ? p->width_mm - natural : 0, y = 0;
    if (spare < -1e-9) { say_narrow(p, natural); spare = 0; }
    double each = p->columns > 1 ? spare / (p->columns - 1) : 0, left = p->columns > 1 ? 0 : spare / 2;
    shape_words(p);
    for (uint32_t row = 0; row < rows(p); row++) {
        Row r = row_of(p, row);
        double x = left;
        for (uint32_t k = 0; k < p->columns && row * p->columns + k < p->part.n; k++) {
            const Part *part = &p->part.v[row * p->columns + k];
            double in = p->same[k] ? p->before_mm[k] - part->page->origin.x_mm : (p->column_mm[k] - part->page->w_mm) / 2;
            put_part(p, &items, part, x + in, y + r.over_mm - part->page->origin.y_mm);
            put_words(p, &items, part, x, y + r.over_mm + r.under_mm);
            x += p->column_mm[k] + p->gap_mm + each;
        }
        y += row_height(p, &r) + (row + 1 < rows(p) ? p->gap_mm : 0);
    }
    *page = *first;                                    /* paper, inks, wording */
    page->id = id;
    page->title = title;
    page->describe = page->given = described(p);       /* it has no steps: all of it is seen at once */
    page->brief = page->brief_given = briefly(p->c->arena, title);
    page->w_mm = natural + spare;
    page->h_mm = y;
    page->item = items.v;
    page->nitems = items.n;
    page->step = NULL;
    page->nsteps = 0;
    page->strip_mm = 0;
    return page;
}

/* Markup of a step's caption is gone by now; what is plain must stay so. */
static SgStr plainly(SgArena *a, SgStr s)
{
    SgBuf b = { .arena = a };
    for (uint32_t i = 0; i < s.n; i++) {
        if (s.s[i] == '_' || s.s[i] == '^' || s.s[i] == '*' || s.s[i] == '\\') sg_put_char(&b, '\\');
        sg_put_char(&b, s.s[i]);
    }
    return sg_buf_str(&b);
}

static void add_steps(Panel *p, const SgPage *page, uint32_t figure)
{
    for (uint32_t k = 0; k <= page->nsteps; k++) {
        Part part = { .page = page, .step = (int)k, .figure = figure, .text = k > 0 ? plainly(p->c->arena, page->step[k - 1].plain) : SG_LIT("") };
        SG_PUSH(p->c->arena, &p->part, part);
    }
}

SgPage *sg_strip(SgCompile *c, const SgPage *page, const SgStyle *style, uint32_t columns)
{
    Panel p = { .c = c, .style = *style, .columns = columns, .gap_mm = 2, .lettered = true };
    add_steps(&p, page, 0);
    while (columns == 0 && p.columns < 4 && p.columns * p.columns * page->w_mm < p.part.n * (page->h_mm + 10)) p.columns++;
    if (p.columns == 0) p.columns = 1;
    return compose(&p, page->id, page->title);
}

/* ---- a panel of the model ---- */

static bool whole(SgSolved *s, const SgPhrase *f, int least, int most, uint32_t *out)
{
    if (!f || !f->n) return true;
    SgValue v = sg_eval_as(s, f->value[0], SG_TYPE_NUMBER, SG_DIM_NUMBER, sg_phrase_info(f->id)->word);
    if (v.state != SG_VALID) return false;
    if (v.number >= least && v.number <= most && floor(v.number) >= v.number) { *out = (uint32_t)v.number; return true; }
    if (most == 0) sg_wrong(s, SG_MSG_panel_form, f->value[0]->at, "this figure has no steps; leave `%s` out, or write 0", sg_phrase_info(f->id)->word);
    else sg_wrong(s, SG_MSG_panel_form, f->value[0]->at, "`%s` is a whole number from %d to %d", sg_phrase_info(f->id)->word, least, most);
    return false;
}

static bool length(SgSolved *s, const SgPhrase *f, double *mm)
{
    if (!f || !f->n) return true;
    SgValue v = sg_eval_as(s, f->value[0], SG_TYPE_NUMBER, SG_DIM_LENGTH, sg_phrase_info(f->id)->word);
    if (v.state != SG_VALID) return false;
    *mm = v.number;
    if (v.number >= 0 && v.number <= 2000) return true;
    sg_wrong(s, SG_MSG_panel_form, f->value[0]->at, "`%s` lies between 0 and 2 m", sg_phrase_info(f->id)->word);
    return false;
}

static bool add_part(Panel *p, const SgPanelPart *from, SgSolved *s, const SgPage *page)
{
    Part part = { .page = page, .step = (int)page->nsteps, .figure = s->figure->original };
    uint32_t step = page->nsteps;
    if (!whole(s, sg_phrase(&from->statement, SG_PHRASE_part_up_to_step), 0, (int)page->nsteps, &step)) return false;
    part.step = (int)step;
    part.text = from->statement.caption ? sg_eval_text(s, from->statement.caption) : SG_LIT("");
    if (s->broken) return false;
    if (sg_phrase(&from->statement, SG_PHRASE_part_each_step)) add_steps(p, page, s->figure->original);
    else SG_PUSH(p->c->arena, &p->part, part);
    return true;
}

SgPage *sg_panel(SgCompile *c, const SgModel *m, const SgPanel *panel, const SgSet *set, SgRestyle *restyle, void *with)
{
    Panel *p = SG_NEW(c->arena, Panel);
    SgSolved **solved = SG_ARRAY(c->arena, SgSolved *, panel->nparts + 1), **uses = SG_ARRAY(c->arena, SgSolved *, panel->nparts + 1);
    const SgStatement *st = &panel->statement;
    uint32_t before = sg_errors(c);
    *p = (Panel){ .c = c, .gap_mm = 2, .lettered = true };
    for (uint32_t i = 0; i < panel->nparts; i++) solved[i] = sg_solve_set(c, m, &m->figure[panel->part[i].figure], NULL, 0, set);
    for (uint32_t i = 0; i < panel->nparts && sg_errors(c) == before; i++) {
        uint32_t nuses = 0;
        for (uint32_t k = 0; k < panel->nparts; k++) if (solved[k]->figure->original == solved[i]->figure->original) uses[nuses++] = solved[k];
        SgScene *scene = sg_scene(c, solved[i], uses, nuses);
        if (!scene || sg_errors(c) > before || !restyle(with, solved[i], scene)) return NULL;
        if (i == 0) p->style = sg_style_of(&scene->style);
        if (!add_part(p, &panel->part[i], solved[i], sg_layout(c, scene))) return NULL;
    }
    if (p->part.n == 0 || sg_errors(c) > before) return NULL;
    const SgPhrase *width = sg_phrase(st, SG_PHRASE_panel_across);
    if (!whole(solved[0], sg_phrase(st, SG_PHRASE_panel_columns), 1, 8, &p->columns) || !length(solved[0], sg_phrase(st, SG_PHRASE_panel_gap), &p->gap_mm)
        || !length(solved[0], width, &p->width_mm)) return NULL;
    if (width) p->width_at = width->at;
    SgStr id = sg_names_str(&c->names, st->name), title = st->caption ? sg_plain(c->arena, sg_eval_text(solved[0], st->caption)) : id;
    return sg_errors(c) > before ? NULL : compose(p, id, title);
}
