/* The looks of a figure, read off its items: what a figure in print owes, over scenes made by hand. In: scene_cases. Out: faults in
   words. Never reads the table of styles: every number here is the one the figure must show. */
#include "layout_scenes.h"
#include "layout/style.h"
#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define PT (25.4 / 72)
typedef struct { SgPoint a, b; double half; const SgItem *of; uint32_t k; } Ink;        /* k: piece of a polyline */
typedef struct { double x0, y0, x1, y1; const SgItem *of; } Words;
typedef struct {
    const char *who;
    const SgPage *page; const SgScene *scene;
    SgPoint shift;             /* page = (x, -y) of the scene + shift */
    Ink *ink; uint32_t nink;
    Words *words; uint32_t nwords;
    unsigned faults;
    bool quiet;
} View;

static void fault(View *v, const char *what, double got)
{
    v->faults++;
    if (!v->quiet) fprintf(stderr, "%s: %s (%.4f)\n", v->who, what, got);
}

static double distance(SgPoint a, SgPoint b) { return hypot(a.x_mm - b.x_mm, a.y_mm - b.y_mm); }
static double to_piece(SgPoint a, SgPoint b, SgPoint p)
{
    double dx = b.x_mm - a.x_mm, dy = b.y_mm - a.y_mm, n = dx * dx + dy * dy;
    double t = n > 0 ? ((p.x_mm - a.x_mm) * dx + (p.y_mm - a.y_mm) * dy) / n : 0;
    t = t < 0 ? 0 : t > 1 ? 1 : t;
    return distance(p, P(a.x_mm + t * dx, a.y_mm + t * dy));
}
static bool crossing(SgPoint a, SgPoint b, SgPoint p, SgPoint q, double *t)
{
    double ux = b.x_mm - a.x_mm, uy = b.y_mm - a.y_mm, wx = q.x_mm - p.x_mm, wy = q.y_mm - p.y_mm, n = ux * wy - uy * wx;
    if (fabs(n) < 1e-9) return false;
    *t = ((p.x_mm - a.x_mm) * wy - (p.y_mm - a.y_mm) * wx) / n;
    double u = ((p.x_mm - a.x_mm) * uy - (p.y_mm - a.y_mm) * ux) / n;
    return *t >= 0 && *t <= 1 && u >= -1e-9 && u <= 1 + 1e-9;
}
static double apart(SgPoint a, SgPoint b, SgPoint p, SgPoint q)
{
    double t, least;
    if (crossing(a, b, p, q, &t)) return 0;
    least = fmin(fmin(to_piece(a, b, p), to_piece(a, b, q)), fmin(to_piece(p, q, a), to_piece(p, q, b)));
    return least;
}

static void add_ink(View *v, SgPoint a, SgPoint b, double half, const SgItem *of, uint32_t k)
{
    v->ink = realloc(v->ink, (v->nink + 1) * sizeof *v->ink);
    v->ink[v->nink++] = (Ink){ a, b, half, of, k };
}

static void read_item(View *v, const SgItem *it)
{
    if (it->shape == SG_ITEM_WORDS) {
        v->words = realloc(v->words, (v->nwords + 1) * sizeof *v->words);
        v->words[v->nwords++] = (Words){ it->xy[0].x_mm, it->xy[0].y_mm - it->words->ascent_mm, it->xy[0].x_mm + it->words->width_mm,
                                         it->xy[0].y_mm + it->words->descent_mm, it };
    } else if (it->shape == SG_ITEM_DISC) {
        add_ink(v, it->xy[0], it->xy[0], it->radius_mm, it, 0);
    } else if (it->shape == SG_ITEM_ARC) {
        SgPoint before = { 0, 0 };
        for (uint32_t i = 0; i <= 200; i++) {          /* y runs down the page, so counter-clockwise as seen is minus the sine */
            double at = (it->from_deg + it->sweep_deg * i / 200) / 57.29577951308232;
            SgPoint here = P(it->xy[0].x_mm + it->radius_mm * cos(at), it->xy[0].y_mm - it->radius_mm * sin(at));
            if (i) add_ink(v, before, here, it->line_mm / 2, it, i - 1);
            before = here;
        }
    } else {
        for (uint32_t i = 0; i + 1 < it->nxy; i++) add_ink(v, it->xy[i], it->xy[i + 1], it->line_mm / 2, it, i);
        if (it->closed) add_ink(v, it->xy[it->nxy - 1], it->xy[0], it->line_mm / 2, it, it->nxy - 1);
    }
}

static View look(const char *who, const SgPage *page, const SgScene *scene)
{
    View v = { .who = who, .page = page, .scene = scene };
    for (uint32_t i = 0; i < page->nitems; i++) read_item(&v, &page->item[i]);
    for (uint32_t i = 0; i < page->nitems; i++)        /* the mirror's or lens' own ink tells where the scene's origin is */
        for (uint32_t k = 0; k < scene->nmarks; k++)
            if (page->item[i].at.start == scene->mark[k].at.start && page->item[i].shape == SG_ITEM_FILL && scene->mark[k].role == SG_ROLE_OBJECT)
                v.shift = P(page->item[i].xy[0].x_mm - scene->mark[k].xy[1].x_mm, page->item[i].xy[0].y_mm + scene->mark[k].xy[1].y_mm);
    return v;
}
static void done(View *v) { free(v->ink); free(v->words); }

static SgPoint on_page(const View *v, SgPoint p) { return P(p.x_mm + v->shift.x_mm, v->shift.y_mm - p.y_mm); }
static const SgMark *mark_of(const View *v, const SgItem *it)
{
    for (uint32_t k = 0; k < v->scene->nmarks; k++)
        if (v->scene->mark[k].at.start == it->at.start) return &v->scene->mark[k];
    return NULL;
}
static bool is_arrow(SgRole r) { return r == SG_ROLE_OBJECT || r == SG_ROLE_REAL_IMAGE || r == SG_ROLE_VIRTUAL_IMAGE; }

