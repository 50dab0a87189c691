/* An image as a construction on paper. In: a solved figure, one of its images. Out: its elements in the order light meets them, the
   rays that the figure draws at each (where it draws fewer than two, the principal ones that strike within the aperture), what of
   it is printed. The image of one element is the object of the next; one that is given is where the student begins. */
#include "sheet/build.h"
#include <math.h>

_Static_assert((int)SG_CHAIN <= (int)SG_PENCIL_STAGES, "a pencil has a stage for each element");

typedef struct { SgSolved *s; uint32_t given_up_to; bool drawn; } Reading;

static SgPoint paper(const SgSolved *s, SgPoint p) { return sg_pt(p.x_mm * s->along, p.y_mm * s->up); }

static SgPoint seen(const SgSolved *s, const SgPencilStage *e, SgPoint p)
{
    SgPoint d = sg_pt_sub(paper(s, p), e->vertex);
    return sg_pt(-sg_pt_dot(d, e->along), sg_pt_dot(d, sg_pt_left(e->along)));
}

/* ---- what is printed ---- */

static bool uses(const SgSolved *s, const SgExpr *e, uint32_t symbol, const char *word)
{
    if (e->op == SG_E_PROPERTY && e->arg[0]->op == SG_E_SYMBOL && !e->arg[0]->in_file && e->arg[0]->symbol == symbol
        && sg_str_is(sg_names_str(&s->c->names, e->sym), word)) return true;
    for (uint32_t i = 0; i < e->nargs; i++) if (uses(s, e->arg[i], symbol, word)) return true;
    return false;
}

bool sg_sheet_printed(const SgSolved *s, uint32_t given_up_to, uint32_t element, const char *word)
{
    const SgScope *scope = s->figure->scope;
    for (uint32_t i = 0; i < scope->nstatements; i++) {
        const SgStatement *st = &scope->statement[i];
        for (uint32_t j = 0; j < st->nphrases && st->step <= (int)given_up_to; j++)
            for (uint32_t n = 0; n < st->phrase[j].n; n++) if (uses(s, st->phrase[j].value[n], element, word)) return true;
    }
    return false;
}

static void marked_points(const Reading *r, uint32_t element, SgPencilStage *e)
{
    const SgStatement *st = sg_statement_of(r->s, element);
    bool by_focal = e->mirror && sg_phrase(st, SG_PHRASE_mirror_focal) != NULL;
    if (!e->mirror) return;
    e->centre_made = by_focal && !sg_phrase(st, SG_PHRASE_mirror_centre_named) && !sg_sheet_printed(r->s, r->given_up_to, element, "centre");
    e->focus_made = !by_focal && !sg_phrase(st, SG_PHRASE_mirror_focus_named) && !sg_sheet_printed(r->s, r->given_up_to, element, "focus");
}

static bool drawn_as_arc(const SgSolved *s, uint32_t element, SgKind kind)
{
    const SgPhrase *surface = kind == SG_KIND_lens ? NULL : sg_phrase(sg_statement_of(s, element), kind == SG_KIND_mirror ? SG_PHRASE_mirror_surface : SG_PHRASE_boundary_surface);
    return (s->by_rule && kind == SG_KIND_mirror) || (surface && surface->n && sg_word_is(s, surface->value[0], "arc"));
}

/* ---- rays ---- */

static void add_ray(SgPencilRays *rays, SgPencilRay ray, bool printed)
{
    if (rays->n == SG_PENCIL_RAYS) return;
    rays->printed[rays->n] = printed;
    rays->ray[rays->n++] = ray;
}

static bool near(SgPoint a, SgPoint b) { return sg_pt_distance(a, b) < 1e-4; }

/* One of the rays of a construction, by where it is aimed; any other is not a pencil's. */
static void take_ray(const Reading *r, const SgStatement *st, const SgPath *path, SgPencilStage *e)
{
    bool printed = st->step <= (int)r->given_up_to;
    if (sg_phrase(st, SG_PHRASE_ray_parallel)) { add_ray(&e->tip, SG_PENCIL_PARALLEL, printed); return; }
    if (!path->aimed) return;
    SgPoint aim = seen(r->s, e, path->aim);
    double centre = e->mirror ? 2 * e->front_mm : e->front_mm - e->back_mm;
    if (!e->plane && near(aim, sg_pt(centre, 0))) add_ray(&e->tip, SG_PENCIL_CENTRE, printed);
    else if (!e->plane && near(aim, sg_pt(e->front_mm, 0))) add_ray(&e->tip, SG_PENCIL_FOCUS, printed);
    else if (e->mirror && near(aim, sg_pt(0, 0))) add_ray(&e->tip, SG_PENCIL_VERTEX, printed);
}

