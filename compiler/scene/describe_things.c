/* Sentences about what stands in a figure. In: solved things. Out: markup. A number that depends on what is worked out is left
   out of what is given. */
#include "scene/describe.h"
#include <math.h>

static const SgExpr *value_of(const SgStatement *st, SgPhraseId id, uint32_t k)
{
    const SgPhrase *p = sg_phrase(st, id);
    return p && p->n > k ? p->value[k] : NULL;
}

static SgStr number(const SgTell *t, double x) { return sg_show_figure(t->g->s, sg_value_number(x, SG_DIM_NUMBER), &(SgHoleFormat){ .step = 0.001, .decimals = 3, .given = true, .unit = SG_UNIT_COUNT }); }

/* An index without noughts at its end: 1,5 and 1,333. */
static SgStr index_of(const SgTell *t, double n)
{
    SgStr s = number(t, n);
    while (s.n > 2 && s.s[s.n - 1] == '0' && s.s[s.n - 2] >= '0' && s.s[s.n - 2] <= '9') s.n--;
    if (s.n > 2 && s.s[s.n - 1] == '0') s.n -= 2;
    return s;
}

/* ---- where ---- */

/* Where a thing stands that others may be told from; false: nowhere, or not told itself. */
static bool stands_at(const SgTell *t, uint32_t i, bool object, SgPoint *at)
{
    SgKind kind = t->g->scope->symbol[i].kind;
    const SgThing *thing = &t->g->s->thing[i];
    if (object ? kind != SG_KIND_object : !sg_meets_light(kind)) return false;
    if (!sg_tell_told(t, i) || (object && thing->object.far)) return false;
    *at = object ? thing->object.foot : thing->element.surface.vertex;
    return true;
}

/* The thing light meets that stands nearest along the axis, but itself and those told later; where none is told, an object. */
static uint32_t neighbour(const SgTell *t, uint32_t symbol, SgPoint at, bool earlier)
{
    uint32_t best = UINT32_MAX;
    double least = 1e300;
    for (int object = 0; object < 2 && best == UINT32_MAX; object++)
        for (uint32_t i = 0; i < t->g->scope->nsymbols; i++) {
            SgPoint other;
            if (i == symbol || ((earlier || object) && i > symbol) || !stands_at(t, i, object, &other)) continue;
            double beyond = sg_pt_dot(sg_pt_sub(at, other), t->g->s->light), far = fabs(beyond);
            if (!earlier && beyond > 1e-9) far += 1e9;         /* what light is still to meet comes first */
            if (far < least) { least = far; best = i; }
        }
    return best;
}

bool sg_tell_place_of(const SgTell *t, uint32_t symbol, SgPoint p, uint32_t *other, double *beyond_mm)
{
    *other = neighbour(t, symbol, p, symbol != UINT32_MAX && sg_meets_light(t->g->scope->symbol[symbol].kind));
    if (*other == UINT32_MAX) return false;
    const SgThing *o = &t->g->s->thing[*other];
    if (t->g->scope->symbol[*other].kind == SG_KIND_object) { *beyond_mm = sg_pt_dot(sg_pt_sub(p, o->object.foot), t->g->s->light); return true; }
    const SgSurface *f = &o->element.surface;
    double before = sg_pt_dot(sg_pt_sub(p, f->vertex), t->g->s->light), beyond = sg_pt_dot(sg_pt_sub(p, f->exit), t->g->s->light);
    *beyond_mm = beyond > 1e-6 && sg_is_element(t->g->scope->symbol[*other].kind) ? beyond : before;
    return fabs(f->along.y_mm) <= 0.8;                /* a thing that looks up or down has no before along the axis */
}

bool sg_tell_place(const SgTell *t, uint32_t symbol, const SgExpr *at, uint32_t *other, double *beyond_mm)
{
    SgPoint p;
    return !sg_tell_depends(t, at) && sg_default_point(t->g->s, symbol, true, &p) && sg_tell_place_of(t, symbol, p, other, beyond_mm);
}

