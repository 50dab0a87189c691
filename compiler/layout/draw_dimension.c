/* draw_dimension: lengths measured on the figure. In: all dimension marks. Out: rows with extension lines, heads and values.
   Lengths along the page stand in common rows below, the longer the farther out; all others beside what they measure.
   Never stands on a ray, an arrow or an element if a free row exists within reach. */
#include "layout/draw.h"
#include <math.h>

typedef struct {
    uint32_t mark;
    SgPoint a, b;              /* measured; a to b runs along `way` */
    SgPoint way, out;          /* unit: along, and from the figure to the row */
    double length_mm;
    double row_mm;             /* out . (a point of the row) */
    uint32_t level;
    bool outside;              /* heads outside */
    SgWords words;
} Span;

/* Lengths with a common end share its extension line: drawn once, and only the part a later step adds with that step. */
typedef struct { uint32_t mark; int step; SgPoint p, out; double from_mm, to_mm; bool drawn; } Extension;
typedef struct { SgDraw *d; SG_VEC(Extension) extension; } Measures;

static const unsigned ROW_FREE_OF = 1u << SG_KEEP_AXIS | 1u << SG_KEEP_SOLID | 1u << SG_KEEP_HATCH | 1u << SG_KEEP_ARROW
    | 1u << SG_KEEP_LIGHT | 1u << SG_KEEP_PRODUCED | 1u << SG_KEEP_DOT | 1u << SG_KEEP_MEASURE | 1u << SG_KEEP_WORDS;
static const unsigned LIGHT = 1u << SG_KEEP_LIGHT | 1u << SG_KEEP_PRODUCED;
static const unsigned BLOCKS = 1u << SG_KEEP_SOLID | 1u << SG_KEEP_HATCH | 1u << SG_KEEP_ARROW | 1u << SG_KEEP_DOT | 1u << SG_KEEP_PRODUCED;

static SgPoint in_row(const Span *s, SgPoint p, double row_mm) { return sg_pt_along(p, s->out, row_mm - sg_pt_dot(s->out, p)); }

/* A lens, a flat mirror, the axis or light shown by then that runs where the extension line would, up to the row, does its work. */
static bool served(const SgDraw *d, const Span *s, SgPoint p, double row_mm)
{
    SgPoint at = in_row(s, p, row_mm);
    for (uint32_t i = 0; i < d->keep.n; i++) {
        const SgKeep *k = &d->keep.v[i];
        bool light = (k->kind == SG_KEEP_LIGHT || k->kind == SG_KEEP_PRODUCED) && d->scene->mark[k->mark].step <= d->scene->mark[s->mark].step;
        if (k->kind != SG_KEEP_SOLID && k->kind != SG_KEEP_AXIS && !light) continue;
        SgPoint way = sg_pt_unit(sg_pt_sub(k->b, k->a));
        if (fabs(sg_pt_cross(way, s->out)) < 0.01 && sg_segment_distance(k->a, k->b, at) < 0.2 && sg_segment_distance(k->a, k->b, p) < 0.2)
            return true;
    }
    return false;
}

/* How far from p along the way out the thing k comes within the clearance of an extension line; 0 when it never does. */
static double blocked_until(const SgDraw *d, const Span *s, const SgKeep *k, SgPoint p, double most_mm)
{
    double reach = k->half_mm + d->style->extension_clear_mm, step = 0.5;
    double a = sg_pt_dot(s->out, sg_pt_sub(k->a, p)), b = sg_pt_dot(s->out, sg_pt_sub(k->b, p));
    double first = (a < b ? a : b) - reach, last = (a < b ? b : a) + reach;
    if (last > most_mm) last = most_mm;
    if (fabs(sg_pt_cross(s->out, sg_pt_sub(k->a, p))) > reach && fabs(sg_pt_cross(s->out, sg_pt_sub(k->b, p))) > reach
        && sg_pt_cross(s->out, sg_pt_sub(k->a, p)) * sg_pt_cross(s->out, sg_pt_sub(k->b, p)) > 0) return 0;
    for (double t = last; t > 0 && t > first; t -= step)
        if (sg_segment_distance(k->a, k->b, sg_pt_along(p, s->out, t)) < reach) return t;
    return 0;
}

