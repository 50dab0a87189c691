/* What a construction figure must show, checked on its SVG alone. See figure.h. */
#include "figure.h"
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double DEG = 57.29577951308232, POINT = 25.4 / 72;
/* Tolerances in mm and degrees at print size. Coordinates have three decimals, so a line of 10 mm is known to 0.006 degrees. */
static const double ON_DOT = 0.05, ON_TIP = 0.05, ON_AXIS = 0.05, PARALLEL_DEG = 0.01, PARALLEL_MM = 0.002, EQUAL_DEG = 0.02;
static const double HEAD_LEG = 12, HEAD_NONE = 8, HEAD_CLEAR = 3, HEAD_LEAST = 2.2, HEAD_MOST = 2.8;
enum { LINES_MOST = 4000, HEADS_MOST = 4000 };

/* A straight piece of a stroke; k: which piece of its shape. */
typedef struct { SvgPoint a, b; uint32_t rgb, shape, k; bool dashed; } Line;
typedef struct { SvgPoint tip, base, middle; double length; uint32_t rgb; bool used; } Head;
typedef struct {
    const SvgDrawing *d;
    Faults *faults;
    const char *who;
    Line light[LINES_MOST], dashed[LINES_MOST];    /* solid and produced lines in the colours of rays */
    Head head[HEADS_MOST];
    unsigned nlight, ndashed, nhead;
} Seen;
typedef struct { double axis_y, vertex_x; SvgPoint tip; bool reflects; double f; } Frame;     /* f with its sign; 0 plane */

static void fault(Seen *s, const char *fmt, ...)
{
    size_t n = strlen(s->faults->text);
    va_list args;
    va_start(args, fmt);
    n += (size_t)snprintf(s->faults->text + n, sizeof s->faults->text - n, "%s: ", s->who);
    if (n < sizeof s->faults->text) n += (size_t)vsnprintf(s->faults->text + n, sizeof s->faults->text - n, fmt, args);
    if (n < sizeof s->faults->text) snprintf(s->faults->text + n, sizeof s->faults->text - n, "\n");
    va_end(args);
    s->faults->count++;
}

/* ---- geometry ---- */
static double apart(SvgPoint a, SvgPoint b) { return hypot(a.x - b.x, a.y - b.y); }
static double length(const Line *l) { return apart(l->a, l->b); }

/* From p to the endless line. */
static double off_line(const Line *l, SvgPoint p)
{
    return fabs((l->b.x - l->a.x) * (p.y - l->a.y) - (l->b.y - l->a.y) * (p.x - l->a.x)) / length(l);
}

/* How far along the line p's foot lies, from a. */
static double along(const Line *l, SvgPoint p) { return ((l->b.x - l->a.x) * (p.x - l->a.x) + (l->b.y - l->a.y) * (p.y - l->a.y)) / length(l); }

static double off_piece(const Line *l, SvgPoint p)
{
    double t = along(l, p), n = length(l);
    return t < 0 ? apart(l->a, p) : t > n ? apart(l->b, p) : off_line(l, p);
}

static double height_at(const Line *l, double x) { return l->a.y + (l->b.y - l->a.y) * (x - l->a.x) / (l->b.x - l->a.x); }

/* Between two endless lines, 0 to 90. */
static double between_deg(const Line *l, const Line *m)
{
    double x = (l->b.x - l->a.x) * (m->b.x - m->a.x) + (l->b.y - l->a.y) * (m->b.y - m->a.y);
    double y = (l->b.x - l->a.x) * (m->b.y - m->a.y) - (l->b.y - l->a.y) * (m->b.x - m->a.x);
    return atan2(fabs(y), fabs(x)) * DEG;
}

static bool level(const Line *l)
{
    double rise = fabs(l->b.y - l->a.y), run = fabs(l->b.x - l->a.x);
    return rise <= PARALLEL_MM || atan2(rise, run) * DEG <= PARALLEL_DEG;
}

static bool about(double a, double b, double within) { return fabs(a - b) <= within; }

/* ---- what is on the page ---- */
static bool is_grey(uint32_t rgb)
{
    int r = (int)(rgb >> 16 & 255), g = (int)(rgb >> 8 & 255), b = (int)(rgb & 255);
    return rgb > 0xffffff || (abs(r - g) < 30 && abs(g - b) < 30 && abs(r - b) < 30);
}