/* The principal ones from p, in the element's frame. */
static void usual_rays(SgPencilStage *e, SgPencilRays *rays, SgPoint p, double half_mm)
{
    rays->n = 0;
    if (fabs(p.y_mm) <= half_mm) add_ray(rays, SG_PENCIL_PARALLEL, false);
    if (fabs(p.x_mm - e->front_mm) > 1e-6 && fabs(p.y_mm * e->front_mm / (e->front_mm - p.x_mm)) <= half_mm) add_ray(rays, SG_PENCIL_FOCUS, false);
    add_ray(rays, e->mirror ? SG_PENCIL_VERTEX : SG_PENCIL_CENTRE, false);
}

/* Those that start where the light of `tip` does, and meet this element first. Whether the figure draws any, or needs none. */
static bool take_rays(const Reading *r, uint32_t element, SgPoint tip, SgPoint foot, SgPencilStage *e)
{
    SgSolved *s = r->s;
    const SgScope *scope = s->figure->scope;
    double half = s->thing[element].element.surface.half_aperture_mm * s->up;
    for (uint32_t i = 0; i < scope->nsymbols; i++) {
        const SgThing *t = &s->thing[i];
        const SgStatement *st = &scope->statement[scope->symbol[i].statement];
        if (scope->symbol[i].kind != SG_KIND_ray || t->state != SG_VALID || sg_phrase(st, SG_PHRASE_common_hidden)) continue;
        bool given;
        SgValue start = sg_read(s, i, SG_PHRASE_ray_from, &given);       /* a ray from an image begins elsewhere on its line */
        if (!given || start.state != SG_VALID || sg_pt_distance(start.point, tip) > 1e-6) continue;
        if (t->path.nhits && t->path.met[0] == element) take_ray(r, st, &t->path, e);
    }
    if (e->plane) return true;
    bool drawn = e->tip.n > 0;
    if (e->tip.n < 2) usual_rays(e, &e->tip, seen(s, e, tip), half);
    if (e->foot_off) usual_rays(e, &e->foot, seen(s, e, foot), half);
    return drawn;
}

/* ---- element by element ---- */

/* False for an image at infinity, or a foot that no rays fix. Moves tip, foot and travel on. */
static bool read_stage(Reading *r, uint32_t element, SgHomogeneous *tip, SgHomogeneous *foot, SgPoint *travel, SgPencilStage *e)
{
    SgSolved *s = r->s;
    const SgElement *x = &s->thing[element].element;
    const SgSurface *f = &x->surface;
    SgKind kind = s->figure->scope->symbol[element].kind;
    double sense = sg_travel_sense(f, *travel), n1 = sense > 0 ? f->n_before : f->n_after, n2 = sense > 0 ? f->n_after : f->n_before;
    SgConjugate image = sg_conjugate(f, sense, *foot);
    SgPoint object = sg_pt(tip->x_mm, tip->y_mm), stands = sg_pt(foot->x_mm, foot->y_mm);
    if (image.far == SG_AT_INFINITY || image.object_far == SG_AT_INFINITY) return false;
    *e = (SgPencilStage){ .mirror = kind == SG_KIND_mirror, .plane = x->plane, .arc = drawn_as_arc(s, element, kind) };
    e->vertex = paper(s, sense > 0 ? f->vertex : f->exit);
    e->along = sg_pt_scale(f->along, sense);
    e->gap_mm = sg_pt_dot(sg_pt_sub(f->exit, f->vertex), f->along) * s->along;
    if (!e->plane) {
        e->front_mm = (e->mirror ? x->focal_mm : n1 / f->power_per_mm) * s->along;
        e->back_mm = (e->mirror ? x->focal_mm : n2 / f->power_per_mm) * s->along;
    }
    SgPoint seen_tip = seen(s, e, object), seen_foot = seen(s, e, stands);
    e->foot_off = fabs(seen_foot.y_mm) > 1e-6 || fabs(seen_tip.x_mm - seen_foot.x_mm) > 1e-6;
    if (!e->plane && e->foot_off && fabs(seen_foot.y_mm) < 1e-6) return false;         /* all its rays run along the axis */
    double out = fabs(image.distance_mm) * s->along + 12;
    e->end_mm = image.real && out > 40 ? out : 40;
    marked_points(r, element, e);
    r->drawn = take_rays(r, element, object, stands, e) || r->drawn;
    *tip = sg_image_point(f, sense, *tip);
    *foot = sg_image_point(f, sense, *foot);
    *travel = sg_travel_after(f, *travel);
    return e->plane || e->tip.n >= 2;
}

