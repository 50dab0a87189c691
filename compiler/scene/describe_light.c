/* Sentences about rays: where each starts and is aimed, and what everything it meets does to it. In: paths. Out: markup. */
#include "scene/describe.h"
#include <math.h>

#define NEAR_MM 1e-6

static const SgExpr *value_of(const SgStatement *st, SgPhraseId id)
{
    const SgPhrase *p = sg_phrase(st, id);
    return p && p->n ? p->value[0] : NULL;
}

static bool level(SgPoint direction, const SgSurface *f) { return fabs(sg_pt_cross(direction, f->along)) < 1e-9; }

static double off_line(SgRayLine l, SgPoint p) { return fabs(sg_pt_cross(sg_pt_sub(p, l.start), l.direction)); }

/* ---- one ray ---- */

static SgTextId aim_of(const SgPath *p, const SgStatement *st)
{
    SgPoint d = p->leg[0].direction;
    if (sg_phrase(st, SG_PHRASE_ray_via)) return SG_TEXT_tell_ray_via;
    if (sg_phrase(st, SG_PHRASE_ray_parallel) || fabs(d.y_mm) < 1e-9) return SG_TEXT_tell_ray_parallel;
    if (!p->aimed) return d.y_mm > 0 ? SG_TEXT_tell_ray_climbs : SG_TEXT_tell_ray_falls;
    double to = sg_pt_dot(sg_pt_sub(p->aim, p->start), d), reach = p->nhits ? sg_pt_distance(p->start, p->hit[0].at) : 1e300;
    if (to < 0) return SG_TEXT_tell_ray_line;
    if (to > reach + NEAR_MM) return SG_TEXT_tell_ray_aimed;
    return to > reach - NEAR_MM ? SG_TEXT_tell_ray_toward : SG_TEXT_tell_ray_through;
}

/* Light on its way to what it never reaches: a virtual object, or an image that the next element forestalls. */
static bool never_reached(const SgTell *t, const SgExpr *from)
{
    const SgExpr *of = from && from->op == SG_E_PROPERTY ? from->arg[0] : from;
    if (!of || of->op != SG_E_SYMBOL || of->in_file) return false;
    SgKind kind = t->g->scope->symbol[of->symbol].kind;
    return (kind == SG_KIND_object && t->g->s->thing[of->symbol].object.is_virtual) || (kind == SG_KIND_image && t->g->s->thing[of->symbol].image.would_be);
}

static SgTextId aim_beyond(const SgStatement *st, const SgPath *p, const SgExpr *aim)
{
    if (sg_phrase(st, SG_PHRASE_ray_parallel) || fabs(p->leg[0].direction.y_mm) < 1e-9) return SG_TEXT_tell_ray_comes_parallel;
    return aim ? SG_TEXT_tell_ray_comes_by : SG_TEXT_tell_ray_comes;
}

static void starts(const SgTell *t, uint32_t symbol, const SgStatement *st, const SgPath *p)
{
    const SgExpr *from = value_of(st, SG_PHRASE_ray_from), *aim = value_of(st, SG_PHRASE_ray_through);
    if (!aim) aim = value_of(st, SG_PHRASE_ray_toward);
    if (!aim) aim = value_of(st, SG_PHRASE_ray_to);
    SgPoint d = p->leg[0].direction;
    if (never_reached(t, from)) {
        SG_TELL(t, aim_beyond(st, p, aim), { "n", sg_tell_ray(t, symbol) }, { "point", sg_tell_point(t, from, false) }, { "point2", aim ? sg_tell_point(t, aim, false) : SG_LIT("") });
        return;
    }
    SgTextId id = aim_of(p, st);
    SgHole hole[4] = { { "n", sg_tell_ray(t, symbol) }, { "from", from ? sg_tell_point(t, from, true) : SG_LIT("") },
                       { "point", aim ? sg_tell_point(t, aim, false) : SG_LIT("") }, { "angle", sg_tell_angle(t, sg_atan2_deg(d.y_mm, fabs(d.x_mm))) } };
    sg_tell(t, id, hole, 4);
}

