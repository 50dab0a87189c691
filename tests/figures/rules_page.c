/* The rules of measures, axis, frame and colour. See rules.h. */
#include "rules.h"
#include <math.h>

#define PT (25.4 / 72)
#define EACH_ITEM(f, it) for (const SgItem *it = (f)->page->item; it < (f)->page->item + (f)->page->nitems; it++)
#define EACH_MARK(f, m) for (const SgMark *m = (f)->scene->mark; m < (f)->scene->mark + (f)->scene->nmarks; m++)

static bool about(double a, double b, double within) { return fabs(a - b) <= within; }
static bool framed(const Figure *f) { return f->scene->frame_w_mm > 0; }

/* ---- measures ---- */
typedef struct { const SgMark *m; SgPoint tip[2]; double points[2]; unsigned heads; } Measure;     /* points: of a head, along, from the other tip */

static Measure measure_of(const Figure *f, const SgMark *m)
{
    Measure d = { .m = m };
    EACH_ITEM(f, it) {
        if (it->role != SG_ROLE_DIMENSION || it->at.start != m->at.start || it->shape != SG_ITEM_FILL) continue;
        if (d.heads < 2) d.tip[d.heads] = it->xy[0];
        if (d.heads < 2) d.points[d.heads] = it->xy[0].x_mm - (it->xy[1].x_mm + it->xy[2].x_mm) / 2;
        d.heads++;
    }
    return d;
}

static bool level(const SgMark *m) { return fabs(m->xy[0].y_mm - m->xy[1].y_mm) < 0.01; }

static void dimensions(Figure *f)
{
    if (!f->plain) return;
    EACH_MARK(f, m) {
        if (m->role != SG_ROLE_DIMENSION) continue;
        Measure d = measure_of(f, m);
        double n = gap_of_points(m->xy[0], m->xy[1]);
        if (n < 0.01) continue;
        if (d.heads != 2) { figure_fault(f, "a length with %u heads", d.heads); continue; }
        if (!about(gap_of_points(d.tip[0], d.tip[1]), n, 0.01)) figure_fault(f, "heads %.3f mm apart on a length of %.3f mm", gap_of_points(d.tip[0], d.tip[1]), n);
        if (!level(m)) continue;
        bool inward = (d.tip[1].x_mm - d.tip[0].x_mm) * d.points[0] > 0;               /* they point at each other, from outside */
        if (inward != (n < 8)) figure_fault(f, "the heads of a length of %.1f mm stand on the wrong side", n);
        EACH_MARK(f, o) {
            if (o == m || o->role != SG_ROLE_DIMENSION || !level(o)) continue;
            Measure e = measure_of(f, o);
            double low = fmax(fmin(m->xy[0].x_mm, m->xy[1].x_mm), fmin(o->xy[0].x_mm, o->xy[1].x_mm));
            double high = fmin(fmax(m->xy[0].x_mm, m->xy[1].x_mm), fmax(o->xy[0].x_mm, o->xy[1].x_mm)), apart = e.tip[0].y_mm - d.tip[0].y_mm;
            if (e.heads != 2 || high - low < 0.1) continue;
            if (fabs(apart) < 5.99) figure_fault(f, "rows of lengths %.2f mm apart", fabs(apart));
            if (gap_of_points(o->xy[0], o->xy[1]) > n + 0.01 && apart < 0) figure_fault(f, "the longer of two lengths stands inside the shorter");
        }
    }
}

static void angles(Figure *f)
{
    EACH_ITEM(f, a) {
        if (a->role != SG_ROLE_ANGLE || a->shape != SG_ITEM_ARC) continue;
        double least = fabs(a->sweep_deg) < 12 ? 14 : 6;
        if (f->plain && a->radius_mm < least - 1e-6) figure_fault(f, "an arc of %.1f degrees with a radius of %.2f mm", fabs(a->sweep_deg), a->radius_mm);
        const SgMark *of = NULL;
        EACH_MARK(f, m) if (m->role == SG_ROLE_ANGLE && m->at.start == a->at.start) of = m;
        if (of && !about(fabs(of->sweep_deg), fabs(a->sweep_deg), 1e-6)) figure_fault(f, "an arc of %.3f degrees for an angle of %.3f", fabs(a->sweep_deg), fabs(of->sweep_deg));
        for (const SgItem *b = a + 1; of && b < f->page->item + f->page->nitems; b++) {
            const SgMark *other = NULL;
            if (b->role != SG_ROLE_ANGLE || b->shape != SG_ITEM_ARC) continue;
            EACH_MARK(f, m) if (m->role == SG_ROLE_ANGLE && m->at.start == b->at.start) other = m;
            bool same = other && of->equal && of->equal == other->equal;
            if (same && !about(a->radius_mm, b->radius_mm, 1e-6)) figure_fault(f, "equal angles with radii %.2f and %.2f mm", a->radius_mm, b->radius_mm);
            if (f->plain && !same && gap_of_points(a->xy[0], b->xy[0]) < 0.05 && fabs(a->radius_mm - b->radius_mm) < 1.99) figure_fault(f, "different angles at one vertex share a radius");
        }
    }
}

