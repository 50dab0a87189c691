/* draw_arrow: objects and images. In: foot and tip. Out: a shaft and a head inside the height.
   Never draws beyond the tip: filled shapes, so that no line join adds to the height. */
#include "layout/draw.h"
#include <math.h>

typedef struct { SgPoint foot, tip, up; double height_mm, head_mm, half_mm; uint32_t rgb; } Arrow;

static Arrow measure(const SgDraw *d, const SgMark *m)
{
    Arrow w = { .foot = m->xy[0], .tip = m->xy[1], .rgb = sg_style_rgb(d->style, m->colour, d->style->ink_rgb) };
    w.up = sg_pt_unit(sg_pt_sub(w.tip, w.foot));
    w.height_mm = sg_pt_distance(w.foot, w.tip);
    w.head_mm = w.height_mm * d->style->arrow_head_of_height;
    if (w.head_mm > d->style->arrow_head_mm) w.head_mm = d->style->arrow_head_mm;
    w.half_mm = w.head_mm * d->style->arrow_head_slope;
    if (m->role == SG_ROLE_VIRTUAL_IMAGE) w.half_mm = w.head_mm * d->style->open_head_slope;
    if (w.half_mm < d->style->arrow_head_half_least_mm) w.half_mm = d->style->arrow_head_half_least_mm;
    return w;
}

static SgPoint of_arrow(const Arrow *w, double down_mm, double left_mm)
{
    return sg_pt_along(sg_pt_along(w->tip, w->up, -down_mm), sg_pt_left(w->up), left_mm);
}

static void solid(SgDraw *d, const Arrow *w)
{
    sg_draw_line(d, SG_LAYER_ARROW, w->foot, of_arrow(w, d->style->line_only ? 0 : w->head_mm * 0.9, 0), d->style->arrow_line_mm, w->rgb);
    sg_draw_head(d, SG_LAYER_ARROW, w->tip, w->up, w->head_mm, 2 * w->half_mm, w->rgb);
}

/* How far inside the tip the rim's inner edges meet: rim over the sine of half the tip's angle. */
static double rim_depth(const Arrow *w, double rim_mm)
{
    return rim_mm * sqrt(w->head_mm * w->head_mm + w->half_mm * w->half_mm) / w->half_mm;
}

/* A ring: the outline, then the hole the other way round, joined by a seam of no width. */
static void hollow(SgDraw *d, const Arrow *w)
{
    double rim = d->style->arrow_outline_mm, depth = rim_depth(w, rim), base = w->head_mm - rim;
    if (d->style->line_only) {                         /* a triangle drawn round, its corners inside the height */
        double in = rim_depth(w, rim / 2), low = w->head_mm - rim / 2, wide = (low - in) * w->half_mm / w->head_mm;
        sg_draw_line(d, SG_LAYER_ARROW, w->foot, of_arrow(w, low, 0), d->style->arrow_line_mm, w->rgb);
        sg_draw_stroke(d, SG_LAYER_ARROW, (SgPoint[]){ of_arrow(w, in, 0), of_arrow(w, low, wide), of_arrow(w, low, -wide) }, 3, rim, w->rgb)->closed = true;
        return;
    }
    sg_draw_line(d, SG_LAYER_ARROW, w->foot, of_arrow(w, base + rim / 2, 0), d->style->arrow_line_mm, w->rgb);
    double inner = (base - depth) * w->half_mm / w->head_mm;
    if (base - depth < 0.3) {                          /* too small for a hole */
        sg_draw_head(d, SG_LAYER_ARROW, w->tip, w->up, w->head_mm, 2 * w->half_mm, w->rgb);
        return;
    }
    SgPoint ring[8] = {
        of_arrow(w, 0, 0), of_arrow(w, w->head_mm, w->half_mm), of_arrow(w, w->head_mm, -w->half_mm), of_arrow(w, 0, 0),
        of_arrow(w, depth, 0), of_arrow(w, base, -inner), of_arrow(w, base, inner), of_arrow(w, depth, 0),
    };
    sg_draw_fill(d, SG_LAYER_ARROW, ring, 8, w->rgb);
}

static void open(SgDraw *d, const Arrow *w)
{
    double rim = d->style->light_line_mm;
    if (rim > w->head_mm * 0.2) rim = w->head_mm * 0.2;
    if (d->style->line_only && rim < d->style->thin_line_mm) rim = d->style->thin_line_mm;
    double depth = rim_depth(w, rim);
    if (depth > w->head_mm * 0.9) depth = w->head_mm * 0.9;
    SgPoint end = of_arrow(w, depth * 0.9, 0);
    SgItem *shaft = sg_draw_line(d, SG_LAYER_ARROW, w->foot, end, d->style->arrow_line_mm, w->rgb);
    shaft->ndash = sg_style_dash(d->style->produced_dash_mm, 2, sg_pt_distance(w->foot, end), shaft->dash_mm);
    double inner = (w->head_mm - depth) * w->half_mm / w->head_mm;
    SgPoint head[6] = {
        of_arrow(w, 0, 0), of_arrow(w, w->head_mm, w->half_mm), of_arrow(w, w->head_mm, inner),
        of_arrow(w, depth, 0), of_arrow(w, w->head_mm, -inner), of_arrow(w, w->head_mm, -w->half_mm),
    };
    if (d->style->line_only) {
        double in = depth / 2, wide = (w->head_mm - in) * w->half_mm / w->head_mm;
        sg_draw_stroke(d, SG_LAYER_ARROW, (SgPoint[]){ of_arrow(w, w->head_mm, wide), of_arrow(w, in, 0), of_arrow(w, w->head_mm, -wide) }, 3, rim, w->rgb);
        return;
    }
    sg_draw_fill(d, SG_LAYER_ARROW, head, 6, w->rgb);
}

