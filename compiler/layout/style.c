/* style: the table of looks. In: a style's name and an author's changes. Out: numbers, colours, fitted dashes. Never draws. */
#include "layout/style.h"
#include "base/num.h"
#include <math.h>

/* Shapes of a style: factors on line widths, on signs and the room around them, on dashes. 1 1 1 is the finished print. */
#define SHAPES(line, sign, dash) \
    .arrow_line_mm = SG_PT_MM(1.5 * (line)), .light_line_mm = SG_PT_MM(1.0 * (line)), \
    .produced_line_mm = SG_PT_MM(0.75 * (line)), .thin_line_mm = SG_PT_MM(0.5 * (line)), .arrow_outline_mm = SG_PT_MM(0.75 * (line)), \
    .produced_dash_mm = { 2.0 * (dash), 1.0 * (dash) }, .aid_dash_mm = { 0.5 * (dash), 1.0 * (dash) }, .normal_dash_mm = { 1.0 * (dash), 1.0 * (dash) }, \
    .axis_overhang_mm = 10.0, \
    .hatch_length_mm = 2.0 * (sign), .hatch_pitch_mm = 1.8 * (sign), .hatch_inset_mm = 1.0 * (sign), \
    .turned_end_mm = 1.8 * (sign), .lens_head_mm = 3.0 * (sign), .lens_head_slope = 0.55, \
    .ray_head_mm = 2.5 * (sign), .ray_head_width_mm = 1.0 * (sign), .head_clear_mm = 3.0 * (sign), .head_least = 0.45, .head_most = 0.60, \
    .head_leg_mm = 12.0 * (sign), .head_no_leg_mm = 8.0 * (sign), .head_two_legs_mm = 90.0 * (sign), .head_out = 0.35, .head_back = 0.65, .head_second = 0.80, \
    .arrow_head_mm = 3.0 * (sign), .arrow_head_of_height = 0.40, .arrow_head_slope = 0.36, .arrow_head_half_least_mm = 0.65 * (sign), \
    .open_head_slope = 0.50, \
    .dot_mm = 1.1 * (sign), .tick_mm = 2.0 * (sign), .own_side = 1.6, \
    .dimension_head_mm = 2.2 * (sign), .dimension_head_width_mm = 0.8 * (sign), .dimension_pitch_mm = 6.0 * (sign), .dimension_first_mm = 9.5 * (sign), \
    .dimension_side_mm = 6.0 * (sign), .extension_gap_mm = 1.0 * (sign), .extension_over_mm = 1.5 * (sign), .extension_clear_mm = 0.8 * (sign), \
    .dimension_outside_mm = 8.0 * (sign), .dimension_tail_mm = 4.5 * (sign), .dimension_clear_mm = 1.5 * (sign), \
    .angle_first_mm = 7.0 * (sign), .angle_step_mm = 2.0 * (sign), .angle_most_mm = 10.0 * (sign), .angle_small_deg = 12.0, .angle_small_mm = 14.0 * (sign), \
    .angle_words = 1.7, .angle_tick_mm = 1.6 * (sign), .angle_tick_pitch_mm = 0.7 * (sign), \
    .right_angle_mm = 2.2 * (sign), .length_tick_mm = 2.4 * (sign), .length_tick_pitch_mm = 1.0 * (sign), \
    .protractor_mm = 50.0, .break_mm = 4.0 * (sign), .break_gap_mm = 1.4 * (sign), .eye_mm = 7.0 * (sign), \
    .note_lead = 1.25, .caption_lead = 1.35, .strip_pad_mm = 6.0
#define TEXT(label, number, axis, tool, caption) \
    .label_pt = (label), .value_pt = (label), .note_pt = (label), .number_pt = (number), .axis_pt = (axis), .tool_pt = (tool), .caption_pt = (caption)
/* Words are asked for at `gap` from a line's middle, so it is more than `clear` and half a thin line together. */
#define ROOM(margin, clear, gap, dot_gap) .margin_mm = (margin), .words_clear_mm = (clear), .label_gap_mm = (gap), .point_gap_mm = (dot_gap)
#define TOOLS(stroke, deep, every) \
    .tool_stroke_mm = { 1.5 * (stroke), 2.5 * (stroke), 3.5 * (stroke) }, .ruler_deep_mm = (deep), .tool_every = (every)

/* Eight colours a ground, found by search for the largest least difference (CIEDE2000) under normal and three kinds of
   colour-deficient sight, with at least 3 : 1 against the ground. tests/unit/test_style.c measures them. */