/* Where the extension line may begin, from p outwards: past all that lies along its way. The gap at p counts from a dot's edge. */
static double extension_start(const SgDraw *d, const Span *s, SgPoint p, double depth_mm)
{
    double start = d->style->extension_gap_mm, most = depth_mm + d->style->extension_over_mm;
    for (uint32_t i = 0; i < d->keep.n; i++) {
        const SgKeep *k = &d->keep.v[i];
        if (!(BLOCKS & 1u << k->kind)) continue;
        bool here = sg_segment_distance(k->a, k->b, p) < 0.2;
        double until = blocked_until(d, s, k, p, most) - d->style->extension_clear_mm + d->style->extension_gap_mm;
        if (here && until <= k->half_mm + 2 * d->style->extension_gap_mm) until = d->style->extension_gap_mm + (k->kind == SG_KEEP_DOT ? k->half_mm : 0);
        if (until > start) start = until;
    }
    return start;
}

static double overhang(const SgDraw *d, const Span *s) { return s->outside ? d->style->dimension_tail_mm + d->style->dimension_head_mm : 0; }

static double text_height(const Span *s) { return s->words.ascent_mm + s->words.descent_mm; }

static bool end_free(const SgDraw *d, const Span *s, SgPoint p, double row_mm)
{
    double depth = row_mm - sg_pt_dot(s->out, p);
    return served(d, s, p, row_mm) || extension_start(d, s, p, depth) < depth - 0.5;
}

/* From the row to the value's middle: clear of the heads too where it reaches over them. */
static double value_across(const SgDraw *d, const Span *s)
{
    double w = s->words.width_mm / 2, h = text_height(s) / 2;
    double beside_head = s->length_mm / 2 - fabs(s->way.y_mm) * h - fabs(s->way.x_mm) * w;
    bool over = beside_head < d->style->dimension_head_mm + d->style->label_gap_mm;
    return fabs(s->out.y_mm) * h + fabs(s->out.x_mm) * w + d->style->label_gap_mm + (over ? d->style->dimension_head_width_mm / 2 : 0);
}

/* Where the value stands when all is well: on the inner side of a row, on the outer side of a column; as a box. */
static SgBox value_box(const SgDraw *d, const Span *s, SgPoint a, SgPoint b)
{
    double w = s->words.width_mm / 2, h = text_height(s) / 2, across = value_across(d, s);
    SgPoint middle = sg_pt_along(sg_pt_mid(a, b), s->out, fabs(s->way.y_mm) > 0.7 ? across : -across);
    return (SgBox){ middle.x_mm - w, middle.y_mm - h, middle.x_mm + w, middle.y_mm + h };
}

static bool inside(SgBox frame, SgPoint p)
{
    return frame.x0_mm >= frame.x1_mm || (p.x_mm > frame.x0_mm + 1 && p.x_mm < frame.x1_mm - 1 && p.y_mm > frame.y0_mm + 1 && p.y_mm < frame.y1_mm - 1);
}

static bool value_free(const SgDraw *d, SgBox box, unsigned kinds, uint32_t skip)
{
    double half = (box.y1_mm - box.y0_mm) / 2, y = (box.y0_mm + box.y1_mm) / 2;
    if (!inside(d->frame, sg_pt(box.x0_mm, box.y0_mm)) || !inside(d->frame, sg_pt(box.x1_mm, box.y1_mm))) return false;
    SgPoint left = sg_pt(box.x0_mm + half, y), right = sg_pt(box.x1_mm - half, y);
    return !sg_keep_within(d, left, right, kinds, skip, half + d->style->label_gap_mm);
}

