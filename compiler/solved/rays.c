/* Rays: aimed, then followed from element to element, nearest first. In: phrases, surfaces. Out: legs and meetings.
   through Q: of the two ways along the line, the one that meets the named element, or the one Q belongs to, or any. */
#include "solved/build.h"
#include "base/num.h"
#include <math.h>

/* The direction a ray is given at its start; false after a message. */
static bool aim(SgSolved *s, uint32_t symbol, SgPoint *direction)
{
    SgPath *path = &s->thing[symbol].path;
    const SgStatement *st = sg_statement_of(s, symbol);
    bool given;
    *direction = s->light;
    if (sg_phrase(st, SG_PHRASE_ray_parallel) || sg_phrase(st, SG_PHRASE_ray_via)) return true;
    SgValue angle = sg_read(s, symbol, SG_PHRASE_ray_angle, &given);
    if (given) {
        if (angle.state != SG_VALID) return false;
        sg_sincos_deg(angle.number, &direction->y_mm, &direction->x_mm);
        direction->x_mm *= s->light.x_mm;
        return true;
    }
    const SgPhrase *through = sg_phrase(st, SG_PHRASE_ray_through), *p = through ? through : sg_phrase(st, SG_PHRASE_ray_toward);
    if (!p) return false;
    SgValue at = sg_read(s, symbol, p->id, &given);
    if (!given || at.state != SG_VALID) return false;
    path->aim = at.point;
    path->aimed = true;
    path->through = through != NULL;
    if (sg_pt_distance(at.point, path->start) < 1e-9) {
        sg_wrong(s, SG_MSG_ray_aims_at_start, p->at, "the ray starts at the point it is aimed at; aim it at another");
        return false;
    }
    *direction = sg_pt_unit(sg_pt_sub(at.point, path->start));
    return true;
}

/* A virtual object's tip, or a would-be image's, is never reached: the ray starts before the element that catches it. */
static SgPoint start_before(SgSolved *s, uint32_t symbol, SgPoint tip, SgPoint *way)
{
    const SgPhrase *from = sg_phrase(sg_statement_of(s, symbol), SG_PHRASE_ray_from);
    const SgExpr *e = from->value[0];
    while (e->op == SG_E_PROPERTY) e = e->arg[0];
    if (e->op != SG_E_SYMBOL || e->in_file) return tip;
    const SgThing *of = &s->thing[e->symbol];
    SgKind kind = s->figure->scope->symbol[e->symbol].kind;
    if (!(kind == SG_KIND_object && of->object.is_virtual) && !(kind == SG_KIND_image && of->image.would_be)) return tip;
    SgPoint travel = kind == SG_KIND_image ? of->image.travel : s->light;
    if (sg_pt_dot(*way, travel) < 0) *way = sg_pt_scale(*way, -1);       /* on that line, the way light goes */
    SgPoint direction = *way;
    double back = 60;
    if (kind == SG_KIND_image) {
        const SgSurface *last = &s->thing[of->image.by[of->image.nby - 1]].element.surface;
        double closing = sg_pt_dot(direction, of->image.travel);
        if (closing > 1e-9) back = sg_pt_dot(sg_pt_sub(tip, last->exit), of->image.travel) / closing;
    } else
        for (uint32_t i = 0; i < s->figure->scope->nsymbols; i++) {          /* 60 mm before the element */
            const SgSurface *f = &s->thing[i].element.surface;
            if (!sg_is_element(s->figure->scope->symbol[i].kind) || s->thing[i].state != SG_VALID) continue;
            double behind = sg_pt_dot(sg_pt_sub(tip, f->vertex), s->light) / fabs(sg_pt_dot(direction, s->light));
            if (behind > 0 && behind + 60 > back) back = behind + 60;
        }
    return sg_pt_along(tip, direction, -back);
}

static void ray_stand(SgSolved *s, uint32_t symbol)
{
    SgThing *t = &s->thing[symbol];
    bool given;
    t->state = SG_POISON;
    SgValue from = sg_read(s, symbol, SG_PHRASE_ray_from, &given);
    SgPoint direction;
    if (!given || from.state != SG_VALID) return;
    t->path = (SgPath){ .start = from.point };
    if (!aim(s, symbol, &direction)) return;
    t->path.start = start_before(s, symbol, from.point, &direction);
    t->path.leg = SG_ARRAY(s->c->arena, SgRayLine, 1);
    t->path.leg[0] = (SgRayLine){ t->path.start, direction };
    t->state = SG_VALID;
}