void sg_tell_level(const SgTell *t, uint32_t symbol)
{
    SgPoint p;
    bool foot = t->g->scope->symbol[symbol].kind == SG_KIND_object;
    if (!sg_default_point(t->g->s, symbol, true, &p) || fabs(p.y_mm) < 1e-6) return;
    SgTextId id = foot ? p.y_mm > 0 ? SG_TEXT_tell_foot_above : SG_TEXT_tell_foot_below : p.y_mm > 0 ? SG_TEXT_tell_above : SG_TEXT_tell_below;
    SG_TELL_OF(t, symbol, id, { "h", sg_tell_length(t, p.y_mm) });
}

void sg_tell_placed(const SgTell *t, uint32_t symbol, const SgExpr *at)
{
    uint32_t other;
    double d;
    if (sg_tell_place(t, symbol, at, &other, &d)) {
        SgStr o = sg_tell_name(t, other);
        if (fabs(d) < 1e-6) SG_TELL_OF(t, symbol, SG_TEXT_tell_placed_touching, { "other", o });
        else SG_TELL_OF(t, symbol, d < 0 ? SG_TEXT_tell_placed_before : SG_TEXT_tell_placed_beyond, { "d", sg_tell_length(t, d) }, { "other", o });
    }
    if (!sg_tell_depends(t, at)) sg_tell_level(t, symbol);
}

/* ---- what light meets ---- */

static void mirror(const SgTell *t, uint32_t symbol, const SgStatement *st, const SgElement *e)
{
    const SgExpr *f = value_of(st, SG_PHRASE_mirror_focal, 0), *r = value_of(st, SG_PHRASE_mirror_radius, 0);
    const SgExpr *a = value_of(st, SG_PHRASE_mirror_aperture, 0), *l = value_of(st, SG_PHRASE_mirror_length, 0);
    bool bare = sg_tell_depends(t, f) || sg_tell_depends(t, r) || sg_tell_depends(t, a) || sg_tell_depends(t, l);
    SgStr size = sg_tell_length(t, 2 * e->surface.half_aperture_mm);
    if (e->plane && bare) sg_tell_of(t, symbol, SG_TEXT_tell_mirror_plane_bare, NULL, 0);
    else if (e->plane) SG_TELL_OF(t, symbol, SG_TEXT_tell_mirror_plane, { "size", size });
    else if (bare) sg_tell_of(t, symbol, e->converging ? SG_TEXT_tell_mirror_concave_bare : SG_TEXT_tell_mirror_convex_bare, NULL, 0);
    else if (f) SG_TELL_OF(t, symbol, e->converging ? SG_TEXT_tell_mirror_concave : SG_TEXT_tell_mirror_convex, { "f", sg_tell_length(t, e->focal_mm) }, { "size", size });
    else SG_TELL_OF(t, symbol, e->converging ? SG_TEXT_tell_mirror_concave_radius : SG_TEXT_tell_mirror_convex_radius, { "r", sg_tell_length(t, 2 * e->focal_mm) }, { "size", size });
}

static SgStr face(const SgTell *t, double curvature)
{
    if (fabs(curvature) < 1e-12) return t->w->text[SG_TEXT_tell_face_flat];
    return SG_FILLED(t->g->c->arena, t->w, curvature > 0 ? SG_TEXT_tell_face_bulging : SG_TEXT_tell_face_hollow, { "r", sg_tell_length(t, 1 / curvature) });
}

static double medium_of(const SgTell *t, const SgExpr *e, double usual)
{
    if (!e) return usual;
    if (e->op == SG_E_WORD) return sg_medium_index(sg_names_str(&t->g->c->names, e->sym));
    SgValue v = sg_eval(t->g->s, e);
    return v.state == SG_VALID && v.type == SG_TYPE_NUMBER ? v.number : usual;
}

