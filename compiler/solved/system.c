/* Systems: elements taken together, and the magnifying power of an instrument. In: elements in order. Out: cardinal points.
   Magnifying power: tan of the angle the final image subtends at the eye over tan of the angle of the object seen bare
   (object at infinity: its own angle; near object: at the near distance). Climb is measured in the direction of travel, so a
   mirror does not flip the sign; negative means inverted. */
#include "solved/build.h"
#include <math.h>

typedef struct { const SgSurface *surface[8]; double sense[8]; uint32_t symbol[8], n; SgPoint travel; } Chain;

static bool chain_of(SgSolved *s, const SgPhrase *of, Chain *chain)
{
    chain->travel = s->light;
    for (uint32_t i = 0; i < of->n && i < 8; i++) {
        SgValue v = sg_eval_as(s, of->value[i], SG_TYPE_THING, SG_DIM_NUMBER, "of");
        if (v.state != SG_VALID) return false;
        SgKind kind = s->figure->scope->symbol[v.thing].kind;
        if (!sg_is_element(kind)) {
            sg_wrong(s, SG_MSG_type_wrong, of->value[i]->at, "`of` is followed by mirrors, lenses or boundaries, and this is %s", sg_kind_info(kind)->name_text);
            return false;
        }
        if (s->thing[v.thing].state == SG_POISON) return false;
        const SgSurface *f = &s->thing[v.thing].element.surface;
        if (chain->n && (v.thing == chain->symbol[chain->n - 1] || sg_pt_dot(sg_pt_sub(f->vertex, chain->surface[chain->n - 1]->vertex), chain->travel) < -1e-9)) {
            SgStr a = sg_name_of(s, v.thing), b = sg_name_of(s, chain->symbol[chain->n - 1]);
            sg_wrong(s, SG_MSG_order_of_light, of->value[i]->at, "light meets %.*s before %.*s; write them in that order", (int)a.n, a.s, (int)b.n, b.s);
            return false;
        }
        chain->symbol[chain->n] = v.thing;
        chain->surface[chain->n] = f;
        chain->sense[chain->n++] = sg_travel_sense(f, chain->travel);
        chain->travel = sg_travel_after(f, chain->travel);
    }
    return chain->n > 0;
}

static SgHomogeneous through(const Chain *c, SgHomogeneous p)
{
    for (uint32_t i = 0; i < c->n; i++) p = sg_image_point(c->surface[i], c->sense[i], p);
    return p;
}

/* Slope of the climb towards `up`, along the way light travels. */
static double climb(SgPoint direction, SgPoint travel) { return direction.y_mm / fabs(sg_pt_dot(direction, travel)); }

static double power_far(const Chain *c, SgPoint light, SgPoint eye, bool *ok)
{
    SgHomogeneous tip = through(c, (SgHomogeneous){ light.x_mm, -1e-3, 0 }), foot = through(c, (SgHomogeneous){ light.x_mm, 0, 0 });
    *ok = true;
    if (tip.w == 0) return climb(sg_pt(tip.x_mm, tip.y_mm), c->travel) / -1e-3;
    double away = sg_pt_dot(sg_pt_sub(eye, sg_pt(foot.x_mm, foot.y_mm)), c->travel);
    if (fabs(away) < 1e-9) { *ok = false; return 0; }
    /* light from the image to the eye goes down when the tip is up: the same sense as the object's own -1e-3 */
    return -(tip.y_mm - foot.y_mm) / away / -1e-3;
}

static double power_near(const Chain *c, const SgObject *o, SgPoint eye, double near_mm, bool *ok)
{
    SgHomogeneous tip = through(c, sg_homogeneous(o->tip)), foot = through(c, sg_homogeneous(o->foot));
    *ok = o->height_mm != 0;
    if (!*ok) return 0;
    if (tip.w == 0) return -climb(sg_pt(tip.x_mm, tip.y_mm), c->travel) * near_mm / o->height_mm;
    double away = sg_pt_dot(sg_pt_sub(eye, sg_pt(foot.x_mm, foot.y_mm)), c->travel);
    if (fabs(away) < 1e-9) { *ok = false; return 0; }
    return (tip.y_mm - foot.y_mm) / away * near_mm / o->height_mm;
}