#define ON_WHITE { 0x0364F0, 0xE45753, 0xA2007D, 0x05491D, 0x091A20, 0x0B9DCA, 0xAC5F86, 0x666400 }
#define ON_BLACK { 0x5075F4, 0xD38836, 0xB8B0FF, 0x11FC91, 0xECF5FF, 0x22B8B9, 0xFF368C, 0x8F6D0F }
#define COLOURS_LIGHT \
    .paper_rgb = 0xFFFFFF, .ink_rgb = 0x091A20, .caption_rgb = 0x000000, .grid_rgb = 0xCFDADF, .glass_rgb = 0xE4F3F8, \
    .colour_rgb = ON_WHITE, .ray_rgb = ON_WHITE, .nrays = SG_COLOURS, .faded = 0.55
#define COLOURS_DARK \
    .paper_rgb = 0x1A1A1A, .ink_rgb = 0xECF5FF, .caption_rgb = 0xECF5FF, .grid_rgb = 0x46525A, .glass_rgb = 0x1F353E, \
    .colour_rgb = ON_BLACK, .ray_rgb = ON_BLACK, .nrays = SG_COLOURS, .faded = 0.55
#define COLOURS_ONE_INK .paper_rgb = 0xFFFFFF, .nrays = 1, .faded = 1, .one_ink = true     /* the ink is black: all noughts */

static const SgStyle styles[] = {           /* no pointers: nothing to relocate */
    [SG_STYLE_light] = { SHAPES(1, 1, 1), TEXT(9, 7, 7.5, 7, 11), TOOLS(1, 9, 1), .axis_chain_mm = { 6, 1, 1, 1 }, ROOM(6, 1, 1.1, 1.4), COLOURS_LIGHT },
    [SG_STYLE_dark] = { SHAPES(1, 1, 1), TEXT(9, 7, 7.5, 7, 11), TOOLS(1, 9, 1), .axis_chain_mm = { 6, 1, 1, 1 }, ROOM(6, 1, 1.1, 1.4), COLOURS_DARK },
    [SG_STYLE_copier] = { SHAPES(1, 1, 1), TEXT(9, 8, 8, 7, 11), TOOLS(1, 9, 1), .axis_chain_mm = { 6, 1, 1, 1 }, ROOM(6, 1, 1.1, 1.4),
                          .grid_dash_mm = { 0.3, 1.2 }, COLOURS_ONE_INK },
    /* Large print: 14 to 18 pt (common practice for low vision), lines and signs to match. */
    [SG_STYLE_large] = { SHAPES(1.8, 1.5, 1.5), TEXT(16, 14, 14, 14, 18), TOOLS(1.3, 12, 1), .axis_chain_mm = { 9, 1.5, 1.5, 1.5 }, ROOM(8, 1.5, 1.75, 2.2), COLOURS_LIGHT },
    /* To be embossed and felt: few signs, far apart (common practice for raised drawings). A grid is dotted, as a
       drawn one in full ink hides the construction's lines and crosses out words. */
    [SG_STYLE_tactile] = { SHAPES(2.5, 2.2, 2.5), TEXT(20, 18, 18, 16, 20), TOOLS(1.6, 16, 10), ROOM(10, 2.5, 2.9, 3.2), .line_only = true,
                           .grid_dash_mm = { 0.6, 3 }, COLOURS_ONE_INK },
};
/* A projector enlarges letters and lines by itself, and its page is wider than high: what is made for large print or for
   fingers keeps about a third over the others there, and leaves the rest of the room to the figure. */
static const SgStyle large_on_slide = { SHAPES(1.4, 1.25, 1.25), TEXT(12, 10.5, 10.5, 10.5, 14), TOOLS(1.2, 11, 1),
                                        .axis_chain_mm = { 7.5, 1.25, 1.25, 1.25 }, ROOM(8, 1.2, 1.4, 1.7), COLOURS_LIGHT };
static const SgStyle tactile_on_slide = { SHAPES(1.8, 1.5, 1.8), TEXT(13, 12, 12, 11, 14), TOOLS(1.4, 13, 10), ROOM(10, 1.5, 1.8, 2), .line_only = true,
                                          .grid_dash_mm = { 0.6, 3 }, COLOURS_ONE_INK };
_Static_assert(sizeof styles / sizeof *styles == SG_STYLE_COUNT, "every style of the catalogue has its row");

uint32_t sg_style_ray_rgb(const SgStyle *style, uint32_t light)
{
    return light == 0 ? style->ink_rgb : style->ray_rgb[(light - 1) % style->nrays];
}

uint32_t sg_style_rgb(const SgStyle *style, SgStr asked, uint32_t otherwise)
{
    SgColourId word = sg_colour_id(asked);
    uint32_t rgb;
    if (word < SG_COLOUR_COUNT) return style->one_ink ? style->ink_rgb : style->colour_rgb[word];
    return !sg_read_rgb(asked, &rgb) ? otherwise : style->one_ink ? style->ink_rgb : rgb;
}

