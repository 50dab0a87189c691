/* The figure in sentences, from the solved geometry, for those who cannot see it. In: solved values. Out: markup, in the figure's
   language: what it is, what light meets, what is looked at; then each step and what its rays do; then what holds for the whole.
   What is given stands by itself and tells nothing that was worked out. */
#include "scene/describe.h"
#include <math.h>

/* ---- small things ---- */

static SgStr plain_markup(SgArena *a, SgStr text)
{
    SgBuf b = { .arena = a };
    for (uint32_t i = 0; i < text.n; i++) {
        if (text.s[i] == '_' || text.s[i] == '^' || text.s[i] == '*' || text.s[i] == '\\') sg_put_char(&b, '\\');
        sg_put_char(&b, text.s[i]);
    }
    return b.n ? sg_buf_str(&b) : SG_LIT("");
}

SgStr sg_tell_name(const SgTell *t, uint32_t symbol)
{
    const SgStatement *st = sg_statement_of(t->g->s, symbol);
    const SgPhrase *named = sg_phrase(st, SG_PHRASE_common_named);
    SgStr words = named && named->n ? sg_mark_words(t->g, st) : SG_LIT("");
    return words.n ? words : plain_markup(t->g->c->arena, sg_name_of(t->g->s, symbol));
}

SgStr sg_tell_count(const SgTell *t, uint32_t n) { return sg_format(t->g->c->arena, "%u", n); }
SgStr sg_tell_ray(const SgTell *t, uint32_t symbol) { return sg_tell_count(t, t->g->light[symbol]); }
SgStr sg_tell_length(const SgTell *t, double mm) { return sg_show_figure(t->g->s, sg_value_number(fabs(mm), SG_DIM_LENGTH), NULL); }
SgStr sg_tell_angle(const SgTell *t, double deg) { return sg_show_figure(t->g->s, sg_value_number(fabs(deg), SG_DIM_ANGLE), NULL); }

void sg_tell(const SgTell *t, SgTextId id, const SgHole *hole, uint32_t n)
{
    if (t->out->n) sg_put_char(t->out, ' ');
    sg_put_filled(t->out, t->w, id, hole, n);
}

/* Whether markup begins with a small letter. */
static bool begins_small(SgStr text)
{
    uint32_t i = 0, code = 0;
    while (i < text.n && (text.s[i] == '*' || text.s[i] == '\\')) i++;
    if (i < text.n) sg_utf8_next(text, i, &code);
    return (code >= 'a' && code <= 'z') || (code >= 0xDF && code <= 0xFF && code != 0xF7) || (code >= 0x3B1 && code <= 0x3C9) || (code >= 0x430 && code <= 0x45F);
}

static SgTextId noun(SgKind kind)
{
    switch ((int)kind) {
    case SG_KIND_mirror: return SG_TEXT_the_mirror;
    case SG_KIND_lens: return SG_TEXT_the_lens;
    case SG_KIND_boundary: return SG_TEXT_the_boundary;
    case SG_KIND_stop: return SG_TEXT_the_stop;
    case SG_KIND_screen: return SG_TEXT_the_screen;
    case SG_KIND_eye: return SG_TEXT_the_eye;
    case SG_KIND_image: return SG_TEXT_the_image;
    case SG_KIND_point: return SG_TEXT_the_point;
    default: return SG_TEXT_the_object;
    }
}

void sg_tell_of(const SgTell *t, uint32_t symbol, SgTextId id, const SgHole *hole, uint32_t n)
{
    enum { MOST = 8 };
    SgHole all[MOST] = { { "name", sg_tell_name(t, symbol) } };
    SgStr text = t->w->text[id];
    bool leads = text.n > 6 && sg_str_is((SgStr){ text.s, 6 }, "{name}");
    if (leads && begins_small(all[0].value)) all[0].value = SG_FILLED(t->g->c->arena, t->w, noun(t->g->scope->symbol[symbol].kind), { "name", all[0].value });
    for (uint32_t i = 0; i < n && i + 1 < MOST; i++) all[i + 1] = hole[i];
    sg_tell(t, id, all, n + 1);
}

/* ---- what is worked out ---- */

static bool depends(const SgTell *t, const SgExpr *e)
{
    if (!e) return false;
    if (e->op == SG_E_SYMBOL && !e->in_file && t->answer[e->symbol]) return true;
    for (uint32_t i = 0; i < e->nargs; i++) if (depends(t, e->arg[i])) return true;
    return false;
}
bool sg_tell_depends(const SgTell *t, const SgExpr *e) { return !t->whole && depends(t, e); }