/* ---- what optics decided stands where it stood ---- */
static void check_places(View *v)
{
    for (uint32_t i = 0; i < v->page->nitems; i++) {
        const SgItem *it = &v->page->item[i];
        const SgMark *m = mark_of(v, it);
        if (!m) { fault(v, "an item belongs to no mark", it->at.start); continue; }
        if (it->step != m->step) fault(v, "an item comes with another step than its mark", it->step);
        if (it->shape == SG_ITEM_DISC && distance(it->xy[0], on_page(v, m->xy[0])) > 1e-6) fault(v, "a dot was moved", distance(it->xy[0], on_page(v, m->xy[0])));
        if (it->shape == SG_ITEM_STROKE && (m->role == SG_ROLE_RAY || m->role == SG_ROLE_PRODUCED) && v->scene->frame_w_mm <= 0) {
            if (it->nxy != m->nxy) fault(v, "a ray lost a bend", it->nxy);
            for (uint32_t k = 0; k < m->nxy; k++)
                if (distance(it->xy[k], on_page(v, m->xy[k])) > 1e-6) fault(v, "a ray was moved", distance(it->xy[k], on_page(v, m->xy[k])));
        }
        if (it->shape == SG_ITEM_FILL && is_arrow(m->role)) {
            SgPoint foot = on_page(v, m->xy[0]), tip = on_page(v, m->xy[1]);
            double h = distance(foot, tip);
            if (distance(it->xy[0], tip) > 1e-6) fault(v, "the head's tip is not the arrow's", distance(it->xy[0], tip));
            for (uint32_t k = 0; k < it->nxy; k++) {
                double up = ((it->xy[k].x_mm - foot.x_mm) * (tip.x_mm - foot.x_mm) + (it->xy[k].y_mm - foot.y_mm) * (tip.y_mm - foot.y_mm)) / h;
                if (up > h + 1e-6) fault(v, "a head adds to the height", up - h);
                if (up < h - 3.0 - 1e-6 || up < 0.6 * h - 1e-6) fault(v, "a head is too long for its arrow", h - up);
            }
        }
        if (it->shape == SG_ITEM_STROKE && is_arrow(m->role) && distance(it->xy[0], on_page(v, m->xy[0])) > 1e-6) fault(v, "an arrow's foot was moved", 0);
    }
}

/* ---- widths and dashes ---- */
static double width_due(const SgItem *it, const SgMark *m)
{
    bool whole = it->shape == SG_ITEM_ARC || fabs(it->line_mm - 1.0 * PT) < 1e-9;
    switch (m->role) {
    case SG_ROLE_RAY: return 1.0 * PT;
    case SG_ROLE_PRODUCED: return 0.75 * PT;
    case SG_ROLE_OBJECT: case SG_ROLE_REAL_IMAGE: case SG_ROLE_VIRTUAL_IMAGE: return 1.5 * PT;
    case SG_ROLE_MIRROR: return whole ? 1.0 * PT : 0.5 * PT;           /* its line, its hatching */
    case SG_ROLE_LENS: case SG_ROLE_SURFACE: case SG_ROLE_GLASS: return 1.0 * PT;
    case SG_ROLE_STOP: case SG_ROLE_SCREEN: return 1.5 * PT;
    case SG_ROLE_EYE: return 0.75 * PT;
    case SG_ROLE_TICK: return 0.75 * PT;
    case SG_ROLE_NORMAL: case SG_ROLE_LINE: case SG_ROLE_CIRCLE: case SG_ROLE_PROTRACTOR: case SG_ROLE_RULER: case SG_ROLE_GRID:
    case SG_ROLE_CROSS_AXIS: case SG_ROLE_BREAK: return 0.5 * PT;
    case SG_ROLE_AXIS: case SG_ROLE_AID: case SG_ROLE_DIMENSION: case SG_ROLE_ANGLE: case SG_ROLE_POINT: case SG_ROLE_LABEL: case SG_ROLE_NOTE: return 0.5 * PT;
    }
    return 0;
}

static void check_dash(View *v, const SgItem *it, const SgMark *m)
{
    double on = it->ndash ? it->dash_mm[0] : 0, off = it->ndash ? it->dash_mm[1] : 0, n = distance(it->xy[0], it->xy[1]);
    bool is_virtual = m->role == SG_ROLE_PRODUCED || m->role == SG_ROLE_VIRTUAL_IMAGE;
    if (is_virtual != (it->ndash == 2 && fabs(on / off - 2) < 1e-9)) fault(v, "the virtual dash is not where it belongs", it->role);
    if (m->role == SG_ROLE_AXIS && (it->ndash != 4 || fabs(on / off - 6) > 1e-9)) fault(v, "the axis is no chain line", on);
    if (!it->ndash) return;
    double period = 0;
    for (int i = 0; i < it->ndash; i++) period += it->dash_mm[i];
    double whole = (n - on) / period;
    if (fabs(whole - round(whole)) > 1e-6) fault(v, "a dashed line does not end on a dash", whole);
    if (is_virtual && n > 8 && (on < 1.6 || on > 2.4)) fault(v, "a virtual dash is not 2 mm", on);
}

static void check_strokes(View *v)
{
    for (uint32_t i = 0; i < v->page->nitems; i++) {
        const SgItem *it = &v->page->item[i];
        const SgMark *m = mark_of(v, it);
        if (!m || (it->shape != SG_ITEM_STROKE && it->shape != SG_ITEM_ARC)) continue;
        if (fabs(it->line_mm - width_due(it, m)) > 1e-9) fault(v, "a line has another width than its role's", it->line_mm / PT);
        if (it->shape == SG_ITEM_STROKE) check_dash(v, it, m);
    }
}

