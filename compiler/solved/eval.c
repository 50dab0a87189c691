/* Evaluation of expressions against the things of a figure. In: a resolved expression. Out: a value, or poison after a message.
   Everything a node needs stands before it in the scope's order, so nothing here recurses through definitions. */
#include "solved/value.h"
#include <stdarg.h>
#include <stdio.h>

static const SgValue no_value = { .state = SG_POISON, .unit = SG_UNIT_COUNT };

SgValue sg_wrong(SgSolved *s, SgCode code, SgSpan at, const char *fmt, ...)
{
    char text[700];
    va_list ap;
    va_start(ap, fmt);
    int n = vsnprintf(text, sizeof text, fmt, ap);
    va_end(ap);
    sg_say(s->c, code, at, "%s", n < 0 ? "" : text);
    s->broken = true;
    return no_value;
}

static SgValue symbol_value(SgSolved *s, const SgExpr *e)
{
    const SgScope *scope = e->in_file ? &s->model->file : s->figure->scope;
    SgThing *thing = e->in_file ? &s->file_thing[e->symbol] : &s->thing[e->symbol];
    if (sg_is_value_kind(scope->symbol[e->symbol].kind)) return thing->state == SG_POISON ? no_value : thing->value;
    SgValue v = { .type = SG_TYPE_THING, .thing = e->symbol, .unit = SG_UNIT_COUNT };
    return v;
}

bool sg_default_point(const SgSolved *s, uint32_t symbol, bool foot, SgPoint *p)
{
    const SgThing *t = &s->thing[symbol];
    SgKind kind = s->figure->scope->symbol[symbol].kind;
    if (kind == SG_KIND_lens) *p = sg_pt_mid(t->element.face_front, t->element.face_back);
    else if (sg_meets_light(kind)) *p = t->element.surface.vertex;
    else if (kind == SG_KIND_object) *p = foot ? t->object.foot : t->object.tip;
    else if (kind == SG_KIND_image) *p = foot ? t->image.foot : t->image.tip;
    else if (kind == SG_KIND_point || kind == SG_KIND_eye) *p = t->place;
    else return false;
    return true;
}

bool sg_is_element(SgKind kind) { return kind == SG_KIND_mirror || kind == SG_KIND_lens || kind == SG_KIND_boundary; }
bool sg_meets_light(SgKind kind) { return sg_is_element(kind) || kind == SG_KIND_stop || kind == SG_KIND_screen; }
double sg_travel_sense(const SgSurface *f, SgPoint travel) { return sg_pt_dot(travel, f->along) > 0 ? 1 : -1; }

static SgValue property_of_value(SgSolved *s, const SgExpr *e, SgValue of)
{
    SgStr word = sg_names_str(&s->c->names, e->sym);
    if (of.state != SG_VALID) return of;
    if (of.type == SG_TYPE_POINT && (sg_str_is(word, "x") || sg_str_is(word, "y")))
        return sg_value_number(sg_str_is(word, "x") ? of.point.x_mm : of.point.y_mm, SG_DIM_LENGTH);
    if (of.type != SG_TYPE_THING)
        return sg_wrong(s, SG_MSG_property_unknown, e->sym_at, "%s has no `.%.*s`%s", sg_value_kind(s, of), (int)word.n, word.s,
                        of.type == SG_TYPE_POINT ? "; a point has .x and .y" : "");
    SgKind kind = s->figure->scope->symbol[of.thing].kind;
    SgPropertyId id = sg_property_of(kind, word);
    if (id == SG_PROPERTY_COUNT)
        return sg_wrong(s, SG_MSG_property_unknown, e->sym_at, "%s has no `.%.*s`", sg_kind_info(kind)->name_text, (int)word.n, word.s);
    return sg_property(s, of.thing, id, e->at);
}