/* Light is a coloured line of 1 point; produced lines are coloured, dashed and 0.75 point. */
static void sort_lines(Seen *s)
{
    for (uint32_t i = 0; i < s->d->n; i++) {
        const SvgShape *h = &s->d->shape[i];
        if (!h->stroked || h->curved || h->closed || is_grey(h->stroke)) continue;
        bool light = about(h->width, POINT, 0.01) && !h->ndash, dashed = about(h->width, 0.75 * POINT, 0.01) && h->ndash;
        for (uint32_t k = 0; (light || dashed) && k + 1 < h->n; k++) {
            Line l = { h->at[k], h->at[k + 1], h->stroke, i, k, dashed };
            if (length(&l) < 1e-6) continue;
            if (light && s->nlight < LINES_MOST) s->light[s->nlight++] = l;
            if (dashed && s->ndashed < LINES_MOST) s->dashed[s->ndashed++] = l;
        }
    }
}

/* A head is a small filled triangle in the colour of a ray; its tip is the corner farthest from the middle of the others. */
static void sort_heads(Seen *s)
{
    for (uint32_t i = 0; i < s->d->n && s->nhead < HEADS_MOST; i++) {
        const SvgShape *h = &s->d->shape[i];
        if (!h->filled || h->stroked || h->curved || h->n < 3 || is_grey(h->fill)) continue;
        uint32_t n = h->n > 3 && apart(h->at[0], h->at[h->n - 1]) < 1e-6 ? h->n - 1 : h->n;
        if (n != 3) continue;
        Head best = { .length = 0, .rgb = h->fill };
        for (uint32_t k = 0; k < 3; k++) {
            SvgPoint p = h->at[(k + 1) % 3], q = h->at[(k + 2) % 3], base = { (p.x + q.x) / 2, (p.y + q.y) / 2 };
            if (apart(h->at[k], base) <= best.length) continue;
            best.tip = h->at[k];
            best.base = base;
            best.length = apart(h->at[k], base);
        }
        best.middle = (SvgPoint){ (best.tip.x + best.base.x) / 2, (best.tip.y + best.base.y) / 2 };
        s->head[s->nhead++] = best;
    }
}

/* ---- heads ---- */

/* Another ray's line, another leg of this one, or a dot within reach of the leg between two fractions of it. */
static bool busy(const Seen *s, const Line *l, double from, double to)
{
    double n = length(l);
    for (unsigned i = 0; i < s->nlight + s->ndashed; i++) {
        const Line *o = i < s->nlight ? &s->light[i] : &s->dashed[i - s->nlight];
        if (o == l) continue;
        double cross = (l->b.x - l->a.x) * (o->b.y - o->a.y) - (l->b.y - l->a.y) * (o->b.x - o->a.x);
        if (fabs(cross) < 1e-9) continue;
        double t = ((o->a.x - l->a.x) * (o->b.y - o->a.y) - (o->a.y - l->a.y) * (o->b.x - o->a.x)) / cross;
        SvgPoint p = { l->a.x + t * (l->b.x - l->a.x), l->a.y + t * (l->b.y - l->a.y) };
        if (off_piece(o, p) < 0.01 && t * n > from && t * n < to) return true;
    }
    for (uint32_t i = 0; i < s->d->n; i++) {
        const SvgShape *h = &s->d->shape[i];
        if (h->round && h->filled && off_piece(l, h->centre) < h->radius + HEAD_CLEAR && along(l, h->centre) > from && along(l, h->centre) < to) return true;
    }
    for (unsigned i = 0; i < s->nhead; i++) {      /* heads of two rays side by side would read as one */
        const Head *h = &s->head[i];
        double t = along(l, h->middle);
        if (off_line(l, h->middle) > 0.1 && off_line(l, h->middle) < HEAD_CLEAR && t > from && t < to) return true;
    }
    /* The axis, the mirror, arrows: any other straight stroke. */
    for (uint32_t i = 0; i < s->d->n; i++) {
        const SvgShape *h = &s->d->shape[i];
        if (!h->stroked || !is_grey(h->stroke)) continue;
        for (uint32_t k = 0; k + 1 < h->n; k++) {
            Line o = { .a = h->at[k], .b = h->at[k + 1] };
            double cross = (l->b.x - l->a.x) * (o.b.y - o.a.y) - (l->b.y - l->a.y) * (o.b.x - o.a.x);
            if (fabs(cross) < 1e-9) continue;
            double t = ((o.a.x - l->a.x) * (o.b.y - o.a.y) - (o.a.y - l->a.y) * (o.b.x - o.a.x)) / cross;
            SvgPoint p = { l->a.x + t * (l->b.x - l->a.x), l->a.y + t * (l->b.y - l->a.y) };
            if (off_piece(&o, p) < 0.01 && t * n > from && t * n < to) return true;
        }
    }
    return false;
}