static bool row_free(const SgDraw *d, const Span *s, double row_mm, bool cross_light)
{
    unsigned kinds = cross_light ? ROW_FREE_OF & ~LIGHT : ROW_FREE_OF;
    SgPoint a = in_row(s, s->a, row_mm), b = in_row(s, s->b, row_mm);
    double inset = s->outside ? -overhang(d, s) : 2.0;
    if (!s->outside && s->length_mm < 2.5 * inset) inset = s->length_mm * 0.4;
    SgPoint from = sg_pt_along(a, s->way, inset), to = sg_pt_along(b, s->way, -inset);
    if (sg_keep_within(d, from, to, kinds, s->mark, d->style->dimension_clear_mm)) return false;
    /* Where light may cross the line, it still keeps off the heads. */
    double shaft = 0.5, tail = d->style->dimension_head_mm + shaft;
    bool light_at_head = cross_light && (sg_keep_within(d, sg_pt_along(a, s->way, shaft), sg_pt_along(a, s->way, tail), LIGHT, s->mark, shaft - 0.2)
        || sg_keep_within(d, sg_pt_along(b, s->way, -tail), sg_pt_along(b, s->way, -shaft), LIGHT, s->mark, shaft - 0.2));
    if (light_at_head) return false;
    if (!inside(d->frame, a) || !inside(d->frame, b)) return false;
    /* A dot's letter stands about it. */
    if (fabs(s->way.y_mm) > 0.7 && sg_keep_within(d, from, to, 1u << SG_KEEP_DOT, s->mark, 3 * d->style->label_gap_mm)) return false;
    bool between = fabs(s->way.y_mm) > 0.7 || s->words.width_mm + 3 < s->length_mm;
    if (s->words.nruns > 0 && between && !value_free(d, value_box(d, s, a, b), ROW_FREE_OF, s->mark)) return false;
    return end_free(d, s, s->a, row_mm) && end_free(d, s, s->b, row_mm);
}

static void thin(SgDraw *d, SgPoint a, SgPoint b)
{
    sg_draw_line(d, SG_LAYER_MEASURE, a, b, d->style->thin_line_mm, d->style->ink_rgb);
    sg_keep(d, SG_KEEP_MEASURE, a, b, d->style->thin_line_mm / 2, 0);
}

static void head(SgDraw *d, SgPoint tip, SgPoint way)
{
    double length = d->style->dimension_head_mm, width = d->style->dimension_head_width_mm;
    sg_draw_head(d, SG_LAYER_MEASURE, tip, way, length, width, d->style->ink_rgb);
    sg_keep(d, SG_KEEP_MEASURE, sg_pt_along(tip, way, -length), tip, width / 2, 0);
}

static void extension(Measures *m, const Span *s, SgPoint p)
{
    double depth = s->row_mm - sg_pt_dot(s->out, p);
    if (depth <= 0 || served(m->d, s, p, s->row_mm)) return;
    double start = extension_start(m->d, s, p, depth);
    if (start > depth - 0.5) start = depth - 0.5;
    Extension e = { .mark = s->mark, .step = m->d->scene->mark[s->mark].step, .p = p, .out = s->out, .from_mm = start,
                    .to_mm = depth + m->d->style->extension_over_mm };
    SG_PUSH(m->d->a, &m->extension, e);
}

static bool shared(const Extension *a, const Extension *b)
{
    SgPoint between = sg_pt_sub(b->p, a->p);
    return sg_pt_dot(a->out, b->out) > 0.999 && fabs(sg_pt_cross(a->out, between)) < 0.05 && sg_pt_length(between) < 60;
}

static void draw_extensions(Measures *m)
{
    for (uint32_t done = 0; done < m->extension.n; done++) {
        Extension *next = NULL;                        /* the earliest step first, the longest first within it */
        for (uint32_t i = 0; i < m->extension.n; i++) {
            Extension *e = &m->extension.v[i];
            if (!e->drawn && (next == NULL || e->step < next->step || (e->step == next->step && e->to_mm > next->to_mm))) next = e;
        }
        double from = next->from_mm;
        for (uint32_t i = 0; i < m->extension.n; i++) {
            const Extension *e = &m->extension.v[i];
            if (!e->drawn || !shared(next, e)) continue;
            double end = sg_pt_dot(next->out, sg_pt_sub(e->p, next->p)) + e->to_mm;
            if (end > from) from = end;
        }
        m->d->now = next->mark;
        next->drawn = true;
        if (from < next->to_mm - 0.01) thin(m->d, sg_pt_along(next->p, next->out, from), sg_pt_along(next->p, next->out, next->to_mm));
    }
}

