/* The usual construction of an image as steps. In: solved figures. Out: the script's text with every `construct` written out.
   Rays of school books (common practice): parallel and out through the focal point; in through it and out parallel; through the
   centre of curvature and back, or straight on through the optical centre; to the vertex with equal angles. */
#include "expand/expand.h"
#include "solved/build.h"
#include <math.h>
#include <stdio.h>

enum { PARALLEL = 1, FOCUS = 2, CENTRE = 4, VERTEX = 8 };
static const char *const ray_word[] = { "parallel", "focus", "centre", "vertex" };

typedef struct {
    SgCompile *c; SgSolved *s; const SgStatement *st; SgBuf *out;
    const SgElement *e; bool mirror;
    const SgObject *o; const SgImage *im;
    SgStr image, object, element;
    double u_mm, f_mm;
    unsigned rays;
    SgTextId left_out;         /* a clause for the last caption; SG_TEXT_COUNT: nothing was */
} Case;

static bool has_construct(const SgScope *scope)
{
    for (uint32_t i = 0; i < scope->nstatements; i++) if (scope->statement[i].kind == SG_KIND_construct) return true;
    return false;
}

bool sg_expand_needed(const SgModel *m)
{
    for (uint32_t i = 0; i < m->nfigures; i++) if (has_construct(m->figure[i].scope)) return true;
    return false;
}

bool sg_expand_sheet_needed(const SgModel *m, const SgSheet *sheet)
{
    for (uint32_t i = 0; i < sheet->nproblems; i++)
        if (sheet->problem[i].figure != SG_NO_FIGURE && has_construct(m->figure[sheet->problem[i].figure].scope)) return true;
    return false;
}

static SgStr source_text(const SgCompile *c, SgSpan at) { return (SgStr){ c->source[at.file].bytes.s + at.start, at.end - at.start }; }

/* ---- which rays exist ---- */

static void leave_out(Case *k, unsigned ray, SgTextId clause)
{
    if (!(k->rays & ray)) return;
    k->rays &= ~ray;
    if (k->left_out == SG_TEXT_COUNT) k->left_out = clause;
}

static bool near(double a, double b) { return fabs(a - b) <= 1e-6 * (fabs(a) > fabs(b) ? fabs(a) : fabs(b)); }

static void existing(Case *k)
{
    double half = k->e->surface.half_aperture_mm * (1 + 1e-9), h = fabs(k->o->height_mm);
    if (!k->mirror) k->rays &= ~(unsigned)VERTEX;
    if (k->e->plane) { k->rays &= PARALLEL | VERTEX; return; }
    if (h > half) leave_out(k, PARALLEL, SG_TEXT_construct_left_parallel);
    if (near(k->u_mm, k->f_mm)) leave_out(k, FOCUS, SG_TEXT_construct_left_focus);
    else if (fabs(h * k->f_mm / (k->f_mm - k->u_mm)) > half) leave_out(k, FOCUS, SG_TEXT_construct_left_focus_edge);
    if (!k->mirror) return;
    if (near(k->u_mm, 2 * k->f_mm)) leave_out(k, CENTRE, SG_TEXT_construct_left_centre);
    else if (fabs(2 * h * k->f_mm / (k->u_mm - 2 * k->f_mm)) > half) leave_out(k, CENTRE, SG_TEXT_construct_left_centre_edge);
}

static bool wanted(Case *k)
{
    const SgPhrase *p = sg_phrase(k->st, SG_PHRASE_construct_rays);
    k->rays = PARALLEL | FOCUS | CENTRE | VERTEX;
    if (!p) return true;
    k->rays = 0;
    for (uint32_t i = 0; i < p->n; i++) {
        unsigned bit = 0;
        for (int w = 0; w < 4; w++) if (sg_word_is(k->s, p->value[i], ray_word[w])) bit = 1u << w;
        if (!bit) {
            sg_say(k->c, SG_MSG_construct_rays, p->value[i]->at, "`rays` takes the words parallel, focus, centre, vertex");
            return false;
        }
        k->rays |= bit;
    }
    return true;
}

/* ---- captions ---- */

static SgTextId caption(const Case *k, unsigned ray)
{
    bool gathers = k->f_mm > 0;
    switch (ray) {
    case PARALLEL:
        if (k->e->plane) return SG_TEXT_construct_plane;
        return gathers ? SG_TEXT_construct_parallel : SG_TEXT_construct_parallel_spread;
    case FOCUS:
        if (!gathers) return k->mirror ? SG_TEXT_construct_focus_behind : SG_TEXT_construct_focus_beyond;
        return k->u_mm < k->f_mm ? SG_TEXT_construct_focus_line : SG_TEXT_construct_focus;
    case CENTRE:
        if (!k->mirror) return SG_TEXT_construct_straight;
        if (!gathers) return SG_TEXT_construct_centre_behind;
        return k->u_mm < 2 * k->f_mm ? SG_TEXT_construct_centre_line : SG_TEXT_construct_centre;
    default: return SG_TEXT_construct_vertex;
    }
}

