/* Mirrors and thin lenses: their own numbers and where they stand. In: phrases. Out: a surface.
   Signs: focal length and radius are positive for what gathers light (concave mirror, converging lens), negative otherwise;
   R = 2f for a mirror (common practice; paraxial). */
#include "solved/build.h"
#include "solved/value.h"
#include <math.h>

enum { USUAL_APERTURE_MM = 60 };

static const SgPhrase *written(SgSolved *s, uint32_t symbol, SgPhraseId id) { return sg_phrase(sg_statement_of(s, symbol), id); }

bool sg_read_size(SgSolved *s, uint32_t symbol, SgPhraseId id, const char *sort, double *mm)
{
    bool given;
    SgValue v = sg_read(s, symbol, id, &given);
    if (!given || v.state != SG_VALID) return false;
    const SgPhrase *p = written(s, symbol, id);
    const char *word = sg_phrase_info(id)->word;
    if (v.number < 0 && sort) {
        SgValue size_only = v;
        size_only.number = -v.number;
        SgStr shown = sg_show(s, size_only, v.unit, -1);
        sg_wrong(s, SG_MSG_sign_given, p->value[0]->at, "%s already makes %s %s; give the size, %.*s", sort, word, sort[0] == 'd' || sort[3] == 'v' ? "negative" : "positive", (int)shown.n, shown.s);
        return false;
    }
    if (!(v.number > 0)) {
        sg_wrong(s, SG_MSG_not_positive, p->value[0]->at, "`%s` must be more than nought; give it a size", word);
        return false;
    }
    if (v.number < 1e-9 || v.number > 1e12) {
        sg_wrong(s, SG_MSG_out_of_range, p->value[0]->at, "lengths lie between 1e-9 mm and 1e12 mm");
        return false;
    }
    *mm = v.number;
    return true;
}

static bool curved_mirror(SgSolved *s, uint32_t symbol, const char *sort, double *focal_mm)
{
    const SgPhrase *f = written(s, symbol, SG_PHRASE_mirror_focal), *r = written(s, symbol, SG_PHRASE_mirror_radius);
    double radius_mm = 0;
    if (!f && !r) {
        if (!sg_statement_of(s, symbol)->damaged)
            sg_wrong(s, SG_MSG_phrase_missing, sg_statement_of(s, symbol)->head_at, "a %s mirror needs `focal` or `radius`, such as `focal 4 cm`", sort);
        return false;
    }
    bool known_f = f && sg_read_size(s, symbol, SG_PHRASE_mirror_focal, sort, focal_mm);
    bool known_r = r && sg_read_size(s, symbol, SG_PHRASE_mirror_radius, sort, &radius_mm);
    if ((f && !known_f) || (r && !known_r)) return false;
    if (f && r && !sg_near_equal(radius_mm, 2 * *focal_mm, SG_DIM_LENGTH)) {
        SgStr twice = sg_show_length(s, 2 * *focal_mm);
        sg_wrong(s, SG_MSG_radius_not_twice, r->value[0]->at, "radius must be 2 \xC3\x97 focal (%.*s); give one of them", (int)twice.n, twice.s);
        return false;
    }
    if (!f) *focal_mm = radius_mm / 2;
    return true;
}

static bool mirror_aperture(SgSolved *s, uint32_t symbol, double radius_mm, double *aperture_mm)
{
    const SgPhrase *p = written(s, symbol, SG_PHRASE_mirror_aperture);
    SgPhraseId id = p ? SG_PHRASE_mirror_aperture : SG_PHRASE_mirror_length;
    if (!p) p = written(s, symbol, id);
    *aperture_mm = radius_mm > 0 && radius_mm < USUAL_APERTURE_MM ? radius_mm : USUAL_APERTURE_MM;
    if (!p) return true;
    if (!sg_read_size(s, symbol, id, NULL, aperture_mm)) return false;
    if (radius_mm > 0 && *aperture_mm > 2 * radius_mm) {
        SgStr r = sg_show_length(s, radius_mm), d = sg_show_length(s, 2 * radius_mm);
        sg_wrong(s, SG_MSG_aperture_too_wide, p->value[0]->at, "a sphere of radius %.*s is at most %.*s across; make the aperture less", (int)r.n, r.s, (int)d.n, d.s);
        return false;
    }
    return true;
}