static bool is_arrow(const SgMark *m) { return m->role == SG_ROLE_OBJECT || m->role == SG_ROLE_REAL_IMAGE || m->role == SG_ROLE_VIRTUAL_IMAGE; }

/* No less than the distance of p from the shaft, and quickly found. */
static double at_most_off(const SgMark *m, SgPoint p)
{
    double foot = fabs(p.x_mm - m->xy[0].x_mm) + fabs(p.y_mm - m->xy[0].y_mm), tip = fabs(p.x_mm - m->xy[1].x_mm) + fabs(p.y_mm - m->xy[1].y_mm);
    return foot < tip ? foot : tip;
}

void sg_draw_prefer_own_arrow(const SgDraw *d, const SgMark *m, SgCandidate *candidate, uint32_t n)
{
    enum { MISTAKEN = 12000 };
    double far = 0;
    for (uint32_t i = 0; i < n; i++) {
        double off = at_most_off(m, candidate[i].xy);
        if (off > far) far = off;
    }
    for (uint32_t k = 0; k < d->end; k++) {            /* what is given knows no answer */
        const SgMark *other = &d->scene->mark[k];
        if (other == m || !is_arrow(other) || sg_segments_apart(m->xy[0], m->xy[1], other->xy[0], other->xy[1], 2 * far)) continue;
        for (uint32_t i = 0; i < n; i++) {
            SgPoint at = candidate[i].xy;
            if (sg_segment_distance(other->xy[0], other->xy[1], at) < sg_segment_distance(m->xy[0], m->xy[1], at) - 1e-6) candidate[i].cost += MISTAKEN;
        }
    }
}

/* At the tail first, then beside the shaft on either side, then beyond the tip. */
static void name_arrow(SgDraw *d, const SgMark *m, const Arrow *w)
{
    if (m->words.n == 0) return;
    SgWords words = sg_draw_name(d, m->words);
    double h = words.ascent_mm + words.descent_mm, gap = d->style->label_gap_mm;
    double tail_deg = sg_atan2_deg(-w->up.y_mm, -w->up.x_mm);
    SgCandidate *tail, *beside, *tip, *some, *all;
    uint32_t n = sg_candidates_around(d->a, w->foot, sg_draw_row_mm(d), words.width_mm, h, tail_deg, &tail);
    uint32_t k = sg_candidates_beside(d->a, w->foot, w->tip, gap + d->style->arrow_line_mm / 2, words.width_mm, h, 0.4, 0.8, &beside);
    n = sg_candidates_join(d->a, tail, n, beside, k, 300, &some);
    k = sg_candidates_around(d->a, w->tip, gap, words.width_mm, h, tail_deg + 180, &tip);
    n = sg_candidates_join(d->a, some, n, tip, k, 900, &all);
    sg_draw_prefer_own_arrow(d, m, all, n);
    sg_want(d, words, sg_pt_mid(w->foot, w->tip), all, n, true);
}

void sg_draw_object(SgDraw *d, const SgMark *m)
{
    Arrow w = measure(d, m);
    if (m->shape != SG_SHAPE_ARROW && w.height_mm > 1) { sg_draw_shaped(d, m); return; }
    if (w.height_mm < 1e-6) {                          /* of no height: a place on the axis */
        w.up = sg_pt(0, 1);
        sg_draw_disc(d, SG_LAYER_ARROW, w.foot, d->style->dot_mm / 2, w.rgb);
        sg_keep(d, SG_KEEP_DOT, w.foot, w.foot, d->style->dot_mm / 2, 0);
    } else {
        if (m->role == SG_ROLE_REAL_IMAGE) hollow(d, &w);
        else if (m->role == SG_ROLE_VIRTUAL_IMAGE) open(d, &w);
        else solid(d, &w);
        sg_keep(d, SG_KEEP_ARROW, w.foot, w.tip, d->style->arrow_line_mm / 2, 0);
        SgPoint wing[2] = { of_arrow(&w, w.head_mm, w.half_mm), of_arrow(&w, w.head_mm, -w.half_mm) };
        sg_keep(d, SG_KEEP_ARROW, wing[0], wing[1], 0, 0);
        for (int i = 0; i < 2; i++) sg_keep(d, SG_KEEP_ARROW, wing[i], w.tip, 0, 0);
    }
    name_arrow(d, m, &w);
}
