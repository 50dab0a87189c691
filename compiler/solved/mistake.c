/* Mistakes that students make, drawn on purpose. In: a ray or image worked out rightly, the mistakes the set asks for. Out: the same
   drawn wrongly, marked as mistaken. The sorts are those that teachers name (common practice; no single source). */
#include "solved/build.h"

static const SgStatement *asked_of(const SgSolved *s, uint32_t symbol)
{
    for (uint32_t i = 0; i < s->set.nmistakes; i++) {
        const SgStatement *st = sg_statement_of(s, s->set.mistake[i]);
        const SgPhrase *of = sg_phrase(st, SG_PHRASE_mistake_of);
        if (of && of->n && of->value[0]->op == SG_E_SYMBOL && !of->value[0]->in_file && of->value[0]->symbol == symbol) return st;
    }
    return NULL;
}

static bool no_such(SgSolved *s, const SgStatement *st, const char *why)
{
    sg_wrong(s, SG_MSG_mistake_form, st->head_at, "%s", why);
    return false;
}

static bool has(const SgStatement *st, SgPhraseId id) { return sg_phrase(st, id) != NULL; }

/* Turned to go on along the light (back from a mirror). */
static SgPoint onward(const SgElement *e, SgPoint way)
{
    double along = sg_pt_dot(way, e->surface.along);
    bool back = e->surface.acts == SG_ACTS_REFLECT;
    return sg_pt_unit((along < 0) != back ? sg_pt_scale(way, -1) : way);
}

static SgPoint on_axis(const SgElement *e, double mm)
{
    return sg_pt_along(e->surface.acts == SG_ACTS_REFLECT ? e->surface.vertex : e->surface.exit, e->surface.along, e->surface.acts == SG_ACTS_REFLECT ? -mm : mm);
}

static SgPoint across_the_normal(const SgElement *e, SgPoint in, SgPoint out)
{
    if (e->surface.acts == SG_ACTS_REFLECT) return sg_pt_scale(in, -1);
    SgPoint a = e->surface.along;
    return sg_pt_sub(sg_pt_scale(a, 2 * sg_pt_dot(out, a)), out);
}

bool sg_mistake_ray(SgSolved *s, uint32_t symbol, SgPath *p)
{
    const SgStatement *st = asked_of(s, symbol);
    if (!st) return true;
    p->mistaken = true;
    if (has(st, SG_PHRASE_mistake_first_face_only)) {
        if (p->nhits < 2) return no_such(s, st, "this ray meets one surface only, so it cannot bend at the first one only; name another mistake");
        p->nhits = 1;
        return true;
    }
    if (p->nhits != 1) return no_such(s, st, "this mistake is of a ray that meets one mirror or lens; name one that does, or write first_face_only");
    const SgElement *e = &s->thing[p->met[0]].element;
    SgPoint at = p->leg[1].start, in = p->leg[0].direction, *out = &p->leg[1].direction;
    bool focal = !e->plane;
    if (has(st, SG_PHRASE_mistake_wrong_side)) *out = across_the_normal(e, in, *out);
    else if (has(st, SG_PHRASE_mistake_unbent) && e->surface.acts == SG_ACTS_REFRACT) *out = in;
    else if (has(st, SG_PHRASE_mistake_unbent)) return no_such(s, st, "no ray goes straight on through a mirror; name another mistake");
    else if (has(st, SG_PHRASE_mistake_through_centre) && focal) *out = onward(e, sg_pt_sub(on_axis(e, 2 * e->focal_mm), at));
    else if (has(st, SG_PHRASE_mistake_away_from_focus) && focal) *out = onward(e, sg_pt_sub(on_axis(e, -e->focal_mm), at));
    else if (has(st, SG_PHRASE_mistake_as_if_at_focus) && focal)
        *out = onward(e, sg_pt_sub(p->start, e->surface.acts == SG_ACTS_REFLECT ? on_axis(e, 2 * e->focal_mm) : e->surface.vertex));
    else if (focal) return no_such(s, st, "a ray leaves wrongly: write wrong_side, through_centre, away_from_focus, as_if_at_focus, unbent or first_face_only");
    else return no_such(s, st, "a plane mirror has no focal point to be mistaken for; write wrong_side");
    return true;
}