/* ---- hatching ---- */
static void check_hatch(View *v)
{
    uint32_t seen = 0;
    double first = 1e9, last = -1e9, half = 0;
    for (uint32_t i = 0; i < v->page->nitems; i++) {
        const SgItem *it = &v->page->item[i];
        const SgMark *m = mark_of(v, it);
        if (!m || m->role != SG_ROLE_MIRROR || it->shape != SG_ITEM_STROKE || it->line_mm > 0.6 * PT) continue;
        SgPoint foot = it->xy[0], end = it->xy[1], vertex = on_page(v, m->xy[0]), back = { 1, 0 };
        double r = m->radius_mm, depth, on;
        half = m->curved ? fabs(r) * asin(m->half_mm / fabs(r)) : m->half_mm;
        if (m->curved) {
            SgPoint centre = P(vertex.x_mm - r, vertex.y_mm);
            on = distance(foot, centre) - fabs(r);
            back = P((foot.x_mm - centre.x_mm) / r, (foot.y_mm - centre.y_mm) / r);
        } else {
            on = foot.x_mm - vertex.x_mm;
        }
        depth = (end.x_mm - foot.x_mm) * back.x_mm + (end.y_mm - foot.y_mm) * back.y_mm;
        if (fabs(on) > 1e-3) fault(v, "a hatch line does not begin on the mirror", on);
        if (fabs(distance(foot, end) - 2.0) > 1e-6) fault(v, "a hatch line is not 2 mm", distance(foot, end));
        if (fabs(depth - 2.0 * sqrt(0.5)) > 1e-3) fault(v, "a hatch line does not lean 45 degrees to the back", depth);
        SgPoint ends[2] = { foot, end };
        for (int k = 0; k < 2; k++) {                  /* along the surface from its middle */
            double s = ends[k].y_mm - vertex.y_mm;
            if (m->curved) s = r * atan2(ends[k].y_mm - vertex.y_mm, ends[k].x_mm - (vertex.x_mm - r));
            if (m->curved && r < 0) s = -r * atan2(ends[k].y_mm - vertex.y_mm, vertex.x_mm - r - ends[k].x_mm);
            first = fmin(first, s);
            last = fmax(last, s);
        }
        seen++;
    }
    if (!seen) return;
    if (fabs(first + half - 1) > 0.05 || fabs(half - last - 1) > 0.05) fault(v, "the hatching does not begin 1 mm in from the mirror's ends", first + half);
    double pitch = (last - first - 2.0 * sqrt(0.5)) / (seen - 1);
    if (pitch < 1.6 || pitch > 2.0) fault(v, "the hatching's pitch", pitch);
}

/* ---- heads ---- */
typedef struct { SgPoint back, tip; const SgItem *it; bool used; } Head;

static bool on_leg(const Head *h, SgPoint a, SgPoint b)
{
    double n = distance(a, b), ux = (b.x_mm - a.x_mm) / n, uy = (b.y_mm - a.y_mm) / n;
    return to_piece(a, b, h->tip) < 0.01 && to_piece(a, b, h->back) < 0.01 && (h->tip.x_mm - h->back.x_mm) * ux + (h->tip.y_mm - h->back.y_mm) * uy > 0;
}

static bool pair_leg(const SgMark *m, uint32_t k) { return m->retraced && m->nxy == 3 && k < 2; }

/* Whether something crosses or dots the middle of a leg, so that a head may leave it. */
static bool crowded(const View *v, const SgItem *ray, uint32_t k)
{
    SgPoint a = ray->xy[k], b = ray->xy[k + 1];
    double n = distance(a, b), t;
    for (uint32_t i = 0; i < v->nink; i++) {
        const Ink *o = &v->ink[i];
        if (o->of->at.start == ray->at.start) continue;
        if (o->of->shape == SG_ITEM_DISC) {
            t = ((o->a.x_mm - a.x_mm) * (b.x_mm - a.x_mm) + (o->a.y_mm - a.y_mm) * (b.y_mm - a.y_mm)) / (n * n);
            if (to_piece(a, b, o->a) > 5) continue;
        } else if (o->of->role == SG_ROLE_RAY && o->of->shape == SG_ITEM_FILL) {
            t = ((o->a.x_mm - a.x_mm) * (b.x_mm - a.x_mm) + (o->a.y_mm - a.y_mm) * (b.y_mm - a.y_mm)) / (n * n);
            if (to_piece(a, b, o->a) > 3) continue;
        } else if (!crossing(a, b, o->a, o->b, &t)) continue;
        if (t * n > 0.45 * n - 5 && t * n < 0.60 * n + 5) return true;
    }
    return false;
}

static void check_head_room(View *v, const Head *h, const SgItem *ray, uint32_t k)
{
    SgPoint a = ray->xy[k], b = ray->xy[k + 1];
    double n = distance(a, b), from = distance(a, h->back), to = distance(a, h->tip), t;
    if (from < 3 - 1e-6 || n - to < 3 - 1e-6) fault(v, "a head stands under 3 mm from a bend", fmin(from, n - to));
    for (uint32_t i = 0; i < v->nink; i++) {
        const Ink *o = &v->ink[i];
        SgRole role = o->of->role;
        if (o->of->at.start == ray->at.start || (role == SG_ROLE_MIRROR && o->of->line_mm < 0.6 * PT)) continue;
        if (o->of->shape == SG_ITEM_DISC) {
            double gap = apart(h->back, h->tip, o->a, o->b) - o->half;
            if (gap < 3 - 1e-6) fault(v, "a head stands under 3 mm from a dot", gap);
        } else if (o->of->shape != SG_ITEM_FILL && !(o->of->role == SG_ROLE_POINT) && crossing(a, b, o->a, o->b, &t)) {
            double at = t * n, gap = at < from ? from - at : at > to ? at - to : 0;
            if (gap < 3 - 1e-6 && !mark_of(v, o->of)->equal && role != SG_ROLE_ANGLE) fault(v, "a head stands under 3 mm from a crossing", gap);
        }
    }
    for (uint32_t i = 0; i < v->nwords; i++) {
        const Words *w = &v->words[i];
        SgPoint c[4] = { P(w->x0, w->y0), P(w->x1, w->y0), P(w->x1, w->y1), P(w->x0, w->y1) };
        for (int e = 0; e < 4; e++) {
            double gap = apart(h->back, h->tip, c[e], c[(e + 1) % 4]);
            if (gap < 3 - 0.01) { fault(v, "words stand under 3 mm from a head", gap); break; }
        }
    }
}