/* The value: in the middle on the inner side, on the outer, moved along, or past an end. */
static void value(SgDraw *d, const Span *s, SgPoint a, SgPoint b)
{
    if (s->words.nruns == 0) return;
    double w = s->words.width_mm, h = text_height(s), middle = s->length_mm / 2;
    double across = value_across(d, s);
    double along = fabs(s->way.y_mm) * h / 2 + fabs(s->way.x_mm) * w / 2 + d->style->label_gap_mm;
    bool fits = s->length_mm > 2 * along;
    bool outer_first = fabs(s->way.y_mm) > 0.7;        /* beside a height the value stands away from the arrow */
    SG_VEC(SgCandidate) list = { 0 };
    for (int slide = 0; slide < 5; slide++)
        for (int side = 0; side < 2; side++) {
            double shift = (slide % 2 == 0 ? 0.5 : -0.5) * ((slide + 1) / 2) * (middle - along) * 0.9;
            SgPoint at = sg_pt_along(sg_pt_along(a, s->way, middle + (fits ? shift : 0)), s->out, (side == 1) == outer_first ? -across : across);
            SgCandidate c = { .xy = at, .cost = 100 * slide + 150 * side + (fits ? 0 : 250) };
            SG_PUSH(d->a, &list, c);
            if (!fits) slide = 4;
        }
    for (int far = 0; far < 3; far++) {
        double past = overhang(d, s) + along + far * 1.5;
        SgCandidate right = { .xy = sg_pt_along(b, s->way, past), .cost = 500 + 60 * far };
        SgCandidate left = { .xy = sg_pt_along(a, s->way, -past), .cost = 530 + 60 * far };
        SG_PUSH(d->a, &list, right);
        SG_PUSH(d->a, &list, left);
    }
    sg_want(d, s->words, sg_pt_mid(a, b), list.v, list.n, true);
}

static void draw_span(Measures *m, const Span *s)
{
    SgDraw *d = m->d;
    d->now = s->mark;
    SgPoint a = in_row(s, s->a, s->row_mm), b = in_row(s, s->b, s->row_mm), back = sg_pt_scale(s->way, -1);
    double length = d->style->dimension_head_mm, cut = sg_draw_under_head(d, length);
    extension(m, s, s->a);
    extension(m, s, s->b);
    if (s->outside) {
        thin(d, a, b);
        thin(d, sg_pt_along(a, s->way, -overhang(d, s)), sg_pt_along(a, s->way, -cut));
        thin(d, sg_pt_along(b, s->way, cut), sg_pt_along(b, s->way, overhang(d, s)));
        head(d, a, s->way);
        head(d, b, back);
    } else {
        thin(d, sg_pt_along(a, s->way, cut), sg_pt_along(b, s->way, -cut));
        head(d, a, back);
        head(d, b, s->way);
    }
    sg_draw_ticks_across(d, sg_pt_mid(a, b), s->way, d->scene->mark[s->mark].ticks, d->style->ink_rgb);
    value(d, s, a, b);
}

static bool level_of_page(const Span *s) { return fabs(s->way.y_mm) < 0.002; }

static bool share(const SgDraw *d, const Span *a, const Span *b)
{
    double pad = overhang(d, a) + overhang(d, b);
    double low = a->a.x_mm > b->a.x_mm ? a->a.x_mm : b->a.x_mm, high = a->b.x_mm < b->b.x_mm ? a->b.x_mm : b->b.x_mm;
    return high - low > 0.05 - pad;
}

