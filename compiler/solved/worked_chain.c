/* worked: images by several elements in turn, by a spherical boundary, by a thick lens from its principal planes. In: a solved image.
   Out: lines of markup: for each element what is given, the distance of what it images, the equation with its numbers, its
   magnification; then all of them together. n1/u + n2/v = (n2 - n1)/R and m = -n1 v/(n2 u) at a boundary, Gaussian distances from H
   and H' of a thick lens (any optics text, e.g. OpenStax University Physics 3, ch. 2). */
#include "solved/working.h"
#include "base/num.h"
#include "solved/build.h"
#include <math.h>
#include <string.h>

#define MINUS "\xE2\x88\x92"
#define TIMES "\xC3\x97"
#define ABOUT "\xE2\x89\x88"
enum { MOST_GUARD = 10, GIVEN_DECIMALS = 3, INDEX_DECIMALS = 6 };
#define S(x) (int)(x).n, (x).s

/* One element. Distances are positive where real; shown turns them into the convention's signs. u is what the line above gives, v the
   solver's; decimals: of v as it is written, in the figure's unit. */
typedef struct {
    SgStr name;
    bool mirror, plane, boundary, thick;
    double n1, n2, power_per_mm, gap_mm;       /* gap: from the element before */
    double u_mm, v_mm, m, written_power;       /* written_power: from the focal length or radius as given */
    int decimals;
    uint32_t m_figures;
} Stage;
typedef struct {
    SgSolved *s;
    const SgConvention *k;
    uint32_t figures, n, guard;
    Stage stage[SG_CHAIN];
    double unit_mm, h_mm, m;
    bool at_infinity;
    SgStr *line; uint32_t nlines;
} Chain;

static double to_decimals(double x, int decimals)
{
    double step = 1;
    for (int i = 0; i < decimals; i++) step *= 10;
    double whole = floor(fabs(x) * step + 0.5 + 1e-7) / step;
    return x < 0 ? -whole : whole;
}

/* So many figures of x, as decimals, never fewer than none. */
static int decimals_for(double x, uint32_t figures)
{
    int decimals = (int)figures - 1;
    double size = fabs(x);
    if (!(size > 0)) return decimals;
    for (; size >= 10; size /= 10) decimals--;
    for (; size < 1; size *= 10) decimals++;
    return decimals < 0 ? 0 : decimals > 12 ? 12 : decimals;
}

/* ---- numbers in words ---- */

static SgStr trimmed(const Chain *c, double x, int decimals)
{
    SgBuf b = { .arena = c->s->c->arena };
    sg_put_fixed(&b, to_decimals(x, decimals), decimals);      /* a half is one though arithmetic left it a little short */
    while (decimals && b.n && b.v[b.n - 1] == '0') b.n--;
    if (b.n && b.v[b.n - 1] == '.') b.n--;
    return sg_shown_number(b.arena, c->s->wording, sg_buf_str(&b));
}

/* With all of its figures: what is asked for. */
static SgStr whole(const Chain *c, double x, uint32_t figures)
{
    SgBuf b = { .arena = c->s->c->arena };
    sg_put_fixed(&b, to_decimals(x, decimals_for(x, figures)), decimals_for(x, figures));
    return sg_shown_number(b.arena, c->s->wording, sg_buf_str(&b));
}

static SgStr with_unit(const Chain *c, SgStr n)
{
    return sg_format(c->s->c->arena, "%.*s\xE2\x80\x89%s", S(n), sg_unit_info(sg_figure_length_unit(c->s))->spelling);
}

static SgStr length(const Chain *c, double mm, int decimals) { return with_unit(c, trimmed(c, mm / c->unit_mm, decimals)); }

static SgStr bracketed(const Chain *c, double mm, int decimals)
{
    SgStr t = length(c, mm, decimals);
    return mm < 0 ? sg_format(c->s->c->arena, "(%.*s)", S(t)) : t;
}

static void put(Chain *c, SgStr line) { c->line[c->nlines++] = line; }

/* ---- the convention ---- */