static void check_leg(View *v, Head *head, uint32_t nheads, const SgItem *ray, uint32_t k)
{
    const SgMark *m = mark_of(v, ray);
    SgPoint a = ray->xy[k], b = ray->xy[k + 1];
    double n = distance(a, b);
    unsigned on = 0;
    bool middle = false;
    for (uint32_t i = 0; i < nheads; i++) {
        Head *h = &head[i];
        if (h->it->light != ray->light || h->it->at.start != ray->at.start || !on_leg(h, a, b)) continue;
        double share = (distance(a, h->back) + distance(a, h->tip)) / 2 / n, way = ray->light_from_mm;
        for (uint32_t j = 0; j < k; j++) way += distance(ray->xy[j], ray->xy[j + 1]);
        way += distance(a, h->tip);
        if (fabs(way - h->it->light_from_mm) > 1e-6) fault(v, "a head is revealed before or after its light", way - h->it->light_from_mm);
        if (h->it->rgb != ray->rgb) fault(v, "a head has not its ray's colour", 0);
        h->used = true;
        on++;
        check_head_room(v, h, ray, k);
        middle = middle || (share >= 0.45 - 1e-6 && distance(a, h->tip) / n <= 0.60 + 1e-6) || (share > 0.29 && share < 0.73 && crowded(v, ray, k));
    }
    if (pair_leg(m, k)) {
        if (on != 1) fault(v, "light that comes back has not one head each way", on);
        return;
    }
    if (n >= 12 && on < 1) fault(v, "a leg of 12 mm or more has no head", n);
    if (n >= 12 && on >= 1 && !middle) fault(v, "no head of a leg stands at 45 to 60 %", n);
    if (n < 8 && on) fault(v, "a leg under 8 mm has a head", n);
    if (on != (n > 90 ? 2u : 1u) && n >= 12) fault(v, "the number of heads on a leg", on);
}

static void check_heads(View *v)
{
    Head head[64];
    uint32_t n = 0;
    for (uint32_t i = 0; i < v->page->nitems && n < 64; i++) {
        const SgItem *it = &v->page->item[i];
        if (it->shape != SG_ITEM_FILL || (it->role != SG_ROLE_RAY && it->role != SG_ROLE_PRODUCED)) continue;
        if (it->nxy != 3) { fault(v, "a head is no closed triangle", it->nxy); continue; }
        Head h = { P((it->xy[1].x_mm + it->xy[2].x_mm) / 2, (it->xy[1].y_mm + it->xy[2].y_mm) / 2), it->xy[0], it, false };
        double length = distance(h.back, h.tip), width = distance(it->xy[1], it->xy[2]);
        if (length < 2.2 || length > 2.8 || width / length < 0.35 || width / length > 0.45) fault(v, "a head's size", length);
        head[n++] = h;
    }
    for (uint32_t i = 0; i < v->page->nitems; i++) {
        const SgItem *it = &v->page->item[i];
        if (it->shape != SG_ITEM_STROKE || it->role != SG_ROLE_RAY) continue;
        for (uint32_t k = 0; k + 1 < it->nxy; k++) check_leg(v, head, n, it, k);
    }
    for (uint32_t i = 0; i < n; i++)
        if (!head[i].used) fault(v, "a head stands on no light that goes its way", head[i].tip.x_mm);
}

/* ---- words ---- */
static bool is_leader_of(const Ink *o, const Words *w)
{
    if (o->of->at.start != w->of->at.start || o->of->shape != SG_ITEM_STROKE) return false;
    double dx = fmax(fmax(w->x0 - o->a.x_mm, o->a.x_mm - w->x1), 0), dy = fmax(fmax(w->y0 - o->a.y_mm, o->a.y_mm - w->y1), 0);
    return hypot(dx, dy) < 0.99 && fabs(o->of->line_mm - 0.5 * PT) < 1e-9;
}

static void check_words(View *v)
{
    for (uint32_t i = 0; i < v->nwords; i++) {
        const Words *w = &v->words[i];
        if (w->of->rgb != 0x091A20) fault(v, "words are not in ink", w->of->rgb);
        SgPoint c[4] = { P(w->x0, w->y0), P(w->x1, w->y0), P(w->x1, w->y1), P(w->x0, w->y1) };
        for (uint32_t k = 0; k < v->nink; k++) {
            const Ink *o = &v->ink[k];
            if (is_leader_of(o, w)) continue;
            double gap = 1e9;
            for (int e = 0; e < 4; e++) gap = fmin(gap, apart(c[e], c[(e + 1) % 4], o->a, o->b) - o->half);
            if (o->a.x_mm > w->x0 && o->a.x_mm < w->x1 && o->a.y_mm > w->y0 && o->a.y_mm < w->y1) gap = 0;
            bool own_leader_elsewhere = fabs(o->of->line_mm - 0.5 * PT) < 1e-9 && o->of->role != SG_ROLE_MIRROR;
            if (gap < (own_leader_elsewhere ? 0.95 : 0.99)) fault(v, "words stand under 1 mm from a line", gap);
        }
        for (uint32_t k = i + 1; k < v->nwords; k++) {
            const Words *o = &v->words[k];
            double dx = fmax(fmax(w->x0 - o->x1, o->x0 - w->x1), 0), dy = fmax(fmax(w->y0 - o->y1, o->y0 - w->y1), 0);
            if (hypot(dx, dy) < 0.99) fault(v, "words stand under 1 mm from other words", hypot(dx, dy));
        }
    }
}

