/* Part of layout: words to glyph runs, measured with the built-in face. Integer font units, so the same on every machine. */
#ifndef SG_SHAPE_H
#define SG_SHAPE_H
#include "base/base.h"

typedef enum { SG_FACE_UPRIGHT, SG_FACE_ITALIC, SG_FACE_BOLD, SG_FACE_COUNT } SgFace;
enum { SG_UNITS_PER_EM = 2048 };
typedef struct {
    int16_t advance;                   /* font units */
    int16_t x0, y0, x1, y1;            /* ink box, y up; all 0 for a space */
    uint32_t path;                     /* where its outline starts in the table of outlines: see sg_glyph_path */
} SgGlyph;
typedef struct { uint16_t glyph; int32_t x; } SgGlyphAt;      /* x in font units from the run's start, kerning done */
typedef struct {
    SgFace face;
    double size_mm;                    /* the em */
    double x_mm, rise_mm;              /* from the line's start and baseline, y up */
    double width_mm;                   /* advance */
    SgStr chars;                       /* UTF-8, one character a glyph */
    const SgGlyphAt *glyph; uint32_t nglyphs;
} SgRun;
typedef struct {
    SgRun *run; uint32_t nruns;
    double width_mm, ascent_mm, descent_mm;    /* all ink lies in 0..width, -descent..ascent (ink, both >= 0) */
    SgStr plain;                       /* as sg_plain: for accessible text */
    uint32_t missing;                  /* first code point the face lacks, 0 none; an empty box stands in its place */
} SgWords;

const SgGlyph *sg_glyph(SgFace face, uint16_t glyph);
/* SVG path data in font units, y up, zero-ended; commands M l h v q z; "" for a space. */
const char *sg_glyph_path(SgFace face, uint16_t glyph);
/* Markup: _ and ^ after a letter, digit, prime or closing bracket take the run of letters and digits that follows (^ also a
   sign), set at 70 % and lowered 0.2 em or raised 0.35 em; *italic*, where the asterisks touch what they enclose; a backslash
   makes a mark plain; \n is a space here. A subscript is upright when it is a number or a word of two letters or more, else
   italic as its base. A superscript or subscript character (x², F₁) is set the same way. size_pt: 1 pt = 25.4/72 mm. */
SgWords sg_shape(SgArena *a, SgStr markup, SgFace face, double size_pt);
/* The same, broken into lines of at most width_mm (0: only at \n); *nlines told, at least 1. Breaks at spaces, but not between
   a number and its unit; inside a word only where the word alone is too wide. */
SgWords *sg_shape_lines(SgArena *a, SgStr markup, SgFace face, double size_pt, double width_mm, uint32_t *nlines);
/* Markup taken off, to be read aloud. A number, sign or single letter becomes its small character where there is one (d_o: dₒ,
   10^-3: 10⁻³); any other subscript stands after a space (d_out: d out), any other superscript keeps its ^. \n: a space. */
SgStr sg_plain(SgArena *a, SgStr markup);
#endif
