/* Values: making them, arithmetic with dimensions and states, comparisons. In: values. Out: values.
   At infinity is a state without a sign: inf + x = inf, x/inf = 0; inf - inf, 0 x inf and inf < x are undefined. */
#include "solved/value.h"
#include <math.h>

SgValue sg_value_number(double number, SgDim dim) { return (SgValue){ .type = SG_TYPE_NUMBER, .number = number, .dim = dim, .unit = SG_UNIT_COUNT }; }
SgValue sg_value_point(SgPoint p) { return (SgValue){ .type = SG_TYPE_POINT, .point = p, .unit = SG_UNIT_COUNT }; }
SgValue sg_value_poison(void) { return (SgValue){ .state = SG_POISON, .unit = SG_UNIT_COUNT }; }
SgValue sg_value_infinite(SgDim dim) { return (SgValue){ .type = SG_TYPE_NUMBER, .state = SG_INFINITE, .dim = dim, .unit = SG_UNIT_COUNT }; }
SgValue sg_value_undefined(const char *why) { return (SgValue){ .state = SG_UNDEFINED, .why = why, .unit = SG_UNIT_COUNT }; }
SgValue sg_value_truth(bool truth) { return (SgValue){ .type = SG_TYPE_TRUTH, .truth = truth, .unit = SG_UNIT_COUNT }; }
SgValue sg_value_text(SgStr text) { return (SgValue){ .type = SG_TYPE_TEXT, .text = text, .unit = SG_UNIT_COUNT }; }

const char *sg_value_kind(SgSolved *s, SgValue v)
{
    switch (v.type) {
    case SG_TYPE_NUMBER: return sg_dim_name(v.dim);
    case SG_TYPE_TRUTH: return "yes or no";
    case SG_TYPE_TEXT: return "a text";
    case SG_TYPE_PLACE: case SG_TYPE_POINT: return "a point";
    case SG_TYPE_LINE: return "a line";
    case SG_TYPE_THING: return sg_kind_info(s->figure->scope->symbol[v.thing].kind)->name_text;
    case SG_TYPE_NONE: case SG_TYPE_WORD: case SG_TYPE_COLOUR: case SG_TYPE_MEDIUM: case SG_TYPE_ANY: break;
    }
    return "nothing";
}

/* "a length (4 cm)" */
SgStr sg_value_told(SgSolved *s, SgValue v)
{
    const char *kind = sg_value_kind(s, v);
    if (v.type != SG_TYPE_NUMBER || v.state != SG_VALID) return sg_str(kind);
    SgStr shown = sg_show(s, v, SG_UNIT_COUNT, -1);
    return sg_format(s->c->arena, "%s (%.*s)", kind, (int)shown.n, shown.s);
}

static bool passed_on(SgValue a, SgValue b, SgValue *out)
{
    if (a.state == SG_POISON || b.state == SG_POISON) { *out = sg_value_poison(); return true; }
    if (a.state == SG_UNDEFINED) { *out = a; return true; }
    if (b.state == SG_UNDEFINED) { *out = b; return true; }
    return false;
}

static SgValue refuse(SgSolved *s, SgSpan at, const char *doing, SgValue a, SgValue b)
{
    SgStr x = sg_value_told(s, a), y = sg_value_told(s, b);
    return sg_wrong(s, SG_MSG_dimension_mixed, at, "%.*s and %.*s cannot be %s; both sides must be of one sort", (int)x.n, x.s, (int)y.n, y.s, doing);
}

static SgValue add(SgSolved *s, SgSpan at, SgValue a, SgValue b, double sign)
{
    if (a.type == SG_TYPE_POINT && b.type == SG_TYPE_POINT) return sg_value_point(sg_pt_along(a.point, b.point, sign));
    const char *doing = sign > 0 ? "added" : "taken from each other";
    if (a.type != SG_TYPE_NUMBER || b.type != SG_TYPE_NUMBER) return refuse(s, at, doing, a, b);
    if (!sg_same_dim(a.dim, b.dim) && !a.nought && !b.nought) return refuse(s, at, doing, a, b);
    SgDim dim = a.nought ? b.dim : a.dim;
    if (a.state == SG_INFINITE && b.state == SG_INFINITE) return sign > 0 ? a : sg_value_undefined("it is one infinity less another");
    if (a.state == SG_INFINITE) return a;
    if (b.state == SG_INFINITE) return b;
    SgValue v = sg_value_number(a.number + sign * b.number, dim);
    v.unit = a.unit != SG_UNIT_COUNT ? a.unit : b.unit;
    return v;
}

