/* worked: the mirror and lens equation with an image's numbers, in the signs and letters of a convention. In: a solved image.
   Out: lines of markup. Never decides a sign by itself: geometry is real-positive, and the convention turns it. */
#include "solved/working.h"
#include "base/num.h"
#include "solved/build.h"
#include <math.h>
#include <string.h>

#define MINUS "\xE2\x88\x92"
#define TIMES "\xC3\x97"
#define ABOUT "\xE2\x89\x88"
enum { EXACT = 0, GUARD = 4 };

typedef struct {
    SgSolved *s;
    const SgConvention *k;
    uint32_t figures;
    uint32_t v_figures, m_figures;     /* distance and magnification are carried on with */
    bool mirror, plane;
    double u_mm, v_mm, f_mm, h_mm;     /* in the signs of the convention; h of the object */
    bool at_infinity;
} Work;

/* A length as it is, to three decimals: what is given must not be rounded. */
static SgStr exact(Work *w, double mm)
{
    SgUnit unit = sg_figure_length_unit(w->s);
    SgBuf b = { .arena = w->s->c->arena };
    sg_put_mm3(&b, mm / sg_unit_factor(unit));
    SgStr n = sg_shown_number(b.arena, w->s->wording, sg_buf_str(&b));
    return sg_format(b.arena, "%.*s\xE2\x80\x89%s", (int)n.n, n.s, sg_unit_info(unit)->spelling);
}

/* Rounded to so many significant figures; figures EXACT: as it is. */
static SgStr put(Work *w, double value, SgDim dim, uint32_t figures)
{
    if (figures == EXACT && dim.length) return exact(w, value);
    SgHoleFormat f = { .step = figures, .unit = SG_UNIT_COUNT, .given = true, .figures = true };
    if (dim.length) f.unit = sg_figure_length_unit(w->s);
    return sg_show_figure(w->s, sg_value_number(value, dim), &f);
}
static SgStr length(Work *w, double mm, uint32_t figures) { return put(w, mm, SG_DIM_LENGTH, figures); }

/* A negative number in brackets, where a sign stands before it. */
static SgStr bracketed(Work *w, double value, SgDim dim, uint32_t figures)
{
    SgStr t = put(w, value, dim, figures);
    return value < 0 ? sg_format(w->s->c->arena, "(%.*s)", (int)t.n, t.s) : t;
}

static double rounded_to(double value, uint32_t figures)
{
    double size = fabs(value), step = 1;
    if (!(size > 0)) return 0;
    while (size >= 10 * step) step *= 10;
    while (size < step) step /= 10;
    for (uint32_t i = 1; i < figures; i++) step /= 10;
    double whole = floor(size / step + 0.5 + 1e-9) * step;         /* a half is one though arithmetic left it a little short */
    return value < 0 ? -whole : whole;
}

static bool reads_alike(Work *w, double a, double b, SgDim dim, uint32_t figures)
{
    SgStr x = put(w, a, dim, figures), y = put(w, b, dim, figures);
    return x.n == y.n && memcmp(x.s, y.s, x.n) == 0;
}

/* Figures a result is carried on with: the fewest with which the next step, a multiplication, gives the very `figures` it shows.
   To the figures asked for both then read as they would unrounded. */
static uint32_t carried(Work *w, double value, SgDim dim, double by, SgDim becomes, uint32_t figures)
{
    double unit = dim.length ? sg_unit_factor(sg_figure_length_unit(w->s)) : 1;
    uint32_t k = w->figures;
    for (; k < figures + GUARD; k++) {
        double r = rounded_to(value / unit, k) * unit;
        if (reads_alike(w, r, value, dim, w->figures) && reads_alike(w, r * by, value * by, becomes, figures)
            && reads_alike(w, r * by, value * by, becomes, w->figures)) break;
    }
    return k;
}

/* A result: as it is carried on, then to the figures asked for. */
static SgStr result(Work *w, double value, SgDim dim, uint32_t figures)
{
    SgStr asked = put(w, value, dim, w->figures), more = put(w, value, dim, figures);
    return figures > w->figures ? sg_format(w->s->c->arena, "%.*s " ABOUT " %.*s", (int)more.n, more.s, (int)asked.n, asked.s) : asked;
}

/* Below a fraction's stroke, where 1/5 cm could be read as a fifth of a centimetre. */
static SgStr in_brackets(Work *w, double mm)
{
    SgStr t = length(w, mm, EXACT);
    return sg_format(w->s->c->arena, "(%.*s)", (int)t.n, t.s);
}

#define S(x) (int)(x).n, (x).s
static SgStr given_line(Work *w)
{
    SgArena *a = w->s->c->arena;
    SgStr u = length(w, w->u_mm, EXACT), f = length(w, w->f_mm, EXACT), h = length(w, w->h_mm, EXACT);
    if (w->plane) return sg_format(a, "%.*s = %.*s, *h* = %.*s", S(w->k->object), S(u), S(h));
    return sg_format(a, "%.*s = %.*s, %.*s = %.*s, *h* = %.*s", S(w->k->object), S(u), S(w->k->focal), S(f), S(h));
}