static void grow(double *mm, double k) { *mm *= k; }

/* Rows of lengths and arcs of angles make room for larger letters. */
static void set_labels(SgStyle *s, double pt)
{
    double k = pt / s->label_pt;
    s->label_pt = s->value_pt = s->note_pt = pt;
    if (k < 1) return;
    double *room[] = { &s->dimension_pitch_mm, &s->dimension_first_mm, &s->dimension_side_mm, &s->angle_first_mm, &s->angle_small_mm };
    for (size_t i = 0; i < sizeof room / sizeof *room; i++) grow(room[i], k);
    double *sign[] = { &s->dot_mm, &s->tick_mm, &s->point_gap_mm, &s->label_gap_mm, &s->length_tick_mm, &s->right_angle_mm };
    for (size_t i = 0; i < sizeof sign / sizeof *sign; i++) grow(sign[i], (1 + k) / 2);
}

/* Heads grow half as fast as their lines, so that they stay slim. */
static void set_width(SgStyle *s, SgPhraseId id, double mm)
{
    double *line = id == SG_PHRASE_style_arrow_width ? &s->arrow_line_mm : id == SG_PHRASE_style_light_width ? &s->light_line_mm
                 : id == SG_PHRASE_style_produced_width ? &s->produced_line_mm : &s->thin_line_mm;
    double k = (1 + mm / *line) / 2;
    if (id == SG_PHRASE_style_thin_width && mm > *line) s->label_gap_mm += (mm - *line) / 2;
    *line = mm;
    if (id == SG_PHRASE_style_arrow_width) grow(&s->arrow_head_mm, k);
    if (id == SG_PHRASE_style_thin_width) { grow(&s->dimension_head_mm, k); grow(&s->dimension_head_width_mm, k); }
    if (id == SG_PHRASE_style_light_width) { grow(&s->ray_head_mm, k); grow(&s->ray_head_width_mm, k); grow(&s->lens_head_mm, k); }
}

static void set_colour(SgStyle *s, const SgStyleChange *c)
{
    bool one_ink = s->one_ink;
    uint32_t *one = c->id == SG_PHRASE_style_paper_colour ? &s->paper_rgb : c->id == SG_PHRASE_style_ink_colour ? &s->ink_rgb
                  : c->id == SG_PHRASE_style_glass_colour ? &s->glass_rgb : c->id == SG_PHRASE_style_grid_colour ? &s->grid_rgb : NULL;
    if (one) { s->one_ink = false; *one = sg_style_rgb(s, c->colour[0], *one); s->one_ink = one_ink; }
    if (c->id == SG_PHRASE_style_ink_colour) s->caption_rgb = s->ink_rgb;
    if (c->id != SG_PHRASE_style_ray_colours) return;
    s->one_ink = false;
    s->nrays = (uint8_t)c->ncolours;
    for (uint32_t i = 0; i < c->ncolours; i++) s->ray_rgb[i] = sg_style_rgb(s, c->colour[i], s->ink_rgb);
}

static SgStyle changed(SgStyle s, const SgSceneStyle *asked)
{
    s.transparent = asked->transparent;
    for (uint32_t i = 0; i < asked->nchanges; i++) {
        const SgStyleChange *c = &asked->change[i];
        double pt = c->mm / SG_PT_MM(1);
        if (c->ncolours) set_colour(&s, c);
        else if (c->id == SG_PHRASE_style_label_size) set_labels(&s, pt);
        else if (c->id == SG_PHRASE_style_number_size) s.number_pt = s.axis_pt = s.tool_pt = pt;
        else if (c->id == SG_PHRASE_style_caption_size) s.caption_pt = pt;
        else set_width(&s, c->id, c->mm);
    }
    return s;
}

SgStyle sg_style_of(const SgSceneStyle *asked) { return changed(styles[asked->base], asked); }

SgStyle sg_style_on_slide(const SgSceneStyle *asked)
{
    return changed(asked->base == SG_STYLE_large ? large_on_slide : asked->base == SG_STYLE_tactile ? tactile_on_slide : styles[asked->base], asked);
}

uint8_t sg_style_dash(const double *pattern_mm, uint8_t n, double length_mm, double *out_mm)
{
    double period = 0;
    for (uint8_t i = 0; i < n; i++) period += pattern_mm[i];
    if (period <= 0) return 0;
    double whole = floor((length_mm - pattern_mm[0]) / period + 0.5);
    if (whole < 1) return 0;
    double k = length_mm / (whole * period + pattern_mm[0]);
    for (uint8_t i = 0; i < n; i++) out_mm[i] = pattern_mm[i] * k;
    return n;
}