static double focal(const Stage *e) { return e->plane ? 0 : e->n2 / e->power_per_mm; }
static double shown_u(const Chain *c, double mm) { return c->k->cartesian ? -mm : mm; }
static double shown_v(const Chain *c, const Stage *e, double mm) { return c->k->cartesian && e->mirror ? -mm : mm; }

/* Written with three decimals at least, so that what is given stays what it is. */
static int fine(int decimals) { return decimals > GIVEN_DECIMALS ? decimals : GIVEN_DECIMALS; }

/* ---- how many figures are carried on ---- */

static double image_of(const Stage *e, double u_mm)
{
    return e->plane ? -u_mm : e->n2 / (e->written_power - e->n1 / u_mm);
}

static double magnified(const Stage *e, double u_mm, double v_mm) { return -e->n1 * v_mm / (e->n2 * u_mm); }

static bool alike(double a, double b, int decimals) { return fabs(to_decimals(a, decimals) - to_decimals(b, decimals)) < 1e-12; }

static double written(const Chain *c, double mm, int decimals) { return to_decimals(mm / c->unit_mm, decimals) * c->unit_mm; }

/* Of a distance: the earlier it comes, the more is made of its last figure. */
static uint32_t carried_figures(const Chain *c, uint32_t i)
{
    uint32_t step = c->guard < 2 ? c->guard : c->guard < 6 ? 2 : 3;
    return c->figures + c->guard + (c->guard > 0) + step * (c->n - 1 - i);
}

/* Of the magnification of all together. */
static uint32_t kept_figures(const Chain *c) { return c->n > 1 ? c->figures + (c->guard > 0) + c->guard / 3 : c->stage[0].m_figures; }

/* Whether, with that many figures, each line gives what stands behind it. Fills in the distances that the lines give. */
static bool holds_with(Chain *c, uint32_t guard)
{
    double m = 1;
    c->guard = guard;
    for (uint32_t i = 0; i < c->n; i++) {
        Stage *e = &c->stage[i];
        bool last = i + 1 == c->n, far = last && c->at_infinity;
        double of_mm = written(c, e->boundary ? (e->n2 - e->n1) / e->power_per_mm : focal(e), GIVEN_DECIMALS);
        e->written_power = e->plane ? 0 : (e->boundary ? e->n2 - e->n1 : e->n2) / of_mm;
        if (i == 0) e->u_mm = written(c, e->u_mm, GIVEN_DECIMALS);
        else e->u_mm = written(c, e->gap_mm, GIVEN_DECIMALS) - written(c, e[-1].v_mm, e[-1].decimals);
        if (far) return fabs(e->written_power * e->u_mm - e->n1) < 1e-6;
        e->decimals = decimals_for(e->v_mm / c->unit_mm, carried_figures(c, i));
        double v = image_of(e, e->u_mm), got = magnified(e, e->u_mm, written(c, e->v_mm, e->decimals));
        e->m_figures = c->figures + (guard > 0) + guard / 2;
        int most = decimals_for(e->m, e->m_figures);
        if (!alike(v / c->unit_mm, e->v_mm / c->unit_mm, e->decimals) || !alike(got, e->m, most)) return false;
        if (!alike(written(c, e->v_mm, e->decimals) / c->unit_mm, e->v_mm / c->unit_mm, decimals_for(e->v_mm / c->unit_mm, c->figures))) return false;
        m *= to_decimals(e->m, most);
    }
    uint32_t kept = kept_figures(c);
    double total = to_decimals(c->m, decimals_for(c->m, kept)), h = c->h_mm / c->unit_mm;
    return alike(m, c->m, decimals_for(c->m, kept)) && alike(total, c->m, decimals_for(c->m, c->figures)) && alike(total * h, c->m * h, decimals_for(c->m * h, c->figures));
}

/* ---- lines ---- */

/* A result as it is carried on, and to the figures asked for. */
static SgStr asked_too(const Chain *c, double x, int decimals, bool mm)
{
    SgStr carried = trimmed(c, x, decimals), asked = whole(c, x, c->figures);
    if (mm) { carried = with_unit(c, carried); asked = with_unit(c, asked); }
    return decimals <= decimals_for(x, c->figures) || alike(to_decimals(x, decimals), to_decimals(x, decimals_for(x, c->figures)), 12) ? asked : sg_format(c->s->c->arena, "%.*s " ABOUT " %.*s", S(carried), S(asked));
}