/* What light does is answer, and so is all that is told by it. */
static void find_answers(SgTell *t)
{
    const SgScope *scope = t->g->scope;
    bool more = true;
    t->answer = SG_ARRAY(t->g->c->arena, bool, scope->nsymbols + 1);
    while (more) {
        more = false;
        for (uint32_t i = 0; i < scope->nsymbols; i++) {
            SgKind kind = scope->symbol[i].kind;
            const SgStatement *st = &scope->statement[scope->symbol[i].statement];
            bool is = kind == SG_KIND_find || kind == SG_KIND_image || kind == SG_KIND_ray || kind == SG_KIND_beam || kind == SG_KIND_fan || kind == SG_KIND_system;
            if (t->answer[i]) continue;
            is = is || depends(t, st->definition);
            for (uint32_t k = 0; k < st->nphrases && !is; k++)
                for (uint32_t j = 0; j < st->phrase[k].n; j++) is = is || depends(t, st->phrase[k].value[j]);
            t->answer[i] = is;
            more = more || is;
        }
    }
}

/* ---- points ---- */

typedef struct { SgKind kind; const char *word; SgTextId from, point; } PointName;
#define POINT(kind, word, text) { SG_KIND_##kind, word, SG_TEXT_from_##text, SG_TEXT_point_##text }
static const PointName points[] = {
    POINT(object, "tip", tip), POINT(object, "foot", foot), POINT(image, "tip", tip), POINT(image, "foot", foot),
    POINT(mirror, "vertex", vertex), POINT(mirror, "focus", focus), POINT(mirror, "centre", curvature),
    POINT(lens, "centre", centre), POINT(lens, "front_focus", front_focus), POINT(lens, "back_focus", back_focus),
    POINT(lens, "front_principal", first_principal), POINT(lens, "back_principal", second_principal),
    POINT(boundary, "vertex", vertex), POINT(boundary, "centre", curvature), POINT(boundary, "front_focus", front_focus),
    POINT(boundary, "back_focus", back_focus), POINT(system, "front_focus", front_focus), POINT(system, "back_focus", back_focus),
    POINT(system, "front_principal", first_principal), POINT(system, "back_principal", second_principal),
    POINT(stop, "centre", centre), POINT(stop, "top", top), POINT(stop, "bottom", bottom),
    POINT(screen, "centre", centre), POINT(screen, "top", top), POINT(screen, "bottom", bottom), POINT(eye, "pupil", pupil),
};

static SgStr filled_point(const SgTell *t, SgTextId id, uint32_t symbol)
{
    SgArena *a = t->g->c->arena;
    if (t->g->scope->symbol[symbol].kind == SG_KIND_ray) return SG_FILLED(a, t->w, id, { "n", sg_tell_ray(t, symbol) });
    return SG_FILLED(a, t->w, id, { "name", sg_tell_name(t, symbol) });
}

/* A point that is of no thing: how high, and against what it stands. */
static SgStr free_point(const SgTell *t, const SgExpr *e, bool from)
{
    SgArena *a = t->g->c->arena;
    SgValue v = sg_eval(t->g->s, e);
    uint32_t other;
    double d;
    if (v.state != SG_VALID || v.type != SG_TYPE_POINT) return t->w->text[from ? SG_TEXT_from_somewhere : SG_TEXT_point_somewhere];
    double y = v.point.y_mm;
    SgTextId id = y > 1e-6 ? from ? SG_TEXT_from_above : SG_TEXT_point_above : y < -1e-6 ? from ? SG_TEXT_from_below : SG_TEXT_point_below
                : from ? SG_TEXT_from_axis : SG_TEXT_point_axis;
    SgStr place = SG_LIT("");
    if (sg_tell_place_of(t, UINT32_MAX, v.point, &other, &d)) {
        SgTextId where = fabs(d) < 1e-6 ? SG_TEXT_place_at : d < 0 ? SG_TEXT_place_before : SG_TEXT_place_beyond;
        SgStr told = SG_FILLED(a, t->w, where, { "d", sg_tell_length(t, d) }, { "other", sg_tell_name(t, other) });
        place = sg_format(a, " %.*s", (int)told.n, told.s);
    }
    return SG_FILLED(a, t->w, id, { "h", sg_tell_length(t, y) }, { "place", place });
}

