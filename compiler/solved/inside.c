/* inside(thing): whether it stands wholly in the author's frame. In: solved places, the frame's size. Out: yes or no.
   The frame lies around the middle of all that stands in the figure. Words and the widths of lines do not count, and light and
   the axis may run out of it. Never asks the layout, so that a demand does not hang on where words find room. */
#include "solved/value.h"

static SgBox add(const SgSolved *s, SgBox box, SgPoint p) { return sg_box_add(box, sg_pt(p.x_mm * s->along, p.y_mm * s->up)); }

/* On paper; empty for what has no place, *far for what is at infinity. */
static SgBox box_of(const SgSolved *s, uint32_t symbol, bool *far)
{
    const SgThing *t = &s->thing[symbol];
    SgKind kind = s->figure->scope->symbol[symbol].kind;
    SgBox box = sg_box_empty();
    *far = false;
    if (t->state != SG_VALID) return box;
    if (sg_meets_light(kind)) {
        const SgSurface *f = &t->element.surface;
        for (int side = -1; side <= 1; side += 2) box = add(s, box, sg_pt_along(f->vertex, sg_pt_left(f->along), side * f->half_aperture_mm));
    }
    if (kind == SG_KIND_object) {
        *far = t->object.far;
        if (!*far) box = add(s, add(s, box, t->object.foot), t->object.tip);
    }
    if (kind == SG_KIND_image) {
        *far = t->image.last.far == SG_AT_INFINITY;
        if (!*far) box = add(s, add(s, box, t->image.foot), t->image.tip);
    }
    if (kind == SG_KIND_point || kind == SG_KIND_eye) box = add(s, box, t->place);
    return box;
}

static bool frame_size(SgSolved *s, double *w_mm, double *h_mm)
{
    const SgStatement *f = s->figure->frame;
    const SgPhrase *by = f ? sg_phrase(f, SG_PHRASE_frame_by) : NULL;
    if (!f || !f->definition || !by || !by->n) return false;
    SgValue w = sg_eval(s, f->definition), h = sg_eval(s, by->value[0]);
    *w_mm = w.number;
    *h_mm = h.number;
    return w.state == SG_VALID && h.state == SG_VALID && w.type == SG_TYPE_NUMBER && h.type == SG_TYPE_NUMBER;
}

SgValue sg_value_inside(SgSolved *s, const SgExpr *e)
{
    SgValue of = sg_eval(s, e->arg[0]);
    bool far, other_far;
    double w_mm, h_mm;
    if (of.state != SG_VALID) return of;
    if (of.type == SG_TYPE_THING && s->thing[of.thing].state != SG_VALID) return sg_value_poison();
    SgBox box = of.type == SG_TYPE_THING ? box_of(s, of.thing, &far) : sg_box_empty();
    if (of.type != SG_TYPE_THING || (box.x0_mm > box.x1_mm && !far)) {
        SgStr told = sg_value_told(s, of);
        return sg_wrong(s, SG_MSG_argument_wrong, e->arg[0]->at, "`inside` takes the name of something that stands in the figure, such as an image, and this is %.*s", (int)told.n, told.s);
    }
    if (!frame_size(s, &w_mm, &h_mm)) return sg_value_truth(true);
    if (far) return sg_value_truth(false);
    SgBox all = sg_box_empty();
    for (uint32_t i = 0; i < s->figure->scope->nsymbols; i++)
        if (!sg_phrase(sg_statement_of(s, i), SG_PHRASE_common_hidden)) all = sg_box_join(all, box_of(s, i, &other_far));
    double x = (all.x0_mm + all.x1_mm) / 2, y = (all.y0_mm + all.y1_mm) / 2, slack = 1e-6;
    return sg_value_truth(box.x0_mm >= x - w_mm / 2 - slack && box.x1_mm <= x + w_mm / 2 + slack && box.y0_mm >= y - h_mm / 2 - slack && box.y1_mm <= y + h_mm / 2 + slack);
}
