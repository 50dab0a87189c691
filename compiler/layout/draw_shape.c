/* draw_shape: objects and images drawn as things. In: foot, tip and shape of a mark. Out: outlines of one line width, exactly as
   tall as the mark, foot on foot and top on tip; dashed for a virtual image. Never draws beyond the tip. */
#include "layout/draw.h"
#include <math.h>

/* Outlines on a sheet 1000 tall, x 0 over the foot: M x y begins a line, L x y goes straight on, Q x y x y bends on towards the
   first point to the second, Z closes, O x y r is a circle. */
static const char *const outline[SG_SHAPE_COUNT] = {
    [SG_SHAPE_ARROW] = "",
    [SG_SHAPE_CANDLE] = "M -260 0 L 260 0 M -120 0 L -120 600 L 120 600 L 120 0 M 0 600 L 0 690 "
        "M 0 1000 Q 140 830 100 750 Q 70 680 0 680 Q -70 680 -100 750 Q -140 830 0 1000 Z",
    [SG_SHAPE_BULB] = "M -115 300 Q -125 400 -225 490 Q -330 580 -330 690 Q -330 1000 0 1000 Q 330 1000 330 690 Q 330 580 225 490 Q 125 400 115 300 Z "
        "M -115 300 L -115 80 L -50 0 L 50 0 L 115 80 L 115 300 M -115 225 L 115 225 M -115 150 L 115 150 "
        "M -60 300 L -90 560 L -45 670 L 0 580 L 45 670 L 90 560 L 60 300",
    [SG_SHAPE_TREE] = "M -170 0 L 170 0 M -55 0 L -55 330 M 55 0 L 55 330 "
        "M -55 330 Q -200 270 -290 370 Q -390 480 -310 600 Q -370 760 -240 840 Q -150 1000 0 1000 Q 150 1000 240 840 Q 370 760 310 600 "
        "Q 390 480 290 370 Q 200 270 55 330 Z",
    [SG_SHAPE_PERSON] = "O 0 880 120 M 0 760 L 0 400 M -210 560 L 0 690 L 210 850 M -150 0 L 0 400 L 150 0",
    [SG_SHAPE_BOTTLE] = "M -60 930 L -60 790 Q -60 730 -95 700 Q -170 640 -170 520 L -170 0 L 170 0 L 170 520 Q 170 640 95 700 Q 60 730 60 790 L 60 930 "
        "M -80 930 L -80 1000 L 80 1000 L 80 930 Z M -170 160 L 170 160 M -170 420 L 170 420",
    [SG_SHAPE_KEY] = "O 0 800 200 O 0 830 80 "
        "M -45 605 L -45 0 L 45 0 L 45 60 L 190 60 L 190 150 L 45 150 L 45 220 L 150 220 L 150 310 L 45 310 L 45 605",
    [SG_SHAPE_FISH] = "M -800 430 Q -450 800 -50 780 Q 250 760 480 470 L 800 760 Q 700 440 800 120 L 480 400 Q 250 110 -50 90 Q -450 70 -800 430 Z "
        "M -240 760 Q -120 960 0 1000 Q 20 850 160 715 M -120 90 Q -70 20 0 0 Q 40 60 130 135 O -560 490 35 M -390 665 Q -290 430 -390 190",
    [SG_SHAPE_FLOWER] = "M 0 0 L 0 560 M 0 180 Q 170 200 220 390 Q 40 360 0 180 Z M 0 110 Q -150 120 -200 290 Q -40 280 0 110 Z "
        "M 0 560 Q -230 580 -200 950 L -100 800 L 0 1000 L 100 800 L 200 950 Q 230 580 0 560 Z",
    [SG_SHAPE_LETTER] = "M -75 0 L -75 1000 L 425 1000 L 425 850 L 75 850 L 75 580 L 350 580 L 350 430 L 75 430 L 75 0 Z",
};

enum { PIECES = 8, MOST_POINTS = 256 };
typedef struct {
    SgDraw *d; const SgMark *m; const char *s;
    SgPoint foot, up, right; double k;         /* millimetres a unit */
    SgPoint xy[MOST_POINTS]; uint32_t n;       /* of the line being drawn */
    SgPoint now;                               /* its end, in units */
    double half_mm;                            /* the widest it gets on either side */
} Pen;

static double next_number(Pen *p)
{
    double x = 0;
    while (*p->s == ' ') p->s++;
    bool minus = *p->s == '-';
    if (minus) p->s++;
    for (; *p->s >= '0' && *p->s <= '9'; p->s++) x = 10 * x + (*p->s - '0');
    return minus ? -x : x;
}

static SgPoint next_point(Pen *p)
{
    double x = next_number(p);
    return sg_pt(x, next_number(p));
}

static SgPoint on_page(const Pen *p, SgPoint unit)
{
    return sg_pt_along(sg_pt_along(p->foot, p->up, unit.y_mm * p->k), p->right, unit.x_mm * p->k);
}