bool sg_read_edge(SgSolved *s, uint32_t symbol, SgPhraseId id, SgElement *e)
{
    const SgPhrase *p = written(s, symbol, id);
    if (!p || !p->n) return true;
    e->edge_passes = sg_word_is(s, p->value[0], "passes");
    e->edge_meant = e->edge_passes || sg_word_is(s, p->value[0], "produced");
    if (e->edge_meant || sg_word_is(s, p->value[0], "warn")) return true;
    sg_wrong(s, SG_MSG_word_value, p->value[0]->at, "`edge` takes one of the words passes, produced, warn");
    return false;
}

static void mirror_shape(SgSolved *s, uint32_t symbol)
{
    SgThing *t = &s->thing[symbol];
    SgElement *e = &t->element;
    t->state = SG_POISON;
    const SgPhrase *flat = written(s, symbol, SG_PHRASE_mirror_plane);
    bool convex = written(s, symbol, SG_PHRASE_mirror_convex) != NULL;
    if (!flat && !convex && !written(s, symbol, SG_PHRASE_mirror_concave)) return;      /* said by the model */
    double focal_mm = 0;
    if (flat) {
        const SgPhrase *p = written(s, symbol, SG_PHRASE_mirror_focal);
        if (!p) p = written(s, symbol, SG_PHRASE_mirror_radius);
        if (p) {
            sg_wrong(s, SG_MSG_plane_has_no_focus, p->at, "a plane mirror has no `%s`; take it away, or write concave or convex", sg_phrase_info(p->id)->word);
            return;
        }
    } else if (!curved_mirror(s, symbol, convex ? "convex" : "concave", &focal_mm)) return;
    double aperture_mm;
    if (!mirror_aperture(s, symbol, 2 * focal_mm, &aperture_mm) || !sg_read_edge(s, symbol, SG_PHRASE_mirror_edge, e)) return;
    if (convex) focal_mm = -focal_mm;
    e->plane = flat != NULL;
    e->converging = focal_mm > 0;
    e->focal_mm = focal_mm;
    e->surface = (SgSurface){ .profile = flat ? SG_PROFILE_PLANE : SG_PROFILE_SPHERE, .acts = SG_ACTS_REFLECT, .radius_mm = 2 * focal_mm,
        .power_per_mm = flat ? 0 : 1 / focal_mm, .half_aperture_mm = aperture_mm / 2, .n_before = 1, .n_after = 1 };
    t->state = SG_VALID;
}

static bool lens_power(SgSolved *s, uint32_t symbol, const char *sort, double *focal_mm)
{
    bool given;
    if (written(s, symbol, SG_PHRASE_lens_focal)) return sg_read_size(s, symbol, SG_PHRASE_lens_focal, sort, focal_mm);
    SgValue v = sg_read(s, symbol, SG_PHRASE_lens_power, &given);
    if (!given || v.state != SG_VALID) return false;
    const SgPhrase *p = written(s, symbol, SG_PHRASE_lens_power);
    if (v.number < 0) {
        v.number = -v.number;
        SgStr shown = sg_show(s, v, SG_UNIT_D, -1);
        sg_wrong(s, SG_MSG_sign_given, p->value[0]->at, "%s already makes power %s; give the size, %.*s", sort, sort[0] == 'd' ? "negative" : "positive", (int)shown.n, shown.s);
        return false;
    }
    if (!(v.number > 1e-12)) { sg_wrong(s, SG_MSG_not_positive, p->value[0]->at, "`power` must be more than nought"); return false; }
    *focal_mm = 1 / v.number;
    return true;
}