typedef struct { uint32_t symbol[64]; uint32_t n; bool named; } Elements;

/* What a ray may meet: what the list names, or all of the figure. */
static bool elements_met(SgSolved *s, const SgPhrase *by, Elements *out)
{
    const SgScope *scope = s->figure->scope;
    for (uint32_t i = 0; by && i < by->n; i++) {
        SgValue v = sg_eval_as(s, by->value[i], SG_TYPE_THING, SG_DIM_NUMBER, sg_phrase_info(by->id)->word);
        if (v.state != SG_VALID) return false;
        if (!sg_meets_light(scope->symbol[v.thing].kind)) {
            sg_wrong(s, SG_MSG_type_wrong, by->value[i]->at, "`%s` is followed by a mirror, lens, boundary, stop or screen, and this is %s", sg_phrase_info(by->id)->word,
                     sg_kind_info(scope->symbol[v.thing].kind)->name_text);
            return false;
        }
        out->symbol[out->n++] = v.thing;
    }
    out->named = by != NULL;
    for (uint32_t i = 0; !by && i < scope->nsymbols && out->n < 64; i++)
        if (sg_meets_light(scope->symbol[i].kind)) out->symbol[out->n++] = i;
    for (uint32_t i = 0; i < out->n; i++) if (s->thing[out->symbol[i]].state == SG_POISON) return false;
    return true;
}

static bool meet_at(const SgSolved *s, const SgSurface *f, SgRayLine leg, double *t, SgHit *h)
{
    return s->by_rule ? sg_rule_meet(f, leg, t, h) : sg_paraxial_meet(f, leg, t, h);
}

/* Light goes past a plate above and below it, and past an element whose edge is said to let it. */
static bool goes_past(const SgElement *e, const SgHit *h)
{
    bool plate = e->surface.acts == SG_ACTS_PASS || e->surface.acts == SG_ACTS_ABSORB;
    if (e->surface.acts == SG_ACTS_PASS && fabs(h->height_mm) <= e->surface.hole_mm * (1 + 1e-9)) return true;
    return h->outside && (plate || e->edge_passes);
}

/* Things in contact stand at one place: light that has just left one meets the next there, and not the plane ahead of it. */
static bool meet_in_contact(const SgSolved *s, const SgSurface *f, SgRayLine leg, double *t, SgHit *h)
{
    SgRayLine back = { sg_pt_along(leg.start, leg.direction, -1), leg.direction };
    if (!meet_at(s, f, back, t, h) || fabs(*t - 1) >= 1e-9) return false;
    *t = 0;
    h->at = leg.start;           /* exactly: contact is no distance */
    return true;
}

static bool listed(const uint32_t *list, uint32_t n, uint32_t symbol)
{
    while (n--) if (list[n] == symbol) return true;
    return false;
}

/* The nearest element ahead; false when none. `here` is what was met where the leg begins, never met again at once. Of things
   in contact light meets the one first declared, and the mirror last. */
static bool nearest(SgSolved *s, const Elements *all, SgRayLine leg, const uint32_t *here, uint32_t nhere, SgHit *hit, uint32_t *met)
{
    double best = 0;
    bool found = false, mirror = false;
    for (uint32_t i = 0; i < all->n; i++) {
        double t;
        SgHit h = { 0 };
        const SgElement *e = &s->thing[all->symbol[i]].element;
        if (listed(here, nhere, all->symbol[i])) continue;
        if (!(nhere && meet_in_contact(s, &e->surface, leg, &t, &h)) && !meet_at(s, &e->surface, leg, &t, &h)) continue;
        if (goes_past(e, &h) || (found && t >= best + (mirror ? 1e-9 : -1e-9))) continue;
        found = true;
        mirror = e->surface.acts == SG_ACTS_REFLECT;
        best = t;
        *hit = h;
        *met = all->symbol[i];
    }
    return found;
}