static const Line *retraced_by(const Seen *s, const Line *l)
{
    for (unsigned i = 0; i < s->nlight; i++) {
        const Line *o = &s->light[i];
        bool back = (o->b.x - o->a.x) * (l->b.x - l->a.x) + (o->b.y - o->a.y) * (l->b.y - l->a.y) < 0;
        if (o != l && back && o->shape == l->shape && length(o) > 1 && off_line(l, o->a) < 0.02 && off_line(l, o->b) < 0.02) return o;
    }
    return NULL;
}

static void check_place(Seen *s, const Line *l, const Head *h)
{
    double n = length(l), middle = along(l, h->middle), tip = along(l, h->tip);
    double ahead = n - tip, behind = along(l, h->base);
    if (n >= HEAD_LEG && (ahead < HEAD_CLEAR - 0.01 || behind < HEAD_CLEAR - 0.01))
        fault(s, "a head stands %.2f mm from the end of its leg of %.1f mm", ahead < behind ? ahead : behind, n);
    const Line *back = retraced_by(s, l);
    double share = middle / n, least = 0.45, most = 0.60;
    if (back) {
        double common = length(l) < length(back) ? length(l) : length(back);
        /* counted from the bend, where both legs begin or end */
        double from_bend = (apart(l->b, back->a) < 0.5 ? n - middle : middle) / common;
        if (from_bend < 0.29 || from_bend > 0.71) fault(s, "a head of light that comes back stands at %.0f %%", 100 * from_bend);
        return;
    }
    if (n > 90 && share > 0.6) return;             /* the second one of a long leg */
    bool crowded = busy(s, l, 0.45 * n - HEAD_CLEAR - HEAD_MOST / 2, 0.60 * n + HEAD_CLEAR + HEAD_MOST / 2);
    if (crowded) { least = 0.28; most = 0.75; }
    if (n >= HEAD_LEG && (share < least - 0.005 || share > most + 0.005)) fault(s, "a head stands at %.0f %% of its leg of %.1f mm", 100 * share, n);
}

unsigned figure_check_heads(const SvgDrawing *drawing, Faults *faults)
{
    static Seen s;         /* large; the suite is one thread */
    memset(&s, 0, sizeof s);
    s.d = drawing;
    s.faults = faults;
    s.who = "heads";
    sort_lines(&s);
    sort_heads(&s);
    unsigned carried = 0;
    for (unsigned i = 0; i < s.nlight; i++) {
        const Line *l = &s.light[i];
        unsigned on = 0;
        for (unsigned k = 0; k < s.nhead; k++) {
            Head *h = &s.head[k];
            if (h->used || h->rgb != l->rgb || off_piece(l, h->tip) > 0.05 || off_piece(l, h->base) > 0.05) continue;
            if (along(l, h->tip) <= along(l, h->base)) continue;       /* points the other way: the returning light's */
            h->used = true;
            on++;
            if (h->length < HEAD_LEAST || h->length > HEAD_MOST) fault(&s, "a head is %.2f mm long", h->length);
            check_place(&s, l, h);
        }
        if (on) carried++;
        if (length(l) >= HEAD_LEG && !on) fault(&s, "a leg of %.1f mm carries no head", length(l));
        if (length(l) < HEAD_NONE && on) fault(&s, "a leg of %.1f mm carries a head", length(l));
        if (length(l) > 90.01 && on < 2 && !retraced_by(&s, l)) fault(&s, "a leg of %.1f mm carries only one head", length(l));
        if (on > 2) fault(&s, "a leg carries %u heads", on);
    }
    for (unsigned k = 0; k < s.nhead; k++)
        if (!s.head[k].used) fault(&s, "a head at (%.2f, %.2f) stands on no light going its way", s.head[k].middle.x, s.head[k].middle.y);
    return carried;
}