/* ---- measures ---- */
static void check_measures(View *v)
{
    for (uint32_t i = 0; i < v->nink; i++)             /* nothing is drawn twice: it would show as a heavier line */
        for (uint32_t k = i + 1; k < v->nink; k++) {
            const Ink *a = &v->ink[i], *b = &v->ink[k];
            if (a->of->role != SG_ROLE_DIMENSION || b->of->role != SG_ROLE_DIMENSION || a->of->shape != SG_ITEM_STROKE || b->of->shape != SG_ITEM_STROKE) continue;
            double ux = a->b.x_mm - a->a.x_mm, uy = a->b.y_mm - a->a.y_mm, n = hypot(ux, uy);
            double off = fmax(fabs(ux * (b->a.y_mm - a->a.y_mm) - uy * (b->a.x_mm - a->a.x_mm)), fabs(ux * (b->b.y_mm - a->a.y_mm) - uy * (b->b.x_mm - a->a.x_mm))) / n;
            double s = ((b->a.x_mm - a->a.x_mm) * ux + (b->a.y_mm - a->a.y_mm) * uy) / n, t = ((b->b.x_mm - a->a.x_mm) * ux + (b->b.y_mm - a->a.y_mm) * uy) / n;
            double over = fmin(fmax(s, t), n) - fmax(fmin(s, t), 0);
            if (off < 0.05 && over > 0.05) fault(v, "two measures draw one line", over);
        }
    for (uint32_t k = 0; k < v->scene->nmarks; k++) {
        const SgMark *m = &v->scene->mark[k];
        if (m->role != SG_ROLE_DIMENSION) continue;
        SgPoint a = on_page(v, m->xy[0]), b = on_page(v, m->xy[1]);
        double n = distance(a, b), ux = (b.x_mm - a.x_mm) / n, uy = (b.y_mm - a.y_mm) / n;
        unsigned at_a = 0, at_b = 0, heads = 0;
        for (uint32_t i = 0; i < v->page->nitems; i++) {
            const SgItem *it = &v->page->item[i];
            if (it->at.start != m->at.start || it->shape != SG_ITEM_FILL) continue;
            double s = (it->xy[0].x_mm - a.x_mm) * ux + (it->xy[0].y_mm - a.y_mm) * uy;
            double away = fabs((it->xy[0].x_mm - a.x_mm) * uy - (it->xy[0].y_mm - a.y_mm) * ux);
            heads++;
            at_a += fabs(s) < 1e-6;
            at_b += fabs(s - n) < 1e-6;
            if (away < 5.9) fault(v, "a measure stands on what it measures", away);
        }
        if (heads != 2 || at_a != 1 || at_b != 1) fault(v, "a measure's heads are not at its ends", heads);
    }
}

static void check_angles(View *v)
{
    for (uint32_t i = 0; i < v->page->nitems; i++) {
        const SgItem *a = &v->page->item[i];
        if (a->shape != SG_ITEM_ARC || a->role != SG_ROLE_ANGLE) continue;
        if (fabs(a->sweep_deg) < 12 && a->radius_mm < 14 - 1e-9) fault(v, "a small angle's arc is under 14 mm", a->radius_mm);
        if (a->radius_mm < 6) fault(v, "an arc is under 6 mm", a->radius_mm);
        for (uint32_t k = i + 1; k < v->page->nitems; k++) {
            const SgItem *b = &v->page->item[k];
            if (b->shape != SG_ITEM_ARC || b->role != SG_ROLE_ANGLE) continue;
            uint32_t ea = mark_of(v, a)->equal, eb = mark_of(v, b)->equal;
            bool same = ea && ea == eb;
            if (same && fabs(a->radius_mm - b->radius_mm) > 1e-9) fault(v, "equal angles differ in radius", b->radius_mm);
            if (!same && distance(a->xy[0], b->xy[0]) < 0.05 && fabs(a->radius_mm - b->radius_mm) < 2 - 1e-9) fault(v, "different angles at one vertex share a radius", b->radius_mm);
        }
        uint32_t ticks = 0;
        for (uint32_t k = 0; k < v->page->nitems; k++) {
            const SgItem *t = &v->page->item[k];
            if (t->shape != SG_ITEM_STROKE || t->at.start != a->at.start) continue;
            double r0 = distance(t->xy[0], a->xy[0]), r1 = distance(t->xy[1], a->xy[0]);
            ticks += fabs((r0 + r1) / 2 - a->radius_mm) < 1e-6 && fabs(fabs(r1 - r0) - distance(t->xy[0], t->xy[1])) < 1e-6;
        }
        if (ticks != mark_of(v, a)->equal) fault(v, "an arc's ticks do not tell its group", ticks);
    }
}

