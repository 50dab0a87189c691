/* Rays as marks: the light along its exact lines, cut where it meets the drawn surface, and what is produced beyond it.
   In: solved paths. Out: marks. Light is drawn solid only where there is light; every produced line is dashed and drawn once. */
#include "scene/build.h"
#include <math.h>

enum { TOUCH_UM = 300 };       /* the arc is drawn when the two cuts of every ray lie within 0.3 mm */

static bool path_touches(const SgSolved *s, const SgPath *p, uint32_t symbol, double *worst)
{
    bool all = true;
    for (uint32_t k = 0; k < p->nhits; k++) {
        const SgSurface *f = &s->thing[symbol].element.surface;
        SgPoint a, b;
        double step;
        if (p->met[k] != symbol) continue;
        bool cut = sg_arc_cuts(f, p->leg[k], p->leg[k + 1], &a, &b, &step);
        if (cut && step > *worst) *worst = step;
        all = all && cut && !p->hit[k].outside && step * s->along * 1000 <= TOUCH_UM;
    }
    return all;
}

static bool touches(const SgSolved *s, const SgThing *ray, uint32_t symbol, double *worst)
{
    bool all = true;
    for (uint32_t i = 0; i < ray->nmany; i++) all = path_touches(s, &ray->many[i], symbol, worst) && all;
    return all;
}

static bool is_light(SgKind kind) { return kind == SG_KIND_ray || kind == SG_KIND_beam || kind == SG_KIND_fan; }

bool sg_scene_arc(SgCompile *c, const SgSolved *s, SgSolved *const *uses, uint32_t nuses, uint32_t symbol, bool paper)
{
    const SgStatement *st = sg_statement_of(s, symbol);
    bool arc_kind = st->kind == SG_KIND_mirror || st->kind == SG_KIND_boundary;
    if (!arc_kind || s->thing[symbol].state == SG_POISON || s->thing[symbol].element.plane) return false;
    if (s->by_rule) return true;
    if (s->along < s->up || s->along > s->up) return false;            /* a circle would be none on paper */
    const SgPhrase *p = sg_phrase(st, st->kind == SG_KIND_mirror ? SG_PHRASE_mirror_surface : SG_PHRASE_boundary_surface);
    bool forced = p && p->n && sg_word_is(s, p->value[0], "arc");
    if (p && p->n && sg_word_is(s, p->value[0], "straight")) return false;
    if (p && p->n && !forced && !sg_word_is(s, p->value[0], "auto")) {
        sg_say(c, SG_MSG_word_value, p->value[0]->at, "`surface` takes one of the words auto, straight, arc");
        return false;
    }
    if (paper && !forced) return false;
    bool all = true;
    double worst = 0;
    for (uint32_t u = 0; u < nuses; u++)
        for (uint32_t i = 0; i < s->figure->scope->nsymbols; i++)
            if (is_light(s->figure->scope->symbol[i].kind) && uses[u]->thing[i].state == SG_VALID && uses[u]->thing[symbol].state == SG_VALID)
                all = touches(uses[u], &uses[u]->thing[i], symbol, &worst) && all;
    if (forced && !all) {
        long tenths = (long)(worst * s->along * 10 + 0.5);
        sg_say(c, SG_MSG_arc_forced, p->at, "on this arc the rays of the construction meet the mirror up to %ld.%ld mm away from where they leave it; make the object or the aperture smaller, or let it be `surface straight`", tenths / 10, tenths % 10);
    }
    return forced || all;
}

/* Where the legs that meet at hit k end and begin as drawn. */
void sg_scene_cut(const SgStage *g, const SgPath *p, uint32_t k, SgPoint *in, SgPoint *out)
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
    double least = 20 / g->s->along;
    if (t < least) t = least;
    double height = leg.direction.y_mm > 0 ? g->end_height_mm : -g->end_height_mm;
    if (fabs(leg.direction.y_mm) > 1e-9) {
        double by_height = (height - leg.start.y_mm) / leg.direction.y_mm;
        if (by_height < least) by_height = least;
        if (by_height < t) t = by_height;
    }
    return sg_pt_along(leg.start, leg.direction, t);
}

