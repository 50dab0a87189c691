/* style: the table of looks. In: nothing. Out: constants, colours, fitted dashes. Never draws. */
#include "layout/style.h"
#include <math.h>

const SgStyle sg_style = {
    .arrow_line_mm = SG_PT_MM(1.5), .light_line_mm = SG_PT_MM(1.0), .produced_line_mm = SG_PT_MM(0.75), .thin_line_mm = SG_PT_MM(0.5),
    .produced_dash_mm = { 2.0, 1.0 }, .axis_chain_mm = { 6.0, 1.0, 1.0, 1.0 }, .aid_dash_mm = { 0.5, 1.0 },
    .axis_overhang_mm = 10.0,
    .hatch_length_mm = 2.0, .hatch_pitch_mm = 1.8, .hatch_inset_mm = 1.0,
    .turned_end_mm = 1.8,
    .lens_head_mm = 3.0, .lens_head_slope = 0.55,
    .ray_head_mm = 2.5, .ray_head_width_mm = 1.0, .head_clear_mm = 3.0, .head_least = 0.45, .head_most = 0.60,
    .head_leg_mm = 12.0, .head_no_leg_mm = 8.0, .head_two_legs_mm = 90.0, .head_out = 0.35, .head_back = 0.65, .head_second = 0.80,
    .arrow_head_mm = 3.0, .arrow_head_of_height = 0.40, .arrow_head_slope = 0.36, .arrow_head_half_least_mm = 0.65,
    .open_head_slope = 0.50, .arrow_outline_mm = SG_PT_MM(0.75),
    .dot_mm = 1.1, .tick_mm = 2.0, .point_gap_mm = 1.4, .label_gap_mm = 1.1, .own_side = 1.6,
    .dimension_head_mm = 2.2, .dimension_head_width_mm = 0.8, .dimension_pitch_mm = 6.0, .dimension_first_mm = 9.5,
    .dimension_side_mm = 6.0, .extension_gap_mm = 1.0, .extension_over_mm = 1.5, .extension_clear_mm = 0.8, .dimension_outside_mm = 8.0,
    .dimension_tail_mm = 4.5, .dimension_clear_mm = 1.5,
    .angle_first_mm = 7.0, .angle_step_mm = 2.0, .angle_most_mm = 10.0, .angle_small_deg = 12.0, .angle_small_mm = 14.0,
    .angle_words = 1.7, .angle_tick_mm = 1.6, .angle_tick_pitch_mm = 0.7,
    .right_angle_mm = 2.2, .normal_dash_mm = { 1.0, 1.0 }, .length_tick_mm = 2.4, .length_tick_pitch_mm = 1.0,
    .protractor_mm = 50.0, .tool_stroke_mm = { 1.5, 2.5, 3.5 }, .ruler_deep_mm = 9.0, .tool_pt = 7.0, .break_mm = 4.0, .break_gap_mm = 1.4,
    .label_pt = 9.0, .value_pt = 9.0, .number_pt = 7.0, .axis_pt = 7.5, .note_pt = 9.0, .caption_pt = 11.0,
    .note_lead = 1.25, .caption_lead = 1.35, .margin_mm = 6.0, .strip_pad_mm = 6.0,
    .ink_rgb = 0x091A20, .glass_rgb = 0xE4F3F8, .eye_mm = 7.0, .grid_rgb = 0xCFDADF,
};

/* No pointers: nothing to relocate. */
typedef struct { char word[8]; uint32_t rgb; } Colour;
/* Chosen by search for the largest least difference under normal and three kinds of colour-deficient sight, at 3 : 1 on white or more. */
static const Colour colours[SG_COLOURS] = {
    { "blue", 0x0364F0 }, { "coral", 0xE45753 }, { "purple", 0xA2007D }, { "green", 0x05491D },
    { "ink", 0x091A20 }, { "cyan", 0x0B9DCA }, { "mauve", 0xAC5F86 }, { "olive", 0x666400 },
};

uint32_t sg_style_ray_rgb(uint32_t light) { return colours[light == 0 ? 4 : (light - 1) % SG_COLOURS].rgb; }

static int hex_digit(char c)
{
    if (c >= '0' && c <= '9') return c - '0';
    if (c >= 'a' && c <= 'f') return c - 'a' + 10;
    if (c >= 'A' && c <= 'F') return c - 'A' + 10;
    return -1;
}

uint32_t sg_style_rgb(SgStr asked, uint32_t otherwise)
{
    for (int i = 0; i < SG_COLOURS; i++)
        if (sg_str_is(asked, colours[i].word)) return colours[i].rgb;
    if (asked.n != 7 || asked.s[0] != '#') return otherwise;
    uint32_t rgb = 0;
    for (int i = 1; i < 7; i++) {
        int digit = hex_digit(asked.s[i]);
        if (digit < 0) return otherwise;
        rgb = rgb * 16 + (uint32_t)digit;
    }
    return rgb;
}

uint8_t sg_style_dash(const double *pattern_mm, uint8_t n, double length_mm, double *out_mm)
{
    double period = 0;
    for (uint8_t i = 0; i < n; i++) period += pattern_mm[i];
    double whole = floor((length_mm - pattern_mm[0]) / period + 0.5);
    if (whole < 1) return 0;
    double k = length_mm / (whole * period + pattern_mm[0]);
    for (uint8_t i = 0; i < n; i++) out_mm[i] = pattern_mm[i] * k;
    return n;
}