/* ---- the page ---- */
static void check_page(View *v)
{
    double x0 = 1e9, y0 = 1e9, x1 = -1e9, y1 = -1e9;
    for (uint32_t i = 0; i < v->nink; i++) {
        const Ink *o = &v->ink[i];
        x0 = fmin(x0, fmin(o->a.x_mm, o->b.x_mm) - o->half); x1 = fmax(x1, fmax(o->a.x_mm, o->b.x_mm) + o->half);
        y0 = fmin(y0, fmin(o->a.y_mm, o->b.y_mm) - o->half); y1 = fmax(y1, fmax(o->a.y_mm, o->b.y_mm) + o->half);
    }
    for (uint32_t i = 0; i < v->nwords; i++) {
        x0 = fmin(x0, v->words[i].x0); x1 = fmax(x1, v->words[i].x1);
        y0 = fmin(y0, v->words[i].y0); y1 = fmax(y1, v->words[i].y1);
    }
    bool fixed = v->scene->frame_w_mm > 0;
    if (fixed && (fabs(v->page->w_mm - v->scene->frame_w_mm) > 1e-9 || fabs(v->page->h_mm - v->scene->frame_h_mm) > 1e-9)) fault(v, "the frame is not the author's", v->page->w_mm);
    if (!fixed) {
        double gap[4] = { x0, y0, v->page->w_mm - x1, v->page->h_mm - y1 };
        for (int i = 0; i < 4; i++)
            if (fabs(gap[i] - 6) > 0.02) fault(v, "the frame is not 6 mm away", gap[i]);
    }
    for (uint32_t i = 1; i < v->page->nitems; i++) {
        const SgItem *a = &v->page->item[i - 1], *b = &v->page->item[i];
        if (b->step < a->step) fault(v, "items are not in the order of steps", b->step);
        if (b->step == a->step && a->shape == SG_ITEM_WORDS && b->shape != SG_ITEM_WORDS) fault(v, "words are drawn under something", i);
        if (b->step == a->step && a->role == SG_ROLE_RAY && b->role == SG_ROLE_PRODUCED) fault(v, "a produced line is drawn over light", i);
    }
    uint32_t most = 1;
    for (uint32_t i = 0; i < v->page->nsteps; i++) {
        const SgPageStep *s = &v->page->step[i];
        if (s->nlines > most) most = s->nlines;
        for (uint32_t k = 0; k < s->nlines; k++)
            if (s->line[k].width_mm > v->page->w_mm - 8) fault(v, "a caption line is wider than the frame", s->line[k].width_mm);
    }
    if (v->page->nsteps && v->page->strip_mm < most * v->page->caption_lead_mm) fault(v, "the strip does not hold the longest caption", v->page->strip_mm);
    if (fabs(v->page->caption_size_mm - 11 * PT) > 1e-9) fault(v, "captions are not 11 point", v->page->caption_size_mm / PT);
}

static void check_all(View *v)
{
    check_places(v);
    check_strokes(v);
    check_hatch(v);
    check_heads(v);
    check_words(v);
    check_measures(v);
    check_angles(v);
    check_page(v);
}

/* ---- the tests ---- */
typedef struct { SgArena arena; jmp_buf out; SgCompile c; } Bench;
static void start(Bench *b)
{
    *b = (Bench){ 0 };
    b->arena.out = &b->out;
    b->c.arena = &b->arena;
    sg_names_init(&b->c.names, &b->arena);
}
static unsigned said(const Bench *b, SgCode code)
{
    unsigned n = 0;
    for (uint32_t i = 0; i < b->c.diags.n; i++) n += b->c.diags.v[i].code == code;
    return n;
}

Test(layout, figures_look_as_they_must)
{
    for (uint32_t i = 0; i < SCENE_CASES; i++) {
        Bench b;
        start(&b);
        if (setjmp(b.out)) cr_assert_fail("out of memory");
        SgScene scene = scene_of(&b.c, &scene_cases[i]);
        View v = look(scene_cases[i].name, sg_layout(&b.c, &scene), &scene);
        check_all(&v);
        cr_expect(v.faults == 0, "%s: %u faults", v.who, v.faults);
        cr_expect(v.nwords >= 4 && v.nink > 30, "%s: nothing to look at", v.who);
        cr_expect(b.c.diags.n == 0, "%s: %.*s", v.who, b.c.diags.n ? (int)b.c.diags.v[0].text.n : 0, b.c.diags.n ? b.c.diags.v[0].text.s : "");
        done(&v);
        sg_arena_free(&b.arena);
    }
}

/* The checks above see a damaged figure: each damage to a good page, and what it must set off. */
typedef enum { BEND_RAY, THIN_RAY, MOVE_DOT, DROP_HEAD, SLIDE_HEAD, TURN_HEAD, FLIP_HATCH, WORDS_ON_RAY, WORDS_COLOURED, LONG_DASH,
               MOVE_TIP, SHIFT_MEASURE, EQUAL_RADII, EARLY_HEAD, TIGHT_FRAME, LATE_WORDS, DAMAGES } Damage;