static void produced(SgStage *g, const SgStatement *st, int step, uint32_t light, double from_mm, SgPoint a, SgPoint b)
{
    if (sg_pt_distance(a, b) * g->s->along < 0.5) return;
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
    sg_scene_cut(g, p, 0, &in, &out);
    double t_aim = p->aimed ? sg_pt_dot(sg_pt_sub(p->aim, p->start), p->leg[0].direction) : 0;
    if (p->aimed && !on_light(ray, p->aim)) {
        if (t_aim > at_mm) produced(g, st, st->step, ray->light, at_mm, in, p->aim);
        else if (t_aim < 0 && p->through) produced(g, st, st->step, ray->light, 0, p->start, p->aim);
    }
    for (uint32_t i = 0; i < g->scope->nsymbols; i++) {            /* light on its way to a virtual object */
        const SgObject *o = &g->s->thing[i].object;
        if (g->scope->symbol[i].kind != SG_KIND_object || g->s->thing[i].state != SG_VALID || !o->is_virtual || on_light(ray, o->tip)) continue;
        SgPoint way = sg_pt_sub(o->tip, in);
        if (sg_pt_dot(way, p->leg[0].direction) > 0 && fabs(sg_pt_cross(way, p->leg[0].direction)) < 1e-6) produced(g, st, st->step, ray->light, at_mm, in, o->tip);
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

static bool is_thick(const SgStage *g, uint32_t symbol) { return g->s->thing[symbol].element.thick; }

/* Between the principal planes of a thick lens there is no drawn light: an aid joins the two heights. */
static void aid_between(SgStage *g, const SgStatement *st, SgPoint a, SgPoint b)
{
    if (sg_pt_distance(a, b) * g->s->along < 0.2) return;
    SgMark m = sg_mark_new(g, st, SG_ROLE_AID);
    m.words = SG_LIT("");
    SgPoint xy[2] = { a, b };
    sg_mark_add(g, m, xy, 2);
}

static SgMark ray_mark(SgStage *g, const SgStatement *st, uint32_t light, uint32_t sister)
{
    SgMark m = sg_mark_new(g, st, SG_ROLE_RAY);
    m.light = light;
    m.sister = sister;
    m.words = SG_LIT("");
    return m;
}

static double length_of(const SgPoint *xy, uint32_t n)
{
    double mm = 0;
    for (uint32_t i = 1; i < n; i++) mm += sg_pt_distance(xy[i - 1], xy[i]);
    return mm;
}

static void one_ray(SgStage *g, const SgStatement *st, const SgPath *p, uint32_t light, uint32_t *sister)
{
    SgPoint *xy = SG_ARRAY(g->c->arena, SgPoint, 2 * p->nhits + 2);
    uint32_t n = 0;
    double from_mm = 0;
    SgMark m = ray_mark(g, st, light, (*sister)++);
    xy[n++] = p->start;
    for (uint32_t k = 0; k < p->nhits; k++) {
        SgPoint in, out;
        sg_scene_cut(g, p, k, &in, &out);
        xy[n++] = in;
        if (is_thick(g, p->met[k])) {
            m.light_from_mm = from_mm;
            from_mm += length_of(xy, n);
            sg_mark_add(g, m, xy, n);
            aid_between(g, st, in, out);
            m = ray_mark(g, st, light, (*sister)++);
            n = 0;
        }
        if (n == 0 || sg_pt_distance(in, out) > 1e-9) xy[n++] = out;
    }
    xy[n] = p->ends ? p->end : end_of(g, p->leg[p->nhits]);
    SgPoint first = p->leg[0].direction, last = p->leg[p->nhits].direction;
    m.mistaken = p->mistaken;
    m.retraced = p->nhits == 1 && fabs(sg_pt_cross(first, last)) < 1e-9 && sg_pt_dot(first, last) < 0;
    if (m.retraced && !p->ends && sg_pt_distance(p->hit[0].at, xy[n]) < sg_pt_distance(p->hit[0].at, p->start)) xy[n] = p->start;
    if (p->ends && n > 0 && sg_pt_distance(xy[n - 1], xy[n]) < 1e-9) n--;
    g->last_end = xy[n++];
    m.light_from_mm = from_mm;
    SgMark ray = *sg_mark_add(g, m, xy, n);
    aids_of_surface(g, st, p);
    if (st->kind == SG_KIND_ray && !p->mistaken) aids_of_ray(g, st, p, &ray);
}

void sg_scene_rays(SgStage *g, uint32_t symbol)
{
    const SgThing *t = &g->s->thing[symbol];
    uint32_t sister = 0, middle = t->nmany / 2;
    one_ray(g, sg_statement_of(g->s, symbol), &t->many[middle], g->light[symbol], &sister);
    for (uint32_t i = 0; i < t->nmany; i++)
        if (i != middle) one_ray(g, sg_statement_of(g->s, symbol), &t->many[i], g->light[symbol], &sister);
}

/* How far up the first object an image is of a path starts: 0 its foot, 1 its tip; -1 elsewhere. By rule only light of a tip
   meets again. */
static double start_on_object(const SgStage *g, const SgImage *im, const SgPath *p)
{
    while (g->scope->symbol[im->of].kind == SG_KIND_image) im = &g->s->thing[im->of].image;
    const SgObject *o = &g->s->thing[im->of].object;
    if (g->s->thing[im->of].state != SG_VALID) return -1;
    if (!o->far) {
        SgPoint way = sg_pt_sub(o->tip, p->start), shaft = sg_pt_sub(o->tip, o->foot), up = sg_pt_sub(p->start, o->foot);
        if (sg_pt_length(way) < 1e-6 || (o->is_virtual && fabs(sg_pt_cross(sg_pt_unit(way), p->leg[0].direction)) < 1e-9)) return 1;
        double size = sg_pt_length(shaft), t = size > 0 ? sg_pt_dot(up, shaft) / (size * size) : -1;
        return !g->s->by_rule && t > -1e-9 && t < 1 && sg_pt_distance(p->start, sg_pt_along(o->foot, shaft, t)) < 1e-6 ? t : -1;
    }
    double sine, cosine;
    sg_sincos_deg(o->angle_deg, &sine, &cosine);
    return fabs(p->leg[0].direction.y_mm + sine) < 1e-9 && sg_pt_dot(p->leg[0].direction, g->s->light) > 0 ? 1 : -1;
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
    sg_scene_cut(g, p, leg, &in, &out);
    if (sg_pt_dot(sg_pt_sub(tip, in), p->leg[leg].direction) > 0) produced(g, st, step, light, length_to(p, leg), in, tip);
}

static void produced_back(SgStage *g, const SgStatement *st, int step, const SgPath *p, uint32_t leg, uint32_t light, SgPoint tip)
{
    SgPoint in, from, start = leg > 1 ? p->leg[leg - 1].start : p->start;
    sg_scene_cut(g, p, leg - 1, &in, &from);
    SgPoint back = sg_pt_sub(tip, from), arriving = sg_pt_sub(start, in);
    bool over = fabs(sg_pt_cross(sg_pt_unit(back), sg_pt_unit(arriving))) < 1e-9 && sg_pt_dot(back, arriving) > 0;
    if (over && sg_pt_length(arriving) >= sg_pt_length(back)) return;            /* the light itself lies there */
    if (over) from = start;
    produced(g, st, step, light, length_to(p, leg - 1), from, tip);
}

/* Light along the axis: what is produced of it is the axis itself. */
static bool along_the_axis(const SgStage *g, const SgImage *im, const SgPath *p, uint32_t leg)
{
    const SgSurface *last = &g->s->thing[im->by[im->nby - 1]].element.surface;
    return fabs(sg_pt_cross(p->leg[leg].direction, last->along)) < 1e-9 && fabs(sg_pt_cross(sg_pt_sub(p->leg[leg].start, last->vertex), last->along)) < 1e-6;
}

void sg_scene_produced(SgStage *g, uint32_t image)
{
    const SgImage *im = &g->s->thing[image].image;
    const SgStatement *st = sg_statement_of(g->s, image);
    if (im->mistaken || (im->last.real && !im->would_be) || !sg_image_drawn(g, im)) return;
    for (uint32_t i = 0; i < g->scope->nsymbols; i++) {
        const SgThing *t = &g->s->thing[i];
        if (!is_light(g->scope->symbol[i].kind) || t->state != SG_VALID || !g->light[i]) continue;
        const SgStatement *ray_st = sg_statement_of(g->s, i);
        int step = st->step > ray_st->step ? st->step : ray_st->step;
        for (uint32_t k = 0; k < t->nmany; k++) {
            const SgPath *p = &t->many[k];
            uint32_t leg = leg_of_image(p, im);
            if (p->mistaken) continue;
            double up = leg ? start_on_object(g, im, p) : -1;
            if (up < 0 || along_the_axis(g, im, p, leg)) continue;
            SgPoint at = sg_pt_along(im->foot, sg_pt_sub(im->tip, im->foot), up);
            if (im->would_be) produced_on(g, ray_st, step, p, leg, g->light[i], at);
            else produced_back(g, ray_st, step, p, leg, g->light[i], at);
        }
    }
}
