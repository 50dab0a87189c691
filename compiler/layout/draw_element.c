/* draw_element: axis, mirror, lens and the aid that draws a surface on. In: marks. Out: strokes, arcs, hatching.
   Never draws anything on the reflecting side of a mirror. */
#include "layout/draw.h"
#include <math.h>

/* How far everything on the figure reaches along the line, beyond what the scene says. */
static void axis_reach(const SgDraw *d, SgPoint from, SgPoint along, double *low, double *high)
{
    for (uint32_t i = 0; i < d->end; i++) {
        const SgMark *m = &d->scene->mark[i];
        if (m->role == SG_ROLE_NOTE || m->role == SG_ROLE_LABEL || m->role == SG_ROLE_DIMENSION) continue;
        for (uint32_t k = 0; k < m->nxy; k++) {
            double t = sg_pt_dot(sg_pt_sub(m->xy[k], from), along);
            if (t < *low) *low = t;
            if (t > *high) *high = t;
        }
    }
}

void sg_draw_axis(SgDraw *d, const SgMark *m)
{
    SgPoint a = m->xy[0], along = sg_pt_unit(sg_pt_sub(m->xy[1], m->xy[0]));
    double low = 0, high = sg_pt_distance(m->xy[0], m->xy[1]);
    double over = m->fixed ? 0 : d->style->axis_overhang_mm;
    if (!m->fixed) axis_reach(d, a, along, &low, &high);
    SgPoint b = sg_pt_along(a, along, high + over);
    a = sg_pt_along(a, along, low - over);
    if (!sg_draw_clip(d, &a, &b)) return;
    if (a.x_mm > b.x_mm) { SgPoint swap = a; a = b; b = swap; }
    SgItem *item = sg_draw_line(d, SG_LAYER_AXIS, a, b, d->style->thin_line_mm, sg_style_rgb(d->style, m->colour, d->style->ink_rgb));
    item->ndash = sg_style_dash(d->style->axis_chain_mm, 4, sg_pt_distance(a, b), item->dash_mm);
    sg_keep(d, SG_KEEP_AXIS, a, b, d->style->thin_line_mm / 2, 0);
    d->axis = true;
    d->axis_a = a;
    d->axis_b = b;
}

/* Short lines at 45 degrees from the surface, all on its back. `at` walks the surface: from one end to the other, millimetres. */
typedef struct { SgPoint vertex, direction; double radius_mm, half_mm; bool curved; } Face;

static double face_length(const Face *f)
{
    if (!f->curved) return 2 * f->half_mm;
    double sine = f->half_mm / fabs(f->radius_mm);
    double deg = sg_atan2_deg(sine, sqrt(1 - sine * sine));
    return 2 * fabs(f->radius_mm) * deg * (3.14159265358979323846 / 180);
}

/* The point s millimetres along the surface from its middle, towards the left of `direction`; and the unit normal to the back there. */
static SgPoint face_point(const Face *f, double s_mm, SgPoint *back)
{
    SgPoint left = sg_pt_left(f->direction);
    if (!f->curved) {
        *back = f->direction;
        return sg_pt_along(f->vertex, left, s_mm);
    }
    double sine, cosine, r = f->radius_mm;
    sg_sincos_deg(s_mm / r * (180 / 3.14159265358979323846), &sine, &cosine);
    *back = sg_pt_add(sg_pt_scale(f->direction, cosine), sg_pt_scale(left, sine));
    SgPoint centre = sg_pt_along(f->vertex, f->direction, -r);
    return sg_pt_along(centre, *back, r);
}

static void hatch(SgDraw *d, const Face *f, uint32_t rgb)
{
    /* The outer end of each line runs ahead of its foot, so the row of feet stops earlier at that side. */
    double ahead = d->style->hatch_length_mm * sqrt(0.5), length = face_length(f);
    double low = -length / 2 + d->style->hatch_inset_mm + ahead, high = length / 2 - d->style->hatch_inset_mm;
    if (high <= low) return;
    int n = (int)floor((high - low) / d->style->hatch_pitch_mm + 0.5);
    if (n < 1) n = 1;
    SgPoint before = f->vertex;
    for (int i = 0; i <= n; i++) {
        SgPoint back, foot = face_point(f, low + (high - low) * i / n, &back);
        SgPoint slant = sg_pt_unit(sg_pt_sub(back, sg_pt_left(back)));
        SgPoint end = sg_pt_along(foot, slant, d->style->hatch_length_mm);
        sg_draw_line(d, SG_LAYER_HATCH, foot, end, d->style->thin_line_mm, rgb);
        SgPoint middle = sg_pt_along(sg_pt_mid(foot, end), back, 0.1);
        if (i > 0) sg_keep(d, SG_KEEP_HATCH, before, middle, d->style->hatch_length_mm / 2 + d->style->thin_line_mm / 2, 0);
        before = middle;
    }
}

static void draw_arc_face(SgDraw *d, const Face *f, uint32_t rgb)
{
    SgPoint centre = sg_pt_along(f->vertex, f->direction, -f->radius_mm), out = sg_pt_sub(f->vertex, centre);
    double middle_deg = sg_atan2_deg(out.y_mm, out.x_mm), r = fabs(f->radius_mm);
    double sine = f->half_mm / r, half_deg = sg_atan2_deg(sine, sqrt(1 - sine * sine));
    sg_draw_arc(d, SG_LAYER_ELEMENT, centre, r, middle_deg - half_deg, 2 * half_deg, d->style->light_line_mm, rgb);
    sg_keep_arc(d, SG_KEEP_SOLID, centre, r, middle_deg - half_deg, 2 * half_deg, d->style->light_line_mm / 2);
}

