/* Objects, images and points. In: phrases, elements already solved. Out: where they stand.
   An image's distance is signed along the light that leaves: positive real, negative virtual; its magnification is 1/(1 - P u). */
#include "solved/build.h"
#include <math.h>

static void object_shape(SgSolved *s, uint32_t symbol)
{
    bool given;
    SgValue v = sg_read(s, symbol, SG_PHRASE_object_height, &given);
    SgThing *t = &s->thing[symbol];
    t->state = given && v.state == SG_VALID ? SG_VALID : SG_POISON;
    t->object.height_mm = v.number;
    if (t->state == SG_VALID && fabs(v.number) > 1e12) {
        sg_wrong(s, SG_MSG_out_of_range, sg_phrase(sg_statement_of(s, symbol), SG_PHRASE_object_height)->at, "lengths lie between 1e-9 mm and 1e12 mm");
        t->state = SG_POISON;
    }
}

static void object_stand(SgSolved *s, uint32_t symbol)
{
    bool given;
    SgValue at = sg_read(s, symbol, SG_PHRASE_object_at, &given);
    SgThing *t = &s->thing[symbol];
    if (!given || at.state != SG_VALID) { t->state = SG_POISON; return; }
    t->object.foot = at.point;
    t->object.tip = sg_pt(at.point.x_mm, at.point.y_mm + t->object.height_mm);
}

static SgValue object_property(SgSolved *s, uint32_t symbol, SgPropertyId id)
{
    const SgObject *o = &s->thing[symbol].object;
    if (id == SG_PROPERTY_object_tip) return sg_value_point(o->tip);
    if (id == SG_PROPERTY_object_foot) return sg_value_point(o->foot);
    return sg_value_number(id == SG_PROPERTY_object_size ? fabs(o->height_mm) : o->height_mm, SG_DIM_LENGTH);
}

/* ---- image ---- */

static bool thing_of(SgSolved *s, const SgExpr *e, const char *whose, uint32_t *symbol)
{
    SgValue v = sg_eval_as(s, e, SG_TYPE_THING, SG_DIM_NUMBER, whose);
    if (v.state != SG_VALID) return false;
    *symbol = v.thing;
    return true;
}

static bool behind(SgSolved *s, uint32_t of, uint32_t by, double u_mm)
{
    if (u_mm >= -1e-9) return false;
    SgStr o = sg_name_of(s, of), m = sg_name_of(s, by), d = sg_show_length(s, -u_mm);
    bool mirror = s->figure->scope->symbol[by].kind == SG_KIND_mirror;
    const SgStatement *st = sg_statement_of(s, of);
    const SgPhrase *at = sg_phrase(st, SG_PHRASE_object_at);
    sg_wrong(s, SG_MSG_object_behind, at ? at->at : st->head_at, "%.*s is %.*s %s %.*s: no light from it reaches the front. Light travels left to right here; did you mean `before`?",
             (int)o.n, o.s, (int)d.n, d.s, mirror ? "behind" : "beyond", (int)m.n, m.s);
    return true;
}

static void put_image(SgImage *im, const SgSurface *surface, SgPoint foot, SgPoint tip, double before)
{
    im->last = sg_conjugate(surface, foot);
    SgHomogeneous t = sg_image_point(surface, tip), f = sg_image_point(surface, foot);
    if (im->last.far == SG_AT_INFINITY) { im->direction = sg_pt(t.x_mm, t.y_mm); return; }
    im->foot = sg_pt(f.x_mm, f.y_mm);
    im->tip = sg_pt(t.x_mm, t.y_mm);
    im->height_mm = im->tip.y_mm - im->foot.y_mm;
    im->total_magnification = before * im->last.magnification;
    im->upright = im->total_magnification > 0;
}