static bool is_role(const SgItem *it, SgRole role, SgItemShape shape) { return it->role == role && it->shape == shape; }
static void nudge(SgItem *it, uint32_t k, double dx, double dy)
{
    SgPoint *xy = (SgPoint *)it->xy;                   /* in the page's arena, and the page is this test's own */
    for (uint32_t i = 0; i < it->nxy; i++)
        if (k == UINT32_MAX || i == k) xy[i] = P(xy[i].x_mm + dx, xy[i].y_mm + dy);
}
static bool damage(SgPage *page, SgItem *it, Damage what)
{
    bool head = is_role(it, SG_ROLE_RAY, SG_ITEM_FILL), ray = is_role(it, SG_ROLE_RAY, SG_ITEM_STROKE);
    switch (what) {
    case BEND_RAY: if (ray) nudge(it, 1, 0, 0.05); return ray;
    case THIN_RAY: if (ray) it->line_mm *= 0.9; return ray;
    case MOVE_DOT: if (it->shape == SG_ITEM_DISC) nudge(it, 0, 0.2, 0); return it->shape == SG_ITEM_DISC;
    case DROP_HEAD: if (head) it->role = SG_ROLE_NOTE; return head;
    case SLIDE_HEAD: if (head) nudge(it, UINT32_MAX, 25, 0); return head;
    case TURN_HEAD:
        if (head) { nudge(it, 0, 0, 0); SgPoint *xy = (SgPoint *)it->xy, base = P((xy[1].x_mm + xy[2].x_mm) / 2, (xy[1].y_mm + xy[2].y_mm) / 2); xy[0] = P(2 * base.x_mm - xy[0].x_mm, 2 * base.y_mm - xy[0].y_mm); }
        return head;
    case FLIP_HATCH:
        if (!is_role(it, SG_ROLE_MIRROR, SG_ITEM_STROKE) || it->line_mm > 0.6 * PT) return false;
        nudge(it, 1, -2.828, 0);
        return true;
    case WORDS_ON_RAY:
        if (it->shape != SG_ITEM_WORDS) return false;
        for (uint32_t i = 0; i < page->nitems; i++)
            if (is_role(&page->item[i], SG_ROLE_RAY, SG_ITEM_STROKE)) {
                SgPoint on = P((page->item[i].xy[0].x_mm + page->item[i].xy[1].x_mm) / 2, (page->item[i].xy[0].y_mm + page->item[i].xy[1].y_mm) / 2);
                nudge(it, 0, on.x_mm - it->xy[0].x_mm, on.y_mm - it->xy[0].y_mm);
            }
        return true;
    case WORDS_COLOURED: if (it->shape == SG_ITEM_WORDS) it->rgb = 0xE45753; return it->shape == SG_ITEM_WORDS;
    case LONG_DASH: if (it->ndash == 2) it->dash_mm[0] *= 1.07; return it->ndash == 2;
    case MOVE_TIP: if (is_role(it, SG_ROLE_REAL_IMAGE, SG_ITEM_FILL)) nudge(it, 0, 0, 0.1); return is_role(it, SG_ROLE_REAL_IMAGE, SG_ITEM_FILL);
    case SHIFT_MEASURE: if (is_role(it, SG_ROLE_DIMENSION, SG_ITEM_FILL)) nudge(it, UINT32_MAX, 0.1, 0); return is_role(it, SG_ROLE_DIMENSION, SG_ITEM_FILL);
    case EQUAL_RADII: if (is_role(it, SG_ROLE_ANGLE, SG_ITEM_ARC)) it->radius_mm += 1; return is_role(it, SG_ROLE_ANGLE, SG_ITEM_ARC);
    case EARLY_HEAD: if (head) it->light_from_mm -= 1; return head;
    case TIGHT_FRAME: page->w_mm -= 0.5; return true;
    case LATE_WORDS: it->step = 9; return true;
    case DAMAGES: break;
    }
    return false;
}

Test(layout, checks_see_damage)
{
    for (volatile int what = 0; what < DAMAGES; what++) {
        Bench b;
        start(&b);
        if (setjmp(b.out)) cr_assert_fail("out of memory");
        const char *dashed = "concave mirror, object inside F";
        const SceneCase *which = what == LONG_DASH ? &scene_cases[1] : &scene_cases[0];
        cr_assert(what != LONG_DASH || !strcmp(which->name, dashed));
        SgScene scene = scene_of(&b.c, which);
        SgPage *page = sg_layout(&b.c, &scene);
        View good = look(which->name, page, &scene);
        check_all(&good);
        cr_expect(good.faults == 0, "damage %d starts from a page with faults", what);
        bool hit = false;
        for (uint32_t i = 0; i < page->nitems && !hit; i++) hit = damage(page, &page->item[i], (Damage)what);
        cr_expect(hit, "damage %d found nothing to damage", what);
        View bad = look(which->name, page, &scene);
        bad.quiet = true;
        bad.shift = good.shift;
        check_all(&bad);
        cr_expect(bad.faults > 0, "damage %d is not seen", what);
        done(&good);
        done(&bad);
        sg_arena_free(&b.arena);
    }
}

static uint64_t print_of(const SgPage *page)           /* every number of every item, bit by bit */
{
    uint64_t h = 1469598103934665603u;
    for (uint32_t i = 0; i < page->nitems; i++) {
        const SgItem *it = &page->item[i];
        double numbers[6] = { it->line_mm, it->radius_mm, it->from_deg, it->sweep_deg, it->light_from_mm, it->dash_mm[0] };
        const unsigned char *bytes = (const unsigned char *)numbers;
        for (size_t k = 0; k < sizeof numbers; k++) h = (h ^ bytes[k]) * 1099511628211u;
        bytes = (const unsigned char *)it->xy;
        for (size_t k = 0; k < it->nxy * sizeof(SgPoint); k++) h = (h ^ bytes[k]) * 1099511628211u;
    }
    return h;
}

static SgPage *lay(Bench *b, const SceneCase *which)
{
    SgScene scene = scene_of(&b->c, which);
    return sg_layout(&b->c, &scene);
}

static void small_arrows(Make *k)
{
    const double height[] = { 1, 3, 6, 20, -2, 0 };
    for (int i = 0; i < 6; i++) mark(k, i % 3 == 0 ? SG_ROLE_OBJECT : i % 3 == 1 ? SG_ROLE_REAL_IMAGE : SG_ROLE_VIRTUAL_IMAGE, 0, "",
                                     AT(P(30 * i, 0), P(30 * i, height[i])));
}
static void crowd(Make *k)
{
    for (int i = 0; i < 14; i++)
        for (int j = 0; j < 14; j++) mark(k, SG_ROLE_POINT, 0, "keeper's quarters", AT(P(2 * i, 2 * j)));
}
static void strange(Make *k) { mark(k, SG_ROLE_POINT, 0, "\xE6\xB5\xB7", AT(P(0, 0))); }
static void short_measures(Make *k)
{
    axis_and_dots(k, 0, 60, 20, "A", 25, "B");
    mark(k, SG_ROLE_DIMENSION, 0, "5 mm", AT(P(20, 0), P(25, 0)));
    mark(k, SG_ROLE_DIMENSION, 0, "2 cm", AT(P(0, 0), P(20, 0)));
    mark(k, SG_ROLE_DIMENSION, 0, "6 cm", AT(P(0, 0), P(60, 0)));
}
static void two_angles(Make *k)
{
    mark(k, SG_ROLE_AXIS, 0, "", AT(P(0, 0), P(60, 0)));
    angle(k, 0, P(30, 0), 0, 30, "*a*", 0);
    angle(k, 0, P(30, 0), 0, 50, "*b*", 0);
    angle(k, 0, P(30, 0), 0, 5, "*c*", 0);
}
static void nothing(Make *k) { (void)k; }
static void many_rays(Make *k)
{
    for (int i = 0; i < 3000; i++) lens_ray(k, 0, P(0, 0.01 * i), 50, 0.02 * i, 40, 100);
}