/* ---- axis, object, image ---- */
static bool find_axis(Seen *s, Line *axis)
{
    double longest = 0;
    for (uint32_t i = 0; i < s->d->n; i++) {
        const SvgShape *h = &s->d->shape[i];
        if (!h->stroked || h->n != 2 || !about(h->width, 0.5 * POINT, 0.01)) continue;
        Line l = { h->at[0], h->at[1], h->stroke, i, 0, h->ndash != 0 };
        if (fabs(l.b.x - l.a.x) <= longest || fabs(l.b.x - l.a.x) < 20 * fabs(l.b.y - l.a.y)) continue;
        longest = fabs(l.b.x - l.a.x);
        *axis = l;
    }
    if (!longest) { fault(s, "no axis"); return false; }
    if (axis->a.y != axis->b.y) fault(s, "the axis is not level");
    return true;
}

/* Of an arrow whose shaft is shape i: the point farthest beyond the shaft, on its line, of any filled shape that touches its end. */
static SvgPoint arrow_tip(const Seen *s, SvgPoint foot, SvgPoint end)
{
    SvgPoint tip = end;
    Line shaft = { .a = foot, .b = end };
    for (uint32_t i = 0; i < s->d->n; i++) {
        const SvgShape *h = &s->d->shape[i];
        if (!h->filled || h->stroked || h->curved || h->n < 3) continue;
        double nearest = 1e9;
        for (uint32_t k = 0; k < h->n; k++)
            if (apart(h->at[k], end) < nearest) nearest = apart(h->at[k], end);
        if (nearest > 4) continue;
        for (uint32_t k = 0; k < h->n; k++)
            if (off_line(&shaft, h->at[k]) < 0.02 && along(&shaft, h->at[k]) > along(&shaft, tip)) tip = h->at[k];
    }
    return tip;
}

/* Finds the arrow with its foot at x (any x when it is NAN) whose tip is about `h` above the axis; the nearest one. */
static bool find_arrow(const Seen *s, double axis_y, double x, double h, bool dashed, SvgPoint *foot, SvgPoint *tip)
{
    double best = 1.0;
    for (uint32_t i = 0; i < s->d->n; i++) {
        const SvgShape *p = &s->d->shape[i];
        if (!p->stroked || p->n != 2 || !about(p->width, 1.5 * POINT, 0.01) || dashed != (p->ndash > 0)) continue;
        if (fabs(p->at[0].x - p->at[1].x) > 0.05) continue;
        bool first = fabs(p->at[0].y - axis_y) < fabs(p->at[1].y - axis_y);
        SvgPoint f = p->at[first ? 0 : 1], t = arrow_tip(s, f, p->at[first ? 1 : 0]);
        double off = fabs(axis_y - t.y - h) + (isnan(x) ? 0 : fabs(f.x - x));
        if (off >= best) continue;
        best = off;
        *foot = f;
        *tip = t;
    }
    return best < 1.0;
}

static bool find_dot(const Seen *s, SvgPoint near, SvgPoint *at)
{
    double best = 1.0;
    for (uint32_t i = 0; i < s->d->n; i++) {
        const SvgShape *h = &s->d->shape[i];
        if (!h->round || !h->filled || h->radius < 0.5 || h->radius > 0.6 || apart(h->centre, near) >= best) continue;
        best = apart(h->centre, near);
        *at = h->centre;
    }
    return best < 1.0;
}

bool figure_image(const Facts *x, double *v, double *m)
{
    double f = x->element == CONVEX || x->element == DIVERGING ? -x->f : x->f, p = x->element == PLANE ? 0 : 1 / f;
    if (fabs(1 - p * x->u) < 1e-9) return false;
    *m = 1 / (1 - p * x->u);
    *v = 1 / (p - 1 / x->u);
    return true;
}

/* ---- rays ---- */

/* The line must pass the dot drawn `before` mm in front of the vertex. */
static void passes_dot(Seen *s, const Frame *w, const Line *l, double before, const char *what)
{
    SvgPoint want = { w->vertex_x - before, w->axis_y }, dot;
    if (find_dot(s, want, &dot) && off_line(l, dot) > ON_DOT) fault(s, "a ray misses the dot of %s by %.3f mm", what, off_line(l, dot));
}

static double strike_height(const Facts *x, const Frame *w, char rule)
{
    double q = rule == 'f' ? w->f : 2 * w->f;      /* how far before the vertex the ray's point lies */
    if (rule == 'p') return x->h;
    if (rule == 'v' || !w->reflects) return rule == 'f' ? -x->h * q / (x->u - q) : 0;
    return -x->h * q / (x->u - q);
}

