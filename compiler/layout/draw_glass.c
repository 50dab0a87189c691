/* draw_glass: pieces of glass, plates and eyes. In: marks. Out: outlines, tints, signs. Never moves a point of the optics. */
#include "layout/draw.h"

void sg_draw_glass(SgDraw *d, const SgMark *m)
{
    if (!d->style->one_ink) sg_draw_fill(d, SG_LAYER_FILL, m->xy, m->nxy, d->style->glass_rgb);
    SgItem *item = sg_draw_stroke(d, SG_LAYER_ELEMENT, m->xy, m->nxy, d->style->light_line_mm, sg_style_rgb(d->style, m->colour, d->style->ink_rgb));
    item->closed = true;
    SgPoint top = m->xy[0], low = m->xy[0];
    for (uint32_t i = 0; i < m->nxy; i++) {
        SgPoint next = m->xy[(i + 1) % m->nxy];
        sg_keep(d, SG_KEEP_SOLID, m->xy[i], next, d->style->light_line_mm / 2, 0);
        if (m->xy[i].y_mm > top.y_mm) top = m->xy[i];
        if (m->xy[i].y_mm < low.y_mm) low = m->xy[i];
    }
    sg_draw_name_at_ends(d, m, top, low);
}

static void plate_line(SgDraw *d, SgPoint a, SgPoint b, uint32_t rgb)
{
    sg_draw_line(d, SG_LAYER_ELEMENT, a, b, d->style->arrow_line_mm, rgb);
    sg_keep(d, SG_KEEP_SOLID, a, b, d->style->arrow_line_mm / 2, 0);
}

void sg_draw_plate(SgDraw *d, const SgMark *m)
{
    SgPoint left = sg_pt_left(m->direction), top = sg_pt_along(m->xy[0], left, m->half_mm), low = sg_pt_along(m->xy[0], left, -m->half_mm);
    uint32_t rgb = sg_style_rgb(d->style, m->colour, d->style->ink_rgb);
    if (m->role == SG_ROLE_SCREEN) plate_line(d, low, top, rgb);
    else {
        plate_line(d, top, sg_pt_along(m->xy[0], left, m->hole_mm), rgb);
        plate_line(d, low, sg_pt_along(m->xy[0], left, -m->hole_mm), rgb);
    }
    sg_draw_name_at_ends(d, m, top, low);
}

/* Seen from the side: two lids from the corner, the curve of the front between them, the pupil where light arrives. */
void sg_draw_eye(SgDraw *d, const SgMark *m)
{
    double depth = d->style->eye_mm, half = 0.36 * depth;
    SgPoint in = m->direction, up = sg_pt_left(in), pupil = m->xy[0], corner = sg_pt_along(pupil, in, depth);
    SgPoint lid[2] = { sg_pt_along(sg_pt_along(pupil, in, 0.16 * depth), up, half), sg_pt_along(sg_pt_along(pupil, in, 0.16 * depth), up, -half) };
    uint32_t rgb = sg_style_rgb(d->style, m->colour, d->style->ink_rgb);
    SgPoint lids[3] = { lid[0], corner, lid[1] };
    sg_draw_stroke(d, SG_LAYER_ELEMENT, lids, 3, d->style->produced_line_mm, rgb);
    SgPoint front[9];
    for (int i = 0; i <= 8; i++) {                     /* a parabola through the lids and the pupil */
        double t = (double)i / 4 - 1;
        front[i] = sg_pt_along(sg_pt_along(pupil, in, 0.11 * depth * t * t), up, -t * 0.72 * half);
    }
    sg_draw_stroke(d, SG_LAYER_ELEMENT, front, 9, d->style->produced_line_mm, rgb);
    sg_draw_disc(d, SG_LAYER_DOT, sg_pt_along(pupil, in, 0.11 * depth), 0.11 * depth, rgb);
    for (int i = 0; i < 2; i++) sg_keep(d, SG_KEEP_SOLID, lids[i], lids[i + 1], d->style->produced_line_mm / 2, 0);
    sg_keep(d, SG_KEEP_SOLID, front[0], front[8], d->style->produced_line_mm / 2, 0);
    sg_draw_name_at_ends(d, m, sg_pt_along(pupil, up, half), sg_pt_along(pupil, up, -half));
}