/* Rows: each deeper than the one before by 6 mm or more, the longest outermost; a short length has its heads outside. */
static void check_rows(Bench *b)
{
    SceneCase which = { "short measures", short_measures, 0, 0 };
    SgPage *page = lay(b, &which);
    double row[3] = { 0 };
    double right = 0, left = 0;
    for (uint32_t i = 0; i < page->nitems; i++) {
        const SgItem *it = &page->item[i];
        if (!is_role(it, SG_ROLE_DIMENSION, SG_ITEM_FILL)) continue;
        int k = it->name.s[0] == '5' ? 0 : it->name.s[0] == '2' ? 1 : 2;
        row[k] = it->xy[0].y_mm;
        double points = it->xy[0].x_mm - (it->xy[1].x_mm + it->xy[2].x_mm) / 2;
        if (k == 0 && points > 0) right = it->xy[0].x_mm;              /* the head that points right stands at the left end */
        if (k == 0 && points < 0) left = it->xy[0].x_mm;
    }
    cr_expect(row[2] >= row[1] + 6 - 1e-9 && row[2] >= row[0] + 6 - 1e-9, "rows at %.2f %.2f %.2f", row[0], row[1], row[2]);
    cr_expect(fabs(left - right - 5) < 1e-6, "the heads of a short measure do not point at each other from outside (%.3f)", left - right);
}

Test(layout, edges)
{
    Bench b;
    start(&b);
    if (setjmp(b.out)) cr_assert_fail("out of memory");
    for (uint32_t i = 0; i < SCENE_CASES; i++)
        cr_expect(print_of(lay(&b, &scene_cases[i])) == print_of(lay(&b, &scene_cases[i])), "%s: not the same twice", scene_cases[i].name);
    cr_expect(print_of(lay(&b, &scene_cases[0])) != print_of(lay(&b, &scene_cases[1])));

    SceneCase arrows = { "small arrows", small_arrows, 0, 0 };
    SgScene scene = scene_of(&b.c, &arrows);
    View v = look(arrows.name, sg_layout(&b.c, &scene), &scene);
    check_all(&v);
    cr_expect(v.faults == 0, "small arrows: %u faults", v.faults);
    done(&v);
    check_rows(&b);

    SceneCase angles = { "angles", two_angles, 0, 0 };
    scene = scene_of(&b.c, &angles);
    v = look(angles.name, sg_layout(&b.c, &scene), &scene);
    check_angles(&v);
    check_words(&v);
    cr_expect(v.faults == 0, "angles: %u faults", v.faults);
    done(&v);

    SceneCase empty = { "nothing", nothing, 0, 0 };
    const SgPage *page = lay(&b, &empty);
    cr_expect(page->nitems == 0 && page->w_mm > 0 && page->h_mm > 0 && page->strip_mm >= 0);
    cr_expect(b.c.diags.n == 0);
    SceneCase odd = { "a sign no face has", strange, 0, 0 };
    lay(&b, &odd);
    cr_expect(said(&b, SG_MSG_glyph_missing) == 1);
    SceneCase tight = { "too small a frame", converging_far, 60, 40 };
    lay(&b, &tight);
    cr_expect(said(&b, SG_MSG_frame_small) == 1);
    SceneCase full = { "crowd", crowd, 40, 40 };
    lay(&b, &full);
    cr_expect(said(&b, SG_MSG_label_crowded) > 0);
    SceneCase rays = { "many rays", many_rays, 0, 0 };
    cr_expect(lay(&b, &rays)->nitems >= 3000);
    sg_arena_free(&b.arena);
}

Test(layout, style)
{
    const SgStyle light = sg_style_of(&(SgSceneStyle){ .base = SG_STYLE_light });
    const uint32_t first[] = { 0x0364F0, 0xE45753, 0xA2007D, 0x05491D };        /* blue, coral, purple, green */
    for (uint32_t i = 0; i < 4; i++) cr_expect(sg_style_ray_rgb(&light, i + 1) == first[i], "ray %u", i + 1);
    for (uint32_t i = 1; i <= 8; i++)
        for (uint32_t k = i + 1; k <= 8; k++) cr_expect(sg_style_ray_rgb(&light, i) != sg_style_ray_rgb(&light, k), "rays %u and %u", i, k);
    cr_expect(sg_style_ray_rgb(&light, 9) == first[0]);
    cr_expect(sg_style_rgb(&light, SG_LIT("coral"), 0) == first[1] && sg_style_rgb(&light, SG_LIT("#c00000"), 0) == 0xC00000);
    cr_expect(sg_style_rgb(&light, SG_LIT("#C0a0fF"), 0) == 0xC0A0FF && sg_style_rgb(&light, SG_LIT("#c0000g"), 7) == 7 && sg_style_rgb(&light, SG_LIT(""), 7) == 7);
    const double pattern[2] = { 2, 1 };
    for (double n = 0.5; n < 200; n += 0.37) {
        double dash[4];
        uint8_t k = sg_style_dash(pattern, 2, n, dash);
        cr_expect(k == 0 ? n < 3.6 : fabs(remainder(n - dash[0], dash[0] + dash[1])) < 1e-9, "a dashed line of %.2f mm", n);
    }
}
