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

/* The thing light meets that stands nearest along the axis, but itself and those told later. */
static uint32_t neighbour(const SgTell *t, uint32_t symbol, SgPoint at, bool earlier)
{
    uint32_t best = UINT32_MAX;
    double least = 1e300;
    for (uint32_t i = 0; i < t->g->scope->nsymbols; i++) {
        const SgStatement *st = sg_statement_of(t->g->s, i);
        if (i == symbol || (earlier && i > symbol) || !sg_meets_light(t->g->scope->symbol[i].kind) || t->g->s->thing[i].state != SG_VALID
            || sg_is_hidden(st) || !sg_in_part(t->g, i)) continue;
        double far = fabs(sg_pt_dot(sg_pt_sub(at, t->g->s->thing[i].element.surface.vertex), t->g->s->light));
        bool behind = !earlier && sg_pt_dot(sg_pt_sub(at, t->g->s->thing[i].element.surface.vertex), t->g->s->light) > 1e-9;
        if (behind) far += 1e9;                        /* what light is still to meet comes first */
        if (far < least) { least = far; best = i; }
    }
    return best;
}

void sg_tell_placed(const SgTell *t, uint32_t symbol, const SgExpr *at)
{
    SgPoint p;
    SgKind kind = t->g->scope->symbol[symbol].kind;
    if (sg_tell_depends(t, at) || !sg_default_point(t->g->s, symbol, true, &p)) return;
    uint32_t other = neighbour(t, symbol, p, sg_meets_light(kind));
    if (other == UINT32_MAX || (t->answer[other] && !t->whole && kind != SG_KIND_image)) return;
    const SgSurface *f = &t->g->s->thing[other].element.surface;
    double d = sg_pt_dot(sg_pt_sub(p, f->vertex), t->g->s->light);
    if (fabs(f->along.y_mm) > 0.8) return;            /* a thing that looks up or down has no before along the axis */
    SgStr name = sg_tell_name(t, symbol), o = sg_tell_name(t, other);
    if (fabs(d) < 1e-6) SG_TELL(t, SG_TEXT_tell_placed_touching, { "name", name }, { "other", o });
    else SG_TELL(t, d < 0 ? SG_TEXT_tell_placed_before : SG_TEXT_tell_placed_beyond, { "name", name }, { "d", sg_tell_length(t, d) }, { "other", o });
}

/* ---- what light meets ---- */

