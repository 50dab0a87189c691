/* Part of layout: words to glyph runs, measured with the built-in face. Integer font units, so the same on every machine. */
#ifndef SG_SHAPE_H
#define SG_SHAPE_H
#include "base/base.h"

typedef enum { SG_FACE_UPRIGHT, SG_FACE_ITALIC, SG_FACE_BOLD, SG_FACE_COUNT } SgFace;
enum { SG_UNITS_PER_EM = 2048 };
typedef struct {
    int16_t advance;                   /* font units */
    int16_t x0, y0, x1, y1;            /* ink box, y up */
    const char *path;                  /* SVG path data in font units, y up; "" for a space */
} SgGlyph;
typedef struct { uint16_t glyph; int32_t x; } SgGlyphAt;      /* x in font units from the run's start, kerning done */
typedef struct {
    SgFace face;
    double size_mm;                    /* the em */
    double x_mm, rise_mm;              /* from the line's start and baseline, y up */
    double width_mm;
    SgStr chars;                       /* UTF-8 */
    const SgGlyphAt *glyph; uint32_t nglyphs;
} SgRun;
typedef struct {
    SgRun *run; uint32_t nruns;
    double width_mm, ascent_mm, descent_mm;    /* ink, both >= 0 as heights above and below the baseline */
    SgStr plain;                       /* without markup: for accessible text */
    uint32_t missing;                  /* first code point the face lacks, 0 none */
} SgWords;

const SgGlyph *sg_glyph(SgFace face, uint16_t glyph);
/* Markup: _ and ^ after a letter, digit or bracket take the run of letters and digits that follows (^ also a sign),
   set smaller and shifted; *italic*; a backslash makes a mark plain; \n is not for one line. A subscript is upright when it
   is a word of two letters or more, else italic as its base. size_pt: 1 pt = 25.4/72 mm. */
SgWords sg_shape(SgArena *a, SgStr markup, SgFace face, double size_pt);
/* The same, broken into lines of at most width_mm (0: only at \n); *nlines told. */
SgWords *sg_shape_lines(SgArena *a, SgStr markup, SgFace face, double size_pt, double width_mm, uint32_t *nlines);
SgStr sg_plain(SgArena *a, SgStr markup);          /* markup taken off */
#endif