/* false when what it looks at could not be solved */
static bool magnify(SgSolved *s, uint32_t symbol, const Chain *c, SgSystem *y)
{
    bool given, ok;
    SgValue eye = sg_read(s, symbol, SG_PHRASE_system_eye, &given);
    SgPoint at = given && eye.state == SG_VALID ? eye.point : c->surface[c->n - 1]->exit;
    SgValue near = sg_read(s, symbol, SG_PHRASE_system_near, &given);
    double near_mm = given && near.state == SG_VALID ? near.number : 250;
    const SgPhrase *viewing = sg_phrase(sg_statement_of(s, symbol), SG_PHRASE_system_viewing);
    SgValue of = viewing ? sg_eval_as(s, viewing->value[0], SG_TYPE_THING, SG_DIM_NUMBER, "viewing") : sg_value_poison();
    if (viewing && (of.state != SG_VALID || s->thing[of.thing].state == SG_POISON)) return false;
    const SgObject *o = of.state == SG_VALID && s->figure->scope->symbol[of.thing].kind == SG_KIND_object ? &s->thing[of.thing].object : NULL;
    if (viewing && of.state == SG_VALID && !o) sg_wrong(s, SG_MSG_type_wrong, viewing->value[0]->at, "`viewing` is followed by an object");
    y->magnifying_power = o && !o->far ? power_near(c, o, at, near_mm, &ok) : power_far(c, s->light, at, &ok);
    y->powerless = !ok;
    return true;
}

static void system_stand(SgSolved *s, uint32_t symbol)
{
    SgThing *t = &s->thing[symbol];
    Chain c = { .n = 0 };
    const SgPhrase *of = sg_phrase(sg_statement_of(s, symbol), SG_PHRASE_system_of);
    t->state = SG_POISON;
    if (!of || !chain_of(s, of, &c)) return;
    uint32_t last = c.n - 1;
    SgSystem *y = &t->system;
    y->matrix = sg_system(c.surface, c.sense, c.n);
    y->along_first = sg_pt_scale(c.surface[0]->along, c.sense[0]);
    y->along_last = c.travel;
    y->first = c.sense[0] > 0 ? c.surface[0]->vertex : c.surface[0]->exit;
    y->last = (c.sense[last] > 0) == (c.surface[last]->acts != SG_ACTS_REFLECT) ? c.surface[last]->exit : c.surface[last]->vertex;
    t->state = magnify(s, symbol, &c, y) ? SG_VALID : SG_POISON;
}

static SgValue system_property(SgSolved *s, uint32_t symbol, SgPropertyId id)
{
    const SgSystem *y = &s->thing[symbol].system;
    const SgSystemMatrix *m = &y->matrix;
    if (id == SG_PROPERTY_system_magnifying_power)
        return y->powerless ? sg_value_undefined("the image stands at the eye, or the object has no height") : sg_value_number(y->magnifying_power, SG_DIM_NUMBER);
    if (id == SG_PROPERTY_system_power) return sg_value_number(m->far == SG_AT_INFINITY ? 0 : m->power_per_mm, SG_DIM_POWER);
    if (m->far == SG_AT_INFINITY) {
        if (sg_property_info(id)->type == SG_TYPE_POINT) return sg_value_undefined("parallel light leaves this system parallel; it has no focal and principal points");
        return sg_value_infinite(SG_DIM_LENGTH);
    }
    switch ((int)id) {
    case SG_PROPERTY_system_focal:
        if (m->n_first != m->n_last) return sg_value_undefined("between two media a system has two focal lengths; ask for its power");
        return sg_value_number(m->n_last / m->power_per_mm, SG_DIM_LENGTH);
    case SG_PROPERTY_system_front_focal_distance: return sg_value_number(m->front_focal_mm, SG_DIM_LENGTH);
    case SG_PROPERTY_system_back_focal_distance: return sg_value_number(m->back_focal_mm, SG_DIM_LENGTH);
    case SG_PROPERTY_system_front_focus: return sg_value_point(sg_pt_along(y->first, y->along_first, -m->front_focal_mm));
    case SG_PROPERTY_system_back_focus: return sg_value_point(sg_pt_along(y->last, y->along_last, m->back_focal_mm));
    case SG_PROPERTY_system_front_principal: return sg_value_point(sg_pt_along(y->first, y->along_first, m->front_principal_mm));
    default: return sg_value_point(sg_pt_along(y->last, y->along_last, m->back_principal_mm));
    }
}
const SgKindSolver sg_system_solver = { { NULL, system_stand, NULL }, system_property };