static void mirror(const SgTell *t, const SgStatement *st, const SgElement *e, SgStr name)
{
    const SgExpr *f = value_of(st, SG_PHRASE_mirror_focal, 0), *r = value_of(st, SG_PHRASE_mirror_radius, 0);
    const SgExpr *a = value_of(st, SG_PHRASE_mirror_aperture, 0), *l = value_of(st, SG_PHRASE_mirror_length, 0);
    bool bare = sg_tell_depends(t, f) || sg_tell_depends(t, r) || sg_tell_depends(t, a) || sg_tell_depends(t, l);
    SgStr size = sg_tell_length(t, 2 * e->surface.half_aperture_mm);
    if (e->plane && bare) SG_TELL(t, SG_TEXT_tell_mirror_plane_bare, { "name", name });
    else if (e->plane) SG_TELL(t, SG_TEXT_tell_mirror_plane, { "name", name }, { "size", size });
    else if (bare) SG_TELL(t, e->converging ? SG_TEXT_tell_mirror_concave_bare : SG_TEXT_tell_mirror_convex_bare, { "name", name });
    else if (f) SG_TELL(t, e->converging ? SG_TEXT_tell_mirror_concave : SG_TEXT_tell_mirror_convex, { "name", name }, { "f", sg_tell_length(t, e->focal_mm) }, { "size", size });
    else SG_TELL(t, e->converging ? SG_TEXT_tell_mirror_concave_radius : SG_TEXT_tell_mirror_convex_radius, { "name", name }, { "r", sg_tell_length(t, 2 * e->focal_mm) }, { "size", size });
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

static void lens(const SgTell *t, const SgStatement *st, const SgElement *e, SgStr name)
{
    const SgExpr *f = value_of(st, SG_PHRASE_lens_focal, 0), *p = value_of(st, SG_PHRASE_lens_power, 0);
    bool bare = false;
    for (uint32_t i = 0; i < st->nphrases; i++)
        for (uint32_t k = 0; k < st->phrase[i].n && st->phrase[i].id != SG_PHRASE_lens_at; k++) bare = bare || sg_tell_depends(t, st->phrase[i].value[k]);
    SgStr size = sg_tell_length(t, 2 * e->surface.half_aperture_mm);
    if (bare) SG_TELL(t, !f && !p ? SG_TEXT_tell_lens_bare : e->converging ? SG_TEXT_tell_lens_converging_bare : SG_TEXT_tell_lens_diverging_bare, { "name", name });
    else if (f) SG_TELL(t, e->converging ? SG_TEXT_tell_lens_converging : SG_TEXT_tell_lens_diverging, { "name", name }, { "f", sg_tell_length(t, e->focal_mm) }, { "size", size });
    else if (p) SG_TELL(t, e->converging ? SG_TEXT_tell_lens_converging_power : SG_TEXT_tell_lens_diverging_power, { "name", name },
                        { "power", sg_show_figure(t->g->s, sg_value_number(fabs(e->surface.power_per_mm), SG_DIM_POWER), NULL) }, { "size", size });
    else {
        SgStr n = index_of(t, medium_of(t, value_of(st, SG_PHRASE_lens_glass, 0), 1.5)), one = face(t, e->curvature_front), two = face(t, e->curvature_back);
        if (e->thick) SG_TELL(t, SG_TEXT_tell_lens_thick, { "name", name }, { "n", n }, { "size", size }, { "thickness", sg_tell_length(t, e->thickness_mm) }, { "face1", one }, { "face2", two });
        else SG_TELL(t, SG_TEXT_tell_lens_faces, { "name", name }, { "n", n }, { "size", size }, { "face1", one }, { "face2", two });
    }
}

static void boundary(const SgTell *t, const SgStatement *st, const SgElement *e, SgStr name)
{
    if (sg_tell_depends(t, value_of(st, SG_PHRASE_boundary_radius, 0))) { SG_TELL(t, SG_TEXT_tell_boundary_bare, { "name", name }); return; }
    SG_TELL(t, e->surface.radius_mm < 0 ? SG_TEXT_tell_boundary_convex : SG_TEXT_tell_boundary_concave, { "name", name }, { "r", sg_tell_length(t, e->surface.radius_mm) });
}

static void plate(const SgTell *t, const SgStatement *st, const SgElement *e, SgStr name)
{
    bool stop = st->kind == SG_KIND_stop;
    const SgExpr *size = value_of(st, stop ? SG_PHRASE_stop_opening : SG_PHRASE_screen_height, 0);
    if (sg_tell_depends(t, size)) SG_TELL(t, stop ? SG_TEXT_tell_stop_bare : SG_TEXT_tell_screen_bare, { "name", name });
    else if (stop) SG_TELL(t, SG_TEXT_tell_stop, { "name", name }, { "size", sg_tell_length(t, 2 * e->surface.hole_mm) });
    else SG_TELL(t, SG_TEXT_tell_screen, { "name", name }, { "size", sg_tell_length(t, 2 * e->surface.half_aperture_mm) });
}

static void turned(const SgTell *t, const SgStatement *st, SgStr name)
{
    static const SgPhraseId id[] = { SG_PHRASE_mirror_turned, SG_PHRASE_lens_turned, SG_PHRASE_boundary_turned };
    for (int i = 0; i < 3; i++) {
        const SgExpr *e = value_of(st, id[i], 0);
        SgValue v = e && !sg_tell_depends(t, e) ? sg_eval(t->g->s, e) : sg_value_poison();
        if (v.state == SG_VALID && fabs(v.number) > 1e-9) SG_TELL(t, SG_TEXT_tell_turned, { "name", name }, { "angle", sg_tell_angle(t, v.number) });
    }
}

void sg_tell_element(const SgTell *t, uint32_t symbol)
{
    const SgStatement *st = sg_statement_of(t->g->s, symbol);
    const SgElement *e = &t->g->s->thing[symbol].element;
    const SgSurface *f = &e->surface;
    SgStr name = sg_tell_name(t, symbol);
    if (st->kind == SG_KIND_mirror) mirror(t, st, e, name);
    else if (st->kind == SG_KIND_lens) lens(t, st, e, name);
    else if (st->kind == SG_KIND_boundary) boundary(t, st, e, name);
    else plate(t, st, e, name);
    bool in_air = fabs(f->n_before - 1) < 1e-9 && fabs(f->n_after - 1) < 1e-9, refracts = st->kind == SG_KIND_lens || st->kind == SG_KIND_boundary;
    if (refracts && !in_air) SG_TELL(t, SG_TEXT_tell_media, { "name", name }, { "n1", index_of(t, f->n_before) }, { "n2", index_of(t, f->n_after) });
    turned(t, st, name);
    static const SgPhraseId at[] = { SG_PHRASE_mirror_at, SG_PHRASE_lens_at, SG_PHRASE_boundary_at, SG_PHRASE_stop_at, SG_PHRASE_screen_at };
    for (int i = 0; i < 5; i++) if (value_of(st, at[i], 0)) sg_tell_placed(t, symbol, value_of(st, at[i], 0));
}

void sg_tell_focal(const SgTell *t, uint32_t symbol)
{
    const SgStatement *st = sg_statement_of(t->g->s, symbol);
    const SgElement *e = &t->g->s->thing[symbol].element;
    if (st->kind != SG_KIND_lens || !sg_phrase(st, SG_PHRASE_lens_radii) || fabs(e->surface.power_per_mm) < 1e-12) return;
    SG_TELL(t, SG_TEXT_tell_focal, { "name", sg_tell_name(t, symbol) }, { "f", sg_show_figure(t->g->s, sg_value_number(e->focal_mm, SG_DIM_LENGTH), NULL) });
}

/* ---- what is looked at, and what is seen ---- */

static void far_object(const SgTell *t, const SgStatement *st, const SgObject *o, SgStr name)
{
    if (fabs(o->angle_deg) < 1e-9 || sg_tell_depends(t, value_of(st, SG_PHRASE_object_angle, 0))) SG_TELL(t, SG_TEXT_tell_object_far, { "name", name });
    else SG_TELL(t, o->angle_deg > 0 ? SG_TEXT_tell_object_above : SG_TEXT_tell_object_below, { "name", name }, { "angle", sg_tell_angle(t, o->angle_deg) });
}

void sg_tell_object(const SgTell *t, uint32_t symbol)
{
    static const SgTextId shape[SG_SHAPE_COUNT] = { SG_TEXT_tell_object_arrow, SG_TEXT_tell_object_candle, SG_TEXT_tell_object_bulb, SG_TEXT_tell_object_tree,
        SG_TEXT_tell_object_person, SG_TEXT_tell_object_bottle, SG_TEXT_tell_object_key, SG_TEXT_tell_object_fish, SG_TEXT_tell_object_flower, SG_TEXT_tell_object_letter };
    const SgStatement *st = sg_statement_of(t->g->s, symbol);
    const SgObject *o = &t->g->s->thing[symbol].object;
    SgStr name = sg_tell_name(t, symbol);
    if (o->far) { far_object(t, st, o, name); return; }
    if (sg_tell_depends(t, value_of(st, SG_PHRASE_object_height, 0))) SG_TELL(t, SG_TEXT_tell_object_bare, { "name", name });
    else if (fabs(o->height_mm) < 1e-9) SG_TELL(t, SG_TEXT_tell_object_point, { "name", name });
    else SG_TELL(t, shape[o->shape], { "name", name }, { "h", sg_tell_length(t, o->height_mm) });
    if (o->height_mm < -1e-9) SG_TELL(t, SG_TEXT_tell_object_down, { "name", name });
    if (o->is_virtual) SG_TELL(t, SG_TEXT_tell_object_virtual, { "name", name });
    sg_tell_placed(t, symbol, value_of(st, SG_PHRASE_object_at, 0));
}

static bool has_rays(const SgTell *t)
{
    for (uint32_t i = 0; i < t->g->scope->nsymbols; i++) if (t->g->light[i]) return true;
    return false;
}

void sg_tell_image(const SgTell *t, uint32_t symbol)
{
    const SgImage *im = &t->g->s->thing[symbol].image;
    uint32_t last = im->by[im->nby - 1];
    SgStr name = sg_tell_name(t, symbol), element = sg_tell_name(t, last);
    if (im->last.far == SG_AT_INFINITY) { SG_TELL(t, SG_TEXT_tell_image_far, { "name", name }, { "element", element }); return; }
    bool mirrored = t->g->s->thing[last].element.surface.acts == SG_ACTS_REFLECT;
    int where = im->last.real == mirrored ? 0 : mirrored ? 1 : im->last.real ? 2 : 0;
    static const SgTextId tall[] = { SG_TEXT_tell_image_before, SG_TEXT_tell_image_behind, SG_TEXT_tell_image_beyond };
    static const SgTextId point[] = { SG_TEXT_tell_image_point_before, SG_TEXT_tell_image_point_behind, SG_TEXT_tell_image_point_beyond };
    SgStr d = sg_tell_length(t, im->last.distance_mm);
    if (fabs(im->height_mm) < 1e-9) SG_TELL(t, point[where], { "name", name }, { "d", d }, { "element", element });
    else SG_TELL(t, tall[where], { "name", name }, { "nature", sg_image_nature(t->g->s, im) }, { "h", sg_tell_length(t, im->height_mm) }, { "d", d }, { "element", element });
    if (im->would_be) sg_tell(t, SG_TEXT_tell_image_would_be, NULL, 0);
    else if (!im->last.real && has_rays(t) && sg_image_drawn(t->g, im)) sg_tell(t, SG_TEXT_tell_image_dashed, NULL, 0);
    if (t->g->s->by_rule && im->spread_mm > 0) SG_TELL(t, SG_TEXT_tell_image_spread, { "spread", sg_show_figure(t->g->s, sg_value_number(im->spread_mm, SG_DIM_LENGTH),
        &(SgHoleFormat){ .step = 0.1, .decimals = 1, .unit = SG_UNIT_mm, .given = true }) });
}