static void lens(const SgTell *t, uint32_t symbol, const SgStatement *st, const SgElement *e)
{
    const SgExpr *f = value_of(st, SG_PHRASE_lens_focal, 0), *p = value_of(st, SG_PHRASE_lens_power, 0);
    bool bare = false;
    for (uint32_t i = 0; i < st->nphrases; i++)
        for (uint32_t k = 0; k < st->phrase[i].n && st->phrase[i].id != SG_PHRASE_lens_at; k++) bare = bare || sg_tell_depends(t, st->phrase[i].value[k]);
    SgStr size = sg_tell_length(t, 2 * e->surface.half_aperture_mm);
    if (bare) sg_tell_of(t, symbol, !f && !p ? SG_TEXT_tell_lens_bare : e->converging ? SG_TEXT_tell_lens_converging_bare : SG_TEXT_tell_lens_diverging_bare, NULL, 0);
    else if (f) SG_TELL_OF(t, symbol, e->converging ? SG_TEXT_tell_lens_converging : SG_TEXT_tell_lens_diverging, { "f", sg_tell_length(t, e->focal_mm) }, { "size", size });
    else if (p) SG_TELL_OF(t, symbol, e->converging ? SG_TEXT_tell_lens_converging_power : SG_TEXT_tell_lens_diverging_power,
                        { "power", sg_show_figure(t->g->s, sg_value_number(fabs(e->surface.power_per_mm), SG_DIM_POWER), NULL) }, { "size", size });
    else {
        SgStr n = index_of(t, medium_of(t, value_of(st, SG_PHRASE_lens_glass, 0), 1.5)), one = face(t, e->curvature_front), two = face(t, e->curvature_back);
        if (e->thick) SG_TELL_OF(t, symbol, SG_TEXT_tell_lens_thick, { "n", n }, { "size", size }, { "thickness", sg_tell_length(t, e->thickness_mm) }, { "face1", one }, { "face2", two });
        else SG_TELL_OF(t, symbol, SG_TEXT_tell_lens_faces, { "n", n }, { "size", size }, { "face1", one }, { "face2", two });
    }
}

static void boundary(const SgTell *t, uint32_t symbol, const SgStatement *st, const SgElement *e)
{
    if (sg_tell_depends(t, value_of(st, SG_PHRASE_boundary_radius, 0))) { sg_tell_of(t, symbol, SG_TEXT_tell_boundary_bare, NULL, 0); return; }
    SG_TELL_OF(t, symbol, e->surface.radius_mm < 0 ? SG_TEXT_tell_boundary_convex : SG_TEXT_tell_boundary_concave, { "r", sg_tell_length(t, e->surface.radius_mm) });
}

static void plate(const SgTell *t, uint32_t symbol, const SgStatement *st, const SgElement *e)
{
    bool stop = st->kind == SG_KIND_stop;
    const SgExpr *size = value_of(st, stop ? SG_PHRASE_stop_opening : SG_PHRASE_screen_height, 0);
    if (sg_tell_depends(t, size)) sg_tell_of(t, symbol, stop ? SG_TEXT_tell_stop_bare : SG_TEXT_tell_screen_bare, NULL, 0);
    else if (stop) SG_TELL_OF(t, symbol, SG_TEXT_tell_stop, { "size", sg_tell_length(t, 2 * e->surface.hole_mm) });
    else SG_TELL_OF(t, symbol, SG_TEXT_tell_screen, { "size", sg_tell_length(t, 2 * e->surface.half_aperture_mm) });
}

/* Which way it looks, where it does not face the light. */
static void looks(const SgTell *t, uint32_t symbol, const SgStatement *st)
{
    static const SgPhraseId turned[] = { SG_PHRASE_mirror_turned, SG_PHRASE_lens_turned, SG_PHRASE_boundary_turned };
    static const SgPhraseId facing[] = { SG_PHRASE_mirror_facing, SG_PHRASE_lens_facing, SG_PHRASE_boundary_facing };
    static const struct { SgPoint along; SgTextId id; } plain[] = { { { 1, 0 }, SG_TEXT_tell_looks_left }, { { -1, 0 }, SG_TEXT_tell_looks_right },
        { { 0, -1 }, SG_TEXT_tell_looks_up }, { { 0, 1 }, SG_TEXT_tell_looks_down } };
    SgPoint along = t->g->s->thing[symbol].element.surface.along, light = t->g->s->light;
    bool told = false;
    for (int i = 0; i < 3; i++) {
        if ((value_of(st, turned[i], 0) || value_of(st, facing[i], 0)) && !sg_tell_depends(t, value_of(st, turned[i], 0))) told = true;
        if (sg_tell_depends(t, value_of(st, facing[i], 0))) told = false;
    }
    if (!told || sg_pt_distance(along, light) < 1e-9) return;
    for (int i = 0; i < 4; i++) if (sg_pt_distance(along, plain[i].along) < 1e-9) { sg_tell_of(t, symbol, plain[i].id, NULL, 0); return; }
    double deg = sg_atan2_deg(sg_pt_cross(light, along), sg_pt_dot(light, along));
    SG_TELL_OF(t, symbol, deg > 0 ? SG_TEXT_tell_turned : SG_TEXT_tell_turned_back, { "angle", sg_tell_angle(t, deg) });
}