static void right_angles(Figure *f)
{
    EACH_ITEM(f, it) {
        if (it->role != SG_ROLE_ANGLE || it->shape != SG_ITEM_STROKE || it->nxy != 3) continue;
        SgPoint u = sg_pt_sub(it->xy[0], it->xy[1]), v = sg_pt_sub(it->xy[2], it->xy[1]);
        if (f->plain && (!about(sg_pt_length(u), 2.2, 0.01) || !about(sg_pt_length(v), 2.2, 0.01) || fabs(sg_pt_dot(u, v)) > 0.01))
            figure_fault(f, "the sign of a right angle is no square of 2.2 mm");
    }
}

static void normals(Figure *f)
{
    EACH_MARK(f, m) {
        if (m->role != SG_ROLE_NORMAL) continue;
        bool drawn = false;
        EACH_ITEM(f, it)
            drawn = drawn || (it->role == SG_ROLE_NORMAL && it->shape == SG_ITEM_STROKE && it->at.start == m->at.start && gap_of_points(it->xy[0], it->xy[1]) >= 23.9);
        if (!drawn) figure_fault(f, "a normal shorter than 12 mm on each side");
    }
}

/* ---- the axis ---- */
static const SgItem *axis_line(const Figure *f)
{
    const SgItem *longest = NULL;
    EACH_ITEM(f, it)
        if (it->role == SG_ROLE_AXIS && it->shape == SG_ITEM_STROKE && (!longest || gap_of_points(it->xy[0], it->xy[1]) > gap_of_points(longest->xy[0], longest->xy[1]))) longest = it;
    return longest;
}

static void axis_ends(Figure *f)
{
    const SgItem *axis = axis_line(f);
    EACH_MARK(f, m) if (m->role == SG_ROLE_AXIS && m->fixed) return;
    if (!axis || framed(f)) return;
    double low = 1e9, high = -1e9, a = fmin(axis->xy[0].x_mm, axis->xy[1].x_mm), b = fmax(axis->xy[0].x_mm, axis->xy[1].x_mm);
    EACH_MARK(f, m) {
        if (m->role == SG_ROLE_NOTE || m->role == SG_ROLE_LABEL || m->role == SG_ROLE_DIMENSION) continue;
        for (uint32_t k = 0; k < m->nxy; k++) {
            low = fmin(low, figure_at(f, m->xy[k]).x_mm);
            high = fmax(high, figure_at(f, m->xy[k]).x_mm);
        }
    }
    if (low > high) return;
    double past[2] = { low - a, b - high };
    for (int k = 0; k < 2; k++)
        if (past[k] < 8 - 0.01 || past[k] > 15) figure_fault(f, "the axis runs %.1f mm past the last thing", past[k]);
}

/* At the end it runs to: over its last part, or just beyond. */
static void axis_name(Figure *f)
{
    const SgItem *axis = axis_line(f);
    if (!axis || framed(f)) return;    /* an author's frame may leave room at the other end only */
    double end = fmax(axis->xy[0].x_mm, axis->xy[1].x_mm);
    if (fabs(axis->xy[0].x_mm - axis->xy[1].x_mm) < 1) return;
    for (uint32_t i = 0; i < f->nwords; i++) {
        const Box *w = &f->words[i];
        if (f->page->item[w->item].role != SG_ROLE_AXIS) continue;
        if (end - w->x1 > 12 || w->x0 - end > 6) figure_fault(f, "the axis' name stands %.1f mm from its end", end - w->x1);
        double off = fmax(w->y0 - axis->xy[0].y_mm, axis->xy[0].y_mm - w->y1);
        if (off > 3) figure_fault(f, "the axis' name stands %.1f mm from it", off);
    }
}

/* ---- the page ---- */
static void frame(Figure *f)
{
    double x0 = 1e9, y0 = 1e9, x1 = -1e9, y1 = -1e9;
    for (uint32_t i = 0; i < f->nink; i++) {
        const Ink *o = &f->ink[i];
        if (f->page->item[o->item].role == SG_ROLE_GRID) continue;
        x0 = fmin(x0, fmin(o->a.x_mm, o->b.x_mm) - o->half); x1 = fmax(x1, fmax(o->a.x_mm, o->b.x_mm) + o->half);
        y0 = fmin(y0, fmin(o->a.y_mm, o->b.y_mm) - o->half); y1 = fmax(y1, fmax(o->a.y_mm, o->b.y_mm) + o->half);
    }
    for (uint32_t i = 0; i < f->nwords; i++) {
        x0 = fmin(x0, f->words[i].x0); x1 = fmax(x1, f->words[i].x1);
        y0 = fmin(y0, f->words[i].y0); y1 = fmax(y1, f->words[i].y1);
    }
    double gap[4] = { x0, y0, f->page->w_mm - x1, f->page->h_mm - y1 };
    for (int i = 0; i < 4 && f->page->nitems; i++) {
        if (framed(f) && gap[i] < -0.6) figure_fault(f, "ink stands %.2f mm outside the frame", -gap[i]);
        if (f->plain && !framed(f) && !about(gap[i], 6, 0.1)) figure_fault(f, "the frame is %.2f mm away, not 6", gap[i]);
    }
    if (f->demo && !framed(f) && (f->page->w_mm < (f->part ? 70 : 120) || f->page->w_mm > 180.5)) figure_fault(f, "a figure %.1f mm wide, where 120 to 180 fit a page, and 70 a part of one", f->page->w_mm);
    if (!about(f->svg->width, f->page->w_mm, 0.01)) figure_fault(f, "the drawing is %.2f mm wide, the page %.2f", f->svg->width, f->page->w_mm);
}