static SgValue place_by(SgSolved *s, const SgExpr *e)
{
    SgValue d = sg_eval(s, e->arg[0]), of = sg_eval(s, e->arg[1]);
    const char *word = e->sign == 'b' ? "before" : "beyond";
    if (d.state == SG_POISON || of.state == SG_POISON) return no_value;
    if (of.type != SG_TYPE_THING || !sg_meets_light(s->figure->scope->symbol[of.thing].kind)) {
        SgStr told = sg_value_told(s, of);
        return sg_wrong(s, SG_MSG_type_wrong, e->arg[1]->at, "`%s` is followed by a mirror, lens, boundary, stop or screen, and this is %.*s", word, (int)told.n, told.s);
    }
    d = sg_eval_as(s, e->arg[0], SG_TYPE_NUMBER, SG_DIM_LENGTH, word);
    if (d.state != SG_VALID) return d;
    if (s->thing[of.thing].state == SG_POISON) return no_value;
    const SgElement *element = &s->thing[of.thing].element;
    SgPoint from = element->surface.vertex;
    if (element->thick) from = e->sign == 'b' ? element->face_front : element->face_back;
    return sg_value_point(sg_pt_along(from, element->surface.along, e->sign == 'b' ? -d.number : d.number));
}

static SgValue point_of(SgSolved *s, const SgExpr *e)
{
    SgValue x = sg_eval_as(s, e->arg[0], SG_TYPE_NUMBER, SG_DIM_LENGTH, "a point's x");
    SgValue y = sg_eval_as(s, e->arg[1], SG_TYPE_NUMBER, SG_DIM_LENGTH, "a point's y");
    if (x.state != SG_VALID) return x;
    if (y.state != SG_VALID) return y;
    return sg_value_point(sg_pt(x.number, y.number));
}

static SgValue chain(SgSolved *s, const SgExpr *e)
{
    SgValue all = sg_value_truth(true), a = sg_eval(s, e->arg[0]);
    for (uint32_t i = 1; i < e->nargs; i++) {
        SgValue b = sg_eval(s, e->arg[i]);
        all = sg_value_binary(s, e->at, 'a', all, sg_value_compare(s, e->at, (char)e->relation[i], a, b));
        a = b;
    }
    return all;
}

SgValue sg_eval(SgSolved *s, const SgExpr *e)
{
    SgValue v;
    s->c->work++;
    switch (e->op) {
    case SG_E_NUMBER:
        v = sg_value_number(e->value, e->dim);
        v.nought = e->nought;
        v.unit = e->unit;
        return v;
    case SG_E_TEXT: return sg_value_text(sg_eval_text(s, e));
    case SG_E_SYMBOL: return symbol_value(s, e);
    case SG_E_AXIS:
        v = (SgValue){ .type = SG_TYPE_LINE, .unit = SG_UNIT_COUNT };
        v.line = (SgLineValue){ sg_pt(0, 0), sg_pt(1, 0), 0 };
        return v;
    case SG_E_INFINITY: return sg_value_infinite(SG_DIM_NUMBER);
    case SG_E_VERSION: return sg_value_text(sg_format(s->c->arena, "%c", (char)('A' + s->set.version)));
    case SG_E_PI: return sg_value_number(3.14159265358979323846, SG_DIM_NUMBER);
    case SG_E_PROPERTY: return property_of_value(s, e, sg_eval(s, e->arg[0]));
    case SG_E_CALL: return sg_value_function(s, e);
    case SG_E_POINT: return point_of(s, e);
    case SG_E_BINARY: return sg_value_binary(s, e->at, (char)e->sign, sg_eval(s, e->arg[0]), sg_eval(s, e->arg[1]));
    case SG_E_NEGATE: return sg_value_negate(s, e->at, sg_eval(s, e->arg[0]));
    case SG_E_NOT: return sg_value_not(s, e->at, sg_eval(s, e->arg[0]));
    case SG_E_CHAIN: return chain(s, e);
    case SG_E_PLACE: return place_by(s, e);
    case SG_E_RATIO: return sg_wrong(s, SG_MSG_type_wrong, e->at, "a ratio a:b stands only after `scale`");
    case SG_E_WORD: case SG_E_POISON: break;
    }
    return no_value;
}

