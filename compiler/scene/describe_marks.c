/* Sentences about marks, measures and tools, and about what steps change. In: statements. Out: markup. */
#include "scene/describe.h"
#include <math.h>

static const SgExpr *value_of(const SgStatement *st, SgPhraseId id)
{
    const SgPhrase *p = sg_phrase(st, id);
    return p && p->n ? p->value[0] : NULL;
}
static SgStr from_of(const SgTell *t, const SgStatement *st, SgPhraseId id)
{
    const SgExpr *e = value_of(st, id);
    return e ? sg_tell_point(t, e, true) : t->w->text[SG_TEXT_from_axis];
}

const SgMark *sg_tell_mark_of(const SgTell *t, const SgStatement *st)
{
    for (uint32_t i = 0; i < t->g->marks.n; i++)
        if (t->g->marks.v[i].at.start == st->head_at.start && t->g->marks.v[i].at.file == st->head_at.file) return &t->g->marks.v[i];
    return NULL;
}

static SgStr line_text(const SgTell *t, const SgExpr *e)
{
    SgArena *a = t->g->c->arena;
    if (e->op == SG_E_AXIS) return t->w->text[SG_TEXT_line_axis];
    const SgExpr *of = e->op == SG_E_PROPERTY ? e->arg[0] : e;
    if (of->op != SG_E_SYMBOL || of->in_file) return t->w->text[SG_TEXT_line_other];
    SgKind kind = t->g->scope->symbol[of->symbol].kind;
    if (of == e && (kind == SG_KIND_normal || kind == SG_KIND_line))
        return SG_FILLED(a, t->w, kind == SG_KIND_normal ? SG_TEXT_line_normal : SG_TEXT_line_named, { "name", sg_tell_name(t, of->symbol) });
    if (of == e) return t->w->text[SG_TEXT_line_other];
    SgStr word = sg_names_str(&t->g->c->names, e->sym);
    if (kind == SG_KIND_ray && (sg_str_is(word, "in") || sg_str_is(word, "out")))
        return SG_FILLED(a, t->w, sg_str_is(word, "in") ? SG_TEXT_line_in : SG_TEXT_line_out, { "n", sg_tell_ray(t, of->symbol) });
    return sg_str_is(word, "face") ? SG_FILLED(a, t->w, SG_TEXT_line_face, { "name", sg_tell_name(t, of->symbol) }) : t->w->text[SG_TEXT_line_other];
}

static void measure(const SgTell *t, const SgStatement *st, const SgMark *m)
{
    SgStr from = from_of(t, st, SG_PHRASE_dimension_from), to = from_of(t, st, SG_PHRASE_dimension_to);
    if (m->words.n) SG_TELL(t, SG_TEXT_tell_dimension, { "from", from }, { "from2", to }, { "text", m->words });
    else SG_TELL(t, SG_TEXT_tell_dimension_ticks, { "from", from }, { "from2", to });
}

static void angle(const SgTell *t, const SgStatement *st, const SgMark *m)
{
    const SgExpr *a = value_of(st, SG_PHRASE_angle_from), *b = value_of(st, SG_PHRASE_angle_to);
    if (!a || !b) return;
    SgStr one = line_text(t, a), two = line_text(t, b);
    if (m->right && !m->words.n) SG_TELL(t, SG_TEXT_tell_angle_right, { "line", one }, { "line2", two });
    else SG_TELL(t, SG_TEXT_tell_angle, { "line", one }, { "line2", two }, { "text", m->words });
}

static void normal(const SgTell *t, const SgStatement *st)
{
    const SgExpr *to = value_of(st, SG_PHRASE_normal_to), *at = value_of(st, SG_PHRASE_normal_at);
    if (!to || to->op != SG_E_SYMBOL || to->in_file) return;
    SgStr name = sg_tell_name(t, to->symbol);
    bool lens = t->g->scope->symbol[to->symbol].kind == SG_KIND_lens;
    SgStr where = at ? sg_tell_point(t, at, true) : SG_FILLED(t->g->c->arena, t->w, lens ? SG_TEXT_from_centre : SG_TEXT_from_vertex, { "name", name });
    SG_TELL(t, SG_TEXT_tell_normal, { "name", name }, { "from", where });
}

static void produced(const SgTell *t, const SgStatement *st)
{
    const SgExpr *back = value_of(st, SG_PHRASE_produce_back), *e = back ? back : value_of(st, SG_PHRASE_produce_on);
    if (!e || e->op != SG_E_PROPERTY || e->arg[0]->op != SG_E_SYMBOL || e->arg[0]->in_file) return;
    SG_TELL(t, back ? SG_TEXT_tell_produced_back : SG_TEXT_tell_produced_on, { "n", sg_tell_ray(t, e->arg[0]->symbol) });
}

static void circle(const SgTell *t, const SgStatement *st, const SgMark *m)
{
    SgStr r = sg_tell_length(t, m->radius_mm / t->g->s->along);
    if (st->kind == SG_KIND_circle) SG_TELL(t, SG_TEXT_tell_circle, { "r", r }, { "from", from_of(t, st, SG_PHRASE_circle_at) });
    else SG_TELL(t, SG_TEXT_tell_arc, { "r", r }, { "from", from_of(t, st, SG_PHRASE_arc_at) }, { "from2", from_of(t, st, SG_PHRASE_arc_from) }, { "from3", from_of(t, st, SG_PHRASE_arc_to) });
}

static void axis(const SgTell *t, const SgStatement *st)
{
    if (sg_phrase(st, SG_PHRASE_axis_none)) sg_tell(t, SG_TEXT_tell_axis_none, NULL, 0);
    if (sg_phrase(st, SG_PHRASE_axis_upright)) sg_tell(t, SG_TEXT_tell_axis_upright, NULL, 0);
}

