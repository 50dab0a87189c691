/* Rays as marks: the light along its exact lines, cut where it meets the drawn surface, and what is produced beyond it.
   In: solved paths. Out: marks. Light is drawn solid only where there is light; every produced line is dashed and drawn once. */
#include "scene/build.h"
#include <math.h>

enum { TOUCH_UM = 300 };       /* the arc is drawn when the two cuts of every ray lie within 0.3 mm */

static bool touches(const SgSolved *s, const SgThing *ray, uint32_t symbol, double *worst)
{
    bool all = true;
    for (uint32_t k = 0; k < ray->path.nhits; k++) {
        const SgSurface *f = &s->thing[symbol].element.surface;
        SgPoint a, b;
        double step;
        if (ray->path.met[k] != symbol) continue;
        bool cut = sg_arc_cuts(f, ray->path.leg[k], ray->path.leg[k + 1], &a, &b, &step);
        if (cut && step > *worst) *worst = step;
        all = all && cut && !ray->path.hit[k].outside && step * 1000 <= TOUCH_UM;
    }
    return all;
}

bool sg_scene_arc(SgCompile *c, const SgSolved *s, SgSolved *const *uses, uint32_t nuses, uint32_t symbol)
{
    const SgStatement *st = sg_statement_of(s, symbol);
    if (st->kind != SG_KIND_mirror || s->thing[symbol].state == SG_POISON || s->thing[symbol].element.plane) return false;
    const SgPhrase *p = sg_phrase(st, SG_PHRASE_mirror_surface);
    bool forced = p && p->n && sg_word_is(s, p->value[0], "arc");
    if (p && p->n && sg_word_is(s, p->value[0], "straight")) return false;
    if (p && p->n && !forced && !sg_word_is(s, p->value[0], "auto")) {
        sg_say(c, SG_MSG_word_value, p->value[0]->at, "`surface` takes one of the words auto, straight, arc");
        return false;
    }
    bool all = true;
    double worst = 0;
    for (uint32_t u = 0; u < nuses; u++)
        for (uint32_t i = 0; i < s->figure->scope->nsymbols; i++)
            if (s->figure->scope->symbol[i].kind == SG_KIND_ray && uses[u]->thing[i].state == SG_VALID && uses[u]->thing[symbol].state == SG_VALID)
                all = touches(uses[u], &uses[u]->thing[i], symbol, &worst) && all;
    if (forced && !all) {
        long tenths = (long)(worst * 10 + 0.5);
        sg_say(c, SG_MSG_arc_forced, p->at, "on this arc the rays of the construction meet the mirror up to %ld.%ld mm away from where they leave it; make the object or the aperture smaller, or let it be `surface straight`", tenths / 10, tenths % 10);
    }
    return forced || all;
}

/* Where the legs that meet at hit k end and begin as drawn. */
static void cuts(const SgStage *g, const SgPath *p, uint32_t k, SgPoint *in, SgPoint *out)
{
    double step;
    uint32_t symbol = p->met[k];
    *in = p->hit[k].at;
    *out = p->leg[k + 1].start;
    if (g->arc[symbol] && !sg_arc_cuts(&g->s->thing[symbol].element.surface, p->leg[k], p->leg[k + 1], in, out, &step)) {
        *in = p->hit[k].at;
        *out = p->leg[k + 1].start;
    }
}

static SgPoint end_of(const SgStage *g, SgRayLine leg)
{
    double t = 1e6, limit = leg.direction.x_mm > 0 ? g->end_right_mm : g->end_left_mm;
    if (fabs(leg.direction.x_mm) > 1e-9) t = (limit - leg.start.x_mm) / leg.direction.x_mm;
    if (t < 20) t = 20;
    double height = leg.direction.y_mm > 0 ? g->end_height_mm : -g->end_height_mm;
    if (fabs(leg.direction.y_mm) > 1e-9) {
        double by_height = (height - leg.start.y_mm) / leg.direction.y_mm;
        if (by_height < 20) by_height = 20;
        if (by_height < t) t = by_height;
    }
    return sg_pt_along(leg.start, leg.direction, t);
}

