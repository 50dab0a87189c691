/* draw: primitives, and the list of what words keep clear of. In: points in scene millimetres. Out: items with a layer.
   Never decides where anything stands. */
#include "layout/draw.h"
#include <math.h>

static void grow(SgDraw *d, SgPoint p, double by_mm)
{
    d->box = sg_box_add(d->box, sg_pt(p.x_mm - by_mm, p.y_mm - by_mm));
    d->box = sg_box_add(d->box, sg_pt(p.x_mm + by_mm, p.y_mm + by_mm));
}

static SgItem *push(SgDraw *d, SgLayer layer, SgItemShape shape, const SgPoint *xy, uint32_t n, uint32_t rgb)
{
    const SgMark *m = &d->scene->mark[d->now];
    SgPoint *copy = SG_ARRAY(d->a, SgPoint, n);
    for (uint32_t i = 0; i < n; i++) copy[i] = xy[i];
    SgDrawn new = { .layer = layer, .order = d->drawn.n };
    new.item = (SgItem){ .shape = shape, .role = m->role, .name = m->name, .at = m->at, .step = m->step, .cue = m->cue, .ncues = m->ncues, .rgb = rgb, .xy = copy, .nxy = n };
    SG_PUSH(d->a, &d->drawn, new);
    return &d->drawn.v[d->drawn.n - 1].item;
}

SgItem *sg_draw_stroke(SgDraw *d, SgLayer layer, const SgPoint *xy, uint32_t n, double line_mm, uint32_t rgb)
{
    for (uint32_t i = 0; i < n; i++) grow(d, xy[i], line_mm / 2);
    SgItem *item = push(d, layer, SG_ITEM_STROKE, xy, n, rgb);
    item->line_mm = line_mm;
    return item;
}

SgItem *sg_draw_line(SgDraw *d, SgLayer layer, SgPoint a, SgPoint b, double line_mm, uint32_t rgb)
{
    return sg_draw_stroke(d, layer, (SgPoint[]){ a, b }, 2, line_mm, rgb);
}

SgItem *sg_draw_fill(SgDraw *d, SgLayer layer, const SgPoint *xy, uint32_t n, uint32_t rgb)
{
    for (uint32_t i = 0; i < n; i++) grow(d, xy[i], 0);
    SgItem *item = push(d, layer, SG_ITEM_FILL, xy, n, rgb);
    item->closed = true;
    return item;
}

SgItem *sg_draw_disc(SgDraw *d, SgLayer layer, SgPoint centre, double radius_mm, uint32_t rgb)
{
    double line = d->style->light_line_mm;
    if (d->style->line_only) return sg_draw_arc(d, layer, centre, radius_mm - line / 2, 0, 360, line, rgb);
    grow(d, centre, radius_mm);
    SgItem *item = push(d, layer, SG_ITEM_DISC, &centre, 1, rgb);
    item->radius_mm = radius_mm;
    return item;
}

static SgPoint on_circle(SgPoint centre, double radius_mm, double deg)
{
    double sine, cosine;
    sg_sincos_deg(deg, &sine, &cosine);
    return sg_pt(centre.x_mm + radius_mm * cosine, centre.y_mm + radius_mm * sine);
}

SgItem *sg_draw_arc(SgDraw *d, SgLayer layer, SgPoint centre, double radius_mm, double from_deg, double sweep_deg, double line_mm, uint32_t rgb)
{
    grow(d, on_circle(centre, radius_mm, from_deg), line_mm / 2);
    grow(d, on_circle(centre, radius_mm, from_deg + sweep_deg), line_mm / 2);
    double low = sweep_deg < 0 ? from_deg + sweep_deg : from_deg, high = low + fabs(sweep_deg);
    for (double quarter = (floor(low / 90) + 1) * 90; quarter < high; quarter += 90)       /* the arc's own extremes */
        grow(d, on_circle(centre, radius_mm, quarter), line_mm / 2);
    SgItem *item = push(d, layer, SG_ITEM_ARC, &centre, 1, rgb);
    item->radius_mm = radius_mm;
    item->from_deg = from_deg;
    item->sweep_deg = sweep_deg;
    item->line_mm = line_mm;
    return item;
}

SgItem *sg_draw_words(SgDraw *d, SgPoint baseline, const SgWords *words)
{
    grow(d, sg_pt(baseline.x_mm, baseline.y_mm - words->descent_mm), 0);
    grow(d, sg_pt(baseline.x_mm + words->width_mm, baseline.y_mm + words->ascent_mm), 0);
    SgItem *item = push(d, SG_LAYER_WORDS, SG_ITEM_WORDS, &baseline, 1, d->style->ink_rgb);
    item->words = words;
    return item;
}

double sg_draw_under_head(const SgDraw *d, double length_mm) { return d->style->line_only ? 0 : 0.8 * length_mm; }

SgItem *sg_draw_head(SgDraw *d, SgLayer layer, SgPoint tip, SgPoint direction, double length_mm, double width_mm, uint32_t rgb)
{
    SgPoint base = sg_pt_along(tip, direction, -length_mm), side = sg_pt_scale(sg_pt_left(direction), width_mm / 2);
    if (d->style->line_only) {                         /* wide enough that the two strokes stay apart */
        side = sg_pt_scale(sg_pt_left(direction), 0.4 * length_mm);
        return sg_draw_stroke(d, layer, (SgPoint[]){ sg_pt_add(base, side), tip, sg_pt_sub(base, side) }, 3, d->style->produced_line_mm, rgb);
    }
    return sg_draw_fill(d, layer, (SgPoint[]){ tip, sg_pt_add(base, side), sg_pt_sub(base, side) }, 3, rgb);
}