/* Relative luminance and contrast: WCAG 2.1, definitions. */
static double luminance(uint32_t rgb)
{
    double sum = 0, share[3] = { 0.2126, 0.7152, 0.0722 };
    for (int k = 0; k < 3; k++) {
        double c = (rgb >> (16 - 8 * k) & 255) / 255.0;
        sum += share[k] * (c <= 0.03928 ? c / 12.92 : pow((c + 0.055) / 1.055, 2.4));
    }
    return sum;
}

static double contrast(uint32_t a, uint32_t b)
{
    double x = luminance(a), y = luminance(b);
    return (fmax(x, y) + 0.05) / (fmin(x, y) + 0.05);
}

static void colours(Figure *f)
{
    uint32_t ray[64];
    unsigned n = 0;
    EACH_ITEM(f, it) {
        double c = contrast(it->rgb, f->page->paper_rgb);
        if (it->role == SG_ROLE_GRID || (it->role == SG_ROLE_BREAK && it->rgb == f->page->paper_rgb)) continue;
        if (it->shape == SG_ITEM_FILL && it->role == SG_ROLE_GLASS) {
            if (c > 1.35) figure_fault(f, "a tint of %.2f : 1", c);
            continue;
        }
        if (it->shape == SG_ITEM_WORDS ? c < 4.5 : c < 3) figure_fault(f, "a contrast of %.2f : 1 (role %d)", c, (int)it->role);
        if (it->role != SG_ROLE_RAY || it->shape != SG_ITEM_STROKE) continue;
        unsigned k = 0;
        while (k < n && ray[k] != it->rgb) k++;
        if (k == n && n < 64) ray[n++] = it->rgb;
    }
    if (f->demo && n > 4) figure_fault(f, "rays in %u colours", n);
}

/* Words and measures in ink, never in a ray's colour. */
static void ink(Figure *f)
{
    const SgItem *axis = axis_line(f);
    for (uint32_t i = 0; i < f->nwords; i++) {
        const SgItem *w = &f->page->item[f->words[i].item];
        if (w->rgb != f->page->item[f->words[0].item].rgb || (axis && f->plain && w->rgb != axis->rgb)) figure_fault(f, "words in a colour: %06X", (unsigned)w->rgb);
    }
}

/* Light is drawn over what is produced, words over everything, within a step. */
static void order(Figure *f)
{
    for (uint32_t i = 1; i < f->page->nitems; i++) {
        const SgItem *a = &f->page->item[i - 1], *b = &f->page->item[i];
        if (b->step < a->step) figure_fault(f, "a step's things are drawn after a later step's");
        if (b->step != a->step) continue;
        if (a->shape == SG_ITEM_WORDS && b->shape != SG_ITEM_WORDS) figure_fault(f, "something is drawn over words");
        if (a->role == SG_ROLE_RAY && b->role == SG_ROLE_PRODUCED) figure_fault(f, "a produced line is drawn over light");
        if (a->role != SG_ROLE_GLASS && a->role != SG_ROLE_GRID && b->role == SG_ROLE_GLASS && b->shape == SG_ITEM_FILL) figure_fault(f, "a tint is drawn over something");
    }
}

const Rule page_rules[] = {
    { "lengths", "a length's heads end on what it measures, outside when it is under 8 mm; rows 6 mm apart, the longer outside", dimensions },
    { "angles", "arcs of 6 mm or more, 14 for small angles; equal ones share radius, different ones at a vertex differ by 2 mm", angles },
    { "right", "a right angle is a square of 2.2 mm", right_angles },
    { "normals", "normals 12 mm and more on each side", normals },
    { "axis-ends", "the axis runs 8 to 15 mm past the last thing", axis_ends },
    { "axis-name", "the axis is named at its right end", axis_name },
    { "frame", "the frame 6 mm around everything; a demo 120 to 180 mm wide, or 70 where it is a part of a panel", frame },
    { "colours", "lines 3 : 1 on the paper, words 4.5 : 1; at most four colours of rays; glass only tinted", colours },
    { "ink", "words in ink, never in a ray's colour", ink },
    { "order", "by step; tints under all, produced lines under light, words over all", order },
};
const unsigned npage_rules = sizeof page_rules / sizeof *page_rules;