/* Which element a point such as M.centre or M.focus belongs to. */
static uint32_t owner_of(const SgExpr *e)
{
    while (e->op == SG_E_PROPERTY) e = e->arg[0];
    return e->op == SG_E_SYMBOL && !e->in_file ? e->symbol : UINT32_MAX;
}

static bool meets(SgSolved *s, uint32_t element, SgRayLine leg)
{
    double t;
    SgHit h;
    return sg_paraxial_meet(&s->thing[element].element.surface, leg, &t, &h);
}

/* Message 8 of every classroom: the object stands at F, and a ray is asked to go through F. */
static bool never_meets(SgSolved *s, uint32_t symbol, uint32_t element)
{
    const SgPath *p = &s->thing[symbol].path;
    const SgPhrase *phrase = sg_phrase(sg_statement_of(s, symbol), SG_PHRASE_ray_through);
    SgStr m = sg_name_of(s, element);
    const char *middle = s->figure->scope->symbol[element].kind == SG_KIND_lens ? "centre" : "vertex";
    bool above = fabs(p->aim.x_mm - p->start.x_mm) < 1e-9;
    sg_wrong(s, SG_MSG_ray_misses, phrase->at, "%s, so that line never meets %.*s; use `parallel` and `toward %.*s.%s`, or move the object",
             above ? p->start.y_mm >= p->aim.y_mm ? "the ray starts straight above that point" : "the ray starts straight below that point" : "this line runs along the surface",
             (int)m.n, m.s, (int)m.n, m.s, middle);
    return false;
}

static bool choose_way(SgSolved *s, uint32_t symbol, const Elements *all)
{
    SgPath *p = &s->thing[symbol].path;
    const SgPhrase *phrase = sg_phrase(sg_statement_of(s, symbol), SG_PHRASE_ray_through);
    SgRayLine ahead = p->leg[0], back = { ahead.start, sg_pt_scale(ahead.direction, -1) };
    uint32_t owner = owner_of(phrase->value[0]), target = UINT32_MAX;
    for (uint32_t i = 0; i < all->n; i++) if (all->symbol[i] == owner) target = owner;
    if (all->named || (target == UINT32_MAX && all->n == 1)) target = all->symbol[0];
    if (target != UINT32_MAX) {
        if (meets(s, target, ahead)) return true;
        if (!meets(s, target, back)) return never_meets(s, symbol, target);
        p->leg[0] = back;
        return true;
    }
    SgHit h;
    uint32_t a, b;
    bool on = nearest(s, all, ahead, NULL, 0, &h, &a), off = nearest(s, all, back, NULL, 0, &h, &b);
    if (on && off && a != b) {
        sg_wrong(s, SG_MSG_ray_ambiguous, phrase->at, "this line meets one element each way; name the one it goes to with `by`");
        return false;
    }
    if (!on && off) p->leg[0] = back;
    return true;
}

/* Rounded up to a tidy number of half centimetres (or the like in small figures), so that the mend works when typed. */
static double tidy_up(double mm)
{
    double step = 5;
    while (step > mm / 4) step /= 10;
    return -floor(1e-9 - mm / step) * step;
}

/* "ray a", "this ray" */
static SgStr ray_name(SgSolved *s, uint32_t symbol)
{
    SgStr n = sg_name_of(s, symbol);
    if (s->figure->scope->symbol[symbol].name == SG_NO_SYM) return n;
    return sg_format(s->c->arena, "ray %.*s", (int)n.n, n.s);
}

/* `edge passes` says that light may go past. */
static bool meets_nothing_meant(const SgSolved *s, const Elements *all)
{
    for (uint32_t i = 0; i < all->n; i++) if (s->thing[all->symbol[i]].element.edge_passes) return true;
    return false;
}