static void given(Chain *c, uint32_t i)
{
    const Stage *e = &c->stage[i];
    SgBuf b = { .arena = c->s->c->arena };
    if (c->n > 1) sg_putf(&b, "%.*s: ", S(e->name));
    SgStr u = length(c, shown_u(c, e->u_mm), GIVEN_DECIMALS), gap = length(c, e->gap_mm, GIVEN_DECIMALS), f = length(c, shown_v(c, e, focal(e)), GIVEN_DECIMALS);
    SgStr n1 = trimmed(c, e->n1, INDEX_DECIMALS), n2 = trimmed(c, e->n2, INDEX_DECIMALS), h = length(c, c->h_mm, GIVEN_DECIMALS);
    if (i == 0) sg_putf(&b, "%.*s = %.*s", S(c->k->object), S(u));
    else sg_putf(&b, "*d* = %.*s", S(gap));
    if (e->boundary) {
        SgStr r = length(c, (e->n2 - e->n1) / e->power_per_mm, GIVEN_DECIMALS);
        sg_putf(&b, ", *n*_1 = %.*s, *n*_2 = %.*s, *R* = %.*s", S(n1), S(n2), S(r));
    } else if (!e->plane) sg_putf(&b, ", %.*s = %.*s", S(c->k->focal), S(f));
    if (i == 0) sg_putf(&b, ", *h* = %.*s", S(h));
    put(c, sg_buf_str(&b));
    if (e->thick) put(c, SG_FILLED(b.arena, c->s->wording, SG_TEXT_worked_from_planes, { "object", c->k->object }, { "image", c->k->image }));
}

/* What the element before made stands so far from this one. */
static void object_distance(Chain *c, uint32_t i)
{
    const Stage *e = &c->stage[i], *before = e - 1;
    SgArena *a = c->s->c->arena;
    bool back = c->k->cartesian && before->mirror;
    double v_mm = shown_v(c, before, before->v_mm);
    SgStr gap = length(c, e->gap_mm, GIVEN_DECIMALS), v = bracketed(c, v_mm, before->decimals), u = length(c, shown_u(c, e->u_mm), fine(before->decimals)), plain = length(c, v_mm, before->decimals);
    if (!c->k->cartesian) put(c, sg_format(a, "%.*s = *d* " MINUS " %.*s = %.*s " MINUS " %.*s = %.*s", S(c->k->object), S(c->k->image), S(gap), S(v), S(u)));
    else if (back) put(c, sg_format(a, "%.*s = " MINUS "*d* " MINUS " %.*s = " MINUS "%.*s " MINUS " %.*s = %.*s", S(c->k->object), S(c->k->image), S(gap), S(v), S(u)));
    else put(c, sg_format(a, "%.*s = %.*s " MINUS " *d* = %.*s " MINUS " %.*s = %.*s", S(c->k->object), S(c->k->image), S(plain), S(gap), S(u)));
}

static int u_decimals(const Chain *c, uint32_t i) { return i == 0 ? GIVEN_DECIMALS : fine(c->stage[i - 1].decimals); }

static SgStr v_text(const Chain *c, uint32_t i)
{
    const Stage *e = &c->stage[i];
    double v = shown_v(c, e, e->v_mm);
    return i + 1 < c->n ? length(c, v, e->decimals) : asked_too(c, v / c->unit_mm, e->decimals, true);
}