static SgDim dim_sum(SgDim a, SgDim b, int sign) { return (SgDim){ (int8_t)(a.length + sign * b.length), (int8_t)(a.angle + sign * b.angle) }; }

static SgValue multiply(SgSolved *s, SgSpan at, SgValue a, SgValue b)
{
    if (a.type == SG_TYPE_POINT && b.type == SG_TYPE_NUMBER) { SgValue t = a; a = b; b = t; }
    if (a.type == SG_TYPE_NUMBER && b.type == SG_TYPE_POINT && sg_same_dim(a.dim, SG_DIM_NUMBER) && a.state == SG_VALID)
        return sg_value_point(sg_pt_scale(b.point, a.number));
    if (a.type != SG_TYPE_NUMBER || b.type != SG_TYPE_NUMBER) return refuse(s, at, "multiplied", a, b);
    SgDim dim = dim_sum(a.dim, b.dim, 1);
    if (a.state == SG_INFINITE || b.state == SG_INFINITE) {
        if ((a.state == SG_VALID && a.number == 0) || (b.state == SG_VALID && b.number == 0)) return sg_value_undefined("it is nought times infinity");
        return sg_value_infinite(dim);
    }
    SgValue v = sg_value_number(a.number * b.number, dim);
    v.unit = sg_same_dim(b.dim, SG_DIM_NUMBER) ? a.unit : sg_same_dim(a.dim, SG_DIM_NUMBER) ? b.unit : SG_UNIT_COUNT;
    return v;
}

static SgValue divide(SgSolved *s, SgSpan at, SgValue a, SgValue b)
{
    if (a.type == SG_TYPE_POINT && b.type == SG_TYPE_NUMBER && sg_same_dim(b.dim, SG_DIM_NUMBER) && b.state == SG_VALID && b.number != 0)
        return sg_value_point(sg_pt_scale(a.point, 1 / b.number));
    if (a.type != SG_TYPE_NUMBER || b.type != SG_TYPE_NUMBER) return refuse(s, at, "divided", a, b);
    SgDim dim = dim_sum(a.dim, b.dim, -1);
    if (b.state == SG_INFINITE) return a.state == SG_INFINITE ? sg_value_undefined("it is infinity over infinity") : sg_value_number(0, dim);
    if (b.number == 0) return sg_wrong(s, SG_MSG_divided_by_nought, at, "this divides by nought; give the divisor another value");
    if (a.state == SG_INFINITE) return sg_value_infinite(dim);
    SgValue v = sg_value_number(a.number / b.number, dim);
    v.unit = sg_same_dim(b.dim, SG_DIM_NUMBER) ? a.unit : SG_UNIT_COUNT;
    return v;
}

static SgValue power(SgSolved *s, SgSpan at, SgValue a, SgValue b)
{
    if (a.type != SG_TYPE_NUMBER || b.type != SG_TYPE_NUMBER) return refuse(s, at, "raised to a power", a, b);
    double k = b.number;
    if (b.state != SG_VALID || !sg_same_dim(b.dim, SG_DIM_NUMBER) || k != floor(k) || k < -16 || k > 16)
        return sg_wrong(s, SG_MSG_power_not_whole, at, "`^` takes a whole number from -16 to 16; use sqrt for roots");
    if (a.dim.length * k > 100 || a.dim.length * k < -100 || a.dim.angle * k > 100 || a.dim.angle * k < -100)
        return sg_wrong(s, SG_MSG_power_not_whole, at, "this power is too high for its unit");
    SgDim dim = { (int8_t)(a.dim.length * k), (int8_t)(a.dim.angle * k) };
    if (a.state == SG_INFINITE) return k > 0 ? sg_value_infinite(dim) : k < 0 ? sg_value_number(0, dim) : sg_value_undefined("it is infinity to the power nought");
    if (a.number == 0 && k < 0) return sg_wrong(s, SG_MSG_divided_by_nought, at, "this divides by nought; give it another value");
    double x = 1;
    for (int i = 0; i < (k < 0 ? -k : k); i++) x *= a.number;
    return sg_value_number(k < 0 ? 1 / x : x, dim);
}