static void warn_outside(SgSolved *s, uint32_t symbol, uint32_t element, const SgHit *h)
{
    const SgElement *e = &s->thing[element].element;
    SgStr r = ray_name(s, symbol), m = sg_name_of(s, element), y = sg_show_length(s, fabs(h->height_mm));
    SgStr half = sg_show_length(s, e->surface.half_aperture_mm), need = sg_show_length(s, tidy_up(2 * fabs(h->height_mm)));
    sg_say(s->c, SG_MSG_ray_outside, sg_statement_of(s, symbol)->head_at,
           "%.*s meets %.*s's plane %.*s %s the axis; %.*s reaches %.*s. Make the aperture %.*s, the object smaller, or say `edge produced` (or `edge passes`) of %.*s",
           (int)r.n, r.s, (int)m.n, m.s, (int)y.n, y.s, h->height_mm > 0 ? "above" : "below", (int)m.n, m.s, (int)half.n, half.s, (int)need.n, need.s, (int)m.n, m.s);
}

static bool from_behind(SgSolved *s, uint32_t symbol, uint32_t element, SgRayLine leg)
{
    const SgSurface *f = &s->thing[element].element.surface;
    if (f->acts != SG_ACTS_REFLECT || sg_pt_dot(leg.direction, f->along) > 0) return false;
    SgStr r = ray_name(s, symbol), m = sg_name_of(s, element);
    sg_wrong(s, SG_MSG_ray_behind, sg_statement_of(s, symbol)->head_at, "%.*s comes to %.*s from behind, and the back of a mirror reflects nothing; start it in front, or turn %.*s with `facing`",
             (int)r.n, r.s, (int)m.n, m.s, (int)m.n, m.s);
    return true;
}

static bool meets_nothing(SgSolved *s, uint32_t symbol, const SgPath *p, const Elements *all)
{
    if (all->n == 0 || meets_nothing_meant(s, all)) return false;
    uint32_t i = 0;
    while (i < all->n && !sg_is_element(s->figure->scope->symbol[all->symbol[i]].kind)) i++;
    if (i == all->n) return false;                   /* only plates, and light may go past a plate */
    SgStr r = ray_name(s, symbol), m = sg_name_of(s, all->symbol[i]);
    bool away = sg_pt_dot(sg_pt_sub(s->thing[all->symbol[i]].element.surface.vertex, p->start), p->leg[0].direction) < 0;
    sg_wrong(s, SG_MSG_ray_misses, sg_statement_of(s, symbol)->head_at, "%.*s never meets %.*s: it %s; start it before %.*s, or aim it at %.*s", (int)r.n, r.s, (int)m.n, m.s,
             away ? "goes away from it" : "runs along it", (int)m.n, m.s, (int)m.n, m.s);
    return true;
}

static void keep(SgSolved *s, SgPath *p, const SgRayLine *leg, const SgHit *hit, const uint32_t *met)
{
    p->leg = SG_ARRAY(s->c->arena, SgRayLine, p->nhits + 1);
    p->hit = SG_ARRAY(s->c->arena, SgHit, p->nhits + 1);
    uint32_t *kept = SG_ARRAY(s->c->arena, uint32_t, p->nhits + 1);
    for (uint32_t i = 0; i <= p->nhits; i++) p->leg[i] = leg[i];
    for (uint32_t i = 0; i < p->nhits; i++) { p->hit[i] = hit[i]; kept[i] = met[i]; }
    p->met = kept;
}

/* Follows the light from leg 0 on; false after a message. */
static bool trace(SgSolved *s, uint32_t symbol, SgPath *p, const Elements *all)
{
    SgRayLine leg[SG_MAX_HITS + 1];
    SgHit hit[SG_MAX_HITS];
    uint32_t met[SG_MAX_HITS], nhere = 0, element;       /* the last nhere of met stand where the leg begins */
    leg[0] = p->leg[0];
    p->nhits = 0;
    while (p->nhits < SG_MAX_HITS) {
        SgHit h = { 0 };
        if (!nearest(s, all, leg[p->nhits], met + p->nhits - nhere, nhere, &h, &element)) break;
        const SgElement *e = &s->thing[element].element;
        if (from_behind(s, symbol, element, leg[p->nhits])) return false;
        if (e->surface.acts == SG_ACTS_PASS || e->surface.acts == SG_ACTS_ABSORB) {
            p->ends = true;
            p->end = h.at;
            break;
        }
        if (h.outside && !e->edge_meant) warn_outside(s, symbol, element, &h);
        h.surface = element;
        hit[p->nhits] = h;
        met[p->nhits] = element;
        bool contact = nhere && e->surface.acts != SG_ACTS_REFLECT && sg_pt_distance(h.at, leg[p->nhits].start) < 1e-9;
        nhere = contact ? nhere + 1 : 1;
        leg[p->nhits + 1] = s->by_rule ? sg_rule_leave(&e->surface, leg[p->nhits], &h) : sg_paraxial_leave(&e->surface, leg[p->nhits], &h);
        p->nhits++;
    }
    if (p->nhits == 0 && !p->ends && meets_nothing(s, symbol, p, all)) return false;
    SgHit over;
    if (p->nhits == SG_MAX_HITS && nearest(s, all, leg[p->nhits], met + p->nhits - nhere, nhere, &over, &element)) {
        sg_wrong(s, SG_MSG_limit, sg_statement_of(s, symbol)->head_at, "this ray meets more than %d surfaces; name the ones it is to meet with `by`, or say `edge passes` of those it may leave past", SG_MAX_HITS);
        return false;
    }
    keep(s, p, leg, hit, met);
    return true;
}