static void lens_shape(SgSolved *s, uint32_t symbol)
{
    if (written(s, symbol, SG_PHRASE_lens_radii)) {
        s->thing[symbol].state = sg_radii_lens(s, symbol) ? SG_VALID : SG_POISON;
        return;
    }
    static const SgPhraseId only[] = { SG_PHRASE_lens_glass, SG_PHRASE_lens_thickness, SG_PHRASE_lens_left, SG_PHRASE_lens_right };
    for (int i = 0; i < 4; i++) {
        const SgPhrase *p = written(s, symbol, only[i]);
        if (!p) continue;
        sg_wrong(s, SG_MSG_needs_radii, p->at, "`%s` needs the lens to be told by its radii: radii 10 cm, 10 cm; or take it away", sg_phrase_info(p->id)->word);
        s->thing[symbol].state = SG_POISON;
        return;
    }
    SgThing *t = &s->thing[symbol];
    SgElement *e = &t->element;
    t->state = SG_POISON;
    bool diverging = written(s, symbol, SG_PHRASE_lens_diverging) != NULL;
    if (!diverging && !written(s, symbol, SG_PHRASE_lens_converging)) {
        if (!sg_statement_of(s, symbol)->damaged) sg_wrong(s, SG_MSG_phrase_missing, sg_statement_of(s, symbol)->head_at, "a lens needs `converging` or `diverging`");
        return;
    }
    double focal_mm, aperture_mm = USUAL_APERTURE_MM;
    if (!lens_power(s, symbol, diverging ? "diverging" : "converging", &focal_mm)) return;
    if (written(s, symbol, SG_PHRASE_lens_aperture) && !sg_read_size(s, symbol, SG_PHRASE_lens_aperture, NULL, &aperture_mm)) return;
    if (!sg_read_edge(s, symbol, SG_PHRASE_lens_edge, e)) return;
    if (diverging) focal_mm = -focal_mm;
    e->converging = !diverging;
    e->focal_mm = focal_mm;
    e->surface = (SgSurface){ .profile = SG_PROFILE_PLANE, .acts = SG_ACTS_REFRACT, .power_per_mm = 1 / focal_mm, .half_aperture_mm = aperture_mm / 2, .n_before = 1, .n_after = 1 };
    t->state = SG_VALID;
}

/* Where the front looks: a word, or an angle counter-clockwise from the right of the page. */
bool sg_read_facing(SgSolved *s, const SgPhrase *p, SgPoint *front)
{
    static const struct { const char *word; SgPoint front; } named[] = { { "left", { -1, 0 } }, { "right", { 1, 0 } }, { "up", { 0, 1 } }, { "down", { 0, -1 } } };
    if (p->value[0]->op == SG_E_WORD) {
        for (int i = 0; i < 4; i++) if (sg_word_is(s, p->value[0], named[i].word)) { *front = named[i].front; return true; }
        sg_wrong(s, SG_MSG_word_value, p->value[0]->at, "`facing` takes left, right, up, down or an angle such as 45 deg");
        return false;
    }
    SgValue v = sg_eval_as(s, p->value[0], SG_TYPE_NUMBER, SG_DIM_ANGLE, "facing");
    if (v.state != SG_VALID) return false;
    sg_sincos_deg(v.number, &front->y_mm, &front->x_mm);
    return true;
}

bool sg_stand(SgSolved *s, uint32_t symbol, SgPhraseId at, SgPhraseId face, SgPhraseId turned)
{
    SgThing *t = &s->thing[symbol];
    bool given, turn;
    SgPoint front = sg_pt_scale(s->light, -1);
    SgValue place = sg_read(s, symbol, at, &given), angle = sg_read(s, symbol, turned, &turn);
    const SgPhrase *p = written(s, symbol, face);
    if (!given || place.state != SG_VALID || (turn && angle.state != SG_VALID) || (p && p->n && !sg_read_facing(s, p, &front))) { t->state = SG_POISON; return false; }
    if (turn) sg_sincos_deg((s->light.x_mm > 0 ? 180 : 0) + angle.number, &front.y_mm, &front.x_mm);
    t->element.surface.vertex = t->element.surface.exit = place.point;
    t->element.surface.along = sg_pt(front.x_mm == 0 ? 0 : -front.x_mm, front.y_mm == 0 ? 0 : -front.y_mm);
    return true;
}
static void mirror_stand(SgSolved *s, uint32_t symbol) { sg_stand(s, symbol, SG_PHRASE_mirror_at, SG_PHRASE_mirror_facing, SG_PHRASE_mirror_turned); }