bool sg_mistake_image(SgSolved *s, uint32_t symbol, SgImage *im)
{
    const SgStatement *st = asked_of(s, symbol);
    if (!st) return true;
    im->mistaken = true;
    if (has(st, SG_PHRASE_mistake_as_real)) {
        if (im->last.real) return no_such(s, st, "this image is real, so it cannot be drawn as real by mistake; name another mistake");
        im->last.real = true;
        return true;
    }
    if (has(st, SG_PHRASE_mistake_other_way_up)) {
        im->tip = sg_pt_sub(sg_pt_scale(im->foot, 2), im->tip);
        im->height_mm = -im->height_mm;
        im->upright = !im->upright;
        return true;
    }
    const SgElement *e = &s->thing[im->by[im->nby - 1]].element;
    if (!has(st, SG_PHRASE_mistake_at_focus)) return no_such(s, st, "an image is drawn wrongly: write other_way_up, at_focus or as_real");
    if (e->plane) return no_such(s, st, "a plane mirror has no focal point; write other_way_up or as_real");
    SgPoint foot = on_axis(e, e->focal_mm);
    im->tip = sg_pt_add(foot, sg_pt_sub(im->tip, im->foot));
    im->foot = foot;
    im->last.distance_mm = e->focal_mm;
    return true;
}

/* The number a ray carries where all of a figure is drawn; 0 of an image. */
static uint32_t number_of(const SgSolved *s, uint32_t symbol)
{
    const SgScope *scope = s->figure->scope;
    uint32_t n = 0;
    for (uint32_t i = 0; i <= symbol; i++) {
        SgKind kind = scope->symbol[i].kind;
        bool light = kind == SG_KIND_ray || kind == SG_KIND_beam || kind == SG_KIND_fan;
        n += light && !sg_phrase(sg_statement_of(s, i), SG_PHRASE_common_hidden);
    }
    return scope->symbol[symbol].kind == SG_KIND_ray ? n : 0;
}

SgStr sg_mistake_words(SgSolved *s, uint32_t mistake)
{
    static const struct { SgPhraseId id; SgTextId clause; } sort[] = {
        { SG_PHRASE_mistake_wrong_side, SG_TEXT_mistake_wrong_side }, { SG_PHRASE_mistake_through_centre, SG_TEXT_mistake_through_centre },
        { SG_PHRASE_mistake_away_from_focus, SG_TEXT_mistake_away_from_focus }, { SG_PHRASE_mistake_as_if_at_focus, SG_TEXT_mistake_as_if_at_focus },
        { SG_PHRASE_mistake_unbent, SG_TEXT_mistake_unbent }, { SG_PHRASE_mistake_first_face_only, SG_TEXT_mistake_first_face_only },
        { SG_PHRASE_mistake_other_way_up, SG_TEXT_mistake_other_way_up }, { SG_PHRASE_mistake_at_focus, SG_TEXT_mistake_at_focus },
        { SG_PHRASE_mistake_as_real, SG_TEXT_mistake_as_real },
    };
    SgArena *a = s->c->arena;
    const SgStatement *st = sg_statement_of(s, mistake);
    const SgPhrase *of = sg_phrase(st, SG_PHRASE_mistake_of);
    if (st->caption) return sg_eval_text(s, st->caption);
    if (!of || !of->n || of->value[0]->op != SG_E_SYMBOL || of->value[0]->in_file) return SG_LIT("");
    SgStr name = sg_name_of(s, of->value[0]->symbol);
    uint32_t number = number_of(s, of->value[0]->symbol);
    const SgPhrase *named = sg_phrase(sg_statement_of(s, of->value[0]->symbol), SG_PHRASE_common_named);
    if (named && named->n) name = sg_eval_text(s, named->value[0]);          /* as the figure shows it */
    if (number) name = sg_format(a, "%u", number);
    if (s->figure->scope->symbol[of->value[0]->symbol].kind == SG_KIND_image) name = SG_FILLED(a, s->wording, SG_TEXT_the_image, { "name", name });
    else name = SG_FILLED(a, s->wording, SG_TEXT_the_ray, { "n", name });
    for (size_t i = 0; i < sizeof sort / sizeof *sort; i++)
        if (has(st, sort[i].id)) return SG_FILLED(a, s->wording, sort[i].clause, { "name", name });
    return SG_LIT("");
}