/* A lens in signs along the light has a minus before the object's term; all others a plus. */
static uint32_t equation(Work *w, SgStr *line)
{
    SgArena *a = w->s->c->arena;
    SgStr u = in_brackets(w, w->u_mm), f = in_brackets(w, w->f_mm), v = result(w, w->v_mm, SG_DIM_LENGTH, w->v_figures);
    bool minus = w->k->cartesian && !w->mirror;
    if (w->plane) {
        line[0] = sg_format(a, "%.*s = " MINUS "%.*s = %.*s", S(w->k->image), S(w->k->object), S(v));
        return 1;
    }
    line[0] = sg_format(a, "1/%.*s %s 1/%.*s = 1/%.*s", S(w->k->image), minus ? MINUS : "+", S(w->k->object), S(w->k->focal));
    line[1] = sg_format(a, "1/%.*s = 1/%.*s %s 1/%.*s = 1/%.*s %s 1/%.*s%s", S(w->k->image), S(w->k->focal), minus ? "+" : MINUS, S(w->k->object),
                        S(f), minus ? "+" : MINUS, S(u), w->at_infinity ? " = 0" : "");
    if (!w->at_infinity) line[2] = sg_format(a, "%.*s = %.*s", S(w->k->image), S(v));
    else line[2] = w->s->wording->text[SG_TEXT_image_at_infinity];
    return 3;
}

static uint32_t magnification(Work *w, double m, SgStr *line)
{
    SgArena *a = w->s->c->arena;
    bool sizes = w->k->sizes, minus = !sizes && (w->mirror || !w->k->cartesian);
    double by_mm = sizes ? fabs(w->h_mm) : w->h_mm;
    if (sizes) m = fabs(m);
    SgStr u = bracketed(w, sizes ? fabs(w->u_mm) : w->u_mm, SG_DIM_LENGTH, EXACT);
    SgStr v = bracketed(w, sizes ? fabs(w->v_mm) : w->v_mm, SG_DIM_LENGTH, w->v_figures);
    SgStr is = result(w, m, SG_DIM_NUMBER, w->m_figures), times = put(w, m, SG_DIM_NUMBER, w->m_figures);
    SgStr h = bracketed(w, by_mm, SG_DIM_LENGTH, EXACT), tall = length(w, m * by_mm, w->figures);
    line[0] = sg_format(a, "*m* = %s%.*s/%.*s = %s%.*s/%.*s = %.*s", minus ? MINUS : "", S(w->k->image), S(w->k->object), minus ? MINUS : "", S(v), S(u), S(is));
    line[1] = sg_format(a, "*h*\xE2\x80\xB2 = *m* *h* = %.*s " TIMES " %.*s = %.*s", S(times), S(h), S(tall));
    return 2;
}

static bool reads(Work *w, uint32_t image)
{
    SgSolved *s = w->s;
    const SgImage *im = &s->thing[image].image;
    const SgScope *scope = s->figure->scope;
    if (s->thing[image].state != SG_VALID || s->by_rule || im->nby != 1 || scope->symbol[im->of].kind != SG_KIND_object) return false;
    const SgObject *o = &s->thing[im->of].object;
    const SgElement *e = &s->thing[im->by[0]].element;
    SgKind kind = scope->symbol[im->by[0]].kind;
    bool in_air = fabs(e->surface.n_before - 1) < 1e-9 && fabs(e->surface.n_after - 1) < 1e-9;
    if (fabs(e->surface.along.y_mm) > 1e-9) return false;                  /* its object stands on no axis of its own */
    if (o->far || e->thick || (kind != SG_KIND_mirror && (kind != SG_KIND_lens || !in_air))) return false;
    w->mirror = kind == SG_KIND_mirror;
    w->plane = e->plane;
    w->at_infinity = im->last.far == SG_AT_INFINITY;
    double before = sg_pt_dot(sg_pt_sub(e->surface.vertex, o->foot), s->light), turn = w->k->cartesian ? -1 : 1;
    w->u_mm = turn * before;
    w->v_mm = w->mirror ? turn * im->last.distance_mm : im->last.distance_mm;
    w->f_mm = w->mirror ? turn * e->focal_mm : e->focal_mm;
    w->h_mm = o->height_mm;
    return fabs(before) > 1e-9;
}

uint32_t sg_worked(SgSolved *s, uint32_t image, uint32_t figures, SgStr line[SG_WORKED_LINES])
{
    Work w = { .s = s, .k = &s->convention, .figures = figures };
    if (!reads(&w, image)) return sg_worked_chain(s, image, figures, line);
    uint32_t n = 0;
    bool magnified = !w.at_infinity && fabs(w.h_mm) > 0;
    w.v_figures = w.m_figures = figures;
    if (magnified) {                                   /* from the last step back */
        w.m_figures = carried(&w, s->thing[image].image.magnification, SG_DIM_NUMBER, w.h_mm, SG_DIM_LENGTH, figures);
        w.v_figures = carried(&w, w.v_mm, SG_DIM_LENGTH, 1 / w.u_mm, SG_DIM_NUMBER, w.m_figures);
    }
    line[n++] = given_line(&w);
    n += equation(&w, line + n);
    if (w.at_infinity) return n;
    if (magnified) n += magnification(&w, s->thing[image].image.magnification, line + n);
    line[n++] = sg_image_nature(s, &s->thing[image].image);
    return n;
}

bool sg_in_convention(const SgSolved *s, uint32_t image, const char *property, SgStr *letter, int *sign)
{
    const SgConvention *k = &s->convention;
    const SgImage *im = &s->thing[image].image;
    bool mirror = im->nby > 0 && s->figure->scope->symbol[im->by[im->nby - 1]].kind == SG_KIND_mirror, distance = sg_str_is(SG_LIT("distance"), property);
    bool height = sg_str_is(SG_LIT("height"), property);
    if (k->name == NULL || !(distance || height || sg_str_is(SG_LIT("magnification"), property))) return false;
    *letter = distance ? k->image : height ? SG_LIT("*h*\xE2\x80\xB2") : SG_LIT("*m*");
    *sign = distance ? (k->cartesian && mirror ? -1 : 1) : k->sizes ? 0 : 1;
    return true;
}
