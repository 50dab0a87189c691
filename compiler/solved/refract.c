/* Glass by its faces: lenses told by radii, thin or thick, in any media, and single spherical boundaries.
   In: phrases. Out: surfaces by power and principal planes.
   Laws: P = (n - n1) c1 + (n - n2) c2 for a thin lens, Gullstrand's equation for a thick one, P = (n2 - n1)/R for a boundary
   (any optics text, e.g. OpenStax University Physics 3, ch. 2). Curvature c = 1/r is positive where the face bulges out of the glass. */
#include "solved/build.h"
#include "solved/value.h"
#include <math.h>

static const SgPhrase *written(SgSolved *s, uint32_t symbol, SgPhraseId id) { return sg_phrase(sg_statement_of(s, symbol), id); }

bool sg_read_medium(SgSolved *s, uint32_t symbol, SgPhraseId id, double usual, double *index)
{
    const SgPhrase *p = written(s, symbol, id);
    *index = usual;
    if (!p || !p->n) return true;
    const SgExpr *e = p->value[0];
    if (e->op == SG_E_WORD) {
        SgStr word = sg_names_str(&s->c->names, e->sym);
        *index = sg_medium_index(word);
        if (*index > 0) return true;
        sg_wrong(s, SG_MSG_medium_unknown, e->at, "no medium is called `%.*s`; write air, water, glass or its refractive index, such as 1.5", (int)word.n, word.s);
        return false;
    }
    SgValue v = sg_eval_as(s, e, SG_TYPE_NUMBER, SG_DIM_NUMBER, sg_phrase_info(id)->word);
    if (v.state != SG_VALID) return false;
    *index = v.number;
    if (v.number >= 0.1 && v.number <= 10) return true;
    sg_wrong(s, SG_MSG_medium_unknown, e->at, "a refractive index lies between 0.1 and 10; most glasses have about 1.5");
    return false;
}

/* 1/r of the k-th radius: flat is 0; false after a message. */
static bool curvature(SgSolved *s, const SgPhrase *p, uint32_t k, double *c)
{
    SgValue v = sg_eval(s, p->value[k]);
    if (v.state == SG_INFINITE) { *c = 0; return true; }
    v = sg_eval_as(s, p->value[k], SG_TYPE_NUMBER, SG_DIM_LENGTH, "radii");
    if (v.state != SG_VALID) return false;
    if (fabs(v.number) < 1e-9 || fabs(v.number) > 1e12) {
        sg_wrong(s, SG_MSG_not_positive, p->value[k]->at, "a radius cannot be nought; write flat for a flat face");
        return false;
    }
    *c = 1 / v.number;
    return true;
}

/* Depth of a face at the rim, signed like its curvature; false when the rim is wider than its sphere. */
static bool sag(SgSolved *s, SgSpan at, double c, double half_mm, double *mm)
{
    *mm = 0;
    if (c == 0) return true;
    double r = 1 / fabs(c);
    if (half_mm > r) {
        SgStr told = sg_show_length(s, r), most = sg_show_length(s, 2 * r);
        sg_wrong(s, SG_MSG_aperture_too_wide, at, "a sphere of radius %.*s is at most %.*s across; make the aperture less", (int)told.n, told.s, (int)most.n, most.s);
        return false;
    }
    *mm = (r - sqrt(r * r - half_mm * half_mm)) * (c < 0 ? -1 : 1);
    return true;
}

