/* The figure in 150 characters, for where alternative text is short. In: solved things. Out: markup without marks; cut by saying
   less, never within a word. */
#include "scene/describe.h"
#include <math.h>

enum { BRIEF_MOST = 150 };         /* characters; common practice for alternative text */
typedef struct { bool given, where, image, object, several; } Much;

typedef struct { SgTextId one, many; } Sort;
#define SORT(text) (Sort){ SG_TEXT_brief_##text, SG_TEXT_brief_many_##text }
static Sort sort_of(const SgTell *t, uint32_t i)
{
    const SgElement *e = &t->g->s->thing[i].element;
    switch ((int)t->g->scope->symbol[i].kind) {
    case SG_KIND_mirror: return e->plane ? SORT(mirror_plane) : e->converging ? SORT(mirror_concave) : SORT(mirror_convex);
    case SG_KIND_lens: return e->converging ? SORT(lens_converging) : SORT(lens_diverging);
    case SG_KIND_boundary: return SORT(boundary);
    case SG_KIND_stop: return SORT(stop);
    case SG_KIND_screen: return SORT(screen);
    case SG_KIND_eye: return SORT(eye);
    default: return (Sort){ SG_TEXT_COUNT, SG_TEXT_COUNT };
    }
}

static void part(SgBuf *b, SgStr text, const char *between)
{
    if (!text.n) return;
    if (b->n) sg_puts(b, between);
    sg_put_str(b, text);
}

static SgStr object_text(const SgTell *t, uint32_t symbol, bool where)
{
    SgArena *a = t->g->c->arena;
    const SgObject *o = &t->g->s->thing[symbol].object;
    const SgPhrase *at = sg_phrase(sg_statement_of(t->g->s, symbol), SG_PHRASE_object_at);
    SgStr name = sg_tell_name(t, symbol);
    uint32_t only = UINT32_MAX, n = 0;
    for (uint32_t i = 0; i < t->g->scope->nsymbols; i++) if (sg_meets_light(t->g->scope->symbol[i].kind) && sg_tell_seen(t, i)) { n++; only = i; }
    if (o->far) return SG_FILLED(a, t->w, SG_TEXT_brief_object_far, { "name", name });
    if (!where || n == 0 || (at && at->n && sg_tell_depends(t, at->value[0]))) return name;
    uint32_t other;
    double d;
    if (n > 1 && sg_tell_place(t, symbol, at && at->n ? at->value[0] : NULL, &other, &d) && fabs(d) > 1e-6)
        return SG_FILLED(a, t->w, d < 0 ? SG_TEXT_brief_object_before_other : SG_TEXT_brief_object_beyond_other, { "name", name }, { "d", sg_tell_length(t, d) }, { "other", sg_tell_name(t, other) });
    if (n > 1 || !sg_tell_told(t, only)) return name;
    d = sg_pt_dot(sg_pt_sub(o->foot, t->g->s->thing[only].element.surface.vertex), t->g->s->light);
    if (fabs(d) < 1e-6) return name;
    return SG_FILLED(a, t->w, d < 0 ? SG_TEXT_brief_object_before : SG_TEXT_brief_object_beyond, { "name", name }, { "d", sg_tell_length(t, d) });
}

static SgStr image_text(const SgTell *t)
{
    uint32_t last = UINT32_MAX;
    for (uint32_t i = 0; i < t->g->scope->nsymbols; i++) if (t->g->scope->symbol[i].kind == SG_KIND_image && sg_tell_seen(t, i)) last = i;
    if (last == UINT32_MAX) return SG_LIT("");
    const SgImage *im = &t->g->s->thing[last].image;
    if (im->last.far == SG_AT_INFINITY) return t->w->text[SG_TEXT_brief_image_far];
    return SG_FILLED(t->g->c->arena, t->w, SG_TEXT_brief_image, { "nature", sg_image_nature(t->g->s, im) });
}

static bool is_told(const SgTell *t, Much much, uint32_t i) { return sg_tell_seen(t, i) && (!much.given || sg_statement_of(t->g->s, i)->step == 0); }

/* What stands in the way of light, each sort once with how many there are. */
static SgStr elements_text(const SgTell *t, Much much)
{
    SgArena *a = t->g->c->arena;
    SgBuf b = { .arena = a };
    bool done[SG_TEXT_COUNT] = { false };
    for (uint32_t i = 0; i < t->g->scope->nsymbols && (much.several || !b.n); i++) {
        Sort sort = sort_of(t, i);
        uint32_t n = 0;
        if (sort.one == SG_TEXT_COUNT || done[sort.one] || !is_told(t, much, i)) continue;
        for (uint32_t k = i; k < t->g->scope->nsymbols; k++) n += is_told(t, much, k) && sort_of(t, k).one == sort.one;
        done[sort.one] = true;
        part(&b, n == 1 ? t->w->text[sort.one] : SG_FILLED(a, t->w, sort.many, { "n", sg_tell_count(t, n) }), ", ");
    }
    return b.n ? sg_buf_str(&b) : SG_LIT("");
}

