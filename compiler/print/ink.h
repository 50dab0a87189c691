/* Part of print, for print.c alone: one page's items and words drawn on a cairo context whose unit is the millimetre. */
#ifndef SG_INK_H
#define SG_INK_H
#include <cairo.h>

#include "output/order.h"

typedef struct SgPen SgPen;
struct SgPen {
    cairo_t *cr;
    /* Of each face, made when it is first used; all NULL and `outlines` for a surface that only fills. */
    cairo_font_face_t *font[SG_FACE_COUNT];
    void *face[SG_FACE_COUNT]; /* the FT_Face of each, owned by its font */
    bool outlines;             /* words as filled outlines: exact where a surface would move glyphs to whole pixels */
    bool paragraphs;           /* each item of words is tagged as a paragraph of its own, so that it is read apart */
    const char *trouble;       /* what FreeType failed at; cairo keeps its own status */
};
/* The items from `from` to before `to`, of steps 0..step, as they look then. Allocates nothing of the arena. */
void sg_ink_items(SgPen *pen, const SgPage *page, const SgChains *chain, int step, uint32_t from, uint32_t to);
void sg_ink_words(SgPen *pen, const SgWords *w, SgPoint at, uint32_t rgb);
void sg_ink_paper(SgPen *pen, const SgPage *page);      /* all of the surface in the page's paper, unless it is transparent */
void sg_ink_end(SgPen *pen);   /* lets go of the fonts */
#endif
