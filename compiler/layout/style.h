/* Part of layout: how everything looks, in one table with a row a style: widths, dashes, sizes, colours, background.
   needs  what the scene says of its style.
   gives  the numbers of one style in millimetres, and the colour an author's word stands for in it.
   never  draws. */
#ifndef SG_STYLE_H
#define SG_STYLE_H
#include "scene/scene.h"

#define SG_PT_MM(pt) ((pt) * 25.4 / 72.0)
enum { SG_COLOURS = SG_COLOUR_COUNT };

/* Values: common practice of the trade for school figures in print. */
typedef struct {
    double arrow_line_mm;          /* object and image arrows */
    double light_line_mm;          /* rays, outlines of mirrors and lenses */
    double produced_line_mm;       /* lines produced where there is no light */
    double thin_line_mm;           /* axis, dimensions, angle arcs, hatching, leaders */

    double produced_dash_mm[2];    /* means virtual, and nothing else uses it */
    double axis_chain_mm[4];
    double aid_dash_mm[2];         /* dotted: construction */

    double axis_overhang_mm;       /* past the last thing, both ends */
    double hatch_length_mm, hatch_pitch_mm, hatch_inset_mm;
    double turned_end_mm;          /* each leg of the turned end of a curved mirror drawn straight */
    double lens_head_mm, lens_head_slope;          /* length of a wing; half its spread over its depth */

    double ray_head_mm, ray_head_width_mm;
    double head_clear_mm;          /* from a bend, crossing, dot or label */
    double head_least, head_most;  /* of the segment, as fractions */
    double head_leg_mm;            /* a segment this long must have a head */
    double head_no_leg_mm;         /* one shorter than this has none */
    double head_two_legs_mm;       /* one longer than this has a second */
    double head_out, head_back;    /* fractions of the two heads where light comes back along its line */
    double head_second;            /* fraction of the second head */

    double arrow_head_mm, arrow_head_of_height;    /* the smaller of the two */
    double arrow_head_slope, arrow_head_half_least_mm;
    double open_head_slope;        /* of a virtual image: wider, so that it stays open when small */
    double arrow_outline_mm;       /* rim of the hollow head of a real image */

    double dot_mm;                 /* diameter */
    double tick_mm;                /* across the axis */
    double point_gap_mm;           /* between a dot's edge and its letter */
    double label_gap_mm;           /* between any stroke and words */
    double own_side;               /* a number stands this many times nearer its own ray than any other */

    double dimension_head_mm, dimension_head_width_mm;
    double dimension_pitch_mm, dimension_first_mm; /* rows; the first from the measured points */
    double dimension_side_mm;      /* the first column of a height */
    double extension_gap_mm, extension_over_mm, extension_clear_mm;        /* from what it measures; past its row; to what runs beside it */
    double dimension_outside_mm;   /* shorter ones have their heads outside */
    double dimension_tail_mm;      /* length of the line behind an outside head */
    double dimension_clear_mm;     /* from its row to anything it does not measure */

    double angle_first_mm, angle_step_mm, angle_most_mm;
    double angle_small_deg, angle_small_mm;        /* below that: at least this radius, words outside */
    double angle_words;            /* words stand at this many radii, on the bisector */
    double angle_tick_mm, angle_tick_pitch_mm;
    double right_angle_mm;         /* side of the square that marks one */

    double normal_dash_mm[2];      /* short, so that no normal can be taken for a produced line */
    double length_tick_mm, length_tick_pitch_mm;
    double protractor_mm;          /* radius */
    double tool_stroke_mm[3];      /* of a ruler or protractor: each, each fifth, each tenth */
    double ruler_deep_mm;
    double tool_pt;                /* its numbers */
    double break_mm, break_gap_mm; /* height of the strokes, and the gap between them */

    double label_pt, value_pt, number_pt, axis_pt, note_pt, caption_pt;
    double note_lead, caption_lead;                /* line pitch over em */
    double margin_mm;              /* of the frame around everything */
    double strip_pad_mm;           /* above and below the caption together */
    double eye_mm;                 /* depth of the sign of an eye */
    double words_clear_mm;         /* words keep this far from every stroke */
    double grid_dash_mm[2];        /* nought: drawn through */

    uint32_t paper_rgb, ink_rgb, caption_rgb, grid_rgb;
    uint32_t glass_rgb;            /* tint of glass: about 10 % of cyan */
    uint32_t colour_rgb[SG_COLOURS];               /* what the words of the catalogue stand for */
    uint32_t ray_rgb[SG_COLOURS]; uint8_t nrays;   /* of the first ray, the second, ..., and round again */
    double faded;                  /* opacity of what a step fades */
    bool transparent;              /* the paper is not painted */
    bool one_ink;                  /* everything in ink, nothing tinted: rays are told apart by their numbers and by how many heads stand together */
    bool line_only;                /* nothing is filled: heads are two strokes, dots are rings */
    int tool_every;                /* of the strokes of a ruler or protractor each so many is drawn: 1, 5, 10 */
} SgStyle;

/* The scene's style: a built-in one with the author's changes on top, heads and signs growing with the lines. */
SgStyle sg_style_of(const SgSceneStyle *asked);
/* The same for a slide, where the styles for large print and for touch have lines, signs and letters of their own. */
SgStyle sg_style_on_slide(const SgSceneStyle *asked);

/* Colour of ray `light` (from 1). */
uint32_t sg_style_ray_rgb(const SgStyle *style, uint32_t light);
/* What the author asked for: a word of the list above or "#rrggbb"; `otherwise` when empty or unknown. In one ink always ink. */
uint32_t sg_style_rgb(const SgStyle *style, SgStr asked, uint32_t otherwise);
/* A pattern of n lengths (on, off, ...) stretched a little so that a line of length_mm starts and ends on its first dash.
   Returns n, or 0 when the line is too short for a gap or the pattern is nought (it is then drawn through). */
uint8_t sg_style_dash(const double *pattern_mm, uint8_t n, double length_mm, double *out_mm);
#endif