static void equation(Chain *c, uint32_t i)
{
    const Stage *e = &c->stage[i];
    SgArena *a = c->s->c->arena;
    bool minus = c->k->cartesian && !e->mirror;
    const char *first = minus ? MINUS : "+", *then = minus ? "+" : MINUS, *end = i + 1 == c->n && c->at_infinity ? " = 0" : "";
    SgStr u = length(c, shown_u(c, e->u_mm), u_decimals(c, i)), U = c->k->object, V = c->k->image;
    if (e->plane) {
        put(c, sg_format(a, "%.*s = " MINUS "%.*s = %.*s", S(V), S(U), S(v_text(c, i))));
        return;
    }
    if (e->boundary) {
        SgStr r = length(c, (e->n2 - e->n1) / e->power_per_mm, GIVEN_DECIMALS), n1 = trimmed(c, e->n1, INDEX_DECIMALS), n2 = trimmed(c, e->n2, INDEX_DECIMALS);
        put(c, sg_format(a, "*n*_2/%.*s %s *n*_1/%.*s = (*n*_2 " MINUS " *n*_1)/*R*", S(V), first, S(U)));
        put(c, sg_format(a, "*n*_2/%.*s = (*n*_2 " MINUS " *n*_1)/*R* %s *n*_1/%.*s = (%.*s " MINUS " %.*s)/(%.*s) %s %.*s/(%.*s)%s", S(V), then, S(U), S(n2), S(n1), S(r), then, S(n1), S(u), end));
    } else {
        SgStr f = length(c, shown_v(c, e, focal(e)), GIVEN_DECIMALS);
        put(c, sg_format(a, "1/%.*s %s 1/%.*s = 1/%.*s", S(V), first, S(U), S(c->k->focal)));
        put(c, sg_format(a, "1/%.*s = 1/%.*s %s 1/%.*s = 1/(%.*s) %s 1/(%.*s)%s", S(V), S(c->k->focal), then, S(U), S(f), then, S(u), end));
    }
    if (*end) put(c, c->s->wording->text[SG_TEXT_image_at_infinity]);
    else put(c, sg_format(a, "%.*s = %.*s", S(V), S(v_text(c, i))));
}

static double sized(const Chain *c, double x) { return c->k->sizes ? fabs(x) : x; }

static SgStr m_text(const Chain *c, double m, uint32_t figures, bool may_bracket)
{
    SgStr t = trimmed(c, sized(c, m), decimals_for(m, figures));
    return may_bracket && sized(c, m) < 0 ? sg_format(c->s->c->arena, "(%.*s)", S(t)) : t;
}

static void magnification(Chain *c, uint32_t i)
{
    const Stage *e = &c->stage[i];
    SgArena *a = c->s->c->arena;
    bool minus = !c->k->sizes && (e->mirror || !c->k->cartesian);
    SgStr u = bracketed(c, sized(c, shown_u(c, e->u_mm)), u_decimals(c, i)), v = bracketed(c, sized(c, shown_v(c, e, e->v_mm)), e->decimals), m = m_text(c, e->m, e->m_figures, false);
    if (!e->boundary) {
        put(c, sg_format(a, "*m* = %s%.*s/%.*s = %s%.*s/%.*s = %.*s", minus ? MINUS : "", S(c->k->image), S(c->k->object), minus ? MINUS : "", S(v), S(u), S(m)));
        return;
    }
    SgStr n1 = trimmed(c, e->n1, INDEX_DECIMALS), n2 = trimmed(c, e->n2, INDEX_DECIMALS);
    put(c, sg_format(a, "*m* = %s*n*_1 %.*s/(*n*_2 %.*s) = %s%.*s " TIMES " %.*s/(%.*s " TIMES " %.*s) = %.*s", minus ? MINUS : "", S(c->k->image), S(c->k->object), minus ? MINUS : "", S(n1), S(v), S(n2), S(u), S(m)));
}

static void together(Chain *c)
{
    SgArena *a = c->s->c->arena;
    SgBuf b = { .arena = a };
    uint32_t kept = kept_figures(c);
    SgStr carried = m_text(c, c->m, kept, false), all = asked_too(c, sized(c, c->m), decimals_for(c->m, kept), false);
    for (uint32_t i = 0; i < c->n; i++) {
        SgStr m = m_text(c, c->stage[i].m, c->stage[i].m_figures, i > 0);
        sg_putf(&b, "%s%.*s", i ? " " TIMES " " : "*m* = ", S(m));
    }
    if (c->n > 1) put(c, sg_format(a, "%.*s = %.*s", S(sg_buf_str(&b)), S(all)));
    double tall = c->m * c->h_mm / c->unit_mm;
    SgStr h = bracketed(c, sized(c, c->h_mm), GIVEN_DECIMALS), is = with_unit(c, whole(c, sized(c, tall), c->figures));
    put(c, sg_format(a, "*h*\xE2\x80\xB2 = *m* *h* = %.*s " TIMES " %.*s = %.*s", S(carried), S(h), S(is)));
}