static void image_light(SgSolved *s, uint32_t symbol)
{
    SgThing *t = &s->thing[symbol];
    SgImage *im = &t->image;
    const SgStatement *st = sg_statement_of(s, symbol);
    const SgPhrase *of = sg_phrase(st, SG_PHRASE_image_of), *by = sg_phrase(st, SG_PHRASE_image_by);
    uint32_t element;
    t->state = SG_POISON;
    if (!of || !by || !of->n || !by->n || !thing_of(s, of->value[0], "of", &im->of) || !thing_of(s, by->value[0], "by", &element)) return;
    SgKind kind = s->figure->scope->symbol[im->of].kind;
    if (kind != SG_KIND_object && kind != SG_KIND_image) {
        sg_wrong(s, SG_MSG_type_wrong, of->value[0]->at, "`of` is followed by an object or an image, and this is %s", sg_kind_info(kind)->name_text);
        return;
    }
    if (!sg_is_element(s->figure->scope->symbol[element].kind)) {
        sg_wrong(s, SG_MSG_type_wrong, by->value[0]->at, "`by` is followed by a mirror or a lens, and this is %s", sg_kind_info(s->figure->scope->symbol[element].kind)->name_text);
        return;
    }
    uint32_t *list = SG_NEW(s->c->arena, uint32_t);
    *list = element;
    im->by = list;
    im->nby = 1;
    if (s->thing[im->of].state == SG_POISON || s->thing[element].state == SG_POISON) return;
    const SgSurface *surface = &s->thing[element].element.surface;
    const SgObject *o = &s->thing[im->of].object;
    const SgImage *first = &s->thing[im->of].image;
    if (kind == SG_KIND_image && first->last.far == SG_AT_INFINITY) {
        sg_wrong(s, SG_MSG_value_at_infinity, of->value[0]->at, "this image is at infinity; an image of it is not worked out yet");
        return;
    }
    SgPoint foot = kind == SG_KIND_object ? o->foot : first->foot, tip = kind == SG_KIND_object ? o->tip : first->tip;
    put_image(im, surface, foot, tip, kind == SG_KIND_object ? 1 : first->total_magnification);
    if (kind == SG_KIND_object && behind(s, im->of, element, im->last.object_distance_mm)) return;
    t->state = SG_VALID;
}

SgStr sg_image_nature(SgSolved *s, const SgImage *im)
{
    if (im->last.far == SG_AT_INFINITY) return SG_LIT("at infinity");
    double m = fabs(im->total_magnification);
    const char *size = fabs(m - 1) <= 1e-6 ? "the same size" : m > 1 ? "enlarged" : "reduced";
    return sg_format(s->c->arena, "%s, %s, %s", im->last.real ? "real" : "virtual", im->upright ? "upright" : "inverted", size);
}

static SgValue image_property(SgSolved *s, uint32_t symbol, SgPropertyId id)
{
    const SgImage *im = &s->thing[symbol].image;
    bool far = im->last.far == SG_AT_INFINITY;
    if (id == SG_PROPERTY_image_nature) return sg_value_text(sg_image_nature(s, im));
    if (far) {
        if (id == SG_PROPERTY_image_real || id == SG_PROPERTY_image_upright || id == SG_PROPERTY_image_tip || id == SG_PROPERTY_image_foot)
            return sg_value_undefined("the image is at infinity");
        bool number = id == SG_PROPERTY_image_magnification || id == SG_PROPERTY_image_total_magnification;
        return sg_value_infinite(number ? SG_DIM_NUMBER : SG_DIM_LENGTH);
    }
    if (id == SG_PROPERTY_image_tip) return sg_value_point(im->tip);
    if (id == SG_PROPERTY_image_foot) return sg_value_point(im->foot);
    if (id == SG_PROPERTY_image_height) return sg_value_number(im->height_mm, SG_DIM_LENGTH);
    if (id == SG_PROPERTY_image_size) return sg_value_number(fabs(im->height_mm), SG_DIM_LENGTH);
    if (id == SG_PROPERTY_image_distance) return sg_value_number(im->last.distance_mm, SG_DIM_LENGTH);
    if (id == SG_PROPERTY_image_magnification) return sg_value_number(im->last.magnification, SG_DIM_NUMBER);
    if (id == SG_PROPERTY_image_total_magnification) return sg_value_number(im->total_magnification, SG_DIM_NUMBER);
    return sg_value_truth(id == SG_PROPERTY_image_real ? im->last.real : im->upright);
}

/* ---- point ---- */

static void point_stand(SgSolved *s, uint32_t symbol)
{
    bool given;
    SgValue at = sg_read(s, symbol, SG_PHRASE_point_at, &given);
    s->thing[symbol].state = given && at.state == SG_VALID ? SG_VALID : SG_POISON;
    s->thing[symbol].place = at.point;
}
static SgValue point_property(SgSolved *s, uint32_t symbol, SgPropertyId id)
{
    SgPoint p = s->thing[symbol].place;
    return sg_value_number(id == SG_PROPERTY_point_x ? p.x_mm : p.y_mm, SG_DIM_LENGTH);
}

const SgKindSolver sg_object_solver = { { object_shape, object_stand, NULL }, object_property };
const SgKindSolver sg_image_solver = { { NULL, NULL, image_light }, image_property };
const SgKindSolver sg_point_solver = { { NULL, point_stand, NULL }, point_property };