/* Where light that comes parallel to the axis from this side is brought, or seems to come from. */
static SgPoint focus_of(const SgElement *e, double sense)
{
    const SgSurface *f = &e->surface;
    if (f->acts == SG_ACTS_REFLECT) return sg_pt_along(f->vertex, f->along, -e->focal_mm);
    return sense > 0 ? sg_pt_along(f->exit, f->along, f->n_after / f->power_per_mm) : sg_pt_along(f->vertex, f->along, -f->n_before / f->power_per_mm);
}

static SgTextId reflected(const SgElement *e, SgRayLine in, SgRayLine out, const SgHit *h)
{
    bool back = sg_pt_dot(in.direction, out.direction) < -1 + 1e-12;
    if (e->plane) return back ? SG_TEXT_tell_off_back : SG_TEXT_tell_off_plane;
    if (back) return SG_TEXT_tell_off_back;
    if (fabs(h->height_mm) < NEAR_MM) return SG_TEXT_tell_off_vertex;
    if (level(out.direction, &e->surface)) return SG_TEXT_tell_off_parallel;
    if (!level(in.direction, &e->surface)) return SG_TEXT_tell_off;
    SgPoint f = focus_of(e, h->sense);
    if (off_line(out, f) > NEAR_MM) return SG_TEXT_tell_off;
    return sg_pt_dot(sg_pt_sub(f, out.start), out.direction) > 0 ? SG_TEXT_tell_off_focus : SG_TEXT_tell_off_from_focus;
}

static SgTextId refracted(const SgElement *e, SgRayLine in, SgRayLine out, const SgHit *h)
{
    bool on = fabs(sg_pt_cross(in.direction, out.direction)) < 1e-9, middle = fabs(h->height_mm) < NEAR_MM;
    if (on) return middle && e->surface.n_before >= e->surface.n_after && e->surface.n_before <= e->surface.n_after && !e->thick ? SG_TEXT_tell_straight : SG_TEXT_tell_unbent;
    if (fabs(e->surface.power_per_mm) > 1e-12) {
        if (level(out.direction, &e->surface)) return SG_TEXT_tell_bent_parallel;
        SgPoint f = focus_of(e, h->sense);
        if (level(in.direction, &e->surface) && off_line(out, f) < NEAR_MM)
            return sg_pt_dot(sg_pt_sub(f, out.start), out.direction) > 0 ? SG_TEXT_tell_bent_focus : SG_TEXT_tell_bent_from_focus;
    }
    double slope = out.direction.y_mm / fabs(out.direction.x_mm) - in.direction.y_mm / fabs(in.direction.x_mm);
    double side = fabs(h->height_mm) > NEAR_MM ? h->at.y_mm : in.direction.y_mm;
    return slope * side < 0 ? SG_TEXT_tell_bent_in : SG_TEXT_tell_bent_out;
}

/* What the light ends at: a plate it falls on, or what it is drawn until; UINT32_MAX when that has no name. */
static uint32_t ends_at(const SgTell *t, const SgPath *p)
{
    const SgScope *scope = t->g->scope;
    for (uint32_t i = 0; p->ends && i < scope->nsymbols; i++) {
        SgKind kind = scope->symbol[i].kind;
        SgPoint at;
        if (kind != SG_KIND_stop && kind != SG_KIND_screen && kind != SG_KIND_eye) continue;
        if (t->g->s->thing[i].state != SG_VALID || sg_is_hidden(sg_statement_of(t->g->s, i)) || !sg_default_point(t->g->s, i, true, &at)) continue;
        SgPoint along = kind == SG_KIND_eye ? t->g->s->light : t->g->s->thing[i].element.surface.along;
        if (fabs(sg_pt_dot(sg_pt_sub(p->end, at), along)) < NEAR_MM) return i;
    }
    return UINT32_MAX;
}