/* `until E`: drawn only as far as the plane of E. */
static bool stop_at(SgSolved *s, SgPath *p, const SgPhrase *until)
{
    if (!until || !until->n) return true;
    SgValue v = sg_eval_as(s, until->value[0], SG_TYPE_THING, SG_DIM_NUMBER, "until");
    SgPoint at;
    if (v.state != SG_VALID) return false;
    if (s->thing[v.thing].state == SG_POISON) return false;
    if (!sg_default_point(s, v.thing, true, &at)) {
        sg_wrong(s, SG_MSG_type_wrong, until->value[0]->at, "`until` is followed by something that has a place, and this is %s", sg_kind_info(s->figure->scope->symbol[v.thing].kind)->name_text);
        return false;
    }
    SgPoint along = sg_meets_light(s->figure->scope->symbol[v.thing].kind) ? s->thing[v.thing].element.surface.along : s->light;
    for (uint32_t k = 0; k <= p->nhits; k++) {
        double closing = sg_pt_dot(p->leg[k].direction, along), t;
        if (fabs(closing) < 1e-12) continue;
        t = sg_pt_dot(sg_pt_sub(at, p->leg[k].start), along) / closing;
        double reach = k < p->nhits ? sg_pt_distance(p->leg[k].start, p->hit[k].at) : 1e300;
        if (t < 1e-9 || t > reach + 1e-9) continue;
        if (p->ends && k == p->nhits && sg_pt_distance(p->leg[k].start, p->end) < t) return true;
        p->ends = true;
        p->end = sg_pt_along(p->leg[k].start, p->leg[k].direction, t);
        p->nhits = k;
        return true;
    }
    return true;
}

/* `via A, B to E`: light is linear in the slope it starts with, so two tries give the one that arrives. */
static bool arrive(SgSolved *s, uint32_t symbol, SgPath *p, const Elements *all)
{
    bool given;
    const SgStatement *st = sg_statement_of(s, symbol);
    SgValue to = sg_read(s, symbol, SG_PHRASE_ray_to, &given);
    if (!given) { sg_wrong(s, SG_MSG_phrase_missing, st->head_at, "a ray with `via` needs `to`: the point where it arrives"); return false; }
    if (to.state != SG_VALID) return false;
    double off[2], slope[2] = { 0, 0.01 };
    for (int k = 0; k < 2; k++) {
        SgRayLine leg = { p->start, sg_pt_unit(sg_pt(s->light.x_mm, slope[k])) };
        for (uint32_t i = 0; i < all->n; i++) {
            double t;
            SgHit h = { 0 };
            const SgSurface *f = &s->thing[all->symbol[i]].element.surface;
            if (!(i && meet_in_contact(s, f, leg, &t, &h)) && !sg_paraxial_meet(f, leg, &t, &h)) {
                SgStr a = sg_name_of(s, all->symbol[i]);
                sg_wrong(s, SG_MSG_order_of_light, st->head_at, "light does not meet %.*s in that order; write the elements after `via` in the order light meets them", (int)a.n, a.s);
                return false;
            }
            leg = sg_paraxial_leave(f, leg, &h);
        }
        double t = (to.point.x_mm - leg.start.x_mm) / leg.direction.x_mm;
        off[k] = leg.start.y_mm + t * leg.direction.y_mm - to.point.y_mm;
    }
    if (fabs(off[1] - off[0]) < 1e-12) {
        sg_wrong(s, SG_MSG_ray_misses, st->head_at, "every ray from its start meets that plane at one point, the image; aim this one with `toward`");
        return false;
    }
    p->leg[0].direction = sg_pt_unit(sg_pt(s->light.x_mm, slope[0] - off[0] * (slope[1] - slope[0]) / (off[1] - off[0])));
    return true;
}