/* Three values: undefined counts only where the other side does not decide. */
static SgValue logic(SgSolved *s, SgSpan at, char op, SgValue a, SgValue b)
{
    if (a.state == SG_POISON || b.state == SG_POISON) return sg_value_poison();
    if ((a.state == SG_VALID && a.type != SG_TYPE_TRUTH) || (b.state == SG_VALID && b.type != SG_TYPE_TRUTH))
        return refuse(s, at, op == 'a' ? "joined by `and`" : "joined by `or`", a, b);
    bool decides = op == 'o';
    if (a.state == SG_VALID && a.truth == decides) return a;
    if (b.state == SG_VALID && b.truth == decides) return b;
    return a.state == SG_UNDEFINED ? a : b;
}

SgValue sg_value_binary(SgSolved *s, SgSpan at, char op, SgValue a, SgValue b)
{
    SgValue out;
    if (op == 'a' || op == 'o') return logic(s, at, op, a, b);
    if (passed_on(a, b, &out)) return out;
    SgValue v = op == '+' ? add(s, at, a, b, 1) : op == '-' ? add(s, at, a, b, -1) : op == '*' ? multiply(s, at, a, b)
              : op == '/' ? divide(s, at, a, b) : power(s, at, a, b);
    bool huge = v.type == SG_TYPE_NUMBER && v.state == SG_VALID && !(fabs(v.number) < 1e150);
    if (v.type == SG_TYPE_POINT && v.state == SG_VALID) huge = !(fabs(v.point.x_mm) < 1e150 && fabs(v.point.y_mm) < 1e150);
    return huge ? sg_wrong(s, SG_MSG_number_huge, at, "this comes out too large to work with") : v;
}

SgValue sg_value_negate(SgSolved *s, SgSpan at, SgValue a)
{
    if (a.state == SG_POISON || a.state == SG_UNDEFINED || a.state == SG_INFINITE) return a;
    if (a.type == SG_TYPE_POINT) return sg_value_point(sg_pt_scale(a.point, -1));
    if (a.type != SG_TYPE_NUMBER) return sg_wrong(s, SG_MSG_dimension_mixed, at, "%s has no negative", sg_value_kind(s, a));
    a.number = -a.number;
    return a;
}

SgValue sg_value_not(SgSolved *s, SgSpan at, SgValue a)
{
    if (a.state != SG_VALID) return a;
    if (a.type != SG_TYPE_TRUTH) return sg_wrong(s, SG_MSG_dimension_mixed, at, "`not` needs a condition, and this is %s", sg_value_kind(s, a));
    return sg_value_truth(!a.truth);
}

/* Equal within one part in a million; floors of 1e-6 mm, 1e-6 degree, 1e-9 for plain numbers. */
bool sg_near_equal(double a, double b, SgDim dim)
{
    double size = fabs(a) > fabs(b) ? fabs(a) : fabs(b), slack = 1e-6 * size;
    double least = dim.length == 0 && dim.angle == 0 ? 1e-9 : 1e-6;
    return fabs(a - b) <= (slack > least ? slack : least);
}

SgValue sg_value_compare(SgSolved *s, SgSpan at, char op, SgValue a, SgValue b)
{
    SgValue out;
    if (passed_on(a, b, &out)) return out;
    if (a.type == SG_TYPE_TRUTH && b.type == SG_TYPE_TRUTH && (op == '=' || op == '!')) return sg_value_truth((a.truth == b.truth) == (op == '='));
    if (a.type != SG_TYPE_NUMBER || b.type != SG_TYPE_NUMBER) return refuse(s, at, "compared", a, b);
    bool anyway = a.state == SG_INFINITE || b.state == SG_INFINITE || a.nought || b.nought;
    if (!sg_same_dim(a.dim, b.dim) && !anyway) return refuse(s, at, "compared", a, b);
    if (a.state == SG_INFINITE || b.state == SG_INFINITE) {
        if (op != '=' && op != '!') return sg_value_undefined("infinity has no order");
        return sg_value_truth((a.state == b.state) == (op == '='));
    }
    bool equal = sg_near_equal(a.number, b.number, a.nought ? b.dim : a.dim);
    switch (op) {
    case '=': return sg_value_truth(equal);
    case '!': return sg_value_truth(!equal);
    case '<': return sg_value_truth(!equal && a.number < b.number);
    case '>': return sg_value_truth(!equal && a.number > b.number);
    case 'l': return sg_value_truth(equal || a.number < b.number);
    default: return sg_value_truth(equal || a.number > b.number);
    }
}