/* ---- reading ---- */

static bool read_stage(Chain *c, uint32_t symbol, SgPoint *travel, SgHomogeneous *foot, SgPoint *left, Stage *e)
{
    const SgElement *x = &c->s->thing[symbol].element;
    const SgSurface *f = &x->surface;
    SgKind kind = c->s->figure->scope->symbol[symbol].kind;
    double sense = sg_travel_sense(f, *travel);
    SgConjugate image = sg_conjugate(f, sense, *foot);
    SgPoint entry = sense > 0 ? f->vertex : f->exit;
    if (image.object_far == SG_AT_INFINITY || c->at_infinity || fabs(image.object_distance_mm) < 1e-9) return false;
    *e = (Stage){ .name = sg_plain_name(c->s, symbol), .mirror = kind == SG_KIND_mirror, .plane = x->plane, .boundary = kind == SG_KIND_boundary, .thick = x->thick, .power_per_mm = f->power_per_mm,
        .n1 = sense > 0 ? f->n_before : f->n_after, .n2 = sense > 0 ? f->n_after : f->n_before, .u_mm = image.object_distance_mm, .v_mm = image.distance_mm, .m = image.magnification };
    if (e->mirror) e->n1 = e->n2 = 1;                  /* its equation holds in any medium */
    if (e->mirror && !e->plane) e->power_per_mm = 1 / x->focal_mm;
    e->gap_mm = sg_pt_dot(sg_pt_sub(entry, *left), *travel);
    c->at_infinity = image.far == SG_AT_INFINITY;
    c->m *= image.magnification;
    *left = e->mirror || sense < 0 ? f->vertex : f->exit;
    *foot = sg_image_point(f, sense, *foot);
    *travel = sg_travel_after(f, *travel);
    return e->boundary || e->mirror || (fabs(e->n1 - 1) < 1e-9 && fabs(e->n2 - 1) < 1e-9);
}

static bool read_chain(Chain *c, const SgChain *chain)
{
    SgSolved *s = c->s;
    const SgObject *o = &s->thing[chain->object].object;
    if (s->by_rule || s->figure->scope->symbol[chain->object].kind != SG_KIND_object || o->far) return false;
    SgPoint travel = s->light, left = o->foot;
    SgHomogeneous foot = sg_homogeneous(o->foot);
    c->unit_mm = sg_unit_factor(sg_figure_length_unit(s));
    c->h_mm = o->height_mm;
    c->n = chain->n;
    for (uint32_t i = 0; i < c->n; i++) {
        const SgPoint along = s->thing[chain->by[i]].element.surface.along;
        if (fabs(along.y_mm) > 1e-9 || !read_stage(c, chain->by[i], &travel, &foot, &left, &c->stage[i])) return false;
    }
    return true;
}

uint32_t sg_worked_chain(SgSolved *s, uint32_t image, uint32_t figures, SgStr *line)
{
    Chain c = { .s = s, .k = &s->convention, .figures = figures, .m = 1, .line = line };
    SgChain chain;
    if (!sg_image_chain(s, image, &chain) || !read_chain(&c, &chain)) return 0;
    uint32_t guard = 0;
    while (guard <= MOST_GUARD && !holds_with(&c, guard)) guard++;
    if (guard > MOST_GUARD) return 0;
    bool magnifies = !c.at_infinity && fabs(c.h_mm) > 0;
    for (uint32_t i = 0; i < c.n; i++) {
        given(&c, i);
        if (i > 0) object_distance(&c, i);
        equation(&c, i);
        if (magnifies) magnification(&c, i);
    }
    if (magnifies) together(&c);
    if (!c.at_infinity) put(&c, sg_image_nature(s, &s->thing[image].image));
    return c.nlines;
}