static void ray_light(SgSolved *s, uint32_t symbol)
{
    SgThing *t = &s->thing[symbol];
    const SgStatement *st = sg_statement_of(s, symbol);
    SgPath *p = &t->path;
    Elements all = { .n = 0 };
    const SgPhrase *via = sg_phrase(st, SG_PHRASE_ray_via), *by = via ? via : sg_phrase(st, SG_PHRASE_ray_by);
    if (t->state == SG_POISON) return;
    t->state = SG_POISON;
    if (!elements_met(s, by, &all) || (p->through && all.n && !choose_way(s, symbol, &all)) || (via && !arrive(s, symbol, p, &all))) return;
    if (!trace(s, symbol, p, &all) || !sg_mistake_ray(s, symbol, p) || !stop_at(s, p, sg_phrase(st, SG_PHRASE_ray_until))) return;
    t->many = p;
    t->nmany = 1;
    t->state = SG_VALID;
}

static SgValue ray_property(SgSolved *s, uint32_t symbol, SgPropertyId id)
{
    const SgPath *p = &s->thing[symbol].path;
    if (id == SG_PROPERTY_ray_hits) return sg_value_number(p->nhits, SG_DIM_NUMBER);
    if (id == SG_PROPERTY_ray_deviation) {
        double turned = 0;
        for (uint32_t i = 0; i < p->nhits; i++) {
            SgPoint a = p->leg[i].direction, b = p->leg[i + 1].direction;
            turned += sg_atan2_deg(sg_pt_cross(a, b), sg_pt_dot(a, b));
        }
        return sg_value_number(fabs(turned), SG_DIM_ANGLE);
    }
    if (id == SG_PROPERTY_ray_strike && p->nhits) return sg_value_point(p->hit[0].at);
    if (id == SG_PROPERTY_ray_strike) return sg_value_undefined("the ray meets nothing");
    SgValue v = { .type = SG_TYPE_LINE, .unit = SG_UNIT_COUNT };
    if (!p->nhits) {
        v.line = (SgLineValue){ p->start, p->leg[0].direction, id == SG_PROPERTY_ray_in ? -1 : 1 };
        return v;
    }
    if (id == SG_PROPERTY_ray_in) v.line = (SgLineValue){ p->hit[0].at, p->leg[0].direction, -1 };
    else v.line = (SgLineValue){ p->hit[p->nhits - 1].at, p->leg[p->nhits].direction, 1 };
    return v;
}

/* ---- beams and fans ---- */

enum { MOST_RAYS = 500 };

static uint32_t count_of(SgSolved *s, uint32_t symbol, SgPhraseId id, uint32_t usual)
{
    bool given;
    SgValue v = sg_read(s, symbol, id, &given);
    if (!given) return usual;
    if (v.state != SG_VALID) return 0;
    if (v.number >= 1 && v.number <= MOST_RAYS && v.number == floor(v.number)) return (uint32_t)v.number;
    sg_wrong(s, SG_MSG_count_wrong, sg_phrase(sg_statement_of(s, symbol), id)->at, "write a whole number of rays, from 1 to %d", MOST_RAYS);
    return 0;
}

