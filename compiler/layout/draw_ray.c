/* draw_ray: light, what is produced from it, and the ray's number. In: marks. Out: lines in the ray's colour.
   Never bends a line; only the author's frame cuts one. */
#include "layout/draw.h"
#include <math.h>

enum { MANY_RAYS = 24 };               /* numbers on more could not be read */

static uint32_t colour_of(const SgDraw *d, const SgMark *m) { return sg_style_rgb(d->style, m->colour, sg_style_ray_rgb(d->style, m->light)); }

void sg_draw_ray(SgDraw *d, const SgMark *m)
{
    if (m->nxy < 2) return;
    SgPoint *xy = SG_ARRAY(d->a, SgPoint, m->nxy);
    for (uint32_t i = 0; i < m->nxy; i++) xy[i] = m->xy[i];
    uint32_t last = m->nxy - 1;
    if (!sg_draw_clip(d, &xy[0], &xy[1])) return;
    if (last > 1) {
        xy[1] = m->xy[1];                              /* only the free ends are cut */
        sg_draw_clip(d, &xy[last - 1], &xy[last]);
        xy[last - 1] = m->xy[last - 1];
    }
    double way = m->light_from_mm + sg_pt_distance(m->xy[0], xy[0]);
    SgItem *item = sg_draw_stroke(d, SG_LAYER_RAY, xy, m->nxy, d->style->light_line_mm, colour_of(d, m));
    item->light = m->light;
    item->light_from_mm = way;
    for (uint32_t k = 0; k < last; k++) {
        SgLeg leg = { .a = xy[k], .b = xy[k + 1], .length_mm = sg_pt_distance(xy[k], xy[k + 1]), .from_mm = way,
                      .mark = d->now, .k = k, .rgb = colour_of(d, m) };
        way += leg.length_mm;
        if (leg.length_mm < 1e-6) continue;
        sg_keep(d, SG_KEEP_LIGHT, leg.a, leg.b, d->style->light_line_mm / 2, k);
        SG_PUSH(d->a, &d->leg, leg);
    }
}

void sg_draw_produced(SgDraw *d, const SgMark *m)
{
    SgPoint a = m->xy[0], b = m->xy[1];
    if (!sg_draw_clip(d, &a, &b)) return;
    SgItem *item = sg_draw_line(d, SG_LAYER_PRODUCED, a, b, d->style->produced_line_mm, colour_of(d, m));
    item->ndash = sg_style_dash(d->style->produced_dash_mm, 2, sg_pt_distance(a, b), item->dash_mm);
    item->light = m->light;
    item->light_from_mm = m->light_from_mm + sg_pt_distance(m->xy[0], a);
    sg_keep(d, SG_KEEP_PRODUCED, a, b, d->style->produced_line_mm / 2, 0);
}

/* Whether a leg of another ray comes within reach_mm of p. */
static bool other_within(const SgDraw *d, uint32_t mark, SgPoint p, double reach_mm)
{
    for (uint32_t k = 0; k < d->leg.n; k++) {
        const SgLeg *leg = &d->leg.v[k];
        if (leg->mark == mark) continue;
        if ((leg->a.x_mm > p.x_mm + reach_mm && leg->b.x_mm > p.x_mm + reach_mm) || (leg->a.x_mm < p.x_mm - reach_mm && leg->b.x_mm < p.x_mm - reach_mm)) continue;
        if ((leg->a.y_mm > p.y_mm + reach_mm && leg->b.y_mm > p.y_mm + reach_mm) || (leg->a.y_mm < p.y_mm - reach_mm && leg->b.y_mm < p.y_mm - reach_mm)) continue;
        if (sg_segment_distance(leg->a, leg->b, p) < reach_mm) return true;
    }
    return false;
}

/* A number that stands nearer to another ray than to its own would be read as that one's. */
static void prefer_own(const SgDraw *d, uint32_t mark, double size_mm, double gap_mm, SgCandidate *candidate, uint32_t n)
{
    enum { A_CALL = 20, A_RING = 10, MISTAKEN = 12000 };               /* as sg_candidates_beside gives them */
    for (uint32_t i = 0; i < n; i++) {
        double own = gap_mm + (i % A_CALL < A_RING ? 0 : SG_BESIDE_RING_MM);
        if (other_within(d, mark, candidate[i].xy, size_mm / 2 + own * d->style->own_side)) candidate[i].cost += MISTAKEN;
    }
}

/* Near the tail; farther along the first leg, to its end; beside the next only where all of the first is crowded, for there the
   number comes too late for an eye that follows the light. */
static void want_number(SgDraw *d, const SgLeg *leg, const SgMark *m)
{
    static const double part[3][2] = { { 0.08, 0.34 }, { 0.40, 0.66 }, { 0.72, 0.94 } };
    enum { PER_PART = 1500, LATER_LEG = 8000 };
    SgStr text = m->words.n > 0 ? m->words : sg_format(d->a, "%u", (unsigned)m->light);
    SgWords words = sg_draw_shape(d, text, m->words.n > 0 ? d->style->label_pt : d->style->number_pt);
    double h = words.ascent_mm + words.descent_mm, gap = d->style->label_gap_mm + d->style->light_line_mm / 2;
    SgCandidate *all = NULL, *more;
    uint32_t n = 0;
    for (int i = 0; i < 3; i++) {
        uint32_t k = sg_candidates_beside(d->a, leg->a, leg->b, gap, words.width_mm, h, part[i][0], part[i][1], &more);
        n = sg_candidates_join(d->a, all, n, more, k, PER_PART * i, &all);
    }
    const SgLeg *next = leg + 1;
    for (int i = 0; i < 2 && next < d->leg.v + d->leg.n && next->mark == leg->mark; i++) {
        uint32_t k = sg_candidates_beside(d->a, next->a, next->b, gap, words.width_mm, h, i ? 0.66 : 0.12, i ? 0.92 : 0.60, &more);
        n = sg_candidates_join(d->a, all, n, more, k, LATER_LEG + PER_PART * i, &all);
    }
    prefer_own(d, leg->mark, words.width_mm > h ? words.width_mm : h, gap, all, n);
    sg_want(d, words, sg_pt_along(leg->a, sg_pt_sub(leg->b, leg->a), 0.25), all, n, true);
}

/* Colour alone tells nothing on a photocopy: with two rays or more each carries its number near its tail. */
void sg_draw_ray_numbers(SgDraw *d)
{
    uint32_t rays = 0;
    for (uint32_t i = 0; i < d->end; i++) rays += d->scene->mark[i].role == SG_ROLE_RAY && d->scene->mark[i].sister == 0;
    for (uint32_t i = 0; i < d->leg.n; i++) {
        const SgLeg *leg = &d->leg.v[i];
        const SgMark *m = &d->scene->mark[leg->mark];
        d->now = leg->mark;
        bool first = i == 0 || d->leg.v[i - 1].mark != leg->mark;
        if (first && m->sister == 0 && ((rays >= 2 && rays <= MANY_RAYS) || m->words.n > 0)) want_number(d, leg, m);
    }
}
