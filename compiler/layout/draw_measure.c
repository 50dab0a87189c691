/* draw_measure: the author's lines and tools: normals, construction lines and circles, ruler, protractor, grid, upright axis,
   breaks. In: marks. Out: strokes, arcs and their numbers. Tools are graduated in true millimetres and degrees of the paper;
   where the figure is enlarged, they are. */
#include "layout/draw.h"
#include <math.h>

static uint32_t colour_of(const SgDraw *d, const SgMark *m) { return sg_style_rgb(d->style, m->colour, d->style->ink_rgb); }

static SgPoint at_deg(SgPoint from, double deg, double length_mm)
{
    double sine, cosine;
    sg_sincos_deg(deg, &sine, &cosine);
    return sg_pt(from.x_mm + length_mm * cosine, from.y_mm + length_mm * sine);
}

static void dashed(SgItem *item, const double *pattern_mm, uint8_t n, double length_mm)
{
    item->ndash = sg_style_dash(pattern_mm, n, length_mm, item->dash_mm);
}

static SgItem *thin(SgDraw *d, SgLayer layer, SgPoint a, SgPoint b, uint32_t rgb)
{
    sg_keep(d, SG_KEEP_MEASURE, a, b, d->style->thin_line_mm / 2, 0);
    return sg_draw_line(d, layer, a, b, d->style->thin_line_mm, rgb);
}

/* Beside a line, the middle first. */
static void words_beside(SgDraw *d, const SgMark *m, SgPoint a, SgPoint b)
{
    if (m->words.n == 0) return;
    SgWords words = sg_draw_shape(d, m->words, d->style->label_pt);
    SgCandidate *candidate;
    uint32_t n = sg_candidates_beside(d->a, a, b, d->style->label_gap_mm + d->style->thin_line_mm, words.width_mm, words.ascent_mm + words.descent_mm,
                                      0.5, 0.85, &candidate);
    sg_want(d, words, sg_pt_mid(a, b), candidate, n, true);
}

void sg_draw_ticks_across(SgDraw *d, SgPoint middle, SgPoint way, uint32_t n, uint32_t rgb)
{
    SgPoint across = sg_pt_left(way);
    double half = d->style->length_tick_mm / 2;
    for (uint32_t i = 0; i < n; i++) {
        SgPoint at = sg_pt_along(middle, way, d->style->length_tick_pitch_mm * (i - (n - 1) / 2.0));
        thin(d, SG_LAYER_MEASURE, sg_pt_along(at, across, -half), sg_pt_along(at, across, half), rgb);
    }
}

/* ---- lines ---- */

void sg_draw_normal(SgDraw *d, const SgMark *m)
{
    SgItem *item = thin(d, SG_LAYER_AID, m->xy[0], m->xy[1], colour_of(d, m));
    dashed(item, d->style->normal_dash_mm, 2, sg_pt_distance(m->xy[0], m->xy[1]));
    words_beside(d, m, m->xy[0], m->xy[1]);
}

void sg_draw_line_mark(SgDraw *d, const SgMark *m)
{
    SgPoint a = m->xy[0], b = m->xy[1], way = sg_pt_unit(sg_pt_sub(b, a));
    double head = d->style->dimension_head_mm;
    SgItem *item = thin(d, SG_LAYER_AID, a, m->arrow ? sg_pt_along(b, way, -sg_draw_under_head(d, head)) : b, colour_of(d, m));
    if (m->arrow) sg_draw_head(d, SG_LAYER_AID, b, way, head, d->style->dimension_head_width_mm, colour_of(d, m));
    else dashed(item, d->style->aid_dash_mm, 2, sg_pt_distance(a, b));
    sg_draw_ticks_across(d, sg_pt_mid(a, b), way, m->ticks, colour_of(d, m));
    words_beside(d, m, a, b);
}

