/* by_rule: where rays drawn by ruler on the arc really cross. In: the rays of the figure, or the principal ones. Out: tip, spread, shift.
   Crossings: of each two rays from the object's tip that differ in direction by 3 degrees or more; the tip is their mean,
   spread the largest distance between two, shift the distance from the tip to the image of the equation. */
#include "solved/build.h"
#include <math.h>

enum { MOST = 32 };
typedef struct { SgRayLine out[MOST]; uint32_t n; } Leaving;

static void leave(Leaving *l, const SgSurface *f, SgPoint tip, SgPoint direction)
{
    double t;
    SgHit h = { 0 };
    SgRayLine in = { tip, sg_pt_unit(direction) };
    if (l->n < MOST && sg_rule_meet(f, in, &t, &h) && !h.outside) l->out[l->n++] = sg_rule_leave(f, in, &h);
}

/* Towards the surface, whichever of the two ways along a line that is. */
static SgPoint towards(const SgSurface *f, SgPoint d) { return sg_pt_dot(d, f->along) < 0 ? sg_pt_scale(d, -1) : d; }

static void principal(Leaving *l, const SgSurface *f, SgPoint tip)
{
    SgPoint focus = sg_pt_along(f->vertex, f->along, -1 / f->power_per_mm), centre = sg_pt_along(f->vertex, f->along, -2 / f->power_per_mm);
    leave(l, f, tip, f->along);
    leave(l, f, tip, towards(f, sg_pt_sub(focus, tip)));
    leave(l, f, tip, towards(f, sg_pt_sub(centre, tip)));
    leave(l, f, tip, sg_pt_sub(f->vertex, tip));
}

static void drawn(SgSolved *s, Leaving *l, uint32_t element, SgPoint tip)
{
    const SgScope *scope = s->figure->scope;
    for (uint32_t i = 0; i < scope->nsymbols && l->n < MOST; i++) {
        const SgThing *t = &s->thing[i];
        if (scope->symbol[i].kind != SG_KIND_ray || t->state != SG_VALID || sg_pt_distance(t->path.start, tip) > 1e-6) continue;
        if (t->path.nhits && t->path.met[0] == element) l->out[l->n++] = t->path.leg[1];
    }
}

enum { FORGIVEN_MM = 2 };          /* wider than a pencil forgives */

static void warn_spread(SgSolved *s, const SgImage *im, double height_mm)
{
    if (im->spread_mm * s->along <= FORGIVEN_MM && im->shift_mm * s->along <= FORGIVEN_MM) return;
    double ratio = fabs(height_mm * s->thing[im->by[0]].element.surface.power_per_mm / 2);
    SgStr a = sg_show(s, sg_value_number(im->spread_mm, SG_DIM_LENGTH), SG_UNIT_mm, 1), b = sg_show(s, sg_value_number(im->shift_mm, SG_DIM_LENGTH), SG_UNIT_mm, 1);
    SgStr r = sg_show(s, sg_value_number(ratio, SG_DIM_NUMBER), SG_UNIT_COUNT, 2), m = sg_name_of(s, im->by[0]);
    const SgStatement *st = sg_statement_of(s, im->of);
    sg_say(s->c, SG_MSG_rule_spread, st->head_at, "by ruler on the arc of %.*s the rays meet up to %.*s apart, %.*s from the image of the equation: the tip is high for this mirror (h/R %.*s). Halve the height, or take `model paraxial`",
           (int)m.n, m.s, (int)a.n, a.s, (int)b.n, b.s, (int)r.n, r.s);
}

void sg_spread_of_image(SgSolved *s, SgImage *im)
{
    const SgSurface *f = &s->thing[im->by[im->nby - 1]].element.surface;
    bool arc = f->acts == SG_ACTS_REFLECT && f->profile == SG_PROFILE_SPHERE && im->nby == 1 && s->figure->scope->symbol[im->of].kind == SG_KIND_object;
    if (!arc || im->last.object_far == SG_AT_INFINITY) return;
    Leaving l = { .n = 0 };
    SgPoint tip = s->thing[im->of].object.tip, at[MOST * MOST], mean = { 0, 0 };
    uint32_t n = 0;
    drawn(s, &l, im->by[0], tip);
    if (l.n < 2) { l.n = 0; principal(&l, f, tip); }
    for (uint32_t i = 0; i < l.n; i++)
        for (uint32_t k = 0; k < i; k++) {
            double t, u, turn = sg_pt_cross(l.out[i].direction, l.out[k].direction);
            if (fabs(turn) < 0.052335956242943835 || !sg_line_cross(l.out[i].start, l.out[i].direction, l.out[k].start, l.out[k].direction, &t, &u)) continue;  /* sin 3 deg */
            at[n++] = sg_pt_along(l.out[i].start, l.out[i].direction, t);
        }
    if (!n) return;
    for (uint32_t i = 0; i < n; i++) mean = sg_pt_add(mean, sg_pt_scale(at[i], 1.0 / n));
    for (uint32_t i = 0; i < n; i++)
        for (uint32_t k = 0; k < i; k++) if (sg_pt_distance(at[i], at[k]) > im->spread_mm) im->spread_mm = sg_pt_distance(at[i], at[k]);
    im->shift_mm = sg_pt_distance(mean, im->tip);
    im->tip = mean;
    im->foot = sg_pt(mean.x_mm, im->foot.y_mm);
    im->tip_far = sg_homogeneous(im->tip);
    im->foot_far = sg_homogeneous(im->foot);
    im->height_mm = im->tip.y_mm - im->foot.y_mm;
    im->last.distance_mm = -sg_pt_dot(sg_pt_sub(im->foot, f->vertex), f->along);
    double h = s->thing[im->of].object.height_mm;
    if (h != 0) im->magnification = im->total_magnification = im->height_mm / h;
    warn_spread(s, im, h);
}