SgStr sg_tell_point(const SgTell *t, const SgExpr *e, bool from)
{
    const SgScope *scope = t->g->scope;
    const SgExpr *of = e->op == SG_E_PROPERTY ? e->arg[0] : e;
    if (of->op == SG_E_SYMBOL && !of->in_file) {
        SgKind kind = scope->symbol[of->symbol].kind;
        SgStr word = of == e ? SG_LIT("") : sg_names_str(&t->g->c->names, e->sym);
        if (of == e && (kind == SG_KIND_object || kind == SG_KIND_image)) word = SG_LIT("tip");
        if (kind == SG_KIND_ray && sg_str_is(word, "strike")) return filled_point(t, from ? SG_TEXT_from_strike : SG_TEXT_point_strike, of->symbol);
        for (size_t i = 0; i < sizeof points / sizeof *points; i++)
            if (points[i].kind == kind && sg_str_is(word, points[i].word)) return filled_point(t, from ? points[i].from : points[i].point, of->symbol);
        if (of == e && !sg_is_value_kind(kind)) return filled_point(t, from ? SG_TEXT_from_named : SG_TEXT_point_named, of->symbol);
    }
    return sg_tell_depends(t, e) ? t->w->text[from ? SG_TEXT_from_somewhere : SG_TEXT_point_somewhere] : free_point(t, e, from);
}

/* ---- the whole ---- */

bool sg_tell_seen(const SgTell *t, uint32_t symbol)
{
    return t->g->s->thing[symbol].state == SG_VALID && !sg_is_hidden(sg_statement_of(t->g->s, symbol)) && sg_in_part(t->g, symbol);
}

bool sg_tell_told(const SgTell *t, uint32_t symbol)
{
    return sg_tell_seen(t, symbol) && (t->whole || (!t->answer[symbol] && sg_statement_of(t->g->s, symbol)->step == 0));
}

/* Light that is drawn, or only what would meet it. */
static void intro(const SgTell *t)
{
    bool light = false, meets = false, left = t->g->s->light.x_mm < 0;
    for (uint32_t i = 0; i < t->g->scope->nsymbols; i++) {
        bool now = t->whole || sg_statement_of(t->g->s, i)->step == 0;
        light = light || (now && t->g->light[i] > 0);
        meets = meets || (now && sg_is_element(t->g->scope->symbol[i].kind) && sg_tell_seen(t, i));
    }
    static const SgTextId none[2][3] = { { SG_TEXT_tell_given_drawing, SG_TEXT_tell_given_right, SG_TEXT_tell_given_left },
                                         { SG_TEXT_tell_drawing, SG_TEXT_tell_no_rays_right, SG_TEXT_tell_no_rays_left } };
    sg_tell(t, light ? left ? SG_TEXT_tell_rays_left : SG_TEXT_tell_rays_right : none[t->whole][meets ? 1 + left : 0], NULL, 0);
}

/* The points of mirrors and lenses that are marked of themselves. What of a lens is marked depends on how far a figure reaches,
   and so on its answers, unless they are left out of the drawing too. */
static void letters(const SgTell *t, int step)
{
    SgBuf b = { .arena = t->g->c->arena };
    for (uint32_t i = 0; i < t->g->scope->nsymbols; i++) {
        SgKind kind = t->g->scope->symbol[i].kind;
        SgSpan at = sg_statement_of(t->g->s, i)->head_at;
        bool sure = t->whole || !t->g->part.whole || kind == SG_KIND_mirror;
        if (!sg_is_element(kind) || !sg_tell_told(t, i) || !sure) continue;
        for (uint32_t k = 0; k < t->g->marks.n; k++) {
            const SgMark *m = &t->g->marks.v[k];
            if ((m->role != SG_ROLE_POINT && m->role != SG_ROLE_TICK) || m->step != step || m->words.n == 0 || m->at.start != at.start || m->at.file != at.file) continue;
            if (b.n) sg_puts(&b, ", ");
            sg_put_str(&b, m->words);
        }
    }
    if (b.n) SG_TELL(t, SG_TEXT_tell_points, { "names", sg_buf_str(&b) });
}

/* The statements of one step in the order of the script, but for what is told first. images: those, or all else. */
static void statements(const SgTell *t, int step, bool images)
{
    const SgScope *scope = t->g->scope;
    uint32_t next = 0;
    for (uint32_t i = 0; i < scope->nstatements; i++) {
        const SgStatement *st = &scope->statement[i];
        uint32_t symbol = next < scope->nsymbols && scope->symbol[next].statement == i ? next++ : UINT32_MAX;
        bool image = st->kind == SG_KIND_image;
        if (st->step != step || image != images || (symbol == UINT32_MAX && sg_is_hidden(st)) || (symbol != UINT32_MAX && !sg_tell_seen(t, symbol) && !st->parameter && st->kind != SG_KIND_line && st->kind != SG_KIND_normal)) continue;
        if (image) sg_tell_image(t, symbol);
        else if (sg_meets_light(st->kind)) { if (step) sg_tell_element(t, symbol); }
        else if (st->kind == SG_KIND_object) { if (step) sg_tell_object(t, symbol); }
        else if (symbol != UINT32_MAX && t->g->light[symbol]) sg_tell_light(t, symbol);
        else if (!sg_is_hidden(st)) sg_tell_mark(t, st);
    }
}