/* "focal needs a length: 2.5 what? Write 2.5 cm." */
static SgValue wants(SgSolved *s, const SgExpr *e, SgValue v, SgType want, SgDim dim, const char *whose)
{
    const char *need = want == SG_TYPE_NUMBER ? sg_dim_name(dim) : want == SG_TYPE_LINE ? "a line, such as axis or a ray's .in or .out"
                     : want == SG_TYPE_TEXT ? "a text in quotes" : want == SG_TYPE_THING ? "the name of a thing"
                     : want == SG_TYPE_PLACE ? "a place: a length along the axis, or a point (x, y)" : "a point, such as candle.tip or (x, y)";
    if (want == SG_TYPE_NUMBER && v.type == SG_TYPE_NUMBER && sg_same_dim(v.dim, SG_DIM_NUMBER) && v.state == SG_VALID) {
        SgStr shown = sg_show(s, v, SG_UNIT_COUNT, -1);
        const char *unit = sg_same_dim(dim, SG_DIM_LENGTH) ? " cm" : sg_same_dim(dim, SG_DIM_ANGLE) ? " deg" : " D";
        return sg_wrong(s, SG_MSG_unit_missing, e->at, "%s needs %s: %.*s what? Write %.*s%s", whose, need, (int)shown.n, shown.s, (int)shown.n, shown.s, unit);
    }
    if (want == SG_TYPE_LINE && v.type == SG_TYPE_THING && s->figure->scope->symbol[v.thing].kind == SG_KIND_ray) {
        SgStr name = sg_name_of(s, v.thing);
        return sg_wrong(s, SG_MSG_type_wrong, e->at, "%s needs a line; write %.*s.in for the arriving ray or %.*s.out for the leaving one", whose, (int)name.n, name.s, (int)name.n, name.s);
    }
    SgStr told = sg_value_told(s, v);
    return sg_wrong(s, SG_MSG_type_wrong, e->at, "%s needs %s, and this is %.*s", whose, need, (int)told.n, told.s);
}

static SgValue unusable(SgSolved *s, const SgExpr *e, SgValue v, const char *whose)
{
    if (v.state == SG_POISON) return v;
    if (v.state == SG_INFINITE) return sg_wrong(s, SG_MSG_value_at_infinity, e->at, "%s needs a finite value, and this is at infinity", whose);
    return sg_wrong(s, SG_MSG_value_undefined, e->at, "this has no value: %s", v.why);
}

static bool is_line_mark(SgKind kind) { return kind == SG_KIND_line || kind == SG_KIND_normal; }

static SgValue line_mark(SgSolved *s, uint32_t symbol)
{
    SgValue v = { .type = SG_TYPE_LINE, .unit = SG_UNIT_COUNT };
    return sg_mark_line(s, symbol, &v.line) ? v : no_value;
}

SgValue sg_eval_as(SgSolved *s, const SgExpr *e, SgType want, SgDim dim, const char *whose)
{
    SgValue v = sg_eval(s, e);
    SgPoint p;
    if (v.state != SG_VALID) return unusable(s, e, v, whose);
    switch (want) {
    case SG_TYPE_NUMBER:
        if (v.type != SG_TYPE_NUMBER || (!sg_same_dim(v.dim, dim) && !v.nought)) return wants(s, e, v, want, dim, whose);
        v.dim = dim;
        return v;
    case SG_TYPE_PLACE:
    case SG_TYPE_POINT:
        if (want == SG_TYPE_PLACE && v.type == SG_TYPE_NUMBER && (sg_same_dim(v.dim, SG_DIM_LENGTH) || v.nought)) return sg_value_point(sg_pt(v.number, 0));
        if (v.type == SG_TYPE_NUMBER && want == SG_TYPE_PLACE && sg_same_dim(v.dim, SG_DIM_NUMBER)) return wants(s, e, v, SG_TYPE_NUMBER, SG_DIM_LENGTH, whose);
        if (v.type == SG_TYPE_THING && sg_default_point(s, v.thing, want == SG_TYPE_PLACE, &p)) {
            if (s->thing[v.thing].state == SG_POISON) return no_value;
            if (s->figure->scope->symbol[v.thing].kind == SG_KIND_image && s->thing[v.thing].image.last.far == SG_AT_INFINITY)
                return sg_wrong(s, SG_MSG_value_at_infinity, e->at, "%s needs a point, and this image is at infinity", whose);
            return sg_value_point(p);
        }
        break;
    case SG_TYPE_LINE:
        if (v.type == SG_TYPE_THING && is_line_mark(s->figure->scope->symbol[v.thing].kind)) return line_mark(s, v.thing);
        break;
    case SG_TYPE_NONE: case SG_TYPE_TRUTH: case SG_TYPE_TEXT: case SG_TYPE_THING: case SG_TYPE_WORD: case SG_TYPE_COLOUR:
    case SG_TYPE_MEDIUM: case SG_TYPE_ANY: break;
    }
    SgType stored = want == SG_TYPE_PLACE ? SG_TYPE_POINT : want;
    return v.type == stored || want == SG_TYPE_ANY ? v : wants(s, e, v, want, dim, whose);
}