static void check_rule(Seen *s, const Facts *x, const Frame *w, char rule, const Line *in, const Line *out)
{
    double behind = w->reflects ? w->f : -w->f;    /* where light that came parallel goes: mm before the vertex */
    SvgPoint vertex = { w->vertex_x, w->axis_y };
    Line axis = { .a = { 0, w->axis_y }, .b = { 100, w->axis_y } };
    switch (rule) {
    case 'p':
        if (!level(in)) fault(s, "the parallel ray comes in at %.4f degrees", between_deg(in, &axis));
        if (x->element != PLANE) passes_dot(s, w, out, behind, "the focal point");
        break;
    case 'f':
        passes_dot(s, w, in, w->f, "the focal point");
        if (!level(out)) fault(s, "the ray through F leaves at %.4f degrees", between_deg(out, &axis));
        break;
    case 'c':
        if (w->reflects) {
            passes_dot(s, w, in, 2 * w->f, "the centre of curvature");
            passes_dot(s, w, out, 2 * w->f, "the centre of curvature");
        } else {
            if (off_line(in, vertex) > ON_DOT) fault(s, "the ray through the optical centre misses it by %.3f mm", off_line(in, vertex));
        }
        if (between_deg(in, out) > EQUAL_DEG) fault(s, "the ray through the centre is bent by %.4f degrees", between_deg(in, out));
        break;
    case 'v':
        if (off_line(in, vertex) > ON_DOT || off_line(out, vertex) > ON_DOT) fault(s, "the ray to the vertex misses it");
        if (!about(between_deg(in, &axis), between_deg(out, &axis), EQUAL_DEG))
            fault(s, "in at %.4f, out at %.4f degrees", between_deg(in, &axis), between_deg(out, &axis));
        if ((out->b.y > w->axis_y) != (w->tip.y < w->axis_y) || out->b.x > out->a.x)
            fault(s, "the ray to the vertex leaves on the wrong side");
        break;
    default: break;
    }
}

/* The ray that leaves the object's tip and strikes at that height: its way in, and its longest way out. */
static bool find_ray(const Seen *s, const Frame *w, double strike, const Line **in, const Line **out)
{
    *in = *out = NULL;
    for (unsigned i = 0; i < s->nlight; i++) {
        const Line *l = &s->light[i];
        if (apart(l->a, w->tip) > ON_TIP || length(l) < 1 || fabs(l->b.x - l->a.x) < 0.5) continue;
        if (!about(w->axis_y - height_at(l, w->vertex_x), strike, 0.15)) continue;
        *in = l;
        break;
    }
    if (!*in) return false;
    for (unsigned i = 0; i < s->nlight; i++) {
        const Line *l = &s->light[i];
        if (l == *in || l->rgb != (*in)->rgb || length(l) < 1) continue;
        if (!*out || length(l) > length(*out)) *out = l;
    }
    return *out != NULL;
}

/* From the surface to the tip of the image, or past it to the point the ray seems to come from. A ray that is not bent needs
   that only where its own light is not seen already: beyond the object, or not at all. */
static void check_produced(Seen *s, const Line *in, const Line *out, SvgPoint image)
{
    bool straight = between_deg(in, out) < EQUAL_DEG && (in->b.x > in->a.x) == (out->b.x > out->a.x);
    if (straight && off_piece(in, image) < ON_TIP) return;
    SvgPoint from = straight ? in->a : out->a;
    for (unsigned i = 0; i < s->ndashed; i++) {
        const Line *l = &s->dashed[i];
        if (l->rgb == out->rgb && off_piece(l, image) < ON_TIP && (apart(l->a, from) < 0.1 || apart(l->b, from) < 0.1)) return;
    }
    fault(s, "a ray is not produced from the surface to the tip of the virtual image");
}

/* A produced line ends where something is: at its light's start or bend, at a dot, at the tip of the image. */
static void check_ends(Seen *s, bool finite, SvgPoint image)
{
    for (unsigned i = 0; i < 2 * s->ndashed; i++) {
        const Line *l = &s->dashed[i / 2];
        SvgPoint end = i % 2 ? l->b : l->a, dot;
        bool good = (finite && apart(end, image) < 0.1) || (find_dot(s, end, &dot) && apart(end, dot) < 0.1);
        for (unsigned k = 0; k < s->nlight && !good; k++)
            good = s->light[k].rgb == l->rgb && (apart(end, s->light[k].a) < 0.1 || apart(end, s->light[k].b) < 0.1);
        if (!good) fault(s, "a produced line ends in the void at (%.2f, %.2f)", end.x, end.y);
    }
}