/* The element to be filled: the one named, else the nearest ahead along the light. UINT32_MAX after a message. */
static uint32_t filled(SgSolved *s, uint32_t symbol, SgPhraseId id, const SgPoint *from)
{
    const SgScope *scope = s->figure->scope;
    const SgPhrase *p = sg_phrase(sg_statement_of(s, symbol), id);
    if (p && p->n) {
        SgValue v = sg_eval_as(s, p->value[0], SG_TYPE_THING, SG_DIM_NUMBER, "filling");
        if (v.state != SG_VALID) return UINT32_MAX;
        if (sg_meets_light(scope->symbol[v.thing].kind)) return s->thing[v.thing].state == SG_VALID ? v.thing : UINT32_MAX;
        sg_wrong(s, SG_MSG_type_wrong, p->value[0]->at, "`filling` is followed by a mirror, lens, boundary, stop or screen, and this is %s", sg_kind_info(scope->symbol[v.thing].kind)->name_text);
        return UINT32_MAX;
    }
    uint32_t best = UINT32_MAX;
    double nearest_mm = 0;
    for (uint32_t i = 0; i < scope->nsymbols; i++) {
        if (!sg_is_element(scope->symbol[i].kind)) continue;
        if (s->thing[i].state != SG_VALID) return UINT32_MAX;
        double x = sg_pt_dot(from ? sg_pt_sub(s->thing[i].element.surface.vertex, *from) : s->thing[i].element.surface.vertex, s->light);
        if ((from && x <= 0) || (best != UINT32_MAX && x >= nearest_mm)) continue;
        best = i;
        nearest_mm = x;
    }
    if (best == UINT32_MAX && !sg_errors(s->c)) sg_wrong(s, SG_MSG_ray_misses, sg_statement_of(s, symbol)->head_at, "there is no mirror or lens ahead for this light to meet; name one with `filling`");
    return best;
}

static double half_filled(const SgSurface *f) { return f->acts == SG_ACTS_PASS ? f->hole_mm : f->half_aperture_mm; }

/* n paths ready to be aimed, the middle one last copied to t->path when traced. */
static SgPath *paths_of(SgSolved *s, SgThing *t, uint32_t n)
{
    t->many = SG_ARRAY(s->c->arena, SgPath, n + 1);
    t->nmany = n;
    for (uint32_t k = 0; k < n; k++) t->many[k].leg = SG_ARRAY(s->c->arena, SgRayLine, 1);
    return t->many;
}

static double fraction(uint32_t k, uint32_t n) { return n == 1 ? 0 : 2.0 * k / (n - 1) - 1; }

static bool beam_angle(SgSolved *s, uint32_t symbol, SgPoint *direction)
{
    bool given;
    const SgPhrase *of = sg_phrase(sg_statement_of(s, symbol), SG_PHRASE_beam_of);
    *direction = s->light;
    if (of && of->n) {
        SgValue v = sg_eval_as(s, of->value[0], SG_TYPE_THING, SG_DIM_NUMBER, "of");
        if (v.state != SG_VALID) return false;
        if (s->figure->scope->symbol[v.thing].kind != SG_KIND_object || (s->thing[v.thing].state == SG_VALID && !s->thing[v.thing].object.far)) {
            sg_wrong(s, SG_MSG_type_wrong, of->value[0]->at, "a beam is `of` an object at infinity; rays from a near one are a fan");
            return false;
        }
        double sine, cosine;
        sg_sincos_deg(s->thing[v.thing].object.angle_deg, &sine, &cosine);
        *direction = sg_pt(s->light.x_mm * cosine, -sine);
        return s->thing[v.thing].state == SG_VALID;
    }
    SgValue angle = sg_read(s, symbol, SG_PHRASE_beam_angle, &given);
    if (!given) return true;
    sg_sincos_deg(angle.number, &direction->y_mm, &direction->x_mm);
    direction->x_mm *= s->light.x_mm;
    if (angle.state == SG_VALID && fabs(angle.number) < 89) return true;
    if (angle.state == SG_VALID) sg_wrong(s, SG_MSG_out_of_range, sg_phrase(sg_statement_of(s, symbol), SG_PHRASE_beam_angle)->at, "a beam climbs or falls by less than 89 deg");
    return false;
}