/* Names of things, rays by their numbers. */
static void cue(const SgTell *t, const SgStatement *st, SgTextId id)
{
    SgBuf b = { .arena = t->g->c->arena };
    for (uint32_t i = 0; i < st->nlist; i++) {
        const SgExpr *e = st->list[i];
        if (e->op != SG_E_SYMBOL || e->in_file) continue;
        if (b.n) sg_puts(&b, ", ");
        if (t->g->light[e->symbol]) SG_PUT_FILLED(&b, t->w, SG_TEXT_name_ray, { "n", sg_tell_ray(t, e->symbol) });
        else sg_put_str(&b, sg_tell_name(t, e->symbol));
    }
    if (b.n) SG_TELL(t, id, { "names", sg_buf_str(&b) });
}

static bool changes(const SgTell *t, const SgStatement *st)
{
    SgTextId id = st->kind == SG_KIND_show ? SG_TEXT_tell_show : st->kind == SG_KIND_fade ? SG_TEXT_tell_fade : st->kind == SG_KIND_hide ? SG_TEXT_tell_hide
                : st->kind == SG_KIND_emphasise ? SG_TEXT_tell_emphasise : SG_TEXT_COUNT;
    if (id < SG_TEXT_COUNT) cue(t, st, id);
    return id < SG_TEXT_COUNT;
}

/* The symbol that a statement declares. */
static uint32_t symbol_of(const SgTell *t, const SgStatement *st)
{
    uint32_t i = 0;
    while (i < t->g->scope->nsymbols && sg_statement_of(t->g->s, i) != st) i++;
    return i;
}

/* A point of the author's: where it is, and how high. */
static void point(const SgTell *t, const SgStatement *st)
{
    uint32_t symbol = symbol_of(t, st), other;
    const SgExpr *at = value_of(st, SG_PHRASE_point_at);
    double d;
    bool placed = sg_tell_place(t, symbol, at, &other, &d);
    if (placed && fabs(d) > 1e-6)
        SG_TELL_OF(t, symbol, d < 0 ? SG_TEXT_tell_point_before : SG_TEXT_tell_point_beyond, { "d", sg_tell_length(t, d) }, { "other", sg_tell_name(t, other) });
    else sg_tell_of(t, symbol, SG_TEXT_tell_point, NULL, 0);
    if (placed && fabs(d) <= 1e-6) SG_TELL_OF(t, symbol, SG_TEXT_tell_placed_touching, { "other", sg_tell_name(t, other) });
    if (!sg_tell_depends(t, at)) sg_tell_level(t, symbol);
}

static void eye(const SgTell *t, const SgStatement *st)
{
    uint32_t symbol = symbol_of(t, st);
    sg_tell_of(t, symbol, SG_TEXT_tell_eye, NULL, 0);
    sg_tell_placed(t, symbol, value_of(st, SG_PHRASE_eye_at));
}

/* By its name where it has one, for an angle may be told with it. */
static void line(const SgTell *t, const SgStatement *st)
{
    static const SgTextId text[2][2] = { { SG_TEXT_tell_line, SG_TEXT_tell_line_arrow }, { SG_TEXT_tell_line_named, SG_TEXT_tell_line_arrow_named } };
    uint32_t symbol = symbol_of(t, st);
    bool named = symbol < t->g->scope->nsymbols && st->name != SG_NO_SYM;
    SG_TELL(t, text[named][sg_phrase(st, SG_PHRASE_line_arrow) != NULL], { "name", named ? sg_tell_name(t, symbol) : SG_LIT("") },
            { "from", from_of(t, st, SG_PHRASE_line_from) }, { "from2", from_of(t, st, SG_PHRASE_line_to) });
}

void sg_tell_mark(const SgTell *t, const SgStatement *st)
{
    if (changes(t, st)) return;
    if (st->kind == SG_KIND_axis) { axis(t, st); return; }
    const SgMark *m = sg_tell_mark_of(t, st);
    if (!m) return;
    if (st->kind == SG_KIND_dimension) measure(t, st, m);
    if (st->kind == SG_KIND_angle) angle(t, st, m);
    if (st->kind == SG_KIND_label) SG_TELL(t, SG_TEXT_tell_label, { "from", from_of(t, st, SG_PHRASE_label_at) }, { "text", m->words });
    if (st->kind == SG_KIND_note) SG_TELL(t, SG_TEXT_tell_note, { "text", m->words });
    if (st->kind == SG_KIND_normal) normal(t, st);
    if (st->kind == SG_KIND_produce) produced(t, st);
    if (st->kind == SG_KIND_line) line(t, st);
    if (st->kind == SG_KIND_circle || st->kind == SG_KIND_arc) circle(t, st, m);
    if (st->kind == SG_KIND_protractor) SG_TELL(t, SG_TEXT_tell_protractor, { "from", from_of(t, st, SG_PHRASE_protractor_at) });
    if (st->kind == SG_KIND_ruler) SG_TELL(t, SG_TEXT_tell_ruler, { "from", from_of(t, st, SG_PHRASE_ruler_from) }, { "from2", from_of(t, st, SG_PHRASE_ruler_to) });
    if (st->kind == SG_KIND_grid) SG_TELL(t, SG_TEXT_tell_grid, { "size", sg_tell_length(t, m->pitch_mm) });
    if (st->kind == SG_KIND_break) sg_tell(t, SG_TEXT_tell_break, NULL, 0);
    if (st->kind == SG_KIND_point) point(t, st);
    if (st->kind == SG_KIND_eye) eye(t, st);
}