static void dot_at(Seen *s, const Frame *w, double before, const char *what)
{
    SvgPoint want = { w->vertex_x - before, w->axis_y }, dot;
    if (!find_dot(s, want, &dot)) fault(s, "no dot for %s", what);
    else if (apart(dot, want) > ON_DOT) fault(s, "the dot of %s is %.3f mm off its place", what, apart(dot, want));
}

static void check_dots(Seen *s, const Facts *x, const Frame *w)
{
    if (x->element == PLANE) return;
    dot_at(s, w, w->f, w->reflects ? "the focal point" : "the first focal point");
    if (!w->reflects) dot_at(s, w, -w->f, "the second focal point");
    else if (strchr(x->rays, 'c')) dot_at(s, w, 2 * w->f, "the centre of curvature");     /* marked where the script speaks of it */
}

static void check_rays(Seen *s, const Facts *x, const Frame *w, bool finite, SvgPoint image, bool is_virtual)
{
    const Line *first = NULL;
    for (const char *rule = x->rays; *rule; rule++) {
        const Line *in, *out;
        double strike = strike_height(x, w, *rule);
        if (!find_ray(s, w, strike, &in, &out)) { fault(s, "no ray %c that strikes %.2f mm up", *rule, strike); continue; }
        check_rule(s, x, w, *rule, in, out);
        if (finite && off_line(out, image) > ON_TIP) fault(s, "ray %c misses the tip of the image by %.3f mm", *rule, off_line(out, image));
        if (finite && is_virtual) check_produced(s, in, out, image);
        if (!finite && first && between_deg(first, out) > PARALLEL_DEG) fault(s, "rays of an image at infinity are %.4f degrees apart", between_deg(first, out));
        first = out;
    }
}

void figure_check(const Facts *x, const SvgDrawing *drawing, Faults *faults)
{
    static Seen s;
    memset(&s, 0, sizeof s);
    s.d = drawing;
    s.faults = faults;
    s.who = x->name;
    if (!drawing->well_formed) { fault(&s, "no sound SVG"); return; }
    sort_lines(&s);
    sort_heads(&s);
    Line axis = { .rgb = 0 };
    SvgPoint foot, tip, want;
    if (!find_axis(&s, &axis)) return;
    if (!find_arrow(&s, axis.a.y, NAN, x->h, false, &foot, &tip)) { fault(&s, "no object %.1f mm high", x->h); return; }
    if (fabs(foot.y - axis.a.y) > ON_AXIS) fault(&s, "the object's foot is %.3f mm off the axis", fabs(foot.y - axis.a.y));
    if (!about(axis.a.y - tip.y, x->h, ON_TIP)) fault(&s, "the object is %.3f mm high", axis.a.y - tip.y);
    Frame w = { axis.a.y, foot.x + x->u, tip, x->element <= PLANE, x->element == PLANE ? 0 : x->element == CONVEX || x->element == DIVERGING ? -x->f : x->f };
    double v, m;
    bool finite = figure_image(x, &v, &m);
    want = (SvgPoint){ 0, 0 };
    if (finite) {
        double before = w.reflects ? v : -v;
        want = (SvgPoint){ w.vertex_x - before, w.axis_y - m * x->h };
        if (!find_arrow(&s, w.axis_y, want.x, m * x->h, v < 0, &foot, &tip)) fault(&s, "no %s image %.1f mm before the element", v < 0 ? "virtual" : "real", before);
        else {
            if (apart(tip, want) > ON_TIP) fault(&s, "the tip of the image is %.3f mm off its place", apart(tip, want));
            if (fabs(foot.y - w.axis_y) > ON_AXIS) fault(&s, "the image's foot is %.3f mm off the axis", fabs(foot.y - w.axis_y));
            want = tip;
        }
    }
    check_dots(&s, x, &w);
    check_rays(&s, x, &w, finite, want, finite && v < 0);
    check_ends(&s, finite, want);
    figure_check_heads(drawing, faults);
}