static void beam_stand(SgSolved *s, uint32_t symbol)
{
    SgThing *t = &s->thing[symbol];
    SgPoint direction;
    bool given, wide;
    t->state = SG_POISON;
    uint32_t n = count_of(s, symbol, SG_PHRASE_beam_count, 3), element = n ? filled(s, symbol, SG_PHRASE_beam_filling, NULL) : UINT32_MAX;
    if (element == UINT32_MAX || !beam_angle(s, symbol, &direction)) return;
    const SgSurface *f = &s->thing[element].element.surface;
    SgValue from = sg_read(s, symbol, SG_PHRASE_beam_from, &given), width = sg_read(s, symbol, SG_PHRASE_beam_width, &wide);
    if ((given && from.state != SG_VALID) || (wide && width.state != SG_VALID)) return;
    double before = given ? sg_pt_dot(sg_pt_sub(f->vertex, from.point), s->light) : 1.2 * fabs(f->power_per_mm > 0 || f->power_per_mm < 0 ? 1 / f->power_per_mm : 40);
    if (!given && before > 60) before = 60;
    if (!given && before < 30) before = 30;
    double half = wide ? width.number / 2 : half_filled(f);
    SgPath *many = paths_of(s, t, n);
    for (uint32_t k = 0; k < n; k++) {
        SgPoint at = sg_pt_along(f->vertex, sg_pt(0, 1), half * fraction(k, n));
        many[k].start = sg_pt_along(at, direction, -before / fabs(sg_pt_dot(direction, s->light)));
        many[k].leg[0] = (SgRayLine){ many[k].start, direction };
    }
    t->state = SG_VALID;
}

static void fan_stand(SgSolved *s, uint32_t symbol)
{
    SgThing *t = &s->thing[symbol];
    bool given, spread_given, angle_given;
    t->state = SG_POISON;
    SgValue from = sg_read(s, symbol, SG_PHRASE_fan_from, &given);
    uint32_t n = count_of(s, symbol, SG_PHRASE_fan_count, 5);
    SgValue spread = sg_read(s, symbol, SG_PHRASE_fan_spread, &spread_given), angle = sg_read(s, symbol, SG_PHRASE_fan_angle, &angle_given);
    if (!given || !n || from.state != SG_VALID || (spread_given && spread.state != SG_VALID) || (angle_given && angle.state != SG_VALID)) return;
    uint32_t element = spread_given ? 0 : filled(s, symbol, SG_PHRASE_fan_filling, &from.point);
    if (element == UINT32_MAX) return;
    SgPath *many = paths_of(s, t, n);
    for (uint32_t k = 0; k < n; k++) {
        SgPoint d;
        if (spread_given) {
            sg_sincos_deg((angle_given ? angle.number : 0) + spread.number / 2 * fraction(k, n), &d.y_mm, &d.x_mm);
            d.x_mm *= s->light.x_mm;
        } else {
            const SgSurface *f = &s->thing[element].element.surface;
            d = sg_pt_unit(sg_pt_sub(sg_pt_along(f->vertex, sg_pt(0, 1), half_filled(f) * fraction(k, n)), from.point));
        }
        many[k].start = from.point;
        many[k].leg[0] = (SgRayLine){ from.point, d };
    }
    t->state = SG_VALID;
}

static void many_light(SgSolved *s, uint32_t symbol, SgPhraseId until)
{
    SgThing *t = &s->thing[symbol];
    Elements all = { .n = 0 };
    if (t->state == SG_POISON) return;
    t->state = SG_POISON;
    if (!elements_met(s, NULL, &all)) return;
    for (uint32_t k = 0; k < t->nmany; k++)
        if (!trace(s, symbol, &t->many[k], &all) || !stop_at(s, &t->many[k], sg_phrase(sg_statement_of(s, symbol), until))) return;
    t->path = t->many[t->nmany / 2];
    t->state = SG_VALID;
}
static void beam_light(SgSolved *s, uint32_t symbol) { many_light(s, symbol, SG_PHRASE_beam_until); }
static void fan_light(SgSolved *s, uint32_t symbol) { many_light(s, symbol, SG_PHRASE_fan_until); }

static SgValue many_property(SgSolved *s, uint32_t symbol, SgPropertyId id)
{
    return ray_property(s, symbol, id == SG_PROPERTY_beam_deviation ? SG_PROPERTY_ray_deviation : SG_PROPERTY_ray_hits);
}

const SgKindSolver sg_beam_solver = { { NULL, beam_stand, beam_light }, many_property };
const SgKindSolver sg_fan_solver = { { NULL, fan_stand, fan_light }, many_property };
const SgKindSolver sg_ray_solver = { { NULL, ray_stand, ray_light }, ray_property };
