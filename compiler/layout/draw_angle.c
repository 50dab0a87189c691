/* draw_angle: arcs of angle marks. In: all angle marks. Out: arcs, ticks of equal ones, and words that want a place.
   Never measures: the angles are the scene's. */
#include "layout/draw.h"
#include <math.h>

typedef struct { uint32_t mark; const SgMark *m; double radius_mm; } Wedge;

static SgPoint at_deg(SgPoint from, double deg, double length_mm)
{
    double sine, cosine;
    sg_sincos_deg(deg, &sine, &cosine);
    return sg_pt(from.x_mm + length_mm * cosine, from.y_mm + length_mm * sine);
}

static bool small(const SgDraw *d, const SgMark *m) { return fabs(m->sweep_deg) < d->style->angle_small_deg; }

static bool equal(const SgMark *a, const SgMark *b) { return a->equal != 0 && a->equal == b->equal; }

/* Equal ones share a radius; different ones at one vertex differ by a step. Small ones start farther out. */
static void radii(const SgDraw *d, Wedge *w, uint32_t n)
{
    for (uint32_t i = 0; i < n; i++) {
        if (w[i].radius_mm > 0) continue;
        bool far = false;
        for (uint32_t k = i; k < n; k++) far = far || (small(d, w[k].m) && (k == i || equal(w[i].m, w[k].m)));
        double r = far ? d->style->angle_small_mm : d->style->angle_first_mm;
        for (bool taken = true; taken;) {
            taken = false;
            for (uint32_t k = 0; k < n; k++) {
                bool near = false;                     /* does any of this one's group share a vertex with k? */
                for (uint32_t j = i; j < n; j++)
                    near = near || ((j == i || equal(w[i].m, w[j].m)) && sg_pt_distance(w[j].m->xy[0], w[k].m->xy[0]) < 0.05);
                if (w[k].radius_mm > 0 && near && fabs(w[k].radius_mm - r) < d->style->angle_step_mm - 1e-9) taken = true;
            }
            if (taken) r += d->style->angle_step_mm;
        }
        for (uint32_t k = i; k < n; k++)
            if (k == i || equal(w[i].m, w[k].m)) w[k].radius_mm = r;
    }
}

static void ticks(SgDraw *d, const Wedge *w)
{
    if (d->style->line_only && !w->m->ticks) return;   /* too small to be felt */
    uint32_t n = w->m->ticks ? w->m->ticks : w->m->equal > 3 ? 3 : w->m->equal;
    double pitch_deg = d->style->angle_tick_pitch_mm / w->radius_mm * 57.29577951308232, half = d->style->angle_tick_mm / 2;
    for (uint32_t i = 0; i < n; i++) {
        double deg = w->m->from_deg + w->m->sweep_deg / 2 + pitch_deg * (i - (n - 1) / 2.0);
        SgPoint a = at_deg(w->m->xy[0], deg, w->radius_mm - half), b = at_deg(w->m->xy[0], deg, w->radius_mm + half);
        sg_draw_line(d, SG_LAYER_MEASURE, a, b, d->style->thin_line_mm, d->style->ink_rgb);
        sg_keep(d, SG_KEEP_MEASURE, a, b, d->style->thin_line_mm / 2, 0);
    }
}

/* A small angle's words stand beyond the arm that leans away from the axis, so that two about one axis do not change places. */
static void keep_outside(const SgDraw *d, const Wedge *w, SgCandidate *candidate, uint32_t n)
{
    if (!d->axis) return;
    SgPoint along = sg_pt_unit(sg_pt_sub(d->axis_b, d->axis_a)), at = w->m->xy[0];
    SgPoint one = sg_pt_sub(at_deg(at, w->m->from_deg, 1), at), two = sg_pt_sub(at_deg(at, w->m->from_deg + w->m->sweep_deg, 1), at);
    SgPoint arm = fabs(sg_pt_cross(along, one)) > fabs(sg_pt_cross(along, two)) ? one : two;
    for (uint32_t i = 0; i < n; i++) {
        SgPoint to = sg_pt_sub(candidate[i].xy, at);
        if (sg_pt_cross(along, arm) * sg_pt_cross(along, to) < 0 || fabs(sg_pt_cross(along, to)) < fabs(sg_pt_cross(along, arm)) * w->radius_mm)
            candidate[i].cost += 7000;
    }
}

/* Words across the axis from their angle would be read as the other one's: no place for them, and where their own side is full
   a leader tells whose they are. Returns how many candidates are left. */