void sg_draw_circle(SgDraw *d, const SgMark *m)
{
    double head = d->style->dimension_head_mm, sweep = m->sweep_deg, turn = sweep < 0 ? -1 : 1;
    double head_deg = m->radius_mm > head ? head / m->radius_mm * 57.29577951308232 : 0;
    if (m->arrow && head_deg > 0 && fabs(sweep) > head_deg) sweep -= turn * 0.8 * head_deg;
    SgItem *item = sg_draw_arc(d, SG_LAYER_AID, m->xy[0], m->radius_mm, m->from_deg, sweep, d->style->thin_line_mm, colour_of(d, m));
    dashed(item, d->style->aid_dash_mm, 2, fabs(sweep) / 57.29577951308232 * m->radius_mm);
    sg_keep_arc(d, SG_KEEP_MEASURE, m->xy[0], m->radius_mm, m->from_deg, sweep, d->style->thin_line_mm / 2);
    SgPoint end = at_deg(m->xy[0], m->from_deg + m->sweep_deg, m->radius_mm), middle = at_deg(m->xy[0], m->from_deg + m->sweep_deg / 2, m->radius_mm);
    if (m->arrow && head_deg > 0) {                    /* along the chord under the head, so that it sits on the curve */
        SgPoint from = at_deg(m->xy[0], m->from_deg + m->sweep_deg - turn * head_deg, m->radius_mm);
        sg_draw_head(d, SG_LAYER_AID, end, sg_pt_unit(sg_pt_sub(end, from)), head, d->style->dimension_head_width_mm, colour_of(d, m));
    }
    if (m->words.n == 0) return;
    SgWords words = sg_draw_shape(d, m->words, d->style->label_pt);
    SgCandidate *candidate;
    uint32_t n = sg_candidates_around(d->a, middle, d->style->label_gap_mm + 0.2, words.width_mm, words.ascent_mm + words.descent_mm,
                                      m->from_deg + m->sweep_deg / 2, &candidate);
    sg_want(d, words, middle, candidate, n, true);
}

void sg_draw_cross_axis(SgDraw *d, const SgMark *m)
{
    SgPoint up = sg_pt_unit(sg_pt_sub(m->xy[1], m->xy[0]));
    double over = m->fixed ? 0 : d->style->axis_overhang_mm;
    SgPoint a = sg_pt_along(m->xy[0], up, -over), b = sg_pt_along(m->xy[1], up, over);
    if (!sg_draw_clip(d, &a, &b)) return;
    SgItem *item = sg_draw_line(d, SG_LAYER_AXIS, a, b, d->style->thin_line_mm, colour_of(d, m));
    dashed(item, d->style->axis_chain_mm, 4, sg_pt_distance(a, b));
    sg_keep(d, SG_KEEP_AXIS, a, b, d->style->thin_line_mm / 2, 0);
    sg_draw_name_at_ends(d, m, b, a);
}

/* The axis is covered between the two strokes: it goes on farther than it is drawn. */
void sg_draw_break(SgDraw *d, const SgMark *m)
{
    double half = d->style->break_mm / 2, lean = half * 0.5, gap = d->style->break_gap_mm / 2;
    SgPoint p = m->xy[0];
    SgPoint left[2] = { { p.x_mm - gap - lean, p.y_mm - half }, { p.x_mm - gap + lean, p.y_mm + half } };
    SgPoint right[2] = { { p.x_mm + gap - lean, p.y_mm - half }, { p.x_mm + gap + lean, p.y_mm + half } };
    if (!d->style->transparent && !d->style->line_only)
        sg_draw_fill(d, SG_LAYER_HATCH, (SgPoint[]){ left[0], left[1], right[1], right[0] }, 4, d->style->paper_rgb);
    thin(d, SG_LAYER_HATCH, left[0], left[1], colour_of(d, m));
    thin(d, SG_LAYER_HATCH, right[0], right[1], colour_of(d, m));
    if (m->words.n > 0) sg_draw_name_at_ends(d, m, right[1], left[0]);
}

/* ---- tools ---- */

static double stroke_mm(const SgDraw *d, int i) { return d->style->tool_stroke_mm[i % 10 == 0 ? 2 : i % 5 == 0 ? 1 : 0]; }