void sg_keep(SgDraw *d, SgKeepKind kind, SgPoint a, SgPoint b, double half_mm, uint32_t leg)
{
    SgKeep keep = { .a = a, .b = b, .half_mm = half_mm, .kind = kind, .mark = d->now, .leg = leg };
    SG_PUSH(d->a, &d->keep, keep);
}

void sg_keep_arc(SgDraw *d, SgKeepKind kind, SgPoint centre, double radius_mm, double from_deg, double sweep_deg, double half_mm)
{
    /* Pieces short enough that chord and arc differ by less than 0.04 mm: sagitta = R (1 - cos(piece/2)) ~ R piece^2 / 8 (radians);
       kept clear of by so much more. */
    enum { CHORD_UM = 40 };
    double piece_deg = sqrt(8 * CHORD_UM / 1000.0 / (radius_mm + 0.1)) * 57.0;
    int pieces = 1 + (int)(fabs(sweep_deg) / piece_deg);
    SgPoint before = on_circle(centre, radius_mm, from_deg);
    for (int i = 1; i <= pieces; i++) {
        SgPoint here = on_circle(centre, radius_mm, from_deg + sweep_deg * i / pieces);
        sg_keep(d, kind, before, here, half_mm + CHORD_UM / 1000.0, 0);
        before = here;
    }
}

bool sg_segments_apart(SgPoint a, SgPoint b, SgPoint p, SgPoint q, double far_mm)
{
    return (p.x_mm > a.x_mm + far_mm && p.x_mm > b.x_mm + far_mm && q.x_mm > a.x_mm + far_mm && q.x_mm > b.x_mm + far_mm)
        || (p.x_mm < a.x_mm - far_mm && p.x_mm < b.x_mm - far_mm && q.x_mm < a.x_mm - far_mm && q.x_mm < b.x_mm - far_mm)
        || (p.y_mm > a.y_mm + far_mm && p.y_mm > b.y_mm + far_mm && q.y_mm > a.y_mm + far_mm && q.y_mm > b.y_mm + far_mm)
        || (p.y_mm < a.y_mm - far_mm && p.y_mm < b.y_mm - far_mm && q.y_mm < a.y_mm - far_mm && q.y_mm < b.y_mm - far_mm);
}

double sg_segments_distance(SgPoint a, SgPoint b, SgPoint p, SgPoint q)
{
    double t, u;
    if (sg_line_cross(a, sg_pt_sub(b, a), p, sg_pt_sub(q, p), &t, &u) && t >= 0 && t <= 1 && u >= 0 && u <= 1) return 0;
    double least = sg_segment_distance(a, b, p), other = sg_segment_distance(a, b, q);
    if (other < least) least = other;
    other = sg_segment_distance(p, q, a);
    if (other < least) least = other;
    other = sg_segment_distance(p, q, b);
    return other < least ? other : least;
}

static double low(double a, double b) { return a < b ? a : b; }
static double high(double a, double b) { return a > b ? a : b; }

bool sg_keep_within(const SgDraw *d, SgPoint a, SgPoint b, unsigned kinds, uint32_t skip, double distance_mm)
{
    SgBox box = { low(a.x_mm, b.x_mm), low(a.y_mm, b.y_mm), high(a.x_mm, b.x_mm), high(a.y_mm, b.y_mm) };
    for (uint32_t i = 0; i < d->keep.n; i++) {
        const SgKeep *k = &d->keep.v[i];
        double reach = k->half_mm + distance_mm;
        if (!(kinds & 1u << k->kind) || k->mark == skip) continue;
        if (low(k->a.x_mm, k->b.x_mm) - reach > box.x1_mm || high(k->a.x_mm, k->b.x_mm) + reach < box.x0_mm) continue;
        if (low(k->a.y_mm, k->b.y_mm) - reach > box.y1_mm || high(k->a.y_mm, k->b.y_mm) + reach < box.y0_mm) continue;
        if (sg_segments_distance(a, b, k->a, k->b) < reach) return true;
    }
    return false;
}

bool sg_draw_clip(const SgDraw *d, SgPoint *a, SgPoint *b)
{
    SgBox frame = d->frame;
    if (frame.x0_mm >= frame.x1_mm) return true;
    SgPoint from = *a, way = sg_pt_sub(*b, *a);
    double low = 0, high = 1;
    double start[2] = { from.x_mm, from.y_mm }, step[2] = { way.x_mm, way.y_mm };
    double least[2] = { frame.x0_mm, frame.y0_mm }, most[2] = { frame.x1_mm, frame.y1_mm };
    for (int i = 0; i < 2; i++) {
        if (fabs(step[i]) < 1e-12) {
            if (start[i] < least[i] || start[i] > most[i]) return false;
            continue;
        }
        double t = (least[i] - start[i]) / step[i], u = (most[i] - start[i]) / step[i];
        if (t > u) { double swap = t; t = u; u = swap; }
        if (t > low) low = t;
        if (u < high) high = u;
    }
    if (low >= high) return false;
    *a = sg_pt_along(from, way, low);
    *b = sg_pt_along(from, way, high);
    return true;
}