static uint32_t keep_on_side(const SgDraw *d, SgPoint vertex, SgPoint away, SgCandidate *candidate, uint32_t n)
{
    SgPoint along = sg_pt_sub(d->axis_b, d->axis_a);
    uint32_t left = 0;
    if (!d->axis) return n;
    for (uint32_t i = 0; i < n; i++)
        if (sg_pt_cross(along, away) * sg_pt_cross(along, sg_pt_sub(candidate[i].xy, vertex)) >= 0) candidate[left++] = candidate[i];
    return left;
}

/* On the bisector; farther out on it; then around the arc's middle with a leader. */
static void words_of(SgDraw *d, const Wedge *w)
{
    SgWords words = sg_draw_shape(d, w->m->words, d->style->value_pt);
    double h = words.ascent_mm + words.descent_mm, middle_deg = w->m->from_deg + w->m->sweep_deg / 2;
    SgPoint arc = at_deg(w->m->xy[0], middle_deg, w->radius_mm);
    SG_VEC(SgCandidate) list = { 0 };
    if (!small(d, w->m))
        for (int i = 0; i < 9; i++) {
            SgCandidate c = { .xy = at_deg(w->m->xy[0], middle_deg, w->radius_mm * (d->style->angle_words + 0.15 * i)), .cost = 80 * i };
            SG_PUSH(d->a, &list, c);
        }
    SgCandidate *around, *all;
    /* Up or down from the axis and away from the vertex: a leader square to the axis would look like more of the arc. */
    SgPoint from = at_deg(w->m->xy[0], middle_deg, 1);
    SgPoint away = sg_pt_sub(from, w->m->xy[0]);
    double up = d->axis && sg_pt_cross(sg_pt_sub(d->axis_b, d->axis_a), away) < 0 ? -1 : 1;
    double lean_deg = sg_atan2_deg(away.y_mm + up, away.x_mm);
    uint32_t n = sg_candidates_around(d->a, arc, 3 * d->style->label_gap_mm, words.width_mm, h, lean_deg, &around);
    n = sg_candidates_join(d->a, list.v, list.n, around, n, small(d, w->m) ? 0 : 900, &all);
    if (small(d, w->m)) keep_outside(d, w, all, n);
    else n = keep_on_side(d, w->m->xy[0], away, all, n);
    SgWanted *want = sg_want(d, words, arc, all, n, true);
    if (want != NULL) want->ask.always_lead = small(d, w->m);
}

/* A right angle: two sides of a small square on its arms. */
static void square(SgDraw *d, const SgMark *m)
{
    double side = d->style->right_angle_mm, second_deg = m->from_deg + m->sweep_deg;
    SgPoint a = at_deg(m->xy[0], m->from_deg, side), corner = at_deg(a, second_deg, side), b = at_deg(m->xy[0], second_deg, side);
    sg_draw_stroke(d, SG_LAYER_MEASURE, (SgPoint[]){ a, corner, b }, 3, d->style->thin_line_mm, sg_style_rgb(d->style, m->colour, d->style->ink_rgb));
    sg_keep(d, SG_KEEP_MEASURE, a, corner, d->style->thin_line_mm / 2, 0);
    sg_keep(d, SG_KEEP_MEASURE, corner, b, d->style->thin_line_mm / 2, 0);
    if (m->words.n == 0) return;
    Wedge w = { .mark = d->now, .m = m, .radius_mm = 2 * side };
    words_of(d, &w);
}

void sg_draw_angles(SgDraw *d)
{
    SG_VEC(Wedge) list = { 0 };
    for (uint32_t i = d->first; i < d->end; i++) {
        Wedge w = { .mark = i, .m = &d->scene->mark[i] };
        d->now = i;
        if (w.m->role == SG_ROLE_ANGLE && w.m->right) square(d, w.m);
        else if (w.m->role == SG_ROLE_ANGLE) SG_PUSH(d->a, &list, w);
    }
    radii(d, list.v, list.n);
    for (uint32_t i = 0; i < list.n; i++) {
        const Wedge *w = &list.v[i];
        d->now = w->mark;
        sg_draw_arc(d, SG_LAYER_MEASURE, w->m->xy[0], w->radius_mm, w->m->from_deg, w->m->sweep_deg, d->style->thin_line_mm,
                    sg_style_rgb(d->style, w->m->colour, d->style->ink_rgb));
        sg_keep_arc(d, SG_KEEP_MEASURE, w->m->xy[0], w->radius_mm, w->m->from_deg, w->m->sweep_deg, d->style->thin_line_mm / 2);
        ticks(d, w);
        if (w->m->words.n > 0) words_of(d, w);
    }
}