static void produced(SgStage *g, const SgStatement *st, int step, uint32_t light, double from_mm, SgPoint a, SgPoint b)
{
    if (sg_pt_distance(a, b) < 0.5) return;
    for (uint32_t i = 0; i < g->marks.n; i++) {                     /* drawn once: what is already there, or a part of it */
        SgMark *m = &g->marks.v[i];
        if (m->role != SG_ROLE_PRODUCED || m->light != light) continue;
        if (sg_segment_distance(m->xy[0], m->xy[1], a) < 1e-6 && sg_segment_distance(m->xy[0], m->xy[1], b) < 1e-6) return;
        if (sg_pt_distance(m->xy[0], a) < 1e-6 && sg_segment_distance(a, b, m->xy[1]) < 1e-6) a = m->xy[1];
    }
    SgMark m = sg_mark_new(g, st, SG_ROLE_PRODUCED);
    m.step = step;
    m.light = light;
    m.light_from_mm = step == st->step ? from_mm : 0;
    m.words = SG_LIT("");
    SgPoint xy[2] = { a, b };
    sg_mark_add(g, m, xy, 2);
}

static bool on_light(const SgMark *ray, SgPoint p)
{
    for (uint32_t i = 1; i < ray->nxy; i++) if (sg_segment_distance(ray->xy[i - 1], ray->xy[i], p) < 1e-6) return true;
    return false;
}

/* The line beyond where the light is, to the point the ray is aimed at; and back to the focal point that a parallel ray
   seems to come from. */
static void aids_of_ray(SgStage *g, const SgStatement *st, const SgPath *p, const SgMark *ray)
{
    if (!p->nhits) return;
    double at_mm = sg_pt_distance(ray->xy[0], ray->xy[1]);
    SgPoint in, out;
    cuts(g, p, 0, &in, &out);
    double t_aim = p->aimed ? sg_pt_dot(sg_pt_sub(p->aim, p->start), p->leg[0].direction) : 0;
    if (p->aimed && !on_light(ray, p->aim)) {
        if (t_aim > at_mm) produced(g, st, st->step, ray->light, at_mm, in, p->aim);
        else if (t_aim < 0 && p->through) produced(g, st, st->step, ray->light, 0, p->start, p->aim);
    }
    uint32_t symbol = p->met[0];
    const SgElement *e = &g->s->thing[symbol].element;
    bool parallel = fabs(sg_pt_cross(p->leg[0].direction, e->surface.along)) < 1e-9;
    if (!parallel || e->plane || e->focal_mm > 0 || fabs(p->hit[0].height_mm) < 1e-6) return;
    double sense = e->surface.acts == SG_ACTS_REFLECT ? -1 : 1;
    produced(g, st, st->step, ray->light, at_mm, out, sg_pt_along(e->surface.vertex, e->surface.along, sense * e->focal_mm));
}

/* A surface drawn on beyond its edge to where a ray meets it: an aid, not light. */
static void aids_of_surface(SgStage *g, const SgStatement *st, const SgPath *p)
{
    for (uint32_t k = 0; k < p->nhits; k++) {
        const SgSurface *f = &g->s->thing[p->met[k]].element.surface;
        if (!p->hit[k].outside) continue;
        SgMark m = sg_mark_new(g, st, SG_ROLE_AID);
        m.words = SG_LIT("");
        double edge = p->hit[k].height_mm > 0 ? f->half_aperture_mm : -f->half_aperture_mm;
        SgPoint xy[2] = { sg_pt_along(f->vertex, sg_pt_left(f->along), edge), p->hit[k].at };
        sg_mark_add(g, m, xy, 2);
    }
}