static bool faces_fit(SgSolved *s, uint32_t symbol, SgElement *e, bool aperture_given)
{
    const SgStatement *st = sg_statement_of(s, symbol);
    double sag1, sag2, least = 1e300;
    if (e->curvature_front != 0) least = 1 / fabs(e->curvature_front);
    if (e->curvature_back != 0 && 1 / fabs(e->curvature_back) < least) least = 1 / fabs(e->curvature_back);
    if (!aperture_given && e->surface.half_aperture_mm > least / 2) e->surface.half_aperture_mm = least / 2;
    double half = e->surface.half_aperture_mm;
    if (!e->thick) return true;
    if (!sag(s, st->head_at, e->curvature_front, half, &sag1) || !sag(s, st->head_at, e->curvature_back, half, &sag2)) return false;
    if (e->thickness_mm - sag1 - sag2 >= -1e-9) return true;
    SgStr need = sg_show_length(s, sag1 + sag2);
    sg_wrong(s, SG_MSG_faces_cross, st->head_at, "the faces cross inside the aperture; make the lens at least %.*s thick, or its aperture less", (int)need.n, need.s);
    return false;
}

bool sg_radii_lens(SgSolved *s, uint32_t symbol)
{
    SgElement *e = &s->thing[symbol].element;
    const SgPhrase *radii = written(s, symbol, SG_PHRASE_lens_radii), *thickness = written(s, symbol, SG_PHRASE_lens_thickness);
    double n, n_left, n_right, aperture_mm = 60, power = 0;
    bool aperture_given = written(s, symbol, SG_PHRASE_lens_aperture) != NULL, on_right = s->light.x_mm > 0;
    if (radii->n < 2 || !curvature(s, radii, 0, &e->curvature_front) || !curvature(s, radii, 1, &e->curvature_back)) return false;
    if (!sg_read_medium(s, symbol, SG_PHRASE_lens_glass, 1.5, &n) || !sg_read_medium(s, symbol, SG_PHRASE_lens_left, 1, &n_left)
        || !sg_read_medium(s, symbol, SG_PHRASE_lens_right, 1, &n_right)) return false;
    if (aperture_given && !sg_read_size(s, symbol, SG_PHRASE_lens_aperture, NULL, &aperture_mm)) return false;
    if (thickness && !sg_read_size(s, symbol, SG_PHRASE_lens_thickness, NULL, &e->thickness_mm)) return false;
    if (!sg_read_edge(s, symbol, SG_PHRASE_lens_edge, e)) return false;
    e->thick = thickness != NULL;
    e->surface = (SgSurface){ .profile = SG_PROFILE_PLANE, .acts = SG_ACTS_REFRACT, .half_aperture_mm = aperture_mm / 2,
        .n_before = on_right ? n_left : n_right, .n_after = on_right ? n_right : n_left };
    if (!sg_thick_lens(e->surface.n_before, n, e->surface.n_after, e->curvature_front, e->curvature_back, e->thickness_mm,
                       &power, &e->front_principal_mm, &e->back_principal_mm)) {
        sg_wrong(s, SG_MSG_no_power, radii->at, "these faces cancel each other: the lens has no power and no focal points; change a radius");
        return false;
    }
    e->surface.power_per_mm = power;
    e->focal_mm = e->surface.n_after / power;
    e->converging = power > 0;
    const SgPhrase *conv = written(s, symbol, SG_PHRASE_lens_converging), *div = written(s, symbol, SG_PHRASE_lens_diverging);
    if ((conv && power < 0) || (div && power > 0)) {
        sg_wrong(s, SG_MSG_sign_given, (conv ? conv : div)->at, "these radii make the lens %s; write that, or turn the signs of the radii", power > 0 ? "converging" : "diverging");
        return false;
    }
    return faces_fit(s, symbol, e, aperture_given);
}

/* ---- boundary ---- */