/* Rows below: every length beneath the shorter ones it spans; one row a level, free for all of that level. */
static void rows_below(Measures *m, Span *span, uint32_t n)
{
    SgDraw *d = m->d;
    uint32_t levels = 0;
    for (uint32_t i = 0; i < n; i++) {
        for (uint32_t k = 0; k < i; k++)
            if (share(d, &span[i], &span[k]) && span[k].level >= span[i].level) span[i].level = span[k].level + 1;
        if (span[i].level + 1 > levels) levels = span[i].level + 1;
    }
    double under_all = -d->box.y0_mm + d->style->dimension_first_mm, before = -1e9;
    for (uint32_t level = 0; level < levels; level++) {
        double row = before + d->style->dimension_pitch_mm;
        for (uint32_t i = 0; i < n; i++) {
            double deepest = -(span[i].a.y_mm < span[i].b.y_mm ? span[i].a.y_mm : span[i].b.y_mm) + d->style->dimension_first_mm;
            if (span[i].level == level && deepest > row) row = deepest;
        }
        for (bool free = false; !free && row < under_all; row += free ? 0 : 1) {
            free = true;
            for (uint32_t i = 0; i < n && free; i++)
                if (span[i].level == level) free = row_free(d, &span[i], row, false);
        }
        for (uint32_t i = 0; i < n; i++)
            if (span[i].level == level) { span[i].row_mm = row; draw_span(m, &span[i]); }
        before = row;
    }
}

/* A height or a slanted length: the nearest free column on either side, the outer side of the figure first. */
static void beside(Measures *m, Span *s)
{
    SgDraw *d = m->d;
    SgPoint centre = sg_pt((d->box.x0_mm + d->box.x1_mm) / 2, (d->box.y0_mm + d->box.y1_mm) / 2);
    SgPoint left = sg_pt_left(s->way);
    if (sg_pt_dot(left, sg_pt_sub(sg_pt_mid(s->a, s->b), centre)) < 0) left = sg_pt_scale(left, -1);
    enum { FARTHEST = 40 };
    for (int cross_light = 0; cross_light < 2; cross_light++)          /* only where no other column is free may light cross it */
        for (int far = 0; far < FARTHEST; far++)
            for (int side = 0; side < 2; side++) {
                s->out = sg_pt_scale(left, side == 0 ? 1 : -1);
                double base = sg_pt_dot(s->out, s->a), other = sg_pt_dot(s->out, s->b);
                s->row_mm = (base > other ? base : other) + d->style->dimension_side_mm + far;
                if (row_free(d, s, s->row_mm, cross_light == 1)) { draw_span(m, s); return; }
            }
    s->out = left;
    s->row_mm = sg_pt_dot(left, s->a) + d->style->dimension_side_mm;
    draw_span(m, s);
}

static Span measure(SgDraw *d, uint32_t mark)
{
    const SgMark *m = &d->scene->mark[mark];
    Span s = { .mark = mark, .a = m->xy[0], .b = m->xy[1], .out = { 0, -1 } };
    SgPoint way = sg_pt_sub(s.b, s.a);
    bool turn = fabs(way.x_mm) > 1e-9 ? way.x_mm < 0 : way.y_mm < 0;
    if (turn) { s.a = m->xy[1]; s.b = m->xy[0]; }
    s.length_mm = sg_pt_distance(s.a, s.b);
    s.way = sg_pt_unit(sg_pt_sub(s.b, s.a));
    s.outside = s.length_mm < d->style->dimension_outside_mm;
    d->now = mark;
    if (m->words.n > 0) s.words = sg_draw_shape(d, m->words, d->style->value_pt);
    return s;
}

void sg_draw_dimensions(SgDraw *d)
{
    Measures m = { .d = d };
    SG_VEC(Span) rows = { 0 };
    SG_VEC(Span) others = { 0 };
    for (uint32_t i = d->first; i < d->end; i++) {
        if (d->scene->mark[i].role != SG_ROLE_DIMENSION) continue;
        Span s = measure(d, i);
        if (s.length_mm < 1e-6) continue;
        if (!level_of_page(&s)) { SG_PUSH(d->a, &others, s); continue; }
        SG_PUSH(d->a, &rows, s);
        for (uint32_t k = rows.n - 1; k > 0 && rows.v[k - 1].length_mm > rows.v[k].length_mm + 1e-6; k--) {        /* shortest first */
            Span swap = rows.v[k];
            rows.v[k] = rows.v[k - 1];
            rows.v[k - 1] = swap;
        }
    }
    if (rows.n > 0) rows_below(&m, rows.v, rows.n);
    for (uint32_t i = 0; i < others.n; i++) beside(&m, &others.v[i]);
    draw_extensions(&m);
}
