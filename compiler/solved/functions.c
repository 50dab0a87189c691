/* The functions of the language. In: an expression with its arguments. Out: a value.
   Trigonometry takes and gives angles; a sine of a plain number is an error that says so. */
#include "solved/value.h"
#include "base/num.h"
#include <math.h>

static SgValue want(SgSolved *s, const SgExpr *e, SgValue v, SgDim dim, const char *what)
{
    if (v.state == SG_POISON || v.state == SG_UNDEFINED) return v;
    const char *f = sg_function_info(e->function)->word;
    if (v.type != SG_TYPE_NUMBER || (!sg_same_dim(v.dim, dim) && !v.nought)) {
        SgStr told = sg_value_told(s, v);
        bool bare = v.type == SG_TYPE_NUMBER && v.state == SG_VALID && sg_same_dim(dim, SG_DIM_ANGLE) && sg_same_dim(v.dim, SG_DIM_NUMBER);
        SgStr shown = bare ? sg_show(s, v, SG_UNIT_COUNT, -1) : SG_LIT("");
        return sg_wrong(s, SG_MSG_argument_wrong, e->arg[0]->at, "`%s` takes %s, and this is %.*s%s%.*s%s", f, what, (int)told.n, told.s,
                        bare ? "; write " : "; give it another value", (int)shown.n, shown.s, bare ? " deg" : "");
    }
    if (v.state == SG_INFINITE) return sg_value_undefined("infinity has no such function");
    return v;
}

static SgValue trigonometry(SgSolved *s, const SgExpr *e, SgValue a)
{
    double sine, cosine;
    a = want(s, e, a, SG_DIM_ANGLE, "an angle");
    if (a.state != SG_VALID) return a;
    sg_sincos_deg(a.number, &sine, &cosine);
    if (e->function == SG_FUNCTION_sin) return sg_value_number(sine, SG_DIM_NUMBER);
    if (e->function == SG_FUNCTION_cos) return sg_value_number(cosine, SG_DIM_NUMBER);
    if (fabs(cosine) < 1e-15) return sg_value_infinite(SG_DIM_NUMBER);
    return sg_value_number(sine / cosine, SG_DIM_NUMBER);
}

static SgValue inverse(SgSolved *s, const SgExpr *e, SgValue a)
{
    if (e->function == SG_FUNCTION_atan && a.type == SG_TYPE_NUMBER && a.state == SG_INFINITE) return sg_value_number(90, SG_DIM_ANGLE);
    a = want(s, e, a, SG_DIM_NUMBER, "a plain number");
    if (a.state != SG_VALID) return a;
    double x = a.number;
    if (e->function == SG_FUNCTION_atan) return sg_value_number(sg_atan2_deg(x, 1), SG_DIM_ANGLE);
    if (fabs(x) > 1) {
        if (fabs(x) > 1 + 1e-9) return sg_value_undefined("no angle has a sine or cosine above 1");
        x = x < 0 ? -1 : 1;
    }
    double other = sqrt((1 - x) * (1 + x));
    return sg_value_number(e->function == SG_FUNCTION_asin ? sg_atan2_deg(x, other) : sg_atan2_deg(other, x), SG_DIM_ANGLE);
}

static SgValue root(SgSolved *s, const SgExpr *e, SgValue a)
{
    if (a.state != SG_VALID) return a;
    if (a.type != SG_TYPE_NUMBER || a.dim.length % 2 || a.dim.angle % 2) {
        SgStr told = sg_value_told(s, a);
        return sg_wrong(s, SG_MSG_argument_wrong, e->arg[0]->at, "`sqrt` takes a plain number or an area, and this is %.*s", (int)told.n, told.s);
    }
    if (a.number < 0) return sg_value_undefined("a negative number has no square root");
    return sg_value_number(sqrt(a.number), (SgDim){ (int8_t)(a.dim.length / 2), (int8_t)(a.dim.angle / 2) });
}

static SgValue extreme(SgSolved *s, const SgExpr *e)
{
    SgValue best = sg_eval(s, e->arg[0]);
    for (uint32_t i = 1; i < e->nargs; i++) {
        SgValue v = sg_eval(s, e->arg[i]);
        SgValue less = sg_value_compare(s, e->arg[i]->at, '<', v, best);
        if (less.state != SG_VALID) return less;
        if (less.truth == (e->function == SG_FUNCTION_min)) best = v;
    }
    return best;
}

static SgValue rounded(SgSolved *s, const SgExpr *e, SgValue a)
{
    SgValue step = e->nargs > 1 ? sg_eval(s, e->arg[1]) : sg_value_number(1, SG_DIM_NUMBER);
    if (a.state != SG_VALID) return a;
    if (step.state != SG_VALID) return step;
    if (a.type != SG_TYPE_NUMBER || step.type != SG_TYPE_NUMBER || !sg_same_dim(a.dim, step.dim) || !(step.number > 0)) {
        SgStr told = sg_value_told(s, a);
        return sg_wrong(s, SG_MSG_argument_wrong, e->at, "`round` takes %.*s and a step of the same sort, such as round(x, 0.5 cm)", (int)told.n, told.s);
    }
    SgValue v = a;
    v.nought = false;
    v.number = sg_round_to(a.number, step.number);
    return v;
}

static SgValue of_points(SgSolved *s, const SgExpr *e)
{
    SgValue a = sg_eval_as(s, e->arg[0], SG_TYPE_POINT, SG_DIM_LENGTH, sg_function_info(e->function)->word);
    SgValue b = sg_eval_as(s, e->arg[1], SG_TYPE_POINT, SG_DIM_LENGTH, sg_function_info(e->function)->word);
    if (a.state != SG_VALID) return a;
    if (b.state != SG_VALID) return b;
    if (e->function == SG_FUNCTION_midpoint) return sg_value_point(sg_pt_mid(a.point, b.point));
    return sg_value_number(sg_pt_distance(a.point, b.point), SG_DIM_LENGTH);
}

SgValue sg_value_function(SgSolved *s, const SgExpr *e)
{
    SgValue a;
    switch (e->function) {
    case SG_FUNCTION_sqrt: return root(s, e, sg_eval(s, e->arg[0]));
    case SG_FUNCTION_sin: case SG_FUNCTION_cos: case SG_FUNCTION_tan: return trigonometry(s, e, sg_eval(s, e->arg[0]));
    case SG_FUNCTION_asin: case SG_FUNCTION_acos: case SG_FUNCTION_atan: return inverse(s, e, sg_eval(s, e->arg[0]));
    case SG_FUNCTION_abs:
        a = sg_eval(s, e->arg[0]);
        if (a.state != SG_VALID) return a;
        if (a.type != SG_TYPE_NUMBER) return sg_wrong(s, SG_MSG_argument_wrong, e->at, "`abs` takes a number, and this is %s", sg_value_kind(s, a));
        a.number = fabs(a.number);
        return a;
    case SG_FUNCTION_min: case SG_FUNCTION_max: return extreme(s, e);
    case SG_FUNCTION_round: return rounded(s, e, sg_eval(s, e->arg[0]));
    case SG_FUNCTION_midpoint: case SG_FUNCTION_distance: return of_points(s, e);
    case SG_FUNCTION_paper:
        a = want(s, e, sg_eval(s, e->arg[0]), SG_DIM_LENGTH, "a length");
        a.number *= s->along;
        return a;
    case SG_FUNCTION_inside: return sg_value_inside(s, e);
    case SG_FUNCTION_COUNT: break;
    }
    return sg_value_poison();
}
