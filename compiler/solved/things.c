/* Objects, images and points. In: phrases, elements already solved. Out: where they stand.
   An image's distance is signed along the light that leaves: positive real, negative virtual; its magnification is 1/(1 - P u). */
#include "solved/build.h"
#include <math.h>

static const SgPhrase *object_phrase(SgSolved *s, uint32_t symbol, SgPhraseId id) { return sg_phrase(sg_statement_of(s, symbol), id); }

static bool object_form(SgSolved *s, uint32_t symbol, SgShape *shape)
{
    static const char word[SG_SHAPE_COUNT][8] = { "arrow", "candle", "bulb", "tree", "person", "bottle", "key", "fish", "flower", "letter" };
    const SgPhrase *p = object_phrase(s, symbol, SG_PHRASE_object_shape);
    if (!p || !p->n) return true;
    for (int i = 0; i < SG_SHAPE_COUNT; i++)
        if (sg_word_is(s, p->value[0], word[i])) { *shape = (SgShape)i; return true; }
    sg_wrong(s, SG_MSG_word_value, p->value[0]->at, "`shape` takes one of the words arrow, candle, bulb, tree, person, bottle, key, fish, flower, letter");
    return false;
}

static void object_shape(SgSolved *s, uint32_t symbol)
{
    bool given;
    SgValue v = sg_read(s, symbol, SG_PHRASE_object_height, &given);
    SgThing *t = &s->thing[symbol];
    t->state = !given || v.state == SG_VALID ? SG_VALID : SG_POISON;
    t->object.height_mm = given ? v.number : 0;
    if (!object_form(s, symbol, &t->object.shape)) t->state = SG_POISON;
    if (t->state == SG_VALID && given && fabs(v.number) > 1e12) {
        sg_wrong(s, SG_MSG_out_of_range, object_phrase(s, symbol, SG_PHRASE_object_height)->at, "lengths lie between 1e-9 mm and 1e12 mm");
        t->state = SG_POISON;
    }
}

/* At infinity it has a direction, and no height; at a place the other way round. */
static bool near_or_far(SgSolved *s, uint32_t symbol, bool far)
{
    const SgStatement *st = sg_statement_of(s, symbol);
    const SgPhrase *height = object_phrase(s, symbol, SG_PHRASE_object_height), *angle = object_phrase(s, symbol, SG_PHRASE_object_angle);
    if (far && height) sg_wrong(s, SG_MSG_object_near_and_far, height->at, "an object at infinity has no height; write the direction of its tip, such as `angle 2 deg`");
    else if (!far && angle) sg_wrong(s, SG_MSG_object_near_and_far, angle->at, "`angle` is for an object at infinity; write `at infinity`, or a height in its place");
    else if (!far && !height) {
        if (!st->damaged) sg_wrong(s, SG_MSG_phrase_missing, st->head_at, "an object needs `height`: how tall it is; below the axis when negative");
    } else return true;
    return false;
}

static void object_stand(SgSolved *s, uint32_t symbol)
{
    SgThing *t = &s->thing[symbol];
    const SgPhrase *at = object_phrase(s, symbol, SG_PHRASE_object_at);
    bool given;
    if (t->state == SG_POISON) return;
    t->state = SG_POISON;
    if (!at || !at->n) return;
    SgValue place = sg_eval(s, at->value[0]);
    if (place.state == SG_POISON) return;
    t->object.far = place.state == SG_INFINITE;
    t->object.is_virtual = object_phrase(s, symbol, SG_PHRASE_object_virtual) != NULL;
    if (!near_or_far(s, symbol, t->object.far)) return;
    if (t->object.far) {
        SgValue angle = sg_read(s, symbol, SG_PHRASE_object_angle, &given);
        if (given && angle.state != SG_VALID) return;
        if (given && fabs(angle.number) >= 90) {
            sg_wrong(s, SG_MSG_out_of_range, object_phrase(s, symbol, SG_PHRASE_object_angle)->at, "the tip stands less than 90 deg from the axis");
            return;
        }
        t->object.angle_deg = given ? angle.number : 0;
        t->state = SG_VALID;
        return;
    }
    place = sg_eval_as(s, at->value[0], SG_TYPE_PLACE, SG_DIM_LENGTH, "at");
    if (place.state != SG_VALID) return;
    t->object.foot = place.point;
    t->object.tip = sg_pt(place.point.x_mm, place.point.y_mm + t->object.height_mm);
    t->state = SG_VALID;
}