/* A thick lens stands with its middle at its place; light bends at its principal planes. */
static void lens_stand(SgSolved *s, uint32_t symbol)
{
    SgElement *e = &s->thing[symbol].element;
    if (!sg_stand(s, symbol, SG_PHRASE_lens_at, SG_PHRASE_lens_facing, SG_PHRASE_lens_turned)) return;
    SgPoint middle = e->surface.vertex, along = e->surface.along;
    e->face_front = sg_pt_along(middle, along, -e->thickness_mm / 2);
    e->face_back = sg_pt_along(middle, along, e->thickness_mm / 2);
    if (!e->thick) return;
    e->surface.vertex = sg_pt_along(e->face_front, along, e->front_principal_mm);
    e->surface.exit = sg_pt_along(e->face_back, along, e->back_principal_mm);
}

static SgValue along_axis(const SgElement *e, double mm) { return sg_value_point(sg_pt_along(e->surface.vertex, e->surface.along, mm)); }

static SgValue mirror_property(SgSolved *s, uint32_t symbol, SgPropertyId id)
{
    const SgElement *e = &s->thing[symbol].element;
    if (id == SG_PROPERTY_mirror_vertex) return sg_value_point(e->surface.vertex);
    if (id == SG_PROPERTY_mirror_face) {
        SgValue v = { .type = SG_TYPE_LINE, .unit = SG_UNIT_COUNT };
        v.line = (SgLineValue){ e->surface.vertex, sg_pt_left(e->surface.along), 0 };
        return v;
    }
    if (id == SG_PROPERTY_mirror_aperture) return sg_value_number(2 * e->surface.half_aperture_mm, SG_DIM_LENGTH);
    if (id == SG_PROPERTY_mirror_power) return sg_value_number(e->surface.power_per_mm, SG_DIM_POWER);
    bool point = id == SG_PROPERTY_mirror_focus || id == SG_PROPERTY_mirror_centre;
    if (e->plane) return point ? sg_value_undefined("a plane mirror has no focal point and no centre of curvature; ask for its vertex, or write concave or convex") : sg_value_infinite(SG_DIM_LENGTH);
    bool twice = id == SG_PROPERTY_mirror_centre || id == SG_PROPERTY_mirror_radius;
    double mm = twice ? 2 * e->focal_mm : e->focal_mm;
    return point ? along_axis(e, -mm) : sg_value_number(mm, SG_DIM_LENGTH);
}

static SgValue lens_property(SgSolved *s, uint32_t symbol, SgPropertyId id)
{
    const SgElement *e = &s->thing[symbol].element;
    const SgSurface *f = &e->surface;
    double front_mm = f->n_before / f->power_per_mm, back_mm = f->n_after / f->power_per_mm;
    switch ((int)id) {
    case SG_PROPERTY_lens_front_focus: return sg_value_point(sg_pt_along(f->vertex, f->along, -front_mm));
    case SG_PROPERTY_lens_back_focus: return sg_value_point(sg_pt_along(f->exit, f->along, back_mm));
    case SG_PROPERTY_lens_front_focal: return sg_value_number(front_mm, SG_DIM_LENGTH);
    case SG_PROPERTY_lens_back_focal: return sg_value_number(back_mm, SG_DIM_LENGTH);
    case SG_PROPERTY_lens_front_principal: return sg_value_point(f->vertex);
    case SG_PROPERTY_lens_back_principal: return sg_value_point(f->exit);
    case SG_PROPERTY_lens_front_focal_distance: return sg_value_number(front_mm - sg_pt_dot(sg_pt_sub(f->vertex, e->face_front), f->along), SG_DIM_LENGTH);
    case SG_PROPERTY_lens_back_focal_distance: return sg_value_number(back_mm + sg_pt_dot(sg_pt_sub(f->exit, e->face_back), f->along), SG_DIM_LENGTH);
    case SG_PROPERTY_lens_focal:
        if (f->n_before != f->n_after) return sg_value_undefined("between two media a lens has two focal lengths; ask for .front_focal or .back_focal");
        return sg_value_number(back_mm, SG_DIM_LENGTH);
    case SG_PROPERTY_lens_power: return sg_value_number(f->power_per_mm, SG_DIM_POWER);
    case SG_PROPERTY_lens_aperture: return sg_value_number(2 * f->half_aperture_mm, SG_DIM_LENGTH);
    default: return sg_value_point(sg_pt_mid(e->face_front, e->face_back));
    }
}

const SgKindSolver sg_mirror_solver = { { mirror_shape, mirror_stand, NULL }, mirror_property };
const SgKindSolver sg_lens_solver = { { lens_shape, lens_stand, NULL }, lens_property };
