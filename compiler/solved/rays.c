/* Rays: aimed, then followed from element to element, nearest first. In: phrases, surfaces. Out: legs and meetings.
   through Q: of the two ways along the line, the one that meets the named element, or the one Q belongs to, or any. */
#include "solved/build.h"
#include "base/num.h"
#include <math.h>

static void ray_stand(SgSolved *s, uint32_t symbol)
{
    SgThing *t = &s->thing[symbol];
    const SgStatement *st = sg_statement_of(s, symbol);
    bool from_given, given;
    t->state = SG_POISON;
    SgValue from = sg_read(s, symbol, SG_PHRASE_ray_from, &from_given);
    if (!from_given || from.state != SG_VALID) return;
    t->path = (SgPath){ .start = from.point };
    SgPoint direction = { 1, 0 };
    bool parallel = sg_phrase(st, SG_PHRASE_ray_parallel) != NULL;
    SgValue angle = sg_read(s, symbol, SG_PHRASE_ray_angle, &given);
    if (given) {
        if (angle.state != SG_VALID) return;
        sg_sincos_deg(angle.number, &direction.y_mm, &direction.x_mm);
    } else if (!parallel) {
        const SgPhrase *through = sg_phrase(st, SG_PHRASE_ray_through), *p = through ? through : sg_phrase(st, SG_PHRASE_ray_toward);
        if (!p) return;
        SgValue aim = sg_read(s, symbol, p->id, &given);
        if (!given || aim.state != SG_VALID) return;
        t->path.aim = aim.point;
        t->path.aimed = true;
        t->path.through = through != NULL;
        if (sg_pt_distance(aim.point, from.point) < 1e-9) {
            sg_wrong(s, SG_MSG_ray_aims_at_start, p->at, "the ray starts at the point it is aimed at; aim it at another");
            return;
        }
        direction = sg_pt_unit(sg_pt_sub(aim.point, from.point));
    }
    t->path.leg = SG_ARRAY(s->c->arena, SgRayLine, 1);
    t->path.leg[0] = (SgRayLine){ from.point, direction };
    t->state = SG_VALID;
}

typedef struct { uint32_t symbol[64]; uint32_t n; bool named; } Elements;

static bool elements_met(SgSolved *s, uint32_t symbol, Elements *out)
{
    const SgPhrase *by = sg_phrase(sg_statement_of(s, symbol), SG_PHRASE_ray_by);
    const SgScope *scope = s->figure->scope;
    for (uint32_t i = 0; by && i < by->n; i++) {
        SgValue v = sg_eval_as(s, by->value[i], SG_TYPE_THING, SG_DIM_NUMBER, "by");
        if (v.state != SG_VALID) return false;
        if (!sg_is_element(scope->symbol[v.thing].kind)) {
            sg_wrong(s, SG_MSG_type_wrong, by->value[i]->at, "`by` is followed by a mirror or a lens, and this is %s", sg_kind_info(scope->symbol[v.thing].kind)->name_text);
            return false;
        }
        out->symbol[out->n++] = v.thing;
    }
    out->named = by != NULL;
    for (uint32_t i = 0; !by && i < scope->nsymbols && out->n < 64; i++)
        if (sg_is_element(scope->symbol[i].kind)) out->symbol[out->n++] = i;
    for (uint32_t i = 0; i < out->n; i++) if (s->thing[out->symbol[i]].state == SG_POISON) return false;
    return true;
}

/* The nearest element ahead; false when none. `last` is where the leg begins, never met again at once. */
static bool nearest(SgSolved *s, const Elements *all, SgRayLine leg, uint32_t last, SgHit *hit, uint32_t *met)
{
    double best = 0;
    bool found = false;
    for (uint32_t i = 0; i < all->n; i++) {
        double t;
        SgHit h = { 0 };
        const SgElement *e = &s->thing[all->symbol[i]].element;
        if (all->symbol[i] == last || !sg_paraxial_meet(&e->surface, leg, &t, &h)) continue;
        if (h.outside && e->edge_passes) continue;
        if (found && t >= best) continue;
        found = true;
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
    bool on = nearest(s, all, ahead, UINT32_MAX, &h, &a), off = nearest(s, all, back, UINT32_MAX, &h, &b);
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

static void ray_light(SgSolved *s, uint32_t symbol)
{
    SgThing *t = &s->thing[symbol];
    SgPath *p = &t->path;
    Elements all = { .n = 0 };
    if (t->state == SG_POISON) return;
    t->state = SG_POISON;
    if (!elements_met(s, symbol, &all) || (p->through && all.n && !choose_way(s, symbol, &all))) return;
    SgRayLine leg[SG_MAX_HITS + 1];
    SgHit hit[SG_MAX_HITS];
    uint32_t met[SG_MAX_HITS], last = UINT32_MAX;
    leg[0] = p->leg[0];
    while (p->nhits < SG_MAX_HITS) {
        SgHit h = { 0 };
        uint32_t element;
        if (!nearest(s, &all, leg[p->nhits], last, &h, &element)) break;
        const SgElement *e = &s->thing[element].element;
        if (from_behind(s, symbol, element, leg[p->nhits])) return;
        if (h.outside && !e->edge_meant) warn_outside(s, symbol, element, &h);
        h.surface = element;
        hit[p->nhits] = h;
        met[p->nhits] = last = element;
        leg[p->nhits + 1] = sg_paraxial_leave(&e->surface, leg[p->nhits], &h);
        p->nhits++;
    }
    if (p->nhits == 0 && all.n && !meets_nothing_meant(s, &all)) {
        SgStr r = ray_name(s, symbol), m = sg_name_of(s, all.symbol[0]);
        bool away = sg_pt_dot(sg_pt_sub(s->thing[all.symbol[0]].element.surface.vertex, p->start), p->leg[0].direction) < 0;
        sg_wrong(s, SG_MSG_ray_misses, sg_statement_of(s, symbol)->head_at, "%.*s never meets %.*s: it %s; start it before %.*s, or aim it at %.*s", (int)r.n, r.s, (int)m.n, m.s,
                 away ? "goes away from it" : "runs along it", (int)m.n, m.s, (int)m.n, m.s);
        return;
    }
    if (p->nhits == SG_MAX_HITS) {
        sg_wrong(s, SG_MSG_limit, sg_statement_of(s, symbol)->head_at, "this ray meets more than %d surfaces; name the ones it is to meet with `by`", SG_MAX_HITS);
        return;
    }
    p->leg = SG_ARRAY(s->c->arena, SgRayLine, p->nhits + 1);
    p->hit = SG_ARRAY(s->c->arena, SgHit, p->nhits + 1);
    uint32_t *kept = SG_ARRAY(s->c->arena, uint32_t, p->nhits + 1);
    for (uint32_t i = 0; i <= p->nhits; i++) p->leg[i] = leg[i];
    for (uint32_t i = 0; i < p->nhits; i++) { p->hit[i] = hit[i]; kept[i] = met[i]; }
    p->met = kept;
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
    SgValue v = { .type = SG_TYPE_LINE, .unit = SG_UNIT_COUNT };
    if (!p->nhits) {
        v.line = (SgLineValue){ p->start, p->leg[0].direction, id == SG_PROPERTY_ray_in ? -1 : 1 };
        return v;
    }
    if (id == SG_PROPERTY_ray_in) v.line = (SgLineValue){ p->hit[0].at, p->leg[0].direction, -1 };
    else v.line = (SgLineValue){ p->hit[p->nhits - 1].at, p->leg[p->nhits].direction, 1 };
    return v;
}

const SgKindSolver sg_ray_solver = { { NULL, ray_stand, ray_light }, ray_property };