static void go(Pen *p, SgPoint to)
{
    if (p->n < MOST_POINTS) p->xy[p->n++] = on_page(p, to);
    p->now = to;
    if (fabs(to.x_mm) * p->k > p->half_mm) p->half_mm = fabs(to.x_mm) * p->k;
}

/* A small thing's dashes are shorter, in the same proportion, or it could not be made out. */
static void dash(const Pen *p, SgItem *item, double length_mm)
{
    if (p->m->role != SG_ROLE_VIRTUAL_IMAGE) return;
    double size = p->k * 1000 / 20;
    size = size > 1 ? 1 : size < 0.4 ? 0.4 : size;
    double pattern[2] = { p->d->style->produced_dash_mm[0] * size, p->d->style->produced_dash_mm[1] * size };
    item->ndash = sg_style_dash(pattern, 2, length_mm, item->dash_mm);
}

static void finish(Pen *p, bool closed)
{
    if (p->n < 2) { p->n = 0; return; }
    double length = closed ? sg_pt_distance(p->xy[p->n - 1], p->xy[0]) : 0;
    for (uint32_t i = 1; i < p->n; i++) {
        length += sg_pt_distance(p->xy[i - 1], p->xy[i]);
        sg_keep(p->d, SG_KEEP_ARROW, p->xy[i - 1], p->xy[i], p->d->style->light_line_mm / 2, 0);
    }
    SgItem *item = sg_draw_stroke(p->d, SG_LAYER_ARROW, p->xy, p->n, p->d->style->light_line_mm, sg_style_rgb(p->d->style, p->m->colour, p->d->style->ink_rgb));
    item->closed = closed;
    dash(p, item, length);
    p->n = 0;
}

static void bend(Pen *p)
{
    SgPoint a = p->now, b = next_point(p), c = next_point(p);
    for (int i = 1; i <= PIECES; i++) {
        double t = (double)i / PIECES, u = 1 - t;
        go(p, sg_pt_add(sg_pt_add(sg_pt_scale(a, u * u), sg_pt_scale(b, 2 * u * t)), sg_pt_scale(c, t * t)));
    }
}

static void round_line(Pen *p)
{
    SgPoint centre = on_page(p, next_point(p));
    double r = next_number(p) * p->k;
    SgItem *item = sg_draw_arc(p->d, SG_LAYER_ARROW, centre, r, 0, 360, p->d->style->light_line_mm, sg_style_rgb(p->d->style, p->m->colour, p->d->style->ink_rgb));
    dash(p, item, 2 * 3.14159265358979323846 * r);
    sg_keep_arc(p->d, SG_KEEP_ARROW, centre, r, 0, 360, p->d->style->light_line_mm / 2);
    if (r > p->half_mm) p->half_mm = r;
}

static void follow(Pen *p)
{
    for (; *p->s != '\0'; ) {
        char verb = *p->s++;
        if (verb == 'M' || verb == 'O') finish(p, false);
        if (verb == 'M' || verb == 'L') go(p, next_point(p));
        if (verb == 'Q') bend(p);
        if (verb == 'O') round_line(p);
        if (verb == 'Z') finish(p, true);
    }
    finish(p, false);
}

/* Under the foot first, then beside, then over the top. */
static void name(const Pen *p, SgPoint foot, SgPoint tip)
{
    if (p->m->words.n == 0) return;
    SgWords words = sg_draw_name(p->d, p->m->words);
    double h = words.ascent_mm + words.descent_mm, gap = p->d->style->label_gap_mm, down_deg = sg_atan2_deg(-p->up.y_mm, -p->up.x_mm);
    SgCandidate *under, *beside, *over, *some, *all;
    uint32_t n = sg_candidates_around(p->d->a, foot, sg_draw_row_mm(p->d), words.width_mm, h, down_deg, &under);
    uint32_t k = sg_candidates_beside(p->d->a, foot, tip, gap + p->half_mm + p->d->style->light_line_mm, words.width_mm, h, 0.4, 0.8, &beside);
    n = sg_candidates_join(p->d->a, under, n, beside, k, 300, &some);
    k = sg_candidates_around(p->d->a, tip, gap, words.width_mm, h, down_deg + 180, &over);
    n = sg_candidates_join(p->d->a, some, n, over, k, 900, &all);
    sg_draw_prefer_own_arrow(p->d, p->m, all, n);
    sg_want(p->d, words, sg_pt_mid(foot, tip), all, n, true);
}

void sg_draw_shaped(SgDraw *d, const SgMark *m)
{
    SgPoint foot = m->xy[0], tip = m->xy[1];
    double line = d->style->light_line_mm, height = sg_pt_distance(foot, tip);
    Pen *p = SG_NEW(d->a, Pen);
    *p = (Pen){ .d = d, .m = m, .s = outline[m->shape], .up = sg_pt_unit(sg_pt_sub(tip, foot)), .k = (height - line) / 1000 };
    p->foot = sg_pt_along(foot, p->up, line / 2);      /* the line's own width lies inside the height */
    p->right = sg_pt_scale(sg_pt_left(p->up), m->reversed ? 1 : -1);
    follow(p);
    name(p, foot, tip);
}