void sg_tell_element(const SgTell *t, uint32_t symbol)
{
    const SgStatement *st = sg_statement_of(t->g->s, symbol);
    const SgElement *e = &t->g->s->thing[symbol].element;
    const SgSurface *f = &e->surface;
    if (st->kind == SG_KIND_mirror) mirror(t, symbol, st, e);
    else if (st->kind == SG_KIND_lens) lens(t, symbol, st, e);
    else if (st->kind == SG_KIND_boundary) boundary(t, symbol, st, e);
    else plate(t, symbol, st, e);
    bool in_air = fabs(f->n_before - 1) < 1e-9 && fabs(f->n_after - 1) < 1e-9, refracts = st->kind == SG_KIND_lens || st->kind == SG_KIND_boundary;
    if (refracts && !in_air) SG_TELL(t, SG_TEXT_tell_media, { "name", sg_tell_name(t, symbol) }, { "n1", index_of(t, f->n_before) }, { "n2", index_of(t, f->n_after) });
    if (sg_is_element(st->kind)) looks(t, symbol, st);
    static const SgPhraseId at[] = { SG_PHRASE_mirror_at, SG_PHRASE_lens_at, SG_PHRASE_boundary_at, SG_PHRASE_stop_at, SG_PHRASE_screen_at };
    for (int i = 0; i < 5; i++) if (value_of(st, at[i], 0)) sg_tell_placed(t, symbol, value_of(st, at[i], 0));
    if (st->kind == SG_KIND_lens && e->thick) SG_TELL(t, SG_TEXT_tell_from_planes, { "name", sg_tell_name(t, symbol) });
}

void sg_tell_focal(const SgTell *t, uint32_t symbol)
{
    const SgStatement *st = sg_statement_of(t->g->s, symbol);
    const SgElement *e = &t->g->s->thing[symbol].element;
    if (st->kind != SG_KIND_lens || !sg_phrase(st, SG_PHRASE_lens_radii) || fabs(e->surface.power_per_mm) < 1e-12) return;
    SG_TELL(t, SG_TEXT_tell_focal, { "name", sg_tell_name(t, symbol) }, { "f", sg_show_figure(t->g->s, sg_value_number(e->focal_mm, SG_DIM_LENGTH), NULL) });
}

/* ---- what is looked at, and what is seen ---- */

static void far_object(const SgTell *t, uint32_t symbol, const SgStatement *st, const SgObject *o)
{
    if (fabs(o->angle_deg) < 1e-9 || sg_tell_depends(t, value_of(st, SG_PHRASE_object_angle, 0))) sg_tell_of(t, symbol, SG_TEXT_tell_object_far, NULL, 0);
    else SG_TELL_OF(t, symbol, o->angle_deg > 0 ? SG_TEXT_tell_object_above : SG_TEXT_tell_object_below, { "angle", sg_tell_angle(t, o->angle_deg) });
}

void sg_tell_object(const SgTell *t, uint32_t symbol)
{
    static const SgTextId shape[SG_SHAPE_COUNT] = { SG_TEXT_tell_object_arrow, SG_TEXT_tell_object_candle, SG_TEXT_tell_object_bulb, SG_TEXT_tell_object_tree,
        SG_TEXT_tell_object_person, SG_TEXT_tell_object_bottle, SG_TEXT_tell_object_key, SG_TEXT_tell_object_fish, SG_TEXT_tell_object_flower, SG_TEXT_tell_object_letter };
    const SgStatement *st = sg_statement_of(t->g->s, symbol);
    const SgObject *o = &t->g->s->thing[symbol].object;
    if (o->far) { far_object(t, symbol, st, o); return; }
    if (sg_tell_depends(t, value_of(st, SG_PHRASE_object_height, 0))) sg_tell_of(t, symbol, SG_TEXT_tell_object_bare, NULL, 0);
    else if (fabs(o->height_mm) < 1e-9) sg_tell_of(t, symbol, SG_TEXT_tell_object_point, NULL, 0);
    else SG_TELL_OF(t, symbol, shape[o->shape], { "h", sg_tell_length(t, o->height_mm) });
    if (o->height_mm < -1e-9) sg_tell_of(t, symbol, SG_TEXT_tell_object_down, NULL, 0);
    if (o->is_virtual) sg_tell_of(t, symbol, SG_TEXT_tell_object_virtual, NULL, 0);
    sg_tell_placed(t, symbol, value_of(st, SG_PHRASE_object_at, 0));
}