static void boundary_shape(SgSolved *s, uint32_t symbol)
{
    SgThing *t = &s->thing[symbol];
    SgElement *e = &t->element;
    t->state = SG_POISON;
    bool concave = written(s, symbol, SG_PHRASE_boundary_concave) != NULL;
    double radius_mm, n_left, n_right, aperture_mm = 60;
    if (!concave && !written(s, symbol, SG_PHRASE_boundary_convex)) return;
    if (!sg_read_size(s, symbol, SG_PHRASE_boundary_radius, concave ? "concave" : "convex", &radius_mm)) return;
    if (!sg_read_medium(s, symbol, SG_PHRASE_boundary_left, 1, &n_left) || !sg_read_medium(s, symbol, SG_PHRASE_boundary_right, 1, &n_right)) return;
    bool given = written(s, symbol, SG_PHRASE_boundary_aperture) != NULL;
    if (given && !sg_read_size(s, symbol, SG_PHRASE_boundary_aperture, NULL, &aperture_mm)) return;
    if (!given && aperture_mm > radius_mm) aperture_mm = radius_mm;
    double sag_mm;
    if (!sag(s, sg_statement_of(s, symbol)->head_at, 1 / radius_mm, aperture_mm / 2, &sag_mm) || !sg_read_edge(s, symbol, SG_PHRASE_boundary_edge, e)) return;
    double n1 = s->light.x_mm > 0 ? n_left : n_right, n2 = s->light.x_mm > 0 ? n_right : n_left;
    if (sg_near_equal(n1, n2, SG_DIM_NUMBER)) {
        sg_wrong(s, SG_MSG_no_power, sg_statement_of(s, symbol)->head_at, "the same medium on both sides is no boundary; change `left` or `right`");
        return;
    }
    e->curvature_front = (concave ? -1 : 1) / radius_mm;
    e->surface = (SgSurface){ .profile = SG_PROFILE_SPHERE, .acts = SG_ACTS_REFRACT, .radius_mm = concave ? radius_mm : -radius_mm,
        .power_per_mm = (n2 - n1) * e->curvature_front, .half_aperture_mm = aperture_mm / 2, .n_before = n1, .n_after = n2 };
    e->focal_mm = n2 / e->surface.power_per_mm;
    e->converging = e->focal_mm > 0;
    t->state = SG_VALID;
}
static void boundary_stand(SgSolved *s, uint32_t symbol)
{
    if (!sg_stand(s, symbol, SG_PHRASE_boundary_at, SG_PHRASE_boundary_facing, SG_PHRASE_boundary_turned)) return;
    s->thing[symbol].element.face_front = s->thing[symbol].element.face_back = s->thing[symbol].element.surface.vertex;
}
static SgValue boundary_property(SgSolved *s, uint32_t symbol, SgPropertyId id)
{
    const SgSurface *f = &s->thing[symbol].element.surface;
    double front_mm = f->n_before / f->power_per_mm, back_mm = f->n_after / f->power_per_mm;
    switch ((int)id) {
    case SG_PROPERTY_boundary_centre: return sg_value_point(sg_pt_along(f->vertex, f->along, -f->radius_mm));
    case SG_PROPERTY_boundary_front_focus: return sg_value_point(sg_pt_along(f->vertex, f->along, -front_mm));
    case SG_PROPERTY_boundary_back_focus: return sg_value_point(sg_pt_along(f->vertex, f->along, back_mm));
    case SG_PROPERTY_boundary_front_focal: return sg_value_number(front_mm, SG_DIM_LENGTH);
    case SG_PROPERTY_boundary_back_focal: return sg_value_number(back_mm, SG_DIM_LENGTH);
    case SG_PROPERTY_boundary_radius: return sg_value_number(-f->radius_mm, SG_DIM_LENGTH);
    case SG_PROPERTY_boundary_power: return sg_value_number(f->power_per_mm, SG_DIM_POWER);
    case SG_PROPERTY_boundary_aperture: return sg_value_number(2 * f->half_aperture_mm, SG_DIM_LENGTH);
    default: return sg_value_point(f->vertex);
    }
}
const SgKindSolver sg_boundary_solver = { { boundary_shape, boundary_stand, NULL }, boundary_property };

/* ---- stops, screens, eyes: what limits, catches or looks at light ---- */

