/* Panels and strips. In: parts as pages, each to be shown up to a step. Out: one page of all their items, moved, with letters.
   Nothing is made smaller to fit. */
#include "panel/panel.h"
#include "base/num.h"
#include "solved/build.h"
#include <math.h>

#define SG_TEXT_GAP_MM 1.0         /* between a part's frame and the letters' tops */

/* A part: a page, the last step shown (its items' own), the words beneath. */
typedef struct { const SgPage *page; int step; bool alone; uint32_t figure; SgStr text; SgWords letter, *line; uint32_t nlines; } Part;   /* alone: a step of one figure, told after those before it */
typedef struct {
    SgCompile *c;
    SgStyle style;                 /* of the first part: its letters and its ink */
    SG_VEC(Part) part;
    uint32_t columns;
    double gap_mm, width_mm;       /* width 0: as wide as the parts */
    SgSpan width_at;
    bool lettered;
    SgStr scale, scale_told;       /* of all parts, when it is one: markup; empty else */
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

static bool same_words(const SgWords *a, const SgWords *b) { return sg_str_same(a->plain, b->plain); }

/* Whether an earlier part has named the axis so. */
static bool named_before(const Panel *p, const Part *part, const SgItem *name)
{
    for (const Part *q = p->part.v; q < part; q++)
        for (uint32_t i = 0; i < q->page->nitems; i++)
            if (q->page->item[i].role == SG_ROLE_AXIS && q->page->item[i].shape == SG_ITEM_WORDS && same_words(q->page->item[i].words, name->words)) return true;
    return false;
}

static void put_part(Panel *p, Items *out, const Part *part, double x_mm, double y_mm)
{
    SgArena *a = p->c->arena;
    for (uint32_t i = 0; i < part->page->nitems; i++) {        /* they come by step */
        const SgItem *from = &part->page->item[i];
        SgItem item;
        if (!take(from, part->step, &item) || (from->role == SG_ROLE_AXIS && from->shape == SG_ITEM_WORDS && named_before(p, part, from))) continue;
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

/* Each part as far as it goes: a figure cut short tells what is given and its steps so far, never its end. */
static SgStr described(const Panel *p)
{
    SgArena *a = p->c->arena;
    const SgWording *w = p->part.v[0].page->wording;
    SgBuf b = { .arena = a };
    SG_PUT_FILLED(&b, w, SG_TEXT_panel_parts, { "n", sg_format(a, "%u", p->part.n) });
    for (uint32_t i = 0; i < p->part.n; i++) {
        const Part *part = &p->part.v[i];
        const SgPage *page = part->page;
        bool whole = part->step >= (int)page->nsteps && !part->alone, goes_on = part->alone && part->step > 0;
        SgStr letter = letter_of(a, i), text = goes_on ? SG_LIT("") : sg_plain(a, part->text), told = goes_on ? page->step[part->step - 1].told : whole ? page->describe : page->given;
        sg_putf(&b, " %.*s ", (int)letter.n, letter.s);
        sg_put_str(&b, text);
        if (text.n && told.n) sg_puts(&b, text.s[text.n - 1] == '.' ? " " : ". ");
        sg_put_str(&b, told);
        for (int k = 0; !whole && !part->alone && k < part->step; k++) sg_putf(&b, " %.*s", (int)page->step[k].told.n, page->step[k].told.s);
    }
    if (p->scale_told.n) sg_putf(&b, " %.*s", (int)p->scale_told.n, p->scale_told.s);
    return sg_buf_str(&b);
}

/* ---- in at most 150 characters ---- */

enum { BRIEF_MOST = 150 };

/* Without its full stop; only its first clause when so asked. */
static SgStr clause(SgStr s, bool first)
{
    for (uint32_t i = 0; first && i + 1 < s.n; i++) if ((s.s[i] == ':' || s.s[i] == ',' || s.s[i] == ';' || s.s[i] == '.') && s.s[i + 1] == ' ') s.n = i;
    while (s.n && (s.s[s.n - 1] == '.' || s.s[s.n - 1] == ' ')) s.n--;
    while (s.n > 1 && s.s[s.n - 2] == '\xC2' && s.s[s.n - 1] == '\xA0') s.n -= 2;
    return s;
}

static SgStr parts_text(const Panel *p, bool first)
{
    SgArena *a = p->c->arena;
    SgStr all = SG_LIT("");
    for (uint32_t i = 0; i < p->part.n; i++) {
        SgStr letter = letter_of(a, i), text = clause(p->part.v[i].text.n ? sg_plain(a, p->part.v[i].text) : p->part.v[i].page->title, first);
        SgStr one = sg_format(a, "%.*s %.*s", (int)letter.n, letter.s, (int)text.n, text.s);
        all = sg_joined(a, p->part.v[0].page->wording, all, one);
    }
    return all;
}

/* Title and parts, then less and less, so that what its parts show stays as long as there is room. */
static SgStr briefly(const Panel *p, SgStr title)
{
    SgArena *a = p->c->arena;
    const SgWording *w = p->part.v[0].page->wording;
    SgStr n = sg_format(a, "%u", p->part.n), s = SG_LIT(""), name = clause(title, false);
    for (int k = 0; k < 5; k++) {
        SgTextId id = k == 4 ? SG_TEXT_panel_brief_bare : k % 2 ? SG_TEXT_panel_brief_parts : SG_TEXT_panel_brief;
        s = SG_FILLED(a, w, id, { "title", name }, { "n", n }, { "parts", parts_text(p, k > 1) });
        if (sg_utf8_count(s) <= BRIEF_MOST) return s;
    }
    uint32_t end = 0, space = 0, code;
    for (uint32_t i = 0; i < BRIEF_MOST && end < s.n; i++) {
        if (s.s[end] == ' ') space = end;
        end = sg_utf8_next(s, end, &code);
    }
    return sg_str_keep(a, s.s, space ? space : end);
}

/* The scale of all parts, beneath them at the left. The whole height with it. */
static double put_scale(Panel *p, Items *items, double y_mm)
{
    if (!p->scale.n) return y_mm;
    SgWords *words = SG_NEW(p->c->arena, SgWords);
    *words = sg_shape(p->c->arena, p->scale, SG_FACE_UPRIGHT, p->style.label_pt);
    put_line(p, items, words, p->style.margin_mm, y_mm + 0.75 * SG_PT_MM(p->style.label_pt));
    return y_mm + lead_mm(p) + p->style.margin_mm / 2;
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
    y = put_scale(p, &items, y);
    *page = *first;                                    /* paper, inks, wording */
    page->id = id;
    page->title = title;
    page->describe = page->given = described(p);       /* it has no steps: all of it is seen at once */
    page->brief = page->brief_given = briefly(p, title);
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
        Part part = { .page = page, .step = (int)k, .alone = true, .figure = figure };
        part.text = k > 0 ? plainly(p->c->arena, page->step[k - 1].plain) : page->wording->text[SG_TEXT_panel_given];
        SG_PUSH(p->c->arena, &p->part, part);
    }
}

static SgStr axis_name(const SgScene *scene)
{
    for (uint32_t i = 0; i < scene->nmarks; i++) if (scene->mark[i].role == SG_ROLE_AXIS) return scene->mark[i].words;
    return SG_LIT("");
}

/* The scene without its note of the scale, which then stands beneath all parts, and without the name of its axis when the scene
   before it has the same. */
static SgPage *laid_out(Panel *p, const SgScene *scene, const SgScene *before)
{
    SgScene *bare = SG_NEW(p->c->arena, SgScene);
    bool named = before && sg_str_same(axis_name(before), axis_name(scene));
    *bare = *scene;
    if (p->scale.n) bare->scale_told = SG_LIT("");
    bare->mark = SG_ARRAY(p->c->arena, SgMark, scene->nmarks);
    bare->nmarks = 0;
    for (uint32_t i = 0; i < scene->nmarks; i++) {
        SgMark *m = &bare->mark[bare->nmarks];
        *m = scene->mark[i];
        if (m->of_scale && p->scale.n) continue;
        if (m->role == SG_ROLE_AXIS && named) m->words = SG_LIT("");
        bare->nmarks++;
    }
    return sg_layout(p->c, bare);
}

static void take_scale(Panel *p, const SgScene *scene)
{
    for (uint32_t i = 0; i < scene->nmarks; i++) if (scene->mark[i].of_scale) p->scale = scene->mark[i].words;
    p->scale_told = sg_plain(p->c->arena, scene->scale_told);
}

SgPage *sg_strip(SgCompile *c, const SgScene *scene, uint32_t columns)
{
    Panel p = { .c = c, .style = sg_style_of(&scene->style), .columns = columns, .gap_mm = 2, .lettered = true };
    take_scale(&p, scene);
    const SgPage *page = laid_out(&p, scene, NULL);
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
    SgScene **scene = SG_ARRAY(c->arena, SgScene *, panel->nparts + 1);
    const SgStatement *st = &panel->statement;
    uint32_t before = sg_errors(c);
    bool alike = true;
    *p = (Panel){ .c = c, .gap_mm = 2, .lettered = true };
    for (uint32_t i = 0; i < panel->nparts; i++) solved[i] = sg_solve_set(c, m, &m->figure[panel->part[i].figure], NULL, 0, set);
    for (uint32_t i = 0; i < panel->nparts && sg_errors(c) == before; i++) {
        uint32_t nuses = 0;
        for (uint32_t k = 0; k < panel->nparts; k++) if (solved[k]->figure->original == solved[i]->figure->original) uses[nuses++] = solved[k];
        scene[i] = sg_scene(c, solved[i], uses, nuses);
        if (!scene[i] || sg_errors(c) > before || !restyle(with, solved[i], scene[i])) return NULL;
        alike = alike && sg_str_same(scene[i]->scale_told, scene[0]->scale_told);
    }
    if (sg_errors(c) > before || panel->nparts == 0) return NULL;
    p->style = sg_style_of(&scene[0]->style);
    if (alike) take_scale(p, scene[0]);
    for (uint32_t i = 0; i < panel->nparts; i++) if (!add_part(p, &panel->part[i], solved[i], laid_out(p, scene[i], i > 0 ? scene[i - 1] : NULL))) return NULL;
    if (p->part.n == 0 || sg_errors(c) > before) return NULL;
    const SgPhrase *width = sg_phrase(st, SG_PHRASE_panel_across);
    if (!whole(solved[0], sg_phrase(st, SG_PHRASE_panel_columns), 1, 8, &p->columns) || !length(solved[0], sg_phrase(st, SG_PHRASE_panel_gap), &p->gap_mm)
        || !length(solved[0], width, &p->width_mm)) return NULL;
    if (width) p->width_at = width->at;
    SgStr id = sg_names_str(&c->names, st->name), title = st->caption ? sg_plain(c->arena, sg_eval_text(solved[0], st->caption)) : id;
    return sg_errors(c) > before ? NULL : compose(p, id, title);
}