static bool has_rays(const SgTell *t)
{
    for (uint32_t i = 0; i < t->g->scope->nsymbols; i++) if (t->g->light[i]) return true;
    return false;
}

/* What is drawn among the givens is told as it is seen, and no more. */
static void given_image(const SgTell *t, uint32_t symbol, const SgImage *im)
{
    SgStr of = sg_tell_name(t, im->of);
    if (im->last.far == SG_AT_INFINITY || !sg_image_drawn(t->g, im)) return;
    if (fabs(im->height_mm) < 1e-9) SG_TELL_OF(t, symbol, SG_TEXT_tell_image_drawn_point, { "of", of });
    else SG_TELL_OF(t, symbol, im->height_mm > 0 ? SG_TEXT_tell_image_drawn_up : SG_TEXT_tell_image_drawn_down, { "of", of }, { "h", sg_tell_length(t, im->height_mm) });
    sg_tell_placed(t, symbol, NULL);
}

void sg_tell_image(const SgTell *t, uint32_t symbol)
{
    const SgImage *im = &t->g->s->thing[symbol].image;
    uint32_t last = im->by[im->nby - 1];
    SgStr of = sg_tell_name(t, im->of), element = sg_tell_name(t, last);
    if (!t->whole) { given_image(t, symbol, im); return; }
    if (im->last.far == SG_AT_INFINITY) { SG_TELL_OF(t, symbol, SG_TEXT_tell_image_far, { "of", of }, { "element", element }); return; }
    bool mirrored = t->g->s->thing[last].element.surface.acts == SG_ACTS_REFLECT;
    int where = im->last.real == mirrored ? 0 : mirrored ? 1 : im->last.real ? 2 : 0;
    static const SgTextId tall[] = { SG_TEXT_tell_image_before, SG_TEXT_tell_image_behind, SG_TEXT_tell_image_beyond };
    static const SgTextId point[] = { SG_TEXT_tell_image_point_before, SG_TEXT_tell_image_point_behind, SG_TEXT_tell_image_point_beyond };
    SgStr d = sg_tell_length(t, im->last.distance_mm), nature = sg_image_nature(t->g->s, im);
    if (fabs(im->height_mm) < 1e-9) SG_TELL_OF(t, symbol, point[where], { "of", of }, { "nature", nature }, { "d", d }, { "element", element });
    else SG_TELL_OF(t, symbol, tall[where], { "of", of }, { "nature", nature }, { "h", sg_tell_length(t, im->height_mm) }, { "d", d }, { "element", element });
    if (im->unmagnified && fabs(im->height_mm) > 1e-9) sg_tell(t, im->height_mm > 0 ? SG_TEXT_tell_image_points_up : SG_TEXT_tell_image_points_down, NULL, 0);
    const SgMark *m = sg_tell_mark_of(t, sg_statement_of(t->g->s, symbol));
    if (m && m->reversed && m->shape != SG_SHAPE_ARROW) sg_tell(t, SG_TEXT_tell_image_reversed, NULL, 0);
    if (im->would_be) sg_tell(t, SG_TEXT_tell_image_would_be, NULL, 0);
    else if (!im->last.real && has_rays(t) && sg_image_drawn(t->g, im)) sg_tell(t, SG_TEXT_tell_image_dashed, NULL, 0);
    if (t->g->s->by_rule && im->spread_mm > 0) SG_TELL(t, SG_TEXT_tell_image_spread, { "spread", sg_show_figure(t->g->s, sg_value_number(im->spread_mm, SG_DIM_LENGTH),
        &(SgHoleFormat){ .step = 0.1, .decimals = 1, .unit = SG_UNIT_mm, .given = true }) });
}