/* A text of the wording, as a script's text holds it. nature: the name of the image whose nature it tells. */
static void put_caption(const Case *k, SgTextId id, SgStr nature)
{
    SgStr hole = sg_format(k->c->arena, "{%.*s.nature}", (int)nature.n, nature.s);
    SgStr text = SG_FILLED(k->c->arena, k->s->wording, id, { "nature", hole });
    for (uint32_t i = 0; i < text.n; i++) {
        if (text.s[i] == '"') sg_put_char(k->out, '\\');
        sg_put_char(k->out, text.s[i]);
    }
}

static void open_step(const Case *k, SgTextId id)
{
    sg_puts(k->out, "step \"");
    put_caption(k, id, SG_LIT(""));
    sg_puts(k->out, "\" {\n        ");
}

static void put_aim(const Case *k, unsigned ray)
{
    const char *m = k->element.s;
    int n = (int)k->element.n;
    if (ray == PARALLEL) sg_puts(k->out, "parallel");
    else if (ray == FOCUS) sg_putf(k->out, "through %.*s.%s", n, m, k->mirror ? "focus" : "front_focus");
    else if (ray == CENTRE) sg_putf(k->out, "%s %.*s.centre", k->mirror ? "through" : "toward", n, m);
    else sg_putf(k->out, "toward %.*s.vertex", n, m);
}

static void put_ray(const Case *k, int word)
{
    unsigned ray = 1u << word;
    int n = (int)k->image.n;
    open_step(k, caption(k, ray));
    sg_putf(k->out, "ray %.*s_%s from %.*s.tip ", n, k->image.s, ray_word[word], (int)k->object.n, k->object.s);
    put_aim(k, ray);
    if (ray == VERTEX && k->s->along <= k->s->up && k->s->along >= k->s->up)
        sg_putf(k->out, "\n        angle from axis to %.*s_vertex.in\n        angle from axis to %.*s_vertex.out", n, k->image.s, n, k->image.s);
    sg_puts(k->out, "\n    }\n    ");
}

static void put_image(const Case *k)
{
    bool far = k->im->last.far == SG_AT_INFINITY;
    sg_puts(k->out, "step \"");
    put_caption(k, far ? SG_TEXT_construct_far : k->im->last.real ? SG_TEXT_construct_real : SG_TEXT_construct_virtual, k->image);
    if (k->left_out < SG_TEXT_COUNT) sg_put_char(k->out, ' ');
    if (k->left_out < SG_TEXT_COUNT) put_caption(k, k->left_out, SG_LIT(""));
    sg_putf(k->out, "\" {\n        image %.*s of %.*s by %.*s", (int)k->image.n, k->image.s, (int)k->object.n, k->object.s, (int)k->element.n, k->element.s);
}

/* Phrases of everything drawn go with the image. */
static void put_common(const Case *k)
{
    SgRange common = sg_phrases_common();
    for (uint32_t i = 0; i < k->st->nphrases; i++) {
        if ((int)k->st->phrase[i].id < common.first) continue;
        SgStr text = source_text(k->c, k->st->phrase[i].at);
        sg_putf(k->out, " %.*s", (int)text.n, text.s);
    }
    sg_puts(k->out, "\n    }");
}

/* Through several elements: two rays, an image at each. */
static void put_chain(Case *k, const SgPhrase *by)
{
    int n = (int)k->image.n;
    const char *middle = k->mirror ? "vertex" : "centre";
    SgStr first = source_text(k->c, by->value[0]->at);
    open_step(k, SG_TEXT_construct_on_parallel);
    sg_putf(k->out, "ray %.*s_parallel from %.*s.tip parallel\n    }\n    ", n, k->image.s, (int)k->object.n, k->object.s);
    open_step(k, SG_TEXT_construct_on_middle);
    sg_putf(k->out, "ray %.*s_%s from %.*s.tip toward %.*s.%s\n    }\n    ", n, k->image.s, middle,
            (int)k->object.n, k->object.s, (int)first.n, first.s, middle);
    for (uint32_t i = 1; i <= by->n; i++) {
        bool last = i == by->n;
        char name[96];
        int wrote = last ? snprintf(name, sizeof name, "%.*s", n, k->image.s) : snprintf(name, sizeof name, "%.*s_%u", n, k->image.s, i);
        if (wrote < 0) name[0] = '\0';
        sg_puts(k->out, "step \"");
        put_caption(k, last ? SG_TEXT_construct_image_last : i == 1 ? SG_TEXT_construct_image_first : SG_TEXT_construct_image_next, sg_str(name));
        sg_putf(k->out, "\" {\n        image %s of %.*s by ", name, (int)k->object.n, k->object.s);
        for (uint32_t j = 0; j < i; j++) {
            SgStr e = source_text(k->c, by->value[j]->at);
            sg_putf(k->out, "%s%.*s", j ? ", " : "", (int)e.n, e.s);
        }
        if (!last) sg_puts(k->out, "\n    }\n    ");
    }
    put_common(k);
}