/* How many elements the latest image lies behind that is given, of those that the light to `whole` makes on its way. */
static uint32_t given_images(const Reading *r, const SgChain *whole)
{
    const SgScope *scope = r->s->figure->scope;
    uint32_t most = 0;
    for (uint32_t i = 0; i < scope->nsymbols; i++) {
        const SgStatement *st = &scope->statement[scope->symbol[i].statement];
        SgChain part;
        if (scope->symbol[i].kind != SG_KIND_image || st->step > (int)r->given_up_to || sg_phrase(st, SG_PHRASE_common_hidden)) continue;
        if (sg_image_chain(r->s, i, &part) && sg_chain_begins(whole, &part) && part.n < whole->n && part.n > most) most = part.n;
    }
    return most;
}

/* Rays from the tip that meet all elements of the chain in their order. */
static void rays_through(const Reading *r, const SgChain *chain, SgPoint tip, SgPencilCase *p)
{
    SgSolved *s = r->s;
    SgPencilStage first = p->stage[0];
    first.tip.n = 0;
    for (uint32_t i = 0; i < s->figure->scope->nsymbols; i++) {
        const SgPath *path = &s->thing[i].path;
        const SgStatement *st = sg_statement_of(s, i);
        bool all = s->figure->scope->symbol[i].kind == SG_KIND_ray && s->thing[i].state == SG_VALID && path->nhits >= chain->n && !sg_phrase(st, SG_PHRASE_common_hidden) && sg_pt_distance(path->start, tip) < 1e-6;
        for (uint32_t k = 0; k < chain->n && all; k++) all = path->met[k] == chain->by[k];
        if (all) take_ray(r, st, path, &first);
    }
    p->through = first.tip;
}

bool sg_sheet_case(SgSolved *s, uint32_t given_up_to, uint32_t image, SgPaperCase *k)
{
    Reading r = { s, given_up_to, false };
    *k = (SgPaperCase){ .image = image };
    if (!sg_image_chain(s, image, &k->chain) || s->figure->scope->symbol[k->chain.object].kind != SG_KIND_object) return false;
    const SgObject *o = &s->thing[k->chain.object].object;
    if (o->far || !s->to_scale || s->along < s->up || s->along > s->up || !(sg_pt_distance(o->tip, o->foot) > 0)) return false;
    SgHomogeneous tip = sg_homogeneous(o->tip), foot = sg_homogeneous(o->foot);
    SgPoint travel = s->light;
    k->first = given_images(&r, &k->chain);
    k->object_mm = (o->tip.y_mm - o->foot.y_mm) * s->up;
    for (uint32_t i = 0; i < k->chain.n; i++) {
        SgPencilCase *p = &k->pencil;
        if (i == k->first) { p->tip = paper(s, sg_pt(tip.x_mm, tip.y_mm)); p->foot = paper(s, sg_pt(foot.x_mm, foot.y_mm)); }
        SgPencilStage skipped, *e = i < k->first ? &skipped : &p->stage[p->nstages++];
        if (!read_stage(&r, k->chain.by[i], &tip, &foot, &travel, e)) return false;
    }
    k->drawn = r.drawn;
    bool one_axis = true;
    for (uint32_t i = 0; i < k->pencil.nstages; i++) one_axis = one_axis && !k->pencil.stage[i].foot_off;
    if (k->first == 0 && k->chain.n > 1 && one_axis) rays_through(&r, &k->chain, o->tip, &k->pencil);
    return true;
}