/* A number with its middle at `at`. */
static void number(SgDraw *d, SgPoint at, const SgWords *words)
{
    double h = words->ascent_mm + words->descent_mm, w = words->width_mm;
    sg_draw_words(d, sg_pt(at.x_mm - w / 2, at.y_mm + h / 2 - words->ascent_mm), words);
    double reach = w > h ? (w - h) / 2 : 0;
    sg_keep(d, SG_KEEP_WORDS, sg_pt(at.x_mm - reach, at.y_mm), sg_pt(at.x_mm + reach, at.y_mm), h / 2, 0);
}

static SgWords *shaped(SgDraw *d, int value)
{
    SgWords *words = SG_NEW(d->a, SgWords);
    *words = sg_draw_shape(d, sg_format(d->a, "%d", value), d->style->tool_pt);
    return words;
}

/* What a tool's number keeps clear of, when it is moved a little to the side. */
static bool number_free(const SgDraw *d, SgPoint at, const SgWords *words)
{
    unsigned kinds = 1u << SG_KEEP_LIGHT | 1u << SG_KEEP_PRODUCED | 1u << SG_KEEP_AXIS | 1u << SG_KEEP_DOT | 1u << SG_KEEP_SOLID
        | 1u << SG_KEEP_HATCH | 1u << SG_KEEP_ARROW;
    double h = words->ascent_mm + words->descent_mm, reach = words->width_mm > h ? (words->width_mm - h) / 2 : 0;
    return !sg_keep_within(d, sg_pt(at.x_mm - reach, at.y_mm), sg_pt(at.x_mm + reach, at.y_mm), kinds, UINT32_MAX, h / 2 + 0.3);
}

static SgPoint beside_stroke(const SgDraw *d, SgPoint at, SgPoint way, const SgWords *words)
{
    double pitch = 0.8 * d->style->tool_pt / 7;
    for (int i = 0; i < 9; i++) {
        SgPoint moved = sg_pt_along(at, way, (i % 2 ? pitch : -pitch) * ((i + 1) / 2));
        if (number_free(d, moved, words)) return moved;
    }
    return at;
}

static void ruler(SgDraw *d, const SgMark *m)
{
    SgPoint a = m->xy[0], way = sg_pt_unit(sg_pt_sub(m->xy[1], m->xy[0])), in = sg_pt_scale(sg_pt_left(way), m->over ? 1 : -1);
    double unit = d->scene->enlarged;
    int cm = (int)floor(sg_pt_distance(a, m->xy[1]) / (10 * unit) + 1 - 1e-9);
    double end = 10 * cm * unit + 4, start = -4, deep = d->style->ruler_deep_mm;
    SgPoint box[4] = { sg_pt_along(a, way, start), sg_pt_along(a, way, end) };
    box[2] = sg_pt_along(box[1], in, deep);
    box[3] = sg_pt_along(box[0], in, deep);
    sg_draw_stroke(d, SG_LAYER_MEASURE, box, 4, d->style->thin_line_mm, colour_of(d, m))->closed = true;
    for (int i = 0; i < 4; i++) sg_keep(d, SG_KEEP_MEASURE, box[i], box[(i + 1) % 4], d->style->thin_line_mm / 2, 0);
    for (int mm = 0; mm <= 10 * cm; mm += d->style->tool_every) {
        SgPoint at = sg_pt_along(a, way, mm * unit), to = sg_pt_along(at, in, stroke_mm(d, mm));
        sg_draw_line(d, SG_LAYER_MEASURE, at, to, d->style->thin_line_mm, colour_of(d, m));
        if (mm % 10 != 0) continue;
        SgWords *words = shaped(d, mm / 10);
        number(d, beside_stroke(d, sg_pt_along(at, in, d->style->tool_stroke_mm[2] + 0.3 * d->style->tool_pt), way, words), words);
    }
    double middle = d->style->tool_stroke_mm[2] / 2;
    sg_keep(d, SG_KEEP_MEASURE, sg_pt_along(a, in, middle), sg_pt_along(sg_pt_along(a, way, 10 * cm * unit), in, middle), middle, 0);
}