/* Stops whose opening light goes through on leg k. */
static void passed(const SgTell *t, const SgPath *p, uint32_t k)
{
    SgPoint end = k < p->nhits ? p->hit[k].at : p->ends ? p->end : sg_pt_along(p->leg[k].start, p->leg[k].direction, 1e6);
    for (uint32_t i = 0; i < t->g->scope->nsymbols; i++) {
        if (t->g->scope->symbol[i].kind != SG_KIND_stop || t->g->s->thing[i].state != SG_VALID) continue;
        const SgSurface *f = &t->g->s->thing[i].element.surface;
        double closing = sg_pt_dot(p->leg[k].direction, f->along);
        if (fabs(closing) < 1e-9) continue;
        double at = sg_pt_dot(sg_pt_sub(f->vertex, p->leg[k].start), f->along) / closing;
        SgPoint cut = sg_pt_along(p->leg[k].start, p->leg[k].direction, at);
        bool inside = fabs(sg_pt_cross(f->along, sg_pt_sub(cut, f->vertex))) <= f->hole_mm + NEAR_MM;
        if (at > NEAR_MM && at < sg_pt_distance(p->leg[k].start, end) - NEAR_MM && inside) sg_tell_of(t, i, SG_TEXT_tell_stop_passed, NULL, 0);
    }
}

/* Where no rule says which way a ray goes on, its slope does; angles are as they are drawn only under equal scales. */
static void goes_on(const SgTell *t, const SgPath *p, SgTextId id)
{
    const SgElement *e = &t->g->s->thing[p->met[p->nhits - 1]].element;
    SgPoint d = p->leg[p->nhits].direction;
    bool tilted = fabs(e->surface.along.y_mm) > 1e-9, equal = fabs(t->g->s->along - t->g->s->up) < 1e-12;
    bool open = id == SG_TEXT_tell_off || id == SG_TEXT_tell_bent_in || id == SG_TEXT_tell_bent_out || (id == SG_TEXT_tell_off_plane && tilted);
    if (!open || !equal || fabs(d.y_mm) < 1e-9) return;
    SG_TELL(t, d.y_mm > 0 ? SG_TEXT_tell_leaves_climbs : SG_TEXT_tell_leaves_falls, { "angle", sg_tell_angle(t, sg_atan2_deg(d.y_mm, fabs(d.x_mm))) });
}

static void one_ray(const SgTell *t, uint32_t symbol, const SgStatement *st)
{
    const SgPath *p = &t->g->s->thing[symbol].path;
    starts(t, symbol, st, p);
    for (uint32_t k = 0; k <= p->nhits; k++) {
        passed(t, p, k);
        if (k == p->nhits) break;
        const SgElement *e = &t->g->s->thing[p->met[k]].element;
        SgTextId id = e->surface.acts == SG_ACTS_REFLECT ? reflected(e, p->leg[k], p->leg[k + 1], &p->hit[k]) : refracted(e, p->leg[k], p->leg[k + 1], &p->hit[k]);
        if (p->hit[k].outside) SG_TELL(t, SG_TEXT_tell_edge, { "name", sg_tell_name(t, p->met[k]) });
        sg_tell_of(t, p->met[k], id, NULL, 0);
        if (k + 1 == p->nhits) goes_on(t, p, id);
    }
    uint32_t end = ends_at(t, p);
    if (end != UINT32_MAX) sg_tell_of(t, end, SG_TEXT_tell_ends, NULL, 0);
    else if (p->nhits == 0 && !p->ends) sg_tell(t, SG_TEXT_tell_meets_nothing, NULL, 0);
}

/* ---- many ---- */