static bool write_out(SgCompile *c, SgSolved *s, uint32_t statement, SgBuf *out)
{
    const SgScope *scope = s->figure->scope;
    uint32_t symbol = 0;
    while (symbol < scope->nsymbols && scope->symbol[symbol].statement != statement) symbol++;
    if (symbol == scope->nsymbols || s->thing[symbol].state != SG_VALID) return false;
    Case k = { .c = c, .s = s, .st = &scope->statement[statement], .out = out, .im = &s->thing[symbol].image, .left_out = SG_TEXT_COUNT };
    const SgPhrase *of = sg_phrase(k.st, SG_PHRASE_construct_of), *by = sg_phrase(k.st, SG_PHRASE_construct_by);
    if (scope->symbol[k.im->of].kind != SG_KIND_object || s->thing[k.im->of].object.far || s->thing[k.im->of].object.height_mm == 0) {
        sg_say(c, SG_MSG_construct_rays, of->at, "a construction starts at the tip of a near object that has a height; give it one, or write the rays yourself");
        return false;
    }
    k.o = &s->thing[k.im->of].object;
    k.e = &s->thing[k.im->by[0]].element;
    k.mirror = k.e->surface.acts == SG_ACTS_REFLECT;
    k.image = sg_name_of(s, symbol);
    k.object = source_text(c, of->value[0]->at);
    k.element = source_text(c, by->value[0]->at);
    k.f_mm = k.e->focal_mm;
    k.u_mm = k.im->nby == 1 ? k.im->last.object_distance_mm : 0;
    if (!wanted(&k)) return false;
    if (k.im->nby > 1 || scope->symbol[k.im->by[0]].kind == SG_KIND_boundary) { put_chain(&k, by); return true; }
    existing(&k);
    unsigned count = 0;
    for (int w = 0; w < 4; w++) count += k.rays >> w & 1;
    if (count < 2) {
        SgStr why = k.left_out < SG_TEXT_COUNT ? sg_wording_english.text[k.left_out] : SG_LIT("");
        sg_say(c, SG_MSG_construct_rays, k.st->head_at, "fewer than two of these rays exist here. %.*s Make the aperture larger, move the object, or name other `rays`", (int)why.n, why.s);
        return false;
    }
    for (int w = 0; w < 4; w++) if (k.rays >> w & 1) put_ray(&k, w);
    put_image(&k);
    put_common(&k);
    return true;
}

/* ---- the script around them ---- */

/* Source from `from` up to `to`, with the constructions of the figure written out. */
static bool put_body(SgCompile *c, SgSolved *s, uint32_t from, uint32_t to, SgBuf *out)
{
    const SgScope *scope = s->figure->scope;
    SgStr source = c->source[0].bytes;
    for (uint32_t i = 0; i < scope->nstatements; i++) {
        const SgStatement *st = &scope->statement[i];
        if (st->kind != SG_KIND_construct) continue;
        sg_put(out, source.s + from, st->at.start - from);
        if (!write_out(c, s, i, out)) return false;
        from = st->at.end;
    }
    sg_put(out, source.s + from, to - from);
    return true;
}

/* The { of a figure's block, past its title's own braces. */
static uint32_t block_start(SgStr source, uint32_t from, uint32_t end)
{
    bool text = false;
    for (uint32_t i = from; i < end; i++) {
        char ch = source.s[i];
        if (text && ch == '\\') { i++; continue; }
        if (ch == '"') text = !text;
        else if (!text && ch == '#') while (i < end && source.s[i] != '\n') i++;
        else if (!text && ch == '{') return i;
    }
    return end;
}