/* A number stays clear of light and axis if a little way along the arc allows it. */
static SgPoint number_place(const SgDraw *d, SgPoint centre, double deg, double radius_mm, const SgWords *words)
{
    static const double aside_em[] = { 0, 0.8, -0.8, 1.1, -1.1, 1.45, -1.45 };
    double em_deg = SG_PT_MM(d->style->tool_pt) / radius_mm * 57.29577951308232;
    for (size_t i = 0; i < sizeof aside_em / sizeof *aside_em; i++) {
        SgPoint at = at_deg(centre, deg + aside_em[i] * em_deg, radius_mm);
        if (number_free(d, at, words)) return at;
    }
    return at_deg(centre, deg, radius_mm);
}

/* Every tenth degree has its number, or every twentieth or thirtieth where they would stand closer than 1.8 em. */
static int numbered_deg(double radius_mm, double em_mm)
{
    int each = 10;
    while (each < 30 && radius_mm * each / 57.29577951308232 < 1.8 * em_mm) each += 10;
    return each;
}

static void protractor(SgDraw *d, const SgMark *m)
{
    SgPoint centre = m->xy[0];
    double zero_deg = sg_atan2_deg(m->direction.y_mm, m->direction.x_mm), r = d->style->protractor_mm * d->scene->enlarged, middle = d->style->tool_stroke_mm[2] / 2;
    sg_draw_arc(d, SG_LAYER_MEASURE, centre, r, zero_deg - 90, 180, d->style->thin_line_mm, colour_of(d, m));
    thin(d, SG_LAYER_MEASURE, at_deg(centre, zero_deg + 90, r), at_deg(centre, zero_deg - 90, r), colour_of(d, m));
    for (int deg = -90; deg <= 90; deg += d->style->tool_every) {
        SgPoint out = at_deg(centre, zero_deg + deg, r), in = at_deg(centre, zero_deg + deg, r - stroke_mm(d, deg < 0 ? -deg : deg));
        sg_draw_line(d, SG_LAYER_MEASURE, out, in, d->style->thin_line_mm, colour_of(d, m));
    }
    sg_keep_arc(d, SG_KEEP_MEASURE, centre, r - middle, zero_deg - 90, 180, middle);
    sg_keep_arc(d, SG_KEEP_MEASURE, centre, r, zero_deg - 90, 180, d->style->thin_line_mm / 2);       /* heads of rays keep off the rim itself */
    double at_mm = r - d->style->tool_stroke_mm[2] - (0.1 + 0.3 * d->style->tool_pt);
    int each = numbered_deg(at_mm, SG_PT_MM(d->style->tool_pt)), last = 80 / each * each;
    for (int deg = -last; deg <= last; deg += each) {
        SgWords *words = shaped(d, deg < 0 ? -deg : deg);
        number(d, number_place(d, centre, zero_deg + deg, at_mm, words), words);
    }
}

void sg_draw_tools(SgDraw *d)
{
    for (uint32_t i = d->first; i < d->end; i++) {
        d->now = i;
        if (d->scene->mark[i].role == SG_ROLE_RULER) ruler(d, &d->scene->mark[i]);
        if (d->scene->mark[i].role == SG_ROLE_PROTRACTOR) protractor(d, &d->scene->mark[i]);
    }
}

static void grid_line(SgDraw *d, SgPoint a, SgPoint b, uint32_t rgb)
{
    SgItem *item = sg_draw_line(d, SG_LAYER_GRID, a, b, d->style->thin_line_mm, rgb);
    dashed(item, d->style->grid_dash_mm, 2, sg_pt_distance(a, b));
}

void sg_draw_grid(SgDraw *d, const SgMark *m, SgBox box)
{
    uint32_t rgb = sg_style_rgb(d->style, m->colour, d->style->grid_rgb);
    double step = m->pitch_mm;
    for (double k = -floor(-box.x0_mm / step + 1e-9); k * step <= box.x1_mm + 1e-9; k++)
        grid_line(d, sg_pt(k * step, box.y0_mm), sg_pt(k * step, box.y1_mm), rgb);
    for (double k = -floor(-box.y0_mm / step + 1e-9); k * step <= box.y1_mm + 1e-9; k++)
        grid_line(d, sg_pt(box.x0_mm, k * step), sg_pt(box.x1_mm, k * step), rgb);
}