/* What is looked at; where nothing is, the light itself. */
static SgStr objects_text(const SgTell *t, Much much)
{
    SgArena *a = t->g->c->arena;
    SgBuf b = { .arena = a };
    for (uint32_t i = 0; i < t->g->scope->nsymbols; i++)
        if (t->g->scope->symbol[i].kind == SG_KIND_object && is_told(t, much, i)) part(&b, object_text(t, i, much.where), ", ");
    uint32_t rays = 0;
    for (uint32_t i = 0; i < t->g->scope->nsymbols && !b.n; i++) {
        const SgStatement *st = sg_statement_of(t->g->s, i);
        const SgPhrase *from = st->kind == SG_KIND_fan ? sg_phrase(st, SG_PHRASE_fan_from) : NULL;
        if (!t->g->light[i] || !is_told(t, much, i)) continue;
        rays += st->kind == SG_KIND_ray;
        if (st->kind == SG_KIND_beam) part(&b, t->w->text[SG_TEXT_brief_beam], "");
        if (from && from->n) part(&b, SG_FILLED(a, t->w, SG_TEXT_brief_fan, { "from", sg_tell_point(t, from->value[0], true) }), "");
    }
    if (!b.n && rays) part(&b, rays == 1 ? t->w->text[SG_TEXT_brief_ray] : SG_FILLED(a, t->w, SG_TEXT_brief_rays_many, { "n", sg_tell_count(t, rays) }), "");
    return b.n ? sg_buf_str(&b) : SG_LIT("");
}

static SgStr say(const SgTell *t, Much much)
{
    SgStr what = elements_text(t, much);
    bool light = false;
    for (uint32_t i = 0; i < t->g->scope->nsymbols; i++) light = light || (t->g->light[i] > 0 && is_told(t, much, i));
    if (much.object) what = sg_joined(t->g->c->arena, t->w, what, objects_text(t, much));
    if (much.image && !much.given) what = sg_joined(t->g->c->arena, t->w, what, image_text(t));
    if (!what.n) return t->w->text[light ? SG_TEXT_brief_rays_bare : SG_TEXT_brief_drawing_bare];
    return SG_FILLED(t->g->c->arena, t->w, light ? SG_TEXT_brief_rays : SG_TEXT_brief_drawing, { "what", what });
}

/* At most so many characters, cut before a word; for a wording that says too much even at its shortest. */
static SgStr cut(SgStr s)
{
    if (sg_utf8_count(s) <= BRIEF_MOST) return s;
    uint32_t n = 0, last = 0;
    for (uint32_t i = 0, c; i < s.n && n < BRIEF_MOST; n++) {
        if (s.s[i] == ' ') last = i;
        i = sg_utf8_next(s, i, &c);
    }
    return (SgStr){ s.s, last };
}

static SgStr brief(SgTell *t, bool given)
{
    static const Much steps[] = { { false, true, true, true, true }, { false, false, true, true, true }, { false, false, true, false, true },
                                  { false, false, true, false, false }, { false, false, false, false, false } };
    SgStr s = SG_LIT("");
    t->whole = !given;
    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++) {
        Much much = steps[i];
        much.given = given;
        s = say(t, much);
        if (sg_utf8_count(s) <= BRIEF_MOST) return s;
    }
    return cut(s);
}

/* The author's own words for it. */
static bool own_text(SgStage *g, SgStr *text)
{
    for (uint32_t i = 0; i < g->scope->nstatements; i++) {
        const SgStatement *st = &g->scope->statement[i];
        if (st->kind != SG_KIND_alt) continue;
        if (!st->caption) {
            if (!st->damaged) sg_wrong(g->s, SG_MSG_phrase_missing, st->head_at, "`alt` needs its text in quotes");
            continue;
        }
        *text = sg_eval_text(g->s, st->caption);
        uint32_t n = sg_utf8_count(*text);
        if (n > BRIEF_MOST)
            sg_wrong(g->s, SG_MSG_alt_too_long, st->caption->at, "an alternative text is at most 150 characters, and this is %u; say less, for the long description says the rest", n);
        return true;
    }
    return false;
}

void sg_scene_brief(SgStage *g, SgTell *t, SgScene *scene)
{
    if (!own_text(g, &scene->brief)) scene->brief = brief(t, false);
    scene->brief_given = brief(t, true);
}
