/* Lines that marks stand for: a construction line, the normal of a surface. In: phrases, things already solved. Out: two points
   or a line. Computed when asked for, since nothing is placed by a mark. */
#include "solved/build.h"
#include <math.h>

static bool point_of(SgSolved *s, const SgStatement *st, SgPhraseId id, SgPoint *p)
{
    const SgPhrase *phrase = sg_phrase(st, id);
    if (!phrase || !phrase->n) return false;
    SgValue v = sg_eval_as(s, phrase->value[0], SG_TYPE_POINT, SG_DIM_LENGTH, sg_phrase_info(id)->word);
    *p = v.point;
    return v.state == SG_VALID;
}

bool sg_mark_ends(SgSolved *s, const SgStatement *st, SgPhraseId from, SgPhraseId to, SgPoint *a, SgPoint *b)
{
    if (!point_of(s, st, from, a) || !point_of(s, st, to, b)) return false;
    if (sg_pt_distance(*a, *b) > 1e-9) return true;
    sg_wrong(s, SG_MSG_ray_aims_at_start, st->head_at, "both ends of %s are the same point; move one of them", sg_kind_info(st->kind)->name_text);
    return false;
}

/* Paraxial light meets the plane of the vertex, and is drawn to the arc where that is drawn: a point of either will do. */
static bool on_surface(SgSolved *s, const SgElement *e, SgPoint p, SgSpan at)
{
    const SgSurface *f = &e->surface;
    double off = fabs(sg_pt_dot(sg_pt_sub(p, f->vertex), f->along));
    if (f->profile == SG_PROFILE_SPHERE) {
        SgPoint centre = sg_pt_along(f->vertex, f->along, -f->radius_mm);
        double from_arc = fabs(sg_pt_distance(p, centre) - fabs(f->radius_mm));
        if (from_arc < off) off = from_arc;
    }
    if (off * s->along < 0.5) return true;
    SgStr far = sg_show(s, sg_value_number(off, SG_DIM_LENGTH), SG_UNIT_mm, 2);
    sg_wrong(s, SG_MSG_mark_off_line, at, "this point lies %.*s off the surface; name a point of it, such as a ray's .strike", (int)far.n, far.s);
    return false;
}

/* A curved surface's normal runs through its centre of curvature; that of a lens, being a line on the figure, along its axis. */
bool sg_mark_normal(SgSolved *s, const SgStatement *st, uint32_t *element, SgPoint *foot, SgPoint *direction)
{
    const SgPhrase *to = sg_phrase(st, SG_PHRASE_normal_to), *at = sg_phrase(st, SG_PHRASE_normal_at);
    if (!to || !to->n) return false;
    SgValue v = sg_eval_as(s, to->value[0], SG_TYPE_THING, SG_DIM_NUMBER, "to");
    if (v.state != SG_VALID) return false;
    SgKind kind = s->figure->scope->symbol[v.thing].kind;
    if (!sg_is_element(kind)) {
        sg_wrong(s, SG_MSG_type_wrong, to->value[0]->at, "a normal is square to a mirror, lens or boundary, and this is %s; name one of those after `to`", sg_kind_info(kind)->name_text);
        return false;
    }
    if (s->thing[v.thing].state != SG_VALID) return false;
    const SgElement *e = &s->thing[v.thing].element;
    *element = v.thing;
    *foot = e->surface.vertex;
    if (at && (!point_of(s, st, SG_PHRASE_normal_at, foot) || !on_surface(s, e, *foot, at->at))) return false;
    *direction = e->surface.along;
    if (kind == SG_KIND_lens || e->plane) return true;
    SgPoint centre = sg_pt_along(e->surface.vertex, e->surface.along, -e->surface.radius_mm);
    SgPoint out = sg_pt_unit(sg_pt_sub(*foot, centre));
    *direction = sg_pt_dot(out, e->surface.along) < 0 ? sg_pt_scale(out, -1) : out;
    return true;
}

bool sg_mark_line(SgSolved *s, uint32_t symbol, SgLineValue *line)
{
    const SgStatement *st = sg_statement_of(s, symbol);
    SgPoint a, b;
    uint32_t element;
    line->half = 0;
    if (st->kind == SG_KIND_normal) return sg_mark_normal(s, st, &element, &line->through, &line->direction);
    if (st->kind != SG_KIND_line || !sg_mark_ends(s, st, SG_PHRASE_line_from, SG_PHRASE_line_to, &a, &b)) return false;
    line->through = a;
    line->direction = sg_pt_unit(sg_pt_sub(b, a));
    return true;
}
