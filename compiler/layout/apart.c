/* apart: the given and the answer of a problem laid out one after the other. In: two scenes of one figure. Out: two pages.
   Never lets what is only in the answer move, or show in, what is given. */
#include "layout/draw.h"
#include <math.h>

#define SG_AXIS_END_MM 3.0         /* between the axis and the edge of a problem's frame */

static bool same_mark(const SgMark *a, const SgMark *b)
{
    if (a->role != b->role || a->mistaken != b->mistaken || !sg_str_same(a->name, b->name)) return false;
    bool placed_by_reach = a->role == SG_ROLE_AXIS || (a->role == SG_ROLE_NOTE && (sg_str_is(a->name, "scale") || sg_str_is(a->name, "caution")));
    if (placed_by_reach) return true;
    return a->at.file == b->at.file && a->at.start == b->at.start && a->sister == b->sister && a->nxy > 0 && b->nxy > 0 && sg_pt_distance(a->xy[0], b->xy[0]) < 1e-6;
}

static bool stands(const SgScene *given, const SgMark *m)
{
    for (uint32_t i = 0; i < given->nmarks; i++) if (same_mark(&given->mark[i], m)) return true;
    return false;
}

static bool is_hidden(const SgMark *m) { return m->ncues > 0 && m->cue[m->ncues - 1].look == 'h'; }

static void take(SgScene *both, const SgMark *m, int step)
{
    if (is_hidden(m)) return;
    SgMark *new = &both->mark[both->nmarks++];
    *new = *m;
    new->step = step;
    new->cue = NULL;
    new->ncues = 0;
}

/* The marks of what is given, then those of the answer; the axis from edge to edge, so that its length tells nothing. */
static SgScene *both_of(SgCompile *c, const SgScene *given, const SgScene *whole, SgBox frame, uint32_t *ngiven)
{
    SgScene *both = SG_NEW(c->arena, SgScene);
    *both = *given;
    both->nsteps = 0;
    both->describe = given->given;             /* the whole would tell the image */
    both->brief = given->brief_given;
    both->mark = SG_ARRAY(c->arena, SgMark, given->nmarks + whole->nmarks);
    both->nmarks = 0;
    for (uint32_t i = 0; i < given->nmarks; i++) take(both, &given->mark[i], 0);
    *ngiven = both->nmarks;
    for (uint32_t i = 0; i < both->nmarks; i++) {
        SgMark *m = &both->mark[i];
        if (m->role != SG_ROLE_AXIS || m->fixed) continue;
        SgPoint *xy = SG_ARRAY(c->arena, SgPoint, 2);
        xy[0] = sg_pt(frame.x0_mm + SG_AXIS_END_MM, m->xy[0].y_mm);
        xy[1] = sg_pt(frame.x1_mm - SG_AXIS_END_MM, m->xy[0].y_mm);
        m->xy = xy;
        m->fixed = true;
    }
    for (uint32_t i = 0; i < whole->nmarks; i++) if (!stands(given, &whole->mark[i])) take(both, &whole->mark[i], 1);
    return both;
}

/* Words of the sheet keep their places free: each as a bar as high as its letters. */
static void keep_words(SgDraw *d)
{
    d->now = 0;                                /* no mark of the answer */
    for (uint32_t i = 0; i < d->drawn.n; i++) {
        const SgItem *it = &d->drawn.v[i].item;
        if (it->shape != SG_ITEM_WORDS) continue;
        const SgWords *w = it->words;
        double half = (w->ascent_mm + w->descent_mm) / 2, inset = half < w->width_mm / 2 ? half : w->width_mm / 2;
        double y = it->xy[0].y_mm + (w->ascent_mm - w->descent_mm) / 2, x = it->xy[0].x_mm;
        sg_keep(d, SG_KEEP_WORDS, sg_pt(x + inset, y), sg_pt(x + w->width_mm - inset, y), half, 0);
    }
}

void sg_layout_apart(SgCompile *c, const SgScene *given, const SgScene *whole, SgBox frame, SgPage **sheet, SgPage **key)
{
    uint32_t ngiven;
    SgScene *both = both_of(c, given, whole, frame, &ngiven);
    SgStyle style = sg_style_of(&given->style);
    SgDraw d = { .c = c, .a = c->arena, .scene = both, .style = &style, .end = ngiven, .box = sg_box_empty(), .frame = frame };
    sg_draw_marks(&d);
    sg_draw_grids(&d, frame);
    *sheet = sg_page_of(&d, both, frame);
    keep_words(&d);
    d.first = ngiven;
    d.end = both->nmarks;
    d.wanted.v = NULL;                         /* the sheet's items point into the old one */
    d.wanted.n = d.wanted.cap = d.leg.n = 0;
    sg_draw_marks(&d);
    sg_draw_grids(&d, frame);
    sg_draw_outside(&d, frame);
    *key = sg_page_of(&d, both, frame);
}