/* A copy as a figure of its own: its values as the parameters' own, its title, the original's body. */
static bool put_copy(SgCompile *c, const SgModel *m, SgSolved *s, SgStr name, SgBuf *out)
{
    const SgFigure *f = s->figure, *of = &m->figure[f->original];
    uint32_t n = 0;
    sg_putf(out, "figure %.*s", (int)name.n, name.s);
    for (uint32_t i = 0; i < f->scope->nsymbols; i++) {
        const SgSymbol *sym = &f->scope->symbol[i];
        if (!sym->parameter) continue;
        const SgExpr *value = f->scope->statement[sym->statement].definition;
        for (uint32_t b = 0; b < f->nbindings; b++) if (f->binding[b].symbol == i) value = f->binding[b].value;
        SgStr p = sg_names_str(&c->names, sym->name), v = source_text(c, value->at);
        sg_putf(out, "%s%.*s = %.*s", n++ ? ", " : "(", (int)p.n, p.s, (int)v.n, v.s);
    }
    if (n) sg_put_char(out, ')');
    if (f->title) {
        SgStr title = source_text(c, f->title->at);
        sg_putf(out, " %.*s", (int)title.n, title.s);
    }
    sg_put_char(out, ' ');
    return put_body(c, s, block_start(c->source[0].bytes, of->at.end, of->whole.end), of->whole.end, out);
}

/* What stands in place of a part of the script. */
typedef struct { uint32_t start, end; SgStr text; } Edit;
typedef struct { SgCompile *c; const SgModel *m; SG_VEC(Edit) edits; SgBuf made; } Writing;

static bool stands_elsewhere(Writing *w, const SgFigure *f)
{
    if (!f->home) return false;
    SgStr path = w->c->source[f->home].path;
    sg_say(w->c, SG_MSG_copy_form, f->at, "the figure copied here has a `construct` and stands in %.*s; write it out there first, with sagitta expand", (int)path.n, path.s);
    return true;
}

static void replace(Writing *w, uint32_t start, uint32_t end, SgStr text)
{
    Edit edit = { start, end, text };
    SG_PUSH(w->c->arena, &w->edits, edit);
    for (uint32_t k = w->edits.n - 1; k && w->edits.v[k - 1].start > start; k--) {
        w->edits.v[k] = w->edits.v[k - 1];
        w->edits.v[k - 1] = edit;
    }
}

static bool write_figure(Writing *w, uint32_t index, SgSolved *s)
{
    const SgFigure *f = &w->m->figure[index];
    SgBuf b = { .arena = w->c->arena };
    if (!s || !has_construct(f->scope)) return true;
    if (stands_elsewhere(w, f)) return false;
    bool copy = f->original != index;
    if (copy ? !put_copy(w->c, w->m, s, sg_names_str(&w->c->names, f->name), &b) : !put_body(w->c, s, f->whole.start, f->whole.end, &b)) return false;
    replace(w, f->whole.start, f->whole.end, sg_buf_str(&b));
    return true;
}

static bool is_figure(const Writing *w, SgStr name)
{
    SgSym sym = sg_names_find(&w->c->names, name);
    for (uint32_t i = 0; i < w->m->nfigures && sym != SG_NO_SYM; i++) if (w->m->figure[i].name == sym) return true;
    return false;
}

/* The figure of a problem becomes one of the script, behind all else, and the problem names it. */
static bool write_problem(Writing *w, const SgSheet *sheet, const SgProblem *p, SgSolved *s)
{
    const SgFigure *f = &w->m->figure[p->figure];
    if (!s || !has_construct(f->scope)) return true;
    if (stands_elsewhere(w, f)) return false;
    SgStr of = sg_names_str(&w->c->names, sheet->statement.name), q = sg_names_str(&w->c->names, p->statement.name);
    SgStr name = sg_format(w->c->arena, "%.*s_%.*s", (int)of.n, of.s, (int)q.n, q.s);
    while (is_figure(w, name)) name = sg_format(w->c->arena, "%.*s_", (int)name.n, name.s);
    sg_put_char(&w->made, '\n');
    if (!put_copy(w->c, w->m, s, name, &w->made)) return false;
    sg_put_char(&w->made, '\n');
    replace(w, p->figure_at.start, p->figure_at.end, name);
    return true;
}

bool sg_expand(SgCompile *c, const SgModel *m, SgSolved *const *solved, SgBuf *out)
{
    SgStr source = c->source[0].bytes;
    Writing w = { .c = c, .m = m, .made = { .arena = c->arena } };
    uint32_t from = 0;
    for (uint32_t i = 0; i < m->nfigures; i++) if (!write_figure(&w, i, solved[i])) return false;
    for (uint32_t i = 0; i < m->nsheets; i++)
        for (uint32_t k = 0; k < m->sheet[i].nproblems; k++) {
            const SgProblem *p = &m->sheet[i].problem[k];
            if (p->figure != SG_NO_FIGURE && !write_problem(&w, &m->sheet[i], p, solved[p->figure])) return false;
        }
    for (uint32_t i = 0; i < w.edits.n; i++) {
        sg_put(out, source.s + from, w.edits.v[i].start - from);
        sg_put_str(out, w.edits.v[i].text);
        from = w.edits.v[i].end;
    }
    sg_put(out, source.s + from, source.n - from);
    sg_put(out, w.made.v, w.made.n);
    return true;
}