void sg_scene_ray(SgStage *g, uint32_t symbol, uint32_t light)
{
    const SgPath *p = &g->s->thing[symbol].path;
    const SgStatement *st = sg_statement_of(g->s, symbol);
    SgPoint *xy = SG_ARRAY(g->c->arena, SgPoint, 2 * p->nhits + 2);
    uint32_t n = 0;
    xy[n++] = p->start;
    for (uint32_t k = 0; k < p->nhits; k++) {
        SgPoint in, out;
        cuts(g, p, k, &in, &out);
        xy[n++] = in;
        if (sg_pt_distance(in, out) > 1e-9) xy[n++] = out;
    }
    xy[n] = end_of(g, p->leg[p->nhits]);
    SgMark m = sg_mark_new(g, st, SG_ROLE_RAY);
    m.light = light;
    m.words = SG_LIT("");
    SgPoint first = p->leg[0].direction, last = p->leg[p->nhits].direction;
    m.retraced = p->nhits == 1 && fabs(sg_pt_cross(first, last)) < 1e-9 && sg_pt_dot(first, last) < 0;
    if (m.retraced && sg_pt_distance(p->hit[0].at, xy[n]) < sg_pt_distance(p->hit[0].at, p->start)) xy[n] = p->start;
    g->last_end = xy[n++];
    SgMark ray = *sg_mark_add(g, m, xy, n);
    aids_of_surface(g, st, p);
    aids_of_ray(g, st, p, &ray);
}

/* The tip a ray must start at to belong to an image: that of the first object it is an image of. */
static bool first_tip(const SgStage *g, const SgImage *im, SgPoint *tip)
{
    while (g->scope->symbol[im->of].kind == SG_KIND_image) im = &g->s->thing[im->of].image;
    *tip = g->s->thing[im->of].object.tip;
    return g->s->thing[im->of].state == SG_VALID;
}

/* The leg that leaves the image's last element; 0 when the ray never meets it. */
static uint32_t leg_of_image(const SgPath *p, const SgImage *im)
{
    for (uint32_t k = p->nhits; k > 0; k--) if (p->met[k - 1] == im->by[im->nby - 1]) return k;
    return 0;
}

static double length_to(const SgPath *p, uint32_t hit)
{
    double mm = 0;
    for (uint32_t k = 0; k <= hit; k++) mm += sg_pt_distance(k ? p->leg[k].start : p->start, p->hit[k].at);
    return mm;
}

/* Light that would meet at the image but is caught by an element before it: produced beyond that element. */
static void produced_on(SgStage *g, const SgStatement *st, int step, const SgPath *p, uint32_t leg, uint32_t light, SgPoint tip)
{
    SgPoint in, out;
    if (leg >= p->nhits) return;
    cuts(g, p, leg, &in, &out);
    if (sg_pt_dot(sg_pt_sub(tip, in), p->leg[leg].direction) > 0) produced(g, st, step, light, length_to(p, leg), in, tip);
}

static void produced_back(SgStage *g, const SgStatement *st, int step, const SgPath *p, uint32_t leg, uint32_t light, SgPoint tip)
{
    SgPoint in, from, start = leg > 1 ? p->leg[leg - 1].start : p->start;
    cuts(g, p, leg - 1, &in, &from);
    SgPoint back = sg_pt_sub(tip, from), arriving = sg_pt_sub(start, in);
    bool over = fabs(sg_pt_cross(sg_pt_unit(back), sg_pt_unit(arriving))) < 1e-9 && sg_pt_dot(back, arriving) > 0;
    if (over && sg_pt_length(arriving) >= sg_pt_length(back)) return;            /* the light itself lies there */
    if (over) from = start;
    produced(g, st, step, light, length_to(p, leg - 1), from, tip);
}

void sg_scene_produced(SgStage *g, uint32_t image)
{
    const SgImage *im = &g->s->thing[image].image;
    const SgStatement *st = sg_statement_of(g->s, image);
    SgPoint tip;
    if ((im->last.real && !im->would_be) || !sg_image_drawn(g, im) || !first_tip(g, im, &tip)) return;
    uint32_t light = 0;
    for (uint32_t i = 0; i < g->scope->nsymbols; i++) {
        if (g->scope->symbol[i].kind != SG_KIND_ray) continue;
        const SgThing *t = &g->s->thing[i];
        const SgStatement *ray_st = sg_statement_of(g->s, i);
        if (t->state != SG_VALID || sg_is_hidden(ray_st)) continue;
        light++;
        uint32_t leg = leg_of_image(&t->path, im);
        if (!leg || sg_pt_distance(t->path.start, tip) > 1e-6) continue;
        int step = st->step > ray_st->step ? st->step : ray_st->step;
        if (im->would_be) produced_on(g, ray_st, step, &t->path, leg, light, im->tip);
        else produced_back(g, ray_st, step, &t->path, leg, light, im->tip);
    }
}