/* The vertex line; a curved mirror shows by its turned ends to which side it is hollow. */
static void draw_straight_face(SgDraw *d, const Face *f, uint32_t rgb)
{
    SgPoint left = sg_pt_left(f->direction);
    SgPoint xy[4];
    uint32_t n = 0;
    SgPoint a = sg_pt_along(f->vertex, left, f->half_mm), b = sg_pt_along(f->vertex, left, -f->half_mm);
    double turn = d->style->turned_end_mm;
    double hollow = f->radius_mm > 0 ? -turn : turn;
    if (fabs(f->radius_mm) > 0) xy[n++] = sg_pt_along(sg_pt_along(a, left, turn), f->direction, hollow);
    xy[n++] = a;
    xy[n++] = b;
    if (fabs(f->radius_mm) > 0) xy[n++] = sg_pt_along(sg_pt_along(b, left, -turn), f->direction, hollow);
    sg_draw_stroke(d, SG_LAYER_ELEMENT, xy, n, d->style->light_line_mm, rgb);
    for (uint32_t i = 0; i + 1 < n; i++) sg_keep(d, SG_KEEP_SOLID, xy[i], xy[i + 1], d->style->light_line_mm / 2, 0);
}

/* An element's name: above its upper end, else below its lower. */
void sg_draw_name_at_ends(SgDraw *d, const SgMark *m, SgPoint end, SgPoint other)
{
    if (m->words.n == 0) return;
    SgWords words = sg_draw_shape(d, m->words, d->style->label_pt);
    SgPoint top = end.y_mm >= other.y_mm ? end : other, low = end.y_mm >= other.y_mm ? other : end;
    double h = words.ascent_mm + words.descent_mm, gap = d->style->label_gap_mm;
    SgCandidate *first, *second, *all;
    uint32_t n = sg_candidates_around(d->a, top, gap, words.width_mm, h, 90, &first);
    uint32_t k = sg_candidates_around(d->a, low, gap, words.width_mm, h, 270, &second);
    n = sg_candidates_join(d->a, first, n, second, k, 600, &all);
    sg_want(d, words, top, all, n, true);
}

void sg_draw_mirror(SgDraw *d, const SgMark *m)
{
    Face f = { m->xy[0], m->direction, m->radius_mm, m->half_mm, m->curved && fabs(m->radius_mm) > 0 };
    if (f.curved && f.half_mm >= fabs(f.radius_mm)) f.half_mm = fabs(f.radius_mm) * (1 - 1e-9);
    uint32_t rgb = sg_style_rgb(d->style, m->colour, d->style->ink_rgb);
    if (m->role == SG_ROLE_MIRROR) hatch(d, &f, rgb);
    if (f.curved) draw_arc_face(d, &f, rgb);
    else draw_straight_face(d, &f, rgb);
    double half = face_length(&f) / 2, turned = !f.curved && fabs(f.radius_mm) > 0 ? d->style->turned_end_mm : 0;
    SgPoint back;
    SgPoint end = face_point(&f, half + turned, &back);
    sg_draw_name_at_ends(d, m, end, face_point(&f, -half - turned, &back));
}

void sg_draw_lens(SgDraw *d, const SgMark *m)
{
    SgPoint left = sg_pt_left(m->direction), end[2];
    uint32_t rgb = sg_style_rgb(d->style, m->colour, d->style->ink_rgb);
    double line = d->style->light_line_mm;
    /* A wing of that length at that slope: depth along the line, spread across it. */
    double depth = d->style->lens_head_mm / sqrt(1 + d->style->lens_head_slope * d->style->lens_head_slope);
    double spread = depth * d->style->lens_head_slope;
    for (int i = 0; i < 2; i++) {
        SgPoint out = i == 0 ? left : sg_pt_scale(left, -1);
        SgPoint tip = sg_pt_along(m->xy[0], out, m->half_mm);
        SgPoint base = sg_pt_along(tip, out, m->converging ? -depth : depth);
        SgPoint wing[3] = { sg_pt_along(base, m->direction, -spread), tip, sg_pt_along(base, m->direction, spread) };
        sg_draw_stroke(d, SG_LAYER_ELEMENT, wing, 3, line, rgb);
        sg_keep(d, SG_KEEP_SOLID, wing[0], tip, line / 2, 0);
        sg_keep(d, SG_KEEP_SOLID, tip, wing[2], line / 2, 0);
        end[i] = sg_pt_along(tip, out, m->converging ? line : depth);
    }
    SgPoint a = sg_pt_along(m->xy[0], left, m->half_mm), b = sg_pt_along(m->xy[0], left, -m->half_mm);
    sg_draw_line(d, SG_LAYER_ELEMENT, a, b, line, rgb);
    sg_keep(d, SG_KEEP_SOLID, a, b, line / 2, 0);
    sg_draw_name_at_ends(d, m, end[0], end[1]);
}

void sg_draw_aid(SgDraw *d, const SgMark *m)
{
    SgItem *item = sg_draw_line(d, SG_LAYER_AID, m->xy[0], m->xy[1], d->style->thin_line_mm, sg_style_rgb(d->style, m->colour, d->style->ink_rgb));
    item->ndash = sg_style_dash(d->style->aid_dash_mm, 2, sg_pt_distance(m->xy[0], m->xy[1]), item->dash_mm);
    sg_keep(d, SG_KEEP_SOLID, m->xy[0], m->xy[1], d->style->thin_line_mm / 2, 0);
}