static void things(const SgTell *t)
{
    const SgScope *scope = t->g->scope;
    for (uint32_t i = 0; i < scope->nsymbols; i++) if (sg_meets_light(scope->symbol[i].kind) && sg_tell_seen(t, i) && sg_statement_of(t->g->s, i)->step == 0) sg_tell_element(t, i);
    for (uint32_t i = 0; i < scope->nsymbols; i++) if (scope->symbol[i].kind == SG_KIND_object && sg_tell_seen(t, i) && sg_statement_of(t->g->s, i)->step == 0) sg_tell_object(t, i);
}

static void closing(const SgTell *t)
{
    const SgSolved *s = t->g->s;
    uint32_t thin = 0, one = 0;
    for (uint32_t i = 0; i < t->g->scope->nsymbols; i++)
        if (t->g->scope->symbol[i].kind == SG_KIND_lens && sg_tell_told(t, i) && !s->thing[i].element.thick) { thin++; one = i; }
    if (thin == 1) sg_tell_of(t, one, SG_TEXT_tell_ideal_lens, NULL, 0);
    if (thin > 1) sg_tell(t, SG_TEXT_tell_ideal_lenses, NULL, 0);
    if (s->by_rule) sg_tell(t, SG_TEXT_tell_by_rule, NULL, 0);
}

static bool ends_sentence(SgStr s) { return s.n && (s.s[s.n - 1] == '.' || s.s[s.n - 1] == '?' || s.s[s.n - 1] == '!' || s.s[s.n - 1] == ':'); }

static void step_of(const SgTell *t, SgSceneStep *step, int k)
{
    SgBuf own = { .arena = t->g->c->arena };
    SgTell of_step = *t;
    of_step.out = &own;
    SgStr number = sg_tell_count(t, (uint32_t)k);
    if (step->caption.n) SG_TELL(&of_step, SG_TEXT_tell_step, { "k", number }, { "caption", step->caption });
    else SG_TELL(&of_step, SG_TEXT_tell_step_bare, { "k", number });
    if (step->caption.n && !ends_sentence(step->caption)) sg_put_char(&own, '.');
    if (step->ask.n) SG_TELL(&of_step, SG_TEXT_tell_ask, { "question", step->ask });
    if (step->ask.n && !ends_sentence(step->ask)) sg_put_char(&own, '.');
    statements(&of_step, k, false);
    letters(&of_step, k);
    statements(&of_step, k, true);
    step->told = sg_buf_str(&own);
    if (t->out->n) sg_put_char(t->out, ' ');
    sg_put_str(t->out, step->told);
}

static SgStr scale_sentence(const SgTell *t, SgStr words)
{
    return words.n ? SG_FILLED(t->g->c->arena, t->w, SG_TEXT_tell_scale, { "words", words }) : SG_LIT("");
}

static void tell_all(SgTell *t, SgScene *scene)
{
    SgStage *g = t->g;
    intro(t);
    things(t);
    letters(t, 0);
    statements(t, 0, false);
    if (t->whole) for (uint32_t i = 0; i < g->scope->nsymbols; i++) if (sg_is_element(g->scope->symbol[i].kind) && sg_tell_seen(t, i)) sg_tell_focal(t, i);
    statements(t, 0, true);
    for (uint32_t k = 0; t->whole && k < scene->nsteps; k++) if (g->part.whole || (int)k < g->part.upto) step_of(t, &scene->step[k], (int)k + 1);
    closing(t);
}

void sg_scene_describe(SgStage *g, SgScene *scene)
{
    SgTell t = { .g = g, .w = g->s->wording };
    find_answers(&t);
    for (int whole = 0; whole < 2; whole++) {
        SgBuf told = { .arena = g->c->arena };
        t.out = &told;
        t.whole = whole;
        tell_all(&t, scene);
        *(whole ? &scene->describe : &scene->given) = sg_buf_str(&told);
    }
    scene->scale_told = scale_sentence(&t, g->s->scale_words);
    scene->slide_scale_told = scale_sentence(&t, sg_scene_slide_scale(g->s));
    scene->caution_told = g->s->caution;               /* no description is without it */
    sg_scene_brief(g, &t, scene);
}