static void many_start(const SgTell *t, uint32_t symbol, const SgStatement *st)
{
    const SgThing *thing = &t->g->s->thing[symbol];
    SgPoint d = thing->path.leg[0].direction;
    SgStr n = sg_tell_ray(t, symbol), count = sg_tell_count(t, thing->nmany);
    const SgExpr *from = value_of(st, SG_PHRASE_fan_from), *of = value_of(st, SG_PHRASE_beam_of);
    if (st->kind == SG_KIND_fan) SG_TELL(t, SG_TEXT_tell_fan, { "n", n }, { "count", count }, { "from", from ? sg_tell_point(t, from, true) : SG_LIT("") });
    else if (of && of->op == SG_E_SYMBOL && !of->in_file) SG_TELL(t, SG_TEXT_tell_beam_of, { "n", n }, { "count", count }, { "name", sg_tell_name(t, of->symbol) });
    else if (fabs(d.y_mm) < 1e-9) SG_TELL(t, SG_TEXT_tell_beam_axis, { "n", n }, { "count", count });
    else SG_TELL(t, d.y_mm > 0 ? SG_TEXT_tell_beam_climbs : SG_TEXT_tell_beam_falls, { "n", n }, { "count", count }, { "angle", sg_tell_angle(t, sg_atan2_deg(d.y_mm, fabs(d.x_mm))) });
}

/* What an element does to two rays of a beam or fan. */
static SgTextId together(const SgElement *e, const SgPath *a, const SgPath *b, uint32_t k)
{
    SgRayLine in = a->leg[k], in2 = b->leg[k], out = a->leg[k + 1], out2 = b->leg[k + 1];
    bool parallel = fabs(sg_pt_cross(in.direction, in2.direction)) < 1e-9, on_axis = parallel && level(in.direction, &e->surface);
    double ahead, other;
    if (sg_pt_dot(in.direction, out.direction) < -1 + 1e-12 && sg_pt_dot(in2.direction, out2.direction) < -1 + 1e-12) return SG_TEXT_tell_many_back;
    if (e->plane) return SG_TEXT_tell_many_reflected;
    if (fabs(sg_pt_cross(out.direction, out2.direction)) < 1e-9 || !sg_line_cross(out.start, out.direction, out2.start, out2.direction, &ahead, &other))
        return SG_TEXT_tell_many_parallel;
    if (ahead > 0) return on_axis ? SG_TEXT_tell_many_focus : parallel ? SG_TEXT_tell_many_focal_plane : SG_TEXT_tell_many_meet;
    return on_axis ? SG_TEXT_tell_many_from_focus : parallel ? SG_TEXT_tell_many_from_focal_plane : SG_TEXT_tell_many_spread;
}

/* How far from an element two rays meet after it, along its axis; by rule they meet only nearly, and no number is told. */
static bool meeting(const SgTell *t, const SgElement *e, const SgPath *a, const SgPath *b, uint32_t k, double *mm)
{
    double ahead, other;
    SgRayLine out = a->leg[k + 1], out2 = b->leg[k + 1];
    if (t->g->s->by_rule || !sg_line_cross(out.start, out.direction, out2.start, out2.direction, &ahead, &other)) return false;
    *mm = fabs(sg_pt_dot(sg_pt_sub(sg_pt_along(out.start, out.direction, ahead), e->surface.exit), e->surface.along));
    return true;
}

static void many_met(const SgTell *t, const SgPath *a, const SgPath *b, uint32_t k)
{
    const SgElement *e = &t->g->s->thing[a->met[k]].element;
    SgTextId id = together(e, a, b, k);
    double mm;
    if ((id == SG_TEXT_tell_many_meet || id == SG_TEXT_tell_many_spread) && meeting(t, e, a, b, k, &mm))
        SG_TELL_OF(t, a->met[k], id == SG_TEXT_tell_many_meet ? SG_TEXT_tell_many_meet_at : SG_TEXT_tell_many_spread_at, { "d", sg_tell_length(t, mm) });
    else sg_tell_of(t, a->met[k], id, NULL, 0);
}

/* Another path that has met the same up to hit k. */
static const SgPath *companion(const SgThing *thing, const SgPath *a, uint32_t k)
{
    for (uint32_t i = 0; i < thing->nmany; i++) {
        const SgPath *b = &thing->many[i];
        bool same = b != a && b->nhits > k && sg_pt_distance(b->hit[k].at, a->hit[k].at) > NEAR_MM;
        for (uint32_t j = 0; same && j <= k; j++) same = b->met[j] == a->met[j];
        if (same) return b;
    }
    return NULL;
}