static SgValue object_property(SgSolved *s, uint32_t symbol, SgPropertyId id)
{
    const SgObject *o = &s->thing[symbol].object;
    if (o->far) return sg_value_undefined("the object is at infinity; it has a direction and no place");
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

/* The end of a message about two places on the axis: "(x 4 cm)". */
static SgStr place_text(SgSolved *s, uint32_t element)
{
    SgStr x = sg_show_length(s, s->thing[element].element.surface.vertex.x_mm), n = sg_name_of(s, element);
    return sg_format(s->c->arena, "%.*s (x %.*s)", (int)n.n, n.s, (int)x.n, x.s);
}

static bool object_behind(SgSolved *s, uint32_t of, uint32_t by, double u_mm)
{
    SgStr o = sg_name_of(s, of), m = sg_name_of(s, by), d = sg_show_length(s, -u_mm);
    bool mirror = s->figure->scope->symbol[by].kind == SG_KIND_mirror;
    const SgStatement *st = sg_statement_of(s, of);
    const SgPhrase *at = sg_phrase(st, SG_PHRASE_object_at);
    sg_wrong(s, SG_MSG_object_behind, at ? at->at : st->head_at, "%.*s is %.*s %s %.*s: no light from it reaches the front. Light travels %s here; did you mean `before`? (or say the object is `virtual`)",
             (int)o.n, o.s, (int)d.n, d.s, mirror ? "behind" : "beyond", (int)m.n, m.s, s->light.x_mm > 0 ? "left to right" : "right to left");
    return false;
}

/* Element `next` must lie ahead of where the light is: after element `last`, or before the object's own. */
static bool in_order(SgSolved *s, const SgImage *im, uint32_t last, uint32_t next, SgSpan at)
{
    const SgSurface *a = &s->thing[last].element.surface, *b = &s->thing[next].element.surface;
    if (last == next || sg_pt_dot(sg_pt_sub(b->vertex, a->vertex), im->travel) > -1e-9) return true;
    SgStr first = place_text(s, next), second = place_text(s, last);
    sg_wrong(s, SG_MSG_order_of_light, at, "light meets %.*s before %.*s; write them in that order", (int)first.n, first.s, (int)second.n, second.s);
    return false;
}

static bool mirror_from_behind(SgSolved *s, uint32_t element, double sense, SgSpan at)
{
    if (s->thing[element].element.surface.acts != SG_ACTS_REFLECT || sense > 0) return false;
    SgStr m = sg_name_of(s, element);
    sg_wrong(s, SG_MSG_ray_behind, at, "light comes to %.*s from behind, and the back of a mirror reflects nothing; turn it with `facing`", (int)m.n, m.s);
    return true;
}

/* One element more: its conjugate, the new image, the way light goes on. */
static void pass_on(SgImage *im, const SgSurface *surface, double sense)
{
    im->last = sg_conjugate(surface, sense, im->foot_far);
    im->tip_far = sg_image_point(surface, sense, im->tip_far);
    im->foot_far = sg_image_point(surface, sense, im->foot_far);
    im->travel = sg_travel_after(surface, im->travel);
    if (im->last.object_far == SG_AT_INFINITY || im->last.far == SG_AT_INFINITY) im->unmagnified = true;
    else im->magnification *= im->last.magnification;
}

/* Whether an element of the figure stands between the last one and its real image. */
static bool stands_in_the_way(const SgSolved *s, const SgImage *im)
{
    const SgSurface *last = &s->thing[im->by[im->nby - 1]].element.surface;
    for (uint32_t i = 0; im->last.real && i < s->figure->scope->nsymbols; i++) {
        if (!sg_is_element(s->figure->scope->symbol[i].kind) || s->thing[i].state != SG_VALID || i == im->by[im->nby - 1]) continue;
        double d = sg_pt_dot(sg_pt_sub(s->thing[i].element.surface.vertex, last->exit), im->travel);
        if (d > 1e-6 && d < im->last.distance_mm - 1e-6) return true;
    }
    return false;
}

static bool start_of_image(SgSolved *s, SgImage *im, const SgPhrase *of)
{
    if (!thing_of(s, of->value[0], "of", &im->of)) return false;
    SgKind kind = s->figure->scope->symbol[im->of].kind;
    if (kind != SG_KIND_object && kind != SG_KIND_image) {
        sg_wrong(s, SG_MSG_type_wrong, of->value[0]->at, "`of` is followed by an object or an image, and this is %s", sg_kind_info(kind)->name_text);
        return false;
    }
    if (s->thing[im->of].state == SG_POISON) return false;
    const SgImage *first = &s->thing[im->of].image;
    const SgObject *o = &s->thing[im->of].object;
    im->magnification = 1;
    im->travel = s->light;
    if (kind == SG_KIND_object) {
        double sine, cosine;
        sg_sincos_deg(o->angle_deg, &sine, &cosine);
        im->foot_far = o->far ? (SgHomogeneous){ s->light.x_mm, 0, 0 } : sg_homogeneous(o->foot);
        im->tip_far = o->far ? (SgHomogeneous){ s->light.x_mm * cosine, -sine, 0 } : sg_homogeneous(o->tip);
        im->total_magnification = 1;
        return true;
    }
    im->foot_far = first->foot_far;
    im->tip_far = first->tip_far;
    im->travel = first->travel;
    im->total_magnification = first->total_magnification;
    im->unmagnified = first->unmagnified;
    return true;
}

static bool follow(SgSolved *s, SgImage *im, const SgPhrase *by)
{
    uint32_t *list = SG_ARRAY(s->c->arena, uint32_t, by->n);
    bool of_object = s->figure->scope->symbol[im->of].kind == SG_KIND_object;
    const SgImage *first = &s->thing[im->of].image;
    im->by = list;
    for (uint32_t i = 0; i < by->n; i++) {
        uint32_t element;
        SgSpan at = by->value[i]->at;
        if (!thing_of(s, by->value[i], "by", &element)) return false;
        SgKind kind = s->figure->scope->symbol[element].kind;
        if (!sg_is_element(kind)) {
            sg_wrong(s, SG_MSG_type_wrong, at, "`by` is followed by a mirror, lens or boundary, and this is %s", sg_kind_info(kind)->name_text);
            return false;
        }
        if (s->thing[element].state == SG_POISON) return false;
        if (i > 0 ? !in_order(s, im, list[i - 1], element, at) : !of_object && !in_order(s, im, first->by[first->nby - 1], element, at)) return false;
        list[im->nby++] = element;
        const SgSurface *surface = &s->thing[element].element.surface;
        double sense = sg_travel_sense(surface, im->travel);
        if (mirror_from_behind(s, element, sense, at)) return false;
        pass_on(im, surface, sense);
        if (i == 0 && of_object && !s->thing[im->of].object.is_virtual && im->last.object_far == SG_FINITE && im->last.object_distance_mm < -1e-9) return object_behind(s, im->of, element, im->last.object_distance_mm);
    }
    return true;
}

static void image_light(SgSolved *s, uint32_t symbol)
{
    SgThing *t = &s->thing[symbol];
    SgImage *im = &t->image;
    const SgStatement *st = sg_statement_of(s, symbol);
    bool written_out = st->kind == SG_KIND_construct;
    const SgPhrase *of = sg_phrase(st, written_out ? SG_PHRASE_construct_of : SG_PHRASE_image_of);
    const SgPhrase *by = sg_phrase(st, written_out ? SG_PHRASE_construct_by : SG_PHRASE_image_by);
    t->state = SG_POISON;
    if (!of || !by || !of->n || !by->n || !start_of_image(s, im, of) || !follow(s, im, by)) return;
    t->state = SG_VALID;
    if (im->last.far == SG_AT_INFINITY) return;
    im->foot = sg_pt(im->foot_far.x_mm, im->foot_far.y_mm);
    im->tip = sg_pt(im->tip_far.x_mm, im->tip_far.y_mm);
    im->height_mm = im->tip.y_mm - im->foot.y_mm;
    im->total_magnification *= im->magnification;
    im->upright = im->total_magnification > 0;
    im->would_be = stands_in_the_way(s, im);
    if (s->by_rule) sg_spread_of_image(s, im);
    if (!sg_mistake_image(s, symbol, im)) t->state = SG_POISON;
}

SgStr sg_image_nature(SgSolved *s, const SgImage *im)
{
    static const SgTextId nature[2][2][3] = {
        { { SG_TEXT_nature_virtual_inverted_enlarged, SG_TEXT_nature_virtual_inverted_reduced, SG_TEXT_nature_virtual_inverted_same },
          { SG_TEXT_nature_virtual_upright_enlarged, SG_TEXT_nature_virtual_upright_reduced, SG_TEXT_nature_virtual_upright_same } },
        { { SG_TEXT_nature_real_inverted_enlarged, SG_TEXT_nature_real_inverted_reduced, SG_TEXT_nature_real_inverted_same },
          { SG_TEXT_nature_real_upright_enlarged, SG_TEXT_nature_real_upright_reduced, SG_TEXT_nature_real_upright_same } } };
    const SgStr *text = s->wording->text;
    if (im->last.far == SG_AT_INFINITY) return text[SG_TEXT_at_infinity];
    if (im->unmagnified || fabs(im->height_mm) < 1e-9) return text[im->last.real ? SG_TEXT_nature_real : SG_TEXT_nature_virtual];   /* a point has no way up */
    double m = fabs(im->total_magnification);
    return text[nature[im->last.real][im->upright][fabs(m - 1) <= 1e-6 ? 2 : m > 1 ? 0 : 1]];
}

static SgValue image_property(SgSolved *s, uint32_t symbol, SgPropertyId id)
{
    const SgImage *im = &s->thing[symbol].image;
    bool far = im->last.far == SG_AT_INFINITY;
    if (id == SG_PROPERTY_image_nature) return sg_value_text(sg_image_nature(s, im));
    if (far) {
        if (id == SG_PROPERTY_image_real || id == SG_PROPERTY_image_upright || id == SG_PROPERTY_image_tip || id == SG_PROPERTY_image_foot)
            return sg_value_undefined("the image is at infinity; move the object off the focal point");
        bool number = id == SG_PROPERTY_image_magnification || id == SG_PROPERTY_image_total_magnification;
        return sg_value_infinite(number ? SG_DIM_NUMBER : SG_DIM_LENGTH);
    }
    if (id == SG_PROPERTY_image_tip) return sg_value_point(im->tip);
    if (id == SG_PROPERTY_image_foot) return sg_value_point(im->foot);
    if (id == SG_PROPERTY_image_height) return sg_value_number(im->height_mm, SG_DIM_LENGTH);
    if (id == SG_PROPERTY_image_size) return sg_value_number(fabs(im->height_mm), SG_DIM_LENGTH);
    if (id == SG_PROPERTY_image_distance) return sg_value_number(im->last.distance_mm, SG_DIM_LENGTH);
    if (id == SG_PROPERTY_image_spread) return sg_value_number(im->spread_mm, SG_DIM_LENGTH);
    if (id == SG_PROPERTY_image_shift) return sg_value_number(im->shift_mm, SG_DIM_LENGTH);
    bool compares = id == SG_PROPERTY_image_magnification || id == SG_PROPERTY_image_total_magnification || id == SG_PROPERTY_image_upright;
    if (im->unmagnified && compares) return sg_value_undefined("light from infinity, or parallel on its way, has no height to compare with");
    if (id == SG_PROPERTY_image_magnification) return sg_value_number(im->magnification, SG_DIM_NUMBER);
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