static void plate_shape(SgSolved *s, uint32_t symbol, SgPhraseId height, SgActs acts)
{
    SgThing *t = &s->thing[symbol];
    double height_mm = 60;
    t->state = SG_POISON;
    if (written(s, symbol, height) && !sg_read_size(s, symbol, height, NULL, &height_mm)) return;
    t->element.surface = (SgSurface){ .acts = acts, .half_aperture_mm = height_mm / 2, .n_before = 1, .n_after = 1 };
    t->state = SG_VALID;
}
static void stop_shape(SgSolved *s, uint32_t symbol)
{
    double opening_mm;
    if (!written(s, symbol, SG_PHRASE_stop_opening) || !sg_read_size(s, symbol, SG_PHRASE_stop_opening, NULL, &opening_mm)) return;
    plate_shape(s, symbol, SG_PHRASE_stop_height, SG_ACTS_PASS);
    SgSurface *f = &s->thing[symbol].element.surface;
    if (s->thing[symbol].state == SG_VALID && opening_mm >= 2 * f->half_aperture_mm) {
        sg_wrong(s, SG_MSG_faces_cross, written(s, symbol, SG_PHRASE_stop_opening)->at, "the opening is as wide as the whole plate; make the plate higher with `height`");
        s->thing[symbol].state = SG_POISON;
    }
    f->hole_mm = opening_mm / 2;
}
static void screen_shape(SgSolved *s, uint32_t symbol) { plate_shape(s, symbol, SG_PHRASE_screen_height, SG_ACTS_ABSORB); }

static void plate_stand(SgSolved *s, uint32_t symbol, SgPhraseId at)
{
    bool given;
    SgValue place = sg_read(s, symbol, at, &given);
    SgSurface *f = &s->thing[symbol].element.surface;
    if (!given || place.state != SG_VALID) { s->thing[symbol].state = SG_POISON; return; }
    f->vertex = f->exit = place.point;
    f->along = s->light;
}
static void stop_stand(SgSolved *s, uint32_t symbol) { plate_stand(s, symbol, SG_PHRASE_stop_at); }
static void screen_stand(SgSolved *s, uint32_t symbol) { plate_stand(s, symbol, SG_PHRASE_screen_at); }

static SgValue up_by(const SgSurface *f, double mm) { return sg_value_point(sg_pt(f->vertex.x_mm, f->vertex.y_mm + mm)); }

static SgValue stop_property(SgSolved *s, uint32_t symbol, SgPropertyId id)
{
    const SgSurface *f = &s->thing[symbol].element.surface;
    if (id == SG_PROPERTY_stop_opening) return sg_value_number(2 * f->hole_mm, SG_DIM_LENGTH);
    return up_by(f, id == SG_PROPERTY_stop_top ? f->hole_mm : id == SG_PROPERTY_stop_bottom ? -f->hole_mm : 0);
}
static SgValue screen_property(SgSolved *s, uint32_t symbol, SgPropertyId id)
{
    const SgSurface *f = &s->thing[symbol].element.surface;
    return up_by(f, id == SG_PROPERTY_screen_top ? f->half_aperture_mm : id == SG_PROPERTY_screen_bottom ? -f->half_aperture_mm : 0);
}
static void eye_stand(SgSolved *s, uint32_t symbol)
{
    bool given;
    SgThing *t = &s->thing[symbol];
    SgValue at = sg_read(s, symbol, SG_PHRASE_eye_at, &given);
    const SgPhrase *face = written(s, symbol, SG_PHRASE_eye_facing);
    t->looks = sg_pt_scale(s->light, -1);
    t->place = at.point;
    t->state = given && at.state == SG_VALID && (!face || !face->n || sg_read_facing(s, face, &t->looks)) ? SG_VALID : SG_POISON;
}
static SgValue eye_property(SgSolved *s, uint32_t symbol, SgPropertyId id)
{
    (void)id;
    return sg_value_point(s->thing[symbol].place);
}
const SgKindSolver sg_stop_solver = { { stop_shape, stop_stand, NULL }, stop_property };
const SgKindSolver sg_screen_solver = { { screen_shape, screen_stand, NULL }, screen_property };
const SgKindSolver sg_eye_solver = { { NULL, eye_stand, NULL }, eye_property };