/* On which leg a plate that holds no ray is passed; UINT32_MAX: none comes by. */
static uint32_t leg_through(const SgTell *t, const SgPath *p, uint32_t stop)
{
    const SgSurface *f = &t->g->s->thing[stop].element.surface;
    for (uint32_t k = 0; k <= p->nhits; k++) {
        double closing = sg_pt_dot(p->leg[k].direction, f->along);
        SgPoint end = k < p->nhits ? p->hit[k].at : p->ends ? p->end : sg_pt_along(p->leg[k].start, p->leg[k].direction, 1e6);
        double at = fabs(closing) < 1e-9 ? -1 : sg_pt_dot(sg_pt_sub(f->vertex, p->leg[k].start), f->along) / closing;
        if (at > NEAR_MM && at < sg_pt_distance(p->leg[k].start, end) + NEAR_MM) return k;
    }
    return UINT32_MAX;
}

/* Where plates come on leg k of the longest path: what they hold back, and what ends there. */
static void plates(const SgTell *t, const SgThing *thing, const SgPath *longest, uint32_t k)
{
    for (uint32_t i = 0; i < t->g->scope->nsymbols; i++) {
        SgKind kind = t->g->scope->symbol[i].kind;
        uint32_t held = 0;
        if ((kind != SG_KIND_stop && kind != SG_KIND_screen && kind != SG_KIND_eye) || !sg_tell_seen(t, i)) continue;
        for (uint32_t r = 0; r < thing->nmany; r++) held += ends_at(t, &thing->many[r]) == i;
        if (kind != SG_KIND_stop) { if (held && k == longest->nhits) sg_tell_of(t, i, SG_TEXT_tell_many_end, NULL, 0); continue; }
        if (leg_through(t, longest, i) != k) continue;
        if (held) SG_TELL_OF(t, i, SG_TEXT_tell_many_held, { "count", sg_tell_count(t, held) });
        else sg_tell_of(t, i, SG_TEXT_tell_many_passed, NULL, 0);
    }
}

/* How wide they are where they first meet an element that stands upright. */
static void reach(const SgTell *t, const SgThing *thing, uint32_t element)
{
    double high = 0, low = 0;
    for (uint32_t i = 0; i < thing->nmany; i++) {
        const SgPath *p = &thing->many[i];
        if (p->nhits == 0 || p->met[0] != element) continue;
        if (p->hit[0].at.y_mm > high) high = p->hit[0].at.y_mm;
        if (p->hit[0].at.y_mm < low) low = p->hit[0].at.y_mm;
    }
    if (fabs(t->g->s->thing[element].element.surface.along.y_mm) > 1e-9 || high < NEAR_MM || low > -NEAR_MM) return;
    SG_TELL(t, SG_TEXT_tell_many_reach, { "name", sg_tell_name(t, element) }, { "high", sg_tell_length(t, high) }, { "low", sg_tell_length(t, low) });
}

void sg_tell_light(const SgTell *t, uint32_t symbol)
{
    const SgThing *thing = &t->g->s->thing[symbol];
    const SgStatement *st = sg_statement_of(t->g->s, symbol);
    if (st->kind == SG_KIND_ray) { one_ray(t, symbol, st); return; }
    const SgPath *a = &thing->many[0];
    for (uint32_t i = 0; i < thing->nmany; i++) if (thing->many[i].nhits > a->nhits) a = &thing->many[i];
    many_start(t, symbol, st);
    for (uint32_t k = 0; k <= a->nhits; k++) {
        plates(t, thing, a, k);
        if (k == 0 && a->nhits > 0) reach(t, thing, a->met[0]);
        const SgPath *b = k < a->nhits ? companion(thing, a, k) : NULL;
        if (b) many_met(t, a, b, k);
    }
}
